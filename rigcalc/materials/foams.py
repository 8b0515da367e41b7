"""Foam as a core, which fills a bore. There is no table: a foam is the user's own."""

from __future__ import annotations

from typing import Literal

from ..frozen import dataclass
from .metals import Provenance


@dataclass(frozen=True, kw_only=True)
class Foam:
    """A foam, alike in all directions.

    Parameters
    ----------
    name : str
        As the user writes it.
    family : {"foam"}
        Sets foams apart from the rest.
    E_Pa, G_Pa : float
        Modulus in compression, and shear modulus.
    density_kg_m3 : float
        Density.
    compression_Pa, shear_Pa : float
        Crushing and shear strength, as the source has them.
    safety_factor : float
        On both of them.
    provenance : {"read", "memory"}
        Whether the values were read or recalled.
    source, note : str
        Where they come from; anything else to know.
    """

    name: str
    family: Literal["foam"] = "foam"
    E_Pa: float
    G_Pa: float
    density_kg_m3: float
    compression_Pa: float
    shear_Pa: float
    safety_factor: float
    provenance: Provenance
    source: str
    note: str = ""
