"""Masts held at two heights, and forces that keep pulling to one point."""
