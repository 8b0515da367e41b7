"""The chapter in the notes is that of the records."""

from __future__ import annotations

from typing import get_args

from .chapter import FILE, MEANS, SIDE_JOB, chapter, sheets
from .record import Kind


def test_the_chapter_is_up_to_date() -> None:
    # python -m tests.published.chapter writes it anew
    assert FILE.read_text(encoding="utf-8") == chapter(sheets())


def test_every_kind_is_explained() -> None:
    assert set(MEANS) == set(get_args(Kind))


def test_there_are_enough_values_of_the_main_job() -> None:
    """Seventy are asked for; those recalled, taken over from tables, fitted or worked out by us do not count."""
    counted = [
        check
        for sheet in sheets()
        for check in sheet.checks
        if sheet.source.part != SIDE_JOB and check.kind == "printed" and sheet.seen(check) != "from memory"
    ]
    assert len(counted) >= 70
