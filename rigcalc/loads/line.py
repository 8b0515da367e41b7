"""Loads along the mast, ready to be read off at any height."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Profile = Callable[[Floats], Floats]


@cache
def _gauss() -> tuple[Floats, Floats]:
    """Return points and weights on (-1, 1), enough for a smooth profile to sixteen digits."""
    nodes, weights = np.polynomial.legendre.leggauss(12)
    return nodes, weights


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
    profile: Profile | None = None
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

    def integral(self, weight: Profile | None = None) -> float:
        """Return the total, or that of the value times a smooth weight, by Gauss quadrature on each stretch."""
        nodes, weights = _gauss()
        start, end = self.breaks_m[:-1, None], self.breaks_m[1:, None]
        z = (start + end) / 2 + (end - start) / 2 * nodes
        value = self.lower[:, None] + (self.upper - self.lower)[:, None] * (1 + nodes) / 2
        for factor in (self.profile, weight):
            if factor is not None:
                value = value * factor(z)
        return float(np.sum(value * weights * (end - start) / 2))

    def moment_about(self, height_m: float) -> float:
        """Return the moment of the whole about a height."""
        return self.integral(lambda z: z - height_m)

    def between(self, low_m: float, high_m: float) -> LineLoad:
        """Return the part that stands between two heights."""
        inner = self.breaks_m[(self.breaks_m > low_m) & (self.breaks_m < high_m)]
        low, high = max(low_m, float(self.breaks_m[0])), min(high_m, float(self.breaks_m[-1]))
        if high <= low:
            return replace(self, lower=np.zeros_like(self.lower), upper=np.zeros_like(self.upper))
        breaks = np.unique(np.concatenate([[low], inner, [high]]))
        i = np.searchsorted(self.breaks_m, (breaks[:-1] + breaks[1:]) / 2, side="right") - 1
        slope = (self.upper - self.lower) / np.diff(self.breaks_m)
        lower = self.lower[i] + slope[i] * (breaks[:-1] - self.breaks_m[i])
        upper = self.lower[i] + slope[i] * (breaks[1:] - self.breaks_m[i])
        return replace(self, breaks_m=breaks, lower=lower, upper=upper)

    def broken_at(self, height_m: float) -> LineLoad:
        """Return the same load with a break at a height where its profile has a kink."""
        if not self.breaks_m[0] < height_m < self.breaks_m[-1]:
            return self
        below, above = self.between(-np.inf, height_m), self.between(height_m, np.inf)
        return replace(
            self,
            breaks_m=np.concatenate([below.breaks_m, above.breaks_m[1:]]),
            lower=np.concatenate([below.lower, above.lower]),
            upper=np.concatenate([below.upper, above.upper]),
        )

    def scaled(self, factor: float) -> LineLoad:
        """Return the same load times ``factor``."""
        return replace(self, lower=self.lower * factor, upper=self.upper * factor)

    def along(self, side: float, forward: float) -> LineLoad:
        """Return the same load in another direction."""
        return replace(self, side=side, forward=forward)


@dataclass(frozen=True)
class PointLoad:
    """A force at one height; axial is compression, towards the heel.

    Parameters
    ----------
    toward_m : tuple of float, optional
        Point (leeward, forward, z) that the force keeps pulling to when the mast bends; without it the
        force keeps its direction.
    """

    height_m: float
    side_N: float = 0.0
    forward_N: float = 0.0
    axial_N: float = 0.0
    toward_m: tuple[float, float, float] | None = None

    def scaled(self, factor: float) -> PointLoad:
        """Return the same force times ``factor``."""
        return replace(
            self,
            side_N=self.side_N * factor,
            forward_N=self.forward_N * factor,
            axial_N=self.axial_N * factor,
        )


@dataclass(frozen=True)
class Applied:
    """Lines and points that belong together, such as all that one sail does to the mast."""

    lines: tuple[LineLoad, ...] = ()
    points: tuple[PointLoad, ...] = ()

    def scaled(self, factor: float) -> Applied:
        """Return all of it times ``factor``."""
        return Applied(
            tuple(line.scaled(factor) for line in self.lines),
            tuple(point.scaled(factor) for point in self.points),
        )

    def __add__(self, other: Applied) -> Applied:
        return Applied(self.lines + other.lines, self.points + other.points)

    def force(self) -> tuple[float, float]:
        """Return the totals to leeward and forward."""
        side = sum(line.side * line.integral() for line in self.lines) + sum(p.side_N for p in self.points)
        forward = sum(line.forward * line.integral() for line in self.lines) + sum(
            p.forward_N for p in self.points
        )
        return float(side), float(forward)

    def moment(self, height_m: float) -> tuple[float, float]:
        """Return the moments about a height of the loads to leeward and forward."""
        side = sum(line.side * line.moment_about(height_m) for line in self.lines)
        forward = sum(line.forward * line.moment_about(height_m) for line in self.lines)
        side += sum(p.side_N * (p.height_m - height_m) for p in self.points)
        forward += sum(p.forward_N * (p.height_m - height_m) for p in self.points)
        return float(side), float(forward)


def from_curve(curve: tuple[tuple[float, float], ...], *, side: float, forward: float) -> LineLoad | None:
    """Return a load given as (height, value) pairs; two equal heights make a step."""
    z = np.array([p[0] for p in curve])
    w = np.array([p[1] for p in curve])
    real = np.diff(z) > 0
    if not np.any(real):
        return None
    return LineLoad(np.append(z[:-1][real], z[-1]), w[:-1][real], w[1:][real], side=side, forward=forward)
