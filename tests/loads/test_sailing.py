"""Cases with sail set, and the bare mast with its roll, from rig file to loads and to the partners.

Free body: the heeled boat, the wind above and the water at the centre of lateral resistance. The figures
beside rigcalc's come from that balance, from closed forms and from scipy's quadrature.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from rigcalc import check
from rigcalc.formulas import Working
from rigcalc.loads import CaseLoad, case_loads, sail_plan
from rigcalc.rig import HEEL_LIMITED, Case, Rig

from . import (
    BURY_M,
    COVERING,
    DIAMETER_M,
    LATERAL_M,
    LENGTH_M,
    Q_PER_V2,
    QUICK,
    RM_30_N_M,
    RM_MAX_N_M,
    WATERLINE_M,
    between,
    case_text,
    degrees,
    quantity,
    rig_of,
)

GUST = 4 / 3
IN_A_GUST, RUNNING, STORM = 1.5, 1.4, 1.15
"""What the load of each kind of case is multiplied by where the file does not say."""
COVER_AREA = 2.6 * 6.8 / 2
COVER_CENTRE = (1.2 + 8.0 + 1.5) / 3


def load_of(rig: Rig) -> CaseLoad:
    (load,) = case_loads(rig, rig.cases, Working())
    return load


def main_sail(
    *, luff: float = 5.0, foot: float = 2.6, tack: float = 1.8, rise: float = 0.0, more: str = ""
) -> str:
    return (
        f'[[sail]]\nname = "main"\nluff = "{luff!r} m"\nfoot = "{foot!r} m"\ntack_height = "{tack!r} m"\n'
        f'clew_rise = "{rise!r} m"\nload_path = "luff"\n{more}'
    )


GEOMETRIC = 'centre_of_effort = "geometric"\n'


# --- held by the righting moment ---


@QUICK
@given(
    st.sampled_from([("RM max", RM_MAX_N_M), ("RM30", RM_30_N_M)]),
    between(1.0, 3.0),
    between(0.2, 1.0),
    between(3.0, 5.5),
    st.sampled_from(["uniform", "power-law", "log-law"]),
)
def test_the_wind_heels_with_the_righting_moment_times_the_factor(
    basis: tuple[str, float], factor: float, angle: float, luff: float, profile: str
) -> None:
    rig = rig_of(
        main_sail(luff=luff),
        case_text(
            "heel-limited",
            f'basis = "{basis[0]}"',
            f"dynamic_factor = {factor!r}",
            f"apparent_wind_angle = {degrees(angle)}",
        ),
        wind=f'[wind]\nprofile = "{profile}"',
    )
    side, _ = load_of(rig).applied.moment(LATERAL_M)
    assert side == pytest.approx(basis[1] * factor, rel=1e-9)


@QUICK
@given(between(500.0, 9000.0), between(1.0, 3.0))
def test_from_the_partners_the_whole_moment_stands_at_the_partners(moment: float, factor: float) -> None:
    rig = rig_of(
        main_sail(),
        case_text(
            "heel-limited",
            'basis = "moment"',
            f"moment = {quantity(moment, 'N m')}",
            'arm = "partners"',
            f"dynamic_factor = {factor!r}",
        ),
    )
    assert load_of(rig).applied.moment(BURY_M)[0] == pytest.approx(moment * factor, rel=1e-9)


def test_without_a_basis_the_largest_moment_counts() -> None:
    load = load_of(rig_of(COVERING, case_text("heel-limited")))
    assert load.applied.moment(LATERAL_M)[0] == pytest.approx(1.5 * RM_MAX_N_M)
    assert load.heel_rad == pytest.approx(math.pi / 3)


@pytest.mark.parametrize("factor", [1.0, 1.5, 2.5])
def test_moment_at_the_partners_by_the_arms(factor: float) -> None:
    # upright the mast's own weight does not bend it; the sail leaves no spar to the wind
    rig = rig_of(COVERING, case_text("heel-limited", f"dynamic_factor = {factor}", 'heel = "0 deg"'))
    result = check(rig)
    at = result.stations.height_m.tolist().index(BURY_M)
    wanted = RM_MAX_N_M * factor * (COVER_CENTRE - BURY_M) / (COVER_CENTRE - LATERAL_M)
    assert result.stations.moment_side_N_m[0, at] == pytest.approx(wanted, rel=1e-9)
    assert result.cases[0].partners_moment_N_m == pytest.approx(
        math.hypot(wanted, result.stations.moment_forward_N_m[0, at]), rel=1e-9
    )
    assert wanted > 0.0


def test_own_weight_comes_on_top_to_leeward() -> None:
    heeled, upright = (
        check(rig_of(COVERING, case_text("heel-limited", f'heel = "{heel} deg"'))) for heel in (40, 0)
    )
    at = heeled.stations.height_m.tolist().index(BURY_M)
    more = heeled.stations.moment_side_N_m[0, at] - upright.stations.moment_side_N_m[0, at]
    mast = heeled.mast
    above = mast.mass_kg * (LENGTH_M - BURY_M) / LENGTH_M
    arm = (LENGTH_M - BURY_M) / 2
    assert more == pytest.approx(1.5 * above * 9.80665 * math.sin(math.radians(40)) * arm, rel=1e-9)


def test_two_masts_share_the_righting_moment() -> None:
    def fleet(this: str) -> Rig:
        sails = "".join(
            f'[[sail]]\nname = "{name}"\nmast = "{name}"\nload_path = "luff"\n'
            f'corners = [["0 m", "1.2 m"], ["0 m", "8.0 m"], ["-{foot} m", "{clew} m"]]\n'
            for name, foot, clew in (("main", 2.9, 1.5), ("fore", 2.1, 1.9))
        )
        return rig_of(sails, case_text("heel-limited"), mast=f'name = "{this}"')

    main, fore = (load_of(fleet(name)) for name in ("main", "fore"))
    shares = [load.applied.moment(LATERAL_M)[0] for load in (main, fore)]
    assert sum(shares) == pytest.approx(1.5 * RM_MAX_N_M, rel=1e-9)
    assert shares[0] > shares[1] > 0.0
    for load, share in ((main, shares[0]), (fore, shares[1])):
        (told,) = [note for note in load.notes if "this mast takes" in note]
        assert f"{share / sum(shares):.0%}" in told


def test_the_other_mast_down_this_one_takes_it_all() -> None:
    other = COVERING.replace('"main"', '"fore"\nmast = "fore"')
    state = '[[state]]\nname = "main alone"\nset = {main = 1}'
    rig = rig_of(COVERING, other, state, case_text("heel-limited", 'state = "main alone"'))
    load = load_of(rig)
    assert load.applied.moment(LATERAL_M)[0] == pytest.approx(1.5 * RM_MAX_N_M)
    assert not [note for note in load.notes if "this mast takes" in note]


@QUICK
@given(between(0.2, 1.5))
def test_drive_over_side_force_is_that_of_the_coefficients(angle: float) -> None:
    rig = rig_of(
        COVERING,
        case_text("heel-limited", f"apparent_wind_angle = {degrees(angle)}", 'wind_speed = "50 m/s"'),
    )
    plan = sail_plan(rig, None, case=rig.cases[0], apparent_wind_angle_rad=angle, working=Working())
    side, forward = load_of(rig).applied.force()
    per_Pa = plan.wind.force()
    assert forward / side == pytest.approx(per_Pa[1] / per_Pa[0], rel=1e-9)
    assert math.hypot(*per_Pa) >= 0.9 * COVER_AREA


def test_less_sail_lowers_the_moment_at_the_partners_but_not_the_heeling_moment() -> None:
    reefed = '[[state]]\nname = "reefed"\nset = {main = 0.4}'
    whole, less = (
        load_of(rig_of(main_sail(), reefed, case_text("heel-limited", *state)))
        for state in ((), ('state = "reefed"',))
    )
    assert less.applied.moment(LATERAL_M)[0] == pytest.approx(whole.applied.moment(LATERAL_M)[0], rel=1e-9)
    assert less.applied.moment(BURY_M)[0] < whole.applied.moment(BURY_M)[0]
    assert less.applied.force()[0] > whole.applied.force()[0]


# --- capped by a wind ---


@QUICK
@given(between(2.0, 30.0), between(1.0, 1.6))
def test_a_wind_caps_what_the_boat_could_hold(speed: float, gust: float) -> None:
    free = load_of(rig_of(COVERING, case_text("heel-limited")))
    wind = (f"wind_speed = {quantity(speed, 'm/s')}", f"gust_factor = {gust!r}")
    rig = rig_of(COVERING, case_text("heel-limited", *wind))
    capped = load_of(rig)
    plan = sail_plan(rig, None, case=rig.cases[0], apparent_wind_angle_rad=math.pi / 6, working=Working())
    in_wind = IN_A_GUST * Q_PER_V2 * (speed * gust) ** 2 * plan.wind.force()[0]
    wanted = min(in_wind, free.applied.force()[0])
    assert capped.applied.force()[0] == pytest.approx(wanted, rel=1e-9)
    told = [note for note in capped.notes if "that wind is used" in note]
    assert bool(told) == (in_wind < free.applied.force()[0])
    assert capped.wind_speed_m_s == pytest.approx(speed)


# --- set by the wind alone ---


@QUICK
@given(between(3.0, 25.0), between(-3.1, 3.1), between(0.3, 2.0))
def test_a_force_coefficient_is_taken_in_the_direction_stated(
    speed: float, towards: float, coefficient: float
) -> None:
    rig = rig_of(
        COVERING,
        case_text(
            "wind-limited",
            f"wind_speed = {quantity(speed, 'm/s')}",
            f"force_coefficient = {coefficient!r}",
            f"force_angle = {degrees(towards)}",
        ),
    )
    side, forward = load_of(rig).applied.force()
    force = RUNNING * coefficient * Q_PER_V2 * (speed * GUST) ** 2 * COVER_AREA
    assert side == pytest.approx(force * math.sin(towards), abs=1e-9 * force)
    assert forward == pytest.approx(force * math.cos(towards), abs=1e-9 * force)


def test_dead_before_the_wind_the_force_is_forward() -> None:
    load = load_of(rig_of(COVERING, case_text("wind-limited", 'wind_speed = "10 m/s"')))
    side, forward = load.applied.force()
    push = RUNNING * Q_PER_V2 * (10 * GUST) ** 2 * COVER_AREA
    # drag 1.345 with the drag that comes with a lift of -0.112, which pulls to leeward
    induced = 0.112**2 * COVER_AREA / (math.pi * (1.1 * 6.8) ** 2)
    assert forward == pytest.approx((1.345 + induced) * push)
    assert side == pytest.approx(0.112 * push)
    assert any("no heel spills it" in note for note in load.notes)
    assert load.heel_rad == 0.0


def test_a_boat_under_way_takes_wind_off_a_run_and_adds_it_upwind() -> None:
    def forces(angle: int, speed: float) -> float:
        case = (f'true_wind_angle = "{angle} deg"', 'wind_speed = "8 m/s"', f'boat_speed = "{speed} m/s"')
        return math.hypot(*load_of(rig_of(COVERING, case_text("wind-limited", *case))).applied.force())

    still = 8 * GUST
    assert forces(180, 2.0) == pytest.approx(forces(180, 0.0) * ((still - 2.0) / still) ** 2)
    assert forces(60, 2.0) > forces(60, 0.0)


@QUICK
@given(between(100.0, 20000.0))
def test_a_boat_that_pitches_over_caps_the_forward_moment(limit: float) -> None:
    def load(*lines: str) -> CaseLoad:
        return load_of(rig_of(main_sail(), case_text("wind-limited", 'wind_speed = "12 m/s"', *lines)))

    free, capped = load(), load(f"longitudinal_moment = {quantity(limit, 'N m')}")
    before, after = (case.applied.moment(LATERAL_M) for case in (free, capped))
    assert after[1] == pytest.approx(min(before[1], limit), rel=1e-9)
    assert after[0] / after[1] == pytest.approx(before[0] / before[1], rel=1e-9)
    assert any("pitches over" in note for note in capped.notes) == (limit < before[1])


# --- the spar about the sails ---


@pytest.mark.parametrize("angle_deg", [20.0, 35.0, 60.0])
def test_the_spar_above_and_below_the_sail_stands_in_the_wind(angle_deg: float) -> None:
    # 1.2 to 1.8 m below a sail that ends at 6.8 m, and 1.2 m above it, at the drag of a round spar
    rig = rig_of(main_sail(more=GEOMETRIC), case_text("heel-limited"))
    angle = math.radians(angle_deg)
    plan = sail_plan(rig, None, case=rig.cases[0], apparent_wind_angle_rad=angle, working=Working())
    sail, *spar = plan.wind.lines
    assert sail.integral() == pytest.approx(6.5)
    forces = [(line.side * line.integral(), line.forward * line.integral()) for line in spar]
    drag = [1.2 * DIAMETER_M * length for length in (1.8 - BURY_M, LENGTH_M - 6.8)]
    for (side, forward), size in zip(forces, drag, strict=True):
        assert (side, forward) == pytest.approx((size * math.sin(angle), -size * math.cos(angle)))
    assert plan.on_mast.force() == pytest.approx(plan.wind.force())


def test_no_spar_stands_out_behind_a_sail_from_partners_to_tip() -> None:
    rig = rig_of(COVERING, case_text("heel-limited"))
    plan = sail_plan(rig, None, case=rig.cases[0], apparent_wind_angle_rad=0.5, working=Working())
    assert len(plan.wind.lines) == 1


def test_a_roll_above_the_reefed_sail_stands_in_the_wind_too() -> None:
    # rolled to a quarter of its area the sail is half as wide and half as tall: above it the roll is bare
    rolling = 'hold = "rolled"\ncloth_thickness = "0.5 mm"\nroll_slack = 2\n'
    state = '[[state]]\nname = "quarter"\nset = {main = 0.25}'
    rig = rig_of(main_sail(more=GEOMETRIC + rolling), state, case_text("heel-limited", 'state = "quarter"'))
    plan = sail_plan(
        rig, "quarter", case=rig.cases[0], apparent_wind_angle_rad=math.pi / 2, working=Working()
    )
    _, below, above = (line.side * line.integral() for line in plan.wind.lines)
    top, reefed_top = 1.8 + 5.0, 1.8 + 2.5

    def diameter(z: float) -> float:
        rolled = 2.6 * (top - z) / 5.0 if z < top else 0.0
        return math.sqrt(DIAMETER_M**2 + 4 * 1e-3 * rolled / math.pi)

    assert below == pytest.approx(1.2 * DIAMETER_M * (1.8 - BURY_M))
    assert above == pytest.approx(1.2 * quad(diameter, reefed_top, LENGTH_M, points=[top])[0], rel=1e-8)


# --- no sail at all ---


@QUICK
@given(
    between(0.5, 6.0),
    between(0.5, 3.0),
    between(0.0, 0.6),
    between(0.2e-3, 1.5e-3),
    between(1.0, 4.0),
    st.sampled_from(["uniform", "power-law"]),
)
def test_bare_the_roll_has_its_drag(
    luff: float, foot: float, rise: float, cloth: float, slack: float, profile: str
) -> None:
    rise = rise * min(luff, foot)
    rig = rig_of(
        main_sail(
            luff=luff,
            foot=foot,
            rise=rise,
            more=f'hold = "rolled"\ncloth_thickness = {quantity(cloth, "m")}\nroll_slack = {slack!r}\n',
        ),
        case_text("bare", 'wind_speed = "25 m/s"', 'force_angle = "90 deg"'),
        wind=f'[wind]\nprofile = "{profile}"',
    )
    aft = math.sqrt(foot**2 - rise**2)

    def width(z: float) -> float:
        """From the mast to the leech, or to the foot where that rises."""
        up = z - 1.8
        if not 0.0 <= up <= luff:
            return 0.0
        return aft * ((luff - up) / (luff - rise) if up >= rise else up / rise)

    def drag(z: float) -> float:
        size = math.sqrt(DIAMETER_M**2 + 4 * cloth * slack * width(z) / math.pi)
        above = max(z - WATERLINE_M, 1.0)
        return size * (1.0 if profile == "uniform" else (above / 10.0) ** 0.22)

    kinks = sorted({BURY_M, WATERLINE_M + 1.0, 1.8, 1.8 + rise, 1.8 + luff, LENGTH_M})
    pieces = [(a + 1e-9, b - 1e-9) for a, b in pairwise(kinks)]
    per_metre = STORM * 1.2 * Q_PER_V2 * (25 * GUST) ** 2
    force = per_metre * sum(quad(drag, a, b)[0] for a, b in pieces)
    moment = per_metre * sum(quad(lambda z: (z - BURY_M) * drag(z), a, b)[0] for a, b in pieces)
    load = load_of(rig).applied
    assert load.force() == pytest.approx((force, 0.0), rel=1e-6, abs=1e-9)
    assert load.moment(BURY_M) == pytest.approx((moment, 0.0), rel=1e-6, abs=1e-9)


def test_a_sail_that_is_lowered_leaves_the_bare_spar() -> None:
    lines = ('wind_speed = "25 m/s"', 'force_angle = "90 deg"')
    rolled, lowered = (
        load_of(rig_of(main_sail(more=f'hold = "{hold}"\n'), case_text("bare", *lines))).applied.force()[0]
        for hold in ("rolled", "luff")
    )
    spar = STORM * 1.2 * Q_PER_V2 * (25 * GUST) ** 2 * DIAMETER_M * (LENGTH_M - BURY_M)
    assert lowered == pytest.approx(spar)
    assert rolled > 1.02 * spar


def test_the_cloth_of_the_roll_is_carried() -> None:
    rig = rig_of(
        main_sail(more='hold = "rolled"\ncloth_mass = "250 g/m2"\n'),
        case_text("bare", 'wind_speed = "25 m/s"'),
    )
    assert sum(line.integral() for line in load_of(rig).hung_kg_m) == pytest.approx(0.25 * 6.5)


@QUICK
@given(between(0.05, 0.95))
def test_cloth_set_and_cloth_rolled_weigh_what_the_sail_weighs(share: float) -> None:
    rig = rig_of(
        main_sail(more='hold = "rolled"\ncloth_mass = "250 g/m2"\n'),
        f'[[state]]\nname = "less"\nset = {{main = {share!r}}}',
        case_text("heel-limited", 'state = "less"'),
    )
    assert sum(line.integral() for line in load_of(rig).hung_kg_m) == pytest.approx(0.25 * 6.5, rel=1e-9)


# --- what is told ---


def test_a_sag_out_of_range_reaches_the_working() -> None:
    rig = rig_of(main_sail().replace('"luff"', '"membrane"'), case_text("heel-limited"))
    flat = replace(rig, sails=(replace(rig.sails[0], leech_sag=0.004),))
    for this, told in ((rig, False), (flat, True)):
        working = Working()
        case_loads(this, this.cases, working)
        assert any("leech of main" in text and "f/L" in text for text in working.warnings) == told


def test_two_sails_feel_one_pressure() -> None:
    below = '[[sail]]\nname = "low"\ncorners = [["0 m", "1.2 m"], ["0 m", "4.0 m"], ["-2 m", "1.2 m"]]\n'
    above = '[[sail]]\nname = "high"\ncorners = [["0 m", "4.0 m"], ["0 m", "8.0 m"], ["-2 m", "4.0 m"]]\n'
    as_drawn = 'load_path = "luff"\ncentre_of_effort = "geometric"\n'
    rig = rig_of(below + as_drawn, above + as_drawn, case_text("heel-limited"))
    case = Case(name="c", kind=HEEL_LIMITED)
    plan = sail_plan(rig, None, case=case, apparent_wind_angle_rad=math.pi / 6, working=Working())
    load = load_of(rig).applied
    pressure = load.force()[0] / plan.wind.force()[0]
    for line, per_Pa in zip(load.lines, plan.wind.lines, strict=True):
        assert line.integral() == pytest.approx(pressure * per_Pa.integral())
    assert [line.integral() for line in plan.wind.lines] == pytest.approx([2.8, 4.0])
