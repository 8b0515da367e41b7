"""The drawing as PDF and SVG, by matplotlib, which is loaded here and only when a file is asked for.

No date, no random names, no settings of the user's: the same drawing gives the same bytes.
"""

from __future__ import annotations

import io
import warnings
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any, Final

from .hatching import hatch_lines
from .scene import Arc, Circle, Drawing, Hatch, Item, Layer, Line, Polyline, Sheet, Text

if TYPE_CHECKING:
    from matplotlib.figure import Figure

_INCH: Final = 25.4
_POINT: Final = 72.0 / _INCH
CAPITAL: Final = 0.729
"""Height of a capital of the font, DejaVu Sans, to its size; read in the font, and shown by a test."""
_FONT: Final = "DejaVu Sans"
_DASHES: Final[dict[str, Any]] = {
    "CONTINUOUS": "solid",
    "DASHED": (0, (2.0 * _POINT, 1.0 * _POINT)),
    "CENTER": (0, tuple(v * _POINT for v in (8.0, 1.5, 1.5, 1.5))),
    "PHANTOM": (0, tuple(v * _POINT for v in (6.0, 1.0, 1.0, 1.0, 1.0, 1.0))),
}
_ALIGN: Final[dict[str, Any]] = {"left": "left", "centre": "center", "right": "right"}
_SETTINGS: Final = {
    "font.family": [_FONT],
    "lines.scale_dashes": False,
    "path.simplify": False,
    "pdf.fonttype": 42,
    "svg.fonttype": "none",
    "svg.hashsalt": "rigcalc",
    "text.parse_math": False,
}


def pdf_bytes(drawing: Drawing) -> bytes:
    """Return a drawing as a PDF, a page for each sheet."""
    import matplotlib
    from matplotlib.backends.backend_pdf import PdfPages

    found = io.BytesIO()
    with matplotlib.rc_context():
        _settle(matplotlib)
        told = {"Title": drawing.title, "Creator": "rigcalc", "CreationDate": None}
        with PdfPages(found, metadata=told) as pages, _unwarned():
            for sheet in drawing.sheets:
                pages.savefig(_figure(sheet))
    return found.getvalue()


def svg_bytes(drawing: Drawing) -> bytes:
    """Return a drawing as SVG, its sheets one above the other."""
    return _image(drawing.stacked(), "svg", {"Title": drawing.title, "Creator": "rigcalc", "Date": None})


def png_bytes(sheet: Sheet, *, dots_per_inch: float = 100.0) -> bytes:
    """Return a sheet as a picture."""
    return _image(sheet, "png", {"Software": "rigcalc"}, dots_per_inch)


def missing_letters(drawing: Drawing) -> str:
    """Return the letters of a drawing that the font of PDF and PNG files does not have."""
    from matplotlib.font_manager import FontProperties, findfont, get_font

    font = get_font(findfont(FontProperties(family=_FONT)))
    texts = {item.text for sheet in drawing.sheets for item in sheet.items if isinstance(item, Text)}
    return "".join(sorted(c for c in set().union(*texts) if font.get_char_index(ord(c)) == 0))


def _image(sheet: Sheet, form: str, told: dict[str, Any], dots_per_inch: float = 72.0) -> bytes:
    import matplotlib

    found = io.BytesIO()
    with matplotlib.rc_context():
        _settle(matplotlib)
        with _unwarned():
            _figure(sheet).savefig(found, format=form, dpi=dots_per_inch, metadata=told)
    return found.getvalue()


@contextmanager
def _unwarned() -> Iterator[None]:
    """Keep matplotlib from telling of each letter that the font lacks: `missing_letters` tells of all, once."""
    with warnings.catch_warnings():
        warnings.filterwarnings("ignore", message="Glyph")
        yield


def _settle(matplotlib: Any) -> None:
    matplotlib.rcdefaults()
    matplotlib.rcParams.update(_SETTINGS)


def _figure(sheet: Sheet) -> Figure:
    from matplotlib.figure import Figure

    figure = Figure(figsize=(sheet.width / _INCH, sheet.height / _INCH))
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set_xlim(0.0, sheet.width)
    axes.set_ylim(0.0, sheet.height)
    axes.set_axis_off()
    for layer in dict.fromkeys(item.layer for item in sheet.items):
        own = [item for item in sheet.items if item.layer == layer]
        for artist in _artists(layer, own):
            axes.add_artist(artist)
    return figure


def _artists(layer: Layer, items: Sequence[Item]) -> Iterator[Any]:
    """Yield what draws the things of one layer."""
    from matplotlib.collections import LineCollection
    from matplotlib.patches import Arc as ArcPatch
    from matplotlib.patches import Circle as CirclePatch
    from matplotlib.text import Text as TextArtist

    pen = {"linewidth": layer.width_mm * _POINT, "linestyle": _DASHES[layer.line_type]}
    lines: list[list[tuple[float, float]]] = []
    for item in items:
        match item:
            case Line():
                lines.append([item.start, item.end])
            case Hatch():
                lines += [[line.start, line.end] for line in hatch_lines(item)]
            case Polyline():
                lines.append([*item.points, item.points[0]] if item.closed else list(item.points))
            case Circle():
                yield CirclePatch(item.centre, item.radius, fill=False, **pen)
            case Arc():
                size = 2 * item.radius
                yield ArcPatch(item.centre, size, size, theta1=item.start_deg, theta2=item.end_deg, **pen)
            case Text():
                yield TextArtist(
                    *item.at,
                    item.text,
                    fontsize=item.height / CAPITAL * _POINT,
                    horizontalalignment=_ALIGN[item.align],
                    verticalalignment="baseline",
                    rotation=90.0 if item.upright else 0.0,
                    rotation_mode="anchor",
                )
    if lines:
        yield LineCollection(lines, colors="black", capstyle="round", **pen)
