"""The search for the best mast: rigs, lists of tubes that nest, and the search done the slow way."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, pairwise, permutations

import numpy as np

from rigcalc import check
from rigcalc.design.nesting import NestingRules
from rigcalc.design.sizing.makes import nested
from rigcalc.materials.tube_tables import TubeSize
from rigcalc.rig import Rig, Sizing, Stock, StockTube
from tests.many import example

__all__ = ["Slow", "asking", "chains_of", "example", "few_cases", "nesting_list", "slow_search", "tube"]

OVERLAPS = (1, 2, 3)


def tube(
    diameter_mm: float, wall_mm: float, *, length_m: float | None = None, price: float | None = None
) -> StockTube:
    return StockTube(diameter_m=diameter_mm * 1e-3, wall_m=wall_mm * 1e-3, length_m=length_m, price=price)


def few_cases(name: str, *names: str) -> Rig:
    """Return an example with some of its cases."""
    rig = example(name)
    kept = tuple(case for case in rig.cases if case.name in names)
    assert len(kept) == len(names)
    return replace(rig, cases=kept)


def asking(rig: Rig, tubes: Sequence[StockTube] = (), *, stock: dict | None = None, **sizing: object) -> Rig:
    """Return a rig with a list of tubes and what is asked of the search."""
    return replace(rig, stock=Stock(tube=tuple(tubes), **(stock or {})), sizing=Sizing(**sizing))  # type: ignore[arg-type]


def nesting_list(rng: np.random.Generator, *, around_mm: float, count: int) -> list[StockTube]:
    """Return tubes of which many slide into others: each within one before, or beside it."""
    tubes = [tube(around_mm, float(rng.choice([2.5, 3.0, 4.0, 5.0])))]
    while len(tubes) < count:
        outer = tubes[int(rng.integers(len(tubes)))]
        if rng.uniform() < 0.75:
            diameter = 1e3 * (outer.diameter_m - 2 * outer.wall_m) - float(rng.choice([0.3, 0.6, 1.5]))
        else:
            diameter = 1e3 * outer.diameter_m * float(rng.uniform(0.85, 1.1))
        more = tube(round(diameter, 1), float(rng.choice([2.5, 3.0, 3.5, 4.5])))
        if diameter > 41.0 and more not in tubes:
            tubes.append(more)
    return tubes


@dataclass(frozen=True)
class Slow:
    """One mast of the slow search."""

    tubes: tuple[StockTube, ...]
    joints_m: tuple[float, ...]
    tails_m: tuple[float, ...]

    def rig(self, rig: Rig, material: str) -> Rig:
        sizes = [
            TubeSize(
                name="", series="", diameter_m=t.diameter_m, wall_m=t.wall_m, provenance="user", source=""
            )
            for t in self.tubes
        ]
        return nested(rig, material, sizes, self.joints_m, self.tails_m)

    def lengths_m(self, length_m: float) -> list[float]:
        ends = [0.0, *self.joints_m, length_m]
        return [
            high - low + tail for low, high, tail in zip(ends, ends[1:], (0.0, *self.tails_m), strict=False)
        ]

    def measure(self, length_m: float) -> float:
        """Volume of metal, and so the mass of masts of one metal."""
        return sum(
            length * math.pi * t.wall_m * (t.diameter_m - t.wall_m)
            for t, length in zip(self.tubes, self.lengths_m(length_m), strict=True)
        )


def chains_of(tubes: Sequence[StockTube], rules: NestingRules) -> Iterator[tuple[StockTube, ...]]:
    """Yield tubes that slide into each other, each by itself too."""
    low, high = rules.clearance_m
    for count in range(rules.fewest, rules.most + 1):
        for chain in permutations(tubes, count):
            clear = [a.diameter_m - 2 * a.wall_m - b.diameter_m for a, b in pairwise(chain)]
            if all(low - 1e-9 <= gap <= high + 1e-9 for gap in clear):
                yield chain


def slow_search(tubes: Sequence[StockTube], rules: NestingRules, *, piece_m: float = math.inf) -> list[Slow]:
    """Return every mast there is, lightest first, from nothing but the rules as they are told."""
    length, found = rules.length_m, []
    heights = [
        round(rules.joint_step_m * i, 9) for i in range(1, 1 + int(length / rules.joint_step_m - 1e-9))
    ]
    for chain in chains_of(tubes, rules):
        for times in OVERLAPS if len(chain) > 1 else (1,):
            tails = [
                math.ceil(
                    1e3 * times * max(rules.overlap_m, rules.overlap_bores * (t.diameter_m - 2 * t.wall_m))
                    - 1e-6
                )
                * 1e-3
                for t in chain[:-1]
            ]
            for joints in combinations(heights, len(chain) - 1):
                mast, ends = Slow(chain, joints, tuple(tails)), [0.0, *joints, length]
                shown = [b - a for a, b in pairwise(ends)]
                # a tube comes out far enough to be seen, and holds the whole tail of the next
                least = [max(rules.shown_m, tail) for tail in (*tails, 0.0)]
                longest = [min(piece_m, t.length_m or math.inf) for t in chain]
                if all(s >= a - 1e-9 for s, a in zip(shown, least, strict=True)) and all(
                    a <= b + 1e-9 for a, b in zip(mast.lengths_m(length), longest, strict=True)
                ):
                    found.append(mast)
    return sorted(found, key=lambda mast: mast.measure(length))


def lightest_of(masts: Sequence[Slow], rig: Rig, material: str) -> Slow | None:
    """Return the first of masts that passes the check."""
    return next((mast for mast in masts if check(mast.rig(rig, material)).passed), None)
