"""What stands between the steps that a calculation notes: sums of stresses, factors, ratios."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from ...formulas.beams import allowed_moment
from ...formulas.laminate_tubes import line_load_ratio, strain_of_stress, summed_shear_stress
from ...formulas.laminates import stress_index
from ...formulas.metals import effective_strength, hole_peak_stress, wall_class_ratio
from ...formulas.rings import force_to_length
from ...formulas.sections import (
    added_shear_stress,
    added_stress,
    annulus_second_moment,
    equivalent_shear_stress,
    moment_at_stress,
)
from ...formulas.shells import buckling_ratio, knocked_down_stress
from ...formulas.stability import factored_moment, heeling_arm
from ...formulas.timber import column_allowable_stress, stress_at_instability
from ...formulas.wind import factored_pressure, gust_speed
from .chains import Given, Join, Source

_FACTOR = Given("factor")
_BENDING = ("bending_stress", "corner_bending_stress", "round_bending_stress")
_BENT_AND_PRESSED = Join(added_stress, {"sigma_1": _BENDING, "sigma_2": "layer_direct_stress"})
_SHEAR: Source = (
    "ring_peak_shear_stress",
    "polygon_peak_shear_stress",
    "turned_peak_shear_stress",
    "ellipse_peak_shear_stress",
    "box_peak_shear_stress",
)
_HOLE = Join(
    hole_peak_stress,
    {
        "K_b": ("hole_bending_factor", "hole_axial_factor"),
        "sigma_b": _BENDING,
        "K_a": "hole_axial_factor",
        "sigma_N": "layer_direct_stress",
        "K_t": "hole_torsion_factor",
        "tau_T": "layer_torsion_stress",
    },
)
_WITH_TORSION = Join(
    added_shear_stress, {"tau_1": _SHEAR, "tau_2": ("layer_torsion_stress", "torsion_stress")}
)


def _shell(stress: Source, knock_down: str, symbol: str) -> Join:
    buckles: Source = (
        Join(knocked_down_stress, {"gamma": knock_down, "sigma_cl": "cylinder_classical_stress"}),
        Given("strength_parameter.f_0"),
    )
    return Join(buckling_ratio, {"sigma": stress, "gamma": _FACTOR, "sigma_cr": buckles}, symbol)


def _wall(stress: str, knock_down: str, symbol: str) -> Join:
    strain = Join(strain_of_stress, {"sigma": stress, "E": Given(f"{stress}_E")})
    return Join(
        line_load_ratio,
        {"gamma": _FACTOR, "epsilon": strain, "Et": Given("Et"), "k": knock_down, "N_cr": Given("N_cr")},
        symbol,
    )


_GUST = (Join(gust_speed, {"v": Given("v"), "k_g": Given("k_g")}),)
_LINE = (
    Join(
        force_to_length,
        {"F": Given("projected_pressure.F"), "L_e": ("ring_effective_length", "end_effective_length")},
    ),
)

BEFORE: Mapping[tuple[str, str], Sequence[Join]] = MappingProxyType(
    {
        ("von_mises_stress", "sigma"): (_BENT_AND_PRESSED,),
        ("von_mises_stress", "tau"): (_WITH_TORSION,),
        ("stress_range", "sigma"): (
            Join(added_stress, {"sigma_1": _BENDING, "sigma_2": "direct_stress"}),
            _HOLE,
        ),
        ("pressed_wall_stress", "sigma_x"): (
            Join(added_stress, {"sigma_1": _BENDING, "sigma_2": "direct_stress"}),
        ),
        ("local_buckling_factor", "x"): (
            Join(
                wall_class_ratio,
                {"beta": ("tube_slenderness", "flat_part_slenderness"), "epsilon": "strength_parameter"},
            ),
        ),
        ("design_strength", "f"): (
            Join(
                effective_strength, {"rho_c": "local_buckling_factor", "f": Given("strength_parameter.f_0")}
            ),
            Join(
                knocked_down_stress,
                {"gamma": "orthotropic_bending_knockdown", "sigma_cl": "grained_cylinder_stress"},
            ),
        ),
        ("cylinder_interaction", "R_c"): (
            _shell("layer_direct_stress", "axial_knockdown", "R_c"),
            _wall("layer_direct_stress", "orthotropic_axial_knockdown", "R_c"),
        ),
        ("cylinder_interaction", "R_b"): (
            _shell(_BENDING, "bending_knockdown", "R_b"),
            _wall("bending_stress", "orthotropic_bending_knockdown", "R_b"),
        ),
        ("cylinder_interaction", "R_t"): (
            Join(
                buckling_ratio,
                {
                    "sigma": _WITH_TORSION,
                    "gamma": _FACTOR,
                    "sigma_cr": ("long_cylinder_torsion_stress", Given("shear strength")),
                },
                "R_t",
            ),
        ),
        ("collar_ring_moment", "W"): _LINE,
        ("chock_ring_moment", "W"): _LINE,
        ("opposed_ring_moment", "W"): _LINE,
        ("stocky_interaction", "r_c"): (
            Join(stress_index, {"sigma": "layer_direct_stress", "X": "timber_allowable_stress"}),
        ),
        ("stocky_interaction", "r_my"): (
            Join(
                stress_index,
                {"sigma": (*_BENDING, _BENT_AND_PRESSED), "X": "timber_allowable_stress"},
            ),
        ),
        ("relative_column_slenderness", "sigma_cr"): (
            Join(stress_at_instability, {"sigma": "layer_direct_stress", "factor": Given("instability")}),
        ),
        ("heeling_force", "RM"): (
            Join(factored_moment, {"RM": ("righting_moment", Given("RM")), "k_d": Given("k_d")}),
        ),
        ("heeling_force", "h"): (Join(heeling_arm, {"S_F": Given("S_F"), "A_F": Given("A_F")}),),
        ("drag_per_length", "q"): (Join(factored_pressure, {"q": "wind_pressure", "k_d": Given("k_d")}),),
        ("wind_pressure", "v"): _GUST,
        ("reynolds_number", "v"): _GUST,
        ("power_law_speed", "v_ref"): _GUST,
        ("log_law_speed", "v_ref"): _GUST,
        ("apparent_wind_speed", "V_t"): _GUST,
        ("apparent_wind_angle", "V_t"): _GUST,
    }
)
"""By formula and argument; each counts only where its value is that of the argument."""

_ALLOWED = Join(
    allowed_moment,
    {"M": ("brazier_moment", "stack_brazier_moment", "orthotropic_brazier_moment"), "gamma": _FACTOR},
)
_AS_ROUND = Join(
    moment_at_stress,
    {
        "sigma": _BENDING,
        "I": Join(annulus_second_moment, {"D": Given("round D"), "d": Given("round d")}),
        "y": Given("round y"),
    },
)

DEMAND: Mapping[str, Sequence[Source]] = MappingProxyType(
    {
        "yield": ("von_mises_stress",),
        "rupture": ("von_mises_stress",),
        "weld": ("von_mises_stress",),
        "wall-class": (_BENT_AND_PRESSED,),
        "wall-buckling": ("cylinder_interaction", _BENT_AND_PRESSED),
        "shell-buckling": ("cylinder_interaction",),
        "flattening": ("layer_moment", _AS_ROUND),
        "splitting": ("layer_moment",),
        "opening": (_HOLE,),
        "fatigue": ("stress_range",),
        "deck-bolts": (Join(equivalent_shear_stress, {"sigma_v": "von_mises_stress"}),),
        "joint-wall": ("pressed_wall_stress",),
        "joint-shear": ("von_mises_stress",),
        "bending": _BENDING,
        "shear": (
            Join(
                added_shear_stress,
                {"tau_1": "glued_layer_shear_stress", "tau_2": "layer_torsion_stress"},
            ),
        ),
        "interlaminar": (
            Join(
                summed_shear_stress,
                {
                    "tau_1": "tube_radial_shear_stress",
                    "tau_2": "face_transfer_shear_stress",
                    "tau_3": "ply_end_shear_stress",
                },
            ),
        ),
    }
)
"""What ends the chain of a check's demand, by the first word of its id; what is not here is found by its value."""
CAPACITY: Mapping[str, Sequence[Source]] = MappingProxyType(
    {
        "flattening": (_ALLOWED,),
        "column": (
            "buckling_limited_stress",
            Join(column_allowable_stress, {"k_c": "column_factor", "f": "timber_allowable_stress"}),
        ),
    }
)
