"""Tip of an overhanging beam, and a shaft under axial force and torque.

Source: R. C. Hibbeler, Mechanics of Materials, Example 12.14, p. 621, as transcribed in a public
companion notebook, and Example 10.12 (SI 10th ed.), whose inputs were read in a public demonstration. The
book itself was not read.
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.beams import overhang_tip_deflection, partners_slope
from rigcalc.formulas.sections import (
    annulus_area,
    annulus_torsion_constant,
    direct_stress,
    torsion_stress,
    von_mises_stress,
)

from .record import Published, Source

SOURCE = Source(
    "Hibbeler, Mechanics of Materials",
    "the mast as a beam",
    "second hand",
    differs=(
        "The notebook prints 52 for the tip of Ex. 12.14, because it divides whole numbers; the terms of "
        "the example add to 53.33.",
    ),
)

SPAN_M, OVERHANG_M = 4.0, 2.0
TIP_KN, SPAN_KN_M = 10.0, 5.0


def tip_deflection_kN_m3() -> float:
    """Return EI times the tip deflection."""
    down = overhang_tip_deflection(F=TIP_KN, a=OVERHANG_M, b=SPAN_M, EI=1.0)
    # an end moment w b2/8 holds the slope under a uniform load at nothing, so alone it makes that slope
    slope = partners_slope(M_p=SPAN_KN_M * SPAN_M**2 / 8, b=SPAN_M, EI=1.0)
    return float(down - OVERHANG_M * slope)


RADIUS_MM, FORCE_N, TORQUE_N_MM = 12.5, 65e3, 350e3


def shaft_direct_MPa() -> float:
    return float(direct_stress(N=FORCE_N, A=annulus_area(D=2 * RADIUS_MM, d=0.0)))


def shaft_shear_MPa() -> float:
    return float(
        torsion_stress(T=TORQUE_N_MM, r=RADIUS_MM, J=annulus_torsion_constant(D=2 * RADIUS_MM, d=0.0))
    )


COMPUTED = (
    "computed from the published inputs, to the digits shown; the book's verdict, safe by the energy "
    "criterion with a yield stress of 250 MPa, is from memory"
)

CHECKS: list[Published] = [
    Published(
        "Ex. 12.14, p. 621",
        "EI times the tip deflection",
        53.33,
        "kN m3",
        tip_deflection_kN_m3,
        0.005,
        "sum of the example's own terms -26.67 + 53.33 + 26.67; the notebook prints 52, "
        "because it divides whole numbers",
        kind="worked out",
    ),
    Published(
        "Ex. 10.12", "direct stress", 132.4, "MPa", shaft_direct_MPa, 0.05, COMPUTED, kind="worked out"
    ),
    Published("Ex. 10.12", "shear stress", 114.1, "MPa", shaft_shear_MPa, 0.05, COMPUTED, kind="worked out"),
    Published(
        "Ex. 10.12",
        "von Mises stress",
        237.9,
        "MPa",
        lambda: float(von_mises_stress(sigma=shaft_direct_MPa(), tau=shaft_shear_MPa())),
        0.05,
        COMPUTED,
        kind="worked out",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
