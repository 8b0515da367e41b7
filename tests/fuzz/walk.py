"""Rigs that are odd but sound: a walk from a good file, by steps that the reader takes.

Each step changes what one key says, adds a key, takes one out, or doubles an entry of a list. A step that the reader
refuses is not taken, so that the walk stays among sound rigs and wanders where no example stands.
"""

from __future__ import annotations

import re
import tomllib
from copy import deepcopy
from random import Random
from typing import Any

from rigcalc.errors import RigInputError
from rigcalc.rig import Case, Rig
from rigcalc.rig.fields import Choice, Shares, Table, Tables, Text, described_fields, spec_of
from rigcalc.rigfile.read import read_table

from . import good_texts, values

FACTORS = (0.2, 0.5, 0.7, 0.85, 0.95, 0.999, 1.001, 1.05, 1.15, 1.4, 2.0, 5.0)


def walked(rng: Random, *, steps: int, start: dict[str, Any] | None = None) -> dict[str, Any]:
    """Return what the TOML of a sound file holds, some steps away from a good one."""
    here = deepcopy(tomllib.loads(rng.choice(good_texts())) if start is None else start)
    for _ in range(steps):
        there = deepcopy(here)
        for _ in range(rng.choice((1, 1, 1, 2, 3))):
            _step(there, rng)
        try:
            read_table(there)
        except RigInputError:
            continue
        here = there
    return here


def _tables(raw: Any, table: type[Any] = Rig) -> list[tuple[dict[str, Any], type[Any]]]:
    found = [(raw, table)]
    for key, entry in described_fields(table).items():
        spec = spec_of(entry)
        if key in raw and isinstance(spec, Table):
            found += _tables(raw[key], spec.of)
        elif key in raw and isinstance(spec, Tables):
            for item in raw[key]:
                found += _tables(item, spec.of)
    return found


def _step(raw: dict[str, Any], rng: Random) -> None:
    table, kind = rng.choice(_tables(raw))
    known = described_fields(kind)
    key = rng.choice(tuple(known))
    if rng.random() < 0.6 and table:
        key = rng.choice(tuple(table))
    spec = spec_of(known[key])
    way = rng.random()
    if isinstance(spec, Tables):
        _list_step(table, key, spec, rng)
    elif isinstance(spec, Table):
        if way < 0.2:
            table.pop(key, None)
        else:
            table.setdefault(key, _needed(spec.of, rng))
    elif key in table and way < 0.12:
        del table[key]
    elif key in table and way < 0.75 and not isinstance(spec, Choice | Text | Shares):
        table[key] = _nudged(table[key], rng)
    elif kind is Case and key == "kind":
        table[key] = values.sound(spec, rng)
        for name in tuple(table):
            only = spec_of(known[name]).only
            if only and table[key] not in only:
                del table[name]
    else:
        table[key] = values.sound(spec, rng)


def _list_step(table: dict[str, Any], key: str, spec: Tables, rng: Random) -> None:
    items = table.setdefault(key, [])
    way = rng.random()
    if items and way < 0.3:
        del items[rng.randrange(len(items))]
    elif items and way < 0.6:
        twin = deepcopy(rng.choice(items))
        if "name" in twin:
            twin["name"] = f"{twin['name']} {rng.randrange(1000)}"
        items.insert(rng.randrange(len(items) + 1), twin)
    elif items and way < 0.7:
        rng.shuffle(items)
    else:
        items.append(_needed(spec.of, rng))
    if not items:
        del table[key]


def _needed(table: type[Any], rng: Random) -> Any:
    """Return a table with what it must have and a little more."""
    found: dict[str, Any] = {}
    for key, entry in described_fields(table).items():
        spec = spec_of(entry)
        if (entry.default is not None and entry.default.__class__.__name__ != "_MISSING_TYPE") or (
            entry.default is None and rng.random() < 0.7
        ):
            continue
        if isinstance(spec, Table):
            found[key] = _needed(spec.of, rng)
        elif isinstance(spec, Tables):
            found[key] = [_needed(spec.of, rng) for _ in range(max(1, spec.least))]
        else:
            found[key] = values.sound(spec, rng)
    return found


def _nudged(value: Any, rng: Random) -> Any:
    """Return a value with its number, or one of those in it, made larger or smaller."""
    if isinstance(value, list) and value:
        there = list(value)
        at = rng.randrange(len(there))
        there[at] = _nudged(there[at], rng)
        return there
    factor = rng.choice(FACTORS)
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return value
    if isinstance(value, int):
        return value + rng.choice((-2, -1, 1, 2))
    if isinstance(value, float):
        return value * factor
    number = re.match(r"-?[0-9.]+(?:e-?[0-9]+)?(?= [A-Za-z%])", value)
    return value if number is None else f"{float(number[0]) * factor:.6g}{value[number.end() :]}"
