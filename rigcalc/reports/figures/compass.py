"""The force on the partners around the compass: in every case, on both tacks."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ...bearings import HullLoad
from .record import Drawn, Scene
from .style import (
    DASHED,
    FAINT,
    FORWARD,
    HAIR_PT,
    INK,
    LINE_PT,
    PAPER,
    SIDE,
    SMALL_PT,
    SOFT,
    TINY_PT,
    page,
    wrapped,
)
from .words import Scale

if TYPE_CHECKING:
    from matplotlib.figure import Figure


def missing(scene: Scene) -> str | None:
    """Tell why the figure cannot be made, or nothing."""
    return (
        None
        if scene.result.turning is not None
        else "every case hangs the mast in slings: no bearing is loaded"
    )


def loads(scene: Scene) -> tuple[HullLoad, ...]:
    """Return what every case asks of the partners, the greatest force first."""
    assert scene.result.turning is not None
    return tuple(sorted(scene.result.turning.hull, key=lambda load: -size_of(load)))


def size_of(load: HullLoad) -> float:
    """Return the force of the mast on the partners."""
    return float(np.hypot(load.partners_side_N, load.partners_forward_N))


def bearing_of(load: HullLoad) -> float:
    """Return the direction of that force, from the bow towards leeward."""
    return float(np.arctan2(load.partners_side_N, load.partners_forward_N))


def compass(scene: Scene) -> Drawn:
    """Return the forces of the mast on the partners around the compass."""
    upper, _ = scene.bearings
    force, found = scene.scale("force"), loads(scene)
    title = f"Forces on the {upper}, around the compass"
    each = "; ".join(
        f"{load.case} {force.text(size_of(load))} at {_told(load)}, {load.partners_mast}" for load in found
    )
    said = (
        f"Force of the mast on the {upper}, straight or bent, whichever has more, from the bow round towards "
        f"leeward: {each}. On the other tack the same "
        "stands on the other side."
    )
    return Drawn("compass", title, said, lambda: _draw(scene, title, found))


def _told(load: HullLoad) -> str:
    angle = float(np.degrees(bearing_of(load)))
    return f"{abs(angle):.0f} deg" + (" to windward" if angle < -0.5 else "")


def _draw(scene: Scene, title: str, found: tuple[HullLoad, ...]) -> Figure:
    force = scene.scale("force")
    notes = [
        "Seen from above, bow up. Whole lines: wind from port, so that leeward is to starboard; broken "
        "lines: the other "
        "tack. Lengths are forces on the hull, of the straight or the bent mast, whichever has more. Cases "
        "that hang the mast in slings are "
        "left out.",
    ]
    width, height, key_in = 9.8, 6.4, 3.1
    rows = [_row(load, force, key_in - 0.45) for load in found]
    step = SMALL_PT * 1.3 / 72
    height = max(height, 1.9 + sum(len(row) * step + 0.07 for row in rows))
    sheet = page(title, scene.result.title, size_in=(width, height), notes=notes)
    room = sheet.room_in(above_in=0.3, below_in=0.25)
    wide = min(room, width - key_in - 1.8)
    axes = sheet.figure.add_axes(
        (
            0.75 / width,
            (sheet.bottom_in + 0.25 + (room - wide) / 2) / height,
            wide / width,
            wide / height,
        ),
        projection="polar",
    )
    axes.set_theta_zero_location("N")  # type: ignore[attr-defined]  # a polar axes
    axes.set_theta_direction(-1)  # type: ignore[attr-defined]  # as above
    most = float(force.of(max(size_of(load) for load in found))) or 1.0
    axes.set_ylim(0, 1.18 * most)
    axes.set_xticks(np.radians(np.arange(0, 360, 45)))
    names = ["bow", "45 deg", "starboard", "135 deg", "stern", "135 deg", "port", "45 deg"]
    axes.set_xticklabels(names, fontsize=SMALL_PT)
    axes.set_rlabel_position(157.5)  # type: ignore[attr-defined]  # as above
    rings = [float(tick) for tick in axes.get_yticks() if 0 < tick <= 1.1 * most]
    axes.set_yticks(rings, [f"{ring:g} {force.unit}" for ring in rings])
    axes.tick_params(axis="y", labelsize=TINY_PT)
    axes.tick_params(axis="x", pad=6)
    axes.spines["polar"].set_color(FAINT)
    for tack, style, colour in ((-1, DASHED, FORWARD), (1, "-", SIDE)):
        for load in found:
            axes.plot(
                [0.0, tack * bearing_of(load)],
                [0.0, float(force.of(size_of(load)))],
                color=colour,
                linestyle=style,
                linewidth=LINE_PT,
                solid_capstyle="butt",
                gid=f"{'starboard' if tack > 0 else 'port'} {load.case}",
            )
    for numbers, angle, radius in _marks(found, [float(force.of(size_of(load))) for load in found], most):
        for tack in (1, -1):
            axes.annotate(
                numbers,
                (tack * angle, radius),
                ha="center",
                va="center",
                fontsize=TINY_PT,
                weight="bold",
                color=INK,
                bbox={
                    "boxstyle": "round,pad=0.25,rounding_size=0.6",
                    "facecolor": PAPER,
                    "edgecolor": SOFT,
                    "linewidth": HAIR_PT,
                },
                zorder=6,
                annotation_clip=False,
            )
    x, y = (0.75 + wide + 0.95) / width, 1 - (sheet.top_in + 0.35) / height
    sheet.figure.text(
        x, y, f"Force in {force.unit}, direction from the bow", fontsize=SMALL_PT, weight="bold", va="top"
    )
    y -= 2 * step / height
    for number, row in enumerate(rows, start=1):
        sheet.figure.text(x, y, str(number), fontsize=SMALL_PT, weight="bold", va="top")
        sheet.figure.text(x + 0.25 / width, y, "\n".join(row), fontsize=SMALL_PT, va="top", linespacing=1.25)
        y -= (len(row) * step + 0.07) / height
    return sheet.figure


def _row(load: HullLoad, force: Scale, width_in: float) -> list[str]:
    told = f"{force.text(size_of(load))}, {_told(load)}, {load.partners_mast}"
    return [*wrapped(load.case, width_in, SMALL_PT, 3), *wrapped(told, width_in, SMALL_PT, 2)]


def _marks(found: tuple[HullLoad, ...], radii: list[float], most: float) -> list[tuple[str, float, float]]:
    """Return the numbers at the ends of the lines; ends that lie on one another share a mark."""
    marks: list[tuple[list[int], float, float]] = []
    for number, (load, radius) in enumerate(zip(found, radii, strict=True), start=1):
        angle = bearing_of(load)
        x, y = radius * np.sin(angle), radius * np.cos(angle)
        for numbers, other, far in marks:
            # a mark is about a tenth of the radius wide, on one tack as on the other
            near = [np.hypot(x - s * far * np.sin(other), y - far * np.cos(other)) for s in (1, -1)]
            if min(near) < 0.115 * most:
                numbers.append(number)
                break
        else:
            marks.append(([number], angle, radius))
    return [(", ".join(map(str, numbers)), angle, radius) for numbers, angle, radius in marks]
