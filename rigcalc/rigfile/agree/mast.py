"""Rules for the mast and its metals."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from ...errors import Problem
from ...materials import MaterialError, family_of, metal_rows
from ...rig import open_steps
from ...rig.materials import METAL, TIMBER
from ..loose import Loose
from .laid import is_laid, laid_mast_rules, sheath_rules
from .laminates import Judged
from .materials import UNREAD, families, names_of, no_tube
from .post import post_fit_rules, post_rules
from .say import HAIR, mm
from .stations import sizes_between, station_rules, wall_of, wear_rules

LARGEST_PLAY = 0.02
"""Play of a sleeve over the mast's diameter beyond which it is not taken to touch."""
LARGEST_HOLE = 0.4
"""Width over diameter at which the stress factors of a hole end."""


def mast_rules(mast: Loose, own: Sequence[Loose], laminates: Sequence[Judged] = ()) -> Iterator[Problem]:
    """Yield what is wrong with the mast and what stands on it."""
    if mast.has("length_m", "bury_m") and mast.bury_m >= mast.length_m:
        yield Problem(
            "mast.bury",
            f"{mast.bury_m:.4g} m",
            f"it must be less than the length, {mast.length_m:.4g} m",
            "The bury is the part below the partners.",
        )
    if mast.has("length_m"):
        yield from _heights(mast)
    if mast.has("shape"):
        yield from _round_only(mast)
    yield from post_rules(mast)
    yield from sheath_rules(mast, laminates)
    stations = mast.get("stations", ())
    if is_laid(mast, laminates):
        yield from laid_mast_rules(mast, own, laminates)
    elif (
        stations
        and all(s.has("height_m", "diameter_m", "breadth_m", "bore_m", "wall_m") for s in stations)
        and mast.has("length_m", "material", "shape", "wall_loss_m")
    ):
        sizes_agree = True
        for problem in station_rules(mast, own):
            sizes_agree = False
            yield problem
        if sizes_agree:
            yield from wear_rules(mast)
            yield from _materials(mast, own, laminates)
            yield from post_fit_rules(mast, _bores(mast))
            yield from _nesting(mast)
            yield from _openings(mast)
            yield from _joints(mast)


def _round_only(mast: Loose) -> Iterator[Problem]:
    """Sleeves and holes are known in round tubes alone."""
    if mast.shape == "round":
        return
    for key, what in (
        ("sleeve", "a sleeve is a round tube"),
        ("opening", "stress at a hole is known in a round tube"),
    ):
        if mast.get(key):
            yield Problem(
                f"mast.{key}",
                "",
                f'{what}, and shape = "{mast.shape}"',
                "Take it out, and have it worked out by other means.",
            )


def _heights(mast: Loose) -> Iterator[Problem]:
    """Everything placed on the mast must lie on it."""
    places = [
        *((s.path, "end", s.get("end_m")) for s in mast.get("sleeve", ())),
        *((o.path, "height", o.get("height_m")) for o in mast.get("opening", ())),
        *((w.path, "height", w.get("height_m")) for w in mast.get("weld", ())),
        ("mast", "fittings_height", mast.get("fittings_height_m")),
    ]
    for path, key, height in places:
        if height is not None and height > mast.length_m * (1 + HAIR):
            yield Problem(
                f"{path}.{key}",
                f"{height:.4g} m",
                f"it is above the tip, {mast.length_m:.4g} m",
                "Heights are z from the heel.",
            )
    for s in mast.get("sleeve", ()):
        if s.has("start_m", "end_m") and s.start_m >= s.end_m:
            yield Problem(
                f"{s.path}.start",
                f"{s.start_m:.4g} m",
                f"it must be below the end, {s.end_m:.4g} m",
                "Are the two swapped?",
            )
        if s.has("diameter_m", "wall_m") and s.wall_m >= s.diameter_m / 2:
            yield Problem(
                f"{s.path}.wall",
                mm(s.wall_m),
                f"it fills the diameter of {mm(s.diameter_m)}",
                "A wall is less than half the diameter.",
            )


def _materials(mast: Loose, own: Sequence[Loose], laminates: Sequence[Judged]) -> Iterator[Problem]:
    walls = [wall_of(s) for s in mast.stations]
    parts = [("mast.material", mast.material, min(walls), max(walls))]
    for s in mast.get("sleeve", ()):
        if s.has("material", "wall_m"):
            where = f"{s.path}.{'wall' if s.material is None else 'material'}"
            parts.append((where, s.material or mast.material, s.wall_m, s.wall_m))
    post = mast.get("post")
    if post is not None and post.has("diameter_m", "top_diameter_m", "wall_m", "material"):
        sizes = [post.diameter_m / 2, (post.top_diameter_m or post.diameter_m) / 2]
        walls = sizes if post.wall_m is None else [post.wall_m]
        where = "wall" if post.material is None else "material"
        parts.append((f"mast.post.{where}", post.material or mast.material, min(walls), max(walls)))
    for path, name, thinnest, thickest in parts:
        welded = None
        try:
            made = family_of(name, own=families(own), laminates=names_of([one.laminate for one in laminates]))
            if made in (TIMBER, UNREAD):
                continue  # judged with the other timber, or told already
            if made != METAL:
                yield no_tube(path, name, made)
                continue
            mine = next((m for m in own if m.get("name") == name), None)
            if mine is not None:
                welded = mine.get("welded_proof_Pa")
            else:
                welded = metal_rows(name, thinnest_m=thinnest, thickest_m=thickest)[0].haz_proof_Pa
        except MaterialError as error:
            yield Problem(path, f'"{error.name}"', error.problem, error.remedy)
            continue
        if welded is None and _is_welded(mast, path):
            yield Problem(
                path,
                f'"{name}"',
                "its strength beside a weld is not known here",
                "Leave the weld out, or give a [[material]] with welded_proof and welded_ultimate.",
            )


def _is_welded(mast: Loose, path: str) -> bool:
    """Whether a weld softens the part of the mast whose material stands at a path."""
    welds = [w for w in mast.get("weld", ()) if w.has("height_m", "extent_m")]
    sleeve = next((s for s in mast.get("sleeve", ()) if path.startswith(s.path)), None)
    if sleeve is None or not sleeve.has("start_m", "end_m"):
        return bool(welds)
    return any(
        sleeve.start_m < w.height_m + w.extent_m and w.height_m - w.extent_m < sleeve.end_m for w in welds
    )


def _joints(mast: Loose) -> Iterator[Problem]:
    """Tubes of different size that meet end to end must be joined."""
    sleeves = [s for s in mast.get("sleeve", ()) if s.has("start_m", "end_m")]
    steps = open_steps(mast.stations)
    for i, (low, high) in enumerate(pairwise(mast.stations)):
        z = low.height_m
        spanned = any(s.start_m < z <= s.end_m or s.start_m <= z < s.end_m for s in sleeves)
        if high.height_m == z and z in steps and not spanned:
            yield Problem(
                f"mast.stations[{i + 1}].diameter",
                mm(high.diameter_m),
                f"nothing joins it to the tube below, {mm(low.diameter_m)}: their walls do not meet",
                "Add the [[mast.sleeve]] that joins them, such as the tail of the inner tube inside the outer.",
            )


def _bores(mast: Loose) -> list[tuple[float, float]]:
    """Return (height, bore) along the part of the mast that stands over a post, sleeves inside counted."""
    if not mast.has("bury_m") or mast.get("post") is None:
        return []
    heights = sorted({0.0, mast.bury_m, *(s.height_m for s in mast.stations if s.height_m < mast.bury_m)})
    inside = [s for s in mast.get("sleeve", ()) if s.has("start_m", "end_m", "diameter_m", "wall_m")]
    found = []
    for z in heights:
        sizes = sizes_between(mast.stations, z, z)
        outer, bore = max(D for D, _ in sizes), min(bore for _, bore in sizes)
        tails = [
            s.diameter_m - 2 * s.wall_m for s in inside if s.start_m <= z <= s.end_m and s.diameter_m < outer
        ]
        found.append((z, min(bore, *tails) if tails else bore))
    return found


def _nesting(mast: Loose) -> Iterator[Problem]:
    """Tubes at one height must lie inside one another."""
    sleeves = [s for s in mast.get("sleeve", ()) if s.has("start_m", "end_m", "diameter_m", "wall_m")]
    for i, s in enumerate(sleeves):
        own = (s.diameter_m, s.diameter_m - 2 * s.wall_m)
        sizes = sizes_between(mast.stations, s.start_m, s.end_m)
        if sizes:
            most, least = max(d for d, _ in sizes), min(bore for _, bore in sizes)
            if own[0] > least + HAIR and own[1] < most - HAIR:
                yield Problem(
                    f"{s.path}.diameter",
                    mm(own[0]),
                    f"it fits neither inside the mast, bored to {mm(least)} there, nor over it, up to {mm(most)}",
                    "Change its size, or the stretch it covers.",
                )
            else:
                inside = own[0] <= least + HAIR
                plays = [bore - own[0] if inside else own[1] - outside for outside, bore in sizes]
                joins = any(s.start_m < z < s.end_m for z in open_steps(mast.stations))
                yield from _loose(s, plays, LARGEST_PLAY * most, joins)
        for other in sleeves[:i]:
            apart = s.end_m <= other.start_m or other.end_m <= s.start_m
            bore = other.diameter_m - 2 * other.wall_m
            if not apart and own[0] > bore + HAIR and own[1] < other.diameter_m - HAIR:
                yield Problem(
                    f"{s.path}.diameter",
                    mm(own[0]),
                    f"it runs into the sleeve of {mm(other.diameter_m)}",
                    "Sleeves at one height must lie inside one another.",
                )


def _loose(s: Loose, bare: Sequence[float], most: float, joins: bool) -> Iterator[Problem]:
    """Yield where a sleeve has too much play, or is said to have more than there is.

    In a tube that tapers it may touch at the narrow end alone; where it joins two lengths it must touch both.
    """
    packed = s.get("play_m")
    play = (max(bare) if joins else min(bare)) if packed is None else packed
    if play > most:
        yield Problem(
            f"{s.path}.{'diameter' if packed is None else 'play'}",
            mm(s.diameter_m if packed is None else packed),
            f"it has {mm(play)} of play: tubes that do not touch do not share their load",
            'Pack it, and give the play that is left: play = "0.2 mm".',
        )
    elif packed is not None and packed > max(bare) + HAIR:
        yield Problem(
            f"{s.path}.play",
            mm(packed),
            f"the bare tubes have {mm(max(bare))}",
            "Packing takes play away: check the sizes.",
        )


def _openings(mast: Loose) -> Iterator[Problem]:
    for o in mast.get("opening", ()):
        if not o.has("height_m", "width_m", "length_m"):
            continue
        sizes = sizes_between(mast.stations, o.height_m, o.height_m)
        if sizes and o.width_m > LARGEST_HOLE * min(d for d, _ in sizes) * (1 + HAIR):
            yield Problem(
                f"{o.path}.width",
                mm(o.width_m),
                f"stress at a hole is known here up to {LARGEST_HOLE:g} of the diameter, "
                f"{mm(LARGEST_HOLE * min(d for d, _ in sizes))}",
                "Make it narrower, or have it worked out by other means.",
            )
        if o.length_m is not None and o.length_m < o.width_m:
            yield Problem(
                f"{o.path}.length",
                mm(o.length_m),
                f"a slot across the mast, {mm(o.width_m)} wide, raises the stress beyond what is known here",
                "Turn it along the mast, or make it round.",
            )
