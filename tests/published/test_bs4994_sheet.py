"""Factors and design unit loads of glass and polyester laid by hand.

Source: a worked design sheet that applies BS 4994:1987, pp. 10 and 20, which was read; the standard was not.
It prints 1.00 for the factor on heat, where its own formula gives 1.5 for its temperatures; 1.00 is used here,
as its product does.
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.laminates import bs4994_cycle_factor, bs4994_design_factor
from rigcalc.materials.laminates import Resin, find_ply_material, resin_strain_limit

from .record import Published, Source

SOURCE = Source(
    "a design sheet to BS 4994",
    "laminates",
    "read",
    differs=(
        "The sheet prints 1.00 for the factor on heat, where its own formula gives 1.5 for its temperatures.",
    ),
)

MAT, ROVING = (200.0, 14000.0), (250.0, 16000.0)  # unit strength and modulus, N/mm to the kg/m2 of glass
STIFF_RESIN = Resin(
    name="polyester",
    E_Pa=3.5e9,
    G_Pa=1.3e9,
    nu=0.35,
    density_kg_m3=1200.0,
    ultimate_strain=0.03,
    provenance="computed",
    source="test",
)


AS_PRINTED = 1.27
"""k_4 as the sheet goes on with it."""


def cycle_factor() -> float:
    return float(bs4994_cycle_factor(N=3650.0))


def factor(k_4: float = AS_PRINTED) -> float:
    return float(bs4994_design_factor(k_1=1.5, k_2=1.3, k_3=1.0, k_4=k_4, k_5=1.5))


def load_limited(strength: float) -> float:
    return strength / factor()


def strain_percent(cloth: tuple[float, float]) -> float:
    return 100 * load_limited(cloth[0]) / cloth[1]


def design_strain_percent() -> float:
    return min(strain_percent(MAT), strain_percent(ROVING), 100 * resin_strain_limit(STIFF_RESIN))


def design_unit_load(cloth: tuple[float, float]) -> float:
    return design_strain_percent() / 100 * cloth[1]


CHECKS: list[Published] = [
    Published("sheet", "k_4 at 3650 cycles", 1.27, "1", cycle_factor, 0.005),
    Published("sheet", "K", 11.14, "1", factor, 0.005, in_full=lambda: factor(cycle_factor())),
    Published(
        "sheet",
        "load-limited unit load, mat",
        17.95,
        "N/mm to the kg/m2",
        lambda: load_limited(MAT[0]),
        0.005,
    ),
    Published(
        "sheet",
        "load-limited unit load, roving",
        22.43,
        "N/mm to the kg/m2",
        lambda: load_limited(ROVING[0]),
        0.005,
    ),
    Published("sheet", "strain, mat", 0.128, "%", lambda: strain_percent(MAT), 0.0005),
    Published("sheet", "strain, roving", 0.140, "%", lambda: strain_percent(ROVING), 0.0005),
    Published("sheet", "design strain", 0.128, "%", design_strain_percent, 0.0005),
    Published(
        "sheet",
        "design unit load, mat",
        17.95,
        "N/mm to the kg/m2",
        lambda: design_unit_load(MAT),
        0.005,
    ),
    Published(
        "sheet",
        "design unit load, roving",
        20.51,
        "N/mm to the kg/m2",
        lambda: design_unit_load(ROVING),
        0.005,
    ),
    Published(
        "sheet, mat of the table of plies",
        "thickness to the kg/m2 of glass",
        2.24,
        "mm",
        lambda: find_ply_material("E-glass/polyester mat").of_fibre_mass(1.0).thickness_m * 1e3,
        0.005,
    ),
    Published(
        "sheet, mat of the table of plies",
        "stiffness to the kg/m2 of glass",
        14000.0,
        "N/mm",
        lambda: find_ply_material("E-glass/polyester mat").of_fibre_mass(1.0).thickness_m * 6.25e9 / 1e3,
        7.0,
        "0.05 %: the table has four digits of the fibre fraction",
        kind="table",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
