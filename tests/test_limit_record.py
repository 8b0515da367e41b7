"""How the governing place of a limit is picked: by hand, on arrays small enough to see through."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from rigcalc.formulas.metals import design_strength
from rigcalc.limits import Check, Limit
from rigcalc.limits.about import About
from rigcalc.limits.record import check_of, up

Z = np.array([[0.0, 1.0], [1.0, 2.0]])
NAMES = ("calm", "storm")
MADE_UP = About(("made-up",), "made up", "Nothing.", (design_strength,), "all", ())


def limit(demand: Any, capacity: Any = 10.0, **more: Any) -> Limit:
    """A limit of two elements of two points; demand by case, or by case and angle."""
    return Limit(
        MADE_UP,
        "tube",
        np.array(demand, dtype=float),
        np.broadcast_to(np.array(capacity, dtype=float), Z.shape),
        "Pa",
        design_strength,
        lambda used, at: f"{used:.2f} times at {at}",
        **more,
    )


def check(demand: float, capacity: float) -> Check:
    return Check("id", "case", 0.0, "tube", demand, capacity, "Pa", "f", "made up", "")


@pytest.mark.parametrize(
    ("demand", "capacity", "used", "passed"),
    [
        (5.0, 10.0, 0.5, True),
        (0.3, 0.6, 0.5, True),
        (10.0, 10.0, 1.0, True),
        (10.0, math.nextafter(10.0, 0.0), 1.0, False),
        (0.0, 10.0, 0.0, True),
        (10.5, 10.0, 1.05, False),
        (0.0, 0.0, math.inf, False),
        (1.0, -1.0, math.inf, False),
        (math.nan, 10.0, math.inf, False),
        (math.inf, 10.0, math.inf, False),
        (1.0, math.nan, math.inf, False),
    ],
)
def test_check_passes_at_one_and_never_without_an_answer(
    demand: float, capacity: float, used: float, passed: bool
) -> None:
    found = check(demand, capacity)
    assert found.utilisation == pytest.approx(used, rel=1e-15)
    assert found.passed is passed


def test_no_answer_at_a_point_is_infinite_use() -> None:
    demand = [[[1.0, math.nan], [0.0, 4.0]], [[2.0, 3.0], [4.0, 5.0]]]
    used = limit(demand, [[10.0, 10.0], [0.0, -1.0]]).utilisation
    np.testing.assert_array_equal(
        used, [[[0.1, math.inf], [math.inf, math.inf]], [[0.2, 0.3], [math.inf, math.inf]]]
    )
    # a demand below nothing over no capacity is no pass either
    assert limit([[[-1.0, 0.0], [0.0, 0.0]]], [[0.0, 1.0], [1.0, 1.0]]).utilisation[0, 0, 0] == math.inf
    np.testing.assert_array_equal(
        limit(np.ones((1, 2, 2)), [[math.nan, 0.5], [2.0, 4.0]]).utilisation, [[[math.inf, 2.0], [0.5, 0.25]]]
    )


def test_points_and_cases_in_which_it_does_not_apply_are_not_used() -> None:
    """Not even where there is no answer."""
    demand = np.array([[[1.0, 2.0], [3.0, math.nan]], [[5.0, 6.0], [7.0, 8.0]]])
    where = np.array([[True, False], [True, False]])
    np.testing.assert_array_equal(
        limit(demand, where=where).utilisation, [[[0.1, 0.0], [0.3, 0.0]], [[0.5, 0.0], [0.7, 0.0]]]
    )
    cases = np.array([False, True])
    np.testing.assert_array_equal(
        limit(demand, cases=cases).utilisation, [[[0.0, 0.0], [0.0, 0.0]], [[0.5, 0.6], [0.7, 0.8]]]
    )


def test_governing_place_of_each_case() -> None:
    demand = [[[1.0, 2.0], [9.0, 3.0]], [[1.0, 12.0], [4.0, 3.0]]]
    calm, storm = limit(demand, [[10.0, 8.0], [10.0, 10.0]]).checks(NAMES, Z)
    assert (calm.case, calm.height_m, calm.demand, calm.capacity, calm.advice) == ("calm", 1.0, 9.0, 10.0, "")
    assert (storm.case, storm.height_m, storm.demand, storm.capacity) == ("storm", 1.0, 12.0, 8.0)
    assert storm.advice == "1.50 times at (0, 1)"
    assert (storm.id, storm.layer, storm.unit, storm.formula) == (
        "made-up",
        "tube",
        "Pa",
        "design_strength",
    )
    assert "EN 1999-1-1" in storm.source
    assert (calm.turn_deg, storm.turn_deg) == (None, None)


def test_case_in_which_it_does_not_apply_has_no_check() -> None:
    found = limit(np.ones((2, 2, 2)), cases=np.array([False, True])).checks(NAMES, Z)
    assert [c.case for c in found] == ["storm"]
    found = limit(np.ones((2, 2, 2)), cases=np.array([True, False])).checks(NAMES, Z)
    assert [c.case for c in found] == ["calm"]


def test_governing_angle_of_a_mast_that_turns() -> None:
    """Two cases at three angles each, one after the other: the angle at which it governs is told in degrees."""
    demand = np.zeros((6, 2, 2))
    demand[1, 0, 1] = 5.0
    demand[5, 1, 1] = 20.0
    turns = (0.0, math.pi / 4, math.pi / 2)
    calm, storm = limit(demand).checks(NAMES, Z, turns)
    assert (calm.height_m, calm.demand, calm.turn_deg) == (1.0, 5.0, pytest.approx(45.0))
    assert (storm.height_m, storm.demand, storm.turn_deg) == (2.0, 20.0, pytest.approx(90.0))
    assert storm.advice == "2.00 times at (1, 1)"
    fore_and_aft, athwart = limit(demand[:4]).checks(NAMES, Z, (0.0, math.pi / 2))
    assert (fore_and_aft.turn_deg, athwart.turn_deg) == (pytest.approx(90.0), 0.0)
    # a limit that leaves a case out leaves it out at every angle
    cases = np.array([False, False, False, True, True, True])
    (alone,) = limit(demand, cases=cases).checks(NAMES, Z, turns)
    assert (alone.case, alone.turn_deg) == ("storm", pytest.approx(90.0))
    (alone,) = limit(demand, cases=~cases).checks(NAMES, Z, turns)
    assert (alone.case, alone.turn_deg) == ("calm", pytest.approx(45.0))


def test_greatest_use_of_masts_laid_end_to_end() -> None:
    """Two masts of one element each, in two cases at two angles: the worst angle and point of each mast."""
    demand = np.zeros((4, 2, 2))
    demand[0, 0, 1], demand[1, 0, 0], demand[1, 1, 1], demand[3, 1, 0] = 3.0, 5.0, 2.0, math.nan
    most = limit(demand).greatest(masts=2, elements=1, turns=2)
    np.testing.assert_array_equal(most, [[0.5, 0.2], [0.0, math.inf]])
    cases = np.array([False, False, True, True])
    most = limit(demand, cases=cases).greatest(masts=2, elements=1, turns=2)
    np.testing.assert_array_equal(most, [[0.0, 0.0], [0.0, math.inf]])
    # looked at in the second and the fifth of six elements, three to a mast
    some = limit(demand, elements=np.array([1, 4])).greatest(masts=2, elements=3, turns=2)
    np.testing.assert_array_equal(some, [[0.5, 0.2], [0.0, math.inf]])
    other = limit(demand, elements=np.array([4, 5])).greatest(masts=2, elements=3, turns=2)
    np.testing.assert_array_equal(other, [[0.0, 0.5], [0.0, math.inf]])


def test_strength_with_more_to_say_of_itself_names_its_place() -> None:
    demand = np.zeros((2, 2, 2))
    demand[:, 1, 0] = 4.0
    for found in limit(demand, source=lambda at: f"strength at {at}").checks(NAMES, Z):
        assert found.source == "strength at (1, 0)"


@pytest.mark.parametrize(
    ("demand", "advice"),
    [(10.0, ""), (10.000001, "1.00 times at (0, 0)"), (10.5, "1.05 times at (0, 0)")],
)
def test_advice_is_for_what_does_not_pass(demand: float, advice: str) -> None:
    field = np.zeros((1, 2, 2))
    field[0, 0, 0] = demand
    (found,) = limit(field).checks(("calm",), Z)
    assert found.advice == advice


@pytest.mark.parametrize(
    ("demand", "cure"),
    [(9.0, ""), (10.0, ""), (math.nextafter(10.0, 11.0), "mend it"), (math.nan, "mend it")],
)
def test_check_of_one_place_tells_its_cure_where_it_is_needed(demand: float, cure: str) -> None:
    def told(**more: str) -> Check:
        return check_of(
            MADE_UP,
            case="storm",
            height_m=2.0,
            demand=demand,
            capacity=10.0,
            unit="Pa",
            formula=design_strength,
            cure="mend it",
            **more,
        )

    assert told().advice == cure
    assert told().passed is not bool(cure)
    assert (told().case, told().height_m, told().layer, told().id) == ("storm", 2.0, "", "made-up")
    assert "EN 1999-1-1" in told().source
    assert told(source="as told").source == "as told"


def test_without_an_answer_no_cure_is_told() -> None:
    field = np.zeros((1, 2, 2))
    field[0, 0, 0] = math.nan
    (found,) = limit(field).checks(("calm",), Z)
    assert not found.passed
    assert found.advice == "no answer was found here; start again with a much larger section"


@pytest.mark.parametrize(
    ("value", "step", "expected"),
    # a step that is there already is not taken twice for a rounding, but what is truly above it is rounded up
    [(1.1, 0.1, 1.1), (3.0, 1.0, 3.0), (3.2, 1.0, 4.0), (1.10005, 0.1, 1.2), (0.121, 0.01, 0.13)],
)
def test_advice_rounds_up(value: float, step: float, expected: float) -> None:
    assert up(value, step) == pytest.approx(expected, rel=1e-12)
