"""What a laminate is laid up of and on: cloth, plies and mandrel, and whether they make sense."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from ..errors import Problem
from ..frozen import dataclass

MOST_TAPER: Final = 0.2
"""Change of diameter over height up to which cloth is taken to lie on the mandrel."""
_HAIR: Final = 1e-9


@dataclass(frozen=True, kw_only=True)
class Cloth:
    """A cloth as it comes on the roll.

    Parameters
    ----------
    name : str
        What it is called.
    fibre_kg_m2 : float
        Dry mass to the area.
    roll_m : float
        Usable width of the roll.
    roll_length_m : float or None
        Longest length that comes off it; None where there is no limit.
    """

    name: str
    fibre_kg_m2: float
    roll_m: float
    roll_length_m: float | None = None


@dataclass(frozen=True, kw_only=True)
class ClothPly:
    """A ply, or several turns of one cloth wound on in one piece.

    Parameters
    ----------
    cloth : Cloth
        What is laid.
    thickness_m : float
        Cured, of one turn.
    fibre_fraction : float
        Of fibre by mass, cured.
    start_m, end_m : float
        Heights between which it lies.
    turns : int
        Times it goes round.
    cut_rad : float
        Angle of the roll's length to the mast: zero where the roll runs along it, 45 deg where cloth with its fibres
        along and across the roll is cut on the bias. Cloth stitched at 45 deg needs no bias cut.
    lap_m : float
        Lap at each seam along the mast.
    join_m : float
        Lap where lengths follow one another.
    """

    cloth: Cloth
    thickness_m: float
    fibre_fraction: float
    start_m: float
    end_m: float
    turns: int = 1
    cut_rad: float = 0.0
    lap_m: float = 0.02
    join_m: float = 0.1

    @property
    def kg_m2(self) -> float:
        """Mass of one turn to its area, with its resin."""
        return self.cloth.fibre_kg_m2 / self.fibre_fraction


@dataclass(frozen=True, kw_only=True)
class Mandrel:
    """What the laminate is laid up on.

    Parameters
    ----------
    heights_m : tuple of float
        Stations above the heel, growing; the first is the heel.
    diameters_m : tuple of float
        Diameter at each, straight in between.
    """

    heights_m: tuple[float, ...]
    diameters_m: tuple[float, ...]


def senseless(
    mandrel: Mandrel, plies: Sequence[ClothPly], *, every_m: float, ends_m: float, spare: float, loss: float
) -> Iterator[Problem]:
    """Yield what makes no sense in a laminate, before anything is cut.

    Parameters
    ----------
    mandrel : Mandrel
        What it is laid on.
    plies : sequence of ClothPly
        Inside first.
    every_m, ends_m, spare, loss : float
        Row distance, trimming, spare cloth and lost resin of the order.
    """

    def band(path: str, value: float, low: float, high: float, unit: str) -> Iterator[Problem]:
        if not low <= value <= high:
            text = f"it lies outside {low:g} to {high:g} {unit}".rstrip()
            yield Problem(path, f"{value:g} {unit}".rstrip(), text, "Is the unit right?")

    yield from band("every", every_m, 0.01, 10.0, "m")
    yield from band("ends", ends_m, 0.0, 2.0, "m")
    yield from band("spare", spare, 0.0, 1.0, "")
    yield from band("resin_loss", loss, 0.0, 2.0, "")
    z, d = mandrel.heights_m, mandrel.diameters_m
    if len(z) < 2 or len(z) != len(d):
        yield Problem(
            "mandrel",
            f"{len(z)} and {len(d)}",
            "two stations or more are wanted",
            "Give both at every station.",
        )
        return
    if z[0] != 0.0:
        yield Problem(
            "mandrel.heights[0]", f"{z[0]:g} m", "the first station is the heel, at zero", "Begin at zero."
        )
    for i, diameter in enumerate(d):
        yield from band(f"mandrel.diameters[{i}]", diameter, 0.01, 0.8, "m")
    for i in range(1, len(z)):
        if not z[i - 1] < z[i] <= 60.0:
            yield Problem(
                f"mandrel.heights[{i}]",
                f"{z[i]:g} m",
                f"heights grow, to 60 m at most; below stands {z[i - 1]:g} m",
                "Cloth cannot step: put the stations in order.",
            )
        elif abs(d[i] - d[i - 1]) > MOST_TAPER * (z[i] - z[i - 1]):
            yield Problem(
                f"mandrel.diameters[{i}]",
                f"{d[i]:g} m",
                f"it changes by more than {MOST_TAPER:g} of the height: cloth would not lie",
                "Put the stations farther apart.",
            )
    if not plies:
        yield Problem("ply", "", "there is nothing to lay", "Name at least one ply.")
    for i, ply in enumerate(plies):
        at = f"ply[{i}]"
        yield from band(f"{at}.cloth.fibre", ply.cloth.fibre_kg_m2, 0.01, 5.0, "kg/m2")
        yield from band(f"{at}.cloth.roll", ply.cloth.roll_m, 0.02, 5.0, "m")
        yield from band(f"{at}.thickness", ply.thickness_m, 1e-5, 0.01, "m")
        yield from band(f"{at}.fibre_fraction", ply.fibre_fraction, 0.1, 0.95, "")
        yield from band(f"{at}.cut", ply.cut_rad, 0.0, math.pi / 2, "rad")
        if 0.0 < ply.cut_rad < math.radians(15.0):
            yield Problem(
                f"{at}.cut",
                f"{math.degrees(ply.cut_rad):.3g} deg",
                "a bias cut is at 15 deg to the roll or more",
                "Lay the roll along the mast, at 0 deg.",
            )
        yield from band(f"{at}.lap", ply.lap_m, 0.0, 0.5, "m")
        yield from band(f"{at}.join", ply.join_m, 0.0, 2.0, "m")
        if not 1 <= ply.turns <= 10:
            yield Problem(f"{at}.turns", f"{ply.turns}", "it lies outside 1 to 10", "Lay more plies.")
        if ply.lap_m >= ply.cloth.roll_m / 2:
            yield Problem(
                f"{at}.lap", f"{ply.lap_m:g} m", "it takes half of the roll or more", "Shorten the lap."
            )
        if not -_HAIR <= ply.start_m < ply.end_m - _HAIR <= z[-1]:
            yield Problem(
                f"{at}.start",
                f"{ply.start_m:g} to {ply.end_m:g} m",
                f"a ply lies on the mandrel, 0 to {z[-1]:g} m, its lower end first",
                "Correct its heights.",
            )
