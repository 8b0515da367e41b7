"""Round sections: area, second moments, and the stresses that follow from them."""

from __future__ import annotations

import numpy as np

from .record import (
    Metre,
    Metre2,
    Metre3,
    Metre4,
    Newton,
    NewtonM2,
    NewtonMetre,
    NewtonPerM,
    One,
    Pascal,
    Range,
    formula,
)

_HOLLOW = (
    Range("d/D", lambda D, d, **_: d / D, 0.0, 1.0 - 1e-9, "refuse", "the bore must be inside the outside"),
)


@formula("A", unit="m2", source="geometry of the annulus", ranges=_HOLLOW)
def annulus_area(D: Metre, d: Metre) -> Metre2:
    """Area of a round tube of outside diameter D and bore d."""
    return np.pi * (D**2 - d**2) / 4


@formula("I", unit="m4", source="geometry of the annulus", ranges=_HOLLOW)
def annulus_second_moment(D: Metre, d: Metre) -> Metre4:
    """Second moment of area of a round tube about a diameter."""
    return np.pi * (D**4 - d**4) / 64


@formula("J", unit="m4", source="geometry of the annulus: J = 2 I", ranges=_HOLLOW)
def annulus_torsion_constant(D: Metre, d: Metre) -> Metre4:
    """Torsion constant of a round tube."""
    return np.pi * (D**4 - d**4) / 32


@formula("W_pl", unit="m3", source="geometry of the annulus", ranges=_HOLLOW)
def annulus_plastic_modulus(D: Metre, d: Metre) -> Metre3:
    """Plastic section modulus of a round tube."""
    return (D**3 - d**3) / 6


@formula("sigma_b", unit="Pa", source="engineer's theory of bending")
def bending_stress(M: NewtonMetre, y: Metre, I: Metre4) -> Pascal:  # the textbook's symbol
    """Bending stress at a distance y from the neutral axis."""
    return M * (y / I)


@formula("sigma_N", unit="Pa", source="definition of direct stress")
def direct_stress(N: Newton, A: Metre2) -> Pascal:
    """Direct stress from an axial force."""
    return N / A


@formula(
    "tau_V",
    unit="Pa",
    source="V Q/(I b) for a ring; form read in Gere and Goodno, Mechanics of Materials, 7th ed., solution 5.9-4",
    ranges=_HOLLOW,
)
def ring_peak_shear_stress(V: Newton, D: Metre, d: Metre) -> Pascal:
    """Largest shear stress from a shear force on a round tube, at the neutral axis."""
    return 16 * V * (D**2 + D * d + d**2) / (3 * np.pi * (D**2 - d**2) * (D**2 + d**2))


@formula("tau_T", unit="Pa", source="torsion of a round bar")
def torsion_stress(T: NewtonMetre, r: Metre, J: Metre4) -> Pascal:
    """Shear stress from a torque at radius r of a round section."""
    return T * r / J


@formula(
    "q_T",
    unit="N/m",
    source="Bredt; D. Johnson, Advanced Structural Mechanics (2000), eqs 2.39-2.40, p. 80, read",
)
def bredt_shear_flow(T: NewtonMetre, A_m: Metre2) -> NewtonPerM:
    """Shear flow of a torque round a closed thin wall enclosing the area A_m."""
    return T / (2 * A_m)


@formula("sigma_v", unit="Pa", source="von Mises, plane stress with one direct and one shear stress")
def von_mises_stress(sigma: Pascal, tau: Pascal) -> Pascal:
    """Equivalent stress of a direct stress and a shear stress at one point."""
    return np.sqrt(sigma**2 + 3 * tau**2)


@formula("M_i", unit="N m", source="layers bent to one curvature share the moment by their stiffness")
def layer_moment(M: NewtonMetre, E: Pascal, I: Metre4, EI: NewtonM2) -> NewtonMetre:
    """Share of a moment taken by one layer of a section of total stiffness EI."""
    return M * (E * I / EI)


@formula("sigma_i", unit="Pa", source="layers pressed to one strain share the force by their stiffness")
def layer_direct_stress(N: Newton, E: Pascal, EA: Newton) -> Pascal:
    """Direct stress in one layer of a section of total axial stiffness EA."""
    return N * (E / EA)


@formula("tau_i", unit="Pa", source="layers twisted to one rate share the torque by their stiffness")
def layer_torsion_stress(T: NewtonMetre, r: Metre, G: Pascal, GJ: NewtonM2) -> Pascal:
    """Shear stress at radius r in one layer of a section of total torsional stiffness GJ."""
    return T * (r * G / GJ)


@formula("sigma_v", unit="Pa", source="von Mises, two direct stresses across each other")
def crossed_equivalent_stress(sigma_1: Pascal, sigma_2: Pascal) -> Pascal:
    """Equivalent stress of two direct stresses across each other, of opposite sign, which is the worse."""
    return np.sqrt(sigma_1**2 + sigma_1 * sigma_2 + sigma_2**2)


@formula(
    "sigma_T", unit="Pa", source="derived: layers glued to one length, their forces adding up to nothing"
)
def mismatch_stress(E: Pascal, de: One, EA_o: Newton, EA: Newton) -> Pascal:
    """Stress in a layer whose free growth differs by de from that of what it is glued to, stiffness EA_o of EA."""
    return E * de * EA_o / EA


@formula("sigma", unit="Pa", source="stresses of one direction at one point add")
def added_stress(sigma_1: Pascal, sigma_2: Pascal) -> Pascal:
    """Direct stress from two causes, the worst signs taken together."""
    return sigma_1 + sigma_2


@formula("tau", unit="Pa", source="stresses of one direction at one point add")
def added_shear_stress(tau_1: Pascal, tau_2: Pascal) -> Pascal:
    """Shear stress from two causes, the worst signs taken together."""
    return tau_1 + tau_2


@formula("V_i", unit="N", source="layers bent to one curvature share the shear force by their stiffness")
def layer_shear_force(V: Newton, EI_i: NewtonM2, EI: NewtonM2) -> Newton:
    """Share of a shear force taken by one layer of bending stiffness EI_i in a section of EI."""
    return V * EI_i / EI


@formula("M", unit="N m", source="engineer's theory of bending")
def moment_at_stress(sigma: Pascal, I: Metre4, y: Metre) -> NewtonMetre:
    """Moment that makes a bending stress sigma at a distance y from the neutral axis."""
    return sigma * I / y


@formula("tau_v", unit="Pa", source="von Mises: shear yields at the yield stress over root three")
def equivalent_shear_stress(sigma_v: Pascal) -> Pascal:
    """Shear stress that strains a metal as hard as an equivalent stress."""
    return sigma_v / np.sqrt(3)


_TWO_WAYS = "engineer's theory of bending, both planes of a layered section"


@formula("sigma_b", unit="Pa", source=f"{_TWO_WAYS}; greatest at a corner")
def corner_bending_stress(
    E: Pascal, M_s: NewtonMetre, y_s: Metre, EI_s: NewtonM2, M_f: NewtonMetre, y_f: Metre, EI_f: NewtonM2
) -> Pascal:
    """Bending stress at the corner of a box bent both ways; its corner lies y_s to the side and y_f forward."""
    return E * (np.abs(M_s) * y_s / EI_s + np.abs(M_f) * y_f / EI_f)


@formula("sigma_b", unit="Pa", source=f"{_TWO_WAYS}; greatest somewhere round the outline")
def round_bending_stress(
    E: Pascal, M_s: NewtonMetre, y_s: Metre, EI_s: NewtonM2, M_f: NewtonMetre, y_f: Metre, EI_f: NewtonM2
) -> Pascal:
    """Bending stress of a circle or an ellipse bent both ways, of semi-axes y_s to the side and y_f forward."""
    return E * np.hypot(M_s * y_s / EI_s, M_f * y_f / EI_f)
