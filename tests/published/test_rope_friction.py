"""A rope round a fixed bar.

Source: Engineering Mechanics 1, exercise 27, rope friction, pickedshares.com, read: 100 kg, friction 0.2, three
quarters of a turn.
"""

from __future__ import annotations

import math

import pytest

from rigcalc.formulas.furling import capstan_pull

from .record import Published, Source

SOURCE = Source("a page of exercises, pickedshares.com", "furling", "read")


def held_N() -> float:
    return 100 * 9.81 / float(capstan_pull(F=1.0, mu=0.2, theta=3 * math.pi / 2))


CHECKS: list[Published] = [Published("exercise 27", "pull that holds the mass", 382.26, "N", held_N, 0.005)]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
