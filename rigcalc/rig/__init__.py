"""The rig: frozen dataclasses in SI, and the description of every field."""

from .cases import BARE, GIVEN, HEEL_LIMITED, KNOCKDOWN, WIND_LIMITED, Case, Limits, PointLoad
from .hull import Boat, Stability, Wind
from .model import Rig
from .sails import Sail, State
from .spar import Bearing, Bearings, Mast, Material, Opening, Sleeve, Station, Weld

__all__ = [
    "BARE",
    "GIVEN",
    "HEEL_LIMITED",
    "KNOCKDOWN",
    "WIND_LIMITED",
    "Bearing",
    "Bearings",
    "Boat",
    "Case",
    "Limits",
    "Mast",
    "Material",
    "Opening",
    "PointLoad",
    "Rig",
    "Sail",
    "Sleeve",
    "Stability",
    "State",
    "Station",
    "Weld",
    "Wind",
]
