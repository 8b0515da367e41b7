"""A cord over two fixed pegs.

Source: R. C. Hibbeler, Engineering Mechanics: Statics, Example 8.9, p. 324, as reworked in a public companion
notebook, which was read; the book was not.
"""

from __future__ import annotations

import math

import pytest

from rigcalc.formulas.furling import capstan_pull

from .record import Published, Source

SOURCE = Source("Hibbeler, Statics", "furling", "second hand")


def mass_kg() -> float:
    """The 500 N at the hand are passed on by two pegs with 3 pi/4 on each."""
    wrap = float(capstan_pull(F=1.0, mu=0.25, theta=3 * math.pi / 4))
    return 500.0 / wrap**2 / 9.81


CHECKS: list[Published] = [Published("Ex. 8.9, p. 324", "greatest mass", 15.7, "kg", mass_kg, 0.05)]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
