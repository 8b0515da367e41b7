"""A drawing as plain things in millimetres of the sheet; what writes a file knows nothing but these.

x runs to the right and y up, from the lower left corner of the sheet. A hatch is an area with the pattern that fills
it; whoever draws it takes its lines from `hatching.hatch_lines`, so that every kind of file shows the same ones.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final, Literal

from ...frozen import dataclass

Point = tuple[float, float]
Box = tuple[float, float, float, float]
"""Left, bottom, right, top."""
LineType = Literal["CONTINUOUS", "DASHED", "CENTER", "PHANTOM"]
Align = Literal["left", "centre", "right"]

LEAST_TEXT_MM: Final = 2.5
"""Height of a capital: the least that is read from a print at the bench (ISO 3098, from memory)."""
_SHARES: Final = {
    **dict.fromkeys("mMW@%&\u2014", 1.38),
    **dict.fromkeys("wOQDGHNU\u00d8\u00d7+=<>~", 1.16),
    **dict.fromkeys(" .,:;'|!ijl()[]/f-tr", 0.57),
    **dict.fromkeys("sczkvxyJLF?", 0.83),
}
"""Width of a letter to the height of a capital, no less than that of the common fonts without serifs."""
_LETTER, _CAPITAL, _IDEOGRAM, _FIRST_IDEOGRAM = 0.89, 1.0, 1.4, 0x2E80


@dataclass(frozen=True)
class Layer:
    """What a group of lines holds.

    Parameters
    ----------
    name : str
        Capitals and underscores, as the oldest readers ask.
    width_mm : float
        Of its lines.
    colour : int
        Number of its colour in the palette that DXF files use; 7 is black on white.
    line_type : {"CONTINUOUS", "DASHED", "CENTER", "PHANTOM"}
        Of its lines.
    """

    name: str
    width_mm: float
    colour: int = 7
    line_type: LineType = "CONTINUOUS"


MAST: Final = Layer("MAST", 0.35)
SLEEVES: Final = Layer("SLEEVES", 0.25)
PLUGS: Final = Layer("PLUGS", 0.25)
SHEATHS: Final = Layer("SHEATHS", 0.25)
POST: Final = Layer("POST", 0.25)
SOCKET: Final = Layer("SOCKET", 0.25, 8, "PHANTOM")
BEARINGS: Final = Layer("BEARINGS", 0.25)
SYMBOLS: Final = Layer("SYMBOLS", 0.18, 8)
"""What stands for a thing whose size the rig file does not give."""
DECK: Final = Layer("DECK", 0.35)
OPENINGS: Final = Layer("OPENINGS", 0.25, 7, "DASHED")
WELDS: Final = Layer("WELDS", 0.25)
GLUE_LINES: Final = Layer("GLUE_LINES", 0.25)
HATCHING: Final = Layer("HATCHING", 0.13, 8)
CENTRES: Final = Layer("CENTRES", 0.18, 8, "CENTER")
BREAKS: Final = Layer("BREAKS", 0.25)
CUTS: Final = Layer("CUTS", 0.35)
HEIGHTS: Final = Layer("HEIGHTS", 0.18)
DIAMETERS: Final = Layer("DIAMETERS", 0.18)
LABELS: Final = Layer("LABELS", 0.25)
TABLES: Final = Layer("TABLES", 0.18)
FRAME: Final = Layer("FRAME", 0.7)
TITLE: Final = Layer("TITLE", 0.25)
CAUTIONS: Final = Layer("CAUTIONS", 0.18)
LAYERS: Final = (
    MAST, SLEEVES, PLUGS, SHEATHS, POST, SOCKET, BEARINGS, SYMBOLS, DECK, OPENINGS, WELDS, GLUE_LINES, HATCHING,
    CENTRES, BREAKS, CUTS, HEIGHTS, DIAMETERS, LABELS, TABLES, FRAME, TITLE, CAUTIONS,
)  # fmt: skip


@dataclass(frozen=True)
class Line:
    """A straight line."""

    layer: Layer
    start: Point
    end: Point


@dataclass(frozen=True)
class Polyline:
    """Straight lines one after the other, closed or not."""

    layer: Layer
    points: tuple[Point, ...]
    closed: bool = False


@dataclass(frozen=True)
class Circle:
    """A whole circle."""

    layer: Layer
    centre: Point
    radius: float


@dataclass(frozen=True)
class Arc:
    """Part of a circle, from one angle on to a greater one, against the clock."""

    layer: Layer
    centre: Point
    radius: float
    start_deg: float
    end_deg: float


@dataclass(frozen=True)
class Text:
    """One line of text.

    Parameters
    ----------
    at : tuple of float
        On its base line: left end, middle or right end.
    text : str
        What it says.
    height : float
        Of a capital.
    align : {"left", "centre", "right"}
        Which point of the text `at` is.
    upright : bool
        Whether it is turned a quarter against the clock, to be read from the right.
    """

    layer: Layer
    at: Point
    text: str
    height: float = LEAST_TEXT_MM
    align: Align = "left"
    upright: bool = False


@dataclass(frozen=True)
class Rule:
    """One family of parallel lines in a hatch.

    Parameters
    ----------
    angle_deg : float
        From x.
    spacing, offset : float
        Between lines, and of the first of them.
    dash : float
        Length of a dash and of the gap after it; zero for a line without gaps.
    """

    angle_deg: float
    spacing: float
    offset: float = 0.0
    dash: float = 0.0


@dataclass(frozen=True)
class Hatch:
    """An area filled with lines: inside an odd number of loops.

    Parameters
    ----------
    loops : tuple
        Corners of each loop.
    rules : tuple of Rule
        Families of lines.
    origin : tuple of float
        What the offsets of the lines count from; it moves with the area, so that its lines do.
    """

    layer: Layer
    loops: tuple[tuple[Point, ...], ...]
    rules: tuple[Rule, ...]
    origin: Point = (0.0, 0.0)


Item = Line | Polyline | Circle | Arc | Text | Hatch


@dataclass(frozen=True)
class Sheet:
    """One sheet of paper.

    Parameters
    ----------
    width, height : float
        Of the paper.
    frame : tuple of float
        Left, bottom, right and top of what may be drawn on.
    items : tuple
        What is on it.
    """

    width: float
    height: float
    frame: Box
    items: tuple[Item, ...]


@dataclass(frozen=True)
class Drawing:
    """The sheets of one mast."""

    title: str
    paper: str
    sheets: tuple[Sheet, ...]

    def stacked(self) -> Sheet:
        """Return all sheets on one, the first on top: for files that know no pages."""
        count, first = len(self.sheets), self.sheets[0]
        step = first.height + (20.0 if count > 1 else 0.0)
        items = [
            moved(item, 0.0, (count - 1 - i) * step)
            for i, sheet in enumerate(self.sheets)
            for item in sheet.items
        ]
        left, bottom, right, top = first.frame
        return Sheet(
            first.width,
            first.height + (count - 1) * step,
            (left, bottom, right, top + (count - 1) * step),
            tuple(items),
        )


def moved(item: Item, dx: float, dy: float) -> Item:
    """Return a thing somewhere else."""

    def to(p: Point) -> Point:
        return p[0] + dx, p[1] + dy

    match item:
        case Line():
            return replace(item, start=to(item.start), end=to(item.end))
        case Polyline():
            return replace(item, points=tuple(map(to, item.points)))
        case Hatch():
            loops = tuple(tuple(map(to, loop)) for loop in item.loops)
            return replace(item, loops=loops, origin=to(item.origin))
        case Text():
            return replace(item, at=to(item.at))
        case Circle() | Arc():
            return replace(item, centre=to(item.centre))


def text_width(text: str, height: float = LEAST_TEXT_MM) -> float:
    """Return a width that a text does not exceed, in the common fonts without serifs."""
    return height * sum(map(_share, text))


def _share(c: str) -> float:
    if c in _SHARES:
        return _SHARES[c]
    if ord(c) >= _FIRST_IDEOGRAM:
        return _IDEOGRAM
    return _LETTER if c.isascii() and not c.isupper() else _CAPITAL if c.isascii() else _SHARES["O"]


def box_of(item: Item) -> Box:
    """Return the box a thing lies in; of a text, one that it does not exceed."""
    match item:
        case Line():
            return _around((item.start, item.end))
        case Polyline():
            return _around(item.points)
        case Hatch():
            return _around(p for loop in item.loops for p in loop)
        case Text():
            return _text_box(item)
        case Arc():
            return _around(_arc_points(item))
        case Circle():
            (x, y), r = item.centre, item.radius
            return x - r, y - r, x + r, y + r


def box_of_all(items: Iterable[Item]) -> Box:
    """Return the box that things lie in together."""
    boxes = [box_of(item) for item in items]
    return (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )


def _text_box(text: Text) -> Box:
    (x, y), width, low = text.at, text_width(text.text, text.height), 0.35 * text.height
    back = {"left": 0.0, "centre": width / 2, "right": width}[text.align]
    if text.upright:
        return x - text.height, y - back, x + low, y - back + width
    return x - back, y - low, x - back + width, y + text.height


def _arc_points(arc: Arc) -> Iterator[Point]:
    """Yield the ends of an arc, and where it comes farthest in between."""
    (x, y), r = arc.centre, arc.radius
    first = math.ceil(arc.start_deg / 90.0)
    quarters = (90.0 * k for k in range(first, math.floor(arc.end_deg / 90.0) + 1))
    for degrees in (arc.start_deg, *quarters, arc.end_deg):
        a = math.radians(degrees)
        yield x + r * math.cos(a), y + r * math.sin(a)


def _around(points: Iterable[Point]) -> Box:
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)
