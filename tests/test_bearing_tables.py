"""The table of bearing materials against the units it was printed in, and against the patterns that hold within it."""

from __future__ import annotations

import subprocess
import sys

import pytest

from rigcalc.materials.bearing_tables import (
    BearingMaterial,
    BearingRow,
    bearing_materials,
    bearing_rows,
    find_bearing_material,
)
from rigcalc.materials.metals import MaterialError


def test_table_is_whole() -> None:
    assert len(bearing_rows()) == 212
    assert len(bearing_materials()) == 18
    assert len(set(bearing_rows())) == 212
    kinds = {(row.material, row.kind) for row in bearing_rows()}
    assert len(kinds) == 18


@pytest.mark.parametrize("row", bearing_rows(), ids=lambda row: f"{row.material}-{row.quantity}")
def test_each_row_says_where_its_figures_come_from(row: BearingRow) -> None:
    assert len(row.source) > 10
    assert "://" not in row.source + row.note
    assert ("from memory" in row.source) == (row.provenance == "memory")
    assert row.provenance != "read" or "read" in row.source
    assert row.low <= row.high
    assert row.low >= 0
    assert row.used or row.note, "a row that is not used says why"


@pytest.mark.parametrize("found", bearing_materials(), ids=lambda found: found.name)
def test_figures_are_those_of_bearings(found: BearingMaterial) -> None:
    # a shifted column or a wrong unit falls outside
    for figure, low, high in (
        (found.turning_Pa, 3e6, 420e6),
        (found.standing_Pa, 3e6, 420e6),
        (found.sustained_Pa, 1e6, 5e6),
        (found.pv_Pa_m_s, 0.03e6, 2e6),
        (found.speed_m_s, 0.2, 13.0),
        (found.hottest_degC, 60.0, 290.0),
        (found.friction, 0.02, 0.5),
        (found.E_Pa, 0.3e9, 200e9),
        (found.nu, 0.25, 0.46),
        (found.expansion_per_K, 15e-6, 201e-6),
        (found.swelling, 0.0, 0.05),
        (found.creep_share, 0.3, 1.0),
        (found.wear_per_Pa, 1e-16, 1e-12),
        (found.play, 0.8e-3, 10e-3),
        (found.yield_Pa, 15e6, 210e6),
    ):
        if figure is not None:
            assert low <= figure.low <= figure.high <= high
            assert figure.source
    assert found.turning_Pa is not None or found.name == "stainless steel"
    assert found.friction is not None or found.name == "stainless steel"


def test_the_lower_limit_and_the_wider_span_are_taken() -> None:
    filled = find_bearing_material("filled PTFE")
    assert filled.turning_Pa is not None
    assert filled.turning_Pa.low == 7e6
    fabric = find_bearing_material("PTFE fabric on metal")
    assert fabric.pv_Pa_m_s is not None
    assert fabric.pv_Pa_m_s.low == 0.88e6
    acetal = find_bearing_material("acetal")
    assert acetal.E_Pa is not None
    assert acetal.expansion_per_K is not None
    assert (acetal.E_Pa.low, acetal.E_Pa.high) == (2.66e9, 3.59e9)
    assert (acetal.expansion_per_K.low, acetal.expansion_per_K.high) == (84.6e-6, 109e-6)
    assert acetal.expansion_per_K.provenance == "read"
    # dry and wet together, from the best to the worst
    assert acetal.friction is not None
    assert (acetal.friction.low, acetal.friction.high) == (0.1, 0.35)
    assert acetal.friction.provenance == "memory"


def test_standing_is_as_turning_unless_a_source_says_more() -> None:
    acetal = find_bearing_material("acetal")
    assert acetal.given_standing_Pa is None
    assert acetal.standing_Pa is acetal.turning_Pa


def test_creeping_plastic_has_its_own_limit_under_lasting_loads() -> None:
    for name in ("UHMWPE", "HDPE"):
        found = find_bearing_material(name)
        assert found.sustained_Pa is not None
        assert found.turning_Pa is not None
        assert found.sustained_Pa.low < found.turning_Pa.low
        assert found.sustained_Pa.provenance == "judgement"


def test_rows_judged_wrong_are_kept_and_not_used() -> None:
    wrong = [row for row in bearing_rows() if not row.used]
    assert len(wrong) == 15
    assert {row.material for row in wrong if row.quantity == "expansion_per_MK"} == {"UHMWPE", "HDPE", "PTFE"}
    for row in wrong:
        found = find_bearing_material(row.material)
        if row.quantity == "expansion_per_MK":
            assert found.expansion_per_K is not None
            assert row.high < found.expansion_per_K.low


def test_unknown_names_are_met_with_near_ones() -> None:
    with pytest.raises(MaterialError, match="Did you mean 'acetal'"):
        find_bearing_material("Acetale")
    with pytest.raises(MaterialError, match="Choose one such as 'acetal'"):
        find_bearing_material("cheese")


def test_the_tables_need_no_numpy() -> None:
    code = (
        "import sys; from rigcalc.materials.bearing_tables import bearing_materials; bearing_materials(); "
        "sys.exit('numpy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
