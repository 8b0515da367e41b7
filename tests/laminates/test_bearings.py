"""Walls of laminate under partners and step."""

from __future__ import annotations

import math
import re
from typing import Any

import pytest

from rigcalc import CheckResult, RigInputError
from rigcalc.formulas.laminate_tubes import bearing_hoop_moment, ovalising_wave
from rigcalc.materials.laminates import find_ply_material

from . import CARBON, GLASS, WALL, checked, plies, with_ply, worst

EVEN = (84, 84, 84)
LENGTHS = {"partners": {"length": "70 mm"}, "step": {"length": "50 mm"}}


def at(result: CheckResult, id: str) -> set[float]:
    """Heights at which a check governs in any case."""
    return {round(c.height_m, 6) for c in result.checks if c.id == id}


@pytest.mark.parametrize("bearings", [None, LENGTHS])
def test_pressure_is_the_bearings_force_over_what_it_covers(bearings: dict[str, Any] | None) -> None:
    result = checked(bores=EVEN, bearings=bearings)
    (case,) = result.cases
    outer = 0.0956
    length = {"partners": 0.07, "step": 0.05} if bearings else dict.fromkeys(("partners", "step"), outer / 2)
    mean = max(case.partners_N / outer / length["partners"], case.step_N / outer / length["step"])
    assert worst(result, "bearing").demand == pytest.approx(mean, rel=1e-9)
    # as the cosine round half of it the peak is 4/pi of the mean
    assert worst(result, "crushing").demand == pytest.approx(4 / math.pi * mean, rel=1e-9)
    assert at(result, "bearing") <= {0.0, 0.6}


def test_the_step_is_looked_at_too() -> None:
    short = {"partners": {"length": "400 mm"}, "step": {"length": "20 mm"}}
    result = checked(bores=EVEN, bearings=short)
    assert at(result, "bearing") == {0.0}
    assert worst(result, "bearing").demand == pytest.approx(result.cases[0].step_N / 0.0956 / 0.02)


def test_on_a_post_the_bearings_press_from_inside() -> None:
    mast = {"support": "post", "post": {"diameter": "70 mm", "wall": "6 mm", "material": "6061-T6 drawn"}}
    result = checked(bores=EVEN, mast=mast, bearings=LENGTHS)
    (case,) = result.cases
    mean = max(case.partners_N / 0.084 / 0.07, case.step_N / 0.084 / 0.05)
    assert worst(result, "bearing", "tube").demand == pytest.approx(mean, rel=1e-9)


def test_a_sheath_at_the_partners_is_what_is_pressed() -> None:
    mast = {"sheath": [{"start": "0.4 m", "end": "0.8 m", "laminate": "wrap"}]}
    more = [{"name": "wrap", "plies": plies((85, 1.0), (-85, 1.0))}]
    result = checked(bores=EVEN, mast=mast, more=more, bearings=LENGTHS)
    (case,) = result.cases
    assert worst(result, "bearing", "sheath 1").demand == pytest.approx(
        case.partners_N / (0.0956 + 4e-3) / 0.07, rel=1e-9
    )
    # the tube itself is left with the step
    assert worst(result, "bearing", "tube").height_m == 0.0
    assert not [c for c in result.checks if c.id == "ring" and c.layer == "sheath 1"]


def test_what_lies_under_a_sheath_or_inside_the_mast_is_not_pressed() -> None:
    """With a step so long that the partners would have more, were they on the tube as well."""
    long = {"partners": {"length": "70 mm"}, "step": {"length": "400 mm"}}
    more = [{"name": "wrap", "plies": plies((85, 1.0), (-85, 1.0))}]
    sheath = {"start": "0.4 m", "end": "0.8 m", "laminate": "wrap"}
    over = checked(bores=EVEN, mast={"sheath": [sheath]}, more=more, bearings=long)
    (case,) = over.cases
    assert worst(over, "bearing", "tube").demand == pytest.approx(case.step_N / 0.0956 / 0.4, rel=1e-9)
    tube = {
        "material": "6061-T6 drawn",
        "stations": [{"height": f"{z} m", "diameter": "80 mm", "wall": "3 mm"} for z in (0, 5)],
    }
    inside = checked(mast={**tube, "sheath": [{**sheath, "side": "inside"}]}, more=more)
    assert not [c for c in inside.checks if c.id in ("bearing", "crushing", "ring") and c.layer == "sheath 1"]


def test_a_sheath_on_metal_is_pressed_over_the_length_of_its_bearing() -> None:
    tube = {
        "material": "6061-T6 drawn",
        "stations": [{"height": f"{z} m", "diameter": "80 mm", "wall": "3 mm"} for z in (0, 5)],
    }
    more = [{"name": "wrap", "plies": plies((85, 1.0), (-85, 1.0))}]
    sheath = {"start": "0.4 m", "end": "0.8 m", "laminate": "wrap"}
    result = checked(mast={**tube, "sheath": [sheath]}, more=more, bearings={"partners": {"length": "70 mm"}})
    (case,) = result.cases
    assert worst(result, "bearing", "sheath 1").demand == pytest.approx(
        case.partners_N / 0.084 / 0.07, rel=1e-9
    )
    with pytest.raises(RigInputError, match=r"bearings\.step\.length: it is read only by"):
        checked(mast={**tube, "sheath": [sheath]}, more=more, bearings=LENGTHS)


def isotropic(monkeypatch: pytest.MonkeyPatch, **keys: Any) -> CheckResult:
    strengths = dict.fromkeys(("Xt_Pa", "Xc_Pa", "Yt_Pa", "Yc_Pa", "S12_Pa"), 400e6)
    with_ply(
        monkeypatch, E1_Pa=20e9, E2_Pa=20e9, G12_Pa=20e9 / 2.5, nu12=0.25, density_kg_m3=1800.0, **strengths
    )
    return checked(
        plies((0, 4.0), material="added"),
        bores=EVEN,
        criterion="max-stress",
        water="dry",
        cycles=1,
        **keys,
    )


def test_wall_bends_round_as_a_ring_helped_by_the_tube_beside_it(monkeypatch: pytest.MonkeyPatch) -> None:
    result = isotropic(monkeypatch, bearings=LENGTHS)
    (case,) = result.cases
    r, t, E, nu = 0.044, 4e-3, 20e9, 0.25
    A, D = E * t / (1 - nu**2), E * t**3 / (12 * (1 - nu**2))
    k_o = ovalising_wave(A_11=A, A_12=nu * A, A_22=A, D_22=D, r=r)
    moment = float(bearing_hoop_moment(F=case.partners_N, w=0.07, r=r, k_o=k_o))
    stress = 6 * moment / t**2
    found = worst(result, "ring")
    assert found.height_m == pytest.approx(0.6)
    # along the mast bending acts with what the wall, kept from curling that way, feels of the hoop stress
    moment_along = max(case.partners_moment_N_m, case.bent_moment_N_m or 0.0)
    along = moment_along * 0.046 / result.stations.EI_N_m2[0] * E
    assert found.utilisation == pytest.approx(1.5 * max(stress, along + nu * stress) / 400e6, rel=0.02)


def test_a_plug_keeps_the_wall_round() -> None:
    plug = {"plug": [{"start": "0 m", "end": "1.2 m", "material": "C24"}]}
    assert [c for c in checked(bores=EVEN).checks if c.id == "ring"]
    plugged = checked(bores=EVEN, mast=plug)
    assert not [c for c in plugged.checks if c.id == "ring"]
    above = {"plug": [{"start": "1 m", "end": "2 m", "material": "C24"}]}
    assert [c for c in checked(bores=EVEN, mast=above).checks if c.id == "ring"]


def test_the_cures_of_a_ring_cure_it() -> None:
    hard = {"line_load": [["0.8 m", "190 N/m"], ["5 m", "9 N/m"]], "own_weight_heel": "0 deg"}
    run = {"bores": (96, 96, 60), "case": hard, "criterion": "max-strain"}
    thin = [{**lot, "thickness": f"{float(lot['thickness'].split()[0]) * 0.4!r} mm"} for lot in WALL]
    found = worst(checked(thin, **run), "ring")
    assert 1.05 < found.utilisation < 3.0
    assert "plug the bore there" in found.advice
    ((wanted, had),) = re.findall(r"a wall of about ([\d.]+) mm for ([\d.]+)", found.advice)
    times = float(wanted) / float(had)
    thick = [{**lot, "thickness": f"{float(lot['thickness'].split()[0]) * times!r} mm"} for lot in thin]
    assert worst(checked(thick, **run), "ring").passed
    # a longer bearing takes the part of the ring, not that of the mast's own bending
    longer = {"partners": {"length": "100 mm"}}
    assert worst(checked(thin, **run, bearings=longer), "ring").utilisation < found.utilisation


def test_only_the_plies_in_a_bearing_tell_what_it_bears_through() -> None:
    """A ply that is weaker across, above both bearings or through them."""
    left, strong = 0.8 * 100**-0.1 / 1.5, plies((45, 0.7), (-45, 0.7), (0, 3.0), material=CARBON)
    for start, weakest in (("1.5 m", CARBON), ("0 m", GLASS)):
        across = find_ply_material(weakest).Yc_Pa
        lots = [*strong, *plies((0, 1.0, {"start": start}))]
        assert worst(checked(lots, crushing="300 MPa"), "crushing").capacity == pytest.approx(across * left)


@pytest.mark.parametrize("id", ["bearing", "crushing"])
def test_a_bearing_lengthened_as_told_bears(id: str) -> None:
    """Pressure falls as the length; what is told is the least hundredth that is enough."""
    weak: dict[str, Any] = {"bearing": "2 MPa"} if id == "bearing" else {"crushing": "30 MPa"}
    hard = {"line_load": [["0.8 m", "480 N/m"], ["5 m", "18 N/m"]], "own_weight_heel": "0 deg"}
    run: dict[str, Any] = {"bores": EVEN, "case": hard, **weak}
    short = {"partners": {"length": "5 mm"}, "step": {"length": "50 mm"}}
    found = worst(checked(**run, bearings=short), id)
    assert found.utilisation > 1.05
    ((times, length),) = re.findall(r"([\d.]+) times as long \(it is taken as (\d+) mm\)", found.advice)
    assert int(length) == 5
    assert float(times) - 0.01 < found.utilisation <= float(times)
    longer = {"partners": {"length": f"{5 * float(times):.4f} mm"}, "step": {"length": "50 mm"}}
    cured = [c for c in checked(**run, bearings=longer).checks if c.id == id and c.height_m == found.height_m]
    assert 0.98 < max(c.utilisation for c in cured) <= 1.0


def test_what_a_wall_bears_names_the_factors_on_it() -> None:
    """Crushing and shear between plies: the source of the formula, and what was taken off the strengths."""
    result = checked(bores=EVEN)
    for id in ("crushing", "interlaminar"):
        assert "factor 1.5" in worst(result, id).source
