"""Two cylinders pressed together along a line.

Source: A. P. Boresi and R. J. Schmidt, Advanced Mechanics of Materials, ch. 17, example p. 621, whose figures
stand in a public companion notebook, which was read; the book was not. Radii 40 mm, length 20 mm, E 200 GPa,
Poisson's ratio 0.29, 24.1 kN.
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.contact import contact_modulus, convex_radius, line_peak_pressure, line_peak_shear

from .record import Published


def peak_MPa() -> float:
    pressure = line_peak_pressure(
        q=24.1e3 / 0.020,
        R=convex_radius(R_1=0.040, R_2=0.040),
        E_s=contact_modulus(E_1=200e9, nu_1=0.29, E_2=200e9, nu_2=0.29),
    )
    return float(pressure) / 1e6


CHECKS: list[Published] = [
    Published(
        "example p. 621",
        "highest pressure",
        1445.0,
        "MPa",
        peak_MPa,
        2.5,
        "the book works from a half width rounded to three digits",
    ),
    Published(
        "example p. 621",
        "highest shear stress",
        433.0,
        "MPa",
        lambda: float(line_peak_shear(p_0=peak_MPa())),
        1.5,
        "as its highest pressure, times 0.300",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
