"""Plugs against hand work, and the share of them that a tail leaves against strips."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from rigcalc.design.outline import outline_of
from rigcalc.design.plugs import PlugPiece, plug_piece, tail_warnings, vee_share
from rigcalc.rig import Mast, Plug, Station

EVEN = ((0.0, 0.1, 0.02), (7.0, 0.1, 0.02))
TAPERED = ((0.0, 0.12, 0.024), (2.0, 0.12, 0.024), (7.0, 0.06, 0.014))


def mast(*plugs: Plug, sizes: tuple[tuple[float, float, float | None], ...] = EVEN, **more: Any) -> Mast:
    stations = tuple(Station(height_m=z, diameter_m=d, wall_m=w) for z, d, w in sizes)
    kind = {"shape": "staves", "sides": 8, "outside": "flat", **more}
    return Mast(length_m=7.0, bury_m=0.8, material="C24", stations=stations, plug=plugs, **kind)


def pieces(m: Mast) -> list[PlugPiece]:
    return [plug_piece(m, outline_of(m), i, density_kg_m3=450.0) for i in range(len(m.plug))]


def test_plug_fills_the_bore() -> None:
    m = mast(Plug(start_m=0.0, end_m=1.5, tail_m=0.48), Plug(start_m=5.0, end_m=5.5, tail_m=0.48))
    heel, upper = pieces(m)
    octagon = 8 * 0.06**2 * math.tan(math.pi / 8) / 4
    assert (heel.lower_m, heel.upper_m) == (0.0, pytest.approx(1.98))
    assert heel.solid_kg == pytest.approx(450 * octagon * 1.5)
    assert heel.tails_kg == pytest.approx(450 * octagon * 0.48 * vee_share(8))
    assert heel.round_m == pytest.approx(0.06 / math.cos(math.pi / 8))
    assert heel.length_m == pytest.approx(1.98)
    assert (upper.lower_m, upper.upper_m) == (pytest.approx(4.52), pytest.approx(5.98))
    assert upper.tails_kg == pytest.approx(2 * heel.tails_kg)
    assert upper.has_tails and heel.has_tails
    assert not list(tail_warnings(m, outline_of(m)))  # eight times as long as the plug is thick


def test_plug_tapers_with_the_bore() -> None:
    m = mast(Plug(start_m=1.0, end_m=4.0), sizes=TAPERED)
    (plug,) = pieces(m)
    assert plug.lower_sizes_m == pytest.approx((0.072, 0.072))
    assert plug.upper_sizes_m == pytest.approx((0.056, 0.056))
    z = np.linspace(1.0, 4.0, 30001)
    bore = np.interp(z, [0, 2, 7], [0.072, 0.072, 0.032])
    assert plug.solid_kg == pytest.approx(
        450 * np.trapezoid(2 * math.tan(math.pi / 8) * bore**2, z), rel=1e-7
    )
    assert plug.tails_kg == 0.0 and not plug.has_tails


@pytest.mark.parametrize(
    ("more", "area", "across"),
    [
        ({"shape": "round", "outside": "round"}, math.pi * 0.06**2 / 4, 0.06),
        ({"shape": "box"}, 0.06**2, 0.06),
        ({"shape": "ellipse"}, math.pi * 0.06**2 / 4, 0.06),
        # turned: the wall is thinnest at the corners of the bore, which stand on a circle of 60 mm
        (
            {"shape": "staves", "outside": "round"},
            8 * (0.06 * math.cos(math.pi / 8)) ** 2 * math.tan(math.pi / 8) / 4,
            0.06,
        ),
    ],
)
def test_plug_of_every_bore(more: dict[str, Any], area: float, across: float) -> None:
    (plug,) = pieces(mast(Plug(start_m=2.0, end_m=3.0), **more))
    assert plug.solid_kg == pytest.approx(450 * area)
    assert plug.round_m == pytest.approx(across)


@pytest.mark.parametrize(
    ("plugs", "sizes", "reach"),
    [
        ((Plug(start_m=0.1, end_m=1.0, tail_m=0.5),), EVEN, (0.0, 1.5)),
        ((Plug(start_m=0.0, end_m=6.8, tail_m=0.5),), EVEN, (0.0, 7.0)),
        ((Plug(start_m=2.0, end_m=3.0, tail_m=0.5), Plug(start_m=3.2, end_m=4.0)), EVEN, (1.5, 3.2)),
        # a step of the bore at 3.1 m, and solid wood above it
        (
            (Plug(start_m=2.0, end_m=3.0, tail_m=0.5),),
            ((0.0, 0.1, 0.02), (3.1, 0.1, 0.02), (3.1, 0.1, 0.03), (7.0, 0.1, None)),
            (1.5, 3.1),
        ),
    ],
)
def test_a_tail_is_cut_short_by_what_stands_in_its_way(
    plugs: tuple[Plug, ...], sizes: Any, reach: tuple[float, float]
) -> None:
    m = mast(*plugs, sizes=sizes)
    first = pieces(m)[0]
    assert (first.lower_m, first.upper_m) == (pytest.approx(reach[0]), pytest.approx(reach[1]))
    assert sum("is cut short" in w for w in tail_warnings(m, outline_of(m))) == 1


def test_a_steep_tail_is_told() -> None:
    m = mast(Plug(start_m=2.0, end_m=3.0, tail_m=0.3))
    told = list(tail_warnings(m, outline_of(m)))
    assert len(told) == 2 and all("5.0 times as long as the plug is thick" in w for w in told)


@pytest.mark.parametrize("sides", [3, 4, 5, 6, 7, 8, 9, 12, 31])
def test_share_that_a_vee_leaves(sides: int) -> None:
    """Mean distance from a plane over the greatest, by strips; half for a square, 4/(3 pi) toward a circle."""
    angles = np.pi / sides * (2 * np.arange(sides) + 1)
    corners = np.column_stack([np.cos(angles), np.sin(angles)])
    y = (np.arange(20000) + 0.5) / 20000 * corners[:, 1].max()
    width = np.zeros_like(y)
    for (x_0, y_0), (x_1, y_1) in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        crossing = (y_0 - y) * (y_1 - y) < 0
        x = x_0 + (y - y_0) * (x_1 - x_0) / (y_1 - y_0 if y_1 != y_0 else 1.0)
        width += np.where(crossing, x * np.sign(y_1 - y_0), 0.0)
    assert vee_share(sides) == pytest.approx(float(np.sum(width * y) / np.sum(width) / y.max()), rel=1e-3)


def test_known_shares() -> None:
    assert vee_share(4) == pytest.approx(0.5)
    assert vee_share(3000) == pytest.approx(4 / (3 * math.pi), rel=1e-5)
