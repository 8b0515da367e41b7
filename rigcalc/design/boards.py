"""Boards for a stack of like battens: how many lie in a board, where they are scarfed, and how many boards it takes.

A board is ripped along its length into strips as broad and thick as the batten, and the strips are cut to pieces
and scarfed. The pieces of neighbouring battens lie the other way round, so that their scarfs do not meet. Tapered
battens could lie head to tail and save some width: that is not reckoned, which errs on the side of wood enough.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from ..errors import Problem, RigInputError
from ..formulas import Working
from ..formulas.pieces import scarf_length
from ..frozen import dataclass
from .cutting import CuttingPlan, StockBar, Wanted, cutting_plan

TIPS_APART: Final = 10.0
"""Tips of scarfs in neighbouring laminations at least ten thicknesses apart (ANC-18, 4.25, read)."""
_STEP_M: Final = 0.01
_HAIR: Final = 1e-9


@dataclass(frozen=True, kw_only=True)
class Board:
    """Boards that can be had.

    Parameters
    ----------
    width_m, thickness_m, length_m : float
        As they lie in the yard, clear of what is of no use.
    price : float or None
        Of one, in the user's own money.
    name : str
        What it is called.
    """

    width_m: float
    thickness_m: float
    length_m: float
    price: float | None = None
    name: str = ""

    @property
    def volume_m3(self) -> float:
        """Volume of one."""
        return self.width_m * self.thickness_m * self.length_m


@dataclass(frozen=True, kw_only=True)
class Batten:
    """What is to be cut and scarfed, many times over.

    Parameters
    ----------
    width_m, thickness_m, length_m : float
        Rough, with all allowances.
    count : int
        How many lie side by side in the mast.
    """

    width_m: float
    thickness_m: float
    length_m: float
    count: int


@dataclass(frozen=True, kw_only=True)
class ScarfRules:
    """Where battens may be scarfed.

    Parameters
    ----------
    slope : float
        1 in this; flatter is stronger.
    least_piece_m : float
        Shortest piece worth scarfing on.
    keep_clear_m : tuple of (float, float)
        Stretches, from the lower end of the batten, in which no scarf may lie: the partners, where bending is
        greatest.
    scarfed : bool
        Whether it may be at all; a batten that may not is one piece.
    """

    slope: float = 12.0
    least_piece_m: float = 1.0
    keep_clear_m: tuple[tuple[float, float], ...] = ()
    scarfed: bool = True


@dataclass(frozen=True)
class Lay:
    """How one batten is made up; its neighbour is the same turned end for end.

    Parameters
    ----------
    pieces_m : tuple of float
        Lengths from the lower end, the scarfs in them.
    scarfs_m : tuple of float
        Middles of the scarfs, from the lower end.
    scarf_m : float
        Length of a scarf.
    tips_apart_m : float
        Least distance between a tip in one batten and one in the next; infinite without scarfs.
    warnings : tuple of str
        What could not be kept to.
    """

    pieces_m: tuple[float, ...]
    scarfs_m: tuple[float, ...]
    scarf_m: float
    tips_apart_m: float
    warnings: tuple[str, ...]


@dataclass(frozen=True)
class BoardPlan:
    """One kind of board for all battens.

    Parameters
    ----------
    board : Board
        Which.
    boards : int
        How many.
    strips_across, strips_deep : int
        Strips in the width of a board and in its thickness.
    on_edge : bool
        Whether the battens stand on edge in the board, their width in its thickness.
    lay : Lay
        How each batten is scarfed.
    strips : CuttingPlan
        How the strips are cut to pieces.
    """

    board: Board
    boards: int
    strips_across: int
    strips_deep: int
    on_edge: bool
    lay: Lay
    strips: CuttingPlan

    @property
    def volume_m3(self) -> float:
        """Volume of wood bought."""
        return self.boards * self.board.volume_m3

    @property
    def cost(self) -> float | None:
        """Price of the boards; None where a board has none."""
        return None if self.board.price is None else self.boards * self.board.price


def scarf_lay(batten: Batten, board_m: float, rules: ScarfRules, working: Working) -> Lay | None:
    """Return how to make up a batten of boards of one length; None where they are too short.

    The fewest scarfs are taken, and one more if neighbours can only so be kept apart. Middle pieces are as long as
    the board; the first is as long as keeps its scarfs apart from the neighbour's, and clear of the stretches.

    Parameters
    ----------
    batten : Batten
        Rough.
    board_m : float
        Length of the boards.
    rules : ScarfRules
        Where scarfs may be.
    working : Working
        Where the slope of the scarf is noted.
    """
    L = batten.length_m
    scarf = float(working.use(scarf_length, where="stave", t=batten.thickness_m, m=rules.slope))
    if board_m >= L - _HAIR:
        return Lay((L,), (), scarf, math.inf, ())
    if not rules.scarfed:
        return None
    least = max(rules.least_piece_m, 2 * scarf)
    if board_m < least or board_m <= scarf:
        return None
    fewest = math.ceil((L - scarf) / (board_m - scarf) - _HAIR)
    best: tuple[bool, float, float, int] | None = None
    wanted = TIPS_APART * batten.thickness_m
    for pieces in (fewest, fewest + 1):
        ends = L + (pieces - 1) * scarf - (pieces - 2) * board_m  # first and last piece together
        high, low = min(board_m, ends - least), max(least, ends - board_m)
        steps = math.floor((high - low) / _STEP_M + _HAIR) if high >= low - _HAIR else -1
        for first in [high - i * _STEP_M for i in range(steps + 1)] + ([low] if steps >= 0 else []):
            middles = _middles(first, board_m, scarf, pieces)
            apart, clear = _apart(middles, L, scarf), _clear(middles, L, scarf, rules)
            rank = (clear, min(apart, wanted), first, pieces)
            if best is None or rank[:2] > best[:2]:
                best = rank
        if best is not None and best[0] and best[1] >= wanted - _HAIR:
            break
    if best is None:
        return None
    clear, _, first, pieces = best
    middles = _middles(first, board_m, scarf, pieces)
    last = L + (pieces - 1) * scarf - (pieces - 2) * board_m - first
    apart = _apart(middles, L, scarf)
    warnings = []
    if apart < wanted - _HAIR:
        warnings.append(
            f"Scarf tips of neighbouring staves are {max(apart, 0.0) * 1e3:.0f} mm apart, less than ten thicknesses, "
            f"{wanted * 1e3:.0f} mm."
        )
    if not clear:
        warnings.append("A scarf lies in a stretch to be kept clear of scarfs.")
    if batten.count % 2:
        warnings.append("With an odd number of staves two neighbours have their scarfs at one height.")
    return Lay((first, *[board_m] * (pieces - 2), last), middles, scarf, apart, tuple(warnings))


def _middles(first_m: float, board_m: float, scarf_m: float, pieces: int) -> tuple[float, ...]:
    return tuple(first_m - scarf_m / 2 + i * (board_m - scarf_m) for i in range(pieces - 1))


def _apart(middles: Sequence[float], length_m: float, scarf_m: float) -> float:
    """Least distance between scarf tips of a batten and of one turned end for end; negative where they overlap."""
    return min(abs(a - (length_m - b)) for a in middles for b in middles) - scarf_m


def _clear(middles: Sequence[float], length_m: float, scarf_m: float, rules: ScarfRules) -> bool:
    spans = [(m - scarf_m / 2, m + scarf_m / 2) for at in middles for m in (at, length_m - at)]
    return not any(low < b - _HAIR and a < high - _HAIR for low, high in spans for a, b in rules.keep_clear_m)


def strips_in(board: Board, batten: Batten, kerf_m: float) -> tuple[int, int, bool]:
    """Return how many strips lie in the width of a board and in its thickness, and whether they stand on edge.

    Parameters
    ----------
    board : Board
        The board.
    batten : Batten
        Rough.
    kerf_m : float
        Width of the saw cut.
    """
    flat, edge = (
        (_fit(board.width_m, across, kerf_m), _fit(board.thickness_m, deep, kerf_m))
        for across, deep in (
            (batten.width_m, batten.thickness_m),
            (batten.thickness_m, batten.width_m),
        )
    )
    on_edge = edge[0] * edge[1] > flat[0] * flat[1]
    return (*(edge if on_edge else flat), on_edge)


def _fit(room_m: float, size_m: float, kerf_m: float) -> int:
    return math.floor((room_m + kerf_m) / (size_m + kerf_m) + _HAIR)


def board_plans(
    batten: Batten, boards: Sequence[Board], rules: ScarfRules, *, kerf_m: float, working: Working
) -> tuple[BoardPlan, ...]:
    """Return what each kind of board would take, the best first: the cheapest, or without prices the least wood.

    Boards of several kinds are not mixed. Those that yield no batten are left out.

    Parameters
    ----------
    batten : Batten
        Rough.
    boards : sequence of Board
        That can be had.
    rules : ScarfRules
        Where scarfs may be.
    kerf_m : float
        Width of the saw cut.
    working : Working
        Where the slope of the scarf is noted.

    Raises
    ------
    RigInputError
        Where sizes make no sense, or no board yields a batten; with the reason for each.
    """
    problems = list(_senseless(batten, boards, rules))
    if problems:
        raise RigInputError(problems, where="the boards")
    plans, refused = [], []
    for i, board in enumerate(boards):
        across, deep, on_edge = strips_in(board, batten, kerf_m)
        lay = scarf_lay(batten, board.length_m, rules, working) if across * deep else None
        if lay is None:
            refused.append(_too_small(i, board, batten, across * deep, rules))
            continue
        wanted = [
            Wanted(length_m=length, count=batten.count * lay.pieces_m.count(length), name="stave")
            for length in dict.fromkeys(lay.pieces_m)
        ]
        strips = cutting_plan(wanted, [StockBar(length_m=board.length_m)], kerf_m=kerf_m)
        count = math.ceil(sum(bar.times for bar in strips.bars) / (across * deep))
        plans.append(BoardPlan(board, count, across, deep, on_edge, lay, strips))
    if not plans:
        raise RigInputError(refused, where="the boards")
    if all(board.price is not None for board in boards):
        return tuple(sorted(plans, key=lambda plan: plan.cost or 0.0))
    return tuple(sorted(plans, key=lambda plan: plan.volume_m3))


def _too_small(i: int, board: Board, batten: Batten, strips: int, rules: ScarfRules) -> Problem:
    if strips and not rules.scarfed:
        return Problem(
            f"boards[{i}].length",
            f"{board.length_m:g} m",
            f"a stave of {batten.length_m:.2f} m is not to be scarfed",
            "Take longer boards, or allow scarfs.",
        )
    if strips:
        return Problem(
            f"boards[{i}].length",
            f"{board.length_m:g} m",
            f"it is too short to scarf a stave of {batten.length_m:.2f} m out of it",
            "Take longer boards, or a shorter least piece.",
        )
    return Problem(
        f"boards[{i}]",
        f"{board.width_m * 1e3:g} x {board.thickness_m * 1e3:g} mm",
        f"a rough stave of {batten.width_m * 1e3:.1f} x {batten.thickness_m * 1e3:.1f} mm does not lie in it",
        "Take bigger boards, or more sides.",
    )


def _senseless(batten: Batten, boards: Sequence[Board], rules: ScarfRules) -> Iterator[Problem]:
    if not boards:
        yield Problem("boards", "", "there is nothing to cut from", "Name at least one board.")
    for i, board in enumerate(boards):
        for name, value, low, high in (
            ("width", board.width_m, 0.01, 1.0),
            ("thickness", board.thickness_m, 0.003, 0.5),
            ("length", board.length_m, 0.3, 30.0),
            ("price", 0.0 if board.price is None else board.price, 0.0, 1e9),
        ):
            if not low <= value <= high:
                yield Problem(
                    f"boards[{i}].{name}",
                    f"{value:g}",
                    f"it lies outside {low:g} to {high:g}",
                    "Is the unit right, the metre?" if name != "price" else "Correct it.",
                )
    if not 1.0 <= rules.slope <= 50.0:
        yield Problem("slope", f"{rules.slope:g}", "it lies outside 1 to 50", "1 in 12 is usual.")
    if not 0.0 <= rules.least_piece_m <= 30.0:
        yield Problem(
            "least_piece", f"{rules.least_piece_m:g} m", "it lies outside 0 to 30 m", "Is the unit right?"
        )
    for low, high in rules.keep_clear_m:
        if not low < high:
            yield Problem(
                "keep_clear", f"{low:g} to {high:g} m", "a stretch has its lower end first", "Swap them."
            )
    if batten.count < 1:
        yield Problem("count", f"{batten.count}", "at least one is wanted", "Correct it.")
