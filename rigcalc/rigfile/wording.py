"""How the reader puts a value that it refuses, and what it takes the writer to have meant."""

from __future__ import annotations

import re
from dataclasses import Field
from typing import Any

from .. import units
from ..rig.fields import Choice, Quantity, Shares, Table, Tables, key_of, spec_of

LARGEST_BARE = 1e18
"""Beyond this a bare number is nonsense, and Python may refuse to write it out."""


def shown(value: Any) -> str:
    """Put a value as its writer would; None stands for nothing there."""
    match value:
        case None:
            return ""
        case str():
            return f'"{value}"' if len(value) <= 60 else f'"{value[:60]}..."'
        case bool():
            return "true" if value else "false"
        case dict():
            return f"a table of {len(value)}"
        case list():
            return f"a list of {len(value)}"
        case int() if abs(value) > LARGEST_BARE:
            return "a number of very many digits"
    return str(value)


def named(noun: str) -> str:
    """Put the article before a noun."""
    return f"an {noun}" if noun[0] in "aeiou" else f"a {noun}"


def short(unit: str) -> str:
    """Return the unit that an example is written in."""
    return "deg" if unit == "rad" else unit


def typical(spec: Quantity) -> str:
    """Return a value such as a boat of this size may have."""
    low, high = spec.sane or (0.0, 0.0)
    value = (max(low, 0.0) * high) ** 0.5 if high > 0 and low > 0 else 1.0
    return "30 deg" if spec.unit == "rad" else units.show(value, spec.unit, digits=2)


def example_of(entry: Field[Any], here: str) -> str:
    """Show how a field is written."""
    spec = spec_of(entry)
    key = key_of(entry)
    match spec:
        case Quantity():
            return f'{key} = "{typical(spec)}", say'
        case Choice():
            return f'{key} = "{next(iter(spec.options))}", say'
        case Table():
            return f"a table [{here}]"
        case Tables():
            return f"[[{here}]] tables, or {key} = [{{...}}, {{...}}]"
        case Shares():
            return f"{key} = {{...}}"
    return f'{key} = "..."'


def slip(spec: Quantity, raw: str, *, otherwise: str = "Check the number and its unit.") -> str:
    """Name the slip of unit that would bring a value within its bounds."""
    digits = re.match(r"[-+0-9./eE ]*", raw.strip())
    meant = likely(spec, digits[0].strip()) if digits else []
    return f"Did you mean {' or '.join(meant)}?" if meant else otherwise


def likely(spec: Quantity, number: str) -> list[str]:
    """Return a number with each unit that makes sense of it."""
    found = []
    for unit in ("deg",) if spec.unit == "rad" else units.accepted(spec.unit):
        try:
            value = units.parse(f"{number} {unit}", spec.unit)
        except units.UnitError:
            continue
        lows = (spec.above, spec.at_least, spec.sane and spec.sane[0])
        highs = (spec.at_most, spec.sane and spec.sane[1])
        if all(low is None or value >= low for low in lows) and all(
            high is None or value <= high for high in highs
        ):
            found.append(f"{number} {unit}")
    return found[:2] if spec.sane or spec.at_most else found[:1]


def wants(spec: Quantity) -> str:
    """Say how a quantity is written."""
    return f'Write it as a text: "{typical(spec)}", say.' if spec.unit != "1" else "Write a bare number."


_TOML_REMEDIES = (
    (
        "Cannot overwrite|twice|Cannot declare",
        "Something stands there twice: take one out, or write [[...]] for tables that repeat.",
    ),
    ("Unclosed array", "A list ends with ]: look for one that is not closed."),
    ("Unclosed inline table", "A table in a line ends with }: look for one that is not closed."),
    (
        "at the end of a table declaration",
        "A table stands in square brackets, [mast], one that repeats in two, [[sail]].",
    ),
    (
        "Expected '='|Invalid statement",
        "Each line reads key = value, or is a table in [brackets], or begins with #.",
    ),
    ("Illegal character", "A text ends on its own line with a straight quote: is the closing quote missing?"),
    ("Exceeds the limit", "A number there has thousands of digits: is a key stuck?"),
)


def toml_remedy(fault: str) -> str:
    """Return what to do about a fault that the parser of the library tells."""
    for pattern, remedy in _TOML_REMEDIES:
        if re.search(pattern, fault):
            return remedy
    return 'Texts stand in straight quotes: length = "7.2 m".'
