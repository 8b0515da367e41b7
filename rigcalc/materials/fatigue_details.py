"""Fatigue details of aluminium by name: the stress range each bears two million times, and its slope."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from ..frozen import dataclass
from .metals import MaterialError, Provenance
from .table_files import rows_of

_PROVENANCES: dict[str, Provenance] = {"read": "read", "memory": "memory"}


@dataclass(frozen=True, kw_only=True)
class Detail:
    """One place where a crack may start.

    Parameters
    ----------
    name : str
        As the rig file writes it.
    category_Pa : float
        Stress range borne two million times.
    slope : float
        Slope of the S-N curve up to its knee.
    welded : bool
        Whether it is the place of a weld.
    what : str
        The same in words.
    provenance : {"read", "memory"}
        Whether the values were read in the source or recalled from memory.
    source, note : str
        Where the values come from; anything else to know.
    """

    name: str
    category_Pa: float
    slope: float
    welded: bool
    what: str
    provenance: Provenance
    source: str
    note: str


@cache
def fatigue_details() -> tuple[Detail, ...]:
    """Every detail of the table, in its order."""
    return tuple(_detail(row) for row in rows_of("fatigue_details.csv"))


def find_fatigue_detail(name: str) -> Detail:
    """Return the detail of a name.

    Raises
    ------
    MaterialError
        If there is none.
    """
    import difflib

    known = {detail.name: detail for detail in fatigue_details()}
    if name not in known:
        near = difflib.get_close_matches(name, known, n=1)
        listed = ", ".join(f"'{d.name}' ({d.what})" for d in known.values())
        remedy = f"Did you mean '{near[0]}'?" if near else "Name one of them, or give a category and a slope."
        raise MaterialError(name, f"there is no fatigue detail of this name; there are {listed}", remedy)
    return known[name]


def _detail(row: Mapping[str, str]) -> Detail:
    return Detail(
        name=row["name"],
        category_Pa=float(f"{row['category_MPa']}e6"),
        slope=float(row["slope"]),
        welded={"yes": True, "no": False}[row["welded"]],
        what=row["what"],
        provenance=_PROVENANCES[row["provenance"]],
        source=row["source"],
        note=row["note"],
    )
