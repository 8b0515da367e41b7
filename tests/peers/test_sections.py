"""Sections of whole masts against a finite-element library of sections, by what the answer says of the mast.

Every mast has one section from heel to tip, so its stiffness is the EI along it and its area its mass. Polygons stand
for circles. Torsion and shear are solved on quadratic triangles, whose error is measured on two meshes.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest
from sectionproperties.analysis import Section
from sectionproperties.pre import CompoundGeometry, Geometry, Material
from shapely import Polygon

from rigcalc import CheckResult, check, read_rig
from rigcalc.formulas.beams import cowper_shear_coefficient
from rigcalc.formulas.sections import annulus_plastic_modulus, annulus_torsion_constant

from .masts import ALLOY, STEEL, some

CORNERS = 48
ANGLE = 2 * np.pi / CORNERS
ROUND = 4 * ANGLE**4 / 180
"""A polygon of a circle's area has 1 + angle^4/180 of its second moment; a bore that is no circle leaves that less to
be shared by."""
FIBRE = 1.1 * ANGLE**2 / 12
"""And its corners stand 1 + angle^2/12 of the radius out."""
LENGTH, BURY = 6.0, 1.0
PUSH = 200.0
SEEDS = range(2)


def circle(D: float) -> Polygon:
    angle = np.arange(CORNERS) * ANGLE
    r = D / 2 * np.sqrt(ANGLE / np.sin(ANGLE))
    return Polygon(np.stack([r * np.cos(angle), r * np.sin(angle)], axis=1))


def flats(across: float, sides: int) -> Polygon:
    angle = (2 * np.arange(sides) + 1) * np.pi / sides
    r = across / 2 / np.cos(np.pi / sides)
    return Polygon(np.stack([r * np.cos(angle), r * np.sin(angle)], axis=1))


def library(layers: Sequence[tuple[Polygon, float, float, float]], elements: int = 60) -> Section:
    """Return the section of layers: outline, modulus, Poisson's ratio, density."""
    pieces = [
        Geometry(outline, Material(f"layer {i}", E, nu, 1.0, density, "grey"))
        for i, (outline, E, nu, density) in enumerate(layers)
    ]
    return meshed(pieces[0] if len(pieces) == 1 else CompoundGeometry(pieces), elements)


def meshed(whole: Geometry | CompoundGeometry, elements: int) -> Section:
    whole.create_mesh(mesh_sizes=[whole.geom.area / elements])
    section = Section(whole)
    section.calculate_geometric_properties()
    return section


def told(mast: str, more: str, *, load: str = f'point_load = [{{height = "{LENGTH} m", side = "{PUSH} N"}}]'):
    return check(
        read_rig(f"""title = "section"
[boat]
displacement = "900 kg"
waterline = "0.4 m"
lateral_centre = "0 m"
[boat.stability]
moment_max = "4000 N m"
[mast]
length = "{LENGTH!r} m"
bury = "{BURY!r} m"
{mast}
{more}
[[case]]
name = "pushed"
kind = "given"
{load}
""")
    )


def stations(D: float, wall: float | None = None) -> str:
    size = f'diameter = "{D!r} m"' + ("" if wall is None else f', wall = "{wall!r} m"')
    return f'stations = [{{height = "0 m", {size}}}, {{height = "{LENGTH!r} m", {size}}}]'


def hold(result: CheckResult, section: Section, *, off: float) -> None:
    """Hold bending stiffness and mass per metre."""
    (EI, *others) = np.unique(np.round(result.stations.EI_N_m2, 6))
    assert not others
    stiff = section.get_eic()
    assert stiff[0] == pytest.approx(EI, rel=off)
    assert stiff[1] == pytest.approx(EI, rel=off)
    assert section.get_mass() == pytest.approx(result.mast.mass_kg / LENGTH, rel=off)


def stress(result: CheckResult, layer: str, id: str = "yield") -> float:
    (found,) = (c.demand for c in result.checks if (c.id, c.layer) == (id, layer))
    return found


@pytest.mark.parametrize("seed", SEEDS)
def test_a_tube_with_a_sleeve_of_another_metal(seed: int) -> None:
    rng = np.random.default_rng(seed)
    D, wall, thick = some(rng, 0.06, 0.2), some(rng, 0.002, 0.006), some(rng, 0.001, 0.004)
    bore = round(D - 2 * wall, 9)
    result = told(
        f'material = "alloy"\n{stations(D, wall)}',
        f'[[mast.sleeve]]\nstart = "0 m"\nend = "{LENGTH!r} m"\ndiameter = "{bore!r} m"\nwall = "{thick!r} m"\n'
        f'material = "steel"\nplay = "0 mm"\n{ALLOY.text}{STEEL.text}',
    )
    # the library wants one mesh of both: their common face is one polygon
    middle = circle(bore)
    tube, sleeve = circle(D) - middle, middle - circle(bore - 2 * thick)
    section = library([(tube, ALLOY.E, ALLOY.nu, ALLOY.density), (sleeve, STEEL.E, STEEL.nu, STEEL.density)])
    hold(result, section, off=ROUND)
    section.calculate_warping_properties()
    moment = PUSH * (LENGTH - BURY)
    groups = section.calculate_stress(mxx=moment).get_stress()
    # stresses at corners of triangles are linear in bending: those of the outline, a hair off the circle
    for layer, group in zip(("tube", "sleeve 1"), groups, strict=True):
        bent = max(stress(result, layer), 0.0)
        assert np.max(np.abs(group["sig_zz_mxx"])) == pytest.approx(bent, rel=FIBRE)


@pytest.mark.parametrize("seed", SEEDS)
def test_torsion_of_a_tube(seed: int) -> None:
    rng = np.random.default_rng([seed, 1])
    D, wall, torque = some(rng, 0.06, 0.2), some(rng, 0.004, 0.02), 150.0
    result = told(f'material = "alloy"\n{stations(D, wall)}', ALLOY.text, load=f'torque = "{torque} N m"')
    shear = stress(result, "tube") / np.sqrt(3)
    J = []
    for elements in (100, 400):
        section = meshed(Geometry(circle(D) - circle(D - 2 * wall)), elements)
        section.calculate_warping_properties()
        J.append(section.get_j())
    hold(result, library([(circle(D) - circle(D - 2 * wall), ALLOY.E, 0.0, ALLOY.density)]), off=ROUND)
    assert torque * D / 2 / shear == pytest.approx(J[1], rel=2 * abs(J[1] / J[0] - 1) + FIBRE)
    assert annulus_torsion_constant(D=D, d=D - 2 * wall) == pytest.approx(J[1], rel=1e-3)


PLY = """
[[material]]
name = "ply"
family = "ply"
form = "ud"
fibre_fraction = 0.5
fibre_density = "2550 kg/m3"
density = "1900 kg/m3"
E1 = "38 GPa"
E2 = "9 GPa"
G12 = "3.5 GPa"
nu12 = 0.28
Xt = "800 MPa"
Xc = "500 MPa"
Yt = "35 MPa"
Yc = "110 MPa"
S12 = "50 MPa"
source = "invented"
[[laminate]]
name = "sheath"
plies = [{{material = "ply", angle = "0 deg", thickness = "{thickness!r} m", count = {count}}}]
"""
# what bends under load has the shear of a test beam of span over depth 14 in it, EN 408, from memory
WOOD_E, WOOD_G = 11e9, 690e6
BENT_E = WOOD_E / (1 + 1.2 * WOOD_E / WOOD_G / 14**2)
WOOD = """
[[material]]
name = "wood"
family = "timber"
basis = "characteristic"
E = "11 GPa"
G = "690 MPa"
density = "430 kg/m3"
bending = "30 MPa"
compression = "24 MPa"
compression_perp = "2.6 MPa"
shear = "4 MPa"
source = "invented"
"""


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("outside", ["flat", "round"])
def test_staves_in_a_sheath(seed: int, outside: str) -> None:
    """A hollow tube of eight or twelve staves, left flat or turned round, with a glass sheath over it."""
    rng = np.random.default_rng([seed, 2])
    sides = int(rng.choice([8, 12]))
    D, wall, ply = some(rng, 0.09, 0.16), some(rng, 0.015, 0.03), some(rng, 0.0002, 0.0006)
    count = int(rng.integers(2, 6))
    result = told(
        f'shape = "staves"\nsides = {sides}\noutside = "{outside}"\nmaterial = "wood"\n{stations(D, wall)}',
        f'[[mast.sheath]]\nstart = "0 m"\nend = "{LENGTH!r} m"\nlaminate = "sheath"\n'
        + PLY.format(thickness=ply, count=count)
        + WOOD,
    )
    thick = count * ply
    if outside == "flat":
        wood, coat, bore = flats(D, sides), flats(D + 2 * thick, sides), flats(D - 2 * wall, sides)
    else:
        # what the file gives is the wall at the corners of the bore, where turning leaves least
        wood, coat = circle(D), circle(D + 2 * thick)
        bore = flats((D - 2 * wall) * np.cos(np.pi / sides), sides)
    section = library([(wood - bore, BENT_E, 0.3, 430.0), (coat - wood, 38e9, 0.3, 1900.0)])
    hold(result, section, off=1e-9 if outside == "flat" else ROUND)


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("shape", ["box", "ellipse"])
def test_sizes_that_differ(seed: int, shape: str) -> None:
    """The weaker way of a box or an ellipse."""
    rng = np.random.default_rng([seed, 3])
    D, share, wall = some(rng, 0.08, 0.16), some(rng, 0.5, 0.9), some(rng, 0.003, 0.01)
    breadth = round(D * share, 6)
    size = f'diameter = "{D!r} m", breadth = "{breadth!r} m", wall = "{wall!r} m"'
    result = told(
        f'shape = "{shape}"\nturns = ["0 deg"]\nmaterial = "alloy"\n'
        f'stations = [{{height = "0 m", {size}}}, {{height = "{LENGTH!r} m", {size}}}]',
        ALLOY.text,
    )

    def outline(x: float, y: float) -> Polygon:
        if shape == "box":
            return Polygon([(-x / 2, -y / 2), (x / 2, -y / 2), (x / 2, y / 2), (-x / 2, y / 2)])
        return Polygon(np.array(circle(1.0).exterior.coords) * [x, y])

    section = library(
        [(outline(D, breadth) - outline(D - 2 * wall, breadth - 2 * wall), ALLOY.E, 0.0, ALLOY.density)]
    )
    assert min(section.get_eic()[:2]) == pytest.approx(result.stations.EI_N_m2[0], rel=ROUND)
    assert section.get_mass() == pytest.approx(result.mast.mass_kg / LENGTH, rel=ROUND)
    section.calculate_warping_properties()
    found = section.calculate_stress(myy=PUSH * (LENGTH - BURY)).get_stress()[0]["sig_zz_myy"]
    across = section.calculate_stress(mxx=PUSH * (LENGTH - BURY)).get_stress()[0]["sig_zz_mxx"]
    # x of the library is forward here and the push goes to the side, which turns the section about x
    assert np.max(np.abs(across)) == pytest.approx(stress(result, "tube"), rel=FIBRE)
    assert np.max(np.abs(found)) < np.max(np.abs(across))


@pytest.mark.parametrize("m", [0.4, 0.8, 0.95])
def test_shear_coefficient_and_plastic_modulus_of_a_ring(m: float) -> None:
    """Cowper's mean and the library's strain energy are one where Poisson's ratio is nothing."""
    ring = circle(1.0) - circle(m)
    found = []
    for elements in (100, 400):
        section = meshed(Geometry(ring), elements)
        section.calculate_warping_properties()
        found.append(section.get_as()[0] / section.get_area())
    off = abs(found[1] / found[0] - 1)
    assert off < 2e-3
    # the ring's wall of flats is no circle's by as much as its corners stand out
    assert cowper_shear_coefficient(nu=0.0, m=m) == pytest.approx(found[1], rel=off + FIBRE)
    section.calculate_plastic_properties()
    assert section.get_s()[0] == pytest.approx(annulus_plastic_modulus(D=1.0, d=m), rel=FIBRE)
