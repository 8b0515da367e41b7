"""Shapes of section against limits, direct integration, series, and two sets of finite elements."""

from collections.abc import Callable
from math import gamma
from typing import Any

import numpy as np
import pytest
from scipy.integrate import quad
from sectionproperties.analysis import Section
from sectionproperties.pre import Geometry
from shapely import Polygon as Outline

from rigcalc.formulas import FormulaRangeError, Working
from rigcalc.formulas import shapes as f
from rigcalc.formulas.sections import (
    annulus_area,
    annulus_second_moment,
    annulus_torsion_constant,
    ring_peak_shear_stress,
)
from rigcalc.structure.shapes import Box, Ellipse, Polygon, Round, Shape, Turned

MANY = 5000


def even(kind, outer, inner, sides=0):
    return kind.even(np.array(float(outer)), np.array(float(inner)), sides)


def sized(kind, *sizes):
    return kind(*(np.array(float(size)) for size in sizes))


def close(value, expected, rel):
    assert float(value) == pytest.approx(float(expected), rel=rel)


# --- areas and second moments -------------------------------------------------------------------------

# own polygon integration (area moments summed over the edges of the outline), mm: shape, area, for bending
# forward, for bending sideways
TABLE = [
    (even(Round, 100, 0), 7853.981634, 4908738.521, 4908738.521),
    (even(Round, 110, 102), 1332.035285, 1873507.629, 1873507.629),
    (even(Round, 60, 52), 703.7167544, 277264.4012, 277264.4012),
    (even(Round, 190, 114), 18145.83917, 55680507.48, 55680507.48),
    (even(Round, 120, 108), 2148.849375, 3500475.632, 3500475.632),
    (even(Round, 100, 96), 615.7521601, 739518.3443, 739518.3443),
    (sized(Ellipse, 120, 80, 0, 0), 7539.822369, 6785840.132, 3015928.947),
    (sized(Ellipse, 120, 80, 110, 70), 1492.25651, 2212368.452, 1163861.903),
    (even(Polygon, 100, 80, 6), 3117.691454, 3550704.156, 3550704.156),
    (even(Polygon, 100, 80, 8), 2982.337649, 3231722.908, 3231722.908),
    (even(Polygon, 100, 80, 12), 2893.851278, 3037185.361, 3037185.361),
    (even(Polygon, 100, 80, 16), 2864.33809, 2974667.89, 2974667.89),
    (sized(Box, 120, 80, 112, 72), 1536, 3090432, 1636352),
]


@pytest.mark.parametrize(("shape", "area", "forward", "side"), TABLE)
def test_area_and_second_moments(shape, area, forward, side):
    close(shape.area_m2, area, 1e-9)
    close(shape.second_moment_forward_m4, forward, 1e-9)
    close(shape.second_moment_side_m4, side, 1e-9)
    close(shape.weaker_second_moment_m4, min(forward, side), 1e-9)


@pytest.mark.parametrize("bore", [0.0, 0.5, 0.8, 0.95])
@pytest.mark.parametrize("kind", [Polygon, Turned])
def test_many_sides_make_a_tube(kind, bore):
    many, tube = even(kind, 1, bore, MANY), even(Round, 1, bore)
    for name in (
        "area_m2",
        "second_moment_side_m4",
        "torsion_constant_m4",
        "shear_per_m2",
        "worst_fibre_per_m3",
        "mean_line_area_m2",
    ):
        close(getattr(many, name), getattr(tube, name), 2e-6 if bore < 0.9 else 1e-5)
    close(many.torsion_arm_m, 0.5, 1e-3)


@pytest.mark.parametrize("bore", [0.0, 0.5, 0.9])
def test_equal_axes_make_a_tube(bore):
    ellipse, tube = sized(Ellipse, 1, 1, bore, bore), even(Round, 1, bore)
    close(ellipse.area_m2, annulus_area(1, bore), 1e-12)
    close(ellipse.second_moment_forward_m4, annulus_second_moment(1, bore), 1e-12)
    close(ellipse.torsion_constant_m4, annulus_torsion_constant(1, bore), 1e-12)
    close(ellipse.torsion_arm_m, 0.5, 1e-12)
    close(ellipse.shear_per_m2, ring_peak_shear_stress(1, 1, bore), 1e-12)
    close(ellipse.worst_fibre_per_m3, tube.worst_fibre_per_m3, 1e-12)


@pytest.mark.parametrize(
    "shape",
    [
        sized(Ellipse, 0.2, 0.12, 0.18, 0.09),
        sized(Box, 0.2, 0.12, 0.18, 0.09),
        sized(Box, 0.2, 0.12, 0.0, 0.0),
    ],
)
def test_a_quarter_turn_changes_names_only(shape):
    x, y, bore_x, bore_y = (
        shape.outer_forward_m,
        shape.outer_side_m,
        shape.inner_forward_m,
        shape.inner_side_m,
    )
    turned = type(shape)(y, x, bore_y, bore_x)
    close(turned.second_moment_side_m4, shape.second_moment_forward_m4, 1e-12)
    for name in (
        "torsion_constant_m4",
        "torsion_arm_m",
        "shear_per_m2",
        "worst_fibre_per_m3",
        "mean_line_area_m2",
    ):
        close(getattr(turned, name), getattr(shape, name), 1e-12)
    assert float(shape.weaker_angle_rad) == pytest.approx(np.pi / 2)
    assert float(turned.weaker_angle_rad) == 0.0


# --- torsion ------------------------------------------------------------------------------------------


def warped_share(n, coefficients, ratio):
    """Share of the polar moment lost to warping; r_m by convolution, the rest of the sum by its power of m."""
    terms = coefficients.size // 2
    r = np.convolve(coefficients, coefficients[::-1])[coefficients.size - 1 :][: terms + 1]
    parts = np.cumsum(np.arange(terms + 1) * r**2)
    whole = parts[-1] + (parts[-1] - parts[terms // 2]) / (2.0**ratio - 1)
    tan = np.tan(np.pi / n)
    return np.pi * n * whole / (n * tan * (3 + tan**2) / 96)


def bar_warped(n, terms=4000):
    k = np.arange(1, terms + 1)
    a = np.r_[1.0, np.cumprod((2 / n + k - 1) / k) / (n * k + 1)]
    reach = gamma(1 + 1 / n) * gamma(1 - 2 / n) / gamma(1 - 1 / n)
    C = 0.5 / np.cos(np.pi / n) / reach
    return warped_share(n, a, 2 - 4 / n) * C**4


def bore_warped(n, terms=4000):
    k = np.arange(1, terms + 1)
    b = np.r_[1.0, np.cumprod((k - 1 - 2 / n) / k) / (1 - n * k)]
    return warped_share(n, b, 2 + 4 / n) * (0.5 / np.cos(np.pi / n) / b.sum()) ** 4


def test_series_gives_the_triangle():
    # exact: J = sqrt(3) a^4/80 and 2 I = sqrt(3) a^4/48; the triangle converges slowest
    assert bar_warped(3) == pytest.approx(0.4, abs=5e-4)


@pytest.mark.parametrize("n", [4, 5, 6, 8, 12, 16, 32, 64])
def test_polygonal_bar_follows_the_series(n):
    polar = 2 * f.polygon_second_moment(n, 1.0)
    close(f.polygon_torsion_constant(n=n, W=1.0, w=0.0), polar * (1 - bar_warped(n)), 3e-5)


@pytest.mark.parametrize("n", [4, 5, 6, 8, 12, 16, 32, 64])
def test_small_polygonal_bore_follows_the_series(n):
    w = 0.2
    lost = np.pi / 32 - f.turned_torsion_constant(n=n, D=1.0, w=w)
    close(lost, 2 * f.polygon_second_moment(n, w) * (1 + bore_warped(n)), 2e-5)


@pytest.mark.parametrize("n", [4, 8, 12])
def test_thin_polygonal_tube_is_bredts(n):
    W, w = 1.0, 1.0 - 2e-6
    mean, t = (W + w) / 2, (W - w) / 2
    bredt = f.bredt_torsion_constant(f.polygon_area(n, mean), n * mean * np.tan(np.pi / n) / t)
    close(f.polygon_torsion_constant(n=n, W=W, w=w), bredt, 1e-5)


def test_polygonal_tube_nears_bredt_as_its_corners_say():
    # a corner of the wall turned by 2 pi/n saves (2/pi) sum (2^(2k+1) - 1) zeta(2k+1)/n^(2k) of its width from the
    # mean line: 0.4413 for a square (exact 2 ln(2)/pi), 0.0859 for an octagon; derived as for the box
    for n, saved in ((4, 0.44127), (8, 0.08587)):
        W, w = 1.0, 0.96
        mean, t = (W + w) / 2, (W - w) / 2
        around = n * mean * np.tan(np.pi / n) / t - n * saved
        bredt = f.bredt_torsion_constant(f.polygon_area(n, mean), around)
        close(f.polygon_torsion_constant(n=n, W=W, w=w), bredt, 1e-3)


@pytest.mark.parametrize("t", [0.01, 0.05, 0.2])
def test_bredt_against_the_exact_annulus(t):
    # with mean radius r the exact J is Bredt's times 1 + (t/(2 r))^2
    a, a_i = 0.5, 0.5 - t
    r = (a + a_i) / 2
    bredt = f.bredt_torsion_constant(np.pi * r**2, f.ellipse_wall_integral(a, a, a_i, a_i))
    close(bredt * (1 + (t / (2 * r)) ** 2), annulus_torsion_constant(2 * a, 2 * a_i), 1e-12)


def test_elliptical_ring_limits():
    a, b = 0.06, 0.04
    for k in (0.4, 0.8, 0.99):  # a bore of the same proportions follows a contour of the bar: exact
        close(
            f.ellipse_torsion_constant(a=a, b=b, a_i=k * a, b_i=k * b),
            f.ellipse_bar_torsion_constant(a, b) * (1 - k**4),
            1e-12,
        )
        ends = f.ellipse_torsion_arm(a, b, k * a, k * b), f.ellipse_torsion_arm(b, a, k * b, k * a)
        close(max(ends), f.ellipse_bar_torsion_arm(a, b), 1e-12)
    # the wall integral against a sum round the mean line
    a_i, b_i = 0.055, 0.033
    angle = np.arange(4000) * np.pi / 2000
    a_m, b_m = (a + a_i) / 2, (b + b_i) / 2
    g = np.hypot(a_m * np.sin(angle), b_m * np.cos(angle))
    wall = ((a - a_i) * b_m * np.cos(angle) ** 2 + (b - b_i) * a_m * np.sin(angle) ** 2) / g
    close(f.ellipse_wall_integral(a, b, a_i, b_i), np.sum(g / wall) * np.pi / 2000, 1e-9)
    # confocal ellipses, exact: J = I_p - (pi c^4/4) tanh(difference of xi); derived in elliptical coordinates
    c, outer, inner = 1.0, 1.1, 0.95
    sizes = [size for xi in (outer, inner) for size in (c * np.cosh(xi), c * np.sinh(xi))]
    polar = (
        np.pi / 4 * (np.sinh(2 * outer) * np.cosh(2 * outer) - np.sinh(2 * inner) * np.cosh(2 * inner)) / 2
    )
    close(f.ellipse_torsion_constant(*sizes), polar - np.pi / 4 * np.tanh(outer - inner), 5e-4)


def test_box_limits():
    # thin: Bredt with the mean line
    close(f.box_torsion_constant(2.0, 3.0, 2 - 2e-6, 3 - 4e-6), 4 * 36 / (4 / 2e-6 + 6 / 1e-6), 1e-5)
    # a square box is a polygonal tube of four sides: two fits of one thing
    for w in (0.4, 0.6, 0.8, 0.9, 0.97):
        close(f.box_torsion_constant(1.0, 1.0, w, w), f.polygon_torsion_constant(n=4, W=1.0, w=w), 3e-3)
    # one right-angled corner of an even wall is worth 0.559 squares: 1 - (2/pi) ln 2 off the mean line
    close(f.box_wall_integral(1.0, 1.0, 0.8, 0.8), 4 * 8 + 4 * (1 - 2 * np.log(2) / np.pi), 1e-12)


def test_solid_rectangles():
    # the series itself, many terms
    m = np.arange(1, 4001, 2)
    for a, b in ((1.0, 1.0), (1.5, 1.0), (4.0, 1.0), (200.0, 1.0)):
        total = np.sum(np.tanh(m * np.pi * a / (2 * b)) / m**5)
        close(f.rectangle_torsion_constant(a, b), a * b**3 / 3 * (1 - 192 / np.pi**5 * b / a * total), 1e-6)
    close(f.rectangle_torsion_constant(1.0, 1.0), f.polygon_torsion_constant(n=4, W=1.0, w=0.0), 3e-5)
    close(f.rectangle_torsion_constant(1.0, 1.0), 0.1405770, 1e-6)  # own finite elements
    # greatest stress of a square bar: T/(0.208 a^3), from memory
    close(f.rectangle_torsion_constant(1.0, 1.0) / f.rectangle_torsion_arm(1.0, 1.0), 0.2082, 1e-3)
    close(f.rectangle_torsion_arm(500.0, 1.0), 1.0, 1e-9)


# own spectral finite elements of order 6 on one sector, graded to the corners, for Prandtl's stress function:
# shape, J, torsion arm on the outside (for ellipses outside or inside), tolerance of the arm
OWN = [
    (even(Polygon, 1, 0.3, 4), 1.3895204e-01, 0.67416, 0.01),
    (even(Polygon, 1, 0.5, 4), 1.2913153e-01, 0.65738, 0.01),
    (even(Polygon, 1, 0.8, 4), 7.7093389e-02, 0.57087, 0.015),
    (even(Polygon, 1, 0.95, 4), 2.3444124e-02, 0.51794, 0.01),
    (even(Polygon, 1, 0.6, 6), 9.8863913e-02, 0.60420, 0.01),
    (even(Polygon, 1, 0.5, 8), 1.0050810e-01, 0.58395, 0.01),
    (even(Polygon, 1, 0.7, 8), 8.0815827e-02, 0.57520, 0.01),
    (even(Polygon, 1, 0.9, 8), 3.5981658e-02, 0.52998, 0.01),
    (even(Polygon, 1, 0.6, 12), 8.8921223e-02, 0.55614, 0.01),
    (even(Polygon, 1, 0.8, 12), 6.0014963e-02, 0.54826, 0.01),
    (even(Polygon, 1, 0.8, 16), 5.9175053e-02, 0.53985, 0.01),
    (even(Polygon, 1, 0.9, 24), 3.4052119e-02, 0.52320, 0.01),
    (even(Turned, 1, 0.6 * np.cos(np.pi / 4), 4), 9.1296129e-02, 0.51187, 0.04),
    (even(Turned, 1, 0.8 * np.cos(np.pi / 4), 4), 7.6076793e-02, 0.59295, 0.04),
    (even(Turned, 1, 0.7 * np.cos(np.pi / 6), 6), 8.0940880e-02, 0.51306, 0.04),
    (even(Turned, 1, 0.8 * np.cos(np.pi / 8), 8), 6.4740289e-02, 0.52176, 0.04),
    (even(Turned, 1, 0.9 * np.cos(np.pi / 8), 8), 4.4429651e-02, 0.59620, 0.04),
    (even(Turned, 1, 0.95 * np.cos(np.pi / 8), 8), 3.0911689e-02, 0.75989, 0.04),
    (even(Turned, 1, 0.9 * np.cos(np.pi / 12), 12), 3.9013557e-02, 0.53907, 0.04),
    (even(Turned, 1, 0.95 * np.cos(np.pi / 16), 16), 2.1981994e-02, 0.56618, 0.04),
    (sized(Box, 1.5, 1, 0.9, 0.6), 2.4656142e-01, 0.80552, 0.04),
    (sized(Box, 5, 1, 4.94, 0.96), 1.6936470e-01, 0.88915, 0.01),
    (sized(Box, 3, 1, 2.8, 0.6), 5.1582814e-01, 1.18361, 0.02),
    (sized(Box, 2, 1, 1.6, 0.6), 3.4862907e-01, 0.78724, 0.04),
    (sized(Box, 1, 1, 0.7, 0.4), 1.1790265e-01, 0.74568, 0.04),
    (sized(Box, 5, 1, 4.98, 0.96), 1.3813673e-01, 1.42214, 0.01),
    (sized(Box, 3, 1, 2.75, 0.9), 2.3507355e-01, 0.90709, 0.01),
    (sized(Box, 1, 1, 0.8, 0.8), 7.7093408e-02, 0.57074, 0.01),
    (sized(Ellipse, 2, 2.5, 1.96, 2.45), 1.8588995e-01, 1.21951, 0.01),
    (sized(Ellipse, 2, 4, 1.4, 3.1), 3.6049816e00, 1.48665, 0.03),
    (sized(Ellipse, 2, 5, 1.96, 4.96), 3.9984303e-01, 1.30861, 0.01),
    (sized(Ellipse, 2, 6, 1.8, 5.7), 2.4517139e00, 1.49397, 0.03),
    (sized(Ellipse, 2, 6, 1.8, 5.4), 2.9170630e00, 1.80000, 0.01),
    (sized(Ellipse, 2, 3, 1.4, 2.58), 2.0397423e00, 1.35583, 0.03),
    (sized(Ellipse, 2, 8, 1.9, 7.93), 1.4696042e00, 1.81533, 0.03),
]


@pytest.mark.parametrize(("shape", "J", "arm", "tolerance"), OWN)
def test_torsion_against_own_finite_elements(shape, J, arm, tolerance):
    rel = {"polygon": 5e-4, "turned": 2e-3, "box": 4e-3, "ellipse": 4e-3}[shape.kind]
    close(shape.torsion_constant_m4, J, rel)
    close(shape.torsion_arm_m, arm, tolerance)


# --- shear and bending by direct integration ----------------------------------------------------------


def outlines(shape, points=360):
    """Outside and bore as polygons, counter-clockwise; no bore in a bar."""
    x, y = float(shape.outer_forward_m) / 2, float(shape.outer_side_m) / 2
    bore_x, bore_y = float(shape.inner_forward_m) / 2, float(shape.inner_side_m) / 2

    def curve(a, b):
        angle = (np.arange(points) + 0.5) * 2 * np.pi / points
        even_area = np.sqrt(2 * np.pi / points / np.sin(2 * np.pi / points))
        return even_area * np.stack([a * np.cos(angle), b * np.sin(angle)], axis=1)

    def flats(r):
        angle = (2 * np.arange(shape.sides) + 1) * np.pi / shape.sides
        return r / np.cos(np.pi / shape.sides) * np.stack([np.cos(angle), np.sin(angle)], axis=1)

    def corners(a, b):
        return np.array([(a, -b), (a, b), (-a, b), (-a, -b)])

    outside = {"polygon": lambda: flats(x), "box": lambda: corners(x, y)}.get(
        shape.kind, lambda: curve(x, y)
    )()
    bore = {
        "polygon": lambda: flats(bore_x),
        "turned": lambda: flats(bore_x),
        "box": lambda: corners(bore_x, bore_y),
    }.get(shape.kind, lambda: curve(bore_x, bore_y))()
    return outside, (bore if bore_x else None)


def half(outline, direction):
    """First moments of the part on one side of a line through the middle, and the chord on the line."""
    height = outline @ np.array([-np.sin(direction), np.cos(direction)])
    kept = []
    for i, j in zip(range(len(outline)), np.roll(range(len(outline)), -1), strict=True):
        if height[i] >= 0:
            kept.append(outline[i])
        if height[i] * height[j] < 0:
            share = height[i] / (height[i] - height[j])
            kept.append(outline[i] + share * (outline[j] - outline[i]))
    points = np.array(kept)
    onward = np.roll(points, -1, axis=0)
    cross = points[:, 0] * onward[:, 1] - onward[:, 0] * points[:, 1]
    along = points @ np.array([np.cos(direction), np.sin(direction)])
    cut = np.abs(points @ np.array([-np.sin(direction), np.cos(direction)])) < 1e-9
    return (points + onward).T @ cross / 6, np.ptp(along[cut])


ANY = [
    even(Polygon, 0.2, 0.0, 4),
    even(Polygon, 0.2, 0.15, 4),
    even(Polygon, 0.2, 0.12, 6),
    even(Polygon, 0.2, 0.17, 8),
    even(Polygon, 0.2, 0.17, 12),
    even(Turned, 0.2, 0.1, 4),
    even(Turned, 0.2, 0.15, 8),
    even(Turned, 0.2, 0.16, 12),
    sized(Ellipse, 0.2, 0.12, 0, 0),
    sized(Ellipse, 0.2, 0.12, 0.18, 0.1),
    sized(Ellipse, 0.12, 0.2, 0.1, 0.19),
    sized(Box, 0.2, 0.12, 0, 0),
    sized(Box, 0.2, 0.12, 0.18, 0.1),
    sized(Box, 0.1, 0.2, 0.09, 0.14),
    even(Round, 0.2, 0.16),
]


@pytest.mark.parametrize("shape", ANY)
def test_no_direction_shears_more(shape):
    """Mean stress on every straight cut through the middle, from a unit force in its worst direction."""
    outside, bore = outlines(shape)
    worst = 0.0
    for direction in np.arange(0, 180, 0.5) * np.pi / 180 + 1e-7:
        moment, chord = half(outside, direction)
        if bore is not None:
            moment_in, chord_in = half(bore, direction)
            moment, chord = moment - moment_in, chord - chord_in
        stress = np.hypot(moment[0] / shape.second_moment_forward_m4, moment[1] / shape.second_moment_side_m4)
        worst = max(worst, float(stress) / chord)
    close(shape.shear_per_m2, worst, 1e-3)


@pytest.mark.parametrize("sides", [5, 7, 9])
def test_odd_sides_are_not_sheared_more_than_said(sides):
    shape = even(Polygon, 0.2, 0.16, sides)
    (outside, bore), worst = outlines(shape), 0.0
    for direction in np.arange(0, 180, 0.5) * np.pi / 180 + 1e-7:
        (moment, chord), (moment_in, chord_in) = half(outside, direction), half(bore, direction)
        stress = np.hypot(*(moment - moment_in)) / shape.second_moment_side_m4 / (chord - chord_in)
        worst = max(worst, float(stress))
    assert 0.85 * float(shape.shear_per_m2) < worst <= float(shape.shear_per_m2)


@pytest.mark.parametrize("shape", ANY)
def test_fibre_against_the_outline(shape):
    outside, _ = outlines(shape, points=3600)
    x, y = outside.T
    forward, side = float(shape.second_moment_forward_m4), float(shape.second_moment_side_m4)
    angles = np.linspace(0, 2 * np.pi, 721)
    found = shape.fibre_per_m3(angles)
    for angle, value in zip(angles[::37], found[::37], strict=True):
        close(value, np.max(np.cos(angle) * x / forward + np.sin(angle) * y / side), 1e-5)
    close(shape.worst_fibre_per_m3, np.max(np.hypot(x / forward, y / side)), 1e-5)
    assert found.max() <= float(shape.worst_fibre_per_m3) * (1 + 1e-12)
    close(shape.worst_fibre_per_m3, found.max(), 1e-4)


def test_closed_forms_of_the_worst_fibre():
    polygon, box, ellipse = ANY[3], ANY[12], ANY[10]
    close(f.polygon_worst_fibre(8, 0.2, polygon.second_moment_side_m4), polygon.worst_fibre_per_m3, 1e-12)
    forward, side = box.second_moment_forward_m4, box.second_moment_side_m4
    close(f.box_worst_fibre(0.2, 0.12, forward, side), box.worst_fibre_per_m3, 1e-12)
    forward, side = ellipse.second_moment_forward_m4, ellipse.second_moment_side_m4
    close(f.ellipse_worst_fibre(0.06, 0.1, forward, side), ellipse.worst_fibre_per_m3, 1e-12)


def test_reach_is_half_the_width():
    octagon = even(Polygon, 0.2, 0.15, 8)
    close(octagon.reach_m(1.0, 0.0), 0.1, 1e-12)  # a corner stands as far forward as the flat
    angle = np.pi / 8
    close(octagon.reach_m(np.cos(angle), np.sin(angle)), 0.1 / np.cos(angle), 1e-12)


# --- a general finite element library -----------------------------------------------------------------


def by_library(shape, elements=250):
    """Area, J and stresses by ``sectionproperties``; warping on quadratic triangles."""
    outside, bore = outlines(shape, points=96)
    geometry = Geometry(Outline(outside, [] if bore is None else [bore]))
    geometry.create_mesh(mesh_sizes=[geometry.geom.area / elements])
    section = Section(geometry)
    section.calculate_geometric_properties()
    section.calculate_warping_properties()
    return section


LIBRARY = [
    even(Round, 190, 114),
    even(Polygon, 100, 0, 4),
    even(Polygon, 100, 0, 8),
    even(Polygon, 100, 50, 4),
    even(Polygon, 100, 90, 4),
    even(Polygon, 100, 70, 6),
    even(Polygon, 100, 60, 8),
    even(Polygon, 100, 86, 8),
    even(Polygon, 100, 70, 12),
    even(Turned, 100, 45, 4),
    even(Turned, 100, 70, 8),
    even(Turned, 100, 85, 12),
    sized(Box, 200, 80, 0, 0),
    sized(Box, 120, 80, 112, 72),
    sized(Box, 120, 80, 80, 40),
    sized(Box, 100, 100, 90, 60),
    sized(Box, 300, 100, 220, 70),
    sized(Ellipse, 120, 80, 0, 0),
    sized(Ellipse, 120, 80, 110, 70),
    sized(Ellipse, 120, 80, 80, 40),
    sized(Ellipse, 240, 80, 210, 50),
]


@pytest.mark.parametrize("shape", LIBRARY)
def test_against_a_section_library(shape):
    section = by_library(shape)
    close(shape.area_m2, section.get_area(), 1e-6)
    side, forward, _ = section.get_ic()
    close(shape.second_moment_forward_m4, forward, 1e-3)
    close(shape.second_moment_side_m4, side, 1e-3)
    close(shape.torsion_constant_m4, section.get_j(), 5e-3)


def at_middle(along, stress, name):
    """Stress at the points on the axis where ``along`` is zero."""
    return stress.get_stress()[0][name][np.abs(along) < 0.04 * np.max(along)]


@pytest.mark.parametrize(
    "shape", [sized(Box, 120, 80, 112, 72), sized(Ellipse, 120, 80, 112, 74), even(Polygon, 100, 90, 8)]
)
def test_shear_of_tubes_against_a_section_library(shape):
    """V Q/(I b) is the mean over the wall: half way between inside and outside, where the wall is not thick."""
    section = by_library(shape, elements=150)
    x, y = np.array(section.mesh["vertices"]).T
    found = [
        at_middle(x, section.calculate_stress(vx=1.0), "sig_zxy_v"),
        at_middle(y, section.calculate_stress(vy=1.0), "sig_zxy_v"),
    ]
    close(shape.shear_per_m2, max((np.max(near) + np.min(near)) / 2 for near in found), 0.05)


def test_shear_of_a_bar_peaks_above_its_mean():
    # exact for an ellipse, nu = 0, V along a: (2 a^2 + b^2)/(3 a^2 + b^2) 2 V/A; Timoshenko and Goodier, from memory
    bar = sized(Ellipse, 80, 160, 0, 0)
    section = by_library(bar, elements=150)
    x, _ = np.array(section.mesh["vertices"]).T
    peak = np.max(at_middle(x, section.calculate_stress(vx=1.0), "sig_zxy_v"))
    assert peak == pytest.approx(6 / 7 * 2 / float(bar.area_m2), rel=0.01)
    close(bar.shear_per_m2, peak * 7 / 9, 0.01)


@pytest.mark.parametrize(
    ("shape", "tolerance"),
    [
        (even(Polygon, 100, 70, 8), 0.03),
        (sized(Box, 120, 80, 96, 56), 0.03),
        (sized(Ellipse, 120, 80, 100, 60), 0.03),
    ],
)
def test_torsion_stress_against_a_section_library(shape, tolerance):
    section = by_library(shape, elements=150)
    stress = section.calculate_stress(mzz=1.0).get_stress()[0]["sig_zxy_mzz"]
    x, y = np.array(section.mesh["vertices"]).T
    ends = [np.argmax(x - 10 * np.abs(y)), np.argmax(y - 10 * np.abs(x))]
    close(shape.torsion_arm_m / shape.torsion_constant_m4, max(stress[ends]), tolerance)


# --- the frame round the numbers ----------------------------------------------------------------------


def stations(kind) -> Shape:
    """Absent, solid, thick and thin in one array of two rows."""
    outer = np.array([[0.0, 0.1, 0.1], [0.2, 0.2, 0.0]])
    inner = np.array([[0.0, 0.0, 0.06], [0.16, 0.17, 0.0]])
    if kind in (Polygon, Turned):
        return kind.even(outer, inner, 8)
    return kind.even(outer, inner) if kind is Round else kind(outer, 0.7 * outer, inner, 0.7 * inner)


NAMES = (
    "wall_m",
    "area_m2",
    "second_moment_forward_m4",
    "second_moment_side_m4",
    "torsion_constant_m4",
    "torsion_arm_m",
    "mean_line_area_m2",
    "shear_per_m2",
    "worst_fibre_per_m3",
)


@pytest.mark.parametrize("kind", [Round, Polygon, Turned, Ellipse, Box])
def test_arrays_with_absent_and_solid_stations(kind):
    shape = stations(kind)
    for name in NAMES:
        value = getattr(shape, name)
        assert value.shape == (2, 3)
        assert np.all(np.isfinite(value)), name
        assert np.all(value[~shape.present] == 0.0), name
        hollow = shape.present & ~shape.solid
        assert np.all(value[hollow] > 0.0), name
        one = type(shape)(
            *(
                size[1, 1]
                for size in (
                    shape.outer_forward_m,
                    shape.outer_side_m,
                    shape.inner_forward_m,
                    shape.inner_side_m,
                )
            ),
            shape.sides,
        )
        close(getattr(one, name), value[1, 1], 1e-12)
    assert shape.solid.sum() == 1
    assert shape.fibre_per_m3(np.linspace(0, 1, 5)[:, None, None]).shape == (5, 2, 3)
    assert shape.fibre_per_m3(0.3)[0, 0] == 0.0


@pytest.mark.parametrize("kind", [Round, Polygon, Turned, Ellipse, Box])
def test_working_keeps_the_step_and_stays_silent_inside(kind):
    working = Working()
    shape = stations(kind)
    value = shape.worked_torsion_constant_m4(working, "tube")
    assert np.array_equal(value, shape.torsion_constant_m4)
    assert working.steps
    assert not working.warnings


def test_ranges_are_told():
    working = Working()
    sized(Box, 1, 1, 0.3, 0.3).worked_torsion_constant_m4(working, "box")
    sized(Box, 1, 1, 0.98, 0.6).worked_torsion_constant_m4(working, "box")
    sized(Ellipse, 1, 2, 0.2, 1.2).worked_torsion_constant_m4(working, "ellipse")
    even(Turned, 1, 0.9, 8).worked_torsion_constant_m4(working, "turned")
    assert len(working.warnings) == 4
    with pytest.raises(FormulaRangeError, match="four sides"):
        working.use(f.polygon_torsion_constant, n=3.0, W=1.0, w=0.5)
    with pytest.raises(FormulaRangeError, match="inside"):
        working.use(f.turned_peak_shear_stress, V=1.0, n=4.0, D=1.0, w=0.8)


@pytest.mark.parametrize(
    ("make", "match"),
    [
        (lambda: even(Round, 0.1, 0.1), "inside"),
        (lambda: even(Round, 0.0, 0.1), "inside"),
        (lambda: even(Round, -0.1, 0.0), "from zero up"),
        (lambda: even(Round, np.nan, 0.0), "from zero up"),
        (lambda: sized(Round, 0.1, 0.2, 0.0, 0.0), "one size"),
        (lambda: even(Turned, 0.1, 0.08, 4), "inside"),
        (lambda: even(Polygon, 0.1, 0.08, 3), "four|4 sides"),
        (lambda: even(Polygon, 0.1, 0.08), "4 sides"),
        (lambda: sized(Box, 0.1, 0.0, 0.0, 0.0), "is zero"),
        (lambda: sized(Box, 0.1, 0.1, 0.05, 0.0), "is zero"),
        (lambda: sized(Ellipse, 0.1, 0.1, 0.05, 0.1), "inside"),
    ],
)
def test_impossible_sizes_are_refused(make, match):
    with pytest.raises(ValueError, match=match):
        make()


def test_mean_area_of_a_turned_tube_by_its_integral() -> None:
    """Half the integral of the square of the mean radius: half way from the flat of the bore to the circle."""
    for n, D, w in ((4, 0.2, 0.1), (6, 0.16, 0.11), (12, 0.1, 0.08)):
        angle = np.pi / n

        def mean(theta: float, D: float = D, w: float = w) -> float:
            return (D / 2 + w / 2 / np.cos(theta)) / 2

        total, _ = quad(lambda theta, mean=mean: mean(theta) ** 2 / 2, -angle, angle, epsabs=0.0)
        close(f.turned_mean_area(n=n, D=D, w=w), n * total, 1e-10)


def test_arm_of_a_rectangle_by_the_whole_series() -> None:
    """Saint-Venant, from memory: 1 - 8/pi2 of the sum over odd m of 1/(m2 cosh(m pi a/2b))."""
    for a in (1.0, 1.3, 3.0):
        odd = np.arange(1, 101, 2)
        arm = 1 - 8 / np.pi**2 * np.sum(1 / (odd**2 * np.cosh(odd * np.pi * a / 2)))
        close(f.rectangle_torsion_arm(a, 1.0), arm, 2e-6)  # the formula stops at m = 5
        j = 1 - 192 / np.pi**5 / a * np.sum(np.tanh(odd * np.pi * a / 2) / odd**5.0)
        close(f.rectangle_torsion_constant(a, 1.0), a / 3 * j, 1e-7)


def test_torsion_warns_by_the_worse_of_two_walls() -> None:
    """Whichever way round the thick wall stands, and whichever pair of walls is the thicker."""

    def warned(function: Callable[..., Any], **sizes: float) -> bool:
        working = Working()
        working.use(function, **sizes)
        return bool(working.warnings)

    for function in (f.ellipse_torsion_constant, f.ellipse_torsion_arm):
        for a_i, b_i, expected in ((0.05, 0.03, False), (0.02, 0.05, True), (0.08, 0.01, True)):
            assert warned(function, a=0.1, b=0.07, a_i=a_i, b_i=b_i) is expected
    for function in (f.box_torsion_constant, f.box_torsion_arm):
        for b, h, expected in (
            (0.09, 0.09, False),
            (0.03, 0.06, True),
            (0.06, 0.03, True),
            # walls of 25 and 4 mm, and of 4 and 25; of 25 and 5
            (0.05, 0.092, True),
            (0.092, 0.05, True),
            (0.05, 0.09, False),
        ):
            assert warned(function, B=0.1, H=0.1, b=b, h=h) is expected
