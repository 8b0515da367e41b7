"""Loads along the mast, ready to be read off at any height."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class LineLoad:
    """Something per metre of mast: linear between breaks, times a smooth profile, zero outside.

    Parameters
    ----------
    breaks_m : ndarray, shape (k + 1,)
        Heights z, growing.
    lower, upper : ndarray, shape (k,)
        Values just above the lower and just below the upper end of each stretch, in the unit of the
        whole (N/m for a force, kg/m for a mass).
    profile : callable, optional
        Factor by height, smooth within each stretch.
    side, forward : float
        Direction: parts of the whole to leeward and forward.
    """

    breaks_m: Floats
    lower: Floats
    upper: Floats
    profile: Callable[[Floats], Floats] | None = None
    side: float = 1.0
    forward: float = 0.0

    def at(self, z: Floats) -> Floats:
        """Return the value at heights ``z``, shape (elements, nodes).

        Each row of ``z`` lies within one stretch, ends included: the middle of the row decides which,
        so that both values at a break are kept.
        """
        middle = (z[..., :1] + z[..., -1:]) / 2
        i = np.searchsorted(self.breaks_m, middle, side="right") - 1
        inside = (i >= 0) & (i < self.lower.size)
        i = np.clip(i, 0, self.lower.size - 1)
        start, end = self.breaks_m[i], self.breaks_m[i + 1]
        value = self.lower[i] + (self.upper[i] - self.lower[i]) * (z - start) / (end - start)
        if self.profile is not None:
            # the profile is only asked where the load stands: a wind law has no value under water
            value = value * self.profile(np.where(inside, z, self.breaks_m[-1]))
        return np.where(inside, value, 0.0)

    def integral(self, moment_about_m: float | None = None) -> float:
        """Return the total, or its moment about a height, by Gauss quadrature on each stretch."""
        nodes, weights = np.polynomial.legendre.leggauss(12)
        start, end = self.breaks_m[:-1, None], self.breaks_m[1:, None]
        z = (start + end) / 2 + (end - start) / 2 * nodes
        value = self.lower[:, None] + (self.upper - self.lower)[:, None] * (1 + nodes) / 2
        if self.profile is not None:
            value = value * self.profile(z)
        if moment_about_m is not None:
            value = value * (z - moment_about_m)
        return float(np.sum(value * weights * (end - start) / 2))

    def scaled(self, factor: float) -> LineLoad:
        """Return the same load times ``factor``."""
        return replace(self, lower=self.lower * factor, upper=self.upper * factor)

    def towards(self, angle_rad: float) -> LineLoad:
        """Return the same load pulling at an angle from straight ahead, towards leeward."""
        return replace(self, side=float(np.sin(angle_rad)), forward=float(np.cos(angle_rad)))


def from_curve(curve: tuple[tuple[float, float], ...], *, side: float, forward: float) -> LineLoad | None:
    """Return a load given as (height, value) pairs; two equal heights make a step."""
    z = np.array([p[0] for p in curve])
    w = np.array([p[1] for p in curve])
    real = np.diff(z) > 0
    if not np.any(real):
        return None
    return LineLoad(np.append(z[:-1][real], z[-1]), w[:-1][real], w[1:][real], side=side, forward=forward)


@dataclass(frozen=True)
class PointLoad:
    """A force at one height; axial is compression, towards the heel."""

    height_m: float
    side_N: float = 0.0
    forward_N: float = 0.0
    axial_N: float = 0.0
