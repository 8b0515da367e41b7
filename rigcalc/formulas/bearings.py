"""Plain bearings: pressure, edges, wear, friction, and the play between bush and mast.

D is the diameter the mast turns in, L the length of the bush along it, and c the play on the diameter. A bush
that is thin beside its diameter and backed by something stiff is taken as an elastic layer: each spot gives way
by itself.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np

from .record import (
    Hertz,
    Metre,
    MPerS,
    Newton,
    NewtonM2,
    NewtonMetre,
    One,
    Pascal,
    Radian,
    Range,
    Second,
    Value,
    formula,
)

NewtonPerM3 = Annotated[Value, "N/m3"]
PerPascal = Annotated[Value, "1/Pa"]
Watt = Annotated[Value, "N m/s"]
PascalMPerS = Annotated[Value, "Pa m/s"]
Kelvin = Annotated[Value, "K"]
PerKelvin = Annotated[Value, "1/K"]

_LAYER = "derived: elastic layer on a stiff backing, each spot giving way by itself"
_CLOSE = "derived: pressure as the cosine round half the circumference"
_ARCHARD = (
    "Archard; R. O. Wentzell, Machine Design, Ex. 19.2, p. 421, read through a public companion notebook"
)

_SHORT = Range(
    "L/D",
    lambda L, D, **_: L / D,
    0.0,
    1.5,
    why="bushes are made 1/2 to 1 1/2 diameters long; a longer one does not bear evenly (The Tribology Handbook, "
    "A5, read)",
)
_HALF_ANGLE = Range(
    "psi", lambda psi, **_: psi, 1e-3, np.pi / 2 - 1e-6, "refuse", "contact lies on less than half the bore"
)
_NU = Range("nu", lambda nu, **_: nu, 0.0, 0.49, "refuse", "a layer that keeps its volume has no modulus")
_SLOPE = Range(
    "theta", lambda theta, **_: theta, 1e-9, np.inf, "refuse", "a mast square in its bush has no edge"
)


# ---------------------------------------------------------------- pressure


@formula("p", unit="Pa", source="R. J. Crawford, Plastics Engineering, p. 29, read", ranges=(_SHORT,))
def projected_pressure(F: Newton, L: Metre, D: Metre) -> Pascal:
    """Pressure of a bush on its projected area, which limits in tables are given for.

    Of the mast too, where its wall is what is pressed: there L is the height of the bearing.
    """
    return F / (L * D)


@formula("p_0", unit="Pa", source=_CLOSE, ranges=(_SHORT,))
def close_bush_peak_pressure(F: Newton, L: Metre, D: Metre) -> Pascal:
    """Highest pressure in a bush without play, or on the mast that it presses."""
    return 4 * F / (np.pi * L * D)


@formula("E_l", unit="Pa", source="derived: layer free to spread sideways in one direction, plane strain")
def free_layer_modulus(E: Pascal, nu: One) -> Pascal:
    """Stiffness through the thickness of a bush that can spread along the mast; the softer of two bounds."""
    return E / (1 - nu**2)


@formula("E_l", unit="Pa", source="derived: layer held sideways in both directions", ranges=(_NU,))
def held_layer_modulus(E: Pascal, nu: One) -> Pascal:
    """Stiffness through the thickness of a bush that cannot spread; the stiffer of two bounds."""
    return E * (1 - nu) / ((1 + nu) * (1 - 2 * nu))


@formula("k", unit="N/m3", source=_LAYER)
def bush_foundation(E_l: Pascal, t: Metre) -> NewtonPerM3:
    """Pressure on a bush of thickness t for each metre that it gives way."""
    return E_l / t


@formula("F", unit="N", source=_LAYER, ranges=(_HALF_ANGLE,))
def bush_contact_load(psi: Radian, k: NewtonPerM3, L: Metre, D: Metre, c: Metre) -> Newton:
    """Force under which a mast with play c touches its bush from -psi to psi of the direction it is pressed in."""
    return k * L * D * c / 4 * (psi / np.cos(psi) - np.sin(psi))


@formula("p_0", unit="Pa", source=f"{_LAYER}; 4/pi of the mean at half the bore", ranges=(_HALF_ANGLE,))
def bush_peak_pressure(F: Newton, L: Metre, D: Metre, psi: Radian) -> Pascal:
    """Highest pressure in a bush that the mast touches from -psi to psi."""
    # 1 - cos(psi), kept exact where the contact is narrow
    return 4 * F * np.sin(psi / 2) ** 2 / (L * D * (psi - np.sin(psi) * np.cos(psi)))


@formula("f_T", unit="1", source=f"{_LAYER}; 4/pi at half the bore, 1 at a line", ranges=(_HALF_ANGLE,))
def bush_friction_factor(psi: Radian) -> One:
    """Friction torque of a bush touched from -psi to psi, over that of the same force at a line."""
    return 2 * (np.sin(psi) - psi * np.cos(psi)) / (psi - np.sin(psi) * np.cos(psi))


# ---------------------------------------------------------------- edges


@formula("L_max", unit="m", source="geometry of a straight shaft across a bore", ranges=(_SLOPE,))
def longest_free_bush(c: Metre, theta: Radian) -> Metre:
    """Greatest length of bush that a mast of slope theta crosses without touching both edges."""
    return c / theta


@formula(
    "p_e",
    unit="Pa",
    source=_LAYER,
    ranges=(
        Range(
            "k theta L/(2 p_0)",
            lambda p_0, k, theta, L: k * theta * L / (2 * p_0),
            0.0,
            1.0,
            "refuse",
            "one end of the bush lifts off",
        ),
    ),
)
def tilted_edge_pressure(p_0: Pascal, k: NewtonPerM3, theta: Radian, L: Metre) -> Pascal:
    """Highest pressure at the edge of a close bush touched over its whole length by a mast of slope theta.

    p_0 is the highest pressure were the mast square in the bush.
    """
    return p_0 + k * theta * L / 2


@formula(
    "p_e",
    unit="Pa",
    source=_LAYER,
    ranges=(
        Range(
            "k theta L/(2 p_0)",
            lambda p_0, k, theta, L: k * theta * L / (2 * p_0),
            1.0,
            np.inf,
            "refuse",
            "the bush is touched over its whole length",
        ),
    ),
)
def wedged_edge_pressure(p_0: Pascal, k: NewtonPerM3, theta: Radian, L: Metre) -> Pascal:
    """Highest pressure at the edge of a close bush that a mast of slope theta touches over part of its length."""
    return np.sqrt(2 * p_0 * k * theta * L)


@formula(
    "C",
    unit="N m",
    source="derived: uniform bury pinned at the step, slope held at c/L by stiff edges",
    ranges=(
        Range(
            "M_p b L/(3 E I c)",
            lambda M_p, b, EI, c, L: M_p * b * L / (3 * EI * c),
            1.0,
            np.inf,
            "refuse",
            "the mast crosses the bush without touching both edges",
        ),
    ),
)
def jammed_bush_couple(M_p: NewtonMetre, b: Metre, EI: NewtonM2, c: Metre, L: Metre) -> NewtonMetre:
    """Couple of a bush that the mast jams in, from the moment M_p just above it."""
    return M_p - 3 * EI * c / (L * b)


@formula("F_e", unit="N", source="equilibrium of two edges L apart")
def jammed_edge_force(F: Newton, C: NewtonMetre, L: Metre) -> Newton:
    """Force at the edge of a jammed bush that works with the side force F; the other takes F less of it."""
    return F / 2 + C / L


# ---------------------------------------------------------------- speed, wear, creep


@formula("V", unit="m/s", source="geometry")
def sliding_speed(D: Metre, n: Hertz) -> MPerS:
    """Speed at which a mast slides in its bush, at n turns a second."""
    return np.pi * D * n


@formula("PV", unit="Pa m/s", source="definition; R. J. Crawford, Plastics Engineering, p. 29, read")
def pressure_times_speed(p: Pascal, V: MPerS) -> PascalMPerS:
    """Product of pressure and sliding speed, which says how warm a bush runs."""
    return p * V


@formula(
    "L",
    unit="m",
    source="R. O. Wentzell, Machine Design, Ex. 19.1, p. 417, read through a public companion notebook",
)
def bush_length_for_pv(F: Newton, n: Hertz, PV: PascalMPerS) -> Metre:
    """Length of bush that keeps pressure times speed at PV, whatever the diameter."""
    return np.pi * F * n / PV


@formula("h", unit="m", source=f"{_ARCHARD}; the loaded side of a bush that stands still")
def wear_in_turning(k_w: PerPascal, p: Pascal, D: Metre, turns: One) -> Metre:
    """Depth worn off a bush by turns of the mast; k_w is the volume worn to the force times the way."""
    return k_w * p * np.pi * D * turns


@formula("t", unit="s", source=_ARCHARD)
def wear_life(h: Metre, k_w: PerPascal, p: Pascal, V: MPerS) -> Second:
    """Time of turning that wears a depth h off a bush."""
    return h / (k_w * p * V)


@formula("p", unit="Pa", source="definition of the creep modulus")
def creep_pressure(E: Pascal, share: One, epsilon: One) -> Pascal:
    """Pressure that squeezes a bush by a strain epsilon in the long run; share is creep over first modulus."""
    return share * E * epsilon


@formula("h_c", unit="m", source="definition of the creep modulus; the bush free to spread")
def creep_sinking(p: Pascal, t: Metre, E: Pascal, share: One) -> Metre:
    """Depth that a mast sinks into a bush of thickness t in the long run."""
    return p * t / (share * E)


# ---------------------------------------------------------------- friction


@formula(
    "T", unit="N m", source="Khurmi and Gupta, Theory of Machines, Ex. 10.15, read through a public notebook"
)
def journal_friction_torque(mu: One, F: Newton, D: Metre) -> NewtonMetre:
    """Friction torque of a mast pressed against a loose bush, at a line."""
    return mu * F * D / 2


@formula("T", unit="N m", source=_CLOSE)
def close_journal_friction_torque(mu: One, F: Newton, D: Metre) -> NewtonMetre:
    """Friction torque of a mast in a bush without play, pressed against half of it."""
    return 2 * mu * F * D / np.pi


@formula("P", unit="N m/s", source="work of a torque")
def friction_power(T: NewtonMetre, n: Hertz) -> Watt:
    """Power that a torque takes at n turns a second."""
    return 2 * np.pi * n * T


# ---------------------------------------------------------------- play


@formula("epsilon", unit="1", source="definition of thermal expansion")
def thermal_growth(alpha: PerKelvin, dT: Kelvin) -> One:
    """Growth of every length with temperature."""
    return alpha * dT


@formula("dc", unit="m", source="geometry of a ring that nothing holds: its bore grows with it")
def free_bush_play_change(D: Metre, epsilon_b: One, epsilon_s: One) -> Metre:
    """Play gained on the diameter by a bush loose in its housing; b bush, s mast."""
    return D * (epsilon_b - epsilon_s)


@formula(
    "x", unit="m", source="geometry: the bush would stand out beyond its hole by this if nothing held it"
)
def bush_grip(D: Metre, t: Metre, epsilon_b: One, epsilon_h: One, i: Metre) -> Metre:
    """Diameter a bush is pressed in by its housing; i is that at the bench. Below zero it is loose."""
    return (D + 2 * t) * (epsilon_b - epsilon_h) + i


@formula("kappa", unit="1", source="derived: a thin layer bonded to its backing both ways", ranges=(_NU,))
def bonded_thickening(nu: One) -> One:
    """Growth of the thickness of a bonded layer over what its backing takes from its growth both ways."""
    return 2 * nu / (1 - nu)


@formula(
    "dc",
    unit="m",
    source="derived: thin wall, pressed in round about; kappa is Poisson's ratio where it may grow along the mast",
    ranges=(
        Range("kappa", lambda kappa, **_: kappa, 0.0, 2.0, "refuse", "a wall thickens at most by its volume"),
    ),
)
def gripped_bore_loss(x: Metre, D: Metre, t: Metre, kappa: One) -> Metre:
    """Play lost on the diameter by a bush whose outside is pressed in by x, its wall thickening by kappa of it."""
    return x * (1 + 2 * t * kappa / (D + 2 * t))


@formula(
    "dc",
    unit="m",
    source="a part of the interference goes into the bore; 0.8 to 1 for thin plastic, from memory",
)
def pressed_bore_loss(i: Metre, share: One) -> Metre:
    """Play lost on the diameter when a bush i too large is pressed in."""
    return share * i
