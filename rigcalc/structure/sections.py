"""Sections along the mast: concentric layers, each with its shape, its material and its stiffness.

Many masts at once, alike in all but their sizes, are laid end to end: the elements of the second follow those of
the first. What holds of a section holds of it wherever it stands, so the limits need not know how many masts there
are; only what looks at a place, or at a mast as a whole, asks for it by mast.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..formulas import Value
from ..formulas.shapes import polygon_across_corners
from ..formulas.timber_tubes import crept_share
from ..frozen import dataclass
from ..materials import Metal
from ..materials.laminates import Laid, LayUp
from ..materials.laminates.lay import laid_of_many
from ..materials.timber import Timber
from ..rig import Mast, Sheath
from .made_of import Elastic, Floats, MadeOf, Metals, Piece, creep_of, elastic
from .mesh import Mesh
from .outline import Outline, outline_of
from .shapes import Box, Ellipse, Polygon, Round, Shape, Turned, only

Make = Callable[[str, Piece], MadeOf]
"""``(name of a material, piece) -> what it is made of``."""
LayUps = Mapping[str, LayUp]
"""The laminates of the rig by name."""
Points = tuple[NDArray[np.intp], int]
"""One point in every mast laid end to end: its element, and which of the element's points."""


@dataclass(frozen=True)
class Layer:
    """One tube, bar or filling of the section.

    Parameters
    ----------
    name : str
        ``tube``, or ``sleeve 1``, ``plug 1`` and so on.
    made_of : Metals, Timber, Laid or Foam
        Its material; the limits go by its type.
    shape : Shape
        Outline at every point, shape (n, points); zero where the layer is absent. Of a metal that is left
        when pitting or wear has taken its share off the outside.
    present : ndarray of bool, shape (n, 1)
        Elements in which it stands.
    elastic : Elastic
        Its stiffness and density.
    new : Shape, optional
        Outline when new, where that is another: it sets the mass, and which row of a table holds.
    """

    name: str
    made_of: MadeOf
    shape: Shape
    present: NDArray[np.bool_]
    elastic: Elastic
    new: Shape | None = None

    @property
    def metal(self) -> Metal:
        """The thinnest row of a metal."""
        assert isinstance(self.made_of, Metals)
        return self.made_of.rows[0]

    @cached_property
    def outer_m(self) -> Floats:
        """Outside size, the larger of two."""
        return np.maximum(self.shape.outer_forward_m, self.shape.outer_side_m)

    @cached_property
    def inner_m(self) -> Floats:
        """Size of the bore, the larger of two."""
        return np.maximum(self.shape.inner_forward_m, self.shape.inner_side_m)

    @property
    def wall_m(self) -> Floats:
        """Wall at its thinnest place; half the diameter of a bar."""
        return self.shape.wall_m

    @property
    def as_new(self) -> Shape:
        """Outline when new."""
        return self.shape if self.new is None else self.new

    @cached_property
    def EI_N_m2(self) -> Floats:
        """Bending stiffness in both planes, side and forward, shape (2, n, points)."""
        return np.asarray(self.elastic.E_Pa * self.second_moments_m4)

    @cached_property
    def second_moments_m4(self) -> Floats:
        """For bending sideways and fore and aft, shape (2, n, points)."""
        return np.stack([self.shape.second_moment_side_m4, self.shape.second_moment_forward_m4])

    def only(self, elements: NDArray[np.intp]) -> Layer:
        """Return some elements of it; the plies of a laminate stay those of all."""
        made_of = self.made_of.only(elements) if isinstance(self.made_of, Timber) else self.made_of
        return only(
            self,
            elements,
            made_of=made_of,
            shape=self.shape.only(elements),
            elastic=only(self.elastic, elements),
            new=None if self.new is None else self.new.only(elements),
        )

    def strength(self, pick: Callable[[Metal], float]) -> Floats:
        """Return a strength of a metal at every point, by the wall thickness found there."""
        assert isinstance(self.made_of, Metals)
        rows, made_m = self.made_of.rows, self.as_new.wall_m
        value = np.full(made_m.shape, pick(rows[-1]))
        for metal in reversed(rows[:-1]):
            if metal.wall_up_to_m is not None:
                # a hair of slack: a wall of exactly the limit belongs to the thinner row
                value = np.where(made_m <= metal.wall_up_to_m * (1 + 1e-9), pick(metal), value)
        return value


@dataclass(frozen=True)
class Sections:
    """The section of the mast at every point of a mesh; of many masts, laid end to end.

    Parameters
    ----------
    mesh : Mesh
        Elements, by mast.
    layers : tuple of Layer
        From the tube on.
    outline : Outline
        Sizes they were built from.
    """

    mesh: Mesh
    layers: tuple[Layer, ...]
    outline: Outline

    @cached_property
    def z_m(self) -> Floats:
        """Heights of the points, shape (n, points)."""
        return end_to_end(self.mesh.z_m)

    @property
    def start_m(self) -> Floats:
        """Lower ends of the elements, shape (n,)."""
        return self.mesh.edges_m[..., :-1].reshape(-1)

    @property
    def end_m(self) -> Floats:
        """Upper ends of the elements, shape (n,)."""
        return self.mesh.edges_m[..., 1:].reshape(-1)

    def of_masts(self, field: NDArray[Any]) -> NDArray[Any]:
        """Return a field by mast, shape (..., masts, elements, points); as it is where there is one mast."""
        return field.reshape(*field.shape[:-2], *self.mesh.masts, -1, field.shape[-1])

    def each(self, value: Value) -> Value:
        """Return what every mast has, at every element of it; a number as it is."""
        if np.ndim(value) == 0:
            return value
        return np.repeat(value, self.mesh.edges_m.shape[-1] - 1)[:, None]

    def only(self, elements: NDArray[np.intp]) -> Sections:
        """Return some elements, each as a mast of its own: enough for what looks at each point by itself."""
        ends = np.column_stack([self.start_m[elements], self.end_m[elements]])
        layers = tuple(layer.only(elements) for layer in self.layers)
        # what each mast is as a whole, it stays
        softest = self.softest[elements]
        return only(self, elements, mesh=Mesh(ends), layers=layers, softest=softest)

    def above(self, height_m: Value) -> NDArray[np.intp]:
        """Return the element above a height in every mast, shape (masts,), or (1,) for one mast."""
        n = self.mesh.edges_m.shape[-1] - 1
        first = n * np.arange(int(np.prod(self.mesh.masts)))
        return np.asarray(first + np.broadcast_to(self.mesh.edge_numbers(height_m), first.shape))

    def below(self, height_m: Value) -> NDArray[np.intp]:
        """Return the element below a height in every mast, shape (masts,), or (1,) for one mast."""
        n = self.mesh.edges_m.shape[-1] - 1
        first = n * np.arange(int(np.prod(self.mesh.masts)))
        edge = self.mesh.edge_numbers(height_m, lowest=True)
        return np.asarray(first + np.broadcast_to(edge, first.shape) - 1)

    def laid(self, lay_up: LayUp, heights_m: Floats) -> Laid:
        """Return a lay-up at the height of every element."""
        return replace(lay_up.at(heights_m), masts=int(np.prod(self.mesh.masts)))

    def at(self, field: Floats, points: Points) -> Value:
        """Return a field at one point of every mast, shape (..., masts), or (...) for one mast."""
        found = field[..., points[0], points[1]]
        return found if self.mesh.masts else found[..., 0]

    def within(self, low_m: Value, high_m: Value) -> NDArray[np.bool_]:
        """Return the elements within a stretch, shape (n, 1)."""
        middle = ((self.start_m + self.end_m) / 2)[:, None]
        return np.asarray((middle > self.each(low_m)) & (middle < self.each(high_m)))

    @cached_property
    def even(self) -> bool:
        """Whether the mast is as stiff one way as the other."""
        return all(layer.shape.one_size for layer in self.layers)

    @cached_property
    def planes_N_m2(self) -> Floats:
        """Bending stiffness in both planes of the mast, side and forward, shape (2, n, points)."""
        return np.asarray(sum(layer.EI_N_m2 for layer in self.layers))

    @cached_property
    def EI_N_m2(self) -> Floats:
        """Bending stiffness under load, the weaker way."""
        return np.asarray(np.min(self.planes_N_m2, axis=0))

    @cached_property
    def EI_true_N_m2(self) -> Floats:
        """Bending stiffness free of shear deflection, for frequencies, the weaker way."""
        return self._weaker(lambda e: e.E_true_Pa)

    @cached_property
    def EI_low_N_m2(self) -> Floats:
        """Bending stiffness at the lower 5 %, for instability, the weaker way."""
        return self._weaker(lambda e: e.E_low_Pa)

    @cached_property
    def softest(self) -> Floats:
        """Least share of its stiffness that each mast has at the lower 5 %, at every element of it, shape (n, 1)."""
        least = np.min(self.of_masts(self.EI_low_N_m2 / self.EI_N_m2), axis=(-2, -1))
        return np.broadcast_to(self.each(least), (len(self.start_m), 1))

    @cached_property
    def EA_N(self) -> Floats:
        return np.asarray(sum(layer.elastic.E_Pa * layer.shape.area_m2 for layer in self.layers))

    @cached_property
    def GJ_N_m2(self) -> Floats:
        return np.asarray(sum(layer.elastic.G_Pa * layer.shape.torsion_constant_m4 for layer in self.layers))

    @property
    def creep(self) -> Value:
        """What a lasting load adds to its deflection at once, where it adds most; zero without wood."""
        crept = sum(layer.EI_N_m2 / (1 + creep_of(layer.made_of)) for layer in self.layers)
        share = np.max(crept_share(EI=self.planes_N_m2, EI_crept=crept), axis=0)
        most = np.max(self.of_masts(share), axis=(-2, -1))
        return float(most) if most.ndim == 0 else most

    @cached_property
    def mass_kg_m(self) -> Floats:
        return np.asarray(sum(layer.elastic.density_kg_m3 * layer.as_new.area_m2 for layer in self.layers))

    @cached_property
    def outer_m(self) -> Floats:
        """Outside size of the whole, the larger of two."""
        return np.asarray(np.max([layer.outer_m for layer in self.layers], axis=0))

    def _weaker(self, modulus: Callable[[Elastic], Floats]) -> Floats:
        planes = sum(modulus(layer.elastic) * layer.second_moments_m4 for layer in self.layers)
        return np.asarray(np.min(planes, axis=0))


def section_kinks(mast: Mast, lay_ups: LayUps | None = None, outline: Outline | None = None) -> Floats:
    """Return the heights at which the section, its plies, or the strength of its metal change in all masts alike."""
    laid = {mast.material, *(s.laminate for s in mast.sheath)}
    held = [
        *(z for name, lay_up in (lay_ups or {}).items() if name in laid for z in lay_up.kinks_m),
        *(z for s in mast.sheath for z in (s.start_m, s.end_m)),
        *(z for p in mast.plug for z in (p.start_m, p.end_m)),
        *(o.height_m + side * (o.length_m or o.width_m) / 2 for o in mast.opening for side in (-1, 1)),
        *(z for w in mast.weld for z in (w.height_m - w.extent_m, w.height_m, w.height_m + w.extent_m)),
    ]
    return np.concatenate([(outline or outline_of(mast)).kinks_m, np.array(held, dtype=float)])


def sections_of(
    mast: Mast, mesh: Mesh, make: Make, lay_ups: LayUps | None = None, outline: Outline | None = None
) -> Sections:
    """Return the sections of a mast on a mesh that has its kinks.

    Parameters
    ----------
    mast : Mast
        The spar.
    mesh : Mesh
        Elements ending on every kink; by mast, where there are many.
    make : callable
        Makes a material of a name and a piece.
    lay_ups : mapping, optional
        The laminates that the mast or its sheaths may name.
    outline : Outline, optional
        Sizes in place of those of the mast: of many masts at once.
    """
    lay_ups = lay_ups or {}
    laid, of = lay_ups.get(mast.material), outline_of(mast) if outline is None else outline
    bare = Sections(mesh, (), of)
    tube = _tube(mast, bare, make) if laid is None else _laid_tube(mast, bare, laid)
    layers = [worn(tube, mast.wall_loss_m)]
    for number, (sleeve, size) in enumerate(zip(mast.sleeve, of.sleeves, strict=True), start=1):
        present = bare.within(size.start_m, size.end_m)
        outer = np.where(present, bare.each(size.diameter_m), 0.0) * np.ones_like(bare.z_m)
        inner = np.where(present, bare.each(size.diameter_m - 2 * size.wall_m), 0.0) * np.ones_like(bare.z_m)
        tube_of_it = Round.even(outer, inner)
        layer = _layer(f"sleeve {number}", sleeve.material or mast.material, tube_of_it, present, bare, make)
        layers.append(worn(layer, mast.wall_loss_m))
    for number, plug in enumerate(mast.plug, start=1):
        present = bare.within(plug.start_m, plug.end_m)
        filling = _filling(tube.shape, present)
        layers.append(_layer(f"plug {number}", plug.material or mast.material, filling, present, bare, make))
    for number, sheath in enumerate(mast.sheath, start=1):
        layers.append(_sheath(f"sheath {number}", sheath, bare, tube.shape, lay_ups[sheath.laminate]))
    return Sections(mesh, tuple(layers), of)


def end_to_end(field: Floats) -> Floats:
    """Return a field by mast, shape (masts, n, points), with the masts laid end to end."""
    return field.reshape(-1, field.shape[-1])


def _tube(mast: Mast, bare: Sections, make: Make) -> Layer:
    of = bare.outline
    outer, across, thick = (
        end_to_end(of.along(bare.mesh, values)) for values in (of.forward_m, of.side_m, of.wall_m)
    )
    # a bar's wall is half its size: what rounding leaves of a bore is none
    bore, bore_across = (
        np.where(2 * thick < size * (1 - 1e-12), size - 2 * thick, 0.0) for size in (outer, across)
    )
    solid = (bore == 0.0) | (bore_across == 0.0)
    bore, bore_across = np.where(solid, 0.0, bore), np.where(solid, 0.0, bore_across)
    shape: Shape
    match mast.shape, mast.outside:
        case "staves", "round":
            # the wall is thinnest at the corners of the bore, whose size is that across its flats
            shape = Turned.even(outer, bore / polygon_across_corners(mast.sides, 1.0), mast.sides)
        case "staves", _:
            shape = Polygon.even(outer, bore, mast.sides)
        case "box", _:
            shape = Box(outer, across, bore, bore_across)
        case "ellipse", _:
            shape = Ellipse(outer, across, bore, bore_across)
        case _:
            shape = Round.even(outer, bore)
    return _layer("tube", mast.material, shape, np.ones((len(outer), 1), dtype=bool), bare, make)


def worn(layer: Layer, loss_m: float) -> Layer:
    """Return a layer of metal with some of its outside gone; any other as it is."""
    if loss_m == 0.0 or not isinstance(layer.made_of, Metals):
        return layer
    here, shape = layer.present, layer.shape
    left = replace(
        shape,
        outer_forward_m=np.where(here, shape.outer_forward_m - 2 * loss_m, 0.0),
        outer_side_m=np.where(here, shape.outer_side_m - 2 * loss_m, 0.0),
    )
    return replace(layer, shape=left, new=shape)


def _laid_tube(mast: Mast, bare: Sections, lay_up: LayUp) -> Layer:
    """Return the tube of a laminate: its plies make the wall, laid on a mandrel or up to an outside size."""
    of, middle = bare.outline, bare.mesh.middle_m
    counts = of.counts.get(mast.material)
    laid = bare.laid(lay_up, middle.reshape(-1)) if counts is None else laid_of_many(lay_up, counts, middle)
    face = end_to_end(of.along(bare.mesh, of.forward_m))
    on_mandrel = mast.stations[0].bore_m is not None
    inner, outer = (face, face + 2 * laid.wall_m) if on_mandrel else (face - 2 * laid.wall_m, face)
    return _laid_layer("tube", laid, Round.even(outer, inner), np.ones((len(face), 1), dtype=bool))


def _sheath(name: str, sheath: Sheath, bare: Sections, tube: Shape, lay_up: LayUp) -> Layer:
    present = bare.within(sheath.start_m, sheath.end_m)
    middle = (bare.start_m + bare.end_m) / 2
    # where there is no sheath its plies may end: what would lie at its nearest end stands there, with no size
    ends = lay_up.stretches_m(sheath.start_m, sheath.end_m)
    low, high = (sum(ends[i]) / 2 for i in (0, -1))
    laid = bare.laid(lay_up, np.where(present[:, 0], middle, np.clip(middle, low, high)))
    over, double = sheath.side == "over", 2 * laid.wall_m
    faces = (tube.outer_forward_m, tube.outer_side_m) if over else (tube.inner_forward_m, tube.inner_side_m)
    # its other face, outward or inward
    others = [face + double if over else face - double for face in faces]
    outer, inner = (others, faces) if over else (faces, others)
    x, y, bore_x, bore_y = (np.where(present, size, 0.0) for size in (*outer, *inner))
    # what was turned round is round outside, and its bore has corners that no sheath fits
    kind: type[Shape] = Round if isinstance(tube, Turned) else type(tube)
    return _laid_layer(name, laid, kind(x, y, bore_x, bore_y, tube.sides if kind.polygonal else 0), present)


def _laid_layer(name: str, laid: Laid, shape: Shape, present: NDArray[np.bool_]) -> Layer:
    stiff = elastic(laid)
    if isinstance(shape, Round):
        E, G = laid.tube_moduli_Pa(shape.inner_forward_m)
        stiff = replace(stiff, E_Pa=E, E_true_Pa=E, E_low_Pa=E, G_Pa=G)
    return Layer(name, laid, shape, present, stiff)


def _filling(around: Shape, present: NDArray[np.bool_]) -> Shape:
    """Return the bar that fills the bore of a shape."""
    forward, side = (np.where(present, size, 0.0) for size in (around.inner_forward_m, around.inner_side_m))
    none = np.zeros_like(forward)
    kind = Polygon if isinstance(around, Turned) else type(around)
    return kind(forward, side, none, none, around.sides)


def _layer(
    name: str, material: str, shape: Shape, present: NDArray[np.bool_], bare: Sections, make: Make
) -> Layer:
    here = np.broadcast_to(present, shape.outer_forward_m.shape)
    wall, outer = shape.wall_m[here], np.maximum(shape.outer_forward_m, shape.outer_side_m)
    depth = bare.each(np.max(bare.of_masts(np.where(here, outer, 0.0)), axis=(-2, -1)))
    piece = Piece(
        name=name,
        thinnest_m=float(wall.min()),
        thickest_m=float(wall.max()),
        depth_m=float(depth) if np.ndim(depth) == 0 else depth,
        solid=bool(np.all(shape.solid[here])),
        section=shape.kind,
    )
    made_of = make(material, piece)
    return Layer(name, made_of, shape, present, elastic(made_of))
