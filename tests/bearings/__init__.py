"""Bearings: contact, rollers, rings, play, bolts and the effort of turning."""
