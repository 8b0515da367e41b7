"""The drawing as DXF R12 (AC1009) in ASCII: the plainest form of that open format, which everything reads.

Only LINE, ARC, CIRCLE, TEXT and POLYLINE are written; a hatch is its lines. Sheets stand one above the other in
model space, in millimetres of the sheet.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from .hatching import hatch_lines
from .scene import LAYERS, Arc, Circle, Drawing, Hatch, Item, Layer, Line, Point, Polyline, Text

Group = tuple[int, str]

_LINE_TYPES: Final[dict[str, tuple[str, tuple[float, ...]]]] = {
    "CONTINUOUS": ("Solid line", ()),
    "DASHED": ("Dashed __ __ __", (2.0, -1.0)),
    "CENTER": ("Center ____ _ ____", (8.0, -1.5, 1.5, -1.5)),
    "PHANTOM": ("Phantom ____ _ _ ____", (6.0, -1.0, 1.0, -1.0, 1.0, -1.0)),
}
_ALIGN: Final = {"left": 0, "centre": 1, "right": 2}
_WIDTH_FACTOR: Final = 0.8
"""Narrows the plain font that every reader has, to keep texts within the boxes they were laid out in."""


def dxf_text(drawing: Drawing) -> str:
    """Return a drawing as the text of a DXF file."""
    sheet = drawing.stacked()
    groups = [
        *_header(sheet.width, sheet.height),
        *_section("TABLES", _tables()),
        *_section("ENTITIES", (group for item in sheet.items for group in _entity(item))),
        (0, "EOF"),
    ]
    return "".join(f"{code:3d}\n{value}\n" for code, value in groups)


def _header(width: float, height: float) -> Iterator[Group]:
    variables: list[Group] = [(9, "$ACADVER"), (1, "AC1009")]
    for name, x, y in (
        ("$EXTMIN", 0.0, 0.0),
        ("$EXTMAX", width, height),
        ("$LIMMIN", 0.0, 0.0),
        ("$LIMMAX", width, height),
    ):
        variables += [(9, name), (10, _number(x)), (20, _number(y))]
        if name.startswith("$EXT"):
            variables.append((30, _number(0.0)))
    variables += [
        (9, "$LTSCALE"),
        (40, _number(1.0)),
        (9, "$LUNITS"),
        (70, "2"),
        (9, "$TEXTSTYLE"),
        (7, "SHEET"),
    ]
    return _section("HEADER", variables)


def _section(name: str, groups: Iterator[Group] | list[Group]) -> Iterator[Group]:
    yield from ((0, "SECTION"), (2, name))
    yield from groups
    yield (0, "ENDSEC")


def _tables() -> Iterator[Group]:
    yield from ((0, "TABLE"), (2, "LTYPE"), (70, f"{len(_LINE_TYPES)}"))
    for name, (said, dashes) in _LINE_TYPES.items():
        yield from ((0, "LTYPE"), (2, name), (70, "0"), (3, said), (72, "65"), (73, f"{len(dashes)}"))
        yield 40, _number(sum(map(abs, dashes)))
        yield from ((49, _number(dash)) for dash in dashes)
    yield (0, "ENDTAB")
    yield from ((0, "TABLE"), (2, "LAYER"), (70, f"{len(LAYERS) + 1}"))
    for layer in (Layer("0", 0.0), *LAYERS):
        yield from ((0, "LAYER"), (2, layer.name), (70, "0"), (62, f"{layer.colour}"), (6, layer.line_type))
    yield (0, "ENDTAB")
    yield from ((0, "TABLE"), (2, "STYLE"), (70, "1"))
    yield from ((0, "STYLE"), (2, "SHEET"), (70, "0"), (40, _number(0.0)), (41, _number(_WIDTH_FACTOR)))
    yield from ((50, _number(0.0)), (71, "0"), (42, _number(2.5)), (3, "txt"), (4, ""))
    yield (0, "ENDTAB")


def _entity(item: Item) -> Iterator[Group]:
    match item:
        case Hatch():
            for line in hatch_lines(item):
                yield from _entity(line)
        case Line():
            yield from _begin("LINE", item.layer)
            yield from _point(item.start)
            yield from _point(item.end, 1)
        case Polyline():
            yield from _begin("POLYLINE", item.layer)
            yield from ((66, "1"), (70, "1" if item.closed else "0"))
            yield from _point((0.0, 0.0))
            for point in item.points:
                yield from _begin("VERTEX", item.layer)
                yield from _point(point)
            yield from _begin("SEQEND", item.layer)
        case Circle():
            yield from _begin("CIRCLE", item.layer)
            yield from _point(item.centre)
            yield 40, _number(item.radius)
        case Arc():
            yield from _begin("ARC", item.layer)
            yield from _point(item.centre)
            yield 40, _number(item.radius)
            yield 50, _number(item.start_deg % 360.0)
            yield 51, _number(item.end_deg % 360.0)
        case Text():
            yield from _begin("TEXT", item.layer)
            yield from _point(item.at)
            yield 40, _number(item.height)
            yield 1, encoded(item.text)
            yield 50, _number(90.0 if item.upright else 0.0)
            yield 41, _number(_WIDTH_FACTOR)
            yield 7, "SHEET"
            if item.align != "left":
                yield 72, f"{_ALIGN[item.align]}"
                yield from _point(item.at, 1)


def _begin(kind: str, layer: Layer) -> Iterator[Group]:
    yield from ((0, kind), (8, layer.name))


def _point(point: Point, which: int = 0) -> Iterator[Group]:
    yield from ((10 + which, _number(point[0])), (20 + which, _number(point[1])), (30 + which, _number(0.0)))


def _number(value: float) -> str:
    """Return a number to a hundred thousandth of a millimetre, with its point, as some readers ask."""
    text = f"{value:.5f}".rstrip("0")
    text = f"{text}0" if text.endswith(".") else text
    return "0.0" if text == "-0.0" else text


def encoded(text: str) -> str:
    """Return a text in ASCII, as DXF has the signs of drawings and every other letter."""
    safe = text.replace("%%", "%%%%%%")  # two in a row would begin a sign; three are one
    # the escape of a letter came after R12: a sign in every size must not hang on it
    signs = {"Ø": "%%c", "°": "%%d", "±": "%%p", "×": "x"}
    return "".join(signs.get(c) or (c if c.isascii() else _escaped(c)) for c in safe)


def _escaped(c: str) -> str:
    # beyond the first plane a letter is two halves, as in UTF-16
    raw = c.encode("utf-16-be")
    return "".join(f"\\U+{raw[i]:02X}{raw[i + 1]:02X}" for i in range(0, len(raw), 2))
