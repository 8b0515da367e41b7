"""A core of foam against the strain of the mast around it, worked by hand."""

from __future__ import annotations

import math
import re
import tomllib

import pytest

from rigcalc import check
from rigcalc.rigfile import read_rig, starter_text
from rigcalc.verdict import CheckResult

from .rigfile import GOOD, VARIANTS, edited, toml_of
from .rigfile.own import own_table, own_text

LENGTH, BURY, PULL = 6.0, 0.8, 400.0
OUTER, WALL = 0.100, 0.004
E_TUBE, G_TUBE = 70e9, 27e9
E_FOAM, G_FOAM = 88e6, 28e6
BORE = OUTER - 2 * WALL


def cored(torque: str = "50 N m", **foam: str | float | None) -> str:
    """Return a plain tube with a core from heel to tip, pulled sideways at the tip and twisted."""
    table = tomllib.loads(starter_text())
    for key in ("sail", "case", "state"):
        table.pop(key, None)
    table["mast"] = {
        "length": f"{LENGTH} m",
        "bury": f"{BURY} m",
        "material": "6061-T6 drawn",
        "stations": [
            {"height": f"{z} m", "diameter": f"{OUTER * 1e3} mm", "wall": f"{WALL * 1e3} mm"}
            for z in (0, LENGTH)
        ],
        "plug": [{"start": "0 m", "end": f"{LENGTH} m", "material": "own foam"}],
    }
    pull = {"height": f"{LENGTH} m", "side": f"{PULL} N"}
    table["case"] = [{"name": "pull", "kind": "given", "point_load": [pull], "torque": torque}]
    table["material"] = [own_table("own foam", **foam)]
    return toml_of(table)


def demand(result: CheckResult, name: str) -> float:
    (found,) = (c for c in result.checks if c.id == name)
    assert found.layer == "plug 1"
    return found.demand


def test_a_core_is_strained_with_the_tube() -> None:
    result = check(read_rig(cored()))
    I_tube, I_core = (math.pi / 64 * (D**4 - d**4) for D, d in ((OUTER, BORE), (BORE, 0.0)))
    moment = PULL * (LENGTH - BURY)
    bent = moment * E_FOAM * BORE / 2 / (E_TUBE * I_tube + E_FOAM * I_core)
    assert demand(result, "core-crushing") == pytest.approx(bent, rel=1e-6)
    # below the partners the shear force is the pull times the lever over the bury, and the torque is whole
    share = E_FOAM * I_core / (E_TUBE * I_tube + E_FOAM * I_core)
    area = math.pi / 4 * BORE**2
    force = moment / BURY
    sheared = 4 / 3 * force * share / area
    twisted = 50.0 * G_FOAM * BORE / 2 / (G_TUBE * 2 * I_tube + G_FOAM * 2 * I_core)
    assert demand(result, "core-shear") == pytest.approx(sheared + twisted, rel=1e-6)


def test_its_mass_is_counted_and_its_stiffness_is_little() -> None:
    table = tomllib.loads(cored())
    del table["mast"]["plug"]
    plain = toml_of(table)
    with_it, without = check(read_rig(cored())), check(read_rig(plain))
    added = with_it.mast.mass_kg - without.mast.mass_kg
    assert added == pytest.approx(78.0 * math.pi / 4 * BORE**2 * LENGTH, rel=1e-9)
    tip = [r.cases[0].tip_deflection_m for r in (with_it, without)]
    assert 0.995 < tip[0] / tip[1] < 1.0


@pytest.mark.parametrize(
    ("name", "key", "weak"),
    [
        ("core-crushing", "compression", {"compression": "0.2 MPa", "shear": "0.3 MPa"}),
        ("core-shear", "shear", {"compression": "0.2 MPa", "shear": "0.05 MPa", "torque": "500 N m"}),
    ],
)
def test_capacity_is_strength_over_the_factor_and_the_advice_holds(
    name: str, key: str, weak: dict[str, str]
) -> None:
    strength_Pa = float(weak[key].split()[0]) * 1e6
    (found,) = (c for c in check(read_rig(cored(**weak, safety_factor=10))).checks if c.id == name)
    assert found.capacity == pytest.approx(strength_Pa / 10, rel=1e-12)
    assert "sheet of the maker" in found.source
    kind = name.removeprefix("core-")
    assert found.source.startswith(f"own foam: {weak[key].split()[0]} MPa in {kind} over 10. ")
    assert found.utilisation > 1
    told = re.search(r"a foam of ([\d.]+) MPa", found.advice)
    assert told is not None
    cured = check(read_rig(cored(**{**weak, key: f"{told[1]} MPa"}, safety_factor=10)))
    (again,) = (c for c in cured.checks if c.id == name)
    assert again.utilisation == pytest.approx(1.0, rel=0.005)


def test_it_is_said_what_a_core_is_not_counted_for() -> None:
    result = check(read_rig(edited(*VARIANTS["own foam"])))
    assert any("no credit for keeping the wall from buckling" in text for text in result.warnings)
    assert not any("foam" in text for text in check(read_rig(GOOD)).warnings)


def test_a_core_in_wood_does_not_make_it_solid() -> None:
    """Wood around foam is hollow still: its edge bears no more than without it."""
    species = edited(*VARIANTS["species"])
    start = species.index("[[mast.plug]]")
    end = species.index("[[mast.plug]]", start + 1)
    emptied = species[:start] + species[end:]
    foamed = species.replace('start = "0 m"\nend = "1.5 m"\ntail = "0.4 m"',
                             'start = "0 m"\nend = "1.5 m"\nmaterial = "own foam"') + own_text("own foam")  # fmt: skip
    empty, foam = check(read_rig(emptied)), check(read_rig(foamed))

    def used(result: CheckResult, id: str) -> float:
        return max(c.utilisation for c in result.checks if (c.id, c.layer) == (id, "tube"))

    for id in ("bending", "compression"):
        assert used(foam, id) == pytest.approx(used(empty, id), rel=0.01)
    assert {c.id for c in foam.checks if c.layer == "plug 1"} == {"core-crushing", "core-shear"}
