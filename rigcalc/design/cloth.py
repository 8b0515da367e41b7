"""Cloth for a laminate over a tapered mandrel: what to cut for each ply, off how much roll, with how much resin.

A ply covers a stretch of the mandrel and what lies under it. Its cloth is cut to the circumference at the middle of
its thickness, so a cylinder takes a strip, a cone part of a ring. Where the roll is too narrow the ply is laid in
gores, strips side by side, each with its own lap. Thickness is square to the surface: on a mandrel that leans by
alpha, a wall cut square to the axis is thicker by 1/cos(alpha), a part in 100 000 or so on a mast.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from ..errors import Problem, RigInputError
from ..formulas.laminates import resin_areal_mass
from ..formulas.pieces import (
    arc_height,
    bias_roll_length,
    bias_strip_length,
    cone_area,
    cone_slant,
    developed_radius,
)
from ..formulas.sections import annulus_area
from ..frozen import dataclass
from .layup import Cloth, ClothPly, Mandrel, senseless
from .masscheck import MassCheck, integrated_kg
from .shelves import FlatPiece, Shelf, profile, shelves_of, widest

Floats = NDArray[np.float64]

MOST_GORES: Final = 12
_HAIR: Final = 1e-9
_SAME_M: Final = 1e-5
"""Widths that no shears tell apart; a kink of the mandrel leans the plies below by less."""


@dataclass(frozen=True)
class CutRow:
    """A piece of cloth at one height.

    Parameters
    ----------
    height_m, along_m : float
        Above the heel, and along the surface from the lower end of the ply.
    width_m : float
        To cut, laps in it, measured along the arc.
    bow_m : float
        Height of that arc over its chord; a straight cut is off by so much.
    """

    height_m: float
    along_m: float
    width_m: float
    bow_m: float


@dataclass(frozen=True)
class PlyCut:
    """What to cut for one ply.

    Parameters
    ----------
    ply : ClothPly
        Which.
    rows : tuple of CutRow
        One gore, at every height where its taper changes, on both sides of where a ply below ends.
    gores : int
        Strips side by side round the mast.
    lengths_m : tuple of float
        Lengths that follow one another along the mast, from below, joins and what is to be trimmed in them. Cut on
        the bias they are strips from edge to edge of the roll, with slanting ends.
    net_m2 : float
        Surface covered, all turns.
    laps_m2 : float
        Cloth in laps and joins.
    """

    ply: ClothPly
    rows: tuple[CutRow, ...]
    gores: int
    lengths_m: tuple[float, ...]
    net_m2: float
    laps_m2: float

    @property
    def laid_m2(self) -> float:
        """Area of cloth laid."""
        return self.net_m2 + self.laps_m2

    @property
    def fibre_kg(self) -> float:
        """Mass of dry cloth laid."""
        return self.laid_m2 * self.ply.cloth.fibre_kg_m2

    @property
    def resin_kg(self) -> float:
        """Mass of resin that stays in it."""
        W = self.ply.cloth.fibre_kg_m2
        return self.laid_m2 * float(resin_areal_mass(W=W, psi=self.ply.fibre_fraction))


@dataclass(frozen=True)
class RollOrder:
    """One cloth for all its plies.

    Parameters
    ----------
    cloth : Cloth
        Which.
    shelves : tuple of Shelf
        How the pieces cut along the roll lie on it, one shelf after the other. The longest are laid first, each where
        it first fits: a layout that can be cut, not proven the shortest.
    bias_m : float
        Length of roll that is cut on the bias.
    laid_m2 : float
        Area that ends in the laminate, laps among it.
    spare : float
        Share bought on top.
    """

    cloth: Cloth
    shelves: tuple[Shelf, ...]
    bias_m: float
    laid_m2: float
    spare: float

    @property
    def cut_m(self) -> float:
        """Length of roll that is cut."""
        return math.fsum(shelf.length_m for shelf in self.shelves) + self.bias_m

    @property
    def length_m(self) -> float:
        """Length of roll to buy."""
        return self.cut_m * (1.0 + self.spare)

    @property
    def waste(self) -> float:
        """Share of the roll bought that is not laid."""
        return 1.0 - self.laid_m2 / (self.length_m * self.cloth.roll_m)


@dataclass(frozen=True)
class ClothOrder:
    """Everything to cut and mix.

    Parameters
    ----------
    plies : tuple of PlyCut
        Inside first.
    rolls : tuple of RollOrder
        By cloth.
    mandrel : tuple of (float, float, float)
        Height, distance along the surface, and diameter of the mandrel.
    laminate_kg : float
        Mass in place, laps left out as the section leaves them out.
    laps_kg : float
        Mass of laps and joins on top.
    resin_kg : float
        To mix, with what is lost.
    check : MassCheck
        The mass ply by ply beside the section's.
    """

    plies: tuple[PlyCut, ...]
    rolls: tuple[RollOrder, ...]
    mandrel: tuple[tuple[float, float, float], ...]
    laminate_kg: float
    laps_kg: float
    resin_kg: float
    check: MassCheck


def cloth_order(
    mandrel: Mandrel,
    plies: Sequence[ClothPly],
    *,
    every_m: float = 0.3,
    ends_m: float = 0.05,
    spare: float = 0.10,
    resin_loss: float = 0.25,
) -> ClothOrder:
    """Work out cloth and resin for a laminate.

    Parameters
    ----------
    mandrel : Mandrel
        What it is laid on.
    plies : sequence of ClothPly
        Inside first.
    every_m : float
        Distance between the rows of the table of the mandrel.
    ends_m : float
        Cloth over the ends of a ply, both together, to be trimmed.
    spare : float
        Share of the roll bought on top; 10 to 15 % where cloth is laid at home (from memory).
    resin_loss : float
        Share of the laid resin that is mixed and lost; 20 to 30 % where it is laid at home (from memory).

    Returns
    -------
    ClothOrder

    Raises
    ------
    RigInputError
        With everything that makes no sense, or cannot be cut from its roll.
    """
    problems = list(senseless(mandrel, plies, every_m=every_m, ends_m=ends_m, spare=spare, loss=resin_loss))
    if problems:
        raise RigInputError(problems, where="the laminate")
    surfaces = _surfaces(mandrel, plies)
    problems = [p for i, ply in enumerate(plies) for p in _too_narrow(i, ply, surfaces[i])]
    if problems:
        raise RigInputError(problems, where="the laminate")
    cuts = tuple(_cut(ply, stretches, ends_m) for ply, stretches in zip(plies, surfaces, strict=True))
    laminate_kg = math.fsum(cut.net_m2 * cut.ply.kg_m2 for cut in cuts)
    return ClothOrder(
        cuts,
        tuple(_roll(cloth, cuts, ends_m, spare) for cloth in dict.fromkeys(ply.cloth for ply in plies)),
        tuple(_table(mandrel, every_m)),
        laminate_kg,
        math.fsum(cut.laps_m2 * cut.ply.kg_m2 for cut in cuts),
        math.fsum(cut.resin_kg for cut in cuts) * (1.0 + resin_loss),
        MassCheck(laminate_kg, _section_kg(surfaces, plies)),
    )


# ---------------------------------------------------------------- where each ply lies


@dataclass(frozen=True)
class _Stretch:
    """One ply over a stretch in which nothing changes but the taper.

    Parameters
    ----------
    low_m, high_m : float
        Heights of its ends.
    inside_m : tuple of float
        Radius of what it lies on, at both.
    turn_m : float
        Thickness of one turn, square to the axis.
    """

    low_m: float
    high_m: float
    inside_m: tuple[float, float]
    turn_m: float

    def radii_m(self, turn: int) -> tuple[float, float]:
        """Radius of the middle of a turn at both ends."""
        out = (turn + 0.5) * self.turn_m
        return self.inside_m[0] + out, self.inside_m[1] + out

    @property
    def slant_m(self) -> float:
        """Length along the surface."""
        return float(cone_slant(h=self.high_m - self.low_m, r_1=self.inside_m[0], r_2=self.inside_m[1]))

    def circumference_m(self, turns: int) -> tuple[float, float]:
        """Length round all turns, at both ends."""
        ends = [self.radii_m(turn) for turn in range(turns)]
        return (2 * math.pi * math.fsum(r for r, _ in ends), 2 * math.pi * math.fsum(r for _, r in ends))


def _surfaces(mandrel: Mandrel, plies: Sequence[ClothPly]) -> list[list[_Stretch]]:
    """Return the stretches of every ply."""
    heights = sorted({*mandrel.heights_m, *(z for ply in plies for z in (ply.start_m, ply.end_m))})
    heights = [z for z in heights if -_HAIR <= z <= mandrel.heights_m[-1] + _HAIR]
    found: list[list[_Stretch]] = [[] for _ in plies]
    for low, high in pairwise(heights):
        if high - low <= _HAIR:
            continue
        r_low, r_high = (np.interp([low, high], mandrel.heights_m, mandrel.diameters_m) / 2).tolist()
        lean = math.hypot(high - low, r_high - r_low) / (high - low)
        out = 0.0
        for stretches, ply in zip(found, plies, strict=True):
            if ply.start_m <= low + _HAIR and high <= ply.end_m + _HAIR:
                turn = ply.thickness_m * lean
                stretches.append(_Stretch(low, high, (r_low + out, r_high + out), turn))
                out += ply.turns * turn
    return found


def _section_kg(surfaces: Sequence[Sequence[_Stretch]], plies: Sequence[ClothPly]) -> float:
    """Mass of the section: area of each ply cut square to the axis, times its density, along the mast."""
    masses = []
    for stretches, ply in zip(surfaces, plies, strict=True):
        for s in stretches:
            thick = ply.turns * s.turn_m

            def area(z: Floats, s: _Stretch = s, thick: float = thick) -> Floats:
                inside = 2 * np.interp(z, (s.low_m, s.high_m), s.inside_m)
                return np.asarray(annulus_area(D=inside + 2 * thick, d=inside))

            masses.append(integrated_kg((s.low_m, s.high_m), area, ply.kg_m2 / ply.thickness_m))
    return math.fsum(masses)


# ---------------------------------------------------------------- what to cut


def _gores(ply: ClothPly, stretches: Sequence[_Stretch]) -> int:
    """Strips side by side that the roll's width asks for; a bias strip takes its width along the roll."""
    if ply.cut_rad > 0.0:
        return 1
    round_m = max(c for s in stretches for c in s.circumference_m(ply.turns))
    return math.ceil(round_m / (ply.cloth.roll_m - ply.lap_m) - _HAIR)


def _off_the_roll_m(ply: ClothPly) -> float:
    """Longest length that comes off the roll in one piece."""
    if ply.cut_rad > 0.0:
        return float(bias_strip_length(B=ply.cloth.roll_m, theta=ply.cut_rad))
    return math.inf if ply.cloth.roll_length_m is None else ply.cloth.roll_length_m


def _cut(ply: ClothPly, stretches: Sequence[_Stretch], ends_m: float) -> PlyCut:
    gores = _gores(ply, stretches)
    rows = tuple(_rows(ply, stretches, gores))
    widths = np.array([row.width_m for row in rows])
    at = np.array([row.along_m for row in rows]) + ends_m / 2
    slanting = float(widths.max()) / math.tan(ply.cut_rad) if ply.cut_rad > 0.0 else 0.0
    length = rows[-1].along_m + ends_m + max(rows[0].bow_m, rows[-1].bow_m) + slanting
    piece, join = _off_the_roll_m(ply), ply.join_m
    if length <= piece + _HAIR and not slanting:
        lengths: tuple[float, ...] = (length,)
    else:
        count = max(math.ceil((length - join) / (piece - join) - _HAIR), 1)
        # bias strips are whole from edge to edge; of lengths along the roll the last is what remains
        last = piece if ply.cut_rad > 0.0 else length - (count - 1) * (piece - join)
        lengths = (*[piece] * (count - 1), last)
    joins = [(i + 1) * (piece - join) + join / 2 for i in range(len(lengths) - 1)]
    joined = math.fsum(float(np.interp(z, at, widths)) for z in joins)
    net = math.fsum(
        float(cone_area(*s.radii_m(turn), s=s.slant_m)) for s in stretches for turn in range(ply.turns)
    )
    laps = gores * (ply.lap_m * rows[-1].along_m + ply.join_m * joined)
    return PlyCut(ply, rows, gores, lengths, net, laps)


def _rows(ply: ClothPly, stretches: Sequence[_Stretch], gores: int) -> Iterator[CutRow]:
    along, before = 0.0, math.nan
    for s in stretches:
        x = abs(s.inside_m[0] - s.inside_m[1]) / s.slant_m
        ends = zip((s.low_m, s.high_m), s.circumference_m(ply.turns), s.radii_m(0), strict=True)
        for end, (z, round_m, radius) in enumerate(ends):
            along += end * s.slant_m
            width = round_m / gores + ply.lap_m
            bow = float(arc_height(w=width, R=developed_radius(r=radius, x=x))) if x > 1e-12 else 0.0
            if end or abs(width - before) > _SAME_M or math.isnan(before):
                yield CutRow(z, along, width, bow)
            before = width


def _roll(cloth: Cloth, cuts: Sequence[PlyCut], ends_m: float, spare: float) -> RollOrder:
    pieces: list[FlatPiece] = []
    bias = 0.0
    slants: set[float] = set()
    laid = 0.0
    for number, cut in enumerate(cuts, start=1):
        if cut.ply.cloth != cloth:
            continue
        laid += cut.laid_m2
        at = np.array([row.along_m for row in cut.rows]) + ends_m / 2
        widths = np.array([row.width_m for row in cut.rows])
        start = 0.0
        for part, length in enumerate(cut.lengths_m, start=1):
            if cut.ply.cut_rad > 0.0:
                slanting = float(widths.max()) / math.tan(cut.ply.cut_rad)
                width = widest(at, widths, start - slanting, start + length)
                bias += float(bias_roll_length(w=width, theta=cut.ply.cut_rad))
                slants.add(cut.ply.cut_rad)
            else:
                shape = profile(at, widths, start, start + length)
                pieces += [FlatPiece(number, gore, part, length, *shape) for gore in range(1, cut.gores + 1)]
            start += length - cut.ply.join_m
    bias += math.fsum(
        cloth.roll_m / math.tan(slant) for slant in slants
    )  # the triangle before the first strip
    return RollOrder(cloth, shelves_of(pieces, cloth.roll_m), bias, laid, spare)


def _table(mandrel: Mandrel, every_m: float) -> Iterator[tuple[float, float, float]]:
    top = mandrel.heights_m[-1]
    marks = every_m * np.arange(math.ceil(top / every_m))
    heights = np.unique(np.round(np.concatenate([marks, mandrel.heights_m]), 9))
    diameters = np.interp(heights, mandrel.heights_m, mandrel.diameters_m)
    along = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(heights), np.diff(diameters) / 2))])
    yield from zip(heights.tolist(), along.tolist(), diameters.tolist(), strict=True)


# ---------------------------------------------------------------- what cannot be cut


def _too_narrow(i: int, ply: ClothPly, stretches: Sequence[_Stretch]) -> Iterator[Problem]:
    gores = _gores(ply, stretches)
    if gores > 1 and ply.turns > 1:
        round_m = max(c for s in stretches for c in s.circumference_m(ply.turns))
        yield Problem(
            f"ply[{i}].turns",
            f"{ply.turns}",
            f"its turns take {round_m + ply.lap_m:.3f} m of width, and the roll has {ply.cloth.roll_m:g} m",
            "Lay them as plies of one turn each.",
        )
    if gores > MOST_GORES:
        yield Problem(
            f"ply[{i}].cloth.roll",
            f"{ply.cloth.roll_m:g} m",
            f"the roll is so narrow that {gores} strips would lie side by side; at most {MOST_GORES} are taken",
            "Take a wider cloth.",
        )
    if _off_the_roll_m(ply) < 2 * ply.join_m + _HAIR:
        yield Problem(
            f"ply[{i}].join",
            f"{ply.join_m:g} m",
            f"a length off the roll, {_off_the_roll_m(ply):.3f} m, must be longer than its two joins",
            "Shorten the join, or take a wider or longer roll.",
        )
