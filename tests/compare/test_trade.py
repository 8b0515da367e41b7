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
    assert all(f"{mass:.1f} kg" in trade_figure(found).said for mass in [float(r["mass_kg"]) for r in rows])


def test_a_point_without_a_rig_says_why(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    words = ["compare", str(EXAMPLE), "--material", METAL, "--vary", "mast.bury=0.9 m:40 m:2"]
    code = main([*words, "--plot", str(tmp_path / "out.svg")])
    out, err = capsys.readouterr()
    assert code == 0
    assert "there is no such rig" in out
    assert "Wrote" in err
    assert (tmp_path / "out.svg").read_text(encoding="utf-8").startswith("<")


def test_plot_goes_with_vary(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", str(EXAMPLE), "--plot", "out.svg"]) == 2
    assert "--vary" in capsys.readouterr().err
