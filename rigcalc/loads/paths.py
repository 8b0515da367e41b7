"""How a sail's force reaches the mast: along the luff, through the leech, or at the corners.

Free body: the sail. The wind pushes on every strip; luff, head and clew hold it. The leech pulls head
and clew together along the sail; a boom or wishbone, where there is one, keeps its end of that pull
apart. The clew's share of the side force is counted on the mast at the clew's height: how much of it
the sheet takes depends on where the sheet leads, and counting it is the safe side. Every path keeps
the sail's force; `luff` and `membrane` keep its moment too, `corners` has that of its own rule.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from ..formulas import Working
from ..formulas.sails import leech_tension
from ..rig import AERODYNAMIC, CORNERS, LUFF, Rig, load_path_of
from .coefficients import SailForce
from .line import Applied, LineLoad, PointLoad, Profile
from .states import SetSail
from .wind import WindAtMast

AERODYNAMIC_SHARE = 0.39
"""Centre of effort above the tack over luff: read in a public sailing model."""
HARD_SAG, EASED_SAG = 0.05, 0.10
"""Sag of the leech over its length, sheeted hard and eased: judgement."""
CORNER_SHARES = (("head", 3 / 7), ("tack", 2 / 7), ("clew", 2 / 7))
"""German Lloyd 2003, Part 3 Section 2, read."""


def unit_load(
    sail: SetSail, force: SailForce, along_mast: LineLoad, *, path: str, abaft: bool, working: Working
) -> Applied:
    """Return what a sail does to its mast when the pressure at the reference height is 1 Pa.

    Parameters
    ----------
    sail : SetSail
        As it is set.
    force : SailForce
        Its force coefficients.
    along_mast : LineLoad
        Its width times pressure, from `sail_line`.
    path : {"luff", "membrane", "corners"}
        How its force reaches the mast.
    abaft : bool
        Whether the wind comes from abaft the beam, with the leech eased.
    working : Working
        Takes the steps.
    """
    line = along_mast.along(force.side, force.forward)
    if path == CORNERS:
        return _at_corners(sail, line)
    if path == LUFF:
        return _along_luff(sail, line)
    return _along_luff(sail, line.scaled(0.5)) + _through_leech(sail, line, abaft, working)


def path_of_all(rig: Rig) -> str | None:
    """Return the load path by which all sails of a rig go, or None where they differ."""
    paths = {load_path_of(sail) for sail in rig.sails}
    return paths.pop() if len(paths) == 1 else None


def sail_line(sail: SetSail, wind: WindAtMast) -> LineLoad:
    """Return width times pressure over reference pressure, centred where the sail says."""
    strips = sail.strips
    shape: Profile = wind.pressure_shape
    weight = _centring(sail)
    profile = shape if weight is None else lambda z: shape(z) * weight(z)
    return LineLoad(strips.breaks_m, strips.lower_m, strips.upper_m, profile).broken_at(wind.lowest_m)


def _centring(sail: SetSail) -> Profile | None:
    """Weight a + c s along the luff that keeps the force and moves its centre up to 0.39 of the luff."""
    strips = sail.strips
    area, centroid = strips.area_m2, strips.centroid_m
    foot, top = float(sail.points.tack[1]), float(sail.points.luff_top[1])
    wanted = foot + AERODYNAMIC_SHARE * (top - foot)
    if sail.sail.centre_of_effort != AERODYNAMIC or centroid >= wanted:
        return None
    plain = LineLoad(strips.breaks_m, strips.lower_m, strips.upper_m)
    second = plain.integral(lambda z: (z - centroid) ** 2) / area
    gain = (wanted - centroid) / second
    return lambda z: 1.0 + gain * (z - centroid)


def _along_luff(sail: SetSail, line: LineLoad) -> Applied:
    """Each strip at its own height, or shared by lever between the parrels on either side of it."""
    parrels = sail.sail.parrel_heights_m
    if len(parrels) < 2:
        return Applied((line,))
    heights = np.array(parrels)
    loads = np.zeros(heights.size)
    edges = np.concatenate([[-np.inf], heights[1:-1], [np.inf]])
    for i, (low, high) in enumerate(pairwise(edges)):
        part = line.between(low, high)
        span = heights[i + 1] - heights[i]
        total, moment = part.integral(), part.moment_about(float(heights[i]))
        loads[i] += total - moment / span
        loads[i + 1] += moment / span
    return Applied(
        points=tuple(
            PointLoad(float(z), side_N=line.side * f, forward_N=line.forward * f)
            for z, f in zip(heights, loads, strict=True)
        )
    )


def _through_leech(sail: SetSail, line: LineLoad, abaft: bool, working: Working) -> Applied:
    """Half of every strip hangs on the leech, a shallow cable from clew to head."""
    head, clew = sail.points.head, sail.points.clew
    half = line.scaled(0.5)
    total = half.integral()
    at_head = half.moment_about(float(clew[1])) / float(head[1] - clew[1])
    length = float(np.hypot(*(head - clew)))
    carried = total * np.hypot(line.side, line.forward)
    share = (EASED_SAG if abaft else HARD_SAG) if sail.sail.leech_sag is None else sail.sail.leech_sag
    tension = float(
        working.use(
            leech_tension, where=f"leech of {sail.sail.name}", w=carried / length, L=length, f=share * length
        )
    )
    # the sail stands across its force: the clew lies aft when the force is to leeward, and to leeward
    # when the force is forward, the sail squared off before the wind
    out = np.array([line.forward, -line.side]) / np.hypot(line.side, line.forward)
    reach, drop = float(abs(clew[0] - head[0])), float(head[1] - clew[1])
    across = tension * reach / length * out
    points = [
        _share(float(head[1]), at_head, line),
        _share(float(clew[1]), total - at_head, line),
        PointLoad(
            float(head[1]),
            side_N=float(across[0]),
            forward_N=float(across[1]),
            axial_N=float(tension * drop / length),
            toward_m=(float(reach * out[0]), float(reach * out[1]), float(clew[1])),
        ),
    ]
    if sail.sail.clew_held != "sheet":
        height = float(sail.points.tack[1]) if sail.sail.spar_height_m is None else sail.sail.spar_height_m
        points.append(PointLoad(height, side_N=-float(across[0]), forward_N=-float(across[1])))
    return Applied(points=tuple(points))


def _at_corners(sail: SetSail, line: LineLoad) -> Applied:
    places = {"head": sail.points.head, "tack": sail.points.tack, "clew": sail.points.clew}
    total = line.integral()
    return Applied(
        points=tuple(_share(float(places[name][1]), total * share, line) for name, share in CORNER_SHARES)
    )


def _share(height_m: float, amount: float, line: LineLoad) -> PointLoad:
    return PointLoad(height_m, side_N=line.side * amount, forward_N=line.forward * amount)
