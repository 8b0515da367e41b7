"""Masts of several materials side by side."""
