"""What masts are made of."""

from .bearing_tables import BearingMaterial, bearing_material_names, bearing_materials, find_bearing_material
from .choose import metal_rows, own_metal
from .metals import MaterialError, Metal, find_metal, metal_names, metals

__all__ = [
    "BearingMaterial",
    "MaterialError",
    "Metal",
    "bearing_material_names",
    "bearing_materials",
    "find_bearing_material",
    "find_metal",
    "metal_names",
    "metal_rows",
    "metals",
    "own_metal",
]
