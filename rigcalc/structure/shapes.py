"""The outline of one layer of the section at every station: round, polygonal, turned, box or elliptical.

x is forward, y to leeward; sizes lie along these axes and polygons turn a flat forward. ``forward`` names
what serves bending fore and aft, the integral of x^2 for one; ``side`` what serves bending sideways.
A size of zero outside means that the layer is absent there: every property is zero. A bore of zero is a
solid bar. The material is no part of a shape; a layered section weighs the shapes of its layers.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable
from copy import copy
from functools import cached_property, partial
from typing import ClassVar, Literal, Self, TypeVar

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..formulas import Value, Working, sections, shapes
from ..frozen import dataclass

Floats = NDArray[np.float64]
Kind = Literal["round", "polygon", "turned", "box", "ellipse"]
T = TypeVar("T")
FORWARD, SIDE = 0, 1
FEWEST_SIDES = 4


def only(whole: T, elements: NDArray[np.intp], **others: object) -> T:
    """Return some elements of what holds point by point, with all that was worked out of it already.

    Parameters
    ----------
    whole : object
        Every array in it, given or worked out, has the elements on its last axis but one.
    elements : ndarray of int
        Which of them.
    **others
        What is not an array and has elements too.
    """
    arrays = {id(of): of for of in vars(whole).values() if isinstance(of, np.ndarray)}
    # what is one array stays one
    taken = {key: np.take(of, elements, axis=-2) if of.ndim else of for key, of in arrays.items()}
    part = copy(whole)
    vars(part).update({name: taken.get(id(of), of) for name, of in vars(whole).items()} | others)
    return part


@dataclass(frozen=True)
class Shape(ABC):
    """A hollow or solid section along the stations; every property has the shape of its sizes.

    Parameters
    ----------
    outer_forward_m, outer_side_m : ndarray
        Full sizes of the outside: diameters, widths across flats (twice the distance from the axis to a flat),
        sides, or axes.
    inner_forward_m, inner_side_m : ndarray
        The same of the bore.
    sides : int
        Of a polygon, at least four.
    """

    outer_forward_m: Floats
    outer_side_m: Floats
    inner_forward_m: Floats
    inner_side_m: Floats
    sides: int = 0
    kind: ClassVar[Kind]
    one_size: ClassVar[bool] = True
    polygonal: ClassVar[bool] = False

    @classmethod
    def even(cls, outer_m: Floats, inner_m: Floats, sides: int = 0) -> Self:
        """Return the shape with the same size forward and sideways."""
        return cls(outer_m, outer_m, inner_m, inner_m, sides)

    def __post_init__(self) -> None:
        """Refuse sizes that make no section; a rig file is judged before it comes here."""
        if self.polygonal and self.sides < FEWEST_SIDES:
            raise ValueError(f"a polygonal section has {FEWEST_SIDES} sides or more, not {self.sides}")
        x, y, bore_x, bore_y = sizes = self._sizes
        if not all(np.all(np.isfinite(size) & (size >= 0.0)) for size in sizes):
            raise ValueError("a size of a section is not a number from zero up")
        if np.any((x > 0.0) != (y > 0.0)) or np.any((bore_x > 0.0) != (bore_y > 0.0)):
            raise ValueError("one size of a section is zero and the other is not")
        if self.one_size and (np.any(x != y) or np.any(bore_x != bore_y)):
            raise ValueError(f"a {self.kind} section has one size, not two")
        if np.any((bore_x > 0.0) & (x == 0.0)) or np.any((self.wall_m <= 0.0) & self.present):
            raise ValueError("the bore of a section is not inside its outside")

    def only(self, elements: NDArray[np.intp]) -> Self:
        """Return the shape of some elements."""
        return only(self, elements)

    @cached_property
    def present(self) -> NDArray[np.bool_]:
        return np.asarray(self.outer_forward_m > 0.0)

    @cached_property
    def solid(self) -> NDArray[np.bool_]:
        return np.asarray(self.present & (self.inner_forward_m == 0.0))

    @cached_property
    def wall_m(self) -> Floats:
        """Wall where it is thinnest; half the lesser size of a bar."""
        x, y, bore_x, bore_y = self._sizes
        return np.minimum(x - bore_x, y - bore_y) / 2

    @cached_property
    def area_m2(self) -> Floats:
        return self._here(self._area())

    @cached_property
    def second_moment_forward_m4(self) -> Floats:
        """For bending fore and aft."""
        return self._here(self._second_moment(FORWARD))

    @cached_property
    def second_moment_side_m4(self) -> Floats:
        """For bending sideways."""
        return self._here(self._second_moment(SIDE))

    @cached_property
    def weaker_second_moment_m4(self) -> Floats:
        return np.minimum(self.second_moment_forward_m4, self.second_moment_side_m4)

    @property
    def weaker_angle_rad(self) -> Floats:
        """Direction of the weaker bending, from forward toward leeward: 0, or a quarter turn."""
        return np.where(self.second_moment_side_m4 < self.second_moment_forward_m4, np.pi / 2, 0.0)

    @cached_property
    def torsion_constant_m4(self) -> Floats:
        return self._here(self._torsion(lambda function, **sizes: function(**sizes)))

    @cached_property
    def torsion_arm_m(self) -> Floats:
        """Greatest nominal shear stress of a torque T is T times this over the torsion constant."""
        return self._here(self._torsion_arm())

    @cached_property
    def mean_line_area_m2(self) -> Floats:
        """Area inside the mean line of the wall, for Bredt's shear flow; zero for a bar."""
        return np.where(self.solid, 0.0, self._here(self._mean_line_area()))

    @cached_property
    def shear_per_m2(self) -> Floats:
        """Shear stress at the neutral axis per unit of shear force, in its worst direction."""
        return self._here(self._shear())

    @cached_property
    def half_moment_m3(self) -> Floats:
        """First moment of half the section about its middle, for shear sideways and fore and aft, on a leading axis."""
        return np.stack([self._here(self._middle(axis)[0]) for axis in (SIDE, FORWARD)])

    @cached_property
    def middle_width_m(self) -> Floats:
        """Wood or metal that the middle cuts, the same way; where it is least, of a section that has one size."""
        return np.stack([self._here(self._middle(axis)[1]) for axis in (SIDE, FORWARD)])

    @cached_property
    def worst_fibre_per_m3(self) -> Floats:
        """Bending stress per unit of moment at the outline, with the mast turned to where it is greatest."""
        return self._here(self.farthest_m(1 / self._second_moment(FORWARD), 1 / self._second_moment(SIDE)))

    def fibre_per_m3(self, angle_rad: ArrayLike) -> Floats:
        """Return the greatest bending stress per unit of moment for one direction of the load.

        Parameters
        ----------
        angle_rad : array_like
            Direction toward which the mast is bent, from forward toward leeward, in the axes of the mast.
        """
        forward = np.cos(angle_rad) / self._second_moment(FORWARD)
        return self._here(self.reach_m(forward, np.sin(angle_rad) / self._second_moment(SIDE)))

    def worked_torsion_constant_m4(self, working: Working, where: str) -> Floats:
        """Return the torsion constant, noting its steps and the ranges it leaves.

        Points without the layer are worked as a bar of one metre, which is inside every range.

        Parameters
        ----------
        working : Working
            Where to note.
        where : str
            What is being worked out, for the warning.
        """
        return self._here(self._torsion(partial(working.use, where=where)))

    def reach_m(self, forward: Value, side: Value) -> Floats:
        """Return the most that ``|forward x + side y|`` is on the outline.

        With the weights ``M_forward E/EI_forward`` and ``M_side E/EI_side`` of a layered section this is the
        greatest bending stress in this layer; with cos and sin of an angle, half its width in that direction.
        """
        x, y = self.outer_forward_m, self.outer_side_m
        return np.asarray(np.hypot(forward * x, side * y)) / 2

    def farthest_m(self, forward: Value, side: Value) -> Floats:
        """Return the most that the root of ``(forward x)^2 + (side y)^2`` is on the outline.

        With the weights ``E/EI_forward`` and ``E/EI_side`` this is the greatest bending stress per unit of moment
        in a layer of a layered section, turned to where it is greatest.
        """
        x, y = self.outer_forward_m, self.outer_side_m
        return np.asarray(np.maximum(np.abs(forward * x), np.abs(side * y))) / 2

    @abstractmethod
    def _area(self) -> Value: ...

    @abstractmethod
    def _second_moment(self, axis: int) -> Value: ...

    @abstractmethod
    def _torsion(self, use: Callable[..., Value]) -> Value: ...

    @abstractmethod
    def _torsion_arm(self) -> Value: ...

    @abstractmethod
    def _mean_line_area(self) -> Value: ...

    @abstractmethod
    def _shear(self) -> Value: ...

    @abstractmethod
    def _middle(self, axis: int) -> tuple[Value, Value]:
        """First moment of half the section, and the width at its middle, as the shear stress takes them."""

    @property
    def _sizes(self) -> tuple[Floats, Floats, Floats, Floats]:
        return self.outer_forward_m, self.outer_side_m, self.inner_forward_m, self.inner_side_m

    def _halves(self, axis: int = FORWARD, *, tube: bool = False) -> tuple[Floats, Floats, Floats, Floats]:
        """Half sizes of outside and bore, the one along ``axis`` first, for formulas.

        The outside is 1 m where absent so that nothing is divided by zero; for formulas of a ``tube``, half the
        outside stands in for a bore of zero.
        """
        x, y = (np.where(self.present, size, 1.0) for size in self._sizes[:2])
        bore_x, bore_y = self._sizes[2:]
        if tube:
            bore_x, bore_y = np.where(bore_x > 0.0, bore_x, x / 2), np.where(bore_y > 0.0, bore_y, y / 2)
        if axis == SIDE:
            x, y, bore_x, bore_y = y, x, bore_y, bore_x
        return x / 2, y / 2, bore_x / 2, bore_y / 2

    def _widths(self) -> tuple[Floats, Floats]:
        """Outside and bore of a shape of one size, for formulas."""
        a, _, a_i, _ = self._halves()
        return 2 * a, 2 * a_i

    def _here(self, value: Value) -> Floats:
        return np.where(self.present, value, 0.0)


@dataclass(frozen=True)
class Round(Shape):
    """A round tube or bar."""

    kind: ClassVar[Kind] = "round"

    def _area(self) -> Value:
        return sections.annulus_area(*self._widths())

    def _second_moment(self, axis: int) -> Value:
        return sections.annulus_second_moment(*self._widths())

    def _torsion(self, use: Callable[..., Value]) -> Value:
        D, d = self._widths()
        return use(sections.annulus_torsion_constant, D=D, d=d)

    def _torsion_arm(self) -> Value:
        return self.outer_forward_m / 2

    def _mean_line_area(self) -> Value:
        return sections.annulus_area(sum(self._widths()) / 2, 0.0)

    def _shear(self) -> Value:
        return sections.ring_peak_shear_stress(1.0, *self._widths())

    def _middle(self, axis: int) -> tuple[Value, Value]:
        D, d = self._widths()
        return (D**3 - d**3) / 12, D - d


@dataclass(frozen=True)
class Turned(Shape):
    """A tube turned round outside, with a polygonal bore, a flat of it forward; the bore is across flats."""

    kind: ClassVar[Kind] = "turned"
    polygonal: ClassVar[bool] = True

    @cached_property
    def wall_m(self) -> Floats:
        """Wall at the corners of the bore; half the diameter of a bar."""
        bore = shapes.polygon_across_corners(self.sides, self.inner_forward_m)
        return np.asarray(self.outer_forward_m - bore) / 2

    def _area(self) -> Value:
        D, w = self._widths()
        return sections.annulus_area(D, 0.0) - shapes.polygon_area(self.sides, w)

    def _second_moment(self, axis: int) -> Value:
        D, w = self._widths()
        return sections.annulus_second_moment(D, 0.0) - shapes.polygon_second_moment(self.sides, w)

    def _torsion(self, use: Callable[..., Value]) -> Value:
        D, w = self._widths()
        return use(shapes.turned_torsion_constant, n=self.sides, D=D, w=w)

    def _torsion_arm(self) -> Value:
        return shapes.turned_torsion_arm(self.sides, *self._widths())

    def _mean_line_area(self) -> Value:
        return shapes.turned_mean_area(self.sides, *self._widths())

    def _shear(self) -> Value:
        return shapes.turned_peak_shear_stress(1.0, self.sides, *self._widths())

    def _middle(self, axis: int) -> tuple[Value, Value]:
        D, w = self._widths()
        corners = shapes.polygon_across_corners(self.sides, w)
        return (D**3 - w**2 * corners) / 12, D - corners


@dataclass(frozen=True)
class Polygon(Shape):
    """A regular polygonal tube or bar, bore and outside parallel, a flat forward; sizes across flats."""

    kind: ClassVar[Kind] = "polygon"
    polygonal: ClassVar[bool] = True

    def reach_m(self, forward: Value, side: Value) -> Floats:
        return np.asarray(np.max([np.abs(forward * x + side * y) for x, y in self._corners()], axis=0))

    def farthest_m(self, forward: Value, side: Value) -> Floats:
        return np.asarray(np.max([np.hypot(forward * x, side * y) for x, y in self._corners()], axis=0))

    def _corners(self) -> list[tuple[Floats, Floats]]:
        radius = shapes.polygon_across_corners(self.sides, self.outer_forward_m) / 2
        angles = (2 * np.arange(self.sides) + 1) * np.pi / self.sides
        return [(radius * np.cos(angle), radius * np.sin(angle)) for angle in angles]

    def _area(self) -> Value:
        W, w = self._widths()
        return shapes.polygon_area(self.sides, W) - shapes.polygon_area(self.sides, w)

    def _second_moment(self, axis: int) -> Value:
        W, w = self._widths()
        return shapes.polygon_second_moment(self.sides, W) - shapes.polygon_second_moment(self.sides, w)

    def _torsion(self, use: Callable[..., Value]) -> Value:
        W, w = self._widths()
        return use(shapes.polygon_torsion_constant, n=self.sides, W=W, w=w)

    def _torsion_arm(self) -> Value:
        return shapes.polygon_torsion_arm(self.sides, *self._widths())

    def _mean_line_area(self) -> Value:
        return shapes.polygon_area(self.sides, sum(self._widths()) / 2)

    def _shear(self) -> Value:
        return shapes.polygon_peak_shear_stress(1.0, self.sides, *self._widths())

    def _middle(self, axis: int) -> tuple[Value, Value]:
        W, w = self._widths()
        return (W**3 - w**3) * (2 + np.tan(np.pi / self.sides) ** 2) / 24, W - w


@dataclass(frozen=True)
class Ellipse(Shape):
    """An elliptical tube or bar; its wall is half the difference of the axes at their ends only."""

    kind: ClassVar[Kind] = "ellipse"
    one_size: ClassVar[bool] = False

    def _area(self) -> Value:
        return shapes.ellipse_area(*self._halves())

    def _second_moment(self, axis: int) -> Value:
        return shapes.ellipse_second_moment(*self._halves(axis))

    def _torsion(self, use: Callable[..., Value]) -> Value:
        a, b, a_i, b_i = self._halves(tube=True)
        tube = use(shapes.ellipse_torsion_constant, a=a, b=b, a_i=a_i, b_i=b_i)
        return np.where(self.solid, use(shapes.ellipse_bar_torsion_constant, a=a, b=b), tube)

    def _torsion_arm(self) -> Value:
        a, b, _, _ = self._halves()
        bar = shapes.ellipse_bar_torsion_arm(np.maximum(a, b), np.minimum(a, b))
        ends = [shapes.ellipse_torsion_arm(*self._halves(axis, tube=True)) for axis in (FORWARD, SIDE)]
        return np.where(self.solid, bar, np.maximum(*ends))

    def _mean_line_area(self) -> Value:
        a, b, a_i, b_i = self._halves()
        return shapes.ellipse_area((a + a_i) / 2, (b + b_i) / 2, 0.0, 0.0)

    def _shear(self) -> Value:
        return np.maximum(*(shapes.ellipse_peak_shear_stress(1.0, *self._halves(i)) for i in (FORWARD, SIDE)))

    def _middle(self, axis: int) -> tuple[Value, Value]:
        a, b, a_i, b_i = self._halves(axis)
        return 2 / 3 * (a**2 * b - a_i**2 * b_i), 2 * (b - b_i)


@dataclass(frozen=True)
class Box(Shape):
    """A rectangular box or bar with sharp corners, its sides along the axes."""

    kind: ClassVar[Kind] = "box"
    one_size: ClassVar[bool] = False

    def reach_m(self, forward: Value, side: Value) -> Floats:
        x, y = self.outer_forward_m, self.outer_side_m
        return np.asarray(np.abs(forward * x) + np.abs(side * y)) / 2

    def farthest_m(self, forward: Value, side: Value) -> Floats:
        return super().reach_m(forward, side)  # the corner, as an ellipse of these axes would reach

    def _sides(self, axis: int = FORWARD, *, tube: bool = False) -> tuple[Floats, Floats, Floats, Floats]:
        """Breadth and depth of outside and bore, the depth along ``axis``."""
        depth, breadth, bore_depth, bore_breadth = self._halves(axis, tube=tube)
        return 2 * breadth, 2 * depth, 2 * bore_breadth, 2 * bore_depth

    def _area(self) -> Value:
        return shapes.box_area(*self._sides())

    def _second_moment(self, axis: int) -> Value:
        return shapes.box_second_moment(*self._sides(axis))

    def _torsion(self, use: Callable[..., Value]) -> Value:
        B, H, b, h = self._sides(tube=True)
        tube = use(shapes.box_torsion_constant, B=B, H=H, b=b, h=h)
        bar = use(shapes.rectangle_torsion_constant, a=np.maximum(B, H), b=np.minimum(B, H))
        return np.where(self.solid, bar, tube)

    def _torsion_arm(self) -> Value:
        B, H, _, _ = self._sides()
        bar = shapes.rectangle_torsion_arm(np.maximum(B, H), np.minimum(B, H))
        walls = [shapes.box_torsion_arm(*self._sides(axis, tube=True)) for axis in (FORWARD, SIDE)]
        return np.where(self.solid, bar, np.maximum(*walls))

    def _mean_line_area(self) -> Value:
        B, H, b, h = self._sides()
        return shapes.box_area((B + b) / 2, (H + h) / 2, 0.0, 0.0)

    def _shear(self) -> Value:
        return np.maximum(*(shapes.box_peak_shear_stress(1.0, *self._sides(i)) for i in (FORWARD, SIDE)))

    def _middle(self, axis: int) -> tuple[Value, Value]:
        B, H, b, h = self._sides(axis)
        return (B * H**2 - b * h**2) / 8, B - b
