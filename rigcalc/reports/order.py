"""The order list for the terminal and as JSON."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Sequence
from dataclasses import fields, is_dataclass
from typing import Any

import numpy as np

from .. import units
from ..design.boards import BoardPlan
from ..design.cloth import PlyCut, RollOrder
from ..design.cutting import CuttingPlan
from ..design.laid_parts import LaidPart
from ..design.masscheck import MassCheck
from ..design.metal_parts import Length, MetalOrder
from ..design.order import Bought, Order
from ..design.plugs import PlugPiece
from ..design.staves import StaveOrder
from ..design.wood_parts import Blank, ShapedRow, WoodOrder
from .document import finite
from .terminal import Units, amount, bullets, table, wrapped

_LONGEST_NAME, _LONGEST_MATERIAL = 34, 26
_WORKED_OUT: dict[type, tuple[str, ...]] = {
    Blank: ("volume_m3",),
    BoardPlan: ("cost", "volume_m3"),
    CuttingPlan: ("proven", "stock_m", "pieces_m", "offcuts_m", "waste"),
    LaidPart: ("costs",),
    Length: ("length_m",),
    MassCheck: ("difference_kg", "agrees"),
    PlugPiece: ("length_m",),
    PlyCut: ("laid_m2", "fibre_kg", "resin_kg"),
    RollOrder: ("cut_m", "length_m", "waste"),
    StaveOrder: ("waste",),
}
"""What the JSON has of a record beside its fields."""


def order_json(order: Order) -> str:
    """Return an order as JSON; the same input gives the same bytes."""
    return json.dumps(_plain(order), indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _plain(value: Any) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        names = [field.name for field in fields(value)]
        names += _WORKED_OUT.get(type(value), ())
        return {name: _plain(getattr(value, name)) for name in names}
    if isinstance(value, np.ndarray):
        return [_plain(item) for item in value.tolist()]
    if isinstance(value, tuple | list):
        return [_plain(item) for item in value]
    return finite(value) if isinstance(value, float) else value


class _Tape:
    """Lengths as the tape shows them: millimetres and metres, or inches."""

    def __init__(self, shown_in: Units) -> None:
        self.us = shown_in == "us"
        self.small, self.far = ("in", "in") if self.us else ("mm", "m")

    def size(self, value_m: float) -> str:
        """Return a size without its unit."""
        return f"{units.convert(value_m, 'm', 'in'):.3f}" if self.us else f"{value_m * 1e3:.1f}"

    def way(self, value_m: float) -> str:
        """Return a length or height without its unit."""
        return f"{units.convert(value_m, 'm', 'in'):.2f}" if self.us else f"{value_m:.3f}"

    def sizes(self, values_m: Sequence[float], *, fine: bool = False) -> str:
        """Return a section with its unit; walls of tube are told finer."""
        digits = 3 if self.us else 2 if fine else 1
        shown = (f"{units.convert(v, 'm', self.small):.{digits}f}" for v in values_m)
        return f"{' x '.join(s.rstrip('0').rstrip('.') for s in shown)} {self.small}" if values_m else ""

    def long(self, value_m: float) -> str:
        """Return a length with its unit."""
        return f"{self.way(value_m)} {self.far}"


def order_screen(order: Order, *, shown_in: Units = "both") -> str:
    """Return an order as text.

    Parameters
    ----------
    order : Order
        As returned by ``order``.
    shown_in : {"both", "metric", "us"}
        Units; ``both`` has lengths in millimetres and metres, and sums in kilograms and pounds.
    """
    tape = _Tape(shown_in)
    parts = [
        f"{order.title}\nOrder for the mast as its file has it, of {order.material}.",
        _to_buy(order.bought, tape),
        *(_metal(order.metal, tape) if order.metal is not None else ()),
    ]
    if order.shaped is not None:
        parts.append(_shaped(f"Sizes of the {order.shaped.name}", order.shaped.rows, tape))
    if order.wood is not None:
        parts += _wood(order.wood, tape)
    if order.plugs:
        parts.append(_plugs(order.plugs, tape))
    for part in order.laid:
        parts += _laid(part, tape)
    if order.named:
        parts.append("\n".join(_named(order, tape)))
    parts += [
        "\n".join(_weights(order, shown_in)),
        "\n".join(_cost(order)),
        "\n".join(_defaults(order)),
        "\n".join(bullets("Warnings", order.warnings)),
        "\n".join(bullets("Cautions", order.cautions)),
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def _short(name: str, longest: int) -> str:
    return name if len(name) <= longest else f"{name[: longest - 3]}..."


def _to_buy(bought: Sequence[Bought], tape: _Tape) -> str:
    """Return the list for the shop; prices where any is known, notes below."""
    priced = any(line.cost is not None for line in bought)
    rows = [["To buy", "section", "pieces", f"each {tape.far}", "kg", *(["cost"] if priced else []), "of"]]
    for line in bought:
        rows.append(
            [
                _short(line.name, _LONGEST_NAME),
                tape.sizes(line.sizes_m, fine=line.group == "tube"),
                "" if line.count is None else str(line.count),
                "" if line.length_m is None else tape.way(line.length_m),
                "" if line.mass_kg is None else f"{line.mass_kg:.1f}",
                *([_money(line.cost)] if priced else []),
                _short(line.material, _LONGEST_MATERIAL),
            ]
        )
    notes = [f"{line.name}: {line.note}." for line in bought if line.note]
    return "\n".join([table(rows), *(text for note in notes for text in wrapped(note, "    ", first="  - "))])


def _money(cost: float | None) -> str:
    return "-" if cost is None else f"{cost:.2f}"


def _metal(metal: MetalOrder, tape: _Tape) -> Iterator[str]:
    cuts = []
    for lot in metal.lots:
        for bar in lot.plan.bars:
            pieces = "; ".join(f"{piece.name}, {tape.long(piece.length_m)}" for piece in bar.pieces)
            left = "" if lot.cut_to_size else f"; {tape.long(bar.offcut_m)} left over"
            of = f"{bar.times} x {lot.tube.name}, {tape.long(bar.stock.length_m)}"
            cuts += wrapped(f"{of}: {pieces}{left}", "      ", first="  - ")
        if not lot.cut_to_size and not lot.plan.proven:
            cuts += wrapped(
                f"The bars of {lot.tube.name} may not be the fewest: {lot.plan.method}.", "      "
            )
    if cuts:
        yield "\n".join(["Tubes to cut", *cuts])
    for drawn in metal.drawn:
        piece = drawn.piece
        rows = [
            [f"{piece.name}: z {tape.far}", f"outside {tape.small}", f"wall {tape.small}", ""],
            *(
                [tape.way(z), tape.size(d), tape.size(w), ""]
                for z, d, w in zip(piece.heights_m, piece.diameters_m, piece.walls_m, strict=True)
            ),
        ]
        yield table(rows)


def _shaped(heading: str, shaped: Sequence[ShapedRow], tape: _Tape) -> str:
    rows = [
        [
            f"{heading}: z {tape.far}",
            f"fore and aft {tape.small}",
            f"across {tape.small}",
            f"wall {tape.small}",
            "",
        ]
    ]
    for row in shaped:
        solid = 2 * row.wall_m >= min(row.forward_m, row.side_m) * (1 - 1e-9)
        wall = "solid" if solid else tape.size(row.wall_m)
        rows.append([tape.way(row.height_m), tape.size(row.forward_m), tape.size(row.side_m), wall, ""])
    return table(rows)


def _wood(wood: WoodOrder, tape: _Tape) -> Iterator[str]:
    if wood.staves is not None:
        staves = wood.staves
        batten = staves.batten
        said = (
            f"{batten.count} staves, rough {tape.sizes((batten.width_m, batten.thickness_m))}, "
            f"{tape.long(batten.length_m)} long, planed to the table; z is the height in the mast, along the way on "
            "the outer face"
        )
        if staves.mast.outside == "round":
            said += (
                "; glued up as a polygon that is as wide across flats as the mast is thick, then turned round"
            )
        lines = ["Staves", *wrapped(said + ".", "    ", first="  ")]
        for plan in staves.plans[:1]:
            lines += _boards("stave", plan, tape)
            lines += wrapped(
                f"{staves.waste:.0%} of the wood bought for staves is not in the mast.", "    ", first="  "
            )
        yield "\n".join(lines)
        yield _taper(staves, tape)
        return
    lines = ["Wood to cut"]
    for blank in wood.blanks:
        batten = blank.batten
        said = (
            f"{batten.count} x {blank.name}: at least {tape.sizes((batten.width_m, batten.thickness_m))}, "
            f"{tape.long(batten.length_m)} long, {blank.volume_m3 * 1e3:.1f} litres of wood in all; {blank.note}."
        )
        lines += wrapped(said, "    ", first="  ")
        for plan in blank.plans[:1]:
            lines += _boards(blank.name, plan, tape)
    yield "\n".join(lines)
    yield _shaped("Finished", wood.rows, tape)


def _boards(name: str, plan: BoardPlan, tape: _Tape) -> Iterator[str]:
    how = " on edge" if plan.on_edge else ""
    strips = f"{plan.strips_across} strips across and {plan.strips_deep} deep{how}"
    yield from wrapped(
        f"{plan.boards} boards {plan.board.name}, each ripped to {strips}.", "    ", first="  "
    )
    lay = plan.lay
    if not lay.scarfs_m:
        yield from wrapped(f"Each {name} is one piece.", "    ", first="  ")
        return
    pieces = " + ".join(tape.way(piece) for piece in lay.pieces_m)
    middles = ", ".join(tape.way(at) for at in lay.scarfs_m)
    yield from wrapped(
        f"Each {name} is scarfed of {pieces} {tape.far} from its lower end, scarfs {tape.long(lay.scarf_m)} long with "
        f"their middles at {middles} {tape.far}; its neighbour is the same turned end for end.",
        "    ",
        first="  ",
    )


def _taper(staves: StaveOrder, tape: _Tape) -> str:
    far, small = tape.far, tape.small
    rows = [
        ["Staves planed", "along", "outside", "bore", "width", "inside", "thick", "corner off", "bevel", ""],
        [f"z {far}", far, small, small, small, small, small, small, "deg", ""],
    ]
    for row in staves.rows:
        sizes = (
            row.outside_m,
            row.bore_m,
            row.width_m,
            row.inner_width_m,
            row.thickness_m,
            row.corner_m,
        )
        bevel = f"{math.degrees(row.bevel_rad):.2f}"
        rows.append([tape.way(row.height_m), tape.way(row.along_m), *map(tape.size, sizes), bevel, ""])
    return table(rows)


def _plugs(plugs: Sequence[PlugPiece], tape: _Tape) -> str:
    lines = ["Plugs, to fit the bore"]
    for plug in plugs:
        lower, upper = (
            tape.sizes((sizes[0],) if abs(sizes[0] - sizes[1]) < 1e-9 else sizes)
            for sizes in (plug.lower_sizes_m, plug.upper_sizes_m)
        )
        said = (
            f"{plug.name} of {plug.material}: {tape.long(plug.length_m)} over all, {lower} at its foot and "
        )
        said += f"{upper} at its head; solid from z = {tape.way(plug.start_m)} to {tape.long(plug.end_m)}"
        if plug.has_tails:
            said += f", with tails from z = {tape.way(plug.lower_m)} to {tape.long(plug.upper_m)}"
        lines += wrapped(said + ".", "    ", first="  - ")
    return "\n".join(lines)


def _laid(part: LaidPart, tape: _Tape) -> Iterator[str]:
    order = part.order
    lines = [f"Cloth for the {part.name}, inside first; widths along the arc, laps in them"]
    for number, (cut, of) in enumerate(zip(order.plies, part.plies, strict=True), start=1):
        low, high = part.start_m + cut.rows[0].height_m, part.start_m + cut.rows[-1].height_m
        roll = (
            "along the roll"
            if cut.ply.cut_rad == 0.0
            else f"cut at {math.degrees(cut.ply.cut_rad):.3g} deg to the roll"
        )
        strips = "" if cut.gores == 1 else f"{cut.gores} strips side by side, "
        said = (
            f"{number}: {cut.ply.cloth.name}, fibres at {math.degrees(of.angle_rad):.3g} deg, {roll}, z = "
            f"{tape.way(low)} to {tape.long(high)}, {strips}{_lengths(cut.lengths_m, tape)} {tape.far}; wide "
        )
        said += ", ".join(
            f"{tape.size(row.width_m)} at {tape.way(part.start_m + row.height_m)}" for row in cut.rows
        )
        lines += wrapped(f"{said} {tape.small}.", "      ", first="  ")
    for roll_, cloth in zip(order.rolls, part.listed, strict=True):
        bias = f", {tape.long(roll_.bias_m)} of it on the bias" if roll_.bias_m else ""
        assumed = "" if cloth is not None else "; the width of its roll is assumed"
        lines += wrapped(
            f"{roll_.cloth.name}: {tape.long(roll_.cut_m)} cut off a roll {tape.long(roll_.cloth.roll_m)} wide{bias}; "
            f"{tape.long(roll_.length_m)} to buy, {roll_.waste:.0%} of it waste and spare{assumed}.",
            "    ",
            first="  - ",
        )
    yield "\n".join(lines)
    rows = [
        [f"Mandrel: z {tape.far}", f"along {tape.far}", f"diameter {tape.small}", f"round {tape.small}", ""]
    ]
    for height, along, diameter in order.mandrel:
        values = tape.way(along), tape.size(diameter), tape.size(math.pi * diameter)
        rows.append([tape.way(part.start_m + height), *values, ""])
    yield table(rows)


def _lengths(lengths_m: Sequence[float], tape: _Tape) -> str:
    """Return lengths that follow one another, equal ones together."""
    told: list[str] = []
    for length in dict.fromkeys(lengths_m):
        count = lengths_m.count(length)
        told.append(f"{count} x {tape.way(length)}" if count > 1 else tape.way(length))
    return " + ".join(told)


def _named(order: Order, tape: _Tape) -> Iterator[str]:
    yield "Also named in the file"
    for named in order.named:
        sizes = ", ".join(
            f"{what} {tape.long(size) if what == 'height' else tape.sizes((size,))}"
            for what, size in named.sizes_m
        )
        of = f" of {named.material}" if named.material else ""
        yield from wrapped(f"{named.count} x {named.name}{of}: {sizes}.", "    ", first="  - ")


def _weights(order: Order, shown_in: Units) -> Iterator[str]:
    yield "Weight in place"
    for part in order.in_place:
        yield f"  {part.name}: {amount(part.kg, 'kg', shown_in)}"
    check = order.check
    verdict = (
        "the same to rounding"
        if check.agrees
        else f"the pieces are {check.difference_kg:+.3g} kg off: please report this, it is a fault"
    )
    yield from wrapped(
        f"in all {check.pieces_kg:.3f} kg, and the check finds {check.section_kg:.3f} kg for the spar: {verdict}.",
        "    ",
        first="  ",
    )
    for part in order.apart:
        yield from wrapped(f"apart from that, {part.name}: {part.kg:.3f} kg", "    ", first="  ")


def _cost(order: Order) -> Iterator[str]:
    if order.cost is not None:
        yield f"Cost of what has a price: {order.cost:.2f}"
        if order.unpriced:
            yield from wrapped(f"No price is known of: {', '.join(order.unpriced)}.", "    ", first="  ")


def _defaults(order: Order) -> Iterator[str]:
    taken = (f"{a.path.removeprefix('stock.')} {a.value} ({a.source})" for a in order.assumptions)
    yield from bullets("Defaults taken of [stock]", tuple(taken))
