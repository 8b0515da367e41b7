"""Of many masts laid end to end each is used as if it stood by itself, wherever it stands among them."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from rigcalc.design.sizing.makes import nested_outline, space_of, tube_rig
from rigcalc.structure.outline import Outline
from rigcalc.verdict.many import Stand, evaluate_many
from tests.many import by_key_of_many, example, stand
from tests.many.test_many import rows_of, tube

MASTS = 9


def assert_each_by_itself(ready: Stand, outline: Callable[[list[int]], Outline]) -> None:
    """Hold masts together, in turned order and each alone alike; ``outline`` makes those of some numbers."""
    order = list(range(MASTS))
    together, turned = (evaluate_many(ready, outline(which)) for which in (order, order[::-1]))
    for i in order:
        alone = by_key_of_many(evaluate_many(ready, outline([i])), 0)
        for run, at in ((together, i), (turned, MASTS - 1 - i)):
            found = by_key_of_many(run, at)
            assert alone.keys() <= found.keys()
            for key, used in found.items():
                assert used == pytest.approx(alone.get(key, 0.0), rel=1e-9, abs=1e-12), (i, key)
    assert np.unique(np.round(together.greatest, 9)).size > 1


@pytest.mark.parametrize("name", ["given_loads", "stave_mast_6m"])
def test_nested_tubes(name: str) -> None:
    rig = example(name)
    rng = np.random.default_rng(5)
    chains = [
        [tube(D, t), tube(D - 2 * t - 0.7, t - 1.0)]
        for D, t in zip(rng.uniform(90, 140, MASTS), rng.uniform(3.5, 7.0, MASTS), strict=True)
    ]
    # high up, so that what is counted in elements goes wrong before the last mast
    joints = rng.uniform(2.0, rig.mast.length_m - 0.3, (MASTS, 1))
    tails = rng.uniform(0.15, 0.45, (MASTS, 1))

    def outline(which: list[int]) -> Outline:
        return nested_outline([chains[i] for i in which], joints[which], tails[which], rig.mast.length_m)

    assert_each_by_itself(stand(tube_rig(rig, "6061-T6 drawn", 2)), outline)


@pytest.mark.parametrize(
    ("name", "material"),
    [
        ("given_loads", "C24"),
        ("stave_mast_6m", "Sitka spruce (US)"),
        ("glass_tube_5m", "Sitka spruce (US)+E-glass/epoxy woven 0.50"),
        ("glass_tube_5m", "glass tube"),
    ],
)
def test_staves_sheaths_and_laminates(name: str, material: str) -> None:
    space = space_of(example(name), material)
    rows = rows_of(space, masts=MASTS, seed=11)
    assert_each_by_itself(stand(space.rig), lambda which: space.outline(rows[which]))
