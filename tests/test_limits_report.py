"""`rigcalc check --limits`: every check of the JSON stands there, with formula, source and cure."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from rigcalc.cli import main

from .test_loads import rig_text
from .test_turned_masts import TUBE, pushed

EXAMPLES = sorted((Path(__file__).parents[1] / "examples").glob("*.toml"))
WEAK = rig_text(stations=TUBE, more=pushed(4000.0) + pushed(30.0).replace('"case"', '"light"'))


def said(text: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    file = tmp_path / "rig.toml"
    file.write_text(text, encoding="utf-8")
    code = main(["check", str(file), *words])
    captured = capsys.readouterr()
    return code, captured.out, captured.err


def test_every_check_is_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, text, _ = said(WEAK, tmp_path, capsys, "--limits", "--units", "metric")
    assert code == 1
    document = json.loads(said(WEAK, tmp_path, capsys, "--json")[1])
    blocks = {block.split("\n", 1)[0]: " ".join(block.split()) for block in text.split("\n\n")}
    for check in document["checks"]:
        block = blocks[check["id"] + (f", {check['layer']}" if check["layer"] else "")]
        assert f"{check['formula']}: {check['source']}" in block
        row = re.search(
            rf"{check['case']} {check['height_m']:.2f} (\S+ \S+(?: m)?) (\S+ \S+(?: m)?) (\S+) (pass|FAIL)",
            block,
        )
        assert row, block
        assert (row[4] == "pass") == check["passed"]
        assert row[3] == f"{check['utilisation']:.2f}"
        assert bool(check["advice"]) != check["passed"]
        assert check["passed"] or f"cure: {check['advice']}" in block
    assert len(document["checks"]) > 8
    assert "A falling mast can kill or maim" in text


def test_turns_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = rig_text(stations=TUBE, mast='shape = "box"', more=pushed(300.0, 200.0))
    _, limits, _ = said(text, tmp_path, capsys, "--limits")
    assert re.search(r"case +z m +turned +demand", limits)
    assert re.search(r"\b\d+ deg\b", limits)
    _, screen, _ = said(text, tmp_path, capsys, "--case", "case")
    assert "Governing" in screen


def test_it_is_of_the_text_answer(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, error = said(WEAK, tmp_path, capsys, "--limits", "--json")
    assert (code, out) == (2, "")
    assert "--json has every check in full" in error


@pytest.mark.parametrize("units", ["both", "metric", "us"])
@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_every_unit_can_be_shown(example: Path, units: str, capsys: pytest.CaptureFixture[str]) -> None:
    code = main(["check", str(example), "--limits", "--units", units])
    assert code in (0, 1)
    assert "FAIL" not in capsys.readouterr().out
