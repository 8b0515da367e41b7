"""What the rig file names beside the spar: packing, bearings, the partners' fastening, furling gear, holes to cut."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from ..frozen import dataclass
from ..rig import Bearing, Rig
from .outline import HAIR, Outline


@dataclass(frozen=True)
class Named:
    """Something the file names, with its sizes as they stand there.

    Parameters
    ----------
    group : str
        ``joint``, ``bearing``, ``deck``, ``furling`` or ``hole``.
    name : str
        What it is.
    count : int
        How many.
    sizes_m : tuple of (str, float)
        What each size is, and how much.
    material : str
        Of which material; empty where the file does not say.
    """

    group: str
    name: str
    count: int
    sizes_m: tuple[tuple[str, float], ...]
    material: str = ""


def named_parts(rig: Rig, outline: Outline | None, *, partners_m: float, heel_m: float) -> tuple[Named, ...]:
    """Return bearings, bolts, furling gear and holes of a rig.

    Parameters
    ----------
    rig : Rig
        As read from a rig file.
    outline : Outline or None
        Of a mast that is not laid up itself.
    partners_m, heel_m : float
        Outside of the mast in its two bearings.
    """
    joints = () if outline is None else _joints(rig, outline)
    return (*joints, *_parts(rig, partners_m, heel_m))


def _joints(rig: Rig, outline: Outline) -> Iterator[Named]:
    """Yield what keeps a sleeve tight where the bare tubes leave more than the play that the file has."""
    for number, sleeve in enumerate(rig.mast.sleeve, start=1):
        middles = [
            (run, np.array([(low + high) / 2]))
            for run, heights in outline.between(sleeve.start_m, sleeve.end_m)
            for low, high in pairwise(heights)
        ]
        bores = [float(outline.bore_at(run, z)[0][0]) for run, z in middles]
        outsides = [float(outline.outside_at(run, z)[0][0]) for run, z in middles]
        inside = sleeve.diameter_m < max(outsides)
        gap = (
            max(bores) - sleeve.diameter_m
            if inside
            else sleeve.diameter_m - 2 * sleeve.wall_m - min(outsides)
        )
        if sleeve.play_m is not None and gap > sleeve.play_m + HAIR:
            sizes = (("height", sleeve.start_m), ("length", sleeve.end_m - sleeve.start_m))
            gaps = (("bare tubes apart by, on the diameter", gap), ("play left", sleeve.play_m))
            yield Named("joint", f"packing of the joint of mast.sleeve[{number - 1}]", 1, (*sizes, *gaps))


def _parts(rig: Rig, partners_m: float, heel_m: float) -> Iterator[Named]:
    bearings, on_post = rig.bearings, rig.mast.post is not None
    # a mast on a post turns with its own bore round it
    yield from _bearing("top of the post" if on_post else "partners", bearings.partners, partners_m, on_post)
    yield from _bearing("step", bearings.step, heel_m, on_post)
    thrust = rig.bearings.step.thrust
    if thrust is not None:
        sizes = [("outside", thrust.outer_m)]
        if thrust.form != "flat" and thrust.inner_m:
            sizes.append(("inside", thrust.inner_m))
        yield Named("bearing", f"step, {thrust.form} face for the weight", 1, tuple(sizes))
    deck = rig.deck
    if deck is not None:
        yield Named(
            "deck", "pad under the partners", 1, (("length", deck.pad_length_m), ("width", deck.pad_width_m))
        )
        bolts = (("diameter", deck.bolt_diameter_m), ("on a circle of", deck.bolt_circle_m))
        yield Named(
            "deck", "bolt through the pad", deck.bolts, (*bolts, ("through a deck of", deck.thickness_m))
        )
    furling = rig.furling
    if furling is not None:
        drum = (("diameter", furling.drum_diameter_m), ("width", furling.drum_width_m))
        yield Named("furling", "drum", 1, drum)
        yield Named("furling", "line", 1, (("diameter", furling.line_diameter_m),))
    for opening in rig.mast.opening:
        length = opening.width_m if opening.length_m is None else opening.length_m
        yield Named(
            "hole",
            "round hole in the tube" if length == opening.width_m else "slot in the tube",
            1,
            (("height", opening.height_m), ("width", opening.width_m), ("length", length)),
        )


def _bearing(name: str, bearing: Bearing, journal_m: float, on_post: bool) -> Iterator[Named]:
    sizes: list[tuple[str, float | None]] = [("length", bearing.length_m)]
    what, count = "ring that presses on the mast", 1
    match bearing.kind:
        case None if bearing.length_m is None:
            return
        case "plain":
            what = "bush"
            sizes += [("wall", bearing.wall_m), ("clearance", bearing.clearance_m)]
        case "rollers":
            what, count = "roller", bearing.count or 0
            sizes += [("diameter", bearing.diameter_m), ("pin", bearing.pin_m)]
    sizes.append(("for a mast of", None if on_post else journal_m))
    yield Named(
        "bearing",
        f"{name}, {what}",
        count,
        tuple((of, size) for of, size in sizes if size is not None),
        bearing.material or "",
    )
