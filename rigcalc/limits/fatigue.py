"""Fatigue of metal: the stress range of the hardest roll of a life against the largest that such a life allows.

Each case is taken as the hardest of all the rolls of the mast's life, which spread below it as Rayleigh's. No
life can be harder on any place than that of its hardest case, whatever share the others have. A range is
told, and not a damage, because it answers to the wall in proportion.

EN 1999-1-3 counts the range alone: its curves stand for a mean stress as high as may be, and what it grants to
cycles that go into compression is not taken. Shear counts with the direct stress as by von Mises.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from ..formulas import Working
from ..formulas.fatigue import cycles_at_sea, design_category, narrow_band_damage, stress_range
from ..loads import own_roll_period
from ..materials import Detail, find_fatigue_detail
from ..rig import BARE, KNOCKDOWN, LIFT, LOWEST_WELD, MOTION, Fatigue, Rig
from ..structure.sections import Layer, Sections
from .about import METAL, SMALLER_LOAD, THICKER_WALL, WIDER, About, Cure
from .joint import Contact, alone_stress
from .lifetime import Curve, largest_range
from .metal import MOVED, moved, near_welds, peak_at_opening, thicker_wall
from .record import Limit
from .stresses import MetalStresses

Floats = NDArray[np.float64]

RARE = (BARE, KNOCKDOWN, LIFT)
"""Kinds of case that no roll at sea repeats."""
BOTH_WAYS = -1.0
HOLE = "hole"

BETTER_DETAIL = Cure(
    "take a better fatigue detail, such as a smoother or shorter attachment",
    "work in the making; look at [fatigue] detail",
)
_LIFE = (
    " The range of the hardest roll of the mast's life against the largest that such a life allows, by the "
    "S-N curve of the [fatigue] table, its factor taken off, and Miner's sum."
)
_NO_FATIGUE_OF = (
    "Corrosion and salt in a crack, fretting at bearings, and a life longer or harder than [fatigue] says."
)
FATIGUE = About(
    ("fatigue",),
    METAL,
    f"The plain wall cracks from being bent to and fro for years.{_LIFE}",
    (narrow_band_damage,),
    _NO_FATIGUE_OF,
    (THICKER_WALL, WIDER, SMALLER_LOAD),
    (stress_range, cycles_at_sea),
)
FATIGUE_WELD = About(
    ("fatigue weld",),
    METAL,
    f"The metal beside a weld cracks from being bent to and fro for years.{_LIFE}",
    (narrow_band_damage,),
    _NO_FATIGUE_OF,
    (MOVED["weld"], BETTER_DETAIL),
    (stress_range, cycles_at_sea),
)
FATIGUE_OPENING = About(
    ("fatigue opening N",),
    METAL,
    f"The edge of a hole or slot cracks from being bent to and fro for years.{_LIFE}",
    (narrow_band_damage,),
    _NO_FATIGUE_OF,
    (MOVED["opening"], BETTER_DETAIL),
    (stress_range, cycles_at_sea),
)


def fatigue_limits(
    rig: Rig,
    sections: Sections,
    layer: Layer,
    s: MetalStresses,
    contacts: Sequence[Contact],
    kinds: tuple[str, ...],
    working: Working,
) -> list[Limit]:
    """Return the limits of one metal layer over the mast's life; none where the rig tells of no life.

    Parameters
    ----------
    rig : Rig
        For the life, the welds and the holes.
    sections : Sections
        Its layers.
    layer : Layer
        The one to look at.
    s : Stresses
        In it.
    contacts : sequence of Contact
        Of the layer at its joints, where one tube alone may bear the whole moment.
    kinds : tuple of str
        Kind of every case in the stresses.
    working : Working
        Where steps and warnings are noted.
    """
    life, mast = rig.fatigue, rig.mast
    counted = np.array([kind not in RARE for kind in kinds])
    if life is None or not np.any(counted):
        return []
    cycles = life_cycles(rig, working)
    plain, at_weld, at_hole = (
        _allowed(curve, life, cycles, working) for curve in (plain_curve(life), weld_curve(life), None)
    )
    # a category typed in counts for the edge of a hole too: the table's hole is one in aluminium
    at_hole = min(at_hole, plain) if life.category_Pa is None else plain
    ratio = np.array([BOTH_WAYS if kind == MOTION else life.stress_ratio for kind in kinds])[:, None, None]
    alone = alone_stress(contacts, s.equivalent_Pa.shape)
    swing = working.use(stress_range, sigma=np.maximum(s.equivalent_Pa, alone), R=ratio)
    welded = near_welds(mast, sections, layer)
    here = np.broadcast_to(layer.present, welded.shape)

    def limit(about: About, range_Pa: Floats, allowed: float, where: NDArray[np.bool_]) -> Limit:
        advise = thicker_wall(sections, layer) if about is FATIGUE else moved(about.name.split()[1])
        capacity = np.full(welded.shape, allowed)
        return Limit(
            about, layer.name, range_Pa, capacity, "Pa", narrow_band_damage, advise, where, cases=counted
        )

    found = [limit(FATIGUE, swing, plain, here & ~welded), limit(FATIGUE_WELD, swing, at_weld, welded)]
    for i in range(len(mast.opening)):
        peak, place = peak_at_opening(mast, i, sections, layer, s, working)
        # a hole in metal beside a weld is no better than the weld
        allowed = min(at_hole, at_weld) if np.any(place & welded) else at_hole
        swing = working.use(stress_range, sigma=peak, R=ratio)
        found.append(limit(FATIGUE_OPENING.numbered(i + 1), swing, allowed, place))
    return [one for one in found if np.any(one.where)]


def life_cycles(rig: Rig, working: Working) -> float:
    """Return the number of rolls in the mast's life."""
    assert rig.fatigue is not None
    life = rig.fatigue
    period = life.roll_period_s or own_roll_period(rig, working)
    return float(
        working.use(cycles_at_sea, where="fatigue", d=life.days_at_sea, t_d=life.time_per_day_s, T=period)
    )


def details_used(rig: Rig) -> tuple[Detail, ...]:
    """Return the named details that the mast is held to."""
    life, mast = rig.fatigue, rig.mast
    if life is None:
        return ()
    names = []
    if life.category_Pa is None:
        names += [life.detail, *([HOLE] if mast.opening else [])]
    if mast.weld and life.weld_category_Pa is None:
        names.append(life.weld_detail or LOWEST_WELD)
    return tuple(find_fatigue_detail(name) for name in dict.fromkeys(names))


def plain_curve(life: Fatigue) -> tuple[float, float]:
    """Return category and slope of the plain wall."""
    return _curve(life.detail, life.category_Pa, life.slope)


def weld_curve(life: Fatigue) -> tuple[float, float]:
    """Return category and slope of the metal beside a weld."""
    return _curve(life.weld_detail or LOWEST_WELD, life.weld_category_Pa, life.weld_slope)


def _curve(name: str, category_Pa: float | None, slope: float | None) -> tuple[float, float]:
    if category_Pa is not None and slope is not None:
        return category_Pa, slope
    detail = find_fatigue_detail(name)
    return detail.category_Pa, detail.slope


def _allowed(curve: tuple[float, float] | None, life: Fatigue, cycles: float, working: Working) -> float:
    """Return the largest range that a life allows."""
    category, slope = _curve(HOLE, None, None) if curve is None else curve
    borne = float(working.use(design_category, S_C=category, gamma=life.factor))
    return largest_range(Curve(borne, slope), cycles=cycles)
