"""Formulas of timber at their limits, and against one another."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import trapezoid

from rigcalc.formulas import FormulaRangeError, Working
from rigcalc.formulas.bearings import close_bush_peak_pressure, projected_pressure
from rigcalc.formulas.sections import annulus_area, annulus_second_moment, ring_peak_shear_stress
from rigcalc.formulas.timber import (
    apparent_modulus,
    buckling_limited_stress,
    column_factor,
    column_imperfection,
    creep_deflection,
    deflection_with_shear,
    hankinson,
    hollow_form_factor,
    hollow_round_shear_stress,
    lumber_modulus_temperature_factor,
    moisture_adjusted,
    moisture_stepwise,
    nds_column_buckling_stress,
    nds_interaction,
    relative_slenderness,
    ring_bending_stress,
    round_shear_area,
    size_ratio,
    slender_interaction,
    solid_form_factor,
    solid_round_shear_stress,
    standard_size_factor,
    stocky_interaction,
    taper_bending_stress,
    taper_interaction,
    temperature_factor,
    tipping_factor,
    true_modulus,
    uniform_load_size_ratio,
)


def test_moisture_formula_meets_both_ends() -> None:
    assert moisture_adjusted(P_12=70.0, P_g=40.0, M=0.12, M_p=0.27) == 70.0
    assert moisture_adjusted(P_12=70.0, P_g=40.0, M=0.27, M_p=0.27) == pytest.approx(40.0, rel=1e-14)


def test_moisture_above_its_limit_is_refused() -> None:
    with pytest.raises(FormulaRangeError, match="as when green"):
        Working().use(moisture_adjusted, P_12=70.0, P_g=40.0, M=0.28, M_p=0.27)


def test_stepwise_moisture_is_compounded() -> None:
    assert moisture_stepwise(P=1.0, p=0.04, steps=2.0) == pytest.approx(1 / 1.0816, rel=1e-14)
    assert moisture_stepwise(P=1.0, p=0.04, steps=-1.0) == pytest.approx(1.04, rel=1e-14)


def test_two_tables_of_heat_agree() -> None:
    """Table 5-15 has 7 % less modulus of clear wood at 50 C, the fit of Table 5-16 5.7 % less of lumber."""
    clear = temperature_factor(c_50=-0.07, s_T=1.0)
    assert lumber_modulus_temperature_factor(T_F=122.0) == pytest.approx(clear, abs=0.015)
    assert lumber_modulus_temperature_factor(T_F=122.0) == pytest.approx(
        1 + 0.078553 - 0.001108 * 122, rel=1e-12
    )
    assert lumber_modulus_temperature_factor(T_F=70.0) == pytest.approx(1.0, abs=0.002)


@given(
    P=st.floats(1.0, 100.0), Q=st.floats(0.1, 1.0), n=st.floats(1.5, 2.5), theta=st.floats(0.0, math.pi / 2)
)
def test_hankinson_lies_between_along_and_across(P: float, Q: float, n: float, theta: float) -> None:
    assert hankinson(P=P, Q=Q, theta=0.0, n=n) == pytest.approx(P, rel=1e-14)
    assert hankinson(P=P, Q=Q, theta=math.pi / 2, n=n) == pytest.approx(Q, rel=1e-12)
    # below an exponent of 2 the sine and cosine add up to more than 1, and the curve may dip under Q
    assert Q * 0.8 <= hankinson(P=P, Q=Q, theta=theta, n=n) <= P * 1.2
    assert hankinson(P=P, Q=Q, theta=theta, n=2.0) == pytest.approx(
        1 / (math.sin(theta) ** 2 / Q + math.cos(theta) ** 2 / P), rel=1e-12
    )


def test_size_factors_agree() -> None:
    standard = {"h_2": 0.0508, "L_2": 0.7112, "a_2": 0.0}
    beam = {"h_1": 0.2, "L_1": 5.0, "a_1": 1.0, "m": 18.0}
    # 36125 mm2 stands for 2 x 28 in, which is 36129 mm2
    assert standard_size_factor(A_0=36125e-6, **beam) == pytest.approx(
        size_ratio(**beam, **standard), rel=1e-5
    )
    assert size_ratio(h_1=0.2, L_1=5.0, a_1=1.0, h_2=0.2, L_2=5.0, a_2=1.0, m=18.0) == 1.0


def test_even_stress_counts_nineteen_times() -> None:
    beam = {"h_u": 0.2, "L_u": 5.0, "h_c": 0.2, "L_c": 5.0}
    even, peaked = (uniform_load_size_ratio(a_c=a, **beam) for a in (5.0, 0.0))
    assert even / peaked == pytest.approx(19 ** (1 / 18), rel=1e-12)


def test_whole_mast_counts_as_a_beam_loaded_in_the_middle() -> None:
    """The span handed to the size effect, for a uniform mast under a side force at its tip.

    What counts is the eighteenth power of the moment, along the length. The moment of such a mast rises
    straight over its bury and falls straight over the rest; so does that of a centre-loaded beam.
    """
    bury, above, m = 0.9, 6.6, 18

    def counted(rise: float, fall: float) -> float:
        z = np.linspace(0.0, rise + fall, 200_001)
        moment = np.where(z < rise, z / rise, (rise + fall - z) / fall)
        return float(trapezoid(moment**m, z))

    assert counted(bury, above) == pytest.approx((bury + above) / (m + 1), rel=1e-6)
    assert counted((bury + above) / 2, (bury + above) / 2) == pytest.approx(counted(bury, above), rel=1e-6)


def test_form_factors_of_solid_shapes() -> None:
    """1.18 of a round and 1.414 of a square on its diagonal: NDS 3.3.4 and 1.4 of CPUC General Order 95."""
    D, a = 0.1, 0.1
    assert solid_form_factor(A=math.pi * D**2 / 4, S=math.pi * D**3 / 32) == pytest.approx(1.18, abs=0.005)
    assert solid_form_factor(A=a**2, S=a**3 / (6 * math.sqrt(2))) == pytest.approx(1.414, abs=5e-4)
    assert solid_form_factor(A=a**2, S=a**3 / 6) == pytest.approx(1.0, rel=1e-14)


def test_hollow_form_factor_is_one_of_a_solid_and_half_of_a_sheet() -> None:
    assert hollow_form_factor(K_f=0.3, r_w=1.0) == 1.0
    assert hollow_form_factor(K_f=1.0, r_w=0.2) == 1.0
    assert hollow_form_factor(K_f=0.0, r_w=0.0) == 0.5


def test_true_and_apparent_modulus_are_inverse_at_the_test_span() -> None:
    true = true_modulus(E_a=10.82e9)
    assert apparent_modulus(E=true, G=true / 16, r_L=14.0) == pytest.approx(10.82e9, rel=0.003)
    assert apparent_modulus(E=true, G=true / 16, r_L=1e6) == pytest.approx(true, rel=1e-9)


def test_apparent_modulus_is_that_of_the_deflection() -> None:
    E, G, b, h, L = 11e9, 0.69e9, 0.05, 0.1, 1.4
    EI, GA = E * b * h**3 / 12, G * b * h / 1.2
    deflection = deflection_with_shear(k_b=1 / 48, k_s=1 / 4, W=1.0, L=L, EI=EI, GA=GA)
    assert L**3 / (48 * deflection * b * h**3 / 12) == pytest.approx(
        apparent_modulus(E=E, G=G, r_L=L / h), rel=1e-12
    )


def test_shear_area_of_a_round_is_nine_tenths() -> None:
    assert round_shear_area(D=0.1) == pytest.approx(0.9 * math.pi * 0.1**2 / 4, rel=1e-14)


@given(k=st.floats(0.0, 0.999))
def test_shear_of_hollow_rounds(k: float) -> None:
    D = 0.1
    A = annulus_area(D=D, d=k * D)
    ours = hollow_round_shear_stress(V=1.0, A=A, k=k)
    assert ours == pytest.approx(ring_peak_shear_stress(V=1.0, D=D, d=k * D), rel=1e-9)
    assert 4 / 3 - 1e-12 <= ours * A <= 2.0
    assert hollow_round_shear_stress(V=1.0, A=A, k=0.0) == solid_round_shear_stress(V=1.0, A=A)


def test_crushing_pressure_bears_the_force() -> None:
    F, D, L = 900.0, 0.12, 0.06
    angle = np.linspace(-np.pi / 2, np.pi / 2, 20001)
    peak = close_bush_peak_pressure(F=F, D=D, L=L)
    borne = trapezoid(peak * np.cos(angle) ** 2, angle) * D / 2 * L
    assert borne == pytest.approx(F, rel=1e-8)
    assert projected_pressure(F=F, D=D, L=L) * D * L == pytest.approx(F, rel=1e-14)
    assert peak / projected_pressure(F=F, D=D, L=L) == pytest.approx(4 / math.pi, rel=1e-14)


def test_ring_between_two_forces() -> None:
    """Moment under the force by Castigliano: the mean moment of a quarter ring must not turn its ends."""
    angle = np.linspace(0, np.pi / 2, 20001)
    F, r, w, t = 2.0, 0.05, 0.03, 0.01
    # from the force at angle 0: the moment falls from M by F r sin/2; its mean over the quarter is zero
    moment = trapezoid(F * r / 2 * np.sin(angle), angle) / (np.pi / 2)
    assert ring_bending_stress(F=F, r=r, w=w, t=t) == pytest.approx(6 * moment / (w * t**2), rel=1e-8)


def test_tapered_edge_is_bending_where_the_depth_has_doubled() -> None:
    b, h_0, M = 0.05, 0.1, 700.0
    assert taper_bending_stress(M=M, b=b, h_0=h_0) == pytest.approx(M / (b * (2 * h_0) ** 2 / 6), rel=1e-14)
    for shares in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (0.6, 0.0, 0.8), (0.0, 0.6, 0.8)):
        assert taper_interaction(*shares) == pytest.approx(1.0, rel=1e-14)


@given(F_c=st.floats(1.0, 100.0), f_e=st.floats(0.01, 1e4), c=st.floats(0.8, 0.99))
def test_column_stress_is_under_crushing_and_buckling(F_c: float, f_e: float, c: float) -> None:
    stress = buckling_limited_stress(F_c=F_c, f_e=f_e, c=c)
    assert 0 < stress <= min(F_c, f_e) * (1 + 1e-9)
    assert buckling_limited_stress(F_c=F_c, f_e=f_e * 1.01, c=c) >= stress * (1 - 1e-12)


def test_column_stress_at_its_ends() -> None:
    assert buckling_limited_stress(F_c=1.0, f_e=1e5, c=0.8) == pytest.approx(1.0, abs=1e-4)
    assert buckling_limited_stress(F_c=1.0, f_e=1e-4, c=0.8) == pytest.approx(1e-4, rel=1e-3)


def test_nds_buckling_stress_is_that_of_euler() -> None:
    # r is d/sqrt(12) of a rectangle; 0.822 is pi2/12 printed to three digits
    slenderness = 2.0 / (0.1 / math.sqrt(12))
    assert nds_column_buckling_stress(E_min=4e9, l_e=2.0, d=0.1) == pytest.approx(
        math.pi**2 * 4e9 / slenderness**2, rel=1e-3
    )


def test_stocky_column_is_not_reduced() -> None:
    assert column_factor(k_y=column_imperfection(lambda_rel=0.3, beta_c=0.2), lambda_rel=0.3) == 1.0


@given(lambda_rel=st.floats(0.31, 5.0))
def test_slender_column_is_under_euler(lambda_rel: float) -> None:
    k_c = column_factor(k_y=column_imperfection(lambda_rel=lambda_rel, beta_c=0.2), lambda_rel=lambda_rel)
    assert 0 < k_c < min(1.0, 1 / lambda_rel**2)


def test_relative_slenderness_is_one_where_buckling_meets_crushing() -> None:
    assert relative_slenderness(slenderness=math.pi * math.sqrt(7.4e9 / 21e6), f_c0k=21e6, E_005=7.4e9) == (
        pytest.approx(1.0, rel=1e-14)
    )


@pytest.mark.parametrize("other", [0.0, 0.4])
def test_interactions_are_filled_by_each_share_alone(other: float) -> None:
    assert stocky_interaction(r_c=0.0, r_my=1.0 - other, r_mz=other, k_m=1.0) == pytest.approx(1.0)
    assert stocky_interaction(r_c=1.0, r_my=0.0, r_mz=0.0, k_m=0.7) == 1.0
    assert stocky_interaction(r_c=0.5, r_my=0.4, r_mz=0.5, k_m=0.7) == pytest.approx(1.0, rel=1e-14)
    assert slender_interaction(r_c=0.4, k_c=0.4, r_my=0.0, r_mz=0.0, k_m=0.7) == 1.0
    assert slender_interaction(r_c=0.0, k_c=0.4, r_my=1.0 - other, r_mz=other, k_m=1.0) == pytest.approx(1.0)
    assert nds_interaction(f_c=0.0, F_c=5.0, f_b=7.0, F_b=7.0, F_cE=3.0) == 1.0
    assert nds_interaction(f_c=5.0, F_c=5.0, f_b=0.0, F_b=7.0, F_cE=9.0) == 1.0


@given(r_c=st.floats(0.0, 1.0), r_m=st.floats(0.0, 1.0))
def test_slender_form_asks_more_than_the_stocky_one(r_c: float, r_m: float) -> None:
    stocky = stocky_interaction(r_c=r_c, r_my=r_m, r_mz=0.0, k_m=1.0)
    assert stocky <= slender_interaction(r_c=r_c, k_c=1.0, r_my=r_m, r_mz=0.0, k_m=1.0)


def test_column_at_its_buckling_load_is_refused() -> None:
    with pytest.raises(FormulaRangeError, match="the column buckles"):
        Working().use(nds_interaction, f_c=3.0, F_c=5.0, f_b=1.0, F_b=7.0, F_cE=3.0)


def test_tipping_factor_joins_its_neighbours() -> None:
    assert tipping_factor(lambda_m=0.75) == pytest.approx(1.0, abs=0.003)
    assert tipping_factor(lambda_m=1.4) == pytest.approx(1 / 1.4**2, abs=0.001)


def test_creep_of_a_passing_load_is_nothing() -> None:
    assert creep_deflection(u=0.2, k_def=2.0, psi_2=0.0) == 0.2
    assert creep_deflection(u=0.2, k_def=2.0, psi_2=1.0) == pytest.approx(0.6)


def test_hollow_spar_tables() -> None:
    """Section modulus of a hollow round over a solid of the same and of 1/1.1 of its diameter, worked by hand."""

    def modulus(D: float, wall_share: float) -> float:
        return float(annulus_second_moment(D=D, d=D * (1 - 2 * wall_share)) / (D / 2))

    solid = modulus(1.0, 0.5)
    assert modulus(1.0, 0.20) / solid == pytest.approx(0.870, abs=5e-4)
    assert modulus(1.1, 0.20) / solid == pytest.approx(1.159, abs=5e-4)
    assert modulus(1.1, 0.15) / solid == pytest.approx(1.011, abs=5e-4)
