"""What the mast can bear, by material, and how much of it is used."""

from .metal import Internal, metal_limits
from .record import Check, Limit
from .whole import axial_stability_check, tip_deflection_check

__all__ = ["Check", "Internal", "Limit", "axial_stability_check", "metal_limits", "tip_deflection_check"]
