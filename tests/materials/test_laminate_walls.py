"""Stiffness of walls, and the strains and stresses of their plies."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcalc.materials import MaterialError
from rigcalc.materials.laminates import (
    Lamina,
    Ply,
    Wall,
    abd,
    find_ply_material,
    free_strain,
    membrane_strain,
    off_axis_share,
    ply_state,
    stack_of,
    strain_turn,
    wall_constants,
)

from .plies import ply_of, wall_of

GLASS = find_ply_material("E-glass/epoxy UD 0.45").of_fibre_mass(0.3)
CARBON = find_ply_material("carbon/epoxy UD 0.60").of_fibre_mass(0.2)
WOVEN = find_ply_material("E-glass/epoxy woven 0.50").of_fibre_mass(0.3)

angles = st.lists(st.floats(-90.0, 90.0), min_size=1, max_size=8)
plies = st.builds(
    ply_of,
    E1=st.floats(20e9, 200e9),
    E2=st.floats(5e9, 20e9),
    G12=st.floats(2e9, 10e9),
    nu12=st.floats(0.05, 0.4),
    t=st.floats(1e-4, 1e-3),
)
triples = st.lists(st.floats(-1e5, 1e5), min_size=3, max_size=3)


def assert_close(found: object, expected: object, scale: float, rel: float = 1e-11) -> None:
    """Compare against the size of the whole, as terms that cancel leave its rounding behind."""
    np.testing.assert_allclose(np.asarray(found), np.asarray(expected), rtol=0.0, atol=rel * scale)


# --- stiffness ---


@given(ply=plies, ways=st.integers(3, 8), turn=st.floats(0.0, 180.0))
def test_even_directions_make_a_plane_alike_in_all(ply: Ply, ways: int, turn: float) -> None:
    wall = wall_of(ply, [turn + 180.0 * i / ways for i in range(ways)])
    found = wall_constants(abd(wall), edges="membrane")
    assert found.Ex_Pa == pytest.approx(found.Ey_Pa, rel=1e-10)
    assert found.Gxy_Pa == pytest.approx(found.Ex_Pa / (2 * (1 + found.nuxy)), rel=1e-10)
    assert abs(found.eta_x) < 1e-10


@given(E=st.floats(1e9, 300e9), nu=st.floats(0.0, 0.49), degrees=angles, t=st.floats(1e-4, 1e-2))
def test_isotropic_plies_make_an_isotropic_plate(E: float, nu: float, degrees: list[float], t: float) -> None:
    G = E / (2 * (1 + nu))
    wall = abd(wall_of(ply_of(E1=E, E2=E, G12=G, nu12=nu, t=t), degrees))
    h = t * len(degrees)
    plate = np.array([[1, nu, 0], [nu, 1, 0], [0, 0, (1 - nu) / 2]]) * E / (1 - nu**2)
    assert_close(wall.A_N_m, plate * h, E * h)
    assert_close(wall.B_N, np.zeros((3, 3)), E * h**2)
    assert_close(wall.D_N_m, plate * h**3 / 12, E * h**3)
    for found in (wall_constants(wall, edges="membrane"), wall_constants(wall, edges="free")):
        assert found.Ex_Pa == pytest.approx(E, rel=1e-9)
        assert found.Ey_Pa == pytest.approx(E, rel=1e-9)
        assert found.Gxy_Pa == pytest.approx(G, rel=1e-9)
        assert found.nuxy == pytest.approx(nu, abs=1e-9)


@given(ply=plies, degrees=st.floats(-180.0, 180.0))
def test_invariants_do_not_turn(ply: Ply, degrees: float) -> None:
    Q0, Q = (stack_of(wall_of(ply, [angle])).turned_stiffness_Pa[0] for angle in (0.0, degrees))
    assert Q[0, 0] + Q[1, 1] + 2 * Q[0, 1] == pytest.approx(Q0[0, 0] + Q0[1, 1] + 2 * Q0[0, 1], rel=1e-11)
    assert_close(Q[2, 2] - Q[0, 1], Q0[2, 2] - Q0[0, 1], ply.E1_Pa)


@given(ply=plies, degrees=st.floats(-180.0, 180.0))
def test_turning_the_stiffness_is_turning_the_strain(ply: Ply, degrees: float) -> None:
    stack = stack_of(wall_of(ply, [degrees]))
    T = strain_turn(stack.angle_rad)[0]
    turned = T.T @ stack.local_stiffness_Pa[0] @ T
    assert_close(stack.turned_stiffness_Pa[0], turned, ply.E1_Pa)


@given(ply=plies, half=angles)
def test_symmetric_wall_does_not_couple_stretch_with_bending(ply: Ply, half: list[float]) -> None:
    wall = abd(wall_of(ply, half + half[::-1]))
    assert_close(wall.B_N, np.zeros((3, 3)), ply.E1_Pa * float(wall.wall_m) ** 2, rel=1e-15)
    free, held = wall_constants(wall, edges="free"), wall_constants(wall, edges="membrane")
    assert free.Ex_Pa == pytest.approx(held.Ex_Pa, rel=1e-10)
    assert free.Gxy_Pa == pytest.approx(held.Gxy_Pa, rel=1e-10)


@given(ply=plies, degrees=angles)
def test_wall_turned_inside_out_couples_the_other_way(ply: Ply, degrees: list[float]) -> None:
    wall, turned = abd(wall_of(ply, degrees)), abd(wall_of(ply, degrees[::-1]))
    scale = ply.E1_Pa * float(wall.wall_m)
    assert_close(turned.A_N_m, wall.A_N_m, scale)
    assert_close(turned.B_N, -wall.B_N, scale * float(wall.wall_m))
    assert_close(turned.D_N_m, wall.D_N_m, scale * float(wall.wall_m) ** 2)


@given(ply=plies, degrees=angles)
def test_pairs_balance(ply: Ply, degrees: list[float]) -> None:
    wall = abd(wall_of(ply, [*degrees, *(-angle for angle in degrees)]))
    scale = ply.E1_Pa * float(wall.wall_m)
    assert_close(wall.A_N_m[:2, 2], np.zeros(2), scale)
    assert abs(wall_constants(wall, edges="membrane").eta_x) < 1e-9


@given(ply=plies, degrees=angles)
def test_quarter_turn_swaps_the_directions(ply: Ply, degrees: list[float]) -> None:
    one, other = (
        wall_constants(abd(wall_of(ply, turned)), edges="membrane")
        for turned in (degrees, [angle + 90.0 for angle in degrees])
    )
    assert one.Ex_Pa == pytest.approx(other.Ey_Pa, rel=1e-9)
    assert one.Gxy_Pa == pytest.approx(other.Gxy_Pa, rel=1e-9)


@given(ply=plies, degrees=angles)
def test_wall_left_free_is_never_stiffer(ply: Ply, degrees: list[float]) -> None:
    wall = abd(wall_of(ply, degrees))
    assert wall_constants(wall, edges="free").Ex_Pa <= wall_constants(wall, edges="membrane").Ex_Pa * (
        1 + 1e-9
    )
    # what is taken off D by leaving the wall free to stretch can only be positive
    lost = wall.D_N_m - wall.released_D_N_m
    assert np.linalg.eigvalsh((lost + lost.T) / 2)[0] > -1e-9 * ply.E1_Pa * float(wall.wall_m) ** 3


@pytest.mark.parametrize(
    ("shares", "Ex", "Ey", "Gxy", "nuxy"),
    [((70, 20, 10), 30.7, 12.8, 5.47, 0.266), ((80, 20, 0), 33.5, 9.8, 5.47, 0.347)],
)
def test_glass_spars_as_worked_out_elsewhere(
    shares: tuple[int, int, int], Ex: float, Ey: float, Gxy: float, nuxy: float
) -> None:
    along, slant, hoop = (share // 10 for share in shares)
    wall = wall_of(GLASS, [*[0.0] * along, *[45.0, -45.0] * (slant // 2), *[90.0] * hoop])
    found = wall_constants(abd(wall), edges="membrane")
    assert found.Ex_Pa / 1e9 == pytest.approx(Ex, abs=0.05)
    assert found.Ey_Pa / 1e9 == pytest.approx(Ey, abs=0.05)
    assert found.Gxy_Pa / 1e9 == pytest.approx(Gxy, abs=0.005)
    assert found.nuxy == pytest.approx(nuxy, abs=0.0005)
    assert found.nuyx == pytest.approx(found.nuxy * found.Ey_Pa / found.Ex_Pa, rel=1e-12)


def test_edges_must_be_known() -> None:
    with pytest.raises(MaterialError, match="no edges 'clamped'"):
        wall_constants(abd(wall_of(GLASS, [0.0])), edges="clamped")  # type: ignore[arg-type]  # under test


# --- many walls at once, plies that drop off ---


@given(lists=st.lists(st.tuples(*[st.floats(-90.0, 90.0)] * 4), min_size=1, max_size=4))
def test_many_walls_at_once_are_each_alone(lists: list[tuple[float, ...]]) -> None:
    walls = [wall_of(GLASS if i % 2 else CARBON, degrees) for i, degrees in enumerate(lists)]
    together = abd(walls)
    assert together.A_N_m.shape == (len(walls), 3, 3)
    for i, wall in enumerate(walls):
        alone = abd(wall)
        np.testing.assert_array_equal(together.A_N_m[i], alone.A_N_m)
        np.testing.assert_array_equal(together.B_N[i], alone.B_N)
        np.testing.assert_array_equal(together.D_N_m[i], alone.D_N_m)
        np.testing.assert_array_equal(together.compliance[i], alone.compliance)


@given(
    degrees=st.lists(st.floats(-90.0, 90.0), min_size=2, max_size=6),
    rows=st.lists(st.lists(st.booleans(), min_size=6, max_size=6), min_size=1, max_size=4),
)
def test_dropped_plies_are_as_if_never_laid(degrees: list[float], rows: list[list[bool]]) -> None:
    share = np.array(rows, dtype=float)[:, : len(degrees)]
    share[:, 0] = 1.0
    tapered = abd(wall_of(GLASS, degrees), share)
    for i, row in enumerate(share):
        left = abd(wall_of(GLASS, [angle for angle, there in zip(degrees, row, strict=True) if there]))
        scale = GLASS.E1_Pa * float(left.wall_m)
        assert_close(tapered.wall_m[i], left.wall_m, float(left.wall_m))
        assert_close(tapered.A_N_m[i], left.A_N_m, scale)
        assert_close(tapered.B_N[i], left.B_N, scale * float(left.wall_m))
        assert_close(tapered.D_N_m[i], left.D_N_m, scale * float(left.wall_m) ** 2)
        assert tapered.stack.mass_kg_m2[i] == pytest.approx(float(left.stack.mass_kg_m2), rel=1e-13)


def test_shares_multiply() -> None:
    once = stack_of(wall_of(GLASS, [0.0, 90.0]), [[1.0, 0.5], [1.0, 0.0]])
    twice = stack_of(once, [0.5, 1.0])
    np.testing.assert_array_equal(twice.share, [[0.5, 0.5], [0.5, 0.0]])
    np.testing.assert_array_equal(twice.present, [[True, True], [True, False]])


def test_impossible_walls_are_refused() -> None:
    wall = wall_of(GLASS, [0.0, 90.0])
    with pytest.raises(MaterialError, match="no plies"):
        Wall(())
    with pytest.raises(MaterialError, match="laid at nan"):
        Lamina(GLASS, math.nan)
    with pytest.raises(MaterialError, match="differ in the number of plies"):
        abd([wall, wall_of(GLASS, [0.0])])
    with pytest.raises(MaterialError, match="differ in the number of plies"):
        abd([])
    for share in ([1.0, -0.1], [1.0, math.nan], [1.0, math.inf]):
        with pytest.raises(MaterialError, match="share of a ply"):
            abd(wall, share)
    with pytest.raises(MaterialError, match="no ply is left"):
        abd(wall, [[1.0, 1.0], [0.0, 0.0]])


# --- bookkeeping ---


def test_masses_of_a_wall() -> None:
    stack = stack_of(wall_of(GLASS, [0.0, 45.0, -45.0, 0.0]))
    assert stack.fibre_mass_kg_m2 == pytest.approx(1.2, rel=1e-14)
    assert stack.mass_kg_m2 == pytest.approx(4 * GLASS.mass_kg_m2, rel=1e-14)
    # resin to glass by mass at V_f 0.45
    assert stack.resin_mass_kg_m2 == pytest.approx(1.2 * 0.55 * 1150 / (0.45 * 2540), rel=1e-12)
    assert stack.wall_m == pytest.approx(4 * GLASS.thickness_m, rel=1e-14)


@pytest.mark.parametrize(
    ("wall", "share"),
    [
        (wall_of(GLASS, [0.0, 0.0, 45.0, -45.0, 90.0]), 0.6),
        (wall_of(GLASS, [0.0, 180.0, -180.0]), 0.0),
        (wall_of(GLASS, [4.0, -4.0, 6.0, -6.0]), 0.5),
        (wall_of(WOVEN, [0.0, 90.0]), 0.5),
        (wall_of(WOVEN, [45.0]), 1.0),
        (Wall((Lamina(GLASS, 0.0), Lamina(WOVEN, 0.0))), None),
    ],
)
def test_share_of_plies_off_the_axis(wall: Wall, share: float | None) -> None:
    found = off_axis_share(stack_of(wall), within_rad=math.radians(5.0))
    if share is None:
        share = 0.5 * WOVEN.thickness_m / (WOVEN.thickness_m + GLASS.thickness_m)
    assert found == pytest.approx(share, abs=1e-14)


def test_share_off_the_axis_follows_plies_that_drop() -> None:
    stack = stack_of(wall_of(GLASS, [0.0, 45.0, -45.0]), [[1, 1, 1], [1, 0, 0]])
    np.testing.assert_allclose(off_axis_share(stack, within_rad=0.1), [2 / 3, 0.0], rtol=1e-14)


def test_share_off_the_axis_is_refused_where_fibres_are_not_known() -> None:
    triaxial = find_ply_material("E-glass/epoxy triaxial 0.57 infused, blade").of_fibre_mass(0.9)
    with pytest.raises(MaterialError, match="how its fibres lie"):
        off_axis_share(stack_of(wall_of(triaxial, [0.0])), within_rad=0.1)


# --- strains and stresses ---


@given(ply=plies, degrees=angles, N=triples, M=st.lists(st.floats(-50.0, 50.0), min_size=3, max_size=3))
def test_ply_stresses_add_up_to_the_loads(
    ply: Ply, degrees: list[float], N: list[float], M: list[float]
) -> None:
    wall = abd(wall_of(ply, degrees))
    state = ply_state(wall, free_strain(wall, N, M))
    t, z = wall.stack.thickness_m[:, None], np.stack([wall.edges_m[:-1], wall.edges_m[1:]], axis=-1)
    turn = strain_turn(wall.stack.angle_rad)
    # work does not change with the axes: stress of the wall is the turned transpose
    inner, outer = (np.einsum("nji,nj->ni", turn, state.stress_Pa[:, face]) for face in (0, 1))
    middle = (inner + outer) / 2
    h = float(wall.wall_m)
    size = max(*map(abs, N), *(abs(m) / h for m in M), 1.0) * ply.E1_Pa / ply.E2_Pa
    assert_close(np.sum(t * middle, axis=0), N, size * len(degrees), rel=1e-9)
    ends = z[:, :1] * inner + z[:, 1:] * outer + 4 * np.mean(z, axis=1, keepdims=True) * middle
    assert_close(np.sum(t * ends / 6, axis=0), M, size * h * len(degrees), rel=1e-9)


@given(ply=plies, degrees=angles, N=triples)
def test_wall_that_cannot_curl_has_one_strain_through(ply: Ply, degrees: list[float], N: list[float]) -> None:
    wall = abd(wall_of(ply, degrees))
    strain = membrane_strain(wall, N)
    assert not np.any(strain.curvature_per_m)
    np.testing.assert_allclose(
        wall.A_N_m @ strain.mid, N, atol=1e-9 * (1 + max(map(abs, N))) * ply.E1_Pa / ply.E2_Pa
    )
    state = ply_state(wall, strain)
    np.testing.assert_array_equal(state.stress_Pa[:, 0], state.stress_Pa[:, 1])


def test_positive_curvature_stretches_the_outside() -> None:
    wall = abd(wall_of(GLASS, [0.0, 0.0]))
    state = ply_state(wall, free_strain(wall, [0.0, 0.0, 0.0], [100.0, 0.0, 0.0]))
    assert state.stress_Pa[0, 0, 0] < 0.0 < state.stress_Pa[-1, 1, 0]


def test_many_loads_on_many_walls_broadcast() -> None:
    walls = abd(wall_of(GLASS, [0.0, 45.0, -45.0]), [[1, 1, 1], [1, 0, 1]])
    loads = np.random.default_rng(3).normal(size=(5, 2, 3)) * 1e4
    together = ply_state(walls, membrane_strain(walls, loads))
    assert together.stress_Pa.shape == (5, 2, 3, 2, 3)
    for i in range(2):
        one = abd(wall_of(GLASS, [0.0, 45.0, -45.0]), [[1, 1, 1], [1, 0, 1]][i])
        for case in range(5):
            alone = ply_state(one, membrane_strain(one, loads[case, i]))
            np.testing.assert_allclose(together.stress_Pa[case, i], alone.stress_Pa, rtol=1e-11)
