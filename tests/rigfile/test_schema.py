"""The JSON Schema of a rig file: sound, as strict as the reader on keys, and telling of every key."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import MISSING, Field
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft4Validator

from rigcalc.errors import RigInputError
from rigcalc.rig import Rig
from rigcalc.rig.fields import (
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
    is_required,
    spec_of,
)
from rigcalc.rigfile import read_rig, rig_schema, starter_text
from rigcalc.units import accepted

from . import GOOD, VARIANTS, edited, toml_of

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))
SCHEMA = rig_schema()
VALIDATOR = Draft4Validator(SCHEMA)


def entries(
    table: type[Any], schema: dict[str, Any], path: str = ""
) -> Iterator[tuple[str, Field[Any], Any]]:
    """Yield path, field and schema of everything, walking both side by side."""
    described = described_fields(table)
    assert set(schema["properties"]) == set(described), path
    assert schema["additionalProperties"] is False, path
    assert set(schema.get("required", ())) == {key for key, entry in described.items() if is_required(entry)}
    for key, entry in described.items():
        here = f"{path}.{key}".removeprefix(".")
        part = schema["properties"][key]
        yield here, entry, part
        spec = spec_of(entry)
        if isinstance(spec, Table):
            yield from entries(spec.of, part, here)
        elif isinstance(spec, Tables):
            yield from entries(spec.of, part["items"], here)


ENTRIES = list(entries(Rig, SCHEMA))


def test_the_schema_is_one() -> None:
    Draft4Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"] == "http://json-schema.org/draft-04/schema#"


def test_there_are_examples_to_hold_it_against() -> None:
    assert EXAMPLES


@pytest.mark.parametrize(
    "text",
    [
        starter_text(),
        GOOD,
        *(edited(*edits) for edits in VARIANTS.values()),
        *(file.read_text(encoding="utf-8") for file in EXAMPLES),
    ],
    ids=["starter", "good", *VARIANTS, *(file.stem for file in EXAMPLES)],
)
def test_schema_and_reader_accept(text: str) -> None:
    assert [error.message for error in VALIDATOR.iter_errors(tomllib.loads(text))] == []
    read_rig(text)


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("colour",), "red"),
        (("mast", "burry"), "1 m"),
        (("boat", "stability", "gz"), []),
        (("sail", 0, "colour"), "red"),
        (("case", 4, "point_load", 0, "up"), "1 N"),
        (("sail", 0, "hold"), "glue"),
        (("case", 0, "kind"), "storm"),
        (("case", 0, "coefficients"), "own"),
        (("case", 2, "gust"), 1.23),
        (("case", 3, "sealed"), True),
        (("case", 9, "lower_height"), 0.5),
        (("sail", 0, "clew_held"), "gaff"),
        (("sail", 2, "panels"), 1),
        (("sail", 2, "panels"), "5"),
        (("sail", 2, "parrel_heights"), "1.6 m"),
        (("sail", 2, "parrel_heights"), ["1.6 m"]),
        (("sail", 2, "parrel_heights", 1), 2.6),
        (("wind", "heel_falloff"), "cos3"),
        (("boat", "roll_damping"), []),
        (("mast", "shape"), "boxes"),
        (("mast", "length"), 6.8),
        (("mast", "length"), None),
        (("mast", "stations"), []),
        (("mast", "stations", 0, "height"), None),
        (("case", 0, "kind"), None),
        (("boat", "stability"), None),
        (("title",), None),
        (("title",), 3),
        (("wind", "exponent"), True),
        (("case", 2, "beaufort"), 12),
        (("case", 2, "beaufort"), 10.5),
        (("state", 0, "set", "mainsail"), 2),
        (("boat", "stability", "righting_arm", 0), ["0 deg"]),
        (("boat", "stability", "righting_arm", 0, 0), 0),
        (("sail",), {}),
        (("mast",), []),
    ],
    ids=str,
)
def test_schema_and_reader_refuse(path: tuple[str | int, ...], value: Any) -> None:
    """A value of None takes the key out."""
    table: Any = deepcopy(tomllib.loads(GOOD))
    holder = table
    for key in path[:-1]:
        holder = holder[key]
    if value is None:
        del holder[path[-1]]
    else:
        holder[path[-1]] = value
    assert list(VALIDATOR.iter_errors(table))
    with pytest.raises(RigInputError):
        read_rig(toml_of(table))


@pytest.mark.parametrize(("path", "entry", "part"), ENTRIES, ids=[path for path, _, _ in ENTRIES])
def test_every_key_is_told(path: str, entry: Field[Any], part: dict[str, Any]) -> None:
    spec, text = spec_of(entry), part["description"]
    assert not spec.help[0].islower() and spec.help.endswith(".")
    assert text.startswith(spec.help)
    assert text[-1] in ".)"
    assert ".." not in text and "  " not in text and "None" not in text
    for kind in spec.only:
        assert kind in text
    if spec.when:
        assert spec.when[1] in text
    if isinstance(spec, Quantity) and spec.unit != "1":
        assert all(unit in text for unit in accepted(spec.unit))


@pytest.mark.parametrize(("path", "entry", "part"), ENTRIES, ids=[path for path, _, _ in ENTRIES])
def test_every_key_has_the_type_that_the_reader_wants(
    path: str, entry: Field[Any], part: dict[str, Any]
) -> None:
    match spec_of(entry):
        case Quantity(unit="1"):
            assert part["type"] == ["number", "string"]
        case Quantity() | Text():
            assert part["type"] == "string"
        case Whole(at_least=low, at_most=high):
            assert (part["type"], part["minimum"], part["maximum"]) == ("integer", low, high)
        case Choice(options=options):
            assert (part["type"], part["enum"]) == ("string", list(options))
            assert part.get("default") == (None if entry.default is MISSING else entry.default)
        case Curve(least=least):
            assert (part["type"], part["minItems"]) == ("array", least)
            assert part["items"] == {
                "type": "array", "minItems": 2, "maxItems": 2, "items": {"type": "string"}
            }  # fmt: skip
        case Heights() | Angles() as listed:
            assert part["type"] == "array"
            assert part["minItems"] == (2 if isinstance(listed, Heights) else 1)
            assert part["items"] == {"type": "string"}
        case Shares():
            assert part["additionalProperties"] == {"type": "number", "minimum": 0, "maximum": 1}
        case Texts():
            assert part == {**part, "type": "array", "minItems": 1, "items": {"type": "string"}}
        case Table():
            assert part["type"] == "object"
        case Tables(least=least):
            assert (part["type"], part["minItems"]) == ("array", least)
        case other:
            pytest.fail(f"{path}: {other}")


NEEDS_NO_SOURCE = {
    "sail.clew_rise": "no rise: the tack and the clew are level, which the outline shows",
    "sail.roach": "no roach: the leech is straight, which the outline shows",
    "case.point_load.side": "no force",
    "case.point_load.forward": "no force",
    "case.axial": "no force",
    "case.torque": "no torque",
    "mast.name": "a name",
    "mast.support": "the only way that this version works with",
    "mast.shape": "round, as most masts are",
    "mast.sheath.side": "over, as cloth is laid on a mast that is there",
    "laminate.plies.count": "one ply, which the entry itself is",
}
"""Defaults that carry a number, a name or a choice and take nothing for granted -> why."""


def test_every_default_says_where_it_comes_from() -> None:
    bare = {
        path
        for path, entry, _ in ENTRIES
        if isinstance(entry.default, int | float | str) and not spec_of(entry).default_from
    }
    assert bare == set(NEEDS_NO_SOURCE)


def test_what_is_given_for_want_of_a_choice_is_told_in_the_schema() -> None:
    told = [
        part
        for _, entry, part in ENTRIES
        if spec_of(entry).default_from and entry.default not in (None, MISSING)
    ]
    assert len(told) > 15
    assert all("Default from: " in part["description"] for part in told)
