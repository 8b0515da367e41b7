"""Wind felt aboard, from true wind and boat speed.

Source: tests/test_apparent.py of the public package ydeos_aerodynamics, commit 8f42a49, read.
"""

from __future__ import annotations

import math

import pytest

from rigcalc.formulas.sails import apparent_wind_angle, apparent_wind_speed

from .record import Published, Source

SOURCE = Source("tests of a package of sailing aerodynamics", "wind and sails", "read")


def angle_deg(*, wind: float, true_deg: float, boat: float) -> float:
    return math.degrees(apparent_wind_angle(V_t=wind, beta_t=math.radians(true_deg), V_b=boat))


def speed(*, wind: float, true_deg: float, boat: float) -> float:
    return float(apparent_wind_speed(V_t=wind, beta_t=math.radians(true_deg), V_b=boat))


CHECKS: list[Published] = [
    Published(
        "running",
        "angle felt, wind 10 from 170 deg, boat speed 1",
        168.896520756,
        "deg",
        lambda: angle_deg(wind=10.0, true_deg=170.0, boat=1.0),
        5e-10,
    ),
    Published(
        "reaching",
        "angle felt, wind 10 from 90 deg, boat speed 10",
        45.0,
        "deg",
        lambda: angle_deg(wind=10.0, true_deg=90.0, boat=10.0),
        1e-12,
        "exact, apart from rounding",
    ),
    Published(
        "reaching",
        "speed felt, wind 10 from 90 deg, boat speed 10",
        14.142,
        "of the unit given",
        lambda: speed(wind=10.0, true_deg=90.0, boat=10.0),
        5e-4,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
