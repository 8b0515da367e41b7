"""Cutting bars in whole numbers: patterns of cuts, the least that covers a demand, and a bound where that is long.

Sizes and capacities are whole ticks with the saw cut already in them; `cutting` makes them of lengths.

Few patterns: every maximal pattern (no wanted piece would still fit) is listed, and the least cost of bars that
covers the demand is found by an integer programme (branch and cut of scipy's HiGHS, gap set to nothing). A piece
too many is left uncut, so covering is as good as meeting, and a pattern that is not maximal is never needed.

Many patterns: P. C. Gilmore and R. E. Gomory's column generation (1961, from memory). The linear programme over
some patterns prices the pieces; for each stock length a knapsack in ticks looks for a pattern worth more than its
bar. Whatever the prices y, no plan costs less than y.demand less, for each kind of bar, the most of them that can
be wanted times what its best pattern is worth above its cost: Lagrange's bound, true before the prices have
settled and in spite of rounding. Plans come from the integer programme over the patterns found and from filling
bar after bar as full as it will go.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from ..frozen import dataclass

MOST_PATTERNS: Final = 20_000
"""Maximal patterns up to which all are listed."""
MOST_ROUNDS: Final = 400
"""Rounds of column generation; those met in practice take some dozens."""
_WORTH: Final = 1e-9
"""Gain of a pattern, as a share of its bar's cost, below which it is rounding."""

_ROUNDING: Final = 1e-7
"""Share of a bound that the tolerances of the programmes may make up."""

Pattern = tuple[int, ...]
"""How many of each size are cut from one bar."""


@dataclass(frozen=True)
class Task:
    """What is to be cut, in ticks.

    Parameters
    ----------
    sizes, demand : tuple of int
        Of each size of piece, falling, and how many are wanted.
    capacities : tuple of int
        Of each kind of bar.
    costs : tuple of float
        Of one bar of each kind, not negative.
    available : tuple of (int or None)
        How many bars there are; None is any number.
    """

    sizes: tuple[int, ...]
    demand: tuple[int, ...]
    capacities: tuple[int, ...]
    costs: tuple[float, ...]
    available: tuple[int | None, ...]


@dataclass(frozen=True)
class Covering:
    """Bars that cover a demand.

    Parameters
    ----------
    bars : tuple of (int, Pattern, int)
        Kind of bar, pattern, and how many are cut so; empty where none was found.
    bound : float
        No plan costs less; infinite where no plan exists.
    method : str
        How it was found.
    """

    bars: tuple[tuple[int, Pattern, int], ...]
    bound: float
    method: str

    def cost(self, task: Task) -> float:
        """Return what the bars cost."""
        return math.fsum(task.costs[kind] * times for kind, _, times in self.bars)


def cover(task: Task, *, time_limit_s: float, most_patterns: int = MOST_PATTERNS) -> Covering:
    """Return bars that cover the demand at the least cost, or near it with a bound.

    Parameters
    ----------
    task : Task
        Every size fits some kind of bar.
    time_limit_s : float
        For each integer programme.
    most_patterns : int
        Patterns up to which all are listed.
    """
    columns = list_patterns(task, most_patterns)
    if columns is not None:
        return _programme(task, columns, time_limit_s)
    return _generated(task, time_limit_s)


def list_patterns(task: Task, most: int) -> list[tuple[int, Pattern]] | None:
    """Return every maximal pattern of every kind of bar; None where there are more than ``most``."""
    found: list[tuple[int, Pattern]] = []
    for kind, capacity in enumerate(task.capacities):
        for pattern in _maximal(task.sizes, task.demand, capacity):
            found.append((kind, pattern))
            if len(found) > most:
                return None
    return found


def _maximal(sizes: Sequence[int], demand: Sequence[int], capacity: int) -> Iterator[Pattern]:
    """Yield the patterns that leave no room for a piece still wanted; sizes fall."""
    counts = [0] * len(sizes)
    # most that the sizes after each can take up
    after = [sum(s * d for s, d in zip(sizes[i:], demand[i:], strict=True)) for i in range(1, len(sizes) + 1)]

    def rest(i: int, room: int, spare: float) -> Iterator[Pattern]:
        if i == len(sizes):
            yield tuple(counts)
            return
        most = min(demand[i], room // sizes[i])
        for count in range(most, -1, -1):
            left = room - count * sizes[i]
            least = min(spare, sizes[i]) if count < demand[i] else spare
            if left - after[i] >= least:
                break  # whatever follows, one more of a size passed over would fit; fewer here leave only more
            counts[i] = count
            yield from rest(i + 1, left, least)
        counts[i] = 0

    if sizes and sizes[-1] <= capacity:
        yield from rest(0, capacity, math.inf)


def _programme(
    task: Task, columns: Sequence[tuple[int, Pattern]], time_limit_s: float, *, whole: bool = True
) -> Covering:
    """Return the least cover by the patterns given; its bound is true of all patterns if ``whole``."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    pieces = np.array([pattern for _, pattern in columns], dtype=float).T
    scale = max(task.costs) or 1.0
    costs = np.array([task.costs[kind] for kind, _ in columns]) / scale
    constraints = [LinearConstraint(pieces, np.array(task.demand, dtype=float), np.inf)]
    constraints += [
        LinearConstraint(np.array([[float(k == kind) for k, _ in columns]]), -np.inf, float(most))
        for kind, most in enumerate(task.available)
        if most is not None
    ]
    result: Any = milp(
        costs,
        integrality=np.ones(costs.size),
        bounds=Bounds(0.0, float(sum(task.demand))),
        constraints=constraints,
        options={"mip_rel_gap": 0.0, "time_limit": time_limit_s},
    )
    method = f"{'every' if whole else 'some'} pattern of cuts, {len(columns)}, in an integer programme"
    if result.x is None and "nfeasible" in result.message:
        return Covering((), math.inf if whole else 0.0, method)
    bound = 0.0 if result.mip_dual_bound is None else max(float(result.mip_dual_bound), 0.0)
    if result.x is None:
        return Covering((), bound * scale, f"{method}, out of time")
    times = np.rint(result.x).astype(int)
    bars = tuple((kind, pattern, int(n)) for (kind, pattern), n in zip(columns, times, strict=True) if n > 0)
    covering = Covering(bars, 0.0, method if result.status == 0 else f"{method}, out of time")
    _demand_covered(task, covering)
    return Covering(bars, _rounded_up(task, bound * scale), covering.method)


def _demand_covered(task: Task, covering: Covering) -> None:
    """Hold a result of floats to whole numbers."""
    cut = [sum(n * pattern[i] for _, pattern, n in covering.bars) for i in range(len(task.sizes))]
    used = [sum(n for kind, _, n in covering.bars if kind == k) for k in range(len(task.capacities))]
    if any(have < want for have, want in zip(cut, task.demand, strict=True)) or any(
        most is not None and have > most for have, most in zip(used, task.available, strict=True)
    ):
        raise RuntimeError("the integer programme returned bars that do not cover the demand")


def _rounded_up(task: Task, bound: float) -> float:
    """Raise a bound to the next cost that whole bars can have, if their costs have a common measure."""
    ticks = [round(cost * 1e4) for cost in task.costs]
    if any(abs(cost * 1e4 - tick) > 1e-6 for cost, tick in zip(task.costs, ticks, strict=True)):
        return bound
    grain = math.gcd(*ticks)
    if not grain or not math.isfinite(bound):
        return bound
    return math.ceil(bound * 1e4 / grain * (1.0 - _ROUNDING)) * grain / 1e4


# ---------------------------------------------------------------- many patterns


def _generated(task: Task, time_limit_s: float) -> Covering:
    greedy = _filled_one_by_one(task)
    columns: dict[tuple[int, Pattern], None] = dict.fromkeys((kind, pattern) for kind, pattern, _ in greedy)
    for kind, capacity in enumerate(task.capacities):
        for i, size in enumerate(task.sizes):
            if size <= capacity:
                alone = min(task.demand[i], capacity // size)
                columns[kind, tuple(alone * (j == i) for j in range(len(task.sizes)))] = None
    pieces = sum(task.demand)
    bound, told = 0.0, f"not converged in {MOST_ROUNDS} rounds"
    for rounds in range(1, MOST_ROUNDS + 1):
        y, mu = _prices(task, list(columns))
        lagrange, added = float(np.dot(y, task.demand)), False
        for kind, capacity in enumerate(task.capacities):
            worth, pattern = _knapsack(task.sizes, task.demand, y, capacity)
            most = task.available[kind]
            lagrange -= max(worth - task.costs[kind], 0.0) * (pieces if most is None else min(most, pieces))
            dear = task.costs[kind] + mu[kind] + _WORTH * max(task.costs)
            if worth > dear and (kind, pattern) not in columns:
                columns[kind, pattern] = None
                added = True
        bound = max(bound, lagrange)
        if not added:
            told = f"converged in {rounds} rounds"
            break
    if bound > pieces * max(task.costs):  # a bar for every piece would cost less: there are not bars enough
        return Covering((), math.inf, f"bound by column generation, {told}")
    best = _programme(task, list(columns), time_limit_s, whole=False)
    simple = Covering(tuple(greedy), 0.0, "bar after bar filled as full as it goes")
    if not best.bars or (greedy and simple.cost(task) < best.cost(task)):
        best = simple
    method = f"{best.method}; bound by column generation, {told}"
    return Covering(best.bars, _rounded_up(task, bound), method)


def _prices(task: Task, columns: Sequence[tuple[int, Pattern]]) -> tuple[NDArray[np.float64], list[float]]:
    """Return what a piece of each size is worth, and what a bar of each limited kind is worth beyond its cost.

    Pieces that limited bars cannot cover may be bought at a price above any plan's.
    """
    from scipy.optimize import linprog

    kinds = [kind for kind, most in enumerate(task.available) if most is not None]
    sizes = len(task.sizes)
    rescue = 1.0 + sum(task.demand) * max(task.costs)
    A = np.zeros((sizes + len(kinds), len(columns) + sizes))
    A[:sizes, : len(columns)] = -np.array([pattern for _, pattern in columns], dtype=float).T
    A[:sizes, len(columns) :] = -np.eye(sizes)
    for row, kind in enumerate(kinds):
        A[sizes + row, : len(columns)] = [float(k == kind) for k, _ in columns]
    b = [-float(d) for d in task.demand] + [float(task.available[kind] or 0) for kind in kinds]
    costs = [task.costs[kind] for kind, _ in columns] + [rescue] * sizes
    result: Any = linprog(costs, A_ub=A, b_ub=b, method="highs")
    if result.status != 0:
        raise RuntimeError(f"the linear programme of the cutting patterns failed: {result.message}")
    duals = np.maximum(-np.asarray(result.ineqlin.marginals, dtype=float), 0.0)
    mu = [0.0] * len(task.capacities)
    for row, kind in enumerate(kinds):
        mu[kind] = float(duals[sizes + row])
    return duals[:sizes], mu


def _knapsack(
    sizes: Sequence[int], demand: Sequence[int], values: NDArray[np.float64], capacity: int
) -> tuple[float, Pattern]:
    """Return the most a bar can hold by value, and how many of each size it then holds.

    Exact in ticks: copies of a size go in lots of 1, 2, 4, ..., each taken or not.
    """
    best = np.zeros(capacity + 1)
    lots: list[tuple[int, int, NDArray[np.bool_]]] = []
    for i, (size, wanted) in enumerate(zip(sizes, demand, strict=True)):
        left, lot = min(wanted, capacity // size), 1
        while left > 0 and values[i] > 0.0:
            lot = min(lot, left)
            taken = np.zeros(capacity + 1, dtype=bool)
            with_lot = best[: capacity + 1 - lot * size] + lot * values[i]
            taken[lot * size :] = with_lot > best[lot * size :]
            best[lot * size :] = np.maximum(best[lot * size :], with_lot)
            lots.append((i, lot, taken))
            left -= lot
            lot *= 2
    counts, room = [0] * len(sizes), capacity
    for i, lot, taken in reversed(lots):
        if taken[room]:
            counts[i] += lot
            room -= lot * sizes[i]
    return float(best[capacity]), tuple(counts)


def _filled_one_by_one(task: Task) -> list[tuple[int, Pattern, int]]:
    """Return bars filled greedily, each round the longest piece left; empty where limited bars run out."""
    left = list(task.demand)
    bars: list[tuple[int, Pattern, int]] = []
    have = list(task.available)
    lengths = np.array(task.sizes, dtype=float)
    while any(left):
        longest = next(i for i, count in enumerate(left) if count)
        tried: list[tuple[float, int, Pattern]] = []
        for kind, capacity in enumerate(task.capacities):
            room = capacity - task.sizes[longest]
            if room < 0 or have[kind] == 0:
                continue
            rest = [count - (i == longest) for i, count in enumerate(left)]
            used, pattern = _knapsack(task.sizes, rest, lengths, room)
            pattern = tuple(count + (i == longest) for i, count in enumerate(pattern))
            tried.append((task.costs[kind] / (used + task.sizes[longest]), kind, pattern))
        if not tried:
            return []
        _, kind, pattern = min(tried)
        times = min(count // cut for count, cut in zip(left, pattern, strict=True) if cut)
        stock = have[kind]
        if stock is not None:
            times = min(times, stock)
            have[kind] = stock - times
        bars.append((kind, pattern, times))
        left = [count - times * cut for count, cut in zip(left, pattern, strict=True)]
    return bars
