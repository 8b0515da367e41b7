"""Many masts at once, held against the same masts one by one."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from rigcalc.formulas import Working
from rigcalc.rig import Rig
from rigcalc.rigfile import load_rig
from rigcalc.structure.outline import Outline
from rigcalc.verdict import cases_of
from rigcalc.verdict.evaluate import Run, evaluate
from rigcalc.verdict.many import ManyRun, Stand, evaluate_many, stand_of

EXAMPLES = Path(__file__).parents[2] / "examples"
NOTHING = 1e-7
"""Utilisation that is none: of a moment or thrust of rounding alone."""


def example(name: str) -> Rig:
    return load_rig(EXAMPLES / f"{name}.toml")


def stand(rig: Rig, *, without: Sequence[str] = ()) -> Stand:
    """Return a rig made ready, without the cases of some kinds."""
    cases, _ = cases_of(rig, None)
    return stand_of(rig, [case for case in cases if case.kind not in without])


def by_key(run: Run) -> dict[tuple[str, str, str], float]:
    """Return the greatest utilisation by limit, layer and case; what has no answer is infinite."""
    found: dict[tuple[str, str, str], float] = {}
    for check in run.checks:
        key = (check.id, check.layer, check.case)
        used = check.utilisation if np.isfinite(check.utilisation) else np.inf
        found[key] = max(used, found.get(key, 0.0))
    return found


def by_key_of_many(run: ManyRun, i: int) -> dict[tuple[str, str, str], float]:
    """Return the same of one of many masts."""
    found = {}
    for use in run.uses:
        for case, used in zip(run.cases, use.utilisation[:, i].tolist(), strict=True):
            found[use.id, use.layer, case] = used if np.isfinite(used) else np.inf
    return found


def assert_alike(
    stand: Stand, outline: Outline, rig_of: Callable[[int], Rig], *, rel: float = 1e-6
) -> NDArray[np.float64]:
    """Hold many masts against the same one by one, bent and unbent; return the greatest utilisation of each."""
    bent, quick = evaluate_many(stand, outline, bent=True), evaluate_many(stand, outline)
    for i in range(len(outline.forward_m)):
        known = by_key(evaluate(rig_of(i), stand.cases, Working()))
        known = {key: used for key, used in known.items() if key[1] != "post"}
        for run in (bent, quick):
            found = by_key_of_many(run, i)
            # a limit that is not there for one mast of many is none for it
            assert known.keys() <= found.keys()
            for key, used in found.items():
                one = known.get(key, 0.0)
                assert used <= max(one * (1 + rel), NOTHING), (i, key, used, one)
                if run is bent:
                    assert used >= one * (1 - rel) - NOTHING, (i, key, used, one)
    return np.asarray(bent.greatest)
