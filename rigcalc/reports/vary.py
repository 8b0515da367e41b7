"""A varied rig on the screen, as JSON, as CSV and as figures."""

from __future__ import annotations

import csv
import io
import json
import math
import textwrap
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

from .. import units
from ..design.vary import FAIL, PASS, REFUSED, Axis, VariedRow, VaryTable
from ..verdict import SCHEMA_VERSION
from ..version import __version__
from .document import finite
from .terminal import Units, bullets, table

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from .figures import Drawn

WIDTH = 120
LONGEST_NAME = 12
MOST_REASONS = 12
_NAMES = {"kg": "lb", "m": "ft", "N": "lbf"}
_DIGITS = {"kg": 2, "lb": 1, "m": 3, "ft": 2, "N": 0, "lbf": 0}


def vary_screen(found: VaryTable, *, shown_in: Units = "both") -> str:
    """Return the table as text, within 120 columns.

    Parameters
    ----------
    found : VaryTable
        As returned by ``vary``.
    shown_in : {"both", "metric", "us"}
        Units; ``both`` gives forces in N and lbf, and the rest in metric ones.
    """
    cases = list(dict.fromkeys(row.case for row in found.rows if row.case))
    lines = [
        *_wrapped(found.title),
        *_wrapped(f"Varied, all else as in the file: {'; '.join(map(_span, found.axes))}."),
    ]
    lines += [*_wrapped(_counted(found)), "", _fitted(_rows(found, cases, shown_in)), ""]
    numbered = "; ".join(f"{i} {name}" for i, name in enumerate(cases, 1))
    lines += _wrapped(f"Cases: {numbered}.") if cases else []
    lines += [text for note in _notes(found) for text in _wrapped(note)]
    lines += _bulleted("Refused", _reasons(found))
    lines += _bulleted("Warnings at every point", _shared_warnings(found))
    lines += ["", *bullets("Cautions", found.cautions)]
    return "\n".join(lines) + "\n"


def _wrapped(text: str, first: str = "", indent: str = "  ") -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=first, subsequent_indent=indent)


def _bulleted(heading: str, texts: Sequence[str]) -> Iterator[str]:
    if texts:
        yield ""
        yield heading
        for text in texts:
            yield from _wrapped(text, "  - ", "    ")


def _span(axis: Axis) -> str:
    first, last = axis.text(axis.values[0]), axis.text(axis.values[-1])
    return f"{axis.path} {first} to {last} in {len(axis.values)} points"


def _counted(found: VaryTable) -> str:
    count = Counter(row.verdict for row in found.rows)
    only = "" if found.only_case is None else f" Only the case {found.only_case!r} is run."
    refused = f", {count[REFUSED]} refused" if count[REFUSED] else ""
    return f"{count[PASS]} of {len(found.rows)} points pass, {count[FAIL]} fail{refused}.{only}"


def _name(axis: Axis, others: Sequence[Axis]) -> str:
    """Return the end of a path that tells it from the others."""
    parts = axis.path.split(".")
    ends = [".".join(parts[-k:]) for k in range(1, len(parts) + 1)]
    name = next((e for e in ends if not any(o.path.endswith(e) for o in others if o is not axis)), axis.path)
    return name if len(name) <= LONGEST_NAME else name[: LONGEST_NAME - 3] + "..."


def _rows(found: VaryTable, cases: Sequence[str], shown_in: Units) -> list[list[str]]:
    mass, tip = ("lb", "ft") if shown_in == "us" else ("kg", "m")
    forces = [name for name, there in (("N", shown_in != "us"), ("lbf", shown_in != "metric")) if there]
    blanks = [""] * (len(forces) - 1)
    names = [_name(axis, found.axes) for axis in found.axes]
    front = ["front"] if found.has_front else []
    heads = [
        [
            *names,
            "mass",
            "tip",
            "partners",
            *blanks,
            "step",
            *blanks,
            "freq.",
            "used",
            "case",
            "verdict",
            *front,
            "",
        ],
        [
            *("" if axis.scales or axis.unit == "1" else axis.unit for axis in found.axes),
            mass,
            tip,
            *forces,
            *forces,
            "Hz",
            "",
            "",
            "",
            *("" for _ in front),
            "most used",
        ],
    ]
    body = [
        [
            *(_value(axis, value) for axis, value in zip(found.axes, row.values, strict=True)),
            _number(row.mass_kg, "kg", mass),
            _number(row.tip_deflection_m, "m", tip),
            *(_number(row.partners_force_N, "N", name) for name in forces),
            *(_number(row.step_force_N, "N", name) for name in forces),
            "-" if row.frequency_Hz is None else f"{row.frequency_Hz:.2f}",
            "-" if row.utilisation is None else f"{row.utilisation:.3f}",
            str(cases.index(row.case) + 1) if row.case else "-",
            row.verdict,
            *("*" if row.front else "" for _ in front),
            row.check or row.refused_at,
        ]
        for row in found.rows
    ]
    return [*heads, *body]


def _fitted(rows: list[list[str]]) -> str:
    """Line up the table, its last column cut where the screen ends."""
    lines = table(rows)
    over = max(map(len, lines.splitlines())) - WIDTH
    if over <= 0:
        return lines
    room = max(len(row[-1]) for row in rows) - over
    return table(
        [[*row[:-1], row[-1] if len(row[-1]) <= room else f"{row[-1][: room - 3]}..."] for row in rows]
    )


def _value(axis: Axis, value: float) -> str:
    return f"{'x' if axis.scales else ''}{value:.6g}"


def _number(value: float | None, unit: str, name: str) -> str:
    return "-" if value is None else f"{units.convert(value, unit, name):.{_DIGITS[name]}f}"


def _notes(found: VaryTable) -> Iterator[str]:
    yield (
        "Used is the greatest utilisation of all checks; tip, partners and step are the greatest of all cases in "
        "which the mast stands, the forces of the straight or the bent mast, whichever has more."
    )
    if any(axis.path in ("mast.bury", "mast.length") for axis in found.axes):
        yield "Heights count from the heel: sails, boat and cases stay at theirs when bury or length are varied."
    if any(row.utilisation == math.inf for row in found.rows):
        yield "Where it is inf, or the tip is -, no answer was found, which never passes."
    if found.has_front:
        marked = sum(bool(row.front) for row in found.rows)
        yield (
            f"Front (*), {marked} of those that pass: no other is as light and bends as little at the tip and is "
            "better in one of the two."
        )
    shared = set(_shared_warnings(found))
    own = sum(bool(set(row.warnings) - shared) for row in found.rows)
    if own:
        yield f"{own} of the points have warnings of their own: --json tells them."


def _shared_warnings(found: VaryTable) -> list[str]:
    checked = [row for row in found.rows if row.verdict != REFUSED]
    if not checked:
        return []
    return [text for text in checked[0].warnings if all(text in row.warnings for row in checked)]


def _reasons(found: VaryTable) -> list[str]:
    all_of_them = [f"{row.label}: {row.why}." for row in found.rows if row.why]
    if len(all_of_them) <= MOST_REASONS:
        return all_of_them
    left = len(all_of_them) - MOST_REASONS
    return [*all_of_them[:MOST_REASONS], f"{left} more: --json and --csv tell every one."]


def vary_json(found: VaryTable) -> str:
    """Return the table as JSON; what has no answer is null."""
    document: dict[str, Any] = {
        "schema_version": SCHEMA_VERSION,
        "rigcalc_version": __version__,
        "title": found.title,
        "cautions": list(found.cautions),
        "only_case": found.only_case,
        "any_passes": found.passed,
        "axes": [
            {"path": axis.path, "unit": axis.unit, "scales": axis.scales, "values": list(axis.values)}
            for axis in found.axes
        ],
        "points": [
            {
                **vars(row),
                "values": list(row.values),
                "utilisation": None if row.utilisation is None else finite(row.utilisation),
                "warnings": list(row.warnings),
            }
            for row in found.rows
        ],
    }
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def vary_csv(found: VaryTable) -> str:
    """Return the table as comma-separated values below lines that begin with ``#``; SI units but for what is varied."""
    out = io.StringIO()
    out.write(
        f"# rigcalc {__version__}, varied rig, schema version {SCHEMA_VERSION}\n# title: {found.title}\n"
    )
    if found.only_case is not None:
        out.write(f"# only case: {found.only_case}\n")
    for text in found.cautions:
        out.write(f"# caution: {text}\n")
    lines = csv.writer(out, lineterminator="\n")
    columns = [name for name in vars(VariedRow("", (), "")) if name not in ("label", "values", "warnings")]
    lines.writerow([*map(_column, found.axes), *columns, "warnings"])
    for row in found.rows:
        cells = [_cell(getattr(row, name)) for name in columns]
        lines.writerow([*row.values, *cells, len(row.warnings)])
    return out.getvalue()


def _column(axis: Axis) -> str:
    return f"{axis.path}, {'times that of the file' if axis.scales else axis.unit}".removesuffix(", 1")


def _cell(value: str | float | bool | None) -> str | float:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "" if value is None else value


def vary_figures(found: VaryTable, *, shown_in: Units = "metric") -> list[Drawn]:
    """Return a figure of each quantity over what is varied: a curve, or a map; how much is used comes first.

    Parameters
    ----------
    found : VaryTable
        As returned by ``vary``.
    shown_in : {"both", "metric", "us"}
        Units; ``both`` is taken as metric.
    """
    us = shown_in == "us"

    def si(unit: str) -> str:
        return _NAMES[unit] if us else unit

    def shown(values: list[float | None], unit: str) -> list[float]:
        return [math.nan if v is None else units.convert(v, unit, si(unit)) for v in values]

    rows = found.rows
    return [
        _drawn(found, "used", "Greatest utilisation", "", 2, [_nan(r.utilisation) for r in rows], limit=1.0),
        _drawn(found, "mass", "Mass of the mast", si("kg"), 1, shown([r.mass_kg for r in rows], "kg")),
        _drawn(found, "tip", "Tip deflection", si("m"), 3, shown([r.tip_deflection_m for r in rows], "m")),
        _drawn(
            found,
            "partners",
            "Force of the partners",
            si("N"),
            0,
            shown([r.partners_force_N for r in rows], "N"),
        ),
        _drawn(found, "step", "Force of the step", si("N"), 0, shown([r.step_force_N for r in rows], "N")),
        _drawn(found, "frequency", "First frequency", "Hz", 2, [_nan(r.frequency_Hz) for r in rows]),
    ]


def _nan(value: float | None) -> float:
    return math.nan if value is None or math.isinf(value) else value


def _drawn(
    found: VaryTable,
    name: str,
    quantity: str,
    unit: str,
    digits: int,
    values: Sequence[float],
    limit: float | None = None,
) -> Drawn:
    from .figures import Drawn

    return Drawn(
        f"varied-{name}",
        f"{quantity}, varied",
        " ".join(
            [
                f"{quantity} as {' and '.join(axis.path for axis in found.axes)} is varied.",
                *_said(found, unit, digits, values),
            ]
        ),
        _maker(found, quantity, unit, digits, values, limit),
    )


def _said(found: VaryTable, unit: str, digits: int, values: Sequence[float]) -> Iterator[str]:
    """Yield what a figure shows in words: its least and its greatest, and what is not there."""
    known = [k for k, value in enumerate(values) if math.isfinite(value)]
    for word, pick in (("Least", min), ("Greatest", max)) if known else ():
        k: int = pick(known, key=lambda k: values[k])
        yield f"{word} {values[k]:.{digits}f}{f' {unit}' if unit else ''} at {found.rows[k].label}."
    yield _counted(found)
    if len(known) < len(values):
        yield f"No answer at {len(values) - len(known)} of {len(values)} points."


def _maker(
    found: VaryTable, quantity: str, unit: str, digits: int, values: Sequence[float], limit: float | None
) -> Callable[[], Figure]:
    import numpy as np

    from .figures import Parameter, curve_or_map

    grid = np.array(values, dtype=float).reshape([len(axis.values) for axis in found.axes])
    parameters = []
    for k, axis in enumerate(found.axes):
        # an axis of a figure grows, whichever way it was asked for
        falls = axis.values[0] > axis.values[-1]
        grid = np.flip(grid, axis=k) if falls else grid
        unit_of = "times that of the file" if axis.scales else axis.unit.removesuffix("1")
        parameters.append(Parameter(axis.path, unit_of, axis.values[::-1] if falls else axis.values))
    return partial(
        curve_or_map,
        parameters,
        grid,
        quantity=quantity,
        unit=unit,
        title=f"{quantity}, varied",
        subtitle=found.title,
        limit=limit,
        digits=digits,
        notes=[
            f"All else is as in the rig file.{' The darker the greater.' if len(parameters) > 1 else ''}",
            *_said(found, unit, digits, values),
        ],
    )
