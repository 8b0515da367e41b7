"""That changes are made where they should be, are felt by whoever uses what is changed, and are taken back."""

from __future__ import annotations

import ast
import json
import os
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

import rigcalc.limits.metal
from rigcalc.formulas import record_of
from rigcalc.formulas.wind import power_law_speed, wind_pressure

from .changes import Change, changes_of
from .engine import Map, function_of, put_in
from .record import alike, all_changes

ROOT = Path(__file__).resolve().parents[2]

SOURCE = '''
"""Words with 1 number."""
from __future__ import annotations
import numpy as np

FACTOR = 2.0


def strength(f: float, gamma: float = 1.0) -> "3":
    """Divide by 4."""
    if not np.isfinite(f):
        return 0.0
    return np.minimum(f / gamma, abs(FACTOR))


def told(t: float) -> str:
    return f"{t * 1e3:.1f} of 7 mm"


def passes(use: float) -> bool:
    return use <= 1.0
'''


def made_up() -> tuple[list[Change], ast.Module]:
    module = ModuleType("rigcalc.made_up")
    exec(SOURCE, module.__dict__)
    tree = ast.parse(SOURCE)
    return changes_of(module, tree), tree


def test_what_is_changed_and_what_is_left_alone() -> None:
    keys = [change.key.removeprefix("made_up:") for change in made_up()[0]]
    assert sorted(keys) == sorted(
        [
            "(module): 2.0 -> 2.2",
            "(module): 2.0 -> -2.0",
            "strength: 1.0 -> 1.1",
            "strength: 1.0 -> -1.0",
            "strength: not np.isfinite(f) -> np.isfinite(f)",
            "strength: 0.0 -> 1.0",
            "strength: np.minimum(f / gamma, abs(FACTOR)) -> np.maximum(f / gamma, abs(FACTOR))",
            "strength: np.minimum(f / gamma, abs(FACTOR)) -> f / gamma",
            "strength: np.minimum(f / gamma, abs(FACTOR)) -> abs(FACTOR)",
            "strength: f / gamma -> f * gamma",
            "strength: abs(FACTOR) -> FACTOR",
            "told: t * 1000.0 -> t / 1000.0",
            "told: 1000.0 -> 1100.0",
            "told: 1000.0 -> -1000.0",
            "passes: use <= 1.0 -> use < 1.0",
            "passes: use <= 1.0 -> use >= 1.0",
            "passes: use <= 1.0 -> (use <= 1.0) | True",
            "passes: 1.0 -> 1.1",
            "passes: 1.0 -> -1.0",
        ]
    )


def test_every_change_differs_and_is_taken_back() -> None:
    changes, tree = made_up()
    before = ast.dump(tree)
    for change in changes:
        take_back = change.make()
        assert ast.dump(tree) != before, change.key
        compile(tree, "made_up", "exec")
        take_back()
        assert ast.dump(tree) == before, change.key


def test_keys_of_what_changes_nothing_are_of_changes() -> None:
    """The list of exceptions holds no change that is not made any more, and gives a reason for each."""
    assert set(alike()) <= {change.key for change in all_changes(Map())}
    assert all(len(why) > 20 for why in alike().values())


def test_changed_function_is_felt_by_who_imported_it() -> None:
    where = Map()
    (change,) = (
        c
        for c in changes_of(sys.modules["rigcalc.formulas.wind"], where.tree("rigcalc.formulas.wind"))
        if c.key == "formulas.wind:wind_pressure: rho * v ** 2 / 2 -> rho * v ** 2 * 2"
    )
    function = function_of(change, where)
    assert function is wind_pressure
    take_back = put_in(change, function)
    try:
        assert wind_pressure(rho=1.0, v=3.0) == 18.0
        assert record_of(wind_pressure).function(rho=1.0, v=3.0) == 18.0
    finally:
        take_back()
    assert wind_pressure(rho=1.0, v=3.0) == 4.5


@pytest.fixture(scope="module")
def outcomes(tmp_path_factory: pytest.TempPathFactory) -> dict[str, tuple[str, str, int]]:
    """What comes of two small modules against a few tests, in a process of its own."""
    keep = tmp_path_factory.mktemp("kept")
    tests = ("tests/test_limit_record.py", "tests/test_formula_values.py")
    command = [sys.executable, "-m", "tests.mutation", "limits.record", "formulas.wind", "--keep", str(keep)]
    done = subprocess.run(
        [*command, "--tests", *tests],
        cwd=ROOT,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    found: dict[str, tuple[str, str, int]] = json.loads((keep / "outcomes.json").read_text())
    return found


@pytest.mark.parametrize(
    ("key", "how"),
    [
        # in the body of a property, of a method and of a function
        ("limits.record:Check.passed: self.utilisation <= 1.0 -> self.utilisation < 1.0", "caught"),
        ("limits.record:Limit.utilisation: used[~self.cases] = 0.0 -> (left out)", "caught"),
        ("formulas.wind:gust_speed: v * k_g -> v / k_g", "caught"),
        # no test of these two looks at the bounds
        ("formulas.wind:power_law_speed: 100.0 -> 110.0", "survived"),
        # nor runs through this at all
        ("formulas.wind:reynolds_number: v * D / nu -> v * D * nu", "unreached"),
    ],
)
def test_what_is_known_to_be_noticed_is_and_what_is_not_is_not(
    outcomes: dict[str, tuple[str, str, int]], key: str, how: str
) -> None:
    assert outcomes[key][0] == how


def test_nothing_of_the_record_of_a_limit_goes_unnoticed(outcomes: dict[str, tuple[str, str, int]]) -> None:
    left = [
        key for key, (how, _, _) in outcomes.items() if key.startswith("limits.record") and how != "caught"
    ]
    assert set(left) <= set(alike())


def test_range_and_constant_reach_who_imported_them() -> None:
    """In a child, since they are put there for good: a bound in the record, a number in the module that uses it."""
    code = """
from tests.mutation.engine import Map, applied
from tests.mutation.record import all_changes
from rigcalc.formulas import record_of
from rigcalc.formulas.wind import power_law_speed
from rigcalc.limits import metal

where = Map()
changes = {c.key: c for c in all_changes(where)}
for key in (
    "formulas.wind:power_law_speed: 100.0 -> 110.0",
    "limits.metal:(module): 20.0 -> 22.0",
):
    change = changes[key]
    applied(change, where.tree(change.module))
print(record_of(power_law_speed).ranges[2].high, metal.THIN_WALL_RATIO)
"""
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.split() == ["110.0", "22.0"]
    assert record_of(power_law_speed).ranges[2].high == 100.0
    assert rigcalc.limits.metal.THIN_WALL_RATIO == 20.0
