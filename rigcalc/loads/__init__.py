"""Loads along the mast, case by case: wind, sails, and the righting moment that caps them."""

from .cases import CaseLoad, case_loads, holding_moment, is_on_this_mast, sails_set, standard_cases
from .line import LineLoad, PointLoad
from .righting import RightingMoment, largest_moment, moment_at_30
from .sails import Strips, corners_of, describes_simple_polygon, strips_of

__all__ = [
    "CaseLoad",
    "LineLoad",
    "PointLoad",
    "RightingMoment",
    "Strips",
    "case_loads",
    "corners_of",
    "describes_simple_polygon",
    "holding_moment",
    "is_on_this_mast",
    "largest_moment",
    "moment_at_30",
    "sails_set",
    "standard_cases",
    "strips_of",
]
