"""Bad rig files: small edits of the good one, and what must be said of each."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import Field, dataclass
from types import SimpleNamespace
from typing import Any

from rigcalc.rig import Case, Material
from rigcalc.rig.fields import Choice, described_fields, is_needed, is_required, spec_of

from . import GOOD, LAID_STATIONS, VARIANTS, edited, toml_of
from .own import OWN, own_text


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
    of: str = ""
    """Name of the variant that is edited in the good file's place."""

    @property
    def text(self) -> str:
        edits = VARIANTS[self.of] if self.of else ()
        if not self.old:
            return edited(*edits) + self.new
        return edited(*edits, (self.old, self.new)) + self.append

    def __str__(self) -> str:
        new = "" if self.old == "" and self.new.count("[[case]]") > 1 else self.new
        new = new.replace('[[case]]\nname = "another"\n', "")
        return " ".join(ascii(f"{self.path} {new or 'without ' + self.old or 'by kind'}").split())[1:91]


NEXT = f"case[{GOOD.count('[[case]]')}]"
"""Path of a case put after those of the good file."""


def another(kind: str, *lines: str) -> str:
    """Return one more case."""
    return "\n".join(["[[case]]", 'name = "another"', f'kind = "{kind}"', *lines, ""])


PARRELS = '["1.6 m", "2.6 m", "3.7 m", "4.8 m"]'
CORNERS = '[["0 m", "1.2 m"], ["0 m", "5.5 m"], ["-1.6 m", "1.3 m"]]'
ARM = '[["0 deg", "0 m"], ["30 deg", "0.26 m"], ["60 deg", "0.35 m"], ["110 deg", "0 m"]]'
MAST, SAIL, FORESAIL, LUGSAIL, MATERIAL = "mast.stations", "sail[0]", "sail[1]", "sail[2]", "material[0]"
PATCH, TUBE, SHEATH = "laminate[0]", "laminate[1]", "mast.sheath[0]"
PARTNERS = 'stiffness = "2e6 N/m"'

ROUND_ONLY = ("mast.sleeve", "mast.opening")
LENGTH_LINE = GOOD[: GOOD.index('length = "6.8 m"')].count("\n") + 1
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
    Bad('title = "Rig of the tests"', f"title{'.a' * 15} = 1", "title", "Write it in quotes"),
    Bad('title = "Rig of the tests"', 'title = """one\ntwo"""', "title", "a text of one line is wanted"),
    Bad('title = "Rig of the tests"', 'title = "red \\u001b[31m"', "title", "U+001B", value="\x1b"),
    Bad('title = "Rig of the tests"', 'title = "hard\\u00a0space"', "title", "U+00A0"),
    Bad('design_category = "C"', 'design_category = "E"', "boat.design_category", '"A" (ocean)'),
    Bad('design_category = "C"', 'design_category = "c"', "boat.design_category", 'Did you mean "C"?'),
    Bad('design_category = "C"', "design_category = 3", "boat.design_category", '"A" (ocean)'),
    Bad('kind = "bare"', 'kind = "Bare"', "case[2].kind", 'Did you mean "bare"?'),
    Bad('kind = "bare"', 'kind = "storm"', "case[2].kind",
        '"bare" (storm wind on the mast and what is rolled on it)'),
    Bad('hold = "rolled"', 'hold = "roled"', "sail[0].hold", 'Did you mean "rolled"?'),
    Bad("set = {mainsail = 1, foresail = 0}", 'set = ["mainsail"]', "state[1].set", "Write {main = 1.0}"),
    Bad("set = {mainsail = 1, foresail = 0}", "set = {}", "state[1].set", "Write {main = 1.0}"),
    Bad("{mainsail = 1, foresail = 0}", "{mainsail = 2}", "state[1].set.mainsail",
        "1 for set and 0 for down"),
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
    Bad("panels = 5", "panels = 5.0", f"{LUGSAIL}.panels", "a whole number from 2 to 20"),
    Bad("panels = 5", "panels = 1", f"{LUGSAIL}.panels", "a whole number from 2 to 20"),
    Bad("panels = 5", "panels = 21", f"{LUGSAIL}.panels", "a whole number from 2 to 20"),
    Bad(PARRELS, "[" + '"1.6 m", ' * 201 + "]", f"{LUGSAIL}.parrel_heights", "at most 200"),
    Bad(PARRELS, '"1.6 m"', f"{LUGSAIL}.parrel_heights", "a list of two heights or more"),
    Bad(PARRELS, "[]", f"{LUGSAIL}.parrel_heights", "a list of two heights or more"),
    Bad(PARRELS, '["1.6 m"]', f"{LUGSAIL}.parrel_heights", 'Write ["1.2 m", "2.0 m"].'),
    Bad(PARRELS, '["1.6 m", 2.6]', f"{LUGSAIL}.parrel_heights[1]", '"2.6 m"'),
    Bad(PARRELS, '["1.6 m", ["2.6 m"]]', f"{LUGSAIL}.parrel_heights[1]", "a length with its unit is wanted"),
    Bad(PARRELS, '["1.6 m", "2.6"]', f"{LUGSAIL}.parrel_heights[1]", "2.6 m"),
    Bad(PARRELS, '["1.6 m", "3.7 m", "2.6 m"]', f"{LUGSAIL}.parrel_heights[2]", "in order from the foot up",
        value="2.6 m"),
    Bad(PARRELS, '["1.6 m", "2.6 m", "2.6 m"]', f"{LUGSAIL}.parrel_heights[2]", "before it stands 2.6 m"),
    Bad('roll_period = "2.4 s"', 'roll_period = "2.4"', "case[8].roll_period", "2.4 s"),
    Bad('roll_period = "2.4 s"', 'roll_period = "2.4 sec"', "case[8].roll_period", "Did you mean s?"),
    Bad('boat_speed = "2 m/s"', 'boat_speed = "4 knots"', "case[7].boat_speed", "Did you mean kn?"),
    Bad('air_viscosity = "1.5e-5 m2/s"', 'air_viscosity = "1.5e-5"', "wind.air_viscosity", "1.5e-5 m2/s"),
    Bad('clew_held = "wishbone"', 'clew_held = "wish bone"', f"{SAIL}.clew_held", 'Did you mean "wishbone"?'),
    Bad('load_path = "membrane"', 'load_path = "leech"', f"{SAIL}.load_path", '"corners" (3/7 at the head'),
    Bad('gust = "land-3s"', 'gust = "land-3"', "case[7].gust", 'Did you mean "land-3s"?'),
    Bad('gust = "land-3s"', "gust = 1.45", "case[7].gust", '"none" (1, the wind stated is the gust itself)'),
    Bad('coefficients = "ims-older"', 'coefficients = "ims"', "case[0].coefficients", '"ims-older"'),
    Bad('sealed = "yes"', "sealed = true", "case[3].sealed", '"no" (it floods: no buoyancy)'),
    Bad('heel_falloff = "cos1.3"', "heel_falloff = 1.3", "wind.heel_falloff", '"cos2" (as its square'),
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
    Bad('diameter = "70 mm"', 'diameter = "7 mm"', f"{MAST}[3].diameter", "10 mm to 0.8 m"),
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
    Bad('head_angle = "25 deg"', 'head_angle = "25 rad"', f"{SAIL}.head_angle", "at most 85 deg"),
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
    Bad('time_per_day = "2 h"', 'time_per_day = "2 min"', "fatigue.time_per_day", "at least 30 min"),
    Bad('time_per_day = "2 h"', 'time_per_day = "25 h"', "fatigue.time_per_day", "at most 24 h"),
    Bad("days_at_sea = 12", "days_at_sea = 0", "fatigue.days_at_sea", "at least 1"),
    Bad("days_at_sea = 12", 'days_at_sea = "12 d"', "fatigue.days_at_sea", "a pure number"),
    Bad("stress_ratio = 0.2", "stress_ratio = 0.6", "fatigue.stress_ratio", "at most 0.5"),
    Bad("stress_ratio = 0.2", "stress_ratio = -1.1", "fatigue.stress_ratio", "at least -1"),
    Bad('detail = "machined"', 'category = "90 kPa"\nslope = 7', "fatigue.category", "90 MPa"),
    Bad('play = "0.4 mm"', 'play = "0.4 cm"', "mast.sleeve[0].play", "Pack it"),
    Bad('play = "0.4 mm"', 'play = "-0.4 mm"', "mast.sleeve[0].play", "at least 0 m"),
    Bad('tip_deflection = "12 %"', "tip_deflection = 12", "limits.tip_deflection", "Did you mean 12 %?"),
    Bad("yield_factor = 1.2", "yield_factor = 0.9", "limits.yield_factor", "at least 1"),
    Bad(f"righting_arm = {ARM}", 'gm = "500 m"\nbm = "1 m"', "boat.stability.gm", "500 mm"),
    Bad('beam = "1.8 m"', 'beam = "180 m"', "boat.beam", "180 cm"),
    Bad('roll_gyration = "0.75 m"', 'roll_gyration = "75 m"', "boat.roll_gyration", "75 cm"),
    Bad("roll_damping = 0.06", "roll_damping = 6", "boat.roll_damping", "at most 0.5"),
    Bad("roll_damping = 0.06", 'roll_damping = "-6 %"', "boat.roll_damping", "at least 0"),
    Bad('ballast_height = "0.1 m"', 'ballast_height = "100 m"', "boat.ballast_height", "100 mm"),
    Bad('reference_mass = "14 kg"', 'reference_mass = "14 g"', "mast.reference_mass", "14 kg"),
    Bad("damping = 0.03", "damping = 0", "mast.damping", "above 0"),
    Bad("damping = 0.03", "damping = 3", "mast.damping", "at most 0.5"),
    Bad('cloth_thickness = "0.3 mm"', 'cloth_thickness = "0.3 m"', f"{SAIL}.cloth_thickness", "0.3 mm"),
    Bad("roll_slack = 2.5", "roll_slack = 0.9", f"{SAIL}.roll_slack", "at least 1"),
    Bad('leech_sag = "8 %"', "leech_sag = 8", f"{SAIL}.leech_sag", "at most 0.12"),
    Bad('leech_sag = "8 %"', "leech_sag = 0", f"{SAIL}.leech_sag", "at least 0.01"),
    Bad('spar_height = "2.5 m"', 'spar_height = "2500 m"', f"{SAIL}.spar_height", "2500 mm"),
    Bad('"4.8 m"]', '"4800 m"]', f"{LUGSAIL}.parrel_heights[3]", "4800 mm"),
    Bad('["1.6 m", "2.6 m",', '["-1.6 m", "2.6 m",', f"{LUGSAIL}.parrel_heights[0]", "at least 0 m"),
    Bad('apparent_wind_angle = "35 deg"', 'apparent_wind_angle = "95 deg"', "case[0].apparent_wind_angle",
        "at most 90 deg"),
    Bad('apparent_wind_angle = "35 deg"', 'apparent_wind_angle = "9 deg"', "case[0].apparent_wind_angle",
        "at least 10 deg"),
    Bad('true_wind_angle = "150 deg"', 'true_wind_angle = "210 deg"', "case[7].true_wind_angle",
        "at most 180 deg"),
    Bad('force_angle = "90 deg"', 'force_angle = "90 rad"', "case[2].force_angle", "at most 180 deg"),
    Bad('boat_speed = "2 m/s"', 'boat_speed = "-2 m/s"', "case[7].boat_speed", "at least 0 m/s"),
    Bad('longitudinal_moment = "1.9 kN m"', 'longitudinal_moment = "0 N m"', "case[1].longitudinal_moment",
        "above 0 N m"),
    Bad('roll_amplitude = "25 deg"', 'roll_amplitude = "85 deg"', "case[8].roll_amplitude",
        "at most 75 deg"),
    Bad('roll_period = "2.4 s"', 'roll_period = "0 s"', "case[8].roll_period", "at least 0.5 s"),
    Bad('pitch_period = "2.2 s"', 'pitch_period = "2.2 min"', "case[8].pitch_period", "at most 20 s"),
    Bad('tip_speed = "1.4 m/s"', 'tip_speed = "14 m/s"', "case[3].tip_speed", "14 km/h"),
    Bad('wet_length = "1.1 m"', 'wet_length = "1100 m"', "case[3].wet_length", "1100 mm"),
    Bad('upper_height = "4.6 m"', 'upper_height = "4600 m"', "case[9].upper_height", "4600 mm"),
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
    Bad('parrel_heights = ', "parrel_height = ", f"{LUGSAIL}.parrel_height",
        "Did you mean 'parrel_heights'?"),
    Bad('roll_period = "2.4 s"', 'period = "2.4 s"', "case[8].period", "no such key"),
    Bad('wet_length = "1.1 m"', 'wetted_length = "1.1 m"', "case[3].wetted_length",
        "Did you mean 'wet_length'?",
        also=("case[3].wet_length",)),
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
    Bad(STATIONS, 'stations = [{height = "0 m", diameter = "60 mm", wall = "3 mm"}]', MAST,
        "2 or more tables"),
    Bad('source = "certificate of the mill"', "", f"{MATERIAL}.source", "Add source ="),
    Bad("set = {mainsail = 1, foresail = 0}", "", "state[1].set", "Add set ="),
    Bad('end = "2.81 m"', "", "mast.sleeve[0].end", "Add end =", also=(f"{MAST}[2].diameter",)),
    Bad('length = "6.8 m"', 'length = "6.8 m"\nlength = "6.9 m"', "file", "twice"),
    Bad("", "[mast]\n", "file", "twice"),
    Bad("", "[boat.stability]\n", "file", "twice"),
    Bad("[[state]]\nname = \"both\"", "[state]\nname = \"both\"", "file", "twice"),
]  # fmt: skip

# TOML itself
SYNTAX = [
    Bad('length = "6.8 m"', "length = 6.8 m", "file", "Texts stand in"),
    Bad('length = "6.8 m"', 'length = "6.8 m', "file", "is the closing quote missing?"),
    Bad('length = "6.8 m"', "length = \u201c6.8 m\u201d", "file", f"at line {LENGTH_LINE}"),
    Bad('length = "6.8 m"', "length 6.8 m", "file", f"at line {LENGTH_LINE}"),
    Bad('length = "6.8 m"', "length =", "file", f"at line {LENGTH_LINE}"),
    Bad("[wind]", "[wind", "file", "not valid TOML"),
    Bad("[wind]", "wind:\n", "file", "not valid TOML"),
    Bad("", "\0", "file", "not valid TOML"),
    Bad("", "x = " + "[" * 100_000, "file", "too deeply"),
    Bad("", "x = " + "{a = " * 100_000, "file", "too deeply"),
    Bad("beaufort = 10", f"beaufort = {'9' * 5000}", "file", "not valid TOML"),
]

_TUBE, _CLOTH = "stock.tube[0]", "stock.cloth[0]"

# what can be bought
STOCK = [
    Bad('series = ["inch pipe, schedule 40", ', 'series = ["inch pipe, schedule 4", ', "stock.series[0]",
        'Did you mean "inch pipe, schedule 40"'),
    Bad('series = ["inch pipe, schedule 40", "inch pipe, schedule 80"]', 'series = "inch pipe, schedule 40"',
        "stock.series", "a list of 1 to 100 texts is wanted"),
    Bad('series = ["inch pipe, schedule 40", "inch pipe, schedule 80"]', "series = []", "stock.series",
        "a list of 1 to 100 texts is wanted"),
    Bad('series = ["inch pipe, schedule 40", ', 'series = [40, ', "stock.series[0]", "a text is wanted"),
    Bad('wall = "5.6 mm"', 'wall = "56 mm"', f"{_TUBE}.wall", "it leaves no bore in a tube of 102 mm"),
    Bad("price = 21.5", 'price = 21.5\n\n[[stock.tube]]\ndiameter = "102 mm"\nwall = "5.6 mm"\n'
        'material = "6061-T6 drawn"\nlength = "6.4 m"', "stock.tube[1]", f"the same tube stands in {_TUBE}"),
    Bad('material = "6061-T6 drawn"\nlength = "6.4 m"', 'material = "6061-T6 drawm"\nlength = "6.4 m"',
        f"{_TUBE}.material", "Did you mean"),
    Bad('material = "6061-T6 drawn"\nlength = "6.4 m"', 'material = "C24"\nlength = "6.4 m"',
        f"{_TUBE}.material", "it is no metal. Name the metal it is of."),
    Bad("price = 21.5", "price = -1", f"{_TUBE}.price", "at least 0"),
    Bad('length = "6.4 m"', 'length = "640 m"', f"{_TUBE}.length", "outside 0.5 m to 30 m"),
    Bad("price = 61.5", 'price = 61.5\n\n[[stock.board]]\nname = "clear spruce"\nwidth = "90 mm"\n'
        'thickness = "20 mm"\nlength = "3 m"', "stock.board[1].name", "another board has this name"),
    Bad('thickness = "43 mm"\n', "", "stock.board[0].thickness", "it is missing"),
    Bad('material = "E-glass"\nroll', 'material = "E-glas"\nroll', "stock.cloth[1].material", "Did you mean"),
    Bad('material = "E-glass"\nroll', 'material = "own alloy"\nroll', "stock.cloth[1].material",
        "it is no ply. Name the ply it is of."),
    Bad("price = 7.5", "price = 7.5\nprice_per_kg = 9", f"{_CLOTH}.price", "Keep one of the two prices."),
    Bad("price = 7.5", 'price = 7.5\n\n[[stock.cloth]]\nmaterial = "E-glass"\nroll = "1.5 m"', "stock.cloth[2]",
        "the same cloth is stock.cloth[1]"),
    Bad('lap = "24 mm"', 'lap = "0.4 m"', "stock.cloth[1].roll", "a lap of 400 mm takes half of it or more"),
    Bad('roll = "1.05 m"', 'roll = "45 mm"', "stock.roll", "Shorten the lap."),
    Bad("fewest = 2", "fewest = 5", "stock.fewest", "from 1 to 4"),
    Bad("most = 4", "most = 1", "stock.fewest", "it is more than most, 1"),
    Bad('least_clearance = "0.25 mm"', 'least_clearance = "2.5 mm"', "stock.least_clearance",
        "more than greatest_clearance, 2.2 mm"),
    Bad('overlap = "0.15 m"\noverlap_bores = 1.6', "overlap_bores = 0", "stock.overlap",
        "does not stand in another"),
    Bad('joint_step = "55 mm"', 'joint_step = "30 mm"', "stock.joint_step", "it is 34 mm to 6800 mm"),
    Bad('kerf = "2.5 mm"', 'kerf = "25 mm"', "stock.kerf", "outside 0 m to 20 mm"),
    Bad('kerf = "2.5 mm"', "kerff = '3 mm'", "stock.kerff", "Did you mean 'kerf'?"),
    Bad("resin_price = 15.25", 'resin_price = "15 EUR"', "stock.resin_price", "EUR"),
]  # fmt: skip

_BEFORE_KIND = (("material", '"acetal"'), ("clearance", '"0.5 mm"'), ("fit", '"chock"'),
                ("standing_pressure", '"6 MPa"'), ("turning_pressure", '"6 MPa"'), ("friction_low", "0.1"),
                ("friction_high", "0.2"))  # fmt: skip
_OF_A_BUSH = (("wall", '"8 mm"'), ("interference", '"0.1 mm"'), ("seat", '"spherical"'))
_OF_ROLLERS = (("count", "8"), ("diameter", '"20 mm"'), ("pin", '"6 mm"'))
_STEP = 'stiffness = "3e6 N/m"'
_OF_BEARINGS = [
    Bad(old, f"{key} = {value}\n{old}", f"bearings.{at}.{key}", f"when {when}")
    for at, old in (("partners", PARTNERS), ("step", _STEP))
    for keys, when in (
        (_BEFORE_KIND, "kind is given"),
        (_OF_A_BUSH, 'kind = "plain"'),
        (_OF_ROLLERS, 'kind = "rollers"'),
    )
    for key, value in keys
]
_OF_HEAT = [
    Bad("[bearings.partners]", f"[bearings]\n{key} = {value}\n\n[bearings.partners]", f"bearings.{key}",
        'when partners or step is of kind = "plain"')
    for key, value in (("workshop_temperature", '"18 degC"'), ("coldest", '"-5 degC"'), ("hottest", '"50 degC"'),
                       ("lasting_share", "0.1"), ("out_of_round", '"0.1 mm"'))
]  # fmt: skip

THICK = 'thickness = "4.1 mm"'
"""Stands once, in a ply of a material."""
CLOTH = 'material = "E-glass/epoxy woven 0.50"'

# keys that other kinds of case, or other choices, read
UNREAD = [
    *_OF_BEARINGS,
    *_OF_HEAT,
    Bad(_STEP, f'{_STEP}\nthrust = {{outer = "60 mm", inner = "9 mm"}}', "bearings.step.thrust.inner",
        'when form = "collar" or form = "cone"'),
    Bad(_STEP, f'{_STEP}\nthrust = {{outer = "60 mm", half_angle = "50 deg"}}', "bearings.step.thrust.half_angle",
        'when form = "cone"'),
    Bad('fairlead = "40 deg"\n', "", "furling.fairlead_friction", "when fairlead is given", of="bush above rollers"),
    Bad('hold = "battens"', 'hold = "battens"\ncamber = 0.1', "sail[2].camber", 'when hold = "rolled"'),
    *(
        Bad(THICK, f"{THICK}, {key} = {value}", f"{TUBE}.plies[1].{key}", "when fibre is given")
        for key, value in (("resin", '"polyester"'), ("fibre_fraction", "0.4"), ("void_fraction", "0.01"),
                           ("strengths", '"E-glass/epoxy UD 0.55"'))
    ),
    Bad('name = "whole tube"', 'name = "whole tube"\nmethod = "puck"', f"{TUBE}.method",
        "when some plies are given by fibre"),
    Bad('water = "stated"', 'water = "dry"', f"{PATCH}.water_factor", 'when water = "stated"'),
    Bad('lasting = "passing"', 'lasting = "standing"', f"{PATCH}.cycles", 'when lasting = "passing"',
        also=(f"{PATCH}.fatigue",)),
    Bad('lasting = "passing"\ncycles = 200', 'lasting = "standing"', f"{PATCH}.fatigue",
        'when lasting = "passing"'),
    Bad('support = "through-deck"', 'support = "through-deck"\npost = {diameter = "60 mm", wall = "3 mm"}', "mast.post",
        'when support = "post"'),
    *(
        Bad('shape = "round"', f'shape = "round"\n{key} = {value}', f"mast.{key}", f"when {when}")
        for key, value, when in (
            ("sides", "12", 'shape = "staves"'),
            ("outside", '"flat"', 'shape = "staves"'),
            ("turns", '["9 deg"]', 'shape = "box" or shape = "ellipse"'),
        )
    ),
    Bad('kind = "knockdown"', 'kind = "knockdown"\nwind_speed = "9 m/s"', "case[3].wind_speed",
        "by cases of kind heel-limited or wind-limited or bare"),
    Bad('kind = "knockdown"', 'kind = "knockdown"\nstate = "both"', "case[3].state",
        "by cases of kind heel-limited or wind-limited"),
    Bad('basis = "RM max"', 'axial = "9 N"', "case[0].axial", "by cases of kind given"),
    Bad('basis = "RM max"', 'moment = "900 N m"', "case[0].moment", 'when basis = "moment"'),
    Bad('profile = "power-law"', 'profile = "uniform"', "wind.exponent", 'when profile = "power-law"'),
    Bad('profile = "power-law"\n', "", "wind.exponent", 'when profile = "power-law"'),
    Bad('profile = "power-law"', 'profile = "log-law"', "wind.exponent", 'when profile = "power-law"'),
    Bad('profile = "power-law"', 'profile = "power-law"\nroughness_length = "1 mm"',
        "wind.roughness_length", 'when profile = "log-law"'),
    Bad('fittings_mass = "0.8 kg"', "", "mast.fittings_height", "when fittings_mass is given"),
    Bad('fittings_mass = "0.8 kg"', 'fittings_mass = "0 kg"', "mast.fittings_height",
        "when fittings_mass is given"),
    Bad(ARM, f'{ARM}\nheel_at_max = "50 deg"', "boat.stability.heel_at_max", "when moment_max is given"),
    Bad(f"corners = {CORNERS}", f"corners = {CORNERS}\nroach = 0.1", f"{FORESAIL}.roach",
        "when the sail is not given by its corners"),
    Bad(f"corners = {CORNERS}", f'corners = {CORNERS}\nclew_rise = "0.1 m"', f"{FORESAIL}.clew_rise",
        "when the sail is not given by its corners"),
    Bad('load_path = "membrane"', 'load_path = "luff"', f"{SAIL}.leech_sag", 'when load_path = "membrane"',
        also=(f"{SAIL}.clew_held", f"{SAIL}.spar_height")),
    Bad('load_path = "membrane"', 'load_path = "corners"', f"{SAIL}.clew_held", 'when load_path = "membrane"',
        also=(f"{SAIL}.leech_sag", f"{SAIL}.spar_height")),
    # battens make luff the load path where none is named
    Bad("panels = 5", 'panels = 5\nclew_held = "boom"', f"{LUGSAIL}.clew_held",
        'when load_path = "membrane"'),
    Bad('clew_held = "wishbone"', 'clew_held = "sheet"', f"{SAIL}.spar_height",
        "when clew_held is a boom or wishbone"),
    Bad('clew_held = "wishbone"\n', "", f"{SAIL}.spar_height", "when clew_held is a boom or wishbone"),
    Bad("panels = 5", 'panels = 5\nload_path = "corners"', f"{LUGSAIL}.parrel_heights",
        "when the load path is not corners"),
    Bad('hold = "battens"', 'hold = "luff"', f"{LUGSAIL}.panels", 'when hold = "battens"'),
    Bad('hold = "battens"\n', "", f"{LUGSAIL}.panels", 'when hold = "battens"'),
    Bad('hold = "battens"', 'hold = "rolled"', f"{LUGSAIL}.panels", 'when hold = "battens"'),
    Bad('hold = "rolled"', 'hold = "sleeve"', f"{SAIL}.cloth_thickness", 'when hold = "rolled"',
        also=(f"{SAIL}.roll_slack",)),
    Bad('hold = "rolled"\n', "", f"{SAIL}.roll_slack", 'when hold = "rolled"',
        also=(f"{SAIL}.cloth_thickness",)),
    Bad("force_coefficient = 1.1", 'force_coefficient = 1.1\napparent_wind_angle = "30 deg"',
        "case[5].apparent_wind_angle", "when no force_coefficient is given"),
    Bad("force_coefficient = 1.1", 'force_coefficient = 1.1\ncoefficients = "ims-older"',
        "case[5].coefficients",
        "when no force_coefficient is given"),
    Bad("force_coefficient = 1.4", 'force_coefficient = 1.4\ncoefficients = "ims-older"',
        "case[1].coefficients",
        "when no force_coefficient is given"),
    Bad("force_coefficient = 1.4", 'force_coefficient = 1.4\ntrue_wind_angle = "150 deg"',
        "case[1].true_wind_angle", "when no force_coefficient is given"),
    Bad("force_coefficient = 1.4", 'force_coefficient = 1.4\nboat_speed = "2 m/s"', "case[1].boat_speed",
        "when no force_coefficient is given"),
    Bad('drag_crisis = "table"', 'drag_crisis = "table"\nforce_coefficient = 1.2', "case[2].drag_crisis",
        "when no force_coefficient is given"),
    Bad("", another("wind-limited", "beaufort = 4", 'force_angle = "20 deg"'), f"{NEXT}.force_angle",
        "when force_coefficient is given"),
    Bad("force_coefficient = 1.1", "", "case[5].force_angle", "when force_coefficient is given"),
    Bad('heel = "12 deg"', "", "case[2].inclined_flow", "when heel is given"),
    Bad('heel = "12 deg"', 'heel = "0 deg"', "case[2].inclined_flow", "when heel is given"),
    Bad("gust_factor = 1.3", 'gust_factor = 1.3\ngust = "none"', "case[1].gust",
        "when a wind and no gust_factor is given"),
    Bad("", another("heel-limited", 'gust = "none"'), f"{NEXT}.gust",
        "when a wind and no gust_factor is given"),
    Bad("", another("heel-limited", "gust_factor = 1.2"), f"{NEXT}.gust_factor",
        "when wind_speed or beaufort is given"),
    Bad('tip_speed = "1.4 m/s"', "", "case[3].wet_length", "when tip_speed is given",
        also=("case[3].sealed",)),
    Bad('tip_speed = "1.4 m/s"\nwet_length = "1.1 m"', "", "case[3].sealed", "when tip_speed is given"),
    Bad('detail = "machined"', 'detail = "machined"\ncategory = "90 MPa"\nslope = 7', "fatigue.detail",
        "when no category is given"),
    Bad('detail = "machined"', 'detail = "machined"\nslope = 7', "fatigue.slope", "when category is given"),
    Bad('weld_detail = "butt-both-sides"',
        'weld_detail = "butt-both-sides"\nweld_category = "30 MPa"\nweld_slope = 4', "fatigue.weld_detail",
        "when no weld_category is given"),
    Bad('weld_detail = "butt-both-sides"', 'weld_slope = 4', "fatigue.weld_slope",
        "when weld_category is given"),
]  # fmt: skip

# rules between fields
AGREE = [
    Bad('lateral_centre = "0.05 m"', 'lateral_centre = "0.5 m"', "boat.lateral_centre",
        "below the waterline"),
    Bad('ballast_height = "0.1 m"', 'ballast_height = "0.55 m"', "boat.ballast_height",
        "ballast lies below the centre of gravity, 0.55 m"),
    Bad(ARM, f'{ARM}\ngm = "0.5 m"\nbm = "1 m"', "boat.stability", "exactly one form"),
    Bad(f"righting_arm = {ARM}", "", "boat.stability", "Add one of them",
        also=("case[0].basis", "case[6].basis")),
    Bad(f"righting_arm = {ARM}", 'gm = "0.5 m"', "boat.stability.bm", "Add bm",
        also=("case[0].basis", "case[6].basis")),
    Bad(f"righting_arm = {ARM}", 'bm = "0.5 m"', "boat.stability.gm", "Add gm",
        also=("case[0].basis", "case[6].basis")),
    Bad(f"righting_arm = {ARM}", 'gm = "0.5 m"\nbm = "1 m"', "case[0].basis", "choose another basis"),
    Bad(f"righting_arm = {ARM}", 'moment_30 = "2 kN m"\nmoment_max = "1 kN m"', "boat.stability.moment_max",
        "at least that at 30 deg"),
    Bad('["0 deg", "0 m"]', '["5 deg", "0 m"]', "boat.stability.righting_arm[0]",
        'Begin with ["0 deg", "0 m"]'),
    Bad('["0 deg", "0 m"]', '["0 deg", "0.1 m"]', "boat.stability.righting_arm[0]",
        "the table starts upright"),
    Bad('"110 deg"', '"110 rad"', "boat.stability.righting_arm[3]", "Is it in degrees?"),
    Bad('"0.35 m"', '"35 m"', "boat.stability.righting_arm[2][1]", "-5 m to 5 m"),
    Bad(ARM, '[["0 deg", "0 m"], ["30 deg", "-0.2 m"]]', "boat.stability.righting_arm", "Check the signs",
        also=("case[0].basis", "case[6].basis")),
    Bad('["30 deg", "0.26 m"]', '["30 deg", "-0.26 m"]', "case[6].basis", "no righting moment"),
    Bad('["30 deg", "0.26 m"]', '["30 deg", "0 m"]', "case[6].basis", "no righting moment"),
    Bad(ARM, '[["0 deg", "0 m"], ["20 deg", "0.2 m"], ["25 deg", "0.19 m"]]', "case[6].basis",
        "Extend boat.stability.righting_arm"),
    # a table that still rises at its end does not tell the largest moment
    Bad('["60 deg", "0.35 m"], ["110 deg", "0 m"]', '["60 deg", "0.35 m"]', "case[0].basis",
        "Extend boat.stability.righting_arm"),
    Bad(f"righting_arm = {ARM}", 'moment_30 = "2 kN m"', "case[0].basis", "add the moment there"),
    Bad(f"righting_arm = {ARM}", 'moment_max = "2 kN m"', "case[6].basis", "add the moment there"),
    Bad('bury = "0.9 m"', 'bury = "7 m"', "mast.bury", "less than the length",
        also=(SAIL, LUGSAIL, "case[5].arm", "case[3].wet_length")),
    Bad('height = "0 m"', 'height = "0.1 m"', f"{MAST}[0].height", "the first station is the heel"),
    Bad('height = "6.8 m", diameter', 'height = "6.7 m", diameter', f"{MAST}[3].height",
        "the last station is"),
    Bad('height = "2.81 m", diameter = "88 mm"', 'height = "2.8 m", diameter = "88 mm"', f"{MAST}[2].height",
        "in order from heel to tip"),
    Bad('height = "2.81 m", diameter = "101.6 mm"', 'height = "0 m", diameter = "101.6 mm"',
        f"{MAST}[1].height",
        "make a step: not three, nor at an end"),
    *(
        Bad('shape = "round"', f'shape = "ellipse"\nturns = {turns}', "mast.turns", "1 to 72 angles", also=ROUND_ONLY)
        for turns in ("[]", '"9 deg"', str(["0 deg"] * 73))
    ),
    Bad('shape = "round"', 'shape = "ellipse"\nturns = ["181 deg"]', "mast.turns[0]", "at most 180 deg",
        also=ROUND_ONLY),
    Bad('shape = "round"', 'shape = "ellipse"\nturns = ["1 m"]', "mast.turns[0]", "an angle", also=ROUND_ONLY),
    Bad('shape = "round"', 'shape = "box"', "mast.sleeve", "a sleeve is a round tube", also=("mast.opening",)),
    Bad('support = "through-deck"', 'support = "post"', "mast.post", "needs the post's own sizes"),
    *(
        Bad('support = "through-deck"', f'support = "post"\npost = {{{sizes}}}', f"mast.post.{key}", tells)
        for sizes, key, tells in (
            ('diameter = "60 mm", top_diameter = "61 mm", wall = "3 mm"', "top_diameter", "Are the two swapped?"),
            ('diameter = "60 mm", wall = "30 mm"', "wall", "a solid post has none"),
            ('diameter = "91 mm", wall = "3 mm"', "diameter", "does not go into the mast, bored to 90.2 mm"),
            ('diameter = "60 mm", material = "own aloy"', "material", "no material of this name"),
            ('diameter = "60 mm"', "wall", "thicker than any listed"),
            ('diameter = "60 mm", wall = "3 mm", thrust_on = "head"', "thrust_on", 'one of "foot"'),
        )
    ),
    Bad('support = "through-deck"\nshape = "round"',
        'support = "post"\nshape = "box"\npost = {diameter = "60 mm", wall = "3 mm"}', "mast.support", "no round bore",
        also=ROUND_ONLY),
    Bad('shape = "round"', 'shape = "staves"\nsides = 5', "mast.sides", "from 6 to 32", also=ROUND_ONLY),
    Bad('diameter = "101.6 mm", wall = "5.7 mm"', 'wall = "5.7 mm"', f"{MAST}[0].diameter",
        'Add diameter = "90 mm"'),
    Bad('wall = "5.7 mm"', 'wall = "5.7 mm", breadth = "90 mm"', f"{MAST}[0].breadth", "has one size"),
    Bad("damping = 0.03", 'damping = 0.03\nwall_loss = "4.3 mm"', "mast.wall_loss", "nothing is left",
        value="4.3 mm"),
    Bad(', wall = "5.7 mm"', "", f"{MAST}[0].wall", 'Give its wall: wall = "4 mm"'),
    Bad('wall = "5.7 mm"', 'wall = "51 mm"', f"{MAST}[0].wall", "less than half the diameter"),
    Bad('wall = "3.5 mm"', 'wall = "45 mm"', "mast.sleeve[0].wall", "less than half the diameter"),
    Bad('start = "2.4 m"', 'start = "3 m"', "mast.sleeve[0].start", "Are the two swapped?",
        also=(f"{MAST}[2].diameter",)),
    Bad('end = "2.81 m"', 'end = "7 m"', "mast.sleeve[0].end", "above the tip",
        also=("mast.sleeve[0].diameter", "mast.sheath[0].start")),
    Bad('height = "4 m"', 'height = "7 m"', "mast.opening[0].height", "above the tip"),
    Bad('height = "2.6 m"', 'height = "7 m"', "mast.weld[0].height", "above the tip"),
    Bad('fittings_height = "6.5 m"', 'fittings_height = "7 m"', "mast.fittings_height", "above the tip"),
    Bad('diameter = "89 mm"', 'diameter = "92 mm"', "mast.sleeve[0].diameter", "neither inside the mast"),
    Bad("[[mast.opening]]", '[[mast.sleeve]]\nstart = "2.5 m"\nend = "2.7 m"\ndiameter = "89 mm"\n'
        'wall = "3 mm"\n[[mast.opening]]', "mast.sleeve[1].diameter", "inside one another"),
    Bad('diameter = "89 mm"\nwall = "3.5 mm"\nmaterial = "own alloy"\nplay = "0.4 mm"',
        'diameter = "85 mm"\nwall = "3.5 mm"\nmaterial = "own alloy"', "mast.sleeve[0].diameter",
        "5 mm of play"),
    Bad('end = "2.81 m"', 'end = "2.8 m"', f"{MAST}[2].diameter", "Add the [[mast.sleeve]] that joins them",
        value="88 mm"),
    Bad('width = "12 mm"', 'width = "36 mm"', "mast.opening[0].width", "Make it narrower"),
    Bad('width = "12 mm"\nlength = "40 mm"', 'width = "12 mm"\nlength = "8 mm"', "mast.opening[0].length",
        "Turn it along the mast"),
    Bad('material = "6061-T6 extruded"', 'material = "6061-t6 extruded"', "mast.material",
        "Did you mean '6061-T6 extruded'?"),
    Bad('material = "6061-T6 extruded"', 'material = "Sitka spruce"', "mast.material",
        "no material of this name"),
    Bad('material = "6061-T6 extruded"', 'material = "6061-T6 typical"', "mast.material",
        "not for design use"),
    Bad('material = "6061-T6 extruded"', 'material = "6063-T5 extruded"', "mast.material", "at most 3 mm"),
    Bad('material = "6061-T6 extruded"', 'material = "6061-T6 ASTM B241 drawn pipe"', "mast.material",
        "strength beside a weld is not known"),
    Bad('material = "own alloy"', 'material = "own aloy"', "mast.sleeve[0].material",
        "no material of this name"),
    Bad('name = "foresail"', 'name = "mainsail"', f"{FORESAIL}.name", "Rename one",
        also=tuple(f"state[{i}].set.foresail" for i in range(3))),
    Bad('name = "main alone"', 'name = "both"', "state[1].name", "Rename one",
        also=("case[1].state", "case[5].state")),
    Bad('name = "reefed"', 'name = "all sail"', "state[2].name", "the tool uses this name itself",
        also=("case[6].state",)),
    Bad('name = "reefed"', 'name = "own sails alone"', "state[2].name", "Choose another name",
        also=("case[6].state",)),
    Bad('name = "flat"', 'name = "storm"', "case[3].name", "Rename one"),
    Bad("", GOOD[GOOD.index("[[material]]"):GOOD.index("[[laminate]]")], "material[1].name", "Rename one"),
    Bad(f"corners = {CORNERS}", f'corners = {CORNERS}\nluff = "4 m"', FORESAIL, "Keep one form",
        value="luff"),
    Bad(f"corners = {CORNERS}\n", "", FORESAIL, "Give luff, foot and tack_height, or corners"),
    Bad('foot = "2.45 m"', "", SAIL, "foot missing"),
    Bad('head = "0.7 m"', "", f"{SAIL}.head", "Add head"),
    Bad('head_angle = "25 deg"', "", f"{SAIL}.head_angle", "Add head_angle"),
    Bad('clew_rise = "0.2 m"', 'clew_rise = "2.5 m"', f"{SAIL}.clew_rise", "from tack to clew"),
    Bad('luff = "4.8 m"\nfoot = "2.45 m"\ntack_height = "1.4 m"\nclew_rise = "0.2 m"',
        'luff = "1 m"\nfoot = "3 m"\ntack_height = "1.4 m"\nclew_rise = "2 m"', SAIL,
        "the clew stands above the head"),
    Bad(CORNERS, '[["0 m", "1 m"], ["0 m", "5 m"], ["-1 m", "1 m"], ["-1 m", "4 m"]]', FORESAIL,
        "its edges cross"),
    Bad(CORNERS, '[["0 m", "1 m"], ["0 m", "5 m"], ["0 m", "3 m"]]', FORESAIL, "it has no area"),
    Bad('luff = "4.8 m"', 'luff = "5.5 m"', SAIL, "above the tip of the mast"),
    Bad('tack_height = "1.4 m"', 'tack_height = "0.8 m"', SAIL, "below the partners"),
    Bad('waterline = "0.4 m"', 'waterline = "4 m"', SAIL, "below the waterline", also=(FORESAIL, LUGSAIL)),
    Bad(CORNERS, '[["0 m", "0.5 m"], ["0 m", "1 m"], ["-1 m", "0.6 m"]]', f"{NEXT}.arm", "below the partners",
        append=another("heel-limited", 'state = "both"', 'arm = "partners"')),
    Bad('name = "main"\nlength', 'name = "mizzen"\nlength', f"{SAIL}.mast",
        'stands on the mast of this file, "mizzen"',
        also=tuple(f"case[{i}].kind" for i in (0, 1, 5, 6, 7))),
    Bad('mast = "fore"', 'mast = "Main"', f"{FORESAIL}.mast", 'Did you mean "main"?'),
    Bad('mast = "fore"', 'mast = "maine"', f"{FORESAIL}.mast", "a sail on another mast does not load it"),
    Bad("{mainsail = 1, foresail = 0}", "{mainsal = 1}", "state[1].set.mainsal", 'Did you mean "mainsail"?',
        also=("case[1].kind", "case[5].kind")),
    Bad("{mainsail = 0.6, foresail", "{mainsail = 0.019, foresail", "state[2].set.mainsail",
        "Write 0 when it is down",
        value="0.019"),
    Bad("{mainsail = 0.6, foresail = 0.5}", "{mainsail = 0.6, foresail = 1e-9}", "state[2].set.foresail",
        "less than 2% of a sail is no sail"),
    Bad("{lugsail = 0.8}", "{lugsail = 0.75}", "state[3].set.lugsail", "Write 0.800, for 4 of them"),
    Bad("{lugsail = 0.8}", "{lugsail = 0.05}", "state[3].set.lugsail", "Write 0.200, for 1 of them set; 0 for none"),
    Bad("{lugsail = 0.8}", "{lugsail = 0.5001}", "state[3].set.lugsail", "let down whole, and there are 5"),
    Bad('"4.8 m"]', '"6.75 m"]', f"{LUGSAIL}.parrel_heights[3]", "not on the luff, 1.5 m to 6.2 m"),
    Bad('["1.6 m", "2.6 m"', '["0.9 m", "2.6 m"', f"{LUGSAIL}.parrel_heights[0]", "not on the luff"),
    Bad('spar_height = "2.5 m"', 'spar_height = "6.6 m"', f"{SAIL}.spar_height",
        "meets the mast below the head"),
    Bad('spar_height = "2.5 m"', 'spar_height = "0.3 m"', f"{SAIL}.spar_height",
        "meets the mast below the head"),
    Bad("{mainsail = 1, foresail = 0}", "{mainsail = 0}", "state[1].set", 'Use a case of kind "bare"',
        also=("case[1].kind", "case[5].kind")),
    Bad("{mainsail = 1, foresail = 0}", "{foresail = 1}", "case[1].kind", "no sail is set on this mast",
        also=("case[5].kind",)),
    Bad('state = "both"', 'state = "bth"', "case[0].state", 'Did you mean "both"?'),
    Bad('state = "both"', 'state = "storm rig"', "case[0].state",
        'there are "both", "main alone", "reefed", "lug alone"'),
    Bad('wind_speed = "10 m/s"\ngust_factor = 1.3', "", "case[1].wind_speed",
        'Give one: wind_speed = "20 kn"'),
    Bad('wind_speed = "10 m/s"', "", "case[1].wind_speed", "neither is given", also=("case[1].gust_factor",)),
    Bad("", another("bare"), f"{NEXT}.wind_speed", "neither is given"),
    Bad('wind_speed = "10 m/s"', 'wind_speed = "0 kn"', "case[1].wind_speed", "any mast would pass"),
    Bad('beaufort = 10\ngust = "sea-3s"', 'wind_speed = "0 kn"\ngust = "sea-3s"', "case[2].wind_speed",
        'a case of kind "given"'),
    Bad('boat_speed = "2 m/s"', 'boat_speed = "10 m/s"', "case[7].boat_speed", "leave it out, which is the safe side"),
    Bad("beaufort = 10", 'beaufort = 10\nwind_speed = "9 m/s"', "case[2].wind_speed", "both are given"),
    Bad("beaufort = 5", 'beaufort = 5\nwind_speed = "9 m/s"', "case[7].wind_speed", "both are given"),
    Bad('wind_speed = "12 m/s"', 'wind_speed = "12 m/s"\nbeaufort = 6', "case[6].wind_speed",
        "both are given"),
    Bad('wind_speed = "12 m/s"\ngust = "none"', "", "case[6].apparent_wind_angle", 'Add wind_speed = "25 kn"',
        value="80 deg"),
    Bad('apparent_wind_angle = "35 deg"', 'apparent_wind_angle = "60.1 deg"', "case[0].apparent_wind_angle",
        "a wind must cap it"),
    Bad('force_angle = "75 deg"', 'force_angle = "29.9 deg"', "case[5].force_angle",
        "Give one from 30 to 150 deg"),
    Bad('force_angle = "75 deg"', 'force_angle = "150.1 deg"', "case[5].force_angle",
        "within 30 deg of ahead or astern"),
    Bad('force_angle = "75 deg"', 'force_angle = "-75 deg"', "case[5].force_angle", "hardly heels the boat"),
    Bad('wet_length = "1.1 m"', "", "case[3].wet_length", "tip_speed needs it"),
    Bad('wet_length = "1.1 m"', 'wet_length = "5.91 m"', "case[3].wet_length",
        "only 5.9 m of the mast stands above"),
    Bad('lower_height = "0.5 m"', "", "case[9].lower_height", "a lift needs both heights"),
    Bad('upper_height = "4.6 m"', "", "case[9].upper_height", 'Add upper_height = "2 m"'),
    Bad("", another("lift"), f"{NEXT}.lower_height", "a lift needs both heights",
        also=(f"{NEXT}.upper_height",)),
    Bad('lower_height = "0.5 m"', 'lower_height = "4.7 m"', "case[9].lower_height", "Are the two swapped?"),
    Bad('lower_height = "0.5 m"', 'lower_height = "4.6 m"', "case[9].lower_height",
        "must be below upper_height"),
    Bad('upper_height = "4.6 m"', 'upper_height = "6.9 m"', "case[9].upper_height", "below the tip, 6.8 m"),
    Bad('upper_height = "4.6 m"', 'upper_height = "6.8 m"', "case[9].upper_height", "below the tip, 6.8 m"),
    Bad('moment = "1500 N m"', "", "case[5].moment", 'Add moment = "2400 N m"'),
    Bad("", another("given"), NEXT, "it gives no load"),
    Bad('["0.95 m", "50 N/m"], ["6.8 m", "0 N/m"]', '["0.95 m", "50 N/m"], ["9 m", "0 N/m"]',
        "case[4].line_load[1]", "not on the mast"),
    Bad('["6.7 m", "7 N/m"]', '["9 m", "7 N/m"]', "case[4].line_load_forward[1]", "not on the mast"),
    Bad('["0.95 m", "50 N/m"]', '["-1 m", "50 N/m"]', "case[4].line_load[0]", "not on the mast"),
    Bad('["0.95 m", "50 N/m"]', '["6.9 m", "50 N/m"]', "case[4].line_load[1]", "Put the entries in order"),
    Bad('["0.95 m", "50 N/m"], ["6.8 m", "0 N/m"]', '["2 m", "50 N/m"], ["2 m", "0 N/m"]',
        "case[4].line_load", "it has no length"),
    Bad('["0.95 m", "7 N/m"], ["6.7 m", "7 N/m"]', '["2 m", "7 N/m"], ["2 m", "7 N/m"]',
        "case[4].line_load_forward", "Use point_load"),
    Bad('height = "6.6 m"', 'height = "9 m"', "case[4].point_load[0].height", "not on the mast"),
    Bad('play = "0.4 mm"', 'play = "2 mm"', "mast.sleeve[0].play", "the bare tubes have 1."),
    # a sleeve in both lengths is slack in the wider one until it is packed
    Bad('end = "2.81 m"\ndiameter = "89 mm"\nwall = "3.5 mm"\nmaterial = "own alloy"\nplay = "0.4 mm"',
        'end = "3.2 m"\ndiameter = "77 mm"\nwall = "3.5 mm"', "mast.sleeve[0].diameter", "13.03 mm of play"),
    Bad('play = "0.4 mm"', 'play = "2.5 mm"', "mast.sleeve[0].play", "Pack it, and give the play"),
    Bad('play = "0.4 mm"', 'wall_loss = "0.4 mm"', "mast.sleeve[0].wall_loss", "no such key"),
    Bad('damping = 0.03', 'damping = 0.03\nwall_loss = "3.5 mm"', "mast.wall_loss",
        "nothing is left of a wall of 3.5 mm"),
    Bad('detail = "machined"', 'detail = "extrude"', "fatigue.detail", "Did you mean 'extruded'?"),
    Bad('detail = "machined"', 'detail = "D12"', "fatigue.detail", "or give a category and a slope"),
    Bad('weld_detail = "butt-both-sides"', 'weld_detail = "tube weld"', "fatigue.weld_detail",
        "Did you mean 'tube-weld'?"),
    Bad('weld_detail = "butt-both-sides"', 'weld_detail = "hole"', "fatigue.weld_detail", "it is no weld"),
    Bad('detail = "machined"', 'category = "90 MPa"', "fatigue.slope", "Add slope = 3.4"),
    Bad('weld_detail = "butt-both-sides"', 'weld_category = "30 MPa"', "fatigue.weld_slope",
        "weld_category needs the slope of its curve"),
    Bad('[[mast.weld]]\nheight = "2.6 m"\nextent = "25 mm"\n', "", "fatigue.weld_detail",
        "the mast has no weld"),
    Bad('E = "70 GPa"\nG = "26.5 GPa"', 'E = "200 GPa"\nG = "77 GPa"', "fatigue.detail",
        'and "own alloy" has E 200 GPa', also=("fatigue.weld_detail",)),
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

ESTIMATED = (
    'resin = "polyester", fibre_fraction = 0.45, void_fraction = 0.01, strengths = "E-glass/epoxy UD 0.55", '
    'angle = "16 deg", thickness = "0.31 mm"'
)
SHORT = (
    '[[laminate]]\nname = "short"\nplies = [{material = "E-glass/epoxy UD 0.45", angle = "0 deg", '
    'thickness = "8 mm", count = 4, end = "5.5 m"}]\n'
)
ON = 'start = "4.6 m"\nend = "5.6 m"\nlaminate = "patch"\nside = "over"'

# laminates
LAMINATES = [
    Bad('name = "patch"', 'name = "whole tube"', f"{TUBE}.name", "Rename one", also=(f"{SHEATH}.laminate",)),
    *(
        Bad('name = "patch"', f'name = "{name}"', f"{PATCH}.name", "a material has this name",
            also=(f"{SHEATH}.laminate",))
        for name in ("own alloy", "6082-T6 extruded")
    ),
    Bad("water_factor = 0.85\n", "", f"{PATCH}.water_factor", "Add water_factor = 0.85"),
    Bad("water_factor = 0.85", "water_factor = 1.1", f"{PATCH}.water_factor", "at most 1"),
    Bad('cycles = 200\nfatigue = "log"', 'cycles = 1e8\nfatigue = "log-poor"', f"{PATCH}.cycles",
        "leaves nothing after so many"),
    Bad('end = "5.7 m"', 'end = "4.5 m"', f"{PATCH}.plies[0].start", "Are the two swapped?", value="4.5 m"),
    Bad('end = "2.9 m"', 'end = "6.9 m"', f"{TUBE}.plies[2].end", "Heights are z from the heel"),
    Bad('angle = "44 deg"', 'angle = "94 deg"', f"{TUBE}.plies[0].angle", "at most 90 deg"),
    Bad(CLOTH, f'{CLOTH}, fibre = "E-glass"', f"{PATCH}.plies[0]", "Give one of the two", value="material and"),
    Bad(f"{CLOTH}, ", "", f"{PATCH}.plies[0]", "either a material, or a fibre"),
    Bad("E-glass/epoxy woven 0.50", "E-glass/epoxy woven 0.5", f"{PATCH}.plies[0].material",
        "Did you mean 'E-glass/epoxy woven 0.50'?"),
    Bad("E-glass/epoxy woven 0.50", "sailcloth", f"{PATCH}.plies[0].material", "Choose one such as"),
    Bad(ESTIMATED, ESTIMATED.replace('"polyester"', '"epoxy"'), f"{PATCH}.plies[1].resin",
        "Did you mean 'epoxy, wet lay-up' or"),
    Bad(ESTIMATED, ESTIMATED.replace('resin = "polyester", ', ""), f"{PATCH}.plies[1].resin",
        'Add resin = "epoxy, wet lay-up"'),
    Bad(ESTIMATED, ESTIMATED.replace('strengths = "E-glass/epoxy UD 0.55", ', ""), f"{PATCH}.plies[1].strengths",
        "Name a tested ply of the same kind of fibre"),
    Bad(ESTIMATED, ESTIMATED.replace("UD 0.55", "woven 0.50"), f"{PATCH}.plies[1]",
        "Name a tested unidirectional ply"),
    Bad(ESTIMATED, ESTIMATED.replace("E-glass/epoxy UD 0.55", "carbon/epoxy UD 0.60"), f"{PATCH}.plies[1]",
        "Name a tested ply of the same kind of fibre"),
    Bad(ESTIMATED, ESTIMATED.replace("fibre_fraction = 0.45, ", ""), f"{PATCH}.plies[1]", "the third follows"),
    Bad(ESTIMATED, f'{ESTIMATED}, areal_mass = "500 g/m2"', f"{PATCH}.plies[1]", "the third follows"),
    # 0.31 mm of glass alone weighs 787 g/m2
    *(
        Bad(ESTIMATED, ESTIMATED.replace("fibre_fraction = 0.45", f'areal_mass = "{mass} g/m2"'),
            f"{PATCH}.plies[1]", tells)
        for mass, tells in ((800, "Give a share between 0 and 1"), (600, "fibres hardly pack closer than 0.75"))
    ),
    Bad(THICK, f'{THICK}, areal_mass = "400 g/m2"', f"{TUBE}.plies[1]", "either the mass of its dry fibre",
        value="areal_mass and thickness"),
    Bad(f", {THICK}", "", f"{TUBE}.plies[1]", 'Give one: areal_mass = "300 g/m2"'),
    Bad(f'material = "E-glass/epoxy UD 0.45", angle = "0 deg", {THICK}',
        f'material = "carbon/epoxy UD 0.55", angle = "0 deg", {THICK}', f"{TUBE}.plies[1]",
        "Give it from tests", value="carbon/epoxy UD 0.55"),
    Bad('criterion = "max-strain"', 'criterion = "hashin"', f"{PATCH}.plies[0]", "one direction of fibres only"),
    Bad('angle = "-16 deg"', 'angle = "16 deg"', f"{PATCH}.plies", "at minus its angle", value="unbalanced"),
]  # fmt: skip

# sheaths of laminate, and masts made of it
LAID = [
    Bad('laminate = "patch"', 'laminate = "pach"', f"{SHEATH}.laminate", 'Did you mean "patch"?'),
    Bad('start = "4.6 m"', 'start = "5.6 m"', f"{SHEATH}.start", "Are the two swapped?"),
    Bad('end = "5.6 m"', 'end = "6.9 m"', f"{SHEATH}.end", "above the tip"),
    Bad('laminate = "patch"', 'laminate = "short"', f"{SHEATH}.laminate", "no ply from z = 5.5 to 5.6 m",
        append=SHORT),
    Bad(ON, f'{ON}\n[[mast.sheath]]\nstart = "5.5 m"\nend = "6 m"\nlaminate = "patch"', "mast.sheath[1].start",
        "Make one of the two"),
    Bad('start = "4.6 m"', 'start = "2.7 m"', f"{SHEATH}.start", "it meets the sleeve"),
    Bad('start = "4.6 m"', 'start = "3.9 m"', f"{SHEATH}.start", "it covers the hole at 4 m"),
    Bad('side = "over"', 'side = "inside"', f"{SHEATH}.side", "a sheath is laid in a round bore", of="staves"),
    Bad(ON, ON.replace('"patch"', '"short"').replace("5.6", "5.4").replace("over", "inside"), f"{SHEATH}.side",
        "do not fit a bore", append=SHORT),
    Bad(ON, ON.replace("4.6", "0.2").replace("5.6", "0.8").replace("over", "inside"), f"{SHEATH}.side",
        "the post stands in the bore", of="post"),
    Bad('side = "over"', 'side = "inside"', f"{SHEATH}.side", "plies of the mast's own laminate", of="laminate"),
    Bad(', wall = "5.7 mm"', ', bore = "90 mm", wall = "5.7 mm"', f"{MAST}[0].bore",
        "name a [[laminate]] as the material"),
    Bad('shape = "round"', 'shape = "ellipse"', "mast.shape", "known in a round tube alone", of="laminate"),
    Bad("", '[[mast.sleeve]]\nstart = "1 m"\nend = "2 m"\ndiameter = "80 mm"\nwall = "2 mm"\n', "mast.sleeve",
        "Lay it up as a [[mast.sheath]]", of="laminate"),
    Bad("", '[[mast.opening]]\nheight = "3 m"\nwidth = "9 mm"\n', "mast.opening", "a hole in a laminate",
        of="laminate"),
    Bad("", '[[mast.weld]]\nheight = "3 m"\n', "mast.weld", "a laminate is not welded", of="laminate"),
    Bad("damping = 0.03", 'damping = 0.03\nwall_loss = "0.2 mm"', "mast.wall_loss", "a mast of metal",
        of="laminate"),
    Bad("[limits]", "[limits]\nyield_factor = 1.2", "limits.yield_factor", "read only by metal", of="laminate"),
    Bad('material = "6061-T6 extruded"', 'material = "whole tub"', "mast.material", "Did you mean 'whole tube'?"),
    Bad("", '[[mast.plug]]\nstart = "0 m"\nend = "1 m"\n', "mast.plug[0].material", 'Name its timber', of="laminate"),
    Bad('bore = "92 mm"', 'bore = "92 mm", wall = "4 mm"', f"{MAST}[0].wall", "follows from its plies",
        of="laminate"),
    Bad('bore = "92 mm"', 'bore = "92 mm", breadth = "92 mm"', f"{MAST}[0].breadth", "a round tube has one size",
        of="laminate"),
    Bad('bore = "92.5 mm"', 'diameter = "102 mm"', f"{MAST}[1]", "or every one its outside diameter",
        of="laminate"),
    Bad('bore = "92.5 mm"', 'diameter = "102 mm", bore = "92 mm"', f"{MAST}[1]", 'Give bore = "90 mm"',
        of="laminate"),
    Bad('{height = "1.1 m", bore = "92.5 mm"}', '{height = "1.1 m", bore = "92 mm"}, '
        '{height = "1.1 m", bore = "90 mm"}', f"{MAST}[2].height", "has no step", of="laminate"),
    Bad('height = "1.1 m"', 'height = "7 m"', f"{MAST}[2].height", "in order from heel to tip", of="laminate"),
    Bad(LAID_STATIONS, LAID_STATIONS.replace("bore", "diameter").replace("71", "12"), MAST,
        "Give the bore instead", of="laminate", value="12 mm"),
    Bad('material = "whole tube"', 'material = "short"', "mast.material", "no ply from z = 5.5 to 6.8 m",
        of="laminate", append=SHORT),
    *(
        Bad('support = "through-deck"', f'support = "post"\npost = {{diameter = "{size} mm"{more}}}',
            f"mast.post.{key}", tells, of="laminate")
        for size, more, key, tells in (
            (80, "", "material", "a post is not made of laminate"),
            (80, ', material = "6061-t6 drawn"', "material", "Did you mean '6061-T6 drawn'?"),
            (92.2, ', wall = "4 mm", material = "6061-T6 drawn"', "diameter", "does not go into the mast"),
        )
    ),
]  # fmt: skip

PLAIN_CASES: dict[str, dict[str, Any]] = {
    "heel-limited": {},
    "wind-limited": {"beaufort": 4},
    "bare": {"beaufort": 4},
    "motion": {},
    "knockdown": {},
    "lift": {"lower_height": "1 m", "upper_height": "4 m"},
    "given": {"axial": "9 N"},
}
"""Kind of case -> the least that it needs."""


def kinds() -> tuple[str, ...]:
    """Return every kind of case."""
    spec = spec_of(described_fields(Case)["kind"])
    assert isinstance(spec, Choice)
    return tuple(spec.options)


def given_in_a_case(key: str) -> Any:
    """Return what the good file gives for a key of a case."""
    return next(case[key] for case in tomllib.loads(GOOD)["case"] if key in case)


def by_kind() -> Iterator[Bad]:
    """Yield a file for every key that some kinds of case do not read: a case of each, with the key."""
    first = GOOD.count("[[case]]")
    for key, entry in described_fields(Case).items():
        only = spec_of(entry).only
        others = [kind for kind in kinds() if only and kind not in only]
        if not others:
            continue
        cases = [
            {"name": f"plain {kind}", "kind": kind, **PLAIN_CASES[kind], key: given_in_a_case(key)}
            for kind in others
        ]
        paths = [f"case[{first + i}].{key}" for i in range(len(others))]
        yield Bad(
            "",
            "".join(f"[[case]]\n{toml_of(case)}" for case in cases),
            paths[0],
            f"it is read only by cases of kind {' or '.join(only)}. Take it out.",
            also=tuple(paths[1:]),
        )


BY_KIND = list(by_kind())

_PLUG = 'end = "1.5 m"\ntail = "0.4 m"'
_CLASS = 'material = "C24"'
_SPECIES = 'material = "Sitka spruce (US)"'
_OF_SPECIES = (
    "moisture",
    "slope_of_grain",
    "load_duration",
    "temperature",
    "round_form_factor",
    "hollow_form_factor",
)
_OF_CLASSES = ("service_class", "duration_class")

# a mast of wood, and what only wood reads
TIMBER = [
    Bad(_SPECIES, 'material = "Sitka spruce (USA)"', "mast.material", "Did you mean", of="species"),
    Bad(_SPECIES, 'material = "bog oak"', "mast.material", "no material of this name", of="species"),
    Bad("", '[timber]\nmoisture = "15 %"\nscarf_slope = 0.1\n', "timber.moisture",
        "timber, and there is none in this rig", also=("timber.scarf_slope",)),
    Bad('material = "C18"\n', "", "timber.service_class", "strength classes of EN 338, and there is none in this rig",
        also=("timber.duration_class",), of="species"),
    Bad(_SPECIES, _CLASS, "timber.moisture", "species by their clear wood, and there is none in this rig",
        also=tuple(f"timber.{key}" for key in _OF_SPECIES[1:]), of="species"),
    Bad(_STEP, 'length = "80 mm"', "bearings.step.length", "a mast of timber or laminate"),
    *(
        Bad(old, new, path, tells, also=also, of="bush above rollers")
        for old, new, path, tells, also in (
            ('clearance = "0.6 mm"\n', "", "bearings.partners.clearance", "Add clearance", ()),
            ('count = 12\n', "", "bearings.step.count", "Add count", ()),
            ('length = "60 mm"\n', "", "bearings.partners.length", "Add length", ()),
            ('count = 12', "count = 30", "bearings.step.count", "do not go round a mast of 101.6 mm", ()),
            ('pin = "6 mm"', 'pin = "26 mm"', "bearings.step.pin", "not inside a roller", ()),
            ('clearance = "0.6 mm"', 'clearance = "4 mm"', "bearings.partners.clearance", "the mast rattles", ()),
            ('hottest = "55 degC"', 'hottest = "-6 degC"', "bearings.coldest", "below hottest", ()),
            ('inner = "10 mm"', 'inner = "60 mm"', "bearings.step.thrust.inner", "not inside the outer", ()),
            ('drum_width = "45 mm"', 'drum_width = "5 mm"', "furling.line_diameter", "between the cheeks", ()),
            ('hold = "rolled"\ncloth_thickness = "0.3 mm"\nroll_slack = 2.5\ncamber = 0.12', 'hold = "luff"',
             "furling", "no sail rolls", ()),
        )
    ),
    Bad("friction_low = 0.1", "friction_low = 0.4", "bearings.partners.friction_low", "above friction_high", also=(),
        of="one bush"),
    Bad('material = "acetal"', 'material = "acetel"', "bearings.partners.material", 'Did you mean "acetal"',
        of="one bush"),
    Bad("", '[furling]\ndrum_diameter = "90 mm"\nline_diameter = "6 mm"\n', "bearings.partners.kind",
        "what the mast turns in", also=("bearings.step.kind",)),
    Bad("[limits]", "[limits]\nyield_factor = 1.2", "limits.yield_factor", "read only by metal", of="species"),
    Bad("[limits]", "[fatigue]\ndays_at_sea = 90\n\n[limits]", "fatigue", "read only by metal", of="species"),
    Bad("[limits]", "[limits]\nrupture_factor = 1.2", "limits.rupture_factor", "read only by metal", of="species"),
    Bad("damping = 0.03", 'damping = 0.03\nwall_loss = "1 mm"', "mast.wall_loss", "a mast of metal", of="species"),
    Bad("[timber]", '[[mast.weld]]\nheight = "2 m"\n\n[timber]', "mast.weld", "it belongs to metal", of="species"),
    Bad("[timber]", '[[mast.opening]]\nheight = "2 m"\nwidth = "9 mm"\n\n[timber]', "mast.opening",
        "it belongs to metal", of="species"),
    Bad("[timber]", '[[mast.sleeve]]\nstart = "2 m"\nend = "2.8 m"\ndiameter = "80 mm"\nwall = "9 mm"\n\n[timber]',
        "mast.sleeve[0].material", "a sleeve is a tube of metal", of="species"),
    Bad("[[mast.weld]]", '[[mast.plug]]\nstart = "0 m"\nend = "1 m"\n\n[[mast.weld]]', "mast.plug[0].material",
        'Name its timber: material = "C24"'),
    Bad('material = "C18"', 'material = "own alloy"', "mast.plug[1].material", "a plug is of timber",
        also=tuple(f"timber.{key}" for key in _OF_CLASSES), of="species"),
    Bad('start = "6.4 m"', 'start = "6.9 m"', "mast.plug[1].start", "it must be below its end", of="species"),
    Bad('end = "6.8 m"', 'end = "6.9 m"', "mast.plug[1].end", "the mast ends at 6.8 m", of="species"),
    Bad('start = "6.4 m"', 'start = "1.2 m"', "mast.plug[1].start", "mast.plug[0] is in the bore from 0 to 1.5 m",
        of="species"),
    Bad('diameter = "80 mm", wall = "20 mm"', 'diameter = "80 mm"', "mast.plug[1].start",
        "the mast has no bore to fill", of="species"),
    Bad('support = "through-deck"', 'support = "post"\npost = {diameter = "70 mm", material = "own alloy"}',
        "mast.plug[0].start", "the post stands in the bore up to 0.9 m",
        of="species"),
    Bad('moisture = "16 %"', 'moisture = "22 %"', "mast.material", "above 20 degC it is known up to a moisture of 20 %",
        of="species"),
    Bad(_PLUG, 'end = "1.5 m"\ntail = "3 m"', "mast.plug[0].tail", "outside 0 m to 2 m", of="species"),
    *(
        Bad(old, f"{key} = {value}", f"timber.{key}", tells, of="species")
        for key, old, value, tells in (
            ("moisture", 'moisture = "16 %"', '"31 %"', "at most 0.3"),
            ("moisture", 'moisture = "16 %"', "0.079", "at least 0.08"),
            ("slope_of_grain", 'slope_of_grain = "1/18"', "15", "at most 0.125"),
            ("load_duration", 'load_duration = "30 min"', '"0 s"', "it must be above 0 s"),
            ("load_duration", 'load_duration = "30 min"', "1800", "1800 s"),
            ("temperature", 'temperature = "25 degC"', '"51 degC"', "at most 50 degC"),
            ("temperature", 'temperature = "25 degC"', '"-51 degC"', "at least -50 degC"),
            ("temperature", 'temperature = "25 degC"', '"77 F"', "degC"),
            ("round_form_factor", 'round_form_factor = "NDS"', "1.18", '"NDS" (1.18 on bending strength'),
            ("hollow_form_factor", "hollow_form_factor = 0.7", "0.49", "at least 0.5"),
            ("hollow_form_factor", "hollow_form_factor = 0.7", "1.01", "at most 1"),
            ("service_class", "service_class = 3", "4", "from 1 to 3"),
            ("service_class", "service_class = 3", "2.0", "from 1 to 3"),
            ("duration_class", 'duration_class = "instantaneous"', '"short"', 'Did you mean "short-term"?'),
            ("scarf_slope", 'scarf_slope = "1/14"', "12", "at most 0.2"),
            ("lasting_share", "lasting_share = 0.05", "1.1", "at most 1"),
            ("safety_factor", "safety_factor = 1.35", "0.9", "at least 1"),
        )
    ),
]  # fmt: skip


def material_unread() -> Iterator[Bad]:
    """Yield a file for every key of a material that some families, or bases, do not read."""
    values = {key: value for table in OWN.values() for key, value in table.items()}
    for key, entry in described_fields(Material).items():
        when = spec_of(entry).when
        if when is None:
            continue
        for name, table in OWN.items():
            if key not in table:
                yield Bad("", own_text(name, **{key: values[key]}), f"material[1].{key}", f"when {when[1]}")


def material_needed() -> Iterator[Bad]:
    """Yield a file for every key that a material of some family must give."""
    for key, entry in described_fields(Material).items():
        for name, table in OWN.items():
            spoken = (
                "it is missing" if is_required(entry) else f"needed when {(spec_of(entry).needed or '??')[1]}"
            )
            if key in ("name", "source") or (key in table and _is_asked_for(entry, table)):
                yield Bad("", own_text(name, **{key: None}), f"material[1].{key}", spoken)


def _is_asked_for(entry: Field[Any], table: Mapping[str, Any]) -> bool:
    holder = SimpleNamespace(**{"basis": None, "form": None, **table})
    return is_required(entry) or is_needed(entry, holder)


# materials of the user's own
OWN_UNREAD, OWN_NEEDED = list(material_unread()), list(material_needed())
OWN_BAD = [
    *(
        Bad("", own_text(name, **{key: value}), f"material[1].{key}", tells)
        for name, key, value, tells in (
            ("own spruce", "source", " ", "it is empty"),
            ("own spruce", "family", "wood", '"timber" (wood along its grain)'),
            ("own spruce", "family", "laminate", '"ply" (a layer of a laminate)'),
            ("own spruce", "basis", "clear wood", 'Did you mean "clear-wood"?'),
            ("own spruce", "E_is", "apparant", 'Did you mean "apparent"?'),
            ("own spruce", "E", "10.5 MPa", "Did you mean 10.5 GPa?"),
            ("own spruce", "E", "105 GPa", "Check the number and its unit"),
            ("own spruce", "G", "660 kPa", "660 MPa"),
            ("own spruce", "G", "2 GPa", "of a timber it is 0.0333 to 0.143"),
            ("own spruce", "density", "4200 kg/m3", "where that of a timber lies"),
            ("own spruce", "density", "0.42 kg/m3", "0.42 g/cm3"),
            ("own spruce", "shear", "76 MPa", "where that of a timber lies"),
            ("own spruce", "shear_green", "8 MPa", "of shear, 7.6 MPa; of clear wood it is 0.3 to 1"),
            ("own spruce", "E_green", "11 GPa", "whether they are swapped"),
            ("own spruce", "green_limit", 27, "at most 0.35"),
            ("own glulam", "tension", "260 MPa", "it is 10 of bending, 26 MPa; of graded timber"),
            ("own glulam", "E_low", "12.1 GPa", "of E, 12 GPa; of graded timber it is 0.5 to 1"),
            ("own ply", "form", "uni", '"ud" (all along axis 1)'),
            ("own ply", "fibre_fraction", 52, "at most 0.85"),
            ("own ply", "density", "2400 kg/m3", "for the resin, which has 800 to 1600"),
            ("own ply", "nu12", 1.2, "at most 1"),
            ("own ply", "strain_1t", 2.3, "at most 1"),
            ("own ply", "strain_1t", "0.9 %", 'a strain in per cent is written "2.5 %"'),
            ("own ply", "strain_12", "30 %", "outside 0.0005 to 0.2"),
            ("own foam", "E", "88 GPa", "Did you mean 88 MPa?"),
            ("own foam", "G", "90 MPa", "of a foam it is 0.1 to 1"),
            ("own foam", "shear", "5 MPa", "of compression, 1.35 MPa; of a foam it is 0.2 to 3"),
            ("own tube", "proof", "240 MPa", "Are the two swapped?"),
        )
    ),
    Bad("", own_text("own ply", form="woven", nu12=0.9, E2="57 GPa", strain_2t=None, strain_2c=None),
        "material[1].nu12", "no body can be so"),
    Bad("", own_text("own ply", form="mat"), "material[1].E2", "of a mat it is 0.9 to 1.1"),
    Bad("", own_text("own ply", form="woven", S12="1.5 MPa", strain_12=None), "material[1].S12",
        "a strain of 0.000385 at failure"),
    Bad("", own_text("own spruce", name="C24") + own_text("own ply", name="E-glass") + own_text("own ply", name="C18"),
        "material[2].name", "the tables have a fibre of this name, and yours is a ply", also=("material[3].name",)),
    Bad("", own_text("own spruce") * 2, "material[2].name", "Rename one"),
    Bad('bending = "68 MPa"\n', "", "material[0].bending", "it is missing", of="own timber"),
    Bad('bending = "68 MPa"', 'bending = "68 GPa"', "material[0].bending", "68 MPa", of="own timber"),
    Bad('name = "own spruce"\nsource = "sheet of the maker"\nfamily = "timber"',
        'name = "own spruce"\nsource = "sheet of the maker"\nfamily = "tree"', "material[0].family", '"timber"',
        of="own timber"),
    Bad('E1 = "39.5 GPa"\n', "", "material[3].E1", "it is missing", also=("laminate[0].plies[0].material",),
        of="own materials"),
    Bad('material = "own ply"', 'material = "own pli"', "laminate[0].plies[0].material", "Did you mean 'own ply'?",
        of="own materials"),
    Bad('material = "own foam"', 'material = "own foam"\ntail = "0.1 m"', "mast.plug[0].tail",
        "it belongs to a plug of wood", of="own foam"),
    Bad('material = "own foam"', 'material = "own alloy"', "mast.plug[0].material", "or of a foam of your own",
        of="own foam"),
    Bad('name = "own spruce"', 'name = "own spruse"', "mast.material", "Did you mean 'own spruse' or", of="own timber"),
    *(
        Bad('material = "6061-T6 extruded"', f'material = "{name}"', "mast.material", tells, append=append)
        for name, tells, append in (
            ("own ply", "Lay up a [[laminate]] of it", own_text("own ply")),
            ("E-glass/epoxy woven 0.50", "Lay up a [[laminate]] of it", ""),
            ("vinylester", "a resin by itself makes no mast", ""),
            ("own foam", "foam fills a bore", own_text("own foam")),
        )
    ),
]  # fmt: skip
UNREAD += OWN_UNREAD

DOUBT = [
    Bad("wind = 0.09", "wind = 0.51", "doubt.wind", "at most 0.5", of="doubt"),
    Bad("wall = 0.04", "wall = -0.01", "doubt.wall", "at least 0", of="doubt"),
    Bad("samples = 300", "samples = 99", "doubt.samples", "from 100 to 200000", of="doubt"),
    Bad("seed = 5", "sead = 5", "doubt.sead", "Did you mean 'seed'", of="doubt"),
]

SIZE = [
    Bad('smallest_diameter = "46 mm"', 'smallest_diameter = "246 mm"', "size.smallest_diameter",
        "it is above size.largest_diameter, 213 mm"),
    Bad('largest_tip = "97 mm"', 'largest_tip = "47 mm"', "size.smallest_tip", "it is above size.largest_tip, 47 mm"),
    Bad('largest_diameter = "213 mm"\nsmallest_tip = "54 mm"\nlargest_tip = "97 mm"\nsmallest_wall = "2.6 mm"',
        'largest_diameter = "50 mm"\nsmallest_wall = "25 mm"', "size.smallest_wall", "no mast of 50 mm"),
    Bad('"C24+S-glass/epoxy UD 0.50"', '"C24+no such ply"', "size.materials[2]",
        "no metal, timber, ply or laminate of this name"),
    Bad('"6082-T6 drawn"', '"E-glass"', "size.materials[0]", "no metal, timber, ply or laminate of this name"),
    Bad('"C24+S-glass/epoxy UD 0.50"', '"C24+C18+S-glass/epoxy UD 0.50"', "size.materials[2]",
        "two materials make a mast at the most"),
    Bad("per_kg = 8.25", 'per_kg = 8.25\n\n[[size.price]]\nmaterial = "C24"\nper_kg = 9', "size.price[1].material",
        "it has a price already"),
    Bad("per_kg = 8.25", "per_kg = -8.25", "size.price[0].per_kg", "0"),
    Bad("per_kg = 8.25\n", "", "size.price[0].per_kg", "it is missing"),
    Bad('bury = ["0.85 m", "0.95 m"]', 'bury = ["0 m", "0.95 m"]', "size.bury[0]", "between heel and tip"),
    Bad('bury = ["0.85 m", "0.95 m"]', 'bury = ["0.95 m", "0.85 m"]', "size.bury[1]", "before it stands"),
    Bad('heights = ["2.55 m", "4.65 m"]', 'heights = ["2.55 m", "6.8 m"]', "size.heights[1]",
        "between partners and tip"),
    Bad('bury = ["0.85 m", "0.95 m"]\nheights = ["2.55 m", "4.65 m"]',
        'bury = ["0.85 m", "1.15 m"]\nheights = ["1.1 m", "4.65 m"]', "size.heights[0]", "between partners and tip"),
    Bad('minimise = "cost"', 'minimise = "weight"', "size.minimise", '"diameter"'),
    Bad("seed = 7", "seed = -1", "size.seed", "0"),
    Bad("most_plies = 24", "most_plies = 0", "size.most_plies", "1"),
    Bad("most_plies = 24", "most_plies = 2.5", "size.most_plies", "whole"),
]  # fmt: skip

BAD = [*WRITING, *BANDS, *KEYS, *SYNTAX, *STOCK, *SIZE, *UNREAD, *BY_KIND, *AGREE, *TIMBER, *LAMINATES, *LAID,
    *OWN_NEEDED, *OWN_BAD, *DOUBT]  # fmt: skip
