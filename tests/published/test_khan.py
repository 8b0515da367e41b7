"""Metacentric height and righting moment of a barge.

Source: I. A. Khan, Fluid Mechanics, Example 2.16, p. 90, as transcribed in a public companion notebook
(the book itself was not read). Weight and draught are taken as printed; together they give the water
10.7 kN/m3, more than sea water has, which touches neither answer below.
"""

from __future__ import annotations

import math

import pytest

from rigcalc.formulas.stability import box_metacentric_radius, righting_moment, wall_sided_gz

from .record import Published, Source

SOURCE = Source(
    "Khan, Fluid Mechanics",
    "righting and heel",
    "second hand",
    differs=(
        "Weight and draught of the barge make the water 10.7 kN/m3, more than sea water has; neither "
        "answer depends on it.",
    ),
)

BEAM_M, DRAUGHT_M, KG_M, WEIGHT_KN = 4.0, 2.71, 1.5, 1739.2
G_M_S2 = 9.81


def gm_m() -> float:
    return float(box_metacentric_radius(B=BEAM_M, d=DRAUGHT_M)) + DRAUGHT_M / 2 - KG_M


def moment_kN_m(metacentric_height_m: float) -> float:
    # BM = 0 leaves GM sin(phi), the small-angle arm the example takes
    arm = wall_sided_gz(phi=math.radians(6), GM=metacentric_height_m, BM=0.0)
    return float(righting_moment(m=WEIGHT_KN / G_M_S2, g=G_M_S2, GZ=arm))


CHECKS: list[Published] = [
    Published("Ex. 2.16, p. 90", "metacentric height", 0.347, "m", gm_m, 0.0005),
    Published(
        "Ex. 2.16, p. 90",
        "righting moment at 6 deg from the printed GM",
        63.1,
        "kN m",
        lambda: moment_kN_m(0.347),
        0.05,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
