"""Stretches of mast between kinks, with Gauss points on each, and integrals along them.

The points are those of Gauss-Lobatto: both ends of every element are among them, so a value that jumps
at a kink is kept twice, once on each side. Integrals between points are those of the polynomial through
the element's points, exact to rounding for the smooth fields between kinks.
"""

from __future__ import annotations

from functools import cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ..frozen import dataclass
from ..quadrature import lobatto
from ..stretches import distinct, merged

Floats = NDArray[np.float64]

HAIR = 1e-9
"""Share of the length below which two heights are one."""
POINTS = 8
"""Points on each element: the interpolant is of degree 7."""
Edge = int | NDArray[np.intp]
"""Number of an edge, one for all masts or one for each."""


@dataclass(frozen=True)
class Mesh:
    """Elements along a mast.

    Parameters
    ----------
    edges_m : ndarray, shape (..., n + 1)
        Heights of the element ends, growing; leading axes are candidates.
    """

    edges_m: Floats

    @cached_property
    def z_m(self) -> Floats:
        """Heights of the points, shape (..., n, POINTS)."""
        points, _, _ = lobatto(POINTS)
        start, end = self.edges_m[..., :-1, None], self.edges_m[..., 1:, None]
        z = start + (end - start) * (1 + points) / 2
        z[..., -1] = end[..., 0]
        return np.asarray(z)

    @cached_property
    def half_m(self) -> Floats:
        """Half lengths of the elements, shape (..., n, 1)."""
        return np.asarray(np.diff(self.edges_m, axis=-1)[..., None] / 2)

    @cached_property
    def weights_m(self) -> Floats:
        """What every point counts in an integral over the whole mast, shape (..., n, POINTS)."""
        _, weights, _ = lobatto(POINTS)
        return np.asarray(weights * self.half_m)

    def total(self, f: Floats) -> Floats:
        """Return the integral of ``f`` over the whole mast, shape (...)."""
        _, weights, _ = lobatto(POINTS)
        return np.asarray(np.sum(f @ weights * self.half_m[..., 0], axis=-1))

    def from_heel(self, f: Floats) -> Floats:
        """Return the integral of ``f`` from the heel to every point."""
        inside, whole = self._inside(f)
        inside += (whole.cumsum(axis=-1) - whole)[..., None]
        return inside

    def from_tip(self, f: Floats) -> Floats:
        """Return the integral of ``f`` from every point to the tip."""
        inside, whole = self._inside(f)
        after = whole[..., ::-1].cumsum(axis=-1)[..., ::-1]
        return np.asarray(np.subtract(after[..., None], inside, out=inside))

    def _inside(self, f: Floats) -> tuple[Floats, Floats]:
        """Return the integral of ``f`` from the lower end of each element to its points, and over all of it."""
        _, _, cumulative = lobatto(POINTS)
        inside = np.asarray((f @ cumulative) * self.half_m)
        return inside, inside[..., -1].copy()

    @property
    def masts(self) -> tuple[int, ...]:
        """Number of masts with elements of their own, or nothing where there is one."""
        return self.edges_m.shape[:-1]

    @property
    def middle_m(self) -> Floats:
        """Middles of the elements, shape (..., n)."""
        return np.asarray((self.edges_m[..., :-1] + self.edges_m[..., 1:]) / 2)

    def lifted(self) -> Mesh:
        """Return the same elements with one more axis before them, for several shapes of one mast."""
        return Mesh(self.edges_m[..., None, :])

    def edge_index(self, height_m: float | Floats) -> int:
        """Return the edge that stands at a height, the same edge for every mast.

        Raises
        ------
        ValueError
            If no edge stands there, or not the same one in all masts.
        """
        edge = self.edges_at(height_m)
        if not isinstance(edge, int):
            raise ValueError(f"no kink of the mesh at {height_m} m that is one edge of all masts")
        return edge

    def edges_at(self, height_m: float | Floats) -> Edge:
        """Return the edge that stands at a height: a number, or one for each mast where they differ.

        Raises
        ------
        ValueError
            If no edge stands there.
        """
        each = self.edge_numbers(height_m)
        first = int(each.flat[0])
        return first if each.ndim == 0 or (each == first).all() else each

    def edge_numbers(self, height_m: float | Floats, *, lowest: bool = False) -> NDArray[np.intp]:
        """Return the number of the edge that stands at a height, for each mast; raises as `edges_at`.

        Of several edges that fall together it is the highest, above which the mast goes on, or the lowest.
        """
        edges, height = self.edges_m, np.asarray(height_m)
        if edges.ndim > 1 and edges.strides[0] == 0:
            edges = edges[:1]  # one row stands for all
        gap = np.abs(edges - height[..., None])
        nearest = gap.min(axis=-1, keepdims=True)
        if (nearest > 3 * HAIR * edges[..., -1:]).any():
            raise ValueError(f"no kink of the mesh at {height_m} m")
        there = gap <= nearest + 1e-13 * edges[..., -1:]
        if lowest:
            return np.asarray(there.argmax(axis=-1))
        return np.asarray(there.shape[-1] - 1 - there[..., ::-1].argmax(axis=-1))


def starting(field: Floats, edge: Edge) -> Floats:
    """Return a field at the lower end of the element above an edge.

    Parameters
    ----------
    field : ndarray, shape (..., n, points)
        By mast, where the edges differ.
    edge : int or ndarray of int, shape (masts,)
        As `Mesh.edges_at` returns it.
    """
    return _of_each(field[..., 0], edge)


def ending(field: Floats, edge: Edge) -> Floats:
    """Return a field at the upper end of the element below an edge; arguments as for `starting`."""
    return _of_each(field[..., -1], edge - 1)


def _of_each(values: Floats, number: Edge) -> Floats:
    if isinstance(number, int):
        return np.asarray(values[..., number])
    rows = np.broadcast_shapes(values.shape[:-1], number.shape)
    values, at = np.broadcast_to(values, (*rows, values.shape[-1])), np.broadcast_to(number, rows)
    return np.asarray(np.take_along_axis(values, at[..., None], axis=-1)[..., 0])


def below(edge: Edge, n: int) -> tuple[slice, NDArray[np.bool_] | bool]:
    """Return the elements below an edge: those among which it lies in any mast, and which of them in each.

    Parameters
    ----------
    edge : int or ndarray of int, shape (masts,)
        As `Mesh.edges_at` returns it.
    n : int
        Number of elements.

    Returns
    -------
    slice
        Elements below the highest edge.
    bool or ndarray of bool, shape (masts, elements, 1)
        Which of them are below.
    """
    if isinstance(edge, int):
        return slice(0, edge), True
    highest = min(int(np.max(edge)), n)
    return slice(0, highest), np.arange(highest)[:, None] < edge[..., None, None]


def make_mesh(kinks_m: Floats, *, length_m: float, longest_m: float) -> Mesh:
    """Return a mesh whose elements end on every kink and are no longer than ``longest_m``.

    Parameters
    ----------
    kinks_m : ndarray
        Heights at which a load, a section or a bearing changes; those outside the mast are left out.
    length_m : float
        Length of the mast.
    longest_m : float
        Longest element.
    """
    z = distinct(np.concatenate([[0.0, length_m], np.asarray(kinks_m, dtype=float)]))
    z = z[(z >= 0.0) & (z <= length_m)]
    # kinks closer than a hair to the last one kept are that one: so short an element only adds rounding
    kept = [0.0]
    for height in z.tolist():
        if height - kept[-1] > HAIR * length_m:
            kept.append(height)
    kept[-1] = length_m
    z = np.array(kept)
    pieces = [np.linspace(a, b, int(np.ceil((b - a) / longest_m - 1e-9)) + 1)[:-1] for a, b in pairwise(z)]
    return Mesh(np.concatenate([*pieces, [length_m]]))


def make_meshes(kinks_m: Floats, own_m: Floats, *, length_m: float, longest_m: float) -> Mesh:
    """Return a mesh for many masts whose kinks differ, with as many elements to each.

    Kinks that fall together leave an element without length between them. The mesh of a mast hangs on its own kinks
    alone, whatever other masts there are.

    Parameters
    ----------
    kinks_m : ndarray, shape (k,)
        Heights at which something changes in all masts; those outside the mast are left out.
    own_m : ndarray, shape (masts, j)
        Heights at which something changes in each.
    length_m, longest_m : float
        Length of the masts and of the longest element.
    """
    even = np.linspace(0.0, length_m, int(np.ceil(length_m / longest_m - 1e-9)) + 1)
    # what all masts have in common may be thinned out once
    shared = make_mesh(kinks_m, length_m=length_m, longest_m=length_m).edges_m
    grid = even[np.min(np.abs(even[:, None] - shared), axis=1) > longest_m / 4]
    return Mesh(merged(shared, grid, np.clip(own_m, 0.0, length_m)))
