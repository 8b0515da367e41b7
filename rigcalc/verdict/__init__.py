"""From a rig to its verdict."""

from .assumptions import WORKED_OUT, NoSuchCaseError, cases_of, defaults_of
from .cautions import CAUTIONS, NOT_CHECKED
from .evaluate import Run, evaluate, evaluate_loads, formulas_have_values
from .model import build_model, build_sections
from .result import (
    SCHEMA_VERSION,
    Assumption,
    CaseResult,
    CheckResult,
    MastResult,
    PathResult,
    PostResult,
    Shedding,
    StabilityCost,
    Stations,
)
from .run import check, checked
from .spar import mast_result
from .trace import Checked

__all__ = [
    "CAUTIONS",
    "NOT_CHECKED",
    "SCHEMA_VERSION",
    "WORKED_OUT",
    "Assumption",
    "CaseResult",
    "CheckResult",
    "Checked",
    "MastResult",
    "NoSuchCaseError",
    "PathResult",
    "PostResult",
    "Run",
    "Shedding",
    "StabilityCost",
    "Stations",
    "build_model",
    "build_sections",
    "cases_of",
    "check",
    "checked",
    "defaults_of",
    "evaluate",
    "evaluate_loads",
    "formulas_have_values",
    "mast_result",
]
