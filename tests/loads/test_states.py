"""Sails rolled in, reefed from the foot and let down by panels."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from rigcalc.loads import corners_of, sails_of_state, set_sail, strips_of
from rigcalc.loads.states import height_with_area_above
from rigcalc.rig import ROLLED, Sail

from . import (
    COVERING,
    QUICK,
    SHARES,
    Floats,
    between,
    depth_lowered,
    depth_rolled,
    edge_distance,
    gaffs,
    lugs,
    part_above,
    polygon_area,
    rig_of,
    sails,
    triangles,
    width_at,
)

TIGHT = 1e-12
HAIR_M = 1e-9


# --- any sail, however it is taken in ---


@QUICK
@given(st.one_of(sails(), sails(hold=ROLLED), sails(hold="sleeve")), SHARES)
def test_the_area_set_is_the_share_asked_for(sail: Sail, share: float) -> None:
    full = polygon_area(corners_of(sail))
    taken = set_sail(sail, share)
    assert taken.area_m2 == pytest.approx(share * full, rel=TIGHT)
    assert polygon_area(taken.corners) == pytest.approx(share * full, rel=TIGHT)
    assert taken.strips.area_m2 == pytest.approx(share * full, rel=1e-11)


@QUICK
@given(st.one_of(sails(), sails(hold=ROLLED)))
def test_all_of_it_is_the_sail_as_drawn(sail: Sail) -> None:
    whole = set_sail(sail, 1.0)
    assert np.array_equal(whole.corners, corners_of(sail))
    assert whole.rolled is None


@QUICK
@given(sails(hold=ROLLED))
def test_none_of_a_rolled_sail_leaves_all_of_it_on_the_roll(sail: Sail) -> None:
    gone = set_sail(sail, 0.0)
    assert gone.corners.size == 0
    assert gone.area_m2 == 0.0
    assert gone.rolled is not None
    assert gone.rolled.area_m2 == pytest.approx(polygon_area(corners_of(sail)), rel=TIGHT)


@QUICK
@given(sails())
def test_none_of_a_lowered_sail_leaves_nothing_aloft(sail: Sail) -> None:
    gone = set_sail(sail, 0.0)
    assert gone.corners.size == 0
    assert gone.rolled is None


@QUICK
@given(st.one_of(sails(), sails(hold=ROLLED)), SHARES, SHARES)
def test_less_sail_is_never_wider_nor_higher(sail: Sail, one: float, other: float) -> None:
    less, more = set_sail(sail, min(one, other)), set_sail(sail, max(one, other))
    assert less.corners[:, 1].max() <= more.corners[:, 1].max() + HAIR_M
    assert np.ptp(less.corners[:, 0]) <= np.ptp(more.corners[:, 0]) + HAIR_M


# --- rolled on the mast ---


@QUICK
@given(sails(hold=ROLLED), SHARES)
def test_rolled_and_set_area_make_up_the_sail(sail: Sail, share: float) -> None:
    taken = set_sail(sail, share)
    assert taken.rolled is not None
    assert taken.rolled.area_m2 + taken.area_m2 == pytest.approx(polygon_area(corners_of(sail)), rel=TIGHT)


@QUICK
@given(sails(hold=ROLLED), SHARES, between(0.0, 1.0))
def test_rolled_and_set_width_make_up_the_sail_at_every_height(sail: Sail, share: float, at: float) -> None:
    full, taken = corners_of(sail), set_sail(sail, share)
    assert taken.rolled is not None
    low, high = full[:, 1].min(), full[:, 1].max()
    z = low + at * (high - low)
    assume(min(abs(z - b) for b in (*taken.rolled.breaks_m, *full[:, 1])) > 1e-6)
    rolled = float(
        np.interp(
            z,
            np.repeat(taken.rolled.breaks_m, 2)[1:-1],
            np.stack([taken.rolled.lower_m, taken.rolled.upper_m], axis=1).ravel(),
        )
    )
    assert rolled >= 0.0
    assert rolled + width_at(taken.corners, z) == pytest.approx(width_at(full, z), abs=1e-8)


@QUICK
@given(sails(hold=ROLLED), SHARES)
def test_a_rolled_sail_keeps_its_heights_and_starts_at_the_mast(sail: Sail, share: float) -> None:
    full, taken = corners_of(sail), set_sail(sail, share)
    assert taken.corners[:, 0].max() == pytest.approx(0.0, abs=HAIR_M)
    assert taken.corners[:, 1].min() >= full[:, 1].min() - HAIR_M
    depth = depth_rolled(full, taken)
    # moved back aft by what is rolled, every corner lies on the edge of the sail or on the cut across it
    for corner in taken.corners:
        there = corner - np.array([depth, 0.0])
        assert edge_distance(full, there) < HAIR_M or corner[0] > -HAIR_M


@QUICK
@given(triangles(most_roach=0.3, hold=ROLLED), SHARES)
def test_the_head_comes_down_along_the_leech(sail: Sail, share: float) -> None:
    full, taken = corners_of(sail), set_sail(sail, share)
    leech = full[1:]  # throat, roach, clew
    head = taken.points.head - np.array([depth_rolled(full, taken), 0.0])
    legs = pairwise(leech)
    assert min(edge_distance(np.array(leg), head) for leg in legs) < HAIR_M
    assert taken.points.head[1] < full[:, 1].max()
    assert taken.points.clew[1] == pytest.approx(full[-1, 1], abs=HAIR_M)


@QUICK
@given(triangles(hold=ROLLED), SHARES)
def test_a_rolled_triangle_is_the_same_triangle_smaller(sail: Sail, share: float) -> None:
    # sides parallel to the old ones, the clew kept at its height: lengths go as the root of the area
    tack, throat, clew = corners_of(sail)
    taken = set_sail(sail, share)
    small = math.sqrt(share)
    moved = np.array([-clew[0] * (1 - small), 0.0])
    wanted = [clew + small * (corner - clew) + moved for corner in (tack, throat, clew)]
    found = (taken.points.tack, taken.points.head, taken.points.clew)
    for corner, ours in zip(wanted, found, strict=True):
        assert ours == pytest.approx(corner, abs=1e-8)


# --- reefed from the foot ---


@QUICK
@given(sails(), SHARES)
def test_a_reefed_sail_is_the_top_of_the_sail_lowered(sail: Sail, share: float) -> None:
    full, taken = corners_of(sail), set_sail(sail, share)
    tack, clew = foot_of(sail)
    slope = (clew[1] - tack[1]) / (clew[0] - tack[0])
    down = np.array([0.0, depth_lowered(full, taken, slope)])

    def above_foot(corner: Floats) -> float:
        return float(corner[1] - tack[1] - slope * (corner[0] - tack[0]))

    for corner in taken.corners:
        # raised again it lies on the edge of the sail, or on the cut, which comes down onto the old foot
        assert edge_distance(full, corner + down) < 1e-8 or abs(above_foot(corner)) < 1e-8
        assert above_foot(corner) > -1e-8
    for corner in full:
        if above_foot(corner - down) > 1e-6:
            assert min(np.hypot(*(taken.corners - (corner - down)).T)) < 1e-8


@QUICK
@given(sails(), SHARES)
def test_a_reefed_sail_stays_where_the_sail_was(sail: Sail, share: float) -> None:
    full, taken = corners_of(sail), set_sail(sail, share)
    assert taken.corners[:, 1].max() < full[:, 1].max()
    assert taken.corners[:, 1].min() >= full[:, 1].min() - HAIR_M
    assert taken.corners[:, 0].max() <= full[:, 0].max() + HAIR_M
    assert taken.corners[:, 0].min() >= full[:, 0].min() - HAIR_M


@QUICK
@given(triangles(), SHARES)
def test_a_reefed_triangle_keeps_the_tack_and_shrinks(sail: Sail, share: float) -> None:
    tack, throat, clew = corners_of(sail)
    taken = set_sail(sail, share)
    small = math.sqrt(share)
    found = (taken.points.tack, taken.points.head, taken.points.clew)
    for corner, ours in zip((tack, throat, clew), found, strict=True):
        assert ours == pytest.approx(tack + small * (corner - tack), abs=1e-8)


def foot_of(sail: Sail) -> tuple[Floats, Floats]:
    """Tack and clew, as the sail was given."""
    if sail.corners is not None:
        return np.array(sail.corners[0]), np.array(sail.corners[-1])
    assert sail.luff_m is not None
    assert sail.foot_m is not None
    assert sail.tack_height_m is not None
    aft = math.sqrt(sail.foot_m**2 - sail.clew_rise_m**2)
    return np.array([0.0, sail.tack_height_m]), np.array([-aft, sail.tack_height_m + sail.clew_rise_m])


@QUICK
@given(st.one_of(triangles(most_roach=0.3), gaffs(), lugs()))
def test_tack_and_clew_are_found_from_the_outline(sail: Sail) -> None:
    points = set_sail(sail, 1.0).points
    tack, clew = foot_of(sail)
    assert points.tack == pytest.approx(tack)
    assert points.clew == pytest.approx(clew)


# --- let down by panels ---


@QUICK
@given(triangles(hold="battens", panels=5), st.integers(1, 5))
def test_panels_of_a_triangle_on_a_level_foot(sail: Sail, left: int) -> None:
    level = replace(sail, clew_rise_m=0.0)
    taken = set_sail(level, left / 5)
    assert taken.share == pytest.approx((left / 5) ** 2, rel=TIGHT)
    assert taken.area_m2 == pytest.approx((left / 5) ** 2 * polygon_area(corners_of(level)), rel=TIGHT)


@QUICK
@given(lugs(hold="battens", panels=6), st.integers(1, 6))
def test_panels_are_of_equal_height_and_go_from_the_foot(sail: Sail, left: int) -> None:
    full, taken = corners_of(sail), set_sail(sail, left / 6)
    low, high = full[:, 1].min(), full[:, 1].max()
    kept = polygon_area(part_above(full, high - (high - low) * left / 6))
    assert taken.area_m2 == pytest.approx(kept, rel=1e-11)


@QUICK
@given(lugs(hold="battens", panels=4))
def test_a_share_a_hair_off_is_whole_panels(sail: Sail) -> None:
    assert set_sail(sail, 0.752).area_m2 == set_sail(sail, 0.75).area_m2


# --- what the others stand on ---


@QUICK
@given(sails(), between(0.0, 1.0))
def test_height_with_a_share_of_the_area_above_it(sail: Sail, share: float) -> None:
    full = corners_of(sail)
    height = height_with_area_above(strips_of(full), share)
    assert full[:, 1].min() - HAIR_M <= height <= full[:, 1].max() + HAIR_M
    above = part_above(full, height)
    found = polygon_area(above) if len(above) > 2 else 0.0
    assert found == pytest.approx(share * polygon_area(full), rel=1e-9, abs=1e-9)


def test_a_state_sets_what_it_names_and_takes_in_the_rest() -> None:
    rig = rig_of(
        COVERING,
        COVERING.replace('"main"', '"storm jib"'),
        '[[state]]\nname = "reefed"\nset = {main = 0.5}',
        '[[case]]\nname = "c"\nkind = "heel-limited"\nstate = "reefed"',
    )
    assert [sail.share for sail in sails_of_state(rig, "reefed")] == [0.5, 0.0]
    assert [sail.share for sail in sails_of_state(rig, None)] == [1.0, 1.0]
