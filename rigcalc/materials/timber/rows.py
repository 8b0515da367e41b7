"""From a row of the tables, or one of the user's own like it, to what its timber may bear."""

from __future__ import annotations

from dataclasses import replace

from ..timber_tables import ClearWood, StrengthClass
from .clear import clear_problems, clear_timber
from .graded import graded_problems, graded_timber
from .record import BEST_SCARF, Basis, Size, Timber, Use, common_problems, refuse

TimberRow = ClearWood | StrengthClass


def basis_of(row: TimberRow) -> Basis:
    """Return where the strengths of a row start."""
    return "clear-wood" if isinstance(row, ClearWood) else "EN 338"


def timber_of_row(row: TimberRow, size: Size, use: Use) -> Timber:
    """Return the design values of a row.

    Raises
    ------
    MaterialError
        With all that is wrong at once; or if the data give no bending strength or no modulus here.
    """
    if isinstance(row, ClearWood):
        refuse(row.name, [*common_problems(size, use), *clear_problems(size, use)])
        timber = clear_timber(row, size, use)
    else:
        refuse(row.name, [*common_problems(size, use), *graded_problems(use)])
        timber = graded_timber(row, size, use)
    timber.chain("bending")
    timber.chain("E_true")
    return replace(timber, cautions=(*timber.cautions, *_scarf_cautions(use)))


def _scarf_cautions(use: Use) -> list[str]:
    if use.scarf_slope is None:
        return []
    found = ["the strength of a scarf is from memory; ANC-18, 4.25 asks for 1 in 15 or flatter in spars"]
    if use.scarf_slope > BEST_SCARF * (1 + 1e-9):
        found.append("scarf steeper than 1 in 12: weaker than a glued joint can be (Wood Handbook, ch. 10)")
    return found
