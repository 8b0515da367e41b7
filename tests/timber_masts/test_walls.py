"""Hollow walls of wood: splitting, flattening and buckling, against rings and cylinders worked out elsewhere."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from scipy.integrate import trapezoid

from rigcalc import check, read_rig
from rigcalc.formulas.laminate_tubes import orthotropic_bending_knockdown
from rigcalc.formulas.shells import brazier_moment
from rigcalc.formulas.timber_tubes import (
    box_splitting_moment,
    grained_cylinder_stress,
    grained_plate_stress,
    splitting_moment,
)
from rigcalc.materials.laminates.buckling import cylinder_buckling
from rigcalc.materials.timber import Timber, timber_of_rig
from rigcalc.rig import TimberUse

from . import ABOVE, BURY, C24, LENGTH, SITKA, box, even, found, ids, plug, pushed, rig_text, run, second

SIDE = 0.5
WALL = {"splitting", "flattening", "wall-buckling"}


def wood(name: str, D: float) -> Timber:
    return timber_of_rig(
        name, TimberUse(), shape="round", solid=False, depth_m=D, length_m=LENGTH, bury_m=BURY
    )


# --- formulas -----------------------------------------------------------------------------------


def ring_moment(E: float, t: float, r: float, curvature: float) -> float:
    """Greatest bending of a closed ring under E t kappa^2 y toward its neutral axis, by the force method.

    Statics of a quarter from the crown, where by symmetry there is a thrust that the load fixes and a moment that
    the ring's closing fixes.
    """
    theta = np.linspace(0.0, np.pi / 2, 20001)
    load = E * t * curvature**2 * r * np.cos(theta)
    x, y = r * np.sin(theta), r * np.cos(theta)
    # at an angle: the loads outboard of it press downward; their lever is the run of x between
    total = np.concatenate([[0.0], np.cumsum((load[1:] + load[:-1]) / 2 * np.diff(theta))]) * r
    first = (
        np.concatenate([[0.0], np.cumsum((load[1:] * x[1:] + load[:-1] * x[:-1]) / 2 * np.diff(theta))]) * r
    )
    moment = -(total * x - first)
    # the crown's own thrust is nothing: half the load goes down each side
    crown = -trapezoid(moment, theta) / (np.pi / 2)
    assert y[0] == r
    return float(np.max(np.abs(moment + crown)))


def test_the_wall_of_a_bent_tube_is_braziers_ring() -> None:
    E, t, r, curvature = 11e9, 0.01, 0.055, 0.04
    assert ring_moment(E, t, r, curvature) == pytest.approx(E * t * curvature**2 * r**3 / 4, rel=1e-6)


@pytest.mark.parametrize("ratio", [1.5, 2.0, 4.0, 30.0])
def test_splitting_moment_is_that_ring_at_its_strength(ratio: float) -> None:
    """Inner fibre of a curved bar by Winkler: M (r_n - r_i)/(A e r_i)."""
    E, r, f = 11e9, 0.05, 0.3e6
    t = r / ratio
    EI = 4e4
    curvature = float(splitting_moment(EI=EI, E=E, f_t90=f, r=r, t=t)) / EI
    m = E * t * curvature**2 * r**3 / 4
    neutral = t / math.log((r + t / 2) / (r - t / 2))
    winkler = m * (neutral - (r - t / 2)) / (t * (r - neutral) * (r - t / 2))
    assert winkler == pytest.approx(f, rel=5e-3 if ratio > 1.5 else 3e-2)


def test_a_box_splits_where_its_flange_bends_between_the_walls() -> None:
    E, t, y, b, f, EI = 11e9, 0.015, 0.06, 0.08, 0.3e6, 5e4
    curvature = float(box_splitting_moment(EI=EI, E=E, f_t90=f, y=y, b=b, t=t)) / EI
    pressure = E * curvature * y * t * curvature
    assert pressure * b**2 / 8 * 6 / t**2 == pytest.approx(f, rel=1e-12)


@pytest.mark.parametrize(("E_T", "G"), [(0.45e9, 0.7e9), (0.45e9, 0.3e9), (0.9e9, 0.7e9), (2e9, 2.4e9)])
@pytest.mark.parametrize("ratio", [60.0, 200.0])
def test_grained_cylinder_against_donnells_equations(E_T: float, G: float, ratio: float) -> None:
    """The search over every pattern of waves, made for laminates, with one ply of wood; no Poisson's ratio."""
    E_L, r = 11e9, 0.06
    t = r / ratio
    Q = np.diag([E_L, E_T, G])
    wall: Any = SimpleNamespace(A_N_m=Q * t, B_N=np.zeros((3, 3)), D_N_m=Q * t**3 / 12)
    searched = float(cylinder_buckling(wall, radius_m=r).line_load_N_m) / t
    assert grained_cylinder_stress(E_L=E_L, E_T=E_T, G=G, r=r, t=t) == pytest.approx(searched, rel=0.015)


def test_isotropic_limits() -> None:
    E, r, t, b = 70e9, 0.05, 0.001, 0.08
    assert grained_cylinder_stress(E_L=E, E_T=E, G=E / 2, r=r, t=t) == pytest.approx(
        E * t / (r * math.sqrt(3))
    )
    assert grained_plate_stress(E_L=E, E_T=E, G=E / 2, b=b, t=t) == pytest.approx(
        4 * math.pi**2 * E / 12 * (t / b) ** 2
    )


def test_plate_against_the_best_wave() -> None:
    """Energy of sin(m pi x/a) sin(pi y/b) on a long plate, the wave length free."""
    E_L, E_T, G, b, t = 11e9, 0.45e9, 0.7e9, 0.1, 0.012
    waves = np.linspace(0.02, 2.0, 200001)
    D_1, D_2, D_3 = E_L * t**3 / 12, E_T * t**3 / 12, 2 * G * t**3 / 12
    line_load = np.pi**2 / b**2 * (D_1 * (b / waves) ** 2 + 2 * D_3 + D_2 * (waves / b) ** 2)
    assert grained_plate_stress(E_L=E_L, E_T=E_T, G=G, b=b, t=t) == pytest.approx(
        float(np.min(line_load)) / t, rel=1e-6
    )


# --- limits -------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", [SITKA, C24])
def test_walls_of_a_round_spar(name: str) -> None:
    D, t = 0.12, 0.012
    r, moment = (D - t) / 2, SIDE * ABOVE
    result = run(name, stations=even(D, t), cases=pushed(SIDE))
    w = wood(name, D)
    E, EI = w.value_Pa("E_apparent"), w.value_Pa("E_apparent") * second(D, D - 2 * t)
    split = found(result, "splitting")
    assert split.demand == pytest.approx(moment, rel=1e-9)
    inner = 1 + t / (3 * r) + t**2 / (8 * r**2)
    f = w.value_Pa("tension_perp")
    assert split.capacity == pytest.approx(EI * math.sqrt(2 * f * t / (3 * E * r**3 * inner)), rel=1e-9)
    low = w.value_Pa("E_05") / w.value_Pa("E_true")
    even_E = math.sqrt(w.value_Pa("E_05") * w.value_Pa("E_across") * low)
    flat = found(result, "flattening")
    assert flat.capacity == pytest.approx(float(brazier_moment(E=even_E, r=r, t=t, nu=0.0)) / 1.3, rel=1e-9)
    buckles = found(result, "wall-buckling")
    knocked = orthotropic_bending_knockdown(phi=math.sqrt(r / t) / 16)
    critical = t / r * math.sqrt(even_E * min(even_E, 2 * w.value_Pa("G") * low) / 3)
    assert buckles.capacity == pytest.approx(float(knocked) * critical / 1.3, rel=1e-9)
    assert buckles.demand == pytest.approx(moment * D / 2 / second(D, D - 2 * t), rel=1e-9)


def test_no_wall_no_limit() -> None:
    assert not ids(run(stations=even(0.12))) & WALL
    full = run(stations=even(0.12, 0.02), mast=plug(0.0, LENGTH))
    assert not ids(full) & WALL


def test_walls_are_judged_where_no_plug_is() -> None:
    D, t = 0.12, 0.02
    result = run(stations=even(D, t), mast=plug(0.0, 3.0), cases=pushed(SIDE))
    for id in WALL:
        assert found(result, id).height_m == 3.0


def test_a_thin_wall_splits_before_it_breaks_and_a_stout_one_does_not() -> None:
    """Practice wants walls of 15 to 20 % of the diameter, and plugs where it must bend most."""
    D, push = 0.12, 350.0

    def used(share: float) -> tuple[float, float]:
        result = run(stations=even(D, share * D), cases=pushed(push))
        return found(result, "splitting").utilisation, found(result, "bending").utilisation

    ratios = [split / bent for split, bent in map(used, (0.01, 0.05, 0.20))]
    assert ratios == sorted(ratios, reverse=True)
    assert ratios[0] > 1.0 > ratios[1]
    assert ratios[2] < 0.4


def test_walls_of_a_box() -> None:
    D, B, t = 0.14, 0.10, 0.012
    result = box(D, B, t, cases=pushed(1e-3), mast='turns = ["0 deg"]')
    assert "flattening" not in ids(result)
    w = timber_of_rig(SITKA, TimberUse(), shape="box", solid=False, depth_m=D, length_m=LENGTH, bury_m=BURY)
    E = w.value_Pa("E_apparent")
    weaker = E * (D * B**3 - (D - 2 * t) * (B - 2 * t) ** 3) / 12
    # the wider flange is the nearer one: y b^2 of both is looked at
    worst = max((D - t) / 2 * (B - 2 * t) ** 2, (B - t) / 2 * (D - 2 * t) ** 2)
    f = w.value_Pa("tension_perp")
    assert found(result, "splitting").capacity == pytest.approx(
        weaker * math.sqrt(4 * f * t / (3 * E * worst)), rel=1e-9
    )
    low = w.value_Pa("E_05") / w.value_Pa("E_true")
    even_E = math.sqrt(w.value_Pa("E_05") * w.value_Pa("E_across") * low)
    plate = math.pi**2 * t**2 / (6 * (D - 2 * t) ** 2) * (even_E + 2 * w.value_Pa("G") * low)
    assert found(result, "wall-buckling").capacity == pytest.approx(plate / 1.3, rel=1e-9)


@pytest.mark.parametrize("sides", [8, 12])
def test_staves_left_flat_are_used_more_and_turned_ones_less(sides: int) -> None:
    D, t = 0.12, 0.015
    flat = run(stations=even(D, t), mast=f'shape = "staves"\nsides = {sides}\noutside = "flat"')
    turned = run(stations=even(D, t), mast=f'shape = "staves"\nsides = {sides}')
    plain = run(stations=even(D, t))
    for id in WALL:
        of_plain = found(plain, id).utilisation
        assert 0.95 * of_plain < found(flat, id).utilisation < 1.4 * of_plain
        # turned staves are thickest between the corners of the bore, and the thinnest counts
        assert 0.7 * of_plain < found(turned, id).utilisation <= of_plain


def test_an_ellipse_is_judged_by_its_flattest_side() -> None:
    D, B, t = 0.14, 0.09, 0.012
    text = rig_text(stations=even(D, t), mast='shape = "ellipse"')
    text = text.replace(f'diameter = "{D!r} m"', f'diameter = "{D!r} m", breadth = "{B!r} m"')
    oblong = check(read_rig(text))
    slim = run(stations=even(B, t))
    for id in WALL:
        assert id in ids(oblong)
    # its flattest side is nearer to a plate than any round spar of these sizes
    assert found(oblong, "wall-buckling").capacity < found(slim, "wall-buckling").capacity
    assert found(oblong, "wall-buckling").capacity < found(run(stations=even(D, t)), "wall-buckling").capacity


@pytest.mark.parametrize("t", [0.004, 0.02])
def test_a_round_spar_is_flattened_by_its_own_moment(t: float) -> None:
    """Thin or thick: the stress at the outer fibre times the modulus of the tube is the moment again."""
    result = run(stations=even(0.12, t), cases=pushed(1e-3))
    assert found(result, "flattening").demand == pytest.approx(1e-3 * ABOVE, rel=1e-6)
