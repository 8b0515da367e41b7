"""Exports for a reviewer."""
