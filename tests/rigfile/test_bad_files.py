"""Files that are wrong, one at a time: what is said, where, and with which remedy.

Every case is one small edit of the good file. It must lead to the problems stated and to no others, in
the reader and on the command line alike, and never to a traceback.
"""

from __future__ import annotations

import math
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import Field, dataclass
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rigcalc import check
from rigcalc.cli import main
from rigcalc.errors import RigInputError
from rigcalc.reports import as_json, screen
from rigcalc.rig import Case, Rig
from rigcalc.rig.fields import Choice, Curve, Quantity, Table, Tables, described_fields, spec_of
from rigcalc.rigfile import load_rig, read_rig, starter_text
from rigcalc.units import show

from . import GOOD, leaves, put, shown, toml_of


@dataclass(frozen=True)
class Bad:
    """One edit of the good file, and what must be said of it."""

    old: str
    new: str
    path: str
    tells: str
    """Stands in what is allowed or in the remedy."""
    also: tuple[str, ...] = ()
    """Paths of the other problems that the edit brings along."""
    value: str = ""
    """Stands in the value read."""
    append: str = ""
    """Stands after the edited file."""

    @property
    def text(self) -> str:
        if not self.old:
            return GOOD + self.new
        # an edit that misses would leave a good file, and one that hits twice is not small
        assert GOOD.count(self.old) == 1, f"{self.old!r} stands {GOOD.count(self.old)} times in the good file"
        return GOOD.replace(self.old, self.new) + self.append

    def __str__(self) -> str:
        return " ".join(ascii(f"{self.path} {self.new or 'without ' + self.old}").split())[1:71]


RM30 = '[[case]]\nname = "by RM30"\nkind = "heel-limited"\nbasis = "RM30"\n'
CORNERS = '[["0 m", "1.2 m"], ["0 m", "5.5 m"], ["-1.6 m", "1.3 m"]]'
ARM = '[["0 deg", "0 m"], ["30 deg", "0.26 m"], ["60 deg", "0.35 m"], ["110 deg", "0 m"]]'
MAST, SAIL, FORESAIL, MATERIAL = "mast.stations", "sail[0]", "sail[1]", "material[0]"
PARTNERS = 'stiffness = "2e6 N/m"'

STATIONS = GOOD[GOOD.index("stations = [") : GOOD.index("]\n", GOOD.index("stations = [")) + 2]

# how a value is written
WRITING = [
    Bad('length = "6.8 m"', "length = 6.8", "mast.length", '"6.8 m"', value="6.8"),
    Bad('length = "6.8 m"', 'length = "6.8"', "mast.length", "6.8 m", value='"6.8"'),
    Bad('length = "6.8 m"', "length = true", "mast.length", "a length with its unit is wanted"),
    Bad('length = "6.8 m"', 'length = ["6.8 m"]', "mast.length", "a length with its unit is wanted"),
    Bad('length = "6.8 m"', 'length = {m = "6.8"}', "mast.length", "a length with its unit is wanted"),
    Bad('length = "6.8 m"', "length = 2026-01-02", "mast.length", "a length with its unit is wanted"),
    Bad('length = "6.8 m"', 'length = ""', "mast.length", "Write a plain number"),
    Bad('length = "6.8 m"', 'length = "6,8 m"', "mast.length", "Write 6.8 m."),
    Bad('length = "6.8 m"', 'length = "6,800 mm"', "mast.length", "Write 6.800 mm or 6800 mm"),
    Bad('length = "6.8 m"', 'length = "6 800 mm"', "mast.length", "Write 6800 mm."),
    Bad('length = "6.8 m"', 'length = "6.8 metres"', "mast.length", "Did you mean m?"),
    Bad('length = "6.8 m"', 'length = "6.8 M"', "mast.length", "Did you mean m?"),
    Bad('length = "6.8 m"', 'length = "6.8 cubits"', "mast.length", "m, cm, mm, ft or in"),
    Bad('length = "6.8 m"', 'length = "6.8 kg"', "mast.length", "kg is a mass; a length is wanted"),
    Bad('length = "6.8 m"', 'length = "22 ft 14 in"', "mast.length", "inches below 12"),
    Bad('length = "6.8 m"', 'length = "about 6.8 m"', "mast.length", "Write a plain number"),
    Bad('length = "6.8 m"', 'length = "nan m"', "mast.length", "Write a plain number"),
    Bad('length = "6.8 m"', 'length = "1e400 m"', "mast.length", "too large"),
    Bad('wind_speed = "10 m/s"', 'wind_speed = "10 knots"', "case[1].wind_speed", "Did you mean kn?"),
    Bad('wind_speed = "10 m/s"', 'wind_speed = "10 kN"', "case[1].wind_speed", "Did you mean kn?"),
    Bad('moment = "1500 N m"', 'moment = "1500 kg m"', "case[5].moment", "Did you mean kgf m?"),
    Bad('moment = "1500 N m"', 'moment = "1500 ft lbs"', "case[5].moment", "Did you mean lbf ft?"),
    Bad('displacement = "640 kg"', 'displacement = "640 lbs"', "boat.displacement", "Did you mean lb?"),
    Bad('displacement = "640 kg"', 'displacement = "6.4 kN"', "boat.displacement", "kN is a force; a mass"),
    Bad('heel = "31 deg"', "heel = 31", "case[0].heel", '"31 deg"'),
    Bad('heel = "31 deg"', 'heel = "31 degrees"', "case[0].heel", "Did you mean deg?"),
    Bad("exponent = 0.12", 'exponent = "0,12"', "wind.exponent", "Write 0.12."),
    Bad("exponent = 0.12", "exponent = true", "wind.exponent", "a number is wanted", value="true"),
    Bad("exponent = 0.12", "exponent = nan", "wind.exponent", "a pure number, bare or in %"),
    Bad("exponent = 0.12", "exponent = inf", "wind.exponent", "number"),
    Bad("exponent = 0.12", 'exponent = "0.12 m"', "wind.exponent", "a pure number, bare or in %"),
    Bad("exponent = 0.12", f"exponent = 0x{'f' * 5000}", "wind.exponent", "number"),
    Bad("beaufort = 10", "beaufort = 10.5", "case[2].beaufort", "a whole number from 0 to 11"),
    Bad("beaufort = 10", 'beaufort = "10"', "case[2].beaufort", "a whole number from 0 to 11"),
    Bad("beaufort = 10", "beaufort = true", "case[2].beaufort", "a whole number from 0 to 11"),
    Bad("beaufort = 10", f"beaufort = 0x{'f' * 5000}", "case[2].beaufort", "a whole number from 0 to 11"),
    Bad('title = "Rig of the tests"', 'title = ""', "title", "empty"),
    Bad('title = "Rig of the tests"', 'title = "  "', "title", "empty"),
    Bad('title = "Rig of the tests"', "title = 12", "title", "Write it in quotes"),
    Bad('title = "Rig of the tests"', 'title = ["a"]', "title", "Write it in quotes"),
    Bad('title = "Rig of the tests"', 'title = {a = "b"}', "title", "Write it in quotes"),
    Bad('title = "Rig of the tests"', f"title{'.a' * 2000} = 1", "title", "Write it in quotes"),
    Bad('title = "Rig of the tests"', 'title = """one\ntwo"""', "title", "a text of one line is wanted"),
    Bad('title = "Rig of the tests"', 'title = "red \\u001b[31m"', "title", "U+001B", value="\x1b"),
    Bad('title = "Rig of the tests"', 'title = "hard\\u00a0space"', "title", "U+00A0"),
    Bad('design_category = "C"', 'design_category = "E"', "boat.design_category", '"A" (ocean)'),
    Bad('design_category = "C"', 'design_category = "c"', "boat.design_category", 'Did you mean "C"?'),
    Bad('design_category = "C"', "design_category = 3", "boat.design_category", '"A" (ocean)'),
    Bad('kind = "bare"', 'kind = "Bare"', "case[2].kind", 'Did you mean "bare"?'),
    Bad('kind = "bare"', 'kind = "storm"', "case[2].kind", '"bare" (storm wind on the bare mast)'),
    Bad('hold = "rolled"', 'hold = "roled"', "sail[0].hold", 'Did you mean "rolled"?'),
    Bad("set = {mainsail = 1, foresail = 0}", 'set = ["mainsail"]', "state[1].set", "Write {main = 1.0}"),
    Bad("set = {mainsail = 1, foresail = 0}", "set = {}", "state[1].set", "Write {main = 1.0}"),
    Bad("{mainsail = 1, foresail = 0}", "{mainsail = 2}", "state[1].set.mainsail", "1 for set and 0 for down"),
    Bad("{mainsail = 1, foresail = 0}", "{mainsail = -1}", "state[1].set.mainsail", "a share from 0 to 1"),
    Bad("{mainsail = 1, foresail = 0}", "{mainsail = nan}", "state[1].set.mainsail", "a share from 0 to 1"),
    Bad("{mainsail = 1, foresail = 0}", "{mainsail = true}", "state[1].set.mainsail", "a share from 0 to 1"),
    Bad("{mainsail = 1, foresail = 0}", '{mainsail = "1"}', "state[1].set.mainsail", "a share from 0 to 1"),
    Bad(ARM, '"0.3 m"', "boat.stability.righting_arm", "a list of 2 pairs or more"),
    Bad(ARM, '[["0 deg", "0 m"]]', "boat.stability.righting_arm", "a list of 2 pairs or more"),
    Bad(ARM, '["0 deg", "0 m"]', "boat.stability.righting_arm[0]", "a pair is wanted",
        also=("boat.stability.righting_arm[1]",)),
    Bad('["30 deg", "0.26 m"]', "[30, 0.26]", "boat.stability.righting_arm[1][0]", '"30 deg"',
        also=("boat.stability.righting_arm[1][1]",)),
    Bad('["30 deg", "0.26 m"]', '["30 deg", "0.26 m", "x"]', "boat.stability.righting_arm[1]", "a pair"),
    Bad('["30 deg", "0.26 m"]', '["65 deg", "0.26 m"]', "boat.stability.righting_arm[2]", "in order"),
    Bad('["30 deg", "0.26 m"]', '["60 deg", "0.26 m"]', "boat.stability.righting_arm[2]", "in order"),
    Bad(CORNERS, '[["0 m", "1.2 m"], ["0 m", "5 m"]]', "sail[1].corners", "a list of 3 pairs or more"),
    Bad("[boat]", "[[boat]]", "boat", "Write it as [boat] with keys below it"),
    Bad("[wind]", "[[wind]]", "wind", "Write it as [wind] with keys below it"),
    Bad("[limits]", "[[limits]]", "limits", "Write it as [limits] with keys below it"),
    Bad("[[material]]", "[material]", "material", "Write [[material]] before each",
        also=("mast.sleeve[0].material",)),
    Bad("[[mast.weld]]", "[mast.weld]", "mast.weld", "Write [[mast.weld]] before each"),
    Bad("[[mast.opening]]", "[mast.opening]", "mast.opening", "Write [[mast.opening]] before each"),
    Bad('stations = [\n', 'stations = [[\n', "file", "not valid TOML"),
    Bad('{height = "6.6 m", side = "100 N", forward = "20 N"}', '"100 N"', "case[4].point_load[0]",
        "a table is wanted"),
]  # fmt: skip

# bounds of sense, and bands beyond which a slip of the unit is far likelier
BANDS = [
    Bad('wall = "5.7 mm"', 'wall = "5.7 m"', f"{MAST}[0].wall", "5.7 mm"),
    Bad('wall = "5.7 mm"', 'wall = "0 mm"', f"{MAST}[0].wall", "above 0 m"),
    Bad('wall = "5.7 mm"', 'wall = "-5.7 mm"', f"{MAST}[0].wall", "above 0 m"),
    Bad('diameter = "70 mm"', 'diameter = "70 m"', f"{MAST}[3].diameter", "70 mm"),
    Bad('diameter = "70 mm"', 'diameter = 70', f"{MAST}[3].diameter", "70 mm"),
    Bad('diameter = "70 mm"', 'diameter = "7 mm"', f"{MAST}[3].diameter", "0.01 m to 0.8 m"),
    Bad('length = "6.8 m"', 'length = "6800 m"', "mast.length", "6800 mm"),
    Bad('length = "6.8 m"', 'length = "6.8 mm"', "mast.length", "6.8 m"),
    Bad('bury = "0.9 m"', 'bury = "900 m"', "mast.bury", "900 mm"),
    Bad('bury = "0.9 m"', 'bury = "0 m"', "mast.bury", "above 0 m"),
    Bad('waterline = "0.4 m"', 'waterline = "400 m"', "boat.waterline", "400 mm"),
    Bad('lateral_centre = "0.05 m"', 'lateral_centre = "50 m"', "boat.lateral_centre", "50 mm"),
    Bad('displacement = "640 kg"', 'displacement = "640 g"', "boat.displacement", "640 kg"),
    Bad('displacement = "640 kg"', 'displacement = "640 t"', "boat.displacement", "640 kg"),
    Bad('displacement = "640 kg"', 'displacement = "-640 kg"', "boat.displacement", "above 0 kg"),
    Bad('air_density = "1.25 kg/m3"', 'air_density = "1.25 g/cm3"', "wind.air_density", "1.25 kg/m3"),
    Bad('fittings_mass = "0.8 kg"', 'fittings_mass = "800 kg"', "mast.fittings_mass", "800 g"),
    Bad('fittings_mass = "0.8 kg"', 'fittings_mass = "-1 kg"', "mast.fittings_mass", "at least 0 kg"),
    Bad('density = "2700 kg/m3"', 'density = "2.7 kg/m3"', f"{MATERIAL}.density", "2.7 g/cm3"),
    Bad('E = "70 GPa"', 'E = "70 MPa"', f"{MATERIAL}.E", "70 GPa"),
    Bad('E = "70 GPa"', 'E = "70000 GPa"', f"{MATERIAL}.E", "70000 MPa"),
    Bad('E = "70 GPa"', 'E = "70000 Pa"', f"{MATERIAL}.E", "70000 MPa"),
    Bad('G = "26.5 GPa"', 'G = "26.5 MPa"', f"{MATERIAL}.G", "26.5 GPa"),
    Bad('proof = "201 MPa"', 'proof = "201 GPa"', f"{MATERIAL}.proof", "201 MPa"),
    Bad('ultimate = "251 MPa"', 'ultimate = "251 kPa"', f"{MATERIAL}.ultimate", "251 MPa"),
    Bad("nu = 0.33", "nu = 0.6", f"{MATERIAL}.nu", "at most 0.5"),
    Bad('cloth_mass = "230 g/m2"', 'cloth_mass = "230 kg/m2"', f"{SAIL}.cloth_mass", "230 g/m2"),
    Bad('cloth_mass = "230 g/m2"', 'cloth_mass = "-230 g/m2"', f"{SAIL}.cloth_mass", "at least 0"),
    Bad('luff = "4.8 m"', 'luff = "4800 m"', f"{SAIL}.luff", "4800 mm"),
    Bad("roach = 0.05", "roach = 5", f"{SAIL}.roach", "at most 0.6"),
    Bad("roach = 0.05", "roach = -0.5", f"{SAIL}.roach", "at least -0.3"),
    Bad('head_angle = "25 deg"', 'head_angle = "25 rad"', f"{SAIL}.head_angle", "at most 85.94 deg"),
    Bad('["-1.6 m", "1.3 m"]', '["-1600 m", "1.3 m"]', f"{FORESAIL}.corners[2][0]", "1600 mm"),
    Bad('["-1.6 m", "1.3 m"]', '["-1e200 m", "1.3 m"]', f"{FORESAIL}.corners[2][0]", "slip"),
    Bad('width = "12 mm"', 'width = "12 m"', "mast.opening[0].width", "12 mm"),
    Bad('extent = "25 mm"', 'extent = "25 m"', "mast.weld[0].extent", "25 mm"),
    Bad('stiffness = "3e6 N/m"', 'stiffness = "300 N/m"', "bearings.step.stiffness", "300 N/mm"),
    Bad("dynamic_factor = 1.6", "dynamic_factor = 0.5", "case[0].dynamic_factor", "at least 1"),
    Bad("dynamic_factor = 1.6", "dynamic_factor = 16", "case[0].dynamic_factor", "at most 6"),
    Bad("gust_factor = 1.3", 'gust_factor = "30 %"', "case[1].gust_factor", "at least 1"),
    Bad("force_coefficient = 1.4", "force_coefficient = 0", "case[1].force_coefficient", "above 0"),
    Bad('wind_speed = "10 m/s"', 'wind_speed = "200 m/s"', "case[1].wind_speed", "200 km/h"),
    Bad('wind_speed = "10 m/s"', 'wind_speed = "-10 m/s"', "case[1].wind_speed", "at least 0 m/s"),
    Bad("beaufort = 10", "beaufort = 12", "case[2].beaufort", "a whole number from 0 to 11"),
    Bad('heel = "31 deg"', 'heel = "31 rad"', "case[0].heel", "at most 90 deg"),
    Bad('moment = "1500 N m"', 'moment = "1.5 N m"', "case[5].moment", "1.5 kN m"),
    Bad('moment = "1500 N m"', 'moment = "0 N m"', "case[5].moment", "above 0 N m"),
    Bad('axial = "200 N"', 'axial = "1e300 N"', "case[4].axial", "slip"),
    Bad('torque = "15 N m"', 'torque = "1e300 N m"', "case[4].torque", "slip"),
    Bad('side = "100 N"', 'side = "1e300 N"', "case[4].point_load[0].side", "slip"),
    Bad('["0.95 m", "50 N/m"]', '["0.95 m", "1e300 N/m"]', "case[4].line_load[0][1]", "slip"),
    Bad('tip_deflection = "12 %"', "tip_deflection = 12", "limits.tip_deflection", "at most 0.5"),
    Bad("yield_factor = 1.2", "yield_factor = 0.9", "limits.yield_factor", "at least 1"),
    Bad(f"righting_arm = {ARM}", 'gm = "500 m"\nbm = "1 m"', "boat.stability.gm", "500 mm"),
    Bad(f"righting_arm = {ARM}", 'moment_max = "2.4 N m"', "boat.stability.moment_max", "2.4 kN m"),
]  # fmt: skip

# keys: unknown, missing, twice
KEYS = [
    Bad("[boat]\n", "colour = 'red'\n[boat]\n", "colour", "rigcalc schema"),
    Bad("[wind]", "[winds]", "winds", "Did you mean 'wind'?"),
    Bad("[limits]", "[limit]", "limit", "Did you mean 'limits'?"),
    Bad("[bearings.partners]", "[bearing.partners]", "bearing", "Did you mean 'bearings'?"),
    Bad("[bearings.partners]", "[bearings.partner]", "bearings.partner", "Did you mean 'partners'?"),
    Bad('bury = "0.9 m"', 'burry = "0.9 m"', "mast.burry", "Did you mean 'bury'?", also=("mast.bury",)),
    Bad('diameter = "70 mm"', 'diametre = "70 mm"', f"{MAST}[3].diametre", "Did you mean 'diameter'?",
        also=(f"{MAST}[3].diameter",)),
    Bad('diameter = "70 mm"', 'Diameter = "70 mm"', f"{MAST}[3].Diameter", "Did you mean 'diameter'?",
        also=(f"{MAST}[3].diameter",)),
    Bad('forward = "20 N"', 'forwards = "20 N"', "case[4].point_load[0].forwards", "'forward'?"),
    Bad('roach = 0.05', "roch = 0.05", f"{SAIL}.roch", "Did you mean 'roach'?"),
    Bad('extent = "25 mm"', 'extends = "25 mm"', "mast.weld[0].extends", "Did you mean 'extent'?"),
    Bad('welded_proof = "101 MPa"', 'weld_proof = "101 MPa"', f"{MATERIAL}.weld_proof",
        "Did you mean 'welded_proof'?", also=(f"{MATERIAL}.welded_proof", "mast.sleeve[0].material")),
    Bad("exponent = 0.12", "exponent = 0.12\ndefaults = []", "wind.defaults", "no such key"),
    Bad('title = "Rig of the tests"', 'title = "a"\ndefaults = ["b"]', "defaults", "no such key"),
    Bad("yield_factor = 1.2", '"a\\u001b[31m\\nb" = 1', "limits.a\x1b[31m\nb", "no such key"),
    Bad('title = "Rig of the tests"', "", "title", "missing: Name of the project"),
    Bad('displacement = "640 kg"', "", "boat.displacement", "Add displacement ="),
    Bad('length = "6.8 m"', "", "mast.length", "Add length ="),
    Bad('material = "6061-T6 extruded"', "", "mast.material", "Add material ="),
    Bad('kind = "bare"', "", "case[2].kind", 'Add kind = "heel-limited"'),
    Bad('name = "storm"', "", "case[2].name", "Add name ="),
    Bad(f"[boat.stability]\nrighting_arm = {ARM}\n", "", "boat.stability", "[boat.stability]",
        also=()),
    Bad(STATIONS, "", MAST, "[[mast.stations]]"),
    Bad(STATIONS, 'stations = [{height = "0 m", diameter = "60 mm", wall = "3 mm"}]', MAST, "2 or more tables"),
    Bad('source = "certificate of the mill"', "", f"{MATERIAL}.source", "Add source ="),
    Bad("set = {mainsail = 1, foresail = 0}", "", "state[1].set", "Add set ="),
    Bad('end = "2.8 m"', "", "mast.sleeve[0].end", "Add end ="),
    Bad('length = "6.8 m"', 'length = "6.8 m"\nlength = "6.9 m"', "file", "twice"),
    Bad("", "[mast]\n", "file", "twice"),
    Bad("", "[boat.stability]\n", "file", "twice"),
    Bad("[[state]]\nname = \"both\"", "[state]\nname = \"both\"", "file", "twice"),
]  # fmt: skip

# TOML itself
SYNTAX = [
    Bad('length = "6.8 m"', "length = 6.8 m", "file", "Texts stand in"),
    Bad('length = "6.8 m"', 'length = "6.8 m', "file", "Texts stand in"),
    Bad('length = "6.8 m"', "length = \u201c6.8 m\u201d", "file", "at line 19"),
    Bad('length = "6.8 m"', "length 6.8 m", "file", "at line 19"),
    Bad('length = "6.8 m"', "length =", "file", "at line 19"),
    Bad("[wind]", "[wind", "file", "not valid TOML"),
    Bad("[wind]", "wind:\n", "file", "not valid TOML"),
    Bad("", "\0", "file", "not valid TOML"),
    Bad("", "x = " + "[" * 100_000, "file", "too deeply"),
    Bad("", "x = " + "{a = " * 100_000, "file", "too deeply"),
    Bad("beaufort = 10", f"beaufort = {'9' * 5000}", "file", "not valid TOML"),
]

# what belongs to the file format and not to this version
REFUSED = [
    Bad("", '[furling]\ndrum_diameter = "90 mm"\nline_diameter = "6 mm"\n', "furling", "take the table out"),
    Bad("", '[stock]\nmax_piece = "6 m"\n', "stock", "take the table out"),
    Bad("[[mast.weld]]", '[[mast.sheath]]\nstart = "0 m"\nend = "1 m"\n\n[[mast.weld]]', "mast.sheath",
        "take the table out"),
    *(
        Bad(PARTNERS, f"{line}\n{PARTNERS}", f"bearings.partners.{line.split()[0]}",
            "take the key out")
        for line in ('kind = "plain"', 'material = "acetal"', 'length = "60 mm"', 'clearance = "0.5 mm"',
                     "count = 8", 'diameter = "20 mm"', 'thrust = {outer = "60 mm"}')
    ),
    Bad('hold = "rolled"', 'cloth_thickness = "0.4 mm"', f"{SAIL}.cloth_thickness", "take the key out"),
    Bad('bury = "0.9 m"', 'bury = "0.9 m"\nsupport = "post"', "mast.support", "through-deck mast"),
    Bad('bury = "0.9 m"', 'bury = "0.9 m"\nshape = "staves"', "mast.shape", 'shape = "round"'),
    Bad('bury = "0.9 m"', 'bury = "0.9 m"\nshape = "box"', "mast.shape", 'shape = "round"'),
    Bad('bury = "0.9 m"', 'bury = "0.9 m"\nshape = "ellipse"', "mast.shape", 'shape = "round"'),
    Bad('load_path = "luff"', 'load_path = "membrane"', f"{SAIL}.load_path", 'load_path = "luff"'),
    Bad('load_path = "luff"', 'load_path = "corners"', f"{SAIL}.load_path", 'load_path = "luff"'),
    Bad('kind = "bare"', 'kind = "motion"', "case[2].kind", "`given` case"),
    Bad('family = "metal"', 'family = "timber"', f"{MATERIAL}.family", "only metal tubes"),
    Bad('family = "metal"', 'family = "laminate"', f"{MATERIAL}.family", "only metal tubes"),
]  # fmt: skip

# keys that other kinds of case, or other choices, read
UNREAD = [
    Bad('kind = "bare"', 'kind = "bare"\nbasis = "RM30"', "case[2].basis", "by cases of kind heel-limited"),
    Bad('kind = "knockdown"', 'kind = "knockdown"\nwind_speed = "9 m/s"', "case[3].wind_speed",
        "by cases of kind wind-limited or bare"),
    Bad('kind = "knockdown"', 'kind = "knockdown"\nstate = "both"', "case[3].state",
        "by cases of kind heel-limited or wind-limited"),
    Bad('basis = "RM max"', 'moment = "900 N m"', "case[0].moment", 'when basis = "moment"'),
    Bad('basis = "RM max"', 'axial = "9 N"', "case[0].axial", "by cases of kind given"),
    Bad('profile = "power-law"', 'profile = "uniform"', "wind.exponent", 'when profile = "power-law"'),
    Bad('profile = "power-law"', 'profile = "power-law"\nroughness_length = "1 mm"',
        "wind.roughness_length", 'when profile = "log-law"'),
    Bad('fittings_mass = "0.8 kg"', "", "mast.fittings_height", "when fittings_mass is given"),
    Bad(ARM, f'{ARM}\nheel_at_max = "50 deg"', "boat.stability.heel_at_max", "when moment_max is given"),
    Bad(f"corners = {CORNERS}", f"corners = {CORNERS}\nroach = 0.1", f"{FORESAIL}.roach",
        "when the sail is not given by its corners"),
]  # fmt: skip

# rules between fields
AGREE = [
    Bad('lateral_centre = "0.05 m"', 'lateral_centre = "0.5 m"', "boat.lateral_centre", "below the waterline"),
    Bad(ARM, f'{ARM}\ngm = "0.5 m"\nbm = "1 m"', "boat.stability", "exactly one form"),
    Bad(f"righting_arm = {ARM}", "", "boat.stability", "Add one of them", also=("case[0].basis",)),
    Bad(f"righting_arm = {ARM}", 'gm = "0.5 m"', "boat.stability.bm", "Add bm", also=("case[0].basis",)),
    Bad(f"righting_arm = {ARM}", 'bm = "0.5 m"', "boat.stability.gm", "Add gm", also=("case[0].basis",)),
    Bad(f"righting_arm = {ARM}", 'gm = "0.5 m"\nbm = "1 m"', "case[0].basis", "choose another basis"),
    Bad(f"righting_arm = {ARM}", 'moment_30 = "2 kN m"', "case[0].basis", "choose another basis"),
    Bad(f"righting_arm = {ARM}", 'moment_30 = "2 kN m"\nmoment_max = "1 kN m"', "boat.stability.moment_max",
        "at least that at 30 deg"),
    Bad('["0 deg", "0 m"]', '["5 deg", "0 m"]', "boat.stability.righting_arm[0]", 'Begin with ["0 deg", "0 m"]'),
    Bad('["0 deg", "0 m"]', '["0 deg", "0.1 m"]', "boat.stability.righting_arm[0]", "the table starts upright"),
    Bad('"110 deg"', '"110 rad"', "boat.stability.righting_arm[3]", "Is it in degrees?"),
    Bad('"0.35 m"', '"35 m"', "boat.stability.righting_arm", "over 5 m"),
    Bad(ARM, '[["0 deg", "0 m"], ["30 deg", "-0.2 m"]]', "boat.stability.righting_arm", "Check the signs",
        also=("case[0].basis",)),
    Bad('["30 deg", "0.26 m"]', '["30 deg", "-0.26 m"]', "case[10].basis", "no righting moment", append=RM30),
    Bad('["30 deg", "0.26 m"]', '["30 deg", "0 m"]', "case[10].basis", "no righting moment", append=RM30),
    Bad(ARM, '[["0 deg", "0 m"], ["20 deg", "0.2 m"]]', "case[10].basis", "Extend boat.stability.righting_arm",
        append=RM30),
    Bad('bury = "0.9 m"', 'bury = "7 m"', "mast.bury", "less than the length",
        also=(SAIL, "case[5].arm")),
    Bad('height = "0 m"', 'height = "0.1 m"', f"{MAST}[0].height", "the first station is the heel"),
    Bad('height = "6.8 m", diameter', 'height = "6.7 m", diameter', f"{MAST}[3].height", "the last station is"),
    Bad('height = "2.81 m", diameter = "88 mm"', 'height = "2.8 m", diameter = "88 mm"', f"{MAST}[2].height",
        "in order from heel to tip"),
    Bad('height = "2.81 m", diameter = "101.6 mm"', 'height = "0 m", diameter = "101.6 mm"', f"{MAST}[1].height",
        "make a step: not three, nor at an end"),
    Bad(', wall = "5.7 mm"', "", f"{MAST}[0].wall", 'Give its wall: wall = "4 mm"'),
    Bad('wall = "5.7 mm"', 'wall = "51 mm"', f"{MAST}[0].wall", "less than half the diameter"),
    Bad('wall = "3.5 mm"', 'wall = "43 mm"', "mast.sleeve[0].wall", "less than half the diameter"),
    Bad('start = "2.4 m"', 'start = "3 m"', "mast.sleeve[0].start", "Are the two swapped?"),
    Bad('end = "2.8 m"', 'end = "7 m"', "mast.sleeve[0].end", "above the tip", also=("mast.sleeve[0].diameter",)),
    Bad('height = "4 m"', 'height = "7 m"', "mast.opening[0].height", "above the tip"),
    Bad('height = "1.5 m"', 'height = "7 m"', "mast.weld[0].height", "above the tip"),
    Bad('fittings_height = "6.5 m"', 'fittings_height = "7 m"', "mast.fittings_height", "above the tip"),
    Bad('diameter = "85 mm"', 'diameter = "89 mm"', "mast.sleeve[0].diameter", "neither inside the mast"),
    Bad("[[mast.opening]]", '[[mast.sleeve]]\nstart = "2.5 m"\nend = "2.7 m"\ndiameter = "80 mm"\n'
        'wall = "3 mm"\n[[mast.opening]]', "mast.sleeve[1].diameter", "inside one another"),
    Bad('width = "12 mm"', 'width = "36 mm"', "mast.opening[0].width", "Make it narrower"),
    Bad('width = "12 mm"\nlength = "40 mm"', 'width = "12 mm"\nlength = "8 mm"', "mast.opening[0].length",
        "Turn it along the mast"),
    Bad('material = "6061-T6 extruded"', 'material = "6061-t6 extruded"', "mast.material",
        "Did you mean '6061-T6 extruded'?"),
    Bad('material = "6061-T6 extruded"', 'material = "Sitka spruce"', "mast.material", "no metal of this name"),
    Bad('material = "6061-T6 extruded"', 'material = "6061-T6 typical"', "mast.material", "not for design use"),
    Bad('material = "6061-T6 extruded"', 'material = "6063-T5 extruded"', "mast.material", "at most 3 mm"),
    Bad('material = "6061-T6 extruded"', 'material = "6061-T6 ASTM B241 drawn pipe"', "mast.material",
        "strength beside a weld is not known"),
    Bad('material = "own alloy"', 'material = "own aloy"', "mast.sleeve[0].material", "no metal of this name"),
    Bad('name = "foresail"', 'name = "mainsail"', f"{FORESAIL}.name", "Rename one",
        also=("state[0].set.foresail", "state[1].set.foresail")),
    Bad('name = "main alone"', 'name = "both"', "state[1].name", "Rename one",
        also=("case[1].state", "case[5].state")),
    Bad('name = "flat"', 'name = "storm"', "case[3].name", "Rename one"),
    Bad("", GOOD[GOOD.index("[[material]]"):], "material[1].name", "Rename one"),
    Bad(f"corners = {CORNERS}", f'corners = {CORNERS}\nluff = "4 m"', FORESAIL, "Keep one form", value="luff"),
    Bad(f"corners = {CORNERS}\n", "", FORESAIL, "Give luff, foot and tack_height, or corners"),
    Bad('foot = "2.45 m"', "", SAIL, "foot missing"),
    Bad('head = "0.7 m"', "", f"{SAIL}.head", "Add head"),
    Bad('head_angle = "25 deg"', "", f"{SAIL}.head_angle", "Add head_angle"),
    Bad('clew_rise = "0.2 m"', 'clew_rise = "2.5 m"', f"{SAIL}.clew_rise", "from tack to clew"),
    Bad('luff = "4.8 m"\nfoot = "2.45 m"\ntack_height = "1.4 m"\nclew_rise = "0.2 m"',
        'luff = "1 m"\nfoot = "3 m"\ntack_height = "1.4 m"\nclew_rise = "2 m"', SAIL,
        "the clew stands above the head"),
    Bad(CORNERS, '[["0 m", "1 m"], ["0 m", "5 m"], ["-1 m", "1 m"], ["-1 m", "4 m"]]', FORESAIL, "its edges cross"),
    Bad(CORNERS, '[["0 m", "1 m"], ["0 m", "5 m"], ["0 m", "3 m"]]', FORESAIL, "it has no area"),
    Bad('luff = "4.8 m"', 'luff = "5.5 m"', SAIL, "above the tip of the mast"),
    Bad('tack_height = "1.4 m"', 'tack_height = "0.8 m"', SAIL, "below the partners"),
    Bad('waterline = "0.4 m"', 'waterline = "4 m"', SAIL, "below the waterline", also=(FORESAIL,)),
    Bad(CORNERS, '[["0 m", "0.5 m"], ["0 m", "1 m"], ["-1 m", "0.6 m"]]', "case[10].arm", "below the partners",
        append='[[case]]\nname = "x"\nkind = "heel-limited"\nstate = "both"\narm = "partners"\n'),
    Bad('mast = "main"', 'mast = "mian"', f"{SAIL}.mast", 'no sail stands on the mast of this file, "main"',
        also=("case[0].kind", "case[1].kind", "case[5].kind")),
    Bad("{mainsail = 1, foresail = 0}", "{mainsal = 1}", "state[1].set.mainsal", 'Did you mean "mainsail"?',
        also=("case[1].kind", "case[5].kind")),
    Bad("{mainsail = 1, foresail = 0}", "{mainsail = 0.5}", "state[1].set.mainsail", "[[sail]] of its own"),
    Bad("{mainsail = 1, foresail = 0}", "{mainsail = 0}", "state[1].set", 'Use a case of kind "bare"',
        also=("case[1].kind", "case[5].kind")),
    Bad("{mainsail = 1, foresail = 0}", "{foresail = 1}", "case[1].kind", "no sail is set on this mast",
        also=("case[5].kind",)),
    Bad('state = "both"', 'state = "bth"', "case[0].state", 'Did you mean "both"?'),
    Bad('state = "both"', 'state = "reefed"', "case[0].state", "there are both, main alone"),
    Bad('wind_speed = "10 m/s"', "", "case[1].wind_speed", 'Give one: wind_speed = "20 kn"'),
    Bad("beaufort = 10", 'beaufort = 10\nwind_speed = "9 m/s"', "case[2].wind_speed", "both are given"),
    Bad('moment = "1500 N m"', "", "case[5].moment", 'Add moment = "2400 N m"'),
    Bad("", '[[case]]\nname = "x"\nkind = "given"\n', "case[10]", "it gives no load"),
    Bad('["0.95 m", "50 N/m"], ["6.8 m", "0 N/m"]', '["0.95 m", "50 N/m"], ["9 m", "0 N/m"]',
        "case[4].line_load[1]", "not on the mast"),
    Bad('["6.7 m", "7 N/m"]', '["9 m", "7 N/m"]', "case[4].line_load_forward[1]", "not on the mast"),
    Bad('["0.95 m", "50 N/m"]', '["-1 m", "50 N/m"]', "case[4].line_load[0]", "not on the mast"),
    Bad('["0.95 m", "50 N/m"]', '["6.9 m", "50 N/m"]', "case[4].line_load[1]", "Put the entries in order"),
    Bad('height = "6.6 m"', 'height = "9 m"', "case[4].point_load[0].height", "not on the mast"),
    Bad('proof = "201 MPa"\n', 'proof = "260 MPa"\n', f"{MATERIAL}.proof", "Are the two swapped?"),
    Bad('welded_proof = "101 MPa"', "", f"{MATERIAL}.welded_proof", "Add welded_proof",
        also=("mast.sleeve[0].material",)),
    Bad('welded_ultimate = "151 MPa"', "", f"{MATERIAL}.welded_ultimate", "Add welded_ultimate"),
    Bad('welded_proof = "101 MPa"', 'welded_proof = "210 MPa"', f"{MATERIAL}.welded_proof",
        "welding does not raise proof"),
    Bad('welded_ultimate = "151 MPa"', 'welded_ultimate = "260 MPa"', f"{MATERIAL}.welded_ultimate",
        "welding does not raise ultimate"),
    Bad('G = "26.5 GPa"', 'G = "10 GPa"', f"{MATERIAL}.G", "Check E, G and nu"),
]  # fmt: skip

BAD = [*WRITING, *BANDS, *KEYS, *SYNTAX, *REFUSED, *UNREAD, *AGREE]


def problems_of(text: str) -> tuple[Any, ...]:
    """Return the problems of a text that must have some."""
    with pytest.raises(RigInputError) as caught:
        read_rig(text)
    assert caught.value.problems
    return caught.value.problems


def test_the_good_file_is_good() -> None:
    assert read_rig(GOOD).title == "Rig of the tests"
    assert check(read_rig(GOOD)).passed


@pytest.mark.parametrize("bad", BAD, ids=str)
def test_bad_file(bad: Bad, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    problems = problems_of(bad.text)
    assert {p.path for p in problems} == {bad.path, *bad.also}
    told = [p for p in problems if p.path == bad.path and bad.tells in f"{p.allowed}. {p.remedy}"]
    assert told, f"{bad.tells!r} is not in {[str(p) for p in problems]}"
    assert any(bad.value in p.value for p in told)
    for problem in problems:
        assert problem.allowed and problem.remedy[-1] in ".?"
        assert len(problem.value) < 100

    file = tmp_path / "bad.toml"
    file.write_text(bad.text, encoding="utf-8")
    assert main(["check", str(file)]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert "Traceback" not in captured.err
    assert bad.tells in captured.err
    assert f"{file}: {'1 problem' if len(problems) == 1 else f'{len(problems)} problems'} in" in captured.err
    lines = captured.err.splitlines()
    assert all(line.isprintable() for line in lines)
    assert len(lines) == 1 + len(problems), "one line to each problem, below the heading"
    if bad.path.isprintable():
        assert any(line.startswith(f"  {bad.path}") for line in lines)


def test_sails_on_another_mast_alone_are_refused_without_a_case_too() -> None:
    # the standard set of cases must not pass a mast because nothing pulls on it
    table = tomllib.loads(starter_text())
    table["sail"][0]["mast"] = "main"
    (problem,) = problems_of(toml_of(table))
    assert problem.path == "sail[0].mast"
    assert "Leave the key out" in problem.remedy


def test_a_mast_that_ends_below_the_water_is_refused() -> None:
    table = tomllib.loads(starter_text())
    del table["sail"]
    table["boat"]["waterline"] = "4.7 m"
    table["mast"]["length"] = table["mast"]["stations"][1]["height"] = "4.6 m"
    (problem,) = problems_of(toml_of(table))
    assert problem.path == "boat.waterline"
    assert "below the tip of the mast" in problem.allowed


@pytest.mark.parametrize(
    ("content", "tells"),
    [
        (GOOD.encode("utf-16"), "Save the file as UTF-8 text"),
        (GOOD.replace("Rig of", "Gréement").encode("latin-1"), "Save the file as UTF-8 text"),
        (GOOD.encode() + b"#" * 2_000_000, "Check the file name"),
        (b"", 'Add title = "..."'),
        (b"\n# nothing\n", "Add a table [mast]"),
        (b"\x7fELF\x00\x01\x02", "file"),
    ],
    ids=["utf-16", "latin-1", "oversize", "empty", "comment alone", "program"],
)
def test_bad_bytes(content: bytes, tells: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "bad.toml"
    file.write_bytes(content)
    with pytest.raises(RigInputError):
        load_rig(file)
    assert main(["check", str(file)]) == 2
    captured = capsys.readouterr()
    assert captured.out == "" and tells in captured.err and "Traceback" not in captured.err


@pytest.mark.parametrize("before", [b"\xef\xbb\xbf", b"\r\n"], ids=["byte order mark", "blank line"])
def test_what_editors_do_is_borne(before: bytes, tmp_path: Path) -> None:
    file = tmp_path / "good.toml"
    file.write_bytes(before + GOOD.replace("\n", "\r\n").encode())
    assert load_rig(file) == read_rig(GOOD)


def test_names_may_be_in_any_tongue() -> None:
    text = GOOD.replace("Rig of the tests", "Gréement à Ψ, 試し").replace('"storm"', '"Sturm, Böen"')
    text = text.replace('"mainsail"', '"Großsegel"').replace("mainsail =", '"Großsegel" =')
    rig = read_rig(text)
    assert rig.title == "Gréement à Ψ, 試し"
    assert rig.sails[0].name == rig.states[0].set[0][0] == "Großsegel"
    assert "Sturm, Böen" in screen(check(rig, case="Sturm, Böen"))


@pytest.mark.parametrize(
    "bad", [WRITING[0], KEYS[5], SYNTAX[0], AGREE[0], REFUSED[0]], ids=lambda bad: str(bad)
)
def test_bad_file_in_a_process_of_its_own(bad: Bad) -> None:
    ran = subprocess.run(
        [sys.executable, "-m", "rigcalc", "check", "-"],
        input=bad.text.encode(),
        capture_output=True,
        check=False,
    )
    said = ran.stderr.decode()
    assert (ran.returncode, ran.stdout) == (2, b"")
    assert bad.path in said and bad.tells in said and "Traceback" not in said


def test_endless_lists_are_refused() -> None:
    many = 20_001
    table = tomllib.loads(GOOD)
    table["case"][4]["line_load"] = [["1 m", "0 N/m"]] * many
    table["mast"]["weld"] = [{"height": "1 m"}] * many
    found = {p.path: p for p in problems_of(toml_of(table))}
    assert set(found) == {"case[4].line_load", "mast.weld"}
    assert all("at most 20000" in p.allowed and "20001 entries" in p.value for p in found.values())


def test_every_problem_is_told_at_once() -> None:
    text = GOOD
    edits = [
        ('displacement = "640 kg"', 'displacement = "640"'),
        ('length = "6.8 m"', "length = 6.8"),
        ('E = "70 GPa"', 'E = "70 MPa"'),
        ('bury = "0.9 m"', 'burry = "0.9 m"'),
        ('state = "both"', 'state = "bth"'),
        ('lateral_centre = "0.05 m"', 'lateral_centre = "0.5 m"'),
        ("beaufort = 10", "beaufort = 10\nbasis = 'RM30'"),
        ('wall = "3 mm"', 'wall = "50 mm"'),
    ]
    for old, new in edits:
        assert text.count(old) == 1
        text = text.replace(old, new)
    paths = [p.path for p in problems_of(text)]
    assert sorted(paths) == sorted(
        [
            "boat.displacement",
            "mast.length",
            "material[0].E",
            "mast.burry",
            "mast.bury",
            "case[0].state",
            "boat.lateral_centre",
            "case[2].basis",
        ]
    )


# what follows walks the descriptions, so that a field added later is held to the same


def quantities(
    table: type[Any], raw: Any, path: tuple[str | int, ...] = ()
) -> Iterator[tuple[Any, Quantity]]:
    """Yield path and description of every quantity of a table that the good file gives."""
    for name, entry in described_fields(table).items():
        spec, here = spec_of(entry), (*path, name)
        if name not in raw:
            continue
        if isinstance(spec, Quantity):
            yield here, spec
        elif isinstance(spec, Table):
            yield from quantities(spec.of, raw[name], here)
        elif isinstance(spec, Tables):
            for i, item in enumerate(raw[name]):
                yield from quantities(spec.of, item, (*here, i))
        elif isinstance(spec, Curve):
            for i, pair in enumerate(raw[name]):
                for k in range(len(pair)):
                    yield (*here, i, k), Quantity("", unit=spec.units[k])


QUANTITIES = list(quantities(Rig, tomllib.loads(GOOD)))


def spoilt(replace: dict[tuple[str | int, ...], Any]) -> dict[str, str]:
    """Return path -> problem of the good file with other values in some places."""
    table = tomllib.loads(GOOD)
    for path, value in replace.items():
        put(table, path, value)
    return {p.path: f"{p.allowed}. {p.remedy}" for p in problems_of(toml_of(table))}


@pytest.mark.parametrize(
    "wrong",
    ["", "7 furlongs", "7 s", "1,5 m", "m", "nan", "1e999 m", True, [], {}, date(2026, 1, 2), 10**30],
    ids=repr,
)
def test_every_quantity_refuses(wrong: Any) -> None:
    found = spoilt({path: wrong for path, _ in QUANTITIES})
    assert {shown(path) for path, _ in QUANTITIES} <= set(found)


def test_every_quantity_wants_its_unit() -> None:
    with_unit = [path for path, spec in QUANTITIES if spec.unit != "1"]
    for bare in (1, 1.5, "1.5"):
        found = spoilt(dict.fromkeys(with_unit, bare))
        assert {shown(path) for path in with_unit} <= set(found)


@pytest.mark.parametrize("end", ["low", "high"])
def test_every_bound_of_every_quantity_is_held(end: str) -> None:
    beyond: dict[tuple[str | int, ...], str] = {}
    for path, spec in QUANTITIES:
        low = [b for b in (spec.above, spec.at_least, (spec.sane or [None])[0]) if b is not None]
        high = [b for b in (spec.at_most, (spec.sane or [None, None])[1]) if b is not None]
        limit = max(low, default=None) if end == "low" else min(high, default=None)
        if limit is not None:
            step = abs(limit) * 0.01 or 1e-3
            beyond[path] = show(limit + (step if end == "high" else -step), spec.unit, digits=9)
    assert len(beyond) > 30
    found = spoilt(beyond)
    assert {shown(path) for path in beyond} <= set(found)


def test_every_key_of_a_case_is_refused_by_the_kinds_that_do_not_read_it() -> None:
    kind_of_case = spec_of(described_fields(Case)["kind"])
    assert isinstance(kind_of_case, Choice)
    sample = {"state": "both", "basis": "RM30", "arm": "partners", "beaufort": 3, "point_load": []}
    cases: list[dict[str, Any]] = []
    wanted = set()
    for name, entry in described_fields(Case).items():
        for kind in kind_of_case.options:
            if spec_of(entry).only and kind not in spec_of(entry).only:
                wanted.add(f"case[{len(cases)}].{name}")
                cases.append({"name": f"{kind} {name}", "kind": kind, name: sample.get(name, "1 m")})
    table = tomllib.loads(GOOD)
    table["case"] = cases
    found = {p.path for p in problems_of(toml_of(table)) if "is read only by cases of kind" in p.allowed}
    assert wanted <= found
    assert len(wanted) > 30


def fields_of(table: type[Any], path: str = "") -> Iterator[tuple[str, Field[Any]]]:
    """Yield path and field of everything that may stand in a rig file, each bearing once."""
    for name, entry in described_fields(table).items():
        here = f"{path}.{name}" if path else name
        if here == "bearings.step":
            continue
        yield here, entry
        spec = spec_of(entry)
        if isinstance(spec, Table | Tables) and not spec.absent:
            yield from fields_of(spec.of, here)


def test_every_refused_part_has_a_bad_file() -> None:
    tried = {(bad.path.replace("[0]", "").replace("[2]", ""), bad.new) for bad in REFUSED}
    for path, entry in fields_of(Rig):
        spec = spec_of(entry)
        if spec.absent:
            assert any(path == there for there, _ in tried), f"{path} has no bad file"
        if isinstance(spec, Choice):
            for option in spec.refused:
                assert any(path == there and f'"{option}"' in new for there, new in tried), (
                    f"{path} = {option}"
                )


# random damage

NUMBERS = (
    st.sampled_from([0, 1, -1, 7, 10**6, 10**30, 0.5, -0.5, 1e-300, 1e300, math.nan, math.inf, -math.inf])
    | st.integers(-(10**20), 10**20)
    | st.floats(width=64)
)
WORDS = st.sampled_from(
    ["", "x", "main", "both", "mainsail", "moment", "RM30", "given", "bare", "rolled", "log-law", "é✓", "\x1b[31m",
     "1e999 m", "-1 m", "0 m", "1/0 m", "nan m", "14 ft 3 in", "inf N", "x" * 5000]
)  # fmt: skip
UNITS = st.sampled_from(
    ["m", "mm", "ft", "deg", "N", "kN", "N m", "GPa", "kg", "kg/m3", "g/m2", "kn", "N/m", "%"]
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
    | st.sampled_from([True, [], {}, [[]], [{}], {"a": 1}, ["0 m", "1 m"], date(2026, 1, 2)])
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
