"""Section properties of a 1.900 x 0.145 in pipe (NPS 1 1/2, schedule 40).

Source: aluminium tube calculations to CSA S157-05 in a public structural-design notebook, which was read;
the sizes are those of ASME B36.10M.
"""

from __future__ import annotations

import math

import pytest

from rigcalc.formulas.sections import annulus_area, annulus_second_moment

from .record import Published, Source

SOURCE = Source(
    "a notebook of tube calculations to CSA S157-05",
    "sections and stress",
    "read",
    differs=(
        "The notebook divides by the slenderness where Euler's stress has its square; only its section "
        "properties are used here.",
    ),
)

OUTSIDE_IN = 1.900
BORE_IN = OUTSIDE_IN - 2 * 0.145


def area_in2() -> float:
    return float(annulus_area(D=OUTSIDE_IN, d=BORE_IN))


def second_moment_in4() -> float:
    return float(annulus_second_moment(D=OUTSIDE_IN, d=BORE_IN))


CHECKS: list[Published] = [
    Published("1.900 x 0.145 in", "area", 0.799, "in2", area_in2, 0.0005),
    Published("1.900 x 0.145 in", "second moment", 0.3099, "in4", second_moment_in4, 0.00005),
    Published(
        "1.900 x 0.145 in",
        "elastic modulus",
        0.326,
        "in3",
        lambda: second_moment_in4() / (OUTSIDE_IN / 2),
        0.0005,
    ),
    Published(
        "1.900 x 0.145 in",
        "radius of gyration",
        0.623,
        "in",
        lambda: math.sqrt(second_moment_in4() / area_in2()),
        0.0005,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
