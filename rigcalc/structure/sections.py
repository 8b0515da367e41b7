"""Sections along the mast: concentric layers, each with its size and stiffness at every point."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..formulas.sections import annulus_area, annulus_second_moment, annulus_torsion_constant
from ..materials import Metal
from ..rig import Mast
from .mesh import Mesh

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Layer:
    """One tube of the section.

    Parameters
    ----------
    name : str
        ``tube``, or ``sleeve 1`` and so on.
    metals : tuple of Metal
        The rows of the material that its walls call for, thinnest first; one modulus and density.
    outer_m, inner_m : ndarray, shape (n, points)
        Diameters, zero where the layer is absent.
    present : ndarray of bool, shape (n, 1)
        Elements in which it stands.
    """

    name: str
    metals: tuple[Metal, ...]
    outer_m: Floats
    inner_m: Floats
    present: NDArray[np.bool_]

    @property
    def metal(self) -> Metal:
        return self.metals[0]

    @property
    def wall_m(self) -> Floats:
        return (self.outer_m - self.inner_m) / 2

    @property
    def area_m2(self) -> Floats:
        return np.asarray(annulus_area(self.outer_m, self.inner_m))

    @property
    def second_moment_m4(self) -> Floats:
        return np.asarray(annulus_second_moment(self.outer_m, self.inner_m))

    @property
    def torsion_constant_m4(self) -> Floats:
        return np.asarray(annulus_torsion_constant(self.outer_m, self.inner_m))

    def strength(self, pick: Callable[[Metal], float]) -> Floats:
        """Return a strength at every point, by the wall thickness found there."""
        value = np.full(self.outer_m.shape, pick(self.metals[-1]))
        for metal in reversed(self.metals[:-1]):
            if metal.wall_up_to_m is not None:
                # a hair of slack: a wall of exactly the limit belongs to the thinner row
                value = np.where(self.wall_m <= metal.wall_up_to_m * (1 + 1e-9), pick(metal), value)
        return value


@dataclass(frozen=True)
class Sections:
    """The section of the mast at every point of a mesh."""

    mesh: Mesh
    layers: tuple[Layer, ...]

    @property
    def EI_N_m2(self) -> Floats:
        return np.asarray(sum(layer.metal.E_Pa * layer.second_moment_m4 for layer in self.layers))

    @property
    def EA_N(self) -> Floats:
        return np.asarray(sum(layer.metal.E_Pa * layer.area_m2 for layer in self.layers))

    @property
    def GJ_N_m2(self) -> Floats:
        return np.asarray(sum(layer.metal.G_Pa * layer.torsion_constant_m4 for layer in self.layers))

    @property
    def mass_kg_m(self) -> Floats:
        return np.asarray(sum(layer.metal.density_kg_m3 * layer.area_m2 for layer in self.layers))

    @property
    def outer_m(self) -> Floats:
        """Outside diameter of the whole."""
        return np.asarray(np.max([layer.outer_m for layer in self.layers], axis=0))


def section_kinks(mast: Mast) -> list[float]:
    """Return the heights at which the section, or the strength of its metal, changes."""
    return [
        *(s.height_m for s in mast.stations),
        *(z for s in mast.sleeve for z in (s.start_m, s.end_m)),
        *(o.height_m + side * (o.length_m or o.width_m) / 2 for o in mast.opening for side in (-1, 1)),
        *(z for w in mast.weld for z in (w.height_m - w.extent_m, w.height_m, w.height_m + w.extent_m)),
    ]


def sections_of(
    mast: Mast, mesh: Mesh, metal_rows: Callable[[str, float, float], tuple[Metal, ...]]
) -> Sections:
    """Return the sections of a mast on a mesh that has its kinks.

    Parameters
    ----------
    mast : Mast
        The spar.
    mesh : Mesh
        Elements ending on every kink.
    metal_rows : callable
        ``(name, thinnest wall, thickest wall) -> rows`` of the material.
    """
    heights = np.array([s.height_m for s in mast.stations])
    diameter = np.array([s.diameter_m for s in mast.stations])
    wall = np.array([s.diameter_m / 2 if s.wall_m is None else s.wall_m for s in mast.stations])
    outer = along(mesh, heights, diameter)
    layers = [
        Layer(
            "tube",
            metal_rows(mast.material, wall.min(), wall.max()),
            outer,
            outer - 2 * along(mesh, heights, wall),
            np.ones((mesh.z_m.shape[-2], 1), dtype=bool),
        )
    ]
    for number, sleeve in enumerate(mast.sleeve, start=1):
        middle = (mesh.edges_m[:-1] + mesh.edges_m[1:]) / 2
        present = ((middle > sleeve.start_m) & (middle < sleeve.end_m))[:, None]
        layers.append(
            Layer(
                f"sleeve {number}",
                metal_rows(sleeve.material or mast.material, sleeve.wall_m, sleeve.wall_m),
                np.where(present, sleeve.diameter_m, 0.0) * np.ones_like(mesh.z_m),
                np.where(present, sleeve.diameter_m - 2 * sleeve.wall_m, 0.0) * np.ones_like(mesh.z_m),
                present,
            )
        )
    return Sections(mesh, tuple(layers))


def along(mesh: Mesh, heights_m: Floats, values: Floats) -> Floats:
    """Return values linear between heights at the points of a mesh; equal heights make a step."""
    middle = (mesh.edges_m[:-1] + mesh.edges_m[1:])[:, None] / 2
    i = np.clip(np.searchsorted(heights_m, middle, side="right") - 1, 0, heights_m.size - 2)
    share = (mesh.z_m - heights_m[i]) / (heights_m[i + 1] - heights_m[i])
    return np.asarray(values[i] + share * (values[i + 1] - values[i]))
