"""A mast slung at two heights, and a tip force that follows the mast.

Sources: closed forms of the beam with two overhangs, put together from the end slopes of a simple span
(Timoshenko, Strength of Materials; formulas from memory) and checked by turning the mast upside down; the
buckling condition of a beam-column as a determinant of transfer matrices, each a matrix exponential; the
rigid bar on springs by hand; the bent mast by shooting (scipy's ODE solver and root search).
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, root

from rigcalc.structure.beam import BeamLoad, BeamResult, Supports, solve
from rigcalc.structure.large import Pull, solve_large
from rigcalc.structure.mesh import Mesh, make_mesh
from rigcalc.structure.modes import critical_axial_load

Floats = NDArray[np.float64]

FOOT, TIP = 0, -1


def mesh_of(*kinks_m: float, length_m: float = 1.0, elements: int = 12) -> Mesh:
    return make_mesh(np.array(kinks_m), length_m=length_m, longest_m=length_m / elements)


def like(mesh: Mesh, value: float) -> Floats:
    return np.full(mesh.z_m.shape, value)


def edges(mesh: Mesh, **forces: float) -> Floats:
    """Forces at the two ends of the mast."""
    points = np.zeros_like(mesh.edges_m)
    points[FOOT], points[TIP] = forces.get("foot", 0.0), forces.get("tip", 0.0)
    return points


# --- two heights, straight mast ------------------------------------------------------------------

HELD = [(0.0, 0.2), (0.0, 0.9), (0.15, 0.7), (0.4, 0.5), (0.3, 0.95)]
RIGID = (np.inf, np.inf)


def ends_by_hand(
    a: float,
    b: float,
    EI: float,
    *,
    line: float = 0.0,
    foot: float = 0.0,
    tip: float = 0.0,
    springs: tuple[float, float] = RIGID,
) -> tuple[float, float, float, float]:
    """Forces of the upper and the lower bearing, and deflections of tip and foot, of a mast of length 1."""
    low, high, span = a, 1 - b, b - a
    lower_moment, upper_moment = line * low**2 / 2 + foot * low, line * high**2 / 2 + tip * high
    upper = (line * (0.5 - a) + tip * (1 - a) - foot * a) / span
    lower = line + tip + foot - upper
    # slopes of the span at its ends, away from it: its own load lifts the overhangs, their moments lower them
    own = line * span**3 / 24
    upper_slope = (-own + upper_moment * span / 3 + lower_moment * span / 6) / EI
    lower_slope = (-own + lower_moment * span / 3 + upper_moment * span / 6) / EI
    at_lower, at_upper = lower / springs[0], upper / springs[1]
    tilt = (at_upper - at_lower) / span
    at_tip = upper_slope * high + (line * high**4 / 8 + tip * high**3 / 3) / EI + at_upper + tilt * high
    at_foot = lower_slope * low + (line * low**4 / 8 + foot * low**3 / 3) / EI + at_lower - tilt * low
    return upper, lower, at_tip, at_foot


LOADS = {
    "uniform": {"line": 30.0},
    "tip": {"tip": 7.0},
    "foot": {"foot": -4.0},
    "all": {"line": -20.0, "tip": 5.0, "foot": 9.0},
}


def straight(a: float, b: float, EI: float, springs: tuple[float, float], **load: float) -> BeamResult:
    mesh = mesh_of(a, b)
    points = edges(mesh, tip=load.get("tip", 0.0), foot=load.get("foot", 0.0))
    across = BeamLoad(like(mesh, load.get("line", 0.0)), points)
    return solve(mesh, like(mesh, EI), across, Supports(b, *springs, lower_m=a))


@pytest.mark.parametrize("springs", [RIGID, (300.0, 800.0)])
@pytest.mark.parametrize("load", LOADS)
@pytest.mark.parametrize(("a", "b"), HELD)
def test_uniform_mast_meets_the_closed_forms(
    a: float, b: float, load: str, springs: tuple[float, float]
) -> None:
    EI = 50.0
    found = straight(a, b, EI, springs, **LOADS[load])
    upper, lower, at_tip, at_foot = ends_by_hand(a, b, EI, springs=springs, **LOADS[load])
    assert float(found.partners_N) == pytest.approx(upper, rel=1e-11, abs=1e-11)
    assert float(found.heel_N) == pytest.approx(lower, rel=1e-11, abs=1e-11)
    assert found.deflection_m[TIP, -1] == pytest.approx(at_tip, rel=1e-9, abs=1e-13)
    assert found.deflection_m[FOOT, 0] == pytest.approx(at_foot, rel=1e-9, abs=1e-13)


@pytest.mark.parametrize(("a", "b"), HELD)
def test_moments_at_the_bearings_are_those_of_the_overhangs(a: float, b: float) -> None:
    mesh, load = mesh_of(a, b), LOADS["all"]
    found = straight(a, b, 50.0, RIGID, **load)
    upper, lower = mesh.edge_index(b), mesh.edge_index(a)
    by_hand = load["line"] * (1 - b) ** 2 / 2 + load["tip"] * (1 - b)
    assert found.moment_N_m[upper, 0] == pytest.approx(by_hand, rel=1e-11)
    assert found.moment_N_m[lower, 0] == pytest.approx(
        load["line"] * a**2 / 2 + load["foot"] * a, rel=1e-11, abs=1e-11
    )
    assert found.moment_N_m[FOOT, 0] == pytest.approx(0.0, abs=1e-11)
    # below the lower bearing nothing but the force at the foot and the line load is left, sign changed
    if a > 0.0:
        assert found.shear_N[FOOT, 0] == pytest.approx(-load["foot"], rel=1e-11)


def upside_down(field: Floats) -> Floats:
    return field[..., ::-1, ::-1]


def test_a_mast_turned_upside_down_bends_as_it_did() -> None:
    mesh = Mesh(np.array([0.0, 0.1, 0.25, 0.5, 0.6, 0.8, 1.0]))
    turned = Mesh((1.0 - mesh.edges_m)[::-1])
    z = mesh.z_m
    EI, line = 20.0 * (1.5 - z) ** 2, 3.0 + np.sin(5 * z)
    points = np.array([2.0, 0.0, -1.0, 0.0, 4.0, 0.0, -3.0])
    found = solve(mesh, EI, BeamLoad(line, points), Supports(0.8, 90.0, 40.0, lower_m=0.25))
    mirror = solve(
        turned,
        upside_down(EI),
        BeamLoad(upside_down(line), points[::-1]),
        Supports(0.75, 40.0, 90.0, lower_m=0.2),
    )
    np.testing.assert_allclose(upside_down(mirror.deflection_m), found.deflection_m, rtol=1e-10, atol=1e-12)
    np.testing.assert_allclose(upside_down(mirror.moment_N_m), found.moment_N_m, rtol=1e-10, atol=1e-10)
    np.testing.assert_allclose(upside_down(mirror.shear_N), -found.shear_N, rtol=1e-10, atol=1e-10)
    assert float(mirror.partners_N) == pytest.approx(float(found.heel_N), rel=1e-11)


def test_a_lower_bearing_at_the_foot_is_the_heel() -> None:
    mesh = mesh_of(0.2)
    load = BeamLoad(3.0 + mesh.z_m**2, edges(mesh, tip=1.0, foot=0.5))
    plain = solve(mesh, like(mesh, 4.0), load, Supports(0.2, 50.0, 70.0))
    named = solve(mesh, like(mesh, 4.0), load, Supports(0.2, 50.0, 70.0, lower_m=0.0))
    for name in ("shear_N", "moment_N_m", "slope_rad", "deflection_m", "partners_N", "heel_N"):
        np.testing.assert_array_equal(getattr(plain, name), getattr(named, name))
    # the heel of a mast is pinned: with a tip force alone it sways P (L - b)^2 L/(3 EI) there
    by_tip = solve(mesh, like(mesh, 4.0), BeamLoad(0 * mesh.z_m, edges(mesh, tip=1.0)), Supports(0.2))
    assert by_tip.deflection_m[TIP, -1] == pytest.approx(0.8**2 / (3 * 4.0), rel=1e-11)
    assert by_tip.deflection_m[FOOT, 0] == 0.0


def test_candidates_held_at_heights_of_their_own_equal_each_alone() -> None:
    held = [(0.1, 0.6), (0.2, 0.5), (0.3, 0.9)]
    meshes = [Mesh(np.array([0.0, a, (a + b) / 2, b, 1.0])) for a, b in held]
    several = Mesh(np.stack([mesh.edges_m for mesh in meshes]))
    a, b = np.array(held).T
    both = Supports(b, 60.0, 90.0, lower_m=a)
    points = np.tile([2.0, 0.0, 0.0, 0.0, 1.0], (3, 1))
    together = solve(several, like(several, 5.0), BeamLoad(several.z_m, points), both)
    for i, mesh in enumerate(meshes):
        alone = solve(
            mesh,
            like(mesh, 5.0),
            BeamLoad(mesh.z_m, points[i]),
            Supports(held[i][1], 60.0, 90.0, lower_m=held[i][0]),
        )
        np.testing.assert_allclose(together.deflection_m[i], alone.deflection_m, rtol=1e-12, atol=1e-15)


# --- two heights, bent mast ----------------------------------------------------------------------


@pytest.mark.parametrize("springs", [RIGID, (300.0, 800.0)])
@pytest.mark.parametrize(("a", "b"), HELD)
def test_under_small_loads_the_bent_mast_is_the_straight_one(
    a: float, b: float, springs: tuple[float, float]
) -> None:
    # the difference between the two is of third order: 1e-4 in the slope leaves 1e-8 of it
    small = {name: 1e-4 * value for name, value in LOADS["all"].items()}
    found = straight(a, b, 50.0, springs, **small)
    mesh = mesh_of(a, b)
    zero = like(mesh, 0.0)
    points = edges(mesh, tip=small["tip"], foot=small["foot"])
    bent = solve_large(
        mesh,
        like(mesh, 50.0),
        np.stack([like(mesh, small["line"]), zero, zero]),
        np.stack([points, 0 * points, 0 * points]),
        Supports(b, *springs, lower_m=a),
    )
    assert bool(bent.converged)
    size = float(np.max(np.abs(found.deflection_m)))
    np.testing.assert_allclose(bent.position_m[0], found.deflection_m, rtol=0, atol=1e-6 * size)
    np.testing.assert_allclose(bent.moment_N_m[0], found.moment_N_m, rtol=0, atol=1e-9)
    assert bent.partners_N.tolist() == pytest.approx([float(found.partners_N), 0.0], rel=1e-6, abs=1e-12)


def bent_by_shooting(
    b: float, EI: float, *, line: float, pull: float, toward: tuple[float, float]
) -> tuple[float, float, float]:
    """Leeward and height of the tip, and the partners' force, of a plane elastica of length 1 on its heel.

    State: leeward, height, angle, moment. The line load keeps its direction, ``pull`` keeps to its point.
    """

    def run(angle: float, upper: float, tip: Sequence[float]) -> tuple[Floats, Floats]:
        arm = np.subtract(toward, tip)
        across, along = pull * arm / np.hypot(*arm)

        def slopes(s: float, state: Floats, held: float) -> list[float]:
            _, _, t, moment = state
            outboard = line * (1 - s) + across - held
            return [
                np.sin(t),
                np.cos(t),
                moment / EI,
                -(outboard * np.cos(t) - along * np.sin(t)),
            ]

        state, at_upper = np.array([0.0, 0.0, angle, 0.0]), np.zeros(4)
        for (start, end), held in zip(pairwise([0.0, b, 1.0]), (upper, 0.0), strict=True):
            leg = solve_ivp(
                slopes, (start, end), state, args=(held,), rtol=1e-11, atol=1e-13, method="DOP853"
            )
            state = leg.y[:, -1]
            at_upper = state if end == b else at_upper
        return at_upper, state

    def misses(unknown: Floats) -> list[float]:
        angle, upper, *tip = unknown
        at_upper, end = run(angle, upper, tip)
        return [at_upper[0], end[3], end[0] - tip[0], end[1] - tip[1]]

    upper, _, sway, _ = ends_by_hand(0.0, b, EI, line=line)
    start = [0.0, upper, 0.7 * sway, 1.0]
    found = root(misses, start, tol=1e-12)
    assert np.max(np.abs(misses(found.x))) < 1e-9
    return float(found.x[2]), float(found.x[3]), float(found.x[1])


PULLED = [
    ((0.0, 0.0), 1.5),
    ((0.0, 0.3), 1.0),
    ((0.0, -1.0), 1.0),
    ((0.25, 0.25), 2.0),
    ((-0.25, 0.25), 1.5),
    ((0.4, 0.4), 1.5),
]


@pytest.mark.parametrize(("toward", "pull"), PULLED)
@pytest.mark.parametrize("bury", [0.12, 0.3])
def test_bent_mast_under_a_pull_by_shooting(toward: tuple[float, float], pull: float, bury: float) -> None:
    EI, line = 1.0, 1.2
    mesh = mesh_of(bury)
    zero = like(mesh, 0.0)
    found = solve_large(
        mesh,
        like(mesh, EI)[None],
        np.stack([like(mesh, line), zero, zero])[:, None],
        np.zeros((3, 1, mesh.edges_m.size)),
        Supports(bury),
        pulls=(Pull(0, mesh.edges_m.size - 1, pull, (toward[0], 0.0, toward[1])),),
    )
    leeward, height, upper = bent_by_shooting(bury, EI, line=line, pull=pull, toward=toward)
    assert bool(found.converged[0])
    assert abs(leeward) > 0.01
    assert found.position_m[0, 0, -1, -1] == pytest.approx(leeward, rel=1e-7)
    assert found.position_m[2, 0, -1, -1] == pytest.approx(height, rel=1e-8)
    assert found.partners_N[0, 0] == pytest.approx(upper, rel=1e-7)
    assert np.max(np.abs(found.position_m[1])) < 1e-12


def test_a_pull_acts_on_its_own_case_alone() -> None:
    bury, mesh = 0.2, mesh_of(0.2)
    line = np.zeros((3, 2, *mesh.z_m.shape))
    line[0] = 0.8
    points = np.zeros((3, 2, mesh.edges_m.size))
    pull = Pull(1, mesh.edges_m.size - 1, 2.0, (0.3, 0.0, 0.3))
    EI = like(mesh, 1.0)[None].repeat(2, axis=0)
    both = solve_large(mesh, EI, line, points, Supports(bury), pulls=(pull,))
    free = solve_large(mesh, EI, line, points, Supports(bury))
    # both come to rest within 1e-10 in the slope
    np.testing.assert_allclose(both.position_m[:, 0], free.position_m[:, 0], rtol=0, atol=1e-9)
    assert np.max(np.abs(both.position_m[:, 1] - free.position_m[:, 1])) > 0.01


def test_a_pull_to_the_heel_asks_nothing_of_the_bearings() -> None:
    # its line of action runs through the heel pin, so that only the side load turns about it
    bury, mesh = 0.2, mesh_of(0.2)
    zero = like(mesh, 0.0)
    line = np.stack([like(mesh, 0.5), zero, zero])[:, None]
    no_points = np.zeros((3, 1, mesh.edges_m.size))
    stiff = like(mesh, 1e4)[None]
    pull = Pull(0, mesh.edges_m.size - 1, 50.0, (0.0, 0.0, 0.0))
    springs = Supports(bury, np.inf, 200.0)
    pulled = solve_large(mesh, stiff, line, no_points, springs, pulls=(pull,))
    free = solve_large(mesh, stiff, line, no_points, springs)
    np.testing.assert_allclose(pulled.partners_N, free.partners_N, rtol=1e-4)
    # a dead thrust of that size turns about the heel with the mast: P L tilt, 4 times the load's own moment
    points = no_points.copy()
    points[2, 0, TIP] = -5.0
    dead = solve_large(mesh, stiff, line, points, springs)
    assert dead.partners_N[0, 0] > 1.5 * free.partners_N[0, 0]


# --- instability ---------------------------------------------------------------------------------


def exponential(matrices: Floats) -> Floats:
    """Matrix exponentials by their series: sines of arguments below 8 here, which 50 terms give to rounding."""
    total = term = np.broadcast_to(np.eye(matrices.shape[-1]), matrices.shape)
    for n in range(1, 50):
        term = term @ matrices / n
        total = total + term
    return total


def buckling_factor(
    a: float,
    b: float,
    EI: float,
    *,
    pattern: Sequence[tuple[float, float]] = ((1.0, 1.0),),
    toward_m: float | None = None,
) -> float:
    """Lowest factor on an axial pattern at which a mast of length 1, held at a and b, is in equilibrium bent.

    ``pattern`` gives (upper end of a stretch, compression in it). With ``toward_m`` the tip force keeps
    pulling to the mast's axis at that height. State: deflection, slope, moment, lateral force outboard; each
    stretch is a matrix exponential, and a bent equilibrium is a zero of the determinant.
    """
    stops = sorted({0.0, a, b, 1.0, *(end for end, _ in pattern)})

    def determinant(factor: Floats) -> Floats:
        # columns: deflection and slope of the foot, force at the foot, forces of the two bearings
        state = np.zeros((factor.size, 4, 5))
        state[:, [0, 1, 3], [0, 1, 2]] = 1.0
        unknown = np.broadcast_to(np.eye(5), (factor.size, 5, 5))
        rows = [unknown[:, 0], unknown[:, 3]] if a == 0.0 else [unknown[:, 2]]
        for start, end in pairwise(stops):
            step = np.zeros((factor.size, 4, 4))
            step[:, 0, 1], step[:, 1, 2], step[:, 2, 3] = 1.0, 1 / EI, -1.0
            step[:, 2, 1] = -factor * next(value for top, value in pattern if end <= top)
            state = exponential(step * (end - start)) @ state
            for height, force in ((a, 3), (b, 4)):
                if end == height:
                    rows.append(state[:, 0].copy())
                    state[:, 3, force] += 1.0
        back = 0.0 * factor if toward_m is None else factor * pattern[-1][1] / (1 - toward_m)
        rows += [state[:, 2], state[:, 3] + back[:, None] * state[:, 0]]
        return np.asarray(np.linalg.det(np.stack(rows, axis=1)))

    factors = np.linspace(0.05, 60.0, 240) * EI
    signs = determinant(factors)
    first = int(np.argmax(signs[:-1] * signs[1:] < 0.0))
    low, high = factors[first], factors[first + 1]
    return float(brentq(lambda f: determinant(np.array([f]))[0], low, high, xtol=1e-12, rtol=1e-14))


def engine_factor(
    a: float,
    b: float,
    EI: float,
    *,
    pattern: Sequence[tuple[float, float]] = ((1.0, 1.0),),
    toward_m: float | None = None,
    springs: tuple[float, float] = RIGID,
) -> float:
    mesh = mesh_of(a, b, *(end for end, _ in pattern))
    growing = like(mesh, 0.0)
    for end, value in reversed(pattern):
        growing[mesh.edges_m[1:] <= end + 1e-12] = value
    held = np.zeros_like(mesh.edges_m)
    if toward_m is not None:
        held[TIP] = pattern[-1][1] / (1 - toward_m)
    found = critical_axial_load(
        mesh,
        like(mesh, EI),
        growing,
        like(mesh, 0.0),
        Supports(b, *springs, lower_m=a),
        restoring_N_m=None if toward_m is None else held,
    )
    assert bool(found.converged)
    return float(found.values[0])


@pytest.mark.parametrize("bury", [0.05, 0.15, 0.4, 0.8])
def test_a_pull_through_the_heel_pin_is_eulers_pinned_column(bury: float) -> None:
    # the force's line passes through the heel, so the partners take nothing and might as well not be there
    assert engine_factor(0.0, bury, 3.0, toward_m=0.0) == pytest.approx(3.0 * np.pi**2, rel=1e-9)
    # a dead weight on the same mast brings it down far sooner
    assert engine_factor(0.0, bury, 3.0) < 0.95 * 3.0 * np.pi**2


@pytest.mark.parametrize("toward_m", [None, -3.0, -0.2, 0.1, 0.25, 0.6])
@pytest.mark.parametrize(("a", "b"), [(0.0, 0.2), (0.0, 0.5), (0.1, 0.3), (0.3, 0.8)])
def test_a_pull_to_any_height_is_the_determinants_zero(a: float, b: float, toward_m: float | None) -> None:
    by_hand = buckling_factor(a, b, 2.0, toward_m=toward_m)
    assert engine_factor(a, b, 2.0, toward_m=toward_m) == pytest.approx(by_hand, rel=1e-8)


def test_a_pull_from_further_up_steadies_the_mast_more() -> None:
    factors = [engine_factor(0.0, 0.2, 1.0, toward_m=c) for c in (-100.0, -1.0, 0.0, 0.2, 0.4)]
    assert np.all(np.diff(factors) > 0.0)
    assert factors[0] == pytest.approx(engine_factor(0.0, 0.2, 1.0), rel=0.02)


@pytest.mark.parametrize("springs", [(500.0, 900.0), (np.inf, 700.0)])
@pytest.mark.parametrize("toward_m", [None, -0.5, -3.0])
@pytest.mark.parametrize("b", [0.2, 0.6])
def test_a_stiff_mast_on_springs_is_a_rigid_bar(
    b: float, toward_m: float | None, springs: tuple[float, float]
) -> None:
    # tilt t, movement u of the foot, where the thrust is taken: P L t + H L = R b and R + R_heel = H, with
    # H = -P (u + L t)/(L - c) the side part of the pull
    k_heel, k_partners = springs
    c = -1e15 if toward_m is None else toward_m
    soft = 0.0 if np.isinf(k_heel) else 1 / k_heel

    def out_of_balance(P: float) -> float:
        # unknowns (t, u, R_heel); rows: moment about the foot, side forces, heel spring
        back = P / (1 - c)
        upper = np.array([k_partners * b, k_partners, 0.0])
        tip = np.array([1.0, 1.0, 0.0])
        moment = P * np.array([1.0, 0.0, 0.0]) - back * tip - b * upper
        side = upper + [0.0, 0.0, 1.0] + back * tip
        heel = np.array([0.0, 1.0, -soft])
        return float(np.linalg.det([moment, side, heel]))

    loads = np.linspace(1e-3, 3e3, 4000)
    signs = [out_of_balance(P) for P in loads]
    first = next(i for i in range(len(loads) - 1) if signs[i] * signs[i + 1] < 0.0)
    by_hand = brentq(out_of_balance, loads[first], loads[first + 1], xtol=1e-12)
    found = engine_factor(0.0, b, 1e9, toward_m=toward_m, springs=springs)
    assert found == pytest.approx(by_hand, rel=1e-5)


@pytest.mark.parametrize(("a", "b"), [(0.0, 0.3), (0.2, 0.6), (0.3, 0.9)])
def test_a_rigid_bar_held_at_two_heights_under_dead_thrust(a: float, b: float) -> None:
    # P L t is held by forces R at both springs, R (b - a) = P L t, and t (b - a) = R/k_upper + R/k_lower
    lower, upper = 400.0, 900.0
    by_hand = (b - a) ** 2 / (1 / lower + 1 / upper)
    assert engine_factor(a, b, 1e9, springs=(lower, upper)) == pytest.approx(by_hand, rel=1e-5)


PATTERNS = [
    ((0.2, 1.0), (1.0, 0.5)),
    ((0.2, 0.0), (1.0, 1.0)),
    ((0.5, 1.0), (1.0, -0.1)),
    ((0.6, -0.5), (1.0, 1.0)),
]


@pytest.mark.parametrize("pattern", PATTERNS)
def test_stepped_patterns_with_tension_in_part(pattern: Sequence[tuple[float, float]]) -> None:
    by_hand = buckling_factor(0.0, 0.2, 1.0, pattern=pattern)
    assert engine_factor(0.0, 0.2, 1.0, pattern=pattern) == pytest.approx(by_hand, rel=1e-8)


def test_tension_never_brings_a_mast_down_and_no_load_neither() -> None:
    assert engine_factor(0.0, 0.2, 1.0, pattern=((1.0, -1.0),)) == np.inf
    assert engine_factor(0.1, 0.2, 1.0, pattern=((0.5, -1.0), (1.0, -3.0))) == np.inf
    assert engine_factor(0.0, 0.2, 1.0, pattern=((1.0, 0.0),)) == np.inf


def test_what_stays_eats_into_what_may_grow() -> None:
    mesh, held = mesh_of(0.2), Supports(0.2)
    EI, one = like(mesh, 1.0), like(mesh, 1.0)
    alone = buckling_factor(0.0, 0.2, 1.0)

    def left(constant: float) -> float:
        return float(critical_axial_load(mesh, EI, one, constant * one, held).values[0])

    # compression that stays takes from the factor, tension that stays adds to it, one for one
    assert left(0.6 * alone) == pytest.approx(0.4 * alone, rel=1e-8)
    assert left(-2.0 * alone) == pytest.approx(3.0 * alone, rel=1e-8)
    assert left(1.01 * alone) == 0.0
    assert left(30.0 * alone) == 0.0
    # with nothing growing, what stays decides by itself
    none = critical_axial_load(mesh, EI, 0 * one, 2.0 * alone * one, held)
    assert float(none.values[0]) == 0.0
