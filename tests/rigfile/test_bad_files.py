"""Files that are wrong, one at a time: what is said, where, and with which remedy.

Every case is one small edit of the good file. It must lead to the problems stated and to no others, in
the reader and on the command line alike, and never to a traceback.
"""

from __future__ import annotations

import math
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import Field, dataclass
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import rigcalc.rigfile
from rigcalc import check
from rigcalc.cli import main
from rigcalc.design import case_list
from rigcalc.errors import RigInputError
from rigcalc.reports import as_json, screen
from rigcalc.reports.cases import cases_json, cases_screen
from rigcalc.rig import Case, Rig
from rigcalc.rig.fields import (
    Choice,
    Curve,
    Heights,
    Quantity,
    Shares,
    Table,
    Tables,
    described_fields,
    is_required,
    spec_of,
)
from rigcalc.rigfile import load_rig, read_rig, starter_text
from rigcalc.units import accepted, show

from . import GOOD, VARIANTS, edited, leaves, put, shown, toml_of


def problems_of(text: str) -> tuple[Any, ...]:
    """Return the problems of a text that must have some."""
    with pytest.raises(RigInputError) as caught:
        read_rig(text)
    assert caught.value.problems
    return caught.value.problems


def test_the_good_file_is_good() -> None:
    assert read_rig(GOOD).title == "Rig of the tests"
    assert check(read_rig(GOOD)).passed


@pytest.mark.parametrize("bad", BAD, ids=str)
def test_bad_file(bad: Bad, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    problems = problems_of(bad.text)
    assert {p.path for p in problems} == {bad.path, *bad.also}
    told = [p for p in problems if p.path == bad.path and bad.tells in f"{p.allowed}. {p.remedy}"]
    assert told, f"{bad.tells!r} is not in {[str(p) for p in problems]}"
    assert any(bad.value in p.value for p in told)
    for problem in problems:
        assert problem.allowed and problem.remedy[-1] in ".?"
        assert len(problem.value) < 100

    file = tmp_path / "bad.toml"
    file.write_text(bad.text, encoding="utf-8")
    assert main(["check", str(file)]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert "Traceback" not in captured.err
    assert bad.tells in captured.err
    assert f"{file}: {'1 problem' if len(problems) == 1 else f'{len(problems)} problems'} in" in captured.err
    lines = captured.err.splitlines()
    assert all(line.isprintable() for line in lines)
    assert len(lines) == 1 + len(problems), "one line to each problem, below the heading"
    if bad.path.isprintable():
        assert any(line.startswith(f"  {bad.path}") for line in lines)


def test_sails_on_another_mast_alone_are_refused_without_a_case_too() -> None:
    # the standard set of cases must not pass a mast because nothing pulls on it
    table = tomllib.loads(starter_text())
    table["sail"][0]["mast"] = "main"
    (problem,) = problems_of(toml_of(table))
    assert problem.path == "sail[0].mast"
    assert "Leave the key out" in problem.remedy


def test_a_mast_that_ends_below_the_water_is_refused() -> None:
    table = tomllib.loads(starter_text())
    del table["sail"]
    table["boat"]["waterline"] = "4.7 m"
    table["mast"]["length"] = table["mast"]["stations"][1]["height"] = "4.6 m"
    (problem,) = problems_of(toml_of(table))
    assert problem.path == "boat.waterline"
    assert "below the tip of the mast" in problem.allowed


@pytest.mark.parametrize(
    ("content", "tells"),
    [
        (GOOD.encode("utf-16"), "Save the file as UTF-8 text"),
        (GOOD.replace("Rig of", "Gréement").encode("latin-1"), "Save the file as UTF-8 text"),
        (GOOD.encode() + b"#" * 2_000_000, "Check the file name"),
        (b"", 'Add title = "..."'),
        (b"\n# nothing\n", "Add a table [mast]"),
        (b"\x7fELF\x00\x01\x02", "file"),
    ],
    ids=["utf-16", "latin-1", "oversize", "empty", "comment alone", "program"],
)
def test_bad_bytes(content: bytes, tells: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "bad.toml"
    file.write_bytes(content)
    with pytest.raises(RigInputError):
        load_rig(file)
    assert main(["check", str(file)]) == 2
    captured = capsys.readouterr()
    assert captured.out == "" and tells in captured.err and "Traceback" not in captured.err


@pytest.mark.parametrize("before", [b"\xef\xbb\xbf", b"\r\n"], ids=["byte order mark", "blank line"])
def test_what_editors_do_is_borne(before: bytes, tmp_path: Path) -> None:
    file = tmp_path / "good.toml"
    file.write_bytes(before + GOOD.replace("\n", "\r\n").encode())
    assert load_rig(file) == read_rig(GOOD)


def test_names_may_be_in_any_tongue() -> None:
    text = GOOD.replace("Rig of the tests", "Gréement à Ψ, 試し").replace('"storm"', '"Sturm, Böen"')
    text = text.replace('"mainsail"', '"Großsegel"').replace("mainsail =", '"Großsegel" =')
    rig = read_rig(text)
    assert rig.title == "Gréement à Ψ, 試し"
    assert rig.sails[0].name == rig.states[0].set[0][0] == "Großsegel"
    assert "Sturm, Böen" in screen(check(rig, case="Sturm, Böen"))


@pytest.mark.parametrize(
    "bad", [WRITING[0], KEYS[5], SYNTAX[0], AGREE[0], REFUSED[0]], ids=lambda bad: str(bad)
)
def test_bad_file_in_a_process_of_its_own(bad: Bad) -> None:
    ran = subprocess.run(
        [sys.executable, "-m", "rigcalc", "check", "-"],
        input=bad.text.encode(),
        capture_output=True,
        check=False,
    )
    said = ran.stderr.decode()
    assert (ran.returncode, ran.stdout) == (2, b"")
    assert bad.path in said and bad.tells in said and "Traceback" not in said


def test_endless_lists_are_refused() -> None:
    many = 20_001
    table = tomllib.loads(GOOD)
    table["case"][4]["line_load"] = [["1 m", "0 N/m"]] * many
    table["mast"]["weld"] = [{"height": "1 m"}] * many
    found = {p.path: p for p in problems_of(toml_of(table))}
    assert set(found) == {"case[4].line_load", "mast.weld"}
    assert all("at most 20000" in p.allowed and "20001 entries" in p.value for p in found.values())


def test_every_problem_is_told_at_once() -> None:
    text = GOOD
    edits = [
        ('displacement = "640 kg"', 'displacement = "640"'),
        ('length = "6.8 m"', "length = 6.8"),
        ('E = "70 GPa"', 'E = "70 MPa"'),
        ('bury = "0.9 m"', 'burry = "0.9 m"'),
        ('state = "both"', 'state = "bth"'),
        ('lateral_centre = "0.05 m"', 'lateral_centre = "0.5 m"'),
        ("beaufort = 10", "beaufort = 10\nbasis = 'RM30'"),
        ('wall = "3 mm"', 'wall = "50 mm"'),
    ]
    for old, new in edits:
        assert text.count(old) == 1
        text = text.replace(old, new)
    paths = [p.path for p in problems_of(text)]
    assert sorted(paths) == sorted(
        [
            "boat.displacement",
            "mast.length",
            "material[0].E",
            "mast.burry",
            "mast.bury",
            "case[0].state",
            "boat.lateral_centre",
            "case[2].basis",
        ]
    )


# what follows walks the descriptions, so that a field added later is held to the same


def quantities(
    table: type[Any], raw: Any, path: tuple[str | int, ...] = ()
) -> Iterator[tuple[Any, Quantity]]:
    """Yield path and description of every quantity of a table that the good file gives."""
    for name, entry in described_fields(table).items():
        spec, here = spec_of(entry), (*path, name)
        if name not in raw:
            continue
        if isinstance(spec, Quantity):
            yield here, spec
        elif isinstance(spec, Table):
            yield from quantities(spec.of, raw[name], here)
        elif isinstance(spec, Tables):
            for i, item in enumerate(raw[name]):
                yield from quantities(spec.of, item, (*here, i))
        elif isinstance(spec, Curve):
            for i, pair in enumerate(raw[name]):
                for k in range(len(pair)):
                    yield (*here, i, k), Quantity("", unit=spec.units[k])


QUANTITIES = list(quantities(Rig, tomllib.loads(GOOD)))


def spoilt(replace: dict[tuple[str | int, ...], Any]) -> dict[str, str]:
    """Return path -> problem of the good file with other values in some places."""
    table = tomllib.loads(GOOD)
    for path, value in replace.items():
        put(table, path, value)
    return {p.path: f"{p.allowed}. {p.remedy}" for p in problems_of(toml_of(table))}


@pytest.mark.parametrize(
    "wrong",
    ["", "7 furlongs", "7 s", "1,5 m", "m", "nan", "1e999 m", True, [], {}, date(2026, 1, 2), 10**30],
    ids=repr,
)
def test_every_quantity_refuses(wrong: Any) -> None:
    found = spoilt({path: wrong for path, _ in QUANTITIES})
    assert {shown(path) for path, _ in QUANTITIES} <= set(found)


def test_every_quantity_wants_its_unit() -> None:
    with_unit = [path for path, spec in QUANTITIES if spec.unit != "1"]
    for bare in (1, 1.5, "1.5"):
        found = spoilt(dict.fromkeys(with_unit, bare))
        assert {shown(path) for path in with_unit} <= set(found)


@pytest.mark.parametrize("end", ["low", "high"])
def test_every_bound_of_every_quantity_is_held(end: str) -> None:
    beyond: dict[tuple[str | int, ...], str] = {}
    for path, spec in QUANTITIES:
        low = [b for b in (spec.above, spec.at_least, (spec.sane or [None])[0]) if b is not None]
        high = [b for b in (spec.at_most, (spec.sane or [None, None])[1]) if b is not None]
        limit = max(low, default=None) if end == "low" else min(high, default=None)
        if limit is not None:
            step = abs(limit) * 0.01 or 1e-3
            beyond[path] = show(limit + (step if end == "high" else -step), spec.unit, digits=9)
    assert len(beyond) > 30
    found = spoilt(beyond)
    assert {shown(path) for path in beyond} <= set(found)


def test_every_key_of_a_case_is_refused_by_the_kinds_that_do_not_read_it() -> None:
    kind_of_case = spec_of(described_fields(Case)["kind"])
    assert isinstance(kind_of_case, Choice)
    sample = {"state": "both", "basis": "RM30", "arm": "partners", "beaufort": 3, "point_load": []}
    cases: list[dict[str, Any]] = []
    wanted = set()
    for name, entry in described_fields(Case).items():
        for kind in kind_of_case.options:
            if spec_of(entry).only and kind not in spec_of(entry).only:
                wanted.add(f"case[{len(cases)}].{name}")
                cases.append({"name": f"{kind} {name}", "kind": kind, name: sample.get(name, "1 m")})
    table = tomllib.loads(GOOD)
    table["case"] = cases
    found = {p.path for p in problems_of(toml_of(table)) if "is read only by cases of kind" in p.allowed}
    assert wanted <= found
    assert len(wanted) > 30


def fields_of(table: type[Any], path: str = "") -> Iterator[tuple[str, Field[Any]]]:
    """Yield path and field of everything that may stand in a rig file, each bearing once."""
    for name, entry in described_fields(table).items():
        here = f"{path}.{name}" if path else name
        if here == "bearings.step":
            continue
        yield here, entry
        spec = spec_of(entry)
        if isinstance(spec, Table | Tables) and not spec.absent:
            yield from fields_of(spec.of, here)


def test_every_refused_part_has_a_bad_file() -> None:
    tried = {(bad.path.replace("[0]", "").replace("[2]", ""), bad.new) for bad in REFUSED}
    for path, entry in fields_of(Rig):
        spec = spec_of(entry)
        if spec.absent:
            assert any(path == there for there, _ in tried), f"{path} has no bad file"
        if isinstance(spec, Choice):
            for option in spec.refused:
                assert any(path == there and f'"{option}"' in new for there, new in tried), (
                    f"{path} = {option}"
                )
