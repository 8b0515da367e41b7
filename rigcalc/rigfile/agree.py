"""Checks between fields: what each field alone cannot show to be wrong.

Every rule runs on the fields it could read, so that one slip does not hide another.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import Any

import numpy as np

from ..errors import Problem
from ..formulas import Working
from ..loads import corners_of, describes_simple_polygon, holding_moment
from ..materials import MaterialError, metal_rows
from ..rig import BARE, GIVEN, HEEL_LIMITED, WIND_LIMITED
from .loose import Loose

_HAIR = 1e-9
LARGEST_HOLE = 0.4
"""Width over diameter at which the stress factors of a hole end."""


def disagreements(rig: Loose) -> list[Problem]:
    """Return every problem between the fields of a rig."""
    found: list[Problem] = []
    if rig.has("boat"):
        found += _boat(rig.boat)
    if rig.has("materials"):
        found += _own_materials(rig.materials)
    if rig.has("mast"):
        found += _mast(rig.mast, rig.get("materials", ()))
    if rig.has("sails"):
        found += _sails(rig.sails, rig.get("mast"))
    if rig.has("states", "sails"):
        found += _states(rig.states, rig.sails)
    if rig.has("cases", "sails", "states"):
        found += _cases(rig)
    return found


def _mm(value: float) -> str:
    return f"{value * 1e3:.4g} mm"


def _unique(items: Sequence[Loose], kind: str) -> Iterator[Problem]:
    seen: set[str] = set()
    for item in items:
        if item.has("name"):
            if item.name in seen:
                yield Problem(
                    f"{item.path}.name", f'"{item.name}"', f"another {kind} has this name", "Rename one."
                )
            seen.add(item.name)


def _name_known(path: str, name: str, names: Iterable[str], kind: str) -> Iterator[Problem]:
    names = list(names)
    if name not in names:
        near = difflib.get_close_matches(name, names, n=1)
        known = f"there are {', '.join(names)}" if names else f"the file has no {kind}"
        remedy = f'Did you mean "{near[0]}"?' if near else f"Name one of them, or add the {kind}."
        yield Problem(path, f'"{name}"', f"there is no {kind} of this name; {known}", remedy)


def _boat(boat: Loose) -> Iterator[Problem]:
    if boat.has("waterline_m", "lateral_centre_m") and boat.lateral_centre_m >= boat.waterline_m:
        yield Problem(
            "boat.lateral_centre",
            f"{boat.lateral_centre_m:.4g} m",
            f"it must lie below the waterline, which stands at {boat.waterline_m:.4g} m",
            "Heights are z above the heel of the mast, up positive: check both signs.",
        )
    if boat.has("stability"):
        yield from _stability(boat.stability)


def _stability(s: Loose) -> Iterator[Problem]:
    here = "boat.stability"
    if not s.has("righting_arm", "gm_m", "bm_m", "moment_30_N_m", "moment_max_N_m"):
        return
    by_gm = s.gm_m is not None or s.bm_m is not None
    by_moment = s.moment_30_N_m is not None or s.moment_max_N_m is not None
    given = [
        name
        for name, there in (
            ("righting_arm", s.righting_arm is not None),
            ("gm and bm", by_gm),
            ("moments", by_moment),
        )
        if there
    ]
    if len(given) != 1:
        yield Problem(
            here,
            " and ".join(given),
            "exactly one form is wanted: righting_arm, or gm with bm, or moment_30 and moment_max",
            "Keep the one you trust most; a table of righting arms is best." if given else "Add one of them.",
        )
    if by_gm and (s.gm_m is None or s.bm_m is None):
        missing = "gm" if s.gm_m is None else "bm"
        yield Problem(f"{here}.{missing}", "", "gm and bm belong together", f'Add {missing} = "... m".')
    if s.moment_30_N_m is not None and s.moment_max_N_m is not None and s.moment_max_N_m < s.moment_30_N_m:
        yield Problem(
            f"{here}.moment_max",
            f"{s.moment_max_N_m:.4g} N m",
            f"it is less than moment_30, {s.moment_30_N_m:.4g} N m",
            "The largest righting moment is at least that at 30 deg.",
        )
    if s.righting_arm is not None:
        yield from _righting_arm(s.righting_arm, f"{here}.righting_arm")


def _righting_arm(curve: tuple[tuple[float, float], ...], here: str) -> Iterator[Problem]:
    heels, arms = zip(*curve, strict=True)
    if heels[0] != 0.0 or abs(arms[0]) > 1e-3:
        yield Problem(
            f"{here}[0]",
            f"{np.degrees(heels[0]):.4g} deg, {arms[0]:.4g} m",
            "the table starts upright",
            'Begin with ["0 deg", "0 m"].',
        )
    if heels[-1] > np.pi + _HAIR:
        yield Problem(
            f"{here}[{len(curve) - 1}]",
            f"{np.degrees(heels[-1]):.4g} deg",
            "heel ends at 180 deg",
            "Is it in degrees?",
        )
    if max(arms) <= 0.0:
        yield Problem(
            here,
            f"at most {max(arms):.4g} m",
            "a boat that never rights cannot hold a mast up",
            "Check the signs.",
        )
    elif max(arms) > 5.0:
        yield Problem(
            here, f"up to {max(arms):.4g} m", "a righting arm over 5 m is likelier a slip", "Is it in m?"
        )


def _own_materials(materials: Sequence[Loose]) -> Iterator[Problem]:
    yield from _unique(materials, "material")
    for m in materials:
        if m.has("proof_Pa", "ultimate_Pa") and m.proof_Pa > m.ultimate_Pa:
            yield Problem(
                f"{m.path}.proof",
                f"{m.proof_Pa / 1e6:.4g} MPa",
                f"it is above ultimate, {m.ultimate_Pa / 1e6:.4g} MPa",
                "Are the two swapped?",
            )
        if m.has("welded_proof_Pa", "welded_ultimate_Pa"):
            if (m.welded_proof_Pa is None) != (m.welded_ultimate_Pa is None):
                missing = "welded_proof" if m.welded_proof_Pa is None else "welded_ultimate"
                yield Problem(
                    f"{m.path}.{missing}", "", "the two welded strengths belong together", f"Add {missing}."
                )
            for name in ("proof", "ultimate"):
                welded, parent = m.get(f"welded_{name}_Pa"), m.get(f"{name}_Pa")
                if welded is not None and parent is not None and welded > parent:
                    yield Problem(
                        f"{m.path}.welded_{name}",
                        f"{welded / 1e6:.4g} MPa",
                        f"welding does not raise {name}, {parent / 1e6:.4g} MPa",
                        "Are the two swapped?",
                    )
        if m.has("E_Pa", "G_Pa", "nu"):
            isotropic = m.E_Pa / (2 * (1 + m.nu))
            if not 0.8 <= m.G_Pa / isotropic <= 1.25:
                yield Problem(
                    f"{m.path}.G",
                    f"{m.G_Pa / 1e9:.4g} GPa",
                    f"a metal's shear modulus is E/(2 (1 + nu)) = {isotropic / 1e9:.4g} GPa, within a quarter",
                    "Check E, G and nu.",
                )


def _mast(mast: Loose, own: Sequence[Loose]) -> Iterator[Problem]:
    if mast.has("length_m", "bury_m") and mast.bury_m >= mast.length_m:
        yield Problem(
            "mast.bury",
            f"{mast.bury_m:.4g} m",
            f"it must be less than the length, {mast.length_m:.4g} m",
            "The bury is the part below the partners.",
        )
    if mast.has("length_m"):
        yield from _heights(mast)
    stations = mast.get("stations", ())
    if (
        stations
        and all(s.has("height_m", "diameter_m", "wall_m") for s in stations)
        and mast.has("length_m", "material")
    ):
        sizes_agree = True
        for problem in (*_stations(stations, mast.length_m), *_walls(stations)):
            sizes_agree = False
            yield problem
        if sizes_agree:
            yield from _materials(mast, own)
            yield from _nesting(mast)
            yield from _openings(mast)


def _stations(stations: Sequence[Loose], length: float) -> Iterator[Problem]:
    heights = [s.height_m for s in stations]
    if heights[0] != 0.0:
        yield Problem(
            "mast.stations[0].height",
            f"{heights[0]:.4g} m",
            "the first station is the heel, 0 m",
            'Add {height = "0 m", ...}.',
        )
    if abs(heights[-1] - length) > 1e-6 * length:
        yield Problem(
            f"mast.stations[{len(heights) - 1}].height",
            f"{heights[-1]:.4g} m",
            f"the last station is the tip, {length:.4g} m",
            "Give the size at the tip, or mend the length.",
        )
    for i, (before, after) in enumerate(pairwise(heights)):
        here = f"mast.stations[{i + 1}].height"
        if after < before:
            yield Problem(
                here,
                f"{after:.4g} m",
                f"it is below the station before it, {before:.4g} m",
                "Put the stations in order from heel to tip.",
            )
        elif after == before and (i == 0 or i == len(heights) - 2 or heights[i - 1] == before):
            yield Problem(
                here,
                f"{after:.4g} m",
                "two stations at one height make a step: not three, nor at an end",
                "Take one out.",
            )


def _walls(stations: Sequence[Loose]) -> Iterator[Problem]:
    for s in stations:
        if s.wall_m is None:
            yield Problem(f"{s.path}.wall", "", "a metal mast is a tube", 'Give its wall: wall = "4 mm".')
        elif s.wall_m >= s.diameter_m / 2:
            yield Problem(
                f"{s.path}.wall",
                _mm(s.wall_m),
                f"it fills the diameter of {_mm(s.diameter_m)}",
                "A wall is less than half the diameter.",
            )


def _heights(mast: Loose) -> Iterator[Problem]:
    """Everything placed on the mast must lie on it."""
    places = [
        *((s.path, "end", s.get("end_m")) for s in mast.get("sleeve", ())),
        *((o.path, "height", o.get("height_m")) for o in mast.get("opening", ())),
        *((w.path, "height", w.get("height_m")) for w in mast.get("weld", ())),
        ("mast", "fittings_height", mast.get("fittings_height_m")),
    ]
    for path, key, height in places:
        if height is not None and height > mast.length_m * (1 + _HAIR):
            yield Problem(
                f"{path}.{key}",
                f"{height:.4g} m",
                f"it is above the tip, {mast.length_m:.4g} m",
                "Heights are z from the heel.",
            )
    for s in mast.get("sleeve", ()):
        if s.has("start_m", "end_m") and s.start_m >= s.end_m:
            yield Problem(
                f"{s.path}.start",
                f"{s.start_m:.4g} m",
                f"it must be below the end, {s.end_m:.4g} m",
                "Are the two swapped?",
            )
        if s.has("diameter_m", "wall_m") and s.wall_m >= s.diameter_m / 2:
            yield Problem(
                f"{s.path}.wall",
                _mm(s.wall_m),
                f"it fills the diameter of {_mm(s.diameter_m)}",
                "A wall is less than half the diameter.",
            )


def _materials(mast: Loose, own: Sequence[Loose]) -> Iterator[Problem]:
    usable = [m for m in own if m.has("name")]
    names = {m.name for m in usable}
    walls = [s.wall_m for s in mast.stations]
    parts = [("mast.material", mast.material, min(walls), max(walls))]
    for s in mast.get("sleeve", ()):
        if s.has("material", "wall_m"):
            where = f"{s.path}.{'wall' if s.material is None else 'material'}"
            parts.append((where, s.material or mast.material, s.wall_m, s.wall_m))
    for path, name, thinnest, thickest in parts:
        welded = None
        if name in names:
            welded = next(m for m in usable if m.name == name).get("welded_proof_Pa")
        else:
            try:
                rows = metal_rows(name, thinnest_m=thinnest, thickest_m=thickest)
            except MaterialError as error:
                yield Problem(path, f'"{error.name}"', error.problem, error.remedy)
                continue
            welded = rows[0].haz_proof_Pa
        if mast.get("weld") and welded is None:
            yield Problem(
                path,
                f'"{name}"',
                "its strength beside a weld is not known here",
                "Leave the weld out, or give a [[material]] with welded_proof and welded_ultimate.",
            )


def _sizes_between(stations: Sequence[Loose], start: float, end: float) -> list[tuple[float, float]]:
    """Return (diameter, bore) at the ends of every stretch of the mast between two heights."""
    found = []
    for low, high in pairwise(stations):
        first, last = max(low.height_m, start), min(high.height_m, end)
        if high.height_m == low.height_m or first > last or (first == last and start < end):
            continue
        for z in (first, last):
            share = (z - low.height_m) / (high.height_m - low.height_m)
            diameter = low.diameter_m + share * (high.diameter_m - low.diameter_m)
            wall = low.wall_m + share * (high.wall_m - low.wall_m)
            found.append((diameter, diameter - 2 * wall))
    return found


def _nesting(mast: Loose) -> Iterator[Problem]:
    """Tubes at one height must lie inside one another."""
    sleeves = [s for s in mast.get("sleeve", ()) if s.has("start_m", "end_m", "diameter_m", "wall_m")]
    for i, s in enumerate(sleeves):
        own = (s.diameter_m, s.diameter_m - 2 * s.wall_m)
        sizes = _sizes_between(mast.stations, s.start_m, s.end_m)
        if sizes:
            most, least = max(d for d, _ in sizes), min(bore for _, bore in sizes)
            if own[0] > least + _HAIR and own[1] < most - _HAIR:
                yield Problem(
                    f"{s.path}.diameter",
                    _mm(own[0]),
                    f"it fits neither inside the mast, bored to {_mm(least)} there, nor over it, up to {_mm(most)}",
                    "Change its size, or the stretch it covers.",
                )
        for other in sleeves[:i]:
            apart = s.end_m <= other.start_m or other.end_m <= s.start_m
            bore = other.diameter_m - 2 * other.wall_m
            if not apart and own[0] > bore + _HAIR and own[1] < other.diameter_m - _HAIR:
                yield Problem(
                    f"{s.path}.diameter",
                    _mm(own[0]),
                    f"it runs into the sleeve of {_mm(other.diameter_m)}",
                    "Sleeves at one height must lie inside one another.",
                )


def _openings(mast: Loose) -> Iterator[Problem]:
    for o in mast.get("opening", ()):
        if not o.has("height_m", "width_m", "length_m"):
            continue
        sizes = _sizes_between(mast.stations, o.height_m, o.height_m)
        if sizes and o.width_m > LARGEST_HOLE * min(d for d, _ in sizes):
            yield Problem(
                f"{o.path}.width",
                _mm(o.width_m),
                f"stress at a hole is known here up to {LARGEST_HOLE:g} of the diameter, "
                f"{_mm(LARGEST_HOLE * min(d for d, _ in sizes))}",
                "Make it narrower, or have it worked out by other means.",
            )
        if o.length_m is not None and o.length_m < o.width_m:
            yield Problem(
                f"{o.path}.length",
                _mm(o.length_m),
                f"a slot across the mast, {_mm(o.width_m)} wide, raises the stress beyond what is known here",
                "Turn it along the mast, or make it round.",
            )


def _sails(sails: Sequence[Loose], mast: Loose | None) -> Iterator[Problem]:
    yield from _unique(sails, "sail")
    for sail in sails:
        edges = ("luff_m", "foot_m", "tack_height_m")
        if not sail.has("corners", "clew_rise_m", "head_m", "head_angle_rad", "roach", *edges):
            continue
        given = [name.rsplit("_m", 1)[0] for name in edges if getattr(sail, name) is not None]
        if sail.corners is not None:
            also = [
                n
                for n in (*given, "head" if sail.head_m else "", "head_angle" if sail.head_angle_rad else "")
                if n
            ]
            if also:
                yield Problem(
                    sail.path,
                    ", ".join(also),
                    "a sail given by its corners needs nothing else",
                    "Keep one form.",
                )
                continue
        elif len(given) < len(edges):
            missing = ", ".join(n for n in ("luff", "foot", "tack_height") if n not in given)
            yield Problem(sail.path, "", f"{missing} missing", "Give luff, foot and tack_height, or corners.")
            continue
        elif (sail.head_m is None) != (sail.head_angle_rad is None):
            missing = "head" if sail.head_m is None else "head_angle"
            yield Problem(
                f"{sail.path}.{missing}", "", "head and head_angle belong together", f"Add {missing}."
            )
            continue
        elif abs(sail.clew_rise_m) >= sail.foot_m:
            yield Problem(
                f"{sail.path}.clew_rise",
                f"{sail.clew_rise_m:.4g} m",
                f"it is as long as the foot, {sail.foot_m:.4g} m",
                "The foot runs from tack to clew.",
            )
            continue
        yield from _outline(sail, mast)


def _outline(sail: Loose, mast: Loose | None) -> Iterator[Problem]:
    leech = 0.0 if sail.corners is not None else _leech_height(sail)
    if sail.corners is None and leech <= 0.0:
        yield Problem(
            sail.path, "", "the clew stands above the head", "Check clew_rise, luff and head_angle."
        )
        return
    corners = corners_of(sail)  # type: ignore[arg-type]  # the fields of a Sail, read but not yet built
    if not describes_simple_polygon(corners):
        yield Problem(
            sail.path, "", "its edges cross, or it has no area", "Give the corners in order round the sail."
        )
        return
    low, high = corners[:, 1].min(), corners[:, 1].max()
    if mast is not None and mast.has("length_m", "bury_m", "name") and sail.get("mast") in (None, mast.name):
        if high > mast.length_m * (1 + _HAIR):
            yield Problem(
                sail.path,
                f"top at {high:.4g} m",
                f"it reaches above the tip of the mast, {mast.length_m:.4g} m",
                "Lower the sail, or lengthen the mast.",
            )
        if low < mast.bury_m - _HAIR:
            yield Problem(
                sail.path,
                f"foot at {low:.4g} m",
                f"it reaches below the partners, {mast.bury_m:.4g} m",
                "Heights are z from the heel: is the bury left out?",
            )


def _leech_height(sail: Loose) -> float:
    rise = sail.head_m * np.sin(sail.head_angle_rad) if sail.head_m is not None else 0.0
    return float(sail.luff_m + rise - sail.clew_rise_m)


def _states(states: Sequence[Loose], sails: Sequence[Loose]) -> Iterator[Problem]:
    yield from _unique(states, "state")
    names = [s.name for s in sails if s.has("name")]
    for state in states:
        if not state.has("set"):
            continue
        for name, share in state.set:
            yield from _name_known(f"{state.path}.set.{name}", name, names, "sail")
            if 0.0 < share < 1.0:
                yield Problem(
                    f"{state.path}.set.{name}",
                    f"{share:g}",
                    "this version works with sails set (1) or down (0)",
                    "Describe the reduced sail as a [[sail]] of its own.",
                )
        if not any(share > 0.0 for _, share in state.set):
            yield Problem(f"{state.path}.set", "", "it sets no sail", 'Use a case of kind "bare" instead.')


def _cases(rig: Loose) -> Iterator[Problem]:
    yield from _unique(rig.cases, "case")
    for case in rig.cases:
        if not case.has("kind", "state"):
            continue
        if case.state is not None:
            names = [s.name for s in rig.states if s.has("name")]
            yield from _name_known(f"{case.path}.state", case.state, names, "state")
            if case.state not in names:
                continue
        if case.kind in (HEEL_LIMITED, WIND_LIMITED):
            yield from _needs_sail(rig, case)
        if case.kind == HEEL_LIMITED:
            yield from _needs_moment(rig, case)
        if case.kind in (WIND_LIMITED, BARE):
            yield from _needs_wind(case)
        if case.kind == GIVEN:
            yield from _given(rig, case)


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


def _needs_wind(case: Loose) -> Iterator[Problem]:
    if case.has("wind_speed_m_s", "beaufort") and (case.wind_speed_m_s is None) == (case.beaufort is None):
        given = "both are given" if case.beaufort is not None else "neither is given"
        allowed = f"wind_speed or beaufort is wanted; {given}"
        yield Problem(f"{case.path}.wind_speed", "", allowed, 'Give one: wind_speed = "20 kn".')


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
    if not s.has("righting_arm", "gm_m", "bm_m", "moment_30_N_m", "moment_max_N_m"):
        return
    if holding_moment(rig, case, Working()) is None:  # type: ignore[arg-type]  # read but not yet built
        yield Problem(
            f"{case.path}.basis",
            f'"{case.basis or "RM max"}"',
            "the stability data do not give this righting moment",
            "Extend boat.stability.righting_arm, add the moment there, or choose another basis.",
        )


def _given(rig: Loose, case: Loose) -> Iterator[Problem]:
    loads = ("line_load", "line_load_forward", "point_load", "axial_N", "torque_N_m", "own_weight_heel_rad")
    if not case.has(*loads):
        return
    if all(getattr(case, name) in ((), None, 0.0) for name in loads):
        yield Problem(
            case.path, "", "it gives no load", "Add line_load, point_load, axial, torque or own_weight_heel."
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
        if not 0.0 <= z <= mast.length_m * (1 + _HAIR):
            yield Problem(
                path,
                f"{z:.4g} m",
                f"it is not on the mast, 0 m to {mast.length_m:.4g} m",
                "Heights are z from the heel.",
            )
