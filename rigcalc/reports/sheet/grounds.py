"""What the report stands on: assumptions, method, limits, formulas with the published checks behind them, version."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from ...formulas import Formula, Step
from ...verdict import CheckResult
from ...verdict.terms import TERMS
from .method import ABBREVIATIONS, LIMITS, METHOD, WORDS
from .published import PublishedCheck, published_checks
from .record import Block, Bullets, Cell, Column, Mark, Paragraph, Section, Table, Value

MOST: Final = 8
"""Values of one source that are named; of more, their number is told."""


def grounds_section(result: CheckResult, steps: Iterable[Step], said: tuple[tuple[str, str], ...]) -> Section:
    """Return assumptions, method, limits of validity, formulas, and what this report was made of.

    Parameters
    ----------
    result : CheckResult
        What was found.
    steps : iterable of Step
        Every formula that was used.
    said : tuple of (str, str)
        What and which: version, file and digest.
    """
    used = {step.formula.name: step.formula for step in steps}
    blocks: tuple[Block, ...] = (
        Section("assumptions", "Assumptions", (_assumptions(result),)),
        Section("method", "Method", tuple(Paragraph((text,)) for text in METHOD)),
        Section("validity", "Limits of validity", (Bullets(tuple((text,) for text in LIMITS)),)),
        Section("formulas", "Formulas used, and what they were held against", _formulas(used)),
        Section("words", "Words", (_words(),)),
        Section("made-by", "Version and input", (_made_by(said),)),
    )
    return Section("grounds", "What this stands on", blocks)


def _assumptions(result: CheckResult) -> Block:
    rows: list[tuple[Cell, ...]] = []
    for i, a in enumerate(result.assumptions):
        at = f"assumptions[{i}]"
        rows.append(
            (
                Value(a.path, f"{at}.path", a.path),
                (
                    Value(a.value, f"{at}.value", a.value),
                    *((" ", Mark("default", "quiet")) if a.default else ()),
                ),
                Value(a.source, f"{at}.source", a.source),
            )
        )
    if not rows:
        return Paragraph(("The file leaves nothing to a default.",))
    return Table(
        "Everything taken for granted, and where it comes from",
        (Column("key"), Column("value"), Column("source", kind="long")),
        tuple(rows),
    )


def _formulas(used: dict[str, Formula]) -> tuple[Block, ...]:
    known = published_checks()
    rows: list[tuple[Cell, ...]] = []
    sources: dict[str, int] = {}
    for name in sorted(used):
        formula = used[name]
        numbers = []
        for found in known.get(name, ()):
            numbers.append(str(sources.setdefault(found.source, len(sources) + 1)))
        rows.append(
            (
                name,
                formula.summary,
                formula.source,
                "; ".join(str(limit) for limit in formula.ranges) or "everywhere",
                ", ".join(dict.fromkeys(numbers)) or "none known",
            )
        )
    table = Table(
        "Every formula used here: what it gives, its source, where it holds, and published checks by number",
        (
            Column("formula"),
            Column("gives", kind="long"),
            Column("source", kind="long"),
            Column("holds for", kind="long"),
            Column("checked against"),
        ),
        tuple(rows),
    )
    if not sources:
        return (table,)
    wanted = [found for name in sorted(used) for found in known.get(name, ())]
    return (table, _published(sources, wanted))


def _published(sources: dict[str, int], checks: Iterable[PublishedCheck]) -> Table:
    told: dict[str, dict[str, None]] = {source: {} for source in sources}
    for check in checks:
        told[check.source][f"{check.where}: {check.quantity}"] = None
    rows = [(str(number), source, _listed(list(told[source]))) for source, number in sources.items()]
    return Table(
        "Published values that the tests of rigcalc hold these formulas to",
        (Column("no.", kind="number"), Column("source", kind="long"), Column("what is held", kind="long")),
        tuple(rows),
    )


def _listed(values: list[str]) -> str:
    more = len(values) - MOST
    return "; ".join(values[:MOST]) + (f"; and {more} more" if more > 0 else "")


def _words() -> Table:
    own = {**{word: TERMS[word] for word in WORDS}, **ABBREVIATIONS}
    rows = tuple((word, means) for word, means in own.items())
    return Table(
        "Words and letters of this report", (Column("word"), Column("what it means", kind="long")), rows
    )


def _made_by(said: tuple[tuple[str, str], ...]) -> Table:
    return Table("What this report was made of", (Column("what"), Column("which", kind="long")), tuple(said))
