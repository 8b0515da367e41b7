"""What a notebook shows of a result, and what a prompt prints."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from html import unescape
from html.parser import HTMLParser
from typing import Any

import pytest

from rigcalc import check, compare, doubt, order, plot, read_rig, size, starter_text
from rigcalc.reports import screen
from rigcalc.reports.compare import compare_screen
from rigcalc.reports.doubt import doubt_screen
from rigcalc.reports.notebook import fragment_of
from rigcalc.reports.order import order_screen
from rigcalc.reports.size import size_screen
from rigcalc.verdict import CAUTIONS, NOT_CHECKED

VOID = {"br", "hr", "img"}
THIN = starter_text().replace('wall = "3 mm"', 'wall = "1.5 mm"')
HELD = starter_text() + '\n[size]\nlargest_diameter = "40 mm"\n'
SCREENS: dict[str, Any] = {
    "check": screen,
    "failed": screen,
    "size": size_screen,
    "none": size_screen,
    "compare": compare_screen,
    "doubt": doubt_screen,
    "order": order_screen,
}


@cache
def result_of(name: str) -> Any:
    rig = read_rig(starter_text())
    match name:
        case "check":
            return check(rig)
        case "failed":
            return check(read_rig(THIN))
        case "size":
            return size(rig)
        case "none":
            return size(read_rig(HELD))
        case "compare":
            return compare(rig, materials=[rig.mast.material])
        case "doubt":
            return doubt(rig, samples=200)
    return order(rig)


class Reader(HTMLParser):
    """Reads a fragment, and finds what does not close."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.words: list[str] = []
        self.cells: list[str] = []
        self.attributes: list[tuple[str, str | None]] = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.attributes += attrs
        if tag not in VOID:
            self.open.append(tag)
        if tag in ("td", "th"):
            self.cells.append("")

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.words.append(data)
        if {"td", "th"} & set(self.open):
            self.cells[-1] += data


def flat(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("name", SCREENS)
def test_a_fragment_is_whole_fetches_nothing_and_runs_nothing(name: str) -> None:
    html = result_of(name)._repr_html_()
    read = Reader(html)
    assert read.open == []
    assert html.startswith('<div class="rigcalc">') and html.endswith("</div>\n")
    assert not re.search(r"<(script|style|link|iframe|img|object)\b|https?:|href=|src=", html)
    assert not any(key.startswith("on") or key == "id" for key, _ in read.attributes)
    assert len(html) < 20_000


@pytest.mark.parametrize("name", SCREENS)
def test_a_fragment_says_what_the_text_says(name: str) -> None:
    found = result_of(name)
    read = Reader(found._repr_html_())
    words, text = flat(" ".join(read.words)), flat(SCREENS[name](found))
    for caution in (*CAUTIONS, NOT_CHECKED):
        assert caution in words
    told = [cell for cell in read.cells if re.fullmatch(r"[\d.]+( ?%)?", cell)]
    missing = [cell for cell in told if cell not in text]
    if name == "order":  # the report has three decimals of a mass where the text has one
        missing = [cell for cell in missing if f"{float(cell):.1f}" not in text]
    if name in ("check", "failed"):  # the text has the most used of each case, the fragment of each kind
        missing = [
            cell
            for cell in missing
            if not any(cell in (f"{c.utilisation:.2f}", f"{c.height_m:.2f}") for c in found.checks)
        ]
    assert (told or name == "none") and missing == []


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("check", "PASS : all 29 checks pass in 5 cases."),
        ("failed", "FAIL : "),
        ("size", "PASS : Mast of 6061-T6 extruded, "),
        ("none", "NONE : No mast of 6061-T6 extruded passes."),
        ("doubt", "PASS : The verdict is PASS with the inputs of the file. Of 200 masts"),
        ("order", "An order says nothing of strength"),
        ("compare", "A: 6061-T6 extruded, as the file has it: PASS"),
    ],
)
def test_the_verdict_stands_in_words(name: str, said: str) -> None:
    words = flat(" ".join(Reader(result_of(name)._repr_html_()).words))
    assert said in words
    if name == "failed":
        assert "Cure: " in words


def test_what_the_user_typed_is_escaped() -> None:
    nasty = '<script>alert("&")</script>'
    rig = replace(read_rig(starter_text()), title=nasty)
    html = check(rig)._repr_html_()
    assert "<script" not in html
    assert nasty in unescape(html)


@pytest.mark.parametrize(
    ("name", "said"),
    [
        (
            "check",
            r"<CheckResult 'Starter: .*': PASS, 29 checks in 5 cases; tip-deflection in '.*' is used 0\.\d\d>",
        ),
        ("failed", r"<CheckResult .*: FAIL, .* is used 1\.\d\d>"),
        ("size", r"<Sized '6061-T6 extruded': 88\.9 x 2\.5 mm; 10\.8 kg with fittings>"),
        ("none", r"<NoSize '6061-T6 extruded': .*>"),
        ("compare", r"<Comparison 'Starter: .*': 6061-T6 extruded 12\.7 kg; 6061-T6 extruded 10\.8 kg>"),
        ("doubt", r"<Doubt 'Starter: .*': PASS as filed, \d+\.\d% of 200 masts fail a check>"),
        ("order", r"<Order 'Starter: .*': mast of 6061-T6 extruded, 1 line to buy, 12\.2 kg in place>"),
    ],
)
def test_a_prompt_prints_a_line(name: str, said: str) -> None:
    text = repr(result_of(name))
    assert re.fullmatch(said, text), text
    assert len(text) < 400


def test_a_rig_prints_a_line() -> None:
    assert repr(read_rig(starter_text())) == (
        "<Rig 'Starter: 4.6 m open boat with one freestanding mast': 5.60 m mast of 6061-T6 extruded, 1 sail>"
    )


def test_a_figure_shows_itself() -> None:
    figure = plot(read_rig(starter_text()), what="utilisation")
    assert repr(figure).startswith("<Drawn 'utilisation': ")
    svg = figure._repr_svg_()
    assert svg.startswith("<svg") and figure.said.split(";")[0][:20] in unescape(svg)


def test_what_is_no_result_is_refused() -> None:
    with pytest.raises(TypeError, match="no result: int"):
        fragment_of(3)
    with pytest.raises(ValueError, match="there is no figure 'mast'; there are boat"):
        plot(read_rig(starter_text()), what="mast")
