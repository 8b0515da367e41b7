"""Lowest natural frequencies and the axial load at which the mast becomes unstable.

Both are subspace iterations on the beam integrator: the load of the last shapes bends the next ones,
and within the space they span the best combinations are found (Rayleigh-Ritz).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .beam import BeamLoad, BeamResult, Supports, outboard_sum, solve, solve_shear
from .mesh import Mesh

Floats = NDArray[np.float64]

SHAPES = 5
"""Shapes iterated together: the error of mode k falls by (omega_k/omega_6)^2 or better a round."""


@dataclass(frozen=True)
class Eigen:
    """Lowest eigenvalues of each mast of a batch.

    Parameters
    ----------
    values : ndarray, shape (..., k)
        Smallest first.
    deflection_m : ndarray, shape (..., k, n, points)
        Their shapes.
    converged : ndarray of bool, shape (...)
        Whether the values had come to rest.
    """

    values: Floats
    deflection_m: Floats
    converged: NDArray[np.bool_]


def natural_frequencies(
    mesh: Mesh,
    EI_N_m2: Floats,
    mass_kg_m: Floats,
    point_mass_kg: Floats,
    supports: Supports,
    *,
    count: int = 2,
    tolerance: float = 1e-12,
    most_rounds: int = 60,
) -> Eigen:
    """Return the lowest natural frequencies in Hz of bending in one plane.

    Parameters
    ----------
    mesh : Mesh
        Elements.
    EI_N_m2, mass_kg_m : ndarray, shape (..., n, points)
        Bending stiffness and mass per metre.
    point_mass_kg : ndarray, shape (..., n + 1)
        Masses at the edges.
    supports : Supports
        Bearings.
    count : int
        How many frequencies, at most ``SHAPES``.
    tolerance : float
        Largest relative change of an eigenvalue in the last round.
    most_rounds : int
        Rounds after which the values are reported as not converged.
    """
    EI, mass, points = EI_N_m2[..., None, :, :], mass_kg_m[..., None, :, :], point_mass_kg[..., None, :]

    def inertia(shape: BeamResult) -> BeamLoad:
        return BeamLoad(mass * shape.deflection_m, points * _at_edges(shape.deflection_m))

    inner, bearings = mesh.lifted(), supports.lifted()

    def bend(load: BeamLoad) -> BeamResult:
        return solve(inner, EI, load, bearings)

    def work(load: BeamLoad, shape: BeamResult) -> Floats:
        return _work(mesh, load, shape)

    shape = bend(_first_loads(mesh, EI_N_m2))
    values = np.zeros((*EI_N_m2.shape[:-2], count))
    settled = np.zeros(EI_N_m2.shape[:-2], dtype=bool)
    for _ in range(most_rounds):
        load = inertia(shape)
        new = bend(load)
        eigen, mix, _ = _ritz(work(load, new), work(inertia(new), new))
        shape = _combine(new, mix)
        change = np.abs(eigen[..., :count] - values) / eigen[..., :count]
        values = eigen[..., :count]
        settled = np.all(change < tolerance, axis=-1)
        if np.all(settled):
            break
    return Eigen(np.sqrt(values) / (2 * np.pi), shape.deflection_m[..., :count, :, :], np.asarray(settled))


def critical_axial_load(
    mesh: Mesh,
    EI_N_m2: Floats,
    growing_N: Floats,
    constant_N: Floats,
    supports: Supports,
    *,
    restoring_N_m: Floats | None = None,
    tolerance: float = 1e-12,
    most_rounds: int = 200,
) -> Eigen:
    """Return the factor on a growing axial force at which the mast becomes unstable.

    Parameters
    ----------
    mesh : Mesh
        Elements.
    EI_N_m2 : ndarray, shape (..., n, points)
        Bending stiffness.
    growing_N, constant_N : ndarray, shape (..., n, points)
        Axial compression along the mast: the pattern that grows, and what stays (own weight, say).
        Both keep the direction of the undeformed mast.
    supports : Supports
        Bearings.
    restoring_N_m : ndarray, shape (..., n + 1), optional
        Sideways stiffness at the edges that grows with the pattern: a force pulling to a fixed point
        brings its edge back by its size over the distance.
    tolerance : float
        Largest relative change of the factor in the last round.
    most_rounds : int
        Rounds after which the factor is reported as not converged.

    Returns
    -------
    Eigen
        One value: the factor on ``growing_N``; zero when ``constant_N`` alone is too much, infinite when
        no factor is.
    """
    EI = EI_N_m2[..., None, :, :]
    growing, constant = growing_N[..., None, :, :], constant_N[..., None, :, :]
    edges = (
        np.zeros((*growing_N.shape[:-2], growing_N.shape[-2] + 1)) if restoring_N_m is None else restoring_N_m
    )
    springs = edges[..., None, :]

    inner, bearings = mesh.lifted(), supports.lifted()

    def bend(source: Floats) -> BeamResult:
        return solve_shear(inner, EI, source, bearings)

    shape = solve(inner, EI, _first_loads(mesh, EI_N_m2), bearings)
    # sought as 1/factor: a pull to a fixed point may steady the mast, and then no factor is large enough
    inverse = np.zeros((*EI_N_m2.shape[:-2], 1))
    settled = np.zeros(EI_N_m2.shape[:-2], dtype=bool)
    too_much = settled
    for _ in range(most_rounds):
        source = (growing + constant * inverse[..., None, None]) * shape.slope_rad
        held = springs * _at_edges(shape.deflection_m)
        new = bend(source - outboard_sum(held)[..., None])
        slope, edge = new.slope_rad, _at_edges(new.deflection_m)
        across = np.swapaxes(edge, -1, -2)
        stiff = _gram(mesh, source, slope) - held @ across
        grows = _gram(mesh, growing * slope, slope) - (springs * edge) @ across
        left = stiff - _gram(mesh, constant * slope, slope)
        values, mix, positive = _ritz(grows, left)
        too_much = ~positive
        best = values[..., -1:]
        shape = _combine(new, mix[..., ::-1])
        settled = np.abs(best - inverse)[..., 0] <= tolerance * np.abs(best)[..., 0]
        inverse = np.where(best > 0.0, best, 0.0)
        if np.all(settled | too_much):
            break
    safe = np.where(inverse > 0.0, inverse, 1.0)
    factor = np.where(too_much[..., None], 0.0, np.where(inverse > 0.0, 1 / safe, np.inf))
    steady = settled | too_much | (inverse[..., 0] == 0.0)
    return Eigen(factor, shape.deflection_m[..., :1, :, :], np.asarray(steady))


def _first_loads(mesh: Mesh, EI_N_m2: Floats) -> BeamLoad:
    """Loads along the mast like the first Legendre polynomials: no two alike."""
    x = 2 * mesh.z_m / mesh.edges_m[..., -1:, None] - 1
    line = np.stack([np.polynomial.legendre.Legendre.basis(k)(x) for k in range(SHAPES)], axis=-3)
    line = np.broadcast_to(line, (*EI_N_m2.shape[:-2], *line.shape[-3:]))
    return BeamLoad(line, np.zeros((*line.shape[:-2], line.shape[-2] + 1)))


def _at_edges(f: Floats) -> Floats:
    return np.concatenate([f[..., :1, 0], f[..., :, -1]], axis=-1)


def _work(mesh: Mesh, load: BeamLoad, shape: BeamResult) -> Floats:
    """Work of every load on every shape, shape (..., SHAPES, SHAPES)."""
    line = _gram(mesh, load.line_N_m, shape.deflection_m)
    return np.asarray(line + load.point_N @ np.swapaxes(_at_edges(shape.deflection_m), -1, -2))


def _gram(mesh: Mesh, f: Floats, g: Floats) -> Floats:
    return mesh.lifted().lifted().total(f[..., :, None, :, :] * g[..., None, :, :, :])


def _ritz(a: Floats, b: Floats) -> tuple[Floats, Floats, NDArray[np.bool_]]:
    """Solve ``a c = value b c`` for symmetric a and b; columns of c are the combinations.

    Shapes are first made unit and independent in ``b``: those that have become alike add nothing.
    The last answer says whether b was positive, without which the values mean nothing.
    """
    a, b = (a + np.swapaxes(a, -1, -2)) / 2, (b + np.swapaxes(b, -1, -2)) / 2
    size = np.diagonal(b, axis1=-2, axis2=-1)
    scale = 1 / np.sqrt(np.where(size > 0.0, size, 1.0))
    a = a * scale[..., :, None] * scale[..., None, :]
    b = b * scale[..., :, None] * scale[..., None, :]
    spread, axes = np.linalg.eigh(b)
    positive = np.all(size >= 0.0, axis=-1) & (spread[..., 0] > -1e-9)
    floor = np.maximum(1e-14 * np.abs(spread[..., -1:]), 1e-30)
    whiten = axes / np.sqrt(np.maximum(spread, floor))[..., None, :]
    values, mix = np.linalg.eigh(np.swapaxes(whiten, -1, -2) @ a @ whiten)
    return values, scale[..., :, None] * (whiten @ mix), positive


def _combine(shape: BeamResult, mix: Floats) -> BeamResult:
    def field(f: Floats) -> Floats:
        return np.asarray(np.einsum("...sep,...sk->...kep", f, mix))

    return BeamResult(
        field(shape.shear_N),
        field(shape.moment_N_m),
        field(shape.slope_rad),
        field(shape.deflection_m),
        np.einsum("...s,...sk->...k", shape.partners_N, mix),
        np.einsum("...s,...sk->...k", shape.heel_N, mix),
    )
