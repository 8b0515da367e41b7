"""The worked calculation, line by line."""

from __future__ import annotations

from ..worked import WorkedCalculation, WorkedLine
from ..worked.screen import HOW
from .record import Block, Formula, Paragraph, Section


def workings_section(calculation: WorkedCalculation) -> Section:
    """Return every number that governs, so that it can be followed by hand."""
    parts: list[Block] = [Paragraph((HOW,), "note")]
    for i, section in enumerate(calculation.sections):
        parts.append(
            Section(
                f"worked-{i}",
                section.heading,
                (
                    Paragraph((f"{section.sentence.rstrip('.')}.",)),
                    *(_formula(line) for line in section.lines),
                ),
                fold=True,
            )
        )
    return Section("worked", "Worked calculation", tuple(parts))


def _formula(line: WorkedLine) -> Formula:
    holds = "".join(f" Holds for {limit}." for limit in line.ranges)
    return Formula(line.text, line.mathml, f"{line.summary} {line.formula_name}: {line.source}.{holds}")
