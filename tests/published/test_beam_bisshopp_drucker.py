"""A cantilever bent far by a force at its tip.

Source: K. E. Bisshopp and D. C. Drucker, Large deflection of cantilever beams, Quart. Appl. Math. 3 (1945).
The values are the ones usually quoted, from memory; elliptic integrals agree to all four digits.
"""

from __future__ import annotations

import numpy as np
import pytest

from rigcalc.structure.large import solve_large

from ..structure import clamped
from .record import Published, Source

SOURCE = Source("Bisshopp and Drucker 1945", "the mast as a beam", "from memory")


def deflection(load: float) -> float:
    """Tip deflection over length for a load P L^2/EI."""
    mast = clamped()
    points = np.stack([mast.at_tip(load), mast.no_points, mast.no_points])
    line = np.zeros((3, *mast.z.shape))
    found = solve_large(mast.mesh, mast.stiff_bury(mast.one), line, points, mast.supports)
    assert found.converged
    return float(found.position_m[0, -1, -1])


CHECKS: list[Published] = [
    Published(f"P L2/EI = {load}", "tip deflection / L", value, "1", lambda load=load: deflection(load), 5e-5)
    for load, value in ((1, 0.3017), (2, 0.4935), (5, 0.7138), (10, 0.8106))
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
