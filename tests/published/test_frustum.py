"""Sheet metal of a frustum of a cone: a container of radii 8 and 20 cm, 16 cm high, and a fez.

Source: NCERT, Mathematics, class X, exercise on the frustum of a cone (container open at its wide end, pi taken
as 3.14; fez of radii 10 and 4 cm and 15 cm along its side, pi taken as 22/7), from memory.
"""

from __future__ import annotations

import math

import pytest

from rigcalc.formulas.pieces import cone_area, cone_slant, prismoid_volume

from .record import Published, Source

SOURCE = Source("NCERT, Mathematics X", "cutting and pieces", "from memory")


def slant_cm() -> float:
    return float(cone_slant(h=16.0, r_1=20.0, r_2=8.0))


def container_cm2() -> float:
    return float(cone_area(r_1=20.0, r_2=8.0, s=slant_cm()) + math.pi * 8.0**2) * 3.14 / math.pi


def container_cm3() -> float:
    areas = [3.14 * r**2 for r in (20.0, 14.0, 8.0)]
    return float(prismoid_volume(A_0=areas[0], A_m=areas[1], A_1=areas[2], h=16.0))


def fez_cm2() -> float:
    return float(cone_area(r_1=10.0, r_2=4.0, s=15.0) + math.pi * 4.0**2) * 22 / 7 / math.pi


CHECKS: list[Published] = [
    Published("container (from memory)", "length along the side", 20.0, "cm", slant_cm, 1e-9, "exact"),
    Published("container (from memory)", "sheet", 1959.36, "cm2", container_cm2, 0.005),
    Published("container (from memory)", "volume", 10449.92, "cm3", container_cm3, 0.005),
    Published(
        "fez (from memory)",
        "cloth",
        710 + 2 / 7,
        "cm2",
        fez_cm2,
        1e-9,
        "an exact fraction is printed",
        kind="formula",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
