"""Every unit of the parser against a units library, at random numbers and through whole rig files.

`tests/test_units.py` holds one number of each unit; here the same table serves random ones, in every way that a number
may be written, and every quantity of every example is written again in every other unit of its kind.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc import read_rig
from rigcalc.units import UnitError, accepted, convert, parse, show, unit_in

from ..test_units import PAIRS, PINT, UNITS, written

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.toml"))
DIGITS = 4e-16
"""Of one rounding of a double; a value is read, scaled by a factor, and a factor made of up to four others."""

numbers = st.one_of(
    st.floats(1e-6, 1e6).map(repr),
    st.integers(0, 10**6).map(str),
    st.decimals("0.001", "99999", places=3).map(str),
    st.floats(1e-6, 1e6).map(lambda x: f"{x:.5e}"),
)


def in_si(number: Fraction | float, si: str, name: str) -> float:
    """Return a number of a unit in the SI unit, by the library's definitions."""
    si_in_pint, _, names = UNITS[si]
    unit = PINT.Quantity(1.0, "dimensionless") * PINT.parse_expression(names[name])
    return float(number) * float(unit.to(si_in_pint).magnitude)


@pytest.mark.parametrize(("si", "name"), PAIRS)
@settings(max_examples=40)
@given(number=numbers, sign=st.sampled_from(["", "-", "+"]))
def test_any_number_of_any_unit(si: str, name: str, number: str, sign: str) -> None:
    value = parse(sign + written(number, name), si)
    expected = in_si(float(sign + number), si, name)
    assert value == pytest.approx(expected, rel=8 * DIGITS, abs=0.0)
    assert unit_in(sign + written(number, name), si) == name
    back = convert(value, si, name)
    assert back == pytest.approx(float(sign + number), rel=2 * DIGITS, abs=0.0)
    # what is shown to all digits is read back as it was
    assert parse(show(value, si, digits=17), si) == pytest.approx(value, rel=2 * DIGITS, abs=0.0)


@given(
    feet=st.integers(0, 200),
    whole=st.integers(0, 11),
    power=st.integers(1, 6),
    top=st.integers(1, 63),
    sign=st.sampled_from(["", "-"]),
    marks=st.sampled_from([(" ft ", " in"), ("' ", '"'), ("'", '"'), (" ft ", '"'), ("ft ", "in")]),
)
def test_feet_inches_and_fractions(
    feet: int, whole: int, power: int, top: int, sign: str, marks: tuple[str, str]
) -> None:
    bottom = 2**power
    top %= bottom
    inches = whole + Fraction(top, bottom)
    digits = f"{whole} {top}/{bottom}" if top else f"{whole}"
    length = (Fraction(feet) * 12 + inches) * PINT.Quantity(1, "inch").to("meter").magnitude
    for text in (
        f"{sign}{feet}{marks[0]}{digits}{marks[1]}",
        f"{sign}{feet}{marks[0]}{float(inches)!r}{marks[1]}",
    ):
        assert parse(text, "m") == pytest.approx(float(sign + "1") * float(length), rel=2 * DIGITS)
        assert unit_in(text, "m") == "in"


@pytest.mark.parametrize("si", UNITS)
def test_what_is_of_another_dimension_for_the_library_is_refused(si: str) -> None:
    for other, name in PAIRS:
        if other == si:
            continue
        with pytest.raises(UnitError):
            parse(written("1", name), si)
        ours, theirs = (PINT.parse_expression(UNITS[of][0]) for of in (si, other))
        if pint.Quantity(ours).dimensionality == pint.Quantity(theirs).dimensionality:
            # alike in dimension, another quantity: a moment is no energy, a frequency no speed of turning
            assert {si, other} in ({"1", "rad"}, {"Hz", "rad"})


def quantities(text: str) -> Iterator[tuple[re.Match[str], str, str]]:
    """Yield every quoted number with a unit that the table knows."""
    names = {name: si for si, name in PAIRS if name != "1"}
    for found in re.finditer(r'"([-+]?[0-9.]+(?:[eE][-+]?[0-9]+)?) ?([^"0-9][^"]*)"', text):
        if found[2] in names:
            yield found, names[found[2]], found[2]


def numbers_of(item: Any, path: str = "") -> Iterator[tuple[str, object]]:
    if is_dataclass(item):
        for field in fields(item):
            yield from numbers_of(getattr(item, field.name), f"{path}.{field.name}")
    elif isinstance(item, tuple):
        for i, part in enumerate(item):
            yield from numbers_of(part, f"{path}[{i}]")
    else:
        yield path, item


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("file", EXAMPLES, ids=lambda file: file.stem)
def test_a_rig_written_in_other_units_is_the_same_rig(file: Path, seed: int) -> None:
    text, pick = file.read_text(encoding="utf-8"), random.Random(seed)
    changed, other = 0, text
    for found, si, name in reversed(list(quantities(text))):
        to = pick.choice(accepted(si))
        if to == "1":
            continue
        value = in_si(float(found[1]), si, name) / in_si(1.0, si, to)
        other = f'{other[: found.start()]}"{value!r} {to}"{other[found.end() :]}'
        changed += to != name
    assert changed > 10
    for (path, one), (same, two) in zip(numbers_of(read_rig(text)), numbers_of(read_rig(other)), strict=True):
        assert path == same
        if isinstance(one, float):
            assert two == pytest.approx(one, rel=20 * DIGITS, abs=0.0), path
        else:
            assert one == two, path
