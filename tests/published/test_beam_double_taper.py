"""Natural frequencies of a cantilever of rectangular section that tapers both ways.

Source: code_aster validation manual V2.02.009 (VPCS sheet SDLL09/89), which cites H. H. Mabie and
C. B. Rogers, J. Acoust. Soc. Am. 51 (1972) 1771-1774; the manual was read. Depth 4 times the tip's at the
root, width 4 or 5 times; frequency = lambda h_tip/(2 pi L^2) sqrt(E/(12 rho)).
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from rigcalc.structure.modes import natural_frequencies

from ..structure import clamped
from .record import Published, Source

SOURCE = Source(
    "code_aster V2.02.009 after Mabie and Rogers",
    "frequencies and instability",
    "read",
    differs=(
        "The frequencies printed for the cantilever that tapers both ways lie 0.01 to 0.03 % below ours. "
        "A shooting computation apart from the beam engine agrees with ours to a millionth; the printed "
        "ones are of 1972.",
    ),
)


@cache
def lambdas(width_ratio: float) -> NDArray[np.float64]:
    """The dimensionless frequencies, in units of which sqrt(EI/(rho A)) at the tip is one."""
    mast = clamped()
    depth, width = 4 - 3 * mast.x, width_ratio - (width_ratio - 1) * mast.x
    found = natural_frequencies(
        mast.mesh,
        mast.stiff_bury(width * depth**3),
        mast.above * width * depth,
        mast.no_points,
        mast.supports,
        count=5,
    )
    assert found.converged
    return 2 * np.pi * found.values


PRINTED = {4: (23.289, 73.9, 165.23, 299.7, 478.1), 5: (24.308, 75.56, 167.21, 301.9, 480.4)}
LOW = "the printed figures all lie 0.01 to 0.03 per cent below ours and the shooting computation below"

CHECKS: list[Published] = [
    Published(
        f"widths {ratio}:1",
        f"lambda, mode {i + 1}",
        value,
        "1",
        lambda ratio=ratio, i=i: float(lambdas(ratio)[i]),
        3.5e-4 * value,
        LOW,
        kind="disputed",
    )
    for ratio, row in PRINTED.items()
    for i, value in enumerate(row)
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()


@pytest.mark.parametrize("ratio", PRINTED)
@pytest.mark.parametrize("mode", range(5))
def test_a_shooting_computation_agrees_with_ours(ratio: int, mode: int) -> None:
    """From the free tip down: the two shapes that leave it must join to one that is clamped at the root."""

    def at_root(lam: float) -> float:
        def down(s: float, y: NDArray[np.float64]) -> list[float]:
            # y, slope, moment and shear, s from the tip
            depth, width = 1 + 3 * s, 1 + (ratio - 1) * s
            return [y[1], y[2] / (width * depth**3), y[3], lam**2 * width * depth * y[0]]

        ends = [
            solve_ivp(down, (0.0, 1.0), start, rtol=1e-10, atol=1e-12).y[:2, -1]
            for start in ([1.0, 0.0, 0.0, 0.0], [0.0, 1.0, 0.0, 0.0])
        ]
        return float(np.linalg.det(np.array(ends)))

    ours = float(lambdas(ratio)[mode])
    assert brentq(at_root, 0.999 * ours, 1.001 * ours, rtol=1e-9) == pytest.approx(ours, rel=1e-6)
