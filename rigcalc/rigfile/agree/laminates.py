"""Rules for laminates: their plies, their strength, and their balance."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import fields

from ...errors import Problem
from ...frozen import dataclass
from ...materials import MaterialError
from ...materials.laminates import (
    MOST_UNBALANCED,
    Criterion,
    FindPly,
    LayUp,
    demand_fit,
    fatigue_factor,
    find_fibre,
    find_resin,
    laid_plies,
    lay_up,
)
from ...materials.names import kinds_of
from ...rig import EVERY_CRITERION, PASSING, WATER_STATED, Laminate, Plies
from ..loose import Loose
from .materials import names_of, plies_of
from .say import HAIR, unique


@dataclass(frozen=True)
class Judged:
    """What is wrong with a laminate by itself, and what it lays up where nothing is."""

    laminate: Loose
    problems: tuple[Problem, ...]
    lay_up: LayUp | None


def judged(laminates: Sequence[Loose], own: Sequence[Loose]) -> tuple[Judged, ...]:
    """Return every laminate judged by itself, in order, with the user's own materials at hand."""
    find_ply = plies_of(own)
    return tuple(_judged(laminate, find_ply) for laminate in laminates)


def _judged(laminate: Loose, find_ply: FindPly) -> Judged:
    problems = (*_knockdowns(laminate), *_every_ply(laminate, find_ply))
    if problems or not _whole(laminate):
        return Judged(laminate, problems, None)
    laid = lay_up(_built(laminate), find_ply)
    problems = tuple(_balance(laminate, laid))
    return Judged(laminate, problems, None if problems else laid)


def laminate_rules(
    laminates: Sequence[Judged], own: Sequence[Loose], mast: Loose | None
) -> Iterator[Problem]:
    """Yield what is wrong with the laminates of a rig.

    Parameters
    ----------
    laminates : sequence of Judged
        From `judged`.
    own : sequence of Loose
        The user's own materials.
    mast : Loose, optional
        The mast, if it could be read: no ply ends above its tip.
    """
    yield from unique([one.laminate for one in laminates], "laminate")
    taken = names_of(own)
    for one in laminates:
        laminate = one.laminate
        if laminate.has("name") and (laminate.name in taken or kinds_of(laminate.name)):
            yield Problem(
                f"{laminate.path}.name",
                f'"{laminate.name}"',
                "a material has this name already",
                "Rename it.",
            )
        yield from one.problems
        if mast is not None and mast.has("length_m"):
            yield from _above_tip(laminate, mast.length_m)


def _above_tip(laminate: Loose, length_m: float) -> Iterator[Problem]:
    for plies in laminate.get("plies", ()):
        for key in ("start", "end"):
            height = plies.get(f"{key}_m")
            if height is not None and height > length_m * (1 + HAIR):
                yield Problem(
                    f"{plies.path}.{key}",
                    f"{height:.4g} m",
                    f"it is above the tip, {length_m:.4g} m",
                    "Heights are z from the heel; plies without an end run to the tip.",
                )


def _whole(table: Loose) -> bool:
    """Whether every field of a table and of those in it was read."""
    inside = (item for value in table.values() if isinstance(value, tuple) for item in value)
    return table.has(*(entry.name for entry in fields(table.table))) and all(
        _whole(item) for item in inside if isinstance(item, Loose)
    )


def _built(laminate: Loose) -> Laminate:
    return Laminate(**{**laminate, "plies": tuple(Plies(**plies) for plies in laminate.plies)})


def _knockdowns(laminate: Loose) -> Iterator[Problem]:
    if laminate.get("water") == WATER_STATED and laminate.get("water_factor", 1.0) is None:
        yield Problem(
            f"{laminate.path}.water_factor", "", 'water = "stated" needs it', "Add water_factor = 0.85, say."
        )
    if laminate.has("lasting", "fatigue", "cycles") and laminate.lasting == PASSING:
        try:
            fatigue_factor(laminate.fatigue, laminate.cycles)
        except MaterialError:
            yield Problem(
                f"{laminate.path}.cycles",
                f"{laminate.cycles:g}",
                f'fatigue = "{laminate.fatigue}" leaves nothing after so many',
                'Give fewer, or fatigue = "power".',
            )


def _every_ply(laminate: Loose, find_ply: FindPly) -> Iterator[Problem]:
    for plies in laminate.get("plies", ()):
        problems = [*_heights(plies), *_made_of(plies, find_ply), *_sized(plies)]
        yield from problems
        if problems or not _whole(plies) or not laminate.has("method", "criterion"):
            continue
        try:
            ply = laid_plies(Plies(**plies), laminate.method, find_ply).ply
        except MaterialError as error:
            yield Problem(plies.path, f'"{error.name}"', error.problem, error.remedy)
            continue
        # where every criterion is asked that suits, this one must: it asks for strengths and nothing else
        asked: Criterion = "max-stress" if laminate.criterion == EVERY_CRITERION else laminate.criterion
        try:
            demand_fit(ply, asked)
        except MaterialError as error:
            yield Problem(plies.path, f'"{error.name}"', error.problem, error.remedy)


def _heights(plies: Loose) -> Iterator[Problem]:
    if plies.has("start_m", "end_m") and plies.end_m is not None and plies.start_m >= plies.end_m:
        yield Problem(
            f"{plies.path}.start",
            f"{plies.start_m:.4g} m",
            f"it must be below the end, {plies.end_m:.4g} m",
            "Are the two swapped?",
        )


def _made_of(plies: Loose, find_ply: FindPly) -> Iterator[Problem]:
    """Yield what is wrong with the names of what plies are made of."""
    if not plies.has("material", "fibre"):
        return
    if (plies.material is None) == (plies.fibre is None):
        yield Problem(
            plies.path,
            "" if plies.material is None else "material and fibre",
            "a ply is either a material, or a fibre with its resin",
            "Give one of the two.",
        )
        return
    finders: list[tuple[str, Callable[[str], object]]] = [("material", find_ply)]
    if plies.fibre is not None:
        finders = [("fibre", find_fibre), ("resin", find_resin), ("strengths", find_ply)]
    for key, find in finders:
        name = plies.get(key, "")
        if name is None:
            yield Problem(f"{plies.path}.{key}", "", f"fibre needs its {key} beside it", _ADD[key])
        elif name:
            try:
                find(name)
            except MaterialError as error:
                yield Problem(f"{plies.path}.{key}", f'"{name}"', error.problem, error.remedy)


_ADD = {
    "resin": 'Add resin = "epoxy, wet lay-up", say.',
    "strengths": 'Name a tested ply of the same kind of fibre: strengths = "E-glass/epoxy UD 0.55", say.',
}


def _sized(plies: Loose) -> Iterator[Problem]:
    """Yield a problem unless there is exactly what makes a thickness."""
    sizes = ("fibre_fraction", "areal_mass_kg_m2", "thickness_m")
    if not plies.has("material", "fibre", *sizes):
        return
    share, cloth, thickness = (plies[size] is not None for size in sizes)
    if plies.fibre is not None and share + cloth + thickness != 2:
        yield Problem(
            plies.path,
            "",
            "fibre and resin make a ply of two out of fibre_fraction, areal_mass and thickness; the third follows",
            'Give fibre_fraction = 0.5 and areal_mass = "300 g/m2", say.',
        )
    if plies.material is not None and cloth == thickness:
        yield Problem(
            plies.path,
            "areal_mass and thickness" if cloth else "",
            "a ply has either the mass of its dry fibre or its thickness",
            'Give one: areal_mass = "300 g/m2" or thickness = "0.3 mm", say.',
        )


def _balance(laminate: Loose, laid: LayUp) -> Iterator[Problem]:
    top = max((lot.end_m for lot in laid.lots if lot.end_m < math.inf), default=0.0)
    laid_somewhere = [
        stretch for stretch in laid.stretches_m(0.0, top + 1.0) if stretch not in laid.bare_m(0.0, top + 1.0)
    ]
    worst = max((laid.coupling(*stretch), stretch) for stretch in laid_somewhere)
    (coupling, at), _ = worst
    if coupling > MOST_UNBALANCED:
        yield Problem(
            f"{laminate.path}.plies",
            f"unbalanced at z = {at:.4g} m",
            f"the wall shears by {coupling:.2f} of its strain along the mast, more than {MOST_UNBALANCED:g}: the "
            "mast twists under thrust and goes sideways under a load ahead",
            "Lay as much of every ply at minus its angle.",
        )
