"""Sizing of freestanding masts that turn in their bearings: loads, stresses, bearings, verdict.

The way through it is that of the command line: `load_rig` reads a rig file, `check` gives the verdict, `size` and
`compare` look for a mast, `doubt` tells how sure the verdict is, `order` what to buy; `report`, `drawing`, `plot` and
`export` give it on paper. All quantities are SI, their unit at the end of their name. A mast that falls can kill: what
comes out is preliminary until a naval architect or surveyor has reviewed it.

Examples
--------
>>> from rigcalc import check, read_rig, starter_text
>>> check(read_rig(starter_text())).verdict
'pass'
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from .notebook import InNotebook
from .version import __version__

if TYPE_CHECKING:
    from .design.compare import Comparison, compare
    from .design.doubt import Doubt, doubt
    from .design.order import Order, order
    from .design.sizing import NoSize, Sized, size
    from .errors import Problem, RigInputError
    from .reports.drawing import drawing
    from .reports.exports import export
    from .reports.figures import plot
    from .reports.sheet import report
    from .rig import Rig
    from .rigfile import load_rig, read_rig, rig_text, starter_text
    from .verdict import CheckResult, NoSuchCaseError, check

__all__ = [
    "CheckResult",
    "Comparison",
    "Doubt",
    "NoSize",
    "NoSuchCaseError",
    "Order",
    "Problem",
    "Rig",
    "RigInputError",
    "Sized",
    "__version__",
    "check",
    "compare",
    "doubt",
    "drawing",
    "export",
    "load_rig",
    "order",
    "plot",
    "read_rig",
    "report",
    "rig_text",
    "size",
    "starter_text",
]

_HOMES = {
    "CheckResult": "verdict",
    "Comparison": "design.compare",
    "Doubt": "design.doubt",
    "NoSize": "design.sizing",
    "NoSuchCaseError": "verdict",
    "Order": "design.order",
    "Problem": "errors",
    "Rig": "rig",
    "RigInputError": "errors",
    "Sized": "design.sizing",
    "check": "verdict",
    "compare": "design.compare",
    "doubt": "design.doubt",
    "drawing": "reports.drawing",
    "export": "reports.exports",
    "load_rig": "rigfile",
    "order": "design.order",
    "plot": "reports.figures",
    "read_rig": "rigfile",
    "report": "reports.sheet",
    "rig_text": "rigfile",
    "size": "design.sizing",
    "starter_text": "rigfile",
}


def __getattr__(name: str) -> Any:
    """Load the public names when first asked for: `--help` must not pay for numpy."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)


def _in_notebook(result: InNotebook) -> str:
    """Return a result as a notebook shows it."""
    from .reports.notebook import fragment_of

    return fragment_of(result)


InNotebook.shown_by = staticmethod(_in_notebook)
