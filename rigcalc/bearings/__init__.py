"""What the mast stands and turns in: bearings, thrust, what the hull must carry, and the effort of furling."""

from .checks import bearing_checks
from .clearance import Window, clearance_window
from .hull import deck_checks
from .record import BearingResult, FurlingResult, HullLoad, Rollers, ThrustResult, TurningResult
from .sideways import Felt, Journal, bearing_result, friction_of
from .thrust import thrust_checks, thrust_result, thrust_torque

__all__ = [
    "BearingResult",
    "Felt",
    "FurlingResult",
    "HullLoad",
    "Journal",
    "Rollers",
    "ThrustResult",
    "TurningResult",
    "Window",
    "bearing_checks",
    "bearing_result",
    "clearance_window",
    "deck_checks",
    "friction_of",
    "thrust_checks",
    "thrust_result",
    "thrust_torque",
]
