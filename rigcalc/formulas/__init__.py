"""Textbook formulas: one small numpy function each, with symbol, units, range and source.

Nothing here imports anything of rigcalc. Symbols stay as the source prints them.
"""

from __future__ import annotations

from importlib import import_module
from types import ModuleType

from .record import (
    Formula,
    FormulaRangeError,
    Range,
    Screening,
    Step,
    Value,
    Working,
    formula,
    record_of,
)

SUBJECTS = (
    "wind",
    "sails",
    "motion",
    "stability",
    "sections",
    "shapes",
    "beams",
    "shells",
    "metals",
    "fatigue",
    "joints",
    "timber",
    "timber_tubes",
    "laminates",
    "foams",
    "laminate_tubes",
    "bearings",
    "contact",
    "rings",
    "thrust",
    "hull_loads",
    "furling",
    "pieces",
)

__all__ = [
    "SUBJECTS",
    "Formula",
    "FormulaRangeError",
    "Range",
    "Screening",
    "Step",
    "Value",
    "Working",
    "all_formulas",
    "formula",
    "record_of",
]


def all_formulas() -> tuple[Formula, ...]:
    """Return the record of every formula, subject by subject in the order of the modules."""
    return tuple(found for subject in SUBJECTS for found in _recorded(import_module(f"{__name__}.{subject}")))


def _recorded(module: ModuleType) -> list[Formula]:
    own = (f for f in vars(module).values() if getattr(f, "__module__", "") == module.__name__)
    return [record_of(f) for f in own if hasattr(f, "record")]
