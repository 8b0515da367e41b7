"""`rigcalc laminate`: what it tells, as text and as JSON."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from rigcalc.cli import main
from rigcalc.materials.laminates import (
    Lamina,
    Wall,
    abd,
    find_ply_material,
    first_ply_failure,
    wall_constants,
)
from rigcalc.reports.laminate import NoSuchLaminateError, laminate_sheet
from rigcalc.rigfile import starter_text
from tests.rigfile import GOOD

from . import GLASS, plies, rig_of

Capture = pytest.CaptureFixture[str]
EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "glass_tube_5m.toml"
LOTS = [*plies((45, 0.6), (-45, 0.6), (0, 2.0)), *plies((0, 1.4, {"end": "2 m", "count": 2}))]


def sheet(**keys: Any) -> dict[str, Any]:
    (laminate,) = laminate_sheet(rig_of(LOTS, **keys))["laminates"]
    return dict(laminate)


def wall(*lots: tuple[float, float]) -> Any:
    ply = find_ply_material(GLASS)
    return abd(Wall(tuple(Lamina(ply.of_thickness(t / 1e3), math.radians(a)) for a, t in lots)))


LOWER = wall((45, 0.6), (-45, 0.6), (0, 2.0), (0, 2.8))


def test_each_stretch_has_its_wall() -> None:
    low, high = sheet()["stretches"]
    assert [(s["from_m"], s["to_m"]) for s in (low, high)] == [(0.0, 2.0), (2.0, 5.0)]
    assert (low["wall_m"], high["wall_m"]) == pytest.approx((6.0e-3, 3.2e-3))
    assert [p["count"] for p in low["plies"]] == [1, 1, 1, 2]
    assert len(high["plies"]) == 3
    # an unsymmetric wall curls when it is free to, and is softer so
    for name, unit in (("A_N_m", LOWER.A_N_m), ("B_N", LOWER.B_N), ("D_N_m", LOWER.D_N_m)):
        assert np.array(low[name]) == pytest.approx(unit, rel=1e-12, abs=1e-6)
    for edges in ("membrane", "free"):
        c = wall_constants(LOWER, edges=edges)  # type: ignore[arg-type]  # one of the two
        for key in ("Ex_Pa", "Ey_Pa", "Gxy_Pa", "nuxy", "nuyx"):
            assert low[edges][key] == pytest.approx(float(getattr(c, key)))
    assert low["free"]["Ex_Pa"] < low["membrane"]["Ex_Pa"]


def test_mass_and_thickness_are_those_of_the_cloth() -> None:
    low, _ = sheet()["stretches"]
    t = 6.0e-3
    assert low["mass_kg_m2"] == pytest.approx(1775.5 * t)
    assert low["fibre_mass_kg_m2"] == pytest.approx(2540 * 0.45 * t)
    assert low["fibre_mass_kg_m2"] + low["resin_mass_kg_m2"] == pytest.approx(low["mass_kg_m2"])
    assert (low["density_kg_m3"], low["fibre_fraction"]) == pytest.approx((1775.5, 0.45))
    assert low["off_axis_share"] == pytest.approx(1.2 / 6.0)


def test_ply_strains_turn_with_the_ply() -> None:
    low, _ = sheet()["stretches"]
    nu = low["membrane"]["nuxy"]
    x, y = 1000.0, -1000.0 * nu
    plus, minus, straight, more = low["per_1000_microstrain"]
    assert (straight["along_fibres"], straight["across_fibres"], straight["shear"]) == pytest.approx(
        (x, y, 0.0)
    )
    assert more["along_fibres"] == pytest.approx(x)
    for ply, sign in ((plus, -1), (minus, 1)):
        assert ply["along_fibres"] == pytest.approx((x + y) / 2)
        assert ply["across_fibres"] == pytest.approx((x + y) / 2)
        assert ply["shear"] == pytest.approx(sign * (x - y))


def test_strain_at_first_ply_is_that_of_the_load_that_fails_it() -> None:
    low, _ = sheet(water="dry", cycles=1, safety_factor=2)["stretches"]
    c = wall_constants(LOWER, edges="membrane")
    line, shear = float(c.Ex_Pa * c.wall_m), float(c.Gxy_Pa * c.wall_m)
    loads = {"pulled_along": [line, 0, 0], "pressed_along": [-line, 0, 0], "sheared": [0, 0, shear]}
    for row in low["first_ply"]:
        for way, load in loads.items():
            first = first_ply_failure(LOWER, np.array(load), criterion=row["criterion"], edges="membrane")
            assert row[way]["fails_at_microstrain"] == pytest.approx(1e6 * float(first.load_factor))
            assert row[way]["allowed_microstrain"] == pytest.approx(5e5 * float(first.load_factor))
            assert row[way]["mode"] == first.mode


def test_knockdowns_are_named_with_their_source() -> None:
    water, lasting, cycles = sheet(lasting="standing")["knockdowns"]
    assert (water["left"], lasting["left"], cycles["left"]) == (0.8, 0.2, 1.0)
    assert water["strengths"] == ["Xc", "Yt", "Yc", "S12"] and lasting["strengths"][0] == "Xt"
    assert all(k["source"] and k["provenance"] in ("read", "memory", "computed") for k in (water, lasting))


def test_one_name_and_one_height_can_be_asked_for() -> None:
    rig = rig_of(LOTS, more=[{"name": "other", "plies": plies((0, 1.0, {"end": "3 m"}))}])
    both = laminate_sheet(rig)["laminates"]
    assert [found["name"] for found in both] == ["wall", "other"]
    assert [(s["from_m"], s["to_m"]) for s in both[1]["stretches"]] == [(0.0, 3.0)]
    for height, ends in ((0.0, (0.0, 2.0)), (1.9, (0.0, 2.0)), (2.0, (2.0, 5.0)), (5.0, (2.0, 5.0))):
        (found,) = laminate_sheet(rig, name="wall", height_m=height)["laminates"]
        assert [(s["from_m"], s["to_m"]) for s in found["stretches"]] == [ends]
    (gone,) = laminate_sheet(rig, name="other", height_m=4.0)["laminates"]
    assert gone["stretches"] == []
    for wrong, told in (({"name": "wal"}, "there are wall, other"), ({"height_m": 5.1}, "from 0 to 5 m")):
        with pytest.raises(NoSuchLaminateError, match=told):
            laminate_sheet(rig, **wrong)


def test_text_names_both_kinds_of_constants_and_every_ply(capsys: Capture) -> None:
    assert main(["laminate", str(EXAMPLE)]) == 0
    out = capsys.readouterr().out
    for part in (
        "membrane",
        "free",
        "kN/mm",
        "strains for 1000 microstrain along",
        "first ply fails, microstrain",
        "least, over the safety factor",
        "dry fibre",
        "from memory",
        "A closed tube keeps its wall from curling",
        "z = 3.20 to 5.00 m",
    ):
        assert part in out
    assert "nan" not in out.lower() and "None" not in out
    assert out.count("4 x E-glass/epoxy UD 0.45 at 0 deg") == 3
    assert max(map(len, out.splitlines())) <= 110


def test_a_height_narrows_the_text(capsys: Capture) -> None:
    assert main(["laminate", str(EXAMPLE), "--height", "6 ft", "--name", "glass tube"]) == 0
    out = capsys.readouterr().out
    assert "z = 1.80 to 3.20 m" in out and "z = 0.00" not in out


def test_json_is_the_sheet(capsys: Capture) -> None:
    assert main(["laminate", str(EXAMPLE), "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    (laminate,) = document["laminates"]
    assert [s["from_m"] for s in laminate["stretches"]] == [0.0, 1.8, 3.2]
    assert set(laminate) == {"name", "safety_factor", "knockdowns", "criteria", "stretches", "warnings"}


def test_estimated_plies_and_cloth_are_told(tmp_path: Path, capsys: Capture) -> None:
    file = tmp_path / "good.toml"
    file.write_text(GOOD, encoding="utf-8")
    assert main(["laminate", str(file), "--name", "patch"]) == 0
    out = capsys.readouterr().out
    assert "strengths of E-glass/epoxy UD 0.55" in out
    assert "E-glass/epoxy woven 0.50" in out
    assert "computed by Chamis for E2 and G12" in " ".join(out.split())


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--name", "carbon tube"), "there are glass tube"),
        (("--height", "6 m"), "the mast stands from 0 to 5 m"),
        (("--height", "-1 m"), "the mast stands from 0 to 5 m"),
        (("--height", "6"), "--height"),
        (("--height", "6 kg"), "--height"),
    ],
)
def test_what_cannot_be_told_is_refused(words: tuple[str, str], told: str, capsys: Capture) -> None:
    assert main(["laminate", str(EXAMPLE), *words]) == 2
    captured = capsys.readouterr()
    assert captured.out == "" and told in captured.err and "Traceback" not in captured.err


def test_a_rig_without_a_laminate_says_so(tmp_path: Path, capsys: Capture) -> None:
    file = tmp_path / "metal.toml"
    file.write_text(starter_text(), encoding="utf-8")
    assert main(["laminate", str(file)]) == 2
    assert "there is no [[laminate]] in the file" in capsys.readouterr().err
