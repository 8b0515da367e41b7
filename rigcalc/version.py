"""The version of rigcalc, told in every result."""

__version__ = "0.1.0"
