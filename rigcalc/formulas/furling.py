"""Turning the mast by line to roll the sail: the roll, the drum, the line's way to the hand, the cloth's pull."""

from __future__ import annotations

import numpy as np

from .record import (
    Metre,
    Newton,
    NewtonM2,
    NewtonMetre,
    NewtonPerM,
    One,
    Pascal,
    Radian,
    Range,
    formula,
)

_PACKED = "turns laid side by side; packing 0.8 to 0.9, from memory"
_TURNS = Range("n", lambda n, **_: n, 0.0, np.inf, "refuse", "cloth is rolled, not unrolled")
_LAYER = Range("k", lambda k, **_: k, 1.0, np.inf, "refuse", "layers count from one")
_LOSS = Range("x", lambda x, **_: x, 0.0, 0.5, "refuse", "a share lost at each sheave")


# ---------------------------------------------------------------- roll


@formula("L", unit="m", source="area of the roll; Math Forum answer 67031, read", ranges=(_TURNS,))
def rolled_length(D_0: Metre, n: One, t: Metre) -> Metre:
    """Length of cloth of effective thickness t that n turns roll on a core, as a spiral."""
    return np.pi * n * (D_0 + n * t)


@formula(
    "L",
    unit="m",
    source="derived: each turn a circle of the diameter it is laid on",
    ranges=(Range("n", lambda n, **_: n, 1.0, np.inf, "refuse", "whole turns"),),
)
def stepped_rolled_length(D_0: Metre, n: One, t: Metre) -> Metre:
    """Length of cloth of effective thickness t that n whole turns roll on a core, turn by turn."""
    return np.pi * n * (D_0 + (n - 1) * t)


# ---------------------------------------------------------------- drum


@formula("n_l", unit="1", source=_PACKED)
def drum_turns_in_layer(w: Metre, d: Metre, k_p: One) -> One:
    """Turns of a line d that lie beside each other on a drum w wide."""
    return k_p * w / d


@formula("D_k", unit="m", source="geometry: layers one on the other, not in the grooves", ranges=(_LAYER,))
def drum_layer_diameter(D_d: Metre, d: Metre, k: One) -> Metre:
    """Diameter of the middle of the line in layer k on a drum of diameter D_d."""
    return D_d + (2 * k - 1) * d


@formula("L_k", unit="m", source="geometry")
def drum_layer_length(D_k: Metre, n: One) -> Metre:
    """Length of line in n turns of one layer."""
    return np.pi * D_k * n


# ---------------------------------------------------------------- line


@formula("F", unit="N", source="moment about the mast's axis")
def drum_line_pull(T: NewtonMetre, D_k: Metre) -> Newton:
    """Pull at the drum that turns the mast against a torque."""
    return 2 * T / D_k


@formula(
    "F_2",
    unit="N",
    source="Euler and Eytelwein; pickedshares.com, engineering mechanics exercise 27, read",
    ranges=(Range("mu", lambda mu, **_: mu, 0.0, 1.0, "refuse", "a coefficient of friction"),),
)
def capstan_pull(F: Newton, mu: One, theta: Radian) -> Newton:
    """Pull that draws a line held by F round a fixed surface through an angle theta."""
    return F * np.exp(mu * theta)


@formula(
    "F_2",
    unit="N",
    source="public page on blocks and tackle, read: 1.04 roller, 1.09 plain, for wire; 2 to 10 % at each sheave, "
    "B. Toss, The Complete Rigger's Apprentice, p. 35, read",
    ranges=(_LOSS,),
)
def sheaves_pull(F: Newton, x: One, S: One) -> Newton:
    """Pull that draws a line held by F through S blocks one after the other."""
    return F * (1 + x) ** S


@formula(
    "eta",
    unit="1",
    source="public page on blocks and tackle, read; within 0.03 of a trial in Workshop Receipts 5 at a loss of 1/9",
    ranges=(_LOSS,),
)
def purchase_efficiency(x: One, S: One) -> One:
    """Share of the pull that a purchase of S sheaves passes on."""
    return 1 / (1 + S * x)


@formula("F_h", unit="N", source="definition of the purchase")
def purchase_pull(F: Newton, parts: One, eta: One) -> Newton:
    """Pull at the hand for a pull F at the moving block of a purchase."""
    return F / (parts * eta)


@formula(
    "F_max",
    unit="N",
    source="breaking strength over a factor; 5 for running rigging, common practice, from memory",
    ranges=(
        Range("factor", lambda factor, **_: factor, 1.0, np.inf, "refuse", "a factor against breaking"),
        Range("factor", lambda factor, **_: factor, 3.0, np.inf, why="knots alone take half of a line"),
    ),
)
def allowed_line_pull(B: Newton, factor: One) -> Newton:
    """Greatest pull allowed in a line of breaking strength B."""
    return B / factor


# ---------------------------------------------------------------- cloth


@formula(
    "s",
    unit="N/m",
    source="shallow arc of a membrane, w L2/(8 f); as a leech",
    ranges=(Range("f/l", lambda f, l, **_: f / l, 0.02, 0.2, why="the arc is taken as shallow"),),
)
def sheeted_cloth_tension(p: Pascal, l: Metre, f: Metre) -> NewtonPerM:
    """Pull of a filled sail on its roll to the height, for a chord l with a camber f under a pressure p."""
    return p * l**2 / (8 * f)


@formula("s", unit="N/m", source="drag of the cloth down wind of the mast")
def flogging_cloth_tension(p: Pascal, l: Metre, C_f: One) -> NewtonPerM:
    """Pull of a flogging sail on its roll to the height, for a drag coefficient C_f on one side's area."""
    return C_f * p * l


@formula("m_t", unit="N", source="the cloth leaves the roll along its tangent")
def cloth_torque_per_height(s: NewtonPerM, D: Metre) -> Newton:
    """Torque to the height of cloth that pulls with s on a roll of diameter D."""
    return s * D / 2


@formula("theta", unit="rad", source="torsion of a uniform bar under a torque at its end")
def end_torque_twist(T: NewtonMetre, L: Metre, GJ: NewtonM2) -> Radian:
    """Twist of a tube over a length L below a torque."""
    return T * L / GJ


@formula("theta", unit="rad", source="torsion of a uniform bar under an even torque, held at one end")
def even_torque_twist(T: NewtonMetre, L: Metre, GJ: NewtonM2) -> Radian:
    """Twist of the end of a tube under a torque T spread evenly over its length L."""
    return T * L / (2 * GJ)


@formula("u", unit="m", source="geometry of a turning roll")
def cloth_let_out(theta: Radian, D: Metre) -> Metre:
    """Length of cloth that a twist theta lets off a roll of diameter D."""
    return theta * D / 2
