"""Micromechanics of a carbon and epoxy ply, in pounds and inches.

Source: C. C. Chamis, NASA TM-83320 (1983), examples 4.1, 4.2, 7.2 and 8.2, and the sample of the laminate
analyser of NASA TP-2515 with 2 % voids, as printed values stand in the tests of a public program, which were
read; the reports were not.
"""

from __future__ import annotations

import pytest

from rigcalc.formulas.laminates import (
    chamis_modulus,
    fibre_governed_strength,
    isotropic_shear_modulus,
    mixture_modulus,
    mixture_poisson_ratio,
    ply_density,
)

from .record import Published, Source

SOURCE = Source("Chamis, NASA TM-83320 and TP-2515", "laminates", "second hand")

FIBRE, RESIN, RESIN_NU = 31.0, 0.5, 0.41
ACROSS = 2.0


def along_Mpsi(V_f: float, V_m: float) -> float:
    return float(mixture_modulus(E_f1=FIBRE, E_m=RESIN, V_f=V_f, V_m=V_m))


def shear_Mpsi(V_f: float) -> float:
    G_m = isotropic_shear_modulus(E=RESIN, nu=RESIN_NU)
    return float(chamis_modulus(P_f=ACROSS, P_m=G_m, V_f=V_f))


CHECKS: list[Published] = [
    Published("Ex. 4.1", "E_1 at V_f 0.63", 19.7, "Mpsi", lambda: along_Mpsi(0.63, 0.37), 0.05),
    Published(
        "Ex. 4.2",
        "E_2 at V_f 0.63",
        1.24,
        "Mpsi",
        lambda: float(chamis_modulus(P_f=ACROSS, P_m=RESIN, V_f=0.63)),
        0.005,
    ),
    Published("Ex. 4.2", "G_12 at V_f 0.63", 0.64, "Mpsi", lambda: shear_Mpsi(0.63), 0.005),
    Published(
        "Ex. 4.2",
        "nu_12 at V_f 0.63",
        0.278,
        "1",
        lambda: float(mixture_poisson_ratio(nu_f=0.2, nu_m=RESIN_NU, V_f=0.63)),
        0.0005,
    ),
    Published(
        "Ex. 7.2",
        "density at V_f 0.58",
        0.056,
        "lb/in3",
        lambda: float(ply_density(V_f=0.58, V_m=0.42, rho_f=0.063, rho_m=0.046)),
        0.0005,
    ),
    Published("Ex. 8.2", "E_1 at V_f 0.60", 18.8, "Mpsi", lambda: along_Mpsi(0.60, 0.40), 0.05),
    Published(
        "TP-2515, V_f 0.55 with 2 % voids",
        "E_1",
        17.26,
        "Mpsi",
        lambda: along_Mpsi(0.55, 0.43),
        0.005,
    ),
    Published(
        "TP-2515, V_f 0.55 with 2 % voids",
        "G_12",
        0.5470,
        "Mpsi",
        lambda: shear_Mpsi(0.55),
        0.00005,
    ),
    Published(
        "TP-2515, V_f 0.55 with 2 % voids",
        "X_1t of a fibre of 400 000 psi",
        222800.0,
        "psi",
        lambda: float(fibre_governed_strength(F_f=400e3, E_f1=FIBRE, E_m=RESIN, V_f=0.55, V_m=0.43)),
        50.0,
        step=100.0,
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
