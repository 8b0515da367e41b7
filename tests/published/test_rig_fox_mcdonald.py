"""Base moment of a chimney in a uniform wind, as a bare mast of a rig file.

Source: R. W. Fox and A. T. McDonald, Introduction to Fluid Mechanics, Example 9.6, p. 442, as
transcribed in a public companion notebook (the book itself was not read). A rig file takes no spar 1 m
wide: half the width with twice the coefficient has the same drag.
"""

from __future__ import annotations

import pytest

from ..test_loads import case_text, run
from .record import Published, Source

SOURCE = Source("Fox and McDonald, Fluid Mechanics", "wind and sails", "second hand")

BURY_M, HEIGHT_M = 1.0, 25.0


def base_moment_N_m() -> float:
    case = case_text(
        "bare",
        'wind_speed = "50 km/h"',
        "gust_factor = 1",
        "force_coefficient = 0.70",
        'force_angle = "90 deg"',
    )
    chimney = ((0.0, 0.5, 0.01), (BURY_M + HEIGHT_M, 0.5, 0.01))
    result = run(f'[wind]\nair_density = "1.23 kg/m3"\n{case}', stations=chimney, bury_m=BURY_M)
    return result.cases[0].partners_moment_N_m


CHECKS: list[Published] = [
    Published(
        "Ex. 9.6, p. 442",
        "base moment of a chimney 1 m wide and 25 m tall at 50 km/h, by a rig file",
        12975.62,
        "N m",
        base_moment_N_m,
        0.005,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
