"""The rules for the user's own materials: every bound fires on both its sides, and no row of the tables breaks one.

That rows of the tables are taken is held by tests/materials/test_own.py, which reads each of them as a user's own.
"""

from __future__ import annotations

import pytest

from rigcalc.errors import RigInputError
from rigcalc.rig import Material
from rigcalc.rig.fields import Quantity, described_fields, spec_of
from rigcalc.rigfile import read_rig
from rigcalc.rigfile.agree.materials import (
    BANDS,
    MOST_OF_STRAIN,
    RATIOS,
    RESIN_KG_M3,
    STRAIN_AT_BREAK,
    STRAINS,
)
from rigcalc.units import parse, show

from . import GOOD
from .own import OWN, Table, own_table, own_text, text_of

KIND_OF = {
    "clear-wood": ("own spruce", {}),
    "characteristic": ("own glulam", {}),
    "timber": ("own spruce", {}),
    "ply": ("own ply", {}),
    "ud": ("own ply", {}),
    "mat": ("own ply", {"form": "mat", "E2": "39.5 GPa"}),
    "foam": ("own foam", {}),
}
"""Kind of ratio -> a material of that kind."""


def key_of(name: str) -> str:
    return name.removesuffix("_Pa").removesuffix("_kg_m3")


def problems(table: Table) -> dict[str, list[str]]:
    """Return path -> what is said of it; empty where the file is good."""
    try:
        read_rig(f"{GOOD}\n{text_of(table)}")
    except RigInputError as error:
        found: dict[str, list[str]] = {}
        for p in error.problems:
            found.setdefault(p.path, []).append(p.allowed)
        return found
    return {}


def value(table: Table, name: str) -> float:
    text = table[key_of(name)]
    assert isinstance(text, str)
    return parse(text, "kg/m3" if name.endswith("kg_m3") else "Pa")


@pytest.mark.parametrize("name", OWN)
def test_the_good_ones_are_good(name: str) -> None:
    assert problems(own_table(name)) == {}


NEEDED = {
    "own spruce": {"family", "density", "basis", "E", "bending", "compression"},
    "own glulam": {"family", "density", "basis", "E", "bending", "compression", "compression_perp", "shear"},
    "own ply": {"family", "density", "form", "fibre_fraction", "fibre_density", "E1", "E2", "G12", "nu12"},
    "own foam": {"family", "density", "E", "G", "compression", "shear"},
    "own tube": {"family", "density", "E", "G", "proof", "ultimate"},
}
WELDED = {"welded_proof", "welded_ultimate"}
"""These belong together: neither may be left out alone."""


@pytest.mark.parametrize("name", OWN)
def test_no_more_is_needed_than_that(name: str) -> None:
    wanted = {key for key in OWN[name] if problems(own_table(name, **{key: None}))}
    assert wanted - WELDED == NEEDED[name]
    left_out = dict.fromkeys(OWN[name].keys() - NEEDED[name])
    assert problems(own_table(name, **left_out)) == {}


EVERY_RATIO = [(kind, ratio) for kind, ratios in RATIOS.items() for ratio in ratios]


@pytest.mark.parametrize(("kind", "ratio"), EVERY_RATIO, ids=[f"{k} {r.of}/{r.to}" for k, r in EVERY_RATIO])
def test_every_ratio_is_held_on_both_sides(kind: str, ratio: object) -> None:
    name, changes = KIND_OF[kind]
    table = own_table(name, **changes)
    of, to, low, high = (getattr(ratio, key) for key in ("of", "to", "low", "high"))
    path = f"material[1].{key_of(of)}"
    for share, beyond in ((low, 0.98), (low, 1.02), (high, 0.98), (high, 1.02)):
        # strain by strain a ply is judged otherwise, and would speak here too
        asked = {**table, key_of(of): f"{share * beyond * value(table, to)!r} Pa"}
        asked = {key: v for key, v in asked.items() if not key.startswith("strain")}
        outside = (share == low) == (beyond < 1)
        told = [text for text in problems(asked).get(path, ()) if f" of {key_of(to)}, " in text]
        assert bool(told) == outside, (share * beyond, told)
        if outside:
            assert f"it is {low:.3g} to {high:.3g}" in told[0]


EVERY_BAND = [(family, name, band) for family, bands in BANDS.items() for name, band in bands.items()]


@pytest.mark.parametrize(("family", "name", "band"), EVERY_BAND, ids=[f"{f} {n}" for f, n, _ in EVERY_BAND])
def test_every_band_of_a_family_is_held(family: str, name: str, band: tuple[float, float]) -> None:
    which = next(one for one, table in OWN.items() if table["family"] == family)
    unit = "kg/m3" if name.endswith("kg_m3") else "Pa"
    spec = spec_of(described_fields(Material)[key_of(name)])
    assert isinstance(spec, Quantity)
    assert spec.sane is not None
    for limit, step in ((band[0], 0.99), (band[1], 1.01)):
        told = problems(own_table(which, **{key_of(name): show(limit * step, unit, digits=9)}))
        said = " ".join(told[f"material[1].{key_of(name)}"])
        if spec.sane[0] <= limit * step <= spec.sane[1]:
            assert f"where that of a {family} lies" in said
            # a value that is a slip is not held against the others
            assert set(told) == {f"material[1].{key_of(name)}"}
        else:
            assert "it lies outside" in said


@pytest.mark.parametrize(("strain", "strength", "modulus", "least"), STRAINS)
def test_ultimate_strains_go_with_strength_and_modulus(
    strain: str, strength: str, modulus: str, least: float
) -> None:
    table = own_table("own ply")
    linear = value(table, strength) / value(table, modulus)
    path = f"material[1].{strain}"
    for share, good in ((least * 1.01, True), (least * 0.99, False), (MOST_OF_STRAIN * 0.99, True),
                        (MOST_OF_STRAIN * 1.01, False)):  # fmt: skip
        told = problems({**table, strain: linear / share})
        if linear / share <= 0.2:
            assert (path not in told) == good, share


@pytest.mark.parametrize(("strain", "strength", "modulus", "_"), STRAINS)
def test_strength_over_modulus_is_a_strain_at_which_plies_fail(
    strain: str, strength: str, modulus: str, _: float
) -> None:
    table = own_table("own ply", **{strain: None})
    for limit, step, good in ((STRAIN_AT_BREAK[0], 1.02, True), (STRAIN_AT_BREAK[0], 0.98, False),
                              (STRAIN_AT_BREAK[1], 1.02, False)):  # fmt: skip
        told = problems({**table, key_of(strength): f"{limit * step * value(table, modulus)!r} Pa"})
        said = [text for text in told.get(f"material[1].{key_of(strength)}", ()) if "at failure" in text]
        sane = any("outside" in text for text in told.get(f"material[1].{key_of(strength)}", ()))
        assert sane or bool(said) != good, (limit, step)


@pytest.mark.parametrize(("resin", "good"), [(0.99, False), (1.01, True)])
def test_what_is_not_fibre_weighs_what_resin_does(resin: float, good: bool) -> None:
    for limit, share in ((RESIN_KG_M3[0], resin), (RESIN_KG_M3[1], 2 - resin)):
        density = 0.52 * 2550 + 0.48 * limit * share
        told = problems(own_table("own ply", density=f"{density!r} kg/m3"))
        assert (told == {}) == good


def test_no_rule_speaks_twice_of_one_slip() -> None:
    """A decimal point out of place in the base of several ratios is told once."""
    told = problems(own_table("own spruce", E="1.05 GPa"))
    assert set(told) == {"material[1].E"}


def test_a_material_whose_family_is_unknown_is_asked_for_that_alone() -> None:
    text = own_text("own spruce").replace('family = "timber"', 'family = "wood"')
    with pytest.raises(RigInputError) as caught:
        read_rig(f"{GOOD}\n{text}")
    assert [p.path for p in caught.value.problems] == ["material[1].family"]


def test_a_timber_whose_basis_is_missing_is_asked_for_that_alone() -> None:
    assert set(problems(own_table("own spruce", basis=None))) == {"material[1].basis"}
