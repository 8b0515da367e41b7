"""The file that `rigcalc new` writes: small, commented, and passing."""

from __future__ import annotations

from pathlib import Path


def starter_text() -> str:
    """Return the text of a small commented rig file that passes, of an invented boat.

    Returns
    -------
    str
        TOML, as ``rigcalc new`` writes it.

    Examples
    --------
    >>> from rigcalc import starter_text
    >>> "one freestanding mast" in starter_text()
    True
    """
    return Path(__file__).parent.joinpath("starter.toml").read_text(encoding="utf-8")
