"""Wood pressed across the grain at partners and step, and the ends of plugs."""

from __future__ import annotations

from typing import Literal

import numpy as np

from ...formulas import Value
from ...formulas.bearings import close_bush_peak_pressure
from ...formulas.timber import ring_bending_stress, timber_allowable_stress
from ...formulas.timber_tubes import (
    box_wall_bending_stress,
    plug_end_shear_stress,
    plug_transfer_length,
    ring_rolling_shear_stress,
)
from ...frozen import dataclass
from ...materials.timber import Timber
from ...structure.sections import Layer, Points
from ..about import TIMBER, About, Cure
from ..record import Limit, up
from .wood import Advise, Floats, Place, Places, Wood, down

DEFAULT_HEIGHT = 0.5
"""Height of a bearing over the mast's diameter, where the file does not say."""


TALLER = Cure(
    "give the <{name} a height of about {to:.0f} mm against the mast in place of {now:.0f}|bearing a "
    "greater height against the mast>",
    "a deeper partner or heel block; nearly no weight",
)
THICKER_MAST = Cure(
    "make the mast there <about {to:.0f} mm in place of {now:.0f}|thicker>",
    "weight low down, and a wider bearing",
)
PLUG_BEARING = Cure(
    "fill the bore at the <{name}|bearing> with a glued plug of wood, reaching well beyond the bearing",
    "a plug to make and taper; its weight lies low",
)
POST_WALL = Cure(
    "raise the wall <there from {now:.1f} to about {to:.1f} mm|where it is pressed>", "weight low down"
)
POST_HEIGHT = Cure(
    "raise the height of the <{name} from {now:.0f} to about {to:.0f} mm|bearing>",
    "a longer bush; nearly no weight",
)
LONGER_TAPER = Cure(
    "taper the ends of the plug over <about {to:.0f} mm in place of {now:.0f}|a greater length>",
    "work; a longer plug",
)
PLUG_ELSEWHERE = Cure(
    "end it where the moment is <at most {share:.0%} of that here|less>", "a longer plug, and its weight"
)
_EVEN = "Hard edges and poor fit, which press one spot; wear; wood that has gone soft with damp."
_BOTH = ("partners", "step")
CRUSHING = About(
    tuple(f"crushing-{name}" for name in _BOTH),
    TIMBER,
    "A bearing crushes the wood across its grain. The peak of the pressure round half the mast against the "
    "strength of the wood across its grain.",
    (timber_allowable_stress,),
    _EVEN,
    (TALLER, THICKER_MAST),
    (close_bush_peak_pressure,),
)
WALL_BENDING = About(
    tuple(f"wall-bending-{name}" for name in _BOTH),
    TIMBER,
    "A bearing presses a hollow spar oval and splits its wall. Bending of the empty wall round the spar "
    "against what the wood bears in tension across its grain.",
    (timber_allowable_stress,),
    _EVEN,
    (PLUG_BEARING, POST_WALL, POST_HEIGHT),
    (ring_bending_stress, box_wall_bending_stress),
)
ROLLING_SHEAR = About(
    tuple(f"rolling-shear-{name}" for name in _BOTH),
    TIMBER,
    "A bearing presses a hollow spar so that fibres of its wall roll over each other. Shear through the "
    "empty wall against the rolling shear strength of the wood.",
    (timber_allowable_stress,),
    _EVEN,
    (PLUG_BEARING, POST_WALL, POST_HEIGHT),
    (ring_rolling_shear_stress,),
)
PLUG_END = About(
    ("plug-end",),
    TIMBER,
    "The glue lets go at the end of a plug, where it takes up its share of the bending. Shear of the glue "
    "line over the taper against the shear strength of the weaker wood.",
    (plug_end_shear_stress,),
    "Glue weaker than the wood, gaps in it, and the peel of a blunt end.",
    (LONGER_TAPER, PLUG_ELSEWHERE),
    (plug_transfer_length,),
)


@dataclass(frozen=True)
class Bearing:
    """One bearing as the mast feels it; of many masts, with a number to each.

    Parameters
    ----------
    name : str
        ``partners`` or ``step``.
    at : (ndarray of int, int)
        Element and point at its middle.
    force_N : ndarray, shape (cases,) or (cases, masts)
        How hard it presses.
    height_m : float or ndarray, shape (masts,)
        How much of the mast's length it presses on.
    empty : ndarray of bool, shape (1,) or (masts,)
        Whether the bore is empty anywhere beside it.
    """

    name: Literal["partners", "step"]
    at: Points
    force_N: Floats
    height_m: Value
    empty: Places

    def alone(self, wood: Wood, value: Floats) -> Floats:
        """Return values by case at the bearing's place and zero elsewhere."""
        spread = np.zeros((len(value), *wood.here.shape))
        spread[(slice(None), *self.at)] = value.reshape(len(value), -1)
        return spread

    def where(self, wood: Wood, *, empty: bool = False) -> Places:
        """Return the place of the bearing; where the bore beside it is empty, if that is asked."""
        found = np.zeros(wood.here.shape, dtype=bool)
        found[self.at] = self.empty if empty else True
        return found


def bearing_limits(wood: Wood) -> list[Limit]:
    """Return the limits of the mast's own tube where partners and step press it."""
    found = []
    for bearing in _bearings(wood):
        found.append(_crushing(wood, bearing))
        if np.any(bearing.empty):
            found += [_wall_bending(wood, bearing), _rolling_shear(wood, bearing)]
    return found


def _bearings(wood: Wood) -> list[Bearing]:
    sections, internal = wood.sections, wood.internal
    z = sections.z_m
    upper: Points = (sections.above(wood.rig.mast.bury_m), 0)
    foot: Points = (sections.above(0.0), 0)
    forces: dict[Literal["partners", "step"], tuple[Points, Floats]] = {
        "partners": (upper, internal.upper_N),
        "step": (foot, internal.lower_N),
    }
    found = []
    for name, (at, pull) in forces.items():
        force = sections.at(np.broadcast_to(pull, internal.axial_N.shape), at)
        given = getattr(wood.rig.bearings, name).length_m
        height = given or DEFAULT_HEIGHT * sections.at(wood.layer.outer_m, at)
        middle = sections.each(sections.at(z, at))
        beside = np.abs(z - middle) <= sections.each(height) / 2 * (1 + 1e-9)
        empty = np.any(sections.of_masts(wood.hollow & beside), axis=(-2, -1))
        found.append(Bearing(name, at, force, height, np.atleast_1d(empty)))
    return found


def _crushing(wood: Wood, bearing: Bearing) -> Limit:
    """Pressure across the grain under a bearing, as the cosine round half the mast."""
    shape, at, sections = wood.layer.shape, bearing.at, wood.sections
    breadth = np.minimum(sections.at(shape.outer_forward_m, at), sections.at(shape.outer_side_m, at))
    if wood.rig.mast.support == "post":
        # only a round bore turns on a post
        breadth = sections.at(shape.inner_forward_m, at)
    peak = wood.working.use(close_bush_peak_pressure, F=bearing.force_N, D=breadth, L=bearing.height_m)

    def advise(used: float, at: Place) -> str:
        h, D = bearing.height_m * 1e3, breadth * 1e3
        taller = TALLER.said(name=bearing.name, to=up(h * used, 1.0), now=h)
        return f"{taller}, or {THICKER_MAST.said(to=up(D * used, 1.0), now=D)}"

    return Limit(
        CRUSHING.named(f"crushing-{bearing.name}"),
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

    def advise(used: float, at: Place) -> str:
        wall, height = float(wood.layer.wall_m[at]) * 1e3, bearing.height_m * 1e3
        if wood.rig.mast.support != "post":
            return PLUG_BEARING.said(name=bearing.name)
        thicker = POST_WALL.said(now=wall, to=up(wall * used ** (1 / power), 0.1))
        return f"{thicker}, or {POST_HEIGHT.said(name=bearing.name, now=height, to=up(height * used, 1.0))}"

    return advise


def _wall_bending(wood: Wood, bearing: Bearing) -> Limit:
    """An empty wall bent across its grain between the bearing and what it presses against."""
    layer, at, sections = wood.layer, bearing.at, wood.sections
    use, F, w, t = wood.working.use, bearing.force_N, bearing.height_m, sections.at(layer.wall_m, at)
    if layer.shape.kind == "box":
        stress = use(box_wall_bending_stress, F=F, b=sections.at(layer.inner_m, at), w=w, t=t)
    else:
        radius = sections.at((layer.outer_m - layer.wall_m) / 2, at)
        stress = use(ring_bending_stress, where=layer.name, F=F, r=radius, w=w, t=t)
    return Limit(
        WALL_BENDING.named(f"wall-bending-{bearing.name}"),
        layer.name,
        bearing.alone(wood, stress),
        wood.allowed("tension_perp"),
        "Pa",
        timber_allowable_stress,
        _filled(wood, bearing, 2.0),
        bearing.where(wood, empty=True),
        wood.source("tension_perp"),
    )


def _rolling_shear(wood: Wood, bearing: Bearing) -> Limit:
    wall = wood.sections.at(wood.layer.wall_m, bearing.at)
    stress = wood.working.use(ring_rolling_shear_stress, F=bearing.force_N, w=bearing.height_m, t=wall)
    return Limit(
        ROLLING_SHEAR.named(f"rolling-shear-{bearing.name}"),
        wood.layer.name,
        bearing.alone(wood, stress),
        wood.allowed("rolling_shear"),
        "Pa",
        timber_allowable_stress,
        _filled(wood, bearing, 1.0),
        bearing.where(wood, empty=True),
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
        longer = LONGER_TAPER.said(to=up(needed * 1e3, 1.0), now=tail_m * 1e3)
        return f"{longer}, or {PLUG_ELSEWHERE.said(share=down(1 / used))}"

    return [
        Limit(
            PLUG_END,
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
    z, there = wood.sections.z_m, wood.here
    low, high = float(np.min(z[there])), float(np.max(z[there]))
    slack = 1e-9 * wood.rig.mast.length_m
    inside = (z > slack) & (z < wood.rig.mast.length_m - slack)
    return np.asarray(there & inside & ((np.abs(z - low) <= slack) | (np.abs(z - high) <= slack)))


def _radius(layer: Layer, here: Places) -> Floats:
    lesser = np.minimum(layer.shape.outer_forward_m, layer.shape.outer_side_m)
    return np.where(here, lesser / 2, 1.0)
