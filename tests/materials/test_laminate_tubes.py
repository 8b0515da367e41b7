"""Tubes of laminate: stiffness, line loads, buckling and flattening."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc.formulas.laminate_tubes import (
    bending_line_load,
    buckling_moment,
    cylinder_mode_load,
    flute_buckling_load,
    orthotropic_axial_knockdown,
    orthotropic_bending_knockdown,
    orthotropic_brazier_moment,
    orthotropic_slenderness,
    peak_shear_line_load,
    ring_buckling_load,
    stack_brazier_moment,
    thin_tube_bending_stiffness,
    thin_tube_shear_stiffness,
    thin_tube_torsion_stiffness,
    tube_axial_stiffness,
    tube_bending_stiffness,
    tube_torsion_stiffness,
)
from rigcalc.formulas.shells import (
    axial_knockdown,
    bending_knockdown,
    brazier_moment,
    cylinder_classical_stress,
)
from rigcalc.materials import MaterialError
from rigcalc.materials.laminates import (
    Stiffness,
    abd,
    cylinder_buckling,
    find_ply_material,
    strain_turn,
    wall_constants,
)

from .plies import ply_of, wall_of

E, NU = 70e9, 0.3
METAL = ply_of(E1=E, E2=E, G12=E / 2 / (1 + NU), nu12=NU, t=1e-3)
PLATE = abd(wall_of(METAL, [0.0, 0.0]))  # 2 mm
GLASS = find_ply_material("E-glass/epoxy UD 0.45").of_fibre_mass(0.3)
R = 0.06


# --- stiffness and line loads ---


def test_thin_tube_is_the_limit_of_the_exact_one() -> None:
    r, t = 0.06, 6e-6
    D, d = 2 * r + t, 2 * r - t
    assert thin_tube_bending_stiffness(E_x=E, t=t, r=r) == pytest.approx(
        tube_bending_stiffness(E_x=E, D=D, d=d), rel=1e-8
    )
    assert thin_tube_torsion_stiffness(G_xy=E, t=t, r=r) == pytest.approx(
        tube_torsion_stiffness(G_xy=E, D=D, d=d), rel=1e-8
    )
    # half the area bears the shear of a thin ring
    assert thin_tube_shear_stiffness(G_xy=E, t=t, r=r) == pytest.approx(
        tube_axial_stiffness(E_x=E, D=D, d=d) / 2, rel=1e-12
    )


def test_thin_tube_at_the_edge_of_its_range() -> None:
    r, t = 0.06, 0.006
    exact = tube_bending_stiffness(E_x=E, D=2 * r + t, d=2 * r - t)
    assert thin_tube_bending_stiffness(E_x=E, t=t, r=r) == pytest.approx(exact, rel=0.003)


def test_line_loads_make_up_the_moment_the_force_and_the_torque() -> None:
    M, V, T, t = 4000.0, 700.0, 300.0, 2e-3
    EI = thin_tube_bending_stiffness(E_x=E, t=t, r=R)
    angle = np.arange(64) * 2 * np.pi / 64  # equal steps sum these harmonics exactly
    N_x = bending_line_load(M=M, y=R * np.sin(angle), E_x=E, t=t, EI=EI)
    assert np.mean(N_x * R * np.sin(angle)) * 2 * np.pi * R == pytest.approx(M, rel=1e-12)
    N_V = peak_shear_line_load(V=V, T=0.0, r=R) * np.cos(angle)
    assert np.mean(N_V * np.cos(angle)) * 2 * np.pi * R == pytest.approx(V, rel=1e-12)
    N_T = peak_shear_line_load(V=0.0, T=T, r=R)
    assert N_T * R * 2 * np.pi * R == pytest.approx(T, rel=1e-12)
    assert peak_shear_line_load(V=V, T=T, r=R) == pytest.approx(N_V[0] + N_T, rel=1e-14)


# --- knock-down and closed forms, where the wall is isotropic ---


def parts(wall: Stiffness) -> dict[str, float]:
    A, D = wall.A_N_m, wall.D_N_m
    return {
        "A_11": float(A[0, 0]),
        "A_12": float(A[0, 1]),
        "A_22": float(A[1, 1]),
        "D_11": float(D[0, 0]),
        "D_22": float(D[1, 1]),
    }


def pick(wall: Stiffness, *names: str) -> dict[str, float]:
    return {name: parts(wall)[name] for name in names}


@pytest.mark.parametrize("slenderness", [20.0, 100.0, 1000.0])
def test_knockdown_is_that_of_an_isotropic_wall(slenderness: float) -> None:
    t = float(PLATE.wall_m)
    phi = orthotropic_slenderness(r=slenderness * t, **pick(PLATE, "A_11", "A_22", "D_11", "D_22"))
    # 29.8 rounds 16 times the fourth root of 12, which is 29.78
    assert phi == pytest.approx(math.sqrt(slenderness) / 16, rel=1e-3)
    assert orthotropic_axial_knockdown(phi=phi) == pytest.approx(
        axial_knockdown(r=slenderness, t=1.0), rel=1e-3
    )
    assert orthotropic_bending_knockdown(phi=phi) == pytest.approx(
        bending_knockdown(r=slenderness, t=1.0), rel=1e-3
    )


def classical() -> float:
    t = float(PLATE.wall_m)
    return float(cylinder_classical_stress(E=E, t=t, r=R, nu=NU)) * t


def test_closed_forms_are_the_classical_load_of_an_isotropic_wall() -> None:
    rings = ring_buckling_load(r=R, **pick(PLATE, "A_11", "A_12", "A_22", "D_11"))
    flutes = flute_buckling_load(r=R, **pick(PLATE, "A_11", "A_12", "A_22", "D_22"))
    assert rings == pytest.approx(classical(), rel=1e-12)
    assert flutes == pytest.approx(classical(), rel=1e-12)
    assert buckling_moment(gamma=1.0, N_cr=rings, r=R) == pytest.approx(np.pi * R**2 * classical(), rel=1e-12)


def test_flattening_is_braziers_where_the_wall_is_isotropic() -> None:
    t = float(PLATE.wall_m)
    expected = float(brazier_moment(E=E, r=R, t=t, nu=NU))
    assert orthotropic_brazier_moment(E_x=E, E_y=E, nu_xy=NU, nu_yx=NU, r=R, t=t) == pytest.approx(
        expected, rel=1e-12
    )
    assert stack_brazier_moment(E_x=E, t=t, D_22=PLATE.D_N_m[1, 1], r=R) == pytest.approx(expected, rel=1e-12)


def test_flattening_feels_where_the_hoop_plies_lie() -> None:
    def moments(degrees: list[float]) -> tuple[float, float]:
        wall = abd(wall_of(GLASS, degrees))
        found = wall_constants(wall, edges="membrane")
        spread = orthotropic_brazier_moment(
            E_x=found.Ex_Pa, E_y=found.Ey_Pa, nu_xy=found.nuxy, nu_yx=found.nuyx, r=R, t=wall.wall_m
        )
        return float(spread), float(
            stack_brazier_moment(E_x=found.Ex_Pa, t=wall.wall_m, D_22=wall.D_N_m[1, 1], r=R)
        )

    spread, inside = moments([0.0, 0.0, 90.0, 90.0, 0.0, 0.0])
    assert inside < 0.75 * spread
    spread, outside = moments([90.0, 0.0, 0.0, 0.0, 0.0, 90.0])
    assert outside > 1.2 * spread
    assert moments([30.0])[1] > 0.0


# --- every pattern of waves ---


def test_isotropic_wall_buckles_at_the_classical_load() -> None:
    for radius in (0.03, R, 0.5):
        expected = classical() * R / radius
        found = cylinder_buckling(PLATE, radius_m=radius)
        assert found.line_load_N_m == pytest.approx(expected, rel=2e-4)
        assert found.line_load_N_m >= expected * (1 - 1e-12)


@settings(max_examples=25, deadline=None)
@given(
    half=st.lists(st.sampled_from([0.0, 90.0, 30.0, 45.0, 60.0]), min_size=1, max_size=5),
    radius=st.floats(0.02, 0.3),
)
def test_no_closed_form_is_lower(half: list[float], radius: float) -> None:
    stack = [sign * angle for angle in half for sign in (1, -1)]
    wall = abd(wall_of(GLASS, stack + stack[::-1]))
    found = float(cylinder_buckling(wall, radius_m=radius).line_load_N_m)
    rings = ring_buckling_load(r=radius, **pick(wall, "A_11", "A_12", "A_22", "D_11"))
    flutes = flute_buckling_load(r=radius, **pick(wall, "A_11", "A_12", "A_22", "D_22"))
    assert found <= rings * (1 + 1e-6)
    # the form of flutes is a limit: real ones have whole waves round and bend along too, thick walls most
    assert found <= flutes * (1 + 4 * float(wall.wall_m) / radius)
    assert found > 0.3 * min(rings, flutes)


def test_wall_soft_in_shear_buckles_below_both_closed_forms() -> None:
    wall = abd(wall_of(GLASS, [0.0] * 10))
    found = cylinder_buckling(wall, radius_m=R)
    rings = ring_buckling_load(r=R, **pick(wall, "A_11", "A_12", "A_22", "D_11"))
    flutes = flute_buckling_load(r=R, **pick(wall, "A_11", "A_12", "A_22", "D_22"))
    assert found.line_load_N_m < 0.75 * min(rings, flutes)
    assert found.waves_round >= 2


def test_rings_are_found_where_they_are_lowest() -> None:
    wall = abd(wall_of(GLASS, [45.0, -45.0] * 6 + [-45.0, 45.0] * 6))
    found = cylinder_buckling(wall, radius_m=R)
    rings = ring_buckling_load(r=R, **pick(wall, "A_11", "A_12", "A_22", "D_11"))
    assert found.waves_round == 0
    assert found.line_load_N_m == pytest.approx(rings, rel=1e-9)
    D_11, A_22 = parts(wall)["D_11"], parts(wall)["A_22"] - parts(wall)["A_12"] ** 2 / parts(wall)["A_11"]
    assert found.half_wave_m == pytest.approx(np.pi * (D_11 * R**2 / A_22) ** 0.25, rel=1e-3)


def test_short_tube_holds_more_and_a_long_one_no_less_than_the_longest() -> None:
    wall = abd(wall_of(GLASS, [0.0] * 10))
    long = cylinder_buckling(wall, radius_m=R).line_load_N_m
    loads = [
        float(cylinder_buckling(wall, radius_m=R, length_m=length).line_load_N_m)
        for length in (0.01, 0.03, 5.0)
    ]
    assert loads[0] > loads[1] > loads[2]
    assert loads[2] == pytest.approx(float(long), rel=1e-4)


def test_many_tubes_at_once_are_each_alone() -> None:
    share = np.array([[1.0] * 6, [1, 1, 0, 0, 1, 1]])
    radii = np.array([0.06, 0.04])
    wall = wall_of(GLASS, [45.0, -45.0, 0.0, 0.0, -45.0, 45.0])
    together = cylinder_buckling(abd(wall, share), radius_m=radii)
    for i in range(2):
        alone = cylinder_buckling(abd(wall, share[i]), radius_m=radii[i])
        assert together.line_load_N_m[i] == pytest.approx(float(alone.line_load_N_m), rel=1e-9)
        assert together.waves_round[i] == alone.waves_round
    one_wall = cylinder_buckling(abd(wall), radius_m=radii)
    assert one_wall.line_load_N_m.shape == (2,)


@pytest.mark.parametrize(
    ("radius", "length"), [(0.0, 1.0), (-0.1, 1.0), (math.nan, 1.0), (0.1, 0.0), (0.1, math.nan)]
)
def test_impossible_tube_is_refused(radius: float, length: float) -> None:
    with pytest.raises(MaterialError, match="above zero"):
        cylinder_buckling(PLATE, radius_m=radius, length_m=length)


def load_from_energy(wall: Stiffness, k_x: float, n: int, r: float) -> float:
    """Return the line load at which the wall's strain energy is that of the load, from the strains themselves.

    Displacements cos sin, sin sin, sin cos of k_x x and n y/r; Donnell's strains and curvatures by hand
    differentiation at points, products by quadrature: none of the algebra of the formula is used.
    """
    k_y = n / r
    x, y = (np.arange(32) + 0.5) * 2 * np.pi / 32 / k_x, (np.arange(32) + 0.5) * 2 * np.pi / 32 / k_y
    sx, cx, sy, cy = np.sin(k_x * x)[:, None], np.cos(k_x * x)[:, None], np.sin(k_y * y), np.cos(k_y * y)
    nothing = np.zeros((32, 32))
    strains = np.array(
        [
            # e_x, e_y, gamma, kappa_x, kappa_y, kappa_xy of u = cx cy, of v = sx sy, of w = sx cy
            [-k_x * sx * cy, nothing, -k_y * cx * sy, nothing, nothing, nothing],
            [nothing, k_y * sx * cy, k_x * cx * sy, nothing, nothing, nothing],
            [nothing, sx * cy / r, nothing, k_x**2 * sx * cy, k_y**2 * sx * cy, 2 * k_x * k_y * cx * sy],
        ]
    )
    whole = np.block([[wall.A_N_m, wall.B_N], [wall.B_N, wall.D_N_m]])
    energy = np.einsum("aixy,ij,bjxy->ab", strains, whole, strains) / 32**2
    slope = np.mean((k_x * cx * cy) ** 2)
    # u and v take what makes the energy least
    held = energy[2, :2] @ np.linalg.solve(energy[:2, :2], energy[:2, 2])
    return float((energy[2, 2] - held) / slope)


@pytest.mark.parametrize(
    "degrees", [[0.0, 90.0], [90.0, 0.0, 0.0], [0.0, 0.0], [30.0, -30.0, -30.0, 30.0, 90.0]]
)
@pytest.mark.parametrize(("k_x", "n"), [(40.0, 3), (90.0, 6), (7.0, 2), (200.0, 1)])
def test_mode_load_follows_from_the_energy(degrees: list[float], k_x: float, n: int) -> None:
    wall = abd(wall_of(GLASS, degrees))
    A, B, D = wall.A_N_m, wall.B_N, wall.D_N_m
    places = {"11": (0, 0), "12": (0, 1), "22": (1, 1), "66": (2, 2)}
    terms = {
        f"{letter}_{name}": matrix[place]
        for letter, matrix in (("A", A), ("B", B), ("D", D))
        for name, place in places.items()
    }
    assert np.any(np.abs(B[:2, :2]) > 0.0) == (degrees != [0.0, 0.0])
    ours = cylinder_mode_load(k_x=k_x, k_y=n / R, r=R, **terms)
    assert ours == pytest.approx(load_from_energy(wall, k_x, n, R), rel=1e-9)


def test_rings_of_the_mode_load() -> None:
    """Without waves round, the lowest load is the closed form of rings."""
    wall = abd(wall_of(GLASS, [0.0, 90.0, 90.0, 0.0]))
    A, D = wall.A_N_m, wall.D_N_m
    k_x = ((A[1, 1] - A[0, 1] ** 2 / A[0, 0]) / D[0, 0] / R**2) ** 0.25
    nothing = dict.fromkeys(("B_11", "B_12", "B_22", "B_66"), 0.0)
    found = cylinder_mode_load(
        A_66=A[2, 2], D_12=D[0, 1], D_66=D[2, 2], k_x=k_x, k_y=0.0, r=R, **nothing, **parts(wall)
    )
    assert found == pytest.approx(
        ring_buckling_load(r=R, **pick(wall, "A_11", "A_12", "A_22", "D_11")), rel=1e-12
    )


def test_turning_matrix_of_a_quarter_turn_swaps_the_axes() -> None:
    np.testing.assert_allclose(
        strain_turn(np.array(np.pi / 2)) @ [1.0, 2.0, 3.0], [2.0, 1.0, -3.0], atol=1e-15
    )
