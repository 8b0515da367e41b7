"""Cloth against closed forms, against the section, and laid out as outlines on the roll."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon as Outline

from rigcalc.design.cloth import Cloth, ClothOrder, ClothPly, Mandrel, cloth_order
from rigcalc.design.shelves import FlatPiece, Placed, Shelf, shelves_of
from rigcalc.errors import RigInputError

UD = Cloth(name="unidirectional", fibre_kg_m2=0.6, roll_m=1.27)
NARROW = Cloth(name="narrow", fibre_kg_m2=0.3, roll_m=0.15)
TUBE = Mandrel(heights_m=(0.0, 6.0), diameters_m=(0.1, 0.1))
CONE = Mandrel(heights_m=(0.0, 2.0, 8.0), diameters_m=(0.11, 0.11, 0.05))


def ply(**more: Any) -> ClothPly:
    return ClothPly(
        **{"cloth": UD, "thickness_m": 0.001, "fibre_fraction": 0.6, "start_m": 0.0, "end_m": 6.0, **more}
    )


def order(mandrel: Mandrel, *plies: ClothPly, **more: Any) -> ClothOrder:
    return cloth_order(mandrel, plies, **{"ends_m": 0.0, **more})


# ---------------------------------------------------------------- one ply


def test_strip_round_a_cylinder() -> None:
    """Mid-surface 101 mm through: width pi 0.101 + lap, area pi 0.101 x 6, no bow."""
    found = order(TUBE, ply(lap_m=0.03), spare=0.0, resin_loss=0.0)
    (cut,) = found.plies
    assert cut.gores == 1
    assert cut.lengths_m == (6.0,)
    assert [(r.height_m, r.along_m) for r in cut.rows] == [(0.0, 0.0), (6.0, 6.0)]
    assert all(r.width_m == pytest.approx(math.pi * 0.101 + 0.03) for r in cut.rows)
    assert all(r.bow_m == 0.0 for r in cut.rows)
    assert cut.net_m2 == pytest.approx(math.pi * 0.101 * 6.0)
    assert cut.laps_m2 == pytest.approx(0.03 * 6.0)
    assert cut.fibre_kg == pytest.approx(0.6 * (cut.net_m2 + 0.18))
    # 0.6 of the mass is fibre: two thirds as much resin
    assert cut.resin_kg == pytest.approx(cut.fibre_kg * 2 / 3)
    assert found.laminate_kg == pytest.approx(cut.net_m2)  # 0.6/0.6 kg/m2
    assert found.laps_kg == pytest.approx(0.18)
    assert found.resin_kg == pytest.approx(cut.resin_kg)
    (roll,) = found.rolls
    assert roll.cut_m == roll.length_m == pytest.approx(6.0)
    assert roll.waste == pytest.approx(1 - cut.laid_m2 / (6.0 * 1.27))


def test_part_of_a_ring_round_a_cone() -> None:
    """Radius 50 to 25 mm in 4 m: the developed ring has its arcs 4 m apart and an angle of 2 pi sin(half angle)."""
    cone = Mandrel(heights_m=(0.0, 4.0), diameters_m=(0.1, 0.05))
    (cut,) = order(cone, ply(end_m=4.0, lap_m=0.0, thickness_m=1e-5)).plies
    low, high = cut.rows
    slant = math.hypot(4.0, 0.025)
    assert high.along_m == pytest.approx(slant)
    angle = 2 * math.pi * 0.025 / slant
    outer = (0.05 + 5e-6) * slant / 0.025
    assert low.width_m == pytest.approx(outer * angle)
    assert high.width_m == pytest.approx((outer - slant) * angle)
    assert low.bow_m == pytest.approx(outer * (1 - math.cos(angle / 2)), rel=1e-6)
    assert high.bow_m == pytest.approx((outer - slant) * (1 - math.cos(angle / 2)), rel=1e-6)
    assert cut.net_m2 == pytest.approx(angle / 2 * (outer**2 - (outer - slant) ** 2))
    assert cut.lengths_m == (pytest.approx(slant + low.bow_m),)


def test_a_wide_mast_and_a_narrow_roll_take_gores() -> None:
    """pi 0.101 = 317 mm out of 150 mm with laps of 20 mm: 317/130 is 2.44, three gores of 106 + 20 mm."""
    (cut,) = order(TUBE, ply(cloth=NARROW)).plies
    assert cut.gores == 3
    assert cut.rows[0].width_m == pytest.approx(math.pi * 0.101 / 3 + 0.02)
    assert cut.laps_m2 == pytest.approx(3 * 0.02 * 6.0)
    # exactly two gores just fit
    fitting = replace(NARROW, roll_m=math.pi * 0.101 / 2 + 0.02)
    assert order(TUBE, ply(cloth=fitting)).plies[0].gores == 2


def test_turns_are_wound_on_in_one_piece() -> None:
    """Three turns of 1 mm on 100 mm: 101, 103 and 105 mm through, one lap."""
    found = order(TUBE, ply(turns=3))
    (cut,) = found.plies
    assert cut.rows[0].width_m == pytest.approx(math.pi * 0.309 + 0.02)
    assert cut.net_m2 == pytest.approx(math.pi * 0.309 * 6.0)
    assert cut.laps_m2 == pytest.approx(0.02 * 6.0)
    single = order(TUBE, ply(), ply(), ply())
    assert found.laminate_kg == pytest.approx(single.laminate_kg)


def test_a_short_roll_is_joined() -> None:
    """6 m in lengths of 2.5 m with joins of 0.1 m: 2.5 + 2.5 + 1.2."""
    (cut,) = order(TUBE, ply(cloth=replace(UD, roll_length_m=2.5))).plies
    assert cut.lengths_m == pytest.approx((2.5, 2.5, 1.2))
    assert cut.laps_m2 == pytest.approx(0.02 * 6.0 + 2 * 0.1 * cut.rows[0].width_m)
    (cut,) = order(TUBE, ply(cloth=replace(NARROW, roll_length_m=2.5))).plies
    assert cut.laps_m2 == pytest.approx(3 * (0.02 * 6.0 + 2 * 0.1 * cut.rows[0].width_m))


def test_a_ply_lies_on_what_is_below_it() -> None:
    """A second ply, over one that ends at 2 m: its cloth is wider by pi x 2 x 1 mm below that."""
    short, long = order(TUBE, ply(end_m=2.0, thickness_m=0.002), ply()).plies
    assert [(r.height_m, r.along_m) for r in long.rows] == [(0.0, 0.0), (2.0, 2.0), (2.0, 2.0), (6.0, 6.0)]
    below, above = math.pi * 0.105 + 0.02, math.pi * 0.101 + 0.02
    assert [r.width_m for r in long.rows] == pytest.approx([below, below, above, above])
    assert [r.height_m for r in short.rows] == [0.0, 2.0]
    # where the taper alone changes there is one row
    assert [r.height_m for r in order(CONE, ply(end_m=8.0)).plies[0].rows] == [0.0, 2.0, 8.0]


# ---------------------------------------------------------------- bias


@pytest.mark.parametrize("cut_deg", [30.0, 45.0, 70.0])
@pytest.mark.parametrize("end_m", [0.9, 2.0, 3.3, 4.1, 5.2, 6.3, 7.2, 8.0])
def test_bias_strips_cover_the_ply(cut_deg: float, end_m: float) -> None:
    """Strips from edge to edge of the roll; their slanting ends hang over both ends of the ply."""
    angle = math.radians(cut_deg)
    found = order(CONE, ply(cut_rad=angle, join_m=0.05, end_m=end_m), spare=0.0)
    (cut,) = found.plies
    strip = 1.27 / math.sin(angle)
    count = len(cut.lengths_m)
    assert cut.lengths_m == pytest.approx([strip] * count)
    slant = max(r.width_m for r in cut.rows) / math.tan(angle)
    needed = cut.rows[-1].along_m + max(cut.rows[0].bow_m, cut.rows[-1].bow_m)
    reach = strip + (count - 1) * (strip - 0.05)
    assert reach - slant >= needed - 1e-9
    assert count == 1 or needed > reach - (strip - 0.05) - slant  # one fewer would not reach

    # on the roll: parallelograms one after the other; each wide enough for the cone where it lies
    at = [r.along_m for r in cut.rows]
    widths = [r.width_m for r in cut.rows]
    on_roll = 1.27 / math.tan(angle)  # the triangle before the first
    for i in range(count):
        s = np.linspace(i * (strip - 0.05) - slant, i * (strip - 0.05) + strip, 2001)
        on_roll += float(np.max(np.interp(s, at, widths))) / math.sin(angle)
    (roll,) = found.rolls
    assert roll.bias_m == roll.cut_m == pytest.approx(on_roll, rel=1e-6)
    assert roll.shelves == ()
    joins = [(i + 1) * (strip - 0.05) + 0.025 for i in range(count - 1)]
    assert cut.laps_m2 == pytest.approx(0.02 * at[-1] + 0.05 * float(np.sum(np.interp(joins, at, widths))))


def test_across_the_roll_a_strip_is_as_long_as_the_roll_is_wide() -> None:
    (cut,) = order(TUBE, ply(cut_rad=math.pi / 2, join_m=0.1)).plies
    assert cut.lengths_m == pytest.approx(
        [1.27] * 6
    )  # 6 x 1.27 less five joins of 0.1 is 7.12; five reach 5.95
    (roll,) = order(TUBE, ply(cut_rad=math.pi / 2), spare=0.0).rolls
    assert roll.cut_m == pytest.approx(6 * (math.pi * 0.101 + 0.02))


# ---------------------------------------------------------------- mass

PLIES = st.builds(
    lambda t, psi, W, ends, turns, cut, lap: ply(
        cloth=Cloth(name=f"{W:.3f}", fibre_kg_m2=W, roll_m=3.0),
        thickness_m=t, fibre_fraction=psi, start_m=min(ends), end_m=max(ends), turns=turns, cut_rad=cut, lap_m=lap,
    ),
    st.floats(1e-4, 3e-3),
    st.floats(0.3, 0.8),
    st.floats(0.1, 1.2),
    st.sampled_from([(0.0, 8.0), (0.0, 2.0), (1.3, 8.0), (0.5, 3.1), (0.0, 7.9)]),
    st.integers(1, 2),
    st.sampled_from([0.0, math.pi / 4, math.pi / 2]),
    st.floats(0.0, 0.05),
)  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(st.lists(PLIES, min_size=1, max_size=6), st.lists(st.floats(0.03, 0.3), min_size=3, max_size=3))
def test_cloth_weighs_what_the_section_does(plies: list[ClothPly], sizes: list[float]) -> None:
    mandrel = Mandrel(heights_m=(0.0, 2.0, 8.0), diameters_m=tuple(sizes))
    found = order(mandrel, *plies)
    assert found.check.agrees
    assert found.check.pieces_kg == found.laminate_kg

    # the same by shells of revolution: many thin bands, each ply where the one below it ends
    z = np.linspace(0.0, 8.0, 8001)
    middle, step = (z[:-1] + z[1:]) / 2, z[1] - z[0]
    radius = np.interp(middle, mandrel.heights_m, mandrel.diameters_m) / 2
    slope = np.where(middle < 2.0, (sizes[1] - sizes[0]) / 4, (sizes[2] - sizes[1]) / 12)
    lean = np.hypot(1.0, slope)
    kg = 0.0
    for p in plies:
        here = (middle > p.start_m) & (middle < p.end_m)
        for _ in range(p.turns):
            mid = radius + p.thickness_m * lean / 2
            kg += float(np.sum(np.where(here, 2 * math.pi * mid * step * lean, 0.0))) * p.kg_m2
            radius = radius + np.where(here, p.thickness_m * lean, 0.0)
    assert found.laminate_kg == pytest.approx(kg, rel=2e-4)

    assert found.laps_kg == pytest.approx(sum(c.laps_m2 * c.ply.kg_m2 for c in found.plies))
    laid = sum(c.fibre_kg + c.resin_kg for c in found.plies)
    assert laid == pytest.approx(found.laminate_kg + found.laps_kg)
    for roll in found.rolls:
        assert 0.0 <= roll.waste < 1.0
        assert roll.length_m == pytest.approx(1.1 * roll.cut_m)


def test_spare_and_loss_come_on_top() -> None:
    plain = order(CONE, ply(end_m=8.0), spare=0.0, resin_loss=0.0)
    more = order(CONE, ply(end_m=8.0), spare=0.2, resin_loss=0.3)
    assert more.rolls[0].length_m == pytest.approx(1.2 * plain.rolls[0].length_m)
    assert more.resin_kg == pytest.approx(1.3 * plain.resin_kg)
    assert more.laminate_kg == plain.laminate_kg
    trimmed = cloth_order(CONE, [ply(end_m=8.0)], ends_m=0.1)
    assert trimmed.plies[0].lengths_m[0] == pytest.approx(plain.plies[0].lengths_m[0] + 0.1)


def test_mandrel_table() -> None:
    table = order(CONE, ply(end_m=8.0)).mandrel
    assert [z for z, _, _ in table] == pytest.approx(sorted({*(0.3 * i for i in range(27)), 2.0, 8.0}))
    for z, along, diameter in table:
        assert diameter == pytest.approx(0.11 - max(z - 2.0, 0.0) * 0.01)
        assert along == pytest.approx(min(z, 2.0) + max(z - 2.0, 0.0) * math.hypot(1.0, 0.005))


# ---------------------------------------------------------------- the roll


def outline(place: Placed) -> Outline:
    """Return a placed piece as an outline: along the roll, and across it."""
    p = place.piece
    at = p.length_m - p.at_m if place.turned else p.at_m
    right = np.column_stack([at, place.middle_m + p.width_m / 2])
    left = np.column_stack([at, place.middle_m - p.width_m / 2])[::-1]
    return Outline(np.vstack([right, left]))


def demand_cuttable(shelves: Any, pieces: list[FlatPiece], roll_m: float) -> None:
    placed = [p for shelf in shelves for p in shelf.placed]
    assert sorted(id(p.piece) for p in placed) == sorted(map(id, pieces))
    for shelf in shelves:
        outlines = [outline(p) for p in shelf.placed]
        for o in outlines:
            low_z, low, high_z, high = o.bounds
            assert -1e-9 <= low <= high <= roll_m + 1e-9
            assert -1e-9 <= low_z <= high_z <= shelf.length_m + 1e-9
        for a, b in combinations(outlines, 2):
            assert a.intersection(b).area < 1e-6


SHAPES = st.lists(
    st.tuples(st.floats(0.5, 8.0), st.lists(st.floats(0.02, 0.6), min_size=2, max_size=4)),
    min_size=1,
    max_size=9,
)


@settings(max_examples=60, deadline=None)
@given(SHAPES)
def test_pieces_on_the_roll_do_not_overlap(shapes: list[tuple[float, list[float]]]) -> None:
    pieces = [
        FlatPiece(i, 1, 1, length, np.linspace(0.0, length, len(widths)), np.array(widths))
        for i, (length, widths) in enumerate(shapes)
    ]
    shelves = shelves_of(pieces, 1.0)
    demand_cuttable(shelves, pieces, 1.0)
    area = sum(float(np.trapezoid(p.width_m, p.at_m)) for p in pieces)
    assert sum(s.length_m for s in shelves) >= area - 1e-9


def test_trapezia_lie_head_to_tail() -> None:
    """Pieces of 0.4 to 0.2 m: two take 0.2 + 0.3 + 0.2 = 0.7 m across, three 1.0 m."""
    pieces = [FlatPiece(i, 1, 1, 5.0, np.array([0.0, 5.0]), np.array([0.4, 0.2])) for i in range(3)]
    (shelf,) = shelves_of(pieces, 1.0)
    assert [p.middle_m for p in shelf.placed] == pytest.approx([0.2, 0.5, 0.8])
    assert [p.turned for p in shelf.placed] == [False, True, False]
    assert len(shelves_of(pieces, 0.999)) == 2
    demand_cuttable((shelf,), pieces, 1.0)


def test_a_jump_of_the_width_is_kept_clear_of() -> None:
    """The width grows to 0.4 m at 2 m and falls back at once, where the neighbour is widest too."""
    at = np.array([0.0, 2.0, 2.0, 4.0])
    pieces = [FlatPiece(i, 1, 1, 4.0, at, np.array([0.1, 0.4, 0.1, 0.1])) for i in range(2)]
    pieces.append(FlatPiece(3, 1, 1, 4.0, at, np.array([0.1, 0.1, 0.4, 0.1])))
    shelves = shelves_of(pieces, 1.5)
    assert len(shelves) == 1
    demand_cuttable(shelves, pieces, 1.5)


def test_plies_of_one_cloth_share_the_roll() -> None:
    """Three plies 0.34 m wide lie in 1.27 m of roll; a fourth needs a second shelf."""
    three = order(TUBE, *[ply()] * 3, spare=0.0).rolls
    assert [round(r.cut_m, 9) for r in three] == [6.0]
    (roll,) = order(TUBE, *[ply()] * 4, spare=0.0).rolls
    assert roll.cut_m == pytest.approx(12.0)
    assert [len(s.placed) for s in roll.shelves] == [3, 1]
    both = order(TUBE, ply(), ply(cloth=NARROW), spare=0.0)
    assert [r.cloth.name for r in both.rolls] == ["unidirectional", "narrow"]


def test_lengths_of_a_cone_off_a_short_roll_can_be_cut_and_cover_it() -> None:
    cloth = replace(UD, roll_length_m=3.0, roll_m=0.3)
    found = cloth_order(CONE, [ply(end_m=8.0, cloth=cloth), ply(end_m=8.0, cloth=cloth)], ends_m=0.08)
    (roll,) = found.rolls
    pieces = [p.piece for shelf in roll.shelves for p in shelf.placed]
    demand_cuttable(roll.shelves, pieces, 0.3)
    for number, cut in enumerate(found.plies, start=1):
        assert cut.gores == 2
        for gore in (1, 2):
            parts = sorted((p for p in pieces if (p.ply, p.gore) == (number, gore)), key=lambda p: p.part)
            assert [p.length_m for p in parts] == pytest.approx(cut.lengths_m)
            start = 0.0
            for part in parts:
                s = np.linspace(0.0, part.length_m, 50)
                wanted = np.interp(
                    s + start - 0.04, [r.along_m for r in cut.rows], [r.width_m for r in cut.rows]
                )
                np.testing.assert_allclose(part.width_at(s, False), wanted, rtol=1e-9)
                start += part.length_m - cut.ply.join_m
            assert start + cut.ply.join_m >= cut.rows[-1].along_m + 0.08


def test_an_outline_that_overlaps_would_be_seen() -> None:
    piece, other = (FlatPiece(i, 1, 1, 5.0, np.array([0.0, 5.0]), np.array([0.4, 0.2])) for i in (1, 2))
    shelf = Shelf(5.0, (Placed(piece, 0.2, False), Placed(other, 0.49, True)))
    with pytest.raises(AssertionError):
        demand_cuttable((shelf,), [piece, other], 1.0)


# ---------------------------------------------------------------- refusals


@pytest.mark.parametrize(
    ("mandrel", "plies", "more", "paths"),
    [
        (TUBE, [], {}, ["ply"]),
        (TUBE, [ply()], {"every_m": 0.0, "ends_m": -1.0}, ["every", "ends"]),
        (TUBE, [ply()], {"spare": -0.1, "resin_loss": 20.0}, ["spare", "resin_loss"]),
        (Mandrel(heights_m=(0.0,), diameters_m=(0.1,)), [ply()], {}, ["mandrel"]),
        (Mandrel(heights_m=(0.0, 6.0), diameters_m=(0.1,)), [ply()], {}, ["mandrel"]),
        (Mandrel(heights_m=(0.1, 6.0), diameters_m=(0.1, 0.1)), [ply()], {}, ["mandrel.heights[0]"]),
        (Mandrel(heights_m=(0.0, 3.0, 3.0), diameters_m=(0.1,) * 3), [ply(end_m=3.0)], {}, ["mandrel.heights[2]"]),
        (Mandrel(heights_m=(0.0, 6.0), diameters_m=(0.1, 100.0)), [ply()], {},
         ["mandrel.diameters[1]", "mandrel.diameters[1]"]),
        (Mandrel(heights_m=(0.0, 0.1, 6.0), diameters_m=(0.1, 0.05, 0.05)), [ply()], {}, ["mandrel.diameters[1]"]),
        (Mandrel(heights_m=(0.0, math.nan), diameters_m=(0.1, 0.1)), [ply()], {},
         ["mandrel.heights[1]", "ply[0].start"]),
        (TUBE, [ply(end_m=6.1)], {}, ["ply[0].start"]),
        (TUBE, [ply(start_m=3.0, end_m=2.0)], {}, ["ply[0].start"]),
        (TUBE, [ply(thickness_m=1.0)], {}, ["ply[0].thickness"]),
        (TUBE, [ply(fibre_fraction=60.0)], {}, ["ply[0].fibre_fraction"]),
        (TUBE, [ply(turns=0)], {}, ["ply[0].turns"]),
        (TUBE, [ply(cut_rad=45.0)], {}, ["ply[0].cut"]),
        (TUBE, [ply(cut_rad=0.1)], {}, ["ply[0].cut"]),
        (TUBE, [ply(lap_m=-0.01, join_m=3.0)], {}, ["ply[0].lap", "ply[0].join"]),
        (TUBE, [ply(), ply(cloth=replace(UD, fibre_kg_m2=600.0))], {}, ["ply[1].cloth.fibre"]),
        (TUBE, [ply(cloth=replace(UD, roll_m=127.0))], {}, ["ply[0].cloth.roll"]),
        (TUBE, [ply(cloth=replace(UD, roll_m=0.04))], {}, ["ply[0].lap"]),
        (TUBE, [ply(cloth=replace(UD, roll_m=0.042))], {}, ["ply[0].cloth.roll"]),
        (TUBE, [ply(cloth=NARROW, turns=2)], {}, ["ply[0].turns"]),
        (TUBE, [ply(cloth=replace(UD, roll_length_m=0.2))], {}, ["ply[0].join"]),
    ],
)  # fmt: skip
def test_refused(mandrel: Mandrel, plies: list[ClothPly], more: dict[str, float], paths: list[str]) -> None:
    with pytest.raises(RigInputError, match="in the laminate") as caught:
        cloth_order(mandrel, plies, **more)
    assert [p.path for p in caught.value.problems] == paths
    assert all(p.allowed and p.remedy[-1] in ".?" for p in caught.value.problems)
