"""Materials for the terminal: what each is taken to bear, and where that comes from."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Literal

from ...materials import fatigue_details, metals, own_foam, own_metal, own_ply, own_timber
from ...materials.choose import no_such_material
from ...materials.laminates import find_fibre, find_ply_material, find_resin
from ...materials.names import KINDS, Kind, kinds_of, table_names
from ...materials.timber import find_clear_wood, find_strength_class
from ...rig import Material
from ...rig.materials import METAL, PLY, TIMBER
from ..terminal import table
from .foam import foam_sheet
from .laminate import fibre_sheet, fibres_listed, plies_listed, ply_sheet, resin_sheet, resins_listed
from .metal import detail_sheet, details_listed, metal_rows_listed, metal_sheet
from .timber import classes_listed, species_listed, timber_sheet

_LISTS: dict[Kind | Literal["detail"], tuple[str, Callable[[], list[list[str]]]]] = {
    "metal": ("Metals: tubes, MPa, the least guaranteed", metal_rows_listed),
    "detail": ("Fatigue details of aluminium: range borne two million times", details_listed),
    "species": ("Timber by species: MPa, averages of small clear pieces, no design values", species_listed),
    "class": ("Timber by strength class: MPa, characteristic values of EN 338", classes_listed),
    "ply": ("Plies of laminates: typical values", plies_listed),
    "fibre": ("Fibres", fibres_listed),
    "resin": ("Resins", resins_listed),
}
_HINT = (
    "`rigcalc materials NAME` shows one in full: every value with its source, and what is allowed of it.\n"
    "Check every value against the standard, or your maker's sheet, before you order."
)


def material_list() -> str:
    """Return one line for each material, family by family."""
    parts = [f"{heading}\n{table(rows())}" for heading, rows in _LISTS.values()]
    return "\n\n".join([*parts, _HINT]) + "\n"


def material_sheet(name: str, own: Sequence[Material] = ()) -> str:
    """Return everything known of a material.

    Parameters
    ----------
    name : str
        From the tables, or one of the user's own, which come first.
    own : sequence of Material
        The user's own.

    Raises
    ------
    MaterialError
        If there is none of that name, with the nearest.
    """
    details = {detail.name: detail for detail in fatigue_details()}
    sheets = [_own(m) for m in own if m.name == name]
    sheets = sheets or [_tabled(name, kind) for kind in kinds_of(name)]
    if not sheets and name in details:
        sheets = [detail_sheet(details[name])]
    if not sheets:
        tabled = (one for kind in KINDS for one in table_names(kind))
        raise no_such_material(name, [*(m.name for m in own), *tabled, *details])
    return "\n".join(f"{name}\n\n" + "\n".join(lines) + "\n" for lines in sheets)


def own_sheets(own: Sequence[Material]) -> str:
    """Return everything known of the user's own materials, one after the other."""
    return "\n".join(material_sheet(m.name, own) for m in own)


def _tabled(name: str, kind: Kind) -> Iterator[str]:
    match kind:
        case "metal":
            return metal_sheet([m for m in metals() if m.name == name])
        case "species":
            return timber_sheet(find_clear_wood(name))
        case "class":
            return timber_sheet(find_strength_class(name))
        case "ply":
            return ply_sheet(find_ply_material(name))
        case "fibre":
            return fibre_sheet(find_fibre(name))
        case "resin":
            return resin_sheet(find_resin(name))


def _own(material: Material) -> Iterator[str]:
    if material.family == METAL:
        return metal_sheet([own_metal(material)])
    if material.family == TIMBER:
        return timber_sheet(own_timber(material))
    if material.family == PLY:
        return ply_sheet(own_ply(material))
    return foam_sheet(own_foam(material))
