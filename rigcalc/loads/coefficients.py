"""Lift and drag of sails by apparent wind angle, and drag of the bare spar by shape and Reynolds number."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from ..formulas import Value, Working
from ..formulas.sails import driving_coefficient, heeling_coefficient, induced_drag_coefficient
from ..frozen import dataclass
from ..rig import Mast

Floats = NDArray[np.float64]

BOX_DRAG = 2.2
"""The greatest of 2.2, 2.0 and 1.4 for rectangles of 2, 1 and 0.5 times as deep as broad, read in a public
program of tower loads which does not say which side faces the wind."""
PLATE_DRAG = 2.0
"""Flat plate across the flow, long: from memory."""
POLYGON_DRAG = ((6, 1.6), (8, 1.45), (10, 1.3), (32, 1.3))
"""Regular polygons by number of sides, EN 1991-1-4 Table 7.11: from memory."""
EFFECTIVE_HEIGHT = 1.1
"""Effective over real height of the rig, close-hauled: read in two public sailing models."""


@dataclass(frozen=True)
class SailForce:
    """Force coefficients of a sail in the boat's axes.

    Parameters
    ----------
    side, forward : float
        Parts of the force over pressure and area.
    """

    side: float
    forward: float

    @property
    def resultant(self) -> float:
        return float(np.hypot(self.side, self.forward))


def sail_force(
    name: str, *, apparent_wind_angle_rad: float, area_m2: float, height_m: float, working: Working
) -> SailForce:
    """Return the force coefficients of a sail from a tabulated set, linear between its angles.

    Parameters
    ----------
    name : str
        Name of the set.
    apparent_wind_angle_rad : float
        Angle off the bow.
    area_m2, height_m : float
        Area of the sail and its height from foot to head, for the induced drag.
    working : Working
        Takes the steps.
    """
    lift_at, lift, drag_at, drag = _set(name)
    angle = float(np.degrees(apparent_wind_angle_rad))
    c_l, c_d = float(np.interp(angle, lift_at, lift)), float(np.interp(angle, drag_at, drag))
    c_d += float(working.use(induced_drag_coefficient, C_L=c_l, A=area_m2, h_e=EFFECTIVE_HEIGHT * height_m))
    beta = apparent_wind_angle_rad
    return SailForce(
        side=float(working.use(heeling_coefficient, C_L=c_l, C_D=c_d, beta=beta)),
        forward=float(working.use(driving_coefficient, C_L=c_l, C_D=c_d, beta=beta)),
    )


def cylinder_drag(reynolds: Value, *, crisis: bool) -> Value:
    """Return the drag coefficient of a round spar.

    Parameters
    ----------
    reynolds : float or ndarray
        Reynolds number; outside the table its end values hold.
    crisis : bool
        Whether the lower drag past the crisis counts. Without it the drag never falls below the
        greatest value tabulated at Reynolds numbers of 2e4 and more.
    """
    at, drag = _cylinder()
    value = np.interp(np.log(np.maximum(reynolds, 1e-9)), np.log(at), drag)
    return value if crisis else np.maximum(value, np.max(drag[at >= 2e4]))


def spar_drag(mast: Mast, reynolds: Value, *, crisis: bool) -> Value:
    """Return the drag coefficient of a spar on its larger outside size, turned the worst way.

    An ellipse is taken between a cylinder and a plate by its axes, which is a judgement: at 2:1 it gives 1.6.
    A box or an ellipse that lies edge on to the wind has less: no credit is taken.

    Parameters
    ----------
    mast : Mast
        For its shape.
    reynolds : float or ndarray
        Reynolds number on that size; only rounds go by it.
    crisis : bool
        As for `cylinder_drag`; flats and edges have no drag crisis.
    """
    if mast.shape == "box":
        return BOX_DRAG
    if mast.shape == "staves" and mast.outside == "flat":
        sides, drag = np.array(POLYGON_DRAG).T
        return float(np.interp(mast.sides, sides, drag))
    if mast.shape == "ellipse":
        slim = min(min(s.sizes_m) / max(s.sizes_m) for s in mast.stations)
        if slim < 1.0:
            return PLATE_DRAG - (PLATE_DRAG - cylinder_drag(reynolds, crisis=False)) * slim
    return cylinder_drag(reynolds, crisis=crisis)


@cache
def _set(name: str) -> tuple[Floats, Floats, Floats, Floats]:
    rows = [row for row in _rows("sail_coefficients.csv") if row["set"] == name]

    def column(quantity: str) -> tuple[Floats, Floats]:
        pairs = [
            (float(r["apparent_wind_angle_deg"]), float(r["value"]))
            for r in rows
            if r["quantity"] == quantity
        ]
        angle, value = np.array(pairs).T
        return angle, value

    return (*column("CL"), *column("CD"))


@cache
def _cylinder() -> tuple[Floats, Floats]:
    rows = _rows("cylinder_drag.csv")
    return (
        np.array([float(r["reynolds_number"]) for r in rows]),
        np.array([float(r["drag_coefficient"]) for r in rows]),
    )


def _rows(file: str) -> list[dict[str, str]]:
    with Path(__file__).parent.joinpath("data", file).open(encoding="utf-8") as lines:
        return list(csv.DictReader(lines))
