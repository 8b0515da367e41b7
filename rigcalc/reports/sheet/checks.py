"""How far the mast is used along its height, and every check in full."""

from __future__ import annotations

import re
from collections.abc import Sequence

import numpy as np

from ...formulas import all_formulas
from ...limits import Check
from ...rig import Rig
from ...verdict import CheckResult
from ..explain import about_of
from .record import Block, Bullets, Cell, Column, Link, Paragraph, Section, Table
from .show import Show, judged

ROWS = 22
"""Heights of the table along the mast, beside those that must be in it."""
_SAME_M = 1e-9


def checks_section(rig: Rig, result: CheckResult, show: Show) -> Section:
    """Return the utilisation along the mast and every check, the most used first."""
    groups = grouped(result)
    return Section(
        "checks",
        "Utilisation and checks",
        (
            Paragraph(
                (
                    "Utilisation is demand over capacity; a check passes up to exactly 1. The list has each kind of "
                    "check where it is used most; below it each stands in full, case by case.",
                ),
                "note",
            ),
            _overview(result, groups, show),
            _along(rig, result, show),
            *(_group(result, numbers, show) for numbers in groups),
        ),
    )


def grouped(result: CheckResult) -> list[list[int]]:
    """Return the numbers of the checks of each limit and layer, the most used group and check first."""
    found: dict[tuple[str, str], list[int]] = {}
    for i, check in enumerate(result.checks):
        found.setdefault((check.id, check.layer), []).append(i)

    def used(i: int) -> float:
        return -result.checks[i].utilisation

    return sorted((sorted(numbers, key=used) for numbers in found.values()), key=lambda n: used(n[0]))


def anchor_of(check: Check) -> str:
    """Return the anchor of the checks of one limit and layer."""
    return re.sub(r"[^a-z0-9]+", "-", f"check {check.id} {check.layer}".lower()).strip("-")


def _overview(result: CheckResult, groups: Sequence[Sequence[int]], show: Show) -> Table:
    rows: list[tuple[Cell, ...]] = []
    for numbers in groups:
        first = numbers[0]
        check = result.checks[first]
        rows.append(
            (
                Link(check.id, anchor_of(check)),
                check.layer,
                show.value("number", check.utilisation, f"checks[{first}].utilisation"),
                judged(check.passed, f"checks[{first}].passed"),
                show.value("height", check.height_m, f"checks[{first}].height_m"),
                check.case,
            )
        )
    columns = (
        Column("check"),
        Column("of"),
        Column("used", kind="number"),
        Column("verdict"),
        show.column("at z", "height"),
        Column("in case"),
    )
    return Table("Each kind of check where it is used most", columns, tuple(rows))


def _along(rig: Rig, result: CheckResult, show: Show) -> Table:
    s = result.stations
    rows: list[tuple[Cell, ...]] = []
    for j in _chosen(rig, result):
        i = int(np.argmax(s.utilisation[:, j]))
        rows.append(
            (
                show.value("height", float(s.height_m[j]), f"stations.height_m[{j}]"),
                show.value("size", float(s.diameter_m[j]), f"stations.diameter_m[{j}]"),
                show.value("fine", float(s.wall_m[j]), f"stations.wall_m[{j}]"),
                show.value("number", float(s.utilisation[i, j]), f"stations.cases[{i}].utilisation[{j}]"),
                s.cases[i],
                "partners" if abs(s.height_m[j] - rig.mast.bury_m) < _SAME_M else "",
            )
        )
    columns = (
        show.column("z", "height"),
        show.column("outside", "size"),
        show.column("wall", "fine"),
        Column("used", kind="number"),
        Column("in case"),
        Column("place"),
    )
    return Table(
        "Utilisation along the mast: the section at each height, by the limit and the case that use it most",
        columns,
        tuple(rows),
    )


def _chosen(rig: Rig, result: CheckResult) -> list[int]:
    """Return points of the stations: even steps, the partners, steps in the file, and where it is used most."""
    s = result.stations
    z, used = s.height_m, np.max(s.utilisation, axis=0)
    at = [*np.linspace(0.0, z[-1], ROWS), rig.mast.bury_m, *(st.height_m for st in rig.mast.stations)]
    at.append(float(z[int(np.argmax(used))]))
    found = set()
    for height in at:
        nearest = float(z[int(np.argmin(np.abs(z - height)))])
        here = np.flatnonzero(np.abs(z - nearest) < _SAME_M)
        found.add(int(here[int(np.argmax(used[here]))]))
    return sorted(found)


def _group(result: CheckResult, numbers: Sequence[int], show: Show) -> Section:
    checks = [result.checks[i] for i in numbers]
    first = checks[0]
    turned = any(c.turn_deg is not None for c in checks)
    rows: list[tuple[Cell, ...]] = []
    for i, c in zip(numbers, checks, strict=True):
        at = f"checks[{i}]"
        rows.append(
            (
                c.case,
                show.value("number", c.utilisation, f"{at}.utilisation"),
                judged(c.passed, f"{at}.passed"),
                show.value("height", c.height_m, f"{at}.height_m"),
                *((show.value("degrees", c.turn_deg, f"{at}.turn_deg"),) if turned else ()),
                show.amount(c.demand, c.unit, f"{at}.demand"),
                show.amount(c.capacity, c.unit, f"{at}.capacity"),
            )
        )
    columns = (
        Column("case"),
        Column("used", kind="number"),
        Column("verdict"),
        show.column("z", "height"),
        *((show.column("turned", "degrees"),) if turned else ()),
        Column("demand", kind="number"),
        Column("capacity", kind="number"),
    )
    summaries = {formula.name: formula.summary for formula in all_formulas()}
    about = about_of(first)
    blocks: list[Block] = [] if about is None else [Paragraph((f"It guards against this: {about.line}",))]
    blocks += [
        Paragraph(
            (f"Formula: {name}. {summaries.get(name, '')} Source: {'; '.join(sources)}.",),
        )
        for name, sources in _sources(checks).items()
    ]
    blocks.append(Table(f"{heading_of(first)}, case by case", columns, tuple(rows)))
    cures = dict.fromkeys(c.advice for c in checks if c.advice)
    if cures:
        blocks.append(Bullets(tuple((f"Cure: {advice}.",) for advice in cures)))
    word = "PASS" if all(c.passed for c in checks) else "FAIL"
    used = "no answer" if not np.isfinite(first.utilisation) else f"{first.utilisation:.2f}"
    return Section(anchor_of(first), f"{heading_of(first)}: {used}, {word}", tuple(blocks), fold=True)


def heading_of(check: Check) -> str:
    """Name a limit and its layer."""
    return f"{check.id} of the {check.layer}" if check.layer else check.id


def _sources(checks: Sequence[Check]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for check in checks:
        sources = found.setdefault(check.formula, [])
        if check.source not in sources:
            sources.append(check.source)
    return found
