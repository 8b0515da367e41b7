"""Rules for the cases."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from ...errors import Problem
from ...formulas import Working
from ...loads import corners_of, holding_moment, strips_of, winds
from ...rig import BARE, GIVEN, HEEL_LIMITED, KNOCKDOWN, LIFT, SAILING, WIND_LIMITED, WINDY, Case
from ..loose import Loose
from .sails import is_drawable
from .say import HAIR, name_known, unique

FREE_ANGLE_RAD = np.radians(60.0) + 1e-9
"""Angle off the bow up to which heel alone caps the force."""
MOST_SOLVED = 10_000
"""Cases times angles times stations: about two seconds of work."""
MOST_OUTRUN = 0.5
"""Share of the gust that running before it may take off; judgement."""


def case_rules(rig: Loose) -> Iterator[Problem]:
    """Yield what is wrong with the cases."""
    if not rig.cases and rig.sails:
        yield from _standard_set_holds(rig)
    yield from unique(rig.cases, "case")
    yield from _solvable(rig)
    for case in rig.cases:
        if not case.has("kind", "state"):
            continue
        if case.state is not None:
            names = [s.name for s in rig.states if s.has("name")]
            yield from name_known(f"{case.path}.state", case.state, names, "state")
            if case.state not in names:
                continue
        if case.kind in SAILING:
            yield from _needs_sail(rig, case)
        if case.kind == HEEL_LIMITED:
            yield from _needs_moment(rig, case)
            yield from _needs_arm(rig, case)
        if case.has("wind_speed_m_s", "beaufort"):
            yield from _wind(case)
        if case.kind == WIND_LIMITED:
            yield from _outruns(case)
        if case.kind == HEEL_LIMITED and case.has("force_angle_rad", "force_coefficient"):
            yield from _heels(case)
        for kind, rule in ((GIVEN, _given), (KNOCKDOWN, _knockdown), (LIFT, _lift)):
            if case.kind == kind:
                yield from rule(rig, case)


def _solvable(rig: Loose) -> Iterator[Problem]:
    """Each case is solved at every angle and every height: their product is what a check costs."""
    mast = rig.get("mast")
    if mast is None or not mast.has("stations"):
        return
    cases, angles, stations = len(rig.cases), len(mast.get("turns_rad") or (0.0,)), len(mast.stations)
    if cases * angles * stations > MOST_SOLVED:
        yield Problem(
            "case",
            f"{cases} cases, at {angles} of mast.turns, with {stations} of mast.stations",
            f"they multiply to more than {MOST_SOLVED:,}, which is more than can be worked out in a moment",
            "Thin one of them out.",
        )


def _standard_set_holds(rig: Loose) -> Iterator[Problem]:
    """The standard set needs one righting moment or the other."""
    boat = rig.get("boat")
    if boat is None or not boat.has("displacement_kg", "stability"):
        return
    s = boat.stability
    if not s.has("righting_arm", "gm_m", "bm_m", "moment_30_N_m", "moment_max_N_m", "heel_at_max_rad"):
        return
    known = (s.righting_arm, s.gm_m and s.bm_m, s.moment_30_N_m, s.moment_max_N_m)
    standard = Case(name="standard", kind=HEEL_LIMITED)
    if any(known) and holding_moment(rig, standard, Working()) is None:  # type: ignore[arg-type]  # not yet built
        yield Problem(
            "boat.stability.righting_arm",
            "",
            "it ends before 30 deg while it still rises, so no righting moment is known to hold the sails up",
            "Extend it past its greatest value, or give [[case]] tables of your own.",
        )


def _needs_sail(rig: Loose, case: Loose) -> Iterator[Problem]:
    shares: dict[str, float] = {s.name: 1.0 for s in rig.sails if s.has("name")}
    if case.state is not None:
        state = next((s for s in rig.states if s.get("name") == case.state and s.has("set")), None)
        if state is None:
            return
        shares = dict(state.set)
    own = rig.get("mast")
    here = [
        s
        for s in rig.sails
        if s.has("name", "mast")
        and shares.get(s.name, 0.0) > 0.0
        and (s.mast is None or own is None or s.mast == own.get("name"))
    ]
    if not here:
        yield Problem(
            f"{case.path}.kind",
            f'"{case.kind}"',
            "no sail is set on this mast",
            "Add a [[sail]], or set one.",
        )


def _wind(case: Loose) -> Iterator[Problem]:
    both = case.wind_speed_m_s is not None and case.beaufort is not None
    neither = case.wind_speed_m_s is None and case.beaufort is None
    if both or (neither and case.kind in WINDY):
        given = "both are given" if both else "neither is given"
        allowed = f"wind_speed or beaufort is wanted; {given}"
        yield Problem(f"{case.path}.wind_speed", "", allowed, 'Give one: wind_speed = "20 kn".')
    elif case.kind in (*SAILING, BARE) and case.wind_speed_m_s == 0.0:
        yield Problem(
            f"{case.path}.wind_speed",
            "0 m/s",
            "without wind nothing pushes on the mast, and any mast would pass",
            'Write wind_speed = "20 kn", say; the mast leaning by its weight alone is a case of kind "given".',
        )
    elif neither and case.kind == HEEL_LIMITED and case.get("apparent_wind_angle_rad", 0.0) > FREE_ANGLE_RAD:
        yield Problem(
            f"{case.path}.apparent_wind_angle",
            f"{np.degrees(case.apparent_wind_angle_rad):.3g} deg",
            "so far off the bow the heel holds back little of the force: a wind must cap it",
            'Add wind_speed = "25 kn", or use a case of kind "wind-limited".',
        )


def _outruns(case: Loose) -> Iterator[Problem]:
    """A boat that runs with the gust feels none of it; one that a wave holds back feels it all."""
    if not case.has(
        "wind_speed_m_s",
        "beaufort",
        "gust",
        "gust_factor",
        "boat_speed_m_s",
        "true_wind_angle_rad",
        "force_coefficient",
    ):
        return
    if (case.wind_speed_m_s is None) == (case.beaufort is None) or case.force_coefficient is not None:
        return
    blowing = winds(case)  # type: ignore[arg-type]  # not yet built
    assert blowing is not None
    gust = blowing[2]
    if gust > 0.0 and -case.boat_speed_m_s * np.cos(case.true_wind_angle_rad) > MOST_OUTRUN * gust:
        yield Problem(
            f"{case.path}.boat_speed",
            f"{case.boat_speed_m_s:.4g} m/s",
            f"it takes more than half off the gust of {gust:.3g} m/s, which a boat held back by a wave feels in full",
            "Write a lower speed, or leave it out, which is the safe side.",
        )


def _heels(case: Loose) -> Iterator[Problem]:
    """A force that does not heel the boat is not held by her righting moment."""
    angle = case.force_angle_rad
    if case.force_coefficient is not None and angle is not None and np.sin(angle) < 0.5:
        yield Problem(
            f"{case.path}.force_angle",
            f"{np.degrees(angle):.3g} deg",
            "a force within 30 deg of ahead or astern hardly heels the boat",
            'Give one from 30 to 150 deg, or use a case of kind "wind-limited".',
        )


def _knockdown(rig: Loose, case: Loose) -> Iterator[Problem]:
    if not case.has("tip_speed_m_s", "wet_length_m") or case.tip_speed_m_s is None:
        return
    if case.wet_length_m is None:
        yield Problem(f"{case.path}.wet_length", "", "tip_speed needs it", 'Add wet_length = "1.5 m".')
        return
    mast: Any = rig.get("mast")
    if (
        mast is not None
        and mast.has("length_m", "bury_m")
        and case.wet_length_m > (mast.length_m - mast.bury_m) * (1 + HAIR)
    ):
        yield Problem(
            f"{case.path}.wet_length",
            f"{case.wet_length_m:.4g} m",
            f"only {mast.length_m - mast.bury_m:.4g} m of the mast stands above the partners",
            "It is the part in the water, from the tip.",
        )


def _lift(rig: Loose, case: Loose) -> Iterator[Problem]:
    if not case.has("lower_height_m", "upper_height_m"):
        return
    for name in ("lower_height", "upper_height"):
        if case[f"{name}_m"] is None:
            yield Problem(f"{case.path}.{name}", "", "a lift needs both heights", f'Add {name} = "2 m".')
    low, high = case.lower_height_m, case.upper_height_m
    if low is None or high is None:
        return
    mast: Any = rig.get("mast")
    if low >= high:
        yield Problem(
            f"{case.path}.lower_height",
            f"{low:.4g} m",
            f"it must be below upper_height, {high:.4g} m",
            "Are the two swapped?",
        )
    elif mast is not None and mast.has("length_m") and high >= mast.length_m * (1 - HAIR):
        yield Problem(
            f"{case.path}.upper_height",
            f"{high:.4g} m",
            f"it must be below the tip, {mast.length_m:.4g} m",
            "Heights are z from the heel.",
        )


def _needs_arm(rig: Loose, case: Loose) -> Iterator[Problem]:
    """Every sail set must pull above the point that the moments are taken about."""
    mast = rig.get("mast")
    if case.get("arm") != "partners" or mast is None or not mast.has("bury_m"):
        return
    shares = None
    if case.state is not None:
        state = next((s for s in rig.states if s.get("name") == case.state and s.has("set")), None)
        shares = {} if state is None else dict(state.set)
    for sail in rig.sails:
        if not is_drawable(sail) or (shares is not None and shares.get(sail.get("name"), 0.0) == 0.0):
            continue
        middle = strips_of(corners_of(sail)).centroid_m
        if middle <= mast.bury_m:
            yield Problem(
                f"{case.path}.arm",
                '"partners"',
                f"sail {sail.get('name')} is centred at {middle:.4g} m, below the partners at {mast.bury_m:.4g} m",
                'Use arm = "lateral-centre".',
            )


def _needs_moment(rig: Loose, case: Loose) -> Iterator[Problem]:
    if not case.has("basis", "moment_N_m"):
        return
    if case.basis == "moment":
        if case.moment_N_m is None:
            yield Problem(f"{case.path}.moment", "", 'basis = "moment" needs it', 'Add moment = "2400 N m".')
        return
    boat = rig.get("boat")
    if boat is None or not boat.has("displacement_kg", "stability"):
        return
    s = boat.stability
    if not s.has("righting_arm", "gm_m", "bm_m", "moment_30_N_m", "moment_max_N_m", "heel_at_max_rad"):
        return
    held = holding_moment(rig, case, Working())  # type: ignore[arg-type]  # read but not yet built
    if held is None:
        yield Problem(
            f"{case.path}.basis",
            f'"{case.basis or "RM max"}"',
            "the stability data do not give this righting moment",
            "Extend boat.stability.righting_arm, add the moment there, or choose another basis.",
        )
    elif held[1].moment_N_m <= 0.0:
        yield Problem(
            f"{case.path}.basis",
            f'"{case.basis}"',
            f"the boat has no righting moment there, {held[1].moment_N_m:.4g} N m",
            'Check boat.stability, or choose basis = "RM max".',
        )


def _given(rig: Loose, case: Loose) -> Iterator[Problem]:
    loads = ("line_load", "line_load_forward", "point_load", "axial_N", "torque_N_m", "own_weight_heel_rad")
    if not case.has(*loads):
        return
    if case.own_weight_heel_rad is None and all(getattr(case, name) in ((), 0.0) for name in loads[:-1]):
        yield Problem(
            case.path, "", "it gives no load", "Add line_load, point_load, axial, torque or own_weight_heel."
        )
    for name in ("line_load", "line_load_forward"):
        curve = getattr(case, name)
        if curve and curve[0][0] == curve[-1][0]:
            yield Problem(
                f"{case.path}.{name}",
                f"{curve[0][0]:.4g} m",
                "it has no length, and so no force",
                "Use point_load.",
            )
    mast: Any = rig.get("mast")
    if mast is None or not mast.has("length_m"):
        return
    heights = [
        *((f"{case.path}.line_load[{i}]", z) for i, (z, _) in enumerate(case.line_load)),
        *((f"{case.path}.line_load_forward[{i}]", z) for i, (z, _) in enumerate(case.line_load_forward)),
        *((f"{p.path}.height", p.height_m) for p in case.point_load if p.has("height_m")),
    ]
    for path, z in heights:
        if not 0.0 <= z <= mast.length_m * (1 + HAIR):
            yield Problem(
                path,
                f"{z:.4g} m",
                f"it is not on the mast, 0 m to {mast.length_m:.4g} m",
                "Heights are z from the heel.",
            )
