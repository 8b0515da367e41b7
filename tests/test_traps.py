"""Traps for whoever trusts the verdict: what would pass by being left out, miscounted or said wrongly."""

from __future__ import annotations

import math
import re
from contextlib import suppress
from pathlib import Path

import pytest

from rigcalc import CheckResult, RigInputError, check, read_rig

from .test_loads import METAL, case_text, rig_text, run

ROOT = Path(__file__).resolve().parents[1]
TUBE = ((0.0, 0.11, 0.004), (8.2, 0.11, 0.004))
THIN = ((0.0, 0.15, 0.003), (8.2, 0.15, 0.003))
SAIL = '[[sail]]\nname = "s"\nluff = "6 m"\nfoot = "2.4 m"\ntack_height = "1.5 m"\n'
SIDE = case_text("given", 'point_load = [{height = "8.2 m", side = "300 N"}]')


def used(result: CheckResult, id: str) -> float:
    return max(c.utilisation for c in result.checks if c.id == id)


def spoken_of(result: CheckResult, *words: str) -> bool:
    return any(
        all(w in text for w in words)
        for text in (*result.warnings, *(n for c in result.cases for n in c.notes))
    )


def test_opening_in_softened_metal_is_held_to_its_strength() -> None:
    both = '[[mast.opening]]\nheight = "3 m"\nwidth = "12 mm"\n[[mast.weld]]\nheight = "3 m"\n'
    c = next(c for c in run(SIDE, stations=TUBE, mast=both).checks if c.id == "opening 1")
    assert c.capacity <= 155e6 / 1.25


def test_length_of_a_slot_counts() -> None:
    a, b = (
        used(
            run(
                SIDE,
                stations=TUBE,
                mast=f'[[mast.opening]]\nheight = "3 m"\nwidth = "12 mm"\nlength = "{x} mm"\n',
            ),
            "opening 1",
        )
        for x in (12, 800)
    )
    assert b > a


def test_a_sleeve_with_play_is_not_counted_on() -> None:
    def sleeve(D: float) -> str:
        return f'[[mast.sleeve]]\nstart = "0 m"\nend = "8.2 m"\ndiameter = "{D} mm"\nwall = "6 mm"\n'

    with pytest.raises(RigInputError, match="play"):
        run(SIDE, stations=TUBE, mast=sleeve(80))  # in a bore of 102 mm
    fits = used(run(SIDE, stations=TUBE, mast=sleeve(102)), "yield")
    assert fits < used(run(SIDE, stations=TUBE), "yield")


def test_a_step_that_nothing_joins_is_not_passed_in_silence() -> None:
    text = (ROOT / "examples" / "trailer_sailer_4m6.toml").read_text()
    text = re.sub(r"\[\[mast.sleeve\]\].*?\n\n", "", text, flags=re.S)
    with pytest.raises(RigInputError, match=r"mast\.stations"):
        read_rig(text)


def test_standard_set_has_each_mast_carry_the_boat_alone() -> None:
    fore = '[[sail]]\nname = "f"\nmast = "fore"\nluff = "6 m"\nfoot = "2.4 m"\ntack_height = "1.5 m"\n'
    alone, both = (
        max(c.partners_moment_N_m for c in run(s, stations=TUBE).cases) for s in (SAIL, SAIL + fore)
    )
    assert both >= alone * 0.999


def test_a_mast_without_a_sail_is_not_passed_as_sailing() -> None:
    with pytest.raises(RigInputError, match=r"sail\[0\].mast"):
        run(SAIL + 'mast = "Mast"\n', stations=TUBE)


def test_righting_arm_still_rising_at_its_end_is_not_the_largest() -> None:
    arms = 'righting_arm = [["0 deg", "0 m"], ["15 deg", "0.13 m"], ["25 deg", "0.24 m"]]'
    with pytest.raises(RigInputError, match=r"boat\.stability\.righting_arm"):
        run(SAIL + case_text("heel-limited"), stations=TUBE, stability=arms)


def test_cases_that_replace_the_standard_set_are_said_to() -> None:
    result = run(SAIL + case_text("wind-limited", 'wind_speed = "5 kn"'), stations=TUBE)
    assert spoken_of(result, "heel-limited")


def test_heel_limited_reports_the_heel_it_used() -> None:
    case = case_text("heel-limited", 'basis = "moment"', 'moment = "3000 N m"', 'heel = "20 deg"')
    assert not spoken_of(run(SAIL + case, stations=TUBE), "at 30 deg")


def test_rolled_sail_is_in_the_wind_of_a_bare_mast() -> None:
    case = case_text("bare", 'wind_speed = "60 kn"', 'force_angle = "90 deg"')
    assert spoken_of(run(SAIL + 'hold = "rolled"\n' + case, stations=TUBE), "roll")


def test_sleeve_over_the_mast_is_in_the_wind() -> None:
    case = case_text("bare", 'wind_speed = "60 kn"', 'force_angle = "90 deg"')
    over = '[[mast.sleeve]]\nstart = "2 m"\nend = "8.2 m"\ndiameter = "130 mm"\nwall = "10 mm"\n'
    a, b = (run(case, stations=TUBE, mast=m).cases[0] for m in ("", over))
    assert b.partners_moment_N_m > a.partners_moment_N_m * 1.1


def test_pure_torque_on_a_thin_tube_has_an_answer() -> None:
    result = run(case_text("given", 'torque = "50 N m"'), stations=THIN)
    assert math.isfinite(used(result, "shell-buckling"))
    assert result.passed


def test_tension_above_and_compression_below() -> None:
    case = case_text("given", 'axial = "-100 N"', 'own_weight_heel = "0 deg"')
    result = run(case, stations=TUBE)  # weight 290 N
    assert result.passed


def test_upright_weight_alone_is_a_load() -> None:
    assert run(case_text("given", 'own_weight_heel = "0 deg"'), stations=TUBE).cases[0].step_thrust_N > 200


def test_line_load_of_no_length_is_refused() -> None:
    with pytest.raises(RigInputError):
        read_rig(rig_text(more=case_text("given", 'line_load = [["3 m", "100 N/m"], ["3 m", "50 N/m"]]')))


@pytest.mark.parametrize(("D", "w"), [(79.6, 31.84), (110.6, 44.24)])
def test_hole_of_exactly_the_greatest_width(D: float, w: float) -> None:
    s = ((0.0, D / 1e3, 0.003), (8.2, D / 1e3, 0.003))
    text = rig_text(stations=s, more=SIDE, mast=f'[[mast.opening]]\nheight = "6 m"\nwidth = "{w} mm"\n')
    text = text.replace(repr(D / 1e3) + " m", f"{D} mm")
    with suppress(RigInputError):
        assert check(read_rig(text)).checks


def test_sails_that_pull_below_the_partners_are_refused_as_input() -> None:
    low = (
        '[[sail]]\nname = "m"\nluff = "0.4 m"\nfoot = "0.3 m"\ntack_height = "1.2 m"\n'
        '[[sail]]\nname = "f"\nmast = "fore"\ncorners = [["0 m", "-1 m"], ["0 m", "1 m"], ["-3 m", "-1 m"]]\n'
    )
    with pytest.raises(RigInputError):
        run(low + case_text("heel-limited", 'arm = "partners"'))


def test_point_loads_a_hair_apart() -> None:
    points = ", ".join(f'{{height = "{3 + i * 5e-9!r} m", side = "10 N"}}' for i in range(4))
    run(case_text("given", f"point_load = [{points}]"), stations=TUBE)


def test_weld_elsewhere_asks_nothing_of_a_sleeve() -> None:
    stiff = METAL.replace('"alloy"', '"stiff"').replace(
        'welded_proof = "105 MPa"\nwelded_ultimate = "155 MPa"\n', ""
    )
    mast = (
        '[[mast.sleeve]]\nstart = "0.5 m"\nend = "2 m"\ndiameter = "0.102 m"\nwall = "4 mm"\nmaterial = "stiff"\n'
        '[[mast.weld]]\nheight = "5 m"\n'
    )
    run(SIDE, stations=TUBE, mast=mast, metal=METAL + stiff)


def test_shear_of_a_short_bury_can_buckle_a_thin_wall() -> None:
    thin = ((0.0, 0.15, 0.001), (8.2, 0.15, 0.001))
    force = 150.0
    result = run(
        case_text("given", f'point_load = [{{height = "8.2 m", side = "{force} N"}}]'),
        stations=thin,
        bury_m=0.1,
    )
    shear = 2 * result.cases[0].bury_shear_N / (math.pi * 0.149 * 0.001)
    critical = 0.67 * 69.5e9 * (1 / 74.5) ** 1.5 / (3 * math.sqrt(2) * (1 - 0.33**2) ** 0.75)
    assert shear > 1.5 * critical
    assert not result.passed


def test_moment_at_30_only_is_warned_of() -> None:
    result = run(SAIL + case_text("heel-limited"), stations=TUBE, stability='gm = "0.5 m"\nbm = "0.9 m"')
    assert any("30 deg" in w for w in result.warnings)
