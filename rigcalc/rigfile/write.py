"""From a Rig to TOML: the way of the reader, backwards.

The writer walks the same descriptions as the reader. Each quantity stands in the unit a builder would take, with
the fewest digits that read back to the very same float.
"""

from __future__ import annotations

import json
import math
import re
import textwrap
from collections.abc import Collection, Iterator, Sequence
from dataclasses import Field, is_dataclass
from fractions import Fraction
from typing import Any, Final

from .. import units
from ..rig import Rig
from ..rig.fields import (
    Angles,
    Choice,
    Curve,
    Heights,
    Quantity,
    Shares,
    Spec,
    Table,
    Tables,
    Text,
    Texts,
    Whole,
    described_fields,
    is_needed,
    is_read,
    is_required,
    spec_of,
)
from .agree import timber_not_read
from .loose import Loose

_COLUMNS: Final = 110
_SHORT_COLUMNS: Final = 80
"""A table that stands alone gets a header of its own beyond this; in a list each entry has a whole line."""
_FEW_DIGITS: Final = 6
"""No float that was reckoned comes to so few digits in a unit by chance; one that was typed mostly does."""
_SMALL_M: Final = 2.0
"""A length that nobody expects beyond this is a size, told in millimetres, not a height."""
_LARGEST_TERM: Final = 999
"""Of a fraction such as 1/15, which is how slopes are told."""
_FROM: Final[dict[str, tuple[tuple[float, str], ...]]] = {
    "N": ((1e3, "kN"), (0, "N")),
    "N m": ((1e3, "kN m"), (0, "N m")),
    "N/m": ((1e3, "kN/m"), (0, "N/m")),
    "Pa": ((1e9, "GPa"), (0, "MPa")),
    "m/s": ((0, "kn"),),
    "rad": ((0, "deg"),),
    "s": ((3600, "h"), (120, "min"), (0, "s")),
    "kg/m2": ((0, "g/m2"),),
    "1/K": ((0, "1e-6/K"),),
    "degC": ((0, "degC"),),
}
"""SI unit -> the unit to write from which magnitude on; one that is not here is written as it is."""

_Node = str | list[Any] | dict[str, Any]
"""TOML before it is laid out: the text of a value, a list of nodes, or a table of them."""


def rig_text(rig: Rig, *, heading: Sequence[str] = ()) -> str:
    """Write a rig as the text of a rig file; `read_rig` reads an equal Rig back.

    What the file of the rig left to its defaults stays left out; what it gave is written, equal to the default
    or not.

    Parameters
    ----------
    rig : Rig
        As read, or changed into another that a rig file can say: what its fields shut out is written all the
        same where it differs from its default, and the reader refuses it.
    heading : sequence of str
        Comments at the top, one a line; a long one is wrapped.

    Returns
    -------
    str
        TOML. Lines are at most 110 columns wide, but for a text or a single entry that is longer.

    Raises
    ------
    ValueError
        If a quantity is not finite.

    Examples
    --------
    >>> from rigcalc import read_rig, rig_text, starter_text
    >>> rig = read_rig(starter_text())
    >>> text = rig_text(rig, heading=["As of the first of May."])
    >>> read_rig(text) == rig
    True
    """
    loose = _loose(rig, "")
    left_out = frozenset((*rig.defaults, *timber_not_read(loose)))
    lines = [*_comments(heading), *_lines(_table(loose, left_out), "")]
    return "\n".join(lines) + "\n"


def keys_left_out(rig: Rig) -> frozenset[str]:
    """Return the paths of what the file of a rig left to its defaults, or did not have to ask for."""
    return frozenset((*rig.defaults, *timber_not_read(_loose(rig, ""))))


def value_text(spec: Spec, value: Any) -> str:
    """Return a single value as the file says it, for a reader: without quotes, pairs and lists on one line.

    Parameters
    ----------
    spec : Spec
        Its description; not that of a table.
    value : object
        As a Rig holds it.
    """
    node = _node(spec, value, ())
    if isinstance(node, dict):
        return ", ".join(f"{name} {share}" for name, share in node.items())
    if isinstance(node, list):
        return ("; " if isinstance(spec, Curve) else ", ").join(_bare(item) for item in node)
    return _bare(node)


def _bare(text: str) -> str:
    """Return the TOML of a value, or of a pair of them, without its quotes."""
    if text.startswith("["):
        return ", ".join(json.loads(text))
    return str(json.loads(text)) if text.startswith('"') else text


def _loose(value: Any, path: str) -> Any:
    """Return what the reader holds before it builds the rig, which the rules of the fields are put to."""
    if isinstance(value, tuple):
        return tuple(_loose(item, f"{path}[{i}]") for i, item in enumerate(value))
    if not is_dataclass(value):
        return value
    table = type(value)
    held = {
        entry.name: _loose(getattr(value, entry.name), _under(path, key))
        for key, entry in described_fields(table).items()
    }
    return Loose(table, path, held)


def _under(path: str, key: str) -> str:
    return f"{path}.{key}" if path else key


def _table(loose: Loose, left_out: Collection[str]) -> dict[str, _Node]:
    return {
        key: _node(spec_of(entry), loose[entry.name], left_out)
        for key, entry in described_fields(loose.table).items()
        if _stands(entry, loose, key, left_out)
    }


def _stands(entry: Field[Any], loose: Loose, key: str, left_out: Collection[str]) -> bool:
    """Whether the file must give a field for the same value, and the same record of defaults, to be read."""
    value = loose[entry.name]
    if value is None:
        return False
    if is_required(entry):
        return True
    if isinstance(value, Loose) and entry.default is not None:
        if _table(value, left_out):  # otherwise it may stay out, and is read as an empty one
            return True
    elif value != entry.default:
        return True
    if not is_read(entry, loose):
        return False
    noted = spec_of(entry).default_from and _under(loose.path, key) not in left_out
    return bool(noted) or is_needed(entry, loose)


def _node(spec: Spec, value: Any, left_out: Collection[str]) -> _Node:
    match spec:
        case Quantity():
            return _quantity(value, spec.unit, is_size=spec.sane is not None and spec.sane[1] <= _SMALL_M)
        case Whole():
            return str(value)
        case Choice() | Text():
            return _quoted(value)
        case Texts():
            return [_quoted(text) for text in value]
        case Curve():
            return [
                f"[{', '.join(_quantity(part, unit) for part, unit in zip(pair, spec.units, strict=True))}]"
                for pair in value
            ]
        case Heights():
            return [_quantity(height, "m") for height in value]
        case Angles():
            return [_quantity(angle, "rad") for angle in value]
        case Texts():
            return [_quoted(text) for text in value]
        case Shares():
            return {name: repr(float(share)).removesuffix(".0") for name, share in value}
        case Table():
            return _table(value, left_out)
        case Tables():
            return [_table(item, left_out) for item in value]
    raise TypeError(f"no writer for {type(spec).__name__}")


def _quantity(value: float, unit: str, *, is_size: bool = False) -> str:
    """Return the TOML of a quantity: in another unit than the one wanted where only that has a short exact text."""
    if not math.isfinite(value):
        raise ValueError(f"a rig file cannot say {value} {unit}")
    wanted = _unit_for(value, unit, is_size=is_size)
    texts = (
        text
        for digits, names in (
            ((_FEW_DIGITS,), (wanted, *units.accepted(unit))),
            ((15, 16, 17), (wanted, unit)),
        )
        for name in names
        for text in _texts(value, unit, name, digits)
    )
    # the last resort always reads back: the factor of the SI unit is 1
    text = next(text for text in texts if _reads_as(text, value, unit))
    return text if unit == "1" and re.fullmatch(r"-?[0-9]+(\.[0-9]+)?", text) else _quoted(text)


def _unit_for(value: float, unit: str, *, is_size: bool) -> str:
    if unit == "m":
        return "mm" if is_size and abs(value) < 1.0 else "m"
    return next(name for least, name in _FROM.get(unit, ((0, unit),)) if abs(value) >= least)


def _texts(value: float, unit: str, name: str, digits: Sequence[int]) -> Iterator[str]:
    """Yield texts that may read back as a value, the shortest first."""
    end = "" if name == "1" else f" {name}"
    near = units.convert(value, unit, name)
    if not math.isfinite(near):
        return
    for count in digits:
        yield units.show(near, "1", digits=count) + end
    if name == "1":
        share = Fraction(value).limit_denominator(_LARGEST_TERM)
        if abs(share.numerator) <= _LARGEST_TERM:
            yield f"{share.numerator}/{share.denominator}"


def _reads_as(text: str, value: float, unit: str) -> bool:
    try:
        return units.parse(text, unit) == value
    except units.UnitError:
        return False


def _quoted(text: str) -> str:
    """Return a basic string of TOML: JSON's escapes are among its own, and DEL is the one that JSON lets stand."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _key(name: str) -> str:
    return name if re.fullmatch("[A-Za-z0-9_-]+", name) else _quoted(name)


def _comments(heading: Sequence[str]) -> Iterator[str]:
    wrapper = textwrap.TextWrapper(_COLUMNS - 2, break_long_words=False, break_on_hyphens=False)
    for line in heading:
        plain = "".join(c if c.isprintable() else " " for c in line)
        yield from (f"# {row}" for row in wrapper.wrap(plain)) if plain.strip() else ("#",)
    if heading:
        yield ""


def _lines(table: dict[str, _Node], path: str) -> Iterator[str]:
    """Yield the lines of a table: first what stands in it, then the tables with headers of their own."""
    below: dict[str, Any] = {}
    for key, node in table.items():
        lines = _assigned(_key(key), node, is_top=not path)
        yield from lines
        if not lines:
            below[_under(path, _key(key))] = node
    for here, node in below.items():
        if isinstance(node, dict):
            inner = list(_lines(node, here))
            if inner[:1] != [""]:  # otherwise the headers of the tables in it say it all
                yield from ("", f"[{here}]")
            yield from inner
        else:
            for item in node:
                yield from ("", f"[[{here}]]", *_lines(item, here))


def _assigned(name: str, node: _Node, *, is_top: bool) -> list[str]:
    """Return the lines that give a key its value; none for tables that want headers of their own."""
    line = f"{name} = {_inline(node)}"
    if isinstance(node, str) or node == []:
        return [line]
    if isinstance(node, dict):
        return [] if is_top or len(line) > _SHORT_COLUMNS else [line]
    if isinstance(node[0], dict):
        rows = [f"  {_inline(item)}," for item in node]
        return [] if is_top or max(map(len, rows)) > _COLUMNS else [f"{name} = [", *rows, "]"]
    return [line] if len(line) <= _COLUMNS else [f"{name} = [", *_filled(node), "]"]


def _filled(items: Sequence[str]) -> Iterator[str]:
    row = ""
    for item in items:
        if row and len(row) + len(item) + 4 > _COLUMNS:
            yield row
            row = ""
        row += f" {item}," if row else f"  {item},"
    yield row


def _inline(node: _Node) -> str:
    if isinstance(node, dict):
        return f"{{{', '.join(f'{_key(key)} = {_inline(item)}' for key, item in node.items())}}}"
    return node if isinstance(node, str) else f"[{', '.join(map(_inline, node))}]"
