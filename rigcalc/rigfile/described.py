"""What a field of the rig file is, found by its path: for whoever asks before he writes it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, Field, dataclass
from typing import Any

from .. import units
from ..rig import Rig
from ..rig.fields import (
    Angles,
    Choice,
    Curve,
    Heights,
    Quantity,
    Shares,
    Table,
    Tables,
    Text,
    Texts,
    Whole,
    described_fields,
    is_read,
    is_required,
    spec_of,
)
from .write import value_text

_INDEX = re.compile(r"\[[^\]]*\]")


@dataclass(frozen=True)
class DescribedField:
    """One field of the rig file.

    Parameters
    ----------
    path : str
        Where it stands; ``[]`` stands for any entry of a list.
    form : str
        What is written there.
    help : str
        What it is.
    units : tuple of str
        Units it may be written in; empty where it has none.
    bounds : tuple of str
        What it must keep to, and beyond what a slip is likelier than the value.
    options : mapping of str
        Names to choose from, and what each means.
    required : bool
        Whether the file must give it.
    default, default_from : str
        What is taken when it is not given, and where that comes from.
    read : tuple of str
        When it plays a part; empty when always.
    keys : tuple of str
        Of a table, the paths in it.
    """

    path: str
    form: str
    help: str
    units: tuple[str, ...]
    bounds: tuple[str, ...]
    options: Mapping[str, str]
    required: bool
    default: str
    default_from: str
    read: tuple[str, ...]
    keys: tuple[str, ...]


def all_fields() -> dict[str, DescribedField]:
    """Return path -> field for everything that may stand in a rig file, tables before what stands in them."""
    return {path: _described(path, entry) for path, entry in _entries(Rig, "")}


def field_key(path: str) -> str:
    """Return a path as :func:`all_fields` writes it, whatever index its writer gave; ``[table]`` is its table."""
    whole = re.fullmatch(r"\[+([\w.\[\]*]+?)\]+", path.strip())
    bare = _INDEX.sub("", whole[1] if whole else path.strip())
    return next((known for known, _ in _entries(Rig, "") if known.replace("[]", "") == bare), "")


def given_in(rig: Rig, path: str) -> Iterator[tuple[str, str]]:
    """Yield what a rig has in a field, as its file would write it: the default where the file leaves it out.

    Parameters
    ----------
    rig : Rig
        As read.
    path : str
        As :func:`all_fields` writes it.
    """
    yield from _given(rig, Rig, path.split("."), "", set(rig.defaults))


def _given(
    table: Any, of: type[Any], rest: list[str], here: str, left_out: set[str]
) -> Iterator[tuple[str, str]]:
    key = rest[0].removesuffix("[]")
    entry = described_fields(of)[key]
    spec, value, path = spec_of(entry), getattr(table, entry.name), f"{here}.{key}" if here else key
    if value is None or not is_read(entry, table):
        return
    if isinstance(spec, Table | Tables):
        items = value if isinstance(spec, Tables) else (value,)
        for i, item in enumerate(items):
            place = f"{path}[{i}]" if isinstance(spec, Tables) else path
            if len(rest) > 1:
                yield from _given(item, spec.of, rest[1:], place, left_out)
        return
    yield path, value_text(spec, value) + (" (the default)" if path in left_out else "")


def _entries(table: type[Any], here: str) -> Iterator[tuple[str, Field[Any]]]:
    for key, entry in described_fields(table).items():
        spec = spec_of(entry)
        listed = isinstance(spec, Tables | Curve | Heights | Angles | Texts)
        path = f"{here}.{key}" if here else key
        path += "[]" if listed else ""
        yield path, entry
        if isinstance(spec, Table | Tables):
            yield from _entries(spec.of, path)


def _described(path: str, entry: Field[Any]) -> DescribedField:
    spec = spec_of(entry)
    read = [f"read by cases of kind {' or '.join(spec.only)} alone"] if spec.only else []
    read += [f"read only when {spec.when[1]}"] if spec.when else []
    read += [f"needed when {spec.needed[1]}"] if spec.needed else []
    keys: tuple[str, ...] = ()
    if isinstance(spec, Table | Tables):
        keys = tuple(f"{path}.{key}" for key in described_fields(spec.of))
    return DescribedField(
        path=path,
        form=_form(entry),
        help=spec.help,
        units=_units(spec),
        bounds=tuple(_bounds(spec)),
        options=spec.options if isinstance(spec, Choice) else {},
        required=is_required(entry),
        default=_default(entry),
        default_from=spec.default_from if entry.default is not None else "",
        read=tuple(read),
        keys=keys,
    )


def _form(entry: Field[Any]) -> str:
    match spec_of(entry):
        case Quantity(unit="1"):
            return "a number, bare or in %"
        case Quantity(unit=unit):
            return f"{units.dimension_name(unit)} with its unit, in quotes"
        case Whole():
            return "a whole number"
        case Choice():
            return "one of a few names, in quotes"
        case Text():
            return "a text of one line, in quotes"
        case Texts():
            return "a list of texts"
        case Curve(units=pair):
            return f"a list of pairs: {' and '.join(units.dimension_name(unit) for unit in pair)}, each with its unit"
        case Heights():
            return "a list of heights, growing"
        case Angles():
            return "a list of angles"
        case Shares():
            return "names with a share from 0 to 1"
        case Tables():
            return "tables that may repeat"
    return "a table"


def _units(spec: Any) -> tuple[str, ...]:
    match spec:
        case Quantity(unit=unit) if unit != "1":
            return units.accepted(unit)
        case Heights():
            return units.accepted("m")
        case Angles():
            return units.accepted("rad")
        case Curve(units=pair):
            return tuple(dict.fromkeys(name for unit in pair for name in units.accepted(unit)))
    return ()


def _bounds(spec: Any) -> Iterator[str]:
    if isinstance(spec, Whole):
        yield f"from {spec.at_least} to {spec.at_most}"
    if isinstance(spec, Curve | Tables) and spec.least:
        yield f"{spec.least} entries or more"
    if not isinstance(spec, Quantity):
        return
    for limit, words in ((spec.above, "above"), (spec.at_least, "at least"), (spec.at_most, "at most")):
        if limit is not None:
            yield f"{words} {units.handy(limit, spec.unit)}"
    if spec.sane is not None:
        low, high = (units.handy(limit, spec.unit) for limit in spec.sane)
        yield f"beyond {low} to {high} it is refused as a likely slip of unit"


def _default(entry: Field[Any]) -> str:
    spec = spec_of(entry)
    if entry.default is MISSING or isinstance(spec, Table | Tables):
        return ""
    if entry.default is None:
        return "worked out" if spec.default_from else "none"
    return value_text(spec, entry.default)
