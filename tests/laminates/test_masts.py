"""Masts of laminate through the rig file: stiffness, plies, buckling and what would cure them, worked out again."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc import CheckResult, check
from rigcalc.formulas.laminate_tubes import (
    buckling_moment,
    long_orthotropic_torsion_load,
    orthotropic_bending_knockdown,
    orthotropic_slenderness,
    stack_brazier_moment,
)
from rigcalc.materials.laminates import (
    CRITERIA,
    Criterion,
    Lamina,
    Stiffness,
    Wall,
    abd,
    cylinder_buckling,
    find_ply_material,
    first_ply_failure,
    wall_constants,
)
from rigcalc.rig import Case
from tests.materials.plies import wall_of

from . import CARBON, GLASS, WALL, checked, plies, rig_of, worst

PLAIN: dict[str, Any] = {
    "line_load": [["0.8 m", "90 N/m"], ["5 m", "20 N/m"]],
    "point_load": [{"height": "4 m", "side": "60 N", "forward": "0 N"}],
    "axial": "0 N",
    "torque": "0 N m",
    "own_weight_heel": "0 deg",
}
HARD = {"line_load": [["0.8 m", "150 N/m"], ["5 m", "9 N/m"]], "own_weight_heel": "10 deg"}
ANGLES, THICK = (45.0, -45.0, 0.0, -45.0, 45.0), (0.7, 0.7, 3.0, 0.7, 0.7)
UNFACTORED = {"safety_factor": 1, "water": "dry", "cycles": 1}


def wall_alone(times: float = 1.0) -> Stiffness:
    """Return the wall of the tests by itself, thicker or thinner."""
    ply = find_ply_material(GLASS)
    return abd(
        Wall(
            tuple(
                Lamina(ply.of_thickness(t * times / 1e3), math.radians(angle))
                for angle, t in zip(ANGLES, THICK, strict=True)
            )
        )
    )


def at(result: CheckResult, z: float) -> int:
    return int(np.argmin(np.abs(result.stations.height_m - z)))


# --- stiffness and mass --------------------------------------------------------------------------------


def test_stiffness_is_near_that_of_the_wall_as_one_material() -> None:
    result = checked()
    c = wall_constants(wall_alone(), edges="membrane")
    inner, outer = 0.084, 0.084 + 2 * 5.8e-3
    EI = float(c.Ex_Pa) * math.pi / 64 * (outer**4 - inner**4)
    assert result.stations.wall_m[0] == pytest.approx(5.8e-3)
    assert result.stations.diameter_m[0] == pytest.approx(outer)
    # the plies along the mast lie in the middle of the wall: their place makes little
    assert result.stations.EI_N_m2[0] == pytest.approx(EI, rel=0.01)


def test_mass_is_that_of_the_plies() -> None:
    lots = plies((45, 0.7), (-45, 0.7), (0, 2.0), (0, 1.5, {"end": "3 m"}), (0, 0.5, {"start": "1 m"}))
    result = checked(lots, bores=(80, 80, 80))
    density, area = 1775.5, 0.0
    for low, high, t in ((0, 1, 4.9), (1, 3, 5.4), (3, 5, 3.9)):
        area += math.pi / 4 * ((0.08 + 2 * t / 1e3) ** 2 - 0.08**2) * (high - low)
    assert result.mast.mass_kg == pytest.approx(density * area, rel=1e-9)


def test_plies_end_at_their_heights_to_the_millimetre() -> None:
    lots = [*WALL, *plies((0, 1.5, {"end": "2.345 m"}), (0, 1.0, {"start": "1.111 m", "end": "1.777 m"}))]
    stations = checked(lots).stations
    for z, below, above in ((1.111, 7.3, 8.3), (1.777, 8.3, 7.3), (2.345, 7.3, 5.8)):
        here = np.flatnonzero(np.isclose(stations.height_m, z))
        assert here.size == 2, "both values of a step are kept"
        assert stations.wall_m[here] * 1e3 == pytest.approx([below, above])
        assert np.all(np.diff(stations.diameter_m[here]) * (above - below) > 0)


@pytest.mark.parametrize("taper", [(84, 84, 46), (60, 70, 55)])
def test_mandrel_and_outside_say_the_same(taper: tuple[float, float, float]) -> None:
    by_bore = checked(bores=taper)
    stations = [
        {"height": f"{z} m", "diameter": f"{d + 11.6!r} mm"} for z, d in zip((0, 0.9, 5), taper, strict=True)
    ]
    by_outside = checked(mast={"stations": stations})
    for name in ("EI_N_m2", "diameter_m", "wall_m", "deflection_side_m", "utilisation"):
        a, b = getattr(by_bore.stations, name), getattr(by_outside.stations, name)
        assert a == pytest.approx(b, rel=1e-9, abs=1e-12)


def test_wind_meets_the_outside_of_the_plies() -> None:
    """A bare mast in the wind: its drag goes by the diameter over plies and sheaths."""

    def force(**keys: Any) -> float:
        storm = (Case(name="storm", kind="bare", wind_speed_m_s=25.0),)
        (case,) = check(replace(rig_of(WALL, bores=(80, 80, 80), **keys), cases=storm)).cases
        return math.hypot(
            case.partners_side_N + case.step_side_N, case.partners_forward_N + case.step_forward_N
        )

    plain = force()
    sheathed = force(
        mast={"sheath": [{"start": "0.6 m", "end": "5 m", "laminate": "coat"}]},
        more=[{"name": "coat", "plies": plies((0, 4.58))}],
    )
    assert sheathed / plain == pytest.approx((91.6 + 9.16) / 91.6, rel=0.02)


def test_carbon_of_the_same_thickness_is_stiffer_and_lighter() -> None:
    glass = checked()
    carbon = checked([{**lot, "material": CARBON} for lot in WALL])
    assert 2.5 < carbon.stations.EI_N_m2[0] / glass.stations.EI_N_m2[0] < 4.0
    assert carbon.mast.mass_kg / glass.mast.mass_kg == pytest.approx(1600 / 1775.5, rel=1e-9)
    assert carbon.cases[0].tip_deflection_m < 0.4 * glass.cases[0].tip_deflection_m
    assert carbon.mast.natural_frequencies_Hz[0] > 1.6 * glass.mast.natural_frequencies_Hz[0]


# --- plies ---------------------------------------------------------------------------------------------


def strains(result: CheckResult, z: float, outer_m: float) -> float:
    """Return the strain at the outer fibre from the moment of the straight mast."""
    s, i = result.stations, at(result, z)
    return float(math.hypot(s.moment_side_N_m[0, i], s.moment_forward_N_m[0, i]) * outer_m / 2 / s.EI_N_m2[i])


@pytest.mark.parametrize("criterion", ["max-stress", "max-strain", "tsai-hill", "tsai-wu", "hashin"])
def test_first_ply_is_that_of_the_line_loads(criterion: Criterion) -> None:
    """The tube's line load, laid on a wall by itself, both ways."""
    result = checked(bores=(84, 84, 84), case=PLAIN, criterion=criterion, **UNFACTORED)
    found = worst(result, f"ply {criterion}")
    assert found.height_m == pytest.approx(0.6)
    wall = wall_alone()
    c = wall_constants(wall, edges="membrane")
    (case,) = result.cases
    assert case.bent_moment_N_m is not None
    more = max(1.0, case.bent_moment_N_m / case.max_moment_N_m)
    line = strains(result, 0.6, 0.0956) * more * float(c.Ex_Pa * c.wall_m)
    uses = [
        float(first_ply_failure(wall, [way * line, 0.0, 0.0], criterion=criterion, edges="membrane").use)
        for way in (1, -1)
    ]
    # the mast's own weight presses it a little
    assert found.utilisation == pytest.approx(max(uses), rel=0.01)


def test_shear_of_the_bury_counts_at_the_neutral_axis() -> None:
    """A mast so stout that bending is nothing: below the partners the shear force is what is left."""
    short = {"mast": {"bury": "0.06 m"}, "bores": (400, 400, 400), "case": PLAIN, **UNFACTORED}
    result = checked(plies((45, 1.0), (-45, 1.0)), criterion="max-stress", **short)
    found = worst(result, "ply max-stress")
    assert 0.0 <= found.height_m <= 0.06
    (case,) = result.cases
    flow = case.bury_shear_N / (math.pi * 0.201)
    wall = abd(wall_of(find_ply_material(GLASS).of_thickness(1e-3), [45.0, -45.0]))
    use = float(first_ply_failure(wall, [0.0, 0.0, flow], criterion="max-stress", edges="membrane").use)
    assert found.utilisation == pytest.approx(use, rel=0.02)


def test_torque_and_thrust_strain_the_plies_too() -> None:
    base = worst(checked(case=PLAIN), "ply max-strain").utilisation
    assert worst(checked(case={**PLAIN, "torque": "900 N m"}), "ply max-strain").utilisation > base * 1.02
    assert worst(checked(case={**PLAIN, "axial": "4000 N"}), "ply max-strain").utilisation > base * 1.02


def test_every_criterion_asked_is_as_if_asked_alone() -> None:
    together = checked()
    names = [c.id.removeprefix("ply ") for c in together.checks if c.id.startswith("ply ")]
    assert set(names) == set(CRITERIA) - {"tsai-hill-tensile"}
    for name in names:
        alone = checked(criterion=name)
        assert worst(alone, f"ply {name}").utilisation == worst(together, f"ply {name}").utilisation
        assert sum(c.id.startswith("ply ") for c in alone.checks) == 1


@pytest.mark.parametrize(
    ("keys", "times"),
    [
        ({"safety_factor": 2.1}, 1.4),
        ({"cycles": 1e5}, 1000**0.1),
        ({"lasting": "standing"}, 100**-0.1 / 0.2),
        ({"water": "dry"}, 0.8),
        ({"water": "wet-polyester"}, 0.8 / 0.7),
        ({"water": "stated", "water_factor": 0.5}, 1.6),
    ],
)
def test_each_factor_does_what_it_says(keys: dict[str, Any], times: float) -> None:
    base = worst(checked(criterion="max-strain"), "ply max-strain")
    other = worst(checked(criterion="max-strain", **keys), "ply max-strain")
    assert other.utilisation / base.utilisation == pytest.approx(times)
    # shear between plies bears the same factors as the strengths that the resin governs
    assert worst(checked(), "interlaminar").capacity / worst(checked(**keys), "interlaminar").capacity == (
        pytest.approx(times)
    )


def test_stated_strengths_are_the_capacities() -> None:
    keys = {"interlaminar": "20 MPa", "crushing": "50 MPa", "bearing": "12 MPa"}
    left = 0.8 * 100**-0.1 / 1.5
    result = checked(**keys)
    assert worst(result, "interlaminar").capacity == pytest.approx(20e6 * left)
    assert worst(result, "crushing").capacity == pytest.approx(50e6 * left)
    assert worst(result, "bearing").capacity == pytest.approx(12e6)
    # across the fibres of this ply it is 118 MPa at the most
    assert worst(checked(crushing="300 MPa"), "crushing").capacity == pytest.approx(118e6 * left)
    assert worst(checked(), "crushing").capacity == pytest.approx(103e6 * left)


# --- ends of plies -------------------------------------------------------------------------------------


def test_a_ply_hands_its_load_over_where_it_ends() -> None:
    lots = [*WALL, *plies((0, 1.0, {"end": "1.5 m"}))]
    result = checked(lots, bores=(84, 84, 84), case=PLAIN)
    found = worst(result, "interlaminar")
    assert found.height_m == pytest.approx(1.5)
    # below the end the wall is thicker, and the ply still there
    i = int(np.flatnonzero(np.isclose(result.stations.height_m, 1.5))[0])
    s = result.stations
    strain = s.moment_side_N_m[0, i] * s.diameter_m[i] / 2 / s.EI_N_m2[i]
    # the ply lies along the mast, in a wall that shrinks across a little more than it would alone
    assert found.demand == pytest.approx(strain * 38.6e9 / 20, rel=0.04)
    assert worst(checked(bores=(84, 84, 84), case=PLAIN), "interlaminar").demand < found.demand / 3


def test_ends_at_the_tip_and_the_heel_hand_nothing_over() -> None:
    ending = [{**lot, "start": "0 m", "end": "5 m"} for lot in WALL]
    assert worst(checked(ending), "interlaminar").demand == worst(checked(), "interlaminar").demand


# --- buckling and flattening ---------------------------------------------------------------------------


def test_buckling_moment_is_that_of_the_cylinder() -> None:
    result = checked(thicker(WALL, 0.25), bores=(160, 160, 160), case=PLAIN, **UNFACTORED)
    wall = wall_alone(0.25)
    r = 0.08 + float(wall.wall_m) / 2
    A, D = wall.A_N_m, wall.D_N_m
    phi = orthotropic_slenderness(r=r, A_11=A[0, 0], A_22=A[1, 1], D_11=D[0, 0], D_22=D[1, 1])
    N = float(cylinder_buckling(wall, radius_m=r).line_load_N_m)
    capacity = float(buckling_moment(gamma=orthotropic_bending_knockdown(phi=phi), N_cr=N, r=r))
    (case,) = result.cases
    moment = max(case.max_moment_N_m, case.bent_moment_N_m or 0.0)
    found = worst(result, "wall-buckling")
    assert found.height_m == pytest.approx(0.6)
    flow = case.bury_shear_N / (math.pi * r)
    twist = long_orthotropic_torsion_load(A_11=A[0, 0], A_12=A[0, 1], A_22=A[1, 1], D_22=D[1, 1], r=r)
    # one moves with the outer fibre, the other with the middle of the wall, and the mast's weight comes on top
    assert found.utilisation == pytest.approx(moment / capacity + (flow / float(twist)) ** 2, rel=0.03)


def test_flattening_moment_goes_by_the_plies_round_the_mast() -> None:
    result = checked(bores=(84, 84, 84), case=PLAIN, safety_factor=1.5)
    wall = wall_alone()
    c = wall_constants(wall, edges="membrane")
    moment = stack_brazier_moment(E_x=c.Ex_Pa, t=c.wall_m, D_22=wall.D_N_m[1, 1], r=0.0449)
    found = worst(result, "flattening")
    assert found.capacity == pytest.approx(float(moment) / 1.5, rel=1e-9)
    (case,) = result.cases
    assert found.demand == pytest.approx(max(case.max_moment_N_m, case.bent_moment_N_m or 0.0), rel=1e-9)


# --- thicker is safer, and the cure cures --------------------------------------------------------------

half = st.lists(
    st.tuples(st.sampled_from([0.0, 0.0, 20.0, 45.0, 70.0, 90.0]), st.floats(0.2, 1.5)),
    min_size=1,
    max_size=3,
)


def laid(stack: list[tuple[float, float]], times: float) -> list[dict[str, Any]]:
    return [
        lot
        for angle, t in stack
        for turn in ((angle, -angle) if angle % 90 else (angle,))
        for lot in plies((turn, t * times))
    ]


@settings(max_examples=25, deadline=None)
@given(stack=half, times=st.floats(1.05, 2.5))
def test_thicker_is_safer(stack: list[tuple[float, float]], times: float) -> None:
    # with the mast's own weight left out a thicker wall bears no more load
    case = {key: value for key, value in PLAIN.items() if key != "own_weight_heel"} | {"torque": "15 N m"}
    rig_case: dict[str, Any] = {**case}
    thin, thick = (checked(laid(stack, factor), case=rig_case) for factor in (1.0, times))
    for check_of_thin in thin.checks:
        # shear through the wall alone grows as it gets thicker, and stays far below what plies bear
        if check_of_thin.id == "interlaminar":
            continue
        other = worst(thick, check_of_thin.id)
        assert other.utilisation <= worst(thin, check_of_thin.id).utilisation * (1 + 1e-9), other.id


def thicker(lots: list[dict[str, Any]], times: float) -> list[dict[str, Any]]:
    return [{**lot, "thickness": f"{float(lot['thickness'].split()[0]) * times!r} mm"} for lot in lots]


@pytest.mark.parametrize("by", ["bore", "diameter"])
def test_the_plies_advised_are_enough(by: str) -> None:
    """At the same outside or on the same mandrel: the strain comes down as promised."""

    def run(lots: list[dict[str, Any]]) -> CheckResult:
        sizes = (50, 50, 30) if by == "bore" else (60, 60, 40)
        stations = [
            {"height": f"{z} m", by: f"{size} mm"} for z, size in zip((0, 0.9, 5), sizes, strict=True)
        ]
        return checked(lots, mast={"stations": stations}, criterion="tsai-wu", case=HARD)

    found = worst(run(WALL), "ply tsai-wu")
    assert 1.05 < found.utilisation < 2.5
    assert "fails first, in" in found.advice
    (times,) = re.findall(r"lay ([\d.]+) times as much of every ply", found.advice)
    (wall,) = re.findall(r"wall from 5\.8 to about ([\d.]+) mm", found.advice)
    assert float(wall) == pytest.approx(5.8 * float(times), abs=0.11)
    cured = worst(run(thicker(WALL, float(times))), "ply tsai-wu")
    assert cured.passed
    assert cured.utilisation > 0.6, "the advice asks for far more than is needed"


def test_the_diameter_advised_is_enough() -> None:
    found = worst(checked(bores=(50, 50, 30), criterion="tsai-wu", case=HARD), "ply tsai-wu")
    ((old, new),) = re.findall(r"the diameter from (\d+) to about (\d+) mm", found.advice)
    grown = float(new) - float(old)
    wider = (50 + grown, 50 + grown, 30 + grown)
    cured = worst(checked(bores=wider, criterion="tsai-wu", case=HARD), "ply tsai-wu")
    assert 0.6 < cured.utilisation <= 1.0


def test_a_wall_that_no_plies_can_save_is_said_to_want_diameter() -> None:
    found = worst(checked(bores=(24, 24, 20), case={"line_load": [["0.8 m", "150 N/m"], ["5 m", "9 N/m"]]}),
                  "ply tsai-wu")  # fmt: skip
    assert "thicker plies alone do not help enough" in found.advice or "no answer" in found.advice


@pytest.mark.parametrize("id", ["wall-buckling", "flattening"])
def test_the_wall_advised_neither_buckles_nor_flattens(id: str) -> None:
    buckles = id == "wall-buckling"
    thin, bores = thicker(WALL, 0.25 if buckles else 0.1), (160, 160, 120)
    load = "170 N/m" if buckles else "100 N/m"
    case = {**PLAIN, "line_load": [["0.8 m", load], ["5 m", "9 N/m"]]}
    found = worst(checked(thin, bores=bores, case=case), id)
    assert found.utilisation > 1.0
    (times,) = re.findall(r"lay ([\d.]+) times as much of every ply", found.advice)
    cured = worst(checked(thicker(thin, float(times)), bores=bores, case=case), id)
    assert cured.passed
    assert cured.utilisation > 0.5


def test_the_taper_advised_is_enough() -> None:
    lots = [*WALL, *plies((0, 2.0, {"end": "1.5 m"}))]
    found = worst(checked(lots, bores=(50, 50, 30), case=HARD, interlaminar="4 MPa"), "interlaminar")
    assert found.utilisation > 1.0
    ((share, length),) = re.findall(
        r"at most (\d+)% of that here, or in a taper of (\d+) times", found.advice
    )
    assert int(share) / 100 == pytest.approx(1 / found.utilisation, abs=0.01)
    assert int(length) >= 20 * found.utilisation


def test_where_no_ply_ends_the_shear_through_the_wall_wants_more_of_it() -> None:
    hard = {**HARD, "line_load": [["0.8 m", "2400 N/m"], ["5 m", "140 N/m"]]}
    found = worst(
        checked(thicker(WALL, 3.0), bores=(80, 80, 60), case=hard, interlaminar="2 MPa"), "interlaminar"
    )
    assert found.utilisation > 1.0
    assert "end" not in found.advice
    assert re.match(r"lay [\d.]+ times as much of every ply there|raise the diameter", found.advice)


def test_a_ply_across_the_mast_that_cracks_is_told_to_lie_nearer_to_45() -> None:
    """Only one that is pulled across its fibres, and lies steeper than 57 degrees; not what lies along the mast."""
    across = worst(
        checked([*WALL, *plies((90, 0.6))], bores=(60, 60, 40), criterion="max-strain", case=HARD),
        "ply max-strain",
    )
    assert across.utilisation > 1.0
    assert "fails first, in transverse tension" in across.advice
    assert "if laid nearer to 45 deg" in across.advice
    slanted = worst(checked(bores=(50, 50, 30), criterion="max-strain", case=HARD), "ply max-strain")
    assert slanted.utilisation > 1.0
    assert "if laid nearer" not in slanted.advice
