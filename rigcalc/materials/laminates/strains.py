"""From line loads on a wall to the strains and stresses of its plies.

Strains and stresses have x or 1, y or 2, and shear on their last axis; shear strain is the engineer's.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from ...frozen import dataclass
from .walls import Floats, Stack, Stiffness


@dataclass(frozen=True)
class WallStrain:
    """Strain of a wall's middle surface.

    Parameters
    ----------
    mid : ndarray, shape (..., 3)
        Strains at the middle of the wall.
    curvature_per_m : ndarray, shape (..., 3)
        Curvatures; positive curvature stretches the outside.
    """

    mid: Floats
    curvature_per_m: Floats


def membrane_strain(stiffness: Stiffness, line_load_N_m: ArrayLike) -> WallStrain:
    """Return the strain of a wall that cannot curl, as in a closed tube.

    Parameters
    ----------
    stiffness : Stiffness
        Of the wall.
    line_load_N_m : array_like, shape (..., 3)
        N_x, N_y and N_xy; leading axes broadcast against those of the walls.
    """
    loads = np.asarray(line_load_N_m, dtype=float)
    mid = np.linalg.solve(stiffness.A_N_m, loads[..., None])[..., 0]
    return WallStrain(mid, np.zeros_like(mid))


def free_strain(
    stiffness: Stiffness, line_load_N_m: ArrayLike, line_moment_N: ArrayLike = (0.0, 0.0, 0.0)
) -> WallStrain:
    """Return the strain and curvature of a wall that is free to curl.

    Parameters
    ----------
    stiffness : Stiffness
        Of the wall.
    line_load_N_m, line_moment_N : array_like, shape (..., 3)
        N_x, N_y, N_xy, and M_x, M_y, M_xy to the length of edge.
    """
    N, M = np.broadcast_arrays(np.asarray(line_load_N_m, dtype=float), np.asarray(line_moment_N, dtype=float))
    found = (stiffness.compliance @ np.concatenate([N, M], axis=-1)[..., None])[..., 0]
    return WallStrain(found[..., :3], found[..., 3:])


@dataclass(frozen=True)
class PlyState:
    """Strain and stress of every ply in its own axes.

    Parameters
    ----------
    strain, stress_Pa : ndarray, shape (..., n, 2, 3)
        By ply, inside first; by face of the ply, inner and outer; 1, 2 and shear.
    """

    strain: Floats
    stress_Pa: Floats


def ply_state(stiffness: Stiffness, strain: WallStrain) -> PlyState:
    """Return strain and stress of every ply at both its faces.

    Parameters
    ----------
    stiffness : Stiffness
        Of the wall.
    strain : WallStrain
        Of its middle; leading axes broadcast against those of the walls.
    """
    edges = stiffness.edges_m
    z = np.stack([edges[..., :-1], edges[..., 1:]], axis=-1)
    at_faces = strain.mid[..., None, None, :] + z[..., None] * strain.curvature_per_m[..., None, None, :]
    own = at_faces @ np.swapaxes(strain_turn(stiffness.stack.angle_rad), -1, -2)
    return PlyState(own, own @ np.swapaxes(stiffness.stack.local_stiffness_Pa, -1, -2))


def membrane_state(stack: Stack, strain: Floats) -> PlyState:
    """Return strain and stress of every ply of a wall that does not curl, with one face for both.

    Parameters
    ----------
    stack : Stack
        The plies.
    strain : ndarray, shape (..., 3)
        Of the wall; leading axes broadcast against those of the stack.
    """
    own = strain[..., None, None, :] @ np.swapaxes(strain_turn(stack.angle_rad), -1, -2)
    return PlyState(own, own @ np.swapaxes(stack.local_stiffness_Pa, -1, -2))


def strain_turn(angle_rad: Floats) -> Floats:
    """Return the matrices that turn strains in x and y into those in 1 and 2, shape (..., 3, 3)."""
    m, n = np.cos(angle_rad), np.sin(angle_rad)
    rows = [[m * m, n * n, m * n], [n * n, m * m, -m * n], [-2 * m * n, 2 * m * n, m * m - n * n]]
    return np.stack([np.stack(row, axis=-1) for row in rows], axis=-2)
