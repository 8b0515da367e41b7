"""The lines of a hatch, and which pattern stands for which kind of material."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from typing import Final

from .scene import HATCHING, Hatch, Line, Point, Rule

PATTERNS: Final[dict[str, tuple[Rule, ...]]] = {
    "metal": (Rule(45.0, 1.6),),
    "timber": (Rule(30.0, 2.6), Rule(30.0, 2.6, 0.7)),
    "laminate": (Rule(45.0, 1.9), Rule(135.0, 1.9)),
    "foam": (Rule(45.0, 1.8, 0.0, 1.2),),
    "bearing material": (Rule(0.0, 1.3), Rule(90.0, 1.3)),
}
"""Kind of material -> its pattern; the sheet has a key, for there is no one custom beyond the metals."""
_SHORTEST: Final = 0.02


def hatch_of(kind: str, *loops: tuple[Point, ...], mirrored: bool = False) -> Hatch:
    """Return an area filled with the pattern of a kind of material; mirrored beside a part of the same kind."""
    rules = PATTERNS[kind]
    if mirrored:
        rules = tuple(replace(rule, angle_deg=180.0 - rule.angle_deg) for rule in rules)
    return Hatch(HATCHING, loops, rules)


def hatch_lines(hatch: Hatch) -> list[Line]:
    """Return the lines that fill a hatch.

    Each line of a family crosses the loops' edges; between the first crossing and the second, the third and the
    fourth, and so on, it lies inside. An end on the line counts as below it, so that corners pair up.
    """
    return [line for rule in hatch.rules for line in _of_rule(hatch, rule)]


def _of_rule(hatch: Hatch, rule: Rule) -> Iterator[Line]:
    angle = math.radians(rule.angle_deg)
    along, across = (math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))
    x, y = hatch.origin
    loops = [[(px - x, py - y) for px, py in loop] for loop in hatch.loops]
    edges = [
        (_dot(p, along), _dot(p, across), _dot(q, along), _dot(q, across))
        for loop in loops
        for p, q in pairwise([*loop, loop[0]])
    ]
    low, high = min(edge[1] for edge in edges), max(edge[1] for edge in edges)
    first = math.ceil((low - rule.offset) / rule.spacing)
    last = math.floor((high - rule.offset) / rule.spacing)
    for k in range(first, last + 1):
        level = rule.offset + k * rule.spacing
        crossings = sorted(
            s0 + (level - t0) / (t1 - t0) * (s1 - s0)
            for s0, t0, s1, t1 in edges
            if (t0 <= level) != (t1 <= level)
        )
        for start, end in zip(crossings[::2], crossings[1::2], strict=True):
            for a, b in _dashes(start, end, rule.dash):
                if b - a > _SHORTEST:
                    yield Line(
                        hatch.layer,
                        (x + a * along[0] + level * across[0], y + a * along[1] + level * across[1]),
                        (x + b * along[0] + level * across[0], y + b * along[1] + level * across[1]),
                    )


def _dashes(start: float, end: float, dash: float) -> Iterator[tuple[float, float]]:
    if dash == 0.0:
        yield start, end
        return
    for k in range(math.floor(start / (2 * dash)), math.ceil(end / (2 * dash))):
        low, high = max(start, 2 * k * dash), min(end, (2 * k + 1) * dash)
        if low < high:
            yield low, high


def _dot(p: Point, q: Point) -> float:
    return p[0] * q[0] + p[1] * q[1]
