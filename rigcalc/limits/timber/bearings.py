"""Wood pressed across the grain at partners and step, and the ends of plugs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from ...formulas.timber import crushing_pressure_peak, ring_bending_stress, timber_allowable_stress
from ...formulas.timber_tubes import (
    box_wall_bending_stress,
    plug_end_shear_stress,
    plug_transfer_length,
    ring_rolling_shear_stress,
)
from ...materials.timber import Timber
from ...structure.sections import Layer
from ..record import Limit
from .wood import Advise, Floats, Place, Places, Wood, down, up

DEFAULT_HEIGHT = 0.5
"""Height of a bearing over the mast's diameter, where the file does not say."""


@dataclass(frozen=True)
class Bearing:
    """One bearing as the mast feels it.

    Parameters
    ----------
    name : str
        ``partners`` or ``step``.
    at : (int, int)
        Element and point at its middle.
    force_N : ndarray, shape (cases,)
        How hard it presses.
    height_m : float
        How much of the mast's length it presses on.
    empty : bool
        Whether the bore is empty anywhere beside it.
    """

    name: Literal["partners", "step"]
    at: Place
    force_N: Floats
    height_m: float
    empty: bool

    def alone(self, wood: Wood, value: Floats) -> Floats:
        """Return values by case, shape (cases,), at the bearing's place and zero elsewhere."""
        spread = np.zeros((*value.shape, *wood.here.shape))
        spread[:, self.at[0], self.at[1]] = value
        return spread

    def where(self, wood: Wood) -> Places:
        found = np.zeros(wood.here.shape, dtype=bool)
        found[self.at] = True
        return found


def bearing_limits(wood: Wood) -> list[Limit]:
    """Return the limits of the mast's own tube where partners and step press it."""
    found = []
    for bearing in _bearings(wood):
        found.append(_crushing(wood, bearing))
        if bearing.empty:
            found += [_wall_bending(wood, bearing), _rolling_shear(wood, bearing)]
    return found


def _bearings(wood: Wood) -> list[Bearing]:
    mesh, mast, shear = wood.sections.mesh, wood.rig.mast, wood.internal.shear_N
    upper = mesh.edge_index(mast.bury_m)
    forces: dict[Literal["partners", "step"], tuple[Place, Floats]] = {
        # a bearing is where the shear jumps
        "partners": ((upper, 0), np.hypot(*(shear[:, :, upper, 0] - shear[:, :, upper - 1, -1]))),
        "step": ((0, 0), np.hypot(*shear[:, :, 0, 0])),
    }
    found = []
    for name, (at, force) in forces.items():
        given = getattr(wood.rig.bearings, name).length_m
        height = float(given or DEFAULT_HEIGHT * wood.layer.outer_m[at])
        beside = np.abs(mesh.z_m - mesh.z_m[at]) <= height / 2 * (1 + 1e-9)
        found.append(Bearing(name, at, force, height, bool(np.any(wood.hollow & beside))))
    return found


def _crushing(wood: Wood, bearing: Bearing) -> Limit:
    """Pressure across the grain under a bearing, as the cosine round half the mast."""
    shape, at = wood.layer.shape, bearing.at
    breadth = float(min(shape.outer_forward_m[at], shape.outer_side_m[at]))
    if wood.rig.mast.support == "post":
        breadth = float(min(shape.inner_forward_m[at], shape.inner_side_m[at]))
    peak = wood.working.use(crushing_pressure_peak, F=bearing.force_N, D=breadth, w=bearing.height_m)

    def advise(used: float, at: Place) -> str:
        h, D = bearing.height_m * 1e3, breadth * 1e3
        return (
            f"give the {bearing.name} a height of about {up(h * used, 1.0):.0f} mm against the mast in place of "
            f"{h:.0f}, or make the mast there about {up(D * used, 1.0):.0f} mm in place of {D:.0f}"
        )

    return Limit(
        f"crushing-{bearing.name}",
        wood.layer.name,
        bearing.alone(wood, peak),
        wood.allowed("compression_perp"),
        "Pa",
        timber_allowable_stress,
        advise,
        bearing.where(wood),
        wood.source("compression_perp"),
    )


def _filled(wood: Wood, bearing: Bearing, power: float) -> Advise:
    """Return advice for an empty wall, whose stress falls as a power of its thickness."""
    wall, height = float(wood.layer.wall_m[bearing.at]) * 1e3, bearing.height_m * 1e3

    def advise(used: float, at: Place) -> str:
        if wood.rig.mast.support != "post":
            return f"fill the bore at the {bearing.name} with a glued plug of wood, reaching well beyond the bearing"
        return (
            f"raise the wall there from {wall:.1f} to about {up(wall * used ** (1 / power), 0.1):.1f} mm, or the "
            f"height of the {bearing.name} from {height:.0f} to about {up(height * used, 1.0):.0f} mm"
        )

    return advise


def _wall_bending(wood: Wood, bearing: Bearing) -> Limit:
    """An empty wall bent across its grain between the bearing and what it presses against."""
    layer, at = wood.layer, bearing.at
    use, F, w, t = wood.working.use, bearing.force_N, bearing.height_m, float(layer.wall_m[at])
    if layer.shape.kind == "box":
        stress = use(box_wall_bending_stress, F=F, b=float(layer.inner_m[at]), w=w, t=t)
    else:
        radius = float((layer.outer_m[at] - layer.wall_m[at]) / 2)
        stress = use(ring_bending_stress, where=layer.name, F=F, r=radius, w=w, t=t)
    return Limit(
        f"wall-bending-{bearing.name}",
        layer.name,
        bearing.alone(wood, stress),
        wood.allowed("tension_perp"),
        "Pa",
        timber_allowable_stress,
        _filled(wood, bearing, 2.0),
        bearing.where(wood),
        wood.source("tension_perp"),
    )


def _rolling_shear(wood: Wood, bearing: Bearing) -> Limit:
    wall = float(wood.layer.wall_m[bearing.at])
    stress = wood.working.use(ring_rolling_shear_stress, F=bearing.force_N, w=bearing.height_m, t=wall)
    return Limit(
        f"rolling-shear-{bearing.name}",
        wood.layer.name,
        bearing.alone(wood, stress),
        wood.allowed("rolling_shear"),
        "Pa",
        timber_allowable_stress,
        _filled(wood, bearing, 1.0),
        bearing.where(wood),
        wood.source("rolling_shear"),
    )


# ---------------------------------------------------------------- plugs


def plug_limits(wood: Wood, tail_m: float) -> list[Limit]:
    """Return the limit of the glue line at both ends of a plug.

    Parameters
    ----------
    wood : Wood
        The plug.
    tail_m : float
        Length over which its ends taper.
    """
    tube = wood.sections.layers[0]
    ends = _ends(wood)
    if not np.any(ends):
        return []
    around = [layer for layer in wood.sections.layers if layer is not wood.layer]
    EI_p = np.where(wood.here, np.min(wood.layer.EI_N_m2, axis=0), 1.0)
    EI_t = np.where(wood.here, np.min(sum(layer.EI_N_m2 for layer in around), axis=0), 1.0)
    r, outside = _radius(wood.layer, wood.here), np.where(wood.here, tube.outer_m / 2, 2.0)
    length = wood.working.use(
        plug_transfer_length,
        r=r,
        R=outside,
        G_p=wood.layer.elastic.G_Pa,
        G_t=tube.elastic.G_Pa,
        EI_p=EI_p,
        EI_t=EI_t,
    )
    taken = wood.stresses.moment_N_m
    stress = wood.working.use(plug_end_shear_stress, M_p=taken, r=r, lambda_p=length, l_t=tail_m)
    allowed = wood.allowed("shear")
    if isinstance(tube.made_of, Timber):
        # the weaker of the two woods that the glue holds together
        allowed = np.minimum(allowed, tube.made_of.value_Pa("shear"))

    def advise(used: float, at: Place) -> str:
        needed = 2 * (used * (length[at] + tail_m / 2) - length[at])
        return (
            f"taper the ends of the plug over about {up(needed * 1e3, 1.0):.0f} mm in place of {tail_m * 1e3:.0f}, or "
            f"end it where the moment is at most {down(1 / used):.0%} of that here"
        )

    return [
        Limit(
            "plug-end",
            wood.layer.name,
            np.where(ends, stress, 0.0),
            allowed,
            "Pa",
            plug_end_shear_stress,
            advise,
            ends,
            wood.source("shear"),
        )
    ]


def _ends(wood: Wood) -> Places:
    """Return the ends of a plug that lie inside the mast."""
    z, there = wood.sections.mesh.z_m, wood.here
    low, high = float(np.min(z[there])), float(np.max(z[there]))
    slack = 1e-9 * wood.rig.mast.length_m
    inside = (z > slack) & (z < wood.rig.mast.length_m - slack)
    return np.asarray(there & inside & ((np.abs(z - low) <= slack) | (np.abs(z - high) <= slack)))


def _radius(layer: Layer, here: Places) -> Floats:
    lesser = np.minimum(layer.shape.outer_forward_m, layer.shape.outer_side_m)
    return np.where(here, lesser / 2, 1.0)
