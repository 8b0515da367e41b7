"""What no mast of nested tubes can do without: bounds below, to leave out at once what is bound to fail.

Every tube of the list is first tried as a mast by itself. A mast of several of them bears at least the wind on the
sails at the pressure that the widest of them leaves, on a spar as slim as the slimmest, and at least the weight of
the lightest. From that least moment follow, for every height, whether a tube can stand there alone, and what a
stretch of it adds to the deflection of the tip. The deflection adds up along the mast, so the masts of a chain are
judged by a table. All bounds are below what `evaluate_many` finds: what they leave out fails there, and in the check.

The planes are looked at one by one, so that a force to leeward and one forward do not make up for each other; where
the moment of a case changes its sign along the mast, or from a slim spar to a wide one, nothing is said of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ...formulas import Screening
from ...frozen import dataclass
from ...limits import Internal, section_limits
from ...loads import AS_GIVEN, CaseLoad
from ...loads.line import LineLoad
from ...materials.tube_tables import TubeSize
from ...rig import BARE, GIVEN, SAILING
from ...structure.beam import solve
from ...structure.mesh import Mesh, make_mesh
from ...structure.sections import Sections, section_kinks, sections_of
from ...verdict.many import Stand, outside_m
from ...verdict.model import ELEMENTS, Model, laid_on
from .makes import nested_outline

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

BELOW = 0.999
"""What is left of a bound for the rounding of tables."""
TABLE = 2001
IN_PROPORTION = ("yield", "rupture", "wall-class", "flattening", "fatigue")
"""Limits that a moment alone uses in proportion to its size."""


@dataclass(frozen=True)
class Bounds:
    """Bounds on masts of some tubes.

    Parameters
    ----------
    tubes : tuple of TubeSize
        The tubes, each by itself a mast here.
    z_m : ndarray, shape (k,)
        Heights of the table.
    unit : ndarray, shape (kinds, 2, tubes, k)
        Least moment over pressure on a spar as slim as each tube, by case and plane.
    weight : ndarray, shape (kinds, 2, tubes, k)
        Moment of the weight of a spar of each tube, with what hangs on it.
    pressure : ndarray, shape (kinds, tubes)
        Pressure that a spar as wide as each tube leaves the sails.
    borne : ndarray, shape (kinds, tubes)
        Moment that each tube bears by itself in each case.
    EI_N_m2 : ndarray, shape (tubes,)
        Stiffness of each.
    pressed_N_m2 : float
        Stiffness that a mast as light as the lightest tube must have somewhere, to stand the thrust.
    bury_m, length_m, tip_m : float
        Of the mast, and how far its tip may go.
    """

    tubes: tuple[TubeSize, ...]
    z_m: Floats
    unit: Floats
    weight: Floats
    pressure: Floats
    borne: Floats
    EI_N_m2: Floats
    pressed_N_m2: float
    bury_m: float
    length_m: float
    tip_m: float

    def least(self, widest: int, slimmest: int, lightest: int) -> Floats:
        """Return the least moment of any mast whose tubes lie between some of the list, (kinds, 2, k)."""
        wind = self.pressure[:, widest, None, None] * self.unit[:, :, slimmest]
        return BELOW * (wind + self.weight[:, :, lightest])

    def pass_by(self, chain: Sequence[int], joints_m: Floats, tails_m: Sequence[float]) -> Bools:
        """Return which masts of a chain may pass, shape (masts,).

        Parameters
        ----------
        chain : sequence of int
            Its tubes from the heel up, by their numbers in the list.
        joints_m : ndarray, shape (masts, tubes - 1)
            Heights of the joints.
        tails_m : sequence of float
            Overlap at each.
        """
        numbers = list(chain)
        # nowhere do more than two tubes stand in one another
        if self.pressed_N_m2 > 2 * max(self.EI_N_m2[i] for i in numbers):
            return np.zeros(len(joints_m), dtype=bool)
        wide = max(numbers, key=lambda i: self.tubes[i].diameter_m)
        slim = min(numbers, key=lambda i: self.tubes[i].diameter_m)
        light = min(numbers, key=lambda i: self.tubes[i].area_m2)
        least = self.least(wide, slim, light)
        ends = np.column_stack([np.zeros(len(joints_m)), joints_m, np.full(len(joints_m), self.length_m)])
        stands = np.ones(len(joints_m), dtype=bool)
        most = np.max(least, axis=1)
        for k, i in enumerate(numbers):
            # alone from its joint, or the partners, up to the tail of the next
            low = np.maximum(ends[:, k], self.bury_m)
            tail = tails_m[k] if k < len(tails_m) else 0.0
            over = most > self.borne[:, i, None]
            top = np.where(np.any(over, axis=0), self.z_m, -1.0)
            # heights of the table where it would fail, between the two
            failing = np.concatenate([[0], np.cumsum(top >= 0.0)])
            first, last = (np.searchsorted(self.z_m, z) for z in (low + 1e-9, ends[:, k + 1] - tail - 1e-9))
            stands &= failing[np.maximum(last, first)] == failing[first]
        lever = np.where(
            self.z_m >= self.bury_m,
            self.length_m - self.z_m,
            (self.length_m - self.bury_m) * self.z_m / self.bury_m,
        )
        step, bending = np.diff(self.z_m), least * lever
        bends = np.concatenate(
            [
                np.zeros((*least.shape[:2], 1)),
                np.cumsum(np.minimum(bending[..., :-1], bending[..., 1:]) * step, axis=-1),
            ],
            axis=-1,
        )
        worst = np.zeros(len(joints_m))
        for kind in bends.reshape(-1, bends.shape[-1]):
            if kind[-1] <= 0.0:
                continue

            def upto(z: Floats, kind: Floats = kind) -> Floats:
                return np.interp(z, self.z_m, kind)

            moved = np.zeros(len(joints_m))
            for k, i in enumerate(numbers):
                tail = tails_m[k] if k < len(tails_m) else 0.0
                clear = ends[:, k + 1] - tail
                moved += (upto(clear) - upto(ends[:, k])) / self.EI_N_m2[i]
                if tail:
                    both = self.EI_N_m2[i] + self.EI_N_m2[numbers[k + 1]]
                    moved += (upto(ends[:, k + 1]) - upto(clear)) / both
            worst = np.maximum(worst, moved)
        return np.asarray(stands & (worst <= self.tip_m))


def bounds_of(stand: Stand, tubes: Sequence[TubeSize], unstable: Floats | None = None) -> Bounds:
    """Return the bounds on masts of some tubes.

    Parameters
    ----------
    stand : Stand
        Of a rig with a mast of one tube.
    tubes : sequence of TubeSize
        The tubes.
    unstable : ndarray, shape (tubes,), optional
        How much each, by itself, uses of its stability under thrust; nothing is said of it when not given.
    """
    rig, mast = stand.rig, stand.rig.mast
    none = np.empty((len(tubes), 0))
    outline = nested_outline([[tube] for tube in tubes], none, none, mast.length_m)
    kinks = np.concatenate([stand.kinks_m, section_kinks(mast, stand.lay_ups, outline)])
    shared = make_mesh(kinks, length_m=mast.length_m, longest_m=mast.length_m / ELEMENTS)
    mesh = Mesh(np.broadcast_to(shared.edges_m, (len(tubes), shared.edges_m.size)))
    with np.errstate(all="ignore"):
        sections = sections_of(mast, mesh, stand.make, stand.lay_ups, outline)
        size = sections.of_masts(outside_m(sections))
        outside = LineLoad(shared.edges_m, size[..., 0], size[..., -1])
        loads = [lay(outside, AS_GIVEN) for lay in stand.lays]
        # with the drag crisis in the table a wider spar may feel less wind: nothing is said of such a case
        kept = [
            load
            for load, case in zip(loads, stand.cases, strict=True)
            if load.kind in (*SAILING, GIVEN) or (load.kind == BARE and case.drag_crisis != "table")
        ]
        at = np.linspace(0.0, mast.length_m, TABLE)
        wind = [replace(load, weight_heel_rad=None) for load in kept]
        heavy = [replace(load, applied=type(load.applied)()) for load in kept]
        pressure = np.array([np.broadcast_to(load.pressure_Pa, (len(tubes),)) for load in kept]).reshape(
            len(kept), len(tubes)
        )
        blown = _moments(stand, laid_on(rig, wind, sections, stand.post, z_m=shared.z_m), shared, at)
        unit = _of_one_sign(blown / pressure[:, None, :, None])
        weight = _of_one_sign(
            _moments(stand, laid_on(rig, heavy, sections, stand.post, z_m=shared.z_m), shared, at)
        )
        # a wind that blows one way and a weight that pulls the other may make up for each other
        unit, sign = np.abs(unit), np.sign(np.sum(unit, axis=-1))
        weight = np.where(np.sign(np.sum(weight, axis=-1))[..., None] == sign[..., None], np.abs(weight), 0.0)
        unit = np.where(np.any(_opposed(sign), axis=-1)[..., None, None], 0.0, unit)
        borne = _borne(stand, kept, sections, len(tubes))
        EI = sections.of_masts(sections.EI_N_m2)[:, 0, 0]
    above = mast.length_m - mast.bury_m
    pressed = 0.0
    if unstable is not None:
        light = min(range(len(tubes)), key=lambda i: tubes[i].area_m2)
        # wider tubes leave the sails less pressure, and the leech less pull
        eased = float(np.min(pressure / pressure[:, light, None])) if len(kept) else 1.0
        pressed = BELOW * eased * float(unstable[light] * EI[light])
    return Bounds(
        tuple(tubes),
        at,
        unit,
        weight,
        pressure,
        borne,
        EI,
        pressed,
        mast.bury_m,
        mast.length_m,
        rig.limits.tip_deflection * above,
    )


def _opposed(sign: Floats) -> Bools:
    """Return where spars of other sizes are pushed the other way."""
    return np.asarray(sign * sign[..., :1] < 0.0)


def _of_one_sign(moment: Floats) -> Floats:
    """Return moments along masts, nothing where they change their sign."""
    size = np.max(np.abs(moment), axis=-1, keepdims=True)
    mixed = (np.min(moment, axis=-1, keepdims=True) < -1e-9 * size) & (
        np.max(moment, axis=-1, keepdims=True) > 1e-9 * size
    )
    return np.where(mixed, 0.0, moment)


def _moments(stand: Stand, model: Model, shared: Mesh, at_m: Floats) -> Floats:
    """Return moments at heights, shape (cases, 2, tubes, heights)."""
    sections = model.sections
    if not model.line_N_m.shape[1]:
        return np.zeros((0, 2, model.mesh.masts[0], at_m.size))
    small = solve(model.mesh, sections.of_masts(sections.EI_N_m2), model.across, model.supports)
    z, moment = shared.z_m.reshape(-1), np.moveaxis(small.moment_N_m, 0, 1)
    flat = moment.reshape(*moment.shape[:-2], -1)
    i = np.clip(np.searchsorted(z, at_m, side="right") - 1, 0, z.size - 2)
    # of two points that fall together the lesser moment counts, and between points the straight line, which lies
    # above a moment that falls off ever more slowly: the lower of the two ends is taken
    return np.where(np.abs(flat[..., i]) < np.abs(flat[..., i + 1]), flat[..., i], flat[..., i + 1])


def _borne(stand: Stand, loads: Sequence[CaseLoad], sections: Sections, count: int) -> Floats:
    """Return the moment that each tube bears by itself in each case, by the limits in proportion to it."""
    if not loads:
        return np.zeros((0, count))
    trial = 1e3
    shape = (len(loads), *sections.z_m.shape)
    moment = np.zeros((2, *shape))
    moment[0] = trial
    none, unpressed = np.zeros((2, *shape)), np.zeros((len(loads), 1, 1))
    internal = Internal(
        straight_N_m=moment,
        bent_N_m=moment,
        straight_shear_N=none,
        bent_shear_N=none,
        axial_N=np.zeros(shape),
        torque_N_m=np.zeros(shape),
        axial_factor=np.full((len(loads), 1, 1), np.inf),
        upper_N=unpressed,
        lower_N=unpressed,
    )
    kinds = tuple(load.kind for load in loads)
    limits = section_limits(stand.rig, sections, internal, kinds, Screening())
    named = [
        limit for limit in limits if limit.id in ("yield", "rupture", "wall-class", "flattening", "fatigue")
    ]
    used = np.max([limit.utilisation for limit in named], axis=0)
    least = np.min(sections.of_masts(used).reshape(len(loads), count, -1), axis=-1)
    return np.asarray(trial / np.maximum(least, 1e-30))
