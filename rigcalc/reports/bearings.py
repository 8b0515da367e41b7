"""What the mast stands and turns in, on one screen: bearings, thrust, the hull's loads, and furling."""

from __future__ import annotations

import json
from collections.abc import Iterator

from ..bearings import BearingResult, FurlingResult, ThrustResult, TurningResult
from ..limits import Check
from ..verdict import CheckResult
from .document import check_dict, turning_dict
from .terminal import Units, amount, bullets, is_of_bearings, short, table, used, wrapped

NOT_DESIGNED = (
    "These are loads to hand to whoever designs the deck: the structure of the hull is not designed here."
)


def bearings_json(result: CheckResult) -> str:
    """Return bearings, hull loads and furling as JSON, with the checks that belong to them."""
    document = {
        "schema_version": result.schema_version,
        "rigcalc_version": result.rigcalc_version,
        "title": result.title,
        "cautions": list(result.cautions),
        "bearings": None if result.turning is None else turning_dict(result.turning),
        "post": [dict(vars(post)) for post in result.post],
        "checks": [check_dict(check) for check in result.checks if is_of_bearings(check.id)],
    }
    return json.dumps(document, indent=2, allow_nan=False) + "\n"


def bearings_screen(result: CheckResult, *, shown_in: Units = "both") -> str:
    """Return bearings, hull loads and furling as text.

    Parameters
    ----------
    result : CheckResult
        As returned by ``check``.
    shown_in : {"both", "metric", "us"}
        Units of forces and lengths.
    """
    turning = result.turning
    if turning is None:
        return f"{result.title}\n\nEvery case hangs the mast in slings: no bearing is loaded.\n"
    parts = [result.title, _judged(result)]
    parts += ["\n".join(_bearing(bearing, shown_in)) for bearing in (turning.partners, turning.step)]
    parts.append("\n".join(_thrust(turning.thrust, shown_in)))
    parts.append(_hull(turning))
    if turning.furling is None:
        parts.append(
            "\n".join(
                wrapped("Furling: there is no [furling] table, so its effort is not told.", "  ", first="")
            )
        )
    else:
        parts.append("\n".join(_furling(turning.furling, shown_in)))
    parts.append("\n".join(bullets("Cautions", result.cautions)))
    return "\n\n".join(part for part in parts if part) + "\n"


def _judged(result: CheckResult) -> str:
    """Return the checks of bearings, the most used first; one line for each kind."""
    own = [check for check in result.checks if is_of_bearings(check.id)]
    if not own:
        return "\n".join(
            wrapped(
                "No check: the file describes no bearing, deck or furling line. Forces are told below.",
                "  ",
                first="",
            )
        )
    worst: dict[str, Check] = {}
    for check in own:
        if check.id not in worst or check.utilisation > worst[check.id].utilisation:
            worst[check.id] = check
    rows = [["check", "case", "used", ""]]
    ordered = sorted(worst.values(), key=lambda check: -check.utilisation)
    for check in ordered:
        rows.append(
            [check.id, short(check.case), used(check.utilisation), "pass" if check.passed else "FAIL"]
        )
    lines = [table(rows)]
    for check in ordered:
        if check.advice:
            lines += wrapped(f"{check.id}: {check.advice}", "      ", first="    ")
    return "\n".join(lines)


def _line(text: str) -> list[str]:
    return wrapped(text, "    ", first="  ")


def _mm(value: float | None) -> str:
    return "not known" if value is None else f"{value * 1e3:.2f} mm"


def _MPa(value: float | None) -> str:
    return "not known" if value is None else f"{value / 1e6:.2f} MPa"


def _bearing(b: BearingResult, shown_in: Units) -> Iterator[str]:
    what = "" if b.kind is None else f", {b.kind} of {b.material}"
    force = amount(b.force_N, "N", shown_in)
    yield f"{b.name.capitalize()}{what}: {force} in '{b.case}', on a diameter of {b.journal_m * 1e3:.1f} mm"
    if b.pressure_Pa is not None and b.kind == "plain":
        yield from _line(
            f"pressure {_MPa(b.pressure_Pa)} on the projected area, {_MPa(b.peak_pressure_Pa)} at its peak in a close "
            f"fit; allowed standing {_MPa(b.standing_Pa)}, turning {_MPa(b.turning_Pa)}",
        )
    slope = f"slope of the mast {b.slope_rad * 1e3:.1f} mm a metre in '{b.slope_case}'"
    if b.edge_free_length_m is not None:
        slope += f"; a bush of up to {b.edge_free_length_m * 1e3:.0f} mm is free of both edges"
    if b.edge_pressure_Pa is not None:
        both = "both edges touch" if b.touches_both_edges else "one edge touches"
        slope += f"; {both}, pressed by {_MPa(b.edge_pressure_Pa)}"
    yield from _line(slope)
    if b.contact_width_m is not None:
        yield from _line(
            f"it bears on at most {_mm(b.contact_width_m)} of width (Hertz), with {_MPa(b.contact_pressure_Pa)}",
        )
    if b.lasting_pressure_Pa is not None:
        yield from _line(
            f"under a load that lasts {_MPa(b.lasting_pressure_Pa)} of {_MPa(b.lasting_allowed_Pa)} allowed; the mast "
            f"sinks in by {_mm(b.creep_m)}",
        )
    if b.window is not None and b.play_left_m is not None:
        least, most = b.play_left_m
        yield from _line(
            f"machine {_mm(b.window.least_m)} to {_mm(b.window.most_m)} of clearance; with that of the file "
            f"{_mm(least)} is left when {b.window.tightest}, and {_mm(most)} when {b.window.loosest}",
        )
    if b.rollers is not None:
        r = b.rollers
        yield from _line(
            f"{r.count} rollers: the hardest pressed bears {amount(r.largest_by_place_N, 'N', shown_in)} roller by "
            f"roller, {amount(r.largest_by_zone_N, 'N', shown_in)} by Stribeck; {_MPa(r.contact_pressure_Pa)} at its "
            "line of contact",
        )
    for note in b.notes:
        yield from wrapped(note, "    ", first="  - ")


def _thrust(t: ThrustResult, shown_in: Units) -> Iterator[str]:
    told = f"Thrust: {amount(t.down_N, 'N', shown_in)} down on the step in '{t.case}'"
    if t.pressure_Pa is not None:
        told += f", {_MPa(t.pressure_Pa)} on its face"
    if t.torque_low_N_m is not None and t.torque_high_N_m is not None:
        told += f"; friction {t.torque_low_N_m:.1f} to {t.torque_high_N_m:.1f} N m"
    if t.uplift_case is not None:
        told += f"; drawn out by {amount(t.uplift_N, 'N', shown_in)} in '{t.uplift_case}'"
    if t.cone_holds_N is not None:
        told += (
            f"; the cone keeps the heel down against {amount(t.cone_holds_N, 'N', shown_in)} of side force at "
            "the least weight on it: beyond that it climbs out unless the bearing or a pin holds it"
        )
    told += f". Upside down it hangs by {amount(t.inverted_N, 'N', shown_in)}: hold the heel down."
    yield from wrapped(told, "  ", first="")


def _hull(turning: TurningResult) -> str:
    rows = [
        ["What the hull must carry", "partners", "", "step", "", "", "couple", "mast"],
        ["case", "side N", "forward N", "side N", "forward N", "down N", "N m", ""],
    ]
    for load in turning.hull:
        parts = (
            load.partners_side_N,
            load.partners_forward_N,
            load.step_side_N,
            load.step_forward_N,
            load.step_down_N,
            load.couple_N_m,
        )
        rows.append([short(load.case), *(f"{round(part)}" for part in parts), load.mast])
    said = (
        "Forces of the mast on the hull, to leeward, forward and down, of the straight or the bent mast, whichever has "
        "more; on the other tack the side forces turn. "
        f"{NOT_DESIGNED}"
    )
    return "\n".join([table(rows), *wrapped(said, "  ", first="")])


def _furling(f: FurlingResult, shown_in: Units) -> Iterator[str]:
    yield from wrapped(f"Furling: {f.said}", "  ", first="")
    first, last = f.rolls[0], f.rolls[-1]
    yield from _line(
        f"{f.turns:.1f} turns; the roll is {first.roll_m * 1e3:.0f} mm thick at z = {first.height_m:.2f} m and "
        f"{last.roll_m * 1e3:.0f} mm at {last.height_m:.2f} m; {f.line_m:.1f} m of line in {f.drum_layers} layers on "
        "the drum",
    )
    shares = ", ".join(f"{name} {torque:.0f} N m" for name, torque in f.shares)
    yield from _line(
        f"in {f.wind_m_s:.0f} m/s, drawing: {shares} at the high friction; the hand pulls {f.pull_low_N:.0f} to "
        f"{f.pull_high_N:.0f} N",
    )
    strength = "" if f.line_allowed_N is None else f" of {amount(f.line_allowed_N, 'N', shown_in)} allowed"
    yield from wrapped(
        f"the line pulls up to {amount(f.line_pull_N, 'N', shown_in)}{strength}", "    ", first="  "
    )
    if f.pv_Pa_m_s is not None:
        wear = "" if f.wear_m is None else f"; a thousand furls wear off {f.wear_m * 1e3:.3f} mm"
        yield from _line(
            f"at the partners the bush turns under {_MPa(f.pressure_Pa)} and {f.pv_Pa_m_s / 1e6:.4f} MPa m/s in the "
            f"wind it can be furled in{wear}"
        )
    for held in f.held:
        yield from _line(
            f"held in '{held.case}': {held.torque_N_m:.0f} N m, which twists the head by "
            f"{held.twist_rad * 57.29578:.1f} deg",
        )
    for way in f.ways:
        yield from wrapped(
            f"{way.change}: {way.loaded_m_s:.1f} m/s drawing, {way.luffed_m_s:.1f} m/s let fly",
            "      ",
            first="  with ",
        )
    for note in f.notes:
        yield from wrapped(note, "    ", first="  - ")
