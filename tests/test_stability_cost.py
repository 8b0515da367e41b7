"""What the mast's mass costs in stability, in closed form on a uniform mast.

Sources: moments of weight (Derrett, Ship Stability for Masters and Mates) and of inertia of a uniform rod.
"""

from __future__ import annotations

import numpy as np
import pytest

from rigcalc import check
from rigcalc.verdict import CheckResult, StabilityCost

from .loads_more import BOAT, MAST, TUBE, G, rig

EASY = '[[case]]\nname = "flat"\nkind = "knockdown"\n'
WATERLINE, DISPLACEMENT = 0.40, 500.0
SPAR = TUBE.mass_kg_m * TUBE.length


def result(*, boat: tuple[str, ...] = (), mast: tuple[str, ...] = ()) -> CheckResult:
    return check(
        rig(
            EASY,
            boat=BOAT + "\n".join(boat),
            mast=MAST.replace('bury = "1 m"', "\n".join(['bury = "1 m"', *mast])),
        )
    )


def cost(*, boat: tuple[str, ...] = (), mast: tuple[str, ...] = ()) -> StabilityCost:
    return result(boat=boat, mast=mast).mast.stability_cost


def test_the_whole_mast_of_a_boat_with_her_weight_at_the_waterline() -> None:
    found = cost()
    rise = SPAR * (TUBE.length / 2 - WATERLINE) / DISPLACEMENT
    assert found.compared_with_kg == 0.0
    assert found.gm_loss_m == pytest.approx(rise, rel=1e-10)
    assert found.moment_30_loss_N_m == pytest.approx(DISPLACEMENT * G * rise * np.sin(np.pi / 6), rel=1e-10)
    # ballast half a metre below the waterline
    assert found.ballast_kg == pytest.approx(SPAR * (TUBE.length / 2 - WATERLINE) / 0.5, rel=1e-10)


@pytest.mark.parametrize("centre", [-0.2, 0.1, 0.4, 0.9])
def test_roll_inertia_of_a_uniform_rod(centre: float) -> None:
    found = cost(boat=(f'centre_of_gravity = "{centre} m"', 'ballast_height = "-0.6 m"'))
    about_own = SPAR * TUBE.length**2 / 12
    moved = SPAR * (TUBE.length / 2 - centre) ** 2
    assert found.roll_inertia_kg_m2 == pytest.approx(about_own + moved, rel=1e-10)


def test_heights_are_from_the_boats_centre_of_gravity() -> None:
    found = cost(boat=('centre_of_gravity = "0.25 m"', 'ballast_height = "-0.35 m"'))
    moment = SPAR * (TUBE.length / 2 - 0.25)
    assert found.gm_loss_m == pytest.approx(moment / DISPLACEMENT, rel=1e-10)
    assert found.ballast_kg == pytest.approx(moment / 0.60, rel=1e-10)


def test_fittings_count_where_they_sit() -> None:
    plain, lamp = cost(), cost(mast=('fittings_mass = "3 kg"', 'fittings_height = "5 m"'))
    arm = 5.0 - WATERLINE
    assert lamp.gm_loss_m - plain.gm_loss_m == pytest.approx(3.0 * arm / DISPLACEMENT, rel=1e-9)
    assert lamp.roll_inertia_kg_m2 - plain.roll_inertia_kg_m2 == pytest.approx(3.0 * arm**2, rel=1e-9)
    assert lamp.ballast_kg - plain.ballast_kg == pytest.approx(3.0 * arm / 0.5, rel=1e-9)


def test_against_a_reference_mast_only_the_difference_costs() -> None:
    whole, heavier = cost(), cost(mast=('reference_mass = "8 kg"',))
    share = (SPAR - 8.0) / SPAR
    assert heavier.compared_with_kg == 8.0
    assert heavier.gm_loss_m == pytest.approx(share * whole.gm_loss_m, rel=1e-9)
    assert heavier.moment_30_loss_N_m == pytest.approx(share * whole.moment_30_loss_N_m, rel=1e-9)
    assert heavier.ballast_kg == pytest.approx(share * whole.ballast_kg, rel=1e-9)
    # the mast swings with all its mass, whatever it is compared with
    assert heavier.roll_inertia_kg_m2 == whole.roll_inertia_kg_m2


def test_a_mast_lighter_than_the_reference_gains() -> None:
    found = cost(mast=('reference_mass = "40 kg"',))
    assert found.gm_loss_m < 0.0 and found.moment_30_loss_N_m < 0.0 and found.ballast_kg < 0.0
    # as heavy as the reference, within a part in 1e9: no loss
    same = cost(mast=(f'reference_mass = "{SPAR!r} kg"',))
    assert same.gm_loss_m == pytest.approx(0.0, abs=1e-12)


def test_mass_and_centre_of_gravity() -> None:
    found = result(mast=('fittings_mass = "3 kg"',)).mast
    assert found.mass_kg == pytest.approx(SPAR + 3.0, rel=1e-10)
    centre = (SPAR * TUBE.length / 2 + 3.0 * TUBE.length) / (SPAR + 3.0)
    assert found.centre_of_gravity_m == pytest.approx(centre, rel=1e-10)
    assert found.length_m == TUBE.length
