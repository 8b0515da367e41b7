"""Tables of constituents and plies, and plies from constituents.

Values said to be worked out elsewhere come from scripts independent of this code, from the inputs stated.
"""

from __future__ import annotations

import math
from dataclasses import FrozenInstanceError, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcalc.formulas.laminates import fibre_mass_fraction, fibre_volume_fraction, ply_thickness
from rigcalc.materials import MaterialError
from rigcalc.materials.laminates import (
    METHODS,
    Fibre,
    Method,
    Ply,
    PlyMaterial,
    Resin,
    fibre_fraction_of,
    fibres,
    find_fibre,
    find_ply_material,
    find_resin,
    ply_from_constituents,
    ply_materials,
    resins,
)

GLASS = find_ply_material("E-glass/epoxy UD 0.45").of_fibre_mass(0.3)


# --- the tables ---

EVERYTHING: tuple[Fibre | Resin | PlyMaterial, ...] = (*fibres(), *resins(), *ply_materials())


@pytest.mark.parametrize("row", EVERYTHING, ids=lambda row: row.name)
def test_each_row_says_where_it_comes_from(row: Fibre | Resin | PlyMaterial) -> None:
    assert row.provenance in ("read", "memory")
    assert row.source
    assert "://" not in row.source + row.note
    if row.provenance == "memory":
        assert "from memory" in row.source + row.note
    if row.provenance == "read":
        assert "read" in row.source
        assert "from memory" not in row.source


def test_names_are_unique() -> None:
    for rows in (fibres(), resins(), ply_materials()):
        assert len({row.name for row in rows}) == len(rows) > 7


@pytest.mark.parametrize("fibre", fibres(), ids=lambda fibre: fibre.name)
def test_fibres_are_in_their_family(fibre: Fibre) -> None:
    glass = "glass" in fibre.name
    assert 70e9 < fibre.E1_Pa < (90e9 if glass else 250e9)
    assert (2450 if glass else 1700) < fibre.density_kg_m3 < (2650 if glass else 1850)
    if glass:  # alike in all directions, to the rounding of handbooks
        assert fibre.E2_Pa == fibre.E1_Pa
        assert fibre.G12_Pa == pytest.approx(fibre.E1_Pa / 2 / (1 + fibre.nu12), rel=0.02)
    else:
        assert fibre.E2_Pa < 0.1 * fibre.E1_Pa


def test_no_fibre_has_the_strength_of_a_single_filament() -> None:
    """Virgin filaments are listed at 3450 MPa and over for E-glass and 4500 for S-glass."""
    glass = [f.tension_in_ply_Pa for f in fibres() if "glass" in f.name and f.tension_in_ply_Pa is not None]
    assert glass
    assert max(glass) < 2500e6


@pytest.mark.parametrize("resin", resins(), ids=lambda resin: resin.name)
def test_resins_are_in_their_family(resin: Resin) -> None:
    assert 2.5e9 < resin.E_Pa < 4.5e9
    assert 1100 < resin.density_kg_m3 < 1300  # where 1380 to 1540 was read it was left out
    # polyester's G was read 9 % above what its E and nu make
    assert resin.G_Pa == pytest.approx(resin.E_Pa / 2 / (1 + resin.nu), rel=0.09)


@pytest.mark.parametrize("material", ply_materials(), ids=lambda material: material.name)
def test_plies_are_in_their_family(material: PlyMaterial) -> None:
    left = material.density_kg_m3 - material.fibre_fraction * material.fibre_density_kg_m3
    # what is left for the resin; 940 in the one row whose density is too low, as its note says
    assert 900 < left / (1 - material.fibre_fraction) < 1450
    assert (material.fibre_density_kg_m3 > 2000) == ("glass" in material.name)
    assert material.E1_Pa >= material.E2_Pa
    for strength, stiffness in ((material.Xt_Pa, material.E1_Pa), (material.Yt_Pa, material.E2_Pa)):
        if strength is not None:
            assert 0.0015 < strength / stiffness < 0.035
    if material.fibres is not None:
        assert sum(share for _, share in material.fibres) == pytest.approx(1.0, rel=1e-15)


@pytest.mark.parametrize(
    ("name", "field", "value"),
    [
        # Kaw, Table 2.1, read as quoted elsewhere
        ("E-glass/epoxy UD 0.45", "Xt_Pa", 1062e6),
        ("E-glass/epoxy UD 0.45", "G12_Pa", 4.14e9),
        ("carbon/epoxy UD 0.70", "Yc_Pa", 246e6),
        # trade table, read
        ("E-glass/epoxy UD 0.60", "strain_2t", 0.0035),
        ("E-glass/epoxy woven 0.50", "strain_12", 0.01),
        # reference turbine, read
        ("E-glass/epoxy UD 0.57 infused, blade", "S12_Pa", 18.91e6),
    ],
)
def test_values_are_those_of_the_sources(name: str, field: str, value: float) -> None:
    assert getattr(find_ply_material(name), field) == value


def test_missing_values_are_none() -> None:
    assert find_ply_material("carbon/epoxy UD 0.55").Xc_Pa is None
    assert find_fibre("E-glass").tension_in_ply_Pa is None
    assert find_resin("vinylester").ultimate_strain is None


def test_shear_modulus_left_out_follows_from_poisson() -> None:
    assert find_resin("epoxy, infusion").G_Pa == pytest.approx(2.9e9 / 2.5, rel=1e-15)


@pytest.mark.parametrize(
    ("find", "name", "remedy"),
    [
        (find_fibre, "E glass", "Did you mean 'E-glass'?"),
        (find_resin, "vinyl ester", "Did you mean 'vinylester'?"),
        (find_ply_material, "wool", "Choose one such as 'E-glass/epoxy UD 0.45'."),
    ],
)
def test_unknown_name_is_refused_with_a_remedy(find: object, name: str, remedy: str) -> None:
    assert callable(find)
    with pytest.raises(MaterialError) as caught:
        find(name)
    assert caught.value.remedy == remedy


def test_rows_cannot_be_changed() -> None:
    with pytest.raises(FrozenInstanceError):
        fibres()[0].E1_Pa = 1.0  # type: ignore[misc]  # the error under test


# --- plies ---


def test_mass_and_thickness_of_a_cloth() -> None:
    assert GLASS.thickness_m == pytest.approx(0.3 / (2540 * 0.45), rel=1e-14)
    assert GLASS.mass_kg_m2 == pytest.approx(1775.5 * 0.3 / (2540 * 0.45), rel=1e-14)
    again = find_ply_material("E-glass/epoxy UD 0.45").of_thickness(GLASS.thickness_m)
    assert again.fibre_mass_kg_m2 == pytest.approx(0.3, rel=1e-14)


@pytest.mark.parametrize("psi", [0.3, 0.45, 0.6, 0.7])
def test_thickness_is_that_of_the_marine_rules(psi: float) -> None:
    """t = W (2.56/psi - 1.36)/3.072 in mm and kg/m2: ISO 12215-5 and Lloyd's Register, from memory."""
    V_f = fibre_volume_fraction(psi=psi, rho_f=2560.0, rho_m=1200.0)
    ours = ply_thickness(W=1.0, rho_f=2560.0, V_f=V_f) * 1e3
    assert ours == pytest.approx((2.56 / psi - 1.36) / 3.072, rel=1e-14)


@pytest.mark.parametrize(("psi", "thickness_mm"), [(0.51, 1.2), (0.67, 0.8)])
def test_thickness_is_that_of_boatbuilders(psi: float, thickness_mm: float) -> None:
    """1.2 mm to the kg/m2 of stitched glass by hand, 0.8 infused: read on a boatbuilders' forum."""
    V_f = fibre_volume_fraction(psi=psi, rho_f=2560.0, rho_m=1200.0)
    assert ply_thickness(W=1.0, rho_f=2560.0, V_f=V_f) * 1e3 == pytest.approx(thickness_mm, abs=0.015)


@given(V_f=st.floats(0.05, 0.9))
def test_fractions_by_mass_and_volume_undo_each_other(V_f: float) -> None:
    densities = {"rho_f": 2540.0, "rho_m": 1150.0}
    psi = fibre_mass_fraction(V_f=V_f, V_m=1 - V_f, **densities)
    assert fibre_volume_fraction(psi=psi, **densities) == pytest.approx(V_f, rel=1e-13)


PLAIN_FIBRE = Fibre(
    name="glass",
    E1_Pa=73e9,
    E2_Pa=73e9,
    G12_Pa=73e9 / 2.44,
    nu12=0.22,
    density_kg_m3=2560.0,
    tension_in_ply_Pa=2150e6,
    provenance="read",
    source="test",
)
PLAIN_RESIN = Resin(
    name="epoxy",
    E_Pa=3.3e9,
    G_Pa=3.3e9 / 2.7,
    nu=0.35,
    density_kg_m3=1150.0,
    provenance="read",
    source="test",
)


def made(V_f: float, method: Method = "halpin-tsai", void_fraction: float = 0.0) -> Ply:
    return ply_from_constituents(
        PLAIN_FIBRE,
        PLAIN_RESIN,
        fibre_fraction=V_f,
        areal_mass_kg_m2=1.0,
        method=method,
        void_fraction=void_fraction,
    )


@pytest.mark.parametrize(
    ("V_f", "rho", "E1", "E2_inverse", "E2", "G12_inverse", "G12", "nu12", "t_mm"),
    [
        (0.40, 1714, 31.2, 5.34, 8.64, 1.98, 2.65, 0.298, 0.977),
        (0.50, 1855, 38.1, 6.31, 11.01, 2.35, 3.31, 0.285, 0.781),
        (0.60, 1996, 45.1, 7.73, 14.26, 2.88, 4.25, 0.272, 0.651),
    ],
)
def test_glass_and_epoxy_as_worked_out_elsewhere(
    V_f: float,
    rho: float,
    E1: float,
    E2_inverse: float,
    E2: float,
    G12_inverse: float,
    G12: float,
    nu12: float,
    t_mm: float,
) -> None:
    low, likely = made(V_f, "inverse"), made(V_f, "halpin-tsai")
    assert low.density_kg_m3 == pytest.approx(rho, abs=0.5)
    assert likely.E1_Pa / 1e9 == pytest.approx(E1, abs=0.05)
    assert low.E2_Pa / 1e9 == pytest.approx(E2_inverse, abs=0.006)
    assert likely.E2_Pa / 1e9 == pytest.approx(E2, abs=0.006)
    assert low.G12_Pa / 1e9 == pytest.approx(G12_inverse, abs=0.006)
    assert likely.G12_Pa / 1e9 == pytest.approx(G12, abs=0.006)
    assert likely.nu12 == pytest.approx(nu12, abs=0.0005)
    assert likely.thickness_m * 1e3 == pytest.approx(t_mm, abs=0.0005)


@pytest.mark.parametrize("method", list(METHODS))
@given(V_f=st.floats(0.1, 0.7))
def test_every_method_lies_between_resin_and_fibre(method: Method, V_f: float) -> None:
    found, low = made(V_f, method), made(V_f, "inverse")
    for value, least, most in (
        # the resin between fibres is held from shrinking, so it counts stiffer than alone
        (found.E2_Pa, low.E2_Pa, PLAIN_FIBRE.E2_Pa),
        (found.G12_Pa, low.G12_Pa, PLAIN_FIBRE.G12_Pa),
    ):
        assert least * (1 - 1e-12) <= value < most
    assert found.provenance == "computed"
    assert METHODS[method] in found.source


@pytest.mark.parametrize(
    ("method", "E2_GPa", "G12_GPa"),
    # from the forms as they were read
    [("puck", 10.219, 4.057), ("chamis", 10.158, 3.798), ("halpin-tsai-1.5", 9.971, 3.311)],
)
def test_methods_as_worked_out_elsewhere(method: Method, E2_GPa: float, G12_GPa: float) -> None:
    found = made(0.5, method)
    assert found.E2_Pa / 1e9 == pytest.approx(E2_GPa, abs=0.0006)
    assert found.G12_Pa / 1e9 == pytest.approx(G12_GPa, abs=0.0006)


def test_methods_differ() -> None:
    assert (
        len(
            {
                made(0.5, method).E2_Pa
                for method in ("inverse", "halpin-tsai", "halpin-tsai-1.5", "chamis", "puck")
            }
        )
        == 5
    )


def test_voids_take_the_place_of_resin() -> None:
    solid, porous = made(0.5), made(0.5, void_fraction=0.04)
    assert solid.density_kg_m3 - porous.density_kg_m3 == pytest.approx(0.04 * 1150, rel=1e-12)
    assert solid.E1_Pa - porous.E1_Pa == pytest.approx(0.04 * 3.3e9, rel=1e-9)
    assert porous.Xt_Pa is not None
    assert solid.Xt_Pa is not None
    assert porous.Xt_Pa < solid.Xt_Pa


def test_strength_is_computed_where_it_came_from_plies_alone() -> None:
    """2150 MPa at 0.45 gives 970 MPa and a bit for the resin; tests of such plies gave 1062 (Kaw, read)."""
    found = made(0.45)
    assert found.Xt_Pa == pytest.approx(2150e6 * (0.45 + 0.55 * 3.3 / 73), rel=1e-12)
    assert found.Xc_Pa is found.Yt_Pa is found.Yc_Pa is found.S12_Pa is None
    bare = replace(PLAIN_FIBRE, tension_in_ply_Pa=None)
    other = ply_from_constituents(bare, PLAIN_RESIN, fibre_fraction=0.45, areal_mass_kg_m2=1.0, method="puck")
    assert other.Xt_Pa is None


def test_memory_of_a_constituent_is_passed_on() -> None:
    found = ply_from_constituents(
        find_fibre("S-glass"),
        find_resin("epoxy, wet lay-up"),
        fibre_fraction=0.5,
        areal_mass_kg_m2=0.4,
        method="chamis",
    )
    assert found.provenance == "memory"


def test_measured_thickness_gives_the_fibre_fraction() -> None:
    fibre = find_fibre("E-glass")
    assert fibre_fraction_of(fibre, areal_mass_kg_m2=0.6, thickness_m=0.6e-3) == pytest.approx(
        1 / 2.54, rel=1e-14
    )
    with pytest.raises(MaterialError, match="cannot be"):
        fibre_fraction_of(fibre, areal_mass_kg_m2=0.6, thickness_m=0.2e-3)


def refused_ply(**wrong: object) -> None:
    replace(GLASS, **wrong)  # type: ignore[arg-type]  # one wrong value at a time


@pytest.mark.parametrize(
    ("wrong", "problem"),
    [
        ({"E1_Pa": 0.0}, "E1_Pa is 0"),
        ({"E2_Pa": math.nan}, "E2_Pa is nan"),
        ({"G12_Pa": math.inf}, "G12_Pa is inf"),
        ({"Yt_Pa": -31e6}, "Yt_Pa is -3.1e"),
        ({"strain_2t": 0.0}, "strain_2t is 0"),
        ({"nu12": 2.5}, "nu12 of 2.5 cannot be"),
        ({"nu12": math.nan}, "nu12 of nan cannot be"),
        ({"fibre_fraction": 1.0}, "fibre_fraction of 1 cannot be"),
        ({"thickness_m": 0.0}, "thickness_m is 0"),
    ],
)
def test_impossible_ply_is_refused(wrong: dict[str, object], problem: str) -> None:
    with pytest.raises(MaterialError, match=problem):
        refused_ply(**wrong)


def test_impossible_makings_are_refused() -> None:
    with pytest.raises(MaterialError, match="leaves no resin"):
        made(0.5, void_fraction=0.5)
    with pytest.raises(MaterialError, match="fibre fraction of 1"):
        made(1.2)
    with pytest.raises(MaterialError, match="no method 'guess'"):
        made(0.5, "guess")  # type: ignore[arg-type]  # the error under test
    with pytest.raises(MaterialError, match="makes no sense"):
        find_ply_material("E-glass/epoxy UD 0.45").of_fibre_mass(0.0)
    with pytest.raises(MaterialError, match="makes no sense"):
        find_ply_material("E-glass/epoxy UD 0.45").of_thickness(math.nan)
