"""What masts are made of."""

from .choose import metal_rows, own_metal
from .fatigue_details import Detail, fatigue_details, find_fatigue_detail
from .metals import MaterialError, Metal, find_metal, metal_names, metals

__all__ = [
    "Detail",
    "MaterialError",
    "Metal",
    "fatigue_details",
    "find_fatigue_detail",
    "find_metal",
    "metal_names",
    "metal_rows",
    "metals",
    "own_metal",
]
