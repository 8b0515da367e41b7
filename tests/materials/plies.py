"""Plies for tests, with nothing but what a case states; in any consistent units."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from rigcalc.materials.laminates import Lamina, Ply, PlyMaterial, Wall

Strengths = tuple[float, float, float, float, float]


def ply_of(
    *, E1: float, E2: float, G12: float, nu12: float, t: float = 1.0, strengths: Strengths | None = None
) -> Ply:
    Xt, Xc, Yt, Yc, S12 = strengths or (None,) * 5
    return PlyMaterial(
        name="test",
        fibre_fraction=0.5,
        fibre_density_kg_m3=2500.0,
        density_kg_m3=1800.0,
        E1_Pa=E1,
        E2_Pa=E2,
        G12_Pa=G12,
        nu12=nu12,
        Xt_Pa=Xt,
        Xc_Pa=Xc,
        Yt_Pa=Yt,
        Yc_Pa=Yc,
        S12_Pa=S12,
        provenance="computed",
        source="test",
    ).of_thickness(t)


def wall_of(ply: Ply, degrees: Sequence[float]) -> Wall:
    """Return a wall of one kind of ply; angles inside first, which books call the bottom."""
    return Wall(tuple(Lamina(ply, float(np.radians(angle))) for angle in degrees))
