"""The step under the weight of the mast: thrust faces, their friction, and what holds the heel down.

R_2 and R_1 are the outer and inner radius of the face. Even pressure is that of a new face and gives the greater
torque; even wear is that of a face worn in. Friction figures seldom justify choosing.
"""

from __future__ import annotations

import numpy as np

from .record import Metre, Newton, NewtonMetre, One, Pascal, Radian, Range, formula

_PIVOTS = "Tribology in Machine Design, pp. 125-126, read"
_FACE = Range("R_1/R_2", lambda R_1, R_2, **_: R_1 / R_2, 0.0, 1 - 1e-9, "refuse", "the face has a breadth")
_CONE = Range(
    "alpha",
    lambda alpha, **_: alpha,
    0.17,
    np.pi / 2 * (1 + 1e-9),
    "refuse",
    "half the angle at the point; a cone sharper than 10 deg wedges fast",
)


@formula("R_m", unit="m", source=_PIVOTS, ranges=(_FACE,))
def even_pressure_arm(R_2: Metre, R_1: Metre) -> Metre:
    """Arm of the friction of a flat face or collar under even pressure: 2/3 of the radius of a whole face."""
    return 2 * (R_2**3 - R_1**3) / (3 * (R_2**2 - R_1**2))


@formula("R_m", unit="m", source=_PIVOTS, ranges=(_FACE,))
def even_wear_arm(R_2: Metre, R_1: Metre) -> Metre:
    """Arm of the friction of a flat face or collar worn evenly: 1/2 of the radius of a whole face."""
    return (R_2 + R_1) / 2


@formula("T", unit="N m", source=_PIVOTS)
def face_friction_torque(mu: One, N: Newton, R_m: Metre) -> NewtonMetre:
    """Friction torque of a flat face or of any number of collars under an axial force N."""
    return mu * N * R_m


@formula("T", unit="N m", source=_PIVOTS, ranges=(_CONE,))
def cone_friction_torque(mu: One, N: Newton, R_m: Metre, alpha: Radian) -> NewtonMetre:
    """Friction torque of a cone, whole or truncated, of half angle alpha."""
    return mu * N * R_m / np.sin(alpha)


@formula("p", unit="Pa", source="equilibrium; the same for a cone, whatever its angle", ranges=(_FACE,))
def even_thrust_pressure(N: Newton, R_2: Metre, R_1: Metre) -> Pascal:
    """Pressure square to a flat face, collar or cone under even pressure."""
    return N / (np.pi * (R_2**2 - R_1**2))


@formula(
    "p",
    unit="Pa",
    source="equilibrium of a pressure that falls as the radius grows",
    ranges=(
        Range(
            "R_1/R_2",
            lambda R_1, R_2, **_: R_1 / R_2,
            1e-6,
            1 - 1e-9,
            "refuse",
            "it has no bound in the middle",
        ),
    ),
)
def worn_thrust_pressure(N: Newton, R_2: Metre, R_1: Metre) -> Pascal:
    """Highest pressure of an evenly worn collar or truncated cone, at its inner edge."""
    return N / (2 * np.pi * R_1 * (R_2 - R_1))


@formula("H", unit="N", source="derived: one side of the cone touches, no friction counted", ranges=(_CONE,))
def cone_side_force(N: Newton, alpha: Radian) -> Newton:
    """Greatest side force under which a heel stays down in a cone under an axial force N."""
    return N / np.tan(alpha)


@formula("N", unit="N", source="equilibrium along the mast; below zero the heel is drawn out")
def step_thrust(W: Newton, phi: Radian, P: Newton) -> Newton:
    """Axial force on the step from a weight W heeled by phi and the pull P of halyard, downhaul and leech."""
    return W * np.cos(phi) + P


@formula(
    "H_d",
    unit="N",
    source="equilibrium along the mast; friction of the bearings not counted",
    ranges=(Range("phi", lambda phi, **_: phi, 0.0, np.pi, "refuse", "an angle of heel"),),
)
def hold_down_force(W: Newton, phi: Radian, P: Newton) -> Newton:
    """Force that keeps the heel in its step; nothing where its own weight does."""
    return np.maximum(-W * np.cos(phi) - P, 0.0)
