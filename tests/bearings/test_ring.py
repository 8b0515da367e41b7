"""The wall bent round: the ring against its own harmonics, and its length against the equation of a shell."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from rigcalc.bearings import pressure_lines, ring_bending
from rigcalc.formulas import Working
from rigcalc.formulas.rings import (
    chock_ring_moment,
    collar_ring_moment,
    curved_wall_factor,
    end_effective_length,
    grained_effective_length,
    nested_ring_share,
    opposed_ring_flattening,
    opposed_ring_moment,
    opposed_ring_widening,
    ring_compression_at,
    ring_effective_length,
    ring_moment_at,
    ring_wall_strain,
    ring_wall_stress,
)

Floats = NDArray[np.float64]
ROUND = np.arange(20000) * 2 * np.pi / 20000


def harmonic(values: Floats, n: int) -> float:
    return float(np.mean(values * np.cos(n * ROUND)) * (2 if n else 1))


def test_single_line_has_the_harmonics_of_a_ring() -> None:
    """Equilibrium gives M_n = W R/(pi (n2 - 1)); that the ring closes leaves no even part and no first harmonic."""
    moment = ring_moment_at(theta=ROUND, W=1.0, R=1.0)
    assert harmonic(moment, 0) == pytest.approx(0.0, abs=1e-7)
    assert harmonic(moment, 1) == pytest.approx(0.0, abs=1e-7)
    for n in range(2, 12):
        assert harmonic(moment, n) == pytest.approx(1 / (math.pi * (n**2 - 1)), rel=1e-4)


def test_compression_balances_the_line_of_force() -> None:
    # half the ring, cut at its top and bottom, under half the force and the shear flow on it
    top, bottom = ring_compression_at(theta=np.array([0.0, np.pi]), W=1.0)
    half = np.linspace(0, np.pi, 20001)
    flow_across = np.trapezoid(np.sin(half) / np.pi * np.cos(half), half)
    assert top + bottom == pytest.approx(flow_across, abs=1e-9)
    # sides of a ring between opposed forces carry half each
    both = sum(ring_compression_at(theta=np.array([np.pi / 2, 3 * np.pi / 2]), W=1.0))
    assert both == pytest.approx(0.5, rel=1e-12)


def bent(angle: object, force: object) -> tuple[Floats, Floats]:
    found = ring_bending(angle, force, length_m=1.0, radius_m=1.0, working=Working())  # type: ignore[arg-type]  # lists too
    return found.angle_rad, found.moment_N


def test_one_line_two_lines_and_a_collar() -> None:
    for angle, force, expected in (
        ([0.3], [1.0], chock_ring_moment(W=1.0, R=1.0)),
        ([0.0, np.pi], [1.0, 1.0], opposed_ring_moment(W=1.0, R=1.0)),
        (*pressure_lines(1.0, half_angle_rad=math.pi / 2), collar_ring_moment(W=1.0, R=1.0)),
    ):
        found = ring_bending(angle, force, length_m=1.0, radius_m=1.0, working=Working())
        assert found.worst_moment_N == pytest.approx(expected, rel=1e-4)


def test_worst_of_a_collar_is_a_quarter_of_the_way_round() -> None:
    at, moment = bent(*pressure_lines(1.0, half_angle_rad=math.pi / 2))
    assert abs(np.cos(at[np.argmax(np.abs(moment))])) < 0.02
    assert moment[np.argmin(np.abs(at))] == pytest.approx(2 / math.pi**2 * (1 - math.pi / 4), rel=1e-4)


@settings(max_examples=15, deadline=None)
@given(psi=st.floats(0.02, math.pi / 2 - 0.02))
def test_a_closer_fit_bends_the_wall_less(psi: float) -> None:
    def worst(half_angle_rad: float) -> float:
        found = bent(*pressure_lines(1.0, half_angle_rad=half_angle_rad, lines=150))
        return float(np.max(np.abs(found[1])))

    line, collar = float(chock_ring_moment(W=1.0, R=1.0)), float(collar_ring_moment(W=1.0, R=1.0))
    assert collar * (1 - 1e-3) <= worst(psi + 0.02) <= worst(psi) * (1 + 1e-6) <= line


@given(psi=st.floats(0.01, math.pi / 2), force=st.floats(1.0, 1e5))
def test_lines_of_pressure_make_up_the_force(psi: float, force: float) -> None:
    angle, lines = pressure_lines(force, half_angle_rad=psi)
    assert np.sum(lines * np.cos(angle)) == pytest.approx(force, rel=1e-12)
    assert np.sum(lines * np.sin(angle)) == pytest.approx(0.0, abs=1e-9 * force)
    assert np.all(lines >= 0)


def test_flattening_is_the_work_of_the_moment() -> None:
    """Deflection by unit loads: the integral of M m over E I, with m of unit forces along and across."""
    moment = ring_moment_at(theta=ROUND, W=1.0, R=1.0) + ring_moment_at(
        theta=(ROUND + np.pi) % (2 * np.pi), W=1.0, R=1.0
    )
    across = np.roll(moment, 5000)
    step = 2 * np.pi / ROUND.size
    assert opposed_ring_flattening(W=1.0, R=1.0, D_22=1.0) == pytest.approx(
        np.sum(moment**2) * step, rel=1e-6
    )
    assert opposed_ring_widening(W=1.0, R=1.0, D_22=1.0) == pytest.approx(
        -np.sum(moment * across) * step, rel=1e-6
    )


@pytest.mark.parametrize("R_over_t", [1.5, 2.0, 3.0, 10.0, 50.0])
def test_thick_walls_by_winkler(R_over_t: float) -> None:
    """Inner fibre of a curved bar of rectangular section: M (r_n - r)/(A e r), from memory."""
    inner, outer = R_over_t - 0.5, R_over_t + 0.5
    neutral = 1 / math.log(outer / inner)
    stress = (neutral - inner) / ((R_over_t - neutral) * inner)
    assert curved_wall_factor(R=R_over_t, t=1.0) == pytest.approx(stress / 6, rel=8e-3)


def test_stress_adds_bending_and_compression_at_their_worst_face() -> None:
    found = ring_bending([0.0], [6000.0], length_m=0.0821, radius_m=0.05, working=Working())
    # worked by hand, without the compression: 6 x 0.2387 W R/t2
    bending = 6 * 0.238732 * 6000 / 0.0821 * 0.05 / 0.004**2
    compression = 0.238732 * 6000 / 0.0821 / 0.004
    assert found.worst_stress_Pa(0.004) == pytest.approx(bending + compression, rel=1e-5)
    assert found.worst_stress_Pa(0.004, factor=0.5) == pytest.approx(bending / 2 + compression, rel=1e-5)


def test_strain_is_stress_over_modulus_in_a_plain_wall() -> None:
    E, t = 70e9, 0.004
    assert ring_wall_strain(m=500.0, t=t, D_22=E * t**3 / 12) == pytest.approx(
        ring_wall_stress(m=500.0, n=0.0, t=t) / E, rel=1e-12
    )


def test_nested_tubes_share_the_moment() -> None:
    one, two = (
        nested_ring_share(E_1=70e9, t_1=4e-3, E_2=10e9, t_2=8e-3),
        nested_ring_share(E_1=10e9, t_1=8e-3, E_2=70e9, t_2=4e-3),
    )
    assert one + two == pytest.approx(1.0, rel=1e-14)
    assert nested_ring_share(E_1=1.0, t_1=1.0, E_2=1.0, t_2=1.0) == 0.5


# ---------------------------------------------------------------- how much tube bends


def shell_moment(
    R_over_t: float, L_over_R: float, *, opposed: bool, collar: bool = False, nu: float = 0.3
) -> float:
    """Moment in an endless tube of radius one under a force of one spread over a length, by Morley's equation.

    (n2 + k2)2 (n2 + k2 - 1)2 w + 12 (1 - nu2) R2/t2 k4 w = (n2 + k2)2 p R4/D by harmonics round and waves along the
    tube, from memory; its limits are the ring, the beam and the band of a long tube.
    """
    near = np.linspace(1e-6, 2.0, 2001)
    far = np.linspace(2.0, 80.0 * math.sqrt(R_over_t), 12001)
    theta = np.linspace(-np.pi / 2, np.pi / 2, 4001)
    total = 0.0
    for n in (0, *range(2, 200)):
        if opposed and n % 2:
            continue
        share = (1 if n else 0.5) / np.pi * (2 if opposed else 1)
        if collar:
            share *= 2 / np.pi * np.trapezoid(np.cos(theta) * np.cos(n * theta), theta)
            share *= math.cos(n * np.pi / 2)  # a quarter of the way round
        for k in (near, far):
            a = (k**2 + n**2) ** 2
            w = a / (a * (k**2 + n**2 - 1) ** 2 + 12 * (1 - nu**2) * R_over_t**2 * k**4)
            total += (
                share
                * np.trapezoid((n**2 - 1 + nu * k**2) * w * np.sinc(k * L_over_R / 2 / np.pi), k)
                / np.pi
            )
    return abs(float(total))


@pytest.mark.parametrize(
    ("R_over_t", "L_over_R", "over"),
    # moment by the ring over that of the shell
    [
        (5.0, 0.3, 0.96),
        (5.0, 1.0, 1.00),
        (5.0, 2.5, 0.96),
        (10.0, 0.6, 1.32),
        (20.0, 0.6, 1.74),
        (40.0, 0.3, 2.47),
    ],
)
def test_ring_length_is_on_the_safe_side_of_a_shell(R_over_t: float, L_over_R: float, over: float) -> None:
    length = float(ring_effective_length(L=L_over_R, R=1.0, t=1 / R_over_t))
    chock = float(chock_ring_moment(W=1 / length, R=1.0)) / shell_moment(R_over_t, L_over_R, opposed=False)
    assert chock == pytest.approx(over, abs=0.02)
    assert chock > 0.95
    opposed = float(opposed_ring_moment(W=1 / length, R=1.0)) / shell_moment(R_over_t, L_over_R, opposed=True)
    assert opposed > chock
    collar = float(collar_ring_moment(W=1 / length, R=1.0)) / shell_moment(
        R_over_t, L_over_R, opposed=False, collar=True
    )
    assert collar > chock


def test_weak_walls_along_the_tube_shorten_the_ring() -> None:
    even = ring_effective_length(L=0.06, R=0.05, t=0.004)
    like = {"L": 0.06, "R": 0.05, "t": 0.004}
    assert grained_effective_length(**like, E_x=1.0, E_y=1.0) == pytest.approx(even, rel=1e-14)
    assert grained_effective_length(**like, E_x=9.0, E_y=1.0) == pytest.approx(even, rel=1e-14)
    assert grained_effective_length(**like, E_x=1.0, E_y=16.0) == pytest.approx(
        0.06 + (even - 0.06) / 2, rel=1e-14
    )


def test_an_open_end_gives_way_most_by_the_bound() -> None:
    """Beam on an elastic foundation with a free end, an even load over the last stretch; in its own lengths."""
    count, reach = 1200, 16.0
    h = reach / count
    bend = np.zeros((count - 1, count + 1))
    rows = np.arange(count - 1)
    bend[rows, rows], bend[rows, rows + 1], bend[rows, rows + 2] = 1 / h**2, -2 / h**2, 1 / h**2
    lump = np.full(count + 1, h)
    lump[[0, -1]] = h / 2
    # beam stiffness 1/4 to a foundation of one makes the characteristic length one
    solve = np.linalg.inv(h / 4 * bend.T @ bend + np.diag(lump))[0]
    x = np.linspace(0.0, reach, count + 1)
    greatest = max(float(solve @ (lump * (x <= length))) for length in np.linspace(0.2, 6.0, 59))
    assert greatest == pytest.approx(1.0 / float(end_effective_length(L=1.0)), rel=2e-3)
