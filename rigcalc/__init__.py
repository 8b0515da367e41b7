"""Sizing of freestanding masts that turn in their bearings: loads, stresses, bearings, verdict."""

__version__ = "0.1.0"
