"""Masts beside the examples: every material, shape, support and bearing, and what only some of them have."""

from __future__ import annotations

import numpy as np
import pytest

from rigcalc import read_rig
from rigcalc.errors import RigInputError
from rigcalc.reports.worked import WorkedCalculation, worked, worked_screen

from ..test_combinations import SIZES, rigs


def hold(found: WorkedCalculation) -> None:
    """Hold every chain of a calculation to its check."""
    for section in found.sections:
        for line in section.lines:
            assert np.isfinite(line.value), line.text
        if section.check is None:
            continue
        assert not section.left_out, section.heading
        ends = (section.demand, section.check.demand), (section.capacity, section.check.capacity)
        for end, wanted in ends:
            if end is not None and section.lines[end].formula_name != "miner_sum":
                assert section.lines[end].value == pytest.approx(wanted, rel=1e-12, abs=0), section.heading


@pytest.mark.parametrize("material", SIZES)
def test_every_shape_support_and_bearing(material: str) -> None:
    answered = 0
    # a tenth of them: the step shares no factor with the sizes of the product
    for text in list(rigs(material))[::11]:
        try:
            found = worked(read_rig(text))
        except RigInputError:
            continue
        hold(found)
        answered += 1
    assert answered


METAL = """
title = "metal"
[boat]
displacement = "640 kg"
waterline = "0.4 m"
lateral_centre = "0.05 m"
[boat.stability]
moment_max = "{moment}"
[mast]
length = "6.4 m"
bury = "{bury}"
material = "6061-T6 drawn"
stations = [{{height = "0 m", diameter = "{D}", wall = "{t}"}}, {{height = "6.4 m", diameter = "{D}", wall = "{t}"}}]
{more}
[[sail]]
name = "main"
luff = "4.6 m"
foot = "2.2 m"
tack_height = "1.4 m"
[[case]]
name = "gust"
kind = "heel-limited"
"""


def metal(
    *, D: str = "100 mm", t: str = "3 mm", bury: str = "0.9 m", moment: str = "1400 N m", more: str = ""
) -> WorkedCalculation:
    return worked(read_rig(METAL.format(D=D, t=t, bury=bury, moment=moment, more=more)))


def lines_of(found: WorkedCalculation, check: str) -> dict[str, str]:
    (section,) = found.of(check).sections
    return {line.formula_name: line.text for line in section.lines}


def test_a_thin_shell() -> None:
    found = metal(D="150 mm", t="0.6 mm")
    hold(found)
    lines = lines_of(found, "shell-buckling")
    for name in ("bending_knockdown", "cylinder_classical_stress", "buckling_ratio", "cylinder_interaction"):
        assert name in lines
    assert "effective_strength" in lines_of(found, "wall-class")


def test_a_weld_and_a_hole() -> None:
    more = '[[mast.weld]]\nheight = "3 m"\n[[mast.opening]]\nheight = "2 m"\nwidth = "12 mm"\n'
    found = metal(D="110 mm", t="6 mm", more=more)
    hold(found)
    assert "hole_peak_stress" in lines_of(found, "opening 1")
    assert "design_strength" in lines_of(found, "weld")


def test_a_life_with_a_weld_and_a_hole() -> None:
    more = (
        '[[mast.weld]]\nheight = "3 m"\n[[mast.opening]]\nheight = "2 m"\nwidth = "12 mm"\n'
        '[fatigue]\ndays_at_sea = 300\ntime_per_day = "6 h"\nroll_period = "2.4 s"\nstress_ratio = -0.3\n'
    )
    found = metal(D="110 mm", t="6 mm", more=more)
    hold(found)
    for check in ("fatigue", "fatigue weld", "fatigue opening 1"):
        lines = lines_of(found, check)
        assert lines["miner_sum"].endswith(" = 1")
        assert "(1 - (-0.3))" in lines["stress_range"]


def test_a_short_bury_is_sheared() -> None:
    found = metal(bury="0.06 m", t="3 mm")
    hold(found)
    assert "16 V (D^2 + D d + d^2)" in lines_of(found, "yield")["ring_peak_shear_stress"]


def test_a_mast_without_an_answer_says_so() -> None:
    found = metal(D="40 mm", t="1 mm", moment="9000 N m")
    assert found.verdict == "fail"
    (tip,) = found.of("tip-deflection").sections
    assert "no answer was found, which never passes" in tip.sentence
    assert "no answer was found" in worked_screen(found)


def test_a_lift_is_held_by_its_slings() -> None:
    text = METAL.format(D="100 mm", t="3 mm", bury="0.9 m", moment="1400 N m", more="").split("[[case]]")[0]
    found = worked(
        read_rig(
            text + '[[case]]\nname = "crane"\nkind = "lift"\nlower_height = "1 m"\nupper_height = "5 m"\n'
        )
    )
    (bearings,) = (s for s in found.sections if s.heading == "Forces of the bearings")
    (upper,) = (line for line in bearings.lines if line.symbol == "R_u,s")
    # its own weight level, held at 1 m and 5 m: the middle of 6.4 m is 2.2 m above the lower sling
    weight = next(
        n.value for line in bearings.lines if line.symbol == "F_s" for n in line.numbers if n.symbol == "F_w"
    )
    assert upper.value == pytest.approx(-weight * 2.2 / 4.0, rel=1e-9)
    hold(found)
