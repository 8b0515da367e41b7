"""From each case of the rig file to the loads it puts along the mast."""

from __future__ import annotations

from ..formulas import Working
from ..rig import BARE, GIVEN, HEEL_LIMITED, KNOCKDOWN, LIFT, MOTION, WIND_LIMITED, Case, Rig
from .case import CaseLoad
from .sailing import heel_limited, wind_limited
from .unsailed import bare, given, knockdown, lift, motion

_BUILD = {
    HEEL_LIMITED: heel_limited,
    WIND_LIMITED: wind_limited,
    BARE: bare,
    MOTION: motion,
    KNOCKDOWN: knockdown,
    LIFT: lift,
    GIVEN: given,
}


def case_loads(rig: Rig, cases: tuple[Case, ...], working: Working) -> tuple[CaseLoad, ...]:
    """Return the loads of each case, in order."""
    return tuple(_BUILD[case.kind](rig, case, working) for case in cases)
