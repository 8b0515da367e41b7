"""Wood under glass: one strain, two strengths, and the example that shows it."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from rigcalc import CheckResult, check, load_rig
from rigcalc.limits import Check
from rigcalc.materials.timber import timber_of_rig
from rigcalc.rig import Rig

from . import C24, even, found, pushed, run, second

GLASS = """
[[mast.sheath]]
start = "0 m"
end = "7 m"
laminate = "glass"
"""
PLIES = """
[[laminate]]
name = "glass"
plies = [{material = "E-glass/epoxy UD 0.45", angle = "0 deg", thickness = "1.5 mm"}]
"""
SIDE, D = 0.5, 0.10


def test_wood_takes_its_share_by_stiffness_and_is_held_to_its_own_strength() -> None:
    bare = run(C24, stations=even(D), cases=pushed(SIDE))
    coated = run(C24, stations=even(D), mast=GLASS, more=PLIES, cases=pushed(SIDE))
    whole, wood = float(coated.stations.EI_N_m2[0]), float(bare.stations.EI_N_m2[0])
    glass = (whole - wood) / second(D + 3e-3, D)
    assert 34e9 < glass < 40e9
    share = wood / whole
    assert share < 0.75
    one, other = found(coated, "bending"), found(bare, "bending")
    assert one.demand == pytest.approx(share * other.demand, rel=1e-9)
    assert one.capacity == other.capacity
    # wood alone shears in the wood, by what of the bury's shear it bears
    assert found(coated, "shear").demand == pytest.approx(share * found(bare, "shear").demand, rel=1e-9)
    # glass does not creep, wood does: three times, outdoors
    creep = whole / (whole - wood + wood / 3) - 1
    assert found(coated, "creep-deflection").demand == pytest.approx(
        (1 + 0.1 * creep) * found(coated, "tip-deflection").demand, rel=1e-9
    )
    assert any(c.id.startswith("ply ") and c.layer == "sheath 1" for c in coated.checks)
    assert any("creeps and swells" in text for text in coated.warnings)
    assert not any("creeps and swells" in text for text in bare.warnings)


@cache
def example() -> tuple[Rig, CheckResult]:
    rig = load_rig(Path(__file__).resolve().parents[2] / "examples" / "sheathed_mast_5m.toml")
    return rig, check(rig)


def test_the_example_by_hand() -> None:
    """Bending of the pole at the partners: M E_w D/(2 EI), the sheath's part of EI from its own section."""
    rig, result = example()
    governing = found_in(result, "bending", "tube")
    case = next(c for c in result.cases if c.name == governing.case)
    pole = rig.mast.stations[1].diameter_m
    assert pole is not None
    timber = timber_of_rig(
        "C24", rig.timber, shape="round", solid=True, depth_m=pole, length_m=5.0, bury_m=rig.mast.bury_m
    )
    at = int(np.argmin(np.abs(result.stations.height_m - rig.mast.bury_m)))
    EI = float(result.stations.EI_N_m2[at])
    wall = (float(result.stations.diameter_m[at]) - pole) / 2
    E = timber.value_Pa("E_apparent")
    sheath = (EI - E * second(pole)) / second(pole + 2 * wall, pole)
    # 600 g/m2 of glass of 2540 kg/m3 at 0.45 by volume, and 200 at 0.50
    assert wall == pytest.approx(0.6 / (2540 * 0.45) + 0.2 / (2540 * 0.50), rel=0.02)
    assert 20e9 < sheath < 38e9
    moment = max(case.max_moment_N_m, case.bent_moment_N_m or 0.0)
    assert governing.demand == pytest.approx(moment * E * pole / 2 / EI, rel=1e-6)
    # 24 MPa x 0.9 / 1.3 x 0.9 of the scarf
    assert governing.capacity == pytest.approx(24e6 * 0.9 / 1.3 * 0.9, rel=1e-12)
    assert governing.height_m == rig.mast.bury_m
    # without its sheath the pole would not do
    alone = moment * 32 / (math.pi * pole**3)
    assert alone > 1.05 * governing.demand
    assert alone > governing.capacity


def found_in(result: CheckResult, id: str, layer: str) -> Check:
    return max((c for c in result.checks if (c.id, c.layer) == (id, layer)), key=lambda c: c.utilisation)
