"""Base moment under a wind pressure that grows as the square root of the height.

Source: S. B. Junnarkar, Mechanics of Structures, Example 8, p. 330, as transcribed in a public companion
notebook (the book itself was not read). The notebook says that the answer printed in the book is wrong;
the value below is the notebook's.
"""

from __future__ import annotations

import pytest
from scipy.integrate import quad

from rigcalc.formulas.beams import moment_of_force
from rigcalc.formulas.wind import drag_per_length, power_law_speed, wind_pressure

from .record import Published, Source

SOURCE = Source(
    "Junnarkar, Mechanics of Structures",
    "wind and sails",
    "second hand",
    differs=(
        "The notebook says that the answer printed in the book for Ex. 8 is wrong; the notebook's is the "
        "one checked.",
    ),
)

HEIGHT_FT, WIDTH_FT, SHAPE = 120.0, 5.0, 0.6
PRESSURE_LB_FT2, AT_FT = 42.0, 49.0


def moment_lb_ft() -> float:
    # a speed that grows with exponent 1/4 gives a pressure that grows with 1/2; in units where rho is 2
    # the speed at the reference height is the root of the pressure there
    def of_strip(x_ft: float) -> float:
        speed = power_law_speed(v_ref=PRESSURE_LB_FT2**0.5, h=x_ft, h_ref=AT_FT, alpha=0.25)
        force = drag_per_length(C_D=SHAPE, q=wind_pressure(rho=2.0, v=speed), D=WIDTH_FT)
        return float(moment_of_force(F=force, h=x_ft))

    return float(quad(of_strip, 0.0, HEIGHT_FT)[0])


CHECKS: list[Published] = [
    Published(
        "Ex. 8, p. 330",
        "base moment, 120 ft tall and 5 ft wide",
        1135757.5,
        "lb ft",
        moment_lb_ft,
        0.05,
        "half a unit of the last digit of the companion notebook, which notes the book's own answer as wrong",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
