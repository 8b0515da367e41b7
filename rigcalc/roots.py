"""One root of a function between two places, by Brent's method.

This is what `scipy.optimize.brentq` does, step for step, and tests hold it to that. It stands here because a check
must start about as fast as numpy does, and importing `scipy.optimize` alone takes twice as long as that. Commands
that search for longer take what they need from scipy.

Method: R. P. Brent, Algorithms for Minimization without Derivatives, 1973, ch. 4, from memory. The root stays
between two places where the function has opposite signs. Each step is by inverse quadratic interpolation or along a
chord where that shrinks the bracket fast enough, and by halving otherwise, so that it needs few more steps than
halving alone however the function bends.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Final

__all__ = ["root"]

EPSILON: Final = 2.0**-52
"""The distance from 1 to the next number."""


def root(
    function: Callable[[float], float],
    low: float,
    high: float,
    *,
    xtol: float,
    rtol: float = 4 * EPSILON,
    most: int = 100,
) -> float:
    """Return where a function crosses zero between two places.

    Parameters
    ----------
    function : callable
        Continuous, and of opposite signs at the two places, or zero at one of them.
    low, high : float
        The places.
    xtol, rtol : float
        The root is returned when it is known to ``xtol`` and ``rtol`` times itself together; ``rtol`` is at least
        four times the rounding of a number.
    most : int
        Steps to take at most.

    Raises
    ------
    ValueError
        If both signs are the same: there may be no root.
    ArithmeticError
        If the function has no value somewhere, or the root is not known well enough after all steps.
    """

    def at(place: float) -> float:
        value = float(function(place))
        if math.isnan(value):
            raise ArithmeticError(f"a function whose root is sought has no value at {place:.6g}")
        return value

    # the best place so far, the one before it, and the one across the root
    last, best = float(low), float(high)
    f_last, f_best = at(last), at(best)
    if f_last == 0.0:
        return last
    if f_best == 0.0:
        return best
    if (f_last < 0.0) == (f_best < 0.0):
        raise ValueError(f"no change of sign between {low:.6g} and {high:.6g}: {f_last:.6g} and {f_best:.6g}")
    across, f_across, step, step_before = last, f_last, best - last, best - last
    for _ in range(most):
        if f_last != 0.0 and (f_last < 0.0) != (f_best < 0.0):
            across, f_across = last, f_last
            step = step_before = best - last
        if abs(f_across) < abs(f_best):
            last, best, across = best, across, best
            f_last, f_best, f_across = f_best, f_across, f_best
        close = (xtol + rtol * abs(best)) / 2
        half = (across - best) / 2
        if f_best == 0.0 or abs(half) < close:
            return best
        tried = half
        if abs(step_before) > close and abs(f_best) < abs(f_last):
            tried = _interpolated(last, f_last, best, f_best, across, f_across)
            # no more than three quarters of the way across, and less than half of the step before the last
            if not 2 * abs(tried) < min(abs(step_before), 3 * abs(half) - close):
                tried = half
        step_before, step = half if tried == half else step, tried
        last, f_last = best, f_best
        best += step if abs(step) > close else math.copysign(close, half)
        f_best = at(best)
    raise ArithmeticError(f"no root between {low:.6g} and {high:.6g} after {most} steps")


def _interpolated(
    last: float, f_last: float, best: float, f_best: float, across: float, f_across: float
) -> float:
    """Return the step to the root of a chord, or of the inverse parabola where there are three places."""
    if last == across:
        return -f_best * (best - last) / (f_best - f_last)
    d_last = (f_last - f_best) / (last - best)
    d_across = (f_across - f_best) / (across - best)
    return -f_best * (f_across * d_across - f_last * d_last) / (d_across * d_last * (f_across - f_last))
