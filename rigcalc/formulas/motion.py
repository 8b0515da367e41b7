"""Being thrown about: roll and pitch, and what the mast's mass costs in stability."""

from __future__ import annotations

import numpy as np

from .record import KgM2, Kilogram, Metre, Radian, RadPerS2, Second, formula


@formula("phi''", unit="rad/s2", source="greatest acceleration of a harmonic swing")
def swing_acceleration(phi: Radian, T: Second) -> RadPerS2:
    """Angular acceleration at the end of a swing of amplitude phi and period T."""
    return phi * (2 * np.pi / T) ** 2


@formula("I_m", unit="kg m2", source="definition of the moment of inertia")
def mass_inertia(m: Kilogram, k: Metre) -> KgM2:
    """Moment of inertia of a mass at a radius of gyration k."""
    return m * k**2


@formula("m_b", unit="kg", source="moments of weight about the boat's centre of gravity")
def equivalent_ballast(m: Kilogram, h: Metre, d: Metre) -> Kilogram:
    """Ballast carried d below the centre of gravity that makes up for a mass h above it."""
    return m * h / d
