"""Orders of the published cutting problems as the planner takes them: no saw cut, one stock length."""

from __future__ import annotations

import math
from collections.abc import Mapping

from rigcalc.design.cutting import CuttingPlan, StockBar, Wanted, cutting_plan
from rigcalc.design.patterns import Task, cover

SCALE = 0.01
"""Metres for one unit of the source; only ratios matter."""


def plan(orders: Mapping[int, int], stock: int, most_patterns: int) -> CuttingPlan:
    return cutting_plan(
        [Wanted(length_m=SCALE * size, count=count) for size, count in orders.items()],
        [StockBar(length_m=SCALE * stock)],
        kerf_m=0.0,
        most_patterns=most_patterns,
    )


def whole_bars(orders: Mapping[int, int], stock: int, *, most_patterns: int) -> float:
    """Return the number of bars; not a number where it is not proven least."""
    found = plan(orders, stock, most_patterns)
    return found.total / (SCALE * stock) if found.proven else math.nan


def relaxed_bars(orders: Mapping[int, int], stock: int) -> float:
    """Return the bound of column generation, at a cost of pi so that it is not raised to whole bars."""
    sizes = sorted(orders, reverse=True)
    task = Task(tuple(sizes), tuple(orders[size] for size in sizes), (stock,), (math.pi,), (None,))
    return cover(task, time_limit_s=10.0, most_patterns=0).bound / math.pi
