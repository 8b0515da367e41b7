"""The command line: exit codes, where words go, text and JSON saying the same, and advice that works."""

from __future__ import annotations

import gc
import io
import json
import math
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import scipy.constants as const

import rigcalc
from rigcalc import check, read_rig
from rigcalc.cli import main
from rigcalc.limits import Check
from rigcalc.materials import fatigue_details, metal_names
from rigcalc.materials.timber import timber_names
from rigcalc.reports import as_json, screen
from rigcalc.reports.terminal import Units
from rigcalc.rigfile import starter_text
from rigcalc.verdict import CheckResult, NoSuchCaseError

ROOT = Path(__file__).resolve().parents[1]
EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))
STARTER = starter_text()
THIN = STARTER.replace('wall = "3 mm"', 'wall = "1.5 mm"')

COMMANDS = (
    *("check", "working", "cases", "reef", "size", "compare", "doubt", "order", "bearings", "laminate"),
    *("report", "plot", "drawing", "export", "explain", "materials", "new", "schema"),
)
READERS = ("check", "cases", "reef")
"""Those that read a rig file."""

Capture = pytest.CaptureFixture[str]


@pytest.fixture
def starter(tmp_path: Path) -> str:
    file = tmp_path / "starter.toml"
    file.write_text(STARTER, encoding="utf-8")
    return str(file)


@pytest.fixture
def thin(tmp_path: Path) -> str:
    assert THIN.count("1.5 mm") == 2
    file = tmp_path / "thin.toml"
    file.write_text(THIN, encoding="utf-8")
    return str(file)


def run(capsys: Capture, *words: str) -> tuple[int, str, str]:
    """Run one command in this process; return its code and what it said."""
    code = main(words)
    said = capsys.readouterr()
    return code, said.out, said.err


def process(*words: str, text: bytes = b"", **environment: str) -> subprocess.CompletedProcess[bytes]:
    """Run one command in a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "rigcalc", *words],
        input=text,
        capture_output=True,
        check=False,
        env={**os.environ, **environment},
    )


# exit codes and usage


def test_a_rig_that_passes(capsys: Capture, starter: str) -> None:
    code, out, err = run(capsys, "check", starter)
    assert (code, err) == (0, "")
    assert "\nPASS: " in out


def test_a_rig_that_fails(capsys: Capture, thin: str) -> None:
    code, out, err = run(capsys, "check", thin)
    assert (code, err) == (1, "")
    assert "\nFAIL: " in out
    assert "\n  Cure: " in out


@pytest.mark.parametrize("command", READERS)
def test_a_rig_that_is_wrong(capsys: Capture, tmp_path: Path, command: str) -> None:
    file = tmp_path / "wrong.toml"
    file.write_text(STARTER.replace('length = "5.60 m"', "length = 5.60"), encoding="utf-8")
    code, out, err = run(capsys, command, str(file))
    assert (code, out) == (2, "")
    assert err.startswith(f"rigcalc: {file}: 1 problem in the rig file:\n  mast.length is 5.6: ")


@pytest.mark.parametrize("command", READERS)
@pytest.mark.parametrize("place", ["none.toml", "", "no/such/folder/rig.toml"])
def test_a_file_that_cannot_be_opened(capsys: Capture, tmp_path: Path, place: str, command: str) -> None:
    code, out, err = run(capsys, command, str(tmp_path / place))
    assert (code, out) == (2, "")
    assert "Check the path" in err and "Traceback" not in err


WORK = {
    "check": "rigcalc.verdict.check",
    "cases": "rigcalc.design.case_list",
    "reef": "rigcalc.design.reefing_table",
}
"""Command -> the function that does its work."""


@pytest.mark.parametrize("command", WORK)
def test_a_fault_of_ours(
    capsys: Capture, starter: str, monkeypatch: pytest.MonkeyPatch, command: str
) -> None:
    def broken(*_: Any, **__: Any) -> None:
        raise ZeroDivisionError("a fault put in by the test")

    monkeypatch.setattr(WORK[command], broken)
    code, out, err = run(capsys, command, starter)
    assert (code, out) == (70, "")
    assert "Traceback" in err and "a fault put in by the test" in err
    assert err.rstrip().endswith("this is a fault in rigcalc, not in your file; please report it.")


@pytest.mark.parametrize("command", WORK)
def test_an_interrupt(capsys: Capture, starter: str, monkeypatch: pytest.MonkeyPatch, command: str) -> None:
    def stopped(*_: Any, **__: Any) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(WORK[command], stopped)
    assert run(capsys, command, starter) == (130, "", "")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ((), "COMMAND"),
        (("chekc", "rig.toml"), "chekc"),
        (("check",), "FILE"),
        (("check", "rig.toml", "--js"), "--js"),
        (("check", "rig.toml", "--stat"), "--stat"),
        (("check", "rig.toml", "--units", "imperial"), "imperial"),
        (("check", "rig.toml", "other.toml"), "other.toml"),
        (("check", "rig.toml", "--case"), "--case"),
        (("--ver",), "--ver"),
        (("chec", "rig.toml"), "chec"),
        (("case", "rig.toml"), "case"),
        (("ree", "rig.toml"), "ree"),
        (("cases",), "FILE"),
        (("cases", "rig.toml", "--js"), "--js"),
        (("cases", "rig.toml", "other.toml"), "other.toml"),
        (("cases", "rig.toml", "--wind", "9 kn"), "--wind"),
        (("reef",), "FILE"),
        (("reef", "rig.toml", "--js"), "--js"),
        (("reef", "rig.toml", "--win", "9 kn"), "--win"),
        (("reef", "rig.toml", "--wind"), "--wind"),
        (("reef", "rig.toml", "--case", "gust"), "--case"),
        (("laminate",), "FILE"),
        (("laminate", "rig.toml", "--js"), "--js"),
        (("laminate", "rig.toml", "--name"), "--name"),
        (("order",), "FILE"),
        (("order", "rig.toml", "--js"), "--js"),
        (("order", "rig.toml", "--csv", "--json"), "--csv"),
        (("order", "rig.toml", "--units", "imperial"), "--units"),
        (("size",), "FILE"),
        (("size", "rig.toml", "--js"), "--js"),
        (("size", "rig.toml", "--minimise", "price"), "--minimise"),
        (("size", "rig.toml", "--material"), "--material"),
        (("schema", "x"), "x"),
    ],
    ids=" ".join,
)
def test_bad_usage(capsys: Capture, words: tuple[str, ...], told: str) -> None:
    code, out, err = run(capsys, *words)
    assert (code, out) == (2, "")
    assert told in err and "usage: rigcalc" in err


@pytest.mark.parametrize("words", [("--help",), ("-h",)])
def test_help(capsys: Capture, words: tuple[str, ...]) -> None:
    code, out, err = run(capsys, *words)
    assert (code, err) == (0, "")
    for part in (
        "examples:",
        "rigcalc check my-boat.toml",
        "rigcalc size my-boat.toml",
        "exit codes:",
        "a fault in rigcalc itself",
        "A falling mast can kill",
    ):
        assert part in out
    assert sorted(re.findall(r"^    ([a-z]+)\s", out, re.MULTILINE)) == sorted(COMMANDS)
    assert max(map(len, out.splitlines())) <= 100


@pytest.mark.parametrize("command", COMMANDS)
def test_help_of_a_command(capsys: Capture, command: str) -> None:
    code, out, err = run(capsys, command, "--help")
    assert (code, err) == (0, "")
    assert out.startswith(f"usage: rigcalc {command}")
    assert ("--json" in out) == (
        command in (*READERS, "size", "compare", "doubt", "explain", "laminate", "order", "bearings")
    )
    assert ("--wind SPEED" in out) == (command == "reef")
    assert ("FILE" in out) == (command != "schema")


def test_version(capsys: Capture) -> None:
    assert run(capsys, "--version") == (0, f"rigcalc {rigcalc.__version__}\n", "")


# JSON

KEYS = {
    "schema_version",
    "rigcalc_version",
    "title",
    "verdict",
    "cautions",
    "warnings",
    "assumptions",
    "mast",
    "cases",
    "load_paths",
    "post",
    "bearings",
    "checks",
}


def test_json_has_the_keys_that_other_programs_count_on(capsys: Capture, starter: str) -> None:
    code, out, err = run(capsys, "check", starter, "--json")
    assert (code, err) == (0, "")
    document = json.loads(out, parse_constant=pytest.fail)
    assert set(document) == KEYS
    assert document["schema_version"] == "1"
    assert document["rigcalc_version"] == rigcalc.__version__
    assert document["title"] == read_rig(STARTER).title
    assert document["verdict"] == "pass"
    assert set(document["assumptions"][0]) == {"path", "value", "default", "source"}
    assert set(document["mast"]) == {
        "length_m",
        "mass_kg",
        "centre_of_gravity_m",
        "natural_frequencies_Hz",
        "axial_stability_N",
        "stability_cost",
        "vortex_shedding",
    }
    assert set(document["mast"]["stability_cost"]) == {
        "compared_with_kg",
        "gm_loss_m",
        "moment_30_loss_N_m",
        "roll_inertia_kg_m2",
        "ballast_kg",
    }
    for shedding in document["mast"]["vortex_shedding"]:
        assert set(shedding) == {"condition", "mode", "frequency_Hz", "wind_m_s", "sway_m", "scruton"}
    assert len(document["mast"]["vortex_shedding"]) == 2
    for path in document["load_paths"]:
        assert set(path) == {
            "case",
            "load_path",
            "partners_moment_N_m",
            "tip_deflection_m",
            "utilisation",
            "passed",
        }
    assert {p["load_path"] for p in document["load_paths"]} == {"luff", "membrane", "corners"}
    assert set(document["cases"][0]) == {
        "name",
        "kind",
        "state",
        "wind_speed_m_s",
        "heel_deg",
        "partners_force_N",
        "partners_side_N",
        "partners_forward_N",
        "step_force_N",
        "step_side_N",
        "step_forward_N",
        "step_thrust_N",
        "partners_moment_N_m",
        "max_moment_N_m",
        "max_moment_height_m",
        "bent_partners_force_N",
        "bent_step_force_N",
        "bent_moment_N_m",
        "bury_shear_N",
        "bent_bury_shear_N",
        "torque_N_m",
        "tip_deflection_m",
        "tip_deflection_large_m",
        "turn_deg",
        "partners_slope_rad",
        "axial_load_factor",
        "notes",
    }
    assert set(document["checks"][0]) == {
        "id",
        "case",
        "height_m",
        "turn_deg",
        "layer",
        "demand",
        "capacity",
        "unit",
        "utilisation",
        "passed",
        "formula",
        "source",
        "advice",
    }
    assert {c["name"] for c in document["cases"]} == {c["case"] for c in document["checks"]}


def test_json_and_its_verdict_agree_when_a_rig_fails(capsys: Capture, thin: str) -> None:
    code, out, _ = run(capsys, "check", thin, "--json")
    document = json.loads(out)
    assert (code, document["verdict"]) == (1, "fail")
    failed = [c for c in document["checks"] if not c["passed"]]
    assert failed
    for entry in document["checks"]:
        assert entry["passed"] == (entry["utilisation"] <= 1)
        assert bool(entry["advice"]) != entry["passed"]
        assert entry["utilisation"] == pytest.approx(entry["demand"] / entry["capacity"], rel=1e-15)


def test_json_with_stations(capsys: Capture, starter: str) -> None:
    _, plain, _ = run(capsys, "check", starter, "--json")
    code, out, err = run(capsys, "check", starter, "--json", "--stations")
    assert (code, err) == (0, "")
    document = json.loads(out, parse_constant=pytest.fail)
    stations = document.pop("stations")
    assert document == json.loads(plain)
    assert set(stations) == {"height_m", "diameter_m", "wall_m", "EI_N_m2", "cases"}
    number = len(stations["height_m"])
    assert stations["height_m"][0] == 0 and stations["height_m"][-1] == 5.6
    for case, summary in zip(stations["cases"], document["cases"], strict=True):
        assert case["name"] == summary["name"]
        assert set(case) == {
            "name",
            "shear_side_N",
            "shear_forward_N",
            "moment_side_N_m",
            "moment_forward_N_m",
            "slope_side_rad",
            "slope_forward_rad",
            "deflection_side_m",
            "deflection_forward_m",
            "utilisation",
        }
        assert all(len(values) == number for name, values in case.items() if name != "name")
        moment = max(map(math.hypot, case["moment_side_N_m"], case["moment_forward_N_m"]))
        assert moment == pytest.approx(summary["max_moment_N_m"], rel=1e-12)


def test_stations_go_with_json(capsys: Capture, starter: str) -> None:
    code, out, err = run(capsys, "check", starter, "--stations")
    assert (code, out) == (2, "")
    assert "--json" in err


def test_the_same_input_gives_the_same_bytes(starter: str) -> None:
    first, second = (process("check", starter, "--json", "--stations", PYTHONHASHSEED=seed) for seed in "12")
    assert first.returncode == second.returncode == 0
    assert first.stdout == second.stdout and first.stdout


def test_the_same_input_gives_the_same_text(capsys: Capture, starter: str) -> None:
    assert run(capsys, "check", starter) == run(capsys, "check", starter)


@pytest.mark.parametrize("words", [("--json",), ()], ids=["json", "text"])
def test_a_narrow_terminal_encoding_stops_nothing(words: tuple[str, ...]) -> None:
    text = STARTER.replace("Starter: ", "Gréement Ψ: ").encode()
    ran = process("check", "-", *words, text=text, PYTHONIOENCODING="ascii")
    assert ran.returncode == 0, ran.stderr.decode()
    assert ran.stderr == b""
    if words:
        assert json.loads(ran.stdout)["title"].startswith("Gréement Ψ: ")
    else:
        assert b"PASS" in ran.stdout and b"4.6 m open boat" in ran.stdout


# choosing a case, and where a rig comes from


def test_one_case_alone(capsys: Capture, starter: str) -> None:
    _, whole, _ = run(capsys, "check", starter, "--json")
    code, out, err = run(capsys, "check", starter, "--json", "--case", "knockdown")
    assert (code, err) == (0, "")
    alone, every = json.loads(out), json.loads(whole)
    assert [c["name"] for c in alone["cases"]] == ["knockdown"]
    (there,) = (c for c in every["cases"] if c["name"] == "knockdown")
    assert alone["cases"][0]["max_moment_N_m"] == pytest.approx(there["max_moment_N_m"], rel=1e-9)


def test_no_such_case(capsys: Capture, starter: str) -> None:
    code, out, err = run(capsys, "check", starter, "--case", "knockdwon")
    assert (code, out) == (2, "")
    assert "knockdwon" in err and "Traceback" not in err
    with pytest.raises(NoSuchCaseError):
        check(read_rig(STARTER), case="knockdwon")


def test_standard_input(capsys: Capture, starter: str, monkeypatch: pytest.MonkeyPatch) -> None:
    _, from_file, _ = run(capsys, "check", starter)
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(STARTER.encode())))
    assert run(capsys, "check", "-") == (0, from_file, "")


def test_a_reader_that_leaves_early_is_no_fault(starter: str) -> None:
    with subprocess.Popen(
        [sys.executable, "-m", "rigcalc", "check", starter, "--json", "--stations"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as ran:
        assert ran.stdout is not None and ran.stderr is not None
        ran.stdout.close()
        said = ran.stderr.read()
    assert (ran.returncode, said) == (0, b"")


# the other commands


def test_new_writes_a_file_that_passes(capsys: Capture, tmp_path: Path) -> None:
    file = tmp_path / "boat.toml"
    code, out, err = run(capsys, "new", str(file))
    assert (code, out) == (0, "")
    assert f"rigcalc check {file}" in err
    assert file.read_text(encoding="utf-8") == STARTER
    assert run(capsys, "check", str(file))[0] == 0


def test_new_overwrites_nothing(capsys: Capture, tmp_path: Path) -> None:
    file = tmp_path / "boat.toml"
    file.write_text("mine", encoding="utf-8")
    code, out, err = run(capsys, "new", str(file))
    assert (code, out) == (2, "")
    assert "exists" in err
    assert file.read_text(encoding="utf-8") == "mine"


def test_new_where_nothing_can_be_written(capsys: Capture, tmp_path: Path) -> None:
    code, out, err = run(capsys, "new", str(tmp_path / "no" / "boat.toml"))
    assert (code, out) == (2, "")
    assert "Traceback" not in err and "boat.toml" in err


def test_new_to_standard_output(capsys: Capture) -> None:
    assert run(capsys, "new", "-") == (0, STARTER, "")


def test_materials_list_the_fatigue_details(capsys: Capture) -> None:
    _, out, _ = run(capsys, "materials")
    for detail in fatigue_details():
        line = next(line for line in out.splitlines() if line.startswith(f"{detail.name} "))
        assert f" {detail.category_Pa / 1e6:.4g} " in line
        assert "from memory" in line
        assert detail.what in line


def test_materials(capsys: Capture) -> None:
    code, out, err = run(capsys, "materials")
    assert (code, err) == (0, "")
    for name in (*metal_names(), *timber_names()):
        assert re.search(rf"^{re.escape(name)}  ", out, re.MULTILINE)
    assert max(map(len, out.splitlines())) <= 120


@pytest.mark.parametrize("name", metal_names())
def test_one_material(capsys: Capture, name: str) -> None:
    code, out, err = run(capsys, "materials", name)
    assert (code, err) == (0, "")
    assert out.startswith(f"{name}\n")
    for part in ("proof (0.2 %)", "tensile", "MPa allowed", "strengths: "):
        assert part in out
    assert "(read)" in out or "from memory" in out


def test_no_such_material(capsys: Capture) -> None:
    code, out, err = run(capsys, "materials", "unobtainium")
    assert (code, out) == (2, "")
    assert "unobtainium" in err and "rigcalc materials" in err


def test_schema(capsys: Capture) -> None:
    code, out, err = run(capsys, "schema")
    assert (code, err) == (0, "")
    assert json.loads(out)["title"] == "rigcalc rig file"


# the text answer


class Terminal(io.StringIO):
    """A stand-in for a terminal."""

    def isatty(self) -> bool:
        return True


def on_terminal(monkeypatch: pytest.MonkeyPatch, file: str, **environment: str) -> str:
    """Return what a check of a file writes on a terminal."""
    for name in ("NO_COLOR", "TERM"):
        monkeypatch.delenv(name, raising=False)
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    screen_of_it = Terminal()
    monkeypatch.setattr("sys.stdout", screen_of_it)
    main(["check", file])
    return screen_of_it.getvalue()


def test_a_terminal_gets_one_coloured_word(
    monkeypatch: pytest.MonkeyPatch, capsys: Capture, starter: str, thin: str
) -> None:
    plain = {file: run(capsys, "check", file)[1] for file in (starter, thin)}
    for file, word, colour in ((starter, "PASS", 32), (thin, "FAIL", 31)):
        text = on_terminal(monkeypatch, file, TERM="xterm")
        assert f"\033[1;{colour}m{word}\033[0m: " in text
        assert text.count("\033") == 2
        assert re.sub("\033\\[[0-9;]*m", "", text) == plain[file]


@pytest.mark.parametrize("environment", [{"NO_COLOR": "1"}, {"TERM": "dumb"}], ids=str)
def test_no_colour_where_it_is_not_wanted(
    monkeypatch: pytest.MonkeyPatch, starter: str, environment: dict[str, str]
) -> None:
    assert "\033" not in on_terminal(monkeypatch, starter, **environment)


def test_an_empty_no_color_does_not_count(monkeypatch: pytest.MonkeyPatch, starter: str) -> None:
    assert "\033[1;32m" in on_terminal(monkeypatch, starter, NO_COLOR="")


def test_a_pipe_gets_no_colour(capsys: Capture, starter: str) -> None:
    assert "\033" not in run(capsys, "check", starter)[1]


TEXTS = [("starter", STARTER), ("thin", THIN), *((f.stem, f.read_text(encoding="utf-8")) for f in EXAMPLES)]


@pytest.fixture(scope="module", params=TEXTS, ids=[name for name, _ in TEXTS])
def result(request: pytest.FixtureRequest) -> CheckResult:
    return check(read_rig(request.param[1]))


def test_verdict_first_and_cautions_last(result: CheckResult) -> None:
    lines = screen(result).splitlines()
    assert lines[0] == result.title
    assert lines[1].startswith(f"{result.verdict.upper()}: ")
    head = lines.index("Cautions")
    assert all(line.startswith(("  - ", "    ")) for line in lines[head + 1 :])
    told = " ".join(" ".join(lines[head + 1 :]).split())
    for caution in result.cautions:
        assert " ".join(caution.split()) in told
    assert len(result.cautions) == sum(line.startswith("  - ") for line in lines[head + 1 :])


@pytest.mark.parametrize("units", ["both", "metric", "us"])
def test_no_line_is_wider_than_a_terminal(result: CheckResult, units: Units) -> None:
    text = screen(result, shown_in=units)
    assert max(map(len, text.splitlines())) <= 100
    assert not any(line != line.rstrip() for line in text.splitlines())
    assert text.endswith("\n") and "\n\n\n" not in text


POUND_FOOT = const.pound_force * const.foot


def table_of(text: str) -> tuple[list[str], dict[str, list[str]]]:
    """Return the unit row and case -> cells of the table of cases."""
    lines = text.splitlines()
    head = next(i for i, line in enumerate(lines) if line.startswith("case "))
    rows = lines[head + 1 : lines.index("", head)]
    units = lines[head].replace("N m", "N.m").replace("lbf ft", "lbf.ft").split()[1:]
    cells = {}
    for row in rows:
        *name, _ = re.split(r"\s{2,}", row)
        cells[name[0]] = re.split(r"\s{2,}", row)[1:]
    return units, cells


@pytest.mark.parametrize(
    ("shown_in", "units"),
    [
        ("both", ["N", "lbf", "N", "lbf", "N.m", "m"]),
        ("metric", ["N", "N", "N.m", "m"]),
        ("us", ["lbf", "lbf", "lbf.ft", "ft"]),
    ],
)
def test_text_and_json_say_the_same(result: CheckResult, shown_in: Units, units: list[str]) -> None:
    document = json.loads(as_json(result))
    heads, rows = table_of(screen(result, shown_in=shown_in))
    assert heads == units
    assert list(rows) == [case["name"] for case in document["cases"]]
    sizes = {"N": 1.0, "lbf": const.pound_force, "N.m": 1.0, "lbf.ft": POUND_FOOT, "m": 1.0, "ft": const.foot}
    for case in document["cases"]:
        tip = case["tip_deflection_large_m"]
        tip = case["tip_deflection_m"] if tip is None else tip
        forces = [u for u in units if u in ("N", "lbf")]
        upper, lower = (
            max(case[name], case[f"bent_{name}"] or 0.0) for name in ("partners_force_N", "step_force_N")
        )
        values = [upper] * (len(forces) // 2) + [lower] * (len(forces) // 2)
        values += [max(case["max_moment_N_m"], case["bent_moment_N_m"] or 0.0), tip]
        worst = max(
            (c for c in document["checks"] if c["case"] == case["name"]), key=lambda c: c["utilisation"]
        )
        *cells, used, what = rows[case["name"]]
        for cell, unit, value in zip(cells, units, values, strict=True):
            half = 0.5 if "." not in cell else 0.005
            assert abs(float(cell) - value / sizes[unit]) <= half * (1 + 1e-9), (case["name"], unit)
        assert float(used) == pytest.approx(worst["utilisation"], abs=0.0051)
        assert what == worst["id"]


US = {"MPa": ("ksi", const.kilo * const.psi / const.mega), "N": ("lbf", const.pound_force),
      "N m": ("lbf ft", POUND_FOOT), "m": ("ft", const.foot), "kg": ("lb", const.pound)}  # fmt: skip


def flattened(result: CheckResult) -> dict[str, str]:
    """Return units -> text answer, all in one line."""
    choices: tuple[Units, ...] = ("both", "metric", "us")
    return {units: " ".join(screen(result, shown_in=units).split()) for units in choices}


def test_units_and_labels_of_the_governing_check_switch_together(result: CheckResult) -> None:
    flat = flattened(result)
    governing = max(result.checks, key=lambda c: c.utilisation)
    if governing.unit == "1":  # a use has no unit to switch
        for text in flat.values():
            assert re.search(r"is used ([0-9.]+): [0-9.]+ of 1\.00\.", text)
        return
    si, label = (1e6, "MPa") if governing.unit == "Pa" else (1.0, governing.unit)
    other, size = US[label]
    number = r"([0-9.]+)"
    metric = re.search(rf"is used {number}: {number} {label} of {number} {label}\.", flat["metric"])
    us = re.search(rf"is used {number}: {number} {other} of {number} {other}\.", flat["us"])
    both = re.search(
        rf"is used {number}: {number} {label} \({number} {other}\) of {number} {label} \({number} {other}\)\.",
        flat["both"],
    )
    assert metric and us and both
    demand, capacity = governing.demand / si, governing.capacity / si
    for found in (metric, us, both):
        assert float(found[1]) == pytest.approx(governing.utilisation, abs=0.0051)
    for text, value in (
        (metric[2], demand),
        (metric[3], capacity),
        (us[2], demand / size),
        (us[3], capacity / size),
        (both[2], demand),
        (both[3], demand / size),
        (both[4], capacity),
        (both[5], capacity / size),
    ):
        half = 0.5 * 10.0 ** -len(text.partition(".")[2])
        assert abs(float(text) - value) <= half * (1 + 1e-9)


def test_units_of_the_mast_line_switch_together(result: CheckResult) -> None:
    flat = flattened(result)
    kg, lb = f"{result.mast.mass_kg:.1f} kg", f"{result.mast.mass_kg / const.pound:.1f} lb"
    N, lbf = (
        f"{result.mast.axial_stability_N:.0f} N",
        f"{result.mast.axial_stability_N / const.pound_force:.0f} lbf",
    )
    assert f"Mast: {kg} ({lb}) with" in flat["both"] and f"under {N} ({lbf}) at" in flat["both"]
    assert f"Mast: {kg} with" in flat["metric"] and f"under {N} at" in flat["metric"]
    assert f"Mast: {lb} with" in flat["us"] and f"under {lbf} at" in flat["us"]


def told_defaults(text: str) -> dict[str, set[str]]:
    """Return table -> defaults, as the paragraph on defaults groups them."""
    # lines are broken at blanks and after hyphens
    blocks = [re.sub(r"-\s+", "-", " ".join(block.split())) for block in text.split("\n\n")]
    mark = "Defaults taken (sources with --json): "
    (block,) = (block for block in blocks if mark in block)
    assert block.endswith(".")
    tables: dict[str, set[str]] = {}
    for part in block.partition(mark)[2].removesuffix(".").split("; "):
        tables_told, _, taken = part.partition(": ")
        # tables of one kind that took unlike defaults are told apart by their numbers
        for table in {re.sub(r"\[\d+\]", "", told) for told in tables_told.split(", ")}:
            assert table not in tables or "[" in tables_told
            tables[table] = tables.get(table, set()) | set(taken.split(", "))
    return tables


def test_every_default_taken_shows(result: CheckResult) -> None:
    wanted: dict[str, set[str]] = {}
    for taken in result.assumptions:
        if taken.default and taken.value != "worked out" and not taken.path.startswith("case '"):
            table, _, key = re.sub(r"\[\d+\]", "", taken.path).rpartition(".")
            wanted.setdefault(table, set()).add(f"{key} {taken.value}")
    assert len(wanted) >= 3
    assert told_defaults(screen(result)) == wanted


def test_a_standard_set_is_told(result: CheckResult) -> None:
    standard = [a for a in result.assumptions if a.path.startswith("case '")]
    assert (
        "The file names no [[case]]: the standard set is run." in " ".join(screen(result).split())
    ) == bool(standard)
    if standard:
        assert [a.path for a in standard] == [f"case {case.name!r}" for case in result.cases]
        assert all(a.source for a in standard)


def test_every_assumption_has_its_source(result: CheckResult) -> None:
    assert all(a.path and a.value and a.source for a in result.assumptions)
    assert len({a.path for a in result.assumptions if "[*]" not in a.path}) == sum(
        "[*]" not in a.path for a in result.assumptions
    )


# advice


def weak(wall: str) -> str:
    """Return the starter with a thinner wall and so much leave to bend that strength governs."""
    return STARTER.replace('wall = "3 mm"', f'wall = "{wall} mm"') + '\n[limits]\ntip_deflection = "50 %"\n'


WEAK = weak("1.8")
GIVEN = (
    WEAK[: WEAK.index("\n[[sail]]\n")]
    + """
[[case]]
name = "given"
kind = "given"
line_load = [["0.75 m", "LOAD"], ["5.6 m", "LOAD"]]

[limits]
tip_deflection = "50 %"
"""
)


def governing(text: str) -> Check:
    return check(read_rig(text)).governing


def number_in(pattern: str, advice: str) -> str:
    """Return the number that an advice gives where the pattern has its group."""
    told = re.search(pattern, advice)
    assert told, advice
    return told[1]


def test_the_advised_wall_makes_the_mast_pass(capsys: Capture, tmp_path: Path) -> None:
    file = tmp_path / "weak.toml"
    file.write_text(WEAK, encoding="utf-8")
    code, out, _ = run(capsys, "check", str(file))
    assert code == 1
    first = governing(WEAK)
    assert first.id == "rupture" and first.utilisation > 1.1
    wall = number_in(r"  Cure: .*raise the wall from 1\.8 to about ([0-9.]+) mm", out)
    assert governing(weak(wall)).utilisation == pytest.approx(1.0, rel=0.1)


def test_the_advised_diameter_makes_the_mast_pass() -> None:
    diameter = number_in(r"the diameter from 89 to about ([0-9]+) mm", governing(WEAK).advice)
    assert WEAK.count("88.9 mm") == 2
    after = governing(WEAK.replace("88.9 mm", f"{diameter} mm"))
    assert after.utilisation == pytest.approx(1.0, rel=0.1)


def test_the_advised_cut_of_the_load_makes_the_mast_pass() -> None:
    first = governing(GIVEN.replace("LOAD", "240 N/m"))
    assert first.id == "rupture" and first.utilisation > 1.1
    cut = int(number_in(r"take ([0-9]+)% off the load", first.advice)) / 100
    after = governing(GIVEN.replace("LOAD", f"{240 * (1 - cut)!r} N/m"))
    assert after.utilisation == pytest.approx(1.0, rel=0.1)


@pytest.mark.parametrize("wall", ["1.5", "1.3"])
def test_the_cure_of_a_wall_that_buckles_makes_the_mast_pass(wall: str) -> None:
    """A thicker wall must cure the strength that fails with the buckling, too."""
    first = governing(weak(wall))
    assert first.id == "shell-buckling" and first.utilisation > 1.1
    thicker = number_in(rf"raise the wall from {re.escape(wall)} to about ([0-9.]+) mm", first.advice)
    assert governing(weak(thicker)).utilisation == pytest.approx(1.0, rel=0.1)


def test_the_advised_stiffness_makes_the_mast_pass() -> None:
    limp = WEAK.replace('"50 %"', '"10 %"')
    first = governing(limp)
    assert first.id == "tip-deflection" and first.utilisation > 1.1
    times = float(number_in(r"stiffen the mast ([0-9.]+) times: it bends as 1/wall", first.advice))
    after = governing(limp.replace('wall = "1.8 mm"', f'wall = "{1.8 * times!r} mm"'))
    assert after.utilisation == pytest.approx(1.0, rel=0.1)


@pytest.mark.parametrize("wall", ["1.5", "1.3", "1.0"])
def test_advice_never_asks_for_what_is_there_already(wall: str) -> None:
    failed = [c for c in check(read_rig(STARTER.replace('"3 mm"', f'"{wall} mm"'))).checks if not c.passed]
    assert failed
    for found in failed:
        for was, wanted in re.findall(r"from ([0-9.]+) to about ([0-9.]+) mm", found.advice):
            assert float(wanted) > float(was), found.advice
        assert "1.00 times" not in found.advice
        assert " 0% off" not in found.advice


def test_a_command_run_within_another_program_leaves_its_collector_alone(
    capsys: Capture,
) -> None:
    before = gc.get_threshold(), gc.get_freeze_count()
    assert main(["cases", str(EXAMPLES[0])]) == 0
    assert (gc.get_threshold(), gc.get_freeze_count()) == before


@pytest.mark.parametrize(("words", "code"), [(["cases", "given_loads.toml"], 0), (["cases", "none.toml"], 2)])
def test_a_process_ends_with_the_code_of_its_command(words: list[str], code: int) -> None:
    ran = subprocess.run(
        [sys.executable, "-m", "rigcalc", *words], cwd=EXAMPLES[0].parent, capture_output=True
    )
    assert ran.returncode == code
