"""A mast comes out the same, to the last bit, whatever other masts are tried with it, in whatever order.

Held for straight theory, `evaluate_many` without ``bent``: every limit in every case, deflection, mass and its centre.
The bent mast is iterated until all masts have come to rest, and is held to its tolerance elsewhere. `check` solves
one mast with the loads of its own file: the same straight theory there agrees to a part in 10^12.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from rigcalc.design.sizing.makes import nested_outline, space_of, tube_rig
from rigcalc.formulas import Working
from rigcalc.limits import section_limits
from rigcalc.loads import AS_GIVEN, Varied, case_loads
from rigcalc.materials.laminates import envelope
from rigcalc.rig import Rig
from rigcalc.structure.outline import Outline, Tube, outline_of
from rigcalc.verdict import build_model, cases_of
from rigcalc.verdict.evaluate import internal_of
from rigcalc.verdict.many import ManyRun, Stand, evaluate_many, stand_of
from rigcalc.verdict.solve import solve_cases

from . import EXAMPLES, example
from .test_many import rows_of, tube

ALL = sorted(path.stem for path in EXAMPLES.glob("*.toml"))
MASTS = 9
Whole = NDArray[np.intp]


def everything(run: ManyRun, i: int) -> dict[tuple[str, str], list[float]]:
    """Return all that is told of one mast; a limit that no mast of a batch has is none for any."""
    found = {(use.id, use.layer): use.utilisation[:, i].tolist() for use in run.uses}
    return {key: used for key, used in found.items() if any(used)} | {
        ("tip", ""): run.tip_m[:, i].tolist(),
        ("mass", ""): [run.mass_kg[i], run.centre_m[i]],
    }


def assert_same_bits(stand: Stand, outline: Outline, varied: Varied = AS_GIVEN) -> None:
    """Hold masts one by one, by the handful, and in another order against all of them together."""
    masts = len(outline.forward_m)

    def some(rows: Whole) -> ManyRun:
        def of(value: object) -> object:
            return value if np.ndim(value) == 0 else np.asarray(value)[rows]

        return evaluate_many(
            stand,
            outline.some(rows),
            varied=Varied(**{name: of(value) for name, value in vars(varied).items()}),
        )

    every = np.arange(masts)
    together = [everything(evaluate_many(stand, outline, varied=varied), i) for i in every]
    assert any(one != together[0] for one in together[1:])
    for rows in (*(every[i : i + 1] for i in every), every[2:7], np.random.default_rng(2).permutation(masts)):
        run = some(rows)
        for i, mast in enumerate(rows.tolist()):
            assert everything(run, i) == together[mast]


def resized(rig: Rig, *, seed: int) -> Outline:
    """Return masts like that of the file, of other diameters and walls."""
    base, rng = outline_of(rig.mast), np.random.default_rng(seed)
    by, thick = rng.uniform(0.9, 1.1, (MASTS, 1)), rng.uniform(0.8, 1.2, (MASTS, 1))
    forward, side = base.forward_m * by, base.side_m * by
    half = np.minimum(forward, side) / 2
    solid = base.wall_m >= np.minimum(base.forward_m, base.side_m) / 2
    sleeves = tuple(
        Tube(t.start_m, t.end_m, t.diameter_m * by[:, 0], t.wall_m * thick[:, 0]) for t in base.sleeves
    )
    wall = np.where(solid, half, np.minimum(base.wall_m * thick, 0.99 * half))
    return replace(base, forward_m=forward, side_m=side, wall_m=wall, sleeves=sleeves)


@pytest.mark.parametrize("name", ALL)
def test_the_masts_of_the_examples(name: str) -> None:
    rig, rng = example(name), np.random.default_rng(3)
    wind, moment, swing = rng.uniform(0.8, 1.2, (3, MASTS))
    varied = Varied(wind=wind, moment=moment, swing=swing)
    assert_same_bits(stand_of(rig, cases_of(rig, None)[0]), resized(rig, seed=4), varied)


@pytest.mark.parametrize("count", [2, 3])
def test_tubes_with_joints_at_heights_of_their_own(count: int) -> None:
    rig, rng = example("given_loads"), np.random.default_rng(5)
    chains = [
        [tube(120 - 12 * k + rng.uniform(0, 3), rng.uniform(2, 5)) for k in range(count)]
        for _ in range(MASTS)
    ]
    joints = np.sort(rng.uniform(0.2, 0.9, (MASTS, count - 1)), axis=1) * rig.mast.length_m
    # some stand where others do, and where the grid has an edge
    joints[3:5] = joints[2]
    joints[5, 0] = rig.mast.length_m / 4
    outline = nested_outline(chains, joints, rng.uniform(0.1, 0.3, joints.shape), rig.mast.length_m)
    made = tube_rig(rig, "6061-T6 drawn", count)
    assert_same_bits(stand_of(made, cases_of(rig, None)[0]), outline)


@pytest.mark.parametrize(
    ("name", "material"),
    [
        ("stave_mast_6m", "Sitka spruce (US)"),
        ("sheathed_mast_5m", "C24"),
        ("glass_tube_5m", "glass tube"),
        ("given_loads", "E-glass/epoxy UD 0.55"),
    ],
)
def test_staves_and_laminates(name: str, material: str) -> None:
    space = space_of(example(name), material)
    stand = stand_of(space.rig, cases_of(space.rig, None)[0])
    assert_same_bits(stand, space.outline(rows_of(space, masts=MASTS, seed=6)))


def test_plies_that_are_left_out_never_fail_first(monkeypatch: pytest.MonkeyPatch) -> None:
    rig = example("glass_tube_5m")
    stand, outline = stand_of(rig, cases_of(rig, None)[0]), resized(rig, seed=7)
    few = evaluate_many(stand, outline)
    monkeypatch.setattr(envelope, "_WORTH_COMPARING", 0)
    every = evaluate_many(stand, outline)
    for i in range(MASTS):
        assert everything(few, i) == everything(every, i)


def straight(rig: Rig, factor: NDArray[np.float64]) -> Iterator[tuple[str, str, NDArray[np.float64]]]:
    """Yield what the mast of a file uses of every limit by case, worked out as `check` does, the mast kept straight."""
    cases, _ = cases_of(rig, None)
    loads = case_loads(rig, cases, Working())
    model = build_model(rig, loads)
    solved = solve_cases(model, loads)
    bent = internal_of(model, solved)
    small = solved.small
    upper, lower = (
        np.where(solved.standing, np.hypot(*of), 0.0)[:, None, None]
        for of in (small.partners_N, small.heel_N)
    )
    internal = replace(
        bent,
        bent_N_m=bent.straight_N_m,
        bent_shear_N=bent.straight_shear_N,
        upper_N=upper,
        lower_N=lower,
        axial_factor=factor[:, None, None],
    )
    kinds = tuple(load.kind for load in loads for _ in model.turns_rad)
    for limit in section_limits(rig, model.sections, internal, kinds, Working()):
        used = limit.utilisation.reshape(len(loads), -1)
        yield limit.id, limit.layer, np.max(used, axis=1)


@pytest.mark.parametrize("name", ALL)
def test_the_straight_mast_of_a_check_to_rounding(name: str) -> None:
    rig = example(name)
    base = outline_of(rig.mast)
    alone = replace(base, forward_m=base.forward_m[None], side_m=base.side_m[None], wall_m=base.wall_m[None])
    run = evaluate_many(stand_of(rig, cases_of(rig, None)[0]), alone)
    of = {(use.id, use.layer): use.utilisation[:, 0] for use in run.uses}
    # the factor of instability, from above in one and sharp in the other, is no part of straight theory
    with np.errstate(divide="ignore"):
        factor = rig.limits.axial_stability_factor / of.pop(("axial-stability", ""))
    known = {(id, layer): used for id, layer, used in straight(rig, factor)}
    assert known.keys() == {key for key in of if key[0] not in ("tip-deflection", "creep-deflection")}
    for key, used in known.items():
        assert of[key] == pytest.approx(used, rel=1e-12, abs=1e-12), key
