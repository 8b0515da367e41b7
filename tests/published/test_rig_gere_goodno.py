"""A sign pole under bending, thrust and torque, and columns, as rig files.

Source: J. M. Gere and B. J. Goodno, Mechanics of Materials, 7th ed., instructor's solutions to problems
8.5-17 and 11.4-1; single pages were read. The pole: 10.5 in outside, 8.5 in bore, 840 lb of wind 40.5 ft
up, 4.5 kip down and 44.73 kip in of torque. All loads are taken at a millionth, so that the pole
stands straight as the book has it, and the stresses a millionfold.
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from scipy.constants import foot, inch, pound_force, psi

from rigcalc.limits import Check

from ..test_loads import E_PA, case_text, run
from .record import Published, Source

SOURCE = Source("Gere and Goodno, Mechanics of Materials", "sections and stress", "read")

SCALE = 1e-6
BURY_M, HEIGHT_M = 1.0, 40.5 * foot
TUBE: dict[str, Any] = {
    "stations": tuple((z, 10.5 * inch, 1.0 * inch) for z in (0.0, BURY_M + HEIGHT_M)),
    "bury_m": BURY_M,
}
AREA_IN2 = 29.845


def pole(id: str, *, torque: bool = True) -> Check:
    case = case_text(
        "given",
        f'point_load = [{{height = "{BURY_M + HEIGHT_M!r} m", side = "{840 * SCALE * pound_force!r} N"}}]',
        f'axial = "{4500 * SCALE * pound_force!r} N"',
        f'torque = "{4.473e4 * SCALE * pound_force * inch * torque!r} N m"',
    )
    return next(c for c in run(case, **TUBE).checks if c.id == id)


def tension_side_psi() -> float:
    compressed = pole("wall-class").demand / SCALE / psi
    return compressed - 2 * 4500 / AREA_IN2


def twist_psi() -> float:
    twisted, straight = (pole("yield", torque=t).demand / SCALE / psi for t in (True, False))
    return math.sqrt((twisted**2 - straight**2) / 3)


FOOT_M = 0.05


def free_column_kip() -> float:
    """Return the load of a column whose foot is held by two bearings 50 mm apart, all but clamped."""
    bury = FOOT_M
    column = tuple((z, 6 * inch, 0.5 * inch) for z in (0.0, bury + 120 * inch))
    critical = run(case_text("knockdown"), stations=column, bury_m=bury).mast.axial_stability_N
    return critical / pound_force / 1e3 * (10_400e3 * psi) / E_PA


SECTION = "computed from the published section and loads, to the digits shown"

CHECKS: list[Published] = [
    Published(
        "8.5-17",
        "direct stress on the tension side, by a rig file",
        6145.0,
        "psi",
        tension_side_psi,
        0.5,
        SECTION,
        kind="worked out",
    ),
    Published(
        "8.5-17",
        "shear stress of the torque, by a rig file",
        345.0,
        "psi",
        twist_psi,
        0.5,
        SECTION,
        kind="worked out",
    ),
    Published(
        "11.4-1",
        "free-standing column, by a rig file",
        58.7,
        "kip",
        # kL tan(kL) = 3 L/b, so that kL is pi/2 over 1 + b/3L to the first order
        lambda: free_column_kip() * (1 + FOOT_M / (3 * 120 * inch)) ** 2,
        0.05,
        "half a unit of the last digit printed, once the give of a foot held by two bearings 50 mm apart is made good",
        in_full=free_column_kip,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
