"""The tubes of a mast of metal: its lengths with their tails, sleeves, a post; which are bars and which are drawn."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Literal

from ..errors import Problem, RigInputError
from ..formulas.pieces import prismoid_volume
from ..formulas.sections import annulus_area
from ..frozen import dataclass
from ..materials import metal_rows
from ..materials.tube_tables import TubeSize
from ..rig import Mast, Rig, Sleeve
from .cutting import CuttingPlan
from .outline import HAIR, Run
from .stock import generic_tubes, is_of, own_tubes, stock_of
from .tube_order import TubePiece, tube_order

Listed = Literal["own", "generic", "none"]

SAME_M = 5e-5
"""Sizes of a list and of the mast that differ by no more are one: trade lists round to a tenth of a millimetre."""


@dataclass(frozen=True, kw_only=True)
class Length:
    """One length of tube, straight or tapered.

    Parameters
    ----------
    name : str
        What it is.
    material : str
        Of which metal.
    heights_m, diameters_m, walls_m : tuple of float
        Its sizes, straight in between; half the diameter is the wall of a bar.
    in_spar : bool
        Whether it is part of what turns, which the check weighs.
    """

    name: str
    material: str
    heights_m: tuple[float, ...]
    diameters_m: tuple[float, ...]
    walls_m: tuple[float, ...]
    in_spar: bool = True

    @property
    def plain(self) -> bool:
        """Whether it is alike from end to end."""
        return len(set(self.diameters_m)) == len(set(self.walls_m)) == 1

    @property
    def length_m(self) -> float:
        """Length over all."""
        return self.heights_m[-1] - self.heights_m[0]

    @property
    def volume_m3(self) -> float:
        """Volume of the metal."""
        rows = list(zip(self.heights_m, self.diameters_m, self.walls_m, strict=True))
        volumes = []
        for (low, D_0, t_0), (high, D_1, t_1) in pairwise(rows):
            A_0, A_m, A_1 = (
                annulus_area(D=D, d=D - 2 * t)
                for D, t in ((D_0, t_0), ((D_0 + D_1) / 2, (t_0 + t_1) / 2), (D_1, t_1))
            )
            volumes.append(float(prismoid_volume(A_0=A_0, A_m=A_m, A_1=A_1, h=high - low)))
        return math.fsum(volumes)


@dataclass(frozen=True)
class TubeLot:
    """Bars of one size.

    Parameters
    ----------
    tube : TubeSize
        What to order: by the list's name, with the size of the mast.
    material : str
        Of which metal.
    listed : {"own", "generic", "none"}
        Whose list has the size.
    cut_to_size : bool
        Whether the pieces are ordered cut, as no length is known that it is sold in.
    plan : CuttingPlan
        Which bars, and what is cut from each.
    pieces : tuple of Length
        What the pieces are.
    in_place_kg, bought_kg : float
        Mass of the pieces, and of the bars.
    cost : float or None
        Of the bars, in the user's own money.
    """

    tube: TubeSize
    material: str
    listed: Listed
    cut_to_size: bool
    plan: CuttingPlan
    pieces: tuple[Length, ...]
    in_place_kg: float
    bought_kg: float
    cost: float | None


@dataclass(frozen=True)
class Drawn:
    """A tapered tube, to be ordered as it is drawn.

    Parameters
    ----------
    piece : Length
        What it is.
    in_place_kg : float
        Its mass.
    """

    piece: Length
    in_place_kg: float


@dataclass(frozen=True)
class MetalOrder:
    """Everything of round metal tube.

    Parameters
    ----------
    lots : tuple of TubeLot
        By size, from the heel up.
    drawn : tuple of Drawn
        Tapered tubes.
    spar_kg, post_kg : float
        Mass in place of what turns, and of the post it turns on.
    warnings : tuple of str
        What to look at.
    """

    lots: tuple[TubeLot, ...]
    drawn: tuple[Drawn, ...]
    spar_kg: float
    post_kg: float
    warnings: tuple[str, ...]


def metal_order(rig: Rig, lengths: Sequence[Length], folder: str | Path | None) -> MetalOrder:
    """Work out which bars to buy for some lengths of tube.

    Parameters
    ----------
    rig : Rig
        Whose stock they are bought from.
    lengths : sequence of Length
        From `lengths_of`.
    folder : str, optional
        Where the rig file stands.

    Returns
    -------
    MetalOrder
        Lengths in m, masses in kg.

    Raises
    ------
    RigInputError
        Where the user's list cannot be read, or its bars do not yield the pieces.
    """
    own, generic = own_tubes(rig, folder), generic_tubes(rig)
    by_size: dict[tuple[float, float, str, bool], list[Length]] = {}
    for length in lengths:
        if length.plain:
            size = (round(length.diameters_m[0], 8), round(length.walls_m[0], 8))
            by_size.setdefault((*size, length.material, length.in_spar), []).append(length)
    lots: list[TubeLot] = []
    problems: list[Problem] = []
    for alike in by_size.values():
        try:
            lots.append(_lot(rig, alike, own, generic))
        except RigInputError as error:
            problems += error.problems
    if problems:
        raise RigInputError(problems, where="the tubes to order")
    drawn = tuple(
        Drawn(length, length.volume_m3 * density_kg_m3(rig, length)) for length in lengths if not length.plain
    )
    kg = {length: length.volume_m3 * density_kg_m3(rig, length) for length in lengths}
    return MetalOrder(
        tuple(lots),
        drawn,
        math.fsum([lot.in_place_kg for lot in lots if lot.pieces[0].in_spar])
        + math.fsum(d.in_place_kg for d in drawn if d.piece.in_spar),
        math.fsum(kg[length] for length in lengths if not length.in_spar),
        tuple(_warnings(rig, lengths)),
    )


def _warnings(rig: Rig, lengths: Sequence[Length]) -> list[str]:
    most = stock_of(rig).max_piece_m
    return [
        f"The {length.name} is {length.length_m:.2f} m long, and the longest piece that can be carried is {most:.2f} m."
        for length in lengths
        if most is not None and length.length_m > most + HAIR
    ]


def density_kg_m3(rig: Rig, length: Length) -> float:
    """Return the density of what a length is made of."""
    thin, thick = min(length.walls_m), max(length.walls_m)
    rows = metal_rows(length.material, thinnest_m=thin, thickest_m=thick, own=rig.materials)
    return rows[0].density_kg_m3


def _lot(rig: Rig, alike: Sequence[Length], own: Sequence[TubeSize], generic: Sequence[TubeSize]) -> TubeLot:
    stock, first = stock_of(rig), alike[0]
    diameter, wall, material = first.diameters_m[0], first.walls_m[0], first.material
    listed: Listed = "own"
    found = [tube for tube in own if is_of(tube, material) and _is_size(tube, diameter, wall)]
    if not found:
        near = [tube for tube in generic if _is_size(tube, diameter, wall)]
        found = sorted(near, key=lambda t: abs(t.diameter_m - diameter) + abs(t.wall_m - wall))[:1]
        listed = "generic"
    if not found:
        bar = 2 * wall >= diameter * (1 - 1e-12)
        name = f"bar {diameter * 1e3:g} mm" if bar else f"{diameter * 1e3:g} x {wall * 1e3:g} mm"
        listed = "none"
        found = [
            TubeSize(
                name=name,
                series="",
                diameter_m=diameter,
                wall_m=wall,
                stock_length_m=stock.tube_length_m,
                provenance="user",
                source="the mast as drawn",
            )
        ]
    # the pieces have the size of the mast: a list may round it
    offers = [replace(tube, diameter_m=diameter, wall_m=wall, material=material) for tube in found]
    tube = offers[0]
    sold = [offer for offer in offers if offer.stock_length_m is not None]
    cut_to_size = not sold
    if cut_to_size:
        sold = [replace(tube, stock_length_m=z) for z in dict.fromkeys(piece.length_m for piece in alike)]
    density = density_kg_m3(rig, first)
    priced = all(offer.cost_per_m(density) is not None for offer in sold)
    try:
        order = tube_order(
            [TubePiece(tube=tube, start_m=p.heights_m[0], end_m=p.heights_m[-1], name=p.name) for p in alike],
            sold,
            density_kg_m3=density,
            kerf_m=stock.kerf_m,
            trim_m=0.0 if cut_to_size else stock.trim_m,
            minimise="cost" if priced else "length",
        )
    except RigInputError as error:
        raise RigInputError([_of_piece(problem, alike) for problem in error.problems]) from None
    (cut,) = order.cuts
    prices = [(bar.times, bar.stock.price) for bar in cut.plan.bars]
    return TubeLot(
        tube,
        material,
        listed,
        cut_to_size,
        cut.plan,
        tuple(alike),
        cut.in_place_kg,
        cut.bought_kg,
        math.fsum(times * (price or 0.0) for times, price in prices) if priced else None,
    )


def _of_piece(problem: Problem, alike: Sequence[Length]) -> Problem:
    """Return a problem of a cutting list with the name of the piece in it."""
    piece = re.search(r"wanted\[(\d+)\]", problem.path)
    return problem if piece is None else replace(problem, path=f"stock, for {alike[int(piece[1])].name}")


def _is_size(tube: TubeSize, diameter_m: float, wall_m: float) -> bool:
    return abs(tube.diameter_m - diameter_m) <= SAME_M and abs(tube.wall_m - wall_m) <= SAME_M


# ---------------------------------------------------------------- which lengths there are


def lengths_of(mast: Mast, runs: Sequence[Run]) -> tuple[Length, ...]:
    """Return the lengths of round metal tube of a mast, each with the tail that a sleeve says it has.

    A sleeve of the size of a length, ending or beginning at its end, is the tail of it: one piece.

    Parameters
    ----------
    mast : Mast
        The spar.
    runs : sequence of Run
        Of a mast of round metal; none of any other, of which the sleeves alone are tubes.
    """
    tails: dict[int, list[tuple[float, float]]] = {}
    sleeves = []
    for number, sleeve in enumerate(mast.sleeve, start=1):
        of = sleeve.material or mast.material
        at = next(
            (i for i, run in enumerate(runs) if of == mast.material and _continues(run, sleeve)),
            None,
        )
        if at is None:
            sleeves.append(
                Length(
                    name=f"sleeve {number}",
                    material=of,
                    heights_m=(sleeve.start_m, sleeve.end_m),
                    diameters_m=(sleeve.diameter_m,) * 2,
                    walls_m=(sleeve.wall_m,) * 2,
                )
            )
        else:
            tails.setdefault(at, []).append((sleeve.start_m, sleeve.end_m))
    count = len(runs)
    lengths = []
    for i, run in enumerate(runs):
        name = "mast tube" if count == 1 else f"length {i + 1} of {count} from the heel"
        low = min([run.heights_m[0], *(start for start, _ in tails.get(i, []))])
        high = max([run.heights_m[-1], *(end for _, end in tails.get(i, []))])
        if low < run.heights_m[0] or high > run.heights_m[-1]:
            name += ", tail and all"
        rows = list(zip(run.heights_m, run.forward_m, run.wall_m, strict=True))
        if low < rows[0][0]:
            rows.insert(0, (low, *rows[0][1:]))
        if high > rows[-1][0]:
            rows.append((high, *rows[-1][1:]))
        heights, diameters, walls = zip(*rows, strict=True)
        lengths.append(
            Length(name=name, material=mast.material, heights_m=heights, diameters_m=diameters, walls_m=walls)
        )
    return (*lengths, *sleeves)


def _continues(run: Run, sleeve: Sleeve) -> bool:
    """Whether a sleeve goes on where a run begins or ends, in its size."""
    return any(
        abs(run.forward_m[at] - sleeve.diameter_m) < HAIR
        and abs(run.wall_m[at] - sleeve.wall_m) < HAIR
        and abs(run.heights_m[at] - joint) < HAIR
        for at, joint in ((0, sleeve.end_m), (-1, sleeve.start_m))
    )


def post_length(mast: Mast) -> Length | None:
    """Return the post that a mast turns on, socket and all; None where it stands through the deck."""
    post = mast.post
    if post is None:
        return None
    foot = -(post.socket_m or 0.0)
    top = post.diameter_m if post.top_diameter_m is None else post.top_diameter_m
    rows = [(0.0, post.diameter_m), (mast.bury_m, top)]
    if foot < 0.0:
        rows.insert(0, (foot, post.diameter_m))
    heights, diameters = zip(*rows, strict=True)
    return Length(
        name="post, socket and all" if foot else "post",
        material=post.material or mast.material,
        heights_m=heights,
        diameters_m=diameters,
        walls_m=tuple(d / 2 if post.wall_m is None else post.wall_m for d in diameters),
        in_spar=False,
    )
