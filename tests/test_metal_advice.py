"""What a metal mast that fails is told: followed, it brings the utilisation near 1, and never above."""

from __future__ import annotations

import math
import re

import pytest

from rigcalc import check as check_rig
from rigcalc import read_rig
from rigcalc.limits import Check

from .test_limits import (
    ABOVE,
    BURY,
    CLASSES,
    GAMMA_M1,
    LENGTH,
    by_shell,
    found,
    pushed,
    ring,
    shear_at_neutral_axis,
    tube,
)
from .test_loads import METAL, PROOF_PA, rig_text, run

STRONG = METAL.replace("215 MPa", "480 MPa").replace("245 MPa", "500 MPa")
NO_TIP = "[limits]\ntip_deflection = 0.5\n"


def numbers(pattern: str, check: Check) -> list[float]:
    match = re.search(pattern, check.advice)
    assert match is not None, check.advice
    return [float(number) for number in match.groups()]


def weak(id: str, push: float, D: float, t: float, **more: str) -> Check:
    return found(run(NO_TIP + pushed(push), **tube(D, t), **more), id)


@pytest.mark.parametrize("id", ["yield", "rupture"])
@pytest.mark.parametrize(("push", "t"), [(900.0, 0.003), (700.0, 0.0025)])
def test_tube_too_weak_for_its_load(id: str, push: float, t: float) -> None:
    D = 0.09
    check = weak(id, push, D, t)
    assert check.utilisation > 1.1
    thin, thick, narrow, wide, less = numbers(
        r"raise the wall from ([\d.]+) to about ([\d.]+) mm, or raise the diameter from (\d+) to about (\d+) mm, "
        r"or take (\d+)% off",
        check,
    )
    assert (thin, narrow) == (pytest.approx(t * 1e3, abs=0.051), 90.0)
    # the least tenth of a millimetre, the least millimetre and the least per cent that are enough by the modulus
    enough = check.utilisation * ring(D, t)[1]
    assert ring(D, thick * 1e-3 - 1e-4)[1] < enough <= ring(D, thick * 1e-3)[1]
    assert wide - 1 < D * 1e3 * math.sqrt(check.utilisation) <= wide
    assert less - 1 < 100 * (1 - 1 / check.utilisation) <= less
    # the bent mast adds a little to the moments, more of it in the limper mast
    assert 0.85 < weak(id, push, D, thick * 1e-3).utilisation <= 1.0
    assert 0.8 < weak(id, push, wide * 1e-3, t).utilisation <= 1.0
    assert 0.93 < weak(id, push * (1 - less / 100), D, t).utilisation <= 1.0


def test_where_even_a_bar_is_too_weak_only_the_diameter_helps() -> None:
    check = weak("yield", 1500.0, 0.06, 0.01)
    assert check.advice.endswith("no wall is thick enough for that diameter")
    (wide,) = numbers(r"raise the diameter from 60 to about (\d+) mm", check)
    assert 0.5 < weak("yield", 1500.0, wide * 1e-3, 0.01).utilisation <= 1.0


def test_box_gains_as_its_wall() -> None:
    """Of one outside; the true modulus of a box grows a little less than that."""
    text = rig_text(
        stations=((0.0, 0.09, 0.003), (LENGTH, 0.09, 0.003)), mast='shape = "box"', more=pushed(1200.0)
    )
    check = found(
        check_rig(read_rig(text.replace('diameter = "0.09 m"', 'diameter = "0.09 m", breadth = "0.08 m"'))),
        "yield",
    )
    assert check.utilisation > 1.1
    thin, thick = numbers(r"raise the wall from ([\d.]+) to about ([\d.]+) mm", check)
    assert (thin, thick - 0.1) == (3.0, pytest.approx(3.0 * check.utilisation, abs=0.1))
    assert 3.0 * check.utilisation <= thick


def test_thin_shell_too_thin() -> None:
    D, t, push = 0.3, 0.001, 405.0
    check = weak("shell-buckling", push, D, t, metal=STRONG)
    assert check.utilisation > 1.05
    thin, thick = numbers(r"raise the wall from ([\d.]+) to about ([\d.]+) mm", check)
    assert (thin, thick) == (1.0, 1.1)
    assert 0.3 < weak("shell-buckling", push, D, thick * 1e-3, metal=STRONG).utilisation <= 1.0


def test_tube_that_would_flatten() -> None:
    D, t, push = 0.3, 0.001, 2600.0
    check = weak("flattening", push, D, t, metal=STRONG)
    assert check.utilisation > 1.1
    thin, thick = numbers(r"raise the wall from ([\d.]+) to about ([\d.]+) mm, or plug", check)
    assert thin == 1.0
    assert 0.8 < weak("flattening", push, D, thick * 1e-3, metal=STRONG).utilisation <= 1.0


@pytest.mark.parametrize(("what", "id"), [("weld", "weld"), ("opening", "opening 1")])
def test_what_stands_in_a_bad_place_is_moved(what: str, id: str) -> None:
    """Above the partners the stress falls as the way to the tip."""
    place = {
        "weld": '[[mast.weld]]\nheight = "{} m"\n',
        "opening": '[[mast.opening]]\nheight = "{} m"\nwidth = "10 mm"\n',
    }[what]
    height, push = 2.0, {"weld": 450.0, "opening": 300.0}[what]
    check = weak(id, push, 0.09, 0.003, mast=place.format(height))
    assert check.utilisation > 1.1
    (share,) = numbers(rf"move the {what} to where the stress is at most (\d+)% of that here", check)
    # it is its lower end that is used most
    lower = LENGTH - (LENGTH - check.height_m) * (share - 0.5) / 100
    moved = place.format(round(lower + height - check.height_m, 3))
    assert 0.95 < weak(id, push, 0.09, 0.003, mast=moved).utilisation <= 1.0


# ---------------------------------------------------------------- where a limit applies


@pytest.mark.parametrize(("t_mm", "is_shell"), [(3.7, False), (3.6, True), (0.8, True)])
@pytest.mark.parametrize("axial", [10.0, 500.0])
def test_shell_rule_alone_from_twenty_radii_to_the_wall(t_mm: float, is_shell: bool, axial: float) -> None:
    """Each of the three buckling stresses in it, thrust too, where it counts for much; no check below."""
    D, t = 0.15, t_mm / 1e3
    result = run(pushed(1.0, axial_N=-axial, torque_N_m=3.0), **tube(D, t), metal=STRONG)
    assert ("shell-buckling" in {c.id for c in result.checks}) is is_shell
    if is_shell:
        area, second = ring(D, t)
        shear = 3.0 * D / 2 / (2 * second) + shear_at_neutral_axis(ABOVE / BURY, D, t)
        expected = by_shell(D, t, 480e6, ABOVE * D / 2 / second, axial / area, shear)
        check = found(result, "shell-buckling")
        assert check.utilisation == pytest.approx(expected, rel=1e-7)
        assert check.height_m == BURY


@pytest.mark.parametrize(("sides", "t_mm"), [(8, 1.5), (12, 1.0)])
def test_flats_of_staves_count_by_the_side_of_the_bore(sides: int, t_mm: float) -> None:
    """EN 1999-1-1, 6.1.4.3, from memory: b/t of an internal part; the side of a bore w across flats is w tan(pi/n)."""
    D, t = 0.15, t_mm / 1e3
    mast = f'shape = "staves"\noutside = "flat"\nsides = {sides}'
    result = run(pushed(), **tube(D, t), mast=mast)
    limit, c1, c2 = CLASSES["B"]
    x = (D - 2 * t) * math.tan(math.pi / sides) / t / math.sqrt(250e6 / PROOF_PA)
    assert x > limit
    check = found(result, "wall-class")
    assert check.capacity == pytest.approx((c1 / x - c2 / x**2) * PROOF_PA / GAMMA_M1, rel=1e-10)
    assert not {"shell-buckling", "flattening"} & {c.id for c in result.checks}


def test_warning_of_a_hole_says_which() -> None:
    """A bore of more than 0.9 of the tube is beyond the fit for bending."""
    holes = "".join(f'[[mast.opening]]\nheight = "{z} m"\nwidth = "12 mm"\n' for z in (3, 4))
    result = run(pushed(), **tube(0.15, 0.003), mast=holes)
    for name in ("opening 1: ", "opening 2: "):
        assert any(name in text and "stretched to a thinner wall" in text for text in result.warnings)
    assert not any("opening 0" in text or "opening 3" in text for text in result.warnings)


def test_softened_metal_is_not_asked_what_the_rest_bears() -> None:
    """Yield and rupture of the parent metal are looked for outside the weld, and the weld inside."""
    weld = f'[[mast.weld]]\nheight = "{BURY} m"\nextent = "50 mm"\n'
    result = run(pushed(10.0), **tube(0.09, 0.003), mast=weld)
    for id in ("yield", "rupture"):
        assert abs(found(result, id).height_m - BURY) >= 0.05 - 1e-9
    assert abs(found(result, "weld").height_m - BURY) <= 0.05 + 1e-9


def test_weaker_tube_a_little_above_a_hole_is_not_the_hole() -> None:
    hole = '[[mast.opening]]\nheight = "3 m"\nwidth = "12 mm"\n'
    step = ((0.0, 0.09, 0.011), (3.01, 0.09, 0.011), (3.01, 0.07, 0.003), (LENGTH, 0.07, 0.003))
    near = found(run(pushed(), stations=step, bury_m=BURY, mast=hole), "opening 1")
    below = found(run(pushed(), **tube(0.09, 0.011), mast=hole), "opening 1")
    assert near.demand == pytest.approx(below.demand, rel=1e-8)
    assert near.height_m == pytest.approx(2.994)
