"""Which published values stand behind which formula: found by running every record and watching what it calls.

``python -m tests.report.published_map`` writes the list that the report prints; a test holds the list to this.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from pathlib import Path
from types import CodeType, FrameType
from typing import Any

from rigcalc.formulas import all_formulas
from rigcalc.reports.sheet.published import FILE, PublishedCheck
from tests.published.chapter import forget_cached, sheets

MOST = 5
"""A value that goes through more formulas than this is a check of the whole, and of none of them by itself."""


def called_by(ours: Callable[[], float], formulas: dict[CodeType, str]) -> set[str]:
    """Return the formulas that are called on the way to a value."""
    found: set[str] = set()

    def watch(frame: FrameType, event: str, _: Any) -> None:
        if event == "call" and frame.f_code in formulas:
            found.add(formulas[frame.f_code])

    before = sys.getprofile()
    sys.setprofile(watch)
    try:
        ours()
    finally:
        sys.setprofile(before)
    return found


def expected() -> list[tuple[str, PublishedCheck]]:
    """Return formula and published value, formula by formula."""
    formulas = {f.function.__code__: f.name for f in all_formulas()}
    found = []
    for sheet in sheets():
        for record in sheet.checks:
            # what another record has worked out already would not be seen
            forget_cached(sheet.module)
            names = called_by(record.ours, formulas)
            if len(names) <= MOST:
                check = PublishedCheck(sheet.citation, record.where, record.quantity)
                found += [(name, check) for name in names]
    return sorted(
        dict.fromkeys(found), key=lambda row: (row[0], row[1].source, row[1].where, row[1].quantity)
    )


def as_json(rows: list[tuple[str, PublishedCheck]]) -> str:
    """Return the list as it stands in the package: source, formula, then where and what."""
    by_source: dict[str, dict[str, list[list[str]]]] = {}
    for name, check in rows:
        by_source.setdefault(check.source, {}).setdefault(name, []).append([check.where, check.quantity])
    return json.dumps(dict(sorted(by_source.items())), indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    Path(FILE).write_text(as_json(expected()), encoding="utf-8", newline="\n")
