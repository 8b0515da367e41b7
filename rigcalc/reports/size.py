"""The sized mast on the screen and as JSON."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from ..design.sizing import Neighbour, NoSize, Sized
from ..limits import Check
from ..verdict import CAUTIONS, NOT_CHECKED, SCHEMA_VERSION, CheckResult
from ..version import __version__
from .document import as_dict, finite
from .terminal import Units, amount, bullets, wrapped

SHOWN_CHECKS = 6


def size_screen(found: Sized | NoSize, *, shown_in: Units = "both") -> str:
    """Return a sized mast, or why there is none, as text."""
    body = _sized(found, shown_in) if isinstance(found, Sized) else _none(found)
    return "\n".join([*body, "", *bullets("Cautions", (*CAUTIONS, NOT_CHECKED))]) + "\n"


def size_said(found: Sized | NoSize, shown_in: Units) -> Iterator[str]:
    """Yield what was found in sentences, the heading first."""
    if isinstance(found, NoSize):
        end = "" if found.finished else " so far: the search was broken off"
        yield f"No mast of {found.material} passes{end}."
        yield f"{found.why}."
        if found.sizes:
            yield f"Nearest: {found.sizes}."
        return
    result = found.result
    end = "" if found.finished else ", as far as the search came: it was broken off"
    yield f"Mast of {found.material}, {amount(found.mass_kg, 'kg', shown_in)} with its fittings{end}."
    yield f"Sizes: {found.sizes}."
    if found.price is not None:
        yield f"Material in place at your prices: {found.price:.2f}."
    widest = float(result.stations.diameter_m.max())
    tip = max(max(c.tip_deflection_m, c.tip_deflection_large_m or 0.0) for c in result.cases)
    yield (
        f"Widest {widest * 1e3:.0f} mm; centre of gravity {result.mast.centre_of_gravity_m:.2f} m above the heel; "
        f"lowest frequency {result.mast.natural_frequencies_Hz[0]:.2f} Hz; the tip goes up to "
        f"{amount(tip, 'm', shown_in)}."
    )


def binding(result: CheckResult) -> tuple[Check, ...]:
    """Return the kinds of check that are used most, each where it is, the most used first."""
    by_id: dict[str, Check] = {}
    for check in sorted(result.checks, key=lambda c: -c.utilisation):
        by_id.setdefault(check.id, check)
    return tuple(by_id.values())[:SHOWN_CHECKS]


def _sized(found: Sized, shown_in: Units) -> Iterator[str]:
    heading, *rest = size_said(found, shown_in)
    yield found.result.title
    yield heading
    yield ""
    for text in rest:
        yield from wrapped(text, "  ", first="")
    yield ""
    yield "What binds, by how much of it is used"
    for check in binding(found.result):
        of = f" of the {check.layer}" if check.layer else ""
        yield f"  {check.utilisation:.3f}  {check.id}{of} at z = {check.height_m:.2f} m in '{check.case}'"
    if found.neighbours:
        yield ""
        yield "Next lighter, and what they fail in"
        for beside in found.neighbours:
            yield from wrapped(beside_said(beside), "    ", first="  - ")
    yield ""
    yield from wrapped(f"{found.tried} masts tried: {found.method}.", "  ", first="")


def beside_said(one: Neighbour) -> str:
    """Put a lighter mast, and what it fails in, in words."""
    of = f" of the {one.layer}" if one.layer else ""
    where = f" in '{one.case}'" if one.case else ""
    return f"{one.step}: {one.mass_kg:.2f} kg, {one.check}{of}{where} {one.utilisation:.3f}"


def _none(found: NoSize) -> Iterator[str]:
    heading, *rest = size_said(found, "both")
    if found.nearest is not None and found.nearest.title:
        yield found.nearest.title
    yield heading
    yield ""
    for text in rest:
        yield from wrapped(text, "  ", first="")
    yield f"{found.tried} masts tried."


def size_json(found: Sized | NoSize) -> str:
    """Return a sized mast, or why there is none, as JSON."""
    return json.dumps(size_dict(found), indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def size_dict(found: Sized | NoSize) -> dict[str, Any]:
    """Return a sized mast, or why there is none, as plain values."""
    document: dict[str, Any] = {
        "schema_version": SCHEMA_VERSION,
        "rigcalc_version": __version__,
        "cautions": [*CAUTIONS, NOT_CHECKED],
        "material": found.material,
        "construction": found.construction,
        "found": isinstance(found, Sized),
        "finished": found.finished,
        "tried": found.tried,
        "sizes": found.sizes,
    }
    if isinstance(found, NoSize):
        nearest = None if found.nearest is None else as_dict(found.nearest)
        return {**document, "why": found.why, "nearest": nearest}
    beside = [{**vars(one), "utilisation": finite(one.utilisation)} for one in found.neighbours]
    mast = found.rig.mast
    return {
        **document,
        "mass_kg": found.mass_kg,
        "price": found.price,
        "method": found.method,
        "stations": [
            {name: value for name, value in vars(station).items() if value is not None}
            for station in mast.stations
        ],
        "sleeves": [
            {name: value for name, value in vars(sleeve).items() if value is not None}
            for sleeve in mast.sleeve
        ],
        "next_lighter": beside,
        "check": as_dict(found.result),
    }
