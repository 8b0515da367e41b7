"""The forces of the bearings from the balance of all loads about them, one plane at a time."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ...formulas.beams import (
    lower_reaction,
    moment_of_force,
    resultant_force,
    summed_force,
    summed_moment,
    upper_reaction,
)
from ...verdict import CaseResult, Run
from ...verdict.turns import Push, Turns
from .places import Worked, worked_out

SIDE, FORWARD = 0, 1
_PLANES = ("to the side", "forward")
_CAUSES = (
    ("l", "Loads spread along the mast"),
    ("a", "Single forces one way"),
    ("r", "Single forces the other way"),
    ("w", "Own weight, with its inertia"),
)
Load = tuple[float, float]
"""Force and moment."""
NOTHING = 1e-12
"""Share of all loads below which a part of them is what rounding leaves."""


def reactions(run: Run, case: CaseResult) -> tuple[Worked, ...]:
    """Return the worked balance of one case: moments about the lower bearing, then forces.

    Parameters
    ----------
    run : Run
        The run.
    case : CaseResult
        One of its cases.
    """
    number = run.names.index(case.name)
    held = run.loads[number].held_at_m
    lower, upper = (0.0, float(run.model.supports.bury_m)) if held is None else held
    found: list[Worked] = []
    forces: dict[str, list[float]] = {"u": [], "l": []}
    for plane in (SIDE, FORWARD):
        lines = list(_plane(run, number, plane, lower, upper - lower))
        found += lines
        for name in forces:
            # a plane without a load has no lines
            forces[name].append(
                next((w.value for w in lines if w.symbol and w.symbol.startswith(f"R_{name}")), 0.0)
            )
    for name, said in (("u", "upper"), ("l", "lower")):
        side, forward = forces[name]
        found.append(
            worked_out(
                resultant_force,
                0,
                F_s=side,
                F_f=forward,
                symbol=f"R_{name}",
                summary=f"Force of the {said} bearing on the mast, both planes together.",
            )
        )
    turns = Turns(run.model, run.solved, number)
    for name, push in (("upper", turns.upper), ("lower", turns.lower)):
        if push.mast == "bent":
            found.append(pushed(name, push, symbol=f"R_{name[0]},b"))
    return tuple(found)


def pushed(name: str, push: Push, *, symbol: str) -> Worked:
    """Return the force that a bearing is judged by, of the straight or of the bent mast."""
    return worked_out(
        resultant_force,
        0,
        F_s=push.side_N,
        F_f=push.forward_N,
        symbol=symbol,
        summary=f"Force of the {name} bearing on the {push.mast} mast, both planes together.",
    )


def _plane(run: Run, number: int, plane: int, lower_m: float, span_m: float) -> Iterator[Worked]:
    """Yield the balance in one plane; nothing where no load stands in it."""
    parts = _parts(run, number, plane, lower_m)
    if not any(force or moment for force, moment in parts):
        return
    mark, where = "sf"[plane], _PLANES[plane]
    forces, moments = [], []
    for (name, cause), (force, moment) in zip(_CAUSES, parts, strict=True):
        forces.append(force)
        if force == 0.0:
            # a couple, or nothing
            moments.append(moment)
            continue
        line = worked_out(
            moment_of_force,
            0,
            F=force,
            h=moment / force,
            symbol=f"M_{name},{mark}",
            summary=f"{cause}, {where}, at the height of their resultant over the lower bearing.",
        )
        moments.append(line.value)
        yield line
    total = worked_out(
        summed_moment,
        0,
        symbol=f"M_0,{mark}",
        M_l=moments[0],
        M_a=moments[1],
        M_r=moments[2],
        M_w=moments[3],
    )
    yield total
    whole = worked_out(
        summed_force,
        0,
        symbol=f"F_{mark}",
        F_l=forces[0],
        F_a=forces[1],
        F_r=forces[2],
        F_w=forces[3],
    )
    yield whole
    up = worked_out(upper_reaction, 0, M_0=total.value, b=span_m, symbol=f"R_u,{mark}")
    yield up
    yield worked_out(lower_reaction, 0, F=whole.value, R_u=up.value, symbol=f"R_l,{mark}")


def _parts(run: Run, number: int, plane: int, lower_m: float) -> list[Load]:
    """Return force and moment about the lower bearing of each kind of load, in the boat's axes."""
    model, applied = run.model, run.loads[number].applied
    mesh, first = model.mesh, number * len(model.turns_rad)
    line = model.boat_axes(model.line_N_m[:2])[plane, first]
    point = model.boat_axes(model.point_N[:2])[plane, first]
    z, edges = mesh.z_m - lower_m, mesh.edges_m - lower_m
    every = (
        float(mesh.total(line) + np.sum(point)),
        float(mesh.total(line * z) + np.sum(point * edges)),
    )
    spread, ahead, back = (0.0, 0.0), (0.0, 0.0), (0.0, 0.0)
    for part in applied.lines:
        value = (part.side if plane == SIDE else part.forward) * part.at(mesh.z_m)
        spread = _plus(spread, float(mesh.total(value)), float(mesh.total(value * z)))
    for force in applied.points:
        size = force.side_N if plane == SIDE else force.forward_N
        moment = size * (force.height_m - lower_m)
        # forces of one direction have their resultant among them; those of a pair have it nowhere
        if size > 0.0:
            ahead = _plus(ahead, size, moment)
        else:
            back = _plus(back, size, moment)
    known = (spread, ahead, back)
    weight = (every[0] - sum(part[0] for part in known), every[1] - sum(part[1] for part in known))
    scale = [abs(every[k]) + sum(abs(part[k]) for part in known) for k in (0, 1)]
    return [_cleaned(part, scale) for part in (*known, weight)]


def _plus(part: Load, force: float, moment: float) -> Load:
    return part[0] + force, part[1] + moment


def _cleaned(part: Load, scale: list[float]) -> Load:
    """Return a part of the loads without what rounding leaves of nothing."""
    force, moment = (0.0 if abs(of) <= NOTHING * all_ else of for of, all_ in zip(part, scale, strict=True))
    return force, moment
