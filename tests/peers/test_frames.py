"""Whole masts against two frame libraries and a finite-element mast of eigenvalues."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from rigcalc import CheckResult, check, read_rig

from .elements import ORDER, frequencies, own_weight, thrust_factor
from .frames import Answer, by_anastruct, by_pynite, pynite_frequencies
from .masts import KINDS, Line, Mast, left_of, random_mast

ROUNDING = 3e-6
"""Of the libraries: members of centimetres beside others of metres make stiffness matrices of a condition of up to
1.5e10, by which the 2.2e-16 of a double may grow."""
STAIRS = 2
"""Order of the error of a staircase in place of a taper."""
SEEDS = range(3)
MASTS = [(kind, seed) for kind in KINDS for seed in SEEDS]


def stairs(mast: Mast, kind: str, least: int = 1) -> tuple[list[float], list[float]]:
    """Return two meshes of prismatic members, the second of halves: many where they stand for a taper."""
    pieces = max(least, 24 if kind == "tapered" else 1)
    return mast.grid(pieces), mast.grid(pieces, halves=True)


def cubics(mast: Mast) -> tuple[list[float], list[float]]:
    """Return two meshes of elements that follow a taper."""
    return mast.grid(8), mast.grid(8, halves=True)


def at(result: CheckResult, name: str, z: list[float]) -> np.ndarray:
    """Return a field of the only case at some of the mesh's heights."""
    s = result.stations
    found = [int(np.argmin(np.abs(s.height_m - height))) for height in z]
    assert np.all(np.abs(s.height_m[found] - z) < 1e-9)
    return np.asarray(getattr(s, name)[0, found])


def hold(mast: Mast, result: CheckResult, coarse: Answer, fine: Answer) -> None:
    """Hold forces, moments, slopes and deflections against those of a library."""
    case, z = result.cases[0], mast.kinks
    largest = max(abs(case.partners_side_N), abs(case.step_side_N))
    # statics know no stiffness: a library is exact in it whatever its mesh
    for answer in (coarse, fine):
        assert answer.partners == pytest.approx(case.partners_side_N, abs=ROUNDING * largest)
        assert answer.heel == pytest.approx(case.step_side_N, abs=ROUNDING * largest)
        moment = answer.moment[[answer.z.index(height) for height in z]]
        np.testing.assert_allclose(
            at(result, "moment_side_N_m", z), moment, atol=ROUNDING * case.max_moment_N_m
        )
    for name, of in (("deflection_side_m", "moved"), ("slope_side_rad", "slope")):
        ours = at(result, name, z)
        one, other = (
            getattr(answer, of)[[answer.z.index(height) for height in z]] for answer in (coarse, fine)
        )
        scale = float(np.max(np.abs(other)))
        for mine, a, b in zip(ours, one, other, strict=True):
            tends, off = left_of(float(a), float(b), order=STAIRS, scale=scale)
            assert off < 4e-3 * scale
            assert mine == pytest.approx(tends, abs=off + ROUNDING * scale)


@pytest.mark.parametrize(("kind", "seed"), MASTS)
def test_a_plane_frame(kind: str, seed: int) -> None:
    mast = random_mast(kind, seed)
    hold(mast, mast.result, *(by_anastruct(mast, z) for z in stairs(mast, kind)))


@pytest.mark.parametrize(("kind", "seed"), MASTS)
@pytest.mark.parametrize("soft", [False, True])
def test_a_space_frame(kind: str, seed: int, soft: bool) -> None:
    mast = random_mast(kind, seed)
    if soft:
        mast = replace(mast, stiffness=(3e5, 8e5))
    hold(mast, mast.result, *(by_pynite(mast, z) for z in stairs(mast, kind)))


@pytest.mark.parametrize(("kind", "seed"), MASTS)
@pytest.mark.parametrize("share", [-0.5, 0.45])
def test_thrust_on_the_bent_mast(kind: str, seed: int, share: float) -> None:
    """Little load across and much along: the bent mast is that of second-order theory, to the square of its slope."""
    mast = random_mast(kind, seed)
    pushed = mast.pushed(axial=round(share * mast.result.mast.axial_stability_N, 3), by=0.01)
    case = pushed.result.cases[0]
    order = STAIRS if kind == "tapered" else ORDER
    coarse, fine = (
        float(by_pynite(pushed, z, second_order=True).moved[-1]) for z in stairs(mast, kind, least=6)
    )
    tends, off = left_of(coarse, fine, order=order, scale=fine)
    steep = np.max(np.abs(at(pushed.result, "slope_side_rad", mast.kinks))) / (1 - max(share, 0))
    assert case.tip_deflection_large_m == pytest.approx(
        abs(tends), abs=off + (ROUNDING + steep**2) * abs(tends)
    )
    # that it is not the straight mast's
    grown = case.tip_deflection_large_m / case.tip_deflection_m
    assert grown > 1.3 if share > 0 else grown < 0.9


@pytest.mark.parametrize(("kind", "seed"), MASTS)
def test_frequencies_by_a_space_frame(kind: str, seed: int) -> None:
    mast = random_mast(kind, seed)
    order = STAIRS if kind == "tapered" else ORDER
    coarse, fine = (pynite_frequencies(mast, z) for z in stairs(mast, kind, least=8))
    for ours, a, b in zip(mast.result.mast.natural_frequencies_Hz, coarse, fine, strict=True):
        tends, off = left_of(float(a), float(b), order=order, scale=float(b))
        assert off < 1e-3 * ours
        assert ours == pytest.approx(tends, abs=off + ROUNDING * ours)


@pytest.mark.parametrize(("kind", "seed"), [(kind, seed) for kind in KINDS for seed in range(6)])
@pytest.mark.parametrize("soft", [False, True])
def test_frequencies_and_instability_by_eigenvalues(kind: str, seed: int, soft: bool) -> None:
    mast = replace(random_mast(kind, seed), stiffness=(3e5, 8e5) if soft else None)
    result = mast.result.mast
    for ours, a, b in zip(
        result.natural_frequencies_Hz, *(frequencies(mast, z) for z in cubics(mast)), strict=True
    ):
        tends, off = left_of(float(a), float(b), order=ORDER, scale=float(b))
        assert off < 1e-5 * ours
        assert ours == pytest.approx(tends, abs=off + ROUNDING * ours)
    coarse, fine = (thrust_factor(mast, z, lambda z, _: np.ones_like(z)) for z in cubics(mast))
    tends, off = left_of(coarse, fine, order=ORDER, scale=fine)
    assert off < 1e-5 * fine
    assert result.axial_stability_N == pytest.approx(tends, abs=off + ROUNDING * fine)


@pytest.mark.parametrize(("kind", "seed"), MASTS)
def test_instability_under_own_weight_and_thrust(kind: str, seed: int) -> None:
    mast = random_mast(kind, seed)
    mast = mast.pushed(axial=round(0.2 * mast.result.mast.axial_stability_N, 3))
    result = check(read_rig(mast.text(mast.case_text + '\nown_weight_heel = "0 deg"')))
    factor = result.cases[0].axial_load_factor
    assert factor is not None
    coarse, fine = (thrust_factor(mast, z, own_weight(mast)) for z in cubics(mast))
    tends, off = left_of(coarse, fine, order=ORDER, scale=fine)
    assert factor == pytest.approx(tends, abs=off + ROUNDING * fine)
    # own weight counts: without it the factor would be five
    assert 1 < factor < 4.999


SAIL = """
[[sail]]
name = "main"
luff = "{luff!r} m"
foot = "{foot!r} m"
tack_height = "{tack!r} m"
load_path = "luff"
centre_of_effort = "geometric"
[[case]]
name = "wind"
kind = "wind-limited"
wind_speed = "{wind!r} m/s"
gust_factor = 1.3
dynamic_factor = 1.4
force_coefficient = 1.25
force_angle = "90 deg"
"""


@pytest.mark.parametrize(("kind", "seed"), MASTS)
def test_a_sail_in_the_wind(kind: str, seed: int) -> None:
    """A three-cornered sail with a level foot: its width, and so its pull on the luff, is linear in height."""
    rng = np.random.default_rng([seed, 7])
    mast = random_mast(kind, seed)
    tack, wind, foot = round(mast.bury + 0.4, 3), round(rng.uniform(7, 12), 3), round(rng.uniform(1.5, 3), 3)
    luff = round((mast.length - tack) * rng.uniform(0.75, 0.95), 3)
    pressure = 0.5 * 1.225 * (1.3 * wind) ** 2 * 1.4
    lines = [Line(tack, tack + luff, 1.25 * pressure * foot, 0.0)]
    # the spar stands bare in the wind below and above the sail, with the drag of a cylinder before its crisis
    for tube, (low, high) in product(mast.tubes, ((mast.bury, tack), (tack + luff, mast.length))):
        z = np.array([max(low, tube.z0), min(high, tube.z1)])
        if z[1] > z[0]:
            lines.append(Line(*z.tolist(), *(1.2 * pressure * tube.sizes(z)[0]).tolist()))
    mast = replace(mast, lines=tuple(lines), points=())
    result = check(read_rig(mast.text(SAIL.format(luff=luff, foot=foot, tack=tack, wind=wind))))
    hold(mast, result, *(by_pynite(mast, z) for z in stairs(mast, kind)))
