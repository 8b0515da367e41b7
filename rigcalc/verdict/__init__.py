"""From a rig to its verdict."""

from .assumptions import WORKED_OUT, NoSuchCaseError, cases_of
from .result import (
    Assumption,
    CaseResult,
    CheckResult,
    MastResult,
    PathResult,
    Shedding,
    StabilityCost,
    Stations,
)
from .run import Run, check, evaluate, evaluate_loads

__all__ = [
    "WORKED_OUT",
    "Assumption",
    "CaseResult",
    "CheckResult",
    "MastResult",
    "NoSuchCaseError",
    "PathResult",
    "Run",
    "Shedding",
    "StabilityCost",
    "Stations",
    "cases_of",
    "check",
    "evaluate",
    "evaluate_loads",
]
