"""Legendre's polynomials and the points of Gauss and Lobatto, for integrals by a few points.

`numpy.polynomial` has the polynomials and the points of Gauss, and tests hold these to it; but it is no part of what
`import numpy` loads, and a check may hardly take longer to start than that.
"""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def legendre(count: int, x: Floats) -> Floats:
    """Return the first polynomials of Legendre, shape (count, ...), by the recurrence of three terms.

    Parameters
    ----------
    count : int
        Number of them, at least two; the last is of degree ``count - 1``.
    x : ndarray, shape (...)
        Places from -1 to 1.
    """
    found = [np.ones_like(x), x]
    for k in range(1, count - 1):
        found.append(((2 * k + 1) * x * found[k] - k * found[k - 1]) / (k + 1))
    return np.stack(found)


@cache
def gauss(n: int) -> tuple[Floats, Floats]:
    """Return points and weights on (-1, 1) that integrate polynomials of degree 2 n - 1 exactly.

    The points are the eigenvalues of Jacobi's matrix (Golub and Welsch, 1969), improved by one step of Newton's.
    """
    k = np.arange(1, n)
    x = _eigenvalues(k / np.sqrt(4 * k**2 - 1))
    *_, before, last = legendre(n + 1, x)
    slope = n * (before - x * last) / (1 - x**2)
    x = x - last / slope
    *_, before, last = legendre(n + 1, x)
    slope = n * (before - x * last) / (1 - x**2)
    return x, 2 / ((1 - x**2) * slope**2)


@cache
def lobatto(n: int) -> tuple[Floats, Floats, Floats]:
    """Return points on (-1, 1) with both ends among them, weights, and what integrates from -1 to each point.

    Parameters
    ----------
    n : int
        Number of points, at least three.

    Returns
    -------
    points, weights : ndarray, shape (n,)
    cumulative : ndarray, shape (n, n)
        ``f @ cumulative`` is the integral of the interpolant of ``f`` up to each point.
    """
    # the inner points are where P'_(n-1) is zero: those of Gauss for the weight 1 - x^2
    k = np.arange(1, n - 2)
    x = _eigenvalues(np.sqrt(k * (k + 2) / ((2 * k + 1) * (2 * k + 3))))
    *_, before, last = legendre(n, x)
    # (1 - x^2) P' = m (P_(m-1) - x P_m), and by Legendre's equation (1 - x^2) P'' = 2 x P' - m (m + 1) P
    m = n - 1
    slope = m * (before - x * last) / (1 - x**2)
    x = x - slope * (1 - x**2) / (2 * x * slope - m * (m + 1) * last)
    points = np.concatenate([[-1.0], x, [1.0]])
    basis = legendre(n + 1, points)
    weights = 2 / (n * m * basis[m] ** 2)
    # integrals of P_k from -1, and P_k itself, at the points: solve for the values' integrals
    orders = np.arange(1, n)[:, None]
    integrals = np.vstack([points + 1, (basis[2:] - basis[:-2]) / (2 * orders + 1)])
    # turned over in memory too: small products are slow by a matrix that is not in order there
    return points, weights, np.ascontiguousarray((integrals.T @ np.linalg.inv(basis[:n].T)).T)


def _eigenvalues(beside: Floats) -> Floats:
    """Return the eigenvalues, growing, of the matrix with these beside its diagonal and nothing on it."""
    found = np.linalg.eigvalsh(np.diag(beside, 1) + np.diag(beside, -1))
    # they lie evenly about nought, which rounding may hide
    return np.asarray((found - found[::-1]) / 2)
