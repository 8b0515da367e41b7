"""From the stock of a rig file to tubes and rules."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from rigcalc import read_rig
from rigcalc.design.nesting import NestingRules
from rigcalc.design.stock import nesting_rules, own_tubes, stock_defaults, stock_of, tubes_of
from rigcalc.errors import RigInputError
from rigcalc.materials.tube_tables import tube_sizes
from rigcalc.rig import Rig, Stock
from rigcalc.rigfile import starter_text

CSV = """name,diameter [mm],wall [mm],material,stock length,price per m
mine,90,4,6082-T6 extruded,6 m,30
other metal,80,4,6061-T6 drawn,5 m,28
any metal,70,3,,,20
"""


def rig(stock: str = "") -> Rig:
    return read_rig(starter_text() + stock)


def test_the_defaults_are_those_of_the_rules() -> None:
    bare = rig()
    assert bare.stock is None and stock_of(bare) == Stock()
    assert nesting_rules(bare) == NestingRules(length_m=bare.mast.length_m)


def test_every_rule_is_handed_on() -> None:
    stock = """[stock]
fewest = 2
most = 4
least_clearance = "0.3 mm"
greatest_clearance = "3 mm"
overlap = "0.25 m"
overlap_bores = 2
max_piece = "3.5 m"
joint_step = "50 mm"
"""
    found = nesting_rules(rig(stock))
    assert (found.fewest, found.most, found.clearance_m) == (2, 4, (0.0003, 0.003))
    assert (found.overlap_m, found.overlap_bores, found.piece_m) == (0.25, 2.0, 3.5)
    assert found.joint_step_m == pytest.approx(0.05)
    assert math.isinf(nesting_rules(rig()).piece_m)


def test_without_a_list_every_generic_size_counts() -> None:
    assert tubes_of(rig()) == tube_sizes()
    cut = tubes_of(rig('[stock]\ntube_length = "6 m"\n'))
    assert {tube.stock_length_m for tube in cut} == {6.0} and len(cut) == len(tube_sizes())


def test_series_are_picked_by_name() -> None:
    found = tubes_of(rig('[stock]\nseries = ["inch pipe, schedule 40"]\n'))
    assert found and {tube.series for tube in found} == {"inch pipe, schedule 40"}


def test_the_users_list_takes_the_place_of_the_generic_sizes(tmp_path: Path) -> None:
    (tmp_path / "tubes.csv").write_text(CSV, encoding="utf-8")
    stock = '[stock]\nfile = "tubes.csv"\ntube_length = "4 m"\ntube = [{diameter = "60 mm", wall = "3 mm"}]\n'
    mine = rig(stock)
    assert [tube.name for tube in own_tubes(mine, tmp_path)] == [
        "mine",
        "other metal",
        "any metal",
        "60 x 3 mm",
    ]
    material = mine.mast.material
    wanted = [t.name for t in own_tubes(mine, tmp_path) if t.material in (None, material)]
    found = tubes_of(mine, tmp_path)
    assert [tube.name for tube in found] == wanted and "any metal" in wanted and len(wanted) < 4
    # tube_length serves what has no length of its own
    assert {tube.name: tube.stock_length_m for tube in own_tubes(mine, tmp_path)} == {
        "mine": 6.0, "other metal": 5.0, "any metal": 4.0, "60 x 3 mm": 4.0,
    }  # fmt: skip
    both = tubes_of(rig(stock + 'series = ["inch pipe, schedule 40"]\n'), tmp_path)
    assert [t.name for t in both[: len(wanted)]] == wanted and len(both) > len(wanted)


def test_a_list_that_cannot_be_read_is_told(tmp_path: Path) -> None:
    with pytest.raises(RigInputError) as caught:
        tubes_of(rig('[stock]\nfile = "none.csv"\n'), tmp_path)
    (problem,) = caught.value.problems
    assert problem.path == "stock.file" and "none.csv" in problem.value
    (tmp_path / "bad.csv").write_text("diameter [mm],wall [mm]\n90,x\n", encoding="utf-8")
    with pytest.raises(RigInputError, match="list of tubes"):
        tubes_of(rig('[stock]\nfile = "bad.csv"\n'), tmp_path)


def test_defaults_taken_are_told_with_their_sources() -> None:
    taken = stock_defaults(rig('[stock]\nkerf = "2 mm"\n'), ("kerf", "trim"))
    assert [a.path for a in taken] == ["stock.trim"] and taken[0].source
    assert [a.path for a in stock_defaults(rig(), ("kerf", "trim"))] == ["stock.kerf", "stock.trim"]
