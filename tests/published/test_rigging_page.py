"""Wind pressure in pounds per square foot from miles per hour.

Source: "Calculating loads", 18 November 2015, riggingdoctor.com/life-aboard/2015/11/18/calculating-loads,
which was read. The page gives p = 0.00256 V2 and no density. The coefficient implies 1.227 kg/m3, and its
three figures allow 1.2243 to 1.2291: the 1.225 kg/m3 of the standard atmosphere fits and is used here.
"""

from __future__ import annotations

import pytest
from scipy.constants import foot, mph, pound_force

from rigcalc.formulas.wind import wind_pressure

from .record import Published, Source

SOURCE = Source("a page on rigging, Calculating loads", "wind and sails", "read")

RHO_KG_M3 = 1.225
PANEL_FT2 = 500.0


def pressure_lb_ft2(speed_mph: float) -> float:
    return float(wind_pressure(rho=RHO_KG_M3, v=speed_mph * mph) * foot**2 / pound_force)


CHECKS: list[Published] = [
    Published("formula", "pressure at 1 mph", 0.00256, "lb/ft2", lambda: pressure_lb_ft2(1.0), 0.000005),
    Published("text", "pressure at 5 mph", 0.064, "lb/ft2", lambda: pressure_lb_ft2(5.0), 0.0005),
    Published("text", "pressure at 10 mph", 0.256, "lb/ft2", lambda: pressure_lb_ft2(10.0), 0.0005),
    Published("text", "force on 500 ft2 at 5 mph", 32.0, "lb", lambda: PANEL_FT2 * pressure_lb_ft2(5.0), 0.5),
    Published(
        "text", "force on 500 ft2 at 10 mph", 128.0, "lb", lambda: PANEL_FT2 * pressure_lb_ft2(10.0), 0.5
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
