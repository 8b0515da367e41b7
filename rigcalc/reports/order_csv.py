"""The order list as CSV, for a spreadsheet: one line to a thing, in metres, kilograms and degrees."""

from __future__ import annotations

import csv
import io
import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import fields

from ..design.boards import BoardPlan
from ..design.laid_parts import LaidPart
from ..design.metal_parts import MetalOrder
from ..design.order import Order
from ..design.wood_parts import WoodOrder
from ..frozen import dataclass


@dataclass(frozen=True, kw_only=True)
class Row:
    """A line of the file; what does not apply is left empty. `kind` says what the line is."""

    kind: str
    item: str
    material: str = ""
    count: int | None = None
    height_m: float | None = None
    along_m: float | None = None
    length_m: float | None = None
    diameter_m: float | None = None
    wall_m: float | None = None
    width_m: float | None = None
    inner_width_m: float | None = None
    thickness_m: float | None = None
    angle_deg: float | None = None
    mass_kg: float | None = None
    cost: float | None = None
    note: str = ""


def order_csv(order: Order) -> str:
    """Return an order as CSV; the same input gives the same bytes."""
    columns = [field.name for field in fields(Row)]
    text = io.StringIO()
    lines = csv.writer(text, lineterminator="\n")
    lines.writerow(columns)
    for row in order_rows(order):
        lines.writerow([_cell(getattr(row, name)) for name in columns])
    return text.getvalue()


def _cell(value: str | float | None) -> str:
    if value is None:
        return ""
    return f"{round(value, 6):.10g}" if isinstance(value, float) else str(value)


def order_rows(order: Order) -> Iterator[Row]:
    """Yield the lines of the file."""
    yield Row(kind="title", item=order.title, material=order.material)
    for line in order.bought:
        sizes = (*line.sizes_m, None, None)
        first = {"tube": "diameter_m"}.get(line.group, "width_m")
        second = {"tube": "wall_m"}.get(line.group, "thickness_m")
        yield Row(
            kind=f"buy {line.group}",
            item=line.name,
            material=line.material,
            count=line.count,
            length_m=line.length_m,
            mass_kg=line.mass_kg,
            cost=line.cost,
            note=line.note,
            **{first: sizes[0], second: sizes[1]},
        )
    if order.metal is not None:
        yield from _metal(order.metal)
    if order.shaped is not None:
        for shape in order.shaped.rows:
            yield Row(
                kind="drawn",
                item=order.shaped.name,
                height_m=shape.height_m,
                width_m=shape.side_m,
                thickness_m=shape.forward_m,
                wall_m=shape.wall_m,
            )
    if order.wood is not None:
        yield from _wood(order.wood)
    for plug in order.plugs:
        for height, sizes, what in (
            (plug.lower_m, plug.lower_sizes_m, "lower end, tail and all"),
            (plug.upper_m, plug.upper_sizes_m, "upper end, tail and all"),
        ):
            yield Row(
                kind="plug",
                item=plug.name,
                material=plug.material,
                height_m=height,
                length_m=plug.length_m,
                thickness_m=sizes[0],
                width_m=sizes[1],
                note=f"{what}; solid from {plug.start_m:.3f} to {plug.end_m:.3f} m",
            )
    for part in order.laid:
        yield from _laid(part)
    for named in order.named:
        told = ", ".join(f"{what} {size * 1e3:g} mm" for what, size in named.sizes_m)
        yield Row(kind=named.group, item=named.name, material=named.material, count=named.count, note=told)
    yield from _sums(order)


def _metal(metal: MetalOrder) -> Iterator[Row]:
    for lot in metal.lots:
        for bar in lot.plan.bars:
            for piece, count in Counter(bar.pieces).items():
                yield Row(
                    kind="cut",
                    item=piece.name,
                    material=lot.material,
                    count=bar.times * count,
                    length_m=piece.length_m,
                    diameter_m=lot.tube.diameter_m,
                    wall_m=lot.tube.wall_m,
                    note=f"out of {bar.stock.name}, {bar.stock.length_m:.3f} m",
                )
    for drawn in metal.drawn:
        shape = drawn.piece
        for height, diameter, wall in zip(shape.heights_m, shape.diameters_m, shape.walls_m, strict=True):
            yield Row(
                kind="drawn",
                item=shape.name,
                material=shape.material,
                height_m=height,
                diameter_m=diameter,
                wall_m=wall,
            )


def _wood(wood: WoodOrder) -> Iterator[Row]:
    staves = wood.staves
    battens = [("stave", staves.batten, staves.plans)] if staves is not None else []
    battens += [(blank.name, blank.batten, blank.plans) for blank in wood.blanks]
    for name, batten, plans in battens:
        yield Row(
            kind="cut",
            item=f"{name}, rough",
            material=wood.material,
            count=batten.count,
            length_m=batten.length_m,
            width_m=batten.width_m,
            thickness_m=batten.thickness_m,
        )
        yield from _boards(name, plans[:1])
    for taper in staves.rows if staves is not None else ():
        yield Row(
            kind="taper",
            item="stave, planed",
            height_m=taper.height_m,
            along_m=taper.along_m,
            diameter_m=taper.outside_m,
            width_m=taper.width_m,
            inner_width_m=taper.inner_width_m,
            thickness_m=taper.thickness_m,
            angle_deg=math.degrees(taper.bevel_rad),
        )
    for shape in wood.rows:
        yield Row(
            kind="taper",
            item="mast, shaped",
            height_m=shape.height_m,
            width_m=shape.side_m,
            thickness_m=shape.forward_m,
            wall_m=shape.wall_m,
        )


def _boards(name: str, plans: tuple[BoardPlan, ...]) -> Iterator[Row]:
    for plan in plans:
        for bar in plan.strips.bars:
            for piece, count in Counter(bar.pieces).items():
                yield Row(
                    kind="strip",
                    item=f"piece of a {name}",
                    count=bar.times * count,
                    length_m=piece.length_m,
                    note=f"out of a strip of {plan.board.name}, {bar.stock.length_m:.3f} m",
                )
        for at in plan.lay.scarfs_m:
            yield Row(
                kind="scarf",
                item=f"middle of a scarf, from the lower end of a rough {name}",
                along_m=at,
                length_m=plan.lay.scarf_m,
            )


def _laid(part: LaidPart) -> Iterator[Row]:
    for number, (cut, of) in enumerate(zip(part.order.plies, part.plies, strict=True), start=1):
        item = f"{part.name}, ply {number}"
        for row in cut.rows:
            yield Row(
                kind="cloth",
                item=item,
                material=cut.ply.cloth.name,
                count=cut.gores,
                height_m=part.start_m + row.height_m,
                along_m=row.along_m,
                width_m=row.width_m,
                angle_deg=math.degrees(of.angle_rad),
                note=f"cut at {math.degrees(cut.ply.cut_rad):g} deg to the roll",
            )
        for length in dict.fromkeys(cut.lengths_m):
            yield Row(
                kind="cut",
                item=item,
                material=cut.ply.cloth.name,
                count=cut.gores * cut.lengths_m.count(length),
                length_m=length,
                width_m=max(row.width_m for row in cut.rows),
            )
    for height, along, diameter in part.order.mandrel:
        yield Row(
            kind="laid on",
            item=part.name,
            height_m=part.start_m + height,
            along_m=along,
            diameter_m=diameter,
        )


def _sums(order: Order) -> Iterator[Row]:
    for part in order.in_place:
        yield Row(kind="in place", item=part.name, mass_kg=part.kg)
    yield Row(kind="in place", item="all of it", mass_kg=order.check.pieces_kg)
    yield Row(kind="in place", item="the spar as the check finds it", mass_kg=order.check.section_kg)
    for part in order.apart:
        yield Row(kind="apart", item=part.name, mass_kg=part.kg)
    if order.cost is not None:
        yield Row(kind="cost", item="all that has a price", cost=order.cost)
    for name in order.unpriced:
        yield Row(kind="no price", item=name)
    for taken in order.assumptions:
        yield Row(kind="default", item=f"{taken.path} {taken.value}", note=taken.source)
    for text in order.warnings:
        yield Row(kind="warning", item=text)
    for text in order.cautions:
        yield Row(kind="caution", item=text)
