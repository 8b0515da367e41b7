"""From a sail to the mast: along the luff, through the leech, at the corners.

Whatever the way, the sail's force arrives in full; along the luff and through the leech its moment does
too. The figures beside rigcalc's come from closed forms and from scipy's quadrature.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from rigcalc.formulas import Working
from rigcalc.loads import Applied, LineLoad, PointLoad, SetSail, corners_of, set_sail
from rigcalc.loads.coefficients import SailForce
from rigcalc.loads.paths import sail_line, unit_load
from rigcalc.loads.wind import WindAtMast
from rigcalc.rig import CORNERS, LUFF, MEMBRANE, ROLLED, Sail, Wind, load_path_of

from . import AIRS, QUICK, SHARES, WATERLINE_M, between, lugs, polygon_area, sails, triangles, width_at

STILL = WindAtMast(Wind(), WATERLINE_M)
FORCES = st.builds(
    lambda size, way: (size * math.sin(way), size * math.cos(way)), between(0.3, 2.0), between(0.0, 3.1)
)
SAGS = st.one_of(st.none(), between(0.01, 0.119))


def load_of(
    sail: SetSail, force: tuple[float, float], wind: WindAtMast = STILL, *, abaft: bool = False
) -> Applied:
    return whole(sail, SailForce(side=force[0], forward=force[1]), wind, abaft=abaft)


def whole(
    sail: SetSail, force: SailForce, wind: WindAtMast, *, abaft: bool = False, working: Working | None = None
) -> Applied:
    return unit_load(
        sail,
        force,
        sail_line(sail, wind),
        path=load_path_of(sail.sail),
        abaft=abaft,
        working=working or Working(),
    )


def pulls_of(load: Applied) -> tuple[PointLoad, ...]:
    return tuple(point for point in load.points if point.toward_m is not None)


def without_pulls(load: Applied) -> Applied:
    return Applied(load.lines, tuple(point for point in load.points if point.toward_m is None))


def tack_height(sail: SetSail) -> float:
    return float(sail.points.tack[1])


def same(one: tuple[float, float], other: tuple[float, float], scale: float) -> bool:
    return one == pytest.approx(other, abs=1e-10 * scale)


# --- the force arrives in full ---


@QUICK
@given(sails(), FORCES, AIRS, SAGS, st.booleans())
def test_every_path_brings_the_whole_force(
    sail: Sail, force: tuple[float, float], air: Wind, sag: float | None, abaft: bool
) -> None:
    wind = WindAtMast(air, WATERLINE_M)
    total = sail_line(set_sail(sail, 1.0), wind).integral()
    wanted = (force[0] * total, force[1] * total)
    for fields in (
        {"load_path": LUFF},
        {"load_path": CORNERS},
        # with a boom what the leech pulls aft the boom pushes forward
        {"load_path": MEMBRANE, "leech_sag": sag, "clew_held": "boom"},
        {"load_path": MEMBRANE, "leech_sag": sag, "clew_held": "wishbone", "spar_height_m": 2.5},
    ):
        load = load_of(set_sail(replace(sail, **fields), 1.0), force, wind, abaft=abaft)
        assert same(load.force(), wanted, 100 * total)
    sheeted = load_of(set_sail(replace(sail, load_path=MEMBRANE), 1.0), force, wind, abaft=abaft)
    assert same(without_pulls(sheeted).force(), wanted, 10 * total)


@QUICK
@given(sails(centre_of_effort="geometric"), FORCES)
def test_in_a_steady_wind_the_force_is_pressure_times_area(sail: Sail, force: tuple[float, float]) -> None:
    area = polygon_area(corners_of(sail))
    load = load_of(set_sail(replace(sail, load_path=LUFF), 1.0), force)
    assert same(load.force(), (force[0] * area, force[1] * area), area)


@QUICK
@given(sails(hold=ROLLED), SHARES, FORCES)
def test_a_sail_half_rolled_brings_the_force_of_what_is_set(
    sail: Sail, share: float, force: tuple[float, float]
) -> None:
    area = share * polygon_area(corners_of(sail))
    load = load_of(set_sail(replace(sail, load_path=LUFF), share), force)
    assert load.force() == pytest.approx((force[0] * area, force[1] * area), rel=1e-9, abs=1e-12)


# --- and its moment ---


@QUICK
@given(sails(), FORCES, AIRS, SAGS)
def test_luff_and_leech_bring_the_moment_about_the_tack(
    sail: Sail, force: tuple[float, float], air: Wind, sag: float | None
) -> None:
    wind = WindAtMast(air, WATERLINE_M)
    whole = set_sail(sail, 1.0)
    line, tack = sail_line(whole, wind), tack_height(whole)
    moment = line.moment_about(tack)
    wanted = (force[0] * moment, force[1] * moment)
    scale = line.integral() * 12.0
    along = load_of(set_sail(replace(sail, load_path=LUFF), 1.0), force, wind)
    through = load_of(set_sail(replace(sail, load_path=MEMBRANE, leech_sag=sag), 1.0), force, wind)
    assert same(along.moment(tack), wanted, scale)
    assert same(without_pulls(through).moment(tack), wanted, scale)


@QUICK
@given(sails(), FORCES, AIRS, st.lists(between(0.02, 1.0), min_size=2, max_size=7, unique=True))
def test_parrels_keep_force_and_moment(
    sail: Sail, force: tuple[float, float], air: Wind, at: list[float]
) -> None:
    wind = WindAtMast(air, WATERLINE_M)
    full = corners_of(sail)
    low, high = full[:, 1].min(), full[:, 1].max()
    heights = tuple(float(low + (high - low) * share) for share in sorted(at))
    if min(b - a for a, b in pairwise(heights)) < 0.01:
        heights = (float(low + 0.1 * (high - low)), float(high))
    for path in (LUFF, MEMBRANE):
        bare = sail_line(set_sail(sail, 1.0), wind)
        held = set_sail(replace(sail, load_path=path, parrel_heights_m=heights, clew_held="boom"), 1.0)
        load = without_pulls(load_of(held, force, wind))
        tack, total, moment = tack_height(held), bare.integral(), bare.moment_about(tack_height(held))
        assert not load.lines
        if path == MEMBRANE:
            # the boom's push is the mirror of the pull left out: both are looked at elsewhere
            load = Applied(load.lines, load.points[:-1])
        scale = 1e4 * total
        assert same(load.force(), (force[0] * total, force[1] * total), scale)
        assert same(load.moment(tack), (force[0] * moment, force[1] * moment), scale)


def test_each_parrel_takes_its_share_by_lever() -> None:
    # a strip of 1 m by 4 m between two parrels at a quarter and the top: they take 2/3 and 1/3
    sail = Sail(
        name="strip",
        corners=((0.0, 2.0), (0.0, 6.0), (-1.0, 6.0), (-1.0, 2.0)),
        load_path=LUFF,
        parrel_heights_m=(3.0, 6.0),
    )
    lower, upper = load_of(set_sail(sail, 1.0), (1.0, 0.0)).points
    assert (lower.height_m, upper.height_m) == (3.0, 6.0)
    assert (lower.side_N, upper.side_N) == pytest.approx((8 / 3, 4 / 3))


@QUICK
@given(lugs(load_path=LUFF), FORCES, between(0.05, 0.45), between(0.55, 0.95))
def test_what_lies_beyond_the_last_parrels_is_theirs(
    sail: Sail, force: tuple[float, float], lower: float, upper: float
) -> None:
    full = corners_of(sail)
    low, high = full[:, 1].min(), full[:, 1].max()
    a, b = (float(low + (high - low) * share) for share in (lower, upper))
    held = set_sail(replace(sail, parrel_heights_m=(a, b)), 1.0)
    total, moment = sail_line(held, STILL).integral(), sail_line(held, STILL).moment_about(a)
    at_b = moment / (b - a)
    points = load_of(held, force).points
    assert [p.side_N for p in points] == pytest.approx(
        [force[0] * (total - at_b), force[0] * at_b], abs=1e-9 * total
    )


# --- through the leech ---


@QUICK
@given(sails(load_path=MEMBRANE, clew_held="boom"), FORCES, AIRS, between(0.01, 0.119), between(0.0, 2.0))
def test_the_leech_pulls_both_ways(
    sail: Sail, force: tuple[float, float], air: Wind, sag: float, boom: float
) -> None:
    wind = WindAtMast(air, WATERLINE_M)
    whole = set_sail(replace(sail, leech_sag=sag, spar_height_m=boom), 1.0)
    load = load_of(whole, force, wind)
    (pull,) = pulls_of(load)
    push = load.points[-1]
    head, clew = whole.points.head, whole.points.clew
    size = math.hypot(*force) * sail_line(whole, wind).integral()
    tension = math.hypot(pull.side_N, pull.forward_N, pull.axial_N)
    # half the force hangs on it: (F/2) L/(8 sag L)
    assert tension == pytest.approx(size / (16 * sag), rel=1e-9)
    assert (push.side_N, push.forward_N) == pytest.approx(
        (-pull.side_N, -pull.forward_N), abs=1e-12 * tension
    )
    assert push.axial_N == 0.0
    assert push.height_m == boom
    # it acts along the leech, head to clew, and presses the mast down
    level, drop = abs(float(clew[0] - head[0])), float(head[1] - clew[1])
    assert pull.height_m == head[1]
    assert math.hypot(pull.side_N, pull.forward_N) * drop == pytest.approx(
        pull.axial_N * level, abs=1e-9 * tension
    )
    assert pull.axial_N > 0.0
    # and square to the wind's force, for the sail stands across that
    assert abs(pull.side_N * force[0] + pull.forward_N * force[1]) < 1e-9 * tension * math.hypot(*force)


@QUICK
@given(sails(load_path=MEMBRANE), FORCES)
def test_the_pull_is_towards_the_clew(sail: Sail, force: tuple[float, float]) -> None:
    whole = set_sail(sail, 1.0)
    (pull,) = pulls_of(load_of(whole, force))
    assert pull.toward_m is not None
    way = np.subtract(pull.toward_m, (0.0, 0.0, pull.height_m))
    pulled = np.array([pull.side_N, pull.forward_N, -pull.axial_N])
    assert np.linalg.norm(np.cross(way, pulled)) < 1e-9 * np.linalg.norm(way) * np.linalg.norm(pulled)
    assert way @ pulled > 0.0
    assert pull.toward_m[2] == whole.points.clew[1]


@pytest.mark.parametrize(
    ("force", "side", "forward"), [((1.0, 0.0), 0.0, -1.0), ((0.0, 1.0), 1.0, 0.0), ((0.6, 0.8), 0.8, -0.6)]
)
def test_the_clew_lies_aft_on_the_wind_and_to_leeward_before_it(
    force: tuple[float, float], side: float, forward: float
) -> None:
    sail = Sail(name="main", luff_m=5.0, foot_m=3.0, tack_height_m=1.5, load_path=MEMBRANE)
    (pull,) = pulls_of(load_of(set_sail(sail, 1.0), force))
    # half of 7.5 N over 8 x 0.05, and the foot is to the leech as 3 to the root of 34
    level = 7.5 / 2 / 0.4 * 3 / math.sqrt(34)
    assert (pull.side_N, pull.forward_N) == pytest.approx((level * side, level * forward), abs=1e-12)
    assert pull.axial_N == pytest.approx(level * 5 / 3)


@QUICK
@given(sails(load_path=MEMBRANE), FORCES)
def test_an_eased_leech_pulls_half_as_hard(sail: Sail, force: tuple[float, float]) -> None:
    whole = set_sail(sail, 1.0)
    whole_hard = load_of(whole, force).points
    (hard,), (eased,) = (pulls_of(load_of(whole, force, abaft=abaft)) for abaft in (False, True))
    assert eased.axial_N == pytest.approx(hard.axial_N / 2)
    stated = set_sail(replace(sail, leech_sag=0.05), 1.0)
    assert (
        load_of(stated, force, abaft=True).points == load_of(stated, force, abaft=False).points == whole_hard
    )


def test_head_and_clew_share_the_leech_by_lever() -> None:
    # a square sail on end: half of 8 m2 hangs on the leech, evenly, so head and clew have 2 N each
    sail = Sail(
        name="strip",
        corners=((0.0, 2.0), (0.0, 6.0), (-2.0, 6.0), (-2.0, 2.0)),
        load_path=MEMBRANE,
        centre_of_effort="geometric",
    )
    load = load_of(set_sail(sail, 1.0), (1.0, 0.0))
    assert [p.height_m for p in load.points[:2]] == [6.0, 2.0]
    assert [p.side_N for p in load.points[:2]] == pytest.approx([2.0, 2.0])
    assert [line.integral() for line in load.lines] == pytest.approx([4.0])


@pytest.mark.parametrize("sag", [0.004, 0.15])
def test_a_sag_past_what_a_shallow_cable_bears_is_told(sag: float) -> None:
    sail = Sail(name="main", luff_m=5.0, foot_m=3.0, tack_height_m=1.5, load_path=MEMBRANE, leech_sag=sag)
    working = Working()
    whole(set_sail(sail, 1.0), SailForce(1.0, 0.0), STILL, working=working)
    (told,) = working.warnings
    assert "leech of main" in told
    assert f"{sag:g}" in told


def test_a_usual_sag_is_not_remarked_on() -> None:
    for sag in (None, 0.01, 0.05, 0.11):
        sail = Sail(name="main", luff_m=5.0, foot_m=3.0, tack_height_m=1.5, load_path=MEMBRANE, leech_sag=sag)
        working = Working()
        whole(set_sail(sail, 1.0), SailForce(1.0, 0.0), STILL, working=working)
        assert not working.warnings


# --- at the corners ---


@QUICK
@given(sails(load_path=CORNERS), FORCES, AIRS)
def test_corners_have_their_sevenths(sail: Sail, force: tuple[float, float], air: Wind) -> None:
    wind, whole = WindAtMast(air, WATERLINE_M), set_sail(sail, 1.0)
    total = sail_line(whole, wind).integral()
    load = load_of(whole, force, wind)
    assert not load.lines
    assert [(p.side_N, p.forward_N, p.axial_N) for p in load.points] == [
        pytest.approx((force[0] * total * n / 7, force[1] * total * n / 7, 0.0)) for n in (3, 2, 2)
    ]
    places = (whole.points.head, whole.points.tack, whole.points.clew)
    assert [p.height_m for p in load.points] == [float(place[1]) for place in places]


# --- the centre of effort ---


@QUICK
@given(sails())
def test_the_centre_is_at_039_of_the_luff_or_higher(sail: Sail) -> None:
    whole = set_sail(sail, 1.0)
    line, strips = sail_line(whole, STILL), whole.strips
    if sail.corners is None:
        assert sail.luff_m is not None
        luff = sail.luff_m
    else:
        luff = sail.corners[1][1] - sail.corners[0][1]
    wanted = tack_height(whole) + 0.39 * luff
    assert line.integral() == pytest.approx(strips.area_m2, rel=1e-10)
    centre = line.moment_about(0.0) / line.integral()
    assert centre == pytest.approx(max(wanted, strips.centroid_m), rel=1e-9)
    if strips.centroid_m >= wanted:
        assert line.profile == STILL.pressure_shape


@QUICK
@given(sails(centre_of_effort="geometric"), SHARES)
def test_the_geometric_centre_is_left_alone(sail: Sail, share: float) -> None:
    for taken in (set_sail(sail, 1.0), set_sail(sail, share)):
        line = sail_line(taken, STILL)
        assert line.moment_about(0.0) / line.integral() == pytest.approx(taken.strips.centroid_m, rel=1e-10)


@QUICK
@given(triangles(hold=ROLLED), SHARES)
def test_the_centre_of_a_rolled_triangle_goes_by_its_own_luff(sail: Sail, share: float) -> None:
    # the luff of what is set is the root of the share of the old one, and starts further up a rising foot
    assert sail.luff_m is not None
    assert sail.tack_height_m is not None
    small = math.sqrt(share)
    tack = sail.tack_height_m + sail.clew_rise_m * (1 - small)
    centroid = tack + small * (sail.luff_m + sail.clew_rise_m) / 3
    line = sail_line(set_sail(sail, share), STILL)
    centre = line.moment_about(0.0) / line.integral()
    assert centre == pytest.approx(max(tack + 0.39 * small * sail.luff_m, centroid), rel=1e-8)


# --- turning with the wind ---


@QUICK
@given(sails(), FORCES, between(-1.5, 1.5), st.sampled_from([LUFF, CORNERS, MEMBRANE]))
def test_the_loads_turn_with_the_force(
    sail: Sail, force: tuple[float, float], angle: float, path: str
) -> None:
    whole = set_sail(replace(sail, load_path=path), 1.0)
    cos, sin = math.cos(angle), math.sin(angle)

    def turned(side: float, forward: float) -> tuple[float, float]:
        return (cos * side + sin * forward, -sin * side + cos * forward)

    before, after = load_of(whole, force), load_of(whole, turned(*force))
    size = before.lines[0].integral() if before.lines else polygon_area(corners_of(sail))
    for one, other in zip(before.lines, after.lines, strict=True):
        assert turned(one.side, one.forward) == pytest.approx((other.side, other.forward), abs=1e-12)
        assert np.array_equal(one.lower, other.lower)
    for p, q in zip(before.points, after.points, strict=True):
        assert turned(p.side_N, p.forward_N) == pytest.approx((q.side_N, q.forward_N), abs=1e-9 * size)
        assert p.axial_N == pytest.approx(q.axial_N, rel=1e-12)


# --- loads along a line, in closed form ---


@QUICK
@given(between(0.0, 3.0), between(0.0, 3.0), between(0.5, 9.0), between(-2.0, 4.0))
def test_a_tapered_width_in_a_steady_wind(at_foot: float, at_head: float, height: float, foot: float) -> None:
    load = LineLoad(np.array([foot, foot + height]), np.array([at_foot]), np.array([at_head]))
    assert load.integral() == pytest.approx((at_foot + at_head) / 2 * height, rel=1e-12, abs=1e-12)
    moment = height**2 * (at_foot + 2 * at_head) / 6
    assert load.moment_about(foot) == pytest.approx(moment, rel=1e-12, abs=1e-12)


@QUICK
@given(between(0.01, 3.0), between(0.01, 3.0), between(1.5, 9.0), between(0.05, 0.27))
def test_a_tapered_width_under_the_power_law(
    at_foot: float, at_head: float, top: float, exponent: float
) -> None:
    # width w0 + k z from 1 m above the water to the top, pressure as (z/10)^(2 alpha), moment about the water
    start, slope = 1.0, (at_head - at_foot) / (top - 1.0)
    wind = WindAtMast(Wind(profile="power-law", exponent=exponent), 0.0)
    load = LineLoad(np.array([start, top]), np.array([at_foot]), np.array([at_head]), wind.pressure_shape)
    level, power = at_foot - slope * start, 2 * exponent

    def antiderivative(z: float) -> float:
        return level * z ** (power + 2) / (power + 2) + slope * z ** (power + 3) / (power + 3)

    moment = (antiderivative(top) - antiderivative(start)) / 10.0**power
    assert load.moment_about(0.0) == pytest.approx(moment, rel=1e-6)


@QUICK
@given(sails(load_path=LUFF, centre_of_effort="geometric"), AIRS)
def test_strips_under_a_wind_law_against_quadrature(sail: Sail, air: Wind) -> None:
    wind, full = WindAtMast(air, WATERLINE_M), corners_of(sail)
    kinks = sorted({*full[:, 1], wind.lowest_m})

    def pressure(z: float) -> float:
        height = max(z - WATERLINE_M, 1.0)
        if air.profile == "power-law":
            return (height / 10.0) ** (2 * air.exponent)
        if air.profile == "log-law":
            return (math.log(height / air.roughness_length_m) / math.log(10.0 / air.roughness_length_m)) ** 2
        return 1.0

    force = sum(
        quad(lambda z: width_at(full, z) * pressure(z), a + 1e-12, b - 1e-12, epsabs=1e-10)[0]
        for a, b in pairwise(kinks)
        if full[:, 1].min() <= a and b <= full[:, 1].max()
    )
    assert load_of(set_sail(sail, 1.0), (1.0, 0.0), wind).force()[0] == pytest.approx(force, rel=1e-6)
