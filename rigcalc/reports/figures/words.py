"""Quantities in the units of a figure: one unit to an axis, the same in its labels and in its words."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Final, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ... import units
from ...frozen import dataclass

Floats = NDArray[np.float64]
Shown = Literal["metric", "us"]

_UNITS: Final[dict[str, tuple[str, tuple[str, int], tuple[str, int]]]] = {
    "force": ("N", ("N", 0), ("lbf", 0)),
    "line": ("N/m", ("N/m", 0), ("lbf/ft", 1)),
    "moment": ("N m", ("N m", 0), ("lbf ft", 0)),
    "height": ("m", ("m", 2), ("ft", 2)),
    "deflection": ("m", ("m", 3), ("ft", 2)),
    "size": ("m", ("mm", 2), ("in", 3)),
    "area": ("m2", ("m2", 2), ("ft2", 1)),
    "mass": ("kg", ("kg", 1), ("lb", 1)),
}


@dataclass(frozen=True)
class Scale:
    """How a quantity is shown.

    Parameters
    ----------
    unit : str
        Its name.
    factor : float
        What an SI value is multiplied by.
    digits : int
        Decimals in words.
    trimmed : bool
        Whether zeros at the end are dropped, as of a size that is bought by name.
    """

    unit: str
    factor: float
    digits: int
    trimmed: bool = False

    def of(self, value: ArrayLike) -> Floats:
        """Return SI values in this unit."""
        return np.asarray(np.asarray(value, dtype=float) * self.factor)

    def number(self, value: float) -> str:
        """Write an SI value without its unit; nothing is written as minus nothing."""
        text = f"{round(value * self.factor, self.digits) + 0.0:.{self.digits}f}"
        return text.rstrip("0").removesuffix(".") if self.trimmed and "." in text else text

    def text(self, value: float) -> str:
        """Write an SI value with its unit."""
        return f"{self.number(value)} {self.unit}"


def scale(quantity: str, shown: Shown) -> Scale:
    """Return how a quantity is shown: ``force``, ``line``, ``moment``, ``height`` and so on."""
    si, metric, us = _UNITS[quantity]
    name, digits = us if shown == "us" else metric
    return Scale(name, units.convert(1.0, si, name), digits, quantity == "size")


def knots(speed_m_s: float) -> str:
    """Write a wind in knots."""
    return f"{units.convert(speed_m_s, 'm/s', 'kn'):.1f} kn"


def listed(words: Iterable[Any]) -> str:
    """Join words as a sentence does."""
    *most, last = map(str, words)
    return f"{', '.join(most)} and {last}" if most else last
