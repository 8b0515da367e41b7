"""Figures of plain sequences: things compared, what counts most, and how one quantity goes with others.

Each is drawn in the project's look and carries the caution; wrap it in a ``Drawn`` to save it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from ...frozen import dataclass
from .style import (
    A4_WIDE,
    BAD,
    DASHED,
    FILLS,
    FORWARD,
    HAIR_PT,
    HATCHES,
    INK,
    LINE_PT,
    PAPER,
    SIDE,
    SMALL_PT,
    SOFT,
    TINY_PT,
    halo,
    headed,
    look,
    page,
    wrapped,
)
from .words import Floats

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

LABEL_IN = 1.9
MOST_CELLS = (12, 16)
"""Columns and rows up to which every cell of a map has its number written in it."""


@dataclass(frozen=True)
class Series:
    """One quantity of the things compared.

    Parameters
    ----------
    name, unit : str
        What it is, and its unit; empty for a pure number.
    values : sequence of float or None
        One for each thing, in the unit; None where there is none.
    digits : int
        Decimals in the labels.
    limit : float or None
        What it should not go over.
    """

    name: str
    unit: str
    values: Sequence[float | None]
    digits: int = 1
    limit: float | None = None


@dataclass(frozen=True)
class Parameter:
    """A quantity that was varied: its name, unit and values, growing."""

    name: str
    unit: str
    values: Sequence[float]


def comparison_bars(
    labels: Sequence[str],
    series: Sequence[Series],
    *,
    title: str,
    subtitle: str = "",
    notes: Sequence[str] = (),
) -> Figure:
    """Return bars of several quantities side by side, a row to each thing compared.

    Parameters
    ----------
    labels : sequence of str
        Names of the things.
    series : sequence of Series
        A panel to each.
    title, subtitle : str
        Heading.
    notes : sequence of str
        What must be known to read it.

    Raises
    ------
    ValueError
        If there is nothing to compare, or a series is not as long as the labels.
    """
    if not labels or not series:
        raise ValueError("there is nothing to compare")
    if any(len(one.values) != len(labels) for one in series):
        raise ValueError("a series is not as long as the labels")
    names = [wrapped(label, LABEL_IN, SMALL_PT, 3) for label in labels]
    tall = sum(max(1, len(lines)) * 0.16 + 0.16 for lines in names)
    with look():
        sheet = page(title, subtitle, size_in=(A4_WIDE[0], 2.3 + tall), notes=notes)
        grid = sheet.grid(1, len(series), left_in=LABEL_IN + 0.4, above_in=0.6, wspace=0.12)
        for k, one in enumerate(series):
            axes = sheet.figure.add_subplot(grid[0, k])
            _panel(axes, one, FILLS[k % len(FILLS)], HATCHES[k % len(HATCHES)])
            axes.set_yticks(range(len(labels)), ["\n".join(lines) for lines in names], fontsize=SMALL_PT)
            axes.tick_params(axis="y", labelleft=k == 0, length=0)
            headed(axes, one.name, *([] if one.limit is None else [f"limit {_number(one.limit, one)}"]))
        return sheet.figure


def _number(value: float | None, one: Series) -> str:
    if value is None or not math.isfinite(value):
        return "none"
    return f"{value:.{one.digits}f} {one.unit}".rstrip()


def _known(value: float | None) -> float:
    return value if value is not None and math.isfinite(value) else 0.0


def _panel(axes: Axes, one: Series, fill: str, hatch: str) -> Axes:
    known = [_known(value) for value in one.values]
    low, high = min(*known, 0.0, one.limit or 0.0), max(*known, 0.0, one.limit or 0.0)
    span = (high - low) or 1.0
    for row, value in enumerate(one.values):
        over = one.limit is not None and value is not None and value > one.limit
        axes.barh(
            row,
            known[row],
            height=0.62,
            facecolor=BAD if over else fill,
            alpha=0.85,
            hatch="////" if over else hatch,
            edgecolor=SOFT,
            linewidth=HAIR_PT,
            gid=f"{one.name} {row}",
        )
        axes.annotate(
            _number(value, one) + (", over" if over else ""),
            (max(known[row], 0.0), row),
            xytext=(3, 0),
            textcoords="offset points",
            va="center",
            fontsize=TINY_PT,
            weight="bold" if over else "normal",
            bbox=halo(),
            annotation_clip=False,
        )
    if one.limit is not None:
        axes.axvline(one.limit, color=BAD, linestyle=DASHED, linewidth=LINE_PT)
    axes.set_xlim(low, high + 0.75 * span)
    axes.set_ylim(len(one.values) - 0.5, -0.5)
    axes.grid(axis="y", visible=False)
    axes.locator_params(axis="x", nbins=4)
    axes.set_xlabel(one.unit)
    return axes


def ranking_bars(
    names: Sequence[str],
    shares: Sequence[float],
    *,
    title: str,
    subtitle: str = "",
    axis: str = "share, %",
    signed: bool = True,
    notes: Sequence[str] = (),
) -> Figure:
    """Return bars of what counts most, the greatest first, whichever way it goes.

    Parameters
    ----------
    names : sequence of str
        What counts.
    shares : sequence of float
        How much, as shares: 0.25 is shown as +25 %.
    title, subtitle, axis : str
        Heading, and name of the axis.
    signed : bool
        Whether a share that rises has its sign; those of a whole have none.
    notes : sequence of str
        What must be known to read it.

    Raises
    ------
    ValueError
        If there is nothing to rank, or not one share to a name.
    """
    if not names or len(names) != len(shares):
        raise ValueError("a ranking needs names, and one share to each")
    order = sorted(range(len(names)), key=lambda k: -abs(shares[k]))
    texts = [wrapped(names[k], LABEL_IN + 0.6, SMALL_PT, 3) for k in order]
    percent = [100.0 * shares[k] for k in order]
    with look():
        tall = sum(len(lines) * 0.16 + 0.14 for lines in texts)
        sheet = page(title, subtitle, size_in=(7.6, 2.0 + tall), notes=notes)
        axes = sheet.figure.add_subplot(sheet.grid(1, 1, left_in=LABEL_IN + 1.0, right_in=0.4)[0, 0])
        for row, value in enumerate(percent):
            rises = value >= 0.0
            axes.barh(
                row,
                value,
                height=0.62,
                facecolor=SIDE if rises else FORWARD,
                alpha=0.75,
                hatch="" if rises else "////",
                edgecolor=SOFT,
                linewidth=HAIR_PT,
                gid=f"rank {row}",
            )
            axes.annotate(
                f"{value:+.1f} %" if signed else f"{value:.1f} %",
                (value, row),
                xytext=(4 if rises else -4, 0),
                textcoords="offset points",
                ha="left" if rises else "right",
                va="center",
                fontsize=SMALL_PT,
                annotation_clip=False,
            )
        most = max(abs(value) for value in percent) or 1.0
        up, down = max(percent) > 0.0, min(percent) < 0.0
        axes.set_xlim(-1.3 * most if down else 0.0, 1.3 * most if up or not down else 0.0)
        axes.axvline(0.0, color=INK, linewidth=HAIR_PT)
        axes.set_ylim(len(percent) - 0.5, -0.5)
        axes.set_yticks(range(len(percent)), ["\n".join(lines) for lines in texts], fontsize=SMALL_PT)
        axes.tick_params(axis="y", length=0)
        axes.grid(axis="y", visible=False)
        axes.set_xlabel(axis)
        return sheet.figure


def curve_or_map(
    parameters: Sequence[Parameter],
    values: ArrayLike,
    *,
    quantity: str,
    unit: str,
    title: str,
    subtitle: str = "",
    limit: float | None = None,
    digits: int = 2,
    notes: Sequence[str] = (),
) -> Figure:
    """Return how a quantity goes with one parameter, as a curve, or with two, as a map.

    Parameters
    ----------
    parameters : sequence of Parameter
        One, or two: along the map, and up it.
    values : array_like, shape (n,) or (n, m)
        The quantity at every value of the first parameter, and of the second; NaN where there is none.
    quantity, unit : str
        Its name and unit.
    title, subtitle : str
        Heading.
    limit : float, optional
        What it should not go over.
    digits : int
        Decimals in the labels.
    notes : sequence of str
        What must be known to read it.

    Raises
    ------
    ValueError
        If there are not one or two parameters, or the values have another shape than they ask for.
    """
    table = np.asarray(values, dtype=float)
    if (
        len(parameters) not in (1, 2)
        or table.shape != tuple(len(p.values) for p in parameters)
        or not table.size
    ):
        raise ValueError("a curve needs one parameter, a map two, and a value at every value of theirs")
    table = np.where(np.isfinite(table), table, np.nan)
    with look():
        sheet = page(title, subtitle, size_in=(7.6, 5.6), notes=notes)
        axes = sheet.figure.add_subplot(sheet.grid(1, 1, left_in=0.9, right_in=0.45, above_in=0.4)[0, 0])
        first = parameters[0]
        axes.set_xlabel(_axis(first.name, first.unit))
        if len(parameters) == 1:
            _curve(axes, first, table, limit, digits)
            axes.set_ylabel(_axis(quantity, unit))
        else:
            axes.set_ylabel(_axis(parameters[1].name, parameters[1].unit))
            _map(axes, parameters, table, limit, digits)
            told = [] if limit is None else [f"hatched and bold: over the limit of {limit:g}"]
            headed(axes, _axis(quantity, unit), *told)
        return sheet.figure


def _axis(name: str, unit: str) -> str:
    return f"{name}, {unit}" if unit else name


def _curve(axes: Axes, along: Parameter, values: Floats, limit: float | None, digits: int) -> Axes:
    x = np.asarray(along.values, dtype=float)
    axes.plot(x, values, color=SIDE, linewidth=LINE_PT, marker="o", markersize=4, gid="curve")
    if limit is not None:
        axes.axhline(limit, color=BAD, linestyle=DASHED, linewidth=LINE_PT)
        axes.annotate(
            f"limit {limit:g}",
            (1.0, limit),
            xycoords=("axes fraction", "data"),
            xytext=(-3, 3),
            textcoords="offset points",
            ha="right",
            color=BAD,
            fontsize=SMALL_PT,
            bbox=halo(),
        )
    axes.margins(x=0.06, y=0.14)
    low, high = float(x.min()), float(x.max())
    if high > low:
        # by itself the axis would leave out the ends where there is no value
        axes.set_xlim(low - 0.06 * (high - low), high + 0.06 * (high - low))
    known = np.flatnonzero(np.isfinite(values))
    # the ends and the extremes are told; all of them where they are few
    told = known if known.size <= 9 else {known[0], known[-1], np.nanargmax(values), np.nanargmin(values)}
    for k in sorted(int(k) for k in told):
        axes.annotate(
            f"{values[k]:.{digits}f}",
            (x[k], values[k]),
            xytext=(0, 6),
            textcoords="offset points",
            ha="center",
            fontsize=TINY_PT,
            bbox=halo(),
            zorder=6,
        )
    foot, _ = axes.get_ylim()
    for place in x[~np.isfinite(values)]:
        axes.annotate(
            "no answer", (place, foot), rotation=90, ha="center", va="bottom", fontsize=TINY_PT, color=BAD
        )
    return axes


def _map(
    axes: Axes, parameters: Sequence[Parameter], values: Floats, limit: float | None, digits: int
) -> Axes:
    """Draw a cell to every pair of values, darker where the quantity is greater."""
    from matplotlib.colors import LinearSegmentedColormap
    from matplotlib.patches import Rectangle

    shades = LinearSegmentedColormap.from_list("rigcalc", [PAPER, "#9fb9cc"])
    known = values[np.isfinite(values)]
    low, high = (float(known.min()), float(known.max())) if known.size else (0.0, 1.0)
    columns, rows = values.shape
    written = columns <= MOST_CELLS[0] and rows <= MOST_CELLS[1]
    for (i, j), value in np.ndenumerate(values):
        over = not np.isfinite(value) or (limit is not None and value > limit)
        shade = 0.0 if not np.isfinite(value) else (value - low) / ((high - low) or 1.0)
        axes.add_patch(
            Rectangle(
                (i - 0.5, j - 0.5),
                1.0,
                1.0,
                facecolor=shades(shade),
                edgecolor="#c98b80" if over else PAPER,
                hatch="//" if over else "",
                linewidth=HAIR_PT,
                gid=f"cell {i} {j}",
            )
        )
        if written:
            axes.annotate(
                f"{value:.{digits}f}" if np.isfinite(value) else "none",
                (i, j),
                ha="center",
                va="center",
                fontsize=TINY_PT,
                weight="bold" if over else "normal",
                bbox=halo(),
            )
    axes.set_xlim(-0.5, columns - 0.5)
    axes.set_ylim(-0.5, rows - 0.5)
    axes.grid(False)
    every = (max(1, math.ceil(columns / 12)), max(1, math.ceil(rows / 16)))
    axes.set_xticks(range(0, columns, every[0]), [f"{v:g}" for v in parameters[0].values][:: every[0]])
    axes.set_yticks(range(0, rows, every[1]), [f"{v:g}" for v in parameters[1].values][:: every[1]])
    return axes
