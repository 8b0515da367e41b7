"""Many masts of laminate laid end to end are each as if alone."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcalc.formulas import Working
from rigcalc.limits.laminate import first_ply, laminate_limits, skin_of
from rigcalc.materials import MaterialError
from rigcalc.materials.laminates import LayUp, laid_of_many, lay_up, long_cylinder_load
from rigcalc.rig import Laminate, Plies
from rigcalc.structure.mesh import POINTS

from . import CARBON, GLASS
from .end_to_end import counted, forces, part, tube_of


def lots(*of: tuple[float, float, float], material: str = GLASS, **keys: str) -> LayUp:
    """Return a lay-up from angle in degrees, start and end of its lots."""
    plies = tuple(
        Plies(
            material=material,
            angle_rad=math.radians(angle),
            thickness_m=3e-4,
            start_m=start,
            end_m=None if math.isinf(end) else end,
            count=2 + number,
        )
        for number, (angle, start, end) in enumerate(of)
    )
    return lay_up(Laminate(name="wall", plies=plies, **keys))


INF = math.inf
MADE = lots(
    (45, 0, INF), (-45, 0, INF), (0, 0, INF), (0, 0, 3.0), (90, 0.5, 2.0), (0, 1.0, INF), material=CARBON
)

counts = st.lists(
    st.lists(st.integers(0, 4), min_size=len(MADE.lots), max_size=len(MADE.lots)), min_size=1, max_size=5
).filter(lambda rows: all(any(row[:3]) for row in rows))


@given(rows=counts, seed=st.integers(0, 99))
def test_each_mast_is_laid_as_if_alone(rows: list[list[int]], seed: int) -> None:
    many = np.array(rows)
    middles = np.sort(np.random.default_rng(seed).uniform(0.0, 5.0, (len(many), 6)), axis=-1)
    laid = laid_of_many(MADE, many, middles)
    assert laid.index.shape == (6 * len(many),)
    assert len(np.unique(laid.walls.stack.share, axis=0)) == len(laid.walls.wall_m), "every wall once"
    bore = np.full((6, 2), 0.07)
    for mast, (row, z) in enumerate(zip(many, middles, strict=True)):
        alone = counted(MADE, row).at(z)
        here = slice(6 * mast, 6 * (mast + 1))
        for name in ("wall_m", "E_Pa", "G_Pa", "mass_kg_m2", "density_kg_m3"):
            assert getattr(laid, name)[here] == pytest.approx(getattr(alone, name), rel=1e-12), name
        for name in ("A_N_m", "B_N", "D_N_m", "released_D_N_m"):
            found, wanted = (
                getattr(of.walls, name)[of.index[i]] for of, i in ((laid, here), (alone, slice(None)))
            )
            # what cancels leaves the rounding of its parts
            least = 1e-12 * np.max(alone.walls.A_N_m) * 1e-2 ** "ABD".index(name.removeprefix("released_")[0])
            assert found == pytest.approx(wanted, rel=1e-12, abs=least), name
        for ours, theirs in zip(
            laid.tube_moduli_Pa(np.tile(bore, (len(many), 1))), alone.tube_moduli_Pa(bore), strict=True
        ):
            assert ours[here] == pytest.approx(theirs, rel=1e-12)
        for i in range(6):
            stack = laid.weakened(int(laid.index[here][i])).stack
            wanted_stack = alone.weakened(int(alone.index[i])).stack
            assert stack.thickness_m == pytest.approx(wanted_stack.thickness_m, rel=1e-12)
            stands = laid.standing(int(laid.index[here][i]))
            names = [laid.lot(6 * mast + i, int(place)).label for place in stands]
            assert names == [
                counted(MADE, row).lots[place].label for place in alone.standing(int(alone.index[i]))
            ]


def test_what_cannot_be_laid_is_refused() -> None:
    middles = np.array([[0.5, 4.0]])
    with pytest.raises(MaterialError, match="no ply is left"):
        laid_of_many(MADE, np.array([[0, 0, 0, 2, 2, 0]]), middles)
    with pytest.raises(MaterialError, match="below zero"):
        laid_of_many(MADE, np.array([[1, 0, 0, -2, 2, 0]]), middles)


@given(rows=counts, seed=st.integers(0, 20))
def test_each_mast_bears_as_much_as_alone(rows: list[list[int]], seed: int) -> None:
    many = np.array(rows)
    middles = np.broadcast_to(np.array([0.25, 0.75, 1.5, 2.5, 4.0]), (len(many), 5))
    internal = forces(seed, 2, middles.size)
    bore = np.full((middles.size, POINTS), 0.07)
    asked = replace(MADE, criteria=("max-strain", "tsai-wu"))

    def limits(laid, bores, felt):
        sections = tube_of(laid, bores)
        skin = skin_of(sections, sections.layers[0], felt, Working())
        return skin, laminate_limits(skin, felt, Working())

    skin, together = limits(laid_of_many(asked, many, middles), bore, internal)
    for mast, row in enumerate(many):
        here = slice(5 * mast, 5 * (mast + 1))
        alone_skin, alone = limits(counted(asked, row).at(middles[mast]), bore[here], part(internal, here))
        for ours, theirs in zip(together, alone, strict=True):
            assert ours.id == theirs.id
            assert ours.demand[:, here] == pytest.approx(theirs.demand, rel=1e-10), ours.id
            assert np.broadcast_to(ours.capacity, ours.demand.shape)[:, here] == pytest.approx(
                np.broadcast_to(theirs.capacity, theirs.demand.shape), rel=1e-10
            ), ours.id
        own = np.flatnonzero(row)
        at = np.indices(alone[0].demand.shape).reshape(3, -1)
        for criterion in asked.criteria:
            fails = first_ply(skin, criterion).fails((at[0], at[1] + 5 * mast, at[2]))
            told = first_ply(alone_skin, criterion).fails(tuple(at))
            # of plies at plus and minus an angle either may be named
            assert [abs(MADE.lots[i].angle_rad) for i in fails[0]] == [
                abs(MADE.lots[own[i]].angle_rad) for i in told[0]
            ]
            assert np.array_equal(fails[1], told[1])


def test_masts_are_judged_together_by_one_number_of_buckling() -> None:
    many = np.random.default_rng(3).integers(1, 6, (9, len(MADE.lots)))
    laid = laid_of_many(MADE, many, np.full((9, 1), 0.2))
    together = long_cylinder_load(laid.walls)[laid.index]
    for mast in range(9):
        alone = counted(MADE, many[mast]).at([0.2])
        assert together[mast] == pytest.approx(long_cylinder_load(alone.walls)[0], rel=1e-11)
