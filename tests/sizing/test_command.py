"""`rigcalc size`: words, exit codes, text, JSON, and the file it writes."""

from __future__ import annotations

import json
import os
import re
from pathlib import Path

import pytest

from rigcalc import check
from rigcalc.cli import main, searches
from rigcalc.design.sizing import Watch
from rigcalc.rigfile import load_rig

METAL = "6061-T6 drawn"
GIVEN = (Path(__file__).parents[2] / "examples" / "given_loads.toml").read_text(encoding="utf-8")
TUBES = """
[stock]
joint_step = "0.5 m"
[[stock.tube]]
name = "wide"
diameter = "90 mm"
wall = "4 mm"
price = 30
[[stock.tube]]
name = "slim"
diameter = "81 mm"
wall = "2.5 mm"
price = 20
"""

Capture = pytest.CaptureFixture[str]


def run(capsys: Capture, *words: str) -> tuple[int, str, str]:
    code = main(words)
    out, err = capsys.readouterr()
    return code, out, err


@pytest.fixture
def rig(tmp_path: Path) -> str:
    file = tmp_path / "rig.toml"
    file.write_text(GIVEN + TUBES, encoding="utf-8")
    return str(file)


def test_the_file_written_passes_the_check(capsys: Capture, rig: str, tmp_path: Path) -> None:
    out_file = tmp_path / "sized.toml"
    code, out, err = run(capsys, "size", rig, "-o", str(out_file))
    assert code == 0
    assert "A falling mast can kill" in out
    assert f"run: rigcalc check {out_file}" in err
    result = check(load_rig(out_file))
    assert result.passed
    told = re.search(r"Mast of check alloy, ([\d.]+) kg", out)
    assert told is not None
    assert float(told[1]) == pytest.approx(result.mast.mass_kg, rel=5e-3)
    assert run(capsys, "check", str(out_file))[0] == 0


def test_text_and_json_agree(capsys: Capture, rig: str) -> None:
    code, out, _ = run(capsys, "size", rig)
    json_code, text, err = run(capsys, "size", rig, "--json")
    assert (code, json_code) == (0, 0)
    # a slow machine is told how far the search is
    assert all("masts tried" in line for line in err.splitlines())
    document = json.loads(text)
    assert document["found"] and document["finished"]
    assert document["cautions"]
    assert document["check"]["verdict"] == "pass"
    assert f"{document['tried']} masts tried" in out
    assert " ".join(document["sizes"].split()) in " ".join(out.split())
    assert document["mass_kg"] == pytest.approx(document["check"]["mast"]["mass_kg"])
    for beside in document["next_lighter"]:
        assert f"{beside['mass_kg']:.2f} kg" in out


def test_the_same_words_give_the_same_bytes(capsys: Capture, rig: str) -> None:
    assert run(capsys, "size", rig, "--json") == run(capsys, "size", rig, "--json")


def test_none_that_passes(capsys: Capture, tmp_path: Path) -> None:
    file, out_file = tmp_path / "rig.toml", tmp_path / "sized.toml"
    file.write_text(GIVEN + TUBES + '[size]\nmost_mass = "5 kg"\n', encoding="utf-8")
    code, out, _ = run(capsys, "size", str(file), "-o", str(out_file))
    assert code == 3
    assert "No mast of check alloy passes" in out and "A falling mast can kill" in out
    assert not out_file.exists()
    code, text, _ = run(capsys, "size", str(file), "--json")
    document = json.loads(text)
    assert code == 3
    assert not document["found"] and document["finished"]
    assert document["why"].split(":")[0] in " ".join(out.split())


def test_some_pass_and_some_do_not(capsys: Capture, tmp_path: Path) -> None:
    file = tmp_path / "rig.toml"
    small = '[size]\nlargest_diameter = "100 mm"\ndiameter_step = "10 mm"\nwall_step = "5 mm"\n'
    file.write_text(GIVEN + TUBES + small, encoding="utf-8")
    code, out, _ = run(capsys, "size", str(file), "--material", "check alloy", "--material", "C18")
    assert code == 3
    assert "Mast of check alloy" in out and "No mast of C18 passes" in out


def test_cost_in_place_of_what_the_file_says(capsys: Capture, rig: str) -> None:
    assert json.loads(run(capsys, "size", rig, "--json", "--minimise", "cost")[1])["found"]
    code, _, err = run(capsys, "size", rig, "--minimise", "cost", "--material", "C24+nothing")
    assert code == 2
    assert "no ply of this name" in err


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (("--material", "nothing"), "there is no material of this name"),
        (("--material", "C24", "--material", METAL, "--json"), "--json is of one --material"),
        (("--material", "C24", "--material", METAL, "-o", "x.toml"), "-o is for the mast of one --material"),
    ],
    ids=str,
)
def test_bad_words(capsys: Capture, rig: str, more: tuple[str, ...], says: str) -> None:
    code, out, err = run(capsys, "size", rig, *more)
    assert (code, out) == (2, "")
    assert says in err and "Traceback" not in err


def test_it_does_not_write_over_the_rig(capsys: Capture, rig: str) -> None:
    before = Path(rig).read_bytes()
    code, _, err = run(capsys, "size", rig, "-o", rig)
    assert code == 2 and "choose another name" in err
    assert Path(rig).read_bytes() == before


def test_a_place_that_cannot_be_written(capsys: Capture, rig: str, tmp_path: Path) -> None:
    code, _, err = run(capsys, "size", rig, "-o", str(tmp_path / "no" / "such.toml"))
    assert code == 2 and "No such file" in err


def test_a_bad_file(capsys: Capture, tmp_path: Path) -> None:
    file = tmp_path / "rig.toml"
    file.write_text(GIVEN + '[size]\nsmallest_tip = "80 mm"\nlargest_tip = "60 mm"\n', encoding="utf-8")
    code, out, err = run(capsys, "size", str(file))
    assert (code, out) == (2, "") and "size.smallest_tip" in err


class Impatient(Watch):
    """Tells of every lot of masts."""

    def count(self, masts: int, of: str, best: float | None) -> None:
        self._next = 0.0
        super().count(masts, of, best)


def test_progress_goes_to_the_other_stream(
    capsys: Capture, rig: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    quiet = run(capsys, "size", rig)
    monkeypatch.setattr("rigcalc.design.sizing.Watch", Impatient)
    code, out, err = run(capsys, "size", rig)
    assert (code, out) == quiet[:2]
    assert "masts tried, none passes yet" in err
    assert re.search(r"lightest so far [\d.]+ kg", err)


@pytest.mark.parametrize("material", ["check alloy", "C24"])
def test_broken_off(capsys: Capture, rig: str, monkeypatch: pytest.MonkeyPatch, material: str) -> None:
    told: list[str] = []

    def stop(text: str) -> None:
        told.append(text)
        if len(told) >= 4:
            raise KeyboardInterrupt

    monkeypatch.setattr("rigcalc.design.sizing.Watch", Impatient)
    monkeypatch.setattr(searches, "tell", stop)
    code, text, _ = run(capsys, "size", rig, "--json", "--material", material)
    assert code == 130
    assert json.loads(text)["finished"] is False
    told.clear()
    # one after the other, so that there is something left to begin
    monkeypatch.setattr(os, "cpu_count", lambda: 1)
    code, out, _ = run(capsys, "size", rig, "--material", material, "--material", METAL)
    assert code == 130
    assert "broken off" in out
    # nothing more is begun
    assert METAL not in out
