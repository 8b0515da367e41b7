"""Whole masts against beams and boundary-value problems of general mathematics: sympy and scipy.

sympy's beam is exact: singularity functions and fractions. ``solve_bvp`` collocates to a tolerance that it keeps;
``quad`` sums strain energy by unit loads, a route by work where the package goes by displacement.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest
import sympy
from scipy.integrate import quad, solve_bvp
from sympy.physics.continuum_mechanics.beam import Beam

from rigcalc import check, read_rig

from .masts import KINDS, Mast, Piece, random_mast
from .test_frames import at

EXACT = 1e-10
"""The package integrates polynomials of degree seven on each element: an even mast is met to rounding."""


def exactly(value: float) -> sympy.Rational:
    """Return the fraction that a decimal of the rig file stands for."""
    found = Fraction(repr(float(value)))
    return sympy.Rational(found.numerator, found.denominator)


def even_mast(seed: int) -> Mast:
    mast = random_mast("even", seed)
    tube = mast.tubes[0]
    rounded = Piece(0.0, tube.z1, round(tube.d0, 3), round(tube.d0, 3), 0.003, 0.003, tube.alloy)
    return Mast((rounded,), (), mast.bury, mast.fittings, mast.lines, mast.points)


@pytest.mark.parametrize("seed", range(4))
def test_an_even_mast_in_fractions(seed: int) -> None:
    mast = even_mast(seed)
    length, bury = exactly(mast.length), exactly(mast.bury)
    beam = Beam(length, 1, 1)
    heel, partners = beam.apply_support(0, "pin"), beam.apply_support(bury, "roller")
    for z, force in mast.points:
        beam.apply_load(exactly(force), exactly(z), -1)
    for line in mast.lines:
        z0, z1, w0, w1 = map(exactly, (line.z0, line.z1, line.w0, line.w1))
        beam.apply_load(w0, z0, 0, end=z1)
        beam.apply_load((w1 - w0) / (z1 - z0), z0, 1, end=z1)
    beam.solve_for_reaction_loads(heel, partners)
    case = mast.result.cases[0]
    # its loads and reactions count one way
    assert case.partners_side_N == pytest.approx(float(beam.reaction_loads[partners]), rel=EXACT)
    assert case.step_side_N == pytest.approx(float(beam.reaction_loads[heel]), rel=EXACT)
    EI = float(mast.EI(np.array(1.0), 1.0))
    for name, expression, unit in (
        ("deflection_side_m", beam.deflection(), EI),
        ("slope_side_rad", beam.slope(), EI),
        ("moment_side_N_m", beam.bending_moment(), 1.0),
    ):
        exact = [float(expression.subs(beam.variable, exactly(z))) / unit for z in mast.kinks]
        ours = at(mast.result, name, mast.kinks)
        scale = np.max(np.abs(exact))
        # sympy counts a sagging moment, and deflection, with the loads, or all against them: one sign for each
        sign = np.sign(np.dot(exact, ours))
        np.testing.assert_allclose(ours, sign * np.array(exact), atol=EXACT * scale)
        assert sign == (-1 if name == "moment_side_N_m" else 1)


TOLERANCE = 1e-9


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("seed", [11, 12])
def test_a_boundary_value_problem(kind: str, seed: int) -> None:
    """Every stretch between kinks is a beam of its own, laid side by side on one unit of length."""
    mast = random_mast(kind, seed)
    stretches = list(pairwise(mast.kinks))
    n, forces = len(stretches), dict(mast.points)
    EI0 = float(mast.EI(np.array(0.0), 1e-9))
    load0 = max(abs(line.w0) for line in mast.lines) * mast.length

    def slopes(s: np.ndarray, y: np.ndarray) -> np.ndarray:
        out = np.empty_like(y)
        for i, (a, b) in enumerate(stretches):
            h, middle = b - a, (a + b) / 2
            z = a + h * s
            line = sum((q.at(z) for q in mast.lines if q.z0 < middle < q.z1), np.zeros_like(z))
            _, slope, moment, shear = y[4 * i : 4 * i + 4]
            out[4 * i] = h * slope
            out[4 * i + 1] = h * moment * EI0 / mast.EI(z, middle)
            out[4 * i + 2] = -h * shear
            # all in units of the heel's stiffness and the load, so that one tolerance serves all
            out[4 * i + 3] = -h * line / load0
        return out

    def ends(low: np.ndarray, high: np.ndarray) -> np.ndarray:
        rows = [low[0], low[2], high[4 * n - 2], high[4 * n - 1]]
        for i, z in enumerate(mast.kinks[1:-1]):
            under, over = high[4 * i : 4 * i + 4], low[4 * i + 4 : 4 * i + 8]
            rows += [over[k] - under[k] for k in range(3)]
            rows.append(over[0] if z == mast.bury else over[3] - under[3] + forces.get(z, 0.0) / load0)
        return np.array(rows)

    s = np.linspace(0, 1, 9)
    solved = solve_bvp(slopes, ends, s, np.zeros((4 * n, s.size)), tol=TOLERANCE, max_nodes=20000)
    assert solved.success
    unit = load0 / EI0
    for name, row, scale in (
        ("deflection_side_m", 0, unit),
        ("slope_side_rad", 1, unit),
        ("moment_side_N_m", 2, load0),
    ):
        found = np.array([*(solved.sol(0.0)[row::4]), solved.sol(1.0)[4 * n - 4 + row]]) * scale
        ours = at(mast.result, name, mast.kinks)
        # the tolerance is on residuals over a stretch; they gather along the mast
        np.testing.assert_allclose(ours, found, atol=100 * TOLERANCE * np.max(np.abs(found)))


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("seed", [21, 22])
@pytest.mark.parametrize("springs", [None, (2e5, 9e5)])
def test_work_of_a_unit_load_at_the_tip(kind: str, seed: int, springs: tuple[float, float] | None) -> None:
    drawn = random_mast(kind, seed)
    mast = Mast(
        drawn.tubes, drawn.sleeves, drawn.bury, drawn.fittings, drawn.lines, drawn.points, 0.0, springs
    )
    b, length = mast.bury, mast.length

    def outboard(z: float) -> float:
        total = sum(force * (height - z) for height, force in mast.points if height > z)
        for q in mast.lines:
            low = max(q.z0, z)
            if low < q.z1:
                total += quad(lambda u, q=q: q.at(u) * (u - z), low, q.z1, epsabs=0, epsrel=1e-13)[0]
        return float(total)

    partners = outboard(0.0) / b
    heel = (
        sum(F for _, F in mast.points) + sum((q.w0 + q.w1) / 2 * (q.z1 - q.z0) for q in mast.lines) - partners
    )

    def work(z: float, middle: float) -> float:
        moment = outboard(z) - partners * max(b - z, 0.0)
        unit = (length - z) - length / b * max(b - z, 0.0)
        return moment * unit / float(mast.EI(np.array(z), middle))

    tip = sum(
        quad(lambda z, m=(low + high) / 2: work(z, m), low, high, epsabs=0, epsrel=1e-11)[0]
        for low, high in pairwise(mast.kinks)
    )
    if springs is not None:
        # the unit load presses on both bearings too
        tip += partners * (length / b) / springs[1] + heel * (1 - length / b) / springs[0]
    result = check(read_rig(mast.text()))
    assert at(result, "deflection_side_m", [length])[0] == pytest.approx(tip, rel=1e-8)
    assert result.cases[0].tip_deflection_m == pytest.approx(abs(tip), rel=1e-8)
