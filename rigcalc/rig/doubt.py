"""How far materials, sizes, wind and boat may stand from what the file says."""

from __future__ import annotations

from ..frozen import dataclass
from .fields import Quantity, Whole, described


@dataclass(frozen=True, kw_only=True)
class Doubts:
    """Spreads for `rigcalc doubt`: all are taken as log-normal, and independent of each other."""

    metal_strength: float = described(
        Quantity(
            "Spread of the strength of a metal, as a standard deviation over the mean.",
            at_least=0,
            at_most=0.5,
            default_from="0.07 for the yield of structural steel, JCSS Probabilistic Model Code: from memory",
        ),
        default=0.07,
    )
    metal_stiffness: float = described(
        Quantity(
            "Spread of its modulus.",
            at_least=0,
            at_most=0.5,
            default_from="0.03, JCSS, of steel: from memory",
        ),
        default=0.03,
    )
    timber_strength: float = described(
        Quantity(
            "Spread of the strength of a timber.",
            at_least=0,
            at_most=0.5,
            default_from="0.16 for the modulus of rupture of clear wood, FPL-GTR-190 Table 5-6, read",
        ),
        default=0.16,
    )
    timber_stiffness: float = described(
        Quantity(
            "Spread of its modulus.",
            at_least=0,
            at_most=0.5,
            default_from="0.22, FPL-GTR-190 Table 5-6, read",
        ),
        default=0.22,
    )
    laminate_strength: float = described(
        Quantity(
            "Spread of the strength of a laminate laid by hand.",
            at_least=0,
            at_most=0.5,
            default_from="judgement: tests of good hand work scatter by a tenth",
        ),
        default=0.10,
    )
    laminate_stiffness: float = described(
        Quantity(
            "Spread of its modulus.", at_least=0, at_most=0.5, default_from="judgement, with its fibre share"
        ),
        default=0.07,
    )
    wall: float = described(
        Quantity(
            "Spread of walls and of the sizes of staves; a laminate has that of its stiffness.",
            at_least=0,
            at_most=0.3,
            default_from="a tenth on the wall of extruded tube, EN 755-8, as two deviations: from memory",
        ),
        default=0.05,
    )
    wind: float = described(
        Quantity(
            "Spread of the speed of the wind in cases that a wind sets.",
            at_least=0,
            at_most=0.5,
            default_from="judgement: how well a wind is told, and gusts in it",
        ),
        default=0.10,
    )
    righting_moment: float = described(
        Quantity(
            "Spread of the righting moment.",
            at_least=0,
            at_most=0.5,
            default_from="judgement: weight and height of what is aboard",
        ),
        default=0.07,
    )
    swing: float = described(
        Quantity(
            "Spread of the accelerations of roll and pitch.",
            at_least=0,
            at_most=1,
            default_from="judgement: seas are not alike",
        ),
        default=0.20,
    )
    samples: int = described(
        Whole(
            "How many masts are tried.",
            at_least=100,
            at_most=200_000,
            default_from="a chance of one in a hundred is then known to a tenth of itself",
        ),
        default=10_000,
    )
    seed: int = described(
        Whole("Seed of the sample.", at_least=0, at_most=2**31 - 1, default_from="any will do"), default=1
    )
