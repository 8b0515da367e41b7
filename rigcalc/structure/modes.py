"""Lowest natural frequencies and the axial load at which the mast becomes unstable.

Both are subspace iterations on the beam integrator: the load of the last shapes bends the next ones,
and within the space they span the best combinations are found (Rayleigh-Ritz).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ..frozen import dataclass
from ..quadrature import legendre
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

    def inertia(deflection_m: Floats) -> BeamLoad:
        return BeamLoad(mass * deflection_m, points * _at_edges(deflection_m))

    inner, bearings = mesh.lifted(), supports.lifted()

    def bend(load: BeamLoad) -> BeamResult:
        return solve(inner, EI, load, bearings)

    def work(load: BeamLoad, shape: BeamResult) -> Floats:
        return _work(mesh, load, shape)

    load = _first_loads(mesh, EI_N_m2)
    values = np.zeros((*EI_N_m2.shape[:-2], count))
    settled = np.zeros(EI_N_m2.shape[:-2], dtype=bool)
    for _ in range(most_rounds):
        shape = bend(load)
        # sought as 1/omega^2 against the stiffness: that is positive whatever the masses are
        squares, mix = _ritz(work(inertia(shape.deflection_m), shape), work(load, shape))
        deflection = _combine(shape.deflection_m, mix)
        load = inertia(deflection)
        last, values = values, squares[..., :count]
        settled = np.all(np.abs(values - last) <= tolerance * np.abs(values), axis=-1)
        if np.all(settled):
            break
    # a mast without mass does not swing: its frequency is beyond all bounds
    with np.errstate(divide="ignore"):
        frequencies = 1 / (2 * np.pi * np.sqrt(np.maximum(values, 0.0)))
    return Eigen(frequencies, deflection[..., :count, :, :], np.asarray(settled))


def critical_axial_load(
    mesh: Mesh,
    EI_N_m2: Floats,
    growing_N: Floats,
    constant_N: Floats | None,
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
        Axial compression along the mast: the pattern that grows, and what stays (own weight, say), if anything.
        Both keep the direction of the undeformed mast. Where ``growing_N`` has tension too, a compressed
        part short beside it may be missed: leave the tension out then, which is the safe side.
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
    stays_N = () if constant_N is None else (constant_N,)
    batch = np.broadcast_shapes(*(field.shape for field in (EI_N_m2, growing_N, *stays_N)))[:-2]
    EI, growing = EI_N_m2[..., None, :, :], growing_N[..., None, :, :]
    constant = None if constant_N is None else constant_N[..., None, :, :]
    edges = np.zeros((*batch, mesh.edges_m.shape[-1])) if restoring_N_m is None else restoring_N_m
    springs = edges[..., None, :]
    inner, bearings = mesh.lifted(), supports.lifted()

    def presses(axial: Floats, shape: BeamResult) -> Floats:
        return _gram(mesh, axial * shape.slope_rad, shape.slope_rad)

    def steadies(shape: BeamResult) -> Floats:
        edge = _at_edges(shape.deflection_m)
        return np.asarray((springs * edge) @ np.swapaxes(edge, -1, -2))

    first = _first_loads(mesh, np.broadcast_to(EI_N_m2, (*batch, *EI_N_m2.shape[-2:])))
    source = inner.from_tip(first.line_N_m)
    total = source[..., 0, 0]
    # sought as 1/factor against the stiffness: a pull to a fixed point may steady the mast, and then no
    # factor is large enough
    inverse, settled = np.zeros((*batch, 1)), np.zeros(batch, dtype=bool)
    fallen = np.zeros(batch, dtype=bool)
    for _ in range(most_rounds):
        shape = solve_shear(inner, EI, source, bearings, total_N=total)
        # work of the loads, by parts: their sums on the slope, and all of them on the movement of the foot
        stiff = _gram(mesh, source, shape.slope_rad)
        stiff = stiff + total[..., :, None] * shape.deflection_m[..., None, :, 0, 0]
        if constant is not None:
            stays = presses(constant, shape)
            # what stays does more work on some shape than bending it takes: the mast falls without more
            fallen |= _ritz(stays, stiff)[0][..., 0] >= 1
            stiff = stiff - np.where(fallen[..., None, None], 0.0, stays)
        found, mix = _ritz(presses(growing, shape) - steadies(shape), stiff)
        slope, deflection = _combine(shape.slope_rad, mix), _combine(shape.deflection_m, mix)
        last, inverse = inverse, found[..., :1]
        axial = growing
        if constant is not None:
            axial = growing + np.maximum(inverse, 0.0)[..., None, None] * constant
        held = springs * _at_edges(deflection)
        source = axial * slope - outboard_sum(held)[..., None]
        total = -np.sum(held, axis=-1)
        settled = fallen | np.all(np.abs(inverse - last) <= tolerance * np.abs(inverse), axis=-1)
        # a largest value that is not positive says that no factor is large enough; it need not be sharp
        settled |= (inverse <= 0.0)[..., 0] & (last <= 0.0)[..., 0]
        if np.all(settled):
            break
    with np.errstate(divide="ignore"):
        factor = np.where(fallen[..., None], 0.0, 1 / np.maximum(inverse, 0.0))
    return Eigen(factor, deflection[..., :1, :, :], np.asarray(settled))


def least_axial_factors(
    mesh: Mesh,
    EI_N_m2: Floats,
    axial_N: Floats,
    supports: Supports,
    *,
    restoring_N_m: Floats,
    sharp_below: float,
    rounds: int = 3,
    sharp_rounds: int = 8,
) -> Floats:
    """Return the factors on axial forces at which many masts become unstable, from above.

    One shape for each mast, iterated under the greatest compression that any case puts at each height, serves all
    its cases by Rayleigh's quotient, which no true factor exceeds. Where that comes out low, the case is iterated
    by itself. A mast that fails here fails; one that passes is to be looked at by `critical_axial_load`.

    Parameters
    ----------
    mesh : Mesh
        Elements.
    EI_N_m2 : ndarray, shape (masts, n, points)
        Bending stiffness.
    axial_N : ndarray, shape (cases, masts, n, points)
        Compression, nowhere negative.
    supports : Supports
        Bearings.
    restoring_N_m : ndarray, shape (cases, masts, n + 1)
        Sideways stiffness at the edges that grows with the compression.
    sharp_below : float
        Factor below which a case is iterated by itself.
    rounds, sharp_rounds : int
        Rounds of either; the error falls by the square of the ratio of the lowest two factors a round.

    Returns
    -------
    ndarray, shape (cases, masts)
        Infinite where nothing presses the mast, or where its pulls steady it.
    """
    worst = np.max(axial_N, axis=0)
    none = np.zeros(worst.shape[:-2])
    source = mesh.from_tip(np.ones_like(worst)) * (np.max(worst, axis=(-2, -1), keepdims=True) > 0.0)
    shape = solve_shear(mesh, EI_N_m2, source, supports, total_N=source[..., 0, 0])
    for _ in range(rounds):
        source = worst * shape.slope_rad
        shape = solve_shear(mesh, EI_N_m2, source, supports, total_N=none)
    factors = _rayleigh(mesh, source, shape, axial_N, restoring_N_m)
    case, mast = np.nonzero(factors < sharp_below)
    if case.size:
        own = Mesh(np.broadcast_to(mesh.edges_m, (*worst.shape[:1], mesh.edges_m.shape[-1]))[mast])
        EI, axial, springs = EI_N_m2[mast], axial_N[case, mast], restoring_N_m[case, mast]
        bent = BeamResult(*(getattr(shape, name)[mast] for name in BeamResult.__dataclass_fields__))
        best = factors[case, mast]
        for _ in range(sharp_rounds):
            held = springs * _at_edges(bent.deflection_m)
            source = axial * bent.slope_rad - outboard_sum(held)[..., None]
            total = -np.sum(held, axis=-1)
            bent = solve_shear(own, EI, source, supports, total_N=total)
            sharper = _rayleigh(own, source, bent, axial, springs, total_N=total)
            best = np.minimum(best, sharper)
        factors[case, mast] = best
    return factors


def _rayleigh(
    mesh: Mesh,
    source_N: Floats,
    shape: BeamResult,
    axial_N: Floats,
    restoring_N_m: Floats,
    *,
    total_N: Floats | None = None,
) -> Floats:
    """Return Rayleigh's quotient of shapes that some loads bend, under axial forces."""
    stiff = mesh.total(source_N * shape.slope_rad)
    if total_N is not None:
        stiff = stiff + total_N * shape.deflection_m[..., 0, 0]
    pressed = mesh.total(axial_N * shape.slope_rad**2)
    steadied = np.sum(restoring_N_m * _at_edges(shape.deflection_m) ** 2, axis=-1)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray(np.where(pressed > steadied, stiff / (pressed - steadied), np.inf))


def _first_loads(mesh: Mesh, EI_N_m2: Floats) -> BeamLoad:
    """Loads along the mast like the first Legendre polynomials: no two alike."""
    x = 2 * mesh.z_m / mesh.edges_m[..., -1:, None] - 1
    line = np.moveaxis(legendre(SHAPES, x), 0, -3)
    line = np.broadcast_to(line, (*EI_N_m2.shape[:-2], *line.shape[-3:]))
    return BeamLoad(line, np.zeros((*line.shape[:-2], line.shape[-2] + 1)))


def _at_edges(f: Floats) -> Floats:
    return np.concatenate([f[..., :1, 0], f[..., :, -1]], axis=-1)


def _work(mesh: Mesh, load: BeamLoad, shape: BeamResult) -> Floats:
    """Work of every load on every shape, shape (..., SHAPES, SHAPES)."""
    line = _gram(mesh, load.line_N_m, shape.deflection_m)
    return np.asarray(line + load.point_N @ np.swapaxes(_at_edges(shape.deflection_m), -1, -2))


def _gram(mesh: Mesh, f: Floats, g: Floats) -> Floats:
    """Integrals of every field of one lot times every field of another, shape (..., SHAPES, SHAPES)."""
    weighted = f * mesh.weights_m[..., None, :, :]
    return np.asarray(_in_a_row(weighted) @ np.swapaxes(_in_a_row(g), -1, -2))


def _in_a_row(f: Floats) -> Floats:
    return f.reshape(*f.shape[:-2], -1)


def _ritz(a: Floats, b: Floats) -> tuple[Floats, Floats]:
    """Solve ``a c = value b c``, a symmetric, b positive: largest value first, combinations in columns.

    Shapes are first made unit and independent in ``b``; one like the others becomes none, its value zero.
    """
    a, b = (a + np.swapaxes(a, -1, -2)) / 2, (b + np.swapaxes(b, -1, -2)) / 2
    square = np.diagonal(b, axis1=-2, axis2=-1)
    scale = 1 / np.sqrt(np.where(square > 0.0, square, 1.0))
    both = scale[..., :, None] * scale[..., None, :]
    size, axes = np.linalg.eigh(b * both)
    whiten = axes * np.where(size > 1e-14 * size[..., -1:], np.abs(size), np.inf)[..., None, :] ** -0.5
    values, mix = np.linalg.eigh(np.swapaxes(whiten, -1, -2) @ (a * both) @ whiten)
    return values[..., ::-1], (scale[..., :, None] * (whiten @ mix))[..., ::-1]


def _combine(field: Floats, mix: Floats) -> Floats:
    return np.asarray(np.einsum("...sep,...sk->...kep", field, mix))
