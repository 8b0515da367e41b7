"""`rigcalc plot`: what it writes, and what it says of a word it does not know."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from rigcalc.cli import main
from rigcalc.reports.figures import CAUTION, KINDS, SEARCHED

from . import EXAMPLES, ODD

TRAILER, GIVEN = str(EXAMPLES["trailer_sailer_4m6"]), str(EXAMPLES["given_loads"])
Caught = pytest.CaptureFixture[str]


@pytest.mark.parametrize("suffix", ["svg", "png", "pdf"])
def test_one_figure_to_a_file(suffix: str, tmp_path: Path, capsys: Caught) -> None:
    path = tmp_path / f"out.{suffix}"
    assert main(["plot", GIVEN, "--what", "utilisation", "-o", str(path)]) == 0
    assert path.stat().st_size > 3000
    assert capsys.readouterr() == ("", f"Wrote {path}: utilisation.\n")


def test_all_into_a_folder(tmp_path: Path, capsys: Caught) -> None:
    assert main(["plot", TRAILER, "--what", "all", "-o", str(tmp_path / "new" / "folder")]) == 0
    assert {path.name for path in (tmp_path / "new" / "folder").iterdir()} == {f"{k.name}.svg" for k in KINDS}
    for path in (tmp_path / "new" / "folder").iterdir():
        assert CAUTION.split(".")[0] in path.read_text(encoding="utf-8")
    assert "left out" not in capsys.readouterr().err


def test_all_into_one_pdf_says_what_is_left_out(tmp_path: Path, capsys: Caught) -> None:
    assert main(["plot", GIVEN, "--what", "all", "-o", str(tmp_path / "a.pdf")]) == 0
    assert (tmp_path / "a.pdf").read_bytes().count(b"/Type /Page ") == 6
    said = capsys.readouterr().err
    assert "stability is left out: the file has no curve of stability" in said
    assert "reefing is left out: there is no [[sail]]" in said


def test_a_named_figure_without_data_is_bad_input(tmp_path: Path, capsys: Caught) -> None:
    assert main(["plot", GIVEN, "--what", "stability", "-o", str(tmp_path / "a.svg")]) == 2
    assert not list(tmp_path.iterdir())
    assert "boat.stability.righting_arm" in capsys.readouterr().err


def test_a_mast_that_fails_is_drawn_and_said(tmp_path: Path) -> None:
    file = tmp_path / "thin.toml"
    file.write_text(ODD["falls"], encoding="utf-8")
    assert main(["plot", str(file), "--what", "utilisation", "-o", str(tmp_path / "a.svg")]) == 1
    assert "FAIL" in (tmp_path / "a.svg").read_text(encoding="utf-8")


def test_several_of_them_in_the_order_asked_for(tmp_path: Path, capsys: Caught) -> None:
    words = ["--what", "section", "--what", "bent", "--what", "section"]
    assert main(["plot", GIVEN, *words, "-o", str(tmp_path)]) == 0
    assert {path.name for path in tmp_path.iterdir()} == {"section.svg", "bent.svg"}
    assert capsys.readouterr().err == f"Wrote {tmp_path}: section, bent.\n"


def test_one_case_in_us_units(tmp_path: Path) -> None:
    words = [
        "--case",
        "running in force 5",
        "--units",
        "us",
        "--what",
        "along",
        "-o",
        str(tmp_path / "a.svg"),
    ]
    assert main(["plot", TRAILER, *words]) == 0
    text = (tmp_path / "a.svg").read_text(encoding="utf-8")
    assert "running in force 5" in text and "gust, full main" not in text and "lbf ft" in text


def test_the_list_of_names(capsys: Caught) -> None:
    assert main(["plot", GIVEN, "--what", "list"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    lines = out.splitlines()
    assert [line.split()[0] for line in lines] == [kind.name for kind in (*KINDS, *SEARCHED)]
    assert ["left out" in line for line in lines].count(True) == 3


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--what", "boats", "-o", "a.svg"], "--what boats: there is no such figure; there are boat, along"),
        (["--what", "boat"], "-o is missing"),
        (["--what", "boat", "-o", "a.gif"], "-o a.gif: figures are written as .svg, .png or .pdf"),
        (["--what", "all", "-o", "a.svg"], "several figures go into one .pdf, or into a folder"),
        (["--what", "boat", "--what", "bent", "-o", "a.png"], "several figures"),
        (["--what", "list", "--what", "bent"], "--what list stands alone"),
        (["--what", "list", "-o", "a.svg"], "--what list stands alone"),
        (["--what", "bent", "-o", "a.svg", "--case", "no such"], "--case no such: there is no such case"),
        (["--what", "bent", "-o", "no/such/folder/a.svg"], "no/such/folder/a.svg: No such file"),
        (["-o", "a.svg"], "--what is missing"),
        (["--what", "bent", "-o", "a.svg", "--units", "imperial"], "invalid choice"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_bad_words(
    words: list[str], said: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Caught
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["plot", GIVEN, *words]) == 2
    out, err = capsys.readouterr()
    assert out == "" and said in err and "Traceback" not in err
    assert not list(tmp_path.iterdir())


def test_a_bad_file(tmp_path: Path, capsys: Caught) -> None:
    assert main(["plot", str(tmp_path / "none.toml"), "--what", "bent", "-o", str(tmp_path / "a.svg")]) == 2
    assert "none.toml" in capsys.readouterr().err


def test_naming_the_figures_loads_no_matplotlib() -> None:
    code = (
        "import sys; from rigcalc.cli import main; code = main(sys.argv[1:]); "
        "sys.exit(code or 'matplotlib' in sys.modules)"
    )
    subprocess.run(
        [sys.executable, "-c", code, "plot", TRAILER, "--what", "list"], check=True, capture_output=True
    )
