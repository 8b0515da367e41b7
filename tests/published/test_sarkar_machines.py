"""A rope round a drum, and a flat pivot.

Source: B. K. Sarkar, Theory of Machines, Illustrations 7 (p. 62) and 11 (p. 109), as reworked in a public
companion notebook, which was read; the book was not.
"""

from __future__ import annotations

import math

import pytest

from rigcalc.formulas.bearings import friction_power
from rigcalc.formulas.furling import capstan_pull
from rigcalc.formulas.thrust import even_pressure_arm, face_friction_torque

from .record import Published, Source

SOURCE = Source(
    "Sarkar, Theory of Machines",
    "bearings",
    "second hand",
    differs=(
        "The notebook takes pi as 3.141 and e as 2.71 in one example and pi as 3.147 in the other: 132.4 "
        "N and 524.5 W, where full constants give 130.5 N and 523.6 W. The second is printed as 523.6 W "
        "by Khurmi and Gupta.",
    ),
)


def held_N(*, pi: float = math.pi, e: float = math.e) -> float:
    """Pull that holds the load: what draws it is the load itself."""
    # e to some angle is exp(angle log e)
    return 9810.0 / float(capstan_pull(F=1.0, mu=0.25, theta=2.75 * 2 * pi * math.log(e)))


def pivot_W(*, pi: float = math.pi) -> float:
    torque = face_friction_torque(mu=0.05, N=20e3, R_m=even_pressure_arm(R_2=0.075, R_1=0.0))
    return float(friction_power(T=torque, n=100 / 60)) * pi / math.pi


CHECKS: list[Published] = [
    Published(
        "Ill. 7, p. 62",
        "pull that holds 9810 N by 2.75 turns",
        132.4,
        "N",
        lambda: held_N(pi=3.141, e=2.71),
        0.05,
        "half a unit of the last digit printed, with e as 2.71 and pi as 3.141 as in the notebook",
        in_full=held_N,
    ),
    Published(
        "Ill. 11, p. 109",
        "power of a flat pivot, even pressure",
        524.5,
        "W",
        lambda: pivot_W(pi=3.147),
        0.05,
        "half a unit of the last digit printed, with pi as 3.147 as in the notebook",
        in_full=pivot_W,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
