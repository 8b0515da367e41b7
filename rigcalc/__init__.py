"""Sizing of freestanding masts that turn in their bearings: loads, stresses, bearings, verdict."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from .version import __version__

if TYPE_CHECKING:
    from .errors import Problem, RigInputError
    from .rigfile import load_rig, read_rig
    from .verdict import CheckResult, check

__all__ = ["CheckResult", "Problem", "RigInputError", "__version__", "check", "load_rig", "read_rig"]

_HOMES = {
    "CheckResult": "verdict",
    "check": "verdict",
    "Problem": "errors",
    "RigInputError": "errors",
    "load_rig": "rigfile",
    "read_rig": "rigfile",
}


def __getattr__(name: str) -> Any:
    """Load the public names when first asked for: `--help` must not pay for numpy."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
