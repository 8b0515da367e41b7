"""The boat and the rig as the file has them, every default marked with its source."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import Field, fields
from typing import Any, Final

from ...frozen import dataclass
from ...rig import Rig
from ...rig.fields import Table as TableSpec
from ...rig.fields import Tables, is_read, key_of, spec_of
from ...rigfile.write import keys_left_out, value_text
from ...verdict import WORKED_OUT
from .record import Block, Cell, Column, Kind, Mark, Paragraph, Section, Table, plain

_WIDEST: Final = 6
"""Columns of a table whose rows are alike; with more, each has a table of its own."""
_LONG: Final = 24


_APART: Final = ("stock", "size")
"""Tables whose defaults stand elsewhere: with the order, or with the search for a mast."""


def echo_section(rig: Rig) -> Section:
    """Return every table of the rig file as it was read."""
    note = (
        "This is how the file was read, in metres and kilograms or the units of the trade. What the file left out "
        "stands with the word default and where that comes from; what plays no part is not shown."
    )
    blocks: list[Block] = [Paragraph((note,), "note"), *_Echo(rig).tables(rig, "")]
    return Section("rig", "Boat and rig, as the file has them", tuple(blocks))


@dataclass(frozen=True)
class _Entry:
    """A field of a table that is given or plays a part."""

    field: Field[Any]
    value: Any
    path: str
    default: bool

    @property
    def told(self) -> str:
        return WORKED_OUT if self.value is None else value_text(spec_of(self.field), self.value)


class _Echo:
    """Walks the tables of a rig."""

    def __init__(self, rig: Rig) -> None:
        self.defaults, self.left_out = frozenset(rig.defaults), keys_left_out(rig)

    def tables(
        self, table: Any, path: str, caption: str = "", known: Collection[str] = ()
    ) -> Iterator[Block]:
        """Yield the table of a dataclass, then those of the tables in it; keys that are known are not told again."""
        rows: list[tuple[Cell, ...]] = []
        below: list[_Entry] = []
        for entry in self._entries(table, path):
            if isinstance(spec_of(entry.field), TableSpec | Tables):
                below.append(entry)
            else:
                rows.append(_row(entry, known))
        if rows:
            columns = (Column("key"), Column("value"), Column("what it is", kind="long"))
            yield Table(caption or (f"[{path}]" if path else "The rig"), columns, tuple(rows))
        for entry in below:
            if isinstance(spec_of(entry.field), Tables):
                yield from self._repeated(entry.value, entry.path)
            else:
                yield from self.tables(entry.value, entry.path)

    def _entries(self, table: Any, path: str) -> Iterator[_Entry]:
        for field in fields(table):
            if "spec" not in field.metadata:
                continue
            value, spec = getattr(table, field.name), spec_of(field)
            here = f"{path}.{key_of(field)}" if path else key_of(field)
            if isinstance(spec, TableSpec | Tables):
                if value:
                    yield _Entry(field, value, here, False)
            elif is_read(field, table):
                default = here in self.defaults
                asked = bool(spec.default_from) and here not in self.left_out
                if (default and here.split(".")[0] not in _APART) or (
                    not default and value is not None and (value != field.default or asked)
                ):
                    yield _Entry(field, value, here, default)

    def _repeated(self, items: Sequence[Any], path: str) -> Iterator[Block]:
        """Yield tables that may repeat: as rows of one where they are short, else each by itself."""
        found = [
            {key_of(entry.field): entry for entry in self._entries(item, f"{path}[{i}]")}
            for i, item in enumerate(items)
        ]
        keys = list(dict.fromkeys(key for item in found for key in item))
        nested = any(
            isinstance(spec_of(entry.field), TableSpec | Tables) for item in found for entry in item.values()
        )
        if not nested and len(keys) <= _WIDEST:
            yield _grid(found, keys, path)
            return
        known: set[str] = set()
        for i, item in enumerate(items):
            name = getattr(item, "name", "")
            yield from self.tables(item, f"{path}[{i}]", f"[[{path}]] {name}".rstrip(), frozenset(known))
            known.update(found[i])


def _row(entry: _Entry, known: Collection[str]) -> tuple[Cell, ...]:
    spec, key = spec_of(entry.field), key_of(entry.field)
    if not entry.default:
        return key, entry.told, "as above" if key in known else spec.help
    value = (entry.told, " ", Mark("default", "quiet"))
    said = f"{spec.help.rstrip('.')}. Default: {spec.default_from}."
    return key, value, "as above" if key in known else said


def _grid(found: Sequence[Mapping[str, _Entry]], keys: Sequence[str], path: str) -> Table:
    rows: list[tuple[Cell, ...]] = []
    for item in found:
        row: list[Cell] = []
        for key in keys:
            if key not in item:
                row.append("")
            elif item[key].default:
                row.append(
                    (
                        item[key].told,
                        " ",
                        Mark("default", "quiet"),
                        f" {spec_of(item[key].field).default_from}",
                    )
                )
            else:
                row.append(item[key].told)
        rows.append(tuple(row))
    columns = []
    for i, key in enumerate(keys):
        kind: Kind = "long" if any(len(plain(row[i])) > _LONG for row in rows) else "text"
        columns.append(Column(key, kind=kind))
    return Table(f"[[{path}]]", tuple(columns), tuple(rows))
