"""Masts side by side: on the screen, as JSON, as CSV."""

from __future__ import annotations

import csv
import io
import json
import math
from typing import Any

from .. import units
from ..design.compare import Compared, Comparison, Trade, sentences
from ..verdict import CAUTIONS, NOT_CHECKED, SCHEMA_VERSION
from ..version import __version__
from .figures.bars import Series, comparison_bars
from .figures.record import Drawn
from .size import size_dict
from .terminal import Units, bullets, table, wrapped

ROWS: tuple[tuple[str, str, str, float, int], ...] = (
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
    rows = compare_rows(found, us=us)
    letters = rows[0][2:]
    lines = [found.title, ""]
    for letter, mast in zip(letters, found.masts, strict=True):
        verdict = "" if mast.passed else " FAILS"
        lines += wrapped(
            f"{letter}  {mast.material}, {mast.construction}{verdict}{': ' if mast.sizes else ''}{mast.sizes}",
            "   ",
            first="",
        )
    lines += ["", table(rows), ""]
    for i, (letter, mast) in enumerate(zip(letters, found.masts, strict=True)):
        said = mast.said
        if us:
            said = " ".join(sentences(mast, found.masts[1] if i > 1 else None, us=True))
        lines += wrapped(f"{letter}  {said}", "   ", first="")
    for none in found.none:
        lines += wrapped(f"No mast of {none.material} passes: {none.why}.", "  ", first="")
    if not found.finished:
        lines.append("A search was broken off: these are the best masts it had.")
    return "\n".join([*lines, "", *bullets("Cautions", (*CAUTIONS, NOT_CHECKED))]) + "\n"


def compare_rows(found: Comparison, *, us: bool = False) -> list[list[str]]:
    """Return the table of masts side by side: what, unit, and a letter to each mast in the first row."""
    rows = [["", "", *(chr(ord("A") + i) for i in range(len(found.masts)))]]
    for label, name, unit, factor, digits in ROWS:
        values = [getattr(mast, name) for mast in found.masts]
        if any(value is not None for value in values):
            shown = _US.get(unit, unit) if us else unit
            rows.append([label, shown, *(_number(v, unit, factor, digits, us=us) for v in values)])
    rows.append(["held by", "", *(mast.governing for mast in found.masts)])
    return rows


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


def compare_figure(found: Comparison, *, us: bool = False) -> Drawn:
    """Return masts side by side as a figure."""
    shown = (
        ("Mass", "kg", "mass_kg", 1.0, 1),
        ("Widest", "mm", "widest_m", 1e3, 0),
        ("Tip goes", "m", "tip_m", 1.0, 2),
        ("Costs in ballast", "kg", "ballast_kg", 1.0, 0),
    )
    series = []
    for name, unit, of, factor, digits in shown:
        named = _US[unit] if us else unit
        if us:
            factor = units.convert(1.0, "m" if unit == "mm" else unit, named)
            digits = _DIGITS_US.get(unit, digits)
        values = tuple(getattr(mast, of) * factor for mast in found.masts)
        series.append(Series(name, named, values, digits=digits))
    labels = [
        f"{mast.material}, {mast.construction}{'' if mast.passed else ', FAILS'}" for mast in found.masts
    ]
    said = "; ".join(
        f"{label}: "
        + ", ".join(f"{one.name.lower()} {one.values[i]:.{one.digits}f} {one.unit}" for one in series)
        for i, label in enumerate(labels)
    )
    return Drawn(
        "comparison",
        "Masts side by side",
        f"{said}.",
        lambda: comparison_bars(
            labels,
            series,
            title="Masts side by side",
            subtitle=found.title,
            notes=[
                *(f"No mast of {none.material} passes." for none in found.none),
                *([] if found.finished else ["A search was broken off: these are the best masts it had."]),
                "Mass with fittings; widest place outside; how far the tip goes at the most in any case; ballast that "
                "makes up for the righting moment the mast takes at 30 deg of heel.",
            ],
        ),
    )


# ---------------------------------------------------------------- something varied


def trade_screen(found: Trade, *, shown_in: Units = "both") -> str:
    """Return what becomes of several masts when something is varied, as text; US units where they alone are asked."""
    us = shown_in == "us"
    rows = [["", *(word for name in found.materials for word in (name, "", ""))]]
    rows.append(
        [
            "point",
            *(
                word
                for _ in found.materials
                for word in ("lb" if us else "kg", "in" if us else "mm", "held by")
            ),
        ]
    )
    for point in found.points:
        cells: list[str] = []
        for mast in point.masts:
            cells += ["-", "-", ""] if mast is None else _cells(mast, us=us)
        rows.append([point.label, *cells])
    lines = [
        found.title,
        "Masts sized at every point: mass with fittings, widest place, and what holds them.",
        "",
    ]
    lines += [table(rows), ""]
    for point in found.points:
        if point.refused:
            lines += wrapped(f"{point.label}: there is no such rig: {point.refused}", "  ", first="")
    if not found.finished:
        lines.append("A search was broken off: these are the best masts it had.")
    return "\n".join([*lines, *bullets("Cautions", (*CAUTIONS, NOT_CHECKED))]) + "\n"


def _cells(mast: Compared, *, us: bool) -> list[str]:
    mass, widest = (
        _number(mast.mass_kg, "kg", 1.0, 1, us=us),
        _number(mast.widest_m, "mm", 1e3, 0, us=us),
    )
    return [mass, widest, mast.governing]


def trade_json(found: Trade) -> str:
    """Return the same as JSON."""
    points = [
        {
            "label": point.label,
            "refused": point.refused,
            "masts": [None if mast is None else _plain(mast) for mast in point.masts],
        }
        for point in found.points
    ]
    document: dict[str, Any] = {
        "schema_version": SCHEMA_VERSION,
        "rigcalc_version": __version__,
        "title": found.title,
        "cautions": [*CAUTIONS, NOT_CHECKED],
        "finished": found.finished,
        "materials": list(found.materials),
        "points": points,
    }
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def trade_csv(found: Trade) -> str:
    """Return the same as CSV in SI, a row to a mast, cautions first as comments."""
    out = io.StringIO()
    for caution in (*CAUTIONS, NOT_CHECKED):
        out.write(f"# {caution}\n")
    writer = csv.DictWriter(out, ["point", *Compared.__dataclass_fields__], lineterminator="\n")
    writer.writeheader()
    for point in found.points:
        for mast in point.masts:
            if mast is not None:
                plain = {name: "" if value is None else value for name, value in _plain(mast).items()}
                writer.writerow({"point": point.label, **plain})
    return out.getvalue()


def trade_figure(found: Trade, *, us: bool = False) -> Drawn:
    """Return the masses at every point as a figure, in pounds where ``us`` says so."""
    unit = "lb" if us else "kg"

    def shown(mast: Compared | None) -> float | None:
        return None if mast is None else units.convert(mast.mass_kg, "kg", unit)

    series = [
        Series(name, unit, tuple(shown(point.masts[k]) for point in found.points), digits=1)
        for k, name in enumerate(found.materials)
    ]
    labels = [point.label for point in found.points]
    said = "; ".join(
        f"{one.name}: "
        + ", ".join("none" if value is None else f"{value:.1f} {unit}" for value in one.values)
        for one in series
    )
    return Drawn(
        "trade",
        "Mass of the masts",
        f"At {', '.join(labels)}: {said}.",
        lambda: comparison_bars(
            labels,
            series,
            title="Mass of the masts",
            subtitle=found.title,
            notes=[
                "With fittings, of the best mast that was found at each point; none: no mast was found there."
            ],
        ),
    )
