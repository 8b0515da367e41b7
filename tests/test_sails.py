"""Areas, centres and strip widths of sails, seen through the loads they put on a mast.

A uniform wind of 1 Pa and a force coefficient of 1 make the side force the area, the moment the moment
of area, and the shear at a height the area above it.
"""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from rigcalc import RigInputError, read_rig
from rigcalc.loads import corners_of

from .test_loads import (
    BURY,
    LENGTH,
    Corners,
    Load,
    case_text,
    resultants,
    rig_text,
    run,
    some,
    spar_about,
    width,
)

# 0.5 x 1.225 x v^2 = 1 Pa
ONE_PASCAL = case_text(
    "wind-limited",
    f'wind_speed = "{math.sqrt(2 / 1.225)!r} m/s"',
    "gust_factor = 1",
    "force_coefficient = 1",
    'force_angle = "90 deg"',
)


def by_edges(*, luff: float, foot: float, tack: float, rise: float = 0.0, more: str = "") -> str:
    return (
        f'[[sail]]\nname = "s"\nluff = "{luff!r} m"\nfoot = "{foot!r} m"\ntack_height = "{tack!r} m"\n'
        f'clew_rise = "{rise!r} m"\n{more}\n'
    )


def by_corners(corners: Corners) -> str:
    pairs = ", ".join(f'["{x!r} m", "{z!r} m"]' for x, z in corners)
    return f'[[sail]]\nname = "s"\ncorners = [{pairs}]\n'


def bare_spar(text: str) -> Load:
    """Drag of the spar above and below the sails, worked out elsewhere: it is no part of theirs."""
    outlines = [[tuple(c) for c in corners_of(sail)] for sail in read_rig(rig_text(more=text)).sails]
    return spar_about(lambda _: 1.0, *outlines)  # type: ignore[arg-type]  # rows of an array


def of_sails(text: str) -> tuple[float, float]:
    """Return the side force of the sails alone, and its moment about the heel."""
    side, moment, *_ = resultants(run(text + ONE_PASCAL))
    spar = bare_spar(text + ONE_PASCAL)
    return side - spar.total(), moment - spar.about(0.0)


def area_and_centre(sail: str) -> tuple[float, float]:
    side, moment = of_sails(sail)
    return side, moment / side


def areas_above(text: str) -> tuple[np.ndarray, np.ndarray]:
    """Return heights above the partners and the sails' area above each: the shear there, less the spar's."""
    s = run(text + ONE_PASCAL).stations
    spar = bare_spar(text + ONE_PASCAL)
    up = s.height_m > BURY
    heights, shear = s.height_m[up], s.shear_side_N[0, up]
    kinks = sorted({*spar.kinks, LENGTH})
    totals = [quad(spar.of, low, high, epsabs=1e-13)[0] for low, high in pairwise(kinks)]

    def drag_above(height: float) -> float:
        whole = sum(t for t, (low, _) in zip(totals, pairwise(kinks), strict=True) if low >= height)
        inside = next(((low, high) for low, high in pairwise(kinks) if low < height < high), None)
        return whole + (0.0 if inside is None else quad(spar.of, height, inside[1], epsabs=1e-13)[0])

    return heights, shear - np.array([drag_above(float(z)) for z in heights])


def triangle(tack: float, luff: float, foot: float, rise: float) -> tuple[float, float]:
    """Area and height of the centre, by base and height, and by the mean of the corners."""
    return luff * math.sqrt(foot**2 - rise**2) / 2, tack + (luff + rise) / 3


@pytest.mark.parametrize("rise", [0.0, 0.4, -0.3])
def test_triangle(rise: float) -> None:
    assert area_and_centre(by_edges(luff=5.0, foot=2.5, tack=2.0, rise=rise)) == pytest.approx(
        triangle(2.0, 5.0, 2.5, rise), rel=1e-12
    )


def test_triangle_by_hand() -> None:
    """Luff 6, foot 2.5 and clew 1.5 up: the clew is 2 m aft, the area 6 m2, the centre at 2 + 7.5/3."""
    found = area_and_centre(by_edges(luff=6.0, foot=2.5, tack=2.0, rise=1.5))
    assert found == pytest.approx((6.0, 4.5), rel=1e-12)


def test_head_of_four_corners_by_hand() -> None:
    """Level foot 3, luff 3, head 2 rising 30 deg.

    Corners (0, 2), (0, 5), (-1.732, 6), (-3, 2). Shoelace over tack-throat-peak and tack-peak-clew:
    areas 3 x 1.732/2 = 2.598 and 3 x 4/2 = 6, centres at (2 + 5 + 6)/3 and (2 + 6 + 2)/3.
    """
    sail = by_edges(luff=3.0, foot=3.0, tack=2.0, more='head = "2 m"\nhead_angle = "30 deg"')
    first, second = 3 * math.sqrt(3) / 2, 6.0
    centre = (first * 13 / 3 + second * 10 / 3) / (first + second)
    assert area_and_centre(sail) == pytest.approx((first + second, centre), rel=1e-12)


def test_level_head_and_foot_make_a_rectangle() -> None:
    """Width that jumps from nothing at a level edge: 2 m2 at the middle."""
    sail = by_edges(luff=2.0, foot=1.0, tack=3.0, more='head = "1 m"\nhead_angle = "0 deg"')
    assert area_and_centre(sail) == pytest.approx((2.0, 4.0), rel=1e-12)
    heights, areas = areas_above(sail)
    inside = (heights >= 3.0) & (heights <= 5.0)
    assert areas[inside] == pytest.approx(5.0 - heights[inside], abs=1e-11)


@pytest.mark.parametrize("roach", [0.15, 0.05, -0.1, -0.3])
@pytest.mark.parametrize("head", ["", 'head = "1 m"\nhead_angle = "60 deg"'])
def test_roach_adds_its_share_of_the_area_about_the_middle_of_the_leech(roach: float, head: str) -> None:
    """A parabola drawn level from the leech has its centre at half the leech's height."""
    edges = {"luff": 4.0, "foot": 2.0, "tack": 2.0, "rise": 0.2}
    area, centre = area_and_centre(by_edges(**edges, more=head))
    top = 6.0 + (math.sin(math.radians(60)) if head else 0.0)
    with_roach = area_and_centre(by_edges(**edges, more=f"{head}\nroach = {roach}"))
    middle = (2.2 + top) / 2
    assert with_roach[0] == pytest.approx(area * (1 + roach), rel=1e-12)
    assert with_roach[1] == pytest.approx((centre + roach * middle) / (1 + roach), rel=1e-12)


@pytest.mark.parametrize("roach", [0.2, -0.3])
def test_strips_of_a_roach(roach: float) -> None:
    """Area above every height: that of the triangle and of a parabola, to the sagitta of 32 chords."""
    luff, foot = 5.0, 2.0
    heights, areas = areas_above(by_edges(luff=luff, foot=foot, tack=2.0, more=f"roach = {roach}"))
    inside = heights >= 2.0
    up = np.clip((heights[inside] - 2.0) / luff, 0.0, 1.0)
    above = luff * foot / 2 * ((1 - up) ** 2 + roach * (1 - up) ** 2 * (1 + 2 * up))
    assert areas[inside] == pytest.approx(above, abs=abs(roach) * luff * foot / 2 * 1.5 / 32**2)


ARROW: Corners = ((0.0, 2.0), (0.0, 7.0), (-0.5, 3.5), (-3.0, 2.6))
SHAPES: dict[str, Corners] = {
    "hollow leech": ARROW,
    "forward of the mast": ((2.2, 1.2), (0.1, 6.5), (-0.4, 1.6)),
    "balanced": ((0.8, 2.0), (0.8, 5.0), (-2.5, 6.4), (-2.7, 1.9)),
    "two tops": ((0.0, 1.5), (0.0, 6.0), (-1.0, 3.0), (-2.0, 7.5), (-2.5, 1.5)),
}


def area_above(corners: Corners, height: float) -> float:
    ends = sorted({z for _, z in corners} | {height})
    return sum(
        quad(lambda z: width(corners, z), low, high, epsabs=1e-12)[0]
        for low, high in pairwise(ends)
        if low >= height
    )


@pytest.mark.parametrize("name", SHAPES)
def test_strips_of_any_outline(name: str) -> None:
    """Area above each height, by quadrature of level lines; hollows and several tops included."""
    corners = SHAPES[name]
    heights, areas = areas_above(by_corners(corners))
    for height, area in zip(heights[::7], areas[::7], strict=True):
        assert area == pytest.approx(area_above(corners, float(height)), abs=1e-10)


@pytest.mark.parametrize("name", SHAPES)
def test_order_of_corners_and_where_x_starts_do_not_matter(name: str) -> None:
    corners = list(SHAPES[name])
    found = [
        area_and_centre(by_corners(c))
        for c in (corners, corners[::-1], corners[2:] + corners[:2], [(x - 1.3, z) for x, z in corners])
    ]
    for other in found[1:]:
        assert other == pytest.approx(found[0], rel=1e-12)


def test_by_edges_and_by_corners_agree() -> None:
    clew = -math.sqrt(2.5**2 - 0.3**2)
    edges = area_and_centre(by_edges(luff=5.0, foot=2.5, tack=2.0, rise=0.3))
    assert area_and_centre(by_corners(((0.0, 2.0), (0.0, 7.0), (clew, 2.3)))) == pytest.approx(
        edges, rel=1e-12
    )


@given(
    x=st.lists(some(-3.0, 1.0), min_size=3, max_size=3),
    z=st.lists(some(1.2, 8.0), min_size=3, max_size=3),
)
@settings(max_examples=60, deadline=None)
def test_any_triangle(x: list[float], z: list[float]) -> None:
    """Half the cross product, and the mean of the corners; slivers are refused, never miscounted."""
    area = abs((x[1] - x[0]) * (z[2] - z[0]) - (x[2] - x[0]) * (z[1] - z[0])) / 2
    corners = list(zip(x, z, strict=True))
    try:
        side, moment = of_sails(by_corners(corners))
    except RigInputError:
        assert area < 1e-6
        return
    assert side == pytest.approx(area, rel=1e-8, abs=1e-9)
    assert moment == pytest.approx(area * sum(z) / 3, rel=1e-8, abs=1e-8)


def test_two_sails_at_different_heights_add_up() -> None:
    low = by_edges(luff=2.0, foot=1.5, tack=1.3)
    high = by_edges(luff=2.0, foot=1.5, tack=5.5).replace('"s"', '"t"')
    alone = [of_sails(sail) for sail in (low, high)]
    together = of_sails(low + high)
    assert together == pytest.approx([sum(parts) for parts in zip(*alone, strict=True)], rel=1e-12, abs=1e-12)
    # between them the mast carries the upper sail alone
    heights, areas = areas_above(low + high)
    between = (heights > 3.3) & (heights < 5.5)
    assert areas[between] == pytest.approx(1.5, rel=1e-10)


@pytest.mark.parametrize(
    ("sail", "word"),
    [
        (by_corners(((0.0, 2.0), (0.0, 6.0), (-2.0, 2.0), (-2.0, 6.0))), "cross"),
        (by_corners(((0.0, 2.0), (0.0, 4.0), (0.0, 6.0))), "no area"),
        (by_edges(luff=6.5, foot=2.0, tack=2.0), "above the tip"),
        (by_edges(luff=5.0, foot=2.0, tack=1.1), "below the partners"),
        (by_edges(luff=2.0, foot=3.0, tack=2.0, rise=2.5), "above the head"),
    ],
)
def test_refused(sail: str, word: str) -> None:
    with pytest.raises(RigInputError, match=word):
        read_rig(rig_text(more=sail + ONE_PASCAL))
