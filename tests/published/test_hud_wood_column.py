"""A timber column in compression.

Source: US Department of Housing and Urban Development, Residential Structural Design Guide, 2nd ed.
(2017), Example 5.6, as kept in a verification test of a public program (xc); the guide was not read.
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.timber import buckling_limited_stress, nds_column_buckling_stress

from .record import Published, Source

SOURCE = Source("HUD, Residential Structural Design Guide", "timber", "second hand")

# Spruce-Pine-Fir No. 2, 4 x 4, 7.3 ft, 4,800 lb
CRUSHING_PSI = 1150.0 * 1.15
SIDE_IN = 3.5


def allowed_psi() -> float:
    euler = nds_column_buckling_stress(E_min=510_000.0, l_e=7.3 * 12, d=SIDE_IN)
    return float(buckling_limited_stress(F_c=CRUSHING_PSI, f_e=euler, c=0.8))


CHECKS: list[Published] = [
    Published("Ex. 5.6", "C_P", 0.4378, "1", lambda: allowed_psi() / CRUSHING_PSI, 0.00005),
    Published("Ex. 5.6", "F_c'", 579.0, "psi", allowed_psi, 0.5),
    Published("Ex. 5.6", "use", 0.677, "1", lambda: 4800.0 / SIDE_IN**2 / allowed_psi(), 0.0005),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
