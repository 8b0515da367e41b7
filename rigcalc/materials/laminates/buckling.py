"""Buckling of a round laminated tube's wall, over every pattern of waves."""

from __future__ import annotations

import math
from itertools import zip_longest

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ...formulas.laminate_tubes import cylinder_mode_load
from ...frozen import dataclass
from ..metals import MaterialError
from .walls import Floats, Stiffness

# Waves along the tube, over those of ring-shaped buckles: from flutes to ripples.
_LONGEST, _SHORTEST, _STEPS = 1e-3, 4.0, 240
# Each zoom narrows one step of the search to a fortieth.
_ZOOMS, _ZOOM_STEPS = 3, 41
# Of long tubes the shape of the waves is searched, whose zooms narrow a step to an eighth.
_SHAPES, _NEAR = 121, 17


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

    With the shape s of the waves given, (k_y/k_x)**2, the load is a p + b / p + c in p = k_x**2, so that the best
    length of them is known and the shape alone is searched, from rings to flutes, in even steps of its
    logarithm. The two lowest troughs are closed in on, and a parabola through the last three steps takes the
    load to rounding, or to a part in ten million on the edge of the waves looked at, always on the high side.

    Parameters
    ----------
    stiffness : Stiffness
        Of the wall.
    """
    A, D = stiffness.A_N_m, stiffness.D_N_m
    by_shape = _ByShape.of(stiffness)
    # at a radius of 1 m
    ring = ((A[..., 1, 1] - A[..., 0, 1] ** 2 / A[..., 0, 0]) / D[..., 0, 0]) ** 0.5
    low, high = (ring[..., None] * wave**2 for wave in (_LONGEST, _SHORTEST))
    rings = by_shape.load(np.zeros_like(low), low, high)[..., 0]

    def load(shape: Floats) -> Floats:
        s = np.exp(shape)
        return by_shape.load(s, np.maximum(low, low / s), np.minimum(high, high / s))

    widest = 2 * math.log(_SHORTEST / _LONGEST)
    evenly = np.linspace(-widest, widest, _SHAPES)
    loads = load(evenly)
    steps = np.broadcast_to(evenly, loads.shape)
    lowest = np.minimum(rings, np.min(loads, axis=-1))
    for trough in _troughs(loads):
        near, near_loads = steps, loads
        for _ in range(_ZOOMS):
            first, last = (
                np.take_along_axis(near, np.clip(trough + side, 0, near.shape[-1] - 1), axis=-1)
                for side in (-1, 1)
            )
            near = first + (last - first) * np.linspace(0.0, 1.0, _NEAR)
            near_loads = load(near)
            trough = np.argmin(near_loads, axis=-1)[..., None]
        lowest = np.minimum(lowest, np.min(near_loads, axis=-1))
        lowest = np.minimum(lowest, load(_vertex(near, near_loads, trough))[..., 0])
    return np.asarray(lowest)


@dataclass(frozen=True)
class _ByShape:
    """Polynomials of s = (k_y/k_x)**2, lowest power first, all times the determinant of the membrane.

    With p = k_x**2 the load at a radius of 1 m is (bending p + membrane / p + coupled) / determinant: that of
    `cylinder_mode_load`, sorted by powers of k_x.
    """

    bending: list[Floats]
    membrane: Floats
    coupled: list[Floats]
    determinant: list[Floats]

    @classmethod
    def of(cls, stiffness: Stiffness) -> _ByShape:
        (A_11, A_12, A_22, A_66), (B_11, B_12, B_22, B_66), (D_11, D_12, D_22, D_66) = (
            (M[..., 0, 0], M[..., 0, 1], M[..., 1, 1], M[..., 2, 2])
            for M in (stiffness.A_N_m, stiffness.B_N, stiffness.D_N_m)
        )
        none, twist = np.zeros_like(A_11), B_12 + 2 * B_66
        along, round_it, across = [A_11, A_66], [A_66, A_22], A_12 + A_66
        determinant = _less(_times(along, round_it), [none, across**2])
        # what stretches as it bends, along and round
        u, v = [B_11, twist], [twist, B_22]
        held = _sum(
            _times(round_it, _times(u, u)),
            [none, *_times([-2 * across], _times(u, v))],
            [none, *_times(along, _times(v, v))],
        )
        stretched = _sum(
            _times([A_12], _times(round_it, u)),
            [none, *_times([-across], _sum(_times([A_12], v), _times([A_22], u)))],
            [none, *_times([A_22], _times(along, v))],
        )
        return cls(
            bending=_less(_times([D_11, 2 * (D_12 + 2 * D_66), D_22], determinant), held),
            membrane=A_66 * (A_11 * A_22 - A_12**2),
            coupled=_times([none + 2.0], _less(_times([B_12, B_22], determinant), stretched)),
            determinant=determinant,
        )

    def load(self, s: Floats, low: Floats, high: Floats) -> Floats:
        """Return the least load with p between two bounds, for several s on the last axis."""
        bending, coupled, determinant = (
            _value(of, s) for of in (self.bending, self.coupled, self.determinant)
        )
        membrane = self.membrane[..., None]
        p = np.clip(np.sqrt(membrane / bending), low, high)
        return np.asarray((bending * p + membrane / p + coupled) / determinant)


def _times(one: list[Floats], other: list[Floats]) -> list[Floats]:
    found = [np.zeros_like(one[0])] * (len(one) + len(other) - 1)
    for i, a in enumerate(one):
        for j, b in enumerate(other):
            found[i + j] = found[i + j] + a * b
    return found


def _sum(*several: list[Floats]) -> list[Floats]:
    return [np.asarray(sum(terms)) for terms in zip_longest(*several, fillvalue=np.zeros(()))]


def _less(one: list[Floats], other: list[Floats]) -> list[Floats]:
    return _sum(one, [-term for term in other])


def _value(of: list[Floats], s: Floats) -> Floats:
    found = of[-1][..., None]
    for term in reversed(of[:-1]):
        found = found * s + term[..., None]
    return found


def _troughs(loads: Floats) -> list[NDArray[np.intp]]:
    """Return the places of the two lowest values that no neighbour undercuts; twice the same where there is one."""
    beyond = np.full_like(loads[..., :1], np.inf)
    sides = np.concatenate([beyond, loads, beyond], axis=-1)
    lowest = np.where((loads <= sides[..., :-2]) & (loads <= sides[..., 2:]), loads, np.inf)
    first = np.argmin(lowest, axis=-1)[..., None]
    others = lowest.copy()
    np.put_along_axis(others, first, np.inf, axis=-1)
    return [first, np.argmin(others, axis=-1)[..., None]]


def _vertex(x: Floats, y: Floats, at: NDArray[np.intp]) -> Floats:
    """Return where a parabola through the values beside a place is lowest; the place itself where it is not bent."""
    at = np.clip(at, 1, x.shape[-1] - 2)
    (x_0, x_1, x_2), (y_0, y_1, y_2) = (
        [np.take_along_axis(of, at + side, axis=-1) for side in (-1, 0, 1)] for of in (x, y)
    )
    bend = y_0 - 2 * y_1 + y_2
    step = (x_2 - x_0) / 2
    off = np.divide(y_0 - y_2, 2 * bend, out=np.zeros_like(bend), where=bend > 0.0)
    return np.asarray(x_1 + step * np.clip(off, -1.0, 1.0))
