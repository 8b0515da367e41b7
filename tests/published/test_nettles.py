"""Classical laminate theory worked by hand, in pounds and inches.

Source: A. T. Nettles, Basic Mechanics of Laminated Composite Plates, NASA RP-1351 (1994), examples 1, 2, 3,
6 and 9, as printed values stand in the tests of three public programs, which were read; the report was not.
It rounds nu21 to 0.02, where 0.3 x 1.301/20.01 is 0.019505, and carries on with what it has rounded.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import numpy as np
import pytest
from numpy.typing import NDArray

from rigcalc.materials.laminates import (
    PlyState,
    abd,
    free_strain,
    ply_state,
    stack_of,
)
from tests.materials.plies import ply_of, wall_of

from .record import Published

Floats = NDArray[np.float64]

PLY = ply_of(E1=20.01e6, E2=1.301e6, G12=1.001e6, nu12=0.3, t=0.005)
OWN, OF_WALL = ("1", "2", "12"), ("x", "y", "xy")
TERMS = {"11": (0, 0), "12": (0, 1), "16": (0, 2), "22": (1, 1), "26": (1, 2), "66": (2, 2)}

NU_21 = "0.02 %: the source rounds nu21 to 0.02"
ROUNDED = "1 %: the source goes on from strains rounded to three digits"


def ply_stiffness(term: str, degrees: float) -> float:
    return float(stack_of(wall_of(PLY, [degrees])).turned_stiffness_Pa[0][TERMS[term]])


def of_wall(letter: str, term: str, degrees: list[float]) -> float:
    found = abd(wall_of(PLY, degrees))
    return float({"A": found.A_N_m, "B": found.B_N, "D": found.D_N_m}[letter][TERMS[term]])


SANDWICH = abd(wall_of(PLY, [0.0, 45.0, 45.0, 0.0]))
PULLED = free_strain(SANDWICH, [500.0, 0.0, 0.0])
BENT = free_strain(SANDWICH, [0.0, 0.0, 0.0], [5.0, 0.0, 0.0])


def in_ply(
    ply: int, face: int, component: int, *, bent: bool, pick: Callable[[PlyState], np.ndarray]
) -> float:
    state = ply_state(SANDWICH, BENT if bent else PULLED)
    return float(pick(state)[ply, face, component])


def stress(state: PlyState) -> Floats:
    return state.stress_Pa


def strain(state: PlyState) -> Floats:
    return state.strain


def mid_strain(component: int) -> float:
    return float(PULLED.mid[component])


def curvature(component: int) -> float:
    return float(BENT.curvature_per_m[component])


def outer_strain(component: int) -> float:
    return float(BENT.curvature_per_m[component] * SANDWICH.edges_m[-1])


def percent(value: float, share: float, *, last_digit: float = 0.0) -> float:
    return abs(value) * share / 100 + last_digit / 2


CHECKS: list[Published] = [
    *(
        Published(
            "Ex. 1",
            f"Q_{term}",
            value,
            "psi",
            partial(ply_stiffness, term, 0.0),
            percent(value, 0.02),
            NU_21,
        )
        for term, value in {"11": 20130785, "12": 392656, "22": 1308853, "66": 1001000}.items()
    ),
    *(
        Published(
            "Ex. 1",
            f"Qb_{term} at 45",
            value,
            "psi",
            partial(ply_stiffness, term, 45.0),
            percent(value, 0.02),
            NU_21,
        )
        for term, value in {"11": 6557237, "12": 4555238, "16": 4705483, "66": 5163582}.items()
    ),
    *(
        Published(
            "Ex. 2, 45 below 0",
            f"{letter}_{term}",
            value,
            unit,
            partial(of_wall, letter, term, [45.0, 0.0]),
            percent(value, 0.02, last_digit=digit),
            f"half a unit of the last digit printed and {NU_21}",
        )
        for letter, unit, digit, values in (
            (
                "A",
                "lb/in",
                1.0,
                {"11": 133420, "12": 24735, "22": 39325, "16": 23523, "26": 23523, "66": 30819},
            ),
            ("B", "lb", 0.1, {"11": 169.6}),
            ("B", "lb", 0.01, {"12": -52.02, "22": -65.59, "16": -58.80, "26": -58.80, "66": -52.02}),
            ("D", "in lb", 1e-4, {"11": 1.1118, "12": 0.2061, "22": 0.3277, "16": 0.1960, "66": 0.2568}),
        )
        for term, value in values.items()
    ),
    *(
        Published(
            "Ex. 3, 0/45/45/0 pulled with 500 lb/in",
            f"strain {OF_WALL[i]} of the middle",
            value,
            "1",
            partial(mid_strain, i),
            0.5e-5,
        )
        for i, value in enumerate((0.00221, -0.0007, -0.00115))
    ),
    *(
        Published(
            "Ex. 3, 0/45/45/0 pulled with 500 lb/in",
            f"strain {OWN[i]} in the 45 ply",
            value,
            "1",
            partial(in_ply, 1, 0, i, bent=False, pick=strain),
            0.75e-5,
            "half a unit of the last digit printed, and half of that again from the rounded strains it is made of",
        )
        for i, value in enumerate((0.00018, 0.00133, -0.00291))
    ),
    *(
        Published(
            "Ex. 3, 0/45/45/0 pulled with 500 lb/in",
            f"stress {OWN[i]} in the 45 ply",
            value,
            "psi",
            partial(in_ply, 1, 0, i, bent=False, pick=stress),
            percent(value, 1.0),
            ROUNDED,
        )
        for i, value in enumerate((4146.0, 1812.0, -2913.0))
    ),
    *(
        Published(
            "Ex. 6, 0/45/45/0 bent by 5 lb",
            f"curvature {OF_WALL[i]}",
            value,
            "1/in",
            partial(curvature, i),
            percent(value, 0.5),
            "0.5 %: the source inverts a D of three digits",
        )
        for i, value in enumerate((0.418, -0.165, -0.0975))
    ),
    *(
        Published(
            "Ex. 6, 0/45/45/0 bent by 5 lb",
            f"strain {OF_WALL[i]} of the outer surface",
            value,
            "1",
            partial(outer_strain, i),
            percent(value, 0.5),
            "0.5 %: the source inverts a D of three digits",
        )
        for i, value in enumerate((0.00418, -0.00165, -0.000975))
    ),
    *(
        Published(
            "Ex. 6, 0/45/45/0 bent by 5 lb",
            f"strain {OWN[i]} at the outer face of the outer 45 ply",
            value,
            "1",
            partial(in_ply, 2, 1, i, bent=True, pick=strain),
            0.75e-5,
            "half a unit of the last digit printed, and half of that again from the rounded strains it is made of",
        )
        for i, value in enumerate((0.00039, 0.00088, -0.00292))
    ),
    *(
        Published(
            "Ex. 6, 0/45/45/0 bent by 5 lb",
            f"stress {OWN[i]} at the inner face of the inner 45 ply",
            value,
            "psi",
            partial(in_ply, 1, 0, i, bent=True, pick=stress),
            percent(value, 1.0),
            ROUNDED,
        )
        for i, value in enumerate((-8094.0, -1296.0, 2923.0))
    ),
    *(
        Published(
            "Ex. 9, 90/0/45 from below",
            f"{letter}_{term}",
            value,
            unit,
            partial(of_wall, letter, term, [90.0, 0.0, 45.0]),
            percent(value, 0.03, last_digit=digit),
            "half a unit of the last digit printed and 0.03 %: the source rounds nu21 to 0.02",
        )
        for letter, unit, digit, values in (
            ("A", "lb/in", 1.0, {"11": 139984, "16": 23527, "66": 35828}),
            ("B", "lb", 0.1, {"11": 131.2, "22": -339.4, "16": 117.6}),
            ("B", "lb", 1.0, {"12": 104}),
        )
        for term, value in values.items()
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
