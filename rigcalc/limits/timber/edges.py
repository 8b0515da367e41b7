"""Wood bent, pressed and sheared along the grain: both edges of the section, the column, the bury."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from ...formulas.sections import bending_stress
from ...formulas.timber import (
    buckling_limited_stress,
    column_factor,
    column_imperfection,
    relative_column_slenderness,
    stocky_interaction,
    timber_allowable_stress,
)
from ...formulas.timber_tubes import glued_layer_shear_stress
from ...materials.timber import Property, Timber
from ..about import PLUGGED, SMALLER_LOAD, TIMBER, About, Cure
from ..record import Limit, up
from ..stresses import FORWARD, SIDE, Stresses, layer_stresses
from .wood import BETTER_WOOD, LARGER, Advise, Floats, Place, Places, Wood, down

SAWN_COLUMN = 0.8
CROOKED = 0.2
"""beta_c of EN 1995-1-1, 6.3.2, solid timber."""
STOCKY = 0.3
NDS_COLUMN_MARGIN = 1.66
"""What NDS takes off the lower 5 % of the modulus for columns (Appendix D, from memory)."""


DEEPER_BURY = Cure(
    "deepen the bury< from {now:.2f} to about {to:.2f} m>",
    "room below deck; the heel goes lower, or the mast longer",
)
STIFFER = Cure("stiffen the mast< about {times:.2f} times>", "weight aloft, or windage")
LESS_THRUST = Cure("cut the thrust< to {share:.0%}>", "halyards led down the mast press it: lead them away")
_WOOD = "Knots, sloping grain and rot beyond what grade and [timber] say, and glue that does not hold."
BENDING = About(
    ("bending",),
    TIMBER,
    "The wood breaks on the side that bending pulls. Stress at the edge in tension against the tensile "
    "strength of the wood where the mast is hollow, its bending strength where it is solid, with every "
    "factor of the species or class.",
    (timber_allowable_stress,),
    _WOOD,
    (LARGER, PLUGGED, SMALLER_LOAD, BETTER_WOOD),
    (bending_stress,),
)
COMPRESSION = About(
    ("compression",),
    TIMBER,
    "The wood is crushed on the side that bending presses. Shares of thrust and of bending at the edge in "
    "compression added up, on a mast as limp as its wood may be.",
    (stocky_interaction,),
    _WOOD,
    (LARGER, PLUGGED, SMALLER_LOAD, BETTER_WOOD),
    (timber_allowable_stress,),
)
COLUMN = About(
    ("column",),
    TIMBER,
    "The mast bows out under its thrust alone, as a crooked post does. Compression against the crushing "
    "strength, with what slenderness leaves of it.",
    (column_factor, buckling_limited_stress),
    "Bending, which counts with the edges and holds what thrust adds on the bent mast.",
    (STIFFER, LESS_THRUST),
    (relative_column_slenderness,),
)
SHEAR = About(
    ("shear",),
    TIMBER,
    "The wood splits along its grain in the middle of the section, in the bury above all. Shear of the "
    "shear force and of a torque at the neutral axis against the shear strength along the grain.",
    (timber_allowable_stress,),
    _WOOD + " Checks and shakes from drying.",
    (LARGER, PLUGGED, DEEPER_BURY, SMALLER_LOAD, BETTER_WOOD),
    (glued_layer_shear_stress,),
)


def edge_limits(wood: Wood) -> list[Limit]:
    """Return the limits of the edge in tension, of that in compression, and in shear."""
    return [_tension_edge(wood), _compression_edge(wood), _shear(wood)]


def _tension_edge(wood: Wood) -> Limit:
    """Bending where it pulls: a hollow section is pulled evenly, a solid one has its bending strength."""
    s = wood.stresses
    allowed = wood.allowed("tension", "bending")
    pulled = np.where(wood.internal.axial_N < 0.0, s.direct_Pa, 0.0) * allowed / wood.allowed("tension")
    return Limit(
        BENDING,
        wood.layer.name,
        s.bending_Pa + pulled,
        np.where(wood.here, allowed, 1.0),
        "Pa",
        timber_allowable_stress,
        _edge_advice(wood),
        wood.here,
        wood.source("tension", "bending"),
    )


def _compression_edge(wood: Wood) -> Limit:
    """Bending and thrust where they press, evenly in a hollow section, on a mast as limp as its wood may be."""
    s = _of_limp_mast(wood)
    allowed, of = _pressed_edge(wood)
    pressed = np.where(wood.internal.axial_N > 0.0, s.direct_Pa, 0.0)
    evenly = np.where(wood.hollow, pressed, 0.0)
    used = wood.working.use(
        stocky_interaction,
        r_c=(pressed - evenly) / wood.allowed("compression"),
        r_my=(s.bending_Pa + evenly) / allowed,
        r_mz=0.0,
        k_m=1.0,
    )
    return Limit(
        COMPRESSION,
        wood.layer.name,
        np.where(_unstable(wood), np.inf, used),
        np.ones_like(allowed),
        "1",
        stocky_interaction,
        _edge_advice(wood),
        wood.here,
        wood.source(of, "bending"),
    )


def _unstable(wood: Wood) -> Places:
    """Cases in which the mast cannot stand at the lower 5 % of its stiffness, or in which that is not known."""
    # a NaN is no factor above one
    return np.asarray(~(wood.internal.axial_factor > 1.0))


def _of_limp_mast(wood: Wood) -> Stresses:
    """Return the stresses with what the thrust adds on the bent mast raised to the lower 5 % of its stiffness.

    The bent mast has the mean stiffness. What bending adds to the moments grows as a/(1 - a), a being the
    thrust over that of instability.
    """
    internal, sections = wood.internal, wood.sections
    if internal.bent_N_m is internal.straight_N_m:
        return wood.stresses
    straight, bent = np.hypot(*internal.straight_N_m), np.hypot(*internal.bent_N_m)
    low = 1 / np.where(_unstable(wood), np.inf, internal.axial_factor)
    mean = low * sections.softest
    grows = low / (1 - low) * (1 - mean) / np.where(mean > 0.0, mean, 1.0)
    added = np.maximum(bent - straight, 0.0)
    # nothing grows where nothing presses
    limp = bent + (np.maximum(grows, 1.0) - 1.0) * added
    more = limp / np.where(bent > 0.0, bent, 1.0)
    raised = replace(internal, bent_N_m=internal.bent_N_m * more)
    return layer_stresses(sections, wood.layer, raised, wood.working)


def _edge_advice(wood: Wood) -> Advise:
    larger = wood.larger("bending", 3.0)

    def advise(used: float, at: Place) -> str:
        k = float(wood.layer.inner_m[at] / wood.layer.outer_m[at])
        allowed = wood.timber.value_Pa("bending") / wood.solid_timber.value_Pa("bending")
        if wood.hollow[at] and used * (1 - k**4) * allowed <= 1.0:
            return f"{PLUGGED.said()}; or {larger(used, at)}"
        return larger(used, at)

    return advise


def _pressed_edge(wood: Wood) -> tuple[Floats, Property]:
    """Return what the edge bears where bending presses it, and what that is where there is a bore."""
    of: Property = "compression" if wood.rig.timber.hollow_form_factor is None else "bending"
    if wood.timber.basis == "EN 338":
        of = "compression"
    return wood.allowed(of, "bending"), of


def column_limit(wood: Wood) -> Limit:
    """Return the limit of the mast as a crooked column under its thrust alone.

    What the thrust adds to the bending is in the moments of the bent mast, and counts with the edges: the
    interaction of a column with bending would count it twice, and knows no pull that turns with the mast.
    """
    pressed = np.where((wood.internal.axial_N > 0.0) & wood.here, wood.stresses.direct_Pa, 0.0)
    factor = np.broadcast_to(wood.internal.axial_factor, pressed.shape)
    crushes = np.broadcast_to(wood.allowed("compression"), pressed.shape)
    k_c = np.ones_like(pressed)
    loaded = (pressed > 0.0) & np.isfinite(factor)
    by_class = wood.timber.basis == "EN 338"
    if np.any(loaded):
        share = _share_of_class if by_class else _share_of_species
        k_c[loaded] = share(wood, pressed[loaded] * factor[loaded], crushes[loaded])

    def advise(used: float, at: Place) -> str:
        # a column so much stiffer is a little less slender, and crookedness counts for more in it
        return f"{STIFFER.said(times=up(used**1.05, 0.01))}, or {LESS_THRUST.said(share=down(1 / used))}"

    return Limit(
        COLUMN,
        wood.layer.name,
        # a mast whose load of instability was not found cannot pass
        np.where(np.isnan(factor), np.inf, pressed),
        k_c * crushes,
        "Pa",
        column_factor if by_class else buckling_limited_stress,
        advise,
        wood.here,
    )


def _share_of_class(wood: Wood, critical: Floats, crushes: Floats) -> Floats:
    """Return k_c of EN 1995-1-1."""
    use, start = wood.working.use, wood.timber.chain("compression").start_Pa
    slender = use(relative_column_slenderness, f_c0k=start, sigma_cr=critical)
    k_c, over = np.ones_like(slender), slender > STOCKY
    if np.any(over):
        crooked = use(column_imperfection, lambda_rel=slender[over], beta_c=CROOKED)
        k_c[over] = use(column_factor, k_y=crooked, lambda_rel=slender[over])
    return np.asarray(k_c)


def _share_of_species(wood: Wood, critical: Floats, crushes: Floats) -> Floats:
    """Return what the Wood Handbook leaves of the crushing strength, the modulus lowered as NDS lowers it."""
    euler = critical / NDS_COLUMN_MARGIN
    bears = wood.working.use(buckling_limited_stress, F_c=crushes, f_e=euler, c=SAWN_COLUMN)
    return np.asarray(bears / crushes)


def _shear(wood: Wood) -> Limit:
    """Shear along the grain on the neutral axis, from shear force and torque: worst in the bury."""
    s, layer, sections = wood.stresses, wood.layer, wood.sections
    glued = [other for other in sections.layers if isinstance(other.made_of, Timber)]
    force = wood.internal.shear_N
    stress = np.zeros_like(force)
    # a section that is not round is taken in its worse plane
    for plane in (SIDE, FORWARD):
        EI = sum(other.EI_N_m2[plane] for other in glued)
        EQ = sum(other.elastic.E_Pa * other.shape.half_moment_m3[plane] for other in glued)
        Gb = sum(other.elastic.G_Pa * other.shape.middle_width_m[plane] for other in glued)
        one = wood.working.use(
            glued_layer_shear_stress,
            V=force * EI / sections.planes_N_m2[plane],
            EQ=EQ,
            EI=np.where(EI > 0.0, EI, 1.0),
            G=layer.elastic.G_Pa,
            Gb=np.where(Gb > 0.0, Gb, 1.0),
        )
        stress = np.maximum(stress, one)
    return Limit(
        SHEAR,
        layer.name,
        np.where(wood.here, stress + s.torsion_Pa, 0.0),
        wood.allowed("shear"),
        "Pa",
        timber_allowable_stress,
        _in_the_bury(wood),
        wood.here,
        wood.source("shear"),
    )


def _in_the_bury(wood: Wood) -> Advise:
    mast, larger = wood.rig.mast, wood.larger("shear", 2.0)
    grows: Callable[[float], float] = (
        (lambda used: used ** (1 / 0.8)) if wood.timber.basis == "clear-wood" else (lambda used: used)
    )

    def advise(used: float, at: Place) -> str:
        said = larger(used, at)
        k = float(wood.layer.inner_m[at] / wood.layer.outer_m[at])
        if wood.hollow[at] and used * (1 - k**4) / (1 + k + k**2) <= 1.0:
            said = f"{PLUGGED.said()}; or {said}"
        if wood.sections.z_m[at] <= mast.bury_m:
            # the shear of the bury is the moment at the partners over the bury
            said += f", or {DEEPER_BURY.said(now=mast.bury_m, to=up(mast.bury_m * grows(used), 0.01))}"
        return said

    return advise
