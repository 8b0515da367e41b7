"""How a result shows itself where it is the last line of a cell in a notebook.

Results stand below the reports that know how to show them, so they are not to look for one: the package's own
``__init__``, which stands above both, hands them the way to it.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar


class InNotebook:
    """A result that a notebook shows as a piece of HTML."""

    __slots__ = ()

    shown_by: ClassVar[Callable[[InNotebook], str]]

    def _repr_html_(self) -> str:
        """Return verdict, tables and cautions as HTML: no script, nothing fetched, every text escaped."""
        return type(self).shown_by(self)
