"""How sure a verdict is: on the screen and as JSON."""

from __future__ import annotations

import json
import math
from typing import Any

from .. import units
from ..design.doubt import PERCENT, Doubt, Doubted
from ..verdict import CAUTIONS, NOT_CHECKED, SCHEMA_VERSION
from ..version import __version__
from .document import finite
from .figures.bars import ranking_bars
from .figures.record import Drawn
from .terminal import bullets, table, wrapped

SHOWN = 12


def doubt_screen(found: Doubt) -> str:
    """Return how sure a verdict is, as text."""
    lines = [
        found.title,
        *wrapped(doubt_said(found), "  ", first=""),
        "",
        table(doubt_rows(found)),
        "",
        "How much of the spread each input explains by itself",
        *(f"  {share:>4}  {name}" for name, share in share_rows(found)),
    ]
    if found.furling_m_s is not None:
        said = ", ".join(
            f"{units.convert(wind, 'm/s', 'kn'):.0f} kn at {p:.0f} %"
            for p, wind in zip(PERCENT, found.furling_m_s, strict=True)
        )
        lines += [
            "",
            *wrapped(
                f"Sail let fly, one person can furl in {said} of masts, with friction anywhere between its bounds.",
                "  ",
                first="",
            ),
        ]
    if found.left_aside:
        lines += [
            "",
            *wrapped(f"Cases left aside, far from governing: {', '.join(found.left_aside)}.", "  ", first=""),
        ]
    lines += ["", *bullets("Notes", found.notes), "", *bullets("Cautions", (*CAUTIONS, NOT_CHECKED))]
    return "\n".join(lines) + "\n"


def doubt_said(found: Doubt) -> str:
    """Say in a sentence or two how sure a verdict is."""
    return (
        f"The verdict is {found.verdict.upper()} with the inputs of the file. Of {found.samples} masts with inputs "
        f"spread as in life {_share(found.chance)} fail a check."
    )


def doubt_rows(found: Doubt) -> list[list[str]]:
    """Return the table of checks, the likeliest to fail first; its head is the first row."""
    rows = [["check", "as filed", "fails", "+-", *(f"{p:.0f} %" for p in PERCENT), "mostly in"]]
    for one in found.checks[:SHOWN]:
        rows.append(
            [
                one.id,
                _used(one.used),
                _share(one.chance),
                _share(one.error),
                *(_used(value) for value in one.percentiles),
                one.case,
            ]
        )
    return rows


def share_rows(found: Doubt) -> list[list[str]]:
    """Return each input with its spread, and how much it explains, the one that matters most first."""
    return [[f"{one.input}, spread {one.spread:.0%}", f"{one.share:.0%}"] for one in found.shares]


def _used(value: float) -> str:
    return f"{value:.2f}" if math.isfinite(value) else "-"


def _share(value: float) -> str:
    return f"{value:.2%}" if value < 0.1 else f"{value:.0%}"


def _plain(one: Doubted) -> dict[str, Any]:
    percentiles = [finite(value) for value in one.percentiles]
    return {**vars(one), "used": finite(one.used), "percentiles": percentiles}


def doubt_json(found: Doubt) -> str:
    """Return how sure a verdict is, as JSON."""
    document: dict[str, Any] = {
        "schema_version": SCHEMA_VERSION,
        "rigcalc_version": __version__,
        "title": found.title,
        "verdict": found.verdict,
        "cautions": [*CAUTIONS, NOT_CHECKED],
        "samples": found.samples,
        "seed": found.seed,
        "chance": found.chance,
        "percent": list(PERCENT),
        "checks": [_plain(one) for one in found.checks],
        "shares": [dict(vars(one)) for one in found.shares],
        "furling_m_s": None if found.furling_m_s is None else list(found.furling_m_s),
        "left_aside": list(found.left_aside),
        "notes": list(found.notes),
    }
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def doubt_figure(found: Doubt) -> Drawn:
    """Return which input matters most as a figure."""
    names = [f"{one.input}, spread {one.spread:.0%}" for one in found.shares]
    shares = [one.share for one in found.shares]
    said = ", ".join(f"{name} {share:.0%}" for name, share in zip(names, shares, strict=True))
    return Drawn(
        "doubt",
        "What the doubt comes from",
        f"Share of the spread of the greatest utilisation that each input explains by itself: {said}.",
        lambda: ranking_bars(
            names,
            shares,
            title="What the doubt comes from",
            subtitle=found.title,
            axis="share of the spread that it explains by itself, %",
            signed=False,
            notes=[
                "The inputs were drawn at random, each about its own value with the spread beside its name (standard "
                "deviation over mean). The bars are shares of what that makes the greatest utilisation vary."
            ],
        ),
    )
