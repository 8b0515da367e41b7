"""What each case does to the mast."""

from __future__ import annotations

from ...verdict import CheckResult
from ..terminal import shedding_said
from .record import Block, Bullets, Cell, Column, Paragraph, Section, Table
from .show import Show, judged, text
from .verdict import most_used


def cases_section(result: CheckResult, show: Show) -> Section:
    """Return loads, forces, moments and deflections case by case."""
    blocks: list[Block] = [
        Paragraph(
            (
                "Heights are z, up the mast from the heel bearing. Forces of the bearings are those on the mast, "
                "positive to leeward and forward; the hull feels them turned round. Forces and moments are those of "
                "the straight mast; the checks take the larger of these and of the bent mast.",
            ),
            "note",
        ),
        _overview(result, show),
        _bearings(result, show),
        _bearings_bent(result, show),
        _bent(result, show),
        Bullets(tuple((f"{case.name}: {'; '.join(case.notes)}.",) for case in result.cases if case.notes)),
    ]
    if result.load_paths:
        blocks += _paths(result, show)
    winds = "; ".join(shedding_said(s) for s in result.mast.vortex_shedding)
    if winds:
        blocks.append(
            Paragraph(
                (
                    f"Left in the wind the mast may sway and hum: {winds}. At a mooring wrap a line round it in a "
                    "spiral, strap it, or step it out.",
                )
            )
        )
    return Section("cases", "Cases", tuple(b for b in blocks if not isinstance(b, Bullets) or b.items))


def _overview(result: CheckResult, show: Show) -> Table:
    rows: list[tuple[Cell, ...]] = []
    for i, case in enumerate(result.cases):
        at, worst = f"cases[{i}]", most_used(result, case)
        check = result.checks[worst]
        rows.append(
            (
                text(case.name, f"{at}.name"),
                show.value("number", check.utilisation, f"checks[{worst}].utilisation"),
                judged(check.passed),
                check.id,
                text(case.kind, f"{at}.kind"),
                text(case.state, f"{at}.state"),
                show.value("wind", case.wind_speed_m_s, f"{at}.wind_speed_m_s"),
                show.value("degrees", case.heel_deg, f"{at}.heel_deg"),
            )
        )
    columns = (
        Column("case"),
        Column("used", kind="number"),
        Column("verdict"),
        Column("most by"),
        Column("kind"),
        Column("sails"),
        show.column("wind", "wind"),
        show.column("heel", "degrees"),
    )
    return Table("The cases, and the check that each uses most", columns, tuple(rows))


def _bearings(result: CheckResult, show: Show) -> Table:
    fields = (
        "partners_force_N",
        "partners_side_N",
        "partners_forward_N",
        "step_force_N",
        "step_side_N",
        "step_forward_N",
        "step_thrust_N",
        "bury_shear_N",
    )
    names = ("partners", "to leeward", "forward", "step", "to leeward", "forward", "thrust", "shear in bury")
    rows = [
        (case.name, *(show.value("force", getattr(case, f), f"cases[{i}].{f}") for f in fields))
        for i, case in enumerate(result.cases)
    ]
    return Table(
        "Forces of the bearings on the straight mast",
        (Column("case"), *(show.column(name, "force") for name in names)),
        tuple(rows),
    )


def _bearings_bent(result: CheckResult, show: Show) -> Table:
    fields = (
        ("partners", "bent_partners_force_N"),
        ("step", "bent_step_force_N"),
        ("shear in bury", "bent_bury_shear_N"),
    )
    rows = [
        (case.name, *(show.value("force", getattr(case, f), f"cases[{i}].{f}") for _, f in fields))
        for i, case in enumerate(result.cases)
    ]
    return Table(
        "The same on the bent mast",
        (Column("case"), *(show.column(name, "force") for name, _ in fields)),
        tuple(rows),
    )


def _bent(result: CheckResult, show: Show) -> Table:
    turned = any(case.turn_deg is not None for case in result.cases)
    fields = (
        ("at the partners", "moment", "partners_moment_N_m"),
        ("greatest", "moment", "max_moment_N_m"),
        ("at z", "height", "max_moment_height_m"),
        ("bent mast", "moment", "bent_moment_N_m"),
        ("torque", "moment", "torque_N_m"),
        ("tip, straight", "length", "tip_deflection_m"),
        ("tip, bent", "length", "tip_deflection_large_m"),
        ("slope at partners", "thousandth", "partners_slope_rad"),
        ("factor of instability", "number", "axial_load_factor"),
        *((("turned", "degrees", "turn_deg"),) if turned else ()),
    )
    rows = [
        (case.name, *(show.value(q, getattr(case, f), f"cases[{i}].{f}") for _, q, f in fields))
        for i, case in enumerate(result.cases)
    ]
    return Table(
        "Moments and deflections",
        (Column("case"), *(show.column(name, q) for name, q, _ in fields)),
        tuple(rows),
    )


def _paths(result: CheckResult, show: Show) -> list[Block]:
    rows = [
        (
            path.case,
            text(path.load_path, f"load_paths[{i}].load_path"),
            show.value("moment", path.partners_moment_N_m, f"load_paths[{i}].partners_moment_N_m"),
            show.value("length", path.tip_deflection_m, f"load_paths[{i}].tip_deflection_m"),
            show.value("number", path.utilisation, f"load_paths[{i}].utilisation"),
            judged(path.passed, f"load_paths[{i}].passed"),
        )
        for i, path in enumerate(result.load_paths)
    ]
    columns = (
        Column("case"),
        Column("the force goes by"),
        show.column("moment at partners", "moment"),
        show.column("tip, straight", "length"),
        Column("used", kind="number"),
        Column("verdict"),
    )
    return [
        Paragraph(
            (
                "How a sail hands its force to the mast is a matter of judgement: along the luff, through the leech "
                "as a membrane, or at its corners. This is what each way would give; the verdict stands on the way "
                "that the file names.",
            ),
            "note",
        ),
        Table("Other ways of the force into the mast", columns, tuple(rows)),
    ]
