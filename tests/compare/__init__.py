"""Tests of masts side by side."""
