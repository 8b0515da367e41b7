"""Slope of the S-N curve of aluminium past its knee.

Source: EN 1999-1-3:2007+A1:2011 as coded in a public Python class, which was read; the standard was not.
Its category 3.4 has its reference at 2e6 cycles, its knee at 5e6, where the stress range is the category times
(2/5)^(1/3.4), and the slope 5.4 from there to the cut-off at 1e8.
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.fatigue import cycles_borne, slope_past_the_knee
from rigcalc.limits.lifetime import Curve

from .record import Published, Source

SOURCE = Source("EN 1999-1-3", "fatigue", "second hand")

CURVE = Curve(category_Pa=1.0, slope=3.4)

CHECKS: list[Published] = [
    Published(
        "slope 3.4",
        "slope past the knee",
        5.4,
        "1",
        lambda: float(slope_past_the_knee(m=3.4)),
        1e-12,
        "exact",
    ),
    Published("slope 3.4", "slope of the curve", 5.4, "1", lambda: CURVE.flatter, 1e-12, "exact"),
    Published(
        "slope 3.4",
        "cycles at the category times (2/5)^(1/3.4)",
        5e6,
        "1",
        lambda: float(cycles_borne(S_C=1.0, N_C=2e6, S=CURVE.knee_Pa, m=3.4)),
        1e-3,
        "rounding of a power",
        kind="formula",
    ),
    Published(
        "slope 3.4",
        "cycles at the cut-off",
        1e8,
        "1",
        lambda: float(cycles_borne(S_C=CURVE.knee_Pa, N_C=5e6, S=CURVE.cut_off_Pa, m=5.4)),
        1e-2,
        "rounding of a power",
        kind="formula",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()


def test_the_knee_stands_where_the_source_puts_it() -> None:
    assert CURVE.knee_Pa == pytest.approx((2 / 5) ** (1 / 3.4), rel=1e-14)
