"""Limits of bearing materials in pounds, inches, feet and degrees Fahrenheit.

Source: Shigley's Mechanical Engineering Design, Table 12-8, read as transcribed in the docstring of a public package of
mechanical design; the book was not read. Our table holds its figures in MPa, MPa m/s and degrees Celsius.
"""

from __future__ import annotations

from functools import partial

import pytest
from scipy.constants import foot, minute, psi

from rigcalc.materials.bearing_tables import find_bearing_material

from .record import Published, Source

SOURCE = Source("Shigley's Mechanical Engineering Design", "bearings", "second hand")

LIMITS = {
    "acetal": (1000.0, 3000.0, 180.0),
    "nylon": (1000.0, 3000.0, 200.0),
    "bronze": (4500.0, 50000.0, 325.0),
    "porous oil-filled bronze": (4500.0, 50000.0, 150.0),
    "hardwood": (2000.0, 15000.0, 150.0),
    "PTFE": (500.0, 1000.0, 500.0),
}


def pressure_psi(name: str) -> float:
    found = find_bearing_material(name).turning_Pa
    assert found is not None
    return found.low / psi


def pv_psi_ft_min(name: str) -> float:
    found = find_bearing_material(name).pv_Pa_m_s
    assert found is not None
    return found.low / psi / (foot / minute)


def hottest_degF(name: str) -> float:
    found = find_bearing_material(name).hottest_degC
    assert found is not None
    return found.low * 1.8 + 32


CHECKS: list[Published] = [
    check
    for name, (pressure, pv, hottest) in LIMITS.items()
    for check in (
        Published(
            f"Table 12-8, {name}",
            "pressure, turning",
            pressure,
            "psi",
            partial(pressure_psi, name),
            0.002 * pressure,
            "0.2 %: our table has three digits of the MPa",
            kind="table",
        ),
        Published(
            f"Table 12-8, {name}",
            "pressure times speed",
            pv,
            "psi ft/min",
            partial(pv_psi_ft_min, name),
            0.004 * pv,
            "0.4 %: our table has two or three digits of the MPa m/s",
            kind="table",
        ),
        Published(
            f"Table 12-8, {name}",
            "hottest",
            hottest,
            "deg F",
            partial(hottest_degF, name),
            1.0,
            "our table has whole degrees Celsius",
            kind="table",
        ),
    )
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
