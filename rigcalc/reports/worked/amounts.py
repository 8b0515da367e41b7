"""Numbers as a worked line shows them: four significant figures, in the unit that is usual for the size.

A reviewer multiplies what is printed, so a number and its unit are always given together.
"""

from __future__ import annotations

from typing import Any

from ...frozen import dataclass

FIGURES = 4

# SI unit: (shown from this size up, unit shown, its size in SI), the largest first; the last shows what is left
_SHOWN: dict[str, tuple[tuple[float, str, float], ...]] = {
    "Pa": ((1e9, "GPa", 1e9), (1e6, "MPa", 1e6), (1e4, "kPa", 1e3), (0.0, "Pa", 1.0)),
    "N": ((1e7, "MN", 1e6), (1e4, "kN", 1e3), (0.0, "N", 1.0)),
    "N m": ((1e4, "kN m", 1e3), (0.0, "N m", 1.0)),
    "N m2": ((1e4, "kN m2", 1e3), (0.0, "N m2", 1.0)),
    "N/m": ((1e7, "MN/m", 1e6), (1e4, "kN/m", 1e3), (0.0, "N/m", 1.0)),
    "m": ((1.0, "m", 1.0), (0.0, "mm", 1e-3)),
    "m2": ((1e-2, "m2", 1.0), (0.0, "mm2", 1e-6)),
    "m3": ((1e-2, "m3", 1.0), (0.0, "mm3", 1e-9)),
    "m4": ((1e-2, "m4", 1.0), (0.0, "mm4", 1e-12)),
    "Pa m/s": ((1e4, "MPa m/s", 1e6), (0.0, "Pa m/s", 1.0)),
}


@dataclass(frozen=True)
class Amount:
    """A number with its unit.

    Parameters
    ----------
    digits : str
        ``52.2``, ``1.2e-6``; a minus stands before it where it is below zero.
    unit : str
        Empty for a pure number.
    size : float
        What one of the unit is in SI.
    """

    digits: str
    unit: str
    size: float

    def __str__(self) -> str:
        return f"{self.digits} {self.unit}".rstrip()

    @property
    def split(self) -> tuple[str, str]:
        """Mantissa and power of ten; the latter empty where there is none."""
        mantissa, _, power = self.digits.partition("e")
        return mantissa, power


def amount(value: float, unit: str) -> Amount:
    """Return an SI value as it is shown.

    Parameters
    ----------
    value : float
        In `unit`.
    unit : str
        An SI unit; ``1`` for a pure number.
    """
    name, size = "" if unit == "1" else unit, 1.0
    if unit in _SHOWN:
        # what would round up to the next size is shown in it
        rounded = abs(float(f"{value:.{FIGURES}g}"))
        # nothing is shown in the plain unit: no one asks for 0 mm2
        _, name, size = next(s for s in _SHOWN[unit] if rounded >= s[0]) if rounded else (0.0, unit, 1.0)
    return Amount(_digits(value / size), name, size)


def _digits(value: float) -> str:
    text = f"{value:.{FIGURES - 1}e}"
    mantissa, power = text.split("e")
    exponent = int(power)
    if float(mantissa) == 0.0:
        return "0"
    if -4 < exponent < 6:
        plain = f"{float(text):.{max(FIGURES - 1 - exponent, 0)}f}"
        return plain.rstrip("0").rstrip(".") if "." in plain else plain
    return f"{mantissa.rstrip('0').rstrip('.')}e{exponent}"


# ---------------------------------------------------------------- units of help values

Dimension = tuple[float, float, float, float]
"""Powers of metre, kilogram, second and kelvin."""

_BASE: dict[str, Dimension] = {
    "m": (1, 0, 0, 0),
    "kg": (0, 1, 0, 0),
    "s": (0, 0, 1, 0),
    "K": (0, 0, 0, 1),
    "rad": (0, 0, 0, 0),
    "1": (0, 0, 0, 0),
    "N": (1, 1, -2, 0),
    "Pa": (-1, 1, -2, 0),
    "Hz": (0, 0, -1, 0),
}
NONE: Dimension = (0, 0, 0, 0)
# fmt: off
_KNOWN = (
    "1", "m", "m2", "m3", "m4", "1/m", "1/m2", "N", "N m", "N m2", "Pa", "N/m", "N/m3", "kg", "kg/m", "kg/m2",
    "kg/m3", "kg m2", "s", "1/s", "m/s", "m/s2", "m2/s", "Pa m/s", "1/Pa", "1/Pa2", "N2", "1/N m2", "K", "1/K",
    "1/m3", "1/s2", "N m/s",
)
# fmt: on


def dimension(unit: str) -> Dimension:
    """Return the powers of metre, kilogram, second and kelvin in a unit like ``N m2`` or ``kg/m3``."""
    total = [0.0, 0.0, 0.0, 0.0]
    above, _, below = unit.partition("/")
    for sign, side in ((1, above), (-1, below)):
        for factor in side.split():
            name = factor.rstrip("0123456789") or "1"
            power = sign * float(factor[len(name) :] or 1) if name != "1" else 0.0
            total = [have + power * more for have, more in zip(total, _BASE[name], strict=True)]
    return (total[0], total[1], total[2], total[3])


def unit_of(powers: Dimension) -> str:
    """Return a unit of a dimension: one that has a name, or powers of the base units."""
    for unit in _KNOWN:
        if dimension(unit) == powers:
            return unit
    written = zip(("m", "kg", "s", "K"), powers, strict=True)
    return " ".join(f"{name}^{power:g}" for name, power in written if power)


def dimension_of(expression: object, units: dict[str, Dimension]) -> Dimension:
    """Return the dimension of a sympy expression.

    Parameters
    ----------
    expression : sympy expression
        Homogeneous, as every formula is.
    units : dict
        Dimension of every symbol by name.
    """
    e: Any = expression
    if e.is_Symbol:
        return units[str(e)]
    if e.is_Mul:
        parts = [dimension_of(a, units) for a in e.args]
        return _total(parts)
    if e.is_Pow:
        power = float(e.exp) if e.exp.is_Number else 0.0
        return _times(dimension_of(e.base, units), power)
    if e.is_Add or type(e).__name__ in ("Min", "Max", "Abs"):
        # a term of bare numbers may be a nothing of any unit
        found = [dimension_of(a, units) for a in e.args]
        return next((d for d in found if d != NONE), NONE)
    if type(e).__name__ == "Piecewise":
        return dimension_of(e.args[0][0], units)
    return NONE


def _total(parts: list[Dimension]) -> Dimension:
    a, b, c, d = (sum(powers) for powers in zip(*parts, strict=True))
    return (a, b, c, d)


def _times(powers: Dimension, by: float) -> Dimension:
    a, b, c, d = (power * by for power in powers)
    return (a, b, c, d)
