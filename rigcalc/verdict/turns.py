"""One case at all the angles that the mast is turned to."""

from __future__ import annotations

from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ..frozen import dataclass
from .model import ALONG, FORWARD, SIDE, Model
from .solve import Solved

Floats = NDArray[np.float64]
Mast = Literal["straight", "bent"]


@dataclass(frozen=True)
class Push:
    """Force of a bearing on the mast in the boat's axes, of the straight or the bent mast, whichever has the larger."""

    side_N: float
    forward_N: float
    mast: Mast


@dataclass(frozen=True)
class Turns:
    """One case at all the angles the mast is turned to.

    Forces, shear and moments of the straight mast are the same at all of them; how far it bends is not, and what
    is told of the bent mast is the greatest of all.
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
        return float(np.max(self.solved.upper_N[self.each]))

    @property
    def lower_N(self) -> float:
        """The same of the lower bearing."""
        return float(np.max(self.solved.lower_N[self.each]))

    @property
    def upper(self) -> Push:
        """Force of the upper bearing on the mast."""
        return self._push(self.solved.small.partners_N, self.solved.bent_partners_N)

    @property
    def lower(self) -> Push:
        """The same of the lower bearing."""
        return self._push(self.solved.small.heel_N, self.solved.bent_heel_N)

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
        return self._most_bent(self.solved.bent_moment_N_m)

    @property
    def bent_upper_N(self) -> float | None:
        """Force of the upper bearing of the bent mast; None where it found no equilibrium."""
        return self._most_bent(self.solved.bent_partners_N)

    @property
    def bent_lower_N(self) -> float | None:
        """The same of the lower bearing."""
        return self._most_bent(self.solved.bent_heel_N)

    def bent_shear_N(self, below: int) -> float | None:
        """Largest shear in the bent mast below an edge; None where it found no equilibrium."""
        return self._most_bent(self.solved.bent_shear_N[..., :below, :])

    def upper_moment_N_m(self, edge: int) -> float:
        """Moment at the upper bearing, the larger of straight and bent mast."""
        straight = float(np.hypot(*self.across(self.solved.small.moment_N_m))[edge, 0])
        return max(straight, self._most_bent(self.solved.bent_moment_N_m[..., edge, 0]) or 0.0)

    def slope_rad(self, edge: int, *, leans_rad_N: float = 0.0) -> float:
        """Slope against what holds the mast at an edge, the larger of straight and bent mast.

        Parameters
        ----------
        edge : int
            Edge of the mesh.
        leans_rad_N : float
            How far the post under the upper bearing leans after the mast, for every newton on it.
        """
        solved, each = self.solved, self.each
        straight = np.hypot(*solved.small.slope_rad[:, each, edge, 0])
        straight -= np.hypot(*solved.small.partners_N[:, each]) * leans_rad_N
        side, forward, along = solved.bent_tangent[:, each, edge, 0]
        bent = np.arctan2(np.hypot(side, forward), along)
        bent -= np.hypot(*solved.bent_partners_N[:, each]) * leans_rad_N
        larger = np.where(solved.settled[each], np.maximum(straight, bent), straight)
        return max(float(np.max(larger)), 0.0)

    def _most_bent(self, of: Floats) -> float | None:
        return float(np.max(np.hypot(*of[:, self.each]))) if self.settled else None

    def _push(self, straight: Floats, bent: Floats) -> Push:
        settled = self.solved.settled[self.each]
        sizes = np.where(settled, np.hypot(*bent[:, self.each]), 0.0)
        at = int(np.argmax(sizes))
        of, where = straight, self.widest
        if bends := bool(sizes[at] > np.max(np.hypot(*straight[:, self.each]))):
            of, where = bent, self.first + at
        # the engine counts the bearings' forces against the load
        push = -self.model.boat_axes(of)[:, where]
        return Push(float(push[SIDE]), float(push[FORWARD]), "bent" if bends else "straight")

    def across(self, of: Floats) -> Floats:
        """Return (side, forward) of the widest turn in the boat's axes, from what all cases have."""
        return self.model.in_boat_axes(of[:, self.widest], self.widest)
