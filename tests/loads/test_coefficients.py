"""Lift, drag and their turn into the boat's axes; the drag of the spar.

The tables are read here a second time, straight from the files of the package.
"""

from __future__ import annotations

import csv
import math
from importlib import resources

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcalc.formulas import Working
from rigcalc.formulas.sails import driving_coefficient, heeling_coefficient
from rigcalc.loads.coefficients import SailForce, cylinder_drag, sail_force
from rigcalc.rig.cases import COEFFICIENT_SETS

from . import QUICK, between

NAMES = sorted(COEFFICIENT_SETS)
ANGLES = between(0.0, math.pi)


def rows(file: str) -> list[dict[str, str]]:
    text = resources.files("rigcalc.loads").joinpath("data", file).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def tabulated(name: str, quantity: str, angle_rad: float) -> float:
    points = [
        (float(r["apparent_wind_angle_deg"]), float(r["value"]))
        for r in rows("sail_coefficients.csv")
        if r["set"] == name and r["quantity"] == quantity
    ]
    return float(np.interp(math.degrees(angle_rad), *zip(*points, strict=True)))


def force_of(name: str, angle_rad: float, *, area_m2: float = 0.0, height_m: float = 5.0) -> SailForce:
    return sail_force(
        name, apparent_wind_angle_rad=angle_rad, area_m2=area_m2, height_m=height_m, working=Working()
    )


# --- the tables ---


def test_every_set_offered_is_tabulated_and_no_other() -> None:
    assert sorted({row["set"] for row in rows("sail_coefficients.csv")}) == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_a_set_runs_from_the_bow_to_dead_aft_with_angles_that_grow(name: str) -> None:
    for quantity in ("CL", "CD"):
        angles = [
            float(r["apparent_wind_angle_deg"])
            for r in rows("sail_coefficients.csv")
            if r["set"] == name and r["quantity"] == quantity
        ]
        assert angles == sorted(set(angles))
        assert angles[0] <= 20.0
        assert angles[-1] >= 170.0


def test_every_row_says_where_it_was_read() -> None:
    for row in (*rows("sail_coefficients.csv"), *rows("cylinder_drag.csv")):
        assert row["provenance"] == "read"
        assert row["source"]


def test_the_default_set_pushes_hardest_dead_before_the_wind() -> None:
    pushes = {name: force_of(name, math.pi).forward for name in NAMES}
    assert max(pushes, key=lambda name: pushes[name]) == "orc-2013-high"
    assert pushes["orc-2013-high"] == pytest.approx(1.345)


# --- lift and drag in the boat's axes ---


@QUICK
@given(st.sampled_from(NAMES), ANGLES)
def test_turning_keeps_the_size_of_the_force(name: str, angle: float) -> None:
    lift, drag = tabulated(name, "CL", angle), tabulated(name, "CD", angle)
    force = force_of(name, angle)
    assert force.resultant == pytest.approx(math.hypot(lift, drag), rel=1e-12)
    # and its parts along and across the wind are drag and lift again
    sin, cos = math.sin(angle), math.cos(angle)
    assert force.side * sin - force.forward * cos == pytest.approx(drag, abs=1e-12)
    assert force.side * cos + force.forward * sin == pytest.approx(lift, abs=1e-12)


@QUICK
@given(between(-2.0, 2.0), between(-2.0, 2.0), ANGLES, between(-1.0, 1.0))
def test_a_force_turns_with_the_wind(lift: float, drag: float, beta: float, turn: float) -> None:
    def parts(angle: float) -> tuple[float, float]:
        return (
            float(heeling_coefficient(C_L=lift, C_D=drag, beta=angle)),
            float(driving_coefficient(C_L=lift, C_D=drag, beta=angle)),
        )

    (side, forward), after = parts(beta), parts(beta + turn)
    cos, sin = math.cos(turn), math.sin(turn)
    # wind further aft turns the force from leeward towards the bow
    assert after == pytest.approx((side * cos - forward * sin, forward * cos + side * sin), abs=1e-12)


def test_wind_abeam_lift_drives_and_drag_heels() -> None:
    force = force_of("orc-2013-high", math.pi / 2)
    assert (force.side, force.forward) == pytest.approx((0.383, 1.125))


def test_dead_aft_drag_drives() -> None:
    force = force_of("ims-older", math.pi)
    assert (force.side, force.forward) == pytest.approx((0.0, 1.2), abs=1e-12)


@QUICK
@given(st.sampled_from(NAMES), between(0.17, math.pi / 2))
def test_close_hauled_and_reaching_every_set_heels_and_drives(name: str, angle: float) -> None:
    force = force_of(name, angle)
    assert force.side > 0.0
    assert force.forward > 0.0


# --- induced drag ---


@QUICK
@given(st.sampled_from(NAMES), ANGLES, between(0.5, 40.0), between(1.0, 12.0))
def test_induced_drag_comes_on_top_along_the_wind(
    name: str, angle: float, area: float, height: float
) -> None:
    bare, whole = force_of(name, angle), force_of(name, angle, area_m2=area, height_m=height)
    lift = tabulated(name, "CL", angle)
    more = lift**2 * area / (math.pi * (1.1 * height) ** 2)
    added = (whole.side - bare.side, whole.forward - bare.forward)
    assert added == pytest.approx((more * math.sin(angle), -more * math.cos(angle)), abs=1e-12)
    assert whole.resultant >= bare.resultant - 1e-12


def test_a_taller_sail_of_the_same_area_has_less_of_it() -> None:
    angle = math.radians(30.0)
    low, tall = (force_of("orc-2013-high", angle, area_m2=10.0, height_m=h).forward for h in (4.0, 8.0))
    none = force_of("orc-2013-high", angle).forward
    assert low < tall < none
    assert none - low == pytest.approx(4 * (none - tall))


# --- the spar ---


@QUICK
@given(between(-3.0, 9.0))
def test_without_credit_the_drag_never_falls_below_that_before_the_crisis(power: float) -> None:
    reynolds = 10.0**power
    assert cylinder_drag(reynolds, crisis=False) >= 1.2
    assert cylinder_drag(reynolds, crisis=False) >= cylinder_drag(reynolds, crisis=True) - 1e-12


@QUICK
@given(between(3.0, 8.0))
def test_in_air_that_a_mast_meets_no_credit_means_1_20(power: float) -> None:
    assert cylinder_drag(10.0**power, crisis=False) == pytest.approx(1.2)


def test_between_two_points_drag_goes_by_the_logarithm() -> None:
    # 0.90 at 3e5 and 0.54 at 4e5: half way by the logarithm is the root of 12e10
    assert cylinder_drag(math.sqrt(12e10), crisis=True) == pytest.approx(0.72)


def test_beyond_the_table_its_ends_hold() -> None:
    assert cylinder_drag(1.0, crisis=True) == 4.0
    assert cylinder_drag(0.0, crisis=True) == 4.0
    assert cylinder_drag(1e9, crisis=True) == pytest.approx(0.70)
