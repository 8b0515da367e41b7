"""Thin round walls that buckle or flatten before they yield."""

from __future__ import annotations

import numpy as np

from .record import Metre, NewtonMetre, One, Pascal, Range, formula

_SP8007 = "NASA SP-8007 (1968), as coded in two public programs; the text itself was not read"
_NU = Range(
    "nu", lambda nu, **_: nu, 0.0, 0.5, "refuse", "Poisson's ratio of an isotropic material lies between"
)
_THIN = Range(
    "r/t",
    lambda r, t, **_: r / t,
    20.0,
    1500.0,
    why="thicker walls yield first, and the knock-down was not fitted to them; the result is capped at yield here",
)


@formula(
    "sigma_cl",
    unit="Pa",
    source=f"classical axial buckling of a cylinder; {_SP8007}",
    ranges=(_NU,),
)
def cylinder_classical_stress(E: Pascal, t: Metre, r: Metre, nu: One) -> Pascal:
    """Buckling stress of a perfect thin cylinder of mean radius r in compression."""
    return E * t / (r * np.sqrt(3 * (1 - nu**2)))


@formula("gamma_a", unit="1", source=f"axial knock-down; {_SP8007}", ranges=(_THIN,))
def axial_knockdown(r: Metre, t: Metre) -> One:
    """Share of the classical stress a real cylinder carries in axial compression."""
    return 1 - 0.901 * (1 - np.exp(-np.sqrt(r / t) / 16))


@formula("gamma_b", unit="1", source=f"bending knock-down; {_SP8007}", ranges=(_THIN,))
def bending_knockdown(r: Metre, t: Metre) -> One:
    """Share of the classical stress a real cylinder carries in bending."""
    return 1 - 0.731 * (1 - np.exp(-np.sqrt(r / t) / 16))


@formula(
    "M_B",
    unit="N m",
    source="Brazier 1927, from memory; agrees with the limit stress in Kyriakides and Shaw (1982), which was read",
    ranges=(
        Range("r/t", lambda r, t, **_: r / t, 5.0, np.inf, why="the wall is taken as thin"),
        _NU,
    ),
)
def brazier_moment(E: Pascal, r: Metre, t: Metre, nu: One) -> NewtonMetre:
    """Moment at which a long bent tube flattens and loses its stiffness."""
    return 2 * np.sqrt(2) / 9 * np.pi * E * r * t**2 / np.sqrt(1 - nu**2)


@formula(
    "u",
    unit="1",
    source="linear interaction of axial and bending buckling with the square of torsion; NASA SP-8007, guide page read",
)
def cylinder_interaction(R_c: One, R_b: One, R_t: One) -> One:
    """Joint use of a cylinder in compression, bending and torsion."""
    return R_c + R_b + R_t**2


@formula(
    "tau_cr",
    unit="Pa",
    source="torsion of a very long cylinder, from memory; knock-down 0.67^(4/3): the guide page of NASA SP-8007 gives "
    "0.67 as its power 3/4",
    ranges=(
        _NU,
        Range("r/t", lambda r, t, **_: r / t, 10.0, 1500.0, why="the wall is taken as thin"),
    ),
)
def long_cylinder_torsion_stress(E: Pascal, t: Metre, r: Metre, nu: One) -> Pascal:
    """Torsional buckling stress of a very long thin cylinder, knocked down."""
    return 0.67 ** (4 / 3) * E * (t / r) ** 1.5 / (3 * np.sqrt(2) * (1 - nu**2) ** 0.75)


@formula("sigma_cr", unit="Pa", source="definition of the knock-down")
def knocked_down_stress(gamma: One, sigma_cl: Pascal) -> Pascal:
    """Stress at which a real cylinder buckles: a share gamma of that of a perfect one."""
    return gamma * sigma_cl


@formula(
    "R", unit="1", source="definition: stress, with the factor on it, over that at which the wall gives way"
)
def buckling_ratio(sigma: Pascal, gamma: One, sigma_cr: Pascal) -> One:
    """Share that one stress takes of what the wall bears of it."""
    return sigma * gamma / sigma_cr
