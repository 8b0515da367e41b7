"""The user's own materials: the same values as a row of the tables must bear the same as that row.

Rows go through the text of a rig file and the reader, so that keys, units and rules are held as well.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any

import pytest

from rigcalc import check
from rigcalc.materials import (
    Foam,
    MaterialError,
    Metal,
    family_of,
    metal_rows,
    metals,
    own_foam,
    own_metal,
    own_ply,
    own_timber,
    ply_finder,
)
from rigcalc.materials.laminates import PlyMaterial, find_ply_material, ply_materials
from rigcalc.materials.laminates.plies import STRAINS, STRENGTHS
from rigcalc.materials.laminates.tables import FORMS
from rigcalc.materials.names import KINDS, kinds_of, table_names
from rigcalc.materials.timber import (
    Average,
    ClearWood,
    StrengthClass,
    TimberRow,
    clear_woods,
    find_clear_wood,
    strength_classes,
    timber_of_rig,
)
from rigcalc.rig import Material, TimberUse
from rigcalc.rigfile import read_rig

from ..rigfile import GOOD, VARIANTS, edited
from ..rigfile.own import OWN, Table, own_text, text_of

ROOT = Path(__file__).resolve().parents[2]
SIZES: dict[str, Any] = {"depth_m": 0.12, "length_m": 7.5, "bury_m": 0.9}
RAISED = 1.1
"""E free of shear over E of a bending test: Wood Handbook, footnote c of Table 5-3."""


def read(table: Table) -> Material:
    """Return a material as the reader makes it of its text in a rig file."""
    return read_rig(f"{GOOD}\n{text_of(table)}").materials[-1]


def own(name: str, **changes: str | float | None) -> Material:
    return read_rig(f"{GOOD}\n{own_text(name, **changes)}").materials[-1]


def Pa(value: float | None) -> str | None:
    # repr, so that the text holds every digit
    return None if value is None else f"{value!r} Pa"


def given(table: dict[str, str | float | None]) -> Table:
    return {key: value for key, value in table.items() if value is not None}


def text_of_wood(wood: ClearWood) -> Table:
    averages: dict[str, Average] = {
        "E": wood.modulus,
        "bending": wood.bending,
        "compression": wood.compression,
        "compression_perp": wood.compression_perp,
        "shear": wood.shear,
        "tension_perp": wood.tension_perp,
    }
    lr, lt = wood.G_LR_ratio, wood.G_LT_ratio
    G = None
    if lr is not None and lt is not None:
        assert wood.modulus.dry_Pa is not None
        G = wood.modulus.dry_Pa * (RAISED if wood.modulus_is_apparent else 1.0) * math.sqrt(lr * lt)
    return given(
        {
            "name": f"my {wood.name}",
            "source": "the tables",
            "family": "timber",
            "basis": "clear-wood",
            "density": f"{wood.density_kg_m3(0.12)!r} kg/m3",
            "E_is": "apparent" if wood.modulus_is_apparent else "not stated",
            "G": Pa(G),
            "green_limit": wood.green_limit,
            **{key: Pa(average.dry_Pa) for key, average in averages.items()},
            **{f"{key}_green": Pa(average.green_Pa) for key, average in averages.items()},
        }
    )


def text_of_class(row: StrengthClass) -> Table:
    return given(
        {
            "name": f"my {row.name}",
            "source": "the tables",
            "family": "timber",
            "basis": "characteristic",
            "density": f"{row.density_mean_kg_m3!r} kg/m3",
            "E": Pa(row.E_mean_Pa),
            "E_low": Pa(row.E_05_Pa),
            "G": Pa(row.G_mean_Pa),
            "bending": Pa(row.bending_Pa),
            "tension": Pa(row.tension_Pa),
            "compression": Pa(row.compression_Pa),
            "compression_perp": Pa(row.compression_perp_Pa),
            "shear": Pa(row.shear_Pa),
            "tension_perp": Pa(row.tension_perp_Pa),
        }
    )


def text_of_metal(m: Metal) -> Table:
    return given(
        {
            "name": f"my {m.name}",
            "source": "the tables",
            "family": "metal",
            "density": f"{m.density_kg_m3!r} kg/m3",
            "E": Pa(m.E_Pa),
            "G": Pa(m.G_Pa),
            "nu": m.nu,
            "proof": Pa(m.proof_Pa),
            "ultimate": Pa(m.ultimate_Pa),
            "welded_proof": Pa(m.haz_proof_Pa),
            "welded_ultimate": Pa(m.haz_ultimate_Pa),
            "buckling_class": m.buckling_class,
        }
    )


def text_of_ply(ply: PlyMaterial) -> Table:
    form = next(name for name, lots in FORMS.items() if lots == ply.fibres)
    return given(
        {
            "name": f"my {ply.name}",
            "source": "the tables",
            "family": "ply",
            "form": form,
            "density": f"{ply.density_kg_m3!r} kg/m3",
            "fibre_density": f"{ply.fibre_density_kg_m3!r} kg/m3",
            "fibre_fraction": ply.fibre_fraction,
            "nu12": ply.nu12,
            **{key: Pa(getattr(ply, f"{key}_Pa")) for key in ("E1", "E2", "G12")},
            **{name.removesuffix("_Pa"): Pa(getattr(ply, name)) for name in STRENGTHS},
            **{name: getattr(ply, name) for name in STRAINS},
        }
    )


# --- the same values bear the same ---


@pytest.mark.parametrize(
    "use", [{}, {"moisture": 0.12, "temperature_degC": 40.0}, {"moisture": 0.28}], ids=str
)
@pytest.mark.parametrize("solid", [True, False], ids=["solid", "hollow"])
@pytest.mark.parametrize("row", [*clear_woods(), *strength_classes()], ids=lambda row: row.name)
def test_own_timber_bears_what_its_row_does(row: TimberRow, solid: bool, use: dict[str, float]) -> None:
    mine = own_timber(read(text_of_wood(row) if isinstance(row, ClearWood) else text_of_class(row)))
    assert mine.name == f"my {row.name}"
    assert (mine.provenance, mine.source) == ("read", "the tables")
    stands: dict[str, Any] = {"shape": "round", "solid": solid, **SIZES}
    tabled = timber_of_rig(row.name, TimberUse(**use), **stands)
    found = timber_of_rig(mine.name, TimberUse(**use), own=lambda _: mine, **stands)
    assert [c.of for c in found.chains] == [c.of for c in tabled.chains]
    for a, b in zip(found.chains, tabled.chains, strict=True):
        # across the grain a timber of the user's own has the lowest modulus, having no ratio of its own
        if a.of == "E_across":
            assert a.value_Pa <= b.value_Pa * (1 + 1e-12) or row.name in LOW_ACROSS
            continue
        assert a.value_Pa == pytest.approx(b.value_Pa, rel=1e-12), a.of
        assert [f.value for f in a.factors] == pytest.approx([f.value for f in b.factors], rel=1e-12)
    assert found.creep == tabled.creep
    # the water is the same; how far the wood has swollen with it differs between species
    assert found.density_kg_m3 == pytest.approx(tabled.density_kg_m3, rel=0.05)


LOW_ACROSS = {
    wood.name
    for wood in clear_woods()
    if min(r for r in (wood.E_T_ratio, wood.E_R_ratio, 1.0) if r is not None) < 0.045
}
"""Species whose own ratio is below that of any wood not listed (ANC-18)."""


def test_few_species_are_softer_across_than_any_wood_not_listed() -> None:
    assert {name.split(" (")[0] for name in LOW_ACROSS} == {
        "Sitka spruce",
        "Western hemlock",
        "Yellow-poplar",
    }


@pytest.mark.parametrize(
    "row", [m for m in metals() if m.design_use], ids=lambda m: f"{m.name} {m.wall_over_m}"
)
def test_own_metal_is_its_row(row: Metal) -> None:
    mine = asdict(own_metal(read(text_of_metal(row))))
    told = {
        "name",
        "source",
        "elastic_source",
        "standard",
        "note",
        "strength_provenance",
        "elastic_provenance",
    }
    # what the user is not asked for: the least elongation, expansion, and a range of walls
    unasked = {"elongation", "thermal_expansion_per_K", "wall_over_m", "wall_up_to_m"}
    for key in mine.keys() - told - unasked - {"buckling_class"}:
        wanted = getattr(row, key)
        assert mine[key] == (pytest.approx(wanted, rel=1e-15) if isinstance(wanted, float) else wanted), key
    assert mine["buckling_class"] == (row.buckling_class or "B")
    assert mine["thermal_expansion_per_K"] is None


@pytest.mark.parametrize("row", [p for p in ply_materials() if p.fibres is not None], ids=lambda p: p.name)
def test_own_ply_is_its_row(row: PlyMaterial) -> None:
    mine = own_ply(read(text_of_ply(row)))
    same = replace(row, name=mine.name, provenance="read", source="the tables", note="")
    for key, value in asdict(same).items():
        found = getattr(mine, key)
        assert found == (pytest.approx(value, rel=1e-15) if isinstance(value, float) else value), key


def test_own_foam_is_what_the_file_says() -> None:
    assert own_foam(own("own foam")) == Foam(
        name="own foam",
        E_Pa=pytest.approx(88e6),  # type: ignore[arg-type]  # stands for a float
        G_Pa=pytest.approx(28e6),  # type: ignore[arg-type]
        density_kg_m3=78.0,
        compression_Pa=pytest.approx(1.35e6),  # type: ignore[arg-type]
        shear_Pa=pytest.approx(1.1e6),  # type: ignore[arg-type]
        safety_factor=1.8,
        provenance="read",
        source="sheet of the maker",
    )


def test_a_mast_of_own_timber_gets_the_verdict_of_the_tables() -> None:
    """Norway spruce has neither ratios nor specific gravity: nothing is left to differ."""
    text = edited(*VARIANTS["species"])
    old = 'material = "Sitka spruce (US)"'
    assert text.count(old) == 1
    tabled = check(read_rig(text.replace(old, 'material = "Norway spruce"')))
    mine = text_of(text_of_wood(find_clear_wood("Norway spruce")))
    found = check(read_rig(text.replace(old, 'material = "my Norway spruce"') + mine))
    _same_verdict(found, tabled)


def test_a_mast_of_own_plies_gets_the_verdict_of_the_tables() -> None:
    text = (ROOT / "examples" / "glass_tube_5m.toml").read_text(encoding="utf-8")
    name = "E-glass/epoxy UD 0.45"
    mine = text_of(text_of_ply(find_ply_material(name)))
    _same_verdict(check(read_rig(text.replace(f'"{name}"', f'"my {name}"') + mine)), check(read_rig(text)))


def test_a_mast_of_own_metal_gets_the_verdict_of_the_tables() -> None:
    name = "6061-T6 extruded"
    (row,) = metal_rows(name, thinnest_m=0.004, thickest_m=0.006)
    mine = text_of(text_of_metal(row))
    found = check(read_rig(edited((f'material = "{name}"', f'material = "my {name}"')) + mine))
    _same_verdict(found, check(read_rig(GOOD)))


def _same_verdict(found: Any, wanted: Any) -> None:
    assert len(found.checks) == len(wanted.checks) > 20
    for a, b in zip(found.checks, wanted.checks, strict=True):
        assert (a.id, a.case, a.layer) == (b.id, b.case, b.layer)
        assert a.utilisation == pytest.approx(b.utilisation, rel=1e-9), (a.id, a.case)


# --- what is left out ---


def plain(material: Material, of: Any) -> float:
    """Return a value dry, cool and straight-grained, with no margin: the modulus or strength as it stands."""
    mine = own_timber(material)
    use = TimberUse(moisture=0.12, slope_of_grain=0.0, scarf_slope=0.0)
    return timber_of_rig(material.name, use, shape="round", solid=True, own=lambda _: mine, **SIZES).value_Pa(
        of
    )


@pytest.mark.parametrize(
    ("E_is", "apparent", "true"),
    [("apparent", 1.0, RAISED), ("true", 1 / RAISED, 1.0), ("not stated", 1.0, 1.0)],
)
def test_what_E_is_decides_what_is_free_of_shear(E_is: str, apparent: float, true: float) -> None:
    material = own("own spruce", E_is=E_is)
    assert plain(material, "E_apparent") == pytest.approx(10.5e9 * apparent, rel=1e-12)
    assert plain(material, "E_true") == pytest.approx(10.5e9 * true, rel=1e-12)
    # whatever E is, G is what the user gives
    assert plain(material, "G") == pytest.approx(0.66e9, rel=1e-12)


@pytest.mark.parametrize("name", ["own spruce", "own glulam"])
def test_G_is_a_sixteenth_of_E_free_of_shear_where_it_is_not_given(name: str) -> None:
    material = own(name, G=None)
    assert plain(material, "G") == pytest.approx(plain(material, "E_true") / 16, rel=1e-12)


def test_green_values_follow_E_where_it_is_given_free_of_shear() -> None:
    dry, true = own_timber(own("own spruce")), own_timber(own("own spruce", E_is="true"))
    assert isinstance(dry, ClearWood)
    assert isinstance(true, ClearWood)
    assert dry.modulus.green_Pa is not None
    assert true.modulus.green_Pa == pytest.approx(dry.modulus.green_Pa / RAISED, rel=1e-12)
    assert "free of shear" in true.note


@pytest.mark.parametrize(
    ("key", "attribute", "base"),
    [
        ("tension", "tension_Pa", "bending_Pa"),
        ("tension_perp", "tension_perp_Pa", "shear_Pa"),
        ("E_low", "E_05_Pa", "E_mean_Pa"),
    ],
)
def test_what_a_grade_lacks_is_as_low_as_in_any_class(key: str, attribute: str, base: str) -> None:
    material = own("own glulam", **{key: None})
    row = own_timber(material)
    assert isinstance(row, StrengthClass)
    share = getattr(row, attribute) / getattr(row, base)
    shares = [getattr(c, attribute) / getattr(c, base) for c in strength_classes()]
    assert share == pytest.approx(min(shares), rel=1e-12)
    told = dict(row.estimated)
    assert "the lowest of the classes" in told[attribute]
    timber = timber_of_rig(row.name, TimberUse(), shape="round", solid=True, own=lambda _: row, **SIZES)
    assert any("not given: estimated" in caution for caution in timber.cautions)
    begun = [c for c in timber.chains if c.provenance == "derived" and "estimate" in c.start_name]
    assert begun


def test_a_grade_that_gives_all_is_not_doubted() -> None:
    row = own_timber(own("own glulam"))
    timber = timber_of_rig(row.name, TimberUse(), shape="round", solid=True, own=lambda _: row, **SIZES)
    assert not any("not given" in caution for caution in timber.cautions)
    # but for the modulus across, which no rule of EN 1995-1-1 for a spar asks for
    assert [c.of for c in timber.chains if c.provenance == "derived"] == ["E_across"]


def test_wood_without_green_values_says_that_they_are_estimates() -> None:
    keys = [key for key in OWN["own spruce"] if key.endswith("_green")]
    row = own_timber(own("own spruce", **dict.fromkeys(keys)))
    timber = timber_of_rig(row.name, TimberUse(), shape="round", solid=True, own=lambda _: row, **SIZES)
    assert any("green values of" in caution for caution in timber.cautions)


def test_a_ply_without_strains_fails_at_strength_over_modulus() -> None:
    ply = own_ply(own("own ply", **dict.fromkeys(STRAINS)))
    assert all(getattr(ply, name) is None for name in STRAINS)


def test_the_material_of_the_notes_is_good_and_bears_something() -> None:
    notes = (ROOT / "reference_notes" / "commands.md").read_text(encoding="utf-8")
    (block,) = (b for b in re.findall(r"```toml\n(.*?)```", notes, re.DOTALL) if "[[material]]" in b)
    material = read_rig(f"{GOOD}\n{block}").materials[-1]
    assert material.source == "bending tests of twelve pieces, May"
    mine = own_timber(material)
    timber = timber_of_rig(
        material.name, TimberUse(), shape="round", solid=False, own=lambda _: mine, **SIZES
    )
    assert timber.missing == ()
    assert any("estimated" in caution for caution in timber.cautions)


# --- names ---


def test_the_names_are_those_of_the_tables() -> None:
    rows: dict[str, Any] = {
        "metal": metals(),
        "species": clear_woods(),
        "class": strength_classes(),
        "ply": ply_materials(),
    }
    for kind in KINDS:
        assert len(set(table_names(kind))) == len(table_names(kind)) > 7
        if kind in rows:
            assert set(table_names(kind)) == {row.name for row in rows[kind]}
    every = [name for kind in KINDS for name in table_names(kind)]
    assert all(len(kinds_of(name)) == 1 for name in every)
    assert kinds_of("unobtainium") == ()


def test_every_name_has_its_family() -> None:
    families = {"metal": "metal", "species": "timber", "class": "timber", "ply": "ply"}
    for kind in KINDS:
        for name in table_names(kind):
            if kind in families:
                assert family_of(name) == families[kind]
            else:
                with pytest.raises(MaterialError, match=f"a {kind} by itself makes no mast"):
                    family_of(name)


def test_own_names_come_before_laminates_and_those_before_the_tables() -> None:
    assert family_of("C24", own={"C24": "foam"}, laminates=["C24"]) == "foam"
    assert family_of("C24", laminates=["C24"]) == "laminate"
    assert family_of("tube", laminates=["tube"]) == "laminate"


@pytest.mark.parametrize(
    ("typed", "remedy"),
    [
        ("sitka spruce (us)", "Did you mean 'Sitka spruce (US)'?"),
        ("c 24", "Did you mean 'C24'?"),
        ("6061t6 drawn", "Did you mean '6061-T6 drawn'?"),
        ("my pin", "Did you mean 'my pine'?"),
        ("glas tube", "Did you mean 'glass tube'?"),
        ("E-glass/epoxy UD 0.46", "'E-glass/epoxy UD 0.4"),
        ("unobtainium", "`rigcalc materials` lists"),
        ("", "`rigcalc materials` lists"),
    ],
)
def test_a_near_miss_is_answered_over_all_tables(typed: str, remedy: str) -> None:
    with pytest.raises(MaterialError, match="no material of this name") as caught:
        family_of(typed, own={"my pine": "timber"}, laminates=["glass tube"])
    assert remedy in caught.value.remedy


@pytest.mark.parametrize(
    ("make", "family"), [(own_metal, "metal"), (own_timber, "timber"), (own_ply, "ply"), (own_foam, "foam")]
)
@pytest.mark.parametrize("name", OWN)
def test_a_material_of_another_family_is_refused(
    make: Callable[[Material], Any], family: str, name: str
) -> None:
    material = own(name)
    if material.family == family:
        assert make(material).name == name
        return
    with pytest.raises(MaterialError, match=f"of family {material.family}, and a {family} is wanted"):
        make(material)


def test_plies_are_found_among_the_users_own_first() -> None:
    find = ply_finder([own("own ply"), own("own foam")])
    assert find("own ply").source == "sheet of the maker"
    assert find("E-glass/epoxy UD 0.45") == find_ply_material("E-glass/epoxy UD 0.45")
    with pytest.raises(MaterialError, match="Did you mean 'own ply'"):
        find("own pli")
    with pytest.raises(MaterialError, match="no ply of this name"):
        find("own foam")


def test_nothing_in_a_row_of_the_users_own_is_not_a_number() -> None:
    makers: dict[str, Callable[[Material], Any]] = {
        "metal": own_metal, "timber": own_timber, "ply": own_ply, "foam": own_foam
    }  # fmt: skip
    for name in OWN:
        material = own(name)
        row = makers[material.family](material)
        for value in asdict(row).values():
            assert not isinstance(value, float) or math.isfinite(value)
