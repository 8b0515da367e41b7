"""From a rig and a material to the best mast of it, or to why there is none."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TypeVar

import numpy as np

from ...errors import Problem, RigInputError
from ...limits import Check
from ...materials import MaterialError
from ...rig import BY_COST, BY_DIAMETER, Case, Rig
from ...rigfile import read_rig, rig_text
from ...verdict import CheckResult, cases_of, check
from ...verdict.many import stand_of
from ..stock import nesting_rules, tubes_of
from . import built, tubes
from .asked import Jury, sizing_of
from .built import PASSES, Found
from .makes import Space, make_of, price_of, space_of, tube_rig
from .record import Neighbour, NoSize, Sized
from .watch import Watch

T = TypeVar("T")

MOST_TRIES = 6
"""Times that a bound on the diameter is moved where bearings or gear, not the spar, ask for it."""

METHOD = {
    "tubes": (
        "every mast that the list of tubes can build with all joints at the least overlap, at twice and at three times "
        "it, from the lightest on; what is left out is bound to fail"
    ),
    "built": (
        "differential evolution over sizes in whole steps, seeded, then a walk to a mast beside which none that passes "
        "is better, a step or three of one size and one or two of two: a better one farther off is possible"
    ),
}


def size(
    rig: Rig, *, material: str | None = None, folder: str | Path | None = None, watch: Watch | None = None
) -> Sized | NoSize:
    """Find the best mast that passes every check in every case.

    Parameters
    ----------
    rig : Rig
        As read from a rig file; its [size] and [stock] say what may be changed and bought.
    material : str, optional
        What to make it of; that of the file's mast when not given.
    folder : str or Path, optional
        Where the rig file stands, for a list of tubes it names.
    watch : Watch, optional
        Is told how far the search is.

    Returns
    -------
    Sized or NoSize
        ``Sized`` has the rig with its new mast and what `check` says of it, masses in kg; ``NoSize`` tells which check
        cannot be met, and what would open the range.

    Raises
    ------
    RigInputError
        Where the material, the list of tubes or the rig cannot be worked with.

    Notes
    -----
    Of tubes every mast that the list can build is looked at, or left out because it is bound to fail. Staves and
    laminates are searched by seeded differential evolution with `scipy.optimize` and a walk from the best: a better
    mast farther off is possible, and ``method`` says so.

    Examples
    --------
    >>> from rigcalc import read_rig, size, starter_text
    >>> found = size(read_rig(starter_text()))
    >>> found
    <Sized '6061-T6 extruded': 88.9 x 2.5 mm; 10.8 kg with fittings>
    >>> found.result.passed, found.rig.mast.stations[0].wall_m
    (True, 0.0025)
    """
    material, watch = material or rig.mast.material, watch or Watch()
    try:
        found: list[Sized | NoSize] = []
        for bury in sizing_of(rig).bury_m or (rig.mast.bury_m,):
            found.append(_one(_buried(rig, bury), material, folder, watch))
            if not found[-1].finished:
                break
    except MaterialError as error:
        raise RigInputError(
            [Problem("material", f'"{material}"', str(error).rstrip("."), "Take another.")]
        ) from None
    sized = [one for one in found if isinstance(one, Sized)]
    if sized:
        best = min(sized, key=_rank)
        return replace(best, tried=watch.tried, finished=all(one.finished for one in found))
    nearest = min(
        (one for one in found if isinstance(one, NoSize)),
        key=lambda one: np.inf if one.nearest is None else one.nearest.governing.utilisation,
    )
    return replace(nearest, tried=watch.tried, finished=all(one.finished for one in found))


def _buried(rig: Rig, bury_m: float) -> Rig:
    """Return the rig with another bury; what goes by the partners must go by these too."""
    if bury_m == rig.mast.bury_m:
        return rig
    other = replace(rig, mast=replace(rig.mast, bury_m=bury_m))
    try:
        read_rig(rig_text(other))
    except RigInputError as error:
        raise RigInputError(error.problems, where=f"the rig with a bury of {bury_m:g} m") from None
    return other


def _rank(sized: Sized) -> float:
    asked = sizing_of(sized.rig)
    if asked.minimise == BY_DIAMETER:
        return float(np.max(sized.result.stations.diameter_m))
    if asked.minimise == BY_COST and sized.price is not None:
        return sized.price
    return sized.mass_kg


def _one(rig: Rig, material: str, folder: str | Path | None, watch: Watch) -> Sized | NoSize:
    cases, _ = cases_of(rig, None)
    if make_of(rig, material) == "tubes":
        return _of_tubes(rig, material, folder, cases, watch)
    return _of_space(space_of(rig, material), cases, watch)


# ---------------------------------------------------------------- tubes


def _of_tubes(
    rig: Rig, material: str, folder: str | Path | None, cases: tuple[Case, ...], watch: Watch
) -> Sized | NoSize:
    base = tube_rig(rig, material, 1)
    listed = tubes_of(base, folder)
    found = tubes.search(rig, material, listed, nesting_rules(rig), cases, watch)
    if found.best is None or found.result is None:
        nearest = None if found.nearest is None else check(found.nearest.rig(rig, material))
        if nearest is None:
            why = (
                "no tube of the list lies within the sizes that [size] allows: widen them, or name other series in "
                "[stock]"
                if found.finished
                else "the search was broken off before the first mast was tried"
            )
        elif nearest.passed:
            why = (
                "a tube of the list passes the check by itself, but no mast of them keeps to what [size] and [stock] "
                "ask beside it: sizes, mass, frequency, lengths, number of tubes"
            )
        else:
            why = f"{_cannot(nearest)}; or list stronger tubes in [stock]"
        said = "" if found.nearest is None else f"nearest by itself: {found.nearest.said()}"
        return NoSize(material, "tubes", why, nearest, said, found.finished, watch.tried)
    its = found.best.rig(rig, material)
    beside = []
    if found.lighter is not None:
        result = check(found.lighter.rig(rig, material))
        if not result.passed:
            beside.append(_neighbour(found.lighter.said(), result))
    own = price_of(rig, material)
    return Sized(
        material,
        "tubes",
        found.best.said(),
        its,
        found.result,
        found.finished,
        watch.tried,
        tuple(beside),
        None if own is None else own * _spar_kg(its, found.result),
        METHOD["tubes"],
    )


def _neighbour(step: str, result: CheckResult) -> Neighbour:
    worst = result.governing
    return Neighbour(step, result.mast.mass_kg, worst.id, worst.case, worst.layer, worst.utilisation)


def _spar_kg(rig: Rig, result: CheckResult) -> float:
    return result.mast.mass_kg - rig.mast.fittings_mass_kg


# ---------------------------------------------------------------- staves and laminate


def _of_space(space: Space, cases: tuple[Case, ...], watch: Watch) -> Sized | NoSize:
    found, result = _with_gear(space, cases, watch)
    said = space.said(found.row)
    if not (found.passes and result.passed):
        return NoSize(
            space.material, space.make, _why(space, found, result), result, said, found.finished, watch.tried
        )
    own = price_of(space.rig, space.material)
    its = space.rig_of(found.row)
    return Sized(
        space.material,
        space.make,
        said,
        its,
        result,
        found.finished,
        watch.tried,
        _beside(space, cases, found),
        None if own is None else own * _spar_kg(its, result),
        METHOD["built"],
    )


def _with_gear(space: Space, cases: tuple[Case, ...], watch: Watch) -> tuple[Found, CheckResult]:
    """Return the best mast whose bearings and gear pass too, or what came first.

    What does not pass beside the spar is helped by a wider mast, but for the gear that turns it, which is helped by
    a narrower one: the search is made again with that bound moved, until all passes or the spar does not.
    """
    first = built.search(space, cases, watch)
    result = check(space.rig_of(first.row))
    found, its, at = first, result, 1 if space.make == "staves" else 0
    least, most = np.zeros(len(space.free), dtype=np.intp), space.last
    for _ in range(MOST_TRIES):
        if its.passed or not found.passes or not found.finished:
            break
        here, room = int(found.row[at]), space.last[at]
        if its.governing.id.startswith("furling"):
            most = most.copy()
            most[at] = here - max(1, here // 8)
        else:
            least = least.copy()
            least[at] = here + max(1, (room - here) // 6)
        if not 0 <= least[at] <= most[at]:
            break
        found = built.search(space, cases, watch, least=least, most=most)
        its = check(space.rig_of(found.row))
    if found.passes and its.passed:
        return found, its
    return replace(first, finished=found.finished), result


def _beside(space: Space, cases: tuple[Case, ...], found: Found) -> tuple[Neighbour, ...]:
    """Return the masts with one size a step smaller."""
    down = found.row - np.eye(found.row.size, dtype=np.intp)
    rows = space.repaired(down)
    steps = [(free.name, row) for free, row in zip(space.free, rows, strict=True) if np.any(row != found.row)]
    if not steps:
        return ()
    jury = Jury(stand_of(space.rig, cases), sizing_of(space.rig))
    trial = jury.trial(space.outline(np.array([row for _, row in steps])), bent=True)
    beside = []
    for i, (name, _) in enumerate(steps):
        step = f"{name} a step less"
        use, case, used = trial.governing(i)
        if used > PASSES:
            beside.append(Neighbour(step, float(trial.mass_kg[i]), use.id, case, use.layer, used))
        elif not (result := check(space.rig_of(steps[i][1]))).passed:
            # the spar would do: it is its bearings or its gear that would not
            beside.append(_neighbour(step, result))
    return tuple(sorted(beside, key=lambda one: -one.mass_kg))


def _why(space: Space, found: Found, result: CheckResult) -> str:
    top = [f.name for f, i in zip(space.free, found.row, strict=True) if i == f.values.size - 1]
    said = _cannot(result)
    if result.passed:
        said = "the spar passes the check, but not what [size] asks beside it: sizes, mass or frequency"
    if top:
        said += f"; at the end of its range is: {', '.join(top)}"
    return said


def _cannot(result: CheckResult) -> str:
    worst: Check = result.governing
    cure = f"; {worst.advice}" if worst.advice else ""
    used = f"{worst.utilisation:.2f} times" if np.isfinite(worst.utilisation) else "beyond any number"
    return f"{worst.id} in '{worst.case}' is used {used} by the mast that comes nearest{cure}"


def size_all(
    rig: Rig, materials: Sequence[str], *, folder: str | Path | None = None, watch: Watch | None = None
) -> tuple[Sized | NoSize, ...]:
    """Size a mast of each of several materials, as many at once as there are processors.

    Parameters
    ----------
    rig : Rig
        As for `size`.
    materials : sequence of str
        What to make them of. The answers do not hang on how many are sized at once.
    folder, watch
        As for `size`; the watch counts each material by itself.

    Returns
    -------
    tuple of Sized or NoSize
        One to each material, in their order.
    """
    return in_processes(
        partial(_sized, rig, folder, watch or Watch()), materials, unfinished=lambda found: not found.finished
    )


def _sized(rig: Rig, folder: str | Path | None, watch: Watch, material: str) -> Sized | NoSize:
    return size(rig, material=material, folder=folder, watch=replace(watch, tried=0))


def in_processes(
    work: Callable[[str], T], names: Sequence[str], *, unfinished: Callable[[T], bool]
) -> tuple[T, ...]:
    """Work through names, as many at once as there are processors; the answers do not hang on how many.

    Parameters
    ----------
    work : callable
        From a name to its answer; what it is made of must stand in a module.
    names : sequence of str
        In the order in which answers are wanted.
    unfinished : callable
        Whether an answer was broken off: one after the other, the names behind it are then left.

    Returns
    -------
    tuple
        One answer to each name, in their order.
    """
    workers = min(len(names), os.cpu_count() or 1)
    if workers < 2 or not hasattr(os, "fork"):
        found: list[T] = []
        for name in names:
            found.append(work(name))
            if unfinished(found[-1]):
                break
        return tuple(found)
    import multiprocessing
    from concurrent.futures import ProcessPoolExecutor

    with ProcessPoolExecutor(workers, mp_context=multiprocessing.get_context("fork")) as pool:
        waiting = [pool.submit(work, name) for name in names]
        try:
            return tuple(one.result() for one in waiting)
        except KeyboardInterrupt:
            # the terminal stops the workers too, and each hands over the best it has
            return tuple(one.result() for one in waiting)
