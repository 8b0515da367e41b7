"""What may stand behind a key: sound, at a bound, just past it, wild, or of another kind altogether."""

from __future__ import annotations

import math
from datetime import date
from random import Random
from typing import Any

from rigcalc import units
from rigcalc.rig.fields import Angles, Choice, Curve, Heights, Quantity, Shares, Spec, Text, Texts, Whole

UNITS = ("m", "mm", "ft", "in", "deg", "rad", "N", "kN", "N m", "Pa", "GPa", "psi", "kg", "g", "lb", "kg/m3", "g/m2",
         "kn", "m/s", "s", "h", "Hz", "m2/s", "m2", "N/m", "kg m2", "1/m", "1e-6/K", "degC", "%", "1", "", "cubit",
         "kＮ", "µm", "mm²", "м", "kg·m", "/m")  # fmt: skip
NUMBERS = ("0", "-0", "1", "-1", "1e308", "1e400", "-1e308", "1e-308", "5e-324", "1e-400", "nan", "inf", "-inf", "0x10",
           "1_000", "1,5", "1 000", "1/0", "0/1", "1/3", "1 1/2", "14 ft 3", "½", "٣", "1.7976931348623157e308", "+3",
           "--3", ".5", "5.", "1e", "e5", "1e5.5", "9" * 400, "0." + "0" * 400 + "1", "1/" + "9" * 400)  # fmt: skip
TEXTS = ("", " ", "x", "main", "none", "é✓", "\x00", "\x1b[31m", "\u202e", "\ufeff", "𝟗", "a" * 5000, "$(id)",
         "%s%n", "{0}", "../..", "<b>&amp;", "\\", "'", '"', "\t", "NaN", "C24", "6061-T6 drawn")  # fmt: skip
MATERIALS = ("6061-T6 drawn", "6061-T6 extruded", "6082-T6 drawn", "Sitka spruce (US)", "C24")
BARE = (0, 1, -1, 7, 10**6, -(10**6), 10**18, 10**19, 10**30, 0.5, -0.5, 1e-300, 1e300, 1e308, math.nan, math.inf,
        -math.inf, 5e-324, True, False, 2**63, -(2**63))  # fmt: skip


def sound(spec: Spec, rng: Random) -> Any:
    """Return a value that the description itself has nothing against; None for a table, or where none is known."""
    match spec:
        case Quantity():
            return quantity_text(_within(spec, rng), spec.unit, rng)
        case Whole():
            low, high = spec.at_least, spec.at_most
            return rng.choice((low, high, rng.randint(low, high), rng.randint(low, min(high, low + 12))))
        case Choice():
            return rng.choice(tuple(spec.options))
        case Text():
            return rng.choice((*MATERIALS, "main", "x", "ünïcode ✓", "a" * 90))
        case Texts():
            return [rng.choice(MATERIALS) for _ in range(rng.randint(1, 3))]
        case Curve():
            first, second = (
                sorted(
                    _number(band or (0.0, 1.0), rng) for _ in range(max(spec.least, 2) + rng.randint(0, 3))
                )
                for band in spec.sane
            )
            if rng.random() < 0.5:
                rng.shuffle(second)
            return [
                [quantity_text(a, spec.units[0], rng), quantity_text(b, spec.units[1], rng)]
                for a, b in zip(first, second, strict=False)
            ]
        case Heights():
            return [f"{z:.4g} m" for z in sorted(rng.uniform(0.0, 9.0) for _ in range(rng.randint(2, 6)))]
        case Angles():
            return [f"{rng.randint(-180, 180)} deg" for _ in range(rng.randint(1, 4))]
        case Shares():
            return {rng.choice(("main", "jib", "mizzen")): rng.choice((0, 1, 0.5, rng.random()))}
    return None


def odd(spec: Spec, rng: Random) -> Any:
    """Return a value that need not be sound: at a bound, just past it, wild, in another unit, of another kind."""
    way = rng.random()
    if isinstance(spec, Quantity) and way < 0.55:
        if way < 0.2:
            return quantity_text(_at_a_bound(spec, rng), spec.unit, rng)
        if way < 0.3:
            return f"{rng.choice(NUMBERS)} {rng.choice(units.accepted(spec.unit))}"
        if way < 0.4:
            return f"{rng.uniform(-9.99, 9.99):.3g}e{rng.randint(-320, 320)} {rng.choice(units.accepted(spec.unit))}"
        return f"{rng.uniform(-9.99, 9.99):.3g} {rng.choice(UNITS)}"
    if isinstance(spec, Whole) and way < 0.4:
        return rng.choice((spec.at_least - 1, spec.at_most + 1, 10 ** rng.randint(1, 40), -1, 0, 1.0))
    return wild(rng)


def wild(rng: Random, depth: int = 0) -> Any:
    """Return anything that TOML can say."""
    way = rng.random()
    if way < 0.3:
        return rng.choice(BARE)
    if way < 0.55:
        return rng.choice(TEXTS)
    if way < 0.75:
        return f"{rng.choice(NUMBERS)} {rng.choice(UNITS)}"
    if way < 0.8:
        return date(2026, 1, 2)
    if way < 0.9 and depth < 4:
        return [wild(rng, depth + 1) for _ in range(rng.choice((0, 1, 2, 3, 40)))]
    if depth < 4:
        return {rng.choice(("a", "name", "height", "", "é", "x y")): wild(rng, depth + 1) for _ in range(2)}
    return ""


def quantity_text(value: float, unit: str, rng: Random) -> Any:
    """Return a value in one of the units it may stand in; a pure number may come bare."""
    names = units.accepted(unit)
    name = names[0] if rng.random() < 0.5 else rng.choice(names)
    number = f"{units.convert(value, unit, name):.{rng.choice((3, 6, 17))}g}"
    if unit == "1" and name == "1":
        return float(number) if rng.random() < 0.8 else number
    return f"{number} {name}"


def _number(band: tuple[float, float], rng: Random) -> float:
    low, high = band
    if low > 0 and rng.random() < 0.6:
        return float(math.exp(rng.uniform(math.log(low), math.log(high))))
    return rng.uniform(low, high)


def _band(spec: Quantity) -> tuple[float, float]:
    low, high = spec.sane or (0.0, 1.0)
    for bound in (spec.above, spec.at_least):
        low = low if bound is None else max(low, bound)
    high = high if spec.at_most is None else min(high, spec.at_most) if spec.sane else spec.at_most
    return (low, high) if low <= high else (high, low)


def _within(spec: Quantity, rng: Random) -> float:
    low, high = _band(spec)
    way = rng.random()
    if way < 0.15:
        return low
    if way < 0.3:
        return high
    return _number((low, high), rng)


def _at_a_bound(spec: Quantity, rng: Random) -> float:
    bounds = [b for b in (spec.above, spec.at_least, spec.at_most, *(spec.sane or ())) if b is not None]
    bound = rng.choice(bounds or [0.0])
    return rng.choice(
        (bound, math.nextafter(bound, math.inf), math.nextafter(bound, -math.inf), bound * 1.01, -bound)
    )
