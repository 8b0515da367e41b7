"""Every check in full: what is asked, what is borne, by which formula, and what would cure it."""

from __future__ import annotations

from collections.abc import Iterator

from ..limits import Check
from ..verdict import CheckResult
from .terminal import Units, amount, bullets, short, table, used, wrapped


def limits_screen(result: CheckResult, *, shown_in: Units = "both") -> str:
    """Return every check of a result, those of one limit and layer together, the most used first.

    Parameters
    ----------
    result : CheckResult
        As returned by ``check``.
    shown_in : {"both", "metric", "us"}
        Units of demand and capacity.
    """
    groups: dict[tuple[str, str], list[Check]] = {}
    for check in result.checks:
        groups.setdefault((check.id, check.layer), []).append(check)
    ordered = sorted(groups.values(), key=lambda checks: -max(c.utilisation for c in checks))
    parts = ["\n".join(_group(checks, shown_in)) for checks in ordered]
    parts.append("\n".join(bullets("Cautions", result.cautions)))
    return "\n\n".join([f"{result.title}: {result.verdict.upper()}", *parts]) + "\n"


def _group(checks: list[Check], shown_in: Units) -> Iterator[str]:
    first = checks[0]
    yield f"{first.id}" + (f", {first.layer}" if first.layer else "")
    yield from wrapped(f"{first.formula}: {first.source}", "  ")
    turned = any(c.turn_deg is not None for c in checks)
    rows = [["  case", "z m", *(["turned"] if turned else []), "demand", "capacity", "used", ""]]
    for c in sorted(checks, key=lambda c: -c.utilisation):
        known = c.utilisation != float("inf")
        rows.append(
            [
                f"  {short(c.case)}",
                f"{c.height_m:.2f}",
                *([f"{c.turn_deg:.0f} deg" if c.turn_deg is not None else ""] if turned else []),
                amount(c.demand, c.unit, shown_in) if known else "no answer",
                amount(c.capacity, c.unit, shown_in) if known else "",
                used(c.utilisation),
                "pass" if c.passed else "FAIL",
            ]
        )
    yield table(rows)
    for advice in dict.fromkeys(c.advice for c in sorted(checks, key=lambda c: -c.utilisation) if c.advice):
        yield from wrapped(f"cure: {advice}", "      ", first="    ")
