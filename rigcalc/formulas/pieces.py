"""Geometry of the pieces a mast is built of: mitred staves, scarfs, and cloth round a tapered mandrel.

A stave is one of n alike round a tapered polygon that is W across flats outside; its face leans by alpha to the
axis. A cone, developed, is part of a ring; w is a width measured along the arc and R the radius of that arc.
"""

from __future__ import annotations

import numpy as np

from .record import Metre, Metre2, Metre3, One, Radian, Range, formula

_PYRAMID = "geometry of the pyramid, derived: angle between the normals of two faces"
_CONE = "geometry of the cone"
_ARC = "geometry of the circle"

_THREE = Range("n", lambda n, **_: n, 3.0, np.inf, "refuse", "a polygon has three sides or more")
_LEAN = Range(
    "alpha", lambda alpha, **_: alpha, -np.pi / 2, np.pi / 2, "refuse", "a face cannot lean further"
)
_SLOPE = Range(
    "m",
    lambda m, **_: m,
    12.0,
    why="a scarf of 1 in 12 or flatter is the strongest, Wood Handbook FPL-GTR-190 ch. 10, p. 10-8, read in a copy",
)
_TAPER = Range("x", lambda x, **_: x, 1e-12, 1.0, "refuse", "a cylinder develops without a centre")
_CUT = Range(
    "theta",
    lambda theta, **_: theta,
    1e-6,
    np.pi / 2,
    "refuse",
    "along the roll no strip ends at its edges",
)
_PART_CIRCLE = Range(
    "w/(2 pi R)", lambda w, R: w / (2 * np.pi * R), 0.0, 1.0, "refuse", "more than the circle holds"
)


@formula("s", unit="m", source="geometry of the polygon: side s = 2 (W/2) tan(pi/n)", ranges=(_THREE,))
def stave_width(n: One, W: Metre) -> Metre:
    """Width of the face of one of n staves, W across flats; the same for the inner face and the bore."""
    return W * np.tan(np.pi / n)


@formula("beta_s", unit="rad", source=_PYRAMID, ranges=(_THREE, _LEAN))
def stave_bevel(n: One, alpha: Radian) -> Radian:
    """Angle of a mitred stave's edge from square, whose sine is cos(alpha) sin(pi/n); pi/n without taper."""
    sine = np.cos(alpha) * np.sin(np.pi / n)
    return np.arctan2(sine, np.sqrt(np.cos(np.pi / n) ** 2 + (np.sin(np.pi / n) * np.sin(alpha)) ** 2))


@formula(
    "beta_e",
    unit="rad",
    source="geometry of the pyramid, derived: half the width is r tan(pi/n), and r falls by sin(alpha) along the face",
    ranges=(_THREE, _LEAN),
)
def stave_edge_angle(n: One, alpha: Radian) -> Radian:
    """Angle, in the face of a stave, of its edge to its middle line."""
    return np.arctan(np.tan(np.pi / n) * np.sin(alpha))


@formula("h_c", unit="m", source="geometry of the polygon", ranges=(_THREE,))
def corner_height(n: One, W: Metre) -> Metre:
    """Wood over the round at the corners of a glued-up blank, to be planed or turned off."""
    return W / 2 * (1 / np.cos(np.pi / n) - 1)


@formula("l_s", unit="m", source="definition of the slope, 1 in m", ranges=(_SLOPE,))
def scarf_length(t: Metre, m: One) -> Metre:
    """Length of a scarf through a thickness t."""
    return m * t


@formula("V", unit="m3", source="prismoidal formula, exact where the area is a cubic in the height")
def prismoid_volume(A_0: Metre2, A_m: Metre2, A_1: Metre2, h: Metre) -> Metre3:
    """Volume between two parallel ends, from their areas and that half way."""
    return h * (A_0 + 4 * A_m + A_1) / 6


@formula("s", unit="m", source=_CONE)
def cone_slant(h: Metre, r_1: Metre, r_2: Metre) -> Metre:
    """Length along the side of a frustum of a cone."""
    return np.hypot(h, r_1 - r_2)


@formula("A", unit="m2", source=_CONE)
def cone_area(r_1: Metre, r_2: Metre, s: Metre) -> Metre2:
    """Area of the side of a frustum of a cone, s along the side."""
    return np.pi * (r_1 + r_2) * s


@formula("R", unit="m", source=_CONE, ranges=(_TAPER,))
def developed_radius(r: Metre, x: One) -> Metre:
    """Radius, in the flat, of the circle of radius r on a cone with x the sine of its half angle."""
    return r / x


@formula("c", unit="m", source=_ARC, ranges=(_PART_CIRCLE,))
def arc_chord(w: Metre, R: Metre) -> Metre:
    """Straight distance between the ends of an arc of length w."""
    return 2 * R * np.sin(w / (2 * R))


@formula("h_a", unit="m", source=_ARC, ranges=(_PART_CIRCLE,))
def arc_height(w: Metre, R: Metre) -> Metre:
    """Height of an arc of length w over its chord, without the cancelling of 1 - cos."""
    return 2 * R * np.sin(w / (4 * R)) ** 2


@formula("l_b", unit="m", source="geometry of the parallelogram", ranges=(_CUT,))
def bias_strip_length(B: Metre, theta: Radian) -> Metre:
    """Length of a strip cut at an angle theta to a roll of width B, from edge to edge."""
    return B / np.sin(theta)


@formula("l_r", unit="m", source="geometry of the parallelogram", ranges=(_CUT,))
def bias_roll_length(w: Metre, theta: Radian) -> Metre:
    """Length of roll that one strip of width w takes, cut at an angle theta to it."""
    return w / np.sin(theta)
