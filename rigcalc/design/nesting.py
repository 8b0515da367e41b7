"""Stepped masts out of a list of tubes: each upper length stands down inside the next.

A mast is a chain of tubes from the heel up and the heights of its joints, where the upper tube comes out of the
lower. The tail of the upper tube reaches down from its joint by the overlap. The bore of a tube is its outside
diameter less two walls, nominal: the clearance must leave room for the tolerances of both, and for paint.

What is left out, and why nothing is lost:

- *Dead ends.* Chains are built from the top down. For the part above a joint, ``least`` holds the least weight of
  everything above for every height of that joint, infinite where it cannot be built; a lower tube sees of it
  nothing but this. Where ``least`` is infinite throughout, no mast has that part, and no longer chain is tried.
- *Offers.* Tubes of one size and material are one tube to the mast. A piece is weighed at the cheapest offer long
  enough for it: any other offer gives the same mast, no lighter and no cheaper.
- *A cap.* What is below a joint weighs at least its height times the lightest tube of all, so a part that
  goes beyond the cap with that in no height of its joint belongs to no mast within it.
- *Tubes too weak.* ``may_stand`` says where a tube cannot stand alone in any mast that passes. It is asked only
  between a joint and the next tail, where there is no other tube, so whatever it says of a stretch is true of the mast.

No size is left out for another beside it. Of two tubes of one metal the one with no larger diameter and no more
metal is never the stiffer, and a larger diameter catches more wind and may not fit: neither is sure to be the better
mast. What makes the search short is its order: masts come out lightest first, so the first that passes is the
lightest, and none after it need be looked at.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Callable, Iterator, Sequence
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..errors import Problem, RigInputError
from ..frozen import dataclass
from ..materials.tube_tables import TubeSize

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
PerMetre = Callable[[TubeSize], float]
MayStand = Callable[[TubeSize, Floats], Bools]

_HAIR = 1e-9
_WHOLE_M = 1e-3
_LARGEST = 1e300
MOST_SECTIONS = 4
MOST_STEPS = 200
"""Joint heights up to which all masts of four tubes, over a million to a chain, go into memory."""


@dataclass(frozen=True, kw_only=True)
class NestingRules:
    """What a stepped mast must keep to.

    At no height are there more than two tubes: a tail ends at or above the joint below it.

    Parameters
    ----------
    length_m : float
        From heel to tip.
    fewest, most : int
        Number of tubes it is made of.
    clearance_m : tuple of float
        Least and greatest bore of a tube over the outside diameter of the one inside it. What nominal sizes leave
        is not play: tubes with the same size inside and outside do not slide. A large clearance is packed.
    overlap_m, overlap_bores : float
        Least length of a tail, and the same in bores of the tube around it; the longer holds, up to the next whole
        millimetre. 1.5 bores is used for slip joints of poles (ASCE/SEI 48, from memory).
    piece_m : float
        Longest piece that can be carried or bought, over any stock length of the tubes themselves.
    shown_m : float
        Least length of a tube outside the one below.
    joint_step_m : float
        Joints stand at whole multiples of this above the heel; at least a two-hundredth of the length.
    one_material : bool
        Whether all tubes must be of one material.
    """

    length_m: float
    fewest: int = 1
    most: int = 3
    clearance_m: tuple[float, float] = (0.0002, 0.002)
    overlap_m: float = 0.0
    overlap_bores: float = 1.5
    piece_m: float = math.inf
    shown_m: float = 0.1
    joint_step_m: float = 0.1
    one_material: bool = True

    def __post_init__(self) -> None:
        """Refuse what makes no mast."""
        problems = list(_senseless(self))
        if problems:
            raise RigInputError(problems, where="the rules for stepped masts")

    @cached_property
    def joints_m(self) -> Floats:
        """Heights a joint may have."""
        count = math.ceil(self.length_m / self.joint_step_m - _HAIR)
        return np.asarray(self.joint_step_m * np.arange(1, count), dtype=float)

    def tail_m(self, bore_m: float) -> float:
        """Return the overlap in a tube of a bore."""
        return _WHOLE_M * math.ceil(max(self.overlap_m, self.overlap_bores * bore_m) / _WHOLE_M - 1e-6)

    def fits(self, outer: TubeSize, inner: TubeSize) -> bool:
        """Whether one tube can stand inside the other."""
        low, high = self.clearance_m
        clear = outer.bore_m - inner.diameter_m
        alike = not self.one_material or outer.material == inner.material
        return alike and low - _HAIR <= clear <= high + _HAIR


@dataclass(frozen=True)
class Section:
    """One tube of a stepped mast.

    Parameters
    ----------
    tube : TubeSize
        Of the cheapest offer that is long enough.
    start_m, shown_m, end_m : float
        Heights of its lower end, of where it comes out of the tube below, and of its upper end.
    """

    tube: TubeSize
    start_m: float
    shown_m: float
    end_m: float

    @property
    def length_m(self) -> float:
        """Length to cut."""
        return self.end_m - self.start_m


@dataclass(frozen=True)
class SteppedMast:
    """A mast of tubes standing in one another.

    Parameters
    ----------
    sections : tuple of Section
        From the heel up.
    weighed : float
        What the mast was ordered by: mass, or cost.
    """

    sections: tuple[Section, ...]
    weighed: float

    @property
    def joints_m(self) -> tuple[float, ...]:
        """Heights of the joints."""
        return tuple(section.shown_m for section in self.sections[1:])


@dataclass(frozen=True)
class Chain:
    """Tubes that make stepped masts, with all their joints.

    Parameters
    ----------
    tubes : tuple of TubeSize
        From the heel up, each by its first offer.
    joints_m : ndarray, shape (masts, tubes - 1)
        Heights of the joints of every mast of these tubes, lightest mast first.
    tails_m : tuple of float
        Overlap at each joint.
    weighed : ndarray, shape (masts,)
        Mass, or cost, rising.
    """

    tubes: tuple[TubeSize, ...]
    joints_m: Floats
    tails_m: tuple[float, ...]
    weighed: Floats


@dataclass(frozen=True)
class _Tube:
    """One size of tube and the offers of it worth taking.

    Parameters
    ----------
    size : TubeSize
        By its first offer.
    offers : tuple of TubeSize
        Each longer than the one before, and no cheaper.
    reach, price : ndarray
        Of each offer, the longest piece it yields and what a metre of it weighs or costs.
    """

    size: TubeSize
    offers: tuple[TubeSize, ...]
    reach: Floats
    price: Floats

    def weigh(self, length_m: Floats) -> Floats:
        """Return what pieces weigh; infinite where none is long enough."""
        if self.reach.size == 1:
            return np.where(length_m <= self.reach[0] + _HAIR, length_m * self.price[0], np.inf)
        i = np.searchsorted(self.reach, length_m - _HAIR)
        return np.where(
            i < self.reach.size, length_m * self.price[np.minimum(i, self.reach.size - 1)], np.inf
        )

    def offer(self, length_m: float) -> TubeSize:
        """Return the offer a piece is cut from."""
        return self.offers[int(np.searchsorted(self.reach, length_m - _HAIR))]


def kg_per_metre(density_kg_m3: float) -> PerMetre:
    """Return how to weigh tubes of one density."""
    return lambda tube: tube.kg_per_m(density_kg_m3)


def chains(
    tubes: Sequence[TubeSize],
    rules: NestingRules,
    per_metre: PerMetre,
    *,
    may_stand: MayStand | None = None,
    cap: float = math.inf,
) -> Iterator[Chain]:
    """Yield every chain of tubes that makes a mast, with every mast it makes.

    Parameters
    ----------
    tubes : sequence of TubeSize
        In any order.
    rules : NestingRules
        What a mast must keep to.
    per_metre : callable
        What a metre of a tube weighs, or costs: above zero. What whole bars cost is for `cutting` to find.
    may_stand : callable, optional
        From a tube and heights, whether the tube alone could stand at each of them in a mast that passes.
    cap : float
        Masts that weigh more are left out.

    Yields
    ------
    Chain
        In no order that means anything; the masts of each lightest first.
    """
    search = _Search(tubes, rules, per_metre, may_stand, cap)
    for _, chain in search.chains():
        found = search.masts(chain)
        if found is not None:
            yield found


def stepped_masts(
    tubes: Sequence[TubeSize],
    rules: NestingRules,
    per_metre: PerMetre,
    *,
    may_stand: MayStand | None = None,
    cap: float = math.inf,
) -> Iterator[SteppedMast]:
    """Yield every buildable mast, lightest first.

    Parameters are those of `chains`. A chain is opened only when its lightest mast is due.

    Yields
    ------
    SteppedMast
        Rising by what it weighs, to rounding; equal ones always in the same order.
    """
    search = _Search(tubes, rules, per_metre, may_stand, cap)
    due: list[tuple[float, int, int, Chain | None, tuple[int, ...]]] = [
        (least, number, -1, None, chain) for number, (least, chain) in enumerate(search.chains())
    ]
    heapq.heapify(due)
    while due:
        _, number, at, chain, indices = heapq.heappop(due)
        if chain is None:
            chain = search.masts(indices)
            if chain is None:
                continue
        else:
            yield search.mast(indices, chain, at)
        if at + 1 < chain.weighed.size:
            heapq.heappush(due, (float(chain.weighed[at + 1]), number, at + 1, chain, indices))


def count_masts(
    tubes: Sequence[TubeSize], rules: NestingRules, *, may_stand: MayStand | None = None
) -> tuple[int, int]:
    """Return how many chains and how many masts can be built, without listing the masts."""
    search = _Search(tubes, rules, lambda tube: 1.0, may_stand, math.inf)
    counts = [search.count(chain) for _, chain in search.chains()]
    return len(counts), sum(counts)


def nearest_fit(tubes: Sequence[TubeSize], rules: NestingRules) -> tuple[TubeSize, TubeSize, float] | None:
    """Return the pair that comes nearest to fitting, and how far its clearance is off; negative is too tight.

    For lists of which no tube fits into another: what would have to change. None where there is no pair.
    """
    low, high = rules.clearance_m
    pairs = [
        (outer, inner, clear - low if clear < low else max(clear - high, 0.0))
        for outer in tubes
        for inner in tubes
        if outer.diameter_m > inner.diameter_m
        and (not rules.one_material or outer.material == inner.material)
        for clear in (outer.bore_m - inner.diameter_m,)
    ]
    return min(pairs, key=lambda pair: abs(pair[2]), default=None)


class _Search:
    """The list of tubes made ready, and the walk over its chains."""

    def __init__(
        self,
        tubes: Sequence[TubeSize],
        rules: NestingRules,
        per_metre: PerMetre,
        may_stand: MayStand | None,
        cap: float,
    ) -> None:
        self.rules = rules
        self.cap = cap * (1.0 + _HAIR)  # sums from the heel up and from the tip down differ by rounding
        self.tubes = _sizes(tubes, rules, per_metre)
        self.inside = [
            [i for i, inner in enumerate(self.tubes) if rules.fits(outer.size, inner.size)]
            for outer in self.tubes
        ]
        self.around: list[list[int]] = [[] for _ in self.tubes]
        for outer, inners in enumerate(self.inside):
            for inner in inners:
                self.around[inner].append(outer)
        self.tails = [rules.tail_m(tube.size.bore_m) for tube in self.tubes]
        self.floor = min((float(tube.price.min()) for tube in self.tubes), default=0.0)
        self.z = np.concatenate([[0.0], rules.joints_m, [rules.length_m]])
        self.may_stand = may_stand
        self._shown = self.z[None, :] - self.z[:, None]
        self._tip = np.where(np.arange(self.z.size) == self.z.size - 1, 0.0, np.inf)
        self._standing: dict[tuple[int, float], Bools] = {}

    def chains(self) -> Iterator[tuple[float, tuple[int, ...]]]:
        """Yield the tubes of every chain that makes a mast within the cap, with the weight of its lightest."""
        for i in range(len(self.tubes)):
            yield from self._below((i,), self._tip, 0.0)

    def _below(
        self, chain: tuple[int, ...], above: Floats, tail_above: float
    ) -> Iterator[tuple[float, tuple[int, ...]]]:
        """Yield chains that end in the tubes of ``chain``; ``above`` is the least of all above each joint."""
        rules, lowest = self.rules, chain[0]
        if rules.fewest <= len(chain):
            whole = float(np.min(self._stretch(lowest, 0.0, tail_above, heel=True)[0] + above))
            if math.isfinite(whole) and whole <= self.cap:
                yield whole, chain
        if len(chain) == rules.most:
            return
        for outer in self.around[lowest]:
            tail = self.tails[outer]
            least = np.min(self._stretch(lowest, tail, tail_above) + above, axis=1)
            lightest = float(np.min(least + self.floor * self.z))
            if math.isfinite(lightest) and lightest <= self.cap:
                yield from self._below((outer, *chain), least, tail)

    def _stretch(self, i: int, tail_m: float, tail_above_m: float, *, heel: bool = False) -> Floats:
        """What tube ``i`` weighs shown from one height (rows) to the next joint or the tip (columns).

        Infinite where it cannot be: too long, too little of it shown, less than the tail that hangs in it, or
        alone where it may not stand. That no tail hangs out of the heel follows.
        """
        rows = slice(0, 1) if heel else slice(None)
        shown = self._shown[rows]
        sound = shown >= max(self.rules.shown_m, tail_above_m, 2 * _HAIR) - _HAIR
        if self.may_stand is not None:
            sound &= self._stands(i, tail_above_m)[rows]
        return np.where(sound, self.tubes[i].weigh(shown + tail_m), np.inf)

    def _stands(self, i: int, tail_above_m: float) -> Bools:
        """Whether tube ``i`` may stand alone from one height (rows) to the tail below another (columns)."""
        known = self._standing.get((i, tail_above_m))
        if known is None:
            assert self.may_stand is not None
            failing = ~np.asarray(self.may_stand(self.tubes[i].size, self.z), dtype=bool)
            before = np.concatenate([[0], np.cumsum(failing)])
            first = np.arange(self.z.size)
            last = np.searchsorted(self.z, self.z - tail_above_m + _HAIR, side="right")
            known = before[np.maximum(last[None, :], first[:, None])] == before[first][:, None]
            self._standing[i, tail_above_m] = known
        return known

    def count(self, chain: tuple[int, ...]) -> int:
        """Return the number of masts of a chain."""
        total = np.isfinite(self._tip).astype(np.int64)
        for stretch in self._stretches(chain):
            total = np.isfinite(stretch).astype(np.int64) @ total
        return int(total[0])

    def _stretches(self, chain: tuple[int, ...]) -> Iterator[Floats]:
        """Yield what each tube of a chain weighs by its ends, from the top down."""
        tails = self._tails(chain)
        for k in range(len(chain) - 1, -1, -1):
            yield self._stretch(chain[k], tails[k], tails[k + 1], heel=k == 0)

    def _tails(self, chain: tuple[int, ...]) -> list[float]:
        """Overlap of every tube with the one below; none at the heel and above the tip."""
        return [0.0, *(self.tails[i] for i in chain[:-1]), 0.0]

    def masts(self, chain: tuple[int, ...]) -> Chain | None:
        """Return a chain with all its masts; None where there is none within the cap."""
        stretches = list(self._stretches(chain))[::-1]
        tip = self.z.size - 1
        ends = np.zeros((1, 1), dtype=np.int64)  # one row to a mast: where each tube begins to show
        weight = np.zeros(1)
        for k, stretch in enumerate(stretches):
            # every tube but the last ends at a joint, the last at the tip
            reach = np.array([tip]) if k == len(stretches) - 1 else np.arange(1, tip)
            weights = weight[:, None] + stretch[ends[:, -1, None], reach]
            mast, column = np.nonzero(weights <= min(self.cap, _LARGEST))
            ends = np.column_stack([ends[mast], reach[column]])
            weight = weights[mast, column]
        if not weight.size:
            return None
        order = np.lexsort((*ends.T[::-1], weight))
        tails = tuple(self._tails(chain)[1:-1])
        tubes = tuple(self.tubes[i].size for i in chain)
        return Chain(tubes, self.z[ends[order, 1:-1]], tails, weight[order])

    def mast(self, chain: tuple[int, ...], masts: Chain, at: int) -> SteppedMast:
        """Return one mast of a chain."""
        shown = [0.0, *masts.joints_m[at].tolist(), self.rules.length_m]
        tails = self._tails(chain)
        sections = []
        for k, i in enumerate(chain):
            start, end = shown[k] - tails[k], shown[k + 1]
            sections.append(Section(self.tubes[i].offer(end - start), start, shown[k], end))
        return SteppedMast(tuple(sections), float(masts.weighed[at]))


def _sizes(tubes: Sequence[TubeSize], rules: NestingRules, per_metre: PerMetre) -> list[_Tube]:
    """Return the tubes by size and material, each with the offers worth taking by length of piece."""
    by_size: dict[tuple[float, float, str | None], list[TubeSize]] = {}
    for tube in tubes:
        by_size.setdefault((round(tube.diameter_m, 8), round(tube.wall_m, 8), tube.material), []).append(tube)
    found = []
    for offers in by_size.values():
        # from the cheapest on, an offer is worth having only if it is longer than all cheaper ones
        kept: list[tuple[float, float, TubeSize]] = []
        for price, i in sorted((per_metre(offer), i) for i, offer in enumerate(offers)):
            if not 0.0 < price < math.inf:
                raise RigInputError(
                    [
                        Problem(
                            offers[i].name,
                            f"{price:g}",
                            "a metre of tube weighs or costs something",
                            "Correct its price.",
                        )
                    ],
                    where="the list of tubes",
                )
            stock = offers[i].stock_length_m
            reach = min(rules.piece_m, math.inf if stock is None else stock)
            if not kept or reach > kept[-1][0]:
                kept.append((reach, price, offers[i]))
        reaches, prices, by_length = zip(*kept, strict=True)
        found.append(_Tube(offers[0], by_length, np.array(reaches), np.array(prices)))
    return found


def _senseless(rules: NestingRules) -> Iterator[Problem]:
    low, high = rules.clearance_m
    bands = (
        ("length", rules.length_m, 0.5, 60.0),
        ("overlap", rules.overlap_m, 0.0, 5.0),
        ("overlap_bores", rules.overlap_bores, 0.0, 20.0),
        ("piece", rules.piece_m, 0.1, math.inf),
        ("shown", rules.shown_m, 0.0, rules.length_m),
        ("joint_step", rules.joint_step_m, rules.length_m / MOST_STEPS, rules.length_m),
        ("clearance[0]", low, 0.0, high),
        ("clearance[1]", high, low, 0.1),
    )
    for name, value, least, most in bands:
        if not least <= value <= most:
            yield Problem(
                name, f"{value:g}", f"it lies outside {least:g} to {most:g}", "Is the unit right, the metre?"
            )
    if not 1 <= rules.fewest <= rules.most <= MOST_SECTIONS:
        yield Problem(
            "fewest",
            f"{rules.fewest} to {rules.most}",
            f"a mast has 1 to {MOST_SECTIONS} tubes",
            "Give the fewest and the most.",
        )
    if rules.overlap_m == 0.0 and rules.overlap_bores == 0.0:
        yield Problem(
            "overlap", "0", "a tube without an overlap does not stand in another", "Give an overlap."
        )
