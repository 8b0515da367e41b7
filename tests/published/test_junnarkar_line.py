"""Base moment under a pressure that grows as the square root of the height, as one line load.

Source: S. B. Junnarkar, Mechanics of Structures, Example 8, p. 330, as transcribed in a public companion
notebook (the book itself was not read). The notebook says that the answer printed in the book is wrong;
the value below is the notebook's.
"""

from __future__ import annotations

import numpy as np
import pytest

from rigcalc.loads import LineLoad

from .record import Published, Source

SOURCE = Source("Junnarkar, Mechanics of Structures", "wind and sails", "second hand")

HEIGHT_FT, WIDTH_FT, SHAPE = 120.0, 5.0, 0.6
PRESSURE_LB_FT2, AT_FT = 42.0, 49.0


def moment_lb_ft() -> float:
    width = np.array([SHAPE * WIDTH_FT])
    load = LineLoad(np.array([0.0, HEIGHT_FT]), width, width, lambda z: PRESSURE_LB_FT2 * np.sqrt(z / AT_FT))
    return load.moment_about(0.0)


CHECKS: list[Published] = [
    Published(
        "Ex. 8, p. 330",
        "base moment, 120 ft tall and 5 ft wide",
        1135757.5,
        "lb ft",
        moment_lb_ft,
        1.2,
        "one in a million: twelve points of quadrature on a root that starts at the ground, an error of ours",
        kind="model",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
