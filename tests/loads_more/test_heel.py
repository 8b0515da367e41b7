"""The boat heeling, settled and in a gust.

Sources: a scan of the righting arms in steps of a thousandth of a degree, apart from the code; areas under
heeling and righting moment, by which a ship's dynamical stability is judged (Derrett, Ship Stability for
Masters and Mates; from memory), with scipy's quadrature; the step response of an oscillator of one degree of
freedom (Thomson, Theory of Vibration; from memory).
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
import scipy.integrate
from numpy.typing import NDArray
from scipy.integrate import quad
from scipy.optimize import brentq

from rigcalc.formulas import Working
from rigcalc.loads.heel import gust_swing, heeling_at, righting_curve, steady_heel
from rigcalc.rig import FALLOFFS, Rig

from . import GZ, G, rig

Floats = NDArray[np.float64]

WEIGHT = 500.0 * G
GYRATION = 0.40 * 1.80
INERTIA = 500.0 * GYRATION**2


def table(*entries: tuple[float, float]) -> str:
    """A table of righting arms from (degrees, metres)."""
    rows = ", ".join(f'["{heel} deg", "{arm} m"]' for heel, arm in entries)
    return f"[boat.stability]\nrighting_arm = [{rows}]\n"


EARLY = table((0, 0), (15, 0.15), (30, 0.26), (45, 0.31), (60, 0.12), (72, 0))
PAST = table((0, 0), (15, 0.15), (30, 0.26), (45, 0.31), (60, 0.12), (72, 0), (110, -0.3))
CUT = table((0, 0), (15, 0.15), (30, 0.26), (45, 0.31))
STRAIGHT = table((0, 0), (50, 0.6))
"""A righting arm as linear as a spring."""


def boat_of(stability: str = GZ, *, falloff: str = "cos", damping: float = 0.0) -> Rig:
    made = rig(stability=stability)
    return replace(
        made,
        wind=replace(made.wind, heel_falloff=falloff),
        boat=replace(made.boat, roll_damping=damping),
    )


def righting(boat: Rig, heel_rad: Any) -> Any:
    heels, arms = np.array(boat.boat.stability.righting_arm).T
    return WEIGHT * np.interp(heel_rad, heels, arms)


def heeling(boat: Rig, upright_N_m: float, heel_rad: Any) -> Any:
    return upright_N_m * np.maximum(np.cos(heel_rad), 0.0) ** FALLOFFS[boat.wind.heel_falloff]


def scanned(boat: Rig, upright_N_m: float) -> list[float]:
    """Every heel at which heeling and righting moment cross."""
    curve = boat.boat.stability.righting_arm
    assert curve is not None
    heels = np.linspace(0.0, curve[-1][0], int(np.degrees(curve[-1][0]) * 1000) + 1)
    over = righting(boat, heels) - heeling(boat, upright_N_m, heels)
    at = np.flatnonzero(np.sign(over[:-1]) * np.sign(over[1:]) < 0)
    return [float(heels[i] - over[i] * (heels[i + 1] - heels[i]) / (over[i + 1] - over[i])) for i in at]


# --- settled -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("stability", "falloff"), [(GZ, "cos"), (GZ, "cos2"), (EARLY, "cos"), (EARLY, "cos1.3"), (PAST, "cos2")]
)
@pytest.mark.parametrize("upright_N_m", [30.0, 900.0, 1300.0])
def test_she_settles_where_a_scan_finds_the_first_crossing(
    stability: str, falloff: str, upright_N_m: float
) -> None:
    boat = boat_of(stability, falloff=falloff)
    found = steady_heel(boat, upright_N_m, Working())
    crossings = scanned(boat, upright_N_m)
    assert found is not None
    assert found.heel_rad == pytest.approx(crossings[0], abs=1e-7)
    if len(crossings) > 1:
        assert found.no_return_rad == pytest.approx(crossings[1], abs=1e-7)
    else:
        # past level nothing heels her: she is lost where she stops righting, at the end of the table
        assert stability == GZ
        assert found.no_return_rad == pytest.approx(np.radians(120.0), abs=1e-9)


def test_more_wind_heels_her_further_and_brings_the_point_of_no_return_nearer() -> None:
    boat = boat_of(EARLY)
    found = [steady_heel(boat, moment, Working()) for moment in np.linspace(50.0, 1600.0, 12)]
    heels = [f.heel_rad for f in found if f is not None and f.heel_rad is not None]
    lost = [f.no_return_rad for f in found if f is not None and f.no_return_rad is not None]
    assert len(heels) == len(lost) == 12
    assert np.all(np.diff(heels) > 0.0)
    assert np.all(np.diff(lost) < 0.0)
    assert heels[-1] < lost[-1]


@pytest.mark.parametrize("upright_N_m", [300.0, 900.0, 1300.0])
def test_the_slowest_falloff_heels_her_most(upright_N_m: float) -> None:
    by_law: dict[str, tuple[float, float]] = {}
    for falloff in FALLOFFS:
        boat = boat_of(falloff=falloff)
        settled = steady_heel(boat, upright_N_m, Working())
        swing = gust_swing(
            boat,
            before_N_m=upright_N_m,
            gust_N_m=1.5 * upright_N_m,
            mast_inertia_kg_m2=0.0,
            working=Working(),
        )
        assert settled is not None and settled.heel_rad is not None and swing is not None
        by_law[falloff] = settled.heel_rad, swing
    for i in range(2):
        assert by_law["cos"][i] > by_law["cos1.3"][i] > by_law["cos2"][i]


@pytest.mark.parametrize("falloff", FALLOFFS)
def test_heeling_falls_off_as_its_power_of_the_cosine_and_ends_level(falloff: str) -> None:
    boat = boat_of(falloff=falloff)
    for degrees in (0.0, 20.0, 60.0, 89.0):
        heel = np.radians(degrees)
        assert heeling_at(boat, 100.0, heel, Working()) == pytest.approx(
            heeling(boat, 100.0, heel), rel=1e-12
        )
    for degrees in (90.0, 110.0, 170.0):
        working = Working()
        assert heeling_at(boat, 100.0, np.radians(degrees), working) == 0.0
        assert not working.warnings


def test_a_wind_she_cannot_stand_lays_her_over() -> None:
    found = steady_heel(boat_of(EARLY), 4000.0, Working())
    assert found is not None
    assert found.heel_rad is None and found.no_return_rad is None


def test_without_wind_she_stands_upright() -> None:
    found = steady_heel(boat_of(), 0.0, Working())
    assert found is not None
    assert found.heel_rad == 0.0


def test_data_that_end_while_she_rights_tell_no_point_of_no_return() -> None:
    found = steady_heel(boat_of(CUT), 500.0, Working())
    assert found is not None and found.heel_rad is not None
    assert found.no_return_rad is None


def test_a_wall_sided_hull_without_form_stability_heels_to_the_arctangent() -> None:
    # M cos(heel) = W GM sin(heel); the sine is read off chords of a quarter degree, (h^2/8) of it apart
    boat = boat_of('[boat.stability]\ngm = "0.5 m"\nbm = "0 m"\n')
    found = steady_heel(boat, 700.0, Working())
    assert found is not None
    assert found.heel_rad == pytest.approx(np.arctan(700.0 / (WEIGHT * 0.5)), rel=5e-6)
    assert found.no_return_rad is None


def test_without_a_righting_curve_there_is_no_heel() -> None:
    boat = boat_of('[boat.stability]\nmoment_30 = "1200 N m"\nmoment_max = "1500 N m"\n')
    assert righting_curve(boat.boat) is None
    assert steady_heel(boat, 500.0, Working()) is None
    assert (
        gust_swing(boat, before_N_m=100.0, gust_N_m=200.0, mast_inertia_kg_m2=0.0, working=Working()) is None
    )


# --- in a gust -----------------------------------------------------------------------------------


def swing(boat: Rig, before: float, gust: float, mast: float = 0.0) -> float:
    found = gust_swing(boat, before_N_m=before, gust_N_m=gust, mast_inertia_kg_m2=mast, working=Working())
    assert found is not None
    return found


SPRING = WEIGHT * 0.6 / np.radians(50.0)
"""Righting moment per radian of the boat with the straight arm."""


@pytest.mark.parametrize(("before", "gust"), [(0.0, 60.0), (30.0, 60.0), (50.0, 65.0)])
def test_a_spring_swings_as_far_past_its_new_rest_as_it_came(before: float, gust: float) -> None:
    # at 0.01 rad the cosine's fall is a few 1e-5 of the moment
    first, second = before / SPRING, gust / SPRING
    assert swing(boat_of(STRAIGHT), before, gust) == pytest.approx(2 * second - first, rel=3e-4)


@pytest.mark.parametrize("damping", [0.02, 0.05, 0.1, 0.2, 0.4])
def test_damping_leaves_the_overshoot_of_a_damped_oscillator(damping: float) -> None:
    step = 60.0 / SPRING
    overshoot = np.exp(-np.pi * damping / np.sqrt(1 - damping**2))
    assert swing(boat_of(STRAIGHT, damping=damping), 0.0, 60.0) == pytest.approx(
        step * (1 + overshoot), rel=3e-4
    )


def test_damping_takes_from_the_swing_of_any_boat() -> None:
    swings = [swing(boat_of(damping=d), 300.0, 600.0) for d in (0.0, 0.02, 0.05, 0.1, 0.3)]
    assert np.all(np.diff(swings) < 0.0)
    settled = steady_heel(boat_of(), 600.0, Working())
    assert settled is not None and settled.heel_rad is not None
    assert swings[-1] > settled.heel_rad


@pytest.mark.parametrize(("stability", "falloff"), [(GZ, "cos"), (EARLY, "cos1.3"), (PAST, "cos2")])
@pytest.mark.parametrize(("before", "gust"), [(0.0, 500.0), (200.0, 800.0), (600.0, 1000.0)])
def test_an_undamped_boat_stops_where_the_areas_are_equal(
    stability: str, falloff: str, before: float, gust: float
) -> None:
    boat = boat_of(stability, falloff=falloff)
    settled = steady_heel(boat, before, Working())
    assert settled is not None and settled.heel_rad is not None
    greatest = swing(boat, before, gust, mast=80.0)
    assert greatest > settled.heel_rad + 0.05
    start = settled.heel_rad

    def work(moment: Any) -> float:
        kinks = [np.radians(x) for x in (15, 30, 45, 60, 72) if start < np.radians(x) < greatest]
        found, _ = quad(moment, start, greatest, points=kinks, epsabs=1e-10, epsrel=1e-12, limit=200)
        return float(found)

    put_in = work(lambda heel: heeling(boat, gust, heel))
    taken_up = work(lambda heel: righting(boat, heel))
    assert put_in - taken_up == pytest.approx(0.0, abs=1e-6 * put_in)


def half_period(boat: Rig, mast: float, monkeypatch: pytest.MonkeyPatch) -> tuple[float, float]:
    """Time until she turns back, and the greatest heel."""
    runs: list[Any] = []
    real = scipy.integrate.solve_ivp

    def watched(*arguments: Any, **options: Any) -> Any:
        runs.append(real(*arguments, **options))
        return runs[-1]

    with monkeypatch.context() as patch:
        patch.setattr(scipy.integrate, "solve_ivp", watched)
        greatest = swing(boat, 0.0, 60.0, mast)
    return float(runs[-1].t[-1]), greatest


def test_inertia_of_the_mast_slows_the_swing_and_leaves_its_size(monkeypatch: pytest.MonkeyPatch) -> None:
    boat = boat_of(STRAIGHT)
    sizes = []
    for mast in (0.0, 150.0, 600.0):
        time, greatest = half_period(boat, mast, monkeypatch)
        assert time == pytest.approx(np.pi * np.sqrt((INERTIA + mast) / SPRING), rel=1e-3)
        sizes.append(greatest)
    assert max(sizes) == pytest.approx(min(sizes), rel=1e-6)


def greatest_gust(boat: Rig, before: float) -> float:
    """Gust whose work on the way to the point of no return is just what righting takes up there."""
    settled = steady_heel(boat, before, Working())
    assert settled is not None and settled.heel_rad is not None

    def spare(gust: float) -> float:
        crossings = scanned(boat, gust)
        if len(crossings) < 2:
            return -1e9
        kinks = [np.radians(x) for x in (15, 30, 45, 60, 72)]
        taken_up, _ = quad(
            lambda heel: righting(boat, heel) - heeling(boat, gust, heel),
            settled.heel_rad,
            crossings[1],
            points=[k for k in kinks if settled.heel_rad < k < crossings[1]],
            limit=200,
        )
        return float(taken_up)

    return float(brentq(spare, before + 100.0, 1800.0, xtol=1e-3))


@pytest.mark.parametrize("stability", [EARLY, PAST])
@pytest.mark.parametrize("before", [0.0, 400.0])
def test_she_is_lost_when_the_areas_say_so(stability: str, before: float) -> None:
    boat = boat_of(stability)
    just = greatest_gust(boat, before)
    assert np.isfinite(swing(boat, before, 0.998 * just, mast=50.0))
    assert swing(boat, before, 1.002 * just, mast=50.0) == np.inf
    # what a gust takes on top of a steady wind: she is lost in a gust that she would stand as a steady wind
    held = steady_heel(boat, 1.002 * just, Working())
    assert held is not None and held.heel_rad is not None


def test_a_gust_no_stronger_than_the_wind_moves_her_not() -> None:
    boat = boat_of()
    settled = steady_heel(boat, 500.0, Working())
    assert settled is not None and settled.heel_rad is not None
    for gust in (500.0, 300.0):
        assert swing(boat, 500.0, gust) == pytest.approx(settled.heel_rad, abs=1e-6)


def gust_or_none(boat: Rig, before: float, gust: float) -> float | None:
    return gust_swing(boat, before_N_m=before, gust_N_m=gust, mast_inertia_kg_m2=0.0, working=Working())


def test_without_the_data_no_swing_is_told() -> None:
    bare = rig(boat='\n[boat]\ndisplacement = "500 kg"\nwaterline = "0.40 m"\nlateral_centre = "0.10 m"\n')
    assert gust_or_none(bare, 100.0, 200.0) is None
    given = rig(
        boat='\n[boat]\ndisplacement = "500 kg"\nwaterline = "0.40 m"\nlateral_centre = "0.10 m"\n'
        'roll_gyration = "0.72 m"\n'
    )
    assert gust_or_none(given, 100.0, 200.0) == pytest.approx(gust_or_none(boat_of(), 100.0, 200.0), rel=1e-9)
    # she swings past the last heel of the data while she still rights: how far is not known
    assert gust_or_none(boat_of(CUT), 0.0, 1100.0) is None
    assert gust_or_none(boat_of(CUT), 0.0, 300.0) is not None
