"""Bending and thrust: both edges of solid, hollow and plugged spars of either basis, and the column."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc.limits.timber.wood import down
from rigcalc.materials.timber import Timber, timber_of_rig
from rigcalc.rig import TimberUse

from . import ABOVE, BURY, C24, LENGTH, SITKA, area, even, found, ids, plug, pushed, run, second

SIDE = 0.5


def wood(name: str, D: float, *, solid: bool = True, shape: str = "round", **use: object) -> Timber:
    timber_use = TimberUse(**use)  # type: ignore[arg-type]  # handed through
    return timber_of_rig(name, timber_use, shape=shape, solid=solid, depth_m=D, length_m=LENGTH, bury_m=BURY)


@pytest.mark.parametrize("name", [SITKA, C24, "Norway spruce", "D30"])
@pytest.mark.parametrize("D", [0.08, 0.16])
def test_a_pole_in_bending(name: str, D: float) -> None:
    check = found(run(name, stations=even(D), cases=pushed(SIDE)), "bending")
    assert check.height_m == BURY
    assert check.demand == pytest.approx(SIDE * ABOVE * 32 / (math.pi * D**3), rel=1e-9)
    assert check.capacity == pytest.approx(wood(name, D).value_Pa("bending"), rel=1e-12)
    assert (check.unit, check.formula) == ("Pa", "timber_allowable_stress")
    assert check.source.startswith(f"{name}: ")
    assert "safety factor" in check.source or "gamma_M" in check.source


@pytest.mark.parametrize("name", [SITKA, C24])
def test_a_hollow_spar_is_pulled_and_pressed_evenly(name: str) -> None:
    D, t = 0.12, 0.02
    result = run(name, stations=even(D, t), cases=pushed(SIDE))
    stress = SIDE * ABOVE * D / 2 / second(D, D - 2 * t)
    timber = wood(name, D, solid=False)
    bending, pressed = found(result, "bending"), found(result, "compression")
    assert bending.demand == pytest.approx(stress, rel=1e-9)
    assert bending.capacity == pytest.approx(timber.value_Pa("tension"), rel=1e-12)
    assert pressed.demand == pytest.approx(stress / timber.value_Pa("compression"), rel=1e-9)
    # both are below what the bar of the same wood bears at its edge
    assert max(timber.value_Pa("tension"), timber.value_Pa("compression")) < wood(name, D).value_Pa("bending")


def test_a_form_factor_takes_the_place_of_crushing() -> None:
    D, t = 0.12, 0.02
    more = "[timber]\nhollow_form_factor = 0.7"
    pressed = found(run(stations=even(D, t), cases=pushed(SIDE), more=more), "compression")
    stress = SIDE * ABOVE * D / 2 / second(D, D - 2 * t)
    assert pressed.demand == pytest.approx(stress / (0.7 * wood(SITKA, D).value_Pa("bending")), rel=1e-9)
    solid = found(run(stations=even(D), cases=pushed(SIDE)), "compression")
    with_it = "[timber]\nround_form_factor = 'NDS'"
    credited = found(run(stations=even(D), cases=pushed(SIDE), more=with_it), "compression")
    assert solid.demand / credited.demand == pytest.approx(1.1816, rel=1e-4)


@pytest.mark.parametrize("name", [SITKA, C24])
@pytest.mark.parametrize("t", [None, 0.02])
@settings(max_examples=8, deadline=None)
@given(axial=st.floats(0.1, 4.0))
def test_thrust_presses_and_tension_pulls(name: str, t: float | None, axial: float) -> None:
    """So little of both that the mast hardly bends further for it: the thrust is under 0.2 % of the critical one."""
    D, side = 0.12, 1e-3
    solid = t is None
    d = 0.0 if t is None else D - 2 * t
    timber = wood(name, D, solid=solid)
    bends = side * ABOVE * D / 2 / second(D, d)
    thrust = axial / area(D, d)
    pushed_down = run(name, stations=even(D, t), cases=pushed(side, axial=axial))
    f_c, f_t = timber.value_Pa("compression"), timber.value_Pa("tension")
    f_m = timber.value_Pa("bending")
    by_hand = (thrust / f_c) ** 2 + bends / f_m if solid else (thrust + bends) / f_c
    assert found(pushed_down, "compression").demand == pytest.approx(by_hand, rel=4e-3)
    assert found(pushed_down, "bending").demand == pytest.approx(bends, rel=4e-3)
    pulled_up = run(name, stations=even(D, t), cases=pushed(side, axial=-axial))
    used = bends / (f_m if solid else f_t) + thrust / f_t
    assert found(pulled_up, "bending").utilisation == pytest.approx(used, rel=4e-3)
    assert found(pulled_up, "compression").demand == pytest.approx(bends / (f_m if solid else f_c), rel=4e-3)


def test_where_it_is_plugged_a_hollow_spar_bends_as_a_bar() -> None:
    D, t = 0.12, 0.025
    end = 2.2
    result = run(stations=even(D, t), mast=plug(0.0, end), cases=pushed(SIDE))
    tube, core = found(result, "bending"), found(result, "bending", "plug 1")
    # in the plug the whole section bears, at the solid's strength; above it the tube alone does
    above = SIDE * (LENGTH - end) * D / 2 / second(D, D - 2 * t)
    partners = SIDE * ABOVE * D / 2 / second(D)
    hollow, bar = wood(SITKA, D, solid=False), wood(SITKA, D)
    assert above / hollow.value_Pa("tension") > partners / bar.value_Pa("bending")
    assert (tube.height_m, tube.demand) == (end, pytest.approx(above, rel=1e-9))
    assert tube.capacity == pytest.approx(hollow.value_Pa("tension"), rel=1e-12)
    bore = D - 2 * t
    assert core.demand == pytest.approx(partners * bore / D, rel=1e-9)
    assert core.capacity == pytest.approx(wood(SITKA, bore).value_Pa("bending"), rel=1e-12)
    high = run(stations=even(D, t), mast=plug(0.0, 6.9), cases=pushed(SIDE))
    assert found(high, "bending").demand == pytest.approx(partners, rel=1e-9)
    assert found(high, "bending").capacity == pytest.approx(bar.value_Pa("bending"), rel=1e-12)


def test_layers_share_by_stiffness_and_each_has_its_own_strength() -> None:
    """A tube of spruce on a core of class D30: strain is common, stress goes by the modulus."""
    D, t = 0.12, 0.02
    bore = D - 2 * t
    core = plug(0.0, LENGTH, 'material = "D30"')
    result = run(stations=even(D, t), mast=core, cases=pushed(SIDE))
    E_t, E_c = wood(SITKA, D).value_Pa("E_apparent"), wood("D30", bore).value_Pa("E_apparent")
    curvature = SIDE * ABOVE / (E_t * second(D, bore) + E_c * second(bore))
    assert found(result, "bending").demand == pytest.approx(E_t * curvature * D / 2, rel=1e-9)
    inside = found(result, "bending", "plug 1")
    assert inside.demand == pytest.approx(E_c * curvature * bore / 2, rel=1e-9)
    assert inside.source.startswith("D30: f_m,k")
    assert found(result, "bending").source.startswith("Sitka spruce (US): mean modulus of rupture")


def test_a_bar_of_wood_in_a_tube_of_metal() -> None:
    D, t = 0.08, 0.003
    bore = D - 2 * t
    result = run(
        "6082-T6 drawn", stations=even(D, t), mast=plug(0.0, 2.0, 'material = "C24"'), cases=pushed(SIDE)
    )
    E_w = wood(C24, bore).value_Pa("E_apparent")
    curvature = SIDE * ABOVE / (70e9 * second(D, bore) + E_w * second(bore))
    assert found(result, "bending", "plug 1").demand == pytest.approx(E_w * curvature * bore / 2, rel=1e-9)
    assert "yield" in ids(result)
    assert not ids(result) & {"bending", "crushing-partners", "column"}
    assert any("creeps and swells" in text for text in result.warnings)


# --- the mast as a column -----------------------------------------------------------------------


def critical_factor(result: object, axial: float) -> float:
    (one,) = result.cases  # type: ignore[attr-defined]  # a CheckResult
    assert one.axial_load_factor is not None
    return float(one.axial_load_factor)


@pytest.mark.parametrize(("name", "D"), [(SITKA, 0.12), (C24, 0.12), (C24, 0.35)])
def test_column(name: str, D: float) -> None:
    axial = 40.0
    result = run(name, stations=even(D), cases=pushed(1e-4, axial=axial))
    timber, column = wood(name, D), found(result, "column")
    stress = axial / area(D)
    f_e = critical_factor(result, axial) * stress
    f_c = timber.value_Pa("compression")
    if name == C24:
        slender = math.sqrt(21e6 / f_e)
        k = 0.5 * (1 + 0.2 * (slender - 0.3) + slender**2)
        bears = f_c / (k + math.sqrt(k**2 - slender**2))
        assert column.formula == "column_factor"
    else:
        f_e /= 1.66
        half = (f_c + f_e) / 1.6
        bears = half - math.sqrt(half**2 - f_c * f_e / 0.8)
        assert column.formula == "buckling_limited_stress"
    assert column.demand == pytest.approx(stress, rel=1e-9)
    assert column.capacity == pytest.approx(bears, rel=1e-9)


def test_a_stocky_column_of_a_class_is_not_reduced() -> None:
    short: dict[str, object] = {"stations": ((0.0, 0.7, None), (1.5, 0.7, None)), "length": 1.5, "bury": 0.4}
    column = found(run(C24, cases=pushed(1e-4, axial=50.0, at=1.5), **short), "column")
    timber = timber_of_rig(C24, TimberUse(), shape="round", solid=True, depth_m=0.7, length_m=1.5, bury_m=0.4)
    assert column.capacity == timber.value_Pa("compression")


def test_thrust_on_a_stout_pole_counts_by_its_square() -> None:
    D, axial = 0.25, 80e3
    stout: dict[str, object] = {"stations": ((0.0, D, None), (1.5, D, None)), "length": 1.5, "bury": 0.4}
    pressed = found(run(C24, cases=pushed(1e-3, axial=axial, at=1.5), **stout), "compression")
    used = (axial / area(D) / (21e6 * 0.7 / 1.3)) ** 2
    assert used > 0.02
    assert pressed.demand == pytest.approx(used, rel=1e-3)


def test_no_column_without_thrust() -> None:
    column = found(run(cases=pushed(5.0, axial=-30.0)), "column")
    assert (column.demand, column.utilisation) == (0.0, 0.0)


@pytest.mark.parametrize("name", [SITKA, C24])
def test_what_thrust_adds_to_bending_counts_at_the_lower_stiffness(name: str) -> None:
    """An even pole with a thrust that keeps its direction: amplified as a/(1 - a), within a percent."""
    D, side, axial = 0.12, 5.0, 1200.0
    result = run(name, stations=even(D), cases=pushed(side, axial=axial))
    timber = wood(name, D)
    low = 1 / critical_factor(result, axial)
    assert 0.1 < low < 0.9
    mean = low * timber.value_Pa("E_05") / timber.value_Pa("E_apparent")
    (one,) = result.cases
    assert one.bent_moment_N_m is not None
    added = one.bent_moment_N_m - side * ABOVE
    assert added == pytest.approx(side * ABOVE * mean / (1 - mean), rel=0.25)
    limp = side * ABOVE + added * (low / (1 - low)) / (mean / (1 - mean))
    used = (
        limp * 32 / (math.pi * D**3) / timber.value_Pa("bending")
        + (axial / area(D) / timber.value_Pa("compression")) ** 2
    )
    assert found(result, "compression").demand == pytest.approx(used, rel=1e-6)
    bending = found(result, "bending")
    assert bending.demand == pytest.approx(one.bent_moment_N_m * 32 / (math.pi * D**3), rel=1e-9)


def test_a_mast_that_cannot_stand_at_its_lower_stiffness_never_passes() -> None:
    """Between the lower 5 % and the mean the bent mast still finds its equilibrium."""
    factor = critical_factor(run(stations=even(0.12), cases=pushed(1e-4, axial=100.0)), 100.0)
    result = run(stations=even(0.12), cases=pushed(1e-4, axial=105.0 * factor))
    pressed = found(result, "compression")
    assert pressed.utilisation == math.inf
    assert not pressed.passed
    assert pressed.advice.startswith("no answer was found here")
    assert result.cases[0].tip_deflection_large_m is not None


@pytest.mark.parametrize("name", [SITKA, C24])
@pytest.mark.parametrize("id", ["bending", "compression", "shear", "crushing-step"])
def test_the_chain_that_is_told_makes_the_strength(name: str, id: str) -> None:
    """Start, times every factor named, is the capacity; and so is start times what they are said to make in all."""
    check = found(run(name, stations=even(0.12), cases=pushed(0.5, axial=1.0)), id)
    told = re.fullmatch(r"[^:]*: .*, ([\d.]+) MPa; (.*): in all ([\d.]+)\. .*", check.source)
    assert told is not None, check.source
    if name == SITKA:  # the names of a class's factors have commas in them
        factors = [float(step.rsplit(" ", 1)[1]) for step in told[2].split(", ")]
        assert math.prod(factors) == pytest.approx(float(told[3]), rel=0.02)
    if id != "compression":  # told as a use, of 1
        assert float(told[1]) * 1e6 * float(told[3]) == pytest.approx(check.capacity, rel=0.01)


@pytest.mark.parametrize(
    ("share", "expected"), [(0.666, 0.66), (0.57, 0.57), (0.28999, 0.28), (1.0, 1.0), (0.009, 0.0)]
)
def test_shares_told_are_rounded_down(share: float, expected: float) -> None:
    """0.57 of a hundred is a hair below 57 to a computer, which is no reason to tell 56."""
    assert down(share) == pytest.approx(expected, abs=1e-12)
