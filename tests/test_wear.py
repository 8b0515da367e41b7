"""Pitting and wear: the mast is as strong and as stiff as its thinner wall, and as heavy as it was made."""

from __future__ import annotations

import pytest

from rigcalc import check, read_rig

from .test_limits import BURY, LENGTH, found, pushed, ring, tube
from .test_loads import DENSITY, E_PA, case_text, rig_text, run

LOSS = 0.4e-3
WORN = f'wall_loss = "{LOSS!r} m"\n'


def test_strength_and_stiffness_are_those_of_what_is_left() -> None:
    D, t = 0.09, 0.003
    worn = run(pushed(100.0), **tube(D, t), mast=WORN)
    left = run(pushed(100.0), **tube(D - 2 * LOSS, t - LOSS))
    for id in ("yield", "rupture", "wall-class", "flattening", "tip-deflection"):
        one, other = found(worn, id), found(left, id)
        assert one.demand == pytest.approx(other.demand, rel=1e-12)
        assert one.capacity == pytest.approx(other.capacity, rel=1e-12)
    assert worn.mast.axial_stability_N == pytest.approx(left.mast.axial_stability_N, rel=1e-12)
    # against the mast as new: bending stress by hand
    stress = 100.0 * (LENGTH - BURY) * (D / 2 - LOSS) / ring(D - 2 * LOSS, t - LOSS)[1]
    assert found(worn, "yield").demand == pytest.approx(stress, rel=1e-2)


def test_the_mass_is_that_of_the_mast_as_made() -> None:
    D, t = 0.09, 0.003
    worn = run(pushed(100.0), **tube(D, t), mast=WORN)
    assert worn.mast.mass_kg == pytest.approx(DENSITY * ring(D, t)[0] * LENGTH, rel=1e-12)
    new = run(pushed(100.0), **tube(D, t))
    # the same mass on a softer mast swings slower, as the root of its stiffness
    slower = (ring(D - 2 * LOSS, t - LOSS)[1] / ring(D, t)[1]) ** 0.5
    assert worn.mast.natural_frequencies_Hz[0] == pytest.approx(
        new.mast.natural_frequencies_Hz[0] * slower, rel=1e-9
    )


def test_the_wind_blows_on_the_mast_as_made() -> None:
    moments = [
        run(case_text("bare", "beaufort = 9"), **tube(0.09, 0.003), mast=mast).cases[0].partners_moment_N_m
        for mast in ("", WORN)
    ]
    assert moments[1] == pytest.approx(moments[0], rel=1e-12)


def test_the_row_of_the_table_is_that_of_the_wall_as_made() -> None:
    """6082-T6 drawn tube is weaker over 5 mm: pits do not make it stronger."""
    text = rig_text(**tube(0.09, 0.0052), mast=WORN, more=pushed(10.0))  # type: ignore[arg-type]  # as written
    result = check(read_rig(text.replace('material = "alloy"', 'material = "6082-T6 drawn"', 1)))
    assert found(result, "yield").capacity == pytest.approx(240e6 / 1.1)


def test_sleeves_wear_too_and_their_play_is_that_of_tubes_as_made() -> None:
    sleeve = '[[mast.sleeve]]\nstart = "0 m"\nend = "2 m"\ndiameter = "0.0835 m"\nwall = "0.004 m"\n'
    worn = run(pushed(10.0), **tube(0.09, 0.003), mast=WORN + sleeve)
    D, t = 0.0835, 0.004
    stiffness = ring(D - 2 * LOSS, t - LOSS)[1] + ring(0.09 - 2 * LOSS, 0.003 - LOSS)[1]
    i = int((worn.stations.height_m < 1.5).sum())
    assert worn.stations.EI_N_m2[i] == pytest.approx(E_PA * stiffness, rel=1e-12)
    assert any("with up to 0.5 mm of play" in w for w in worn.warnings)


def test_advice_speaks_of_the_wall_as_made() -> None:
    one = found(run(pushed(600.0), **tube(0.09, 0.003), mast=WORN), "yield")
    assert one.utilisation > 1.1
    assert "raise the wall from 3.0 to about" in one.advice
    wall = float(one.advice.split("to about ")[1].split(" mm")[0]) / 1e3
    again = found(run(pushed(600.0), **tube(0.09, wall), mast=WORN), "yield")
    assert again.utilisation == pytest.approx(1.0, abs=0.05)


def test_a_post_wears_as_the_mast_does() -> None:
    text = rig_text(
        **tube(0.15, 0.004),  # type: ignore[arg-type]  # as written
        mast=f'{WORN}support = "post"\npost = {{diameter = "100 mm", wall = "6 mm"}}\n',
        more=pushed(50.0),
    )
    new = text.replace(WORN, "")
    worn, fresh = (found(check(read_rig(t)), "yield", "post").demand for t in (text, new))
    modulus = ring(0.1, 0.006)[1] / 0.1, ring(0.1 - 2 * LOSS, 0.006 - LOSS)[1] / (0.1 - 2 * LOSS)
    assert worn / fresh == pytest.approx(modulus[0] / modulus[1], rel=0.02)


@pytest.mark.parametrize("shape", ["box", "ellipse"])
def test_masts_that_are_not_round_wear_all_round(shape: str) -> None:
    stations = ((0.0, 0.15, 0.004), (LENGTH, 0.15, 0.004))
    left = ((0.0, 0.15 - 2 * LOSS, 0.004 - LOSS), (LENGTH, 0.15 - 2 * LOSS, 0.004 - LOSS))
    breadth = [f'shape = "{shape}"\n{more}' for more in (WORN, "")]
    texts = [
        rig_text(stations=sizes, bury_m=BURY, mast=more, more=pushed(10.0)).replace(
            '", wall', f'", breadth = "{across!r} m", wall'
        )
        for sizes, more, across in ((stations, breadth[0], 0.12), (left, breadth[1], 0.12 - 2 * LOSS))
    ]
    one, other = (found(check(read_rig(text)), "yield") for text in texts)
    assert one.demand == pytest.approx(other.demand, rel=1e-9)
