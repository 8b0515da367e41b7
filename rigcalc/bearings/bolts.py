"""A group of bolts under a force and a couple in their plane, and a moment that lifts one side.

Bolts and flange are taken as alike and stiff beside what they hold. x is forward and y to leeward, as for the mast;
a couple is positive from x towards y.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..frozen import dataclass

Floats = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class BoltForces:
    """What each bolt bears.

    Parameters
    ----------
    shear_N : ndarray, shape (2, bolts)
        Forward and to leeward.
    tension_N : ndarray, shape (bolts,)
        Along the bolt; below zero where the flange presses instead.
    """

    shear_N: Floats
    tension_N: Floats

    @property
    def worst_shear_N(self) -> float:
        return float(np.max(np.hypot(*self.shear_N)))

    @property
    def worst_tension_N(self) -> float:
        """Greatest tension; none where the flange presses everywhere."""
        return float(max(np.max(self.tension_N), 0.0))


def bolt_forces(
    forward_m: ArrayLike,
    side_m: ArrayLike,
    *,
    force_N: tuple[float, float],
    at_m: tuple[float, float],
    lifting_N_m: tuple[float, float] = (0.0, 0.0),
    uplift_N: float = 0.0,
) -> BoltForces:
    """Return the forces of a group of bolts.

    Parameters
    ----------
    forward_m, side_m : array_like
        Where the bolts are.
    force_N : tuple of float
        Side force on the group, forward and to leeward.
    at_m : tuple of float
        Where in their plane it acts.
    lifting_N_m : tuple of float
        Moments of forces forward and to leeward that act above the plane; each lifts the side it comes from. The
        flange turns about the middle of the group.
    uplift_N : float
        Force off the deck.

    Raises
    ------
    ValueError
        If the bolts do not hold what is asked of them.
    """
    places = np.stack([np.asarray(forward_m, dtype=float), np.asarray(side_m, dtype=float)])
    count, middle = places.shape[1], np.mean(places, axis=1)
    arm = places - middle[:, None]
    spread = float(np.sum(arm**2))
    if count < 2 or spread == 0.0:
        raise ValueError("bolts at one place hold no couple")
    lever = np.array(at_m) - middle
    couple = float(lever[0] * force_N[1] - lever[1] * force_N[0])
    across = np.stack([-arm[1], arm[0]])
    shear = np.array(force_N)[:, None] / count + couple * across / spread
    moment = np.array(lifting_N_m)
    tension = np.full(count, uplift_N / count)
    if np.any(moment != 0.0):
        second = arm @ arm.T
        if np.linalg.matrix_rank(second, tol=1e-9 * spread) < 2:
            raise ValueError("bolts in one line hold no moment across it")
        tension = tension - np.linalg.solve(second, moment) @ arm
    return BoltForces(shear_N=shear, tension_N=tension)
