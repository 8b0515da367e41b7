"""Words of the report in the styles and colours of the PDF; a colour only repeats what its word says."""

from __future__ import annotations

from typing import Final

from .record import Inline, Mark, Words
from .type import Run

INK, SOFT, LINE, CARE = "#17212b", "#55636f", "#b9c2ca", "#8a5a00"
TONES: Final = {"good": "#1f6a4a", "bad": "#a82a1a", "quiet": SOFT}


def runs_of(words: Words, colour: str = INK) -> list[Run]:
    """Return words as runs of one style each."""
    return [_run(part, colour) for part in words]


def _run(part: Inline, colour: str) -> Run:
    match part:
        case str():
            return Run(part, colour=colour)
        case Mark(text, tone, _, _):
            return Run(text, "italic" if tone == "quiet" else "bold", TONES[tone])
        case _:
            return Run(part.text, colour=colour)
