"""Largest load of a rolling element without play, by Stribeck.

Source: NSK, Rolling Bearings, technical report CAT. E728g, section 5.1, equations 4 and 5, read.
"""

from __future__ import annotations

import pytest

from rigcalc.bearings import LINE, POINT, roller_loads, stribeck_factor

from .record import Published, Source

SOURCE = Source("NSK, Rolling Bearings E728g", "bearings", "read")


def one_by_one(exponent: float) -> float:
    """Return the same from a ring of many elements, balanced one by one."""
    count = 60
    found = roller_loads(
        1.0, count=count, play_m=0.0, squeeze=lambda q: q ** (1 / exponent), exponent=exponent
    )
    return float(found.largest_N[0] * count)


CHECKS: list[Published] = [
    Published("eq. 4", "balls", 4.37, "-", lambda: float(stribeck_factor(0.5, POINT)), 0.005),
    Published("eq. 4", "balls, one by one", 4.37, "-", lambda: one_by_one(POINT), 0.005),
    Published(
        "eq. 5",
        "rollers",
        4.08,
        "-",
        lambda: float(stribeck_factor(0.5, LINE)),
        0.005,
    ),
    Published(
        "eq. 5",
        "rollers, one by one",
        4.08,
        "-",
        lambda: one_by_one(LINE),
        0.005,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
