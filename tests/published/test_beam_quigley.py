"""A beam on two supports with a load at the end of its overhang: a mast on its side.

Source: T. Quigley, overhanging-load beam page, tquigley.com/T310.htm, which was read: with span l and overhang
a, R1 = -F a/l, R2 = F (l + a)/l, tip deflection F a^2 (l + a)/(3 E I). The page of becalc.com, "Overhanging
beam - concentrated load at end of overhang", read too, says the same.
"""

from __future__ import annotations

from functools import cache

import pytest

from rigcalc.structure.beam import BeamLoad, BeamResult, solve

from ..structure import on_bearings
from .record import Published, Source

SOURCE = Source("Quigley, overhanging-load beam", "the mast as a beam", "read")

# no size is one, so that no power of it can hide
FORCE, SPAN, OVERHANG, EI = 7.0, 2.0, 3.0, 11.0


@cache
def beam() -> BeamResult:
    mast = on_bearings(SPAN, length_m=SPAN + OVERHANG)
    return solve(mast.mesh, EI * mast.one, BeamLoad(0 * mast.z, mast.at_tip(FORCE)), mast.supports)


TIP = FORCE * OVERHANG**2 * (SPAN + OVERHANG) / (3 * EI)
EXACT = "a formula in print: equal but for rounding"

CHECKS: list[Published] = [
    Published(
        "R1",
        "heel force",
        -FORCE * OVERHANG / SPAN,
        "N",
        lambda: float(beam().heel_N),
        1e-10,
        EXACT,
        kind="formula",
    ),
    Published(
        "R2",
        "partners force",
        FORCE * (SPAN + OVERHANG) / SPAN,
        "N",
        lambda: float(beam().partners_N),
        1e-10,
        EXACT,
        kind="formula",
    ),
    Published(
        "y",
        "tip deflection",
        TIP,
        "m",
        lambda: float(beam().deflection_m[-1, -1]),
        1e-10,
        EXACT,
        kind="formula",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
