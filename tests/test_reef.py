"""The reefing table: each wind it tells is one at which the check agrees, and it says what it cannot tell.

The winds are checked through the front door: a rig file with one case that puts the same load on the mast.
"""

from __future__ import annotations

import io
import json
import subprocess
import sys
from functools import cache
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from rigcalc import check
from rigcalc.cli import main
from rigcalc.design import ReefingTable, StateLimits, reefing_table
from rigcalc.formulas import Working
from rigcalc.loads import case_loads
from rigcalc.reports.reef import reefing_json, reefing_screen

from .loads_more import BOAT, GZ, MAIN, MAST, ONE_REEF, TWO_REEFS, G, rig, rig_file

ROOT = Path(__file__).resolve().parents[1]
RM30 = 500.0 * G * 0.26
RM_MAX = 500.0 * G * 0.31
MEMBRANE = MAIN.replace('load_path = "luff"', 'load_path = "membrane"')
LAW = '[wind]\nprofile = "power-law"\n'
NO_BEAM = BOAT.replace('beam = "1.80 m"', "")
MOMENTS = '[boat.stability]\nmoment_30 = "1275 N m"\nmoment_max = "1520 N m"\n'
EARLY = """
[boat.stability]
righting_arm = [
  ["0 deg", "0 m"], ["15 deg", "0.15 m"], ["30 deg", "0.26 m"], ["45 deg", "0.25 m"], ["70 deg", "0 m"],
]
"""
WALL_SIDED = '[boat.stability]\ngm = "0.55 m"\nbm = "0.6 m"\n'


EASY = '[[case]]\nname = "flat"\nkind = "knockdown"\n'
"""One quick case for the file; the table's own loads do not come from the cases."""


@cache
def table(
    *parts: str, stability: str = GZ, boat: str = BOAT, mast: str = MAST, wind_m_s: float = 8.0
) -> ReefingTable:
    return reefing_table(rig(*parts, EASY, stability=stability, boat=boat, mast=mast), wind_m_s=wind_m_s)


def greatest(*parts: str) -> float:
    return check(rig(*parts)).governing.utilisation


def known(value: float | None) -> float:
    assert value is not None
    return float(value)


# --- the winds -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("sail", "wind", "state"),
    [
        (MAIN, "", "all sail"),
        (MAIN, "", "one reef"),
        (MEMBRANE, "", "one reef"),
        (MEMBRANE, LAW, "all sail"),
    ],
)
def test_at_the_winds_told_for_the_mast_it_is_used_to_the_full(sail: str, wind: str, state: str) -> None:
    (found,) = (s for s in table(wind, sail, ONE_REEF).states if s.name == state)
    mast, rm30, running = known(found.mast_m_s), known(found.rm30_m_s), known(found.running_m_s)
    of_state = "" if state == "all sail" else f'\nstate = "{state}"'
    # heeling moment grows as the square of the wind, and at 30 deg a cosine of it is left: the moment that
    # a case needs to put this wind's pressure on the sails
    moment = float(RM30 / np.cos(np.pi / 6) * (mast / rm30) ** 2)
    case = '[[case]]\nname = "beat"\nkind = "heel-limited"\nbasis = "moment"\n' + of_state
    assert greatest(wind, sail, ONE_REEF, case + f'\nmoment = "{moment!r} N m"') == pytest.approx(
        1.0, abs=1e-4
    )
    case = '[[case]]\nname = "run"\nkind = "wind-limited"\n' + of_state
    assert greatest(wind, sail, ONE_REEF, case + f'\nwind_speed = "{running!r} m/s"') == pytest.approx(
        1.0, abs=1e-4
    )


@pytest.mark.parametrize("falloff", [("cos", 1.0), ("cos1.3", 1.3), ("cos2", 2.0)])
def test_in_the_winds_told_for_the_boat_heeling_is_her_righting_moment(falloff: tuple[str, float]) -> None:
    law, power = falloff
    wind = f'[wind]\nheel_falloff = "{law}"\n'
    (found,) = table(wind, MAIN).states
    for speed, righting, heel in (
        (found.rm30_m_s, RM30, np.radians(30.0)),
        (found.rm_max_m_s, RM_MAX, np.radians(45.0)),
    ):
        # the same wind from the same angle over a boat lying still, upright
        case = (
            '[[case]]\nname = "reach"\nkind = "wind-limited"\ntrue_wind_angle = "30 deg"\ngust = "none"\n'
            "dynamic_factor = 1\n"
            f'wind_speed = "{known(speed)!r} m/s"'
        )
        made = rig(wind, MAIN, case)
        (load,) = case_loads(made, made.cases, Working())
        upright = load.applied.moment(made.boat.lateral_centre_m)[0]
        assert upright * np.cos(heel) ** power == pytest.approx(righting, rel=1e-9)


def test_she_lies_at_30_deg_in_the_wind_told_for_it() -> None:
    (at_10,) = table(MAIN).states
    (at_rm30,) = table(MAIN, wind_m_s=known(at_10.rm30_m_s)).states
    assert known(at_rm30.heel_rad) == pytest.approx(np.radians(30.0), abs=1e-6)


WINDS = ("mast_m_s", "rm30_m_s", "rm_max_m_s", "running_m_s")


def test_more_sail_less_wind() -> None:
    states = table(MEMBRANE, ONE_REEF, TWO_REEFS).states
    assert [s.name for s in states] == ["all sail", "one reef", "two reefs"]
    for more, less in pairwise(states):
        assert more.area_m2 > less.area_m2
        assert more.centre_m > less.centre_m
        for name in WINDS:
            assert getattr(more, name) < getattr(less, name)
        assert known(more.heel_rad) > known(less.heel_rad)
        assert known(more.gust_heel_rad) > known(less.gust_heel_rad)


def test_areas_are_the_shares_of_the_states() -> None:
    full = 4.2 * 2.0 / 2
    assert [s.area_m2 for s in table(MAIN, ONE_REEF).states] == pytest.approx([full, 0.7 * full], rel=1e-9)


def test_the_first_limit_is_the_one_of_least_wind() -> None:
    winds = {"mast": "mast_m_s", "RM30": "rm30_m_s", "RM max": "rm_max_m_s"}
    seen = set()
    weak = MAST.replace('diameter = "80 mm"', 'diameter = "62 mm"')
    for mast in (MAST, weak):
        (state,) = table(MAIN, mast=mast).states
        told = {name: known(getattr(state, field)) for name, field in winds.items()}
        assert state.first == min(told, key=lambda name: told[name])
        seen.add(state.first)
    assert seen == {"mast", "RM30"}


def test_a_weaker_mast_stands_less_wind_and_the_boat_the_same() -> None:
    weak = MAST.replace('diameter = "80 mm"', 'diameter = "62 mm"')
    (strong,), (slim,) = table(MAIN).states, table(MAIN, mast=weak).states
    assert known(slim.mast_m_s) < known(strong.mast_m_s)
    assert known(slim.running_m_s) < known(strong.running_m_s)
    # a slimmer spar catches a little less wind itself
    assert slim.rm30_m_s == pytest.approx(strong.rm30_m_s, rel=0.01)


def test_a_state_that_sets_all_sail_is_not_told_twice() -> None:
    whole = '[[state]]\nname = "whole"\nset = {main = 1}\n'
    assert [s.name for s in table(MAIN, whole, ONE_REEF).states] == ["whole", "one reef"]
    (by_state, *_), (by_default, *_) = table(MAIN, whole, ONE_REEF).states, table(MAIN, ONE_REEF).states
    assert vars(by_state) | {"name": ""} == vars(by_default) | {"name": ""}


# --- what cannot be told -------------------------------------------------------------------------


def test_what_the_data_do_not_give_is_none() -> None:
    (all_known,) = table(MAIN).states
    assert None not in vars(all_known).values()

    def missing(found: StateLimits) -> set[str]:
        return {name for name, value in vars(found).items() if value is None}

    (no_beam,) = table(MAIN, boat=NO_BEAM).states
    assert missing(no_beam) == {"gust_heel_rad"}
    (moments,) = table(MAIN, stability=MOMENTS).states
    assert missing(moments) == {"heel_rad", "no_return_rad", "gust_heel_rad"}
    (wall_sided,) = table(MAIN, stability=WALL_SIDED, wind_m_s=4.0).states
    assert missing(wall_sided) == {"rm_max_m_s", "no_return_rad"}
    only_max = '[boat.stability]\nmoment_max = "1520 N m"\n'
    (found,) = table(MAIN, stability=only_max).states
    assert missing(found) == {"rm30_m_s", "heel_rad", "no_return_rad", "gust_heel_rad"}


def test_the_notes_say_what_is_missing_and_what_would_cure_it() -> None:
    def notes(*parts: str, stability: str = GZ, boat: str = BOAT) -> str:
        return " ".join(table(*parts, stability=stability, boat=boat).notes)

    complete = notes(MAIN)
    for words in ("boat.beam", "righting_arm", "stability data end"):
        assert words not in complete
    assert "give boat.beam, or boat.roll_gyration" in notes(MAIN, boat=NO_BEAM)
    assert "give boat.stability.righting_arm, or gm and bm" in notes(MAIN, stability=MOMENTS)
    assert "The stability data end at 30 deg" in notes(MAIN, stability=WALL_SIDED)


# --- command line --------------------------------------------------------------------------------


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "boat.toml"
    path.write_text(rig_file(MAIN, EASY), encoding="utf-8")
    return path


def written(tmp_path: Path, *parts: str, stability: str = GZ, boat: str = BOAT) -> str:
    path = tmp_path / "other.toml"
    path.write_text(rig_file(*parts, EASY, stability=stability, boat=boat), encoding="utf-8")
    return str(path)


def test_the_screen_has_every_state_with_its_winds_in_knots(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["reef", written(tmp_path, MAIN, ONE_REEF), "--wind", "16 kn"]) == 0
    text = capsys.readouterr().out
    assert "heel and gust for 16 kn, gusting to 1.33 times that" in text
    states = table(MAIN, ONE_REEF, wind_m_s=16 * 1852 / 3600).states
    for state in states:
        row = next(line for line in text.splitlines() if line.startswith(f"{state.name}  "))
        cells = row[len(state.name) :].split()
        expected = [
            f"{state.area_m2:.1f}",
            f"{state.centre_m:.2f}",
            *(f"{getattr(state, name) * 3600 / 1852:.1f}" for name in WINDS),
            *(
                f"{np.degrees(known(angle)):.0f}"
                for angle in (state.heel_rad, state.gust_heel_rad, state.no_return_rad)
            ),
        ]
        assert cells == expected
    assert all(len(line) <= 120 for line in text.splitlines())
    assert "A falling mast can kill or maim" in text


def refuse_constant(text: str) -> float:
    raise AssertionError(f"{text} is not JSON")


@pytest.mark.parametrize(
    ("boat", "stability", "wind_m_s"),
    [(BOAT, GZ, 8.0), (BOAT, EARLY, 9.0), (NO_BEAM, GZ, 8.0), (BOAT, MOMENTS, 8.0), (BOAT, WALL_SIDED, 12.0)],
)
def test_the_json_is_strict_and_says_null_where_it_does_not_know(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], boat: str, stability: str, wind_m_s: float
) -> None:
    path = written(tmp_path, MAIN, boat=boat, stability=stability)
    assert main(["reef", path, "--wind", f"{wind_m_s} m/s", "--json"]) == 0
    document = json.loads(capsys.readouterr().out, parse_constant=refuse_constant)
    found = table(MAIN, boat=boat, stability=stability, wind_m_s=wind_m_s).states
    for entry, state in zip(document["states"], found, strict=True):
        lost = state.gust_heel_rad == np.inf
        assert entry.pop("lost_in_gust") is lost
        assert entry.pop("lost_in_wind") is (state.heel_rad == np.inf)
        assert entry == vars(state) | ({"gust_heel_rad": None} if lost else {})


def test_a_boat_lost_in_the_gust_is_said_to_be_lost() -> None:
    (state,) = table(MAIN, stability=EARLY, wind_m_s=9.0).states
    found = table(MAIN, stability=EARLY, wind_m_s=0.95 * known(state.rm_max_m_s))
    (entry,) = json.loads(reefing_json(found))["states"]
    assert entry["heel_rad"] is not None
    assert entry["lost_in_gust"] is True
    row = next(line for line in reefing_screen(found).splitlines() if line.startswith("all sail  "))
    assert "lost" in row.split()


BAD_WINDS = ["20", "fast", "0 kn", "-5 kn", "200 kn", "61 m/s", "nan m/s", "inf m/s", "1e400 m/s", "20 m", ""]


@pytest.mark.parametrize("wind", BAD_WINDS)
def test_a_bad_wind_is_refused(file: Path, capsys: pytest.CaptureFixture[str], wind: str) -> None:
    assert main(["reef", str(file), f"--wind={wind}"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("rigcalc: --wind ")
    assert len(err.splitlines()) == 1


def test_the_strongest_wind_is_allowed(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["reef", str(file), "--wind", "60 m/s"]) == 0
    assert capsys.readouterr().err == ""


def test_a_rig_without_sails_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["reef", written(tmp_path)]) == 2
    out, err = capsys.readouterr()
    assert out == "" and "there is no [[sail]] to reef" in err


def test_a_missing_or_broken_file_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["reef", str(tmp_path / "none.toml")]) == 2
    assert "Check the path" in capsys.readouterr().err
    (tmp_path / "broken.toml").write_text("title = ", encoding="utf-8")
    assert main(["reef", str(tmp_path / "broken.toml")]) == 2
    assert "rigcalc: " in capsys.readouterr().err


def test_a_dash_reads_standard_input_and_force_5_is_the_default_wind(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], file: Path
) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(file.read_bytes()), encoding="utf-8"))
    assert main(["reef", "-", "--json"]) == 0
    # without --wind: the top of force 5
    assert capsys.readouterr().out == reefing_json(table(MAIN, wind_m_s=10.7))


LIST_IMPORTS = """\
import sys
from rigcalc.cli import main
code = main(sys.argv[1:])
heavy = [name for name in ("numpy", "scipy", "sympy", "matplotlib") if name in sys.modules]
print(code, *heavy, file=sys.stderr)
"""


@pytest.mark.parametrize(
    ("command", "said"),
    [
        ("--help", "0"),
        ("check FILE --json", "0 numpy"),
        ("cases FILE", "0 numpy"),
    ],
)
def test_a_command_imports_no_more_than_it_needs(tmp_path: Path, command: str, said: str) -> None:
    # feet and pounds bring scipy in for their factors: the file and the answer keep to SI here
    path = written(tmp_path, MAIN)
    words = [path if word == "FILE" else word for word in command.split()]
    run = subprocess.run(
        [sys.executable, "-c", LIST_IMPORTS, *words],
        cwd=ROOT,
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=120,
        check=True,
    )
    assert run.stderr.splitlines()[-1] == said
