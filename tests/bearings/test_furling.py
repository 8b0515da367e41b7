"""Turning the mast to roll the sail: roll, drum, line, twist and wind, against closed forms and sums by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc.bearings import (
    HAND_PULLS,
    Drum,
    FurlingWind,
    Tackle,
    furling_wind,
    held_line_pull,
    roll_up,
    turning_torque,
    twist_below,
)
from rigcalc.bearings.gear import Drawn, Effort
from rigcalc.formulas import FormulaRangeError, Working
from rigcalc.formulas.furling import (
    allowed_line_pull,
    capstan_pull,
    cloth_let_out,
    end_torque_twist,
    even_torque_twist,
    flogging_cloth_tension,
    rolled_length,
    sheaves_pull,
    sheeted_cloth_tension,
    stepped_rolled_length,
)
from rigcalc.formulas.sails import roll_diameter, roll_turns

DRUM = Drum(diameter_m=0.18, width_m=0.05, line_m=0.006)


# ---------------------------------------------------------------- the roll


@given(D_0=st.floats(0.02, 0.3), L=st.floats(0.01, 10.0), t=st.floats(2e-4, 5e-3))
def test_length_turns_and_diameter_of_a_roll_agree(D_0: float, L: float, t: float) -> None:
    n = float(roll_turns(D_0=D_0, L=L, t=t))
    assert rolled_length(D_0=D_0, n=n, t=t) == pytest.approx(L, rel=1e-9)
    assert roll_diameter(D_0=D_0, L=L, t=t) == pytest.approx(D_0 + 2 * n * t, rel=1e-9)


def test_turn_by_turn_is_a_turn_of_thickness_shorter() -> None:
    circles = sum(math.pi * (0.1 + 2 * k * 1e-3) for k in range(7))
    assert stepped_rolled_length(D_0=0.1, n=7, t=1e-3) == pytest.approx(circles, rel=1e-12)
    spiral = rolled_length(D_0=0.1, n=7, t=1e-3)
    assert spiral - circles == pytest.approx(math.pi * 7 * 1e-3, rel=1e-9)


def test_roll_of_a_triangle_on_a_tapered_mast() -> None:
    core = np.linspace(0.1, 0.06, 21)
    cloth = np.linspace(3.0, 0.0, 21)
    roll = roll_up(core_m=core, cloth_m=cloth, thickness_m=1e-3, working=Working())
    # worked by hand at the foot: (sqrt(0.01 + 4 x 0.001 x 3/pi) - 0.1)/0.002
    assert roll.turns == pytest.approx(8.779, abs=5e-4)
    assert roll.turns == roll.turns_m[0]
    assert roll.outside_m[0] == pytest.approx(0.11756, abs=5e-6)
    assert roll.outside_m[-1] == pytest.approx(0.06)
    # a turn takes in pi of the taper less at the head
    assert roll.outstripped_m[-1] == pytest.approx(math.pi * 8.779 * 0.04, rel=1e-4)
    assert roll.outstripped_m[0] == 0.0


def test_an_even_mast_rolls_a_sail_evenly() -> None:
    roll = roll_up(core_m=[0.08, 0.08], cloth_m=[2.0, 1.0], thickness_m=1e-3, working=Working())
    np.testing.assert_allclose(roll.outstripped_m, 0.0, atol=1e-12)


# ---------------------------------------------------------------- drum


def test_drum_by_hand() -> None:
    working = Working()
    # 0.85 x 50/6 = 7.08 turns lie beside each other
    assert DRUM.turns_in_layer(working) == 7
    assert DRUM.layers(7.0, working) == 1
    assert DRUM.layers(7.01, working) == 2
    assert DRUM.layers(0.0, working) == 0
    np.testing.assert_allclose(
        DRUM.lever_m([0.0, 0.5, 7.0, 7.5, 14.5], working), [0.186, 0.186, 0.186, 0.198, 0.210], rtol=1e-12
    )
    by_hand = math.pi * (7 * 0.186 + 2.5 * 0.198)
    assert DRUM.line_length_m(9.5, working) == pytest.approx(by_hand, rel=1e-12)
    assert DRUM.line_length_m(0.0, working) == 0.0


@given(turns=st.floats(0.0, 60.0), more=st.floats(1e-3, 5.0))
def test_line_grows_by_the_lever_of_its_turn(turns: float, more: float) -> None:
    working = Working()
    gained = DRUM.line_length_m(turns + more, working) - DRUM.line_length_m(turns, working)
    low, high = DRUM.lever_m([turns, turns + more], working)
    assert math.pi * low * more * (1 - 1e-9) <= gained <= math.pi * high * more * (1 + 1e-9)


def test_a_line_as_wide_as_its_drum_lies_in_layers_of_one() -> None:
    narrow = Drum(diameter_m=0.1, width_m=0.008, line_m=0.008, packing=1.0)
    assert narrow.turns_in_layer(Working()) == 1
    with pytest.raises(ValueError, match="wider than the drum"):
        Drum(diameter_m=0.1, width_m=0.005, line_m=0.008).turns_in_layer(Working())
    with pytest.raises(ValueError, match="no fewer turns"):
        DRUM.lever_m(-1.0, Working())


# ---------------------------------------------------------------- line


def test_tackle_by_hand() -> None:
    working = Working()
    bare = Tackle(parts=1, blocks=0, sheave_loss=0.09)
    assert bare.hand_pull_N(100.0, working) == pytest.approx(100.0, rel=1e-14)
    led = Tackle(parts=1, blocks=2, sheave_loss=0.09, fairlead_rad=math.pi / 2, fairlead_friction=0.25)
    assert led.hand_pull_N(100.0, working) == pytest.approx(100 * 1.09**2 * math.exp(math.pi / 8), rel=1e-12)
    two = Tackle(parts=2, blocks=0, sheave_loss=0.09)
    assert two.hand_pull_N(100.0, working) == pytest.approx(50 * 1.18, rel=1e-12)


@given(
    parts=st.integers(1, 6),
    blocks=st.integers(0, 5),
    loss=st.floats(0.0, 0.3),
    angle=st.floats(0.0, 6.0),
    pull=st.floats(1.0, 1e4),
)
def test_hand_and_line_are_one_the_others_inverse(
    parts: int, blocks: int, loss: float, angle: float, pull: float
) -> None:
    working = Working()
    tackle = Tackle(parts=parts, blocks=blocks, sheave_loss=loss, fairlead_rad=angle)
    hand = float(tackle.hand_pull_N(pull, working))
    assert tackle.line_pull_N(hand, working) == pytest.approx(pull, rel=1e-12)
    # friction never helps
    assert hand >= pull / parts * (1 - 1e-12)


@given(mu=st.floats(0.0, 0.6), theta=st.floats(0.0, 12.0), first=st.floats(0.0, 1.0))
def test_a_wrap_is_the_product_of_its_parts(mu: float, theta: float, first: float) -> None:
    part = capstan_pull(F=80.0, mu=mu, theta=theta * first)
    assert capstan_pull(F=part, mu=mu, theta=theta * (1 - first)) == pytest.approx(
        capstan_pull(F=80.0, mu=mu, theta=theta), rel=1e-12
    )


def test_blocks_one_after_the_other() -> None:
    assert sheaves_pull(F=100.0, x=0.1, S=0) == 100.0
    assert sheaves_pull(F=100.0, x=0.1, S=2) == pytest.approx(121.0)


def test_thin_factor_on_a_line_is_warned_of_and_none_refused() -> None:
    working = Working()
    assert working.use(allowed_line_pull, B=12e3, factor=5.0) == 2400.0
    assert not working.warnings
    working.use(allowed_line_pull, B=12e3, factor=2.0)
    assert any("knots" in warning for warning in working.warnings)
    with pytest.raises(FormulaRangeError):
        working.use(allowed_line_pull, B=12e3, factor=0.5)


def test_hands_are_named_from_the_weakest() -> None:
    pulls = [hand.pull_N for hand in HAND_PULLS]
    assert pulls == sorted(pulls)
    assert pulls[0] == 110.0
    assert max(pulls) < 400.0
    assert all("read" in hand.source for hand in HAND_PULLS)


# ---------------------------------------------------------------- torque and twist


def test_torque_adds_cloth_and_both_frictions() -> None:
    turned = turning_torque(10.0, (1.0, 4.0), (0.5, 2.0), (0.1, 0.3))
    assert turned.total_N_m == pytest.approx((11.6, 16.3))
    low, high = turned.line_pull_N(0.2, Working())
    assert (low, high) == pytest.approx((116.0, 163.0))
    assert turning_torque(10.0).total_N_m == (10.0, 10.0)
    with pytest.raises(ValueError, match="makes no sense"):
        turning_torque(10.0, (4.0, 1.0))


def test_friction_helps_to_hold() -> None:
    assert held_line_pull(turning_torque(10.0, (1.0, 4.0)), 0.2, Working()) == pytest.approx(90.0)
    assert held_line_pull(turning_torque(0.5, (1.0, 4.0)), 0.2, Working()) == 0.0


def test_even_pull_on_an_even_roll_twists_as_a_bar() -> None:
    z = np.linspace(1.0, 6.0, 7)
    found = twist_below(z, tension_N_m=200.0, outside_m=0.12, GJ_N_m2=9000.0, working=Working())
    total = 200.0 * 0.06 * 5.0
    assert found.torque_N_m[0] == pytest.approx(total, rel=1e-12)
    assert found.torque_N_m[-1] == 0.0
    top = float(even_torque_twist(T=total, L=5.0, GJ=9000.0))
    assert found.twist_rad[-1] == pytest.approx(top, rel=1e-12)
    assert found.twist_rad[0] == 0.0
    assert found.let_out_m[-1] == pytest.approx(cloth_let_out(theta=top, D=0.12), rel=1e-12)
    # half of what the same torque at the end would do
    assert top == pytest.approx(float(end_torque_twist(T=total, L=5.0, GJ=9000.0)) / 2)


def test_twist_of_a_taper_by_fine_steps() -> None:
    """Pull, roll and stiffness straight between few heights, against the midpoint rule over many thin slices."""
    z = np.array([0.5, 2.0, 4.5, 6.0])
    pull, roll = np.array([300.0, 250.0, 90.0, 0.0]), np.array([0.14, 0.13, 0.1, 0.08])
    GJ = 1 / np.array([1 / 20e3, 1 / 15e3, 1 / 6e3, 1 / 2e3])
    found = twist_below(z, tension_N_m=pull, outside_m=roll, GJ_N_m2=GJ, working=Working())
    edges = np.linspace(0.5, 6.0, 55001)
    middle, step = (edges[1:] + edges[:-1]) / 2, edges[1] - edges[0]
    per_m = np.interp(middle, z, pull * roll / 2)
    above = np.cumsum((per_m * step)[::-1])[::-1] - per_m * step / 2
    assert found.torque_N_m[0] == pytest.approx(np.sum(per_m) * step, rel=1e-7)
    assert found.twist_rad[-1] == pytest.approx(np.sum(above * np.interp(middle, z, 1 / GJ)) * step, rel=1e-7)


def test_heights_must_grow() -> None:
    with pytest.raises(ValueError, match="heights"):
        twist_below([1.0, 1.0], tension_N_m=1.0, outside_m=0.1, GJ_N_m2=1.0, working=Working())


def test_a_filled_sail_pulls_more_than_a_flogging_one() -> None:
    p, l = 100.0, 2.0
    filled = sheeted_cloth_tension(p=p, l=l, f=0.1 * l)
    assert filled == pytest.approx(1.25 * p * l)
    # the arc of a circle with that chord and camber, its pull p times the radius
    radius = (l**2 / 4 + (0.1 * l) ** 2) / (2 * 0.1 * l)
    assert filled == pytest.approx(p * radius, rel=0.05)
    assert flogging_cloth_tension(p=p, l=l, C_f=0.2) < filled


# ---------------------------------------------------------------- wind


@given(calm=st.floats(0.0, 100.0), grows=st.floats(0.05, 50.0))
def test_wind_is_where_the_pull_reaches_the_hand(calm: float, grows: float) -> None:
    found = furling_wind(lambda v: calm + grows * v**2, hand_N=110.0, strongest_m_s=40.0)
    expected = math.sqrt((110.0 - calm) / grows)
    if expected > 40.0:
        assert found.answer == "always"
        assert found.speed_m_s is None
    else:
        assert found.answer == "up to"
        assert found.speed_m_s == pytest.approx(expected, rel=1e-6)


def test_too_much_in_a_calm_is_never() -> None:
    found = furling_wind(lambda v: 111.0 + v, hand_N=110.0)
    assert found == FurlingWind(answer="never", speed_m_s=None, strongest_m_s=30.0)


def test_first_wind_that_is_too_much_counts() -> None:
    # past a hump it would be light again: the hand meets the hump first
    found = furling_wind(
        lambda v: 200.0 * np.exp(-(((v - 8.0) / 2.0) ** 2)), hand_N=110.0, strongest_m_s=20.0
    )
    assert found.speed_m_s == pytest.approx(8.0 - 2.0 * math.sqrt(math.log(200 / 110)), abs=1e-6)


def test_what_has_no_value_is_no_answer() -> None:
    with pytest.raises(ArithmeticError, match=r"no value in a wind of 0\.5"):
        furling_wind(lambda v: np.where(np.asarray(v) == 0, 1.0, math.nan), hand_N=110.0)
    with pytest.raises(ValueError, match="hand and a wind"):
        furling_wind(lambda v: v, hand_N=0.0)


@settings(max_examples=20, deadline=None)
@given(scale=st.floats(0.2, 5.0))
def test_a_stronger_hand_furls_in_more_wind(scale: float) -> None:
    def pull(v: float) -> float:
        return 20.0 + scale * v**2

    one, two = (furling_wind(pull, hand_N=h, strongest_m_s=60.0).speed_m_s for h in (110.0, 225.0))
    assert one is not None
    assert two is not None
    assert one < two


@given(
    down=st.floats(-500.0, 2000.0),
    calm=st.floats(0.0, 500.0),
    friction=st.floats(0.0, 3.0),
    wind=st.floats(0.0, 30.0),
)
def test_the_torque_of_many_winds_is_that_of_each(
    down: float, calm: float, friction: float, wind: float
) -> None:
    """A sail that lifts the mast off its step leaves nothing to rub there."""
    drawn = Drawn(
        cloth_N_m=20.0,
        partners_N=900.0,
        step_N=700.0,
        partners_rad=0.01,
        step_rad=0.01,
        down_N=down,
        calm_down_N=calm,
    )
    felt = Effort(
        cloth_N_m=20.0,
        partners_N_m=6.0,
        step_N_m=4.0,
        thrust=lambda force: 0.04 * friction * force,
        drawn=drawn,
    )
    told, found = felt.torque_N_m(wind), felt.by_wind()
    assert found(wind) == pytest.approx(told, rel=1e-12, abs=1e-12)
    np.testing.assert_allclose(
        found(np.array([0.0, wind])), [felt.torque_N_m(0.0), told], rtol=1e-12, atol=1e-12
    )
