"""JSON Schema of the rig file, from the same descriptions that the reader walks.

Kept to the plain keywords of draft 4, which every editor's TOML support knows.
"""

from __future__ import annotations

from dataclasses import Field
from typing import Any

from .. import units
from ..rig import Rig
from ..rig.fields import (
    Angles,
    Choice,
    Curve,
    Heights,
    Quantity,
    Shares,
    Table,
    Tables,
    Texts,
    Whole,
    described_fields,
    is_required,
    spec_of,
)


def rig_schema() -> dict[str, Any]:
    """Return the schema of a rig file as plain dicts and lists."""
    return {"$schema": "http://json-schema.org/draft-04/schema#", "title": "rigcalc rig file", **_table(Rig)}


def _table(table: type[Any]) -> dict[str, Any]:
    entries = described_fields(table)
    schema: dict[str, Any] = {
        "type": "object",
        "description": (table.__doc__ or "").strip().split("\n")[0],
        "properties": {key: _entry(entry) for key, entry in entries.items()},
        "additionalProperties": False,
    }
    required = [key for key, entry in entries.items() if is_required(entry)]
    if required:
        schema["required"] = required
    return schema


def _entry(entry: Field[Any]) -> dict[str, Any]:
    spec = spec_of(entry)
    text = spec.help
    if spec.only:
        text += f" Read only by cases of kind {' or '.join(spec.only)}."
    if spec.when:
        text += f" Read only when {spec.when[1]}."
    if spec.needed:
        text += f" Needed when {spec.needed[1]}."
    if spec.default_from and entry.default is not None:
        text += f" Default from: {spec.default_from}."
    schema: dict[str, Any] = {"description": text}
    match spec:
        case Quantity():
            schema["type"] = ["number", "string"] if spec.unit == "1" else "string"
            schema["description"] += _bounds(spec)
        case Whole():
            schema |= {"type": "integer", "minimum": spec.at_least, "maximum": spec.at_most}
        case Choice():
            schema |= {"type": "string", "enum": list(spec.options)}
            if entry.default is not None and not is_required(entry):
                schema["default"] = entry.default
        case Curve():
            pair = {"type": "array", "minItems": 2, "maxItems": 2, "items": {"type": "string"}}
            schema |= {"type": "array", "minItems": spec.least, "maxItems": spec.most, "items": pair}
        case Texts():
            schema |= {"type": "array", "minItems": 1, "items": {"type": "string"}}
        case Heights():
            schema |= {"type": "array", "minItems": 2, "maxItems": spec.most, "items": {"type": "string"}}
        case Angles():
            schema |= {"type": "array", "minItems": 1, "items": {"type": "string"}}
        case Shares():
            share = {"type": "number", "minimum": 0, "maximum": 1}
            schema |= {"type": "object", "additionalProperties": share}
        case Table():
            schema = {**_table(spec.of), **schema}
        case Tables():
            schema |= {
                "type": "array",
                "minItems": spec.least,
                "maxItems": spec.most,
                "items": _table(spec.of),
            }
        case _:
            schema["type"] = "string"
    return schema


def _bounds(spec: Quantity) -> str:
    """Say unit and bounds in words: a quantity is a string, which draft 4 cannot bound."""
    parts = []
    if spec.unit != "1":
        parts.append(f"in {', '.join(units.accepted(spec.unit))}")
    for limit, words in ((spec.above, "above"), (spec.at_least, "at least"), (spec.at_most, "at most")):
        if limit is not None:
            parts.append(f"{words} {units.handy(limit, spec.unit)}")
    return f" ({'; '.join(parts)})" if parts else ""
