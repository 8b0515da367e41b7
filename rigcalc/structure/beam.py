"""The mast as a beam on two bearings: shear, moment, slope and deflection.

Free body. The heel bearing at z = 0 and the partners at z = b hold the mast sideways and let it turn;
the tip is free. A load is positive to leeward (plane 0) or forward (plane 1). ``partners_N`` and
``heel_N`` are the forces of the bearings on the mast, positive against the load: the heel force of a
sail is therefore negative. Shear at a height is the sum of the loads outboard, less the partners force
below them; moment is the sum of their moments; both positive for a load to leeward. Two bearings leave
the moments free of stiffness: everything follows by integration, load to shear to moment to curvature
M/EI to slope to deflection. Bending only (Euler-Bernoulli); the deformation of shear is left out.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ..frozen import dataclass
from .mesh import Mesh, below, starting

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Supports:
    """The two bearings.

    Parameters
    ----------
    bury_m : float or ndarray, shape (candidates,)
        Height of the upper bearing: the partners.
    heel_stiffness_N_m, partners_stiffness_N_m : float
        Sideways stiffness of the lower and the upper bearing; infinite when rigid.
    lower_m : float or ndarray, shape (candidates,)
        Height of the lower bearing: the heel, unless the mast is slung or propped further up.
    """

    bury_m: float | Floats
    heel_stiffness_N_m: float = np.inf
    partners_stiffness_N_m: float = np.inf
    lower_m: float | Floats = 0.0

    def lifted(self) -> Supports:
        """Return the same bearings with one more axis, for several shapes of one mast."""
        return Supports(
            np.asarray(self.bury_m)[..., None],
            self.heel_stiffness_N_m,
            self.partners_stiffness_N_m,
            np.asarray(self.lower_m)[..., None],
        )


@dataclass(frozen=True)
class BeamLoad:
    """Loads across the mast.

    Parameters
    ----------
    line_N_m : ndarray, shape (..., n, points)
        Load per metre at the mesh's points.
    point_N : ndarray, shape (..., n + 1)
        Forces at the mesh's edges.
    """

    line_N_m: Floats
    point_N: Floats


@dataclass(frozen=True)
class BeamResult:
    """Answer of the beam; leading axes as in the load, then elements, then points."""

    shear_N: Floats
    moment_N_m: Floats
    slope_rad: Floats
    deflection_m: Floats
    partners_N: Floats
    heel_N: Floats


def outboard_sum(point_N: Floats) -> Floats:
    """Return, for every element, the sum of the point loads at its upper end and beyond."""
    return np.asarray(np.cumsum(point_N[..., ::-1], axis=-1)[..., ::-1][..., 1:])


def solve(mesh: Mesh, EI_N_m2: Floats, load: BeamLoad, supports: Supports) -> BeamResult:
    """Solve the mast for loads across it, small deflections.

    Parameters
    ----------
    mesh : Mesh
        Elements; the partners and every kink are edges.
    EI_N_m2 : ndarray, shape (..., n, points)
        Bending stiffness.
    load : BeamLoad
        Loads; leading axes broadcast with those of the stiffness.
    supports : Supports
        Bearings.

    Returns
    -------
    BeamResult
        Shear in N, moment in N m, slope in rad, deflection in m, leading axes as those of the loads.
    """
    source = mesh.from_tip(load.line_N_m) + outboard_sum(load.point_N)[..., None]
    # a force at the foot goes straight into the lower bearing, and no point lies below it
    total = source[..., 0, 0] + load.point_N[..., 0]
    return solve_shear(mesh, EI_N_m2, source, supports, total_N=total)


def solve_shear(
    mesh: Mesh, EI_N_m2: Floats, outboard_N: Floats, supports: Supports, *, total_N: Floats
) -> BeamResult:
    """Solve the mast for a given slope of the moment along it, the bearings left out.

    That slope is the sum of the loads outboard, and where an axial force presses on the bent mast, that
    force times the mast's slope besides: it bends the mast, but asks nothing sideways of the bearings.

    Parameters
    ----------
    mesh : Mesh
        Elements.
    EI_N_m2 : ndarray, shape (..., n, points)
        Bending stiffness.
    outboard_N : ndarray, shape (..., n, points)
        The moment's slope, sign changed.
    supports : Supports
        Bearings.
    total_N : ndarray, shape (...)
        Sum of all loads across the mast, which the two bearings hold.

    Returns
    -------
    BeamResult
        As `solve` gives it.
    """
    bury, foot = mesh.edges_at(supports.bury_m), mesh.edges_at(supports.lower_m)
    b, a = np.asarray(supports.bury_m), np.asarray(supports.lower_m)
    free = mesh.from_tip(outboard_N)
    # moments of everything about z = 0: both bearings carry the loads between them
    partners = (free[..., 0, 0] - total_N * a) / (b - a)
    heel = total_N - partners
    shear, moment, z = outboard_N.copy(), free, mesh.z_m
    for force, height, edge in ((partners, b, bury), (heel, a, foot)):
        lower, those = below(edge, z.shape[-2])
        pushed = np.where(those, force[..., None, None], 0.0)
        shear[..., lower, :] -= pushed
        moment[..., lower, :] -= pushed * (height[..., None, None] - z[..., lower, :])
    turn = mesh.from_heel(moment / EI_N_m2)
    bend = mesh.from_heel(turn)
    at_heel = heel / supports.heel_stiffness_N_m
    at_partners = partners / supports.partners_stiffness_N_m
    tilt = (at_partners - at_heel - starting(bend, bury) + starting(bend, foot)) / (b - a)
    start = at_heel - tilt * a - starting(bend, foot)
    # many masts are as fast as memory: what is not wanted any more is written over
    turn += tilt[..., None, None]
    deflection = tilt[..., None, None] * z
    deflection += start[..., None, None]
    deflection += bend
    return BeamResult(shear, moment, turn, deflection, np.asarray(partners), np.asarray(heel))
