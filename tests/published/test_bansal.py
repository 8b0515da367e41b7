"""Stress at the foot of a masonry chimney under wind and its own weight.

Source: R. K. Bansal, Strength of Materials, Problem 10.19, p. 459, as transcribed in a public companion
notebook (the book itself was not read).
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.beams import moment_of_force
from rigcalc.formulas.sections import annulus_area, annulus_second_moment, bending_stress, direct_stress
from rigcalc.formulas.wind import drag_per_length

from .record import Published, Source

SOURCE = Source("Bansal, Strength of Materials", "wind and sails", "second hand")

OUTSIDE_M, BORE_M, HEIGHT_M = 4.0, 2.0, 20.0
WEIGHT_KN_M3 = 22.0
PRESSURE_KN_M2, SHAPE = 1.0, 2 / 3


def stress_kN_m2(side: float) -> float:
    wind = drag_per_length(C_D=SHAPE, q=PRESSURE_KN_M2, D=OUTSIDE_M) * HEIGHT_M
    area = annulus_area(D=OUTSIDE_M, d=BORE_M)
    bending = bending_stress(
        M=moment_of_force(F=wind, h=HEIGHT_M / 2),
        y=OUTSIDE_M / 2,
        I=annulus_second_moment(D=OUTSIDE_M, d=BORE_M),
    )
    return float(direct_stress(N=WEIGHT_KN_M3 * area * HEIGHT_M, A=area) + side * bending)


CHECKS: list[Published] = [
    Published(
        "Problem 10.19, p. 459",
        "largest stress at the base",
        530.54,
        "kN/m2",
        lambda: stress_kN_m2(+1),
        0.005,
    ),
    Published(
        "Problem 10.19, p. 459", "least stress at the base", 349.46, "kN/m2", lambda: stress_kN_m2(-1), 0.005
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
