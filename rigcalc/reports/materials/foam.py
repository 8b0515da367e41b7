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
            ["density", f"{foam.density_kg_m3:g}", "kg/m3"],
        ]
    )
    for label, value in (("crushing", foam.compression_Pa), ("shear", foam.shear_Pa)):
        allowed = f"{value / foam.safety_factor / 1e6:.3g} MPa allowed"
        yield f"  {label:10} {MPa(value):>5} MPa  / {foam.safety_factor:.2f} (safety_factor) = {allowed}"
    yield from origin(foam.provenance, foam.source, foam.note)
