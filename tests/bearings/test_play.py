"""The play to machine: hand-worked growth, the laws of a bush that is held or not, and what a window promises."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc.bearings import Bush, PlayWindow, Weather, play_window
from rigcalc.bearings.play import Held
from rigcalc.formulas import Working
from rigcalc.formulas.bearings import bonded_thickening, gripped_bore_loss, pressed_bore_loss, thermal_growth

WEATHERS = (
    Weather(name="hot and wet", warmer_K=40.0, soaked=1.0),
    Weather(name="hot and dry", warmer_K=40.0, soaked=0.0),
    Weather(name="cold and wet", warmer_K=-30.0, soaked=1.0),
    Weather(name="cold and dry", warmer_K=-30.0, soaked=0.0),
)


def bush(
    held: Held,
    misfit_m: float = 0.0,
    *,
    expansion: tuple[float, float] = (84.6e-6, 109e-6),
    swelling: float = 0.0,
    nu: float = 0.363,
    diameter_m: float = 0.1,
    wall_m: float = 8e-3,
) -> Bush:
    return Bush(
        diameter_m=diameter_m,
        wall_m=wall_m,
        expansion_per_K=expansion,
        swelling=swelling,
        nu=nu,
        held=held,
        misfit_m=misfit_m,
    )


def window(
    of: Bush,
    weathers: tuple[Weather, ...] = WEATHERS,
    *,
    mast: float = 23e-6,
    mast_swelling: float = 0.0,
    housing: float = 20e-6,
    least_m: float = 1e-4,
    most_m: float = 1e-3,
    out_of_round_m: float = 0.0,
) -> PlayWindow:
    return play_window(
        of,
        mast_expansion_per_K=mast,
        mast_swelling=mast_swelling,
        housing_expansion_per_K=housing,
        weathers=weathers,
        least_play_m=least_m,
        most_play_m=most_m,
        out_of_round_m=out_of_round_m,
        working=Working(),
    )


def test_what_cannot_grow_outwards_grows_inwards() -> None:
    """8 mm of nylon that swells by 2 %, nothing else moving: the bore loses twice the wall's growth, 0.32 mm."""
    nylon = bush("glued", swelling=0.02, expansion=(0.0, 0.0), nu=0.0, diameter_m=0.05)
    wet = window(nylon, (Weather(name="wet", warmer_K=0.0, soaked=1.0),), mast=0.0, housing=0.0)
    assert wet.plays[0].least_change_m == pytest.approx(-0.32e-3, rel=1e-12)
    # a wall held round and along grows more: nu 0.39 by hand
    thick = bush("glued", swelling=0.02, expansion=(0.0, 0.0), nu=0.39, diameter_m=0.05)
    wet = window(thick, (Weather(name="wet", warmer_K=0.0, soaked=1.0),), mast=0.0, housing=0.0)
    assert wet.plays[0].least_change_m == pytest.approx(-0.32e-3 * (1 + 2 * 0.39 / 0.61), rel=1e-12)


def test_a_loose_bush_carries_its_bore_with_it() -> None:
    hot, cold = (
        window(bush("loose", -1e-2, expansion=(1e-4, 1e-4)), (Weather(name="w", warmer_K=K, soaked=0.0),))
        for K in (40.0, -30.0)
    )
    assert hot.plays[0].least_change_m == pytest.approx(0.1 * (1e-4 - 23e-6) * 40, rel=1e-12)
    assert cold.plays[0].least_change_m == pytest.approx(-0.1 * (1e-4 - 23e-6) * 30, rel=1e-12)


def test_a_loose_bush_that_fills_its_hole_is_held_from_there() -> None:
    w = (Weather(name="hot", warmer_K=40.0, soaked=0.0),)
    grows = 0.116 * (1e-4 - 20e-6) * 40
    loose, filling, tight = (
        window(bush("loose", -misfit, expansion=(1e-4, 1e-4)), w).plays[0].least_change_m
        for misfit in (grows, grows / 2, 0.0)
    )
    assert loose == pytest.approx(0.1 * (1e-4 - 23e-6) * 40, rel=1e-9)
    assert filling == pytest.approx((loose + tight) / 2, rel=1e-9)
    pressed = window(bush("pressed", expansion=(1e-4, 1e-4)), w).plays[0].least_change_m
    assert tight == pytest.approx(pressed, rel=1e-12)


def test_a_tight_bush_in_the_cold_is_glued_until_it_comes_loose() -> None:
    w = (Weather(name="cold", warmer_K=-30.0, soaked=0.0),)
    shrinks = 0.116 * (1e-4 - 20e-6) * 30
    one = (1e-4, 1e-4)
    tight = window(bush("pressed", 2 * shrinks, expansion=one), w).plays[0]
    # fitted tight it follows its housing, gone slack it shrinks on to the mast: both are looked at
    free = -0.1 * (1e-4 - 23e-6) * 30
    assert tight.least_change_m == pytest.approx(free, rel=1e-9)
    assert tight.most_change_m == pytest.approx(
        free + gripped_bore_loss(x=shrinks, D=0.1, t=8e-3, kappa=0.363), rel=1e-9
    )


def test_a_like_bush_in_a_like_boat_keeps_its_play() -> None:
    for held in ("glued", "pressed", "loose"):
        like = window(bush(held, expansion=(2e-5, 2e-5)), mast=2e-5, housing=2e-5)
        for play in like.plays:
            # but for the play itself, which grows with the rest
            assert play.least_change_m == pytest.approx(0.0, abs=1e-12)
            assert play.most_change_m == pytest.approx(0.0, abs=1e-12)


def test_a_mast_that_swells_takes_the_play() -> None:
    dry, wet = window(bush("glued")), window(bush("glued"), mast_swelling=0.01)
    assert wet.least_m == pytest.approx(dry.least_m + 0.1 * 0.01, rel=1e-9)
    assert wet.most_m == pytest.approx(dry.most_m, rel=1e-9)


def test_soaking_nylon_leaves_no_play_that_does() -> None:
    nylon = window(bush("pressed", 1e-4, expansion=(81e-6, 82e-6), swelling=0.035, nu=0.39), most_m=8e-4)
    assert not nylon.possible
    assert nylon.tightest == "hot and wet"
    acetal = window(bush("pressed", 1e-4, swelling=0.003), most_m=8e-4)
    assert acetal.possible


def test_out_of_round_and_pressing_in_are_told() -> None:
    plain, oval = window(bush("pressed", 2e-4)), window(bush("pressed", 2e-4), out_of_round_m=3e-4)
    assert oval.least_m - plain.least_m == pytest.approx(3e-4, rel=1e-9)
    assert oval.most_m == plain.most_m
    assert plain.before_fitting_m == pressed_bore_loss(i=2e-4, share=1.0) == 2e-4
    assert window(bush("glued")).before_fitting_m == 0.0


@settings(max_examples=60, deadline=None)
@given(
    held=st.sampled_from(["glued", "pressed", "loose"]),
    low=st.floats(15e-6, 100e-6),
    more=st.floats(0.0, 1e-4),
    swelling=st.floats(0.0, 0.03),
    nu=st.floats(0.0, 0.46),
    wall_m=st.floats(1e-3, 2e-2),
    misfit=st.floats(0.0, 3e-4),
)
def test_what_was_machined_by_the_window_turns_in_all_weathers(
    held: Held, low: float, more: float, swelling: float, nu: float, wall_m: float, misfit: float
) -> None:
    sign = {"glued": 0.0, "pressed": 1.0, "loose": -1.0}[held]
    found = window(
        bush(held, sign * misfit, expansion=(low, low + more), swelling=swelling, nu=nu, wall_m=wall_m),
        least_m=1e-4,
        most_m=8e-4,
        out_of_round_m=5e-5,
    )
    least, _ = found.play_m(found.least_m)
    _, most = found.play_m(found.most_m)
    assert least == pytest.approx(1.5e-4, rel=1e-9)
    assert most == pytest.approx(8e-4, rel=1e-9)
    assert {found.tightest, found.loosest} <= {w.name for w in WEATHERS}
    assert all(play.least_change_m <= play.most_change_m for play in found.plays)
    assert found.possible == (found.least_m <= found.most_m)


def test_growth_is_its_coefficient_times_the_warmth() -> None:
    assert thermal_growth(alpha=1e-4, dT=-30.0) == pytest.approx(-3e-3)
    # a layer that keeps its volume gives inwards all that it is held in round and along
    assert bonded_thickening(nu=0.5) == 2.0
    assert bonded_thickening(nu=0.0) == 0.0


def test_nonsense_is_refused() -> None:
    for nonsense in (bush("loose", 1e-4), bush("pressed", -1e-4)):
        with pytest.raises(ValueError, match="not wider than its hole"):
            window(nonsense)
    with pytest.raises(ValueError, match="no weather"):
        window(bush("glued"), ())
