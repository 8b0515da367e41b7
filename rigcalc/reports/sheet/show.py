"""Numbers as the report shows them: rounded for the eye, with the place where the JSON has them in full."""

from __future__ import annotations

import math
from typing import Final

from ... import units
from ...frozen import dataclass
from ..figures.words import Scale, Shown
from ..terminal import amount
from .record import Column, Kind, Mark, Value

NONE: Final = "–"
"""Shown where there is no number."""

# quantity: SI unit, then unit and decimals as shown in either system
_SHOWN: Final[dict[str, tuple[str, tuple[str, int], tuple[str, int]]]] = {
    "force": ("N", ("N", 0), ("lbf", 0)),
    "moment": ("N m", ("N m", 0), ("lbf ft", 0)),
    "torque": ("N m", ("N m", 1), ("lbf ft", 1)),
    "height": ("m", ("m", 2), ("ft", 2)),
    "length": ("m", ("m", 3), ("ft", 3)),
    "size": ("m", ("mm", 1), ("in", 3)),
    "fine": ("m", ("mm", 2), ("in", 3)),
    "thin": ("m", ("mm", 3), ("in", 4)),
    "area": ("m2", ("m2", 2), ("ft2", 1)),
    "mass": ("kg", ("kg", 1), ("lb", 1)),
    "weight": ("kg", ("kg", 3), ("lb", 3)),
    "pressure": ("Pa", ("MPa", 2), ("ksi", 3)),
    "wind": ("m/s", ("kn", 1), ("kn", 1)),
    "angle": ("rad", ("deg", 1), ("deg", 1)),
    "bevel": ("rad", ("deg", 2), ("deg", 2)),
    "degrees": ("1", ("1", 0), ("1", 0)),
    "frequency": ("1", ("1", 2), ("1", 2)),
    "number": ("1", ("1", 2), ("1", 2)),
    "count": ("1", ("1", 0), ("1", 0)),
    "thousandth": ("1", ("1", 1), ("1", 1)),
    "share": ("1", ("1", 2), ("1", 2)),
    "percent": ("1", ("1", 0), ("1", 0)),
}
_TIMES: Final = {"thousandth": ("mm/m", 1e3), "share": ("%", 100.0), "percent": ("%", 100.0)}
_NAMES: Final = {"degrees": "deg", "frequency": "Hz"}


@dataclass(frozen=True)
class Show:
    """How numbers are shown.

    Parameters
    ----------
    shown : {"metric", "us"}
        Units.
    """

    shown: Shown

    def scale(self, quantity: str) -> Scale:
        """Return unit, factor and decimals of a quantity."""
        si, metric, us = _SHOWN[quantity]
        name, digits = us if self.shown == "us" else metric
        if quantity in _TIMES:
            return Scale(*_TIMES[quantity], digits)
        factor = 1.0 if name == si else units.convert(1.0, si, name)
        return Scale(_NAMES.get(quantity, "" if name == "1" else name), factor, digits)

    def column(self, head: str, quantity: str) -> Column:
        """Return the head of a column of numbers."""
        return Column(head, self.scale(quantity).unit, "number")

    def value(self, quantity: str, value: float | None, path: str = "") -> Value | str:
        """Return a number without its unit."""
        if value is None:
            return NONE
        if not math.isfinite(value):
            return Value("no answer", path)
        return Value(self.scale(quantity).number(value), path, float(value))

    def said(self, quantity: str, value: float | None, path: str = "") -> Value | str:
        """Return a number with its unit."""
        if value is None:
            return NONE
        if not math.isfinite(value):
            return Value("no answer", path)
        return Value(self.scale(quantity).text(value).rstrip(), path, float(value))

    def amount(self, value: float, unit: str, path: str = "") -> Value:
        """Return a side of a check with its unit."""
        if not math.isfinite(value):
            return Value("no answer", path)
        return Value(amount(value, unit, self.shown), path, float(value))


def text(value: str | None, path: str = "") -> Value | str:
    """Return a word."""
    return NONE if value is None else Value(value, path, value)


def judged(passed: bool, path: str = "") -> Mark:
    """Return PASS or FAIL."""
    return Mark("PASS" if passed else "FAIL", "good" if passed else "bad", path, passed)


def heads(*names: str, kind: Kind = "text") -> tuple[Column, ...]:
    """Return heads of columns of one kind."""
    return tuple(Column(name, kind=kind) for name in names)
