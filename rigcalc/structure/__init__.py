"""The mast as a structure: sections along it, and the beam they make on two bearings."""
