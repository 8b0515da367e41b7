"""Stress concentration at a round hole in an infinite plate, where a small hole in a tube must end.

Source: "Circular hole in an infinite plate", amesweb.info/stress-concentration-factor-calculator, which
was read.
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.metals import hole_axial_factor, hole_bending_factor, hole_torsion_factor

from .record import Published, Source

SOURCE = Source("a page on holes in plates, amesweb.info", "walls and holes", "read")

SMALL = {"w": 1e-9, "D": 1.0, "d": 0.9}
LIMIT = "the plate's value is exact; a hole of 1e-9 of the tube differs by less than 1e-8"

CHECKS: list[Published] = [
    Published(
        "pull in one direction",
        "peak over nominal stress, tube in bending",
        3.0,
        "1",
        lambda: float(hole_bending_factor(**SMALL)),
        1e-8,
        LIMIT,
    ),
    Published(
        "pull in one direction",
        "peak over nominal stress, tube in axial force",
        3.0,
        "1",
        lambda: float(hole_axial_factor(**SMALL)),
        1e-8,
        LIMIT,
    ),
    Published(
        "pure shear",
        "peak direct over nominal shear stress, tube in torsion",
        4.0,
        "1",
        lambda: float(hole_torsion_factor(**SMALL)),
        1e-8,
        LIMIT,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
