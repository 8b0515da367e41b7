"""The mast and its cases laid on one mesh, ready for the beam engine.

Many masts alike in all but their sizes have an axis of their own, before that of the elements.

Everything stands in the mast's own axes: a mast that is stiffer one way than the other is loaded in every
case once for each angle it is turned to, and what comes out is turned back to the boat's axes for the result.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..formulas import Value
from ..frozen import dataclass
from ..loads import CaseLoad, sails_taken_in
from ..loads.line import plain
from ..materials.laminates import lay_ups_of
from ..rig import UNEVEN, Mast, Rig
from ..structure.beam import BeamLoad, Supports, outboard_sum
from ..structure.large import Pull
from ..structure.mesh import Edge, Mesh, make_mesh
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
    fittings_kg : ndarray, shape (n + 1,) or (masts, n + 1)
        Point masses at the mesh's edges.
    line_N_m : ndarray, shape (3, cases, n, points) or (3, cases, masts, n, points)
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

    def in_boat_axes(self, across: Floats, case: int) -> Floats:
        """Return what one case has in the mast's axes, shape (2, ...), in those of the boat."""
        return _turned(across, np.asarray(-self.turns_rad[case % len(self.turns_rad)]))

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

    @cached_property
    def axial_N(self) -> Floats:
        """Compression at every point, shape (cases, n, points)."""
        points = outboard_sum(self.point_N[ALONG])
        return np.asarray(-(self.mesh.from_tip(self.line_N_m[ALONG]) + points[..., None]))

    @property
    def thrust_N(self) -> Floats:
        """Compression that comes down at the heel, of every case at every turn, shape (cases,)."""
        return np.asarray(self.axial_N[:, 0, 0] - self.point_N[ALONG, :, 0])

    def each(self, case: int) -> slice:
        """Return where a case stands at all the angles the mast is turned to."""
        turns = len(self.turns_rad)
        return slice(case * turns, (case + 1) * turns)

    @property
    def steady_point_N(self) -> Floats:
        """The point loads that keep their direction: all but the pulls."""
        steady = self.point_N.copy()
        for pull in self.pulls:
            for direction, amount in enumerate(self._at_rest(pull)):
                _put(steady[direction, pull.case], pull.edge, -amount)
        return steady

    @property
    def restoring_N_m(self) -> Floats:
        """Sideways stiffness of the pulls in their weaker direction, shape (cases, n + 1)."""
        stiffness = np.zeros(self.point_N.shape[1:])
        for pull in self.pulls:
            arm = self._arm(pull)
            # across the plane of the pull it is T/d, within it T z2/d3: the weaker counts
            _put(stiffness[pull.case], pull.edge, pull.force_N * arm[2] ** 2 / np.linalg.norm(arm) ** 3)
        return stiffness

    def _arm(self, pull: Pull) -> Floats:
        # the same height in all masts, whatever the number of its edge
        first = self.mesh.edges_m.reshape(-1, self.mesh.edges_m.shape[-1])[0]
        edge = pull.edge if isinstance(pull.edge, int) else int(pull.edge[0])
        return np.subtract(pull.toward_m, (0.0, 0.0, float(first[edge])))

    def _at_rest(self, pull: Pull) -> tuple[Value, ...]:
        arm = self._arm(pull)
        return tuple(pull.force_N * along for along in (arm / np.linalg.norm(arm)).tolist())

    def only(self, cases: list[int]) -> Model:
        """Return the same mast with some of its cases."""
        renumbered = {case: i for i, case in enumerate(cases)}
        those = in_a_row(cases)
        return replace(
            self,
            line_N_m=self.line_N_m[:, those],
            point_N=self.point_N[:, those],
            torque_N_m=self.torque_N_m[those],
            pulls=tuple(replace(p, case=renumbered[p.case]) for p in self.pulls if p.case in renumbered),
        )


def in_a_row(cases: list[int]) -> slice | list[int]:
    """Return cases as a slice where they follow one another: numpy copies what a list picks, not what a slice does."""
    whole = range(cases[0], cases[-1] + 1)
    return slice(whole.start, whole.stop) if cases == list(whole) else cases


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


def build_sections(rig: Rig, kinks_m: Sequence[float] | Floats = ()) -> Sections:
    """Return the sections of the mast on a mesh that has all its own kinks and those named."""
    mast, lay_ups = rig.mast, lay_ups_of(rig)
    kinks = np.concatenate([own_kinks(rig), section_kinks(mast, lay_ups), np.asarray(kinks_m, dtype=float)])
    mesh = make_mesh(kinks, length_m=mast.length_m, longest_m=mast.length_m / ELEMENTS)
    return sections_of(mast, mesh, maker(rig), lay_ups)


def own_kinks(rig: Rig) -> Floats:
    """Return the heights of what stands on the mast whatever its sizes."""
    # a sail may lie rolled on the mast though no case sets it: its cloth has kinks all the same
    rolls = [s.rolled.breaks_m for s in sails_taken_in(rig) if s.rolled is not None]
    heights = np.concatenate([[rig.mast.bury_m, fittings_height(rig.mast)], *rolls])
    return np.asarray(np.clip(heights, 0.0, rig.mast.length_m))


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
    kinks = [load.kinks_m for load in loads]
    return laid_on(rig, loads, build_sections(rig, np.concatenate([np.empty(0), *kinks])), post)


def laid_on(
    rig: Rig,
    loads: Sequence[CaseLoad],
    sections: Sections,
    post: PostModel | None = None,
    *,
    z_m: Floats | None = None,
) -> Model:
    """Return cases laid on sections, of one mast or of many.

    Parameters
    ----------
    rig : Rig
        Boat, sails and what all masts have in common.
    loads : sequence of CaseLoad
        The cases.
    sections : Sections
        On a mesh that has the kinks of the loads.
    post : PostModel, optional
        What the mast turns on.
    z_m : ndarray, shape (n, points), optional
        Heights of the points, where those of many masts are the same.
    """
    mast, mesh = rig.mast, sections.mesh
    z = mesh.z_m if z_m is None else z_m
    fittings = np.zeros(mesh.edges_m.shape)
    _put(fittings, mesh.edges_at(fittings_height(mast)), mast.fittings_mass_kg)
    line = np.zeros((3, len(loads), *mesh.z_m.shape))
    point = np.zeros((3, len(loads), *mesh.edges_m.shape))
    pulls = []
    for i, load in enumerate(loads):
        for part in load.applied.lines:
            value = part.at(z)
            line[SIDE, i] += part.side * value
            line[FORWARD, i] += part.forward * value
        for force in load.applied.points:
            edge = mesh.edges_at(force.height_m)
            parts = (force.side_N, force.forward_N, -np.asarray(force.axial_N))
            for direction, amount in enumerate(parts):
                _put(point[direction, i], edge, amount)
            if force.toward_m is not None:
                size = np.sqrt(sum(np.square(amount) for amount in parts))
                pulls.append(Pull(i, edge, plain(size), force.toward_m))
        _add_weight(line[:, i], point[:, i], load, sections, fittings, z)
        if load.held_at_m is None:
            point[ALONG, i, ..., -1] -= rig.bearings.lines_down_N
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
        np.array([np.broadcast_to(_torque(load, mesh, z), mesh.z_m.shape) for load in loads]).reshape(
            len(loads), *mesh.z_m.shape
        ),
        tuple(pulls),
    )
    return _at_every_turn(model, turns_of(mast))


def _put(at_edges: Floats, edge: Edge, amount: Value) -> None:
    """Add a number at one edge of every mast."""
    if isinstance(edge, int):
        at_edges[..., edge] += amount
    else:
        at_edges[np.arange(len(edge)), edge] += amount


def _torque(load: CaseLoad, mesh: Mesh, z_m: Floats) -> Floats:
    """Torque at every point: what goes through, and what the cloth above adds."""
    torque = np.full(mesh.z_m.shape, load.torque_N_m)
    for line in load.turned:
        torque += mesh.from_tip(line.at(z_m))
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


def _add_weight(
    line: Floats, point: Floats, load: CaseLoad, sections: Sections, fittings_kg: Floats, z_m: Floats
) -> None:
    """Weight of spar, fittings and cloth across and along the leaning mast, and their inertia when it swings."""
    if load.weight_heel_rad is None:
        return
    edges, heel, pitch = sections.mesh.edges_m, load.weight_heel_rad, load.pitch_rad
    g = STANDARD_GRAVITY_M_S2
    pull = np.array([np.sin(heel), np.cos(heel) * np.sin(pitch), -np.cos(heel) * np.cos(pitch)]) * g
    mass = sections.of_masts(sections.mass_kg_m) + sum(part.at(z_m) for part in load.hung_kg_m)
    for i in range(3):
        swing = np.asarray(load.swing_rad_s2[i] if i < ALONG else 0.0)
        if np.ndim(swing):
            swing = swing[..., None]
        at_edges = pull[i] + swing * (edges - load.swing_about_m)
        along = pull[i] + (swing[..., None] if np.ndim(swing) else swing) * (z_m - load.swing_about_m)
        line[i] += mass * (load.weight_factor * along)
        point[i] += load.weight_factor * fittings_kg * at_edges


def _upper_stiffness(rig: Rig, post: PostModel | None) -> float:
    """Stiffness of the upper bearing and of the post under it, one on the other."""
    give = 1 / _or_rigid(rig.bearings.partners.stiffness_N_m)
    if post is not None:
        give += post.give_m_N
    return 1 / give if give > 0.0 else float("inf")


def _or_rigid(stiffness_N_m: float | None) -> float:
    return float("inf") if stiffness_N_m is None else stiffness_N_m
