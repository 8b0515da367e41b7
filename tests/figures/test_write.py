"""Figures as files: the same bytes every time, whatever the machine is set to."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import matplotlib
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcalc.reports.figures import Drawn, figures_of, save, save_pages, svg_of
from rigcalc.reports.figures.style import look, spread, wrapped
from rigcalc.reports.figures.words import scale

from . import EXAMPLES, example

NAME = "trailer_sailer_4m6"


def figure(kind: str) -> Drawn:
    (drawn,) = figures_of(*example(NAME), names=[kind])
    return drawn


@pytest.mark.parametrize("suffix", ["svg", "pdf", "png"])
def test_the_same_bytes_twice(suffix: str, tmp_path: Path) -> None:
    for turn in ("a", "b"):
        save(figure("boat"), tmp_path / f"{turn}.{suffix}")
    first, second = (path.read_bytes() for path in sorted(tmp_path.iterdir()))
    assert first == second
    assert len(first) > 5000


def test_the_same_bytes_in_two_processes(tmp_path: Path) -> None:
    code = (
        "import sys; from rigcalc import check, load_rig; from rigcalc.reports.figures import *; "
        "rig = load_rig(sys.argv[1]); figures = figures_of(rig, check(rig), names=['along', 'reefing']); "
        "save_pages(figures, sys.argv[2] + '.pdf'); save(figures[1], sys.argv[2] + '.svg'); "
        "sys.stdout.write(svg_of(figures[0]))"
    )
    answers = []
    for seed in ("1", "2"):
        ran = subprocess.run(
            [sys.executable, "-c", code, str(EXAMPLES[NAME]), str(tmp_path / seed)],
            capture_output=True,
            check=True,
            # the order in which sets are walked must not matter
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": ":".join(sys.path), "HOME": str(tmp_path)},
        )
        files = (tmp_path / f"{seed}.pdf").read_bytes(), (tmp_path / f"{seed}.svg").read_bytes()
        answers.append((ran.stdout, *files))
    assert answers[0] == answers[1]
    assert answers[0][0].decode() == svg_of(figure("along"))
    assert b"CreationDate" not in answers[0][1] and b"Matplotlib" not in answers[0][1]


def test_settings_of_the_machine_do_not_show() -> None:
    plain = svg_of(figure("utilisation"))
    with matplotlib.rc_context(
        {"font.size": 30, "axes.grid": False, "lines.linewidth": 9, "svg.fonttype": "path"}
    ):
        assert svg_of(figure("utilisation")) == plain
        # and whoever draws one leaves them as they were
        figure("utilisation").make()
        assert matplotlib.rcParams["font.size"] == 30


def test_a_file_is_a_whole_document_of_a_size(tmp_path: Path) -> None:
    save(figure("bent"), tmp_path / "a.SVG")
    text = (tmp_path / "a.SVG").read_text(encoding="utf-8")
    assert text.startswith("<?xml ")
    root = ElementTree.fromstring(text)
    assert (root.get("width"), root.get("height")) == ("518.4pt", "619.2pt")


def test_png_and_pdf(tmp_path: Path) -> None:
    save(figure("bent"), tmp_path / "a.png", dpi=50)
    assert (tmp_path / "a.png").read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"
    assert matplotlib.image.imread(tmp_path / "a.png").shape[:2] == (430, 360)
    save_pages([figure("bent"), figure("utilisation")], tmp_path / "a.pdf")
    assert (tmp_path / "a.pdf").read_bytes().count(b"/Type /Page ") == 2


@pytest.mark.parametrize("name", ["a.gif", "a", "a.svg.gz"])
def test_other_formats_are_refused(name: str, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="svg, png, pdf"):
        save(figure("bent"), tmp_path / name)
    assert not list(tmp_path.iterdir())


def test_what_xml_cannot_hold_is_dropped_and_the_rest_escaped() -> None:
    bent = figure("bent")
    odd = replace(bent, title="a\x07<b> & c", said='"<script>alert(1)</script>"\x00')
    root = ElementTree.fromstring(svg_of(odd))
    found = [child.text for child in root][:2]
    assert found == ["a<b> & c", '"<script>alert(1)</script>"']


def test_two_figures_in_one_page_share_no_id() -> None:
    ids = [
        {element.get("id") for element in ElementTree.fromstring(svg_of(figure(kind))).iter()} - {None}
        for kind in ("along", "utilisation")
    ]
    assert ids[0] and ids[1] and not ids[0] & ids[1]


def test_nothing_is_drawn_by_the_global_state() -> None:
    figure("along").make()
    assert "matplotlib.pyplot" not in sys.modules or not sys.modules["matplotlib.pyplot"].get_fignums()
    with look():
        assert matplotlib.rcParams["text.parse_math"] is False
    assert matplotlib.rcParams["text.parse_math"] is True


# ---------------------------------------------------------------- labels, words


@given(st.lists(st.floats(-5, 15), min_size=1, max_size=12), st.floats(0.01, 2))
def test_labels_are_spread_in_order_within_bounds(wanted: list[float], gap: float) -> None:
    placed = spread(wanted, gap, 0.0, 10.0)
    assert np.all(placed >= -1e-9) and np.all(placed <= 10 + 1e-9)
    order = np.argsort(wanted, kind="stable")
    least = min(gap, 10.0 / max(len(wanted) - 1, 1))
    assert np.all(np.diff(placed[order]) >= least - 1e-9)
    free = sorted(wanted)
    if free[0] >= 0 and free[-1] <= 10 and all(b - a >= gap for a, b in pairwise(free)):
        np.testing.assert_allclose(placed, wanted, atol=1e-9)


def test_no_label_no_place() -> None:
    assert spread([], 1.0, 0.0, 1.0).size == 0


def test_long_texts_are_wrapped_and_cut() -> None:
    assert wrapped("", 1.0) == [""]
    lines = wrapped("word " * 60, 2.0, 9.0, most=3)
    assert len(lines) == 3 and lines[-1].endswith(" ...")
    assert max(map(len, wrapped("x" * 300, 2.0))) == max(map(len, wrapped("xy " * 100, 2.0))) + 1


@pytest.mark.parametrize(
    ("quantity", "shown", "value", "text"),
    [
        ("force", "metric", -0.4, "0 N"),
        ("force", "us", 4.4482216152605, "1 lbf"),
        ("size", "metric", 0.1016, "101.6 mm"),
        ("size", "metric", 0.1, "100 mm"),
        ("size", "us", 0.0254 * 2.375, "2.375 in"),
        ("height", "us", 0.3048, "1.00 ft"),
        ("deflection", "metric", 0.12345, "0.123 m"),
    ],
)
def test_quantities_in_words(quantity: str, shown: str, value: float, text: str) -> None:
    assert scale(quantity, shown).text(value) == text  # type: ignore[arg-type]
