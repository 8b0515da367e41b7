"""The mast bent far: equilibrium on the bent shape, both planes together.

The mast is inextensible; loads keep their direction and their size per metre of mast. With t the unit
tangent (leeward, forward, along), N the sum of the forces outboard and M their moment,
dM/ds = -t x N and dt/ds = (M x t)/EI. The partners hold one point of the mast sideways and let it
slide through. Each round integrates the moments on the last shape and the shape from the moments; the
step from round to round is relaxed by Aitken's rule, as plain repetition swings when the mast is bent
far over. The axes of a section stiffer one way than the other follow the tangent by the shortest turn
from upright: its twist is left out.

Forces of the bearings lie across the undeformed mast, counted against the load as in `beam`; what comes down
along it stands on the heel. Partners and heel add up to the loads, and at their places on the bent shape leave
no moment at the foot. What N has across the tangent, N - (N.t) t, is the shear. Of a mast that hardly bends it is
that of `beam`; where the mast lies along its load it is nothing, and what presses down joins in where it leans.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from ..frozen import dataclass
from .beam import Supports, outboard_sum
from .mesh import Edge, Mesh, below, ending, starting

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Pull:
    """A force of constant size that keeps pulling to one point, as the leech pulls the head to the clew.

    Parameters
    ----------
    case : int
        Which case of the batch (first axis after the direction).
    edge : int or ndarray of int, shape (masts,)
        Edge of the mesh it acts on.
    force_N : float or ndarray, shape (masts,)
        Size.
    toward_m : tuple of float
        Point: leeward, forward, along.
    """

    case: int
    edge: Edge
    force_N: float | Floats
    toward_m: tuple[float, float, float]


@dataclass(frozen=True)
class LargeDeflection:
    """Bent shape.

    Parameters
    ----------
    position_m : ndarray, shape (3, ..., n, points)
        Leeward, forward and along the undeformed axis.
    tangent : ndarray, shape (3, ..., n, points)
        Unit tangent, same directions.
    moment_N_m : ndarray, shape (2, ..., n, points)
        Bending moment in the leeward and the forward plane.
    shear_N : ndarray, shape (2, ..., n, points)
        Shear along the section's axes, which follow the tangent from upright by the shortest turn.
    partners_N, heel_N : ndarray, shape (2, ...)
        Forces of the upper and the lower bearing, positive against the load.
    converged : ndarray of bool, shape (...)
        Whether each mast came to rest.
    rounds : int
        Rounds taken.
    """

    position_m: Floats
    tangent: Floats
    moment_N_m: Floats
    shear_N: Floats
    partners_N: Floats
    heel_N: Floats
    converged: NDArray[np.bool_]
    rounds: int


def solve_large(
    mesh: Mesh,
    EI_N_m2: Floats,
    line_N_m: Floats,
    point_N: Floats,
    supports: Supports,
    *,
    pulls: Sequence[Pull] = (),
    slope_rad: Floats | None = None,
    tolerance: float = 1e-10,
    most_rounds: int = 400,
) -> LargeDeflection:
    """Solve the mast on its bent shape.

    Parameters
    ----------
    mesh : Mesh
        Elements.
    EI_N_m2 : ndarray, shape (..., n, points) or (2, ..., n, points)
        Bending stiffness; two of them, for bending to leeward and forward, have one axis more than the cases.
    line_N_m : ndarray, shape (3, ..., n, points)
        Loads per metre: leeward, forward, and along the undeformed axis towards the tip.
    point_N : ndarray, shape (3, ..., n + 1)
        Forces at the edges, same directions.
    supports : Supports
        Bearings.
    pulls : sequence of Pull
        Forces that follow the mast; not among ``point_N``.
    slope_rad : ndarray, shape (2, ..., n, points), optional
        Slopes to begin with, such as those of `solve`; upright without.
    tolerance : float
        Largest change of the tangent in the last round.
    most_rounds : int
        Rounds after which a mast is reported as not converged.

    Returns
    -------
    LargeDeflection
        The bent shape, its forces, and whether it converged.
    """
    outboard = mesh.from_tip(line_N_m) + outboard_sum(point_N)[..., None]
    uneven = EI_N_m2.ndim == outboard.ndim
    stiff = EI_N_m2[0] if uneven else EI_N_m2
    tangent = np.zeros((3, *np.broadcast_shapes(outboard.shape[1:], stiff.shape)))
    tangent[2] = 1.0
    if slope_rad is not None:
        tangent[:2] = slope_rad
        tangent /= np.sqrt(np.sum(tangent**2, axis=0))
    batch = tangent.shape[1:-2]
    relax = np.ones(batch)
    last_change = np.zeros_like(tangent)
    done = np.zeros(batch, dtype=bool)
    straight = np.zeros_like(tangent)
    straight[2] = mesh.z_m
    none = tangent[:2, ..., 0, 0]
    shape = _Shape(tangent, straight, tangent[:2], tangent, none, none)
    rounds = 0
    for rounds in range(1, most_rounds + 1):
        # where the relaxed tangent puts the mast: a pull aimed from the unrelaxed shape overshoots
        at = mesh.from_heel(tangent) + shape.position[..., :1, :1]
        following = _add_pulls(outboard, pulls, at)
        shape = _one_round(mesh, EI_N_m2, following, point_N[:2, ..., 0], tangent, supports)
        change = shape.tangent - tangent
        size = np.max(np.abs(change), axis=(0, -2, -1))
        done = size < tolerance
        if np.all(done | ~np.isfinite(size)):
            break
        if rounds > 1:
            relax = _aitken(relax, last_change, change)
        # no round turns the mast by more than half a radian: a first guess far off would run away
        step = np.minimum(relax, 0.5 / np.maximum(size, 1e-300))
        tangent = tangent + step[..., None, None] * change
        last_change = change
    shear = _across(shape.inner, shape.tangent)
    return LargeDeflection(
        position_m=shape.position,
        tangent=shape.tangent,
        moment_N_m=shape.moment,
        shear_N=shear,
        partners_N=shape.partners,
        heel_N=shape.heel,
        converged=np.asarray(done),
        rounds=rounds,
    )


@dataclass(frozen=True)
class _Shape:
    tangent: Floats
    position: Floats
    moment: Floats
    inner: Floats
    partners: Floats
    heel: Floats


def _add_pulls(outboard: Floats, pulls: Sequence[Pull], position: Floats) -> Floats:
    """Add the pulls in the directions they have on the last shape."""
    if not pulls:
        return outboard
    following = outboard.copy()
    for pull in pulls:
        here = position[:, pull.case]
        at = ending(here, pull.edge)
        towards = np.asarray(pull.toward_m).reshape(3, *(1,) * (at.ndim - 1))
        arm = towards - at
        force = pull.force_N * arm / np.sqrt(np.sum(arm**2, axis=0))
        lower, those = below(pull.edge, here.shape[-2])
        following[:, pull.case, ..., lower, :] += np.where(those, force[..., None, None], 0.0)
    return following


def _one_round(
    mesh: Mesh, EI_N_m2: Floats, outboard: Floats, at_foot: Floats, tangent: Floats, supports: Supports
) -> _Shape:
    """Moments on the shape of ``tangent``, and the shape that those moments bend."""
    bury, foot = mesh.edges_at(supports.bury_m), mesh.edges_at(supports.lower_m)
    b, a = np.asarray(supports.bury_m), np.asarray(supports.lower_m)
    along, n = mesh.from_heel(tangent[2]), mesh.edges_m.shape[-1] - 1
    up, low = starting(along, bury), starting(along, foot)
    free_forward, free_side, _ = _moments(mesh, tangent, outboard)
    free = np.stack([free_side[..., 0, 0], -free_forward[..., 0, 0]])
    # no moment at the foot: the bearings' forces times their heights along the undeformed axis balance
    total = outboard[:2, ..., 0, 0] + at_foot
    partners = (free - total * low) / (up - low)
    heel = total - partners
    inner = outboard.copy()
    for force, edge in ((partners, bury), (heel, foot)):
        lower, those = below(edge, n)
        inner[:2, ..., lower, :] -= np.where(those, force[..., None, None], 0.0)
    moment = _moments(mesh, tangent, inner)
    curvature = _curvature(moment, tangent, EI_N_m2)
    turn = mesh.from_heel(curvature)
    bend = mesh.from_heel(turn)
    at_heel = heel / supports.heel_stiffness_N_m
    at_partners = partners / supports.partners_stiffness_N_m
    start = np.empty((3, *partners.shape[1:]))
    start[:2] = (at_partners - at_heel - starting(bend[:2], bury) + starting(bend[:2], foot)) / (b - a)
    start[2] = np.sqrt(np.maximum(1 - np.sum(start[:2] ** 2, axis=0), 0.0))
    new = start[..., None, None] + turn
    position = start[..., None, None] * mesh.z_m + bend
    position[:2] += (at_heel - start[:2] * a - starting(bend[:2], foot))[..., None, None]
    return _Shape(new, position, np.stack([moment[1], -moment[0]]), inner, partners, heel)


def _across(inner: Floats, tangent: Floats) -> Floats:
    """Return a force as the section's two axes have it, brought from upright by the shortest turn."""
    leans = (np.sum(inner * tangent, axis=0) + inner[2]) / (1.0 + tangent[2])
    return np.asarray(inner[:2] - leans * tangent[:2])


def _curvature(moment: Floats, tangent: Floats, EI_N_m2: Floats) -> Floats:
    """Return the change of the tangent per metre that a moment makes."""
    if EI_N_m2.ndim < moment.ndim:
        return _cross(moment, tangent) / EI_N_m2
    bent = np.zeros_like(moment)
    half_way = tangent.copy()
    half_way[2] += 1.0
    # about the forward axis the mast bends to leeward, and about the other forward
    for axis, EI in ((0, EI_N_m2[1]), (1, EI_N_m2[0])):
        # the section's axis, brought from upright by the shortest turn
        across = -half_way * tangent[axis] / half_way[2]
        across[axis] += 1.0
        bent += across * (np.sum(across * moment, axis=0) / EI)
    return _cross(bent, tangent)


def _moments(mesh: Mesh, tangent: Floats, outboard: Floats) -> Floats:
    return mesh.from_tip(_cross(tangent, outboard))


def _cross(a: Floats, b: Floats) -> Floats:
    """Vector product of fields whose first axis is (leeward, forward, along)."""
    found = np.empty(np.broadcast_shapes(a.shape, b.shape))
    for i, (j, k) in enumerate(((1, 2), (2, 0), (0, 1))):
        np.subtract(a[j] * b[k], a[k] * b[j], out=found[i])
    return found


def _aitken(relax: Floats, before: Floats, now: Floats) -> Floats:
    """Aitken's relaxation, one factor for each mast of the batch."""
    axes = (0, -2, -1)
    difference = now - before
    square = np.sum(difference**2, axis=axes)
    product = np.sum(before * difference, axis=axes)
    safe = square > 0.0
    step = np.where(safe, -relax * product / np.where(safe, square, 1.0), relax)
    # a step of the wrong sign or size says the rounds are not yet near the answer: go on carefully
    return np.asarray(np.where(step > 0.0, np.clip(step, 0.02, 2.0), 0.1))
