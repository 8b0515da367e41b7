"""What fills the bore of a mast: plugs of wood with their tails, and cores of foam.

A tail is a V cut across the plug from nothing to its full breadth, beyond each end that is not an end of the mast.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from itertools import pairwise
from typing import Final

import numpy as np

from ..formulas.shapes import polygon_across_corners
from ..frozen import dataclass
from ..rig import Mast, Plug
from .masscheck import integrated_kg
from .outline import HAIR, Floats, Outline

EASY_TAIL: Final = 8.0
"""A tail 8 to 10 times as long as its plug is thick lets the load in gently: common practice, from memory."""


@dataclass(frozen=True)
class PlugPiece:
    """A plug to make.

    Parameters
    ----------
    name : str
        Which.
    material : str
        What it is of.
    start_m, end_m : float
        Heights between which it is solid.
    lower_m, upper_m : float
        Heights of its ends with the tails.
    lower_sizes_m, upper_sizes_m : tuple of float
        Fore and aft and from side to side at those ends, across flats; straight between stations.
    round_m : float
        Diameter of the round, or side of the square, that it can be cut from.
    solid_kg, tails_kg : float
        Mass of the solid stretch, and of the tails beyond it.
    """

    name: str
    material: str
    start_m: float
    end_m: float
    lower_m: float
    upper_m: float
    lower_sizes_m: tuple[float, float]
    upper_sizes_m: tuple[float, float]
    round_m: float
    solid_kg: float
    tails_kg: float

    @property
    def length_m(self) -> float:
        """Length over all."""
        return self.upper_m - self.lower_m

    @property
    def has_tails(self) -> bool:
        """Whether it reaches beyond its solid stretch."""
        return self.length_m > self.end_m - self.start_m + HAIR


def plug_piece(mast: Mast, outline: Outline, number: int, *, density_kg_m3: float) -> PlugPiece:
    """Return a plug of a mast as a piece to make.

    Parameters
    ----------
    mast : Mast
        The spar.
    outline : Outline
        Of it.
    number : int
        Of the plug, from zero.
    density_kg_m3 : float
        Of what it is of.
    """
    plug = mast.plug[number]
    below, above = _tails(mast, outline, plug)
    parts = list(outline.between(plug.start_m - below, plug.end_m + above))
    bores = [(run, outline.bore_at(run, np.array(heights))) for run, heights in parts]
    tails = [(plug.start_m - below, plug.start_m), (plug.end_m, plug.end_m + above)]
    return PlugPiece(
        name=f"plug {number + 1}",
        material=plug.material or mast.material,
        start_m=plug.start_m,
        end_m=plug.end_m,
        lower_m=plug.start_m - below,
        upper_m=plug.end_m + above,
        lower_sizes_m=(float(bores[0][1][0][0]), float(bores[0][1][1][0])),
        upper_sizes_m=(float(bores[-1][1][0][-1]), float(bores[-1][1][1][-1])),
        round_m=max(_round_m(outline, *sizes) for _, sizes in bores),
        solid_kg=outline.kg(outline.bore_area_at, plug.start_m, plug.end_m, density_kg_m3),
        tails_kg=math.fsum(
            _tail_kg(outline, low, high, density_kg_m3) for low, high in tails if high - low > HAIR
        ),
    )


def tail_warnings(mast: Mast, outline: Outline) -> Iterator[str]:
    """Yield what to look at in the tails of the plugs of a mast."""
    for number, plug in enumerate(mast.plug, start=1):
        if plug.tail_m == 0.0:
            continue
        for kept, at, free in zip(
            _tails(mast, outline, plug),
            (plug.start_m, plug.end_m),
            (plug.start_m > HAIR, plug.end_m < mast.length_m - HAIR),
            strict=True,
        ):
            if not free:
                continue
            if kept < plug.tail_m - HAIR:
                yield (
                    f"The tail of plug {number} at z = {at:.2f} m is cut short to {kept:.2f} m by what stands in its "
                    "way."
                )
            thick = max(_bore_beside(outline, at))
            if kept < EASY_TAIL * thick - HAIR:
                yield (
                    f"The tail of plug {number} at z = {at:.2f} m is {kept / thick:.1f} times as long as the plug is "
                    "thick; 8 to 10 times is common practice, from memory."
                )


def _bore_beside(outline: Outline, z_m: float) -> tuple[float, float]:
    """Return the bore at a height, of the run that ends there where there are two."""
    run = next(run for run in outline.runs if z_m <= run.heights_m[-1] + HAIR)
    forward, side = outline.bore_at(run, np.array([z_m]))
    return float(forward[0]), float(side[0])


def _tails(mast: Mast, outline: Outline, plug: Plug) -> tuple[float, float]:
    """Return how far the tails reach below and above: to the next plug, step, solid wood or end at the most."""
    low = max([0.0, *(other.end_m for other in mast.plug if other.end_m <= plug.start_m + HAIR)])
    high = min([mast.length_m, *(other.start_m for other in mast.plug if other.start_m >= plug.end_m - HAIR)])
    for run in outline.runs:
        # a tail is one taper: it ends where the bore steps or closes
        ends = [run.heights_m[0], run.heights_m[-1]]
        ends += [
            z
            for z, w, *sizes in zip(run.heights_m, run.wall_m, run.forward_m, run.side_m, strict=True)
            if 2 * w >= min(sizes) * (1 - 1e-12)
        ]
        low = max([low, *(z for z in ends if z <= plug.start_m + HAIR)])
        high = min([high, *(z for z in ends if z >= plug.end_m - HAIR)])
    return min(plug.tail_m, plug.start_m - low), min(plug.tail_m, high - plug.end_m)


def _round_m(outline: Outline, forward: Floats, side: Floats) -> float:
    if outline.kind in ("turned", "polygon"):
        return float(np.max(forward)) * float(polygon_across_corners(n=outline.sides, w=1.0))
    return float(max(np.max(forward), np.max(side)))


def _tail_kg(outline: Outline, low_m: float, high_m: float, density_kg_m3: float) -> float:
    """Mass of a tail: a V leaves a share of the bar, which is exact where the bar has no taper."""
    ((run, heights),) = outline.between(low_m, high_m)
    share = vee_share(outline.sides) if outline.sides else 0.5 if outline.kind == "box" else 4 / (3 * math.pi)
    whole = integrated_kg(heights, partial(outline.bore_area_at, run), density_kg_m3)
    return share * whole


def vee_share(sides: int) -> float:
    """Return how much of a polygonal bar a V leaves on average, cut from nothing to its full breadth.

    Exact for a bar without taper.

    The V opens from a plane through the axis and the middle of a flat. At a breadth b each side of that plane what is
    farther stays, so the average is the mean distance from the plane over the greatest.
    """
    angles = [math.pi / sides * (2 * i + 1) for i in range(sides)]
    corners = [(math.cos(a), math.sin(a)) for a in angles if 1e-12 < a < math.pi - 1e-12]
    across = math.cos(math.pi / sides)
    outline = [(across, 0.0), *corners, (-1.0 if sides % 2 else -across, 0.0)]
    area = moment = 0.0
    for (x, y), (x_next, y_next) in pairwise([*outline, outline[0]]):
        turn = x * y_next - x_next * y
        area += turn / 2
        moment += turn * (y + y_next) / 6
    return moment / area / max(y for _, y in outline)
