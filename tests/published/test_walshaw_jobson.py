"""Natural period of roll, in feet.

Source: A. C. Walshaw and D. A. Jobson, Mechanics of Fluids, Example 1.9.1, p. 25, as transcribed in a
public companion notebook (the book itself was not read).
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.stability import roll_period

from .record import Published, Source

SOURCE = Source("Walshaw and Jobson, Mechanics of Fluids", "righting and heel", "second hand")

CHECKS: list[Published] = [
    Published(
        "Ex. 1.9.1, p. 25",
        "period of roll, k 12 ft, GM 2 ft, g 32.2 ft/s2",
        9.4,
        "s",
        lambda: float(roll_period(k=12.0, g=32.2, GM=2.0)),
        0.05,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
