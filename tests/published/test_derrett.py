"""Righting arm and righting moment.

Source: D. R. Derrett, Ship Stability for Masters and Mates, p. 130, Ex. 1 and Ex. 2 (a), and p. 165,
Ex. 2; these pages were read. The book multiplies figures it has already rounded: where that matters the
printed value is checked with the book's rounded figure, and the unrounded one beside it.
"""

from __future__ import annotations

import math
from functools import partial

import pytest

from rigcalc.formulas.stability import (
    box_metacentric_radius,
    gz_after_rise,
    righting_moment,
    wall_sided_gz,
)

from .record import Published, Source

SOURCE = Source(
    "Derrett, Ship Stability",
    "righting and heel",
    "read",
    differs=(
        "The book multiplies figures it has rounded: 2100 t m where its data give 2094.9, and 278.9 t m "
        "by a four-figure sine where they give 278.7.",
    ),
)

# p. 130, Ex. 1: wall-sided ship at 25 deg; moments are in t m, so g is 1
KB_M, KM_M, KG_M, DISPLACEMENT_T = 3.0, 6.0, 5.5, 6000.0

# p. 130, Ex. 2 (a): box 65 x 12 x 8 m at 5 deg
LENGTH_M, BEAM_M, DRAUGHT_M, BOX_KG_M, SEA_T_M3 = 65.0, 12.0, 4.0, 4.0, 1.025
BOX_T = LENGTH_M * BEAM_M * DRAUGHT_M * SEA_T_M3

# p. 165, Ex. 2: righting arms by angle for KG 9 m, and for KG 8.5 m
CURVES = ((15, 0.81, 0.94), (30, 1.90, 2.15), (45, 2.24, 2.59), (60, 1.70, 2.13), (75, 0.68, 1.16))


def ship_gz_m() -> float:
    return float(wall_sided_gz(phi=math.radians(25), GM=KM_M - KG_M, BM=KM_M - KB_M))


def ship_moment_tm(gz_m: float) -> float:
    return float(righting_moment(m=DISPLACEMENT_T, g=1.0, GZ=gz_m))


def box_bm_m() -> float:
    return float(box_metacentric_radius(B=BEAM_M, d=DRAUGHT_M))


def box_gm_m() -> float:
    return DRAUGHT_M / 2 + box_bm_m() - BOX_KG_M


def box_moment_tm(phi: float = math.radians(5)) -> float:
    # BM = 0 leaves GM sin(phi), which is what the book takes at a small angle
    return float(righting_moment(m=BOX_T, g=1.0, GZ=wall_sided_gz(phi=phi, GM=box_gm_m(), BM=0.0)))


def lowered_gz_m(angle_deg: float, gz_m: float) -> float:
    return float(gz_after_rise(GZ=gz_m, rise=8.5 - 9.0, phi=math.radians(angle_deg)))


CHECKS: list[Published] = [
    Published("p. 130, Ex. 1", "GZ at 25 deg", 0.35, "m", ship_gz_m, 0.005),
    Published(
        "p. 130, Ex. 1",
        "righting moment at 25 deg",
        2100.0,
        "t m",
        lambda: ship_moment_tm(round(ship_gz_m(), 2)),
        0.5,
        "half a unit of the last digit printed, with GZ rounded to 0.35 m first as the book does",
        in_full=lambda: ship_moment_tm(ship_gz_m()),
    ),
    Published(
        "p. 130, Ex. 2 (a)", "BM of the box", 3.0, "m", box_bm_m, 1e-12, "the book's division is exact"
    ),
    Published("p. 130, Ex. 2 (a)", "GM of the box", 1.0, "m", box_gm_m, 1e-12, "the book's sum is exact"),
    Published(
        "p. 130, Ex. 2 (a)",
        "righting moment at 5 deg",
        278.9,
        "t m",
        lambda: box_moment_tm(math.asin(0.0872)),
        0.05,
        "half a unit of the last digit printed, with the sine of 5 deg to four figures, 0.0872",
        in_full=box_moment_tm,
    ),
    *(
        Published(
            "p. 165, Ex. 2",
            f"GZ at {angle} deg after G is lowered 0.5 m",
            after,
            "m",
            partial(lowered_gz_m, angle, before),
            0.005,
        )
        for angle, before, after in CURVES
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
