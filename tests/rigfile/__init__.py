"""Tests of the rig file: one good file that uses everything, to be broken in one place at a time.

What shuts something else out stands in a variant of it: one edit, or two, and the file is good again.
"""

from __future__ import annotations

import json
import math
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import Field
from datetime import date
from typing import Any

from rigcalc.rig import Rig
from rigcalc.rig.fields import Angles, Curve, Heights, Quantity, Table, Tables, described_fields, spec_of

from . import own

GOOD = """\
title = "Rig of the tests"

[boat]
displacement = "640 kg"
waterline = "0.4 m"
lateral_centre = "0.05 m"
design_category = "C"
beam = "1.8 m"
roll_gyration = "0.75 m"
roll_damping = 0.06
centre_of_gravity = "0.55 m"
ballast_height = "0.1 m"

[boat.stability]
righting_arm = [["0 deg", "0 m"], ["30 deg", "0.26 m"], ["60 deg", "0.35 m"], ["110 deg", "0 m"]]

[wind]
profile = "power-law"
exponent = 0.12
air_density = "1.25 kg/m3"
air_viscosity = "1.5e-5 m2/s"
reference_height = "9 m"
strouhal = "textbook"
heel_falloff = "cos1.3"

[mast]
name = "main"
length = "6.8 m"
bury = "0.9 m"
support = "through-deck"
shape = "round"
material = "6061-T6 extruded"
fittings_mass = "0.8 kg"
fittings_height = "6.5 m"
reference_mass = "14 kg"
damping = 0.03
stations = [
  {height = "0 m", diameter = "101.6 mm", wall = "5.7 mm"},
  {height = "2.81 m", diameter = "101.6 mm", wall = "5.8 mm"},
  {height = "2.81 m", diameter = "88 mm", wall = "4.2 mm"},
  {height = "6.8 m", diameter = "70 mm", wall = "4.4 mm"},
]

[[mast.sleeve]]
start = "2.4 m"
end = "2.81 m"
diameter = "89 mm"
wall = "3.5 mm"
material = "own alloy"
play = "0.4 mm"

[[mast.opening]]
height = "4 m"
width = "12 mm"
length = "40 mm"

[[mast.weld]]
height = "2.6 m"
extent = "25 mm"

[[mast.sheath]]
start = "4.6 m"
end = "5.6 m"
laminate = "patch"
side = "over"

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
centre_of_effort = "geometric"
cloth_mass = "230 g/m2"
hold = "rolled"
cloth_thickness = "0.3 mm"
roll_slack = 2.5
load_path = "membrane"
leech_sag = "8 %"
clew_held = "wishbone"
spar_height = "2.5 m"

[[sail]]
name = "foresail"
mast = "fore"
corners = [["0 m", "1.2 m"], ["0 m", "5.5 m"], ["-1.6 m", "1.3 m"]]

[[sail]]
name = "lugsail"
mast = "main"
corners = [["0.4 m", "1.5 m"], ["0.4 m", "4.5 m"], ["-1.2 m", "6.2 m"], ["-1.9 m", "1.6 m"]]
cloth_mass = "180 g/m2"
hold = "battens"
panels = 5
parrel_heights = ["1.6 m", "2.6 m", "3.7 m", "4.8 m"]

[[state]]
name = "both"
set = {mainsail = 1, foresail = 1}

[[state]]
name = "main alone"
set = {mainsail = 1, foresail = 0}

[[state]]
name = "reefed"
set = {mainsail = 0.6, foresail = 0.5}

[[state]]
name = "lug alone"
set = {lugsail = 0.8}

[[case]]
name = "gust"
kind = "heel-limited"
state = "both"
basis = "RM max"
dynamic_factor = 1.6
heel = "31 deg"
apparent_wind_angle = "35 deg"
coefficients = "ims-older"

[[case]]
name = "run"
kind = "wind-limited"
state = "main alone"
wind_speed = "10 m/s"
gust_factor = 1.3
force_coefficient = 1.4
longitudinal_moment = "1.9 kN m"

[[case]]
name = "storm"
kind = "bare"
beaufort = 10
gust = "sea-3s"
heel = "12 deg"
force_angle = "90 deg"
drag_crisis = "table"
inclined_flow = "cosine-squared"

[[case]]
name = "flat"
kind = "knockdown"
dynamic_factor = 2
tip_speed = "1.4 m/s"
wet_length = "1.1 m"
sealed = "yes"

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
force_coefficient = 1.1
force_angle = "75 deg"

[[case]]
name = "reach"
kind = "heel-limited"
state = "reefed"
basis = "RM30"
apparent_wind_angle = "80 deg"
wind_speed = "12 m/s"
gust = "none"

[[case]]
name = "quarter"
kind = "wind-limited"
state = "lug alone"
beaufort = 5
gust = "land-3s"
coefficients = "orc-2013-low"
true_wind_angle = "150 deg"
boat_speed = "2 m/s"

[[case]]
name = "anchored"
kind = "motion"
dynamic_factor = 1.4
roll_amplitude = "25 deg"
roll_period = "2.4 s"
pitch_amplitude = "9 deg"
pitch_period = "2.2 s"

[[case]]
name = "slung"
kind = "lift"
dynamic_factor = 1.3
lower_height = "0.5 m"
upper_height = "4.6 m"

[limits]
yield_factor = 1.2
rupture_factor = 1.3
axial_stability_factor = 3.5
tip_deflection = "12 %"

[fatigue]
days_at_sea = 12
time_per_day = "2 h"
roll_period = "4.5 s"
stress_ratio = 0.2
detail = "machined"
weld_detail = "butt-both-sides"
factor = 1.1

[stock]
file = "tubes.csv"
series = ["inch pipe, schedule 40", "inch pipe, schedule 80"]
tube_length = "6.1 m"
max_piece = "5.9 m"
kerf = "2.5 mm"
trim = "14 mm"
least_piece = "0.95 m"
scarf_clear = "0.45 m"
plane_width = "3.5 mm"
plane_thickness = "2.5 mm"
wood_ends = "130 mm"
roll = "1.05 m"
lap = "24 mm"
join = "110 mm"
cloth_ends = "60 mm"
cloth_spare = "13 %"
resin_loss = 0.27
resin_price = 15.25
table_step = "310 mm"
fewest = 2
most = 4
least_clearance = "0.25 mm"
greatest_clearance = "2.2 mm"
overlap = "0.15 m"
overlap_bores = 1.6
joint_step = "55 mm"

[[stock.tube]]
name = "four inch"
diameter = "102 mm"
wall = "5.6 mm"
material = "6061-T6 drawn"
length = "6.4 m"
price = 21.5

[[stock.board]]
name = "clear spruce"
width = "147 mm"
thickness = "43 mm"
length = "5.3 m"
price = 61.5

[[stock.cloth]]
name = "glass 310"
material = "E-glass/epoxy UD 0.55"
areal_mass = "311 g/m2"
angle = "45 deg"
roll = "1.27 m"
roll_length = "26 m"
price = 7.5

[[stock.cloth]]
material = "E-glass"
roll = "0.61 m"
price_per_kg = 9.25

[size]
minimise = "cost"
materials = ["6082-T6 drawn", "C24", "C24+S-glass/epoxy UD 0.50", "whole tube", "E-glass/epoxy UD 0.45"]
smallest_diameter = "46 mm"
largest_diameter = "213 mm"
smallest_tip = "54 mm"
largest_tip = "97 mm"
smallest_wall = "2.6 mm"
most_mass = "41 kg"
lowest_frequency = "0.75 Hz"
bury = ["0.85 m", "0.95 m"]
heights = ["2.55 m", "4.65 m"]
diameter_step = "2.1 mm"
wall_step = "1.1 mm"
ply_mass = "312 g/m2"
off_axis_mass = "212 g/m2"
most_plies = 24
seed = 7

[[size.price]]
material = "C24"
per_kg = 8.25

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

[[laminate]]
name = "patch"
method = "chamis"
criterion = "max-strain"
water = "stated"
water_factor = 0.85
lasting = "passing"
cycles = 200
fatigue = "log"
safety_factor = 1.6
interlaminar = "20 MPa"
crushing = "90 MPa"
bearing = "12 MPa"
plies = [
  {material = "E-glass/epoxy woven 0.50", angle = "0 deg", areal_mass = "310 g/m2", count = 2, start = "4.5 m", \
end = "5.7 m"},
  {fibre = "E-glass", resin = "polyester", fibre_fraction = 0.45, void_fraction = 0.01, \
strengths = "E-glass/epoxy UD 0.55", angle = "16 deg", thickness = "0.31 mm"},
  {fibre = "E-glass", resin = "polyester", fibre_fraction = 0.45, void_fraction = 0.01, \
strengths = "E-glass/epoxy UD 0.55", angle = "-16 deg", thickness = "0.31 mm"},
]

[[laminate]]
name = "whole tube"
plies = [
  {material = "E-glass/epoxy UD 0.45", angle = "44 deg", areal_mass = "401 g/m2", count = 3},
  {material = "E-glass/epoxy UD 0.45", angle = "0 deg", thickness = "4.1 mm"},
  {material = "E-glass/epoxy UD 0.45", angle = "0 deg", thickness = "5.1 mm", end = "2.9 m"},
  {material = "E-glass/epoxy UD 0.45", angle = "-44 deg", areal_mass = "401 g/m2", count = 3},
]
"""

_ARM = 'righting_arm = [["0 deg", "0 m"], ["30 deg", "0.26 m"], ["60 deg", "0.35 m"], ["110 deg", "0 m"]]'

_PARTS = [
    GOOD[GOOD.index(f"[[mast.{part}]]") : GOOD.index("\n\n", GOOD.index(f"[[mast.{part}]]"))]
    for part in ("sleeve", "opening", "weld")
]
_PARTS, _WELD = _PARTS[:2], _PARTS[2]
_STATIONS = GOOD[GOOD.index("stations = [") : GOOD.index("]\n", GOOD.index("stations = [")) + 2]

VARIANTS: dict[str, tuple[tuple[str, str], ...]] = {
    "gm and bm": (
        (_ARM, 'gm = "0.5 m"\nbm = "0.9 m"'),
        ('basis = "RM max"', 'basis = "RM30"'),
        ('roll_period = "2.4 s"\n', ""),
    ),
    "righting moments": (
        (_ARM, 'moment_30 = "1.6 kN m"\nmoment_max = "2.2 kN m"\nheel_at_max = "55 deg"'),
        ('roll_period = "2.4 s"\n', ""),
    ),
    "log law": (
        ('profile = "power-law"\nexponent = 0.12', 'profile = "log-law"\nroughness_length = "0.5 mm"'),
        ('beam = "1.8 m"\nroll_gyration = "0.75 m"\n', ""),
    ),
}
VARIANTS["typed categories"] = (
    (
        'detail = "machined"\nweld_detail = "butt-both-sides"',
        'category = "85 MPa"\nslope = 6\nweld_category = "40 MPa"\nweld_slope = 5',
    ),
)
_ONE_SIZE = _STATIONS.replace('"88 mm"', '"101.6 mm"')
VARIANTS["box"] = (
    *((old, "") for old in _PARTS),
    (_STATIONS, _ONE_SIZE.replace('"101.6 mm"', '"101.6 mm", breadth = "90 mm"')),
    ("damping = 0.03", 'wall_loss = "0.2 mm"'),
    ('shape = "round"', 'shape = "box"\nturns = ["0 deg", "30 deg", "-90 deg"]'),
)
VARIANTS["post"] = (
    *((old, "") for old in _PARTS),
    (_STATIONS, _ONE_SIZE),
    (
        'support = "through-deck"',
        'support = "post"\npost = {diameter = "86 mm", top_diameter = "80 mm", wall = "6 mm", '
        'material = "own alloy", socket = "0.4 m", thrust_on = "top"}',
    ),
)
VARIANTS["staves"] = (
    *((old, "") for old in _PARTS),
    (_STATIONS, _ONE_SIZE),
    ('shape = "round"', 'shape = "staves"\nsides = 12\noutside = "flat"'),
)
_FATIGUE = GOOD[GOOD.index("[fatigue]") : GOOD.index("\n\n", GOOD.index("[fatigue]"))]
LAID_STATIONS = (
    'stations = [{height = "0 m", bore = "92 mm"}, {height = "1.1 m", bore = "92.5 mm"}, '
    '{height = "6.8 m", bore = "71 mm"}]\n'
)
VARIANTS["laminate"] = (
    *((old, "") for old in (*_PARTS, _WELD, _FATIGUE)),
    (_STATIONS, LAID_STATIONS),
    ('material = "6061-T6 extruded"', 'material = "whole tube"'),
    ("yield_factor = 1.2\nrupture_factor = 1.3\n", ""),
    ('stiffness = "2e6 N/m"', 'length = "90 mm"'),
)
_SPAR = """\
stations = [
  {height = "0 m", diameter = "140 mm", wall = "30 mm"},
  {height = "2.81 m", diameter = "140 mm", wall = "30 mm"},
  {height = "6.8 m", diameter = "80 mm", wall = "20 mm"},
]

[[mast.plug]]
start = "0 m"
end = "1.5 m"
tail = "0.4 m"

[[mast.plug]]
start = "6.4 m"
end = "6.8 m"
material = "C18"
"""
_OF_WOOD: tuple[tuple[str, str], ...] = (
    *((old, "") for old in (*_PARTS, _WELD, _FATIGUE)),
    (_STATIONS, _SPAR),
    ("yield_factor = 1.2\nrupture_factor = 1.3\n", ""),
    ('stiffness = "2e6 N/m"', 'stiffness = "2e6 N/m"\nlength = "90 mm"'),
    ('stiffness = "3e6 N/m"', 'length = "80 mm"'),
)
VARIANTS["species"] = (
    *_OF_WOOD,
    ('material = "6061-T6 extruded"', 'material = "Sitka spruce (US)"'),
    (
        "[bearings.partners]",
        """[timber]
moisture = "16 %"
slope_of_grain = "1/18"
load_duration = "30 min"
temperature = "25 degC"
round_form_factor = "NDS"
hollow_form_factor = 0.7
service_class = 3
duration_class = "instantaneous"
scarf_slope = "1/14"
lasting_share = 0.05
safety_factor = 1.35

[bearings.partners]""",
    ),
)
_MATERIAL = GOOD[GOOD.index("[[material]]") : GOOD.index("\n\n", GOOD.index("[[material]]"))]
VARIANTS["own materials"] = (
    (_MATERIAL, f"{_MATERIAL}\n{own.ALL}"),
    ('material = "E-glass/epoxy woven 0.50"', 'material = "own ply"'),
)
VARIANTS["own foam"] = (
    (_MATERIAL, f"{_MATERIAL}\n\n{own.own_text('own foam')}"),
    (
        "[[mast.weld]]",
        '[[mast.plug]]\nstart = "4.8 m"\nend = "6.7 m"\nmaterial = "own foam"\n\n[[mast.weld]]',
    ),
)
VARIANTS["own timber"] = (
    *((old, new.replace("C18", "own glulam")) for old, new in _OF_WOOD),
    ('material = "6061-T6 extruded"', 'material = "own spruce"'),
    (_MATERIAL, "\n".join(own.own_text(name) for name in ("own spruce", "own glulam"))),
)
_BUSH = """kind = "plain"
material = "acetal"
length = "60 mm"
clearance = "0.6 mm"
wall = "8 mm"
interference = "0.1 mm"
seat = "spherical"
fit = "chock"
standing_pressure = "6 MPa"
turning_pressure = "5 MPa"
friction_low = 0.1
friction_high = 0.3"""
_ROLLERS = """kind = "rollers"
material = "acetal"
length = "55 mm"
clearance = "0.5 mm"
fit = "collar"
standing_pressure = "6 MPa"
turning_pressure = "5 MPa"
friction_low = 0.1
friction_high = 0.3
count = 12
diameter = "25 mm"
pin = "6 mm\""""
_BEARINGS = """[bearings]
workshop_temperature = "18 degC"
coldest = "-5 degC"
hottest = "55 degC"
lasting_share = 0.15
lines_down = "200 N"
out_of_round = "0.05 mm"
hold_down = "2 kN"

[furling]
drum_diameter = "160 mm"
drum_width = "45 mm"
line_diameter = "6 mm"
line_strength = "14 kN"
line_factor = 4
purchase = 2
lead_blocks = 3
sheave_loss = 0.07
fairlead = "40 deg"
fairlead_friction = 0.2
hand_pull = "150 N"
line_speed = "0.4 m/s"

[deck]
kind = "solid"
pad_length = "250 mm"
pad_width = "200 mm"
allowed_pressure = "8 MPa"
bolts = 8
bolt_circle = "180 mm"
bolt_diameter = "10 mm"
bolt_allowed = "120 MPa"
thickness = "20 mm"
bearing_allowed = "60 MPa"
offset = "10 mm"

[bearings.partners]"""
_CONE = (
    'thrust = {form = "cone", outer = "60 mm", inner = "10 mm", half_angle = "50 deg", wear = "uniform-wear"}'
)
VARIANTS["one bush"] = (('stiffness = "2e6 N/m"', f'stiffness = "2e6 N/m"\n{_BUSH}'),)
VARIANTS["bush above rollers"] = (
    ("[bearings.partners]", _BEARINGS),
    ('stiffness = "2e6 N/m"', f'stiffness = "2e6 N/m"\n{_BUSH}'),
    ('stiffness = "3e6 N/m"', f'stiffness = "3e6 N/m"\n{_ROLLERS}\n{_CONE}'),
    ("roll_slack = 2.5", "roll_slack = 2.5\ncamber = 0.12"),
)
VARIANTS["rollers above a bush"] = (
    ('stiffness = "2e6 N/m"', f'stiffness = "2e6 N/m"\n{_ROLLERS}'),
    ('stiffness = "3e6 N/m"', f'stiffness = "3e6 N/m"\n{_BUSH}'),
)
_DOUBT = """[doubt]
metal_strength = 0.06
metal_stiffness = "2 %"
timber_strength = 0.14
timber_stiffness = 0.2
laminate_strength = 0.11
laminate_stiffness = 0.08
wall = 0.04
wind = 0.09
righting_moment = 0.06
swing = 0.25
samples = 300
seed = 5

[stock]
file"""
VARIANTS["doubt"] = (("[stock]\nfile", _DOUBT),)
"""Name -> edits of the good file: together they use what the good file cannot use beside the rest."""


def edited(*edits: tuple[str, str]) -> str:
    """Return the good file with some of its text replaced; every text must stand there once."""
    text = GOOD
    for old, new in edits:
        # an edit that misses would leave a good file, and one that hits twice is not small
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in the good file"
        text = text.replace(old, new)
    return text


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


def every_field(table: type[Any] = Rig, path: str = "") -> Iterator[tuple[str, Field[Any]]]:
    """Yield path, without indices, and field of everything that may stand in a file."""
    for name, entry in described_fields(table).items():
        here = f"{path}.{name}".removeprefix(".")
        yield here, entry
        spec = spec_of(entry)
        if isinstance(spec, Table | Tables):
            yield from every_field(spec.of, here)


def given_fields(raw: Any, table: type[Any] = Rig, path: Path = ()) -> Iterator[tuple[Path, Field[Any]]]:
    """Yield path and field of everything that a file gives."""
    for name, entry in described_fields(table).items():
        if name not in raw:
            continue
        spec, here = spec_of(entry), (*path, name)
        yield here, entry
        if isinstance(spec, Table):
            yield from given_fields(raw[name], spec.of, here)
        elif isinstance(spec, Tables):
            for i, item in enumerate(raw[name]):
                yield from given_fields(item, spec.of, (*here, i))


def quantities_of(raw: Any) -> Iterator[tuple[Path, Quantity]]:
    """Yield path and description of every quantity that a file gives, those in lists too."""
    for path, entry in given_fields(raw):
        found: Any = raw
        for key in path:
            found = found[key]
        match spec_of(entry):
            case Quantity() as spec:
                yield path, spec
            case Curve() as spec:
                for i, pair in enumerate(found):
                    for k in range(len(pair)):
                        yield (*path, i, k), Quantity("", unit=spec.units[k], sane=spec.sane[k])
            case Heights():
                for i in range(len(found)):
                    yield (*path, i), Quantity("", unit="m", at_least=0, sane=(0, 60))
            case Angles():
                for i in range(len(found)):
                    yield (*path, i), Quantity("", unit="rad", at_least=-math.pi, at_most=math.pi)


QUANTITIES = list(quantities_of(tomllib.loads(GOOD)))


def bare_of(path: Path) -> str:
    """Return a path without its indices: ``mast.stations.wall``."""
    return ".".join(key for key in path if isinstance(key, str))
