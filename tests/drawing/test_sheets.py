"""What stands on the sheets: nothing over anything else, nothing outside, and the figures of the rig file."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

import matplotlib.font_manager
import pytest
from matplotlib.textpath import TextPath

from rigcalc import check, read_rig
from rigcalc.errors import RigInputError
from rigcalc.reports.drawing import PAPERS, UNAPPROVED, drawing_of
from rigcalc.reports.drawing.along import broken_view, full_view
from rigcalc.reports.drawing.cuts import cut_views, cuts_of
from rigcalc.reports.drawing.plot import CAPITAL
from rigcalc.reports.drawing.profile import profile_of
from rigcalc.reports.drawing.scene import (
    DIAMETERS,
    HEIGHTS,
    LEAST_TEXT_MM,
    MAST,
    PLUGS,
    SLEEVES,
    Circle,
    Drawing,
    Line,
    box_of,
    text_width,
)
from rigcalc.reports.drawing.wording import Wording
from rigcalc.rigfile import starter_text

from . import RIGS, drawn, of_each, of_each_example, rig_of, said, texts

HAIR = 1e-6
MM = Wording("metric")


def mm(metres: float | None) -> str:
    """Return a size as the rig file would have it in millimetres."""
    assert metres is not None
    return f"{round(metres * 1e3, 2):g}"


# ---------------------------------------------------------------- fit


@of_each
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("shown_in", ["metric", "us"])
def test_no_text_leaves_the_frame_or_meets_another(name: str, paper: str, shown_in: str) -> None:
    drawing = drawn(name, paper, "us" if shown_in == "us" else "metric")
    for sheet in drawing.sheets:
        left, bottom, right, top = sheet.frame
        boxes = [(text.text, box_of(text)) for text in texts(sheet)]
        for text, box in boxes:
            assert left - HAIR <= box[0] <= box[2] <= right + HAIR, text
            assert bottom - HAIR <= box[1] <= box[3] <= top + HAIR, text
        for (one, a), (other, b) in combinations(boxes, 2):
            apart = a[2] <= b[0] + HAIR or b[2] <= a[0] + HAIR or a[3] <= b[1] + HAIR or b[3] <= a[1] + HAIR
            assert apart, (one, other)


@of_each
def test_everything_is_drawn_inside_the_frame(name: str) -> None:
    for sheet in drawn(name).sheets:
        left, bottom, right, top = sheet.frame
        assert 0 < left < right < sheet.width
        assert 0 < bottom < top < sheet.height
        for item in sheet.items:
            box = box_of(item)
            assert left - HAIR <= box[0], item
            assert box[2] <= right + HAIR, item
            assert bottom - HAIR <= box[1], item
            assert box[3] <= top + HAIR, item


@of_each
def test_every_text_can_be_read_in_print(name: str) -> None:
    for sheet in drawn(name).sheets:
        assert min(text.height for text in texts(sheet)) >= LEAST_TEXT_MM >= 2.5


@of_each_example
def test_the_widths_that_texts_are_given_are_no_less_than_true(name: str) -> None:
    font = matplotlib.font_manager.FontProperties(family="DejaVu Sans")
    for sheet in drawn(name).sheets:
        for text in texts(sheet):
            path = TextPath((0.0, 0.0), text.text, size=text.height / CAPITAL, prop=font, usetex=False)
            assert path.get_extents().x1 <= text_width(text.text, text.height), text.text


def test_a_capital_is_as_high_as_is_said() -> None:
    font = matplotlib.font_manager.FontProperties(family="DejaVu Sans")
    assert TextPath((0.0, 0.0), "H", size=1.0, prop=font).get_extents().height == pytest.approx(
        CAPITAL, abs=1e-3
    )


@pytest.mark.parametrize("name", ["trailer_sailer_4m6", "stave_mast_6m"])
def test_lines_of_dimensions_do_not_run_through_texts(name: str) -> None:
    """Leaders of heights and sizes keep clear of every label in their own rows."""
    for sheet in drawn(name).sheets:
        labels = [box_of(t) for t in texts(sheet) if t.layer in (HEIGHTS, DIAMETERS) and t.upright]
        stems = [i for i in sheet.items if isinstance(i, Line) and i.layer in (HEIGHTS, DIAMETERS)]
        for line in stems:
            (x, y), (x2, y2) = line.start, line.end
            for step in range(11):
                px, py = x + (x2 - x) * step / 10, y + (y2 - y) * step / 10
                inside = [b for b in labels if b[0] < px < b[2] and b[1] < py < b[3]]
                assert not inside, line


def test_a_mast_with_more_heights_than_the_sheet_has_room_for_is_refused() -> None:
    stations = ", ".join(
        f'{{height = "{i * 56} mm", diameter = "{90 - i % 2} mm", wall = "3 mm"}}' for i in range(101)
    )
    start, end = (
        starter_text().index("stations = ["),
        starter_text().index("\n]\n", starter_text().index("stations")),
    )
    text = starter_text()[:start] + f"stations = [{stations}\n]" + starter_text()[end + 2 :]
    rig = read_rig(text)
    with pytest.raises(RigInputError) as refused:
        drawing_of(rig, check(rig), paper="A4")
    (problem,) = refused.value.problems
    assert problem.path == "--paper"
    assert "102 labels" in problem.allowed
    assert problem.remedy == "Take --paper A3."
    assert len(drawing_of(rig, check(rig), paper="A1").sheets) >= 1


# ---------------------------------------------------------------- words


@of_each
def test_cautions_and_what_it_is_not_approved_for(name: str) -> None:
    rig, result = rig_of(name)
    drawing = drawn(name)
    first = " ".join(text.text for text in texts(drawing.sheets[0]))
    for caution in result.cautions:
        assert caution in first
    for sheet in drawing.sheets:
        everything = " ".join(text.text for text in texts(sheet))
        assert UNAPPROVED == "not approved for construction"
        assert everything.count(UNAPPROVED) == 2
        assert "Reviewed by: ____" in everything
        assert "Signature: ____" in everything
        assert "Date: ____" in everything
        assert result.cautions[0] in everything
        assert result.cautions[1] in everything
        assert rig.title in everything


@of_each
def test_scales_and_materials_stand_in_the_title_block(name: str) -> None:
    rig, _ = rig_of(name)
    words = said(drawn(name))
    material, scales = re.search(r"Material: (.*?) Scales: (.*?); sizes in mm", words).groups()  # type: ignore[union-attr]
    assert rig.mast.material in material
    for view in ("Mast in section, ", "Whole mast, ", "A - A, "):
        scale = re.search(view + r"(1:[\d.]+)", words)
        assert scale
        assert scale[1] in re.findall(r"1:[\d.]+", scales)
    assert "along and across" in words


def test_a_mast_that_fails_is_said_to() -> None:
    text = starter_text().replace('wall = "3 mm"', 'wall = "1.2 mm"')
    rig = read_rig(text)
    result = check(rig)
    assert not result.passed
    failed = sum(not c.passed for c in result.checks)
    words = said(drawing_of(rig, result))
    assert f"{failed} of {len(result.checks)} checks FAIL: not to be built as drawn" in words
    assert "checks pass" not in words


@of_each_example
def test_a_mast_that_passes_is_said_to(name: str) -> None:
    _, result = rig_of(name)
    assert f"all {len(result.checks)} checks pass" in said(drawn(name))


# ---------------------------------------------------------------- figures


def labels_of(drawing: Drawing, layer: object) -> list[str]:
    return [t.text for sheet in drawing.sheets for t in texts(sheet) if t.layer == layer and t.upright]


def heights_wanted(name: str) -> set[str]:
    """Return the heights that the rig file names on the mast, in millimetres."""
    rig, _ = rig_of(name)
    mast = rig.mast
    found = {0.0, mast.bury_m, mast.length_m, *(s.height_m for s in mast.stations)}
    for stretch in (*mast.sleeve, *mast.plug, *mast.sheath):
        found |= {stretch.start_m, stretch.end_m}
    for plug in mast.plug:
        found |= {plug.start_m - plug.tail_m} if plug.start_m > 0 else set()
        found |= {plug.end_m + plug.tail_m} if plug.end_m < mast.length_m else set()
    found |= {o.height_m for o in mast.opening} | {w.height_m for w in mast.weld}
    if mast.post is not None:
        found |= {-(mast.post.socket_m or 0.0)}
    laid = {laminate.name: laminate.plies for laminate in rig.laminates}
    runs = [(laid[mast.material], 0.0, mast.length_m)] if mast.material in laid else []
    runs += [(laid[s.laminate], s.start_m, s.end_m) for s in mast.sheath]
    for plies, low, high in runs:
        found |= {z for p in plies for z in (p.start_m, p.end_m) if z is not None and low < z < high}
    return {mm(z) for z in found}


@of_each
def test_every_height_is_written_and_no_other(name: str) -> None:
    written = {text.split()[0] for text in labels_of(drawn(name), HEIGHTS)}
    assert written == heights_wanted(name)


@of_each
def test_diameters_and_walls_are_those_of_the_file(name: str) -> None:
    rig, _ = rig_of(name)
    words = said(drawn(name))
    sizes = labels_of(drawn(name), DIAMETERS)
    for station in rig.mast.stations:
        if station.bore_m is not None:
            assert mm(station.bore_m) in words.split()
            continue
        assert station.diameter_m is not None
        outside = {
            "round": f"Ø{mm(station.diameter_m)}",
            "box": f"{mm(station.diameter_m)} by {mm(station.breadth_m or station.diameter_m)}",
            "staves": f"{mm(station.diameter_m)} A/F"
            if rig.mast.outside == "flat"
            else f"Ø{mm(station.diameter_m)}",
        }[rig.mast.shape]
        wall = "solid" if station.wall_m is None else f"× {mm(station.wall_m)}"
        assert f"{outside} {wall}" in sizes


def test_sizes_of_a_laminate_are_those_of_its_plies() -> None:
    """By hand, as in the worked note: each ply is its dry mass over fibre density and fibre share."""
    rig, _ = rig_of("glass_tube_5m")
    profile = profile_of(rig)
    base = profile.tube.around(0.0)
    head = profile.tube.around(5.0)
    assert base is not None and head is not None
    glass = profile.tube.wall_m(base)
    # 8 plies of 200 g/m2 and 9 of 500 at the heel; 4 of 500 at the head
    assert glass / profile.tube.wall_m(head) == pytest.approx((8 * 0.2 + 9 * 0.5) / (8 * 0.2 + 4 * 0.5))
    assert base.inner == pytest.approx(0.084)
    assert f"Ø{mm(base.outer)} × {mm(glass)}" in labels_of(drawn("glass_tube_5m"), DIAMETERS)


def test_every_ply_stands_in_the_table_in_its_turn() -> None:
    rig, _ = rig_of("glass_tube_5m")
    words = said(drawn("glass_tube_5m"))
    number = 0
    for lot in rig.laminates[0].plies:
        for _ in range(lot.count):
            number += 1
            assert lot.areal_mass_kg_m2 is not None
            row = (
                rf"\b{number} E-glass/epoxy UD 0\.45 {math.degrees(lot.angle_rad):.0f}° "
                rf"{lot.areal_mass_kg_m2 * 1e3:.0f} g/m2 0\.\d+ {mm(lot.start_m)} {mm(lot.end_m or 5.0)}\b"
            )
            assert re.search(row, words), row
    assert number == 17


def test_a_stave_by_hand() -> None:
    """Twelve staves of 132 mm: face 132 tan 15 deg, bevel 15 deg; the bore's corners stand 26 mm inside."""
    words = said(drawn("stave_mast_6m"))
    face = 132 * math.tan(math.radians(15))
    bore = (132 - 2 * 26) * math.cos(math.radians(15))
    inner = bore * math.tan(math.radians(15))
    corner = 66 * (1 / math.cos(math.radians(15)) - 1)
    row = f"900 {face:.2f} {inner:.2f} {(132 - bore) / 2:.2f} {corner:.2f} 15°"
    assert row in words
    assert "12 off" in words
    assert f"{face:.2f} face" in words
    assert "bevel 15°" in words


def test_inches_are_inches() -> None:
    drawing = drawn("trailer_sailer_4m6", "A3", "us")
    assert {"Ø4 × 0.226", "Ø3.5 × 0.12"} <= set(labels_of(drawing, DIAMETERS))
    assert {"35.43", "125.98", "267.72"} <= {t.split()[0] for t in labels_of(drawing, HEIGHTS)}
    assert "sizes in inches" in said(drawing)


@pytest.mark.parametrize("paper", PAPERS)
def test_there_is_room_to_sign_on_one_line(paper: str) -> None:
    for sheet in drawn("trailer_sailer_4m6", paper).sheets:
        (line,) = (text.text for text in texts(sheet) if text.text.startswith("Signature: "))
        assert re.fullmatch(r"Signature: _{10,} +Date: _{10,}", line)
        assert not any(set(text.text) == {"_"} for text in texts(sheet))


def test_the_lengths_to_cut_are_told() -> None:
    """By hand from the file: the upper pipe stands 400 mm down in the lower, one piece with that tail."""
    words = said(drawn("trailer_sailer_4m6"))
    assert "tube 1 0 to 3200 3200 Ø101.6 × 5.74 6061-T6 extruded" in words
    assert "tube 2 2800 to 6800 4000 Ø88.9 × 3.05 6061-T6 extruded" in words
    assert "sleeve 1 2800 to 3200 400 Ø88.9 × 3.05, packed to 0.2 play: the tail of tube 2" in words


def test_a_sleeve_of_its_own_is_no_tail() -> None:
    rig, _ = rig_of("trailer_sailer_4m6")
    (sleeve,) = rig.mast.sleeve
    own = replace(rig, mast=replace(rig.mast, sleeve=(replace(sleeve, diameter_m=0.0881),)))
    words = said(drawing_of(own, check(own)))
    assert "tube 2 3200 to 6800 3600 Ø88.9" in words
    assert "Ø88.1 × 3.05, packed to 0.2 play 6061" in words
    assert "tail of tube" not in words


def test_a_plug_is_as_long_as_its_tail_reaches() -> None:
    words = said(drawn("stave_mast_6m"))
    assert "plug 1 0 to 2100 2400 fills the bore, tail 300" in words
    assert "plug 2 6600 to 6900 450 fills the bore, tail 150" in words


# ---------------------------------------------------------------- to scale


def circles(items: tuple[object, ...], *layers: object) -> list[float]:
    return sorted(i.radius for i in items if isinstance(i, Circle) and i.layer in layers)


def test_sections_have_their_true_radii() -> None:
    rig, _ = rig_of("trailer_sailer_4m6")
    cuts = cuts_of(profile_of(rig))
    assert [(c.letter, c.heights_m, c.why) for c in cuts] == [
        ("A", (0.0,), "heel"),
        ("B", (0.9,), "partners"),
        ("C", (3.0,), "sleeve 1"),
        ("D", (6.8,), "head"),
    ]
    for scale in (1.0, 2.5):
        views = cut_views(cuts, MM, scale=scale)
        lower = [(101.6 - 2 * 5.74) / 2 / scale, 101.6 / 2 / scale]
        upper = [(88.9 - 2 * 3.05) / 2 / scale, 88.9 / 2 / scale]
        wanted = [lower, lower, lower, upper]
        for view, radii in zip(views, wanted, strict=True):
            assert circles(view.items, MAST) == pytest.approx(radii)
        assert circles(views[2].items, SLEEVES) == pytest.approx(upper)


@of_each_example
def test_sections_on_the_sheet_are_at_the_scale_they_say(name: str) -> None:
    """The widest circle under each heading is the outside of what is cut there."""
    rig, _ = rig_of(name)
    scale = float(re.search(r"A - A, 1:([\d.]+)", said(drawn(name)))[1])  # type: ignore[index]
    radii = [
        item.radius
        for sheet in drawn(name).sheets
        for item in sheet.items
        if isinstance(item, Circle) and item.layer in (MAST, PLUGS)
    ]
    for station in (rig.mast.stations[0], rig.mast.stations[-1]):
        size = station.diameter_m
        if size is not None:
            assert any(r == pytest.approx(size * 1e3 / 2 / scale) for r in radii)


@of_each
def test_the_mast_in_section_is_to_scale_along_and_across(name: str) -> None:
    rig, _ = rig_of(name)
    profile = profile_of(rig)
    view, axis = broken_view(profile, MM, width=380.0, tallest=30.0)
    outlines = [i for i in view.items if isinstance(i, Line) and i.layer == MAST]
    (middle,) = {
        round((max(y) + min(y)) / 2, 6) for y in [[p[1] for i in outlines for p in (i.start, i.end)]]
    }
    assert outlines
    for low, high in axis.stretches_m:
        assert axis.x(high) - axis.x(low) == pytest.approx((high - low) * 1e3 / axis.scale)
    widest = max(p[1] for i in outlines for p in (i.start, i.end)) - middle
    most = max(s.outer for run in profile.tube.runs for s in (run.at_start, run.at_end))
    shown = max(
        s.outer for z in profile.size_heights_m for s in (profile.tube.below(z), profile.tube.above(z)) if s
    )
    assert shown == most
    assert widest == pytest.approx(most * 1e3 / axis.scale / 2)
    assert view.width <= 380.0 + HAIR


@of_each
def test_heights_in_the_section_lead_to_their_places(name: str) -> None:
    """The leader of each height starts where the axis has it, as far from the heel's as the scale asks for."""
    rig, _ = rig_of(name)
    profile = profile_of(rig)
    view, axis = broken_view(profile, MM, width=380.0, tallest=30.0)
    # arrows and leaders: the first line of a leader is the one that runs straight up from the mast
    up = {
        round(i.start[0], 6)
        for i in view.items
        if isinstance(i, Line) and i.layer == HEIGHTS and abs(i.start[0] - i.end[0]) < HAIR
    }
    places = [axis.x(mark.height_m) for mark in profile.marks]
    shift = min(up) - min(places)
    for place in places:
        assert any(abs(place + shift - x) < 1e-5 for x in up)


@of_each
def test_the_whole_mast_is_shown_whole(name: str) -> None:
    rig, _ = rig_of(name)
    profile = profile_of(rig)
    _, axis = full_view(profile, MM, [("A", 0.0)], width=380.0)
    assert not axis.broken
    assert axis.shows(0.0)
    assert axis.shows(rig.mast.length_m)
    assert axis.x(rig.mast.length_m) - axis.x(0.0) == pytest.approx(rig.mast.length_m * 1e3 / axis.scale)


def test_long_even_stretches_are_broken_out_and_said_to_be() -> None:
    for name in RIGS:
        words = said(drawn(name))
        assert "broken where straight or evenly tapered" in words
        assert "At a break the two ends" in words


# ---------------------------------------------------------------- what is cut and what is not


def sure_cuts(name: str) -> Iterator[float]:
    rig, _ = rig_of(name)
    yield from (0.0, rig.mast.bury_m, rig.mast.length_m)
    yield from ((s.start_m + s.end_m) / 2 for s in rig.mast.sleeve)


@of_each
def test_heel_partners_joints_and_head_are_cut(name: str) -> None:
    cuts = cuts_of(profile_of(rig_of(name)[0]))
    heights = [z for cut in cuts for z in cut.heights_m]
    for z in sure_cuts(name):
        assert any(abs(z - h) < 1e-9 for h in heights)
    assert len({cut.letter for cut in cuts}) == len(cuts)


@of_each
def test_everything_inside_the_mast_is_in_some_section(name: str) -> None:
    profile = profile_of(rig_of(name)[0])
    shown = {part.name for cut in cuts_of(profile) for part, _ in cut.parts}
    assert shown == {part.name for part in profile.parts}


def test_the_hollow_part_of_a_plugged_mast_is_cut() -> None:
    cuts = cuts_of(profile_of(rig_of("stave_mast_6m")[0]))
    hollow = [cut for cut in cuts if [part.name for part, _ in cut.parts] == ["tube"]]
    assert len(hollow) == 1
    assert 2.1 < hollow[0].heights_m[0] < 6.6


def test_a_bearing_that_is_not_described_is_said_to_be_a_symbol() -> None:
    note = "are symbols: the file does not give its size"
    assert note in said(drawn("sharpie_5m2"))
    assert note not in said(drawn("trailer_sailer_4m6"))


def test_a_bush_goes_round_what_covers_the_mast() -> None:
    """Bore of the bush: 95 mm of wood, two sides of glass, and the clearance."""
    rig, _ = rig_of("sheathed_mast_5m")
    bush = replace(
        rig.bearings.partners,
        kind="plain",
        material="acetal",
        wall_m=0.008,
        clearance_m=0.0007,
        length_m=0.06,
    )
    rig = replace(rig, bearings=replace(rig.bearings, partners=bush))
    profile = profile_of(rig)
    sheath = next(p for p in profile.parts if p.name == "sheath 1").around(0.6)
    assert sheath is not None
    seat = next(s for s in profile.seats if s.name == "partners")
    assert seat.outer_m is not None
    assert seat.inner_m == pytest.approx(sheath.outer + 0.0007)
    assert seat.inner_m > 0.0963
    assert seat.outer_m - seat.inner_m == pytest.approx(0.016)


def test_on_a_post_the_bearings_stand_inside() -> None:
    profile = profile_of(rig_of("post")[0])
    step, partners = profile.seats
    assert step.inside and partners.inside
    assert (step.inner_m, partners.inner_m) == pytest.approx((0.086, 0.080))
    assert step.outer_m == pytest.approx(0.1016 - 2 * 0.0057)
    assert profile.lowest_m == pytest.approx(-0.4)
    assert "-400 post from" in said(drawn("post"))
