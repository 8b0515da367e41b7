"""Where paths lead, what is put there, and what is refused."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from rigcalc.errors import RigInputError
from rigcalc.rigfile import numbers_at, read_rig, read_table, starter_text, toml_table, with_values

ROOT = Path(__file__).resolve().parents[2]
STARTER = toml_table(starter_text())
STAVES = toml_table((ROOT / "examples" / "stave_mast_6m.toml").read_text(encoding="utf-8"))


def changed(raw: dict[str, Any], path: str, value: float, unit: str) -> dict[str, Any]:
    return with_values(raw, numbers_at(raw, path).set_to(value, unit))


def scaled(raw: dict[str, Any], path: str, factor: float) -> dict[str, Any]:
    return with_values(raw, numbers_at(raw, path).scaled(raw, factor))


def test_a_rig_read_from_what_its_file_holds_is_the_same() -> None:
    assert read_table(STARTER) == read_rig(starter_text())


def test_one_number() -> None:
    after = changed(STARTER, "mast.bury", 0.8, "m")
    assert after["mast"]["bury"] == "0.8 m"
    assert STARTER["mast"]["bury"] == "0.75 m"  # the file itself stays as it is
    after["mast"]["bury"] = "0.75 m"
    assert after == STARTER


def test_one_entry_of_a_list_and_all_of_them() -> None:
    one = changed(STARTER, "mast.stations[1].diameter", 3.5, "in")["mast"]["stations"]
    assert [s["diameter"] for s in one] == ["88.9 mm", "3.5 in"]
    every = changed(STARTER, "mast.stations[*].wall", 2.5, "mm")["mast"]["stations"]
    assert [s["wall"] for s in every] == ["2.5 mm", "2.5 mm"]


def test_a_table_that_the_file_leaves_out_is_made() -> None:
    assert changed(STARTER, "limits.yield_factor", 1.8, "1")["limits"] == {"yield_factor": "1.8"}


def test_what_is_scaled_keeps_its_unit() -> None:
    stations = scaled(STARTER, "mast.stations[*].diameter", 0.9)["mast"]["stations"]
    assert [s["diameter"] for s in stations] == ["80.01 mm", "80.01 mm"]
    assert [s["wall"] for s in stations] == ["3 mm", "3 mm"]


def test_the_arms_of_a_curve_are_scaled_and_its_heels_are_not() -> None:
    arms = scaled(STARTER, "boat.stability.righting_arm", 1.2)["boat"]["stability"]["righting_arm"]
    before = STARTER["boat"]["stability"]["righting_arm"]
    assert [heel for heel, _ in arms] == [heel for heel, _ in before]
    assert [arm for _, arm in arms] == ["0 m", "0.156 m", "0.264 m", "0.324 m", "0.3 m", "0 m"]
    assert (
        scaled(STARTER, "boat.stability.righting_arm[*][1]", 1.2)["boat"]["stability"]["righting_arm"] == arms
    )


def test_a_default_is_scaled_where_the_file_gives_none() -> None:
    after = read_table(scaled(STARTER, "limits.yield_factor", 2.0))
    assert after.limits.yield_factor == 2.0 * read_rig(starter_text()).limits.yield_factor


def test_shares_and_whole_numbers_stay_bare() -> None:
    assert changed(STAVES, "state[0].set.main", 0.5, "1")["state"][0]["set"] == {"main": 0.5}
    assert changed(STAVES, "mast.sides", 10.0, "1")["mast"]["sides"] == 10


def test_a_bare_number_is_scaled() -> None:
    raw = tomllib.loads("[limits]\nyield_factor = 1.5")
    assert scaled(raw, "limits.yield_factor", 2.0) == {"limits": {"yield_factor": "3"}}


@pytest.mark.parametrize(
    ("path", "said"),
    [
        ("mast.burry", "there is no 'burry' in mast. Did you mean mast.bury?"),
        ("bury", "there is no 'bury' at the top of a rig file. Did you mean mast.bury?"),
        ("sails[0].luff", "Did you mean sail[0].luff?"),
        ("mast.station[1].diameter", "Did you mean mast.stations[1].diameter?"),
        ("wind_speeds", "at the top of a rig file"),
        ("zzzz", "`rigcalc schema` tells the keys"),
        ("mast..bury", "it is not a path"),
        ("", "it is not a path"),
        ("mast.stations[1", "it is not a path"),
        ("mast", "mast is a table, not a number. Name a number in it: mast.length, mast.bury"),
        ("state[0].set", "state[0].set is a table, not a number"),
        ("state[0].set.jib", "the file does not name it. There is state[0].set.main"),
        ("title", "title is not a number. Only numbers can be varied"),
        ("mast.material", "mast.material is not a number"),
        ("sail[0].hold", "sail[0].hold is not a number"),
        ("sail", "sail is a list of tables. Write sail[0] or sail[*]"),
        ("sail.luff", "sail is a list of tables"),
        ("mast.stations[1]", "mast.stations[1] is a table, not a number"),
        ("mast.stations[4].wall", "The file has mast.stations[0] to mast.stations[3]; [*] is all of them"),
        ("sail[1].luff", "The file has sail[0]; [*] is all of them"),
        ("mast.stations[-1].wall", "there is no mast.stations[-1]"),
        ("mast.stations[²].wall", "there is no mast.stations[²]"),
        ("mast.weld[0].height", "the file gives no mast.weld"),
        ("mast[0].bury", "mast is not a list. Leave [0] out"),
        ("mast.bury[0]", "mast.bury is not a list"),
        ("mast.bury.m", "mast.bury is not a table"),
        ("boat.stability.righting_arm[1]", "Write boat.stability.righting_arm[0][1]"),
        ("boat.stability.righting_arm[1][2]", "each entry is a pair"),
        ("boat.stability.righting_arm[1][*]", "each entry is a pair"),
        ("boat.stability.righting_arm[9][1]", "there is no boat.stability.righting_arm[9]"),
        ("sail[0].battens", "there is no 'battens' in sail[0]"),
        ("sail[0].corners", "it is not a number. Write sail[0].corners[0][1]"),
    ],
)
def test_paths_that_lead_to_no_number(path: str, said: str) -> None:
    with pytest.raises(RigInputError, match=re.escape(said)):
        numbers_at(STAVES, path)


def test_what_cannot_be_scaled() -> None:
    with pytest.raises(RigInputError, match=r"boat\.stability\.gm: the file does not give it"):
        scaled(STARTER, "boat.stability.gm", 1.1)
    with pytest.raises(RigInputError, match=r"mast\.wall_loss: it is 0, and a factor leaves it so"):
        scaled(STARTER, "mast.wall_loss", 1.1)
