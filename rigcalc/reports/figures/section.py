"""The section at the partners, and where it is used most, with its layers to scale."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from ...frozen import dataclass
from ...limits import Check
from ...materials.laminates.lay import Laid
from ...structure.sections import Layer
from ...structure.shapes import Box, Ellipse, Shape
from .record import Drawn, Scene
from .style import (
    FILLS,
    HAIR_PT,
    HATCHES,
    INK,
    PAPER,
    SMALL_PT,
    SOFT,
    TEXT_PT,
    THIN_PT,
    TINY_PT,
    bare,
    page,
    spread,
    wrapped,
)
from .words import Floats

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

TITLE = "The section, to scale"
MOST_LOTS = 9
"""Lots of plies up to which each has its label beside the wall."""


@dataclass(frozen=True)
class Lot:
    """Like plies that lie on one another.

    Parameters
    ----------
    count : int
        How many.
    angle_deg : float
        From the length of the mast to their fibres.
    thickness_m : float
        Of all of them.
    """

    count: int
    angle_deg: float
    thickness_m: float

    @property
    def said(self) -> str:
        return f"{self.count} at {self.angle_deg:g} deg"


@dataclass(frozen=True)
class Cut:
    """One section through the mast.

    Parameters
    ----------
    height_m : float
        Where.
    why : str
        What is there.
    place : (int, int)
        Element and point of the mesh.
    layers : tuple of Layer
        Those that stand there, inside last as the mast has them.
    """

    height_m: float
    why: str
    place: tuple[int, int]
    layers: tuple[Layer, ...]

    def sizes_m(self, layer: Layer) -> tuple[float, float, float, float]:
        """Return outside fore and aft and from side to side, and the same of the bore."""
        s = layer.shape
        sizes = (s.outer_forward_m, s.outer_side_m, s.inner_forward_m, s.inner_side_m)
        x, y, bore_x, bore_y = (
            float(np.broadcast_to(size, layer.outer_m.shape)[self.place]) for size in sizes
        )
        return x, y, bore_x, bore_y


def cuts(scene: Scene) -> tuple[Cut, ...]:
    """Return the section just above the upper bearing, and that of the most used check of a layer, if elsewhere."""
    mesh, bury = scene.run.model.mesh, scene.rig.mast.bury_m
    upper = scene.bearings[0]
    found = [_cut(scene, bury, (min(mesh.edge_index(bury), mesh.z_m.shape[0] - 1), 0), f"at the {upper}")]
    worst = most_used_section(scene)
    if worst is not None and abs(worst.height_m - bury) > 1e-6:
        found.append(_cut(scene, worst.height_m, _weakest(scene, worst), f"used most, by {worst.id}"))
    return tuple(found)


def most_used_section(scene: Scene) -> Check | None:
    """Return the most used check of any layer of the section."""
    names = {layer.name for layer in scene.run.model.sections.layers}
    own = [check for check in scene.result.checks if check.layer in names]
    return max(own, key=lambda check: check.utilisation) if own else None


def _weakest(scene: Scene, check: Check) -> tuple[int, int]:
    """Return the place of the mesh at the height of a check: of two that meet there, the softer."""
    sections = scene.run.model.sections
    z = sections.mesh.z_m
    off = np.abs(z - check.height_m)
    there = off <= float(off.min()) + 1e-9
    element, point = np.unravel_index(int(np.argmin(np.where(there, sections.EI_N_m2, np.inf))), z.shape)
    return int(element), int(point)


def _cut(scene: Scene, height_m: float, place: tuple[int, int], why: str) -> Cut:
    layers = scene.run.model.sections.layers
    here = [layer for layer in layers if float(layer.outer_m[place]) > 0.0]
    return Cut(height_m, why, place, tuple(here))


def lots_of(scene: Scene, cut: Cut, layer: Layer) -> tuple[Lot, ...]:
    """Return the plies of a layer where it is cut, inside first, like ones together; none of what is not laid up."""
    if not isinstance(layer.made_of, Laid):
        return ()
    z = float(np.mean(scene.run.model.mesh.z_m[cut.place[0]]))
    found: list[tuple[str, Lot]] = []
    for laid in layer.made_of.lay_up.lots:
        if not laid.start_m <= z <= laid.end_m:
            continue
        angle = round(float(np.degrees(laid.angle_rad)), 2)
        lot = Lot(laid.count, angle, laid.count * laid.ply.thickness_m)
        if found and found[-1][0] == laid.ply.name and found[-1][1].angle_deg == angle:
            below = found.pop()[1]
            lot = Lot(below.count + lot.count, angle, below.thickness_m + lot.thickness_m)
        found.append((laid.ply.name, lot))
    return tuple(lot for _, lot in found)


def section(scene: Scene) -> Drawn:
    """Return the sections with their layers."""
    z, found = scene.scale("height"), cuts(scene)
    told = [
        f"At z = {z.text(cut.height_m)}, {cut.why}: "
        + "; ".join(_said(scene, cut, layer) + _laid(lots_of(scene, cut, layer)) for layer in cut.layers)
        for cut in found
    ]
    return Drawn("section", TITLE, ". ".join(told) + ".", lambda: _draw(scene, found))


def _laid(lots: tuple[Lot, ...]) -> str:
    return f", plies from inside {', '.join(lot.said for lot in lots)}" if lots else ""


def _said(scene: Scene, cut: Cut, layer: Layer) -> str:
    size = scene.scale("size")
    x, y, bore_x, _ = cut.sizes_m(layer)
    wall = float(layer.wall_m[cut.place])
    outside = f"{size.number(x)} by {size.text(y)}" if abs(x - y) > 1e-9 else size.text(x)
    across = " across flats" if layer.shape.kind == "polygon" else ""
    if bore_x == 0.0:
        what = "pole" if layer.name == "tube" else layer.name
        if _staved(scene, layer):
            what = f"{layer.shape.sides} staves"
        return f"{what} of {layer.made_of.name}, solid, {outside}{across}"
    thin = " at the thinnest" if layer.shape.kind in ("turned", "ellipse") else ""
    what = f"{layer.shape.sides} staves" if _staved(scene, layer) else layer.name
    of = (
        f"{what} laid up as {layer.made_of.name}"
        if isinstance(layer.made_of, Laid)
        else f"{what} of {layer.made_of.name}"
    )
    return f"{of}, {outside} outside{across}, wall {size.text(wall)}{thin}"


def _staved(scene: Scene, layer: Layer) -> bool:
    return layer.name == "tube" and scene.rig.mast.shape == "staves"


def outline(shape: Shape, forward_m: float, side_m: float, *, bore: bool) -> Floats:
    """Return one face of a shape as points, columns side and forward, the first of them repeated at the end.

    Parameters
    ----------
    shape : Shape
        Which kind.
    forward_m, side_m : float
        Full sizes along the axes; across flats of a polygon.
    bore : bool
        Whether it is the inner face.
    """
    if isinstance(shape, Box):
        corners = [(-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1)]
        return np.asarray(np.array(corners) * np.array([side_m, forward_m]) / 2)
    if shape.kind == "polygon" or (shape.kind == "turned" and bore):
        # a flat faces forward: the first corner stands half a side off it
        angle = (2 * np.arange(shape.sides + 1) + 1) * np.pi / shape.sides
        radius = forward_m / 2 / np.cos(np.pi / shape.sides)
        return np.asarray(radius * np.column_stack([np.sin(angle), np.cos(angle)]))
    angle = np.linspace(0.0, 2 * np.pi, 145)
    return np.column_stack([side_m * np.sin(angle), forward_m * np.cos(angle)]) / 2


def _draw(scene: Scene, found: tuple[Cut, ...]) -> Figure:
    width = 10.4 if len(found) > 1 else 7.2
    most = max(max(cut.sizes_m(layer)[:2]) for cut in found for layer in cut.layers)
    notes = [
        "Bow up. All to one scale"
        + ("; a metal is drawn as wear leaves it." if scene.rig.mast.wall_loss_m else ".")
        + (
            " Beside a laminate its wall at the same place, larger; plies at an angle to the mast are shaded darker."
            if any(isinstance(layer.made_of, Laid) for cut in found for layer in cut.layers)
            else ""
        )
        + (
            " An ellipse is checked at every angle it can turn to."
            if any(isinstance(layer.shape, Ellipse) for cut in found for layer in cut.layers)
            else ""
        ),
    ]
    sheet = page(TITLE, scene.result.title, size_in=(width, 4.7), notes=notes)
    grid = sheet.grid(1, len(found), left_in=0.35, right_in=0.2, above_in=0.35, below_in=0.1, wspace=0.05)
    for k, cut in enumerate(found):
        axes = sheet.figure.add_subplot(grid[0, k])
        _one(axes, scene, cut, most, sheet.room_in(above_in=0.35, below_in=0.1))
    return sheet.figure


def _one(axes: Axes, scene: Scene, cut: Cut, most_m: float, tall_in: float) -> Axes:
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path

    size, z = scene.scale("size"), scene.scale("height")
    bare(axes)
    axes.set_title(f"z = {z.text(cut.height_m)}, {cut.why}", fontsize=TEXT_PT, weight="bold", loc="left")
    half = float(size.of(most_m)) / 2
    axes.set_aspect("equal", adjustable="box", anchor="W")
    axes.set_ylim(-1.32 * half, 1.12 * half)
    box = axes.get_position(original=True)
    wide_in = box.width * axes.figure.get_figwidth()  # type: ignore[union-attr]
    inches = tall_in / (2.44 * half)
    axes.set_xlim(-1.08 * half, -1.08 * half + wide_in / inches)
    for k, layer in enumerate(cut.layers):
        x, y, bore_x, bore_y = map(float, size.of(cut.sizes_m(layer)))
        faces = [outline(layer.shape, x, y, bore=False)]
        if bore_x > 0.0:
            faces.append(outline(layer.shape, bore_x, bore_y, bore=True)[::-1])
        codes: list[Any] = []
        for face in faces:
            codes += [Path.MOVETO, *[Path.LINETO] * (len(face) - 2), Path.CLOSEPOLY]
        axes.add_patch(
            PathPatch(
                Path(np.vstack(faces), codes),
                facecolor=FILLS[k % len(FILLS)],
                edgecolor=INK,
                linewidth=HAIR_PT,
                hatch=HATCHES[k % len(HATCHES)],
                gid=layer.name,
            )
        )
        if _staved(scene, layer):
            for seam in seams(layer.shape.sides, faces):
                axes.plot(*seam.T, color=INK, linewidth=HAIR_PT, solid_capstyle="butt", gid="seam")
    tops = [_face(cut, layer, size.factor) for layer in cut.layers]
    texts = [
        wrapped(_said(scene, cut, layer), wide_in - 2.2 * half * inches - 0.35, SMALL_PT)
        for layer in cut.layers
    ]
    line = SMALL_PT * 1.3 / 72 / inches
    gap = line * (max(len(lines) for lines in texts) + 0.5)
    places = spread([t[1] for t in tops], gap, -1.1 * half, 1.0 * half)
    for (px, py), lines, place in zip(tops, texts, places, strict=True):
        axes.plot(px, py, marker="o", markersize=3, color=INK, zorder=6)
        axes.annotate(
            "\n".join(lines),
            (px, py),
            xytext=(1.2 * half, float(place)),
            fontsize=SMALL_PT,
            va="center",
            linespacing=1.2,
            arrowprops={"arrowstyle": "-", "color": SOFT, "linewidth": HAIR_PT, "shrinkA": 2, "shrinkB": 0},
            bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 1},
            zorder=5,
        )
    laid = [(layer.name, lots) for layer in cut.layers if (lots := lots_of(scene, cut, layer))]
    for k, (name, lots) in enumerate(laid[:2]):
        _wall(
            axes, scene, name, lots, left=(1.22 + 1.25 * k / half / inches) * half, half=half, inches=inches
        )
    widest = max(cut.sizes_m(layer)[1] for layer in cut.layers)
    edge = float(size.of(widest)) / 2
    below = -1.16 * half
    axes.plot([-edge, edge], [below, below], color=INK, linewidth=THIN_PT, marker="|", markersize=7)
    axes.text(
        0,
        below,
        f" {size.text(widest)} ",
        ha="center",
        va="center",
        fontsize=TINY_PT,
        bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 1},
    )
    return axes


def seams(sides: int, faces: list[Floats]) -> list[Floats]:
    """Return the joints of staves, from the corners of the bore, or from the middle, to the outside."""
    outside, bore = faces[0], faces[1] if len(faces) > 1 else None
    found = []
    for k in range(sides):
        angle = (2 * k + 1) * np.pi / sides
        ray = np.array([np.sin(angle), np.cos(angle)])
        reach = [0.0 if face is None else float(np.max(face @ ray)) for face in (bore, outside)]
        found.append(np.outer(reach, ray))
    return found


def _wall(
    axes: Axes, scene: Scene, name: str, lots: tuple[Lot, ...], *, left: float, half: float, inches: float
) -> Axes:
    """Draw the wall of a laminate as a strip, outside on top, its lots of plies to one scale of their own."""
    from matplotlib.patches import Rectangle

    size = scene.scale("size")
    low, high = -1.1 * half, -0.22 * half
    whole = sum(lot.thickness_m for lot in lots)
    wide, at, middles = 0.22 / inches, low, []
    for lot in lots:
        tall = (high - low) * lot.thickness_m / whole
        axes.add_patch(
            Rectangle(
                (left, at),
                wide,
                tall,
                facecolor=FILLS[2] if lot.angle_deg else FILLS[0],
                edgecolor=INK,
                linewidth=HAIR_PT,
                gid=f"lot of {name}",
            )
        )
        middles.append(at + tall / 2)
        at += tall
    axes.text(left, high + 0.05 / inches, f"{name}: wall, outside on top", fontsize=TINY_PT, va="bottom")
    if len(lots) > MOST_LOTS:
        axes.text(
            left + wide + 0.08 / inches, (low + high) / 2, f"{len(lots)} lots of plies", fontsize=TINY_PT
        )
        return axes
    gap = TINY_PT * 1.25 / 72 / inches
    for lot, middle, place in zip(lots, middles, spread(middles, gap, low, high), strict=True):
        axes.annotate(
            f"{lot.said}, {size.text(lot.thickness_m)}",
            (left + wide, middle),
            xytext=(left + wide + 0.15 / inches, float(place)),
            fontsize=TINY_PT,
            va="center",
            arrowprops={"arrowstyle": "-", "color": SOFT, "linewidth": HAIR_PT, "shrinkA": 1, "shrinkB": 0},
        )
    return axes


def _face(cut: Cut, layer: Layer, factor: float) -> tuple[float, float]:
    """Return a point in the wall of a layer, up and to the right, where its label's line ends."""
    x, y, bore_x, bore_y = (size * factor for size in cut.sizes_m(layer))
    if isinstance(layer.shape, Box):
        return (y + bore_y) / 4, x / 5
    mean = (y + bore_y) / 4 if bore_x > 0.0 else y / 5
    tall = (x + bore_x) / 4 if bore_x > 0.0 else x / 5
    return mean * np.cos(0.5), tall * np.sin(0.5)
