"""The timber a rig names, its [timber] table, and what is estimated where a species' table has gaps."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import pytest

from rigcalc.materials import MaterialError, family_of
from rigcalc.materials.timber import (
    DURATIONS,
    STIFFNESSES,
    STRENGTHS,
    Own,
    Property,
    Timber,
    TimberRow,
    basis_of,
    clear_woods,
    find_clear_wood,
    find_strength_class,
    find_timber,
    keys_not_read,
    no_own,
    strength_classes,
    timber_names,
    timber_of_rig,
)
from rigcalc.rig.fields import Choice, described_fields, is_required, spec_of
from rigcalc.rig.timber import CLASS_KEYS, CLEAR_WOOD_KEYS, TimberUse

SITKA, NORWAY = "Sitka spruce (US)", "Norway spruce"
ROWS: tuple[TimberRow, ...] = (*clear_woods(), *strength_classes())
SIZES: dict[str, Any] = {"depth_m": 0.12, "length_m": 7.5, "bury_m": 0.9}


def rigged(name: str, *, solid: bool = True, shape: str = "round", own: Own = no_own, **use: Any) -> Timber:
    return timber_of_rig(name, TimberUse(**use), shape=shape, solid=solid, own=own, **SIZES)


def value(of: Property, name: str, **use: Any) -> float:
    return rigged(name, **use).value_Pa(of)


# --- names ---


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.name)
def test_every_row_is_found_by_its_name_on_its_basis(row: TimberRow) -> None:
    assert find_timber(row.name) == row
    assert family_of(row.name) == "timber"
    timber = rigged(row.name)
    assert (timber.name, timber.basis) == (row.name, basis_of(row))
    # no check may be left without a value
    assert timber.missing == ()
    assert {chain.of for chain in timber.chains} == {*STRENGTHS, *STIFFNESSES}
    assert rigged(row.name, solid=False).missing == ()


def test_a_name_stands_once() -> None:
    assert len(set(timber_names())) == len(timber_names()) == len(ROWS)


def test_an_unknown_name_is_refused_with_the_nearest() -> None:
    with pytest.raises(MaterialError) as caught:
        rigged("Sitka spruce")
    assert caught.value.remedy.startswith("Did you mean 'Sitka spruce (")
    with pytest.raises(MaterialError, match="no timber of this name"):
        rigged("balsa")


def test_the_users_own_comes_before_the_tables() -> None:
    own = replace(find_clear_wood(NORWAY), name="C24", source="mill's tests")

    def finder(name: str) -> TimberRow | None:
        return own if name == "C24" else None

    assert find_timber("C24", finder) is own
    assert find_timber("C30", finder) == find_strength_class("C30")
    timber = rigged("C24", own=finder)
    assert (timber.basis, timber.source) == ("clear-wood", "mill's tests")


# --- the table [timber] ---


def test_defaults_are_those_of_a_mast_outdoors_and_each_has_its_source() -> None:
    for entry in described_fields(TimberUse).values():
        assert not is_required(entry)
        assert spec_of(entry).default_from
    names = [f.name for f in rigged(SITKA).chain("bending").factors]
    assert names == [
        "moisture 0.18",
        "lower 5 % at a variation of 16%",
        "load duration 1 h",
        "temperature 20 degC",
        "slope of grain 1 in 15",
        "size",
        "scarf 1 in 12",
        "safety factor",
    ]
    assert [f.name for f in rigged("C24").chain("bending").factors] == [
        "k_mod, short-term, service class 3",
        "1/gamma_M",
        "scarf 1 in 12",
    ]


def test_the_durations_are_those_of_the_standard() -> None:
    spec = spec_of(described_fields(TimberUse)["duration_class"])
    assert isinstance(spec, Choice)
    assert tuple(spec.options) == DURATIONS


def test_the_default_margin_keeps_its_source() -> None:
    assert "D245" in rigged(SITKA).chain("bending").factors[-1].source
    assert rigged(SITKA, safety_factor=1.5).chain("bending").factors[-1].source == "the user's own"
    assert value("shear", SITKA, safety_factor=1.3) == value("shear", SITKA)


SPECIES_CHANGES: dict[str, Any] = {
    "moisture": 0.12,
    "slope_of_grain": 1 / 25,
    "load_duration_s": 600.0,
    "temperature_degC": 40.0,
    "round_form_factor": "NDS",
}
CLASS_CHANGES: dict[str, Any] = {"service_class": 2, "duration_class": "instantaneous"}


@pytest.mark.parametrize("field", SPECIES_CHANGES)
def test_what_species_read_changes_their_strength_and_leaves_classes_alone(field: str) -> None:
    changed = {field: SPECIES_CHANGES[field]}
    before, after = value("bending", SITKA), value("bending", SITKA, **changed)
    assert after < before if field == "temperature_degC" else after > before
    assert rigged("C24", **changed) == rigged("C24")


@pytest.mark.parametrize("field", CLASS_CHANGES)
def test_what_classes_read_raises_their_strength_and_leaves_species_alone(field: str) -> None:
    changed = {field: CLASS_CHANGES[field]}
    assert value("bending", "C24", **changed) > value("bending", "C24")
    assert rigged(SITKA, **changed) == rigged(SITKA)


@pytest.mark.parametrize("name", [SITKA, "C24"])
def test_what_both_read(name: str) -> None:
    assert value("bending", name, scarf_slope=0.0) == pytest.approx(value("bending", name) / 0.9)
    assert not any("scarf" in text for text in rigged(name, scarf_slope=0.0).cautions)
    assert value("bending", name, safety_factor=2.6) == pytest.approx(value("bending", name) / 2)


def test_each_key_belongs_to_one_basis_or_to_both() -> None:
    keys = set(described_fields(TimberUse))
    assert {*CLEAR_WOOD_KEYS, *CLASS_KEYS} < keys
    assert not set(CLEAR_WOOD_KEYS) & set(CLASS_KEYS)
    assert keys - {*CLEAR_WOOD_KEYS, *CLASS_KEYS} == {"scarf_slope", "lasting_share", "safety_factor"}


def test_keys_that_no_timber_in_use_reads() -> None:
    species, graded = find_clear_wood(SITKA), find_strength_class("C24")
    assert set(keys_not_read([species])) == set(CLASS_KEYS)
    assert set(keys_not_read([graded])) == set(CLEAR_WOOD_KEYS)
    assert keys_not_read([species, graded]) == {}
    assert set(keys_not_read([])) == {*CLASS_KEYS, *CLEAR_WOOD_KEYS}


# --- form factors ---


def test_round_form_factor_is_for_solid_rounds_in_bending() -> None:
    with_credit = rigged(SITKA, round_form_factor="NDS")
    # 1.18 of NDS 3.3.4 (from memory): a square of equal area has pi^1.5/6 over pi/4 of the modulus, 1.1816
    assert with_credit.value_Pa("bending") == pytest.approx(1.1816 * value("bending", SITKA), rel=1e-4)
    assert with_credit.value_Pa("tension") == value("tension", SITKA)
    assert "solid round section" in with_credit.from_memory
    hollow = rigged(SITKA, solid=False, round_form_factor="NDS")
    assert hollow == replace(rigged(SITKA, solid=False), filled=with_credit)
    for shape in ("polygon", "box", "ellipse"):
        assert rigged(SITKA, shape=shape, round_form_factor="NDS") == rigged(SITKA, shape=shape)


def test_where_its_bore_is_filled_a_hollow_spar_is_a_solid_one() -> None:
    for name in (SITKA, "C24"):
        assert rigged(name, solid=False).filled == rigged(name)
        assert rigged(name).filled is None
        assert value("bending", name, solid=False) < value("bending", name)
    # the depth factor of EN 1995-1-1 is for rectangles: (150/120)^0.2
    box = value("bending", "C24", shape="box") / value("bending", "C24")
    assert box == pytest.approx((150 / 120) ** 0.2, rel=1e-12)


def test_hollow_form_factor_takes_the_place_of_crushing() -> None:
    crushed = rigged(SITKA, solid=False)
    assert crushed.value_Pa("bending") == crushed.value_Pa("compression")
    formed = rigged(SITKA, solid=False, hollow_form_factor=0.7)
    assert formed.value_Pa("bending") == pytest.approx(0.7 * value("bending", SITKA), rel=1e-12)
    assert formed.value_Pa("compression") == crushed.value_Pa("compression")
    # the tension edge is stressed evenly too
    whole = rigged(SITKA, solid=False, hollow_form_factor=1.0)
    assert whole.value_Pa("bending") == whole.value_Pa("tension") < value("bending", SITKA)
    assert rigged(SITKA, hollow_form_factor=0.7) == rigged(SITKA)
    with pytest.raises(MaterialError, match=r"hollow form factor 0\.4"):
        rigged(SITKA, solid=False, hollow_form_factor=0.4)


# --- estimates ---

ESTIMATED = {"compression_perp": "compression", "shear": "compression", "tension_perp": "shear"}


@pytest.mark.parametrize("of", ESTIMATED)
def test_an_estimate_is_no_higher_than_any_species_that_was_tested(of: str) -> None:
    """Taken from a species that has the value, the estimate made without it is never above it."""
    tested = [w for w in clear_woods() if getattr(w, of).dry_Pa is not None]
    assert len(tested) >= 19
    for wood in tested:
        blank = replace(getattr(wood, of), dry_Pa=None, green_Pa=None)
        without: Any = replace(wood, **{of: blank})

        def own(name: str, row: TimberRow = without) -> TimberRow:
            return row

        for moisture in (0.12, 0.18, 0.24, 0.30):
            known = rigged(wood.name, moisture=moisture, temperature_degC=20.0)
            guess = rigged(wood.name, own=own, moisture=moisture, temperature_degC=20.0)
            assert guess.value_Pa(of) <= known.value_Pa(of) * (1 + 1e-12)  # type: ignore[arg-type]  # a name of both
            assert any("not in its table" in text for text in guess.cautions)


def test_the_ratios_of_norway_spruce_by_hand() -> None:
    timber = rigged(NORWAY)
    # Douglas-fir, coast: 7.79 MPa of shear to 49.8 of crushing; western hemlock 3.79 across to 49.6
    assert timber.chain("shear").start_Pa == pytest.approx(35.5e6 * 7.79 / 49.8, rel=1e-12)
    assert timber.chain("compression_perp").start_Pa == pytest.approx(35.5e6 * 3.79 / 49.6, rel=1e-12)
    # noble fir: 1.52 MPa across to 7.24 of shear
    assert timber.chain("tension_perp").start_Pa == pytest.approx(
        35.5e6 * 7.79 / 49.8 * 1.52 / 7.24, rel=1e-12
    )
    for of in ("shear", "rolling_shear", "compression_perp", "tension_perp"):
        chain = timber.chain(of)
        assert chain.provenance == "derived"
        assert chain.start_name.endswith(": an estimate")
        assert "the lowest of" in chain.source
    assert timber.chain("bending").provenance == "read"
    assert any("green value" in f.source for f in timber.chain("bending").factors)
    (told, wet) = [text for text in timber.cautions if "not in its table" in text]
    assert "shear strength along the grain" in told
    assert "green values of bending strength" in wet


def test_nothing_is_said_of_green_values_that_are_not_used() -> None:
    assert sum("not in its table" in t for t in rigged(NORWAY, moisture=0.12).cautions) == 1
    assert not any("not in its table" in t for t in rigged(SITKA).cautions)


def test_a_species_without_crushing_strength_is_refused_where_it_is_wanted() -> None:
    bare = replace(
        find_clear_wood(NORWAY), compression=replace(find_clear_wood(NORWAY).compression, dry_Pa=None)
    )

    def own(name: str) -> TimberRow:
        return bare

    timber = rigged(NORWAY, own=own)
    assert {of for of, _ in timber.missing} == {*ESTIMATED, "compression", "rolling_shear"}
    with pytest.raises(MaterialError, match="shear is not known: the table has no value"):
        timber.value_Pa("shear")
    with pytest.raises(MaterialError, match="crushing governs the edge"):
        rigged(NORWAY, solid=False, own=own)


# --- the modulus across the grain ---


def test_modulus_across_the_grain() -> None:
    sitka = rigged(SITKA, moisture=0.12, slope_of_grain=0.0, temperature_degC=20.0)
    # E_T 0.043, E_R 0.078 of the true modulus: the lesser
    assert sitka.value_Pa("E_across") == pytest.approx(0.043 * 1.10 * 10.82e9, rel=1e-12)
    assert rigged("White spruce (US)").chain("E_across").factors[-1].value == 0.045
    assert value("E_across", "C24") == 0.37e9


def test_every_field_of_the_table_is_known_to_some_basis() -> None:
    assert {entry.name for entry in fields(TimberUse)} == {
        *SPECIES_CHANGES,
        *CLASS_CHANGES,
        "hollow_form_factor",
        "scarf_slope",
        "lasting_share",
        "safety_factor",
    }
