"""The file that `rigcalc new` writes: small, commented, and passing."""

from __future__ import annotations

from importlib import resources


def starter_text() -> str:
    """Return the text of the starter rig file."""
    return resources.files(__package__).joinpath("starter.toml").read_text(encoding="utf-8")
