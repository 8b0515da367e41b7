"""Boats and masts at the edge of sense: each has an answer, or is refused, and none is called safe by accident."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from rigcalc import check
from rigcalc.cli import main
from rigcalc.design import case_list, reefing_table
from rigcalc.formulas import Working
from rigcalc.loads import case_loads
from rigcalc.loads.heel import gust_swing, steady_heel
from rigcalc.rigfile import load_rig, read_rig
from rigcalc.structure.beam import Supports
from rigcalc.structure.large import Pull, solve_large
from rigcalc.verdict.model import build_model

from .loads_more import BOAT, MAIN, MAST, TUBE, G, rig, rig_file
from .structure_more.test_supports_and_pulls import bent_by_shooting, like, mesh_of

WEIGHT = 500.0 * G


def table(*entries: tuple[float, float]) -> str:
    rows = ", ".join(f'["{heel} deg", "{arm} m"]' for heel, arm in entries)
    return f"[boat.stability]\nrighting_arm = [{rows}]\n"


def written(tmp_path: Path, text: str) -> str:
    path = tmp_path / "boat.toml"
    path.write_text(text, encoding="utf-8")
    return str(path)


LIMP = (
    MAST.replace('length = "6 m"', 'length = "12 m"')
    .replace('height = "6 m"', 'height = "12 m"')
    .replace('"80 mm"', '"45 mm"')
    .replace('wall = "3 mm"', 'wall = "2 mm"')
)


def test_a_mast_that_fails_under_its_own_weight_stands_no_wind() -> None:
    (state,) = reefing_table(rig(MAIN, mast=LIMP)).states
    assert state.mast_m_s == 0.0
    assert state.first == "mast"


def test_a_boat_laid_flat_by_the_wind_asked_for_is_not_called_safe(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    early = table((0, 0), (15, 0.15), (30, 0.26), (45, 0.25), (70, 0))
    path = written(tmp_path, rig_file(MAIN, stability=early))
    assert main(["reef", path, "--wind", "45 kn", "--json"]) == 0
    (entry,) = json.loads(capsys.readouterr().out)["states"]
    assert entry["lost_in_gust"] is True
    assert main(["reef", path, "--wind", "45 kn"]) == 0
    row = next(line for line in capsys.readouterr().out.splitlines() if line.startswith("all sail  "))
    assert row.split()[-3:-1] == ["lost", "lost"]


STEEP_THEN_FLAT = table((0, 0), (4, 0.2), (30, 0.2), (60, 0.1), (90, 0.05), (100, 0))


def test_a_slow_swing_is_followed_to_its_end() -> None:
    boat = rig(stability=STEEP_THEN_FLAT)
    heels, arms = np.array(boat.boat.stability.righting_arm).T
    gust = 1.05 * WEIGHT * 0.2

    def spare(heel: float) -> float:
        found, _ = quad(
            lambda p: gust * np.cos(p) - WEIGHT * np.interp(p, heels, arms),
            0.0,
            heel,
            points=[h for h in heels if 0 < h < heel],
            limit=200,
        )
        return found

    by_areas = brentq(spare, 0.5, np.radians(89.0))
    found = gust_swing(boat, before_N_m=0.0, gust_N_m=gust, mast_inertia_kg_m2=100.0, working=Working())
    assert found == pytest.approx(by_areas, rel=1e-5)


@pytest.mark.parametrize("damping", [0.1, 0.3, 0.5])
def test_a_gust_never_heels_her_less_than_the_same_wind_held(damping: float) -> None:
    boat = rig(stability=STEEP_THEN_FLAT)
    boat = replace(boat, boat=replace(boat.boat, roll_damping=damping))
    gust = 1.05 * WEIGHT * 0.2
    held = steady_heel(boat, gust, Working())
    found = gust_swing(boat, before_N_m=0.0, gust_N_m=gust, mast_inertia_kg_m2=100.0, working=Working())
    assert held is not None and held.heel_rad is not None and found is not None
    assert found >= held.heel_rad * (1 - 1e-6)


SLUNG_BY_THE_TIP = '[[case]]\nname = "sling"\nkind = "lift"\nlower_height = "1 m"\nupper_height = "6 m"\n'


def test_a_sling_at_the_tip_is_refused(tmp_path: Path) -> None:
    assert main(["check", written(tmp_path, rig_file(SLUNG_BY_THE_TIP))]) == 2


@pytest.mark.parametrize("centre", ["0.0 m", "-0.2 m"])
def test_a_low_centre_of_gravity_asks_no_negative_or_endless_ballast(centre: str, tmp_path: Path) -> None:
    boat = BOAT.replace('waterline = "0.40 m"', 'waterline = "0.5 m"') + f'centre_of_gravity = "{centre}"\n'
    path = written(tmp_path, rig_file(boat=boat))
    code = main(["check", path, "--json"])
    assert code in (0, 1, 2)
    if code != 2:
        assert check(load_rig(path)).mast.stability_cost.ballast_kg > 0.0


def test_cases_refuses_what_check_refuses(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = written(tmp_path, rig_file(MAIN, stability=table((0, 0), (1, 1e-8), (30, 0.26))))
    assert main(["check", path]) == 2
    assert main(["cases", path]) == 2


@pytest.mark.parametrize(
    ("toward", "pull"),
    [((0.0, 0.0), 6.0), ((0.0, 0.3), 6.0), ((0.25, 0.25), 6.0), ((-0.25, 0.25), 6.0), ((0.4, 0.4), 8.0)],
)
def test_a_strong_pull_has_its_equilibrium(toward: tuple[float, float], pull: float) -> None:
    bury, mesh = 0.12, mesh_of(0.12)
    zero = like(mesh, 0.0)
    found = solve_large(
        mesh,
        like(mesh, 1.0)[None],
        np.stack([like(mesh, 1.2), zero, zero])[:, None],
        np.zeros((3, 1, mesh.edges_m.size)),
        Supports(bury),
        pulls=(Pull(0, mesh.edges_m.size - 1, pull, (toward[0], 0.0, toward[1])),),
    )
    leeward, _, _ = bent_by_shooting(bury, 1.0, line=1.2, pull=pull, toward=toward)
    assert bool(found.converged[0])
    assert found.position_m[0, 0, -1, -1] == pytest.approx(leeward, rel=1e-6)


@pytest.mark.parametrize("name", ["trailer_sailer_4m6", "sharpie_5m2"])
def test_a_pull_steadies_the_mast_no_more_than_it_does_in_its_own_plane(name: str) -> None:
    made = load_rig(f"examples/{name}.toml")
    model = build_model(made, case_loads(made, made.cases, Working()))
    assert model.pulls
    for pull in model.pulls:
        height = float(model.mesh.edges_m[pull.edge])

        def side(across: np.ndarray, pull: Pull = pull, height: float = height) -> np.ndarray:
            arm = np.array(pull.toward_m) - [*across, height]
            return (pull.force_N * arm / np.linalg.norm(arm))[:2]

        step = 1e-6
        matrix = np.array([(side(-step * e) - side(step * e)) / (2 * step) for e in np.eye(2)])
        weakest = float(np.linalg.eigvalsh(matrix)[0])
        assert model.restoring_N_m[pull.case, pull.edge] <= weakest * (1 + 1e-6)


LIMP_LIFT = """
title = "limp"
[boat]
displacement = "640 kg"
waterline = "0.35 m"
lateral_centre = "-0.2 m"
[boat.stability]
moment_max = "2400 N m"
[mast]
length = "12 m"
bury = "1 m"
material = "limp"
stations = [{height = "0 m", diameter = "20 mm", wall = "9 mm"}, {height = "12 m", diameter = "20 mm", wall = "9 mm"}]
[[material]]
name = "limp"
family = "metal"
E = "1 GPa"
G = "0.385 GPa"
nu = 0.3
density = "8000 kg/m3"
proof = "2500 MPa"
ultimate = "3500 MPa"
source = "invented"
[[case]]
name = "sling"
kind = "lift"
lower_height = "4 m"
upper_height = "8 m"
"""


def test_a_lift_without_equilibrium_does_not_pass() -> None:
    made = read_rig(LIMP_LIFT)
    result = check(made)
    assert any("cannot pass" in w for w in result.warnings)
    assert not result.passed


def test_sway_past_a_tenth_of_a_diameter_keeps_in_step_over_more_of_the_mast() -> None:
    # EN 1991-1-4 Table E.4, from memory: six diameters below a sway of 0.1 D, 4.8 + 12 y/D to 0.6 D
    lively = MAST.replace('bury = "1 m"', 'bury = "1 m"\ndamping = 0.007')
    found = check(rig(mast=lively)).mast.vortex_shedding[0]
    above, D = TUBE.length - TUBE.bury, TUBE.diameter

    def over_diameter(correlation: float) -> float:
        share = correlation * D / above
        in_step = min(3 * share * (1 - share + share**2 / 3), 0.6)
        return 0.13 * in_step * 0.7 / (0.18**2 * found.scruton)

    sway = over_diameter(6.0)
    assert 0.1 < sway < 0.6
    for _ in range(200):
        sway = over_diameter(4.8 + 12 * sway)
    assert found.sway_m is None or found.sway_m == pytest.approx(sway * D, rel=1e-6)


def test_the_list_of_states_tells_all_sail_once() -> None:
    whole = '[[state]]\nname = "both sails"\nset = {main = 1}\n'
    states = case_list(rig(MAIN, whole)).states
    assert len({s.area_m2 for s in states}) == len(states)
