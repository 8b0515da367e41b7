"""Masts of several materials side by side, each sized for the same loads and limits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

import numpy as np

from .. import units
from ..errors import RigInputError
from ..frozen import dataclass
from ..notebook import InNotebook
from ..rig import Rig
from ..rigfile import read_rig
from ..verdict import CheckResult, build_sections, check
from .order import order
from .sizing import NoSize, Watch, in_processes, size, size_all
from .sizing.asked import sizing_of
from .sizing.makes import make_of
from .vary import varied_rigs

AS_IT_IS = "as the file has it"
COMMON = {"tubes": "6061-T6 extruded", "staves": "Sitka spruce (US)", "laminate": "E-glass/epoxy UD 0.45"}
"""What is set beside the file's own mast where [size] names no materials: one of each construction."""
FOR_REFERENCE = ("Sitka spruce (US) + E-glass/epoxy UD 0.45", "carbon/epoxy UD 0.60")
"""A mixed section, and carbon, which few will lay up at home."""


@dataclass(frozen=True)
class Compared:
    """One mast among others.

    Parameters
    ----------
    material, construction, sizes : str
        What it is.
    passed : bool
        Whether every check passes.
    mass_kg, centre_m : float
        With fittings; centre of gravity above the heel.
    widest_m, wall_m : float
        Greatest outside size, and wall of the tube at the partners.
    tip_m : float
        Greatest deflection of the tip.
    frequency_Hz : float
        Lowest.
    governing, governing_case : str
        The check that is used most, and where.
    used : float
        How much of it.
    partners_N, step_N : float
        Greatest forces on mast and hull, of the straight or the bent mast.
    furling_m_s : float or None
        Wind up to which one person can roll the sail away, let fly, at the high bound of friction.
    moment_30_loss_N_m, ballast_kg : float
        What the mast costs in righting moment at 30 deg, and the ballast that would make up for it.
    price : float or None
        Material in place, by [[size.price]].
    longest_piece_m : float or None
        Longest tube or board to buy; None of what comes off a roll.
    bought_kg : float or None
        Mass to order; None where the order cannot be made out, for want of boards or cloth in [stock].
    E_Pa, density_kg_m3 : float
        Of the tube at the partners.
    said : str
        How it differs from the first, in a sentence.
    """

    material: str
    construction: str
    sizes: str
    passed: bool
    mass_kg: float
    centre_m: float
    widest_m: float
    wall_m: float
    tip_m: float
    frequency_Hz: float
    governing: str
    governing_case: str
    used: float
    partners_N: float
    step_N: float
    furling_m_s: float | None
    moment_30_loss_N_m: float
    ballast_kg: float
    price: float | None
    longest_piece_m: float | None
    bought_kg: float | None
    E_Pa: float
    density_kg_m3: float
    said: str


@dataclass(frozen=True)
class Comparison(InNotebook):
    """Masts side by side, and the materials of which none passes.

    Parameters
    ----------
    title : str
        Of the rig.
    masts : tuple of Compared
        The file's own first, then in the order asked.
    none : tuple of NoSize
        Materials without a mast that passes.
    finished : bool
        Whether every search came to its end.
    """

    title: str
    masts: tuple[Compared, ...]
    none: tuple[NoSize, ...]
    finished: bool

    def __repr__(self) -> str:
        masts = "; ".join(f"{mast.material} {mast.mass_kg:.1f} kg" for mast in self.masts)
        none = f"; none of {', '.join(one.material for one in self.none)}" if self.none else ""
        return f"<Comparison {self.title!r}: {masts}{none}>"


def materials_of(rig: Rig) -> tuple[str, ...]:
    """Return the materials to compare: those of [size], or one of each construction and two for reference."""
    named = sizing_of(rig).materials
    if named:
        return named
    own = rig.mast.material
    family = {**COMMON, make_of(rig, own): own}
    return (*family.values(), *FOR_REFERENCE)


def compare(
    rig: Rig,
    *,
    materials: Sequence[str] = (),
    folder: str | Path | None = None,
    watch: Watch | None = None,
) -> Comparison:
    """Size a mast of each of several materials, and set them beside the mast of the file.

    Parameters
    ----------
    rig : Rig
        As read from a rig file.
    materials : sequence of str
        What to make them of; those of `materials_of` when none is given.
    folder : str or Path, optional
        Where the rig file stands.
    watch : Watch, optional
        Is told how far the search is.

    Returns
    -------
    Comparison
        The mast of the file first; masses in kg, forces in N, lengths in m. Materials of which none passes are in
        ``none``.

    Raises
    ------
    RigInputError
        Where a material or the rig cannot be worked with.

    Notes
    -----
    Each is sized as `size` does, for the same cases and limits, as many at once as there are processors; the answers
    do not hang on how many. ``furling_m_s`` is told at the high bound of friction.

    Examples
    --------
    >>> from rigcalc import compare, read_rig, starter_text
    >>> own, sized = compare(read_rig(starter_text()), materials=["6061-T6 extruded"]).masts
    >>> own.construction, sized.construction, sized.mass_kg < own.mass_kg
    ('as the file has it', 'tubes', True)
    """
    names = tuple(materials or materials_of(rig))
    work = partial(_each, rig, folder, watch or Watch())
    found = in_processes(work, (AS_IT_IS, *names), unfinished=lambda one: not one.finished)
    rows: list[Compared] = []
    for one in found:
        if one.row is not None:
            # the first that was sized is what the others stand beside
            beside = rows[1] if len(rows) > 1 else None
            rows.append(replace(one.row, said=" ".join(sentences(one.row, beside))))
    none = tuple(one.none for one in found if one.none is not None)
    return Comparison(rig.title, tuple(rows), none, all(one.finished for one in found))


@dataclass(frozen=True)
class _Each:
    """The mast of one material, or why there is none."""

    row: Compared | None
    none: NoSize | None = None
    finished: bool = True


def _each(rig: Rig, folder: str | Path | None, watch: Watch, name: str) -> _Each:
    if name == AS_IT_IS:
        return _Each(_row(rig.mast.material, AS_IT_IS, "", rig, check(rig), None, folder))
    found = size(rig, material=name, folder=folder, watch=replace(watch, tried=0))
    if isinstance(found, NoSize):
        return _Each(None, found, found.finished)
    row = _row(name, found.construction, found.sizes, found.rig, found.result, found.price, folder)
    return _Each(row, None, found.finished)


@dataclass(frozen=True)
class Point:
    """Masts of several materials sized at one point of what is varied.

    Parameters
    ----------
    label : str
        The point.
    masts : tuple of Compared or None
        The mast of each material, in their order; None where none passes.
    refused : str
        Why there is no such rig; empty where there is.
    """

    label: str
    masts: tuple[Compared | None, ...]
    refused: str = ""


@dataclass(frozen=True)
class Trade:
    """What becomes of the masts of several materials when something of the rig is varied."""

    title: str
    materials: tuple[str, ...]
    points: tuple[Point, ...]
    finished: bool


def trade(
    text: str,
    asked: Sequence[str],
    *,
    materials: Sequence[str] = (),
    folder: str | Path | None = None,
    watch: Watch | None = None,
) -> Trade:
    """Size masts of several materials at every point of what is varied.

    Parameters
    ----------
    text : str
        Text of a rig file.
    asked : sequence of str
        What to vary, as `design.vary` takes it.
    materials, folder, watch
        As for `compare`.

    Returns
    -------
    Trade
        A mast of each material at each point; masses in kg, lengths in m.

    Raises
    ------
    RigInputError
        Where the file, a path or a material cannot be worked with.
    """
    base = read_rig(text)
    names = tuple(materials or materials_of(base))
    points, finished = [], True
    for point in varied_rigs(text, asked):
        if point.rig is None:
            why = "; ".join(str(problem) for problem in point.refused)
            points.append(Point(point.label, (None,) * len(names), why))
            continue
        found = size_all(point.rig, names, folder=folder, watch=watch)
        finished = finished and all(one.finished for one in found)
        masts = tuple(
            None
            if isinstance(one, NoSize)
            else _row(one.material, one.construction, one.sizes, one.rig, one.result, one.price, folder)
            for one in found
        )
        points.append(Point(point.label, masts))
    return Trade(base.title, names, tuple(points), finished)


def _row(
    material: str,
    construction: str,
    sizes: str,
    rig: Rig,
    result: CheckResult,
    price: float | None,
    folder: str | Path | None,
) -> Compared:
    sections = build_sections(rig)
    at = int(sections.above(rig.mast.bury_m)[0])
    tube, worst = sections.layers[0], result.governing
    standing = [c for c in result.cases if c.axial_load_factor is not None or c.partners_force_N > 0.0]
    furling = None if result.turning is None or result.turning.furling is None else result.turning.furling
    longest, bought = _ordered(rig, folder)
    E, density = (
        float(np.broadcast_to(of, tube.outer_m.shape)[at, 0])
        for of in (tube.elastic.E_Pa, tube.elastic.density_kg_m3)
    )
    return Compared(
        material=material,
        construction=construction,
        sizes=sizes,
        passed=result.passed,
        mass_kg=result.mast.mass_kg,
        centre_m=result.mast.centre_of_gravity_m,
        widest_m=float(np.max(sections.outer_m)),
        wall_m=float(tube.as_new.wall_m[at, 0]),
        tip_m=max(max(c.tip_deflection_m, c.tip_deflection_large_m or 0.0) for c in result.cases),
        frequency_Hz=result.mast.natural_frequencies_Hz[0],
        governing=worst.id,
        governing_case=worst.case,
        used=worst.utilisation,
        # a mast in slings alone presses on neither
        partners_N=max((c.partners_N for c in standing), default=0.0),
        step_N=max((c.step_N for c in standing), default=0.0),
        furling_m_s=None if furling is None else furling.luffed_m_s,
        moment_30_loss_N_m=result.mast.stability_cost.moment_30_loss_N_m,
        ballast_kg=result.mast.stability_cost.ballast_kg,
        price=price,
        longest_piece_m=longest,
        bought_kg=bought,
        E_Pa=E,
        density_kg_m3=density,
        said="",
    )


def _ordered(rig: Rig, folder: str | Path | None) -> tuple[float | None, float | None]:
    """Return the longest piece to buy and the mass to order; nothing where the order cannot be made out."""
    try:
        made = order(rig, folder=folder)
    except RigInputError:
        return None, None
    # cloth comes by the metre off a roll
    pieces = [b.length_m for b in made.bought if b.length_m is not None and b.group != "cloth"]
    longest = max(pieces, default=None)
    bought = sum(b.mass_kg or 0.0 for b in made.bought)
    # staves without boards in [stock] are listed, and not bought
    return longest, bought if bought >= made.check.section_kg else None


def sentences(row: Compared, beside: Compared | None, *, us: bool = False) -> Iterator[str]:
    """Say why a mast came out as it did, beside the first that was sized.

    Parameters
    ----------
    row : Compared
        The mast.
    beside : Compared or None
        The first that was sized; None for itself, and for the mast of the file.
    us : bool
        Whether in US units.
    """

    def told(value: float, si: str, digits: int, metric: str, american: str) -> str:
        name = american if us else metric
        return f"{units.convert(value, si, name):.{digits + (us and name == 'in') * 2}f} {name}"

    held = f"{row.governing} in '{row.governing_case}' holds it, used {row.used:.2f}"
    own = (
        f"E {told(row.E_Pa, 'Pa', 0, 'GPa', 'ksi')} along the mast at "
        f"{told(row.density_kg_m3, 'kg/m3', 0, 'kg/m3', 'lb/ft3')}"
    )
    if row.construction == AS_IT_IS:
        yield f"The mast of the file, of {row.material}: {held}."
        return
    if beside is None:
        yield f"{row.material} ({own}) comes to {told(row.mass_kg, 'kg', 1, 'kg', 'lb')}: {held}."
        return
    more = row.mass_kg / beside.mass_kg - 1
    weighs = f"{abs(more):.0%} {'heavier' if more > 0 else 'lighter'} than {beside.material}"
    if abs(more) < 0.005:
        weighs = f"as heavy as {beside.material}"
    for_less = told(beside.widest_m, "m", 0, "mm", "in").split()[0]
    wide = f"{told(row.widest_m, 'm', 0, 'mm', 'in')} wide for {for_less}"
    stiff = row.tip_m / beside.tip_m
    bends = f"its tip goes {stiff:.1f} times as far" if abs(stiff - 1) > 0.05 else "its tip goes as far"
    yield f"{row.material} ({own}) is {weighs} and {wide}; {held}, and {bends}."
