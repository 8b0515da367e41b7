"""The tables that come with the package, as they are written."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from functools import cache
from pathlib import Path


@cache
def rows_of(table: str) -> tuple[Mapping[str, str], ...]:
    """Return every row of a table, in its order: heading -> text.

    Parameters
    ----------
    table : str
        Name of the file in the folder of tables.
    """
    with Path(__file__).parent.joinpath("data", table).open(encoding="utf-8", newline="") as lines:
        # `csv.DictReader` takes three times as long, which every check would pay
        heads, *rows = csv.reader(lines)
    return tuple(dict(zip(heads, row, strict=True)) for row in rows)


@cache
def column_of(table: str, heading: str) -> tuple[str, ...]:
    """Return what a column of a table holds, each once, in its order."""
    return tuple(dict.fromkeys(row[heading] for row in rows_of(table)))
