"""The rig file: TOML read into a Rig and written from one, its schema, and a starter file."""

from .load import load_rig, load_text, rig_bytes, rig_of_bytes
from .paths import Numbers, numbers_at, with_values
from .read import read_rig, read_table, toml_table
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
