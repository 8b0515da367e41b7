"""The mast and its cases laid on one mesh, ready for the beam engine."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..loads import CaseLoad
from ..materials import metal_rows
from ..rig import Rig
from ..structure.beam import BeamLoad, Supports
from ..structure.mesh import Mesh, make_mesh
from ..structure.sections import Sections, section_kinks, sections_of
from ..units import STANDARD_GRAVITY_M_S2

Floats = NDArray[np.float64]

ELEMENTS = 12
"""Least number of elements: with eight points on each, closed forms are met to ten digits."""

SIDE, FORWARD, ALONG = 0, 1, 2


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
        Load per metre: leeward, forward, and along the mast towards the tip.
    point_N : ndarray, shape (3, cases, n + 1)
        Forces at the edges, same directions.
    torque_N_m : ndarray, shape (cases,)
        Torque from tip to heel.
    """

    sections: Sections
    supports: Supports
    fittings_kg: Floats
    line_N_m: Floats
    point_N: Floats
    torque_N_m: Floats

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
        inboard = np.cumsum(self.point_N[ALONG][..., ::-1], axis=-1)[..., ::-1][..., 1:]
        return np.asarray(-(self.mesh.from_tip(self.line_N_m[ALONG]) + inboard[..., None]))


def build_model(rig: Rig, loads: tuple[CaseLoad, ...]) -> Model:
    """Return the mast and its cases on a mesh that has every kink of either."""
    mast = rig.mast
    fittings_height = mast.length_m if mast.fittings_height_m is None else mast.fittings_height_m
    kinks = [mast.bury_m, fittings_height, *section_kinks(mast), *(z for load in loads for z in load.kinks_m)]
    mesh = make_mesh(np.array(kinks), length_m=mast.length_m, longest_m=mast.length_m / ELEMENTS)
    sections = sections_of(
        mast,
        mesh,
        lambda name, thinnest, thickest: metal_rows(
            name, thinnest_m=thinnest, thickest_m=thickest, own=rig.materials
        ),
    )
    fittings = np.zeros(mesh.edges_m.size)
    fittings[mesh.edge_index(fittings_height)] = mast.fittings_mass_kg
    line = np.zeros((3, len(loads), *mesh.z_m.shape))
    point = np.zeros((3, len(loads), mesh.edges_m.size))
    for i, load in enumerate(loads):
        for part in load.lines:
            value = part.at(mesh.z_m)
            line[SIDE, i] += part.side * value
            line[FORWARD, i] += part.forward * value
        for force in load.points:
            edge = mesh.edge_index(force.height_m)
            point[:, i, edge] += (force.side_N, force.forward_N, -force.axial_N)
        _add_weight(line[:, i], point[:, i], load, sections, fittings)
    return Model(
        sections,
        Supports(
            mast.bury_m,
            _or_rigid(rig.bearings.step.stiffness_N_m),
            _or_rigid(rig.bearings.partners.stiffness_N_m),
        ),
        fittings,
        line,
        point,
        np.array([load.torque_N_m for load in loads]),
    )


def _add_weight(line: Floats, point: Floats, load: CaseLoad, sections: Sections, fittings_kg: Floats) -> None:
    """Weight of spar, fittings and cloth: across by the sine of the heel, down the mast by its cosine."""
    if load.weight_heel_rad is None:
        return
    g = STANDARD_GRAVITY_M_S2 * load.weight_factor
    across, along = g * np.sin(load.weight_heel_rad), -g * np.cos(load.weight_heel_rad)
    mass = sections.mass_kg_m + sum(part.at(sections.mesh.z_m) for part in load.hung_kg_m)
    line[SIDE] += mass * across
    line[ALONG] += mass * along
    point[SIDE] += fittings_kg * across
    point[ALONG] += fittings_kg * along


def _or_rigid(stiffness_N_m: float | None) -> float:
    return float("inf") if stiffness_N_m is None else stiffness_N_m
