"""A flat cantilever whose width tapers to nothing: constant stress, so it bends to a circle.

Source: C. O. Harris, Introduction to Stress Analysis (1959), p. 114, problem 61, as cited on a verification
page of a structural analysis program, which was read. Length 20 in, depth 0.5 in, root width 3 in,
E 30e6 psi, tip force 10 lb.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from rigcalc.structure.beam import BeamLoad, BeamResult, solve

from ..structure import clamped
from .record import Published, Source

SOURCE = Source("Harris, Introduction to Stress Analysis", "the mast as a beam", "second hand")

LENGTH_IN, DEPTH_IN, WIDTH_IN, E_PSI, FORCE_LB = 20.0, 0.5, 3.0, 30e6, 10.0
ROOT_I_IN4 = WIDTH_IN * DEPTH_IN**3 / 12


@cache
def beam() -> tuple[BeamResult, int]:
    """The beam in units of its length; the tip keeps a trace of width, as no moment over none has no value."""
    mast = clamped()
    share = np.maximum(1 - mast.x, 1e-6)
    EI = E_PSI * ROOT_I_IN4 / LENGTH_IN**2
    load = BeamLoad(0 * mast.z, mast.at_tip(FORCE_LB))
    return solve(mast.mesh, EI * mast.stiff_bury(share), load, mast.supports), mast.bury


def deflection_in() -> float:
    return float(beam()[0].deflection_m[-1, -1] * LENGTH_IN)


def stress_psi() -> float:
    result, root = beam()
    return float(result.moment_N_m[root, 0] * LENGTH_IN * DEPTH_IN / 2 / ROOT_I_IN4)


CHECKS: list[Published] = [
    Published("problem 61", "tip deflection", 0.04267, "in", deflection_in, 5e-6),
    Published("problem 61", "bending stress", 1600.0, "psi", stress_psi, 0.5),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
