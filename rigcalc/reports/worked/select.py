"""Which lines make the worked calculation: the load, the bearings, and each kind of check where it governs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from ...frozen import dataclass
from ...limits import Check
from ...rig import Rig
from ...verdict import CaseResult, Checked, CheckResult, cases_of, checked
from .amounts import amount
from .balance import reactions
from .chains import Known, Source
from .derived import Spot, constants_of, derived, life_lines, round_of
from .joins import BEFORE, CAPACITY, DEMAND
from .line import WorkedLine, worked_line
from .places import Place, Worked, read_all
from .plies import ply_end
from .sailed import load_lines

GIVEN = {
    "tip-deflection": {
        "demand": "the larger deflection of the straight and the bent mast, integrated along it"
    },
    "axial-stability": {"demand": "the greatest compression along the mast"},
    "joint-overlap": {"capacity": "the overlap in the file"},
    "bearing": {"capacity": "the pressure that the laminate is taken to bear"},
    "partners-edge": {"demand": "the length of the bush"},
    "step-edge": {"demand": "the length of the bush"},
    "partners-pressure": {"capacity": "the pressure that the bush may bear"},
    "step-pressure": {"capacity": "the pressure that the bush may bear"},
    "thrust-pressure": {"capacity": "the pressure that the face may bear"},
    "hold-down": {"capacity": "what the file says that holds the heel down"},
    "deck-bolts": {"capacity": "the stress that a bolt may bear"},
    "deck-holes": {"capacity": "the stress that the deck may bear"},
    "deck-pad": {"capacity": "the pressure that the core may bear"},
    "furling-pressure": {"capacity": "the pressure that the bush may bear while it turns"},
    "furling-pv": {"capacity": "pressure times speed that the bush may bear"},
}
"""Sides of a check that no formula stands behind: what they are."""


@dataclass(frozen=True)
class WorkedSection:
    """One part of the calculation.

    Parameters
    ----------
    heading : str
        What it is of.
    sentence : str
        What it shows, and where it governs.
    lines : tuple of WorkedLine
        In the order to be read.
    check : Check or None
        The check that it works out.
    demand, capacity : int or None
        Which line ends the chain of either; None where it is given, or left out.
    left_out : tuple of str
        ``demand`` or ``capacity``, where no chain to it was found.
    """

    heading: str
    sentence: str
    lines: tuple[WorkedLine, ...]
    check: Check | None = None
    demand: int | None = None
    capacity: int | None = None
    left_out: tuple[str, ...] = ()


@dataclass(frozen=True)
class WorkedCalculation:
    """The worked calculation of a rig.

    Parameters
    ----------
    title : str
        Of the rig.
    verdict : {"pass", "fail"}
        Of the whole check.
    cautions, warnings : tuple of str
        As those of the check: they belong to every output.
    sections : tuple of WorkedSection
        Load, bearings, then the checks, the most used first.
    """

    title: str
    verdict: str
    cautions: tuple[str, ...]
    warnings: tuple[str, ...]
    sections: tuple[WorkedSection, ...]

    def of(self, check_id: str) -> WorkedCalculation:
        """Return the part that works out one check."""
        own = tuple(s for s in self.sections if s.check is not None and s.check.id == check_id)
        return replace(self, sections=own)

    @property
    def passed(self) -> bool:
        """Whether every check in it passes."""
        return all(s.check.passed for s in self.sections if s.check is not None)

    @property
    def check_ids(self) -> tuple[str, ...]:
        return tuple(s.check.id for s in self.sections if s.check is not None)


def worked(rig: Rig, *, case: str | None = None) -> WorkedCalculation:
    """Work out the numbers of a check so that they can be followed by hand.

    Parameters
    ----------
    rig : Rig
        As read from a rig file.
    case : str, optional
        Name of the only case to run.

    Returns
    -------
    WorkedCalculation
        Of the governing case, or of the one asked for.

    Raises
    ------
    NoSuchCaseError
        If there is no case of that name.
    RigInputError
        If the rig asks a formula for a value it does not have.
    """
    return worked_from(rig, checked(rig, case=case), case=case)


def worked_from(rig: Rig, done: Checked, *, case: str | None = None) -> WorkedCalculation:
    """Return the worked calculation of a check that was run already.

    Parameters
    ----------
    rig : Rig
        As read from a rig file.
    done : Checked
        What came of it.
    case : str, optional
        The case it was run in alone.
    """
    result = done.result
    sections = [_load(rig, result, case), _bearings(done)]
    sections += [_check(rig, done, check) for check in governing(result)]
    return WorkedCalculation(
        title=result.title,
        verdict=result.verdict,
        cautions=result.cautions,
        warnings=result.warnings,
        sections=tuple(section for section in sections if section is not None),
    )


def governing(result: CheckResult) -> tuple[Check, ...]:
    """Return the check that governs each id, the most used first."""
    worst: dict[str, Check] = {}
    for check in result.checks:
        if check.id not in worst or check.utilisation > worst[check.id].utilisation:
            worst[check.id] = check
    return tuple(sorted(worst.values(), key=lambda check: -check.utilisation))


# ---------------------------------------------------------------- load and bearings


def _load(rig: Rig, result: CheckResult, only: str | None) -> WorkedSection | None:
    cases, _ = cases_of(rig, only)
    # furling has a wind of its own, which is no case
    names = [case.name for case in result.cases]
    name = next(
        check.case for check in sorted(result.checks, key=lambda c: -c.utilisation) if check.case in names
    )
    case = next(case for case in cases if case.name == name)
    lines = load_lines(rig, case)
    if not lines:
        return None
    notes = next(c.notes for c in result.cases if c.name == name)
    sentence = f"The governing case is of the kind {case.kind}: {'; '.join(notes)}."
    return WorkedSection(f"Load of '{name}'", sentence, tuple(_line(w) for w in lines))


def _bearings(done: Checked) -> WorkedSection | None:
    case: CaseResult = max(done.result.cases, key=lambda c: c.partners_force_N)
    lines = reactions(done.run, case)
    sentence = (
        f"The straight mast in '{case.name}', which presses hardest: forces on the mast, positive to leeward (s) and "
        "forward (f); u is the upper bearing and l the lower. The hull feels them turned round. "
        "Where the bent mast presses harder its force follows (b), and counts."
    )
    return WorkedSection("Forces of the bearings", sentence, tuple(_line(w) for w in lines))


# ---------------------------------------------------------------- checks


def _check(rig: Rig, done: Checked, check: Check) -> WorkedSection:
    places = list(_places(done, check)) or [Place((1, 1, 1), (0, 0, 0))]
    best: tuple[Worked | None, Worked | None, Known] | None = None
    for place in places:
        known = _known(rig, done, check, place)
        demand, capacity = (_end(check, side, known) for side in ("demand", "capacity"))
        demand = demand or ply_end(Spot(rig, done.run, check, place), known)
        if best is None or (demand is not None) + (capacity is not None) > sum(
            x is not None for x in best[:2]
        ):
            best = demand, capacity, known
            spot = Spot(rig, done.run, check, place)
    assert best is not None
    demand, capacity, known = best
    lines: dict[tuple[object, ...], Worked] = {}
    ends: dict[str, int | None] = {}
    missing = []
    for side, end in (("demand", demand), ("capacity", capacity)):
        chain = () if end is None else known.chain(end)
        if end is None and side == "capacity" and check.id.startswith("fatigue"):
            chain = life_lines(spot, known)
        if not chain and not _is_given(check, side):
            missing.append(side)
        for line in chain:
            lines.setdefault(line.key, line)
        ends[side] = list(lines).index(chain[-1].key) if chain else None
    return WorkedSection(
        heading=check.id + (f", {check.layer}" if check.layer else ""),
        sentence=_said(check, missing),
        lines=tuple(_line(w) for w in lines.values()),
        check=check,
        demand=ends["demand"],
        capacity=ends["capacity"],
        left_out=tuple(missing),
    )


def _places(done: Checked, check: Check) -> Iterator[Place]:
    """Yield where a check may stand: its height may be the end of two elements."""
    run = done.run
    if check.case not in run.names:
        return
    mesh, turns = run.model.mesh, run.model.turns_rad
    number, rows, z = run.names.index(check.case), len(run.names) * len(turns), mesh.z_m
    row = number * len(turns)
    if check.turn_deg is not None:
        row += int(np.argmin(np.abs(np.degrees(turns) - check.turn_deg)))
    if check.layer == "post":
        assert run.post is not None
        standing = [i for i, load in enumerate(run.loads) if load.held_at_m is None]
        rows, row, z = len(standing), standing.index(number), run.post.mesh.z_m - run.post.foot_m
    own = [limit for limit in run.limits if (limit.id, limit.layer) == (check.id, check.layer)]
    chosen = tuple(np.broadcast_to(limit.where, z.shape) for limit in own if limit.where is not None)
    for i, j in np.argwhere(z == check.height_m):
        if any(limit.demand[row, i, j] != check.demand for limit in own):
            continue
        yield Place((rows, *z.shape), (row, int(i), int(j)), chosen)


def _known(rig: Rig, done: Checked, check: Check, place: Place) -> Known:
    known = Known(read_all(done.working.steps, place), joins=BEFORE)
    spot = Spot(rig, done.run, check, place)
    on_mast = check.layer != "post" and place.shape[1:] == done.run.model.mesh.z_m.shape
    constants = {"factor": [rig.limits.yield_factor, rig.limits.rupture_factor, rig.timber.safety_factor]}
    if on_mast:
        constants = constants_of(spot)
    return replace(
        known,
        derived=tuple(derived(spot)) if on_mast else (),
        constants=constants | round_of(known),
    )


def _end(check: Check, side: str, known: Known) -> Worked | None:
    """Return the line that gives one side of a check."""
    value = check.demand if side == "demand" else check.capacity
    if _is_given(check, side) or not np.isfinite(value):
        return None
    word = check.id.split()[0]
    named: Sequence[Source] = (DEMAND if side == "demand" else CAPACITY).get(word, ())
    return known.result(value, check.unit, named)


def _is_given(check: Check, side: str) -> bool:
    return side in GIVEN.get(check.id, {}) or (
        side == "capacity" and check.unit == "1" and check.capacity == 1.0
    )


def _said(check: Check, missing: Sequence[str]) -> str:
    """Put in words where a check governs, what it comes to, and what is not worked out here."""
    turned = "" if check.turn_deg is None else f", the mast turned {check.turn_deg:.0f} deg"
    place = f"Governs at z = {check.height_m:.2f} m in '{check.case}'{turned}"
    if check.utilisation == float("inf"):
        return f"{place}: no answer was found, which never passes."
    demand, capacity = amount(check.demand, check.unit), amount(check.capacity, check.unit)
    said = [f"{place}: {demand} of {capacity}, used {check.utilisation:.3f}"]
    said += [f"{side} is {what}" for side, what in GIVEN.get(check.id, {}).items()]
    said += [f"the {side} is not worked out here" for side in missing]
    return "; ".join(said) + f". {check.formula}: {check.source}"


def _line(of: Worked) -> WorkedLine:
    return worked_line(of.formula, of.arguments, symbol=of.symbol, summary=of.summary)
