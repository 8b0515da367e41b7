"""Righting against heeling: where each state of the sails lays the boat in one wind."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ...design.reef import BEAUFORT_5_M_S, CLOSE_HAULED
from ...formulas import Working
from ...formulas.wind import wind_pressure
from ...frozen import dataclass
from ...loads import sail_plan, state_names
from ...loads.heel import SteadyHeel, heeling_at, righting_curve, steady_heel
from .record import Drawn, Scene
from .style import (
    CHAIN,
    DASHED,
    DOTTED,
    FORWARD,
    HAIR_PT,
    INK,
    LINE_PT,
    SIDE,
    SMALL_PT,
    WATER,
    halo,
    page,
    spread,
)
from .words import Floats, knots

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

TITLE = "Righting and heeling moment"


def missing(scene: Scene) -> str | None:
    """Tell why the figure cannot be made, or nothing."""
    if righting_curve(scene.rig.boat) is None:
        return "the file has no curve of stability: give boat.stability.righting_arm, or gm and bm"
    return None if scene.rig.sails else "there is no [[sail]] to heel the boat"


@dataclass(frozen=True)
class _Heeling:
    state: str
    moment_N_m: Floats
    settles: SteadyHeel


def stability(scene: Scene) -> Drawn:
    """Return righting and heeling moments by heel, close-hauled at the top of force 5."""
    curve = righting_curve(scene.rig.boat)
    assert curve is not None
    moment = scene.scale("moment")
    heels, righting = curve
    most = int(np.argmax(righting))
    states = [_heeling(scene, name, heels) for name in state_names(scene.rig)]
    said = (
        f"The righting moment is greatest at {np.degrees(heels[most]):.0f} deg with "
        f"{moment.text(float(righting[most]))}"
        + ("" if righting[-1] <= 0.0 else f"; the data end at {np.degrees(heels[-1]):.0f} deg")
        + f". Close-hauled in {knots(BEAUFORT_5_M_S)} of wind felt aboard: "
        + "; ".join(f"{state.state} {_where(state.settles)}" for state in states)
        + "."
    )
    return Drawn("stability", TITLE, said, lambda: _draw(scene, heels, righting, states))


def _heeling(scene: Scene, state: str, heels: Floats) -> _Heeling:
    rig, working = scene.rig, Working()
    plan = sail_plan(
        rig,
        state,
        case=CLOSE_HAULED,
        apparent_wind_angle_rad=CLOSE_HAULED.apparent_wind_angle_rad,
        working=working,
    )
    pressure = float(wind_pressure(rho=rig.wind.air_density_kg_m3, v=BEAUFORT_5_M_S))
    upright = plan.wind.moment(rig.boat.lateral_centre_m)[0] * pressure
    settles = steady_heel(rig, upright, working)
    assert settles is not None
    return _Heeling(state, np.array([heeling_at(rig, upright, float(h), working) for h in heels]), settles)


def _where(settles: SteadyHeel) -> str:
    if settles.heel_rad is not None:
        return f"{np.degrees(settles.heel_rad):.0f} deg"
    return "lays her over" if settles.lost else "more than the data reach"


def _draw(scene: Scene, heels: Floats, righting: Floats, states: list[_Heeling]) -> Figure:
    moment = scene.scale("moment")
    notes = [
        f"Heeling moments close-hauled in {knots(BEAUFORT_5_M_S)} felt aboard, about the lateral centre, of "
        "all sails of "
        f"the state on all masts; they fall off as {scene.rig.wind.heel_falloff}. The boat settles where the "
        "righting "
        "moment first overtakes the heeling moment. No gust is in this.",
    ]
    sheet = page(
        TITLE, f"{scene.result.title}. Wind of {knots(BEAUFORT_5_M_S)}", size_in=(7.6, 5.6), notes=notes
    )
    axes = sheet.figure.add_subplot(sheet.grid(1, 1, left_in=0.8, right_in=0.35)[0, 0])
    degrees = np.degrees(heels)
    axes.fill_between(degrees, 0, moment.of(righting), color=WATER, linewidth=0)
    axes.plot(degrees, moment.of(righting), color=SIDE, linewidth=LINE_PT + 0.6, gid="righting")
    most = int(np.argmax(righting))
    axes.annotate(
        f"righting moment: most {moment.text(float(righting[most]))} at {degrees[most]:.0f} deg",
        (degrees[most], float(moment.of(righting[most]))),
        xytext=(0, 7),
        textcoords="offset points",
        ha="center" if most < len(degrees) - 1 else "right",
        fontsize=SMALL_PT,
        weight="bold",
        color=SIDE,
        bbox=halo(),
        zorder=6,
    )
    axes.set_xlim(0, degrees[-1])
    top = max(float(np.max(righting)) * 1.15, *(float(s.moment_N_m[0]) * 1.05 for s in states))
    # where the wind overpowers her by far, the righting curve is still to be seen
    top = min(top, 3.0 * float(np.max(righting)))
    axes.set_ylim(min(0.0, float(moment.of(np.min(righting)))), float(moment.of(top)))
    axes.set_xlabel("heel, deg")
    axes.set_ylabel(f"moment, {moment.unit}")
    styles = [DASHED, DOTTED, CHAIN, "-"]
    for state, style in zip(states, styles * len(states), strict=False):
        axes.plot(
            degrees,
            moment.of(state.moment_N_m),
            color=FORWARD,
            linestyle=style,
            linewidth=LINE_PT,
            gid=state.state,
        )
    _settled(axes, sheet.room_in(), heels, moment.of(righting), states)
    for state in states:
        if state.settles.heel_rad is None:
            axes.annotate(
                f"{state.state}: {_where(state.settles)}",
                (0.0, min(float(moment.of(state.moment_N_m[0])), axes.get_ylim()[1])),
                xytext=(8, -4),
                textcoords="offset points",
                va="top",
                fontsize=SMALL_PT,
                weight="bold",
                color=FORWARD,
                bbox=halo(),
                zorder=8,
            )
    return sheet.figure


def _settled(axes: Axes, room_in: float, heels: Floats, righting: Floats, states: list[_Heeling]) -> Axes:
    """Mark where the boat settles under each state, the labels kept apart."""
    found = [
        (state, state.settles.heel_rad, float(np.interp(state.settles.heel_rad, heels, righting)))
        for state in states
        if state.settles.heel_rad is not None
    ]
    low, high = axes.get_ylim()
    _, right = axes.get_xlim()
    step = 1.6 * SMALL_PT / 72 / room_in * (high - low)
    # below the dots and to the right of them, where the righting curve leaves room
    places = spread([there - step for _, _, there in found], step, low + step / 2, high)
    for (state, heel, there), place in zip(found, places, strict=True):
        degrees = float(np.degrees(heel))
        axes.plot(degrees, there, marker="o", markersize=6, color=INK, zorder=7)
        axes.annotate(
            f"{state.state}: {degrees:.0f} deg",
            (degrees, there),
            xytext=(min(degrees + 0.05 * right, 0.72 * right), float(place)),
            va="center",
            fontsize=SMALL_PT,
            weight="bold",
            bbox=halo(),
            zorder=8,
            arrowprops={"arrowstyle": "-", "color": INK, "linewidth": HAIR_PT, "shrinkA": 0, "shrinkB": 0},
        )
    return axes
