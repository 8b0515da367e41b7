"""Figures as files and as SVG to stand in a page: the same figure gives the same bytes."""

from __future__ import annotations

import io
import re
import warnings
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Final
from xml.sax.saxutils import escape

from .record import Drawn
from .style import look

FORMATS: Final = ("svg", "png", "pdf")
DPI: Final = 200

_FAMILY: Final = re.compile(r"font-family: [^;\"]*")
_NOT_XML: Final = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]")
_STYLE: Final = re.compile(r"\s*<defs>\s*<style type=\"text/css\">[^<]*</style>\s*</defs>")


def svg_of(drawn: Drawn) -> str:
    """Return a figure as SVG to stand in a page: it fills what holds it, and tells itself to a screen reader.

    Ids begin with the figure's name, so that several can stand in one page.
    """
    body, box = _body(drawn)
    return _tag(drawn, f'viewBox="0 0 {box[0]} {box[1]}"') + body


def save(drawn: Drawn, path: Path | str, dpi: int = DPI) -> None:
    """Write a figure to a file; its suffix says how.

    Parameters
    ----------
    drawn : Drawn
        The figure.
    path : path
        Ends in .svg, .png or .pdf.
    dpi : int
        Dots per inch of a PNG.

    Raises
    ------
    ValueError
        If the suffix is none of these.
    """
    kind = Path(path).suffix.lower().removeprefix(".")
    if kind not in FORMATS:
        raise ValueError(f"a figure is written as {', '.join(FORMATS)}, not as {kind!r}")
    if kind == "pdf":
        save_pages([drawn], path)
    elif kind == "svg":
        body, (width, height) = _body(drawn)
        tag = _tag(drawn, f'width="{width}pt" height="{height}pt" viewBox="0 0 {width} {height}"')
        text = f'<?xml version="1.0" encoding="utf-8"?>\n{tag}{body}'
        Path(path).write_text(text, encoding="utf-8", newline="\n")
    else:
        with drawing(drawn.name):
            drawn.make().savefig(path, format="png", dpi=dpi, metadata={"Title": drawn.title})


def save_pages(figures: Sequence[Drawn], path: Path | str) -> None:
    """Write figures to one PDF, a page to each."""
    from matplotlib.backends.backend_pdf import PdfPages

    # no date, and no version of what wrote it: the same figures give the same bytes
    about = {"Title": figures[0].title, "Creator": "rigcalc", "Producer": "rigcalc", "CreationDate": None}
    with look(), PdfPages(path, metadata=about) as pages:
        for drawn in figures:
            with drawing(drawn.name):
                pages.savefig(drawn.make())


@contextmanager
def drawing(name: str) -> Iterator[None]:
    """Draw in the look of a figure, or of a page, of this name."""
    with look(name), warnings.catch_warnings():
        # a letter that the typeface lacks is drawn as a box; a browser finds it elsewhere
        warnings.filterwarnings("ignore", message="Glyph .* missing from")
        yield


def _body(drawn: Drawn) -> tuple[str, tuple[str, str]]:
    """Return what stands in the svg element, its end tag included, and the size of its box."""
    out = io.StringIO()
    with drawing(drawn.name):
        nothing = dict.fromkeys(("Date", "Creator", "Format", "Type"))
        drawn.make().savefig(out, format="svg", metadata=nothing)
    text = _NOT_XML.sub("", out.getvalue())
    opening = re.search(r"<svg [^>]*viewBox=\"0 0 ([\d.]+) ([\d.]+)\"[^>]*>", text)
    assert opening is not None
    # joins and caps are told on the element itself: a style sheet would reach all of the page
    inner = _STYLE.sub("", text[opening.end() :], count=1)
    inner = _FAMILY.sub("font-family: sans-serif", inner)
    # groups are named by nothing that refers to them: their names are our own, and may stand twice
    inner = re.sub(r'<g id="[^"]*"', "<g", inner)
    inner = re.sub(r'(<\w+ id=")', rf"\1{drawn.name}-", inner)
    inner = re.sub(r'(xlink:href="|url\()#', rf"\1#{drawn.name}-", inner)
    return inner, (opening[1], opening[2])


def _tag(drawn: Drawn, size: str) -> str:
    title, said = (escape(_NOT_XML.sub("", text)) for text in (drawn.title, drawn.said))
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" version="1.1" '
        f'{size} role="img" aria-labelledby="{drawn.name}-title {drawn.name}-desc" '
        'stroke-linejoin="round" stroke-linecap="butt">\n'
        f' <title id="{drawn.name}-title">{title}</title>\n <desc id="{drawn.name}-desc">{said}</desc>'
    )
