"""The report before it is HTML, PDF or Markdown: headings, words, tables, figures and formulas, and no markup."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from ...frozen import dataclass
from ..figures import Drawn

Kind = Literal["text", "long", "number"]
"""How a column is set: names to the left, sentences that may wrap, numbers to the right."""


@dataclass(frozen=True)
class Value:
    """A number or a word as it is shown, and where the JSON has it.

    Parameters
    ----------
    text : str
        As it is shown.
    path : str
        Where it stands in the JSON of the report; empty where it stands nowhere.
    value : float, int, str, bool or None
        What stands there, to full precision.
    """

    text: str
    path: str = ""
    value: float | int | str | bool | None = None


@dataclass(frozen=True)
class Mark:
    """PASS or FAIL, or another word that may be coloured; it is always a word.

    Parameters
    ----------
    text : str
        The word.
    tone : {"good", "bad", "quiet"}
        How it may be coloured.
    path, value
        As of `Value`.
    """

    text: str
    tone: Literal["good", "bad", "quiet"]
    path: str = ""
    value: str | bool | None = None


@dataclass(frozen=True)
class Link:
    """Words that lead to a section or a table of the same report."""

    text: str
    to: str


Inline = str | Value | Mark | Link
Words = tuple[Inline, ...]
"""A sentence, or what stands in a cell."""
Cell = Inline | Words


@dataclass(frozen=True)
class Paragraph:
    """Some sentences.

    Parameters
    ----------
    words : tuple of str, Value, Mark and Link
        Put together as they are.
    tone : {"plain", "lead", "note"}
        A lead is set larger, a note smaller.
    """

    words: Words
    tone: Literal["plain", "lead", "note"] = "plain"


@dataclass(frozen=True)
class Bullets:
    """A list.

    Parameters
    ----------
    items : tuple of tuple
        Words of each.
    """

    items: tuple[Words, ...]


@dataclass(frozen=True)
class Caution:
    """What must be read before anything is built.

    Parameters
    ----------
    heading : str
        ``Cautions`` or ``Warnings``.
    texts : tuple of str
        One each.
    """

    heading: str
    texts: tuple[str, ...]


@dataclass(frozen=True)
class Column:
    """Head of a column.

    Parameters
    ----------
    head : str
        What stands in it.
    unit : str
        Unit of all its numbers; empty where each has its own, or none.
    kind : {"text", "long", "number"}
        How it is set.
    """

    head: str
    unit: str = ""
    kind: Kind = "text"


@dataclass(frozen=True)
class Table:
    """Rows under named columns; the first cell of a row names it.

    Parameters
    ----------
    caption : str
        What it tells.
    columns : tuple of Column
        As many as there are cells in a row.
    rows : tuple of tuple
        Cells.
    """

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]

    def __post_init__(self) -> None:
        if not all(column.head for column in self.columns):
            raise ValueError(f"{self.caption}: a column without a head")
        for row in self.rows:
            if len(row) != len(self.columns):
                raise ValueError(f"{self.caption}: {len(row)} cells under {len(self.columns)} columns")


@dataclass(frozen=True)
class FigureBlock:
    """A figure with its sentence under it."""

    drawn: Drawn


@dataclass(frozen=True)
class Formula:
    """A worked line.

    Parameters
    ----------
    text, mathml : str
        The same equation both ways: formula = numbers = result.
    said : str
        What it gives, where it comes from, and where it holds.
    """

    text: str
    mathml: str
    said: str


@dataclass(frozen=True)
class Section:
    """A heading and what stands under it.

    Parameters
    ----------
    id : str
        Anchor; one of its own in a report.
    title : str
        The heading.
    blocks : tuple
        What stands under it, sections of the next level among it.
    fold : bool
        Whether a screen may fold it away.
    """

    id: str
    title: str
    blocks: tuple[Block, ...]
    fold: bool = False


Block = Paragraph | Bullets | Caution | Table | FigureBlock | Formula | Section


@dataclass(frozen=True)
class Document:
    """A whole report.

    Parameters
    ----------
    title : str
        Of the rig.
    passed : bool
        The verdict.
    foot : str
        Version and digest, on every page.
    sections : tuple of Section
        In the order to be read.
    """

    title: str
    passed: bool
    foot: str
    sections: tuple[Section, ...]

    def blocks(self) -> Iterator[Block]:
        """Yield everything in it, sections before what stands in them."""
        stack: list[Block] = [*reversed(self.sections)]
        while stack:
            block = stack.pop()
            yield block
            if isinstance(block, Section):
                stack += reversed(block.blocks)


def words_of(cell: Cell) -> Words:
    """Return what stands in a cell as a tuple."""
    return cell if isinstance(cell, tuple) else (cell,)


def plain(cell: Cell) -> str:
    """Return a cell as plain text."""
    return "".join(part if isinstance(part, str) else part.text for part in words_of(cell))
