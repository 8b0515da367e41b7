"""Loads along the mast, ready to be read off at any height.

A load may stand for many masts at once: its values, and the heights of its breaks where they differ, then have
one axis more in front, one row to a mast. Rows have as many breaks each; where a mast needs fewer, some stretches
have no length.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ..formulas import Value
from ..frozen import dataclass
from ..quadrature import gauss
from ..stretches import merged, pick, stretch_of

Floats = NDArray[np.float64]
Profile = Callable[[Floats], Floats]


POINTS = 12
"""Points of Gauss on each stretch: enough for a smooth profile to sixteen digits."""


@dataclass(frozen=True)
class LineLoad:
    """Something per metre of mast: linear between breaks, times a smooth profile, zero outside.

    Parameters
    ----------
    breaks_m : ndarray, shape (k + 1,) or (masts, k + 1)
        Heights z, growing.
    lower, upper : ndarray, shape (k,) or (masts, k)
        Values just above the lower and just below the upper end of each stretch, in the unit of the
        whole (N/m for a force, kg/m for a mass).
    profile : callable, optional
        Factor by height, smooth within each stretch; from heights of shape (..., stretches, nodes).
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
        """Return the value at heights ``z``, shape (elements, nodes) or (masts, elements, nodes).

        Each row of ``z`` lies within one stretch, ends included: the middle of the row decides which,
        so that both values at a break are kept.
        """
        middle = (z[..., 0] + z[..., -1]) / 2
        i = stretch_of(self.breaks_m, middle)
        last = self.breaks_m.shape[-1] - 2
        inside = ((i >= 0) & (i <= last))[..., None]
        i = np.minimum(np.maximum(i, 0), last)
        start, end, lower, upper = (
            pick(values, i)[..., None]
            for values in (self.breaks_m[..., :-1], self.breaks_m[..., 1:], self.lower, self.upper)
        )
        length = np.where(end > start, end - start, 1.0)
        value = lower + (upper - lower) * ((z - start) / length)
        if self.profile is not None:
            # the profile is only asked where the load stands: a wind law has no value under water
            value = value * self.profile(np.where(inside, z, self.breaks_m[..., -1:, None]))
        return np.where(inside, value, 0.0)

    def integral(self, weight: Profile | None = None) -> Value:
        """Return the total, or that of the value times a smooth weight, by Gauss quadrature on each stretch."""
        nodes, weights = gauss(POINTS)
        start, end = self.breaks_m[..., :-1, None], self.breaks_m[..., 1:, None]
        z = (start + end) / 2 + (end - start) / 2 * nodes
        value = self.lower[..., None] + (self.upper - self.lower)[..., None] * (1 + nodes) / 2
        for factor in (self.profile, weight):
            if factor is not None:
                value = value * factor(z)
        return plain(np.sum(value * weights * (end - start) / 2, axis=(-2, -1)))

    def moment_about(self, height_m: float) -> Value:
        """Return the moment of the whole about a height."""
        return self.integral(lambda z: z - height_m)

    def between(self, low_m: float, high_m: float) -> LineLoad:
        """Return the part that stands between two heights."""
        cut = self._cut(self._within((low_m, high_m)))
        middle = (cut.breaks_m[..., :-1] + cut.breaks_m[..., 1:]) / 2
        kept = (middle > low_m) & (middle < high_m)
        if kept.ndim == 1 and np.any(kept):
            stretches = np.flatnonzero(kept)
            return replace(
                cut,
                breaks_m=cut.breaks_m[stretches[0] : stretches[-1] + 2],
                lower=cut.lower[..., stretches],
                upper=cut.upper[..., stretches],
            )
        return replace(cut, lower=np.where(kept, cut.lower, 0.0), upper=np.where(kept, cut.upper, 0.0))

    def broken_at(self, height_m: float) -> LineLoad:
        """Return the same load with a break at a height where its profile has a kink."""
        return self._cut(self._within((height_m,)))

    def _within(self, heights_m: Sequence[float]) -> Floats:
        """Return heights, those beyond either end of the load brought to it."""
        return np.minimum(np.maximum(heights_m, self.breaks_m[..., :1]), self.breaks_m[..., -1:])

    def _cut(self, heights_m: Floats) -> LineLoad:
        """Return the same load with breaks at more heights within it."""
        breaks = merged(self.breaks_m, heights_m)
        i = np.maximum(stretch_of(self.breaks_m, (breaks[..., :-1] + breaks[..., 1:]) / 2), 0)
        i = np.minimum(i, self.breaks_m.shape[-1] - 2)
        length = self.breaks_m[..., 1:] - self.breaks_m[..., :-1]
        slope = (self.upper - self.lower) / np.where(length > 0.0, length, 1.0)
        lower, slope = pick(self.lower, i), pick(slope, i)
        start = pick(self.breaks_m[..., :-1], i)
        return replace(
            self,
            breaks_m=breaks,
            lower=lower + slope * (breaks[..., :-1] - start),
            upper=lower + slope * (breaks[..., 1:] - start),
        )

    def scaled(self, factor: Value) -> LineLoad:
        """Return the same load times ``factor``, which may differ from mast to mast."""
        each = np.asarray(factor)[..., None]
        return replace(self, lower=self.lower * each, upper=self.upper * each)

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
    side_N: Value = 0.0
    forward_N: Value = 0.0
    axial_N: Value = 0.0
    toward_m: tuple[float, float, float] | None = None

    def scaled(self, factor: Value) -> PointLoad:
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

    def scaled(self, factor: Value) -> Applied:
        """Return all of it times ``factor``, which may differ from mast to mast."""
        return Applied(
            tuple(line.scaled(factor) for line in self.lines),
            tuple(point.scaled(factor) for point in self.points),
        )

    def __add__(self, other: Applied) -> Applied:
        return Applied(self.lines + other.lines, self.points + other.points)

    def force(self) -> tuple[Value, Value]:
        """Return the totals to leeward and forward."""
        whole = [line.integral() for line in self.lines]
        side = sum(line.side * f for line, f in zip(self.lines, whole, strict=True))
        forward = sum(line.forward * f for line, f in zip(self.lines, whole, strict=True))
        return (
            plain(side + sum(p.side_N for p in self.points)),
            plain(forward + sum(p.forward_N for p in self.points)),
        )

    def moment(self, height_m: float) -> tuple[Value, Value]:
        """Return the moments about a height of the loads to leeward and forward."""
        whole = [line.moment_about(height_m) for line in self.lines]
        side = sum(line.side * m for line, m in zip(self.lines, whole, strict=True))
        forward = sum(line.forward * m for line, m in zip(self.lines, whole, strict=True))
        side += sum(p.side_N * (p.height_m - height_m) for p in self.points)
        forward += sum(p.forward_N * (p.height_m - height_m) for p in self.points)
        return plain(side), plain(forward)


def plain(value: Value) -> Value:
    """Return a number as a plain float; what stands for many masts as it is."""
    return float(value) if np.ndim(value) == 0 else value


def from_curve(curve: tuple[tuple[float, float], ...], *, side: float, forward: float) -> LineLoad | None:
    """Return a load given as (height, value) pairs; two equal heights make a step."""
    z = np.array([p[0] for p in curve])
    w = np.array([p[1] for p in curve])
    real = np.diff(z) > 0
    if not np.any(real):
        return None
    return LineLoad(np.append(z[:-1][real], z[-1]), w[:-1][real], w[1:][real], side=side, forward=forward)
