"""The page: well formed, self-contained, every number that of the JSON, nothing said by colour alone."""

from __future__ import annotations

import math
import re
from collections import Counter
from functools import cache
from itertools import pairwise
from typing import Any

import pytest

from rigcalc import units
from rigcalc.reports.document import as_dict
from rigcalc.reports.explain import about_of
from rigcalc.reports.figures import figures_of
from rigcalc.reports.sheet.method import ABBREVIATIONS, WORDS
from rigcalc.reports.sheet.style import CSS
from rigcalc.reports.terminal import amount
from rigcalc.rigfile import starter_text
from rigcalc.verdict import CAUTIONS, NOT_CHECKED
from rigcalc.verdict.terms import TERMS

from ..rigfile import GOOD, VARIANTS
from . import NAMES, ROOT, THIN, Report, failing, report_of, report_of_text
from .page import Node, Page

HEADS = [
    "Verdict and cautions",
    "Boat and rig, as the file has them",
    "Figures",
    "Cases",
    "Utilisation and checks",
    "Bearings, and what the hull carries",
    "Reefing table",
    "Furling",
    "Order list",
    "Worked calculation",
    "What this stands on",
]
FACTORS = (1.0, 1e3, 1e-6, math.degrees(1.0), units.convert(1.0, "m/s", "kn"))
US = {
    "N": "lbf",
    "N m": "lbf ft",
    "m": "ft",
    "m2": "ft2",
    "kg": "lb",
    "Pa": "ksi",
}
US_FACTORS = (
    *FACTORS,
    *(units.convert(1.0, si, us) for si, us in US.items()),
    units.convert(1.0, "m", "in"),
)


@cache
def page_of(name: str) -> Page:
    return Page(report_of(name).html)


def at(document: Any, path: str) -> Any:
    """Follow a path such as ``cases[0].partners_moment_N_m``."""
    for key, index in re.findall(r"([^.\[\]]+)|\[(\d+)\]", path):
        document = document[key] if key else document[int(index)]
    return document


def pointed(page: Page) -> list[Node]:
    return [node for node in page.root.all("span") if "data-path" in node.attributes]


def test_there_are_examples_to_read() -> None:
    assert len(NAMES) == 7


@pytest.mark.parametrize("name", NAMES)
def test_it_is_well_formed(name: str) -> None:
    page = page_of(name)
    assert page.faults == []
    assert report_of(name).html.startswith("<!DOCTYPE html>\n")


def test_the_reader_of_pages_sees_faults() -> None:
    assert Page("<p>a<b>b</p></b>").faults
    assert Page("<div>").faults
    assert Page('<p id="a" id="b"></p>').faults


@pytest.mark.parametrize("name", NAMES)
def test_it_stands_alone(name: str) -> None:
    page = page_of(name)
    every = page.root.all(*{node.tag for node in _walk(page.root)})
    assert not [node for node in every if node.tag in ("script", "link", "iframe", "object", "embed", "img")]
    for node in every:
        for key, value in node.attributes.items():
            assert not key.startswith("on")
            if key in ("src", "href", "xlink:href", "srcset", "action"):
                assert value is not None and value.startswith("#"), (node.tag, key, value)
    css = page.root.all("style")
    assert len(css) == 1
    for text in (css[0].text, *(node.attributes.get("style") or "" for node in every)):
        assert "@import" not in text
        assert all(target.startswith("#") for target in re.findall(r"url\(([^)]*)\)", text))


def _walk(node: Node) -> list[Node]:
    return [node, *(below for child in node.children for below in _walk(child))]


@pytest.mark.parametrize("name", NAMES)
def test_ids_are_unique_and_links_lead_somewhere(name: str) -> None:
    every = _walk(page_of(name).root)
    ids = Counter(node.attributes["id"] for node in every if "id" in node.attributes)
    assert [key for key, count in ids.items() if count > 1] == []
    targets = [
        value
        for node in every
        for key, value in node.attributes.items()
        if key in ("href", "xlink:href") and value
    ]
    assert len(targets) > len(HEADS)
    assert {target[1:] for target in targets} <= set(ids)
    for node in every:
        for key in ("aria-labelledby", "aria-describedby"):
            assert set((node.attributes.get(key) or "").split()) <= set(ids)


@pytest.mark.parametrize("name", NAMES)
def test_it_has_everything_in_its_order(name: str) -> None:
    page = page_of(name)
    (html,) = page.root.all("html")
    assert html.attributes["lang"] == "en"
    assert [n for n in page.root.all("meta") if n.attributes.get("name") == "viewport"]
    assert [head.text for head in page.root.all("h2")] == HEADS
    assert [head.text for head in page.root.all("h1")] == [report_of(name).rig.title]
    (nav,) = page.root.all("nav")
    assert [link.text for link in nav.all("a")] == HEADS
    levels = [int(head.tag[1]) for head in page.root.all("h1", "h2", "h3", "h4")]
    assert all(after <= before + 1 for before, after in pairwise(levels))


@pytest.mark.parametrize("name", NAMES)
def test_every_table_can_be_read_aloud(name: str) -> None:
    tables = page_of(name).root.all("table")
    assert len(tables) > 15
    for table in tables:
        (caption,) = table.all("caption")
        assert caption.text
        (head,) = table.all("thead")
        heads = head.all("th")
        assert all(cell.attributes["scope"] == "col" and cell.text for cell in heads)
        (body,) = table.all("tbody")
        for row in body.all("tr"):
            assert len(row.children) == len(heads)
            assert row.children[0].tag == "th" and row.children[0].attributes["scope"] == "row"
            assert row.children[0].text


@pytest.mark.parametrize("name", NAMES)
def test_every_figure_is_there_and_tells_itself(name: str) -> None:
    report = report_of(name)
    figures = page_of(name).root.all("figure")
    drawn = figures_of(report.rig, report.done.result)
    assert [figure.attributes["id"] for figure in figures] == [f"figure-{d.name}" for d in drawn]
    for figure, of in zip(figures, drawn, strict=True):
        (svg,) = figure.all("svg")
        assert svg.attributes["role"] == "img"
        assert [node.text for node in svg.all("title")] == [of.title]
        assert [node.text for node in svg.all("desc")] == [of.said]
        (caption,) = figure.all("figcaption")
        assert of.said in caption.text


@pytest.mark.parametrize("name", NAMES)
def test_a_figure_is_never_so_small_that_its_type_cannot_be_read(name: str) -> None:
    """On a phone a figure is as wide as this, and scrolls in its own box; in pixels of 1/96 in."""
    (share,) = re.findall(r"figure svg \{[^}]*min-width: calc\(([.\d]+) \* var\(--wide", CSS)
    for figure in page_of(name).root.all("figure"):
        (box,) = (node for node in figure.all("div") if node.attributes.get("class") == "drawing")
        (svg,) = figure.all("svg")
        wide = float(svg.attributes["viewbox"].split()[2]) / 72
        assert box.attributes["style"] == f"--wide: {wide:.3f}in; max-width: {wide:.3f}in"
        sizes = re.findall(
            r"font-size: ([\d.]+)px", " ".join(n.attributes.get("style", "") for n in svg.all("text"))
        )
        # a figure is drawn in points
        assert min(map(float, sizes)) * float(share) * 96 / 72 >= 7.5


@pytest.mark.parametrize("name", NAMES)
def test_every_check_says_what_it_guards_against(name: str) -> None:
    checks = report_of(name).done.result.checks
    text = page_of(name).root.text
    for check in checks:
        about = about_of(check)
        assert about is not None and about.covers(check.id)
        assert f"It guards against this: {about.line}" in text
    assert text.count("It guards against this: ") == len({(check.id, check.layer) for check in checks})


def test_words_and_letters_are_told() -> None:
    text = page_of("trailer_sailer_4m6").root.text
    for word in WORDS:
        assert TERMS[word] in text
    # what the report writes short is told in full
    for letters in ("RM max", "GM", "kn"):
        assert re.search(rf"\b{letters}\b", text) and any(letters in known for known in ABBREVIATIONS)


@pytest.mark.parametrize("name", NAMES)
def test_its_numbers_are_those_of_the_json(name: str) -> None:
    document = report_of(name).json
    nodes = pointed(page_of(name))
    assert len(nodes) > 200
    for node in nodes:
        path, told = node.attributes["data-path"], node.attributes["data-value"]
        assert path is not None
        value = at(document, path)
        if value is None:
            assert told == "null" and node.text == "no answer"
        elif isinstance(value, bool):
            assert told == ("true" if value else "false")
        elif isinstance(value, str):
            assert told == value
        else:
            assert float(told or "") == value, path


@pytest.mark.parametrize("name", NAMES)
def test_what_is_shown_is_the_number_rounded(name: str) -> None:
    shown = 0
    for node in pointed(page_of(name)):
        shown += is_rounded(node)
    assert shown > 150


def is_rounded(node: Node, *, us: bool = False, factors: tuple[float, ...] = ()) -> bool:
    """Hold what is shown to the number behind it; false where it is no number."""
    factors = factors or (US_FACTORS if us or node.text.endswith((*US.values(), " in")) else FACTORS)
    match = re.match(r"-?\d+(\.(\d+))?(?=$| )", node.text)
    try:
        value = float(node.attributes["data-value"] or "")
    except ValueError:
        return False
    assert match is not None, node.text
    half = 0.5 * 10.0 ** -len(match[2] or "") * (1 + 1e-9) + 1e-12
    assert any(abs(float(match[0]) - value * factor) <= half for factor in factors), (node.text, value)
    return True


@pytest.mark.parametrize("name", NAMES)
def test_every_case_and_every_check_is_in_it(name: str) -> None:
    result = report_of(name).done.result
    paths = {node.attributes["data-path"] for node in pointed(page_of(name))}
    for i, case in enumerate(result.cases):
        for field in ("partners_force_N", "step_force_N", "partners_moment_N_m", "tip_deflection_m"):
            assert f"cases[{i}].{field}" in paths, case.name
    for i, check in enumerate(result.checks):
        for field in ("demand", "capacity", "utilisation", "passed", "height_m"):
            assert f"checks[{i}].{field}" in paths, check.id
    for i, _ in enumerate(result.assumptions):
        assert f"assumptions[{i}].source" in paths


@pytest.mark.parametrize("name", NAMES)
def test_checks_stand_with_formula_source_and_verdict_the_most_used_first(name: str) -> None:
    report = report_of(name)
    text = page_of(name).root.text
    used: list[float] = []
    for table in page_of(name).root.all("table"):
        if table.all("caption")[0].text == "Each kind of check where it is used most":
            used = [
                float(span.attributes["data-value"] or "")
                for span in table.all("span")
                if (span.attributes.get("data-path") or "").endswith("utilisation")
            ]
    assert used == sorted(used, reverse=True) and used
    assert used[0] == report.done.result.governing.utilisation
    for check in report.done.result.checks:
        assert check.formula in text
        assert check.source in text


def test_a_mast_that_fails_says_so_and_how_to_cure_it() -> None:
    report = failing()
    assert report.done.result.verdict == "fail"
    page = Page(report.html)
    (lead,) = [p for p in page.root.all("p") if p.attributes.get("class") == "lead"]
    assert lead.text.startswith("FAIL: ")
    assert next(title.text for title in page.root.all("title")).endswith(": FAIL")
    advice = {check.advice for check in report.done.result.checks if check.advice}
    assert advice
    for text in advice:
        assert f"Cure: {text}." in page.root.text
    marks = [n for n in page.root.all("span") if "mark" in (n.attributes.get("class") or "").split()]
    assert {m.text for m in marks if "bad" in (m.attributes["class"] or "").split()} == {"FAIL"}
    assert {m.text for m in marks if "good" in (m.attributes["class"] or "").split()} == {"PASS"}


@pytest.mark.parametrize("name", NAMES)
def test_every_caution_and_warning_is_in_it(name: str) -> None:
    result = report_of(name).done.result
    notices = "".join(notice.text for notice in page_of(name).root.all("aside"))
    for text in (*CAUTIONS, NOT_CHECKED, *result.warnings):
        assert text in notices


@pytest.mark.parametrize("name", NAMES)
def test_every_default_is_in_the_assumptions_and_marked_where_the_file_is_echoed(name: str) -> None:
    report = report_of(name)
    (table,) = [
        t for t in page_of(name).root.all("table") if t.all("caption")[0].text.startswith("Everything taken")
    ]
    rows = {tuple(cell.text for cell in row.children) for row in table.all("tbody")[0].children}
    for a in report.done.result.assumptions:
        assert (a.path, f"{a.value} default" if a.default else a.value, a.source) in rows
    (rig,) = [s for s in page_of(name).root.all("section") if s.attributes.get("aria-labelledby") == "rig"]
    marks = [n for n in rig.all("span") if n.text == "default"]
    own = [a for a in report.done.result.assumptions if a.default and a.path in report.rig.defaults]
    assert len(marks) >= len(own) > 0


def test_what_the_file_gives_is_echoed_and_not_called_a_default() -> None:
    (rig,) = [
        s
        for s in page_of("trailer_sailer_4m6").root.all("section")
        if s.attributes.get("aria-labelledby") == "rig"
    ]
    rows = {row.children[0].text: row for row in rig.all("tr") if len(row.children) == 3}
    assert rows["displacement"].children[1].text == "640 kg"
    assert rows["bolts"].children[1].text == "8"
    assert rows["series"].children[1].text == "inch pipe, schedule 10S, inch pipe, schedule 40"
    assert rows["stress_ratio"].children[1].text == "0"
    assert rows["camber"].children[1].text == "0.1 default"
    assert "judgement: a working sail, neither flat nor baggy" in rows["camber"].children[2].text
    # nothing of timber plays a part in a mast of metal
    assert "lasting_share" in rows and "safety_factor" not in rows


def test_details_are_open_so_that_every_printer_prints_them() -> None:
    details = page_of("sharpie_5m2").root.all("details")
    assert len(details) > 10
    assert all("open" in node.attributes for node in details)


@pytest.mark.parametrize("name", NAMES)
def test_worked_lines_are_mathml(name: str) -> None:
    report = report_of(name)
    found = page_of(name).root.all("math")
    from rigcalc.reports.worked import worked_from

    lines = [line for s in worked_from(report.rig, report.done).sections for line in s.lines]
    assert len(found) == len(lines) > 0
    for line in lines:
        assert line.mathml in report.html


def test_names_are_words_and_never_markup() -> None:
    nasty = '<script>alert(1)</script> & \\"q\\" | `c` $z$ </title>'
    text = starter_text()
    title = re.search(r'^title = "(.*)"$', text, re.MULTILINE)
    assert title is not None
    report = report_of_text(text.replace(title[0], f'title = "{nasty}"'))
    page = Page(report.html)
    assert page.faults == []
    assert page.root.all("script") == []
    assert page.root.all("h1")[0].text == report.rig.title
    assert "<script" not in report.html


def test_us_units_reach_tables_and_figures() -> None:
    report = report_of_text(THIN, shown="us")
    page = Page(report.html)
    heads = {cell.text for cell in page.root.all("th")}
    assert {"partners lbf", "z ft", "outside in"} <= heads
    for node in pointed(page):
        is_rounded(node, us=True)
    assert "lbf" in "".join(svg.text for svg in page.root.all("svg"))


def test_one_case_alone_says_so() -> None:
    report: Report = report_of_text(starter_text(), case="running, all sail")
    assert [case.name for case in report.done.result.cases] == ["running, all sail"]
    assert "Only the case 'running, all sail' was run" in Page(report.html).root.text


def test_version_and_digest_are_told() -> None:
    import hashlib

    import rigcalc

    text = starter_text()
    page = Page(report_of_text(text).html)
    digest = hashlib.sha256(text.encode()).hexdigest()
    rows = {
        row.children[0].text: row.children[1].text for row in page.root.all("tr") if len(row.children) == 2
    }
    assert rows["sha256 of the input"] == digest
    assert rows["rigcalc"] == f"version {rigcalc.__version__}"
    assert rows["input"] == "boat.toml"
    assert digest[:12] in page.root.all("footer")[0].text


def test_a_part_that_cannot_be_worked_out_gives_its_reason() -> None:
    # a step in the staves is refused by the order, and by nothing else
    report = report_of_text(
        starter_text().replace("\n[[sail]]\n", '\n[stock]\ntube_length = "1 m"\n\n[[sail]]\n', 1)
    )
    page = Page(report.html)
    (order,) = [s for s in page.root.all("section") if s.attributes.get("aria-labelledby") == "order"]
    assert "It cannot be worked out for this file: stock" in order.text
    assert report.done.result.verdict == "pass"


def variant(name: str) -> str:
    text = GOOD
    for old, new in VARIANTS[name]:
        text = text.replace(old, new)
    return text


@pytest.mark.parametrize("name", ["post", "box", "laminate", "own timber", "rollers above a bush"])
def test_other_masts_and_bearings_agree_with_the_json_too(name: str) -> None:
    report = report_of_text(variant(name))
    page = Page(report.html)
    assert page.faults == []
    document = as_dict(report.done.result, stations=True)
    for node in pointed(page):
        path, told = node.attributes["data-path"] or "", node.attributes["data-value"]
        if path.startswith(("order.", "reefing.")):
            continue
        value = at(document, path)
        if isinstance(value, float):
            assert float(told or "") == value, path
        is_rounded(node)
    captions = {caption.text for caption in page.root.all("caption")}
    assert ("The post that the mast turns on" in captions) == (name == "post")
    rows = {row.children[0].text for row in page.root.all("tr")}
    assert ("hardest pressed, roller by roller" in rows) == (name == "rollers above a bush")


def test_a_mast_that_only_hangs_in_slings_loads_no_bearing() -> None:
    text = (ROOT / "examples" / "trailer_sailer_4m6.toml").read_text(encoding="utf-8")
    report = report_of_text(text, case="lifted in two slings")
    assert report.done.result.turning is None
    said = Page(report.html).root.text
    assert "Every case hangs the mast in slings: no bearing is loaded." in said
    assert "Every case hangs the mast in slings, so furling is not told." in said


@pytest.mark.parametrize(
    ("value", "unit", "shown"),
    [
        (44.02e3, "Pa", "0.044 MPa"),
        (-44.02e3, "Pa", "-0.044 MPa"),
        (5.345e5, "Pa", "0.53 MPa"),
        (1.5e6, "Pa", "1.5 MPa"),
        (152.12e6, "Pa", "152.1 MPa"),
        (0.0, "Pa", "0.0 MPa"),
        (3.0, "Pa", "0.0000 MPa"),
        (0.067, "m", "0.067 m"),
        (256.4, "N", "256 N"),
    ],
)
def test_a_small_side_of_a_check_does_not_read_as_nothing(value: float, unit: str, shown: str) -> None:
    assert amount(value, unit, "metric") == shown
