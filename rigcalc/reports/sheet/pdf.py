"""The report as PDF, drawn with matplotlib alone: type and rules on pages, figures as they are drawn."""

from __future__ import annotations

from pathlib import Path
from typing import IO, Any, Final

from ..figures.write import drawing
from .ink import LINE, SOFT
from .pages import FOOT, HEAD, LEFT, SMALL, Paper, Rule, Sheet, Text, sheets_of
from .record import Document
from .type import Run, face, lines_of, width_of

WARNED: Final = (
    "A falling mast can kill: every size is preliminary. Have it reviewed before you order or build."
)


def save_pdf(document: Document, path: Path | str | IO[bytes], *, paper: Paper = "a4") -> None:
    """Write a report as PDF; the same report gives the same bytes.

    Parameters
    ----------
    document : Document
        As `document_of` makes it.
    path : path or binary file
        File to write.
    paper : {"a4", "letter"}
        What it is printed on.

    Raises
    ------
    OSError
        If it cannot be written.
    """
    from matplotlib.backends.backend_pdf import PdfPages

    # no date, and no version of what wrote it: the same report gives the same bytes
    about = {"Title": document.title, "Creator": "rigcalc", "Producer": "rigcalc", "CreationDate": None}
    sheets = sheets_of(document, paper)
    with drawing("page"), PdfPages(path, metadata=about) as pages:
        for number, sheet in enumerate(sheets, start=1):
            marks = _around(document, sheet, number, len(sheets))
            if sheet.drawn is None:
                _save_words(pages, sheet, [*marks, *sheet.marks])
            else:
                _save_figure(pages, sheet, [*marks, *sheet.marks])


def _around(document: Document, sheet: Sheet, number: int, of: int) -> list[Text | Rule]:
    """Return head and foot of a page."""
    size = SMALL - 0.8
    right = sheet.wide - LEFT
    word = "PASS" if document.passed else "FAIL"
    title = lines_of([Run(f"{document.title}: {word}")], right - LEFT - 200, size)
    page = f"page {number} of {of}"
    foot = sheet.high - FOOT
    marks: list[Text | Rule] = [
        Rule(LEFT, foot - 10, right, foot - 10, 0.4, LINE),
        Text(LEFT, foot, f"{document.foot}. {WARNED}", size - 0.8, colour=SOFT),
        Text(right - width_of(page, size), foot, page, size, colour=SOFT),
    ]
    if number > 1:
        marks += [
            Rule(LEFT, HEAD + 5, right, HEAD + 5, 0.4, LINE),
            *(Text(LEFT, HEAD, part.run.text, size, colour=SOFT) for part in title[0]),
        ]
    if number > 1 and not sheet.opens:
        marks.append(Text(right - width_of(sheet.section, size), HEAD, sheet.section, size, colour=SOFT))
    return marks


def _save_words(pages: Any, sheet: Sheet, marks: list[Text | Rule]) -> None:
    from matplotlib.artist import Artist
    from matplotlib.figure import Figure
    from matplotlib.path import Path as Outline
    from matplotlib.transforms import IdentityTransform

    class Ink(Artist):
        """Everything on a page, drawn at once: an artist for each word would cost ten times as much."""

        def draw(self, renderer: Any) -> None:
            for mark in marks:
                pen = renderer.new_gc()
                pen.set_foreground(mark.colour)
                if isinstance(mark, Text):
                    font = face(mark.style)
                    font.set_size(mark.size)
                    renderer.draw_text(pen, mark.x, sheet.high - mark.y, mark.text, font, 0.0)
                else:
                    pen.set_linewidth(mark.wide)
                    pen.set_capstyle("butt")
                    ends = [(mark.x0, sheet.high - mark.y0), (mark.x1, sheet.high - mark.y1)]
                    renderer.draw_path(pen, Outline(ends), IdentityTransform())
                pen.restore()

    figure = Figure(figsize=(sheet.wide / 72, sheet.high / 72))
    figure.add_artist(Ink(), clip=False)
    pages.savefig(figure)


def _save_figure(pages: Any, sheet: Sheet, marks: list[Text | Rule]) -> None:
    """Put a figure on a page as it is, with head and foot written beyond its edges."""
    from matplotlib.lines import Line2D
    from matplotlib.transforms import Bbox

    drawn = sheet.drawn
    assert drawn is not None
    with drawing(drawn.name):
        figure = drawn.make()
        wide, high = (72 * float(inches) for inches in figure.get_size_inches())
        left, top = (sheet.wide - wide) / 2, sheet.top
        for mark in marks:
            if isinstance(mark, Text):
                figure.text(
                    (mark.x - left) / wide,
                    1 - (mark.y - top) / high,
                    mark.text,
                    fontproperties=face(mark.style),
                    fontsize=mark.size,
                    color=mark.colour,
                    va="baseline",
                )
            else:
                figure.add_artist(
                    Line2D(
                        [(mark.x0 - left) / wide, (mark.x1 - left) / wide],
                        [1 - (mark.y0 - top) / high, 1 - (mark.y1 - top) / high],
                        color=mark.colour,
                        linewidth=mark.wide,
                        transform=figure.transFigure,
                    ),
                    clip=False,
                )
        below = sheet.high - top - high
        box = Bbox.from_bounds(-left / 72, -below / 72, sheet.wide / 72, sheet.high / 72)
        pages.savefig(figure, bbox_inches=box)
