"""What a source says of itself: read, from memory, common practice, judgement, derived, or none of these."""

from __future__ import annotations

import re
from typing import Final

MARKS: Final[dict[str, str]] = {
    "read": "read",
    "memory": "from memory",
    "practice": "common practice",
    "judgement": "judgement",
    "derived": "derived",
    "plain": "no mark",
}
"""Marks by name, and as they are shown."""

WORDS: Final[dict[str, str]] = {
    "memory": r"from memory",
    "practice": r"common practice|commonly sold|usual for",
    "judgement": r"judgement",
    "derived": r"derived|fitted",
    "read": r"\bread\b(?! along)",
}


def mark_of(source: str) -> str:
    """Return the mark of a source; of several the first that it names, for what follows qualifies what came first."""
    at = {
        mark: found.start()
        for mark, words in WORDS.items()
        if (found := re.search(words, source)) is not None
    }
    return min(at, key=lambda mark: at[mark]) if at else "plain"
