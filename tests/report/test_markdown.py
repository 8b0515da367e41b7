"""The same in Markdown: tables that hold together, cautions, and nothing taken for markup."""

from __future__ import annotations

import re

import pytest

from rigcalc.reports.sheet.record import Table, plain
from rigcalc.verdict import CAUTIONS, NOT_CHECKED

from . import NAMES, failing, report_of, report_of_text
from .test_html import HEADS

_CELLS = re.compile(r"(?<!\\)\|")


def plain_text(markdown: str) -> str:
    return re.sub(r"\\([\\`*_\[\]<>|~])", r"\1", markdown)


@pytest.mark.parametrize("name", NAMES)
def test_tables_are_well_formed(name: str) -> None:
    lines = report_of(name).markdown.splitlines()
    tables = [i for i, line in enumerate(lines) if re.fullmatch(r"\|( -+:? \|)+", line)]
    assert len(tables) == sum(isinstance(b, Table) for b in report_of(name).document.blocks())
    for rule in tables:
        width = len(_CELLS.split(lines[rule]))
        assert lines[rule - 2] == "" and lines[rule - 3].startswith("**")
        i = rule - 1
        while i < len(lines) and lines[i].startswith("|"):
            assert len(_CELLS.split(lines[i])) == width, lines[i]
            i += 1
        assert lines[i] == "" and i > rule + 1


@pytest.mark.parametrize("name", NAMES)
def test_it_has_everything_in_its_order(name: str) -> None:
    report = report_of(name)
    heads = [plain_text(line[3:]) for line in report.markdown.splitlines() if line.startswith("## ")]
    assert heads == HEADS
    text = plain_text(report.markdown)
    for said in (*CAUTIONS, NOT_CHECKED, *report.done.result.warnings):
        assert f"> - {said}" in text
    for a in report.done.result.assumptions:
        assert f"| {a.path} |" in text
        assert a.source in text
    targets = set(re.findall(r"\]\(#([^)]+)\)", report.markdown))
    assert targets <= set(re.findall(r'<a id="([^"]+)"></a>', report.markdown))


@pytest.mark.parametrize("name", NAMES)
def test_it_has_every_cell_of_the_page(name: str) -> None:
    report = report_of(name)
    unlinked = re.sub(r"(?<!\\)\[([^\n]+?)\]\(#[^)]+\)", r"\1", report.markdown)
    text = plain_text(unlinked).replace("**", "")
    for block in report.document.blocks():
        if isinstance(block, Table):
            for row in block.rows:
                assert f"| {plain(row[0])} |" in text


def test_failing_is_said_in_a_word() -> None:
    assert "**FAIL**: " in failing().markdown
    assert "| **FAIL** |" in failing().markdown


def test_a_bar_in_a_name_does_not_break_a_table() -> None:
    from rigcalc.rigfile import starter_text

    text = re.sub(r'(?m)^title = ".*"$', 'title = "a | b * c_d_ <i>"', starter_text())
    markdown = report_of_text(text).markdown
    assert r"# a \| b \* c\_d\_ \<i\>" in markdown
    assert r"| title | a \| b \* c\_d\_ \<i\> |" in markdown
