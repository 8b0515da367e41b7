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

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .mesh import Mesh

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Supports:
    """The two bearings.

    Parameters
    ----------
    bury_m : float or ndarray, shape (candidates,)
        Height of the partners above the heel bearing.
    heel_stiffness_N_m, partners_stiffness_N_m : float
        Sideways stiffness; infinite when rigid.
    """

    bury_m: float | Floats
    heel_stiffness_N_m: float = np.inf
    partners_stiffness_N_m: float = np.inf

    def lifted(self) -> Supports:
        """Return the same bearings with one more axis, for several shapes of one mast."""
        return Supports(
            np.asarray(self.bury_m)[..., None], self.heel_stiffness_N_m, self.partners_stiffness_N_m
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
    """
    source = mesh.from_tip(load.line_N_m) + outboard_sum(load.point_N)[..., None]
    result = solve_shear(mesh, EI_N_m2, source, supports)
    at_heel = load.point_N[..., 0]
    # a force at the heel itself goes straight into the bearing
    return BeamResult(
        result.shear_N,
        result.moment_N_m,
        result.slope_rad,
        result.deflection_m,
        result.partners_N,
        np.asarray(result.heel_N + at_heel),
    )


def solve_shear(mesh: Mesh, EI_N_m2: Floats, outboard_N: Floats, supports: Supports) -> BeamResult:
    """Solve the mast for a given sum of loads outboard of every point, the bearings left out.

    The axial force times the slope enters here as well as loads do: both are what the moment's
    slope along the mast is made of.
    """
    bury = mesh.edge_index(supports.bury_m)
    b = np.asarray(supports.bury_m)
    free = mesh.from_tip(outboard_N)
    partners = free[..., 0, 0] / b
    shear = outboard_N.copy()
    shear[..., :bury, :] -= partners[..., None, None]
    moment = free.copy()
    moment[..., :bury, :] -= partners[..., None, None] * (b[..., None, None] - mesh.z_m[..., :bury, :])
    heel = shear[..., 0, 0]
    turn = mesh.from_heel(moment / EI_N_m2)
    bend = mesh.from_heel(turn)
    at_heel = heel / supports.heel_stiffness_N_m
    at_partners = partners / supports.partners_stiffness_N_m
    tilt = (at_partners - at_heel - bend[..., bury, 0]) / b
    slope = turn + tilt[..., None, None]
    deflection = at_heel[..., None, None] + tilt[..., None, None] * mesh.z_m + bend
    return BeamResult(shear, moment, slope, deflection, np.asarray(partners), np.asarray(heel))
