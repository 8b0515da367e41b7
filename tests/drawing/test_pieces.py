"""Hatches, spread labels, breaks and boxes, each against what it must keep."""

from __future__ import annotations

import itertools
import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcalc.reports.drawing.axis import GAP_MM, SCALES, broken_axis, spread
from rigcalc.reports.drawing.blocks import tables, wrap
from rigcalc.reports.drawing.dxf import encoded
from rigcalc.reports.drawing.hatching import PATTERNS, hatch_lines, hatch_of
from rigcalc.reports.drawing.scene import (
    HATCHING,
    MAST,
    Arc,
    Hatch,
    Rule,
    Text,
    box_of,
    box_of_all,
    moved,
    text_width,
)

places = st.lists(st.floats(0.0, 300.0), min_size=1, max_size=25)


def circle(radius: float, sides: int = 360) -> tuple[tuple[float, float], ...]:
    return tuple(
        (radius * math.cos(2 * math.pi * k / sides), radius * math.sin(2 * math.pi * k / sides))
        for k in range(sides)
    )


@given(st.floats(0.0, 179.0), st.floats(0.05, 0.4), st.floats(5.0, 30.0))
def test_hatch_lines_fill_a_ring(angle: float, spacing: float, radius: float) -> None:
    """Length times spacing is the area, and every line lies in the ring."""
    bore = 0.6 * radius
    lines = hatch_lines(Hatch(HATCHING, (circle(radius), circle(bore)), (Rule(angle, spacing),)))
    length = sum(math.dist(line.start, line.end) for line in lines)
    assert length * spacing == pytest.approx(math.pi * (radius**2 - bore**2), rel=0.03)
    for line in lines:
        x, y = ((a + b) / 2 for a, b in zip(line.start, line.end, strict=True))
        assert bore * 0.99 <= math.hypot(x, y) <= radius
        lean = math.degrees(math.atan2(line.end[1] - line.start[1], line.end[0] - line.start[0])) % 180.0
        assert min(abs(lean - angle), 180.0 - abs(lean - angle)) < 1e-3


def test_each_kind_of_material_has_a_pattern_of_its_own() -> None:
    square = ((0.0, 0.0), (20.0, 0.0), (20.0, 20.0), (0.0, 20.0))
    drawn = {kind: tuple(hatch_lines(hatch_of(kind, square))) for kind in PATTERNS}
    assert len(set(drawn.values())) == len(PATTERNS) == 5
    assert all(len(lines) > 8 for lines in drawn.values())
    mirrored = {
        kind: tuple(hatch_lines(hatch_of(kind, square, mirrored=True))) for kind in ("metal", "timber")
    }
    assert all(mirrored[kind] != drawn[kind] for kind in mirrored)


def test_dashes_leave_as_much_as_they_draw() -> None:
    square = ((0.0, 0.0), (60.0, 0.0), (60.0, 60.0), (0.0, 60.0))
    whole, dashed = (
        sum(
            math.dist(line.start, line.end)
            for line in hatch_lines(Hatch(HATCHING, (square,), (Rule(0.0, 1.0, 0.0, dash),)))
        )
        for dash in (0.0, 1.5)
    )
    assert dashed == pytest.approx(whole / 2, rel=0.01)


@given(places)
def test_labels_keep_their_order_and_distance(wanted: list[float]) -> None:
    wanted = sorted(wanted)
    found = spread(wanted, apart=4.0, low=0.0, high=300.0)
    assert found is not None
    assert all(b - a >= 4.0 - 1e-9 for a, b in itertools.pairwise(found))
    assert found[0] >= -1e-9
    assert found[-1] <= 300.0 + 1e-9
    if all(b - a >= 4.0 for a, b in itertools.pairwise(wanted)):
        assert found == pytest.approx(wanted)


@given(places, st.integers(0, 2**32 - 1))
def test_no_other_places_are_nearer(wanted: list[float], seed: int) -> None:
    wanted = sorted(wanted)
    found = spread(wanted, apart=4.0, low=0.0, high=300.0)
    assert found is not None
    cost = sum((a - b) ** 2 for a, b in zip(found, wanted, strict=True))
    chance = random.Random(seed)
    for size in (0.01, 0.3, 5.0):
        other = sorted(p + chance.uniform(-size, size) for p in found)
        if all(b - a >= 4.0 for a, b in itertools.pairwise(other)) and other[0] >= 0 and other[-1] <= 300:
            assert sum((a - b) ** 2 for a, b in zip(other, wanted, strict=True)) >= cost - 1e-6


def test_too_many_labels_find_no_room() -> None:
    assert spread([5.0] * 10, apart=4.0, low=0.0, high=36.0) is not None
    assert spread([5.0] * 11, apart=4.0, low=0.0, high=36.0) is None


@given(
    st.lists(st.floats(0.0, 9.0), min_size=0, max_size=8),
    st.floats(150.0, 560.0),
    st.floats(1.0, 8.0),
)
def test_a_broken_view_shows_what_it_must_at_one_scale(
    heights: list[float], width: float, least: float
) -> None:
    must = [(0.0, 0.0), (9.0, 9.0), *((z, z) for z in heights)]
    axis = broken_axis(must, 0.0, 9.0, width_mm=width, least=least)
    assert axis is not None
    assert axis.scale in SCALES
    assert axis.scale >= least
    assert axis.length_mm <= width + 1e-6
    drawn = sum(high - low for low, high in axis.stretches_m) * 1e3 / axis.scale
    assert axis.length_mm == pytest.approx(drawn + GAP_MM * (len(axis.stretches_m) - 1))
    for z, _ in must:
        assert axis.shows(z)
    order = [axis.x(z) for z, _ in sorted(must)]
    assert order == sorted(order)
    for (_, below), (above, _) in zip(axis.stretches_m, axis.stretches_m[1:], strict=False):
        assert above - below > 2 * GAP_MM * axis.scale / 1e3 * 0.999  # a break saves more than it costs
        assert not axis.shows((below + above) / 2)
        with pytest.raises(ValueError, match="lies in a break"):
            axis.x((below + above) / 2)


def test_a_short_mast_needs_no_break() -> None:
    axis = broken_axis([(0.0, 0.0), (1.0, 1.0)], 0.0, 1.0, width_mm=300.0, least=5.0)
    assert axis is not None
    assert not axis.broken
    assert (axis.scale, axis.length_mm) == (5.0, 200.0)


@pytest.mark.parametrize(
    ("ends", "box"),
    [
        ((0.0, 90.0), (0.0, 0.0, 2.0, 2.0)),
        ((45.0, 135.0), (-math.sqrt(2), math.sqrt(2), math.sqrt(2), 2.0)),
        ((270.0, 450.0), (0.0, -2.0, 2.0, 2.0)),
        ((10.0, 20.0), (1.879385, 0.347296, 1.969616, 0.684040)),
    ],
)
def test_the_box_of_an_arc(ends: tuple[float, float], box: tuple[float, ...]) -> None:
    assert box_of(Arc(MAST, (0.0, 0.0), 2.0, *ends)) == pytest.approx(box, abs=1e-5)


def test_the_box_of_a_text_turns_with_it() -> None:
    flat, upright = (Text(MAST, (10.0, 20.0), "12345", 2.5, "left", upright=turn) for turn in (False, True))
    (a, b, c, d), (e, f, g, h) = box_of(flat), box_of(upright)
    assert c - a == pytest.approx(h - f) == pytest.approx(text_width("12345"))
    assert d - b == pytest.approx(g - e)
    assert (a, f) == (10.0, 20.0)
    assert box_of(Text(MAST, (10.0, 20.0), "12345", 2.5, "right"))[2] == pytest.approx(10.0)


@given(st.floats(-50, 50), st.floats(-50, 50))
def test_what_is_moved_keeps_its_size(dx: float, dy: float) -> None:
    hatch = hatch_of("metal", circle(3.0, 12))
    before, after = box_of(hatch), box_of(moved(hatch, dx, dy))
    assert after == pytest.approx((before[0] + dx, before[1] + dy, before[2] + dx, before[3] + dy))
    lines, others = hatch_lines(hatch), hatch_lines(moved(hatch, dx, dy))
    assert [line.start for line in others] == [
        pytest.approx((line.start[0] + dx, line.start[1] + dy)) for line in lines
    ]


@given(st.text(alphabet=st.sampled_from("ab cdW-9é "), max_size=200), st.floats(8.0, 90.0))
def test_wrapped_lines_fit_and_lose_nothing(text: str, width: float) -> None:
    lines = wrap(text, width)
    assert all(text_width(line) <= width or len(line) == 1 for line in lines)
    assert "".join("".join(lines).split()) == "".join(text.split())


def test_a_long_table_goes_on_in_another() -> None:
    rows = [[f"{i}", "a text that is long enough to be wrapped"] for i in range(40)]
    blocks = tables("t", "Title", ["no.", "what"], rows, tallest=80.0, widest=(20.0, 40.0))
    assert len(blocks) > 1
    assert all(block.height <= 80.0 for block in blocks)
    texts = [item.text for block in blocks for item in block.items if isinstance(item, Text)]
    assert [t for t in texts if t.isdigit()] == [f"{i}" for i in range(40)]
    assert texts.count("no.") == len(blocks)
    assert "Title, continued" in texts
    for block in blocks:
        assert box_of_all(block.items) == pytest.approx((0.0, 0.0, block.width, block.height))


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("Ø88.9 × 3", "%%c88.9 x 3"),
        ("15°", "%%d"),
        ("12 %", "12 %"),
        ("50 %% off", "50 %%%%%% off"),
        ("\u8239", "\\U+8239"),
        ("\U0001f6a2", "\\U+D83D\\U+DEA2"),
    ],
)
def test_texts_in_dxf_are_ascii(text: str, written: str) -> None:
    assert written in encoded(text)
    assert encoded(text).isascii()
