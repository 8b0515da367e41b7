"""What to cut for a mast of wood: staves, the planks of a box, or the billet of a pole."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from ..errors import RigInputError
from ..formulas import Working
from ..formulas.pieces import prismoid_volume
from ..frozen import dataclass
from ..rig import Rig, Stock
from .boards import Batten, Board, BoardPlan, ScarfRules, board_plans
from .outline import Floats, Outline, Run
from .staves import Outside, StaveAllowances, StaveMast, StaveOrder, stave_order
from .stock import stock_of


@dataclass(frozen=True)
class Blank:
    """Wood to buy for a pole or a box, before it is shaped.

    Parameters
    ----------
    name : str
        What is made of it.
    batten : Batten
        Its rough size, and how many.
    plans : tuple of BoardPlan
        For each kind of board that yields it, the best first; none where no board is named or none will do.
    note : str
        How it is to be taken.
    """

    name: str
    batten: Batten
    plans: tuple[BoardPlan, ...]
    note: str

    @property
    def volume_m3(self) -> float:
        """Volume of all of them, rough."""
        return self.batten.count * self.batten.width_m * self.batten.thickness_m * self.batten.length_m


@dataclass(frozen=True)
class ShapedRow:
    """Sizes of a mast at one height, finished.

    Parameters
    ----------
    height_m : float
        Above the heel.
    forward_m, side_m : float
        Outside, fore and aft and from side to side.
    wall_m : float
        Half the lesser size where it is solid.
    """

    height_m: float
    forward_m: float
    side_m: float
    wall_m: float


@dataclass(frozen=True)
class WoodOrder:
    """Everything of wood but the plugs.

    Parameters
    ----------
    material : str
        Which timber.
    staves : StaveOrder or None
        Of a mast of staves.
    blanks : tuple of Blank
        Of any other.
    rows : tuple of ShapedRow
        Finished sizes of any other, every so often and at every station.
    spar_kg : float
        Mass in place.
    warnings : tuple of str
        What to look at.
    """

    material: str
    staves: StaveOrder | None
    blanks: tuple[Blank, ...]
    rows: tuple[ShapedRow, ...]
    spar_kg: float
    warnings: tuple[str, ...]

    @property
    def plans(self) -> tuple[BoardPlan, ...]:
        """The best board plan of every kind of piece."""
        each = [self.staves.plans] if self.staves is not None else [blank.plans for blank in self.blanks]
        return tuple(plans[0] for plans in each if plans)


def wood_order(rig: Rig, outline: Outline, *, density_kg_m3: float) -> WoodOrder:
    """Work out the wood of a mast of timber.

    Parameters
    ----------
    rig : Rig
        Whose mast, and whose boards.
    outline : Outline
        Of the mast.
    density_kg_m3 : float
        Of the timber as the check has it.

    Returns
    -------
    WoodOrder
        Lengths in m, masses in kg.

    Raises
    ------
    RigInputError
        Where a stave would step, or no board yields one.
    """
    if outline.kind in ("turned", "polygon"):
        return _stave_order(rig, outline, density_kg_m3)
    stock = stock_of(rig)
    boards = boards_of(stock)
    blanks = []
    for name, width, thickness, count, note in _pieces(outline):
        batten = Batten(
            width_m=width + stock.plane_width_m,
            thickness_m=thickness + stock.plane_thickness_m,
            length_m=rig.mast.length_m + stock.wood_ends_m,
            count=count,
        )
        plans, more = _plans(rig, batten, boards)
        blanks.append(Blank(name, batten, plans, f"{note}{more}"))
    return WoodOrder(
        rig.mast.material,
        None,
        tuple(blanks),
        shaped_rows(outline, stock.table_step_m),
        math.fsum(_kg(outline, run, density_kg_m3) for run in outline.runs),
        tuple(dict.fromkeys(w for blank in blanks for plan in blank.plans[:1] for w in plan.lay.warnings)),
    )


def boards_of(stock: Stock) -> tuple[Board, ...]:
    """Return the boards that can be had."""
    return tuple(
        Board(
            width_m=board.width_m,
            thickness_m=board.thickness_m,
            length_m=board.length_m,
            price=board.price,
            name=board.name
            or f"{board.width_m * 1e3:g} x {board.thickness_m * 1e3:g} mm, {board.length_m:g} m long",
        )
        for board in stock.board
    )


def shaped_rows(outline: Outline, every_m: float) -> tuple[ShapedRow, ...]:
    """Return the finished sizes every so often and at every station; a step shows twice."""
    rows = []
    for run in outline.runs:
        low, high = run.heights_m[0], run.heights_m[-1]
        marks = every_m * np.arange(math.ceil(low / every_m), math.ceil(high / every_m))
        inside = marks[(marks > low) & (marks < high)]
        heights = np.unique(np.round(np.concatenate([inside, run.heights_m]), 9))
        sizes = (*outline.outside_at(run, heights), np.interp(heights, run.heights_m, run.wall_m))
        rows += [ShapedRow(*map(float, row)) for row in zip(heights, *sizes, strict=True)]
    return tuple(rows)


def scarf_rules(rig: Rig) -> ScarfRules:
    """Return where the wood of a rig may be scarfed; nowhere where ``timber.scarf_slope`` is zero."""
    stock, slope = stock_of(rig), rig.timber.scarf_slope
    middle, clear = rig.mast.bury_m + stock.wood_ends_m / 2, stock.scarf_clear_m
    return ScarfRules(
        slope=1.0 / slope if slope > 0.0 else ScarfRules.slope,
        least_piece_m=stock.least_piece_m,
        keep_clear_m=((max(middle - clear, 0.0), middle + clear),) if clear > 0.0 else (),
        scarfed=slope > 0.0,
    )


def _plans(rig: Rig, batten: Batten, boards: Sequence[Board]) -> tuple[tuple[BoardPlan, ...], str]:
    """Return what boards a batten takes, and what to say where none of them will do."""
    if not boards:
        return (), ""
    kerf = stock_of(rig).kerf_m
    try:
        return board_plans(batten, boards, scarf_rules(rig), kerf_m=kerf, working=Working()), ""
    except RigInputError as error:
        # what fits no board is told, not refused: a billet is glued up or bought whole
        why = "; ".join(f"{problem.value}: {problem.allowed}" for problem in error.problems)
        return (), f"; none of the boards listed yields it ({why}): buy it whole, or glue it up"


def _stave_order(rig: Rig, outline: Outline, density_kg_m3: float) -> WoodOrder:
    stock = stock_of(rig)
    runs = outline.runs
    outside: Outside = "round" if outline.kind == "turned" else "flat"
    mast = StaveMast(
        sides=outline.sides,
        outside=outside,
        heights_m=tuple(z for run in runs for z in run.heights_m),
        outside_m=tuple(d for run in runs for d in run.forward_m),
        wall_m=tuple(w for run in runs for w in run.wall_m),
        density_kg_m3=density_kg_m3,
    )
    allowances = StaveAllowances(
        width_m=stock.plane_width_m,
        thickness_m=stock.plane_thickness_m,
        ends_m=stock.wood_ends_m,
        kerf_m=stock.kerf_m,
        every_m=stock.table_step_m,
    )
    try:
        order = stave_order(mast, boards_of(stock), allowances=allowances, scarfs=scarf_rules(rig))
    except RigInputError as error:
        raise RigInputError(
            [replace(p, path=p.path.replace("boards", "stock.board", 1)) for p in error.problems]
        ) from None
    return WoodOrder(rig.mast.material, order, (), (), order.staves_kg, order.warnings)


def _pieces(outline: Outline) -> Iterator[tuple[str, float, float, int, str]]:
    """Yield name, finished width and thickness at the most, count and note of the pieces of a pole or a box."""
    forward = max(size for run in outline.runs for size in run.forward_m)
    side = max(size for run in outline.runs for size in run.side_m)
    wall = max(size for run in outline.runs for size in run.wall_m)
    stations = [
        size for run in outline.runs for size in zip(run.forward_m, run.side_m, run.wall_m, strict=True)
    ]
    solid = all(2 * w >= min(f, s) * (1 - 1e-12) for f, s, w in stations)
    wide, deep = max(forward, side), min(forward, side)
    if solid:
        yield "pole", wide, deep, 1, "one billet, or glued up of layers to that size; shaped to the table"
    elif outline.kind == "box":
        between = max(s - 2 * w for _, s, w in stations)
        yield "side plank of the box", forward, wall, 2, "to each side, the whole depth fore and aft"
        yield "plank between them", between, wall, 2, "the fore and aft faces, fitted between the side planks"
    else:
        yield (
            "half of the mast",
            wide,
            deep / 2,
            2,
            "hollowed and glued along the middle, or glued up of layers to that size; shaped to the table",
        )


def _kg(outline: Outline, run: Run, density_kg_m3: float) -> float:
    """Mass of the pieces, shaped: stretch by stretch, from the areas at the ends and the middle of each."""

    def area(z_m: Floats) -> Floats:
        if outline.kind != "box":
            return outline.area_at(run, z_m)
        forward, side = outline.outside_at(run, z_m)
        wall = np.interp(z_m, run.heights_m, run.wall_m)
        return np.asarray(2 * forward * wall + 2 * (side - 2 * wall) * wall)

    z = np.array(run.heights_m)
    low, high = z[:-1], z[1:]
    volumes: Floats = np.asarray(
        prismoid_volume(A_0=area(low), A_m=area((low + high) / 2), A_1=area(high), h=high - low)
    )
    return density_kg_m3 * math.fsum(volumes.tolist())
