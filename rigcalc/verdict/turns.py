"""One case at all the angles that the mast is turned to."""

from __future__ import annotations

from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..frozen import dataclass
from .model import ALONG, Model
from .solve import Solved

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Turns:
    """One case at all the angles the mast is turned to.

    Forces, shear and moments of the straight mast are the same at all of them; how far it bends is not.
    """

    model: Model
    solved: Solved
    case: int

    @property
    def first(self) -> int:
        return self.case * len(self.model.turns_rad)

    @property
    def several(self) -> bool:
        return len(self.model.turns_rad) > 1

    @property
    def each(self) -> slice:
        return self.model.each(self.case)

    @property
    def settled(self) -> bool:
        """Whether the bent mast found its equilibrium at every turn."""
        return bool(np.all(self.solved.settled[self.each]))

    @property
    def axial_factor(self) -> float:
        """Least factor of instability; NaN where any was not found."""
        return float(np.min(self.solved.axial_factor[self.each]))

    @property
    def thrust_N(self) -> float:
        """Compression that comes down at the heel."""
        return float(self.model.thrust_N[self.first])

    @property
    def upper_N(self) -> float:
        """Force of the upper bearing, both planes together, the larger of straight and bent mast."""
        straight = np.hypot(*self.solved.small.partners_N[:, self.each])
        bent = np.hypot(*self.solved.bent_partners_N[:, self.each])
        return float(np.max(np.where(self.solved.settled[self.each], np.maximum(straight, bent), straight)))

    @property
    def tips_m(self) -> Floats:
        """Deflection of the tip at every turn."""
        return np.asarray(np.hypot(*self.solved.small.deflection_m[:, self.each, -1, -1]))

    @property
    def tip_m(self) -> float:
        return float(np.max(self.tips_m))

    @cached_property
    def widest(self) -> int:
        """The turn at which the tip goes farthest, among all cases."""
        return self.first + int(np.argmax(self.tips_m))

    @property
    def tip_bent_m(self) -> float | None:
        """Deflection of the tip of the bent mast; None where no equilibrium was found."""
        tips = np.hypot(*self.solved.bent_m[:ALONG, self.each, -1, -1])
        return float(np.max(tips)) if self.settled else None

    @property
    def bent_moment_N_m(self) -> float | None:
        """Largest moment on the bent mast; None where it found no equilibrium."""
        bent = np.hypot(*self.solved.bent_moment_N_m[:, self.each])
        return float(np.max(bent)) if self.settled else None

    def across(self, of: Floats) -> Floats:
        """Return (side, forward) of the widest turn in the boat's axes, from what all cases have."""
        return self.model.in_boat_axes(of[:, self.widest], self.widest)
