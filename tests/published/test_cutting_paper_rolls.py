"""Master rolls 5600 mm wide cut to thirteen widths.

Source: the worked example of an encyclopaedia page on the cutting-stock problem, from memory: 73 master rolls are
needed and 0.401 % is wasted. The waste follows from the orders and confirms that they were remembered right.
"""

from __future__ import annotations

from functools import partial

import pytest

from . import cutting_orders
from .record import Published, Source

SOURCE = Source("an encyclopaedia page on cutting stock", "cutting and pieces", "from memory")

ORDERS = {
    1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20,
    2000: 10, 2050: 12, 2100: 14, 2140: 16, 2150: 18, 2200: 20,
}  # fmt: skip


def waste() -> float:
    return 100 * cutting_orders.plan(ORDERS, 5600, 1000).waste


CHECKS: list[Published] = [
    *(
        Published(
            "example (from memory)",
            f"master rolls, {how}",
            73,
            "1",
            partial(cutting_orders.whole_bars, ORDERS, 5600, most_patterns=most),
            1e-9,
            "a whole number",
        )
        for how, most in (("every pattern", 1000), ("patterns generated", 0))
    ),
    Published("example (from memory)", "waste", 0.401, "%", waste, 0.0005),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
