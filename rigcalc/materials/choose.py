"""The material a rig names: from the tables, or the user's own."""

from __future__ import annotations

from collections.abc import Sequence

from ..rig import Material
from .metals import Metal, find_metal, metals


def metal_rows(
    name: str, *, thinnest_m: float, thickest_m: float, own: Sequence[Material] = ()
) -> tuple[Metal, ...]:
    """Return the rows of a metal that a range of wall thickness calls for, thinnest first.

    Parameters
    ----------
    name : str
        Name of the material.
    thinnest_m, thickest_m : float
        Least and greatest wall.
    own : sequence of Material
        The user's materials; a name found there comes before the tables.

    Raises
    ------
    MaterialError
        If there is no such material, or none so thick.
    """
    for material in own:
        if material.name == name:
            return (own_metal(material),)
    first = find_metal(name, wall_m=thinnest_m)
    last = find_metal(name, wall_m=thickest_m)
    between = [m for m in metals() if m.name == name and first.wall_over_m < m.wall_over_m < last.wall_over_m]
    return tuple(dict.fromkeys([first, *between, last]))


def own_metal(material: Material) -> Metal:
    """Return a user's material as a metal; its values count as read in the source the user names."""
    return Metal(
        name=material.name,
        E_Pa=material.E_Pa,
        G_Pa=material.G_Pa,
        nu=material.nu,
        density_kg_m3=material.density_kg_m3,
        thermal_expansion_per_K=float("nan"),
        proof_Pa=material.proof_Pa,
        ultimate_Pa=material.ultimate_Pa,
        haz_proof_Pa=material.welded_proof_Pa,
        haz_ultimate_Pa=material.welded_ultimate_Pa,
        buckling_class="A" if material.buckling_class == "A" else "B",
        elongation=None,
        design_use=True,
        standard="user's own",
        strength_provenance="read",
        elastic_provenance="read",
        source=material.source,
        elastic_source=material.source,
        note="",
        wall_over_m=0.0,
        wall_up_to_m=None,
    )
