"""Shear, bearings and hull by the bent mast where it has more: a limp mast under a heavy head, by statics.

A limp mast leans far: a weight at its head then turns it about the bearings besides what pushes it, and all that
straight theory says of the forces is less by a quarter and more. What they must be follows from the place of the
head alone.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from rigcalc import CheckResult, check, read_rig
from rigcalc.formulas import Working
from rigcalc.formulas.hull_loads import bolt_circle_shear, bolt_shear_stress, hole_bearing_stress
from rigcalc.limits import Check
from rigcalc.loads import case_loads
from rigcalc.rig import Rig
from rigcalc.structure.outline import outline_of
from rigcalc.verdict import build_model, cases_of
from rigcalc.verdict.evaluate import Run, evaluate
from rigcalc.verdict.furling import LOADED_COEFFICIENT
from rigcalc.verdict.furling import _drawn as drawn
from rigcalc.verdict.furling import _in as of_furling
from rigcalc.verdict.many import evaluate_many, stand_of
from rigcalc.verdict.solve import solve_cases
from rigcalc.verdict.turns import Turns

from .laminates import rig_of as laminate
from .test_loads import BURY, E_PA, LENGTH, rig_text
from .test_turned_masts import pushed
from .timber_masts import rig_text as timber_text

ROOT = Path(__file__).parents[1]
SIDE, FORWARD, DOWN = 12.0, -5.0, 260.0
PUSH = math.hypot(SIDE, FORWARD)
LIMP = ((0.0, 0.045, 0.002), (LENGTH, 0.045, 0.002))
HEAD = f'axial = "{DOWN!r} N"'
DECK = """
[deck]
kind = "sandwich"
pad_length = "300 mm"
pad_width = "200 mm"
allowed_pressure = "1 MPa"
bolts = 8
bolt_circle = "180 mm"
bolt_diameter = "8 mm"
bolt_allowed = "100 MPa"
thickness = "6 mm"
bearing_allowed = "80 MPa"
"""
PARTNERS = """
[bearings.partners]
kind = "plain"
material = "acetal"
length = "60 mm"
clearance = "0.6 mm"
wall = "8 mm"
"""


def worst(result: CheckResult, id: str) -> Check:
    return max((c for c in result.checks if c.id == id), key=lambda c: c.utilisation)


def by_statics(rig: Rig, run: Run, side: float, forward: float, down: float) -> tuple[float, float]:
    """Return forces of partners and step of a mast pushed at its head, from where the head comes to lie."""
    place = run.solved.bent_m[:, 0, -1, -1]
    heel = run.solved.bent_m[:, 0, 0, 0]
    bury = run.model.mesh.edge_index(rig.mast.bury_m)
    b = run.solved.bent_m[2, 0, bury, 0]
    out = place - heel
    partners = (np.array([side, forward]) * out[2] + down * out[:2]) / b
    return float(np.hypot(*partners)), float(np.hypot(*(np.array([side, forward]) - partners)))


@cache
def limp(text: str) -> tuple[Rig, Run, CheckResult]:
    rig = read_rig(text)
    return rig, evaluate(rig, cases_of(rig, None)[0], Working()), check(rig)


def metal(*more: str, mast: str = "", head: str = HEAD) -> tuple[Rig, Run, CheckResult]:
    return limp(rig_text(stations=LIMP, mast=mast, more="".join(more) + pushed(SIDE, FORWARD, head)))


def test_forces_are_told_of_both_masts() -> None:
    rig, run, result = metal()
    (case,) = result.cases
    partners, step = by_statics(rig, run, SIDE, FORWARD, DOWN)
    straight = PUSH * LENGTH / BURY
    assert case.partners_force_N == pytest.approx(straight, rel=1e-9)
    assert case.bent_partners_force_N == pytest.approx(partners, rel=1e-8)
    assert case.bent_step_force_N == pytest.approx(step, rel=1e-8)
    assert partners > 1.25 * straight
    assert (case.partners_N, case.step_N) == (case.bent_partners_force_N, case.bent_step_force_N)
    assert case.bent_bury_shear_N is not None
    # the bury leans a little: what the heel holds has a part along the mast
    assert 0.99 * step < case.bent_bury_shear_N < step * 1.03
    assert case.bury_shear_N == pytest.approx(straight - PUSH, rel=1e-9)


def test_the_hull_feels_the_bent_mast_and_balances_it() -> None:
    _, _, result = metal()
    (case,), turning = result.cases, result.turning
    assert turning is not None
    (load,) = turning.hull
    assert (load.partners_mast, load.step_mast, load.mast) == ("bent", "bent", "bent")
    assert math.hypot(load.partners_side_N, load.partners_forward_N) == pytest.approx(
        case.bent_partners_force_N
    )
    assert math.hypot(load.step_side_N, load.step_forward_N) == pytest.approx(case.bent_step_force_N)
    # forces of the mast on the hull: together the load
    assert load.partners_side_N + load.step_side_N == pytest.approx(SIDE, abs=1e-8)
    assert load.partners_forward_N + load.step_forward_N == pytest.approx(FORWARD, abs=1e-8)
    assert load.couple_N_m > 1.25 * PUSH * (LENGTH - BURY)
    assert turning.partners.force_N == case.bent_partners_force_N
    assert turning.step.force_N == case.bent_step_force_N


def test_the_bolts_of_the_deck_hold_the_bent_mast() -> None:
    _, _, result = metal(DECK, PARTNERS)
    force, turning = result.cases[0].bent_partners_force_N, result.turning
    assert force is not None and turning is not None
    shared = bolt_circle_shear(F=force, T=0.0, D_b=0.18, n=8)
    assert worst(result, "deck-bolts").demand >= float(bolt_shear_stress(F_b=shared, d=0.008)) * (1 - 1e-9)
    assert worst(result, "deck-holes").demand >= float(hole_bearing_stress(F_b=shared, d=0.008, t=0.006)) * (
        1 - 1e-9
    )
    # friction in the bush turns them besides, by a little
    straight = float(hole_bearing_stress(F_b=PUSH * LENGTH / BURY / 8, d=0.008, t=0.006))
    assert worst(result, "deck-holes").demand > 1.25 * straight


@pytest.mark.parametrize("on_post", [False, True])
def test_a_bush_feels_how_far_the_bent_mast_leans(on_post: bool) -> None:
    post = 'support = "post"\npost = {diameter = "38 mm", wall = "6 mm"}' if on_post else ""
    rig, run, result = metal(mast=post, head='axial = "120 N"')
    assert result.turning is not None
    small, bury = run.solved.small, run.model.mesh.edge_index(rig.mast.bury_m)
    leans = 0.0
    if on_post:
        # slope of a cantilever under the force at its head
        second = math.pi / 64 * (0.038**4 - 0.026**4)
        leans = result.post[0].top_force_N * BURY**2 / (2 * E_PA * second)
        assert result.post[0].top_slope_rad == pytest.approx(leans, rel=1e-9)
    for bearing, edge, after in ((result.turning.partners, bury, leans), (result.turning.step, 0, 0.0)):
        z = run.model.mesh.z_m[edge]
        side, forward, up = (
            np.polynomial.Polynomial.fit(z, run.solved.bent_m[k, 0, edge], z.size - 1).deriv()(z[0])
            for k in range(3)
        )
        assert bearing.slope_rad == pytest.approx(math.atan(math.hypot(side, forward) / up) - after, rel=1e-6)
        stiff = after * result.cases[0].partners_force_N / result.cases[0].partners_N
        assert bearing.slope_rad > 1.1 * (np.hypot(*small.slope_rad[:, 0, edge, 0]) - stiff)


def test_a_post_is_told_and_judged_by_one_force() -> None:
    post = 'support = "post"\npost = {diameter = "38 mm", wall = "6 mm"}'
    _, _, result = metal(mast=post, head='axial = "120 N"')
    (case,), (found,) = result.cases, result.post
    assert found.top_force_N == pytest.approx(case.bent_partners_force_N, rel=1e-12)
    assert found.top_force_N > 1.2 * case.partners_force_N
    height = LENGTH - (LENGTH - BURY)
    assert found.foot_moment_N_m == pytest.approx(found.top_force_N * height, rel=1e-9)
    assert result.turning is not None
    assert result.turning.hull[0].couple_N_m == found.foot_moment_N_m
    (bends,) = (c for c in result.checks if (c.id, c.layer) == ("yield", "post"))
    second = math.pi / 64 * (0.038**4 - 0.026**4)
    assert bends.demand == pytest.approx(found.foot_moment_N_m * 0.019 / second, rel=1e-6)


def test_wood_is_sheared_and_pressed_by_the_bent_mast() -> None:
    side, down, D = 5.0, 900.0, 0.085
    case = "\n".join(
        [
            '[[case]]\nname = "case"\nkind = "given"',
            f'point_load = [{{height = "7.0 m", side = "{side!r} N"}}]',
            f'axial = "{down!r} N"\n',
        ]
    )
    lengths = '[bearings]\npartners = {length = "60 mm"}\nstep = {length = "30 mm"}\n'
    text = timber_text(stations=((0.0, D, None), (7.0, D, None)), more=lengths, cases=case)
    rig, run, result = limp(text)
    partners, step = by_statics(rig, run, side, 0.0, down)
    assert partners > 1.25 * side * 7.0
    assert step > 1.25 * side * 6.0
    per_force = {"partners": 1 / 0.06, "step": 1 / 0.03}
    demands = {name: worst(result, f"crushing-{name}").demand for name in per_force}
    ratio = partners * per_force["partners"] / (step * per_force["step"])
    assert demands["partners"] / demands["step"] == pytest.approx(ratio, rel=1e-8)
    # as the cosine round half of the pole the peak is 4/pi of the mean
    assert demands["step"] == pytest.approx(4 / math.pi * step / 0.03 / D, rel=0.3)
    (of,) = result.cases
    assert of.bent_bury_shear_N is not None
    assert worst(result, "shear").demand == pytest.approx(
        4 / 3 * of.bent_bury_shear_N / (math.pi * D**2 / 4), rel=0.03
    )


def test_laminate_is_pressed_by_the_bent_mast() -> None:
    load = {
        "line_load": [["0.8 m", "0 N/m"], ["5 m", "0 N/m"]],
        "point_load": [{"height": "5 m", "side": "10 N", "forward": "0 N"}],
        "axial": "380 N",
        "torque": "0 N m",
        "own_weight_heel": "0 deg",
    }
    lengths = {"partners": {"length": "70 mm"}, "step": {"length": "50 mm"}}
    thin = [
        {**lot} for lot in ({"material": "E-glass/epoxy UD 0.45", "angle": "0 deg", "thickness": "3 mm"},)
    ]
    rig = laminate(thin, bores=(40, 40, 30), case=load, bearings=lengths)
    result = check(rig)
    (case,) = result.cases
    assert case.bent_partners_force_N is not None and case.bent_step_force_N is not None
    assert case.bent_partners_force_N > 1.1 * case.partners_force_N
    outer = 0.046
    mean = max(case.bent_partners_force_N / 0.07, case.bent_step_force_N / 0.05) / outer
    assert worst(result, "bearing").demand == pytest.approx(mean, rel=1e-9)
    assert case.bent_bury_shear_N is not None
    run = evaluate(rig, cases_of(rig, None)[0], Working())
    shear = next(limit for limit in run.limits if limit.id == "interlaminar").demand
    below = run.model.mesh.edge_index(rig.mast.bury_m)
    told = np.hypot(*run.solved.bent_shear_N)[0, :below]
    straight = np.hypot(*run.solved.small.shear_N)[0, :below]
    assert np.all(told > 1.1 * straight)
    # all of it goes with the force
    assert shear[0, :below] / told == pytest.approx(
        np.full(told.shape, shear[0, 0, 0] / told[0, 0]), rel=0.05
    )


@pytest.mark.parametrize("shape", ["box", "ellipse"])
def test_of_a_mast_that_is_turned_the_worst_turn_counts(shape: str) -> None:
    sizes = ", ".join(
        f'{{height = "{z!r} m", diameter = "0.06 m", breadth = "0.045 m", wall = "2 mm"}}'
        for z in (0.0, LENGTH)
    )
    text = rig_text(stations=LIMP, mast=f'shape = "{shape}"', more=pushed(SIDE, FORWARD, HEAD))
    start = text.index("stations = [")
    text = text[:start] + f"stations = [{sizes}]" + text[text.index("\n", start) :]
    _, run, result = limp(text)
    bent = np.hypot(*run.solved.bent_partners_N)
    turns = Turns(run.model, run.solved, 0)
    assert np.ptp(bent) > 0.01 * np.max(bent)
    assert result.cases[0].bent_partners_force_N == np.max(bent)
    assert turns.upper.mast == "bent"
    assert math.hypot(turns.upper.side_N, turns.upper.forward_N) == pytest.approx(np.max(bent), rel=1e-12)
    # turned back to the boat's axes the two bearings still hold what pushes
    at = int(np.argmax(bent))
    assert at == int(np.argmax(np.hypot(*run.solved.bent_heel_N)))
    assert turns.upper.side_N + turns.lower.side_N == pytest.approx(-SIDE, abs=1e-8)
    assert turns.upper.forward_N + turns.lower.forward_N == pytest.approx(-FORWARD, abs=1e-8)


def test_a_mast_that_finds_no_equilibrium_has_the_straight_ones() -> None:
    _, run, result = metal()
    lost = replace(run.solved, settled=np.zeros_like(run.solved.settled))
    turns = Turns(run.model, lost, 0)
    assert (turns.upper.mast, turns.lower.mast) == ("straight", "straight")
    assert turns.upper_N == pytest.approx(PUSH * LENGTH / BURY, rel=1e-9)
    assert (turns.bent_upper_N, turns.bent_lower_N, turns.bent_shear_N(1)) == (None, None, None)
    assert result.cases[0].partners_N > turns.upper_N


@pytest.mark.parametrize("bent", [True, False])
def test_many_masts_feel_it_where_they_are_bent(bent: bool) -> None:
    case = '[[case]]\nname = "case"\nkind = "given"\npoint_load = [{height = "7 m", side = "5 N"}]\naxial = "900 N"\n'
    rig, _, result = limp(timber_text(stations=((0.0, 0.085, None), (7.0, 0.085, None)), cases=case))
    base = outline_of(rig.mast)
    one = replace(base, forward_m=base.forward_m[None], side_m=base.side_m[None], wall_m=base.wall_m[None])
    run = evaluate_many(stand_of(rig, cases_of(rig, None)[0]), one, bent=bent)
    for id in ("shear", "crushing-partners", "crushing-step"):
        (used,) = (float(use.utilisation[0, 0]) for use in run.uses if (use.id, use.layer) == (id, "tube"))
        told = worst(result, id).utilisation
        assert used == pytest.approx(told, rel=1e-6) if bent else used < 0.8 * told


def test_furling_feels_the_bent_mast() -> None:
    """On a mast thinned until it is limp, what rubs as it turns is judged by the larger of straight and bent."""
    text = (ROOT / "examples" / "trailer_sailer_4m6.toml").read_text(encoding="utf-8")
    thin = read_rig(text.replace('"5.74 mm"', '"2.0 mm"').replace('"3.05 mm"', '"1.0 mm"'))
    (blown,) = case_loads(thin, (of_furling(LOADED_COEFFICIENT),), Working())
    model = build_model(thin, [blown])
    solved = solve_cases(model, [blown], stability=False)
    assert solved.settled.all()
    loaded = drawn(thin, None, ((thin, LOADED_COEFFICIENT),))[0]
    for told, straight, bent in (
        (loaded.partners_N, solved.small.partners_N, solved.bent_partners_N),
        (loaded.step_N, solved.small.heel_N, solved.bent_heel_N),
    ):
        sizes = [math.hypot(*force[:, 0]) for force in (straight, bent)]
        assert told == pytest.approx(max(sizes), rel=1e-6)
        assert abs(sizes[1] / sizes[0] - 1) > 1e-3
    assert loaded.step_N > 1.003 * math.hypot(*solved.small.heel_N[:, 0])
