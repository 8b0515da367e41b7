"""What a timber design refuses, and that it says all of it at once."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any, cast

import pytest

from rigcalc.materials.metals import MaterialError
from rigcalc.materials.timber import Factor, design_timber, scarf_efficiency

from .test_timber import CLEAR, GRADED, SITKA, SPAR, clear


def refused(name: str, given: dict[str, Any], **changed: Any) -> MaterialError:
    with pytest.raises(MaterialError) as caught:
        design_timber(name, **{**given, **changed})
    assert caught.value.name == name
    return caught.value


@pytest.mark.parametrize(
    ("name", "given", "changed", "problem"),
    [
        (SITKA, CLEAR, {"moisture": None}, "the moisture None"),
        (SITKA, CLEAR, {"moisture": 12}, "the moisture 12"),
        (SITKA, CLEAR, {"moisture": math.nan}, "the moisture nan"),
        (SITKA, CLEAR, {"moisture": 0.0799}, "the moisture 0.0799"),
        (SITKA, CLEAR, {"moisture": 0.301}, "the moisture 0.301"),
        (SITKA, CLEAR, {"load_duration": "short-term"}, "the load duration 'short-term'"),
        (SITKA, CLEAR, {"load_duration": None}, "the load duration None"),
        (SITKA, CLEAR, {"load_duration": 0.0}, "the load duration 0.0"),
        (SITKA, CLEAR, {"load_duration": math.inf}, "the load duration inf"),
        (SITKA, CLEAR, {"slope_of_grain": None}, "the slope of grain None"),
        (SITKA, CLEAR, {"slope_of_grain": 15}, "the slope of grain 15"),
        (SITKA, CLEAR, {"slope_of_grain": -0.01}, "the slope of grain -0.01"),
        (SITKA, CLEAR, {"service_class": 3}, "a service class belongs to the basis 'EN 338'"),
        (SITKA, CLEAR, {"temperature_degC": 51.0}, "the temperature 51.0"),
        (SITKA, CLEAR, {"size": replace(SPAR, span_m=None)}, "the span None"),
        (SITKA, CLEAR, {"size": replace(SPAR, shear_length_m=None)}, "the length in shear None"),
        (SITKA, CLEAR, {"size": replace(SPAR, even_stress_m=8.0)}, "the length of even stress 8.0"),
        (SITKA, CLEAR, {"size": replace(SPAR, depth_m=-0.1)}, "the depth -0.1"),
        (SITKA, CLEAR, {"size": replace(SPAR, section=cast(Any, "octagon"))}, "the section 'octagon'"),
        (SITKA, CLEAR, {"scarf_slope": 12}, "the scarf slope 12"),
        (SITKA, CLEAR, {"safety_factor": 0.9}, "the safety factor 0.9"),
        (SITKA, CLEAR, {"safety_factor": True}, "the safety factor True"),
        (SITKA, CLEAR, {"factors": [Factor(name="odd", value=-1.0, source="x")]}, "the factor 'odd' -1.0"),
        (
            SITKA,
            CLEAR,
            {"factors": [Factor(name="odd", value=0.5, source="x", on=("bendign",))]},  # type: ignore[arg-type]  # a slip
            "the factor 'odd' is on bendign",
        ),
        ("C24", GRADED, {"service_class": None}, "the service class None"),
        ("C24", GRADED, {"service_class": 4}, "the service class 4"),
        ("C24", GRADED, {"service_class": True}, "the service class True"),
        ("C24", GRADED, {"load_duration": 600.0}, "the load duration 600.0 is no class"),
        ("C24", GRADED, {"moisture": 0.15}, "a moisture belongs to the basis 'clear-wood'"),
        ("C24", GRADED, {"slope_of_grain": 0.05}, "grading has the slope of grain in it"),
        ("C24", GRADED, {"temperature_degC": 61.0}, "the temperature 61.0"),
        ("C24", CLEAR, {}, "a strength class, not a species"),
        (SITKA, GRADED, {}, "a species, not a strength class"),
        (SITKA, CLEAR, {"basis": "mixed"}, "the basis 'mixed' is not known"),
    ],
)
def test_refused(name: str, given: dict[str, Any], changed: dict[str, Any], problem: str) -> None:
    error = refused(name, given, **changed)
    assert problem in error.problem
    assert error.remedy.endswith((".", "?"))


def test_all_that_is_wrong_is_said_at_once() -> None:
    error = refused(SITKA, CLEAR, moisture=None, load_duration=None, slope_of_grain=None, scarf_slope=1.0)
    assert error.problem.count(";") == 3


def test_what_the_data_do_not_give_is_refused_when_asked_for() -> None:
    with pytest.raises(MaterialError, match="no such property"):
        clear("Norway spruce").value_Pa("hardness")  # type: ignore[arg-type]  # a slip


def test_scarf_out_of_the_table_is_refused() -> None:
    for slope in (0.0, 0.21, math.nan):
        with pytest.raises(MaterialError, match="scarf slope"):
            scarf_efficiency(slope)
