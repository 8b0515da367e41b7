"""Bars of the winds at which mast and boat have had enough, state by state."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from ... import units
from ...design import ReefingTable, StateLimits, reefing_table
from ..reef import sooner_running
from .record import Drawn, Scene
from .style import FILLS, HAIR_PT, HATCHES, INK, SMALL_PT, SOFT, TINY_PT, page, wrapped
from .words import knots

if TYPE_CHECKING:
    from matplotlib.figure import Figure

TITLE = "When to take sail in"
LIMITS = (
    ("mast_m_s", "mast, close-hauled"),
    ("rm30_m_s", "boat at 30 deg"),
    ("rm_max_m_s", "boat at her most"),
    ("running_m_s", "mast, running"),
)
_CLOSE_HAULED = {"mast_m_s": "mast", "rm30_m_s": "RM30", "rm_max_m_s": "RM max"}
_FIRST = {"mast": "the mast", "RM30": "30 deg of heel", "RM max": "the greatest righting moment"}


def missing(scene: Scene) -> str | None:
    """Tell why the figure cannot be made, or nothing."""
    return None if scene.rig.sails else "there is no [[sail]] to reef"


def reefing(scene: Scene) -> Drawn:
    """Return the reefing table as bars."""
    table = reefing_table(scene.rig)
    said = " ".join(_said(state) for state in table.states)
    return Drawn("reefing", TITLE, said, lambda: _draw(scene, table))


def _said(state: StateLimits) -> str:
    told = "; ".join(f"{name} {_wind(getattr(state, key))}" for key, name in LIMITS)
    first = _FIRST.get(state.first)
    comes = "no limit close-hauled was found" if first is None else f"{first} comes first close-hauled"
    sooner = ", the mast running sooner still" if sooner_running(state) else ""
    return f"{state.name}: {told}; {comes}{sooner}."


def _wind(wind_m_s: float | None) -> str:
    return "not known" if wind_m_s is None else knots(wind_m_s)


def _draw(scene: Scene, table: ReefingTable) -> Figure:
    notes = [
        "Wind felt aboard at which each limit is reached; running, the mean wind in whose gusts it is. First: the "
        "least of the three close-hauled; sooner: running in less wind still. Not known: the data do not give it, or "
        "it lies past 60 m/s. " + table.notes[0],
    ]
    bars, count = len(LIMITS), len(table.states)
    width, label_in = 7.2, 1.55
    sheet = page(
        TITLE, scene.result.title, size_in=(width, min(10.0, 1.9 + count * (0.22 * bars + 0.3))), notes=notes
    )
    axes = sheet.figure.add_subplot(
        sheet.grid(1, 1, left_in=label_in + 0.25, right_in=1.7, above_in=0.05, below_in=0.45)[0, 0]
    )
    axes.grid(axis="y", visible=False)
    ticks, names = [], []
    for row, state in enumerate(table.states):
        base = row * (bars + 1.2)
        ticks.append(base + (bars - 1) / 2)
        area = scene.scale("area").text(state.area_m2)
        names.append("\n".join([*wrapped(state.name, label_in, SMALL_PT, 3), area]))
        for k, (key, name) in enumerate(LIMITS):
            wind = getattr(state, key)
            length = 0.0 if wind is None else units.convert(wind, "m/s", "kn")
            axes.barh(
                base + k,
                length,
                height=0.82,
                facecolor=FILLS[k],
                edgecolor=SOFT,
                hatch=HATCHES[k],
                linewidth=HAIR_PT,
                gid=f"{key} {row}",
            )
            said = ""
            if wind is not None and state.first == _CLOSE_HAULED.get(key):
                said = ", first"
            elif key == "running_m_s" and sooner_running(state):
                said = ", sooner"
            axes.annotate(
                f"{name} {_wind(wind)}{said}",
                (length, base + k),
                xytext=(4, 0),
                textcoords="offset points",
                va="center",
                fontsize=TINY_PT,
                weight="bold" if said else "normal",
                color=INK,
                annotation_clip=False,
            )
    axes.set_ylim((count - 1) * (bars + 1.2) + bars - 0.3, -0.7)
    axes.set_yticks(ticks, names, fontsize=SMALL_PT)
    axes.tick_params(axis="y", length=0)
    winds = [w for s in table.states for key, _ in LIMITS if (w := getattr(s, key)) is not None]
    most = units.convert(max(winds, default=10.0), "m/s", "kn")
    axes.set_xlim(0, math.ceil(most / 5) * 5)
    axes.set_xlabel("wind, kn")
    return sheet.figure
