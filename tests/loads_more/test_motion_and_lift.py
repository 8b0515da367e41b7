"""The mast thrown about, knocked flat and lifted, by hand on a uniform mast.

Sources: statics and the harmonic swing; scipy's quadrature for the drag of the water; drag coefficient 1.2 of a
cylinder across the flow and sea water of 1025 kg/m3 (common practice).
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import quad

from rigcalc.formulas import Working
from rigcalc.loads import case_loads
from rigcalc.rig import Case, Rig
from rigcalc.verdict import CaseResult, check

from . import BOAT, MAST, TUBE, G, rig

WATERLINE, TIP_MASS, FACTOR = 0.40, 2.0, 1.5
ABOVE = TUBE.length - TUBE.bury

WITH_LAMP = MAST.replace('bury = "1 m"', f'bury = "1 m"\nfittings_mass = "{TIP_MASS} kg"')

ROLLED = """
[[sail]]
name = "main"
corners = [["0 m", "1.5 m"], ["0 m", "5.5 m"], ["-2 m", "5.5 m"], ["-2 m", "1.5 m"]]
hold = "rolled"
load_path = "luff"
cloth_mass = "300 g/m2"
"""
CLOTH, ROLL = 0.3 * 2.0, (1.5, 5.5)
"""Mass of the roll per metre, and where it lies."""


def case_text(kind: str, *entries: str) -> str:
    return "\n".join(["[[case]]", 'name = "case"', f'kind = "{kind}"', *entries])


def result_of(made: Rig) -> CaseResult:
    return check(made).cases[0]


# --- motion --------------------------------------------------------------------------------------


def test_acceleration_is_that_of_a_harmonic_swing() -> None:
    made = rig(
        case_text("motion", 'roll_amplitude = "25 deg"', 'roll_period = "3.1 s"', 'pitch_period = "2 s"')
    )
    (load,) = case_loads(made, made.cases, Working())
    step = 1e-4
    for found, amplitude, period in zip(load.swing_rad_s2, np.radians([25.0, 10.0]), (3.1, 2.0), strict=True):
        # second difference of amplitude cos(2 pi t/T) at the end of the swing
        before, there, after = amplitude * np.cos(2 * np.pi * np.array([-step, 0.0, step]) / period)
        assert found == pytest.approx(-(before - 2 * there + after) / step**2, rel=1e-6)


def swung(roll: float, pitch: float, roll_period: float, pitch_period: float, *, cloth: bool) -> np.ndarray:
    """Moments at the partners to leeward and forward by hand: weight and inertia of spar, lamp and roll."""
    heave = np.array([np.sin(roll), np.cos(roll) * np.sin(pitch)]) * G
    turn = np.array([roll * (2 * np.pi / roll_period) ** 2, pitch * (2 * np.pi / pitch_period) ** 2])
    foot = TUBE.bury - WATERLINE

    def spread(mass: float, low: float, high: float) -> np.ndarray:
        """Of a mass per metre between two heights above the partners."""
        first, second = (high**2 - low**2) / 2, (high**3 - low**3) / 3
        return mass * (heave * first + turn * (second + foot * first))

    total = spread(TUBE.mass_kg_m, 0.0, ABOVE)
    total = total + TIP_MASS * ABOVE * (heave + turn * (TUBE.length - WATERLINE))
    if cloth:
        total = total + spread(CLOTH, ROLL[0] - TUBE.bury, ROLL[1] - TUBE.bury)
    return FACTOR * total


@pytest.mark.parametrize("cloth", [False, True])
def test_moment_at_the_partners_of_a_swung_mast(cloth: bool) -> None:
    made = rig(
        *([ROLLED] if cloth else []),
        case_text(
            "motion",
            'roll_amplitude = "20 deg"',
            'roll_period = "2.2 s"',
            'pitch_amplitude = "8 deg"',
            'pitch_period = "3 s"',
        ),
        mast=WITH_LAMP,
    )
    found = result_of(made)
    side, forward = swung(np.radians(20.0), np.radians(8.0), 2.2, 3.0, cloth=cloth)
    assert found.partners_moment_N_m == pytest.approx(np.hypot(side, forward), rel=1e-9)
    # heel bearing: moment at the partners over the bury, and what the mast in the bury weighs and swings
    assert found.step_side_N > 0.0 > found.partners_side_N
    assert found.step_forward_N > 0.0 > found.partners_forward_N
    assert found.heel_deg == pytest.approx(20.0)
    # thrust at the heel: weight along the leaning mast
    mass = TUBE.mass_kg_m * TUBE.length + TIP_MASS + cloth * CLOTH * (ROLL[1] - ROLL[0])
    along = np.cos(np.radians(20.0)) * np.cos(np.radians(8.0))
    assert found.step_thrust_N == pytest.approx(FACTOR * mass * G * along, rel=1e-9)


def test_without_a_period_the_boats_own_is_taken_and_then_the_habit() -> None:
    def acceleration(made: Rig) -> float:
        (load,) = case_loads(made, (Case(name="case", kind="motion"),), Working())
        return load.swing_rad_s2[0]

    amplitude = np.radians(30.0)
    # GM is the slope of the righting arm upright; k is 0.40 of the beam
    gm = 0.15 / np.radians(15.0)
    period = 2 * np.pi * 0.40 * 1.80 / np.sqrt(G * gm)
    assert acceleration(rig()) == pytest.approx(amplitude * (2 * np.pi / period) ** 2, rel=1e-9)
    no_beam = rig(boat=BOAT.replace('beam = "1.80 m"', ""))
    assert acceleration(no_beam) == pytest.approx(amplitude * (2 * np.pi / 2.5) ** 2, rel=1e-12)
    only_moments = rig(stability='[boat.stability]\nmoment_max = "1500 N m"\n')
    assert acceleration(only_moments) == pytest.approx(amplitude * (2 * np.pi / 2.5) ** 2, rel=1e-12)


def test_still_water_leaves_the_weight_alone() -> None:
    made = rig(case_text("motion", 'roll_amplitude = "0 deg"', 'pitch_amplitude = "0 deg"'), mast=WITH_LAMP)
    found = result_of(made)
    assert found.partners_moment_N_m == pytest.approx(0.0, abs=1e-9)
    assert found.step_thrust_N == pytest.approx(
        FACTOR * G * (TUBE.mass_kg_m * TUBE.length + TIP_MASS), rel=1e-9
    )


# --- knocked flat --------------------------------------------------------------------------------

WET, TIP_SPEED = 1.3, 2.0


def water_moment(*, sealed: bool) -> float:
    """Moment at the partners of drag, with the factor, and buoyancy, without, on the wet end of the mast.

    Both against gravity; which way the water meets the mast is not known, so they are counted with the weight.
    """

    def drag(z: float) -> float:
        speed = TIP_SPEED * (z - WATERLINE) / (TUBE.length - WATERLINE)
        return FACTOR * 1.2 * 1025.0 / 2 * speed**2 * TUBE.diameter

    lift = 1025.0 * G * np.pi / 4 * TUBE.diameter**2 if sealed else 0.0
    found, _ = quad(lambda z: (drag(z) + lift) * (z - TUBE.bury), TUBE.length - WET, TUBE.length)
    return float(found)


def knocked(*entries: str, cloth: bool = False) -> CaseResult:
    return result_of(rig(*([ROLLED] if cloth else []), case_text("knockdown", *entries), mast=WITH_LAMP))


def weight_moment(*, cloth: bool = False) -> float:
    spar = TUBE.mass_kg_m * ABOVE**2 / 2 + TIP_MASS * ABOVE
    roll = CLOTH * ((ROLL[1] - TUBE.bury) ** 2 - (ROLL[0] - TUBE.bury) ** 2) / 2
    return FACTOR * G * (spar + (roll if cloth else 0.0))


@pytest.mark.parametrize("cloth", [False, True])
def test_knocked_flat_the_mast_carries_itself_across(cloth: bool) -> None:
    found = knocked(cloth=cloth)
    assert found.partners_moment_N_m == pytest.approx(weight_moment(cloth=cloth), rel=1e-9)
    assert found.step_thrust_N == pytest.approx(0.0, abs=1e-9)
    assert found.heel_deg == pytest.approx(90.0)
    assert any("drag of the mast in the water is left out" in note for note in found.notes)


@pytest.mark.parametrize("sealed", [False, True])
def test_water_drags_on_what_is_wet_and_floats_it_when_sealed(sealed: bool) -> None:
    entries = [f'tip_speed = "{TIP_SPEED} m/s"', f'wet_length = "{WET} m"']
    found = knocked(*entries, *(['sealed = "yes"'] if sealed else []))
    by_hand = weight_moment() + water_moment(sealed=sealed)
    assert found.partners_moment_N_m == pytest.approx(abs(by_hand), rel=1e-9)
    assert any("buoyancy" in note for note in found.notes) is sealed
    assert not any("left out" in note for note in found.notes)


def test_water_drags_on_the_roll_too() -> None:
    """A square sail rolls to one thickness, D^2 + 4 t L/pi, wherever it is rolled."""
    square = (
        '[[sail]]\nname = "main"\nhold = "rolled"\ncloth_thickness = "1 mm"\nroll_slack = 1\n'
        f'corners = [["0 m", "1.5 m"], ["0 m", "{TUBE.length} m"], ["-2 m", "{TUBE.length} m"], ["-2 m", "1.5 m"]]\n'
    )
    wet = case_text("knockdown", f'wet_length = "{WET} m"', f'tip_speed = "{TIP_SPEED} m/s"')
    dry = case_text("knockdown")

    def drag(*parts: str) -> float:
        found = [result_of(rig(*parts, case)).partners_moment_N_m for case in (wet, dry)]
        return found[0] - found[1]

    wider = np.sqrt(TUBE.diameter**2 + 4 * 1e-3 * 2.0 / np.pi) / TUBE.diameter
    assert wider > 1.05
    assert drag(square) == pytest.approx(wider * drag(), rel=1e-9)


def test_drag_grows_with_the_square_of_the_speed() -> None:
    def drag_alone(speed: str) -> float:
        found = knocked(f'tip_speed = "{speed}"', f'wet_length = "{WET} m"')
        return found.partners_moment_N_m - weight_moment()

    assert drag_alone("2 m/s") == pytest.approx(4 * drag_alone("1 m/s"), rel=1e-7)


# --- lifted --------------------------------------------------------------------------------------


@pytest.mark.parametrize("cloth", [False, True])
@pytest.mark.parametrize(("low", "high"), [(0.0, 4.0), (0.5, 4.5), (1.5, 3.2), (2.9, 3.4)])
def test_reactions_of_a_mast_in_two_slings(low: float, high: float, cloth: bool) -> None:
    made = rig(
        *([ROLLED] if cloth else []),
        case_text("lift", f'lower_height = "{low} m"', f'upper_height = "{high} m"'),
        mast=WITH_LAMP,
    )
    found = result_of(made)
    spar = TUBE.mass_kg_m * TUBE.length
    roll = CLOTH * (ROLL[1] - ROLL[0]) if cloth else 0.0
    weight = FACTOR * G * (spar + TIP_MASS + roll)
    about_heel = FACTOR * G * (spar * TUBE.length / 2 + TIP_MASS * TUBE.length + roll * sum(ROLL) / 2)
    upper = (about_heel - weight * low) / (high - low)
    # the slings pull up: against the weight, which counts positive
    assert -found.partners_side_N == pytest.approx(upper, rel=1e-9)
    assert -found.step_side_N == pytest.approx(weight - upper, rel=1e-9)
    assert found.partners_forward_N == pytest.approx(0.0, abs=1e-9)
    assert found.step_thrust_N == pytest.approx(0.0, abs=1e-9)
    over = TUBE.length - high
    covered = CLOTH * max(ROLL[1] - high, 0.0) * (max(ROLL[1] - high, 0.0) / 2) if cloth else 0.0
    by_hand = FACTOR * G * (TUBE.mass_kg_m * over**2 / 2 + TIP_MASS * over + covered)
    assert found.partners_moment_N_m == pytest.approx(by_hand, rel=1e-9)
    assert found.max_moment_N_m >= found.partners_moment_N_m * (1 - 1e-12)


def test_a_lift_is_judged_by_strength_and_not_by_the_tip() -> None:
    result = check(
        rig(
            case_text("lift", 'lower_height = "0.5 m"', 'upper_height = "4.5 m"'),
            '[[case]]\nname = "flat"\nkind = "knockdown"',
        )
    )
    ids = {case: {c.id for c in result.checks if c.case == case} for case in ("case", "flat")}
    assert "tip-deflection" in ids["flat"]
    assert ids["case"] == ids["flat"] - {"tip-deflection"}
    # the sling hangs from no deck: stiffness of the bearings plays no part
    soft = check(
        rig(
            case_text("lift", 'lower_height = "0.5 m"', 'upper_height = "4.5 m"'),
            '[bearings.partners]\nstiffness = "50 kN/m"',
        )
    )
    assert soft.cases[0] == result.cases[0]


def test_cases_held_apart_are_each_as_they_are_alone() -> None:
    cases = [
        case_text("lift", 'lower_height = "0.5 m"', 'upper_height = "4.5 m"').replace('"case"', '"lift"'),
        case_text("knockdown").replace('"case"', '"flat"'),
        case_text("lift", 'lower_height = "1 m"', 'upper_height = "3 m"').replace('"case"', '"trailer"'),
        case_text("motion").replace('"case"', '"sea"'),
    ]
    together = check(rig(*cases, mast=WITH_LAMP)).cases
    for i, text in enumerate(cases):
        (alone,) = check(rig(text, mast=WITH_LAMP)).cases
        both = vars(together[i]) | {"notes": ()}
        own = vars(replace(alone, notes=()))
        assert both.keys() == own.keys()
        for name, value in own.items():
            if isinstance(value, float):
                assert both[name] == pytest.approx(value, rel=1e-8, abs=1e-8), (alone.name, name)
            else:
                assert both[name] == value, (alone.name, name)
