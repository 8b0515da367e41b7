"""Heel of a ship under a weight shifted, and then under the torque of her engine.

Source: B. K. Sarkar, Fluid Mechanics and Hydraulic Machines, Example 2.15, p. 53, as transcribed in a
public companion notebook, which notes a difference of rounding from the book (the book itself was not
read). GM follows from 450 kN moved by 5.5 m, which gives 3 deg to 80 MN; the heel printed is that under
12.5 MW at 120 rev/min. Both balance as tan(heel) = moment/(weight GM): a heeling moment that falls off as
the cosine.
"""

from __future__ import annotations

import math

import pytest

from rigcalc.formulas import Working
from rigcalc.loads.heel import steady_heel
from rigcalc.rig import Boat, Mast, Rig, Stability, Station
from rigcalc.units import STANDARD_GRAVITY_M_S2

from .record import Published, Source

SOURCE = Source("Sarkar, Fluid Mechanics", "righting and heel", "second hand")

WEIGHT_N = 80e6
SHIFT_N_M = 450e3 * 5.5
TORQUE_N_M = 12.5e6 / (2 * math.pi * 120 / 60)
GM_M = SHIFT_N_M / (WEIGHT_N * math.tan(math.radians(3.0)))


def heel_deg(moment_N_m: float) -> float:
    boat = Boat(
        displacement_kg=WEIGHT_N / STANDARD_GRAVITY_M_S2,
        waterline_m=0.0,
        lateral_centre_m=-1.0,
        stability=Stability(gm_m=GM_M, bm_m=0.0),
    )
    tube = (Station(height_m=0.0, diameter_m=0.1), Station(height_m=2.0, diameter_m=0.1))
    mast = Mast(length_m=2.0, bury_m=0.5, material="none", stations=tube)
    settled = steady_heel(Rig(title="ship", boat=boat, mast=mast), moment_N_m, Working())
    assert settled is not None
    assert settled.heel_rad is not None
    return math.degrees(settled.heel_rad)


CHECKS: list[Published] = [
    Published("Ex. 2.15, p. 53", "heel under the torque", 1.2066, "deg", lambda: heel_deg(TORQUE_N_M), 5e-5),
    Published(
        "Ex. 2.15, p. 53",
        "heel under the weight shifted",
        3.0,
        "deg",
        lambda: heel_deg(SHIFT_N_M),
        1e-4,
        "given exactly; the righting curve is read linearly every quarter of a degree",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
