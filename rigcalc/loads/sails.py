"""Sails as polygons, cut into strips across the mast."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ..frozen import dataclass
from ..rig import Sail
from ..stretches import distinct

Floats = NDArray[np.float64]

_LEECH_CHORDS = 32


@dataclass(frozen=True)
class Strips:
    """Width of a sail by height: linear between breaks, with a jump where an edge is level.

    Parameters
    ----------
    breaks_m : ndarray, shape (k + 1,)
        Heights of the corners, growing.
    lower_m, upper_m : ndarray, shape (k,)
        Width just above the lower and just below the upper end of each stretch.
    """

    breaks_m: Floats
    lower_m: Floats
    upper_m: Floats

    @property
    def area_m2(self) -> float:
        return float(np.sum((self.lower_m + self.upper_m) / 2 * np.diff(self.breaks_m)))

    @property
    def centroid_m(self) -> float:
        """Height z of the centroid of the area."""
        h = np.diff(self.breaks_m)
        # each stretch is a trapezium: its own moment about its lower end
        moment = h**2 * (self.lower_m + 2 * self.upper_m) / 6
        area = h * (self.lower_m + self.upper_m) / 2
        return float(np.sum(moment + area * self.breaks_m[:-1]) / np.sum(area))


def corners_of(sail: Sail) -> Floats:
    """Return the corners of a sail in order, as rows of x (forward) and z.

    A sail by luff and foot has its tack and throat on the mast; a roach is drawn as a parabola of
    32 chords whose area is exactly the share asked for.
    """
    if sail.corners is not None:
        return np.array(sail.corners, dtype=float)
    luff, foot, tack_height = sail.luff_m, sail.foot_m, sail.tack_height_m
    if luff is None or foot is None or tack_height is None:
        raise ValueError(f"sail {sail.name!r} has neither corners nor luff, foot and tack_height")
    tack = np.array([0.0, tack_height])
    throat = np.array([0.0, tack_height + luff])
    clew = np.array([-np.sqrt(foot**2 - sail.clew_rise_m**2), tack_height + sail.clew_rise_m])
    outline = [tack, throat]
    top = throat
    if sail.head_m is not None and sail.head_angle_rad is not None:
        top = throat + sail.head_m * np.array([-np.cos(sail.head_angle_rad), np.sin(sail.head_angle_rad)])
        outline.append(top)
    plain = np.array([*outline, clew])
    if sail.roach == 0.0:
        return plain
    s = np.arange(1, _LEECH_CHORDS) / _LEECH_CHORDS
    # area between a parabola of depth d, moved level, and its chord is 2/3 d times its height
    depth = 1.5 * sail.roach * abs(signed_area(plain)) / ((top[1] - clew[1]) * (1 - _LEECH_CHORDS**-2))
    leech = top + s[:, None] * (clew - top)
    leech[:, 0] -= 4 * depth * s * (1 - s)
    return np.vstack([plain[:-1], leech, clew])


def signed_area(corners: Floats) -> float:
    """Return the area inside a polygon by the shoelace rule, negative when it runs clockwise."""
    x, z = corners.T
    return float(np.sum(x * np.roll(z, -1) - np.roll(x, -1) * z) / 2)


def strips_of(corners: Floats) -> Strips:
    """Return the width of a polygon by height, exact for any polygon that does not cross itself.

    Parameters
    ----------
    corners : ndarray, shape (n, 2)
        Columns x and z.
    """
    breaks = distinct(corners[:, 1])
    # width is linear between two corners' heights: two points inside fix it at both ends
    start, height = breaks[:-1], np.diff(breaks)
    quarter = _width(corners, start + height / 4)
    three_quarters = _width(corners, start + height * 3 / 4)
    slope = (three_quarters - quarter) / 2
    return Strips(breaks, np.maximum(quarter - slope, 0.0), np.maximum(three_quarters + slope, 0.0))


def _width(corners: Floats, z: Floats) -> Floats:
    """Length inside the polygon of level lines that pass through no corner."""
    x0, z0 = corners.T
    x1, z1 = np.roll(corners, -1, axis=0).T
    crosses = (z0 <= z[:, None]) != (z1 <= z[:, None])
    rise = np.where(z1 == z0, 1.0, z1 - z0)
    x = np.where(crosses, x0 + (x1 - x0) * (z[:, None] - z0) / rise, np.inf)
    x.sort(axis=1)
    pairs = np.where(np.isfinite(x), x, 0.0)
    return np.asarray(pairs[:, 1::2].sum(axis=1) - pairs[:, 0::2].sum(axis=1))


def describes_simple_polygon(corners: Floats) -> bool:
    """Whether the polygon has an area and does not cross itself, judged by its strips."""
    area = abs(signed_area(corners))
    return area > 0.0 and abs(strips_of(corners).area_m2 - area) <= 1e-9 * area
