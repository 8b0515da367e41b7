"""Resultant of a load that varies linearly along a beam.

Source: R. C. Hibbeler and A. Gupta, Engineering Mechanics: Statics and Dynamics, Example 4.22, p. 150, as
transcribed in a public companion notebook (the book itself was not read). The figure was not seen; 100 to
50 N/m over 3 m are the ends that the rectangle and the triangle of the solution have.
"""

from __future__ import annotations

import numpy as np
import pytest

from rigcalc.loads import Applied, LineLoad

from .record import Published, Source

SOURCE = Source("Hibbeler and Gupta, Engineering Mechanics", "the mast as a beam", "second hand")

LOAD = LineLoad(np.array([0.0, 3.0]), np.array([100.0]), np.array([50.0]))


def from_the_larger_end_m() -> float:
    whole = Applied((LOAD,))
    return whole.moment(0.0)[0] / whole.force()[0]


CHECKS: list[Published] = [
    Published(
        "Ex. 4.22, p. 150", "resultant", 225.0, "N", LOAD.integral, 1e-10, "exact, apart from rounding"
    ),
    Published(
        "Ex. 4.22, p. 150", "distance from the larger end", 1.3333, "m", from_the_larger_end_m, 0.00005
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
