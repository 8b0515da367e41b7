"""What several rules say alike."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from ...errors import Problem
from ..loose import Loose

HAIR = 1e-9
"""Slack for heights and sizes worked out in floats."""


def mm(value: float) -> str:
    """Return a length in millimetres."""
    return f"{value * 1e3:.4g} mm"


def unique(items: Sequence[Loose], kind: str) -> Iterator[Problem]:
    """Yield a problem for every name used twice."""
    seen: set[str] = set()
    for item in items:
        if item.has("name"):
            if item.name in seen:
                yield Problem(
                    f"{item.path}.name", f'"{item.name}"', f"another {kind} has this name", "Rename one."
                )
            seen.add(item.name)


def name_known(path: str, name: str, names: Iterable[str], kind: str) -> Iterator[Problem]:
    """Yield a problem where a name is not among those known, with the nearest."""
    import difflib

    names = list(dict.fromkeys(names))
    if name not in names:
        near = difflib.get_close_matches(name, names, n=1)
        listed = ", ".join(f'"{known}"' for known in names)
        known = f"there are {listed}" if names else f"the file has no {kind}"
        remedy = f'Did you mean "{near[0]}"?' if near else f"Name one of them, or add the {kind}."
        yield Problem(path, f'"{name}"', f"there is no {kind} of this name; {known}", remedy)
