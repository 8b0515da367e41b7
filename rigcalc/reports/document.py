"""The result as JSON: the form that other programs read, kept stable between releases."""

from __future__ import annotations

import math
from dataclasses import asdict
from typing import Any

from ..bearings import TurningResult
from ..limits import Check
from ..verdict import CheckResult


def as_dict(result: CheckResult, *, stations: bool = False) -> dict[str, Any]:
    """Return a result as plain dicts, lists, strings and finite numbers.

    Parameters
    ----------
    result : CheckResult
        As returned by ``check``.
    stations : bool
        Whether to add the values along the mast.
    """
    document: dict[str, Any] = {
        "schema_version": result.schema_version,
        "rigcalc_version": result.rigcalc_version,
        "title": result.title,
        "verdict": result.verdict,
        "cautions": list(result.cautions),
        "warnings": list(result.warnings),
        "assumptions": [dict(vars(a)) for a in result.assumptions],
        "mast": {
            **vars(result.mast),
            "natural_frequencies_Hz": list(result.mast.natural_frequencies_Hz),
            "stability_cost": dict(vars(result.mast.stability_cost)),
            "vortex_shedding": [dict(vars(s)) for s in result.mast.vortex_shedding],
        },
        "cases": [{**vars(case), "notes": list(case.notes)} for case in result.cases],
        "load_paths": [{**vars(p), "utilisation": finite(p.utilisation)} for p in result.load_paths],
        "post": [dict(vars(p)) for p in result.post],
        "bearings": None if result.turning is None else turning_dict(result.turning),
        "checks": [check_dict(check) for check in result.checks],
    }
    if stations:
        document["stations"] = _stations(result)
    return document


def as_json(result: CheckResult, *, stations: bool = False) -> str:
    """Return a result as JSON text; the same input gives the same bytes."""
    import json

    return json.dumps(as_dict(result, stations=stations), indent=2, allow_nan=False) + "\n"


def turning_dict(turning: TurningResult) -> dict[str, Any]:
    """Return what the mast stands and turns in as plain dicts and lists."""
    plain = _plain(asdict(turning))
    assert isinstance(plain, dict)
    return plain


def _plain(value: Any) -> Any:
    """Return tuples as lists, all the way down."""
    if isinstance(value, dict):
        return {key: _plain(item) for key, item in value.items()}
    if isinstance(value, float):
        return finite(value)
    return [_plain(item) for item in value] if isinstance(value, tuple | list) else value


def check_dict(check: Check) -> dict[str, Any]:
    """Return one check as plain values."""
    entry = {
        "id": check.id,
        "case": check.case,
        "height_m": check.height_m,
        "turn_deg": check.turn_deg,
        "layer": check.layer,
        "demand": finite(check.demand),
        "capacity": finite(check.capacity),
        "unit": check.unit,
        "utilisation": finite(check.utilisation),
        "passed": check.passed,
        "formula": check.formula,
        "source": check.source,
        "advice": check.advice,
    }
    if entry["utilisation"] is None:
        entry["reason"] = "no answer was found for this check, so it does not pass"
    return entry


def finite(value: float) -> float | None:
    """Numbers that are not finite are not JSON."""
    return value if math.isfinite(value) else None


def _stations(result: CheckResult) -> dict[str, Any]:
    s = result.stations
    shared = ("height_m", "diameter_m", "wall_m", "EI_N_m2")
    own = [name for name in vars(s) if name not in (*shared, "cases")]
    return {
        **{name: getattr(s, name).tolist() for name in shared},
        "cases": [
            {"name": case, **{name: [finite(v) for v in getattr(s, name)[i].tolist()] for name in own}}
            for i, case in enumerate(s.cases)
        ],
    }
