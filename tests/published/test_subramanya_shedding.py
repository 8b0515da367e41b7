"""Frequency at which a cable in the wind sheds vortices.

Source: K. Subramanya, 1000 Solved Problems in Fluid Mechanics, Example 9.10, p. 201, as transcribed in a
public companion notebook (the book itself was not read).
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.sails import critical_wind_speed, shedding_frequency

from .record import Published, Source

SOURCE = Source("Subramanya, 1000 Solved Problems", "frequencies and instability", "second hand")

DIAMETER_M, STROUHAL = 0.05, 0.21
SPEED_M_S = 80 / 3.6


def shed_Hz() -> float:
    return float(shedding_frequency(v=SPEED_M_S, D=DIAMETER_M, St=STROUHAL))


def wind_km_h() -> float:
    return float(critical_wind_speed(n=93.3, D=DIAMETER_M, St=STROUHAL)) * 3.6


CHECKS: list[Published] = [
    Published("Ex. 9.10, p. 201", "shedding from a 50 mm cable at 80 km/h", 93.3, "Hz", shed_Hz, 0.05),
    Published(
        "Ex. 9.10, p. 201",
        "wind of the example, from the frequency it prints",
        80.0,
        "km/h",
        wind_km_h,
        0.05 * DIAMETER_M / STROUHAL * 3.6,
        "half a unit of the last digit of the frequency, at the Strouhal number and size given",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
