"""The wall of a tube bent round by any pattern of radial forces, held by the shear flow of the tube as a beam.

Each line of force has the closed solution of a thin ring; they add up. Angles count from the direction that the
mast is pressed against, so that a bush with contact from -psi to psi presses there.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..formulas import Working
from ..formulas.rings import ring_compression_at, ring_moment_at, ring_wall_stress
from ..frozen import dataclass
from ..stretches import distinct

Floats = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class RingBending:
    """Bending round the wall.

    Parameters
    ----------
    angle_rad : ndarray
        Places round the wall.
    moment_N : ndarray
        Moment to the length of tube; positive where it flattens the wall.
    compression_N_m : ndarray
        Compression round the wall, to the length of tube.
    """

    angle_rad: Floats
    moment_N: Floats
    compression_N_m: Floats

    @property
    def worst_moment_N(self) -> float:
        """The greatest moment, either way."""
        return float(np.max(np.abs(self.moment_N)))

    def worst_stress_Pa(self, wall_m: float, factor: float = 1.0) -> float:
        """Return the greatest stress round the wall, bending and compression added at their worst face.

        Parameters
        ----------
        wall_m : float
            Thickness.
        factor : float
            On the moment, for a thick wall or a share taken by a sleeve.
        """
        face = ring_wall_stress(m=np.abs(self.moment_N) * factor, n=np.abs(self.compression_N_m), t=wall_m)
        return float(np.max(face))


def ring_bending(
    angle_rad: ArrayLike,
    force_N: ArrayLike,
    *,
    length_m: float,
    radius_m: float,
    working: Working,
    places: int = 720,
) -> RingBending:
    """Return the bending of the wall under radial forces, inwards positive.

    Parameters
    ----------
    angle_rad, force_N : array_like
        Places and sizes of the forces; they need not balance, the shear flow does that.
    length_m : float
        Length of tube that bends with them.
    radius_m : float
        Mean radius of the wall.
    working : Working
        Keeps the steps.
    places : int
        Number of places looked at, beside those of the forces.
    """
    at = np.atleast_1d(np.asarray(angle_rad, dtype=float))
    lines = np.atleast_1d(np.asarray(force_N, dtype=float)) / length_m
    around = np.concatenate([2 * np.pi * np.arange(places) / places, np.mod(at, 2 * np.pi)])
    around = distinct(around)
    away = np.mod(around[:, None] - at, 2 * np.pi)
    moment = working.use(ring_moment_at, where="wall of the tube", theta=away, W=lines, R=radius_m)
    pressed = working.use(ring_compression_at, where="wall of the tube", theta=away, W=lines)
    return RingBending(
        angle_rad=around, moment_N=np.sum(moment, axis=1), compression_N_m=np.sum(pressed, axis=1)
    )


def pressure_lines(force_N: float, *, half_angle_rad: float, lines: int = 400) -> tuple[Floats, Floats]:
    """Return angles and forces that stand for a bush touched from -half_angle to half_angle.

    The pressure is that of a bush square to the mast, as cos(theta) less cos(half_angle).
    """
    if not 0 < half_angle_rad <= np.pi / 2:
        raise ValueError(f"a bush is not touched over {half_angle_rad} rad to each side")
    angle = half_angle_rad * ((np.arange(lines) + 0.5) / lines * 2 - 1)
    pressure = np.cos(angle) - np.cos(half_angle_rad)
    return angle, force_N * pressure / np.sum(pressure * np.cos(angle))
