"""A cylinder in a socket, by the coefficients of a page of handbook formulas.

Source: "Contact stress of the cylinder in the cylindrical socket", eng-calculations.com, read: width
1.6 sqrt(P K_D C_E) and highest pressure 0.798 sqrt(P/(K_D C_E)), with K_D = D_1 D_2/(D_2 - D_1) and C_E the sum of
(1 - nu2)/E of both.
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.contact import (
    contact_modulus,
    line_half_width,
    line_peak_pressure,
    seat_half_width,
    seat_radius,
)

from .record import Published, Source

SOURCE = Source("a page on contact stress, eng-calculations.com", "bearings", "read")

# a mast of aluminium in a bore of acetal, N and mm
LOAD, SHAFT, BORE = 100.0, 100.0, 100.4
E_STAR = float(contact_modulus(E_1=70e3, nu_1=0.33, E_2=2660.0, nu_2=0.363))
K_D = SHAFT * BORE / (BORE - SHAFT)
RADIUS = float(seat_radius(R_1=SHAFT / 2, R_2=BORE / 2))


def width() -> float:
    """Coefficient of the width."""
    half = seat_half_width(q=LOAD, R_1=SHAFT / 2, R_2=BORE / 2, E_s=E_STAR)
    return float(2 * half / (LOAD * K_D / E_STAR) ** 0.5)


def pressure() -> float:
    """Coefficient of the pressure."""
    return float(line_peak_pressure(q=LOAD, R=RADIUS, E_s=E_STAR) / (LOAD * E_STAR / K_D) ** 0.5)


CHECKS: list[Published] = [
    Published("formulas", "coefficient of the width", 1.6, "-", width, 0.05),
    Published("formulas", "coefficient of the pressure", 0.798, "-", pressure, 0.0005),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()


def test_half_width_of_the_page_is_ours() -> None:
    assert line_half_width(q=LOAD, R=RADIUS, E_s=E_STAR) == pytest.approx(
        width() / 2 * (LOAD * K_D / E_STAR) ** 0.5
    )
