"""Figures of plain sequences: bars compared, bars ranked, a curve, a map."""

from __future__ import annotations

import re
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from matplotlib.figure import Figure

from rigcalc.reports.compare import compare_figure
from rigcalc.reports.figures import (
    CAUTION,
    Drawn,
    Parameter,
    Series,
    comparison_bars,
    curve_or_map,
    ranking_bars,
    svg_of,
)
from rigcalc.reports.figures.style import look

from . import UGLY
from .test_every_figure import texts

LABELS = ("6061-T6 drawn", "Sitka spruce (US)", UGLY)
SERIES = (
    Series("mass", "kg", (11.2, 14.5, None)),
    Series("tip", "m", (0.41, 0.52, 0.6), digits=2, limit=0.5),
)


def words(figure: Figure) -> list[str]:
    return [text for text, _, _ in texts(figure)]


def inside(figure: Figure) -> bool:
    return all(
        box.x0 > -1 and box.y0 > -1 and box.x1 < figure.bbox.x1 + 1 and box.y1 < figure.bbox.y1 + 1
        for text, box, _ in texts(figure)
        # numbers at the ticks are kept beyond the ends of an axis, where they are not drawn
        if not re.fullmatch(r"[−\d.]+", text)
    )


def bar(figure: Figure, gid: str) -> float:
    (found,) = figure.findobj(lambda artist: artist.get_gid() == gid)
    return float(found.get_width())


def test_things_compared() -> None:
    figure = comparison_bars(LABELS, SERIES, title="Materials compared", subtitle=UGLY)
    assert [bar(figure, f"mass {row}") for row in range(3)] == [11.2, 14.5, 0.0]
    assert [bar(figure, f"tip {row}") for row in range(3)] == [0.41, 0.52, 0.6]
    said = words(figure)
    assert "11.2 kg" in said and "none" in said
    # what is over its limit says so in a word
    assert "0.41 m" in said and "0.52 m, over" in said and "limit 0.50 m" in said
    assert CAUTION in said
    assert inside(figure)


@pytest.mark.parametrize(("labels", "series"), [((), SERIES), (LABELS, ()), (LABELS[:2], SERIES)])
def test_nothing_to_compare(labels: tuple[str, ...], series: tuple[Series, ...]) -> None:
    with pytest.raises(ValueError, match=r"compare|as long"):
        comparison_bars(labels, series, title="x")


def test_a_ranking_goes_by_size_whichever_way() -> None:
    figure = ranking_bars(["wall", "wind", UGLY], [0.1, -0.4, 0.25], title="What counts most")
    assert [bar(figure, f"rank {row}") for row in range(3)] == [-40.0, 25.0, 10.0]
    said = words(figure)
    assert {"-40.0 %", "+25.0 %", "+10.0 %"} <= set(said)
    ticks = [label.get_text() for label in figure.axes[0].get_yticklabels()]
    assert ticks[0] == "wind" and ticks[2] == "wall"
    assert inside(figure)
    figure.draw_without_rendering()


@pytest.mark.parametrize("shares", [[0.0, 0.0], [0.3, 0.2], [-0.3, -0.2]])
def test_rankings_of_one_sign(shares: list[float]) -> None:
    axes = ranking_bars(["a", "b"], shares, title="x").axes[0]
    low, high = axes.get_xlim()
    assert low <= min(*shares, 0) * 100 and high >= max(*shares, 0) * 100


@pytest.mark.parametrize(("names", "shares"), [([], []), (["a"], [0.1, 0.2])])
def test_nothing_to_rank(names: list[str], shares: list[float]) -> None:
    with pytest.raises(ValueError, match="ranking"):
        ranking_bars(names, shares, title="x")


def test_a_curve() -> None:
    bury = Parameter("bury", "m", (0.5, 0.7, 0.9, 1.1))
    figure = curve_or_map(
        [bury], [2.0, np.nan, 0.9, 0.7], quantity="utilisation", unit="", title="By bury", limit=1.0
    )
    (curve,) = figure.findobj(lambda artist: artist.get_gid() == "curve")
    np.testing.assert_array_equal(curve.get_xdata(), bury.values)
    np.testing.assert_array_equal(curve.get_ydata(), [2.0, np.nan, 0.9, 0.7])
    said = words(figure)
    assert "bury, m" in said and "utilisation" in said
    assert {"2.00", "0.90", "0.70", "no answer", "limit 1"} <= set(said)


def test_a_long_curve_tells_its_ends_and_extremes() -> None:
    x = np.linspace(0, 3, 40)
    figure = curve_or_map(
        [Parameter("x", "", x)], np.sin(2 * x), quantity="y", unit="m", title="Sine", digits=3
    )
    told = [text.get_text() for text in figure.axes[0].texts]
    y = np.sin(2 * x)
    assert sorted(told) == sorted(f"{v:.3f}" for v in (y[0], y[-1], y.max(), y.min()))


def test_a_map() -> None:
    sides = [Parameter("diameter", "mm", (80, 90, 100)), Parameter("wall", "mm", (3, 4))]
    values = np.array([[2.0, 1.5], [1.2, 0.9], [0.8, np.nan]])
    figure = curve_or_map(sides, values, quantity="utilisation", unit="", title="By size", limit=1.0)
    cells = {}
    for i in range(3):
        for j in range(2):
            (cells[i, j],) = figure.findobj(lambda artist, gid=f"cell {i} {j}": artist.get_gid() == gid)
    assert cells[2, 0].get_xy() == (1.5, -0.5)
    over = {where for where, cell in cells.items() if cell.get_hatch()}
    assert over == {(0, 0), (0, 1), (1, 0), (2, 1)}
    # the greater, the darker
    light = {where: sum(cell.get_facecolor()[:3]) for where, cell in cells.items()}
    assert light[0, 0] < light[0, 1] < light[1, 0] < light[2, 0]
    said = words(figure)
    assert {"2.00", "0.90", "none", "diameter, mm", "wall, mm"} <= set(said)


def test_a_large_map_has_no_numbers_in_its_cells() -> None:
    sides = [Parameter("a", "", range(30)), Parameter("b", "", range(20))]
    figure = curve_or_map(sides, np.ones((30, 20)), quantity="q", unit="N", title="Large")
    assert not [text for text in words(figure) if text == "1.00"]
    assert inside(figure)


@pytest.mark.parametrize("shape", [(2,), (3, 2), (3, 1, 1), ()])
def test_values_of_another_shape_are_refused(shape: tuple[int, ...]) -> None:
    with pytest.raises(ValueError, match="one parameter"):
        curve_or_map([Parameter("a", "", (1, 2, 3))], np.ones(shape), quantity="q", unit="", title="x")


def test_they_stand_in_a_page_too() -> None:
    def make() -> Figure:
        return ranking_bars(["a"], [0.1], title="Ranked")

    assert svg_of(Drawn("rank", "Ranked", "a 10 %", make)) == svg_of(Drawn("rank", "Ranked", "a 10 %", make))


def test_shares_of_a_whole_have_no_sign() -> None:
    figure = ranking_bars(["wall", "wind"], [0.1, 0.4], title="x", signed=False, notes=["What it is."])
    assert {"40.0 %", "10.0 %", "What it is."} <= set(words(figure))


def test_a_mast_that_fails_says_so_among_those_that_pass() -> None:
    def mast(material: str, passed: bool) -> SimpleNamespace:
        sizes = {"mass_kg": 20.0, "widest_m": 0.1, "tip_m": 0.5, "ballast_kg": 90.0}
        return SimpleNamespace(material=material, construction="tubes", passed=passed, **sizes)

    left = SimpleNamespace(material="lead")
    found: Any = SimpleNamespace(
        title="A boat", masts=(mast("thin", False), mast("stout", True)), none=(left,), finished=True
    )
    drawn = compare_figure(found)
    with look():
        figure = drawn.make()
    ticks = [label.get_text() for label in figure.axes[0].get_yticklabels()]
    assert ticks == ["thin, tubes, FAILS", "stout, tubes"]
    assert "thin, tubes, FAILS: mass 20.0 kg" in drawn.said
    assert any("ballast that makes up" in word for word in words(figure))
    assert any("No mast of lead passes." in word for word in words(figure))
    us = compare_figure(found, us=True)
    # 20 kg, 100 mm, 0.5 m and 90 kg, by the definitions of pound and inch
    assert "mass 44.1 lb, widest 3.94 in, tip goes 1.64 ft, costs in ballast 198 lb" in us.said
    with look():
        assert {axes.get_xlabel() for axes in us.make().axes} == {"lb", "in", "ft"}
