"""The list of cases and states for the terminal and as JSON."""

from __future__ import annotations

import json
from typing import Any

from ..design import CaseList
from .terminal import table, wrapped


def cases_screen(found: CaseList) -> str:
    """Return cases with their reasons, and the states of the sails, as text."""
    source = "the standard set, since the file names none" if found.standard else "those of the file"
    lines = [found.title, "", f"Cases: {source}.", ""]
    rows = [["case", "to leeward N", "forward N", "kind"]]
    rows += [[c.load.name, f"{c.side_N:.0f}", f"{c.forward_N:.0f}", c.load.kind] for c in found.cases]
    lines += [table(rows), ""]
    for case in found.cases:
        lines += wrapped(f"{case.load.name}: {case.reason}; {'; '.join(case.load.notes)}.", "  ", first="")
    if found.states:
        rows = [["state", "area m2", "centroid z m", "as set"]]
        for state in found.states:
            sails = ", ".join(f"{s.sail.name} {s.share:.0%}" for s in state.sails if s.share > 0.0)
            rows.append([state.name, f"{state.area_m2:.2f}", f"{state.centre_m:.2f}", sails])
        lines += ["", "States of the sails.", "", table(rows)]
    lines += ["", "Forces are those of wind, sails and given loads on this mast, without its own weight."]
    for warning in found.warnings:
        lines += wrapped(f"Warning: {warning}", "  ", first="")
    return "\n".join(lines) + "\n"


def cases_json(found: CaseList) -> str:
    """Return cases and states as JSON."""
    document: dict[str, Any] = {
        "title": found.title,
        "standard": found.standard,
        "cases": [
            {
                "name": c.load.name,
                "kind": c.load.kind,
                "state": c.load.state,
                "reason": c.reason,
                "side_N": c.side_N,
                "forward_N": c.forward_N,
                "heel_rad": c.load.heel_rad,
                "wind_speed_m_s": c.load.wind_speed_m_s,
                "notes": list(c.load.notes),
            }
            for c in found.cases
        ],
        "states": [
            {
                "name": s.name,
                "area_m2": s.area_m2,
                "centroid_m": s.centre_m,
                "sails": {sail.sail.name: sail.share for sail in s.sails},
            }
            for s in found.states
        ],
        "warnings": list(found.warnings),
    }
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"
