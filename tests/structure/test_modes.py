"""Natural frequencies and axial stability.

Sources: roots of the frequency determinants at 30 digits (uniform beams on any bearings); shooting with an
eighth-order Runge-Kutta method at 1e-12 (tapered beams and columns, the reference mast), worked out apart
from this engine; OpenSeesPy 3.7.1.2 with 400 elements of constant section; scipy's ODE solver and eigenvalue
solver here. Self-weight buckling: 9/4 of the square of the first zero of the Bessel function J(-1/3).
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.linalg import eigh
from scipy.optimize import brentq

from rigcalc.structure.beam import BeamLoad, Supports, solve
from rigcalc.structure.mesh import Mesh
from rigcalc.structure.modes import Eigen, critical_axial_load, natural_frequencies

from . import Floats, Mast, clamped, on_bearings, reference, several


def modes(mast: Mast, EI: Floats, mass: Floats, tip_mass: float = 0.0, *, count: int = 2) -> Eigen:
    return natural_frequencies(mast.mesh, EI, mass, mast.at_tip(tip_mass), mast.supports, count=count)


def critical(mast: Mast, EI: Floats, growing: Floats, constant: Floats | None = None) -> Eigen:
    stays = 0 * mast.one if constant is None else constant
    return critical_axial_load(mast.mesh, EI, growing, stays, mast.supports)


# --- frequencies of uniform masts ----------------------------------------------------------------


def beta_L(found: Eigen) -> Floats:
    """(omega^2 m L^4/EI)^(1/4) of a mast of unit stiffness, mass and length."""
    return np.sqrt(2 * np.pi * found.values)


def test_uniform_cantilever() -> None:
    mast = clamped()
    found = modes(mast, mast.stiff_bury(mast.one), mast.above, count=5)
    exact = [1.875104068712, 4.6940911329742, 7.8547574382376, 10.995540734875, 14.137168391046]
    assert found.converged
    np.testing.assert_allclose(beta_L(found), exact, rtol=1e-12)


def test_uniform_beam_between_its_bearings() -> None:
    """Without mass above the partners the mast is a beam on two pins: k pi."""
    mast = on_bearings(1.0, length_m=1.3)
    found = modes(mast, mast.one, 1 - mast.above, count=4)
    np.testing.assert_allclose(beta_L(found), np.pi * np.arange(1, 5), rtol=1e-11)


# bury over length: the first three beta L, from the 4 x 4 determinant, ten digits
OVERHANG = {
    0.02: (1.900562013, 4.758541264, 7.963656499),
    0.05: (1.940544487, 4.862496716, 8.142940535),
    0.10: (2.012460714, 5.056885473, 8.485728059),
    0.15: (2.091900231, 5.280783746, 8.885013503),
    0.20: (2.180143461, 5.538081555, 9.338491777),
    0.30: (2.389706155, 6.166246577, 10.19878897),
    0.40: (2.658636941, 6.894102739, 9.042906126),
    0.50: (3.011830917, 6.826201351, 8.874548609),
}


@pytest.mark.parametrize("bury", OVERHANG)
def test_uniform_mast_on_two_bearings(bury: float) -> None:
    mast = on_bearings(bury)
    found = modes(mast, mast.one, mast.one, count=3)
    assert found.converged
    np.testing.assert_allclose(beta_L(found), OVERHANG[bury], rtol=3e-10)


# --- tapered -------------------------------------------------------------------------------------

# (power of the diameter in A, in I; tip over root): omega L^2 sqrt(m/EI) at the root, by shooting, eight
# digits. (2, 4) is a solid cone, (1, 3) a thin tube of constant wall.
TAPERED = {
    (2, 4, 0.8): (3.8551168, 21.056745, 56.630345),
    (2, 4, 0.5): (4.6251503, 19.547613, 48.578899),
    (2, 4, 0.25): (5.8230659, 18.479705, 41.321343),
    (2, 4, 0.1): (7.2048716, 18.680161, 37.123834),
    (1, 3, 0.8): (3.6082749, 20.621018, 56.192278),
    (1, 3, 0.5): (3.8237848, 18.317261, 47.264827),
    (1, 3, 0.25): (4.1765926, 16.184291, 38.77502),
    (1, 3, 0.1): (4.6307239, 14.930793, 32.833121),
}


@pytest.mark.parametrize("law", TAPERED)
def test_tapered_cantilever(law: tuple[int, int, float]) -> None:
    area_power, I_power, ratio = law
    mast = clamped()
    d = 1 - (1 - ratio) * mast.x
    found = modes(mast, mast.stiff_bury(d**I_power), mast.above * d**area_power, count=3)
    np.testing.assert_allclose(2 * np.pi * found.values, TAPERED[law], rtol=3.5e-8)


def test_equal_double_taper_of_a_rectangle_is_a_cone() -> None:
    """Root four times the tip both ways, omega L^2 sqrt(m/EI) at the tip, by shooting, eight digits."""
    mast = clamped()
    side = 4 - 3 * mast.x
    found = modes(mast, mast.stiff_bury(side * side**3), mast.above * side * side, count=3)
    np.testing.assert_allclose(2 * np.pi * found.values, [23.292263, 73.918819, 165.28537], rtol=3e-8)


# --- bearings that give, masses, bounds ----------------------------------------------------------


@pytest.mark.parametrize("tip_mass", [0.0, 3.0])
@pytest.mark.parametrize(("heel", "partners"), [(2e3, 5e3), (100.0, 4e4)])
def test_stiff_mast_on_springs_is_a_rigid_bar(heel: float, partners: float, tip_mass: float) -> None:
    """Bar of mass m and length L on springs at its heel and at b; unknowns heel movement and turn."""
    L, b, m = 5.0, 1.0, 2.0
    mast = on_bearings(b, length_m=L, heel_stiffness=heel, partners_stiffness=partners)
    found = modes(mast, 1e12 * mast.one, m * mast.one, tip_mass)
    stiffness = np.array([[heel + partners, partners * b], [partners * b, partners * b**2]])
    mass = m * L * np.array([[1, L / 2], [L / 2, L**2 / 3]]) + tip_mass * np.array([[1, L], [L, L**2]])
    exact = np.sqrt(eigh(stiffness, mass, eigvals_only=True)) / (2 * np.pi)
    assert found.converged
    np.testing.assert_allclose(found.values, exact, rtol=1e-6)


def test_mass_at_an_elastic_heel_swings() -> None:
    """A light stiff bar that turns about rigid partners: heel mass on its spring alone, sqrt(k/m)/(2 pi)."""
    mast = on_bearings(1.0, length_m=1.5, heel_stiffness=4e3)
    heel_mass = mast.at((0.0, 50.0))
    found = natural_frequencies(mast.mesh, 1e9 * mast.one, 1e-3 * mast.one, heel_mass, mast.supports, count=1)
    assert found.values[0] == pytest.approx(np.sqrt(4e3 / 50.0) / (2 * np.pi), rel=1e-4)


# at 1e3 times the mast's own mass and more, the shapes differ by little but rounding
@pytest.mark.parametrize("ratio", [10.0, 100.0, 1e3, 1e4, 1e6])
@pytest.mark.parametrize("count", [1, 2])
def test_heavy_tip_mass_swings_on_the_masts_stiffness(ratio: float, count: int) -> None:
    """Rayleigh's bound: sqrt(k/(M + m_eff))/(2 pi) with the mast's part taken on the static shape."""
    mast = on_bearings(1.0, length_m=5.0)
    tip_mass = ratio * 5.0
    found = modes(mast, mast.one, mast.one, tip_mass, count=count)
    still = solve(mast.mesh, mast.one, BeamLoad(0 * mast.one, mast.at_tip(1.0)), mast.supports)
    shape = still.deflection_m / still.deflection_m[-1, -1]
    k = 3.0 / (4.0**2 * 5.0)
    assert 1 / still.deflection_m[-1, -1] == pytest.approx(k, rel=1e-12)
    bound = np.sqrt(k / (tip_mass + mast.mesh.total(shape**2))) / (2 * np.pi)
    assert found.converged or count > 1
    assert bound * (1 - 0.01 / ratio - 1e-10) < found.values[0] <= bound * (1 + 1e-10)


def test_masses_and_soft_bearings_lower_the_frequencies_and_stiffness_raises_them() -> None:
    ref = reference()
    mast = ref.mast
    plain = modes(mast, ref.EI, ref.mass).values
    softer = Mast(mast.mesh, Supports(1.0, 1e6, 1e6))
    for lower in (modes(mast, ref.EI, ref.mass, 3.0), modes(mast, ref.EI, 1.2 * ref.mass)):
        assert np.all(lower.values < plain)
    assert np.all(modes(softer, ref.EI, ref.mass).values < plain)
    np.testing.assert_allclose(modes(mast, 4 * ref.EI, ref.mass).values, 2 * plain, rtol=1e-11)
    higher = modes(mast, ref.EI * (1 + 0.2 * mast.x), ref.mass).values
    assert np.all(higher > plain)


def test_rayleigh_quotient_of_the_weight_shape_is_a_close_upper_bound() -> None:
    ref = reference()
    mast = ref.mast
    still = solve(mast.mesh, ref.EI, BeamLoad(ref.mass * mast.above, mast.no_points), mast.supports)
    y = still.deflection_m
    bound = np.sqrt(mast.mesh.total(ref.mass * mast.above * y) / mast.mesh.total(ref.mass * y**2)) / (
        2 * np.pi
    )
    first = modes(mast, ref.EI, ref.mass).values[0]
    assert first < bound < 1.02 * first


@pytest.mark.parametrize("tip_mass", [0.0, 8.0])
def test_modes_are_orthogonal_in_mass_and_of_falling_length_of_wave(tip_mass: float) -> None:
    ref = reference()
    mast = ref.mast
    found = modes(mast, ref.EI, ref.mass, tip_mass, count=3)
    y = found.deflection_m
    inner = np.array(
        [[mast.mesh.total(ref.mass * a * b) + tip_mass * a[-1, -1] * b[-1, -1] for a in y] for b in y]
    )
    size = np.sqrt(np.diag(inner))
    # the values rest at 1e-12 when the shapes are good to its square root
    np.testing.assert_allclose(inner / np.outer(size, size), np.eye(3), atol=1e-6)
    above = y[:, mast.bury :].reshape(3, -1)
    crossings = [int(np.sum(np.diff(np.sign(f[np.abs(f) > 1e-9 * np.max(np.abs(f))])) != 0)) for f in above]
    assert crossings == [0, 1, 2]


# --- the reference mast, meshes, batches ---------------------------------------------------------

# quantity: (reference, OpenSeesPy)
WHOLE = {
    "first frequency, Hz": (2.545565952, 2.545558555),
    "second frequency, Hz": (12.44724832, 12.44720935),
    "critical tip load, N": (4140.327827, 4140.325829),
    "critical tip load with the mast's weight, N": (4109.977107, 4109.974888),
}


def of_the_reference(elements: int) -> dict[str, float]:
    ref = reference(elements=elements)
    mast = ref.mast
    frequencies = modes(mast, ref.EI, ref.mass).values
    weight = mast.mesh.from_tip(ref.down)
    answers = (
        *frequencies,
        critical(mast, ref.EI, mast.one).values[0],
        critical(mast, ref.EI, mast.one, weight).values[0],
    )
    return dict(zip(WHOLE, answers, strict=True))


def test_reference_mast() -> None:
    ours, finer = of_the_reference(12), of_the_reference(24)
    for name, (computed, opensees) in WHOLE.items():
        assert ours[name] == pytest.approx(computed, rel=1e-9), name
        assert ours[name] == pytest.approx(opensees, rel=5e-6), name
        assert finer[name] == pytest.approx(ours[name], rel=1e-10), name


def test_error_falls_with_the_elements_on_a_strong_taper() -> None:
    """The second frequency of a cone of tip 0.1, and its critical tip load, against a fine mesh."""
    answers = []
    for elements in (1, 2, 4, 8, 32):
        mast = clamped(elements=elements)
        d = 1 - 0.9 * mast.x
        EI = mast.stiff_bury(d**4)
        answers.append([modes(mast, EI, mast.above * d**2).values[1], critical(mast, EI, mast.one).values[0]])
    errors = np.abs(np.array(answers[:-1]) / answers[-1] - 1)
    assert np.all(errors[0] > 1e-4), "one element is meant to be too few"
    falls = np.log2(errors[:-1] / errors[1:])
    assert np.all(np.diff(falls[:, 1]) > 0), falls
    assert np.all(falls[-1] > 7), falls
    assert np.all(errors[-1] < 1e-6), errors


def test_batch_of_candidates_equals_each_alone() -> None:
    """Candidates of different bury, length, section, mass and thrust; the iteration rests at 1e-12."""
    masts = [
        Mast(Mesh(np.append(np.linspace(0, b, 3)[:-1], np.linspace(b, L, 9))), Supports(b))
        for b, L in ((0.5, 4.0), (1.3, 9.0), (2.0, 5.5))
    ]
    together = several(masts)
    d = np.stack([1 - share * m.x for share, m in zip((0.3, 0.6, 0.0), masts, strict=True)])
    points = np.zeros_like(together.mesh.edges_m)
    points[:, -1] = 0.0, 2.0, 1.0
    thrust = np.stack([m.one * (i + 1) + m.mesh.from_tip(m.one) for i, m in enumerate(masts)])
    swing = natural_frequencies(together.mesh, d**3, d, points, together.supports)
    fall = critical_axial_load(together.mesh, d**3, thrust, 0 * d, together.supports)
    assert swing.converged.tolist() == fall.converged.tolist() == [True] * 3
    for i, mast in enumerate(masts):
        alone = natural_frequencies(mast.mesh, d[i] ** 3, d[i], points[i], mast.supports)
        np.testing.assert_allclose(swing.values[i], alone.values, rtol=1e-11)
        alone = critical_axial_load(mast.mesh, d[i] ** 3, thrust[i], 0 * d[i], mast.supports)
        np.testing.assert_allclose(fall.values[i], alone.values, rtol=1e-11)


def test_batch_with_two_axes_equals_each_alone() -> None:
    """Axes (case, candidate): one mast in two materials, three thrusts."""
    mast = on_bearings(0.8, length_m=5.0)
    EI = np.stack([mast.one, (1 - 0.5 * mast.x) ** 3])
    thrust = np.stack([mast.one, mast.mesh.from_tip(mast.one), 1 - mast.x])[:, None]
    EI, thrust = np.broadcast_to(EI, (3, 2, *mast.z.shape)), np.broadcast_to(thrust, (3, 2, *mast.z.shape))
    found = critical_axial_load(mast.mesh, EI, thrust, np.zeros_like(EI), mast.supports)
    assert found.values.shape == (3, 2, 1)
    assert found.deflection_m.shape == (3, 2, 1, *mast.z.shape)
    for at in np.ndindex(3, 2):
        alone = critical(mast, EI[at], thrust[at])
        assert found.values[at][0] == pytest.approx(alone.values[0], rel=1e-11)


# --- axial stability -----------------------------------------------------------------------------


def test_columns() -> None:
    """Clamped pi^2/4, on two pins pi^2 k^2; under its own weight 9/4 j^2, j = 1.8663508588739."""
    mast = clamped()
    EI = mast.stiff_bury(mast.one)
    assert critical(mast, EI, mast.one).values[0] == pytest.approx(np.pi**2 / 4, rel=1e-12)
    weight = mast.mesh.from_tip(mast.one)
    assert critical(mast, EI, weight).values[0] == pytest.approx(9 / 4 * 1.8663508588739**2, rel=1e-12)
    pinned = on_bearings(1.0, length_m=1.3)
    found = critical(pinned, pinned.one, 1 - pinned.above)
    assert found.values[0] == pytest.approx(np.pi**2, rel=1e-11)


@pytest.mark.parametrize("bury", [0.02, 0.1, 0.25, 0.5, 0.9])
def test_uniform_mast_on_two_bearings_under_tip_thrust(bury: float) -> None:
    """k = sqrt(P/EI) is the first root of k b (cot k a + cot k b) = 1.

    Above the partners the shape is a sine about the line of thrust, the moment at the partners is the
    thrust times the tip's deflection, and the bury is a beam-column turned by that moment at its end.
    """
    a = 1 - bury

    def misses(k: float) -> float:
        return k * bury * (1 / np.tan(k * a) + 1 / np.tan(k * bury)) - 1

    k = brentq(misses, 1e-3, np.pi / max(a, bury) - 1e-9, xtol=1e-15)
    mast = on_bearings(bury)
    assert critical(mast, mast.one, mast.one).values[0] == pytest.approx(k**2, rel=1e-10)


# tip over root diameter, power of the diameter in I: tip load, and own weight per metre at the root, over
# EI/L^2 and EI/L^3 at the root; by shooting, seven digits
@pytest.mark.parametrize(
    ("ratio", "power", "tip_load", "own_weight"),
    [
        (0.8, 4, 1.883497, 9.088705),
        (0.5, 4, 1.028965, 12.05356),
        (0.1, 4, 0.080446, 23.02853),
        (0.8, 3, 2.023302, 8.076177),
        (0.5, 3, 1.336427, 8.639078),
        (0.1, 3, 0.3208679, 10.8966),
    ],
)
def test_tapered_columns(ratio: float, power: int, tip_load: float, own_weight: float) -> None:
    mast = clamped()
    d = 1 - (1 - ratio) * mast.x
    EI = mast.stiff_bury(d**power)
    weight = mast.mesh.from_tip(mast.above * d ** (power - 2))
    assert critical(mast, EI, mast.one).values[0] == pytest.approx(tip_load, abs=6e-7, rel=1e-9)
    assert critical(mast, EI, weight).values[0] == pytest.approx(own_weight, rel=4e-7)


def by_shooting(mast: Mast, axial: list[float], *, below: float) -> float:
    """Factor on a stepwise axial force at which a unit mast of EI (1 - 0.5 x)^3 has a bent equilibrium."""
    b = float(mast.supports.bury_m)
    cuts = np.array([0.0, b, 0.5, 1.0])

    def determinant(factor: float) -> float:
        # columns: unit slope at the heel, unit heel force; rows: deflection, slope, moment
        y = np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 0.0]])
        at_partners = np.zeros(2)
        for (z0, z1), N in zip(pairwise(cuts), axial, strict=True):

            def rates(z: float, f: Floats, N: float = N, z0: float = z0) -> Floats:
                _, slope, moment = f.reshape(3, 2)
                EI = (1 - 0.5 * max(z - b, 0.0) / (1 - b)) ** 3
                return np.concatenate([slope, moment / EI, [0, 1] * np.array(z0 < b) - factor * N * slope])

            y = (
                solve_ivp(rates, (z0, z1), y.ravel(), method="DOP853", rtol=1e-11, atol=1e-13)
                .y[:, -1]
                .reshape(3, 2)
            )
            if z1 == b:
                at_partners = y[0].copy()
        return float(np.linalg.det(np.stack([at_partners, y[2]])))

    # the first change of sign, looked for from below
    factors = np.geomspace(below / 30, 30 * below, 60)
    signs = np.sign([determinant(f) for f in factors])
    i = int(np.argmax(signs != signs[0]))
    return brentq(determinant, factors[i - 1], factors[i], xtol=1e-14, rtol=1e-13)


# axial compression in the bury, from there to half height, and above; the last two are partly tension
@pytest.mark.parametrize(
    "axial", [[1.0, 1.0, 1.0], [3.0, 2.0, 0.0], [0.0, 0.0, 1.0], [1.0, 1.0, -0.5], [-1.0, 2.0, 1.0]], ids=str
)
def test_stepped_axial_force_by_shooting(axial: list[float]) -> None:
    mast = on_bearings(0.2, kinks_m=(0.5,))
    middle = mast.z.mean(axis=-1, keepdims=True)
    force = np.select([middle < 0.2, middle < 0.5], axial[:2], axial[2]) * mast.one
    found = critical(mast, (1 - 0.5 * mast.x) ** 3, force)
    assert found.converged
    assert found.values[0] == pytest.approx(by_shooting(mast, axial, below=2.0), rel=1e-9)


@pytest.mark.parametrize("share", [0.3, 0.9, 0.999])
def test_what_stays_and_what_grows_add_up(share: float) -> None:
    """At the factor found, all of it together is just critical; and it takes its share of the reserve."""
    mast = on_bearings(0.2)
    EI = (1 - 0.5 * mast.x) ** 3
    weight = mast.mesh.from_tip(mast.one)
    weight = share * critical(mast, EI, weight).values[0] * weight
    factor = critical(mast, EI, mast.one, weight).values[0]
    assert 0 < factor < critical(mast, EI, mast.one).values[0]
    assert critical(mast, EI, weight + factor * mast.one).values[0] == pytest.approx(1.0, rel=1e-10)


@pytest.mark.parametrize("share", [1.001, 1.5, 5.0, 1000.0])
def test_no_reserve_where_what_stays_is_too_much_already(share: float) -> None:
    mast = on_bearings(0.2)
    weight = mast.mesh.from_tip(mast.one)
    weight = share * critical(mast, mast.one, weight).values[0] * weight
    found = critical(mast, mast.one, mast.one, weight)
    assert not found.converged or found.values[0] <= 0
    assert np.all(np.isfinite(found.values))


@pytest.mark.parametrize("growing", [0.0, -1.0])
def test_nothing_to_grow_is_no_verdict(growing: float) -> None:
    """Without compression there is no critical factor: infinite, or said not to be found."""
    mast = on_bearings(0.2)
    found = critical(mast, mast.one, growing * mast.one)
    assert not found.converged or found.values[0] == np.inf


def test_a_case_without_thrust_spoils_no_other() -> None:
    mast = on_bearings(0.2)
    pair = np.stack([mast.one, 0 * mast.one])
    found = critical_axial_load(mast.mesh, np.stack([mast.one] * 2), pair, 0 * pair, mast.supports)
    assert found.converged[0]
    assert found.values[0, 0] == pytest.approx(critical(mast, mast.one, mast.one).values[0], rel=1e-11)


def test_too_few_rounds_are_reported() -> None:
    mast = on_bearings(0.2)
    swing = natural_frequencies(mast.mesh, mast.one, mast.one, mast.no_points, mast.supports, most_rounds=1)
    fall = critical_axial_load(mast.mesh, mast.one, mast.one, 0 * mast.one, mast.supports, most_rounds=1)
    assert not swing.converged
    assert not fall.converged


def test_nothing_that_stays_is_the_same_as_a_load_of_nothing() -> None:
    mast = on_bearings(0.2)
    growing = mast.one * np.linspace(1.0, 3.0, mast.one.size).reshape(mast.one.shape)
    without = critical_axial_load(mast.mesh, mast.one, growing, None, mast.supports)
    nothing = critical_axial_load(mast.mesh, mast.one, growing, 0 * growing, mast.supports)
    assert without.converged and nothing.converged
    np.testing.assert_array_equal(without.values, nothing.values)
