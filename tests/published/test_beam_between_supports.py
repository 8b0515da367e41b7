"""How far a mast bends the other way between its bearings.

Source: overhanging beam with an end load, mechengcalculations.com/jmm/beam12.html, which was read: the largest
reverse deflection between the supports is F a l^2/(9 sqrt(3) E I), at l/sqrt(3) from the far support.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from rigcalc.structure.beam import BeamLoad, solve

from ..structure import on_bearings
from .record import Published, Source

SOURCE = Source("a page on overhanging beams, mechengcalculations.com", "the mast as a beam", "read")

FORCE, SPAN, OVERHANG, EI = 7.0, 2.0, 3.0, 11.0


@cache
def largest() -> tuple[float, float]:
    """Place and size of the largest reverse deflection, where the slope changes sign."""
    place = SPAN / np.sqrt(3)
    mast = on_bearings(SPAN, length_m=SPAN + OVERHANG, kinks_m=(place,))
    found = solve(mast.mesh, EI * mast.one, BeamLoad(0 * mast.z, mast.at_tip(FORCE)), mast.supports)
    z, slope = (f[: mast.bury].ravel() for f in (mast.z, found.slope_rad))
    # the slope is a parabola in the height here: the straight line on its square is exact
    root = float(np.sqrt(np.interp(0.0, slope, z**2)))
    return root, float(-np.min(found.deflection_m))


CHECKS: list[Published] = [
    Published(
        "x",
        "place of the largest",
        SPAN / np.sqrt(3),
        "m",
        lambda: largest()[0],
        1e-9,
        "exact",
        kind="formula",
    ),
    Published(
        "y",
        "largest reverse deflection",
        FORCE * OVERHANG * SPAN**2 / (9 * np.sqrt(3) * EI),
        "m",
        lambda: largest()[1],
        1e-10,
        "a formula in print: equal but for rounding",
        kind="formula",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
