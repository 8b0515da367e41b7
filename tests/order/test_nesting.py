"""Stepped masts against every way of putting tubes into one another, tried one by one."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations, islice, pairwise, permutations
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc.design.nesting import (
    NestingRules,
    SteppedMast,
    chains,
    count_masts,
    kg_per_metre,
    nearest_fit,
    stepped_masts,
)
from rigcalc.errors import RigInputError
from rigcalc.materials.tube_tables import TubeSize, tube_sizes

ALUMINIUM = kg_per_metre(2700.0)


def tube(diameter_mm: float, wall_mm: float, **more: Any) -> TubeSize:
    named = f"{diameter_mm:g} x {wall_mm:g}"
    return TubeSize(
        **{
            "name": named, "series": "test", "diameter_m": diameter_mm / 1e3, "wall_m": wall_mm / 1e3,
            "provenance": "user", "source": "test", **more,
        }
    )  # fmt: skip


def rules(**more: Any) -> NestingRules:
    return NestingRules(
        **{"length_m": 5.0, "joint_step_m": 0.5, "clearance_m": (0.0005, 0.006), "shown_m": 0.5, **more}
    )


def built_one_by_one(
    tubes: Sequence[TubeSize], kept: NestingRules, per_metre: Any, may_stand: Any = None
) -> Iterator[tuple[tuple[TubeSize, ...], tuple[float, ...], float]]:
    """Yield (tubes, joints, weight) of every mast, by trying every order of tubes and every set of joints.

    Written from the rules alone. Offers of one size stand in for one another: the cheapest that is long enough.
    """
    sizes: dict[tuple[float, float, str | None], list[TubeSize]] = {}
    for t in tubes:
        sizes.setdefault((t.diameter_m, t.wall_m, t.material), []).append(t)
    grid = [kept.joint_step_m * i for i in range(1, 1000) if kept.joint_step_m * i < kept.length_m - 1e-9]
    whole = [0.0, *grid, kept.length_m]
    for n in range(kept.fewest, kept.most + 1):
        for chain in permutations(sizes.values(), n):
            clear = [low[0].bore_m - up[0].diameter_m for low, up in pairwise(chain)]
            if not all(kept.clearance_m[0] - 1e-9 <= c <= kept.clearance_m[1] + 1e-9 for c in clear):
                continue
            if kept.one_material and len({offers[0].material for offers in chain}) > 1:
                continue
            tails = [
                math.ceil(max(kept.overlap_m, kept.overlap_bores * low[0].bore_m) * 1e3 - 1e-6) / 1e3
                for low in chain[:-1]
            ]
            for joints in combinations(grid, n - 1):
                shown, ends = [0.0, *joints], [*joints, kept.length_m]
                starts = [0.0, *(j - tail for j, tail in zip(joints, tails, strict=True))]
                alone = [*(j - tail for j, tail in zip(joints, tails, strict=True)), kept.length_m]
                if any(e - s < kept.shown_m - 1e-9 for s, e in zip(shown, ends, strict=True)):
                    continue
                # a tail ends at or above the joint below it, the lowest at or above the heel
                if any(start < low - 1e-9 for start, low in zip(starts[1:], shown, strict=False)):
                    continue
                lengths = [end - start for start, end in zip(starts, ends, strict=True)]
                fit = [
                    [o for o in offers if min(kept.piece_m, o.stock_length_m or math.inf) >= length - 1e-9]
                    for offers, length in zip(chain, lengths, strict=True)
                ]
                if not all(fit):
                    continue
                if may_stand is not None and not all(
                    may_stand(offers[0], np.array([z]))[0]
                    for offers, low, high in zip(chain, shown, alone, strict=True)
                    for z in whole
                    if low - 1e-9 <= z <= high + 1e-9
                ):
                    continue
                weight = sum(
                    min(per_metre(o) for o in offers) * length
                    for offers, length in zip(fit, lengths, strict=True)
                )
                yield tuple(offers[0] for offers in chain), joints, weight


def key_of(tubes: Sequence[TubeSize], joints: Sequence[float]) -> tuple[Any, ...]:
    return (
        tuple((t.diameter_m, t.wall_m, t.material) for t in tubes),
        tuple(round(z, 6) for z in joints),
    )


def demand_sound(mast: SteppedMast, kept: NestingRules) -> None:
    """Measure one mast with a rule and callipers."""
    low, *_, top = (mast.sections[0], *mast.sections[1:], mast.sections[-1])
    assert low.start_m == low.shown_m == 0.0
    assert top.end_m == kept.length_m
    for outer, inner in pairwise(mast.sections):
        clear = outer.tube.bore_m - inner.tube.diameter_m
        assert kept.clearance_m[0] - 1e-9 <= clear <= kept.clearance_m[1] + 1e-9
        assert inner.shown_m == outer.end_m
        tail = inner.shown_m - inner.start_m
        assert tail >= max(kept.overlap_m, kept.overlap_bores * outer.tube.bore_m) - 1e-9
        assert inner.start_m >= outer.shown_m - 1e-9
    for section in mast.sections:
        assert section.end_m - section.shown_m >= kept.shown_m - 1e-9
        assert section.length_m <= min(kept.piece_m, section.tube.stock_length_m or math.inf) + 1e-9
        at = section.shown_m / kept.joint_step_m
        assert at == pytest.approx(round(at), abs=1e-6)


TUBES = st.builds(
    lambda d, t, material, stock, price: tube(
        d, t, material=material, stock_length_m=stock, price_per_m=float(price)
    ),
    st.sampled_from([40, 44, 50, 54, 60, 64, 70]),
    st.sampled_from([2, 3, 5]),
    st.sampled_from(["a", "a", "a", None]),
    st.sampled_from([None, None, 3.0, 6.0]),
    st.integers(1, 4),
)
RULES = st.builds(
    rules,
    length_m=st.sampled_from([3.0, 3.7, 5.0]),
    fewest=st.integers(1, 2),
    most=st.integers(2, 3),
    piece_m=st.sampled_from([2.4, math.inf, math.inf]),
    overlap_m=st.sampled_from([0.0, 0.7, 1.2]),
    overlap_bores=st.sampled_from([1.5, 8.0]),
    clearance_m=st.sampled_from([(0.0, 0.002), (0.0005, 0.006), (0.0, 0.05), (0.0, 0.05)]),
    shown_m=st.sampled_from([0.0, 0.5, 1.0]),
    one_material=st.booleans(),
)


@settings(max_examples=150, deadline=None)
@given(
    tubes=st.lists(TUBES, min_size=1, max_size=6),
    kept=RULES,
    need=st.none() | st.lists(st.sampled_from([0.0, 0.0, 3e-4, 5e-4, 1e-3]), min_size=3, max_size=3),
    by_price=st.booleans(),
)
def test_nothing_is_lost_and_nothing_invented(
    tubes: list[TubeSize], kept: NestingRules, need: list[float] | None, by_price: bool
) -> None:
    def may_stand(t: TubeSize, z: np.ndarray) -> np.ndarray:
        assert need is not None
        return t.area_m2 >= np.interp(z, [0.0, kept.length_m / 2, kept.length_m], need)

    def per_metre(t: TubeSize) -> float:
        return (t.price_per_m or 0.0) if by_price else ALUMINIUM(t)

    stands = None if need is None else may_stand
    expected = {key_of(t, z): w for t, z, w in built_one_by_one(tubes, kept, per_metre, stands)}
    found = list(stepped_masts(tubes, kept, per_metre, may_stand=stands))
    got = {key_of([s.tube for s in m.sections], m.joints_m): m.weighed for m in found}
    assert len(got) == len(found), "a mast came twice"
    assert got.keys() == expected.keys()
    for key, weight in expected.items():
        assert got[key] == pytest.approx(weight, rel=1e-9)
    weights = [m.weighed for m in found]
    assert all(b >= a * (1 - 1e-9) for a, b in pairwise(weights))
    for mast in found:
        demand_sound(mast, kept)
        assert mast.weighed == pytest.approx(sum(per_metre(s.tube) * s.length_m for s in mast.sections))

    listed = list(chains(tubes, kept, per_metre, may_stand=stands))
    assert sum(c.weighed.size for c in listed) == len(found)
    assert count_masts(tubes, kept, may_stand=stands) == (len(listed), len(found))
    for chain in listed:
        assert np.all(np.diff(chain.weighed) >= 0)
        assert chain.joints_m.shape == (chain.weighed.size, len(chain.tubes) - 1)

    if weights:
        cap = weights[len(weights) // 2]
        capped = [m.weighed for m in stepped_masts(tubes, kept, per_metre, may_stand=stands, cap=cap)]
        assert len(capped) == sum(w <= cap * (1 + 1e-9) for w in weights)


def test_the_first_that_passes_is_the_lightest() -> None:
    """Whatever decides: here a made-up verdict that no part of a mast betrays alone."""
    tubes = [tube(d, t) for d in (50, 54, 60, 64, 70) for t in (2, 3)]
    kept = rules(most=3)

    def passes(sections: Sequence[tuple[TubeSize, float, float]]) -> bool:
        return sum(t.diameter_m**3 * (high**2 - low**2) for t, low, high in sections) > 3.9e-3

    first = next(
        m
        for m in stepped_masts(tubes, kept, ALUMINIUM)
        if passes([(s.tube, s.shown_m, s.end_m) for s in m.sections])
    )
    passing = [
        weight
        for chain, joints, weight in built_one_by_one(tubes, kept, ALUMINIUM)
        if passes(list(zip(chain, [0.0, *joints], [*joints, kept.length_m], strict=True)))
    ]
    assert 10 < len(passing) < count_masts(tubes, kept)[1] - 10
    assert first.weighed == pytest.approx(min(passing))


def test_a_mast_worked_by_hand() -> None:
    """60 x 2 in 70 x 4: bore 62, clear by 2; tail of 1.5 x 62 = 93 mm; joint at 2 m of 5 m."""
    kept = rules(most=2, fewest=2, shown_m=2.0, piece_m=3.2)
    masts = list(stepped_masts([tube(60, 2), tube(70, 4)], kept, ALUMINIUM))
    assert [m.joints_m for m in masts] == [(2.0,), (2.5,), (3.0,)]
    low, up = masts[0].sections
    assert (low.tube.name, low.length_m) == ("70 x 4", 2.0)
    assert (up.tube.name, up.start_m, up.shown_m, up.end_m) == ("60 x 2", pytest.approx(1.907), 2.0, 5.0)
    areas = [math.pi / 4 * (0.070**2 - 0.062**2), math.pi / 4 * (0.060**2 - 0.056**2)]
    assert masts[0].weighed == pytest.approx(2700 * (areas[0] * 2.0 + areas[1] * 3.093))
    # with pieces of 3 m at most the upper tube cannot begin so low
    shorter = stepped_masts([tube(60, 2), tube(70, 4)], rules(most=2, shown_m=2.0, piece_m=3.0), ALUMINIUM)
    assert [m.joints_m for m in shorter] == [(2.5,), (3.0,)]


def test_a_piece_is_cut_from_the_cheapest_offer_that_is_long_enough() -> None:
    offers = [
        tube(60, 2, stock_length_m=6.0, price_per_m=10.0),
        tube(60, 2, stock_length_m=3.0, price_per_m=7.0),
        tube(60, 2, stock_length_m=2.5, price_per_m=8.0),  # shorter and dearer: never
        tube(60, 2, stock_length_m=4.0, price_per_m=12.0),  # the 6 m one is longer and cheaper
    ]
    for length, price in ((2.0, 7.0), (3.0, 7.0), (3.5, 10.0), (6.0, 10.0)):
        (mast,) = stepped_masts(offers, rules(length_m=length, most=1), lambda t: t.price_per_m or 0.0)
        assert mast.sections[0].tube.price_per_m == price
        assert mast.weighed == pytest.approx(price * length)
    assert list(stepped_masts(offers, rules(length_m=6.1, most=1), ALUMINIUM)) == []


def test_a_weak_tube_is_asked_only_where_it_stands_alone() -> None:
    """The 60 fails at 2 m: it may not be alone there, but its tail may lie there, inside the 70."""
    tubes = [tube(60, 2), tube(70, 4)]
    kept = rules(most=2, fewest=2, overlap_m=1.0)

    def may_stand(t: TubeSize, z: np.ndarray) -> np.ndarray:
        return (t.diameter_m > 0.065) | (np.abs(z - 2.0) > 1e-9)

    joints = [m.joints_m for m in stepped_masts(tubes, kept, ALUMINIUM, may_stand=may_stand)]
    assert joints == [(2.5,), (3.0,), (3.5,), (4.0,), (4.5,)]

    # and the 70, if it is the weak one, may be there with the tail of the 60 in it, which reaches down by 1 m
    def lower_may_stand(t: TubeSize, z: np.ndarray) -> np.ndarray:
        return (t.diameter_m < 0.065) | (np.abs(z - 2.0) > 1e-9)

    joints = [m.joints_m for m in stepped_masts(tubes, kept, ALUMINIUM, may_stand=lower_may_stand)]
    assert joints == [(1.0,), (1.5,), (2.0,), (2.5,)]


def test_the_whole_table_gives_up_its_lightest_masts_soon() -> None:
    tubes = [t for t in tube_sizes() if t.diameter_m > 0.06]
    kept = NestingRules(length_m=7.0, most=2, piece_m=6.0)
    found = list(islice(stepped_masts(tubes, kept, ALUMINIUM), 300))
    assert len(found) == 300
    for mast in found:
        demand_sound(mast, kept)
    assert count_masts(tubes, kept)[1] > 300


def test_the_pair_that_nearly_fits_is_named() -> None:
    kept = rules(clearance_m=(0.0005, 0.002))
    outer, inner, off = nearest_fit([tube(60, 2), tube(64, 2), tube(80, 2)], kept) or pytest.fail("none")
    assert (outer.name, inner.name) == ("64 x 2", "60 x 2")
    assert off == pytest.approx(-0.0005)
    outer, inner, off = nearest_fit([tube(60, 2), tube(70, 2)], kept) or pytest.fail("none")
    assert off == pytest.approx(0.004)
    assert nearest_fit([tube(60, 2), tube(60, 3)], kept) is None
    assert nearest_fit([tube(60, 2, material="a"), tube(70, 2, material="b")], kept) is None


@pytest.mark.parametrize(
    ("more", "paths"),
    [
        ({"length_m": math.nan}, {"length", "shown", "joint_step"}),
        ({"length_m": 7000.0}, {"length", "joint_step"}),
        ({"overlap_m": -0.1}, {"overlap"}),
        ({"overlap_bores": math.inf}, {"overlap_bores"}),
        ({"overlap_m": 0.0, "overlap_bores": 0.0}, {"overlap"}),
        ({"piece_m": 0.0}, {"piece"}),
        ({"shown_m": 6.0}, {"shown"}),
        ({"joint_step_m": 0.0}, {"joint_step"}),
        ({"joint_step_m": 0.02}, {"joint_step"}),
        ({"clearance_m": (0.003, 0.002)}, {"clearance[0]", "clearance[1]"}),
        ({"clearance_m": (-0.001, 0.002)}, {"clearance[0]"}),
        ({"clearance_m": (0.0, 2.0)}, {"clearance[1]"}),
        ({"fewest": 0}, {"fewest"}),
        ({"fewest": 3, "most": 2}, {"fewest"}),
        ({"most": 5}, {"fewest"}),
    ],
)
def test_rules_that_make_no_mast_are_refused(more: dict[str, Any], paths: set[str]) -> None:
    with pytest.raises(RigInputError, match="in the rules for stepped masts") as caught:
        rules(**more)
    assert {p.path for p in caught.value.problems} == paths
    assert all(p.allowed and p.remedy for p in caught.value.problems)


@pytest.mark.parametrize("price", [0.0, -1.0, math.nan, math.inf])
def test_a_tube_that_weighs_nothing_is_refused(price: float) -> None:
    with pytest.raises(RigInputError, match="weighs or costs something"):
        list(stepped_masts([tube(60, 2)], rules(), lambda _: price))
