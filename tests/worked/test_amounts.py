"""Numbers with their units, as a worked line shows them."""

from __future__ import annotations

import math

import numpy as np
import pytest

from rigcalc.formulas import all_formulas
from rigcalc.reports.worked.amounts import amount, dimension, unit_of

UNITS = sorted({unit for record in all_formulas() for unit in (record.unit, *record.arguments.values())})


@pytest.mark.parametrize(
    ("value", "unit", "shown"),
    [
        (52.2386e6, "Pa", "52.24 MPa"),
        (70e9, "Pa", "70 GPa"),
        (999.96e6, "Pa", "1 GPa"),
        (999.94e6, "Pa", "999.9 MPa"),
        (114.8, "Pa", "114.8 Pa"),
        (1234.0, "N m", "1234 N m"),
        (14122.4, "N m", "14.12 kN m"),
        (6154.6, "N", "6155 N"),
        (-18423.0, "N", "-18.42 kN"),
        (0.1016, "m", "101.6 mm"),
        (1.0, "m", "1 m"),
        (0.99996, "m", "1 m"),
        (0.0, "m", "0 m"),
        (1.2e-6, "m4", "1.2e6 mm4"),
        (0.0015, "m2", "1500 mm2"),
        (1.0, "1", "1"),
        (0.27734, "1", "0.2773"),
        (1.5e-5, "m2/s", "1.5e-5 m2/s"),
        (2.1223e6, "1", "2.122e6"),
        (1e-4, "1", "1e-4"),
        (0.5235988, "rad", "0.5236 rad"),
    ],
)
def test_amounts_read_as_is_usual(value: float, unit: str, shown: str) -> None:
    assert str(amount(value, unit)) == shown


@pytest.mark.parametrize("unit", UNITS)
def test_number_times_unit_is_the_value_to_four_figures(unit: str) -> None:
    for value in [*np.geomspace(1.23456e-14, 9.87654e13, 57), -math.pi]:
        shown = amount(float(value), unit)
        assert float(shown.digits) * shown.size == pytest.approx(float(value), rel=5.1e-4)
        # the unit shown is the SI unit with a prefix of that size
        prefixes = {"": 1.0, "k": 1e3, "M": 1e6, "G": 1e9, "m": 1e-3}
        name = shown.unit or "1"
        if name == unit:
            assert shown.size == 1.0
        else:
            first = name[0]
            assert first in prefixes
            power = {"m2": 2, "m3": 3, "m4": 4}.get(unit, 1)
            assert name[1:] == unit
            assert shown.size == pytest.approx(prefixes[first] ** power, rel=1e-12)


@pytest.mark.parametrize("unit", UNITS)
def test_dimensions_of_units_come_back(unit: str) -> None:
    assert dimension(unit_of(dimension(unit))) == dimension(unit)


def test_a_dimension_without_a_name_is_written_in_base_units() -> None:
    assert unit_of((5.0, 0.0, 0.0, 0.0)) == "m^5"
    assert unit_of((0.5, 0.0, -1.0, 0.0)) == "m^0.5 s^-1"
