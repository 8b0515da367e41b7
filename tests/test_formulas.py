"""What every formula must be: homogeneous in its units, recorded, traceable, and itself at its limits.

The formulas are found through the registry, so a new one is tested as soon as it is filed; all it needs
here is a sample value for each argument that `SAMPLES` does not already know.
"""

from __future__ import annotations

import ast
import math
import re
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, NoReturn

import numpy as np
import pytest
import sympy

import rigcalc.formulas
from rigcalc.formulas import (
    SUBJECTS,
    Formula,
    FormulaRangeError,
    Range,
    Screening,
    Value,
    Working,
    all_formulas,
    formula,
    record_of,
)
from rigcalc.formulas.beams import (
    cowper_shear_coefficient,
    euler_load,
    overhang_tip_deflection,
    partners_force,
    step_force,
)
from rigcalc.formulas.metals import (
    hole_axial_factor,
    hole_bending_factor,
    hole_torsion_factor,
    local_buckling_factor,
    strength_parameter,
    tube_slenderness,
)
from rigcalc.formulas.record import Kilogram, Metre, Newton, NewtonMetre
from rigcalc.formulas.sails import heel_falloff
from rigcalc.formulas.sections import (
    annulus_area,
    annulus_plastic_modulus,
    annulus_second_moment,
    annulus_torsion_constant,
    bredt_shear_flow,
    ring_peak_shear_stress,
    torsion_stress,
    von_mises_stress,
)
from rigcalc.formulas.shells import (
    axial_knockdown,
    bending_knockdown,
    cylinder_interaction,
    long_cylinder_torsion_stress,
)
from rigcalc.formulas.stability import roll_period, wall_sided_gz
from rigcalc.formulas.wind import log_law_speed, power_law_speed, wind_pressure

# Sample arguments, SI, by name and unit; they lie inside every range of the formulas that take them.
SAMPLES: dict[str, dict[str, float]] = {
    "1": {
        "epsilon_x": 0.002,
        "gamma_x": 0.0004,
        "gamma_12": 0.0006,
        "epsilon_1": 0.0018,
        "epsilon_2": -0.0004,
        "u": 0.7,
        "I": 0.6,
        "D_1": 0.3,
        "D_2": 0.2,
        "k_d": 1.2,
        "k_g": 1.4,
        "K_b": 2.8,
        "K_a": 3.1,
        "K_t": 4.2,
        "beta": 18.0,
        "rho_c": 0.9,
        "de": 0.0005,
        "C_L": 1.1,
        "K_w": 0.4,
        "Sc": 30.0,
        "St": 0.18,
        "c_lat": 0.7,
        "delta": 0.02,
        "n": 1.3,
        "C_1": 32.0,
        "C_2": 220.0,
        "C_D": 1.2,
        "K": 2.0,
        "R_b": 0.3,
        "R_c": 0.2,
        "R_t": 0.4,
        "alpha": 0.11,
        "factor": 7.0,
        "gamma": 1.1,
        "m": 0.9,
        "nu": 0.3,
        "required": 3.0,
        "share": 0.07,
        "x": 25.0,
        "C_f": 2.0,
        "G_M": 0.4,
        "G_b": 0.37,
        "K_f": 0.6,
        "M": 0.1,
        "M_f": 0.3,
        "M_p": 0.27,
        "T_F": 100.0,
        "V": 0.16,
        "beta_c": 0.2,
        "c": 0.8,
        "c_50": -0.2,
        "k": 0.6,
        "k_b": 0.125,
        "k_c": 0.4,
        "k_def": 0.8,
        "k_m": 0.7,
        "k_mod": 0.7,
        "k_s": 0.5,
        "k_y": 1.4,
        "lambda_m": 1.2,
        "lambda_rel": 1.1,
        "p": 0.039,
        "psi_2": 0.2,
        "r_L": 14.0,
        "r_c": 0.3,
        "r_my": 0.4,
        "r_mz": 0.2,
        "r_w": 0.25,
        "r_x": 0.5,
        "r_xy": 0.3,
        "r_y": 0.1,
        "s": 0.2,
        "s_T": 0.5,
        "slenderness": 80.0,
        "steps": 3.0,
        "z_p": 1.645,
        "d": 400.0,
        "g": 11.6,
        "N_C": 2e6,
        "R": -0.5,
        "N": 100000.0,
        "V_f": 0.5,
        "V_m": 0.48,
        "a": 0.3,
        "b": 0.1,
        "epsilon": 0.004,
        "epsilon_u": 0.025,
        "f": -0.5,
        "k_1": 1.5,
        "k_2": 1.3,
        "k_3": 1.05,
        "k_4": 1.27,
        "k_5": 1.5,
        "nu_12": 0.26,
        "nu_f": 0.22,
        "nu_m": 0.35,
        "nu_xy": 0.3,
        "nu_yx": 0.12,
        "phi": 0.4,
        "psi": 0.7,
        "xi": 2.0,
        "S": 40.0,
        "k_all": 0.4,
        "epsilon_b": 0.02,
        "epsilon_h": 0.003,
        "epsilon_s": 0.0007,
        "mu": 0.15,
        "turns": 9.0,
        "nu_1": 0.33,
        "nu_2": 0.36,
        "Z": 12.0,
        "k_p": 0.85,
        "parts": 2.0,
        "eta": 0.8,
        "kappa": 0.9,
    },
    "rad": {
        "beta": 0.5,
        "beta_t": 0.9,
        "phi": 0.4,
        "alpha": 0.1,
        "theta": 0.1,
        "psi": 0.7,
    },
    "m": {
        "y_s": 0.05,
        "y_f": 0.06,
        "L_e": 0.08,
        "D_0": 0.09,
        "f": 0.25,
        "h_e": 6.5,
        "B": 2.4,
        "BM": 1.3,
        "D": 0.12,
        "D_m": 0.116,
        "GM": 0.9,
        "GZ": 0.35,
        "L": 9.0,
        "a": 7.5,
        "b": 1.1,
        "d": 0.1,
        "h": 6.0,
        "h_ref": 10.0,
        "k": 0.95,
        "r": 0.055,
        "rise": 0.06,
        "t": 0.002,
        "w": 0.012,
        "y": 0.05,
        "z": 4.0,
        "z_0": 0.0002,
        "L_1": 7.5,
        "L_2": 0.711,
        "L_c": 4.0,
        "L_u": 7.5,
        "a_1": 2.0,
        "a_2": 0.1,
        "a_c": 1.0,
        "h_0": 0.07,
        "h_1": 0.12,
        "h_2": 0.05,
        "h_c": 0.1,
        "h_r": 0.15,
        "h_u": 0.12,
        "l_e": 2.2,
        "l_ef": 4.9,
        "u": 0.2,
        "W": 0.15,
        "a_i": 0.09,
        "b_i": 0.06,
        "H": 0.18,
        "R": 0.06,
        "l_t": 0.2,
        "lambda_p": 0.04,
        "c": 0.0005,
        "delta_1": 0.0002,
        "delta_2": 0.0003,
        "i": 0.0002,
        "x": 0.0004,
        "e": 0.0003,
        "R_1": 0.02,
        "R_2": 0.05,
        "d_p": 0.012,
        "delta": 0.0002,
        "D_d": 0.18,
        "D_k": 0.19,
        "l": 0.3,
        "D_b": 0.22,
        "t_1": 0.004,
        "t_2": 0.003,
        "R_m": 0.03,
        "r_1": 0.06,
        "r_2": 0.03,
        "s": 6.0,
    },
    "m2": {
        "A_F": 9.0,
        "A": 0.0015,
        "A_m": 0.008,
        "A_0": 0.036125,
        "A_1": 0.0001,
        "r2_sum": 0.04,
    },
    "m4": {
        "I": 2e-06,
        "J": 4e-06,
        "I_a": 3e-05,
        "I_b": 2e-05,
        "I_B": 2e-05,
        "I_H": 4e-05,
    },
    "kg": {
        "M": 1500.0,
        "m": 40.0,
    },
    "kg/m": {
        "m": 3.0,
    },
    "s": {
        "T": 2.5,
        "t": 600.0,
        "t_1": 1.0,
        "t_d": 21600.0,
    },
    "Hz": {
        "n": 2.4,
    },
    "N/m": {
        "Et": 90000000.0,
        "w": 60.0,
        "A_11": 90000000.0,
        "A_12": 8000000.0,
        "A_22": 30000000.0,
        "A_66": 12000000.0,
        "N_cr": 1500000.0,
        "Gb": 90000000.0,
        "q": 50000.0,
        "W": 70000.0,
        "n": 20000.0,
        "s": 300.0,
    },
    "kg/m3": {
        "rho": 1.225,
        "rho_w": 1000.0,
        "rho_f": 2540.0,
        "rho_m": 1150.0,
    },
    "N": {
        "m_y": 90.0,
        "F_l": 300.0,
        "F_f": 250.0,
        "F_a": 900.0,
        "F_r": -350.0,
        "F_w": 60.0,
        "F_s": 700.0,
        "EA_o": 4e7,
        "EA": 100000000.0,
        "F": 800.0,
        "N": 1500.0,
        "V": 700.0,
        "GA": 4000000.0,
        "W": 900.0,
        "B_11": 2000.0,
        "B_12": 500.0,
        "B_22": -1000.0,
        "B_66": 400.0,
        "Q": 1500.0,
        "B": 12000.0,
        "P": 200.0,
        "F_b": 900.0,
        "R_u": 4000.0,
        "m": 900.0,
    },
    "N m": {
        "M_l": 1500.0,
        "M_f": 2300.0,
        "M_a": 4100.0,
        "M_r": -1800.0,
        "M_w": 200.0,
        "M_0": 4000.0,
        "M_s": 2500.0,
        "M": 5000.0,
        "M_p": 4800.0,
        "RM": 5200.0,
        "EQ": 1500000.0,
        "T": 300.0,
        "D_11": 60.0,
        "D_12": 6.0,
        "D_22": 20.0,
        "D_66": 8.0,
        "M_1": 2900.0,
        "M_2": 3300.0,
        "C": 250.0,
        "M_t": 3000.0,
    },
    "N m2": {
        "EI_s": 110000.0,
        "EI_f": 150000.0,
        "EI_i": 90000.0,
        "EI": 140000.0,
        "EI_1": 53000.0,
        "EI_2": 121000.0,
        "EI_crept": 90000.0,
        "EI_p": 20000.0,
        "EI_t": 120000.0,
        "GJ": 110000.0,
    },
    "Pa": {
        "G_12": 4100000000.0,
        "sigma_v": 95000000.0,
        "sigma_cl": 900000000.0,
        "sigma_N": 5000000.0,
        "sigma_b": 85000000.0,
        "tau_T": 6000000.0,
        "tau_1": 3000000.0,
        "tau_2": 2000000.0,
        "tau_3": 1000000.0,
        "E": 70000000000.0,
        "G": 27000000000.0,
        "f": 240000000.0,
        "f_0": 240000000.0,
        "f_250": 250000000.0,
        "q": 150.0,
        "sigma": 90000000.0,
        "tau": 20000000.0,
        "E_005": 7400000000.0,
        "E_a": 10800000000.0,
        "E_min": 4000000000.0,
        "F_b": 15000000.0,
        "F_c": 11000000.0,
        "F_cE": 9000000.0,
        "G_LR": 760000000.0,
        "G_LT": 720000000.0,
        "P": 40000000.0,
        "P_12": 70300000.0,
        "P_g": 39300000.0,
        "Q": 3000000.0,
        "f_b": 6000000.0,
        "f_c": 2000000.0,
        "f_c0k": 21000000.0,
        "f_e": 12000000.0,
        "f_k": 24000000.0,
        "f_mk": 24000000.0,
        "f_t90": 400000.0,
        "f_x": 9000000.0,
        "sigma_crit": 14000000.0,
        "sigma_cr": 14000000.0,
        "E_L": 11000000000.0,
        "E_T": 500000000.0,
        "G_p": 700000000.0,
        "G_t": 680000000.0,
        "E_1": 38600000000.0,
        "E_2": 8270000000.0,
        "E_f1": 73000000000.0,
        "E_f2": 72000000000.0,
        "E_m": 3300000000.0,
        "E_x": 30000000000.0,
        "E_y": 12000000000.0,
        "F_f": 2100000000.0,
        "G_f": 30000000000.0,
        "G_m": 1250000000.0,
        "G_xy": 5000000000.0,
        "P_f": 73000000000.0,
        "P_m": 3300000000.0,
        "Q_11": 39000000000.0,
        "Q_12": 2200000000.0,
        "Q_22": 8400000000.0,
        "Q_66": 4100000000.0,
        "S": 72000000.0,
        "S_t": 50000000.0,
        "X": 1062000000.0,
        "X_c": 610000000.0,
        "X_t": 1050000000.0,
        "Y": 31000000.0,
        "Y_c": 118000000.0,
        "sigma_1": 300000000.0,
        "sigma_2": 12000000.0,
        "tau_12": 20000000.0,
        "S_C": 71000000.0,
        "sigma_w": 150000000.0,
        "sigma_x": 110000000.0,
        "E_l": 4500000000.0,
        "p": 2000000.0,
        "p_0": 5000000.0,
        "E_s": 3000000000.0,
        "f_y": 205000000.0,
    },
    "m/s": {
        "V_b": 2.5,
        "V_t": 9.0,
        "v": 15.0,
        "v_ref": 12.0,
        "V": 0.05,
    },
    "m/s2": {
        "g": 9.80665,
    },
    "m2/s": {
        "nu": 1.5e-05,
    },
    "m3": {
        "S_F": 45.0,
        "S": 0.00017,
    },
    "1/m": {
        "kappa_y": 0.3,
        "k_o": 6.0,
        "k_x": 60.0,
        "k_y": 55.0,
    },
    "kg/m2": {
        "W": 0.6,
    },
    "1/Pa": {
        "F_1": -7e-10,
        "F_2": 2.4e-08,
        "k_w": 1.3e-15,
    },
    "1/Pa2": {
        "F_11": 1.5e-18,
        "F_22": 2.7e-16,
        "F_12": -1e-17,
        "F_66": 1.9e-16,
    },
    "N/m3": {
        "k": 500000000000.0,
    },
    "Pa m/s": {
        "PV": 105000.0,
    },
    "K": {
        "dT": 35.0,
    },
    "1/K": {
        "alpha": 0.00011,
    },
}

# Where one name and one unit mean different things.
OVERRIDES: dict[str, dict[str, float]] = {
    "box_metacentric_radius": {"d": 0.5},  # draught, not bore
    "induced_drag_coefficient": {"A": 9.0},  # of a sail, not of a section
    "leech_tension": {"L": 5.0},
    "roll_diameter": {"L": 2.5, "t": 1e-3},  # of cloth, not of a wall
    "roll_turns": {"L": 2.5, "t": 1e-3},
    "shedding_sway": {"K": 0.13},  # mode factor, not length factor
    "curve_range": {"m": 7.0, "N": 5e6},
    "cycles_borne": {"m": 7.0},
    "slope_past_the_knee": {"m": 3.4},
    "narrow_band_damage": {"m": 7.0, "n": 5e6},
    "wall_bending_stress": {"b": 0.2, "k": 0.065},
    "flattening": {"b": 0.2},
    "depth_factor": {"h": 0.1},
    "hankinson": {"n": 2},
    "size_ratio": {"m": 18},
    "standard_size_factor": {"m": 18},
    "power_fatigue_factor": {"m": 10.0},
    "polygon_area": {"n": 8.0, "w": 0.15},
    "polygon_second_moment": {"n": 8.0, "w": 0.15},
    "polygon_across_corners": {"n": 8.0, "w": 0.15},
    "polygon_torsion_constant": {"n": 8.0, "w": 0.11},
    "polygon_torsion_arm": {"n": 8.0, "w": 0.11},
    "polygon_peak_shear_stress": {"V": 2000.0, "n": 8.0, "w": 0.11},
    "polygon_worst_fibre": {"n": 8.0, "I": 2e-05},
    "turned_mean_area": {"n": 8.0, "D": 0.16, "w": 0.11},
    "turned_torsion_constant": {"n": 8.0, "D": 0.16, "w": 0.11},
    "turned_torsion_arm": {"n": 8.0, "D": 0.16, "w": 0.11},
    "turned_peak_shear_stress": {"V": 2000.0, "n": 8.0, "D": 0.16, "w": 0.11},
    "ellipse_area": {"a": 0.1, "b": 0.07},
    "ellipse_second_moment": {"a": 0.1, "b": 0.07},
    "ellipse_bar_torsion_constant": {"a": 0.1, "b": 0.07},
    "ellipse_bar_torsion_arm": {"a": 0.1, "b": 0.07},
    "ellipse_wall_integral": {"a": 0.1, "b": 0.07},
    "bredt_torsion_constant": {"A_m": 0.02},
    "ellipse_torsion_constant": {"a": 0.1, "b": 0.07},
    "ellipse_torsion_arm": {"a": 0.1, "b": 0.07},
    "ellipse_peak_shear_stress": {"V": 2000.0, "a": 0.1, "b": 0.07},
    "ellipse_worst_fibre": {"a": 0.1, "b": 0.07},
    "box_area": {"B": 0.12, "b": 0.09, "h": 0.14},
    "box_second_moment": {"B": 0.12, "b": 0.09, "h": 0.14},
    "rectangle_torsion_constant": {"a": 0.18, "b": 0.12},
    "rectangle_torsion_arm": {"a": 0.18, "b": 0.12},
    "box_wall_integral": {"B": 0.12, "b": 0.09, "h": 0.14},
    "box_torsion_constant": {"B": 0.12, "b": 0.09, "h": 0.14},
    "box_torsion_arm": {"B": 0.12, "b": 0.09, "h": 0.14},
    "box_peak_shear_stress": {"V": 2000.0, "B": 0.12, "b": 0.09, "h": 0.14},
    "box_worst_fibre": {"B": 0.12},
    "projected_pressure": {"L": 0.08},
    "close_bush_peak_pressure": {"L": 0.08},
    "bush_foundation": {"t": 0.008},
    "bush_contact_load": {"L": 0.08},
    "bush_peak_pressure": {"L": 0.08},
    "tilted_edge_pressure": {"k": 1000000000.0, "L": 0.08},
    "wedged_edge_pressure": {"L": 0.08},
    "jammed_bush_couple": {"L": 0.08},
    "jammed_edge_force": {"L": 0.08},
    "sliding_speed": {"n": 0.1},
    "bush_grip": {"t": 0.008},
    "gripped_bore_loss": {"t": 0.008},
    "seat_half_width": {"R_1": 0.05, "R_2": 0.06},
    "roller_squeeze": {"R": 0.015, "a": 0.001, "E": 2700000000.0, "nu": 0.36},
    "largest_roller_load": {"S": 4.5},
    "pinned_roller_torque": {"d": 0.03},
    "caged_roller_torque": {"d": 0.03},
    "hysteresis_arm": {"a": 0.001},
    "ring_effective_length": {"L": 0.06, "t": 0.004},
    "grained_effective_length": {"L": 0.06, "t": 0.004},
    "ring_moment_at": {"theta": 0.3},
    "even_pressure_arm": {"R_1": 0.03, "R_2": 0.05},
    "even_wear_arm": {"R_1": 0.03, "R_2": 0.05},
    "even_thrust_pressure": {"R_1": 0.03, "R_2": 0.05},
    "worn_thrust_pressure": {"R_1": 0.03, "R_2": 0.05},
    "cone_friction_torque": {"alpha": 0.8},
    "cone_side_force": {"alpha": 0.8},
    "hold_down_force": {"phi": 2.5},
    "mast_overlap_moment": {"z": 0.4},
    "post_moment": {"z": 0.4},
    "bolt_direct_shear": {"n": 8.0},
    "bolt_circle_shear": {"n": 8.0},
    "bolt_circle_tension": {"n": 8.0},
    "bolt_shear_stress": {"d": 0.01},
    "hole_bearing_stress": {"d": 0.01, "t": 0.006},
    "pad_edge_pressure": {"P": 2000.0, "M": 60.0},
    "lifted_pad_pressure": {"P": 2000.0, "M": 200.0},
    "rolled_length": {"t": 0.001},
    "stepped_rolled_length": {"t": 0.001, "n": 9.0},
    "drum_turns_in_layer": {"w": 0.05, "d": 0.006},
    "drum_layer_diameter": {"d": 0.006, "k": 2.0},
    "purchase_efficiency": {"x": 0.09},
    "sheaves_pull": {"x": 0.09, "S": 3.0},
    "sheeted_cloth_tension": {"p": 100.0, "l": 2.0},
    "flogging_cloth_tension": {"p": 100.0, "l": 2.0, "C_f": 0.2},
    "stave_width": {"n": 8.0},
    "stave_bevel": {"n": 8.0},
    "stave_edge_angle": {"n": 8.0},
    "corner_height": {"n": 8.0},
    "scarf_length": {"t": 0.03, "m": 12.5},
    "developed_radius": {"x": 0.004},
    "arc_chord": {"w": 0.05},
    "arc_height": {"w": 0.05},
    "bias_strip_length": {"B": 1.27, "theta": 0.8},
    "bias_roll_length": {"w": 0.4, "theta": 0.8},
}

FORMULAS = all_formulas()


def each_formula(test: Callable[..., None]) -> Any:
    return pytest.mark.parametrize("record", FORMULAS, ids=lambda record: record.name)(test)


def sample(record: Formula) -> dict[str, Any]:
    """Return sample arguments of a formula; fail where the tables above know none."""
    known = OVERRIDES.get(record.name, {})
    found = {
        name: known.get(name, SAMPLES.get(unit, {}).get(name)) for name, unit in record.arguments.items()
    }
    missing = [f"{name} [{record.arguments[name]}]" for name, value in found.items() if value is None]
    if missing:
        pytest.fail(
            f"{record.subject}.{record.name} has no sample value for {', '.join(missing)}: add it to "
            "SAMPLES, or to OVERRIDES where the name already means something else"
        )
    return {name: value for name, value in found.items() if value is not None}


# ---------------------------------------------------------------- (a) the same physics in any units

BASE = {
    # exponents of metre, kilogram and second
    "m": (1, 0, 0),
    "kg": (0, 1, 0),
    "s": (0, 0, 1),
    "rad": (0, 0, 0),
    "N": (1, 1, -2),
    "Pa": (-1, 1, -2),
    "Hz": (0, 0, -1),
    "K": (0, 0, 0),  # none of the systems below has another kelvin
    "1": (0, 0, 0),
}


def dimensions(unit: str) -> tuple[int, int, int]:
    """Return the exponents of metre, kilogram and second in a unit like ``N m2`` or ``kg/m3``."""
    total = [0, 0, 0]
    above, *below = unit.split("/")
    assert len(below) <= 1, f"more than one stroke in the unit {unit!r}"
    for sign, part in zip((1, -1), (above, *below), strict=False):
        for factor in part.split():
            match = re.fullmatch(r"([A-Za-z]+|1)(\d*)", factor)
            assert match, f"unit {unit!r} not understood at {factor!r}"
            symbol, power = match[1], sign * int(match[2] or 1)
            assert symbol in BASE, f"unknown symbol {symbol!r} in the unit {unit!r}"
            total = [have + power * more for have, more in zip(total, BASE[symbol], strict=True)]
    return total[0], total[1], total[2]


def size(unit: str, system: tuple[float, float, float]) -> float:
    """Return how many of a system's units one SI unit makes."""
    return math.prod(scale**power for scale, power in zip(system, dimensions(unit), strict=True))


def demand_homogeneous(
    record: Formula, arguments: Mapping[str, float], system: tuple[float, float, float]
) -> None:
    in_si = record.function(**arguments)
    elsewhere = record.function(
        **{name: value * size(record.arguments[name], system) for name, value in arguments.items()}
    )
    assert np.isfinite(in_si)
    assert in_si != 0.0, "a result of nothing scales with anything"
    assert elsewhere == pytest.approx(in_si * size(record.unit, system), rel=1e-12, abs=0.0), (
        f"{record.subject}.{record.name} does not scale as {record.unit} when metre, kilogram and second are "
        f"scaled by {system}"
    )


_RANDOM = np.random.default_rng(19)
SYSTEMS: list[tuple[float, float, float]] = [
    (float(metre), float(kilogram), float(second))
    for metre, kilogram, second in 10.0 ** _RANDOM.uniform(-1.5, 1.5, (4, 3))
]


@pytest.mark.parametrize("system", SYSTEMS, ids=lambda s: "-".join(f"{scale:.3g}" for scale in s))
@each_formula
def test_formula_is_homogeneous(record: Formula, system: tuple[float, float, float]) -> None:
    demand_homogeneous(record, sample(record), system)


@pytest.mark.parametrize(
    ("unit", "expected"),
    [
        ("1", (0, 0, 0)),
        ("rad", (0, 0, 0)),
        ("1/m", (-1, 0, 0)),
        ("kg/m3", (-3, 1, 0)),
        ("m2/s", (2, 0, -1)),
        ("N m2", (3, 1, -2)),
        ("N/m", (0, 1, -2)),
        ("Pa", (-1, 1, -2)),
        ("Hz", (0, 0, -1)),
    ],
)
def test_units_are_understood(unit: str, expected: tuple[int, int, int]) -> None:
    assert dimensions(unit) == expected


def test_unknown_unit_is_not_taken_as_a_number() -> None:
    with pytest.raises(AssertionError, match="unknown symbol 'ft'"):
        dimensions("N/ft")


@formula("x", unit="m", source="made up: a length and a bare number do not add")
def hidden_metre(h: Metre, b: Metre) -> Metre:
    """Show a constant that hides a unit."""
    return h + b + 1.0


@formula("x", unit="N", source="made up: a moment is not a force")
def mislabelled(F: Newton, h: Metre) -> Newton:
    """Show a result with the wrong unit declared."""
    return F * h


@formula("x", unit="N m", source="made up: the wrong unit stands at an argument")
def mislabelled_argument(F: Newton, t: Newton) -> NewtonMetre:
    """Show an argument with the wrong unit declared."""
    return F * t


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (hidden_metre, {"h": 6.0, "b": 1.0}),
        (mislabelled, {"F": 800.0, "h": 6.0}),
        (mislabelled_argument, {"F": 800.0, "t": 6.0}),
    ],
)
def test_homogeneity_is_able_to_fail(function: Callable[..., Value], arguments: dict[str, float]) -> None:
    with pytest.raises(AssertionError, match="does not scale as"):
        demand_homogeneous(record_of(function), arguments, SYSTEMS[0])


@formula("x", unit="kg", source="made up: no sample is known")
def never_sampled(novelty: Kilogram) -> Kilogram:
    """Show a formula added without sample values."""
    return novelty


def test_new_formula_without_samples_fails() -> None:
    with pytest.raises(pytest.fail.Exception, match=r"never_sampled has no sample value for novelty \[kg\]"):
        sample(record_of(never_sampled))


@each_formula
def test_samples_lie_inside_the_ranges(record: Formula) -> None:
    working = Working()
    working.use(record.function, **sample(record))
    assert list(working.warnings) == []


def test_no_sample_is_stale() -> None:
    used = {(unit, name) for record in FORMULAS for name, unit in record.arguments.items()}
    assert {(unit, name) for unit, names in SAMPLES.items() for name in names} - used == set()
    by_name = {record.name: record for record in FORMULAS}
    assert set(OVERRIDES) <= set(by_name)
    assert all(set(values) <= set(by_name[name].arguments) for name, values in OVERRIDES.items())


# ---------------------------------------------------------------- (b) the record


@each_formula
def test_record_is_complete(record: Formula) -> None:
    assert record.symbol.strip()
    assert record.source.strip()
    assert record.summary.endswith(".")
    assert record.subject in SUBJECTS
    dimensions(record.unit)
    assert list(record.arguments) == list(
        record.function.__code__.co_varnames[: record.function.__code__.co_argcount]
    )
    for unit in record.arguments.values():
        dimensions(unit)
    for limit in record.ranges:
        assert limit.low < limit.high
        assert np.isfinite(limit.low) or np.isfinite(limit.high)
        assert limit.why.strip()


def test_registry_holds_every_formula_once() -> None:
    names = [record.name for record in FORMULAS]
    assert len(names) == len(set(names))
    written = sum(
        path.read_text(encoding="utf-8").count("\n@formula(")
        for path in FOLDER.glob("*.py")
        if path.stem in SUBJECTS
    )
    assert len(names) == written
    assert {path.stem for path in FOLDER.glob("*.py")} == {*SUBJECTS, "__init__", "record", "meanings"}


def test_return_annotation_must_say_the_unit() -> None:
    with pytest.raises(TypeError, match="return annotation does not say 'N m'"):

        @formula("x", unit="N m", source="made up")
        def wrong(F: Newton) -> Newton:
            """Say one unit and return another."""
            return F


# ---------------------------------------------------------------- (c) Working


@formula(
    "y",
    unit="m",
    source="made up",
    ranges=(
        Range("a/b", lambda a, b, **_: a / b, 1.0, 10.0, "warn", "the fit ends there"),
        Range("b", lambda b, **_: b, 0.5, np.inf, "refuse", "there is nothing below"),
    ),
)
def ranged(a: Metre, b: Metre) -> Metre:
    """Add two lengths."""
    return a + b


def test_working_records_what_was_worked() -> None:
    working = Working()
    assert working.use(ranged, a=4.0, b=2.0) == 6.0
    assert working.use(wind_pressure, rho=1.2, v=10.0) == 60.0
    assert not working.warnings
    assert [(step.formula.name, dict(step.arguments), step.value) for step in working.steps] == [
        ("ranged", {"a": 4.0, "b": 2.0}, 6.0),
        ("wind_pressure", {"rho": 1.2, "v": 10.0}, 60.0),
    ]


@pytest.mark.parametrize("ratio", [1.0, 10.0])
def test_bounds_themselves_are_inside(ratio: float) -> None:
    working = Working()
    working.use(ranged, a=ratio, b=1.0)
    assert not working.warnings


@pytest.mark.parametrize("ratio", [0.999, 10.01])
def test_warning_says_what_left_which_bounds(ratio: float) -> None:
    working = Working()
    assert working.use(ranged, where="partners", a=ratio, b=1.0) == ratio + 1.0
    (text,) = working.warnings
    assert text.startswith("partners: Add two lengths (ranged)")
    assert f"a/b = {ratio:.4g}" in text
    assert "outside 1 <= a/b <= 10" in text
    assert "the fit ends there" in text


def test_same_warning_is_kept_once() -> None:
    working = Working()
    for _ in range(3):
        working.use(ranged, a=20.0, b=1.0)
    assert len(working.warnings) == 1
    assert len(working.steps) == 3


def test_refused_range_has_no_result() -> None:
    working = Working()
    with pytest.raises(FormulaRangeError, match=r"b = 0\.4, outside 0\.5 <= b; there is nothing below"):
        working.use(ranged, a=1.0, b=0.4)
    assert not working.steps


def test_not_a_number_is_outside() -> None:
    working = Working()
    for infinite in (np.nan, np.inf):
        with pytest.raises(FormulaRangeError, match="b is not finite"):
            working.use(ranged, a=np.array([1.0, 1.0]), b=np.array([1.0, infinite]))
    assert not working.steps
    with pytest.raises(FormulaRangeError, match=r"here: .*b is not finite"):
        working.use(partners_force, where="here", F=1.0, h=1.0, b=math.nan)
    # an argument that has a value may still leave the result without one
    with np.errstate(over="ignore"), pytest.raises(FormulaRangeError, match="q is not finite"):
        working.use(wind_pressure, rho=1.0, v=np.float64(1e200))


def test_arrays_are_watched_at_every_place() -> None:
    working = Working()
    value = working.use(ranged, a=np.array([2.0, 5.0, 30.0]), b=1.0)
    np.testing.assert_array_equal(value, [3.0, 6.0, 31.0])
    (text,) = working.warnings
    assert "a/b = 30," in text
    with pytest.raises(FormulaRangeError, match=r"b = 0\.25"):
        working.use(ranged, a=1.0, b=np.array([[1.0], [0.25]]))


def test_screening_has_no_value_where_a_formula_refuses() -> None:
    """At the bound it has one still; what a range only warns of is let pass, and nothing is kept."""
    screening = Screening()
    value = screening.use(ranged, a=np.array([1.0, 1.0, 1.0, 90.0]), b=np.array([0.4, 0.5, 2.0, 3.0]))
    np.testing.assert_array_equal(value, [np.nan, 1.5, 3.0, 93.0])
    assert np.isnan(screening.use(ranged, a=1.0, b=0.4))
    assert screening.use(ranged, a=1.0, b=0.5) == 1.5
    with np.errstate(all="raise"):
        # what is above the upper bound, and what is no number
        value = screening.use(heel_falloff, phi=np.array([1.6, math.pi / 2, 0.0, np.nan]), n=2.0)
    np.testing.assert_allclose(value, [np.nan, 0.0, 1.0, np.nan], atol=1e-15)
    assert not screening.warnings
    assert not screening.steps


def test_range_open_to_one_side_has_no_bound_there() -> None:
    upto, above = Range("b", lambda b: b, high=1.0), Range("b", lambda b: b, low=1.0)
    assert (upto.low, upto.high, above.low, above.high) == (-math.inf, 1.0, 1.0, math.inf)
    assert (str(upto), str(above), upto.outside) == ("b <= 1", "1 <= b", "warn")


def test_record_knows_the_units_of_arguments_and_result() -> None:
    @formula("M", unit="N m", source="made up")
    def lever(F: Newton, h: Metre) -> NewtonMetre:
        """Turn."""
        return F * h

    assert dict(record_of(lever).arguments) == {"F": "N", "h": "m"}
    assert (record_of(lever).unit, record_of(lever).summary) == ("N m", "Turn.")
    assert record_of(wind_pressure).subject == "wind"


BOUNDS = [
    (record, limit, bound)
    for record in FORMULAS
    for limit in record.ranges
    for bound in (limit.low, limit.high)
    if np.isfinite(bound)
]


def beyond(record: Formula, limit: Range, bound: float) -> dict[str, Any]:
    """Return arguments past one bound and inside every other range that refuses.

    They are found by scaling one argument of the sample.
    """
    others = [other for other in record.ranges if other.outside == "refuse" and other is not limit]
    start = sample(record)
    for factor in np.concatenate([(steps := np.geomspace(1e-12, 1e12, 193)), -steps]):
        for name in start:
            tried = start | {name: start[name] * float(factor)}
            value = limit.of(**tried)
            past = value < limit.low if bound == limit.low else value > limit.high
            if past and all(other.low <= other.of(**tried) <= other.high for other in others):
                return tried
    pytest.fail(f"{record.name}: found no arguments beyond {bound:g} of {limit}")


@pytest.mark.parametrize(
    ("record", "limit", "bound"), BOUNDS, ids=[f"{r.name}-{limit.text}-{b:g}" for r, limit, b in BOUNDS]
)
def test_range_is_watched_at_its_bound(record: Formula, limit: Range, bound: float) -> None:
    arguments = beyond(record, limit, bound)
    working = Working()
    if limit.outside == "refuse":
        with pytest.raises(FormulaRangeError, match=re.escape(str(limit))):
            working.use(record.function, **arguments)
    else:
        with np.errstate(all="ignore"):
            working.use(record.function, **arguments)
        assert any(str(limit) in text for text in working.warnings)


# ---------------------------------------------------------------- (d) arrays


@each_formula
def test_formula_broadcasts(record: Formula) -> None:
    start = sample(record)
    factors = np.array([1.0, 0.99, 1.004])
    for name, value in start.items():
        whole = record.function(**{**start, name: value * factors})
        single = [record.function(**{**start, name: value * factor}) for factor in factors]
        np.testing.assert_allclose(whole, single, rtol=1e-14)
    together = record.function(**{name: value * factors for name, value in start.items()})
    single = [record.function(**{name: value * f for name, value in start.items()}) for f in factors]
    np.testing.assert_allclose(together, single, rtol=1e-14)


@each_formula
def test_formula_broadcasts_across_shapes(record: Formula) -> None:
    first, *others = sample(record).items()
    column = {first[0]: first[1] * np.array([[1.0], [0.99]])}
    row = {name: value * np.array([1.0, 0.995, 1.004]) for name, value in others}
    whole = record.function(**column, **row)
    assert np.shape(whole) == ((2, 3) if others else (2, 1))
    if others:
        corner = {name: np.ravel(values)[-1] for name, values in {**column, **row}.items()}
        assert whole[-1, -1] == pytest.approx(record.function(**corner), rel=1e-14)


# ---------------------------------------------------------------- (e) a formula can be read off itself


class Traced:
    """Stands in for a number and keeps the expression made of it; it has no truth value to branch on."""

    def __init__(self, expression: sympy.Expr) -> None:
        self.expression = expression

    def __array_ufunc__(self, ufunc: np.ufunc, method: str, *inputs: Any, **keywords: Any) -> Traced:
        assert method == "__call__"
        assert not keywords
        assert ufunc.__name__ in UFUNCS, f"no counterpart of numpy.{ufunc.__name__}"
        return Traced(UFUNCS[ufunc.__name__](*map(plain, inputs)))

    def __add__(self, other: Any) -> Traced:
        return Traced(self.expression + plain(other))

    def __sub__(self, other: Any) -> Traced:
        return Traced(self.expression - plain(other))

    def __mul__(self, other: Any) -> Traced:
        return Traced(self.expression * plain(other))

    def __truediv__(self, other: Any) -> Traced:
        return Traced(self.expression / plain(other))

    def __pow__(self, other: Any) -> Traced:
        return Traced(self.expression ** plain(other))

    def __radd__(self, other: Any) -> Traced:
        return Traced(plain(other) + self.expression)

    def __rsub__(self, other: Any) -> Traced:
        return Traced(plain(other) - self.expression)

    def __rmul__(self, other: Any) -> Traced:
        return Traced(plain(other) * self.expression)

    def __rtruediv__(self, other: Any) -> Traced:
        return Traced(plain(other) / self.expression)

    def __rpow__(self, other: Any) -> Traced:
        return Traced(plain(other) ** self.expression)

    def __neg__(self) -> Traced:
        return Traced(-self.expression)

    def _refuse(self, *_: object) -> NoReturn:
        raise TypeError("a formula asked for the value of its argument")

    __bool__ = __float__ = __int__ = __index__ = __lt__ = __le__ = __gt__ = __ge__ = _refuse


def plain(value: Any) -> sympy.Expr:
    return value.expression if isinstance(value, Traced) else sympy.sympify(value)


UFUNCS: dict[str, Callable[..., sympy.Expr]] = {
    "add": lambda a, b: a + b,
    "subtract": lambda a, b: a - b,
    "multiply": lambda a, b: a * b,
    "divide": lambda a, b: a / b,
    "power": lambda a, b: a**b,
    "negative": lambda a: -a,
    "square": lambda a: a**2,
    "sqrt": sympy.sqrt,
    "exp": sympy.exp,
    "log": sympy.log,
    "sin": sympy.sin,
    "cos": sympy.cos,
    "tan": sympy.tan,
    "hypot": lambda a, b: sympy.sqrt(a**2 + b**2),
    "arctan2": sympy.atan2,
    "arctan": sympy.atan,
    "tanh": sympy.tanh,
    "arctanh": sympy.atanh,
    "absolute": sympy.Abs,
    "maximum": sympy.Max,
    "minimum": sympy.Min,
}


def trace(function: Callable[..., Value], names: Mapping[str, str]) -> sympy.Expr:
    """Return the formula as an expression in its own symbols."""
    result = function(**{name: Traced(sympy.Symbol(name)) for name in names})
    assert isinstance(result, Traced)
    return result.expression


@each_formula
def test_formula_can_be_traced(record: Formula) -> None:
    expression = trace(record.function, record.arguments)
    assert {symbol.name for symbol in expression.free_symbols} == set(record.arguments), "an argument is idle"
    arguments = sample(record)
    at_sample = expression.evalf(30, subs={sympy.Symbol(name): value for name, value in arguments.items()})
    # the polynomials of the hole factors cancel a digit or so
    assert float(at_sample) == pytest.approx(record.function(**arguments), rel=1e-13, abs=0.0)


def branching(h: Metre) -> Metre:
    return h if h > 0 else -h


def truthful(h: Metre) -> Metre:
    return h or 1.0


def idle(h: Metre, b: Metre) -> Metre:
    return h


@pytest.mark.parametrize("function", [branching, truthful])
def test_tracing_is_able_to_fail(function: Callable[..., Value]) -> None:
    with pytest.raises(TypeError, match="asked for the value"):
        trace(function, {"h": "m"})


def test_tracing_shows_an_idle_argument() -> None:
    assert {symbol.name for symbol in trace(idle, {"h": "m", "b": "m"}).free_symbols} == {"h"}


# ---------------------------------------------------------------- (f) limits


def test_annulus_without_bore_is_a_rod() -> None:
    D = 0.1
    assert annulus_area(D=D, d=0.0) == pytest.approx(math.pi * D**2 / 4, rel=1e-15)
    assert annulus_second_moment(D=D, d=0.0) == pytest.approx(math.pi * D**4 / 64, rel=1e-15)
    assert annulus_torsion_constant(D=D, d=0.0) == pytest.approx(math.pi * D**4 / 32, rel=1e-15)
    assert annulus_plastic_modulus(D=D, d=0.0) == pytest.approx(D**3 / 6, rel=1e-15)
    # the rod's largest shear stress is 4/3 of the mean, from memory
    assert ring_peak_shear_stress(V=1.0, D=D, d=0.0) * annulus_area(D=D, d=0.0) == pytest.approx(
        4 / 3, rel=1e-14
    )


def test_thin_ring_peak_shear_is_twice_the_mean() -> None:
    ring = {"D": 1.0, "d": 1.0 - 1e-7}
    assert ring_peak_shear_stress(V=1.0, **ring) * annulus_area(**ring) == pytest.approx(2.0, rel=1e-6)


def test_annulus_is_a_difference_of_rods() -> None:
    for section in (annulus_area, annulus_second_moment, annulus_torsion_constant, annulus_plastic_modulus):
        assert section(D=0.11, d=0.102) == pytest.approx(
            section(D=0.11, d=0.0) - section(D=0.102, d=0.0), rel=1e-13
        )


def test_bredt_meets_the_round_bar_in_a_thin_tube() -> None:
    r, t = 0.05, 5e-8
    exact = torsion_stress(T=1.0, r=r, J=annulus_torsion_constant(D=2 * r + t, d=2 * r - t))
    assert bredt_shear_flow(T=1.0, A_m=math.pi * r**2) / t == pytest.approx(exact, rel=1e-6)


def test_von_mises_of_one_stress_alone() -> None:
    assert von_mises_stress(sigma=-3.0, tau=0.0) == 3.0
    assert von_mises_stress(sigma=0.0, tau=1.0) == pytest.approx(math.sqrt(3.0), rel=1e-15)


@pytest.mark.parametrize(
    ("slenderness", "axial", "bending"),
    [
        # worked out by hand from the expressions as two public programs code them
        (20, 0.780, 0.822),
        (50, 0.678, 0.739),
        (100, 0.581, 0.660),
        (200, 0.471, 0.571),
        (400, 0.357, 0.478),
        (800, 0.253, 0.394),
    ],
)
def test_knockdowns(slenderness: float, axial: float, bending: float) -> None:
    assert axial_knockdown(r=slenderness, t=1.0) == pytest.approx(axial, abs=5e-4)
    assert bending_knockdown(r=slenderness, t=1.0) == pytest.approx(bending, abs=5e-4)


def test_knockdown_of_a_thick_wall_is_nothing() -> None:
    assert axial_knockdown(r=1e-18, t=1.0) == pytest.approx(1.0, abs=1e-9)
    assert bending_knockdown(r=1e-18, t=1.0) == pytest.approx(1.0, abs=1e-9)


@pytest.mark.parametrize("bore", [0.0, 0.5, 0.9])
def test_small_hole_is_a_hole_in_a_plate(bore: float) -> None:
    """Limits 3 (pull) and 4 (pure shear): amesweb.info, circular hole in an infinite plate, read."""
    for factor, plate in ((hole_bending_factor, 3.0), (hole_axial_factor, 3.0), (hole_torsion_factor, 4.0)):
        assert factor(w=0.0, D=1.0, d=bore) == plate
        assert factor(w=1e-6, D=1.0, d=bore) == pytest.approx(plate, abs=2e-5)


@pytest.mark.parametrize(
    ("C_1", "C_2", "beta_3"),
    [(32.0, 220.0, 22.0), (29.0, 198.0, 18.0), (25.0, 150.0, 15.0)],  # EN 1999-1-1, 6.1.5, from memory
)
def test_local_buckling_begins_where_class_3_ends(C_1: float, C_2: float, beta_3: float) -> None:
    assert local_buckling_factor(x=beta_3, C_1=C_1, C_2=C_2) == pytest.approx(1.0, rel=1e-14)
    assert local_buckling_factor(x=2 * beta_3, C_1=C_1, C_2=C_2) < 1.0


def test_wall_sided_arm_is_gm_at_a_small_angle() -> None:
    assert wall_sided_gz(phi=1e-6, GM=0.9, BM=1.3) / 1e-6 == pytest.approx(0.9, rel=1e-11)


def test_roll_period_is_that_of_a_pendulum() -> None:
    # a rod of length GM with its mass at the end has k = GM
    assert roll_period(k=1.0, g=9.81, GM=1.0) == pytest.approx(2 * math.pi / math.sqrt(9.81), rel=1e-15)


def test_supports_balance_the_load() -> None:
    F, h, b = 800.0, 6.0, 1.1
    assert partners_force(F=F, h=h, b=b) - step_force(M_p=F * h, b=b) == pytest.approx(F, rel=1e-14)
    assert partners_force(F=F, h=0.0, b=b) == pytest.approx(F, rel=1e-15)


def test_short_bury_leaves_a_cantilever() -> None:
    assert overhang_tip_deflection(F=1.0, a=2.0, b=1e-6, EI=1.0) == pytest.approx(8 / 3, rel=1e-6)


def test_free_standing_column_is_a_pinned_one_twice_as_long() -> None:
    assert euler_load(EI=1.0, L=3.0, K=2.0) == pytest.approx(euler_load(EI=1.0, L=6.0, K=1.0), rel=1e-15)


def test_profiles_give_the_reference_wind_at_the_reference() -> None:
    assert power_law_speed(v_ref=12.0, h=10.0, h_ref=10.0, alpha=0.2) == 12.0
    assert log_law_speed(v_ref=12.0, h=10.0, h_ref=10.0, z_0=0.003) == 12.0
    assert power_law_speed(v_ref=12.0, h=3.0, h_ref=10.0, alpha=0.0) == 12.0


def cowper_from_its_definition(nu: float, m: float) -> float:
    """Solve Cowper's flexure function for a ring of radii m and 1, and take his coefficient from it.

    Definition (J. Appl. Mech. 33, 1966) from memory: 2 (1 + nu) I over the integral of
    -(A/I) x (chi + x y2), for a harmonic chi with d chi/dn = -n_x (nu x2/2 + (2 - nu) y2/2)
    - n_y (2 + nu) x y on the edges.
    """
    angle = np.arange(16) * 2 * np.pi / 16  # equal steps sum these harmonics exactly
    cos, sin = np.cos(angle), np.sin(angle)
    edge = -cos * (nu * cos**2 + (2 - nu) * sin**2) / 2 - sin * (2 + nu) * cos * sin  # at radius 1

    nodes, weights = np.polynomial.legendre.leggauss(8)
    r = (1 + m) / 2 + (1 - m) / 2 * nodes[:, np.newaxis]
    chi = np.zeros((8, 16))
    for n in (1, 3):
        # (c r^n + d r^-n) cos(n angle), with the slope the edges ask for at both radii
        radii = np.array([m, 1.0])
        slopes = np.column_stack([n * radii ** (n - 1), -n * radii ** (-n - 1)])
        c, d = np.linalg.solve(slopes, 2 * np.mean(edge * np.cos(n * angle)) * radii**2)
        chi += (c * r**n + d * r**-n) * np.cos(n * angle)
    x, y = r * cos, r * sin
    ring = weights @ np.mean(x * (chi + x * y**2) * r, axis=1) * 2 * np.pi * (1 - m) / 2
    area, second = np.pi * (1 - m**2), np.pi * (1 - m**4) / 4
    return float(2 * (1 + nu) * second / (-area / second * ring))


@pytest.mark.parametrize(("nu", "m"), [(0.3, 0.95), (0.3, 0.7), (0.25, 0.5), (0.0, 0.2)])
def test_shear_coefficient_follows_from_its_definition(nu: float, m: float) -> None:
    expected = cowper_from_its_definition(nu, m)
    assert cowper_shear_coefficient(nu=nu, m=m) == pytest.approx(expected, rel=1e-10)


# Roark's Formulas for Stress and Strain, Table 17.1, radial hole in a tube: terms in w/D (rows) and d/D
# (columns). Torsion was read in a copy; bending and axial force are from memory, as they are in the formulas,
# so for those two this shows only that both were typed alike.
HOLE_TERMS = {
    hole_bending_factor: (
        (3, 0, 0),
        (-6.250, -0.585, 3.115),
        (41.000, -1.071, -6.746),
        (-45.000, 1.389, 13.889),
    ),
    hole_axial_factor: (
        (3, 0, 0),
        (2.773, 1.529, -4.379),
        (-0.421, -12.782, 22.781),
        (16.841, 16.678, -40.007),
    ),
    hole_torsion_factor: (
        (4, 0, 0),
        (-6.793, 1.133, -0.126),
        (38.382, -7.242, 6.495),
        (-44.576, -7.428, 58.656),
    ),
}


@pytest.mark.parametrize("factor", HOLE_TERMS, ids=lambda factor: factor.__name__)
def test_hole_factor_is_the_tabled_polynomial(factor: Callable[..., Value]) -> None:
    w, d = np.meshgrid([0.1, 0.25, 0.4], [0.0, 0.5, 0.9])
    expected = np.polynomial.polynomial.polyval2d(w, d, HOLE_TERMS[factor])
    np.testing.assert_allclose(factor(w=w * 0.12, D=0.12, d=d * 0.12), expected, rtol=1e-13)


@pytest.mark.parametrize(
    ("shares", "joint"),
    [((1, 0, 0), 1.0), ((0, 1, 0), 1.0), ((0, 0, 1), 1.0), ((0, 0, -1), 1.0), ((0.2, 0.3, 0.5), 0.75)],
)
def test_each_share_alone_fills_the_interaction(shares: tuple[float, float, float], joint: float) -> None:
    axial, bending, torsion = shares
    assert cylinder_interaction(R_c=axial, R_b=bending, R_t=torsion) == pytest.approx(joint, rel=1e-15)


def test_torsion_of_a_long_cylinder() -> None:
    """E (t/r)^1.5 times 0.2357 at nu 0, and 0.2530 at nu 0.3, before the knock-down of 0.67^(4/3); from memory."""
    one = {"E": 1.0, "t": 1.0, "r": 1.0}
    assert long_cylinder_torsion_stress(nu=0.0, **one) == pytest.approx(0.67 ** (4 / 3) * 0.235702, rel=2e-6)
    assert long_cylinder_torsion_stress(nu=0.3, **one) == pytest.approx(0.67 ** (4 / 3) * 0.252978, rel=2e-6)
    assert long_cylinder_torsion_stress(E=1.0, t=0.01, r=1.0, nu=0.0) == pytest.approx(
        1e-3 * long_cylinder_torsion_stress(nu=0.0, **one), rel=1e-14
    )


@pytest.mark.parametrize(
    ("f_0_MPa", "class_limit", "D_over_t"),
    [(240.0, 11.0, 14.0), (240.0, 16.0, 29.6), (240.0, 22.0, 56.0), (160.0, 22.0, 84.0)],
)
def test_class_limits_in_diameters_over_wall(f_0_MPa: float, class_limit: float, D_over_t: float) -> None:
    """Worked by hand from the class limits of EN 1999-1-1, Table 6.2, from memory."""
    beta = tube_slenderness(D_m=D_over_t, t=1.0)
    epsilon = strength_parameter(f_250=250.0, f_0=f_0_MPa)
    assert beta / epsilon == pytest.approx(class_limit, rel=0.5 * 0.05 / D_over_t)


# ---------------------------------------------------------------- (g) the ground floor

FOLDER = Path(rigcalc.formulas.__file__).parent
ALLOWED = {"numpy", *sys.stdlib_module_names}


def imports_above(source: str) -> list[str]:
    """Return what a module of the formulas imports beside numpy, the standard library, records and its own folder."""
    found: list[str] = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names if alias.name.split(".")[0] not in ALLOWED]
        elif isinstance(node, ast.ImportFrom):
            name = node.module or ""
            own = node.level == 1 or name == "rigcalc.formulas" or name.startswith("rigcalc.formulas.")
            # the one thing of the package that formulas stand on, itself made of the standard library alone
            own = own or (node.level == 2 and node.module == "frozen")
            if not own and (node.level > 1 or name.split(".")[0] not in ALLOWED):
                found.append("." * node.level + name)
    return found


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.py")), ids=lambda path: path.stem)
def test_formulas_stand_on_numpy_alone(path: Path) -> None:
    assert imports_above(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    "source",
    [
        "from ..units import parse",
        "from rigcalc.units import parse",
        "import rigcalc.rig",
        "import scipy.special",
    ],
)
def test_import_from_above_is_seen(source: str) -> None:
    assert imports_above(source)
    assert not imports_above(
        "from .record import One\nfrom rigcalc.formulas.record import One\nimport numpy as np"
    )


@each_formula
def test_a_publication_is_read_or_from_memory(record: Formula) -> None:
    """Who cites a page, an equation, a standard or a year says whether it was read; plain theory says which."""
    cites = re.search(r"\b(Ex\.|pp?\.|eqs?\b\.?|Eq\.|EN \d|ISO|NASA|Table|\(?\d{4}\)|ed\.)", record.source)
    told = re.search(r"\bread\b|from memory|derived:(?!.*\(\d{4}\))|fitted", record.source)
    assert told or not cites, record.source
