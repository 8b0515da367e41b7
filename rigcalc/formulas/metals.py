"""Aluminium members: section class by EN 1999-1-1, holes, and design strengths."""

from __future__ import annotations

import numpy as np

from .record import Metre, One, Pascal, Range, formula

_EC9 = "EN 1999-1-1:2007"
_HOLE_SOURCE = "Roark's Formulas for Stress and Strain, Table 17.1, radial hole in a tube; from memory"


_ABOVE_ZERO = "a size, a strength and a factor are positive"


@formula(
    "beta",
    unit="1",
    source=f"{_EC9}, 6.1.4.3, from memory",
    ranges=(Range("D_m/t", lambda D_m, t: D_m / t, 1.0, np.inf, "refuse", _ABOVE_ZERO),),
)
def tube_slenderness(D_m: Metre, t: Metre) -> One:
    """Slenderness of a round tube of mid-wall diameter D_m."""
    return 3 * np.sqrt(D_m / t)


@formula(
    "beta",
    unit="1",
    source=f"{_EC9}, 6.1.4.3, internal part without a gradient, from memory",
    ranges=(Range("b/t", lambda b, t: b / t, 1e-9, np.inf, "refuse", _ABOVE_ZERO),),
)
def flat_part_slenderness(b: Metre, t: Metre) -> One:
    """Slenderness of a flat part of width b held at both edges, pressed evenly."""
    return b / t


@formula(
    "epsilon",
    unit="1",
    source=f"{_EC9}, Table 6.2, from memory",
    ranges=(Range("f_0/f_250", lambda f_250, f_0: f_0 / f_250, 1e-6, np.inf, "refuse", _ABOVE_ZERO),),
)
def strength_parameter(f_250: Pascal, f_0: Pascal) -> One:
    """Yardstick that scales the class limits; f_250 is 250 MPa."""
    return np.sqrt(f_250 / f_0)


@formula(
    "rho_c",
    unit="1",
    source=f"{_EC9}, 6.1.5, Table 6.3, from memory",
    ranges=(
        Range(
            "x/beta_3",
            lambda x, C_1, C_2: 2 * x / (C_1 + np.sqrt(C_1**2 - 4 * C_2)),
            1.0 - 1e-12,
            np.inf,
            "refuse",
            "below the class 3 limit the whole wall counts",
        ),
    ),
)
def local_buckling_factor(x: One, C_1: One, C_2: One) -> One:
    """Share of its thickness that counts in a class 4 wall of slenderness x = beta/epsilon."""
    return C_1 / x - C_2 / x**2


@formula(
    "f_d",
    unit="Pa",
    source=f"{_EC9}, 6.1.3: gamma_M1 1.10 and gamma_M2 1.25, read in TALAT lecture 2301",
    ranges=(
        Range(
            "gamma", lambda gamma, **_: gamma, 1.0, np.inf, "refuse", "a partial factor takes strength away"
        ),
    ),
)
def design_strength(f: Pascal, gamma: One) -> Pascal:
    """Characteristic strength over its partial factor."""
    return f / gamma


_HOLE_WIDTH = Range(
    "w/D", lambda w, D, **_: w / D, 0.0, 0.4 * (1 + 1e-9), "refuse", "the fit ends at a hole of 0.4 D"
)
_HOLE_WALL = Range("d/D", lambda D, d, **_: d / D, 0.0, 0.9, why="the fit is stretched to a thinner wall")


@formula("K_b", unit="1", source=_HOLE_SOURCE, ranges=(_HOLE_WIDTH, _HOLE_WALL))
def hole_bending_factor(w: Metre, D: Metre, d: Metre) -> One:
    """Peak over nominal stress at a round hole of width w in the wall of a bent tube, on the gross section."""
    x, a = w / D, d / D
    return (
        3.0
        + (-6.250 - 0.585 * a + 3.115 * a**2) * x
        + (41.000 - 1.071 * a - 6.746 * a**2) * x**2
        + (-45.000 + 1.389 * a + 13.889 * a**2) * x**3
    )


@formula("K_a", unit="1", source=_HOLE_SOURCE, ranges=(_HOLE_WIDTH,))
def hole_axial_factor(w: Metre, D: Metre, d: Metre) -> One:
    """Peak over nominal stress at a round hole in the wall of a tube under axial force."""
    x, a = w / D, d / D
    return (
        3.0
        + (2.773 + 1.529 * a - 4.379 * a**2) * x
        + (-0.421 - 12.782 * a + 22.781 * a**2) * x**2
        + (16.841 + 16.678 * a - 40.007 * a**2) * x**3
    )


@formula(
    "K_t",
    unit="1",
    source="Roark's Formulas for Stress and Strain, Table 17.1, read in a copy",
    ranges=(_HOLE_WIDTH,),
)
def hole_torsion_factor(w: Metre, D: Metre, d: Metre) -> One:
    """Peak direct stress over nominal shear stress at a round hole in the wall of a twisted tube."""
    x, a = w / D, d / D
    return (
        4.0
        + (-6.793 + 1.133 * a - 0.126 * a**2) * x
        + (38.382 - 7.242 * a + 6.495 * a**2) * x**2
        + (-44.576 - 7.428 * a + 58.656 * a**2) * x**3
    )


@formula("x", unit="1", source=f"{_EC9}, 6.1.5, from memory")
def wall_class_ratio(beta: One, epsilon: One) -> One:
    """Slenderness of a wall over the yardstick of its strength."""
    return beta / epsilon


@formula("f_eff", unit="Pa", source=f"{_EC9}, 6.1.5, from memory: the part of the wall that counts")
def effective_strength(rho_c: One, f: Pascal) -> Pascal:
    """Strength of a class 4 wall on the whole of its thickness."""
    return rho_c * f


@formula("sigma_p", unit="Pa", source="peaks of one place add, each nominal stress times its own factor")
def hole_peak_stress(K_b: One, sigma_b: Pascal, K_a: One, sigma_N: Pascal, K_t: One, tau_T: Pascal) -> Pascal:
    """Peak stress at a hole from bending, axial force and torsion."""
    return K_b * sigma_b + K_a * sigma_N + K_t * tau_T
