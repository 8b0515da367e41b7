"""Stress in a long bent tube when it flattens.

Source: S. Kyriakides and P. K. Shaw, Int. J. Solids Structures 18 (1982) 957-973, notation list, read in
a poor scan.
"""

from __future__ import annotations

import math

import pytest

from rigcalc.formulas.sections import bending_stress
from rigcalc.formulas.shells import brazier_moment

from .record import Published, Source

SOURCE = Source(
    "Kyriakides and Shaw 1982",
    "walls and holes",
    "read",
    differs=(
        "An encyclopaedia page has a moment of flattening in force times length squared; its dimensions "
        "are wrong and it is not used.",
    ),
)


def limit_stress() -> float:
    """Return the bending stress at the limit moment, over E (t/r)/sqrt(1 - nu2)."""
    r, t, nu = 1.0, 0.01, 0.3
    round_section = math.pi * r**3 * t
    nominal = bending_stress(M=brazier_moment(E=1.0, r=r, t=t, nu=nu), y=r, I=round_section)
    # at the limit the tube is flattened by 2/9 of r and keeps 2/3 of its stiffness: Brazier 1927, from memory
    return float(nominal * (7 / 9) / (2 / 3) / (t / r) * math.sqrt(1 - nu**2))


CHECKS: list[Published] = [
    Published(
        "notation list",
        "limit stress over E (t/r)/sqrt(1 - nu2)",
        0.367,
        "1",
        limit_stress,
        0.0005,
        "half a unit of the last digit printed; 2/9 flattening and 2/3 stiffness at the limit from memory",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
