"""The file that `rigcalc new` writes: small, commented, and passing."""

from __future__ import annotations

from pathlib import Path


def starter_text() -> str:
    """Return the text of the starter rig file."""
    return Path(__file__).parent.joinpath("starter.toml").read_text(encoding="utf-8")
