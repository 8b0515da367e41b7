"""What timber bears: bent, pressed, sheared, crushed, split and glued; one layer at a time, in its own strength."""

from __future__ import annotations

from ...formulas import Working
from ...rig import Rig
from ...structure.sections import Layer, Sections
from ..record import Limit
from ..stresses import Internal
from .bearings import bearing_limits, plug_limits
from .edges import column_limit, edge_limits
from .walls import wall_limits
from .wood import Wood

__all__ = ["timber_limits"]


def timber_limits(
    rig: Rig, sections: Sections, layer: Layer, internal: Internal, working: Working
) -> list[Limit]:
    """Return every limit of one layer of timber: the mast's own tube or pole, a plug, or the post it turns on.

    Parameters
    ----------
    rig : Rig
        For its bearings, plugs and [timber] table.
    sections : Sections
        All layers: glued wood shears as one, and a plug fills the bore.
    layer : Layer
        The one looked at.
    internal : Internal
        Forces in the mast.
    working : Working
        Where steps and warnings are noted.
    """
    wood = Wood(rig, sections, layer, internal, working)
    found = edge_limits(wood)
    kind, _, number = layer.name.partition(" ")
    if kind == "plug":
        return [*found, *plug_limits(wood, rig.mast.plug[int(number) - 1].tail_m)]
    found += wall_limits(wood)
    if kind == "post":
        return found
    return [*found, column_limit(wood), *bearing_limits(wood)]
