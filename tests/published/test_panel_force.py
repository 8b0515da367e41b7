"""Force of the wind on a panel square to it, in pounds and knots.

Source: message 27006 of a public mailing list on small boats,
groups.yahoo.com/neo/groups/bolger/conversations/topics/27006, read: F = 0.0034 S C V2 with C = 2 on 25 ft2. It
gives no density; the 1.225 kg/m3 of the standard atmosphere is used here.
"""

from __future__ import annotations

import pytest
from scipy.constants import foot, knot, pound_force

from rigcalc.formulas.wind import drag_per_length, wind_pressure

from .record import Published, Source

SOURCE = Source(
    "a mailing list on small boats, message 27006",
    "wind and sails",
    "read",
    differs=(
        "Sources give the pressure of wind by factors of two digits (0.0034 in knots) or three (0.00256 "
        "in mph) without a density: with 1.225 kg/m3 they are 0.003385 and 0.002556.",
    ),
)

SIDE_FT = 5.0
COEFFICIENT = 2.0
WHY = "half a unit of the last digit printed, with the factor to two digits as the source has it"


def factor() -> float:
    """Return the pressure at one knot in lb/ft2."""
    return float(wind_pressure(rho=1.225, v=knot)) / (pound_force / foot**2)


def force_lb(speed_kn: float, of_one_knot: float) -> float:
    return float(drag_per_length(C_D=COEFFICIENT, q=of_one_knot * speed_kn**2, D=SIDE_FT) * SIDE_FT)


CHECKS: list[Published] = [
    Published("text", "factor of the pressure", 0.0034, "lb/ft2/kn2", factor, 0.00005),
    *(
        Published(
            "text",
            f"force at {speed} kn",
            value,
            "lb",
            lambda speed=speed: force_lb(speed, round(factor(), 4)),
            half_a_digit,
            WHY,
            in_full=lambda speed=speed: force_lb(speed, factor()),
        )
        for speed, value, half_a_digit in ((10, 17.0, 0.5), (15, 38.25, 0.005), (30, 153.0, 0.5))
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
