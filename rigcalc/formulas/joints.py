"""Joints of nested tubes: the couple that carries a moment across, the walls it presses on, and the play in it.

Free body: two round tubes that lie in one another over an overlap L, the lower ending at its upper end, the
upper at its lower end. Nothing but sideways contact joins them, so the moment passes as two forces, or as a
pressure that changes sign on the way. M_1 and M_2 are the moments of the mast at the ends of the overlap.
"""

from __future__ import annotations

import numpy as np

from .record import Metre, Newton, NewtonM2, NewtonMetre, One, Pascal, Radian, Range, formula

_SEMI_MEMBRANE = (
    "derived: semi-membrane theory of long tubes, as in Calladine, Theory of Shell Structures (1983), "
    "from memory"
)
_OVERLAP = Range("L", lambda L, **_: L, 1e-6, np.inf, "refuse", "tubes that do not overlap have no joint")


@formula(
    "F_c",
    unit="N",
    source="statics of a tube held at both ends of the overlap alone, derived",
    ranges=(_OVERLAP,),
)
def contact_force(M: NewtonMetre, L: Metre) -> Newton:
    """Contact force at one end of an overlap, from the moment at its other end."""
    return M / L


@formula(
    "V_o",
    unit="N",
    source="statics of stiff tubes in even packing, derived; contact at the ends alone gives less",
    ranges=(_OVERLAP,),
)
def overlap_shear(M_1: NewtonMetre, M_2: NewtonMetre, L: Metre) -> Newton:
    """Largest shear force in either tube within the overlap; M_2 is the greater moment."""
    return (M_1 + 2 * M_2) ** 2 / (3 * L * (M_1 + M_2))


@formula("p", unit="Pa", source="statics of stiff tubes in even packing, derived", ranges=(_OVERLAP,))
def packing_pressure(M_1: NewtonMetre, M_2: NewtonMetre, L: Metre, D: Metre) -> Pascal:
    """Greatest pressure on packing of diameter D, on its width; M_2 is the greater moment."""
    return (2 * M_1 + 4 * M_2) / (L**2 * D)


@formula("L_o", unit="m", source=f"{_SEMI_MEMBRANE}, flattening to an oval")
def oval_length(R: Metre, t: Metre, nu: One) -> Metre:
    """Length along a tube over which it comes back from an oval to round; R is the mid-wall radius."""
    return R * np.sqrt(R / t) * ((1 - nu**2) / 3) ** 0.25


@formula(
    "sigma_w",
    unit="Pa",
    source=f"{_SEMI_MEMBRANE}: the ring's moment k F R on a width b; k from a cosine of pressure half the way round",
    ranges=(
        Range(
            "R/t",
            lambda R, t, **_: R / t,
            2.0,
            100.0,
            why="the theory was held against the whole shell from 2 to 100",
        ),
    ),
)
def wall_bending_stress(k: One, F: Newton, R: Metre, t: Metre, b: Metre) -> Pascal:
    """Bending stress round the wall of a tube of mid-wall radius R, pressed with F by a snug tube.

    k is 0.065 at the sides and 0.045 under the force; b is twice the oval length away from the tube's ends,
    and half of it at an end.
    """
    return 6 * k * F * R / (b * t**2)


@formula(
    "delta_o",
    unit="m",
    source=f"{_SEMI_MEMBRANE}: 4/(27 pi^2) F R^3/(D b), D the stiffness of the wall",
)
def flattening(F: Newton, R: Metre, t: Metre, b: Metre, E: Pascal, nu: One) -> Metre:
    """Amplitude of the oval to which the same force presses the tube."""
    return 4 / (27 * np.pi**2) * F * R**3 / b * 12 * (1 - nu**2) / (E * t**3)


@formula("c_f", unit="m", source="derived: a gap of 1 - cos, closed by an oval of 1 - cos of twice the angle")
def taken_up_play(delta_1: Metre, delta_2: Metre) -> Metre:
    """Play that two tubes take up by flattening before they touch half the way round."""
    return 4 * (delta_1 + delta_2)


@formula(
    "sigma_v",
    unit="Pa",
    source="von Mises, plane stress of unlike signs; bending of the wall by its plastic moment, 1.5 times the elastic",
)
def pressed_wall_stress(sigma_x: Pascal, sigma_w: Pascal) -> Pascal:
    """Equivalent stress of sigma_x along a tube and of bending sigma_w round its wall."""
    return np.sqrt(sigma_x**2 + sigma_x * sigma_w / 1.5 + (sigma_w / 1.5) ** 2)


@formula(
    "L_min",
    unit="m",
    source="slip joints of tapered poles, ASCE/SEI 48 and AASHTO practice, from memory: 1.5 times the bore",
)
def least_overlap(d: Metre) -> Metre:
    """Least overlap of a tube in another of bore d."""
    return 1.5 * d


@formula("theta_c", unit="rad", source="geometry: the tube lies from one side of the bore to the other")
def play_tilt(c: Metre, L: Metre) -> Radian:
    """Tilt of a tube with diametral play c over its overlap."""
    return c / L


@formula(
    "theta_f",
    unit="rad",
    source="beam theory, derived: both tubes bent between contacts at the ends, less both bent as one",
    ranges=(_OVERLAP,),
)
def couple_rotation(M_1: NewtonMetre, M_2: NewtonMetre, L: Metre, EI_1: NewtonM2, EI_2: NewtonM2) -> Radian:
    """Turn of a joint beyond that of tubes bent as one.

    At one end the tube of stiffness EI_1 has all the moment M_1, at the other that of EI_2 all of M_2.
    """
    return L * (M_1 / (3 * EI_1) + M_2 / (3 * EI_2) - (M_1 + M_2) / (2 * (EI_1 + EI_2)))
