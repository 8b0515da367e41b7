"""The roll of each sail on the mast: how thick by height, and in how many turns."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ...bearings import Roll, roll_up
from ...formulas import Working
from ...frozen import dataclass
from ...loads import LineLoad, sails_taken_in
from ...loads.spar import diameter_line
from .record import Drawn, Scene
from .style import (
    DASHED,
    FORWARD,
    HAIR_PT,
    INK,
    LINE_PT,
    SAIL,
    SIDE,
    SOFT,
    SPAR,
    THIN_PT,
    headed,
    page,
    spread,
)
from .style import TINY_PT as TINY
from .words import Floats

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

EVEN = 9
TITLE = "The sail rolled on the mast"


def missing(scene: Scene) -> str | None:
    """Tell why the figure cannot be made, or nothing."""
    return None if sails_taken_in(scene.rig) else 'no sail is rolled on this mast (hold = "rolled")'


@dataclass(frozen=True)
class Rolled:
    """One sail all rolled up, at the heights at which the furling is worked out."""

    sail: str
    height_m: Floats
    mast_m: Floats
    roll: Roll


def rolls_of(scene: Scene) -> tuple[Rolled, ...]:
    """Return every sail that rolls on this mast."""
    found = []
    core = diameter_line(scene.rig)
    for sail in sails_taken_in(scene.rig):
        assert sail.rolled is not None
        cloth = LineLoad(sail.rolled.breaks_m, sail.rolled.lower_m, sail.rolled.upper_m)
        z = _heights(scene, cloth)[:, None]
        # a height at an end of the cloth is read from inside
        bare, inside = core.at(z)[:, 0], np.clip(z, cloth.breaks_m[0], np.nextafter(cloth.breaks_m[-1], 0.0))
        roll = roll_up(
            core_m=bare,
            cloth_m=cloth.at(inside)[:, 0],
            thickness_m=sail.sail.cloth_thickness_m * sail.sail.roll_slack,
            working=Working(),
        )
        found.append(Rolled(sail.sail.name, z[:, 0], bare, roll))
    return tuple(found)


def _heights(scene: Scene, cloth: LineLoad) -> Floats:
    """Return the heights of the furling of the result for the sail it tells of; for another, every corner and more."""
    low, high = float(cloth.breaks_m[0]), min(float(cloth.breaks_m[-1]), scene.rig.mast.length_m)
    furling = None if scene.result.turning is None else scene.result.turning.furling
    if furling is not None and np.allclose(
        (furling.rolls[0].height_m, furling.rolls[-1].height_m), (low, high)
    ):
        return np.array([at.height_m for at in furling.rolls])
    corners = cloth.breaks_m[(cloth.breaks_m > low) & (cloth.breaks_m < high)]
    even = np.linspace(low, high, EVEN)
    # a roach is a corner at every hand's breadth: the largest width is what counts
    widest = corners[np.argsort(-cloth.at(corners[:, None])[:, 0])][:1] if corners.size else corners
    return np.unique(np.concatenate([even, widest]))


def roll(scene: Scene) -> Drawn:
    """Return roll and turns by height of every sail that rolls on the mast."""
    found = rolls_of(scene)
    size, z = scene.scale("size"), scene.scale("height")
    told = []
    for one in found:
        at = int(np.argmax(one.roll.outside_m))
        told.append(
            f"{one.sail}: {one.roll.turns:.1f} turns take it all in; the roll is thickest at z = "
            f"{z.text(one.height_m[at])}, "
            f"{size.text(float(round(one.roll.outside_m[at], 4)))} on a mast of "
            f"{size.text(float(round(one.mast_m[at], 4)))}, "
            f"and {size.text(float(round(one.roll.outside_m[-1], 4)))} at its top"
        )
    return Drawn("roll", TITLE, ". ".join(told) + ".", lambda: _draw(scene, found))


def _draw(scene: Scene, found: tuple[Rolled, ...]) -> Figure:
    notes = [
        "Turns are those that the cloth of each height needs by itself; the mast turns as often as the "
        "greatest of them. A "
        "turn takes the thickness of the cloth and of the air and seams in it. The drawing is far wider "
        "than it is tall, and straight between the heights whose sizes are written.",
    ]
    count = len(found)
    sheet = page(TITLE, scene.result.title, size_in=(min(10.6, 2.0 + 5.2 * count), 6.4), notes=notes)
    grid = sheet.grid(
        1, 2 * count, left_in=0.65, right_in=0.3, above_in=0.6, wspace=0.35, width_ratios=[1.5, 1] * count
    )
    z, size = scene.scale("height"), scene.scale("size")
    for k, one in enumerate(found):
        left = sheet.figure.add_subplot(grid[0, 2 * k])
        right = sheet.figure.add_subplot(grid[0, 2 * k + 1], sharey=left)
        _thick(left, scene, one)
        heights = z.of(one.height_m)
        right.plot(
            one.roll.turns_m, heights, color=SIDE, linewidth=LINE_PT, marker="o", markersize=3, gid="turns"
        )
        right.axvline(one.roll.turns, color=FORWARD, linewidth=THIN_PT, linestyle=DASHED)
        right.set_xlim(0, 1.12 * one.roll.turns)
        right.set_xlabel("turns")
        right.tick_params(axis="y", labelleft=False)
        headed(right, "Turns", f"{one.roll.turns:.1f} take it all in")
        headed(left, one.sail if count > 1 else "Roll", f"diameter, {size.unit}; the mast is shaded dark")
    return sheet.figure


def _thick(axes: Axes, scene: Scene, one: Rolled) -> Axes:
    z, size = scene.scale("height"), scene.scale("size")
    heights, outside, bare = z.of(one.height_m), size.of(one.roll.outside_m) / 2, size.of(one.mast_m) / 2
    axes.fill_betweenx(heights, -outside, outside, color=SAIL, linewidth=0)
    axes.fill_betweenx(heights, -bare, bare, color=SPAR, linewidth=0)
    for sign in (-1, 1):
        axes.plot(sign * outside, heights, color=INK, linewidth=LINE_PT, gid=f"roll {sign}")
        axes.plot(sign * bare, heights, color=INK, linewidth=THIN_PT)
    widest = float(np.max(outside))
    axes.set_xlim(-1.15 * widest, 2.3 * widest)
    axes.set_xticks([])
    axes.grid(axis="x", visible=False)
    axes.set_ylabel(f"height z, {z.unit}")
    low, high = axes.get_ylim()
    for height, edge, place, thick in zip(
        heights,
        outside,
        spread(list(map(float, heights)), (high - low) / 30, low, high),
        one.roll.outside_m,
        strict=True,
    ):
        axes.annotate(
            size.text(float(round(thick, 4))),
            (float(edge), float(height)),
            xytext=(1.25 * widest, float(place)),
            fontsize=TINY,
            va="center",
            arrowprops={"arrowstyle": "-", "color": SOFT, "linewidth": HAIR_PT, "shrinkA": 2, "shrinkB": 0},
        )
    return axes
