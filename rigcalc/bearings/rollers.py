"""How a ring of rollers shares the force of a mast: by the load integral, and roller by roller."""

from __future__ import annotations

import numpy as np

LINE_EXPONENT = 10 / 9
"""Force over approach of a line contact to this power; 3/2 for balls. NSK, Rolling Bearings, CAT. E728g, read."""
_ANGLES = 4001
_ROUNDS = 200


def load_integral(zone: float, exponent: float = LINE_EXPONENT) -> float:
    """Return Stribeck's J_r, so that the largest roller bears F/(Z J_r).

    Parameters
    ----------
    zone : float
        How much of the diameter bears: 0.5 without clearance, less with it.
    exponent : float
        Of the contact.

    Notes
    -----
    J_r = (1/2pi) times the integral of [1 - (1 - cos psi)/(2 zone)]^n cos psi where the bracket is positive; NSK,
    CAT. E728g, section 5.1: 4.08 (lines) and 4.37 (balls) at 0.5.
    """
    psi = np.linspace(-np.pi, np.pi, _ANGLES)
    share = np.maximum(1 - (1 - np.cos(psi)) / (2 * zone), 0.0) ** exponent
    return float(np.trapezoid(share * np.cos(psi), psi) / (2 * np.pi))


def largest_by_integral(
    force_N: float, *, count: int, clearance_m: float, stiffness_N_m: float, exponent: float = LINE_EXPONENT
) -> float:
    """Return the load of the hardest pressed roller by the load integral.

    Parameters
    ----------
    force_N : float
        Of the mast.
    count : int
        Rollers.
    clearance_m : float
        Diametral.
    stiffness_N_m : float
        Load of one roller that brings mast and race one metre nearer: its approach is taken as linear to find
        how far the load zone shrinks.
    exponent : float
        Of the contact.

    Notes
    -----
    The mast moves by half the clearance and the approach of the largest; the zone is the approach over twice
    that. Found by bisection on the approach, which has one answer: the force grows with it.
    """
    if force_N <= 0.0:
        return 0.0

    def carried(approach: float) -> float:
        zone = 0.5 * approach / (approach + clearance_m / 2)
        return stiffness_N_m * approach * count * load_integral(zone, exponent)

    low, high = 0.0, force_N / stiffness_N_m
    while carried(high) < force_N:
        high *= 2
    for _ in range(_ROUNDS):
        middle = (low + high) / 2
        low, high = (middle, high) if carried(middle) < force_N else (low, middle)
        if high - low <= 1e-12 * high:
            break
    return stiffness_N_m * high


def largest_by_position(
    force_N: float, *, count: int, clearance_m: float, stiffness_N_m: float, exponent: float = LINE_EXPONENT
) -> float:
    """Return the load of the hardest pressed roller, roller by roller, with one of them straight under the load.

    Parameters
    ----------
    force_N, count, clearance_m, stiffness_N_m, exponent
        As for `largest_by_integral`.

    Notes
    -----
    Rollers stand at equal angles; the mast moves until their pushes balance the force. With few rollers and
    much clearance only one bears, and its load is the force.
    """
    if force_N <= 0.0:
        return 0.0
    psi = 2 * np.pi * np.arange(count) / count
    cos = np.cos(psi)

    def loads(approach: float) -> np.ndarray:
        moved = approach + clearance_m / 2
        near = np.maximum(moved * cos - clearance_m / 2, 0.0) / approach
        return np.asarray(stiffness_N_m * approach * near**exponent)

    low, high = 0.0, 2 * force_N / stiffness_N_m
    for _ in range(_ROUNDS):
        middle = (low + high) / 2
        short = float(np.sum(loads(middle) * cos)) < force_N
        low, high = (middle, high) if short else (low, middle)
        if high - low <= 1e-12 * high:
            break
    return float(np.max(loads(high)))
