"""Sails as they are set: full, rolled in, reefed from the foot, or let down by panels."""

from __future__ import annotations

from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..frozen import dataclass
from ..rig import ROLLED, Rig, Sail
from ..stretches import distinct
from .sails import Strips, corners_of, signed_area, strips_of

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Points:
    """The named corners of a sail, each x and z."""

    tack: Floats
    luff_top: Floats
    head: Floats
    clew: Floats

    def moved(self, x: float, z: float) -> Points:
        """Return the corners moved together."""
        by = np.array([x, z])
        return Points(self.tack + by, self.luff_top + by, self.head + by, self.clew + by)


@dataclass(frozen=True)
class SetSail:
    """A sail at a share of its area.

    Parameters
    ----------
    share : float
        Share of the area that is set.
    corners : ndarray, shape (n, 2)
        Outline of what is set, x and z; empty when nothing is.
    points : Points
        Its named corners; those of the whole sail when nothing is set.
    rolled : Strips or None
        Length of cloth rolled on the mast, by height; None when none is.
    """

    sail: Sail
    share: float
    corners: Floats
    points: Points
    rolled: Strips | None

    @cached_property
    def strips(self) -> Strips:
        return strips_of(self.corners)

    @property
    def area_m2(self) -> float:
        return abs(signed_area(self.corners)) if self.corners.size else 0.0


def points_of(sail: Sail, corners: Floats) -> Points:
    """Return the named corners of a whole sail.

    A sail by its edges has them by construction. In one by its corners the tack is the lowest of the
    foremost corners in the lower half, the luff runs from it to its higher neighbour, the head is the
    highest corner (the aftmost of several), and the clew the aftmost in the lower half (the lowest of
    several).
    """
    if sail.corners is None:
        head = 2 if sail.head_m is not None else 1
        return Points(corners[0], corners[1], corners[head], corners[-1])
    low, high = corners[:, 1].min(), corners[:, 1].max()
    lower = np.flatnonzero(corners[:, 1] <= (low + high) / 2)
    tack = min(lower, key=lambda i: (-corners[i, 0], corners[i, 1]))
    clew = min(lower, key=lambda i: (corners[i, 0], corners[i, 1]))
    top = max(range(len(corners)), key=lambda i: (corners[i, 1], -corners[i, 0]))
    neighbours = (corners[(tack + 1) % len(corners)], corners[(tack - 1) % len(corners)])
    luff_top = max(neighbours, key=lambda c: float(c[1]))
    return Points(corners[tack], luff_top, corners[top], corners[clew])


def set_sail(sail: Sail, share: float) -> SetSail:
    """Return a sail with a share of its area set.

    A rolled sail is cut parallel to its luff and moved to the roll, so that its head comes down along
    the leech; the others are cut parallel to the foot and lowered by the same amount.
    """
    full = corners_of(sail)
    points = points_of(sail, full)
    rolls = sail.hold == ROLLED
    share = _area_share(sail, share)
    if share >= 1.0:
        return SetSail(sail, 1.0, full, points, None)
    if share <= 0.0:
        return SetSail(sail, 0.0, np.empty((0, 2)), points, strips_of(full) if rolls else None)
    return _rolled(sail, share, full, points) if rolls else _lowered(sail, share, full, points)


def _rolled(sail: Sail, share: float, full: Floats, points: Points) -> SetSail:
    # seen with x for height, the cut is level: what lies further aft than it stays set
    turned = np.column_stack([full[:, 1], -full[:, 0]])
    depth = height_with_area_above(strips_of(turned), share)
    kept = _clip(full, normal=np.array([-1.0, 0.0]), offset=depth)
    cut = kept[kept[:, 0] >= kept[:, 0].max() - 1e-9]
    luff_top = cut[np.argmax(cut[:, 1])]
    new = Points(
        tack=cut[np.argmin(cut[:, 1])],
        luff_top=luff_top,
        head=points.head if points.head[0] <= -depth else luff_top,
        clew=points.clew,
    )
    on_roll = _difference(strips_of(full), strips_of(kept))
    return SetSail(sail, share, kept + np.array([depth, 0.0]), new.moved(depth, 0.0), on_roll)


def _lowered(sail: Sail, share: float, full: Floats, points: Points) -> SetSail:
    """Cut parallel to the foot, from tack to clew, and lowered along the mast."""
    tack, clew = points.tack, points.clew
    slope = (clew[1] - tack[1]) / (clew[0] - tack[0]) if clew[0] != tack[0] else 0.0

    def sheared(z: Floats, back: bool) -> Floats:
        """Shear that makes the foot level, or undoes it: it keeps areas."""
        return np.column_stack([z[:, 0], z[:, 1] + (1 if back else -1) * slope * (z[:, 0] - tack[0])])

    level = sheared(full, back=False)
    depth = height_with_area_above(strips_of(level), share)
    kept = _clip(level, normal=np.array([0.0, 1.0]), offset=depth)
    cut = kept[kept[:, 1] <= depth + 1e-9]
    ends = sheared(cut[[np.argmax(cut[:, 0]), np.argmin(cut[:, 0])]], back=True)
    new = Points(tack=ends[0], luff_top=points.luff_top, head=points.head, clew=ends[1])
    drop = depth - float(level[:, 1].min())
    return SetSail(sail, share, sheared(kept, back=True) - np.array([0.0, drop]), new.moved(0.0, -drop), None)


def height_with_area_above(strips: Strips, share: float) -> float:
    """Return the height above which a share of the area lies, exactly.

    Between corners the width is linear, so the area above is a quadratic in the height.
    """
    h = np.diff(strips.breaks_m)
    areas = h * (strips.lower_m + strips.upper_m) / 2
    below = (1.0 - share) * float(np.sum(areas))
    i = min(int(np.searchsorted(np.cumsum(areas), below)), h.size - 1)
    rest = below - float(np.sum(areas[:i]))
    a, slope = float(strips.lower_m[i]), float((strips.upper_m[i] - strips.lower_m[i]) / h[i])
    # a d + slope d2/2 = rest, in the form that does not cancel
    root = np.sqrt(max(a * a + 2 * slope * rest, 0.0))
    return float(strips.breaks_m[i] + (2 * rest / (a + root) if a + root > 0.0 else 0.0))


def _clip(corners: Floats, *, normal: Floats, offset: float) -> Floats:
    """Return the part of a polygon where normal . corner >= offset."""
    distance = corners @ normal - offset
    out = []
    for here, there, d0, d1 in zip(
        corners, np.roll(corners, -1, axis=0), distance, np.roll(distance, -1), strict=True
    ):
        if d0 >= 0.0:
            out.append(here)
        if (d0 > 0.0 > d1) or (d0 < 0.0 < d1):
            out.append(here + (there - here) * d0 / (d0 - d1))
    return np.array(out)


def _difference(whole: Strips, part: Strips) -> Strips:
    """Return the width of one outline less that of another within it."""
    breaks = distinct(np.concatenate([whole.breaks_m, part.breaks_m]))
    middle = (breaks[:-1] + breaks[1:]) / 2

    def ends(strips: Strips) -> tuple[Floats, Floats]:
        i = np.searchsorted(strips.breaks_m, middle, side="right") - 1
        inside = (i >= 0) & (i < strips.lower_m.size)
        i = np.clip(i, 0, strips.lower_m.size - 1)
        slope = (strips.upper_m - strips.lower_m)[i] / np.diff(strips.breaks_m)[i]
        low = strips.lower_m[i] + slope * (breaks[:-1] - strips.breaks_m[i])
        high = strips.lower_m[i] + slope * (breaks[1:] - strips.breaks_m[i])
        return np.where(inside, low, 0.0), np.where(inside, high, 0.0)

    (low, high), (low_part, high_part) = ends(whole), ends(part)
    return Strips(breaks, np.maximum(low - low_part, 0.0), np.maximum(high - high_part, 0.0))


ALL_SAIL = "all sail"
OWN_ALONE = "own sails alone"
"""State in which the sails of the mast of the file are set and those of the other masts are down."""


def sails_of_state(rig: Rig, state: str | None) -> tuple[SetSail, ...]:
    """Return every sail of a rig as a state sets it; all full without a state."""
    named = next((s for s in rig.states if s.name == state), None)
    if named is not None:
        shares = dict(named.set)
    elif state == OWN_ALONE:
        shares = {sail.name: float(sail.mast in (None, rig.mast.name)) for sail in rig.sails}
    elif state in (None, ALL_SAIL):
        shares = {sail.name: 1.0 for sail in rig.sails}
    else:
        raise ValueError(f"no state of the rig is called {state!r}")
    return tuple(set_sail(sail, shares.get(sail.name, 0.0)) for sail in rig.sails)


def is_whole_panels(sail: Sail, share: float) -> bool:
    """Whether a share leaves whole panels set; true of any sail without panels."""
    return sail.panels is None or abs(share * sail.panels - round(share * sail.panels)) < 0.02


def _area_share(sail: Sail, share: float) -> float:
    """Return the share of area for a share as a state gives it: of panels for a sail in panels.

    Panels are of equal height and are let down from the foot.
    """
    # all or none is what it is: a height met to within rounding would leave a hair of sail set
    if sail.panels is None or share in (0.0, 1.0):
        return share
    strips = strips_of(corners_of(sail))
    low, high = float(strips.breaks_m[0]), float(strips.breaks_m[-1])
    down = 1.0 - round(share * sail.panels) / sail.panels
    return _area_above(strips, low + (high - low) * down) / strips.area_m2


def _area_above(strips: Strips, height_m: float) -> float:
    z = distinct(np.append(strips.breaks_m, height_m))
    z = z[z >= height_m]
    i = np.searchsorted(strips.breaks_m, (z[:-1] + z[1:]) / 2, side="right") - 1
    slope = (strips.upper_m - strips.lower_m)[i] / np.diff(strips.breaks_m)[i]
    middle = strips.lower_m[i] + slope * ((z[:-1] + z[1:]) / 2 - strips.breaks_m[i])
    return float(np.sum(middle * np.diff(z)))
