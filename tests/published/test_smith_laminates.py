"""Thickness, mass and constants of carbon and epoxy laminates.

Source: R. F. Smith, tests of a public laminate program, which were read. The program puts a rigid fibre into
the shear modulus, for which Halpin-Tsai ends at G_m (1 + V_f)/(1 - V_f); laminates start from its own
constants of the ply.
"""

from __future__ import annotations

from functools import cache

import pytest

from rigcalc.formulas.laminates import (
    fibre_mass_fraction,
    halpin_tsai_modulus,
    isotropic_shear_modulus,
    mixture_modulus,
    mixture_poisson_ratio,
    ply_density,
    ply_thickness,
)
from rigcalc.materials.laminates import (
    Fibre,
    Ply,
    Resin,
    WallConstants,
    abd,
    ply_from_constituents,
    stack_of,
    wall_constants,
)
from tests.materials.plies import ply_of, wall_of

from .record import Published, Source

SOURCE = Source("tests of a laminate program, R. F. Smith", "laminates", "read")

FIBRE = Fibre(
    name="carbon",
    E1_Pa=233e9,
    E2_Pa=233e9,
    G12_Pa=97.1e9,
    nu12=0.2,
    density_kg_m3=1760.0,
    provenance="read",
    source="as above",
)
RESIN = Resin(
    name="epoxy",
    E_Pa=4.62e9,
    G_Pa=1.6985e9,
    nu=0.36,
    density_kg_m3=1100.0,
    provenance="read",
    source="as above",
)
PLY = ply_of(E1=118.81, E2=15.109, G12=5.0956, nu12=0.28, t=0.1136)
CROSS = [0.0, 90.0, 90.0, 0.0]
EVEN = [0.0, 90.0, 45.0, -45.0, -45.0, 45.0, 90.0, 0.0]


@cache
def laid() -> Ply:
    return ply_from_constituents(
        FIBRE, RESIN, fibre_fraction=0.5, areal_mass_kg_m2=0.1, method="halpin-tsai-1.5"
    )


def constants(degrees: list[float]) -> WallConstants:
    return wall_constants(abd(wall_of(PLY, degrees)), edges="membrane")


def eight(pick: str) -> float:
    stack = stack_of(wall_of(laid(), EVEN))
    return float(getattr(stack, pick)) * 1e3


EIGHT = "ply of 100 g/m2 at V_f 0.5, eight of them"
ONE = "ply of 100 g/m2 at V_f 0.5"

CHECKS: list[Published] = [
    Published(
        ONE, "thickness", 0.1136, "mm", lambda: float(ply_thickness(W=0.1, rho_f=1760.0, V_f=0.5)) * 1e3, 5e-5
    ),
    Published(ONE, "thickness, by the whole path", 0.1136, "mm", lambda: laid().thickness_m * 1e3, 5e-5),
    Published(
        ONE,
        "fibre by mass",
        0.615,
        "1",
        lambda: float(fibre_mass_fraction(V_f=0.5, V_m=0.5, rho_f=1760.0, rho_m=1100.0)),
        5e-4,
    ),
    Published(
        ONE,
        "density",
        1430.0,
        "kg/m3",
        lambda: float(ply_density(V_f=0.5, V_m=0.5, rho_f=1760.0, rho_m=1100.0)),
        0.5,
    ),
    Published(
        ONE,
        "E_1",
        118.81,
        "GPa",
        lambda: float(mixture_modulus(E_f1=233.0, E_m=4.62, V_f=0.5, V_m=0.5)),
        0.005,
    ),
    Published(
        ONE,
        "E_2",
        15.109,
        "GPa",
        lambda: float(halpin_tsai_modulus(P_f=233.0, P_m=4.62, V_f=0.5, xi=1.5)),
        5e-4,
    ),
    Published(ONE, "E_2, by the whole path", 15.109, "GPa", lambda: laid().E2_Pa / 1e9, 5e-4),
    Published(
        ONE,
        "G_12",
        5.0956,
        "GPa",
        lambda: float(
            halpin_tsai_modulus(P_f=1e9, P_m=isotropic_shear_modulus(E=4.62, nu=0.36), V_f=0.5, xi=1.0)
        ),
        5e-5,
        "half a unit of the last digit printed; a fibre of 1e9 GPa is rigid",
    ),
    Published(
        ONE, "nu_12", 0.28, "1", lambda: float(mixture_poisson_ratio(nu_f=0.2, nu_m=0.36, V_f=0.5)), 0.005
    ),
    Published("0/90 symmetric", "E_x", 67.364, "GPa", lambda: float(constants(CROSS).Ex_Pa), 5e-4),
    Published("0/90 symmetric", "nu_xy", 0.063, "1", lambda: float(constants(CROSS).nuxy), 5e-4),
    Published("0/90/45/-45 symmetric", "E_x", 48.664, "GPa", lambda: float(constants(EVEN).Ex_Pa), 5e-4),
    Published("0/90/45/-45 symmetric", "E_y", 48.664, "GPa", lambda: float(constants(EVEN).Ey_Pa), 5e-4),
    Published("0/90/45/-45 symmetric", "G_xy", 18.388, "GPa", lambda: float(constants(EVEN).Gxy_Pa), 5e-4),
    Published("0/90/45/-45 symmetric", "nu_xy", 0.3232, "1", lambda: float(constants(EVEN).nuxy), 5e-5),
    Published(EIGHT, "thickness", 0.909, "mm", lambda: eight("wall_m"), 5e-4),
    Published(EIGHT, "mass", 1300.0, "g/m2", lambda: eight("mass_kg_m2"), 0.5),
    Published(EIGHT, "mass of resin", 500.0, "g/m2", lambda: eight("resin_mass_kg_m2"), 0.5),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
