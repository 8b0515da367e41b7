"""Tubes wound from fibre laminates: their stiffness, the loads in their walls, buckling and flattening.

x runs along the tube and y round it; r is the mean radius of the wall and t its thickness. A, B and D tie
line loads and line moments of the wall to the strains and curvatures of its middle surface.
"""

from __future__ import annotations

import numpy as np

from .record import (
    Metre,
    Newton,
    NewtonM2,
    NewtonMetre,
    NewtonPerM,
    One,
    Pascal,
    PerMetre,
    Range,
    formula,
)

_SP8007 = "NASA SP-8007 as coded in a public program, which was read; the text itself was not"
_THIN = Range("r/t", lambda r, t, **_: r / t, 10.0, np.inf, why="the wall is taken as thin")
_HOLLOW = Range(
    "d/D", lambda D, d, **_: d / D, 0.0, 1.0 - 1e-9, "refuse", "the bore must be inside the outside"
)
_SLENDERNESS = Range("phi", lambda phi, **_: phi, 0.0, np.sqrt(1500) / 16, why="tests end at r/t of 1500")


# ---------------------------------------------------------------- stiffness and line loads


@formula("E_x", unit="Pa", source="classical laminate theory; no hoop load, shear strain held at nothing")
def untwisted_modulus(A_11: NewtonPerM, A_12: NewtonPerM, A_22: NewtonPerM, t: Metre) -> Pascal:
    """Modulus along x of a wall that may not shear; that of the free wall too where it is balanced."""
    return (A_11 - A_12**2 / A_22) / t


@formula("EI", unit="N m2", source="geometry of a thin ring of mean radius r", ranges=(_THIN,))
def thin_tube_bending_stiffness(E_x: Pascal, t: Metre, r: Metre) -> NewtonM2:
    """Bending stiffness of a round tube with a thin wall."""
    return np.pi * E_x * t * r**3


@formula("EI", unit="N m2", source="geometry of the annulus, one modulus through the wall", ranges=(_HOLLOW,))
def tube_bending_stiffness(E_x: Pascal, D: Metre, d: Metre) -> NewtonM2:
    """Bending stiffness of a round tube."""
    return E_x * np.pi * (D**4 - d**4) / 64


@formula("GJ", unit="N m2", source="Bredt, thin ring of mean radius r", ranges=(_THIN,))
def thin_tube_torsion_stiffness(G_xy: Pascal, t: Metre, r: Metre) -> NewtonM2:
    """Torsional stiffness of a round tube with a thin wall."""
    return 2 * np.pi * G_xy * t * r**3


@formula("GJ", unit="N m2", source="geometry of the annulus, one modulus through the wall", ranges=(_HOLLOW,))
def tube_torsion_stiffness(G_xy: Pascal, D: Metre, d: Metre) -> NewtonM2:
    """Torsional stiffness of a round tube."""
    return G_xy * np.pi * (D**4 - d**4) / 32


@formula("EA", unit="N", source="geometry of the annulus, one modulus through the wall", ranges=(_HOLLOW,))
def tube_axial_stiffness(E_x: Pascal, D: Metre, d: Metre) -> Newton:
    """Axial stiffness of a round tube."""
    return E_x * np.pi * (D**2 - d**2) / 4


@formula("GA_s", unit="N", source="half the area of a thin ring", ranges=(_THIN,))
def thin_tube_shear_stiffness(G_xy: Pascal, t: Metre, r: Metre) -> Newton:
    """Shear stiffness of a round tube with a thin wall."""
    return G_xy * t * np.pi * r


@formula("N_x", unit="N/m", source="engineer's theory of bending")
def bending_line_load(M: NewtonMetre, y: Metre, E_x: Pascal, t: Metre, EI: NewtonM2) -> NewtonPerM:
    """Line load along a tube's wall from a moment, at a distance y from the neutral axis."""
    return M * y * E_x * t / EI


@formula("N_xy", unit="N/m", source="thin ring of mean radius r: shear force at the neutral axis, and Bredt")
def peak_shear_line_load(V: Newton, T: NewtonMetre, r: Metre) -> NewtonPerM:
    """Greatest shear line load in a tube's wall from a shear force and a torque that add."""
    return V / (np.pi * r) + T / (2 * np.pi * r**2)


# ---------------------------------------------------------------- walls that buckle or flatten


@formula("phi", unit="1", source=_SP8007)
def orthotropic_slenderness(
    r: Metre, A_11: NewtonPerM, A_22: NewtonPerM, D_11: NewtonMetre, D_22: NewtonMetre
) -> One:
    """Slenderness of a wall that is stiffer one way than the other; sqrt(R/t)/16 where it is not."""
    return np.sqrt(r / ((D_11 * D_22) / (A_11 * A_22)) ** 0.25) / 29.8


@formula("gamma_a", unit="1", source=f"axial knock-down; {_SP8007}", ranges=(_SLENDERNESS,))
def orthotropic_axial_knockdown(phi: One) -> One:
    """Share of the classical line load a real cylinder carries in axial compression."""
    return 1 - 0.901 * (1 - np.exp(-phi))


@formula("gamma_b", unit="1", source=f"bending knock-down; {_SP8007}", ranges=(_SLENDERNESS,))
def orthotropic_bending_knockdown(phi: One) -> One:
    """Share of the classical line load a real cylinder carries in bending."""
    return 1 - 0.731 * (1 - np.exp(-phi))


@formula(
    "N_cr", unit="N/m", source="ring-shaped buckles of a long orthotropic cylinder, from memory; derivable"
)
def ring_buckling_load(
    A_11: NewtonPerM, A_12: NewtonPerM, A_22: NewtonPerM, D_11: NewtonMetre, r: Metre
) -> NewtonPerM:
    """Line load at which a perfect long cylinder buckles in rings."""
    return 2 / r * np.sqrt(D_11 * (A_22 - A_12**2 / A_11))


@formula("N_cr", unit="N/m", source=f"{_SP8007}, simplified")
def flute_buckling_load(
    A_11: NewtonPerM, A_12: NewtonPerM, A_22: NewtonPerM, D_22: NewtonMetre, r: Metre
) -> NewtonPerM:
    """Line load at which a perfect long cylinder buckles in flutes much longer than wide."""
    return 2 / r * np.sqrt(D_22 * (A_11 - A_12**2 / A_22))


@formula(
    "N_mn",
    unit="N/m",
    source="Donnell's equations, derived; the determinant of NASA SP-8007 for orthotropic cylinders, from memory",
)
def cylinder_mode_load(
    A_11: NewtonPerM,
    A_12: NewtonPerM,
    A_22: NewtonPerM,
    A_66: NewtonPerM,
    B_11: Newton,
    B_12: Newton,
    B_22: Newton,
    B_66: Newton,
    D_11: NewtonMetre,
    D_12: NewtonMetre,
    D_22: NewtonMetre,
    D_66: NewtonMetre,
    k_x: PerMetre,
    k_y: PerMetre,
    r: Metre,
) -> NewtonPerM:
    """Line load at which a perfect balanced cylinder buckles in waves k_x along and k_y round it."""
    c_11 = A_11 * k_x**2 + A_66 * k_y**2
    c_12 = (A_12 + A_66) * k_x * k_y
    c_22 = A_22 * k_y**2 + A_66 * k_x**2
    c_13 = A_12 * k_x / r + B_11 * k_x**3 + (B_12 + 2 * B_66) * k_x * k_y**2
    c_23 = A_22 * k_y / r + B_22 * k_y**3 + (B_12 + 2 * B_66) * k_x**2 * k_y
    c_33 = (
        D_11 * k_x**4
        + 2 * (D_12 + 2 * D_66) * k_x**2 * k_y**2
        + D_22 * k_y**4
        + A_22 / r**2
        + 2 * (B_12 * k_x**2 + B_22 * k_y**2) / r
    )
    held = (c_22 * c_13**2 - 2 * c_12 * c_13 * c_23 + c_11 * c_23**2) / (c_11 * c_22 - c_12**2)
    return (c_33 - held) / k_x**2


@formula("M_cr", unit="N m", source="line load of a thin ring at its outer fibre, knocked down")
def buckling_moment(gamma: One, N_cr: NewtonPerM, r: Metre) -> NewtonMetre:
    """Moment at which the wall of a bent tube buckles."""
    return gamma * np.pi * r**2 * N_cr


@formula(
    "M_B",
    unit="N m",
    source="Kedward (1978), from memory; gives Brazier's moment where the wall is isotropic",
    ranges=(
        Range(
            "nu_xy nu_yx", lambda nu_xy, nu_yx, **_: nu_xy * nu_yx, 0.0, 1.0 - 1e-9, "refuse", "no such wall"
        ),
    ),
)
def orthotropic_brazier_moment(
    E_x: Pascal, E_y: Pascal, nu_xy: One, nu_yx: One, r: Metre, t: Metre
) -> NewtonMetre:
    """Moment at which a long bent tube flattens, its plies spread evenly through the wall."""
    return 2 * np.sqrt(2) / 9 * np.pi * r * t**2 * np.sqrt(E_x * E_y / (1 - nu_xy * nu_yx))


@formula("M_B", unit="N m", source="derived: Kedward's moment with the stack's own hoop bending stiffness")
def stack_brazier_moment(E_x: Pascal, t: Metre, D_22: NewtonMetre, r: Metre) -> NewtonMetre:
    """Moment at which a long bent tube flattens, with the place of each ply in the wall."""
    return 2 * np.sqrt(2) / 9 * np.pi * r * np.sqrt(12 * E_x * t * D_22)


@formula(
    "N_xy,cr",
    unit="N/m",
    source="two lobes of a very long cylinder, derived by inextensional hoops; gives the isotropic value; knock-down "
    "0.67^(4/3), as for metal",
)
def long_orthotropic_torsion_load(
    A_11: NewtonPerM, A_12: NewtonPerM, A_22: NewtonPerM, D_22: NewtonMetre, r: Metre
) -> NewtonPerM:
    """Shear line load at which the wall of a very long tube buckles, knocked down."""
    E_t = A_11 - A_12**2 / A_22
    return 0.67 ** (4 / 3) * 2 / 3 * 3**0.75 * E_t**0.25 * D_22**0.75 / r**1.5


@formula(
    "k_o",
    unit="1/m",
    source="derived: a tube that goes oval in one place is a beam on its own hoops, inextensional but along the tube",
)
def ovalising_wave(
    A_11: NewtonPerM, A_12: NewtonPerM, A_22: NewtonPerM, D_22: NewtonMetre, r: Metre
) -> PerMetre:
    """How fast the ovalling of a tube pressed in one place dies away along it."""
    return (36 * D_22 / ((A_11 - A_12**2 / A_22) * r**6)) ** 0.25


@formula(
    "m_y",
    unit="N",
    source="derived: ring under pressure as the cosine round half of it, held by Bredt's flow of the shear force, and "
    "helped by the tube beside it",
)
def bearing_hoop_moment(F: Newton, w: Metre, r: Metre, k_o: PerMetre) -> Newton:
    """Moment that bends the wall round the tube under a close bearing of width w, to the length of tube."""
    spread = 1 - np.exp(-k_o * w / 2) * np.cos(k_o * w / 2)
    return (np.pi**2 - 8) / (4 * np.pi**2) * F * r / w * spread


# ---------------------------------------------------------------- plies that part


@formula(
    "tau_xr",
    unit="Pa",
    source="derived: A. E. H. Love's flexure of a hollow cylinder, form from memory, the greatest through the wall at "
    "a Poisson's ratio of nothing, which is the highest",
    ranges=(_HOLLOW,),
)
def tube_radial_shear_stress(V: Newton, D: Metre, d: Metre) -> Pascal:
    """Shear stress between the layers of a round tube alike throughout, from a shear force; small in a thin wall."""
    return 6 * V * (D - d) ** 2 / (np.pi * (D**4 - d**4))


@formula(
    "tau_k",
    unit="Pa",
    source="derived: what the plies on one side of a face take more of the moment than of the shear force",
)
def face_transfer_shear_stress(V: Newton, f: One, r: Metre) -> Pascal:
    """Shear stress at a face of radius r, beyond which the shares of EI and GJ differ by f."""
    return V * f / (np.pi * r**2)


@formula(
    "tau_end",
    unit="Pa",
    source="equilibrium of a ply that ends; handed over along 20 times its thickness, common practice, from memory",
    ranges=(Range("n", lambda n, **_: n, 1.0, np.inf, "refuse", "no ply ends in less than its thickness"),),
)
def ply_end_shear_stress(sigma: Pascal, n: One) -> Pascal:
    """Mean shear stress under a ply that ends in a taper of n times its thickness."""
    return sigma / n


@formula("f_d", unit="Pa", source="strength, what water, time and cycles leave of it, and the factor on it")
def knocked_down_strength(f: Pascal, k: One, gamma: One) -> Pascal:
    """Stress that plies may bear."""
    return f * k / gamma


@formula("epsilon", unit="1", source="Hooke's law")
def strain_of_stress(sigma: Pascal, E: Pascal) -> One:
    """Strain of a wall along the tube."""
    return sigma / E


@formula(
    "R",
    unit="1",
    source="definition: line load, with the factor on it, over that at which the wall gives way",
)
def line_load_ratio(gamma: One, epsilon: One, Et: NewtonPerM, k: One, N_cr: NewtonPerM) -> One:
    """Share that a strain takes of what the wall bears of it; Et is its stiffness, k the knock-down of N_cr."""
    return gamma * epsilon * Et / (k * N_cr)


@formula("tau", unit="Pa", source="stresses of one face add, the worst of all places taken together")
def summed_shear_stress(tau_1: Pascal, tau_2: Pascal, tau_3: Pascal) -> Pascal:
    """Shear stress between plies from three causes."""
    return tau_1 + tau_2 + tau_3


@formula("gamma_x", unit="1", source="Hooke's law")
def shear_strain_of_stress(tau: Pascal, G: Pascal) -> One:
    """Shear strain of a wall."""
    return tau / G
