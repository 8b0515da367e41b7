"""The boat and the rig as the file has them, every default marked with its source."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import Field, fields, is_dataclass
from typing import Any, Final

from ...rig import Rig
from ...rig.fields import Table as TableSpec
from ...rig.fields import Tables, is_read, key_of, spec_of
from ...rigfile.write import value_text
from ...verdict import WORKED_OUT
from .record import Block, Cell, Column, Kind, Mark, Paragraph, Section, Table

_WIDEST: Final = 6
"""Columns of a table whose rows are alike; with more, each has a table of its own."""
_LONG: Final = 24


def echo_section(rig: Rig) -> Section:
    """Return every table of the rig file as it was read."""
    blocks: list[Block] = [
        Paragraph(
            (
                "This is how the file was read, in metres and kilograms or the units of the trade. What the file left "
                "out stands with the word default and where that comes from.",
            ),
            "note",
        )
    ]
    blocks += _tables(rig, "", rig.defaults)
    return Section("rig", "Boat and rig, as the file has them", tuple(blocks))


def _tables(table: Any, path: str, defaults: Sequence[str]) -> Iterator[Block]:
    """Yield the table of a dataclass, then those of the tables in it."""
    rows: list[tuple[Cell, ...]] = []
    below: list[tuple[Field[Any], Any, str]] = []
    for entry, value, here in _entries(table, path):
        if is_dataclass(value) or isinstance(spec_of(entry), Tables):
            below.append((entry, value, here))
            continue
        row = _row(entry, value, here in defaults)
        if row is not None:
            rows.append(row)
    if rows:
        yield Table(
            f"[{path}]" if path else "The rig",
            (Column("key"), Column("value", kind="long"), Column("what it is", kind="long")),
            tuple(rows),
        )
    for entry, value, here in below:
        if isinstance(spec_of(entry), Tables):
            yield from _repeated(value, here, defaults)
        else:
            yield from _tables(value, here, defaults)


def _entries(table: Any, path: str) -> Iterator[tuple[Field[Any], Any, str]]:
    """Yield the fields of a table that are given or play a part, with their paths in the file."""
    for entry in fields(table):
        if "spec" not in entry.metadata:
            continue
        value, key = getattr(table, entry.name), key_of(entry)
        plays = is_read(entry, table) and bool(spec_of(entry).default_from)
        here = f"{path}.{key}" if path else key
        if isinstance(spec_of(entry), TableSpec | Tables):
            if value:
                yield entry, value, here
        elif value == entry.default and not plays:
            continue
        elif is_read(entry, table):
            yield entry, value, here


def _row(entry: Field[Any], value: Any, default: bool) -> tuple[Cell, ...] | None:
    spec = spec_of(entry)
    if value is None and not default:
        return None
    told = WORKED_OUT if value is None else value_text(spec, value)
    if not default:
        return key_of(entry), told, spec.help
    return (
        key_of(entry),
        (told, " ", Mark("default", "quiet")),
        f"{spec.help.rstrip('.')}. Default: {spec.default_from}.",
    )


def _repeated(items: Sequence[Any], path: str, defaults: Sequence[str]) -> Iterator[Block]:
    """Yield tables that may repeat: as rows of one where they are short, else each by itself."""
    found = [{key_of(e): (e, v, here) for e, v, here in _entries(item, f"{path}[{i}]")}
             for i, item in enumerate(items)]
    keys = list(dict.fromkeys(key for item in found for key in item))
    nested = any(
        is_dataclass(v) or isinstance(spec_of(e), Tables) for item in found for e, v, _ in item.values()
    )
    if not nested and len(keys) <= _WIDEST:
        yield _grid(found, keys, path, defaults)
        return
    for i, item in enumerate(items):
        name = getattr(item, "name", None)
        label = f"{path}[{i}]"
        for block in _tables(item, label, defaults):
            if isinstance(block, Table) and name and block.caption == f"[{label}]":
                block = Table(f"[[{path}]] {name}", block.columns, block.rows)
            yield block


def _grid(
    found: Sequence[dict[str, tuple[Field[Any], Any, str]]],
    keys: Sequence[str],
    path: str,
    defaults: Sequence[str],
) -> Table:
    rows: list[tuple[Cell, ...]] = []
    for item in found:
        row: list[Cell] = []
        for key in keys:
            if key not in item:
                row.append("")
                continue
            entry, value, here = item[key]
            told = WORKED_OUT if value is None else value_text(spec_of(entry), value)
            if here in defaults:
                row.append((told, " ", Mark("default", "quiet"), f" {spec_of(entry).default_from}"))
            else:
                row.append(told)
        rows.append(tuple(row))
    kinds: list[Kind] = [
        "long" if any(len(str(row[i])) > _LONG for row in rows) else "text" for i in range(len(keys))
    ]
    return Table(
        f"[[{path}]]", tuple(Column(key, kind=kind) for key, kind in zip(keys, kinds, strict=True)), tuple(rows)
    )
