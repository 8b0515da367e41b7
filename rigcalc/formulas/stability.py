"""What the boat can resist: righting arm and righting moment."""

from __future__ import annotations

import numpy as np

from .record import (
    Kilogram,
    Metre,
    Metre2,
    Metre3,
    MPerS2,
    Newton,
    NewtonMetre,
    One,
    Pascal,
    Radian,
    Range,
    Second,
    formula,
)


@formula(
    "GZ",
    unit="m",
    source="Derrett, Ship Stability for Masters and Mates, p. 130, read",
    ranges=(
        Range(
            "phi",
            lambda phi, **_: phi,
            0.0,
            np.pi / 6,
            why="the sides stop being wall-sided when the deck edge or the bilge meets the water; "
            "30 deg is as far as it is trusted here (common practice)",
        ),
    ),
)
def wall_sided_gz(phi: Radian, GM: Metre, BM: Metre) -> Metre:
    """Righting arm of a wall-sided hull."""
    return np.sin(phi) * (GM + BM * np.tan(phi) ** 2 / 2)


@formula(
    "RM",
    unit="N m",
    source="definition of the righting moment; Derrett, Ship Stability for Masters and Mates, p. 130, read",
)
def righting_moment(m: Kilogram, g: MPerS2, GZ: Metre) -> NewtonMetre:
    """Righting moment of a boat."""
    return m * g * GZ


@formula("GZ'", unit="m", source="Derrett, Ship Stability for Masters and Mates, p. 165, Ex. 2, read")
def gz_after_rise(GZ: Metre, rise: Metre, phi: Radian) -> Metre:
    """Righting arm after the centre of gravity has risen."""
    return GZ - rise * np.sin(phi)


@formula(
    "GG_1", unit="m", source="moments of weight; Derrett, Ship Stability for Masters and Mates, read in part"
)
def centre_of_gravity_rise(m: Kilogram, z: Metre, M: Kilogram) -> Metre:
    """Rise of the boat's centre of gravity for a mass carried z above it."""
    return m * z / M


@formula(
    "BM",
    unit="m",
    source="Derrett, Ship Stability for Masters and Mates, p. 130 (box-shaped vessel), read",
    ranges=(Range("d", lambda d, **_: d, 1e-9, np.inf, "refuse", "a floating box has a draught"),),
)
def box_metacentric_radius(B: Metre, d: Metre) -> Metre:
    """Metacentric radius of a box-shaped hull of beam B and draught d."""
    return B**2 / (12 * d)


@formula(
    "T",
    unit="s",
    source="Walshaw and Jobson, Mechanics of Fluids, Ex. 1.9.1, read",
    ranges=(
        Range(
            "GM", lambda GM, **_: GM, 1e-6, np.inf, "refuse", "a boat without GM does not roll, it lies over"
        ),
    ),
)
def roll_period(k: Metre, g: MPerS2, GM: Metre) -> Second:
    """Natural period of roll for a radius of gyration k."""
    return 2 * np.pi * k / np.sqrt(g * GM)


@formula(
    "F",
    unit="N",
    source="moment equilibrium of the heeled boat about its centre of lateral resistance",
    ranges=(
        Range(
            "h",
            lambda h, **_: h,
            1e-3,
            np.inf,
            "refuse",
            "the sail must pull above the centre of lateral resistance",
        ),
    ),
)
def heeling_force(RM: NewtonMetre, h: Metre) -> Newton:
    """Side force that balances a righting moment at an arm h."""
    return RM / h


@formula("RM_d", unit="N m", source="definition of the dynamic factor")
def factored_moment(RM: NewtonMetre, k_d: One) -> NewtonMetre:
    """Righting moment with the dynamic factor on it."""
    return RM * k_d


@formula("h", unit="m", source="definition of the arm: moment over force")
def heeling_arm(S_F: Metre3, A_F: Metre2) -> Metre:
    """Arm of the side force, from its moment S_F and the force A_F itself to each unit of pressure."""
    return S_F / A_F


@formula("q", unit="Pa", source="force to the side is pressure times A_F")
def pressure_of_force(F: Newton, A_F: Metre2) -> Pascal:
    """Pressure of the wind that makes a side force F; A_F is that force to each unit of pressure."""
    return F / A_F
