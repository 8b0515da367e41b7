"""The cases run when a file names none, chosen from its sails, stability data and hold."""

from __future__ import annotations

import numpy as np

from ..formulas import Working
from ..rig import BARE, HEEL_LIMITED, KNOCKDOWN, MOTION, ROLLED, WIND_LIMITED, Case, Rig, State
from .righting import largest_moment
from .states import ALL_SAIL, OWN_ALONE

RUNNING_BEAUFORT = {None: 5, "A": 5, "B": 5, "C": 5, "D": 4}
"""Wind in which all sail is carried on a run, by design category: D is for force 4 at the most."""
STORM_BEAUFORT = 11


def standard_cases(rig: Rig) -> tuple[tuple[Case, str], ...]:
    """Return the standard cases of a rig, each with the reason for it."""
    cases: list[tuple[Case, str]] = []
    here = [sail for sail in rig.sails if sail.mast is None or sail.mast == rig.mast.name]
    if here:
        basis = "RM max" if largest_moment(rig.boat, Working()) else "RM30"
        cases.append(
            (
                Case(name="gust, all sail", kind=HEEL_LIMITED, basis=basis),
                f"the boat can hold no more side force than its {basis} allows",
            )
        )
        if len(here) < len(rig.sails):
            cases.append(
                (
                    Case(name=f"gust, {OWN_ALONE}", kind=HEEL_LIMITED, basis=basis, state=OWN_ALONE),
                    "with the other sails down this mast takes all of the righting moment",
                )
            )
        names = {sail.name for sail in here}
        cases += [
            (
                Case(name=f"gust, {state.name}", kind=HEEL_LIMITED, basis=basis, state=state.name),
                "the same moment with less sail, its force at another height",
            )
            for state in rig.states
            if not is_all_sail(rig, state) and any(share > 0 for name, share in state.set if name in names)
        ]
        force = RUNNING_BEAUFORT[rig.boat.design_category]
        cases.append(
            (
                Case(name="running, all sail", kind=WIND_LIMITED, beaufort=force),
                f"on a run no heel spills the wind; top of Beaufort {force}, after which sail is taken in",
            )
        )
    rolls = any(sail.hold == ROLLED for sail in here)
    cases += [
        (
            Case(name="storm, no sail", kind=BARE, beaufort=STORM_BEAUFORT, force_angle_rad=np.pi / 2),
            f"left on a mooring or caught out: top of Beaufort {STORM_BEAUFORT} on the spar"
            + (" and the sail rolled on it" if rolls else " alone"),
        ),
        (Case(name="rolling", kind=MOTION), "beam on to a sea with no sail to steady her"),
        (
            Case(name="knockdown", kind=KNOCKDOWN),
            "the boat laid flat: the mast carries its own weight across",
        ),
    ]
    return tuple(cases)


def is_all_sail(rig: Rig, state: State) -> bool:
    """Whether a state sets every sail in full."""
    shares = dict(state.set)
    return all(shares.get(sail.name, 0.0) >= 1.0 for sail in rig.sails)


def state_names(rig: Rig) -> tuple[str, ...]:
    """Return the names of a rig's states, with all sail first where no state of the file is that."""
    names = tuple(state.name for state in rig.states)
    return names if any(is_all_sail(rig, state) for state in rig.states) else (ALL_SAIL, *names)
