"""Questions that stand on the check: what will be checked, and when to take sail in."""

from .cases import CaseList, ListedCase, ListedState, case_list
from .reef import ReefingTable, StateLimits, reefing_table

__all__ = [
    "CaseList",
    "ListedCase",
    "ListedState",
    "ReefingTable",
    "StateLimits",
    "case_list",
    "reefing_table",
]
