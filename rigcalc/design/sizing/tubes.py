"""The best mast of tubes that can be bought: one by itself, or several standing in one another.

Every mast that `nesting` can build is considered. What `bounds` shows is bound to fail is left out; the others are
tried from the lightest on (or cheapest), first in the cases that govern most tubes by straight theory, then in all,
then bent, and at last by `check` itself. So the first that passes is the best there is of its number of tubes, and
masts of more tubes need be looked at only where they are lighter than it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ...errors import Problem, RigInputError
from ...frozen import dataclass
from ...materials import metal_rows
from ...materials.tube_tables import TubeSize
from ...rig import BY_COST, BY_DIAMETER, Case, Rig
from ...structure.outline import Outline
from ...verdict import CheckResult, check
from ...verdict.many import stand_of
from ..nesting import NestingRules, PerMetre, chains
from .asked import CHUNK, Jury, Trial, sizing_of
from .bounds import Bounds, bounds_of
from .makes import nested, nested_outline, tube_rig
from .watch import Watch

Floats = NDArray[np.float64]
NEARLY = 1.0 + 1e-3
"""Many at once stand on meshes of their own, and a moment greatest between two joints is told by the nearest of their
points: the check itself decides."""
FAST_CASES = 2
OVERLAPS = (1.0, 2.0, 3.0)
"""Times the least overlap that all joints of a mast are tried with: a longer one is pressed less, and weighs more."""
HAIR = 1e-9


@dataclass(frozen=True)
class Nest:
    """One mast of nested tubes.

    Parameters
    ----------
    tubes : tuple of TubeSize
        From the heel up.
    joints_m, tails_m : tuple of float
        Heights of the joints, and how far each upper tube reaches down.
    weighed : float
        What it was ordered by: kg, or money.
    """

    tubes: tuple[TubeSize, ...]
    joints_m: tuple[float, ...]
    tails_m: tuple[float, ...]
    weighed: float

    def rig(self, rig: Rig, material: str) -> Rig:
        """Return the rig with this mast."""
        return nested(rig, material, self.tubes, self.joints_m, self.tails_m)

    def said(self) -> str:
        """Return the tubes in a line."""
        parts = [self.tubes[0].name]
        for tube, joint, tail in zip(self.tubes[1:], self.joints_m, self.tails_m, strict=True):
            parts.append(f"{tube.name} from {joint:.2f} m, {tail * 1e3:.0f} mm of it in the one below")
        return "; ".join(parts)


@dataclass(frozen=True)
class TubesFound:
    """Where a search ended.

    Parameters
    ----------
    best : Nest or None
        The best mast that passes.
    result : CheckResult or None
        Its check, by which it passed.
    nearest : Nest or None
        Where none does, the tube that comes nearest to passing by itself.
    lighter : Nest or None
        The next lighter of those that were tried.
    finished : bool
        Whether the search came to its end.
    """

    best: Nest | None
    result: CheckResult | None
    nearest: Nest | None
    lighter: Nest | None
    finished: bool


def search(
    rig: Rig,
    material: str,
    tubes: Sequence[TubeSize],
    rules: NestingRules,
    cases: tuple[Case, ...],
    watch: Watch,
) -> TubesFound:
    """Search the masts of some tubes.

    Parameters
    ----------
    rig : Rig
        The rig.
    material : str
        The metal.
    tubes : sequence of TubeSize
        That can be had.
    rules : NestingRules
        How they stand in one another.
    cases : tuple of Case
        What the mast must stand.
    watch : Watch
        Is told how far it is.

    Returns
    -------
    TubesFound
        The best mast, or that which comes nearest.

    Raises
    ------
    RigInputError
        Where prices are asked for and a tube has none.
    """
    asked = sizing_of(rig)
    kept = [
        # what does not say its metal may be of any: all are of the one that is asked for
        replace(tube, material=material)
        for tube in tubes
        if tube.wall_m >= asked.smallest_wall_m - HAIR
        and asked.smallest_diameter_m - HAIR <= tube.diameter_m <= asked.largest_diameter_m + HAIR
        and tube.wall_m > rig.mast.wall_loss_m
    ]
    if not kept:
        return TubesFound(None, None, None, None, finished=True)
    quest = _Quest(rig, material, kept, rules, cases, watch)
    try:
        quest.run()
    except KeyboardInterrupt:
        return quest.found(finished=False)
    return quest.found(finished=True)


class _Quest:
    """The best mast so far, and how masts of more tubes are looked for."""

    def __init__(
        self,
        rig: Rig,
        material: str,
        tubes: Sequence[TubeSize],
        rules: NestingRules,
        cases: tuple[Case, ...],
        watch: Watch,
    ) -> None:
        self.rig, self.material, self.rules, self.cases, self.watch = rig, material, rules, cases, watch
        self.sizing = sizing_of(rig)
        self.per_metre = self._per_metre(tubes)
        self.tubes = self._one_of_each(tubes)
        self.number = {_key(tube): i for i, tube in enumerate(self.tubes)}
        self.best: Nest | None = None
        self.result: CheckResult | None = None
        self.nearest: Nest | None = None
        self.lighter: Nest | None = None
        self.alone: list[Nest] = []
        self.unstable = np.zeros(len(self.tubes))
        self.fast: tuple[Case, ...] = cases

    def _per_metre(self, tubes: Sequence[TubeSize]) -> PerMetre:
        density = metal_rows(self.material, thinnest_m=0.001, thickest_m=0.003, own=self.rig.materials)[
            0
        ].density_kg_m3
        self.kg_per_m: PerMetre = lambda tube: tube.kg_per_m(density)
        if self.sizing.minimise != BY_COST:
            return lambda tube: tube.kg_per_m(density)
        own = {p.material: p.per_kg for p in self.sizing.price}.get(self.material)
        without = [t for t in tubes if own is None and not t.cost_per_m(density)]
        if without:
            raise RigInputError(
                [
                    Problem(
                        t.name,
                        "",
                        "it has no price, and the cheapest mast is asked for",
                        "Give it one in the list, or a [[size.price]] of the metal.",
                    )
                    for t in without[:20]
                ],
                where="the list of tubes",
            )

        def cost(tube: TubeSize) -> float:
            listed = tube.cost_per_m(density)
            return listed if listed else (own or 0.0) * tube.kg_per_m(density)

        return cost

    def _one_of_each(self, tubes: Sequence[TubeSize]) -> tuple[TubeSize, ...]:
        """Return one tube of every size, in the order of their diameters."""
        each: dict[tuple[float, float], TubeSize] = {}
        for tube in tubes:
            each.setdefault(_key(tube), tube)
        self.offers = tuple(tubes)
        return tuple(sorted(each.values(), key=lambda t: (t.diameter_m, t.wall_m)))

    def run(self) -> None:
        """Look at masts of one tube, then of more."""
        first = self._alone()
        bounds = None
        by_diameter = self.sizing.minimise == BY_DIAMETER
        heaviest = math.inf
        if self.sizing.most_mass_kg is not None and self.sizing.minimise != BY_COST:
            heaviest = (self.sizing.most_mass_kg - self.rig.mast.fittings_mass_kg) * (1 + HAIR)
        for count in range(max(self.rules.fewest, 2), self.rules.most + 1):
            if bounds is None:
                bounds = bounds_of(first.stand, self.tubes, self.unstable)
            for longer in OVERLAPS:
                try:
                    rules = replace(
                        self.rules,
                        fewest=count,
                        most=count,
                        overlap_m=longer * self.rules.overlap_m,
                        overlap_bores=longer * self.rules.overlap_bores,
                    )
                except RigInputError:
                    break  # the least overlap is so long already that no rules allow twice or three times it
                if by_diameter:
                    self._narrowest(rules, bounds, heaviest)
                else:
                    cap = math.inf if self.best is None else self.best.weighed * (1 - HAIR)
                    self._nested(rules, bounds, self.offers, min(cap, heaviest))

    def found(self, *, finished: bool) -> TubesFound:
        """Return where the search is."""
        return TubesFound(self.best, self.result, self.nearest, self.lighter, finished)

    def _alone(self) -> Jury:
        """Try every tube as a mast by itself."""
        jury = Jury(stand_of(tube_rig(self.rig, self.material, 1), self.cases), self.sizing)
        nests = self.alone = [
            Nest((tube,), (), (), self._cheapest(tube) * self.rules.length_m) for tube in self.tubes
        ]
        trial = jury.trial(_outline(nests, self.rules.length_m))
        self.watch.count(len(nests), self.material, None)
        self.fast = _that_govern(self.cases, trial)
        (stability,) = (use for use in trial.uses if use.id == "axial-stability")
        self.unstable = np.max(stability.utilisation, axis=0)
        self.nearest = nests[int(np.argmin(trial.used))]
        if self.rules.fewest == 1:
            long_enough = [self._can_be_cut(nest) for nest in nests]
            order = sorted(
                (i for i, nest in enumerate(nests) if long_enough[i]),
                key=lambda i: (self._rank(nests[i]), nests[i].weighed),
            )
            self._first_of([nests[i] for i in order], jury)
        return jury

    def _rank(self, nest: Nest) -> float:
        if self.sizing.minimise == BY_DIAMETER:
            return max(tube.diameter_m for tube in nest.tubes)
        return nest.weighed

    def _can_be_cut(self, nest: Nest) -> bool:
        """Whether one piece of the mast's length is to be had."""
        return bool(self._long_enough(nest.tubes[0]))

    def _long_enough(self, tube: TubeSize) -> list[TubeSize]:
        """Return the offers of a size that yield the whole mast in one piece."""
        if self.rules.length_m > self.rules.piece_m + HAIR:
            return []
        return [
            offer
            for offer in self.offers
            if _key(offer) == _key(tube)
            and (offer.stock_length_m is None or self.rules.length_m <= offer.stock_length_m + HAIR)
        ]

    def _cheapest(self, tube: TubeSize) -> float:
        """Return what a metre of a size weighs, or costs where one piece makes the mast."""
        return min(map(self.per_metre, self._long_enough(tube) or [tube]))

    def _nested(self, rules: NestingRules, bounds: Bounds, tubes: Sequence[TubeSize], cap: float) -> None:
        """Look at every mast of a number of tubes lighter than the best."""
        anywhere = bounds.least(
            len(self.tubes) - 1, 0, min(range(len(self.tubes)), key=lambda i: self.tubes[i].area_m2)
        )
        most = np.max(anywhere, axis=1)

        def may_stand(tube: TubeSize, z: Floats) -> NDArray[np.bool_]:
            there = np.array([np.interp(z, bounds.z_m, kind) for kind in most]).reshape(len(most), z.size)
            fails = np.any(there > bounds.borne[:, self.number[_key(tube)], None], axis=0)
            return np.asarray(~fails | (z < bounds.bury_m))

        nests: list[Nest] = []
        for chain in chains(tubes, rules, self.per_metre, may_stand=may_stand, cap=cap):
            numbers = [self.number[_key(tube)] for tube in chain.tubes]
            may = bounds.pass_by(numbers, chain.joints_m, chain.tails_m)
            nests += [
                Nest(chain.tubes, tuple(joints), chain.tails_m, float(weighed))
                for joints, weighed in zip(chain.joints_m[may].tolist(), chain.weighed[may], strict=True)
            ]
        nests.sort(key=lambda nest: nest.weighed)
        if nests:
            jury = Jury(stand_of(tube_rig(self.rig, self.material, rules.most), self.cases), self.sizing)
            self._first_of(nests, jury)

    def _narrowest(self, rules: NestingRules, bounds: Bounds, heaviest: float) -> None:
        """Look for the narrowest mast, from the narrowest tubes on; one as wide as the best must be lighter."""
        widths = sorted({round(tube.diameter_m, 8) for tube in self.tubes})
        widest = math.inf if self.best is None else max(t.diameter_m for t in self.best.tubes)
        before = self.best
        for width in widths:
            if width > widest + HAIR:
                return
            some = [tube for tube in self.offers if tube.diameter_m <= width + HAIR]
            as_wide = self.best is not None and width > widest - HAIR
            cap = self.best.weighed * (1 - HAIR) if as_wide and self.best is not None else math.inf
            self._nested(rules, bounds, some, min(cap, heaviest))
            if self.best is not before:
                return

    def _first_of(self, nests: Sequence[Nest], jury: Jury) -> None:
        """Try masts from the lightest on, until one passes the check itself."""
        fast = jury.only(self.fast) if len(self.fast) < len(self.cases) else None
        size = CHUNK
        for start in range(0, len(nests), size):
            some = list(nests[start : start + size])
            if fast is not None:
                quick = fast.trial(_outline(some, self.rules.length_m))
                self.watch.count(len(some), self.material, self._best_kg())
                some = _that_may_pass(some, quick)
            if not some:
                continue
            for bent in (False, True):
                trial = jury.trial(_outline(some, self.rules.length_m), bent=bent)
                self.watch.count(len(some), self.material, self._best_kg())
                some = _that_may_pass(some, trial)
                if not some:
                    break
            for nest in some:
                result = check(nest.rig(self.rig, self.material))
                if result.passed:
                    self._is_best(nest, result, nests[: nests.index(nest)])
                    return

    def _best_kg(self) -> float | None:
        if self.best is None:
            return None
        ends = [0.0, *self.best.joints_m, self.rules.length_m]
        tails = (0.0, *self.best.tails_m)
        return sum(
            self.kg_per_m(tube) * (high - low + tail)
            for tube, low, high, tail in zip(self.best.tubes, ends, ends[1:], tails, strict=False)
        )

    def _is_best(self, nest: Nest, result: CheckResult, before: Sequence[Nest]) -> None:
        """Take a mast as the best; of those tried before it the last is the next lighter."""
        self.best, self.result = nest, result
        lighter = [other for other in (*before[-1:], *self.alone) if other.weighed < nest.weighed - HAIR]
        self.lighter = max(lighter, key=lambda other: other.weighed, default=None)


def _that_may_pass(nests: Sequence[Nest], trial: Trial) -> list[Nest]:
    may = (trial.used <= NEARLY) & (trial.asked <= 1.0)
    return [nest for nest, kept in zip(nests, may, strict=True) if kept]


def _key(tube: TubeSize) -> tuple[float, float]:
    return round(tube.diameter_m, 8), round(tube.wall_m, 8)


def _outline(nests: Sequence[Nest], length_m: float) -> Outline:
    joints = np.array([nest.joints_m for nest in nests]).reshape(len(nests), -1)
    tails = np.array([nest.tails_m for nest in nests]).reshape(len(nests), -1)
    return nested_outline([nest.tubes for nest in nests], joints, tails, length_m)


def _that_govern(cases: tuple[Case, ...], trial: Trial) -> tuple[Case, ...]:
    """Return the cases that govern most of the tubes that are neither far too weak nor far too strong."""
    by_case = np.max([u.utilisation for u in trial.uses if u.utilisation.shape[0] == len(cases)], axis=0)
    near = (trial.used > 0.3) & (trial.used < 3.0)
    governs = np.argmax(by_case[:, near] if np.any(near) else by_case, axis=0)
    often = np.bincount(governs, minlength=len(cases))
    first = np.argsort(-often, kind="stable")[:FAST_CASES]
    return tuple(case for i, case in enumerate(cases) if i in first and often[i])
