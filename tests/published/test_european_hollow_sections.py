"""Section properties of European circular hollow sections.

Source: size table of EN 10210-2 and EN 10219-2 as held in a public Eurocode package, eurocodepy (file
chs_profiles_euro.json), which was read; three figures are given.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import partial

import pytest

from rigcalc.formulas.sections import annulus_area, annulus_plastic_modulus, annulus_second_moment

from .record import Published, Source

SOURCE = Source("EN 10210-2 and EN 10219-2", "sections and stress", "second hand")

# outside diameter and wall in mm: A in cm2, I in cm4, W_el and W_pl in cm3
TABLE = {
    (48.3, 3.2): (4.53, 11.6, 4.80, 6.52),
    (60.3, 3.2): (5.74, 23.5, 7.78, 10.4),
    (76.1, 3.2): (7.33, 48.8, 12.8, 17.0),
    (88.9, 3.2): (8.62, 79.2, 17.8, 23.5),
    (114.3, 3.6): (12.5, 192.0, 33.6, 44.1),
    (114.3, 5.0): (17.2, 257.0, 45.0, 59.8),
}

PROPERTIES: dict[str, tuple[str, Callable[[float, float], float]]] = {
    "area": ("cm2", lambda D, d: float(annulus_area(D=D, d=d))),
    "second moment": ("cm4", lambda D, d: float(annulus_second_moment(D=D, d=d))),
    "elastic modulus": ("cm3", lambda D, d: float(annulus_second_moment(D=D, d=d)) / (D / 2)),
    "plastic modulus": ("cm3", lambda D, d: float(annulus_plastic_modulus(D=D, d=d))),
}


def half_of_third_figure(value: float) -> float:
    return 0.5 * 10.0 ** (math.floor(math.log10(value)) - 2)


CHECKS: list[Published] = [
    Published(
        f"{outside:g} x {wall:g} mm",
        name,
        value,
        unit,
        partial(of, outside / 10, (outside - 2 * wall) / 10),
        half_of_third_figure(value),
        "half a unit of the third figure, all the table gives",
    )
    for (outside, wall), row in TABLE.items()
    for (name, (unit, of)), value in zip(PROPERTIES.items(), row, strict=True)
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
