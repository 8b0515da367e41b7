"""Winds that shed vortices in time with the mast.

Sources: v = n D/St with the Strouhal number 0.18 of a circle, EN 1991-1-4:2005 Table E.1; sway by its E.1.5.2.1
with K = 0.13 and K_w of a cantilever (Tables E.5), c_lat 0.7 (Table E.2), correlation over six diameters
(Table E.4), Scruton number by E.1.3.3: all from memory.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from rigcalc import check
from rigcalc.verdict import Shedding

from .loads_more import MAST, TUBE, rig

STROUHAL = 0.18
ABOVE = TUBE.length - TUBE.bury
EASY = '[[case]]\nname = "flat"\nkind = "knockdown"\n'
AIR = 1.225


def damped(decrement: float, mast: str = MAST) -> str:
    return mast.replace('bury = "1 m"', f'bury = "1 m"\ndamping = {decrement}')


def with_lamp(kg: float) -> str:
    return MAST.replace('bury = "1 m"', f'bury = "1 m"\nfittings_mass = "{kg} kg"')


SQUARE = """
[[sail]]
name = "main"
corners = [["0 m", "1.5 m"], ["0 m", "6 m"], ["-2 m", "6 m"], ["-2 m", "1.5 m"]]
hold = "rolled"
cloth_mass = "300 g/m2"
cloth_thickness = "0.4 mm"
roll_slack = 2
"""
"""A sail as wide at the head as at the foot, so that its roll is as thick all along."""


@cache
def winds(*parts: str, mast: str = MAST) -> dict[tuple[str, int], Shedding]:
    found = check(rig(*parts, EASY, mast=mast)).mast.vortex_shedding
    return {(s.condition, s.mode): s for s in found}


def test_a_mast_without_rolled_sails_is_told_bare_in_two_modes() -> None:
    assert list(winds()) == [("bare", 1), ("bare", 2)]
    lowered = SQUARE.replace('hold = "rolled"', 'hold = "luff"')
    for line in ('cloth_thickness = "0.4 mm"', "roll_slack = 2"):
        lowered = lowered.replace(line, "")
    assert list(winds(lowered)) == [("bare", 1), ("bare", 2)]


@pytest.mark.parametrize("mode", [1, 2])
def test_critical_wind_is_frequency_times_diameter_over_strouhal(mode: int) -> None:
    result = check(rig(EASY))
    found = winds()["bare", mode]
    assert found.frequency_Hz == pytest.approx(result.mast.natural_frequencies_Hz[mode - 1], rel=1e-9)
    assert found.wind_m_s == pytest.approx(found.frequency_Hz * TUBE.diameter / STROUHAL, rel=1e-12)


def test_the_diameter_is_that_where_the_mast_swings_widest() -> None:
    tapered = MAST.replace('{height = "6 m", diameter = "80 mm"', '{height = "6 m", diameter = "50 mm"')
    first = winds(mast=tapered)["bare", 1]
    assert first.wind_m_s == pytest.approx(first.frequency_Hz * 0.050 / STROUHAL, rel=1e-9)


def test_a_rolled_sail_is_heavier_and_thicker() -> None:
    found = winds(SQUARE)
    assert list(found) == [("bare", 1), ("bare", 2), ("sail rolled", 1), ("sail rolled", 2)]
    # area of the roll: 2 m of cloth, 0.4 mm thick, in turns twice as thick
    diameter = np.sqrt(TUBE.diameter**2 + 4 * 2.0 * 0.8e-3 / np.pi)
    for mode in (1, 2):
        bare, rolled = found["bare", mode], found["sail rolled", mode]
        assert bare == winds()["bare", mode]
        assert rolled.frequency_Hz < bare.frequency_Hz
        assert rolled.wind_m_s == pytest.approx(rolled.frequency_Hz * diameter / STROUHAL, rel=1e-9)


def test_weightless_cloth_thickens_the_mast_and_leaves_its_frequency() -> None:
    found = winds(SQUARE.replace('cloth_mass = "300 g/m2"', ""))
    assert found["sail rolled", 1].frequency_Hz == pytest.approx(found["bare", 1].frequency_Hz, rel=1e-12)
    assert found["sail rolled", 1].wind_m_s > 1.1 * found["bare", 1].wind_m_s


def test_the_scruton_number_of_a_uniform_mast() -> None:
    by_hand = 2 * TUBE.mass_kg_m * 0.02 / (AIR * TUBE.diameter**2)
    for mode in (1, 2):
        assert winds()["bare", mode].scruton == pytest.approx(by_hand, rel=1e-9)
    assert winds(mast=damped(0.05))["bare", 1].scruton == pytest.approx(2.5 * by_hand, rel=1e-9)


def test_a_mass_aloft_counts_where_it_swings() -> None:
    # as much as a mass at the widest place of the swing: more than its share of the whole length
    plain, heavy = winds()["bare", 1].scruton, winds(mast=with_lamp(2.0))["bare", 1].scruton
    assert heavy / plain > 1 + 2.0 / (TUBE.mass_kg_m * TUBE.length)


def test_sway_by_hand() -> None:
    decrement = 0.4
    found = winds(mast=damped(decrement))["bare", 1]
    scruton = 2 * TUBE.mass_kg_m * decrement / (AIR * TUBE.diameter**2)
    share = 6 * TUBE.diameter / ABOVE
    in_step = min(3 * share * (1 - share + share**2 / 3), 0.6)
    over_diameter = 0.13 * in_step * 0.7 / (STROUHAL**2 * scruton)
    # small enough for vortices to keep in step over six diameters and no more
    assert over_diameter < 0.1
    assert found.sway_m == pytest.approx(over_diameter * TUBE.diameter, rel=1e-9)


def test_sway_is_told_where_the_factors_hold_and_not_past_them() -> None:
    sways = [winds(mast=damped(d))["bare", 1].sway_m for d in (0.5, 0.3, 0.1)]
    assert None not in sways
    assert sways == sorted(sways, key=lambda s: s or 0.0)
    lively = winds(mast=damped(0.002))["bare", 1]
    assert lively.sway_m is None
    assert np.isfinite([lively.wind_m_s, lively.scruton]).all()


def test_the_second_mode_is_told_without_a_sway() -> None:
    for (_, mode), found in winds(SQUARE, mast=damped(0.4)).items():
        assert (found.sway_m is None) is (mode == 2)
        assert found.wind_m_s > 0.0
