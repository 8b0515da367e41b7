"""The list of all formulas, from the registry.

``python -m tests.notes.formulas`` writes ``reference_notes/formulas.md``; a test fails where it is out of date.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Final

from rigcalc.formulas import Formula, all_formulas
from rigcalc.reports.sheet.published import published_checks
from rigcalc.reports.worked.layout import layout
from rigcalc.reports.worked.line import LONGEST
from rigcalc.reports.worked.text import as_text
from rigcalc.reports.worked.trace import trace
from tests.published.chapter import paragraph

from .marks import MARKS, mark_of

FILE: Final = Path(__file__).parents[2] / "reference_notes" / "formulas.md"
ORDER: Final = (
    *("wind", "stability", "sails", "motion", "hull_loads"),
    *("beams", "sections", "shapes", "pieces"),
    *(
        "metals",
        "shells",
        "fatigue",
        "joints",
        "timber",
        "timber_tubes",
        "laminates",
        "laminate_tubes",
        "foams",
    ),
    *("bearings", "contact", "rings", "thrust", "furling"),
)
"""Subjects as the code comes to them: loads, structure, limits, bearings."""


def expression(formula: Formula) -> str:
    """Return a formula as it is computed, with help values where it grows long."""
    found = trace(formula)
    whole = as_text(layout(found.expression))
    if len(whole) <= LONGEST or not found.parts:
        return f"{formula.symbol} = {whole}"
    parts = [f"{part.name} = {as_text(layout(part.expression))}" for part in found.parts]
    return f"{formula.symbol} = {as_text(layout(found.result))}, with " + ", ".join(parts)


def chapter() -> str:
    """Return the list as it stands in the notes."""
    formulas = all_formulas()
    published = published_checks()
    held = sum(bool(published.get(one.name)) for one in formulas)
    lines = [
        "# Every formula",
        "",
        paragraph(
            "Written by `python -m tests.notes.formulas` from the code that computes: expressions are traced from it.",
            "SI units. Outside a range marked *refused* there is no result; outside the others the result stands and",
            "says so.",
        ),
        "",
        paragraph(
            f"{len(formulas)} formulas; {held} are held to published values directly (the last column), the others",
            "through whole calculations, closed forms, other computations and a check of dimensions, as all are.",
        ),
        "",
    ]
    for subject in ORDER:
        lines += [f"## {subject.replace('_', ' ').capitalize()}", "", *rows(subject, formulas, published), ""]
    return "\n".join(lines)


def rows(
    subject: str, formulas: tuple[Formula, ...], published: dict[str, tuple[object, ...]]
) -> Iterator[str]:
    yield "| what | formula | unit | source | mark | range | n |"
    yield "|---|---|---|---|---|---|---:|"
    for one in formulas:
        if one.subject == subject:
            ranges = "; ".join(
                f"{limit}{' (refused)' if limit.outside == 'refuse' else ''}" for limit in one.ranges
            )
            cells = (
                one.summary.rstrip("."),
                f"`{expression(one)}`",
                one.unit,
                one.source,
                MARKS[mark_of(one.source)],
                ranges,
                str(len(published.get(one.name, ())) or ""),
            )
            yield "| " + " | ".join(cell.replace("|", "/") for cell in cells) + " |"


if __name__ == "__main__":
    FILE.write_text(chapter(), encoding="utf-8", newline="\n")
