"""The tables of timber against their sources and against the patterns that hold within them.

Sources: Wood Handbook, FPL-GTR-282 (2021), Tables 5-3b, 5-4b, 5-5b and 5-13, read in copies; EN
338:2016 and EN 1995-1-1 as coded in public programs. Rows from memory are checked for their mark.
"""

from __future__ import annotations

import subprocess
import sys
from dataclasses import FrozenInstanceError, replace
from itertools import pairwise
from pathlib import Path

import pytest

from rigcalc.materials.metals import MaterialError
from rigcalc.materials.timber_tables import (
    Average,
    ClearWood,
    StrengthClass,
    TableFactor,
    clear_woods,
    factor_rows,
    find_clear_wood,
    find_strength_class,
    strength_classes,
    timber_factors,
)

PA_PER_PSI = 6894.757
HANDBOOK = [wood for wood in clear_woods() if "Wood Handbook" in wood.source]


def averages(wood: ClearWood) -> dict[str, Average]:
    names = ("bending", "modulus", "compression", "compression_perp", "shear", "tension_perp")
    return {name: getattr(wood, name) for name in names}


def test_tables_are_whole() -> None:
    assert (len(clear_woods()), len(HANDBOOK), len(strength_classes())) == (30, 27, 13)
    for rows in (clear_woods(), strength_classes()):
        assert len({row.name for row in rows}) == len(rows)
    keys = [(f.kind, f.property, f.key) for f in timber_factors()]
    assert len(set(keys)) == len(keys)


@pytest.mark.parametrize("row", [*clear_woods(), *strength_classes(), *timber_factors()], ids=repr)
def test_each_row_says_where_its_values_come_from(row: ClearWood | StrengthClass | TableFactor) -> None:
    assert len(row.source) > 10
    assert ("from memory" in row.source) == (row.provenance == "memory") or isinstance(row, TableFactor)
    if isinstance(row, TableFactor) and row.provenance == "memory":
        assert "from memory" in row.source
    assert "://" not in row.source + row.note


# --- species ---


@pytest.mark.parametrize("wood", clear_woods(), ids=lambda wood: wood.name)
def test_dry_wood_is_stronger_than_green(wood: ClearWood) -> None:
    for name, average in averages(wood).items():
        if average.green_Pa is not None and average.dry_Pa is not None and name != "tension_perp":
            assert 1.1 < average.dry_Pa / average.green_Pa < 2.6, name


@pytest.mark.parametrize("wood", clear_woods(), ids=lambda wood: wood.name)
def test_values_are_those_of_wood(wood: ClearWood) -> None:
    assert wood.bending.dry_Pa is not None
    assert wood.modulus.dry_Pa is not None
    assert wood.compression.dry_Pa is not None
    # a shifted column or a wrong unit falls outside
    assert 50e6 < wood.bending.dry_Pa < 110e6
    assert 7e9 < wood.modulus.dry_Pa < 14e9
    assert 0.4 < wood.compression.dry_Pa / wood.bending.dry_Pa < 0.7
    if wood.shear.dry_Pa is not None:
        assert 0.09 < wood.shear.dry_Pa / wood.bending.dry_Pa < 0.16
    if wood.compression_perp.dry_Pa is not None:
        assert 0.03 < wood.compression_perp.dry_Pa / wood.bending.dry_Pa < 0.09
    assert 0.21 <= wood.green_limit <= 0.28
    assert 350 < wood.density_kg_m3(0.12) < 770
    for ratio, low, high in (
        (wood.E_T_ratio, 0.03, 0.09),
        (wood.E_R_ratio, 0.05, 0.17),
        (wood.G_LR_ratio, 0.03, 0.13),
        (wood.G_LT_ratio, 0.03, 0.13),
    ):
        assert ratio is None or low < ratio < high
    assert (wood.elastic_provenance is None) == (wood.E_T_ratio is None)


@pytest.mark.parametrize("wood", HANDBOOK, ids=lambda wood: wood.name)
def test_values_are_round_in_the_printed_unit(wood: ClearWood) -> None:
    """The handbook prints bending to 100 psi, the modulus to 10,000 psi, the small strengths to 10 psi."""
    for name, step_psi, rounding_Pa in (
        ("bending", 100.0, 0.05e6),
        ("modulus", 1e4, 0.005e9),
        ("compression_perp", 10.0, 0.005e6),
        ("shear", 10.0, 0.005e6),
        ("tension_perp", 10.0, 0.005e6),
    ):
        for value in (averages(wood)[name].green_Pa, averages(wood)[name].dry_Pa):
            if value is not None:
                steps = value / PA_PER_PSI / step_psi
                assert abs(steps - round(steps)) * step_psi * PA_PER_PSI <= rounding_Pa * 1.001, name


@pytest.mark.parametrize(
    ("name", "bending_psi", "modulus_Mpsi", "crushing_psi", "green_limit_pct"),
    [
        ("Sitka spruce (US)", 10_200, 1.57, 5_610, 27),
        ("Douglas-fir, coast (US)", 12_400, 1.95, 7_230, 24),
        ("Black spruce (US)", 10_800, 1.61, 5_960, 25),
        ("White ash (US)", 15_400, 1.74, 7_410, 24),
        ("Western hemlock (US)", 11_300, 1.63, 7_200, 28),
        ("Longleaf pine (US)", 14_500, 1.98, 8_470, 21),
        ("Sitka spruce (Canada)", 10_100, 1.63, 5_480, 27),
        ("Radiata pine (imported)", 11_700, 1.48, 6_080, 25),
    ],
)
def test_values_of_the_wood_handbook(
    name: str, bending_psi: float, modulus_Mpsi: float, crushing_psi: float, green_limit_pct: float
) -> None:
    wood = find_clear_wood(name)
    assert wood.bending.dry_Pa == pytest.approx(bending_psi * PA_PER_PSI, abs=0.05e6)
    assert wood.modulus.dry_Pa == pytest.approx(modulus_Mpsi * 1e6 * PA_PER_PSI, abs=0.005e9)
    assert wood.compression.dry_Pa == pytest.approx(crushing_psi * PA_PER_PSI, abs=0.05e6)
    assert wood.green_limit == green_limit_pct / 100
    assert wood.modulus_is_apparent
    assert wood.provenance == "read"


def test_shear_of_western_hemlock_is_that_of_the_inch_printing() -> None:
    # Table 5-3b 1,290 psi; Table 5-3a has 8,600 kPa
    assert find_clear_wood("Western hemlock (US)").shear.dry_Pa == pytest.approx(1290 * PA_PER_PSI, abs=5e3)


def test_lowest_of_several_sources_is_entered() -> None:
    spruce, larch = find_clear_wood("Norway spruce"), find_clear_wood("European larch")
    assert (spruce.bending.dry_Pa, spruce.modulus.dry_Pa, spruce.compression.dry_Pa) == (
        63.0e6,
        9.7e9,
        35.5e6,
    )
    assert (larch.bending.dry_Pa, larch.modulus.dry_Pa, larch.compression.dry_Pa) == (89.9e6, 9.9e9, 51e6)
    assert not spruce.modulus_is_apparent


def test_density_at_12_pct_is_the_specific_gravity_with_its_water() -> None:
    for wood in clear_woods():
        if wood.specific_gravity_dry is not None:
            assert wood.density_kg_m3(0.12) == pytest.approx(1120 * wood.specific_gravity_dry, rel=1e-12)


def test_density_of_green_wood_is_that_of_its_green_volume() -> None:
    wood = find_clear_wood("Sitka spruce (Canada)")
    assert wood.specific_gravity_green == 0.35
    assert wood.density_kg_m3(0.30) == pytest.approx(350 * 1.30, rel=1e-12)


@pytest.mark.parametrize("wood", HANDBOOK, ids=lambda wood: wood.name)
def test_wetter_wood_is_heavier(wood: ClearWood) -> None:
    densities = [wood.density_kg_m3(M / 100) for M in range(8, 31, 2)]
    assert all(dry < wet for dry, wet in pairwise(densities))


def test_density_without_specific_gravity_follows_an_average_species() -> None:
    wood = find_clear_wood("Scots pine")
    assert wood.density_kg_m3(0.12) == pytest.approx(550.0, rel=1e-12)
    # 550/1120 of solid wood at 12 %; G_b = G/(1 + 0.265 G (1 - 0.12/0.30)), and back to 18 %
    dry = 550 / 1120
    green = dry / (1 + 0.265 * dry * 0.6)
    assert wood.density_kg_m3(0.18) == pytest.approx(1180 * green / (1 - 0.265 * green * 0.4), rel=1e-12)
    with pytest.raises(MaterialError, match="its density is not known"):
        replace(wood, stated_density_kg_m3=None).density_kg_m3(0.12)


def test_rows_cannot_be_changed() -> None:
    with pytest.raises(FrozenInstanceError):
        clear_woods()[0].green_limit = 0.2  # type: ignore[misc]  # the error under test


# --- classes ---


@pytest.mark.parametrize("row", strength_classes(), ids=lambda row: row.name)
def test_moduli_of_a_class_keep_their_pattern(row: StrengthClass) -> None:
    """E_0,05 over E_0,mean is 0.67 in softwood and 0.84 in hardwood, G is E/16; EN 384, from memory."""
    share = 0.67 if row.name.startswith("C") else 0.84
    assert row.E_05_Pa == pytest.approx(share * row.E_mean_Pa, abs=0.06e9)
    assert row.G_mean_Pa == pytest.approx(row.E_mean_Pa / 16, abs=0.006e9)
    across = 1 / 30 if row.name.startswith("C") else 1 / 15
    assert row.E_perp_mean_Pa == pytest.approx(row.E_mean_Pa * across, abs=0.006e9)


@pytest.mark.parametrize("row", strength_classes(), ids=lambda row: row.name)
def test_strengths_of_a_class_keep_their_pattern(row: StrengthClass) -> None:
    """The relations of EN 384:2016, from memory, to half a unit of the last digit of the class."""
    soft, f_m = row.name.startswith("C"), row.bending_Pa / 1e6
    assert row.compression_Pa / 1e6 == pytest.approx(4.3 * f_m**0.5, abs=0.5)
    assert row.tension_Pa / 1e6 == pytest.approx(-3.07 + 0.73 * f_m if soft else 0.6 * f_m, abs=0.27)
    across = (0.007 if soft else 0.010) * row.density_k_kg_m3
    assert row.compression_perp_Pa / 1e6 == pytest.approx(across, abs=0.051)
    assert row.tension_perp_Pa / 1e6 == (0.4 if soft else 0.6)


@pytest.mark.parametrize("letter", ["C", "D"])
def test_higher_class_is_in_nothing_weaker(letter: str) -> None:
    rows = [row for row in strength_classes() if row.name.startswith(letter)]
    assert len(rows) > 3
    for lower, higher in pairwise(rows):
        assert higher.bending_Pa > lower.bending_Pa
        for field in (
            "tension_Pa",
            "compression_Pa",
            "compression_perp_Pa",
            "shear_Pa",
            "E_mean_Pa",
            "E_05_Pa",
        ):
            assert getattr(higher, field) >= getattr(lower, field), field


@pytest.mark.parametrize("row", strength_classes(), ids=lambda row: row.name)
def test_class_is_named_by_its_bending_strength(row: StrengthClass) -> None:
    assert row.bending_Pa == float(row.name[1:]) * 1e6
    assert row.tension_Pa == pytest.approx(0.6 * row.bending_Pa, rel=0.13)
    assert row.density_mean_kg_m3 == pytest.approx(1.2 * row.density_k_kg_m3, rel=0.02)


def test_classes_from_memory_say_so() -> None:
    assert [row.name for row in strength_classes() if row.provenance == "memory"] == ["D35", "D40"]


def test_class_is_of_the_later_set() -> None:
    # the set before 2009 has f_v,k 2.5 and f_t,0,k 14 MPa for C24
    c24 = find_strength_class("C24")
    assert (c24.shear_Pa, c24.tension_Pa) == (4.0e6, 14.5e6)


# --- factors ---


def test_k_mod_falls_with_duration_and_with_wet() -> None:
    names = ("permanent", "long-term", "medium-term", "short-term", "instantaneous")
    table = [[row.value for row in factor_rows("kmod", name)] for name in names]
    assert table == [
        # service class 1, 2, 3: EN 1995-1-1, Table 3.1
        [0.60, 0.60, 0.50],
        [0.70, 0.70, 0.55],
        [0.80, 0.80, 0.65],
        [0.90, 0.90, 0.70],
        [1.10, 1.10, 0.90],
    ]


def test_scarf_table_falls_with_slope() -> None:
    rows = factor_rows("scarf", "tension")
    assert [(float(row.key), row.value) for row in rows] == [(12, 0.90), (10, 0.85), (8, 0.80), (5, 0.65)]
    assert {row.provenance for row in rows} == {"memory"}


# --- look-up ---


@pytest.mark.parametrize(
    ("typed", "remedy"),
    [
        ("sitka spruce", "Did you mean 'Sitka spruce (US)' or 'Sitka spruce (Canada)'?"),
        ("WHITE ASH (us)", "Did you mean 'White ash (US)'?"),
        ("", "Choose one such as 'Sitka spruce (US)'."),
    ],
)
def test_unknown_species_is_answered_with_near_ones(typed: str, remedy: str) -> None:
    with pytest.raises(MaterialError) as caught:
        find_clear_wood(typed)
    assert caught.value.problem == "there is no species of this name"
    assert caught.value.remedy == remedy


def test_name_of_the_other_basis_is_told_apart() -> None:
    with pytest.raises(MaterialError, match="a strength class, not a species"):
        find_clear_wood("C24")
    with pytest.raises(MaterialError, match="a species, not a strength class"):
        find_strength_class("White ash (US)")
    with pytest.raises(MaterialError, match=r"Did you mean 'C24'\?"):
        find_strength_class("c24")


def test_tables_load_without_numpy() -> None:
    script = (
        "import sys; before = set(sys.modules); import rigcalc.materials.timber_tables as t; t.clear_woods();"
        "t.strength_classes(); t.timber_factors();"
        "tops = {name.partition('.')[0] for name in set(sys.modules) - before};"
        "print(sorted(tops - sys.stdlib_module_names))"
    )
    root = Path(__file__).parents[2]
    done = subprocess.run(
        [sys.executable, "-c", script], cwd=root, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "['rigcalc']"
