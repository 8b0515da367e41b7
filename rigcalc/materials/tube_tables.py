"""Sizes of round tube as a stockholder lists them: generic series, each row read or from memory."""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cache
from typing import Final, Literal

from ..frozen import dataclass
from .table_files import column_of, rows_of

TubeProvenance = Literal["read", "memory", "user"]

_PROVENANCES: Final[dict[str, TubeProvenance]] = {"read": "read", "memory": "memory"}


@dataclass(frozen=True, kw_only=True)
class TubeSize:
    """One size of round tube, as it can be bought.

    Parameters
    ----------
    name : str
        As it is ordered, for example ``80 x 3 mm`` or ``NPS 3 schedule 40``.
    series : str
        The list it stands in.
    diameter_m, wall_m : float
        Nominal outside diameter and wall; tolerances come on top.
    material : str or None
        What it is made of; None where the list does not say.
    stock_length_m : float or None
        Length it is sold in; None where any length is taken to be had.
    price_per_m, price_per_kg : float or None
        At most one of the two, in the user's own money.
    provenance : {"read", "memory", "user"}
        Whether the size was read in the source, recalled, or given by the user.
    source : str
        Where it was found.
    """

    name: str
    series: str
    diameter_m: float
    wall_m: float
    material: str | None = None
    stock_length_m: float | None = None
    price_per_m: float | None = None
    price_per_kg: float | None = None
    provenance: TubeProvenance
    source: str

    @property
    def bore_m(self) -> float:
        """Nominal inside diameter."""
        return self.diameter_m - 2 * self.wall_m

    @property
    def area_m2(self) -> float:
        """Area of the metal."""
        return math.pi * (self.diameter_m - self.wall_m) * self.wall_m

    def kg_per_m(self, density_kg_m3: float) -> float:
        """Return the mass of a metre of it."""
        return density_kg_m3 * self.area_m2

    def cost_per_m(self, density_kg_m3: float) -> float | None:
        """Return the price of a metre of it; None where the list has no price."""
        if self.price_per_kg is not None:
            return self.price_per_kg * self.kg_per_m(density_kg_m3)
        return self.price_per_m


_TABLE: Final = "tube_sizes.csv"


@cache
def tube_sizes() -> tuple[TubeSize, ...]:
    """Every size of the generic table, in its order.

    Returns
    -------
    tuple of TubeSize
        Sizes, not stock: which of them is sold, in which alloy and length, is for a stockholder to say.
    """
    return tuple(_size(row) for row in rows_of(_TABLE))


def tube_series() -> tuple[str, ...]:
    """Name of every series of the generic table, each once, in its order."""
    return column_of(_TABLE, "series")


def _size(row: Mapping[str, str]) -> TubeSize:
    return TubeSize(
        name=row["name"],
        series=row["series"],
        # the decimal point is shifted in the text, so that 41.275 mm becomes the float nearest to it
        diameter_m=float(f"{row['diameter_mm']}e-3"),
        wall_m=float(f"{row['wall_mm']}e-3"),
        provenance=_PROVENANCES[row["provenance"]],
        source=row["source"],
    )
