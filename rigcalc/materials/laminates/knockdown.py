"""What water, standing load and repeated load take off the strength of a ply."""

from __future__ import annotations

import dataclasses
from typing import Any, Final, TypeVar

from ...formulas import record_of
from ...formulas.laminates import log_fatigue_factor, power_fatigue_factor
from ...frozen import dataclass
from ..metals import MaterialError
from .plies import STRAINS, STRENGTHS, PlyMaterial, Provenance, Resin

_Material = TypeVar("_Material", bound=PlyMaterial)

RESIN_GOVERNED: Final = ("Xc_Pa", "Yt_Pa", "Yc_Pa", "S12_Pa")
"""Strengths the resin sets: all but tension along the fibres."""


@dataclass(frozen=True)
class Factor:
    """A share of strength that is left.

    Parameters
    ----------
    value : float
        Above 0, at most 1.
    strengths : tuple of str
        Which strengths it is taken on, by the names of `PlyMaterial`; their ultimate strains go with them.
    provenance : {"read", "memory", "computed"}
        Of the value.
    source : str
        Where it comes from.
    """

    value: float
    strengths: tuple[str, ...]
    provenance: Provenance
    source: str

    def __post_init__(self) -> None:
        if not 0.0 < self.value <= 1.0:
            raise MaterialError(
                "knock-down",
                f"a factor of {self.value:g} cannot be",
                "Give what is left: above 0, at most 1.",
            )
        wrong = [name for name in self.strengths if name not in STRENGTHS]
        if wrong:
            raise MaterialError(
                "knock-down", f"there is no strength {wrong[0]!r}", f"Choose among {', '.join(STRENGTHS)}."
            )


NONE: Final = Factor(1.0, STRENGTHS, "computed", "nothing taken off")
WET_EPOXY: Final = Factor(
    0.8,
    RESIN_GOVERNED,
    "memory",
    "0.8 to 0.9 on compression and shear of epoxy glass, from memory; the low end",
)
WET_POLYESTER: Final = Factor(
    0.7,
    RESIN_GOVERNED,
    "memory",
    "0.7 to 0.8 on compression and shear of polyester glass, from memory; the low end",
)
CREEP: Final = Factor(
    0.2, STRENGTHS, "memory", "a standing load stays under 20 to 25 % of strength, from memory; the low end"
)


def fatigue_power(cycles: float, *, exponent: float = 10.0) -> Factor:
    """Return what repeated load leaves, by a power law; the exponent of glass is 10, of carbon 16.1."""
    value = float(power_fatigue_factor(N=cycles, m=exponent)) if cycles >= 1.0 else 0.0
    return Factor(value, STRENGTHS, "read", record_of(power_fatigue_factor).source)


def fatigue_log(cycles: float, *, slope: float = 0.10) -> Factor:
    """Return what repeated load leaves, by a line over the logarithm of cycles; refuses where nothing is left."""
    value = float(log_fatigue_factor(N=cycles, b=slope)) if cycles >= 1.0 else 0.0
    return Factor(value, STRENGTHS, "memory", record_of(log_fatigue_factor).source)


@dataclass(frozen=True)
class Knockdown:
    """What is taken off the strength of plies, all at once.

    Parameters
    ----------
    wet, creep, fatigue : Factor
        Water, load that stands, load that repeats. Creep and fatigue are of different cases: a case that
        stands takes the one, a case that repeats the other.
    """

    wet: Factor = NONE
    creep: Factor = NONE
    fatigue: Factor = NONE

    def on(self, strength: str) -> float:
        """Return the product of the factors on one strength."""
        share = 1.0
        for factor in (self.wet, self.creep, self.fatigue):
            share *= factor.value if strength in factor.strengths else 1.0
        return share

    def reduced(self, ply: _Material) -> _Material:
        """Return a ply with its strengths and ultimate strains knocked down; its stiffness stays."""
        less: dict[str, Any] = {}
        for strength, strain in zip(STRENGTHS, STRAINS, strict=True):
            for name in (strength, strain):
                value = getattr(ply, name)
                if value is not None:
                    less[name] = value * self.on(strength)
        return dataclasses.replace(ply, **less)


def resin_strain_limit(resin: Resin) -> float:
    """Return the strain a laminate may be designed for by BS 4994: 0.2 %, or a tenth of the resin's own.

    Read on a worked design sheet that cites BS 4994:1987; the standard itself was not read.

    Raises
    ------
    MaterialError
        Where the resin's ultimate strain is not known.
    """
    if resin.ultimate_strain is None:
        raise MaterialError(resin.name, "its ultimate strain is not known", "Give it from the maker's sheet.")
    return min(0.002, resin.ultimate_strain / 10)
