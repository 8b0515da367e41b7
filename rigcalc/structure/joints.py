"""Where tubes of metal lie in one another: joints between lengths of tube, and sleeves that stiffen one."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ..rig import Mast, open_steps
from .made_of import Metals
from .sections import Layer, Sections

TUBE = 0
"""The mast's own tube among the layers of its sections."""


@dataclass(frozen=True)
class Lap:
    """A stretch over which a sleeve and the mast's tube lie in one another.

    Parameters
    ----------
    number : int
        Of the sleeve, from 1.
    low_m, high_m : float
        Its ends.
    below, above : int
        Layer that ends at its upper end, and layer that ends at its lower end. Under a sleeve that only
        stiffens a tube, ``below`` goes on at both ends.
    joins : bool
        Whether it carries all of the moment from one length of tube to another.
    play_m : float
        Diametral play.
    bore_m : float
        Bore of the outer of the two.
    """

    number: int
    low_m: float
    high_m: float
    below: int
    above: int
    joins: bool
    play_m: float
    bore_m: float

    @property
    def length_m(self) -> float:
        return self.high_m - self.low_m

    def elements(self, sections: Sections) -> NDArray[np.bool_]:
        """Elements of the mesh within it, shape (n, 1)."""
        edges = sections.mesh.edges_m
        middle = (edges[:-1] + edges[1:]) / 2
        return np.asarray((middle > self.low_m) & (middle < self.high_m))[:, None]

    def ends(self, sections: Sections) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
        """Points at its lower and its upper end, on the side of the lap, shape (n, points)."""
        z, inside = sections.mesh.z_m, self.elements(sections)
        slack = 1e-9 * float(sections.mesh.edges_m[-1])
        return tuple(np.asarray(inside & (np.abs(z - end) <= slack)) for end in (self.low_m, self.high_m))  # type: ignore[return-value]  # of two


def laps_of(mast: Mast, sections: Sections) -> tuple[Lap, ...]:
    """Return every lap of the mast between tubes of metal."""
    layers = {layer.name: i for i, layer in enumerate(sections.layers)}
    tube = TUBE
    found = []
    for number, sleeve in enumerate(mast.sleeve, start=1):
        own = layers[f"sleeve {number}"]
        if not all(isinstance(sections.layers[i].made_of, Metals) for i in (tube, own)):
            continue
        steps = [z for z in open_steps(mast.stations) if sleeve.start_m <= z <= sleeve.end_m]
        # from each step down to the one before it or the sleeve's end, and up likewise
        stops = [sleeve.start_m, *steps, sleeve.end_m]
        stretches = [
            *((low, high, tube, own, True) for low, high in pairwise(stops[:-1])),
            *((low, high, own, tube, True) for low, high in pairwise(stops[1:])),
        ]
        if not steps:
            stretches = [(sleeve.start_m, sleeve.end_m, tube, own, False)]
        for low, high, below, above, joins in stretches:
            if high > low:
                lap = Lap(number, low, high, below, above, joins, 0.0, 0.0)
                play, bore = _fit(lap, sections)
                given = sleeve.play_m
                found.append(
                    Lap(number, low, high, below, above, joins, play if given is None else given, bore)
                )
    return tuple(found)


def _fit(lap: Lap, sections: Sections) -> tuple[float, float]:
    """Return play and bore, each where it is greatest, of tubes as new."""
    here = lap.elements(sections)

    def size(layer: Layer, *, outside: bool) -> NDArray[np.float64]:
        shape = layer.as_new
        value = shape.outer_forward_m if outside else shape.inner_forward_m
        return np.asarray(value[np.broadcast_to(here, value.shape)])

    one, other = sections.layers[lap.below], sections.layers[lap.above]
    if np.max(size(one, outside=True)) > np.max(size(other, outside=True)):
        one, other = other, one
    bore = size(other, outside=False)
    return float(np.max(np.maximum(bore - size(one, outside=True), 0.0))), float(np.max(bore))
