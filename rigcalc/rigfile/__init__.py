"""The rig file: TOML read into a Rig and written from one, its schema, and a starter file."""

from .read import load_rig, read_rig, rig_bytes, rig_of_bytes
from .schema import rig_schema
from .starter import starter_text
from .write import rig_text

__all__ = ["load_rig", "read_rig", "rig_bytes", "rig_of_bytes", "rig_schema", "rig_text", "starter_text"]
