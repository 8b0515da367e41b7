"""Loads along the mast, case by case: wind, sails, and the righting moment that caps them."""

from .case import AS_GIVEN, CaseLoad, Lay, Varied, winds
from .cases import case_lays, case_loads
from .line import Applied, LineLoad, PointLoad
from .righting import RightingMoment, arm_at, largest_moment, metacentric_height, moment_at_30, roll_gyration
from .sailing import SailPlan, holding_moment, sail_plan
from .sails import Strips, corners_of, describes_simple_polygon, strips_of
from .standard import standard_cases, state_names
from .states import ALL_SAIL, OWN_ALONE, SetSail, is_whole_panels, sails_of_state, set_sail
from .unsailed import own_roll_period, sails_taken_in

__all__ = [
    "ALL_SAIL",
    "AS_GIVEN",
    "OWN_ALONE",
    "Applied",
    "CaseLoad",
    "Lay",
    "LineLoad",
    "PointLoad",
    "RightingMoment",
    "SailPlan",
    "SetSail",
    "Strips",
    "Varied",
    "arm_at",
    "case_lays",
    "case_loads",
    "corners_of",
    "describes_simple_polygon",
    "holding_moment",
    "is_whole_panels",
    "largest_moment",
    "metacentric_height",
    "moment_at_30",
    "own_roll_period",
    "roll_gyration",
    "sail_plan",
    "sails_of_state",
    "sails_taken_in",
    "set_sail",
    "standard_cases",
    "state_names",
    "strips_of",
    "winds",
]
