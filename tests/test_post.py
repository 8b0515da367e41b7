"""The mast that turns on a fixed post: statics, the post's give, and what holds it."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given, settings

from rigcalc import CheckResult, check, read_rig
from rigcalc.limits import Check
from rigcalc.reports import screen

from .test_loads import BURY, E_PA, LENGTH, PROOF_PA, case_text, rig_text, some
from .test_turned_masts import TUBE, pushed

ABOVE = LENGTH - BURY


def on_post(case: str, sizes: str = 'diameter = "100 mm", wall = "6 mm"') -> CheckResult:
    return check(read_rig(rig_text(stations=TUBE, mast=f'support = "post"\npost = {{{sizes}}}', more=case)))


def second_moment(D: float, t: float) -> float:
    return math.pi / 64 * (D**4 - (D - 2 * t) ** 4)


POST_EI = E_PA * second_moment(0.100, 0.006)
MAST_EI = E_PA * second_moment(0.120, 0.004)


def of_post(result: CheckResult, id: str) -> Check:
    (found,) = (c for c in result.checks if c.id == id and c.layer == "post")
    return found


@settings(max_examples=20, deadline=None)
@given(side=some(-800, 800), forward=some(-800, 800))
def test_moments_of_mast_and_post_are_those_of_the_load(side: float, forward: float) -> None:
    """M_mast + M_post = M_t + V (t - z) at every height of the post."""
    result = on_post(pushed(side, forward))
    stations, (post,) = result.stations, result.post
    for push, moments, top in (
        (side, stations.moment_side_N_m[0], post.top_side_N),
        (forward, stations.moment_forward_N_m[0], post.top_forward_N),
    ):
        for z, of_mast in zip(stations.height_m, moments, strict=True):
            if z < BURY:
                together = of_mast + top * (BURY - z)
                assert together == pytest.approx(push * (LENGTH - z), abs=1e-9 * (abs(push) + 1) * LENGTH)
    assert post.foot_moment_N_m == pytest.approx(math.hypot(side, forward) * LENGTH, rel=1e-9, abs=1e-9)


def test_the_post_gives_way_under_the_mast() -> None:
    """Tip of an overhanging beam whose upper support sinks by R t^3/(3 EI) of the post."""
    push = 1e-3
    result = on_post(pushed(push))
    upper = push * LENGTH / BURY
    sinks = upper * BURY**3 / (3 * POST_EI)
    firm = push * ABOVE**2 * (ABOVE + BURY) / (3 * MAST_EI)
    assert result.cases[0].tip_deflection_m == pytest.approx(firm + sinks * LENGTH / BURY, rel=1e-9)
    (post,) = result.post
    assert post.top_deflection_m == pytest.approx(sinks, rel=1e-9)
    assert post.top_slope_rad == pytest.approx(upper * BURY**2 / (2 * POST_EI), rel=1e-9)
    assert (post.socket_top_force_N, post.socket_foot_force_N) == (None, None)


@pytest.mark.parametrize("depth", [0.2, 0.45, 2.0])
def test_a_socket_is_a_third_support(depth: float) -> None:
    """Deflection of an overhanging beam, a2 (a + s)/(3 EI); forces by moments about its ends."""
    push = 1e-3
    result = on_post(pushed(push), f'diameter = "100 mm", wall = "6 mm", socket = "{depth} m"')
    (post,) = result.post
    upper = push * LENGTH / BURY
    assert post.top_deflection_m == pytest.approx(upper * BURY**2 * (BURY + depth) / (3 * POST_EI), rel=1e-9)
    assert post.top_slope_rad == pytest.approx(
        upper * BURY * (2 * depth + 3 * BURY) / (6 * POST_EI), rel=1e-9
    )
    assert post.socket_top_force_N is not None
    assert post.socket_foot_force_N is not None
    # the load's own side force, and its moment about the deck, come out at the socket and the lower bearing
    assert post.socket_foot_force_N * depth == pytest.approx(push * LENGTH, rel=1e-9)
    assert post.socket_top_force_N - post.socket_foot_force_N == pytest.approx(upper, rel=1e-9)


def test_the_post_yields_by_hand() -> None:
    push = 500.0
    result = on_post(pushed(push))
    bent = result.cases[0].bent_moment_N_m
    assert bent is not None
    stress = push * LENGTH * 0.05 / second_moment(0.100, 0.006)
    found = of_post(result, "yield")
    # by the force of the bent mast, within what its bending changes
    assert found.demand == pytest.approx(stress, rel=0.02)
    assert found.capacity == pytest.approx(PROOF_PA / 1.10)
    assert found.height_m == pytest.approx(0.0, abs=1e-12)


def test_a_short_socket_shears_the_post() -> None:
    """Below the deck the shear is t/s times that above: a short socket is felt there."""
    sizes = 'diameter = "100 mm", wall = "6 mm", socket = "{} m"'
    shallow, deep = (of_post(on_post(pushed(900.0), sizes.format(s)), "yield") for s in (0.05, 0.9))
    assert shallow.demand > 1.5 * deep.demand
    assert shallow.height_m < 0.0


def test_a_tapered_post_gives_way_more() -> None:
    straight, tapered = (
        on_post(pushed(300.0), sizes).post[0].top_deflection_m
        for sizes in (
            'diameter = "100 mm", wall = "6 mm"',
            'diameter = "100 mm", top_diameter = "70 mm", wall = "6 mm"',
        )
    )
    assert tapered > 1.1 * straight


def test_a_very_stout_post_is_a_step_and_partners() -> None:
    case = pushed(400.0, 100.0)
    solid = on_post(case, 'diameter = "110 mm", wall = "20 mm", material = "hard"'.replace("hard", "alloy"))
    firm = check(read_rig(rig_text(stations=TUBE, more=case)))
    for name in ("partners_side_N", "step_side_N", "partners_forward_N", "partners_moment_N_m"):
        assert getattr(solid.cases[0], name) == pytest.approx(getattr(firm.cases[0], name), rel=1e-12)
    assert (
        firm.cases[0].tip_deflection_m
        < solid.cases[0].tip_deflection_m
        < 1.6 * firm.cases[0].tip_deflection_m
    )
    assert firm.post == ()
    assert solid.mast.natural_frequencies_Hz[0] < firm.mast.natural_frequencies_Hz[0]
    assert solid.mast.axial_stability_N < firm.mast.axial_stability_N


def test_weight_on_the_top_presses_the_post() -> None:
    case = pushed(300.0, 0.0, 'axial = "1 kN"')
    foot, top = (
        of_post(on_post(case, f'diameter = "100 mm", wall = "6 mm", thrust_on = "{where}"'), "yield").demand
        for where in ("foot", "top")
    )
    area = math.pi / 4 * (0.1**2 - 0.088**2)
    # the post leans out under it: a little more than the direct stress
    assert 1000 / area < top - foot < 1.5 * 1000 / area


def test_slung_it_does_not_load_the_post() -> None:
    slung = case_text("lift", 'lower_height = "0.5 m"', 'upper_height = "5 m"', name="slung")
    result = on_post(pushed(100.0) + slung)
    assert [p.case for p in result.post] == ["case"]
    assert {c.case for c in result.checks if c.layer == "post"} == {"case"}
    assert on_post(slung).post == ()


def test_the_answer_tells_of_the_post() -> None:
    text = screen(on_post(pushed(100.0), 'diameter = "100 mm", wall = "6 mm", socket = "0.5 m"'))
    told = " ".join(text.split())
    assert re.search(
        r"Post: up to 71[0-9] N \(160 lbf\) on its top, in 'case'; moment at the foot 820 N m", told
    )
    assert "at the top of its socket and 1640 N (369 lbf) at its bottom" in told
    assert "clamped at its foot" in " ".join(screen(on_post(pushed(100.0))).split())
