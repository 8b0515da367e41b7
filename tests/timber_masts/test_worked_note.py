"""The sheet that works the stave mast by hand says what rigcalc says."""

from __future__ import annotations

import math
import re
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from rigcalc import CheckResult, check, load_rig
from rigcalc.limits import Check
from rigcalc.materials.timber import Chain, timber_of_rig
from rigcalc.rig import Rig

HOME = Path(__file__).resolve().parents[2]
CASE = "gust, full main"
ROWS = re.findall(
    r"^\| ([^|]+) \| ([\d.]+) \| ([^|]+) \|",
    (HOME / "reference_notes" / "worked_stave_mast.md").read_text(encoding="utf-8"),
    re.MULTILINE,
)
UNIT = {"mm": 1e-3, "mm2": 1e-6, "10^6 mm4": 1e-6, "MPa": 1e6, "N": 1.0, "N m": 1.0, "1": 1.0}


@cache
def example() -> tuple[Rig, CheckResult]:
    rig = load_rig(HOME / "examples" / "stave_mast_6m.toml")
    return rig, check(rig)


def chain(of: str) -> Chain:
    rig, _ = example()
    timber = timber_of_rig(
        rig.mast.material,
        rig.timber,
        shape="turned",
        solid=False,
        depth_m=max(s.diameter_m or 0.0 for s in rig.mast.stations),
        length_m=rig.mast.length_m,
        bury_m=rig.mast.bury_m,
    )
    return timber.chain(of)  # type: ignore[arg-type]  # a name of the table


def one(id: str) -> Check:
    (found,) = (c for c in example()[1].checks if (c.id, c.layer, c.case) == (id, "tube", CASE))
    return found


def values() -> dict[str, float]:
    rig, result = example()
    bending, shear, stations = one("bending"), one("shear"), result.stations
    (case,) = (c for c in result.cases if c.name == CASE)
    # the place stands twice, once on either side of the end of the plug: the second is above it
    place = int(np.flatnonzero(np.isclose(stations.height_m, bending.height_m))[-1])
    D, t = float(stations.diameter_m[place]), float(stations.wall_m[place])
    side = rig.mast.sides
    a = (D / 2 - t) * math.cos(math.pi / side)
    timber = timber_of_rig(
        rig.mast.material,
        rig.timber,
        shape="turned",
        solid=False,
        depth_m=0.132,
        length_m=rig.mast.length_m,
        bury_m=rig.mast.bury_m,
    )
    I = float(stations.EI_N_m2[place]) / timber.value_Pa("E_apparent")
    factors = {f.name: f.value for f in chain("tension").factors}
    of_shear = {f.name: f.value for f in chain("shear").factors}
    heel, step = float(stations.diameter_m[0]), case.bent_step_force_N
    assert step is not None
    assert step > case.step_force_N
    found = {
        "D": D,
        "t": t,
        "a": a,
        "I": I,
        "M": bending.demand * I / (D / 2),
        "sigma": bending.demand,
        "f": chain("tension").start_Pa,
        "k": bending.capacity / chain("tension").start_Pa,
        "f_d": bending.capacity,
        "used": bending.utilisation,
        "M partners": case.partners_moment_N_m,
        "M over bury": case.partners_moment_N_m / rig.mast.bury_m,
        "V": step,
        "D heel": heel,
        "A": math.pi / 4 * heel**2,
        "tau": 4 / 3 * step / (math.pi / 4 * heel**2),
        "T": case.torque_N_m,
        "tau T": 16 * case.torque_N_m / (math.pi * heel**3),
        "tau rigcalc": shear.demand,
        "v": chain("shear").start_Pa,
        "k shear size": of_shear["size in shear"],
        "f_v": shear.capacity,
        "used in shear": shear.utilisation,
    }
    for name, value in factors.items():
        short = next(s for s in SHORT if name.startswith(s))
        found[f"k {short}"] = value
    return found


SHORT = ("moisture", "lower", "load duration", "temperature", "slope", "size", "scarf", "safety")


def test_the_sheet_is_whole() -> None:
    assert {name for name, _, _ in ROWS} == set(values())
    assert len(ROWS) == len(values()) == 31


@pytest.mark.parametrize(("name", "text", "unit"), ROWS, ids=[name for name, _, _ in ROWS])
def test_number_of_the_sheet(name: str, text: str, unit: str) -> None:
    digits = len(text.partition(".")[2])
    assert values()[name] / UNIT[unit] == pytest.approx(float(text), abs=0.6 * 10**-digits)


def test_what_the_sheet_says_in_words() -> None:
    _, result = example()
    governing = result.governing
    assert (governing.id, governing.layer, governing.case) == ("bending", "tube", CASE)
    assert governing.height_m == pytest.approx(2.10)
    there = int(np.flatnonzero(np.isclose(result.stations.height_m, 2.10))[-1])
    case = [c.name for c in result.cases].index(CASE)
    straight = np.hypot(
        result.stations.moment_side_N_m[case, there], result.stations.moment_forward_N_m[case, there]
    )
    assert straight == pytest.approx(2618, abs=0.6)
    # a pole of the same wood, bent and sheared by one moment: which governs at one diameter of bury
    pole = timber_of_rig(
        "C24", example()[0].timber, shape="round", solid=True, depth_m=0.1, length_m=6.0, bury_m=0.8
    )
    assert 1.3 < pole.value_Pa("bending") / pole.value_Pa("shear") / 6 < 1.6
    spruce = timber_of_rig(
        "Sitka spruce (US)",
        example()[0].timber,
        shape="round",
        solid=True,
        depth_m=0.13,
        length_m=6.9,
        bury_m=0.9,
    )
    assert 0.7 < spruce.value_Pa("bending") / spruce.value_Pa("shear") / 6 < 1.1
