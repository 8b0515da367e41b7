"""How a result shows itself where it is the last line of a cell in a notebook.

This is a door of the package, as its ``__init__`` is: results stand below the reports that know how to show them, so
the way up is taken by name, when a notebook asks, and by nothing else.
"""

from __future__ import annotations

from importlib import import_module


class InNotebook:
    """A result that a notebook shows as a piece of HTML."""

    __slots__ = ()

    def _repr_html_(self) -> str:
        """Return verdict, tables and cautions as HTML: no script, nothing fetched, every text escaped."""
        fragment: str = import_module("rigcalc.reports.notebook").fragment_of(self)
        return fragment
