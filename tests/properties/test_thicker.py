"""A thicker wall at the same outside is stiffer and safer, in every check, wherever the load stays what it was.

The load does not stay where the mast's own weight is part of it: level, heeled, swung, lifted or drawn through the
bearings by its own weight, a heavier mast asks more of itself. So this is held under given loads without weight, and in
every kind of case for metal made as much lighter as its section grew.

Two limits are no matter of stiffness. Shear through the wall of a laminate grows as its mean radius falls with a wall
that grows inward. And a wall of under a twentieth of its radius alone is held against buckling as a shell.

On a post a third is left out, the edge of the bush at the step: the mast leans there as the post gives way at its
top, less what the mast itself bends the other way below it, so that a stiffer mast leans more.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from .changes import Key, coated, greater, thicker
from .rigs import ALLOY, Q, Table, changed, checked, rigs, text_of, utilisations

MORE = st.sampled_from([1.02, 1.1, 1.3])
HAIR = 1e-8


def hold(rig: Table, other: Table, leave: tuple[str, ...] = ()) -> None:
    uses, used = utilisations(checked(rig)), utilisations(checked(other))
    assert {key for key in uses if key not in used} <= {key for key in uses if key[0] == "shell-buckling"}
    assert uses.keys() >= used.keys()

    def left(key: Key) -> bool:
        leaning = key[0] == "step-edge" and rig["mast"].get("support") == "post"
        return (key[0] in leave and key[1] == "tube") or leaning

    assert not greater(uses, used, rel=HAIR, leave=left), text_of(rig)


@settings(max_examples=24)
@given(rig=rigs(kinds=("given",), fatigue=False), by=MORE)
def test_wall_under_given_loads(rig: Table, by: float) -> None:
    assume("sleeve" not in rig["mast"] and "furling" not in rig)
    hold(rig, thicker(rig, by), leave=("interlaminar",))


@settings(max_examples=20)
@given(rig=rigs(kinds=("given",), makes=("metal", "timber", "graded"), fatigue=False), by=MORE)
def test_sleeve_and_sheath_under_given_loads(rig: Table, by: float) -> None:
    assume("sleeve" in rig["mast"] or "sheath" in rig["mast"])
    assume("furling" not in rig)
    hold(rig, coated(rig, by))


@settings(max_examples=20)
@given(rig=rigs(makes=("metal",)), by=MORE)
def test_wall_of_metal_no_heavier_in_every_kind_of_case(rig: Table, by: float) -> None:
    assume("sleeve" not in rig["mast"])
    rig = changed(rig, _alike)
    heel = rig["mast"]["stations"][0]
    lighter = _area(rig["mast"], heel["wall"].value) / _area(rig["mast"], by * heel["wall"].value)
    hold(rig, thicker(rig, by, density=lighter))


def _alike(rig: Table) -> None:
    """Give every station the shares of the heel, to the last digit, so that areas grow by one factor all along."""
    heel, *others = rig["mast"]["stations"]
    for station in others:
        for key in ("wall", "breadth"):
            if key in heel:
                share = heel[key].value / heel["diameter"].value
                station[key] = Q(share * station["diameter"].value, "m")


def _area(mast: Table, wall: float) -> float:
    heel = mast["stations"][0]
    D, B = heel["diameter"].value, heel.get("breadth", heel["diameter"]).value
    area = D * B - (D - 2 * wall) * (B - 2 * wall)
    return area if mast.get("shape") == "box" else math.pi / 4 * area


EVEN: Table = {
    "title": "even",
    "boat": {
        "displacement": Q(900.0, "kg"),
        "waterline": Q(0.4, "m"),
        "lateral_centre": Q(0.0, "m"),
        "stability": {"moment_max": Q(3000.0, "N m")},
    },
    "mast": {
        "length": Q(6.0, "m"),
        "bury": Q(0.9, "m"),
        "material": "alloy",
        "stations": [
            {"height": Q(z, "m"), "diameter": Q(0.1, "m"), "wall": Q(0.003, "m")} for z in (0.0, 6.0)
        ],
    },
    "material": [ALLOY],
    "case": [
        {"name": "flat", "kind": "knockdown"},
        {"name": "slung", "kind": "lift", "lower_height": Q(0.6, "m"), "upper_height": Q(4.0, "m")},
        {"name": "rolling", "kind": "motion"},
    ],
}


def test_what_own_weight_makes_of_a_thicker_wall() -> None:
    """Loads by the mass; deflection by the mass over the stiffness: a wall inward adds more of the first."""
    by = 1.5
    one, other = checked(EVEN), checked(thicker(EVEN, by))
    D, bore, narrow = 0.1, 0.1 - 2 * 0.003, 0.1 - 2 * by * 0.003
    heavier = (D**2 - narrow**2) / (D**2 - bore**2)
    stiffer = (D**4 - narrow**4) / (D**4 - bore**4)
    for mine, its in zip(one.cases, other.cases, strict=True):
        assert its.max_moment_N_m == pytest.approx(heavier * mine.max_moment_N_m, rel=1e-9)
        assert its.tip_deflection_m == pytest.approx(heavier / stiffer * mine.tip_deflection_m, rel=1e-9)
    assert heavier > stiffer
    # it swings more slowly, and costs the boat her stability by its mass
    slower = [f * math.sqrt(stiffer / heavier) for f in one.mast.natural_frequencies_Hz]
    assert other.mast.natural_frequencies_Hz == pytest.approx(slower, rel=1e-9)
    cost, dearer = one.mast.stability_cost, other.mast.stability_cost
    assert dearer.gm_loss_m == pytest.approx(heavier * cost.gm_loss_m, rel=1e-9)
