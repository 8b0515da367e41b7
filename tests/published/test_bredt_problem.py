"""Torsion of a closed thin-walled section.

Source: Problem 06-45 of a set of worked solutions in mechanics of materials (its equation 6.66; the book
is not named where it was read), coursehero.com/file/6071099.
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.sections import bredt_shear_flow

from .record import Published, Source

SOURCE = Source("worked solutions, problem 06-45", "sections and stress", "read")


def flow_N_m() -> float:
    return float(bredt_shear_flow(T=3000.0, A_m=9786.283e-6))


CHECKS: list[Published] = [
    Published("Problem 06-45", "shear flow", 1.533e5, "N/m", flow_N_m, 50.0, step=100.0),
    Published(
        "Problem 06-45",
        "shear stress in the 4 mm wall",
        38.319,
        "MPa",
        lambda: flow_N_m() / 4e-3 / 1e6,
        0.0005,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
