"""Centroid of an area by its parts, and a shallow cable hung between two points.

Source: A. K. Tayal, Engineering Mechanics, Examples 4.8 and 10.4, as transcribed in a public companion
notebook (the book itself was not read). The notebook gives areas of 100, 75 and 150 cm2 with centroids at
22.5, 12.5 and 2.5 cm; flanges of 20 and 30 cm, 5 cm thick, and a web of 5 by 15 cm have these. The tension and
slope at the end follow from the tension at the middle by the balance of half the cable.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from rigcalc.formulas.sails import leech_tension
from rigcalc.loads import Strips, strips_of

from .record import Published, Source

SOURCE = Source("Tayal, Engineering Mechanics", "wind and sails", "second hand")

PARTS = Strips(np.array([0.0, 5.0, 20.0, 25.0]), np.array([30.0, 5.0, 20.0]), np.array([30.0, 5.0, 20.0]))
# the same as one outline
OUTLINE = np.array(
    [
        [-15.0, 0.0],
        [15.0, 0.0],
        [15.0, 5.0],
        [2.5, 5.0],
        [2.5, 20.0],
        [10.0, 20.0],
        [10.0, 25.0],
        [-10.0, 25.0],
        [-10.0, 20.0],
        [-2.5, 20.0],
        [-2.5, 5.0],
        [-15.0, 5.0],
    ]
)
WEIGHT_N_M, SPAN_M, SAG_M = 0.5 * 9.81, 30.0, 0.5


def middle_N() -> float:
    return float(leech_tension(w=WEIGHT_N_M, L=SPAN_M, f=SAG_M))


def end_N() -> float:
    return math.hypot(middle_N(), WEIGHT_N_M * SPAN_M / 2)


def slope_deg() -> float:
    return math.degrees(math.atan2(WEIGHT_N_M * SPAN_M / 2, middle_N()))


CHECKS: list[Published] = [
    Published("Ex. 4.8", "centroid, from parts", 10.961538, "cm", lambda: PARTS.centroid_m, 5e-7),
    Published(
        "Ex. 4.8", "centroid, from the outline", 10.961538, "cm", lambda: strips_of(OUTLINE).centroid_m, 5e-7
    ),
    Published("Ex. 10.4", "tension at the end", 1106.074781, "N", end_N, 5e-7),
    Published("Ex. 10.4", "slope at the end", 3.814075, "deg", slope_deg, 5e-7),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
