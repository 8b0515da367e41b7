"""Hollow spars of wood: what their walls, plugs and glue lines bear that a solid spar need not.

Wood is some twenty times softer across the grain than along it, and far weaker: a hollow spar splits before it
folds. r is the mean radius of the wall and t its thickness, unless a formula says otherwise.
"""

from __future__ import annotations

import numpy as np

from .record import Metre, Newton, NewtonM2, NewtonMetre, NewtonPerM, One, Pascal, Range, formula

_STOUT = Range("r/t", lambda r, t, **_: r / t, 1.0, np.inf, why="the wall is taken as a ring")
_PLUG = Range("r/R", lambda r, R, **_: r / R, 0.0, 1.0 - 1e-9, "refuse", "the plug lies inside the tube")


@formula("tau_i", unit="Pa", source="derived: V Q/(I b) of glued layers that shear alike on the neutral axis")
def glued_layer_shear_stress(V: Newton, EQ: NewtonMetre, EI: NewtonM2, G: Pascal, Gb: NewtonPerM) -> Pascal:
    """Shear stress on the neutral axis in one of several layers glued to each other.

    V is the shear force they bear together, EI and EQ the sums of E I and of E times the first moment of half
    the section, Gb that of G times the width that the neutral axis cuts, and G that of the layer.
    """
    return V * EQ * G / (EI * Gb)


@formula(
    "M_s",
    unit="N m",
    source="derived: Brazier's ring moment E t kappa^2 r^3/4 against the strength across the grain; inner fibre of a "
    "curved bar by Winkler, fitted within 0.5 % for r/t over 1.5",
    ranges=(_STOUT,),
)
def splitting_moment(EI: NewtonM2, E: Pascal, f_t90: Pascal, r: Metre, t: Metre) -> NewtonMetre:
    """Moment of a bent tube at which its wall, pressed oval by its own curvature, splits along the grain.

    A wall of stress E kappa y that is bent to the curvature kappa presses on the neutral axis with
    E t kappa^2 y; as a ring it takes that in bending, whatever its stiffness round the tube.
    """
    inner = 1 + t / (3 * r) + t**2 / (8 * r**2)
    return EI * np.sqrt(2 * f_t90 * t / (3 * E * r**3 * inner))


@formula(
    "M_s", unit="N m", source="derived: the flange as a strip across, simply supported on the side walls"
)
def box_splitting_moment(EI: NewtonM2, E: Pascal, f_t90: Pascal, y: Metre, b: Metre, t: Metre) -> NewtonMetre:
    """Moment of a bent box at which its flange, b wide between the walls and y from the axis, splits."""
    return EI * np.sqrt(4 * f_t90 * t / (3 * E * y * b**2))


@formula(
    "sigma_cr",
    unit="Pa",
    source="classical orthotropic cylinder without Poisson's ratios, from memory; within 1.5 % of Donnell's equations",
)
def grained_cylinder_stress(E_L: Pascal, E_T: Pascal, G: Pascal, r: Metre, t: Metre) -> Pascal:
    """Stress at which the perfect wall of a round tube buckles, its grain along the tube."""
    even = np.sqrt(E_L * E_T)
    return t / r * np.sqrt(even * np.minimum(even, 2 * G) / 3)


@formula(
    "sigma_cr",
    unit="Pa",
    source="long orthotropic plate on simple supports, from memory, Poisson's ratios left out",
)
def grained_plate_stress(E_L: Pascal, E_T: Pascal, G: Pascal, b: Metre, t: Metre) -> Pascal:
    """Stress along the grain at which a flat wall, b wide between its edges, buckles."""
    return np.pi**2 * t**2 / (6 * b**2) * (np.sqrt(E_L * E_T) + 2 * G)


@formula("tau_R", unit="Pa", source="derived: half the force on each side of the ring, 3/2 of the mean")
def ring_rolling_shear_stress(F: Newton, w: Metre, t: Metre) -> Pascal:
    """Shear across the grain in the wall of a hollow spar pressed by a bearing of height w."""
    return 3 * F / (4 * w * t)


@formula(
    "sigma_90",
    unit="Pa",
    source="derived: a strip as high as the bearing, simply supported on the side walls",
)
def box_wall_bending_stress(F: Newton, b: Metre, w: Metre, t: Metre) -> Pascal:
    """Bending across the grain of the wall of a box, b wide, pressed by a bearing of height w."""
    return 3 * F * b / (4 * w * t**2)


@formula(
    "lambda",
    unit="m",
    source="derived: two bars bent together that slip by the shear within each of them",
    ranges=(_PLUG,),
)
def plug_transfer_length(
    r: Metre, R: Metre, G_p: Pascal, G_t: Pascal, EI_p: NewtonM2, EI_t: NewtonM2
) -> Metre:
    """Length over which a round plug of radius r takes up its share of the moment of a tube of radius R.

    Shear of tau cos(theta) on the glue line turns the plug's edge against its mean by tau/(6 G_p), and the
    tube's bore against the tube's mean by as much again as its wall is soft. The plug's moment then grows as
    1 - exp(-z/lambda).
    """
    k2 = (r / R) ** 2
    solid = (2 - k2) * (1 / k2 - 2 / (1 + k2)) + k2 - 2 / 3 * (1 - k2**3) / (1 - k2**2)
    slip = 1 / (6 * G_p) + k2 * solid / (2 * (1 - k2**2) * G_t)
    return np.sqrt(slip / (np.pi * r**2 * (1 / EI_p + 1 / EI_t)))


@formula(
    "tau_g",
    unit="Pa",
    source="derived: moment over pi r^2 and the length it grows on; a taper counts by half its length (judgement). "
    "6 % under to 22 % over own finite elements 0.05 diameters from a square end, for bores of 0.4 to 0.8; nearer "
    "they have no bound",
)
def plug_end_shear_stress(M_p: NewtonMetre, r: Metre, lambda_p: Metre, l_t: Metre) -> Pascal:
    """Shear in the glue line at the end of a plug that takes a share M_p of the moment, tapered over l_t."""
    return M_p / (np.pi * r**2 * (lambda_p + l_t / 2))


@formula("k_cc", unit="1", source="derived: stiffness of layers that creep, each by its own k_def")
def crept_share(EI: NewtonM2, EI_crept: NewtonM2) -> One:
    """Creep of a layered section over its deflection at once; EI_crept has each layer over 1 + k_def."""
    return EI / EI_crept - 1
