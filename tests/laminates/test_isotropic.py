"""A laminate of like isotropic plies is a metal tube: the two paths through the code must meet."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import pytest

from rigcalc import CheckResult, check

from . import checked, plies, rig_of, worst

E, NU, DENSITY = 70e9, 0.33, 2700.0
G = E / (2 * (1 + NU))
STRENGTH = 5e9
"""So high that it caps no buckling stress of the metal."""
FACTOR = 1.5
ALLOY = {
    "name": "alloy",
    "family": "metal",
    "E": f"{E!r} Pa",
    "G": f"{G!r} Pa",
    "nu": NU,
    "density": f"{DENSITY!r} kg/m3",
    "proof": "2.9e9 Pa",
    "ultimate": "3.9e9 Pa",
    "source": "test",
}
SIZES = ((0.0, 90.0), (0.9, 90.0), (5.0, 52.0))


def metal(wall_mm: float) -> CheckResult:
    stations = [{"height": f"{z} m", "diameter": f"{d!r} mm", "wall": f"{wall_mm!r} mm"} for z, d in SIZES]
    return check(
        rig_of(
            mast={"material": "alloy", "stations": stations},
            materials=[ALLOY],
            limits={"yield_factor": FACTOR},
        )
    )


OWN = {
    "name": "isotropic",
    "family": "ply",
    "form": "mat",
    "fibre_fraction": 0.5,
    "fibre_density": "4000 kg/m3",
    "density": f"{DENSITY!r} kg/m3",
    "E1": f"{E!r} Pa",
    "E2": f"{E!r} Pa",
    "G12": f"{G!r} Pa",
    "nu12": NU,
    **dict.fromkeys(("Xt", "Xc", "Yt", "Yc", "S12"), f"{STRENGTH!r} Pa"),
    "source": "test",
}


def laid(*thick_mm: float, by: str = "diameter") -> CheckResult:
    wall = sum(thick_mm)
    size = [d if by == "diameter" else d - 2 * wall for _, d in SIZES]
    stations = [{"height": f"{z} m", by: f"{d!r} mm"} for (z, _), d in zip(SIZES, size, strict=True)]
    angles = (0, 30, 77, -20, 90)
    return checked(
        plies(*zip(angles[: len(thick_mm)], thick_mm, strict=True), material="isotropic"),
        materials=[OWN],
        mast={"stations": stations},
        safety_factor=FACTOR,
        water="dry",
        cycles=1,
    )


@pytest.mark.parametrize("by", ["diameter", "bore"])
@pytest.mark.parametrize("thick", [(2.0,), (0.5, 0.7, 0.8), (0.4, 0.4, 0.4, 0.4, 0.4)])
def test_it_bends_swings_and_weighs_as_the_metal_tube(thick: tuple[float, ...], by: str) -> None:
    ours, theirs = laid(*thick, by=by), metal(2.0)
    close = {"rel": 1e-10}
    for name in (
        "EI_N_m2",
        "diameter_m",
        "wall_m",
        "deflection_side_m",
        "slope_forward_rad",
        "moment_side_N_m",
    ):
        a, b = getattr(ours.stations, name), getattr(theirs.stations, name)
        assert a == pytest.approx(b, **close, abs=1e-12)
    assert ours.mast.mass_kg == pytest.approx(theirs.mast.mass_kg, **close)
    assert ours.mast.natural_frequencies_Hz == pytest.approx(theirs.mast.natural_frequencies_Hz, **close)
    assert ours.mast.axial_stability_N == pytest.approx(theirs.mast.axial_stability_N, **close)
    (a,), (b,) = ours.cases, theirs.cases
    for entry in dataclasses.fields(a):
        one, other = getattr(a, entry.name), getattr(b, entry.name)
        if isinstance(one, float):
            assert one == pytest.approx(other, **close), entry.name


def test_it_buckles_and_flattens_as_the_metal_tube() -> None:
    # r/t of 25 and more: the metal is judged as a thin shell there
    ours, theirs = laid(0.3, 0.2, 0.3), metal(0.8)
    buckling, shell = worst(ours, "wall-buckling"), worst(theirs, "shell-buckling")
    # the knock-down's own constant, 29.8, is rounded: it gives sqrt(r/t)/16.011 where the metal has 16
    assert buckling.demand == pytest.approx(shell.demand, rel=2e-4)
    assert buckling.height_m == pytest.approx(shell.height_m)
    flat, brazier = worst(ours, "flattening"), worst(theirs, "flattening")
    assert flat.demand == pytest.approx(brazier.demand, rel=1e-10)
    assert flat.capacity == pytest.approx(brazier.capacity, rel=1e-10)


def test_its_plies_feel_the_stresses_of_the_metal() -> None:
    """With the shear of all plies alike, the greatest stress in any turned ply is the greatest principal one."""
    ours, theirs = laid(0.5, 0.5, 0.5, 0.5), metal(2.0)
    # von Mises with the outer fibre's little shear is nearly its direct stress
    stress = worst(theirs, "yield").demand
    assert worst(ours, "ply max-stress").utilisation * STRENGTH / FACTOR == pytest.approx(stress, rel=0.01)


def test_the_ply_along_the_mast_feels_bending_and_thrust() -> None:
    ours = laid(2.0)
    found = worst(ours, "ply max-stress")
    z = ours.stations.height_m
    at = int(np.argmin(np.abs(z - found.height_m)))
    moment = max(
        math.hypot(ours.stations.moment_side_N_m[0, i], ours.stations.moment_forward_N_m[0, i])
        for i in (at, at + 1)
    )
    (case,) = ours.cases
    assert case.bent_moment_N_m is not None
    moment *= case.bent_moment_N_m / case.max_moment_N_m
    outer, inner = ours.stations.diameter_m[at], ours.stations.diameter_m[at] - 4e-3
    bending = moment * outer / 2 / (math.pi / 64 * (outer**4 - inner**4))
    # thrust at the partners: 400 N, and the weight of the mast above leaning
    direct = 430.0 / (math.pi / 4 * (outer**2 - inner**2))
    assert found.height_m == pytest.approx(0.6)
    assert found.demand == pytest.approx((bending + direct) / STRENGTH * FACTOR, rel=0.002)
