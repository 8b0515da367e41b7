"""Properties of a thin round tube.

Source: AASHTO Standard Specifications for Structural Supports for Highway Signs, 5th ed., Appendix B,
Table B-1, read in a web copy.
"""

from __future__ import annotations

import math

import pytest

from rigcalc.formulas.sections import annulus_area, annulus_plastic_modulus, annulus_second_moment

from .record import Published, Source

SOURCE = Source("AASHTO sign supports", "sections and stress", "read")

# mid-wall radius 1 with a wall of 1/10000: the table's expressions are for a thin wall
WALL = 1e-4
OUTSIDE, BORE = 2 + WALL, 2 - WALL


def shape_factor() -> float:
    elastic = annulus_second_moment(D=OUTSIDE, d=BORE) / (OUTSIDE / 2)
    return float(annulus_plastic_modulus(D=OUTSIDE, d=BORE) / elastic)


CHECKS: list[Published] = [
    Published("Table B-1", "shape factor of a round tube", 1.27, "1", shape_factor, 0.005),
    Published(
        "Table B-1",
        "area over R t",
        6.28,
        "1",
        lambda: float(annulus_area(D=OUTSIDE, d=BORE)) / WALL,
        0.005,
    ),
    Published(
        "Table B-1",
        "second moment over R3 t",
        3.14,
        "1",
        lambda: float(annulus_second_moment(D=OUTSIDE, d=BORE)) / WALL,
        0.005,
    ),
    Published(
        "Table B-1",
        "radius of gyration over R",
        0.707,
        "1",
        lambda: math.sqrt(annulus_second_moment(D=OUTSIDE, d=BORE) / annulus_area(D=OUTSIDE, d=BORE)),
        0.0005,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
