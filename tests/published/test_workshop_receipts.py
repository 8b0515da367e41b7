"""Useful work of tackles with plain blocks and white rope, from an old trial.

Source: Workshop Receipts, series 5, "Taps", chestofbooks.com, read.
"""

from __future__ import annotations

from functools import partial

import pytest

from rigcalc.formulas.furling import purchase_efficiency

from .record import Published, Source

SOURCE = Source(
    "Workshop Receipts, Taps",
    "furling",
    "read",
    differs=(
        "The trial of tackles loses unevenly from sheave to sheave, by 2 %; one loss of 1/9 for each "
        "stands for all of it.",
    ),
)

TRIAL = {1: 90.0, 2: 81.0, 3: 75.0, 4: 68.0, 5: 61.5, 6: 59.0}
LOSS = 1 / 9
"""What the single block lost, over what it passed on."""


def passed_on_pct(sheaves: int) -> float:
    return 100 * float(purchase_efficiency(x=LOSS, S=sheaves))


CHECKS: list[Published] = [
    Published(
        "trial of tackles",
        f"useful work through {sheaves} sheaves",
        value,
        "%",
        partial(passed_on_pct, sheaves),
        2.8,
        "one loss, taken from the single block, stands for all; the trial's own steps are uneven by 2 %",
        kind="model",
    )
    for sheaves, value in TRIAL.items()
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
