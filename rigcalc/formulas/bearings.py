"""Bearings of a turning mast: pressure, edges, rollers, friction, thrust, and the tube pressed by them."""

from __future__ import annotations

import numpy as np

from .record import (
    Metre,
    Metre2,
    MPerS,
    Newton,
    NewtonMetre,
    NewtonPerM,
    One,
    Pascal,
    PascalMPerS,
    Radian,
    Range,
    formula,
)

_DERIVED = "derived"
_PIVOTS = (
    "Tribology in Machine Design, pp. 125-126, read; Khurmi and Gupta, Theory of Machines, Ex. 10.16-10.19"
)
_HERTZ = "Hertz line contact, half-width 2 sqrt(P' R/(pi E*)), read on line; Boresi and Schmidt, ch. 17"
_COLLAR = (
    Range("d/D", lambda D, d, **_: d / D, 0.0, 1.0 - 1e-9, "refuse", "the inside lies inside the outside"),
)
_ANGLE = Range("alpha", lambda alpha, **_: alpha, 0.0872, 1.5708, why="a slender cone wedges in its seat")
_THIN_RING = Range("R/t", lambda R, t, **_: R / t, 5.0, np.inf, why="the wall is taken as a thin ring")


# --- plain bushes ---------------------------------------------------------------------------------


@formula("p", unit="Pa", source="load over projected area; Crawford, Plastics Engineering, p. 29, read")
def projected_pressure(F: Newton, L: Metre, D: Metre) -> Pascal:
    """Pressure of a bush of length L on a journal of diameter D."""
    return F / (L * D)


@formula(
    "p_max",
    unit="Pa",
    source=f"{_DERIVED}: pressure as the cosine over half the bore; less contact presses harder",
)
def cosine_peak_pressure(F: Newton, L: Metre, D: Metre) -> Pascal:
    """Greatest pressure of a close bush."""
    return 4 * F / (np.pi * L * D)


@formula("L_f", unit="m", source=f"{_DERIVED}: rise theta L across the bush against its clearance")
def edge_free_length(c: Metre, theta: Radian) -> Metre:
    """Longest bush of diametral clearance c that a mast of slope theta does not touch with both edges."""
    return c / theta


@formula("s", unit="m", source=f"{_DERIVED}: rise of a leaning journal across the bush")
def rise_across_bush(theta: Radian, L: Metre) -> Metre:
    """How much a journal of slope theta rises over the length of a bush."""
    return theta * L


@formula("E_s", unit="Pa", source=_HERTZ)
def contact_modulus(E_1: Pascal, nu_1: One, E_2: Pascal, nu_2: One) -> Pascal:
    """Modulus of two bodies in contact."""
    return 1 / ((1 - nu_1**2) / E_1 + (1 - nu_2**2) / E_2)


@formula(
    "R",
    unit="m",
    source=_HERTZ,
    ranges=(
        Range("c/D", lambda D, c: c / D, 1e-9, np.inf, "refuse", "without clearance the fit is all round"),
    ),
)
def seat_radius(D: Metre, c: Metre) -> Metre:
    """Relative radius of a journal of diameter D in a bore wider by c."""
    return D * (D + c) / (2 * c)


@formula("R", unit="m", source=_HERTZ)
def roller_radius(d: Metre, D: Metre) -> Metre:
    """Relative radius of a roller of diameter d on a journal of diameter D."""
    return d * D / (2 * (d + D))


@formula("a", unit="m", source=f"{_HERTZ}; holds while it is far less than the radius")
def contact_half_width(P: NewtonPerM, R: Metre, E_s: Pascal) -> Metre:
    """Half the width of a line contact under a line load P."""
    return 2 * np.sqrt(P * R / (np.pi * E_s))


@formula("p_0", unit="Pa", source=_HERTZ)
def contact_peak_pressure(P: NewtonPerM, R: Metre, E_s: Pascal) -> Pascal:
    """Greatest pressure of a line contact under a line load P."""
    return np.sqrt(P * E_s / (np.pi * R))


@formula(
    "pv",
    unit="Pa m/s",
    source="Crawford, Plastics Engineering, p. 29, read; Wentzell, Machine Design, Ex. 19.1",
)
def pressure_velocity(p: Pascal, v: MPerS) -> PascalMPerS:
    """Pressure times rubbing speed."""
    return p * v


# --- friction -------------------------------------------------------------------------------------


@formula("T_j", unit="N m", source="journal friction; Khurmi and Gupta, Theory of Machines, Ex. 10.15")
def journal_torque(mu: One, F: Newton, D: Metre) -> NewtonMetre:
    """Torque to turn a loose journal: the force bears along one line."""
    return mu * F * D / 2


@formula(
    "T_j", unit="N m", source=f"{_DERIVED}: the normal forces of a cosine pressure add up to 4/pi of the load"
)
def close_journal_torque(mu: One, F: Newton, D: Metre) -> NewtonMetre:
    """Torque to turn a close-fitting journal, which presses round half its bore."""
    return 4 / np.pi * mu * F * D / 2


@formula(
    "T_r",
    unit="N m",
    source=f"{_DERIVED}: each roller is held back at its pin, whose rubbing the mast sees by the ratio of diameters",
)
def pinned_roller_torque(mu: One, F: Newton, D: Metre, d: Metre, d_p: Metre) -> NewtonMetre:
    """Torque to turn a mast on rollers of diameter d that turn on pins of diameter d_p."""
    return mu * F * (d_p / d) * D / 2


@formula("T_r", unit="N m", source="rolling resistance, lever of the force; coefficient from memory")
def free_roller_torque(f: Metre, F: Newton, D: Metre, d: Metre) -> NewtonMetre:
    """Torque to turn a mast on rollers that run free between mast and race, rolling lever f."""
    return f * F * (1 + D / d)


# --- thrust ---------------------------------------------------------------------------------------


@formula("T_t", unit="N m", source=f"collar, uniform pressure; {_PIVOTS}", ranges=_COLLAR)
def collar_torque_even_pressure(mu: One, W: Newton, D: Metre, d: Metre) -> NewtonMetre:
    """Torque of a thrust collar between diameters d and D; a flat pivot has d = 0."""
    return mu * W * (D**3 - d**3) / (3 * (D**2 - d**2))


@formula("T_t", unit="N m", source=f"collar, uniform wear; {_PIVOTS}", ranges=_COLLAR)
def collar_torque_even_wear(mu: One, W: Newton, D: Metre, d: Metre) -> NewtonMetre:
    """Torque of a worn-in thrust collar."""
    return mu * W * (D + d) / 4


@formula(
    "T_t",
    unit="N m",
    source=f"cone: the collar's torque over the sine of the half angle; {_PIVOTS}",
    ranges=(_ANGLE,),
)
def cone_torque(T_c: NewtonMetre, alpha: Radian) -> NewtonMetre:
    """Torque of a conical pivot of half angle alpha whose face seen along the axis would have T_c."""
    return T_c / np.sin(alpha)


@formula(
    "p_t",
    unit="Pa",
    source="load over the face seen along the axis, which holds for a cone too; Khurmi and Gupta",
    ranges=_COLLAR,
)
def thrust_pressure(W: Newton, D: Metre, d: Metre) -> Pascal:
    """Even pressure on a thrust face between diameters d and D."""
    return 4 * W / (np.pi * (D**2 - d**2))


@formula(
    "p_w",
    unit="Pa",
    source=f"uniform wear: pressure as 1/r, greatest at the inner edge; {_PIVOTS}",
    ranges=(
        Range(
            "d/D",
            lambda D, d, **_: d / D,
            1e-3,
            1.0 - 1e-9,
            "refuse",
            "without a hole the pressure has no bound",
        ),
    ),
)
def worn_thrust_pressure(W: Newton, D: Metre, d: Metre) -> Pascal:
    """Greatest pressure on a worn-in thrust face."""
    return 2 * W / (np.pi * d * (D - d))


# --- clearance ------------------------------------------------------------------------------------


@formula("dc", unit="m", source=f"{_DERIVED}: a bush held outside grows into its bore by twice its wall")
def bore_loss_by_strain(t: Metre, e: One, nu: One) -> Metre:
    """Closing of the bore of a bush of wall t, held outside, by a free strain e; its hoop strain goes inwards too."""
    return 2 * t * e * (1 + nu) / (1 - nu)


@formula("dc", unit="m", source="definition of strain")
def diameter_growth(D: Metre, e: One) -> Metre:
    """Growth of a diameter by a strain."""
    return D * e


# --- the tube pressed by a bearing ----------------------------------------------------------------


@formula(
    "b_e",
    unit="m",
    source="length of a bearing and 1.56 sqrt(R t): pressure-vessel saddle practice, from memory",
)
def ring_length(L: Metre, R: Metre, t: Metre) -> Metre:
    """Length of a tube that bears a ring load spread over L."""
    return L + 1.56 * np.sqrt(R * t)


@formula(
    "sigma_r",
    unit="Pa",
    source="two opposite forces: moment W R/pi; Megson, Aircraft Structures, ch. 5, read",
    ranges=(_THIN_RING,),
)
def opposed_ring_stress(W: NewtonPerM, R: Metre, t: Metre) -> Pascal:
    """Bending stress round a ring held between two hard points."""
    return 6 * W * R / (np.pi * t**2)


@formula(
    "sigma_r",
    unit="Pa",
    source="one force against the shear flow of the beam: moment 3 W R/(4 pi); derived",
    ranges=(_THIN_RING,),
)
def chock_ring_stress(W: NewtonPerM, R: Metre, t: Metre) -> Pascal:
    """Bending stress round a tube pressed by a single chock or roller."""
    return 6 * (3 / (4 * np.pi)) * W * R / t**2


@formula(
    "sigma_r",
    unit="Pa",
    source="cosine pressure on half the tube against the shear flow: moment 0.047 W R; derived",
    ranges=(_THIN_RING,),
)
def collar_ring_stress(W: NewtonPerM, R: Metre, t: Metre) -> Pascal:
    """Bending stress round a tube in a close collar."""
    return 6 * 0.047 * W * R / t**2


# --- what the hull holds it with ------------------------------------------------------------------


@formula(
    "V_b",
    unit="N",
    source="bolt group: force shared alike, couple by arm; any text of machine design, from memory",
)
def bolt_shear(F: Newton, M: NewtonMetre, n: One, D_b: Metre) -> Newton:
    """Greatest shear of a bolt in a circle of n, of diameter D_b, under a force and a couple in its plane."""
    return F / n + 2 * M / (n * D_b)


@formula(
    "N_b",
    unit="N",
    source="bolts round a circle under an overturning couple, second moment n D_b^2/8; derived",
)
def bolt_tension(M: NewtonMetre, n: One, D_b: Metre) -> Newton:
    """Greatest tension of a bolt in a circle under an overturning couple; prying left out."""
    return 4 * M / (n * D_b)


@formula("A_b", unit="m2", source="geometry: shank, no thread in the shear plane")
def bolt_area(d_b: Metre) -> Metre2:
    """Area of a bolt's shank."""
    return np.pi * d_b**2 / 4


@formula(
    "p_d",
    unit="Pa",
    source="force over area and couple over section modulus of a pad; derived, contact all over",
)
def pad_peak_pressure(N: Newton, M: NewtonMetre, a: Metre, b: Metre) -> Pascal:
    """Greatest pressure under a pad of length a and width b, under a force and a couple along a."""
    return N / (a * b) + 6 * M / (a**2 * b)
