"""Lift and drag of a kite from the pull of its line.

Source: J. F. Douglas, Fluid Mechanics, Example 12.1, p. 399, as transcribed in a public companion notebook
(the book itself was not read). A kite of 1.0 kg and 1.2 m2 flies in 40 km/h of air of 1.2 kg/m3; its line
pulls with 50 N at 35 deg to the level.

The kite stands for a sail: what pulls along its line is the side force, what pulls square to it the
drive, and the wind blows at 90 - 35 deg to that square. The same two formulas that turn lift and drag into
side force and drive turn them back, for to do so twice is to do nothing.
"""

from __future__ import annotations

import math

import pytest

from rigcalc.formulas.sails import driving_coefficient, heeling_coefficient
from rigcalc.formulas.wind import drag_per_length, wind_pressure

from .record import Published, Source

SOURCE = Source("Douglas, Fluid Mechanics", "wind and sails", "second hand")

WEIGHT_N, AREA_M2, PULL_N = 1.0 * 9.81, 1.2, 50.0
LINE_RAD = math.radians(35.0)
BETA_RAD = math.pi / 2 - LINE_RAD


def coefficients() -> tuple[float, float]:
    unit = drag_per_length(C_D=1.0, q=wind_pressure(rho=1.2, v=40 / 3.6), D=AREA_M2)
    side = (PULL_N + WEIGHT_N * math.sin(LINE_RAD)) / unit
    forward = WEIGHT_N * math.cos(LINE_RAD) / unit
    lift = heeling_coefficient(C_L=side, C_D=forward, beta=BETA_RAD)
    drag = driving_coefficient(C_L=side, C_D=forward, beta=BETA_RAD)
    return float(lift), float(drag)


def pull_N() -> float:
    """Pull of the line for the coefficients printed."""
    along = heeling_coefficient(C_L=0.433, C_D=0.461, beta=BETA_RAD)
    force = drag_per_length(C_D=along, q=wind_pressure(rho=1.2, v=40 / 3.6), D=AREA_M2)
    return float(force - WEIGHT_N * math.sin(LINE_RAD))


CHECKS: list[Published] = [
    Published("Ex. 12.1, p. 399", "lift coefficient", 0.433, "1", lambda: coefficients()[0], 0.0005),
    Published("Ex. 12.1, p. 399", "drag coefficient", 0.461, "1", lambda: coefficients()[1], 0.0005),
    Published(
        "Ex. 12.1, p. 399",
        "pull of the line, from the coefficients it prints",
        50.0,
        "N",
        pull_N,
        0.07,
        "half a unit of the last digit of each coefficient, over 89 N of pressure and area",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
