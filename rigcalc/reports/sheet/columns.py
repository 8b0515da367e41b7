"""Columns of a table on paper: how wide each is, and the lines of every cell."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from ...frozen import dataclass
from .ink import SOFT, runs_of
from .record import Column, Table, words_of
from .type import Line, Run, lines_of, longest_word, width_of

GAP: Final = 9.0
STEP: Final = 1.28
"""From one line of a cell to the next, over the size of its type."""
_PADDING: Final = 5.0
SMALLEST: Final = 5.6
_STEP: Final = 0.4
_MOST_WORD: Final = 96.0
"""A word longer than this may be broken where there is no room for it."""


@dataclass(frozen=True)
class Row:
    """The lines of every cell, and the height of the row."""

    cells: tuple[tuple[Line, ...], ...]
    height: float

    def pieces(self, most: float, size: float) -> tuple[Row, ...]:
        """Return the row, cut in pieces where it is higher than a page."""
        if self.height <= most:
            return (self,)
        count = max(1, int((most - _PADDING) / (size * STEP)))
        longest = max(map(len, self.cells))
        return tuple(
            _of(tuple(cell[i : i + count] for cell in self.cells), size) for i in range(0, longest, count)
        )


@dataclass(frozen=True)
class Laid:
    """A table ready to be set.

    Parameters
    ----------
    size : float
        Of the type, in points.
    starts, widths : tuple of float
        Of the columns, from the left edge.
    right : tuple of bool
        Which columns are set to the right.
    width : float
        Over all.
    head : Row
        The heads.
    rows : tuple of Row
        The rows.
    """

    size: float
    starts: tuple[float, ...]
    widths: tuple[float, ...]
    right: tuple[bool, ...]
    width: float
    head: Row
    rows: tuple[Row, ...]


def laid_table(table: Table, across: float, size: float) -> Laid:
    """Return a table with columns as wide as their words ask for, in smaller type where it must be.

    Parameters
    ----------
    table : Table
        The table.
    across : float
        Room from margin to margin, in points.
    size : float
        Size of type to begin with.
    """
    heads = [_head(column) for column in table.columns]
    cells = [[runs_of(words_of(cell)) for cell in row] for row in table.rows]
    widths = _widths(table.columns, heads, cells, across, size)
    while widths is None and size - _STEP >= SMALLEST:
        size -= _STEP
        widths = _widths(table.columns, heads, cells, across, size)
    if widths is None:
        widths = _forced(table.columns, heads, cells, across, size)
    starts = [0.0]
    for width in widths[:-1]:
        starts.append(starts[-1] + width + GAP)
    right = tuple(column.kind == "number" for column in table.columns)
    return Laid(
        size=size,
        starts=tuple(starts),
        widths=tuple(widths),
        right=right,
        width=starts[-1] + widths[-1],
        head=_row(heads, widths, size),
        rows=tuple(_row(row, widths, size) for row in cells),
    )


def _row(cells: Sequence[Sequence[Run]], widths: Sequence[float], size: float) -> Row:
    # half a point more than the words: sums of advances do not agree to the last bit
    laid = tuple(tuple(lines_of(runs, width + 0.5, size)) for runs, width in zip(cells, widths, strict=True))
    return _of(laid, size)


def _of(cells: tuple[tuple[Line, ...], ...], size: float) -> Row:
    return Row(cells, max(len(lines) for lines in cells) * size * STEP + _PADDING)


def _natural(runs: Sequence[Run], size: float) -> float:
    return sum(width_of(run.text, size, run.style) for run in runs)


def _bounds(
    columns: Sequence[Column],
    heads: Sequence[Sequence[Run]],
    cells: Sequence[Sequence[Sequence[Run]]],
    size: float,
) -> tuple[list[float], list[float]]:
    """Return the least and the natural width of every column."""
    least, natural = [], []
    for i, column in enumerate(columns):
        inside = [row[i] for row in cells]
        most = max((_natural(runs, size) for runs in inside), default=0.0)
        word = max((longest_word(runs, size) for runs in inside), default=0.0)
        head = longest_word(heads[i], size)
        narrow = most if column.kind == "number" else min(word, _MOST_WORD)
        least.append(max(narrow, head))
        natural.append(max(most, head if column.kind == "number" else _natural(heads[i], size)))
    return least, natural


def _widths(
    columns: Sequence[Column],
    heads: Sequence[Sequence[Run]],
    cells: Sequence[Sequence[Sequence[Run]]],
    across: float,
    size: float,
) -> list[float] | None:
    """Return widths that fit, or nothing: narrow columns have what they ask for, wide ones share what is left."""
    least, natural = _bounds(columns, heads, cells, size)
    room = across - GAP * (len(columns) - 1)
    if sum(natural) <= room:
        return natural
    if sum(least) > room:
        return None
    order = sorted(range(len(columns)), key=lambda i: natural[i])
    found = list(least)
    for rank, i in enumerate(order):
        others = order[rank + 1 :]
        share = (room - sum(found[k] for k in order[:rank])) / (len(others) + 1)
        if natural[i] > share:
            break
        # no more than leaves the others the room they must have
        found[i] = min(natural[i], room - sum(found) + found[i])
    spare = room - sum(found)
    wanted = sum(n - width for n, width in zip(natural, found, strict=True))
    return [width + (n - width) * spare / wanted for n, width in zip(natural, found, strict=True)]


def _forced(
    columns: Sequence[Column],
    heads: Sequence[Sequence[Run]],
    cells: Sequence[Sequence[Sequence[Run]]],
    across: float,
    size: float,
) -> list[float]:
    """Return widths in proportion where words must be broken."""
    least, _ = _bounds(columns, heads, cells, size)
    room = across - GAP * (len(columns) - 1)
    return [low * room / sum(least) for low in least]


def _head(column: Column) -> list[Run]:
    runs = [Run(column.head, "bold")] if column.head else []
    if column.unit:
        runs.append(Run(f" {column.unit}" if runs else column.unit, "regular", SOFT))
    return runs
