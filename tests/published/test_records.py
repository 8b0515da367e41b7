"""The records themselves: none may pass without showing something, and no tolerance may be wider than it says why."""

from __future__ import annotations

import math
import sys
from collections import Counter
from dataclasses import replace
from pathlib import Path
from types import FrameType
from typing import Any, get_args

import pytest

import rigcalc

from .chapter import Sheet, forget_cached, sheets
from .record import HALF_A_DIGIT, Kind, Part, Published, Seen

SHEETS = sheets()
PACKAGE = str(Path(rigcalc.__file__).parent)
RECORDS = [
    pytest.param(sheet, check, id=f"{sheet.stem}-{check.id}") for sheet in SHEETS for check in sheet.checks
]
each_record = pytest.mark.parametrize(("sheet", "check"), RECORDS)
each_sheet = pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.stem)


SECOND_HAND = (
    *(
        "not read",
        "was not",
        "were not",
        "not seen",
        "as given in",
        "which cites",
        "as cited on",
        "as held in",
    ),
    *("as coded in", "credited to", "read through", "as reworked in"),
)
"""What a citation says of a work that was not seen itself."""


@each_sheet
def test_every_module_has_a_source_and_values(sheet: Sheet) -> None:
    assert sheet.checks
    assert sheet.citation
    assert sheet.source.part in get_args(Part)
    assert sheet.source.seen in get_args(Seen)
    assert all(text.endswith(".") for text in sheet.source.differs)
    ids = Counter(check.id for check in sheet.checks)
    assert max(ids.values()) == 1, [id for id, count in ids.items() if count > 1]


@each_sheet
def test_what_was_seen_is_what_the_citation_says(sheet: Sheet) -> None:
    marked = {sheet.source.seen, *(check.seen for check in sheet.checks)}
    said = sheet.citation + " ".join(check.where + check.quantity for check in sheet.checks)
    if "from memory" in marked:
        assert "from memory" in said
    if marked != {"from memory", None} and "from memory" not in marked:
        assert "read" in said or "coursehero" in said
    if sheet.source.seen == "second hand":
        assert any(word in said for word in SECOND_HAND)


@each_record
def test_a_tolerance_wider_than_the_print_says_why(sheet: Sheet, check: Published) -> None:
    assert check.kind in get_args(Kind)
    assert check.tolerance > 0
    free = ("model", "disputed", "inferred", "table")
    if check.kind not in free:
        assert check.tolerance <= check.largest_tolerance, "wider than half a unit of the last digit printed"
    elif check.tolerance > check.largest_tolerance:
        assert not check.reason.startswith(HALF_A_DIGIT) or check.kind == "inferred"
        assert len(check.reason) > 20
    if check.kind in ("model", "disputed"):
        assert check.reason != HALF_A_DIGIT


@each_record
def test_a_wrong_value_would_not_pass(sheet: Sheet, check: Published) -> None:
    ours = check.ours()
    if check.value == 0:
        assert check.tolerance <= 1e-9
        return
    for wrong in (0.0, 0.8 * ours, 1.25 * ours, -ours, math.nan):
        with pytest.raises(AssertionError):
            replace(check, ours=lambda wrong=wrong: wrong).verify()  # type: ignore[misc]


@each_sheet
def test_every_value_comes_from_the_tool(sheet: Sheet) -> None:
    """A record that calls nothing of rigcalc holds a number to itself."""
    for check in sheet.checks:
        forget_cached(sheet.module)
        called = False

        def watch(frame: FrameType, event: str, _: Any) -> None:
            nonlocal called
            called = called or (event == "call" and frame.f_code.co_filename.startswith(PACKAGE))

        before = sys.getprofile()
        sys.setprofile(watch)
        try:
            check.ours()
        finally:
            sys.setprofile(before)
        assert called, check.id


def test_what_is_shown_beside_a_rounded_working_is_near_it() -> None:
    """Rounding on the way moves a value by a little; more would be another sum."""
    for sheet in SHEETS:
        for check in sheet.checks:
            if check.in_full is not None:
                assert check.in_full() == pytest.approx(check.value, rel=0.02), check.id
