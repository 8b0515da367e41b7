"""Bearings a mast turns in, and the effort of turning it: what takes more than a formula.

Everything here takes plain arguments; nothing knows a rig.
"""

from .bolts import BoltForces, bolt_forces
from .furling import (
    FLOGGING_DRAG,
    HAND_PULLS,
    Drum,
    FurlingWind,
    Roll,
    Tackle,
    Turned,
    Twist,
    furling_wind,
    held_line_pull,
    roll_up,
    turning_torque,
    twist_below,
)
from .plain import LASTING_SQUEEZE, BushContact, bush_contact, half_angle, lasting_pressure
from .play import Bush, Play, PlayWindow, Weather, play_window
from .ring import RingBending, pressure_lines, ring_bending
from .rollers import (
    LINE,
    POINT,
    LoadZone,
    RollerLoads,
    load_zone_of,
    roller_loads,
    stribeck_factor,
    worst_roller_loads,
)

__all__ = [
    "FLOGGING_DRAG",
    "HAND_PULLS",
    "LASTING_SQUEEZE",
    "LINE",
    "POINT",
    "BoltForces",
    "Bush",
    "BushContact",
    "Drum",
    "FurlingWind",
    "LoadZone",
    "Play",
    "PlayWindow",
    "RingBending",
    "Roll",
    "RollerLoads",
    "Tackle",
    "Turned",
    "Twist",
    "Weather",
    "bolt_forces",
    "bush_contact",
    "furling_wind",
    "half_angle",
    "held_line_pull",
    "lasting_pressure",
    "load_zone_of",
    "play_window",
    "pressure_lines",
    "ring_bending",
    "roll_up",
    "roller_loads",
    "stribeck_factor",
    "turning_torque",
    "twist_below",
    "worst_roller_loads",
]
