"""`rigcalc report`: where it writes, what it refuses, its exit codes, and the same bytes in every process."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from rigcalc import NoSuchCaseError, load_rig, report
from rigcalc.cli import main
from rigcalc.reports.sheet import SUFFIXES
from rigcalc.rigfile import starter_text

from . import ROOT, THIN

Capture = pytest.CaptureFixture[str]
GIVEN = str(ROOT / "examples" / "given_loads.toml")


@pytest.fixture
def starter(tmp_path: Path) -> Path:
    path = tmp_path / "boat.toml"
    path.write_text(starter_text(), encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("suffix", "start"), [(".html", b"<!DOCTYPE html>"), (".md", b"# "), (".pdf", b"%PDF-1.")]
)
def test_the_suffix_says_what_is_written(capsys: Capture, tmp_path: Path, suffix: str, start: bytes) -> None:
    out = tmp_path / f"out{suffix}"
    assert main(["report", GIVEN, "-o", str(out)]) == 0
    assert out.read_bytes().startswith(start)
    told = capsys.readouterr()
    assert told.out == "" and told.err == f"Wrote {out}: PASS.\n"
    assert suffix in SUFFIXES


def test_a_name_of_the_form_goes_before_the_suffix(tmp_path: Path) -> None:
    out = tmp_path / "out.txt"
    assert main(["report", GIVEN, "--markdown", "-o", str(out)]) == 0
    assert out.read_text(encoding="utf-8").startswith("# ")


def test_without_a_file_it_goes_to_standard_output(capsys: Capture) -> None:
    assert main(["report", GIVEN]) == 0
    assert capsys.readouterr().out.startswith("<!DOCTYPE html>")
    assert main(["report", GIVEN, "--markdown"]) == 0
    assert capsys.readouterr().out.startswith("# ")


def test_a_mast_that_fails_gives_a_report_and_1(capsys: Capture, tmp_path: Path) -> None:
    path, out = tmp_path / "thin.toml", tmp_path / "out.md"
    path.write_text(THIN, encoding="utf-8")
    assert main(["report", str(path), "-o", str(out)]) == 1
    assert capsys.readouterr().err == f"Wrote {out}: FAIL.\n"
    assert "**FAIL**" in out.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["-o", "out.docx"], "-o out.docx: a report is written as .html"),
        (["-o", "out"], "a report is written as"),
        (["--pdf"], "-o is missing: a PDF is written to a file"),
        (["--paper", "letter"], "--paper is of a PDF"),
        (["--paper", "letter", "-o", "out.html"], "--paper is of a PDF"),
        (["--html", "--pdf"], "not allowed with argument"),
        (["--paper", "a3"], "invalid choice"),
        (["--case", "nothing"], "--case nothing: there is no such case"),
        (["-o", "no/such/folder/out.html"], "no/such/folder/out.html: there is no such folder"),
        (["-o", "no/such/folder/out.pdf"], "no/such/folder/out.pdf: there is no such folder"),
    ],
    ids=lambda value: value if isinstance(value, str) else " ".join(value),
)
def test_bad_usage_is_2(
    capsys: Capture, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: list[str], said: str
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["report", GIVEN, *words]) == 2
    told = capsys.readouterr()
    assert told.out == "" and said in told.err and "Traceback" not in told.err
    assert list(tmp_path.iterdir()) == []


def test_a_missing_or_broken_file_is_2(capsys: Capture, tmp_path: Path) -> None:
    out = tmp_path / "out.html"
    assert main(["report", str(tmp_path / "none.toml"), "-o", str(out)]) == 2
    assert "none.toml: No such file or directory" in capsys.readouterr().err
    broken = tmp_path / "broken.toml"
    broken.write_text("title = 3\n", encoding="utf-8")
    assert main(["report", str(broken), "-o", str(out)]) == 2
    assert "problems in the rig file" in capsys.readouterr().err
    assert not out.exists()


def test_the_rig_file_is_never_written_over(capsys: Capture, tmp_path: Path) -> None:
    path = tmp_path / "boat.html"
    path.write_text(starter_text(), encoding="utf-8")
    assert main(["report", str(path), "-o", str(path)]) == 2
    assert "is the rig file itself" in capsys.readouterr().err
    assert path.read_text(encoding="utf-8") == starter_text()


def test_standard_input_is_read(capsys: Capture) -> None:
    ran = subprocess.run(
        [sys.executable, "-m", "rigcalc", "report", "-", "--markdown"],
        input=Path(GIVEN).read_bytes(),
        capture_output=True,
        check=True,
    )
    assert b"| input | standard input |" in ran.stdout


_WRITE = """\
import sys
from rigcalc.cli import main
for name in ("given_loads", "sharpie_5m2"):
    for suffix in ("html", "md", "pdf"):
        assert main(["report", f"{sys.argv[1]}/{name}.toml", "-o", f"{sys.argv[2]}/{name}.{suffix}"]) == 0
"""


def test_two_processes_write_the_same_bytes(tmp_path: Path) -> None:
    for seed in ("1", "2"):
        out = tmp_path / seed
        out.mkdir()
        subprocess.run(
            [sys.executable, "-c", _WRITE, str(ROOT / "examples"), str(out)],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        )
    names = sorted(path.name for path in (tmp_path / "1").iterdir())
    assert len(names) == 6
    for name in names:
        assert (tmp_path / "1" / name).read_bytes() == (tmp_path / "2" / name).read_bytes(), name


def test_the_function_writes_what_the_command_writes(tmp_path: Path) -> None:
    out, path = tmp_path / "out.md", Path(GIVEN)
    assert main(["report", GIVEN, "-o", str(out), "--units", "us"]) == 0
    text = report(
        load_rig(path),
        form="markdown",
        raw=path.read_bytes(),
        name=path.name,
        folder=path.parent,
        shown_in="us",
    )
    assert text == out.read_text(encoding="utf-8")


def test_the_function_refuses_what_it_cannot_write() -> None:
    rig = load_rig(GIVEN)
    with pytest.raises(ValueError, match="no such form of report: 'docx'"):
        report(rig, form="docx")
    with pytest.raises(ValueError, match="paper is of a PDF"):
        report(rig, paper="letter")
    with pytest.raises(NoSuchCaseError):
        report(rig, case="nothing")
