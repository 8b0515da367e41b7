"""Bonded layers that grow unlike: the number in the warning, by hand."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest

from rigcalc import check, load_rig, read_rig
from rigcalc.formulas import Working
from rigcalc.structure.made_of import Metals
from rigcalc.verdict import evaluate
from rigcalc.verdict.assumptions import cases_of

from .test_loads import rig_text
from .test_turned_masts import TUBE, pushed

SHEATHED = Path(__file__).parents[1] / "examples" / "sheathed_mast_5m.toml"
LAMINATE = """
[[laminate]]
name = "wrap"
plies = [
  {{material = "{ply}", angle = "0 deg", areal_mass = "600 g/m2"}},
  {{material = "{ply}", angle = "90 deg", areal_mass = "300 g/m2"}},
]
"""


def told(warnings: tuple[str, ...]) -> tuple[float, float]:
    (text,) = (w for w in warnings if "grow unlike" in w)
    into = re.search(r"up to ([0-9.]+) MPa into the sheath and ([0-9.]+) MPa into the tube", text)
    assert into
    return float(into[1]), float(into[2])


def wrapped_tube(ply: str, material: str = "6061-T6 drawn"):
    mast = '[[mast.sheath]]\nstart = "0 m"\nend = "2 m"\nlaminate = "wrap"\n'
    text = rig_text(stations=TUBE, mast=mast, more=pushed(50.0) + LAMINATE.format(ply=ply))
    return read_rig(text.replace('material = "alloy"', f'material = "{material}"'))


@pytest.mark.parametrize(
    ("ply", "apart"), [("E-glass/epoxy UD 0.45", 13e-6), ("carbon/epoxy UD 0.60", 23e-6)]
)
def test_glass_and_carbon_on_aluminium(ply: str, apart: float) -> None:
    rig = wrapped_tube(ply)
    cases, _ = cases_of(rig, None)
    sections = evaluate(rig, cases, Working()).model.sections
    tube, sheath = sections.layers[0], sections.layers[1]
    assert isinstance(tube.made_of, Metals)
    EA = [float(layer.elastic.E_Pa.flat[0] * layer.shape.area_m2[0, 0]) for layer in (tube, sheath)]
    force = apart * 40 * EA[0] * EA[1] / sum(EA)
    sheath_MPa, tube_MPa = told(check(rig).warnings)
    assert sheath_MPa == pytest.approx(force / sheath.shape.area_m2[0, 0] / 1e6, abs=0.051)
    assert tube_MPa == pytest.approx(force / tube.shape.area_m2[0, 0] / 1e6, abs=0.051)
    # the forces add up to nothing
    areas = np.array([sheath.shape.area_m2[0, 0], tube.shape.area_m2[0, 0]])
    assert sheath_MPa * areas[0] == pytest.approx(tube_MPa * areas[1], rel=0.05)


def test_glass_on_timber_is_told_of() -> None:
    sheath_MPa, tube_MPa = told(check(load_rig(SHEATHED)).warnings)
    assert 0.0 < tube_MPa < sheath_MPa < 15.0


def test_nothing_is_told_of_one_material() -> None:
    assert not [
        w for w in check(read_rig(rig_text(stations=TUBE, more=pushed(50.0)))).warnings if "grow unlike" in w
    ]
