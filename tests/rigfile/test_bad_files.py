"""Files that are wrong, one at a time: what is said, where, and with which remedy.

Every bad file is one small edit of the good one. It must lead to the problems stated and to no others,
in the reader and on the command line alike, and never to a traceback.
"""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from rigcalc import check
from rigcalc.cli import main
from rigcalc.errors import Problem, RigInputError
from rigcalc.reports import screen
from rigcalc.rig import Case
from rigcalc.rig.fields import Choice, described_fields, spec_of
from rigcalc.rigfile import agree, load_rig, read, read_rig, starter_text
from rigcalc.rigfile.agree.cases import MOST_SOLVED
from rigcalc.rigfile.read import MOST_LETTERS, MOST_PARTS, MOST_PROBLEMS
from rigcalc.units import accepted, show

from . import GOOD, QUANTITIES, VARIANTS, bare_of, edited, every_field, given_fields, put, shown, toml_of
from .bad import (
    AGREE,
    BAD,
    BY_KIND,
    KEYS,
    NEXT,
    PLAIN_CASES,
    STOCK,
    SYNTAX,
    UNREAD,
    WRITING,
    Bad,
    given_in_a_case,
    kinds,
)

COMMANDS = ("check", "cases", "reef", "laminate", "order")
"""Those that read a rig file."""


@cache
def problems_of(text: str) -> tuple[Problem, ...]:
    """Return the problems of a text that must have some."""
    with pytest.raises(RigInputError) as caught:
        read_rig(text)
    assert caught.value.problems
    return caught.value.problems


def test_the_good_file_is_good() -> None:
    assert read_rig(GOOD).title == "Rig of the tests"
    assert check(read_rig(GOOD)).passed


@pytest.mark.parametrize("name", VARIANTS)
def test_its_variants_are_good(name: str) -> None:
    assert check(read_rig(edited(*VARIANTS[name]))).passed


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

    for command in COMMANDS[1:]:
        assert main([command, str(file)]) == 2
        assert capsys.readouterr() == captured, f"{command} says something else than check"


def test_sails_on_another_mast_alone_are_refused_without_a_case_too() -> None:
    # the standard set of cases must not pass a mast because nothing pulls on it
    table = tomllib.loads(starter_text())
    table["sail"][0]["mast"] = "main"
    (problem,) = problems_of(toml_of(table))
    assert problem.path == "sail[0].mast"
    assert "Leave the key out" in problem.remedy


def sunken() -> str:
    """Return a file with a mast that ends below the water."""
    table = tomllib.loads(starter_text())
    del table["sail"]
    table["boat"]["waterline"] = "4.7 m"
    table["mast"]["length"] = table["mast"]["stations"][1]["height"] = "4.6 m"
    return toml_of(table)


def test_a_mast_that_ends_below_the_water_is_refused() -> None:
    (problem,) = problems_of(sunken())
    assert problem.path == "boat.waterline"
    assert "below the tip of the mast" in problem.allowed


def rising() -> str:
    """Return a file without a case, whose righting arms end before 30 deg and still rise."""
    table = tomllib.loads(starter_text())
    table["boat"]["stability"]["righting_arm"] = [["0 deg", "0 m"], ["20 deg", "0.2 m"]]
    return toml_of(table)


def test_a_standard_set_that_nothing_holds_up_is_refused() -> None:
    (problem,) = problems_of(rising())
    assert problem.path == "boat.stability.righting_arm"
    assert "Extend it past its greatest value" in problem.remedy


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("{mainsail = 0.6, foresail", "{mainsail = 0.02, foresail"),
        ("{lugsail = 0.8}", "{lugsail = 0.6}"),
        # three of five written with two digits less than it has
        ("{lugsail = 0.8}", "{lugsail = 0.602}"),
        ('apparent_wind_angle = "35 deg"', 'apparent_wind_angle = "60 deg"'),
        ('apparent_wind_angle = "80 deg"', 'apparent_wind_angle = "90 deg"'),
        ('force_angle = "75 deg"', 'force_angle = "30.1 deg"'),
        ('force_angle = "75 deg"', 'force_angle = "149.9 deg"'),
        ('upper_height = "4.6 m"', 'upper_height = "6.79 m"'),
        ('ballast_height = "0.1 m"', 'ballast_height = "0.54 m"'),
        ('diameter = "89 mm"', 'diameter = "88 mm"'),
        ('mast = "fore"', 'mast = "mizzen"'),
        ('wet_length = "1.1 m"', 'wet_length = "5.9 m"'),
        # a sail in panels that is down, its height met to within rounding
        ('["0.4 m", "1.5 m"]', '["0.4 m", "1.65 m"]'),
        # a sleeve over the upper tube, standing on the end of the lower one
        (
            'start = "2.4 m"\nend = "2.81 m"\ndiameter = "89 mm"\nwall = "3.5 mm"',
            'start = "2.81 m"\nend = "3.1 m"\ndiameter = "96 mm"\nwall = "3.9 mm"',
        ),
        # a sleeve in both lengths, packed in the wider one
        ('end = "2.81 m"\ndiameter = "89 mm"', 'end = "3.2 m"\ndiameter = "77 mm"'),
        ('spar_height = "2.5 m"', 'spar_height = "0.5 m"'),
        ('["1.6 m", "2.6 m"', '["1.5 m", "2.6 m"'),
        ('"4.8 m"]', '"6.2 m"]'),
        ("panels = 5", "panels = 20"),
        ('leech_sag = "8 %"', "leech_sag = 0.12"),
    ],
)
def test_what_lies_just_within_a_rule_is_good(old: str, new: str) -> None:
    check(read_rig(edited((old, new))))


BYTES = {
    "utf-16": (GOOD.encode("utf-16"), "Save the file as UTF-8 text"),
    "latin-1": (GOOD.replace("Rig of", "Gréement").encode("latin-1"), "Save the file as UTF-8 text"),
    "oversize": (GOOD.encode() + b"#" * 2_000_000, "Check the file name"),
    "empty": (b"", 'Add title = "..."'),
    "comment alone": (b"\n# nothing\n", "Add a table [mast]"),
    "program": (b"\x7fELF\x00\x01\x02", "file"),
}


@pytest.mark.parametrize(("content", "tells"), BYTES.values(), ids=BYTES)
@pytest.mark.parametrize("command", COMMANDS)
def test_bad_bytes(
    command: str, content: bytes, tells: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "bad.toml"
    file.write_bytes(content)
    with pytest.raises(RigInputError):
        load_rig(file)
    assert main([command, str(file)]) == 2
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


@pytest.mark.parametrize("command", COMMANDS)
@pytest.mark.parametrize("bad", [group[0] for group in (WRITING, KEYS, SYNTAX, STOCK, AGREE)], ids=str)
def test_bad_file_in_a_process_of_its_own(command: str, bad: Bad) -> None:
    ran = subprocess.run(
        [sys.executable, "-m", "rigcalc", command, "-"],
        input=bad.text.encode(),
        capture_output=True,
        check=False,
    )
    said = ran.stderr.decode()
    assert (ran.returncode, ran.stdout) == (2, b"")
    assert bad.path in said and bad.tells in said and "Traceback" not in said


def endless() -> str:
    """Return a file with more entries in its lists than anyone means."""
    many = 20_001
    table = tomllib.loads(GOOD)
    table["case"][4]["line_load"] = [["1 m", "0 N/m"]] * many
    table["sail"][2]["parrel_heights"] = ["2 m"] * many
    table["mast"]["weld"] = [{"height": "1 m"}] * many
    return toml_of(table)


def test_endless_lists_are_refused() -> None:
    found = {p.path: p for p in problems_of(endless())}
    assert set(found) == {"case[4].line_load", "sail[2].parrel_heights", "mast.weld"}
    for path, problem in found.items():
        assert re.match(r"at most \d+ are read here", problem.allowed), path
        assert problem.value == "a list of 20001"


def beyond_reason() -> dict[str, str]:
    """Return files that ask for more work, or say less, than any boat could mean."""
    table = tomllib.loads(starter_text())
    crowded = tomllib.loads(starter_text())
    low, high = crowded["mast"]["stations"][0], crowded["mast"]["stations"][-1]
    length = float(crowded["mast"]["length"].split()[0])
    between = [{**low, "height": f"{length * i / 400!r} m"} for i in range(1, 400)]
    crowded["mast"]["stations"] = [low, *between, high]
    crowded["case"] = [
        {"name": f"storm {i}", "kind": "bare", "wind_speed": "30 kn"} for i in range(MOST_SOLVED // 400 + 1)
    ]
    return {
        "case": toml_of(crowded),
        "title": toml_of({**table, "title": "a" * (MOST_LETTERS + 1)}),
        "boat.waterline": toml_of({**table, "boat": {**table["boat"], "waterline": "1e-20 m"}}),
        "file": toml_of(table) + "".join(f"unknown{i} = 1\n" for i in range(MOST_PROBLEMS + 1)),
        "file ": toml_of(table) + ".".join("a" * (MOST_PARTS + 1)) + " = 1\n",
    }


@pytest.mark.parametrize("path", beyond_reason())
def test_what_no_boat_could_mean_is_refused(path: str) -> None:
    assert path.strip() in {problem.path for problem in problems_of(beyond_reason()[path])}


def test_every_problem_is_told_at_once() -> None:
    text = edited(
        ('displacement = "640 kg"', 'displacement = "640"'),
        ('length = "6.8 m"', "length = 6.8"),
        ('E = "70 GPa"', 'E = "70 MPa"'),
        ('bury = "0.9 m"', 'burry = "0.9 m"'),
        ('state = "both"', 'state = "bth"'),
        ('lateral_centre = "0.05 m"', 'lateral_centre = "0.5 m"'),
        ("beaufort = 10", "beaufort = 10\nbasis = 'RM30'"),
        ('wall = "4.2 mm"', 'wall = "50 mm"'),
        ('parrel_heights = ["1.6 m"', "parrel_heights = [1.6"),
        ("{lugsail = 0.8}", "{lugsail = 0.75}"),
        ('wet_length = "1.1 m"', ""),
        ('lower_height = "0.5 m"', 'lower_height = "5 m"'),
        ('roll_period = "2.4 s"', 'roll_period = "24 s"'),
    )
    # the wall is not judged: that needs the length of the mast
    assert sorted(p.path for p in problems_of(text)) == sorted(
        [
            "boat.displacement",
            "mast.length",
            "material[0].E",
            "mast.burry",
            "mast.bury",
            "case[0].state",
            "boat.lateral_centre",
            "case[2].basis",
            "sail[2].parrel_heights[0]",
            "state[3].set.lugsail",
            "case[3].wet_length",
            "case[9].lower_height",
            "case[8].roll_period",
        ]
    )


# what follows walks the descriptions, so that a field added later is held to the same


def spoilt(replace: dict[tuple[str | int, ...], Any]) -> dict[str, str]:
    """Return path -> problem of the good file with other values in some places."""
    table = tomllib.loads(GOOD)
    for path, value in replace.items():
        put(table, path, value)
    return {p.path: f"{p.allowed}. {p.remedy}" for p in problems_of(toml_of(table))}


@pytest.mark.parametrize(
    "wrong",
    ["", "7 furlongs", "7 s", "7 Hz", "1,5 m", "m", "nan", "1e999 m", True, [], {}, date(2026, 1, 2), 10**30],
    ids=repr,
)
def test_every_quantity_refuses(wrong: Any) -> None:
    unit = wrong.partition(" ")[2] if isinstance(wrong, str) else ""
    # a few quantities are in seconds, and a frequency in hertz
    places = [path for path, spec in QUANTITIES if unit not in ("s", "Hz") or unit not in accepted(spec.unit)]
    assert len(places) > 100
    assert {shown(path) for path in places} <= set(spoilt(dict.fromkeys(places, wrong)))


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
    assert len(beyond) > 80
    found = spoilt(beyond)
    assert {shown(path) for path in beyond} <= set(found)


CHOICES = [
    (path, option)
    for path, entry in given_fields(tomllib.loads(GOOD))
    for spec in [spec_of(entry)]
    if isinstance(spec, Choice)
    for option in spec.options
]


@pytest.mark.parametrize(("path", "option"), CHOICES, ids=[f"{shown(p)} = {o}" for p, o in CHOICES])
def test_every_option_is_taken_where_a_choice_stands(path: tuple[str | int, ...], option: str) -> None:
    """Another option may leave other keys unread, or want some, but is never wrong itself."""
    table = tomllib.loads(GOOD)
    put(table, path, option)
    try:
        rig = read_rig(toml_of(table))
    except RigInputError as error:
        assert shown(path) not in {p.path for p in error.problems}
        return
    found: Any = rig
    names = {
        "sail": "sails",
        "case": "cases",
        "material": "materials",
        "laminate": "laminates",
        "size": "sizing",
    }
    for key in path:
        found = found[key] if isinstance(key, int) else getattr(found, names.get(key, key))
    assert found == option


def test_there_is_a_place_for_every_choice_and_key() -> None:
    """The good file and its variants use everything the format has."""
    used = {bare_of(path) for path, _ in given_fields(tomllib.loads(GOOD))}
    assert len(used) > 130
    for edits in VARIANTS.values():
        used |= {bare_of(path) for path, _ in given_fields(tomllib.loads(edited(*edits)))}
    missing = {path for path, _ in every_field()} - used
    assert missing == {"bearings.partners.stiffness"} - used


def test_only_cases_have_keys_that_some_kinds_do_not_read() -> None:
    own = {f"case.{key}" for key in described_fields(Case)}
    assert {path for path, entry in every_field() if spec_of(entry).only} <= own


def test_every_key_of_a_case_has_a_bad_file_for_the_kinds_that_do_not_read_it() -> None:
    wanted = {
        (key, kind)
        for key, entry in described_fields(Case).items()
        for kind in kinds()
        if spec_of(entry).only and kind not in spec_of(entry).only
    }
    found = {
        (key, case["kind"])
        for bad in BY_KIND
        for case in tomllib.loads(bad.new)["case"]
        for key in [bad.path.rpartition(".")[2]]
        if key in case
    }
    assert found == wanted
    assert len(wanted) > 150


@pytest.mark.parametrize("kind", kinds())
def test_every_key_of_a_case_is_borne_by_the_kinds_that_read_it(kind: str) -> None:
    """It may still want another choice beside it, but not another kind."""
    plain = {"name": "another", "kind": kind, **PLAIN_CASES[kind]}
    read_rig(f"{GOOD}[[case]]\n{toml_of(plain)}")
    for key, entry in described_fields(Case).items():
        if kind not in (spec_of(entry).only or kinds()) or key in ("name", "kind"):
            continue
        text = f"{GOOD}[[case]]\n{toml_of({**plain, key: given_in_a_case(key)})}"
        try:
            read_rig(text)
        except RigInputError as error:
            for problem in error.problems:
                assert problem.path.startswith(NEXT)
                assert "by cases of kind" not in problem.allowed


def test_every_key_that_a_choice_leaves_unread_has_a_bad_file() -> None:
    tried = {(re.sub(r"\[\d+\]", "", bad.path), bad.tells) for bad in UNREAD}
    conditional = [(path, spec_of(entry).when) for path, entry in every_field() if spec_of(entry).when]
    assert len(conditional) > 20
    for path, when in conditional:
        assert when is not None
        assert (path, f"when {when[1]}") in tried, f"{path} has no bad file"


def rules(module: Path) -> Iterator[tuple[int, str]]:
    """Yield line and wording, as a pattern, of every problem that a module can tell of."""
    for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
        if not isinstance(node, ast.Call):
            continue
        name = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
        if name in ("Problem", "_problem") and len(node.args) == 4:
            yield node.lineno, r"\. ".join(map(_wording, node.args[2:]))


def _wording(node: ast.expr) -> str:
    match node:
        case ast.Constant(value=str(text)):
            return re.escape(text)
        case ast.JoinedStr(values=parts):
            return "".join(map(_wording, parts))
    return ".*"


RULES = [
    (f"{module.name}:{line}", pattern)
    for module in sorted([Path(read.__file__), *Path(agree.__file__).parent.glob("*.py")])
    for line, pattern in rules(module)
]


def test_every_rule_has_a_bad_file(tmp_path: Path) -> None:
    """A rule is a place in the reader that makes a problem; its wording tells which of them spoke."""
    problems = [
        p
        for text in (*(bad.text for bad in BAD), sunken(), rising(), endless(), *beyond_reason().values())
        for p in problems_of(text)
    ]
    for content, _ in BYTES.values():
        file = tmp_path / "bad.toml"
        file.write_bytes(content)
        with pytest.raises(RigInputError) as caught:
            load_rig(file)
        problems += caught.value.problems
    told = [f"{p.allowed}. {p.remedy}" for p in problems]
    assert len(RULES) > 60
    silent = [place for place, pattern in RULES if not any(re.fullmatch(pattern, t, re.DOTALL) for t in told)]
    assert not silent
