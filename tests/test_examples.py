"""The examples read, pass, and are believable boats.

The bands of size are common practice for freestanding masts, wide enough for any sensible one; they catch a slip
in an example, and say nothing of strength.
"""

from __future__ import annotations

import tomllib
from dataclasses import replace
from functools import cache
from pathlib import Path

import jsonschema
import numpy as np
import pytest

from rigcalc import CheckResult, check, load_rig
from rigcalc.cli import main
from rigcalc.design import case_list
from rigcalc.reports import screen
from rigcalc.rig import Rig
from rigcalc.rigfile import rig_schema

EXAMPLES = sorted((Path(__file__).resolve().parents[1] / "examples").glob("*.toml"))
SHARPIE = next(path for path in EXAMPLES if path.stem.startswith("sharpie"))
of_each = pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)


@cache
def example(path: Path) -> tuple[Rig, CheckResult]:
    rig = load_rig(path)
    return rig, check(rig)


def test_there_are_examples_of_several_kinds_of_boat() -> None:
    assert len(EXAMPLES) >= 4
    kinds = {case.kind for path in EXAMPLES for case in example(path)[0].cases}
    assert kinds == {"heel-limited", "wind-limited", "bare", "motion", "knockdown", "lift", "given"}


@of_each
def test_it_passes_from_the_command_line(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(path)]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    assert out.startswith(example(path)[0].title)
    assert "\nPASS: " in out


@of_each
def test_the_schema_accepts_it(path: Path) -> None:
    schema = rig_schema()
    assert schema["$schema"] == "http://json-schema.org/draft-04/schema#"
    jsonschema.Draft4Validator.check_schema(schema)
    document = tomllib.loads(path.read_text(encoding="utf-8"))
    errors = list(jsonschema.Draft4Validator(schema).iter_errors(document))
    assert errors == []
    # and it is not blind: a key misspelt, or a length without quotes, is caught
    document["mast"]["burry"] = document["mast"].pop("bury")
    document["mast"]["length"] = 5.0
    assert len(list(jsonschema.Draft4Validator(schema).iter_errors(document))) >= 3


@of_each
def test_diameter_at_the_partners_over_the_length_above(path: Path) -> None:
    # common practice: 1/45 to 1/85, stout timber at one end, carbon at the other
    rig, result = example(path)
    diameter = np.interp(rig.mast.bury_m, result.stations.height_m, result.stations.diameter_m)
    assert 1 / 85 <= diameter / (rig.mast.length_m - rig.mast.bury_m) <= 1 / 45


@of_each
def test_mass_of_the_spar_over_the_displacement(path: Path) -> None:
    # common practice: at most 4 % for the spar, fittings left out
    rig, result = example(path)
    spar = result.mast.mass_kg - rig.mast.fittings_mass_kg
    assert 0.01 <= spar / rig.boat.displacement_kg <= 0.04


@of_each
def test_bury_over_the_length(path: Path) -> None:
    # common practice: 8 to 20 %; below, the bearings' forces grow fast
    rig, _ = example(path)
    assert 0.08 <= rig.mast.bury_m / rig.mast.length_m <= 0.20


@of_each
def test_the_governing_check_is_near_its_limit_and_within_it(path: Path) -> None:
    # a mast used less than 0.4 shows no one what governs
    _, result = example(path)
    assert 0.4 <= result.governing.utilisation <= 1.0
    assert result.passed


@of_each
def test_its_sails_stand_on_its_mast_and_its_boat_is_stable(path: Path) -> None:
    rig, result = example(path)
    if rig.sails:
        # common practice: sail area over displacement^(2/3), both metric, of 10 to 25 for small cruisers
        area = case_list(rig).states[0].area_m2
        volume = rig.boat.displacement_kg / 1025.0
        assert 8.0 <= area / volume ** (2 / 3) <= 25.0
    # common practice: small freestanding masts sway at 1 to 5 Hz
    assert 1.0 <= result.mast.natural_frequencies_Hz[0] <= 5.0
    assert not any("equilibrium" in w or "bury is" in w for w in result.warnings)


@of_each
def test_it_says_that_it_is_invented(path: Path) -> None:
    assert "invented" in path.read_text(encoding="utf-8")


# --- the sharpie: a boat that cannot hold her mast up to its strength, and does not have to -------------


def test_running_governs_the_sharpie() -> None:
    _, result = example(SHARPIE)
    assert result.governing.case == "running, full sail"
    beating = max(c.utilisation for c in result.checks if c.case == "gust, full sail")
    assert beating < 0.8 * result.governing.utilisation


def test_the_answer_says_why_a_heel_cap_does_not_help_the_sharpie() -> None:
    rig, result = example(SHARPIE)
    run = next(case for case in result.cases if case.name == "running, full sail")
    said = [note for note in run.notes if "no heel spills it" in note]
    assert said == ["the force is mostly forward: no heel spills it, so righting moment does not cap it"]
    assert said[0] in " ".join(screen(result).split())
    head = SHARPIE.read_text(encoding="utf-8").split("\n\n")[0].replace("\n# ", " ")
    assert "dead before the wind nothing spills it" in head
    # and it is true: the sail pulls forward, and a boat of half or twice the stability has the same load
    listed = next(c for c in case_list(rig).cases if c.load.name == run.name)
    assert abs(listed.side_N) < 0.25 * listed.forward_N
    assert rig.boat.stability.gm_m is not None
    alone = check(rig, case=run.name).cases
    for factor in (0.5, 2.0):
        stability = replace(rig.boat.stability, gm_m=factor * rig.boat.stability.gm_m)
        other = replace(rig, boat=replace(rig.boat, stability=stability))
        assert check(other, case=run.name).cases == alone
