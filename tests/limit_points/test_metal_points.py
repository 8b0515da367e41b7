"""Metal, foam and the life of a mast point by point, and what they are told at whatever use."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest
from scipy.special import gamma, gammaincc

from rigcalc import read_rig
from rigcalc.limits.fatigue import details_used
from rigcalc.limits.lifetime import upper_gamma
from rigcalc.limits.metal import Shell
from rigcalc.materials import Metal
from rigcalc.rig import Rig
from rigcalc.verdict.evaluate import Run
from tests.test_fatigue import LIFE
from tests.test_foam import BORE, E_FOAM, E_TUBE, OUTER, WALL, cored
from tests.test_limits import (
    ABOVE,
    BURY,
    GAMMA_M1,
    GAMMA_M2,
    LENGTH,
    pushed,
    ring,
    shear_at_neutral_axis,
    tube,
)
from tests.test_loads import E_PA, METAL, NU, ULTIMATE_PA, case_text, rig_text

from . import USES, least, limit_of, solved, told

D, T = 0.09, 0.003


def rig_of(cases: str = "", *, D: float = D, t: float = T, **parts: str) -> Rig:
    return read_rig(rig_text(**tube(D, t), more=cases or pushed(1.0), **parts))  # type: ignore[arg-type]  # as written


def opened(height: float, width_mm: float = 12.0, more: str = "") -> str:
    return f'[[mast.opening]]\nheight = "{height} m"\nwidth = "{width_mm} mm"\n{more}'


@pytest.mark.parametrize("id", ["yield", "rupture"])
def test_a_tube_too_weak(id: str) -> None:
    result, _ = solved(rig_of())
    advise = limit_of(result, id).advise
    for used in USES:
        said, enough = advise(used, (3, 2)), used * ring(D, T)[1]
        now, wide, less = told(
            r"the diameter from (\d+) to about (\d+) mm, or take (\d+)% off the load", said
        )
        assert (now, wide) == (90.0, pytest.approx(least(90 * math.sqrt(used), 1.0)))
        assert less == pytest.approx(least(100 * (1 - 1 / used), 1.0))
        thin, wall = told(r"at this height raise the wall from (\S+) to about (\S+) mm", said)
        assert thin == 3.0
        assert ring(D, wall / 1e3 - 1e-4)[1] < enough <= ring(D, wall / 1e3)[1] * (1 + 1e-9)
    # a bar of 90 mm has 3.8 times the modulus of this tube
    bar = D**4 / (D**4 - (D - 2 * T) ** 4)
    assert "raise the wall" in advise(bar * (1 - 1e-6), (3, 2))
    assert advise(bar * (1 + 1e-6), (3, 2)).endswith("no wall is thick enough for that diameter")


def test_a_tube_that_flattens() -> None:
    """Brazier's moment goes by the square of the wall."""
    result, _ = solved(rig_of())
    for used in USES:
        now, wall = told(
            r"raise the wall from (\S+) to about (\S+) mm, or plug the tube there",
            limit_of(result, "flattening").advise(used, (3, 2)),
        )
        assert (now, wall) == (3.0, pytest.approx(least(3 * math.sqrt(used), 0.1)))


@pytest.mark.parametrize("what", ["weld", "opening"])
def test_what_is_moved_to_less_stress(what: str) -> None:
    mast = opened(3.0) + '[[mast.weld]]\nheight = "2 m"\n'
    result, _ = solved(rig_of(LIFE + pushed(1.0), mast=mast))
    for id in (what, f"fatigue {what}"):
        one = limit_of(result, id + (" 1" if what == "opening" else ""))
        for used in USES[::7]:
            assert f"move the {what} to where the stress is at most {1 / used:.0%}" in one.advise(
                used, (3, 2)
            )


@pytest.mark.parametrize("height", [3.0, 0.3, 6.9])
@pytest.mark.parametrize("long", ["", 'length = "60 mm"\n'])
def test_a_hole_stands_at_its_two_ends_and_in_the_metal_that_is_there(height: float, long: str) -> None:
    """Half its width, or half its length, above and below; beside a weld the softened metal tears."""
    mast = opened(height, more=long) + f'[[mast.weld]]\nheight = "{height} m"\nextent = "50 mm"\n'
    mast += opened(4.0, more=long)
    result, _ = solved(rig_of(mast=mast))
    half = 0.03 if long else 0.006
    for id, z, strength in (("opening 1", height, 155e6), ("opening 2", 4.0, ULTIMATE_PA)):
        one = limit_of(result, id)
        assert one.where is not None
        heights = np.unique(np.round(result.model.sections.z_m[one.where], 9))
        assert heights == pytest.approx([z - half, z + half])
        assert np.asarray(one.capacity)[one.where] == pytest.approx(strength / GAMMA_M2)
        # nothing is asked where no hole is
        assert not np.any(one.demand[0][~one.where])
        assert np.all(one.demand[0][one.where] > 0.0)
    weld = limit_of(result, "weld")
    assert weld.where is not None
    inside = result.model.sections.z_m[weld.where]
    assert (inside.min(), inside.max()) == (pytest.approx(height - 0.05), pytest.approx(height + 0.05))
    assert np.asarray(weld.capacity)[weld.where] == pytest.approx(min(105e6 / GAMMA_M1, 155e6 / GAMMA_M2))


# --- thin shells ----------------------------------------------------------------------------------


def borne(r: float, t: float, cap: float) -> tuple[float, float]:
    """NASA SP-8007, from memory: what a shell bears in bending and in twist, each capped by the metal."""
    classical = E_PA * t / (r * math.sqrt(3 * (1 - NU**2)))
    knocked = 1 - 0.731 * (1 - math.exp(-math.sqrt(r / t) / 16))
    twist = 0.67 ** (4 / 3) * E_PA * (t / r) ** 1.5 / (3 * math.sqrt(2) * (1 - NU**2) ** 0.75)
    return min(knocked * classical, cap), min(twist, cap / math.sqrt(3))


def metal() -> Metal:
    result, _ = solved(rig_of())
    return result.model.sections.layers[0].metal


@pytest.mark.parametrize("cap", [480e6, 120e6, 4e6])
@pytest.mark.parametrize(("along", "square"), [(1.3, 0.0), (1.1, 0.4), (0.2, 1.2)])
def test_a_shell_at_other_sizes(cap: float, along: float, square: float) -> None:
    """Stress along it falls with wall and diameter squared, shear with both: the first size that passes."""
    r, t = 0.15, 0.001
    shell = Shell(metal(), r, t, cap, along, square)
    now = borne(r, t, cap)

    def used(r_1: float, t_1: float) -> float:
        bend, twist = borne(r_1, t_1, cap)
        return (
            along * now[0] / bend * r**2 * t / (r_1**2 * t_1)
            + square * (now[1] / twist * r * t / (r_1 * t_1)) ** 2
        )

    assert along / shell.heavier + square / shell.heavier**2 == pytest.approx(1.0)
    outside = r + t / 2
    assert shell.thicker_m is not None
    step = (outside / 3 - t) / 4000
    for wall, enough in ((shell.thicker_m, True), (shell.thicker_m - step, False)):
        assert (used(outside - wall / 2, wall) <= 1.0) is enough
    steps = (shell.thicker_m - t) / step
    assert steps == pytest.approx(round(steps), abs=1e-6)
    sizes = np.linspace(1.0, 4.0, 4001)
    passing = [x for x in sizes if used(r * x, t) <= 1.0]
    assert shell.wider == (pytest.approx(passing[0]) if passing else None)


STRONG = METAL.replace("215 MPa", "480 MPa").replace("245 MPa", "500 MPa")


def in_cases(run: Run, id: str) -> dict[str, str]:
    """Return what every case is told."""
    return {
        c.case: c.advice
        for limit in run.limits
        for c in limit.checks(run.names, run.model.mesh.z_m, run.model.turns_rad)
        if c.id == id
    }


def test_a_shell_is_cured_for_the_case_that_is_told_of() -> None:
    """Bent, twisted, and both: what is told in each is what is told where it stands alone."""
    parts = {
        "bent": pushed(7000.0, name="bent"),
        "twisted": pushed(1.0, torque_N_m=50000.0, name="twisted"),
        "both": pushed(6000.0, torque_N_m=45000.0, name="both"),
    }
    thin = {"D": 0.3, "t": 0.001, "metal": STRONG}
    together, _ = solved(rig_of("".join(parts.values()), **thin))  # type: ignore[arg-type]  # as written
    said = in_cases(together, "shell-buckling")
    for name, text in parts.items():
        alone, _ = solved(rig_of(text, **thin))  # type: ignore[arg-type]  # as written
        assert in_cases(alone, "shell-buckling")[name] == said[name] != ""
        (less,) = told(r"take (\d+)% off the load", said[name])
        assert 0 < less < 100
    assert len(set(said.values())) == 3


@pytest.mark.parametrize("force", [1500.0, 1900.0, 2600.0, 3300.0])
def test_a_shell_is_told_whole_steps_that_are_enough(force: float) -> None:
    """Just above the partners, bent and sheared: shares by closed forms, sizes from the shell of them."""
    D, t = 0.3, 0.001
    result, _ = solved(rig_of(pushed(force), D=D, t=t, metal=STRONG))
    one, z = limit_of(result, "shell-buckling"), result.model.sections.z_m
    at = (int(np.flatnonzero(z[:, 0] == BURY)[0]), 0)
    r = (D - t) / 2
    bend, twist = borne(r, t, 480e6)
    # the force's own moment; the bent mast's is the less, its tip having come down
    along = GAMMA_M1 * force * ABOVE * D / 2 / ring(D, t)[1] / bend
    square = (GAMMA_M1 * shear_at_neutral_axis(force, D, t) / twist) ** 2
    used = float(one.utilisation[0][at])
    assert used == pytest.approx(along + square, rel=1e-6)
    said = one.advise(used, at)
    shell = Shell(result.model.sections.layers[0].metal, r, t, 480e6, along, square)
    (less,) = told(r"take (\d+)% off the load", said)
    keep = 1 - (less - 1) / 100
    assert along * keep + square * keep**2 > 1.0
    keep = 1 - less / 100
    assert along * keep + square * keep**2 <= 1.0
    thin, wall = told(r"raise the wall from (\S+) to about (\S+) mm", said)
    assert shell.thicker_m is not None
    assert (thin, wall) == (1.0, pytest.approx(least(shell.thicker_m * 1e3, 0.1)))
    if shell.wider is None:
        assert "diameter" not in said
    else:
        now, wide = told(r"raise the diameter from (\d+) to about (\d+) mm", said)
        assert (now, wide) == (300.0, pytest.approx(least(300 * shell.wider, 1.0)))


# --- foam and fatigue ---------------------------------------------------------------------------------


def test_a_core_is_pressed_as_it_is_bent() -> None:
    """Thrust is shared by stiffness, and its stress adds to that of bending, whichever way it acts."""
    E_A = E_TUBE * math.pi / 4 * (OUTER**2 - BORE**2) + E_FOAM * math.pi / 4 * BORE**2
    assert pytest.approx(WALL) == (OUTER - BORE) / 2
    for axial in (2000.0, -2000.0):
        text = cored().replace('"torque" = "50 N m"', f'"torque" = "50 N m", "axial" = "{axial} N"')
        assert "axial" in text
        result, internal = solved(read_rig(text))
        found = limit_of(result, "core-crushing", "plug 1").demand[0]
        I_core = math.pi / 64 * BORE**4
        EI = E_TUBE * (math.pi / 64 * OUTER**4 - I_core) + E_FOAM * I_core
        bent = internal.moment_N_m[0] * E_FOAM * BORE / 2 / EI
        assert found == pytest.approx(bent + 2000.0 * E_FOAM / E_A, rel=1e-6)


def test_the_details_a_mast_is_held_to() -> None:
    """A hole is one where there is an opening, and none where a category is typed in."""
    typed = 'category = "80 MPa"\nslope = 6\n'
    for mast, more, names in (
        ("", "", ["extruded"]),
        (opened(3.0), "", ["extruded", "hole"]),
        (opened(3.0), typed, []),
    ):
        found = [one.name for one in details_used(rig_of(LIFE + more + pushed(1.0), mast=mast))]
        assert [re.sub(r".*hole.*", "hole", name) for name in found] == names


@pytest.mark.parametrize("a", [1.5, 2.7, 4.5])
@pytest.mark.parametrize("over", [-1.2, -0.01, 0.01, 1.3, 40.0])
def test_the_gamma_function_on_both_sides_of_its_bound(a: float, over: float) -> None:
    x = a + 1 + over
    assert upper_gamma(a, x) == pytest.approx(float(gammaincc(a, x) * gamma(a)), rel=1e-13, abs=0.0)


@pytest.mark.parametrize(
    ("a", "x"),
    [(0.0, 1.0), (1.0, 0.0), (-1.0, 1.0), (1.0, -1.0), (math.inf, 1.0), (1.0, math.inf), (math.nan, 1.0)],
)
def test_the_gamma_function_refuses_what_it_has_no_answer_to(a: float, x: float) -> None:
    with pytest.raises(ValueError, match="not worked out here"):
        upper_gamma(a, x)


@pytest.mark.parametrize("force", [2900.0, 3300.0, 4100.0])
def test_a_shell_bent_without_shear_is_told_to_be_wider(force: float) -> None:
    """A couple of forces above: below it the mast has a moment and no shear, and a wider shell bears more of it."""
    D, t, back = 0.3, 0.001, 3.0
    loads = ", ".join(
        f'{{height = "{z!r} m", side = "{F!r} N"}}' for z, F in ((LENGTH, force), (back, -force))
    )
    result, _ = solved(rig_of(case_text("given", f"point_load = [{loads}]"), D=D, t=t, metal=STRONG))
    one, z = limit_of(result, "shell-buckling"), result.model.sections.z_m
    at = (int(np.flatnonzero(z[:, 0] == BURY)[0]), 0)
    used = float(one.utilisation[0][at])
    bend = borne((D - t) / 2, t, 480e6)[0]
    assert used == pytest.approx(GAMMA_M1 * force * (LENGTH - back) * D / 2 / ring(D, t)[1] / bend, rel=1e-3)
    assert used > 1.0
    now, wide = told(r"raise the diameter from (\d+) to about (\d+) mm", one.advise(used, at))
    (less,) = told(r"take (\d+)% off the load", one.advise(used, at))
    assert (now, less) == (300.0, pytest.approx(least(100 * (1 - 1 / used), 1.0)))

    def again(D: float) -> float:
        """Stress by the middle of the wall, over what the wider shell bears."""
        r, r_0 = 0.1495 * D / 0.3, 0.1495
        return used * (r_0 / r) ** 2 * bend / borne(r, t, 480e6)[0]

    # sizes are tried in thousandths
    assert again(wide / 1e3) <= 1.0
    assert again((wide - 1.4) / 1e3) > 1.0


@pytest.mark.parametrize(("proof", "ultimate", "bears"), [(105, 155, 105 / 1.10), (105, 112, 112 / 1.25)])
def test_softened_metal_yields_or_tears(proof: int, ultimate: int, bears: float) -> None:
    soft = METAL.replace("105 MPa", f"{proof} MPa").replace("155 MPa", f"{ultimate} MPa")
    result, _ = solved(rig_of(mast='[[mast.weld]]\nheight = "2 m"\n', metal=soft))
    one = limit_of(result, "weld")
    assert one.where is not None
    assert np.asarray(one.capacity)[one.where] == pytest.approx(bears * 1e6)


@pytest.mark.parametrize(("D", "B"), [(0.16, 0.12), (0.12, 0.16)])
def test_an_oblong_tube_counts_as_one_of_its_flattest_side(D: float, B: float) -> None:
    """Radius there the greater semi-axis squared over the lesser, of the middle of the wall."""
    t = 0.002
    text = rig_text(**tube(D, t), mast='shape = "ellipse"', more=pushed(1.0))  # type: ignore[arg-type]  # as written
    text = text.replace(f'diameter = "{D!r} m"', f'diameter = "{D!r} m", breadth = "{B!r} m"')
    result, _ = solved(read_rig(text))
    more, less = (max(D, B) - t) / 2, (min(D, B) - t) / 2
    r = more**2 / less
    flattening, bending = limit_of(result, "flattening"), limit_of(result, "wall-class").demand
    brazier = 2 * math.sqrt(2) / 9 * math.pi * E_PA * r * t**2 / math.sqrt(1 - NU**2) / GAMMA_M1
    assert flattening.capacity == pytest.approx(brazier, rel=1e-9)
    # no thrust: all the stress is of bending, and the round tube's moment is that at the same stress
    assert flattening.demand == pytest.approx(bending * ring(2 * r + t, t)[1] / (r + t / 2), rel=1e-9)
    shell = limit_of(result, "shell-buckling")
    assert shell.where is not None
    assert np.all(shell.where) == (r / t >= 20.0)


@pytest.mark.parametrize(("weld_MPa", "governs"), [(20, "weld"), (120, "hole")])
def test_a_hole_beside_a_weld_is_as_good_as_the_worse_of_both(weld_MPa: int, governs: str) -> None:
    life = f'{LIFE}weld_category = "{weld_MPa} MPa"\nweld_slope = 4\n'
    beside = '[[mast.weld]]\nheight = "3 m"\nextent = "30 mm"\n'
    welded, _ = solved(rig_of(life + pushed(1.0), mast=opened(3.0) + beside))
    far = beside.replace("3 m", "5 m")
    plain, _ = solved(rig_of(life + pushed(1.0), mast=opened(3.0) + far))
    hole, weld = (
        float(np.max(limit_of(*of).capacity))
        for of in ((plain, "fatigue opening 1"), (welded, "fatigue weld"))
    )
    assert (weld < hole) is (governs == "weld")
    assert limit_of(welded, "fatigue opening 1").capacity == pytest.approx(min(weld, hole))
