"""`rigcalc explain`: every check, every field and every word of the answer, in general and for one rig."""

from __future__ import annotations

import ast
import json
import re
from functools import cache
from pathlib import Path

import pytest

import rigcalc
from rigcalc import CheckResult, check
from rigcalc.cli import main
from rigcalc.formulas import record_of
from rigcalc.formulas.meanings import meaning_of
from rigcalc.limits.about import GROUPS, NUMBER, About, Cure
from rigcalc.reports.explain import abouts
from rigcalc.reports.worked.line import symbolic_lines
from rigcalc.rigfile import load_rig, read_rig
from rigcalc.rigfile.described import all_fields
from rigcalc.verdict.terms import TERMS

from .rigfile import GOOD, VARIANTS, edited

Capture = pytest.CaptureFixture[str]

HOME = Path(__file__).parent.parent
EXAMPLES = sorted((HOME / "examples").glob("*.toml"))
RIGS = ("bush above rollers", "rollers above a bush", "own foam", "own timber", "post")
"""Variants that have between them, with the examples, nearly every check there is."""


def loaded(text: str, times: int) -> str:
    """Return a rig whose boat is so many times as heavy, in more wind, so that much of it fails."""
    text = re.sub(r'displacement = "(\d+) kg"', lambda m: f'displacement = "{int(m[1]) * times} kg"', text)
    return re.sub(r'wind_speed = "([\d.]+) ', lambda m: f'wind_speed = "{float(m[1]) * 2.4:g} ', text)


@cache
def results() -> tuple[CheckResult, ...]:
    texts = [file.read_text(encoding="utf-8") for file in EXAMPLES]
    texts += [edited(*VARIANTS[name]) for name in RIGS]
    return tuple(
        check(read_rig(text if times == 1 else loaded(text, times))) for text in texts for times in (1, 6)
    )


def run(capsys: Capture, *words: str) -> tuple[int, str, str]:
    code = main(words)
    told = capsys.readouterr()
    return code, told.out, told.err


# ---------------------------------------------------------------- every check


def test_nothing_makes_a_check_without_its_explanation() -> None:
    """A Check is made in one module alone, from an About; what has none cannot come into a result."""
    package = Path(rigcalc.__file__).parent
    makers = set()
    for module in package.rglob("*.py"):
        for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Check":
                makers.add(module.relative_to(package).as_posix())
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Limit":
                assert not isinstance(node.args[0], ast.Constant | ast.JoinedStr), f"{module}: a bare name"
    assert makers == {"limits/record.py"}


def test_every_check_of_many_rigs_is_one_that_is_explained() -> None:
    seen = set()
    for result in results():
        for one in result.checks:
            own = [
                a
                for a in abouts()
                if a.covers(one.id) and one.formula in {record_of(f).name for f in a.formulas}
            ]
            assert len(own) == 1, one.id
            seen.add(own[0])
    # a guard against looking at nothing: what these rigs do not have is known
    missing = {name for a in abouts() if a not in seen for name in a.names}
    assert missing <= {
        "shell-buckling",
        "ply max-strain",
        "ply tsai-hill-tensile",
        "ply tsai-hill",
        "ply hashin",
        "ply hashin-rotem",
        "ply max-stress",
        "joint-overlap",
        "fatigue weld",
        "fatigue opening N",
        "weld",
        "wall-buckling",
        "flattening",
        "wall-bending-partners",
        "wall-bending-step",
        "rolling-shear-partners",
        "rolling-shear-step",
    }


@pytest.mark.parametrize("about", abouts(), ids=lambda about: f"{about.of} {about.names[0]}")
def test_a_check_is_explained_in_full(about: About, capsys: Capture) -> None:
    assert about.of in GROUPS
    assert about.cures and about.means.endswith(".") and about.leaves_out.endswith(".")
    for name in about.names:
        asked = name.replace(NUMBER, " 2") if name.endswith(NUMBER) else name
        code, out, err = run(capsys, "explain", asked)
        assert (code, err) == (0, "")
        assert max(map(len, out.splitlines())) <= 100
        flat = " ".join(out.split())
        for text in (about.means, about.leaves_out, *(cure.general for cure in about.cures)):
            assert " ".join(text.split()) in flat
        assert not re.search(r"[<>{}|]", " ".join(cure.general for cure in about.cures))
        for formula in map(record_of, (*about.formulas, *about.demand)):
            assert all(" ".join(line.split()) in flat for line in symbolic_lines(formula))
            assert formula.source.split(";")[0] in flat
            assert all(str(limit) in flat for limit in formula.ranges)
    code, out, _ = run(capsys, "explain", asked, "--json")
    told = next(c for c in json.loads(out)["checks"] if c["of"] == about.of)
    assert told["means"] == about.means and len(told["cures"]) == len(about.cures)


def test_every_symbol_of_their_formulas_has_a_meaning() -> None:
    formulas = {record_of(f).name: record_of(f) for a in abouts() for f in (*a.formulas, *a.demand)}
    assert len(formulas) > 50
    for formula in formulas.values():
        for symbol in formula.arguments:
            assert meaning_of(formula, symbol), f"{formula.name}: {symbol}"


def test_the_list_has_every_check_in_one_line_of_meaning(capsys: Capture) -> None:
    code, out, _ = run(capsys, "explain")
    assert code == 0 and max(map(len, out.splitlines())) <= 100
    flat = " ".join(out.split())
    for about in abouts():
        assert all(name in flat for name in about.names) and about.line in flat
    for group in GROUPS:
        assert f"\n{group[0].upper()}{group[1:]}\n" in out
    _, out, _ = run(capsys, "explain", "--json")
    assert len(json.loads(out)["checks"]) == len(abouts())


# ---------------------------------------------------------------- one text for advice and explanation


def pattern(cure: Cure) -> str:
    """Return what a cure looks like with numbers in it."""
    said = re.sub(r"<([^>|]*)(?:\|[^>]*)?>", r"\1", cure.text)
    return "".join(
        ".*?" if part.startswith("{") else re.escape(part) for part in re.split(r"(\{[^}]*\})", said)
    )


def test_advice_is_worded_as_the_explanation() -> None:
    looked_at = set()
    for result in results():
        for one in result.checks:
            if one.passed or one.utilisation == float("inf") or "no equilibrium" in one.advice:
                continue
            about = next(
                a
                for a in abouts()
                if a.covers(one.id) and one.formula in {record_of(f).name for f in a.formulas}
            )
            told = [
                cure
                for cure in about.cures
                if re.search(pattern(cure), one.advice) or cure.general in one.advice
            ]
            if not told:
                # a sheath, whose cure is that of the mast beneath
                assert one.layer.startswith("sheath"), f"{one.id}: {one.advice}"
            looked_at.add(one.id)
    assert len(looked_at) >= 15


def test_a_cure_says_numbers_of_a_place_only() -> None:
    cure = Cure("raise the wall< from {now:.1f} to {to:.1f} mm>, or <plug it there|plug it>", "weight")
    assert cure.general == "raise the wall, or plug it"
    assert cure.said(now=2.0, to=3.04) == "raise the wall from 2.0 to 3.0 mm, or plug it there"


# ---------------------------------------------------------------- fields and words


@pytest.mark.parametrize(
    ("asked", "path"),
    [
        ("mast.stations[].wall", "mast.stations[].wall"),
        ("mast.stations[2].wall", "mast.stations[].wall"),
        ("mast.stations[*].wall", "mast.stations[].wall"),
        ("mast.stations.wall", "mast.stations[].wall"),
        ("boat.displacement", "boat.displacement"),
        ("displacement", "boat.displacement"),
        ("[limits]", "limits"),
        ("[[mast.sleeve]]", "mast.sleeve[]"),
        ("boat.stability.righting_arm", "boat.stability.righting_arm[]"),
    ],
)
def test_a_field_is_found_however_it_is_written(asked: str, path: str, capsys: Capture) -> None:
    code, out, _ = run(capsys, "explain", asked)
    assert code == 0 and f"{path} (a field of the rig file)" in out


def test_a_field_tells_unit_bounds_and_default(capsys: Capture) -> None:
    _, out, _ = run(capsys, "explain", "boat.displacement")
    assert "mass with its unit" in out and "The file must give it." in out and "kg, g, t, lb or oz" in out
    _, out, _ = run(capsys, "explain", "limits.yield_factor")
    assert "Default: 1.1" in out and "EN 1999-1-1" in out
    _, out, _ = run(capsys, "explain", "case[].apparent_wind_angle")
    assert "at least 10 deg; at most 90 deg" in out


def test_every_field_can_be_asked_for(capsys: Capture) -> None:
    for path, field in all_fields().items():
        code, out, err = run(capsys, "explain", path)
        assert (code, err) == (0, ""), path
        assert " ".join(field.help.split()) in " ".join(out.split())
        assert max(map(len, out.splitlines())) <= 100, path


@pytest.mark.parametrize("word", TERMS)
def test_a_word_of_the_answer(word: str, capsys: Capture) -> None:
    code, out, _ = run(capsys, "explain", word)
    assert code == 0 and " ".join(TERMS[word].split()) in " ".join(out.split())


def test_names_that_a_field_may_be_given_are_explained(capsys: Capture) -> None:
    code, out, _ = run(capsys, "explain", "heel-limited")
    assert code == 0 and "A choice of case[].kind." in out


@pytest.mark.parametrize(
    ("word", "near"),
    [
        ("yeild", "yield"),
        ("tip-deflexion", "tip-deflection"),
        ("mast.burry", "mast.bury"),
        ("utilization", "utilisation"),
        ("displacment", "boat.displacement"),
        ("wall", "mast.stations[].wall"),
        ("mast.stations[].wal", "mast.stations[].wall"),
        ("heel-limitted", "heel-limited"),
        ("xyzzy", "`rigcalc explain` lists all checks"),
        ("", "`rigcalc explain` lists all checks"),
    ],
)
def test_an_unknown_word_names_the_nearest(word: str, near: str, capsys: Capture) -> None:
    code, out, err = run(capsys, "explain", word)
    assert (code, out) == (2, "") and near in err and "Traceback" not in err


# ---------------------------------------------------------------- for one rig


def test_with_a_file_the_numbers_are_those_of_its_check(capsys: Capture) -> None:
    file = str(HOME / "examples" / "trailer_sailer_4m6.toml")
    result = check(load_rig(file))
    governing = max((c for c in result.checks if c.id == "yield"), key=lambda c: c.utilisation)
    code, out, _ = run(capsys, "explain", "yield", file)
    assert code == 0 and max(map(len, out.splitlines())) <= 100
    assert f"at z = {governing.height_m:.2f} m of the tube in '{governing.case}'" in " ".join(out.split())
    assert f"used {governing.utilisation:.2f}" in out and "Worked where it governs" in out
    _, out, _ = run(capsys, "explain", "yield", file, "--json")
    (here,) = json.loads(out)["here"]
    assert here["checks"][0]["demand"] == governing.demand
    assert here["checks"][0]["capacity"] == governing.capacity
    assert len(here["checks"]) == sum(c.id == "yield" for c in result.checks)
    assert here["worked"][-1].startswith("f_d = f / gamma = ")


def test_with_a_file_that_fails_it_gives_the_cure_and_exits_1(tmp_path: Path, capsys: Capture) -> None:
    file = tmp_path / "weak.toml"
    file.write_text(loaded(GOOD, 6), encoding="utf-8")
    worst = max((c for c in check(load_rig(file)).checks if c.id == "yield"), key=lambda c: c.utilisation)
    code, out, _ = run(capsys, "explain", "yield", str(file))
    assert code == 1 and "FAILS" in out
    assert " ".join(f"Cure: {worst.advice}.".split()) in " ".join(out.split())


def test_with_a_file_of_another_material_it_says_so(capsys: Capture) -> None:
    code, out, _ = run(capsys, "explain", "interlaminar", str(HOME / "examples" / "trailer_sailer_4m6.toml"))
    assert code == 0 and "has no such check" in out


def test_with_a_file_only_its_own_material_is_told(capsys: Capture) -> None:
    _, out, _ = run(capsys, "explain", "flattening", str(HOME / "examples" / "glass_tube_5m.toml"))
    assert "flattening (laminate)" in out and "flattening (metal)" not in out


def test_a_field_with_a_file_tells_what_stands_there(capsys: Capture) -> None:
    file = str(HOME / "examples" / "trailer_sailer_4m6.toml")
    _, out, _ = run(capsys, "explain", "mast.stations[].wall", file)
    assert "mast.stations[0].wall = 5.74 mm" in " ".join(out.split())
    _, out, _ = run(capsys, "explain", "limits.yield_factor", file)
    assert "limits.yield_factor = 1.1 (the default)" in " ".join(out.split())


def test_a_missing_file_is_told(capsys: Capture) -> None:
    code, _, err = run(capsys, "explain", "yield", "nowhere.toml")
    assert code == 2 and "nowhere.toml" in err
