"""The mast seen along its length: in section with breaks, and whole at a small scale."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from ...rig import Opening
from .axis import GAP_MM, Axis, broken_axis, whole_axis
from .blocks import Block, block, heading
from .hatching import hatch_of
from .labels import Label, NoRoomError, label_row
from .profile import HAIR, Part, Profile, Run, Seat, tail_ends
from .scene import (
    BEARINGS,
    BREAKS,
    CENTRES,
    CUTS,
    DIAMETERS,
    HEIGHTS,
    OPENINGS,
    PLUGS,
    SOCKET,
    SYMBOLS,
    WELDS,
    Arc,
    Circle,
    Item,
    Layer,
    Line,
    Point,
    Polyline,
    box_of_all,
)
from .wording import Wording, ratio

SYMBOL_MM = 3.0
"""Size on the sheet of what stands for a size that is not given."""
_STAND = 3.0
_HEAD_ROOM = 3.0


def broken_view(profile: Profile, wording: Wording, *, width: float, tallest: float) -> tuple[Block, Axis]:
    """Return the mast in section, long even stretches broken out, with all heights and sizes.

    Parameters
    ----------
    profile : Profile
        What is drawn.
    wording : Wording
        Writes the sizes.
    width : float
        Room on the sheet.
    tallest : float
        Height that the mast itself must not exceed on the sheet.

    Raises
    ------
    NoRoomError
        If it does not fit.
    """
    axis = broken_axis(
        profile.stretches_m,
        profile.lowest_m,
        profile.highest_m,
        width_mm=width - 4.0,
        least=profile.widest_m * 1e3 / tallest,
    )
    if axis is None:
        raise NoRoomError("the places that must be shown along the mast do not fit its width")
    items = list(_section(profile, axis))
    _, bottom, _, top = box_of_all(items)
    low, high = _room(axis, width)
    base = top + _STAND
    items += _heights(profile, axis, wording, base, low, high)
    items += label_row(
        list(_size_labels(profile, axis, wording)), DIAMETERS, y=bottom - 2.0, up=False, low=low, high=high
    )
    said = "broken where straight or evenly tapered, " if axis.broken else ""
    _, _, _, top = box_of_all(items)
    title = f"Mast in section, {ratio(axis.scale)} along and across, {said}heights in {wording.units}"
    items += heading(title, low, top + _HEAD_ROOM, width)
    return block("mast in section", items), axis


def full_view(
    profile: Profile, wording: Wording, cuts: Sequence[tuple[str, float]], *, width: float
) -> tuple[Block, Axis]:
    """Return the outline of the whole mast, with the places of the sections.

    Parameters
    ----------
    profile : Profile
        What is drawn.
    wording : Wording
        Writes the heights.
    cuts : sequence
        (letter, height) of the sections.
    width : float
        Room on the sheet.

    Raises
    ------
    NoRoomError
        If it does not fit.
    """
    axis = whole_axis(profile.lowest_m, profile.highest_m, width - 16.0)
    if axis.length_mm > width:
        raise NoRoomError("the mast is too long for its width at any scale")
    items: list[Item] = []
    for part in profile.parts:
        if part.name == "tube" or part.name.startswith("sheath"):
            items += _outline(part, axis, bores=False)
    items += [item for seat in profile.seats for item in _seat(seat, axis, profile, hatched=False)]
    items.append(_centre_line(axis, 0))
    _, bottom, _, top = box_of_all(items)
    low, high = _room(axis, width)
    labels = [Label(axis.x(z), top + 0.5, wording.height(z)) for z in profile.size_heights_m]
    items += label_row(labels, HEIGHTS, y=top + 1.0, up=True, low=low, high=high)
    items += label_row(
        [Label(axis.x(z), bottom - 0.5, letter) for letter, z in cuts],
        CUTS,
        y=bottom - 1.5,
        up=False,
        low=low,
        high=high,
        height=3.5,
        upright=False,
    )
    _, _, _, top = box_of_all(items)
    title = f"Whole mast, {ratio(axis.scale)} along and across, with its sections"
    items += heading(title, low, top + _HEAD_ROOM, width)
    return block("whole mast", items), axis


def _room(axis: Axis, width: float) -> tuple[float, float]:
    """Return left and right of the room for labels: the mast stands in the middle of it."""
    spare = (width - axis.length_mm) / 2
    return -spare, axis.length_mm + spare


# ---------------------------------------------------------------- lines of the section


def _section(profile: Profile, axis: Axis) -> Iterator[Item]:
    for part in profile.parts:
        yield from _fill(part, axis)
        yield from _outline(part, axis)
    yield from _tails(profile, axis)
    yield from _openings(profile, axis)
    yield from _welds(profile, axis)
    yield from _socket(profile, axis)
    for seat in profile.seats:
        yield from _seat(seat, axis, profile, hatched=True)
    for i in range(len(axis.stretches_m)):
        yield _centre_line(axis, i)
    half = axis.mm(profile.widest_m) / 2
    for (_, below), (above, _) in pairwise(axis.stretches_m):
        yield from (_break(axis.x(z), half) for z in (below, above))


def _pieces(part: Part, axis: Axis) -> Iterator[tuple[Run, float, float]]:
    """Yield what of each run is drawn."""
    for run in part.runs:
        for low, high in axis.stretches_m:
            a, b = max(run.start_m, low), min(run.end_m, high)
            if b > a + HAIR:
                yield run, a, b


def _fill(part: Part, axis: Axis) -> Iterator[Item]:
    for run, a, b in _pieces(part, axis):
        p, q, x, y = run.at(a), run.at(b), axis.x(a), axis.x(b)
        if p.solid and q.solid:
            yield hatch_of(
                part.family,
                _ring(
                    (x, axis.mm(-p.outer / 2)),
                    (x, axis.mm(p.outer / 2)),
                    (y, axis.mm(q.outer / 2)),
                    (y, axis.mm(-q.outer / 2)),
                ),
                mirrored=part.mirrored,
            )
            continue
        for side in (1, -1):
            yield hatch_of(
                part.family,
                _ring(
                    (x, side * axis.mm(p.inner / 2)),
                    (x, side * axis.mm(p.outer / 2)),
                    (y, side * axis.mm(q.outer / 2)),
                    (y, side * axis.mm(q.inner / 2)),
                ),
                mirrored=part.mirrored,
            )


def _ring(*points: Point) -> tuple[Point, ...]:
    return points


def _outline(part: Part, axis: Axis, *, bores: bool = True) -> Iterator[Item]:
    layer = part.layer
    for run, a, b in _pieces(part, axis):
        p, q = run.at(a), run.at(b)
        for low, high in ((p.outer, q.outer), (p.inner, q.inner)) if bores else ((p.outer, q.outer),):
            if max(low, high) > 0.0:
                for side in (1, -1):
                    yield Line(
                        layer, (axis.x(a), side * axis.mm(low / 2)), (axis.x(b), side * axis.mm(high / 2))
                    )
    for z in sorted({z for run in part.runs for z in (run.start_m, run.end_m)}):
        if not axis.shows(z):
            continue
        under, over = part.below(z), part.above(z)
        if under is None or over is None:
            here = under or over
            assert here is not None
            yield from _faces(layer, axis, z, here.inner if bores else 0.0, here.outer)
        else:
            yield from _faces(layer, axis, z, under.outer, over.outer)
            if bores:
                yield from _faces(layer, axis, z, under.inner, over.inner)


def _faces(layer: Layer, axis: Axis, z: float, one: float, other: float) -> Iterator[Item]:
    """Yield what closes a part at a height between two diameters, on both sides of the axis."""
    if abs(one - other) < HAIR:
        return
    x, a, b = axis.x(z), axis.mm(one / 2), axis.mm(other / 2)
    if min(a, b) == 0.0:
        yield Line(layer, (x, -max(a, b)), (x, max(a, b)))
        return
    for side in (1, -1):
        yield Line(layer, (x, side * a), (x, side * b))


def _tails(profile: Profile, axis: Axis) -> Iterator[Item]:
    """Yield the V at each end of a plug that has one: its wood runs out along the wall."""
    for i, plug in enumerate(profile.mast.plug):
        part = next(p for p in profile.parts if p.name == f"plug {i + 1}")
        for root, end in zip((plug.start_m, plug.end_m), tail_ends(profile.mast, i), strict=True):
            if abs(root - end) < HAIR:
                continue
            for low, high in axis.stretches_m:
                a, b = sorted((root, end))
                a, b = max(a, low), min(b, high)
                if b <= a + HAIR:
                    continue
                corners = []
                for z in (a, b):
                    bore = profile.tube.around(z)
                    assert bore is not None
                    corners.append((axis.x(z), axis.mm(bore.inner / 2), abs(z - root) / abs(end - root)))
                (xa, ra, sa), (xb, rb, sb) = corners
                for side in (1, -1):
                    loop = ((xa, side * ra * sa), (xa, side * ra), (xb, side * rb), (xb, side * rb * sb))
                    yield hatch_of(part.family, loop, mirrored=True)
                    yield Line(PLUGS, loop[0], loop[3])


def _openings(profile: Profile, axis: Axis) -> Iterator[Item]:
    for opening in profile.mast.opening:
        r = axis.mm(opening.width_m) / 2
        half = axis.mm(opening.length_m or opening.width_m) / 2 - r
        x = axis.x(opening.height_m)
        if half < HAIR:
            yield Circle(OPENINGS, (x, 0.0), r)
            continue
        yield Arc(OPENINGS, (x - half, 0.0), r, 90.0, 270.0)
        yield Arc(OPENINGS, (x + half, 0.0), r, 270.0, 450.0)
        for side in (1, -1):
            yield Line(OPENINGS, (x - half, side * r), (x + half, side * r))


def _welds(profile: Profile, axis: Axis) -> Iterator[Item]:
    for weld in profile.mast.weld:
        x = axis.x(weld.height_m)
        sizes = [s for s in (profile.tube.below(weld.height_m), profile.tube.above(weld.height_m)) if s]
        r, reach = axis.mm(max(s.outer for s in sizes) / 2), axis.mm(weld.extent_m)
        for side in (1, -1):
            yield Polyline(
                WELDS, ((x - 1.2, side * r), (x, side * (r + 1.2)), (x + 1.2, side * r)), closed=True
            )
            yield Line(WELDS, (x - reach, side * (r + 2.0)), (x + reach, side * (r + 2.0)))
            for end in (x - reach, x + reach):
                yield Line(WELDS, (end, side * (r + 1.4)), (end, side * (r + 2.6)))


def _socket(profile: Profile, axis: Axis) -> Iterator[Item]:
    """Yield the hole in the hull that holds a post: its size outside is not given."""
    post = profile.mast.post
    if profile.mast.support != "post" or post is None or post.socket_m is None:
        return
    r = axis.mm(post.diameter_m / 2)
    for low, high in axis.stretches_m:
        a, b = max(low, -post.socket_m), min(high, 0.0)
        if b > a + HAIR:
            for side in (1, -1):
                inner, outer = side * (r + 0.8), side * (r + 0.8 + SYMBOL_MM)
                yield Line(SOCKET, (axis.x(a), inner), (axis.x(b), inner))
                yield Line(SOCKET, (axis.x(a), outer), (axis.x(b), outer))
                if b == 0.0:
                    yield Line(SOCKET, (axis.x(b), inner), (axis.x(b), outer))


def _seat(seat: Seat, axis: Axis, profile: Profile, *, hatched: bool) -> Iterator[Item]:
    """Yield a bearing: to scale where it is described, a symbol elsewhere."""
    low, high = (axis.x(z) for z in seat.ends_m)
    inner = axis.mm(seat.inner_m / 2)
    known = seat.outer_m is not None and seat.bearing.length_m is not None
    for side in (1, -1):
        if seat.bearing.length_m is None:
            around = profile.tube.around(seat.height_m)
            assert around is not None
            r = axis.mm(around.outer / 2)
            yield Polyline(
                SYMBOLS,
                (
                    (low, side * r),
                    (low - SYMBOL_MM / 2, side * (r + SYMBOL_MM)),
                    (low + SYMBOL_MM / 2, side * (r + SYMBOL_MM)),
                ),
                closed=True,
            )
            continue
        outer = axis.mm(seat.outer_m / 2) if seat.outer_m is not None else inner + SYMBOL_MM
        corners = ((low, side * inner), (low, side * outer), (high, side * outer), (high, side * inner))
        yield Polyline(BEARINGS if known else SYMBOLS, corners, closed=True)
        if known and hatched and seat.bearing.kind == "plain":
            yield hatch_of("bearing material", corners)


def _centre_line(axis: Axis, i: int) -> Line:
    low, high = axis.stretches_m[i]
    before = 2.0 if i == 0 else -0.5
    after = 2.0 if i == len(axis.stretches_m) - 1 else -0.5
    return Line(CENTRES, (axis.x(low) - before, 0.0), (axis.x(high) + after, 0.0))


def _break(x: float, half: float) -> Polyline:
    """Return a thin line with a zigzag: what is left out begins here."""
    over, kink = half + 2.0, GAP_MM / 5
    return Polyline(BREAKS, ((x, -over), (x, -1.5), (x - kink, -0.7), (x + kink, 0.7), (x, 1.5), (x, over)))


# ---------------------------------------------------------------- heights and sizes


def _heights(
    profile: Profile, axis: Axis, wording: Wording, base: float, low: float, high: float
) -> list[Item]:
    """Return running dimensions: one line from the heel, an arrow and the height at each mark."""
    x_heel = axis.x(0.0)
    items: list[Item] = [Circle(HEIGHTS, (x_heel, base), 0.9)]
    ends = [axis.x(mark.height_m) for mark in profile.marks]
    items.append(Line(HEIGHTS, (min(ends), base), (max(ends), base)))
    labels = []
    for mark, x in zip(profile.marks, ends, strict=True):
        around = profile.tube.around(mark.height_m)
        edge = 0.0 if around is None else axis.mm(around.outer / 2)
        labels.append(Label(x, edge + 0.8, f"{wording.height(mark.height_m)} {mark.why}".strip()))
        if x != x_heel:
            back = -2.0 if x > x_heel else 2.0
            items += [Line(HEIGHTS, (x, base), (x + back, base + rise)) for rise in (0.5, -0.5)]
    return items + label_row(labels, HEIGHTS, y=base + 1.5, up=True, low=low, high=high)


def _size_labels(profile: Profile, axis: Axis, wording: Wording) -> Iterator[Label]:
    tube, beside = profile.tube, 1.5
    for z in profile.size_heights_m:
        both = [sizes for sizes in (tube.below(z), tube.above(z)) if sizes is not None]
        texts = [tube.said(sizes, wording) for sizes in both]
        # two sizes at one height are a step, and each label points at its own side
        shifts = (-beside, beside) if len(set(texts)) == 2 else (0.0,)
        for sizes, text, shift in zip(both, texts, shifts, strict=False):
            yield Label(axis.x(z) + shift, -axis.mm(sizes.outer / 2) - 0.8, text)
    for part in profile.parts[1:]:
        pieces = [(b - a, a, b) for _, a, b in _pieces(part, axis)]
        _, a, b = max(pieces)
        # beside the middle, where another part may have its own
        z = a + 0.4 * (b - a)
        here = part.around(z)
        assert here is not None
        depth = here.outer / 2 - (here.outer - here.inner) / 4 if not here.solid else here.outer / 4
        yield Label(axis.x(z), -axis.mm(depth), part.name, dot=True)
    for opening in profile.mast.opening:
        yield Label(
            axis.x(opening.height_m), -axis.mm(opening.width_m / 2), opening_said(opening, wording), dot=True
        )
    for seat in profile.seats:
        if seat.bearing.length_m is not None:
            text = f"{seat.kind} {wording.length(seat.bearing.length_m)} long"
            r = (seat.inner_m + (seat.outer_m or seat.inner_m)) / 4
            yield Label(axis.x(seat.height_m) + 0.7, -axis.mm(r) - 0.3, text, dot=True)


def opening_said(opening: Opening, wording: Wording) -> str:
    """Return an opening in a few words."""
    if opening.length_m is None:
        return f"hole Ø{wording.length(opening.width_m)}"
    return f"slot {wording.length(opening.width_m)} × {wording.length(opening.length_m)}"


def seat_said(seat: Seat, wording: Wording) -> str:
    """Return a bearing in a few words; empty where the file gives no size of it."""
    b = seat.bearing
    if b.length_m is None:
        return ""
    long = f"{wording.length(b.length_m)} long"
    if b.kind == "rollers" and b.count is not None and b.diameter_m is not None:
        return f"{b.count} rollers Ø{wording.length(b.diameter_m)}, {long}"
    if b.kind == "plain" and b.wall_m is not None:
        return f"bush × {wording.length(b.wall_m)}, {long}"
    return f"bearing {long}"
