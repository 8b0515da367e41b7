"""Fatigue of metal: the S-N curve of EN 1999-1-3, damage of a narrow-band life, and how many cycles it has.

All stresses are RANGES, from the least to the greatest of a cycle. Much that is written on narrow-band
fatigue counts amplitudes, half as large: mixing the two is a slip of 2^m in life.
"""

from __future__ import annotations

import numpy as np

from .record import One, Pascal, Range, Second, formula

_CURVE = "EN 1999-1-3:2007+A1:2011, as coded in a public program, read"
_SLOPE = Range("m", lambda m, **_: m, 1.0, 12.0, "refuse", "the slope of no metal lies outside")
_MANY = Range(
    "N", lambda N, **_: N, 100.0, np.inf, "refuse", "the largest of fewer cycles is not told by their spread"
)


@formula(
    "Delta_sigma_N",
    unit="Pa",
    source=f"S-N curve of one slope; its shape from {_CURVE}",
    ranges=(_SLOPE,),
)
def curve_range(S_C: Pascal, N_C: One, N: One, m: One) -> Pascal:
    """Stress range borne N times, by a curve through the range S_C at N_C cycles."""
    return S_C * (N_C / N) ** (1 / m)


@formula("N_i", unit="1", source=f"S-N curve of one slope; its shape from {_CURVE}", ranges=(_SLOPE,))
def cycles_borne(S_C: Pascal, N_C: One, S: Pascal, m: One) -> One:
    """Cycles of a stress range S to failure, by a curve through the range S_C at N_C cycles."""
    return N_C * (S_C / S) ** m


@formula("m_2", unit="1", source=f"{_CURVE}: 5.4 follows 3.4")
def slope_past_the_knee(m: One) -> One:
    """Slope of the S-N curve between its knee and its cut-off."""
    return m + 2


@formula(
    "D_i", unit="1", source="Palmgren and Miner: shares of life add up; EN 1999-1-3, read in public code"
)
def miner_term(n: One, N: One) -> One:
    """Share of the life used up by n cycles of a kind of which N lead to failure."""
    return n / N


@formula(
    "Delta_sigma_d",
    unit="Pa",
    source="EN 1999-1-3: category over the partial factor gamma_Mf, from memory",
    ranges=(
        Range(
            "gamma", lambda gamma, **_: gamma, 1.0, np.inf, "refuse", "a partial factor takes strength away"
        ),
    ),
)
def design_category(S_C: Pascal, gamma: One) -> Pascal:
    """Stress range of a detail at two million cycles, over its partial factor."""
    return S_C / gamma


@formula(
    "Delta_sigma",
    unit="Pa",
    source="definition of the stress ratio, least over greatest stress of a cycle",
    ranges=(
        Range(
            "R", lambda R, **_: R, -1.0, 1.0, "refuse", "the greatest stress is the one farthest from zero"
        ),
    ),
)
def stress_range(sigma: Pascal, R: One) -> Pascal:
    """Range of a cycle of greatest stress sigma and stress ratio R."""
    return sigma * (1 - R)


@formula("N", unit="1", source="one cycle of stress to every roll")
def cycles_at_sea(d: One, t_d: Second, T: Second) -> One:
    """Cycles in d days of time t_d each at sea, rolling with period T."""
    return d * t_d / T


@formula(
    "sigma_rms",
    unit="Pa",
    source="derived: of N Rayleigh ranges one exceeds S, exp(-S^2/(8 sigma^2)) = 1/N; as Longuet-Higgins "
    "1952, from memory",
    ranges=(_MANY,),
)
def rms_of_largest(S: Pascal, N: One) -> Pascal:
    """Root-mean-square stress about its mean of a narrow-band life whose largest of N ranges is S."""
    return S / (2 * np.sqrt(2) * np.sqrt(np.log(N)))


@formula(
    "D",
    unit="1",
    source="Miner's sum over Rayleigh ranges, 2 sqrt(2) sigma in ranges for sqrt(2) sigma in amplitudes; "
    "amplitude form read in a handbook of a finite-element program and in the public package FLife",
    ranges=(_SLOPE,),
)
def narrow_band_damage(n: One, S_C: Pascal, N_C: One, sigma: Pascal, m: One, g: One) -> One:
    """Damage of n narrow-band cycles of root-mean-square stress sigma along one slope of an S-N curve.

    g is the gamma function of 1 + m/2; for a stretch of the curve from range a to range b it is the part
    of that integral between a^2/(8 sigma^2) and b^2/(8 sigma^2).
    """
    return n / N_C * (2 * np.sqrt(2) * sigma / S_C) ** m * g


@formula("D", unit="1", source="Palmgren and Miner: shares of life add up; EN 1999-1-3, read in public code")
def miner_sum(D_1: One, D_2: One) -> One:
    """Share of the life used up along both slopes of an S-N curve; 1 at the end of it."""
    return D_1 + D_2
