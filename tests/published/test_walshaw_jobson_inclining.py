"""Inclining test: a weight shifted across a ship and the heel it gives her, in long tons and feet.

Source: A. C. Walshaw and D. A. Jobson, Mechanics of Fluids, Example 1.6.1, p. 12, as transcribed in a
public companion notebook (the book itself was not read). It gives 4 ton shifted by 30 ft, a displacement
of 2000 ton and a change of heel of 0.030 rad, and finds a GM of 2 ft. Here the ship of that GM is heeled by
that shift, whose moment falls off as the cosine of the heel: the sum the other way about.
"""

from __future__ import annotations

import pytest
from scipy.constants import foot, long_ton

from rigcalc.formulas import Working
from rigcalc.loads.heel import steady_heel
from rigcalc.rig import Boat, Mast, Rig, Stability, Station
from rigcalc.units import STANDARD_GRAVITY_M_S2

from .record import Published, Source

SOURCE = Source("Walshaw and Jobson, Mechanics of Fluids", "righting and heel", "second hand")


def heel_rad() -> float:
    boat = Boat(
        displacement_kg=2000 * long_ton,
        waterline_m=0.0,
        lateral_centre_m=-1.0,
        stability=Stability(gm_m=2 * foot, bm_m=0.0),
    )
    tube = (Station(height_m=0.0, diameter_m=0.1), Station(height_m=2.0, diameter_m=0.1))
    mast = Mast(length_m=2.0, bury_m=0.5, material="none", stations=tube)
    shift_N_m = 4 * long_ton * STANDARD_GRAVITY_M_S2 * 30 * foot
    settled = steady_heel(Rig(title="ship", boat=boat, mast=mast), shift_N_m, Working())
    assert settled is not None
    assert settled.heel_rad is not None
    return settled.heel_rad


CHECKS: list[Published] = [
    Published(
        "Ex. 1.6.1, p. 12",
        "change of heel of the ship with the GM found",
        0.030,
        "rad",
        heel_rad,
        0.0005,
        "half a unit of the last digit given",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
