"""How the timber of a rig is kept and loaded: what stands between a tree's strength and a spar's."""

from __future__ import annotations

from typing import Final

from ..frozen import dataclass
from .fields import Choice, Quantity, Whole, described

CLEAR_WOOD_KEYS: Final = (
    "moisture",
    "slope_of_grain",
    "load_duration",
    "temperature",
    "round_form_factor",
    "hollow_form_factor",
)
"""Read by species alone: the strength classes have these in them, or know none."""
CLASS_KEYS: Final = ("service_class", "duration_class")
"""Read by the strength classes of EN 338 alone."""


@dataclass(frozen=True, kw_only=True)
class TimberUse:
    """How the timber of the rig is kept and loaded; some keys belong to species, some to strength classes."""

    moisture: float = described(
        Quantity(
            "Species: water in the wood, as a share of its dry mass.",
            at_least=0.08,
            at_most=0.30,
            default_from="wet end of the 12 to 18 % of a mast outdoors, from memory",
        ),
        default=0.18,
    )
    slope_of_grain: float = described(
        Quantity(
            "Species: steepest grain in the spar, rise over run.",
            at_least=0,
            at_most=1 / 8,
            default_from="limit of spar stock, FAA AC 43.13-1B, Table 1-1, read",
        ),
        default=1 / 15,
    )
    load_duration_s: float = described(
        Quantity(
            "Species: how long the full load acts, all gusts of the mast's life together.",
            unit="s",
            above=0,
            sane=(1, 2e9),
            default_from="judgement: some hundreds of gusts of some seconds; ten minutes of wind in NDS (from memory)",
        ),
        default=3600.0,
    )
    temperature_degC: float = described(
        Quantity(
            "Species: temperature of the wood while it is loaded.",
            unit="degC",
            key="temperature",
            at_least=-50,
            at_most=50,
            default_from="air of a damp day, with the moisture; a hot dry mast, 12 % at 50 degC, comes to about the "
            "same, and dark paint in the sun reaches that (from memory)",
        ),
        default=20.0,
    )
    round_form_factor: str = described(
        Choice(
            "Species: what a solid round bears in bending beyond a rectangle.",
            options={"none": "no credit", "NDS": "1.18 on bending strength, NDS 3.3.4, from memory"},
            default_from="judgement: the safe side",
        ),
        default="none",
    )
    hollow_form_factor: float | None = described(
        Quantity(
            "Species: share of a solid's bending strength that the edge of a hollow section bears; its crushing "
            "strength when not given.",
            at_least=0.5,
            at_most=1,
            default_from="the edge of a hollow section is stressed evenly, so it crushes; ANC-18, 2.30, has 0.65 to "
            "0.86 for four box and I sections, read",
        ),
        default=None,
    )
    service_class: int = described(
        Whole(
            "Classes of EN 338: 3 outdoors, 2 under cover or fully sealed, 1 indoors.",
            at_least=1,
            at_most=3,
            default_from="judgement: a mast is outdoors unless it is fully sealed",
        ),
        default=3,
    )
    duration_class: str = described(
        Choice(
            "Classes of EN 338: how long the load acts, by EN 1995-1-1.",
            options={
                "permanent": "over ten years",
                "long-term": "half a year to ten years",
                "medium-term": "a week to half a year",
                "short-term": "less than a week",
                "instantaneous": "a blow",
            },
            default_from="wind is short-term or instantaneous by country (from memory); the lower of the two",
        ),
        default="short-term",
    )
    scarf_slope: float = described(
        Quantity(
            "Slope of the glued scarfs, rise over run; 0 where every piece runs the whole length.",
            at_least=0,
            at_most=1 / 5,
            default_from="common practice: staves are scarfed; 1 in 12 or flatter is best, Wood Handbook ch. 10, read",
        ),
        default=1 / 12,
    )
    lasting_share: float = described(
        Quantity(
            "Share psi_2 of the load that counts as lasting, for creep.",
            at_least=0,
            at_most=1,
            default_from="judgement: sail up for part of the season; EN 1990 counts none of the wind (from memory)",
        ),
        default=0.1,
    )
    safety_factor: float = described(
        Quantity(
            "On strength: gamma_M of a class; of a species the margin beyond the lower 5 % and the load duration.",
            at_least=1,
            at_most=5,
            default_from="gamma_M of solid timber, EN 1995-1-1, read as coded; the part of ASTM D245's 2.1 that is not "
            "load duration, from memory; the dynamic factor of the case comes on top, as gamma_Q does there",
        ),
        default=1.3,
    )
