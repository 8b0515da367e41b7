"""Two cylinders in axial compression.

Source: a "Shell Buckling" guide page of an open aerospace-structures library that cites NASA SP-8007
(1968, Rev 2 2020); the page was read, SP-8007 itself was not. The guide does not print every input: E and
nu are inferred, 68.9 GPa and 0.33 for the first cylinder and 73.1 GPa and 0.33 for the second.
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.shells import axial_knockdown, cylinder_classical_stress

from .record import Published, Source

SOURCE = Source("a guide page to NASA SP-8007", "walls and holes", "read")


def classical_MPa(E_MPa: float, slenderness: float) -> float:
    return float(cylinder_classical_stress(E=E_MPa, t=1.0, r=slenderness, nu=0.33))


def knockdown(slenderness: float) -> float:
    return float(axial_knockdown(r=slenderness, t=1.0))


FIRST = "half a unit of the last digit printed; E 68.9 GPa and nu 0.33 are inferred"
SECOND = "half a unit of the last digit printed and of r/t 79.7, 0.06 %; E 73.1 GPa and nu 0.33 are inferred"

CHECKS: list[Published] = [
    Published(
        "6061-T6, r/t 400",
        "classical stress",
        105.4,
        "MPa",
        lambda: classical_MPa(68.9e3, 400),
        0.05,
        FIRST,
        kind="inferred",
    ),
    Published("6061-T6, r/t 400", "axial knock-down", 0.357, "1", lambda: knockdown(400), 0.0005),
    Published(
        "6061-T6, r/t 400",
        "allowable stress",
        37.6,
        "MPa",
        lambda: classical_MPa(68.9e3, 400) * knockdown(400),
        0.05,
        FIRST,
        kind="inferred",
    ),
    Published(
        "2219-T87, r/t 79.7",
        "classical stress",
        561.2,
        "MPa",
        lambda: classical_MPa(73.1e3, 79.7),
        0.05 + 561.2 * 0.05 / 79.7,
        SECOND,
        kind="inferred",
    ),
    Published("2219-T87, r/t 79.7", "axial knock-down", 0.615, "1", lambda: knockdown(79.7), 0.0005),
    Published(
        "2219-T87, r/t 79.7",
        "allowable stress",
        345.0,
        "MPa",
        lambda: classical_MPa(73.1e3, 79.7) * knockdown(79.7),
        0.5,
        SECOND,
        kind="inferred",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
