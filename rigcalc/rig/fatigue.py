"""How often the mast is loaded in its life, and what its metal and welds bear of it."""

from __future__ import annotations

from ..frozen import dataclass
from .fields import Quantity, Text, described

_NAMED = (lambda t: t.category_Pa is None, "no category is given")
_TYPED = (lambda t: t.category_Pa is not None, "category is given")
_WELD_NAMED = (lambda t: t.weld_category_Pa is None, "no weld_category is given")
_WELD_TYPED = (lambda t: t.weld_category_Pa is not None, "weld_category is given")

LOWEST_WELD = "attachment-long"
"""Weld taken where none is named: the lowest of the table."""


@dataclass(frozen=True, kw_only=True)
class Fatigue:
    """A life at sea, rolling, and the fatigue details of the metal: without it fatigue is not looked at."""

    days_at_sea: float = described(
        Quantity("Days at sea in the whole life of the mast.", at_least=1, at_most=30_000)
    )
    time_per_day_s: float = described(
        Quantity(
            "Time at sea on each of them.",
            unit="s",
            at_least=1800,
            at_most=86_400,
            default_from="around the clock, the safest",
        ),
        default=86_400.0,
    )
    roll_period_s: float | None = described(
        Quantity(
            "Period of roll: the mast is loaded and let go once in each. That of the boat when not given.",
            unit="s",
            at_least=0.5,
            at_most=20,
            default_from="2 pi k/sqrt(g GM) with the boat's radius of gyration; 2.5 s without: judgement",
        ),
        default=None,
    )
    stress_ratio: float = described(
        Quantity(
            "Least over greatest stress in the hardest roll: -1 when the mast is bent as far the other way, 0 when it "
            "is let go to nothing. A case of motion swings both ways, -1 whatever stands here.",
            at_least=-1,
            at_most=0.5,
            default_from="bent both ways in every roll, the safest; it covers changes of tack too",
        ),
        default=-1.0,
    )
    detail: str = described(
        Text(
            "What the plain wall is, by name: extruded, machined, or a weld along the whole of it.",
            when=_NAMED,
            default_from="as extruded, 71 MPa at 2e6 cycles: EN 1999-1-3 Table J.1, from memory, low confidence",
        ),
        default="extruded",
    )
    category_Pa: float | None = described(
        Quantity(
            "Stress range that the plain wall bears two million times, in place of detail.",
            unit="Pa",
            above=0,
            sane=(5e6, 400e6),
        ),
        default=None,
    )
    slope: float | None = described(
        Quantity("Slope m of the S-N curve up to its knee.", at_least=2, at_most=10, when=_TYPED),
        default=None,
    )
    weld_detail: str | None = described(
        Text(
            "What the [[mast.weld]] are, by name: attachment-long, attachment-short, tube-weld or butt-both-sides.",
            when=_WELD_NAMED,
            default_from=f"{LOWEST_WELD}, the lowest of the table, where there is a weld: EN 1999-1-3 Table J.3, "
            "from memory, low confidence",
        ),
        default=None,
    )
    weld_category_Pa: float | None = described(
        Quantity(
            "Stress range that the metal beside a weld bears two million times, in place of weld_detail.",
            unit="Pa",
            above=0,
            sane=(5e6, 400e6),
        ),
        default=None,
    )
    weld_slope: float | None = described(
        Quantity("Slope m of its S-N curve.", at_least=2, at_most=10, when=_WELD_TYPED), default=None
    )
    factor: float = described(
        Quantity(
            "Partial factor gamma_Mf on the category.",
            at_least=1,
            at_most=3,
            default_from="EN 1993-1-9 Table 3.1, safe life, failure may hurt people, from memory; 1.15 there where "
            "inspection finds a crack in time",
        ),
        default=1.35,
    )
