"""The reefing table for the terminal and as JSON."""

from __future__ import annotations

import json
import math
from typing import Any

from .. import units
from ..design import ReefingTable, StateLimits
from .terminal import bullets, table, wrapped

_MARK = {
    "mast": "the mast",
    "RM30": "30 deg of heel",
    "RM max": "the greatest righting moment",
    "none": "nothing",
}


def reefing_screen(result: ReefingTable) -> str:
    """Return the reefing table as text."""
    rows = [
        [
            "",
            "area",
            "centre",
            "close-hauled: mast",
            "RM30",
            "RM max",
            "running: mast",
            "heel",
            "in gust",
            "lost at",
        ],
        ["state", "m2", "z m", "kn", "kn", "kn", "kn", "deg", "deg", "deg"],
        *(_row(state) for state in result.states),
    ]
    lines = [
        result.title,
        "",
        "Wind felt aboard at which each state has had enough; heel and gust for "
        f"{units.convert(result.wind_m_s, 'm/s', 'kn'):.0f} kn, gusting to {result.gust_factor:.2f} times that.",
        "",
        table(rows),
        "",
    ]
    for state in result.states:
        lines += wrapped(f"{state.name}: {state_said(state)}", "  ", first="")
    lines += ["", *bullets("Notes", result.notes), "", *bullets("Cautions", result.cautions)]
    return "\n".join(lines) + "\n"


def reefing_json(result: ReefingTable) -> str:
    """Return the reefing table as JSON; what could not be worked out is null."""
    document: dict[str, Any] = {
        "title": result.title,
        "wind_m_s": result.wind_m_s,
        "gust_factor": result.gust_factor,
        "states": [_plain(state) for state in result.states],
        "notes": list(result.notes),
        "cautions": list(result.cautions),
    }
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _plain(state: StateLimits) -> dict[str, Any]:
    """Lay a state open, with words where an angle is none: infinite is not JSON."""
    angles = {"heel_rad": state.heel_rad, "gust_heel_rad": state.gust_heel_rad}
    lost = {name: angle is not None and math.isinf(angle) for name, angle in angles.items()}
    return {
        **vars(state),
        **{name: None if lost[name] else angle for name, angle in angles.items()},
        "lost_in_wind": lost["heel_rad"],
        "lost_in_gust": lost["gust_heel_rad"],
    }


def _row(state: StateLimits) -> list[str]:
    return [
        state.name,
        f"{state.area_m2:.1f}",
        f"{state.centre_m:.2f}",
        *(_knots(v) for v in (state.mast_m_s, state.rm30_m_s, state.rm_max_m_s, state.running_m_s)),
        *(_degrees(a) for a in (state.heel_rad, state.gust_heel_rad, state.no_return_rad)),
    ]


def _knots(wind_m_s: float | None) -> str:
    return "-" if wind_m_s is None else f"{units.convert(wind_m_s, 'm/s', 'kn'):.1f}"


def _degrees(angle: float | None) -> str:
    if angle is None:
        return "-"
    return "lost" if math.isinf(angle) else f"{math.degrees(angle):.0f}"


def state_said(state: StateLimits) -> str:
    """Say which limit of a state comes first."""
    winds = {"mast": state.mast_m_s, "RM30": state.rm30_m_s, "RM max": state.rm_max_m_s}
    first = winds.get(state.first)
    if first is None:
        return "no limit was found."
    said = f"{_MARK[state.first]} comes first, at {_knots(first)} kn close-hauled"
    if sooner_running(state):
        said += f"; running, the mast has had enough sooner still, in a mean wind of {_knots(state.running_m_s)} kn"
    return f"{said}."


def sooner_running(state: StateLimits) -> bool:
    """Whether the mast has had enough before the wind in less than the first limit close-hauled allows."""
    winds = [w for w in (state.mast_m_s, state.rm30_m_s, state.rm_max_m_s) if w is not None]
    return state.running_m_s is not None and bool(winds) and state.running_m_s < min(winds)
