"""What a builder cuts and lays: tables of sizes, parts and plies, a stave, the pad at the partners, key, notes."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from ...design.metal_parts import Length, lengths_of
from ...design.outline import outline_of
from ...formulas.pieces import corner_height, stave_bevel, stave_width
from ...materials.laminates import lay_ups_of
from ...rig import Deck
from ...verdict import CheckResult
from .along import opening_said, seat_said
from .axis import SCALES
from .blocks import PITCH, Block, block, heading, tables, wrap
from .cuts import Cut, dimension
from .hatching import PATTERNS, hatch_of
from .profile import HAIR, Part, Profile, Sizes, tail_ends
from .scene import (
    CENTRES,
    DECK,
    DIAMETERS,
    GLUE_LINES,
    LABELS,
    LEAST_TEXT_MM,
    MAST,
    SYMBOLS,
    TABLES,
    Arc,
    Circle,
    Item,
    Line,
    Point,
    Polyline,
    Text,
    box_of_all,
)
from .wording import Wording, ratio

_TEXT_COLUMN: Final = 62.0


def size_table(profile: Profile, wording: Wording, tallest: float) -> list[Block]:
    """Return height, outside, wall and bore of the tube at its stations, its partners and where its wall steps."""
    tube, unit = profile.tube, wording.unit
    two = any(r.at_start.outer != r.at_start.outer_side for r in tube.runs) or any(
        s.breadth_m is not None for s in profile.mast.stations
    )
    flat = tube.outline == "polygon"
    head = [f"z, {unit}", "across flats" if flat else "fore and aft" if two else "outside Ø"]
    head += ["breadth"] if two else []
    head += ["wall", "bore, flats" if tube.outline in ("polygon", "turned") else "bore"]
    head += ["bore breadth"] if two else []
    rows = []
    for z in profile.size_heights_m:
        low, high = tube.below(z), tube.above(z)
        here = [s for s in (low, high) if s is not None]
        if len(here) == 2 and _alike(here[0], here[1]):
            here = here[:1]
        for i, sizes in enumerate(here):
            word = ("", " below", " above")[0 if len(here) == 1 else i + 1]
            row = [f"{wording.height(z)}{word}", wording.length(sizes.outer)]
            row += [wording.length(sizes.outer_side)] if two else []
            row += ["solid" if sizes.solid else wording.length(tube.wall_m(sizes))]
            row += ["-" if sizes.solid else wording.length(sizes.inner)]
            row += ["-" if sizes.solid else wording.length(sizes.inner_side)] if two else []
            rows.append(row)
    return tables(
        "sizes", f"Sizes of the mast, {wording.units}; straight between", head, rows, tallest=tallest
    )


def _alike(one: Sizes, other: Sizes) -> bool:
    return all(abs(a - b) < HAIR for a, b in zip(vars(one).values(), vars(other).values(), strict=True))


def part_table(profile: Profile, wording: Wording, tallest: float) -> list[Block]:
    """Return everything that is drawn, with its stretch, size and material."""
    lengths, rows = _lengths(profile), []
    for part in profile.parts:
        if part is profile.tube and len(lengths) > 1:
            for k, one in enumerate(lengths, start=1):
                low, high = one.heights_m[0], one.heights_m[-1]
                made = wording.span(low, high), wording.height(high - low), _tube(one, wording)
                rows.append([f"tube {k}", *made, one.material])
            continue
        ends = part.start_m, part.end_m
        if part.name.startswith("plug"):
            ends = tail_ends(profile.mast, int(part.name.split()[1]) - 1)
        span = wording.span(part.start_m, part.end_m)
        size, material = _made(part, profile, wording)
        tail_of = next((k for k, one in enumerate(lengths, start=1) if _is_tail(part, one, profile)), None)
        rows.append(
            [
                part.called,
                span,
                wording.height(ends[1] - ends[0]),
                size if tail_of is None else f"{size}: the tail of tube {tail_of}",
                material,
            ]
        )
    for i, opening in enumerate(profile.mast.opening, start=1):
        said = opening_said(opening, wording)
        rows.append([f"opening {i}", wording.height(opening.height_m), "", f"{said}, round ends", ""])
    for i, weld in enumerate(profile.mast.weld, start=1):
        rows.append(
            [
                f"weld {i}",
                wording.height(weld.height_m),
                "",
                f"softened {wording.length(weld.extent_m)} to each side",
                "",
            ]
        )
    for seat in profile.seats:
        b, said = seat.bearing, seat_said(seat, wording)
        if b.clearance_m is not None:
            said += f", clearance {wording.length(b.clearance_m)} on the diameter"
        rows.append(
            [
                seat.name,
                wording.height(seat.height_m),
                "",
                said or "not described by the file",
                b.material or "",
            ]
        )
    thrust = profile.rig.bearings.step.thrust
    if thrust is not None:
        face = f"{thrust.form} face Ø{wording.length(thrust.outer_m)}"
        face += f" to Ø{wording.length(thrust.inner_m)}" if thrust.inner_m else ""
        rows.append(["thrust", "at the step", "", face, ""])
    furling = profile.rig.furling
    if furling is not None:
        drum = f"Ø{wording.length(furling.drum_diameter_m)} × {wording.length(furling.drum_width_m)}"
        rows.append(["drum", "not given", "", f"{drum}, line Ø{wording.length(furling.line_diameter_m)}", ""])
    return tables(
        "parts",
        f"Parts, {wording.units}",
        ["part", "z", "long", "size", "material"],
        rows,
        tallest=tallest,
        widest=(30.0, 40.0, 20.0, 100.0, _TEXT_COLUMN),
    )


def _lengths(profile: Profile) -> tuple[Length, ...]:
    """Return the lengths of tube that a mast of round metal is joined of, tails and all; none of any other mast."""
    tube = profile.tube
    if tube.family != "metal" or tube.outline != "round":
        return ()
    found = lengths_of(profile.mast, outline_of(profile.mast).runs)
    return tuple(one for one in found if not one.name.startswith("sleeve"))


def _tube(one: Length, wording: Wording) -> str:
    """Return the size of a length of tube, at both ends where it is not alike."""
    ends = [
        f"Ø{wording.length(one.diameters_m[k])} "
        + (
            "solid"
            if 2 * one.walls_m[k] >= one.diameters_m[k] * (1 - HAIR)
            else f"× {wording.length(one.walls_m[k])}"
        )
        for k in (0, -1)
    ]
    return ends[0] if one.plain else " to ".join(ends)


def _is_tail(part: Part, one: Length, profile: Profile) -> bool:
    """Whether a sleeve is one piece with a length of tube: lies within what is cut, and not within what shows."""
    if not part.name.startswith("sleeve") or part.material != one.material:
        return False
    within = one.heights_m[0] - HAIR <= part.start_m and part.end_m <= one.heights_m[-1] + HAIR
    sizes = part.runs[0].at_start
    alike = any(
        abs(D - sizes.outer) < HAIR and abs(2 * t - (sizes.outer - sizes.inner)) < HAIR
        for D, t in zip(one.diameters_m, one.walls_m, strict=True)
    )
    return within and alike


def _made(part: Part, profile: Profile, wording: Wording) -> tuple[str, str]:
    """Return size and material of a part."""
    mast = profile.mast
    kind, _, number = part.name.partition(" ")
    first, last = part.runs[0].at_start, part.runs[-1].at_end
    ends = [part.said(first, wording), part.said(last, wording)]
    size = ends[0] if ends[0] == ends[1] and len(part.runs) == 1 else f"{ends[0]} to {ends[1]}"
    if kind == "plug":
        plug = mast.plug[int(number) - 1]
        return "fills the bore" + (
            f", tail {wording.length(plug.tail_m)}" if plug.tail_m else ", square ends"
        ), part.material
    if kind == "sheath":
        return (
            f"laid {mast.sheath[int(number) - 1].side.replace('over', 'outside')}",
            f"laminate {part.material}",
        )
    if kind == "sleeve":
        play = mast.sleeve[int(number) - 1].play_m
        return size + ("" if play is None else f", packed to {wording.length(play)} play"), part.material
    if kind == "tube" and mast.shape == "staves":
        return (
            f"{mast.sides} staves, {'left flat' if mast.outside == 'flat' else 'turned round'}",
            part.material,
        )
    return size if part.family != "laminate" else "see the plies", part.material


# ---------------------------------------------------------------- staves


def stave_detail(profile: Profile, wording: Wording, tallest: float) -> tuple[list[Block], float]:
    """Return a stave in section, at its own scale, and its sizes at the stations."""
    tube, mast, n = profile.tube, profile.mast, profile.mast.sides
    rows = []
    for z in profile.size_heights_m:
        sizes, lean = tube.around(z), _lean(tube, z)
        assert sizes is not None
        row = [wording.height(z)]
        row += [wording.length(float(stave_width(n=n, W=W))) for W in (sizes.outer, sizes.inner)]
        row += [wording.length((sizes.outer - sizes.inner) / 2)]
        row += [wording.length(float(corner_height(n=n, W=sizes.outer)))] if mast.outside == "round" else []
        rows.append([*row, wording.angle(float(stave_bevel(n=n, alpha=lean)))])
    head = [f"z, {wording.unit}", "face", "inner face", "thickness"]
    head += ["corner off"] if mast.outside == "round" else []
    found = tables(
        "staves",
        f"Staves: {n} off, planed, {wording.units}; straight between",
        [*head, "bevel"],
        rows,
        tallest=tallest,
    )
    z = max(profile.size_heights_m, key=lambda h: _outer(tube, h))
    view, scale = _stave_view(profile, z, wording)
    return [view, *found], scale


def _outer(tube: Part, z: float) -> float:
    sizes = tube.around(z)
    assert sizes is not None
    return sizes.outer


def _lean(tube: Part, z: float) -> float:
    """Return how far the outer face leans in, in the stretch above; at the tip in that below."""
    run = next((r for r in tube.runs if r.start_m - HAIR <= z < r.end_m - HAIR), tube.runs[-1])
    return math.atan2((run.at_start.outer - run.at_end.outer) / 2, run.end_m - run.start_m)


def _stave_view(profile: Profile, z: float, wording: Wording) -> tuple[Block, float]:
    tube, n = profile.tube, profile.mast.sides
    sizes = tube.around(z)
    assert sizes is not None
    face, inner = (float(stave_width(n=n, W=W)) for W in (sizes.outer, sizes.inner))
    thick = (sizes.outer - sizes.inner) / 2
    scale = next((s for s in SCALES if 1e3 * max(face, thick) / s <= 45.0), SCALES[-1])
    a, b, t = (1e3 * v / scale / k for v, k in ((face, 2), (inner, 2), (thick, 1)))
    corners: tuple[Point, ...] = (
        ((-a, t), (a, t), (b, 0.0), (-b, 0.0)) if b > 0.0 else ((-a, t), (a, t), (0.0, 0.0))
    )
    items: list[Item] = [hatch_of(tube.family, corners), Polyline(MAST, corners, closed=True)]
    if profile.mast.outside == "round":
        r = 1e3 * sizes.outer / scale / 2
        half = 180.0 / n
        items.append(Arc(GLUE_LINES, (0.0, t - r), r, 90.0 - half, 90.0 + half))
    up, down, right = t + 6.0, -5.0, a + 7.0
    items += [Line(DIAMETERS, (x, t + 1.0), (x, up + 1.5)) for x in (-a, a)]
    items += dimension((-a, up), (a, up))
    items.append(Text(DIAMETERS, (0.0, up + 1.2), f"{wording.length(face)} face", align="centre"))
    if b > 0.0:
        items += [Line(DIAMETERS, (x, -1.0), (x, down - 1.5)) for x in (-b, b)]
        items += dimension((-b, down), (b, down))
        items.append(
            Text(
                DIAMETERS,
                (0.0, down - LEAST_TEXT_MM - 2.5),
                f"{wording.length(inner)} inner face",
                align="centre",
            )
        )
    items += [
        Line(DIAMETERS, (b + 1.0, 0.0), (right + 1.5, 0.0)),
        Line(DIAMETERS, (a + 1.0, t), (right + 1.5, t)),
    ]
    items += dimension((right, 0.0), (right, t))
    items.append(Text(DIAMETERS, (right + 4.0, t / 2), wording.length(thick), align="centre", upright=True))
    # the bevel is that of the edge from square to the faces
    reach = 0.8 * t
    lean = math.degrees(math.atan2(a - b, t))
    items.append(Line(CENTRES, (-a, t), (-a, t - reach - 2.0)))
    items.append(Arc(DIAMETERS, (-a, t), reach, 270.0, 270.0 + lean))
    bevel = wording.angle(float(stave_bevel(n=n, alpha=_lean(tube, z))))
    items.append(Text(DIAMETERS, (-a - 2.0, t - reach - 1.0), f"bevel {bevel}", align="right"))
    left, bottom, _, top = box_of_all(items)
    said = ["All edges mitred to the axis, so that one bevel serves every joint."]
    if profile.mast.outside == "round":
        said.append("The arc is the finished round: glue up the polygon, then turn or plane the corners off.")
    y = bottom - 1.5
    for text in said:
        for line in wrap(text, 74.0):
            y -= PITCH
            items.append(Text(LABELS, (left, y), line))
    title = f"Stave at z = {wording.height(z)}, {n} off, {ratio(scale)}"
    items += heading(title, left, top + 3.0)
    return block("stave", items), scale


# ---------------------------------------------------------------- plies


def ply_tables(profile: Profile, wording: Wording, tallest: float) -> list[Block]:
    """Return the plies of every laminate on the mast, one by one in the order they are laid."""
    rig, mast = profile.rig, profile.mast
    used = {mast.material: (0.0, mast.length_m)}
    for sheath in mast.sheath:
        low, high = used.get(sheath.laminate, (sheath.start_m, sheath.end_m))
        used[sheath.laminate] = (min(low, sheath.start_m), max(high, sheath.end_m))
    found: list[Block] = []
    for name, lay_up in lay_ups_of(rig).items():
        if name not in used:
            continue
        low, high = used[name]
        plies = [lot for lot in lay_up.lots for _ in range(lot.count)]
        rows = [
            [
                f"{i}",
                lot.ply.name,
                wording.angle(lot.angle_rad),
                wording.areal_mass(lot.ply.fibre_mass_kg_m2),
                wording.fine(lot.ply.thickness_m),
                wording.height(max(lot.start_m, low)),
                wording.height(min(lot.end_m, high)),
            ]
            for i, lot in enumerate(plies, start=1)
        ]
        found += tables(
            f"plies of {name}",
            f"Plies of {name}, inside first, {wording.units}",
            ["no.", "ply", "angle", "dry fibre", "thick", "from z", "to z"],
            rows,
            tallest=tallest,
            widest=(20.0, _TEXT_COLUMN, 30.0, 30.0, 30.0, 30.0, 30.0),
        )
    return found


# ---------------------------------------------------------------- pad, key, notes


def pad_view(deck: Deck, profile: Profile, wording: Wording, most_mm: float) -> tuple[Block, float]:
    """Return the pad at the partners from above, with its bolts; forward is up."""
    size = max(deck.pad_length_m, deck.pad_width_m, deck.bolt_circle_m + deck.bolt_diameter_m)
    scale = next((s for s in SCALES if 1e3 * size / s <= most_mm), SCALES[-1])
    x, y, r, d = (
        1e3 * v / scale / 2
        for v in (deck.pad_width_m, deck.pad_length_m, deck.bolt_circle_m, deck.bolt_diameter_m)
    )
    items: list[Item] = [Polyline(DECK, ((-x, -y), (x, -y), (x, y), (-x, y)), closed=True)]
    items.append(Circle(CENTRES, (0.0, 0.0), r))
    for k in range(deck.bolts):
        a = math.pi / 2 + math.pi * (2 * k + 1) / deck.bolts
        items.append(Circle(DECK, (r * math.cos(a), r * math.sin(a)), d))
    items.append(Circle(SYMBOLS, (0.0, 0.0), 1e3 * _outer(profile.tube, profile.mast.bury_m) / scale / 2))
    below, right = -y - 5.0, x + 5.0
    items += [Line(DIAMETERS, (s, -y - 1.0), (s, below - 1.5)) for s in (-x, x)]
    items += dimension((-x, below), (x, below))
    items.append(
        Text(DIAMETERS, (0.0, below - LEAST_TEXT_MM - 1.2), wording.length(deck.pad_width_m), align="centre")
    )
    items += [Line(DIAMETERS, (x + 1.0, s), (right + 1.5, s)) for s in (-y, y)]
    items += dimension((right, -y), (right, y))
    items.append(
        Text(
            DIAMETERS,
            (right + LEAST_TEXT_MM + 1.2, 0.0),
            wording.length(deck.pad_length_m),
            align="centre",
            upright=True,
        )
    )
    left, bottom, _, top = box_of_all(items)
    bolts = (
        f"{deck.bolts} bolts Ø{wording.length(deck.bolt_diameter_m)}, evenly spaced on "
        f"Ø{wording.length(deck.bolt_circle_m)}; "
        f"{deck.kind} deck, bolts bear on {wording.length(deck.thickness_m)}. The circle in the middle is the mast."
    )
    at = bottom - 1.0
    for line in wrap(bolts, max(62.0, 2 * x)):
        at -= PITCH
        items.append(Text(LABELS, (left, at), line))
    items += heading(f"Pad at the partners, from above, {ratio(scale)}", left, top + 3.0)
    return block("pad", items), scale


def key(profile: Profile, cuts: tuple[Cut, ...]) -> Block:
    """Return the patterns that the sheet uses, and what they stand for."""
    used = {part.family for part in profile.parts}
    if any(cut.seat is not None and cut.seat.bearing.kind == "plain" for cut in cuts):
        used.add("bearing material")
    items: list[Item] = heading("Cut through", 0.0, 2.0)
    y = 0.0
    for family in (name for name in PATTERNS if name in used):
        y -= 7.0
        box = ((0.0, y), (12.0, y), (12.0, y + 6.0), (0.0, y + 6.0))
        items += [
            hatch_of(family, box),
            Polyline(TABLES, box, closed=True),
            Text(LABELS, (14.5, y + 1.8), family),
        ]
    return block("key", items)


def notes(profile: Profile, result: CheckResult, wording: Wording, *, broken: bool) -> Iterator[str]:
    """Yield what a builder must know to read the sheet."""
    mast = profile.mast
    yield (
        f"Heights z run up the axis from one datum, the heel bearing, z = 0. All sizes are in {wording.units}. z = 0 "
        "and the partners are the middles of the bearings: what of the mast stands below z = 0 is over and above "
        "its length."
    )
    yield "Work to the sizes that are written, do not scale. Tolerances are not worked out: agree them with the maker."
    if broken:
        yield "At a break the two ends are drawn at their own true diameters; between them the mast is straight."
    centre = wording.height(round(result.mast.centre_of_gravity_m, 3))
    yield f"Mass with fittings {wording.mass(result.mast.mass_kg)}, centre of gravity at z = {centre}."
    if profile.tube.outline in ("polygon", "turned"):
        yield "A/F is across flats. The wall is that at its thinnest; the bore is measured across its flats."
    yield "Sections are seen from above, forward up."
    if any(part.family == "laminate" for part in profile.parts):
        yield "Angles of plies are from the length of the mast to their fibres; plus and minus wind opposite ways."
    if any(b.bearing.length_m is None or b.outer_m is None for b in profile.seats):
        yield "Triangles and boxes in thin lines at a bearing are symbols: the file does not give its size."
    if any(plug.tail_m for plug in mast.plug):
        yield "The tails of plugs are drawn as a V along the wall; they are cut within the length that is written."
    if mast.opening:
        yield "Openings go through one wall; the file does not say on which side. Round and polish their edges."
    if mast.support == "post":
        yield "The socket round the post is drawn as a symbol: its outside belongs to the hull."
    if mast.wall_loss_m:
        loss = wording.length(mast.wall_loss_m)
        yield f"Sizes are those of the new mast; the check takes {loss} off its outside for wear."
