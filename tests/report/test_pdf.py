"""The report on paper: pages, heads of tables again on every page, figures as lines, the same bytes every time."""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

import pytest

from rigcalc.reports.sheet import save_pdf
from rigcalc.reports.sheet.pages import (
    BOTTOM,
    HEAD,
    HEAD_ROOM,
    LEFT,
    SIZES,
    Paper,
    Rule,
    Sheet,
    Text,
    sheets_of,
)
from rigcalc.reports.sheet.record import Column, Document, Formula, Paragraph, Section, Table
from rigcalc.reports.sheet.type import Run, line_width, lines_of, width_of
from rigcalc.verdict import CAUTIONS, NOT_CHECKED

from . import NAMES, failing, report_of
from .test_html import HEADS

PAPERS: tuple[Paper, ...] = ("a4", "letter")


@cache
def laid(name: str, paper: Paper) -> list[Sheet]:
    """Return the pages of an example; laid once for all tests."""
    return sheets_of(report_of(name).document, paper)


def texts(sheets: list[Sheet]) -> str:
    """Return all words of some pages, lines joined."""
    return " ".join(mark.text for sheet in sheets for mark in sheet.marks if isinstance(mark, Text))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", NAMES)
def test_nothing_leaves_the_paper(name: str, paper: Paper) -> None:
    for number, sheet in enumerate(laid(name, paper), start=1):
        assert {sheet.wide, sheet.high} == set(SIZES[paper])
        for mark in sheet.marks:
            if isinstance(mark, Rule):
                assert min(mark.x0, mark.x1) > 0 and max(mark.x0, mark.x1) <= sheet.wide - LEFT + 0.01
                continue
            end = mark.x + width_of(mark.text, mark.size, mark.style)
            assert mark.x >= LEFT - 0.01 and end <= sheet.wide - LEFT + 1.0, (number, mark.text)
            above = HEAD - 1 if sheet.opens else HEAD_ROOM
            assert above < mark.y < sheet.high - BOTTOM + 12, (number, mark.text)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", NAMES)
def test_lines_do_not_lie_on_one_another(name: str, paper: Paper) -> None:
    for sheet in laid(name, paper):
        words = sorted((m for m in sheet.marks if isinstance(m, Text)), key=lambda m: (m.y, m.x))
        for i, one in enumerate(words):
            for other in words[i + 1 :]:
                if other.y - one.y >= 0.8 * other.size:
                    break
                left, right = sorted((one, other), key=lambda m: m.x)
                assert left.x + width_of(left.text, left.size, left.style) <= right.x + 0.6, (left, right)


@pytest.mark.parametrize("name", NAMES)
def test_it_says_what_the_page_says(name: str) -> None:
    report = report_of(name)
    sheets = laid(name, "a4")
    said = " ".join(texts(sheets).split())
    for text in (*HEADS, *CAUTIONS, NOT_CHECKED, *report.done.result.warnings):
        assert text in said
    squeezed = said.replace(" ", "")
    for block in report.document.blocks():
        match block:
            case Formula(text, _, told):
                for row in text.split("; "):
                    assert row.replace(" ", "") in squeezed
                assert told.replace(" ", "") in squeezed
            case Table():
                assert block.caption in said
    figures = [sheet.drawn.name for sheet in sheets if sheet.drawn is not None]
    assert figures == [block.drawn.name for block in report.document.blocks() if hasattr(block, "drawn")]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", NAMES)
def test_a_figure_has_its_words_on_its_own_page(name: str, paper: Paper) -> None:
    drawn = [sheet for sheet in laid(name, paper) if sheet.drawn is not None]
    assert drawn
    for sheet in drawn:
        assert sheet.drawn is not None
        assert "".join(sheet.drawn.said.split()) in texts([sheet]).replace(" ", ""), sheet.drawn.name


@pytest.mark.parametrize("name", NAMES)
def test_a_heading_stands_over_its_words_and_its_table(name: str) -> None:
    """Nothing of a section of one paragraph and a short table is left behind on the page before."""
    sheets = [texts([sheet]).replace(" ", "") for sheet in laid(name, "a4")]
    sections = [s for s in _sections(report_of(name).document.sections) if len(s.blocks) > 1]
    short = [
        (s.title, s.blocks[1])
        for s in sections
        if isinstance(s.blocks[0], Paragraph) and isinstance(s.blocks[1], Table) and len(s.blocks[1].rows) < 8
    ]
    assert short
    for title, table in short:
        squeezed = title.replace(" ", "")
        caption = table.caption.replace(" ", "")
        where = [i for i, words in enumerate(sheets) if squeezed in words and caption in words]
        assert where, title
        assert not any(f"{caption},continued" in words for words in sheets), title


def _sections(sections: Iterable[Section]) -> Iterator[Section]:
    for section in sections:
        yield section
        yield from _sections(block for block in section.blocks if isinstance(block, Section))


def test_contents_tell_the_pages() -> None:
    sheets = laid("sharpie_5m2", "a4")
    first = [mark for mark in sheets[0].marks if isinstance(mark, Text)]
    for head in HEADS:
        row = next(mark for mark in first if mark.text == head and mark.size < 9)
        told = min((m for m in first if m.y == row.y and m.x > row.x and m.text.isdigit()), key=lambda m: m.x)
        sheet = sheets[int(told.text) - 1]
        assert any(isinstance(m, Text) and m.text == head and m.size > 12 for m in sheet.marks), head


def _document(*blocks: Table | Paragraph) -> Document:
    return Document("A boat", True, "rigcalc", (Section("one", "One", blocks),))


def test_a_long_table_has_its_heads_on_every_page() -> None:
    rows = tuple((f"row {i}", f"{i}") for i in range(200))
    sheets = sheets_of(_document(Table("Rows", (Column("name"), Column("size", "mm", "number")), rows)), "a4")
    assert len(sheets) > 3
    for number, sheet in enumerate(sheets):
        words = [mark.text for mark in sheet.marks if isinstance(mark, Text)]
        assert words.count("name") == 1 and "size" in [w.strip() for w in words]
        assert (", continued" in words) == (number > 0)
    told = [m.text for s in sheets for m in s.marks if isinstance(m, Text) and m.text.startswith("row ")]
    assert told == [f"row {i}" for i in range(200)]


def test_a_row_higher_than_a_page_goes_on_over_pages() -> None:
    words = [f"word{i}" for i in range(4000)]
    sheets = sheets_of(
        _document(Table("Rows", (Column("name"), Column("said", kind="long")), (("one", " ".join(words)),))),
        "letter",
    )
    assert len(sheets) > 2
    assert [w for w in texts(sheets).split() if w.startswith("word")] == words


def test_words_wider_than_a_line_are_broken_and_none_is_lost() -> None:
    digest = "0123456789abcdef" * 16
    lines = lines_of([Run("a"), Run(" "), Run(digest, "mono"), Run(" z", "bold")], 100.0, 8.0)
    assert len(lines) > 3
    assert all(line_width(line, 8.0) <= 100.0 for line in lines)
    assert "".join(part.run.text for line in lines for part in line).replace(" ", "") == f"a{digest}z"


_STRING = rb"\(((?:[^)\\]|\\.)*)\)"
_SHOWN = re.compile(rb"\[((?:\((?:[^)\\]|\\.)*\)|[^()\]])*)\]\s*TJ|(\((?:[^)\\]|\\.)*\))\s*Tj", re.DOTALL)


def pdf_words(raw: bytes) -> str:
    """Return what the streams of a PDF show as text, kerning taken out."""
    found = []
    for stream in re.findall(rb"stream\r?\n(.*?)\r?\nendstream", raw, re.DOTALL):
        try:
            # the last byte may look like the end of a line and be cut off
            text = zlib.decompressobj().decompress(stream)
        except zlib.error:
            continue
        for shown in _SHOWN.findall(text):
            parts = re.findall(_STRING, shown[0] or shown[1], re.DOTALL)
            letters = re.sub(rb"\\(.)", rb"\1", b"".join(parts), flags=re.DOTALL)
            # newer releases of matplotlib write two bytes to a letter
            found.append(letters.replace(b"\0", b"").decode("latin-1"))
    return "\n".join(found)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_file_has_its_pages_its_words_and_no_date(tmp_path: Path, paper: Paper) -> None:
    report = failing()
    out = tmp_path / "out.pdf"
    save_pdf(report.document, out, paper=paper)
    raw = out.read_bytes()
    sheets = sheets_of(report.document, paper)
    assert raw.startswith(b"%PDF-1.")
    assert f"/Count {len(sheets)}".encode() in raw
    boxes = re.findall(rb"/MediaBox \[([^\]]*)\]", raw)
    assert len(boxes) == len(sheets)
    for box, sheet in zip(boxes, sheets, strict=True):
        _, _, wide, high = map(float, box.split())
        assert (wide, high) == pytest.approx((sheet.wide, sheet.high), abs=0.01)
    assert b"CreationDate" not in raw and b"ModDate" not in raw
    # figures are lines and letters, never pictures
    assert b"/Subtype /Image" not in raw
    words = pdf_words(raw)
    for i in range(1, len(sheets) + 1):
        assert f"page {i} of {len(sheets)}" in words
    assert words.count("A falling mast can kill: every size is preliminary.") >= len(sheets)
    assert "FAIL" in words


def test_a_letter_that_the_typeface_lacks_does_not_stop_it(tmp_path: Path) -> None:
    save_pdf(_document(Paragraph(("船 $x$ \\alpha (unbalanced",))), tmp_path / "out.pdf")
    assert (tmp_path / "out.pdf").stat().st_size > 1000
