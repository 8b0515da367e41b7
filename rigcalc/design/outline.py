"""The outline of a mast in runs without a step: sizes straight between heights, areas, girth, mass."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ..formulas.pieces import stave_width
from ..formulas.sections import annulus_area
from ..formulas.shapes import box_area, ellipse_area, polygon_across_corners, polygon_area
from ..frozen import dataclass
from ..rig import Mast
from .masscheck import integrated_kg

Floats = NDArray[np.float64]
Kind = Literal["round", "turned", "polygon", "box", "ellipse"]

HAIR = 1e-9


@dataclass(frozen=True)
class Run:
    """A stretch of mast from step to step.

    Parameters
    ----------
    heights_m : tuple of float
        Above the heel, growing.
    forward_m, side_m, wall_m : tuple of float
        Outside size fore and aft and from side to side, and wall, at each; straight in between.
    """

    heights_m: tuple[float, ...]
    forward_m: tuple[float, ...]
    side_m: tuple[float, ...]
    wall_m: tuple[float, ...]


@dataclass(frozen=True)
class Outline:
    """What stands between heel and tip.

    Parameters
    ----------
    kind : {"round", "turned", "polygon", "box", "ellipse"}
        Round through and through; staves turned round; staves left flat; box; ellipse.
    sides : int
        Number of staves; zero where there are none.
    runs : tuple of Run
        From the heel up.
    """

    kind: Kind
    sides: int
    runs: tuple[Run, ...]

    def outside_at(self, run: Run, z_m: Floats) -> tuple[Floats, Floats]:
        """Return the outside sizes fore and aft and from side to side at heights of a run."""
        return np.interp(z_m, run.heights_m, run.forward_m), np.interp(z_m, run.heights_m, run.side_m)

    def bore_at(self, run: Run, z_m: Floats) -> tuple[Floats, Floats]:
        """Return the sizes of the bore, across flats where it has any; nothing where the mast is solid."""
        wall = np.interp(z_m, run.heights_m, run.wall_m)
        forward, side = (
            np.where(2 * wall < size * (1 - 1e-12), size - 2 * wall, 0.0)
            for size in self.outside_at(run, z_m)
        )
        if self.kind == "turned":  # its wall is thinnest at the corners of the bore
            forward = side = np.asarray(forward / polygon_across_corners(n=self.sides, w=1.0))
        return forward, side

    def bore_area_at(self, run: Run, z_m: Floats) -> Floats:
        """Return the area of the bore."""
        forward, side = self.bore_at(run, z_m)
        return self._filled("polygon" if self.kind == "turned" else self.kind, forward, side)

    def area_at(self, run: Run, z_m: Floats) -> Floats:
        """Return the area of the section."""
        whole = self._filled("round" if self.kind == "turned" else self.kind, *self.outside_at(run, z_m))
        return np.asarray(whole - self.bore_area_at(run, z_m))

    def cover_area_at(self, run: Run, z_m: Floats, thick_m: float) -> Floats:
        """Return the area of a cover of even thickness as a section has it, with the mast's own corners."""
        kind: Kind = "round" if self.kind == "turned" else self.kind
        forward, side = self.outside_at(run, z_m)
        outer = self._filled(kind, forward + 2 * thick_m, side + 2 * thick_m)
        return np.asarray(outer - self._filled(kind, forward, side))

    def girth_at(self, run: Run, z_m: Floats) -> Floats:
        """Return the distance round the outside."""
        forward, side = self.outside_at(run, z_m)
        if self.kind == "box":
            return np.asarray(2 * (forward + side))
        if self.kind == "polygon":
            return np.asarray(self.sides * stave_width(n=self.sides, W=forward))
        if self.kind == "ellipse":
            return _round_ellipses(forward / 2, side / 2)
        return np.asarray(math.pi * forward)

    def between(self, start_m: float, end_m: float) -> Iterator[tuple[Run, tuple[float, ...]]]:
        """Yield what of each run lies between two heights: the run, and the ends and stations in it."""
        for run in self.runs:
            low, high = max(start_m, run.heights_m[0]), min(end_m, run.heights_m[-1])
            if high - low > HAIR:
                yield run, (low, *(z for z in run.heights_m if low < z < high), high)

    def kg(
        self, area: Callable[[Run, Floats], Floats], start_m: float, end_m: float, density_kg_m3: float
    ) -> float:
        """Return the mass of what has an area at heights of a run, between two heights."""
        return math.fsum(
            integrated_kg(heights, partial(area, run), density_kg_m3)
            for run, heights in self.between(start_m, end_m)
        )

    def _filled(self, kind: Kind, forward: Floats, side: Floats) -> Floats:
        match kind:
            case "polygon":
                return np.asarray(polygon_area(n=self.sides, w=forward))
            case "box":
                return np.asarray(box_area(B=side, H=forward, b=0.0, h=0.0))
            case "ellipse":
                return np.asarray(ellipse_area(a=forward / 2, b=side / 2, a_i=0.0, b_i=0.0))
        return np.asarray(annulus_area(D=forward, d=0.0))


def outline_of(mast: Mast) -> Outline:
    """Return the outline of a mast whose stations give its outside: any but one laid up on a mandrel."""
    kind: Kind
    match mast.shape, mast.outside:
        case "staves", "round":
            kind = "turned"
        case "staves", _:
            kind = "polygon"
        case "box", _:
            kind = "box"
        case "ellipse", _:
            kind = "ellipse"
        case _:
            kind = "round"
    rows = [
        (s.height_m, *s.sizes_m, min(s.sizes_m) / 2 if s.wall_m is None else s.wall_m) for s in mast.stations
    ]
    return Outline(kind, mast.sides if mast.shape == "staves" else 0, tuple(_runs(rows)))


def _runs(rows: Sequence[tuple[float, float, float, float]]) -> Iterator[Run]:
    """Part rows of height and sizes where two at one height differ; two alike are one."""
    part: list[tuple[float, float, float, float]] = []
    for row in rows:
        if part and row == part[-1]:
            continue
        if part and row[0] - part[-1][0] <= 0.0:
            yield Run(*zip(*part, strict=True))
            part = []
        part.append(row)
    yield Run(*zip(*part, strict=True))


def _round_ellipses(a_m: Floats, b_m: Floats) -> Floats:
    """Girth of ellipses of half axes a and b, by the mean of the integrand at even angles, which converges fast."""
    angles = (np.arange(512) + 0.5) * (math.pi / 1024)
    ds = np.hypot(np.multiply.outer(a_m, np.cos(angles)), np.multiply.outer(b_m, np.sin(angles)))
    return np.asarray(2 * math.pi * np.mean(ds, axis=-1))
