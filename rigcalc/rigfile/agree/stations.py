"""Rules for the sizes of the mast at its stations."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from ...errors import Problem
from ...rig import UNEVEN
from ...rig.materials import METAL
from ..loose import Loose
from .materials import family
from .say import HAIR, mm


def station_rules(mast: Loose, own: Sequence[Loose]) -> Iterator[Problem]:
    """Yield what is wrong with heights and sizes; the mast's own fields have been read."""
    yield from height_rules(mast.stations, mast.length_m)
    for s in mast.stations:
        sizes = list(_sizes(s, mast.shape))
        yield from sizes
        if not sizes:
            yield from _wall(s, mast, own)


def wall_of(s: Loose) -> float:
    """Return the wall at a station; half the lesser size of a solid."""
    least = s.diameter_m if s.get("breadth_m") is None else min(s.diameter_m, s.breadth_m)
    return float(least / 2 if s.wall_m is None else s.wall_m)


def sizes_between(stations: Sequence[Loose], start: float, end: float) -> list[tuple[float, float]]:
    """Return (diameter, bore) at the ends of every stretch of the mast between two heights."""
    found = []
    for low, high in pairwise(stations):
        first, last = max(low.height_m, start), min(high.height_m, end)
        if high.height_m == low.height_m or first > last or (first == last and start < end):
            continue
        for z in (first, last):
            share = (z - low.height_m) / (high.height_m - low.height_m)
            diameter = low.diameter_m + share * (high.diameter_m - low.diameter_m)
            wall = wall_of(low) + share * (wall_of(high) - wall_of(low))
            found.append((diameter, diameter - 2 * wall))
    return found


def height_rules(stations: Sequence[Loose], length: float) -> Iterator[Problem]:
    """Yield what is wrong with the heights of the stations."""
    heights = [s.height_m for s in stations]
    if heights[0] != 0.0:
        yield Problem(
            "mast.stations[0].height",
            f"{heights[0]:.4g} m",
            "the first station is the heel, 0 m",
            'Add {height = "0 m", ...}.',
        )
    if abs(heights[-1] - length) > 1e-6 * length:
        yield Problem(
            f"mast.stations[{len(heights) - 1}].height",
            f"{heights[-1]:.4g} m",
            f"the last station is the tip, {length:.4g} m",
            "Give the size at the tip, or mend the length.",
        )
    for i, (before, after) in enumerate(pairwise(heights)):
        here = f"mast.stations[{i + 1}].height"
        if after < before:
            yield Problem(
                here,
                f"{after:.4g} m",
                f"it is below the station before it, {before:.4g} m",
                "Put the stations in order from heel to tip.",
            )
        elif after == before and (i == 0 or i == len(heights) - 2 or heights[i - 1] == before):
            yield Problem(
                here,
                f"{after:.4g} m",
                "two stations at one height make a step: not three, nor at an end",
                "Take one out.",
            )


def _sizes(s: Loose, shape: str) -> Iterator[Problem]:
    """Yield what is wrong with the outside."""
    if s.diameter_m is None:
        yield Problem(
            f"{s.path}.diameter", "", "it is missing: outside diameter", 'Add diameter = "90 mm", say.'
        )
    if s.bore_m is not None:
        yield Problem(
            f"{s.path}.bore",
            mm(s.bore_m),
            "a bore is that of a mast of laminate",
            "Take it out, and give diameter and wall; or name a [[laminate]] as the material.",
        )
    if s.breadth_m is not None and shape not in UNEVEN:
        yield Problem(
            f"{s.path}.breadth",
            mm(s.breadth_m),
            f'shape = "{shape}" has one size',
            'Take it out, or give shape = "box" or shape = "ellipse".',
        )


def _wall(s: Loose, mast: Loose, own: Sequence[Loose]) -> Iterator[Problem]:
    """Yield what is wrong with the wall."""
    least = s.diameter_m if s.breadth_m is None else min(s.diameter_m, s.breadth_m)
    if s.wall_m is None:
        if family(mast.material, own) != METAL:
            return
        yield Problem(f"{s.path}.wall", "", "a metal mast is a tube", 'Give its wall: wall = "4 mm".')
    elif s.wall_m >= least / 2 * (1 - HAIR):
        yield Problem(
            f"{s.path}.wall",
            mm(s.wall_m),
            f"it fills the diameter of {mm(least)}",
            "A wall is less than half the diameter.",
        )


def wear_rules(mast: Loose) -> Iterator[Problem]:
    """Yield walls of which pitting and wear leave nothing."""
    parts = [*mast.stations, *mast.get("sleeve", ()), mast.get("post")]
    walls = [wall for part in parts if part is not None and (wall := part.get("wall_m")) is not None]
    if walls and mast.wall_loss_m >= min(walls):
        yield Problem(
            "mast.wall_loss",
            mm(mast.wall_loss_m),
            f"nothing is left of a wall of {mm(min(walls))}",
            "Give what pitting or wear takes off, less than the wall.",
        )
