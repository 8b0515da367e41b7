"""Bearings, the weight on the step, what the hull carries, the post, and furling."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from ...bearings import BearingResult, FurlingResult, ThrustResult, TurningResult
from ...verdict import CheckResult, PostResult
from ..bearings import NOT_DESIGNED
from ..terminal import is_of_bearings
from .checks import anchor_of, grouped
from .record import Block, Bullets, Cell, Column, Link, Paragraph, Section, Table, Value
from .show import NONE, Show, judged, text

_BEARING: Final = (
    ("diameter that turns in it", "size", "journal_m"),
    ("length", "size", "length_m"),
    ("pressure on the projected area", "pressure", "pressure_Pa"),
    ("its peak in a close fit", "pressure", "peak_pressure_Pa"),
    ("allowed standing", "pressure", "standing_Pa"),
    ("allowed turning", "pressure", "turning_Pa"),
    ("longest bush free of both edges", "size", "edge_free_length_m"),
    ("pressure at the edge", "pressure", "edge_pressure_Pa"),
    ("width that bears, at most (Hertz)", "fine", "contact_width_m"),
    ("pressure on it", "pressure", "contact_pressure_Pa"),
    ("pressure of the load that lasts", "pressure", "lasting_pressure_Pa"),
    ("allowed for weeks", "pressure", "lasting_allowed_Pa"),
    ("pressed in by it", "thin", "creep_m"),
)


def bearings_section(result: CheckResult, show: Show) -> Section:
    """Return what the mast stands and turns in, and what the hull must carry."""
    turning = result.turning
    blocks: list[Block] = []
    if turning is None:
        blocks.append(Paragraph(("Every case hangs the mast in slings: no bearing is loaded.",)))
    else:
        blocks.append(_judged(result, show))
        blocks.append(_both(turning, show))
        blocks += _notes(turning)
        blocks.append(_thrust(turning.thrust, show))
        blocks.append(_hull(turning, show))
        blocks.append(
            Paragraph(
                (
                    "Forces of the mast on the hull, to leeward, forward and down; on the other tack the side forces "
                    f"turn. {NOT_DESIGNED}",
                )
            )
        )
    if result.post:
        blocks.append(_post(result.post, show))
    return Section("bearings", "Bearings, and what the hull carries", tuple(blocks))


def _judged(result: CheckResult, show: Show) -> Block:
    rows: list[tuple[Cell, ...]] = []
    for numbers in grouped(result):
        i = numbers[0]
        check = result.checks[i]
        if is_of_bearings(check.id):
            rows.append(
                (
                    Link(check.id, anchor_of(check)),
                    show.value("number", check.utilisation, f"checks[{i}].utilisation"),
                    judged(check.passed, f"checks[{i}].passed"),
                    show.amount(check.demand, check.unit, f"checks[{i}].demand"),
                    show.amount(check.capacity, check.unit, f"checks[{i}].capacity"),
                    check.case,
                )
            )
    if not rows:
        return Paragraph(
            ("No check: the file describes no bearing, deck or furling line. Their forces are told below.",)
        )
    columns = (
        Column("check"),
        Column("used", kind="number"),
        Column("verdict"),
        Column("demand", kind="number"),
        Column("capacity", kind="number"),
        Column("in case"),
    )
    return Table("Checks of bearings, deck and furling gear", columns, tuple(rows))


def _both(turning: TurningResult, show: Show) -> Table:
    pair = (("partners", turning.partners), ("step", turning.step))

    def row(what: str, *cells: Cell) -> tuple[Cell, ...]:
        return (what, *cells)

    rows: list[tuple[Cell, ...]] = [
        row("kind", *(text(b.kind, f"bearings.{n}.kind") for n, b in pair)),
        row("material", *(text(b.material, f"bearings.{n}.material") for n, b in pair)),
        row("greatest force", *(show.said("force", b.force_N, f"bearings.{n}.force_N") for n, b in pair)),
        row("in case", *(text(b.case, f"bearings.{n}.case") for n, b in pair)),
        row(
            "slope of the mast in it",
            *(show.said("thousandth", b.slope_rad, f"bearings.{n}.slope_rad") for n, b in pair),
        ),
        row("in case", *(text(b.slope_case, f"bearings.{n}.slope_case") for n, b in pair)),
    ]
    for name, quantity, field in _BEARING:
        if any(getattr(b, field) is not None for _, b in pair):
            rows.append(
                row(name, *(show.said(quantity, getattr(b, field), f"bearings.{n}.{field}") for n, b in pair))
            )
    for name, pick in (("clearance to machine, least", "least_m"), ("and most", "most_m")):
        if any(b.window is not None for _, b in pair):
            rows.append(
                row(
                    name,
                    *(
                        NONE
                        if b.window is None
                        else show.said("fine", getattr(b.window, pick), f"bearings.{n}.window.{pick}")
                        for n, b in pair
                    ),
                )
            )
    for i, name in enumerate(("least", "most")):
        if any(b.play_left_m is not None for _, b in pair):
            rows.append(row(f"clearance left at the {name}", *(_play(b, n, i, show) for n, b in pair)))
    if any(b.rollers is not None for _, b in pair):
        for name, quantity, field in (
            ("rollers", "count", "count"),
            ("hardest pressed, roller by roller", "force", "largest_by_place_N"),
            ("the same by Stribeck", "force", "largest_by_zone_N"),
            ("at its line of contact", "pressure", "contact_pressure_Pa"),
        ):
            rows.append(
                row(
                    name,
                    *(
                        NONE
                        if b.rollers is None
                        else show.said(quantity, getattr(b.rollers, field), f"bearings.{n}.rollers.{field}")
                        for n, b in pair
                    ),
                )
            )
    return Table(
        "The bearings in their worst cases",
        (Column("what"), Column("partners", kind="number"), Column("step", kind="number")),
        tuple(rows),
    )


def _play(b: BearingResult, name: str, i: int, show: Show) -> Value | str:
    return (
        NONE
        if b.play_left_m is None
        else show.said("fine", b.play_left_m[i], f"bearings.{name}.play_left_m[{i}]")
    )


def _notes(turning: TurningResult) -> Iterator[Block]:
    said = []
    for b in (turning.partners, turning.step):
        if b.window is not None:
            said.append(
                f"{b.name}: the clearance is least when {b.window.tightest}, and most when {b.window.loosest}"
            )
        if b.touches_both_edges:
            said.append(f"{b.name}: both edges touch the mast")
        said += [f"{b.name}: {note}" for note in b.notes]
    if said:
        yield Bullets(tuple((f"{line.rstrip('.')}.",) for line in said))


def _thrust(t: ThrustResult, show: Show) -> Table:
    at = "bearings.thrust"
    rows: list[tuple[Cell, ...]] = [
        ("hardest down on the step", show.said("force", t.down_N, f"{at}.down_N"), f"in '{t.case}'")
    ]
    if t.pressure_Pa is not None:
        rows.append(("pressure on its face", show.said("pressure", t.pressure_Pa, f"{at}.pressure_Pa"), ""))
    if t.torque_low_N_m is not None:
        rows.append(
            ("friction, at the least", show.said("torque", t.torque_low_N_m, f"{at}.torque_low_N_m"), "")
        )
        rows.append(
            ("friction, at the most", show.said("torque", t.torque_high_N_m, f"{at}.torque_high_N_m"), "")
        )
    if t.uplift_case is not None:
        rows.append(
            ("drawn out by", show.said("force", t.uplift_N, f"{at}.uplift_N"), f"in '{t.uplift_case}'")
        )
    if t.cone_holds_N is not None:
        rows.append(
            (
                "side force up to which a cone keeps the heel down",
                show.said("force", t.cone_holds_N, f"{at}.cone_holds_N"),
                "under the least weight; beyond it the heel climbs out unless a pin holds it",
            )
        )
    rows.append(
        (
            "hangs by, the boat upside down",
            show.said("force", t.inverted_N, f"{at}.inverted_N"),
            "hold the heel down",
        )
    )
    return Table(
        "The weight on the step",
        (Column("what"), Column("force or torque", kind="number"), Column("where", kind="long")),
        tuple(rows),
    )


def _hull(turning: TurningResult, show: Show) -> Table:
    fields = (
        ("partners, to leeward", "force", "partners_side_N"),
        ("forward", "force", "partners_forward_N"),
        ("step, to leeward", "force", "step_side_N"),
        ("forward", "force", "step_forward_N"),
        ("down", "force", "step_down_N"),
        ("couple", "moment", "couple_N_m"),
    )
    rows = [
        (
            load.case,
            *(show.value(q, getattr(load, f), f"bearings.hull[{i}].{f}") for _, q, f in fields),
            load.mast,
        )
        for i, load in enumerate(turning.hull)
    ]
    return Table(
        "What the hull must carry: of straight and bent mast whichever has more",
        (Column("case"), *(show.column(name, q) for name, q, _ in fields), Column("mast")),
        tuple(rows),
    )


def _post(posts: tuple[PostResult, ...], show: Show) -> Table:
    fields = (
        ("force on its top", "force", "top_force_N"),
        ("to leeward", "force", "top_side_N"),
        ("forward", "force", "top_forward_N"),
        ("moment at its foot", "moment", "foot_moment_N_m"),
        ("top moves", "fine", "top_deflection_m"),
        ("top leans", "thousandth", "top_slope_rad"),
        ("socket, top", "force", "socket_top_force_N"),
        ("socket, foot", "force", "socket_foot_force_N"),
    )
    rows = [
        (post.case, *(show.value(q, getattr(post, f), f"post[{i}].{f}") for _, q, f in fields))
        for i, post in enumerate(posts)
    ]
    return Table(
        "The post that the mast turns on",
        (Column("case"), *(show.column(name, q) for name, q, _ in fields)),
        tuple(rows),
    )


def furling_section(result: CheckResult, show: Show) -> Section:
    """Return how the sail is rolled away, or why that is not told."""
    furling = None if result.turning is None else result.turning.furling
    if furling is None:
        said = (
            "Every case hangs the mast in slings, so furling is not told."
            if result.turning is None
            else "There is no [furling] table in the file, so the effort of furling is not told."
        )
        return Section("furling", "Furling", (Paragraph((said,)),))
    blocks: tuple[Block, ...] = (
        Paragraph((Value(furling.said, "bearings.furling.said", furling.said),)),
        _gear(furling, show),
        _shares(furling, show),
        _rolls(furling, show),
        *_held(furling, show),
        *_ways(furling, show),
        *((Bullets(tuple((note,) for note in furling.notes)),) if furling.notes else ()),
    )
    return Section("furling", "Furling", blocks)


def _gear(f: FurlingResult, show: Show) -> Table:
    at = "bearings.furling"
    rows: list[tuple[Cell, ...]] = []
    for name, quantity, field in (
        ("turns from all set to all rolled", "number", "turns"),
        ("layers of line on the full drum", "count", "drum_layers"),
        ("line on it", "height", "line_m"),
        ("furled up to, drawing, friction high", "wind", "loaded_m_s"),
        ("the same, friction low", "wind", "loaded_low_m_s"),
        ("furled up to, let fly, friction high", "wind", "luffed_m_s"),
        ("the same, friction low", "wind", "luffed_low_m_s"),
        ("wind for the figures below", "wind", "wind_m_s"),
        ("the hand pulls, friction low", "force", "pull_low_N"),
        ("the hand pulls, friction high", "force", "pull_high_N"),
        ("greatest pull in the line", "force", "line_pull_N"),
        ("it may bear", "force", "line_allowed_N"),
        ("pressure at the partners, furling", "pressure", "pressure_Pa"),
        ("allowed turning", "pressure", "pressure_allowed_Pa"),
        ("a thousand furls wear off", "thin", "wear_m"),
    ):
        value = getattr(f, field)
        if value is not None:
            rows.append((name, show.said(quantity, value, f"{at}.{field}")))
    for name, field in (("pressure times speed there", "pv_Pa_m_s"), ("allowed", "pv_allowed_Pa_m_s")):
        value = getattr(f, field)
        if value is not None:
            rows.append((name, show.amount(value, "Pa m/s", f"{at}.{field}")))
    return Table(
        "The gear, and the winds one person can furl in",
        (Column("what"), Column("value", kind="number")),
        tuple(rows),
    )


def _shares(f: FurlingResult, show: Show) -> Table:
    rows = [
        (name, show.value("torque", torque, f"bearings.furling.shares[{i}][1]"))
        for i, (name, torque) in enumerate(f.shares)
    ]
    return Table(
        f"What the torque is made of in {f.wind_m_s:.0f} m/s, drawing, at the high friction",
        (Column("of"), show.column("torque", "torque")),
        tuple(rows),
    )


def _rolls(f: FurlingResult, show: Show) -> Table:
    count = len(f.rolls)
    wanted = sorted({round(k * (count - 1) / 8) for k in range(9)}) if count > 9 else range(count)
    rows = [
        (
            show.value("height", f.rolls[i].height_m, f"bearings.furling.rolls[{i}].height_m"),
            show.value("size", f.rolls[i].mast_m, f"bearings.furling.rolls[{i}].mast_m"),
            show.value("size", f.rolls[i].roll_m, f"bearings.furling.rolls[{i}].roll_m"),
        )
        for i in wanted
    ]
    return Table(
        "The roll when all of the sail is on it",
        (show.column("z", "height"), show.column("mast", "size"), show.column("roll", "size")),
        tuple(rows),
    )


def _held(f: FurlingResult, show: Show) -> Iterator[Block]:
    if f.held:
        rows = [
            (
                held.case,
                show.value("torque", held.torque_N_m, f"bearings.furling.held[{i}].torque_N_m"),
                show.value("angle", held.twist_rad, f"bearings.furling.held[{i}].twist_rad"),
            )
            for i, held in enumerate(f.held)
        ]
        yield Table(
            "What the drum must hold while sailing",
            (Column("case"), show.column("torque", "torque"), show.column("twist at the head", "angle")),
            tuple(rows),
        )


def _ways(f: FurlingResult, show: Show) -> Iterator[Block]:
    if f.ways:
        rows = [
            (
                way.change,
                show.value("wind", way.loaded_m_s, f"bearings.furling.ways[{i}].loaded_m_s"),
                show.value("wind", way.luffed_m_s, f"bearings.furling.ways[{i}].luffed_m_s"),
            )
            for i, way in enumerate(f.ways)
        ]
        yield Table(
            "What would help, the most first: wind one person could then furl in",
            (
                Column("with", kind="long"),
                show.column("drawing", "wind"),
                show.column("let fly", "wind"),
            ),
            tuple(rows),
        )
