"""Shear along the grain: the bury, plugs that are glued in, other shapes, and torque."""

from __future__ import annotations

import math
from functools import partial

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import quad

from rigcalc.materials.timber import Timber, timber_of_rig
from rigcalc.rig import TimberUse

from . import ABOVE, BURY, C24, LENGTH, SITKA, area, box, even, found, plug, pushed, run, second

SIDE = 0.5
IN_BURY = SIDE * ABOVE / BURY
"""Free body of the whole mast about the partners: the heel pulls back with the moment there over the bury."""


def wood(name: str, D: float, shape: str = "round") -> Timber:
    return timber_of_rig(name, TimberUse(), shape=shape, solid=True, depth_m=D, length_m=LENGTH, bury_m=BURY)


@pytest.mark.parametrize("name", [SITKA, C24])
def test_the_bury_is_sheared_harder_than_the_sail_pulls(name: str) -> None:
    D = 0.12
    shear = found(run(name, stations=even(D), cases=pushed(SIDE)), "shear")
    assert 0.0 <= shear.height_m <= BURY
    assert shear.demand == pytest.approx(4 / 3 * IN_BURY / area(D), rel=1e-9)
    assert IN_BURY == 6.0 * SIDE
    assert shear.capacity == pytest.approx(wood(name, D).value_Pa("shear"), rel=1e-12)
    # EN 1995-1-1 takes 0.67 of the width as sound: it is in the strength, and the section is whole
    assert ("k_cr, cracks" in shear.source) == (name == C24)


@pytest.mark.parametrize("k", [0.3, 0.6, 0.85])
def test_a_hollow_bury(k: float) -> None:
    D = 0.12
    t = D * (1 - k) / 2
    shear = found(run(stations=even(D, t), cases=pushed(SIDE)), "shear")
    by_hand = 4 / 3 * IN_BURY / area(D, k * D) * (1 + k + k**2) / (1 + k**2)
    assert shear.demand == pytest.approx(by_hand, rel=1e-9)


def test_a_plug_of_the_same_wood_makes_it_a_pole() -> None:
    D, t = 0.12, 0.024
    plugged = run(stations=even(D, t), mast=plug(0.0, 1.5), cases=pushed(SIDE))
    pole = found(run(stations=even(D), cases=pushed(SIDE)), "shear")
    assert found(plugged, "shear").demand == pytest.approx(pole.demand, rel=1e-9)
    assert found(plugged, "shear", "plug 1").demand == pytest.approx(pole.demand, rel=1e-9)
    # its strength is that of its own size
    assert found(plugged, "shear", "plug 1").capacity > found(plugged, "shear").capacity


def test_two_woods_glued_shear_as_one_section() -> None:
    """Transformed section: first moment of half of it by quadrature, shear strain alike where it is cut."""
    D, t, core = 0.12, 0.02, "D30"
    bore = D - 2 * t
    result = run(stations=even(D, t), mast=plug(0.0, LENGTH, f'material = "{core}"'), cases=pushed(SIDE))
    outer, inner = wood(SITKA, D), wood(core, bore)
    E = (outer.value_Pa("E_apparent"), inner.value_Pa("E_apparent"))
    G = (outer.value_Pa("G"), inner.value_Pa("G"))

    def half_moment(size: float) -> float:
        return float(quad(lambda y: y * 2 * math.sqrt((size / 2) ** 2 - y**2), 0, size / 2)[0])

    EQ = E[0] * (half_moment(D) - half_moment(bore)) + E[1] * half_moment(bore)
    EI = E[0] * second(D, bore) + E[1] * second(bore)
    flow = IN_BURY * EQ / EI
    width = (D - bore, bore)
    strain = flow / (G[0] * width[0] + G[1] * width[1])
    assert found(result, "shear").demand == pytest.approx(G[0] * strain, rel=1e-7)
    assert found(result, "shear", "plug 1").demand == pytest.approx(G[1] * strain, rel=1e-7)


@pytest.mark.parametrize("t", [None, 0.02])
def test_torque_adds(t: float | None) -> None:
    D, torque = 0.12, 3.0
    d = 0.0 if t is None else D - 2 * t
    still = found(run(stations=even(D, t), cases=pushed(SIDE)), "shear").demand
    twisted = found(run(stations=even(D, t), cases=pushed(SIDE, torque=-torque)), "shear").demand
    assert twisted - still == pytest.approx(torque * D / 2 / (2 * second(D, d)), rel=1e-8)


def chord_box(B: float, H: float, b: float, h: float, y: float) -> float:
    return B - b if abs(y) < h / 2 else B if abs(y) < H / 2 else 0.0


def test_shear_of_a_box_in_its_worse_plane() -> None:
    D, B, t = 0.14, 0.09, 0.018
    result = box(D, B, t, cases=pushed(SIDE))
    worst = 0.0
    for depth, breadth in ((D, B), (B, D)):
        b, h = breadth - 2 * t, depth - 2 * t
        chord = partial(chord_box, breadth, depth, b, h)
        Q = quad(lambda y, chord=chord: y * chord(y), 0, depth / 2, points=[h / 2])[0]
        I = (breadth * depth**3 - b * h**3) / 12
        worst = max(worst, IN_BURY * Q / (I * 2 * t))
    assert found(result, "shear").demand == pytest.approx(worst, rel=1e-8)


@pytest.mark.parametrize("outside", ["round", "flat"])
@pytest.mark.parametrize("sides", [8, 10, 12, 16])
def test_shear_of_staves(sides: int, outside: str) -> None:
    """Half the section by quadrature over its own chord, turned to where the wall is cut thinnest."""
    D, t = 0.12, 0.02
    mast = f'shape = "staves"\nsides = {sides}\noutside = "{outside}"'
    demand = found(run(stations=even(D, t), mast=mast, cases=pushed(SIDE)), "shear").demand
    angle = np.pi / sides
    bore = (D - 2 * t) * np.cos(angle) if outside == "round" else D - 2 * t

    def polygon(size: float, phi: NDArray[np.float64]) -> NDArray[np.float64]:
        """Distance from the axis to the outline of a polygon, a flat at angle zero."""
        return np.asarray(size / 2 / np.cos((phi + angle) % (2 * angle) - angle))

    def wall(phi: NDArray[np.float64], power: int) -> NDArray[np.float64]:
        outer = np.full_like(phi, D / 2) if outside == "round" else polygon(D, phi)
        return np.asarray(outer**power - polygon(bore, phi) ** power)

    half = (np.arange(20000) + 0.5) / 20000 * np.pi
    second_moment = 2 * np.mean(wall(half, 4) / 4 * np.sin(half) ** 2) * np.pi
    by_hand = [
        IN_BURY
        * np.mean(wall(half + turn, 3) / 3 * np.sin(half))
        * np.pi
        / (second_moment * 2 * wall(np.array([turn]), 1)[0])
        for turn in np.linspace(0.0, 2 * angle, 13)
    ]
    assert demand == pytest.approx(max(by_hand), rel=1e-5)
