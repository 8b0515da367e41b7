"""How a long search tells how far it is, and how it is stopped."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field

Tell = Callable[[str], None]
PATIENCE_S = 1.0


def _silent(text: str) -> None:
    """Tell nobody."""


@dataclass
class Watch:
    """Counts the masts tried, and tells now and then.

    Parameters
    ----------
    tell : callable
        Takes one line of progress.
    tried : int
        Masts looked at so far.
    """

    tell: Tell = _silent
    tried: int = 0
    _next: float = field(default_factory=lambda: time.monotonic() + PATIENCE_S)

    def count(self, masts: int, of: str, best: float | None) -> None:
        """Note masts tried; the first second goes by in silence.

        Parameters
        ----------
        masts : int
            How many more.
        of : str
            What is being sized.
        best : float or None
            Mass of the best so far, kg.
        """
        self.tried += masts
        now = time.monotonic()
        if now >= self._next:
            self._next = now + PATIENCE_S
            found = "none passes yet" if best is None else f"lightest so far {best:.2f} kg"
            self.tell(f"{of}: {self.tried} masts tried, {found}")
