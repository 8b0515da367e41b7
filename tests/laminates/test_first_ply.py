"""First ply to fail at many places at once, against one wall, one place and one sign after the other."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import product
from types import SimpleNamespace
from typing import get_args

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from rigcalc.limits.laminate import Skin, first_ply
from rigcalc.limits.laminate_bearings import bent_round
from rigcalc.limits.stresses import Stresses
from rigcalc.materials import MaterialError
from rigcalc.materials.laminates import (
    Criterion,
    Laid,
    LaidPlies,
    LayUp,
    WallStrain,
    failure,
    find_ply_material,
    lay_up,
    ply_state,
    unit_strains,
)
from rigcalc.rig import Laminate, Plies

from . import CARBON, CLOTH, GLASS

Floats = NDArray[np.float64]
NAMES: tuple[Criterion, ...] = get_args(Criterion)
ONE_WAY = (GLASS, CARBON)

heights = st.sampled_from([0.0, 1.0, 2.0, 3.0])
turns = st.one_of(st.sampled_from([0.0, 45.0, -45.0, 90.0]), st.floats(-90.0, 90.0))


@st.composite
def lay_ups(draw: st.DrawFn, materials: tuple[str, ...] = ONE_WAY) -> LayUp:
    """Return a lay-up of a few lots, some of which end, one at least running through."""
    lots = []
    many = draw(st.integers(1, 5))
    runs = draw(st.integers(0, many - 1))
    for number in range(many):
        start, end = sorted((draw(heights), draw(heights)))
        through = number == runs or start == end
        lots.append(
            Plies(
                material=draw(st.sampled_from(materials)),
                angle_rad=math.radians(draw(turns)),
                thickness_m=draw(st.floats(2e-4, 1e-3)),
                count=draw(st.integers(1, 3)),
                **({} if through else {"start_m": start, "end_m": end}),
            )
        )
    if draw(st.booleans()):
        # balanced, and laid like plies twice
        lots += [Plies(**{**vars(lot), "angle_rad": -lot.angle_rad}) for lot in lots]
    return lay_up(Laminate(name="wall", plies=tuple(lots), criterion="max-strain"))


def skin_of(laid: Laid, parts: Floats) -> Skin:
    """Return a layer with these strains: bending, thrust, torque and shear on the leading axis."""
    shape = parts.shape[2:]
    ones = np.ones(shape)
    layer = SimpleNamespace(
        present=np.ones((shape[0], 1), dtype=bool),
        outer_m=ones,
        elastic=SimpleNamespace(E_Pa=ones, G_Pa=ones),
    )
    bent, pressed, twisted, sheared = parts
    stresses = Stresses(bent, bent, pressed, twisted, sheared)
    return Skin(SimpleNamespace(), layer, laid, stresses)  # type: ignore[arg-type]  # what the plies ask of it


def strains(seed: int, laid: Laid, points: int = 2, cases: int = 2) -> Floats:
    """Return parts of the strain of every size, some of them nothing."""
    random = np.random.default_rng(seed)
    shape = (4, cases, len(laid.index), points)
    return random.uniform(0.0, 4e-3, shape) * random.choice([0.0, 0.1, 1.0, 1.0], shape)


def signed(outer: tuple[float, ...], axis: tuple[float, ...]) -> list[tuple[float, ...]]:
    """Return the states looked at, in the order in which they are told: the first of equals counts."""
    ways = product((1.0, -1.0), repeat=len(outer))
    return [tuple(w * s for w, s in zip(way, of, strict=True)) for way in ways for of in (outer, axis)]


def one_by_one(skin: Skin, criterion: Criterion, at: tuple[int, int, int]) -> tuple[Floats, list[Floats]]:
    """Return the use of every standing ply in every state at a place, and what fails in each."""
    bent, pressed, twisted, sheared = (
        float(of[at]) for of in (skin.bent, skin.pressed, skin.twisted, skin.sheared)
    )
    number = int(skin.laid.index[at[1]])
    pulled, slid = (of[number] for of in unit_strains(skin.laid.walls))
    wall = skin.laid.weakened(number)
    use, modes = [], []
    for along, shear in signed((bent + pressed, twisted), (pressed, twisted + sheared)):
        strain = along * pulled + shear * slid
        found = failure(wall.stack, ply_state(wall, WallStrain(strain, np.zeros(3))), criterion)
        use.append(found.use[:, 0])
        modes.append(found.mode_number[:, 0])
    return np.array(use).T, np.array(modes).T


@pytest.mark.parametrize("criterion", NAMES)
@given(made=lay_ups(), seed=st.integers(0, 99))
def test_many_places_at_once_are_each_alone(criterion: Criterion, made: LayUp, seed: int) -> None:
    laid = made.at([0.5, 1.5, 2.5, 0.7, 3.5])
    skin = skin_of(laid, strains(seed, laid))
    first = first_ply(skin, criterion)
    everywhere = np.indices(first.use.shape).reshape(3, -1)
    lots, modes = first.fails(tuple(everywhere))
    for at, lot, mode in zip(everywhere.T, lots, modes, strict=True):
        use, by_ply = one_by_one(skin, criterion, tuple(at))
        best = np.max(use)
        assert first.use[tuple(at)] == pytest.approx(best, rel=1e-12)
        # its place among those that stand; where plies are as bad as each other, rounding may choose
        row = int(np.flatnonzero(laid.standing(int(laid.index[at[1]])) == lot)[0])
        assert np.max(use[row]) == pytest.approx(best, rel=1e-12)
        assert mode in by_ply[row, use[row] >= best * (1 - 1e-12)]
        if np.sum(use >= best * (1 - 1e-12)) == 1 or best == 0.0:
            worst = np.unravel_index(np.argmax(use), use.shape)
            assert (row, mode) == (worst[0], by_ply[worst])


@pytest.mark.parametrize("criterion", ["max-stress", "max-strain", "tsai-hill", "tsai-wu"])
@given(made=lay_ups((GLASS, CLOTH)), seed=st.integers(0, 99))
def test_woven_plies_too(criterion: Criterion, made: LayUp, seed: int) -> None:
    laid = made.at([0.5, 2.5])
    skin = skin_of(laid, strains(seed, laid, points=1))
    first = first_ply(skin, criterion)
    for at in np.ndindex(first.use.shape):
        assert first.use[at] == pytest.approx(np.max(one_by_one(skin, criterion, at)[0]), rel=1e-12)


@pytest.mark.parametrize("criterion", NAMES)
@given(made=lay_ups(), seed=st.integers(0, 99))
def test_walls_bent_round_are_each_alone(criterion: Criterion, made: LayUp, seed: int) -> None:
    """Both faces of every ply, with the curvature both ways."""
    laid = replace(made, criteria=(criterion,)).at([0.5, 1.5, 3.5])
    skin = skin_of(laid, strains(seed, laid))
    at = np.array([[True, False], [True, True], [False, True]])
    curved = np.random.default_rng(seed).uniform(0.0, 2.0, (2, 4))
    found = bent_round(skin, at, curved)
    for case, (k, (i, j)) in product(range(2), enumerate(np.argwhere(at))):
        bent, pressed, twisted, sheared = (
            float(of[case, i, j]) for of in (skin.bent, skin.pressed, skin.twisted, skin.sheared)
        )
        number, curve = int(laid.index[i]), float(curved[case, k])
        pulled, slid = (of[number] for of in unit_strains(laid.walls))
        wall = laid.weakened(number)
        uses = []
        for along, shear, bend in signed(
            (bent + pressed, twisted, curve), (pressed, twisted + sheared, curve)
        ):
            strain = WallStrain(along * pulled + shear * slid, np.array([0.0, bend, 0.0]))
            uses.append(np.max(failure(wall.stack, ply_state(wall, strain), criterion).use))
        assert found[case, k] == pytest.approx(max(uses), rel=1e-12)


def test_no_answer_counts_as_failed() -> None:
    laid = lay_up(Laminate(name="wall", plies=(Plies(material=GLASS, angle_rad=0.3, thickness_m=1e-3),))).at(
        [1.0]
    )
    parts = np.full((4, 1, 1, 2), 1e-3)
    parts[0, 0, 0, 1] = np.nan
    for criterion in NAMES:
        use = first_ply(skin_of(laid, parts), criterion).use
        assert np.isinf(use[0, 0, 1])
        assert 0.0 < use[0, 0, 0] < 1.0


def test_a_criterion_that_does_not_suit_is_refused() -> None:
    laid = lay_up(
        Laminate(
            name="wall",
            plies=(Plies(material=CLOTH, angle_rad=0.0, thickness_m=1e-3),),
            criterion="max-stress",
        )
    ).at([1.0])
    with pytest.raises(MaterialError, match="one direction of fibres"):
        first_ply(skin_of(laid, np.full((4, 1, 1, 1), 1e-3)), "hashin")


def test_the_ply_named_has_as_many_as_stand() -> None:
    ply = find_ply_material(GLASS).of_thickness(1e-3)
    made = lay_up(
        Laminate(name="wall", plies=(Plies(material=GLASS, angle_rad=0.0, thickness_m=1e-3, count=4),))
    )
    assert made.at([1.0]).lot(0, 0) == LaidPlies(ply, 0.0, 4, 0.0, math.inf)
