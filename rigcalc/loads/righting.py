"""Righting moment by heel, from whichever stability data the file gives."""

from __future__ import annotations

import numpy as np

from ..formulas import Working
from ..formulas.stability import righting_moment, wall_sided_gz
from ..frozen import dataclass
from ..rig import Boat
from ..units import STANDARD_GRAVITY_M_S2

RM30_HEEL_RAD = np.pi / 6


@dataclass(frozen=True)
class RightingMoment:
    """A righting moment and the heel at which it stands."""

    moment_N_m: float
    heel_rad: float


def moment_at_30(boat: Boat, working: Working) -> RightingMoment | None:
    """Return the righting moment at 30 deg of heel, or None where the data do not say.

    A table of righting arms is read linearly between its entries.
    """
    stability = boat.stability
    if stability.righting_arm is not None:
        heel, arm = np.array(stability.righting_arm).T
        if heel[-1] < RM30_HEEL_RAD:
            return None
        return _of_arm(boat, float(np.interp(RM30_HEEL_RAD, heel, arm)), RM30_HEEL_RAD, working)
    if stability.gm_m is not None and stability.bm_m is not None:
        arm_30 = working.use(wall_sided_gz, phi=RM30_HEEL_RAD, GM=stability.gm_m, BM=stability.bm_m)
        return _of_arm(boat, float(arm_30), RM30_HEEL_RAD, working)
    if stability.moment_30_N_m is not None:
        return RightingMoment(stability.moment_30_N_m, RM30_HEEL_RAD)
    return None


def largest_moment(boat: Boat, working: Working) -> RightingMoment | None:
    """Return the largest righting moment at any heel, or None where the data do not say.

    A table that still rises at its end does not, nor does a wall-sided hull, whose formula ends at the
    deck edge.
    """
    stability = boat.stability
    if stability.righting_arm is not None:
        heel, arm = max(stability.righting_arm, key=lambda entry: entry[1])
        if heel == stability.righting_arm[-1][0]:
            return None
        return _of_arm(boat, arm, heel, working)
    if stability.moment_max_N_m is not None:
        return RightingMoment(stability.moment_max_N_m, stability.heel_at_max_rad)
    return None


def _of_arm(boat: Boat, arm_m: float, heel_rad: float, working: Working) -> RightingMoment:
    moment = working.use(righting_moment, m=boat.displacement_kg, g=STANDARD_GRAVITY_M_S2, GZ=arm_m)
    return RightingMoment(float(moment), heel_rad)


def arm_at(boat: Boat, heel_rad: float, working: Working) -> float | None:
    """Return the righting arm at a heel, or None where the data do not say.

    A table is read linearly; a wall-sided hull only up to 30 deg; righting moments give no curve.
    """
    stability = boat.stability
    if stability.righting_arm is not None:
        heel, arm = np.array(stability.righting_arm).T
        return float(np.interp(heel_rad, heel, arm)) if heel_rad <= heel[-1] else None
    if stability.gm_m is not None and stability.bm_m is not None and heel_rad <= RM30_HEEL_RAD:
        return float(working.use(wall_sided_gz, phi=heel_rad, GM=stability.gm_m, BM=stability.bm_m))
    return None


def metacentric_height(boat: Boat) -> float | None:
    """Return GM: as given, or the slope of the righting arm upright."""
    stability = boat.stability
    if stability.righting_arm is not None:
        (_, _), (heel, arm) = stability.righting_arm[:2]
        return arm / heel
    return stability.gm_m


GYRATION_SHARE = 0.40
"""Radius of gyration in roll over beam: 0.35 to 0.45 for small craft, from memory."""


def roll_gyration(boat: Boat) -> float | None:
    """Return the radius of gyration in roll, or None where neither it nor the beam is given."""
    if boat.roll_gyration_m is not None:
        return boat.roll_gyration_m
    return None if boat.beam_m is None else GYRATION_SHARE * boat.beam_m
