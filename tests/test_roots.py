"""Roots, points of quadrature, distinct values and the incomplete gamma function beside those of numpy and scipy."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq
from scipy.special import gamma, gammaincc

from rigcalc.limits.lifetime import upper_gamma
from rigcalc.quadrature import gauss, legendre, lobatto
from rigcalc.roots import root
from rigcalc.stretches import distinct, distinct_rows

BENT: tuple[tuple[str, Callable[[float, float, float], float]], ...] = (
    ("cubic", lambda x, a, b: (x - a) ** 3 + b * (x - a)),
    ("steep", lambda x, a, b: math.tanh(20 * (x - a)) + 0.01 * (x - a)),
    ("grows fast", lambda x, a, b: math.exp(x) - math.exp(a)),
    ("flat at the root", lambda x, a, b: math.copysign(abs(x - a) ** (1 + 3 * b), x - a)),
    ("upright at the root", lambda x, a, b: math.copysign(abs(x - a) ** 0.3, x - a)),
    ("kinked", lambda x, a, b: (x - a) * (5.0 if x > a else 0.1)),
    ("a step", lambda x, a, b: 1.0 if x >= a else -1.0),
)


@pytest.mark.parametrize(("name", "bent"), BENT, ids=[name for name, _ in BENT])
@given(a=st.floats(-2.9, 3.9), b=st.floats(0.0, 1.0), digits=st.integers(4, 15))
def test_a_root_is_that_of_scipy(
    name: str, bent: Callable[[float, float, float], float], a: float, b: float, digits: int
) -> None:
    xtol = 10.0**-digits

    def of(x: float) -> float:
        return bent(x, a, b)

    if of(-3.0) * of(4.0) >= 0:
        return
    found = root(of, -3.0, 4.0, xtol=xtol, most=500)
    assert found == pytest.approx(brentq(of, -3.0, 4.0, xtol=xtol, maxiter=500), abs=xtol, rel=1e-14)
    # the function changes sign within the distance that was asked for
    room = xtol + 4 * 2.0**-52 * abs(found)
    assert of(found - room) <= 0 <= of(found + room)


def test_a_root_takes_no_more_steps_than_scipys() -> None:
    for name, bent in BENT:
        asked: list[float] = []

        def of(x: float, bent: Callable[..., float] = bent, asked: list[float] = asked) -> float:
            asked.append(x)
            return bent(x, 1.2345, 0.5)

        found = root(of, -3.0, 4.0, xtol=1e-12, most=500)
        ours = len(asked)
        asked.clear()
        assert found == brentq(of, -3.0, 4.0, xtol=1e-12, maxiter=500), name
        assert ours <= len(asked)


def test_a_root_at_either_end_is_found() -> None:
    assert root(lambda x: x - 1.0, 1.0, 2.0, xtol=1e-12) == 1.0
    assert root(lambda x: x - 2.0, 1.0, 2.0, xtol=1e-12) == 2.0


def test_what_has_no_root_is_told() -> None:
    with pytest.raises(ValueError, match="no change of sign between 1 and 2"):
        root(lambda x: x, 1.0, 2.0, xtol=1e-12)
    with pytest.raises(ArithmeticError, match="no value at"):
        root(lambda x: x if abs(x) > 1 else math.nan, -2.0, 3.0, xtol=1e-12)
    with pytest.raises(ArithmeticError, match="after 3 steps"):
        root(lambda x: x**3 - 0.1, -2.0, 3.0, xtol=1e-12, most=3)


@pytest.mark.parametrize("n", [2, 3, 8, 12, 40, 80])
def test_points_of_gauss_are_those_of_numpy(n: int) -> None:
    points, weights = gauss(n)
    expected, their_weights = np.polynomial.legendre.leggauss(n)
    # to the rounding of a number near 1, which the weights of the outermost points feel most
    np.testing.assert_allclose(points, expected, rtol=0, atol=4e-16)
    np.testing.assert_allclose(weights, their_weights, rtol=0, atol=4e-15)
    for power in range(0, 2 * n, 2):
        assert np.sum(weights * points**power) == pytest.approx(2 / (power + 1), rel=1e-13)


@pytest.mark.parametrize("n", [3, 4, 5, 8, 13])
def test_points_of_lobatto_integrate_all_that_they_should(n: int) -> None:
    points, weights, cumulative = lobatto(n)
    inner = np.polynomial.legendre.Legendre.basis(n - 1).deriv().roots()
    np.testing.assert_allclose(points[1:-1], np.sort(inner.real), rtol=0, atol=1e-13)
    assert (points[0], points[-1]) == (-1.0, 1.0)
    np.testing.assert_allclose(weights, weights[::-1], rtol=1e-13)
    for power in range(2 * n - 2):
        exact = (1 - (-1.0) ** (power + 1)) / (power + 1)
        assert np.sum(weights * points**power) == pytest.approx(exact, abs=1e-14)
    for power in range(n):
        there = (points ** (power + 1) - (-1.0) ** (power + 1)) / (power + 1)
        np.testing.assert_allclose(points**power @ cumulative, there, rtol=0, atol=2e-14)


def test_polynomials_of_legendre_are_those_of_numpy() -> None:
    x = np.linspace(-1, 1, 21).reshape(3, 7)
    expected = np.moveaxis(np.polynomial.legendre.legvander(x, 11), -1, 0)
    np.testing.assert_allclose(legendre(12, x), expected, rtol=0, atol=2e-15)


@given(st.lists(st.sampled_from([0.0, 1.0, -2.5, 1e-9, 3.0]), max_size=12))
def test_distinct_values_are_those_of_numpy(values: list[float]) -> None:
    np.testing.assert_array_equal(distinct(np.array(values)), np.unique(np.array(values)))


@given(st.lists(st.tuples(st.booleans(), st.integers(0, 2), st.integers(0, 2)), min_size=1, max_size=12))
def test_distinct_rows_are_those_of_numpy(rows: list[tuple[bool, int, int]]) -> None:
    found, index = distinct_rows(np.array(rows))
    expected, their_index = np.unique(np.array(rows), axis=0, return_inverse=True)
    np.testing.assert_array_equal(found, expected)
    np.testing.assert_array_equal(index, np.reshape(their_index, -1))
    np.testing.assert_array_equal(found[index], np.array(rows))


@given(a=st.floats(0.5, 15.0), x=st.floats(1e-3, 200.0))
def test_the_incomplete_gamma_function_is_that_of_scipy(a: float, x: float) -> None:
    assert upper_gamma(a, x) == pytest.approx(gamma(a) * gammaincc(a, x), rel=1e-12)


def test_the_incomplete_gamma_function_has_its_known_values() -> None:
    # of 1 it is exp(-x), of 1/2 it is the complementary error function
    assert upper_gamma(1.0, 3.0) == pytest.approx(math.exp(-3.0), rel=1e-15)
    assert upper_gamma(0.5, 0.3) == pytest.approx(math.sqrt(math.pi) * math.erfc(math.sqrt(0.3)), rel=1e-14)
    with pytest.raises(ValueError, match="not worked out"):
        upper_gamma(-1.0, 1.0)
