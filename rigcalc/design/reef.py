"""When to take sail in: for every state, the wind at which the mast, or the boat, has had enough."""

from __future__ import annotations

import numpy as np

from ..formulas import Working
from ..formulas.wind import wind_pressure
from ..frozen import dataclass
from ..loads import (
    CaseLoad,
    SailPlan,
    largest_moment,
    moment_at_30,
    roll_gyration,
    sail_plan,
    sails_of_state,
    state_names,
)
from ..loads.case import cloth_on_mast
from ..loads.heel import gust_swing, heeling_at, righting_curve, steady_heel
from ..loads.righting import RightingMoment
from ..rig import GUSTS, HEEL_LIMITED, WIND_LIMITED, Case, Rig, dynamic_factor_of
from ..verdict import CAUTIONS, NOT_CHECKED, build_model, evaluate_loads, mast_result

CLOSE_HAULED, RUNNING = Case(name="close-hauled", kind=HEEL_LIMITED), Case(name="running", kind=WIND_LIMITED)
STRONGEST_M_S = 60.0
MOST_ROUNDS = 60
BEAUFORT_5_M_S = 10.7


@dataclass(frozen=True)
class StateLimits:
    """Winds that one state of the sails stands, felt aboard at the reference height.

    A wind is None where the data do not give it or it lies past 60 m/s.

    Parameters
    ----------
    area_m2, centre_m : float
        Area set on all masts, and height z of the centre of its force.
    mast_m_s : float or None
        Wind close-hauled at which the mast of the file, with the dynamic factor, is used to the full; zero
        when its own weight is too much for it.
    rm30_m_s, rm_max_m_s : float or None
        Wind at which the boat is held at 30 deg, and at her greatest righting moment.
    running_m_s : float or None
        Mean wind dead aft at which the mast is used to the full in the gusts.
    first : str
        Which of the close-hauled limits comes first.
    heel_rad, no_return_rad : float or None
        In the wind asked for: where the boat settles, infinite when it lays her over, and the heel past
        which she does not come back.
    gust_heel_rad : float or None
        How far a gust from that wind throws her; infinite when she is lost.
    """

    name: str
    area_m2: float
    centre_m: float
    mast_m_s: float | None
    rm30_m_s: float | None
    rm_max_m_s: float | None
    running_m_s: float | None
    first: str
    heel_rad: float | None
    no_return_rad: float | None
    gust_heel_rad: float | None


@dataclass(frozen=True)
class ReefingTable:
    """Every state of a rig, most sail first."""

    title: str
    wind_m_s: float
    gust_factor: float
    states: tuple[StateLimits, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]


def reefing_table(rig: Rig, *, wind_m_s: float = BEAUFORT_5_M_S) -> ReefingTable:
    """Return what each state of the sails can stand.

    Parameters
    ----------
    rig : Rig
        With sails; the states of the file, and all sail.
    wind_m_s : float
        Wind felt aboard for which heel and gust are worked out.

    Returns
    -------
    ReefingTable
    """
    working = Working()
    bare = mast_result(rig, build_model(rig, ()), Working())
    inertia = bare.stability_cost.roll_inertia_kg_m2
    gust = GUSTS[Case(name="", kind=WIND_LIMITED).gust][0]
    states = [_state(rig, name, wind_m_s, gust, inertia, working) for name in state_names(rig)]
    close, on_run = dynamic_factor_of(CLOSE_HAULED), dynamic_factor_of(RUNNING)
    notes = [
        f"Close-hauled at {np.degrees(CLOSE_HAULED.apparent_wind_angle_rad):.0f} deg, load on the mast x {close:g}; "
        f"running, load x {on_run:g} in gusts of {gust:.2f} times the mean wind.",
        f"The heeling moment falls off as {rig.wind.heel_falloff}; a gust strikes the boat as she lies settled; roll "
        f"damping {rig.boat.roll_damping:g} of critical.",
        *working.warnings,
    ]
    if roll_gyration(rig.boat) is None:
        notes.append("Gusts are not worked out: give boat.beam, or boat.roll_gyration.")
    curve = righting_curve(rig.boat)
    if curve is None:
        notes.append("Heels are not worked out: give boat.stability.righting_arm, or gm and bm.")
    elif curve[1][-1] > 0.0:
        notes.append(
            f"The stability data end at {np.degrees(curve[0][-1]):.0f} deg: no heel past it is told."
        )
    ordered = sorted(states, key=lambda s: -s.area_m2)
    return ReefingTable(rig.title, wind_m_s, gust, tuple(ordered), tuple(notes), (*CAUTIONS, NOT_CHECKED))


def _state(
    rig: Rig, name: str, wind_m_s: float, gust: float, inertia: float, working: Working
) -> StateLimits:
    beating = sail_plan(
        rig,
        name,
        case=CLOSE_HAULED,
        apparent_wind_angle_rad=CLOSE_HAULED.apparent_wind_angle_rad,
        working=working,
    )
    running = sail_plan(rig, name, case=RUNNING, apparent_wind_angle_rad=np.pi, working=working)
    side, heeling = beating.wind.force()[0], beating.wind.moment(rig.boat.lateral_centre_m)[0]
    rm30, rm_max = moment_at_30(rig.boat, working), largest_moment(rig.boat, working)
    found = {
        "mast": _mast_wind(rig, beating, dynamic_factor_of(CLOSE_HAULED), np.pi / 6),
        "RM30": _boat_wind(rig, rm30, heeling, working),
        "RM max": _boat_wind(rig, rm_max, heeling, working),
    }
    reached = {name: wind for name, wind in found.items() if wind is not None}
    in_wind, in_gust = (heeling * _pressure(rig, v) for v in (wind_m_s, wind_m_s * gust))
    settled = steady_heel(rig, in_wind, working)
    mast_on_run = _mast_wind(rig, running, dynamic_factor_of(RUNNING), 0.0)
    return StateLimits(
        name=name,
        area_m2=_area(rig, name),
        centre_m=rig.boat.lateral_centre_m + heeling / side,
        mast_m_s=found["mast"],
        rm30_m_s=found["RM30"],
        rm_max_m_s=found["RM max"],
        running_m_s=None if mast_on_run is None else mast_on_run / gust,
        first=min(reached, key=lambda name: reached[name]) if reached else "none",
        heel_rad=None if settled is None else float("inf") if settled.lost else settled.heel_rad,
        no_return_rad=None if settled is None else settled.no_return_rad,
        gust_heel_rad=gust_swing(
            rig, before_N_m=in_wind, gust_N_m=in_gust, mast_inertia_kg_m2=inertia, working=working
        ),
    )


def _area(rig: Rig, state: str) -> float:
    return sum(sail.area_m2 for sail in sails_of_state(rig, state))


def _pressure(rig: Rig, wind_m_s: float) -> float:
    return float(wind_pressure(rho=rig.wind.air_density_kg_m3, v=wind_m_s))


def _boat_wind(
    rig: Rig, held: RightingMoment | None, heeling_per_Pa: float, working: Working
) -> float | None:
    """Wind whose heeling moment, at the heel of a righting moment, equals it."""
    if held is None:
        return None
    left = heeling_at(rig, heeling_per_Pa, held.heel_rad, working)
    if left <= 0.0:
        return None
    return float(np.sqrt(2 * held.moment_N_m / left / rig.wind.air_density_kg_m3))


def _mast_wind(rig: Rig, plan: SailPlan, factor: float, heel_rad: float) -> float | None:
    """Wind at which the greatest utilisation is 1.

    Utilisation grows as the square of the wind, a little more where the bent mast or its own weight
    counts: dividing the wind by the root of the utilisation closes in on the answer several digits a
    round. Where the mast finds no equilibrium the wind is halved instead.
    """
    if _utilisation(rig, plan, factor, heel_rad, 0.0) >= 1.0:
        return 0.0
    wind = BEAUFORT_5_M_S
    for _ in range(MOST_ROUNDS):
        used = _utilisation(rig, plan, factor, heel_rad, wind)
        if abs(used - 1.0) < 1e-6:
            return wind
        wind = wind / 2 if np.isinf(used) else wind / float(np.sqrt(used))
        if wind > STRONGEST_M_S:
            return None
    return None


def _utilisation(rig: Rig, plan: SailPlan, factor: float, heel_rad: float, wind_m_s: float) -> float:
    load = CaseLoad(
        name="wind",
        kind=HEEL_LIMITED,
        state="",
        applied=plan.on_mast.scaled(_pressure(rig, wind_m_s) * factor),
        weight_heel_rad=heel_rad,
        weight_factor=factor,
        hung_kg_m=cloth_on_mast(plan.sails),
    )
    return evaluate_loads(rig, (load,), Working()).greatest(load.name)
