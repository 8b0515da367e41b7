"""Wind: pressure, its growth with height, and the drag of round members."""

from __future__ import annotations

import numpy as np

from .record import (
    KgPerM3,
    M2PerS,
    Metre,
    MPerS,
    NewtonPerM,
    One,
    Pascal,
    Range,
    formula,
)


@formula("q", unit="Pa", source="EN 1991-1-4:2005, 4.5, expression (4.10), read in public code")
def wind_pressure(rho: KgPerM3, v: MPerS) -> Pascal:
    """Dynamic pressure of wind."""
    return rho * v**2 / 2


@formula(
    "v_h",
    unit="m/s",
    source="power law of the wind profile; exponents over water 0.06 (unstable) to 0.27 (stable), 0.11 usual, read in "
    "a public sailing model",
    ranges=(
        Range(
            "alpha",
            lambda alpha, **_: alpha,
            0.0,
            0.4,
            why="exponents outside this were not met in any source",
        ),
        Range(
            "h/h_ref",
            lambda h, h_ref, **_: h / h_ref,
            0.0,
            np.inf,
            "refuse",
            "there is no wind below the water",
        ),
        Range("h", lambda h, **_: h, high=100.0, why="the law is fitted to the lowest layer of air"),
    ),
)
def power_law_speed(v_ref: MPerS, h: Metre, h_ref: Metre, alpha: One) -> MPerS:
    """Wind speed at a height above the water, power law."""
    return v_ref * (h / h_ref) ** alpha


@formula(
    "v_h",
    unit="m/s",
    source="logarithmic wind profile, EN 1991-1-4:2005, 4.3.2, expression (4.4), read in public code",
    ranges=(
        Range(
            "h/z_0", lambda h, z_0, **_: h / z_0, 5.0, np.inf, why="the law has no meaning near the surface"
        ),
        Range("z_0", lambda z_0, **_: z_0, 1e-5, 0.05, why="0.0002 m is calm water, 0.003 m storm sea"),
    ),
)
def log_law_speed(v_ref: MPerS, h: Metre, h_ref: Metre, z_0: Metre) -> MPerS:
    """Wind speed at a height above the water, logarithmic law."""
    return v_ref * np.log(h / z_0) / np.log(h_ref / z_0)


@formula("Re", unit="1", source="definition of the Reynolds number")
def reynolds_number(v: MPerS, D: Metre, nu: M2PerS) -> One:
    """Reynolds number of a member of width D across the flow."""
    return v * D / nu


@formula(
    "f_D",
    unit="N/m",
    source="drag of a member across the flow; Subramanya, 1000 Solved Problems in Fluid Mechanics, Ex. 9.10, read",
)
def drag_per_length(C_D: One, q: Pascal, D: Metre) -> NewtonPerM:
    """Drag of one metre of a member across the wind."""
    return C_D * q * D


@formula("v_g", unit="m/s", source="definition of the gust factor")
def gust_speed(v: MPerS, k_g: One) -> MPerS:
    """Speed of the wind in a gust."""
    return v * k_g


@formula("q_d", unit="Pa", source="definition of the dynamic factor")
def factored_pressure(q: Pascal, k_d: One) -> Pascal:
    """Pressure with the dynamic factor on it."""
    return q * k_d
