"""Every figure of every rig is made, stands in a page, tells itself in words, and keeps its labels on the sheet."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
import warnings
from functools import cache
from itertools import combinations
from typing import Any
from xml.etree import ElementTree

import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from rigcalc.reports import figures
from rigcalc.reports.figures import CAUTION, KINDS, Drawn, figures_of, left_out, svg_of
from rigcalc.reports.figures.style import look

from . import EXAMPLES, ODD, UGLY, example

NAMES = [kind.name for kind in KINDS]
SVG = "{http://www.w3.org/2000/svg}"
LEFT_OUT = {
    "given_loads": {"stability", "reefing", "roll"},
    "glass_tube_5m": {"stability", "roll"},
    "sharpie_5m2": {"roll"},
    "sheathed_mast_5m": {"stability"},
    "stave_mast_6m": set(),
    "trailer_sailer_4m6": set(),
    "two_masted_cruiser_9m": {"roll"},
    "slung only": {"boat", "stability", "compass", "reefing", "roll"},
    "flat only": {"stability", "reefing", "roll"},
}
of_each = pytest.mark.parametrize("name", [*EXAMPLES, *ODD])


@cache
def drawn(name: str) -> tuple[Drawn, ...]:
    return figures_of(*example(name))


@cache
def svg(name: str, figure: str) -> str:
    return svg_of(next(one for one in drawn(name) if one.name == figure))


def each() -> list[tuple[str, str]]:
    return [(name, kind) for name in EXAMPLES for kind in NAMES if kind not in LEFT_OUT[name]]


@pytest.mark.parametrize("name", LEFT_OUT)
def test_what_has_no_data_is_left_out_and_said_why(name: str) -> None:
    missing = left_out(*example(name))
    assert {one.name for one in missing} == LEFT_OUT[name]
    assert all(len(one.why) > 20 for one in missing)
    assert [one.name for one in drawn(name)] == [kind for kind in NAMES if kind not in LEFT_OUT[name]]


def test_figures_come_in_the_order_asked_for() -> None:
    rig, result = example("trailer_sailer_4m6")
    assert [one.name for one in figures_of(rig, result, names=["roll", "bent"])] == ["roll", "bent"]
    with pytest.raises(KeyError):
        figures_of(rig, result, names=["bents"])


@pytest.mark.parametrize(("name", "figure"), each())
def test_it_stands_in_a_page(name: str, figure: str) -> None:
    text = svg(name, figure)
    assert text.startswith("<svg ")
    root = ElementTree.fromstring(text)
    one = next(one for one in drawn(name) if one.name == figure)
    assert root.get("role") == "img"
    assert root.get("aria-labelledby") == f"{figure}-title {figure}-desc"
    title, desc = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert title is not None and title.text == one.title and title.get("id") == f"{figure}-title"
    assert desc is not None and desc.text == one.said and desc.get("id") == f"{figure}-desc"
    # it takes the width of what holds it
    assert root.get("viewBox") and root.get("width") is None and root.get("height") is None
    tags = {element.tag for element in root.iter()}
    assert not tags & {f"{SVG}script", f"{SVG}style", f"{SVG}image", f"{SVG}foreignObject"}
    assert not [key for element in root.iter() for key in element.attrib if key.startswith("on")]
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids)) and all(id.startswith(f"{figure}-") for id in ids)
    used = set(re.findall(r'(?:url\(|href=")#([^)"]*)', text))
    assert used <= set(ids)


@pytest.mark.parametrize(("name", "figure"), each())
def test_text_is_text_in_the_reader_s_own_typeface_and_carries_the_caution(name: str, figure: str) -> None:
    text = svg(name, figure)
    root = ElementTree.fromstring(text)
    words = " ".join(element.text or "" for element in root.iter(f"{SVG}text"))
    assert CAUTION in " ".join(words.split())
    assert set(re.findall(r"font-family: ([^;\"]*)", text)) == {"sans-serif"}
    assert "xlink:href" not in text or "#" + figure in text
    assert "DejaVu" not in text and "Date" not in text
    assert len(text) < 250_000


@of_each
def test_names_of_any_kind_come_through(name: str) -> None:
    for one in drawn(name):
        root = ElementTree.fromstring(svg(name, one.name))
        assert root.findtext(f"{SVG}desc") == one.said
        assert "nan" not in one.said.split() and "inf" not in one.said.split()
    if name == "long names":
        said = {one.name: one.said for one in drawn(name)}
        assert UGLY.replace("\\\\", "\\") in said["along"]


def texts(figure: Figure) -> list[tuple[str, Any, float]]:
    """Return the visible texts of a figure, each with its box and its rotation."""
    import matplotlib.text

    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    renderer = canvas.get_renderer()
    found = []
    for artist in figure.findobj(matplotlib.text.Text):
        if artist.get_visible() and artist.get_text().strip():
            # without its arrow, which may well cross another label's corner
            box = matplotlib.text.Text.get_window_extent(artist, renderer)
            found.append((artist.get_text(), box, artist.get_rotation()))
    return found


@of_each
def test_no_label_runs_off_the_sheet(name: str) -> None:
    for one in drawn(name):
        with look(), warnings.catch_warnings():
            figure = one.make()
            for text, box, _ in texts(figure):
                sheet = figure.bbox
                inside = box.x0 > -1 and box.y0 > -1 and box.x1 < sheet.x1 + 1 and box.y1 < sheet.y1 + 1
                # ticks beyond the ends of an axis are kept, and not drawn
                assert inside or re.fullmatch(r"[−\d.]+", text), (one.name, text)


@pytest.mark.parametrize("name", EXAMPLES)
def test_labels_keep_apart(name: str) -> None:
    for one in drawn(name):
        with look():
            # numbers at the ticks are kept beyond the ends of an axis, where they are not drawn
            level = [
                (text, box)
                for text, box, turned in texts(one.make())
                if turned == 0 and not re.fullmatch(r"[−\d.]+", text)
            ]
        for (a, first), (b, second) in combinations(level, 2):
            wide = min(first.x1, second.x1) - max(first.x0, second.x0)
            tall = min(first.y1, second.y1) - max(first.y0, second.y0)
            if wide > 0 and tall > 0:
                least = min(first.width * first.height, second.width * second.height)
                assert wide * tall < 0.15 * least, (one.name, a, b)


def test_what_draws_on_axes_gives_them_back() -> None:
    """So that whoever puts a panel in a figure of his own goes on with it."""
    found = 0
    for module in pkgutil.iter_modules(figures.__path__):
        for name, one in vars(importlib.import_module(f"{figures.__name__}.{module.name}")).items():
            told = getattr(one, "__annotations__", {}) if inspect.isfunction(one) else {}
            if told.get("axes") == "Axes":
                assert told["return"] == "Axes", name
                found += 1
    assert found > 8
