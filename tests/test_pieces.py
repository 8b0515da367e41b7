"""Geometry of staves, scarfs and developed cones against points in space and closed forms."""

from __future__ import annotations

import math

import numpy as np
import pytest

from rigcalc.formulas.pieces import (
    arc_chord,
    arc_height,
    bias_roll_length,
    bias_strip_length,
    cone_area,
    cone_slant,
    corner_height,
    developed_radius,
    prismoid_volume,
    scarf_length,
    stave_bevel,
    stave_edge_angle,
    stave_width,
)
from rigcalc.formulas.shapes import polygon_across_corners, polygon_area

SIDES = [3, 4, 5, 6, 8, 12, 16, 32]


def corner(n: int, i: int, W: float, z: float) -> np.ndarray:
    """Return corner i of a polygon of n sides, W across flats, at the height z."""
    angle = (2 * i + 1) * math.pi / n
    radius = W / 2 / math.cos(math.pi / n)
    return np.array([radius * math.cos(angle), radius * math.sin(angle), z])


@pytest.mark.parametrize("n", SIDES)
@pytest.mark.parametrize(("W_0", "W_1", "h"), [(0.12, 0.06, 6.0), (0.5, 0.1, 0.2), (0.1, 0.1, 1.0)])
def test_stave_by_the_corners_of_the_pyramid(n: int, W_0: float, W_1: float, h: float) -> None:
    alpha = math.atan2((W_0 - W_1) / 2, h)
    a, b = corner(n, 0, W_0, 0.0), corner(n, 1, W_0, 0.0)
    c, d = corner(n, 0, W_1, h), corner(n, 1, W_1, h)
    assert stave_width(n=n, W=W_0) == pytest.approx(float(np.linalg.norm(b - a)), rel=1e-12)
    assert corner_height(n=n, W=W_0) == pytest.approx(
        (polygon_across_corners(n=n, w=W_0) - W_0) / 2, rel=1e-9
    )

    # the mitre plane halves the angle between two faces
    normal, neighbour = (
        np.cross(q - p, top - p) for p, q, top in ((a, b, c), (b, corner(n, 2, W_0, 0.0), d))
    )
    between = np.dot(normal, neighbour) / np.linalg.norm(normal) / np.linalg.norm(neighbour)
    assert math.cos(2 * stave_bevel(n=n, alpha=alpha)) == pytest.approx(float(between), abs=1e-12)

    # and in the face the edge leans to the middle line
    middle, edge = (c + d - a - b) / 2, d - b
    leaned = np.linalg.norm(np.cross(middle, edge)) / np.dot(middle, edge)
    assert math.tan(stave_edge_angle(n=n, alpha=alpha)) == pytest.approx(abs(float(leaned)), abs=1e-12)


@pytest.mark.parametrize("n", SIDES)
def test_a_stave_without_taper_has_the_angle_of_its_polygon(n: int) -> None:
    assert stave_bevel(n=n, alpha=0.0) == pytest.approx(math.pi / n, rel=1e-14)
    assert stave_edge_angle(n=n, alpha=0.0) == 0.0


@pytest.mark.parametrize("n", SIDES)
def test_staves_make_the_ring(n: int) -> None:
    W, w = 0.12, 0.08
    trapezium = (stave_width(n=n, W=W) + stave_width(n=n, W=w)) / 2 * (W - w) / 2
    assert n * trapezium == pytest.approx(polygon_area(n=n, w=W) - polygon_area(n=n, w=w), rel=1e-13)


def test_prismoid_is_exact_up_to_a_cubic() -> None:
    area = np.polynomial.Polynomial([2.0, -1.0, 0.7, 0.3])
    exact = area.integ()(1.5) - area.integ()(0.0)
    assert prismoid_volume(A_0=area(0.0), A_m=area(0.75), A_1=area(1.5), h=1.5) == pytest.approx(
        exact, rel=1e-14
    )


def test_scarf_of_one_in_twelve() -> None:
    assert scarf_length(t=0.025, m=12.0) == pytest.approx(0.3, rel=1e-15)


@pytest.mark.parametrize(("h", "r_1", "r_2"), [(6.0, 0.06, 0.03), (0.1, 0.4, 0.1)])
def test_developed_cone_is_part_of_a_ring(h: float, r_1: float, r_2: float) -> None:
    s = float(cone_slant(h=h, r_1=r_1, r_2=r_2))
    x = (r_1 - r_2) / s
    outer, inner = developed_radius(r=r_1, x=x), developed_radius(r=r_2, x=x)
    assert outer - inner == pytest.approx(s, rel=1e-10)
    angle = 2 * math.pi * r_1 / outer  # the arc is the circle it came from
    assert inner * angle == pytest.approx(2 * math.pi * r_2, rel=1e-12)
    assert angle / 2 * (outer**2 - inner**2) == pytest.approx(cone_area(r_1=r_1, r_2=r_2, s=s), rel=1e-9)
    half = angle / 2
    if half < math.pi:
        assert arc_chord(w=2 * math.pi * r_1, R=outer) == pytest.approx(2 * outer * math.sin(half), rel=1e-12)
        assert arc_height(w=2 * math.pi * r_1, R=outer) == pytest.approx(
            outer * (1 - math.cos(half)), rel=1e-9
        )


@pytest.mark.parametrize("theta", [0.3, math.pi / 4, math.pi / 2])
def test_bias_strip_by_its_corners(theta: float) -> None:
    B, w = 1.27, 0.4
    along = np.array([math.cos(theta), math.sin(theta)])
    length, roll = bias_strip_length(B=B, theta=theta), bias_roll_length(w=w, theta=theta)
    assert (along * length)[1] == pytest.approx(B, rel=1e-14)  # from one edge of the roll to the other
    # the next strip starts so far on that w lies between the two
    assert roll * along[1] == pytest.approx(w, rel=1e-14)
    assert roll * B == pytest.approx(w * length, rel=1e-14)
