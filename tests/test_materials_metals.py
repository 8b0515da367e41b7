"""The table of metals against the standards it was taken from, and the look-up by wall thickness.

Sources: EN 1999-1-1 Table 3.2b, read in a third-party copy that ends before alloy 6082 and does not
show its edition; ASTM B241/B241M-12 Table 1, read in a third-party copy. Rows recalled from memory are
checked only for their mark.
"""

from __future__ import annotations

import csv
import math
import pickle
import subprocess
import sys
from dataclasses import FrozenInstanceError
from importlib import resources
from itertools import groupby, pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcalc.materials import MaterialError, Metal, find_metal, metal_names, metals

MPA_PER_KSI = 6.894757  # 1 lbf = 4.4482216152605 N and 1 in = 25.4 mm, both exact by definition
ROUNDED_FACTOR_MPA = 2.5
"""How far rho f may stand from the HAZ strength beside it: a factor printed to two digits is out by up
to 0.005 x 310 = 1.6 MPa, and in rows turned from ksi both strengths are rounded to whole MPa."""


def table() -> list[dict[str, str]]:
    text = resources.files("rigcalc.materials").joinpath("data", "aluminium.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def where(metal: Metal) -> str:
    return f"{metal.name} over {metal.wall_over_m * 1e3:g} mm"


def refused(name: str, wall_m: float = 0.004) -> MaterialError:
    with pytest.raises(MaterialError) as caught:
        find_metal(name, wall_m=wall_m)
    assert caught.value.name == name
    return caught.value


# --- the table as a whole ---


def test_haz_factor_times_parent_strength_is_the_haz_strength() -> None:
    pairs = [
        (row["name"], float(row[rho]) * float(row[parent]) - float(row[haz]))
        for row in table()
        for rho, parent, haz in (("rho_o_haz", "f0_MPa", "f0_haz_MPa"), ("rho_u_haz", "fu_MPa", "fu_haz_MPa"))
        if row[rho]
    ]
    assert len(pairs) > 60
    assert [pair for pair in pairs if abs(pair[1]) > ROUNDED_FACTOR_MPA] == []


def test_haz_columns_are_all_given_or_all_blank() -> None:
    columns = ("f0_haz_MPa", "fu_haz_MPa", "rho_o_haz", "rho_u_haz")
    assert {tuple(bool(row[column]) for column in columns) for row in table()} == {(True,) * 4, (False,) * 4}


@pytest.mark.parametrize("metal", metals(), ids=where)
def test_each_metal_says_where_its_values_come_from(metal: Metal) -> None:
    assert metal.standard and metal.source and metal.elastic_source
    assert {metal.strength_provenance, metal.elastic_provenance} <= {"read", "memory"}
    if metal.strength_provenance == "memory":
        assert "from memory" in metal.source
    if metal.elastic_provenance == "memory":
        assert "from memory" in metal.elastic_source
    assert "://" not in metal.source + metal.elastic_source + metal.note


@pytest.mark.parametrize("metal", metals(), ids=where)
def test_values_are_positive_and_in_order(metal: Metal) -> None:
    assert metal.family == "metal"
    assert 65e9 < metal.E_Pa < 75e9  # aluminium: a wrong unit or a shifted column falls outside
    assert 2600 < metal.density_kg_m3 < 2850
    assert 20e-6 < metal.thermal_expansion_per_K < 25e-6
    # Handbook constants are rounded one by one, hence not exactly isotropic.
    assert metal.G_Pa == pytest.approx(metal.E_Pa / (2 * (1 + metal.nu)), rel=0.025)
    assert 50e6 < metal.proof_Pa <= metal.ultimate_Pa < 600e6
    if metal.elongation is not None:
        assert 0.03 < metal.elongation < 0.25
    if metal.haz_proof_Pa is not None and metal.haz_ultimate_Pa is not None:
        assert 0 < metal.haz_proof_Pa <= metal.proof_Pa
        assert 0 < metal.haz_ultimate_Pa <= metal.ultimate_Pa
        assert metal.haz_proof_Pa <= metal.haz_ultimate_Pa


@pytest.mark.parametrize("metal", metals(), ids=where)
def test_class_is_given_for_eurocode_metals_alone(metal: Metal) -> None:
    assert (metal.buckling_class is not None) == metal.standard.startswith("EN 1999-1-1")


@pytest.mark.parametrize("name", metal_names())
def test_ranges_of_one_name_meet_end_to_end(name: str) -> None:
    rows = [metal for metal in metals() if metal.name == name]
    # The one lower limit is 0.025 in, the thinnest drawn tube of ASTM B210 (from memory).
    assert rows[0].wall_over_m == (0.00063 if name == "6061-T6 ASTM B210 drawn tube" else 0.0)
    assert [upper.wall_over_m for upper in rows[1:]] == [lower.wall_up_to_m for lower in rows[:-1]]
    edges = [row.wall_over_m for row in rows] + [rows[-1].wall_up_to_m or math.inf]
    assert all(lower < upper for lower, upper in pairwise(edges))


def test_names_are_unique_and_in_the_order_of_the_table() -> None:
    assert metal_names() == tuple(name for name, _ in groupby(row["name"] for row in table()))
    assert len(set(metal_names())) == len(metal_names())


def test_metals_cannot_be_changed() -> None:
    with pytest.raises(FrozenInstanceError):
        metals()[0].proof_Pa = 1.0  # type: ignore[misc]  # the error under test


# --- values against the standards ---


@pytest.mark.parametrize(
    ("name", "wall_mm", "f0", "fu", "f0_haz", "fu_haz", "kind"),
    [
        # EN 1999-1-1 Table 3.2b, rows read in a third-party copy; strengths in MPa
        ("6061-T6 extruded", 4, 240, 260, 115, 175, "A"),
        ("6061-T6 drawn", 20, 240, 260, 115, 175, "A"),
        ("6063-T6 drawn", 4, 190, 220, 65, 110, "A"),
        ("6063-T5 profile", 3, 130, 175, 60, 100, "B"),
        ("6063-T5 profile", 3.01, 110, 160, 60, 100, "B"),
        ("6060-T66 extruded", 3, 160, 215, 65, 110, "A"),
        ("6060-T66 profile", 3.01, 150, 195, 65, 110, "A"),
        ("6005A-T6 extruded", 5, 215, 255, 115, 165, "A"),
        ("6005A-T6 extruded", 5.01, 200, 250, 115, 165, "A"),
        ("5083-H32 drawn", 4, 200, 280, 135, 270, "B"),
        ("5083-H112 extruded", 4, 110, 270, 110, 270, "B"),
    ],
)
def test_strengths_of_en_1999_1_1_table_3_2b(
    name: str, wall_mm: float, f0: float, fu: float, f0_haz: float, fu_haz: float, kind: str
) -> None:
    metal = find_metal(name, wall_m=wall_mm / 1e3)
    assert (metal.proof_Pa, metal.ultimate_Pa) == (f0 * 1e6, fu * 1e6)
    assert (metal.haz_proof_Pa, metal.haz_ultimate_Pa) == (f0_haz * 1e6, fu_haz * 1e6)
    assert metal.buckling_class == kind
    assert metal.strength_provenance == "read"
    assert metal.source.startswith("EN 1999-1-1 Table 3.2b")


@pytest.mark.parametrize(
    ("name", "yield_ksi", "tensile_ksi"),
    [
        # ASTM B241/B241M-12 Table 1, pipe, read in a third-party copy
        ("6061-T6 ASTM B241 extruded pipe", 35, 38),
        ("6061-T6 ASTM B241 drawn pipe", 35, 38),
        ("6063-T6 ASTM B241 pipe", 25, 30),
        ("6005A-T5 ASTM B241 pipe", 31, 38),
        ("6005A-T61 ASTM B241 pipe", 35, 38),
        ("6082-T6 ASTM B241 pipe", 38, 45),
    ],
)
def test_strengths_of_astm_b241_table_1(name: str, yield_ksi: float, tensile_ksi: float) -> None:
    metal = find_metal(name, wall_m=0.004)
    # The table holds whole MPa.
    assert metal.proof_Pa == pytest.approx(yield_ksi * MPA_PER_KSI * 1e6, abs=0.5e6)
    assert metal.ultimate_Pa == pytest.approx(tensile_ksi * MPA_PER_KSI * 1e6, abs=0.5e6)
    assert metal.haz_proof_Pa is None and metal.buckling_class is None
    assert metal.strength_provenance == "read"


@pytest.mark.parametrize("wall_mm", [3, 8])
@pytest.mark.parametrize("name", ["6082-T6 drawn", "6082-T6 extruded"])
def test_values_recalled_from_memory_say_so(name: str, wall_mm: float) -> None:
    metal = find_metal(name, wall_m=wall_mm / 1e3)
    assert metal.strength_provenance == "memory"
    assert "from memory" in metal.source and "from memory" in metal.note


def test_eurocode_constants_are_those_of_clause_3_2_5() -> None:
    # E and G: TALAT lecture 2301, example 9.4 (1999), read. The rest: EN 1999-1-1 cl. 3.2.5, from memory.
    metal = find_metal("6061-T6 drawn", wall_m=0.003)
    assert (metal.E_Pa, metal.G_Pa, metal.nu) == (70e9, 27e9, 0.3)
    assert (metal.density_kg_m3, metal.thermal_expansion_per_K) == (2700.0, 23e-6)
    assert metal.elastic_provenance == "memory"
    assert metal.elongation == 0.08


# --- the look-up ---


@pytest.mark.parametrize(
    ("wall_m", "up_to_m"),
    [(0.0049, 0.005), (0.005, 0.005), (0.05 - 0.045, 0.005), (0.005001, 0.02), (0.02, 0.02)],
)
def test_wall_at_the_end_of_a_range_belongs_to_it(wall_m: float, up_to_m: float) -> None:
    assert find_metal("6082-T6 drawn", wall_m=wall_m).wall_up_to_m == up_to_m


def test_rounding_of_a_wall_does_not_move_it_to_the_next_range() -> None:
    wall_m = 0.05 - 0.045
    assert wall_m > 0.005  # by rounding alone
    assert find_metal("6082-T6 drawn", wall_m=wall_m).proof_Pa == 255e6


@given(wall_m=st.floats(0.0007, 0.003), name=st.sampled_from([m.name for m in metals() if m.design_use]))
def test_every_metal_for_design_is_found_at_walls_of_masts(wall_m: float, name: str) -> None:
    metal = find_metal(name, wall_m=wall_m)
    assert metal.name == name
    assert metal.wall_over_m < wall_m <= (metal.wall_up_to_m or math.inf) * (1 + 1e-9)


def test_wall_too_thick_names_the_largest_and_what_would_do() -> None:
    error = refused("6060-T66 extruded", 0.004)
    assert error.problem == "a wall of 4 mm is thicker than any listed; the largest is 3 mm"
    assert error.remedy == "Use a wall of at most 3 mm, or '6060-T66 profile'."
    assert refused("6063-T66 profile", 0.03).remedy == "Use a wall of at most 25 mm, or another material."


def test_wall_too_thin_names_the_least() -> None:
    error = refused("6061-T6 ASTM B210 drawn tube", 0.0005)
    assert error.problem == "a wall of 0.5 mm is thinner than any listed; the least is over 0.63 mm"
    assert "'6061-T6 drawn'" in error.remedy
    assert find_metal("6061-T6 ASTM B210 drawn tube", wall_m=0.025 * 0.0254).ultimate_Pa == 290e6


@pytest.mark.parametrize("wall_m", [0.0, -0.004, math.nan, math.inf])
@pytest.mark.parametrize("name", ["6082-T6 drawn", "6063-T6 ASTM B241 pipe"])
def test_wall_that_makes_no_sense_is_refused(name: str, wall_m: float) -> None:
    assert "makes no sense" in refused(name, wall_m).problem


@pytest.mark.parametrize("typed", ["6082-t6 DRAWN", "6082-T6drawn", " 6082-T6  drawn "])
def test_case_and_spaces_are_forgiven_in_the_suggestion_only(typed: str) -> None:
    error = refused(typed)
    assert error.problem == "there is no metal of this name"
    assert error.remedy == "Did you mean '6082-T6 drawn'?"


def test_unknown_name_is_answered_with_near_ones_for_design_use() -> None:
    assert "'6061-T6 drawn'" in refused("6061 T6 drawn").remedy
    assert "typical" not in refused("6061-T6 typicl").remedy
    assert refused("6082-T6").remedy == (
        "Did you mean '6082-T6 drawn' or '6082-T6 extruded' or '6082-T6 ASTM B241 pipe'?"
    )
    assert refused("").remedy == refused("oak").remedy == "Choose one such as '6082-T6 drawn'."


@pytest.mark.parametrize("name", ["6061-T6 typical", "7075-T6 typical"])
def test_typical_values_are_listed_but_refused(name: str) -> None:
    assert name in metal_names()
    assert not any(metal.design_use for metal in metals() if metal.name == name)
    assert "not for design use" in refused(name).problem


def test_typical_metals_are_the_only_ones_refused() -> None:
    assert {metal.name for metal in metals() if not metal.design_use} == {
        "6061-T6 typical",
        "7075-T6 typical",
    }


def test_error_carries_its_parts_through_pickle() -> None:
    error = refused("oak")
    copy = pickle.loads(pickle.dumps(error))
    assert isinstance(copy, MaterialError)
    assert (copy.name, copy.problem, copy.remedy) == (error.name, error.problem, error.remedy)
    assert str(copy) == str(error) == f"'oak': {error.problem}. {error.remedy}"


def test_nothing_but_the_standard_library_is_loaded() -> None:
    script = (
        "import sys; before = set(sys.modules); import rigcalc.materials as m; m.metals();"
        "tops = {name.partition('.')[0] for name in set(sys.modules) - before};"
        "print(sorted(tops - sys.stdlib_module_names))"
    )
    root = Path(__file__).parents[1]
    done = subprocess.run(
        [sys.executable, "-c", script], cwd=root, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "['rigcalc']"
