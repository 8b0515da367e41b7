"""Rolling the sail away: cloth, drum, line and blocks, and the twist of the mast under a part-rolled sail."""

from __future__ import annotations

import numpy as np

from .record import Metre, Newton, NewtonM2, NewtonMetre, NewtonPerM, One, PerMetre, Radian, Range, formula

_CHORD = Range(
    "f/c", lambda w, c, f: f / c, 0.02, 0.25, why="the section of the sail is taken as a shallow arc"
)


@formula("n_d", unit="1", source="turns side by side on a drum; 0.85 of them fit, from memory")
def turns_in_layer(b: Metre, d: Metre) -> One:
    """Turns of a line of diameter d that lie beside each other on a drum of width b."""
    return 0.85 * b / d


@formula(
    "D_k", unit="m", source="geometry: layers of line lie on each other, their middles one diameter apart"
)
def layer_diameter(D_d: Metre, d: Metre, k: One) -> Metre:
    """Diameter to the middle of the line in layer k, counted from 1, on a drum of bare diameter D_d."""
    return D_d + (2 * k - 1) * d


@formula("L_k", unit="m", source="geometry")
def line_in_turns(D_k: Metre, n: One) -> Metre:
    """Line in n turns of one layer."""
    return np.pi * D_k * n


@formula(
    "N_c", unit="N/m", source="shallow arc under an even pressure: N = w c/(8 f) c; derived", ranges=(_CHORD,)
)
def cloth_tension(w: NewtonPerM, c: Metre, f: Metre) -> NewtonPerM:
    """Pull of the cloth along its chord, per metre of luff, where a chord c with camber f bears a load w."""
    return w * c / (8 * f)


@formula("T_c", unit="N m", source="the cloth leaves the roll as a tangent; derived")
def cloth_torque(N: Newton, D: Metre) -> NewtonMetre:
    """Torque of cloth that pulls with a force N on a roll of diameter D."""
    return N * D / 2


@formula("S", unit="N", source="moments about the axis of the drum")
def line_pull(T: NewtonMetre, D: Metre) -> Newton:
    """Pull of a line on a drum of working diameter D that turns it against a torque."""
    return 2 * T / D


@formula(
    "S_h",
    unit="N",
    source="each sheave takes a share of the pull; block and tackle, read; 2 to 10 % a sheave, read",
)
def pull_through_sheaves(S: Newton, l: One, n: One) -> Newton:
    """Pull on the far side of n sheaves that each lose a share l of what is put in."""
    return S / (1 - l) ** n


@formula(
    "S_h",
    unit="N",
    source="purchase with friction: parts add up a falling series; derived",
    ranges=(Range("l", lambda l, **_: l, 1e-9, 0.5, "refuse", "a sheave loses something, and not all"),),
)
def pull_through_purchase(S: Newton, l: One, n: One) -> Newton:
    """Pull on the tail of a purchase of n parts against a force S, each of its n sheaves losing a share l."""
    k = 1 - l
    return S * l / (k * (1 - k**n))


@formula(
    "S_h",
    unit="N",
    source="capstan, T2/T1 = exp(mu theta); Hibbeler, Engineering Mechanics, Ex. 8.9, read in a companion",
)
def pull_round_fairlead(S: Newton, mu: One, theta: Radian) -> Newton:
    """Pull beyond a fairlead that the line rubs round through an angle."""
    return S * np.exp(mu * theta)


@formula("dphi", unit="1/m", source="torsion of a tube")
def twist_rate(T: NewtonMetre, GJ: NewtonM2) -> PerMetre:
    """Twist of a tube per metre under a torque."""
    return T / GJ
