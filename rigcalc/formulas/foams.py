"""Foam cores."""

from __future__ import annotations

import numpy as np

from .record import One, Pascal, Range, formula


@formula(
    "sigma_d",
    unit="Pa",
    source="strength of a core over a factor; ISO 12215-5 allows half of its shear strength, from memory",
    ranges=(Range("gamma", lambda gamma, **_: gamma, 1.0, np.inf, "refuse", "a factor takes strength away"),),
)
def core_design_stress(f: Pascal, gamma: One) -> Pascal:
    """Stress that a foam may bear."""
    return f / gamma
