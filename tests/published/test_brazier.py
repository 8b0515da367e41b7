"""Moment at which a long round tube flattens.

Source: L. G. Brazier (1927), coefficient of E r t2 at a Poisson's ratio of 0.3 as usually quoted, from memory.
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.shells import brazier_moment

from .record import Published, Source

SOURCE = Source("Brazier 1927", "walls and holes", "from memory")

CHECKS: list[Published] = [
    Published(
        "usual coefficient",
        "moment over E r t2 at nu 0.3",
        1.035,
        "1",
        lambda: float(brazier_moment(E=1.0, r=1.0, t=1.0, nu=0.3)),
        0.0005,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
