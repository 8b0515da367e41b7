"""Saw settings for the corner of four leaning boards, the same joint as between mitred staves.

Source: the settings that are marked on compound mitre saws and printed in every table for cornice mouldings that
lean by 38 and by 45 deg, from memory. A square room is a polygon of four sides; the moulding leans from the
vertical, which is the axis.
"""

from __future__ import annotations

import math
from functools import partial

import pytest

from rigcalc.formulas.pieces import stave_bevel, stave_edge_angle

from .record import Published, Source

SOURCE = Source("saw settings for cornice mouldings", "cutting and pieces", "from memory")


def degrees(angle: object, lean_deg: float) -> float:
    assert callable(angle)
    return math.degrees(angle(n=4, alpha=math.radians(lean_deg)))


CHECKS: list[Published] = [
    Published("lean 38 deg (from memory)", "bevel", 33.86, "deg", partial(degrees, stave_bevel, 38), 0.005),
    Published(
        "lean 38 deg (from memory)", "mitre", 31.62, "deg", partial(degrees, stave_edge_angle, 38), 0.005
    ),
    Published("lean 45 deg (from memory)", "bevel", 30.00, "deg", partial(degrees, stave_bevel, 45), 0.005),
    Published(
        "lean 45 deg (from memory)", "mitre", 35.26, "deg", partial(degrees, stave_edge_angle, 45), 0.005
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
