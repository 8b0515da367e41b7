"""What masts are made of."""

from .choose import metal_rows, own_metal
from .metals import MaterialError, Metal, find_metal, metal_names, metals

__all__ = ["MaterialError", "Metal", "find_metal", "metal_names", "metal_rows", "metals", "own_metal"]
