"""Length of a strip wound on a core.

Source: question 841606, www.algebra.com, read: a strip of 0.005 cm makes a roll of 60 cm on a core of 8 cm.
"""

from __future__ import annotations

import math

import pytest

from rigcalc.formulas.sails import roll_diameter, roll_turns

from .record import Published, Source

SOURCE = Source("algebra.com, question 841606", "furling", "read")

CORE_CM, OUTSIDE_CM, THICKNESS_CM = 8.0, 60.0, 0.005
LENGTH_M = 5554.34


def outside_cm() -> float:
    return float(roll_diameter(D_0=CORE_CM, L=LENGTH_M * 100, t=THICKNESS_CM))


def length_m() -> float:
    """Turns times the circumference of the middle one."""
    turns = roll_turns(D_0=CORE_CM, L=LENGTH_M * 100, t=THICKNESS_CM)
    return float(turns * math.pi * (CORE_CM + OUTSIDE_CM) / 2) / 100


CHECKS: list[Published] = [
    Published(
        "answer 841606",
        "diameter of the roll, from the length it prints",
        OUTSIDE_CM,
        "cm",
        outside_cm,
        0.5 * 2 * THICKNESS_CM / (math.pi * OUTSIDE_CM),
        "half a unit of the last digit of the length, 0.5 cm, spread over the roll",
    ),
    Published("answer 841606", "length, by the turns and the middle one", LENGTH_M, "m", length_m, 0.005),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
