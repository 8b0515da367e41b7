"""Where a height lies on the sheet: all of the mast at one scale, or stretches of it with breaks between."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from ...frozen import dataclass

SCALES: Final = (1.0, 2.0, 2.5, 5.0, 10.0, 20.0, 25.0, 50.0, 100.0, 200.0)
"""Reductions found on a scale rule; ISO 5455 has those beginning in 1, 2 and 5 (from memory)."""
GAP_MM: Final = 5.0
"""Sheet between the two ends of a break."""
_LEAST_PAD_MM: Final = 9.0
_WORTH: Final = 2.0
"""A break saves this many gaps at least; otherwise what lies between is drawn."""


@dataclass(frozen=True)
class Axis:
    """Heights laid out from left to right, the lowest at x = 0.

    Parameters
    ----------
    scale : float
        Reduction: millimetres of the mast to one of the sheet.
    stretches_m : tuple
        (lower, upper) of what is drawn, from below.
    """

    scale: float
    stretches_m: tuple[tuple[float, float], ...]

    @property
    def broken(self) -> bool:
        return len(self.stretches_m) > 1

    @property
    def starts_mm(self) -> tuple[float, ...]:
        """Where each stretch begins."""
        starts = [0.0]
        for low, high in self.stretches_m:
            starts.append(starts[-1] + self.mm(high - low) + GAP_MM)
        return tuple(starts[:-1])

    @property
    def length_mm(self) -> float:
        return self.starts_mm[-1] + self.mm(self.stretches_m[-1][1] - self.stretches_m[-1][0])

    def mm(self, metres: float) -> float:
        """Return a size as it is on the sheet."""
        return metres * 1e3 / self.scale

    def x(self, z_m: float) -> float:
        """Return where a height that is drawn lies."""
        for (low, high), start in zip(self.stretches_m, self.starts_mm, strict=True):
            if low - 1e-9 <= z_m <= high + 1e-9:
                return start + self.mm(z_m - low)
        raise ValueError(f"z = {z_m} m lies in a break")

    def shows(self, z_m: float) -> bool:
        """Whether a height is drawn."""
        return any(low - 1e-9 <= z_m <= high + 1e-9 for low, high in self.stretches_m)


def whole_axis(low_m: float, high_m: float, width_mm: float) -> Axis:
    """Return the largest scale at which all between two heights fits a width."""
    scale = next((s for s in SCALES if (high_m - low_m) * 1e3 / s <= width_mm), SCALES[-1])
    return Axis(scale, ((low_m, high_m),))


def broken_axis(
    must_m: Sequence[tuple[float, float]], low_m: float, high_m: float, *, width_mm: float, least: float
) -> Axis | None:
    """Return a view with breaks, at the largest scale that fits a width.

    Parameters
    ----------
    must_m : sequence
        Stretches that are drawn; a height alone stands for a stretch of no length.
    low_m, high_m : float
        Ends of the mast, and what it stands on.
    width_mm : float
        That there is.
    least : float
        Least reduction.

    Returns
    -------
    Axis or None
        With as much beside each stretch as there is room for; None where no scale fits.
    """
    for scale in (s for s in SCALES if s >= least):

        def axis(pad_mm: float, scale: float = scale) -> Axis:
            return Axis(scale, _windows(must_m, low_m, high_m, pad_mm * scale / 1e3, GAP_MM * scale / 1e3))

        if axis(_LEAST_PAD_MM).length_mm > width_mm:
            continue
        little, much = _LEAST_PAD_MM, (high_m - low_m) * 1e3 / scale
        if axis(much).length_mm <= width_mm:
            return axis(much)
        for _ in range(40):
            middle = (little + much) / 2
            if axis(middle).length_mm <= width_mm:
                little = middle
            else:
                much = middle
        return axis(little)
    return None


def _windows(
    must_m: Sequence[tuple[float, float]], low_m: float, high_m: float, pad_m: float, gap_m: float
) -> tuple[tuple[float, float], ...]:
    padded = sorted((max(a - pad_m, low_m), min(b + pad_m, high_m)) for a, b in must_m)
    found: list[tuple[float, float]] = []
    for a, b in padded:
        if found and a - found[-1][1] <= _WORTH * gap_m:
            found[-1] = (found[-1][0], max(found[-1][1], b))
        else:
            found.append((a, b))
    return tuple(found)


def spread(wanted: Sequence[float], *, apart: float, low: float, high: float) -> list[float] | None:
    """Return places as near to those wanted as there is room for, in the same order.

    Least squares under the least distance: with that taken off, places must not fall, and pooling neighbours
    that do is the exact answer.

    Parameters
    ----------
    wanted : sequence of float
        From left to right.
    apart : float
        Least distance between two.
    low, high : float
        Ends of the room.

    Returns
    -------
    list of float or None
        None where they do not all find room.
    """
    if not wanted:
        return []
    if (len(wanted) - 1) * apart > high - low + 1e-9:
        return None
    pools: list[tuple[float, int]] = []
    for i, place in enumerate(wanted):
        total, count = place - i * apart, 1
        while pools and pools[-1][0] / pools[-1][1] >= total / count:
            more, number = pools.pop()
            total, count = total + more, count + number
        pools.append((total, count))
    level = [total / count for total, count in pools for _ in range(count)]
    most = high - (len(wanted) - 1) * apart
    return [min(max(value, low), most) + i * apart for i, value in enumerate(level)]
