"""Post, socket, thrust, bolts and pads: equilibrium, whatever the numbers."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcalc.bearings import bolt_forces
from rigcalc.formulas.beams import partners_force, step_force
from rigcalc.formulas.bearings import (
    bush_length_for_pv,
    creep_pressure,
    creep_sinking,
    pressure_times_speed,
    projected_pressure,
    sliding_speed,
    wear_in_turning,
    wear_life,
)
from rigcalc.formulas.hull_loads import (
    bolt_circle_shear,
    bolt_circle_tension,
    bolt_couple_shear,
    bolt_direct_shear,
    bolt_shear_stress,
    hole_bearing_stress,
    lifted_pad_pressure,
    mast_overlap_moment,
    pad_edge_pressure,
    post_deflection,
    post_moment,
    post_slope,
    socket_bottom_force,
    socket_bottom_load,
    socket_top_load,
    upper_bearing_force,
)
from rigcalc.formulas.thrust import (
    cone_friction_torque,
    cone_side_force,
    even_pressure_arm,
    even_thrust_pressure,
    even_wear_arm,
    face_friction_torque,
    hold_down_force,
    step_thrust,
    worn_thrust_pressure,
)

forces = st.floats(-1e4, 1e4)
lengths = st.floats(0.05, 3.0)


# ---------------------------------------------------------------- post and socket


@given(V=forces, M_t=st.floats(-5e4, 5e4), b=lengths, share=st.floats(0.0, 1.0))
def test_mast_and_post_together_bear_the_moment_of_the_loads(
    V: float, M_t: float, b: float, share: float
) -> None:
    z = share * b
    mast = mast_overlap_moment(M_t=M_t, z=z, b=b)
    post = post_moment(R_u=upper_bearing_force(V=V, M_t=M_t, b=b), z=z, b=b)
    assert mast + post == pytest.approx(M_t + V * (b - z), rel=1e-9, abs=1e-6)


@given(F=forces, h=lengths, b=lengths)
def test_upper_bearing_is_the_partners_of_the_same_bury(F: float, h: float, b: float) -> None:
    upper = upper_bearing_force(V=F, M_t=F * h, b=b)
    assert upper == pytest.approx(partners_force(F=F, h=h, b=b), rel=1e-9, abs=1e-9)
    assert upper - step_force(M_p=F * h, b=b) == pytest.approx(F, rel=1e-9, abs=1e-6)


def test_post_bends_as_its_moment_says() -> None:
    R, b, EI = 4000.0, 0.9, 60e3
    z = np.linspace(0.0, b, 20001)
    turn = np.trapezoid(post_moment(R_u=R, z=z, b=b) / EI, z)
    lean = np.trapezoid(post_moment(R_u=R, z=z, b=b) / EI * (b - z), z)
    assert post_slope(R_u=R, b=b, EI=EI) == pytest.approx(turn, rel=1e-7)
    assert post_deflection(R_u=R, b=b, EI=EI) == pytest.approx(lean, rel=1e-7)


@given(V=forces, M=st.floats(-5e3, 5e3), d=lengths)
def test_snug_socket_gives_back_force_and_moment(V: float, M: float, d: float) -> None:
    top, bottom = float(socket_top_load(V=V, M=M, d=d)), float(socket_bottom_load(V=V, M=M, d=d))
    # linear from top to -bottom over the depth
    scale = abs(top) * d + abs(bottom) * d + 1e-9
    assert (top - bottom) * d / 2 == pytest.approx(V, abs=1e-9 * scale)
    assert d**2 * (-top / 6 + bottom / 3) == pytest.approx(M, abs=1e-9 * scale * d)


def test_socket_by_hand() -> None:
    # worked by hand: 1000 N and 3000 N m over 0.4 m
    assert socket_top_load(V=1000.0, M=3000.0, d=0.4) == pytest.approx(122.5e3)
    assert socket_bottom_load(V=1000.0, M=3000.0, d=0.4) == pytest.approx(117.5e3)
    assert socket_bottom_force(M=3000.0, d=0.4) == pytest.approx(7500.0)


# ---------------------------------------------------------------- thrust


@given(R_2=st.floats(0.01, 0.3), share=st.floats(0.0, 0.98), alpha=st.floats(0.2, math.pi / 2))
def test_even_pressure_turns_harder_than_even_wear(R_2: float, share: float, alpha: float) -> None:
    new, worn = even_pressure_arm(R_2=R_2, R_1=share * R_2), even_wear_arm(R_2=R_2, R_1=share * R_2)
    assert share * R_2 <= worn <= new <= R_2
    assert cone_friction_torque(mu=0.2, N=500.0, R_m=new, alpha=alpha) >= face_friction_torque(
        mu=0.2, N=500.0, R_m=new
    ) * (1 - 1e-12)


def test_faces_at_their_limits() -> None:
    assert even_pressure_arm(R_2=0.06, R_1=0.0) == pytest.approx(0.04)
    assert even_wear_arm(R_2=0.06, R_1=0.0) == pytest.approx(0.03)
    for arm in (even_pressure_arm, even_wear_arm):
        assert arm(R_2=1.0, R_1=1.0 - 1e-6) == pytest.approx(1.0, abs=1e-6)
    flat = cone_friction_torque(mu=0.2, N=500.0, R_m=0.03, alpha=math.pi / 2)
    assert flat == pytest.approx(face_friction_torque(mu=0.2, N=500.0, R_m=0.03))


def test_friction_arms_are_those_of_their_pressures() -> None:
    """Friction summed ring by ring over the face: even pressure, and pressure that falls as 1/r."""
    r = np.linspace(0.02, 0.05, 200001)
    new = float(even_thrust_pressure(N=1.0, R_2=0.05, R_1=0.02))
    assert np.trapezoid(new * 2 * np.pi * r, r) == pytest.approx(1.0, rel=1e-9)
    assert even_pressure_arm(R_2=0.05, R_1=0.02) == pytest.approx(
        np.trapezoid(new * 2 * np.pi * r**2, r), rel=1e-8
    )
    worn = float(worn_thrust_pressure(N=1.0, R_2=0.05, R_1=0.02)) * 0.02 / r
    assert np.trapezoid(worn * 2 * np.pi * r, r) == pytest.approx(1.0, rel=1e-8)
    assert even_wear_arm(R_2=0.05, R_1=0.02) == pytest.approx(
        np.trapezoid(worn * 2 * np.pi * r**2, r), rel=1e-8
    )


def test_a_cone_holds_the_side_force_of_its_slope() -> None:
    # one side touches: its push is square to the flank, so side over down force is the flank's own slope
    assert cone_side_force(N=500.0, alpha=math.radians(45)) == pytest.approx(500.0)
    assert cone_side_force(N=500.0, alpha=math.radians(30)) == pytest.approx(500.0 * math.sqrt(3))
    assert cone_side_force(N=500.0, alpha=math.pi / 2) == pytest.approx(0.0, abs=1e-9)


@given(W=st.floats(10.0, 1e3), phi=st.floats(0.0, math.pi), P=st.floats(0.0, 1e3))
def test_hold_down_makes_up_what_the_weight_lacks(W: float, phi: float, P: float) -> None:
    thrust, held = float(step_thrust(W=W, phi=phi, P=P)), float(hold_down_force(W=W, phi=phi, P=P))
    assert held == max(-thrust, 0.0)
    assert hold_down_force(W=W, phi=math.pi, P=0.0) == W


# ---------------------------------------------------------------- bolts and pads


def circle(count: int, diameter_m: float, first: float = 0.0) -> tuple[np.ndarray, np.ndarray]:
    angle = first + 2 * np.pi * np.arange(count) / count
    return diameter_m / 2 * np.cos(angle), diameter_m / 2 * np.sin(angle)


@given(
    x=st.lists(st.floats(-0.5, 0.5), min_size=4, max_size=9, unique=True),
    force=st.tuples(forces, forces),
    at=st.tuples(lengths, lengths),
    moment=st.tuples(forces, forces),
    up=forces,
)
def test_bolts_balance_what_they_are_given(
    x: list[float],
    force: tuple[float, float],
    at: tuple[float, float],
    moment: tuple[float, float],
    up: float,
) -> None:
    forward = np.array(x)
    side = np.cos(np.arange(forward.size) * 2.3)
    found = bolt_forces(forward, side, force_N=force, at_m=at, lifting_N_m=moment, uplift_N=up)
    where = np.stack([forward, side])
    load = np.max(np.abs(found.shear_N)) + np.max(np.abs(found.tension_N)) + 1.0
    np.testing.assert_allclose(np.sum(found.shear_N, axis=1), force, atol=1e-9 * load)
    turned = np.sum(where[0] * found.shear_N[1] - where[1] * found.shear_N[0])
    assert turned == pytest.approx(at[0] * force[1] - at[1] * force[0], abs=1e-9 * load)
    assert np.sum(found.tension_N) == pytest.approx(up, abs=1e-9 * load)
    arm = where - np.mean(where, axis=1)[:, None]
    np.testing.assert_allclose(-arm @ found.tension_N, moment, atol=1e-8 * load)


@given(count=st.integers(3, 16), first=st.floats(0.0, 6.3), F=st.floats(1.0, 1e4), arm=st.floats(-0.4, 0.4))
def test_circle_formulas_are_never_less_than_the_group(
    count: int, first: float, F: float, arm: float
) -> None:
    forward, side = circle(count, 0.22, first)
    found = bolt_forces(
        forward, side, force_N=(0.0, F), at_m=(arm, 0.0), lifting_N_m=(F * 0.3, 0.0), uplift_N=F
    )
    worst = float(bolt_circle_shear(F=F, T=F * abs(arm), D_b=0.22, n=count))
    assert found.worst_shear_N <= worst * (1 + 1e-9)
    lifted = float(bolt_circle_tension(M=F * 0.3, P=F, D_b=0.22, n=count))
    assert found.worst_tension_N <= lifted * (1 + 1e-9)


def test_circle_formulas_are_met_by_a_bolt_in_line() -> None:
    forward, side = circle(8, 0.22)
    found = bolt_forces(forward, side, force_N=(0.0, 900.0), at_m=(0.3, 0.0), lifting_N_m=(270.0, 0.0))
    assert found.worst_shear_N == pytest.approx(bolt_circle_shear(F=900.0, T=270.0, D_b=0.22, n=8), rel=1e-12)
    assert found.worst_tension_N == pytest.approx(
        bolt_circle_tension(M=270.0, P=0.0, D_b=0.22, n=8), rel=1e-12
    )
    # a force forward above the deck lifts the bolts aft
    assert found.tension_N[4] == np.max(found.tension_N)
    direct = bolt_direct_shear(F=900.0, n=8)
    couple = bolt_couple_shear(T=270.0, r=0.11, r2_sum=8 * 0.11**2)
    assert found.worst_shear_N == pytest.approx(direct + couple, rel=1e-12)


def test_bolts_that_hold_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match="hold no couple"):
        bolt_forces([0.1, 0.1], [0.0, 0.0], force_N=(1.0, 0.0), at_m=(0.0, 0.0))
    with pytest.raises(ValueError, match="in one line"):
        bolt_forces([0.1, 0.2], [0.0, 0.0], force_N=(1.0, 0.0), at_m=(0.0, 0.0), lifting_N_m=(0.0, 5.0))


def test_bolt_and_hole_by_hand() -> None:
    assert bolt_shear_stress(F_b=1000.0, d=0.01) == pytest.approx(1000 / 78.5398e-6, rel=1e-6)
    assert hole_bearing_stress(F_b=1000.0, d=0.01, t=0.005) == pytest.approx(20e6)


@given(P=st.floats(100.0, 1e4), l=lengths, w=lengths, lean=st.floats(1.0, 2.9))
def test_lifted_pad_balances_force_and_moment(P: float, l: float, w: float, lean: float) -> None:
    M = lean * P * l / 6
    edge = float(lifted_pad_pressure(P=P, M=M, l=l, w=w))
    reach = 2 * P / (edge * w)  # of the triangle of pressure
    assert reach <= l * (1 + 1e-9)
    assert P * (l / 2 - reach / 3) == pytest.approx(M, rel=1e-9)


def test_pad_formulas_meet_where_the_edge_lifts() -> None:
    P, l, w = 2000.0, 0.3, 0.2
    both = {"P": P, "M": P * l / 6, "l": l, "w": w}
    assert pad_edge_pressure(**both) == pytest.approx(lifted_pad_pressure(**both), rel=1e-12)
    assert pad_edge_pressure(**both | {"M": 0.0}) == pytest.approx(P / (l * w))


# ---------------------------------------------------------------- speed, wear, creep


@given(F=st.floats(1.0, 1e5), n=st.floats(1e-3, 10.0), D=st.floats(0.02, 0.4), PV=st.floats(1e3, 2e6))
def test_bush_as_long_as_its_pv_asks_has_that_pv(F: float, n: float, D: float, PV: float) -> None:
    L = float(bush_length_for_pv(F=F, n=n, PV=PV))
    p, V = projected_pressure(F=F, L=L, D=D), sliding_speed(D=D, n=n)
    assert pressure_times_speed(p=p, V=V) == pytest.approx(PV, rel=1e-12)


@given(turns=st.floats(1.0, 1e5), n=st.floats(0.01, 2.0))
def test_wear_and_its_life_agree(turns: float, n: float) -> None:
    worn = wear_in_turning(k_w=1.3e-15, p=2e6, D=0.1, turns=turns)
    life = wear_life(h=worn, k_w=1.3e-15, p=2e6, V=sliding_speed(D=0.1, n=n))
    assert life * n == pytest.approx(turns, rel=1e-12)


def test_creep_squeezes_by_its_strain() -> None:
    p = creep_pressure(E=2.66e9, share=0.5, epsilon=0.01)
    assert creep_sinking(p=p, t=8e-3, E=2.66e9, share=0.5) == pytest.approx(8e-5)
