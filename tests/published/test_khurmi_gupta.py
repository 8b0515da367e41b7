"""Friction of pivots, collars, a cone and a journal.

Source: R. S. Khurmi and J. K. Gupta, Theory of Machines, Examples 10.15 (p. 286), 10.16 (p. 288), 10.17
(p. 292) and 10.19 (p. 295), as reworked in a public companion notebook, which was read; the book was not.
"""

from __future__ import annotations

import math

import pytest

from rigcalc.formulas.bearings import friction_power, journal_friction_torque
from rigcalc.formulas.thrust import (
    cone_friction_torque,
    even_pressure_arm,
    even_thrust_pressure,
    even_wear_arm,
    face_friction_torque,
)

from .record import Published, Source

SOURCE = Source("Khurmi and Gupta, Theory of Machines", "bearings", "second hand")


def journal_W() -> float:
    torque = journal_friction_torque(mu=0.03, F=2000.0, D=0.060)
    return float(friction_power(T=torque, n=1440 / 60))


def pivot_W() -> float:
    torque = face_friction_torque(mu=0.05, N=20e3, R_m=even_pressure_arm(R_2=0.075, R_1=0.0))
    return float(friction_power(T=torque, n=100 / 60))


def cone_inner_m() -> float:
    """Radius at which the truncated cone, twice as wide outside, bears 0.3 N/mm2."""
    return math.sqrt(even_thrust_pressure(N=20e3, R_2=2.0, R_1=1.0) / 0.3e6)


def cone_kW() -> float:
    arm = even_pressure_arm(R_2=2 * cone_inner_m(), R_1=cone_inner_m())
    torque = cone_friction_torque(mu=0.1, N=20e3, R_m=arm, alpha=math.radians(60))
    return float(friction_power(T=torque, n=200 / 60)) / 1e3


def collars_kW(arm_m: float) -> float:
    return float(friction_power(T=face_friction_torque(mu=0.12, N=100e3, R_m=arm_m), n=90 / 60)) / 1e3


CHECKS: list[Published] = [
    Published("Ex. 10.15, p. 286", "power of a journal", 271.4, "W", journal_W, 0.05),
    Published("Ex. 10.16, p. 288", "power of a flat pivot, even pressure", 523.6, "W", pivot_W, 0.05),
    Published("Ex. 10.17, p. 292", "inner radius of the cone", 84.0, "mm", lambda: cone_inner_m() * 1e3, 0.5),
    Published(
        "Ex. 10.17, p. 292", "outer radius of the cone", 168.0, "mm", lambda: 2 * cone_inner_m() * 1e3, 0.5
    ),
    Published("Ex. 10.17, p. 292", "power of the cone, even pressure", 6.328, "kW", cone_kW, 0.0005),
    Published(
        "Ex. 10.19, p. 295",
        "power of the collars, even pressure",
        26.4,
        "kW",
        lambda: collars_kW(float(even_pressure_arm(R_2=0.3, R_1=0.15))),
        0.05,
    ),
    Published(
        "Ex. 10.19, p. 295",
        "power of the collars, even wear",
        25.45,
        "kW",
        lambda: collars_kW(float(even_wear_arm(R_2=0.3, R_1=0.15))),
        0.005,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
