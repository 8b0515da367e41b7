"""The parts of the report that a search fills: their numbers are those of `compare` and `doubt` as JSON."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from rigcalc import compare, doubt, load_rig
from rigcalc.cli import main
from rigcalc.reports.compare import compare_json
from rigcalc.reports.doubt import doubt_json
from rigcalc.reports.figures.words import Shown
from rigcalc.reports.sheet import document_of, html_of, markdown_of

from . import ROOT
from .page import Page
from .test_html import US_FACTORS, at, is_rounded, pointed

SHARPIE = ROOT / "examples" / "sharpie_5m2.toml"


@cache
def searched() -> tuple[Any, ...]:
    rig = load_rig(SHARPIE)
    return rig, compare(rig, materials=("6061-T6 extruded",)), doubt(rig, samples=300)


@cache
def page_in(shown: Shown) -> Page:
    rig, compared, doubted = searched()
    return Page(html_of(document_of(rig, shown=shown, compared=compared, doubted=doubted)))


@pytest.mark.parametrize("shown", ["metric", "us"])
def test_numbers_are_those_of_the_json(shown: Shown) -> None:
    _, compared, doubted = searched()
    document = {"comparison": json.loads(compare_json(compared)), "doubt": json.loads(doubt_json(doubted))}
    factors = (*US_FACTORS, 100.0)
    seen: dict[str, int] = {"comparison": 0, "doubt": 0}
    for node in pointed(page_in(shown)):
        path = node.attributes["data-path"] or ""
        root = path.split(".")[0]
        if root not in seen:
            continue
        value, told = at(document, path), node.attributes["data-value"]
        if isinstance(value, str):
            assert told == value
        else:
            assert float(told or "") == value, path
            assert is_rounded(node, factors=factors), path
        seen[root] += 1
    assert seen["comparison"] > 25 and seen["doubt"] > 60


def test_every_mast_and_every_likely_check_is_told() -> None:
    _, compared, doubted = searched()
    page = page_in("metric")
    heads = [head.text for head in page.root.all("h2")]
    assert heads[heads.index("Order list") + 1 :][:2] == ["Masts side by side", "How sure the verdict is"]
    for mast in compared.masts:
        assert mast.said in page.root.text
    for note in doubted.notes:
        assert note in page.root.text
    names = {figure.attributes["id"] for figure in page.root.all("figure")}
    assert {"figure-comparison", "figure-doubt"} <= names
    rig, *_ = searched()
    text = markdown_of(document_of(rig, compared=compared, doubted=doubted))
    assert "## Masts side by side" in text and "## How sure the verdict is" in text


def test_on_the_command_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "boat.toml"
    file.write_text(f"{SHARPIE.read_text(encoding='utf-8')}\n[doubt]\nsamples = 200\n", encoding="utf-8")
    assert main(["report", str(file), "--with", "doubt", "--markdown"]) == 0
    out = capsys.readouterr().out
    assert "## How sure the verdict is" in out and "Of 200 masts" in out
    assert "## Masts side by side" not in out
    assert main(["report", str(file), "--with", "cost", "--markdown"]) == 2
    assert main(["plot", str(file), "--what", "doubt", "-o", str(tmp_path / "a.svg")]) == 0
    assert "What the doubt comes from" in (tmp_path / "a.svg").read_text(encoding="utf-8")
