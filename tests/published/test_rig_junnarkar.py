"""Base moment under a wind that grows with height, as a bare mast of a rig file.

Source: S. B. Junnarkar, Mechanics of Structures, Example 8, p. 330, as transcribed in a public companion
notebook (the book itself was not read), whose value is used: it says that the answer printed in the book
is wrong. The pressure, 42 lb/ft2 at 49 ft, grows as the root of the height: speed with exponent 1/4. A
rig file takes no spar 5 ft wide: 2.5 ft with twice the shape factor has the same drag.
"""

from __future__ import annotations

import math

import pytest
from scipy.constants import foot, pound_force

from rigcalc import check, read_rig

from ..test_loads import case_text, rig_text
from .record import Published, Source

SOURCE = Source("Junnarkar, Mechanics of Structures", "wind and sails", "second hand")

BURY_M = 1.0
HEIGHT_M = 120 * foot
DENSITY = 1.225


def below_a_metre_lb_ft() -> float:
    """Return what the wind of the first metre, held at that of 1 m, makes more than one that goes to nothing."""
    metre = 1 / foot
    at_a_metre = 0.6 * 42 * 5 * math.sqrt(metre / 49)
    return at_a_metre * metre**2 * (1 / 2 - 2 / 5)


def base_moment_lb_ft() -> float:
    speed = math.sqrt(2 * 42 * pound_force / foot**2 / DENSITY)
    wind = '[wind]\nprofile = "power-law"\nexponent = 0.25\nreference_height = "49 ft"\n'
    case = case_text(
        "bare",
        f'wind_speed = "{speed!r} m/s"',
        "gust_factor = 1",
        "force_coefficient = 1.2",
        'force_angle = "90 deg"',
    )
    width = 2.5 * foot
    spar = ((0.0, width, 0.02), (BURY_M + HEIGHT_M, width, 0.02))
    text = rig_text(stations=spar, bury_m=BURY_M, more=wind + case)
    # the ground of the example is the water here, at the partners
    text = text.replace('waterline = "0.55 m"', f'waterline = "{BURY_M} m"')
    return check(read_rig(text)).cases[0].partners_moment_N_m / pound_force / foot


CHECKS: list[Published] = [
    Published(
        "Ex. 8, p. 330",
        "base moment, 120 ft tall and 5 ft wide, by a rig file",
        1135757.5,
        "lb ft",
        lambda: base_moment_lb_ft() - below_a_metre_lb_ft(),
        0.05,
        "half a unit of the last digit printed; under a law of height the wind below 1 m is held at that of 1 m, "
        "which the example does not do: 35 lb ft are taken off",
        in_full=base_moment_lb_ft,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
