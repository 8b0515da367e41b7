"""The order list: what to buy, what to cut, what it weighs and costs."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from ...design.boards import BoardPlan
from ...design.laid_parts import LaidPart
from ...design.metal_parts import MetalOrder
from ...design.order import Order
from ...design.wood_parts import ShapedRow, WoodOrder
from .record import Block, Bullets, Caution, Cell, Column, Paragraph, Section, Table, Words
from .show import NONE, Show


def order_section(order: Order | None, missing: str, show: Show) -> Section:
    """Return the order list, or why there is none."""
    if order is None:
        return Section("order", "Order list", (Paragraph((missing,)),))
    blocks: list[Block] = [
        Paragraph((f"Of {order.material}, for the mast as the file has it. {order.cautions[0]}",)),
        *_bought(order, show),
    ]
    if order.metal is not None:
        blocks += _metal(order.metal, show)
    if order.shaped is not None:
        blocks.append(_shaped(f"Sizes of the {order.shaped.name}", order.shaped.rows, "order.shaped", show))
    if order.wood is not None:
        blocks += _wood(order.wood, show)
    blocks += _plugs(order, show)
    for i, part in enumerate(order.laid):
        blocks += _laid(part, f"order.laid[{i}]", show)
    blocks += _named(order, show)
    blocks += _weights(order, show)
    if order.cost is not None:
        blocks.append(Paragraph((f"Cost of what has a price: {order.cost:.2f}.",)))
        if order.unpriced:
            blocks.append(Paragraph((f"No price is known of: {', '.join(order.unpriced)}.",)))
    if order.assumptions:
        blocks.append(
            Table(
                "Defaults taken of [stock]",
                (Column("key"), Column("value"), Column("where it comes from", kind="long")),
                tuple((a.path, a.value, a.source) for a in order.assumptions),
            )
        )
    if order.warnings:
        blocks.append(Caution("Warnings of this order", order.warnings))
    return Section("order", "Order list", tuple(blocks))


def _sizes(show: Show, quantity: str, values: Sequence[float]) -> str:
    scale = show.scale(quantity)
    return f"{' x '.join(scale.number(v) for v in values)} {scale.unit}" if values else NONE


def _bought(order: Order, show: Show) -> Iterator[Block]:
    priced = any(line.cost is not None for line in order.bought)
    rows: list[tuple[Cell, ...]] = []
    for i, line in enumerate(order.bought):
        at = f"order.bought[{i}]"
        rows.append(
            (
                line.name,
                _sizes(show, "fine" if line.group == "tube" else "size", line.sizes_m),
                show.value("count", line.count, f"{at}.count"),
                show.value("length", line.length_m, f"{at}.length_m"),
                show.value("mass", line.mass_kg, f"{at}.mass_kg"),
                *((show.value("number", line.cost, f"{at}.cost"),) if priced else ()),
                line.material or NONE,
            )
        )
    columns = (
        Column("what"),
        Column("section"),
        Column("pieces", kind="number"),
        show.column("each", "length"),
        show.column("mass", "mass"),
        *((Column("cost", kind="number"),) if priced else ()),
        Column("of"),
    )
    yield Table("To buy", columns, tuple(rows))
    notes = tuple((f"{line.name}: {line.note}.",) for line in order.bought if line.note)
    if notes:
        yield Bullets(notes)


def _metal(metal: MetalOrder, show: Show) -> Iterator[Block]:
    far = show.scale("length")
    cuts: list[Words] = []
    for lot in metal.lots:
        for bar in lot.plan.bars:
            pieces = "; ".join(f"{piece.name}, {far.text(piece.length_m)}" for piece in bar.pieces)
            left = "" if lot.cut_to_size else f"; {far.text(bar.offcut_m)} left over"
            cuts.append((f"{bar.times} x {lot.tube.name}, {far.text(bar.stock.length_m)}: {pieces}{left}.",))
        if not lot.cut_to_size and not lot.plan.proven:
            cuts.append((f"The bars of {lot.tube.name} may not be the fewest: {lot.plan.method}.",))
    if cuts:
        yield Section("order-tubes", "Tubes to cut", (Bullets(tuple(cuts)),))
    for i, drawn in enumerate(metal.drawn):
        piece, at = drawn.piece, f"order.metal.drawn[{i}].piece"
        rows = [
            (
                show.value("length", piece.heights_m[k], f"{at}.heights_m[{k}]"),
                show.value("size", piece.diameters_m[k], f"{at}.diameters_m[{k}]"),
                show.value("fine", piece.walls_m[k], f"{at}.walls_m[{k}]"),
            )
            for k in range(len(piece.heights_m))
        ]
        yield Table(
            f"To be drawn: {piece.name}",
            (show.column("z", "length"), show.column("outside", "size"), show.column("wall", "fine")),
            tuple(rows),
        )


def _shaped(caption: str, shaped: Sequence[ShapedRow], at: str, show: Show) -> Table:
    rows: list[tuple[Cell, ...]] = []
    for k, row in enumerate(shaped):
        solid = 2 * row.wall_m >= min(row.forward_m, row.side_m) * (1 - 1e-9)
        here = f"{at}.rows[{k}]"
        rows.append(
            (
                show.value("length", row.height_m, f"{here}.height_m"),
                show.value("size", row.forward_m, f"{here}.forward_m"),
                show.value("size", row.side_m, f"{here}.side_m"),
                "solid" if solid else show.value("size", row.wall_m, f"{here}.wall_m"),
            )
        )
    columns = (
        show.column("z", "length"),
        show.column("fore and aft", "size"),
        show.column("across", "size"),
        show.column("wall", "size"),
    )
    return Table(caption, columns, tuple(rows))


def _wood(wood: WoodOrder, show: Show) -> Iterator[Block]:
    far = show.scale("length")
    staves = wood.staves
    if staves is not None:
        batten = staves.batten
        said = (
            f"{batten.count} staves, rough {_sizes(show, 'size', (batten.width_m, batten.thickness_m))}, "
            f"{far.text(batten.length_m)} long, planed to the table; z is the height in the mast, along the way on "
            "the outer face"
        )
        if staves.mast.outside == "round":
            said += "; glued up as a polygon as wide across flats as the mast is thick, then turned round"
        lines: list[Words] = [(f"{said}.",)]
        for plan in staves.plans[:1]:
            lines += _boards("stave", plan, show)
            lines.append((f"{staves.waste:.0%} of the wood bought for staves is not in the mast.",))
        yield Section("order-wood", "Staves", (Bullets(tuple(lines)),))
        fields = (
            ("z", "length", "height_m"),
            ("along", "length", "along_m"),
            ("outside", "size", "outside_m"),
            ("bore", "size", "bore_m"),
            ("width", "size", "width_m"),
            ("inside", "size", "inner_width_m"),
            ("thick", "size", "thickness_m"),
            ("corner off", "size", "corner_m"),
            ("bevel", "bevel", "bevel_rad"),
        )
        rows = [
            tuple(show.value(q, getattr(row, f), f"order.wood.staves.rows[{k}].{f}") for _, q, f in fields)
            for k, row in enumerate(staves.rows)
        ]
        yield Table("Staves planed", tuple(show.column(n, q) for n, q, _ in fields), tuple(rows))
        return
    lines = []
    for blank in wood.blanks:
        batten = blank.batten
        lines.append(
            (
                f"{batten.count} x {blank.name}: at least "
                f"{_sizes(show, 'size', (batten.width_m, batten.thickness_m))}, {far.text(batten.length_m)} long, "
                f"{blank.volume_m3 * 1e3:.1f} litres of wood in all; {blank.note}.",
            )
        )
        for plan in blank.plans[:1]:
            lines += _boards(blank.name, plan, show)
    yield Section("order-wood", "Wood to cut", (Bullets(tuple(lines)),))
    yield _shaped("Finished", wood.rows, "order.wood", show)


def _boards(name: str, plan: BoardPlan, show: Show) -> Iterator[Words]:
    far = show.scale("length")
    how = " on edge" if plan.on_edge else ""
    yield (
        f"{plan.boards} boards {plan.board.name}, each ripped to {plan.strips_across} strips across and "
        f"{plan.strips_deep} deep{how}.",
    )
    lay = plan.lay
    if not lay.scarfs_m:
        yield (f"Each {name} is one piece.",)
        return
    pieces = " + ".join(far.number(piece) for piece in lay.pieces_m)
    middles = ", ".join(far.number(at) for at in lay.scarfs_m)
    yield (
        f"Each {name} is scarfed of {pieces} {far.unit} from its lower end, scarfs {far.text(lay.scarf_m)} long with "
        f"their middles at {middles} {far.unit}; its neighbour is the same turned end for end.",
    )


def _plugs(order: Order, show: Show) -> Iterator[Block]:
    if not order.plugs:
        return
    rows: list[tuple[Cell, ...]] = []
    for i, plug in enumerate(order.plugs):
        at = f"order.plugs[{i}]"
        lower, upper = (
            _sizes(show, "size", (sizes[0],) if abs(sizes[0] - sizes[1]) < 1e-9 else sizes)
            for sizes in (plug.lower_sizes_m, plug.upper_sizes_m)
        )
        rows.append(
            (
                plug.name,
                plug.material,
                show.value("length", plug.length_m, f"{at}.length_m"),
                lower,
                upper,
                show.value("length", plug.start_m, f"{at}.start_m"),
                show.value("length", plug.end_m, f"{at}.end_m"),
                f"z = {show.scale('length').number(plug.lower_m)} to {show.scale('length').text(plug.upper_m)}"
                if plug.has_tails
                else "none",
            )
        )
    columns = (
        Column("plug"),
        Column("of"),
        show.column("over all", "length"),
        Column("foot"),
        Column("head"),
        show.column("solid from z", "length"),
        show.column("to z", "length"),
        Column("tails"),
    )
    yield Table("Plugs, to fit the bore", columns, tuple(rows))


def _laid(part: LaidPart, at: str, show: Show) -> Iterator[Block]:
    far = show.scale("length")
    rows: list[tuple[Cell, ...]] = []
    for k, (cut, of) in enumerate(zip(part.order.plies, part.plies, strict=True)):
        lengths = " + ".join(
            (f"{cut.lengths_m.count(n)} x " if cut.lengths_m.count(n) > 1 else "") + far.number(n)
            for n in dict.fromkeys(cut.lengths_m)
        )
        widths = ", ".join(
            f"{show.scale('size').number(row.width_m)} at {far.number(part.start_m + row.height_m)}"
            for row in cut.rows
        )
        rows.append(
            (
                str(k + 1),
                cut.ply.cloth.name,
                f"{math.degrees(of.angle_rad):.3g}",
                "along" if cut.ply.cut_rad == 0.0 else f"{math.degrees(cut.ply.cut_rad):.3g} deg",
                show.value("length", part.start_m + cut.rows[0].height_m),
                show.value("length", part.start_m + cut.rows[-1].height_m),
                show.value("count", cut.gores, f"{at}.order.plies[{k}].gores"),
                lengths,
                widths,
            )
        )
    small = show.scale("size").unit
    columns = (
        Column("ply", kind="number"),
        Column("cloth"),
        Column("fibres", "deg", "number"),
        Column("cut to the roll"),
        show.column("from z", "length"),
        show.column("to z", "length"),
        Column("strips", kind="number"),
        Column("lengths", far.unit),
        Column(f"wide, {small} at z", far.unit, kind="long"),
    )
    yield Table(
        f"Cloth for the {part.name}, inside first; widths along the arc, laps in them", columns, tuple(rows)
    )
    lines: list[Words] = []
    for roll, cloth in zip(part.order.rolls, part.listed, strict=True):
        bias = f", {far.text(roll.bias_m)} of it on the bias" if roll.bias_m else ""
        assumed = "" if cloth is not None else "; the width of its roll is assumed"
        lines.append(
            (
                f"{roll.cloth.name}: {far.text(roll.cut_m)} cut off a roll {far.text(roll.cloth.roll_m)} wide{bias}; "
                f"{far.text(roll.length_m)} to buy, {roll.waste:.0%} of it waste and spare{assumed}.",
            )
        )
    yield Bullets(tuple(lines))
    mandrel = [
        (
            show.value("length", part.start_m + height),
            show.value("length", along, f"{at}.order.mandrel[{k}][1]"),
            show.value("size", diameter, f"{at}.order.mandrel[{k}][2]"),
            show.value("size", math.pi * diameter),
        )
        for k, (height, along, diameter) in enumerate(part.order.mandrel)
    ]
    yield Table(
        f"Mandrel of the {part.name}",
        (
            show.column("z", "length"),
            show.column("along", "length"),
            show.column("diameter", "size"),
            show.column("round", "size"),
        ),
        tuple(mandrel),
    )


def _named(order: Order, show: Show) -> Iterator[Block]:
    if not order.named:
        return
    rows = [
        (
            named.name,
            str(named.count),
            named.material or NONE,
            ", ".join(
                f"{what} {show.scale('length' if what == 'height' else 'size').text(size)}"
                for what, size in named.sizes_m
            ),
        )
        for named in order.named
    ]
    yield Table(
        "Also named in the file",
        (Column("what"), Column("pieces", kind="number"), Column("of"), Column("sizes", kind="long")),
        tuple(rows),
    )


def _weights(order: Order, show: Show) -> Iterator[Block]:
    check = order.check
    rows: list[tuple[Cell, ...]] = [
        (part.name, show.value("weight", part.kg, f"order.in_place[{i}].kg"))
        for i, part in enumerate(order.in_place)
    ]
    rows.append(("all of it", show.value("weight", check.pieces_kg, "order.check.pieces_kg")))
    rows.append(
        ("the spar as the check finds it", show.value("weight", check.section_kg, "order.check.section_kg"))
    )
    rows += [
        (f"apart from that: {part.name}", show.value("weight", part.kg, f"order.apart[{i}].kg"))
        for i, part in enumerate(order.apart)
    ]
    yield Table("Weight in place", (Column("part"), show.column("mass", "weight")), tuple(rows))
    if not check.agrees:
        yield Paragraph(
            (f"The pieces are {check.difference_kg:+.3g} kg off: please report this, it is a fault.",)
        )
