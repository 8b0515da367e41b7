"""The worked calculation of every example: each line holds, and each chain ends in the number of its check."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from rigcalc import load_rig
from rigcalc.formulas import all_formulas
from rigcalc.reports.worked import WorkedCalculation, WorkedSection, worked, worked_from
from rigcalc.reports.worked.balance import reactions
from rigcalc.reports.worked.select import GIVEN, governing
from rigcalc.rigfile import starter_text
from rigcalc.verdict import Checked, check, checked

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
NAMES = [path.stem for path in EXAMPLES]
RECORDS = {record.name: record for record in all_formulas()}

LEFT_OUT: dict[str, set[tuple[str, str]]] = {
    "given_loads": set(),
    "glass_tube_5m": set(),
    "sharpie_5m2": set(),
    "sheathed_mast_5m": set(),
    "stave_mast_6m": set(),
    "trailer_sailer_4m6": set(),
    "two_masted_cruiser_9m": set(),
}
"""Sides of checks for which no chain is found, by example: known, so that one more is seen."""


@cache
def run(name: str) -> Checked:
    (path,) = (path for path in EXAMPLES if path.stem == name)
    return checked(load_rig(path))


@cache
def calculation(name: str) -> WorkedCalculation:
    (path,) = (path for path in EXAMPLES if path.stem == name)
    return worked_from(load_rig(path), run(name))


def each_example(test: object) -> object:
    return pytest.mark.parametrize("name", NAMES)(test)  # type: ignore[arg-type]  # a test


def checks_of(name: str) -> list[WorkedSection]:
    return [section for section in calculation(name).sections if section.check is not None]


@each_example
def test_every_line_is_its_formula_with_its_numbers(name: str) -> None:
    lines = [line for section in calculation(name).sections for line in section.lines]
    assert len(lines) > 20
    for line in lines:
        record = RECORDS[line.formula_name]
        value = record.function(**{n.symbol: n.value for n in line.numbers})
        assert value == line.value
        assert line.unit == record.unit
        assert line.source == record.source
        assert np.isfinite(line.value)
        ET.fromstring(line.mathml)


@each_example
def test_every_chain_ends_in_the_number_of_its_check(name: str) -> None:
    ended = 0
    for section in checks_of(name):
        found = section.check
        assert found is not None
        for end, wanted, side in (
            (section.demand, found.demand, "demand"),
            (section.capacity, found.capacity, "capacity"),
        ):
            if end is None:
                continue
            ended += 1
            line = section.lines[end]
            if side == "capacity" and found.id.startswith("fatigue"):
                # found by search: the sum that it uses up is 1
                assert line.formula_name == "miner_sum"
                assert line.value == pytest.approx(1.0, abs=1e-9)
                (largest,) = (one for one in section.lines if one.formula_name == "rms_of_largest")
                assert largest.numbers[0].value == wanted
            else:
                assert line.value == pytest.approx(wanted, rel=1e-12, abs=0)
                assert line.unit == found.unit
    assert ended > 8


@each_example
def test_what_is_left_out_is_known(name: str) -> None:
    left = {(s.check.id, side) for s in checks_of(name) if s.check for side in s.left_out}
    assert left == LEFT_OUT[name]
    for section in checks_of(name):
        for side in section.left_out:
            assert f"the {side} is not worked out here" in section.sentence


@each_example
def test_a_side_is_worked_out_given_or_left_out(name: str) -> None:
    for section in checks_of(name):
        found = section.check
        assert found is not None
        for side, end in (("demand", section.demand), ("capacity", section.capacity)):
            given = side in GIVEN.get(found.id, {}) or (side == "capacity" and found.capacity == 1.0)
            assert (end is not None) + (side in section.left_out) + given == 1


@each_example
def test_every_kind_of_check_is_there_once_where_it_governs(name: str) -> None:
    result = run(name).result
    sections = checks_of(name)
    assert [s.check.id for s in sections if s.check] == [c.id for c in governing(result)]
    assert {s.check.id for s in sections if s.check} == {c.id for c in result.checks}
    for section in sections:
        assert section.check is not None
        same = [c.utilisation for c in result.checks if c.id == section.check.id]
        assert section.check.utilisation == max(same)


@each_example
def test_a_line_feeds_one_that_comes_after_it(name: str) -> None:
    """Of every chain of more than a line, each but those that end it is an argument further down."""
    for section in checks_of(name):
        for i, line in enumerate(section.lines):
            if i in (section.demand, section.capacity) or section.check is None:
                continue
            if section.check.id.startswith("fatigue") and line.formula_name in (
                "curve_range",
                "slope_past_the_knee",
            ):
                continue
            later = [n.value for after in section.lines[i + 1 :] for n in after.numbers]
            # a stress or a strain may go on by its size alone
            assert any(abs(abs(v) - abs(line.value)) <= 2e-12 * abs(v) for v in later), (
                section.heading,
                line.text,
            )


@each_example
def test_forces_of_the_bearings_are_those_of_the_engine(name: str) -> None:
    done = run(name)
    for case in done.result.cases:
        lines = {w.symbol: w.value for w in reactions(done.run, case)}
        for ours, engine in (
            ("R_u,s", case.partners_side_N),
            ("R_u,f", case.partners_forward_N),
            ("R_l,s", case.step_side_N),
            ("R_l,f", case.step_forward_N),
            ("R_u", case.partners_force_N),
            ("R_l", case.step_force_N),
        ):
            assert lines.get(ours, 0.0) == pytest.approx(engine, rel=1e-9, abs=1e-9 * case.partners_force_N)


@each_example
def test_arms_of_the_loads_stand_on_the_mast(name: str) -> None:
    done = run(name)
    top = done.result.mast.length_m
    for case in done.result.cases:
        for line in reactions(done.run, case):
            if line.formula.name == "moment_of_force":
                assert 0.0 <= line.arguments["h"] <= top


@each_example
def test_the_load_is_that_of_the_governing_case(name: str) -> None:
    done = run(name)
    sections = [s for s in calculation(name).sections if s.heading.startswith("Load of")]
    cases = {c.name: c for c in done.result.cases}
    if not sections:
        # loads given by a reviewer have no formula
        assert {c.kind for c in cases.values()} == {"given"}
        return
    (section,) = sections
    worst = max((c for c in done.result.checks if c.case in cases), key=lambda c: c.utilisation)
    assert section.heading == f"Load of '{worst.case}'"
    case = cases[worst.case]
    by_name = {line.formula_name: line for line in section.lines}
    if case.kind == "heel-limited":
        # pressure times what a unit of it makes is the force, and the force times its arm the moment
        pressure, force = by_name["pressure_of_force"], by_name["heeling_force"]
        assert pressure.numbers[0].value == force.value
        assert f"{force.numbers[1].value:.2f} m" in case.notes[0]
    else:
        assert "wind_pressure" in by_name


def test_the_pressure_of_the_load_is_what_the_mast_feels() -> None:
    """The case of the trailer-sailer by hand: 2197 N m x 1.5 on an arm of 3.374 m, over 8.505 m2."""
    (section,) = (s for s in calculation("trailer_sailer_4m6").sections if s.heading.startswith("Load of"))
    lines = {line.formula_name: line for line in section.lines}
    assert lines["righting_moment"].value == pytest.approx(640 * 9.80665 * 0.35)
    assert lines["heeling_force"].value == pytest.approx(640 * 9.80665 * 0.35 * 1.5 / 3.374, rel=1e-4)
    assert lines["pressure_of_force"].text.startswith("q = F / A_F = 976.6 N / 8.505 m2 = 114.8 Pa")
    assert lines["leech_tension"].value > 1000.0


@each_example
def test_same_input_same_bytes(name: str) -> None:
    (path,) = (path for path in EXAMPLES if path.stem == name)
    assert worked(load_rig(path)) == calculation(name)


@each_example
def test_a_check_is_what_it_was(name: str) -> None:
    (path,) = (path for path in EXAMPLES if path.stem == name)
    result = check(load_rig(path))
    assert result.checks == run(name).result.checks
    assert calculation(name).cautions == result.cautions
    assert calculation(name).verdict == result.verdict


def test_the_starter_file_leaves_nothing_out() -> None:
    from rigcalc.rigfile import read_rig

    found = worked(read_rig(starter_text()))
    assert not [s.heading for s in found.sections if s.left_out]
