"""The mast and its cases laid on one mesh, ready for the beam engine.

Everything stands in the mast's own axes: a mast that is stiffer one way than the other is loaded in every
case once for each angle it is turned to, and what comes out is turned back to the boat's axes for the result.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ..loads import CaseLoad
from ..materials.laminates import lay_ups_of
from ..rig import UNEVEN, Mast, Rig
from ..structure.beam import BeamLoad, Supports, outboard_sum
from ..structure.large import Pull
from ..structure.mesh import Mesh, make_mesh
from ..structure.sections import Sections, section_kinks, sections_of
from ..units import STANDARD_GRAVITY_M_S2
from .made import maker
from .post import PostModel

Floats = NDArray[np.float64]

ELEMENTS = 12
"""Least number of elements: with eight points on each, closed forms are met to ten digits."""

SIDE, FORWARD, ALONG = 0, 1, 2

EVERY_TURN = tuple(np.radians(np.arange(0.0, 180.0, 15.0)).tolist())
"""Half a turn in steps: the other half shows a box or an ellipse the same way round."""


@dataclass(frozen=True)
class Model:
    """Everything of the mast that the engine needs.

    Parameters
    ----------
    sections : Sections
        Section at every point.
    supports : Supports
        Bearings.
    fittings_kg : ndarray, shape (n + 1,)
        Point masses at the mesh's edges.
    line_N_m : ndarray, shape (3, cases, n, points)
        Load per metre: to the side of the mast, forward of it, and along it towards the tip. Every case at
        every turn, one after the other.
    point_N : ndarray, shape (3, cases, n + 1)
        Forces at the edges, same directions.
    torque_N_m : ndarray, shape (cases, n, points)
        Torque at every point.
    pulls : tuple of Pull
        Forces among ``point_N`` that keep pulling to one point.
    turns_rad : tuple of float
        Angles each case is solved at, from fore and aft towards leeward; one for a mast that is round.
    """

    sections: Sections
    supports: Supports
    fittings_kg: Floats
    line_N_m: Floats
    point_N: Floats
    torque_N_m: Floats
    pulls: tuple[Pull, ...] = ()
    turns_rad: tuple[float, ...] = (0.0,)

    def boat_axes(self, across: Floats) -> Floats:
        """Return what stands in the mast's axes, shape (2, cases, ...), in those of the boat."""
        return _turned(across, -self._turn(across.ndim - 2))

    def _turn(self, more: int) -> Floats:
        """Angle of every case, with some more axes behind."""
        turns = np.tile(self.turns_rad, self.point_N.shape[1] // len(self.turns_rad))
        return turns.reshape(-1, *(1,) * more)

    @property
    def mesh(self) -> Mesh:
        return self.sections.mesh

    @property
    def across(self) -> BeamLoad:
        """Loads across the mast, leading axes (plane, case)."""
        return BeamLoad(self.line_N_m[:ALONG], self.point_N[:ALONG])

    @property
    def axial_N(self) -> Floats:
        """Compression at every point, shape (cases, n, points)."""
        points = outboard_sum(self.point_N[ALONG])
        return np.asarray(-(self.mesh.from_tip(self.line_N_m[ALONG]) + points[..., None]))

    @property
    def steady_point_N(self) -> Floats:
        """The point loads that keep their direction: all but the pulls."""
        steady = self.point_N.copy()
        for pull in self.pulls:
            steady[:, pull.case, pull.edge] -= self._at_rest(pull)
        return steady

    @property
    def restoring_N_m(self) -> Floats:
        """Sideways stiffness of the pulls in their weaker direction, shape (cases, n + 1)."""
        stiffness = np.zeros(self.point_N.shape[1:])
        for pull in self.pulls:
            arm = self._arm(pull)
            # across the plane of the pull it is T/d, within it T z2/d3: the weaker counts
            stiffness[pull.case, pull.edge] += pull.force_N * arm[2] ** 2 / np.linalg.norm(arm) ** 3
        return stiffness

    def _arm(self, pull: Pull) -> Floats:
        return np.subtract(pull.toward_m, (0.0, 0.0, float(self.mesh.edges_m[pull.edge])))

    def _at_rest(self, pull: Pull) -> Floats:
        arm = self._arm(pull)
        return np.asarray(pull.force_N * arm / np.linalg.norm(arm))

    def only(self, cases: list[int]) -> Model:
        """Return the same mast with some of its cases."""
        renumbered = {case: i for i, case in enumerate(cases)}
        return replace(
            self,
            line_N_m=self.line_N_m[:, cases],
            point_N=self.point_N[:, cases],
            torque_N_m=self.torque_N_m[cases],
            pulls=tuple(replace(p, case=renumbered[p.case]) for p in self.pulls if p.case in renumbered),
        )


def turns_of(mast: Mast) -> tuple[float, ...]:
    """Return the angles at which a mast is solved."""
    if mast.shape not in UNEVEN:
        return (0.0,)
    return EVERY_TURN if mast.turns_rad is None else mast.turns_rad


def _turned(across: Floats, turn_rad: Floats) -> Floats:
    """Return vectors (side, forward), shape (2, ...), as they stand in axes turned from forward to side."""
    side, forward = across
    cos, sin = np.cos(turn_rad), np.sin(turn_rad)
    return np.stack([side * cos - forward * sin, side * sin + forward * cos])


def build_sections(rig: Rig, kinks_m: Sequence[float]) -> Sections:
    """Return the sections of the mast on a mesh that has all its own kinks and those named."""
    mast = rig.mast
    lay_ups = lay_ups_of(rig)
    own = [mast.bury_m, fittings_height(mast), *section_kinks(mast, lay_ups)]
    mesh = make_mesh(np.array([*own, *kinks_m]), length_m=mast.length_m, longest_m=mast.length_m / ELEMENTS)

    return sections_of(mast, mesh, maker(rig), lay_ups)


def fittings_height(mast: Mast) -> float:
    """Return the height of the fittings' mass: the tip where none is given."""
    return mast.length_m if mast.fittings_height_m is None else mast.fittings_height_m


def build_model(rig: Rig, loads: Sequence[CaseLoad], post: PostModel | None = None) -> Model:
    """Return the mast and its cases on a mesh that has every kink of either.

    Parameters
    ----------
    rig : Rig
        Boat, sails and mast.
    loads : sequence of CaseLoad
        The cases.
    post : PostModel, optional
        What the mast turns on; it gives way under the upper bearing.
    """
    mast = rig.mast
    sections = build_sections(rig, [z for load in loads for z in load.kinks_m])
    mesh = sections.mesh
    fittings = np.zeros(mesh.edges_m.size)
    fittings[mesh.edge_index(fittings_height(mast))] = mast.fittings_mass_kg
    line = np.zeros((3, len(loads), *mesh.z_m.shape))
    point = np.zeros((3, len(loads), mesh.edges_m.size))
    pulls = []
    for i, load in enumerate(loads):
        for part in load.applied.lines:
            value = part.at(mesh.z_m)
            line[SIDE, i] += part.side * value
            line[FORWARD, i] += part.forward * value
        for force in load.applied.points:
            edge = mesh.edge_index(force.height_m)
            parts = (force.side_N, force.forward_N, -force.axial_N)
            point[:, i, edge] += parts
            if force.toward_m is not None:
                pulls.append(Pull(i, edge, float(np.linalg.norm(parts)), force.toward_m))
        _add_weight(line[:, i], point[:, i], load, sections, fittings)
        if load.held_at_m is None:
            point[ALONG, i, -1] -= rig.bearings.lines_down_N
    model = Model(
        sections,
        Supports(
            mast.bury_m,
            _or_rigid(rig.bearings.step.stiffness_N_m),
            _upper_stiffness(rig, post),
        ),
        fittings,
        line,
        point,
        np.array([_torque(load, mesh) for load in loads]).reshape(len(loads), *mesh.z_m.shape),
        tuple(pulls),
    )
    return _at_every_turn(model, turns_of(mast))


def _torque(load: CaseLoad, mesh: Mesh) -> Floats:
    """Torque at every point: what goes through, and what the cloth above adds."""
    torque = np.full(mesh.z_m.shape, load.torque_N_m)
    for line in load.turned:
        torque += mesh.from_tip(line.at(mesh.z_m))
    return torque


def _at_every_turn(model: Model, turns_rad: tuple[float, ...]) -> Model:
    """Return the model with each case laid on the mast at every angle it is turned to."""
    if turns_rad == (0.0,):
        return model
    count = len(turns_rad)
    line, point = (np.repeat(load, count, axis=1) for load in (model.line_N_m, model.point_N))
    more = replace(
        model,
        line_N_m=line,
        point_N=point,
        torque_N_m=np.repeat(model.torque_N_m, count, axis=0),
        turns_rad=turns_rad,
        pulls=tuple(
            replace(
                pull,
                case=pull.case * count + i,
                toward_m=(
                    *_turned(np.array(pull.toward_m[:ALONG]), np.array(turn)).tolist(),
                    pull.toward_m[ALONG],
                ),
            )
            for pull in model.pulls
            for i, turn in enumerate(turns_rad)
        ),
    )
    for load in (line, point):
        load[:ALONG] = _turned(load[:ALONG], more._turn(load.ndim - 2))
    return more


def _add_weight(line: Floats, point: Floats, load: CaseLoad, sections: Sections, fittings_kg: Floats) -> None:
    """Weight of spar, fittings and cloth across and along the leaning mast, and their inertia when it swings."""
    if load.weight_heel_rad is None:
        return
    mesh, heel, pitch = sections.mesh, load.weight_heel_rad, load.pitch_rad
    g = STANDARD_GRAVITY_M_S2
    pull = np.array([np.sin(heel), np.cos(heel) * np.sin(pitch), -np.cos(heel) * np.cos(pitch)]) * g
    swing = np.array([*load.swing_rad_s2, 0.0])
    mass = sections.mass_kg_m + sum(part.at(mesh.z_m) for part in load.hung_kg_m)
    for i in range(3):
        line[i] += load.weight_factor * mass * (pull[i] + swing[i] * (mesh.z_m - load.swing_about_m))
        point[i] += (
            load.weight_factor * fittings_kg * (pull[i] + swing[i] * (mesh.edges_m - load.swing_about_m))
        )


def _upper_stiffness(rig: Rig, post: PostModel | None) -> float:
    """Stiffness of the upper bearing and of the post under it, one on the other."""
    give = 1 / _or_rigid(rig.bearings.partners.stiffness_N_m)
    if post is not None:
        give += post.give_m_N
    return 1 / give if give > 0.0 else float("inf")


def _or_rigid(stiffness_N_m: float | None) -> float:
    return float("inf") if stiffness_N_m is None else stiffness_N_m
