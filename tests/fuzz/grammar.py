"""Whole files out of the descriptions of the fields alone: what a reader meets that was never a rig."""

from __future__ import annotations

from collections.abc import Iterator
from copy import deepcopy
from random import Random
from typing import Any

from rigcalc.rig import Rig
from rigcalc.rig.fields import Spec, Table, Tables, Text, described_fields, is_required, spec_of

from . import values


def table_of(table: type[Any], rng: Random, *, oddness: float, given: float) -> Any:
    """Return a random table of one description.

    `oddness` is how likely a value is not sound in itself, `given` how likely a key that may be left out is there.
    """
    if rng.random() < oddness / 4:
        return values.wild(rng)
    found: dict[str, Any] = {}
    for key, entry in described_fields(table).items():
        if rng.random() >= (1.0 - oddness / 4 if is_required(entry) else given):
            continue
        name = (
            key if rng.random() >= oddness / 8 else rng.choice((key + "s", key.upper(), "", key + " ", "é"))
        )
        spec = spec_of(entry)
        match spec:
            case Table():
                found[name] = table_of(spec.of, rng, oddness=oddness, given=given / 1.5)
            case Tables():
                count = spec.least + rng.choice((0, 0, 1, 2))
                found[name] = [
                    table_of(spec.of, rng, oddness=oddness, given=given / 1.5) for _ in range(count)
                ]
            case _:
                odd = rng.random() < oddness
                found[name] = values.odd(spec, rng) if odd else values.sound(spec, rng)
    return found


def random_table(rng: Random) -> dict[str, Any]:
    """Return what the TOML of a random file holds."""
    oddness, given = rng.choice((0.02, 0.1, 0.4, 0.8)), rng.choice((0.03, 0.1, 0.3))
    found = table_of(Rig, rng, oddness=oddness, given=given)
    return found if isinstance(found, dict) else {"title": found}


def hurt(raw: dict[str, Any], rng: Random, *, blows: int) -> dict[str, Any]:
    """Return a table with odd values in place of some of its own, deep inside as well as whole tables."""
    found = deepcopy(raw)
    for _ in range(blows):
        places = list(_places(found, Rig))
        if not places:
            return found
        holder, key, spec = rng.choice(places)
        way = rng.random()
        if way < 0.15:
            del holder[key]
        elif isinstance(spec, Table | Tables):
            holder[key] = values.wild(rng)
        else:
            holder[key] = values.odd(spec, rng) if way < 0.8 else values.sound(spec, rng)
    return found


def _places(raw: Any, table: type[Any]) -> Iterator[tuple[Any, Any, Spec]]:
    """Yield holder, key and description of all that a table gives."""
    if not isinstance(raw, dict):
        return
    for key, entry in described_fields(table).items():
        if key not in raw:
            continue
        spec, held = spec_of(entry), raw[key]
        yield raw, key, spec
        if isinstance(spec, Table):
            yield from _places(held, spec.of)
        elif isinstance(held, list):
            for i, item in enumerate(held):
                yield held, i, Table("", of=spec.of) if isinstance(spec, Tables) else spec
                if isinstance(spec, Tables):
                    yield from _places(item, spec.of)
                elif isinstance(item, list):
                    yield from ((item, k, Text("")) for k in range(len(item)))
