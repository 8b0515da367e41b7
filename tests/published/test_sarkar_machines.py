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

from .record import Published


def held_N() -> float:
    """Pull that holds the load: what draws it is the load itself."""
    return 9810.0 / float(capstan_pull(F=1.0, mu=0.25, theta=2.75 * 2 * math.pi))


def pivot_W() -> float:
    torque = face_friction_torque(mu=0.05, N=20e3, R_m=even_pressure_arm(R_2=0.075, R_1=0.0))
    return float(friction_power(T=torque, n=100 / 60))


CHECKS: list[Published] = [
    Published(
        "Ill. 7, p. 62",
        "pull that holds 9810 N by 2.75 turns",
        132.4,
        "N",
        held_N,
        2.0,
        "the notebook takes e as 2.71 and pi as 3.141, which gives 132.35",
    ),
    Published(
        "Ill. 11, p. 109",
        "power of a flat pivot, even pressure",
        524.5,
        "W",
        pivot_W,
        1.0,
        "the notebook takes pi as 3.147",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()


def test_the_notebooks_own_constants_give_its_figures() -> None:
    wrap = 2.71 ** (0.25 * 2 * 3.141 * 2.75)
    assert held_N() * math.exp(0.25 * 2 * math.pi * 2.75) / wrap == pytest.approx(132.4, abs=0.1)
    assert pivot_W() * 3.147 / math.pi == pytest.approx(524.5, abs=0.05)
