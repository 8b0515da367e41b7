"""Lines of contact: Hertz against his integrals, a mast in its bore against Persson, rollers squeezed and rolled."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc.bearings import half_angle
from rigcalc.formulas.bearings import bush_foundation, free_layer_modulus, held_layer_modulus
from rigcalc.formulas.contact import (
    caged_roller_torque,
    contact_modulus,
    convex_radius,
    hysteresis_arm,
    line_half_width,
    line_peak_pressure,
    line_peak_shear,
    line_yield_pressure,
    pinned_roller_torque,
    roller_squeeze,
    seat_half_width,
    seat_radius,
)


def test_pressure_over_the_width_makes_the_load() -> None:
    q, R, E = 5e4, 0.02, 3e9
    a, p_0 = line_half_width(q=q, R=R, E_s=E), line_peak_pressure(q=q, R=R, E_s=E)
    assert math.pi / 2 * p_0 * a == pytest.approx(q, rel=1e-14)
    assert p_0 == pytest.approx(E * a / (2 * R), rel=1e-14)


def test_radii_at_their_limits() -> None:
    assert convex_radius(R_1=0.02, R_2=1e12) == pytest.approx(0.02, rel=1e-12)
    assert seat_radius(R_1=0.02, R_2=1e12) == pytest.approx(0.02, rel=1e-12)
    assert convex_radius(R_1=0.02, R_2=0.02) == 0.01
    assert seat_half_width(q=1e5, R_1=0.05, R_2=0.0502, E_s=3e9) == pytest.approx(
        line_half_width(q=1e5, R=seat_radius(R_1=0.05, R_2=0.0502), E_s=3e9), rel=1e-12
    )


def stress_below(depth: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Stress across and along the load under a line of contact, over p_0; depth over a. Johnson 4.2, from memory."""
    root = np.sqrt(1 + depth**2)
    return -((1 + 2 * depth**2) / root - 2 * depth), -1 / root


def test_peak_shear_is_the_greatest_below_the_surface() -> None:
    depth = np.linspace(0.0, 3.0, 30001)
    across, along = stress_below(depth)
    shear = (across - along) / 2
    assert line_peak_shear(p_0=1.0) == pytest.approx(np.max(shear), abs=5e-4)
    assert depth[np.argmax(shear)] == pytest.approx(0.79, abs=5e-3)
    # Tresca: the shear is half the yield stress
    assert line_peak_shear(p_0=line_yield_pressure(f_y=1.0)) == pytest.approx(0.5, rel=1e-14)


@pytest.mark.parametrize("narrow", [0.003, 0.03, 0.1])
def test_squeeze_of_a_roller_is_the_sum_of_its_strains(narrow: float) -> None:
    """A disc between two opposed forces, spread near each of them as Hertz has it, summed along the middle."""
    R, E, nu, q = 0.015, 2.7e9, 0.36, 3e4
    a = narrow * R
    p_0 = 2 * q / (math.pi * a)
    y = np.geomspace(1e-9 * R, R, 200001)
    across, along = (p_0 * part for part in stress_below(y / a))
    # the far force and the pull across that frees the rim: closed solution of a disc (Brazilian test), from memory
    along = along - 2 * q / math.pi * (1 / (2 * R - y) - 1 / (2 * R))
    across = across + q / (math.pi * R)
    strain = (1 - nu**2) / E * (along - nu / (1 - nu) * across)
    squeezed = -2 * np.trapezoid(strain, y)
    expected = roller_squeeze(q=q, R=R, a=a, E=E, nu=nu)
    assert expected == pytest.approx(squeezed, rel=0.02)


def persson_load(psi: float) -> float:
    """Load over E' times half the play, of a disc in a hole of like material touched from -psi to psi.

    Persson (1964), from memory; E' is that of one body, E/(1 - nu2).
    """
    b2 = math.tan(psi / 2) ** 2
    return math.pi * b2 * (b2 + 1) / (2 - math.log(b2 + 1) - 2 * b2**2)


@given(psi=st.floats(0.01, 1.4))
def test_hertz_makes_the_contact_in_a_bore_too_wide(psi: float) -> None:
    # of like bodies E* is half of E'; the radii differ by half the play
    R, half_play = 1.0, 1e-6
    width = seat_half_width(q=persson_load(psi) * half_play, R_1=R - half_play, R_2=R, E_s=0.5)
    assert width >= R * psi * (1 - 1e-4)
    if psi < 0.05:
        assert width == pytest.approx(R * psi, rel=1e-2)


@settings(deadline=None)
@given(
    force_N=st.floats(100.0, 2e4),
    play_m=st.floats(1e-4, 1e-3),
    wall_m=st.floats(2e-3, 1.2e-2),
    layer=st.sampled_from([free_layer_modulus, held_layer_modulus]),
)
def test_a_thin_bush_is_touched_less_than_hertz_says(
    force_N: float, play_m: float, wall_m: float, layer: Callable[..., float]
) -> None:
    E, nu, D, L = 2.66e9, 0.363, 0.1, 0.06
    k = float(bush_foundation(E_l=layer(E=E, nu=nu), t=wall_m))
    psi = half_angle(force_N, length_m=L, diameter_m=D, play_m=play_m, foundation_N_m3=k)
    soft = contact_modulus(E_1=70e9, nu_1=0.33, E_2=E, nu_2=nu)
    width = seat_half_width(q=force_N / L, R_1=D / 2, R_2=D / 2 + play_m / 2, E_s=soft)
    if width > 2 * wall_m:  # wide enough for the backing to be felt
        assert psi * D / 2 <= width


def test_free_layer_is_softer_than_held() -> None:
    for nu in (0.0, 0.3, 0.45):
        assert free_layer_modulus(E=1.0, nu=nu) <= held_layer_modulus(E=1.0, nu=nu)
    assert held_layer_modulus(E=1.0, nu=0.0) == 1.0


def test_rolling_torque_is_the_work_of_a_turn() -> None:
    """A roller between mast and race, its paths worked out from speeds where nothing slips."""
    R, r, e, Q = 0.05, 0.01, 1e-4, 700.0
    outer = R + 2 * r
    cage = R / (R + outer)  # turns of the cage to one of the mast, the race at rest
    spin = cage * outer / r  # turns of the roller against the cage
    # the line of contact rolls over the roller and over the mast or the race
    lost = Q * e * (spin + (1 - cage)) + Q * e * (spin - cage)
    assert caged_roller_torque(e=e, Q=Q, D=2 * R, d=2 * r) == pytest.approx(lost, rel=1e-12)


def test_pins_rub_at_their_own_radius() -> None:
    # as thick a pin as the roller slides like a bush
    assert pinned_roller_torque(mu=0.2, Q=100.0, D=0.1, d=0.02, d_p=0.02) == pytest.approx(0.2 * 100 * 0.05)


def test_rolling_arm_is_a_share_of_the_width() -> None:
    # work of Hertz pressure on the way into the contact, to a unit load and angle: integral of p x over half the width
    x = (np.arange(100000) + 0.5) / 100000
    pressure = np.sqrt(1 - x**2) * 2 / math.pi
    assert hysteresis_arm(a=1.0, share=1.0) == pytest.approx(np.mean(pressure * x), rel=1e-6)
