"""Where tubes of metal lie in one another: joints between lengths of tube, and sleeves that stiffen one."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ..formulas import Value
from ..frozen import dataclass
from ..rig import Mast
from .made_of import Metals
from .sections import Points, Sections
from .shapes import Shape

TUBE = 0
"""The mast's own tube among the layers of its sections."""


@dataclass(frozen=True)
class Lap:
    """A stretch over which a sleeve and the mast's tube lie in one another; of many masts, with a number to each.

    Parameters
    ----------
    number : int
        Of the sleeve, from 1.
    low_m, high_m : float or ndarray, shape (masts,)
        Its ends.
    below, above : int
        Layer that ends at its upper end, and layer that ends at its lower end. Under a sleeve that only
        stiffens a tube, ``below`` goes on at both ends.
    joins : bool
        Whether it carries all of the moment from one length of tube to another.
    play_m : float or ndarray, shape (masts,)
        Diametral play.
    bore_m : float or ndarray, shape (masts,)
        Bore of the outer of the two.
    """

    number: int
    low_m: Value
    high_m: Value
    below: int
    above: int
    joins: bool
    play_m: Value
    bore_m: Value

    @property
    def length_m(self) -> Value:
        return self.high_m - self.low_m

    def elements(self, sections: Sections) -> NDArray[np.bool_]:
        """Elements of the mesh within it, shape (n, 1)."""
        return sections.within(self.low_m, self.high_m)

    def ends(self, sections: Sections) -> tuple[Points, Points]:
        """Points at its lower and its upper end, on the side of the lap."""
        return (sections.above(self.low_m), 0), (sections.below(self.high_m), -1)


def laps_of(mast: Mast, sections: Sections) -> tuple[Lap, ...]:
    """Return every lap of the mast between tubes of metal."""
    layers = {layer.name: i for i, layer in enumerate(sections.layers)}
    of, tube = sections.outline, TUBE
    found = []
    for number, (sleeve, size) in enumerate(zip(mast.sleeve, of.sleeves, strict=True), start=1):
        own = layers[f"sleeve {number}"]
        if not all(isinstance(sections.layers[i].made_of, Metals) for i in (tube, own)):
            continue
        steps = [z for z in of.open_steps_m if np.all((size.start_m <= z) & (z <= size.end_m))]
        # from each step down to the one before it or the sleeve's end, and up likewise
        stops = [size.start_m, *steps, size.end_m]
        stretches = [
            *((low, high, tube, own, True) for low, high in pairwise(stops[:-1])),
            *((low, high, own, tube, True) for low, high in pairwise(stops[1:])),
        ]
        if not steps:
            stretches = [(size.start_m, size.end_m, tube, own, False)]
        for low, high, below, above, joins in stretches:
            if np.all(high > low):
                lap = Lap(number, low, high, below, above, joins, 0.0, 0.0)
                play, bore = _fit(lap, sections)
                given = sleeve.play_m
                found.append(replace(lap, play_m=play if given is None else given, bore_m=bore))
    return tuple(found)


def _fit(lap: Lap, sections: Sections) -> tuple[Value, Value]:
    """Return play and bore, each where it is greatest, of tubes as new."""
    here = np.broadcast_to(lap.elements(sections), sections.z_m.shape)

    def most(size: NDArray[np.float64]) -> Value:
        each = np.max(sections.of_masts(np.where(here, size, 0.0)), axis=(-2, -1))
        return float(each) if each.ndim == 0 else each

    def fit(inner: Shape, outer: Shape) -> tuple[Value, Value]:
        bore = outer.inner_forward_m
        return most(np.maximum(bore - inner.outer_forward_m, 0.0)), most(bore)

    one, other = (sections.layers[i].as_new for i in (lap.below, lap.above))
    # of many masts, which tube lies in which may differ
    turned = most(one.outer_forward_m) > most(other.outer_forward_m)
    play, bore = (np.where(turned, a, b) for a, b in zip(fit(other, one), fit(one, other), strict=True))
    return (float(play), float(bore)) if play.ndim == 0 else (play, bore)
