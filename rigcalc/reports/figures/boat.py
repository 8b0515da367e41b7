"""The boat from the side and from astern, with the forces on the mast to scale."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from .pulls import FORWARD as FORE
from .pulls import SIDE as ACROSS
from .pulls import Pull, pulls
from .record import Drawn, Scene
from .style import (
    A4_WIDE,
    FORWARD,
    HAIR_PT,
    HULL,
    INK,
    PAPER,
    SAIL,
    SIDE,
    SMALL_PT,
    SOFT,
    SPAR,
    TEXT_PT,
    THIN_PT,
    TINY_PT,
    WATER,
    bare,
    halo,
    page,
    spread,
    wrapped,
)
from .words import Floats, listed

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

TITLE = "The boat, and the forces on the mast"
LONGEST: Final = 0.36
"""Longest arrow over the length of the mast."""


def missing(scene: Scene) -> str | None:
    """Tell why the figure cannot be made, or nothing."""
    return None if scene.standing else "every case hangs the mast in slings, so it stands in no boat"


def boat(scene: Scene) -> Drawn:
    """Return the boat in the case that uses the standing mast most."""
    i = scene.standing[0]
    case, load = scene.case(i), scene.load(i)
    force = scene.scale("force")
    upper, lower = scene.bearings
    heel = float(np.degrees(heel_of(scene, i)))
    side, forward = load.applied.force()
    parts = [f"In '{case.name}', heeled {heel:.0f} deg"]
    if side or forward:
        parts.append(
            f"the load on the mast is {force.text(side)} to leeward and {force.text(forward)} forward"
            + _centred(scene, i)
        )
    parts.append(
        f"the straight mast is held at the {upper} by {force.text(case.partners_force_N)} and at the {lower} by "
        f"{force.text(case.step_force_N)}, and presses down with {force.text(case.step_thrust_N)}"
    )
    weight = next((pull for pull in pulls(scene, i, ACROSS) if pull.name.startswith("weight")), None)
    if weight is not None:
        parts.append(
            f"the {weight.name} of mast and cloth counts with {force.text(weight.size_N)}{weight.note}"
        )
    set_here = [f"{sail.sail.name} ({scene.scale('area').text(sail.area_m2)})" for sail in scene.set_sails(i)]
    said = f"{'; '.join(parts)}. " + (
        f"Set on this mast: {listed(set_here)}." if set_here else "No sail is set."
    )
    return Drawn("boat", TITLE, said, lambda: _draw(scene, i))


def _centred(scene: Scene, i: int) -> str:
    """Tell where the load to leeward is centred, where it pushes the mast more than it turns it."""
    applied = scene.load(i).applied
    side, turn = applied.force()[ACROSS], applied.moment(0.0)[ACROSS]
    if side == 0.0 or not 0.0 <= turn / side <= scene.rig.mast.length_m:
        return ""
    return f", that to leeward centred at z = {scene.scale('height').text(turn / side)}"


def heel_of(scene: Scene, i: int) -> float:
    """Return the heel a case is drawn at: that of the weight."""
    load = scene.load(i)
    heel = load.heel_rad if load.weight_heel_rad is None else load.weight_heel_rad
    return heel or 0.0


def arrow_scale(scene: Scene, i: int) -> float:
    """Return the metres of the drawing that one newton is drawn long, in both views."""
    most = max(pull.size_N for plane in (ACROSS, FORE) for pull in pulls(scene, i, plane))
    return LONGEST * scene.rig.mast.length_m / most


class _View:
    """One view: where a height and a step across the mast stand on the paper.

    Parameters
    ----------
    lean_rad : float
        How far the mast leans to the right in this view, about the waterline.
    """

    def __init__(self, axes: Axes, scene: Scene, lean_rad: float) -> None:
        self.axes, self.scene = axes, scene
        self.water = scene.rig.boat.waterline_m
        self.turn = np.array([[np.cos(lean_rad), np.sin(lean_rad)], [-np.sin(lean_rad), np.cos(lean_rad)]])
        self.unit = scene.scale("height").factor

    def at(self, points: Sequence[Sequence[float]] | Floats) -> Floats:
        """Return points (across, z) as they stand on the paper, in the unit shown, heights over the water."""
        flat = np.asarray(points, dtype=float) - np.array([0.0, self.water])
        return np.asarray(flat @ self.turn.T * self.unit)

    def polygon(self, points: Sequence[Sequence[float]] | Floats, **look: Any) -> None:
        from matplotlib.patches import Polygon

        self.axes.add_patch(Polygon(self.at(points), closed=True, **look))

    def line(self, points: Sequence[Sequence[float]] | Floats, **look: Any) -> None:
        x, y = self.at(points).T
        self.axes.plot(x, y, **look)


def _draw(scene: Scene, i: int) -> Figure:
    others = len(scene.set_sails(i, here=False)) > len(scene.set_sails(i))
    factored = any(pull.note for plane in (FORE, ACROSS) for pull in pulls(scene, i, plane))
    notes = [
        "A schematic: the hull is drawn from the waterline, the lateral centre and the height of the "
        "partners alone"
        + (", and the beam of the file" if scene.rig.boat.beam_m is not None else "; the file has no beam")
        + ". Forces are those on the mast, in its own axes; each view shows the parts that lie in it, and "
        "there they balance."
        + (" Of a weight, x is the dynamic factor it counts with." if factored else "")
        + (" Sails of other masts are not drawn." if others else ""),
    ]
    length = arrow_scale(scene, i)
    views = ((FORE, 0.0), (ACROSS, heel_of(scene, i)))
    spans = [_span(scene, i, plane, lean, length) for plane, lean in views]
    bottom, top = min(s[2] for s in spans), max(s[3] for s in spans)
    wide, tall = A4_WIDE
    # no taller than both views beside one another need
    inches_m = (wide - 0.8) / sum(s[1] - s[0] for s in spans)
    sheet = page(
        TITLE, scene.of_case(i), size_in=(wide, min(tall, (top - bottom) * inches_m + 1.9)), notes=notes
    )
    inches_m = min(inches_m, sheet.room_in(above_in=0.3, below_in=0.1) / (top - bottom))
    grid = sheet.grid(
        1,
        2,
        left_in=0.3,
        right_in=0.3,
        above_in=0.3,
        below_in=0.1,
        wspace=0.04,
        width_ratios=[s[1] - s[0] for s in spans],
    )
    for k, ((plane, lean), span) in enumerate(zip(views, spans, strict=True)):
        axes = sheet.figure.add_subplot(grid[0, k])
        bare(axes)
        axes.set_aspect("equal", adjustable="box", anchor="S")
        unit = scene.scale("height").factor
        axes.set_xlim(span[0] * unit, span[1] * unit)
        axes.set_ylim(bottom * unit, top * unit)
        heel = f", heeled {np.degrees(lean):.0f} deg" if plane == ACROSS and lean else ""
        axes.set_title(
            "Seen from the side, bow to the right"
            if plane == FORE
            else f"Seen from astern{heel}, leeward to the right",
            fontsize=TEXT_PT,
            weight="bold",
            loc="left",
        )
        view = _View(axes, scene, lean)
        _hull(view, scene, plane)
        if plane == FORE:
            _sails(view, scene, i)
        view.line([(0, 0), (0, scene.rig.mast.length_m)], color=INK, linewidth=4.2, solid_capstyle="butt")
        view.line(
            [(0, 0), (0, scene.rig.mast.length_m)],
            color=SPAR,
            linewidth=2.6,
            solid_capstyle="butt",
            gid="mast",
        )
        _arrows(view, scene, pulls(scene, i, plane), length, plane, inches_m)
        if plane == FORE:
            _bar(view, scene, length, span[0], top)
    return sheet.figure


def _span(scene: Scene, i: int, plane: int, lean: float, length: float) -> tuple[float, float, float, float]:
    """Return left, right, bottom and top of what a view shows, in metres."""
    view = _View.__new__(_View)
    view.water, view.unit = scene.rig.boat.waterline_m, 1.0
    view.turn = np.array([[np.cos(lean), np.sin(lean)], [-np.sin(lean), np.cos(lean)]])
    points = [*hull_outline(scene, plane), (0.0, scene.rig.mast.length_m), *_fin(scene, plane)]
    if plane == FORE:
        points += [(float(x), float(z)) for sail in scene.set_sails(i) for x, z in sail.corners]
    for pull in pulls(scene, i, plane):
        tail, head = _ends(pull, length, scene)
        points += [tail, head]
    at = view.at(points)
    mast = scene.rig.mast.length_m
    left, bottom = at.min(axis=0) - np.array([0.26, 0.06]) * mast
    right, top = at.max(axis=0) + np.array([0.30, 0.06]) * mast
    return float(left), float(right), float(bottom), float(top)


def drawn_length(scene: Scene) -> float:
    """Return the length of hull that is drawn: no file has one. A share of the mast, and as far as a sail reaches."""
    reach = [-float(x) for sail in scene.set_sails(scene.standing[0]) for x in sail.corners[:, 0]]
    return max(0.85 * scene.rig.mast.length_m, 1.35 * max(reach, default=0.0))


def hull_outline(scene: Scene, plane: int) -> list[tuple[float, float]]:
    """Return the outline of the hull, a sketch, as (across, z)."""
    boat, mast = scene.rig.boat, scene.rig.mast
    deck = 0.0 if mast.post is not None else mast.bury_m
    long = drawn_length(scene)
    deck = max(deck, boat.waterline_m + 0.05 * long)
    keel = min(0.0 if mast.post is None else deck - 0.12 * long, boat.waterline_m) - 0.025 * long
    if plane == FORE:
        bow, stern = 0.30 * long, -0.70 * long
        under = np.linspace(0.0, 1.0, 21)
        x = bow - 0.06 * long - under * (bow - stern - 0.10 * long)
        # deepest amidships, up to the water at stem and transom
        z = boat.waterline_m + (keel - boat.waterline_m) * np.sin(np.pi * under**0.9) ** 0.7
        sheer = deck + 0.035 * long
        return [(stern, deck), (bow, sheer), *zip(x.tolist(), z.tolist(), strict=True), (stern, deck)]
    half = (boat.beam_m or 0.36 * long) / 2
    angle = np.linspace(0.0, np.pi, 25)
    x = half * np.sign(np.cos(angle)) * np.abs(np.cos(angle)) ** 0.7
    z = deck + (keel - deck) * np.sin(angle) ** 0.8
    return list(zip(x.tolist(), z.tolist(), strict=True))


def _fin(scene: Scene, plane: int) -> list[tuple[float, float]]:
    """Return a keel or board whose middle is the lateral centre, where that lies below the hull."""
    keel = min(z for _, z in hull_outline(scene, plane))
    centre, long = scene.rig.boat.lateral_centre_m, drawn_length(scene)
    if centre >= keel:
        return []
    half = 0.07 * long if plane == FORE else 0.008 * long
    return [(-half, keel), (half, keel), (half, 2 * centre - keel), (-half, 2 * centre - keel)]


def _hull(view: _View, scene: Scene, plane: int) -> None:
    axes, unit = view.axes, view.unit
    left, right = axes.get_xlim()
    low, _ = axes.get_ylim()
    axes.fill_between([left, right], low, 0.0, color=WATER, linewidth=0, zorder=0)
    axes.plot([left, right], [0, 0], color=SIDE, linewidth=HAIR_PT, zorder=1)
    fin = _fin(scene, plane)
    if fin:
        view.polygon(
            fin, facecolor=PAPER, edgecolor=SOFT, linestyle=(0, (3, 2)), linewidth=THIN_PT, zorder=1.5
        )
    view.polygon(
        hull_outline(scene, plane), facecolor=HULL, edgecolor=INK, linewidth=THIN_PT, alpha=0.9, zorder=1.6
    )
    x, y = view.at([(0.0, scene.rig.boat.lateral_centre_m)])[0]
    axes.plot(x, y, marker="+", markersize=9, color=INK, zorder=4)
    if plane == FORE:
        z = scene.scale("height")
        axes.annotate(
            f"lateral centre z = {z.text(scene.rig.boat.lateral_centre_m)}",
            (x, y),
            xytext=(-0.12 * drawn_length(scene) * unit, low + 0.25 * (0.0 - low)),
            ha="right",
            va="center",
            fontsize=TINY_PT,
            arrowprops={"arrowstyle": "-", "color": SOFT, "linewidth": HAIR_PT},
        )
        axes.annotate(
            f"waterline z = {z.text(view.water)}",
            (left, 0.0),
            xytext=(3, -3),
            textcoords="offset points",
            ha="left",
            va="top",
            fontsize=TINY_PT,
            color=SIDE,
        )


def _sails(view: _View, scene: Scene, i: int) -> None:
    heavy = next((p.height_m for p in pulls(scene, i, FORE) if p.name.startswith("weight")), 0.0)
    for sail in scene.set_sails(i):
        view.polygon(sail.corners, facecolor=SAIL, edgecolor=SOFT, linewidth=THIN_PT, zorder=2)
        low, high = float(sail.corners[:, 1].min()), float(sail.corners[:, 1].max())
        # where the sail is wide, away from the label of the weight
        z = max((low + share * (high - low) for share in (0.2, 0.45)), key=lambda z: abs(z - heavy))
        x, y = view.at([(_middle(sail.corners)[0], z)])[0]
        name = wrapped(sail.sail.name, 0.9, SMALL_PT, 2)
        text = "\n".join([*name, scene.scale("area").text(sail.area_m2)])
        if sail.share < 1.0:
            text += f"\n{sail.share:.0%} set"
        view.axes.text(x, y, text, ha="center", va="center", fontsize=SMALL_PT, color=SOFT, zorder=2.1)


def _middle(corners: Floats) -> Floats:
    """Return the centroid of a polygon."""
    after = np.roll(corners, -1, axis=0)
    cross = corners[:, 0] * after[:, 1] - after[:, 0] * corners[:, 1]
    return np.asarray(np.sum((corners + after) * cross[:, None], axis=0) / (3 * np.sum(cross)))


def _ends(pull: Pull, length: float, scene: Scene) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return tail and head of an arrow: it leaves the mast, but what presses the mast down comes onto its head."""
    across, along = pull.across_N * length, pull.along_N * length
    if across == 0.0 and pull.height_m >= scene.rig.mast.length_m:
        return (0.0, pull.height_m - along), (0.0, pull.height_m)
    return (0.0, pull.height_m), (across, pull.height_m + along)


def _arrows(
    view: _View, scene: Scene, forces: Sequence[Pull], length: float, plane: int, inches_m: float
) -> None:
    """Draw forces to scale, and beside the free end of each its size."""
    from matplotlib.patches import FancyArrowPatch

    colour = SIDE if plane == ACROSS else FORWARD
    labels: dict[bool, list[tuple[Pull, Floats]]] = {True: [], False: []}
    for pull in forces:
        ends = _ends(pull, length, scene)
        tail, head = view.at(ends)
        long_pt = float(np.hypot(*(head - tail))) / view.unit * inches_m * 72
        view.axes.add_patch(
            FancyArrowPatch(
                tail,
                head,
                arrowstyle="-|>",
                mutation_scale=float(np.clip(0.7 * long_pt, 4.0, 11.0)),
                shrinkA=0,
                shrinkB=0,
                color=INK if pull.name in scene.bearings else colour,
                linewidth=2.2 if long_pt > 8 else 1.4,
                zorder=5,
                gid=f"{pull.name} at {pull.height_m:.6g}",
            )
        )
        foot = view.at([(0.0, pull.height_m)])[0]
        view.axes.plot(*foot, marker="o", markersize=3, color=INK, zorder=6)
        free = tail if np.allclose(head, foot) else head
        # the label of the weight goes aft of an upright mast, out of the way of the sail's; under one that leans,
        # where the weight hangs: to windward its label would lie on the force of the partners
        leans = view.turn[0, 1] > 0.05
        to_left = free[0] - foot[0] < -0.02 * view.unit * scene.rig.mast.length_m or (
            pull.name.startswith("weight") and not leans
        )
        labels[bool(to_left)].append((pull, free))
    step = TINY_PT * 2.0 / 72 / inches_m * view.unit
    low, high = view.axes.get_ylim()
    for to_left, group in labels.items():
        places = spread([float(free[1]) for _, free in group], step, low, high)
        for (pull, free), place in zip(group, places, strict=True):
            _label(view, scene, pull, free, float(place), to_left, colour)


def _label(
    view: _View, scene: Scene, pull: Pull, free: Floats, place: float, to_left: bool, colour: str
) -> None:
    inset = 0.018 * scene.rig.mast.length_m * view.unit * (-1 if to_left else 1)
    view.axes.annotate(
        f"{pull.name} {scene.scale('force').text(pull.size_N)}{pull.note}",
        (float(free[0]), float(free[1])),
        xytext=(float(free[0]) + inset, place),
        ha="right" if to_left else "left",
        va="center",
        fontsize=SMALL_PT,
        weight="bold",
        color=INK if pull.name in scene.bearings else colour,
        bbox=halo(),
        zorder=7,
    )


def _bar(view: _View, scene: Scene, length: float, left_m: float, top_m: float) -> None:
    """Draw the scales of forces and of lengths."""
    force, z = scene.scale("force"), scene.scale("height")
    long = scene.rig.mast.length_m
    for place, (shown, of_one) in enumerate(((force, length), (z, 1.0))):
        round_one = _round(0.16 * long / of_one * shown.factor) / shown.factor
        x = (left_m + 0.02 * long) * view.unit
        y = (top_m - (0.04 + 0.07 * place) * long) * view.unit
        view.axes.plot(
            [x, x + round_one * of_one * view.unit], [y, y], color=INK, linewidth=2, marker="|", markersize=6
        )
        view.axes.annotate(
            f"{round_one * shown.factor:g} {shown.unit}",
            (x + round_one * of_one * view.unit, y),
            xytext=(5, 0),
            textcoords="offset points",
            va="center",
            fontsize=TINY_PT,
        )


def _round(value: float) -> float:
    """Return a round number near one."""
    power = 10.0 ** np.floor(np.log10(value))
    return float(max(step for step in (1.0, 2.0, 5.0) if step * power <= value * (1 + 1e-9)) * power)
