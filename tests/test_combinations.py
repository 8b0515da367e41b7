"""Every material with every shape, support, filling and bearing: an answer or a refusal, never a fault."""

from __future__ import annotations

import json
from collections.abc import Iterator
from itertools import product

import numpy as np
import pytest

from rigcalc import check, read_rig
from rigcalc.errors import RigInputError
from rigcalc.reports import as_json, limits_screen, screen
from rigcalc.reports.bearings import bearings_json, bearings_screen

SIZES = {
    "6061-T6 drawn": ('diameter = "100 mm", wall = "4 mm"', 'diameter = "80 mm", wall = "3 mm"'),
    "Sitka spruce (US)": ('diameter = "110 mm", wall = "22 mm"', 'diameter = "80 mm", wall = "16 mm"'),
    "C24": ('diameter = "120 mm"', 'diameter = "80 mm"'),
    "glass": ('diameter = "110 mm"', 'diameter = "80 mm"'),
}
SHAPES = (
    "",
    'shape = "staves"',
    'shape = "staves"\nsides = 12\noutside = "flat"',
    'shape = "box"\nturns = ["0 deg", "40 deg"]',
    'shape = "ellipse"\nturns = ["0 deg", "40 deg"]',
)
SUPPORTS = (
    "",
    'support = "post"\npost = {diameter = "60 mm", wall = "5 mm", material = "6061-T6 drawn"}',
    'support = "post"\npost = {diameter = "50 mm", wall = "4 mm", material = "6061-T6 drawn", socket = "0.4 m", '
    'thrust_on = "top"}',
)
FILLINGS = (
    "",
    '[[mast.plug]]\nstart = "0 m"\nend = "1.2 m"\nmaterial = "C24"\n',
    '[[mast.sheath]]\nstart = "0 m"\nend = "2 m"\nlaminate = "glass"\n',
)
GEAR = '[furling]\ndrum_diameter = "160 mm"\nline_diameter = "6 mm"\n'
BEARINGS = (
    "",
    """[bearings.partners]
kind = "plain"
material = "acetal"
length = "60 mm"
clearance = "0.8 mm"
wall = "8 mm"
[bearings.step]
kind = "plain"
material = "bronze"
length = "50 mm"
clearance = "0.4 mm"
wall = "5 mm"
thrust = {outer = "50 mm"}
"""
    + GEAR,
    """[bearings.partners]
kind = "rollers"
material = "acetal"
length = "50 mm"
clearance = "0.5 mm"
count = 6
diameter = "24 mm"
[bearings.step]
kind = "rollers"
material = "nylon"
length = "50 mm"
clearance = "0.5 mm"
count = 6
diameter = "24 mm"
pin = "8 mm"
"""
    + GEAR,
)
BASE = """
title = "any"
[boat]
displacement = "640 kg"
waterline = "0.4 m"
lateral_centre = "0.05 m"
beam = "1.8 m"
[boat.stability]
moment_30 = "1200 N m"
moment_max = "1600 N m"
[mast]
length = "6.4 m"
bury = "0.9 m"
material = "{material}"
{shape}
{support}
stations = [{{height = "0 m", {heel}}}, {{height = "1.2 m", {heel}}}, {{height = "6.4 m", {tip}}}]
{filling}
[[sail]]
name = "main"
luff = "4.6 m"
foot = "2.2 m"
tack_height = "1.4 m"
hold = "rolled"
cloth_mass = "230 g/m2"
cloth_thickness = "0.4 mm"
[[laminate]]
name = "glass"
plies = [
  {{material = "E-glass/epoxy UD 0.45", angle = "0 deg", areal_mass = "600 g/m2", count = 9}},
  {{material = "E-glass/epoxy UD 0.45", angle = "45 deg", areal_mass = "300 g/m2"}},
  {{material = "E-glass/epoxy UD 0.45", angle = "-45 deg", areal_mass = "300 g/m2"}},
]
[[case]]
name = "gust"
kind = "heel-limited"
[[case]]
name = "flat"
kind = "knockdown"
{bearings}
"""


def rigs(material: str) -> Iterator[str]:
    heel, tip = SIZES[material]
    for shape, support, filling, bearings in product(SHAPES, SUPPORTS, FILLINGS, BEARINGS):
        yield BASE.format(
            material=material,
            heel=heel,
            tip=tip,
            shape=shape,
            support=support,
            filling=filling,
            bearings=bearings,
        )


@pytest.mark.parametrize("material", SIZES)
def test_an_answer_or_a_refusal(material: str) -> None:
    answered = refused = 0
    for text in rigs(material):
        try:
            result = check(read_rig(text))
        except RigInputError as error:
            refused += 1
            assert all(p.allowed and p.remedy for p in error.problems)
            continue
        answered += 1
        assert not result.passed or all(np.isfinite(c.utilisation) for c in result.checks)
        assert (
            json.loads(as_json(result, stations=True))["bearings"]
            == json.loads(bearings_json(result))["bearings"]
        )
        for text_of in (screen, limits_screen, bearings_screen):
            assert "A falling mast can kill" in text_of(result)
    assert answered >= 8
    assert refused >= 8
