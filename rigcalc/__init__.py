"""Sizing of freestanding masts that turn in their bearings: loads, stresses, bearings, verdict."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from .version import __version__

if TYPE_CHECKING:
    from .design.compare import compare
    from .design.doubt import doubt
    from .design.order import order
    from .design.sizing import size
    from .errors import Problem, RigInputError
    from .rigfile import load_rig, read_rig, rig_text
    from .verdict import CheckResult, check

__all__ = [
    "CheckResult",
    "Problem",
    "RigInputError",
    "__version__",
    "check",
    "compare",
    "doubt",
    "load_rig",
    "order",
    "read_rig",
    "rig_text",
    "size",
]

_HOMES = {
    "CheckResult": "verdict",
    "check": "verdict",
    "Problem": "errors",
    "RigInputError": "errors",
    "compare": "design.compare",
    "doubt": "design.doubt",
    "load_rig": "rigfile",
    "order": "design.order",
    "size": "design.sizing",
    "read_rig": "rigfile",
    "rig_text": "rigfile",
}


def __getattr__(name: str) -> Any:
    """Load the public names when first asked for: `--help` must not pay for numpy."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
