"""The input deck: it says what the check says, to a reader of its own and to an open solver where there is one."""

from __future__ import annotations

import math
import re
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from rigcalc import check, read_rig
from rigcalc.reports.exports import export
from rigcalc.verdict import CAUTIONS, NOT_CHECKED, CaseResult
from rigcalc.version import __version__

from ..test_loads import BURY, LENGTH, SHEAR_PA, case_text, rig_text
from .frame import ALONG, FORWARD, SIDE, TWIST, Answer, Frame, blocks, read, told
from .masts import NAMES, deck, masts, result
from .solver import needs_solver, run

of_each = pytest.mark.parametrize("name", NAMES)


@cache
def frame(name: str) -> Frame:
    return read(deck(name))


@cache
def answers(name: str) -> list[Answer]:
    return frame(name).solve()


def each_case(name: str) -> list[tuple[int, float, CaseResult]]:
    """Return number, turn and result of every case of a deck, in its order."""
    cases = {case.name: case for case in result(name).cases}
    found = [(i, turn, cases[case]) for i, (case, turn) in enumerate(told(deck(name)))]
    assert {case.name for _, _, case in found} == set(cases)
    return found


def in_boat(x: float, y: float, turn: float) -> tuple[float, float]:
    """Return a vector of the deck (forward, to leeward) in the boat's axes, as the deck says to."""
    return x * math.cos(turn) - y * math.sin(turn), y * math.cos(turn) + x * math.sin(turn)


def forces_on_mast(case: CaseResult) -> list[tuple[float, float]]:
    """Return what holds the mast below and above, forward and to leeward."""
    return [
        (case.step_forward_N, case.step_side_N),
        (case.partners_forward_N, case.partners_side_N),
    ]


def supports(name: str, i: int) -> list[int]:
    """Return the nodes that hold the mast sideways in a case, the lower first."""
    nodes = {node for node, dof in frame(name).cases[i].held if dof == SIDE}
    assert nodes == {node for node, dof in frame(name).cases[i].held if dof == FORWARD}
    assert nodes <= set(frame(name).sets["HELD"])
    return sorted(nodes, key=lambda node: frame(name).z_m[node])


# --- what is in it ------------------------------------------------------------------------------


@of_each
def test_it_says_what_a_reader_must_know(name: str) -> None:
    comments = " ".join(line[3:] for line in deck(name).splitlines() if line.startswith("** "))
    for text in (
        *CAUTIONS,
        NOT_CHECKED,
        "Units: m, N, Pa.",
        "x forward, y to leeward, z up",
        "Poisson's ratio",
    ):
        assert text in comments
    heading, *_ = blocks(deck(name))
    assert heading.keyword == "HEADING"
    assert heading.rows == ((f"rigcalc {__version__}: mast as beam elements",),)
    assert max(map(len, deck(name).splitlines())) <= 120
    assert ("axes of this deck are its own" in comments) == (name == "box")


def test_names_that_are_not_plain_stand_in_comments_alone() -> None:
    # names of cases are free text of one line
    text = rig_text(more=case_text("given", 'axial = "1 N"', 'torque = "3 N m"', name="Böe, *STEP é"))
    found = export(read_rig(text), to="inp")
    assert found.isascii()
    assert r"** CASE: B\xf6e, *STEP \xe9" in found
    assert [name for name, _ in told(found)] == [r"B\xf6e, *STEP \xe9"]
    assert len(read(found).cases) == 1


@of_each
def test_force_and_moment_of_every_case(name: str) -> None:
    """What bearings hold up, as the check has it, is what the deck puts on."""
    bury = masts()[name].mast.bury_m
    for i, turn, case in each_case(name):
        heights = (0.0, bury)
        if case.kind == "lift":
            heights = tuple(frame(name).z_m[node] for node in supports(name, i))
        (low_x, low_y), (high_x, high_y) = forces_on_mast(case)
        held = np.array([low_x + high_x, low_y + high_y])
        about = heights[0] * np.array([low_x, low_y]) + heights[1] * np.array([high_x, high_y])
        total = in_boat(frame(name).total(i, FORWARD), frame(name).total(i, SIDE), turn)
        moment = in_boat(frame(name).total(i, FORWARD, True), frame(name).total(i, SIDE, True), turn)
        scale = max(case.partners_force_N, case.step_force_N)
        assert np.abs(np.array(total) + held).max() <= 1e-9 * scale
        assert np.abs(np.array(moment) + about).max() <= 1e-9 * scale * LENGTH
        assert frame(name).total(i, ALONG) == pytest.approx(-case.step_thrust_N, rel=1e-9, abs=1e-9)
        assert frame(name).total(i, TWIST) == pytest.approx(case.torque_N_m, rel=1e-9, abs=1e-12)


def test_weight_is_among_the_forces() -> None:
    """On two slings nothing but the weight acts, times the factor of the case."""
    (i,) = (i for i, _, case in each_case("round") if case.name == "level")
    whole = result("round").mast.mass_kg * 9.80665
    assert frame("round").total(i, SIDE) == pytest.approx(1.5 * whole, rel=1e-9)
    middle = frame("round").total(i, SIDE, True) / frame("round").total(i, SIDE)
    assert middle == pytest.approx(result("round").mast.centre_of_gravity_m, rel=1e-9)


def test_an_even_mast_is_one_stretch_and_a_stepped_one_few() -> None:
    assert len(frame("round").sections) == 1
    # two steps, and two sleeves that begin below them
    assert len(frame("stepped").sections) == 5


@of_each
def test_its_sections_are_slim_alike_and_of_no_poissons_ratio(name: str) -> None:
    sizes = {tuple(sizes) for _, _, *sizes in frame(name).sections.values()}
    assert {nu for _, nu, *_ in frame(name).sections.values()} == {0.0}
    if name != "box":
        ((along_x, along_y),) = sizes
        assert along_x == along_y < BURY / 30
    areas = [along_x * along_y for along_x, along_y in sizes]
    assert areas == pytest.approx([areas[0]] * len(areas), rel=1e-9)


@pytest.mark.parametrize("name", ["soft bearings", "post"])
def test_springs_are_those_of_the_file(name: str) -> None:
    found = {(dof, round(stiffness, 3)) for _, _, dof, stiffness in frame(name).springs}
    if name == "soft bearings":
        assert found == {(dof, k) for dof in (FORWARD, SIDE) for k in (9e5, 4e5)}
    else:
        post = result(name).post[0]
        give = post.top_force_N / post.top_deflection_m
        assert sorted(found) == [(dof, pytest.approx(give, rel=1e-6)) for dof in (FORWARD, SIDE)]


def test_the_give_of_shear_by_hand() -> None:
    """A load at the tip: V a/(k G A) of the part above, and the tilt by the part in the bury."""
    text = rig_text(
        stations=((0.0, 0.12, 0.004), (LENGTH, 0.12, 0.004)),
        more=case_text(
            "given", f'point_load = [{{height = "{LENGTH!r} m", side = "200 N", forward = "0 N"}}]'
        ),
    )
    comments = export(read_rig(text), to="inp").replace("\n** ", " ")
    ((told_m, percent),) = re.findall(r"would add about (\S+) m \((\S+) %\)", comments)
    above = LENGTH - BURY
    area = math.pi / 4 * (0.12**2 - 0.112**2)
    by_hand = 200 * above / (0.5 * SHEAR_PA * area) * (1 + above / BURY)
    assert float(told_m) == pytest.approx(by_hand, rel=1e-3)
    tip = check(read_rig(text)).cases[0].tip_deflection_m
    assert float(percent) == pytest.approx(100 * by_hand / tip, abs=0.006)


# --- solved --------------------------------------------------------------------------------------


def limits(case: CaseResult) -> tuple[float, float]:
    """Return what forces and tip may differ by: half a per cent."""
    return 5e-3 * max(case.partners_force_N, case.step_force_N), 5e-3 * case.tip_deflection_m


@of_each
def test_a_frame_solver_finds_the_forces_and_the_tip_of_the_check(name: str) -> None:
    (tip,) = frame(name).sets["TIP"]
    stations = result(name).stations
    for i, turn, case in each_case(name):
        answer = answers(name)[i]
        small_N, small_m = limits(case)
        for node, expected in zip(supports(name, i), forces_on_mast(case), strict=True):
            found = in_boat(answer.reaction[node, FORWARD], answer.reaction[node, SIDE], turn)
            # statics alone: no half per cent is needed, only what rounding takes
            assert found == pytest.approx(expected, abs=1e-4 * small_N)
        at = stations.cases.index(case.name)
        expected = stations.deflection_forward_m[at, -1], stations.deflection_side_m[at, -1]
        moved = in_boat(answer.moved[tip, FORWARD], answer.moved[tip, SIDE], turn)
        assert moved == pytest.approx(expected, abs=small_m)
        assert math.hypot(*moved) == pytest.approx(case.tip_deflection_m, abs=small_m)
        # a mast that stands agrees much closer: most of its load is at its ends and kinks
        if case.kind != "lift":
            assert math.hypot(*moved) == pytest.approx(case.tip_deflection_m, rel=3e-4)


@of_each
def test_what_the_comments_say_of_the_check_is_what_it_says(name: str) -> None:
    numbers = re.findall(r"x (\S+) (?:N|m), y (\S+) (?:N|m)$", deck(name), re.MULTILINE)
    found = [(float(x), float(y)) for x, y in numbers]
    assert len(found) == 3 * len(frame(name).cases)
    stations = result(name).stations
    for i, turn, case in each_case(name):
        at = stations.cases.index(case.name)
        tip = stations.deflection_forward_m[at, -1], stations.deflection_side_m[at, -1]
        for (x, y), expected in zip(found[3 * i : 3 * i + 3], (*forces_on_mast(case), tip), strict=True):
            assert in_boat(x, y, turn) == pytest.approx(expected, rel=1e-9, abs=1e-9)


@needs_solver
@of_each
def test_an_open_solver_finds_the_forces_and_the_tip_of_the_check(name: str, tmp_path: Path) -> None:
    steps = run(deck(name), tmp_path)
    (tip,) = frame(name).sets["TIP"]
    assert len(steps) == len(frame(name).cases)
    for i, turn, case in each_case(name):
        small_N, small_m = limits(case)
        forces, loads = steps[i]["forces", "HELD"], frame(name).cases[i].loads
        for node, expected in zip(supports(name, i), forces_on_mast(case), strict=True):
            # as the deck says: what is printed has the load on the node in it
            x, y = (forces[node][dof] - loads.get((node, dof), 0.0) for dof in (FORWARD, SIDE))
            assert in_boat(x, y, turn) == pytest.approx(expected, abs=small_N)
        x, y, _ = steps[i]["displacements", "TIP"][tip]
        assert math.hypot(x, y) == pytest.approx(case.tip_deflection_m, abs=small_m)
        thrust = sum(
            steps[i]["forces", "HELD"][node][ALONG] for node in frame(name).sets["HELD"] if node <= tip
        )
        on_them = sum(loads.get((node, ALONG), 0.0) for node in frame(name).sets["HELD"])
        assert thrust - on_them == pytest.approx(case.step_thrust_N, abs=max(small_N, 1e-3))


def _true_outline(name: str, nu: float) -> str:
    """Return a deck with one modulus, solid squares that grow and shrink with EI, and a Poisson's ratio."""
    E = 70e9
    lines = deck(name).splitlines()
    for i, line in enumerate(lines):
        if line == "*ELASTIC":
            modulus = float(lines[i + 1].split(",")[0])
            lines[i + 1] = f"{E:.12E}, {nu}"
        elif line.startswith("*BEAM SECTION"):
            side = float(lines[i + 1].split(",")[0]) * (modulus / E) ** 0.25
            lines[i + 1] = f"{side:.12E}, {side:.12E}"
    return "\n".join(lines) + "\n"


@needs_solver
def test_the_trap_that_the_deck_warns_of_is_there(tmp_path: Path) -> None:
    """A finely stepped taper with Poisson's ratio comes out too stiff; without it, it does not."""
    (tip,) = frame("staves").sets["TIP"]
    _, _, case = each_case("staves")[0]
    moved = {}
    for nu in (0.0, 0.33):
        step = run(_true_outline("staves", nu), tmp_path)[0]
        x, y, _ = step["displacements", "TIP"][tip]
        moved[nu] = math.hypot(x, y) / case.tip_deflection_m
    assert moved[0.0] == pytest.approx(1.0, abs=5e-3)
    assert moved[0.33] < 0.95
