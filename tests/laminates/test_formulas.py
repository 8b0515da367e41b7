"""Formulas of laminated tubes against theory worked out another way: symbols, rings, and sums."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import sympy
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_bvp

from rigcalc.formulas.laminate_tubes import (
    bearing_hoop_moment,
    cylinder_mode_load,
    face_transfer_shear_stress,
    long_orthotropic_torsion_load,
    ovalising_wave,
    tube_radial_shear_stress,
)
from rigcalc.formulas.shells import long_cylinder_torsion_stress
from rigcalc.materials.laminates import (
    Lamina,
    Stiffness,
    Wall,
    abd,
    cylinder_buckling,
    find_ply_material,
    long_cylinder_load,
)
from tests.materials.plies import wall_of

GLASS = find_ply_material("E-glass/epoxy UD 0.55").of_thickness(0.5e-3)
angles = st.lists(st.sampled_from([0.0, 30.0, 45.0, 60.0, 90.0]), min_size=1, max_size=4)


def balanced(half: list[float]) -> list[float]:
    """Return a balanced stack, not symmetric unless by chance."""
    return [turn for angle in half for turn in ((angle, -angle) if angle % 90 else (angle,))]


# --- buckling ------------------------------------------------------------------------------------------


@given(half=angles, radius=st.floats(0.02, 0.5))
def test_one_number_serves_tubes_of_all_radii_on_the_safe_side(half: list[float], radius: float) -> None:
    wall = abd(wall_of(GLASS, balanced(half)))
    ours = float(long_cylinder_load(wall)) / radius
    whole_waves = float(cylinder_buckling(wall, radius_m=radius).line_load_N_m)
    # the searches stop short of the lowest by one part in some ten thousand
    assert ours <= whole_waves * (1 + 1e-4)
    # in slim stout tubes only two or three waves go round, and whole numbers of them cost most
    assert ours > 0.65 * whole_waves


def test_the_number_is_met_where_many_waves_stand_round() -> None:
    wall = abd(wall_of(GLASS, [90.0, 0.0, 0.0, 0.0]))
    found = [float(cylinder_buckling(wall, radius_m=r).line_load_N_m) * r for r in (1.0, 2.0, 3.0)]
    assert min(found) == pytest.approx(float(long_cylinder_load(wall)), rel=2e-3)


def lowest_of_a_grid(wall: Stiffness) -> float:
    """Search waves along and round the tube one by one, in steps that narrow, and rings by themselves."""
    A, B, D = wall.A_N_m, wall.B_N, wall.D_N_m
    terms = {
        f"{letter}_{row + 1}{column + 1}".replace("33", "66"): matrix[row, column]
        for letter, matrix in (("A", A), ("B", B), ("D", D))
        for row, column in ((0, 0), (0, 1), (1, 1), (2, 2))
    }
    ring = ((A[1, 1] - A[0, 1] ** 2 / A[0, 0]) / D[0, 0]) ** 0.25
    rings = ring * np.geomspace(1e-3, 4.0, 20_001)
    lowest = float(np.min(cylinder_mode_load(**terms, k_x=rings, k_y=0.0, r=1.0)))
    ends = [(np.log(1e-3 * ring), np.log(4.0 * ring))] * 2
    for _ in range(8):
        along, round_it = (np.linspace(*end, 201) for end in ends)
        load = cylinder_mode_load(**terms, k_x=np.exp(along)[:, None], k_y=np.exp(round_it), r=1.0)
        at = np.unravel_index(np.argmin(load), load.shape)
        lowest = min(lowest, float(load[at]))
        ends = [
            (waves[max(i - 20, 0)], waves[min(i + 20, 200)])
            for i, waves in zip(at, (along, round_it), strict=True)
        ]
    return lowest


@given(half=angles, thick=st.lists(st.floats(0.2, 5.0), min_size=4, max_size=4), mixed=st.booleans())
def test_the_search_by_shape_finds_what_a_search_of_all_waves_finds(
    half: list[float], thick: list[float], mixed: bool
) -> None:
    stiff = find_ply_material("carbon/epoxy UD 0.60").of_thickness(0.5e-3) if mixed else GLASS
    laminae = [
        Lamina(replace(GLASS if number % 2 else stiff, thickness_m=1e-3 * t), np.radians(turn))
        for number, (angle, t) in enumerate(zip(half, thick, strict=False))
        for turn in ((angle, -angle) if angle % 90 else (angle,))
    ]
    wall = abd(Wall(tuple(laminae)))
    ours, wanted = float(long_cylinder_load(wall)), lowest_of_a_grid(wall)
    assert ours == pytest.approx(wanted, rel=1e-6)
    assert ours <= wanted * (1 + 1e-7), "the search by shape stops lower"
    assert long_cylinder_load(abd([wall_of(GLASS, [0.0] * len(laminae)), Wall(tuple(laminae))]))[1] == ours


@pytest.mark.parametrize("nu", [0.0, 0.3, 0.45])
def test_torsion_of_a_long_tube_is_that_of_metal_where_the_wall_is_isotropic(nu: float) -> None:
    E, t, r = 70e9, 2e-3, 0.05
    A = E * t / (1 - nu**2)
    ours = long_orthotropic_torsion_load(A_11=A, A_12=nu * A, A_22=A, D_22=A * t**2 / 12, r=r)
    assert ours / t == pytest.approx(long_cylinder_torsion_stress(E=E, t=t, r=r, nu=nu), rel=1e-12)


def test_torsion_follows_from_the_energy_of_two_lobes() -> None:
    """Least load over the pitch of lobes w = cos(n theta - l x/r), for n = 2, by symbols."""
    A, D, r, pitch, n = sympy.symbols("A D r l n", positive=True)
    load = n / (2 * (n**2 - 1)) * (A * pitch**3 / n**4 + D * (n**2 - 1) ** 2 / (r**2 * pitch))
    root = (D * n**4 * (n**2 - 1) ** 2 / (3 * A * r**2)) ** sympy.Rational(1, 4)
    assert sympy.simplify(sympy.diff(load, pitch).subs(pitch, root)) == 0
    least = load.subs(pitch, root)
    values = {A: 1.5e8, D: 130.0, r: 0.0475}
    by_lobes = [float(least.subs(n, lobes).subs(values)) for lobes in (2, 3, 4)]
    assert min(by_lobes) == by_lobes[0]
    ours = long_orthotropic_torsion_load(A_11=1.5e8, A_12=0.0, A_22=6e7, D_22=130.0, r=0.0475)
    assert ours == pytest.approx(0.67 ** (4 / 3) * by_lobes[0], rel=1e-10)


# --- shear between plies -------------------------------------------------------------------------------


def test_radial_shear_is_the_flexure_of_a_hollow_cylinder() -> None:
    """The stresses meet equilibrium, both free faces, and Saint-Venant's condition of compatibility."""
    x, y, a, b, nu, V = sympy.symbols("x y a b nu V", positive=True)
    r2 = x**2 + y**2
    inertia = sympy.pi / 4 * (a**4 - b**4)
    k = V / inertia
    # radial and hoop parts of the shear on a cross-section, load along x
    c = (3 + 2 * nu) / (8 * (1 + nu))
    radial = k * c * (a**2 + b**2 - r2 - a**2 * b**2 / r2)  # times cos
    hoop = -k * (c * (a**2 + b**2 + a**2 * b**2 / r2) - (1 - 2 * nu) / (8 * (1 + nu)) * r2)  # times sin
    cos, sin = x / sympy.sqrt(r2), y / sympy.sqrt(r2)
    tau_x = radial * cos**2 - hoop * sin**2
    tau_y = radial * cos * sin + hoop * sin * cos
    # the direct stress M x/I changes along the beam by V x/I
    assert sympy.simplify(sympy.diff(tau_x, x) + sympy.diff(tau_y, y) + k * x) == 0
    curl = sympy.diff(tau_y, x) - sympy.diff(tau_x, y)
    assert sympy.simplify(curl + nu / (1 + nu) * k * y) == 0
    values = {a: 0.05, b: 0.044, nu: 0.0, V: 5000.0}
    at = radial.subs(y, 0).subs(values)
    for face in (0.05, 0.044):
        assert float(at.subs(x, face)) == pytest.approx(0.0, abs=1e-3)
    within = [float(at.subs(x, value)) for value in np.linspace(0.044, 0.05, 61)]
    ours = tube_radial_shear_stress(V=5000.0, D=0.1, d=0.088)
    assert ours == pytest.approx(max(within), rel=2e-3)
    # a higher Poisson's ratio has less
    assert float(at.subs(x, 0.047)) > float(radial.subs(y, 0).subs({**values, nu: 0.3}).subs(x, 0.047))


def test_radial_shear_of_a_bar_is_the_known_one() -> None:
    """Half as much again as the mean at a Poisson's ratio of nothing."""
    mean = 1000.0 / (np.pi / 4 * 0.05**2)
    assert tube_radial_shear_stress(V=1000.0, D=0.05, d=0.0) == pytest.approx(1.5 * mean)


def test_face_transfer_is_what_the_plies_inside_lack_of_equilibrium() -> None:
    """A strip of the inner plies, dx by ds: what its line load gains and its own shear flow does not bring."""
    V, r = 3000.0, 0.045
    EI_share, GJ_share = 0.3, 0.7
    theta = np.linspace(0.0, np.pi, 721)
    gain = EI_share * V * np.cos(theta) / (np.pi * r**2)  # d N_x/dx
    flow = GJ_share * V * np.sin(theta) / (np.pi * r)
    brought = np.gradient(flow, theta * r)
    assert np.max(np.abs(gain - brought)) == pytest.approx(
        face_transfer_shear_stress(V=V, f=GJ_share - EI_share, r=r), rel=1e-3
    )


# --- rings under a bearing -----------------------------------------------------------------------------


def ring_moment(pressure: np.ndarray, theta: np.ndarray, r: float) -> float:
    """Greatest moment in a ring under radial pressure, held by a shear flow as its sine; by Fourier sums."""
    total = np.zeros_like(theta)
    for n in range(2, 400):
        part = np.trapezoid(pressure * np.cos(n * theta), theta) / np.pi
        total += part * r**2 / (n**2 - 1) * np.cos(n * theta)
    return float(np.max(np.abs(total)))


def test_ring_under_a_close_bearing() -> None:
    theta = np.linspace(-np.pi, np.pi, 20001)
    F, w, r = 4000.0, 0.05, 0.045
    pressure = np.where(np.abs(theta) <= np.pi / 2, 2 * F / (np.pi * r * w) * np.cos(theta), 0.0)
    # the bearing's force is all there
    assert np.trapezoid(pressure * np.cos(theta), theta) * r * w == pytest.approx(F, rel=1e-6)
    # a bearing so long that the tube beside it does not help
    ours = bearing_hoop_moment(F=F, w=w, r=r, k_o=1e4)
    assert ours == pytest.approx(ring_moment(pressure, theta, r), rel=1e-3)


def test_ring_moment_of_a_line_load_is_the_one_in_the_books() -> None:
    """3/(4 pi) F r of a radial pull held by a shear flow: the Fourier sums themselves are right."""
    theta = np.linspace(-np.pi, np.pi, 200001)
    narrow = np.where(np.abs(theta) < 1e-3, 1.0, 0.0)
    narrow /= np.trapezoid(narrow, theta)
    assert ring_moment(narrow, theta, 1.0) == pytest.approx(3 / (4 * np.pi), rel=5e-3)


@pytest.mark.parametrize("w", [0.02, 0.05, 0.3])
def test_tube_beside_a_bearing_helps_as_a_beam_on_its_hoops(w: float) -> None:
    """Against the boundary-value problem of the oval, solved numerically."""
    A, D, r = 1.53e8, 133.0, 0.0475
    k_o = float(ovalising_wave(A_11=A, A_12=0.0, A_22=6e7, D_22=D, r=r))
    stiff, bed = A * r**2 / 2**4, D * (2**2 - 1) ** 2 / r**4
    assert k_o == pytest.approx((bed / (4 * stiff)) ** 0.25)
    far = w / 2 + 6 / k_o

    def slope(x: np.ndarray, y: np.ndarray) -> np.ndarray:
        load = 0.5 * (1 - np.tanh((x - w / 2) / 2e-4))
        return np.vstack([y[1], y[2], y[3], (load - bed * y[0]) / stiff])

    def ends(near: np.ndarray, away: np.ndarray) -> np.ndarray:
        return np.array([near[1], near[3], away[0], away[1]])

    x = np.unique(np.concatenate([np.linspace(0, far, 400), np.linspace(w / 2 - 2e-3, w / 2 + 2e-3, 200)]))
    solved = solve_bvp(slope, ends, x, np.zeros((4, x.size)), tol=1e-6, max_nodes=100_000)
    assert solved.success
    share = solved.sol(0.0)[0] * bed
    alone = bearing_hoop_moment(F=1.0, w=w, r=r, k_o=1e6)
    assert bearing_hoop_moment(F=1.0, w=w, r=r, k_o=k_o) / alone == pytest.approx(share, rel=2e-3)
