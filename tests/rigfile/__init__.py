"""Tests of the rig file: one good file that uses everything, to be broken in one place at a time."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

GOOD = """\
title = "Rig of the tests"

[boat]
displacement = "640 kg"
waterline = "0.4 m"
lateral_centre = "0.05 m"
design_category = "C"

[boat.stability]
righting_arm = [["0 deg", "0 m"], ["30 deg", "0.26 m"], ["60 deg", "0.35 m"], ["110 deg", "0 m"]]

[wind]
profile = "power-law"
exponent = 0.12
air_density = "1.25 kg/m3"

[mast]
name = "main"
length = "6.8 m"
bury = "0.9 m"
material = "6061-T6 extruded"
fittings_mass = "0.8 kg"
fittings_height = "6.5 m"
stations = [
  {height = "0 m", diameter = "88.9 mm", wall = "5 mm"},
  {height = "2.81 m", diameter = "88.9 mm", wall = "5.1 mm"},
  {height = "2.81 m", diameter = "76 mm", wall = "3 mm"},
  {height = "6.8 m", diameter = "60 mm", wall = "3.2 mm"},
]

[[mast.sleeve]]
start = "2.4 m"
end = "2.8 m"
diameter = "75 mm"
wall = "3.5 mm"
material = "own alloy"

[[mast.opening]]
height = "4 m"
width = "12 mm"
length = "40 mm"

[[mast.weld]]
height = "1.5 m"
extent = "25 mm"

[bearings.partners]
stiffness = "2e6 N/m"

[bearings.step]
stiffness = "3e6 N/m"

[[sail]]
name = "mainsail"
mast = "main"
luff = "4.8 m"
foot = "2.45 m"
tack_height = "1.4 m"
clew_rise = "0.2 m"
head = "0.7 m"
head_angle = "25 deg"
roach = 0.05
cloth_mass = "230 g/m2"
hold = "rolled"
load_path = "luff"

[[sail]]
name = "foresail"
mast = "fore"
corners = [["0 m", "1.2 m"], ["0 m", "5.5 m"], ["-1.6 m", "1.3 m"]]

[[state]]
name = "both"
set = {mainsail = 1, foresail = 1}

[[state]]
name = "main alone"
set = {mainsail = 1, foresail = 0}

[[case]]
name = "gust"
kind = "heel-limited"
state = "both"
basis = "RM max"
dynamic_factor = 1.6
heel = "31 deg"

[[case]]
name = "run"
kind = "wind-limited"
state = "main alone"
wind_speed = "10 m/s"
gust_factor = 1.3
force_coefficient = 1.4

[[case]]
name = "storm"
kind = "bare"
beaufort = 10
force_angle = "90 deg"

[[case]]
name = "flat"
kind = "knockdown"

[[case]]
name = "reviewer"
kind = "given"
line_load = [["0.95 m", "50 N/m"], ["6.8 m", "0 N/m"]]
line_load_forward = [["0.95 m", "7 N/m"], ["6.7 m", "7 N/m"]]
point_load = [{height = "6.6 m", side = "100 N", forward = "20 N"}]
axial = "200 N"
torque = "15 N m"
own_weight_heel = "33 deg"

[[case]]
name = "stated"
kind = "heel-limited"
state = "main alone"
basis = "moment"
moment = "1500 N m"
arm = "partners"

[limits]
yield_factor = 1.2
tip_deflection = "12 %"

[[material]]
name = "own alloy"
family = "metal"
E = "70 GPa"
G = "26.5 GPa"
nu = 0.33
density = "2700 kg/m3"
proof = "201 MPa"
ultimate = "251 MPa"
welded_proof = "101 MPa"
welded_ultimate = "151 MPa"
buckling_class = "A"
source = "certificate of the mill"
"""

Path = tuple[str | int, ...]


def toml_of(table: Mapping[str, Any]) -> str:
    """Return a table as TOML, all inner tables inline."""
    return "".join(f"{json.dumps(key)} = {_toml(value)}\n" for key, value in table.items())


def _toml(value: Any) -> str:
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return json.dumps(value)
        case list():
            return f"[{', '.join(_toml(item) for item in value)}]"
        case dict():
            return f"{{{', '.join(f'{json.dumps(key)} = {_toml(item)}' for key, item in value.items())}}}"
        case date():
            return value.isoformat()
    return repr(value)


def leaves(value: Any, path: Path = ()) -> Iterator[tuple[Path, Any]]:
    """Yield path and value of everything in a table that is neither a table nor a list."""
    if isinstance(value, dict | list):
        for key, item in value.items() if isinstance(value, dict) else enumerate(value):
            yield from leaves(item, (*path, key))
    else:
        yield path, value


def put(table: Any, path: Path, value: Any) -> None:
    """Put a value where a path leads."""
    for key in path[:-1]:
        table = table[key]
    table[path[-1]] = value


def shown(path: Path) -> str:
    """Return a path as problems write it: ``mast.stations[2].wall``."""
    text = "".join(f"[{key}]" if isinstance(key, int) else f".{key}" for key in path)
    return text.removeprefix(".")
