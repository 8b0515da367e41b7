"""Buckling of a round laminated tube's wall, over every pattern of waves."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ...formulas.laminate_tubes import cylinder_mode_load
from ..metals import MaterialError
from .walls import Floats, Stiffness

# Waves along the tube, over those of ring-shaped buckles: from flutes to ripples.
_LONGEST, _SHORTEST, _STEPS = 1e-3, 4.0, 240
# Each zoom narrows one step of the search to a fortieth.
_ZOOMS, _ZOOM_STEPS = 3, 41


@dataclass(frozen=True)
class CylinderBuckling:
    """Buckling of a perfect cylinder in axial compression, before any knock-down.

    Parameters
    ----------
    line_load_N_m : ndarray, shape (...)
        Lowest line load over all patterns.
    waves_round : ndarray of int, shape (...)
        Full waves round the tube; 0 for rings.
    half_wave_m : ndarray, shape (...)
        Length of a half wave along it.
    """

    line_load_N_m: Floats
    waves_round: NDArray[np.intp]
    half_wave_m: Floats


def cylinder_buckling(
    stiffness: Stiffness, *, radius_m: ArrayLike, length_m: float = np.inf
) -> CylinderBuckling:
    """Return the line load at which the wall of a tube buckles in the worst pattern of waves.

    The closed forms for rings and for flutes are two of these patterns; between them a wall that is soft in
    shear has lower ones. Coupling of stretch with shear and of bending with twist (A16, A26, B16, B26, D16,
    D26) is left out, so the wall must be balanced. The equations are Donnell's: with 2 or 3 waves round they
    are some way on the high side, and flattening must be checked by itself.

    Parameters
    ----------
    stiffness : Stiffness
        Of the wall.
    radius_m : array_like
        Mean radius; broadcasts against the walls.
    length_m : float
        Length between ends or rings held round, if half waves cannot be longer.

    Raises
    ------
    MaterialError
        If the radius or the length is not above zero.
    """
    r = np.asarray(radius_m, dtype=float)
    if not (np.all((r > 0.0) & np.isfinite(r)) and length_m > 0.0):
        raise MaterialError("wall", "a tube has a radius and a length above zero", "Give both in metres.")
    A, B, D = stiffness.A_N_m, stiffness.B_N, stiffness.D_N_m
    ring = (A[..., 1, 1] / D[..., 0, 0] / r**2) ** 0.25
    terms = {
        f"{letter}_{row + 1}{column + 1}".replace("33", "66"): matrix[..., row, column][..., None, None]
        for letter, matrix in (("A", A), ("B", B), ("D", D))
        for row, column in ((0, 0), (0, 1), (1, 1), (2, 2))
    }
    r, ring = np.broadcast_arrays(r, ring)
    # round the tube waves hardly come shorter than twice the ring-shaped ones
    most = int(np.ceil(np.max(2 * ring * r))) + 4
    waves = np.array([0, *range(2, most + 1)])
    longest = np.maximum(ring[..., None, None] * _LONGEST, np.pi / length_m)
    shortest = np.maximum(ring[..., None, None] * _SHORTEST, longest * _SHORTEST)
    k_y = waves[:, None] / r[..., None, None]
    radius = r[..., None, None]

    low, high = np.log(longest), np.log(shortest)
    low, high = np.broadcast_to(low, k_y.shape), np.broadcast_to(high, k_y.shape)
    steps = _STEPS
    for _ in range(1 + _ZOOMS):
        spread = np.linspace(0.0, 1.0, steps)
        k_x = np.exp(low + (high - low) * spread)
        load = cylinder_mode_load(**terms, k_x=k_x, k_y=k_y, r=radius)
        at = np.argmin(load, axis=-1)[..., None]
        floor, width = low, (high - low) / (steps - 1)
        low = floor + width * np.maximum(at - 1, 0)
        high = floor + width * np.minimum(at + 1, steps - 1)
        steps = _ZOOM_STEPS
    best = np.take_along_axis(load, at, axis=-1)[..., 0]
    wave = np.take_along_axis(k_x, at, axis=-1)[..., 0]
    pattern = np.argmin(best, axis=-1)[..., None]
    return CylinderBuckling(
        line_load_N_m=np.asarray(np.take_along_axis(best, pattern, axis=-1)[..., 0]),
        waves_round=waves[pattern[..., 0]],
        half_wave_m=np.asarray(np.pi / np.take_along_axis(wave, pattern, axis=-1)[..., 0]),
    )


def long_cylinder_load(stiffness: Stiffness) -> Floats:
    """Return the lowest line load of a long tube times its radius, whatever the radius.

    The equations are those of `cylinder_buckling`. Their waves scale with the root of the radius where any
    number of them may stand round the tube, not whole ones alone; leaving it free is the safe side, and gives
    tubes of all radii one number.

    Parameters
    ----------
    stiffness : Stiffness
        Of the wall.
    """
    A, B, D = stiffness.A_N_m, stiffness.B_N, stiffness.D_N_m
    terms = {
        f"{letter}_{row + 1}{column + 1}".replace("33", "66"): matrix[..., row, column][..., None, None]
        for letter, matrix in (("A", A), ("B", B), ("D", D))
        for row, column in ((0, 0), (0, 1), (1, 1), (2, 2))
    }
    # at a radius of 1 m; rings are asked by themselves, at their own wave where the wall is symmetric
    held = A[..., 1, 1] - A[..., 0, 1] ** 2 / A[..., 0, 0]
    ring = ((held / D[..., 0, 0]) ** 0.25)[..., None]
    rings = ring * np.append(np.geomspace(_LONGEST, _SHORTEST, _STEPS), 1.0)
    lowest = np.min(cylinder_mode_load(**terms, k_x=rings[..., None], k_y=0.0, r=1.0), axis=(-2, -1))
    spans = [(np.log(ring * _LONGEST), np.log(ring * _SHORTEST))] * 2
    steps = _STEPS
    for _ in range(1 + _ZOOMS):
        along, round_it = (np.exp(low + (high - low) * np.linspace(0.0, 1.0, steps)) for low, high in spans)
        load = cylinder_mode_load(**terms, k_x=along[..., :, None], k_y=round_it[..., None, :], r=1.0)
        flat = load.reshape(*load.shape[:-2], -1)
        best = np.argmin(flat, axis=-1)[..., None]
        lowest = np.minimum(lowest, np.take_along_axis(flat, best, axis=-1)[..., 0])
        spans = [
            _narrowed(span, at, steps) for span, at in zip(spans, (best // steps, best % steps), strict=True)
        ]
        steps = _ZOOM_STEPS
    return np.asarray(lowest)


def _narrowed(span: tuple[Floats, Floats], at: NDArray[np.intp], steps: int) -> tuple[Floats, Floats]:
    """Return a span closed in on one of its steps."""
    low, high = span
    step = (high - low) / (steps - 1)
    return low + step * np.maximum(at - 1, 0), low + step * np.minimum(at + 1, steps - 1)
