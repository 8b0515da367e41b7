"""Reactions of a beam on two supports with an overhang: a mast on its side.

Source: "Overhanging beam: shear force and bending moment calculation", thestructuralengineer.info, which
was read. Support A stands for the step and B, 6 m from it, for the partners.
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.beams import moment_of_force, partners_force, step_force

from .record import Published, Source

SOURCE = Source("a page on overhanging beams, thestructuralengineer.info", "the mast as a beam", "read")

BURY_M = 6.0
# force in kN and its height above support B: 5 kN/m from 2 m to 6 m, and the load at 10 m
LOADS = ((20.0, -2.0), (30.0, 4.0))


def reaction_b_kN() -> float:
    return float(sum(partners_force(F=force, h=arm, b=BURY_M) for force, arm in LOADS))


def reaction_a_kN() -> float:
    # step_force counts along the load; the page counts reactions against it
    moment = sum(moment_of_force(F=force, h=arm) for force, arm in LOADS)
    return -float(step_force(M_p=moment, b=BURY_M))


def moment_b_kN_m() -> float:
    # the page counts a moment that bends the overhang down as negative
    force, arm = LOADS[1]
    return -float(moment_of_force(F=force, h=arm))


CHECKS: list[Published] = [
    Published("worked example", "reaction at B", 63.33, "kN", reaction_b_kN, 0.005),
    Published("worked example", "reaction at A", -13.33, "kN", reaction_a_kN, 0.005),
    Published(
        "worked example", "moment at B", -120.0, "kN m", moment_b_kN_m, 1e-9, "the page's product is exact"
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
