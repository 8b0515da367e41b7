"""Heel, gusts, and the cases without sail set; the invented rigs that these and the whole-path tests share."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from rigcalc.rig import Rig
from rigcalc.rigfile import read_rig

G = 9.80665

BOAT = """
[boat]
displacement = "500 kg"
waterline = "0.40 m"
lateral_centre = "0.10 m"
beam = "1.80 m"
"""

GZ = """
[boat.stability]
righting_arm = [
  ["0 deg", "0 m"], ["15 deg", "0.15 m"], ["30 deg", "0.26 m"], ["45 deg", "0.31 m"],
  ["60 deg", "0.30 m"], ["90 deg", "0.16 m"], ["120 deg", "0 m"],
]
"""

MAST = """
[mast]
length = "6 m"
bury = "1 m"
material = "test alloy"
stations = [
  {height = "0 m", diameter = "80 mm", wall = "3 mm"}, {height = "6 m", diameter = "80 mm", wall = "3 mm"},
]
"""

ALLOY = """
[[material]]
name = "test alloy"
family = "metal"
E = "70 GPa"
G = "26.3 GPa"
nu = 0.33
density = "2700 kg/m3"
proof = "240 MPa"
ultimate = "260 MPa"
buckling_class = "A"
source = "invented"
"""

MAIN = """
[[sail]]
name = "main"
luff = "4.2 m"
foot = "2 m"
tack_height = "1.5 m"
load_path = "luff"
"""

ONE_REEF = """
[[state]]
name = "one reef"
set = {main = 0.7}
"""

TWO_REEFS = """
[[state]]
name = "two reefs"
set = {main = 0.4}
"""


def rig_file(*tables: str, boat: str = BOAT, stability: str = GZ, mast: str = MAST) -> str:
    """Text of a rig file: hull, mast and metal, and whatever tables follow."""
    return "\n".join(['title = "Test rig"', boat, stability, mast, ALLOY, *tables])


def rig(*tables: str, boat: str = BOAT, stability: str = GZ, mast: str = MAST) -> Rig:
    return read_rig(rig_file(*tables, boat=boat, stability=stability, mast=mast))


@dataclass(frozen=True)
class Tube:
    """The uniform mast of ``MAST`` by hand."""

    length = 6.0
    bury = 1.0
    diameter = 0.080
    bore = 0.074
    E = 70e9

    @property
    def mass_kg_m(self) -> float:
        return 2700.0 * pi / 4 * (self.diameter**2 - self.bore**2)

    @property
    def second_moment_m4(self) -> float:
        return pi / 64 * (self.diameter**4 - self.bore**4)


TUBE = Tube()
