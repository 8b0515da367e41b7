"""What holds the mast: a fixed post inside it, a socket, bolts and pads. The hull itself is not designed here.

b is the height of a post over its foot, or the bury. V is the side force above the upper bearing and M_t its moment
about that bearing.
"""

from __future__ import annotations

import numpy as np

from .record import (
    Metre,
    Metre2,
    Newton,
    NewtonM2,
    NewtonMetre,
    NewtonPerM,
    One,
    Pascal,
    Radian,
    Range,
    formula,
)

_HEIGHT = Range("b", lambda b, **_: b, 1e-6, np.inf, "refuse", "two bearings at one height hold no moment")
_OVERLAP = Range("z/b", lambda z, b, **_: z / b, 0.0, 1.0, "refuse", "between the post's foot and its top")
_BOLTS = Range("n", lambda n, **_: n, 2.0, np.inf, "refuse", "one bolt holds no couple")
_RING_OF_BOLTS = Range("n", lambda n, **_: n, 3.0, np.inf, "refuse", "fewer bolts do not hold every way")
_SHIGLEY = "text-book bolt group; Shigley's Mechanical Engineering Design, from memory"


# ---------------------------------------------------------------- post


@formula("R_u", unit="N", source="equilibrium of the mast", ranges=(_HEIGHT,))
def upper_bearing_force(V: Newton, M_t: NewtonMetre, b: Metre) -> Newton:
    """Force of the upper bearing on the mast, against the load; the top of a post gets it back."""
    return V + M_t / b


@formula("M", unit="N m", source="equilibrium of the mast", ranges=(_OVERLAP,))
def mast_overlap_moment(M_t: NewtonMetre, z: Metre, b: Metre) -> NewtonMetre:
    """Moment in the mast at a height z over its lower bearing, below the upper one."""
    return M_t * z / b


@formula("M", unit="N m", source="cantilever under the force at its top", ranges=(_OVERLAP,))
def post_moment(R_u: Newton, z: Metre, b: Metre) -> NewtonMetre:
    """Moment in a post at a height z over its foot; the foot takes M_t + V b."""
    return R_u * (b - z)


@formula("delta", unit="m", source="cantilever of one section")
def post_deflection(R_u: Newton, b: Metre, EI: NewtonM2) -> Metre:
    """Deflection of the top of a post; over b it is the lean that the mast gains."""
    return R_u * b**3 / (3 * EI)


@formula("theta", unit="rad", source="cantilever of one section")
def post_slope(R_u: Newton, b: Metre, EI: NewtonM2) -> Radian:
    """Slope of the top of a post, which its bush shares."""
    return R_u * b**2 / (2 * EI)


# ---------------------------------------------------------------- socket

_DEPTH = Range("d", lambda d, **_: d, 1e-6, np.inf, "refuse", "a socket has a depth")
_RIGID = "derived: rigid spar in an evenly elastic socket, the load linear over its depth"


@formula("R_b", unit="N", source="equilibrium of a spar held at two places", ranges=(_DEPTH,))
def socket_bottom_force(M: NewtonMetre, d: Metre) -> Newton:
    """Side force at the bottom of a socket of depth d, for a moment M at its top; the top takes V more."""
    return M / d


@formula("q_t", unit="N/m", source=_RIGID, ranges=(_DEPTH,))
def socket_top_load(V: Newton, M: NewtonMetre, d: Metre) -> NewtonPerM:
    """Force to the length of a snug socket at its top edge."""
    return (4 * V * d + 6 * M) / d**2


@formula("q_b", unit="N/m", source=_RIGID, ranges=(_DEPTH,))
def socket_bottom_load(V: Newton, M: NewtonMetre, d: Metre) -> NewtonPerM:
    """Force to the length of a snug socket at its bottom edge, the other way."""
    return (2 * V * d + 6 * M) / d**2


# ---------------------------------------------------------------- bolts


@formula("F_b", unit="N", source=_SHIGLEY, ranges=(_BOLTS,))
def bolt_direct_shear(F: Newton, n: One) -> Newton:
    """Share of a side force that each of n bolts takes."""
    return F / n


@formula("F_b", unit="N", source=_SHIGLEY)
def bolt_couple_shear(T: NewtonMetre, r: Metre, r2_sum: Metre2) -> Newton:
    """Shear in a bolt at r from the middle of its group, from a couple in their plane; r2_sum of all bolts."""
    return T * r / r2_sum


@formula("F_b", unit="N", source=f"{_SHIGLEY}; direct and couple shear in line at one bolt", ranges=(_BOLTS,))
def bolt_circle_shear(F: Newton, T: NewtonMetre, D_b: Metre, n: One) -> Newton:
    """Shear at most in one of n bolts evenly round a circle D_b, from a side force and a couple in their plane."""
    return F / n + 2 * T / (n * D_b)


@formula(
    "N_b",
    unit="N",
    source="derived: flange turning about its middle, the safe side; deck without prying",
    ranges=(_RING_OF_BOLTS,),
)
def bolt_circle_tension(M: NewtonMetre, P: Newton, D_b: Metre, n: One) -> Newton:
    """Tension at most in one of n bolts evenly round a circle D_b, from a moment M on the flange and an uplift P."""
    return 4 * M / (n * D_b) + P / n


@formula("tau", unit="Pa", source="definition of the mean shear stress of a round bolt, shank in the joint")
def bolt_shear_stress(F_b: Newton, d: Metre) -> Pascal:
    """Shear stress in a bolt of diameter d."""
    return 4 * F_b / (np.pi * d**2)


@formula("sigma_b", unit="Pa", source="definition of the bearing stress")
def hole_bearing_stress(F_b: Newton, d: Metre, t: Metre) -> Pascal:
    """Bearing stress at the edge of a bolt hole through a thickness t: of a sandwich, its skins alone."""
    return F_b / (d * t)


# ---------------------------------------------------------------- pads

_MIDDLE_THIRD = "6 M/(P l)"


@formula(
    "p",
    unit="Pa",
    source="direct force and bending of a rigid rectangular pad",
    ranges=(
        Range(
            _MIDDLE_THIRD,
            lambda P, M, l, **_: 6 * M / (P * l),
            0.0,
            1.0,
            "refuse",
            "one edge of the pad lifts",
        ),
    ),
)
def pad_edge_pressure(P: Newton, M: NewtonMetre, l: Metre, w: Metre) -> Pascal:
    """Pressure through a deck under the edge of a pad l long and w wide; the spread of the skins is not counted."""
    return P / (l * w) + 6 * M / (w * l**2)


@formula(
    "p",
    unit="Pa",
    source="rigid rectangular pad that bears on part of its length alone, unbolted",
    ranges=(
        Range(
            _MIDDLE_THIRD,
            lambda P, M, l, **_: 6 * M / (P * l),
            1.0,
            2.9,
            "refuse",
            "below 1 all of the pad bears, near 3 it tips over its edge",
        ),
    ),
)
def lifted_pad_pressure(P: Newton, M: NewtonMetre, l: Metre, w: Metre) -> Pascal:
    """Pressure through a deck under the edge of a pad whose other edge lifts."""
    return 2 * P / (3 * w * (l / 2 - M / P))


@formula(
    "p", unit="Pa", source="derived: rigid rectangular pad bolted down, one half pressed and the other held"
)
def pad_couple_pressure(M: NewtonMetre, l: Metre, w: Metre) -> Pascal:
    """Pressure through a deck under the edge of a pad l long and w wide that only a couple presses."""
    return 6 * M / (w * l**2)
