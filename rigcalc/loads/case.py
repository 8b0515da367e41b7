"""What one case puts on the mast."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import field, replace

import numpy as np

from ..formulas import Value
from ..frozen import dataclass
from ..rig import GUSTS, WIND_LIMITED, Case
from ..stretches import joined
from .line import Applied, Floats, LineLoad
from .states import SetSail
from .wind import BEAUFORT_TOP_M_S


@dataclass(frozen=True)
class CaseLoad:
    """Loads of one case, apart from the mast's own weight, which needs its sections.

    Parameters
    ----------
    torque_N_m : float
        Torque from tip to heel.
    turned : tuple of LineLoad
        Torque per metre, held at the heel or the drum.
    pressure_Pa : float or ndarray
        Pressure at the reference height that the loads stand for; 1 where they are stated otherwise.
    weight_heel_rad : float or None
        Heel at which the weight of mast and sails acts; None leaves it out.
    weight_factor : float
        Factor on that weight.
    swing_rad_s2 : tuple of float
        Angular accelerations about the waterline of roll and pitch, which throw the mast's mass to
        leeward and forward.
    pitch_rad : float
        Pitch at which the weight acts, with the heel.
    hung_kg_m : tuple of LineLoad
        Mass of cloth carried along the mast.
    held_at_m : tuple of float or None
        Heights of the two supports where they are not step and partners.
    notes : tuple of str
        What a reader must know of how the load came about.
    ways : tuple of (str, Applied)
        What ``applied`` would be if all sails went by another load path, for each of those where that was asked for.
    """

    name: str
    kind: str
    state: str
    applied: Applied = field(default_factory=Applied)
    torque_N_m: Value = 0.0
    turned: tuple[LineLoad, ...] = ()
    pressure_Pa: Value = 1.0
    weight_heel_rad: float | None = None
    weight_factor: float = 1.0
    swing_rad_s2: tuple[Value, Value] = (0.0, 0.0)
    swing_about_m: float = 0.0
    pitch_rad: float = 0.0
    hung_kg_m: tuple[LineLoad, ...] = ()
    held_at_m: tuple[float, float] | None = None
    wind_speed_m_s: float | None = None
    heel_rad: float | None = None
    notes: tuple[str, ...] = ()
    ways: tuple[tuple[str, Applied], ...] = ()

    def by_other_paths(self) -> Iterator[tuple[str, CaseLoad]]:
        """Yield each other load path, and the case by it under a name of its own."""
        for path, applied in self.ways:
            yield path, replace(self, name=name_by(self.name, path), applied=applied, ways=())

    @property
    def whole_torque_N_m(self) -> Value:
        """Torque at the heel."""
        return self.torque_N_m + sum(line.integral() for line in self.turned)

    @property
    def kinks_m(self) -> Floats:
        """Heights at which the load by any path, or its slope, jumps, shape (k,), or (masts, k) where they differ."""
        every = (self.applied, *(applied for _, applied in self.ways))
        lines = [line for applied in every for line in applied.lines]
        breaks = [line.breaks_m for line in (*lines, *self.hung_kg_m, *self.turned)]
        heights = [point.height_m for applied in every for point in applied.points]
        points = np.array([*heights, *(self.held_at_m or ())], dtype=float)
        return joined(*breaks, points)


def name_by(case: str, path: str) -> str:
    """Return what a case is called when its sails go by another load path."""
    return f"{case} {path}"


@dataclass(frozen=True)
class Varied:
    """How far the world may stand from what the file says; factors, one to a mast where there are many.

    Parameters
    ----------
    wind : float or ndarray
        On the speed of the wind where the wind sets a case.
    moment : float or ndarray
        On the righting moment where that does.
    swing : float or ndarray
        On the accelerations of roll and pitch.
    """

    wind: Value = 1.0
    moment: Value = 1.0
    swing: Value = 1.0

    @property
    def none(self) -> bool:
        """Whether all is as the file says."""
        return all(np.ndim(factor) == 0 and factor == 1.0 for factor in vars(self).values())


AS_GIVEN = Varied()
Lay = Callable[[LineLoad, Varied], CaseLoad]
"""Lays a case on a mast of some outside diameter by height, or on many at once. All that the mast has no part in is
worked out before. What is said of a case in words is for one mast alone."""


def tells(outside: LineLoad, varied: Varied) -> bool:
    """Whether there is one mast to say something of."""
    return outside.lower.ndim == 1 and varied.none


def winds(case: Case) -> tuple[float, float, float] | None:
    """Return mean wind, gust factor and gust of a case, or None where it names no wind."""
    mean = case.wind_speed_m_s if case.beaufort is None else BEAUFORT_TOP_M_S[case.beaufort]
    if mean is None:
        return None
    factor = GUSTS[case.gust][0] if case.gust_factor is None else case.gust_factor
    return mean, factor, mean * factor


def force_direction(case: Case) -> tuple[float, float]:
    """Return the parts to leeward and forward of a force of a case that states its own direction."""
    angle = case.force_angle_rad
    if angle is None:
        angle = 0.0 if case.kind == WIND_LIMITED else np.pi / 2
    return float(np.sin(angle)), float(np.cos(angle))


def cloth_on_mast(sails: Iterable[SetSail]) -> tuple[LineLoad, ...]:
    """Return the mass of cloth by height: what is set hangs on the luff, what is rolled lies on the mast."""
    found = []
    for sail in sails:
        strips = ([sail.strips] if sail.share > 0.0 else []) + (
            [sail.rolled] if sail.rolled is not None else []
        )
        if sail.sail.cloth_mass_kg_m2 > 0.0:
            found += [
                LineLoad(s.breaks_m, s.lower_m, s.upper_m).scaled(sail.sail.cloth_mass_kg_m2) for s in strips
            ]
    return tuple(found)
