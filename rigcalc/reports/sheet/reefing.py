"""When to take sail in, for the report."""

from __future__ import annotations

import math

from ... import units
from ...design import ReefingTable
from ..reef import state_said
from .record import Block, Bullets, Cell, Column, Paragraph, Section, Table
from .show import NONE, Show, text


def reefing_section(table: ReefingTable | None, missing: str, show: Show) -> Section:
    """Return the reefing table, or why there is none."""
    if table is None:
        return Section("reefing", "Reefing table", (Paragraph((missing,)),))
    rows: list[tuple[Cell, ...]] = []
    for i, state in enumerate(table.states):
        at = f"reefing.states[{i}]"
        winds = ("mast_m_s", "rm30_m_s", "rm_max_m_s", "running_m_s")
        angles = ("heel_rad", "gust_heel_rad", "no_return_rad")
        rows.append(
            (
                text(state.name, f"{at}.name"),
                show.value("area", state.area_m2, f"{at}.area_m2"),
                show.value("height", state.centre_m, f"{at}.centre_m"),
                *(show.value("wind", getattr(state, name), f"{at}.{name}") for name in winds),
                *(_angle(show, getattr(state, name), f"{at}.{name}") for name in angles),
            )
        )
    columns = (
        Column("state"),
        show.column("area", "area"),
        show.column("centre z", "height"),
        show.column("close-hauled: mast", "wind"),
        show.column("30 deg of heel", "wind"),
        show.column("greatest RM", "wind"),
        show.column("running: mast", "wind"),
        show.column("heel", "angle"),
        show.column("in a gust", "angle"),
        show.column("lost past", "angle"),
    )
    wind = units.convert(table.wind_m_s, "m/s", "kn")
    blocks: tuple[Block, ...] = (
        Paragraph(
            (
                "Wind felt aboard at which each state of the sails has had enough; heel and gust are for "
                f"{wind:.0f} kn, gusting to {table.gust_factor:.2f} times that.",
            )
        ),
        Table("When to take sail in", columns, tuple(rows)),
        Bullets(tuple((f"{state.name}: {state_said(state)}",) for state in table.states)),
        *(Paragraph((note,), "note") for note in table.notes),
    )
    return Section("reefing", "Reefing table", blocks)


def _angle(show: Show, angle: float | None, path: str) -> Cell:
    if angle is not None and math.isinf(angle):
        return "lost"
    return NONE if angle is None else show.value("angle", angle, path)
