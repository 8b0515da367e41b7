"""Force and place of a line load that varies, as a given case of a rig file.

Source: R. C. Hibbeler and A. Gupta, Engineering Mechanics, Example 4.22, p. 150, as transcribed in a
public companion notebook (the book itself was not read): 100 N/m falling to 50 N/m over 3 m; the end
values follow from the parts that the example adds, its figure was not seen.
"""

from __future__ import annotations

import pytest

from ..test_loads import BURY, case_text, resultants, run
from .record import Published, Source

SOURCE = Source("Hibbeler and Gupta, Engineering Mechanics", "the mast as a beam", "second hand")


def force_and_place() -> tuple[float, float]:
    """Return the force, and its height above the greater end."""
    case = case_text("given", 'line_load = [["2 m", "100 N/m"], ["5 m", "50 N/m"]]')
    side, moment, *_ = resultants(run(case))
    assert BURY < 2.0
    return side, moment / side - 2.0


CHECKS: list[Published] = [
    Published("Ex. 4.22, p. 150", "force, by a rig file", 225.0, "N", lambda: force_and_place()[0], 0.5),
    Published(
        "Ex. 4.22, p. 150",
        "distance of the force from the greater end, by a rig file",
        1.3333,
        "m",
        lambda: force_and_place()[1],
        0.00005,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
