"""Rules for bearings, furling gear and the deck."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ...errors import Problem
from ...materials import bearing_material_names
from ..loose import Loose
from .say import mm, name_known

LARGEST_PLAY = 0.03
"""Clearance over diameter beyond which a mast rattles: plastics are bored to 1.5 to 10 in a thousand (read)."""

_WANTS = {
    "plain": ("material", "length_m", "clearance_m"),
    "rollers": ("material", "length_m", "clearance_m", "count", "diameter_m"),
}


def bearing_rules(rig: Loose) -> Iterator[Problem]:
    """Yield what is wrong with the bearings and what goes with them."""
    mast = rig.get("mast")
    if rig.has("bearings"):
        bearings = rig.bearings
        if bearings.has("partners"):
            yield from _bearing(bearings.partners, _journal(mast, "partners"))
        if bearings.has("step"):
            yield from _bearing(bearings.step, _journal(mast, "step"))
            yield from _thrust(bearings.step.get("thrust"))
        if bearings.has("coldest_degC", "hottest_degC") and bearings.coldest_degC >= bearings.hottest_degC:
            yield Problem(
                "bearings.coldest",
                f"{bearings.coldest_degC:g} degC",
                f"it must be below hottest, {bearings.hottest_degC:g} degC",
                "Are the two swapped?",
            )
    yield from _furling(rig)


def _journal(mast: Loose | None, which: str) -> float | None:
    """Return the diameter that turns in a bearing, where it can be told."""
    if mast is None or not mast.has("stations", "bury_m", "support"):
        return None
    post = mast.get("post")
    if mast.support == "post" and post is not None:
        if not post.has("diameter_m", "top_diameter_m"):
            return None
        top: float = post.top_diameter_m or post.diameter_m
        return top if which == "partners" else float(post.diameter_m)
    sizes = [s for s in mast.stations if s.get("height_m") is not None and s.get("diameter_m") is not None]
    if not sizes:
        return None
    at = mast.bury_m if which == "partners" else 0.0
    return float(min(sizes, key=lambda s: abs(s.height_m - at)).diameter_m)


def _bearing(bearing: Loose, journal_m: float | None) -> Iterator[Problem]:
    if not bearing.has("kind") or bearing.kind is None:
        return
    for name in _WANTS[bearing.kind]:
        if bearing.has(name) and bearing[name] is None:
            key = name.removesuffix("_m")
            yield Problem(
                f"{bearing.path}.{key}",
                "",
                f'kind = "{bearing.kind}" needs it',
                f"Add {key}, or take kind out.",
            )
    if bearing.get("material") is not None:
        yield from name_known(
            f"{bearing.path}.material", bearing.material, bearing_material_names(), "bearing material"
        )
    low, high = bearing.get("friction_low"), bearing.get("friction_high")
    if low is not None and high is not None and low > high:
        yield Problem(
            f"{bearing.path}.friction_low",
            f"{low:g}",
            f"it is above friction_high, {high:g}",
            "Are the two swapped?",
        )
    if journal_m is not None and (bearing.get("clearance_m") or 0.0) > LARGEST_PLAY * journal_m:
        yield Problem(
            f"{bearing.path}.clearance",
            mm(bearing.clearance_m),
            f"it is over {LARGEST_PLAY:.0%} of the diameter of {mm(journal_m)}: the mast rattles",
            "Plastics are bored 1.5 to 10 thousandths wider than the mast.",
        )
    if bearing.kind == "rollers":
        yield from _rollers(bearing, journal_m)


def _rollers(bearing: Loose, journal_m: float | None) -> Iterator[Problem]:
    count, size = bearing.get("count"), bearing.get("diameter_m")
    if count is None or size is None:
        return
    if journal_m is not None and count * size > math.pi * (journal_m + size):
        yield Problem(
            f"{bearing.path}.count",
            f"{count}",
            f"so many rollers of {mm(size)} do not go round a mast of {mm(journal_m)}",
            "Take fewer, or smaller ones.",
        )
    if bearing.get("pin_m") is not None and bearing.pin_m >= size:
        yield Problem(
            f"{bearing.path}.pin",
            mm(bearing.pin_m),
            f"it is not inside a roller of {mm(size)}",
            "Give the diameter of the pin the roller turns on.",
        )


def _thrust(thrust: Loose | None) -> Iterator[Problem]:
    if thrust is not None and thrust.has("outer_m", "inner_m") and thrust.inner_m >= thrust.outer_m:
        yield Problem(
            f"{thrust.path}.inner",
            mm(thrust.inner_m),
            f"it is not inside the outer diameter, {mm(thrust.outer_m)}",
            "Are the two swapped?",
        )


def _furling(rig: Loose) -> Iterator[Problem]:
    furling = rig.get("furling")
    if furling is None:
        return
    if rig.has("bearings"):
        for which in ("partners", "step"):
            bearing = rig.bearings.get(which)
            if bearing is not None and bearing.has("kind") and bearing.kind is None:
                yield Problem(
                    f"bearings.{which}.kind",
                    "",
                    "the effort of furling needs to know what the mast turns in",
                    f"Describe [bearings.{which}], or take [furling] out.",
                )
    if rig.has("sails") and not any(s.get("hold") == "rolled" for s in rig.sails):
        yield Problem(
            "furling", "", "no sail rolls on the mast", 'Give a sail hold = "rolled", or take [furling] out.'
        )
    if furling.has("line_diameter_m", "drum_width_m") and furling.line_diameter_m > furling.drum_width_m:
        yield Problem(
            "furling.line_diameter",
            mm(furling.line_diameter_m),
            f"it does not go between the cheeks of the drum, {mm(furling.drum_width_m)}",
            "Are line and drum swapped?",
        )
