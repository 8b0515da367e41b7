"""Euler's columns, by the beam engine.

Source: Euler's formula in J. M. Gere and B. J. Goodno, Mechanics of Materials, 7th ed., 11.4, and the
instructor's solutions to problems 11.4-1 and 11.4-2; single pages were read.
"""

from __future__ import annotations

import numpy as np
import pytest

from rigcalc.structure.modes import critical_axial_load

from ..structure import clamped, on_bearings
from .record import Published, Source

SOURCE = Source("Gere and Goodno, Mechanics of Materials", "frequencies and instability", "read")


def pinned() -> float:
    """Critical load over EI/L^2: the mast between its bearings, with nothing on the rest."""
    mast = on_bearings(1.0, length_m=1.3)
    force = 1 - mast.above
    found = critical_axial_load(mast.mesh, mast.one, force, 0 * force, mast.supports)
    assert found.converged
    return float(found.values[0])


def free_standing() -> float:
    mast = clamped()
    found = critical_axial_load(mast.mesh, mast.stiff_bury(mast.one), mast.one, 0 * mast.one, mast.supports)
    assert found.converged
    return float(found.values[0])


def EI_over_L2(E: float, outside: float, bore: float, length: float) -> float:
    return E * np.pi / 64 * (outside**4 - bore**4) / length**2


ALUMINIUM_KIP = EI_over_L2(10_400.0, 6.0, 5.0, 120.0)
STEEL_KN = EI_over_L2(210.0, 40.0, 36.0, 1200.0)

CHECKS: list[Published] = [
    Published("11.4-1", "pinned column", 235.0, "kip", lambda: ALUMINIUM_KIP * pinned(), 0.5),
    Published("11.4-1", "free-standing column", 58.7, "kip", lambda: ALUMINIUM_KIP * free_standing(), 0.05),
    Published("11.4-2", "pinned column", 62.2, "kN", lambda: STEEL_KN * pinned(), 0.05),
    Published("11.4-2", "free-standing column", 15.6, "kN", lambda: STEEL_KN * free_standing(), 0.05),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
