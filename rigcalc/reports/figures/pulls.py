"""The forces on the mast in one case, seen from the side and from astern, in balance."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from ...frozen import dataclass
from ...loads import LineLoad, PointLoad
from ...verdict.model import ALONG, FORWARD, SIDE
from .record import Scene

SMALL: Final = 5e-3
"""Share of the greatest force of a bearing below which a force is not drawn."""


@dataclass(frozen=True)
class Pull:
    """One force on the mast in one view.

    Parameters
    ----------
    name : str
        Where it comes from.
    height_m : float
        Where it acts.
    across_N : float
        Square to the mast: to leeward, or forward.
    along_N : float
        Along the mast, positive towards its tip.
    note : str
        What follows its size in a label.
    """

    name: str
    height_m: float
    across_N: float
    along_N: float
    note: str = ""

    @property
    def size_N(self) -> float:
        return float(np.hypot(self.across_N, self.along_N))


def pulls(scene: Scene, i: int, plane: int) -> tuple[Pull, ...]:
    """Return all forces on the mast in one plane: what the loads make, its weight, and the bearings' answer.

    They balance, in force both ways and in moment. What several loads do across the mast is one force where
    that force would act on the mast; where they turn it more than they push it, each stands by itself.

    Parameters
    ----------
    scene : Scene
        Rig and result.
    i : int
        The case, one in which the mast stands in its bearings.
    plane : int
        ``SIDE`` or ``FORWARD``.
    """
    case, mast = scene.case(i), scene.rig.mast
    upper, lower = scene.bearings
    partners, step = (
        (case.partners_side_N, case.step_side_N)
        if plane == SIDE
        else (case.partners_forward_N, case.step_forward_N)
    )
    on_top = mast.post is not None and mast.post.thrust_on == "top"
    found = [
        *_loads(scene, i, plane),
        _weight(scene, i, plane),
        Pull(upper, mast.bury_m, partners, case.step_thrust_N if on_top else 0.0),
        Pull(lower, 0.0, step, 0.0 if on_top else case.step_thrust_N),
    ]
    least = SMALL * max(case.partners_force_N, case.step_force_N, case.step_thrust_N)
    return tuple(pull for pull in found if pull.size_N > least)


def _loads(scene: Scene, i: int, plane: int) -> Iterator[Pull]:
    load, length = scene.load(i), scene.rig.mast.length_m
    what = "sail" if scene.set_sails(i) else "wind"
    if load.kind == "given":
        what = "load"
    elif load.kind == "knockdown":
        what = "water"
    force, moment = load.applied.force()[plane], load.applied.moment(0.0)[plane]
    if abs(force) > 0.0 and 0.0 <= moment / force <= length:
        yield Pull(what, moment / force, force, 0.0)
    else:
        yield from _apart(what, load.applied.lines, load.applied.points, plane, _places(scene, i))
    down = sum(point.axial_N for point in load.applied.points)
    if down != 0.0:
        yield Pull("leech" if what == "sail" else what, length, 0.0, -down)
    if scene.rig.bearings.lines_down_N > 0.0:
        yield Pull("lines led down", length, 0.0, -scene.rig.bearings.lines_down_N)


def _apart(
    what: str,
    lines: tuple[LineLoad, ...],
    points: tuple[PointLoad, ...],
    plane: int,
    places: dict[float, str],
) -> Iterator[Pull]:
    """Yield what lines make together, and the points, those at one height together."""
    parts = [line.side if plane == SIDE else line.forward for line in lines]
    whole = sum(part * line.integral() for part, line in zip(parts, lines, strict=True))
    turn = sum(part * line.moment_about(0.0) for part, line in zip(parts, lines, strict=True))
    heights: dict[float, float] = {}
    for point in points:
        force = point.side_N if plane == SIDE else point.forward_N
        heights[point.height_m] = heights.get(point.height_m, 0.0) + force
    if whole != 0.0:
        yield Pull(what, float(turn / whole), float(whole), 0.0)
    for height, force in heights.items():
        place = next((name for z, name in places.items() if abs(z - height) < 1e-9), what)
        yield Pull(place, height, force, 0.0)


def _places(scene: Scene, i: int) -> dict[float, str]:
    """Return what stands at the heights at which sails pull on the mast."""
    found: dict[float, str] = {}
    for sail in scene.set_sails(i):
        spar = float(sail.points.tack[1]) if sail.sail.spar_height_m is None else sail.sail.spar_height_m
        if sail.sail.clew_held != "sheet":
            found.setdefault(spar, sail.sail.clew_held)
        for name, corner in (
            ("head", sail.points.head),
            ("tack", sail.points.tack),
            ("clew", sail.points.clew),
        ):
            found.setdefault(float(corner[1]), name)
    return found


def _weight(scene: Scene, i: int, plane: int) -> Pull:
    """Return weight and inertia of mast, fittings and cloth: what the model carries beside the loads."""
    load, turns, model = scene.load(i), scene.turns(i), scene.run.model
    mesh = model.mesh
    line = turns.across(model.line_N_m[:ALONG])[plane]
    point = turns.across(model.point_N[:ALONG])[plane]
    across = float(mesh.total(line) + np.sum(point)) - load.applied.force()[plane]
    turn = float(mesh.total(line * mesh.z_m) + np.sum(point * mesh.edges_m)) - load.applied.moment(0.0)[plane]
    applied = sum(p.axial_N for p in load.applied.points) + scene.rig.bearings.lines_down_N
    along = -(scene.case(i).step_thrust_N - applied)
    middle = scene.result.mast.centre_of_gravity_m
    if abs(across) > 1e-9 * max(abs(along), 1.0) and 0.0 <= turn / across <= scene.rig.mast.length_m:
        middle = turn / across
    swung = any(load.swing_rad_s2)
    name = "weight and swing" if swung else "weight"
    note = "" if load.weight_factor == 1.0 else f" (x {load.weight_factor:g})"
    return Pull(name, middle, across, along, note)


__all__ = ["FORWARD", "SIDE", "Pull", "pulls"]
