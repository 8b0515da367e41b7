"""Sheaths of laminate on masts of other things."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from rigcalc import CheckResult, check
from rigcalc.materials.laminates import find_ply_material

from . import CARBON, GLASS, WALL, checked, plies, rig_of, worst

TUBE = {
    "material": "6061-T6 drawn",
    "stations": [
        {"height": "0 m", "diameter": "80 mm", "wall": "3 mm"},
        {"height": "5 m", "diameter": "80 mm", "wall": "3 mm"},
    ],
}
SPRUCE = {
    "material": "Sitka spruce (US)",
    "shape": "staves",
    "stations": [
        {"height": "0 m", "diameter": "110 mm", "wall": "22 mm"},
        {"height": "5 m", "diameter": "80 mm", "wall": "18 mm"},
    ],
}
COAT = [{"name": "coat", "plies": plies((0, 1.0), (90, 0.5))}]
AL = 70e9


def sheathed(
    mast: dict[str, Any], start: float = 0.0, end: float = 5.0, side: str = "over", coat: Any = COAT
) -> CheckResult:
    sheath = [{"start": f"{start} m", "end": f"{end} m", "laminate": "coat", "side": side}]
    return checked(mast={**mast, "sheath": sheath}, more=coat)


def second(outer: float, inner: float) -> float:
    return math.pi / 64 * (outer**4 - inner**4)


@pytest.mark.parametrize(("side", "outer"), [("over", 0.083), ("inside", 0.074)])
def test_it_bends_with_what_is_under_it(side: str, outer: float) -> None:
    result = sheathed(TUBE, side=side)
    own = find_ply_material(GLASS)
    # the two plies keep each other from shrinking across: their shares by hand, with N_y = 0
    d = 1 - own.nu12**2 * own.E2_Pa / own.E1_Pa
    Q11, Q22, Q12 = own.E1_Pa / d, own.E2_Pa / d, own.nu12 * own.E2_Pa / d
    cross = Q12 * 1.5 / (Q22 * 1.0 + Q11 * 0.5)
    along = {1.0: Q11 - cross * Q12, 0.5: Q22 - cross * Q12}
    edges = np.array([outer - 3e-3, outer - 1e-3, outer])
    laid = sum(
        E * second(high, low) for E, low, high in zip(along.values(), edges[:-1], edges[1:], strict=True)
    )
    assert result.stations.EI_N_m2[0] == pytest.approx(AL * second(0.08, 0.074) + laid, rel=1e-9)
    assert result.stations.diameter_m[0] == pytest.approx(max(0.08, outer))


def test_its_plies_feel_the_strain_of_the_whole() -> None:
    result = sheathed(TUBE)
    found = worst(result, "ply max-strain", "sheath 1")
    (case,) = result.cases
    moment = max(case.max_moment_N_m, case.bent_moment_N_m or 0.0)
    strain = moment * 0.0415 / result.stations.EI_N_m2[0]
    strain += 430 / (AL * math.pi / 4 * (0.08**2 - 0.074**2) + 3e10 * math.pi * 0.0815 * 1.5e-3)
    # the ply round the mast is stretched across by all of it, but for a hair that the wall shrinks
    weak = 31e6 / 8.27e9 * 0.8 * 100**-0.1
    assert found.utilisation == pytest.approx(1.5 * strain / weak, rel=0.02)
    assert found.advice == "" or "stiffen the mast" in found.advice


def test_it_takes_load_off_the_metal() -> None:
    bare = checked(mast=TUBE)
    coated = sheathed(TUBE)
    share = bare.stations.EI_N_m2[0] / coated.stations.EI_N_m2[0]
    assert worst(coated, "yield").demand / worst(bare, "yield").demand == pytest.approx(share, rel=0.03)


def test_it_is_kept_from_buckling_and_flattening() -> None:
    ids = {c.id for c in sheathed(TUBE).checks if c.layer == "sheath 1"}
    assert not ids & {"wall-buckling", "flattening", "ring"}
    assert {"interlaminar", "bearing", "crushing"} <= ids


def test_at_its_ends_it_hands_its_load_over() -> None:
    result = sheathed(TUBE, 0.3, 1.5)
    found = worst(result, "interlaminar", "sheath 1")
    assert found.height_m == pytest.approx(1.5)
    whole = worst(sheathed(TUBE), "interlaminar", "sheath 1")
    assert found.demand > 5 * whole.demand


def test_its_bond_carries_what_it_takes_of_the_shear_force() -> None:
    result = sheathed(TUBE)
    found = worst(result, "interlaminar", "sheath 1")
    (case,) = result.cases
    share = 1 - AL * second(0.08, 0.074) / result.stations.EI_N_m2[0]
    most = case.bury_shear_N / (math.pi * 0.04075**2)
    assert share * most < found.demand < most


@pytest.mark.parametrize("turned", [True, False])
def test_a_mast_of_wood_can_be_sheathed(turned: bool) -> None:
    mast = SPRUCE | ({} if turned else {"outside": "flat"})
    bare, coated = checked(mast=mast), sheathed(mast)
    assert coated.mast.mass_kg > bare.mast.mass_kg
    assert coated.stations.EI_N_m2[0] > 1.2 * bare.stations.EI_N_m2[0]
    assert coated.stations.diameter_m[0] == pytest.approx(0.113)
    assert worst(coated, "bending", "tube").demand < worst(bare, "bending", "tube").demand
    assert worst(coated, "ply tsai-wu", "sheath 1").utilisation > 0.0


def test_a_box_can_be_sheathed_and_is_solved_at_every_turn() -> None:
    box = {
        "material": "Sitka spruce (US)",
        "shape": "box",
        "stations": [
            {"height": z, "diameter": "110 mm", "breadth": "80 mm", "wall": "18 mm"} for z in ("0 m", "5 m")
        ],
    }
    bare, coated = checked(mast=box), sheathed(box)
    I_side = (0.11 * 0.08**3 - 0.074 * 0.044**3) / 12
    coat = (0.113 * 0.083**3 - 0.11 * 0.08**3) / 12
    E = bare.stations.EI_N_m2[0] / I_side
    more = coated.stations.EI_N_m2[0] - bare.stations.EI_N_m2[0]
    assert 0.6 < more / coat / 29e9 < 1.1, f"{more / coat:.3g}, wood {E:.3g}"
    found = worst(coated, "ply max-strain", "sheath 1")
    assert found.turn_deg is not None
    assert found.utilisation > 0.0


def test_carbon_on_aluminium_is_warned_of() -> None:
    carbon = [{"name": "coat", "plies": plies((0, 1.0), (90, 0.5), material=CARBON)}]
    said = "Carbon on aluminium eats the metal away"
    assert any(said in text for text in sheathed(TUBE, coat=carbon).warnings)
    assert not any(said in text for text in sheathed(TUBE).warnings)
    assert not any(said in text for text in sheathed(SPRUCE, coat=carbon).warnings)


def test_a_sheath_on_a_mast_of_laminate_thickens_it() -> None:
    sheath = [{"start": "0.3 m", "end": "1.2 m", "laminate": "coat"}]
    result = check(rig_of(WALL, mast={"sheath": sheath}, more=COAT))
    s = result.stations
    inside = (s.height_m > 0.31) & (s.height_m < 1.19)
    outside = s.height_m < 0.29
    assert s.diameter_m[inside][0] == pytest.approx(s.diameter_m[outside][0] + 3e-3)
    assert s.EI_N_m2[inside][0] > s.EI_N_m2[outside][0]
