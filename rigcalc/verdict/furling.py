"""The furling of a rig: the sail in a reference wind, let fly and drawing, and what its bearings feel of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from ..bearings import (
    REFERENCE_M_S,
    Drawn,
    FurlingResult,
    Gear,
    HeldTorque,
    Journal,
    Roll,
    RollAt,
    furling_result,
    roll_up,
)
from ..bearings.furling import FLOGGING_DRAG
from ..formulas import Working
from ..loads import CaseLoad, case_loads, sails_taken_in
from ..loads.line import Applied, LineLoad
from ..loads.spar import diameter_line
from ..rig import LUFF, ROLLED, WIND_LIMITED, Case, Rig
from ..stretches import distinct
from .evaluate import Run
from .model import build_model
from .post import PostModel
from .solve import solve_cases
from .turns import Turns

LOADED_COEFFICIENT = 1.2
"""Side force of a close-hauled sail: a scanned text of rig design, read."""
FLAT = 1 / 8
"""A camber at which a drawing sail pulls on its luff with no more than its own force: what a flogging one does."""
ROLL_HEIGHTS = 9


def furling(rig: Rig, run: Run, partners: Journal, step: Journal, working: Working) -> FurlingResult | None:
    """Return what it takes to roll the sail away, where the rig has the gear for it."""
    if rig.furling is None:
        return None
    slack = tuple(
        replace(sail, camber=FLAT, load_path=LUFF) if sail.hold == ROLLED else sail for sail in rig.sails
    )
    sets = ((rig, LOADED_COEFFICIENT), (replace(rig, sails=slack), FLOGGING_DRAG))
    loaded, luffed = _drawn(rig, run.post, sets)
    roll, rolls = _roll(rig, working)
    return furling_result(
        Gear(rig.bearings, rig.furling, partners, step),
        luffed=luffed,
        loaded=loaded,
        roll=roll,
        rolls=rolls,
        held=_held(rig, run),
        wind_m_s=REFERENCE_M_S,
        working=working,
    )


def _drawn(rig: Rig, post: PostModel | None, sets: Sequence[tuple[Rig, float]]) -> list[Drawn]:
    """Solve the mast upright with its sails set in some ways, in the reference wind and in a calm."""
    loads: list[CaseLoad] = []
    outside = diameter_line(rig)
    for sailed, coefficient in sets:
        (blown,) = case_loads(sailed, (_in(coefficient),), Working(), outside=outside)
        # in a calm there is the weight alone
        loads += [blown, replace(blown, applied=Applied(), turned=())]
    model = build_model(rig, loads, post)
    solved, edge = solve_cases(model, loads, stability=False), model.mesh.edge_index(rig.mast.bury_m)
    found = []
    for i in range(0, len(loads), 2):
        blowing, calm = (Turns(model, solved, case) for case in (i, i + 1))
        found.append(
            Drawn(
                cloth_N_m=loads[i].whole_torque_N_m,
                partners_N=blowing.upper_N,
                step_N=blowing.lower_N,
                partners_rad=blowing.slope_rad(edge),
                step_rad=blowing.slope_rad(0),
                down_N=blowing.thrust_N,
                calm_down_N=calm.thrust_N,
            )
        )
    return found


def _in(coefficient: float) -> Case:
    return Case(
        name="furling",
        kind=WIND_LIMITED,
        wind_speed_m_s=REFERENCE_M_S,
        gust_factor=1.0,
        dynamic_factor=1.0,
        force_coefficient=coefficient,
        force_angle_rad=np.pi / 2,
    )


def _roll(rig: Rig, working: Working) -> tuple[Roll, tuple[RollAt, ...]]:
    """Return the roll of the sail that takes most turns."""
    found = []
    for sail in sails_taken_in(rig):
        assert sail.rolled is not None
        cloth = LineLoad(sail.rolled.breaks_m, sail.rolled.lower_m, sail.rolled.upper_m)
        core = diameter_line(rig)
        low, high = float(cloth.breaks_m[0]), min(float(cloth.breaks_m[-1]), rig.mast.length_m)
        # the cloth is longest at a corner: those are looked at besides
        corners = cloth.breaks_m[(cloth.breaks_m > low) & (cloth.breaks_m < high)]
        z = distinct(np.concatenate([np.linspace(low, high, ROLL_HEIGHTS), corners]))[:, None]
        bare, rolled = core.at(z)[:, 0], cloth.at(z)[:, 0]
        roll = roll_up(
            core_m=bare,
            cloth_m=rolled,
            thickness_m=sail.sail.cloth_thickness_m * sail.sail.roll_slack,
            working=working,
        )
        each = tuple(
            RollAt(float(height), float(size), float(outside))
            for height, size, outside in zip(z[:, 0], bare, roll.outside_m, strict=True)
        )
        found.append((roll, each))
    return max(found, key=lambda pair: pair[0].turns)


def _held(rig: Rig, run: Run) -> Sequence[HeldTorque]:
    """Return the torque under the sails in every case, and how far the mast twists above a drum at the partners."""
    mesh, GJ = run.model.mesh, run.model.sections.GJ_N_m2
    above = mesh.z_m >= rig.mast.bury_m
    found = []
    for i, load in enumerate(run.loads):
        if load.turned:
            torque = run.model.torque_N_m[i * len(run.model.turns_rad)]
            twist = float(mesh.total(np.where(above, torque, 0.0) / GJ))
            found.append(HeldTorque(load.name, float(torque[0, 0]), twist))
    return found
