"""The stations as JSON, with what another program must know of them."""

from __future__ import annotations

import json
from typing import Any

from ..document import finite
from .table import AXES, Floats, Table


def table_json(table: Table) -> str:
    """Return the stations as JSON text; what has no finite value is null."""
    result = table.result
    document: dict[str, Any] = {
        "schema_version": result.schema_version,
        "rigcalc_version": result.rigcalc_version,
        "title": result.title,
        "verdict": result.verdict,
        "cautions": list(result.cautions),
        "warnings": list(result.warnings),
        "axes": list(AXES),
        "stations": {name: _list(column) for name, column in table.mast.items()},
        "cases": [
            {
                "name": case.name,
                "kind": case.kind,
                "turn_deg": case.turn_deg,
                "stations": {name: _list(column) for name, column in own.items()},
            }
            for case, own in zip(result.cases, table.cases, strict=True)
        ],
    }
    return json.dumps(document, indent=2, allow_nan=False) + "\n"


def _list(column: Floats) -> list[float | None]:
    # nothing has no minus before it
    return [finite(value) for value in (column + 0.0).tolist()]
