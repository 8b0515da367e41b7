"""Force of the wind on a panel square to it, in pounds and knots.

Source: message 27006 of a public mailing list on small boats,
groups.yahoo.com/neo/groups/bolger/conversations/topics/27006, read: F = 0.0034 S C V2 with C = 2 on 25 ft2. It
gives no density; the 1.225 kg/m3 of the standard atmosphere is used here.
"""

from __future__ import annotations

import pytest
from scipy.constants import foot, knot, pound_force

from rigcalc.formulas.wind import drag_per_length, wind_pressure

from .record import Published

SIDE_FT = 5.0
COEFFICIENT = 2.0
ROUNDING = 0.00005 / 0.0034
WHY = "half a unit of the second and last digit of the source's factor 0.0034, as a share of the force"


def force_lb(speed_kn: float) -> float:
    side = SIDE_FT * foot
    pressure = wind_pressure(rho=1.225, v=speed_kn * knot)
    return float(drag_per_length(C_D=COEFFICIENT, q=pressure, D=side) * side / pound_force)


CHECKS: list[Published] = [
    Published("text", "force at 10 kn", 17.0, "lb", lambda: force_lb(10.0), 17.0 * ROUNDING, WHY),
    Published("text", "force at 15 kn", 38.25, "lb", lambda: force_lb(15.0), 38.25 * ROUNDING, WHY),
    Published("text", "force at 30 kn", 153.0, "lb", lambda: force_lb(30.0), 153.0 * ROUNDING, WHY),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
