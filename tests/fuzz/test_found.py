"""What fuzzing found, one small file each, so that it stays mended."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from rigcalc import RigInputError, check, read_rig
from rigcalc.design.stock import own_tubes
from rigcalc.materials.tube_lists import tubes_from_csv
from rigcalc.reports import as_json, screen
from rigcalc.rig.fields import MOST_MONEY
from rigcalc.rigfile import starter_text
from rigcalc.rigfile.read import MOST_LETTERS, MOST_PARTS, MOST_PROBLEMS
from tests.rigfile import toml_of

from .judge import no_hang, sound_json, sound_result, sound_text


def changed(change: Callable[[dict[str, Any]], object]) -> str:
    """Return the starter with a change."""
    table = tomllib.loads(starter_text())
    change(table)
    return toml_of(table)


def problems_of(text: str) -> dict[str, str]:
    """Return what is said of a text that must be refused, by path."""
    with no_hang(), pytest.raises(RigInputError) as caught:
        read_rig(text)
    return {problem.path: f"{problem.allowed}. {problem.remedy}" for problem in caught.value.problems}


def _moments(table: dict[str, Any]) -> None:
    table["boat"]["stability"] = {"moment_max": "900 N m", "heel_at_max": "60"}
    table["case"] = [{"name": "gust", "kind": "heel-limited"}]


def _level_clew(table: dict[str, Any]) -> None:
    edges = {
        "luff": "0.30000000000000004 m",
        "foot": "4 m",
        "tack_height": "1.15 m",
        "clew_rise": "0.3 m",
        "roach": 0.1,
    }
    table["sail"] = [{"name": "main", **edges}]


REFUSED: dict[str, tuple[Callable[[dict[str, Any]], object], str, str]] = {
    "a laminate of a ply that is no table": (
        lambda t: t.update(laminate=[{"name": "wall", "plies": ["glass"]}]),
        "laminate[0].plies[0]",
        "a table is wanted",
    ),
    "a list with a hole": (
        lambda t: t["mast"]["stations"].insert(1, "3 mm"),
        "mast.stations[1]",
        "a table is wanted",
    ),
    "a heel that cannot be read": (_moments, "boat.stability.heel_at_max", "deg"),
    "a clew as high as the head, with a roach": (_level_clew, "sail[0]", "the clew stands above the head"),
    "a righting arm of 1e308 m": (
        lambda t: t["boat"]["stability"]["righting_arm"][1].__setitem__(1, "1e308 m"),
        "boat.stability.righting_arm[1][1]",
        "-5 m to 5 m",
    ),
    "a moment of 1e308 N m": (
        lambda t: t.update(
            case=[{"name": "a", "kind": "wind-limited", "beaufort": 5, "longitudinal_moment": "1e308 N m"}]
        ),
        "case[0].longitudinal_moment",
        "1e+05 kN m",
    ),
    "a price without end": (
        lambda t: t.update(stock={"resin_price": 1e17}),
        "stock.resin_price",
        f"at most {MOST_MONEY:.0e}".replace("e+0", "e"),
    ),
    "a text without end": (
        lambda t: t.update(title="a" * (MOST_LETTERS + 1)),
        "title",
        f"at most {MOST_LETTERS} letters",
    ),
    "too many cases": (
        lambda t: t.update(case=[{"name": f"c{i}", "kind": "bare", "beaufort": 8} for i in range(61)]),
        "case",
        "at most 60",
    ),
    "too many stations": (
        lambda t: t["mast"].update(stations=t["mast"]["stations"] * 251),
        "mast.stations",
        "at most 500",
    ),
    "too many parrels": (
        lambda t: t["sail"][0].update(parrel_heights=["2 m"] * 201),
        "sail[0].parrel_heights",
        "at most 200",
    ),
    "too many righting arms": (
        lambda t: t["boat"]["stability"].update(righting_arm=[["1 deg", "1 m"]] * 501),
        "boat.stability.righting_arm",
        "at most 500",
    ),
    "a height next to nothing": (
        lambda t: t["mast"]["stations"].insert(1, {**t["mast"]["stations"][0], "height": "1e-310 m"}),
        "mast.stations[1].height",
        "Write 0 where nothing is meant",
    ),
    "a quantity of very many digits": (
        lambda t: t["mast"].update(length="1" * 201 + " m"),
        "mast.length",
        "too long",
    ),
}


@pytest.mark.parametrize("name", REFUSED)
def test_refused(name: str) -> None:
    change, path, tells = REFUSED[name]
    found = problems_of(changed(change))
    assert tells in found[path]


def _fine_stations(table: dict[str, Any]) -> None:
    one = {"diameter": "88.9 mm", "wall": "3 mm"}
    table["mast"]["stations"] = [{"height": f"{5.6 * i / 499:.9g} m", **one} for i in range(500)]
    table["case"] = [{"name": f"c{i}", "kind": "bare", "beaufort": 8} for i in range(21)]


def test_what_multiplies_to_too_much_is_refused() -> None:
    found = problems_of(changed(_fine_stations))
    assert list(found) == ["case"]
    assert "multiply to more than 10,000" in found["case"]


@pytest.mark.parametrize(
    "key", ["a" + ".a" * MOST_PARTS, '"a b"' + ' . "a.b"' * MOST_PARTS, "a" + ".a" * 100_000]
)
@pytest.mark.parametrize("form", ["{} = 1", "[{}]", "a = {{ {} = 1 }}"])
def test_a_key_of_many_parts_is_refused(key: str, form: str) -> None:
    found = problems_of(starter_text() + form.format(key))
    assert f"at most {MOST_PARTS} parts" in found["file"]


def test_a_flood_of_problems_is_cut() -> None:
    text = starter_text() + "\n".join(f"tittle{i} = 1" for i in range(50_000))
    with no_hang(), pytest.raises(RigInputError) as caught:
        read_rig(text)
    assert len(caught.value.problems) == MOST_PROBLEMS + 1
    assert "there is more wrong" in caught.value.problems[-1].allowed
    assert len(str(caught.value)) < 1_000_000


def test_a_problem_is_short_whatever_was_read() -> None:
    text = changed(lambda t: t.update(case=[{"name": "a", "kind": "k" * 9000, "x" * 9000: 1}]))
    with pytest.raises(RigInputError) as caught:
        read_rig(text)
    assert all(len(str(problem)) < 3000 for problem in caught.value.problems)


def limp() -> str:
    """Return a mast that finds no equilibrium under what is laid on it."""
    return changed(
        lambda t: t.update(
            case=[{"name": "pull", "kind": "given", "point_load": [{"height": "5.6 m", "side": "900 kN"}]}]
        )
    )


def test_no_answer_is_told_as_none() -> None:
    result = check(read_rig(limp()))
    assert any(one.utilisation == float("inf") for one in result.checks) and not result.passed
    sound_result(result)
    text = screen(result)
    sound_text(text)
    assert "  none  " in text
    told = sound_json(as_json(result, stations=True))
    assert None in [one["utilisation"] for one in told["checks"]]
    assert all("reason" in one for one in told["checks"] if one["utilisation"] is None)


HEAD = "diameter [mm], wall [mm]"
LISTS = {
    "thousands of columns": (",".join(["wall [mm]"] * 50_000), "at most 50 columns"),
    "a heading without end": ("diameter" + " " * 100_000 + "[mm], wall [mm]\n50,2", "at most 200 letters"),
    "brackets without end": ("(" * 100_000 + ", wall [mm]\n50,2", "at most 200 letters"),
    "a price without end": (f"{HEAD}, price per mm\n50,2,1e308", "from 0 to 1e+09"),
}


@pytest.mark.parametrize("name", LISTS)
def test_a_list_of_tubes(name: str) -> None:
    text, tells = LISTS[name]
    with no_hang(), pytest.raises(RigInputError) as caught:
        tubes_from_csv(text)
    assert tells in str(caught.value)


def test_a_list_of_tubes_that_is_no_file(tmp_path: Path) -> None:
    import os

    os.mkfifo(tmp_path / "pipe.csv")
    for name in ("pipe.csv", ".", "missing.csv", "a" * 400):
        rig = read_rig(starter_text() + f"\n[stock]\nfile = {json.dumps(name)}\n")
        with no_hang(), pytest.raises(RigInputError) as caught:
            own_tubes(rig, tmp_path)
        assert "stock.file" in str(caught.value) and "it cannot be read" in str(caught.value)


ROLLED = {
    "name": "main",
    "luff": "4 m",
    "foot": "6 m",
    "tack_height": "1.3 m",
    "hold": "rolled",
    "cloth_mass": "400 g/m2",
}


def test_a_rolled_sail_sways_alike_whether_a_case_sets_it_or_not() -> None:
    # the mesh had the kinks of the cases alone: the cloth was drawn on past its corners, even to less than none
    def winds(case: dict[str, Any]) -> list[float]:
        text = changed(lambda t: t.update(sail=[ROLLED], case=[case]))
        return [one.wind_m_s for one in check(read_rig(text)).mast.vortex_shedding]

    pull = {"name": "pull", "kind": "given", "point_load": [{"height": "5 m", "side": "100 N"}]}
    sailed = {"name": "sail", "kind": "wind-limited", "wind_speed": "3 m/s"}
    assert winds(pull) == pytest.approx(winds(sailed), rel=1e-4)
