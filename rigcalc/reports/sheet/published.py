"""The published values behind each formula, as the tests hold them."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Final

from ...frozen import dataclass

FILE: Final = Path(__file__).with_name("published.json")
"""Written by ``python -m tests.report.published_map`` from the records in tests/published."""


@dataclass(frozen=True)
class PublishedCheck:
    """A value in print that a formula reproduces.

    Parameters
    ----------
    source : str
        Who printed it.
    where : str
        Page, example or table.
    quantity : str
        What the value is.
    """

    source: str
    where: str
    quantity: str


@cache
def published_checks() -> dict[str, tuple[PublishedCheck, ...]]:
    """Return the published values by the name of the formula."""
    found: dict[str, list[PublishedCheck]] = {}
    for source, formulas in json.loads(FILE.read_text(encoding="utf-8")).items():
        for name, checks in formulas.items():
            found.setdefault(name, []).extend(PublishedCheck(source, *check) for check in checks)
    return {name: tuple(checks) for name, checks in found.items()}
