"""Drag of a cable and base moment of a chimney in a uniform wind.

Source: K. Subramanya, 1000 Solved Problems in Fluid Mechanics, Examples 9.10 and 9.11, p. 201, as
transcribed in a public companion notebook (the book itself was not read).
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.beams import moment_of_force
from rigcalc.formulas.wind import drag_per_length, wind_pressure

from .record import Published, Source

SOURCE = Source("Subramanya, 1000 Solved Problems", "wind and sails", "second hand")

RHO_KG_M3 = 1.2
SPEED_M_S = 80 / 3.6


def cable_drag_N_m() -> float:
    return float(drag_per_length(C_D=1.20, q=wind_pressure(rho=RHO_KG_M3, v=SPEED_M_S), D=0.05))


def chimney_moment_kN_m() -> float:
    per_metre = drag_per_length(C_D=0.33, q=wind_pressure(rho=RHO_KG_M3, v=SPEED_M_S), D=2.5)
    return float(moment_of_force(F=per_metre * 50.0, h=25.0)) / 1e3


CHECKS: list[Published] = [
    Published("Ex. 9.10, p. 201", "drag of a 50 mm cable at 80 km/h", 17.78, "N/m", cable_drag_N_m, 0.005),
    Published(
        "Ex. 9.11, p. 201",
        "base moment of a chimney 2.5 m wide and 50 m tall",
        305.6,
        "kN m",
        chimney_moment_kN_m,
        0.05,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
