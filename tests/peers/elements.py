"""A finite-element mast of its own: Hermite cubics, with stiffness, mass and thrust integrated as they vary.

It moves by displacements where the package integrates forces, and finds frequencies and the thrust of instability as
eigenvalues of assembled matrices (``scipy.linalg.eigh``). Their error falls as the fourth power of an element's length:
2 (p + 1 - m) with cubics, p = 3, and second derivatives, m = 2 (Strang and Fix, from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import numpy as np
from scipy.linalg import eigh

from .masts import Floats, G, Mast

ORDER = 4
POINTS, WEIGHTS = np.polynomial.legendre.leggauss(8)


def _shapes(h: float) -> tuple[Floats, Floats, Floats]:
    """Return the four cubics of an element, their first and second derivatives, at the Gauss points."""
    s = (1 + POINTS) / 2
    N = np.array([1 - 3 * s**2 + 2 * s**3, h * (s - 2 * s**2 + s**3), 3 * s**2 - 2 * s**3, h * (s**3 - s**2)])
    B = np.array([6 * s**2 - 6 * s, h * (1 - 4 * s + 3 * s**2), 6 * s - 6 * s**2, h * (3 * s**2 - 2 * s)]) / h
    C = np.array([12 * s - 6, h * (6 * s - 4), 6 - 12 * s, h * (6 * s - 2)]) / h**2
    return N, B, C


def _assemble(z: list[float], of: Callable[[Floats, float], Floats], which: int) -> Floats:
    matrix = np.zeros((2 * len(z), 2 * len(z)))
    for i, (low, high) in enumerate(pairwise(z)):
        h = high - low
        f = _shapes(h)[which]
        at = low + h * (1 + POINTS) / 2
        matrix[2 * i : 2 * i + 4, 2 * i : 2 * i + 4] += (
            f * (of(at, (low + high) / 2) * WEIGHTS * h / 2)
        ) @ f.T
    return matrix


def _held(mast: Mast, z: list[float], K: Floats) -> list[int]:
    """Add springs to a stiffness, or return what rigid bearings leave free."""
    at = [0, 2 * z.index(mast.bury)]
    if mast.stiffness is None:
        return [i for i in range(len(K)) if i not in at]
    for i, k in zip(at, mast.stiffness, strict=True):
        K[i, i] += k
    return list(range(len(K)))


def frequencies(mast: Mast, z: list[float], *, count: int = 2) -> Floats:
    """Return the lowest frequencies in Hz."""
    K, M = _assemble(z, mast.EI, 2), _assemble(z, mast.mass, 0)
    kg, height = mast.fittings
    M[2 * z.index(height), 2 * z.index(height)] += kg
    return np.asarray(1 / np.sqrt(_greatest(M, K, _held(mast, z, K), count)) / (2 * np.pi))


def thrust_factor(mast: Mast, z: list[float], thrust: Callable[[Floats, float], Floats]) -> float:
    """Return the factor on a thrust along the mast at which it becomes unstable."""
    K, Kg = _assemble(z, mast.EI, 2), _assemble(z, thrust, 1)
    return float(1 / _greatest(Kg, K, _held(mast, z, K), 1)[0])


def _greatest(of: Floats, K: Floats, free: list[int], count: int) -> Floats:
    """Return the greatest eigenvalues against a stiffness, greatest first.

    Sought this way round, and with a stiffness of ones along the diagonal, they lose fewest digits.
    """
    scale = 1 / np.sqrt(np.diag(K))
    rows = np.ix_(free, free)
    unit, n = np.outer(scale, scale)[rows], len(free)
    found = eigh(of[rows] * unit, K[rows] * unit, eigvals_only=True, subset_by_index=[n - count, n - 1])
    return np.asarray(found[::-1])


def own_weight(mast: Mast) -> Callable[[Floats, float], Floats]:
    """Return the compression of an upright mast by its weight, its fittings and what presses on its tip."""
    z = mast.kinks
    middles = [(a + b) / 2 for a, b in pairwise(z)]

    def weight(low: float, high: float, inside: float) -> float:
        at = low + (high - low) * (1 + POINTS) / 2
        return float(np.sum(mast.mass(at, inside) * WEIGHTS) * (high - low) / 2 * G)

    whole = [weight(a, b, m) for (a, b), m in zip(pairwise(z), middles, strict=True)]

    def at(heights: Floats, inside: float) -> Floats:
        i = int(np.searchsorted(z, inside)) - 1
        above = (
            sum(whole[i + 1 :]) + mast.axial + (mast.fittings[0] * G if mast.fittings[1] > inside else 0.0)
        )
        return np.array([above + weight(float(h), z[i + 1], inside) for h in heights])

    return at
