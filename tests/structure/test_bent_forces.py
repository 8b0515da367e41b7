"""Forces in and on the mast bent far: statics alone, taken anew from the shape that came back."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rigcalc.structure.beam import BeamLoad, Supports, solve
from rigcalc.structure.large import LargeDeflection, Pull, solve_large
from rigcalc.structure.mesh import POINTS, Mesh

from . import Floats, Mast, on_bearings

BURY, TOWARD = 0.25, (0.15, -0.4, 0.5)


def tangent_of(mast: Mast, found: LargeDeflection) -> Floats:
    """Return the unit tangent by differentiating the places along every element."""
    slopes = np.empty_like(found.position_m)
    for i, z in enumerate(mast.z):
        for k in range(3):
            fit = np.polynomial.Polynomial.fit(z, found.position_m[k, i], POINTS - 1)
            slopes[k, i] = fit.deriv()(z)
    return slopes


def all_kinds(lower_m: float, size: float) -> tuple[Mast, Floats, Floats, Floats, tuple[Pull, ...], Supports]:
    """Return a tapered mast, stiffer one way than the other, under every kind of load, in springs."""
    mast = on_bearings(BURY, kinks_m=(0.08, 0.6))
    z = mast.z
    EI = np.stack([(1 - 0.6 * z) ** 2, 1.7 * (1 - 0.5 * z) ** 2])
    line = size * np.stack([1.0 + z, 0.5 - z, -0.4 - 0.2 * z])
    edges = mast.mesh.edges_m
    points = np.zeros((3, 1, edges.size))
    middle = mast.mesh.edge_index(0.6)
    points[:, 0, middle] = size * np.array([0.7, -0.3, -0.5])
    points[:, 0, -1] = size * np.array([0.2, 0.4, -0.3])
    points[:, 0, 0] = size * np.array([0.1, 0.2, 0.0])
    pulls = (Pull(0, edges.size - 1, 0.8 * size, TOWARD),)
    return mast, EI, line, points, pulls, Supports(BURY, 200.0, 300.0, lower_m)


@pytest.mark.parametrize("lower_m", [0.0, 0.08])
@pytest.mark.parametrize("size", [1e-3, 0.05, 0.2])
def test_loads_and_bearings_balance_on_the_bent_shape(lower_m: float, size: float) -> None:
    mast, EI, line, points, pulls, supports = all_kinds(lower_m, size)
    found = solve_large(mast.mesh, EI[:, None], line[:, None], points, supports, pulls=pulls)
    assert found.converged.all()
    position, mesh, edges = found.position_m[:, 0], mast.mesh, mast.mesh.edges_m
    at_edges = np.concatenate([position[:, :1, 0], position[:, :, -1]], axis=1)
    arm = np.array(TOWARD) - at_edges[:, -1]
    forces = [*points[:, 0].T, 0.8 * size * arm / np.linalg.norm(arm)]
    places = [*at_edges.T, at_edges[:, -1]]
    for held, height in ((found.partners_N[:, 0], BURY), (found.heel_N[:, 0], lower_m)):
        forces.append(np.array([*-held, 0.0]))
        places.append(at_edges[:, mesh.edge_index(height)])
    spread = np.array([mesh.total(part) for part in line])
    # what is left along the mast stands on the heel
    stands = -(spread + np.sum(forces, axis=0))[2]
    forces.append(np.array([0.0, 0.0, stands]))
    places.append(at_edges[:, 0])
    turning = np.array([mesh.total(part) for part in np.cross(position, line, axis=0)])
    turning += np.sum(np.cross(places, forces), axis=0)
    scale = size * edges[-1]
    # the rounds stop at 1e-10 of a radian, by which the pull may still turn
    np.testing.assert_allclose(spread + np.sum(forces, axis=0), 0.0, atol=1e-9 * scale)
    # about the mast itself nothing is held: its twist is no part of the bent shape
    np.testing.assert_allclose(turning[:2], 0.0, atol=1e-9 * scale)


@pytest.mark.parametrize("size", [0.1, 0.2])
def test_shear_is_what_the_forces_outboard_have_across_the_mast(size: float) -> None:
    mast, EI, line, points, pulls, supports = all_kinds(0.0, size)
    found = solve_large(mast.mesh, EI[:, None], line[:, None], points, supports, pulls=pulls)
    assert found.converged.all()
    one = replace(found, position_m=found.position_m[:, 0])
    t, mesh = tangent_of(mast, one), mast.mesh
    arm = np.array(TOWARD) - one.position_m[:, -1, -1]
    pull = 0.8 * size * arm / np.linalg.norm(arm)
    N = np.stack([mesh.from_tip(part) for part in line]) + pull[:, None, None]
    for edge, height in enumerate(mesh.edges_m):
        N[:, : edge if edge else 0] += points[:, 0, edge][:, None, None]
        if height == BURY:
            N[:2, :edge] -= found.partners_N[:, 0][:, None, None]
    across = N - np.sum(N * t, axis=0) * t
    told = np.hypot(*found.shear_N[:, 0])
    assert told == pytest.approx(np.sqrt(np.sum(across**2, axis=0)), rel=1e-6, abs=1e-6 * size)
    # far over it is neither the force that the straight mast would have, nor all that stands outboard
    assert np.max(np.abs(told - np.hypot(*N[:2]))) > 0.02 * np.max(told)


def test_of_a_mast_that_hardly_bends_they_are_those_of_the_straight_one() -> None:
    mast, EI, line, points, _, supports = all_kinds(0.08, 1e-6)
    far = solve_large(mast.mesh, EI[:, None], line[:, None], points, supports)
    near = solve(mast.mesh, EI[:, None], BeamLoad(line[:2, None], points[:2]), supports)
    for name in ("shear_N", "partners_N", "heel_N", "moment_N_m"):
        np.testing.assert_allclose(getattr(far, name), getattr(near, name), rtol=2e-5, atol=2e-11)


def test_a_mast_blown_flat_is_sheared_no_more_where_it_lies_along_its_load() -> None:
    """A tip force of 30 EI/L^2: at the tip the mast lies nearly along it, and the heel holds the moment's arm."""
    mast = on_bearings(0.2)
    points = np.stack([mast.at_tip(30.0), mast.no_points, mast.no_points])
    found = solve_large(mast.mesh, mast.one, mast.vector(0.0, 0.0, 0.0), points, mast.supports)
    assert found.converged
    lean = tangent_of(mast, found)[0]
    np.testing.assert_allclose(
        found.shear_N[0, mast.bury :], 30.0 * np.sqrt(1 - lean[mast.bury :] ** 2), atol=1e-3
    )
    assert found.shear_N[0, -1, -1] < 0.2 * 30.0
    assert found.heel_N[0] == pytest.approx(30.0 - found.partners_N[0])


def test_every_mast_of_a_batch_has_its_own() -> None:
    mast = on_bearings(0.2)
    mesh = Mesh(np.stack([mast.mesh.edges_m] * 3))
    EI = np.array([1.0, 2.0, 5.0])[:, None, None] * mast.one
    points = np.zeros((3, 3, mast.mesh.edges_m.size))
    points[0, :, -1], points[2, :, -1] = 1.0, -0.4
    found = solve_large(mesh, EI, np.zeros((3, *EI.shape)), points, Supports(0.2))
    for i in range(3):
        alone = solve_large(mast.mesh, EI[i], np.zeros((3, *mast.z.shape)), points[:, i], mast.supports)
        for name in ("shear_N", "heel_N", "partners_N"):
            np.testing.assert_allclose(getattr(found, name)[:, i], getattr(alone, name), atol=1e-8)
