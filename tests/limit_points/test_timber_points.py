"""Wood point by point: shapes that are not round, the stiffness that its thrust sees, bearings of many masts, plugs."""

from __future__ import annotations

import math
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rigcalc import read_rig
from rigcalc.formulas import Working
from rigcalc.formulas.laminate_tubes import orthotropic_bending_knockdown
from rigcalc.formulas.timber_tubes import grained_cylinder_stress, grained_plate_stress, plug_transfer_length
from rigcalc.limits.timber.bearings import Bearing, _rolling_shear, _wall_bending
from rigcalc.limits.timber.edges import edge_limits
from rigcalc.limits.timber.wood import Wood
from rigcalc.materials.timber import Timber, timber_of_rig
from rigcalc.rig import Rig, TimberUse
from tests.timber_masts import (
    ABOVE,
    BURY,
    C24,
    LENGTH,
    SITKA,
    area,
    case,
    even,
    plug,
    pushed,
    rig_text,
    second,
)

from . import limit_of, solved

SIDE = 0.5


def rig_of(material: str = SITKA, breadth: float | None = None, **parts: object) -> Rig:
    text = rig_text(material, **{"cases": pushed(SIDE), **parts})  # type: ignore[arg-type]  # handed through
    if breadth is not None:
        D = parts["stations"][0][1]  # type: ignore[index]  # as the tests write them
        text = text.replace(f'diameter = "{D!r} m"', f'diameter = "{D!r} m", breadth = "{breadth!r} m"')
    return read_rig(text)


def wood(name: str, D: float, shape: str = "round", *, solid: bool = False) -> Timber:
    return timber_of_rig(name, TimberUse(), shape=shape, solid=solid, depth_m=D, length_m=LENGTH, bury_m=BURY)


def pressed_wall(w: Timber, r: float, t: float) -> float:
    low = w.value_Pa("E_05") / w.value_Pa("E_true")
    E_L, E_T, G = w.value_Pa("E_05"), w.value_Pa("E_across") * low, w.value_Pa("G") * low
    knocked = orthotropic_bending_knockdown(phi=math.sqrt(r / t) / 16)
    return float(knocked * grained_cylinder_stress(E_L=E_L, E_T=E_T, G=G, r=r, t=t)) / 1.3


@pytest.mark.parametrize(("D", "B"), [(0.14, 0.09), (0.09, 0.14)])
def test_an_ellipse_counts_as_a_tube_of_its_flattest_side(D: float, B: float) -> None:
    """Semi-axes of the middle of the wall: the flattest is where the greater squared over the lesser is the radius."""
    t = 0.012
    result, _ = solved(rig_of(stations=even(D, t), breadth=B, mast='shape = "ellipse"'))
    more, less = (max(D, B) - t) / 2, (min(D, B) - t) / 2
    r = more**2 / less
    w = wood(SITKA, max(D, B), "ellipse")
    buckling, flattening, splitting = (
        limit_of(result, id) for id in ("wall-buckling", "flattening", "splitting")
    )
    assert np.asarray(buckling.capacity) == pytest.approx(pressed_wall(w, r, t), rel=1e-9)
    # Brazier's moment of that tube: 2 sqrt(2)/9 pi r t^2 sqrt(E_L E_T)
    low = w.value_Pa("E_05") / w.value_Pa("E_true")
    mean = math.sqrt(w.value_Pa("E_05") * w.value_Pa("E_across") * low)
    brazier = 2 * math.sqrt(2) / 9 * math.pi * r * t**2 * mean / 1.3
    assert flattening.capacity == pytest.approx(brazier, rel=1e-9)
    # its demand is the moment of that round tube at the stress of the ellipse
    tube = second(2 * r + t, 2 * r - t) / (r + t / 2)
    stress = limit_of(result, "bending").demand
    assert flattening.demand == pytest.approx(stress * tube, rel=1e-9)
    # Winkler's ring, its stiffness the lesser of both planes
    E, f = w.value_Pa("E_apparent"), w.value_Pa("tension_perp")
    EI = (
        E
        * math.pi
        / 64
        * min(D * B**3 - (D - 2 * t) * (B - 2 * t) ** 3, B * D**3 - (B - 2 * t) * (D - 2 * t) ** 3)
    )
    inner = 1 + t / (3 * r) + t**2 / (8 * r**2)
    assert splitting.capacity == pytest.approx(EI * math.sqrt(2 * f * t / (3 * E * r**3 * inner)), rel=1e-9)


@pytest.mark.parametrize(("sides", "t"), [(8, 0.004), (12, 0.015), (6, 0.002)])
@pytest.mark.parametrize("outside", ["flat", "round"])
def test_staves_buckle_as_a_tube_of_their_corners_or_as_flats(sides: int, t: float, outside: str) -> None:
    D = 0.12
    mast = f'shape = "staves"\nsides = {sides}\noutside = "{outside}"'
    result, _ = solved(rig_of(stations=even(D, t), mast=mast))
    buckling = limit_of(result, "wall-buckling")
    found = float(np.max(buckling.capacity))
    assert np.all(np.asarray(buckling.capacity) == pytest.approx(found))
    w, angle = wood(SITKA, D, "staves"), math.pi / sides
    if outside == "round":
        # turned outside: the wall is thinnest, and the tube counted, at the corners of the bore
        assert found == pytest.approx(pressed_wall(w, (D - t) / 2, t), rel=1e-6)
        return
    low = w.value_Pa("E_05") / w.value_Pa("E_true")
    # a flat inside is as wide as the bore across flats times tan(pi/n)
    plate = float(
        grained_plate_stress(
            E_L=w.value_Pa("E_05"),
            E_T=w.value_Pa("E_across") * low,
            G=w.value_Pa("G") * low,
            b=(D - 2 * t) * math.tan(angle),
            t=t,
        )
    )
    assert found == pytest.approx(
        min(pressed_wall(w, (D - t) / 2 / math.cos(angle), t), plate / 1.3), rel=1e-9
    )


@pytest.mark.parametrize(("D", "B"), [(0.14, 0.10), (0.10, 0.14)])
def test_a_box_splits_at_the_worse_of_its_flanges(D: float, B: float) -> None:
    t = 0.012
    result, _ = solved(rig_of(stations=even(D, t), breadth=B, mast='shape = "box"'))
    w = wood(SITKA, max(D, B), "box")
    E, f = w.value_Pa("E_apparent"), w.value_Pa("tension_perp")
    I = min(D * B**3 - (D - 2 * t) * (B - 2 * t) ** 3, B * D**3 - (B - 2 * t) * (D - 2 * t) ** 3) / 12
    worst = max((D - t) / 2 * (B - 2 * t) ** 2, (B - t) / 2 * (D - 2 * t) ** 2)
    assert limit_of(result, "splitting").capacity == pytest.approx(
        E * I * math.sqrt(4 * f * t / (3 * E * worst)), rel=1e-9
    )
    low = w.value_Pa("E_05") / w.value_Pa("E_true")
    E_L, E_T, G = w.value_Pa("E_05"), w.value_Pa("E_across") * low, w.value_Pa("G") * low
    plate = float(grained_plate_stress(E_L=E_L, E_T=E_T, G=G, b=max(D, B) - 2 * t, t=t))
    assert limit_of(result, "wall-buckling").capacity == pytest.approx(plate / 1.3, rel=1e-9)


@pytest.mark.parametrize(("D", "B"), [(0.14, 0.09), (0.09, 0.14)])
def test_a_bearing_presses_on_the_narrower_side(D: float, B: float) -> None:
    """Held as it is turned: whichever way it lies, the peak is that of the lesser breadth."""
    t = 0.02
    heights = '[bearings.partners]\nlength = "70 mm"\n[bearings.step]\nlength = "50 mm"\n'
    force = {"partners": SIDE * LENGTH / BURY, "step": SIDE * ABOVE / BURY}
    result, _ = solved(rig_of(stations=even(D, t), breadth=B, mast='shape = "ellipse"', more=heights))
    for at, height in (("partners", 0.07), ("step", 0.05)):
        crushing = limit_of(result, f"crushing-{at}")
        assert np.max(crushing.demand) == pytest.approx(
            4 * force[at] / (math.pi * min(D, B) * height), rel=1e-6
        )


def test_a_bearing_of_many_masts_by_their_places() -> None:
    """Two masts of three elements: each at a place of its own, one of them filled beside its bearing."""
    here = np.ones((6, 4), dtype=bool)
    wood_of: Any = SimpleNamespace(here=here)
    force = np.array([[10.0, 20.0], [30.0, 40.0], [50.0, 60.0]])
    bearing = Bearing("step", (np.array([1, 5]), 2), force, np.array([0.05, 0.06]), np.array([True, False]))
    alone = bearing.alone(wood_of, force)
    assert alone.shape == (3, 6, 4)
    assert np.array_equal(alone[:, 1, 2], force[:, 0])
    assert np.array_equal(alone[:, 5, 2], force[:, 1])
    assert np.sum(alone) == np.sum(force)
    assert np.argwhere(bearing.where(wood_of)).tolist() == [[1, 2], [5, 2]]
    assert np.argwhere(bearing.where(wood_of, empty=True)).tolist() == [[1, 2]]


@pytest.mark.parametrize("name", [SITKA, C24])
@pytest.mark.parametrize("wall", [None, 0.024])
def test_what_presses_is_counted_at_every_point(name: str, wall: float | None) -> None:
    """Three cases at once: thrust, nothing along the mast, and tension; each on its own edge alone."""
    D, side, axial = 0.12, 2e-3, 3.0
    cases = "".join(pushed(side, axial=of, name=f"case {i}") for i, of in enumerate((axial, 0.0, -axial)))
    result, internal = solved(rig_of(name, stations=even(D, wall), cases=cases))
    w, d = wood(name, D, solid=wall is None), 0.0 if wall is None else D - 2 * wall
    bends = internal.moment_N_m * D / 2 / second(D, d)
    along = np.array([1.0, 0.0, -1.0])[:, None, None] * axial / area(D, d)
    f_c, f_t, f_m = (w.value_Pa(of) for of in ("compression", "tension", "bending"))
    bending, compression = limit_of(result, "bending"), limit_of(result, "compression")
    pulled, pressed = np.maximum(-along, 0.0), np.maximum(along, 0.0)
    if wall is None:
        used = bends / f_m + pulled / f_t, (pressed / f_c) ** 2 + bends / f_m
    else:
        used = (bends + pulled) / f_t, (bends + pressed) / f_c
    assert bending.utilisation == pytest.approx(used[0], rel=1e-9)
    # so little thrust that the limp mast bends by a few thousandths more
    assert compression.utilisation == pytest.approx(used[1], rel=4e-3)
    if wall is not None:
        # of the wall that may buckle the worse of both sides counts, whichever way the axial force acts
        assert limit_of(result, "wall-buckling").demand == pytest.approx(bends + np.abs(along), rel=1e-9)
    column = limit_of(result, "column")
    assert column.utilisation[1:] == pytest.approx(0.0, abs=0.0)
    assert column.demand[0] == pytest.approx(pressed[0] + 0.0 * bends[0], rel=1e-9)


@pytest.mark.parametrize("name", [SITKA, C24])
def test_a_limp_mast_bends_further_at_every_point(name: str) -> None:
    """What bending adds grows as a/(1 - a), a the thrust over that of instability, from mean to lower 5 %."""
    D, side, axial = 0.12, 5.0, 900.0
    cases = pushed(side, axial=axial) + pushed(-side, name="unpressed")
    result, internal = solved(rig_of(name, stations=even(D), cases=cases))
    w = wood(name, D, solid=True)
    low = 1 / float(internal.axial_factor[0, 0, 0])
    mean = low * w.value_Pa("E_05") / w.value_Pa("E_apparent")
    straight, bent = np.hypot(*internal.straight_N_m), np.hypot(*internal.bent_N_m)
    grows = low / (1 - low) * (1 - mean) / mean
    assert grows > 1.1
    limp = np.maximum(straight, bent + (grows - 1) * np.maximum(bent - straight, 0.0))
    modulus = math.pi * D**3 / 32
    used = limp[0] / modulus / w.value_Pa("bending") + (axial / area(D) / w.value_Pa("compression")) ** 2
    compression = limit_of(result, "compression").utilisation
    assert compression[0] == pytest.approx(used, rel=1e-9)
    # where nothing presses nothing grows
    assert compression[1] == pytest.approx(
        np.maximum(straight, bent)[1] / modulus / w.value_Pa("bending"), rel=1e-9, abs=1e-15
    )


@pytest.mark.parametrize(
    ("start", "end", "ends"),
    [
        (0.0, 1.6, [1.6]),
        (0.7, 1.6, [0.7, 1.6]),
        (0.005, 6.995, [0.005, 6.995]),
        (0.7, LENGTH, [0.7]),
        (0.0, LENGTH, []),
    ],
)
def test_a_plug_lets_go_at_its_ends_inside_the_mast(start: float, end: float, ends: list[float]) -> None:
    result, _ = solved(rig_of(stations=even(0.12, 0.024), mast=plug(start, end)))
    found = [limit for limit in result.limits if limit.id == "plug-end"]
    if not ends:
        assert not found
        return
    (one,) = found
    assert one.where is not None
    assert sorted(result.model.sections.z_m[one.where]) == pytest.approx(ends)
    assert np.array_equal(one.demand[0] > 0.0, one.where)


@pytest.mark.parametrize(("D", "B"), [(0.14, 0.09), (0.09, 0.14)])
def test_a_plug_in_an_oblong_bore_holds_by_its_narrower_side(D: float, B: float) -> None:
    """Radius of the lesser bore in a tube of the greater size; the lesser stiffness of plug and tube."""
    t = 0.02
    inside = plug(0.0, 1.6)
    result, _ = solved(rig_of(stations=even(D, t), breadth=B, mast='shape = "ellipse"', more=inside))
    tube, core = result.model.sections.layers
    end = np.argwhere(limit_of(result, "plug-end", "plug 1").where)[0]
    E, G = (float(np.ravel(of)[0]) for of in (core.elastic.E_Pa, core.elastic.G_Pa))
    assert float(np.ravel(tube.elastic.G_Pa)[0]) == G
    long, wide = max(D, B), min(D, B)
    b_long, b_wide = long - 2 * t, wide - 2 * t
    EI_p = E * math.pi / 64 * b_long * b_wide**3
    E_t = float(np.ravel(tube.elastic.E_Pa)[0])
    EI_t = E_t * math.pi / 64 * (long * wide**3 - b_long * b_wide**3)
    length = plug_transfer_length(r=b_wide / 2, R=long / 2, G_p=G, G_t=G, EI_p=EI_p, EI_t=EI_t)
    # bent sideways the whole moment is in one plane at no turn, and at a quarter turn in the other
    M = SIDE * (LENGTH - 1.6)
    shares = [
        E * of_core / (E * of_core + E_t * of_tube)
        for of_core, of_tube in (
            (b_long * b_wide**3, long * wide**3 - b_long * b_wide**3),
            (b_wide * b_long**3, wide * long**3 - b_wide * b_long**3),
        )
    ]
    stress = [M * k / (math.pi * (b_wide / 2) ** 2 * length) for k in shares]
    found = limit_of(result, "plug-end", "plug 1").demand[:, end[0], end[1]]
    assert np.max(found) == pytest.approx(max(stress), rel=1e-6)
    assert np.min(found) == pytest.approx(min(stress), rel=1e-6)


@pytest.mark.parametrize(("D", "both"), [(0.35, True), (0.7, False)])
def test_columns_stocky_and_slender_in_one_mast(D: float, both: bool) -> None:
    """A tapered mast has points of both kinds; each has what EN 1995-1-1, 6.3.2 leaves it."""
    stations = ((0.0, 0.8, None), (1.5, D, None))
    cases = pushed(1e-4, axial=50.0, at=1.5)
    result, internal = solved(rig_of(C24, stations=stations, length=1.5, bury=0.4, cases=cases))
    column = limit_of(result, "column")
    w = timber_of_rig(C24, TimberUse(), shape="round", solid=True, depth_m=0.8, length_m=1.5, bury_m=0.4)
    factor, f_c = float(internal.axial_factor[0, 0, 0]), w.value_Pa("compression")
    kinds = set()
    for demand, capacity in zip(column.demand[0].ravel(), np.ravel(column.capacity), strict=True):
        slender = math.sqrt(21e6 / (demand * factor))
        k = 0.5 * (1 + 0.2 * (slender - 0.3) + slender**2)
        k_c = 1.0 if slender <= 0.3 else 1 / (k + math.sqrt(k**2 - slender**2))
        assert capacity == pytest.approx(k_c * f_c, rel=1e-9)
        kinds.add(slender <= 0.3)
    assert kinds == ({True, False} if both else {True})


@pytest.mark.parametrize(
    ("outer", "solid", "hollow"),
    [(0.08, True, False), (0.06, True, True), (0.1, True, True), (0.08, False, True)],
)
def test_a_bore_is_filled_by_solid_wood_that_fits_it(outer: float, solid: bool, hollow: bool) -> None:
    """A bar that is thinner than the bore leaves it empty; so does a tube, and what is not of wood."""
    size, here = np.full((2, 3), 1.0), np.array([[True], [False]])
    timber = wood(SITKA, 0.12)

    def layer(made_of: object, outer: float, inner: float, solid: bool) -> Any:
        shape = SimpleNamespace(solid=np.full((2, 3), solid))
        return SimpleNamespace(
            made_of=made_of, outer_m=outer * size, inner_m=inner * size, present=here | True, shape=shape
        )

    tube, core = layer(timber, 0.12, 0.08, False), layer(timber, outer, 0.0, solid)
    core.present = here
    of: Any = SimpleNamespace(layers=(tube, core))
    found = Wood(SimpleNamespace(), of, tube, SimpleNamespace(), Working()).hollow  # type: ignore[arg-type]  # what it asks of them
    assert found.tolist() == [[hollow] * 3, [True] * 3]
    core.made_of = "foam"
    found = Wood(SimpleNamespace(), of, tube, SimpleNamespace(), Working()).hollow  # type: ignore[arg-type]  # what it asks of them
    assert np.all(found)


@pytest.mark.parametrize(("D", "B"), [(0.14, 0.09), (0.09, 0.14)])
def test_an_oblong_mast_of_one_layer_takes_all_of_the_moment(D: float, B: float) -> None:
    result, internal = solved(rig_of(stations=even(D, 0.02), breadth=B, mast='shape = "ellipse"'))
    assert limit_of(result, "splitting").demand == pytest.approx(internal.moment_N_m, rel=1e-12, abs=1e-12)


def test_where_nothing_presses_the_bent_mast_is_as_bent_as_it_is() -> None:
    """With a bent moment half as great again as the straight one, and no thrust to make it grow."""
    D = 0.12
    rig = rig_of(stations=even(D))
    result, internal = solved(rig)
    sections, w = result.model.sections, wood(SITKA, D, solid=True)
    for factor in (np.inf, 1e12):
        bent = replace(
            internal,
            bent_N_m=1.5 * internal.straight_N_m,
            axial_N=0.0 * internal.axial_N,
            axial_factor=np.full_like(internal.axial_factor, factor),
        )
        of = Wood(rig, sections, sections.layers[0], bent, Working())
        one = next(limit for limit in edge_limits(of) if limit.id == "compression")
        moment = 1.5 * np.hypot(*internal.straight_N_m)
        mean = w.value_Pa("E_05") / w.value_Pa("E_apparent")
        # next to no thrust: what it adds is as the stiffness, and all of it is taken for that of the thrust
        grown = moment if factor == np.inf else moment + (1 / mean - 1) * moment / 3
        expected = grown * 32 / (math.pi * D**3) / w.value_Pa("bending")
        assert one.utilisation == pytest.approx(expected, rel=1e-6, abs=1e-15)


def test_thrust_on_a_stout_hollow_spar_presses_all_of_it_evenly() -> None:
    """Its share counts as it is, and not by its square as in a bar."""
    D, t, axial = 0.25, 0.05, 60e3
    stations = ((0.0, D, t), (1.5, D, t))
    cases = pushed(1e-3, axial=axial, at=1.5)
    result, _ = solved(rig_of(C24, stations=stations, length=1.5, bury=0.4, cases=cases))
    w = timber_of_rig(C24, TimberUse(), shape="round", solid=False, depth_m=D, length_m=1.5, bury_m=0.4)
    used = axial / area(D, D - 2 * t) / w.value_Pa("compression")
    assert used > 0.1
    assert limit_of(result, "compression").utilisation == pytest.approx(used, rel=2e-3)


@pytest.mark.parametrize("name", [SITKA, C24])
def test_a_column_is_pressed_by_its_own_weight_and_not_at_its_tip(name: str) -> None:
    own = case(
        "given", 'own_weight_heel = "0 deg"', f'point_load = [{{height = "{LENGTH!r} m", side = "1 N"}}]'
    )
    result, internal = solved(rig_of(name, stations=even(0.1), cases=own))
    column, z = limit_of(result, "column"), result.model.sections.z_m
    assert np.all(np.isfinite(internal.axial_factor))
    tip = z == LENGTH
    assert float(np.max(np.abs(column.utilisation[0][tip]))) < 1e-12
    weight = result.model.sections.mass_kg_m[0, 0] * 9.80665 * (LENGTH - z)
    assert column.demand[0] == pytest.approx(weight / area(0.1), rel=1e-6, abs=1e-3)
    assert np.all(column.utilisation[0][~tip] > 0.0)


def test_a_wall_that_is_filled_beside_its_bearing_is_not_bent_there() -> None:
    """As of one among many masts: the place of the bearing is left out where nothing is empty beside it."""
    rig = rig_of(stations=even(0.12, 0.02))
    result, internal = solved(rig)
    of = Wood(rig, result.model.sections, result.model.sections.layers[0], internal, Working())
    for empty in (True, False):
        bearing = Bearing("step", (np.array([0]), 0), np.array([10.0]), 0.05, np.array([empty]))
        for one in (_wall_bending(of, bearing), _rolling_shear(of, bearing)):
            assert (float(np.max(one.utilisation)) > 0.0) is empty
