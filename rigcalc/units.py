"""The edge between text with units and the SI floats used everywhere inside.

Factors that are not SI follow from the exact definitions of a few units. They are those of `scipy.constants`, to the
last bit, and a test holds them to it; to load that here would take longer than a check may take to start.
"""

from __future__ import annotations

import math
import re
from functools import cache
from typing import Final, Literal, NoReturn

STANDARD_GRAVITY_M_S2: Final = 9.80665
"""Standard acceleration of gravity, exact by definition (3rd CGPM, 1901; SI brochure)."""

Kind = Literal["number", "no unit", "unknown unit", "wrong dimension"]

_INCH: Final = 0.0254
_FOOT: Final = 12 * _INCH
_YARD: Final = 3 * _FOOT
_POUND: Final = 7000 * 64.79891e-6
_POUND_FORCE: Final = _POUND * STANDARD_GRAVITY_M_S2
_HOUR: Final = 3600.0
# by name, each from units that are exact by definition: the international inch and pound (agreement of 1959), the
# nautical mile of 1852 m, standard gravity
_DEFINED: Final = {
    "inch": _INCH,
    "foot": _FOOT,
    "yard": _YARD,
    "pound": _POUND,
    "ounce": _POUND / 16,
    "kilogram_force": STANDARD_GRAVITY_M_S2,
    "pound_force": _POUND_FORCE,
    "kilo": 1e3,
    "psi": _POUND_FORCE / (_INCH * _INCH),
    "minute": 60.0,
    "hour": _HOUR,
    "knot": 1852.0 / _HOUR,
    "kmh": 1e3 / _HOUR,
    "mph": 1760 * _YARD / _HOUR,
}

# SI unit: (name of the dimension, {accepted unit: factor to SI}). A text factor names values defined above: those
# before the first "/" are multiplied, each one after it divides.
_DIMENSIONS: Final[dict[str, tuple[str, dict[str, float | str]]]] = {
    "m": ("length", {"m": 1.0, "cm": 1e-2, "mm": 1e-3, "ft": "foot", "in": "inch"}),
    "m2": ("area", {"m2": 1.0, "cm2": 1e-4, "mm2": 1e-6, "ft2": "foot foot", "in2": "inch inch"}),
    "kg": ("mass", {"kg": 1.0, "g": 1e-3, "t": 1e3, "lb": "pound", "oz": "ounce"}),
    "N": ("force", {"N": 1.0, "kN": 1e3, "kgf": "kilogram_force", "lbf": "pound_force"}),
    "N m": ("moment", {"N m": 1.0, "kN m": 1e3, "kgf m": "kilogram_force", "lbf ft": "pound_force foot"}),
    "Pa": (
        "pressure or stress",
        {"Pa": 1.0, "kPa": 1e3, "MPa": 1e6, "GPa": 1e9, "psi": "psi", "ksi": "kilo psi"},
    ),
    "N/m": (
        "force per length",
        {"N/m": 1.0, "kN/m": 1e3, "N/mm": 1e3, "lbf/ft": "pound_force/foot", "lbf/in": "pound_force/inch"},
    ),
    "m2/s": ("kinematic viscosity", {"m2/s": 1.0}),
    "m/s": ("speed", {"m/s": 1.0, "kn": "knot", "km/h": "kmh", "mph": "mph"}),
    "rad": ("angle", {"rad": 1.0, "deg": math.radians(1.0)}),
    "s": ("time", {"s": 1.0, "min": "minute", "h": "hour"}),
    "Hz": ("frequency", {"Hz": 1.0}),
    "kg/m2": ("mass per area", {"kg/m2": 1.0, "g/m2": 1e-3, "oz/yd2": "ounce/yard/yard"}),
    "kg/m3": ("density", {"kg/m3": 1.0, "g/cm3": 1e3, "lb/ft3": "pound/foot/foot/foot"}),
    "kg m2": ("moment of inertia", {"kg m2": 1.0}),
    "1/m": ("curvature", {"1/m": 1.0}),
    "1/K": ("thermal expansion coefficient", {"1/K": 1.0, "1e-6/K": 1e-6}),
    "degC": ("temperature", {"degC": 1.0}),
    "1": ("pure number", {"1": 1.0, "%": 1e-2}),
}
_SI_OF: Final = {name: si for si, (_, units) in _DIMENSIONS.items() for name in units}
_ALIASES: Final = {
    "'": "ft", '"': "in", "Nm": "N m", "kNm": "kN m", "ft lbf": "lbf ft", "/K": "1/K", "/m": "1/m",
}  # fmt: skip
# Refused, because a guess could be wrong, but answered with the unit that was probably meant.
_SLIPS: Final = {
    "m": ("metre", "metres", "meter", "meters"),
    "ft": ("foot", "feet"),
    "in": ("inch", "inches", "''"),
    "kg": ("kilo", "kilos", "kgs"),
    "t": ("tonne", "tonnes"),
    "lb": ("lbs", "pound", "pounds"),
    "kgf": ("kg", "kgs", "kilo", "kilos"),
    "lbf": ("lb", "lbs", "pound", "pounds"),
    "lbf ft": ("ft lb", "lb ft", "ft lbs", "ft-lb", "ft-lbs", "ft-lbf"),
    "kPa": ("kn/m2",),
    "MPa": ("n/mm2",),
    "kn": ("knot", "knots", "kt", "kts"),
    "km/h": ("kph", "kmh", "kmph"),
    "deg": ("degree", "degrees"),
    "s": ("sec", "secs", "second", "seconds"),
    "h": ("hr", "hrs", "hour", "hours"),
    "degC": ("c", "celsius", "k", "kelvin"),
    "%": ("percent", "per cent", "pct"),
}
_ASCII: Final = str.maketrans({"°": "deg", "−": "-", "′": "'", "″": '"'})
# In the unit only: within a number they would turn 3² into 32.
_UNIT_ASCII: Final = str.maketrans({"²": "2", "³": "3", "·": " ", "⋅": " ", "*": " "})

_NUMBER: Final = r"(?:(?:[0-9]+ )?[0-9]+/[0-9]+|(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)"
_QUANTITY: Final = re.compile(rf"([+-]?)({_NUMBER}) ?(.*)")
# `re` compiles these when they are first wanted, and keeps them
_FEET_INCHES: Final = rf"([+-]?)([0-9]+) ?(?:ft|') ?({_NUMBER}) ?(?:in|\")"
_BROKEN_NUMBER: Final = r"(?!1/[A-Za-z])/?[0-9+\-._/*·⋅²³¹¼-¾⅐-⅞]"
_SECOND_QUANTITY: Final = r".*[ '\"][+-]?\.?[0-9]"
_SPACED_THOUSANDS: Final = re.compile(r"(?<=[0-9])[ '](?=[0-9]{3}(?![0-9/]))")
_MOST_LETTERS: Final = 200
_PLAIN_NUMBER: Final = "Write a plain number such as 7.2, 2e5, 3/8 or 1 1/2, then its unit."
_FEET_RULE: Final = (
    "Only feet and inches go together, as in 14 ft 3 1/2 in: "
    "whole feet first, then inches below 12, with one sign in front."
)


class UnitError(ValueError):
    """A quantity that cannot be read, said so that its writer can put it right.

    Parameters
    ----------
    kind : {"number", "no unit", "unknown unit", "wrong dimension"}
        What sort of fault it is.
    text : str
        What was read.
    fault : str
        What is wrong with it.
    allowed : str
        What may stand there, for example ``a length in m, cm, mm, ft or in``.
    remedy : str
        What to do about it, a whole sentence.
    """

    def __init__(self, kind: Kind, text: str, fault: str, allowed: str, remedy: str) -> None:
        super().__init__(kind, text, fault, allowed, remedy)
        self.kind, self.text, self.fault, self.allowed, self.remedy = kind, text, fault, allowed, remedy

    def __str__(self) -> str:
        return f"{self.text!r} {self.fault}. Allowed: {self.allowed}. {self.remedy}"


def parse(text: str, unit: str) -> float:
    """Read a quantity written with its unit.

    Parameters
    ----------
    text : str
        For example ``7.2 m``, ``14 ft 3 1/2 in``, ``2e5 N/m`` or ``40 %``.
    unit : str
        SI unit of the wanted quantity, for example ``m`` or ``N m``; ``1`` for a pure number.

    Returns
    -------
    float
        The value in `unit`, always finite.

    Raises
    ------
    UnitError
        If the number or its unit cannot be read, or the unit is one of another dimension.
    KeyError
        If `unit` is not one of the SI units known here.

    Notes
    -----
    Units and factors: their definitions; an inch is 1/12 of a foot. ``degC`` is what a thermometer reads.
    """
    return _read(text, unit)[0]


def unit_in(text: str, unit: str) -> str:
    """Tell in which unit a quantity is written.

    Parameters
    ----------
    text : str
        As `parse` takes it.
    unit : str
        SI unit of the wanted quantity.

    Returns
    -------
    str
        One of ``accepted(unit)``; ``in`` for feet and inches together.

    Raises
    ------
    UnitError
        As `parse` does.
    KeyError
        If `unit` is not one of the SI units known here.
    """
    return _read(text, unit)[1]


def convert(value: float, unit: str, to: str) -> float:
    """Express an SI value in another unit of the same dimension, for display.

    Parameters
    ----------
    value : float
        In `unit`.
    unit : str
        An SI unit known here.
    to : str
        One of ``accepted(unit)``.

    Returns
    -------
    float
        The value in `to`.

    Raises
    ------
    UnitError
        If `to` is unknown or of another dimension.
    KeyError
        If `unit` is not one of the SI units known here.
    """
    _si_unit(unit)
    name = _canonical(to.translate(_ASCII)) or to
    if _SI_OF.get(name) != unit:
        kind, fault, remedy = _unit_fault(name, unit)
        raise UnitError(kind, to, fault, _allowed(unit), remedy)
    return value / _factor(name)


def show(value: float, unit: str, *, digits: int = 4) -> str:
    """Write an SI value with its unit; `parse` reads the text back.

    Parameters
    ----------
    value : float
        In `unit`; finite.
    unit : str
        An SI unit known here; ``1`` writes the number alone.
    digits : int
        Significant digits, at least 1. Trailing zeros are dropped.

    Returns
    -------
    str
        Without an exponent from 0.0001 up to ten million, with one such as ``7e10 Pa`` beyond.

    Raises
    ------
    ValueError
        If `value` is not finite or `digits` is below 1.
    KeyError
        If `unit` is not one of the SI units known here.
    """
    _si_unit(unit)
    if not math.isfinite(value) or digits < 1:
        raise ValueError(f"cannot show {value} {unit} to {digits} digits")
    rounded = float(f"{value:.{digits - 1}e}") + 0.0  # the sum turns -0.0 into 0.0
    if rounded == 0.0 or 1e-4 <= abs(rounded) < 1e7:
        number = repr(rounded).removesuffix(".0")
    else:
        mantissa, exponent = f"{value:.{digits - 1}e}".split("e")
        number = f"{mantissa.rstrip('0').rstrip('.')}e{int(exponent)}"
    return number if unit == "1" else f"{number} {unit}"


def dimension_name(unit: str) -> str:
    """Say what a unit measures.

    Parameters
    ----------
    unit : str
        An SI unit known here or any unit accepted beside one.

    Returns
    -------
    str
        For example ``length`` for ``m`` or ``ft``.

    Raises
    ------
    KeyError
        If `unit` is unknown.
    """
    return _DIMENSIONS[_SI_OF[unit]][0]


def told(value: float, unit: str) -> str:
    """Write an SI value as people say it: angles in degrees, the rest as `show` does.

    Parameters
    ----------
    value : float
        In `unit`; finite.
    unit : str
        An SI unit known here.

    Returns
    -------
    str
    """
    return f"{math.degrees(value):.4g} deg" if unit == "rad" else show(value, unit)


_HANDY = {
    "Pa": ((1e9, "GPa"), (1e5, "MPa")),
    "N": ((1e4, "kN"),),
    "N m": ((1e4, "kN m"),),
    "N/m": ((1e4, "kN/m"),),
    "s": ((3600.0, "h"), (60.0, "min")),
}
"""SI unit -> the unit that a bound is told in, from which size on."""


def handy(value: float, unit: str) -> str:
    """Write an SI value in the unit that makes it short: a bound, say, which nobody has written down.

    Parameters
    ----------
    value : float
        In `unit`; finite.
    unit : str
        An SI unit known here.

    Returns
    -------
    str
    """
    if unit == "m" and 0.0 < abs(value) < 0.1:
        return show_in(value, "m", "mm")
    if unit == "kg/m2" and 0.0 < abs(value) <= 5.0:
        return show_in(value, "kg/m2", "g/m2")
    name = next((name for size, name in _HANDY.get(unit, ()) if abs(value) >= size), None)
    return told(value, unit) if name is None else show_in(value, unit, name)


def show_in(value: float, unit: str, name: str) -> str:
    """Write an SI value in one of its units."""
    return f"{convert(value, unit, name):.4g} {name}"


def accepted(unit: str) -> tuple[str, ...]:
    """List the units in which a quantity may be written.

    Parameters
    ----------
    unit : str
        An SI unit known here or any unit accepted beside one.

    Returns
    -------
    tuple of str
        The SI unit first; ``1`` stands for a bare number.

    Raises
    ------
    KeyError
        If `unit` is unknown.
    """
    return tuple(_DIMENSIONS[_SI_OF[unit]][1])


def _read(text: str, unit: str) -> tuple[float, str]:
    """Return the value in the SI unit, and the unit it is written in."""
    _si_unit(unit)

    def refuse(kind: Kind, fault: str, remedy: str) -> NoReturn:
        raise UnitError(kind, text, fault, _allowed(unit), remedy)

    if len(text) > _MOST_LETTERS:
        text = f"{text[:30]}..."
        refuse("number", "is too long", _PLAIN_NUMBER)
    plain = " ".join(text.translate(_ASCII).split())
    if "," in plain:
        refuse("number", *_comma_fault(plain))
    if _SPACED_THOUSANDS.search(plain):
        refuse("number", "has a thousands separator", f"Write {_SPACED_THOUSANDS.sub('', plain)}.")
    if ("ft" in plain or "'" in plain) and (pair := re.fullmatch(_FEET_INCHES, plain)):
        sign, feet, digits = pair.groups()
        inches = _value(digits)
        if not inches < 12.0:
            refuse("number", "does not have its inches below 12", _FEET_RULE)
        number, name = 12.0 * float(feet) + inches, "in"
    else:
        match = _QUANTITY.fullmatch(plain)
        if match is None or re.match(r"[+-]?0[xX]", plain):
            refuse("number", "does not start with a plain number", _PLAIN_NUMBER)
        sign, digits, rest = match.groups()
        name = _canonical(rest) or rest
        if (name not in _SI_OF or name == "1") and re.match(_BROKEN_NUMBER, rest):
            refuse("number", "is not a plain number with a unit", _PLAIN_NUMBER)
        if name not in _SI_OF and re.match(_SECOND_QUANTITY, rest):
            refuse("number", "is more than one quantity", _FEET_RULE)
        if not rest and unit != "1":
            refuse("no unit", "has no unit", f"Add the unit, for example {plain} {unit}.")
        number, name = _value(digits), name or "1"
    if _SI_OF.get(name) != unit:
        refuse(*_unit_fault(name, unit))
    value = number * _factor(name)
    if not math.isfinite(value) or (value == 0.0 and number != 0.0):
        refuse("number", "is too large, too small or not a proper fraction", _PLAIN_NUMBER)
    return (-value if sign == "-" else value), name


def _si_unit(unit: str) -> None:
    if unit not in _DIMENSIONS:
        raise KeyError(f"{unit!r} is not one of the SI units {', '.join(_DIMENSIONS)}")


@cache
def _factor(name: str) -> float:
    recipe = _DIMENSIONS[_SI_OF[name]][1][name]
    if isinstance(recipe, float):
        return recipe
    over, *under = recipe.split("/")
    return math.prod(_DEFINED[part] for part in over.split()) / math.prod(_DEFINED[part] for part in under)


def _canonical(read: str) -> str | None:
    name = re.sub(r" ?/ ?", "/", " ".join(read.translate(_UNIT_ASCII).split()))
    name = _ALIASES.get(name, name)
    return name if name in _SI_OF else None


def _value(digits: str) -> float:
    """Read unsigned digits; nan for what has no sound value, such as 1/0, 1 3/2 or 1e-999."""
    if "/" not in digits:
        value = float(digits)
        return math.nan if value == 0.0 and re.search("[1-9]", re.split("[eE]", digits)[0]) else value
    whole, _, fraction = digits.rpartition(" ")
    top, bottom = map(float, fraction.split("/"))
    if bottom == 0.0 or (whole and top >= bottom):
        return math.nan
    return (float(whole or 0) * bottom + top) / bottom


def _a(noun: str) -> str:
    return f"an {noun}" if noun[0] in "aeiou" else f"a {noun}"


def _allowed(unit: str) -> str:
    if unit == "1":
        return "a pure number, bare or in %"
    *others, last = accepted(unit)
    return f"{_a(dimension_name(unit))} in {', '.join(others)}{' or ' if others else ''}{last}"


def _unit_fault(name: str, unit: str) -> tuple[Kind, str, str]:
    import difflib

    wanted = accepted(unit)
    meant = [w for w in wanted if name.lower() == w.lower() or name.lower() in _SLIPS.get(w, ())]
    if known := name in _SI_OF:
        fault = f"does not fit: {name} is {_a(dimension_name(name))}; {_a(dimension_name(unit))} is wanted"
    else:
        fault = f"has the unknown unit {name}"
        meant = meant or difflib.get_close_matches(name, wanted, n=1)
    remedy = f"Did you mean {meant[0]}?" if meant else "Use one of the units allowed here."
    return "wrong dimension" if known else "unknown unit", fault, remedy


def _comma_fault(plain: str) -> tuple[str, str]:
    tokens = re.findall(r"[0-9][0-9.,]*[0-9]", plain)
    token = next((t for t in tokens if "," in t), "")
    decimal = re.fullmatch(r"[0-9]+,[0-9]+", token)
    thousands = re.fullmatch(r"[1-9][0-9]{0,2}(,[0-9]{3})+(\.[0-9]+)?", token)
    as_decimal, as_thousands = plain.replace(",", "."), plain.replace(",", "")
    if decimal and thousands:
        fault = "has a comma, either for decimals or as a thousands separator"
        return fault, f"Write {as_decimal} or {as_thousands}, whichever is meant."
    if decimal:
        return "has a decimal comma", f"Write {as_decimal}."
    if thousands:
        return "has a thousands separator", f"Write {as_thousands}."
    return "has a comma or thousands separator", _PLAIN_NUMBER
