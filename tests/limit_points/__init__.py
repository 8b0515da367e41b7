"""Limits taken by themselves: what they hold at every point, and what they tell at whatever use."""

from __future__ import annotations

import math
import re

from rigcalc.formulas import Working
from rigcalc.limits import Internal
from rigcalc.limits.record import Limit
from rigcalc.rig import Rig
from rigcalc.verdict import cases_of
from rigcalc.verdict.evaluate import Run, evaluate, internal_of

USES = [1.0 + i / 37 for i in range(1, 112)]
"""Utilisations from just over 1 to 4, none of them round."""


def solved(rig: Rig) -> tuple[Run, Internal]:
    cases, _ = cases_of(rig, None)
    run = evaluate(rig, cases, Working())
    return run, internal_of(run.model, run.solved)


def limit_of(run: Run, id: str, layer: str = "tube") -> Limit:
    (one,) = (limit for limit in run.limits if (limit.id, limit.layer) == (id, layer))
    return one


def told(pattern: str, advice: str) -> list[float]:
    match = re.search(pattern, advice)
    assert match is not None, f"{pattern!r} is not in {advice!r}"
    return [float(number) for number in match.groups()]


def least(value: float, step: float) -> float:
    """Return the least multiple of a step that is not below a value; a hair above it counts as it."""
    return math.ceil(value / step - 1e-6) * step
