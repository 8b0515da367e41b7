"""Where each formula warns or refuses, tried close to every bound on both sides.

The bounds below were written down a second time from what sources and physics say of them, each as an expression
of the arguments and not as the formula's own record has it: a slip in a bound, in its expression or in what happens
beyond it shows as a difference. "Open" bounds are those that the physics itself forbids (a bore as wide as the
tube), so they must be refused at the bound already.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq

from rigcalc.formulas import Formula, FormulaRangeError, Working, all_formulas

from .test_formulas import sample

RIGHT = math.pi / 2
OPEN = "open"
POSITIVE = (0.0, OPEN)
"""Above nothing, by however little."""


@dataclass(frozen=True)
class Bound:
    """One range: what is asked, of which formulas, between which bounds."""

    asked: str
    low: Any
    high: Any
    outside: str
    formulas: str

    @property
    def of(self) -> Callable[..., float]:
        code = compile(self.asked, "asked", "eval")
        return lambda **arguments: float(
            eval(code, {"np": np, "min": min, "max": max, "abs": abs, "pi": math.pi} | arguments)
        )

    def probes(self) -> Iterator[tuple[float, bool]]:
        """Values close to each bound, and whether the formula must take them."""
        for bound, out in ((self.low, -1.0), (self.high, 1.0)):
            if bound is None:
                continue
            if bound == POSITIVE:
                yield 1e-4, True
                yield 0.0, False
                yield -1e-4, False
            elif isinstance(bound, tuple):
                yield bound[0] - out * 5e-4 * abs(bound[0]), True
                yield bound[0] + out * 1e-10 * abs(bound[0]), False
            elif bound == 0.0:
                # next to nothing and nothing itself are inside
                yield 0.0, True
                yield -out * 1e-4, True
                yield out * 1e-4, False
            else:
                # so close that only rounding lies between, and no allowance for rounding is wide
                yield bound - out * 1e-13 * abs(bound), True
                yield bound - out * 0.02 * abs(bound), True
                yield bound + out * 5e-7 * abs(bound), False


BOUNDS = [
    # the sources of profiles over water give 0.06 to 0.27; 0.4 is a town
    Bound("alpha", 0.0, 0.4, "warn", "power_law_speed"),
    Bound("h/h_ref", 0.0, None, "refuse", "power_law_speed"),
    Bound("h", None, 100.0, "warn", "power_law_speed"),
    Bound("h/z_0", 5.0, None, "warn", "log_law_speed"),
    Bound("z_0", 1e-5, 0.05, "warn", "log_law_speed"),
    Bound("phi", 0.0, RIGHT, "refuse", "heel_falloff"),
    Bound("f/L", 0.005, 0.12, "warn", "leech_tension"),
    # EN 1991-1-4, E.1.5.2.1: the method of the correlation length ends at a sway of 0.6 D
    Bound("K*K_w*c_lat/(Sc*St**2)", 0.0, 0.6, "warn", "shedding_sway"),
    Bound("phi", 0.0, math.radians(30), "warn", "wall_sided_gz"),
    Bound("d", POSITIVE, None, "refuse", "box_metacentric_radius"),
    Bound("GM", POSITIVE, None, "refuse", "roll_period"),
    Bound("h", 1e-3, None, "refuse", "heeling_force"),
    Bound(
        "d/D",
        0.0,
        (1.0, OPEN),
        "refuse",
        "annulus_area annulus_second_moment annulus_torsion_constant annulus_plastic_modulus ring_peak_shear_stress "
        "tube_bending_stiffness tube_torsion_stiffness tube_axial_stiffness tube_radial_shear_stress",
    ),
    Bound(
        "n",
        3.0,
        None,
        "refuse",
        "polygon_area polygon_second_moment polygon_across_corners polygon_worst_fibre stave_width stave_bevel "
        "stave_edge_angle corner_height bolt_circle_tension",
    ),
    Bound(
        "n",
        4.0,
        None,
        "refuse",
        "polygon_torsion_constant polygon_torsion_arm polygon_peak_shear_stress turned_torsion_constant "
        "turned_torsion_arm turned_peak_shear_stress",
    ),
    Bound(
        "w/W",
        0.0,
        (1.0, OPEN),
        "refuse",
        "polygon_torsion_constant polygon_torsion_arm polygon_peak_shear_stress",
    ),
    Bound(
        "w/(D*np.cos(pi/n))",
        0.0,
        (1.0, OPEN),
        "refuse",
        "turned_mean_area turned_torsion_constant turned_torsion_arm turned_peak_shear_stress",
    ),
    Bound("w/(D*np.cos(pi/n))", None, 0.95, "warn", "turned_torsion_constant turned_torsion_arm"),
    Bound(
        "a_i/a",
        0.0,
        (1.0, OPEN),
        "refuse",
        "ellipse_area ellipse_second_moment ellipse_wall_integral ellipse_torsion_constant ellipse_torsion_arm "
        "ellipse_peak_shear_stress",
    ),
    Bound(
        "b_i/b",
        0.0,
        (1.0, OPEN),
        "refuse",
        "ellipse_area ellipse_second_moment ellipse_wall_integral ellipse_torsion_constant ellipse_torsion_arm "
        "ellipse_peak_shear_stress",
    ),
    Bound("min(a_i/a, b_i/b)", 0.35, None, "warn", "ellipse_torsion_constant ellipse_torsion_arm"),
    Bound(
        "b/B",
        0.0,
        (1.0, OPEN),
        "refuse",
        "box_area box_second_moment box_wall_integral box_torsion_constant box_torsion_arm box_peak_shear_stress",
    ),
    Bound(
        "h/H",
        0.0,
        (1.0, OPEN),
        "refuse",
        "box_area box_second_moment box_wall_integral box_torsion_constant box_torsion_arm box_peak_shear_stress",
    ),
    Bound("b/a", 0.0, 1.0, "refuse", "rectangle_torsion_constant rectangle_torsion_arm"),
    Bound("min(b/B, h/H)", 0.4, None, "warn", "box_torsion_constant box_torsion_arm"),
    Bound("max((B - b)/(H - h), (H - h)/(B - b))", None, 6.0, "warn", "box_torsion_constant box_torsion_arm"),
    Bound(
        "b",
        POSITIVE,
        None,
        "refuse",
        "partners_force step_force overhang_tip_deflection partners_slope upper_reaction upper_bearing_force",
    ),
    Bound("K*L", POSITIVE, None, "refuse", "euler_load"),
    Bound("m", 0.0, (1.0, OPEN), "refuse", "cowper_shear_coefficient"),
    # a material that grows sideways when pulled is none that masts are made of; 0.5 keeps its volume
    Bound(
        "nu",
        0.0,
        0.5,
        "refuse",
        "cowper_shear_coefficient cylinder_classical_stress brazier_moment long_cylinder_torsion_stress "
        "isotropic_shear_modulus",
    ),
    Bound("required", 1.0, None, "refuse", "allowed_axial_load"),
    Bound("gamma", 1.0, None, "refuse", "allowed_moment design_strength design_category core_design_stress"),
    # the tests behind NASA SP-8007 end at 1500
    Bound("r/t", 20.0, 1500.0, "warn", "axial_knockdown bending_knockdown"),
    Bound("r/t", 5.0, None, "warn", "brazier_moment"),
    Bound("r/t", 10.0, 1500.0, "warn", "long_cylinder_torsion_stress"),
    Bound(
        "r/t",
        10.0,
        None,
        "warn",
        "thin_tube_bending_stiffness thin_tube_torsion_stiffness thin_tube_shear_stiffness",
    ),
    Bound("D_m/t", 1.0, None, "refuse", "tube_slenderness"),
    Bound("b/t", POSITIVE, None, "refuse", "flat_part_slenderness"),
    Bound("f_0/f_250", POSITIVE, None, "refuse", "strength_parameter"),
    # beta_3 of EN 1999-1-1, 6.1.5, is where C_1/x - C_2/x2 is 1: the greater root of x2 - C_1 x + C_2
    Bound("x/max(np.roots([1.0, -C_1, C_2]).real)", 1.0, None, "refuse", "local_buckling_factor"),
    # Roark, Table 17.1: hole at most 0.4 of the tube, bore at most 0.9 of it
    Bound("w/D", 0.0, 0.4, "refuse", "hole_bending_factor hole_axial_factor hole_torsion_factor"),
    Bound("d/D", 0.0, 0.9, "warn", "hole_bending_factor"),
    Bound("m", 1.0, 12.0, "refuse", "curve_range cycles_borne narrow_band_damage"),
    # at 1 the stress does not swing at all
    Bound("R", -1.0, 1.0, "refuse", "stress_range"),
    Bound("N", 100.0, None, "refuse", "rms_of_largest"),
    Bound("L", POSITIVE, None, "refuse", "contact_force overlap_shear packing_pressure couple_rotation"),
    Bound("R/t", 2.0, 100.0, "warn", "wall_bending_stress"),
    # Wood Handbook: species lie between 21 and 28 %, wood swells up to about 30 %
    Bound("M_p", 0.15, 0.35, "refuse", "moisture_adjusted"),
    Bound("M/M_p", 0.0, 1.0, "refuse", "moisture_adjusted"),
    Bound("M", 0.08, None, "warn", "moisture_adjusted"),
    Bound("M/M_f", 0.0, 1.0, "refuse", "specific_gravity"),
    Bound("z_p*V", 0.0, 0.9, "refuse", "exclusion_factor"),
    Bound("t/t_1", 1.0, 2e9, "warn", "madison_factor"),
    Bound("s_T", 0.0, 1.0, "refuse", "temperature_factor"),
    Bound("T_F", -15.0, 150.0, "warn", "lumber_modulus_temperature_factor"),
    Bound("theta", 0.0, RIGHT, "refuse", "hankinson"),
    Bound("n", 1.5, 2.5, "warn", "hankinson"),
    Bound("m", 5.0, 50.0, "warn", "size_ratio standard_size_factor"),
    Bound("h/h_r", 1e-3, 1.0, "refuse", "depth_factor"),
    Bound("K_f", 0.0, 1.0, "refuse", "hollow_form_factor"),
    Bound("r_w", 0.0, 1.0, "refuse", "hollow_form_factor"),
    Bound("k", 0.0, (1.0, OPEN), "refuse", "hollow_round_shear_stress"),
    Bound("r/t", 2.0, None, "warn", "ring_bending_stress"),
    Bound("alpha", 0.0, math.radians(25), "warn", "taper_shear_stress taper_cross_stress"),
    Bound("c", 0.7, 1.0, "refuse", "buckling_limited_stress"),
    Bound("f_c/F_cE", None, (1.0, OPEN), "refuse", "nds_interaction"),
    Bound("lambda_rel", 0.3, None, "warn", "column_factor"),
    Bound("k_c", POSITIVE, 1.0, "refuse", "slender_interaction"),
    # EN 1995-1-1, Eq. 6.34: the middle one of three lines
    Bound("lambda_m", 0.75, 1.4, "refuse", "tipping_factor"),
    Bound("r/t", 1.0, None, "warn", "splitting_moment"),
    Bound("r/R", 0.0, (1.0, OPEN), "refuse", "plug_transfer_length"),
    Bound("psi", 0.0, 1.0, "refuse", "fibre_volume_fraction"),
    Bound(
        "V_f + V_m",
        POSITIVE,
        1.0,
        "refuse",
        "fibre_mass_fraction ply_density mixture_modulus fibre_governed_strength",
    ),
    Bound("V_f", POSITIVE, 1.0, "refuse", "ply_thickness"),
    Bound("W/(rho_f*t)", 0.0, 1.0, "refuse", "fibre_fraction_of_thickness"),
    Bound("psi", POSITIVE, 1.0, "refuse", "resin_areal_mass"),
    Bound(
        "V_f",
        0.0,
        1.0,
        "refuse",
        "mixture_poisson_ratio inverse_rule_modulus halpin_tsai_modulus chamis_modulus puck_transverse_modulus "
        "puck_shear_modulus",
    ),
    # round fibres side by side fill pi/4 of the space at most
    Bound("V_f", None, 0.75, "warn", "halpin_tsai_modulus puck_transverse_modulus puck_shear_modulus"),
    Bound(
        "nu_12**2*E_2/E_1",
        0.0,
        (1.0, OPEN),
        "refuse",
        "reduced_stiffness_11 reduced_stiffness_22 reduced_stiffness_12",
    ),
    Bound("sigma/X", 0.0, None, "refuse", "stress_index"),
    Bound("epsilon/epsilon_u", 0.0, None, "refuse", "strain_index"),
    Bound("X_c/X_t", POSITIVE, None, "refuse", "tsai_wu_linear_coefficient tsai_wu_square_coefficient"),
    Bound("f", (-1.0, OPEN), (1.0, OPEN), "refuse", "tsai_wu_interaction"),
    Bound("a", 0.0, None, "refuse", "linear_use"),
    Bound("N", 1.0, None, "refuse", "power_fatigue_factor"),
    Bound("1 - b*np.log10(N)", 0.0, 1.0, "refuse", "log_fatigue_factor"),
    Bound("N", 1e3, 1e6, "warn", "bs4994_cycle_factor"),
    # phi is the root of r/t over 16, and the tests end at r/t of 1500
    Bound(
        "phi",
        0.0,
        math.sqrt(1500.0) / 16,
        "warn",
        "orthotropic_axial_knockdown orthotropic_bending_knockdown",
    ),
    Bound("nu_xy*nu_yx", 0.0, (1.0, OPEN), "refuse", "orthotropic_brazier_moment"),
    Bound("n", 1.0, None, "refuse", "ply_end_shear_stress stepped_rolled_length"),
    Bound("L/D", 0.0, 1.5, "warn", "projected_pressure close_bush_peak_pressure"),
    Bound("nu", 0.0, 0.49, "refuse", "held_layer_modulus bonded_thickening"),
    Bound("psi", 1e-3, (RIGHT, OPEN), "refuse", "bush_contact_load bush_peak_pressure bush_friction_factor"),
    Bound("theta", POSITIVE, None, "refuse", "longest_free_bush"),
    Bound("k*theta*L/(2*p_0)", 0.0, 1.0, "refuse", "tilted_edge_pressure"),
    Bound("k*theta*L/(2*p_0)", 1.0, None, "refuse", "wedged_edge_pressure"),
    Bound("M_p*b*L/(3*EI*c)", 1.0, None, "refuse", "jammed_bush_couple"),
    Bound("kappa", 0.0, 2.0, "refuse", "gripped_bore_loss"),
    Bound("R_1/R_2", 0.0, (1.0, OPEN), "refuse", "seat_radius seat_half_width"),
    # Hertz: half width squared is 4 q R/(pi E*), with 1/R the difference of the curvatures of shaft and bore
    Bound("np.sqrt(4*q/(1/R_1 - 1/R_2)/(pi*E_s))/R_1", None, 0.3, "warn", "seat_half_width"),
    Bound("a/R", POSITIVE, 0.5, "refuse", "roller_squeeze"),
    Bound("delta", 0.0, None, "refuse", "load_zone"),
    Bound("Z", 5.0, None, "warn", "largest_roller_load"),
    Bound("S", 4.0, None, "refuse", "largest_roller_load"),
    Bound("theta", 0.0, 2 * math.pi, "refuse", "ring_moment_at ring_compression_at"),
    Bound("R/t", 5.0, None, "warn", "ring_effective_length grained_effective_length"),
    Bound("L/R", 0.3, 2.5, "warn", "ring_effective_length grained_effective_length"),
    Bound("R/t", 1.5, None, "refuse", "curved_wall_factor"),
    Bound("R_1/R_2", 0.0, (1.0, OPEN), "refuse", "even_pressure_arm even_wear_arm even_thrust_pressure"),
    Bound("R_1/R_2", POSITIVE, (1.0, OPEN), "refuse", "worn_thrust_pressure"),
    Bound("alpha", 0.17, RIGHT, "refuse", "cone_friction_torque cone_side_force"),
    Bound("phi", 0.0, math.pi, "refuse", "hold_down_force"),
    Bound("z/b", 0.0, 1.0, "refuse", "mast_overlap_moment post_moment"),
    Bound("d", POSITIVE, None, "refuse", "socket_bottom_force socket_top_load socket_bottom_load"),
    Bound("n", 2.0, None, "refuse", "bolt_direct_shear bolt_circle_shear"),
    # the kern of a rectangle: a sixth of its length either side of the middle
    Bound("M/P/(l/6)", 0.0, 1.0, "refuse", "pad_edge_pressure"),
    Bound("M/P/(l/6)", 1.0, 2.9, "refuse", "lifted_pad_pressure"),
    Bound("n", 0.0, None, "refuse", "rolled_length"),
    Bound("k", 1.0, None, "refuse", "drum_layer_diameter"),
    Bound("mu", 0.0, 1.0, "refuse", "capstan_pull"),
    Bound("x", 0.0, 0.5, "refuse", "sheaves_pull purchase_efficiency"),
    Bound("factor", 1.0, None, "refuse", "allowed_line_pull"),
    Bound("factor", 3.0, None, "warn", "allowed_line_pull"),
    Bound("f/l", 0.02, 0.2, "warn", "sheeted_cloth_tension"),
    Bound("alpha", -RIGHT, RIGHT, "refuse", "stave_bevel stave_edge_angle"),
    Bound("m", 12.0, None, "warn", "scarf_length"),
    Bound("x", 1e-12, (1.0, OPEN), "refuse", "developed_radius"),
    Bound("w/(2*pi*R)", 0.0, 1.0, "refuse", "arc_chord arc_height"),
    Bound("theta", POSITIVE, RIGHT, "refuse", "bias_strip_length bias_roll_length"),
]

FORMULAS = {record.name: record for record in all_formulas()}
EACH = [(bound, name) for bound in BOUNDS for name in bound.formulas.split()]


def arguments_at(record: Formula, bound: Bound, value: float) -> dict[str, Any]:
    """Return arguments at which what is asked has a value, inside every other range that refuses."""
    start = {name: np.float64(usual) for name, usual in sample(record).items()}
    others = [r for r in record.ranges if r.outside == "refuse"]

    def elsewhere(tried: dict[str, Any]) -> bool:
        """Whether every other range is kept; the one in question is known by having the same value."""
        with np.errstate(all="ignore"):
            asked = [(r, float(r.of(**tried))) for r in others]
        return all(
            r.low <= x <= r.high or math.isclose(x, value, rel_tol=1e-7, abs_tol=1e-12) for r, x in asked
        )

    steps = np.geomspace(1e-9, 1e9, 145)
    factors = [*-steps[::-1], 0.0, *steps]
    named = [name for name in start if re.search(rf"\b{name}\b", bound.asked)]
    # one argument is changed at a time, or else all of them together
    for changed in (*([name] for name in named), named):

        def scaled(factor: float, changed: list[str] = changed) -> dict[str, Any]:
            return start | {name: start[name] * np.float64(factor) for name in changed}

        def missed(factor: float, scaled: Callable[[float], dict[str, Any]] = scaled) -> float:
            with np.errstate(all="ignore"):
                return bound.of(**scaled(factor)) - value

        at = [missed(factor) for factor in factors]
        roots = [f for f, m in zip(factors, at, strict=True) if m == 0.0]
        for (f, m), (g, n) in pairwise(zip(factors, at, strict=True)):
            if np.isfinite(m) and np.isfinite(n) and m * n < 0.0:
                roots.append(float(brentq(missed, f, g, xtol=1e-300, rtol=1e-15, maxiter=300)))
        for root in sorted(roots, key=lambda f: abs(f - 1.0)):
            if abs(missed(root)) <= max(1e-14 * abs(value), 4e-16) and elsewhere(scaled(root)):
                return scaled(root)
    pytest.fail(f"{record.name}: found no arguments at which {bound.asked} is {value:g}")


def verdict(record: Formula, arguments: dict[str, Any]) -> tuple[set[str], set[str]]:
    """Return what the formula warns of and what it refuses, as the expressions it names."""
    working = Working()
    refused: set[str] = set()
    with np.errstate(all="ignore"):
        try:
            working.use(record.function, **arguments)
        except FormulaRangeError as error:
            refused = {str(error)}
    return set(working.warnings), refused


@pytest.mark.parametrize(("bound", "name"), EACH, ids=[f"{name}-{bound.asked}" for bound, name in EACH])
def test_formula_keeps_to_its_bound(bound: Bound, name: str) -> None:
    record = FORMULAS[name]
    for value, inside in bound.probes():
        warned, refused = verdict(record, arguments_at(record, bound, value))
        said = refused if bound.outside == "refuse" else warned
        left = [text for text in said if tells_of(text, value)]
        assert bool(left) is not inside, f"{name} at {bound.asked} = {value:.12g}: {warned} {refused}"


def tells_of(text: str, value: float) -> bool:
    """Whether a message tells of a range that was left at this value."""
    said = re.search(r" is used at .* = (\S+), outside", text)
    return said is not None and math.isclose(float(said[1]), value, rel_tol=2e-3, abs_tol=1e-9)


def test_every_range_is_tried() -> None:
    """One line above for each range of each formula, so that a new range has to be written down twice."""
    have = sorted(f"{r.name}" for r in FORMULAS.values() for _ in r.ranges)
    assert sorted(name for _, name in EACH) == have
