"""What comes out for rigs that are odd but sound: exit codes, texts, JSON, tables, figures, drawings and reports."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from pathlib import Path
from random import Random
from typing import Any

import jsonschema
import pytest

from rigcalc.rigfile import read_rig
from rigcalc.rigfile.schema import rig_schema
from rigcalc.rigfile.write import rig_text
from tests.rigfile import toml_of

from .judge import Tally, checked
from .outputs import QUICK, SEARCHES, SLOW, hold
from .walk import walked

CHUNKS = 12
EACH = 8
"""Rigs of a chunk: more than two hundred in all."""


def rigs(chunk: int) -> Iterator[dict[str, Any]]:
    """Yield what the TOML of sound files holds, each a few steps on from the last, from a good file now and then."""
    rng, here = Random(f"rigs {chunk}"), None
    for i in range(EACH):
        here = walked(rng, steps=6, start=None if i % 6 == 0 else here)
        yield here


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_what_comes_of_an_odd_rig(chunk: int, tmp_path: Path) -> None:
    tally, file, codes = Tally(), tmp_path / "rig.toml", list[int]()
    schema = jsonschema.Draft4Validator(rig_schema())
    for i, table in enumerate(rigs(chunk)):
        text = toml_of(table)
        file.write_text(text, encoding="utf-8")
        schema.validate(json.loads(json.dumps(tomllib.loads(text))))
        command = QUICK[(chunk + i * CHUNKS) % len(QUICK)]
        with tally.timed(f"rig {i}, {command}"):
            rig = read_rig(text)
            checked(rig, case=rig.cases[i % len(rig.cases)].name if rig.cases else None)
            codes.append(hold(command, file, tmp_path / "out"))
            assert read_rig(rig_text(rig)) == rig, "what is written is another rig"
    assert codes.count(2) < len(codes) / 2
    print(f"slowest {tally.slowest_s:.2f} s ({tally.slowest})")


@pytest.mark.parametrize("command", [*SLOW, *SEARCHES[:2]])
def test_what_takes_longer(command: str, tmp_path: Path) -> None:
    rng, file = Random(command), tmp_path / "rig.toml"
    table = walked(rng, steps=25)
    file.write_text(toml_of(table), encoding="utf-8")
    hold(command, file, tmp_path / "out")
