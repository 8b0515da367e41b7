"""What a sheet is put together from: blocks of things about an origin of their own, lists, tables, wrapped text."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from ...frozen import dataclass
from .scene import LABELS, LEAST_TEXT_MM, TABLES, Item, Layer, Line, Text, box_of_all, moved, text_width

PITCH: Final = 4.0
"""From one line of the smallest text to the next."""
HEAD_MM: Final = 3.5
"""Height of the heading of a block."""
_CELL: Final = 1.2
_LIFT: Final = 0.5


@dataclass(frozen=True)
class Block:
    """Things that stay together on the sheet; the lower left corner of their box is the origin."""

    name: str
    width: float
    height: float
    items: tuple[Item, ...]

    def at(self, x: float, y: float) -> tuple[Item, ...]:
        """Return its things with its lower left corner at a place."""
        return tuple(moved(item, x, y) for item in self.items)


def block(name: str, items: Sequence[Item]) -> Block:
    """Return things as a block, wherever they lie."""
    left, bottom, right, top = box_of_all(items)
    return Block(name, right - left, top - bottom, tuple(moved(item, -left, -bottom) for item in items))


def wrap(text: str, width: float, height: float = LEAST_TEXT_MM) -> list[str]:
    """Return a text in lines that are no wider; a word that is too long for one is cut."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if text_width(longer, height) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        while text_width(word, height) > width and len(word) > 1:
            cut = next(
                n for n in range(len(word) - 1, 0, -1) if n == 1 or text_width(word[:n], height) <= width
            )
            lines.append(word[:cut])
            word = word[cut:]
        line = word
    return [*lines, line] if line or not lines else lines


def heading(text: str, x: float, y: float, width: float = 1e9) -> list[Item]:
    """Return the heading of a view or a table, in as many lines as its width asks for, the last one at `y`."""
    lines = wrap(text, width, HEAD_MM)
    return [
        Text(LABELS, (x, y + (len(lines) - 1 - i) * HEAD_MM * 1.6), line, HEAD_MM)
        for i, line in enumerate(lines)
    ]


def paragraphs(
    name: str, title: str, texts: Sequence[str], width: float, *, layer: Layer = LABELS, mark: str = "- "
) -> Block:
    """Return texts below a heading, each with a mark in front and wrapped."""
    indent = text_width(mark)
    items: list[Item] = [Text(layer, (0.0, 0.0), title, HEAD_MM)]
    y = -2.0
    for text in texts:
        for i, line in enumerate(wrap(text, width - indent)):
            y -= PITCH
            if i == 0 and mark:
                items.append(Text(layer, (0.0, y), mark.strip()))
            items.append(Text(layer, (indent, y), line))
    return block(name, items)


def tables(
    name: str,
    title: str,
    head: Sequence[str],
    rows: Sequence[Sequence[str]],
    *,
    tallest: float,
    widest: Sequence[float] | None = None,
) -> list[Block]:
    """Return a table, in as many blocks as its height asks for.

    Parameters
    ----------
    name, title : str
        Of the block, and what stands above it.
    head, rows : sequence
        Cells.
    tallest : float
        Height that a block must not exceed.
    widest : sequence of float, optional
        Width beyond which the cells of a column are wrapped.
    """
    limits = [1e9] * len(head) if widest is None else widest
    cells = [[wrap(text, limit) for text, limit in zip(row, limits, strict=True)] for row in (head, *rows)]
    widths = [max(text_width(line) for row in cells for line in row[i]) + 2 * _CELL for i in range(len(head))]
    first, *rest = cells
    found: list[Block] = []
    while rest or not found:
        room = tallest - _height(first) - HEAD_MM - 4.0
        taken = 0
        while taken < len(rest) and (taken == 0 or sum(map(_height, rest[: taken + 1])) <= room):
            taken += 1
        said = title if not found else f"{title}, continued"
        found.append(_table(name, said, [first, *rest[:taken]], widths))
        rest = rest[taken:]
    return found


def _height(row: Sequence[Sequence[str]]) -> float:
    return PITCH * max(len(lines) for lines in row) + _LIFT


def _table(name: str, title: str, rows: Sequence[Sequence[Sequence[str]]], widths: Sequence[float]) -> Block:
    items: list[Item] = heading(title, 0.0, 1.5)
    y, full = 0.0, sum(widths)
    edges = [sum(widths[:i]) for i in range(len(widths) + 1)]
    items.append(Line(TABLES, (0.0, 0.0), (full, 0.0)))
    for row in rows:
        for x, lines in zip(edges[:-1], row, strict=True):
            for i, line in enumerate(lines):
                if line:
                    items.append(Text(TABLES, (x + _CELL, y - PITCH * (i + 1) + 0.9), line))
        y -= _height(row)
        items.append(Line(TABLES, (0.0, y), (full, y)))
    items += [Line(TABLES, (x, 0.0), (x, y)) for x in edges]
    return block(name, items)
