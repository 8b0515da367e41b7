"""Rolls 100 in wide cut to orders of 45, 36, 31 and 14 in.

Source: V. Chvatal, Linear Programming (1983), ch. 13, the cutting-stock example, from memory: orders for 97, 610,
395 and 211 finals; the linear programme needs 452.25 raws and a whole-number plan 453.
"""

from __future__ import annotations

from functools import partial

import pytest

from . import cutting_orders
from .record import Published, Source

SOURCE = Source("Chvatal, Linear Programming", "cutting and pieces", "from memory")

ORDERS = {45: 97, 36: 610, 31: 395, 14: 211}

CHECKS: list[Published] = [
    Published(
        "ch. 13 (from memory)",
        "raws by the linear programme",
        452.25,
        "1",
        partial(cutting_orders.relaxed_bars, ORDERS, 100),
        1e-6,
        "exact",
    ),
    *(
        Published(
            "ch. 13 (from memory)",
            f"raws, {how}",
            453,
            "1",
            partial(cutting_orders.whole_bars, ORDERS, 100, most_patterns=most),
            1e-9,
            "a whole number",
        )
        for how, most in (("every pattern", 1000), ("patterns generated", 0))
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
