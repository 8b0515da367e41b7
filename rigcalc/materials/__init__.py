"""What masts are made of."""

from .choose import Family, family_of, metal_rows
from .foams import Foam
from .metals import MaterialError, Metal, find_metal, metal_names, metals
from .own import own_foam, own_metal, own_ply, own_timber, ply_finder

__all__ = [
    "Family",
    "Foam",
    "MaterialError",
    "Metal",
    "family_of",
    "find_metal",
    "metal_names",
    "metal_rows",
    "metals",
    "own_foam",
    "own_metal",
    "own_ply",
    "own_timber",
    "ply_finder",
]
