"""The outline of a mast: runs from step to step, areas, girths."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from scipy.special import ellipe

from rigcalc.design.outline import outline_of
from rigcalc.rig import Mast, Station


def mast(*rows: tuple[float, float, float | None], breadth_m: float | None = None, **more: Any) -> Mast:
    stations = tuple(Station(height_m=z, diameter_m=d, wall_m=w, breadth_m=breadth_m) for z, d, w in rows)
    return Mast(length_m=rows[-1][0], bury_m=0.5, material="C24", stations=stations, **more)


def test_runs_part_at_steps_alone() -> None:
    found = outline_of(
        mast((0, 0.1, 0.01), (2, 0.1, 0.01), (2, 0.1, 0.01), (3, 0.1, 0.02), (3, 0.08, 0.02), (5, 0.06, None))
    )
    assert [run.heights_m for run in found.runs] == [(0, 2, 3), (3, 5)]
    assert found.runs[1].wall_m == (0.02, 0.03)  # half the diameter of what is solid
    assert [heights for _, heights in found.between(1.0, 4.0)] == [(1.0, 2, 3), (3, 4.0)]
    assert list(found.between(5.0, 5.0)) == []


@pytest.mark.parametrize("ratio", [1.0, 0.8, 0.4, 0.2])
def test_girth_of_an_ellipse(ratio: float) -> None:
    found = outline_of(mast((0, 0.1, 0.01), (5, 0.1, 0.01), breadth_m=0.1 * ratio, shape="ellipse"))
    girth = found.girth_at(found.runs[0], np.array([1.0]))[0]
    assert girth == pytest.approx(4 * 0.05 * ellipe(1 - ratio**2), rel=1e-12)


@pytest.mark.parametrize(
    ("more", "girth"),
    [
        ({}, math.pi * 0.1),
        ({"shape": "box", "breadth_m": 0.08}, 0.36),
        ({"shape": "staves", "sides": 6, "outside": "flat"}, 6 * 0.1 / math.sqrt(3)),
        ({"shape": "staves", "sides": 6, "outside": "round"}, math.pi * 0.1),
    ],
)
def test_girth_and_the_cover_round_it(more: dict[str, Any], girth: float) -> None:
    found = outline_of(mast((0, 0.1, 0.01), (5, 0.1, 0.01), **more))
    run, z = found.runs[0], np.array([1.0])
    assert found.girth_at(run, z)[0] == pytest.approx(girth)
    # a thin cover has the girth times its thickness
    assert found.cover_area_at(run, z, 1e-7)[0] == pytest.approx(girth * 1e-7, rel=1e-5)


def test_mass_of_a_cone_and_of_its_bore() -> None:
    found = outline_of(mast((0, 0.1, None), (3, 0.04, None)))
    cone = math.pi / 12 * 3 * (0.1**2 + 0.1 * 0.04 + 0.04**2)
    assert found.kg(found.area_at, 0.0, 3.0, 500.0) == pytest.approx(500 * cone)
    assert found.kg(found.bore_area_at, 0.0, 3.0, 500.0) == 0.0
