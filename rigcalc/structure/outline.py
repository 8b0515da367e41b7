"""Sizes of a mast, or of many masts alike in all but their sizes: what the sections are built from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import field, replace

import numpy as np
from numpy.typing import NDArray

from ..formulas import Value
from ..frozen import dataclass
from ..rig import Mast
from ..stretches import Floats, pick, stretch_of
from .mesh import Mesh


@dataclass(frozen=True)
class Tube:
    """A tube inside or over a stretch of the mast; numbers, or arrays with one for each of many masts."""

    start_m: Value
    end_m: Value
    diameter_m: Value
    wall_m: Value


@dataclass(frozen=True)
class Outline:
    """Sizes at the stations, and the tubes over stretches; of many masts with one row, or number, to each.

    Parameters
    ----------
    heights_m : ndarray, shape (stations,) or (masts, stations)
        Heights of the stations; two at one height make a step.
    forward_m, side_m : ndarray, shape (stations,) or (masts, stations)
        Outside size fore and aft, and from side to side; of a laminate laid on a mandrel, that of the mandrel.
    wall_m : ndarray, shape (stations,) or (masts, stations)
        Wall; half the lesser size of a bar.
    sleeves : tuple of Tube
        Sleeves, in the order of the file.
    counts : mapping of str to ndarray of int, shape (masts, lots)
        Number of plies in every lot of a laminate, by its name, where it is not that of the file.
    steps : tuple of int
        Stations at which one length of tube ends and another begins that does not touch it, by the number of the
        lower of the two at that height. What is joined to what is no size: it is the same for all masts.
    """

    heights_m: Floats
    forward_m: Floats
    side_m: Floats
    wall_m: Floats
    sleeves: tuple[Tube, ...] = ()
    counts: Mapping[str, NDArray[np.intp]] = field(default_factory=dict)
    steps: tuple[int, ...] = ()

    @property
    def kinks_m(self) -> Floats:
        """Heights at which the tubes of all masts change, shape (k,)."""
        return np.concatenate([np.empty(0), *(z for z in self._changes if z.ndim == 1)])

    @property
    def own_kinks_m(self) -> Floats | None:
        """Heights at which the tubes of each mast change, shape (masts, k); none where all are as one."""
        own = [z for z in self._changes if z.ndim > 1]
        return np.concatenate(own, axis=-1) if own else None

    @property
    def _changes(self) -> list[Floats]:
        ends = [np.asarray(end, dtype=float)[..., None] for t in self.sleeves for end in (t.start_m, t.end_m)]
        # every mast begins at its heel and ends at its tip
        return [self.heights_m[..., 1:-1], *ends]

    def along(self, mesh: Mesh, values: Floats) -> Floats:
        """Return values at the stations, linear between them, at the points of a mesh, shape (..., n, points)."""
        return along(mesh, self.heights_m, values)

    def some(self, masts: slice | NDArray[np.intp]) -> Outline:
        """Return some of many masts."""

        def of(value: Value) -> Value:
            return value if np.ndim(value) == 0 else value[masts]

        return replace(
            self,
            heights_m=self.heights_m if self.heights_m.ndim == 1 else self.heights_m[masts],
            forward_m=self.forward_m[masts],
            side_m=self.side_m[masts],
            wall_m=self.wall_m[masts],
            sleeves=tuple(
                Tube(of(t.start_m), of(t.end_m), of(t.diameter_m), of(t.wall_m)) for t in self.sleeves
            ),
            counts={name: counts[masts] for name, counts in self.counts.items()},
        )

    @property
    def open_steps_m(self) -> tuple[Value, ...]:
        """Heights at which two lengths of tube meet end to end and their walls do not."""
        return tuple(self.heights_m[..., i] for i in self.steps)


def outline_of(mast: Mast) -> Outline:
    """Return the sizes of the mast of a rig file."""
    stations = mast.stations
    on_mandrel = stations[0].bore_m is not None

    def sizes(values: Sequence[float | None]) -> Floats:
        return np.array(values, dtype=float)

    forward = [s.bore_m if on_mandrel else s.diameter_m for s in stations]
    side = [f if s.breadth_m is None else s.breadth_m for f, s in zip(forward, stations, strict=True)]
    least = np.minimum(sizes(forward), sizes(side)) / 2
    heights = sizes([s.height_m for s in stations])
    walls = np.array(
        [half if s.wall_m is None else s.wall_m for half, s in zip(least, stations, strict=True)]
    )
    return Outline(
        heights_m=heights,
        forward_m=sizes(forward),
        side_m=sizes(side),
        wall_m=walls,
        sleeves=tuple(Tube(s.start_m, s.end_m, s.diameter_m, s.wall_m) for s in mast.sleeve),
        steps=_open_steps(heights, sizes(forward), walls),
    )


def _open_steps(heights_m: Floats, outer_m: Floats, wall_m: Floats) -> tuple[int, ...]:
    """Return the steps at which the smaller tube, of one mast, goes into the bore of the larger."""
    found = []
    for i in range(heights_m.size - 1):
        (low, high), (one, other), (wall, its) = (a[i : i + 2] for a in (heights_m, outer_m, wall_m))
        outer, thick = (one, wall) if one > other else (other, its)
        if low == high and min(one, other) <= max(outer - 2 * thick, 0.0) + 1e-9:
            found.append(i)
    return tuple(found)


def along(mesh: Mesh, heights_m: Floats, values: Floats) -> Floats:
    """Return values linear between heights at the points of a mesh; equal heights make a step."""
    i = np.clip(stretch_of(heights_m, mesh.middle_m), 0, heights_m.shape[-1] - 2)
    low, high, start, end = (
        pick(of, i)[..., None]
        for of in (values[..., :-1], values[..., 1:], heights_m[..., :-1], heights_m[..., 1:])
    )
    share = (mesh.z_m - start) / np.where(end > start, end - start, 1.0)
    return np.asarray(low + share * (high - low))
