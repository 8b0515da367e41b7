"""Bodies that touch along a line: a mast in its bush, rollers round a mast.

q is the force to the length of the line. Hertz takes both bodies as half-spaces, so the contact must be narrow
beside them. A mast in a bush of nearly its own size breaks that: there the true contact is narrower than Hertz
makes it and the pressure higher, the more so where the bush is thin.
"""

from __future__ import annotations

import numpy as np

from .record import Metre, Newton, NewtonMetre, NewtonPerM, One, Pascal, Radian, Range, formula

_HERTZ = (
    "Hertz; K. L. Johnson, Contact Mechanics, ch. 4, from memory; agrees with a public calculator page, read"
)
_SEAT = Range(
    "R_1/R_2", lambda R_1, R_2, **_: R_1 / R_2, 0.0, 1 - 1e-9, "refuse", "a shaft is smaller than its seat"
)


@formula("E*", unit="Pa", source=_HERTZ)
def contact_modulus(E_1: Pascal, nu_1: One, E_2: Pascal, nu_2: One) -> Pascal:
    """Stiffness of two bodies pressed together."""
    return 1 / ((1 - nu_1**2) / E_1 + (1 - nu_2**2) / E_2)


@formula("R", unit="m", source=_HERTZ)
def convex_radius(R_1: Metre, R_2: Metre) -> Metre:
    """Radius that stands for two cylinders side by side, such as a roller on a mast."""
    return R_1 * R_2 / (R_1 + R_2)


@formula("R", unit="m", source=_HERTZ, ranges=(_SEAT,))
def seat_radius(R_1: Metre, R_2: Metre) -> Metre:
    """Radius that stands for a cylinder inside another, such as a roller in its race."""
    return R_1 * R_2 / (R_2 - R_1)


@formula("a", unit="m", source=_HERTZ)
def line_half_width(q: NewtonPerM, R: Metre, E_s: Pascal) -> Metre:
    """Half the width of the contact."""
    return np.sqrt(4 * q * R / (np.pi * E_s))


@formula("p_0", unit="Pa", source=_HERTZ)
def line_peak_pressure(q: NewtonPerM, R: Metre, E_s: Pascal) -> Pascal:
    """Highest pressure of the contact; the mean is pi/4 of it."""
    return np.sqrt(q * E_s / (np.pi * R))


@formula(
    "a",
    unit="m",
    source=f"{_HERTZ}; that the true contact is narrower: Persson (1964), from memory",
    ranges=(
        _SEAT,
        Range(
            "a/R_1",
            lambda q, R_1, R_2, E_s: np.sqrt(4 * q * R_2 / (np.pi * E_s * (R_2 - R_1) * R_1)),
            -np.inf,
            0.3,
            why="a half-space has no such contact; the true one is narrower and its pressure higher",
        ),
    ),
)
def seat_half_width(q: NewtonPerM, R_1: Metre, R_2: Metre, E_s: Pascal) -> Metre:
    """Half the width at most of the contact of a shaft in a bore of nearly its own size."""
    return np.sqrt(4 * q * R_1 * R_2 / (np.pi * E_s * (R_2 - R_1)))


@formula("tau_max", unit="Pa", source="K. L. Johnson, Contact Mechanics, 4.2, from memory")
def line_peak_shear(p_0: Pascal) -> Pascal:
    """Highest shear stress under a line of contact, at a depth of 0.79 of its half width."""
    return 0.300 * p_0


@formula("p_Y", unit="Pa", source="first yield by Tresca under 0.300 p_0; Johnson, 6.1, from memory")
def line_yield_pressure(f_y: Pascal) -> Pascal:
    """Highest pressure of a line of contact at which the softer body begins to yield below the surface."""
    return f_y / 0.600


# ---------------------------------------------------------------- rollers round the mast


@formula(
    "delta",
    unit="m",
    source="K. L. Johnson, Contact Mechanics, 5.6, from memory",
    ranges=(
        Range(
            "a/R",
            lambda a, R, **_: a / R,
            1e-9,
            0.5,
            "refuse",
            "the roller is pressed flat: no line of contact",
        ),
    ),
)
def roller_squeeze(q: NewtonPerM, R: Metre, a: Metre, E: Pascal, nu: One) -> Metre:
    """Loss of diameter of a roller of radius R between two lines of contact of half width a."""
    return 4 * q * (1 - nu**2) / (np.pi * E) * (np.log(4 * R / a) - 1 / 2)


@formula(
    "epsilon",
    unit="1",
    source="load zone of a rolling bearing, derived: half the span of the rollers that are touched, over D",
    ranges=(Range("delta", lambda delta, **_: delta, 0.0, np.inf, "refuse", "no roller is touched"),),
)
def load_zone(delta: Metre, c: Metre) -> One:
    """Share of the way round that is loaded, for the squeeze delta of the foremost roller and a play c."""
    return delta / (2 * delta + c)


@formula(
    "Q_max",
    unit="N",
    source="Stribeck; NSK technical report E728g, 5.1, eqs 4 and 5, read: S 4.08 for rollers without play, 4.37 for "
    "balls; 5 covers ordinary play, from memory",
    ranges=(
        Range("Z", lambda Z, **_: Z, 5.0, np.inf, why="so few rollers must be summed one by one"),
        Range(
            "S", lambda S, **_: S, 4.0, np.inf, "refuse", "no play of the rollers gives less without preload"
        ),
    ),
)
def largest_roller_load(F: Newton, S: One, Z: One, alpha: Radian) -> Newton:
    """Load of the hardest pressed of Z rollers whose axes lean by alpha from that of the mast."""
    return S * F / (Z * np.cos(alpha))


@formula("Q", unit="N", source="equilibrium; NSK technical report E728g, 5.1, eq. 6, read")
def thrust_roller_load(N: Newton, Z: One, alpha: Radian) -> Newton:
    """Load of each of Z rollers that carry an axial force alone, at a contact angle alpha."""
    return N / (Z * np.sin(alpha))


@formula("T", unit="N m", source="derived: rim force of the roller against the friction at its pin")
def pinned_roller_torque(mu: One, Q: Newton, D: Metre, d: Metre, d_p: Metre) -> NewtonMetre:
    """Friction torque of a mast of diameter D on rollers d on pins d_p; Q is the sum of all roller loads."""
    return mu * Q * d_p * D / (2 * d)


@formula("T", unit="N m", source="derived: work lost at both contacts of a roller between mast and race")
def caged_roller_torque(e: Metre, Q: Newton, D: Metre, d: Metre) -> NewtonMetre:
    """Rolling torque of a mast of diameter D on free rollers d; e is the arm by which the load runs ahead."""
    return e * Q * (D + d) / d


@formula("e", unit="m", source="K. L. Johnson, Contact Mechanics, 9.1, from memory: lost share of 2 a/(3 pi)")
def hysteresis_arm(a: Metre, share: One) -> Metre:
    """Arm by which the load runs ahead of the middle of a rolling contact; share is of the work lost."""
    return 2 * share * a / (3 * np.pi)
