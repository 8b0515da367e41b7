"""Fibre laminates: what a ply is made of, how stiff it is, and how strong.

Axis 1 lies along the fibres and 2 across them; theta turns the axis x of the wall into 1.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np

from .record import (
    KgPerM3,
    Metre,
    Newton,
    NewtonMetre,
    One,
    Pascal,
    PerMetre,
    Radian,
    Range,
    Value,
    formula,
)

KgPerM2 = Annotated[Value, "kg/m2"]
PerPascal = Annotated[Value, "1/Pa"]
PerPascal2 = Annotated[Value, "1/Pa2"]

_BOOKKEEPING = "bookkeeping of volume and mass"
_MIXTURE = "rule of mixtures; W. D. Callister, Ex. 16.2, as set in a public companion script, which was read"
_CLT = (
    "classical laminate theory; worked values of NASA RP-1351 (1994), read in public test suites, reproduced"
)
_HILL = "Tsai-Hill; A. K. Kaw, Mechanics of Composite Materials, 2.8, from memory"
_WU = "Tsai-Wu; A. K. Kaw, Mechanics of Composite Materials, 2.8, from memory"
_HASHIN = "Z. Hashin (1980), plane stress, from memory"
_BS4994 = "BS 4994:1987, as applied on a worked design sheet, which was read; the standard was not"

_FRACTION = Range("V_f", lambda V_f, **_: V_f, 0.0, 1.0, "refuse", "it is a share of the volume")
_FRACTIONS = Range(
    "V_f + V_m",
    lambda V_f, V_m, **_: V_f + V_m,
    1e-6,
    1.0 + 1e-9,
    "refuse",
    "fibre, resin and void share the volume",
)
_MASS_FRACTION = Range("psi", lambda psi, **_: psi, 0.0, 1.0, "refuse", "it is a share of the mass")
_SOME_FIBRE = Range("V_f", lambda V_f, **_: V_f, 1e-6, 1.0, "refuse", "there must be some fibre")
_SOME_MASS = Range("psi", lambda psi, **_: psi, 1e-6, 1.0, "refuse", "there must be some fibre")
_STRENGTHS = Range("X_c/X_t", lambda X_t, X_c: X_c / X_t, 1e-6, np.inf, "refuse", "strengths are positive")
_PACKING = Range("V_f", lambda V_f, **_: V_f, -np.inf, 0.75, why="fibres hardly pack closer than this")
_RECIPROCAL = Range(
    "nu_12**2 E_2/E_1",
    lambda nu_12, E_1, E_2, **_: nu_12**2 * E_2 / E_1,
    0.0,
    1.0 - 1e-9,
    "refuse",
    "no material has such a Poisson's ratio",
)
_INTERACTION = Range(
    "f", lambda f, **_: f, -1.0 + 1e-9, 1.0 - 1e-9, "refuse", "the surface of failure must be closed"
)


# ---------------------------------------------------------------- what a ply is made of


@formula("V_f", unit="1", source=_BOOKKEEPING, ranges=(_MASS_FRACTION,))
def fibre_volume_fraction(psi: One, rho_f: KgPerM3, rho_m: KgPerM3) -> One:
    """Share of fibre by volume, from its share by mass."""
    return (psi / rho_f) / (psi / rho_f + (1 - psi) / rho_m)


@formula("psi", unit="1", source=_BOOKKEEPING, ranges=(_FRACTIONS,))
def fibre_mass_fraction(V_f: One, V_m: One, rho_f: KgPerM3, rho_m: KgPerM3) -> One:
    """Share of fibre by mass, from the shares of fibre and resin by volume."""
    return V_f * rho_f / (V_f * rho_f + V_m * rho_m)


@formula("rho", unit="kg/m3", source=_BOOKKEEPING, ranges=(_FRACTIONS,))
def ply_density(V_f: One, V_m: One, rho_f: KgPerM3, rho_m: KgPerM3) -> KgPerM3:
    """Density of a ply of fibre and resin; what is neither is void."""
    return V_f * rho_f + V_m * rho_m


@formula("t", unit="m", source=_BOOKKEEPING, ranges=(_SOME_FIBRE,))
def ply_thickness(W: KgPerM2, rho_f: KgPerM3, V_f: One) -> Metre:
    """Thickness of a ply with a mass W of dry fibre to the area."""
    return W / (rho_f * V_f)


@formula(
    "V_f",
    unit="1",
    source=_BOOKKEEPING,
    ranges=(
        Range(
            "W/(rho_f t)", lambda W, rho_f, t: W / (rho_f * t), 0.0, 1.0, "refuse", "thinner than its fibre"
        ),
    ),
)
def fibre_fraction_of_thickness(W: KgPerM2, rho_f: KgPerM3, t: Metre) -> One:
    """Share of fibre by volume in a ply of measured thickness."""
    return W / (rho_f * t)


@formula("W_m", unit="kg/m2", source=_BOOKKEEPING, ranges=(_SOME_MASS,))
def resin_areal_mass(W: KgPerM2, psi: One) -> KgPerM2:
    """Mass of resin to the area in a ply with a mass W of dry fibre."""
    return W * (1 / psi - 1)


# ---------------------------------------------------------------- stiffness of a ply


@formula(
    "G",
    unit="Pa",
    source="isotropic elasticity",
    ranges=(Range("nu", lambda nu, **_: nu, 0.0, 0.5, "refuse", "Poisson's ratio of an isotropic material"),),
)
def isotropic_shear_modulus(E: Pascal, nu: One) -> Pascal:
    """Shear modulus of a material alike in all directions."""
    return E / (2 * (1 + nu))


@formula("E_1", unit="Pa", source=_MIXTURE, ranges=(_FRACTIONS,))
def mixture_modulus(E_f1: Pascal, E_m: Pascal, V_f: One, V_m: One) -> Pascal:
    """Modulus of a ply along its fibres."""
    return V_f * E_f1 + V_m * E_m


@formula("nu_12", unit="1", source=_MIXTURE, ranges=(_FRACTION,))
def mixture_poisson_ratio(nu_f: One, nu_m: One, V_f: One) -> One:
    """Greater Poisson's ratio of a ply: shrinkage across the fibres for stretch along them."""
    return V_f * nu_f + (1 - V_f) * nu_m


@formula("P", unit="Pa", source=f"{_MIXTURE}; low by a third or so for glass", ranges=(_FRACTION,))
def inverse_rule_modulus(P_f: Pascal, P_m: Pascal, V_f: One) -> Pascal:
    """Modulus of a ply across its fibres, or in shear, by the inverse rule: a low bound."""
    return 1 / (V_f / P_f + (1 - V_f) / P_m)


@formula(
    "P",
    unit="Pa",
    source="Halpin-Tsai, read in the source of a public program; xi = 2 for E_2 and 1 for G_12 from memory (Halpin "
    "and Kardos 1976), 1.5 for E_2 read in the manual of another",
    ranges=(_FRACTION, _PACKING),
)
def halpin_tsai_modulus(P_f: Pascal, P_m: Pascal, V_f: One, xi: One) -> Pascal:
    """Modulus of a ply across its fibres, or in shear, by Halpin-Tsai."""
    eta = (P_f / P_m - 1) / (P_f / P_m + xi)
    return P_m * (1 + xi * eta * V_f) / (1 - eta * V_f)


@formula(
    "P",
    unit="Pa",
    source="C. C. Chamis, NASA TM-83320 (1983), as coded in two public programs, which were read",
    ranges=(_FRACTION,),
)
def chamis_modulus(P_f: Pascal, P_m: Pascal, V_f: One) -> Pascal:
    """Modulus of a ply across its fibres, or in shear, by Chamis."""
    return P_m / (1 - np.sqrt(V_f) * (1 - P_m / P_f))


@formula(
    "E_2", unit="Pa", source="Puck, read in the source of a public program", ranges=(_FRACTION, _PACKING)
)
def puck_transverse_modulus(E_f2: Pascal, E_m: Pascal, nu_m: One, V_f: One) -> Pascal:
    """Modulus of a ply across its fibres by Puck's fit."""
    E_c = E_m / (1 - nu_m**2)
    return E_c * (1 + 0.85 * V_f**2) / ((1 - V_f) ** 1.25 + V_f * E_c / E_f2)


@formula(
    "G_12",
    unit="Pa",
    source="read under Puck's name in the source of a public program; the pair 0.4 and 1.45 is Foerster's and "
    "Puck's own is 0.6 and 1.25, from memory",
    ranges=(_FRACTION, _PACKING),
)
def puck_shear_modulus(G_f: Pascal, G_m: Pascal, V_f: One) -> Pascal:
    """Shear modulus of a ply by the fit of Puck's school."""
    return G_m * (1 + 0.4 * np.sqrt(V_f)) / ((1 - V_f) ** 1.45 + V_f * G_m / G_f)


@formula(
    "X_1t",
    unit="Pa",
    source="NASA TP-2515, as checked in a public test file, which was read; F_f must come from tests of plies",
    ranges=(_FRACTIONS,),
)
def fibre_governed_strength(F_f: Pascal, E_f1: Pascal, E_m: Pascal, V_f: One, V_m: One) -> Pascal:
    """Strength of a ply along its fibres, where they break at a stress F_f."""
    return F_f * (V_f + V_m * E_m / E_f1)


@formula("Q_11", unit="Pa", source=_CLT, ranges=(_RECIPROCAL,))
def reduced_stiffness_11(E_1: Pascal, E_2: Pascal, nu_12: One) -> Pascal:
    """Stiffness of a ply along its fibres with strain across them held."""
    return E_1 / (1 - nu_12**2 * E_2 / E_1)


@formula("Q_22", unit="Pa", source=_CLT, ranges=(_RECIPROCAL,))
def reduced_stiffness_22(E_1: Pascal, E_2: Pascal, nu_12: One) -> Pascal:
    """Stiffness of a ply across its fibres with strain along them held."""
    return E_2 / (1 - nu_12**2 * E_2 / E_1)


@formula("Q_12", unit="Pa", source=_CLT, ranges=(_RECIPROCAL,))
def reduced_stiffness_12(E_1: Pascal, E_2: Pascal, nu_12: One) -> Pascal:
    """Stress along the fibres of a ply for strain across them."""
    return nu_12 * E_2 / (1 - nu_12**2 * E_2 / E_1)


@formula("Qb_11", unit="Pa", source=_CLT)
def turned_stiffness_11(Q_11: Pascal, Q_22: Pascal, Q_12: Pascal, Q_66: Pascal, theta: Radian) -> Pascal:
    """Stiffness along x of a ply turned by theta."""
    m, n = np.cos(theta), np.sin(theta)
    return Q_11 * m**4 + 2 * (Q_12 + 2 * Q_66) * m**2 * n**2 + Q_22 * n**4


@formula("Qb_22", unit="Pa", source=_CLT)
def turned_stiffness_22(Q_11: Pascal, Q_22: Pascal, Q_12: Pascal, Q_66: Pascal, theta: Radian) -> Pascal:
    """Stiffness along y of a ply turned by theta."""
    m, n = np.cos(theta), np.sin(theta)
    return Q_11 * n**4 + 2 * (Q_12 + 2 * Q_66) * m**2 * n**2 + Q_22 * m**4


@formula("Qb_12", unit="Pa", source=_CLT)
def turned_stiffness_12(Q_11: Pascal, Q_22: Pascal, Q_12: Pascal, Q_66: Pascal, theta: Radian) -> Pascal:
    """Stress along x of a turned ply for strain along y."""
    m, n = np.cos(theta), np.sin(theta)
    return (Q_11 + Q_22 - 4 * Q_66) * m**2 * n**2 + Q_12 * (m**4 + n**4)


@formula("Qb_16", unit="Pa", source=_CLT)
def turned_stiffness_16(Q_11: Pascal, Q_22: Pascal, Q_12: Pascal, Q_66: Pascal, theta: Radian) -> Pascal:
    """Stress along x of a turned ply for shear strain."""
    m, n = np.cos(theta), np.sin(theta)
    return (Q_11 - Q_12 - 2 * Q_66) * m**3 * n - (Q_22 - Q_12 - 2 * Q_66) * m * n**3


@formula("Qb_26", unit="Pa", source=_CLT)
def turned_stiffness_26(Q_11: Pascal, Q_22: Pascal, Q_12: Pascal, Q_66: Pascal, theta: Radian) -> Pascal:
    """Stress along y of a turned ply for shear strain."""
    m, n = np.cos(theta), np.sin(theta)
    return (Q_11 - Q_12 - 2 * Q_66) * m * n**3 - (Q_22 - Q_12 - 2 * Q_66) * m**3 * n


@formula("Qb_66", unit="Pa", source=_CLT)
def turned_stiffness_66(Q_11: Pascal, Q_22: Pascal, Q_12: Pascal, Q_66: Pascal, theta: Radian) -> Pascal:
    """Shear stiffness of a ply turned by theta."""
    m, n = np.cos(theta), np.sin(theta)
    return (Q_11 + Q_22 - 2 * Q_12 - 2 * Q_66) * m**2 * n**2 + Q_66 * (m**4 + n**4)


# ---------------------------------------------------------------- strength of a ply


@formula(
    "u",
    unit="1",
    source="definition: stress over the strength of its own sign",
    ranges=(Range("sigma/X", lambda sigma, X: sigma / X, 0.0, np.inf, "refuse", "both have the same sign"),),
)
def stress_index(sigma: Pascal, X: Pascal) -> One:
    """Use of a ply by one stress."""
    return sigma / X


@formula(
    "u",
    unit="1",
    source="definition: strain over the ultimate strain of its own sign",
    ranges=(
        Range(
            "epsilon/epsilon_u",
            lambda epsilon, epsilon_u: epsilon / epsilon_u,
            0.0,
            np.inf,
            "refuse",
            "both have the same sign",
        ),
    ),
)
def strain_index(epsilon: One, epsilon_u: One) -> One:
    """Use of a ply by one strain."""
    return epsilon / epsilon_u


@formula("I_TH", unit="1", source=_HILL)
def tsai_hill_index(sigma_1: Pascal, sigma_2: Pascal, tau_12: Pascal, X: Pascal, Y: Pascal, S: Pascal) -> One:
    """Tsai-Hill sum, 1 at failure; X and Y either all tensile or by the sign of each stress: say which."""
    return (sigma_1 / X) ** 2 - sigma_1 * sigma_2 / X**2 + (sigma_2 / Y) ** 2 + (tau_12 / S) ** 2


@formula("F_i", unit="1/Pa", source=_WU, ranges=(_STRENGTHS,))
def tsai_wu_linear_coefficient(X_t: Pascal, X_c: Pascal) -> PerPascal:
    """Coefficient of a direct stress in the Tsai-Wu sum."""
    return 1 / X_t - 1 / X_c


@formula("F_ii", unit="1/Pa2", source=_WU, ranges=(_STRENGTHS,))
def tsai_wu_square_coefficient(X_t: Pascal, X_c: Pascal) -> PerPascal2:
    """Coefficient of the square of a direct stress in the Tsai-Wu sum; for shear both strengths are S."""
    return 1 / (X_t * X_c)


@formula(
    "F_12",
    unit="1/Pa2",
    source=f"{_WU}; f = -1/2 is the usual choice, 0 the bold one",
    ranges=(_INTERACTION,),
)
def tsai_wu_interaction(F_11: PerPascal2, F_22: PerPascal2, f: One) -> PerPascal2:
    """Coefficient of the product of both direct stresses, from the share f of its bound."""
    return f * np.sqrt(F_11 * F_22)


@formula("b", unit="1", source=_WU)
def tsai_wu_linear_part(sigma_1: Pascal, sigma_2: Pascal, F_1: PerPascal, F_2: PerPascal) -> One:
    """Part of the Tsai-Wu sum that grows as the load."""
    return F_1 * sigma_1 + F_2 * sigma_2


@formula("a", unit="1", source=_WU)
def tsai_wu_square_part(
    sigma_1: Pascal,
    sigma_2: Pascal,
    tau_12: Pascal,
    F_11: PerPascal2,
    F_22: PerPascal2,
    F_12: PerPascal2,
    F_66: PerPascal2,
) -> One:
    """Part of the Tsai-Wu sum that grows as the square of the load."""
    return F_11 * sigma_1**2 + F_22 * sigma_2**2 + 2 * F_12 * sigma_1 * sigma_2 + F_66 * tau_12**2


@formula("I_f", unit="1", source=_HASHIN)
def hashin_fibre_tension_index(sigma_1: Pascal, tau_12: Pascal, X_t: Pascal, S: Pascal) -> One:
    """Hashin's sum for fibres that tear, 1 at failure."""
    return (sigma_1 / X_t) ** 2 + (tau_12 / S) ** 2


@formula(
    "I_m",
    unit="1",
    source="Hashin and Rotem, read in a public program, with Y of either sign; Hashin (1980), from memory, in tension",
)
def matrix_index(sigma_2: Pascal, tau_12: Pascal, Y: Pascal, S: Pascal) -> One:
    """Sum for resin that cracks between the fibres, 1 at failure."""
    return (sigma_2 / Y) ** 2 + (tau_12 / S) ** 2


@formula("a", unit="1", source=_HASHIN)
def hashin_matrix_compression_square_part(sigma_2: Pascal, tau_12: Pascal, S_t: Pascal, S: Pascal) -> One:
    """Part of Hashin's sum for crushed resin that grows as the square of the load."""
    return (sigma_2 / (2 * S_t)) ** 2 + (tau_12 / S) ** 2


@formula("b", unit="1", source=_HASHIN)
def hashin_matrix_compression_linear_part(sigma_2: Pascal, Y_c: Pascal, S_t: Pascal) -> One:
    """Part of Hashin's sum for crushed resin that grows as the load."""
    return ((Y_c / (2 * S_t)) ** 2 - 1) * sigma_2 / Y_c


@formula(
    "u",
    unit="1",
    source="derived: 1/u is the positive root of a x**2 + b x = 1",
    ranges=(Range("a", lambda a, **_: a, 0.0, np.inf, "refuse", "the surface of failure must be closed"),),
)
def linear_use(a: One, b: One) -> One:
    """Use that grows as the load, from the square and linear parts of a criterion."""
    return (b + np.sqrt(b**2 + 4 * a)) / 2


# ---------------------------------------------------------------- time and repetition


@formula(
    "S/S_ult",
    unit="1",
    source="power law; m = 10 for glass and 16.1 for carbon, read in the blade of a public reference turbine",
    ranges=(Range("N", lambda N, **_: N, 1.0, np.inf, "refuse", "there is no part of a cycle"),),
)
def power_fatigue_factor(N: One, m: One) -> One:
    """Share of its strength a laminate keeps for N cycles, by a power law."""
    return N ** (-1 / m)


@formula(
    "S/S_ult",
    unit="1",
    source="linear in log cycles (Mandell), from memory; b about 0.10 for good glass, 0.14 for poor cloth",
    ranges=(
        Range(
            "1 - b log10 N",
            lambda N, b, **_: 1 - b * np.log10(np.fmax(N, 1e-300)),
            0.0,
            1.0,
            "refuse",
            "no life left",
        ),
    ),
)
def log_fatigue_factor(N: One, b: One) -> One:
    """Share of its strength a laminate keeps for N cycles, by a line over the logarithm of cycles."""
    return 1 - b * np.log(N) / np.log(10.0)


@formula(
    "k_4",
    unit="1",
    source=_BS4994,
    ranges=(Range("N", lambda N, **_: N, 1e3, 1e6, why="the line is drawn for this span, from memory"),),
)
def bs4994_cycle_factor(N: One) -> One:
    """Factor for N cycles of load."""
    return 1.1 + 0.9 * (np.log(N) / np.log(10.0) - 3) / 3


@formula(
    "K", unit="1", source=f"{_BS4994}; the leading 3 from memory, confirmed by the product printed there"
)
def bs4994_design_factor(k_1: One, k_2: One, k_3: One, k_4: One, k_5: One) -> One:
    """Factor between ultimate and allowed unit load: making, environment, heat, cycles, cure."""
    return 3 * k_1 * k_2 * k_3 * k_4 * k_5


# ---------------------------------------------------------------- one ply of a strained wall


@formula("epsilon", unit="1", source=f"{_CLT}: strains turned into the axes of the ply")
def ply_strain(a: One, epsilon_x: One, b: One, gamma_x: One, c: Metre, kappa_y: PerMetre) -> One:
    """Strain of a ply in its own axes, from the wall's strain along the mast and in shear and its curvature round it.

    a, b and c are what the ply strains by under a unit of each: they hold the wall's other strains.
    """
    return a * epsilon_x + b * gamma_x + c * kappa_y


@formula("sigma_1", unit="Pa", source=_CLT)
def ply_stress_along(Q_11: Pascal, epsilon_1: One, Q_12: Pascal, epsilon_2: One) -> Pascal:
    """Stress of a ply along its fibres."""
    return Q_11 * epsilon_1 + Q_12 * epsilon_2


@formula("sigma_2", unit="Pa", source=_CLT)
def ply_stress_across(Q_12: Pascal, epsilon_1: One, Q_22: Pascal, epsilon_2: One) -> Pascal:
    """Stress of a ply across its fibres."""
    return Q_12 * epsilon_1 + Q_22 * epsilon_2


@formula("tau_12", unit="Pa", source=_CLT)
def ply_shear_stress(G_12: Pascal, gamma_12: One) -> Pascal:
    """Shear stress of a ply in its own axes."""
    return G_12 * gamma_12


@formula("kappa_y", unit="1/m", source="bending of a plate")
def wall_curvature(m_y: Newton, D_22: NewtonMetre) -> PerMetre:
    """Curvature of a wall bent round the tube by a moment m_y to the length of it."""
    return m_y / D_22


@formula("u", unit="1", source="a sum of squares grows as the square of the load")
def root_use(I: One) -> One:
    """Use that grows as the load, from a criterion that is a sum of squares."""
    return np.sqrt(I)


@formula("u_d", unit="1", source="definition of the factor")
def factored_use(u: One, gamma: One) -> One:
    """Use with the factor on the load."""
    return u * gamma
