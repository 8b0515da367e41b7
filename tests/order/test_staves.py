"""Staves against solids made of their corner points, against the section, and against hand work."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import ConvexHull

from rigcalc.design.boards import Batten, Board, ScarfRules, board_plans, scarf_lay, strips_in
from rigcalc.design.masscheck import MassCheck, integrated_kg
from rigcalc.design.staves import StaveAllowances, StaveMast, StaveOrder, stave_order
from rigcalc.errors import RigInputError
from rigcalc.formulas import Working
from rigcalc.structure.shapes import Polygon, Turned

BOARDS = [
    Board(width_m=0.15, thickness_m=0.05, length_m=4.8, name="deal"),
    Board(width_m=0.2, thickness_m=0.025, length_m=3.0, name="thin"),
]


def mast(**more: Any) -> StaveMast:
    return StaveMast(
        **{
            "sides": 8, "outside": "flat", "density_kg_m3": 450.0,
            "heights_m": (0.0, 2.0, 7.0), "outside_m": (0.12, 0.12, 0.06), "wall_m": (0.024, 0.024, 0.014),
            **more,
        }
    )  # fmt: skip


MASTS = st.builds(
    lambda sides, outside, sizes, ratios, lengths: mast(
        sides=sides,
        outside=outside,
        heights_m=tuple(np.concatenate([[0.0], np.cumsum(lengths[: len(sizes) - 1])]).tolist()),
        outside_m=tuple(sizes),
        wall_m=tuple(r * d for r, d in zip(ratios, sizes, strict=False)),
    ),
    st.integers(4, 20),
    st.sampled_from(["round", "flat"]),
    st.lists(st.floats(0.05, 0.2), min_size=2, max_size=4),
    st.lists(st.floats(0.1, 0.5), min_size=4, max_size=4),
    st.lists(st.floats(0.5, 4.0), min_size=3, max_size=3),
)


def stave_corners(m: StaveMast, z: float) -> list[tuple[float, float, float]]:
    """Return the four corners of one stave before it is turned, at a height."""
    half = math.pi / m.sides
    at = np.array([z])
    return [
        (W / 2, sign * W / 2 * math.tan(half), z)
        for W in (float(m.outside_at(at)[0]), float(m.bore_at(at)[0]))
        for sign in (-1, 1)
    ]


def stave_m3(m: StaveMast) -> float:
    """Return the volume of one stave as the solid between its corners, less what the turner takes off."""
    total = 0.0
    for low, high in zip(m.heights_m, m.heights_m[1:], strict=False):
        total += ConvexHull(np.array(stave_corners(m, low) + stave_corners(m, high))).volume
        if m.outside == "round":
            # many thin slices of the corner, a triangle less a sector
            z, weights = np.polynomial.legendre.leggauss(4)
            z, weights = (low + high + (high - low) * z) / 2, weights * (high - low) / 2
            radius = m.outside_at(z) / 2
            half = math.pi / m.sides
            total -= float(np.sum(weights * radius**2 * (math.tan(half) - half)))
    return total


@settings(max_examples=60, deadline=None)
@given(MASTS)
def test_staves_weigh_what_the_section_does(m: StaveMast) -> None:
    order = stave_order(m, [Board(width_m=0.5, thickness_m=0.4, length_m=15.0)])
    assert order.check.agrees
    assert order.staves_kg == pytest.approx(m.sides * stave_m3(m) * m.density_kg_m3, rel=1e-8)
    # and the section of the beam engine has the same area
    z = np.linspace(0.0, m.heights_m[-1], 23)
    kind = Turned if m.outside == "round" else Polygon
    if np.all(m.bore_at(z) > 0.0):
        shape = kind.even(m.outside_at(z), m.bore_at(z), m.sides)
        np.testing.assert_allclose(m.area_at(z), shape.area_m2, rtol=1e-12)
        # the wall asked for is the shape's own thinnest wall
        np.testing.assert_allclose(shape.wall_m, np.interp(z, m.heights_m, m.wall_m), rtol=1e-9, atol=1e-12)


def test_hand_worked_octagon() -> None:
    """D 100 mm, staves 20 mm: 41.42 mm outside and 24.85 inside; turned, 17.53 mm are left at a corner of the bore."""
    flat = mast(heights_m=(0.0, 5.0), outside_m=(0.1, 0.1), wall_m=(0.02, 0.02))
    row = stave_order(flat, BOARDS).rows[0]
    assert row.width_m == pytest.approx(41.421e-3, abs=5e-7)
    assert row.inner_width_m == pytest.approx(24.853e-3, abs=5e-7)
    assert row.thickness_m == pytest.approx(20e-3)
    assert row.corner_m == 0.0
    assert math.degrees(row.bevel_rad) == pytest.approx(22.5)
    turned = mast(outside="round", heights_m=(0.0, 5.0), outside_m=(0.1, 0.1), wall_m=(17.53e-3, 17.53e-3))
    row = stave_order(turned, BOARDS).rows[0]
    assert row.thickness_m == pytest.approx(20e-3, abs=1e-5)
    assert row.corner_m == pytest.approx(50e-3 * (1 / math.cos(math.pi / 8) - 1))


def test_taper_table_has_every_station_and_every_300_mm() -> None:
    order = stave_order(mast(heights_m=(0.0, 1.95, 7.0)), BOARDS)
    heights = [row.height_m for row in order.rows]
    assert heights == pytest.approx(sorted({*(0.3 * i for i in range(24)), 1.95, 7.0}))
    assert [row.outside_m for row in order.rows] == pytest.approx(
        np.interp(heights, [0.0, 1.95, 7.0], [0.12, 0.12, 0.06]).tolist()
    )
    # along the face: straight to 1.95 m, then as the hypotenuse
    assert order.rows[-1].along_m == pytest.approx(1.95 + math.hypot(5.05, 0.03))
    lean = math.atan2(0.03, 5.05)
    for row in order.rows:
        expected = math.asin(math.sin(math.pi / 8) * (math.cos(lean) if row.height_m >= 1.95 else 1.0))
        assert row.bevel_rad == pytest.approx(expected, rel=1e-12)
        assert row.width_m == pytest.approx(row.outside_m * math.tan(math.pi / 8))
        assert row.thickness_m == pytest.approx((row.outside_m - row.bore_m) / 2)
    assert len(stave_order(mast(), BOARDS, allowances=StaveAllowances(every_m=10.0)).rows) == 3
    steep = mast(heights_m=(0.0, 6.9), outside_m=(0.12, 0.06), wall_m=(0.024, 0.014))
    assert [r.height_m for r in stave_order(steep, BOARDS).rows] == pytest.approx(
        [0.3 * i for i in range(24)]
    )


def test_rough_stave_is_the_largest_with_its_allowances() -> None:
    order = stave_order(mast(), BOARDS)
    assert order.batten == Batten(
        width_m=pytest.approx(0.12 * math.tan(math.pi / 8) + 0.004),
        thickness_m=pytest.approx(0.027),
        length_m=pytest.approx(order.rows[-1].along_m + 0.1),
        count=8,
    )
    more = StaveAllowances(width_m=0.01, thickness_m=0.0, ends_m=0.5)
    rough = stave_order(mast(), BOARDS, allowances=more).batten
    assert rough.width_m - order.batten.width_m == pytest.approx(0.006)
    assert rough.thickness_m - order.batten.thickness_m == pytest.approx(-0.003)
    assert rough.length_m - order.batten.length_m == pytest.approx(0.4)


# ---------------------------------------------------------------- boards and scarfs


def batten(length_m: float, **more: Any) -> Batten:
    return Batten(**{"width_m": 0.05, "thickness_m": 0.025, "length_m": length_m, "count": 8, **more})


def test_strips_lie_flat_or_on_edge_as_more_come_out() -> None:
    rough = batten(6.0)
    # 150 x 50: two flat, or (150 + 3)/(25 + 3) = 5 on edge as 50 mm just lie in the thickness
    assert strips_in(Board(width_m=0.15, thickness_m=0.05, length_m=6.0), rough, 0.003) == (5, 1, True)
    assert strips_in(Board(width_m=0.15, thickness_m=0.049, length_m=6.0), rough, 0.003) == (2, 1, False)
    # 153 x 53: two layers of flat ones, 53 = 25 + 3 + 25, and still five on edge
    assert strips_in(Board(width_m=0.159, thickness_m=0.053, length_m=6.0), rough, 0.003) == (3, 2, False)
    assert strips_in(Board(width_m=0.049, thickness_m=0.025, length_m=6.0), rough, 0.003)[:2] == (0, 1)


def test_a_board_long_enough_needs_no_scarf() -> None:
    lay = scarf_lay(batten(6.0), 6.0, ScarfRules(), Working())
    assert lay is not None
    assert (lay.pieces_m, lay.scarfs_m, lay.warnings) == ((6.0,), (), ())
    assert math.isinf(lay.tips_apart_m)


@settings(max_examples=100, deadline=None)
@given(
    length=st.floats(2.0, 12.0),
    board=st.floats(1.5, 6.0),
    slope=st.sampled_from([8.0, 12.0, 15.0]),
    keep=st.sampled_from([(), ((1.0, 1.6),)]),
)
def test_scarfed_pieces_make_the_stave(length: float, board: float, slope: float, keep: Any) -> None:
    rules = ScarfRules(slope=slope, least_piece_m=0.8, keep_clear_m=keep)
    rough = batten(length)
    lay = scarf_lay(rough, board, rules, Working())
    if lay is None:
        assert board < 2 * 0.8 + slope * 0.025
        return
    scarf = slope * 0.025
    assert lay.scarf_m == pytest.approx(scarf)
    joints = len(lay.pieces_m) - 1
    assert len(lay.scarfs_m) == joints
    assert sum(lay.pieces_m) == pytest.approx(length + joints * scarf)
    assert max(lay.pieces_m) <= max(board, length if joints == 0 else 0.0) + 1e-9
    fewest = math.ceil((length - scarf) / (board - scarf) - 1e-9) if length > board else 1
    assert fewest <= len(lay.pieces_m) <= fewest + 1
    if not joints:
        return
    assert min(lay.pieces_m) >= 0.8 - 1e-9
    # lay the pieces out along the stave and see where they overlap
    ends = np.cumsum(lay.pieces_m) - scarf * np.arange(joints + 1)
    spans = [(end - scarf, end) for end in ends[:-1]]
    assert [sum(span) / 2 for span in spans] == pytest.approx(lay.scarfs_m)
    turned = [(length - high, length - low) for low, high in spans]
    gap = min(max(b[0] - a[1], a[0] - b[1]) for a in spans for b in turned)
    assert lay.tips_apart_m == pytest.approx(gap, abs=1e-9)
    assert any("ten thicknesses" in w for w in lay.warnings) == (gap < 0.25 - 1e-6)
    blocked = any(low < b - 1e-6 and a < high - 1e-6 for low, high in spans + turned for a, b in keep)
    assert any("kept clear" in w for w in lay.warnings) == blocked


def test_one_scarf_more_where_neighbours_would_meet() -> None:
    """8 m out of 4.4 m: two pieces would scarf all staves within 0.4 m of the middle."""
    lay = scarf_lay(batten(8.0), 4.4, ScarfRules(), Working())
    assert lay is not None
    assert len(lay.pieces_m) == 3
    assert lay.tips_apart_m >= 0.25
    assert not lay.warnings


def test_no_piece_is_shorter_than_two_scarfs() -> None:
    """6 m out of 5.9 m: 0.4 m would do for the last piece, but a scarf is 0.3 m."""
    lay = scarf_lay(batten(6.0), 5.9, ScarfRules(least_piece_m=0.0), Working())
    assert lay is not None
    assert lay.pieces_m == pytest.approx((5.7, 0.6))


def test_an_odd_number_of_staves_is_told() -> None:
    lay = scarf_lay(batten(8.0, count=9), 5.5, ScarfRules(), Working())
    assert lay is not None
    assert any("odd number" in w for w in lay.warnings)


def test_board_count_by_hand() -> None:
    """Eight staves of 6 m in boards of 4 m: a scarf of 0.3 m, so 6.3 m of wood each, by pieces of 4 m and 2.3 m.

    Sixteen strips, five to a board: four boards.
    """
    (plan,) = board_plans(
        batten(6.0),
        [Board(width_m=0.15, thickness_m=0.05, length_m=4.0, price=20.0)],
        ScarfRules(),
        kerf_m=0.003,
        working=Working(),
    )
    assert plan.lay.pieces_m == pytest.approx((4.0, 2.3))
    assert plan.lay.scarfs_m == pytest.approx((3.85,))
    assert sum(bar.times for bar in plan.strips.bars) == 16
    assert (plan.boards, plan.strips_across, plan.strips_deep, plan.on_edge) == (4, 5, 1, True)
    assert plan.cost == 80.0
    assert plan.volume_m3 == pytest.approx(4 * 0.15 * 0.05 * 4.0)


def test_the_cheapest_board_comes_first_or_the_least_wood() -> None:
    free = [Board(width_m=0.15, thickness_m=0.05, length_m=n) for n in (4.0, 6.5)]
    plans = board_plans(batten(6.0), free, ScarfRules(), kerf_m=0.003, working=Working())
    assert [plan.board.length_m for plan in plans] == [6.5, 4.0]
    assert [plan.boards for plan in plans] == [2, 4]
    priced = [
        Board(width_m=b.width_m, thickness_m=b.thickness_m, length_m=b.length_m, price=p)
        for b, p in zip(free, (10.0, 30.0), strict=True)
    ]
    plans = board_plans(batten(6.0), priced, ScarfRules(), kerf_m=0.003, working=Working())
    assert [plan.cost for plan in plans] == [40.0, 60.0]


def test_a_steep_scarf_is_warned_of() -> None:
    order = stave_order(mast(), BOARDS, scarfs=ScarfRules(slope=8.0))
    assert any("1 in 12 or flatter" in w for w in order.warnings)
    assert not any("1 in 12" in w for w in stave_order(mast(), BOARDS).warnings)


def test_waste_is_what_is_not_in_the_mast() -> None:
    order = stave_order(mast(), BOARDS)
    finished = 8 * stave_m3(mast())
    assert order.waste == pytest.approx(1 - finished / order.plans[0].volume_m3)
    assert 0.3 < order.waste < 0.9
    assert [plan.board.name for plan in order.plans] == [
        "deal"
    ]  # a stave of 27 mm does not lie in the thin one


def test_without_a_board_the_staves_alone_are_told() -> None:
    bare, full = stave_order(mast(), ()), stave_order(mast(), BOARDS)
    assert (bare.plans, bare.waste) == ((), None)
    assert (bare.rows, bare.batten, bare.staves_kg) == (full.rows, full.batten, full.staves_kg)
    assert full.waste is not None and 0.0 < full.waste < 1.0


def test_what_may_not_be_scarfed_takes_boards_as_long_as_itself() -> None:
    long = Board(width_m=0.15, thickness_m=0.05, length_m=8.0, name="long")
    order = stave_order(mast(), [*BOARDS, long], scarfs=ScarfRules(scarfed=False))
    assert [plan.board.name for plan in order.plans] == ["long"]
    assert order.plans[0].lay.scarfs_m == ()


# ---------------------------------------------------------------- refusals


@pytest.mark.parametrize(
    ("more", "path"),
    [
        ({"sides": 2}, "sides"),
        ({"density_kg_m3": 0.45}, "density"),
        ({"heights_m": (0.0,)}, "stations"),
        ({"wall_m": (0.02, 0.02)}, "stations"),
        ({"heights_m": (0.5, 2.0, 7.0)}, "heights[0]"),
        ({"heights_m": (0.0, 2.0, 2.0)}, "heights[2]"),
        ({"heights_m": (0.0, math.nan, 7.0)}, "heights[1]"),
        ({"heights_m": (0.0, 2.0, 7000.0)}, "heights[2]"),
        ({"outside_m": (120.0, 0.12, 0.06)}, "outside[0]"),
        ({"wall_m": (0.0, 0.02, 0.02)}, "wall[0]"),
        ({"wall_m": (0.061, 0.02, 0.02)}, "wall[0]"),
    ],
)
def test_mast_that_cannot_be_built(more: dict[str, Any], path: str) -> None:
    with pytest.raises(RigInputError, match="in the mast of staves") as caught:
        mast(**more)
    assert path in [p.path for p in caught.value.problems]
    assert all(p.allowed and p.remedy[-1] in ".?" for p in caught.value.problems)


def order_of(**more: Any) -> StaveOrder:
    return stave_order(mast(), **{"boards": BOARDS, **more})


@pytest.mark.parametrize(
    ("more", "paths"),
    [
        ({"allowances": StaveAllowances(width_m=-1.0, kerf_m=3.0)}, ["allowance of width", "kerf"]),
        ({"allowances": StaveAllowances(every_m=0.0)}, ["every"]),
        ({"boards": [Board(width_m=0.15, thickness_m=0.05, length_m=4.8)], "scarfs": ScarfRules(scarfed=False)},
         ["boards[0].length"]),
        ({"boards": [Board(width_m=150.0, thickness_m=0.05, length_m=0.1)]}, ["boards[0].width", "boards[0].length"]),
        ({"boards": [Board(width_m=0.15, thickness_m=0.05, length_m=4.8, price=-1.0)]}, ["boards[0].price"]),
        ({"boards": [Board(width_m=0.15, thickness_m=0.02, length_m=4.8)]}, ["boards[0]"]),
        ({"boards": [Board(width_m=0.15, thickness_m=0.05, length_m=0.5)]}, ["boards[0].length"]),
        ({"scarfs": ScarfRules(slope=0.0)}, ["slope"]),
        ({"scarfs": ScarfRules(least_piece_m=-1.0)}, ["least_piece"]),
        ({"scarfs": ScarfRules(keep_clear_m=((2.0, 1.0),))}, ["keep_clear"]),
    ],
)  # fmt: skip
def test_order_that_cannot_be_met(more: dict[str, Any], paths: list[str]) -> None:
    with pytest.raises(RigInputError) as caught:
        order_of(**more)
    assert [p.path for p in caught.value.problems] == paths
    assert all(p.allowed and p.remedy[-1] in ".?" for p in caught.value.problems)


def test_mass_of_a_cone() -> None:
    """A cone of radius r and height h has a third of r2 h pi."""
    kg = integrated_kg((0.0, 3.0), lambda z: math.pi * (0.2 * (1 - z / 3.0)) ** 2, 500.0)
    assert kg == pytest.approx(500.0 * math.pi * 0.04 * 3.0 / 3, rel=1e-14)


def test_a_mass_that_differs_is_seen() -> None:
    assert MassCheck(10.0, 10.0 + 1e-9).agrees
    wrong = MassCheck(10.0, 10.00001)
    assert not wrong.agrees
    assert wrong.difference_kg == pytest.approx(-1e-5)
