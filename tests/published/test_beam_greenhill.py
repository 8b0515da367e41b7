"""Height at which a uniform column falls under its own weight.

Source: A. G. Greenhill (1881), as given in the encyclopedia article "Self-buckling", which was read in two
copies: l_max = (7.8373 EI/(rho g A))^(1/3).
"""

from __future__ import annotations

import pytest

from rigcalc.structure.modes import critical_axial_load

from ..structure import clamped
from .record import Published, Source

SOURCE = Source("Greenhill 1881", "frequencies and instability", "second hand")


def own_weight() -> float:
    """Weight rho g A L^3/EI at which a clamped column of unit length and stiffness falls."""
    mast = clamped()
    weight = mast.mesh.from_tip(mast.one)
    found = critical_axial_load(mast.mesh, mast.stiff_bury(mast.one), weight, 0 * weight, mast.supports)
    assert found.converged
    return float(found.values[0])


CHECKS: list[Published] = [Published("l_max", "rho g A L3/EI", 7.8373, "1", own_weight, 5e-5)]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
