"""Wind at the height of a small boat's sail over the wind at 10 m.

Source: EN 1991-1-4:2005, expression (4.4) and the 0.003 m of the sea in Table 4.1, as coded in a public
library of the Eurocodes (ec1/wind/pressure.py of eurocodepy, read; the standard itself was not). The
0.0002 m of a calm water surface and the exponent 0.11 of open water were read in profiles.py of the public
package ydeos_aerodynamics, commit 8f42a49. None of them prints these ratios: they were worked out by hand
from the laws as read, to three digits, so these checks tell slips of ours, not of the sources.
"""

from __future__ import annotations

import numpy as np
import pytest

from rigcalc.loads.wind import WindAtMast
from rigcalc.rig import Wind

from .record import Published, Source

SOURCE = Source(
    "EN 1991-1-4 and two laws of open water",
    "wind and sails",
    "second hand",
    differs=(
        "The roughness of the sea is 0.003 m in EN 1991-1-4, for storms, and 0.0002 m for calm water "
        "elsewhere: at 3 m they leave 0.852 and 0.889 of the wind at 10 m. The power law, which is the "
        "default, leaves 0.876.",
    ),
)

STORM_SEA = Wind(profile="log-law", roughness_length_m=0.003)
CALM_WATER = Wind(profile="log-law", roughness_length_m=0.0002)
OPEN_WATER = Wind(profile="power-law", exponent=0.11)
WATERLINE_M = 0.4

RATIOS = (
    ("log law, 0.003 m", STORM_SEA, 3.0, 0.852),
    ("log law, 0.003 m", STORM_SEA, 5.0, 0.915),
    ("log law, 0.003 m", STORM_SEA, 8.0, 0.972),
    ("log law, 0.0002 m", CALM_WATER, 3.0, 0.889),
    ("log law, 0.0002 m", CALM_WATER, 5.0, 0.936),
    ("log law, 0.0002 m", CALM_WATER, 8.0, 0.979),
    ("power law, 0.11", OPEN_WATER, 3.0, 0.876),
    ("power law, 0.11", OPEN_WATER, 5.0, 0.927),
    ("power law, 0.11", OPEN_WATER, 8.0, 0.976),
)


def ratio(air: Wind, above_water_m: float) -> float:
    z = np.array(WATERLINE_M + above_water_m)
    return float(WindAtMast(air, WATERLINE_M).speed_m_s(1.0, z))


CHECKS: list[Published] = [
    Published(
        law,
        f"wind at {height:g} m over that at 10 m",
        value,
        "1",
        lambda air=air, height=height: ratio(air, height),
        0.0005,
        "half a unit of the last digit worked out from the law",
        kind="worked out",
    )
    for law, air, height, value in RATIOS
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
