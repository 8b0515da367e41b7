"""What ordered pieces weigh in place, beside the mass of the section they make."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from ..formulas.pieces import prismoid_volume
from ..frozen import dataclass

Floats = NDArray[np.float64]

ROUNDING: Final = 1e-9
"""Share of the mass that the arithmetic of two ways may leave between them."""


@dataclass(frozen=True)
class MassCheck:
    """The same mass by two ways.

    Parameters
    ----------
    pieces_kg : float
        Sum of the pieces in place, from their own sizes.
    section_kg : float
        Area of the section times density, integrated along the mast.
    """

    pieces_kg: float
    section_kg: float

    @property
    def difference_kg(self) -> float:
        """By how much the pieces are heavier."""
        return self.pieces_kg - self.section_kg

    @property
    def agrees(self) -> bool:
        """Whether the two are one, to rounding."""
        return abs(self.difference_kg) <= ROUNDING * max(self.pieces_kg, self.section_kg)


def integrated_kg(
    heights_m: Sequence[float], area_m2: Callable[[Floats], Floats], density_kg_m3: float
) -> float:
    """Return the mass of a section whose sizes run straight between heights.

    The prismoidal formula is exact there, as the area is then a quadratic in the height.

    Parameters
    ----------
    heights_m : sequence of float
        Every height at which a size changes its slope, growing.
    area_m2 : callable
        Area at heights; continuous from each height to the next.
    density_kg_m3 : float
        Of what it is made of.
    """
    volumes = []
    for low, high in pairwise(heights_m):
        A_0, A_m, A_1 = area_m2(np.array([low, (low + high) / 2, high]))
        volumes.append(float(prismoid_volume(A_0=A_0, A_m=A_m, A_1=A_1, h=high - low)))
    return density_kg_m3 * math.fsum(volumes)
