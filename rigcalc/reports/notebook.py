"""Results as a notebook shows them: the blocks of the report, of which each result takes the few that it needs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import singledispatch

from ..design.compare import Comparison
from ..design.doubt import Doubt
from ..design.order import Order
from ..design.sizing import NoSize, Sized
from ..verdict import CAUTIONS, NOT_CHECKED, CheckResult
from .compare import compare_rows
from .doubt import doubt_rows, doubt_said, share_rows
from .sheet.buying import order_section
from .sheet.checks import grouped
from .sheet.html import fragment_html
from .sheet.record import Block, Bullets, Caution, Column, Kind, Mark, Paragraph, Table
from .sheet.show import Show, judged
from .size import beside_said, binding, size_said
from .terminal import check_said, why

_ALL = (*CAUTIONS, NOT_CHECKED)
_METRIC = Show("metric")


@singledispatch
def fragment_of(found: object) -> str:
    """Return a result as a piece of HTML that stands by itself.

    Raises
    ------
    TypeError
        If it is no result of this package.
    """
    raise TypeError(f"no result: {type(found).__name__}")


@fragment_of.register
def _(found: CheckResult) -> str:
    return fragment_html(found.title, [*_verdict(found), *_told(found.warnings, found.cautions)])


def _verdict(result: CheckResult) -> Iterator[Block]:
    tone = Mark(result.verdict.upper(), "good" if result.passed else "bad")
    yield Paragraph((tone, f": {why(result)}"), "lead")
    yield Paragraph((f"Governing: {check_said(result.governing, 'both')}",))
    if result.governing.advice:
        yield Paragraph((f"Cure: {result.governing.advice}.",))
    worst = [result.checks[numbers[0]] for numbers in grouped(result)]
    yield Table(
        "Each kind of check, where it is used most",
        (
            Column("check"),
            Column("of"),
            Column("used", kind="number"),
            Column("verdict"),
            Column("at z", "m", "number"),
            Column("case"),
        ),
        tuple(
            (
                check.id,
                check.layer,
                _METRIC.value("number", check.utilisation),
                judged(check.passed),
                _METRIC.value("height", check.height_m),
                check.case,
            )
            for check in worst
        ),
    )


def _told(warnings: Sequence[str], cautions: Sequence[str]) -> Iterator[Block]:
    if warnings:
        yield Caution("Warnings", tuple(warnings))
    yield Caution("Cautions", tuple(cautions))


@fragment_of.register
def _(found: Sized) -> str:
    heading, *rest = size_said(found, "both")
    blocks: list[Block] = [
        Paragraph((judged(found.result.passed), f": {heading}"), "lead"),
        *(Paragraph((text,)) for text in rest),
        Table(
            "What binds, by how much of it is used",
            (
                Column("check"),
                Column("of"),
                Column("used", kind="number"),
                Column("at z", "m", "number"),
                Column("case"),
            ),
            tuple(
                (c.id, c.layer, f"{c.utilisation:.3f}", f"{c.height_m:.2f}", c.case)
                for c in binding(found.result)
            ),
        ),
    ]
    if found.neighbours:
        beside = tuple((beside_said(one),) for one in found.neighbours)
        blocks += [Paragraph(("Next lighter, and what they fail in:",)), Bullets(beside)]
    return fragment_html(found.result.title, [*blocks, *_told(found.result.warnings, found.result.cautions)])


@fragment_of.register
def _(found: NoSize) -> str:
    heading, *rest = size_said(found, "both")
    blocks: list[Block] = [
        Paragraph((Mark("NONE", "bad"), f": {heading}"), "lead"),
        *(Paragraph((text,)) for text in rest),
    ]
    title = found.material if found.nearest is None else found.nearest.title
    return fragment_html(title, [*blocks, *_told((), _ALL)])


@fragment_of.register
def _(found: Comparison) -> str:
    head, *rows = compare_rows(found)
    blocks: list[Block] = [
        Bullets(
            tuple(
                (f"{letter}: {mast.material}, {mast.construction}: ", judged(mast.passed), f". {mast.sizes}")
                for letter, mast in zip(head[2:], found.masts, strict=True)
            )
        ),
        _table("Masts side by side", ("what", "unit", *head[2:]), rows, left=2),
        Bullets(tuple((mast.said,) for mast in found.masts)),
    ]
    if found.none:
        blocks.append(
            Bullets(tuple((f"No mast of {one.material} passes: {one.why}.",) for one in found.none))
        )
    if not found.finished:
        blocks.append(Paragraph(("A search was broken off: these are the best masts it had.",)))
    return fragment_html(found.title, [*blocks, *_told((), _ALL)])


@fragment_of.register
def _(found: Doubt) -> str:
    head, *rows = doubt_rows(found)
    blocks: list[Block] = [
        Paragraph((judged(found.verdict == "pass"), f": {doubt_said(found)}"), "lead"),
        _table("How often each check fails, and its use at each per cent of the masts", head, rows, left=1),
        _table(
            "How much of the spread each input explains by itself",
            ("input", "share"),
            share_rows(found),
            left=1,
        ),
        Bullets(tuple((note,) for note in found.notes)),
    ]
    return fragment_html(found.title, [*blocks, *_told((), _ALL)])


@fragment_of.register
def _(found: Order) -> str:
    section = order_section(found, "", _METRIC)
    return fragment_html(found.title, [*section.blocks, Caution("Cautions", found.cautions)])


def _table(caption: str, head: Sequence[str], rows: Sequence[Sequence[str]], *, left: int) -> Table:
    """Return a table whose first columns are words and the others numbers."""

    def kind(i: int) -> Kind:
        return "text" if i < left else "number"

    columns = tuple(Column(name, kind=kind(i)) for i, name in enumerate(head))
    return Table(caption, columns, tuple(tuple(row) for row in rows))
