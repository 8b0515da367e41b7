"""Rolls 110 wide cut to orders of 20, 45, 50, 55 and 75.

Source: R. Fourer, D. M. Gay and B. W. Kernighan, AMPL: A Modeling Language for Mathematical Programming, ch. 15,
the roll-trim example, from memory: orders for 48, 35, 24, 10 and 8; the linear programme needs 46.25 rolls and a
whole-number plan 47.
"""

from __future__ import annotations

from functools import partial

import pytest

from . import cutting_orders
from .record import Published, Source

SOURCE = Source("Fourer, Gay and Kernighan, AMPL", "cutting and pieces", "from memory")

ORDERS = {20: 48, 45: 35, 50: 24, 55: 10, 75: 8}

CHECKS: list[Published] = [
    Published(
        "ch. 15 (from memory)",
        "rolls by the linear programme",
        46.25,
        "1",
        partial(cutting_orders.relaxed_bars, ORDERS, 110),
        1e-6,
        "exact",
    ),
    *(
        Published(
            "ch. 15 (from memory)",
            f"rolls, {how}",
            47,
            "1",
            partial(cutting_orders.whole_bars, ORDERS, 110, most_patterns=most),
            1e-9,
            "a whole number",
        )
        for how, most in (("every pattern", 1000), ("patterns generated", 0))
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
