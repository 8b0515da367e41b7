"""What a mast may be made of: tubes in one another, glued staves, a laid-up tube; and the rig with such a mast."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from ...frozen import dataclass
from ...materials import family_of, own_timber
from ...materials.timber import find_timber, keys_not_read
from ...materials.tube_tables import TubeSize
from ...rig import Bearings, Laminate, Mast, Plies, Plug, Rig, Sheath, Sizing, Sleeve, Station, TimberUse
from ...rig.fields import described_fields
from ...rigfile.agree.mast import LARGEST_PLAY
from ...structure.outline import Outline, Tube, outline_of
from .asked import sizing_of

Floats = NDArray[np.float64]
Whole = NDArray[np.intp]
Make = Literal["tubes", "staves", "laminate"]

ON_AXIS_RAD = 1e-9
RIGHT_ANGLE_HALF_RAD = np.pi / 4
THINNEST_STAVE_M = 8e-3
BORE_LEFT = 0.42
"""Greatest wall over diameter of what is hollow: past it a bar is as good."""
SMALLEST_MANDREL_M = 0.025
PLUG_ABOVE_M, PLUG_TAIL_M, HEAD_PLUG_M, HEAD_TAIL_M = 0.5, 0.3, 0.3, 0.15
"""Plugs of a hollow wooden mast that the file does not name: solid from the heel to well above the partners, and at
the head for the sheave: common practice."""
PACKED_M = 0.2e-3
"""Play left in a joint too loose to be left as it is, once it is packed: common practice."""
PLY_ENDS = (0.55, 0.30)
"""Shares of the length above the partners where layers along the mast end, the moment there being about a third and
a half of that at the partners: judgement."""


def make_of(rig: Rig, material: str) -> Make:
    """Return how a mast of a material is made.

    Raises
    ------
    MaterialError
        Where there is no such material.
    """
    own = {m.name: m.family for m in rig.materials}
    family = family_of(material.split("+")[0].strip(), own=own, laminates=[x.name for x in rig.laminates])
    return {"metal": "tubes", "timber": "staves"}.get(family, "laminate")  # type: ignore[return-value]


def price_of(rig: Rig, material: str) -> float | None:
    """Return the user's price of a kilogram in place, where there is one."""
    return {p.material: p.per_kg for p in sizing_of(rig).price}.get(material)


# ---------------------------------------------------------------- tubes


def tube_rig(rig: Rig, material: str, count: int) -> Rig:
    """Return the rig with a mast of so many nested tubes, of any size yet: what a stand is made of."""
    heights = np.linspace(0.0, rig.mast.length_m, count + 1)
    sizes = [TubeSize(name="", series="", diameter_m=0.2, wall_m=0.01, provenance="user", source="")] * count
    return nested(rig, material, sizes, heights[1:-1].tolist(), [0.01] * (count - 1))


def nested(
    rig: Rig, material: str, tubes: Sequence[TubeSize], joints_m: Sequence[float], tails_m: Sequence[float]
) -> Rig:
    """Return the rig with a mast of tubes standing in one another.

    Parameters
    ----------
    rig : Rig
        The rig.
    material : str
        The metal.
    tubes : sequence of TubeSize
        From the heel up.
    joints_m, tails_m : sequence of float
        Height of each joint, and how far the upper tube reaches down from it.
    """
    joints_m = [round(z, 6) for z in joints_m]
    ends = [0.0, *joints_m, rig.mast.length_m]
    stations = [
        Station(height_m=z, diameter_m=tube.diameter_m, wall_m=tube.wall_m)
        for i, tube in enumerate(tubes)
        for z in ends[i : i + 2]
    ]
    sleeves = [
        Sleeve(
            start_m=round(joint - tail, 6),
            end_m=joint,
            diameter_m=tube.diameter_m,
            wall_m=tube.wall_m,
            play_m=PACKED_M if below.bore_m - tube.diameter_m > LARGEST_PLAY * below.diameter_m else None,
        )
        for below, tube, joint, tail in zip(tubes, tubes[1:], joints_m, tails_m, strict=False)
    ]
    return _with_mast(
        _plain(rig, material, "tubes"),
        shape="round",
        stations=tuple(stations),
        sleeve=tuple(sleeves),
        plug=(),
        sheath=(),
    )


def nested_outline(
    tubes: Sequence[Sequence[TubeSize]], joints_m: Floats, tails_m: Floats, length_m: float
) -> Outline:
    """Return the sizes of many masts of as many tubes each.

    Parameters
    ----------
    tubes : sequence of sequence of TubeSize
        Of every mast from the heel up.
    joints_m, tails_m : ndarray, shape (masts, tubes - 1)
        Heights of the joints, and lengths of the tails.
    length_m : float
        Length of the masts.
    """
    D = np.array([[tube.diameter_m for tube in mast] for mast in tubes])
    t = np.array([[tube.wall_m for tube in mast] for mast in tubes])
    masts, count = D.shape
    if count == 1:
        heights = np.array([0.0, length_m])
    else:
        ends = np.column_stack([np.zeros(masts), joints_m, np.full(masts, length_m)])
        heights = np.stack([ends[:, :-1], ends[:, 1:]], axis=-1).reshape(masts, -1)
    size, wall = np.repeat(D, 2, axis=1), np.repeat(t, 2, axis=1)
    sleeves = tuple(
        Tube(joints_m[:, k] - tails_m[:, k], joints_m[:, k], D[:, k + 1], t[:, k + 1])
        for k in range(count - 1)
    )
    # each tube stands in the one below it
    return Outline(heights, size, size, wall, sleeves, steps=tuple(range(1, 2 * count - 1, 2)))


# ---------------------------------------------------------------- what is built


@dataclass(frozen=True)
class Free:
    """One size that may be chosen.

    Parameters
    ----------
    name : str
        What it is.
    values : ndarray
        What it may be, rising.
    """

    name: str
    values: Floats


@dataclass(frozen=True)
class Space:
    """All masts of one construction that may be built: each is a row of numbers, one for each free size.

    Parameters
    ----------
    rig : Rig
        With a mast that lends all but its sizes.
    material : str
        As it was asked for.
    make : str
        ``staves`` or ``laminate``.
    free : tuple of Free
        The sizes: diameters (or bores) at the heights from the heel up, then walls or numbers of plies.
    heights_m : ndarray
        Heights of the sizes.
    lots : tuple of tuple of int
        Of a laminate: the lots of its lay-up that each number of plies stands for.
    """

    rig: Rig
    material: str
    make: Make
    free: tuple[Free, ...]
    heights_m: Floats
    lots: tuple[tuple[int, ...], ...] = ()

    @property
    def last(self) -> Whole:
        """Number of the largest of every size."""
        return np.array([f.values.size - 1 for f in self.free], dtype=np.intp)

    @property
    def diameters(self) -> int:
        """How many of the free sizes are diameters."""
        return len(self.free) - (len(self.lots) if self.make == "laminate" else 2)

    def repaired(self, rows: Whole) -> Whole:
        """Return rows with sizes that can be built: no wider above than below the partners' height, nor at the heel."""
        found = np.clip(rows, 0, self.last)
        k, first = self.diameters, 1 if self.make == "staves" else 0
        # the second of staves is at the partners, the first of a mandrel: what is above is no wider
        found[:, first : k - 1] = np.minimum.accumulate(found[:, first : k - 1], axis=1)
        # the head has sizes of its own: where all are wide, what is below is as wide
        size, head = (self.free[i].values for i in (k - 2, k - 1))
        least = min(int(np.searchsorted(size, head[0] - 1e-9)), size.size - 1)
        found[:, first : k - 1] = np.maximum(found[:, first : k - 1], least)
        most = np.searchsorted(head, size[found[:, k - 2]] + 1e-9, side="right") - 1
        found[:, k - 1] = np.minimum(found[:, k - 1], np.maximum(most, 0))
        if self.make == "staves":
            found[:, 0] = np.minimum(found[:, 0], found[:, 1])
            size = self.values(found)[:, :k]
            most, most_at_tip = (self._most_wall(of) for of in (np.min(size[:, :-1], axis=1), size[:, -1]))
            found[:, k] = np.minimum(found[:, k], most)
            found[:, k + 1] = np.minimum.reduce([found[:, k + 1], found[:, k], most_at_tip])
        return found

    def _most_wall(self, diameter_m: Floats) -> Whole:
        """Return the thickest wall that leaves a bore, or the thinnest of all."""
        walls = self.free[self.diameters].values
        return np.asarray(
            np.maximum(np.searchsorted(walls, BORE_LEFT * diameter_m + 1e-9, side="right") - 1, 0)
        )

    def values(self, rows: Whole) -> Floats:
        """Return the sizes of rows, shape (masts, sizes)."""
        return np.stack([f.values[rows[:, i]] for i, f in enumerate(self.free)], axis=-1)

    def outline(self, rows: Whole) -> Outline:
        """Return the sizes of many masts."""
        values, k = self.values(rows), self.diameters
        base = outline_of(self.rig.mast)
        if self.make == "staves":
            size = values[:, :k]
            wall = np.repeat(values[:, k : k + 1], k, axis=1)
            wall[:, -1] = values[:, k + 1]
            return replace(base, forward_m=size, side_m=size, wall_m=wall)
        # the mandrel is straight below the partners
        size = np.concatenate([values[:, :1], values[:, :k]], axis=1)
        counts = np.tile(self._file_counts, (len(rows), 1))
        for j, lots in enumerate(self.lots):
            counts[:, list(lots)] = values[:, k + j, None].astype(np.intp)
        name = self.rig.mast.material
        return replace(base, forward_m=size, side_m=size, wall_m=np.zeros_like(size), counts={name: counts})

    @property
    def _file_counts(self) -> Whole:
        return np.array([plies.count for plies in self._laminate.plies], dtype=np.intp)

    @property
    def _laminate(self) -> Laminate:
        return next(x for x in self.rig.laminates if x.name == self.rig.mast.material)

    def rig_of(self, row: Whole) -> Rig:
        """Return the rig with one of the masts."""
        values, k = self.values(row[None])[0].tolist(), self.diameters
        mast = self.rig.mast
        if self.make == "staves":
            walls = [values[k]] * (k - 1) + [values[k + 1]]
            stations = [
                replace(station, diameter_m=D, breadth_m=None, wall_m=t)
                for station, D, t in zip(mast.stations, values[:k], walls, strict=True)
            ]
            return replace(self.rig, mast=replace(mast, stations=tuple(stations)))
        bores = [values[0], *values[:k]]
        stations = [replace(s, bore_m=d) for s, d in zip(mast.stations, bores, strict=True)]
        counts = self._file_counts.tolist()
        for j, lots in enumerate(self.lots):
            for lot in lots:
                counts[lot] = round(values[k + j])
        old = self._laminate
        plies = tuple(replace(of, count=n) for of, n in zip(old.plies, counts, strict=True) if n)
        laminates = tuple(replace(x, plies=plies) if x is old else x for x in self.rig.laminates)
        return replace(self.rig, mast=replace(mast, stations=tuple(stations)), laminates=laminates)

    def said(self, row: Whole) -> str:
        """Return the sizes in a line."""
        parts = []
        for free, value in zip(self.free, self.values(row[None])[0].tolist(), strict=True):
            parts.append(
                f"{free.name} {value:.0f}" if "plies" in free.name else f"{free.name} {value * 1e3:g} mm"
            )
        return ", ".join(parts)


def space_of(rig: Rig, material: str) -> Space:
    """Return all masts of staves or of laminate that may be built of a material.

    Raises
    ------
    MaterialError
        Where there is no such material.
    """
    return _staves(rig, material) if make_of(rig, material) == "staves" else _laminate(rig, material)


def _heights(rig: Rig, *, own: bool) -> list[float]:
    """Return the heights of sizes: those of the file's own stations, where it is made the same way."""
    mast, more = rig.mast, sizing_of(rig).heights_m
    if more is None and own:
        inner = [s.height_m for s in mast.stations]
        above = sorted({z for z in inner if mast.bury_m < z < mast.length_m})
    else:
        above = list(more or ())
    return [0.0, mast.bury_m, *above, mast.length_m]


def _steps(low: float, high: float, step: float) -> Floats:
    """Return multiples of a step from one size to another, each the float that its millimetres read back as."""
    first, last = int(np.ceil(low / step - 1e-9)), int(np.floor(high / step + 1e-9))
    return np.array([float(f"{i * step * 1e3:.6g}e-3") for i in range(first, max(last, first) + 1)])


def _staves(rig: Rig, material: str) -> Space:
    asked = sizing_of(rig)
    timber, _, ply = (part.strip() for part in material.partition("+"))
    own = make_of(rig, rig.mast.material) == "staves"
    heights = _heights(rig, own=own)
    thinnest = max(asked.smallest_wall_m, THINNEST_STAVE_M)
    # a diameter that the thinnest wall fills is none of a hollow mast
    smallest = max(asked.smallest_diameter_m, thinnest / BORE_LEFT)
    diameters = _steps(smallest, asked.largest_diameter_m, asked.diameter_step_m)
    walls = _steps(thinnest, max(0.4 * asked.largest_diameter_m, thinnest), asked.wall_step_m)
    tip = _within_tip(diameters, asked)
    names = ["heel", "partners", *(f"{z:.2f} m up" for z in heights[2:-1]), "head"]
    free = [Free(f"{name} diameter", diameters) for name in names[:-1]]
    free += [Free("head diameter", tip), Free("wall", walls), Free("wall at the head", walls)]
    base = _plain(rig, timber, "staves")
    mast = rig.mast
    shape = (
        mast.shape
        if own and mast.shape == "staves"
        else "round"
        if own and mast.shape == "round"
        else "staves"
    )
    plugs = mast.plug if own and mast.plug else _plugs(mast)
    sheaths: tuple[Sheath, ...] = mast.sheath if own and not ply else ()
    laminates = base.laminates
    if ply:
        name = f"{ply} sheath"
        laminates = (*laminates, _sheathing(name, ply, asked))
        sheaths = (Sheath(start_m=0.0, end_m=mast.length_m, laminate=name),)
    stations = tuple(Station(height_m=z, diameter_m=0.1, wall_m=0.02) for z in heights)
    rig = _with_mast(
        replace(base, laminates=laminates),
        shape=shape,
        stations=stations,
        sleeve=(),
        plug=plugs,
        sheath=sheaths,
    )
    return Space(rig, material, "staves", tuple(free), np.array(heights))


def _within_tip(diameters: Floats, asked: Sizing) -> Floats:
    low = asked.smallest_tip_m or 0.0
    high = asked.largest_tip_m or np.inf
    kept = diameters[(diameters >= low - 1e-9) & (diameters <= high + 1e-9)]
    return kept if kept.size else diameters[:1]


def _plugs(mast: Mast) -> tuple[Plug, ...]:
    top = min(mast.bury_m + PLUG_ABOVE_M, mast.length_m / 2)
    return (
        # a post stands in the bore below
        Plug(start_m=0.0 if mast.post is None else mast.bury_m, end_m=top, tail_m=PLUG_TAIL_M),
        Plug(start_m=mast.length_m - HEAD_PLUG_M, end_m=mast.length_m, tail_m=HEAD_TAIL_M),
    )


def _sheathing(name: str, ply: str, asked: Sizing) -> Laminate:
    half, light, along = RIGHT_ANGLE_HALF_RAD, asked.off_axis_mass_kg_m2, asked.ply_mass_kg_m2
    return Laminate(
        name=name,
        plies=(
            Plies(material=ply, angle_rad=0.0, areal_mass_kg_m2=along),
            Plies(material=ply, angle_rad=half, areal_mass_kg_m2=light),
            Plies(material=ply, angle_rad=-half, areal_mass_kg_m2=light),
        ),
    )


def _laminate(rig: Rig, material: str) -> Space:
    asked, mast = sizing_of(rig), rig.mast
    named = next((x for x in rig.laminates if x.name == material), None)
    own = named is not None and mast.material == material
    laid = named or _tube_laminate(rig, material, asked)
    heights = _heights(rig, own=own)
    bores = _steps(SMALLEST_MANDREL_M, asked.largest_diameter_m, asked.diameter_step_m)
    names = ["partners", *(f"{z:.2f} m up" for z in heights[2:-1]), "head"]
    free = [
        Free(f"mandrel at the {name}" if " up" not in name else f"mandrel {name}", bores) for name in names
    ]
    lots, counts = _free_plies(laid, asked)
    free += counts
    base = _plain(rig, laid.name, "laminate")
    laminates = base.laminates if named else (*base.laminates, laid)
    stations = tuple(Station(height_m=z, bore_m=0.05) for z in heights)
    rig = _with_mast(
        replace(base, laminates=laminates),
        shape="round",
        stations=stations,
        sleeve=(),
        plug=(),
        sheath=(),
    )
    return Space(rig, material, "laminate", tuple(free), np.array(heights), lots)


def _tube_laminate(rig: Rig, ply: str, asked: Sizing) -> Laminate:
    """Return the lay-up of a tube of one ply: along it in three lots, between two layers at 45 deg on either face."""
    half, light, along = RIGHT_ANGLE_HALF_RAD, asked.off_axis_mass_kg_m2, asked.ply_mass_kg_m2
    mast = rig.mast
    ends = [mast.bury_m + share * (mast.length_m - mast.bury_m) for share in PLY_ENDS]
    across = [Plies(material=ply, angle_rad=way * half, areal_mass_kg_m2=light) for way in (1.0, -1.0)]
    return Laminate(
        name=f"{ply} tube",
        plies=(
            *across,
            Plies(material=ply, angle_rad=0.0, areal_mass_kg_m2=along),
            *(Plies(material=ply, angle_rad=0.0, areal_mass_kg_m2=along, end_m=round(z, 2)) for z in ends),
            *reversed(across),
        ),
    )


def _free_plies(laid: Laminate, asked: Sizing) -> tuple[tuple[tuple[int, ...], ...], list[Free]]:
    """Return the lots whose numbers of plies go together, and those numbers; off the axis all alike, for balance."""
    along = [i for i, plies in enumerate(laid.plies) if abs(plies.angle_rad) < ON_AXIS_RAD]
    across = tuple(i for i in range(len(laid.plies)) if i not in along)
    lots: list[tuple[int, ...]] = []
    free = []
    whole = [i for i in along if laid.plies[i].end_m is None]
    for i in along:
        end = laid.plies[i].end_m
        least = 1 if i in whole[:1] else 0
        name = "plies along the mast" if end is None else f"plies along it to {end:.2f} m"
        lots.append((i,))
        free.append(Free(name, np.arange(least, asked.most_plies + 1, dtype=float)))
    if across and len({laid.plies[i].count for i in across}) == 1:
        lots.append(across)
        free.append(Free("plies of each kind at an angle", np.arange(1, asked.most_plies + 1, dtype=float)))
    return tuple(lots), free


# ---------------------------------------------------------------- a mast of another make


def _plain(rig: Rig, material: str, make: Make) -> Rig:
    """Return the rig with a mast of a material, rid of what a mast so made cannot have."""
    mast = rig.mast
    same = make_of(rig, mast.material) == make
    metal = make == "tubes"
    kept = {"opening": mast.opening, "weld": mast.weld} if same and metal else {"opening": (), "weld": ()}
    bare = replace(
        mast, material=material, turns_rad=None, wall_loss_m=mast.wall_loss_m if metal else 0.0, **kept
    )
    if make != "staves":
        bare = replace(bare, sides=Mast.sides, outside=Mast.outside)
    return replace(
        rig,
        mast=bare,
        fatigue=rig.fatigue if metal else None,  # the life it tells of is that of metal
        timber=_timber_use(rig, material) if make == "staves" else TimberUse(),
        bearings=_unmeasured(rig.bearings) if metal else rig.bearings,
    )


def _timber_use(rig: Rig, timber: str) -> TimberUse:
    """Return the rig's [timber] without what plays no part for a timber: species and classes ask for other things."""
    own = {m.name: own_timber(m) for m in rig.materials if m.family == "timber"}
    idle = keys_not_read([find_timber(timber, own.get)])
    fresh: dict[str, Any] = {
        entry.name: entry.default for key, entry in described_fields(TimberUse).items() if key in idle
    }
    return replace(rig.timber, **fresh)


def _unmeasured(bearings: Bearings) -> Bearings:
    """Return bearings without the lengths that only what presses on wood or laminate asks for."""
    partners, step = bearings.partners, bearings.step
    return replace(
        bearings,
        partners=partners if partners.kind is not None else replace(partners, length_m=None),
        step=step if step.kind is not None else replace(step, length_m=None),
    )


def _with_mast(base: Rig, **sizes: Any) -> Rig:
    return replace(base, mast=replace(base.mast, **sizes))
