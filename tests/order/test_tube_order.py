"""Bars for the tubes of a mast."""

from __future__ import annotations

import math
from itertools import islice

import pytest

from rigcalc.design.nesting import NestingRules, kg_per_metre, stepped_masts
from rigcalc.design.tube_order import TubePiece, tube_order
from rigcalc.errors import RigInputError
from rigcalc.materials.tube_lists import tubes_from_csv

STOCK = tubes_from_csv(
    """diameter [mm],wall [mm],stock length,price per m
70,4,6 m,30
70,4,4 m,33
60,2,6 m,15
50,3,5 m,14
"""
)
BIG, _, MIDDLE, SMALL = STOCK
ALUMINIUM = 2700.0


def test_a_stepped_mast_and_its_sleeve() -> None:
    pieces = [
        TubePiece(tube=BIG, start_m=0.0, end_m=3.5, name="heel"),
        TubePiece(tube=MIDDLE, start_m=3.2, end_m=7.0, name="top"),
        TubePiece(tube=MIDDLE, start_m=0.5, end_m=2.0, name="sleeve"),
    ]
    order = tube_order(pieces, STOCK, density_kg_m3=ALUMINIUM, kerf_m=0.003)
    heel, top = order.cuts
    assert [bar.stock.length_m for bar in heel.plan.bars] == [4.0]
    assert heel.plan.total == pytest.approx(4.0)
    (bar,) = top.plan.bars  # 3.8 and 1.5 m out of one of 6 m
    assert [p.name for p in bar.pieces] == ["top", "sleeve"]
    big, middle = math.pi * 0.066 * 0.004, math.pi * 0.058 * 0.002
    assert heel.in_place_kg == pytest.approx(ALUMINIUM * big * 3.5)
    assert heel.bought_kg == pytest.approx(ALUMINIUM * big * 4.0)
    assert top.in_place_kg == pytest.approx(ALUMINIUM * middle * 5.3)
    assert order.check.agrees
    assert order.check.section_kg == pytest.approx(ALUMINIUM * (big * 3.5 + middle * 5.3))


def test_least_cost_and_least_length_part() -> None:
    """Two of 1.9 m: 4 m at 33 is 132, 6 m at 30 is 180; with three, two of 4 m are 264 and one of 6 m 180."""
    for count, length_m, cost in ((2, 4.0, 132.0), (3, 6.0, 180.0)):
        pieces = [TubePiece(tube=BIG, start_m=0.0, end_m=1.9)] * count
        by_length = tube_order(pieces, STOCK, density_kg_m3=ALUMINIUM, kerf_m=0.003).cuts[0].plan
        by_cost = (
            tube_order(pieces, STOCK, density_kg_m3=ALUMINIUM, kerf_m=0.003, minimise="cost").cuts[0].plan
        )
        assert by_length.total == pytest.approx(length_m)
        assert by_cost.total == pytest.approx(cost)


def test_every_listed_mast_can_be_ordered_and_weighs_what_it_was_listed_by() -> None:
    rules = NestingRules(length_m=7.0, most=3, clearance_m=(0.001, 0.01), joint_step_m=0.5)
    masts = list(islice(stepped_masts(STOCK, rules, kg_per_metre(ALUMINIUM)), 40))
    assert {len(mast.sections) for mast in masts} == {2, 3}
    for mast in masts:
        pieces = [TubePiece(tube=s.tube, start_m=s.start_m, end_m=s.end_m) for s in mast.sections]
        order = tube_order(pieces, STOCK, density_kg_m3=ALUMINIUM, kerf_m=0.003)
        assert order.check.agrees
        assert order.check.pieces_kg == pytest.approx(mast.weighed, rel=1e-9)


def test_what_cannot_be_ordered_is_told_at_once() -> None:
    any_length = tubes_from_csv("diameter [mm],wall [mm]\n40,2\n")
    pieces = [
        TubePiece(tube=BIG, start_m=0.0, end_m=6.5),
        TubePiece(tube=any_length[0], start_m=0.0, end_m=1.0),
        TubePiece(tube=SMALL, start_m=0.0, end_m=1.0),
    ]
    with pytest.raises(RigInputError, match="in the tubes to order") as caught:
        tube_order(pieces, [*STOCK, *any_length], density_kg_m3=ALUMINIUM, kerf_m=0.003)
    assert [p.path for p in caught.value.problems] == ["70 x 4 mm, wanted[0].length", "40 x 2 mm"]
    assert "the longest bar yields 6 m" in str(caught.value)
    assert "Add its stock length" in str(caught.value)
