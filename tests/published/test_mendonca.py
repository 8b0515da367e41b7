"""A, B and D of a wall of three plies.

Source: P. T. R. Mendonca, Materiais Compostos e Estruturas-sanduiche (2005), pp. 102 and 201, as set in the
tests of a public program, which were read; the book was not.
"""

from __future__ import annotations

from functools import cache, partial

import pytest

from rigcalc.materials.laminates import Lamina, Stiffness, Wall, abd, stack_of
from tests.materials.plies import ply_of, wall_of

from .record import Published, Source

SOURCE = Source("Mendonca, Materiais Compostos", "laminates", "second hand")

TERMS = {"11": (0, 0), "12": (0, 1), "16": (0, 2), "22": (1, 1), "26": (1, 2), "66": (2, 2)}
THIN, THICK = (ply_of(E1=54870.0, E2=18320.0, G12=8900.0, nu12=0.25, t=t) for t in (3.0, 6.0))
GLASS = stack_of(wall_of(ply_of(E1=39000.0, E2=8300.0, G12=4000.0, nu12=0.26), [0.0]))


@cache
def wall() -> Stiffness:
    skin = wall_of(THIN, [45.0]).laminae
    return abd(Wall((*skin, Lamina(THICK, 0.0), *skin)))


def of_wall(letter: str, term: str) -> float:
    return float({"A": wall().A_N_m, "D": wall().D_N_m}[letter][TERMS[term]])


def of_ply(term: str) -> float:
    return float(GLASS.local_stiffness_Pa[0][TERMS[term]])


CHECKS: list[Published] = [
    *(
        Published(
            "p. 201, 45/0/45",
            f"{letter}_{term}",
            value,
            unit,
            partial(of_wall, letter, term),
            0.05,
        )
        for letter, unit, values in (
            (
                "A",
                "N/mm",
                {
                    "11": 515794.0,
                    "12": 100823.3,
                    "22": 291820.2,
                    "16": 55993.4,
                    "26": 55993.4,
                    "66": 151491.9,
                },
            ),
            (
                "D",
                "N mm",
                {
                    "11": 4779418.7,
                    "12": 1612106.5,
                    "22": 4107497.4,
                    "16": 1175862.3,
                    "26": 1175862.3,
                    "66": 2220130.6,
                },
            ),
        )
        for term, value in values.items()
    ),
    *(
        Published(
            "p. 102, glass and epoxy",
            f"Q_{term}",
            value,
            "MPa",
            partial(of_ply, term),
            0.005,
        )
        for term, value in {"11": 39569.27, "12": 2189.50, "22": 8421.15, "66": 4000.0}.items()
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
