"""The wall of a hollow spar: it flattens, splits as it is pressed oval, or buckles, where no wood fills the bore."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from ...formulas.laminate_tubes import orthotropic_bending_knockdown, orthotropic_brazier_moment
from ...formulas.metals import design_strength
from ...formulas.sections import annulus_second_moment
from ...formulas.timber_tubes import (
    box_splitting_moment,
    grained_cylinder_stress,
    grained_plate_stress,
    splitting_moment,
)
from ..about import PLUGGED, THICKER_WALL, TIMBER, About
from ..record import Limit, up
from .wood import Advise, Floats, Place, Wood

_SLENDER_PER_ROOT = 16.0
"""phi of NASA SP-8007 is the root of r/t over this."""


_SPLIT_ALREADY = (
    "Checks, open glue lines and staves that differ; a bearing that presses there has checks of its own."
)
FLATTENING = About(
    ("flattening",),
    TIMBER,
    "A bent hollow spar goes oval and folds. The bending moment against that at which a long tube, as soft "
    "round itself as wood is across the grain, gives way, over timber.safety_factor.",
    (orthotropic_brazier_moment,),
    _SPLIT_ALREADY,
    (THICKER_WALL, PLUGGED),
)
SPLITTING = About(
    ("splitting",),
    TIMBER,
    "A bent hollow spar goes oval and splits along its grain before it folds. The bending moment against "
    "that which bends the wall across the grain as far as the wood bears.",
    (splitting_moment, box_splitting_moment),
    _SPLIT_ALREADY,
    (THICKER_WALL, PLUGGED),
)
BUCKLING = About(
    ("wall-buckling",),
    TIMBER,
    "The wall of a hollow spar wrinkles on its pressed side. Stress along the mast against that which "
    "buckles the wall, curved or flat, at the lower 5 % of every stiffness, over timber.safety_factor.",
    (grained_cylinder_stress, grained_plate_stress),
    _SPLIT_ALREADY,
    (THICKER_WALL, PLUGGED),
)


def wall_limits(wood: Wood) -> list[Limit]:
    """Return the limits of the wall where the bore is empty; none where it is not."""
    if not np.any(wood.hollow):
        return []
    found = [_splitting(wood), _buckling(wood)]
    if not _flat(wood):
        found.append(_flattening(wood))
    return found


def _flat(wood: Wood) -> bool:
    return wood.layer.shape.kind == "box"


def _wall(wood: Wood) -> Floats:
    return np.where(wood.hollow, wood.layer.wall_m, 1.0)


def _radius(wood: Wood) -> Floats:
    """Radius of the middle of the wall where it is flattest; at the corners of staves left flat."""
    shape = wood.layer.shape
    forward = (shape.outer_forward_m + shape.inner_forward_m) / 4
    side = (shape.outer_side_m + shape.inner_side_m) / 4
    if shape.kind == "turned":
        forward = side = (wood.layer.outer_m - wood.layer.wall_m) / 2
    if shape.kind == "polygon":
        forward = side = forward / np.cos(np.pi / shape.sides)
    less, more = np.minimum(forward, side), np.maximum(forward, side)
    return np.where(wood.hollow, more**2 / np.where(less > 0.0, less, 1.0), 1.0)


def _flattening(wood: Wood) -> Limit:
    """Brazier, the wall as soft round the spar as wood is across its grain.

    What is not a plain tube counts as one of its flattest side and its thinnest wall, at the same stress.
    """
    timber, r, t = wood.timber, _radius(wood), _wall(wood)
    tube = annulus_second_moment(2 * r + t, 2 * r - t) / (r + t / 2)
    low = timber.value_Pa("E_05") / timber.value_Pa("E_true")
    moment = wood.working.use(
        orthotropic_brazier_moment,
        where=wood.layer.name,
        E_x=timber.value_Pa("E_05"),
        E_y=timber.value_Pa("E_across") * low,
        nu_xy=0.0,
        nu_yx=0.0,
        r=r,
        t=t,
    )
    return Limit(
        FLATTENING,
        wood.layer.name,
        wood.stresses.bending_Pa * tube,
        moment / wood.margin,
        "N m",
        orthotropic_brazier_moment,
        _thicker(wood, 2.0),
        wood.hollow,
    )


def _splitting(wood: Wood) -> Limit:
    """The wall bent across its grain by its own curvature."""
    shape, E = wood.layer.shape, wood.layer.elastic.E_Pa
    EI = np.where(wood.hollow, np.min(wood.layer.EI_N_m2, axis=0), 1.0)
    f_t90, t = wood.allowed("tension_perp"), _wall(wood)
    formula: Callable[..., object]
    if _flat(wood):
        formula = box_splitting_moment
        capacity = np.full_like(t, np.inf)
        for depth, breadth in (
            (shape.outer_forward_m, shape.inner_side_m),
            (shape.outer_side_m, shape.inner_forward_m),
        ):
            y, b = (depth - wood.layer.wall_m) / 2, breadth
            moment = wood.working.use(
                box_splitting_moment,
                EI=EI,
                E=E,
                f_t90=f_t90,
                y=np.where(wood.hollow, y, 1.0),
                b=np.where(wood.hollow, b, 1.0),
                t=t,
            )
            capacity = np.minimum(capacity, moment)
    else:
        formula = splitting_moment
        capacity = wood.working.use(
            splitting_moment, where=wood.layer.name, EI=EI, E=E, f_t90=f_t90, r=_radius(wood), t=t
        )
    return Limit(
        SPLITTING,
        wood.layer.name,
        wood.stresses.moment_N_m,
        np.asarray(capacity),
        "N m",
        formula,
        _thicker(wood, 0.5),
        wood.hollow,
        wood.source("tension_perp"),
    )


def _buckling(wood: Wood) -> Limit:
    """The pressed side of the wall, curved or flat, at the lower 5 % of every stiffness."""
    timber, use, shape = wood.timber, wood.working.use, wood.layer.shape
    low = timber.value_Pa("E_05") / timber.value_Pa("E_true")
    E_L, E_T, G = timber.value_Pa("E_05"), timber.value_Pa("E_across") * low, timber.value_Pa("G") * low
    t, r = _wall(wood), _radius(wood)
    critical = np.full_like(t, np.inf)
    formula: Callable[..., object] = grained_plate_stress
    if not _flat(wood):
        formula = grained_cylinder_stress
        knocked = use(
            orthotropic_bending_knockdown, where=wood.layer.name, phi=np.sqrt(r / t) / _SLENDER_PER_ROOT
        )
        critical = knocked * use(grained_cylinder_stress, E_L=E_L, E_T=E_T, G=G, r=r, t=t)
    if shape.kind in ("box", "polygon"):
        flat = np.maximum(shape.inner_forward_m, shape.inner_side_m)
        if shape.kind == "polygon":
            flat = flat * np.tan(np.pi / shape.sides)
        width = np.where(wood.hollow, flat, 1.0)
        plate = use(grained_plate_stress, E_L=E_L, E_T=E_T, G=G, b=width, t=t)
        critical = np.minimum(critical, plate)
    s = wood.stresses
    return Limit(
        BUCKLING,
        wood.layer.name,
        s.bending_Pa + s.direct_Pa,
        use(design_strength, f=critical, gamma=wood.margin),
        "Pa",
        formula,
        _thicker(wood, 1.0),
        wood.hollow,
    )


def _thicker(wood: Wood, power: float) -> Advise:
    """Return advice to raise the wall, what it bears growing as a power of it and as the stiffness it adds."""

    def bears(D: float, t: float, t_0: float) -> float:
        """What a wall t bears over what one of t_0 does, of one diameter."""
        k, k_0 = 1 - 2 * t / D, 1 - 2 * t_0 / D
        stiffer = (1 - k**4) / (1 - k_0**4) if power < 2.0 else 1.0
        return float((t / t_0) ** power * stiffer)

    def advise(used: float, at: Place) -> str:
        D, t_0 = float(wood.layer.outer_m[at]), float(wood.layer.wall_m[at])
        fill = PLUGGED.said()
        low, high = t_0, D / 2
        if bears(D, high, t_0) < used:
            return fill
        while high - low > 1e-6 * D:
            middle = (low + high) / 2
            low, high = (middle, high) if bears(D, middle, t_0) < used else (low, middle)
        return f"{THICKER_WALL.said(now=t_0 * 1e3, to=up(high * 1e3, 0.1))}, or {fill}"

    return advise
