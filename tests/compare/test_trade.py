"""Masts of several materials where something of the rig is varied."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest

from rigcalc.cli import main
from rigcalc.design.compare import Trade, trade
from rigcalc.design.sizing import Sized, size
from rigcalc.reports.compare import trade_csv, trade_figure, trade_json, trade_screen
from rigcalc.rigfile import read_rig

EXAMPLE = Path(__file__).parents[2] / "examples" / "given_loads.toml"
METAL = "6061-T6 extruded"


@pytest.fixture(scope="module")
def found() -> Trade:
    return trade(EXAMPLE.read_text(encoding="utf-8"), ["mast.bury=0.7 m:1.1 m:3"], materials=[METAL])


def test_every_point_is_sized_as_its_own_file(found: Trade) -> None:
    text = EXAMPLE.read_text(encoding="utf-8")
    for point, bury in zip(found.points, ("0.7 m", "0.9 m", "1.1 m"), strict=True):
        line = next(line for line in text.splitlines() if line.startswith("bury"))
        alone = size(read_rig(text.replace(line, f'bury = "{bury}"')), material=METAL)
        assert isinstance(alone, Sized)
        (mast,) = point.masts
        assert mast is not None
        assert mast.mass_kg == alone.mass_kg
        assert point.label.endswith(bury)


def test_text_json_and_csv_agree(found: Trade) -> None:
    document = json.loads(trade_json(found))
    rows = list(csv.DictReader(line for line in io.StringIO(trade_csv(found)) if not line.startswith("#")))
    screen = trade_screen(found)
    assert document["cautions"]
    for point, row in zip(document["points"], rows, strict=True):
        assert float(row["mass_kg"]) == point["masts"][0]["mass_kg"]
        assert f"{point['masts'][0]['mass_kg']:.1f}" in screen
        assert row["point"] == point["label"]
    masses = [float(row["mass_kg"]) for row in rows]
    assert all(f"{mass:.1f} kg" in trade_figure(found).said for mass in masses)
    assert all(f"{mass / 0.45359237:.1f} lb" in trade_figure(found, us=True).said for mass in masses)


def test_a_point_without_a_rig_says_why(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    words = ["compare", str(EXAMPLE), "--material", METAL, "--vary", "mast.bury=0.9 m:40 m:2"]
    code = main([*words, "--plot", str(tmp_path / "out.svg")])
    out, err = capsys.readouterr()
    assert code == 0
    assert "there is no such rig" in out
    assert "Wrote" in err
    assert (tmp_path / "out.svg").read_text(encoding="utf-8").startswith("<")


def test_the_figures_carry_their_numbers(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    for words in (("compare", "--material", METAL), ("doubt", "--samples", "200")):
        out = tmp_path / f"{words[0]}.svg"
        assert main([words[0], str(EXAMPLE), *words[1:], "--plot", str(out)]) == 0
        assert f"Wrote {out}" in capsys.readouterr().err
        text = out.read_text(encoding="utf-8")
        assert "<desc" in text
        assert ("kg" if words[0] == "compare" else "%") in text


def test_a_figure_needs_a_suffix_it_can_be_written_in(capsys: pytest.CaptureFixture[str]) -> None:
    for command in ("compare", "doubt"):
        assert main([command, str(EXAMPLE), "--plot", "out.gif"]) == 2
        assert ".svg, .png or .pdf" in capsys.readouterr().err
