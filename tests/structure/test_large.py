"""The mast bent far.

Sources: the elastica under a tip force by elliptic integrals (scipy), after Bisshopp and Drucker, Quart.
Appl. Math. 3 (1945); under a uniform load by shooting apart from this engine; Timoshenko and Gere, Theory of
Elastic Stability, for the beam-column (formulas from memory); scipy's ODE solver with a root search; for
the reference mast, shooting apart from this engine, and OpenSeesPy 3.7.1.2 (400 corotational elements).
"""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, root
from scipy.special import ellipe, ellipeinc, ellipk, ellipkinc

from rigcalc.structure.beam import BeamLoad, Supports, solve
from rigcalc.structure.large import LargeDeflection, solve_large
from rigcalc.structure.mesh import Mesh
from rigcalc.structure.modes import critical_axial_load

from . import Floats, Mast, clamped, on_bearings, reference, several

NO_LINE = (0.0, 0.0, 0.0)


def bend(
    mast: Mast,
    EI: Floats,
    tip: tuple[float, float, float],
    line: tuple[Floats | float, Floats | float, Floats | float] = NO_LINE,
) -> LargeDeflection:
    points = np.stack([mast.at_tip(force) for force in tip])
    return solve_large(mast.mesh, EI, mast.vector(*line), points, mast.supports)


# --- the elastica --------------------------------------------------------------------------------


def elastica(load: float) -> tuple[float, float]:
    """Tip deflection and tip height of a unit cantilever under a tip force P L^2/EI across its axis."""

    def parts(tip_slope: float) -> tuple[float, float]:
        m = (1 + np.sin(tip_slope)) / 2
        return m, np.arcsin(1 / np.sqrt(2 * m))

    def excess(tip_slope: float) -> float:
        m, start = parts(tip_slope)
        return ellipk(m) - ellipkinc(start, m) - np.sqrt(load)

    tip_slope = brentq(excess, 1e-9, np.pi / 2 - 1e-12, xtol=1e-15)
    m, start = parts(tip_slope)
    deflection = 1 - 2 / np.sqrt(load) * (ellipe(m) - ellipeinc(start, m))
    return deflection, np.sqrt(2 * np.sin(tip_slope) / load)


@pytest.mark.parametrize("load", [0.05, 0.25, 0.5, 1.0, 2.0, 3.0, 5.0, 10.0, 30.0])
def test_cantilever_with_a_tip_force(load: float) -> None:
    mast = clamped()
    found = bend(mast, mast.stiff_bury(mast.one), (load, 0.0, 0.0))
    deflection, height = elastica(load)
    tip = found.position_m[:, -1, -1]
    assert found.converged
    assert tip[0] == pytest.approx(deflection, rel=1e-9)
    assert tip[1] == 0.0
    assert tip[2] - mast.supports.bury_m == pytest.approx(height, rel=1e-9)
    assert found.moment_N_m[0, mast.bury, 0] == pytest.approx(load * height, rel=1e-9)


# w L^3/EI: deflection and height of the tip over L, by shooting, eight digits
@pytest.mark.parametrize(
    ("load", "deflection", "height"),
    [
        (0.5, 0.062305768, 0.997779),
        (1.0, 0.1234714, 0.9912464),
        (4.0, 0.42515928, 0.89011075),
        (10.0, 0.70019972, 0.65635376),
        (20.0, 0.82988144, 0.44523205),
    ],
)
def test_cantilever_with_a_uniform_load(load: float, deflection: float, height: float) -> None:
    mast = clamped()
    found = bend(mast, mast.stiff_bury(mast.one), NO_LINE, (load * mast.above, 0.0, 0.0))
    assert found.converged
    assert found.position_m[0, -1, -1] == pytest.approx(deflection, abs=1e-8)
    assert found.position_m[2, -1, -1] - mast.supports.bury_m == pytest.approx(height, abs=1e-8)


@pytest.mark.parametrize("share", [-1.0, 0.1, 0.3, 0.5, 0.8])
def test_thrust_magnifies_a_small_tip_force(share: float) -> None:
    """Deflection by 3(tan u - u)/u^3 and root moment by tan u/u, u = (pi/2) sqrt(P/Pcr); tension by tanh."""
    mast, side = clamped(), 1e-4
    found = bend(mast, mast.stiff_bury(mast.one), (side, 0.0, -share * np.pi**2 / 4))
    u = np.emath.sqrt(share) * np.pi / 2
    assert found.converged
    factor = np.real(3 * (np.tan(u) - u) / u**3)
    assert found.position_m[0, -1, -1] == pytest.approx(side / 3 * factor, rel=1e-5)
    assert found.moment_N_m[0, mast.bury, 0] == pytest.approx(side * np.real(np.tan(u) / u), rel=1e-5)


# --- two bearings --------------------------------------------------------------------------------


def shoot(
    bury: float, P: Floats, q: Floats, guess: tuple[float, float], springs: tuple[float, float]
) -> Floats:
    """Tip position of a unit mast, EI = (1 - 0.6 x)^3 over the height x above the partners, one plane.

    P at the tip and q per metre are (side, along); heel slope and partners force are searched for.
    """

    def rates(s: float, y: Floats, partners: float) -> Floats:
        _, _, angle, moment = y
        side, along = P + q * (1 - s) - np.array([partners, 0.0])
        EI = (1 - 0.6 * max(s - bury, 0.0) / (1 - bury)) ** 3
        return np.array(
            [np.sin(angle), np.cos(angle), moment / EI, along * np.sin(angle) - side * np.cos(angle)]
        )

    def ends(unknown: Floats) -> tuple[Floats, Floats]:
        angle, partners = unknown
        heel = P[0] + q[0] - partners
        options = {"method": "DOP853", "rtol": 1e-11, "atol": 1e-13}
        start = np.array([heel / springs[0], 0.0, angle, 0.0])
        low = solve_ivp(rates, (0.0, bury), start, args=(partners,), **options).y[:, -1]
        return low, solve_ivp(rates, (bury, 1.0), low, args=(0.0,), **options).y[:, -1]

    def misses(unknown: Floats) -> Floats:
        low, top = ends(unknown)
        return np.array([low[0] - unknown[1] / springs[1], top[3]])

    found = root(misses, guess, tol=1e-13)
    assert np.max(np.abs(found.fun)) < 1e-9, found.message
    return ends(found.x)[1][:2]


RIGID = (np.inf, np.inf)


@pytest.mark.parametrize(
    ("bury", "tip", "line", "springs"),
    [
        (0.1, (1.0, 0.0), (0.0, 0.0), RIGID),
        (0.3, (5.0, 0.0), (0.0, 0.0), RIGID),
        (0.15, (0.5, 0.0), (2.0, -0.6), RIGID),
        (0.15, (-1.0, 0.4), (3.0, 0.0), RIGID),
        (0.2, (1.0, 8.0), (0.0, -1.0), RIGID),
        (0.2, (0.05, -0.7), (0.0, 0.0), RIGID),
        (0.25, (1.0, -0.2), (1.0, -0.2), (200.0, 400.0)),
    ],
)
def test_mast_on_bearings_by_shooting(
    bury: float, tip: tuple[float, float], line: tuple[float, float], springs: tuple[float, float]
) -> None:
    mast = on_bearings(bury, heel_stiffness=springs[0], partners_stiffness=springs[1])
    EI = (1 - 0.6 * mast.x) ** 3
    found = bend(mast, EI, (tip[0], 0.0, tip[1]), (line[0], 0.0, line[1]))
    side, _, along = found.position_m[:, 0, 1] - found.position_m[:, 0, 0]
    guess = (np.arctan2(side, along), found.partners_N[0])
    expected = shoot(bury, np.array(tip), np.array(line), guess, springs)
    assert found.converged
    np.testing.assert_allclose(found.position_m[[0, 2], -1, -1], expected, atol=1e-8)


@pytest.mark.parametrize("springs", [RIGID, (50.0, 90.0)])
def test_a_small_load_bends_it_as_the_straight_mast(springs: tuple[float, float]) -> None:
    mast = on_bearings(0.2, heel_stiffness=springs[0], partners_stiffness=springs[1])
    EI, side = (1 - 0.5 * mast.x) ** 3, 1e-4
    small = solve(mast.mesh, EI, BeamLoad(side * mast.one, mast.at_tip(side)), mast.supports)
    found = bend(mast, EI, (side, 0.0, 0.0), (side, 0.0, 0.0))
    assert found.partners_N[0] == pytest.approx(small.partners_N, rel=1e-6)
    scale = np.max(np.abs(small.deflection_m))
    np.testing.assert_allclose(found.position_m[0], small.deflection_m, atol=1e-6 * scale)
    np.testing.assert_allclose(found.moment_N_m[0], small.moment_N_m, atol=1e-6 * np.max(small.moment_N_m))


def test_force_at_the_heel_moves_an_elastic_heel_bearing() -> None:
    mast = on_bearings(0.25, heel_stiffness=5e3)
    points = np.stack([mast.at((0.0, 1.0)), mast.no_points, mast.no_points])
    found = solve_large(mast.mesh, mast.one, mast.vector(*NO_LINE), points, mast.supports)
    assert found.position_m[0, 0, 0] == pytest.approx(2e-4, rel=1e-9)
    assert found.position_m[0, -1, -1] == pytest.approx(-6e-4, rel=1e-6)


@pytest.mark.parametrize("angle", [0.3, np.pi / 2, 2.5, -1.0])
@pytest.mark.parametrize("springs", [RIGID, (60.0, 200.0)])
def test_an_oblique_load_is_the_same_answer_turned(angle: float, springs: tuple[float, float]) -> None:
    mast = on_bearings(0.2, heel_stiffness=springs[0], partners_stiffness=springs[1])
    EI = (1 - 0.5 * mast.x) ** 3
    c, s = np.cos(angle), np.sin(angle)
    plane = bend(mast, EI, (1.0, 0.0, -0.1), (1 - mast.x, 0.0, -0.2))
    turned = bend(mast, EI, (c, s, -0.1), (c * (1 - mast.x), s * (1 - mast.x), -0.2))
    assert plane.converged
    assert turned.converged
    turn = np.array([c, s])[:, None, None]
    np.testing.assert_allclose(turned.position_m[:2], turn * plane.position_m[0], atol=1e-10)
    np.testing.assert_allclose(turned.position_m[2], plane.position_m[2], atol=1e-10)
    np.testing.assert_allclose(turned.moment_N_m, turn * plane.moment_N_m[0], atol=1e-10)
    np.testing.assert_allclose(turned.partners_N, turn[:, 0, 0] * plane.partners_N[0], atol=1e-9)


# (weight along the mast counted or not): reference, OpenSeesPy
@pytest.mark.parametrize(
    ("weight", "tip", "opensees"), [(1.0, 0.2691049911, 0.2691056002), (0.0, 0.2668869643, 0.2668879739)]
)
def test_reference_mast(weight: float, tip: float, opensees: float) -> None:
    tips = []
    for elements in (12, 24):
        ref = reference(elements=elements)
        mast = ref.mast
        line = mast.vector(ref.load.line_N_m, 0.0, -weight * ref.down)
        points = np.stack([ref.load.point_N, mast.no_points, mast.no_points])
        found = solve_large(mast.mesh, ref.EI, line, points, mast.supports)
        assert found.converged
        tips.append(found.position_m[0, -1, -1])
    assert tips[0] == pytest.approx(tip, rel=1e-9)
    assert tips[0] == pytest.approx(opensees, rel=5e-6)
    assert tips[1] == pytest.approx(tips[0], rel=1e-9)


# --- batches and loads without an answer ---------------------------------------------------------


def test_batch_of_cases_and_candidates_equals_each_alone() -> None:
    """To the tolerance of the rounds: a mast alone stops as soon as it is there, a batch goes on."""
    rng = np.random.default_rng(3)
    masts = [
        Mast(Mesh(np.append(np.linspace(0, b, 3)[:-1], np.linspace(b, L, 9))), Supports(b))
        for b, L in ((0.1, 1.0), (0.3, 1.2))
    ]
    together = several(masts)
    EI = np.stack([(1 - share * m.x) ** 3 for share, m in zip((0.3, 0.6), masts, strict=True)])
    line = rng.normal(size=(3, 4, 1, 1, 1)) * np.array([1.0, 1.0, 0.1])[:, None, None, None, None]
    line = np.broadcast_to(line, (3, 4, *EI.shape))
    points = np.zeros((3, 4, 2, masts[0].mesh.edges_m.size))
    points[..., -1] = rng.normal(size=(3, 4, 1)) * np.array([1.0, 1.0, 0.1])[:, None, None]
    found = solve_large(together.mesh, EI, line, points, together.supports)
    assert found.converged.shape == (4, 2)
    assert np.all(found.converged)
    for case, i in np.ndindex(4, 2):
        at = np.s_[:, case, i]
        alone = solve_large(masts[i].mesh, EI[i], line[at], points[at], masts[i].supports)
        np.testing.assert_allclose(found.position_m[at], alone.position_m, atol=1e-9)
        np.testing.assert_allclose(found.moment_N_m[at], alone.moment_N_m, atol=1e-8)


def assert_in_equilibrium(mast: Mast, found: LargeDeflection, tip: tuple[float, float]) -> None:
    """Moments, tangents and curvatures taken anew from the shape that came back, one plane, EI = 1."""
    assert np.all(np.isfinite(found.position_m))
    assert np.all(np.isfinite(found.moment_N_m))
    side, along = found.position_m[0], found.position_m[2]
    moment = tip[0] * (along[-1, -1] - along) - tip[1] * (side[-1, -1] - side)
    above = mast.bury
    scale = np.max(np.abs(moment)) + 1e-9
    # the rounds stop at 1e-10 of a radian, whatever the load
    np.testing.assert_allclose(
        found.moment_N_m[0, above:], moment[above:], atol=1e-7 * scale + 1e-9 * abs(tip[1])
    )
    for z, x, y, M in zip(mast.z, along, side, found.moment_N_m[0], strict=True):
        xs, ys = (np.polynomial.Polynomial.fit(z, f, z.size - 1).deriv() for f in (x, y))
        np.testing.assert_allclose(np.hypot(xs(z), ys(z)), 1.0, atol=1e-5)
        curvature = xs(z) * ys.deriv()(z) - ys(z) * xs.deriv()(z)
        np.testing.assert_allclose(curvature, M, atol=1e-3 * scale)
    lower, upper = (float(side[0, 0]), float(along[0, 0])), (float(side[above, 0]), float(along[above, 0]))
    # both bearings against the load, about the foot with what comes down there
    assert found.partners_N[0] + found.heel_N[0] == pytest.approx(tip[0], abs=1e-12)
    arm = tip[0] * (along[-1, -1] - lower[1]) - tip[1] * (side[-1, -1] - lower[0])
    assert found.partners_N[0] * (upper[1] - lower[1]) == pytest.approx(arm, abs=1e-7 * scale)
    # the shear is what the moment changes by along the mast, and nothing else turns it
    for z, M, V in zip(mast.z, found.moment_N_m[0], found.shear_N[0], strict=True):
        change = np.polynomial.Polynomial.fit(z, M, z.size - 1).deriv()(z)
        np.testing.assert_allclose(-change, V, atol=1e-3 * (scale + abs(tip[1])))


def test_what_comes_back_is_an_equilibrium_or_is_said_not_to_be() -> None:
    """Side forces up to 1e4 EI/L^2, thrusts in shares of the critical one, all in one batch.

    A straight mast under thrust alone comes back straight at any thrust: that is an equilibrium, and
    whether it is a stable one is the question of ``critical_axial_load``.
    """
    mast = on_bearings(0.2, elements=24)
    critical = critical_axial_load(mast.mesh, mast.one, mast.one, 0 * mast.one, mast.supports).values[0]
    sides = [0.0, 1e-6, 1e-2, 1.0, 1e2, 1e3, 1e4]
    thrusts = [0.0, 0.5, 0.99, 1.0, 1.01, 1.1, 2.0, 100.0]
    loads = np.array(list(product(sides, thrusts))) * [1.0, critical]
    points = np.zeros((3, len(loads), mast.mesh.edges_m.size))
    points[0, :, -1], points[2, :, -1] = loads[:, 0], -loads[:, 1]
    line = np.zeros((3, len(loads), *mast.z.shape))
    found = solve_large(mast.mesh, mast.one, line, points, mast.supports)
    for i, (side, thrust) in enumerate(loads):
        if found.converged[i]:
            one = LargeDeflection(
                position_m=found.position_m[:, i],
                tangent=found.tangent[:, i],
                moment_N_m=found.moment_N_m[:, i],
                shear_N=found.shear_N[:, i],
                partners_N=found.partners_N[:, i],
                heel_N=found.heel_N[:, i],
                converged=found.converged[i],
                rounds=0,
            )
            assert_in_equilibrium(mast, one, (side, -thrust))
        else:
            # the loads a mast meets in service must not end here
            assert side > 1e2 or thrust > 0.9 * critical, (side, thrust)


def test_a_mast_without_an_answer_spoils_no_other() -> None:
    mast = on_bearings(0.2)
    points = np.zeros((3, 2, mast.mesh.edges_m.size))
    points[0, :, -1] = 1.0, 1e4
    line = np.zeros((3, 2, *mast.z.shape))
    found = solve_large(mast.mesh, np.stack([mast.one] * 2), line, points, mast.supports, most_rounds=60)
    assert found.converged.tolist() == [True, False]
    assert found.rounds == 60
    alone = bend(mast, mast.one, (1.0, 0.0, 0.0))
    np.testing.assert_allclose(found.position_m[:, 0], alone.position_m, atol=1e-9)


def test_too_few_rounds_are_reported() -> None:
    mast = on_bearings(0.2)
    points = np.stack([mast.at_tip(1.0), mast.no_points, mast.no_points])
    found = solve_large(mast.mesh, mast.one, mast.vector(*NO_LINE), points, mast.supports, most_rounds=3)
    assert not found.converged


@pytest.mark.parametrize("load", [0.05, 0.5, 3.0, 30.0])
def test_it_comes_to_rest_in_the_same_shape_wherever_it_begins(load: float) -> None:
    """From the slopes of the straight mast, which a great load turns far past level, from upright, and at rest."""
    mast = on_bearings(0.2)
    line, points = mast.vector(*NO_LINE), np.stack([mast.at_tip(force) for force in (load, 0.3 * load, 0.0)])
    small = solve(mast.mesh, mast.one, BeamLoad(line[:2], points[:2]), mast.supports)
    upright = solve_large(mast.mesh, mast.one, line, points, mast.supports)
    begun = solve_large(mast.mesh, mast.one, line, points, mast.supports, slope_rad=small.slope_rad)
    assert upright.converged and begun.converged
    assert begun.rounds <= upright.rounds + 5
    np.testing.assert_allclose(begun.position_m, upright.position_m, rtol=0, atol=1e-8)
    np.testing.assert_allclose(begun.moment_N_m, upright.moment_N_m, rtol=0, atol=1e-7 * load)
