"""From a rig to its verdict."""

from .result import Assumption, CaseResult, CheckResult, MastResult, Stations
from .run import NoSuchCaseError, check

__all__ = ["Assumption", "CaseResult", "CheckResult", "MastResult", "NoSuchCaseError", "Stations", "check"]
