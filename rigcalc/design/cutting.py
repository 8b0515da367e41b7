"""How to cut a list of lengths from bars: which bars to buy, and which piece comes out of which.

A bar of length S yields pieces l_1 ... l_k if the sum of l + kerf is at most S + kerf: the last cut falls at or
beyond the end. Lengths are taken to a tenth of a millimetre, pieces and saw cut upward and bars downward, so that
what fits here fits on the bench. The method and its bound stand in `patterns`.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Iterator, Sequence
from typing import Final, Literal

from ..errors import Problem, RigInputError
from ..frozen import dataclass
from .patterns import MOST_PATTERNS, Task, cover

TICKS_PER_M: Final = 10_000
MOST_SIZES: Final = 200
MOST_PIECES: Final = 20_000
PROVEN: Final = 1e-6
"""Share of the total within which plan and bound are one."""
_HAIR: Final = 1e-6


@dataclass(frozen=True, kw_only=True)
class Wanted:
    """Pieces of one length.

    Parameters
    ----------
    length_m : float
        Finished length.
    count : int
        How many.
    name : str
        What they are for.
    """

    length_m: float
    count: int = 1
    name: str = ""


@dataclass(frozen=True, kw_only=True)
class StockBar:
    """Bars that can be had.

    Parameters
    ----------
    length_m : float
        As sold, or of an offcut at hand.
    price : float or None
        Of one bar, in the user's own money; needed where cost is minimised, zero for what is at hand.
    available : int or None
        How many; None where any number can be bought.
    name : str
        What it is called.
    """

    length_m: float
    price: float | None = None
    available: int | None = None
    name: str = ""


@dataclass(frozen=True)
class Bar:
    """One way of cutting a bar.

    Parameters
    ----------
    stock : StockBar
        The bar.
    pieces : tuple of Wanted
        Each with a count of one, longest first.
    times : int
        How many bars are cut so.
    offcut_m : float
        What is left of one, after the last saw cut.
    """

    stock: StockBar
    pieces: tuple[Wanted, ...]
    times: int
    offcut_m: float


@dataclass(frozen=True)
class CuttingPlan:
    """Bars and cuts that yield every piece.

    Parameters
    ----------
    bars : tuple of Bar
        Longest stock first, fullest first.
    minimised : {"length", "cost"}
        What was kept low.
    total : float
        Of that, in metres of stock or in money.
    bound : float
        No plan has less.
    method : str
        How it was found, in the words of a report.
    """

    bars: tuple[Bar, ...]
    minimised: Literal["length", "cost"]
    total: float
    bound: float
    method: str

    @property
    def proven(self) -> bool:
        """Whether no plan is better, by more than a millionth."""
        return self.total <= self.bound + PROVEN * abs(self.total)

    @property
    def stock_m(self) -> float:
        """Length of all bars."""
        return math.fsum(bar.times * bar.stock.length_m for bar in self.bars)

    @property
    def pieces_m(self) -> float:
        """Length of all pieces."""
        return math.fsum(bar.times * piece.length_m for bar in self.bars for piece in bar.pieces)

    @property
    def offcuts_m(self) -> float:
        """Length of what is left over."""
        return math.fsum(bar.times * bar.offcut_m for bar in self.bars)

    @property
    def sawn_m(self) -> float:
        """Length lost to the saw and to squared ends."""
        return self.stock_m - self.pieces_m - self.offcuts_m

    @property
    def waste(self) -> float:
        """Share of the stock that is in no piece."""
        return 1.0 - self.pieces_m / self.stock_m


def cutting_plan(
    wanted: Sequence[Wanted],
    stock: Sequence[StockBar],
    *,
    kerf_m: float,
    trim_m: float = 0.0,
    minimise: Literal["length", "cost"] = "length",
    time_limit_s: float = 10.0,
    most_patterns: int = MOST_PATTERNS,
) -> CuttingPlan:
    """Plan the cutting of bars at the least length of stock, or the least cost.

    Up to ``most_patterns`` ways of filling a bar the plan is the best there is, unless the time runs out; beyond,
    it is one near a bound. ``proven`` tells whether it is the best either way.

    Parameters
    ----------
    wanted : sequence of Wanted
        The pieces.
    stock : sequence of StockBar
        The bars.
    kerf_m : float
        Width of the saw cut.
    trim_m : float
        What squaring takes off each bar, both ends together.
    minimise : {"length", "cost"}
        Length or price of the bars bought. Length counts what is at hand too.
    time_limit_s : float
        Time for the search; a plan that it cuts short says so, and need not be the same on another machine.
    most_patterns : int
        Ways of filling a bar up to which all are looked at.

    Returns
    -------
    CuttingPlan

    Raises
    ------
    RigInputError
        With every problem of the lists: pieces that fit no bar, bars that run out, sizes that make no sense.
    """
    problems = list(_senseless(wanted, stock, kerf_m=kerf_m, trim_m=trim_m, minimise=minimise))
    if problems:
        raise RigInputError(problems, where="the cutting list")
    task, queues = _task(wanted, stock, kerf_m=kerf_m, trim_m=trim_m, minimise=minimise)
    covering = cover(task, time_limit_s=time_limit_s, most_patterns=most_patterns)
    if not covering.bars:
        raise RigInputError([_none_found(wanted, stock, covering.bound)], where="the cutting list")
    cut: dict[tuple[StockBar, tuple[Wanted, ...]], int] = {}
    for kind, pattern, times in covering.bars:
        for _ in range(times):
            pieces = [
                queue.popleft()
                for queue, count in zip(queues, pattern, strict=True)
                for _ in range(min(count, len(queue)))
            ]
            if pieces:
                key = (stock[kind], tuple(pieces))
                cut[key] = cut.get(key, 0) + 1
    bars = [
        Bar(of, pieces, times, _offcut_m(of, pieces, kerf_m=kerf_m, trim_m=trim_m))
        for (of, pieces), times in cut.items()
    ]
    bars.sort(key=lambda bar: (-bar.stock.length_m, bar.offcut_m))
    total = math.fsum(bar.times * _worth(bar.stock, minimise) for bar in bars)
    return CuttingPlan(tuple(bars), minimise, total, min(covering.bound, total), covering.method)


def _task(
    wanted: Sequence[Wanted],
    stock: Sequence[StockBar],
    *,
    kerf_m: float,
    trim_m: float,
    minimise: Literal["length", "cost"],
) -> tuple[Task, list[deque[Wanted]]]:
    """Return the task in ticks, and the single pieces of every size waiting to be cut."""
    kerf = _ticks_up(kerf_m)
    by_size: dict[int, deque[Wanted]] = {}
    for piece in wanted:
        one = Wanted(length_m=piece.length_m, name=piece.name)
        by_size.setdefault(_ticks_up(piece.length_m) + kerf, deque()).extend([one] * piece.count)
    sizes = sorted(by_size, reverse=True)
    capacities = [_ticks_down(bar.length_m) - _ticks_up(trim_m) + kerf for bar in stock]
    measure = math.gcd(*sizes)
    return Task(
        sizes=tuple(size // measure for size in sizes),
        demand=tuple(len(by_size[size]) for size in sizes),
        capacities=tuple(capacity // measure for capacity in capacities),
        costs=tuple(_worth(bar, minimise) for bar in stock),
        available=tuple(bar.available for bar in stock),
    ), [by_size[size] for size in sizes]


def _ticks_up(length_m: float) -> int:
    return math.ceil(length_m * TICKS_PER_M - _HAIR)


def _ticks_down(length_m: float) -> int:
    return math.floor(length_m * TICKS_PER_M + _HAIR)


def _worth(bar: StockBar, minimise: str) -> float:
    return bar.length_m if minimise == "length" else bar.price or 0.0


def _offcut_m(bar: StockBar, pieces: Sequence[Wanted], *, kerf_m: float, trim_m: float) -> float:
    used = math.fsum(piece.length_m + kerf_m for piece in pieces)
    return max(bar.length_m - trim_m - used, 0.0)


def _senseless(
    wanted: Sequence[Wanted],
    stock: Sequence[StockBar],
    *,
    kerf_m: float,
    trim_m: float,
    minimise: str,
) -> Iterator[Problem]:
    sound = True
    for name, value, most in (("kerf", kerf_m, 0.02), ("trim", trim_m, 1.0)):
        if not 0.0 <= value <= most:
            sound = False
            yield Problem(name, f"{value:g} m", f"it lies outside 0 to {most:g} m", "Is the unit right?")
    if not wanted:
        yield Problem("wanted", "", "there is nothing to cut", "Name at least one piece.")
    if not stock:
        yield Problem("stock", "", "there is nothing to cut from", "Name at least one length of bar.")
    for path, lengths in (("wanted", [w.length_m for w in wanted]), ("stock", [s.length_m for s in stock])):
        for i, length in enumerate(lengths):
            if not 1e-3 <= length <= 100.0:
                sound = False
                yield Problem(
                    f"{path}[{i}].length",
                    f"{length:g} m",
                    "it lies outside 1 mm to 100 m",
                    "Is the unit right?",
                )
    for i, piece in enumerate(wanted):
        if piece.count < 1:
            yield Problem(f"wanted[{i}].count", f"{piece.count}", "at least one is wanted", "Take it out.")
    for i, bar in enumerate(stock):
        if bar.available is not None and bar.available < 1:
            yield Problem(f"stock[{i}].available", f"{bar.available}", "there is none of it", "Take it out.")
        if bar.price is not None and not 0.0 <= bar.price < math.inf:
            yield Problem(
                f"stock[{i}].price", f"{bar.price:g}", "a price is a number from zero up", "Correct it."
            )
        if minimise == "cost" and bar.price is None:
            yield Problem(
                f"stock[{i}].price",
                "",
                "the least cost is asked for",
                "Add what one bar costs, or ask for length.",
            )
    if len({piece.length_m for piece in wanted}) > MOST_SIZES:
        yield Problem(
            "wanted",
            f"{len(wanted)} sizes",
            f"there are at most {MOST_SIZES} different lengths",
            "Cut in two lots.",
        )
    if (pieces := sum(piece.count for piece in wanted)) > MOST_PIECES:
        yield Problem("wanted", f"{pieces} pieces", f"there are at most {MOST_PIECES}", "Cut in lots.")
    if sound and stock:
        longest = max(_ticks_down(bar.length_m) for bar in stock) - _ticks_up(trim_m)
        for i, piece in enumerate(wanted):
            if _ticks_up(piece.length_m) > longest:
                yield Problem(
                    f"wanted[{i}].length",
                    f"{piece.length_m:g} m",
                    f"the longest bar yields {longest / TICKS_PER_M:g} m",
                    "Order a longer bar, or join two lengths.",
                )


def _none_found(wanted: Sequence[Wanted], stock: Sequence[StockBar], bound: float) -> Problem:
    need = math.fsum(piece.count * piece.length_m for piece in wanted)
    have = math.fsum((bar.available or 0) * bar.length_m for bar in stock)
    allowed = (
        f"the bars there are, {have:.6g} m in all, do not yield the pieces"
        if math.isinf(bound)
        else f"no way was found in the time to cut the pieces from the bars there are, {have:.6g} m in all"
    )
    return Problem(
        "stock", f"{need:.6g} m wanted", allowed, "Add bars, or a length of which any number can be had."
    )
