"""How sure a verdict is, held against `check` itself, against closed forms and against plain trials."""

from __future__ import annotations

import math
from dataclasses import fields, replace
from pathlib import Path

from rigcalc.rig import Doubts, Rig
from rigcalc.rigfile import load_rig, read_rig

EXAMPLES = Path(__file__).parents[2] / "examples"
NONE = {f.name: 0.0 for f in fields(Doubts) if f.name not in ("samples", "seed")}
LOADS = (EXAMPLES / "given_loads.toml").read_text(encoding="utf-8")


def example(name: str) -> Rig:
    return load_rig(EXAMPLES / f"{name}.toml")


def with_doubt(rig: Rig, *, samples: int = 2000, seed: int = 1, **spreads: float) -> Rig:
    """Return a rig of which nothing is in doubt but what is said."""
    return replace(rig, doubt=Doubts(**{**NONE, **spreads}, samples=samples, seed=seed))


def pushed(side_N: float, more: str = "") -> Rig:
    """Return the plain tube pushed sideways at its tip."""
    text = LOADS.replace('side = "100 N"', f'side = "{side_N} N"')
    assert text != LOADS or side_N == 100.0
    return read_rig(text + more)


def sigma(spread: float) -> float:
    return math.sqrt(math.log1p(spread**2))
