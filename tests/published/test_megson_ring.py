"""A thin ring between two opposed forces.

Source: a text on aircraft structures, ch. 5, "Energy methods", p. 132, read: M = P R (1/pi - sin(theta)/2). That it
is T. H. G. Megson's is from memory.
"""

from __future__ import annotations

import math
from functools import partial

import pytest

from rigcalc.bearings import ring_bending
from rigcalc.formulas import Working

from .record import Published, Source

SOURCE = Source("Megson, Aircraft Structures", "bearings", "read")


def moment(theta: float) -> float:
    """Return M over P R at an angle from the forces, each of them held by the shear flow of a beam: these cancel."""
    found = ring_bending(
        [0.0, math.pi], [1.0, 1.0], length_m=1.0, radius_m=1.0, working=Working(), places=360
    )
    return float(found.moment_N[abs(found.angle_rad - theta).argmin()])


CHECKS: list[Published] = [
    Published(
        "p. 132",
        f"moment at {degrees} deg",
        1 / math.pi - math.sin(math.radians(degrees)) / 2,
        "P R",
        partial(moment, math.radians(degrees)),
        1e-12,
        "the formula is exact for a thin ring",
        kind="formula",
    )
    for degrees in (0, 30, 45, 90, 120)
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
