"""Random damage to the good file: it is refused or read, and what can be read can be checked."""

from __future__ import annotations

import math
import tomllib
from copy import deepcopy
from datetime import date
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rigcalc import check
from rigcalc.design import case_list
from rigcalc.errors import RigInputError
from rigcalc.reports import as_json, screen
from rigcalc.reports.cases import cases_json, cases_screen
from rigcalc.rig import Rig
from rigcalc.rigfile import read_rig

from . import GOOD, QUANTITIES, leaves, put, toml_of

NUMBERS = (
    st.sampled_from([0, 1, -1, 7, 10**6, 10**30, 0.5, -0.5, 1e-300, 1e300, math.nan, math.inf, -math.inf])
    | st.integers(-(10**20), 10**20)
    | st.floats(width=64)
)
WORDS = st.sampled_from(
    ["", "x", "main", "both", "mainsail", "moment", "RM30", "given", "bare", "rolled", "log-law", "membrane",
     "corners", "battens", "heel-limited", "lift", "cos2", "none", "yes", "é✓", "\x1b[31m",
     "1e999 m", "-1 m", "0 m", "1/0 m", "nan m", "14 ft 3 in", "inf N", "x" * 5000]
)  # fmt: skip
UNITS = st.sampled_from(
    [
        "m",
        "mm",
        "ft",
        "deg",
        "N",
        "kN",
        "N m",
        "GPa",
        "kg",
        "kg/m3",
        "g/m2",
        "kn",
        "m/s",
        "s",
        "m2/s",
        "N/m",
        "%",
    ]
)
QUANTITY = st.builds(
    lambda mantissa, exponent, unit: f"{mantissa:.3f}e{exponent} {unit}",
    st.floats(-9.99, 9.99),
    st.integers(-9, 9),
    UNITS,
)
VALUES = (
    NUMBERS
    | WORDS
    | QUANTITY
    | st.sampled_from(
        [True, [], {}, [[]], [{}], {"a": 1}, ["0 m", "1 m"], ["1 m", "2 m", "3 m"], date(2026, 1, 2)]
    )
)
PLACES = [path for path, _ in leaves(tomllib.loads(GOOD))]
SCALED = st.sampled_from([-1, 0, 0.1, 0.5, 0.8, 0.95, 1.05, 1.2, 1.5, 2, 4, 10, 1e3, 1e-3])


def damaged(path: tuple[str | int, ...], value: Any, scale: float | None) -> str:
    """Return the good file with a value put in, or with the number there scaled."""
    table: Any = deepcopy(tomllib.loads(GOOD))
    old = next(found for place, found in leaves(table) if place == path)
    number, _, unit = old.partition(" ") if isinstance(old, str) else (old, "", "")
    if scale is not None:
        try:
            value = float(number) * scale
        except ValueError:
            scale = None
    put(table, path, value if scale is None or not isinstance(old, str) else f"{value!r} {unit}")
    return toml_of(table)


def read_or_refused(text: str) -> Rig | None:
    """Read a text; None when it is refused. Any other error fails the test."""
    try:
        return read_rig(text)
    except RigInputError as error:
        assert str(error)
        return None


@settings(max_examples=300, derandomize=True, deadline=None, database=None)
@given(path=st.sampled_from(PLACES), value=VALUES)
def test_damage_is_refused_or_read_and_nothing_else(path: tuple[str | int, ...], value: Any) -> None:
    read_or_refused(damaged(path, value, None))


@settings(
    max_examples=40,
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
@given(path=st.sampled_from([path for path, _ in QUANTITIES]), scale=SCALED)
def test_what_can_be_read_can_be_checked(path: tuple[str | int, ...], scale: float) -> None:
    rig = read_or_refused(damaged(path, None, scale))
    if rig is None:
        return
    result = check(rig)
    as_json(result, stations=True)  # refuses what is not finite
    assert all(math.isfinite(c.utilisation) for c in result.checks) or not result.passed
    assert result.verdict.upper() in screen(result)
    listed = case_list(rig)
    cases_json(listed)  # as above
    assert [c.load.name for c in listed.cases] == [c.name for c in result.cases]
    assert all(c.load.name in cases_screen(listed) for c in listed.cases)
