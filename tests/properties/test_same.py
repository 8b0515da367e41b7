"""What must not matter: order, units, the way through the batch, a finer mesh."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from rigcalc import CheckResult, check, read_rig, rig_text
from rigcalc.formulas import Working
from rigcalc.rig import Rig
from rigcalc.structure.outline import outline_of
from rigcalc.verdict import cases_of, evaluate, model
from rigcalc.verdict.many import evaluate_many, stand_of

from ..many import by_key, by_key_of_many
from .changes import differing, nothing
from .rigs import Q, Table, changed, checked, read, rigs, utilisations

SAME = 1e-12
"""Sums in another order differ in their last digits."""
BATCH = 1e-6
"""How near a mast of a batch comes to the mast by itself; to be tightened as the two paths become one."""


@settings(max_examples=14)
@given(rig=rigs(least=2, most=4), data=st.data())
def test_order_of_cases_and_parts(rig: Table, data: st.DataObject) -> None:
    def shuffled(table: Table) -> None:
        table["case"] = data.draw(st.permutations(table["case"]))
        for key in ("sleeve", "opening", "weld", "plug", "sheath"):
            table["mast"].get(key, []).reverse()
        for key in ("laminate", "material"):
            table.get(key, []).reverse()

    one, other = checked(rig), checked(changed(rig, shuffled))
    assert not differing(utilisations(one), utilisations(other), rel=SAME, leave=nothing)
    assert one.verdict == other.verdict
    assert {c.name: c for c in one.cases}.keys() == {c.name: c for c in other.cases}.keys()
    for mine in one.cases:
        (its,) = (c for c in other.cases if c.name == mine.name)
        assert its.tip_deflection_m == pytest.approx(mine.tip_deflection_m, rel=SAME)


@settings(max_examples=8)
@given(rig=rigs(kinds=("heel-limited", "wind-limited", "bare"), least=2), share=st.sampled_from([0.2, 0.35]))
def test_order_of_sails(rig: Table, share: float) -> None:
    main = rig["sail"][0]
    top = {**main, "name": "second", "foot": main["foot"] * share}
    one, other = (
        checked(changed(rig, lambda table, both=both: table.update(sail=both)))
        for both in ([main, top], [top, main])
    )
    assert not differing(utilisations(one), utilisations(other), rel=1e-9, leave=nothing)


@settings(max_examples=12)
@given(
    rig=rigs(makes=("metal", "timber", "graded"), kinds=("given", "bare")), share=st.sampled_from([0.3, 0.6])
)
def test_a_station_that_says_nothing_new(rig: Table, share: float) -> None:
    """One more station on a straight taper is the same mast on another mesh; its own numbers tell nothing of meshes."""

    def one_more(table: Table) -> None:
        low, high = table["mast"]["stations"][-2:]
        between = {key: Q(low[key].value + share * (high[key].value - low[key].value), "m") for key in low}
        table["mast"]["stations"].insert(-1, between)

    one, other = checked(rig), checked(changed(rig, one_more))
    assert other.mast.mass_kg == pytest.approx(one.mast.mass_kg, rel=1e-12)
    assert other.mast.natural_frequencies_Hz == pytest.approx(one.mast.natural_frequencies_Hz, rel=1e-8)
    for mine, its in zip(one.cases, other.cases, strict=True):
        assert its.tip_deflection_m == pytest.approx(mine.tip_deflection_m, rel=1e-8)
        assert its.partners_force_N == pytest.approx(mine.partners_force_N, rel=1e-8)


@settings(max_examples=40)
@given(rig=rigs(most=5))
def test_a_rig_written_out_is_read_back(rig: Table) -> None:
    known = read(rig)
    again = read_rig(rig_text(known))
    assert replace(again, defaults=()) == replace(known, defaults=())
    assert rig_text(again) == rig_text(known)


@settings(max_examples=12)
@given(rig=rigs(least=2, kinds=("heel-limited", "wind-limited", "bare", "motion", "knockdown", "given")))
def test_a_batch_gives_what_each_gives(rig: Table) -> None:
    known = read(rig)
    cases, _ = cases_of(known, None)
    outline, rows = outline_of(known.mast), np.array([[1.0], [1.03], [0.97]])
    # the sleeves of the file fit the bore of the file
    tall = rows if not known.mast.sleeve and known.mast.post is None else np.ones_like(rows)
    stand = stand_of(known, cases)
    many = evaluate_many(
        stand,
        replace(
            outline,
            forward_m=outline.forward_m * tall,
            side_m=outline.side_m * tall,
            wall_m=outline.wall_m * tall,
        ),
        bent=True,
    )
    for i, factor in enumerate(tall[:, 0].tolist()):
        run = evaluate(_sized(known, factor), cases, Working())
        alone = {key: used for key, used in by_key(run).items() if key[1] != "post"}
        found = by_key_of_many(many, i)
        assert alone.keys() <= found.keys()
        for key, used in found.items():
            one = alone.get(key, 0.0)
            assert used == one or abs(used - one) <= BATCH * one + 1e-7, (key, used, one)


def _sized(rig: Rig, by: float) -> Rig:
    def size(value: float | None) -> float | None:
        return None if value is None else value * by

    stations = tuple(
        replace(s, diameter_m=size(s.diameter_m), breadth_m=size(s.breadth_m), wall_m=size(s.wall_m))
        for s in rig.mast.stations
    )
    return replace(rig, mast=replace(rig.mast, stations=stations))


@settings(max_examples=8)
@given(rig=rigs())
def test_a_finer_mesh(rig: Table) -> None:
    """Twice and four times the elements: what is integrated stands still; greatest values find their place."""
    known = read(rig)
    results = []
    with pytest.MonkeyPatch.context() as patch:
        for elements in (12, 24, 48):
            patch.setattr(model, "ELEMENTS", elements)
            results.append(check(known))
    coarse, finer, finest = results
    for mine, its in ((coarse, finest), (finer, finest)):
        assert mine.mast.natural_frequencies_Hz == pytest.approx(its.mast.natural_frequencies_Hz, rel=1e-7)
        assert mine.mast.axial_stability_N == pytest.approx(its.mast.axial_stability_N, rel=1e-6)
        for one, other in zip(mine.cases, its.cases, strict=True):
            assert one.tip_deflection_m == pytest.approx(other.tip_deflection_m, rel=1e-7)
            assert one.partners_force_N == pytest.approx(other.partners_force_N, rel=1e-9)
    assert _apart(finer, finest) <= max(_apart(coarse, finest), 1e-6)
    assert _apart(coarse, finest) <= 5e-3


def _apart(one: CheckResult, other: CheckResult) -> float:
    """Return the greatest difference of utilisations, over the greatest of them or one."""
    uses, used = utilisations(one), utilisations(other)
    assume(all(np.isfinite(value) for value in uses.values()))
    return max(abs(used[key] - value) / max(1.0, value) for key, value in uses.items())
