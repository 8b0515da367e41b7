"""Drag of a cable, as a bare mast of a rig file.

Source: K. Subramanya, 1000 Solved Problems in Fluid Mechanics, Example 9.10, p. 201, as transcribed in a
public companion notebook (the book itself was not read). The 50 mm cable stands upright, and its drag for
each metre is what the bearings hold up over the metres above the partners.
"""

from __future__ import annotations

import pytest

from ..test_loads import case_text, resultants, run
from .record import Published, Source

SOURCE = Source(
    "Subramanya, 1000 Solved Problems",
    "wind and sails",
    "second hand",
    differs=(
        "Past the fall of drag textbooks differ: 0.33 at a Reynolds number of 3.7 million here, 0.35 at "
        "0.95 million (Fox and McDonald), 0.70 by Roshko's points. The tool gives no credit for the fall unless asked.",
    ),
)

BURY_M, LENGTH_M = 1.0, 5.0


def drag_N_m() -> float:
    case = case_text("bare", 'wind_speed = "80 km/h"', "gust_factor = 1", 'force_angle = "90 deg"')
    cable = ((0.0, 0.05, 0.003), (LENGTH_M, 0.05, 0.003))
    side, *_ = resultants(run(f'[wind]\nair_density = "1.2 kg/m3"\n{case}', stations=cable, bury_m=BURY_M))
    return side / (LENGTH_M - BURY_M)


CHECKS: list[Published] = [
    Published(
        "Ex. 9.10, p. 201",
        "drag of a 50 mm cable at 80 km/h, by a rig file",
        17.78,
        "N/m",
        drag_N_m,
        0.005,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
