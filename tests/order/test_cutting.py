"""Cutting plans against exhaustive search, closed forms and the saw."""

from __future__ import annotations

import math
from functools import cache
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from rigcalc.design.cutting import CuttingPlan, StockBar, Wanted, cutting_plan
from rigcalc.design.patterns import Task, cover, list_patterns
from rigcalc.errors import RigInputError

LISTED, GENERATED = 20_000, 0


def pieces_of(*lengths_mm: float) -> list[Wanted]:
    return [Wanted(length_m=mm / 1e3, name=f"{i}") for i, mm in enumerate(lengths_mm)]


def bars_of(*lengths_mm: float) -> list[StockBar]:
    return [StockBar(length_m=mm / 1e3) for mm in lengths_mm]


def demand_sound(plan: CuttingPlan, wanted: list[Wanted], kerf_m: float, trim_m: float = 0.0) -> None:
    """Saw the plan: every piece once, no bar overrun, every figure adding up."""
    got = sorted((p.length_m, p.name) for bar in plan.bars for p in bar.pieces for _ in range(bar.times))
    assert got == sorted((w.length_m, w.name) for w in wanted for _ in range(w.count))
    for bar in plan.bars:
        assert bar.times >= 1
        assert list(bar.pieces) == sorted(bar.pieces, key=lambda p: -p.length_m)
        needed = sum(p.length_m for p in bar.pieces) + kerf_m * (len(bar.pieces) - 1) + trim_m
        assert needed <= bar.stock.length_m + 1e-9
        assert bar.offcut_m == pytest.approx(max(bar.stock.length_m - needed - kerf_m, 0.0), abs=1e-12)
    assert plan.stock_m == pytest.approx(plan.pieces_m + plan.sawn_m + plan.offcuts_m)
    assert plan.sawn_m >= -1e-9
    assert 0.0 <= plan.waste < 1.0
    assert plan.bound <= plan.total


def least_by_trying(lengths: tuple[int, ...], stock: tuple[tuple[int, float, int], ...], kerf: int) -> float:
    """Return the least cost over every way of sharing out the pieces; stock is (length, cost, how many)."""

    @cache
    def least(left: frozenset[int], have: tuple[int, ...]) -> float:
        if not left:
            return 0.0
        first, *others = sorted(left)
        best = math.inf
        for taken in product((False, True), repeat=len(others)):
            group = [first, *(i for i, take in zip(others, taken, strict=True) if take)]
            size = sum(lengths[i] + kerf for i in group)
            for k, (length, cost, _) in enumerate(stock):
                if have[k] and size <= length + kerf:
                    fewer = (*have[:k], have[k] - 1, *have[k + 1 :])
                    best = min(best, cost + least(left - frozenset(group), fewer))
        return best

    return least(frozenset(range(len(lengths))), tuple(most for *_, most in stock))


@pytest.mark.parametrize("most_patterns", [LISTED, GENERATED])
@settings(max_examples=60, deadline=None)
@given(
    lengths=st.lists(st.integers(1, 12), min_size=1, max_size=6),
    stock=st.lists(
        st.tuples(st.integers(4, 16), st.integers(0, 9), st.none() | st.integers(1, 3)),
        min_size=1,
        max_size=3,
    ),
    kerf=st.integers(0, 2),
)
def test_no_way_of_sharing_out_the_pieces_is_better(
    most_patterns: int, lengths: list[int], stock: list[tuple[int, int, int | None]], kerf: int
) -> None:
    wanted = [Wanted(length_m=n / 100, name=f"{i}") for i, n in enumerate(lengths)]
    bars = [StockBar(length_m=n / 100, price=float(cost), available=most) for n, cost, most in stock]
    tried = tuple((n, float(cost), 6 if most is None else most) for n, cost, most in stock)
    least = least_by_trying(tuple(lengths), tried, kerf)
    try:
        plan = cutting_plan(wanted, bars, kerf_m=kerf / 100, minimise="cost", most_patterns=most_patterns)
    except RigInputError as error:
        (told,) = {p.path.split("[")[0] for p in error.problems}
        if math.isfinite(least):  # patterns that were generated may hide the only plan, but must not deny it
            assert most_patterns == GENERATED
            assert "in the time" in str(error)
        assert told in ("wanted", "stock")
        return
    demand_sound(plan, wanted, kerf / 100)
    assert plan.bound <= least + 1e-6
    if most_patterns == LISTED or plan.proven:
        assert plan.total == pytest.approx(least, abs=1e-9)
    if most_patterns == LISTED:
        assert plan.proven
    assert plan.total >= least - 1e-9


@settings(max_examples=60, deadline=None)
@given(
    sizes=st.lists(st.integers(1, 9), min_size=1, max_size=4, unique=True),
    demand=st.lists(st.integers(1, 3), min_size=4, max_size=4),
    capacity=st.integers(1, 20),
)
def test_every_maximal_pattern_is_listed_once(sizes: list[int], demand: list[int], capacity: int) -> None:
    sizes.sort(reverse=True)
    demand = demand[: len(sizes)]

    def room(counts: tuple[int, ...]) -> int:
        return capacity - sum(n * size for n, size in zip(counts, sizes, strict=True))

    expected = {
        counts
        for counts in product(*(range(d + 1) for d in demand))
        if any(counts)
        and room(counts) >= 0
        and all(n == d or room(counts) < size for n, d, size in zip(counts, demand, sizes, strict=True))
    }
    task = Task(tuple(sizes), tuple(demand), (capacity,), (1.0,), (None,))
    listed = list_patterns(task, 10**6)
    assert listed is not None
    assert len(listed) == len(set(listed))
    assert {pattern for _, pattern in listed} == expected
    if expected:
        assert list_patterns(task, len(expected)) == listed
        assert list_patterns(task, len(expected) - 1) is None


@pytest.mark.parametrize("most_patterns", [LISTED, GENERATED])
def test_mast_out_of_two_lengths_of_stock(most_patterns: int) -> None:
    """Three pieces out of 6 m and 5 m: 6 m + 5 m hold 5.5 and 3 + 1.9; two of 6 m would be a metre more."""
    wanted = pieces_of(5500, 3000, 1900)
    plan = cutting_plan(wanted, bars_of(6000, 5000), kerf_m=3e-3, most_patterns=most_patterns)
    demand_sound(plan, wanted, 3e-3)
    assert plan.proven
    assert plan.total == plan.stock_m == pytest.approx(11.0)
    assert [bar.stock.length_m for bar in plan.bars] == [6.0, 5.0]
    assert plan.bars[1].offcut_m == pytest.approx(5.0 - 4.9 - 0.006)


def test_the_saw_cut_can_cost_a_bar() -> None:
    two = pieces_of(3000, 3000)
    assert cutting_plan(two, bars_of(6000), kerf_m=0.0).total == pytest.approx(6.0)
    assert cutting_plan(two, bars_of(6003), kerf_m=3e-3).total == pytest.approx(6.003)
    assert cutting_plan(two, bars_of(6002.9), kerf_m=3e-3).total == pytest.approx(2 * 6.0029)
    # a piece as long as the bar needs no cut
    (bar,) = cutting_plan(pieces_of(6000), bars_of(6000), kerf_m=3e-3).bars
    assert bar.offcut_m == 0.0


def test_squared_ends_come_off_every_bar() -> None:
    two = pieces_of(3000, 2990)
    assert cutting_plan(two, bars_of(6000), kerf_m=0.0, trim_m=0.010).total == pytest.approx(6.0)
    plan = cutting_plan(two, bars_of(6000), kerf_m=0.0, trim_m=0.011)
    assert plan.total == pytest.approx(12.0)
    assert plan.sawn_m == pytest.approx(0.022)
    demand_sound(plan, two, 0.0, 0.011)


def test_cost_and_length_may_want_different_bars() -> None:
    wanted = pieces_of(2500, 2500, 2500)
    stock = [
        StockBar(length_m=8.0, price=100.0),
        StockBar(length_m=2.6, price=30.0),
        StockBar(length_m=9.0, price=0.0, available=1, name="at hand"),
    ]
    assert cutting_plan(wanted, stock, kerf_m=2e-3).total == pytest.approx(7.8)
    cheap = cutting_plan(wanted, stock, kerf_m=2e-3, minimise="cost")
    assert cheap.total == 0.0
    assert cheap.proven
    assert [bar.stock.name for bar in cheap.bars] == ["at hand"]


def test_a_decimal_length_is_not_rounded_away() -> None:
    # 3 x 0.1 + 2 kerfs of 0.1 is 0.5 and not a hair more
    assert cutting_plan(pieces_of(100, 100, 100), bars_of(304), kerf_m=0.002).total == pytest.approx(0.304)
    # a piece longer by a hundredth of a millimetre is taken as a tenth longer
    assert cutting_plan(pieces_of(100.01, 100, 100), bars_of(304.05), kerf_m=0.002).total > 0.5


@pytest.mark.parametrize("count", [1, 7, 40])
def test_equal_pieces_fill_whole_bars(count: int) -> None:
    """The least number of bars of equal pieces: ceil(count / floor((S + k)/(l + k)))."""
    wanted = [Wanted(length_m=1.37, count=count)]
    for most_patterns in (LISTED, GENERATED):
        plan = cutting_plan(wanted, bars_of(6000), kerf_m=4e-3, most_patterns=most_patterns)
        demand_sound(plan, wanted, 4e-3)
        assert plan.proven
        assert plan.total / 6.0 == pytest.approx(math.ceil(count / 4))


def many() -> list[Wanted]:
    return [Wanted(length_m=0.4 + 0.0571 * i, count=3 + i % 5, name=f"{i}") for i in range(30)]


def test_a_long_list_is_bounded_and_says_so() -> None:
    plan = cutting_plan(many(), bars_of(6000, 4000), kerf_m=3e-3, time_limit_s=1.0)
    demand_sound(plan, many(), 3e-3)
    assert "column generation" in plan.method
    assert plan.bound >= sum(w.count * w.length_m for w in many())
    assert plan.total <= 1.1 * plan.bound


def test_out_of_time_is_told_and_still_a_plan() -> None:
    plan = cutting_plan(many(), bars_of(6000, 4000), kerf_m=3e-3, time_limit_s=0.0)
    demand_sound(plan, many(), 3e-3)
    assert "bar after bar" in plan.method or "out of time" in plan.method
    assert plan.total <= 1.2 * plan.bound


def test_bound_of_generated_patterns_is_the_linear_programme_of_all() -> None:
    """On a list short enough for both: the linear programme over every pattern, and never above the best plan."""
    task = Task((47, 41, 33, 29, 24, 17, 11), (4, 3, 5, 2, 6, 4, 7), (100, 80), (10.0, 8.51), (None, 6))
    listed = list_patterns(task, 1000)
    assert listed is not None
    rows = -np.array([pattern for _, pattern in listed], dtype=float).T
    few = np.array([[float(kind == 1) for kind, _ in listed]])
    relaxed = linprog(
        [task.costs[kind] for kind, _ in listed],
        A_ub=np.vstack([rows, few]),
        b_ub=[*(-d for d in task.demand), 6.0],
    )
    exact = cover(task, time_limit_s=20.0)
    bounded = cover(task, time_limit_s=20.0, most_patterns=0)
    assert exact.bound == pytest.approx(exact.cost(task))
    # whole bars cost whole hundredths
    assert bounded.bound == pytest.approx(math.ceil(relaxed.fun * 100 - 1e-3) / 100)
    assert bounded.bound <= exact.cost(task) + 1e-9
    assert bounded.cost(task) >= exact.cost(task) - 1e-9


BAD = [
    ([], bars_of(6000), {}, "wanted", "nothing to cut"),
    (pieces_of(1000), [], {}, "stock", "nothing to cut from"),
    (pieces_of(6100), bars_of(6000, 5000), {}, "wanted[0].length", "the longest bar yields 6 m"),
    (pieces_of(6000), bars_of(6000), {"trim_m": 0.01}, "wanted[0].length", "the longest bar yields 5.99 m"),
    (pieces_of(0), bars_of(6000), {}, "wanted[0].length", "1 mm to 100 m"),
    (pieces_of(math.nan), bars_of(6000), {}, "wanted[0].length", "1 mm to 100 m"),
    (pieces_of(1000), bars_of(6e6), {}, "stock[0].length", "1 mm to 100 m"),
    ([Wanted(length_m=1.0, count=0)], bars_of(6000), {}, "wanted[0].count", "at least one"),
    ([Wanted(length_m=1.0, count=30_000)], bars_of(6000), {}, "wanted", "at most 20000"),
    (
        [Wanted(length_m=1 + i / 1e3) for i in range(201)],
        bars_of(6000),
        {},
        "wanted",
        "at most 200 different",
    ),
    (pieces_of(1000), bars_of(6000), {"kerf_m": 3.0}, "kerf", "Is the unit right?"),
    (pieces_of(1000), bars_of(6000), {"kerf_m": -0.001}, "kerf", "0 to 0.02 m"),
    (pieces_of(1000), bars_of(6000), {"trim_m": math.inf}, "trim", "0 to 1 m"),
    (pieces_of(1000), bars_of(6000), {"minimise": "cost"}, "stock[0].price", "Add what one bar costs"),
    (pieces_of(1000), [StockBar(length_m=6.0, price=-1.0)], {}, "stock[0].price", "from zero up"),
    (pieces_of(1000), [StockBar(length_m=6.0, available=0)], {}, "stock[0].available", "there is none"),
    (pieces_of(4000, 4000), [StockBar(length_m=6.0, available=1)], {}, "stock", "do not yield the pieces"),
]


@pytest.mark.parametrize(("wanted", "stock", "more", "path", "tells"), BAD)
def test_refused(wanted: list[Wanted], stock: list[StockBar], more: dict, path: str, tells: str) -> None:
    with pytest.raises(RigInputError) as caught:
        cutting_plan(wanted, stock, **{"kerf_m": 3e-3, **more})
    (problem,) = caught.value.problems
    assert problem.path == path
    assert tells in f"{problem.allowed}. {problem.remedy}"
    assert str(caught.value).startswith("1 problem in the cutting list:")


def test_every_problem_is_told_at_once() -> None:
    with pytest.raises(RigInputError) as caught:
        cutting_plan(pieces_of(7000, -1), [StockBar(length_m=6.0, available=0)], kerf_m=1.0)
    assert [p.path for p in caught.value.problems] == ["kerf", "wanted[1].length", "stock[0].available"]


def test_bars_that_run_out_are_proven_to_without_listing() -> None:
    with pytest.raises(RigInputError, match="do not yield the pieces"):
        cutting_plan(
            pieces_of(4000, 4000, 4000), [StockBar(length_m=6.0, available=2)], kerf_m=0.0, most_patterns=0
        )
