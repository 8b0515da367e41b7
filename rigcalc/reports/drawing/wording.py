"""How sizes are written on a drawing: millimetres, or inches."""

from __future__ import annotations

import math
from typing import Literal

from ... import units
from ...frozen import dataclass

System = Literal["metric", "us"]


@dataclass(frozen=True)
class Wording:
    """Writes sizes in one system of units.

    Parameters
    ----------
    system : {"metric", "us"}
        Millimetres to two places, or inches to three.
    """

    system: System = "metric"

    @property
    def unit(self) -> str:
        """Unit of every length on the drawing."""
        return "mm" if self.system == "metric" else "in"

    @property
    def units(self) -> str:
        """The same in a sentence."""
        return "mm" if self.system == "metric" else "inches"

    def height(self, metres: float) -> str:
        """Return a height up the mast as a number: of a taper no one marks out a thousandth of an inch."""
        return (
            self.length(metres)
            if self.system == "metric"
            else _trimmed(f"{units.convert(metres, 'm', 'in'):.2f}")
        )

    def length(self, metres: float) -> str:
        """Return a length as a number."""
        digits = 2 if self.system == "metric" else 3
        return _trimmed(f"{units.convert(metres, 'm', self.unit):.{digits}f}")

    def fine(self, metres: float) -> str:
        """Return a thickness of a ply as a number, to one place more."""
        digits = 3 if self.system == "metric" else 4
        return _trimmed(f"{units.convert(metres, 'm', self.unit):.{digits}f}")

    def areal_mass(self, kg_m2: float) -> str:
        """Return a mass to the area with its unit."""
        unit = "g/m2" if self.system == "metric" else "oz/yd2"
        number = _trimmed(f"{units.convert(kg_m2, 'kg/m2', unit):.1f}")
        return f"{number} {unit}"

    def mass(self, kg: float) -> str:
        """Return a mass with its unit."""
        unit = "kg" if self.system == "metric" else "lb"
        return f"{units.convert(kg, 'kg', unit):.1f} {unit}"

    def angle(self, radians: float) -> str:
        """Return an angle with its unit."""
        return f"{_trimmed(f'{math.degrees(radians):.2f}')}°"

    def span(self, start_m: float, end_m: float) -> str:
        """Return a stretch of heights."""
        return f"{self.height(start_m)} to {self.height(end_m)}"


def ratio(scale: float) -> str:
    """Return a scale as it is written: 1:2.5."""
    return f"1:{scale:g}"


def _trimmed(number: str) -> str:
    number = number.rstrip("0").rstrip(".") if "." in number else number
    return "0" if number == "-0" else number
