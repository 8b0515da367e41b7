"""The rig file: TOML read into a Rig, its schema, and a starter file."""

from .read import load_rig, read_rig
from .schema import rig_schema
from .starter import starter_text

__all__ = ["load_rig", "read_rig", "rig_schema", "starter_text"]
