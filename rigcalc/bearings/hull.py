"""What the hull must carry, and what fastens the partners to the deck; the hull itself is not designed here."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

import numpy as np

from ..formulas import Working
from ..formulas.hull_loads import (
    bolt_circle_shear,
    bolt_circle_tension,
    bolt_shear_stress,
    hole_bearing_stress,
    pad_couple_pressure,
)
from ..formulas.sections import von_mises_stress
from ..limits import Check
from ..limits.about import DECK, About, Cure
from ..limits.record import check_of
from ..rig import Deck
from .record import HullLoad

MORE_BOLTS = Cure("take <{bolts:.0f}|more> bolts", "holes in the deck to seal; nearly no weight")
THICKER_BOLTS = Cure("<bolts of {diameter:.1f} mm|take thicker bolts>", "nearly no weight; a thicker flange")
THICKER_DECK = Cure(
    "make the deck <{thickness:.1f} mm thick|thicker> at the bolts", "a pad to bond in; weight at the deck"
)
LARGER_PAD = Cure(
    "make the pad <{times:.2f} times as long and wide|longer and wider>", "a larger pad to bond in"
)
_DECK = (
    "The deck, its beams and its core beyond the bolts and the pad: a mast can pass here and still tear "
    "the deck up."
)
BOLTS = About(
    ("deck-bolts",),
    DECK,
    "The bolts that hold the partners shear or pull apart. Force and torque shared over the bolt circle, "
    "with what lifts one side of the flange, against the stress that a bolt may bear.",
    (bolt_circle_shear,),
    _DECK + " Slack holes, in which one bolt bears for all.",
    (MORE_BOLTS, THICKER_BOLTS),
    (bolt_shear_stress, von_mises_stress),
)
HOLES = About(
    ("deck-holes",),
    DECK,
    "The bolts of the partners press their holes long. The share of one bolt over its diameter and the "
    "thickness of the deck against what the deck bears.",
    (hole_bearing_stress,),
    _DECK,
    (THICKER_DECK, MORE_BOLTS, THICKER_BOLTS),
)
PAD = About(
    ("deck-pad",),
    DECK,
    "The partners crush the deck's core under one side of their flange. The pressure of the moment that "
    "lifts the other side, over the pad, against what the core may bear.",
    (pad_couple_pressure,),
    _DECK,
    (LARGER_PAD,),
)


def deck_checks(
    deck: Deck,
    loads: Sequence[HullLoad],
    *,
    lifted_N_m: Sequence[float],
    turned_N_m: float,
    height_m: float,
    working: Working,
) -> Iterator[Check]:
    """Yield the checks of bolts, holes and pad at the partners in every case.

    Parameters
    ----------
    deck : Deck
        What the partners are fastened to.
    loads : sequence of HullLoad
        The cases.
    lifted_N_m : sequence of float
        Moment that lifts one side of the flange in each case: the force at its offset from the bolts, or the
        moment at the foot of a post.
    turned_N_m : float
        Torque in the plane of the bolts: the friction of the bush.
    height_m : float
        Height of the bearing.
    working : Working
        Where steps are noted.
    """
    use, n, D_b = working.use, float(deck.bolts), deck.bolt_circle_m
    for load, lifted in zip(loads, lifted_N_m, strict=True):
        force = (load.partners_side_N**2 + load.partners_forward_N**2) ** 0.5
        shear = use(bolt_circle_shear, F=force, T=turned_N_m, D_b=D_b, n=n)
        tension = use(bolt_circle_tension, M=lifted, P=0.0, D_b=D_b, n=n)
        tau = use(bolt_shear_stress, F_b=shear, d=deck.bolt_diameter_m)
        sigma = use(bolt_shear_stress, F_b=tension, d=deck.bolt_diameter_m)
        # allowed in shear, held against the von Mises stress over root three
        both = float(use(von_mises_stress, sigma=sigma, tau=tau)) / 3**0.5
        edge = float(use(hole_bearing_stress, F_b=shear, d=deck.bolt_diameter_m, t=deck.thickness_m))
        d = deck.bolt_diameter_m * 1e3

        found: list[tuple[About, float, float, Callable[..., object], str]] = [
            (
                BOLTS,
                both,
                deck.bolt_allowed_Pa,
                bolt_circle_shear,
                f"{MORE_BOLTS.said(bolts=np.ceil(n * both / deck.bolt_allowed_Pa))}, or "
                f"{THICKER_BOLTS.said(diameter=d * (both / deck.bolt_allowed_Pa) ** 0.5)}",
            ),
            (
                HOLES,
                edge,
                deck.bearing_allowed_Pa,
                hole_bearing_stress,
                THICKER_DECK.said(thickness=deck.thickness_m * 1e3 * edge / deck.bearing_allowed_Pa),
            ),
        ]
        if lifted > 0.0:
            short, long = sorted((deck.pad_length_m, deck.pad_width_m))
            pressure = float(use(pad_couple_pressure, M=lifted, l=short, w=long))
            found.append(
                (
                    PAD,
                    pressure,
                    deck.allowed_pressure_Pa,
                    pad_couple_pressure,
                    LARGER_PAD.said(times=(pressure / deck.allowed_pressure_Pa) ** (1 / 3)),
                )
            )
        for about, demand, capacity, formula, cure in found:
            yield check_of(
                about,
                case=load.case,
                height_m=height_m,
                demand=demand,
                capacity=capacity,
                unit="Pa",
                formula=formula,
                cure=cure,
            )
