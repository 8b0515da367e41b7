"""A rig written and read back: the same rig, told as a builder would."""

from __future__ import annotations

import math
import tomllib
from dataclasses import fields, is_dataclass, replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcalc.errors import RigInputError
from rigcalc.rig import Rig, Station, Weld
from rigcalc.rig.fields import described_fields, spec_of
from rigcalc.rigfile import read_rig, rig_text, starter_text
from rigcalc.rigfile.write import _quantity
from rigcalc.units import accepted, parse

from . import GOOD, VARIANTS, edited, given_fields

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))
TEXTS = {
    "starter": starter_text(),
    "good": GOOD,
    **{name: edited(*edits) for name, edits in VARIANTS.items()},
    **{file.stem: file.read_text(encoding="utf-8") for file in EXAMPLES},
}
UNITS = (
    "m", "m2", "kg", "N", "N m", "Pa", "N/m", "m2/s", "m/s", "rad", "s", "Hz", "kg/m2", "kg/m3", "kg m2", "1/m",
    "1/K", "degC", "1",
)  # fmt: skip
FLOATS = st.floats(allow_nan=False, allow_infinity=False)
GOOD_RIG = read_rig(GOOD)


def value_of(toml: str, unit: str) -> float:
    """Read one value as the reader would: a bare number by its shortest digits, a text by its unit."""
    raw = tomllib.loads(f"x = {toml}")["x"]
    return parse(raw if isinstance(raw, str) else repr(raw), unit)


def without_defaults(rig: Rig) -> Rig:
    """Forget which keys were left out, where an edit has changed that."""
    return replace(rig, defaults=())


def test_there_are_examples_to_write() -> None:
    assert len(EXAMPLES) > 3


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_what_is_written_reads_back_as_the_same_rig(text: str) -> None:
    rig = read_rig(text)
    assert read_rig(rig_text(rig)) == rig  # field by field and float by float, and the record of defaults


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_what_the_file_gave_is_written_and_nothing_else(text: str) -> None:
    """Only a key that says nothing by its default, and is noted nowhere, may drop out."""
    rig = read_rig(text)
    asked = dict(given_fields(tomllib.loads(text)))
    written = dict(given_fields(tomllib.loads(rig_text(rig))))
    assert set(written) <= set(asked)
    for path in set(asked) - set(written):
        entry, value = asked[path], rig
        assert not spec_of(entry).default_from, path
        for key in path:
            value = at(value, key)
        # a table of which all fields are as left out is no more than its default
        assert value == entry.default, path


def at(value: Any, key: str | int) -> Any:
    return value[key] if isinstance(key, int) else getattr(value, described_fields(type(value))[key].name)


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_lines_are_short_and_the_same_every_time(text: str) -> None:
    written = rig_text(read_rig(text))
    assert max(map(len, written.splitlines())) <= 110
    assert written == rig_text(read_rig(written)) == rig_text(read_rig(text))
    assert written.endswith("\n") and "\n\n\n" not in written and not written.startswith("\n")
    assert not any(line.endswith(" ") for line in written.splitlines())


@pytest.mark.parametrize("stem", [file.stem for file in EXAMPLES])
def test_quantities_stand_in_no_more_digits_than_their_writer_typed(stem: str) -> None:
    def digits(raw: Any) -> int:
        number = str(raw).split(" ")[0]
        return len(number.rstrip("0").replace(".", "").lstrip("-0"))

    asked = leaves(tomllib.loads(TEXTS[stem]))
    written = leaves(tomllib.loads(rig_text(read_rig(TEXTS[stem]))))
    numbers = [path for path in written if str(asked[path])[:1] in "-0123456789"]
    assert len(numbers) > 5
    assert {path: written[path] for path in numbers if digits(written[path]) > digits(asked[path])} == {}


def leaves(value: Any, path: str = "") -> dict[str, Any]:
    if isinstance(value, dict | list):
        items = value.items() if isinstance(value, dict) else enumerate(value)
        return {k: v for key, item in items for k, v in leaves(item, f"{path}/{key}").items()}
    return {path: value}


@pytest.mark.parametrize(
    ("typed", "unit", "is_size", "written"),
    [
        ("101.6 mm", "m", True, '"101.6 mm"'),
        ("3.5 in", "m", True, '"3.5 in"'),  # a unit in the last place from 88.9 mm
        ("1.5 m", "m", True, '"1.5 m"'),
        ("900 mm", "m", False, '"0.9 m"'),
        ("14 ft 3 1/2 in", "m", False, '"4.3561 m"'),
        ("-1.6 m", "m", False, '"-1.6 m"'),
        ("0 m", "m", True, '"0 mm"'),
        ("640 kg", "kg", False, '"640 kg"'),
        ("1411 lb", "kg", False, '"1411 lb"'),
        ("560 N m", "N m", False, '"560 N m"'),
        ("1900 N m", "N m", False, '"1.9 kN m"'),
        ("2e6 N/m", "N/m", False, '"2000 kN/m"'),
        ("201 MPa", "Pa", False, '"201 MPa"'),
        ("36 ksi", "Pa", False, '"36 ksi"'),
        ("70000 MPa", "Pa", False, '"70 GPa"'),
        ("230 g/m2", "kg/m2", False, '"230 g/m2"'),
        ("22 kn", "m/s", False, '"22 kn"'),
        ("10 m/s", "m/s", False, '"10 m/s"'),
        ("45 deg", "rad", False, '"45 deg"'),
        ("0.5 rad", "rad", False, '"0.5 rad"'),
        ("1800 s", "s", False, '"30 min"'),
        ("5 h", "s", False, '"5 h"'),
        ("2.4 s", "s", False, '"2.4 s"'),
        ("-10 degC", "degC", False, '"-10 degC"'),
        ("23e-6 /K", "1/K", False, '"23 1e-6/K"'),
        ("1.46e-5 m2/s", "m2/s", False, '"1.46e-5 m2/s"'),
        ("8 %", "1", False, "0.08"),
        ("1.5", "1", False, "1.5"),
        ("1/15", "1", False, '"1/15"'),
        ("200", "1", False, "200"),
        ("1e9", "1", False, '"1e9"'),
    ],
)
def test_a_quantity_stands_in_the_unit_a_builder_would_take(
    typed: str, unit: str, is_size: bool, written: str
) -> None:
    value = parse(typed, unit)
    assert _quantity(value, unit, is_size=is_size) == written
    assert value_of(written, unit) == value


@pytest.mark.parametrize("unit", UNITS)
@given(value=FLOATS, is_size=st.booleans())
def test_any_float_reads_back_to_the_bit(unit: str, value: float, is_size: bool) -> None:
    assert value_of(_quantity(value, unit, is_size=is_size), unit) == value


@pytest.mark.parametrize("unit", UNITS)
@given(data=st.data())
def test_what_was_typed_in_few_digits_is_written_in_few(unit: str, data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(accepted(unit)))
    tenths = data.draw(st.integers(-99_999, 99_999))
    value = parse(f"{tenths / 10!r} {name}".removesuffix(" 1"), unit)
    text = _quantity(value, unit)
    assert value_of(text, unit) == value
    assert sum(c.isdigit() for c in text.strip('"').split(" ")[0]) <= 12, text  # zeros and exponent with it


def test_the_units_tried_are_all_there_are() -> None:
    used = {
        spec_of(entry).unit  # type: ignore[attr-defined]
        for _, entry in given_fields(tomllib.loads(GOOD))
        if hasattr(spec_of(entry), "unit")
    }
    assert len(used) > 10
    assert used <= set(UNITS)
    with pytest.raises(KeyError) as refused:
        parse("1 m", "furlong")
    for unit in UNITS:
        assert unit in str(refused.value)
    assert str(refused.value).count(",") == len(UNITS) - 1


sizes = st.floats(0.060, 0.120)
walls = st.floats(0.002, 0.006)


@given(
    heights=st.lists(st.floats(0.001, 5.59), max_size=6, unique=True),
    pairs=st.lists(st.tuples(sizes, walls), min_size=8, max_size=8),
)
def test_a_mast_of_any_sizes_reads_back(heights: list[float], pairs: list[tuple[float, float]]) -> None:
    starter = read_rig(starter_text())
    stations = tuple(
        Station(height_m=z, diameter_m=diameter, wall_m=wall)
        for z, (diameter, wall) in zip((0.0, *sorted(heights), starter.mast.length_m), pairs, strict=False)
    )
    rig = replace(starter, mast=replace(starter.mast, stations=stations))
    assert read_rig(rig_text(rig)) == rig


def test_tables_are_laid_out_as_in_the_examples() -> None:
    lines = rig_text(read_rig(TEXTS["trailer_sailer_4m6"])).splitlines()
    assert lines[0] == 'title = "4.6 m trailer-sailer, one turning mast"'
    headers = [line for line in lines if line.startswith("[")]
    assert headers[:3] == ["[boat]", "[boat.stability]", "[mast]"]
    assert headers.index("[bearings]") < headers.index("[bearings.step]") < headers.index("[[case]]")
    assert '  {height = "3.2 m", diameter = "88.9 mm", wall = "3.05 mm"},' in lines
    assert (
        '  {start = "2.8 m", end = "3.2 m", diameter = "88.9 mm", wall = "3.05 mm", play = "0.2 mm"},'
        in lines
    )
    assert 'thrust = {outer = "60 mm"}' in lines
    assert "set = {main = 0.67}" in lines


def test_an_entry_too_long_for_a_line_makes_headers() -> None:
    text = rig_text(GOOD_RIG)
    assert text.count("[[laminate.plies]]") == 3
    assert text.count("plies = [") == 1


def test_a_parent_with_nothing_of_its_own_has_no_header() -> None:
    text = rig_text(read_rig(TEXTS["rollers above a bush"]))
    assert "[bearings.partners]" in text
    assert "[bearings]\n" not in text


def test_the_heading_stands_on_top_as_comments() -> None:
    heading = ("Sized by a test", "", "one\ntwo \x07", "word " * 60)
    lines = rig_text(GOOD_RIG, heading=heading).splitlines()
    end = lines.index("")
    assert lines[:3] == ["# Sized by a test", "#", "# one two"]
    assert " ".join(line.removeprefix("# ") for line in lines[3:end]) == ("word " * 60).strip()
    assert all(len(line) <= 110 for line in lines[:end])
    assert "\n".join(lines[end + 1 :]) + "\n" == rig_text(GOOD_RIG)
    assert read_rig("\n".join(lines)) == GOOD_RIG


@pytest.mark.parametrize("title", ['the "big" one', "back\\slash", "Grüße: 7 × 2 – ″", "# no comment", "[x]"])
def test_texts_are_quoted(title: str) -> None:
    rig = replace(GOOD_RIG, title=title)
    assert read_rig(rig_text(rig)).title == title


def test_no_text_can_break_the_file() -> None:
    """The reader refuses what does not print, but says so of the title and not of the file."""
    title = "".join(map(chr, range(0xD7FF)))
    assert tomllib.loads(rig_text(replace(GOOD_RIG, title=title)))["title"] == title


def test_names_that_are_no_bare_keys_are_quoted() -> None:
    text = starter_text().replace('"main"', '"the \\"big\\" main.sail ü"')
    text += '[[state]]\nname = "half"\nset = {"the \\"big\\" main.sail ü" = 0.5}\n'
    rig = read_rig(text)
    assert rig.states[0].set == (('the "big" main.sail ü', 0.5),)
    assert read_rig(rig_text(rig)) == rig


def test_a_long_set_of_sails_makes_a_header() -> None:
    shares = tuple((f"sail number {i} of many", 1 / (i + 1)) for i in range(9))
    rig = replace(GOOD_RIG, states=(replace(GOOD_RIG.states[0], set=shares),))
    text = rig_text(rig)
    assert "[state.set]" in text
    assert tomllib.loads(text)["state"][0]["set"] == dict(shares)


def test_a_value_changed_is_written_though_the_file_had_left_it_out() -> None:
    starter = read_rig(starter_text())
    assert "limits.tip_deflection" in starter.defaults
    rig = replace(starter, limits=replace(starter.limits, tip_deflection=0.07))
    assert "[limits]\ntip_deflection = 0.07\n" in rig_text(rig)
    assert without_defaults(read_rig(rig_text(rig))) == without_defaults(rig)


def test_a_part_added_gives_its_defaults_as_its_own() -> None:
    starter = read_rig(starter_text())
    rig = replace(starter, mast=replace(starter.mast, weld=(Weld(height_m=3.0),)))
    assert '  {height = "3 m", extent = "30 mm"},' in rig_text(rig)
    assert read_rig(rig_text(rig)) == rig


def test_what_the_rest_of_the_rig_shuts_out_is_not_dropped_in_silence() -> None:
    starter = read_rig(starter_text())
    for changed in (
        replace(starter, timber=replace(starter.timber, moisture=0.12)),
        replace(starter, sails=(replace(starter.sails[0], panels=5),)),
    ):
        with pytest.raises(RigInputError, match=r"moisture|panels"):
            read_rig(rig_text(changed))


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_refused(value: float) -> None:
    with pytest.raises(ValueError, match="cannot say"):
        rig_text(replace(GOOD_RIG, boat=replace(GOOD_RIG.boat, displacement_kg=value)))


def test_every_field_of_the_rig_but_the_record_of_defaults_can_be_written() -> None:
    def bare(value: Any) -> set[str]:
        if isinstance(value, tuple):
            return {name for item in value for name in bare(item)}
        if not is_dataclass(value):
            return set()
        described = {entry.name for entry in described_fields(type(value)).values()}
        own = {entry.name for entry in fields(value)} - described
        return own.union(*(bare(getattr(value, name)) for name in described))

    assert bare(GOOD_RIG) == {"defaults"}
