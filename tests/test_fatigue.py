"""Fatigue: the sum over a narrow-band life by quadrature, and each check worked out again from the rig file."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.special import gamma

from rigcalc import CheckResult, check, read_rig
from rigcalc.formulas import Working
from rigcalc.formulas.fatigue import (
    curve_range,
    cycles_borne,
    miner_term,
    narrow_band_damage,
    rms_of_largest,
)
from rigcalc.limits import Limit
from rigcalc.limits.about import WHOLE, About
from rigcalc.limits.lifetime import Curve, largest_range, rayleigh_damage
from rigcalc.materials import MaterialError, fatigue_details, find_fatigue_detail
from rigcalc.rig import LOWEST_WELD, Fatigue

from .test_limits import BURY, LENGTH, found, pushed, ring, tube
from .test_loads import METAL, case_text, rig_text, run, some

LIFE = '[fatigue]\ndays_at_sea = 300\ntime_per_day = "8 h"\nroll_period = "3 s"\n'
CYCLES = 300 * 8 * 3600 / 3
PLAIN, WELD = (71e6, 7.0), (23e6, 3.4)


# --- the sum -------------------------------------------------------------------------------------


@pytest.mark.parametrize(("m", "factor"), [(2, 8.0), (4, 128.0)])
def test_one_slope_has_exact_values(m: float, factor: float) -> None:
    """Of a curve N S^m = C: 8 N sigma^2/C, and 128 N sigma^4/C."""
    n, sigma, C = 4e5, 13e6, 1e30
    damage = narrow_band_damage(n=n, S_C=C ** (1 / m), N_C=1.0, sigma=sigma, m=m, g=gamma(1 + m / 2))
    assert damage == pytest.approx(factor * n * sigma**m / C, rel=1e-12)


@pytest.mark.parametrize("m", [2.0, 3.4, 5.0, 7.0])
def test_ranges_and_amplitudes_agree(m: float) -> None:
    """The same life counted in amplitudes: (n/A) (sqrt2 sigma)^m Gamma(1 + m/2), with A = C/2^m."""
    n, sigma, C = 1e6, 20e6, 1e40
    amplitude = n / (C / 2**m) * (math.sqrt(2) * sigma) ** m * gamma(1 + m / 2)
    ours = narrow_band_damage(n=n, S_C=C ** (1 / m), N_C=1.0, sigma=sigma, m=m, g=gamma(1 + m / 2))
    assert ours == pytest.approx(amplitude, rel=1e-12)


def damage_by_quadrature(category: float, m: float, largest: float, cycles: float) -> float:
    """Miner's sum over the Rayleigh density of ranges, the curve written out by hand."""
    sigma = largest / math.sqrt(8 * math.log(cycles))
    knee = category * (2 / 5) ** (1 / m)
    cut = knee * (1 / 20) ** (1 / (m + 2))

    def density(s: float) -> float:
        return s / (4 * sigma**2) * math.exp(-(s**2) / (8 * sigma**2))

    def borne(s: float) -> float:
        return 5e6 * (knee / s) ** (m if s >= knee else m + 2)

    end = 2 * math.sqrt(2) * sigma * 12
    return cycles * sum(
        quad(lambda s: density(s) / borne(s), low, high, epsabs=0, epsrel=1e-11, limit=400)[0]
        for low, high in pairwise([p for p in (cut, knee, end) if p <= end])
    )


@pytest.mark.parametrize(("category", "m"), [(71e6, 7.0), (23e6, 3.4), (45e6, 7.0), (40e6, 5.0)])
@pytest.mark.parametrize("cycles", [1e4, 3e6, 2e8])
@pytest.mark.parametrize("share", [0.6, 1.5, 4.0])
def test_two_slopes_by_quadrature(category: float, m: float, cycles: float, share: float) -> None:
    largest = share * category
    ours = rayleigh_damage(Curve(category, m), largest_Pa=largest, cycles=cycles)
    assert ours == pytest.approx(damage_by_quadrature(category, m, largest, cycles), rel=1e-9)


@pytest.mark.parametrize(("category", "m"), [(71e6, 7.0), (23e6, 3.4)])
def test_damage_by_counting_a_drawn_life(category: float, m: float) -> None:
    """Ranges drawn as Rayleigh's and added up one by one."""
    cycles, largest = 400_000, 3 * category
    sigma = float(rms_of_largest(S=largest, N=cycles))
    drawn = np.random.default_rng(7).rayleigh(2 * sigma, cycles)
    curve = Curve(category, m)
    steep = miner_term(n=1.0, N=cycles_borne(S_C=category, N_C=2e6, S=drawn, m=m))
    flat = miner_term(n=1.0, N=cycles_borne(S_C=curve.knee_Pa, N_C=5e6, S=drawn, m=m + 2))
    each = np.where(drawn >= curve.knee_Pa, steep, np.where(drawn >= curve.cut_off_Pa, flat, 0.0))
    assert np.sum(each) == pytest.approx(rayleigh_damage(curve, largest_Pa=largest, cycles=cycles), rel=0.05)
    # and one of them, give or take, is as large as that from which sigma was taken
    assert np.max(drawn) == pytest.approx(largest, rel=0.1)


def test_the_curve_has_no_step() -> None:
    curve = Curve(71e6, 7.0)
    below, above = (
        cycles_borne(S_C=s, N_C=n, S=curve.knee_Pa, m=m)
        for s, n, m in ((71e6, 2e6, 7), (curve.knee_Pa, 5e6, 9))
    )
    assert below == pytest.approx(above, rel=1e-12)
    assert curve_range(S_C=71e6, N_C=2e6, N=2e6, m=7.0) == 71e6


@given(category=some(10.0, 120.0), m=some(3.0, 8.0), days=some(1.0, 1e4))
@settings(max_examples=60, deadline=None)
def test_the_largest_range_uses_up_the_life(category: float, m: float, days: float) -> None:
    cycles = days * 28_800
    curve = Curve(category * 1e6, m)
    allowed = largest_range(curve, cycles=cycles)
    assert rayleigh_damage(curve, largest_Pa=allowed, cycles=cycles) == pytest.approx(1.0, rel=1e-9)
    assert largest_range(Curve(2e6 * category, m), cycles=cycles) == pytest.approx(2 * allowed, rel=1e-9)
    assert largest_range(curve, cycles=2 * cycles) < allowed


def test_a_very_long_life_comes_down_to_the_cut_off() -> None:
    """When all cycles but the largest stay under the cut-off, only the few beyond it do damage."""
    curve = Curve(71e6, 7.0)
    allowed = [largest_range(curve, cycles=n) / curve.cut_off_Pa for n in (1e6, 1e9, 1e12)]
    assert allowed[0] > allowed[1] > allowed[2] > 1.0


# --- the table -----------------------------------------------------------------------------------


def test_the_details_say_where_they_come_from() -> None:
    names = [d.name for d in fatigue_details()]
    assert len(set(names)) == len(names) == 7
    for d in fatigue_details():
        assert ("from memory" in d.source) == (d.provenance == "memory")
        assert "low confidence" in d.note
        assert 1e7 < d.category_Pa < 1e8
        assert d.slope in (3.4, 7.0)
    assert min((d for d in fatigue_details() if d.welded), key=lambda d: d.category_Pa).name == LOWEST_WELD
    assert (find_fatigue_detail("extruded").category_Pa, find_fatigue_detail("extruded").slope) == PLAIN
    with pytest.raises(MaterialError, match="Did you mean 'machined'"):
        find_fatigue_detail("machine")


# --- the checks ----------------------------------------------------------------------------------


def allowed_range(detail: tuple[float, float], cycles: float = CYCLES, factor: float = 1.35) -> float:
    category, m = detail
    return float(
        brentq(
            lambda s: damage_by_quadrature(category / factor, m, s, cycles) - 1,
            0.5 * category,
            8 * category,
            xtol=1e-3,
            rtol=1e-12,
        )
    )


def bending(force: float, D: float, t: float, z: float = BURY) -> float:
    return force * (LENGTH - z) * D / 2 / ring(D, t)[1]


def told(pattern: str, text: str) -> float:
    """Return the number that a text tells in some words."""
    match = re.search(pattern, text)
    assert match, f"{pattern!r} is not in {text!r}"
    return float(match[1])


def ids(result: CheckResult) -> set[str]:
    return {c.id for c in result.checks if c.id.startswith("fatigue")}


@pytest.mark.parametrize(
    ("ratio", "share"), [("", 2.0), ("stress_ratio = 0\n", 1.0), ("stress_ratio = 0.4\n", 0.6)]
)
def test_the_plain_wall(ratio: str, share: float) -> None:
    D, t = 0.09, 0.003
    result = run(f"{LIFE}{ratio}{pushed(10.0)}", **tube(D, t))
    one = found(result, "fatigue")
    assert one.demand == pytest.approx(share * bending(10.0, D, t), rel=1e-5)
    assert one.capacity == pytest.approx(allowed_range(PLAIN), rel=1e-8)
    assert (one.height_m, one.unit) == (BURY, "Pa")
    assert "ranges" in one.source
    assert ids(result) == {"fatigue"}


@pytest.mark.parametrize(
    ("edit", "detail", "cycles", "factor"),
    [
        (("factor = 1.35", "factor = 1"), PLAIN, CYCLES, 1.0),
        (('detail = "extruded"', 'detail = "machined"'), (90e6, 7.0), CYCLES, 1.35),
        (('detail = "extruded"', 'detail = "tube-weld"'), (25e6, 3.4), CYCLES, 1.35),
        (('detail = "extruded"', 'category = "52 MPa"\nslope = 4.5'), (52e6, 4.5), CYCLES, 1.35),
        (("days_at_sea = 300", "days_at_sea = 3000"), PLAIN, 10 * CYCLES, 1.35),
        (('time_per_day = "8 h"\n', ""), PLAIN, 3 * CYCLES, 1.35),
        (('"3 s"', '"6 s"'), PLAIN, CYCLES / 2, 1.35),
    ],
)
def test_what_the_file_says_is_read(
    edit: tuple[str, str], detail: tuple[float, float], cycles: float, factor: float
) -> None:
    text = LIFE + 'detail = "extruded"\nfactor = 1.35\n'
    assert edit[0] in text
    one = found(run(text.replace(*edit) + pushed(10.0), **tube(0.09, 0.003)), "fatigue")
    assert one.capacity == pytest.approx(allowed_range(detail, cycles, factor), rel=1e-8)


def test_the_boat_rolls_in_her_own_time() -> None:
    rolls = LIFE.replace('roll_period = "3 s"\n', "")
    plain = found(run(rolls + pushed(10.0), **tube(0.09, 0.003)), "fatigue")
    # no beam is given: 2.5 s stands in for small boats
    assert plain.capacity == pytest.approx(allowed_range(PLAIN, CYCLES * 3 / 2.5), rel=1e-8)
    text = rig_text(more=rolls + case_text("motion"))
    result = check(read_rig(text.replace("[boat]", '[boat]\nbeam = "2.4 m"')))
    said = next(n for n in result.cases[0].notes if n.startswith("roll "))
    period = told(r"in (\d\.\d) s with pitch", said)
    one = found(result, "fatigue")
    assert one.capacity == pytest.approx(allowed_range(PLAIN, CYCLES * 3 / period), rel=3e-3)
    assert abs(period - 2.5) > 0.1


def test_each_kind_of_case_is_a_life_or_is_none() -> None:
    """A swing goes both ways whatever the ratio; what happens once in a life is no roll."""
    cases = (
        case_text("motion", name="rolling")
        + case_text("bare", "beaufort = 9", name="storm")
        + case_text("knockdown", name="flat")
        + case_text("lift", 'lower_height = "0.5 m"', 'upper_height = "5 m"', name="slung")
        + pushed(10.0, name="pushed")
    )
    result = run(f"{LIFE}stress_ratio = 0.3\n{cases}", **tube(0.09, 0.003))
    swing = {c.case: c for c in result.checks if c.id == "fatigue"}
    stress = {c.case: c.demand for c in result.checks if c.id == "yield"}
    assert set(swing) == {"rolling", "pushed"}
    assert swing["rolling"].demand == pytest.approx(2 * stress["rolling"], rel=1e-12)
    assert swing["pushed"].demand == pytest.approx(0.7 * stress["pushed"], rel=1e-12)
    # the curve of utilisation along the mast does not count them either
    assert np.all(np.max(result.stations.utilisation, axis=1) <= result.governing.utilisation * (1 + 1e-12))
    rare = run(LIFE + case_text("knockdown"), **tube(0.09, 0.003))
    assert not ids(rare)
    assert any("no case here is one that every roll" in w for w in rare.warnings)


def test_a_limit_speaks_of_its_cases_only() -> None:
    demand = np.array([[[3.0]], [[9.0]]])
    limit = Limit(
        About(("x",), WHOLE, "It breaks.", (curve_range,), "", ()),
        "tube",
        demand,
        np.ones((1, 1)),
        "1",
        curve_range,
        lambda used, at: "",
        None,
        cases=np.array([True, False]),
    )
    assert [(c.case, c.demand) for c in limit.checks(("a", "b"), np.zeros((1, 1)))] == [("a", 3.0)]
    np.testing.assert_array_equal(limit.utilisation[:, 0, 0], [3.0, 0.0])


WELD_AT = '[[mast.weld]]\nheight = "2.5 m"\nextent = "30 mm"\n'


@pytest.mark.parametrize(
    ("more", "detail"),
    [
        ("", WELD),
        ('weld_detail = "butt-both-sides"\n', (45e6, 7.0)),
        ('weld_category = "30 MPa"\nweld_slope = 4\n', (30e6, 4.0)),
    ],
)
def test_beside_a_weld(more: str, detail: tuple[float, float]) -> None:
    D, t = 0.09, 0.003
    result = run(f"{LIFE}{more}{pushed(10.0)}", **tube(D, t), mast=WELD_AT)
    one = found(result, "fatigue weld")
    assert one.height_m == pytest.approx(2.47)
    assert one.demand == pytest.approx(2 * bending(10.0, D, t, 2.47), rel=1e-5)
    assert one.capacity == pytest.approx(allowed_range(detail), rel=1e-8)
    assert found(result, "fatigue").capacity == pytest.approx(allowed_range(PLAIN), rel=1e-8)
    at_partners = run(LIFE + pushed(10.0), **tube(D, t), mast=WELD_AT.replace("2.5 m", "1 m"))
    # there the weld takes the worst place; the plain wall begins beside it
    assert found(at_partners, "fatigue weld").height_m == BURY
    assert abs(found(at_partners, "fatigue").height_m - BURY) >= 0.03 - 1e-9


HOLE_AT = '[[mast.opening]]\nheight = "3 m"\nwidth = "12 mm"\n'


@pytest.mark.parametrize(
    ("more", "detail"),
    [
        ("", PLAIN),
        ('detail = "machined"\n', PLAIN),  # the edge of a hole is no better for a machined wall
        ('detail = "attachment-long"\n', WELD),
        ('category = "80 MPa"\nslope = 6\n', (80e6, 6.0)),
    ],
)
def test_at_a_hole(more: str, detail: tuple[float, float]) -> None:
    result = run(f"{LIFE}stress_ratio = 0\n{more}{pushed(10.0)}", **tube(0.09, 0.003), mast=HOLE_AT)
    one, peak = found(result, "fatigue opening 1"), found(result, "opening 1")
    assert one.demand == pytest.approx(peak.demand, rel=1e-12)
    assert one.height_m == peak.height_m
    assert one.capacity == pytest.approx(allowed_range(detail), rel=1e-8)


def test_a_hole_beside_a_weld_is_no_better_than_the_weld() -> None:
    near = run(LIFE + pushed(10.0), **tube(0.09, 0.003), mast=HOLE_AT + WELD_AT.replace("2.5 m", "3 m"))
    assert found(near, "fatigue opening 1").capacity == pytest.approx(allowed_range(WELD), rel=1e-8)


def test_without_a_life_there_is_no_check_and_a_warning() -> None:
    result = run(pushed(10.0), **tube(0.09, 0.003))
    assert not ids(result)
    assert any("Fatigue is not looked at: add a [fatigue] table" in w for w in result.warnings)
    with_life = run(LIFE + pushed(10.0), **tube(0.09, 0.003), mast=WELD_AT)
    said = [w for w in with_life.warnings if w.startswith("Fatigue")]
    assert "Fatigue is for 2.9e+06 rolls" in said[0]
    assert "extruded (71 MPa at two million cycles, slope 7), attachment-long (23 MPa" in said[1]
    typed = run(f'{LIFE}category = "60 MPa"\nslope = 5\n{pushed(10.0)}', **tube(0.09, 0.003))
    assert not any("from memory, low confidence" in w for w in typed.warnings)


def test_the_defaults_are_told() -> None:
    taken = {a.path: a.value for a in run(LIFE + pushed(10.0), **tube(0.09, 0.003)).assumptions}
    assert taken["fatigue.stress_ratio"] == "-1"
    assert taken["fatigue.factor"] == "1.35"
    assert taken["fatigue.detail"] == "extruded"
    assert "fatigue.time_per_day" not in taken


@pytest.mark.parametrize("force", [260.0, 400.0])
def test_a_wall_thickened_as_told_lasts(force: float) -> None:
    text = LIFE + pushed(force)
    one = found(run(text, **tube(0.09, 0.003)), "fatigue")
    assert one.utilisation > 1.2
    wall = told(r"raise the wall from 3\.0 to about (\S+) mm", one.advice)
    again = found(run(text, **tube(0.09, wall / 1e3)), "fatigue")
    assert again.utilisation == pytest.approx(1.0, abs=0.1)


def test_a_weld_moved_as_told_lasts() -> None:
    text = LIFE + pushed(150.0)
    one = found(run(text, **tube(0.09, 0.003), mast=WELD_AT), "fatigue weld")
    assert one.utilisation > 1.2
    share = told(r"at most (\d+)% of that here", one.advice) / 100
    # stress falls in proportion to the distance from the tip
    height = LENGTH - share * (LENGTH - one.height_m) + 0.03
    moved = WELD_AT.replace("2.5 m", f"{height!r} m")
    again = found(run(text, **tube(0.09, 0.003), mast=moved), "fatigue weld")
    assert again.utilisation == pytest.approx(1.0, abs=0.02)


def test_the_worst_case_alone_bounds_a_life_of_several() -> None:
    """Half the rolls as hard as the first case and half as the second do less than all as hard as the worse."""
    curve = Curve(71e6 / 1.35, 7.0)
    hard, easy = 160e6, 130e6
    both = sum(rayleigh_damage(curve, largest_Pa=s, cycles=CYCLES) / 2 for s in (hard, easy))
    assert both < rayleigh_damage(curve, largest_Pa=hard, cycles=CYCLES)


def test_few_rolls_are_no_spread() -> None:
    working = Working()
    with pytest.raises(ValueError, match="100 <= N"):
        working.use(rms_of_largest, S=1e6, N=50.0)


def test_steel_needs_its_own_category() -> None:
    steel = METAL.replace("69.5 GPa", "205 GPa").replace("26.1 GPa", "78 GPa")
    typed = LIFE + 'category = "160 MPa"\nslope = 3\n'
    one = found(run(typed + pushed(10.0), **tube(0.09, 0.003), metal=steel), "fatigue")
    assert one.capacity == pytest.approx(allowed_range((160e6, 3.0)), rel=1e-8)
    with pytest.raises(ValueError, match="named details are those of aluminium"):
        run(LIFE + pushed(10.0), **tube(0.09, 0.003), metal=steel)


def test_both_tacks_cost_more_than_one() -> None:
    one, both = (
        found(run(f"{LIFE}stress_ratio = {r}\n{pushed(40.0)}", **tube(0.09, 0.003)), "fatigue")
        for r in (0, -1)
    )
    assert both.utilisation == pytest.approx(2 * one.utilisation, rel=1e-9)
    assert replace(one, demand=one.capacity).passed


def test_a_life_given_to_wood_is_not_passed_over() -> None:
    text = rig_text(stations=((0.0, 0.15, 0.04), (LENGTH, 0.15, 0.04)), more=pushed(10.0))
    wood = read_rig(text.replace('material = "alloy"', 'material = "C24"', 1))
    assert not any("atigue" in w for w in check(wood).warnings)
    given = check(replace(wood, fatigue=Fatigue(days_at_sea=9.0)))
    assert not ids(given)
    assert any("The [fatigue] table is for metal, and nothing of this mast is" in w for w in given.warnings)
    worn = check(replace(wood, mast=replace(wood.mast, wall_loss_m=1e-3)))
    assert any("mast.wall_loss is for metal" in w for w in worn.warnings)
