"""The rig file: TOML read into a Rig and written from one, its schema, and a starter file."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from .load import load_rig, load_text, rig_bytes, rig_of_bytes
from .read import read_rig, read_table, toml_table

if TYPE_CHECKING:
    from .paths import Numbers, numbers_at, with_values
    from .schema import rig_schema
    from .starter import starter_text
    from .write import rig_text

__all__ = [
    "Numbers",
    "load_rig",
    "load_text",
    "numbers_at",
    "read_rig",
    "read_table",
    "rig_bytes",
    "rig_of_bytes",
    "rig_schema",
    "rig_text",
    "starter_text",
    "toml_table",
    "with_values",
]

_HOMES = {
    "Numbers": "paths",
    "numbers_at": "paths",
    "with_values": "paths",
    "rig_schema": "schema",
    "starter_text": "starter",
    "rig_text": "write",
}


def __getattr__(name: str) -> Any:
    """Load what writes, varies or describes a file when it is first asked for: to read one needs none of it."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
