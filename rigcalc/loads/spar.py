"""The spar in the wind: its outside, and the roll of cloth on it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from ..formulas.sails import roll_diameter
from ..materials.laminates import lay_ups_of
from ..rig import Rig
from ..stretches import distinct, merged
from .line import Floats, LineLoad
from .states import SetSail
from .wind import WindAtMast


def diameter_line(rig: Rig) -> LineLoad:
    """Return the outside size of the mast by height, the larger of two, over-lying sleeves and sheaths included."""
    mast, laid = rig.mast, lay_ups_of(rig)
    heights = np.array([s.height_m for s in mast.stations])
    on_mandrel = mast.stations[0].bore_m is not None
    diameters = np.array([s.bore_m if on_mandrel else max(s.sizes_m) for s in mast.stations], dtype=float)
    real = np.diff(heights) > 0
    tube = LineLoad(np.append(heights[:-1][real], heights[-1]), diameters[:-1][real], diameters[1:][real])
    coats = [(laid[s.laminate], s.start_m, s.end_m) for s in mast.sheath if s.side == "over"]
    if on_mandrel:
        coats.append((laid[mast.material], 0.0, mast.length_m))
    edges = [
        *(z for s in mast.sleeve for z in (s.start_m, s.end_m)),
        *(z for coat, start, end in coats for ends in coat.stretches_m(start, end) for z in ends),
    ]
    breaks = distinct(np.concatenate([tube.breaks_m, edges]))
    lower, upper = [], []
    for low, high in pairwise(breaks):
        part = tube.between(float(low), float(high))
        over = max((s.diameter_m for s in mast.sleeve if s.start_m <= low and high <= s.end_m), default=0.0)
        thick = sum(
            float(coat.at([(low + high) / 2]).wall_m[0, 0])
            for coat, start, end in coats
            if start <= low and high <= end
        )
        lower.append(max(part.lower[0] + 2 * thick, over))
        upper.append(max(part.upper[-1] + 2 * thick, over))
    return LineLoad(breaks, np.array(lower), np.array(upper))


def rolled_line(spar: LineLoad, sails: Sequence[SetSail]) -> LineLoad:
    """Return the diameter of a mast with the cloth rolled on it, by height."""
    rolls = [
        (
            LineLoad(s.rolled.breaks_m, s.rolled.lower_m, s.rolled.upper_m),
            s.sail.cloth_thickness_m * s.sail.roll_slack,
        )
        for s in sails
        if s.rolled is not None
    ]
    if not rolls:
        return spar
    tip = float(spar.breaks_m.flat[-1])
    breaks = merged(spar.breaks_m, *(np.clip(cloth.breaks_m, 0.0, tip) for cloth, _ in rolls))
    even = np.ones(breaks.shape[-1] - 1)

    def diameter(z: Floats) -> Floats:
        size = spar.at(z)
        for cloth, thickness in rolls:
            size = roll_diameter(D_0=size, L=cloth.at(z), t=thickness)
        return np.asarray(size)

    return LineLoad(breaks, even, even, diameter)


def exposed(
    rig: Rig, outside: LineLoad, wind: WindAtMast, covered: Sequence[tuple[float, float]]
) -> list[LineLoad]:
    """Return outside diameter times pressure shape wherever the mast stands in the wind uncovered.

    Parameters
    ----------
    rig : Rig
        For where mast and water stand.
    outside : LineLoad
        Diameter by height.
    wind : WindAtMast
        For the growth of pressure with height.
    covered : sequence of (low, high)
        Stretches of the mast behind set sails.
    """
    bottom = max(rig.mast.bury_m, rig.boat.waterline_m)
    free = [(bottom, rig.mast.length_m)]
    for low, high in covered:
        free = [
            piece
            for start, end in free
            for piece in ((start, min(end, low)), (max(start, high), end))
            if piece[1] - piece[0] > 1e-9
        ]
    size = outside.profile
    shape = wind.pressure_shape
    in_wind = LineLoad(
        outside.breaks_m,
        outside.lower,
        outside.upper,
        shape if size is None else lambda z: size(z) * shape(z),
    ).broken_at(wind.lowest_m)
    return [in_wind.between(low, high) for low, high in free]
