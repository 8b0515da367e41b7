"""`rigcalc cases`: what will be checked, why, and with what sail set.

Forces are checked by hand: Newton's pressure on the bare spar, a triangle's share, loads as given.
"""

from __future__ import annotations

import io
import json
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from rigcalc.cli import main
from rigcalc.design import case_list
from rigcalc.rig import Rig

from .loads_more import MAIN, MAST, ONE_REEF, TUBE, TWO_REEFS, rig, rig_file

GIVEN = """
[[case]]
name = "as asked"
kind = "given"
line_load = [["1 m", "100 N/m"], ["5 m", "0 N/m"]]
point_load = [{height = "6 m", side = "50 N", forward = "-20 N"}]
"""
STORM = """
[[case]]
name = "storm"
kind = "bare"
wind_speed = "30 m/s"
gust = "none"
force_angle = "90 deg"
"""
TWO_MASTS = MAST.replace("[mast]", '[mast]\nname = "main"')
MIZZEN = """
[[sail]]
name = "mizzen"
mast = "mizzen"
luff = "3 m"
foot = "1.5 m"
tack_height = "1.5 m"
"""
ALONE = """
[[state]]
name = "main alone"
set = {main = 1}
"""


def run(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(["cases", *words]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    return out


@pytest.fixture
def write(tmp_path: Path) -> Any:
    def file(*parts: str, mast: str = MAST) -> str:
        path = tmp_path / "boat.toml"
        path.write_text(rig_file(*parts, mast=mast), encoding="utf-8")
        return str(path)

    return file


def told(made: Rig) -> dict[str, Any]:
    return {case.load.name: case for case in case_list(made).cases}


# --- what is listed ------------------------------------------------------------------------------


def test_the_cases_of_the_file_are_listed_in_its_order() -> None:
    found = case_list(rig(MAIN, GIVEN, STORM))
    assert not found.standard
    assert [c.load.name for c in found.cases] == ["as asked", "storm"]
    assert {c.reason for c in found.cases} == {"named in the file"}


def test_forces_are_those_of_the_loads() -> None:
    cases = told(rig(MAIN, GIVEN, STORM))
    asked, storm = cases["as asked"], cases["storm"]
    assert (asked.side_N, asked.forward_N) == (pytest.approx(100 * 4 / 2 + 50), pytest.approx(-20))
    pressure = 1.225 * 30**2 / 2
    factor = 1.15  # of a storm, where the file does not say
    by_hand = factor * 1.2 * pressure * TUBE.diameter * (TUBE.length - TUBE.bury)
    assert storm.side_N == pytest.approx(by_hand, rel=1e-9)
    assert storm.forward_N == pytest.approx(0.0, abs=1e-9)


def test_states_have_the_area_and_centroid_of_what_is_set() -> None:
    states = {s.name: s for s in case_list(rig(MAIN, ONE_REEF, TWO_REEFS)).states}
    assert list(states) == ["all sail", "one reef", "two reefs"]
    # a triangle lowered to a share of its area is the same triangle, its sides by the root of the share
    for name, share in (("all sail", 1.0), ("one reef", 0.7), ("two reefs", 0.4)):
        assert states[name].area_m2 == pytest.approx(share * 4.2 * 2.0 / 2, rel=1e-9)
        assert states[name].centre_m == pytest.approx(1.5 + np.sqrt(share) * 4.2 / 3, rel=1e-9)


def test_sails_of_another_mast_count_in_the_states() -> None:
    states = {s.name: s for s in case_list(rig(MAIN, MIZZEN, ALONE, mast=TWO_MASTS)).states}
    main_area, mizzen_area = 4.2, 2.25
    assert states["all sail"].area_m2 == pytest.approx(main_area + mizzen_area)
    assert states["main alone"].area_m2 == pytest.approx(main_area)
    centre = (main_area * (1.5 + 1.4) + mizzen_area * (1.5 + 1.0)) / (main_area + mizzen_area)
    assert states["all sail"].centre_m == pytest.approx(centre, rel=1e-9)


def test_without_sails_there_are_no_states() -> None:
    assert case_list(rig()).states == ()
    assert case_list(rig()).standard


# --- command line --------------------------------------------------------------------------------


def test_the_standard_set_is_printed_with_its_reasons(capsys: pytest.CaptureFixture[str], write: Any) -> None:
    text = run(capsys, write(MAIN, ONE_REEF))
    assert "the standard set, since the file names none" in text
    flat = " ".join(text.split())
    cases = case_list(rig(MAIN, ONE_REEF)).cases
    assert len(cases) == 6
    for case in cases:
        notes = "; ".join(case.load.notes)
        assert f"{case.load.name}: {case.reason}; {notes}." in flat
        row = next(line for line in text.splitlines() if line.startswith(f"{case.load.name}  "))
        assert row.split()[-3:] == [f"{case.side_N:.0f}", f"{case.forward_N:.0f}", case.load.kind]


def test_named_cases_and_states_are_printed(capsys: pytest.CaptureFixture[str], write: Any) -> None:
    text = run(capsys, write(MAIN, ONE_REEF, STORM))
    assert "Cases: those of the file." in text
    assert "storm: named in the file; wind 30.0 m/s x gust 1.00" in " ".join(text.split())
    rows = [line.split() for line in text.splitlines() if "main " in line and "%" in line]
    assert rows == [
        ["all", "sail", "4.20", "2.90", "main", "100%"],
        ["one", "reef", "2.94", "2.67", "main", "70%"],
    ]
    assert "without its own weight" in text
    assert all(len(line) <= 100 for line in text.splitlines())


def test_the_json_has_what_the_list_has(capsys: pytest.CaptureFixture[str], write: Any) -> None:
    def strict(text: str) -> float:
        raise AssertionError(f"{text} is not JSON")

    document = json.loads(run(capsys, write(MAIN, ONE_REEF, GIVEN, STORM), "--json"), parse_constant=strict)
    found = case_list(rig(MAIN, ONE_REEF, GIVEN, STORM))
    assert document["standard"] is False and document["title"] == "Test rig"
    assert document["warnings"] == []
    assert [c["name"] for c in document["cases"]] == ["as asked", "storm"]
    for entry, case in zip(document["cases"], found.cases, strict=True):
        assert entry == {
            "name": case.load.name,
            "kind": case.load.kind,
            "state": case.load.state,
            "reason": case.reason,
            "side_N": case.side_N,
            "forward_N": case.forward_N,
            "heel_rad": case.load.heel_rad,
            "wind_speed_m_s": case.load.wind_speed_m_s,
            "notes": list(case.load.notes),
        }
    assert document["cases"][0]["wind_speed_m_s"] is None
    assert document["cases"][1]["wind_speed_m_s"] == pytest.approx(30.0)
    assert document["states"][1] == {
        "name": "one reef",
        "area_m2": pytest.approx(0.7 * 4.2),
        "centroid_m": pytest.approx(1.5 + np.sqrt(0.7) * 1.4),
        "sails": {"main": pytest.approx(0.7)},
    }


def test_a_rig_without_sails_lists_its_cases(capsys: pytest.CaptureFixture[str], write: Any) -> None:
    text = run(capsys, write())
    assert "States" not in text
    assert json.loads(run(capsys, write(), "--json"))["states"] == []


def test_a_dash_reads_standard_input(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], write: Any
) -> None:
    path = write(MAIN, ONE_REEF)
    from_file = run(capsys, path)
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(Path(path).read_bytes()), encoding="utf-8"))
    assert run(capsys, "-") == from_file


@pytest.mark.parametrize("command", ["cases", "reef"])
def test_a_file_that_cannot_be_read_is_refused(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    missing = tmp_path / "none.toml"
    assert main([command, str(missing)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith(f"rigcalc: {missing}: ") and "rigcalc new" in err
    missing.write_text("[boat", encoding="utf-8")
    assert main([command, str(missing)]) == 2
    assert "it is not valid TOML" in capsys.readouterr().err
    missing.write_text('title = "nothing else"', encoding="utf-8")
    assert main([command, str(missing)]) == 2
    assert "problems in the rig file" in capsys.readouterr().err


@pytest.mark.parametrize("words", [["cases"], ["cases", "a.toml", "b.toml"], ["cases", "a.toml", "--wind"]])
def test_bad_usage_is_refused(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(words) == 2
    assert "usage: rigcalc" in capsys.readouterr().err
