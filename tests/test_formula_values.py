"""Small formulas whose shape no unit can tell: worked by hand with whole numbers, or by a free body summed here.

Homogeneity does not see a factor without a unit on the wrong side of a stroke, nor a sum for a difference.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad

from rigcalc.formulas import FormulaRangeError, Working, all_formulas
from rigcalc.formulas.beams import (
    allowed_axial_load,
    allowed_moment,
    lower_reaction,
    summed_force,
    summed_moment,
    upper_reaction,
)
from rigcalc.formulas.bearings import free_layer_modulus, held_layer_modulus
from rigcalc.formulas.contact import hysteresis_arm, largest_roller_load, thrust_roller_load
from rigcalc.formulas.fatigue import miner_sum
from rigcalc.formulas.foams import core_design_stress
from rigcalc.formulas.furling import cloth_let_out
from rigcalc.formulas.hull_loads import bolt_circle_tension, pad_couple_pressure
from rigcalc.formulas.laminate_tubes import (
    knocked_down_strength,
    line_load_ratio,
    ovalising_wave,
    ply_end_shear_stress,
    summed_shear_stress,
)
from rigcalc.formulas.laminates import (
    bs4994_design_factor,
    factored_use,
    log_fatigue_factor,
    ply_shear_stress,
    ply_strain,
    ply_stress_across,
    ply_stress_along,
    power_fatigue_factor,
    root_use,
)
from rigcalc.formulas.metals import hole_peak_stress, wall_class_ratio
from rigcalc.formulas.rings import ring_compression_at, ring_moment_at
from rigcalc.formulas.sails import apparent_wind_speed, induced_drag_coefficient
from rigcalc.formulas.sections import (
    added_shear_stress,
    added_stress,
    corner_bending_stress,
    crossed_equivalent_stress,
    equivalent_shear_stress,
    round_bending_stress,
    von_mises_stress,
)
from rigcalc.formulas.shells import buckling_ratio
from rigcalc.formulas.stability import factored_moment
from rigcalc.formulas.thrust import hold_down_force
from rigcalc.formulas.timber import madison_factor, relative_column_slenderness, stress_at_instability
from rigcalc.formulas.timber_tubes import crept_share
from rigcalc.formulas.wind import factored_pressure, gust_speed, power_law_speed

# ---------------------------------------------------------------- loads


def test_wind_grows_with_height_by_its_power() -> None:
    """Four times the height at an exponent of a half: twice the wind."""
    assert power_law_speed(v_ref=6.0, h=40.0, h_ref=10.0, alpha=0.5) == pytest.approx(12.0, rel=1e-15)
    assert power_law_speed(v_ref=6.0, h=2.5, h_ref=10.0, alpha=0.5) == pytest.approx(3.0, rel=1e-15)


def test_factors_on_the_wind_raise_it() -> None:
    assert gust_speed(v=10.0, k_g=1.4) == pytest.approx(14.0, rel=1e-15)
    assert factored_pressure(q=150.0, k_d=1.2) == pytest.approx(180.0, rel=1e-15)


def test_loads_of_every_kind_add() -> None:
    """Powers of two: a sum shows which of them it holds, and with which sign."""
    assert summed_moment(M_l=1.0, M_a=2.0, M_r=4.0, M_w=8.0) == 15.0
    assert summed_force(F_l=1.0, F_a=2.0, F_r=4.0, F_w=8.0) == 15.0


def test_two_bearings_hold_a_push() -> None:
    """100 N at 5 m over the lower bearing, the upper 1 m over it: 500 N back there, 400 N forth below."""
    upper = upper_reaction(M_0=500.0, b=1.0)
    lower = lower_reaction(F=100.0, R_u=upper)
    assert (upper, lower) == (-500.0, 400.0)
    assert 100.0 + upper + lower == 0.0


def test_a_factor_takes_moment_away() -> None:
    assert allowed_moment(M=300.0, gamma=1.5) == 200.0


def test_wind_aboard_is_the_wind_less_the_boats_own_way() -> None:
    """Three across and four of the boat: five; and any other angle as vectors, x forward."""
    assert apparent_wind_speed(V_t=3.0, beta_t=math.pi / 2, V_b=4.0) == pytest.approx(5.0, rel=1e-15)
    for angle in np.radians([20.0, 60.0, 120.0, 175.0]):
        across, ahead = 9.0 * math.sin(angle), 9.0 * math.cos(angle) + 2.5
        assert apparent_wind_speed(V_t=9.0, beta_t=angle, V_b=2.5) == pytest.approx(
            abs(complex(ahead, across))
        )


def test_drag_of_lift_grows_as_its_square() -> None:
    """A sail of pi m2 and a metre of effective height: the square of the lift coefficient itself."""
    assert induced_drag_coefficient(C_L=3.0, A=math.pi, h_e=1.0) == pytest.approx(9.0, rel=1e-15)


def test_thrust_allowed_is_what_may_still_grow() -> None:
    """100 N that could grow sevenfold where it must be able to grow to three and a half."""
    assert allowed_axial_load(N=100.0, factor=7.0, required=3.5) == 200.0
    assert core_design_stress(f=3.0, gamma=1.5) == 2.0


def test_pad_under_a_couple_by_its_pressure() -> None:
    """Pressure in line with the way from the middle, half of the pad pressed and the other held."""
    M, l, w = 60.0, 0.2, 0.1
    edge = float(pad_couple_pressure(M=M, l=l, w=w))
    couple, _ = quad(lambda x: edge * x / (l / 2) * x * w, -l / 2, l / 2)
    assert couple == pytest.approx(M, rel=1e-12)


def test_shares_of_life_add() -> None:
    assert miner_sum(D_1=0.25, D_2=0.5) == 0.75


# ---------------------------------------------------------------- bushes and rollers


def test_layers_by_hookes_law_in_three_dimensions() -> None:
    """Strain through the thickness from the compliances of an isotropic solid, held one way and both ways."""
    E, nu = 2.66e9, 0.363
    compliance = (np.eye(3) * (1 + nu) - nu) / E
    # strains (along, round, through) for stresses of the same; free along, held round: sigma_along is nothing
    round_, through = np.linalg.solve(compliance[1:, 1:], [0.0, 1.0])
    assert free_layer_modulus(E=E, nu=nu) == pytest.approx(through, rel=1e-12)
    assert round_ == pytest.approx(nu * through, rel=1e-12)
    assert held_layer_modulus(E=E, nu=nu) == pytest.approx(
        np.linalg.solve(compliance, [0.0, 0.0, 1.0])[2], rel=1e-12
    )


@pytest.mark.parametrize("lean", [0.0, math.pi / 6, math.pi / 3])
def test_rollers_that_lean_are_pressed_harder(lean: float) -> None:
    """What a roller gives to the side is the cosine of its load, so the load is that over the cosine."""
    upright = largest_roller_load(F=1000.0, S=4.37, Z=10.0, alpha=0.0)
    assert upright == pytest.approx(437.0, rel=1e-14)
    assert largest_roller_load(F=1000.0, S=4.37, Z=10.0, alpha=lean) * math.cos(lean) == pytest.approx(
        upright, rel=1e-14
    )


@pytest.mark.parametrize("alpha", [math.pi / 6, math.pi / 4, math.pi / 2])
def test_rollers_bear_an_axial_force_by_their_sine(alpha: float) -> None:
    each = thrust_roller_load(N=600.0, Z=12.0, alpha=alpha)
    assert 12 * each * math.sin(alpha) == pytest.approx(600.0, rel=1e-14)


def test_arm_of_a_lossy_contact_by_its_pressure() -> None:
    """The front half of Hertz's pressure turns against the roller with a moment; the lost share is not given back."""
    a, share = 0.002, 0.05
    # x = a sin(psi), so that nothing is steep at the edges
    moment, _ = quad(lambda psi: a**2 * math.sin(psi) * math.cos(psi) ** 2, 0.0, math.pi / 2)
    load, _ = quad(lambda psi: a * math.cos(psi) ** 2, -math.pi / 2, math.pi / 2)
    assert hysteresis_arm(a=a, share=share) == pytest.approx(share * moment / load, rel=1e-9)


@pytest.mark.parametrize("theta", np.radians([1.0, 40.0, 90.0, 133.0, 180.0, 300.0]))
def test_compression_round_a_ring_by_the_moments_beside_it(theta: float) -> None:
    """Across an arc, shear grows by the compression it turns, and moment by the shear: m'' is R n."""
    R, W, step = 0.06, 70e3, 1e-4
    before, at, after = (ring_moment_at(theta=theta + i * step, W=W, R=R) for i in (-1, 0, 1))
    expected = (before - 2 * at + after) / step**2 / R
    assert ring_compression_at(theta=theta, W=W) == pytest.approx(expected, rel=1e-5)


def test_one_turn_lets_out_the_way_round() -> None:
    assert cloth_let_out(theta=2 * math.pi, D=0.2) == pytest.approx(math.pi * 0.2, rel=1e-15)


@pytest.mark.parametrize("n", [3, 6, 8])
def test_bolts_of_a_ring_by_a_flange_that_turns_about_its_middle(n: int) -> None:
    """Each bolt pulls as its height over the middle; the worst turn of the ring has one at the top."""
    M, P, D_b = 900.0, 600.0, 0.2
    heights = D_b / 2 * np.cos(2 * np.pi * np.arange(n) / n)
    pull = M * heights / np.sum(heights**2) + P / n
    assert bolt_circle_tension(M=M, P=P, D_b=D_b, n=float(n)) == pytest.approx(np.max(pull), rel=1e-12)


# ---------------------------------------------------------------- plies


def test_strain_of_a_ply_is_a_sum() -> None:
    assert ply_strain(a=0.5, epsilon_x=2e-3, b=0.25, gamma_x=4e-3, c=2e-3, kappa_y=0.5) == pytest.approx(
        3e-3, rel=1e-14
    )


def test_stress_of_a_ply_by_its_stiffness_matrix() -> None:
    """Built from the engineering constants by inverting the compliance, as elasticity has it."""
    E_1, E_2, nu_12, G_12 = 38e9, 8e9, 0.26, 4e9
    stiffness = np.linalg.inv([[1 / E_1, -nu_12 / E_1, 0], [-nu_12 / E_1, 1 / E_2, 0], [0, 0, 1 / G_12]])
    strain = np.array([2e-3, -1e-3, 3e-3])
    along, across, shear = stiffness @ strain
    Q_11, Q_12, Q_22 = stiffness[0, 0], stiffness[0, 1], stiffness[1, 1]
    assert ply_stress_along(Q_11=Q_11, epsilon_1=2e-3, Q_12=Q_12, epsilon_2=-1e-3) == pytest.approx(along)
    assert ply_stress_across(Q_12=Q_12, epsilon_1=2e-3, Q_22=Q_22, epsilon_2=-1e-3) == pytest.approx(across)
    assert ply_shear_stress(G_12=G_12, gamma_12=3e-3) == pytest.approx(shear)


def test_uses_and_factors() -> None:
    # a sum of squares of 4 is twice the load at which it would be 1
    assert root_use(I=4.0) == 2.0
    assert factored_use(u=0.5, gamma=1.5) == 0.75
    assert knocked_down_strength(f=60.0, k=0.5, gamma=1.5) == 20.0
    # 3 x 2 x 1.5 x 1.25 x 1.1 x 1.2
    assert bs4994_design_factor(k_1=2.0, k_2=1.5, k_3=1.25, k_4=1.1, k_5=1.2) == pytest.approx(14.85)
    # a thousand cycles at a slope of three leave a tenth
    assert power_fatigue_factor(N=1000.0, m=3.0) == pytest.approx(0.1, rel=1e-14)
    assert summed_shear_stress(tau_1=1.0, tau_2=2.0, tau_3=4.0) == 7.0
    # 1.5 times 200 kN/m is asked of half of 1200 kN/m
    assert line_load_ratio(gamma=1.5, epsilon=2e-3, Et=1e8, k=0.5, N_cr=1.2e6) == pytest.approx(0.5)
    # a ply of 1 mm under 100 MPa hands over 100 N to each mm of its breadth, along 20 mm
    assert ply_end_shear_stress(sigma=100e6, n=20.0) == 5e6


@pytest.mark.parametrize("cycles", [0.0, -10.0])
def test_no_cycles_are_refused_without_a_warning_of_their_logarithm(cycles: float) -> None:
    with pytest.raises(FormulaRangeError, match="no life left"):
        Working().use(log_fatigue_factor, N=cycles, b=0.1)


# ---------------------------------------------------------------- metal


def test_class_of_a_wall_counts_by_the_strength_of_the_metal() -> None:
    """A metal of four times the yardstick has an epsilon of a half and is twice as slender for its size."""
    assert wall_class_ratio(beta=18.0, epsilon=0.5) == 36.0


def test_peak_at_a_hole_adds_its_three_causes() -> None:
    assert hole_peak_stress(K_b=3.0, sigma_b=10.0, K_a=2.0, sigma_N=5.0, K_t=4.0, tau_T=0.5) == 42.0


def test_stresses_add_and_shear_yields_at_its_share() -> None:
    assert added_stress(sigma_1=3.0, sigma_2=4.0) == 7.0
    assert added_shear_stress(tau_1=3.0, tau_2=4.0) == 7.0
    # 9 + 15 + 25: a pull and a push across it, the worse of signs
    assert crossed_equivalent_stress(sigma_1=3.0, sigma_2=5.0) == 7.0
    # the shear stress that is as hard on a metal as 100 MPa is, put back into von Mises
    assert von_mises_stress(sigma=0.0, tau=equivalent_shear_stress(sigma_v=100.0)) == pytest.approx(100.0)
    # 1.5 times 50 MPa is asked of 100 MPa
    assert buckling_ratio(sigma=50e6, gamma=1.5, sigma_cr=100e6) == 0.75


@pytest.mark.parametrize(("M_s", "M_f"), [(900.0, 400.0), (-900.0, 400.0), (900.0, -400.0), (-900.0, -400.0)])
def test_bending_both_ways_is_worst_at_one_corner_or_one_angle(M_s: float, M_f: float) -> None:
    """Every corner of a box, and every angle round an ellipse, looked at in turn."""
    E, EI_s, EI_f, y_s, y_f = 7e10, 1.2e5, 2e5, 0.05, 0.07
    given = {"E": E, "M_s": M_s, "y_s": y_s, "EI_s": EI_s, "M_f": M_f, "y_f": y_f, "EI_f": EI_f}

    def at(side: np.ndarray, forward: np.ndarray) -> np.ndarray:
        return E * (M_s * side / EI_s + M_f * forward / EI_f)

    corners = at(np.array([-y_s, -y_s, y_s, y_s]), np.array([-y_f, y_f, -y_f, y_f]))
    assert corner_bending_stress(**given) == pytest.approx(np.max(corners), rel=1e-14)
    psi = np.linspace(0.0, 2 * np.pi, 100_001)
    assert round_bending_stress(**given) == pytest.approx(
        np.max(at(y_s * np.cos(psi), y_f * np.sin(psi))), rel=1e-8
    )


def test_columns_of_wood() -> None:
    # a column that would buckle at a quarter of its crushing strength is twice as slender as the border between
    assert relative_column_slenderness(f_c0k=20e6, sigma_cr=5e6) == 2.0
    # 2 MPa that could grow sevenfold
    assert stress_at_instability(sigma=2e6, factor=7.0) == 14e6
    # what is left of 120 kN m2 is 90: a third more deflection
    assert crept_share(EI=120e3, EI_crept=90e3) == pytest.approx(1 / 3, rel=1e-14)


def test_duration_of_a_load_counts_in_the_unit_it_is_told_in() -> None:
    """A load of 3e9 in a unit of two seconds is within the curve, which ends at 2e9; in a half of one it is not."""
    for unit, warned in ((2.0, False), (0.5, True)):
        working = Working()
        working.use(madison_factor, t=3e9, t_1=unit)
        assert bool(working.warnings) is warned


def test_oval_of_an_isotropic_tube_goes_by_its_own_modulus() -> None:
    """A wall that may shrink across: E t is left of A_11, whatever Poisson's ratio."""
    E, nu, t, r = 70e9, 0.3, 2e-3, 0.05
    A, D = E * t / (1 - nu**2), E * t**3 / (12 * (1 - nu**2))
    wave = ovalising_wave(A_11=A, A_12=nu * A, A_22=A, D_22=D, r=r)
    assert wave**4 == pytest.approx(36 * D / (E * t * r**6), rel=1e-12)


# ---------------------------------------------------------------- the whole boat


def test_dynamic_factor_raises_the_righting_moment() -> None:
    assert factored_moment(RM=5000.0, k_d=1.5) == 7500.0


def test_nothing_holds_a_heel_down_that_its_weight_keeps_there() -> None:
    """Upright 900 N press and 200 N more of the halyard; upside down 900 N pull, 200 N of them held."""
    assert hold_down_force(W=900.0, phi=0.0, P=200.0) == 0.0
    assert hold_down_force(W=900.0, phi=math.pi, P=200.0) == pytest.approx(700.0)
    np.testing.assert_allclose(hold_down_force(W=900.0, phi=np.radians([60.0, 120.0]), P=0.0), [0.0, 450.0])


# ---------------------------------------------------------------- the registry


def test_registry_is_of_formulas_filed_in_their_own_module() -> None:
    """Asked again now, not as it was when the tests were collected: each once, none that was only imported."""
    names = [record.name for record in all_formulas()]
    assert len(set(names)) == len(names) > 200
    for record in all_formulas():
        assert record.function.__module__ == f"rigcalc.formulas.{record.subject}"
