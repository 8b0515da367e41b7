"""The beam engine against closed forms, independent numerics and itself; the masts they share."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcalc.structure.beam import BeamLoad, Supports
from rigcalc.structure.mesh import Mesh, make_mesh

Floats = NDArray[np.float64]

CLAMP_BURY_M, CLAMP_RATIO = 0.1, 1e12


@dataclass(frozen=True)
class Mast:
    """A mast of bare numbers: a mesh, its bearings, and shorthands for fields and forces on it."""

    mesh: Mesh
    supports: Supports

    @property
    def z(self) -> Floats:
        return self.mesh.z_m

    @property
    def one(self) -> Floats:
        return np.ones_like(self.z)

    @property
    def bury(self) -> int:
        return self.mesh.edge_index(self.supports.bury_m)

    @property
    def above(self) -> Floats:
        """One on elements above the partners, zero below."""
        return (np.arange(self.z.shape[0]) >= self.bury)[:, None] * self.one

    @property
    def x(self) -> Floats:
        """Share of the length above the partners, zero in the bury."""
        b, tip = self.supports.bury_m, self.mesh.edges_m[-1]
        return np.clip((self.z - b) / (tip - b), 0.0, 1.0)

    @property
    def no_points(self) -> Floats:
        return np.zeros_like(self.mesh.edges_m)

    def at(self, *forces: tuple[float, float]) -> Floats:
        """Forces, or masses, at the edges: (height, size) each."""
        points = self.no_points
        for height, size in forces:
            points[self.mesh.edge_index(height)] += size
        return points

    def at_tip(self, size: float) -> Floats:
        return self.at((float(self.mesh.edges_m[-1]), size))

    def stiff_bury(self, EI: Floats) -> Floats:
        return np.where(self.above > 0, EI, CLAMP_RATIO)

    def vector(self, *components: Floats | float) -> Floats:
        """Line load in three directions."""
        return np.stack([c * self.one for c in components])


def on_bearings(
    bury_m: float,
    *,
    length_m: float = 1.0,
    kinks_m: tuple[float, ...] = (),
    elements: int = 12,
    heel_stiffness: float = np.inf,
    partners_stiffness: float = np.inf,
) -> Mast:
    mesh = make_mesh(np.array([bury_m, *kinks_m]), length_m=length_m, longest_m=length_m / elements)
    return Mast(mesh, Supports(bury_m, heel_stiffness, partners_stiffness))


def clamped(*, elements: int = 12) -> Mast:
    """A cantilever of unit length: a bury whose stiffness (``stiff_bury``) is 1e12 times that above.

    The slope the bury lets through is M b/(3 EI_bury), against M L/(2 EI) or more of the cantilever's own:
    less than one part in 1e13, and nothing in the engine is ill conditioned by the ratio, as it only
    divides by the stiffness.
    """
    edges = np.concatenate([[0.0], CLAMP_BURY_M + np.linspace(0.0, 1.0, elements + 1)])
    return Mast(Mesh(edges), Supports(CLAMP_BURY_M))


@dataclass(frozen=True)
class Reference:
    """An invented aluminium mast, for checking arithmetic and no design.

    7.5 m over all, 1 m bury; outside diameter 110 mm to the partners, then linear to 60 mm at the tip;
    wall 4 mm. Load: 160 N/m at the partners falling to nothing at the tip, 100 N at the tip, and weight
    at 30 degrees of heel, its side part with the load and the rest down the mast.
    """

    mast: Mast
    E = 70e9
    nu = 0.33
    density = 2700.0

    @property
    def outer(self) -> Floats:
        return 0.11 - 0.05 * self.mast.x

    @property
    def inner(self) -> Floats:
        return self.outer - 0.008

    @property
    def area(self) -> Floats:
        return np.pi / 4 * (self.outer**2 - self.inner**2)

    @property
    def EI(self) -> Floats:
        return self.E * np.pi / 64 * (self.outer**4 - self.inner**4)

    @property
    def mass(self) -> Floats:
        return self.density * self.area

    @property
    def down(self) -> Floats:
        """Weight along the mast, per metre."""
        return self.mass * 9.80665 * np.cos(np.radians(30))

    @property
    def load(self) -> BeamLoad:
        wind = 160.0 * (1 - self.mast.x) * self.mast.above
        return BeamLoad(wind + self.mass * 9.80665 * np.sin(np.radians(30)), self.mast.at_tip(100.0))


def reference(*, elements: int = 12, kinks_m: tuple[float, ...] = ()) -> Reference:
    return Reference(on_bearings(1.0, length_m=7.5, elements=elements, kinks_m=kinks_m))


def several(masts: list[Mast]) -> Mast:
    """One batched mast: candidates of any bury and length with the same number of elements."""
    mesh = Mesh(np.stack([m.mesh.edges_m for m in masts]))
    return Mast(mesh, Supports(np.array([m.supports.bury_m for m in masts])))
