"""The lightest mast of staves or laminate: differential evolution over its sizes, then a walk to where no step pays.

Sizes are steps a builder can make, so the search is one over whole numbers. Differential evolution tries a population
of masts at once by straight theory; a mast that fails is weighed as if it had been made as much larger as it fails by.
The cases that govern none of the first population are left aside meanwhile. From the best of all, the walk tries
every mast some steps away, in one size or two, with the bent mast and in every case, and goes on until none
that passes is better. It ends at a mast beside which no other is better: what lies farther off was searched by
chance, repeatably, and may hide a better one.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import permutations, product

import numpy as np
from numpy.typing import NDArray

from ...frozen import dataclass
from ...rig import Case
from ...verdict.many import stand_of
from .asked import CHUNK, Jury, Trial, sizing_of
from .makes import Space
from .watch import Watch

Floats = NDArray[np.float64]
Whole = NDArray[np.intp]

POPULATION = 40
GENERATIONS = 40
STEEP = 2.5
"""Power of the utilisation with which a failing mast is weighed: steeper than mass grows with what it bears, which
is as the power 2/3 of a solid bar and 1 of a wall."""
GOVERNS = 0.6
"""Share of the greatest utilisation from which a case may yet come to govern."""
STEPS = (-8, -5, -3, -2, -1, 1, 2, 3, 5, 8)
AGAINST = (1, 2, 4, 8, 12)
"""A ply or a millimetre of wall is worth several steps of diameter."""
PASSES = 1.0 - 1e-7
"""Utilisation up to which a mast is taken to pass: many at once are solved a little less sharply than one."""


@dataclass(frozen=True)
class Found:
    """Where a search ended.

    Parameters
    ----------
    row : ndarray of int
        Sizes of the best mast.
    used : float
        Its greatest utilisation; at most 1 where it passes.
    finished : bool
        Whether the walk came to its end.
    """

    row: Whole
    used: float
    finished: bool

    @property
    def passes(self) -> bool:
        return self.used <= PASSES


def search(
    space: Space,
    cases: tuple[Case, ...],
    watch: Watch,
    *,
    least: Whole | None = None,
    most: Whole | None = None,
) -> Found:
    """Search the masts of one construction.

    Parameters
    ----------
    space : Space
        What may be built.
    cases : tuple of Case
        What it must stand.
    watch : Watch
        Is told how far it is.
    least, most : ndarray of int, optional
        Smallest and largest number of every size.

    Returns
    -------
    Found
        The best mast; where none passes, the one that came nearest.
    """
    jury = Jury(stand_of(space.rig, cases), sizing_of(space.rig))
    walk = _Walk(space, jury, watch, least, most)
    try:
        walk.evolve(cases)
        walk.settle()
    except KeyboardInterrupt:
        if walk.best is None:
            raise
        if np.isinf(walk.used):
            # broken off before it was solved bent, in every case
            walk.used = float(jury.trial(space.outline(walk.best[None]), bent=True).used[0])
        return Found(walk.best, walk.used, finished=False)
    assert walk.best is not None
    return Found(walk.best, walk.used, finished=True)


class _Walk:
    """The best mast so far and the way on from it."""

    def __init__(
        self, space: Space, jury: Jury, watch: Watch, least: Whole | None, most: Whole | None
    ) -> None:
        self.space, self.jury, self.watch = space, jury, watch
        self.low = np.zeros(len(space.free), dtype=np.intp) if least is None else least
        self.high = space.last if most is None else most
        self.best: Whole | None = None
        self.used, self.weight = np.inf, np.inf
        self._least_worth = np.inf

    def _rows(self, rows: Floats) -> Whole:
        whole = np.clip(np.rint(rows).astype(np.intp), self.low, self.high)
        return self.space.repaired(whole)

    def _try(self, jury: Jury, rows: Whole, *, bent: bool = False) -> tuple[Trial, Floats]:
        trial = jury.trial(self.space.outline(rows), bent=bent)
        self.watch.count(len(rows), self.space.material, self.weight if self.used <= PASSES else None)
        return trial, jury.weight(trial)

    def evolve(self, cases: tuple[Case, ...]) -> None:
        """Let a population of masts evolve, by straight theory."""
        from scipy.optimize import differential_evolution

        seed = self.jury.sizing.seed
        first = np.random.default_rng(seed).uniform(self.low, self.high, (POPULATION, self.low.size))
        trial = self._evolved(self.jury, self._rows(first))[0]
        jury = self.jury.only(_that_may_govern(cases, trial))
        self._least_worth = np.inf  # fewer cases ask for less: what was tried in all of them is weighed anew

        def worth(population: Floats) -> Floats:
            return self._evolved(jury, self._rows(population.T))[1]

        found = differential_evolution(
            worth,
            list(zip(self.low - 0.49, self.high + 0.49, strict=True)),
            init=first,
            maxiter=GENERATIONS,
            tol=1e-3,
            mutation=(0.4, 0.9),
            recombination=0.8,
            seed=np.random.default_rng(seed),
            polish=False,
            updating="deferred",
            vectorized=True,
            integrality=np.ones(len(self.low), dtype=bool),
        )
        self.best = self._rows(found.x[None])[0]

    def _evolved(self, jury: Jury, rows: Whole) -> tuple[Trial, Floats]:
        """Try masts of a population, and note the best of all so far, which is what is had if no more is tried."""
        trial = jury.trial(self.space.outline(rows))
        worth = _worth(jury.weight(trial), trial.used)
        i = int(np.argmin(worth))
        if self.best is None or worth[i] < self._least_worth:
            self.best, self._least_worth = rows[i], float(worth[i])
        self.watch.count(len(rows), self.space.material, None)
        return trial, worth

    def settle(self) -> None:
        """Walk until no mast nearby is better; every mast on the way is solved bent, in every case."""
        assert self.best is not None
        trial, weight = self._try(self.jury, self.best[None], bent=True)
        self.used, self.weight = float(trial.used[0]), float(weight[0])
        while (better := self._better()) is not None:
            self.best, self.used, self.weight = better

    def _better(self) -> tuple[Whole, float, float] | None:
        """Return the best mast around that is better than this one."""
        assert self.best is not None
        rows = np.unique(self._rows(self.best + np.array(list(_moves(self.best.size)))), axis=0)
        rows = rows[np.any(rows != self.best, axis=1)]
        if self.used <= PASSES and len(rows):
            rows = rows[self.jury.weigh(self.space.outline(rows)) < self.weight * (1 - 1e-9)]
        if not len(rows):
            return None
        trial, weight = self._try(self.jury, rows)
        if self.used > PASSES:
            # none passes yet: first those that pass unbent, then towards the one nearest to it
            order = np.lexsort(
                (np.where(trial.used <= PASSES, weight, _worth(weight, trial.used)), trial.used > PASSES)
            )
            order = order[: CHUNK // 2]
        else:
            order = np.argsort(weight, kind="stable")
            order = order[(trial.used[order] <= PASSES) & (weight[order] < self.weight * (1 - 1e-9))]
        for start in range(0, order.size, CHUNK // 8):
            some = order[start : start + CHUNK // 8]
            bent, its = self._try(self.jury, rows[some], bent=True)
            if np.any(bent.used <= PASSES):
                i = int(np.argmax(bent.used <= PASSES))
                return rows[some[i]], float(bent.used[i]), float(its[i])
            if self.used > PASSES:
                i = int(np.argmin(bent.used))
                if bent.used[i] < self.used * (1 - 1e-9):
                    return rows[some[i]], float(bent.used[i]), float(its[i])
        return None


def _worth(weight: Floats, used: Floats) -> Floats:
    """Return what masts are weighed as; one without an answer is the worst of all, but still a number."""
    return np.asarray(weight * np.minimum(np.maximum(used, 1.0), 1e3) ** STEEP)


def _that_may_govern(cases: tuple[Case, ...], trial: Trial) -> tuple[Case, ...]:
    by_case = np.max([u.utilisation for u in trial.uses if u.utilisation.shape[0] == len(cases)], axis=0)
    by_case = np.where(np.isfinite(by_case), by_case, np.inf)
    greatest = np.max(by_case, axis=0)
    kept = np.any(by_case >= GOVERNS * np.where(np.isfinite(greatest), greatest, 0.0), axis=1)
    return tuple(case for case, keep in zip(cases, kept, strict=True) if keep)


def _moves(sizes: int) -> Iterator[tuple[int, ...]]:
    """Yield steps: of one size; of two together; of one against another by more; of all together."""
    for i, step in product(range(sizes), STEPS):
        yield tuple(step if j == i else 0 for j in range(sizes))
    for i, k in permutations(range(sizes), 2):
        for a, b in product((-1, 1), AGAINST):
            yield tuple(a if j == i else -a * b if j == k else 0 for j in range(sizes))
        for a in (-1, 1):
            yield tuple(a if j in (i, k) else 0 for j in range(sizes))
    for step in (-1, 1):
        yield (step,) * sizes
