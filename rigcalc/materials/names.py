"""The names of everything in the tables, without what it costs to work with it."""

from __future__ import annotations

from functools import cache
from typing import Final, Literal

from .metals import metal_names
from .table_files import rows_of

Kind = Literal["metal", "species", "class", "ply", "fibre", "resin"]
KINDS: Final[tuple[Kind, ...]] = ("metal", "species", "class", "ply", "fibre", "resin")

# table, and what its column `kind` holds where it has several
_TABLES: Final[dict[Kind, tuple[str, str]]] = {
    "species": ("timber_species.csv", ""),
    "class": ("timber_classes.csv", ""),
    "ply": ("laminate_plies.csv", ""),
    "fibre": ("laminate_constituents.csv", "fibre"),
    "resin": ("laminate_constituents.csv", "resin"),
}


@cache
def table_names(kind: Kind) -> tuple[str, ...]:
    """Return every name of a kind, in the order of its table.

    Parameters
    ----------
    kind : {"metal", "species", "class", "ply", "fibre", "resin"}
        Metals that are not for design use are among theirs.
    """
    if kind == "metal":
        return metal_names()
    table, wanted = _TABLES[kind]
    return tuple(row["name"] for row in rows_of(table) if row.get("kind", "") == wanted)


def kinds_of(name: str) -> tuple[Kind, ...]:
    """Return the kinds that have a name, in the order of `KINDS`; there may be none."""
    return tuple(kind for kind in KINDS if name in table_names(kind))
