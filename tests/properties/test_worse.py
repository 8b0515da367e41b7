"""What is worse never comes out safer: more wind, more righting moment, larger factors, weaker metal, one case more."""

from __future__ import annotations

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from .changes import greater, with_cases
from .rigs import Table, changed, checked, rigs, some, utilisations

HAIR = 1e-9


def never_safer(rig: Table, worse: Table) -> None:
    uses, used = utilisations(checked(rig)), utilisations(checked(worse))
    assert uses.keys() == used.keys()
    assert not greater(used, uses, rel=HAIR)
    assert any(used[key] > uses[key] for key in uses)


@settings(max_examples=12)
@given(rig=rigs(kinds=("wind-limited", "bare"), fatigue=False, least=2), by=some(1.01, 1.3, 3))
def test_more_wind(rig: Table, by: float) -> None:
    never_safer(rig, with_cases(rig, lambda case: case.update(wind_speed=case["wind_speed"] * by)))


@settings(max_examples=10)
@given(rig=rigs(kinds=("heel-limited",), fatigue=False), by=some(1.01, 1.3, 3))
def test_more_righting_moment(rig: Table, by: float) -> None:
    def stiffer(table: Table) -> None:
        stability = table["boat"]["stability"]
        for key in ("moment_30", "moment_max", "gm"):
            if key in stability:
                stability[key] = stability[key] * by
        for row in stability.get("righting_arm", []):
            row[1] = row[1] * by

    never_safer(rig, changed(rig, stiffer))


@settings(max_examples=10)
@given(
    rig=rigs(
        kinds=("heel-limited", "wind-limited", "bare", "motion", "knockdown", "lift"), fatigue=False, least=2
    )
)
def test_a_larger_dynamic_factor(rig: Table) -> None:
    never_safer(rig, with_cases(rig, lambda case: case.update(dynamic_factor=2.1)))


@settings(max_examples=12)
@given(rig=rigs(makes=("metal",)), by=some(0.7, 0.99, 3))
def test_weaker_metal(rig: Table, by: float) -> None:
    def weaker(table: Table) -> None:
        for key in ("proof", "ultimate", "welded_proof", "welded_ultimate"):
            table["material"][0][key] = table["material"][0][key] * by

    never_safer(rig, changed(rig, weaker))


@settings(max_examples=12)
@given(rig=rigs(), stricter=st.booleans())
def test_larger_factors_and_less_deflection_allowed(rig: Table, stricter: bool) -> None:
    limits: Table = {"tip_deflection": 0.08, "axial_stability_factor": 3.5}
    if rig["mast"]["material"] == "alloy":
        limits |= {"yield_factor": 1.2, "rupture_factor": 1.4} if stricter else {"yield_factor": 1.2}
    assume(any(case["kind"] != "lift" for case in rig["case"]))
    never_safer(rig, changed(rig, lambda table: table.update(limits=limits)))


@settings(max_examples=12)
@given(rig=rigs(least=2, most=4))
def test_one_case_more(rig: Table) -> None:
    """What a mast is in one case is no matter of the others; what it bears in its life is, and that only grows.

    Heights of the loads of all cases are heights of the mesh, and a greatest value between two heights is told by the
    nearest of its points: the cases that stay agree to that.
    """
    fewer = changed(rig, lambda table: table["case"].pop())
    some_of, whole = checked(fewer), checked(rig)
    assert whole.governing.utilisation >= some_of.governing.utilisation * (1 - MESH)
    uses, used = utilisations(some_of), utilisations(whole)
    assert not greater(used, uses, rel=MESH)
    for mine, its in zip(some_of.cases, whole.cases, strict=False):
        for name in ("partners_force_N", "step_force_N", "step_thrust_N"):
            assert abs(getattr(its, name) - getattr(mine, name)) <= 1e-9 * abs(getattr(mine, name)) + 1e-6


MESH = 2e-3
"""Between two of the eight points of a twelfth of a mast, a smooth hump is missed by no more."""
