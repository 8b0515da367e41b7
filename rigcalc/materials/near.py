"""Names almost right: what was probably meant."""

from __future__ import annotations

from collections.abc import Iterable


def nearest(name: str, names: Iterable[str], *, most: int = 3) -> list[str]:
    """Return the names most like one that was not found, likest first.

    Capitals, spaces and marks count for nothing; names that begin with what was typed come before all others.
    """
    import difflib

    known = {_folded(one): one for one in names}
    typed = _folded(name)
    if typed in known:
        return [known[typed]]
    begun = [one for folded, one in known.items() if typed and folded.startswith(typed)]
    return (begun or [known[folded] for folded in difflib.get_close_matches(typed, known, n=most)])[:most]


def did_you_mean(near: Iterable[str], otherwise: str) -> str:
    """Return a remedy that names the nearest, or another where there are none."""
    names = quoted(near)
    return f"Did you mean {names}?" if names else otherwise


def quoted(names: Iterable[str]) -> str:
    """Return names in quotes, with "or" between them."""
    return " or ".join(f"'{name}'" for name in names)


def _folded(name: str) -> str:
    return "".join(c for c in name.casefold() if c.isalnum())
