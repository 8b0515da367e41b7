"""How far each kind of check is used, against its limit."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from ...limits import Check
from .record import Drawn, Scene
from .style import (
    A4_TALL,
    BAD,
    DASHED,
    GOOD,
    HAIR_PT,
    INK,
    LINE_PT,
    SMALL_PT,
    SOFT,
    TEXT_PT,
    TINY_PT,
    page,
    wrapped,
)

if TYPE_CHECKING:
    from matplotlib.figure import Figure

TITLE = "How far each check is used"


def utilisation(scene: Scene) -> Drawn:
    """Return the greatest utilisation of each kind of check."""
    checks = worst_of_each(scene.result.checks)
    failed = [check for check in checks if not check.passed]
    most = checks[0]
    said = (
        f"{scene.result.verdict.upper()}. Of {len(checks)} kinds of check "
        + (f"{len(failed)} fail: {', '.join(check.id for check in failed)}. " if failed else "all pass. ")
        + f"The most used is {most.id} in '{most.case}': {_used(most)}. In order: "
        + ", ".join(f"{check.id} {_used(check)}" for check in checks)
        + "."
    )
    return Drawn("utilisation", TITLE, said, lambda: _draw(scene, checks))


def worst_of_each(checks: tuple[Check, ...]) -> list[Check]:
    """Return, for every kind of check, the one most used; the greatest first."""
    worst: dict[str, Check] = {}
    for check in checks:
        if check.id not in worst or check.utilisation > worst[check.id].utilisation:
            worst[check.id] = check
    return sorted(worst.values(), key=lambda check: -check.utilisation)


def _used(check: Check) -> str:
    return f"{check.utilisation:.2f}" if math.isfinite(check.utilisation) else "no answer"


def _draw(scene: Scene, checks: list[Check]) -> Figure:
    word = scene.result.verdict.upper()
    notes = [
        "The greatest of all cases and heights for each kind of check; 1 is the limit. Where no answer was "
        "found a check fails. `rigcalc explain NAME` tells what a name stands for."
    ]
    width = A4_TALL[0]
    label_in, case_in = 1.75, 1.95
    cases = [wrapped(_place(scene, check), case_in, TINY_PT, 3) for check in checks]
    names = [wrapped(check.id, label_in, SMALL_PT) for check in checks]
    lines = sum(max(2, len(a), len(b)) for a, b in zip(cases, names, strict=True))
    height = min(A4_TALL[1], 1.95 + lines * 0.148)
    sheet = page(TITLE, f"{scene.result.title}. {word}", size_in=(width, height), notes=notes)
    axes = sheet.figure.add_subplot(
        sheet.grid(1, 1, left_in=label_in + 0.2, right_in=case_in + 0.25, above_in=0.15, below_in=0.42)[0, 0]
    )
    finite = [check.utilisation for check in checks if math.isfinite(check.utilisation)]
    right = max(1.45, 1.38 * max(finite, default=1.0))
    axes.set_xlim(0, right)
    axes.grid(axis="y", visible=False)
    for row, check in enumerate(checks):
        known = math.isfinite(check.utilisation)
        axes.barh(
            row,
            check.utilisation if known else right,
            height=0.66,
            facecolor=GOOD if check.passed else BAD,
            alpha=0.75,
            hatch="" if check.passed else "////",
            edgecolor=INK if not check.passed else SOFT,
            linewidth=HAIR_PT,
            gid=check.id,
        )
        axes.annotate(
            f"{_used(check)} {'PASS' if check.passed else 'FAIL'}",
            # a label on the limit would hide it
            (max(check.utilisation, 1.0) if known else 1.0, row),
            xytext=(5, 0),
            textcoords="offset points",
            va="center",
            fontsize=SMALL_PT,
            weight="normal" if check.passed else "bold",
            bbox=None if known else {"facecolor": "white", "edgecolor": "none", "pad": 1},
        )
        axes.annotate(
            "\n".join(cases[row]),
            (1.02, row),
            xycoords=("axes fraction", "data"),
            va="center",
            fontsize=TINY_PT,
            color=SOFT,
            linespacing=1.1,
            annotation_clip=False,
        )
    axes.axvline(1.0, color=BAD, linewidth=LINE_PT, linestyle=DASHED)
    axes.annotate(
        "limit",
        (1.0, 1.0),
        xycoords=("data", "axes fraction"),
        xytext=(0, 2),
        textcoords="offset points",
        ha="center",
        fontsize=TEXT_PT,
        color=BAD,
    )
    axes.set_ylim(len(checks) - 0.5, -0.5)
    axes.set_yticks(range(len(checks)), ["\n".join(lines) for lines in names], fontsize=SMALL_PT)
    axes.tick_params(axis="y", length=0)
    axes.set_xlabel("demand over capacity")
    return sheet.figure


def _place(scene: Scene, check: Check) -> str:
    layer = f"{check.layer}, " if check.layer else ""
    return f"{layer}z = {scene.scale('height').text(check.height_m)}, {check.case}"
