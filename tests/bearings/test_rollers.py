"""Rollers one by one against equilibrium, hand solutions and another solver, and many against the load zone."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import minimize

from rigcalc.bearings import (
    LINE,
    POINT,
    load_zone_of,
    roller_loads,
    stribeck_factor,
    worst_roller_loads,
)
from rigcalc.formulas.contact import (
    contact_modulus,
    convex_radius,
    largest_roller_load,
    line_half_width,
    roller_squeeze,
)


def power_law(load_N: float) -> float:
    """Squeeze of a roller whose load grows as its power of 10/9."""
    return 2e-7 * load_N**0.9


def acetal_roller(load_N: float) -> float:
    """Roller of acetal 30 mm thick and 40 mm long on an aluminium mast of 100 mm."""
    E, nu, radius, q = 2.66e9, 0.363, 0.015, load_N / 0.04
    stiff = contact_modulus(E_1=E, nu_1=nu, E_2=70e9, nu_2=0.33)
    a = line_half_width(q=q, R=convex_radius(R_1=radius, R_2=0.05), E_s=stiff)
    return float(roller_squeeze(q=q, R=radius, a=a, E=E, nu=nu))


counts = st.integers(3, 40)
angles = st.floats(-7.0, 7.0)
plays = st.floats(0.0, 5e-3)


@settings(max_examples=60, deadline=None)
@given(count=counts, first=angles, play_m=plays, force_N=st.floats(1.0, 1e5))
def test_rollers_balance_the_force(count: int, first: float, play_m: float, force_N: float) -> None:
    found = roller_loads(force_N, count=count, play_m=play_m, squeeze=acetal_roller, first_rad=first)
    assert found.converged.all()
    load, angle = found.load_N[0], found.angle_rad[0]
    assert np.sum(load * np.cos(angle)) == pytest.approx(force_N, rel=1e-9)
    assert np.sum(load * np.sin(angle)) == pytest.approx(0.0, abs=1e-9 * force_N)
    assert np.all(load >= 0)
    assert found.total_N[0] >= force_N * (1 - 1e-9)


@settings(max_examples=60, deadline=None)
@given(count=counts, first=angles, play_m=plays)
def test_loads_follow_from_the_shift_of_the_mast(count: int, first: float, play_m: float) -> None:
    force = 900.0
    found = roller_loads(force, count=count, play_m=play_m, squeeze=acetal_roller, first_rad=first)
    angle, (along, across) = found.angle_rad[0], found.shift_m[0]
    deep = np.maximum(along * np.cos(angle) + across * np.sin(angle) - play_m / 2, 0.0)
    largest = float(found.largest_N[0])
    # by the law of squeeze at the foremost roller, and by its power at the others
    assert np.max(deep) == pytest.approx(acetal_roller(largest), rel=1e-6)
    np.testing.assert_allclose(
        found.load_N[0], largest * (deep / np.max(deep)) ** LINE, rtol=1e-6, atol=1e-6 * force
    )


@pytest.mark.parametrize("first", [0.0, 0.13, 0.3])
@pytest.mark.parametrize("play_m", [0.0, 2e-4, 2e-3])
def test_another_solver_finds_the_same(play_m: float, first: float) -> None:
    force, count = 1200.0, 9
    found = roller_loads(force, count=count, play_m=play_m, squeeze=power_law, first_rad=first)
    angle, K = found.angle_rad[0], 2e-7 ** (-LINE)

    def energy(u: np.ndarray) -> float:
        deep = np.maximum((u[0] * np.cos(angle) + u[1] * np.sin(angle)) * 1e-4 - play_m / 2, 0.0)
        return float((K * np.sum(deep ** (LINE + 1)) / (LINE + 1) - force * u[0] * 1e-4) / (force * 1e-4))

    settled = minimize(
        energy, [play_m / 2e-4 + 1.0, 0.0], method="Nelder-Mead", options={"xatol": 1e-9, "fatol": 1e-15}
    )
    deep = np.maximum((settled.x[0] * np.cos(angle) + settled.x[1] * np.sin(angle)) * 1e-4 - play_m / 2, 0.0)
    np.testing.assert_allclose(found.load_N[0], K * deep**LINE, rtol=1e-4, atol=1e-4 * force)


def test_three_rollers_by_hand() -> None:
    # one under the load takes all of it; between two, each takes its share of the triangle of forces
    alone = roller_loads(1000.0, count=3, play_m=1e-4, squeeze=power_law, first_rad=0.0)
    np.testing.assert_allclose(alone.load_N[0], [1000.0, 0.0, 0.0], atol=1e-6)
    between = roller_loads(1000.0, count=3, play_m=1e-4, squeeze=power_law, first_rad=math.pi / 3)
    np.testing.assert_allclose(np.sort(between.load_N[0]), [0.0, 1000.0, 1000.0], atol=1e-6)
    worst = worst_roller_loads(1000.0, count=3, play_m=0.0, squeeze=power_law)
    assert worst.largest_N[0] == pytest.approx(1000.0 / math.cos(math.pi / 6), rel=1e-9)


def test_eight_rollers_with_one_under_the_load() -> None:
    """Summed by hand: with the mast shifted straight at a roller, Q grows as the cosine to the exponent."""
    for exponent in (LINE, POINT):
        angle = np.arange(8) * math.pi / 4
        reach = np.maximum(np.cos(angle), 0.0)
        factor = 8 / np.sum(reach**exponent * np.cos(angle))
        found = roller_loads(
            1.0, count=8, play_m=0.0, squeeze=lambda q, n=exponent: q ** (1 / n), exponent=exponent
        )
        assert 8 * found.largest_N[0] == pytest.approx(factor, rel=1e-9)


@pytest.mark.parametrize("exponent", [LINE, POINT])
@pytest.mark.parametrize("share", [0.02, 0.1, 0.2, 0.3, 0.4, 0.5, 0.8, 1.0, 2.5])
def test_stribeck_factor_is_its_integral(share: float, exponent: float) -> None:
    edge = math.acos(max(1 - 2 * share, -1.0))
    integral, _ = quad(
        lambda psi: (
            max(1 - (1 - math.cos(psi)) / (2 * share), 0.0) ** exponent * math.cos(psi) / (2 * math.pi)
        ),
        -edge,
        edge,
        epsabs=1e-12,
    )
    assert stribeck_factor(share, exponent) == pytest.approx(1 / integral, rel=1e-7)


def test_many_rollers_share_as_the_load_zone_has_it() -> None:
    for play_m in (0.0, 1e-4, 1e-3):
        one_by_one = worst_roller_loads(5000.0, count=240, play_m=play_m, squeeze=power_law)
        zone = load_zone_of(5000.0, count=240, play_m=play_m, squeeze=power_law)
        assert one_by_one.largest_N[0] == pytest.approx(zone.largest_N, rel=3e-3)
        assert zone.largest_N == pytest.approx(
            largest_roller_load(F=5000.0, S=zone.factor, Z=240, alpha=0.0), rel=1e-9
        )


@settings(max_examples=60, deadline=None)
@given(count=st.integers(8, 60), force_N=st.floats(100.0, 1e4), play_m=st.floats(1e-6, 1e-3))
def test_play_narrows_the_zone_and_loads_the_foremost(count: int, force_N: float, play_m: float) -> None:
    close = load_zone_of(force_N, count=count, play_m=0.0, squeeze=acetal_roller)
    loose = load_zone_of(force_N, count=count, play_m=play_m, squeeze=acetal_roller)
    looser = load_zone_of(force_N, count=count, play_m=2 * play_m, squeeze=acetal_roller)
    assert close.share == 0.5
    assert looser.share < loose.share < 0.5
    assert close.largest_N < loose.largest_N < looser.largest_N


@settings(max_examples=60, deadline=None)
@given(count=counts, play_m=plays)
def test_worst_position_is_the_worst(count: int, play_m: float) -> None:
    worst = worst_roller_loads(800.0, count=count, play_m=play_m, squeeze=acetal_roller).largest_N[0]
    other = roller_loads(
        800.0, count=count, play_m=play_m, squeeze=acetal_roller, first_rad=np.linspace(0.0, 0.1, 4)
    )
    assert np.all(other.largest_N <= worst * (1 + 5e-3))


def test_preload_presses_every_roller() -> None:
    found = roller_loads(100.0, count=10, play_m=-2e-3, squeeze=power_law)
    assert found.converged.all()
    assert np.all(found.load_N > 0)
    assert stribeck_factor(2.5) > stribeck_factor(0.5)


def test_what_does_not_settle_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    import rigcalc.bearings.rollers as rollers

    monkeypatch.setattr(rollers, "_ROUNDS", 1)
    assert not roller_loads(900.0, count=9, play_m=1e-3, squeeze=power_law, first_rad=0.2).converged.any()
    with pytest.raises(ArithmeticError, match="did not settle"):
        worst_roller_loads(900.0, count=9, play_m=1e-3, squeeze=power_law)


def test_nonsense_is_refused() -> None:
    for force, count, play in (
        (0.0, 8, 0.0),
        (math.nan, 8, 0.0),
        (1.0, 2, 0.0),
        (1.0, 8, -1e-4),
        (1.0, 8, math.nan),
    ):
        with pytest.raises(ValueError, match="roller"):
            load_zone_of(force, count=count, play_m=play, squeeze=power_law)
    with pytest.raises(ValueError, match="no part of the way"):
        stribeck_factor(0.0)
