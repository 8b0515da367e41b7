"""The mast and what runs along it: load, shear, moment, slope, deflection, and how far it is used."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ...structure.mesh import HAIR
from .record import Drawn, Scene
from .style import (
    A4_WIDE,
    BAD,
    DASHED,
    FORWARD,
    HAIR_PT,
    INK,
    LINE_PT,
    SIDE,
    SMALL_PT,
    SOFT,
    SPAR,
    THIN_PT,
    TINY_PT,
    halo,
    headed,
    page,
    spread,
    wrapped,
)
from .words import Floats, Scale

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

TITLE = "Along the mast"


def along(scene: Scene) -> Drawn:
    """Return the panels along the mast in its governing case."""
    i = scene.governing
    case, worst = scene.case(i), scene.worst(i)
    moment, height, force = scene.scale("moment"), scene.scale("height"), scene.scale("force")
    shear = _resultant(scene, "shear")
    at = greatest(shear)
    used = scene.result.stations.utilisation[i]
    most = greatest(used)
    said = (
        f"In '{case.name}' the moment of the straight mast is greatest at "
        f"z = {height.text(case.max_moment_height_m)} with {moment.text(case.max_moment_N_m)}, its shear at "
        f"z = {height.text(_heights(scene)[at])} with {force.text(shear[at])}; "
        f"the tip moves {scene.scale('deflection').text(case.tip_deflection_m)}. "
        f"The section is used most at z = {height.text(_heights(scene)[most])}: {_used(used[most])}. The "
        "most used "
        f"check of the case is {worst.id}, {_used(worst.utilisation)}."
    )
    return Drawn("along", TITLE, said, lambda: _draw(scene, i))


def greatest(values: Floats) -> int:
    """Return where values are greatest: of places that differ by rounding alone, the highest."""
    most = float(np.max(values))
    return (
        int(np.flatnonzero(values >= most - 1e-9 * abs(most))[-1])
        if np.isfinite(most)
        else int(np.argmax(values))
    )


def _used(value: float) -> str:
    return f"{value:.2f}" if np.isfinite(value) else "no answer was found"


def _heights(scene: Scene) -> Floats:
    return scene.result.stations.height_m


def planes(scene: Scene, what: str, i: int) -> tuple[Floats, Floats]:
    """Return a quantity of the result along the mast to leeward and forward: ``shear``, ``moment`` and so on."""
    unit = {"shear": "N", "moment": "N_m", "slope": "rad", "deflection": "m"}[what]
    stations = scene.result.stations
    return (
        getattr(stations, f"{what}_side_{unit}")[i],
        getattr(stations, f"{what}_forward_{unit}")[i],
    )


def _resultant(scene: Scene, what: str) -> Floats:
    return np.hypot(*planes(scene, what, scene.governing))


def line_load(scene: Scene, i: int) -> tuple[Floats, Floats]:
    """Return the load per metre to leeward and forward at the heights of the result, own weight included."""
    side, forward = scene.turns(i).across(scene.run.model.line_N_m[:2])
    return side.reshape(-1), forward.reshape(-1)


def point_loads(scene: Scene, i: int) -> list[tuple[float, float, float]]:
    """Return height, side and forward of every force at a point; those at one height together."""
    side, forward = scene.turns(i).across(scene.run.model.point_N[:2])
    edges = scene.run.model.mesh.edges_m
    least = 1e-6 * (float(np.max(np.hypot(side, forward))) or 1.0)
    return [
        (float(z), float(y), float(x))
        for z, y, x in zip(edges, side, forward, strict=True)
        if np.hypot(y, x) > least
    ]


def _draw(scene: Scene, i: int) -> Figure:
    from matplotlib.ticker import MaxNLocator

    notes = [
        "Forces and moments of the straight mast, to leeward and forward in the boat's axes, own weight "
        "included; z is "
        "counted up from the heel bearing. The most is of both ways taken together. A point load is written "
        "beside its height: to leeward | forward. The mast is drawn far wider than it is.",
    ]
    sheet = page(TITLE, scene.of_case(i), size_in=A4_WIDE, notes=notes)
    grid = sheet.grid(
        1,
        7,
        left_in=0.55,
        right_in=0.2,
        above_in=0.62,
        below_in=0.4,
        wspace=0.22,
        width_ratios=[1.95, 1, 1, 1, 1, 1, 1],
    )
    panels = [sheet.figure.add_subplot(grid[0, k]) for k in range(7)]
    length = scene.rig.mast.length_m
    z = scene.scale("height")
    low, high = z.of([-0.03 * length, 1.03 * length])
    for axes in panels:
        axes.set_ylim(float(low), float(high))
        axes.tick_params(axis="y", labelleft=False, length=0)
        axes.xaxis.set_major_locator(MaxNLocator(nbins=3, prune="upper"))
    spar(panels[0], scene, i)
    panels[1].tick_params(axis="y", labelleft=False)
    _load_panel(panels[1], scene, i)
    for axes, what, name, quantity in zip(
        panels[2:6],
        ("shear", "moment", "slope", "deflection"),
        ("Shear", "Moment", "Slope", "Deflection"),
        ("force", "moment", "", "deflection"),
        strict=True,
    ):
        shown = scene.scale(quantity) if quantity else Scale("mm/m", 1e3, 1)
        two_planes(axes, scene, planes(scene, what, i), shown)
        _headline(axes, scene, name, planes(scene, what, i), shown)
    _used_panel(panels[6], scene, i)
    _key(sheet.figure)
    return sheet.figure


def two_planes(axes: Axes, scene: Scene, both: tuple[Floats, Floats], shown: Scale) -> Axes:
    """Draw a quantity along the mast: to leeward as a whole line, forward as a broken one."""
    z = scene.scale("height").of(_heights(scene))
    axes.axvline(0.0, color=SOFT, linewidth=HAIR_PT)
    _mark_bearings(axes, scene)
    axes.plot(shown.of(both[1]), z, color=FORWARD, linestyle=DASHED, linewidth=LINE_PT, gid="forward")
    axes.plot(shown.of(both[0]), z, color=SIDE, linewidth=LINE_PT, gid="side")
    axes.margins(x=0.12)
    return axes


def _mark_bearings(axes: Axes, scene: Scene) -> Axes:
    z = scene.scale("height")
    for height in supports(scene, scene.governing):
        axes.axhline(float(z.of(height)), color=SOFT, linewidth=HAIR_PT, linestyle=(0, (2, 2)))
    return axes


def supports(scene: Scene, i: int) -> tuple[float, float]:
    """Return the heights of the lower and the upper support of a case."""
    held = scene.load(i).held_at_m
    return (0.0, scene.rig.mast.bury_m) if held is None else held


def _headline(axes: Axes, scene: Scene, name: str, both: tuple[Floats, Floats], shown: Scale) -> Axes:
    """Head a panel with the largest resultant and where it is, and put a dot on both lines there."""
    size = np.hypot(*both)
    at = greatest(size)
    z = scene.scale("height")
    height = _heights(scene)[at]
    headed(axes, name, f"most {shown.text(float(size[at]))}", f"at z = {z.text(height)}")
    for values, colour in zip(both, (SIDE, FORWARD), strict=True):
        axes.plot(
            float(shown.of(values[at])),
            float(z.of(height)),
            marker="o",
            markersize=4,
            color=colour,
            markeredgecolor="white",
            zorder=5,
        )
    axes.set_xlabel(shown.unit)
    return axes


def _load_panel(axes: Axes, scene: Scene, i: int) -> Axes:
    shown, force, z = scene.scale("line"), scene.scale("force"), scene.scale("height")
    both = line_load(scene, i)
    two_planes(axes, scene, both, shown)
    points = point_loads(scene, i)
    size = np.hypot(*both)
    at = greatest(size)
    headed(axes, "Load", f"most {shown.text(float(size[at]))}", f"at z = {z.text(_heights(scene)[at])}")
    axes.set_xlabel(shown.unit)
    low, high = axes.get_ylim()
    wanted = [float(z.of(height)) for height, _, _ in points]
    for at_z, place, (_, side, forward) in zip(
        wanted, spread(wanted, (high - low) / 34, low, high), points, strict=True
    ):
        axes.plot(0, at_z, marker="D", markersize=4, color=INK, zorder=5, clip_on=False)
        axes.annotate(
            f"{force.number(side)} | {force.number(forward)} {force.unit}",
            (0.98, float(place)),
            xycoords=("axes fraction", "data"),
            ha="right",
            va="bottom",
            fontsize=TINY_PT,
            bbox=halo(),
            zorder=6,
        )
    return axes


def _used_panel(axes: Axes, scene: Scene, i: int) -> Axes:
    z = scene.scale("height")
    used = scene.result.stations.utilisation[i]
    finite = np.where(np.isfinite(used), used, np.nan)
    _mark_bearings(axes, scene)
    axes.plot(finite, z.of(_heights(scene)), color=INK, linewidth=LINE_PT, gid="used")
    axes.fill_betweenx(z.of(_heights(scene)), 0.0, finite, color=SPAR, alpha=0.35, linewidth=0)
    axes.axvline(1.0, color=BAD, linewidth=THIN_PT, linestyle=DASHED)
    top = float(np.nanmax(finite)) if np.any(np.isfinite(finite)) else 0.0
    axes.set_xlim(0.0, max(1.15, 1.1 * top))
    axes.annotate(
        "limit",
        (1.0, 0.93),
        xycoords=("data", "axes fraction"),
        xytext=(-2, 0),
        textcoords="offset points",
        rotation=90,
        fontsize=TINY_PT,
        color=BAD,
        ha="right",
        va="center",
        bbox=halo(),
    )
    at = greatest(used)
    most = f"{used[at]:.2f}" if np.isfinite(used[at]) else "no answer"
    headed(axes, "Section used", f"most {most}", f"at z = {z.text(_heights(scene)[at])}")
    if np.isfinite(used[at]):
        axes.plot(used[at], float(z.of(_heights(scene)[at])), marker="o", markersize=4, color=INK, zorder=5)
    axes.set_xlabel("demand / capacity")
    return axes


def _key(figure: Figure) -> None:
    from matplotlib.lines import Line2D

    figure.legend(
        handles=[
            Line2D([], [], color=SIDE, linewidth=LINE_PT, label="to leeward"),
            Line2D([], [], color=FORWARD, linewidth=LINE_PT, linestyle=DASHED, label="forward"),
        ],
        loc="upper right",
        bbox_to_anchor=(0.985, 0.985),
        ncols=2,
        frameon=False,
        fontsize=SMALL_PT,
        handlelength=3.2,
    )


def spar(axes: Axes, scene: Scene, i: int) -> Axes:
    """Draw the mast upright with its stations, its sleeves, what fills it, and where it is held."""
    from matplotlib.patches import Rectangle

    mast, stations = scene.rig.mast, scene.result.stations
    z, size = scene.scale("height"), scene.scale("size")
    half = size.of(stations.diameter_m) / 2
    widest = float(np.max(half))
    axes.fill_betweenx(z.of(stations.height_m), -half, half, color=SPAR, linewidth=0, gid="spar")
    for sign in (-1, 1):
        axes.plot(sign * half, z.of(stations.height_m), color=INK, linewidth=THIN_PT)
    marks = _marks(scene)
    pieces = [
        *((s.start_m, s.end_m, "////") for s in mast.sleeve),
        *((p.start_m, p.end_m, "----") for p in mast.plug),
        *((s.start_m, s.end_m, "\\\\\\\\") for s in mast.sheath),
    ]
    for start, end, hatch in pieces:
        wide = 0.72 * float(np.interp((start + end) / 2, stations.height_m, half))
        axes.add_patch(
            Rectangle(
                (-wide, float(z.of(start))),
                2 * wide,
                float(z.of(end - start)),
                facecolor="white",
                edgecolor=SOFT,
                hatch=hatch,
                linewidth=HAIR_PT,
            )
        )
    low, high = axes.get_ylim()
    names = ("lower support", "upper support") if scene.load(i).held_at_m else scene.bearings[::-1]
    for name, height in zip(names, supports(scene, i), strict=True):
        for sign in (-1, 1):
            axes.plot(
                sign * widest * 1.25,
                float(z.of(height)),
                marker=(">", None, "<")[sign + 1],
                markersize=7,
                color=INK,
                clip_on=False,
            )
        marks.append((height, name))
    marks.sort(key=lambda mark: mark[0])
    line = (high - low) * TINY_PT * 1.25 / 72 / (axes.get_position().height * axes.figure.get_figheight())  # type: ignore[union-attr]
    texts = [wrapped(text, 1.4, TINY_PT) for _, text in marks]
    tallest = max((len(lines) for lines in texts), default=1)
    for (height, _), lines, place in zip(
        marks,
        texts,
        spread([float(z.of(h)) for h, _ in marks], line * (tallest + 0.15), low, high),
        strict=True,
    ):
        axes.annotate(
            "\n".join(lines),
            (widest * 1.05, float(z.of(height))),
            xytext=(widest * 2.0, float(place)),
            fontsize=TINY_PT,
            va="center",
            linespacing=1.1,
            arrowprops={"arrowstyle": "-", "color": SOFT, "linewidth": HAIR_PT, "shrinkA": 1, "shrinkB": 0},
            annotation_clip=False,
        )
    axes.set_xlim(-1.6 * widest, 6.2 * widest)
    axes.tick_params(axis="y", labelleft=True, length=2)
    axes.set_xticks([])
    axes.grid(False)
    axes.spines["bottom"].set_visible(False)
    axes.set_ylabel(f"height z, {z.unit}")
    # the wall of a laminate is that of its plies, and its outside what they make of the bore
    laid = [station.bore_m is not None for station in mast.stations]
    given = "bore" if all(laid) else "outside x wall" + (", or bore" if any(laid) else "")
    headed(axes, "Mast", f"{given}, {size.unit}")
    return axes


def _marks(scene: Scene) -> list[tuple[float, str]]:
    """Return what is to be written beside the mast, by height."""
    mast, size = scene.rig.mast, scene.scale("size")
    found: list[tuple[float, str]] = []
    for station in mast.stations:
        outside = station.diameter_m if station.bore_m is None else station.bore_m
        assert outside is not None
        text = size.number(outside) if station.bore_m is None else f"bore {size.number(outside)}"
        if station.breadth_m is not None:
            text += f" by {size.number(station.breadth_m)}"
        if station.wall_m is not None:
            text += f" x {size.number(station.wall_m)}"
        if found and abs(found[-1][0] - station.height_m) < HAIR:
            found[-1] = (station.height_m, f"{found[-1][1]}, then {text}")
        else:
            found.append((station.height_m, text))
    z = scene.scale("height")
    pieces = [
        *((f"sleeve {k}", s.start_m, s.end_m) for k, s in enumerate(mast.sleeve, start=1)),
        *((f"plug {k}", p.start_m, p.end_m) for k, p in enumerate(mast.plug, start=1)),
        *((f"sheath {k}", s.start_m, s.end_m) for k, s in enumerate(mast.sheath, start=1)),
    ]
    found += [
        ((start + end) / 2, f"{name}, {z.number(start)} to {z.text(end)}") for name, start, end in pieces
    ]
    found += [(opening.height_m, "opening") for opening in mast.opening]
    found += [(weld.height_m, "weld") for weld in mast.weld]
    return found
