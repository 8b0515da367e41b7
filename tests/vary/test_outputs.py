"""Text, JSON, CSV and figures of one table, and how the command ends."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

from rigcalc.cli import main
from rigcalc.design.vary import VaryTable, vary
from rigcalc.reports.figures import CAUTION, svg_of
from rigcalc.reports.vary import vary_csv, vary_figures, vary_json, vary_screen
from rigcalc.rigfile import starter_text
from rigcalc.verdict import CAUTIONS, NOT_CHECKED

STARTER = starter_text()
SIZES = ["mast.stations[*].diameter=x0.9:x1.1:3", "mast.stations[*].wall=2 mm:4 mm:2"]
BURY = ["mast.bury=0.75 m:6.75 m:3"]
Caught = pytest.CaptureFixture[str]


@pytest.fixture(scope="module")
def sizes() -> VaryTable:
    return vary(STARTER, SIZES)


@pytest.fixture(scope="module")
def buries() -> VaryTable:
    return vary(STARTER, BURY)


@pytest.fixture
def starter(tmp_path: Path) -> str:
    file = tmp_path / "starter.toml"
    file.write_text(STARTER, encoding="utf-8")
    return str(file)


def test_the_screen(sizes: VaryTable) -> None:
    text = vary_screen(sizes)
    lines = text.splitlines()
    assert max(map(len, lines)) <= 120
    assert (
        "mast.stations[*].diameter x0.9 to x1.1 in 3 points; mast.stations[*].wall 2 mm to 4 mm"
        in " ".join(line.strip() for line in lines)
    )
    heads = next(i for i, line in enumerate(lines) if line.startswith("diameter"))
    rows = lines[heads + 2 : heads + 8]
    for line, row in zip(rows, sizes.rows, strict=True):
        cells = line.split()
        assert cells[:2] == [f"x{row.values[0]:g}", f"{row.values[1]:g}"]
        assert cells[2] == f"{row.mass_kg:.2f}" and cells[3] == f"{row.tip_deflection_m:.3f}"
        assert f"{row.utilisation:.3f}" in cells and row.verdict in cells and cells[-1] == row.check
        assert ("*" in cells) is row.front
    flat = " ".join(text.split())
    assert all(caution in flat for caution in (*CAUTIONS, NOT_CHECKED))


def test_units_of_the_screen(sizes: VaryTable) -> None:
    force = sizes.rows[0].partners_force_N
    assert force is not None
    newtons, pounds = f" {force:.0f} ", f" {force / 4.4482216152605:.0f} "
    for shown, there in (("both", (True, True)), ("metric", (True, False)), ("us", (False, True))):
        text = vary_screen(sizes, shown_in=shown)  # type: ignore[arg-type]
        assert (newtons in text, pounds in text) == there


def test_refused_rows_on_the_screen(buries: VaryTable) -> None:
    text = vary_screen(buries)
    assert "1 of 3 points pass, 0 fail, 2 refused." in text
    assert (
        "Refused\n  - mast.bury 3.75 m: sail[0] is foot at 1.15 m: it reaches below the partners, 3.75 m."
        in text
    )
    assert "Heights count from the heel" in text


def test_long_paths_and_many_refusals_keep_to_the_width() -> None:
    asked = ["mast.fittings_mass=1 kg:800 kg:20", "boat.stability.righting_arm[*][1]=x0.5:x1.5:2"]
    text = vary_screen(vary(STARTER, asked))
    assert max(map(len, text.splitlines())) <= 120
    assert "more: --json and --csv tell every one." in text
    assert "righting_..." in text


def test_two_paths_with_one_end_are_told_apart() -> None:
    asked = ["mast.stations[0].wall=3 mm:4 mm:2", "mast.stations[1].wall=2 mm:3 mm:2"]
    assert "stations[..." in vary_screen(vary(STARTER, asked))
    same = ["sail[0].luff=4 m:4.3 m:2", "sail[0].foot=2 m:2.1 m:2"]
    assert "\nluff  foot" in vary_screen(vary(STARTER, same))


def test_json_says_the_same(sizes: VaryTable, buries: VaryTable) -> None:
    document = json.loads(vary_json(sizes))
    assert document["cautions"] == [*CAUTIONS, NOT_CHECKED]
    assert document["axes"][0] == {
        "path": "mast.stations[*].diameter",
        "unit": "1",
        "scales": True,
        "values": [0.9, 1.0, 1.1],
    }
    for point, row in zip(document["points"], sizes.rows, strict=True):
        assert point == {**vars(row), "values": list(row.values), "warnings": list(row.warnings)}
    refused = json.loads(vary_json(buries))["points"][2]
    assert refused["verdict"] == "refused" and refused["mass_kg"] is None and refused["why"]


def test_csv_says_the_same(sizes: VaryTable, buries: VaryTable) -> None:
    lines = vary_csv(sizes).splitlines()
    comments = [line for line in lines if line.startswith("#")]
    assert all(f"# caution: {caution}" in comments for caution in (*CAUTIONS, NOT_CHECKED))
    rows = list(csv.DictReader(lines[len(comments) :]))
    for cells, row in zip(rows, sizes.rows, strict=True):
        assert float(cells["mast.stations[*].diameter, times that of the file"]) == row.values[0]
        assert float(cells["mast.stations[*].wall, mm"]) == row.values[1]
        assert float(cells["mass_kg"]) == row.mass_kg and float(cells["step_force_N"]) == row.step_force_N
        assert (cells["verdict"], cells["check"]) == (row.verdict, row.check)
        assert cells["front"] == ("yes" if row.front else "no")
    assert "refused" in vary_csv(buries) and "it reaches below the partners" in vary_csv(buries)


def test_no_answer_is_no_number() -> None:
    # so slim that it finds no equilibrium
    found = vary(STARTER, ["mast.stations[*].diameter=20 mm:88.9 mm:2"])
    assert found.rows[0].utilisation == float("inf") and found.rows[0].tip_deflection_m is None
    point = json.loads(vary_json(found))["points"][0]
    assert (point["utilisation"], point["tip_deflection_m"], point["verdict"]) == (None, None, "fail")
    assert "no answer was found, which never passes" in vary_screen(found)
    assert "No answer at 1 of 2 points" in vary_figures(found)[0].said


def test_the_same_bytes() -> None:
    one, other = vary(STARTER, SIZES), vary(STARTER, SIZES)
    for form in (vary_screen, vary_json, vary_csv):
        assert form(one) == form(other)
    assert svg_of(vary_figures(one)[0]) == svg_of(vary_figures(other)[0])


def test_figures(sizes: VaryTable, buries: VaryTable) -> None:
    figures = vary_figures(sizes)
    assert len({drawn.name for drawn in figures}) == len(figures) == 6
    used = figures[0]
    worst = max(sizes.rows, key=lambda row: row.utilisation or 0.0)
    assert f"Greatest {worst.utilisation:.2f} at {worst.label}." in used.said
    text = svg_of(used)
    assert "hatched and bold: over the limit of 1" in text
    cells = used.make().findobj(lambda artist: str(artist.get_gid()).startswith("cell"))
    assert len(cells) == 6
    assert "times that of the file" in text and CAUTION.split(":")[0] in text
    curve = svg_of(vary_figures(buries)[0])
    assert curve.count(">no answer<") == 2 and "No answer at 2 of 3 points." in curve and "2 refused" in curve


def test_a_figure_grows_whichever_way_it_was_asked() -> None:
    up = vary_figures(vary(STARTER, ["mast.bury=0.6 m:0.8 m:3"]))[2].make()
    down = vary_figures(vary(STARTER, ["mast.bury=0.8 m:0.6 m:3"]))[2].make()
    lines = [figure.findobj(lambda artist: artist.get_gid() == "curve")[0] for figure in (up, down)]
    for line in lines:
        assert list(line.get_xdata()) == [0.6, 0.7, 0.8]
    assert list(lines[0].get_ydata()) == list(lines[1].get_ydata())


def test_figures_in_pounds(sizes: VaryTable) -> None:
    mass = max(row.mass_kg or 0.0 for row in sizes.rows)
    assert f"Greatest {mass / 0.45359237:.1f} lb at" in vary_figures(sizes, shown_in="us")[1].said


# the command


def words(file: str, *more: str) -> list[str]:
    return ["check", file, *(word for asked in BURY for word in ("--vary", asked)), *more]


def test_a_point_that_passes_ends_well(capsys: Caught, starter: str, buries: VaryTable) -> None:
    assert main(words(starter)) == 0
    out, err = capsys.readouterr()
    assert (out, err) == (vary_screen(buries), "")
    assert main(words(starter, "--json")) == 0
    assert capsys.readouterr().out == vary_json(buries)
    assert main(words(starter, "--csv")) == 0
    assert capsys.readouterr().out == vary_csv(buries)


def test_no_point_that_passes(capsys: Caught, starter: str) -> None:
    assert main(["check", starter, "--vary", "mast.stations[*].wall=1 mm:1.5 mm:2"]) == 1
    assert "0 of 2 points pass, 2 fail." in capsys.readouterr().out


@pytest.mark.parametrize("end", ["svg", "png", "pdf", "SVG"])
def test_a_plot(capsys: Caught, starter: str, tmp_path: Path, end: str) -> None:
    out = tmp_path / f"plot.{end}"
    assert main(words(starter, "--plot", str(out))) == 0
    assert capsys.readouterr().err == f"Wrote {out}.\n"
    first = {"svg": b"<?xml", "png": b"\x89PNG", "pdf": b"%PDF"}[end.lower()]
    data = out.read_bytes()
    assert data.startswith(first)
    if end == "pdf":
        assert data.count(b"/Type /Page ") == 6
    assert main(words(starter, "--plot", str(out))) == 0
    assert out.read_bytes() == data


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (["--vary", "mast.burry=1 m:2 m:3"], "2 problems"),
        (["--stations", "--json"], "--stations is of one rig"),
        (["--limits"], "--limits is of one rig"),
        (["--json", "--csv"], "--json and --csv do not go together"),
        (["--case", "none"], "--case none: there is no such case"),
        (["--plot", "out.gif"], "--plot out.gif: a figure is written as .svg, .png or .pdf"),
        (["--plot", "no/such/folder/out.svg"], "there is no such folder"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_bad_words(capsys: Caught, starter: str, more: list[str], said: str) -> None:
    asked = (
        ["check", starter, "--vary", "mast.burry=0.6 m:0.8 m:3"] if more[0] == "--vary" else words(starter)
    )
    assert main([*asked, *more]) == 2
    out, err = capsys.readouterr()
    assert out == "" and said in err and "Traceback" not in err


def test_a_plot_over_the_rig_file(capsys: Caught, tmp_path: Path) -> None:
    file = tmp_path / "rig.svg"
    file.write_text(STARTER, encoding="utf-8")
    assert main(words(str(file), "--plot", str(file))) == 2
    assert "is the rig file itself" in capsys.readouterr().err
    assert file.read_text(encoding="utf-8") == STARTER


@pytest.mark.parametrize("alone", ["--csv", "--plot=out.svg"])
def test_what_goes_with_vary_only(capsys: Caught, starter: str, alone: str) -> None:
    assert main(["check", starter, alone]) == 2
    assert f"{alone.split('=')[0]} goes with --vary" in capsys.readouterr().err


def test_a_path_that_leads_nowhere_names_the_file(capsys: Caught, starter: str) -> None:
    assert main(["check", starter, "--vary", "mast.burry=0.6 m:0.8 m:3"]) == 2
    assert capsys.readouterr().err == (
        f"rigcalc: {starter}: 1 problem in what is varied:\n"
        "  mast.burry: there is no 'burry' in mast. Did you mean mast.bury?\n"
    )
