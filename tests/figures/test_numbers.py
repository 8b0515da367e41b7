"""What the figures show is what the result says: in their words, and in what is drawn."""

from __future__ import annotations

import math
from functools import cache
from typing import Any

import numpy as np
import pytest
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import FancyArrowPatch, PathPatch, Rectangle
from matplotlib.text import Text

from rigcalc import check
from rigcalc.design import reefing_table
from rigcalc.reports.figures import Drawn, figures_of
from rigcalc.reports.figures.boat import arrow_scale
from rigcalc.reports.figures.pulls import FORWARD, SIDE, pulls
from rigcalc.reports.figures.record import Scene
from rigcalc.reports.figures.section import cuts, lots_of, outline
from rigcalc.rigfile import read_rig

from . import EXAMPLES, FLAT, GUST, MOMENTS, ODD, ROLLS, example, rig_text

G = 9.80665
ALL = [*EXAMPLES, *ODD]
STANDING = [name for name in ALL if name != "slung only"]


@cache
def scene(name: str) -> Scene:
    return Scene(*example(name), "metric")


@cache
def figure(name: str, kind: str) -> tuple[Drawn, Figure]:
    (drawn,) = figures_of(*example(name), names=[kind])
    return drawn, drawn.make()


def has(name: str, kind: str) -> bool:
    return bool(figures_of(*example(name), names=[kind]))


def by_gid(of: Figure | Axes, gid: str) -> Any:
    found = of.findobj(lambda artist: artist.get_gid() == gid)
    assert len(found) == 1, gid
    return found[0]


def line(of: Figure | Axes, gid: str) -> tuple[np.ndarray, np.ndarray]:
    artist = by_gid(of, gid)
    assert isinstance(artist, Line2D)
    return np.asarray(artist.get_xdata(), dtype=float), np.asarray(artist.get_ydata(), dtype=float)


# ---------------------------------------------------------------- boat


@pytest.mark.parametrize("name", STANDING)
@pytest.mark.parametrize("plane", [SIDE, FORWARD])
def test_the_forces_on_the_mast_balance(name: str, plane: int) -> None:
    of, length = scene(name), scene(name).rig.mast.length_m
    for i in of.standing:
        found = pulls(of, i, plane)
        most = max(of.case(i).partners_force_N, of.case(i).step_thrust_N)
        # those under half a percent of a bearing's force are not drawn, nine at the most
        slack = 0.005 * most * 9
        assert abs(sum(p.across_N for p in found)) < slack
        assert abs(sum(p.along_N for p in found)) < slack
        assert abs(sum(p.across_N * p.height_m for p in found)) < slack * length
        swing = any(of.load(i).swing_rad_s2)
        assert any("swing" in p.name for p in found) <= swing


def test_the_weight_is_that_of_the_mast() -> None:
    result = check(rig := read_rig(rig_text(FLAT, stability=MOMENTS)))
    of = Scene(rig, result, "metric")
    (weight,) = [p for p in pulls(of, 0, SIDE) if p.name == "weight"]
    # level, and with the factor of the case
    assert weight.across_N == pytest.approx(1.5 * G * result.mast.mass_kg, rel=1e-9)
    assert weight.height_m == pytest.approx(result.mast.centre_of_gravity_m, rel=1e-9)
    assert weight.note == " (x 1.5)"


def test_lines_led_down_press_the_mast_as_the_file_says() -> None:
    rig = read_rig(rig_text(GUST, ROLLS, '[bearings]\nlines_down = "700 N"\n'))
    of = Scene(rig, check(rig), "metric")
    found = {p.name: p for p in pulls(of, 0, SIDE)}
    assert found["lines led down"].along_N == -700.0
    assert found["step"].along_N == pytest.approx(700.0 - found["weight"].along_N, rel=1e-6)


@pytest.mark.parametrize("name", STANDING)
def test_arrows_are_to_scale(name: str) -> None:
    of, (_, drawing) = scene(name), figure(name, "boat")
    i = of.standing[0]
    long = arrow_scale(of, i)
    for axes, plane in zip(drawing.axes, (FORWARD, SIDE), strict=True):
        arrows = axes.findobj(FancyArrowPatch)
        arrows = [a for a in arrows if a.get_gid()]
        expected = {f"{p.name} at {p.height_m:.6g}": p for p in pulls(of, i, plane)}
        assert {a.get_gid() for a in arrows} == set(expected)
        for arrow in arrows:
            tail, head = (np.array(end) for end in arrow._posA_posB)
            assert np.hypot(*(head - tail)) == pytest.approx(
                expected[arrow.get_gid()].size_N * long, rel=1e-9
            )
        assert axes.get_aspect() == 1.0
    # both views have one scale: as many metres to the inch
    drawing.draw_without_rendering()
    scales = [a.get_position().width * drawing.get_figwidth() / np.ptp(a.get_xlim()) for a in drawing.axes]
    assert scales[0] == pytest.approx(scales[1], rel=1e-6)


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_weight_hangs_straight_down_from_a_heeled_mast(name: str) -> None:
    of, (_, drawing) = scene(name), figure(name, "boat")
    load = of.load(of.standing[0])
    if any(load.swing_rad_s2):
        return
    astern = drawing.axes[1]
    (arrow,) = [a for a in astern.findobj(FancyArrowPatch) if (a.get_gid() or "").startswith("weight")]
    (x0, y0), (x1, y1) = arrow._posA_posB
    assert x1 == pytest.approx(x0, abs=1e-9 + 1e-6 * abs(y1 - y0))
    assert y1 < y0


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_boat_tells_the_forces_of_the_result(name: str) -> None:
    of, (drawn, _) = scene(name), figure(name, "boat")
    case = of.case(of.standing[0])
    assert f"'{case.name}'" in drawn.said
    for force in (case.partners_force_N, case.step_force_N, case.step_thrust_N):
        assert f" {force:.0f} N" in drawn.said


# ---------------------------------------------------------------- along, bent


@pytest.mark.parametrize("name", ALL)
def test_the_lines_along_the_mast_are_those_of_the_result(name: str) -> None:
    rig, result = example(name)
    _, drawing = figure(name, "along")
    names = result.stations.cases
    case = result.governing.case
    if case not in names:  # a check of furling governs no case
        return
    i, s = names.index(case), result.stations
    panels = drawing.axes[2:6]
    fields = [
        (s.shear_side_N, s.shear_forward_N, 1.0),
        (s.moment_side_N_m, s.moment_forward_N_m, 1.0),
        (s.slope_side_rad, s.slope_forward_rad, 1e3),
        (s.deflection_side_m, s.deflection_forward_m, 1.0),
    ]
    for axes, (side, forward, factor) in zip(panels, fields, strict=True):
        for gid, values in (("side", side), ("forward", forward)):
            x, z = line(axes, gid)
            np.testing.assert_allclose(x, factor * values[i], rtol=1e-12, atol=1e-12)
            np.testing.assert_array_equal(z, s.height_m)
    used, z = line(drawing.axes[6], "used")
    np.testing.assert_array_equal(used, s.utilisation[i])
    assert rig.mast.length_m <= drawing.axes[0].get_ylim()[1]


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_load_drawn_is_what_the_shear_makes_up(name: str) -> None:
    # above the partners the shear is the load outboard: line loads summed, point loads added
    of, (_, drawing) = scene(name), figure(name, "along")
    i, s = of.governing, of.result.stations
    x, _ = line(drawing.axes[1], "side")
    mesh = of.run.model.mesh
    above = float(mesh.total(np.where(mesh.z_m > of.rig.mast.bury_m, x.reshape(mesh.z_m.shape), 0.0)))
    from rigcalc.reports.figures.along import point_loads

    above += sum(side for height, side, _ in point_loads(of, i) if height > of.rig.mast.bury_m)
    first = int(np.flatnonzero(s.height_m == of.rig.mast.bury_m)[-1])
    # the first point of an element that starts there counts as half in, half out: no more than a point's share
    assert s.shear_side_N[i, first] == pytest.approx(above, rel=0.02, abs=1.0)


@pytest.mark.parametrize("name", EXAMPLES)
def test_along_tells_the_moment_of_the_result(name: str) -> None:
    of, (drawn, _) = scene(name), figure(name, "along")
    case = of.case(of.governing)
    assert f"{case.max_moment_N_m:.0f} N m" in drawn.said
    assert f"{case.tip_deflection_m:.3f} m" in drawn.said
    assert f"{of.result.governing.utilisation:.2f}" in drawn.said


@pytest.mark.parametrize("name", ALL)
def test_the_bent_mast_is_at_true_scale(name: str) -> None:
    of, (drawn, drawing) = scene(name), figure(name, "bent")
    (axes,) = drawing.axes
    assert axes.get_aspect() == 1.0
    drawing.draw_without_rendering()
    box = axes.get_position()
    wide = np.ptp(axes.get_xlim()) / (box.width * drawing.get_figwidth())
    tall = np.ptp(axes.get_ylim()) / (box.height * drawing.get_figheight())
    assert wide == pytest.approx(tall, rel=1e-6)
    i = of.governing
    case = of.case(i)
    x, z = line(axes, f"straight {i}")
    assert x[-1] == pytest.approx(case.tip_deflection_m, rel=1e-9)
    assert z[-1] == pytest.approx(of.rig.mast.length_m)
    assert f"{case.tip_deflection_m:.3f} m" in drawn.said
    if case.tip_deflection_large_m is not None:
        x, z = line(axes, f"bent {i}")
        # the bent mast keeps its length, and stands in the plane of the straight one to within a hair
        assert np.sum(np.hypot(np.diff(x), np.diff(z))) == pytest.approx(of.rig.mast.length_m, rel=2e-3)
        assert x[-1] == pytest.approx(case.tip_deflection_large_m, rel=5e-3)
        assert f"{case.tip_deflection_large_m:.3f} m" in drawn.said


@pytest.mark.parametrize("name", [name for name in EXAMPLES if has(name, "boat")])
def test_no_label_hides_the_force_of_a_bearing(name: str) -> None:
    """A label has a white ground: over an arrow it would cut it short."""
    _, drawing = figure(name, "boat")
    canvas = FigureCanvasAgg(drawing)
    canvas.draw()
    for axes in drawing.axes:
        arrows = axes.findobj(
            lambda artist: (
                isinstance(artist, FancyArrowPatch)
                and str(artist.get_gid()).startswith(("partners at", "step at"))
            )
        )
        boxes = [(t.get_text(), Text.get_window_extent(t, canvas.get_renderer())) for t in axes.texts]
        for arrow in arrows:
            ends = axes.transData.transform(np.array(arrow._posA_posB))
            along = ends[0] + np.linspace(0.0, 1.0, 60)[:, None] * (ends[1] - ends[0])
            for said, box in boxes:
                hidden = np.mean([box.contains(*point) for point in along])
                assert hidden < 0.06, (said, arrow.get_gid())


# ---------------------------------------------------------------- stability, reefing


@pytest.mark.parametrize("name", [name for name in ALL if has(name, "stability")])
def test_the_boat_settles_where_the_reefing_table_says(name: str) -> None:
    drawn, drawing = figure(name, "stability")
    heels, righting = line(drawing, "righting")
    table = reefing_table(example(name)[0])
    for state in table.states:
        assert state.name in drawn.said
        x, heeling = line(drawing, state.name)
        np.testing.assert_array_equal(x, heels)
        if state.heel_rad is not None and math.isfinite(state.heel_rad):
            settles = np.degrees(state.heel_rad)
            assert f"{state.name} {settles:.0f} deg" in drawn.said
            assert np.interp(settles, heels, righting) == pytest.approx(
                np.interp(settles, heels, heeling), rel=1e-3
            )
        else:
            assert f"{state.name} lays her over" in drawn.said or f"{state.name} more than" in drawn.said


def test_a_mast_that_has_enough_sooner_before_the_wind_says_so() -> None:
    """A label of "first" at 27 kn beside a bar of 26.7 kn would mislead."""
    drawn, drawing = figure("two_masted_cruiser_9m", "reefing")
    table = reefing_table(example("two_masted_cruiser_9m")[0])
    sooner = [
        state.name
        for state in table.states
        if state.running_m_s is not None and state.rm30_m_s is not None and state.running_m_s < state.rm30_m_s
    ]
    assert sooner == ["mainsail alone"]
    labels = [text.get_text() for text in drawing.axes[0].texts]
    assert [label for label in labels if "sooner" in label] == ["mast, running 26.7 kn, sooner"]
    assert sum(label.endswith(", first") for label in labels) == len(table.states)
    told = next(part for part in drawn.said.split(". ") if part.startswith("mainsail alone"))
    assert "the mast running sooner still" in told
    assert drawn.said.count("sooner") == 1


@pytest.mark.parametrize("name", [name for name in EXAMPLES if has(name, "reefing")])
def test_bars_of_the_reefing_table(name: str) -> None:
    drawn, drawing = figure(name, "reefing")
    for row, state in enumerate(reefing_table(example(name)[0]).states):
        for key in ("mast_m_s", "rm30_m_s", "rm_max_m_s", "running_m_s"):
            bar, wind = by_gid(drawing, f"{key} {row}"), getattr(state, key)
            assert isinstance(bar, Rectangle)
            # a knot is 1852 m an hour
            assert bar.get_width() == pytest.approx(0.0 if wind is None else wind * 3600 / 1852)
            assert ("not known" if wind is None else f"{wind * 3600 / 1852:.1f} kn") in drawn.said


# ---------------------------------------------------------------- compass, section, roll, utilisation


@pytest.mark.parametrize("name", EXAMPLES)
def test_forces_around_the_compass(name: str) -> None:
    drawn, drawing = figure(name, "compass")
    result = example(name)[1]
    assert result.turning is not None
    hull = {load.case: load for load in result.turning.hull}
    for case in result.cases:
        if case.kind == "lift":
            assert case.name not in drawn.said
            continue
        load = hull[case.name]
        assert f"{case.name} {case.partners_N:.0f} N" in drawn.said
        assert (load.partners_mast == "bent") == (case.partners_N > case.partners_force_N)
        for tack, sign in (("starboard", 1), ("port", -1)):
            angle, size = line(drawing, f"{tack} {case.name}")
            across, ahead = size[-1] * np.sin(angle[-1]), size[-1] * np.cos(angle[-1])
            assert across == pytest.approx(sign * load.partners_side_N, rel=1e-9, abs=1e-6)
            assert ahead == pytest.approx(load.partners_forward_N, rel=1e-9, abs=1e-6)
            if load.partners_mast == "straight":
                # the hull feels the opposite of what the mast does
                assert across == pytest.approx(-sign * case.partners_side_N, rel=1e-9, abs=1e-6)
                assert ahead == pytest.approx(-case.partners_forward_N, rel=1e-9, abs=1e-6)


@pytest.mark.parametrize("name", ["trailer_sailer_4m6", "two_masted_cruiser_9m"])
def test_rings_and_rays_of_the_compass_have_their_units(name: str) -> None:
    _, drawing = figure(name, "compass")
    (axes,) = (axes for axes in drawing.axes if axes.name == "polar")
    rings = [tick.get_text() for tick in axes.get_yticklabels()]
    assert rings and rings == [f"{ring:g} N" for ring in axes.get_yticks()]
    assert sum("deg" in tick.get_text() for tick in axes.get_xticklabels()) == 4


def test_the_sizes_beside_the_mast_are_named_for_what_they_are() -> None:
    for name, head in (("glass_tube_5m", "bore, mm"), ("trailer_sailer_4m6", "outside x wall, mm")):
        _, drawing = figure(name, "along")
        assert drawing.axes[0].get_title(loc="left") == head


@pytest.mark.parametrize("name", ALL)
def test_the_sections_are_to_scale(name: str) -> None:
    of, (drawn, drawing) = scene(name), figure(name, "section")
    found = cuts(of)
    assert found[0].height_m == of.rig.mast.bury_m
    assert len(drawing.axes) == len(found)
    for axes, cut in zip(drawing.axes, found, strict=True):
        assert axes.get_aspect() == 1.0
        for layer in cut.layers:
            patch = by_gid(axes, layer.name)
            assert isinstance(patch, PathPatch)
            corners = patch.get_path().vertices
            forward, side, *_ = cut.sizes_m(layer)
            if layer.shape.kind != "polygon":  # corners stand outside the flats
                assert np.ptp(corners[:, 0]) == pytest.approx(1e3 * side, rel=1e-3)
                assert np.ptp(corners[:, 1]) == pytest.approx(1e3 * forward, rel=1e-3)
            assert layer.made_of.name in drawn.said
            # the outlines enclose the area that the strength is worked out with
            area = sum(_area(piece) for piece in patch.get_path().to_polygons())
            whole = np.broadcast_to(layer.shape.area_m2, layer.outer_m.shape)[cut.place]
            assert abs(area) * 1e-6 == pytest.approx(whole, rel=2e-3 if layer.outer_m[cut.place] else 1)
    widths = {np.ptp(axes.get_ylim()) for axes in drawing.axes}
    assert max(widths) == pytest.approx(min(widths))


def _area(corners: np.ndarray) -> float:
    x, y = corners.T
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) / 2)


def test_a_flat_of_a_polygon_faces_forward() -> None:
    (layer, *_) = scene("stave_mast_6m").run.model.sections.layers
    corners = outline(layer.shape, 2.0, 2.0, bore=True)
    assert corners[:, 1].max() == pytest.approx(1.0)
    assert np.sum(np.isclose(corners[:-1, 1], 1.0)) == 2


@pytest.mark.parametrize(
    ("name", "counts"),
    [
        # counted by hand in the files, inside first; the plies that end at 3.20 m are gone above it
        (
            "glass_tube_5m",
            [[(2, 45), (2, -45), (9, 0), (2, -45), (2, 45)], [(2, 45), (2, -45), (4, 0), (2, -45), (2, 45)]],
        ),
        ("sheathed_mast_5m", [[(2, 0), (1, 45)]]),
    ],
)
def test_the_plies_of_a_section_are_shown(name: str, counts: list[list[tuple[int, float]]]) -> None:
    of, (drawn, drawing) = scene(name), figure(name, "section")
    for axes, cut, wanted in zip(drawing.axes, cuts(of), counts, strict=True):
        (layer,) = (layer for layer in cut.layers if lots_of(of, cut, layer))
        lots = lots_of(of, cut, layer)
        assert [(lot.count, lot.angle_deg) for lot in lots] == wanted
        assert sum(lot.thickness_m for lot in lots) == pytest.approx(float(layer.wall_m[cut.place]), rel=1e-9)
        called = f"lot of {layer.name}"
        strips = [artist for artist in axes.patches if artist.get_gid() == called]
        tall = np.array([strip.get_height() for strip in strips])
        np.testing.assert_allclose(
            tall / tall.sum(), [lot.thickness_m for lot in lots] / layer.wall_m[cut.place]
        )
        assert f"plies from inside {', '.join(lot.said for lot in lots)}" in drawn.said


def test_the_joints_of_staves_are_shown() -> None:
    of, (drawn, drawing) = scene("stave_mast_6m"), figure("stave_mast_6m", "section")
    for axes, cut in zip(drawing.axes, cuts(of), strict=True):
        seams = axes.findobj(lambda artist: artist.get_gid() == "seam")
        assert len(seams) == 12
        outside, _, bore, _ = cut.sizes_m(cut.layers[0])
        for seam in seams:
            inner, outer = np.hypot(*seam.get_data())
            # from the corners of the bore, whose size is across flats, to the round outside
            assert inner == pytest.approx(1e3 * bore / 2 / math.cos(math.pi / 12), rel=1e-6)
            assert outer == pytest.approx(1e3 * outside / 2, rel=1e-3)
    assert "12 staves of Sitka spruce (US)" in drawn.said


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_other_section_is_that_of_the_most_used_check(name: str) -> None:
    rig, result = example(name)
    of_layers = [c for c in result.checks if c.layer.split(" ")[0] in ("tube", "sheath", "sleeve", "plug")]
    worst = max(of_layers, key=lambda c: c.utilisation)
    there = {cut.height_m for cut in cuts(scene(name))}
    assert there == {rig.mast.bury_m, worst.height_m}


@pytest.mark.parametrize("name", [name for name in ALL if has(name, "roll")])
def test_the_roll_is_that_of_the_furling(name: str) -> None:
    rig, result = example(name)
    drawn, drawing = figure(name, "roll")
    turns, _ = line(drawing, "turns")
    edge, heights = line(drawing, "roll 1")
    (sail,) = rig.sails
    thick = sail.cloth_thickness_m * sail.roll_slack
    assert f"{np.max(turns):.1f} turns" in drawn.said
    assert f"{2 * np.max(edge):.1f}".removesuffix(".0") in drawn.said
    furling = None if result.turning is None else result.turning.furling
    if furling is not None:
        assert np.max(turns) == pytest.approx(furling.turns, rel=1e-9)
        np.testing.assert_allclose(2e-3 * edge, [at.roll_m for at in furling.rolls], rtol=1e-9)
        np.testing.assert_allclose(heights, [at.height_m for at in furling.rolls])
    else:
        # where most is rolled: area of the ring is that of the cloth
        stations = result.stations
        k = int(np.argmax(turns))
        bare = np.interp(heights[k], stations.height_m, stations.diameter_m)
        ring = np.pi / 4 * ((2e-3 * edge[k]) ** 2 - bare**2)
        assert sail.foot_m is not None
        assert ring / thick <= 1.02 * sail.foot_m
        assert ring / thick >= 0.90 * sail.foot_m


@pytest.mark.parametrize("name", ALL)
def test_bars_of_the_utilisation(name: str) -> None:
    _, result = example(name)
    drawn, drawing = figure(name, "utilisation")
    worst: dict[str, float] = {}
    for one in result.checks:
        worst[one.id] = max(worst.get(one.id, 0.0), one.utilisation)
    words = [text.get_text() for text in drawing.axes[0].texts]
    for id, used in worst.items():
        assert by_gid(drawing, id).get_width() == pytest.approx(used)
        assert f"{id} {used:.2f}" in drawn.said
        assert f"{used:.2f} {'PASS' if used <= 1 else 'FAIL'}" in words
    assert drawn.said.startswith(result.verdict.upper())


def test_what_finds_no_answer_fails_in_words() -> None:
    from dataclasses import replace

    rig, result = example("trailer_sailer_4m6")
    lost = replace(result.checks[0], demand=float("nan"))
    (drawn,) = figures_of(rig, replace(result, checks=(lost, *result.checks[1:])), names=["utilisation"])
    assert "no answer" in drawn.said and drawn.said.startswith("FAIL")
    assert "no answer FAIL" in [text.get_text() for text in drawn.make().axes[0].texts]


# ---------------------------------------------------------------- cases and units


def test_one_case_alone() -> None:
    rig, _ = example("trailer_sailer_4m6")
    alone = check(rig, case="running in force 5")
    for drawn in figures_of(rig, alone, names=["boat", "along", "bent"]):
        assert "'running in force 5'" in drawn.said
        drawn.make()


def test_us_units() -> None:
    rig, result = example("sharpie_5m2")
    case = result.cases[result.stations.cases.index(result.governing.case)]
    said = {
        drawn.name: drawn.said
        for drawn in figures_of(rig, result, shown="us", names=["boat", "along", "section"])
    }
    assert f"{case.partners_force_N / 4.4482216152605:.0f} lbf" in said["boat"]
    assert f"{case.max_moment_N_m / 1.3558179483314:.0f} lbf ft" in said["along"]
    assert "3.5 in outside" in said["section"]
    assert not any(" N" in text or " mm" in text for text in said.values())
