"""The ends of plugs: how a plug takes up its share of the moment, and what its glue line feels."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from numpy.typing import NDArray

from rigcalc.formulas.timber_tubes import plug_end_shear_stress, plug_transfer_length
from rigcalc.materials.timber import Timber, timber_of_rig
from rigcalc.rig import TimberUse

from . import BURY, LENGTH, SITKA, even, found, ids, plug, pushed, run, second
from .harmonic import Plugged, bend

SIDE, D, T = 0.5, 0.12, 0.024
BORE = D - 2 * T


@cache
def elastic(bore: float) -> Plugged:
    return bend(bore)


def length_of(bore: float, E: float = 1.0, G: float = 1 / 16, R: float = 1.0) -> float:
    EI_p, EI_t = E * second(2 * bore), E * second(2 * R, 2 * bore)
    return float(plug_transfer_length(r=bore, R=R, G_p=G, G_t=G, EI_p=EI_p, EI_t=EI_t))


@pytest.mark.parametrize("bore", [0.4, 0.6, 0.8])
def test_glue_line_against_elasticity(bore: float) -> None:
    """Shear and the moment taken up, along the plug from its square end; nearer to it elasticity has no bound."""
    elements, share, length = elastic(bore), bore**4, length_of(bore)
    peak = float(plug_end_shear_stress(M_p=share, r=bore, lambda_p=length, l_t=0.0))

    def at(z: float, along: NDArray[np.float64]) -> float:
        return float(np.interp(z, elements.from_end, along)) / elements.moment

    # radius 1: a twentieth of the diameter from the end, where the peak is read
    assert 0.93 < peak / at(0.1, elements.glue_shear) < 1.23
    # the corner takes up more at once than slip alone lets it
    for z in (0.4, 0.7, 1.0):
        assert 0.75 < share * -math.expm1(-z / length) / at(z, elements.plug_moment) < 1.03
        # free body of the plug: what the glue line does not bring, its own shear force does
        grown = (at(z + 0.05, elements.plug_moment) - at(z - 0.05, elements.plug_moment)) / 0.1
        assert 0.5 < at(z, elements.glue_shear) * math.pi * bore**2 / grown < 1.0


def test_the_length_of_transfer_is_some_of_a_diameter() -> None:
    """Wood, walls of 10 to 30 % of the diameter: a builder's plug is longer than it needs to be."""
    for bore in (0.4, 0.6, 0.8):
        assert 0.3 < length_of(bore) / 2.0 < 0.45


def test_length_of_transfer_by_its_parts() -> None:
    """A rigid tube leaves the slip of the plug alone: tau r/(6 G), and the plug's own bending."""
    r, G, EI_p = 0.04, 0.7e9, 1.5e4
    alone = plug_transfer_length(r=r, R=0.06, G_p=G, G_t=1e20, EI_p=EI_p, EI_t=1e20)
    assert alone == pytest.approx(math.sqrt(1 / (6 * G) * EI_p / (math.pi * r**2)), rel=1e-9)
    # a thin tube round a rigid plug: of the wall's slip t/(3 G) and of the shear that no force goes with, t/(4 G)
    t = 1e-5
    thin = plug_transfer_length(r=r, R=r + t, G_p=1e20, G_t=G, EI_p=1e20, EI_t=EI_p)
    assert thin == pytest.approx(math.sqrt(7 / 12 * t / (r * G) * EI_p / (math.pi * r**2)), rel=2e-3)


def wood(size: float, *, solid: bool) -> Timber:
    return timber_of_rig(
        SITKA, TimberUse(), shape="round", solid=solid, depth_m=size, length_m=LENGTH, bury_m=BURY
    )


def by_hand(height: float, tail: float) -> float:
    """Glue shear at a plug's end at a height above the partners."""
    E, G = wood(D, solid=False).value_Pa("E_apparent"), wood(D, solid=False).value_Pa("G")
    length = length_of(BORE / 2, E, G, D / 2)
    share = (BORE / D) ** 4 * SIDE * (LENGTH - height)
    return share / (math.pi * (BORE / 2) ** 2 * (length + tail / 2))


@pytest.mark.parametrize("tail", [0.0, 0.3])
def test_plug_end(tail: float) -> None:
    lines = [f'tail = "{tail} m"'] if tail else []
    result = run(stations=even(D, T), mast=plug(0.0, 1.6, *lines), cases=pushed(SIDE))
    end = found(result, "plug-end", "plug 1")
    assert end.height_m == 1.6
    assert end.demand == pytest.approx(by_hand(1.6, tail), rel=1e-9)
    # the weaker of both: the tube is the larger piece
    assert end.capacity == pytest.approx(wood(D, solid=False).value_Pa("shear"), rel=1e-12)


def test_both_ends_count_and_those_of_the_mast_do_not() -> None:
    result = run(stations=even(D, T), mast=plug(2.0, 2.5), cases=pushed(SIDE))
    assert found(result, "plug-end", "plug 1").height_m == 2.0
    whole = run(stations=even(D, T), mast=plug(0.0, LENGTH), cases=pushed(SIDE))
    assert "plug-end" not in ids(whole, "plug 1")


def test_plugs_are_told_to_be_glued() -> None:
    glued = "Plugs are counted as glued"
    assert any(glued in text for text in run(stations=even(D, T), mast=plug(0.0, 1.6)).warnings)
    assert not any(glued in text for text in run(stations=even(D, T)).warnings)


def test_the_glue_line_bears_what_the_weaker_of_both_woods_does() -> None:
    """Whichever of them is inside; classes have one shear strength, whatever the size."""

    def bears(tube: str, inside: str) -> float:
        mast = plug(0.0, 2.0, f'material = "{inside}"')
        return found(run(tube, stations=even(0.12, 0.02), mast=mast), "plug-end", "plug 1").capacity

    strong, weak = bears("C24", "C24"), bears("C18", "C18")
    assert weak < strong
    assert bears("C24", "C18") == pytest.approx(weak, rel=1e-12)
    assert bears("C18", "C24") == pytest.approx(weak, rel=1e-12)
