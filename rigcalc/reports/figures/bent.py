"""The bent mast at its true scale, by the straight theory and on the bent shape."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from .along import supports
from .record import Drawn, Scene
from .style import (
    DASHED,
    DOTTED,
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
from .words import Floats

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

TITLE = "The bent mast, at true scale"
MOST = 6
"""Masts that stand side by side; more would leave no room for their names."""
SIZE_IN = (7.2, 8.6)


def bent(scene: Scene) -> Drawn:
    """Return the bent mast in its governing case, the others faint beside it."""
    i = scene.governing
    case, length = scene.case(i), scene.scale("deflection")
    if case.tip_deflection_large_m is None:
        also = "On the bent shape no equilibrium was found, so no bent mast is drawn."
    else:
        also = (
            f"On the bent shape it moves {length.text(case.tip_deflection_large_m)} and comes "
            f"{length.text(_drop(scene, i))} lower."
        )
    tip = length.text(case.tip_deflection_m)
    said = f"In '{case.name}' the tip moves {tip} sideways by the straight theory. {also}"
    others = _others(scene, i)
    if others:
        tips = "; ".join(f"{scene.case(j).name} {length.text(_tip(scene, j))}" for j in others)
        said += f" In the other cases: {tips}."
    return Drawn("bent", TITLE, said, lambda: _draw(scene, i))


def _others(scene: Scene, i: int) -> list[int]:
    """Return the other cases held as this one is, the farthest bent first."""
    held = scene.load(i).held_at_m
    found = [j for j in range(len(scene.result.cases)) if j != i and scene.load(j).held_at_m == held]
    return sorted(found, key=lambda j: -_tip(scene, j))


def _tip(scene: Scene, i: int) -> float:
    case = scene.case(i)
    return case.tip_deflection_m if case.tip_deflection_large_m is None else case.tip_deflection_large_m


def _drop(scene: Scene, i: int) -> float:
    return scene.rig.mast.length_m - float(bent_shape(scene, i)[1][-1])


def direction(scene: Scene, i: int) -> Floats:
    """Return the unit vector, leeward and forward, in which the tip of the straight theory moves."""
    s = scene.result.stations
    tip = np.array([s.deflection_side_m[i, -1], s.deflection_forward_m[i, -1]])
    size = float(np.hypot(*tip))
    return tip / size if size > 0.0 else np.array([1.0, 0.0])


def straight_shape(scene: Scene, i: int) -> tuple[Floats, Floats]:
    """Return how far the mast moves by the straight theory, in the direction of its tip, and the heights."""
    s = scene.result.stations
    across = direction(scene, i) @ np.stack([s.deflection_side_m[i], s.deflection_forward_m[i]])
    return np.asarray(across), s.height_m


def bent_shape(scene: Scene, i: int) -> tuple[Floats, Floats]:
    """Return the same of the mast on its bent shape, with the heights its points come to."""
    turns = scene.turns(i)
    across = turns.across(scene.run.solved.bent_m[:2]).reshape(2, -1)
    up = scene.run.solved.bent_m[2, turns.widest].reshape(-1)
    return np.asarray(direction(scene, i) @ across), np.asarray(up)


def _toward(scene: Scene, i: int) -> str:
    side, forward = direction(scene, i)
    angle = float(np.degrees(np.arctan2(abs(side), forward)))
    return f"{angle:.0f} deg off the bow" + (
        " to windward" if side < -1e-9 else " to leeward" if side > 1e-9 else ""
    )


def _draw(scene: Scene, i: int) -> Figure:
    z = scene.scale("height")
    length = scene.rig.mast.length_m
    others = _others(scene, i)
    shown = [i, *others[: MOST - 1]]
    notes = [
        "One scale both ways. Each mast is seen square to the way its tip moves, as told below it. Broken "
        "line: straight "
        "theory, which takes the deflection as small. Whole line: bent theory, which finds the balance on "
        "the bent shape, "
        "its length kept. Dotted: the mast without load.",
    ]
    if len(others) >= MOST:
        notes.append(f"The {len(others) - MOST + 1} cases that bend the mast least are left out here.")
    sheet = page(TITLE, scene.of_case(i), size_in=SIZE_IN, notes=notes)
    axes = sheet.figure.add_subplot(
        sheet.grid(1, 1, left_in=0.65, right_in=0.25, above_in=0.1, below_in=1.05)[0, 0]
    )
    shapes = {j: _shapes(scene, j) for j in shown}
    # what the straight theory makes of a mast that bends right over runs out of the sheet
    widths = [min(length, max(float(np.max(np.abs(x))) for x, _ in b.values())) for b in shapes.values()]
    room_in = sheet.room_in(below_in=1.05)
    # apart as far as the widest needs, and farther where the sheet has room; true scale holds either way
    tall = 1.14 * length
    free = (SIZE_IN[0] - 0.9) / room_in * tall
    apart = max(1.25 * max(widths), min(free / (len(shown) + 0.1), 0.24 * length))
    axes.set_aspect("equal", adjustable="box", anchor="SW")
    axes.set_xlim(*map(float, z.of([-0.3 * apart, (len(shown) - 0.2) * apart])))
    axes.set_ylim(*map(float, z.of([-0.02 * length, tall - 0.02 * length])))
    axes.set_ylabel(f"height z, {z.unit}")
    axes.set_xticks([])
    axes.grid(axis="x", visible=False)
    scale_in = min(room_in / tall, (SIZE_IN[0] - 0.9) / (apart * (len(shown) + 0.1)))
    for place, (j, both) in enumerate(shapes.items()):
        _one(axes, scene, j, both, foot_m=place * apart, label_in=0.92 * apart * scale_in, bold=j == i)
    return sheet.figure


def _shapes(scene: Scene, i: int) -> dict[str, tuple[Floats, Floats]]:
    found = {"straight": straight_shape(scene, i)}
    if scene.turns(i).settled:
        found["bent"] = bent_shape(scene, i)
    return found


def _one(
    axes: Axes,
    scene: Scene,
    i: int,
    both: dict[str, tuple[Floats, Floats]],
    *,
    foot_m: float,
    label_in: float,
    bold: bool,
) -> Axes:
    """Draw one case on its own foot, with the tip's numbers above and its name below."""
    z, far, case = scene.scale("height"), scene.scale("deflection"), scene.case(i)
    axes.plot(
        z.of([foot_m, foot_m]),
        z.of([0, scene.rig.mast.length_m]),
        color=SOFT,
        linewidth=HAIR_PT,
        linestyle=DOTTED,
    )
    x, up = both["straight"]
    axes.plot(
        z.of(foot_m + x), z.of(up), color=FORWARD, linestyle=DASHED, linewidth=LINE_PT, gid=f"straight {i}"
    )
    if "bent" in both:
        x, up = both["bent"]
        axes.plot(z.of(foot_m + x), z.of(up), color=SIDE, linewidth=LINE_PT + 0.4 * bold, gid=f"bent {i}")
    for height in supports(scene, i):
        axes.plot(
            *map(float, z.of([foot_m, height])),
            marker="o",
            markersize=4.5,
            color=PAPER,
            markeredgecolor=INK,
            zorder=6,
        )
    top = float(z.of(max(float(np.max(up)) for _, up in both.values())))
    large = case.tip_deflection_large_m
    lines = [
        f"{far.text(large)} bent" if large is not None else "no balance",
        f"straight: {far.text(case.tip_deflection_m)}",
    ]
    for line, above, weight in zip(lines[::-1], (4, 15), ("normal", "bold"), strict=True):
        axes.annotate(
            line,
            (float(z.of(foot_m)), top),
            xytext=(0, above),
            textcoords="offset points",
            fontsize=SMALL_PT if weight == "bold" else TINY_PT,
            weight=weight,
            color=INK,
        )
    name = wrapped(case.name, label_in, SMALL_PT, 4)
    told = wrapped(_toward(scene, i), label_in, TINY_PT)
    axes.annotate(
        "\n".join(name),
        (float(z.of(foot_m)), 0),
        xycoords=("data", "axes fraction"),
        xytext=(-4, -5),
        textcoords="offset points",
        fontsize=SMALL_PT,
        weight="bold" if bold else "normal",
        va="top",
        annotation_clip=False,
    )
    axes.annotate(
        "\n".join(told),
        (float(z.of(foot_m)), 0),
        xycoords=("data", "axes fraction"),
        xytext=(-4, -9 - len(name) * SMALL_PT * 1.25),
        textcoords="offset points",
        fontsize=TINY_PT,
        color=SOFT,
        va="top",
        annotation_clip=False,
    )
    return axes
