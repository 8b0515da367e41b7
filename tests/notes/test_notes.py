"""What the notes say of the code is there, and what is generated is up to date."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import numpy as np
import pytest

import rigcalc
from rigcalc import CheckResult, check, read_rig
from rigcalc.rig import Case, Limits, dynamic_factor_of

from ..test_loads import case_text, run
from . import formulas, signs, values
from .marks import MARKS, mark_of

ROOT = Path(__file__).parents[2]
NOTES = ROOT / "reference_notes"
WRITTEN = sorted(set(NOTES.glob("*.md")) - {values.FILE, formulas.FILE, NOTES / "validation.md"})
PACKAGE = Path(rigcalc.__file__).parent
each_note = pytest.mark.parametrize("note", WRITTEN, ids=lambda note: note.stem)


@pytest.mark.parametrize(
    ("file", "text"),
    [(values.FILE, values.chapter), (formulas.FILE, formulas.chapter), (signs.FILE, signs.figure)],
    ids=["values", "formulas", "signs"],
)
def test_what_is_generated_is_up_to_date(file: Path, text: object) -> None:
    # python -m tests.notes.values, .formulas and .signs write them anew
    assert callable(text)
    assert file.read_text(encoding="utf-8") == text()


def test_every_subject_of_formulas_is_listed() -> None:
    assert {one.subject for one in formulas.all_formulas()} == set(formulas.ORDER)


@pytest.mark.parametrize(
    ("source", "mark"),
    [
        ("Wood Handbook, read in a copy", "read"),
        ("judgement: half of it; the rest from memory", "judgement"),
        ("common practice, from memory", "practice"),
        ("plates, derived; the limit is from memory", "derived"),
        ("moments about the heel", "plain"),
    ],
)
def test_the_first_mark_counts(source: str, mark: str) -> None:
    assert mark in MARKS
    assert mark_of(source) == mark


@pytest.mark.parametrize("note", [*WRITTEN, ROOT / "README.md"], ids=lambda note: note.stem)
def test_links_lead_somewhere(note: Path) -> None:
    for target in re.findall(r"\]\(([^)#]+)[^)]*\)", note.read_text(encoding="utf-8")):
        if "://" not in target:
            assert (note.parent / target).exists(), target


@each_note
def test_modules_named_are_there(note: Path) -> None:
    for path in re.findall(r"`((?:[a-z_]+/)+(?:[a-z_]+\.[a-z]+)?)`", note.read_text(encoding="utf-8")):
        assert any((base / path).exists() for base in (PACKAGE, ROOT, NOTES)), path


@each_note
def test_no_note_is_too_long(note: Path) -> None:
    assert len(note.read_text(encoding="utf-8").splitlines()) <= 600


def test_every_note_is_in_the_index() -> None:
    index = (NOTES / "README.md").read_text(encoding="utf-8")
    for note in NOTES.glob("*.md"):
        assert note.name == "README.md" or f"({note.name})" in index, note.name


@cache
def results() -> tuple[CheckResult, ...]:
    return tuple(
        check(read_rig(path.read_text(encoding="utf-8"))) for path in sorted(ROOT.glob("examples/*.toml"))
    )


def test_every_check_of_the_examples_is_explained() -> None:
    said = "".join(note.read_text(encoding="utf-8") for note in WRITTEN)
    ids = {re.sub(r" \d+$", "", one.id) for result in results() for one in result.checks}
    assert len(ids) > 30
    for id in ids:
        # a criterion of plies stands for them all; one row has crushing at both bearings
        name = {"crushing-step": "crushing-partners, -step"}.get(
            id, id.split(" ")[0] if id.startswith("ply ") else id
        )
        assert name in said, id


def test_factors_of_the_table_are_those_of_the_code() -> None:
    limits, said = Limits(), (NOTES / "method.md").read_text(encoding="utf-8")
    for kind, factor, words in (
        ("heel-limited", 1.5, "metal, heel-limited | 1.5 | 1.10 on proof | 1.65"),
        ("wind-limited", 1.4, "in a stated wind | 1.4 | 1.10 | 1.54: 0.65"),
        ("bare", 1.15, "on the bare mast | 1.15 | 1.10 | 1.27: 0.79"),
    ):
        assert dynamic_factor_of(Case(name="a", kind=kind)) == factor
        assert words in said
        together = factor * limits.yield_factor
        assert f"{together + 1e-9:.2f}" in words
        if ":" in words:
            assert f"{1 / together:.2f}" in words.split(":")[1]


def test_signs_are_those_of_the_figure() -> None:
    """An even load to leeward: reactions, shear and moment as the figure has them."""
    load = case_text("given", 'line_load = [["0.5 m", "100 N/m"], ["6 m", "100 N/m"]]', 'axial = "200 N"')
    found = run(load, stations=((0.0, 0.09, 0.004), (6.0, 0.09, 0.004)), bury_m=0.5)
    case, stations = found.cases[0], found.stations
    assert stations is not None
    z, shear, moment = (
        np.asarray(of) for of in (stations.height_m, stations.shear_side_N[0], stations.moment_side_N_m[0])
    )
    assert case.partners_side_N < 0 < case.step_side_N
    assert case.step_thrust_N == pytest.approx(200.0)
    above, bury = z > 0.5 + 1e-9, z < 0.5 - 1e-9
    assert np.all(shear[above & (z < 5.99)] > 0)
    assert shear[bury] == pytest.approx(-case.partners_moment_N_m / 0.5, rel=1e-9)
    assert np.all(moment >= -1e-6)
    assert z[int(np.argmax(moment))] == pytest.approx(0.5)
    assert moment[0] == pytest.approx(0.0, abs=1e-6)
    assert np.all(np.asarray(stations.deflection_side_m[0])[above] > 0)
