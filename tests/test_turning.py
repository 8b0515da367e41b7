"""Bearings, thrust, hull loads and furling through the rig file: by hand, by balance, and by following the cures."""

from __future__ import annotations

import json
import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings

from rigcalc import CheckResult, check, read_rig
from rigcalc.bearings import FurlingResult, TurningResult
from rigcalc.cli import main
from rigcalc.limits import Check
from rigcalc.reports.bearings import bearings_screen

from .test_loads import BURY, E_PA, LENGTH, PROOF_PA, case_text, rig_text, some
from .test_turned_masts import TUBE, pushed

D, T = 0.12, 0.004
ABOVE = LENGTH - BURY
BUSH = """
[bearings.partners]
kind = "plain"
material = "acetal"
length = "{length} mm"
clearance = "{clearance} mm"
wall = "8 mm"
{more}
"""
STEP = """
[bearings.step]
kind = "plain"
material = "acetal"
length = "50 mm"
clearance = "0.6 mm"
wall = "8 mm"
thrust = {{form = "{form}", outer = "80 mm"{face}}}
{more}
"""
SAIL = """
[[sail]]
name = "main"
luff = "5 m"
foot = "2.4 m"
tack_height = "1.6 m"
hold = "rolled"
camber = {camber}
cloth_mass = "230 g/m2"
cloth_thickness = "0.4 mm"
"""
FURLING = """
[furling]
drum_diameter = "{drum} mm"
line_diameter = "6 mm"
line_strength = "12 kN"
purchase = {purchase}
lead_blocks = 0
hand_pull = "{hand} N"
"""


def bushed(length: float = 70, clearance: float = 0.8, more: str = "") -> str:
    return BUSH.format(length=length, clearance=clearance, more=more)


def stepped(form: str = "flat", face: str = "", more: str = "") -> str:
    return STEP.format(form=form, face=face, more=more)


def judged(more: str, case: str | None = None) -> CheckResult:
    return check(read_rig(rig_text(stations=TUBE, more=more + (pushed(300.0) if case is None else case))))


def turned(result: CheckResult) -> TurningResult:
    assert result.turning is not None
    return result.turning


def found(result: CheckResult, id: str) -> Check:
    return max((c for c in result.checks if c.id == id), key=lambda c: c.utilisation)


# --- bearings -------------------------------------------------------------------------------------


def test_a_bush_by_hand() -> None:
    push = 1e-2
    result = judged(bushed(), pushed(push))
    partners = turned(result).partners
    force = push * LENGTH / BURY
    assert partners.force_N == pytest.approx(force, rel=1e-6)
    assert partners.pressure_Pa == pytest.approx(force / (0.070 * D), rel=1e-6)
    assert partners.peak_pressure_Pa == pytest.approx(4 / math.pi * force / (0.070 * D), rel=1e-6)
    slope = push * ABOVE * BURY / (3 * E_PA * math.pi / 64 * (D**4 - (D - 2 * T) ** 4))
    assert partners.slope_rad == pytest.approx(slope, rel=1e-6)
    assert partners.edge_free_length_m == pytest.approx(0.0008 / slope, rel=1e-6)
    edge = found(result, "partners-edge")
    assert (edge.demand, edge.capacity) == (pytest.approx(0.070), pytest.approx(0.0008 / slope, rel=1e-6))


def test_the_tube_bends_round_by_hand() -> None:
    """Ring of the close collar, (1/4 - 2/pi2) W R, across the bending of the mast; von Mises of both."""
    push = 1.0
    ring = found(judged(bushed(length=60), pushed(push)), "partners-ring")
    force, R = push * LENGTH / BURY, (D - T) / 2
    moment = (0.25 - 2 / math.pi**2) * force / (0.060 + 1.56 * math.sqrt(R * T)) * R
    round_it = 6 * moment / T**2
    bending = push * ABOVE * D / 2 / (math.pi / 64 * (D**4 - (D - 2 * T) ** 4))
    assert ring.demand == pytest.approx(math.sqrt(bending**2 + bending * round_it + round_it**2), rel=1e-3)
    assert ring.capacity == pytest.approx(PROOF_PA / 1.10)


@pytest.mark.parametrize(("fit", "ratio"), [("chock", 3 / (4 * math.pi)), ("opposed", 1 / math.pi)])
def test_a_hard_point_bends_the_wall_more(fit: str, ratio: float) -> None:
    case = pushed(1.0)
    soft, hard = (found(judged(bushed(more=f'fit = "{f}"'), case), "partners-ring") for f in ("collar", fit))
    collar = 0.25 - 2 / math.pi**2
    bending = 1.0 * ABOVE * D / 2 / (math.pi / 64 * (D**4 - (D - 2 * T) ** 4))

    def across(check: Check) -> float:
        # s^2 + s x + x^2 = demand^2
        return (-bending + math.sqrt(4 * check.demand**2 - 3 * bending**2)) / 2

    assert across(hard) / across(soft) == pytest.approx(ratio / collar, rel=1e-3)


def test_cures_of_a_bush_hold_what_they_promise() -> None:
    case = pushed(900.0)
    edge = found(judged(bushed(length=90, clearance=0.5), case), "partners-edge")
    assert not edge.passed
    shorter = int(edge.advice.split("at most ")[1].split(" mm")[0])
    assert (
        0.9 < found(judged(bushed(length=shorter, clearance=0.5), case), "partners-edge").utilisation <= 1.0
    )
    wider = float(edge.advice.split("give it ")[1].split(" mm")[0])
    assert 0.9 < found(judged(bushed(length=90, clearance=wider), case), "partners-edge").utilisation <= 1.0
    sphere = judged(bushed(length=90, clearance=0.5, more='seat = "spherical"'), case)
    assert "partners-edge" not in {c.id for c in sphere.checks}
    small = bushed(length=12, more='seat = "spherical"\nstanding_pressure = "2 MPa"')
    pressure = found(judged(small, case), "partners-pressure")
    assert not pressure.passed
    longer = int(pressure.advice.split("about ")[1].split(" mm")[0])
    cured = bushed(length=longer, more='seat = "spherical"\nstanding_pressure = "2 MPa"')
    assert 0.95 < found(judged(cured, case), "partners-pressure").utilisation <= 1.0


def test_rollers_share_the_load() -> None:
    text = """
[bearings.partners]
kind = "rollers"
material = "{material}"
length = "50 mm"
clearance = "{clearance} mm"
count = {count}
diameter = "25 mm"
"""
    few, many = (
        turned(judged(text.format(material="acetal", clearance=0, count=n))).partners.rollers for n in (8, 12)
    )
    assert few is not None and many is not None
    force = turned(judged("")).partners.force_N
    # one of eight straight under the load bears 4.08/8 of it: NSK E728g, eq. 5; soft rollers share a little more
    assert few.largest_by_place_N == pytest.approx(4.08 * force / 8, rel=0.03)
    assert many.largest_by_zone_N == pytest.approx(4.08 * force / 12, rel=0.03)
    loose = turned(judged(text.format(material="acetal", clearance=3.4, count=8))).partners.rollers
    assert loose is not None
    assert few.largest_by_place_N < loose.largest_by_place_N <= force * (1 + 1e-9)


@settings(max_examples=10)
@given(side=some(-700, 700), forward=some(-700, 700))
def test_what_the_hull_carries_is_what_the_mast_is_held_by(side: float, forward: float) -> None:
    (load,) = turned(judged("", pushed(side, forward))).hull
    assert load.partners_side_N + load.step_side_N == pytest.approx(side, abs=1e-8)
    assert load.partners_forward_N + load.step_forward_N == pytest.approx(forward, abs=1e-8)
    assert load.partners_side_N * BURY == pytest.approx(side * LENGTH, abs=1e-8)
    assert load.couple_N_m == pytest.approx(math.hypot(side, forward) * ABOVE, rel=1e-9, abs=1e-9)


def test_a_bearing_that_is_not_described_is_told_as_a_force() -> None:
    result = judged("")
    partners = turned(result).partners
    assert partners.kind is None
    assert partners.pressure_Pa is None
    assert "its force is told, and nothing else" in " ".join(partners.notes)
    assert not [c for c in result.checks if c.id.startswith(("partners-", "step-", "deck-"))]


# --- thrust ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("form", "face", "arm"),
    [
        # Khurmi and Gupta, Theory of Machines, Ex. 10.16 to 10.19, in their formulas
        ("flat", "", 2 / 3 * 0.040),
        ("flat", ', wear = "uniform-wear"', 0.020),
        ("collar", ', inner = "40 mm"', 2 / 3 * (0.040**3 - 0.020**3) / (0.040**2 - 0.020**2)),
        ("collar", ', inner = "40 mm", wear = "uniform-wear"', 0.030),
        ("cone", ', half_angle = "30 deg"', 2 / 3 * 0.040 / 0.5),
    ],
)
def test_friction_of_the_thrust_face(form: str, face: str, arm: float) -> None:
    more = "friction_low = 0.1\nfriction_high = 0.25"
    case = pushed(10.0, 0.0, 'axial = "500 N"')
    thrust = turned(judged(stepped(form, face, more), case)).thrust
    assert thrust.down_N == pytest.approx(500.0)
    assert thrust.torque_low_N_m == pytest.approx(0.1 * 500 * arm, rel=1e-9)
    assert thrust.torque_high_N_m == pytest.approx(0.25 * 500 * arm, rel=1e-9)


def test_what_draws_the_mast_out_is_held_down() -> None:
    hold = '[bearings]\nhold_down = "{} N"\n'
    case = pushed(10.0, 0.0, 'axial = "-400 N"')
    thrust = turned(judged("", case)).thrust
    assert (thrust.uplift_case, thrust.uplift_N) == ("case", pytest.approx(400.0))
    assert thrust.down_N == 0.0
    assert found(judged(hold.format(500), case), "hold-down").utilisation == pytest.approx(0.8)
    assert not found(judged(hold.format(399), case), "hold-down").passed
    # upside down it hangs by its own weight
    assert thrust.inverted_N == pytest.approx(judged("", case).mast.mass_kg * 9.80665, rel=1e-9)


def test_lines_led_to_the_deck_press_the_mast() -> None:
    lines = '[bearings]\nlines_down = "300 N"\n'
    case = pushed(10.0, 0.0, 'axial = "500 N"')
    assert turned(judged(lines, case)).thrust.down_N == pytest.approx(800.0)
    plain, pressed = (judged(text, case).cases[0].axial_load_factor for text in ("", lines))
    assert plain is not None and pressed is not None
    assert pressed == pytest.approx(plain * 500 / 800, rel=1e-6)


# --- deck -----------------------------------------------------------------------------------------


def test_bolts_and_pad_by_hand() -> None:
    deck = """
[deck]
kind = "sandwich"
pad_length = "300 mm"
pad_width = "200 mm"
allowed_pressure = "1 MPa"
bolts = 8
bolt_circle = "180 mm"
bolt_diameter = "8 mm"
bolt_allowed = "100 MPa"
thickness = "6 mm"
bearing_allowed = "80 MPa"
offset = "20 mm"
"""
    result = judged(deck, pushed(400.0))
    force = turned(result).hull[0].partners_side_N
    shear, tension = force / 8, 4 * force * 0.020 / (8 * 0.180)
    area = math.pi / 4 * 0.008**2
    bolts = math.hypot(tension / area, math.sqrt(3) * shear / area) / math.sqrt(3)
    assert found(result, "deck-bolts").demand == pytest.approx(bolts, rel=1e-9)
    assert found(result, "deck-holes").demand == pytest.approx(shear / (0.008 * 0.006), rel=1e-9)
    assert found(result, "deck-pad").demand == pytest.approx(6 * force * 0.020 / (0.3 * 0.2**2), rel=1e-9)


# --- furling --------------------------------------------------------------------------------------


def furled(
    *,
    camber: float = 0.1,
    drum: float = 200,
    purchase: int = 1,
    hand: float = 150,
    bush: str = "",
    step: str = "",
) -> FurlingResult:
    text = (
        bushed(more=bush)
        + stepped(more=step)
        + SAIL.format(camber=camber)
        + FURLING.format(drum=drum, purchase=purchase, hand=hand)
    )
    case = case_text(
        "wind-limited",
        'wind_speed = "10 m/s"',
        'gust = "none"',
        "force_coefficient = 1.2",
        'force_angle = "90 deg"',
    )
    furling = turned(judged(text, case)).furling
    assert furling is not None
    return furling


def test_torque_of_the_cloth_by_hand() -> None:
    """A triangle at 10 m/s: F/(8 camber) on the radius of the mast, the air even at all heights."""
    furling = furled()
    area = 5 * 2.4 / 2
    pull = 1.2 * 0.5 * 1.225 * 10**2 * area / (8 * 0.1)
    cloth = dict(furling.shares)["cloth"]
    assert cloth == pytest.approx(pull * D / 2, rel=0.02)
    # no gust and no factor: the case holds the same torque
    assert furling.held[0].torque_N_m == pytest.approx(cloth, rel=0.02)


def test_the_hand_pulls_what_it_can_at_that_wind() -> None:
    furling = furled()
    at_10 = furling.pull_high_N
    grown = (furling.loaded_m_s / furling.wind_m_s) ** 2
    thrust = dict(furling.shares)["thrust"]
    total = sum(torque for _, torque in furling.shares)
    # thrust apart, which has the weight in it, torque grows as the square
    low, high = grown * at_10, grown * at_10 + (1 - grown) * at_10 * thrust / total
    assert min(low, high) * 0.999 <= 150.0 <= max(low, high) * 1.001


def test_what_helps_and_what_does_not() -> None:
    plain = furled()
    assert furled(drum=300).loaded_m_s > plain.loaded_m_s
    assert furled(purchase=3).loaded_m_s > plain.loaded_m_s
    assert furled(hand=250).loaded_m_s > plain.loaded_m_s
    assert furled(camber=0.06).loaded_m_s < plain.loaded_m_s
    rough = "friction_high = 0.6"
    assert furled(bush=rough, step=rough).loaded_m_s < plain.loaded_m_s
    assert plain.loaded_m_s < plain.luffed_m_s
    assert plain.loaded_m_s <= plain.loaded_low_m_s
    assert plain.pull_low_N < plain.pull_high_N
    assert [way.loaded_m_s for way in plain.ways] == sorted((w.loaded_m_s for w in plain.ways), reverse=True)
    wider = next(way for way in plain.ways if "300 mm" in way.change)
    assert wider.loaded_m_s == pytest.approx(furled(drum=300).loaded_m_s, rel=0.02)


def test_turns_of_a_roll_by_hand() -> None:
    """Area of the roll at the foot: pi n (D + n t) = L."""
    furling = furled()
    t = 0.0004 * 2.5
    turns = furling.turns
    assert math.pi * turns * (D + turns * t) == pytest.approx(2.4, rel=0.02)
    assert furling.rolls[0].roll_m == pytest.approx(D + 2 * turns * t, rel=0.02)
    assert furling.rolls[-1].roll_m == pytest.approx(D, rel=0.02)


def test_too_weak_a_hand_is_told_so() -> None:
    furling = furled(hand=30, bush="friction_high = 0.9", step="friction_high = 0.9")
    assert "hardly" in furling.said
    assert furling.loaded_m_s < 3.0


# --- the command ----------------------------------------------------------------------------------


def test_the_command_agrees_with_the_check(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = rig_text(
        stations=TUBE,
        more=bushed() + stepped() + SAIL.format(camber=0.1) + FURLING.format(drum=200, purchase=1, hand=150),
    )
    file = tmp_path / "rig.toml"
    file.write_text(text, encoding="utf-8")
    code = main(["bearings", str(file), "--json"])
    own = json.loads(capsys.readouterr().out)
    result = check(read_rig(text))
    assert code == int(
        not all(c.passed for c in result.checks if c.id.startswith(("partners-", "step-", "furling-")))
    )
    main(["check", str(file), "--json"])
    whole = json.loads(capsys.readouterr().out)
    assert own["bearings"] == whole["bearings"]
    assert whole["bearings"]["furling"]["said"] == turned(result).furling.said  # type: ignore[union-attr]
    said = " ".join(bearings_screen(result).split())
    for part in (
        "Partners, plain of acetal",
        "Step, plain of acetal",
        "Thrust:",
        "What the hull must carry",
        "turns",
    ):
        assert part in said
    assert "is not designed here" in said
    assert "A falling mast can kill" in said
    assert np.isfinite(turned(result).partners.force_N)


def test_slung_only_no_bearing_is_loaded() -> None:
    result = judged("", case_text("lift", 'lower_height = "0.5 m"', 'upper_height = "5 m"'))
    assert result.turning is None
    assert "slings" in bearings_screen(result)
