"""Sections across the mast: which are worth a view, and the views, all at one true scale."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import count, pairwise
from typing import Final

from ...frozen import dataclass
from .axis import SCALES
from .blocks import PITCH, Block, block, heading, wrap
from .hatching import hatch_of
from .profile import HAIR, Part, Profile, Seat, Sizes
from .scene import (
    BEARINGS,
    CENTRES,
    DIAMETERS,
    GLUE_LINES,
    LABELS,
    LEAST_TEXT_MM,
    OPENINGS,
    Circle,
    Item,
    Layer,
    Line,
    Point,
    Polyline,
    Text,
    box_of_all,
)
from .wording import Wording, ratio

NARROWEST_MM: Final = 46.0
_FINE: Final = 180
"""Sides of the polygon that a hatch takes for a circle: on the sheet a hundredth of a millimetre off."""
_SAME_M: Final = 5e-6


@dataclass(frozen=True)
class Cut:
    """A section across the mast, at one height or at several where it is the same.

    Parameters
    ----------
    letter : str
        Its name.
    heights_m : tuple of float
        Where it stands, from below.
    why : str
        What is there.
    parts : tuple
        (part, sizes) of what is cut.
    seat : Seat or None
        Bearing that is cut.
    opening_m : float or None
        Width of an opening that is cut.
    """

    letter: str
    heights_m: tuple[float, ...]
    why: str
    parts: tuple[tuple[Part, Sizes], ...]
    seat: Seat | None
    opening_m: float | None

    @property
    def half_m(self) -> float:
        """Half of the largest size."""
        seat = 0.0 if self.seat is None or self.seat.inside else self.seat.outer_m or 0.0
        return max(seat, *(max(s.outer, s.outer_side) for _, s in self.parts)) / 2


def cuts_of(profile: Profile) -> tuple[Cut, ...]:
    """Return the sections to show: heel, partners, joints, head, and one of everything else there is inside."""
    wanted = list(_wanted(profile))
    found: dict[tuple[object, ...], tuple[list[float], list[str], Cut]] = {}
    for z, why in sorted(wanted, key=lambda pair: pair[0]):
        cut = _cut(profile, z)
        key = (
            *((p.name, *(round(v / _SAME_M) for v in vars(s).values())) for p, s in cut.parts),
            None if cut.seat is None else cut.seat.name,
            cut.opening_m,
        )
        heights, reasons, _ = found.setdefault(key, ([], [], cut))
        if z not in heights:
            heights.append(z)
        if why not in reasons:
            reasons.append(why)
    return tuple(
        Cut(letter, tuple(heights), ", ".join(reasons), cut.parts, cut.seat, cut.opening_m)
        for letter, (heights, reasons, cut) in zip(_letters(), found.values(), strict=False)
    )


def _letters() -> Iterator[str]:
    """Yield A, B, ... without I and O, which read as numbers; then A2, B2, ..."""
    letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"
    for turn in count(1):
        yield from (f"{letter}{turn if turn > 1 else ''}" for letter in letters)


def _wanted(profile: Profile) -> Iterator[tuple[float, str]]:
    mast = profile.mast
    sure = [
        (0.0, "heel"),
        (mast.bury_m, "partners"),
        *(((s.start_m + s.end_m) / 2, f"sleeve {i}") for i, s in enumerate(mast.sleeve, start=1)),
        *((o.height_m, f"opening {i}") for i, o in enumerate(mast.opening, start=1)),
        (mast.length_m, "head"),
    ]
    yield from sure
    seen = {_names(profile, z) for z, _ in sure}
    kinks = sorted({z for p in profile.parts for r in p.runs for z in (r.start_m, r.end_m) if z >= 0.0})
    # longest first: the section of most of the mast, not that of a corner of it
    for low, high in sorted(pairwise(kinks), key=lambda pair: (pair[0] - pair[1], pair[0])):
        middle = (low + high) / 2
        if high - low > HAIR and _names(profile, middle) not in seen:
            seen.add(_names(profile, middle))
            others = [name for name in _names(profile, middle) if name != "tube"]
            yield middle, ", ".join(others) or f"{profile.tube.called} alone"


def _names(profile: Profile, z: float) -> tuple[str, ...]:
    return tuple(part.name for part in profile.there(z))


def _cut(profile: Profile, z: float) -> Cut:
    parts = tuple((p, s) for p in profile.parts if (s := p.around(z)) is not None)
    seat = next(
        (
            s
            for s in profile.seats
            if s.ends_m[0] - HAIR <= z <= s.ends_m[1] + HAIR and s.outer_m is not None and s.bearing.kind
        ),
        None,
    )
    opening = next(
        (
            o.width_m
            for o in profile.mast.opening
            if abs(z - o.height_m) <= (o.length_m or o.width_m) / 2 + HAIR
        ),
        None,
    )
    return Cut("", (z,), "", parts, seat, opening)


def cut_scale(cuts: Sequence[Cut], most_mm: float) -> float:
    """Return the one scale at which the widest section is no wider."""
    widest = 2e3 * max(cut.half_m for cut in cuts)
    return next((s for s in SCALES if widest / s <= most_mm), SCALES[-1])


def cut_views(cuts: Sequence[Cut], wording: Wording, *, scale: float) -> list[Block]:
    """Return the views of the sections, forward up, all middles at one height."""
    reach = max(cut.half_m for cut in cuts) * 1e3 / scale + 2.0
    return [_view(cut, wording, scale, reach) for cut in cuts]


def _view(cut: Cut, wording: Wording, scale: float, reach: float) -> Block:

    def mm(metres: float) -> float:
        return metres * 1e3 / scale

    items = list(_drawn(cut, mm(1.0)))
    half = mm(cut.half_m)
    for dx, dy in ((1.0, 0.0), (0.0, 1.0)):
        over = half + 2.0
        items.append(Line(CENTRES, (-over * dx, -over * dy), (over * dx, over * dy)))
    outside = max((s for p, s in cut.parts if p.name != "post"), key=lambda s: s.outer)
    part = next(p for p, s in cut.parts if s is outside)
    items += _across(mm(outside.outer_side), half, part, outside, wording)
    if part.outline in ("box", "ellipse"):
        items += _up(mm(outside.outer), half, wording.length(outside.outer))
    left, bottom, right, top = box_of_all(items)
    width = max(NARROWEST_MM, right - left)
    middle = (left + right) / 2
    x = middle - width / 2
    y = bottom - 1.0
    for line in _list(cut, wording, width):
        y -= PITCH
        items.append(Text(LABELS, (x, y), line))
    *others, last = map(wording.height, cut.heights_m)
    heights = f"{', '.join(others)} and {last}" if others else last
    y = max(top, reach) + 2.0
    for line in reversed(wrap(f"z = {heights}: {cut.why}", width)):
        items.append(Text(LABELS, (x, y), line))
        y += PITCH
    items += heading(f"{cut.letter} - {cut.letter}, {ratio(scale)}", x, y + 0.5)
    return block(f"section {cut.letter}", items)


def _list(cut: Cut, wording: Wording, width: float) -> Iterator[str]:
    for part, sizes in cut.parts:
        bore = "" if sizes.solid else f", bore {wording.length(sizes.inner)}"
        yield from wrap(f"{part.called}: {part.said(sizes, wording)}{bore}", width)
    if cut.seat is not None:
        b = cut.seat.bearing
        if b.kind == "rollers":
            assert b.count is not None
            assert b.diameter_m is not None
            yield from wrap(f"{b.count} rollers Ø{wording.length(b.diameter_m)}", width)
        elif cut.seat.inside:
            yield from wrap(f"bush of {b.material}, between post and tube", width)
        else:
            assert cut.seat.outer_m is not None
            bore, outer = (wording.length(v) for v in (cut.seat.inner_m, cut.seat.outer_m))
            yield from wrap(f"bush: Ø{outer}, bore {bore} as machined", width)
    if cut.opening_m is not None:
        yield from wrap(
            f"opening {wording.length(cut.opening_m)} wide: the file does not say in which side", width
        )


# ---------------------------------------------------------------- lines


def _drawn(cut: Cut, to_mm: float) -> Iterator[Item]:
    for part, sizes in cut.parts:
        bore_of = "polygon" if part.outline == "turned" else part.outline
        yield from _outline(
            part.layer, part.outline, part.sides, sizes.outer * to_mm, sizes.outer_side * to_mm
        )
        outer = _loop(part.outline, part.sides, sizes.outer * to_mm, sizes.outer_side * to_mm)
        if sizes.solid:
            yield hatch_of(part.family, outer, mirrored=part.mirrored)
        else:
            yield from _outline(
                part.layer, bore_of, part.sides, sizes.inner * to_mm, sizes.inner_side * to_mm
            )
            inner = _loop(bore_of, part.sides, sizes.inner * to_mm, sizes.inner_side * to_mm)
            yield hatch_of(part.family, outer, inner, mirrored=part.mirrored)
        if part.name == "tube" and part.outline in ("polygon", "turned"):
            yield from _glue_lines(part, sizes, to_mm)
    if cut.seat is not None:
        yield from _bearing(cut.seat, to_mm)
    if cut.opening_m is not None:
        tube = cut.parts[0][1]
        x = cut.opening_m * to_mm / 2
        for side in (1, -1):
            low, high = (math.sqrt(max((d * to_mm / 2) ** 2 - x**2, 0.0)) for d in (tube.inner, tube.outer))
            yield Line(OPENINGS, (side * x, low), (side * x, high))


def _outline(layer: Layer, outline: str, sides: int, forward: float, side: float) -> Iterator[Item]:
    if outline in ("round", "turned"):
        yield Circle(layer, (0.0, 0.0), forward / 2)
    else:
        yield Polyline(layer, _loop(outline, sides, forward, side), closed=True)


def _loop(outline: str, sides: int, forward: float, side: float) -> tuple[Point, ...]:
    """Return the corners of an outline; a flat looks forward, which is up."""
    match outline:
        case "box":
            x, y = side / 2, forward / 2
            return ((-x, -y), (x, -y), (x, y), (-x, y))
        case "polygon":
            r = forward / 2 / math.cos(math.pi / sides)
            angles = [math.pi / 2 + math.pi / sides * (2 * k + 1) for k in range(sides)]
            return tuple((r * math.cos(a), r * math.sin(a)) for a in angles)
        case _:
            angles = [2 * math.pi * k / _FINE for k in range(_FINE)]
            return tuple((side / 2 * math.cos(a), forward / 2 * math.sin(a)) for a in angles)


def _glue_lines(part: Part, sizes: Sizes, to_mm: float) -> Iterator[Item]:
    corner = 1 / math.cos(math.pi / part.sides)
    inner = sizes.inner * to_mm / 2 * corner
    outer = sizes.outer * to_mm / 2 * (corner if part.outline == "polygon" else 1.0)
    for k in range(part.sides):
        a = math.pi / 2 + math.pi / part.sides * (2 * k + 1)
        x, y = math.cos(a), math.sin(a)
        yield Line(GLUE_LINES, (inner * x, inner * y), (outer * x, outer * y))


def _bearing(seat: Seat, to_mm: float) -> Iterator[Item]:
    assert seat.outer_m is not None
    inner, outer = seat.inner_m * to_mm, seat.outer_m * to_mm
    b = seat.bearing
    if b.kind == "rollers":
        assert b.count is not None
        assert b.diameter_m is not None
        d = b.diameter_m * to_mm
        r = (inner + d) / 2
        for k in range(b.count):
            a = math.pi / 2 + 2 * math.pi * k / b.count
            yield Circle(BEARINGS, (r * math.cos(a), r * math.sin(a)), d / 2)
        return
    for D in (inner, outer):
        yield Circle(BEARINGS, (0.0, 0.0), D / 2)
    yield hatch_of("bearing material", _loop("round", 0, outer, outer), _loop("round", 0, inner, inner))


# ---------------------------------------------------------------- dimensions


def _across(size: float, half: float, part: Part, sizes: Sizes, wording: Wording) -> Iterator[Item]:
    """Yield the dimension of the outside, below the section."""
    y = -half - 5.0
    number = wording.length(sizes.outer_side)
    text = {"round": f"Ø{number}", "turned": f"Ø{number}", "polygon": f"{number} A/F"}.get(
        part.outline, number
    )
    for x in (-size / 2, size / 2):
        yield Line(DIAMETERS, (x, -1.0), (x, y - 1.5))
    yield from dimension((-size / 2, y), (size / 2, y))
    yield Text(DIAMETERS, (0.0, y - LEAST_TEXT_MM - 1.2), text, align="centre")


def _up(size: float, half: float, text: str) -> Iterator[Item]:
    x = half + 5.0
    for y in (-size / 2, size / 2):
        yield Line(DIAMETERS, (1.0, y), (x + 1.5, y))
    yield from dimension((x, -size / 2), (x, size / 2))
    yield Text(DIAMETERS, (x + LEAST_TEXT_MM + 1.2, 0.0), text, align="centre", upright=True)


def dimension(start: Point, end: Point) -> Iterator[Item]:
    """Yield a dimension line with an oblique stroke at each end."""
    yield Line(DIAMETERS, start, end)
    for x, y in (start, end):
        yield Line(DIAMETERS, (x - 0.9, y - 0.9), (x + 0.9, y + 0.9))
