"""From each case of the rig file to the loads it puts along the mast."""

from __future__ import annotations

from ..formulas import Working
from ..rig import BARE, GIVEN, HEEL_LIMITED, KNOCKDOWN, LIFT, MOTION, WIND_LIMITED, Case, Rig
from .case import AS_GIVEN, CaseLoad, Lay
from .line import LineLoad
from .sailing import heel_limited, wind_limited
from .spar import diameter_line
from .unsailed import bare, given, knockdown, lift, motion

_SAILING = {HEEL_LIMITED: heel_limited, WIND_LIMITED: wind_limited}
_BUILD = {
    BARE: bare,
    MOTION: motion,
    KNOCKDOWN: knockdown,
    LIFT: lift,
    GIVEN: given,
}


def case_lays(
    rig: Rig, cases: tuple[Case, ...], working: Working, *, every_path: bool = False
) -> tuple[Lay, ...]:
    """Return what lays each case on a mast, in order; the mast's own sizes have no part in it yet."""
    return tuple(
        _SAILING[case.kind](rig, case, working, every_path=every_path)
        if case.kind in _SAILING
        else _BUILD[case.kind](rig, case, working)
        for case in cases
    )


def case_loads(
    rig: Rig,
    cases: tuple[Case, ...],
    working: Working,
    *,
    outside: LineLoad | None = None,
    every_path: bool = False,
) -> tuple[CaseLoad, ...]:
    """Return the loads of each case on the mast of the file, in order.

    Parameters
    ----------
    rig : Rig
        As read from a rig file.
    cases : tuple of Case
        In the order in which their loads are wanted.
    working : Working
        Takes the steps.
    outside : LineLoad, optional
        Diameter of the mast by height, from whoever has it already.
    every_path : bool
        Whether to tell too what the cases with sail set would be by the other load paths.
    """
    its = diameter_line(rig) if outside is None else outside
    return tuple(lay(its, AS_GIVEN) for lay in case_lays(rig, cases, working, every_path=every_path))
