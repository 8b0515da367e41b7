"""The look of all figures: colours, sizes of type, the page with its heading and its caution, labels that keep apart.

Every colour is given a line style, a hatch or a word besides, so that a figure can be read in grey. The hues are told
apart by the colour-blind: blue against vermilion, and both against black.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any, Final

import numpy as np
from numpy.typing import NDArray

from ...frozen import dataclass

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from matplotlib.gridspec import GridSpec

CAUTION: Final = (
    "A falling mast can kill: every size is preliminary. Have a naval architect or surveyor review it "
    "before you "
    "build."
)

INK, SOFT, FAINT, PAPER = "#17212b", "#55636f", "#c9d1d8", "#ffffff"
WATER, HULL, SAIL, SPAR = "#dbe8f0", "#e7e0d1", "#f4efe0", "#a9b3bb"
SIDE, FORWARD = "#0a5c9c", "#c4470f"
GOOD, BAD = "#2d6f8f", "#b5321f"
FILLS: Final = ("#a9b3bb", "#d9b382", "#7fa6bf", "#cfd8b0", "#b9a3c4", "#e7e0d1")
HATCHES: Final = ("", "////", "----", "xx", "\\\\\\\\", "++")
DASHED, DOTTED, CHAIN = (0, (5, 2.2)), (0, (1.2, 1.8)), (0, (7, 2, 1.5, 2))

TITLE_PT, TEXT_PT, SMALL_PT, TINY_PT = 13.0, 9.0, 8.0, 7.0
LINE_PT, THIN_PT, HAIR_PT = 1.8, 1.0, 0.6
A4_WIDE, A4_TALL = (10.6, 6.4), (7.2, 10.0)
"""Room on a sheet of A4 within its margins, and with the words below it, in inches."""
_EM = 0.58
"""Mean width of a letter over the size of its type, on the wide side."""

_LOOK: Final[dict[str, Any]] = {
    "font.family": "sans-serif",
    "font.size": TEXT_PT,
    "text.color": INK,
    "text.parse_math": False,  # a name may hold a dollar
    "axes.edgecolor": SOFT,
    "axes.labelcolor": INK,
    "axes.labelsize": SMALL_PT,
    "axes.linewidth": HAIR_PT,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.axisbelow": True,
    "axes.grid": True,
    "axes.formatter.useoffset": False,
    "grid.color": FAINT,
    "grid.linewidth": HAIR_PT,
    "xtick.color": SOFT,
    "ytick.color": SOFT,
    "xtick.labelcolor": INK,
    "ytick.labelcolor": INK,
    "xtick.labelsize": TINY_PT,
    "ytick.labelsize": TINY_PT,
    "hatch.linewidth": 0.6,
    "hatch.color": SOFT,
    "lines.linewidth": LINE_PT,
    "svg.fonttype": "none",
    "pdf.fonttype": 42,
}


@contextmanager
def look(salt: str = "rigcalc") -> Iterator[None]:
    """Draw in the project's look, whatever the settings of the machine; ``salt`` makes the ids of an SVG."""
    import matplotlib

    with matplotlib.rc_context():
        matplotlib.rcdefaults()
        settings: Any = {**_LOOK, "svg.hashsalt": salt}
        matplotlib.rcParams.update(settings)
        yield


def wrapped(text: str, width_in: float, size_pt: float = TEXT_PT, most: int | None = None) -> list[str]:
    """Return a text in lines that fit a width in inches, a word too long broken; cut short after ``most`` lines."""
    letters = max(8, int(width_in * 72 / (size_pt * _EM)))
    return textwrap.wrap(text, letters, max_lines=most, placeholder=" ...") or [""]


@dataclass(frozen=True)
class Page:
    """A figure with its heading and its foot, and the room left between them.

    Parameters
    ----------
    figure : Figure
        With heading and foot written.
    width_in, height_in : float
        Size of the sheet.
    top_in, bottom_in : float
        Where heading and foot end, from the upper and the lower edge.
    """

    figure: Figure
    width_in: float
    height_in: float
    top_in: float
    bottom_in: float

    def grid(
        self,
        rows: int,
        columns: int,
        *,
        left_in: float = 0.65,
        right_in: float = 0.25,
        above_in: float = 0.1,
        below_in: float = 0.45,
        **more: Any,
    ) -> GridSpec:
        """Return a grid in the room left, with margins in inches for labels."""
        return self.figure.add_gridspec(
            rows,
            columns,
            left=left_in / self.width_in,
            right=1 - right_in / self.width_in,
            top=1 - (self.top_in + above_in) / self.height_in,
            bottom=(self.bottom_in + below_in) / self.height_in,
            **more,
        )

    def room_in(self, *, above_in: float = 0.1, below_in: float = 0.45) -> float:
        """Return the height of the room left."""
        return self.height_in - self.top_in - self.bottom_in - above_in - below_in


MARGIN_IN = 0.25
KEY_IN = 2.6
"""Room beside a heading for a key."""


def _step_in(size_pt: float) -> float:
    """Return the height of a line of type."""
    return size_pt * 1.35 / 72


def page(title: str, subtitle: str, *, size_in: tuple[float, float], notes: Sequence[str] = ()) -> Page:
    """Return a sheet with its heading, its notes and the caution at its foot.

    Parameters
    ----------
    title, subtitle : str
        What the figure shows, and of which rig and case.
    size_in : (float, float)
        Width and height in inches.
    notes : sequence of str
        What must be known to read it.
    """
    from matplotlib.figure import Figure

    width, height = size_in
    figure = Figure(figsize=size_in, facecolor=PAPER)
    across = width - 2 * MARGIN_IN
    x = MARGIN_IN / width

    def write(lines: Sequence[str], top_in: float, size_pt: float, **how: Any) -> float:
        step = _step_in(size_pt)
        for i, line in enumerate(lines):
            figure.text(x, 1 - (top_in + i * step) / height, line, fontsize=size_pt, va="top", **how)
        return top_in + len(lines) * step

    y = write(wrapped(title, across - KEY_IN, TITLE_PT, 2), MARGIN_IN, TITLE_PT, weight="bold")
    y = write(wrapped(subtitle, across, TEXT_PT, 3), y + 0.02, TEXT_PT, color=SOFT)
    said = [line for note in notes for line in wrapped(note, across, TINY_PT)]
    caution = wrapped(CAUTION, across, TINY_PT)
    foot = MARGIN_IN - 0.1 + (len(said) + len(caution)) * _step_in(TINY_PT) + 0.03
    at = write(said, height - foot, TINY_PT, color=SOFT)
    write(caution, at + 0.03, TINY_PT)
    return Page(figure, width, height, y + 0.08, foot + 0.08)


def spread(wanted: Sequence[float], gap: float, low: float, high: float) -> NDArray[np.float64]:
    """Return places at least ``gap`` apart, in the order of those wanted and as near to them as can be.

    Neighbours that crowd are moved together about their mean (pool adjacent violators). Where there is not
    room for all between ``low`` and ``high`` the gap shrinks.
    """
    n = len(wanted)
    if n == 0:
        return np.empty(0)
    order = np.argsort(np.asarray(wanted, dtype=float), kind="stable")
    gap = min(gap, (high - low) / max(n - 1, 1))
    blocks: list[tuple[float, int]] = []
    for rank, i in enumerate(order):
        blocks.append((float(wanted[i]) - rank * gap, 1))
        while len(blocks) > 1 and blocks[-2][0] > blocks[-1][0]:
            (a, m), (b, k) = blocks[-2:]
            blocks[-2:] = [((a * m + b * k) / (m + k), m + k)]
    level = np.repeat([mean for mean, _ in blocks], [count for _, count in blocks])
    level = np.clip(level, low, high - (n - 1) * gap)
    placed = np.empty(n)
    placed[order] = level + np.arange(n) * gap
    return placed


def bare(axes: Axes) -> Axes:
    """Take frame, ticks and grid away: a drawing, no graph."""
    axes.set_axis_off()
    axes.grid(False)
    return axes


def headed(axes: Axes, name: str, *more: str) -> Axes:
    """Head a panel with its name, and with what is to be read off it below."""
    axes.set_title("\n".join(more), fontsize=TINY_PT, loc="left", color=INK, linespacing=1.35)
    lines = len(more)
    axes.annotate(
        name,
        (0, 1),
        xytext=(0, 8 + lines * TINY_PT * 1.45),
        xycoords="axes fraction",
        textcoords="offset points",
        fontsize=TEXT_PT,
        weight="bold",
        va="bottom",
        annotation_clip=False,
    )
    return axes


def halo() -> dict[str, Any]:
    """Return the white ground that keeps a label readable where it crosses a line; it leaves text as text."""
    return {"facecolor": PAPER, "edgecolor": "none", "alpha": 0.75, "pad": 0.8}
