"""The boat heeling: where she settles, from where she does not come back, and how far a gust throws her."""

from __future__ import annotations

import numpy as np

from ..formulas import Working
from ..formulas.motion import mass_inertia
from ..formulas.sails import heel_falloff
from ..frozen import dataclass
from ..rig import FALLOFFS, Boat, Rig
from ..roots import root
from ..stretches import distinct
from ..units import STANDARD_GRAVITY_M_S2
from .righting import arm_at, roll_gyration

STEP_RAD = np.radians(0.25)
SWING_TURNS = 60.0
"""Small-angle periods within which a gust has thrown her as far as it does."""


@dataclass(frozen=True)
class SteadyHeel:
    """Balance of heeling and righting moments.

    Parameters
    ----------
    heel_rad : float or None
        Where the boat settles; None when the wind lays her over.
    no_return_rad : float or None
        Heel past which this wind does not let her come back; None when the data end before it.
    lost : bool
        Whether this wind lays her over: no balance, and the data reach the heel where she stops righting.
    """

    heel_rad: float | None
    no_return_rad: float | None
    lost: bool = False


def righting_curve(boat: Boat) -> tuple[np.ndarray, np.ndarray] | None:
    """Return heels and righting moments as far as the stability data reach, or None without a curve.

    Upright to the last heel of the table, or to 30 deg for a wall-sided hull.
    """
    if boat.stability.righting_arm is not None:
        last = boat.stability.righting_arm[-1][0]
    elif boat.stability.gm_m is not None:
        last = np.pi / 6
    else:
        return None
    heels = distinct(np.append(np.arange(0.0, last, STEP_RAD), last))
    weight = boat.displacement_kg * STANDARD_GRAVITY_M_S2
    arms = [arm_at(boat, float(heel), Working()) for heel in heels]
    return heels, weight * np.array([0.0 if arm is None else arm for arm in arms])


def heeling_at(rig: Rig, upright_N_m: float, heel_rad: float, working: Working) -> float:
    """Return the heeling moment left at a heel of one that is ``upright_N_m`` upright."""
    n = FALLOFFS[rig.wind.heel_falloff]
    # past level the sail lies in the water and the wind gets under nothing
    share = working.use(heel_falloff, phi=min(heel_rad, np.pi / 2), n=n) if heel_rad < np.pi / 2 else 0.0
    return float(upright_N_m * share)


def steady_heel(rig: Rig, upright_N_m: float, working: Working) -> SteadyHeel | None:
    """Return where the boat settles under a steady heeling moment, or None without a righting curve.

    The first heel at which the righting moment overtakes the heeling moment is where she settles; the
    next at which it falls back below is where she is lost. Each is refined by Brent's method.
    """
    curve = righting_curve(rig.boat)
    if curve is None:
        return None
    heels, righting = curve

    def short(heel: float) -> float:
        return float(np.interp(heel, heels, righting)) - heeling_at(rig, upright_N_m, heel, working)

    margin = np.array([short(float(heel)) for heel in heels])
    if upright_N_m <= 0.0:
        return SteadyHeel(0.0, None)

    def first(from_index: int, sign: float) -> tuple[float, int] | None:
        for i in range(from_index, heels.size - 1):
            if sign * margin[i] < 0.0 <= sign * margin[i + 1]:
                return root(short, heels[i], heels[i + 1], xtol=1e-10), i + 1
        return None

    settles = first(0, 1.0)
    if settles is None:
        return SteadyHeel(None, None, lost=bool(righting[-1] <= 0.0))
    lost = first(settles[1], -1.0)
    return SteadyHeel(settles[0], None if lost is None else lost[0])


def gust_swing(
    rig: Rig, *, before_N_m: float, gust_N_m: float, mast_inertia_kg_m2: float, working: Working
) -> float | None:
    """Return the greatest heel when a gust strikes, or None where it cannot be worked out.

    The boat lies settled under ``before_N_m`` when the heeling moment, referred to upright, steps up to
    ``gust_N_m``. Roll is integrated by an adaptive Runge-Kutta method to a relative error of 1e-8; the
    water that rolls with the hull is left out, which makes her quicker. Infinite when she is lost; None as
    well when she passes the last heel of data that end while she still rights.
    """
    from scipy.integrate import solve_ivp

    curve, k, start = righting_curve(rig.boat), roll_gyration(rig.boat), steady_heel(rig, before_N_m, working)
    if curve is None or k is None or start is None:
        return None
    if start.heel_rad is None:
        return float("inf") if start.lost else None
    heels, righting = curve
    inertia = float(working.use(mass_inertia, m=rig.boat.displacement_kg, k=k)) + mast_inertia_kg_m2
    stiffness = righting[1] / heels[1]
    damping = 2 * rig.boat.roll_damping * np.sqrt(max(stiffness, 0.0) * inertia)

    def motion(_: float, state: np.ndarray) -> list[float]:
        heel, rate = float(state[0]), float(state[1])
        right = float(np.interp(heel, heels, righting))
        return [rate, (heeling_at(rig, gust_N_m, max(heel, 0.0), working) - right - damping * rate) / inertia]

    def turns_back(_: float, state: np.ndarray) -> float:
        return float(state[1])

    def lost(_: float, state: np.ndarray) -> float:
        return float(state[0] - heels[-1])

    turns_back.terminal, turns_back.direction = True, -1.0  # type: ignore[attr-defined]  # how solve_ivp is told
    lost.terminal = True  # type: ignore[attr-defined]  # as above
    period = 2 * np.pi * np.sqrt(inertia / max(stiffness, 1e-9))
    run = solve_ivp(
        motion,
        (0.0, SWING_TURNS * period),
        [start.heel_rad, 1e-9],
        events=(turns_back, lost),
        rtol=1e-8,
        atol=1e-10,
    )
    if run.t_events[1].size:
        return None if righting[-1] > 0.0 else float("inf")
    if not run.t_events[0].size:
        # creeping up on a balance she hardly reaches: the heel of the gust held steady is the least it can be
        held = steady_heel(rig, gust_N_m, working)
        if held is None or held.heel_rad is None:
            return float("inf") if held is not None and held.lost else None
        return max(held.heel_rad, float(np.max(run.y[0])))
    return float(np.max(run.y[0]))
