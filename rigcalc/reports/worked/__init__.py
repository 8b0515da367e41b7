"""The worked calculation: every number that matters, so that a reviewer can follow it by hand."""
