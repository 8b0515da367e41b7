"""Scaling, linearity and mirrors: identities of any sound theory, under loads that a reviewer gives."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings

from .changes import Key, differing, greater, grown, loaded, mirrored, nothing, with_cases, without_thrust
from .rigs import Q, Table, checked, rigs, some, utilisations

FACTORS = some(0.75, 1.35, 3)
ROUNDING = 1e-9
WOOD_SIZE = 0.4
"""Greatest power of size by which wood weakens: split or sheared, a larger piece holds a longer flaw."""
OF_WOOD = ("bending", "compression", "shear", "plug-end", "rolling-shear-partners", "rolling-shear-step")
"""Limits on strengths of wood that fall with its size."""


@settings(max_examples=25)
@given(rig=rigs(kinds=("given",), geared=False, fatigue=False), k=FACTORS)
def test_a_mast_grown_with_its_loads_has_its_stresses(rig: Table, k: float) -> None:
    """Lengths by k, forces by k squared: stresses and slopes stay, and what is a length grows by k.

    Only wood is not as strong in a larger piece, in a few of its strengths and by no more than a small power.
    Fatigue is left out: how often the boat rolls goes by the root of her size.
    """
    one, other = checked(rig), checked(grown(rig, k))
    uses, used = utilisations(one), utilisations(other)
    assert not differing(uses, used, rel=1e-6, leave=lambda key: key[0] in OF_WOOD)
    wooden = "alloy" not in rig["mast"]["material"] and "glass" not in rig["mast"]["material"]
    low, high = sorted((1.0, k**WOOD_SIZE if wooden else 1.0))
    for key, before in uses.items():
        if key[0] in OF_WOOD:
            assert low * (1 - 1e-6) * before <= used[key] + 1e-9
            assert used[key] <= high * (1 + 1e-6) * before + 1e-9
    for mine, its in zip(one.cases, other.cases, strict=True):
        for name, power in (
            ("tip_deflection_m", 1),
            ("partners_side_N", 2),
            ("step_forward_N", 2),
            ("max_moment_N_m", 3),
            ("torque_N_m", 3),
            ("partners_slope_rad", 0),
        ):
            expected = k**power * getattr(mine, name)
            assert getattr(its, name) == pytest.approx(expected, rel=1e-8, abs=1e-9 * max(1.0, k**3))
    assert other.mast.mass_kg == pytest.approx(k**3 * one.mast.mass_kg, rel=ROUNDING)
    assert other.mast.axial_stability_N == pytest.approx(k**2 * one.mast.axial_stability_N, rel=1e-8)
    expected_Hz = [f / k for f in one.mast.natural_frequencies_Hz]
    assert other.mast.natural_frequencies_Hz == pytest.approx(expected_Hz, rel=1e-8)


def no_load(key: Key) -> bool:
    """Whether a limit asks nothing of the load: the overlap of a joint is a matter of its length alone."""
    return key[0] == "joint-overlap"


@settings(max_examples=25)
@given(rig=rigs(kinds=("given",), geared=False, fatigue=False), by=FACTORS)
def test_linear_where_nothing_presses(rig: Table, by: float) -> None:
    """Without thrust the bent mast asks less than the straight one, whose theory is linear.

    Left out are the wall of a laminate, which buckles under pressing and shearing by a sum of a first and a second
    power, fatigue, which goes by powers of a range, and furling gear, whose friction has the mast's own weight in it.
    """
    rig = without_thrust(rig)
    laid = rig["mast"]["material"] == "glass"

    def left(key: Key) -> bool:
        return no_load(key) or (laid and key[0] == "wall-buckling")

    assert not differing(
        utilisations(checked(rig)), utilisations(checked(loaded(rig, by))), by=by, rel=1e-8, leave=left
    )


@settings(max_examples=15)
@given(rig=rigs(kinds=("given",), geared=False, fatigue=False), by=FACTORS)
def test_linear_where_little_presses(rig: Table, by: float) -> None:
    """Thrust and all, so small that neither the bent shape nor a second power counts."""
    rig = loaded(rig, 1e-4)
    assert not differing(
        utilisations(checked(rig)), utilisations(checked(loaded(rig, by))), by=by, rel=1e-5, leave=no_load
    )


@settings(max_examples=15)
@given(rig=rigs(kinds=("given",), geared=False, fatigue=False), by=some(1.02, 1.35, 3))
def test_never_less_than_in_proportion(rig: Table, by: float) -> None:
    """Thrust on the bent shape, and powers above the first, only add."""
    one, other = utilisations(checked(rig)), utilisations(checked(loaded(rig, by)))
    assert not greater(
        {key: used * by for key, used in other.items()},
        {key: used * by**2 for key, used in one.items()},
        rel=1e-9,
        leave=no_load,
    )


@settings(max_examples=25)
@given(rig=rigs(kinds=("given", "bare", "motion", "lift"), most=4))
def test_a_mirror_changes_nothing(rig: Table) -> None:
    one, other = checked(rig), checked(mirrored(rig))
    assert not differing(utilisations(one), utilisations(other), rel=ROUNDING, leave=nothing)
    for mine, its, case in zip(one.cases, other.cases, rig["case"], strict=True):
        assert its.tip_deflection_m == pytest.approx(mine.tip_deflection_m, rel=ROUNDING)
        if case["kind"] in ("given", "bare"):
            scale = 1e-9 * (mine.partners_force_N + mine.step_force_N) + 1e-12
            for name in ("partners", "step"):
                side, forward = f"{name}_side_N", f"{name}_forward_N"
                assert getattr(its, side) == pytest.approx(-getattr(mine, side), abs=scale)
                assert getattr(its, forward) == pytest.approx(getattr(mine, forward), abs=scale)


@settings(max_examples=8)
@given(rig=rigs(kinds=("wind-limited",), makes=("laminate", "timber", "graded")), angle=some(20, 160, 1))
def test_either_tack(rig: Table, angle: float) -> None:
    """A force to windward is one to leeward on the other tack, where each strip of the sail pulls for itself."""
    assume("turns" not in rig["mast"])
    sail = rig["sail"][0]
    sail["load_path"] = "luff"
    for name in ("clew_held", "spar_height"):
        sail.pop(name, None)

    def on(sign: float) -> Table:
        def tack(case: Table) -> None:
            case.pop("true_wind_angle", None)
            case.update(force_coefficient=1.2, force_angle=Q(sign * angle, "deg"))

        return with_cases(rig, tack)

    one, other = checked(on(1.0)), checked(on(-1.0))
    assert not differing(utilisations(one), utilisations(other), rel=ROUNDING, leave=nothing)
    assert one.cases[0].partners_side_N == pytest.approx(-other.cases[0].partners_side_N, rel=ROUNDING)
