"""Natural frequencies of a uniform cantilever.

Source: W. T. Thomson, Theory of Vibration with Applications, Appendix D.3, p. 510, and Table 9.5-1,
p. 283; both pages were read.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from numpy.typing import NDArray

from rigcalc.structure.modes import natural_frequencies

from ..structure import clamped
from .record import Published, Source

SOURCE = Source("Thomson, Theory of Vibration", "frequencies and instability", "read")


@cache
def omega() -> NDArray[np.float64]:
    """Circular frequencies of a cantilever of unit length, stiffness and mass per length.

    Its clamp is a bury 1e12 times as stiff: the slope that gets through is that share of the mast's own.
    """
    mast = clamped()
    found = natural_frequencies(
        mast.mesh, mast.stiff_bury(mast.one), mast.above, mast.no_points, mast.supports, count=3
    )
    assert found.converged
    return 2 * np.pi * found.values


CHECKS: list[Published] = [
    *(
        Published("App. D.3", f"beta L, mode {i + 1}", v, "1", lambda i=i: float(np.sqrt(omega()[i])), 5e-5)
        for i, v in enumerate((1.8751, 4.6941, 7.8548))
    ),
    *(
        Published("App. D.3", f"(beta L)^2, mode {i + 1}", v, "1", lambda i=i: float(omega()[i]), 5e-5)
        for i, v in enumerate((3.5160, 22.0345, 61.6972))
    ),
    *(
        Published("Table 9.5-1", f"cantilever, mode {i + 1}", v, "1", lambda i=i: float(omega()[i]), half)
        for i, (v, half) in enumerate(((3.52, 0.005), (22.0, 0.05), (61.7, 0.05)))
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
