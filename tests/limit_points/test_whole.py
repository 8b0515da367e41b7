"""The mast as a whole: how much stiffer it is told to be, to the least hundredth that is enough."""

from __future__ import annotations

import math

import pytest

from rigcalc.limits.whole import axial_stability_check, creep_deflection_check, tip_deflection_check
from rigcalc.rig import Limits

from . import USES, least, told

LIMITS = Limits()


def test_a_tip_that_goes_too_far() -> None:
    allowed = LIMITS.tip_deflection * 6.0
    for used in USES:
        one = tip_deflection_check("case", tip_m=used * allowed, above_m=6.0, height_m=7.0, limits=LIMITS)
        assert (one.demand, one.capacity) == (pytest.approx(used * allowed), pytest.approx(allowed))
        (times,) = told(r"stiffen the mast (\S+) times", one.advice)
        assert times == pytest.approx(least(used, 0.01))


def test_a_tip_that_creeps_too_far() -> None:
    """At once, and k_def of the share that lasts on top of it."""
    allowed, k_def, lasting = LIMITS.tip_deflection * 6.0, 0.8, 0.25
    for used in USES:
        one = creep_deflection_check(
            "case",
            tip_m=used * allowed / (1 + k_def * lasting),
            creep=k_def,
            lasting=lasting,
            above_m=6.0,
            height_m=7.0,
            limits=LIMITS,
        )
        assert one.demand == pytest.approx(used * allowed)
        (times,) = told(r"stiffen the mast (\S+) times", one.advice)
        assert times == pytest.approx(least(used, 0.01))


def test_a_mast_pressed_too_hard() -> None:
    required = LIMITS.axial_stability_factor
    for used in USES:
        one = axial_stability_check("case", axial_N=1000.0, factor=required / used, limits=LIMITS)
        assert one.utilisation == pytest.approx(used)
        (times,) = told(r"(\d\S*) times", one.advice)
        (kept,) = told(r"(\d+)%", one.advice)
        assert times == pytest.approx(least(used, 0.01))
        assert kept == pytest.approx(100 / used, abs=0.501)
    assert axial_stability_check("case", axial_N=1000.0, factor=required * 1.01, limits=LIMITS).advice == ""
    unknown = axial_stability_check("case", axial_N=1000.0, factor=math.nan, limits=LIMITS)
    assert unknown.advice.startswith("the load of instability was not found")
    assert unknown.utilisation == math.inf
