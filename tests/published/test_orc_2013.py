"""Lift, drag and resultant of a mainsail by apparent wind angle.

Source: ORC VPP Documentation 2013, mainsail, high set, as transcribed in model.py of the public package
ydeos_aerodynamics, commit 8f42a49, read (the document itself was not). Lift and drag are its values at the
angles it tabulates; the resultants are not printed there but worked out from them, to two digits after the
point. A sail of no area has no induced drag, so that the table's own values come back.
"""

from __future__ import annotations

import math

import pytest

from rigcalc.formulas import Working
from rigcalc.formulas.sails import driving_coefficient, heeling_coefficient
from rigcalc.loads.coefficients import SailForce, sail_force

from .record import Published, Source

SOURCE = Source("ORC VPP Documentation 2013", "wind and sails", "second hand")

TABLE = (
    # angle in deg, lift, drag, resultant
    (0, 0.0, 0.034, 0.034),
    (7, 0.948, 0.017, 0.95),
    (9, 1.138, 0.015, 1.14),
    (12, 1.250, 0.015, 1.25),
    (28, 1.427, 0.026, 1.43),
    (60, 1.269, 0.113, 1.27),
    (90, 1.125, 0.383, 1.19),
    (120, 0.838, 0.969, 1.28),
    (150, 0.296, 1.316, 1.35),
    (180, -0.112, 1.345, 1.35),
)


def force_at(angle_deg: float) -> SailForce:
    return sail_force(
        "orc-2013-high",
        apparent_wind_angle_rad=math.radians(angle_deg),
        area_m2=0.0,
        height_m=1.0,
        working=Working(),
    )


def lift_at(angle_deg: float) -> float:
    # side force and drive turned back into lift and drag: the same turn undoes itself
    force = force_at(angle_deg)
    return float(heeling_coefficient(C_L=force.side, C_D=force.forward, beta=math.radians(angle_deg)))


def drag_at(angle_deg: float) -> float:
    force = force_at(angle_deg)
    return float(driving_coefficient(C_L=force.side, C_D=force.forward, beta=math.radians(angle_deg)))


EXACT = "as tabulated, apart from rounding"
CHECKS: list[Published] = [
    check
    for angle, lift, drag, resultant in TABLE
    for check in (
        Published(
            "mainsail, high",
            f"lift at {angle} deg",
            lift,
            "1",
            lambda a=angle: lift_at(a),
            1e-12,
            EXACT,
            kind="table",
        ),
        Published(
            "mainsail, high",
            f"drag at {angle} deg",
            drag,
            "1",
            lambda a=angle: drag_at(a),
            1e-12,
            EXACT,
            kind="table",
        ),
        Published(
            "mainsail, high",
            f"resultant at {angle} deg",
            resultant,
            "1",
            lambda a=angle: force_at(a).resultant,
            0.005 if lift else 0.0005,
            "worked out from the lift and drag tabulated, to two digits after the point, three at 0 deg",
            kind="worked out",
        ),
    )
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
