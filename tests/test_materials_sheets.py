"""`rigcalc materials`: every value of every row is printed with its unit, its mark and its source."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from rigcalc.cli import main
from rigcalc.materials import Detail, MaterialError, Metal, fatigue_details, metals
from rigcalc.materials.laminates import (
    Fibre,
    PlyMaterial,
    Resin,
    fibres,
    ply_materials,
    resins,
    ultimate_strain,
)
from rigcalc.materials.names import KINDS, table_names
from rigcalc.materials.timber import (
    STIFFNESSES,
    STRENGTHS,
    Average,
    ClearWood,
    StrengthClass,
    TimberRow,
    clear_woods,
    strength_classes,
    timber_of_rig,
)
from rigcalc.reports.materials import material_list, material_sheet, own_sheets
from rigcalc.reports.materials.lines import MARKS, share
from rigcalc.rig import Limits, TimberUse
from rigcalc.rigfile import read_rig

from .rigfile import GOOD, VARIANTS, edited
from .rigfile.own import OWN, own_text

Row = Metal | ClearWood | StrengthClass | PlyMaterial | Fibre | Resin
METAL_ROWS = metals()
OTHERS: tuple[Row, ...] = (*clear_woods(), *strength_classes(), *ply_materials(), *fibres(), *resins())
EVERY: tuple[Row, ...] = (*METAL_ROWS, *OTHERS)

Capture = pytest.CaptureFixture[str]


def flat(text: str) -> str:
    """Return a text without its line breaks, and without the hyphens at which a line may break."""
    return " ".join(text.split()).replace("- ", "-")


def amounts(row: Row) -> Iterator[tuple[str, float]]:
    """Yield name and value, as a sheet prints it, of everything that a row holds in numbers."""
    for name, value in vars(row).items():
        if isinstance(value, Average):
            pairs: list[tuple[str, Any]] = [(name, value.green_Pa), (name, value.dry_Pa)]
        else:
            pairs = [(name, value)]
        for one, number in pairs:
            if number is None or isinstance(number, str | bool | tuple):
                continue
            yield one, float(number)


AVERAGES = ("bending", "compression", "compression_perp", "shear", "tension_perp", "modulus")


def scales(name: str) -> tuple[float, ...]:
    """Return what the value of a field may be divided by for print."""
    if name.endswith("_Pa") or name in (
        "bending",
        "compression",
        "compression_perp",
        "shear",
        "tension_perp",
        "modulus",
    ):
        return (1e6, 1e9)
    if name.startswith("wall"):
        return (1e-3,)
    if name == "thermal_expansion_per_K":
        return (1e-6,)
    if name.startswith("strain") or name in (
        "ultimate_strain",
        "elongation",
        "fibre_fraction",
        "green_limit",
    ):
        return (1e-2,)
    return (1.0,)


@pytest.mark.parametrize("row", EVERY, ids=lambda row: row.name)
def test_every_value_is_printed(row: Row) -> None:
    sheet = material_sheet(row.name)
    numbers = {float(text) for text in re.findall(r"(?<![\w.])\d+(?:\.\d+)?", sheet)}
    seen = 0
    for name, value in amounts(row):
        if name.startswith("wall") and not value:
            continue  # no limit
        shown = {float(f"{value / scale:.{digits}g}") for scale in scales(name) for digits in (4, 6)}
        assert any(math.isclose(a, b, rel_tol=1e-9) for a in shown for b in numbers), (name, value)
        seen += 1
    assert seen > 3


@pytest.mark.parametrize("row", EVERY, ids=lambda row: row.name)
def test_every_row_is_printed_with_its_mark_and_source(row: Row) -> None:
    sheet = flat(material_sheet(row.name))
    assert flat(row.source) in sheet
    assert flat(row.note) in sheet
    if isinstance(row, Metal):
        assert f"strengths: {MARKS[row.strength_provenance]}; {flat(row.source)}" in sheet
        assert f"elastic: {MARKS[row.elastic_provenance]}; {flat(row.elastic_source)}" in sheet
    else:
        assert f"values: {MARKS[row.provenance]}; {flat(row.source)}" in sheet
    if isinstance(row, ClearWood) and row.elastic_provenance is not None:
        assert f"({MARKS[row.elastic_provenance]}; {row.elastic_source})" in sheet
        assert row.botanical_name in sheet


@pytest.mark.parametrize("row", EVERY, ids=lambda row: row.name)
def test_every_row_stands_in_the_list_with_its_mark(row: Row) -> None:
    mark = MARKS[row.strength_provenance if isinstance(row, Metal) else row.provenance]
    lines = [line for line in material_list().splitlines() if line.startswith(f"{row.name}  ")]
    assert lines
    assert any(re.search(rf"  {mark}(; typical, refused for sizing)?$", line) for line in lines)


def test_the_list_goes_by_family_and_says_what_else_there_is() -> None:
    text = material_list()
    heads = ["Metals", "Timber by species", "Timber by strength class", "Plies", "Fibres", "Resins"]
    places = [text.index(f"\n{head}") if i else text.index(head) for i, head in enumerate(heads)]
    assert places == sorted(places)
    listed = [line.split("  ")[0] for line in text.splitlines()]
    for kind in KINDS:
        for name in table_names(kind):
            assert name in listed
    assert "`rigcalc materials NAME`" in text
    assert max(map(len, text.splitlines())) <= 110
    assert "nan" not in text and "None" not in text


@pytest.mark.parametrize("name", [name for kind in KINDS for name in table_names(kind)])
def test_a_sheet_is_fit_to_print(name: str) -> None:
    sheet = material_sheet(name)
    assert sheet.startswith(f"{name}\n\n") and sheet.endswith("\n") and not sheet.endswith("\n\n")
    assert max(map(len, sheet.splitlines())) <= 110
    assert not re.search(r"\bnan\b|\binf\b|None", sheet)
    assert all(line == line.rstrip() for line in sheet.splitlines())


# --- what is allowed beside the strength ---


@pytest.mark.parametrize("row", METAL_ROWS, ids=lambda m: f"{m.name} {m.wall_over_m}")
def test_allowed_stress_of_metals_stands_beside_the_strength(row: Metal) -> None:
    limits, sheet = Limits(), material_sheet(row.name)
    for value, factor, gamma in (
        (row.proof_Pa, "yield_factor", limits.yield_factor),
        (row.ultimate_Pa, "rupture_factor", limits.rupture_factor),
        (row.haz_proof_Pa, "yield_factor", limits.yield_factor),
    ):
        if value is not None:
            said = f"{value / 1e6:.4g} MPa  / {gamma:.2f} ({factor}) = {value / gamma / 1e6:5.1f} MPa allowed"
            assert said in sheet
    assert ("refused for sizing" in sheet) == (not row.design_use)


def chain_blocks(sheet: str) -> dict[str, tuple[float, list[float], float]]:
    """Return heading -> start, factors and result of every chain that a sheet shows."""
    text = sheet[sheet.index("Factor by factor") :]
    found = {}
    for block in re.findall(
        r"^  (\S.*?): ([\d.]+) [MG]Pa,.*?\n((?:      .*\n|    x .*\n)*)    = ([\d.]+) [MG]Pa", text, re.M
    ):
        factors = [float(f) for f in re.findall(r"^    x ([\d.]+)", block[2], re.M)]
        found[block[0]] = (float(block[1]), factors, float(block[3]))
    return found


@pytest.mark.parametrize("row", [*clear_woods(), *strength_classes()], ids=lambda row: row.name)
def test_chains_of_timber_multiply_out_to_what_is_allowed(row: TimberRow) -> None:
    sheet = material_sheet(row.name)
    blocks = chain_blocks(sheet)
    assert len(blocks) == len(STRENGTHS) + len(STIFFNESSES)
    for name, (start, factors, allowed) in blocks.items():
        # to the digits of the print: three of each factor, and there are up to nine
        assert allowed == pytest.approx(start * math.prod(factors), rel=0.006), name
    timber = timber_of_rig(
        row.name, TimberUse(), shape="round", solid=True, depth_m=0.080, length_m=6.5, bury_m=0.7
    )
    for of, label in (("bending", "bending"), ("shear", "shear along the grain"), ("G", "shear modulus")):
        value = timber.value_Pa(of)  # type: ignore[arg-type]  # one of its properties
        assert blocks[label][2] == pytest.approx(value / (1e9 if of == "G" else 1e6), rel=1e-3)


@pytest.mark.parametrize("row", [*clear_woods(), *strength_classes()], ids=lambda row: row.name)
def test_every_factor_and_source_of_timber_is_told(row: TimberRow) -> None:
    sheet = flat(material_sheet(row.name))
    timber = timber_of_rig(
        row.name, TimberUse(), shape="round", solid=True, depth_m=0.080, length_m=6.5, bury_m=0.7
    )
    for chain in timber.chains:
        assert flat(chain.start_name) in sheet
        for source in (chain.source, *(f.source for f in chain.factors)):
            assert flat(source) in sheet
        for factor in chain.factors:
            assert flat(f"{share(factor.value)} {factor.name} ({MARKS[factor.provenance]})") in sheet
    for caution in timber.cautions:
        assert flat(caution) in sheet
    assert timber.from_memory
    assert "80 mm" in sheet and "defaults of [timber]" in sheet


@pytest.mark.parametrize("detail", fatigue_details(), ids=lambda d: d.name)
def test_a_fatigue_detail_is_listed_and_shown_with_its_source(detail: Detail) -> None:
    sheet = flat(material_sheet(detail.name))
    assert f"values: {MARKS[detail.provenance]}; {flat(detail.source)}" in sheet
    assert flat(detail.note) in sheet and detail.what in sheet and f"slope {detail.slope:g}" in sheet
    allowed = detail.category_Pa / 1.35 / 1e6
    assert f"{detail.category_Pa / 1e6:g} MPa / 1.35 (factor) = {allowed:.1f} MPa allowed" in sheet
    assert re.search(rf"^{detail.name}  .* {MARKS[detail.provenance]}  {detail.what}$", material_list(), re.M)


def test_sources_are_numbered_once_each_and_all_of_them_used() -> None:
    for name in ("Sitka spruce (US)", "C24", "E-glass/epoxy UD 0.55"):
        text = material_sheet(name)
        told, listed = text.split("\nSources\n")
        numbers = [int(n) for n in re.findall(r"^  \[(\d+)\]", listed, re.M)]
        assert numbers == list(range(1, len(numbers) + 1))
        assert {int(n) for n in re.findall(r"\[(\d+)\]", told)} == set(numbers)


def test_what_a_species_lacks_is_told_as_an_estimate() -> None:
    sheet = flat(material_sheet("Norway spruce"))
    assert "mean shear strength along the grain, clear wood at 12 % moisture: an estimate (derived)" in sheet
    assert "not in its table; estimated by the lowest ratio" in sheet
    assert re.search(r"^  shear along the grain +- +- +MPa$", material_sheet("Norway spruce"), re.M)


@pytest.mark.parametrize("ply", ply_materials(), ids=lambda ply: ply.name)
def test_what_is_left_of_a_ply_stands_beside_its_strength(ply: PlyMaterial) -> None:
    sheet = material_sheet(ply.name)
    water = 0.8 if "epoxy" in ply.name else 0.7
    repeated, standing, safety = 100 ** (-1 / 10), 0.2, 1.5
    for label, strength, strain, wet in (
        ("pulled along 1, Xt", "Xt_Pa", "strain_1t", 1.0),
        ("pressed along 1, Xc", "Xc_Pa", "strain_1c", water),
        ("pulled across, Yt", "Yt_Pa", "strain_2t", water),
        ("pressed across, Yc", "Yc_Pa", "strain_2c", water),
        ("sheared, S12", "S12_Pa", "strain_12", water),
    ):
        (line,) = (line for line in sheet.splitlines() if line.strip().startswith(label))
        value, ultimate = getattr(ply, strength), ultimate_strain(ply, strain)
        words = line.replace(label, "").replace("(derived)", "").replace(" %", "").split()
        assert words[-1] == "MPa"
        for word, wanted in zip(
            words[:4],
            (
                value and value / 1e6,
                ultimate and ultimate * 100,
                value and value * wet * repeated / safety / 1e6,
                value and value * wet * standing / safety / 1e6,
            ),
            strict=True,
        ):
            if wanted is None:
                assert word == "-"
            else:
                assert float(word) == pytest.approx(wanted, rel=1e-3)
        assert ("(derived)" in line) == (ultimate is not None and getattr(ply, strain) is None)
    for part in ("x 0.631  repetition", "x 0.200  time", "/ 1.500  safety_factor", f"x {water:.3f}  water"):
        assert part in sheet
    assert "typical ones, not minima" in flat(sheet)


def test_a_resin_tells_how_far_its_laminate_may_be_strained() -> None:
    assert "may be strained by 0.2 %" in flat(material_sheet("polyester"))
    assert "may be strained" not in material_sheet("vinylester")


def test_fibres_and_resins_say_what_they_are_good_for() -> None:
    for name in ("E-glass", "vinylester"):
        assert "plies in a [[laminate]] are made of a fibre and a resin" in flat(material_sheet(name))


# --- the user's own ---

MINE = read_rig(edited(*VARIANTS["own materials"])).materials


def test_own_materials_are_shown_with_their_source() -> None:
    text = own_sheets(MINE)
    for name in OWN:
        assert f"{name}\n\n" in text
    # of a metal strengths and elastic constants, of a species averages and ratios: one line each
    assert flat(text).count("read; sheet of the maker") == len(OWN) + 2
    assert "read; certificate of the mill" in text
    assert "expansion not given" in text
    assert not re.search(r"\bnan\b|None", text)


@pytest.mark.parametrize("name", OWN)
def test_every_value_of_an_own_material_is_printed(name: str) -> None:
    sheet = material_sheet(name, MINE)
    numbers = {float(text) for text in re.findall(r"(?<![\w.])\d+(?:\.\d+)?", sheet)}
    (material,) = (m for m in MINE if m.name == name)
    for field, value in vars(material).items():
        if not isinstance(value, float) or (field == "nu" and material.family != "metal"):
            continue
        if field == "green_limit" and material.basis != "clear-wood":
            continue
        if field == "safety_factor" and material.family != "foam":
            continue
        if field == "G_Pa" and material.basis == "clear-wood":
            value = value / (material.E_Pa or 1.0) / 1.1  # as a ratio to E free of shear
            assert any(math.isclose(value, number, rel_tol=1e-4) for number in numbers)
            continue
        shown = {float(f"{value / scale:.4g}") for scale in scales(field)}
        assert any(math.isclose(a, b, rel_tol=1e-9) for a in shown for b in numbers), (field, value)


def test_what_an_own_grade_lacks_is_told_on_its_sheet() -> None:
    rig = read_rig(f"{GOOD}\n{own_text('own glulam', tension=None, tension_perp=None, E_low=None, G=None)}")
    sheet = flat(material_sheet("own glulam", rig.materials))
    for part in (
        "f_t,0,k: 0.5",
        "f_t,90,k: 0.1",
        "E_0,05: 0.66",
        "G_mean: E/16",
        "estimated on the safe side",
    ):
        assert part in sheet, part
    assert "f_t,0,k, tension along the grain 13.81 MPa, estimated" in sheet


def test_an_own_material_comes_before_one_of_the_tables() -> None:
    rig = read_rig(f"{GOOD}\n{own_text('own glulam', name='C24')}")
    assert "sheet of the maker" in material_sheet("C24", rig.materials)
    assert "sheet of the maker" not in material_sheet("C24")


# --- the command ---


def run(capsys: Capture, *words: str) -> tuple[int, str, str]:
    code = main(["materials", *words])
    said = capsys.readouterr()
    return code, said.out, said.err


@pytest.mark.parametrize(
    "name", ["Sitka spruce (US)", "C24", "E-glass/epoxy UD 0.55", "E-glass", "vinylester"]
)
def test_the_command_shows_a_material_of_every_family(capsys: Capture, name: str) -> None:
    assert run(capsys, name) == (0, material_sheet(name), "")


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("sitka", "Sitka spruce (US)"),
        ("c24 ", "C24"),
        ("E glass", "E-glass"),
        ("vinyl ester", "vinylester"),
        ("E-glass/epoxy UD", "E-glass/epoxy UD 0.45"),
        ("6061-T6 drwn", "6061-T6 drawn"),
    ],
)
def test_a_near_miss_is_answered_with_the_name_meant(capsys: Capture, typed: str, meant: str) -> None:
    code, out, err = run(capsys, typed)
    assert (code, out) == (2, "")
    assert "Did you mean" in err and f"'{meant}'" in err
    with pytest.raises(MaterialError):
        material_sheet(typed)


def test_the_command_shows_what_a_rig_file_has_of_its_own(capsys: Capture, tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    file.write_text(edited(*VARIANTS["own materials"]), encoding="utf-8")
    assert run(capsys, "--own", str(file)) == (0, own_sheets(MINE), "")
    assert run(capsys, "own ply", "--own", str(file)) == (0, material_sheet("own ply", MINE), "")
    assert run(capsys, "C24", "--own", str(file)) == (0, material_sheet("C24"), "")
    code, out, err = run(capsys, "own pli", "--own", str(file))
    assert (code, out) == (2, "") and "'own ply'" in err


def test_a_file_without_own_materials_is_told(capsys: Capture, tmp_path: Path) -> None:
    from rigcalc.rigfile import starter_text

    file = tmp_path / "plain.toml"
    file.write_text(starter_text(), encoding="utf-8")
    code, out, err = run(capsys, "--own", str(file))
    assert (code, out) == (2, "")
    assert f"{file}: there is no [[material]] in it" in err


def test_a_bad_or_missing_file_is_told(capsys: Capture, tmp_path: Path) -> None:
    file = tmp_path / "bad.toml"
    file.write_text(f"{GOOD}\n{own_text('own ply', E1=None)}", encoding="utf-8")
    code, out, err = run(capsys, "--own", str(file))
    assert (code, out) == (2, "")
    assert "material[1].E1" in err and "it is missing" in err
    code, out, err = run(capsys, "--own", str(tmp_path / "none.toml"))
    assert (code, out) == (2, "") and "none.toml" in err
