"""The wall of a tube bent round its circumference where a bearing presses it.

W is the force to the length of the tube, R the mean radius of the wall and t its thickness. Moments are to the
length of the tube. What presses on one side is held by the shear flow W sin(theta)/(pi R) that the tube carries
away as a beam. theta counts from the middle of what presses; a moment is positive where it flattens the wall.
"""

from __future__ import annotations

import numpy as np

from .record import Metre, Newton, NewtonMetre, NewtonPerM, One, Pascal, Radian, Range, formula

_THIN = Range("R/t", lambda R, t, **_: R / t, 5.0, np.inf, why="the shell it was checked on is thin")
_BROAD = Range(
    "L/R",
    lambda L, R, **_: L / R,
    0.3,
    2.5,
    why="outside this the length was not found to be on the safe side",
)
_FIRST_TURN = Range("theta", lambda theta, **_: theta, 0.0, 2 * np.pi, "refuse", "one time round")
_FLOW = "thin ring held by the shear flow of a beam; Roark's Formulas, from memory; agrees with an energy solution"


@formula("m", unit="N", source="T. H. G. Megson's text on aircraft structures, ch. 5, p. 132, read in part")
def opposed_ring_moment(W: NewtonPerM, R: Metre) -> Newton:
    """Moment in a tube under two opposed lines of force, where they press."""
    return W * R / np.pi


@formula("m", unit="N", source=_FLOW)
def chock_ring_moment(W: NewtonPerM, R: Metre) -> Newton:
    """Moment in a tube pressed along a line, such as by a chock, a hard edge or one roller, where it presses."""
    return 3 * W * R / (4 * np.pi)


@formula("m", unit="N", source="derived: cosine pressure round half the tube, summed from the single line")
def collar_ring_moment(W: NewtonPerM, R: Metre) -> Newton:
    """Moment in a tube held by a close collar, greatest a quarter of the way round from the load."""
    return (1 / 4 - 2 / np.pi**2) * W * R


@formula("m", unit="N", source=_FLOW, ranges=(_FIRST_TURN,))
def ring_moment_at(theta: Radian, W: NewtonPerM, R: Metre) -> Newton:
    """Moment at theta from a line of force on a tube."""
    return W * R / (2 * np.pi) * (1 + np.cos(theta) / 2 - (np.pi - theta) * np.sin(theta))


@formula("n", unit="N/m", source=f"{_FLOW}; radial equilibrium", ranges=(_FIRST_TURN,))
def ring_compression_at(theta: Radian, W: NewtonPerM) -> NewtonPerM:
    """Compression round the wall at theta from a line of force on a tube."""
    return W / (2 * np.pi) * (3 * np.cos(theta) / 2 + (np.pi - theta) * np.sin(theta))


@formula("dD", unit="m", source="thin ring; pi/4 - 2/pi, derived; as Roark's Formulas, from memory")
def opposed_ring_flattening(W: NewtonPerM, R: Metre, D_22: NewtonMetre) -> Metre:
    """Loss of diameter along two opposed lines of force; D_22 is the wall's stiffness round the tube."""
    return (np.pi / 4 - 2 / np.pi) * W * R**3 / D_22


@formula("dD", unit="m", source="thin ring; 2/pi - 1/2, derived; as Roark's Formulas, from memory")
def opposed_ring_widening(W: NewtonPerM, R: Metre, D_22: NewtonMetre) -> Metre:
    """Gain of diameter across two opposed lines of force, which takes up the play of the bush there."""
    return (2 / np.pi - 1 / 2) * W * R**3 / D_22


@formula(
    "L_e",
    unit="m",
    source="1.56 sqrt(R t): saddles of pressure vessels, from memory; against our own solution of Morley's shell "
    "equation the moment is at most 5 % low, at R/t 5, and up to three times too high, at 40",
    ranges=(_THIN, _BROAD),
)
def ring_effective_length(L: Metre, R: Metre, t: Metre) -> Metre:
    """Length of tube that bends as a ring under a bearing of length L, away from its ends."""
    return L + 1.56 * np.sqrt(R * t)


@formula(
    "L_e",
    unit="m",
    source="derived: as above, the wall along the tube over that round it to the power of a quarter; not counted "
    "where it would lengthen",
    ranges=(_THIN, _BROAD),
)
def grained_effective_length(L: Metre, R: Metre, t: Metre, E_x: Pascal, E_y: Pascal) -> Metre:
    """Length of tube that bends as a ring, for a wall of modulus E_x along the tube and E_y round it."""
    return L + 1.56 * np.sqrt(R * t) * np.minimum(E_x / E_y, 1) ** (1 / 4)


@formula(
    "L_e",
    unit="m",
    source="derived: each harmonic is a beam on an elastic foundation, at whose free end an even load never gives more "
    "than 1 + exp(-pi/2) of its deflection far from ends",
)
def end_effective_length(L: Metre) -> Metre:
    """Length of tube that bends as a ring under a bearing at its open end, whatever the wall."""
    return L / (1 + np.exp(-np.pi / 2))


@formula("sigma", unit="Pa", source="bending of a plate, with the compression round the wall")
def ring_wall_stress(m: Newton, n: NewtonPerM, t: Metre) -> Pascal:
    """Stress round the wall from its moment and its compression."""
    return 6 * m / t**2 + n / t


@formula(
    "f_c",
    unit="1",
    source="derived: inner fibre of a curved bar by Winkler, within 0.8 % at R/t 1.5 and closer above",
    ranges=(Range("R/t", lambda R, t: R / t, 1.5, np.inf, "refuse", "there the wall is hardly a ring"),),
)
def curved_wall_factor(R: Metre, t: Metre) -> One:
    """Bending stress at the bore of a thick wall, over that of a flat one."""
    return 1 + t / (3 * R) + t**2 / (8 * R**2)


@formula(
    "epsilon", unit="1", source="bending of a plate of layers that lie alike on both sides of its middle"
)
def ring_wall_strain(m: Newton, t: Metre, D_22: NewtonMetre) -> One:
    """Strain round the wall at its faces from a moment, for a wall of laminate."""
    return m * t / (2 * D_22)


@formula("s", unit="1", source="tubes one in the other, not glued, bend to one shape and share by stiffness")
def nested_ring_share(E_1: Pascal, t_1: Metre, E_2: Pascal, t_2: Metre) -> One:
    """Share of the ring moment borne by a tube with a sleeve, doubler or plug wall beside it that fits closely."""
    return E_1 * t_1**3 / (E_1 * t_1**3 + E_2 * t_2**3)


@formula("W", unit="N/m", source="definition of the force to the length")
def force_to_length(F: Newton, L_e: Metre) -> NewtonPerM:
    """Force to the length of a tube that bears it over a length L_e."""
    return F / L_e
