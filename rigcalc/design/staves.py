"""What to cut for a mast of staves: the taper of each, its bevel, rough sizes, scarfs and boards.

Staves are mitred: both edges lie in planes through the axis. Between stations diameter and wall run straight, so
width and thickness of a stave do too. A mast turned round is glued up as a polygon that the finished round just
touches: only the corners are turned off, and the wall, taken at its thinnest, is that at the corners of the bore.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from ..errors import Problem, RigInputError
from ..formulas import Working
from ..formulas.pieces import corner_height, prismoid_volume, stave_bevel, stave_width
from ..formulas.sections import annulus_area
from ..formulas.shapes import polygon_across_corners, polygon_area
from ..frozen import dataclass
from .boards import Batten, Board, BoardPlan, ScarfRules, board_plans
from .masscheck import MassCheck, integrated_kg

Floats = NDArray[np.float64]
Outside = Literal["round", "flat"]

_HAIR: Final = 1e-9


@dataclass(frozen=True, kw_only=True)
class StaveMast:
    """A mast of like staves.

    Parameters
    ----------
    sides : int
        Number of staves.
    outside : {"round", "flat"}
        Turned or planed round, or left flat.
    heights_m : tuple of float
        Stations above the heel, growing; the first is the heel.
    outside_m : tuple of float
        Diameter at each, or where left flat the width across flats.
    wall_m : tuple of float
        Wall at its thinnest at each; half of the outside makes the mast solid.
    density_kg_m3 : float
        Of the timber in the mast.
    """

    sides: int
    outside: Outside
    heights_m: tuple[float, ...]
    outside_m: tuple[float, ...]
    wall_m: tuple[float, ...]
    density_kg_m3: float

    def __post_init__(self) -> None:
        """Refuse what cannot be built."""
        problems = list(_senseless(self))
        if problems:
            raise RigInputError(problems, where="the mast of staves")

    def outside_at(self, z_m: Floats) -> Floats:
        """Return the outside at heights, across flats before it is turned."""
        return np.interp(z_m, self.heights_m, self.outside_m)

    def bore_at(self, z_m: Floats) -> Floats:
        """Return the bore at heights, across flats."""
        clear = np.maximum(self.outside_at(z_m) - 2 * np.interp(z_m, self.heights_m, self.wall_m), 0.0)
        if self.outside == "flat":
            return clear
        return np.asarray(clear / polygon_across_corners(n=self.sides, w=1.0))

    def area_at(self, z_m: Floats) -> Floats:
        """Return the area of the section at heights."""
        outer, bore = self.outside_at(z_m), polygon_area(n=self.sides, w=self.bore_at(z_m))
        whole = (
            annulus_area(D=outer, d=0.0) if self.outside == "round" else polygon_area(n=self.sides, w=outer)
        )
        return np.asarray(whole - bore)


@dataclass(frozen=True, kw_only=True)
class StaveAllowances:
    """What is left on the wood to be taken off, and the list that is wanted.

    Parameters
    ----------
    width_m, thickness_m : float
        For planing, over the whole width and the whole thickness.
    ends_m : float
        Over the length, both ends together.
    kerf_m : float
        Width of the saw cut.
    every_m : float
        Distance between the rows of the taper table.
    """

    width_m: float = 0.004
    thickness_m: float = 0.003
    ends_m: float = 0.1
    kerf_m: float = 0.003
    every_m: float = 0.3


@dataclass(frozen=True)
class TaperRow:
    """A stave at one height.

    Parameters
    ----------
    height_m, along_m : float
        Above the heel, along the axis and along the outer face.
    outside_m, bore_m : float
        Of the mast, across flats.
    width_m, inner_width_m, thickness_m : float
        Of the stave, planed; the thickness in its middle.
    corner_m : float
        What is turned or planed off at the corners; nothing where the staves are left flat.
    bevel_rad : float
        Of the edges from square, in the stretch above.
    """

    height_m: float
    along_m: float
    outside_m: float
    bore_m: float
    width_m: float
    inner_width_m: float
    thickness_m: float
    corner_m: float
    bevel_rad: float


@dataclass(frozen=True)
class StaveOrder:
    """Everything to cut.

    Parameters
    ----------
    mast : StaveMast
        What it is for.
    rows : tuple of TaperRow
        Taper table, with every station.
    batten : Batten
        A rough stave.
    plans : tuple of BoardPlan
        For each kind of board that will do, the best first; none where no board is named.
    staves_kg : float
        Mass of the finished staves.
    check : MassCheck
        That mass, piece by piece, beside the section's.
    warnings : tuple of str
        What to look at.
    """

    mast: StaveMast
    rows: tuple[TaperRow, ...]
    batten: Batten
    plans: tuple[BoardPlan, ...]
    staves_kg: float
    check: MassCheck
    warnings: tuple[str, ...]

    @property
    def waste(self) -> float | None:
        """Share of the wood bought for staves, by the best plan, that is not in the mast; None without a board."""
        if not self.plans:
            return None
        return 1.0 - self.staves_kg / self.mast.density_kg_m3 / self.plans[0].volume_m3


def stave_order(
    mast: StaveMast,
    boards: Sequence[Board],
    *,
    allowances: StaveAllowances | None = None,
    scarfs: ScarfRules | None = None,
) -> StaveOrder:
    """Work out the staves and boards of a mast.

    Parameters
    ----------
    mast : StaveMast
        What is to be built.
    boards : sequence of Board
        That can be had; without one the staves alone are told.
    allowances : StaveAllowances, optional
        For planing and sawing.
    scarfs : ScarfRules, optional
        Slope, least piece and stretches to keep clear, from the lower end of the rough stave.

    Returns
    -------
    StaveOrder

    Raises
    ------
    RigInputError
        Where sizes make no sense, or no board yields a stave.
    """
    allow, rules = allowances or StaveAllowances(), scarfs or ScarfRules()
    problems = list(_bad_allowances(allow))
    if problems:
        raise RigInputError(problems, where="the mast of staves")
    working = Working()
    rows = tuple(_rows(mast, allow.every_m, working))
    batten = Batten(
        width_m=max(row.width_m for row in rows) + allow.width_m,
        thickness_m=max(row.thickness_m for row in rows) + allow.thickness_m,
        length_m=rows[-1].along_m + allow.ends_m,
        count=mast.sides,
    )
    plans = board_plans(batten, boards, rules, kerf_m=allow.kerf_m, working=working) if boards else ()
    staves_kg = mast.density_kg_m3 * mast.sides * _stave_m3(mast)
    check = MassCheck(staves_kg, integrated_kg(mast.heights_m, mast.area_at, mast.density_kg_m3))
    return StaveOrder(
        mast,
        rows,
        batten,
        plans,
        staves_kg,
        check,
        (*working.warnings, *(plans[0].lay.warnings if plans else ())),
    )


def _rows(mast: StaveMast, every_m: float, working: Working) -> Iterator[TaperRow]:
    top = mast.heights_m[-1]
    marks = every_m * np.arange(math.ceil(top / every_m))
    heights = np.unique(np.round(np.concatenate([marks, mast.heights_m]), 9))
    outer, bore = mast.outside_at(heights), mast.bore_at(heights)
    leans = [
        math.atan2((low - high) / 2, b - a)
        for (a, b), (low, high) in zip(pairwise(heights.tolist()), pairwise(outer.tolist()), strict=True)
    ]
    leans.append(leans[-1])
    along = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(heights), np.diff(outer) / 2))])
    corner = corner_height(n=mast.sides, W=outer) if mast.outside == "round" else np.zeros(heights.size)
    bevels = working.use(stave_bevel, where="stave", n=mast.sides, alpha=np.array(leans))
    width, inner = (working.use(stave_width, where="stave", n=mast.sides, W=W) for W in (outer, bore))
    columns = (heights, along, outer, bore, width, inner, (outer - bore) / 2, corner, bevels)
    for values in zip(*columns, strict=True):
        yield TaperRow(*map(float, values))


def _stave_m3(mast: StaveMast) -> float:
    """Volume of one finished stave, from its own widths and thickness."""
    z = np.array(mast.heights_m)
    low, high = z[:-1], z[1:]

    def area(at: Floats) -> Floats:
        W, w = mast.outside_at(at), mast.bore_at(at)
        trapezium = (stave_width(n=mast.sides, W=W) + stave_width(n=mast.sides, W=w)) / 2 * (W - w) / 2
        if mast.outside == "round":  # the triangle under the face less the sector that stays
            trapezium -= (W / 2) ** 2 * (math.tan(math.pi / mast.sides) - math.pi / mast.sides)
        return np.asarray(trapezium)

    volumes = prismoid_volume(A_0=area(low), A_m=area((low + high) / 2), A_1=area(high), h=high - low)
    return math.fsum(volumes.tolist())


# ---------------------------------------------------------------- what cannot be built


def _senseless(mast: StaveMast) -> Iterator[Problem]:
    if not 3 <= mast.sides <= 64:
        yield Problem("sides", f"{mast.sides}", "it lies outside 3 to 64", "Eight or twelve are usual.")
    if not 50.0 <= mast.density_kg_m3 <= 1500.0:
        yield Problem(
            "density",
            f"{mast.density_kg_m3:g} kg/m3",
            "it lies outside 50 to 1500 kg/m3",
            "Is the unit right?",
        )
    z = mast.heights_m
    if len(z) < 2 or len({len(z), len(mast.outside_m), len(mast.wall_m)}) > 1:
        yield Problem(
            "stations",
            f"{len(z)}, {len(mast.outside_m)} and {len(mast.wall_m)}",
            "two or more are wanted, each with outside and wall",
            "Give all three at every station.",
        )
        return
    if z[0] != 0.0:
        yield Problem("heights[0]", f"{z[0]:g} m", "the first station is the heel, at zero", "Begin at zero.")
    for i, (low, high) in enumerate(pairwise(z), start=1):
        if not low < high <= 60.0:
            yield Problem(
                f"heights[{i}]",
                f"{high:g} m",
                f"heights grow, to 60 m at most; below stands {low:g} m",
                "A stave cannot step: put the stations in order.",
            )
    for i, (outer, wall) in enumerate(zip(mast.outside_m, mast.wall_m, strict=True)):
        if not 0.01 <= outer <= 0.8:
            yield Problem(
                f"outside[{i}]", f"{outer:g} m", "it lies outside 10 mm to 0.8 m", "Is the unit right?"
            )
        elif not 0.0 < wall <= outer / 2 + _HAIR:
            yield Problem(
                f"wall[{i}]",
                f"{wall:g} m",
                f"a wall is over zero and at most half of the outside, {outer / 2:g} m",
                "Is the unit right?",
            )


def _bad_allowances(allow: StaveAllowances) -> Iterator[Problem]:
    for name, value, low, high in (
        ("allowance of width", allow.width_m, 0.0, 0.05),
        ("allowance of thickness", allow.thickness_m, 0.0, 0.05),
        ("allowance of length", allow.ends_m, 0.0, 2.0),
        ("kerf", allow.kerf_m, 0.0, 0.02),
        ("every", allow.every_m, 0.01, 10.0),
    ):
        if not low <= value <= high:
            yield Problem(
                name,
                f"{value:g} m",
                f"it lies outside {low:g} to {high:g} m",
                "Is the unit right, the metre?",
            )
