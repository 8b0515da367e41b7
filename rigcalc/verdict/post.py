"""The fixed post that a mast turns on: how far it gives way, what it bears, and what holds it.

Free body. The mast's upper bearing presses on the top of the post with the force R that the post returns to
the mast; the lower bearing stands on the deck at the post's foot and closes its force there. So the post bends
as a cantilever under R alone: M(z) = R (t - z), and at every height the moments of mast and post together are
that of the loads, M_t + V (t - z). A socket of depth s below the foot holds it at its two ends: the upper with
R (t + s)/s, the lower with R t/s the other way. Deformation of shear is left out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ..formulas import Working
from ..frozen import dataclass
from ..limits import Check, Internal, section_limits
from ..loads import CaseLoad
from ..rig import Mast, Post, Rig, Station
from ..structure.beam import BeamLoad, Supports, solve
from ..structure.mesh import Mesh, make_mesh
from ..structure.sections import Sections, sections_of
from .made import maker
from .result import PostResult

Floats = NDArray[np.float64]

ELEMENTS = 8


@dataclass(frozen=True)
class PostModel:
    """A post by itself.

    Parameters
    ----------
    rig : Rig
        The rig with the post in the place of the mast.
    sections : Sections
        From the lower end of the socket, or the clamped foot, up.
    foot_m : float
        Height of the foot in them: the depth of the socket.
    give_m_N, tilt_rad_N : float
        Deflection and slope of the top under a unit force there.
    """

    rig: Rig
    sections: Sections
    foot_m: float
    give_m_N: float
    tilt_rad_N: float

    @property
    def mesh(self) -> Mesh:
        return self.sections.mesh

    @property
    def height_m(self) -> float:
        """From the foot to the top."""
        return float(self.mesh.edges_m[-1]) - self.foot_m

    @property
    def arm_m(self) -> Floats:
        """Moment at every point under a unit force at the top."""
        z, top = self.mesh.z_m, float(self.mesh.edges_m[-1])
        if self.foot_m == 0.0:
            return np.asarray(top - z)
        return np.where(z >= self.foot_m, top - z, self.height_m * z / self.foot_m)


def post_of(rig: Rig) -> PostModel | None:
    """Return the post of a rig, where its mast turns on one."""
    post, mast = rig.mast.post, rig.mast
    if post is None:
        return None
    spar = _as_spar(post, mast)
    mesh = make_mesh(
        np.array([s.height_m for s in spar.stations]),
        length_m=spar.length_m,
        longest_m=spar.length_m / ELEMENTS,
    )
    tubes = sections_of(spar, mesh, maker(rig))
    sections = replace(tubes, layers=tuple(replace(layer, name="post") for layer in tubes.layers))
    foot = post.socket_m or 0.0
    give, tilt = _under_unit_force(mesh, sections.EI_N_m2, foot)
    return PostModel(replace(rig, mast=spar), sections, foot, give, tilt)


def _as_spar(post: Post, mast: Mast) -> Mast:
    """Return the post as a spar standing on the lower end of its socket."""
    foot, top = post.diameter_m, post.top_diameter_m or post.diameter_m
    deep = post.socket_m or 0.0
    sizes = [(deep, foot), (deep + mast.bury_m, top)]
    if deep:
        sizes.insert(0, (0.0, foot))
    return Mast(
        name="post",
        length_m=deep + mast.bury_m,
        bury_m=deep or mast.bury_m,
        material=post.material or mast.material,
        stations=tuple(Station(height_m=z, diameter_m=D, wall_m=post.wall_m) for z, D in sizes),
        wall_loss_m=mast.wall_loss_m,
    )


def _under_unit_force(mesh: Mesh, EI_N_m2: Floats, foot_m: float) -> tuple[float, float]:
    """Return deflection and slope of the top."""
    if foot_m == 0.0:
        turn = mesh.from_heel((mesh.edges_m[-1] - mesh.z_m) / EI_N_m2)
        return float(mesh.from_heel(turn)[-1, -1]), float(turn[-1, -1])
    tip = np.zeros_like(mesh.edges_m)
    tip[-1] = 1.0
    bent = solve(mesh, EI_N_m2, BeamLoad(np.zeros_like(mesh.z_m), tip), Supports(foot_m))
    return float(bent.deflection_m[-1, -1]), float(bent.slope_rad[-1, -1])


def post_checks(
    post: PostModel, loads: Sequence[CaseLoad], top_N: Floats, thrust_N: Floats, working: Working
) -> list[Check]:
    """Return every check of the post.

    Parameters
    ----------
    post : PostModel
        The post.
    loads : sequence of CaseLoad
        For their names; a mast that hangs in slings does not load it.
    top_N : ndarray, shape (cases,)
        Force of the upper bearing, both planes together, the larger of straight and bent mast.
    thrust_N : ndarray, shape (cases,)
        Compression that comes down on its top.
    working : Working
        Where steps and warnings are noted.
    """
    standing = [i for i, load in enumerate(loads) if load.held_at_m is None]
    if not standing:
        return []
    force, thrust = top_N[standing][:, None, None], thrust_N[standing][:, None, None]
    arm = post.arm_m
    # what comes down on the top leans out with it
    moment = force * arm + np.maximum(thrust, 0.0) * force * post.give_m_N
    shear = force * (
        1.0
        if post.foot_m == 0.0
        else np.where(post.mesh.z_m >= post.foot_m, 1.0, post.height_m / post.foot_m)
    )
    none = np.zeros_like(moment)
    internal = Internal(
        straight_N_m=np.stack([moment, none]),
        bent_N_m=np.stack([none, none]),
        straight_shear_N=np.stack([np.broadcast_to(shear, none.shape), none]),
        bent_shear_N=np.stack([none, none]),
        axial_N=np.broadcast_to(thrust, none.shape),
        torque_N_m=none,
        # no column: the thrust leans out with the top, and is in the moment
        axial_factor=np.full((len(standing), 1, 1), np.inf),
        # what presses on its top and holds its foot is not looked at as a bearing of a mast
        upper_N=np.zeros_like(force),
        lower_N=np.zeros_like(force),
    )
    kinds = tuple(loads[i].kind for i in standing)
    limits = section_limits(post.rig, post.sections, internal, kinds, working)
    names = tuple(loads[i].name for i in standing)
    heights = post.mesh.z_m - post.foot_m
    return [found for limit in limits for found in limit.checks(names, heights)]


def post_result(post: PostModel, load: CaseLoad, *, side_N: float, forward_N: float) -> PostResult:
    """Return what one case does to the post.

    Parameters
    ----------
    post : PostModel
        The post.
    load : CaseLoad
        The case.
    side_N, forward_N : float
        Force of the mast on its top.
    """
    force, height, foot = float(np.hypot(side_N, forward_N)), post.height_m, post.foot_m
    return PostResult(
        case=load.name,
        top_force_N=force,
        top_side_N=side_N,
        top_forward_N=forward_N,
        foot_moment_N_m=force * height,
        top_deflection_m=force * post.give_m_N,
        top_slope_rad=force * post.tilt_rad_N,
        socket_top_force_N=force * (height + foot) / foot if foot else None,
        socket_foot_force_N=force * height / foot if foot else None,
    )
