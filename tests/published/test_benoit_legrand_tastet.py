"""A floor joist of class C24: bending, deflection with shear, and tipping over sideways.

Source: Y. Benoit, B. Legrand, V. Tastet, Calcul de structures en bois (2008), Examples 2.3.1 and 2.3.2, as
kept in the verification tests of a public program (xc); the book itself was not read.
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.sections import bending_stress
from rigcalc.formulas.timber import (
    deflection_with_shear,
    rectangle_critical_stress,
    relative_beam_slenderness,
    timber_design_strength,
    tipping_factor,
)
from rigcalc.materials.timber import Factor, Size, design_timber, find_strength_class

from .record import Published, Source

SOURCE = Source("Benoit, Legrand and Tastet, Structures en bois", "timber", "second hand")

C24 = find_strength_class("C24")
SPAN_M, B_M, H_M = 4.5, 0.075, 0.200
SECOND_M4, AREA_M2 = B_M * H_M**3 / 12, B_M * H_M
LOAD_N_M = 0.5 * (1.35 * 500.0 + 1.5 * 1500.0)
STRESS_PA = float(bending_stress(M=LOAD_N_M * SPAN_M**2 / 8, y=H_M / 2, I=SECOND_M4))
SHARED = 1.1
"""k_sys: joists that share their load."""


def use_by_formula() -> float:
    return STRESS_PA / (SHARED * float(timber_design_strength(f_k=C24.bending_Pa, k_mod=0.8, gamma=1.3)))


def use_by_design_values() -> float:
    joists = Factor(name="k_sys", value=SHARED, source="the example")
    timber = design_timber(
        "C24",
        basis="EN 338",
        size=Size(section="rectangle", depth_m=H_M),
        service_class=2,
        load_duration="medium-term",
        factors=[joists],
    )
    return STRESS_PA / timber.value_Pa("bending")


def deflection_mm(load_N_m: float) -> float:
    return 1e3 * float(
        deflection_with_shear(
            k_b=5 / 384,
            k_s=1 / 8,
            W=load_N_m * SPAN_M,
            L=SPAN_M,
            EI=C24.E_mean_Pa * SECOND_M4,
            GA=C24.G_mean_Pa * AREA_M2 / 1.2,
        )
    )


def slenderness() -> float:
    critical = rectangle_critical_stress(b=0.05, h=0.2, l_ef=0.9 * 5.0 + 2 * 0.2, E_005=C24.E_05_Pa)
    return float(relative_beam_slenderness(f_mk=C24.bending_Pa, sigma_crit=critical))


CHECKS: list[Published] = [
    Published("Ex. 2.3.1", "use in bending", 0.4557, "1", use_by_formula, 0.00005),
    Published("Ex. 2.3.1", "the same through the design values", 0.4557, "1", use_by_design_values, 0.00005),
    Published("Ex. 2.3.1", "deflection at 0.75 kN/m", 7.501, "mm", lambda: deflection_mm(750.0), 0.0005),
    Published("Ex. 2.3.1", "deflection at 1.0 kN/m", 10.001, "mm", lambda: deflection_mm(1000.0), 0.0005),
    Published("Ex. 2.3.1", "creep at 0.306 kN/m", 3.060, "mm", lambda: deflection_mm(306.0), 0.0005),
    Published("Ex. 2.3.2", "relative slenderness", 1.277, "1", slenderness, 0.0005),
    Published(
        "Ex. 2.3.2",
        "k_crit",
        0.602,
        "1",
        lambda: float(tipping_factor(lambda_m=slenderness())),
        0.0005,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
