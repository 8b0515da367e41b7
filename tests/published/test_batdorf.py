"""Coefficient of the classical buckling stress of a cylinder in compression.

Source: S. B. Batdorf, NACA TR 874, and NASA SP-8007 Rev 2, section 4.1.1.1, as a test value of a public
panel-buckling package that cites both; the package's test was read, the reports were not.
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.shells import cylinder_classical_stress

from .record import Published, Source

SOURCE = Source("Batdorf, NACA TR 874", "walls and holes", "second hand")

CHECKS: list[Published] = [
    Published(
        "test value",
        "sigma_cl r/(E t) at nu 0.3",
        0.60523,
        "1",
        lambda: float(cylinder_classical_stress(E=1.0, t=1.0, r=1.0, nu=0.3)),
        0.000005,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
