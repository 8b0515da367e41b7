"""From each case of the rig file to the loads it puts along the mast."""

from __future__ import annotations

from ..formulas import Working
from ..rig import BARE, GIVEN, HEEL_LIMITED, KNOCKDOWN, LIFT, MOTION, WIND_LIMITED, Case, Rig
from .case import AS_GIVEN, CaseLoad, Lay
from .sailing import heel_limited, wind_limited
from .spar import diameter_line
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


def case_lays(rig: Rig, cases: tuple[Case, ...], working: Working) -> tuple[Lay, ...]:
    """Return what lays each case on a mast, in order; the mast's own sizes have no part in it yet."""
    return tuple(_BUILD[case.kind](rig, case, working) for case in cases)


def case_loads(rig: Rig, cases: tuple[Case, ...], working: Working) -> tuple[CaseLoad, ...]:
    """Return the loads of each case on the mast of the file, in order."""
    outside = diameter_line(rig)
    return tuple(lay(outside, AS_GIVEN) for lay in case_lays(rig, cases, working))
