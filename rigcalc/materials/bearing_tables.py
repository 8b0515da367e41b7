"""Materials of bushes and rollers: what they bear, how they rub, and how they swell and grow."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Final

from .metals import Provenance

_SCALE: Final = {"MPa": 1e6, "MPa_m_s": 1e6}


@dataclass(frozen=True, kw_only=True)
class Origin:
    """Where one value comes from."""

    provenance: Provenance
    source: str


@dataclass(frozen=True, kw_only=True)
class BearingMaterial:
    """One material; None where no value is known.

    Parameters
    ----------
    name : str
        As a rig file names it.
    standing_Pa, turning_Pa : float or None
        Projected pressure allowed while the mast stands, and while it turns.
    pv_Pa_m_s : float or None
        Pressure times speed allowed.
    friction_low, friction_high : float
        Bounds of the coefficient of friction, wet and dry, clean and salty.
    E_Pa, lasting_E_Pa : float or None
        Modulus at once, and under a load of weeks.
    nu, yield_Pa : float or None
        Poisson's ratio and yield strength.
    expansion_per_K, swelling : float or None
        Linear growth with heat, and when soaked with water.
    origins : mapping
        Field name -> where the value comes from.
    """

    name: str
    standing_Pa: float | None = None
    turning_Pa: float | None = None
    pv_Pa_m_s: float | None = None
    friction_low: float = 0.0
    friction_high: float = 0.0
    E_Pa: float | None = None
    lasting_E_Pa: float | None = None
    nu: float | None = None
    yield_Pa: float | None = None
    expansion_per_K: float | None = None
    swelling: float | None = None
    origins: Mapping[str, Origin]

    @property
    def from_memory(self) -> tuple[str, ...]:
        """Fields whose values were recalled, not read."""
        return tuple(name for name, origin in self.origins.items() if origin.provenance == "memory")


@cache
def bearing_materials() -> tuple[BearingMaterial, ...]:
    """Return every material of the table, in its order."""
    table = resources.files(__package__).joinpath("data", "bearing_materials.csv")
    with table.open(encoding="utf-8") as lines:
        rows = list(csv.DictReader(lines))
    return tuple(_material(name, rows) for name in dict.fromkeys(row["name"] for row in rows))


def bearing_material_names() -> tuple[str, ...]:
    """Return the name of every material of the table."""
    return tuple(material.name for material in bearing_materials())


def find_bearing_material(name: str) -> BearingMaterial:
    """Return a material by its name.

    Raises
    ------
    LookupError
        If there is none; a rig file is judged before.
    """
    for material in bearing_materials():
        if material.name == name:
            return material
    raise LookupError(name)


def _material(name: str, rows: list[dict[str, str]]) -> BearingMaterial:
    values: dict[str, float] = {}
    origins: dict[str, Origin] = {}
    for row in rows:
        if row["name"] != name:
            continue
        quantity = row["quantity"]
        field, scale = quantity, 1.0
        for unit, factor in _SCALE.items():
            if quantity.endswith(f"_{unit}"):
                field, scale = quantity.removesuffix(f"_{unit}") + "_" + unit.removeprefix("M"), factor
        values[field] = float(row["value"]) * scale
        origins[field] = Origin(
            provenance="memory" if row["provenance"] == "memory" else "read", source=row["source"]
        )
    return BearingMaterial(name=name, origins=origins, **values)
