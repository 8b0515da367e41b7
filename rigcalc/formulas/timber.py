"""Timber: what moisture, time, heat, grain and size do to wood, and the stresses and interactions of spars.

Moisture is a fraction of the oven-dry mass. Slopes and shares are plain numbers.
"""

from __future__ import annotations

import numpy as np

from .record import (
    KgPerM3,
    Metre,
    Metre2,
    Metre3,
    Newton,
    NewtonM2,
    NewtonMetre,
    One,
    Pascal,
    Radian,
    Range,
    Second,
    formula,
)

_WH5 = "Wood Handbook, FPL-GTR-282 (2021), ch. 5"
_WH9 = "Wood Handbook, FPL-GTR-282 (2021), ch. 9"
_COPY = "read in a copy"
_ANC = "ANC-18, Design of Wood Aircraft Structures (1944)"
_EC5 = "EN 1995-1-1"
_NDS = "NDS 2018"
_EXAMPLES = "read through published examples"

_SMALL_SLOPE = Range(
    "alpha", lambda alpha, **_: alpha, 0.0, np.radians(25.0), why="the handbook stops at slopes of 25 degrees"
)
_BORE = Range("k", lambda k, **_: k, 0.0, 1.0, "refuse", "k is the bore over the outside diameter")
_WEIBULL = Range("m", lambda m, **_: m, 5.0, 50.0, why="the handbook's exponent for bending is 18")
_NOT_OVER_EULER = Range(
    "f_c/F_cE", lambda f_c, F_cE, **_: f_c / F_cE, -np.inf, 1.0 - 1e-9, "refuse", "the column buckles there"
)


@formula(
    "P",
    unit="Pa",
    source=f"{_WH5}, Eq. 5-3, p. 5-34, {_COPY}",
    ranges=(
        Range("M_p", lambda M_p, **_: M_p, 0.15, 0.35, "refuse", "species lie between 21 and 28 %"),
        Range("M/M_p", lambda M, M_p, **_: M / M_p, 0.0, 1.0, "refuse", "above M_p wood is as when green"),
        Range(
            "M", lambda M, **_: M, 0.08, np.inf, why="drier wood need not go on growing stronger; from memory"
        ),
    ),
)
def moisture_adjusted(P_12: Pascal, P_g: Pascal, M: One, M_p: One) -> Pascal:
    """Property at a moisture M, from its values at 12 % and green."""
    return P_12 * (P_12 / P_g) ** ((0.12 - M) / (M_p - 0.12))


@formula("P", unit="Pa", source=f"{_ANC}, Table 2-2, read: percent change for each 1 % of moisture")
def moisture_stepwise(P: Pascal, p: One, steps: One) -> Pascal:
    """Property after so many steps of 1 % moisture wetter, each of which costs the share p."""
    return P / (1 + p) ** steps


@formula(
    "G_M",
    unit="1",
    source="Wood Handbook, ch. 4, from memory (s = 0.265); within 0.022 of every row of Table 5-3b",
    ranges=(
        Range("M/M_f", lambda M, M_f, **_: M / M_f, 0.0, 1.0, "refuse", "wood swells up to M_f, about 30 %"),
    ),
)
def specific_gravity(G_b: One, s: One, M: One, M_f: One) -> One:
    """Oven-dry mass over the volume at a moisture M, from the value on green volume."""
    return G_b / (1 - s * G_b * (1 - M / M_f))


@formula("rho", unit="kg/m3", source="definition of specific gravity; the mass includes the water")
def moist_density(rho_w: KgPerM3, G_M: One, M: One) -> KgPerM3:
    """Density of wood at a moisture M; rho_w is that of water, 1000."""
    return rho_w * G_M * (1 + M)


@formula(
    "k_05",
    unit="1",
    source="derived: lower 5 % of a normal distribution at z_p = 1.645",
    ranges=(
        Range(
            "z_p V", lambda V, z_p, **_: z_p * V, 0.0, 0.9, "refuse", "a normal strength would go below zero"
        ),
    ),
)
def exclusion_factor(V: One, z_p: One) -> One:
    """Share of the mean that all but the weakest reach, for a coefficient of variation V."""
    return 1 - z_p * V


@formula(
    "k_t",
    unit="1",
    source="Madison curve (Wood 1951), from memory; agrees with the duration factors of NDS 2018 Table 2.3.2",
    ranges=(
        Range(
            "t/t_1",
            lambda t, t_1, **_: t / t_1,
            1.0,
            2e9,
            why="the curve was drawn from seconds to tens of years",
        ),
    ),
)
def madison_factor(t: Second, t_1: Second) -> One:
    """Strength under a load lasting t over that in a test of 7.5 minutes; t_1 is one second."""
    return 0.183 + 1.084 * (t / t_1) ** -0.04635


@formula(
    "k_T",
    unit="1",
    source=f"{_WH5}, Table 5-15, p. 5-36, {_COPY}; straight between 20 and 50 C is derived",
    ranges=(
        Range(
            "s_T", lambda s_T, **_: s_T, 0.0, 1.0, "refuse", "s_T is (T - 20 C)/30 K; the table ends at 50 C"
        ),
    ),
)
def temperature_factor(c_50: One, s_T: One) -> One:
    """Property at a share s_T of the way from 20 to 50 C, over that at 20 C; c_50 is the change at 50 C."""
    return 1 + c_50 * s_T


@formula(
    "k_T",
    unit="1",
    source=f"{_WH5}, Table 5-16, p. 5-37, {_COPY}: lumber at 12 % moisture",
    ranges=(Range("T_F", lambda T_F, **_: T_F, -15.0, 150.0, why="the fit was made there"),),
)
def lumber_modulus_temperature_factor(T_F: One) -> One:
    """Modulus of dry lumber at T_F degrees Fahrenheit, over that at room temperature."""
    return 1 + (7.8553 - 0.1108 * T_F) / 100


@formula(
    "N",
    unit="Pa",
    source="Hankinson; n 2 in compression, 1.5 to 2 in tension (encyclopedia page, read); ranges of Wood Handbook "
    "Table 5-11 from memory",
    ranges=(
        Range("theta", lambda theta, **_: theta, 0.0, np.pi / 2, "refuse", "an angle to the grain"),
        Range("n", lambda n, **_: n, 1.5, 2.5, why="exponents fitted to tests"),
    ),
)
def hankinson(P: Pascal, Q: Pascal, theta: Radian, n: One) -> Pascal:
    """Property at an angle theta to the grain, from P along and Q across it."""
    return P * Q / (P * np.sin(theta) ** n + Q * np.cos(theta) ** n)


@formula("R_1/R_2", unit="1", source=f"{_WH9}, Eq. 9-17, p. 9-10, {_COPY}", ranges=(_WEIBULL,))
def size_ratio(h_1: Metre, L_1: Metre, a_1: Metre, h_2: Metre, L_2: Metre, a_2: Metre, m: One) -> One:
    """Bending strength of beam 1 over beam 2, each of depth h and span L between two loads a apart."""
    return (h_2 * L_2 * (1 + m * a_2 / L_2) / (h_1 * L_1 * (1 + m * a_1 / L_1))) ** (1 / m)


@formula("k_s", unit="1", source=f"{_WH9}, Eq. 9-18, p. 9-10, {_COPY}", ranges=(_WEIBULL,))
def standard_size_factor(h_1: Metre, L_1: Metre, a_1: Metre, A_0: Metre2, m: One) -> One:
    """Bending strength over that of the standard test, whose depth times span A_0 is 56 in2."""
    return (A_0 / (h_1 * L_1 * (1 + m * a_1 / L_1))) ** (1 / m)


@formula("R_u/R_c", unit="1", source=f"{_WH9}, Eq. 9-19, p. 9-11, {_COPY}")
def uniform_load_size_ratio(h_u: Metre, L_u: Metre, h_c: Metre, L_c: Metre, a_c: Metre) -> One:
    """Bending strength under a uniform load over that under two loads a_c apart."""
    return ((1 + 18 * a_c / L_c) * h_c * L_c / (3.876 * h_u * L_u)) ** (1 / 18)


@formula(
    "k_h",
    unit="1",
    source=f"{_EC5}, 3.2(3): h_r 150 mm, s 0.2, at most 1.3; glulam 600 mm, 0.1, at most 1.1; read as coded",
    ranges=(
        Range("h/h_r", lambda h, h_r, **_: h / h_r, 1e-3, 1.0, "refuse", "deeper pieces have no factor"),
    ),
)
def depth_factor(h: Metre, h_r: Metre, s: One) -> One:
    """Bending or tension strength of a shallow rectangular piece over that at the reference depth."""
    return (h_r / h) ** s


@formula("k_v", unit="1", source=f"{_WH9}, Eq. 9-20, {_COPY}; A_1 is 1 cm2, C_f about 2")
def beam_shear_factor(C_f: One, A: Metre2, A_1: Metre2) -> One:
    """Shear strength of a beam over that of a shear block; A is breadth times length in shear."""
    return 1.9 * C_f / (A / A_1) ** (1 / 5)


@formula(
    "FF",
    unit="1",
    source="a solid shape bears the moment of the square of equal area: 1.18 round, 1.414 a square on its "
    "diagonal; Newlin and Trayer, NDS 3.3.4, from memory",
)
def solid_form_factor(A: Metre2, S: Metre3) -> One:
    """Bending strength of a solid shape of area A and modulus S over that of a rectangle."""
    return A**1.5 / (6 * S)


@formula(
    "FF_u",
    unit="1",
    source=f"{_ANC}, Eq. 2:13: constants 0.50 read, bracket from memory; the curve of K_f was not legible",
    ranges=(
        Range("K_f", lambda K_f, **_: K_f, 0.0, 1.0, "refuse", "a share of the solid section's strength"),
        Range("r_w", lambda r_w, **_: r_w, 0.0, 1.0, "refuse", "webs over the whole width"),
    ),
)
def hollow_form_factor(K_f: One, r_w: One) -> One:
    """Bending strength of a box or I over that of a solid rectangle; r_w is webs over width."""
    return 0.50 + 0.50 * (K_f * (1 - r_w) + r_w)


@formula("E", unit="Pa", source=f"{_WH5}, footnote c of Table 5-3, {_COPY}; {_ANC}, 2.1200, read")
def true_modulus(E_a: Pascal) -> Pascal:
    """Modulus along the grain free of shear, from that of a centre-loaded test beam of span/depth 14."""
    return 1.10 * E_a


@formula("E_a", unit="Pa", source="derived: P L3/(48 E I) + 6/5 P L/(4 G A) of a rectangle")
def apparent_modulus(E: Pascal, G: Pascal, r_L: One) -> Pascal:
    """Modulus a centre-loaded rectangular beam of span/depth r_L seems to have when shear is forgotten."""
    return E / (1 + 1.2 * E / (G * r_L**2))


@formula("G", unit="Pa", source=f"{_WH9}, Eq. 9-9, p. 9-5, {_COPY}; E_L/16 where neither is known")
def grain_torsion_modulus(G_LR: Pascal, G_LT: Pascal) -> Pascal:
    """Shear modulus for torsion about the grain."""
    return np.sqrt(G_LR * G_LT)


@formula("delta", unit="m", source=f"{_WH9}, Table 9-1, {_COPY}")
def deflection_with_shear(k_b: One, k_s: One, W: Newton, L: Metre, EI: NewtonM2, GA: Newton) -> Metre:
    """Deflection of a beam by bending and shear; cantilever k_b 1/8 and k_s 1/2 uniform, 1/3 and 1 at the end."""
    return k_b * W * L**3 / EI + k_s * W * L / GA


@formula("A'", unit="m2", source=f"{_WH9}, Eq. 9-4, p. 9-3, {_COPY}")
def round_shear_area(D: Metre) -> Metre2:
    """Area of a solid round that counts in its deflection by shear."""
    return 9 / 40 * np.pi * D**2


@formula("u_fin", unit="m", source=f"{_EC5}, 2.2.3, from memory")
def creep_deflection(u: Metre, k_def: One, psi_2: One) -> Metre:
    """Deflection after years, from that at once; psi_2 is the lasting share of the load, 1 if permanent."""
    return u * (1 + psi_2 * k_def)


@formula("tau", unit="Pa", source=f"{_WH9}, Eq. 9-14, p. 9-8, {_COPY}")
def solid_round_shear_stress(V: Newton, A: Metre2) -> Pascal:
    """Largest shear stress from a shear force on a solid round."""
    return 4 * V / (3 * A)


@formula("tau", unit="Pa", source="derived: V Q/(2 t I) of a round tube", ranges=(_BORE,))
def hollow_round_shear_stress(V: Newton, A: Metre2, k: One) -> Pascal:
    """Largest shear stress from a shear force on a hollow round whose bore is k of its diameter."""
    return 4 * V / (3 * A) * (1 + k + k**2) / (1 + k**2)


@formula("f_r", unit="Pa", source=f"{_EC5}, 6.1.7(2), from memory")
def rolling_shear_strength(f_t90: Pascal) -> Pascal:
    """Strength in shear across the grain, from the strength in tension across it."""
    return 2 * f_t90


@formula(
    "sigma_90",
    unit="Pa",
    source="ring under two opposite forces, moment F r/pi; Roark's Formulas, from memory",
    ranges=(Range("r/t", lambda r, t, **_: r / t, 2.0, np.inf, why="the wall is taken as a thin ring"),),
)
def ring_bending_stress(F: Newton, r: Metre, w: Metre, t: Metre) -> Pascal:
    """Bending across the grain of a hollow round pressed between two line loads over a height w."""
    return 6 * F * r / (np.pi * w * t**2)


_TAPER = f"{_WH9}, Eq. 9-15, p. 9-9, {_COPY}"


@formula("f_x", unit="Pa", source=_TAPER)
def taper_bending_stress(M: NewtonMetre, b: Metre, h_0: Metre) -> Pascal:
    """Greatest stress along a rectangular beam tapered from the depth h_0, where its depth is 2 h_0."""
    return 3 * M / (2 * b * h_0**2)


@formula("f_xy", unit="Pa", source=_TAPER, ranges=(_SMALL_SLOPE,))
def taper_shear_stress(f_x: Pascal, alpha: Radian) -> Pascal:
    """Shear stress at an edge cut across the grain at an angle alpha."""
    return f_x * np.tan(alpha)


@formula("f_y", unit="Pa", source=_TAPER, ranges=(_SMALL_SLOPE,))
def taper_cross_stress(f_x: Pascal, alpha: Radian) -> Pascal:
    """Stress across the grain at an edge cut across it at an angle alpha."""
    return f_x * np.tan(alpha) ** 2


@formula("u", unit="1", source=f"{_WH9}, Eq. 9-16, p. 9-9, {_COPY}")
def taper_interaction(r_x: One, r_y: One, r_xy: One) -> One:
    """Joint use of wood by stress along, across and in shear, each over its strength."""
    return r_x**2 + r_y**2 + r_xy**2


@formula(
    "F_cE", unit="Pa", source=f"{_NDS}, 3.7.1, {_EXAMPLES}; 0.822 is pi2/12, of a rectangle, E being lowered"
)
def nds_column_buckling_stress(E_min: Pascal, l_e: Metre, d: Metre) -> Pascal:
    """Buckling stress of a rectangular column of effective length l_e and depth d."""
    return 0.822 * E_min / (l_e / d) ** 2


@formula("F_bE", unit="Pa", source=f"{_NDS}, 3.3.3, {_EXAMPLES}")
def nds_beam_buckling_stress(E_min: Pascal, b: Metre, d: Metre, l_e: Metre) -> Pascal:
    """Bending stress at which a deep rectangular beam tips over sideways."""
    return 1.20 * E_min * b**2 / (l_e * d)


@formula(
    "f_cr",
    unit="Pa",
    source=f"{_WH9}, Eq. 9-29, {_COPY}, c 0.8; {_NDS} 3.7.1, c 0.8, and 3.3.3, c 0.95, {_EXAMPLES}; "
    "round poles c 0.85 from memory",
    ranges=(Range("c", lambda c, **_: c, 0.7, 1.0, "refuse", "0.8 sawn, 0.957 the fourth-power form"),),
)
def buckling_limited_stress(F_c: Pascal, f_e: Pascal, c: One) -> Pascal:
    """Strength of a member between crushing at F_c and buckling at f_e."""
    s = (F_c + f_e) / (2 * c)
    return s - np.sqrt(s**2 - F_c * f_e / c)


@formula("u", unit="1", source=f"{_NDS}, 3.9.2, {_EXAMPLES}", ranges=(_NOT_OVER_EULER,))
def nds_interaction(f_c: Pascal, F_c: Pascal, f_b: Pascal, F_b: Pascal, F_cE: Pascal) -> One:
    """Joint use of a member in compression and bending."""
    return (f_c / F_c) ** 2 + f_b / (F_b * (1 - f_c / F_cE))


@formula("f_d", unit="Pa", source=f"{_EC5}, 2.4.1, read as coded")
def timber_design_strength(f_k: Pascal, k_mod: One, gamma: One) -> Pascal:
    """Characteristic strength for its load duration and moisture, over its partial factor."""
    return k_mod * f_k / gamma


@formula("f_d", unit="Pa", source="strength of the table times every factor of its chain")
def timber_allowable_stress(f: Pascal, k_all: One) -> Pascal:
    """What a piece of timber may bear, k_all being the product of the factors for its piece and use."""
    return f * k_all


@formula("lambda_rel", unit="1", source=f"{_EC5}, 6.3.2, Eq. 6.21, read as coded, as a ratio of stresses")
def relative_column_slenderness(f_c0k: Pascal, sigma_cr: Pascal) -> One:
    """Root of crushing over buckling stress of a column whose buckling stress is known."""
    return np.sqrt(f_c0k / sigma_cr)


@formula("lambda_rel", unit="1", source=f"{_EC5}, 6.3.2, Eq. 6.21, read as coded")
def relative_slenderness(slenderness: One, f_c0k: Pascal, E_005: Pascal) -> One:
    """Root of crushing over buckling stress of a column whose length over radius of gyration is given."""
    return slenderness / np.pi * np.sqrt(f_c0k / E_005)


@formula("k", unit="1", source=f"{_EC5}, Eq. 6.27, read as coded; beta_c 0.2 solid, 0.1 glulam")
def column_imperfection(lambda_rel: One, beta_c: One) -> One:
    """Help value of the column factor, with the member's crookedness in it."""
    return 0.5 * (1 + beta_c * (lambda_rel - 0.3) + lambda_rel**2)


@formula(
    "k_c",
    unit="1",
    source=f"{_EC5}, Eq. 6.25, read as coded",
    ranges=(
        Range(
            "lambda_rel",
            lambda lambda_rel, **_: lambda_rel,
            0.3,
            np.inf,
            why="stockier columns are not reduced",
        ),
    ),
)
def column_factor(k_y: One, lambda_rel: One) -> One:
    """Share of its crushing strength that a slender column bears."""
    return 1 / (k_y + np.sqrt(k_y**2 - lambda_rel**2))


@formula(
    "u",
    unit="1",
    source=f"{_EC5}, Eq. 6.19 and, with y and z exchanged, 6.20, from memory; k_m 0.7 rectangle, 1 other; {_NDS}, "
    "3.9.2, is the same of a member that cannot buckle",
)
def stocky_interaction(r_c: One, r_my: One, r_mz: One, k_m: One) -> One:
    """Joint use of a stocky member in compression and bending, each stress over its strength."""
    return r_c**2 + r_my + k_m * r_mz


@formula(
    "u",
    unit="1",
    source=f"{_EC5}, Eq. 6.23 and, with y and z exchanged, 6.24, from memory; one program squares the first term",
    ranges=(Range("k_c", lambda k_c, **_: k_c, 1e-9, 1.0, "refuse", "a share of the crushing strength"),),
)
def slender_interaction(r_c: One, k_c: One, r_my: One, r_mz: One, k_m: One) -> One:
    """Joint use of a slender member in compression and bending, each stress over its strength."""
    return r_c / k_c + r_my + k_m * r_mz


@formula(
    "sigma_m,crit",
    unit="Pa",
    source=f"{_EC5}, Eq. 6.32, read as coded: softwood of solid rectangular section",
)
def rectangle_critical_stress(b: Metre, h: Metre, l_ef: Metre, E_005: Pascal) -> Pascal:
    """Bending stress at which a deep rectangular beam tips over sideways."""
    return 0.78 * b**2 * E_005 / (h * l_ef)


@formula("lambda_rel,m", unit="1", source=f"{_EC5}, Eq. 6.30, read as coded")
def relative_beam_slenderness(f_mk: Pascal, sigma_crit: Pascal) -> One:
    """Root of bending strength over the stress at which a beam tips over."""
    return np.sqrt(f_mk / sigma_crit)


@formula(
    "k_crit",
    unit="1",
    source=f"{_EC5}, Eq. 6.34, read as coded",
    ranges=(
        Range("lambda_m", lambda lambda_m, **_: lambda_m, 0.75, 1.4, "refuse", "1 below, 1/lambda2 above"),
    ),
)
def tipping_factor(lambda_m: One) -> One:
    """Share of its bending strength that a beam of middling slenderness bears."""
    return 1.56 - 0.75 * lambda_m


@formula("f_c", unit="Pa", source=f"{_EC5}, Eq. 6.23 without bending, read as coded")
def column_allowable_stress(k_c: One, f: Pascal) -> Pascal:
    """Thrust over area that a slender column may bear; f is what it bears in crushing."""
    return k_c * f


@formula("sigma_cr", unit="Pa", source="definition of the factor against instability")
def stress_at_instability(sigma: Pascal, factor: One) -> Pascal:
    """Thrust over area at which the mast becomes unstable."""
    return sigma * factor
