"""Two general frame libraries put to work on a mast: straight prismatic members between nodes.

anastruct is a plane frame; PyNite a space frame, with frequencies and second-order forces. In both a member has one
stiffness along it: a taper is a staircase, at the section of each member's middle, and its error falls as the square of
the member's length. Loads linear along a member, and forces at nodes, they take exactly.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from anastruct import SystemElements
from Pynite import FEModel3D

from .masts import Floats, Mast

STIFF = 1e7
"""Stiffness along the mast, in N: what is asked along it changes nothing across it."""


@dataclass(frozen=True)
class Answer:
    """Deflection and slope at heights, and forces of the bearings on the mast, positive to leeward."""

    z: list[float]
    moved: Floats
    slope: Floats
    moment: Floats
    heel: float
    partners: float


def _line(mast: Mast, low: float, high: float) -> tuple[float, float]:
    """Return the load at both ends of a member."""
    middle = (low + high) / 2
    here = [s for s in mast.lines if s.z0 < middle < s.z1]
    return sum(s.at(low) for s in here), sum(s.at(high) for s in here)


def by_anastruct(mast: Mast, z: list[float]) -> Answer:
    """Solve the straight mast in a plane frame: up is y, leeward x."""
    frame = SystemElements()
    for low, high in pairwise(z):
        middle = (low + high) / 2
        EI = float(mast.EI(np.array(middle), middle))
        frame.add_element([[0.0, low], [0.0, high]], EA=STIFF, EI=EI)
    at = {height: i for i, height in enumerate(z, start=1)}
    frame.add_support_hinged(1)
    # the direction is the one left free
    frame.add_support_roll(at[mast.bury], direction="y")
    for i, (low, high) in enumerate(pairwise(z), start=1):
        w0, w1 = _line(mast, low, high)
        if w0 or w1:
            frame.q_load(q=[w0, w1], element_id=i, direction="x")
    for height, force in mast.points:
        frame.point_load(at[height], Fx=force)
    frame.solve()
    nodes = [frame.get_node_results_system(i) for i in at.values()]
    ends = [frame.get_element_results(i, verbose=True)["M"] for i in range(1, len(z))]
    # it counts deflections, and forces of supports, the other way; its slopes turn from x to y
    return Answer(
        z,
        -np.array([n["ux"] for n in nodes]),
        np.array([n["phi_z"] for n in nodes]),
        np.array([ends[0][0], *(M[-1] for M in ends)]),
        -frame.get_node_results_system(1)["Fx"],
        -frame.get_node_results_system(at[mast.bury])["Fx"],
    )


def _pynite(mast: Mast, z: list[float]) -> FEModel3D:
    """Return the mast as a space frame along x, leeward y, free in that plane alone."""
    frame = FEModel3D()
    for i, height in enumerate(z):
        frame.add_node(f"N{i}", height, 0.0, 0.0)
        frame.def_support(
            f"N{i}", i == 0, height in (0.0, mast.bury) and mast.stiffness is None, True, True, True, False
        )
    if mast.stiffness is not None:
        for height, k in zip((0.0, mast.bury), mast.stiffness, strict=True):
            frame.def_support_spring(f"N{z.index(height)}", "DY", k)
    for i, (low, high) in enumerate(pairwise(z)):
        middle = (low + high) / 2
        EI, m = (float(of(np.array(middle), middle)) for of in (mast.EI, mast.mass))
        # an area of one: what is dense along the mast is its mass, what is stiff along it STIFF
        frame.add_material(f"m{i}", STIFF, STIFF, 0.3, m)
        frame.add_section(f"s{i}", 1.0, EI / STIFF, EI / STIFF, 1.0)
        frame.add_member(f"M{i}", f"N{i}", f"N{i + 1}", f"m{i}", f"s{i}")
    return frame


def _push(frame: FEModel3D, mast: Mast, z: list[float]) -> None:
    for i, (low, high) in enumerate(pairwise(z)):
        w0, w1 = _line(mast, low, high)
        if w0 or w1:
            frame.add_member_dist_load(f"M{i}", "FY", w0, w1)
    for height, force in mast.points:
        frame.add_node_load(f"N{z.index(height)}", "FY", force)
    if mast.axial:
        frame.add_node_load(f"N{len(z) - 1}", "FX", -mast.axial)


def _answer(frame: FEModel3D, mast: Mast, z: list[float]) -> Answer:
    nodes, combo = [frame.nodes[f"N{i}"] for i in range(len(z))], "Combo 1"
    members = [frame.members[f"M{i}"] for i in range(len(z) - 1)]
    moments = [m.moment("Mz", 0.0, combo) for m in members]
    upper = frame.nodes[f"N{z.index(mast.bury)}"]
    return Answer(
        z,
        np.array([n.DY[combo] for n in nodes]),
        np.array([n.RZ[combo] for n in nodes]),
        -np.array([*moments, members[-1].moment("Mz", members[-1].L(), combo)]),
        nodes[0].RxnFY[combo],
        upper.RxnFY[combo],
    )


def by_pynite(mast: Mast, z: list[float], *, second_order: bool = False) -> Answer:
    """Solve the mast in a space frame, straight or with its thrust on the bent shape."""
    frame = _pynite(mast, z)
    _push(frame, mast, z)
    if second_order:
        frame.analyze_PDelta(check_stability=False)
    else:
        frame.analyze_linear(check_stability=False)
    return _answer(frame, mast, z)


def pynite_frequencies(mast: Mast, z: list[float], *, count: int = 2) -> Floats:
    """Return the lowest frequencies of bending in one plane, with consistent masses."""
    frame = _pynite(mast, z)
    kg, height = mast.fittings
    # masses come from loads down, as weights under a gravity of one; those of members from their density
    frame.add_member_self_weight("FX", -1.0)
    frame.add_node_load(f"N{z.index(height)}", "FX", -kg)
    frame.analyze_modal(num_modes=count, mass_direction="X", gravity=1.0, check_stability=False)
    return np.asarray(frame.frequencies)
