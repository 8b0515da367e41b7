"""What searches say, for the report: masts of several materials side by side, and how sure the verdict is."""

from __future__ import annotations

import math
from typing import Final

from ...design.compare import Compared, Comparison
from ...design.doubt import PERCENT, Doubt, Doubted
from ..compare import ROWS, compare_figure
from ..doubt import SHOWN, doubt_figure
from .record import Block, Bullets, Cell, Column, FigureBlock, Paragraph, Section, Table
from .show import NONE, Show, heads, text

_QUANTITY: Final = {
    "mass_kg": "mass",
    "centre_m": "height",
    "widest_m": "size",
    "wall_m": "size",
    "tip_m": "height",
    "frequency_Hz": "frequency",
    "used": "number",
    "partners_N": "force",
    "step_N": "force",
    "furling_m_s": "wind",
    "moment_30_loss_N_m": "moment",
    "ballast_kg": "mass",
    "price": "number",
    "longest_piece_m": "height",
    "bought_kg": "mass",
}


def comparison_section(found: Comparison, show: Show) -> Section:
    """Return masts side by side, a letter to each."""
    letters = [chr(ord("A") + i) for i in range(len(found.masts))]
    rows: list[tuple[Cell, ...]] = []
    for label, name, *_ in ROWS:
        if any(getattr(mast, name) is not None for mast in found.masts):
            cells = (
                show.said(_QUANTITY[name], getattr(mast, name), f"comparison.masts[{i}].{name}")
                for i, mast in enumerate(found.masts)
            )
            rows.append((label, *cells))
    governing = (text(m.governing, f"comparison.masts[{i}].governing") for i, m in enumerate(found.masts))
    rows.append(("held by", *governing))
    blocks: list[Block] = [
        Bullets(tuple((_named(letter, m),) for letter, m in zip(letters, found.masts, strict=True))),
        Table("Masts of several materials", (Column("mast"), *heads(*letters, kind="number")), tuple(rows)),
        FigureBlock(compare_figure(found, us=show.shown == "us")),
        Bullets(tuple((f"{letter}: {m.said}",) for letter, m in zip(letters, found.masts, strict=True))),
    ]
    blocks += [Paragraph((f"No mast of {none.material} passes: {none.why}.",)) for none in found.none]
    if not found.finished:
        blocks.append(Paragraph(("A search was broken off: these are the best masts it had.",), "note"))
    return Section("comparison", "Masts side by side", tuple(blocks))


def _named(letter: str, mast: Compared) -> str:
    verdict = "" if mast.passed else " FAILS"
    return f"{letter}: {mast.material}, {mast.construction}{verdict}{': ' if mast.sizes else ''}{mast.sizes}"


def doubt_section(found: Doubt, show: Show) -> Section:
    """Return how sure the verdict is, and what that hangs on."""
    chance = show.said("share", found.chance, "doubt.chance")
    columns = (
        Column("check"),
        Column("as filed", kind="number"),
        show.column("fails", "share"),
        show.column("+-", "share"),
        *heads(*(f"at {p:.0f} %" for p in PERCENT), kind="number"),
        Column("mostly in"),
    )
    shares = tuple(
        (
            text(one.input, f"doubt.shares[{i}].input"),
            show.value("percent", one.spread, f"doubt.shares[{i}].spread"),
            show.value("percent", one.share, f"doubt.shares[{i}].share"),
        )
        for i, one in enumerate(found.shares)
    )
    blocks: list[Block] = [
        Paragraph(
            (
                f"Of {found.samples} masts with inputs spread as in life ",
                chance,
                " fail a check, its factors of safety left in.",
            )
        ),
        Table(
            "Checks, the likeliest to fail first",
            columns,
            tuple(_row(one, f"doubt.checks[{i}]", show) for i, one in enumerate(found.checks[:SHOWN])),
        ),
    ]
    if shares:
        blocks += [
            Table(
                "How much of the spread each input explains by itself",
                (
                    Column("input"),
                    show.column("its own spread", "percent"),
                    show.column("explains", "percent"),
                ),
                shares,
            ),
            FigureBlock(doubt_figure(found)),
        ]
    if found.furling_m_s is not None:
        winds = tuple(
            (show.said("wind", wind, f"doubt.furling_m_s[{i}]"), f" in {percent:.0f} % of masts")
            for i, (percent, wind) in enumerate(zip(PERCENT, found.furling_m_s, strict=True))
        )
        blocks += [Paragraph(("Sail let fly, one person can furl in up to",)), Bullets(winds)]
    if found.left_aside:
        blocks.append(
            Paragraph((f"Cases left aside, far from governing: {', '.join(found.left_aside)}.",), "note")
        )
    blocks.append(Bullets(tuple((note,) for note in found.notes)))
    return Section("doubt", "How sure the verdict is", tuple(blocks))


def _row(one: Doubted, path: str, show: Show) -> tuple[Cell, ...]:
    return (
        text(one.id, f"{path}.id"),
        _used(show, one.used, f"{path}.used"),
        show.value("share", one.chance, f"{path}.chance"),
        show.value("share", one.error, f"{path}.error"),
        *(_used(show, value, f"{path}.percentiles[{i}]") for i, value in enumerate(one.percentiles)),
        text(one.case, f"{path}.case"),
    )


def _used(show: Show, value: float, path: str) -> Cell:
    return show.value("number", value, path) if math.isfinite(value) else NONE
