"""Masts side by side: on the screen, as JSON, as CSV."""

from __future__ import annotations

import csv
import io
import json
import math
from typing import Any

from .. import units
from ..design.compare import Compared, Comparison
from ..verdict import CAUTIONS, NOT_CHECKED, SCHEMA_VERSION
from ..version import __version__
from .size import size_dict
from .terminal import Units, bullets, table, wrapped

_ROWS: tuple[tuple[str, str, str, float, int], ...] = (
    ("mass, with fittings", "mass_kg", "kg", 1.0, 1),
    ("centre of gravity above the heel", "centre_m", "m", 1.0, 2),
    ("widest", "widest_m", "mm", 1e3, 0),
    ("wall at the partners", "wall_m", "mm", 1e3, 1),
    ("tip deflection", "tip_m", "m", 1.0, 2),
    ("lowest frequency", "frequency_Hz", "Hz", 1.0, 2),
    ("used at the most", "used", "", 1.0, 3),
    ("force at the partners", "partners_N", "N", 1.0, 0),
    ("force at the step", "step_N", "N", 1.0, 0),
    ("wind to furl in, sail let fly", "furling_m_s", "m/s", 1.0, 1),
    ("righting moment lost at 30 deg", "moment_30_loss_N_m", "N m", 1.0, 0),
    ("ballast that makes up for it", "ballast_kg", "kg", 1.0, 0),
    ("material at your prices", "price", "", 1.0, 2),
    ("longest length to buy", "longest_piece_m", "m", 1.0, 2),
    ("mass to buy", "bought_kg", "kg", 1.0, 1),
)
_US = {"kg": "lb", "m": "ft", "mm": "in", "N": "lbf", "N m": "lbf ft", "m/s": "kn"}
_DIGITS_US = {"mm": 2}


def compare_screen(found: Comparison, *, shown_in: Units = "both") -> str:
    """Return masts side by side as text; US units only where they alone are asked for."""
    us = shown_in == "us"
    letters = [chr(ord("A") + i) for i in range(len(found.masts))]
    rows = [["", "", *letters]]
    for label, name, unit, factor, digits in _ROWS:
        values = [getattr(mast, name) for mast in found.masts]
        if any(value is not None for value in values):
            shown = _US.get(unit, unit) if us else unit
            rows.append([label, shown, *(_number(v, unit, factor, digits, us=us) for v in values)])
    rows.append(["held by", "", *(mast.governing for mast in found.masts)])
    lines = [found.title, ""]
    for letter, mast in zip(letters, found.masts, strict=True):
        verdict = "" if mast.passed else " FAILS"
        lines += wrapped(
            f"{letter}  {mast.material}, {mast.construction}{verdict}{': ' if mast.sizes else ''}{mast.sizes}",
            "   ",
            first="",
        )
    lines += ["", table(rows), ""]
    for letter, mast in zip(letters, found.masts, strict=True):
        lines += wrapped(f"{letter}  {mast.said}", "   ", first="")
    for none in found.none:
        lines += wrapped(f"No mast of {none.material} passes: {none.why}.", "  ", first="")
    if not found.finished:
        lines.append("A search was broken off: these are the best masts it had.")
    return "\n".join([*lines, "", *bullets("Cautions", (*CAUTIONS, NOT_CHECKED))]) + "\n"


def _number(value: float | None, unit: str, factor: float, digits: int, *, us: bool) -> str:
    if value is None or not math.isfinite(value):
        return "-"
    if us and unit in _US:
        si = "m" if unit == "mm" else unit
        return f"{units.convert(value, si, _US[unit]):.{_DIGITS_US.get(unit, digits)}f}"
    return f"{value * factor:.{digits}f}"


def compare_json(found: Comparison) -> str:
    """Return masts side by side as JSON."""
    document: dict[str, Any] = {
        "schema_version": SCHEMA_VERSION,
        "rigcalc_version": __version__,
        "title": found.title,
        "cautions": [*CAUTIONS, NOT_CHECKED],
        "finished": found.finished,
        "masts": [_plain(mast) for mast in found.masts],
        "none": [size_dict(none) for none in found.none],
    }
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _plain(mast: Compared) -> dict[str, Any]:
    return {
        name: None if isinstance(value, float) and not math.isfinite(value) else value
        for name, value in vars(mast).items()
    }


def compare_csv(found: Comparison) -> str:
    """Return masts side by side as CSV in SI, a row to a mast, cautions first as comments."""
    out = io.StringIO()
    for caution in (*CAUTIONS, NOT_CHECKED):
        out.write(f"# {caution}\n")
    writer = csv.DictWriter(out, list(Compared.__dataclass_fields__), lineterminator="\n")
    writer.writeheader()
    for mast in found.masts:
        writer.writerow({name: "" if value is None else value for name, value in _plain(mast).items()})
    return out.getvalue()
