"""An unsymmetric laminate with its inverse, and a channel of cloth and unidirectional plies.

Source: L. P. Kollar and G. S. Springer, Mechanics of Composite Structures (2003): the laminate as set in the
tests of one public program, the channel as printed in the manual of another; both were read, the book was not.
"""

from __future__ import annotations

from functools import cache, partial

import numpy as np
import pytest

from rigcalc.formulas.laminate_tubes import untwisted_modulus
from rigcalc.materials.laminates import Lamina, Stiffness, Wall, abd, stack_of, wall_constants
from tests.materials.plies import ply_of, wall_of

from .record import Published, Source

SOURCE = Source("Kollar and Springer, Composite Structures", "laminates", "second hand")

# GPa and mm, so that A comes in kN/mm, B in kN and D in N m (kN mm)
PLY = ply_of(E1=148.0, E2=9.65, G12=4.55, nu12=0.3, t=0.1)
CLOTH = ply_of(E1=16.39, E2=16.39, G12=38.19, nu12=0.801, t=0.2)
TERMS = {"11": (0, 0), "12": (0, 1), "16": (0, 2), "22": (1, 1), "26": (1, 2), "66": (2, 2)}

SKIN = [Lamina(CLOTH, 0.0)] * 2 + [Lamina(PLY, 0.0)] * 6
FLANGE, WEB = 49.0, 62.0


@cache
def twenty() -> Stiffness:
    return abd(wall_of(PLY, [0.0] * 10 + [45.0] * 10))


def channel() -> Stiffness:
    return abd(Wall((*SKIN, *reversed(SKIN))))


# worked out once, so that what is seen of a record is what it makes of a wall, not the wall
CHANNEL = channel()


def of_ply(term: str, degrees: float) -> float:
    return float(stack_of(wall_of(PLY, [degrees])).turned_stiffness_Pa[0][TERMS[term]])


def of_wall(letter: str, term: str) -> float:
    found = twenty()
    return float({"A": found.A_N_m, "B": found.B_N, "D": found.D_N_m}[letter][TERMS[term]])


def of_inverse(block: str, term: str) -> float:
    """Return a term of the inverse in 1e-9 m/N, 1e-6 1/N or 1e-3 1/(N m), as the source has them."""
    row, column = TERMS[term]
    # ours is in mm/kN = 1e-6 m/N, 1/kN = 1e-3 1/N and 1/(N m)
    down, right, scale = {"alpha": (0, 0, 1e3), "beta": (0, 3, 1e3), "delta": (3, 3, 1e3)}[block]
    return float(twenty().compliance[row + down, column + right] * scale)


def wall_stiffness_kN_mm() -> float:
    A = CHANNEL.A_N_m
    return float(untwisted_modulus(A_11=A[0, 0], A_12=A[0, 1], A_22=A[1, 1], t=1.0))


def wall_bending_N_m() -> float:
    D = CHANNEL.D_N_m
    return float(untwisted_modulus(A_11=D[0, 0], A_12=D[0, 1], A_22=D[1, 1], t=1.0))


def channel_EA_MN() -> float:
    return wall_stiffness_kN_mm() * (2 * FLANGE + WEB) / 1e3


def channel_centroid_mm() -> float:
    """Distance of the centroid from the tips of the flanges."""
    return (2 * FLANGE * FLANGE / 2 + WEB * FLANGE) / (2 * FLANGE + WEB)


def channel_EI_web_N_m2() -> float:
    """EI about the axis across the web: bending along the web."""
    own = wall_stiffness_kN_mm() * (2 * FLANGE * (WEB / 2) ** 2 + WEB**3 / 12)
    return own * 1e-3 + wall_bending_N_m() * 2 * FLANGE * 1e-3


def channel_EI_flange_N_m2() -> float:
    """EI about the axis along the web: bending along the flanges."""
    c = channel_centroid_mm()
    own = wall_stiffness_kN_mm() * (
        2 * (FLANGE**3 / 12 + FLANGE * (c - FLANGE / 2) ** 2) + WEB * (FLANGE - c) ** 2
    )
    return own * 1e-3 + wall_bending_N_m() * WEB * 1e-3


def channel_GJ_N_m2() -> float:
    return float(4 * channel().D_N_m[2, 2]) * (2 * FLANGE + WEB) * 1e-3


UNITS = {
    "A": "kN/mm",
    "B": "kN",
    "D": "N m",
    "alpha": "1e-9 m/N",
    "beta": "1e-6 1/N",
    "delta": "1e-3 1/(N m)",
}

CHECKS: list[Published] = [
    *(
        Published("0_10/45_10", f"Q_{term}", value, "GPa", partial(of_ply, term, 0.0), 0.005)
        for term, value in {"11": 148.87, "12": 2.91, "22": 9.71, "66": 4.55}.items()
    ),
    *(
        Published("0_10/45_10", f"Qb_{term} at 45", value, "GPa", partial(of_ply, term, 45.0), 0.005)
        for term, value in {"11": 45.65, "12": 36.55, "16": 34.79, "66": 38.19}.items()
    ),
    *(
        Published(
            "0_10/45_10",
            f"{letter}_{term}",
            value,
            UNITS[letter],
            partial(of_wall, letter, term),
            0.005,
        )
        for letter, values in {
            "A": {"11": 194.52, "12": 39.46, "16": 34.79, "26": 34.79, "22": 55.36, "66": 42.74},
            "B": {"11": -51.61, "12": 16.82, "16": 17.40, "22": 17.97, "66": 16.82},
            "D": {"11": 64.84, "12": 13.15, "16": 11.60, "22": 18.45, "66": 14.25},
        }.items()
        for term, value in values.items()
    ),
    *(
        Published(
            "0_10/45_10",
            f"{block}_{term}",
            value,
            UNITS[block],
            partial(of_inverse, block, term),
            0.005,
        )
        for block, values in {
            "alpha": {"11": 13.44, "12": -4.85, "16": -7.14, "22": 41.81, "66": 64.95},
            "beta": {"11": 17.07, "12": -6.01, "16": -11.06, "66": -24.05},
            "delta": {"11": 40.32, "22": 125.42, "66": 194.86},
        }.items()
        for term, value in values.items()
    ),
    Published("channel", "EA", 30.8687, "MN", channel_EA_MN, 0.00005),
    Published("channel", "EI along the web", 22004.0, "N m2", channel_EI_web_N_m2, 0.5),
    Published("channel", "EI along the flanges", 8182.6, "N m2", channel_EI_flange_N_m2, 0.05),
    Published("channel", "GJ", 13.194, "N m2", channel_GJ_N_m2, 0.0005),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()


def test_centroid_of_the_channel_is_the_printed_one() -> None:
    # geometry alone: it tells that the channel was read right
    assert channel_centroid_mm() == pytest.approx(33.994, abs=0.0005)


def test_shear_held_and_shear_free_differ_where_the_wall_is_not_balanced() -> None:
    """161.6 and 166.4 kN/mm: worked out elsewhere from the published A, not published themselves."""
    A = twenty().A_N_m
    free = wall_constants(twenty(), edges="membrane")
    held = untwisted_modulus(A_11=A[0, 0], A_12=A[0, 1], A_22=A[1, 1], t=1.0)
    assert free.Ex_Pa * free.wall_m == pytest.approx(161.6, abs=0.05)
    assert held == pytest.approx(166.4, abs=0.05)
    assert np.abs(free.eta_x) > 0.4
