"""What the mast can bear, by material, and how much of it is used."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from ..formulas import Working
from ..materials import Foam
from ..materials.laminates import Laid
from ..materials.timber import Timber
from ..rig import Rig
from ..structure.made_of import Metals
from ..structure.sections import Layer, Sections
from .fatigue import RARE, details_used, fatigue_limits, life_cycles
from .foam import foam_limits
from .joint import Contact, joint_contacts, joint_limits
from .metal import metal_limits
from .record import Check, Limit
from .stresses import Internal, metal_stresses
from .whole import axial_stability_check, creep_deflection_check, tip_deflection_check

__all__ = [
    "RARE",
    "Check",
    "Contact",
    "Internal",
    "Limit",
    "axial_stability_check",
    "creep_deflection_check",
    "details_used",
    "joint_contacts",
    "life_cycles",
    "section_limits",
    "tip_deflection_check",
]


def section_limits(
    rig: Rig, sections: Sections, internal: Internal, kinds: tuple[str, ...], working: Working
) -> Iterator[Limit]:
    """Yield every limit of every layer of the mast, each in its own material.

    One after the other, so that who looks at many masts need not hold them all.

    Parameters
    ----------
    rig : Rig
        For the mast's fittings and the factors.
    sections : Sections
        Its layers.
    internal : Internal
        Forces in it.
    kinds : tuple of str
        Kind of every case in ``internal``: some are met once in a life, some in every roll.
    working : Working
        Where steps and warnings are noted.
    """
    contacts = joint_contacts(rig, sections, internal, working)
    for i, layer in enumerate(sections.layers):
        own = [contact for contact in contacts if contact.layer == i]
        if not sections.mesh.masts or np.all(layer.present) or isinstance(layer.made_of, Laid):
            yield from _layer_limits(rig, sections, layer, internal, own, kinds, working)
            continue
        # of many masts, a sleeve or a plug is looked at where it stands and nowhere else: it is a small part of them
        here = np.flatnonzero(layer.present)
        part = sections.only(here)
        own = [contact.among(here) for contact in own]
        for limit in _layer_limits(rig, part, part.layers[i], internal.only(here), own, kinds, working):
            yield replace(limit, elements=here)
    yield from joint_limits(rig, sections, internal, contacts, working)


def _layer_limits(
    rig: Rig,
    sections: Sections,
    layer: Layer,
    internal: Internal,
    contacts: Sequence[Contact],
    kinds: tuple[str, ...],
    working: Working,
) -> Iterator[Limit]:
    """Yield every limit of one layer, in its own material."""
    match layer.made_of:
        case Metals():
            stresses = metal_stresses(sections, layer, internal, working)
            yield from metal_limits(rig.mast, sections, layer, stresses, rig.limits, working)
            yield from fatigue_limits(rig, sections, layer, stresses, contacts, kinds, working)
        # what is only of laminate or wood is loaded where there is some
        case Laid():
            from .laminate import laminate_limits, skin_of
            from .laminate_bearings import bearing_limits

            skin = skin_of(sections, layer, internal, working)
            yield from laminate_limits(skin, internal, working)
            yield from bearing_limits(rig, skin, internal, working)
        case Timber():
            from .timber import timber_limits

            yield from timber_limits(rig, sections, layer, internal, working)
        case Foam():
            yield from foam_limits(sections, layer, internal, working)
