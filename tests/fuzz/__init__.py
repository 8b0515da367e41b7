"""Random, damaged and hostile files: an answer that can be believed, or a refusal that can be followed.

`values` makes what may stand behind a key, `grammar` whole files of it, `walk` rigs that are odd but sound,
`damage` hurts the text of a good file, `bombs` are made to hurt the reader, and `judge` says what is wrong with what
came of a file. Everything is drawn from a seed, so that a file that was found can be made again.
`python -m tests.fuzz.hunt` looks farther than the tests do.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from rigcalc.rigfile import starter_text

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def good_texts() -> tuple[str, ...]:
    """Return the text of the starter and of every example, the starter first."""
    return (starter_text(), *(path.read_text(encoding="utf-8") for path in sorted(EXAMPLES.glob("*.toml"))))
