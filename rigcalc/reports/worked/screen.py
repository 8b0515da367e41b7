"""The worked calculation as plain text, for a terminal."""

from __future__ import annotations

from collections.abc import Iterator

from ..terminal import bullets, wrapped
from .line import WorkedLine
from .select import WorkedCalculation, WorkedSection


def worked_screen(calculation: WorkedCalculation) -> str:
    """Return a worked calculation as text.

    Parameters
    ----------
    calculation : WorkedCalculation
        As `worked` gives it.
    """
    parts = [f"{calculation.title}: {calculation.verdict.upper()}", "\n".join(wrapped(HOW, "", first=""))]
    parts += ["\n".join(_section(section)) for section in calculation.sections]
    parts.append("\n".join(bullets("Warnings", calculation.warnings)))
    parts.append("\n".join(bullets("Cautions", calculation.cautions)))
    return "\n\n".join(part for part in parts if part) + "\n"


HOW = (
    "Every line reads: symbol = formula = the numbers put in = result. Numbers are shown to four figures and were "
    "worked with all of theirs. A symbol has the meaning that its own line gives it."
)


def _section(section: WorkedSection) -> Iterator[str]:
    yield section.heading
    yield from wrapped(section.sentence, "  ")
    for line in section.lines:
        yield from _line(line)


def _line(line: WorkedLine) -> Iterator[str]:
    for row in line.text.split("; "):
        yield from wrapped(row, "        ", first="    ")
    said = f"{line.summary} {line.formula_name}: {line.source}."
    yield from wrapped(f"{said}{''.join(f' Holds for {limit}.' for limit in line.ranges)}", "      ")
