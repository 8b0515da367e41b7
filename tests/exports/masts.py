"""Masts of every kind to export."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

from rigcalc import CheckResult, check, load_rig, read_rig
from rigcalc.reports.exports import export
from rigcalc.rig import Rig

from ..test_loads import BURY, FITTINGS, LENGTH, TAPERED, case_text, rig_text

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.toml"))

PUSHED = case_text(
    "given",
    'point_load = [{height = "7.7 m", side = "310 N", forward = "-140 N"}]',
    'axial = "450 N"',
    'line_load = [["1.15 m", "20 N/m"], ["6.1 m", "65 N/m"], ["8.0 m", "5 N/m"]]',
    'line_load_forward = [["0.2 m", "15 N/m"], ["3.3 m", "0 N/m"]]',
    'torque = "25 N m"',
    name="pushed",
)
ROLLING = case_text("motion", 'roll_amplitude = "25 deg"', 'roll_period = "3 s"', name="rolling")
LEVEL = case_text("lift", 'lower_height = "0.5 m"', 'upper_height = "5 m"', name="level")
PROPPED = case_text("lift", 'lower_height = "0.5 m"', 'upper_height = "6.5 m"', name="propped")

EVEN = ((0.0, 0.12, 0.004), (LENGTH, 0.12, 0.004))
STEPPED = (
    (0.0, 0.13, 0.005),
    (3.0, 0.13, 0.005),
    (3.0, 0.12, 0.005),
    (5.5, 0.12, 0.005),
    (5.5, 0.11, 0.005),
    (LENGTH, 0.11, 0.005),
)
SOFT = '[bearings.partners]\nstiffness = "4e5 N/m"\n[bearings.step]\nstiffness = "9e5 N/m"\n'


def _given(stations=TAPERED, mast: str = FITTINGS, more: str = PUSHED + LEVEL + PROPPED + ROLLING) -> Rig:
    return read_rig(rig_text(stations=stations, mast=mast, more=more))


def _box() -> Rig:
    """Return a box that tapers one way alone, so that how much stiffer it is one way changes along it."""
    text = rig_text(
        stations=((0.0, 0.14, 0.005), (4.0, 0.13, 0.005), (LENGTH, 0.07, 0.004)),
        mast=f'shape = "box"\n{FITTINGS}',
        more=PUSHED + LEVEL + ROLLING,
    )
    return read_rig(re.sub(r'(diameter = "[^"]*")', r'\1, breadth = "0.09 m"', text))


@cache
def masts() -> dict[str, Rig]:
    """Return one mast of every kind, by its name."""
    by_name = {path.stem: load_rig(path) for path in EXAMPLES}
    return {
        "round": _given(EVEN),
        "tapered": _given(),
        "stepped": _given(
            STEPPED,
            mast=f"{FITTINGS}\n"
            'sleeve = [{start = "2.5 m", end = "3 m", diameter = "120 mm", wall = "5 mm"}, '
            '{start = "5 m", end = "5.5 m", diameter = "110 mm", wall = "5 mm"}]',
        ),
        "laminated": by_name["glass_tube_5m"],
        "staves": by_name["stave_mast_6m"],
        "sheathed": by_name["sheathed_mast_5m"],
        "box": _box(),
        "post": _given(
            mast=f'{FITTINGS}\nsupport = "post"\npost = {{diameter = "100 mm", wall = "6 mm", socket = "0.6 m"}}'
        ),
        "soft bearings": _given(more=PUSHED + LEVEL + PROPPED + SOFT),
        "level alone": _given(more=PROPPED),
        "sails": by_name["two_masted_cruiser_9m"],
    }


NAMES = (
    "round",
    "tapered",
    "stepped",
    "laminated",
    "staves",
    "sheathed",
    "box",
    "post",
    "soft bearings",
    "level alone",
    "sails",
)


@cache
def deck(name: str) -> str:
    return export(masts()[name], to="inp")


@cache
def result(name: str) -> CheckResult:
    return check(masts()[name])


__all__ = ["BURY", "EXAMPLES", "NAMES", "deck", "masts", "result"]
