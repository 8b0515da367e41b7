"""The mast as what is drawn of it: parts with their sizes along the heights, bearings, and heights worth marking."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import cached_property
from itertools import pairwise
from typing import Final, Literal

from ...frozen import dataclass
from ...materials import family_of
from ...rig import Bearing, Mast, Plies, Rig
from ...structure.made_of import Metals
from ...structure.sections import Layer
from ...structure.shapes import Shape
from ...verdict.model import build_sections
from .scene import MAST, PLUGS, POST, SHEATHS, SLEEVES
from .scene import Layer as SheetLayer
from .wording import Wording

Outline = Literal["round", "polygon", "turned", "box", "ellipse"]
HAIR: Final = 1e-9
_LAYERS: Final = {"tube": MAST, "sleeve": SLEEVES, "plug": PLUGS, "sheath": SHEATHS, "post": POST}
_FAMILIES: Final = {"Metals": "metal", "Timber": "timber", "Laid": "laminate", "Foam": "foam"}


@dataclass(frozen=True)
class Sizes:
    """Sizes at one height: outside and bore, fore and aft and from side to side; no bore is zero."""

    outer: float
    inner: float
    outer_side: float
    inner_side: float

    @property
    def solid(self) -> bool:
        return self.inner == 0.0


@dataclass(frozen=True)
class Run:
    """A stretch of a part between whose ends every size runs straight."""

    start_m: float
    end_m: float
    at_start: Sizes
    at_end: Sizes

    def at(self, z_m: float) -> Sizes:
        """Return the sizes at a height."""
        share = (z_m - self.start_m) / (self.end_m - self.start_m)
        a, b = self.at_start, self.at_end
        return Sizes(*(p + share * (q - p) for p, q in zip(_values(a), _values(b), strict=True)))


@dataclass(frozen=True)
class Part:
    """One tube, bar or filling.

    Parameters
    ----------
    name : str
        ``tube``, ``sleeve 1``, ``plug 1``, ``sheath 1`` or ``post``.
    material, family : str
        What it is of, and what kind of material that is.
    outline : str
        Shape of its outside; that of the bore is a polygon where the outside was turned.
    sides : int
        Of a polygon.
    runs : tuple of Run
        From its lower end to its upper.
    """

    name: str
    material: str
    family: str
    outline: Outline
    sides: int
    runs: tuple[Run, ...]

    @property
    def layer(self) -> SheetLayer:
        """Layer of the drawing it lies on."""
        return _LAYERS[self.name.split()[0]]

    @property
    def called(self) -> str:
        """What a builder calls it."""
        if self.name != "tube":
            return self.name
        if self.outline in ("polygon", "turned"):
            return "staves"
        return "spar" if all(run.at_start.solid for run in self.runs) else "tube"

    @property
    def mirrored(self) -> bool:
        """Whether it is hatched the other way round, to stand out beside the tube."""
        return self.name != "tube"

    @property
    def start_m(self) -> float:
        return self.runs[0].start_m

    @property
    def end_m(self) -> float:
        return self.runs[-1].end_m

    def wall_m(self, sizes: Sizes) -> float:
        """Return the wall at its thinnest, as a rig file has it; half the size of a bar."""
        if self.outline == "turned" and not sizes.solid:  # thinnest at the corners of the bore
            return (sizes.outer - sizes.inner / math.cos(math.pi / self.sides)) / 2
        return min(sizes.outer - sizes.inner, sizes.outer_side - sizes.inner_side) / 2

    def said(self, sizes: Sizes, wording: Wording) -> str:
        """Return outside and wall in words and numbers."""
        size = wording.length
        match self.outline:
            case "round" | "turned":
                outside = f"Ø{size(sizes.outer)}"
            case "polygon":
                outside = f"{size(sizes.outer)} A/F"
            case _:
                outside = f"{size(sizes.outer)} by {size(sizes.outer_side)}"
        return f"{outside} solid" if sizes.solid else f"{outside} × {size(self.wall_m(sizes))}"

    def below(self, z_m: float) -> Sizes | None:
        """Return the sizes just below a height; None where there is nothing."""
        return next((r.at(z_m) for r in self.runs if r.start_m + HAIR < z_m <= r.end_m + HAIR), None)

    def above(self, z_m: float) -> Sizes | None:
        """Return the sizes just above a height; None where there is nothing."""
        return next((r.at(z_m) for r in self.runs if r.start_m - HAIR <= z_m < r.end_m - HAIR), None)

    def around(self, z_m: float) -> Sizes | None:
        """Return the sizes at a height: those above it, or at the upper end those below."""
        return self.above(z_m) or self.below(z_m)


@dataclass(frozen=True)
class Seat:
    """A bearing as it is drawn.

    Parameters
    ----------
    name : str
        ``partners`` or ``step``.
    height_m : float
        Of its middle.
    bearing : Bearing
        As the rig file describes it.
    inner_m, outer_m : float or None
        Of a bush: its bore, and its outside where its thickness is known. Of rollers: the circles they lie between.
    inside : bool
        Whether it stands inside the mast, on a post.
    """

    name: str
    height_m: float
    bearing: Bearing
    inner_m: float
    outer_m: float | None
    inside: bool

    @property
    def kind(self) -> str:
        """What it is called."""
        return {"plain": "bush", "rollers": "rollers"}.get(self.bearing.kind or "", "bearing")

    @property
    def ends_m(self) -> tuple[float, float]:
        """Heights of its lower and upper end; both its middle where no length is given."""
        half = (self.bearing.length_m or 0.0) / 2
        return self.height_m - half, self.height_m + half


@dataclass(frozen=True)
class Mark:
    """A height that a builder marks out, and why."""

    height_m: float
    why: str = ""


@dataclass(frozen=True)
class Profile:
    """All that is drawn of a mast.

    Parameters
    ----------
    rig : Rig
        As the file describes it.
    parts : tuple of Part
        The tube first.
    seats : tuple of Seat
        Step and partners.
    density_kg_m3 : float
        Of the tube.
    """

    rig: Rig
    parts: tuple[Part, ...]
    seats: tuple[Seat, ...]

    @property
    def mast(self) -> Mast:
        return self.rig.mast

    @property
    def tube(self) -> Part:
        return self.parts[0]

    @property
    def lowest_m(self) -> float:
        """Lowest height with anything to draw."""
        return min(*(p.start_m for p in self.parts), *(s.ends_m[0] for s in self.seats))

    @property
    def highest_m(self) -> float:
        return self.mast.length_m

    @property
    def widest_m(self) -> float:
        """Largest size fore and aft of anything drawn along the mast."""
        sizes = [s.outer for p in self.parts for r in p.runs for s in (r.at_start, r.at_end)]
        return max(*sizes, *(seat.outer_m or 0.0 for seat in self.seats))

    def there(self, z_m: float) -> tuple[Part, ...]:
        """Return the parts at a height."""
        return tuple(p for p in self.parts if p.around(z_m) is not None)

    @cached_property
    def marks(self) -> tuple[Mark, ...]:
        """Every height to mark out, from below, each once."""
        why: dict[float, list[str]] = {}
        for mark in self._all_marks():
            known = next((z for z in why if abs(z - mark.height_m) < HAIR), mark.height_m)
            found = why.setdefault(known, [])
            if mark.why and mark.why not in found:
                found.append(mark.why)
        return tuple(Mark(z, ", ".join(why[z])) for z in sorted(why))

    @cached_property
    def size_heights_m(self) -> tuple[float, ...]:
        """Heights at which the size of the tube is written: its stations, its ends, its partners."""
        kinks = {r.start_m for r in self.tube.runs} | {self.tube.end_m, self.mast.bury_m}
        kinks |= {s.height_m for s in self.mast.stations}
        found: list[float] = []
        for z in sorted(kinks):
            if not found or z - found[-1] > HAIR:
                found.append(z)
        return tuple(found)

    def _all_marks(self) -> Iterator[Mark]:
        mast = self.mast
        yield Mark(0.0, "heel")
        yield Mark(mast.bury_m, "partners")
        yield Mark(mast.length_m, "tip")
        yield from (Mark(z) for z in self.size_heights_m)
        for part in self.parts[1:]:
            if part.start_m != 0.0 or part.name != "post":
                yield Mark(part.start_m, f"{part.name} from")
            yield Mark(part.end_m, f"{part.name} to")
        for i, plug in enumerate(mast.plug, start=1):
            for z in tail_ends(mast, i - 1):
                if not (abs(z - plug.start_m) < HAIR or abs(z - plug.end_m) < HAIR):
                    yield Mark(z, f"tail of plug {i}")
        for i, opening in enumerate(mast.opening, start=1):
            yield Mark(opening.height_m, f"opening {i}")
        for i, weld in enumerate(mast.weld, start=1):
            yield Mark(weld.height_m, f"weld {i}")
        for lot, low, high in self._lots():
            if low < lot.start_m < high:
                yield Mark(lot.start_m, "plies begin")
            if lot.end_m is not None and low < lot.end_m < high:
                yield Mark(lot.end_m, "plies end")

    def _lots(self) -> Iterator[tuple[Plies, float, float]]:
        """Yield the plies on the mast with the ends of what they are part of."""
        laid = {laminate.name: laminate.plies for laminate in self.rig.laminates}
        for lot in laid.get(self.mast.material, ()):
            yield lot, 0.0, self.mast.length_m
        for sheath in self.mast.sheath:
            for lot in laid[sheath.laminate]:
                yield lot, sheath.start_m, sheath.end_m

    @property
    def stretches_m(self) -> list[tuple[float, float]]:
        """What a view along the mast must show without a break: things with a length of their own, and marks."""
        mast = self.mast
        return [
            *((m.height_m, m.height_m) for m in self.marks),
            *(seat.ends_m for seat in self.seats),
            *(
                (o.height_m - (o.length_m or o.width_m) / 2, o.height_m + (o.length_m or o.width_m) / 2)
                for o in mast.opening
            ),
            *((w.height_m - w.extent_m, w.height_m + w.extent_m) for w in mast.weld),
        ]


def profile_of(rig: Rig) -> Profile:
    """Return what is drawn of the mast of a rig."""
    sections = build_sections(rig, [])
    parts = [_part(layer, rig, sections.mesh.edges_m.tolist()) for layer in sections.layers]
    post = _post(rig)
    if post is not None:
        parts.append(post)
    seats = tuple(
        _seat(name, z, bearing, parts, post)
        for name, z, bearing in (
            ("step", 0.0, rig.bearings.step),
            ("partners", rig.mast.bury_m, rig.bearings.partners),
        )
    )
    return Profile(rig, tuple(parts), seats)


def tail_ends(mast: Mast, index: int) -> tuple[float, float]:
    """Return the heights to which the tails of a plug reach; there is none at an end of the mast."""
    plug = mast.plug[index]
    low = plug.start_m if plug.start_m <= HAIR else max(plug.start_m - plug.tail_m, 0.0)
    high = plug.end_m if plug.end_m >= mast.length_m - HAIR else min(plug.end_m + plug.tail_m, mast.length_m)
    return low, high


def _part(layer: Layer, rig: Rig, edges_m: list[float]) -> Part:
    shape: Shape = layer.as_new
    columns = [
        getattr(shape, name)[:, [0, -1]].tolist()
        for name in ("outer_forward_m", "inner_forward_m", "outer_side_m", "inner_side_m")
    ]
    runs: list[Run] = []
    for i, (low, high) in enumerate(pairwise(edges_m)):
        if layer.present[i, 0]:
            start, end = (Sizes(*(column[i][k] for column in columns)) for k in (0, 1))
            runs.append(Run(low, high, start, end))
    return Part(
        layer.name,
        layer.made_of.name if isinstance(layer.made_of, Metals) else _named(layer.name, rig),
        _FAMILIES[type(layer.made_of).__name__],
        shape.kind,
        shape.sides,
        tuple(_joined(runs)),
    )


def _named(name: str, rig: Rig) -> str:
    """Return the material of a part as the rig file names it."""
    mast = rig.mast
    kind, _, number = name.partition(" ")
    if kind == "plug":
        return mast.plug[int(number) - 1].material or mast.material
    if kind == "sheath":
        return mast.sheath[int(number) - 1].laminate
    if kind == "sleeve":
        return mast.sleeve[int(number) - 1].material or mast.material
    return mast.material


def _joined(runs: list[Run]) -> Iterator[Run]:
    """Join stretches that go on as straight as before."""
    held: Run | None = None
    for run in runs:
        if held is None:
            held = run
            continue
        together = replace(held, end_m=run.end_m, at_end=run.at_end)
        meets = all(
            abs(a - b) < HAIR
            for at, sizes in ((held.end_m, held.at_end), (run.start_m, run.at_start))
            for a, b in zip(_values(together.at(at)), _values(sizes), strict=True)
        )
        if abs(held.end_m - run.start_m) < HAIR and meets:
            held = together
        else:
            yield held
            held = run
    if held is not None:
        yield held


def _values(sizes: Sizes) -> tuple[float, float, float, float]:
    return sizes.outer, sizes.inner, sizes.outer_side, sizes.inner_side


def _post(rig: Rig) -> Part | None:
    mast = rig.mast
    if mast.support != "post" or mast.post is None:
        return None
    post = mast.post
    sizes = []
    for D in (post.diameter_m, post.top_diameter_m or post.diameter_m):
        bore = 0.0 if post.wall_m is None else D - 2 * post.wall_m
        sizes.append(Sizes(D, bore, D, bore))
    runs = [Run(0.0, mast.bury_m, *sizes)]
    if post.socket_m is not None:
        runs.insert(0, Run(-post.socket_m, 0.0, sizes[0], sizes[0]))
    name = post.material or mast.material
    own = {m.name: m.family for m in rig.materials}
    family = family_of(name, own=own, laminates=[laminate.name for laminate in rig.laminates])
    return Part("post", name, family, "round", 0, tuple(_joined(runs)))


def _seat(name: str, z_m: float, bearing: Bearing, parts: list[Part], post: Part | None) -> Seat:
    """Return a bearing round the mast and whatever covers it, or inside it and whatever lines it."""
    found = [s for p in parts if p is not post for s in (p.below(z_m), p.above(z_m)) if s is not None]
    if post is not None:
        inner = post.around(z_m)
        assert inner is not None
        bore = min(sizes.inner for sizes in found)
        return Seat(name, z_m, bearing, inner.outer, bore, inside=True)
    across = bearing.diameter_m if bearing.kind == "rollers" else bearing.wall_m
    bore = max(sizes.outer for sizes in found) + (bearing.clearance_m or 0.0)
    return Seat(name, z_m, bearing, bore, None if across is None else bore + 2 * across, inside=False)
