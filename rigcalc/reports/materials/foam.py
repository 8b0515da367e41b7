"""Foams: the user's own, as a core."""

from __future__ import annotations

from collections.abc import Iterator

from ...materials import Foam
from .lines import MPa, indented, origin


def foam_sheet(foam: Foam) -> Iterator[str]:
    """Yield the sheet of a foam."""
    yield "foam, alike all ways"
    yield from indented(
        [
            ["E", MPa(foam.E_Pa), "MPa"],
            ["G", MPa(foam.G_Pa), "MPa"],
            ["crushing strength", MPa(foam.compression_Pa), "MPa"],
            ["shear strength", MPa(foam.shear_Pa), "MPa"],
            ["density", f"{foam.density_kg_m3:g}", "kg/m3"],
        ]
    )
    yield from origin(foam.provenance, foam.source, foam.note)
