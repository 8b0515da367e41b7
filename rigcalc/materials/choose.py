"""The material a rig names: from the tables, or the user's own."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Final, Literal, cast

from ..rig import Material
from .metals import MaterialError, Metal, find_metal, metals_named
from .names import Kind, kinds_of, table_names
from .near import did_you_mean, nearest
from .own import own_metal

Family = Literal["metal", "timber", "ply", "foam", "laminate"]

_FAMILY_OF: Final[dict[Kind, Family]] = {
    "metal": "metal",
    "species": "timber",
    "class": "timber",
    "ply": "ply",
}


def family_of(name: str, *, own: Mapping[str, str] | None = None, laminates: Iterable[str] = ()) -> Family:
    """Return what kind of material a name is.

    Parameters
    ----------
    name : str
        As a rig file writes it.
    own : mapping, optional
        Name -> family of the user's materials.
    laminates : iterable of str
        Names of the rig's laminates; both come before the tables.

    Raises
    ------
    MaterialError
        If there is none of that name, with the nearest over everything; or it is a fibre or a resin.
    """
    own, laminates = own or {}, tuple(laminates)
    if (found := known_family(name, own=own, laminates=laminates)) is not None:
        return found
    if kinds := kinds_of(name):
        raise MaterialError(
            name, f"a {kinds[0]} by itself makes no mast", "Lay up a [[laminate]] of it, and name that."
        )
    known = [*laminates, *own, *(one for kind in _FAMILY_OF for one in table_names(kind))]
    raise no_such_material(name, known)


def known_family(name: str, *, own: Mapping[str, str], laminates: Iterable[str]) -> Family | None:
    """Return what kind of material a name is, as `family_of` takes it; None where it makes no mast."""
    if name in own:
        return cast(Family, own[name])
    if name in laminates:
        return "laminate"
    return next((_FAMILY_OF[kind] for kind in kinds_of(name) if kind in _FAMILY_OF), None)


def no_such_material(name: str, known: Iterable[str]) -> MaterialError:
    """Return the error of a name that is none of those known, with the nearest of them."""
    remedy = did_you_mean(
        nearest(name, known),
        "`rigcalc materials` lists what there is; your own stands in a [[material]] table.",
    )
    return MaterialError(name, "there is no material of this name", remedy)


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
        If there is no such metal, or none so thick.
    """
    for material in own:
        if material.name == name:
            return (own_metal(material),)
    first = find_metal(name, wall_m=thinnest_m)
    last = find_metal(name, wall_m=thickest_m)
    between = [m for m in metals_named(name) if first.wall_over_m < m.wall_over_m < last.wall_over_m]
    return tuple(dict.fromkeys([first, *between, last]))
