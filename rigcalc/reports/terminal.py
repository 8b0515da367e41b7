"""The answer on one screen: verdict, what governs, the cases, what was taken for granted, cautions."""

from __future__ import annotations

import math
import re
import textwrap
from collections.abc import Iterator, Sequence
from typing import Literal

from .. import units
from ..limits import Check
from ..verdict import WORKED_OUT, CaseResult, CheckResult, Shedding

WIDTH = 88
_INDEX = re.compile(r"\[\d+\]")
_LONGEST_NAME = 40
"""Columns of a name in a table; more would take it past a screen."""
_MOST_DIGITS = 4
"""Decimals of a small number: as many as show two figures of it, and no more."""
Units = Literal["both", "metric", "us"]

_SHOWN = {"Pa": ("MPa", 1), "N": ("N", 0), "N m": ("N m", 0), "m": ("m", 3), "kg": ("kg", 1)}
_US = {"Pa": ("ksi", 2), "N": ("lbf", 0), "N m": ("lbf ft", 0), "m": ("ft", 2), "kg": ("lb", 1)}


def screen(result: CheckResult, *, shown_in: Units = "both", colour: bool = False) -> str:
    """Return the text answer of a check.

    Parameters
    ----------
    result : CheckResult
        As returned by ``check``.
    shown_in : {"both", "metric", "us"}
        Units of the case table; ``both`` gives forces in N and lbf.
    colour : bool
        Whether the verdict may be coloured; the word is there either way.
    """
    parts = [
        _verdict(result, shown_in, colour),
        table(_case_rows(result, shown_in)),
        "\n".join(_notes(result)),
        "\n".join(line for text in _mast_lines(result, shown_in) for line in wrapped(text, "  ", first="")),
        "\n".join(bullets("Warnings", result.warnings)),
        _defaults(result),
        "\n".join(bullets("Cautions", result.cautions)),
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def amount(value: float, unit: str, shown_in: Units) -> str:
    """Return a value with its unit, in the units chosen."""
    if unit == "1":
        return f"{value:.2f}"
    if unit == "Pa m/s":  # bushes are rated in it, here and overseas
        return f"{value / 1e6:.4f} MPa m/s"
    if shown_in == "both":
        return f"{_number(value, unit, _SHOWN)} ({_number(value, unit, _US)})"
    return _number(value, unit, _US if shown_in == "us" else _SHOWN)


def _number(value: float, unit: str, names: dict[str, tuple[str, int]]) -> str:
    name, digits = names[unit]
    shown = units.convert(value, unit, name)
    # a small side of a check must not read as nothing
    if digits and shown != 0.0:
        digits = max(digits, min(_MOST_DIGITS, 1 - math.floor(math.log10(abs(shown)))))
    return f"{shown:.{digits}f} {name}"


def _verdict(result: CheckResult, shown_in: Units, colour: bool) -> str:
    word = result.verdict.upper()
    if colour:
        word = f"\033[1;{32 if result.passed else 31}m{word}\033[0m"
    check = result.governing
    lines = [f"{result.title}", f"{word}: {why(result)}"]
    lines += wrapped(f"Governing: {check_said(check, shown_in)}", "  ")
    if check.advice:
        lines += wrapped(f"Cure: {check.advice}.", "  ")
    return "\n".join(lines)


def why(result: CheckResult) -> str:
    """Say how many checks pass or fail."""
    failed = [check for check in result.checks if not check.passed]
    if not failed:
        return f"all {len(result.checks)} checks pass in {_count(len(result.cases), 'case')}."
    return f"{len(failed)} of {len(result.checks)} checks fail in {_count(len(result.cases), 'case')}."


def is_of_bearings(id: str) -> bool:
    """Whether a check is of bearings, deck or furling gear."""
    return id.startswith(("partners-", "step-", "thrust-", "hold-", "deck-", "furling-"))


def _count(n: int, noun: str) -> str:
    return f"{n} {noun}" if n == 1 else f"{n} {noun}s"


def check_said(check: Check, shown_in: Units) -> str:
    """Put one check in words."""
    where = f" of the {check.layer}" if check.layer else ""
    turned = "" if check.turn_deg is None else f", turned {check.turn_deg:.0f} deg,"
    place = f"{check.id}{where} at z = {check.height_m:.2f} m{turned} in '{check.case}'"
    if check.utilisation == float("inf"):
        return f"{place}: no answer was found, which never passes."
    demand, capacity = (
        amount(check.demand, check.unit, shown_in),
        amount(check.capacity, check.unit, shown_in),
    )
    return f"{place} is used {check.utilisation:.2f}: {demand} of {capacity}. {check.source}."


def _case_rows(result: CheckResult, shown_in: Units) -> list[list[str]]:
    metric, us = shown_in != "us", shown_in != "metric"
    forces = [name for name, there in (("N", metric), ("lbf", us)) if there]
    moment, length = ("lbf ft", "ft") if not metric else ("N m", "m")
    rows = [
        [
            "",
            "partners",
            *[""] * (len(forces) - 1),
            "step",
            *[""] * (len(forces) - 1),
            "moment",
            "tip",
            "most used",
            "",
        ],
        ["case", *forces, *forces, moment, length, "", ""],
    ]
    for case in result.cases:
        worst = max((c for c in result.checks if c.case == case.name), key=lambda c: c.utilisation)
        rows.append(
            [
                short(case.name),
                *(f"{units.convert(case.partners_N, 'N', f):.0f}" for f in forces),
                *(f"{units.convert(case.step_N, 'N', f):.0f}" for f in forces),
                f"{units.convert(max(case.max_moment_N_m, case.bent_moment_N_m or 0.0), 'N m', moment):.0f}",
                f"{units.convert(_tip(case), 'm', length):.2f}",
                used(worst.utilisation),
                worst.id,
            ]
        )
    return rows


def used(utilisation: float) -> str:
    """Return a utilisation for a table; ``none`` where there is no answer."""
    return f"{utilisation:.2f}" if utilisation != float("inf") else "none"


def _tip(case: CaseResult) -> float:
    return case.tip_deflection_m if case.tip_deflection_large_m is None else case.tip_deflection_large_m


def table(rows: list[list[str]]) -> str:
    """Line up columns: the first and last to the left, numbers to the right."""
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    lines = []
    for row in rows:
        cells = [
            cell.ljust(width) if i in (0, len(row) - 1) else cell.rjust(width)
            for i, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        lines.append("  ".join(cells).rstrip())
    return "\n".join(lines)


def _notes(result: CheckResult) -> Iterator[str]:
    yield "Forces and moments: of the straight or the bent mast, whichever has more."
    for case in result.cases:
        yield from wrapped(f"{case.name}: {'; '.join(case.notes)}.", "  ", first="")


def _mast_lines(result: CheckResult, shown_in: Units) -> Iterator[str]:
    m, cost = result.mast, result.mast.stability_cost
    first, second = m.natural_frequencies_Hz
    mass, limit = amount(m.mass_kg, "kg", shown_in), amount(m.axial_stability_N, "N", shown_in)
    yield (
        f"Mast: {mass} with fittings, centre of gravity at z = {m.centre_of_gravity_m:.2f} m; "
        f"natural frequencies {first:.2f} and {second:.2f} Hz; unstable under {limit} at the tip."
    )
    against = f" more than a mast of {cost.compared_with_kg:.0f} kg" if cost.compared_with_kg else ""
    yield (
        f"Its weight costs{against} {cost.gm_loss_m * 1e3:.0f} mm of GM and "
        f"{amount(cost.moment_30_loss_N_m, 'N m', shown_in)} of righting moment at 30 deg, or "
        f"{amount(cost.ballast_kg, 'kg', shown_in)} of ballast."
    )
    own = [check for check in result.checks if is_of_bearings(check.id)]
    if own:
        worst_of_them = max(own, key=lambda check: check.utilisation)
        yield f"Bearings, deck and furling gear: {check_said(worst_of_them, shown_in)} `rigcalc bearings` tells more."
    if result.turning is not None and result.turning.furling is not None:
        yield f"Furling: {result.turning.furling.said}"
    if result.post:
        worst = max(result.post, key=lambda p: p.top_force_N)
        socket = (
            "clamped at its foot"
            if worst.socket_top_force_N is None or worst.socket_foot_force_N is None
            else f"held by {amount(worst.socket_top_force_N, 'N', shown_in)} at the top of its socket and "
            f"{amount(worst.socket_foot_force_N, 'N', shown_in)} at its bottom"
        )
        yield (
            f"Post: up to {amount(worst.top_force_N, 'N', shown_in)} on its top, in {worst.case!r}; moment at "
            f"the foot {amount(worst.foot_moment_N_m, 'N m', shown_in)}, top moved "
            f"{worst.top_deflection_m * 1e3:.1f} mm; {socket}."
        )
    winds = "; ".join(shedding_said(s) for s in m.vortex_shedding)
    yield (
        f"Left in the wind it may sway and hum: {winds}. At a mooring wrap a line round it in a spiral, strap it, or "
        "step it out."
    )


def shedding_said(s: Shedding) -> str:
    """Say in which wind the mast may sway."""
    sway = "" if s.sway_m is None else f", up to {s.sway_m * 1e3:.0f} mm"
    return f"{s.condition}, mode {s.mode} at {s.wind_m_s:.1f} m/s{sway}"


def _defaults(result: CheckResult) -> str:
    """List the defaults by the table they stand in; all cases, sails or materials of one mind go together."""
    standard = any(a.path.startswith("case '") for a in result.assumptions)
    found: dict[str, dict[str, list[str]]] = {}
    for a in result.assumptions:
        if a.default and a.value != WORKED_OUT and not a.path.startswith("case '"):
            place, _, key = a.path.rpartition(".")
            found.setdefault(_INDEX.sub("", place), {}).setdefault(place, []).append(f"{key} {a.value}")
    tables = {label: taken for table, places in found.items() for label, taken in _alike(table, places)}
    text = "The file names no [[case]]: the standard set is run. " if standard else ""
    if tables:
        text += "Defaults taken (sources with --json): "
        text += "; ".join(f"{table}: {', '.join(taken)}" for table, taken in tables.items()) + "."
    return "\n".join(wrapped(text, "  ", first=""))


def _alike(table: str, places: dict[str, list[str]]) -> Iterator[tuple[str, list[str]]]:
    """Yield a table with its defaults: once where all of its name have the same, else by those that have."""
    groups: dict[tuple[str, ...], list[str]] = {}
    for place, taken in places.items():
        groups.setdefault(tuple(taken), []).append(place)
    for one, where in groups.items():
        yield (table if len(groups) == 1 else ", ".join(where)), list(one)


def short(name: str) -> str:
    """Return a name for a column of a table: a long one keeps its two ends, which tell it from others."""
    return name if len(name) <= _LONGEST_NAME else f"{name[: _LONGEST_NAME - 17]}... {name[-13:]}"


def bullets(heading: str, texts: Sequence[str]) -> Iterator[str]:
    """Yield a heading and texts below it, each with a dash and wrapped."""
    if texts:
        yield heading
        for text in texts:
            yield from wrapped(text, "    ", first="  - ")


def wrapped(text: str, indent: str, first: str | None = None) -> list[str]:
    """Return a text in lines no wider than the screen."""
    # a name such as tip-deflection is one word
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=indent if first is None else first,
        subsequent_indent=indent,
        break_on_hyphens=False,
    )
