"""A mast in its bush, against brute sums of the pressure, closed forms, and what holds whatever the numbers."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc.bearings import BushContact, bush_contact, half_angle, lasting_pressure
from rigcalc.formulas import Working
from rigcalc.formulas.bearings import (
    bush_contact_load,
    bush_foundation,
    bush_friction_factor,
    bush_peak_pressure,
    close_bush_peak_pressure,
    close_journal_friction_torque,
    held_layer_modulus,
    jammed_bush_couple,
    jammed_edge_force,
    journal_friction_torque,
    longest_free_bush,
    tilted_edge_pressure,
    wedged_edge_pressure,
)

# an aluminium mast of 100 mm in a bush of acetal 8 mm thick
K = float(bush_foundation(E_l=held_layer_modulus(E=2.66e9, nu=0.363), t=8e-3))
F, L, D, C = 6000.0, 0.06, 0.1, 4e-4

forces = st.floats(10.0, 1e5)
plays = st.floats(1e-5, 3e-3)
slopes = st.floats(0.0, 0.03)


def contact(
    force_N: float = F, slope_rad: float = 0.0, play_m: float = C, k: float = K, give: float = 0.0
) -> BushContact:
    return bush_contact(
        force_N,
        slope_rad=slope_rad,
        length_m=L,
        diameter_m=D,
        play_m=play_m,
        foundation_N_m3=k,
        give_rad_N_m=give,
    )


def summed(found: BushContact, play_m: float, k: float = K) -> tuple[float, float, float, float]:
    """Sum the pressure spot by spot: force, couple, sum of pressures, highest pressure."""
    s = ((np.arange(3000) + 0.5) / 3000 - 0.5) * L
    psi = ((np.arange(3600) + 0.5) / 3600 - 0.5) * 2 * np.pi
    offset = found.offset_m + found.slope_rad * s
    pressure = k * np.maximum(offset[:, None] * np.cos(psi) - play_m / 2, 0.0)
    spot = L / s.size * D / 2 * 2 * np.pi / psi.size
    force = pressure * np.cos(psi) * spot
    return (
        float(np.sum(force)),
        float(np.sum(force * s[:, None])),
        float(np.sum(pressure) * spot),
        float(np.max(pressure)),
    )


@pytest.mark.parametrize("play_m", [0.0, 1e-4, 1e-3])
@pytest.mark.parametrize("slope_rad", [0.0, 3e-4, 3e-3, 0.02])
def test_contact_is_the_sum_of_its_spots(slope_rad: float, play_m: float) -> None:
    found = contact(slope_rad=slope_rad, play_m=play_m)
    force, couple, rubbed, highest = summed(found, play_m)
    assert force == pytest.approx(F, rel=2e-4)
    assert couple == pytest.approx(found.couple_N_m, rel=2e-3, abs=1e-3 * F * L)
    assert rubbed == pytest.approx(found.friction_factor * F, rel=2e-3)
    assert highest == pytest.approx(found.peak_pressure_Pa, rel=3e-3)
    assert found.slope_rad == slope_rad


def test_square_contact_has_the_closed_forms() -> None:
    psi = half_angle(F, length_m=L, diameter_m=D, play_m=C, foundation_N_m3=K)
    found = contact()
    assert bush_contact_load(psi=psi, k=K, L=L, D=D, c=C) == pytest.approx(F, rel=1e-9)
    assert found.half_angle_rad == psi
    assert found.peak_pressure_Pa == pytest.approx(bush_peak_pressure(F=F, L=L, D=D, psi=psi), rel=1e-9)
    assert found.friction_factor == pytest.approx(bush_friction_factor(psi=psi), rel=1e-9)
    assert (found.couple_N_m, found.touched_m, found.both_edges) == (0.0, L, False)


def test_without_play_the_pressure_is_a_cosine() -> None:
    found = contact(play_m=0.0)
    assert found.half_angle_rad == math.pi / 2
    assert found.peak_pressure_Pa == pytest.approx(close_bush_peak_pressure(F=F, L=L, D=D), rel=1e-12)
    close = close_journal_friction_torque(mu=0.2, F=F, D=D) / journal_friction_torque(mu=0.2, F=F, D=D)
    assert found.friction_factor == pytest.approx(close, rel=1e-12)


def test_contact_factors_run_between_a_line_and_half_the_bore() -> None:
    assert bush_friction_factor(psi=1e-3) == pytest.approx(1.0, abs=1e-6)
    assert bush_friction_factor(psi=math.pi / 2 - 1e-6) == pytest.approx(4 / math.pi, abs=1e-6)
    # a narrow contact has a parabola of pressure, 3/2 of its mean over 2 psi of the radius
    narrow = bush_peak_pressure(F=F, L=L, D=D, psi=1e-2)
    assert narrow == pytest.approx(1.5 * F / (L * 1e-2 * D), rel=1e-4)
    half = bush_peak_pressure(F=F, L=L, D=D, psi=math.pi / 2 - 1e-6)
    assert half == pytest.approx(close_bush_peak_pressure(F=F, L=L, D=D), rel=1e-5)


def test_tilted_and_wedged_edges_of_a_close_bush() -> None:
    """Formulas of a close bush, pressed one way; they meet where one end just lifts."""
    p_0 = float(close_bush_peak_pressure(F=F, L=L, D=D))
    lifting = 2 * p_0 / (K * L)
    slightly = contact(slope_rad=lifting / 3, play_m=0.0)
    assert slightly.peak_pressure_Pa == pytest.approx(
        tilted_edge_pressure(p_0=p_0, k=K, theta=lifting / 3, L=L), rel=1e-9
    )
    assert slightly.touched_m == L
    for edge in (tilted_edge_pressure, wedged_edge_pressure):
        assert edge(p_0=p_0, k=K, theta=lifting, L=L) == pytest.approx(2 * p_0, rel=1e-12)


def test_wedged_edge_holds_where_play_lets_the_far_end_hang_free() -> None:
    # softly backed and hardly any play against what gives way, the load near the edge is that of a close bush
    k, play = 1e8, 1e-6
    p_0 = float(close_bush_peak_pressure(F=F, L=L, D=D))
    theta = 2 * p_0 / (k * L)
    found = contact(slope_rad=theta, play_m=play, k=k)
    assert found.peak_pressure_Pa == pytest.approx(
        wedged_edge_pressure(p_0=p_0, k=k, theta=theta, L=L), rel=2e-3
    )


@settings(max_examples=60, deadline=None)
@given(play_m=plays, excess=st.floats(-0.2, 0.2).filter(lambda x: abs(x) > 0.01))
def test_both_edges_of_a_hard_bush_touch_past_the_longest_free_length(play_m: float, excess: float) -> None:
    theta = play_m / L * (1 + excess)
    found = contact(force_N=1.0, slope_rad=theta, play_m=play_m, k=1e17)
    assert found.both_edges == (longest_free_bush(c=play_m, theta=theta) < L)


def test_hard_bush_takes_the_jamming_couple_out_of_the_mast() -> None:
    b, EI, moment = 0.6, 50e3, 3000.0
    free = moment * b / (3 * EI)
    found = contact(slope_rad=free, play_m=5e-4, k=1e20, give=b / (3 * EI))
    expected = float(jammed_bush_couple(M_p=moment, b=b, EI=EI, c=5e-4, L=L))
    assert found.both_edges
    assert found.slope_rad == pytest.approx(5e-4 / L, rel=2e-3)
    assert found.couple_N_m == pytest.approx(expected, rel=2e-3)
    # two edge forces L apart that make force and couple, and nothing else to rub
    upper = float(jammed_edge_force(F=F, C=expected, L=L))
    assert found.friction_factor * F == pytest.approx(upper + (upper - F), rel=5e-3)


@settings(max_examples=60, deadline=None)
@given(force_N=forces, play_m=plays, slope_rad=slopes)
def test_what_holds_of_every_contact(force_N: float, play_m: float, slope_rad: float) -> None:
    found = contact(force_N, slope_rad, play_m)
    mean = force_N / (L * D)
    assert found.residual <= 1e-6
    assert found.peak_pressure_Pa >= 4 / math.pi * mean * (1 - 1e-9)
    assert 0 < found.half_angle_rad <= math.pi / 2
    assert 0 < found.touched_m <= L
    assert found.couple_N_m >= 0
    assert found.friction_factor >= 1 - 1e-9
    if not found.both_edges:
        assert found.couple_N_m <= force_N * L / 2 * (1 + 1e-9)
        assert found.friction_factor <= 4 / math.pi * (1 + 1e-9)


@settings(max_examples=60, deadline=None)
@given(force_N=forces, play_m=plays, slope_rad=slopes)
def test_more_of_what_hurts_hurts_more(force_N: float, play_m: float, slope_rad: float) -> None:
    found = contact(force_N, slope_rad, play_m).peak_pressure_Pa
    assert contact(force_N * 1.5, slope_rad, play_m).peak_pressure_Pa > found
    assert contact(force_N, slope_rad, play_m, k=K * 1.5).peak_pressure_Pa > found * (1 - 1e-9)
    assert contact(force_N, 0.0, play_m).peak_pressure_Pa <= found * (1 + 1e-9)


@settings(max_examples=60, deadline=None)
@given(force_N=forces, slope_rad=st.floats(1e-4, 0.03), give=st.floats(1e-8, 1e-4))
def test_a_mast_that_gives_way_presses_the_edge_less(force_N: float, slope_rad: float, give: float) -> None:
    stiff, soft = contact(force_N, slope_rad), contact(force_N, slope_rad, give=give)
    assert soft.slope_rad <= slope_rad
    assert soft.slope_rad + give * soft.couple_N_m == pytest.approx(slope_rad, rel=1e-6)
    assert soft.peak_pressure_Pa <= stiff.peak_pressure_Pa * (1 + 1e-9)


def test_slope_either_way_is_the_same() -> None:
    assert contact(slope_rad=-3e-3) == contact(slope_rad=3e-3)


@pytest.mark.parametrize(
    "change",
    [
        {"force_N": 0.0},
        {"force_N": math.nan},
        {"play_m": -1e-4},
        {"slope_rad": math.inf},
        {"k": 0.0},
        {"give": -1.0},
    ],
    ids=str,
)
def test_nonsense_is_refused(change: dict[str, float]) -> None:
    with pytest.raises(ValueError, match=r"has no contact|makes no sense"):
        contact(**change)


def test_lasting_pressure_is_the_least_of_what_is_known() -> None:
    def lasting(E: float | None, share: float | None, sustained: float | None) -> float | None:
        return lasting_pressure(E_Pa=E, creep_share=share, sustained_Pa=sustained, working=Working())

    # UHMWPE by hand: 600 MPa, a third of it, 1 %
    assert lasting(600e6, 0.33, 3.5e6) == pytest.approx(1.98e6)
    assert lasting(2.66e9, 0.5, None) == pytest.approx(13.3e6)
    assert lasting(2.66e9, None, 3.5e6) == 3.5e6
    assert lasting(2.66e9, None, None) is None
    assert lasting(None, 0.5, None) is None
