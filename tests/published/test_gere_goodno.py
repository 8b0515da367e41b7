"""Torsion of a tube, columns of four end conditions, and a sign pole.

Source: J. M. Gere and B. J. Goodno, Mechanics of Materials, 7th ed., instructor's solutions to problems
3.5-8, 8.5-17, 11.3-15, 11.4-1 and 11.4-2; single pages were read.
"""

from __future__ import annotations

import pytest
from scipy.optimize import brentq

from rigcalc.formulas.beams import euler_load, moment_of_force
from rigcalc.formulas.sections import (
    annulus_area,
    annulus_plastic_modulus,
    annulus_second_moment,
    annulus_torsion_constant,
    bending_stress,
    direct_stress,
    ring_peak_shear_stress,
    torsion_stress,
)
from rigcalc.formulas.wind import drag_per_length

from .record import Published, Source

SOURCE = Source("Gere and Goodno, Mechanics of Materials", "sections and stress", "read")


def tube_outside_mm() -> float:
    # 3.5-8: in pure shear the normal strain is tau/(2 G), and its limit governs
    tau_MPa = 2 * 27e3 * 900e-6

    def excess_MPa(outside_mm: float) -> float:
        return float(
            torsion_stress(T=4.0e6, r=outside_mm / 2, J=annulus_torsion_constant(D=outside_mm, d=50.0))
            - tau_MPa
        )

    return float(brentq(excess_MPa, 51.0, 200.0, xtol=1e-9))


def wall_in() -> float:
    # 11.3-15: pinned strut of 6 ft, 4 kip, factor 2
    def excess_kip(wall: float) -> float:
        stiffness = 10_400 * annulus_second_moment(D=2.0, d=2.0 - 2 * wall)
        return float(euler_load(EI=stiffness, L=72.0, K=1.0) - 2 * 4.0)

    return float(brentq(excess_kip, 0.01, 0.9, xtol=1e-9))


def aluminium_pipe_kip(K: float) -> float:
    return float(euler_load(EI=10_400 * annulus_second_moment(D=6.0, d=5.0), L=120.0, K=K))


def steel_pipe_kN(K: float) -> float:
    return float(euler_load(EI=210 * annulus_second_moment(D=40.0, d=36.0), L=1200.0, K=K))


# 8.5-17: pole of 10.5 in with a bore of 8.5 in, sign 8 x 3 ft at 35 lb/ft2
OUTSIDE_IN, BORE_IN = 10.5, 8.5
AREA_IN2, I_IN4, J_IN4, Q_IN3 = 29.845, 340.421, 680.842, 45.292
FORCE_LB, AXIAL_LB, MOMENT_LB_IN, TORQUE_LB_IN = 840.0, 4.5e3, 4.082e5, 4.473e4


def sign_force_lb() -> float:
    return float(drag_per_length(C_D=1.0, q=35.0, D=3.0) * 8.0)


def tension_side_psi() -> float:
    bending = bending_stress(M=40.5 * 12 * FORCE_LB, y=OUTSIDE_IN / 2, I=I_IN4)
    return float(bending - direct_stress(N=AXIAL_LB, A=AREA_IN2))


SECTION = (
    "computed from the published section and loads, to the digits shown; the printed stresses were not read"
)

CHECKS: list[Published] = [
    Published("3.5-8", "outside diameter of a tube twisted by 4 kN m", 79.3, "mm", tube_outside_mm, 0.05),
    Published("11.3-15", "wall of a 2 in strut", 0.165, "in", wall_in, 0.0005),
    Published(
        "11.3-15",
        "second moment at that wall",
        0.404,
        "in4",
        lambda: float(annulus_second_moment(D=2.0, d=2.0 - 2 * wall_in())),
        0.0005,
    ),
    Published(
        "11.4-1", "second moment", 32.94, "in4", lambda: float(annulus_second_moment(D=6.0, d=5.0)), 0.005
    ),
    Published("11.4-1", "pinned column", 235.0, "kip", lambda: aluminium_pipe_kip(1.0), 0.5),
    Published("11.4-1", "free-standing column", 58.7, "kip", lambda: aluminium_pipe_kip(2.0), 0.05),
    Published(
        "11.4-1",
        "fixed-pinned column",
        480.0,
        "kip",
        lambda: aluminium_pipe_kip(2.046**-0.5),
        0.5,
        "half a unit of the last digit printed, with the book's factor 2.046",
        in_full=lambda: aluminium_pipe_kip(0.699156),
    ),
    Published("11.4-1", "fixed column", 939.0, "kip", lambda: aluminium_pipe_kip(0.5), 0.5),
    Published(
        "11.4-2",
        "second moment",
        43.22e3,
        "mm4",
        lambda: float(annulus_second_moment(D=40.0, d=36.0)),
        5.0,
        step=10.0,
    ),
    Published("11.4-2", "pinned column", 62.2, "kN", lambda: steel_pipe_kN(1.0), 0.05),
    Published("11.4-2", "free-standing column", 15.6, "kN", lambda: steel_pipe_kN(2.0), 0.05),
    Published("11.4-2", "fixed-pinned column", 127.0, "kN", lambda: steel_pipe_kN(0.699), 0.5),
    Published("11.4-2", "fixed column", 249.0, "kN", lambda: steel_pipe_kN(0.5), 0.5),
    Published(
        "8.5-17", "area", AREA_IN2, "in2", lambda: float(annulus_area(D=OUTSIDE_IN, d=BORE_IN)), 0.0005
    ),
    Published(
        "8.5-17",
        "second moment",
        I_IN4,
        "in4",
        lambda: float(annulus_second_moment(D=OUTSIDE_IN, d=BORE_IN)),
        0.0005,
    ),
    Published(
        "8.5-17",
        "polar second moment",
        J_IN4,
        "in4",
        lambda: float(annulus_torsion_constant(D=OUTSIDE_IN, d=BORE_IN)),
        0.0005,
    ),
    Published(
        "8.5-17",
        "first moment of the half section",
        Q_IN3,
        "in3",
        # the plastic modulus is the first moment of both halves
        lambda: float(annulus_plastic_modulus(D=OUTSIDE_IN, d=BORE_IN)) / 2,
        0.0005,
    ),
    Published(
        "8.5-17", "wind on the sign", FORCE_LB, "lb", sign_force_lb, 1e-9, "the book's product is exact"
    ),
    Published(
        "8.5-17",
        "moment at the base",
        MOMENT_LB_IN,
        "lb in",
        lambda: float(moment_of_force(F=FORCE_LB, h=40.5 * 12)),
        50.0,
        step=100.0,
    ),
    Published(
        "8.5-17",
        "torque at the base",
        TORQUE_LB_IN,
        "lb in",
        lambda: float(moment_of_force(F=FORCE_LB, h=53.25)),
        5.0,
        step=10.0,
    ),
    Published(
        "8.5-17",
        "direct stress on the tension side",
        6145.0,
        "psi",
        tension_side_psi,
        0.5,
        SECTION,
        kind="worked out",
    ),
    Published(
        "8.5-17",
        "shear stress of the torque",
        345.0,
        "psi",
        lambda: float(torsion_stress(T=TORQUE_LB_IN, r=OUTSIDE_IN / 2, J=J_IN4)),
        0.5,
        SECTION,
        kind="worked out",
    ),
    Published(
        "8.5-17",
        "shear stress of the wind force, V Q/(I b)",
        55.88,
        "psi",
        lambda: float(ring_peak_shear_stress(V=FORCE_LB, D=OUTSIDE_IN, d=BORE_IN)),
        0.005,
        SECTION,
        kind="worked out",
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_published_value(check: Published) -> None:
    check.verify()
