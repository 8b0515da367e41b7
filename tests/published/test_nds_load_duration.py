"""The Madison curve against the duration factors in use.

Source: NDS 2018, Table 2.3.2, factors C_D over the strength under a load of ten years; read through the
tests of a public program (xc). That the wind factor is for ten minutes, and permanent for fifty years,
is from memory (NDS, Appendix B), and so is the curve (Wood 1951).
"""

from __future__ import annotations

from functools import partial

import pytest

from rigcalc.formulas.timber import madison_factor

from .record import Published, Source

SOURCE = Source(
    "NDS 2018, Table 2.3.2",
    "timber",
    "second hand",
    differs=(
        "The factor for a permanent load is 0.9; the Madison curve has 0.95 for fifty years, since no "
        "load is permanent to it. Wind is 1.6, the curve 1.593.",
    ),
)

DAY_S = 86_400.0
YEAR_S = 365.25 * DAY_S
TEN_YEARS_S = 10 * YEAR_S


def over_ten_years(time_s: float) -> float:
    return float(madison_factor(t=time_s, t_1=1.0) / madison_factor(t=TEN_YEARS_S, t_1=1.0))


STEP = "the factors step by 0.05 at the finest"

CHECKS: list[Published] = [
    Published(
        "Table 2.3.2",
        "wind",
        1.6,
        "1",
        partial(over_ten_years, 600.0),
        0.025,
        STEP,
        kind="model",
    ),
    Published(
        "Table 2.3.2", "seven days", 1.25, "1", partial(over_ten_years, 7 * DAY_S), 0.025, STEP, kind="model"
    ),
    Published(
        "Table 2.3.2",
        "snow, two months",
        1.15,
        "1",
        partial(over_ten_years, 61 * DAY_S),
        0.025,
        STEP,
        kind="model",
    ),
    Published(
        "Table 2.3.2",
        "permanent, fifty years",
        0.9,
        "1",
        partial(over_ten_years, 50 * YEAR_S),
        0.05,
        "printed to one digit, and permanent has no end; the curve gives 0.95",
        kind="model",
    ),
    Published(
        "the basis of C_D (from memory)",
        "strength under ten years over that in a test of 7.5 minutes",
        0.62,
        "1",
        lambda: float(madison_factor(t=TEN_YEARS_S, t_1=1.0)),
        0.005,
        seen="from memory",
    ),
    Published(
        "the basis of C_D (from memory)",
        "strength in a test of 7.5 minutes",
        1.00,
        "1",
        lambda: float(madison_factor(t=450.0, t_1=1.0)),
        0.0005,
        seen="from memory",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
