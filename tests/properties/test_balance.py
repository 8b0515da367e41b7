"""Forces and moments add up to nothing, in every case of any rig, by the answer itself and by what is laid on the mast.

`tests/test_equilibrium.py` draws tubes on posts and through decks; here are all makes, shapes and kinds of case.
"""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings

from rigcalc.formulas import Working
from rigcalc.structure.mesh import POINTS
from rigcalc.verdict import cases_of, evaluate
from rigcalc.verdict.model import ALONG, FORWARD, SIDE
from rigcalc.verdict.turns import Turns

from .rigs import Table, checked, read, rigs

G = 9.80665
CLOSE = 1e-9


@settings(max_examples=14)
@given(rig=rigs(most=4))
def test_what_is_laid_on_the_mast_is_what_the_bearings_hold(rig: Table) -> None:
    known = read(rig)
    cases, _ = cases_of(known, None)
    run = evaluate(known, cases, Working())
    mesh, turns = run.model.mesh, len(run.model.turns_rad)
    for i, load in enumerate(run.loads):
        low, high = load.held_at_m or (0.0, run.model.supports.bury_m)
        at = slice(i * turns, (i + 1) * turns)
        for plane in (SIDE, FORWARD):
            line, point = run.model.line_N_m[plane, at], run.model.point_N[plane, at]
            upper, lower = run.solved.small.partners_N[plane, at], run.solved.small.heel_N[plane, at]
            force = mesh.total(line) + point.sum(axis=-1)
            moment = mesh.total(line * mesh.z_m) + (point * mesh.edges_m).sum(axis=-1)
            size = mesh.total(np.abs(line)) + np.abs(point).sum(axis=-1) + np.abs(upper) + np.abs(lower)
            assert np.all(np.abs(force - upper - lower) <= CLOSE * size + 1e-12)
            arms = CLOSE * size * mesh.edges_m[-1] + 1e-12
            assert np.all(np.abs(moment - upper * high - lower * low) <= arms)
        down = mesh.total(run.model.line_N_m[ALONG, at]) + run.model.point_N[ALONG, at].sum(axis=-1)
        assert -down[0] == pytest.approx(Turns(run.model, run.solved, i).thrust_N, rel=CLOSE, abs=1e-9)


@settings(max_examples=14)
@given(rig=rigs(most=4))
def test_shear_is_the_slope_of_the_moment(rig: Table) -> None:
    """Along every element of the answer, in both planes: a rule between two columns that a reader can check."""
    result = checked(rig)
    s = result.stations
    nodes = 2 * (s.height_m[:POINTS] - s.height_m[0]) / (s.height_m[POINTS - 1] - s.height_m[0]) - 1
    slope = np.linalg.solve(
        np.polynomial.legendre.legvander(nodes, POINTS - 1).T,
        _derivatives(nodes).T,
    ).T
    z = s.height_m.reshape(-1, POINTS)
    half = (z[:, -1:] - z[:, :1]) / 2
    for moment, shear in ((s.moment_side_N_m, s.shear_side_N), (s.moment_forward_N_m, s.shear_forward_N)):
        for of, by in zip(moment, shear, strict=True):
            along = of.reshape(z.shape) @ slope.T / half
            # rounding of a moment, over the shortest of the spaces between points
            off = 1e-11 * np.max(np.abs(of)) / half + 1e-7 * np.max(np.abs(by)) + 1e-9
            assert np.all(np.abs(along + by.reshape(z.shape)) <= off)
            # free at the tip, and free to turn at the heel
            assert abs(of[-1]) <= 1e-9 * np.max(np.abs(of)) + 1e-9


def _derivatives(nodes: np.ndarray) -> np.ndarray:
    bases = [np.polynomial.legendre.Legendre.basis(k).deriv() for k in range(POINTS)]
    return np.stack([base(nodes) for base in bases], axis=1)


@settings(max_examples=14)
@given(rig=rigs(kinds=("given", "knockdown", "lift"), most=3))
def test_loads_by_hand(rig: Table) -> None:
    """What the file gives, or the weight of the mast laid level times its factor."""
    rig["sail"][0]["cloth_mass"] = rig["sail"][0]["cloth_mass"] * 0.0
    result = checked(rig)
    level = 1.5 * result.mast.mass_kg * G
    for case, found in zip(rig["case"], result.cases, strict=True):
        side = -(found.partners_side_N + found.step_side_N)
        forward = -(found.partners_forward_N + found.step_forward_N)
        size = found.partners_force_N + found.step_force_N
        if case["kind"] != "given":
            assert side == pytest.approx(level, rel=CLOSE)
            assert _about_heel(case, found, rig) == pytest.approx(
                level * result.mast.centre_of_gravity_m, rel=1e-8
            )
            continue
        rows = [(z.value, w.value) for z, w in case["line_load"]]
        spread = sum((b - a) * (v + w) / 2 for (a, v), (b, w) in pairwise(rows))
        pushed = sum(p["side"].value for p in case["point_load"])
        assert side == pytest.approx(spread + pushed, abs=CLOSE * size)
        assert forward == pytest.approx(sum(p["forward"].value for p in case["point_load"]), abs=CLOSE * size)
        torque = case["torque"].value if "torque" in case else 0.0
        assert math.isclose(found.torque_N_m, torque, rel_tol=1e-12)
        assert found.step_thrust_N == pytest.approx(case["axial"].value if "axial" in case else 0.0, abs=1e-9)


def _about_heel(case: Table, found: object, rig: Table) -> float:
    upper, lower = found.partners_side_N, found.step_side_N  # type: ignore[attr-defined]  # of a CaseResult
    if case["kind"] == "lift":
        return float(-upper * case["upper_height"].value - lower * case["lower_height"].value)
    return float(-upper * rig["mast"]["bury"].value)
