"""What masts are made of."""

from .bearing_tables import BearingMaterial, bearing_material_names, bearing_materials, find_bearing_material
from .choose import Family, family_of, known_family, metal_rows
from .fatigue_details import Detail, fatigue_details, find_fatigue_detail
from .foams import Foam
from .metals import MaterialError, Metal, find_metal, metal_names, metals
from .own import own_foam, own_metal, own_ply, own_timber, ply_finder

__all__ = [
    "BearingMaterial",
    "Detail",
    "Family",
    "Foam",
    "MaterialError",
    "Metal",
    "bearing_material_names",
    "bearing_materials",
    "family_of",
    "fatigue_details",
    "find_bearing_material",
    "find_fatigue_detail",
    "find_metal",
    "known_family",
    "metal_names",
    "metal_rows",
    "metals",
    "own_foam",
    "own_metal",
    "own_ply",
    "own_timber",
    "ply_finder",
]
