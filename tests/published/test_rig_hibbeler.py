"""Tip of an overhanging beam under its own page's loads, as a given case of a rig file.

Source: R. C. Hibbeler, Mechanics of Materials, Example 12.14, p. 621, as transcribed in a public
companion notebook (the book itself was not read): span 4 m under 5 kN/m, overhang 2 m with 10 kN at its end.
"""

from __future__ import annotations

import math

import pytest

from ..test_loads import E_PA, case_text, run
from .record import Published, Source

SOURCE = Source("Hibbeler, Mechanics of Materials", "the mast as a beam", "second hand")

OUTSIDE_M, WALL_M = 0.8, 0.05
EI_N_M2 = E_PA * math.pi / 64 * (OUTSIDE_M**4 - (OUTSIDE_M - 2 * WALL_M) ** 4)


def tip_deflection_kN_m3() -> float:
    """Return EI times the tip deflection."""
    case = case_text(
        "given",
        'line_load = [["0 m", "5 kN/m"], ["4 m", "5 kN/m"]]',
        'point_load = [{height = "6 m", side = "10 kN"}]',
    )
    beam = ((0.0, OUTSIDE_M, WALL_M), (6.0, OUTSIDE_M, WALL_M))
    return run(case, stations=beam, bury_m=4.0).cases[0].tip_deflection_m * EI_N_M2 / 1e3


CHECKS: list[Published] = [
    Published(
        "Ex. 12.14, p. 621",
        "EI times the tip deflection, by a rig file",
        53.33,
        "kN m3",
        tip_deflection_kN_m3,
        0.005,
        "sum of the example's own terms -26.67 + 53.33 + 26.67; the notebook prints 52, "
        "because it divides whole numbers",
        kind="worked out",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
