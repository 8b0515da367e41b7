"""Stations as CSV and JSON: the numbers of the check, and figures of sections that can be worked by hand."""

from __future__ import annotations

import csv
import io
import json
import math
import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from rigcalc import check, load_rig
from rigcalc.cli import main
from rigcalc.reports.exports import FORMATS, export
from rigcalc.reports.exports.csv_file import table_csv
from rigcalc.reports.exports.json_file import table_json
from rigcalc.reports.exports.table import table_of
from rigcalc.rigfile import starter_text
from rigcalc.verdict import CAUTIONS, NOT_CHECKED
from rigcalc.version import __version__

from ..test_loads import DENSITY, E_PA, SHEAR_PA, rig_text
from .masts import EXAMPLES, PUSHED, masts, result

Capture = pytest.CaptureFixture[str]
OF_MAST = ("height_m", "diameter_m", "wall_m", "EI_N_m2")
of_each = pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)


def table(text: str) -> tuple[list[str], dict[str, list[float]]]:
    """Return comments and columns of a CSV text."""
    lines = text.splitlines(keepends=True)
    comments = [line[2:-1] for line in lines if line.startswith("# ")]
    names, *rows = csv.reader(io.StringIO("".join(lines[len(comments) :])))
    assert len(set(names)) == len(names)
    return comments, {name: [float(row[i]) for row in rows] for i, name in enumerate(names)}


@of_each
def test_csv_has_the_numbers_of_the_check(path: Path) -> None:
    rig = load_rig(path)
    expected = check(rig)
    comments, columns = table(export(rig, to="csv"))
    s = expected.stations
    for name in OF_MAST:
        assert columns[name] == getattr(s, name).tolist()
    for name in (name for name in vars(s) if name not in (*OF_MAST, "cases")):
        for i, case in enumerate(s.cases):
            assert columns[f"{case}: {name}"] == getattr(s, name)[i].tolist()
    assert len(columns) == len(OF_MAST) + 7 + 9 * len(s.cases)
    assert set(CAUTIONS) | {NOT_CHECKED} <= {line.removeprefix("caution: ") for line in comments}
    assert comments[0].startswith(f"rigcalc {__version__},")


@of_each
def test_json_has_the_same_columns(path: Path) -> None:
    rig = load_rig(path)
    document = json.loads(export(rig, to="json"))
    _, columns = table(export(rig, to="csv"))
    assert document["schema_version"] == check(rig).schema_version
    assert document["rigcalc_version"] == __version__
    assert document["cautions"] == [*CAUTIONS, NOT_CHECKED]
    found = dict(document["stations"])
    for case in document["cases"]:
        found |= {f"{case['name']}: {name}": column for name, column in case["stations"].items()}
    assert found == columns
    assert list(found) == list(columns)


def test_figures_of_a_tube_by_hand() -> None:
    D, t = 0.12, 0.004
    d = D - 2 * t
    _, columns = table(export(masts()["round"], to="csv"))
    I, A = math.pi / 64 * (D**4 - d**4), math.pi / 4 * (D**2 - d**2)
    expected = {
        "EI_side_N_m2": E_PA * I,
        "EI_forward_N_m2": E_PA * I,
        "GJ_N_m2": SHEAR_PA * 2 * I,
        "EA_N": E_PA * A,
        "mass_kg_m": DENSITY * A,
        "outer_forward_m": D,
        "outer_side_m": D,
    }
    for name, value in expected.items():
        assert columns[name] == pytest.approx([value] * len(columns[name]), rel=1e-12)


def test_a_box_has_two_sizes_and_two_stiffnesses() -> None:
    _, columns = table(export(masts()["box"], to="csv"))
    size, across, t = 0.14, 0.09, 0.005
    bore, bore_across = size - 2 * t, across - 2 * t
    assert columns["outer_forward_m"][0] == pytest.approx(size)
    assert columns["outer_side_m"] == pytest.approx([across] * len(columns["outer_side_m"]))
    assert columns["EI_forward_N_m2"][0] == pytest.approx(
        E_PA * (across * size**3 - bore_across * bore**3) / 12
    )
    assert columns["EI_side_N_m2"][0] == pytest.approx(E_PA * (size * across**3 - bore * bore_across**3) / 12)
    both = np.minimum(columns["EI_side_N_m2"], columns["EI_forward_N_m2"])
    assert columns["EI_N_m2"] == both.tolist()


@pytest.mark.parametrize("name", ["laminated", "staves", "stepped"])
def test_mass_along_the_mast_makes_its_mass(name: str) -> None:
    rig = masts()[name]
    _, columns = table(export(rig, to="csv"))
    spar = np.trapezoid(columns["mass_kg_m"], columns["height_m"])
    assert spar == pytest.approx(result(name).mast.mass_kg - rig.mast.fittings_mass_kg, rel=1e-3)


def test_no_answer_is_inf_in_csv_and_null_in_json() -> None:
    found = table_of(masts()["round"])
    used = found.cases[0]["utilisation"].copy()
    used[3:5] = math.inf
    without = replace(found, cases=({**found.cases[0], "utilisation": used}, *found.cases[1:]))
    _, columns = table(table_csv(without))
    assert columns["pushed: utilisation"] == used.tolist()
    told = json.loads(table_json(without))["cases"][0]["stations"]["utilisation"]
    assert told == [*used[:3], None, None, *used[5:]]


def test_one_case(capsys: Capture, tmp_path: Path) -> None:
    file = tmp_path / "rig.toml"
    file.write_text(rig_text(more=PUSHED + PUSHED.replace('"pushed"', '"other"')), encoding="utf-8")
    assert main(["export", str(file), "--to", "csv", "--case", "other"]) == 0
    comments, columns = table(capsys.readouterr().out)
    assert {name.partition(": ")[0] for name in columns if ": " in name} == {"other"}
    assert any(line.startswith("warning: ") and "other" in line for line in comments)


@of_each
@pytest.mark.parametrize("to", FORMATS)
def test_every_example_in_every_format_twice_the_same(
    path: Path, to: str, capsys: Capture, tmp_path: Path
) -> None:
    out = tmp_path / "out"
    assert main(["export", str(path), "--to", to, "-o", str(out)]) == 0
    said = capsys.readouterr()
    assert (said.out, said.err) == ("", f"Wrote {out}.\n")
    assert main(["export", str(path), "--to", to]) == 0
    assert out.read_bytes() == capsys.readouterr().out.encode()
    assert not re.search(rb"\r|-0\.0*(E[+-]\d+)?[,\s]", out.read_bytes())
    text = " ".join(out.read_text(encoding="utf-8").replace("\n** ", " ").split())
    assert all(caution in text for caution in CAUTIONS)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--to", "xls"), "invalid choice: 'xls'"),
        ((), "--to"),
        (("--to", "csv", "--case", "none"), "--case none: there is no such case"),
        (("--to", "inp", "--case", "none"), "--case none: there is no such case"),
        (("--to", "inp", "-o", "no/such/folder/out"), "-o no/such/folder/out: No such file or directory"),
        (("--to", "json", "-o", "rig.toml"), "-o rig.toml is the rig file itself"),
    ],
)
def test_what_cannot_be_done(
    words: tuple[str, ...], said: str, capsys: Capture, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("rig.toml").write_text(starter_text(), encoding="utf-8")
    assert main(["export", "rig.toml", *words]) == 2
    captured = capsys.readouterr()
    assert captured.out == "" and said in captured.err and "Traceback" not in captured.err
    assert Path("rig.toml").read_text(encoding="utf-8") == starter_text()
    assert [path.name for path in tmp_path.iterdir()] == ["rig.toml"]


def test_a_format_that_is_none() -> None:
    with pytest.raises(ValueError, match="no such format"):
        export(masts()["round"], to="xls")
