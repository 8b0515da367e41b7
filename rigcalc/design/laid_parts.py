"""Cloth and resin for what is laid up: the wall of a laminated mast, and sheaths over or inside any mast.

Cloth rounds a corner: laid over a box, or over staves left flat, it goes round as over a cylinder of the same
girth, and a cover of even thickness has just the area of that ring (Steiner's formula for convex outlines).
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Final

import numpy as np

from ..errors import Problem, RigInputError
from ..frozen import dataclass
from ..materials.laminates import LaidPlies, LayUp
from ..rig import Mast, Rig, Sheath, StockCloth
from .cloth import ClothOrder, cloth_order
from .layup import Cloth, ClothPly, Mandrel
from .masscheck import integrated_kg
from .outline import HAIR, Floats, Outline, Run
from .stock import stock_of

HEAVIEST_KG_M2: Final = 3.0
LEAST_BIAS_RAD: Final = math.radians(15.0)
_SAME: Final = 0.01
"""Share within which a ply and a cloth of the stock weigh the same."""


@dataclass(frozen=True)
class LaidPly:
    """Which ply of the rig file a cut is for.

    Parameters
    ----------
    laminate : str
        Its laminate.
    lot : int
        Entry in the list of plies, from one.
    angle_rad : float
        From the length of the mast to its fibres.
    count : int
        Of how many alike it is one.
    """

    laminate: str
    lot: int
    angle_rad: float
    count: int


@dataclass(frozen=True)
class LaidPart:
    """Cloth and resin for one lay-up.

    Parameters
    ----------
    name : str
        What is laid.
    start_m : float
        Height of the lower end of what it is laid on; heights in the order count from there.
    order : ClothOrder
        What to cut and mix.
    plies : tuple of LaidPly
        What each cut of the order is for.
    listed : tuple of StockCloth or None
        Of each roll of the order, the cloth of the stock that it is; None where none was named.
    as_laid_kg : float
        By how much plies as thick square to a tapering surface, each at its own radius and round corners, are heavier
        than the section, whose walls are square to the axis, of one density, with sharp corners. From both sections,
        not from the cut pieces.
    """

    name: str
    start_m: float
    order: ClothOrder
    plies: tuple[LaidPly, ...]
    listed: tuple[StockCloth | None, ...]
    as_laid_kg: float

    @property
    def costs(self) -> tuple[float | None, ...]:
        """Price of each roll, in the user's own money; None where its cloth has none."""
        found: list[float | None] = []
        for roll, cloth in zip(self.order.rolls, self.listed, strict=True):
            area = roll.length_m * roll.cloth.roll_m
            if cloth is not None and cloth.price is not None:
                found.append(area * cloth.price)
            elif cloth is not None and cloth.price_per_kg is not None:
                found.append(area * roll.cloth.fibre_kg_m2 * cloth.price_per_kg)
            else:
                found.append(None)
        return tuple(found)


@dataclass(frozen=True)
class _Layer:
    """One lay-up over a stretch."""

    lay_up: LayUp
    start_m: float
    end_m: float


def laid_parts(
    rig: Rig, lay_ups: Mapping[str, LayUp], outline: Outline | None
) -> tuple[tuple[LaidPart, ...], tuple[str, ...]]:
    """Work out the cloth of everything laid up in a rig, and what to look at.

    Parameters
    ----------
    rig : Rig
        Whose mast, and whose cloth.
    lay_ups : mapping
        Its laminates by name.
    outline : Outline or None
        Of a mast that is not laid up itself.

    Returns
    -------
    tuple of LaidPart, tuple of str
        The cloth, part by part, and the warnings.

    Raises
    ------
    RigInputError
        Where the mandrel would have to step, or cloth cannot be cut from its roll.
    """
    mast, parts, warnings = rig.mast, [], []
    over = [s for s in mast.sheath if s.side == "over"]
    if outline is None:
        # sheaths over a laminate lie on its plies: one lay-up, whose cloths share their rolls
        run = _mandrel(mast, lay_ups[mast.material])
        layers = [_Layer(lay_ups[mast.material], 0.0, mast.length_m), *(_layer(s, lay_ups) for s in over)]
        name = f"wall of {mast.material}" + (" and its sheaths" if over else "")
        parts.append(_part(rig, name, Outline("round", 0, (run,)), run, layers))
        return tuple(parts), ()
    for run in outline.runs:
        here = [layer for s in over if (layer := _clipped(_layer(s, lay_ups), run)) is not None]
        if here:
            parts.append(_part(rig, "sheath over the mast", outline, run, here))
    for s in mast.sheath:
        pieces = sum(_clipped(_layer(s, lay_ups), run) is not None for run in outline.runs)
        if pieces > 1:
            warnings.append(
                f"The sheath from z = {s.start_m:.2f} to {s.end_m:.2f} m crosses a step of the mast: its cloth is "
                "listed in a length for each side of it."
            )
        if s.side == "inside":
            parts += _inside(rig, _layer(s, lay_ups), outline)
    return tuple(parts), tuple(warnings)


def _layer(sheath: Sheath, lay_ups: Mapping[str, LayUp]) -> _Layer:
    return _Layer(lay_ups[sheath.laminate], sheath.start_m, sheath.end_m)


def _clipped(layer: _Layer, run: Run) -> _Layer | None:
    low, high = max(layer.start_m, run.heights_m[0]), min(layer.end_m, run.heights_m[-1])
    return _Layer(layer.lay_up, low, high) if high - low > HAIR else None


def _inside(rig: Rig, layer: _Layer, outline: Outline) -> Iterator[LaidPart]:
    """Yield a lay-up inside a round bore; it is reckoned from its inner face."""
    wall = _even_wall(layer, "mast.sheath")
    for run in outline.runs:
        here = _clipped(layer, run)
        if here is None:
            continue
        heights = (here.start_m, *(z for z in run.heights_m if here.start_m < z < here.end_m), here.end_m)
        bore, _ = outline.bore_at(run, np.array(heights))
        sizes = tuple((bore - 2 * wall).tolist())
        inner = Run(heights, sizes, sizes, tuple(size / 2 for size in sizes))
        yield _part(rig, "sheath inside the mast", Outline("round", 0, (inner,)), inner, [here])


def _mandrel(mast: Mast, made: LayUp) -> Run:
    """Return what a laminated mast is laid up on."""
    heights = tuple(s.height_m for s in mast.stations)
    if mast.stations[0].bore_m is not None:
        sizes = tuple(s.bore_m or 0.0 for s in mast.stations)
    else:
        wall = _even_wall(_Layer(made, 0.0, mast.length_m), "mast.stations")
        sizes = tuple((s.diameter_m or 0.0) - 2 * wall for s in mast.stations)
    return Run(heights, sizes, sizes, tuple(size / 2 for size in sizes))


def bore_of(mast: Mast, made: LayUp) -> Outline:
    """Return the bore of a laminated mast, for what fills it; the wall of this outline stands for any."""
    mandrel, wall = _mandrel(mast, made), 1e-3
    sizes = tuple(size + 2 * wall for size in mandrel.forward_m)
    return Outline("round", 0, (Run(mandrel.heights_m, sizes, sizes, (wall,) * len(sizes)),))


def _even_wall(layer: _Layer, path: str) -> float:
    """Return the wall of a lay-up of which the outer face is known; its mandrel steps where a ply ends.

    Raises
    ------
    RigInputError
        Where one does.
    """
    stretches = layer.lay_up.stretches_m(layer.start_m, layer.end_m)
    walls = layer.lay_up.at([(low + high) / 2 for low, high in stretches]).wall_m[:, 0]
    if np.ptp(walls) > 1e-9:
        at = ", ".join(f"{low:.4g}" for low, _ in stretches[1:])
        raise RigInputError(
            [
                Problem(
                    path,
                    f"plies that begin or end at z = {at} m",
                    "under a smooth outside they leave a mandrel with steps, which no cloth lies on in one",
                    "Give the bore at the stations, or let every ply run through, to have the cloth worked out.",
                )
            ],
            where="the cloth to order",
        )
    return float(walls[0])


def _part(rig: Rig, name: str, outline: Outline, run: Run, layers: Sequence[_Layer]) -> LaidPart:
    stock, base = stock_of(rig), run.heights_m[0]
    girths = outline.girth_at(run, np.array(run.heights_m)) / math.pi
    mandrel = Mandrel(heights_m=tuple(z - base for z in run.heights_m), diameters_m=tuple(girths.tolist()))
    plies: list[ClothPly] = []
    of: list[LaidPly] = []
    known: dict[Cloth, StockCloth | None] = {}
    problems: list[Problem] = []
    for layer in layers:
        for number, lot in enumerate(layer.lay_up.lots, start=1):
            low, high = max(lot.start_m, layer.start_m), min(lot.end_m, layer.end_m)
            if high - low <= HAIR:
                continue
            problems += _no_cloth(rig, layer.lay_up.name, number, lot)
            cloth, listed, cut_rad = _cloth(rig, lot)
            known.setdefault(cloth, listed)
            one = ClothPly(
                cloth=cloth,
                thickness_m=lot.ply.thickness_m,
                fibre_fraction=lot.ply.fibre_mass_kg_m2 / lot.ply.mass_kg_m2,
                start_m=low - base,
                end_m=high - base,
                cut_rad=cut_rad,
                lap_m=stock.lap_m,
                join_m=stock.join_m,
            )
            plies += [one] * lot.count
            of += [LaidPly(layer.lay_up.name, number, lot.angle_rad, lot.count)] * lot.count
    if problems:
        raise RigInputError(problems)
    try:
        order = cloth_order(
            mandrel,
            plies,
            every_m=stock.table_step_m,
            ends_m=stock.cloth_ends_m,
            spare=stock.cloth_spare,
            resin_loss=stock.resin_loss,
        )
    except RigInputError as error:
        raise RigInputError([_in_the_file(rig, problem, of) for problem in error.problems]) from None
    section = math.fsum(_section_kg(outline, run, layer, layers[:i]) for i, layer in enumerate(layers))
    return LaidPart(
        name,
        base,
        order,
        tuple(of),
        tuple(known[roll.cloth] for roll in order.rolls),
        order.check.section_kg - section,
    )


def _section_kg(outline: Outline, run: Run, layer: _Layer, below: Sequence[_Layer]) -> float:
    """Mass of a lay-up as a section has it: its walls square to the axis and of their mean density."""
    made = layer.lay_up
    edges = {layer.start_m, layer.end_m, *made.kinks_m, *run.heights_m}
    edges |= {z for under in below for z in (under.start_m, under.end_m, *under.lay_up.kinks_m)}
    heights = sorted(z for z in edges if layer.start_m <= z <= layer.end_m)
    masses = []
    for low, high in pairwise(heights):
        middle = [(low + high) / 2]
        laid = made.at(middle)
        wall, density = float(laid.wall_m[0, 0]), float(laid.density_kg_m3[0, 0])
        under = math.fsum(
            float(one.lay_up.at(middle).wall_m[0, 0]) for one in below if one.start_m < middle[0] < one.end_m
        )

        def area(z_m: Floats, wall: float = wall, under: float = under) -> Floats:
            whole = outline.cover_area_at(run, z_m, under + wall)
            return np.asarray(whole - outline.cover_area_at(run, z_m, under))

        masses.append(integrated_kg((low, high), area, density))
    return math.fsum(masses)


# ---------------------------------------------------------------- which cloth


def _path(rig: Rig, laminate: str, lot: int) -> str:
    names = [one.name for one in rig.laminates]
    return f"laminate[{names.index(laminate)}].plies[{lot - 1}]"


def _in_the_file(rig: Rig, problem: Problem, of: Sequence[LaidPly]) -> Problem:
    """Return a problem of the cloth with the place in the rig file where it comes from."""
    ply = re.fullmatch(r"ply\[(\d+)\](.*)", problem.path)
    if ply is not None:
        one = of[int(ply[1])]
        return replace(problem, path=_path(rig, one.laminate, one.lot) + ply[2])
    return replace(problem, path=problem.path.replace("mandrel", "mast.stations, mandrel", 1))


def _no_cloth(rig: Rig, laminate: str, number: int, lot: LaidPlies) -> Iterator[Problem]:
    """Yield why a ply cannot be a cloth."""
    fibre, (_, _, cut_rad) = lot.ply.fibre_mass_kg_m2, _cloth(rig, lot)
    if fibre > HEAVIEST_KG_M2:
        yield Problem(
            _path(rig, laminate, number),
            f"{fibre:.2f} kg/m2 of fibre",
            f"no cloth is as heavy; {HEAVIEST_KG_M2:g} kg/m2 is taken at the most",
            "Give the thickness, or the areal_mass, of one ply, and their count.",
        )
    if 0.0 < cut_rad < LEAST_BIAS_RAD:
        yield Problem(
            f"{_path(rig, laminate, number)}.angle",
            f"{math.degrees(lot.angle_rad):.3g} deg",
            f"cloth is cut on the bias at {math.degrees(LEAST_BIAS_RAD):g} deg or more",
            "Name a [[stock.cloth]] whose fibres lie at this angle to its roll.",
        )


def _cloth(rig: Rig, lot: LaidPlies) -> tuple[Cloth, StockCloth | None, float]:
    """Return the cloth of a ply, what it is in the stock, and the angle it is cut at."""
    stock, ply = stock_of(rig), lot.ply
    fitting = [cloth for cloth in stock.cloth if _serves(cloth, lot)]
    if not fitting:
        name = f"{ply.name}, {ply.fibre_mass_kg_m2 * 1e3:.0f} g/m2"
        cloth = Cloth(name=name, fibre_kg_m2=ply.fibre_mass_kg_m2, roll_m=stock.roll_m)
        return cloth, None, _cut_rad(lot, 0.0)
    best = min(fitting, key=lambda cloth: _cut_rad(lot, cloth.angle_rad))
    name = best.name or f"{ply.name}, {ply.fibre_mass_kg_m2 * 1e3:.0f} g/m2"
    cloth = Cloth(
        name=name,
        fibre_kg_m2=ply.fibre_mass_kg_m2,
        roll_m=best.roll_m,
        roll_length_m=best.roll_length_m,
    )
    return cloth, best, _cut_rad(lot, best.angle_rad)


def _serves(cloth: StockCloth, lot: LaidPlies) -> bool:
    ply = lot.ply
    of_fibre = lot.strengths_from is not None and ply.name.startswith(f"{cloth.material}/")
    if cloth.material != ply.name and not of_fibre:
        return False
    mass = cloth.areal_mass_kg_m2
    return mass is None or abs(mass / ply.fibre_mass_kg_m2 - 1.0) <= _SAME


def _cut_rad(lot: LaidPlies, in_roll_rad: float) -> float:
    """Return the angle of the roll to the mast: turned over, a cloth serves at the other hand as well."""
    ply = lot.ply
    even = abs(ply.E1_Pa / ply.E2_Pa - 1.0) < _SAME
    if even and (ply.fibres is None or len(ply.fibres) > 2):
        return 0.0  # a mat is alike all ways
    turn = abs(abs(lot.angle_rad) - in_roll_rad)
    if even and not ply.unidirectional:
        turn = min(turn, abs(math.pi / 2 - turn))  # alike along the roll and across it
    return turn if turn > 1e-9 else 0.0
