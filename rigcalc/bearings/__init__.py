"""Bearings a mast turns in, and the effort of turning it.

What takes more than a formula works on plain arguments (plain, play, ring, rollers, bolts, furling); what brings it
together for a rig stands beside it (sideways, checks, thrust, hull, gear).
"""

from .bolts import BoltForces, bolt_forces
from .checks import bearing_checks
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
from .gear import REFERENCE_M_S, Drawn, Gear, furling_checks, furling_result
from .hull import deck_checks
from .plain import LASTING_SQUEEZE, BushContact, bush_contact, half_angle, lasting_pressure
from .play import Bush, Play, PlayWindow, Weather, play_window
from .record import (
    BearingResult,
    FurlingResult,
    HeldTorque,
    HullLoad,
    RollAt,
    Rollers,
    ThrustResult,
    TurningResult,
    Way,
)
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
from .sideways import Felt, Journal, bearing_result, friction_of
from .thrust import thrust_checks, thrust_result, thrust_torque

__all__ = [
    "FLOGGING_DRAG",
    "HAND_PULLS",
    "LASTING_SQUEEZE",
    "LINE",
    "POINT",
    "REFERENCE_M_S",
    "BearingResult",
    "BoltForces",
    "Bush",
    "BushContact",
    "Drawn",
    "Drum",
    "Felt",
    "FurlingResult",
    "FurlingWind",
    "Gear",
    "HeldTorque",
    "HullLoad",
    "Journal",
    "LoadZone",
    "Play",
    "PlayWindow",
    "RingBending",
    "Roll",
    "RollAt",
    "RollerLoads",
    "Rollers",
    "Tackle",
    "ThrustResult",
    "Turned",
    "TurningResult",
    "Twist",
    "Way",
    "Weather",
    "bearing_checks",
    "bearing_result",
    "bolt_forces",
    "bush_contact",
    "deck_checks",
    "friction_of",
    "furling_checks",
    "furling_result",
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
    "thrust_checks",
    "thrust_result",
    "thrust_torque",
    "turning_torque",
    "twist_below",
    "worst_roller_loads",
]
