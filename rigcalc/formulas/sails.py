"""Sails: the wind they see, the force they make, the leech that hangs between head and clew, the roll."""

from __future__ import annotations

import numpy as np

from .record import (
    Hertz,
    KgPerM,
    KgPerM3,
    Metre,
    Metre2,
    MPerS,
    Newton,
    NewtonPerM,
    One,
    Radian,
    Range,
    formula,
)

_MODEL = "sign convention of a public sailing model, read"


@formula("V_a", unit="m/s", source="wind triangle")
def apparent_wind_speed(V_t: MPerS, beta_t: Radian, V_b: MPerS) -> MPerS:
    """Wind felt aboard, from true wind, its angle off the bow and boat speed."""
    return np.hypot(V_t * np.sin(beta_t), V_t * np.cos(beta_t) + V_b)


@formula("beta", unit="rad", source="wind triangle")
def apparent_wind_angle(V_t: MPerS, beta_t: Radian, V_b: MPerS) -> Radian:
    """Angle off the bow of the wind felt aboard."""
    return np.arctan2(V_t * np.sin(beta_t), V_t * np.cos(beta_t) + V_b)


@formula("C_R", unit="1", source=f"lift and drag resolved along the boat; {_MODEL}")
def driving_coefficient(C_L: One, C_D: One, beta: Radian) -> One:
    """Part of a sail's force that drives the boat forward."""
    return C_L * np.sin(beta) - C_D * np.cos(beta)


@formula("C_H", unit="1", source=f"lift and drag resolved across the boat; {_MODEL}")
def heeling_coefficient(C_L: One, C_D: One, beta: Radian) -> One:
    """Part of a sail's force that heels the boat."""
    return C_L * np.cos(beta) + C_D * np.sin(beta)


@formula(
    "C_Di",
    unit="1",
    source="lifting-line theory with an effective height; 1.1 times the rig's in two public sailing models, read",
)
def induced_drag_coefficient(C_L: One, A: Metre2, h_e: Metre) -> One:
    """Drag that comes with the lift of a sail of finite height."""
    return C_L**2 * A / (np.pi * h_e**2)


@formula(
    "f_phi",
    unit="1",
    source="heeling force with heel: cos^1.3 in a sail-training stability text, read; cos and cos^2 elsewhere",
    ranges=(
        Range("phi", lambda phi, **_: phi, 0.0, np.pi / 2, "refuse", "past level the sail is in the water"),
    ),
)
def heel_falloff(phi: Radian, n: One) -> One:
    """Share of the upright heeling moment left at a heel."""
    return np.cos(phi) ** n


@formula(
    "T",
    unit="N",
    source="shallow cable, w L2/(8 f); A. K. Tayal, Engineering Mechanics, Ex. 10.4, read",
    ranges=(
        Range("f/L", lambda f, L, **_: f / L, 0.005, 0.12 * (1 + 1e-9), why="the cable is taken as shallow"),
    ),
)
def leech_tension(w: NewtonPerM, L: Metre, f: Metre) -> Newton:
    """Tension of a leech of length L that sags by f under a load w on each metre."""
    return w * L**2 / (8 * f)


@formula("D_n", unit="m", source="area of the roll, pi (D_n2 - D_02)/4 = L t; Math Forum answer 67031, read")
def roll_diameter(D_0: Metre, L: Metre, t: Metre) -> Metre:
    """Diameter of a roll of cloth of length L and effective thickness t on a core."""
    return np.sqrt(D_0**2 + 4 * t * L / np.pi)


@formula("n", unit="1", source="area of the roll; Math Forum answer 67031, read")
def roll_turns(D_0: Metre, L: Metre, t: Metre) -> One:
    """Turns in a roll of cloth of length L and effective thickness t on a core."""
    return (np.sqrt(D_0**2 + 4 * t * L / np.pi) - D_0) / (2 * t)


@formula(
    "v_c",
    unit="m/s",
    source="Strouhal number; Subramanya, 1000 Solved Problems in Fluid Mechanics, Ex. 9.10, read",
)
def critical_wind_speed(n: Hertz, D: Metre, St: One) -> MPerS:
    """Wind that sheds vortices from a round spar in time with its natural frequency."""
    return n * D / St


@formula(
    "n_s",
    unit="Hz",
    source="Strouhal number; Subramanya, 1000 Solved Problems in Fluid Mechanics, Ex. 9.10, read",
)
def shedding_frequency(v: MPerS, D: Metre, St: One) -> Hertz:
    """Frequency at which a round spar sheds vortices."""
    return St * v / D


@formula("Sc", unit="1", source="EN 1991-1-4:2005, E.1.3.3; form read in a public thesis code")
def scruton_number(m: KgPerM, delta: One, rho: KgPerM3, D: Metre) -> One:
    """Mass and damping of a spar against the air it moves."""
    return 2 * m * delta / (rho * D**2)


@formula(
    "y_max/D",
    unit="1",
    source="EN 1991-1-4:2005, E.1.5.2.1, from memory",
    ranges=(
        Range(
            "y_max/D",
            lambda K, K_w, c_lat, St, Sc: K * K_w * c_lat / (St**2 * Sc),
            0.0,
            0.6,
            why="past this the correlation length the factors assume no longer holds",
        ),
    ),
)
def shedding_sway(K: One, K_w: One, c_lat: One, St: One, Sc: One) -> One:
    """Sway of a spar at its critical wind, over its diameter."""
    return K * K_w * c_lat / (St**2 * Sc)
