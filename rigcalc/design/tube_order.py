"""Bars to buy for the tubes of a mast, size by size, and what they weigh in place."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Literal

from ..errors import Problem, RigInputError
from ..formulas.sections import annulus_area
from ..frozen import dataclass
from ..materials.tube_tables import TubeSize
from .cutting import CuttingPlan, StockBar, Wanted, cutting_plan
from .masscheck import MassCheck


@dataclass(frozen=True, kw_only=True)
class TubePiece:
    """One length of tube in a mast.

    Parameters
    ----------
    tube : TubeSize
        Its size and material; which offer of it does not matter.
    start_m, end_m : float
        Heights of its ends.
    name : str
        What it is.
    """

    tube: TubeSize
    start_m: float
    end_m: float
    name: str = ""

    @property
    def length_m(self) -> float:
        """Length to cut."""
        return self.end_m - self.start_m


@dataclass(frozen=True)
class TubeCut:
    """Bars of one size.

    Parameters
    ----------
    tube : TubeSize
        The size, by its first offer.
    plan : CuttingPlan
        Which bars, and what is cut from each.
    in_place_kg, bought_kg : float
        Mass of the pieces and of the bars.
    """

    tube: TubeSize
    plan: CuttingPlan
    in_place_kg: float
    bought_kg: float


@dataclass(frozen=True)
class TubeOrder:
    """All bars.

    Parameters
    ----------
    cuts : tuple of TubeCut
        By size, in the order the pieces came.
    check : MassCheck
        The pieces beside the section they make along the mast.
    """

    cuts: tuple[TubeCut, ...]
    check: MassCheck


def tube_order(
    pieces: Sequence[TubePiece],
    offers: Sequence[TubeSize],
    *,
    density_kg_m3: float,
    kerf_m: float,
    trim_m: float = 0.0,
    minimise: Literal["length", "cost"] = "length",
) -> TubeOrder:
    """Work out the bars for pieces of tube.

    Parameters
    ----------
    pieces : sequence of TubePiece
        Every length of the mast, sleeves among them.
    offers : sequence of TubeSize
        Sizes with the lengths they are sold in.
    density_kg_m3 : float
        Of the metal.
    kerf_m, trim_m : float
        Width of the saw cut, and what squaring takes off each bar.
    minimise : {"length", "cost"}
        Length or price of the bars.

    Returns
    -------
    TubeOrder
        Lengths in m, masses in kg.

    Raises
    ------
    RigInputError
        Where a size has no stock length, or its pieces cannot be cut from it.
    """
    by_size: dict[tuple[float, float, str | None], list[TubePiece]] = {}
    for piece in pieces:
        by_size.setdefault(_size(piece.tube), []).append(piece)
    cuts, problems = [], []
    for size, alike in by_size.items():
        tube = alike[0].tube
        stock = [
            StockBar(length_m=o.stock_length_m, price=_price(o, density_kg_m3), name=o.name)
            for o in offers
            if _size(o) == size and o.stock_length_m is not None
        ]
        if not stock:
            problems.append(
                Problem(
                    tube.name,
                    "",
                    "no length is known that it is sold in",
                    "Add its stock length to the list.",
                )
            )
            continue
        wanted = [Wanted(length_m=piece.length_m, name=piece.name) for piece in alike]
        try:
            plan = cutting_plan(wanted, stock, kerf_m=kerf_m, trim_m=trim_m, minimise=minimise)
        except RigInputError as error:
            problems += [
                Problem(f"{tube.name}, {p.path}", p.value, p.allowed, p.remedy) for p in error.problems
            ]
            continue
        metre = tube.kg_per_m(density_kg_m3)
        cuts.append(TubeCut(tube, plan, metre * plan.pieces_m, metre * plan.stock_m))
    if problems:
        raise RigInputError(problems, where="the tubes to order")
    in_place = math.fsum(cut.in_place_kg for cut in cuts)
    return TubeOrder(tuple(cuts), MassCheck(in_place, _section_kg(pieces, density_kg_m3)))


def _size(tube: TubeSize) -> tuple[float, float, str | None]:
    return round(tube.diameter_m, 8), round(tube.wall_m, 8), tube.material


def _price(offer: TubeSize, density_kg_m3: float) -> float | None:
    metre = offer.cost_per_m(density_kg_m3)
    return None if metre is None or offer.stock_length_m is None else metre * offer.stock_length_m


def _section_kg(pieces: Sequence[TubePiece], density_kg_m3: float) -> float:
    """Mass of the section along the mast: at every height the tubes that stand there."""
    volumes = []
    heights = sorted({z for piece in pieces for z in (piece.start_m, piece.end_m)})
    for low, high in pairwise(heights):
        here = [p.tube for p in pieces if p.start_m < (low + high) / 2 < p.end_m]
        volumes += [(high - low) * float(annulus_area(D=tube.diameter_m, d=tube.bore_m)) for tube in here]
    return density_kg_m3 * math.fsum(volumes)
