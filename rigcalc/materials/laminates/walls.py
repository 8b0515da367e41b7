"""Stacks of plies: one wall or many at once, and their stiffness A, B and D.

x runs along the tube and y round it; z outward from the middle of the wall. A lay-up is listed inside out. An
angle is that from x to axis 1 of the ply. Arrays have the walls on their leading axes and the plies last.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ...formulas.laminates import (
    reduced_stiffness_11,
    reduced_stiffness_12,
    reduced_stiffness_22,
    turned_stiffness_11,
    turned_stiffness_12,
    turned_stiffness_16,
    turned_stiffness_22,
    turned_stiffness_26,
    turned_stiffness_66,
)
from ...frozen import dataclass
from ..metals import MaterialError
from .plies import Ply

Floats = NDArray[np.float64]
Edges = Literal["membrane", "free"]


@dataclass(frozen=True)
class Lamina:
    """One ply in its place.

    Parameters
    ----------
    ply : Ply
        What is laid.
    angle_rad : float
        From x, along the tube, to axis 1 of the ply.
    """

    ply: Ply
    angle_rad: float

    def __post_init__(self) -> None:
        if not math.isfinite(self.angle_rad):
            raise MaterialError(
                self.ply.name, f"it is laid at {self.angle_rad:g} rad", "Give a finite angle."
            )


@dataclass(frozen=True)
class Wall:
    """A lay-up.

    Parameters
    ----------
    laminae : tuple of Lamina
        Inside first.
    """

    laminae: tuple[Lamina, ...]

    def __post_init__(self) -> None:
        if not self.laminae:
            raise MaterialError("wall", "it has no plies", "Give at least one.")


@dataclass(frozen=True)
class Stack:
    """Walls of one number of plies, as arrays.

    Parameters
    ----------
    plies : ndarray of Ply, shape (..., n)
        Inside first.
    angle_rad : ndarray, shape (..., n)
        From x to axis 1.
    share : ndarray, shape (..., n)
        How much of its thickness each ply has: 1 where it is whole, 0 where it has been dropped.
    """

    plies: NDArray[np.object_]
    angle_rad: Floats
    share: Floats

    @property
    def each(self) -> list[Ply]:
        """Every ply of every wall, one after the other."""
        return list(self.plies.ravel())

    def values(self, pick: Callable[[Ply], float | None]) -> Floats:
        """Return one number of every ply; NaN where it has none."""
        found = [math.nan if (value := pick(ply)) is None else value for ply in self.each]
        return np.reshape(np.array(found, dtype=float), self.plies.shape)

    @property
    def thickness_m(self) -> Floats:
        """Thickness of every ply, zero where it has been dropped."""
        return self.values(lambda ply: ply.thickness_m) * self.share

    @property
    def present(self) -> NDArray[np.bool_]:
        """Where a ply is there at all."""
        return np.broadcast_to(self.share > 0.0, self.thickness_m.shape)

    @property
    def wall_m(self) -> Floats:
        """Thickness of the wall."""
        return np.asarray(np.sum(self.thickness_m, axis=-1))

    @property
    def mass_kg_m2(self) -> Floats:
        """Mass of the wall to its area, resin and all."""
        return np.asarray(np.sum(self.values(lambda ply: ply.mass_kg_m2) * self.share, axis=-1))

    @property
    def fibre_mass_kg_m2(self) -> Floats:
        """Dry fibre of the wall to its area."""
        return np.asarray(np.sum(self.values(lambda ply: ply.fibre_mass_kg_m2) * self.share, axis=-1))

    @property
    def resin_mass_kg_m2(self) -> Floats:
        """Resin that stays in the wall, to its area; what is wasted comes on top."""
        return self.mass_kg_m2 - self.fibre_mass_kg_m2

    @property
    def local_stiffness_Pa(self) -> Floats:
        """Stiffness of every ply in its own axes, shape (..., n, 3, 3)."""
        elastic = {
            "E_1": self.values(lambda ply: ply.E1_Pa),
            "E_2": self.values(lambda ply: ply.E2_Pa),
            "nu_12": self.values(lambda ply: ply.nu12),
        }
        Q = np.zeros((*self.plies.shape, 3, 3))
        Q[..., 0, 0] = reduced_stiffness_11(**elastic)
        Q[..., 1, 1] = reduced_stiffness_22(**elastic)
        Q[..., 0, 1] = Q[..., 1, 0] = reduced_stiffness_12(**elastic)
        Q[..., 2, 2] = self.values(lambda ply: ply.G12_Pa)
        return Q

    @property
    def turned_stiffness_Pa(self) -> Floats:
        """Stiffness of every ply in the axes of the wall, shape (..., n, 3, 3)."""
        local = self.local_stiffness_Pa
        terms = {
            "Q_11": local[..., 0, 0],
            "Q_22": local[..., 1, 1],
            "Q_12": local[..., 0, 1],
            "Q_66": local[..., 2, 2],
            "theta": self.angle_rad,
        }
        Q = np.empty_like(local)
        Q[..., 0, 0] = turned_stiffness_11(**terms)
        Q[..., 1, 1] = turned_stiffness_22(**terms)
        Q[..., 2, 2] = turned_stiffness_66(**terms)
        Q[..., 0, 1] = Q[..., 1, 0] = turned_stiffness_12(**terms)
        Q[..., 0, 2] = Q[..., 2, 0] = turned_stiffness_16(**terms)
        Q[..., 1, 2] = Q[..., 2, 1] = turned_stiffness_26(**terms)
        return Q


Walls = Wall | Sequence[Wall] | Stack
"""One wall, several of one number of plies, or their arrays."""


def stack_of(walls: Walls, share: ArrayLike | None = None) -> Stack:
    """Return walls as arrays.

    Parameters
    ----------
    walls : Wall, sequence of Wall, or Stack
        Several add a leading axis, and must have one number of plies.
    share : array_like, shape (..., n), optional
        How much of its thickness each ply has, so that one lay-up serves a tube whose plies drop off: one
        row for each height, 1 where a ply stands and 0 where it has ended.

    Raises
    ------
    MaterialError
        Where the numbers of plies differ, a share cannot be, or no ply is left somewhere.
    """
    if isinstance(walls, Stack):
        plies, angles, present = walls.plies, walls.angle_rad, walls.share
    else:
        several = (walls,) if isinstance(walls, Wall) else tuple(walls)
        if len({len(wall.laminae) for wall in several}) != 1:
            raise MaterialError(
                "walls", "they differ in the number of plies", "Give dropped plies a share of 0."
            )
        plies = np.empty((len(several), len(several[0].laminae)), dtype=object)
        plies[:] = [[lamina.ply for lamina in wall.laminae] for wall in several]
        angles = np.array([[lamina.angle_rad for lamina in wall.laminae] for wall in several])
        if isinstance(walls, Wall):
            plies, angles = plies[0], angles[0]
        present = np.ones(plies.shape)
    if share is not None:
        present = present * np.asarray(share, dtype=float)
    if not np.all((present >= 0.0) & np.isfinite(present)):
        raise MaterialError(
            "wall", "a share of a ply is below zero or not a number", "Give 0 for a dropped ply."
        )
    if not np.all(np.any(present > 0.0, axis=-1)):
        raise MaterialError("wall", "no ply is left in one place", "Let at least one run through.")
    return Stack(plies, angles, present)


@dataclass(frozen=True)
class Stiffness:
    """What ties line loads N and line moments M of a wall to strains e and curvatures k: N = A e + B k, M = B e + D k.

    Parameters
    ----------
    stack : Stack
        The plies.
    edges_m : ndarray, shape (..., n + 1)
        z of the faces of the plies, inside first.
    A_N_m, B_N, D_N_m : ndarray, shape (..., 3, 3)
        Rows and columns x, y and shear.
    """

    stack: Stack
    edges_m: Floats
    A_N_m: Floats
    B_N: Floats
    D_N_m: Floats

    @property
    def wall_m(self) -> Floats:
        """Thickness of the wall."""
        return np.asarray(self.edges_m[..., -1] - self.edges_m[..., 0])

    @property
    def compliance(self) -> Floats:
        """Inverse of the whole, shape (..., 6, 6): strains first, then curvatures."""
        whole = np.block([[self.A_N_m, self.B_N], [self.B_N, self.D_N_m]])
        return np.asarray(np.linalg.inv(whole))

    @property
    def released_D_N_m(self) -> Floats:
        """Bending stiffness with no line loads, D - B A^-1 B: that of an unsymmetric wall free to stretch."""
        return self.D_N_m - self.B_N @ np.linalg.solve(self.A_N_m, self.B_N)


def abd(walls: Walls, share: ArrayLike | None = None) -> Stiffness:
    """Return A, B and D of walls.

    Parameters
    ----------
    walls : Wall, sequence of Wall, or Stack
        The lay-ups.
    share : array_like, optional
        As for `stack_of`.
    """
    stack = stack_of(walls, share)
    t = stack.thickness_m
    ends = np.cumsum(t, axis=-1)
    edges = np.concatenate([np.zeros_like(ends[..., :1]), ends], axis=-1) - ends[..., -1:] / 2
    low, high = edges[..., :-1], edges[..., 1:]
    Q = stack.turned_stiffness_Pa

    def summed(weight: Floats) -> Floats:
        return np.asarray(np.sum(Q * weight[..., None, None], axis=-3))

    return Stiffness(
        stack=stack,
        edges_m=edges,
        A_N_m=summed(t),
        # t times the middle, not a difference of squares, so that a symmetric wall has no B to the last digit
        B_N=summed(t * (high + low) / 2),
        D_N_m=summed(t * (((high + low) / 2) ** 2 + t**2 / 12)),
    )


@dataclass(frozen=True)
class WallConstants:
    """A wall as if it were one material.

    Parameters
    ----------
    edges : {"membrane", "free"}
        ``membrane``: the wall cannot curl, as in a closed tube. ``free``: it can, as a loose strip does.
    Ex_Pa, Ey_Pa, Gxy_Pa, nuxy, nuyx : ndarray
        Stiffness along the tube, round it, in shear, and Poisson's ratios.
    eta_x : ndarray
        Shear strain that goes with a unit of strain along the tube; nothing in a balanced wall. Where it is
        not, the tube twists as it bends.
    wall_m : ndarray
        Thickness.
    """

    edges: Edges
    Ex_Pa: Floats
    Ey_Pa: Floats
    Gxy_Pa: Floats
    nuxy: Floats
    nuyx: Floats
    eta_x: Floats
    wall_m: Floats


def wall_constants(stiffness: Stiffness, *, edges: Edges) -> WallConstants:
    """Return the constants of a wall with no line loads but the one that is asked for.

    Parameters
    ----------
    stiffness : Stiffness
        Of the wall.
    edges : {"membrane", "free"}
        Whether the wall is kept from curling: ``membrane`` is right for tubes. With shear strain held as
        well, see `untwisted_modulus`; it is the same for a balanced wall.

    Raises
    ------
    MaterialError
        If `edges` is neither.
    """
    if edges == "membrane":
        a = np.linalg.inv(stiffness.A_N_m)
    elif edges == "free":
        a = stiffness.compliance[..., :3, :3]
    else:
        raise MaterialError("wall", f"there are no edges {edges!r}", "Choose 'membrane' or 'free'.")
    h = stiffness.wall_m
    return WallConstants(
        edges=edges,
        Ex_Pa=1 / (a[..., 0, 0] * h),
        Ey_Pa=1 / (a[..., 1, 1] * h),
        Gxy_Pa=1 / (a[..., 2, 2] * h),
        nuxy=-a[..., 0, 1] / a[..., 0, 0],
        nuyx=-a[..., 0, 1] / a[..., 1, 1],
        eta_x=a[..., 0, 2] / a[..., 0, 0],
        wall_m=h,
    )


def unit_strains(stiffness: Stiffness) -> tuple[Floats, Floats]:
    """Return the strains of a wall that cannot curl for a unit of strain along x under N_x, and in shear under N_xy.

    Shape (..., 3) each, with x, y and shear on the last axis.
    """
    a = np.linalg.inv(stiffness.A_N_m)
    return a[..., :, 0] / a[..., 0, 0][..., None], a[..., :, 2] / a[..., 2, 2][..., None]


def ply_moduli(stiffness: Stiffness) -> tuple[Floats, Floats]:
    """Return the share of every ply in E_x and in G_xy of a wall that cannot curl, shape (..., n).

    Weighed by thickness they add up to E_x and G_xy of the wall. With them a tube tells plies that lie far from
    its axis from those near it.
    """
    Q = stiffness.stack.turned_stiffness_Pa
    pulled, sheared = unit_strains(stiffness)
    E, G = ((Q @ strain[..., None, :, None])[..., 0] for strain in (pulled, sheared))
    return E[..., 0], G[..., 2]


def off_axis_share(stack: Stack, *, within_rad: float) -> Floats:
    """Return the share of a wall's thickness whose fibres do not run along the tube.

    A woven ply counts by each of its two lots of fibres.

    Parameters
    ----------
    stack : Stack
        The walls.
    within_rad : float
        Fibres up to this angle from x count as along it.

    Raises
    ------
    MaterialError
        Where a ply does not say how its fibres lie.
    """
    unknown = [ply.name for ply in stack.each if ply.fibres is None]
    if unknown:
        raise MaterialError(
            unknown[0], "it is not known how its fibres lie", "List its lots of fibres as plies."
        )
    lots = [ply.fibres or () for ply in stack.each]
    most = max(len(lot) for lot in lots)
    padded = np.array([[*lot, *[(0.0, 0.0)] * (most - len(lot))] for lot in lots])
    padded = padded.reshape(*stack.plies.shape, most, 2)
    # the sine, because a direction and its opposite are one
    off = np.abs(np.sin(stack.angle_rad[..., None] + padded[..., 0])) > math.sin(within_rad) + 1e-12
    weight = np.sum(np.where(off, padded[..., 1], 0.0), axis=-1)
    return np.asarray(np.sum(weight * stack.thickness_m, axis=-1) / stack.wall_m)
