"""What to cut for a mast of staves: the taper of each, its bevel, rough sizes, scarfs, boards and plugs.

Staves are mitred: both edges lie in planes through the axis. Between stations diameter and wall run straight, so
width and thickness of a stave do too. A mast turned round is glued up as a polygon that the finished round just
touches: only the corners are turned off, and the wall, taken at its thinnest, is that at the corners of the bore.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from ..errors import Problem, RigInputError
from ..formulas import Working
from ..formulas.pieces import corner_height, prismoid_volume, stave_bevel, stave_width
from ..formulas.sections import annulus_area
from ..formulas.shapes import polygon_across_corners, polygon_area
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


@dataclass(frozen=True, kw_only=True)
class PlugAt:
    """A plug that fills the bore over a stretch.

    Parameters
    ----------
    start_m, end_m : float
        Heights between which it is solid.
    tail_slope : float
        A tail is a V across the plug, this many times as long as the plug is thick; 8 to 10 is common practice. There
        is one at each end that does not stand at an end of the mast. Zero leaves the ends square.
    """

    start_m: float
    end_m: float
    tail_slope: float = 8.0


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
class PlugPiece:
    """A plug to make.

    Parameters
    ----------
    at : PlugAt
        Where.
    lower_m, upper_m : float
        Heights of its ends with the tails.
    lower_flats_m, upper_flats_m : float
        Across flats at those ends; it tapers straight between stations.
    corners_m : float
        Greatest size across corners: the round it is cut from.
    solid_kg, tails_kg : float
        Mass of the solid stretch, and of the tails beyond it.
    """

    at: PlugAt
    lower_m: float
    upper_m: float
    lower_flats_m: float
    upper_flats_m: float
    corners_m: float
    solid_kg: float
    tails_kg: float

    @property
    def length_m(self) -> float:
        """Length over all."""
        return self.upper_m - self.lower_m


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
        For each kind of board that will do, the best first.
    plugs : tuple of PlugPiece
        In the order asked for.
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
    plugs: tuple[PlugPiece, ...]
    staves_kg: float
    check: MassCheck
    warnings: tuple[str, ...]

    @property
    def waste(self) -> float:
        """Share of the wood bought for staves, by the best plan, that is not in the mast."""
        return 1.0 - self.staves_kg / self.mast.density_kg_m3 / self.plans[0].volume_m3


def stave_order(
    mast: StaveMast,
    boards: Sequence[Board],
    *,
    allowances: StaveAllowances | None = None,
    scarfs: ScarfRules | None = None,
    plugs: Sequence[PlugAt] = (),
) -> StaveOrder:
    """Work out the staves, boards and plugs of a mast.

    Parameters
    ----------
    mast : StaveMast
        What is to be built.
    boards : sequence of Board
        That can be had.
    allowances : StaveAllowances, optional
        For planing and sawing.
    scarfs : ScarfRules, optional
        Slope, least piece and stretches to keep clear, from the lower end of the rough stave.
    plugs : sequence of PlugAt
        Stretches to fill.

    Returns
    -------
    StaveOrder

    Raises
    ------
    RigInputError
        Where sizes make no sense, or no board yields a stave.
    """
    allow, rules = allowances or StaveAllowances(), scarfs or ScarfRules()
    problems = [*_bad_allowances(allow), *_bad_plugs(mast, plugs)]
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
    plans = board_plans(batten, boards, rules, kerf_m=allow.kerf_m, working=working)
    staves_kg = mast.density_kg_m3 * mast.sides * _stave_m3(mast)
    check = MassCheck(staves_kg, integrated_kg(mast.heights_m, mast.area_at, mast.density_kg_m3))
    return StaveOrder(
        mast,
        rows,
        batten,
        plans,
        tuple(_plug(mast, plug) for plug in plugs),
        staves_kg,
        check,
        (*working.warnings, *plans[0].lay.warnings, *_short_tails(mast, plugs)),
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


# ---------------------------------------------------------------- plugs


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


def _with_tails(mast: StaveMast, plug: PlugAt) -> tuple[float, float]:
    """Heights of the ends of a plug with its tails, were the mast long enough."""
    flats = mast.bore_at(np.array([plug.start_m, plug.end_m]))
    low = plug.start_m - plug.tail_slope * flats[0] if plug.start_m > _HAIR else 0.0
    high = plug.end_m + plug.tail_slope * flats[1] if plug.end_m < mast.heights_m[-1] - _HAIR else plug.end_m
    return float(low), float(high)


def _short_tails(mast: StaveMast, plugs: Sequence[PlugAt]) -> Iterator[str]:
    for i, plug in enumerate(plugs):
        low, high = _with_tails(mast, plug)
        if low < -_HAIR or high > mast.heights_m[-1] + _HAIR:
            yield f"The tail of plug {i + 1} is cut short by the end of the mast: its V is steeper than asked for."


def _plug(mast: StaveMast, plug: PlugAt) -> PlugPiece:
    low, high = _with_tails(mast, plug)
    lower, upper = max(low, 0.0), min(high, mast.heights_m[-1])
    ends = mast.bore_at(np.array([lower, upper]))

    def kg(start: float, end: float) -> float:
        inside = [z for z in mast.heights_m if start < z < end]
        return integrated_kg(
            (start, *inside, end),
            lambda z: np.asarray(polygon_area(n=mast.sides, w=mast.bore_at(z))),
            mast.density_kg_m3,
        )

    tails = sum(kg(a, b) for a, b in ((lower, plug.start_m), (plug.end_m, upper)) if b > a)
    widest = float(np.max(mast.bore_at(np.array([lower, *mast.heights_m, upper]).clip(lower, upper))))
    return PlugPiece(
        plug,
        lower,
        upper,
        float(ends[0]),
        float(ends[1]),
        float(polygon_across_corners(n=mast.sides, w=widest)),
        kg(plug.start_m, plug.end_m),
        vee_share(mast.sides) * tails,
    )


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


def _bad_plugs(mast: StaveMast, plugs: Sequence[PlugAt]) -> Iterator[Problem]:
    top = mast.heights_m[-1]
    for i, plug in enumerate(plugs):
        if not -_HAIR <= plug.start_m < plug.end_m <= top + _HAIR:
            yield Problem(
                f"plug[{i}]",
                f"{plug.start_m:g} to {plug.end_m:g} m",
                f"a plug lies between heel and tip, 0 to {top:g} m, its lower end first",
                "Correct its heights.",
            )
        elif np.any(mast.bore_at(np.array([plug.start_m, plug.end_m])) <= 0.0):
            yield Problem(f"plug[{i}]", "", "the mast is solid there", "Take the plug out.")
        for j, other in enumerate(plugs[:i]):
            if plug.start_m < other.end_m - _HAIR and other.start_m < plug.end_m - _HAIR:
                yield Problem(f"plug[{i}]", "", f"it overlaps plug[{j}]", "Make one plug of the two.")
        if not 0.0 <= plug.tail_slope <= 20.0:
            yield Problem(
                f"plug[{i}].tail_slope",
                f"{plug.tail_slope:g}",
                "it lies outside 0 to 20",
                "8 to 10 is usual.",
            )
