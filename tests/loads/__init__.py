"""Sails, states and loads along the mast, against identities that hold for any sail.

Here stand the random sails and the rig files that the modules of this folder share.
"""

from __future__ import annotations

import math

import numpy as np
from hypothesis import settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from rigcalc import read_rig
from rigcalc.loads import SetSail
from rigcalc.rig import Rig, Sail, Wind

Floats = NDArray[np.float64]

QUICK = settings(max_examples=40, deadline=None)


def polygon_area(corners: Floats) -> float:
    """Area by triangles from the first corner."""
    a, b = corners[1:-1] - corners[0], corners[2:] - corners[0]
    return abs(float(np.sum(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]))) / 2


def part_above(corners: Floats, height_m: float) -> Floats:
    """The part of an outline above a height, corner by corner; edges may lie on one another."""
    out = []
    for (x0, z0), (x1, z1) in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        if z0 >= height_m:
            out.append((x0, z0))
        if (z0 >= height_m) != (z1 >= height_m):
            out.append((x0 + (x1 - x0) * (height_m - z0) / (z1 - z0), height_m))
    return np.array(out)


def edge_distance(corners: Floats, point: Floats) -> float:
    """Distance of a point from an outline."""
    start, along = corners, np.roll(corners, -1, axis=0) - corners
    length = np.maximum(np.sum(along**2, axis=1), 1e-300)
    share = np.clip(np.sum((point - start) * along, axis=1) / length, 0.0, 1.0)
    return float(np.min(np.hypot(*(start + share[:, None] * along - point).T)))


def width_at(corners: Floats, height_m: float) -> float:
    """Length of a level line inside an outline, by its crossings."""
    crossings = sorted(
        x0 + (x1 - x0) * (height_m - z0) / (z1 - z0)
        for (x0, z0), (x1, z1) in zip(corners, np.roll(corners, -1, axis=0), strict=True)
        if (z0 <= height_m) != (z1 <= height_m)
    )
    return sum(crossings[1::2]) - sum(crossings[0::2])


def between(low: float, high: float) -> st.SearchStrategy[float]:
    # a file may not hold numbers nearer to nothing than any size of a rig
    return st.floats(low, high, allow_nan=False).map(lambda value: value if abs(value) > 1e-9 else 0.0)


@st.composite
def triangles(draw: st.DrawFn, *, most_roach: float = 0.0, **fields: object) -> Sail:
    """Three-cornered sails: a fuller roach would overhang the clew, a hollower one cross the luff."""
    luff, foot, tack = draw(between(1.0, 12.0)), draw(between(0.5, 6.0)), draw(between(0.5, 3.0))
    rise = draw(between(-0.25, 0.4)) * min(luff, foot)
    fullest = 0.95 * (luff - rise) / luff / 3
    roach = draw(between(-fullest, fullest)) if most_roach else 0.0
    return Sail(
        name="main",
        luff_m=luff,
        foot_m=foot,
        tack_height_m=tack,
        clew_rise_m=rise,
        roach=float(np.clip(roach, -most_roach, most_roach)),
        **fields,  # type: ignore[arg-type]  # fields of a Sail, named by the test
    )


@st.composite
def gaffs(draw: st.DrawFn, **fields: object) -> Sail:
    """Four-cornered sails, the peak higher than the throat."""
    luff, foot = draw(between(1.0, 8.0)), draw(between(0.5, 6.0))
    return Sail(
        name="main",
        luff_m=luff,
        foot_m=foot,
        tack_height_m=draw(between(0.5, 3.0)),
        clew_rise_m=draw(between(-0.2, 0.35)) * min(luff, foot),
        head_m=foot * draw(between(0.2, 0.95)),
        head_angle_rad=draw(between(0.05, 1.3)),
        **fields,  # type: ignore[arg-type]  # as above
    )


@st.composite
def lugs(draw: st.DrawFn, **fields: object) -> Sail:
    """Sails by their corners, part of them forward of the mast."""
    ahead, tack, luff = draw(between(0.1, 0.8)), draw(between(0.5, 3.0)), draw(between(1.0, 7.0))
    aft, rise = draw(between(1.0, 5.0)), draw(between(0.0, 0.3))
    peak = (-aft * draw(between(0.2, 0.8)), tack + luff * draw(between(1.1, 1.5)))
    corners = ((ahead, tack), (ahead, tack + luff), peak, (-aft, tack + rise))
    return Sail(name="main", corners=corners, **fields)  # type: ignore[arg-type]  # as above


def sails(**fields: object) -> st.SearchStrategy[Sail]:
    return st.one_of(triangles(most_roach=0.3, **fields), gaffs(**fields), lugs(**fields))


SHARES = between(0.03, 0.97)

AIRS = st.one_of(
    st.just(Wind()),
    st.builds(lambda a: Wind(profile="power-law", exponent=a), between(0.05, 0.3)),
    st.builds(lambda z: Wind(profile="log-law", roughness_length_m=z), between(2e-4, 5e-3)),
)


def depth_rolled(full: Floats, sail: SetSail) -> float:
    """How far the cloth has gone onto the roll: the aftmost corner is never rolled before the end."""
    return float(sail.corners[:, 0].min() - full[:, 0].min())


def depth_lowered(full: Floats, sail: SetSail, slope: float) -> float:
    """How far the sail has come down: by the corner farthest above its foot, which is the last to be cut away."""

    def farthest(corners: Floats) -> float:
        return float(np.max(corners[:, 1] - slope * corners[:, 0]))

    return farthest(full) - farthest(sail.corners)


LENGTH_M, BURY_M, WATERLINE_M, LATERAL_M = 8.0, 1.2, 0.5, -0.2
DIAMETER_M, DISPLACEMENT_KG = 0.12, 1500.0
ARMS = ((0, 0.0), (15, 0.13), (30, 0.24), (45, 0.31), (60, 0.34), (75, 0.29), (90, 0.18), (115, 0.0))
G = 9.80665
RM_MAX_N_M, RM_30_N_M = 0.34 * DISPLACEMENT_KG * G, 0.24 * DISPLACEMENT_KG * G
Q_PER_V2 = 1.225 / 2

COVERING = """
[[sail]]
name = "main"
corners = [["0 m", "1.2 m"], ["0 m", "8.0 m"], ["-2.6 m", "1.5 m"]]
load_path = "luff"
centre_of_effort = "geometric"
"""
"""A sail from the partners to the tip: no part of the spar stands in the wind uncovered."""


def rig_text(*more: str, boat: str = "", mast: str = "", wind: str = "") -> str:
    """Return an invented rig file with a plain tube for a mast; ``more`` holds sails, states and cases."""
    arms = ", ".join(f'["{heel} deg", "{arm} m"]' for heel, arm in ARMS)
    return "\n".join(
        [
            f"""
title = "invented"
[boat]
displacement = "{DISPLACEMENT_KG} kg"
waterline = "{WATERLINE_M} m"
lateral_centre = "{LATERAL_M} m"
{boat}
[boat.stability]
righting_arm = [{arms}]
{wind}
[mast]
length = "{LENGTH_M} m"
bury = "{BURY_M} m"
material = "6061-T6 extruded"
stations = [
  {{height = "0 m", diameter = "{DIAMETER_M} m", wall = "6 mm"}},
  {{height = "{LENGTH_M} m", diameter = "{DIAMETER_M} m", wall = "6 mm"}},
]
{mast}
""",
            *more,
        ]
    )


def rig_of(*more: str, boat: str = "", mast: str = "", wind: str = "") -> Rig:
    return read_rig(rig_text(*more, boat=boat, mast=mast, wind=wind))


def case_text(kind: str, *lines: str) -> str:
    return "\n".join(["[[case]]", 'name = "c"', f'kind = "{kind}"', *lines])


def quantity(value: float, unit: str) -> str:
    """Write a quantity so that it is read back unchanged, but for the last bit of a conversion."""
    return f'"{value!r} {unit}"'


def degrees(value: float) -> str:
    return quantity(math.degrees(value), "deg")
