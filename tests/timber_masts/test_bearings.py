"""Wood pressed by partners and step: crushing, empty walls, and what does not press at all."""

from __future__ import annotations

import math

import pytest

from rigcalc.materials.timber import Timber, timber_of_rig
from rigcalc.rig import TimberUse

from . import ABOVE, BURY, C24, LENGTH, SITKA, box, case, even, found, ids, plug, pushed, run

SIDE = 0.8
# free body of the mast about heel and partners
PARTNERS, STEP = SIDE * LENGTH / BURY, SIDE * ABOVE / BURY
HEIGHTS = '[bearings.partners]\nlength = "70 mm"\n[bearings.step]\nlength = "50 mm"\n'
EMPTY = {f"{what}-{at}" for what in ("wall-bending", "rolling-shear") for at in ("partners", "step")}


def wood(name: str, D: float, *, solid: bool = True) -> Timber:
    return timber_of_rig(
        name, TimberUse(), shape="round", solid=solid, depth_m=D, length_m=LENGTH, bury_m=BURY
    )


@pytest.mark.parametrize("name", [SITKA, C24])
def test_crushing_as_the_cosine_round_half_the_mast(name: str) -> None:
    D = 0.12
    result = run(name, stations=even(D), cases=pushed(SIDE), more=HEIGHTS)
    for at, force, height, z in (("partners", PARTNERS, 0.07, BURY), ("step", STEP, 0.05, 0.0)):
        check = found(result, f"crushing-{at}")
        assert check.demand == pytest.approx(4 * force / (math.pi * D * height), rel=1e-9)
        assert check.capacity == pytest.approx(wood(name, D).value_Pa("compression_perp"), rel=1e-12)
        assert check.height_m == z
    assert not ids(result) & EMPTY


def test_forces_of_both_planes_press_together() -> None:
    both = run(cases=pushed(0.3, forward=-0.4), more=HEIGHTS)
    one = run(cases=pushed(0.5), more=HEIGHTS)
    for at in ("partners", "step"):
        assert found(both, f"crushing-{at}").demand == pytest.approx(found(one, f"crushing-{at}").demand)


def test_a_bearing_is_half_as_high_as_the_mast_is_thick_where_nothing_is_said() -> None:
    D = 0.12
    result = run(stations=even(D), cases=pushed(SIDE))
    said = run(
        stations=even(D),
        cases=pushed(SIDE),
        more='[bearings.partners]\nlength = "60 mm"\n[bearings.step]\nlength = "60 mm"\n',
    )
    for at in ("partners", "step"):
        assert found(result, f"crushing-{at}").demand == pytest.approx(found(said, f"crushing-{at}").demand)
        path = f"bearings.{at}.length"
        (told,) = [a for a in result.assumptions if a.path == path]
        assert told.source.startswith("judgement")
        assert path not in [a.path for a in said.assumptions]


def test_an_empty_wall_bends_across_its_grain() -> None:
    D, t = 0.12, 0.02
    result = run(stations=even(D, t), cases=pushed(SIDE), more=HEIGHTS)
    hollow, r = wood(SITKA, D, solid=False), (D - t) / 2
    for at, force, height in (("partners", PARTNERS, 0.07), ("step", STEP, 0.05)):
        bent, rolled = found(result, f"wall-bending-{at}"), found(result, f"rolling-shear-{at}")
        assert bent.demand == pytest.approx(6 * force * r / (math.pi * height * t**2), rel=1e-9)
        assert bent.capacity == pytest.approx(hollow.value_Pa("tension_perp"), rel=1e-12)
        assert rolled.demand == pytest.approx(0.75 * force / (height * t), rel=1e-9)
        assert rolled.capacity == pytest.approx(hollow.value_Pa("rolling_shear"), rel=1e-12)
        # an unplugged hollow mast gives way at its bearings first
        assert bent.utilisation > 5 * found(result, "bending").utilisation


def test_a_plug_takes_the_empty_wall_away_where_it_reaches() -> None:
    """The bore must be full over the whole height of the bearing."""
    stations = even(0.12, 0.02)
    at_step = {"wall-bending-step", "rolling-shear-step"}
    for start, end, left in (
        (0.0, 1.5, set()),
        (0.2, 1.5, at_step),
        (0.0, 1.0, EMPTY - at_step),
        (0.0, 1.02, EMPTY - at_step),
        # to the very edge of the bearing, and a millimetre past it
        (0.0, 1.035, EMPTY - at_step),
        (0.0, 1.036, set()),
        (0.0, 1.06, set()),
    ):
        result = run(stations=stations, mast=plug(start, end), cases=pushed(SIDE), more=HEIGHTS)
        assert ids(result) & EMPTY == left, (start, end)
        assert {"crushing-partners", "crushing-step"} <= ids(result)


def test_every_strength_of_the_wood_says_where_it_comes_from() -> None:
    """Not from the formula that puts its factors together, which knows nothing of the wood."""
    hollow = run(stations=even(0.12, 0.02), cases=pushed(SIDE, torque=1.0), more=HEIGHTS)
    plugged = run(stations=even(0.12, 0.02), mast=plug(0.0, 1.5), cases=pushed(SIDE), more=HEIGHTS)
    own = {
        "bending",
        "compression",
        "shear",
        "crushing-partners",
        "crushing-step",
        "splitting",
        "plug-end",
        *EMPTY,
    }
    told = [c for result in (hollow, plugged) for c in result.checks if c.id in own]
    assert {c.id for c in told} == own
    for check in told:
        assert check.source.startswith(f"{SITKA}: "), check.id


def test_walls_of_a_box_bend_as_strips() -> None:
    D, B, t = 0.14, 0.10, 0.02
    result = box(D, B, t, cases=pushed(SIDE), more=HEIGHTS)
    bent = found(result, "wall-bending-partners")
    # moment F b/8 of a strip 70 mm high across the wider bore, over w t^2/6
    assert bent.demand == pytest.approx(PARTNERS * (D - 2 * t) / 8 * 6 / (0.07 * t**2), rel=1e-9)
    assert found(result, "crushing-partners").demand == pytest.approx(4 * PARTNERS / (math.pi * B * 0.07))


def test_slings_do_not_press_partners_and_step() -> None:
    lift = case("lift", 'lower_height = "0.5 m"', 'upper_height = "4.5 m"')
    result = run(cases=lift, more=HEIGHTS)
    for at in ("partners", "step"):
        assert found(result, f"crushing-{at}").demand == pytest.approx(0.0, abs=1e-6)


POST = 'support = "post"\npost = {diameter = "60 mm", wall = "5 mm", material = "6082-T6 drawn"}'


def test_a_mast_on_a_post_is_pressed_in_its_bore() -> None:
    D, t = 0.13, 0.03
    result = run(stations=even(D, t), mast=POST, cases=pushed(SIDE), more=HEIGHTS)
    crushed = found(result, "crushing-partners")
    assert crushed.demand == pytest.approx(4 * PARTNERS / (math.pi * (D - 2 * t) * 0.07), rel=1e-9)
    assert "wall-bending-partners" in ids(result)
    post = {c.id for c in result.checks if c.layer == "post"}
    assert "yield" in post


def test_a_post_of_wood_is_bent_and_sheared() -> None:
    timber_post = 'support = "post"\npost = {diameter = "60 mm", material = "D30", socket = "0.5 m"}'
    result = run(stations=even(0.13, 0.03), mast=timber_post, cases=pushed(SIDE), more=HEIGHTS)
    D, deep = 0.06, 0.5
    bending = found(result, "bending", "post")
    assert bending.demand == pytest.approx(PARTNERS * BURY * 32 / (math.pi * D**3), rel=1e-9)
    assert bending.source.startswith("D30")
    # the foot of the socket pulls back with the moment over its depth
    shear = found(result, "shear", "post")
    assert shear.demand == pytest.approx(4 / 3 * PARTNERS * BURY / deep / (math.pi / 4 * D**2), rel=1e-9)
    assert not {c.id for c in result.checks if c.layer == "post"} & {*EMPTY, "crushing-partners", "column"}
