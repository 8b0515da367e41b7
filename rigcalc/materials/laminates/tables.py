"""The tables of fibres, resins and plies, and how to find a row."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from typing import Any, Final, TypeVar

from ...formulas.laminates import isotropic_shear_modulus
from ..metals import MaterialError
from ..near import did_you_mean, nearest
from ..table_files import rows_of
from .plies import STRAINS, STRENGTHS, UNIDIRECTIONAL, Fibre, PlyMaterial, Provenance, Resin

_Row = TypeVar("_Row", Fibre, Resin, PlyMaterial)

_PROVENANCES: Final[dict[str, Provenance]] = {"read": "read", "memory": "memory"}
FORMS: Final[dict[str, tuple[tuple[float, float], ...] | None]] = {
    "ud": UNIDIRECTIONAL,
    "woven": ((0.0, 0.5), (math.pi / 2, 0.5)),
    "biaxial-45": ((math.pi / 4, 0.5), (-math.pi / 4, 0.5)),
    "mat": ((0.0, 1 / 3), (math.pi / 3, 1 / 3), (-math.pi / 3, 1 / 3)),
    "triaxial": None,
}
"""How the fibres of a ply lie: direction from axis 1 and share of the fibre."""


def _scaled(text: str, exponent: int) -> float:
    # Decimal shift in the text, so that 0.57 GPa becomes the float nearest to 570e6.
    return float(f"{text}e{exponent}")


def _scaled_or_none(text: str, exponent: int) -> float | None:
    return _scaled(text, exponent) if text else None


def _shear_Pa(row: Mapping[str, str]) -> float:
    if row["G12_GPa"]:
        return _scaled(row["G12_GPa"], 9)
    return float(isotropic_shear_modulus(E=_scaled(row["E1_GPa"], 9), nu=float(row["nu12"])))


def _limits(row: Mapping[str, str]) -> dict[str, Any]:
    strengths = {field: _scaled_or_none(row[field.replace("_Pa", "_MPa")], 6) for field in STRENGTHS}
    return strengths | {field: _scaled_or_none(row[f"{field}_pct"], -2) for field in STRAINS}


def _origin(row: Mapping[str, str]) -> dict[str, Any]:
    return {
        "provenance": _PROVENANCES[row["provenance"]],
        "source": row["source"],
        "note": row["note"],
    }


@cache
def fibres() -> tuple[Fibre, ...]:
    """Return every fibre of the table, in its order."""
    return tuple(
        Fibre(
            name=row["name"],
            E1_Pa=_scaled(row["E1_GPa"], 9),
            E2_Pa=_scaled(row["E2_GPa"], 9),
            G12_Pa=_shear_Pa(row),
            nu12=float(row["nu12"]),
            density_kg_m3=float(row["density_kg_m3"]),
            tension_in_ply_Pa=_scaled_or_none(row["tension_MPa"], 6),
            compression_in_ply_Pa=_scaled_or_none(row["compression_MPa"], 6),
            **_origin(row),
        )
        for row in rows_of("laminate_constituents.csv")
        if row["kind"] == "fibre"
    )


@cache
def resins() -> tuple[Resin, ...]:
    """Return every resin of the table, in its order."""
    return tuple(
        Resin(
            name=row["name"],
            E_Pa=_scaled(row["E1_GPa"], 9),
            G_Pa=_shear_Pa(row),
            nu=float(row["nu12"]),
            density_kg_m3=float(row["density_kg_m3"]),
            tension_Pa=_scaled_or_none(row["tension_MPa"], 6),
            compression_Pa=_scaled_or_none(row["compression_MPa"], 6),
            shear_Pa=_scaled_or_none(row["shear_MPa"], 6),
            ultimate_strain=_scaled_or_none(row["strain_ult_pct"], -2),
            **_origin(row),
        )
        for row in rows_of("laminate_constituents.csv")
        if row["kind"] == "resin"
    )


@cache
def ply_materials() -> tuple[PlyMaterial, ...]:
    """Return every ply material of the table, in its order."""
    return tuple(
        PlyMaterial(
            name=row["name"],
            fibres=FORMS[row["form"]],
            fibre_fraction=float(row["fibre_fraction"]),
            fibre_density_kg_m3=float(row["fibre_density_kg_m3"]),
            density_kg_m3=float(row["density_kg_m3"]),
            E1_Pa=_scaled(row["E1_GPa"], 9),
            E2_Pa=_scaled(row["E2_GPa"], 9),
            G12_Pa=_scaled(row["G12_GPa"], 9),
            nu12=float(row["nu12"]),
            **_limits(row),
            **_origin(row),
        )
        for row in rows_of("laminate_plies.csv")
    )


def find_fibre(name: str) -> Fibre:
    """Return the fibre of a name.

    Raises
    ------
    MaterialError
        If there is none.
    """
    return _found(name, fibres(), "fibre")


def find_resin(name: str) -> Resin:
    """Return the resin of a name.

    Raises
    ------
    MaterialError
        If there is none.
    """
    return _found(name, resins(), "resin")


def find_ply_material(name: str, others: Iterable[str] = ()) -> PlyMaterial:
    """Return the ply material of a name; `of_fibre_mass` or `of_thickness` makes a ply of it.

    Parameters
    ----------
    name : str
        As the table writes it.
    others : iterable of str
        Names known beside those of the table, one of which may have been meant.

    Raises
    ------
    MaterialError
        If there is none.
    """
    return _found(name, ply_materials(), "ply", others)


def _found(name: str, rows: Sequence[_Row], kind: str, others: Iterable[str] = ()) -> _Row:
    for row in rows:
        if row.name == name:
            return row
    near = nearest(name, [*others, *(row.name for row in rows)])
    raise MaterialError(
        name, f"there is no {kind} of this name", did_you_mean(near, f"Choose one such as '{rows[0].name}'.")
    )
