"""Shear coefficient of a solid rod and of a thin tube.

Source: G. R. Cowper, J. Appl. Mech. 33 (1966), limits for the solid circle, 6 (1 + nu)/(7 + 6 nu), and
the thin tube, 2 (1 + nu)/(4 + 3 nu), both from memory; of the paper only the opening page was read.
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.beams import cowper_shear_coefficient

from .record import Published, Source

SOURCE = Source("Cowper 1966", "the mast as a beam", "from memory")

LIMIT = "computed at nu 0.3 from the limit's own expression, half a unit of the last digit; from memory"

CHECKS: list[Published] = [
    Published(
        "solid circle",
        "shear coefficient at nu 0.3",
        0.886364,
        "1",
        lambda: float(cowper_shear_coefficient(nu=0.3, m=0.0)),
        5e-7,
        LIMIT,
        kind="formula",
    ),
    Published(
        "thin tube",
        "shear coefficient at nu 0.3",
        0.530612,
        "1",
        lambda: float(cowper_shear_coefficient(nu=0.3, m=1.0)),
        5e-7,
        LIMIT,
        kind="formula",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
