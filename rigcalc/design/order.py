"""The order list of a mast as its file has it: what to buy, what to cut, what it weighs and costs.

Every piece is weighed from its own sizes, and the sum is held against the mass that the check finds for the spar.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np

from ..frozen import dataclass
from ..materials.laminates import lay_ups_of
from ..notebook import InNotebook
from ..rig import Rig
from ..structure.made_of import Metals
from ..structure.sections import Layer, Sections
from ..verdict import CAUTIONS, NOT_CHECKED, Assumption, build_sections, formulas_have_values
from ..version import __version__
from .bought_parts import Named, named_parts
from .laid_parts import LaidPart, bore_of, laid_parts
from .masscheck import MassCheck
from .metal_parts import MetalOrder, lengths_of, metal_order, post_length
from .outline import Outline, outline_of
from .plugs import PlugPiece, plug_piece, tail_warnings
from .stock import stock_defaults, stock_of
from .wood_parts import ShapedRow, WoodOrder, shaped_rows, wood_order

SCHEMA_VERSION = "1"

NOT_JUDGED = (
    "An order says nothing of strength: see that `rigcalc check` passes the same file before you buy."
)

_OF_TUBES = ("kerf", "trim")
_OF_BOARDS = ("kerf", "least_piece", "scarf_clear")
_OF_WOOD = ("plane_width", "plane_thickness", "wood_ends", "table_step")
_OF_CLOTH = ("lap", "join", "cloth_ends", "cloth_spare", "resin_loss", "table_step")


@dataclass(frozen=True)
class Shaped:
    """A mast of metal that is neither round nor even: ordered as drawn.

    Parameters
    ----------
    name, material : str
        What it is, and of what.
    rows : tuple of ShapedRow
        Its sizes.
    in_place_kg : float
        Its mass.
    """

    name: str
    material: str
    rows: tuple[ShapedRow, ...]
    in_place_kg: float


@dataclass(frozen=True)
class Weighed:
    """Mass of one part.

    Parameters
    ----------
    name : str
        Which part.
    kg : float
        Its mass.
    """

    name: str
    kg: float


@dataclass(frozen=True, kw_only=True)
class Bought:
    """One line of the list for the shop.

    Parameters
    ----------
    group : str
        ``tube``, ``wood``, ``plug``, ``cloth`` or ``resin``.
    name : str
        What to ask for.
    material : str
        What it is of.
    sizes_m : tuple of float
        Of its section: outside and wall of a tube, width and thickness of wood, width of a roll.
    count : int or None
        How many; None of what comes by length or mass.
    length_m : float or None
        Of each.
    mass_kg : float or None
        Of all.
    cost : float or None
        Of all, in the user's own money; None where no price is known.
    note : str
        What to know when asking for it.
    """

    group: str
    name: str
    material: str
    sizes_m: tuple[float, ...] = ()
    count: int | None = None
    length_m: float | None = None
    mass_kg: float | None = None
    cost: float | None = None
    note: str = ""


@dataclass(frozen=True)
class Order(InNotebook):
    """Everything to buy and to cut for one mast.

    Parameters
    ----------
    schema_version, rigcalc_version, title : str
        Of the form of this, of the program, and of the rig.
    mast, material : str
        Name of the mast, and what it is made of.
    bought : tuple of Bought
        The list for the shop.
    metal : MetalOrder or None
        Tubes, sleeves and post.
    shaped : Shaped or None
        A mast of metal that is not round.
    wood : WoodOrder or None
        Staves, planks or billets.
    laid : tuple of LaidPart
        Cloth and resin.
    plugs : tuple of PlugPiece
        What fills the bore.
    named : tuple of Named
        Bearings, bolts, furling gear and holes, as the file has them.
    in_place : tuple of Weighed
        Mass of the parts of the spar as its section counts them.
    apart : tuple of Weighed
        What is built in, or stands beside, and is not in that section: laps, tails, a post.
    check : MassCheck
        The parts beside the mass that the check finds for the spar.
    cost : float or None
        Of all that has a price; None where nothing has.
    unpriced : tuple of str
        What a price is missing of.
    assumptions : tuple of Assumption
        Defaults of the stock that were taken.
    warnings, cautions : tuple of str
        What to look at.
    """

    schema_version: str
    rigcalc_version: str
    title: str
    mast: str
    material: str
    bought: tuple[Bought, ...]
    metal: MetalOrder | None
    shaped: Shaped | None
    wood: WoodOrder | None
    laid: tuple[LaidPart, ...]
    plugs: tuple[PlugPiece, ...]
    named: tuple[Named, ...]
    in_place: tuple[Weighed, ...]
    apart: tuple[Weighed, ...]
    check: MassCheck
    cost: float | None
    unpriced: tuple[str, ...]
    assumptions: tuple[Assumption, ...]
    warnings: tuple[str, ...]
    cautions: tuple[str, ...]

    def __repr__(self) -> str:
        lines = "1 line" if len(self.bought) == 1 else f"{len(self.bought)} lines"
        kg = self.check.pieces_kg
        return f"<Order {self.title!r}: mast of {self.material}, {lines} to buy, {kg:.1f} kg in place>"


@dataclass(frozen=True)
class _Parts:
    """What a mast is built of, by how it is bought."""

    metal: MetalOrder | None
    shaped: Shaped | None
    wood: WoodOrder | None
    laid: tuple[LaidPart, ...]
    plugs: tuple[PlugPiece, ...]


def order(rig: Rig, *, folder: str | Path | None = None) -> Order:
    """Work out what to buy and cut for the mast of a rig.

    Parameters
    ----------
    rig : Rig
        As read from a rig file.
    folder : str or Path, optional
        Where that file stands, from which ``stock.file`` is found; the working directory when not given.

    Returns
    -------
    Order
        Masses in kg, lengths in m, costs in the money of the file.

    Raises
    ------
    RigInputError
        Where the stock does not yield the mast, or its list cannot be read.

    Notes
    -----
    An order says nothing of strength: see that `check` passes the same rig first. The pieces are weighed one by one,
    and their sum is held against the mass of the section (``check.difference_kg``). Bars are cut by an integer
    programme over cutting patterns; ``metal.lots[i].plan`` says by which method, and whether none can be better.

    Examples
    --------
    >>> from rigcalc import order, read_rig, starter_text
    >>> tube, = order(read_rig(starter_text())).bought
    >>> tube.name, tube.count, tube.length_m
    ('88.9 x 3 mm', 1, 5.6)
    """
    with formulas_have_values():
        return _order(rig, folder)


def _order(rig: Rig, folder: str | Path | None) -> Order:
    mast = rig.mast
    lay_ups = lay_ups_of(rig)
    sections = build_sections(rig, ())
    tube, *others = sections.layers
    outline = None if mast.material in lay_ups else outline_of(mast)
    metal, shaped, wood = _spar(rig, outline, tube, folder)
    laid, laid_warnings = laid_parts(rig, lay_ups, outline)
    bores = bore_of(mast, lay_ups[mast.material]) if outline is None else outline
    plugs = tuple(_plugs(rig, bores, others))
    parts = _Parts(metal, shaped, wood, laid, plugs)
    in_place = tuple(_in_place(parts))
    bought = tuple(_to_buy(rig, parts))
    costs = [line.cost for line in bought if line.cost is not None]
    return Order(
        schema_version=SCHEMA_VERSION,
        rigcalc_version=__version__,
        title=rig.title,
        mast=mast.name,
        material=mast.material,
        bought=bought,
        metal=metal,
        shaped=shaped,
        wood=wood,
        laid=laid,
        plugs=plugs,
        named=named_parts(
            rig, outline, partners_m=_outside(sections, mast.bury_m), heel_m=_outside(sections, 0.0)
        ),
        in_place=in_place,
        apart=tuple(_apart(parts)),
        check=MassCheck(
            math.fsum(part.kg for part in in_place), float(sections.mesh.total(sections.mass_kg_m))
        ),
        cost=math.fsum(costs) if costs else None,
        unpriced=tuple(line.name for line in bought if line.cost is None),
        assumptions=stock_defaults(rig, _keys_read(parts)),
        warnings=(
            *(metal.warnings if metal else ()),
            *(wood.warnings if wood else ()),
            *laid_warnings,
            *tail_warnings(mast, bores),
        ),
        cautions=(NOT_JUDGED, *CAUTIONS, NOT_CHECKED),
    )


def _spar(
    rig: Rig, outline: Outline | None, tube: Layer, folder: str | Path | None
) -> tuple[MetalOrder | None, Shaped | None, WoodOrder | None]:
    """Return what the mast itself is built of, but for laminates and plugs."""
    mast, of_metal = rig.mast, isinstance(tube.made_of, Metals)
    is_tube = outline is not None and of_metal and outline.kind == "round"
    post = post_length(mast)
    lengths = [*lengths_of(mast, outline.runs if outline is not None and is_tube else ())]
    if post is not None:
        lengths.append(post)
    metal = metal_order(rig, lengths, folder) if lengths else None
    if outline is None or is_tube:
        return metal, None, None
    density = _density_kg_m3(tube)
    if not of_metal:
        return metal, None, wood_order(rig, outline, density_kg_m3=density)
    name = {"box": "box", "ellipse": "elliptical tube"}.get(outline.kind, f"tube of {outline.sides} sides")
    shaped = Shaped(
        name,
        mast.material,
        shaped_rows(outline, stock_of(rig).table_step_m),
        outline.kg(outline.area_at, 0.0, mast.length_m, density),
    )
    return metal, shaped, None


def _density_kg_m3(layer: Layer) -> float:
    """Return the density of a layer of metal, timber or foam, which is one everywhere."""
    return float(np.max(layer.elastic.density_kg_m3))


def _plugs(rig: Rig, bores: Outline, others: Sequence[Layer]) -> Iterator[PlugPiece]:
    fillings = [layer for layer in others if layer.name.startswith("plug")]
    for number, layer in enumerate(fillings):
        yield plug_piece(rig.mast, bores, number, density_kg_m3=_density_kg_m3(layer))


def _outside(sections: Sections, height_m: float) -> float:
    """Return the outside of the mast at a height that the mesh has."""
    z = sections.mesh.z_m
    return float(sections.outer_m.ravel()[int(np.argmin(np.abs(z.ravel() - height_m)))])


# ---------------------------------------------------------------- sums


def _in_place(parts: _Parts) -> Iterator[Weighed]:
    if parts.metal is not None and parts.metal.spar_kg:
        yield Weighed("tubes", parts.metal.spar_kg)
    if parts.shaped is not None:
        yield Weighed(parts.shaped.name, parts.shaped.in_place_kg)
    if parts.wood is not None:
        yield Weighed("staves" if parts.wood.staves is not None else "wood", parts.wood.spar_kg)
    for part in parts.laid:
        yield Weighed(part.name, part.order.laminate_kg - part.as_laid_kg)
    for plug in parts.plugs:
        yield Weighed(plug.name, plug.solid_kg)


def _apart(parts: _Parts) -> Iterator[Weighed]:
    for part in parts.laid:
        yield Weighed(f"{part.name}: laps and joins", part.order.laps_kg)
        yield Weighed(f"{part.name}: as laid, square to the taper and round corners", part.as_laid_kg)
    for plug in parts.plugs:
        if plug.has_tails:
            yield Weighed(f"{plug.name}: tails", plug.tails_kg)
    if parts.metal is not None and parts.metal.post_kg:
        yield Weighed("post, which does not turn", parts.metal.post_kg)


def _keys_read(parts: _Parts) -> tuple[str, ...]:
    """Return the keys of the stock that the parts asked for."""
    keys: list[str] = []
    if parts.metal is not None and any(not lot.cut_to_size for lot in parts.metal.lots):
        keys += _OF_TUBES
    if parts.shaped is not None:
        keys.append("table_step")
    if parts.wood is not None:
        keys += (*_OF_BOARDS, *_OF_WOOD) if parts.wood.plans else _OF_WOOD
    if parts.plugs:
        keys += ["plane_width", "wood_ends"]
    if parts.laid:
        keys += _OF_CLOTH
        if any(cloth is None for part in parts.laid for cloth in part.listed):
            keys.append("roll")
    return tuple(dict.fromkeys(keys))


def _to_buy(rig: Rig, parts: _Parts) -> Iterator[Bought]:
    if parts.metal is not None:
        yield from _tubes(parts.metal)
    if parts.shaped is not None:
        rows = parts.shaped.rows
        yield Bought(
            group="tube",
            name=parts.shaped.name,
            material=parts.shaped.material,
            count=1,
            length_m=rows[-1].height_m - rows[0].height_m,
            mass_kg=parts.shaped.in_place_kg,
            note="ordered as drawn; give the maker the table",
        )
    if parts.wood is not None:
        yield from _wood(parts.wood)
    stock = stock_of(rig)
    for plug in parts.plugs:
        wood = plug.material not in {m.name for m in rig.materials if m.family == "foam"}
        yield Bought(
            group="plug",
            name=f"{plug.name}, rough" if wood else f"{plug.name}, core of foam",
            material=plug.material,
            sizes_m=(plug.round_m + (stock.plane_width_m if wood else 0.0),) * 2,
            count=1,
            length_m=plug.length_m + (stock.wood_ends_m if wood else 0.0),
            note="a square, or a round of that diameter, to shape it from",
        )
    yield from _cloth(parts.laid, stock.resin_price)


def _tubes(metal: MetalOrder) -> Iterator[Bought]:
    says = {
        "own": "",
        "generic": "a generic size; ask who has it",
        "none": "a size as drawn, in no list here; ask whether it is made",
    }
    for lot in metal.lots:
        metre_kg = lot.bought_kg / lot.plan.stock_m
        for stock in dict.fromkeys(bar.stock for bar in lot.plan.bars):
            count = sum(bar.times for bar in lot.plan.bars if bar.stock == stock)
            notes = [says[lot.listed], "cut to size" if lot.cut_to_size else ""]
            yield Bought(
                group="tube",
                name=stock.name,
                material=lot.material,
                sizes_m=(lot.tube.diameter_m, lot.tube.wall_m),
                count=count,
                length_m=stock.length_m,
                mass_kg=count * stock.length_m * metre_kg,
                cost=None if lot.cost is None else count * (stock.price or 0.0),
                note="; ".join(note for note in notes if note),
            )
    for drawn in metal.drawn:
        piece = drawn.piece
        yield Bought(
            group="tube",
            name=piece.name,
            material=piece.material,
            sizes_m=(max(piece.diameters_m), max(piece.walls_m)),
            count=1,
            length_m=piece.length_m,
            mass_kg=drawn.in_place_kg,
            note="tapered, ordered as drawn; give the maker the table, straight in between",
        )


def _wood(wood: WoodOrder) -> Iterator[Bought]:
    for plan in wood.plans:
        yield Bought(
            group="wood",
            name=f"board {plan.board.name}",
            material=wood.material,
            sizes_m=(plan.board.width_m, plan.board.thickness_m),
            count=plan.boards,
            length_m=plan.board.length_m,
            cost=plan.cost,
        )
    rough = [] if wood.staves is None or wood.staves.plans else [("rough stave", wood.staves.batten, "")]
    rough += [(blank.name, blank.batten, blank.note) for blank in wood.blanks if not blank.plans]
    for name, batten, note in rough:
        yield Bought(
            group="wood",
            name=name,
            material=wood.material,
            sizes_m=(batten.width_m, batten.thickness_m),
            count=batten.count,
            length_m=batten.length_m,
            note=note,
        )


def _cloth(laid: Sequence[LaidPart], resin_price: float | None) -> Iterator[Bought]:
    for part in laid:
        for roll, cost in zip(part.order.rolls, part.costs, strict=True):
            yield Bought(
                group="cloth",
                name=roll.cloth.name,
                material="",
                sizes_m=(roll.cloth.roll_m,),
                length_m=roll.length_m,
                mass_kg=roll.length_m * roll.cloth.roll_m * roll.cloth.fibre_kg_m2,
                cost=cost,
            )
    if laid:
        resin = math.fsum(part.order.resin_kg for part in laid)
        yield Bought(
            group="resin",
            name="resin, mixed",
            material="",
            mass_kg=resin,
            cost=None if resin_price is None else resin * resin_price,
        )
