"""The first page: the verdict, what governs, the numbers to take away, warnings and cautions."""

from __future__ import annotations

from ...verdict import CaseResult, CheckResult
from ..terminal import check_said, why
from .record import Block, Caution, Column, Mark, Paragraph, Section, Table, Value
from .show import Show

METRIC, US = Show("metric"), Show("us")


def verdict_section(result: CheckResult) -> Section:
    """Return the verdict and its cautions."""
    word = result.verdict.upper()
    check = result.governing
    blocks: list[Block] = [
        Paragraph(
            (Mark(word, "good" if result.passed else "bad", "verdict", result.verdict), f": {why(result)}"),
            "lead",
        ),
        Paragraph((f"Governing: {check_said(check, 'both')}",)),
    ]
    if check.advice:
        blocks.append(Paragraph((f"Cure: {check.advice}.",)))
    blocks.append(Caution("Cautions", result.cautions))
    if result.warnings:
        blocks.append(Caution("Warnings of this rig", result.warnings))
    blocks.append(_key_numbers(result))
    return Section("verdict", "Verdict and cautions", tuple(blocks))


def _key_numbers(result: CheckResult) -> Table:
    mast = result.mast
    rows: list[tuple[str, Value | str, Value | str, str]] = []

    def told(name: str, quantity: str, value: float | None, path: str, where: str) -> None:
        metric = METRIC.said(quantity, value, path)
        us = US.said(quantity, value, path)
        rows.append((name, metric, "" if isinstance(us, Value) and us.text == plain(metric) else us, where))

    def worst(name: str, quantity: str, field: str) -> None:
        cases = [c for c in result.cases if getattr(c, field) is not None]
        if cases:
            case = max(cases, key=lambda c: float(getattr(c, field)))
            value = getattr(case, field)
            told(name, quantity, value, f"cases[{result.cases.index(case)}].{field}", f"in '{case.name}'")

    def plain(value: Value | str) -> str:
        return value if isinstance(value, str) else value.text

    worst("greatest force on the partners, straight mast", "force", "partners_force_N")
    worst("greatest force on the partners, bent mast", "force", "bent_partners_force_N")
    worst("greatest force on the step, across, straight mast", "force", "step_force_N")
    worst("greatest force on the step, across, bent mast", "force", "bent_step_force_N")
    worst("greatest thrust on the step", "force", "step_thrust_N")
    worst("greatest moment, straight mast", "moment", "max_moment_N_m")
    worst("greatest moment, bent mast", "moment", "bent_moment_N_m")
    worst("farthest the tip goes, straight mast", "length", "tip_deflection_m")
    worst("farthest the tip goes, bent mast", "length", "tip_deflection_large_m")
    told("length of the mast", "length", mast.length_m, "mast.length_m", "from the heel bearing")
    told("mass of the mast", "mass", mast.mass_kg, "mast.mass_kg", "with its fittings")
    told("its centre of gravity", "height", mast.centre_of_gravity_m, "mast.centre_of_gravity_m", "height z")
    for i, name in enumerate(("first", "second")):
        told(
            f"{name} natural frequency",
            "frequency",
            mast.natural_frequencies_Hz[i],
            f"mast.natural_frequencies_Hz[{i}]",
            "in its bearings",
        )
    told(
        "unstable under",
        "force",
        mast.axial_stability_N,
        "mast.axial_stability_N",
        "pressed down at the tip, own weight left out",
    )
    cost = mast.stability_cost
    against = (
        f"against a mast of {cost.compared_with_kg:.0f} kg" if cost.compared_with_kg else "for the whole mast"
    )
    told("its weight costs in GM", "size", cost.gm_loss_m, "mast.stability_cost.gm_loss_m", against)
    told(
        "and in righting moment at 30 deg",
        "moment",
        cost.moment_30_loss_N_m,
        "mast.stability_cost.moment_30_loss_N_m",
        against,
    )
    told("or in ballast", "mass", cost.ballast_kg, "mast.stability_cost.ballast_kg", against)
    return Table(
        "The numbers to take away",
        (
            Column("what"),
            Column("metric", kind="number"),
            Column("US", kind="number"),
            Column("where", kind="text"),
        ),
        tuple(rows),
    )


def most_used(result: CheckResult, case: CaseResult) -> int:
    """Return the number of the check that is used most in a case."""
    own = [i for i, check in enumerate(result.checks) if check.case == case.name]
    return max(own, key=lambda i: result.checks[i].utilisation)
