"""The report laid on pages: what stands where on each sheet of paper, in points from its upper left corner."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final, Literal

from ..figures import Drawn
from .columns import STEP, Laid, laid_table
from .ink import CARE, INK, LINE, SOFT, runs_of
from .record import (
    Block,
    Bullets,
    Caution,
    Document,
    FigureBlock,
    Formula,
    Paragraph,
    Section,
    Table,
)
from .type import Line, Run, Style, line_width, lines_of, width_of

Paper = Literal["a4", "letter"]

SIZES: Final[dict[Paper, tuple[float, float]]] = {"a4": (595.276, 841.89), "letter": (612.0, 792.0)}
"""Width and height in points."""
LEFT, TOP, BOTTOM = 46.0, 58.0, 54.0
HEAD_ROOM, FOOT_ROOM = 38.0, 42.0
"""Room that head and foot take of a page with a figure on it."""
BODY, SMALL, TABLE = 9.0, 7.8, 7.2
LEADING: Final = 1.38
HEAD, FOOT = 30.0, 30.0
"""Baselines of head and foot, from the upper and the lower edge."""
OPENING: Final = 13.0
"""Size of a heading in the head of a page."""
_HEADINGS: Final = {1: (17.0, 16.0), 2: (14.0, 20.0), 3: (10.5, 13.0), 4: (9.5, 10.0)}
"""Size, and room above."""
_KEEP: Final = 60.0
"""Room that must be left under a heading."""
_GAP: Final = 8.0
"""Room between a heading, its words and a table under them."""
_SHORT: Final = 9
"""Rows of a table that is not parted."""
_MOST_KEPT: Final = 0.4
"""Share of a page beyond which nothing is kept together."""
_SECTION: Final = 0.35
"""Share of a page below which a section begins a new one."""


@dataclass(frozen=True)
class Text:
    """A line of type; y is its baseline."""

    x: float
    y: float
    text: str
    size: float
    style: Style = "regular"
    colour: str = INK


@dataclass(frozen=True)
class Rule:
    """A straight line."""

    x0: float
    y0: float
    x1: float
    y1: float
    wide: float
    colour: str = LINE


@dataclass
class Sheet:
    """One page: words and rules, or a figure with a heading and the words under it.

    Parameters
    ----------
    wide, high : float
        Size in points.
    section : str
        What it is of, for its head.
    marks : list of Text and Rule
        What is set on it.
    drawn : Drawn or None
        The figure on it.
    top : float
        Where the figure begins.
    opens : bool
        Whether its section opens on it: the head of the page is its heading.
    """

    wide: float
    high: float
    section: str
    marks: list[Text | Rule] = field(default_factory=list)
    drawn: Drawn | None = None
    top: float = 0.0
    opens: bool = False


class Flow:
    """Lays blocks one below the other and goes on to a new page where one is full."""

    def __init__(self, document: Document, paper: Paper) -> None:
        self.document = document
        self.wide, self.high = SIZES[paper]
        self.sheets: list[Sheet] = []
        self.found: dict[str, int] = {}
        """Number of the page on which each section of the first level begins."""
        self.section = ""
        self.y = self.high
        self.contents: tuple[Sheet, float] | None = None

    @property
    def across(self) -> float:
        """Room from margin to margin."""
        return self.wide - 2 * LEFT

    @property
    def room(self) -> float:
        """Room left on the page."""
        return self.high - BOTTOM - self.y

    @property
    def sheet(self) -> Sheet:
        return self.sheets[-1]

    def turn(self) -> None:
        """Begin a new page."""
        self.sheets.append(Sheet(self.wide, self.high, self.section))
        self.y = TOP

    def need(self, height: float) -> None:
        """See that there is room, on a new page if not on this one."""
        if not self.sheets or self.sheet.drawn is not None or (height > self.room and self.y > TOP):
            self.turn()

    def space(self, height: float) -> None:
        """Leave room; none at the head of a page."""
        if self.y > TOP:
            self.y += height

    def put(self, lines: Sequence[Line], size: float, *, x: float = LEFT) -> None:
        """Set lines of type, page by page."""
        step = size * LEADING
        for line in lines:
            self.need(step)
            self._set(line, size, x, self.y + size)
            self.y += step

    def _set(self, line: Line, size: float, x: float, y: float) -> None:
        for part in line:
            self.sheet.marks.append(
                Text(x + part.x_pt, y, part.run.text, size, part.run.style, part.run.colour)
            )

    # ---------------------------------------------------------------- blocks

    def lay(self) -> list[Sheet]:
        """Lay the whole document and return its pages."""
        document = self.document
        self.turn()
        self.put(lines_of([Run(document.title, "bold")], self.across, 18.0), 18.0)
        self.y += 2
        self.put(
            lines_of(
                [Run(f"Report on a freestanding mast. {document.foot}.", colour=SOFT)], self.across, SMALL
            ),
            SMALL,
        )
        self.y += 8
        self.contents = (self.sheet, self.y)
        rows = (len(document.sections) + 1) // 2
        self.y += rows * SMALL * LEADING * 1.12 + 4
        for section in document.sections:
            self._section(section, 2)
        self._contents(rows)
        return self.sheets

    def _contents(self, rows: int) -> None:
        """Write the contents, now that the pages are known."""
        assert self.contents is not None
        sheet, top = self.contents
        step = SMALL * LEADING * 1.12
        half = (self.across - 24.0) / 2
        for i, section in enumerate(self.document.sections):
            x = LEFT + (i // rows) * (half + 24.0)
            y = top + (i % rows) * step + SMALL
            page = str(self.found[section.id] + 1)
            end = x + half
            sheet.marks.append(Text(x, y, section.title, SMALL))
            sheet.marks.append(Text(end - width_of(page, SMALL), y, page, SMALL))
            start = x + width_of(section.title, SMALL) + 4
            sheet.marks.append(Rule(start, y - 1.5, end - width_of(page, SMALL) - 4, y - 1.5, 0.3))

    def _section(self, section: Section, level: int) -> None:
        if level == 2:
            self.section = section.title
            first = section.blocks[0] if section.blocks else None
            if isinstance(first, FigureBlock):
                self.found[section.id] = len(self.sheets)
                self._blocks(section.blocks, level, heading=section.title)
                return
            if self.sheet.drawn is not None or self.room < _SECTION * (self.high - TOP - BOTTOM):
                self.turn()
        size, above = _HEADINGS[min(level, 4)]
        lines = lines_of([Run(section.title, "bold")], self.across, size)
        self.space(above)
        self.need(len(lines) * size * LEADING + max(_KEEP, _GAP + self._beginning(section.blocks)))
        if self.y == TOP:
            self.sheet.section = self.section
        if level == 2:
            self.found[section.id] = len(self.sheets) - 1
            self.sheet.marks.append(Rule(LEFT, self.y, LEFT + self.across, self.y, 0.9, INK))
            self.y += 5
        self.put(lines, size)
        self.y += 2
        self._blocks(section.blocks, level)

    def _beginning(self, blocks: Sequence[Block]) -> float:
        """Return the height of what should stand under a heading: words, and as much of a table as stays together."""
        height = 0.0
        for block in blocks:
            match block:
                case Paragraph(words, "plain"):
                    height += len(lines_of(runs_of(words), self.across, BODY)) * BODY * LEADING + 4
                case Table():
                    height += self._together(block, laid_table(block, self.across, TABLE))
                    break
                case _:
                    break
        return height if height < _MOST_KEPT * (self.high - TOP - BOTTOM) else 0.0

    def _together(self, table: Table, laid: Laid) -> float:
        """Return the height of a table up to its first row, or of all of it where it is a short one."""
        caption = lines_of([Run(table.caption, "bold")], self.across, TABLE + 0.8)
        top = len(caption) * (TABLE + 0.8) * LEADING + laid.head.height + 12
        rows = [row.height for row in laid.rows]
        whole = sum(rows)
        short = len(rows) <= _SHORT and top + whole < _MOST_KEPT * (self.high - TOP - BOTTOM)
        return top + (whole if short else min(rows[0], 120.0) if rows else 0.0)

    def _blocks(self, blocks: Sequence[Block], level: int, heading: str = "") -> None:
        for block in blocks:
            match block:
                case Section():
                    self._section(block, level + 1)
                case Paragraph(words, tone):
                    size = {"plain": BODY, "lead": BODY + 1.5, "note": SMALL}[tone]
                    runs = runs_of(words, colour=SOFT if tone == "note" else INK)
                    self.put(lines_of(runs, self.across, size), size)
                    self.y += 4
                case Bullets(items):
                    self._bullets([runs_of(item) for item in items], BODY, LEFT)
                case Caution(title, texts):
                    self._caution(title, texts)
                case Table():
                    self._table(block)
                case FigureBlock(drawn):
                    self._figure(drawn, heading)
                    heading = ""
                case Formula(text, _, said):
                    self._formula(text, said)

    def _bullets(self, items: Sequence[Sequence[Run]], size: float, x: float) -> None:
        for runs in items:
            lines = lines_of(runs, self.across - (x - LEFT) - 10, size)
            self.need(min(len(lines), 3) * size * LEADING)
            self.sheet.marks.append(Text(x, self.y + size, "•", size))
            self.put(lines, size, x=x + 10)
            self.y += 1.5
        self.y += 4

    def _caution(self, title: str, texts: Sequence[str]) -> None:
        self.space(5)
        inset = LEFT + 10
        bullets = [lines_of([Run(text)], self.across - 20, BODY) for text in texts]
        height = sum(len(lines) for lines in bullets) * BODY * LEADING + 30
        if height < self.high - TOP - BOTTOM:
            self.need(height)
        self.need(_KEEP)
        first, top = len(self.sheets) - 1, self.y
        self.y += 3
        self.put(lines_of([Run(title, "bold")], self.across - 10, BODY + 1), BODY + 1, x=inset)
        self._bullets([[Run(text)] for text in texts], BODY, inset)
        # a bar along all of it, over every page it takes
        for number in range(first, len(self.sheets)):
            start = top if number == first else TOP
            end = self.y - 5 if number == len(self.sheets) - 1 else self.high - BOTTOM
            self.sheets[number].marks.append(Rule(LEFT + 1.5, start, LEFT + 1.5, end, 3.0, CARE))
        self.y += 6

    def _formula(self, text: str, said: str) -> None:
        rows = [lines_of([Run(row, "mono")], self.across - 24, SMALL) for row in text.split("; ")]
        note = lines_of([Run(said, colour=SOFT)], self.across - 12, SMALL - 0.6)
        self.need(min(sum(map(len, rows)) + 1, 8) * SMALL * LEADING)
        self.y += 2
        for lines in rows:
            self.put(lines[:1], SMALL, x=LEFT + 12)
            self.put(lines[1:], SMALL, x=LEFT + 24)
        self.put(note, SMALL - 0.6, x=LEFT + 12)
        self.y += 4

    def _figure(self, drawn: Drawn, heading: str) -> None:
        wide, high = (72 * float(inches) for inches in drawn.make().get_size_inches())
        # a figure that is too wide for the paper lies across it
        lying = wide > self.across + 24
        size = (self.high, self.wide) if lying else (self.wide, self.high)
        # one that is larger still has a sheet of its own size
        size = (max(size[0], wide), max(size[1], high + HEAD_ROOM + FOOT_ROOM))
        lines = lines_of([Run(drawn.said, colour=SOFT)], size[0] - 2 * LEFT, SMALL)
        fits = HEAD_ROOM + high + (len(lines) + 1) * SMALL * LEADING + FOOT_ROOM <= size[1]
        sheet = Sheet(*size, self.section, drawn=drawn, top=HEAD_ROOM, opens=bool(heading))
        if heading:
            end = size[0] - LEFT
            sheet.marks.append(Text(end - width_of(heading, OPENING, "bold"), HEAD, heading, OPENING, "bold"))
        self.sheets.append(sheet)
        if not fits:
            self.put(lines_of([Run(f"{drawn.title}. {drawn.said}", colour=SOFT)], self.across, SMALL), SMALL)
            self.y += 4
            return
        y = HEAD_ROOM + high + SMALL + 2
        for line in lines:
            sheet.marks += [Text(LEFT + p.x_pt, y, p.run.text, SMALL, p.run.style, SOFT) for p in line]
            y += SMALL * LEADING

    # ---------------------------------------------------------------- tables

    def _table(self, table: Table) -> None:
        laid = laid_table(table, self.across, TABLE)
        caption = lines_of([Run(table.caption, "bold")], self.across, TABLE + 0.8)
        self.space(5)
        self.need(self._together(table, laid))
        self.put(caption, TABLE + 0.8)
        self._head(laid)
        most = self.high - TOP - BOTTOM - laid.head.height - 2 * (TABLE + 0.8) * LEADING
        for row in (piece for whole in laid.rows for piece in whole.pieces(most, laid.size)):
            if row.height > self.room:
                self.turn()
                again = lines_of(
                    [Run(table.caption, "bold"), Run(", continued", "italic", SOFT)], self.across, TABLE + 0.8
                )
                self.put(again, TABLE + 0.8)
                self._head(laid)
            self._cells(laid, row.cells, row.height)
            self.sheet.marks.append(Rule(LEFT, self.y, LEFT + laid.width, self.y, 0.35))
        self.y += 9

    def _head(self, laid: Laid) -> None:
        self._cells(laid, laid.head.cells, laid.head.height, at_foot=True)
        self.sheet.marks.append(Rule(LEFT, self.y, LEFT + laid.width, self.y, 0.8, INK))

    def _cells(
        self, laid: Laid, cells: Sequence[Sequence[Line]], height: float, *, at_foot: bool = False
    ) -> None:
        step = laid.size * STEP
        for cell, x, width, right in zip(cells, laid.starts, laid.widths, laid.right, strict=True):
            y = self.y + 2.5 + laid.size
            if at_foot:
                y += height - 5 - len(cell) * step
            for line in cell:
                shift = width - line_width(line, laid.size) if right else 0.0
                self._set(line, laid.size, LEFT + x + shift, y)
                y += step
        self.y += height


def sheets_of(document: Document, paper: Paper) -> list[Sheet]:
    """Return the pages of a report.

    Parameters
    ----------
    document : Document
        As `document_of` makes it.
    paper : {"a4", "letter"}
        What it is printed on.
    """
    return Flow(document, paper).lay()
