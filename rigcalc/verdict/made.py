"""What the materials that a rig names are made into."""

from __future__ import annotations

from ..materials import family_of, metal_rows, own_foam, own_timber
from ..materials.timber import timber_of_rig
from ..rig import Rig
from ..structure.made_of import MadeOf, Metals, Piece
from ..structure.sections import Make


def maker(rig: Rig) -> Make:
    """Return what makes the materials of a rig's layers."""
    families = {m.name: m.family for m in rig.materials}
    foams = {m.name: own_foam(m) for m in rig.materials if m.family == "foam"}
    timbers = {m.name: own_timber(m) for m in rig.materials if m.family == "timber"}

    def make(name: str, piece: Piece) -> MadeOf:
        if name in foams:
            return foams[name]
        if family_of(name, own=families) == "timber":
            return timber_of_rig(
                name,
                rig.timber,
                shape=piece.section,
                solid=piece.solid,
                depth_m=piece.depth_m,
                length_m=rig.mast.length_m,
                bury_m=rig.mast.bury_m,
                own=timbers.get,
            )
        rows = metal_rows(name, thinnest_m=piece.thinnest_m, thickest_m=piece.thickest_m, own=rig.materials)
        return Metals(rows)

    return make
