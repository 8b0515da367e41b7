"""Many masts at once give what each gives by itself."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from rigcalc import check, read_rig
from rigcalc.design.sizing.makes import Space, nested, nested_outline, space_of, tube_rig
from rigcalc.formulas import Working
from rigcalc.loads import Varied
from rigcalc.materials.tube_tables import TubeSize
from rigcalc.rig import LIFT, Rig
from rigcalc.structure.outline import outline_of
from rigcalc.verdict.evaluate import evaluate
from rigcalc.verdict.many import evaluate_many, stand_of
from tests.test_loads import rig_text
from tests.test_turned_masts import TUBE

from . import assert_alike, by_key, by_key_of_many, example, stand

Whole = NDArray[np.intp]
LIFTED = 1e-3
"""A moment that is greatest between two heights of the mesh is told by the nearest of its points, and masts with
joints at heights of their own have meshes of their own."""


def tube(diameter_mm: float, wall_mm: float) -> TubeSize:
    return TubeSize(
        name=f"{diameter_mm:g} x {wall_mm:g}",
        series="",
        diameter_m=diameter_mm * 1e-3,
        wall_m=wall_mm * 1e-3,
        provenance="user",
        source="",
    )


def rows_of(space: Space, *, masts: int, seed: int) -> Whole:
    rng = np.random.default_rng(seed)
    share = rng.uniform(0.1, 0.6, (masts, len(space.free)))
    return space.repaired(np.rint(share * space.last).astype(np.intp))


@pytest.mark.parametrize("count", [1, 2, 3])
@pytest.mark.parametrize(
    ("name", "without"), [("given_loads", ()), ("glass_tube_5m", ()), ("stave_mast_6m", (LIFT,))]
)
def test_nested_tubes(name: str, without: tuple[str, ...], count: int) -> None:
    rig, material = example(name), "6061-T6 drawn"
    chain = [tube(101.6, 6.0), tube(88.9, 4.0), tube(80.4, 3.0)][:count]
    thick = [tube(140, 12.0), tube(115, 3.0), tube(108, 10.0)][:count]
    joints = np.array([[2.2, 4.0], [1.3, 4.8]])[:, : count - 1]
    tails = np.array([[0.3, 0.2], [0.25, 0.4]])[:, : count - 1]
    outline = nested_outline([chain, thick], joints, tails, rig.mast.length_m)
    used = assert_alike(
        stand(tube_rig(rig, material, count), without=without),
        outline,
        lambda i: nested(rig, material, [chain, thick][i], joints[i].tolist(), tails[i].tolist()),
    )
    assert used[0] != used[1]
    assert np.all(used > 0.0)


def test_a_mast_in_slings_to_the_points_of_its_mesh() -> None:
    rig, material = example("stave_mast_6m"), "6061-T6 drawn"
    chain, tails = [tube(101.6, 6.0), tube(88.9, 4.0)], np.array([[0.3], [0.3], [0.3]])
    joints = np.array([[1.53], [2.68], [4.21]])
    ready = stand(tube_rig(rig, material, 2))
    ready = stand_of(ready.rig, [case for case in ready.cases if case.kind == LIFT])
    assert_alike(
        ready,
        nested_outline([chain] * 3, joints, tails, rig.mast.length_m),
        lambda i: nested(rig, material, chain, joints[i].tolist(), tails[i].tolist()),
        rel=LIFTED,
    )


@pytest.mark.parametrize(
    ("name", "material"),
    [
        ("given_loads", "C24"),
        ("stave_mast_6m", "Sitka spruce (US)"),
        ("sheathed_mast_5m", "C24"),
        ("glass_tube_5m", "Sitka spruce (US)+E-glass/epoxy woven 0.50"),
    ],
)
def test_staves(name: str, material: str) -> None:
    space = space_of(example(name), material)
    rows = rows_of(space, masts=4, seed=3)
    used = assert_alike(stand(space.rig), space.outline(rows), lambda i: space.rig_of(rows[i]))
    assert np.unique(used).size > 1


@pytest.mark.parametrize(
    ("name", "material"), [("glass_tube_5m", "glass tube"), ("given_loads", "E-glass/epoxy UD 0.55")]
)
def test_laminates_with_lots_left_out(name: str, material: str) -> None:
    space = space_of(example(name), material)
    rows = rows_of(space, masts=4, seed=4)
    rows[:, space.diameters :] = [[3, 2, 2, 0], [2, 0, 4, 1], [5, 3, 0, 0], [0, 0, 0, 0]]
    rows = space.repaired(rows)
    used = assert_alike(stand(space.rig), space.outline(rows), lambda i: space.rig_of(rows[i]))
    assert np.unique(used).size > 1


def scaled(rig: Rig, by: float, *, breadth: float) -> Rig:
    """Return a rig whose mast is wider fore and aft, and of another breadth."""
    stations = tuple(
        replace(
            s, diameter_m=s.diameter_m * by, breadth_m=None if breadth == 1.0 else breadth * s.diameter_m * by
        )
        for s in rig.mast.stations
        if s.diameter_m is not None
    )
    return replace(rig, mast=replace(rig.mast, stations=stations))


POST = 'support = "post"\npost = {diameter = "60 mm", wall = "6 mm", material = "6061-T6 drawn"}'
SOFT = '[bearings.partners]\nstiffness = "8e4 N/m"\n[bearings.step]\nstiffness = "5e4 N/m"\n'
OPEN = '[[mast.opening]]\nheight = "1.2 m"\nwidth = "12 mm"\nlength = "40 mm"\n'
SAIL = """[[sail]]
name = "main"
luff = "4.1 m"
foot = "2.2 m"
tack_height = "1.6 m"
cloth_mass = "200 g/m2"
[[case]]
name = "gust"
kind = "heel-limited"
[[case]]
name = "run"
kind = "wind-limited"
wind_speed = "9 m/s"
[[case]]
name = "rolling"
kind = "motion"
roll_amplitude = "20 deg"
roll_period = "2.5 s"
[[case]]
name = "one side"
kind = "given"
point_load = [{height = "5 m", side = "300 N", forward = "-200 N"}]
axial = "900 N"
"""


@pytest.mark.parametrize(
    ("mast", "more", "breadth"),
    [
        ('shape = "box"\nturns = ["0 deg", "40 deg"]', "", 0.8),
        ('shape = "ellipse"\nturns = ["0 deg", "90 deg"]', "", 0.7),
        (POST, "", 1.0),
        ("", SOFT, 1.0),
        ('wall_loss = "0.3 mm"', OPEN, 1.0),
    ],
    ids=["box", "ellipse", "post", "soft bearings", "opening and wall loss"],
)
def test_what_else_masts_may_have_in_common(mast: str, more: str, breadth: float) -> None:
    rig = read_rig(rig_text(stations=TUBE, mast=mast, more=more + SAIL))
    factors = [0.95, 1.0, 1.15]
    rigs = [scaled(rig, by, breadth=breadth) for by in factors]
    outlines = [outline_of(its.mast) for its in rigs]
    together = replace(
        outlines[0],
        forward_m=np.array([o.forward_m for o in outlines]),
        side_m=np.array([o.side_m for o in outlines]),
        wall_m=np.array([o.wall_m for o in outlines]),
    )
    used = assert_alike(stand(rigs[0]), together, lambda i: rigs[i])
    assert used[0] > used[1] > used[2]


def test_a_mast_far_too_weak_has_no_answer_in_either() -> None:
    rig = example("given_loads")
    weak = [tube(30, 0.6)]
    none = np.empty((1, 0))
    ready = stand(tube_rig(rig, "6061-T6 drawn", 1))
    run = evaluate_many(ready, nested_outline([weak], none, none, rig.mast.length_m), bent=True)
    one = by_key(evaluate(nested(rig, "6061-T6 drawn", weak, [], []), ready.cases, Working()))
    found = by_key_of_many(run, 0)
    assert one["tip-deflection", "", "given"] > 1.0 < found["tip-deflection", "", "given"]
    assert np.isinf(one["tip-deflection", "", "given"]) == np.isinf(found["tip-deflection", "", "given"])


def test_masses_are_those_of_the_check() -> None:
    space = space_of(example("glass_tube_5m"), "glass tube")
    rows = rows_of(space, masts=3, seed=8)
    run = evaluate_many(stand(space.rig), space.outline(rows))
    frequencies = run.lowest_frequency_Hz()
    for i, row in enumerate(rows):
        mast = check(space.rig_of(row)).mast
        assert run.mass_kg[i] == pytest.approx(mast.mass_kg, rel=1e-9)
        assert run.centre_m[i] == pytest.approx(mast.centre_of_gravity_m, rel=1e-9)
        assert frequencies[i] == pytest.approx(mast.natural_frequencies_Hz[0], rel=1e-6)


def test_factors_on_wind_and_moment_are_those_on_the_file() -> None:
    """A wind a tenth stronger, or a boat a tenth stiffer, written into the file does the same."""
    rig = example("glass_tube_5m")
    wind, moment = np.array([1.0, 1.1, 1.0]), np.array([1.0, 1.0, 1.1])
    space = space_of(rig, "glass tube")
    rows = np.repeat(rows_of(space, masts=1, seed=2), 3, axis=0)
    cases = tuple(c for c in rig.cases if c.kind in ("heel-limited", "wind-limited"))
    run = evaluate_many(
        stand_of(space.rig, cases), space.outline(rows), varied=Varied(wind=wind, moment=moment), bent=True
    )
    stiff = rig.boat.stability
    for i in range(3):
        windy = tuple(
            c if c.wind_speed_m_s is None else replace(c, wind_speed_m_s=c.wind_speed_m_s * wind[i])
            for c in cases
        )
        its = space.rig_of(rows[i])
        scaled_to = {
            name: value * moment[i]
            for name in ("moment_30_N_m", "moment_max_N_m")
            if (value := getattr(stiff, name)) is not None
        }
        its = replace(its, boat=replace(its.boat, stability=replace(stiff, **scaled_to)))
        known, found = by_key(evaluate(its, windy, Working())), by_key_of_many(run, i)
        # true wind and boat's way make the apparent wind of a running case, which is not in proportion: heel alone
        alike = [key for key in known if moment[i] == wind[i] or key[2] == "gust, full sail"]
        assert alike
        for key in alike:
            assert found[key] == pytest.approx(known[key], rel=1e-6, abs=1e-7), key
    assert np.all(run.greatest[1:] >= run.greatest[0])
