"""The command that prints the worked calculation."""

from __future__ import annotations

from pathlib import Path

import pytest

from rigcalc.cli import main
from rigcalc.rigfile import starter_text
from rigcalc.verdict import CAUTIONS

Capture = pytest.CaptureFixture[str]


@pytest.fixture
def starter(tmp_path: Path) -> str:
    file = tmp_path / "starter.toml"
    file.write_text(starter_text(), encoding="utf-8")
    return str(file)


def run(capsys: Capture, *words: str) -> tuple[int, str, str]:
    code = main(words)
    out, err = capsys.readouterr()
    return code, out, err


def plain(text: str) -> str:
    return " ".join(text.split())


def test_it_prints_every_part(capsys: Capture, starter: str) -> None:
    code, out, err = run(capsys, "working", starter)
    assert (code, err) == (0, "")
    for part in ("Load of '", "Forces of the bearings", "\nyield, tube\n", "\ntip-deflection\n"):
        assert part in out
    for caution in CAUTIONS:
        assert plain(caution) in plain(out)
    assert "sigma_b = M y / I = " in out
    assert "bending_stress: engineer's theory of bending." in plain(out)
    assert max(map(len, out.splitlines())) <= 88


def test_one_check_alone(capsys: Capture, starter: str) -> None:
    code, out, _ = run(capsys, "working", starter, "--check", "flattening")
    assert code == 0
    assert "M_B = " in out
    assert "Load of" not in out
    assert "\nyield, tube\n" not in out
    assert plain(CAUTIONS[0]) in plain(out)


def test_one_case_alone(capsys: Capture, starter: str) -> None:
    names = [line for line in starter_text().splitlines() if line.startswith("name = ")]
    assert names
    code, out, err = run(capsys, "working", starter, "--case", "no such case")
    assert (code, out) == (2, "")
    assert "there is no such case" in err
    whole = run(capsys, "working", starter)[1]
    case = whole.split("Load of '")[1].split("'")[0]
    code, out, _ = run(capsys, "working", starter, "--case", case)
    assert f"Load of '{case}'" in out


def test_a_check_that_is_not_there(capsys: Capture, starter: str) -> None:
    code, out, err = run(capsys, "working", starter, "--check", "yeild")
    assert (code, out) == (2, "")
    assert "there is no such check; there are " in err
    assert "yield" in err


def test_a_mast_that_fails_is_worked_out_too(capsys: Capture, tmp_path: Path) -> None:
    text = starter_text()
    thin = tmp_path / "thin.toml"
    # half the righting moment would do: the mast is asked for four times as much
    thin.write_text(text.replace('displacement = "', 'displacement = "9', 1), encoding="utf-8")
    code, out, _ = run(capsys, "working", str(thin))
    assert code == 1
    assert ": FAIL" in out


def test_a_bad_file_has_no_working(capsys: Capture, tmp_path: Path) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text("[boat]\n", encoding="utf-8")
    code, out, err = run(capsys, "working", str(bad))
    assert (code, out) == (2, "")
    assert "problems in the rig file" in err
