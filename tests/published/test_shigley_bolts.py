"""Four bolts under an eccentric force in their plane.

Source: Shigley's Mechanical Engineering Design, Example 8-7: 16 kN at 425 mm from the middle of bolts 150 mm apart
along the bar and 120 mm across it. The example and its answers are from memory; nothing of it was read.
"""

from __future__ import annotations

import pytest

from rigcalc.bearings import BoltForces, bolt_forces

from .record import Published, Source

SOURCE = Source("Shigley's Mechanical Engineering Design", "bearings", "from memory")


def forces() -> BoltForces:
    forward, side = (0.075, 0.075, -0.075, -0.075), (0.060, -0.060, 0.060, -0.060)
    return bolt_forces(forward, side, force_N=(0.0, 16e3), at_m=(0.425, 0.0))


def shear_kN(bolt: int) -> float:
    x, y = forces().shear_N[:, bolt]
    return float((x**2 + y**2) ** 0.5) / 1e3


CHECKS: list[Published] = [
    Published("Ex. 8-7", "bolts nearer the load", 21.0, "kN", lambda: shear_kN(0), 0.05, "value from memory"),
    Published("Ex. 8-7", "bolts farther from it", 14.8, "kN", lambda: shear_kN(3), 0.05, "value from memory"),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
