"""Rules for what a search may change."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ...errors import Problem
from ..loose import Loose
from .materials import family, names_of
from .say import mm

FAMILIES = ("metal", "timber", "ply", "laminate")


def sizing_rules(
    sizing: Loose, mast: Loose | None, own: Sequence[Loose], laminates: Sequence[Loose]
) -> Iterator[Problem]:
    """Yield what does not go together in what a search may change.

    Parameters
    ----------
    sizing : Loose
        The table.
    mast : Loose or None
        The spar it is for.
    own, laminates : sequence of Loose
        The user's own materials and laminates.
    """
    yield from _bounds(sizing)
    for i, name in enumerate(sizing.get("materials", ())):
        for part in name.split("+"):
            yield from _known(f"size.materials[{i}]", part.strip(), own, laminates)
        if name.count("+") > 1:
            yield Problem(
                f"size.materials[{i}]",
                f'"{name}"',
                "two materials make a mast at the most",
                "Name a timber and a ply.",
            )
    if sizing.has("price"):
        seen: set[str] = set()
        for price in sizing.price:
            if price.has("material"):
                if price.material in seen:
                    yield Problem(
                        f"{price.path}.material", f'"{price.material}"', "it has a price already", "Keep one."
                    )
                seen.add(price.material)
    if mast is not None:
        yield from _heights(sizing, mast)


def _bounds(sizing: Loose) -> Iterator[Problem]:
    for small, large in (("smallest_diameter", "largest_diameter"), ("smallest_tip", "largest_tip")):
        low, high = sizing.get(f"{small}_m"), sizing.get(f"{large}_m")
        if low is not None and high is not None and low > high:
            yield Problem(
                f"size.{small}", mm(low), f"it is above size.{large}, {mm(high)}", "Are the two swapped?"
            )
    wall, least = sizing.get("smallest_wall_m"), sizing.get("largest_diameter_m")
    if wall is not None and least is not None and 2 * wall >= least:
        yield Problem(
            "size.smallest_wall",
            mm(wall),
            f"no mast of {mm(least)} has so thick a wall",
            "Is the unit right?",
        )


def _known(path: str, name: str, own: Sequence[Loose], laminates: Sequence[Loose]) -> Iterator[Problem]:
    if family(name, own, names_of(laminates)) not in FAMILIES:
        yield Problem(
            path,
            f'"{name}"',
            "there is no metal, timber, ply or laminate of this name",
            "`rigcalc materials` lists what there is.",
        )


def _heights(sizing: Loose, mast: Loose) -> Iterator[Problem]:
    if not mast.has("length_m", "bury_m"):
        return
    partners_m = max(sizing.get("bury_m") or (mast.bury_m,))
    for key, low, high, between in (
        ("bury", 0.0, mast.length_m, "heel and tip"),
        ("heights", partners_m, mast.length_m, "partners and tip"),
    ):
        heights = sizing.get(f"{key}_m") or ()
        for i, z in enumerate(heights):
            if not low < z < high:
                yield Problem(
                    f"size.{key}[{i}]",
                    f"{z:g} m",
                    f"it does not lie between {between}",
                    "Give it above the heel.",
                )
