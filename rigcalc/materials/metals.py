"""Aluminium tube by the name a builder orders it by, with strengths that depend on the wall."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import cache
from typing import Final, Literal

from ..frozen import dataclass
from .near import did_you_mean, nearest, quoted
from .table_files import column_of, rows_of

Provenance = Literal["read", "memory"]

_PROVENANCES: Final[dict[str, Provenance]] = {"read": "read", "memory": "memory"}
_CLASSES: Final[dict[str, Literal["A", "B"] | None]] = {"A": "A", "B": "B", "": None}
_DESIGN_USE: Final = {"yes": True, "no": False}
# Room for the rounding of a wall worked out in floats: far below any thickness tolerance.
_ROUNDING: Final = 1 + 1e-9


class MaterialError(ValueError):
    """A material that cannot be had.

    Parameters
    ----------
    name : str
        The name that was asked for.
    problem : str
        Why it cannot be had.
    remedy : str
        What to do about it.
    """

    def __init__(self, name: str, problem: str, remedy: str) -> None:
        super().__init__(name, problem, remedy)
        self.name, self.problem, self.remedy = name, problem, remedy

    def __str__(self) -> str:
        return f"{self.name!r}: {self.problem}. {self.remedy}"


@dataclass(frozen=True, kw_only=True)
class Metal:
    """One metal over one range of wall thickness.

    Parameters
    ----------
    name : str
        Alloy, temper and form, with the standard where it is not EN 1999-1-1.
    family : {"metal"}
        Sets metals apart from laminates.
    E_Pa, G_Pa : float
        Young's modulus and shear modulus.
    nu : float
        Poisson's ratio.
    density_kg_m3 : float
        Density.
    thermal_expansion_per_K : float or None
        Coefficient of linear thermal expansion; None where it is not given.
    proof_Pa, ultimate_Pa : float
        0.2 % proof strength and tensile strength: minima unless `design_use` is false.
    haz_proof_Pa, haz_ultimate_Pa : float or None
        The same beside a weld; None where the standard named gives no value.
    buckling_class : {"A", "B"} or None
        Material buckling class of EN 1999-1-1; None for metals from other standards.
    elongation : float or None
        Least elongation at fracture, as a fraction.
    design_use : bool
        False for typical values, which are listed for comparison and refused for sizing.
    standard : str
        Standard the strengths belong to.
    strength_provenance, elastic_provenance : {"read", "memory"}
        Whether the values were read in the source or recalled from memory.
    source, elastic_source : str
        Where the strengths, and the elastic constants with density and expansion, come from.
    note : str
        Anything else to know; may be empty.
    wall_over_m, wall_up_to_m : float, float or None
        The wall is over the first and up to the second, itself included; None is no limit.
    """

    name: str
    family: Literal["metal"] = "metal"
    E_Pa: float
    G_Pa: float
    nu: float
    density_kg_m3: float
    thermal_expansion_per_K: float | None
    proof_Pa: float
    ultimate_Pa: float
    haz_proof_Pa: float | None
    haz_ultimate_Pa: float | None
    buckling_class: Literal["A", "B"] | None
    elongation: float | None
    design_use: bool
    standard: str
    strength_provenance: Provenance
    elastic_provenance: Provenance
    source: str
    elastic_source: str
    note: str
    wall_over_m: float
    wall_up_to_m: float | None

    def _holds(self, wall_m: float) -> bool:
        return self.wall_over_m * _ROUNDING < wall_m <= self._limit_m * _ROUNDING

    @property
    def _limit_m(self) -> float:
        return math.inf if self.wall_up_to_m is None else self.wall_up_to_m


def _scaled(text: str, exponent: int) -> float:
    # Decimal shift in the text, so that 6.35 mm becomes the float nearest to 0.00635.
    return float(f"{text}e{exponent}")


def _scaled_or_none(text: str, exponent: int) -> float | None:
    return _scaled(text, exponent) if text else None


def _metal(row: Mapping[str, str]) -> Metal:
    return Metal(
        name=row["name"],
        E_Pa=_scaled(row["E_GPa"], 9),
        G_Pa=_scaled(row["G_GPa"], 9),
        nu=float(row["nu"]),
        density_kg_m3=float(row["density_kg_m3"]),
        thermal_expansion_per_K=float(row["thermal_expansion_per_K"]),
        proof_Pa=_scaled(row["f0_MPa"], 6),
        ultimate_Pa=_scaled(row["fu_MPa"], 6),
        haz_proof_Pa=_scaled_or_none(row["f0_haz_MPa"], 6),
        haz_ultimate_Pa=_scaled_or_none(row["fu_haz_MPa"], 6),
        buckling_class=_CLASSES[row["buckling_class"]],
        elongation=_scaled_or_none(row["elongation_pct"], -2),
        design_use=_DESIGN_USE[row["design_use"]],
        standard=row["standard"],
        strength_provenance=_PROVENANCES[row["strength_provenance"]],
        elastic_provenance=_PROVENANCES[row["elastic_provenance"]],
        source=row["source"],
        elastic_source=row["elastic_source"],
        note=row["note"],
        wall_over_m=_scaled(row["wall_over_mm"], -3),
        wall_up_to_m=_scaled_or_none(row["wall_up_to_mm"], -3),
    )


_TABLE: Final = "aluminium.csv"


@cache
def metals() -> tuple[Metal, ...]:
    """Every metal of the table, in its order.

    Returns
    -------
    tuple of Metal
        One for each name and range of wall; those not for design use are among them.
    """
    return tuple(_metal(row) for row in rows_of(_TABLE))


@cache
def metals_named(name: str) -> tuple[Metal, ...]:
    """Return every range of wall of a metal, in the order of the table; there may be none."""
    return tuple(_metal(row) for row in rows_of(_TABLE) if row["name"] == name)


def metal_names() -> tuple[str, ...]:
    """Name of every metal of the table, each once, in its order.

    Returns
    -------
    tuple of str
        Those not for design use are among them.
    """
    return column_of(_TABLE, "name")


def _unknown(name: str) -> MaterialError:
    usable = [metal.name for metal in metals() if metal.design_use]
    remedy = did_you_mean(nearest(name, usable), f"Choose one such as '{usable[0]}'.")
    return MaterialError(name, "there is no metal of this name", remedy)


def _outside(rows: Sequence[Metal], wall_m: float) -> MaterialError:
    name, wall = rows[0].name, f"a wall of {wall_m * 1e3:g} mm"
    largest_m = max(row._limit_m for row in rows)
    if wall_m > largest_m:
        problem = f"{wall} is thicker than any listed; the largest is {largest_m * 1e3:g} mm"
        limit = f"Use a wall of at most {largest_m * 1e3:g} mm"
    else:
        smallest_m = min(row.wall_over_m for row in rows)
        problem = f"{wall} is thinner than any listed; the least is over {smallest_m * 1e3:g} mm"
        limit = f"Use a wall over {smallest_m * 1e3:g} mm"
    alloy = name.split()[0]
    others = [m.name for m in metals() if m.name.split()[0] == alloy and m.design_use and m._holds(wall_m)]
    other = quoted(others) or "another material"
    return MaterialError(name, problem, f"{limit}, or {other}.")


def find_metal(name: str, *, wall_m: float) -> Metal:
    """Metal of a name, with the strengths of its wall thickness.

    Parameters
    ----------
    name : str
        As `metal_names` writes it.
    wall_m : float
        Thickness of the wall.

    Returns
    -------
    Metal
        The one whose range holds the wall; a wall at the upper end of a range belongs to it.

    Raises
    ------
    MaterialError
        If the name is unknown or not for design use, or no range of that name holds the wall.
    """
    rows = metals_named(name)
    if not rows:
        raise _unknown(name)
    if not all(row.design_use for row in rows):
        raise MaterialError(
            name,
            "its strengths are typical values, not minima, and are not for design use",
            "Choose the same alloy by a standard that guarantees its strength.",
        )
    if not 0 < wall_m < math.inf:
        raise MaterialError(name, f"a wall of {wall_m * 1e3:g} mm makes no sense", "Give a wall above zero.")
    for row in rows:
        if row._holds(wall_m):
            return row
    raise _outside(rows, wall_m)
