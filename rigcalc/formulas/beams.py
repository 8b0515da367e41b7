"""Beams and columns: the closed forms that the beam engine is held against, and a few it uses."""

from __future__ import annotations

import numpy as np

from .record import Metre, Newton, NewtonM2, NewtonMetre, One, Radian, Range, formula

_BURY = Range("b", lambda b, **_: b, 1e-6, np.inf, "refuse", "two bearings at one height hold no moment")


@formula(
    "R_p",
    unit="N",
    source="moment equilibrium about the heel; overhanging beam, T. Quigley, case 10, read",
    ranges=(_BURY,),
)
def partners_force(F: Newton, h: Metre, b: Metre) -> Newton:
    """Force of the partners on the mast for a side force F at a height h above them."""
    return F * (h + b) / b


@formula("R_s", unit="N", source="moment equilibrium about the partners", ranges=(_BURY,))
def step_force(M_p: NewtonMetre, b: Metre) -> Newton:
    """Side force of the step on the mast for a moment at the partners; it acts with the load."""
    return M_p / b


@formula("M_p", unit="N m", source="definition of the moment of a force")
def moment_of_force(F: Newton, h: Metre) -> NewtonMetre:
    """Moment of a force F at an arm h."""
    return F * h


@formula(
    "delta",
    unit="m",
    source="overhanging beam with a load at the free end, F a2 (b + a)/(3 E I); T. Quigley, case 10, read",
    ranges=(_BURY,),
)
def overhang_tip_deflection(F: Newton, a: Metre, b: Metre, EI: NewtonM2) -> Metre:
    """Tip deflection of a uniform mast under a side force at its tip, a above the partners."""
    return F * a**2 * (b + a) / (3 * EI)


@formula("theta_p", unit="rad", source="derived: uniform bury pinned at the heel", ranges=(_BURY,))
def partners_slope(M_p: NewtonMetre, b: Metre, EI: NewtonM2) -> Radian:
    """Slope of a uniform mast at the partners."""
    return M_p * b / (3 * EI)


@formula(
    "P_E",
    unit="N",
    source="Euler; Gere and Goodno, Mechanics of Materials, 7th ed., 11.4, read in its public solutions",
    ranges=(Range("K L", lambda K, L, **_: K * L, 1e-9, np.inf, "refuse", "a column has a length"),),
)
def euler_load(EI: NewtonM2, L: Metre, K: One) -> Newton:
    """Critical load of a uniform column; K is 1 pinned, 2 free-standing, 0.699 (0.6992) fixed-pinned, 0.5 fixed."""
    return np.pi**2 * EI / (K * L) ** 2


@formula(
    "kappa",
    unit="1",
    source="Cowper, J. Appl. Mech. 33 (1966), from memory; agrees with his definition worked out for a ring",
    ranges=(
        Range("m", lambda m, **_: m, 0.0, 1.0, "refuse", "m is the bore radius over the outside radius"),
        Range(
            "nu",
            lambda nu, **_: nu,
            0.0,
            0.5,
            "refuse",
            "Poisson's ratio of an isotropic material lies between",
        ),
    ),
)
def cowper_shear_coefficient(nu: One, m: One) -> One:
    """Shear coefficient of a round tube with bore radius over outside radius m."""
    return 6 * (1 + nu) * (1 + m**2) ** 2 / ((7 + 6 * nu) * (1 + m**2) ** 2 + (20 + 12 * nu) * m**2)


@formula(
    "delta_max", unit="m", source="5 to 10 % of the length above the partners: common practice, from memory"
)
def allowed_tip_deflection(share: One, a: Metre) -> Metre:
    """Deflection allowed at the tip of a mast standing a above the partners."""
    return share * a


@formula(
    "N_d",
    unit="N",
    source="definition of the factor against instability; linear stability of the straight mast",
    ranges=(
        Range(
            "required", lambda required, **_: required, 1.0, np.inf, "refuse", "a factor against instability"
        ),
    ),
)
def allowed_axial_load(N: Newton, factor: One, required: One) -> Newton:
    """Axial load allowed where it could grow by a factor before the mast becomes unstable."""
    return N * factor / required


@formula("M_0", unit="N m", source="sum of moments")
def summed_moment(M_l: NewtonMetre, M_a: NewtonMetre, M_r: NewtonMetre, M_w: NewtonMetre) -> NewtonMetre:
    """Moment of all loads in one plane: spread along the mast, single forces one way and back, own weight."""
    return M_l + M_a + M_r + M_w


@formula("F", unit="N", source="sum of forces")
def summed_force(F_l: Newton, F_a: Newton, F_r: Newton, F_w: Newton) -> Newton:
    """Force of all loads in one plane: spread along the mast, single forces one way and back, own weight."""
    return F_l + F_a + F_r + F_w


@formula("R_u", unit="N", source="moments about the lower bearing are in balance", ranges=(_BURY,))
def upper_reaction(M_0: NewtonMetre, b: Metre) -> Newton:
    """Force of the upper bearing on the mast, b above the lower one, about which all loads have the moment M_0."""
    return -M_0 / b


@formula("R_l", unit="N", source="forces across the mast are in balance")
def lower_reaction(F: Newton, R_u: Newton) -> Newton:
    """Force of the lower bearing on the mast under loads of F in all and a force R_u of the upper bearing."""
    return -(F + R_u)


@formula("R", unit="N", source="two forces square to each other")
def resultant_force(F_s: Newton, F_f: Newton) -> Newton:
    """Resultant of a force to the side and one forward."""
    return np.hypot(F_s, F_f)


@formula("M", unit="N m", source="two moments square to each other")
def resultant_moment(M_s: NewtonMetre, M_f: NewtonMetre) -> NewtonMetre:
    """Resultant of the moment of loads to the side and that of loads forward."""
    return np.hypot(M_s, M_f)


@formula(
    "M_d",
    unit="N m",
    source="definition of the factor",
    ranges=(Range("gamma", lambda gamma, **_: gamma, 1.0, np.inf, "refuse", "a factor takes strength away"),),
)
def allowed_moment(M: NewtonMetre, gamma: One) -> NewtonMetre:
    """Moment that may act where the mast would give way under M."""
    return M / gamma
