"""`compare` sets side by side what `size` finds and `check` says, and tells no more than that."""

from __future__ import annotations

import csv
import io
import json
import os
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from rigcalc import check
from rigcalc.cli import main
from rigcalc.design import compare as module
from rigcalc.design.compare import AS_IT_IS, Compared, Comparison, compare, materials_of
from rigcalc.design.sizing import NoSize, Sized, size_all
from rigcalc.errors import RigInputError
from rigcalc.reports.compare import compare_csv, compare_json, compare_screen
from rigcalc.rig import Rig, Sizing
from rigcalc.rigfile import load_rig, read_rig
from rigcalc.verdict import CAUTIONS, build_sections

EXAMPLES = Path(__file__).parents[2] / "examples"
LOADS = (EXAMPLES / "given_loads.toml").read_text(encoding="utf-8")
METAL, WOOD, GLASS = "6061-T6 extruded", "Sitka spruce (US)", "E-glass/epoxy UD 0.45"
BOTH = f"{WOOD} + {GLASS}"
PLAIN = (METAL, WOOD, GLASS, BOTH)
PRICES = f"""
[size]
diameter_step = "4 mm"
[[size.price]]
material = "{METAL}"
per_kg = 12.5
[[size.price]]
material = "{GLASS}"
per_kg = 20
"""
SLIM = '\n[size]\nlargest_diameter = "50 mm"\n'


@pytest.fixture(scope="module")
def rig() -> Rig:
    return read_rig(LOADS + PRICES)


@pytest.fixture(scope="module")
def found(rig: Rig) -> tuple[Sized | NoSize, ...]:
    return size_all(rig, PLAIN)


@pytest.fixture
def comparison(rig: Rig, found: tuple[Sized | NoSize, ...], monkeypatch: pytest.MonkeyPatch) -> Comparison:
    """Masts sized once, set side by side for every test."""
    monkeypatch.setattr(module, "size_all", lambda *_, **__: found)
    return compare(rig, materials=PLAIN)


def test_every_row_is_what_check_says(
    rig: Rig, found: tuple[Sized | NoSize, ...], comparison: Comparison
) -> None:
    assert [row.material for row in comparison.masts] == ["check alloy", *PLAIN]
    constructions = [AS_IT_IS, "tubes", "staves", "laminate", "staves"]
    assert [row.construction for row in comparison.masts] == constructions
    sized = [one for one in found if isinstance(one, Sized)]
    assert len(sized) == len(PLAIN)
    for row, its in zip(comparison.masts, [rig, *(one.rig for one in sized)], strict=True):
        result = check(its)
        worst = max(result.checks, key=lambda c: c.utilisation)
        assert row.passed and result.passed
        assert (row.used, row.governing, row.governing_case) == (worst.utilisation, worst.id, worst.case)
        assert (row.mass_kg, row.centre_m) == (result.mast.mass_kg, result.mast.centre_of_gravity_m)
        assert row.frequency_Hz == min(result.mast.natural_frequencies_Hz)
        assert row.partners_N == max(
            max(c.partners_force_N, c.bent_partners_force_N or 0.0) for c in result.cases
        )
        assert row.step_N == max(max(c.step_force_N, c.bent_step_force_N or 0.0) for c in result.cases)
        bent = [c.tip_deflection_large_m for c in result.cases if c.tip_deflection_large_m is not None]
        assert row.tip_m == max([c.tip_deflection_m for c in result.cases] + bent)
        assert row.moment_30_loss_N_m == result.mast.stability_cost.moment_30_loss_N_m
        assert row.ballast_kg == result.mast.stability_cost.ballast_kg
        assert row.furling_m_s is None
        stations = result.stations
        assert row.widest_m == stations.diameter_m.max()
        at = int(np.searchsorted(stations.height_m, its.mast.bury_m, side="right"))
        assert row.wall_m == pytest.approx(stations.wall_m[at], rel=0.02)
        tube = build_sections(its).layers[0]
        assert row.density_kg_m3 == pytest.approx(float(np.ravel(tube.elastic.density_kg_m3)[0]), rel=0.05)
    own = comparison.masts[0]
    assert (own.wall_m, own.widest_m, own.E_Pa, own.density_kg_m3) == pytest.approx(
        (0.004, 0.11, 70e9, 2700.0)
    )
    assert own.sizes == "" and own.price is None


def test_prices(rig: Rig, comparison: Comparison) -> None:
    own, metal, wood, glass, both = comparison.masts
    fittings = rig.mast.fittings_mass_kg
    assert metal.price == pytest.approx(12.5 * (metal.mass_kg - fittings))
    assert glass.price == pytest.approx(20 * (glass.mass_kg - fittings))
    assert own.price is wood.price is both.price is None


def test_cloth_is_no_piece(comparison: Comparison) -> None:
    _, metal, wood, glass, _ = comparison.masts
    assert metal.longest_piece_m is not None and metal.longest_piece_m >= 7.5
    assert wood.longest_piece_m is not None and wood.longest_piece_m >= 7.5
    assert glass.longest_piece_m is None
    assert glass.bought_kg is not None and glass.bought_kg > glass.mass_kg


def test_the_sentences_are_true(comparison: Comparison) -> None:
    own, first, *others = comparison.masts
    assert own.said == (
        f"The mast of the file, of check alloy: {own.governing} in 'given' holds it, used {own.used:.2f}."
    )
    assert f"comes to {first.mass_kg:.1f} kg" in first.said
    heavier = 0
    for row in others:
        text = row.said
        told = re.search(r"is (\d+)% (heavier|lighter) than 6061-T6 extruded", text)
        assert told, text
        assert (told[2] == "heavier") == (row.mass_kg > first.mass_kg)
        assert int(told[1]) == pytest.approx(100 * abs(row.mass_kg / first.mass_kg - 1), abs=0.51)
        assert f"{row.widest_m * 1e3:.0f} mm wide for {first.widest_m * 1e3:.0f}" in text
        assert f"{row.governing} in '{row.governing_case}' holds it, used {row.used:.2f}" in text
        times = re.search(r"its tip goes (?:([\d.]+) times )?as far\.$", text)
        assert times, text
        assert float(times[1] or 1.0) == pytest.approx(row.tip_m / first.tip_m, abs=0.0501)
        assert f"(E {row.E_Pa / 1e9:.0f} GPa along the mast at {row.density_kg_m3:.0f} kg/m3)" in text
        heavier += told[2] == "heavier"
    assert 0 < heavier < len(others)


def test_csv_json_and_text_agree(comparison: Comparison) -> None:
    document = json.loads(compare_json(comparison))
    names = list(Compared.__dataclass_fields__)
    text = compare_csv(comparison)
    comments = [line for line in text.splitlines() if line.startswith("#")]
    assert [line.removeprefix("# ") for line in comments][: len(CAUTIONS)] == list(CAUTIONS)
    rows = list(csv.DictReader(io.StringIO("".join(text.splitlines(keepends=True)[len(comments) :]))))
    assert list(rows[0]) == names
    assert document["finished"] is True and document["none"] == []
    assert document["cautions"][: len(CAUTIONS)] == list(CAUTIONS)
    for row, plain, mast in zip(rows, document["masts"], comparison.masts, strict=True):
        assert plain == vars(mast)
        assert row == {name: "" if value is None else str(value) for name, value in vars(mast).items()}
    screen = compare_screen(comparison)
    shown = {
        "mass, with fittings": ("mass_kg", 1.0, 1),
        "widest": ("widest_m", 1e3, 0),
        "wall at the partners": ("wall_m", 1e3, 1),
        "tip deflection": ("tip_m", 1.0, 2),
        "used at the most": ("used", 1.0, 3),
        "material at your prices": ("price", 1.0, 2),
        "longest length to buy": ("longest_piece_m", 1.0, 2),
    }
    for label, (name, factor, digits) in shown.items():
        line = next(line for line in screen.splitlines() if line.startswith(label))
        values = [getattr(mast, name) for mast in comparison.masts]
        assert line.split()[-5:] == ["-" if v is None else f"{v * factor:.{digits}f}" for v in values]
    assert "wind to furl in" not in screen
    flat = " ".join(screen.split())
    for caution in CAUTIONS:
        assert " ".join(caution.split()) in flat


def test_us_units_are_the_same_masts(comparison: Comparison) -> None:
    screen = compare_screen(comparison, shown_in="us")
    mass = next(line for line in screen.splitlines() if line.startswith("mass, with fittings")).split()
    assert mass[3] == "lb"
    assert [float(m) for m in mass[4:]] == pytest.approx(
        [row.mass_kg / 0.45359237 for row in comparison.masts], abs=0.051
    )
    widest = next(line for line in screen.splitlines() if line.startswith("widest")).split()
    assert widest[1] == "in"
    assert [float(m) for m in widest[2:]] == pytest.approx(
        [row.widest_m / 0.0254 for row in comparison.masts], abs=0.0051
    )


def test_sentences_in_us_units_say_the_same(comparison: Comparison) -> None:
    text = " ".join(compare_screen(comparison, shown_in="us").split())
    for row in comparison.masts[1:]:
        # the modulus and density of each, in the units of its sentence
        assert f"E {row.E_Pa / 6894757.293:.0f} ksi along the mast" in text
        assert f"at {row.density_kg_m3 / 16.01846:.0f} lb/ft3" in text
    for row in comparison.masts[2:]:
        assert f"{row.widest_m / 0.0254:.2f} in wide for {comparison.masts[1].widest_m / 0.0254:.2f}" in text
    assert not re.search(r"GPa|kg/m3|\d kg| wide for \d+;", text)


def test_one_process_or_several(rig: Rig, monkeypatch: pytest.MonkeyPatch) -> None:
    asked = ("6061-T6 drawn", METAL)
    monkeypatch.setattr(os, "cpu_count", lambda: 1)
    rows = compare(rig, materials=asked).masts
    assert [row.material for row in rows] == ["check alloy", *asked]
    monkeypatch.setattr(os, "cpu_count", lambda: 3)
    assert compare(rig, materials=asked).masts == rows
    # the other way round it is other rows, of the same masts
    turned = compare(rig, materials=asked[::-1]).masts
    assert [row.material for row in turned] == ["check alloy", *asked[::-1]]
    assert {row.material: row.mass_kg for row in turned} == {row.material: row.mass_kg for row in rows}


def test_of_equal_masts_none_is_lighter(rig: Rig) -> None:
    _, first, second = compare(rig, materials=(METAL, METAL)).masts
    assert first.mass_kg == second.mass_kg
    assert f"is as heavy as {METAL}" in second.said and "lighter" not in second.said


def test_what_is_compared_where_nothing_is_named() -> None:
    for name, own, family in (
        ("given_loads", "check alloy", METAL),
        ("glass_tube_5m", "glass tube", GLASS),
        ("stave_mast_6m", load_rig(EXAMPLES / "stave_mast_6m.toml").mast.material, WOOD),
    ):
        names = materials_of(replace(load_rig(EXAMPLES / f"{name}.toml"), sizing=None))
        assert own in names and len(set(names)) == len(names) == 5
        assert family not in names or family == own
        assert BOTH in names
    named = replace(load_rig(EXAMPLES / "given_loads.toml"), sizing=Sizing(materials=(WOOD, METAL)))
    assert materials_of(named) == (WOOD, METAL)


def test_a_laminate_of_the_file_and_carbon() -> None:
    # a mast of the file that is itself laid up, and fails nothing for being compared
    rig = load_rig(EXAMPLES / "glass_tube_5m.toml")
    rig = replace(rig, cases=tuple(case for case in rig.cases if case.kind == "heel-limited"))
    rows = compare(rig, materials=(METAL,)).masts
    assert rows[0].material == "glass tube" and rows[0].longest_piece_m is None
    assert rows[0].bought_kg is not None and rows[0].bought_kg > rows[0].mass_kg
    own = check(rig)
    assert rows[0].used == own.governing.utilisation and rows[0].mass_kg == own.mast.mass_kg


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = main(["compare", *words])
    captured = capsys.readouterr()
    return code, captured.out, captured.err


def written(tmp_path: Path, text: str) -> str:
    file = tmp_path / "rig.toml"
    file.write_text(text, encoding="utf-8")
    return str(file)


def test_materials_without_a_mast(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = written(tmp_path, LOADS + SLIM)
    code, text, _ = run(capsys, file, "--material", METAL)
    assert code == 3
    other, plain, _ = run(capsys, file, "--material", METAL, "--json")
    document: dict[str, Any] = json.loads(plain)
    assert other == 3
    assert [mast["material"] for mast in document["masts"]] == ["check alloy"]
    assert [none["material"] for none in document["none"]] == [METAL]
    none = document["none"][0]
    assert none["found"] is False
    assert f"No mast of {METAL} passes: {' '.join(none['why'].split())}." in " ".join(text.split())
    third, table, _ = run(capsys, file, "--material", METAL, "--csv")
    assert third == 3
    assert len([line for line in table.splitlines() if not line.startswith("#")]) == 2


def test_a_mast_of_the_file_that_fails_is_said_to(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = written(tmp_path, LOADS.replace('side = "100 N"', 'side = "700 N"'))
    assert not check(load_rig(file)).passed
    code, text, _ = run(capsys, file, "--material", METAL)
    assert code == 0
    lines = text.splitlines()
    assert any(line.startswith("A  check alloy, as the file has it FAILS") for line in lines)
    assert not any(line.startswith("B") and "FAILS" in line for line in lines)


def test_words_and_exit_codes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = written(tmp_path, LOADS)
    assert run(capsys, file, "--material", METAL)[0] == 0
    with pytest.raises(RigInputError):
        compare(load_rig(file), materials=("mithril",))
    code, out, error = run(capsys, file, "--material", "mithril")
    assert (code, out) == (2, "") and "mithril" in error and "Traceback" not in error
