"""What a rig will be checked for, and with what sail set: a look before the check."""

from __future__ import annotations

from ..formulas import Working
from ..frozen import dataclass
from ..loads import CaseLoad, case_loads, sails_of_state, standard_cases, state_names
from ..loads.states import SetSail
from ..rig import Rig
from ..verdict import formulas_have_values


@dataclass(frozen=True)
class ListedCase:
    """One case with the reason it is run and the force it puts on the mast."""

    load: CaseLoad
    reason: str
    side_N: float
    forward_N: float


@dataclass(frozen=True)
class ListedState:
    """One state of the sails.

    Parameters
    ----------
    area_m2, centre_m : float
        Area of all sails set, and height z of its centroid.
    sails : tuple of SetSail
        Each sail as it is set.
    """

    name: str
    area_m2: float
    centre_m: float
    sails: tuple[SetSail, ...]


@dataclass(frozen=True)
class CaseList:
    """Cases and states of a rig."""

    title: str
    standard: bool
    cases: tuple[ListedCase, ...]
    states: tuple[ListedState, ...]
    warnings: tuple[str, ...]


def case_list(rig: Rig) -> CaseList:
    """Return the cases a check would run, and the states of the sails.

    Parameters
    ----------
    rig : Rig
        As read from a rig file.

    Returns
    -------
    CaseList
    """
    working = Working()
    chosen = [(case, "named in the file") for case in rig.cases] or list(standard_cases(rig))
    with formulas_have_values():
        loads = case_loads(rig, tuple(case for case, _ in chosen), working)
    cases = [
        ListedCase(load, reason, *load.applied.force())
        for load, (_, reason) in zip(loads, chosen, strict=True)
    ]
    names = state_names(rig) if rig.sails else ()
    return CaseList(
        rig.title,
        not rig.cases,
        tuple(cases),
        tuple(_state(rig, name) for name in names),
        tuple(working.warnings),
    )


def _state(rig: Rig, name: str) -> ListedState:
    sails = sails_of_state(rig, name)
    area = sum(sail.area_m2 for sail in sails)
    moment = sum(sail.area_m2 * sail.strips.centroid_m for sail in sails if sail.share > 0.0)
    return ListedState(name, area, moment / area, sails)
