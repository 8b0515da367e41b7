"""Rules for a mast made of a laminate, and for sheaths of laminate on any mast."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from ...errors import Problem
from ...materials import MaterialError, family_of, metal_rows
from ...materials.laminates import LayUp
from ...rig.materials import METAL
from ..loose import Loose
from .laminates import Judged
from .materials import UNREAD, families, names_of, no_tube
from .post import post_fit_rules
from .say import HAIR, mm, name_known
from .stations import height_rules


def is_laid(mast: Loose, laminates: Sequence[Judged]) -> bool:
    """Whether the mast itself is made of one of the laminates."""
    return mast.get("material") in names_of([one.laminate for one in laminates])


def _lay_ups(laminates: Sequence[Judged]) -> dict[str, LayUp]:
    """Return what the laminates with nothing wrong in them lay up, by name."""
    return {one.laminate.name: one.lay_up for one in laminates if one.lay_up is not None}


def laid_mast_rules(mast: Loose, own: Sequence[Loose], laminates: Sequence[Judged]) -> Iterator[Problem]:
    """Yield what is wrong with a mast made of a laminate."""
    yield from _round_tube_alone(mast)
    yield from _post(mast, own, names_of([one.laminate for one in laminates]))
    stations = mast.get("stations", ())
    sizes = ("height_m", "diameter_m", "breadth_m", "bore_m", "wall_m")
    if not (stations and all(s.has(*sizes) for s in stations) and mast.has("length_m")):
        return
    wrong = [*height_rules(stations, mast.length_m), *_sizes(stations)]
    yield from wrong
    made = _lay_ups(laminates).get(mast.material)
    if made is not None:
        bare = list(_covered(made, mast.path, "material", 0.0, mast.length_m))
        yield from bare
        if not wrong and not bare:
            yield from _fits(mast, made)


def _round_tube_alone(mast: Loose) -> Iterator[Problem]:
    """Yield what no laminated tube can have here."""
    shape = mast.get("shape", "round")
    if shape != "round":
        yield Problem(
            "mast.shape",
            f'"{shape}"',
            "how a laminated wall buckles is known in a round tube alone",
            'Give shape = "round", or sheathe a mast of another material with [[mast.sheath]].',
        )
    for key, what, remedy in (
        ("sleeve", "a sleeve in a laminate is not worked out", "Lay it up as a [[mast.sheath]]."),
        ("opening", "stress at a hole in a laminate is not known here", "Have it worked out by other means."),
        ("weld", "a laminate is not welded", "Take it out."),
    ):
        if mast.get(key):
            yield Problem(f"mast.{key}", "", what, remedy)


def _sizes(stations: Sequence[Loose]) -> Iterator[Problem]:
    """Yield a problem unless all stations give the bore, or all the outside."""
    on_mandrel = stations[0].bore_m is not None
    for s in stations:
        if s.wall_m is not None:
            yield Problem(
                f"{s.path}.wall",
                mm(s.wall_m),
                "the wall of a laminate follows from its plies",
                "Take it out; `rigcalc laminate FILE` tells the wall.",
            )
        if s.breadth_m is not None:
            yield Problem(
                f"{s.path}.breadth", mm(s.breadth_m), "a round tube has one size", "Take the key out."
            )
        if (s.bore_m is None) == (s.diameter_m is None) or (s.bore_m is not None) != on_mandrel:
            yield Problem(
                s.path,
                "",
                "every station of a laminate gives its bore, or every one its outside diameter",
                'Give bore = "90 mm", the mandrel, or diameter = "100 mm", at each.',
            )
    for low, high in pairwise(stations):
        if low.height_m == high.height_m:
            yield Problem(
                f"{high.path}.height",
                f"{high.height_m:.4g} m",
                "a tube laid up in one has no step",
                "Taper it over a short height instead.",
            )


def _covered(made: LayUp, path: str, key: str, start: float, end: float) -> Iterator[Problem]:
    for low, high in made.bare_m(start, end):
        yield Problem(
            f"{path}.{key}",
            f'"{made.name}"',
            f"it has no ply from z = {low:.4g} to {high:.4g} m",
            "Let a ply run through, or leave its start and end out.",
        )


def _fits(mast: Loose, made: LayUp) -> Iterator[Problem]:
    """Yield a problem where the plies fill the tube, or a post does not go in."""
    on_mandrel = mast.stations[0].bore_m is not None
    heights = [s.height_m for s in mast.stations]
    sizes = [s.bore_m if on_mandrel else s.diameter_m for s in mast.stations]
    bores: list[tuple[float, float]] = []
    for low, high in made.stretches_m(0.0, mast.length_m):
        wall = 0.0 if on_mandrel else float(made.at([(low + high) / 2]).wall_m[0, 0])
        at = sorted({low, high, *(z for z in heights if low < z < high)})
        size = np.interp(at, heights, sizes)
        bores += zip(at, (size - 2 * wall).tolist(), strict=True)
        if np.min(size) <= 2 * wall + HAIR:
            yield Problem(
                "mast.stations",
                mm(float(np.min(size))),
                f"the plies from z = {low:.4g} to {high:.4g} m, {mm(wall)} in all, fill this diameter",
                "Give the bore instead, or end some plies below.",
            )
    if mast.has("bury_m"):
        inside = [(z, bore) for z, bore in bores if z < mast.bury_m]
        at, size = np.array(bores).T
        top = float(np.interp(mast.bury_m, at, size))
        yield from post_fit_rules(mast, [*inside, (mast.bury_m, top)])


def _post(mast: Loose, own: Sequence[Loose], laid: Sequence[str]) -> Iterator[Problem]:
    """Yield what is wrong with the material of a post inside a laminate: it is a metal, and not the mast's own."""
    post = mast.get("post")
    if post is None or not post.has("diameter_m", "top_diameter_m", "wall_m", "material"):
        return
    where = "mast.post.material"
    if post.material is None:
        yield Problem(where, "", "a post is not made of laminate", 'Add material = "6061-T6 drawn", say.')
        return
    size = post.diameter_m / 2 if post.wall_m is None else post.wall_m
    try:
        made = family_of(post.material, own=families(own), laminates=laid)
        if made not in (METAL, UNREAD):
            yield no_tube(where, post.material, made)
        elif post.material not in families(own):
            metal_rows(post.material, thinnest_m=size, thickest_m=size)
    except MaterialError as error:
        yield Problem(where, f'"{error.name}"', error.problem, error.remedy)


def sheath_rules(mast: Loose, laminates: Sequence[Judged]) -> Iterator[Problem]:
    """Yield what is wrong with the sheaths of a mast."""
    sheaths = [s for s in mast.get("sheath", ()) if s.has("start_m", "end_m", "laminate", "side")]
    if not sheaths:
        return
    names, made = names_of([one.laminate for one in laminates]), _lay_ups(laminates)
    for i, sheath in enumerate(sheaths):
        yield from name_known(f"{sheath.path}.laminate", sheath.laminate, names, "laminate")
        if sheath.start_m >= sheath.end_m:
            yield Problem(
                f"{sheath.path}.start",
                f"{sheath.start_m:.4g} m",
                f"it must be below the end, {sheath.end_m:.4g} m",
                "Are the two swapped?",
            )
            continue
        if mast.has("length_m") and sheath.end_m > mast.length_m * (1 + HAIR):
            yield Problem(
                f"{sheath.path}.end",
                f"{sheath.end_m:.4g} m",
                f"it is above the tip, {mast.length_m:.4g} m",
                "Heights are z from the heel.",
            )
        yield from _neighbours(mast, sheath, sheaths[:i])
        laid = made.get(sheath.laminate)
        bare = []
        if laid is not None:
            bare = list(_covered(laid, sheath.path, "laminate", sheath.start_m, sheath.end_m))
            yield from bare
        if sheath.side == "inside":
            yield from _inside(mast, sheath, None if bare else laid, is_laid(mast, laminates))


def _neighbours(mast: Loose, sheath: Loose, before: Sequence[Loose]) -> Iterator[Problem]:
    """Yield what lies in the way of a sheath."""
    for other in before:
        if other.side == sheath.side and _overlap(sheath, other):
            yield Problem(
                f"{sheath.path}.start",
                f"{sheath.start_m:.4g} m",
                f"it lies on the sheath from {other.start_m:.4g} to {other.end_m:.4g} m, on the same side",
                "Make one of the two, with plies that start and end.",
            )
    in_the_way = ("sleeve", "plug") if sheath.side == "inside" else ("sleeve",)
    for key in in_the_way:
        for other in mast.get(key, ()):
            if other.has("start_m", "end_m") and _overlap(sheath, other):
                yield Problem(
                    f"{sheath.path}.start",
                    f"{sheath.start_m:.4g} m",
                    f"it meets the {key} from {other.start_m:.4g} to {other.end_m:.4g} m",
                    "Keep them apart, or have it worked out by other means.",
                )
    for hole in mast.get("opening", ()):
        if hole.has("height_m") and sheath.start_m <= hole.height_m <= sheath.end_m:
            yield Problem(
                f"{sheath.path}.start",
                f"{sheath.start_m:.4g} m",
                f"it covers the hole at {hole.height_m:.4g} m, and stress at a hole in a laminate is not known here",
                "Keep them apart, or have it worked out by other means.",
            )


def _overlap(one: Loose, other: Loose) -> bool:
    return bool(one.start_m < other.end_m and other.start_m < one.end_m)


def _inside(mast: Loose, sheath: Loose, made: LayUp | None, in_laminate: bool) -> Iterator[Problem]:
    """Yield why a sheath does not fit the bore."""
    where = f"{sheath.path}.side"
    if in_laminate:
        yield Problem(
            where, '"inside"', "the mast is of laminate itself", "Make it plies of the mast's own laminate."
        )
    elif mast.get("shape", "round") != "round":
        yield Problem(
            where,
            '"inside"',
            f'a sheath is laid in a round bore, and shape = "{mast.shape}"',
            'Give side = "over".',
        )
    elif mast.get("post") is not None and mast.has("bury_m") and sheath.start_m < mast.bury_m:
        yield Problem(where, '"inside"', "the post stands in the bore there", 'Give side = "over".')
    elif made is not None and all(
        s.has("diameter_m", "wall_m") and s.diameter_m is not None for s in mast.get("stations", ())
    ):
        middles = [(low + high) / 2 for low, high in made.stretches_m(sheath.start_m, sheath.end_m)]
        thickest = float(np.max(made.at(middles).wall_m))
        # the narrowest bore of the mast, wherever it is: the safe side
        bore = min(0.0 if s.wall_m is None else s.diameter_m - 2 * s.wall_m for s in mast.stations)
        if bore <= 2 * thickest + HAIR:
            yield Problem(
                where,
                '"inside"',
                f"its plies, {mm(thickest)} in all, do not fit a bore of {mm(bore)}",
                'Give side = "over", or fewer plies.',
            )
