"""Elasticity of a round tube with a plug in its lower part, bent: finite elements in r and z, cos(theta) round it.

Eight-node elements, the grain along z, displacements (U cos, W sin, X cos). Sections at both ends are turned as a
whole. The outside radius is 1.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import scipy.sparse as sparse
from numpy.typing import NDArray
from scipy.sparse.linalg import spsolve

Floats = NDArray[np.float64]

_S = np.array([-1, 1, 1, -1, 0, 1, 0, -1.0])
_T = np.array([-1, -1, 1, 1, -1, 0, 1, 0.0])


@dataclass(frozen=True)
class Plugged:
    """What came out: moment of the whole, and along the plug, from its end, its moment and its glue line's shear."""

    moment: float
    from_end: Floats
    plug_moment: Floats
    glue_shear: Floats


def compliance_inverse(E_L: float, E_T: float, G: float) -> Floats:
    """Stiffness for (rr, tt, zz, tz, rz, rt), isotropic across the grain."""
    along, across = 0.4, 0.45
    S = np.zeros((6, 6))
    S[:2, :2] = np.array([[1, -across], [-across, 1]]) / E_T
    S[2, 2] = 1 / E_L
    S[:2, 2] = S[2, :2] = -along / E_L
    S[3, 3] = S[4, 4] = 1 / G
    S[5, 5] = 2 * (1 + across) / E_T
    return np.linalg.inv(S)


def _shape(s: float, t: float) -> tuple[Floats, Floats, Floats]:
    corner = np.abs(_S * _T) > 0
    n = np.where(corner, 0.25 * (1 + s * _S) * (1 + t * _T) * (s * _S + t * _T - 1), 0.0)
    ds = np.where(corner, 0.25 * _S * (1 + t * _T) * (2 * s * _S + t * _T), 0.0)
    dt = np.where(corner, 0.25 * _T * (1 + s * _S) * (2 * t * _T + s * _S), 0.0)
    across = (_S == 0) & ~corner
    n = np.where(across, 0.5 * (1 - s**2) * (1 + t * _T), n)
    ds, dt = np.where(across, -s * (1 + t * _T), ds), np.where(across, 0.5 * (1 - s**2) * _T, dt)
    along = (_T == 0) & ~corner
    n = np.where(along, 0.5 * (1 + s * _S) * (1 - t**2), n)
    ds, dt = np.where(along, 0.5 * _S * (1 - t**2), ds), np.where(along, -t * (1 + s * _S), dt)
    return n, ds, dt


def bend(
    bore: float, *, E_L: float = 1.0, E_T: float = 0.045, G: float = 1 / 16, plug: float = 2.0
) -> Plugged:
    """Bend a tube of length two plugs, its bore full over the lower half."""
    fine = np.linspace(0.0, 1.0, 31) ** 2.2
    z = np.concatenate([plug * (1 - fine[::-1]), plug * (1 + fine[1:])])
    rise = np.linspace(0.0, 1.0, 7) ** 1.5
    r = np.concatenate([bore * (1 - rise[::-1]), bore + (1 - bore) * rise[1:]])
    rr, zz = (np.sort(np.concatenate([x, (x[:-1] + x[1:]) / 2])) for x in (r, z))
    C, columns = compliance_inverse(E_L, E_T, G), zz.size
    points = [(a, b, wa * wb) for a, wa in _GAUSS for b, wb in _GAUSS]
    rows, cols, values, elements = [], [], [], []
    for e in range(r.size - 1):
        for f in range(z.size - 1):
            if r[e] < bore - 1e-12 and z[f] > plug - 1e-12:
                continue
            i, j = 2 * e + (_S + 1).astype(int), 2 * f + (_T + 1).astype(int)
            nodes, R, Z = i * columns + j, rr[i], zz[j]
            K = np.zeros((24, 24))
            for s, t, weight in points:
                B, radius, det, _ = _strain(R, Z, s, t)
                K += B.T @ C @ B * det * radius * weight
            dof = (3 * nodes[:, None] + np.arange(3)).ravel()
            rows.append(np.repeat(dof, 24))
            cols.append(np.tile(dof, 24))
            values.append(K.ravel())
            elements.append((nodes, R, Z))
    size = 3 * rr.size * columns
    A = sparse.csr_matrix(
        (np.concatenate(values), (np.concatenate(rows), np.concatenate(cols))), (size, size)
    )
    u, held = np.zeros(size), np.ones(size, dtype=bool)
    held[np.unique(np.concatenate(rows))] = False
    every = np.arange(columns)
    # on the axis there is no X, and U = -W; the whole is held sideways at one node
    held[3 * every + 2] = True
    axis = every[~held[3 * every]]
    tie = np.full(axis.size, 100.0)
    for p, q in ((0, 0), (0, 1), (1, 0), (1, 1)):
        A = A + sparse.csr_matrix((tie, (3 * axis + p, 3 * axis + q)), (size, size))
    held[3 * (rr.size - 1) * columns] = True
    for j, turn in ((0, 0.0), (columns - 1, 1.0)):
        end = 3 * (np.arange(rr.size) * columns + j) + 2
        u[end], held[end] = turn * rr, True
    free = ~held
    u[free] = spsolve(A[free][:, free].tocsc(), -(A[free][:, held] @ u[held]))
    top = 3 * (np.arange(rr.size) * columns + columns - 1) + 2
    moment = float(np.pi * (A[top] @ u) @ rr)
    return Plugged(moment, *_along_plug(elements, u, C, bore, plug))


_GAUSS = [(-np.sqrt(0.6), 5 / 9), (0.0, 8 / 9), (np.sqrt(0.6), 5 / 9)]


def _strain(R: Floats, Z: Floats, s: float, t: float) -> tuple[Floats, float, float, float]:
    n, ds, dt = _shape(s, t)
    J = np.array([[ds @ R, ds @ Z], [dt @ R, dt @ Z]])
    dr, dz = np.linalg.solve(J, np.stack([ds, dt]))
    radius = float(n @ R)
    B = np.zeros((6, 24))
    B[0, 0::3], B[1, 0::3], B[1, 1::3], B[2, 2::3] = dr, n / radius, n / radius, dz
    B[3, 1::3], B[3, 2::3] = dz, -n / radius
    B[4, 0::3], B[4, 2::3] = dz, dr
    B[5, 0::3], B[5, 1::3] = -n / radius, dr - n / radius
    return B, radius, float(np.linalg.det(J)), float(n @ Z)


def _along_plug(
    elements: list[tuple[Floats, Floats, Floats]], u: Floats, C: Floats, bore: float, plug: float
) -> tuple[Floats, Floats, Floats]:
    moments: dict[float, float] = {}
    shears: dict[float, float] = {}
    for nodes, R, Z in elements:
        if np.max(R) > bore + 1e-12:
            continue
        own = u[(3 * nodes[:, None] + np.arange(3)).ravel()]
        for s, weight in _GAUSS:
            B, radius, _, height = _strain(R, Z, s, 0.0)
            there = round(plug - height, 9)
            stress = float((C @ B @ own)[2])
            moments[there] = moments.get(there, 0.0) + np.pi * stress * radius**2 * weight * np.ptp(R) / 2
        if np.max(R) > bore - 1e-12:
            B, _, _, height = _strain(R, Z, 3**-0.5, 0.0)
            shears[round(plug - height, 9)] = float((C @ B @ own)[4])
    places = np.array(sorted(moments))
    return (
        places,
        np.array([moments[z] for z in places]),
        np.array([shears[z] for z in places]),
    )
