"""Base moment of a chimney in a uniform wind.

Source: R. W. Fox and A. T. McDonald, Introduction to Fluid Mechanics, Example 9.6, p. 442, as
transcribed in a public companion notebook (the book itself was not read).
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.beams import moment_of_force
from rigcalc.formulas.wind import drag_per_length, wind_pressure

from .record import Published, Source

SOURCE = Source("Fox and McDonald, Fluid Mechanics", "wind and sails", "second hand")


def chimney_moment_N_m() -> float:
    per_metre = drag_per_length(C_D=0.35, q=wind_pressure(rho=1.23, v=50 / 3.6), D=1.0)
    return float(moment_of_force(F=per_metre * 25.0, h=12.5))


CHECKS: list[Published] = [
    Published(
        "Ex. 9.6, p. 442",
        "base moment of a chimney 1 m wide and 25 m tall at 50 km/h",
        12975.62,
        "N m",
        chimney_moment_N_m,
        0.005,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
