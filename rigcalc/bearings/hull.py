"""What the hull must carry, and what fastens the partners to the deck; the hull itself is not designed here."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

import numpy as np

from ..formulas import Working, record_of
from ..formulas.hull_loads import (
    bolt_circle_shear,
    bolt_circle_tension,
    bolt_shear_stress,
    hole_bearing_stress,
    pad_couple_pressure,
)
from ..formulas.sections import von_mises_stress
from ..limits import Check
from ..rig import Deck
from .record import HullLoad


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

        found: list[tuple[str, float, float, Callable[..., object], str]] = [
            (
                "deck-bolts",
                both,
                deck.bolt_allowed_Pa,
                bolt_circle_shear,
                f"take {np.ceil(n * both / deck.bolt_allowed_Pa):.0f} bolts, or bolts of "
                f"{d * (both / deck.bolt_allowed_Pa) ** 0.5:.1f} mm",
            ),
            (
                "deck-holes",
                edge,
                deck.bearing_allowed_Pa,
                hole_bearing_stress,
                f"make the deck {deck.thickness_m * 1e3 * edge / deck.bearing_allowed_Pa:.1f} mm thick at the bolts",
            ),
        ]
        if lifted > 0.0:
            short, long = sorted((deck.pad_length_m, deck.pad_width_m))
            pressure = float(use(pad_couple_pressure, M=lifted, l=short, w=long))
            found.append(
                (
                    "deck-pad",
                    pressure,
                    deck.allowed_pressure_Pa,
                    pad_couple_pressure,
                    f"make the pad {(pressure / deck.allowed_pressure_Pa) ** (1 / 3):.2f} times as long and wide",
                )
            )
        for id, demand, capacity, formula, cure in found:
            record = record_of(formula)
            advice = "" if demand <= capacity else cure
            yield Check(
                id, load.case, height_m, "", demand, capacity, "Pa", record.name, record.source, advice
            )
