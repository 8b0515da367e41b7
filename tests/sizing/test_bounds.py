"""What the bounds leave out fails: over masts of random tubes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rigcalc.design.sizing.asked import Jury
from rigcalc.design.sizing.bounds import bounds_of
from rigcalc.design.sizing.makes import nested_outline, tube_rig
from rigcalc.materials.tube_tables import TubeSize
from rigcalc.rig import Case, Rig, Sizing
from rigcalc.verdict import cases_of
from rigcalc.verdict.many import evaluate_many, stand_of

from . import example

METAL = "6061-T6 drawn"
FREE = Sizing(smallest_diameter_m=1e-3, largest_diameter_m=9.0, smallest_wall_m=1e-4)


def size_of(diameter_m: float, wall_m: float) -> TubeSize:
    return TubeSize(
        name=f"{diameter_m * 1e3:g} x {wall_m * 1e3:g}",
        series="",
        diameter_m=round(diameter_m, 5),
        wall_m=round(wall_m, 5),
        provenance="user",
        source="",
    )


def random_chain(rng: np.random.Generator, *, count: int, around_m: float) -> list[TubeSize]:
    tubes = [size_of(around_m * rng.uniform(0.75, 1.4), rng.uniform(0.002, 0.008))]
    while len(tubes) < count:
        inner = tubes[-1].bore_m - rng.uniform(0.0003, 0.012)
        tubes.append(size_of(inner, min(rng.uniform(0.0015, 0.007), 0.3 * inner)))
    return tubes


def with_steady_cases(rig: Rig) -> Rig:
    """Return a rig whose list of cases has forces that oppose each other, and weight that leans another way."""
    more = (
        Case(
            name="lee and weather",
            kind="given",
            line_load=((1.0, 90.0), (4.0, -60.0)),
            own_weight_heel_rad=0.5,
        ),
        Case(
            name="against its weight",
            kind="given",
            line_load=((1.0, -120.0), (4.5, -120.0)),
            line_load_forward=((1.0, 100.0), (4.5, 20.0)),
            own_weight_heel_rad=0.7,
        ),
    )
    return replace(rig, cases=(*rig.cases, *more))


RIGS = {
    "given_loads": (example("given_loads"), 0.085),
    "glass_tube_5m": (with_steady_cases(example("glass_tube_5m")), 0.085),
    "stave_mast_6m": (example("stave_mast_6m"), 0.115),
    "sharpie_5m2": (example("sharpie_5m2"), 0.09),
    "trailer_sailer_4m6": (example("trailer_sailer_4m6"), 0.11),
}


@pytest.mark.parametrize("count", [2, 3])
@pytest.mark.parametrize("name", RIGS)
def test_nothing_that_passes_is_left_out(name: str, count: int) -> None:
    rig, around = RIGS[name]
    rng = np.random.default_rng([count, len(name)])
    cases, _ = cases_of(rig, None)
    length, masts = rig.mast.length_m, 0
    left_out = passing = 0
    stand = stand_of(tube_rig(rig, METAL, count), cases)
    for _ in range(12):
        chain = random_chain(rng, count=count, around_m=around)
        # the list has others too, wider and slimmer, in any order
        tubes = [*chain, size_of(around * 0.5, 0.002), size_of(around * 2, 0.006)]
        order = rng.permutation(len(tubes))
        listed = [tubes[i] for i in order]
        bounds = bounds_of(stand_of(tube_rig(rig, METAL, 1), cases), listed)
        numbers = [int(np.flatnonzero(order == i)[0]) for i in range(count)]
        tails = [round(float(rng.uniform(0.1, 0.35)), 3) for _ in chain[1:]]
        joints = np.sort(rng.uniform(0.4, length - 0.2, (30, count - 1)), axis=1).round(3)
        joints = joints[np.all(np.diff(joints, axis=1) > max(tails), axis=1)]
        may = bounds.pass_by(numbers, joints, tails)
        outline = nested_outline([chain] * len(joints), joints, np.tile(tails, (len(joints), 1)), length)
        used = Jury(stand, FREE).trial(outline).used
        masts += len(joints)
        left_out += int(np.sum(~may))
        passing += int(np.sum(used <= 1.0))
        assert np.all(may[used <= 1.0]), (chain, joints[(used <= 1.0) & ~may], tails)
    # the draw has some of either, and the bounds are worth having
    assert masts > 100
    assert left_out > 10
    assert passing > 0


def test_what_a_tube_bears_is_what_fails_it() -> None:
    """Just inside the bound a tube passes by the limits on its moment, and just past it fails."""
    rig = example("given_loads")
    cases, _ = cases_of(rig, None)
    stand = stand_of(tube_rig(rig, "check alloy", 1), cases)
    tubes = [size_of(d, 0.004) for d in (0.05, 0.06, 0.07, 0.08)]
    bounds = bounds_of(stand, tubes)
    none = np.empty((len(tubes), 0))
    run = evaluate_many(stand, nested_outline([[t] for t in tubes], none, none, rig.mast.length_m))
    used = np.max(
        [u.utilisation[0] for u in run.uses if u.id in ("yield", "rupture", "wall-class", "flattening")],
        axis=0,
    )
    for i in range(len(tubes)):
        most = float(np.max(bounds.least(i, i, i)))
        # the bound takes no account of thrust and shear, and leaves a thousandth for rounding
        assert most / bounds.borne[0, i] == pytest.approx(used[i], rel=0.02)
        assert most / bounds.borne[0, i] <= used[i]
