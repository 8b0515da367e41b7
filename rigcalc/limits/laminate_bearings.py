"""What a bearing does to a wall of laminate: it presses on it, crushes it through, and bends it round."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..formulas import Working
from ..formulas.bearings import close_bush_peak_pressure, projected_pressure
from ..formulas.laminate_tubes import bearing_hoop_moment, knocked_down_strength, ovalising_wave
from ..frozen import dataclass
from ..materials.laminates import Stack, bent_envelope
from ..rig import Bearing, Rig
from ..stretches import distinct
from ..structure.sections import Points
from .about import LAMINATE, About, Cure
from .laminate import Place, Skin, factors_named
from .record import Limit, up
from .stresses import Internal

Floats = NDArray[np.float64]

BEARING_SHARE = 0.5
"""Length of a bearing over the diameter of the mast where the file does not give it: judgement, on the short side."""


LONGER_BEARING = Cure(
    "make the bearing <{times:.2f} times as long (it is taken as {now:.0f} mm)|longer>",
    "a deeper partner or heel block; nearly no weight",
)
SLEEVE_OVER = Cure(
    "fit a sleeve over the mast <there|in the bearing> that spreads its force",
    "weight low down; a larger bearing",
)
PLUG_BORE = Cure("plug the bore <there|in the bearing>", "little weight low down; wires must go round it")
MORE_PLIES = Cure(
    "lay more plies <there, round the mast above all: a wall of about {to:.1f} mm for {now:.1f} would "
    "do|in the bearing, round the mast above all>",
    "weight low down",
)
_UNDER_BEARING = (
    "Wear of the surface as it turns, and how evenly the bearing fits; a hard edge bites deeper than this."
)
BEARING = About(
    ("bearing",),
    LAMINATE,
    "A bearing presses on the laminate. The force over length and diameter of the bearing against the "
    "bearing pressure of the lay-up.",
    (projected_pressure,),
    _UNDER_BEARING,
    (LONGER_BEARING, SLEEVE_OVER),
)
CRUSHED = About(
    ("crushing",),
    LAMINATE,
    "A bearing crushes the wall through its thickness. The peak of the pressure round the bearing against "
    "what resin and plies bear through the wall.",
    (close_bush_peak_pressure,),
    _UNDER_BEARING,
    (LONGER_BEARING, SLEEVE_OVER),
    (knocked_down_strength,),
)
RING = About(
    ("ring",),
    LAMINATE,
    "A bearing bends the hollow wall oval until a ply breaks. Bending round the tube, with what else "
    "strains the plies there, by the criteria of the lay-up and its safety factor.",
    (bearing_hoop_moment,),
    "A ring or frame bonded inside, which would help it.",
    (PLUG_BORE, LONGER_BEARING, MORE_PLIES),
    (ovalising_wave,),
)


@dataclass(frozen=True)
class Pressed:
    """A layer under its bearings.

    Parameters
    ----------
    where : ndarray of bool, shape (n, points)
        Points in a bearing that presses on the layer.
    force_N : ndarray, shape (cases, n, points)
        Force of the bearing; zero elsewhere.
    across_m, length_m : ndarray, shape (n, points)
        Diameter that the bearing presses on, and its length; 1 m elsewhere.
    """

    where: NDArray[np.bool_]
    force_N: Floats
    across_m: Floats
    length_m: Floats


def pressed_at(rig: Rig, skin: Skin, internal: Internal) -> Pressed:
    """Return the forces of partners and step on a layer, with the lengths they are spread over."""
    sections, shape = skin.sections, skin.here.shape
    where, force = np.zeros(shape, dtype=bool), np.zeros(internal.axial_N.shape)
    length, across = np.ones(shape), np.ones(shape)
    bury = rig.mast.bury_m
    below, above = (sections.below(bury), -1), (sections.above(bury), 0)
    foot = (sections.above(0.0), 0)
    if rig.mast.post is None:
        pressed, size = skin.layer.outer_m >= sections.outer_m * (1 - 1e-9), skin.layer.outer_m
    else:
        # on a post both bearings press from inside
        pressed, size = np.full(shape, not skin.is_sheath), skin.layer.inner_m
    places: tuple[tuple[Bearing, Points, Floats], ...] = (
        (rig.bearings.partners, below, internal.upper_N),
        (rig.bearings.partners, above, internal.upper_N),
        (rig.bearings.step, foot, internal.lower_N),
    )
    for bearing, at, pull in places:
        where[at] = pressed[at] & skin.here[at]
        force[(slice(None), *at)] = np.broadcast_to(pull, force.shape)[(slice(None), *at)]
        across[at] = size[at]
        length[at] = BEARING_SHARE * size[at] if bearing.length_m is None else bearing.length_m
    length, across = (np.where(where, of, 1.0) for of in (length, across))
    return Pressed(where, np.where(where, force, 0.0), across, length)


def bearing_limits(rig: Rig, skin: Skin, internal: Internal, working: Working) -> Iterator[Limit]:
    """Yield the limits of a layer of laminate under partners and step.

    Parameters
    ----------
    rig : Rig
        For the bearings.
    skin : Skin
        The layer.
    internal : Internal
        Forces in the mast, those of the bearings among them.
    working : Working
        Where steps and warnings are noted.
    """
    under = pressed_at(rig, skin, internal)
    if not np.any(under.where):
        return
    lay_up, name = skin.laid.lay_up, skin.layer.name
    size: dict[str, Any] = {"F": under.force_N, "D": under.across_m, "L": under.length_m}

    def longer(used: float, at: Place) -> str:
        longer = LONGER_BEARING.said(times=up(used, 0.01), now=under.length_m[at] * 1e3)
        return f"{longer}, or {SLEEVE_OVER.said()}"

    pressure = working.use(projected_pressure, **size)
    allowed = np.full(under.where.shape, lay_up.bearing_Pa)
    yield Limit(BEARING, name, pressure, allowed, "Pa", projected_pressure, longer, under.where)
    yield Limit(
        CRUSHED,
        name,
        working.use(close_bush_peak_pressure, **size),
        _through(skin, working),
        "Pa",
        close_bush_peak_pressure,
        longer,
        under.where,
        factors_named(skin, close_bush_peak_pressure),
    )
    # what fills the bore keeps the wall round, and what is under a sheath does the same
    filled = np.any([other.shape.solid for other in skin.sections.layers], axis=0)
    hollow = under.where & ~filled
    if np.any(hollow) and not skin.is_sheath:
        yield _ring(skin, under, hollow, working)


def _through(skin: Skin, working: Working) -> Floats:
    """Return the pressure that the wall bears through its thickness, shape (n, points)."""
    laid, lay_up = skin.laid, skin.laid.lay_up
    # across a cloth lie fibres too: only plies of one direction tell how the resin bears
    across = [
        lot.ply.Yc_Pa if lot.ply.unidirectional and lot.ply.Yc_Pa is not None else np.inf
        for lot in lay_up.lots
    ]
    stands = laid.walls.stack.share > 0.0
    least = np.minimum(lay_up.crushing_Pa, np.min(np.where(stands, across, np.inf), axis=-1))
    allowed = working.use(
        knocked_down_strength, f=laid.along(least), k=lay_up.resin_share, gamma=lay_up.safety_factor
    )
    return np.broadcast_to(allowed, skin.here.shape)


def _ring(skin: Skin, under: Pressed, hollow: NDArray[np.bool_], working: Working) -> Limit:
    """First ply to fail where a bearing bends the wall of a hollow tube round, with what else strains it there."""
    laid, lay_up = skin.laid, skin.laid.lay_up
    A = laid.walls.A_N_m
    D_22 = laid.along(laid.walls.released_D_N_m[:, 1, 1])
    A_11, A_12, A_22 = (laid.along(A[:, i, j]) for i, j in ((0, 0), (0, 1), (1, 1)))
    wave = working.use(ovalising_wave, A_11=A_11, A_12=A_12, A_22=A_22, D_22=D_22, r=skin.radius_m)
    moment = working.use(bearing_hoop_moment, F=under.force_N, w=under.length_m, r=skin.radius_m, k_o=wave)
    used = np.zeros(moment.shape)
    used[:, hollow] = bent_round(skin, hollow, (moment / D_22)[:, hollow]) * lay_up.safety_factor

    def advise(used: float, at: Place) -> str:
        t = float(skin.layer.wall_m[at]) * 1e3
        more = MORE_PLIES.said(to=np.ceil(t * used * 10) / 10, now=t)
        return f"{PLUG_BORE.said()}, {LONGER_BEARING.general}, or {more}"

    return Limit(
        RING,
        skin.layer.name,
        used,
        np.ones(hollow.shape),
        "1",
        bearing_hoop_moment,
        advise,
        hollow,
        factors_named(skin, bearing_hoop_moment),
    )


def bent_round(skin: Skin, at: NDArray[np.bool_], curvature_per_m: Floats) -> Floats:
    """Return the greatest use of any ply at some points, where the wall is bent round by so much, shape (cases, k)."""
    laid, element = skin.laid, np.nonzero(at)[0]
    bent, pressed, twisted, sheared = (
        of[:, at] for of in (skin.bent, skin.pressed, skin.twisted, skin.sheared)
    )
    outer, axis = (bent + pressed, twisted, curvature_per_m), (pressed, twisted + sheared, curvature_per_m)
    # by point and load, then outer fibre and neutral axis in every case
    loads = np.moveaxis(np.stack([outer, axis], axis=1), -1, 0)
    loads = loads.reshape(*loads.shape[:2], -1)
    numbers = distinct(laid.index[element])
    index = np.searchsorted(numbers, laid.index[element])
    weak = laid.weak
    envelope = bent_envelope(
        Stack(weak.plies, weak.angle_rad, weak.share[numbers]),
        laid.walls.edges_m[numbers],
        laid.unit_strains[numbers],
    )
    used = [envelope.use(criterion, np.reshape(index, -1), loads) for criterion in laid.lay_up.criteria]
    return np.asarray(np.max(np.reshape(used, (len(used), len(element), 2, -1)), axis=(0, 2)).T)
