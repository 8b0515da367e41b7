"""What a joint of nested tubes bears: its overlap, the walls at its ends, and the shear between them.

Sections take nested tubes as bent to one curvature, which holds where they touch all along. The other limit
is looked at here: contact at the ends of the overlap alone, one tube bearing the whole moment at each, and
the force of the couple bending the wall it presses on. A tube at its own end has no stress along it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ..formulas import Working
from ..formulas.joints import (
    contact_force,
    flattening,
    least_overlap,
    oval_length,
    overlap_shear,
    pressed_wall_stress,
    wall_bending_stress,
)
from ..formulas.sections import bending_stress, direct_stress, torsion_stress, von_mises_stress
from ..frozen import dataclass
from ..rig import Rig
from ..structure.joints import TUBE, Lap, laps_of
from ..structure.mesh import POINTS
from ..structure.sections import Layer, Points, Sections
from .about import JOINTS, About, Cure
from .metal import design_yield, radius_m
from .record import Limit, up
from .stresses import Internal, layer_stresses

Floats = NDArray[np.float64]

AT_THE_SIDES, UNDER_THE_FORCE = 0.065, 0.045
"""Moment round the wall over force and radius, where the mast's own bending is nothing and where it is greatest."""
LONGER_OVERLAP = Cure(
    "lengthen the <{what} from {now:.2f} to {to} m|overlap>", "weight, in step with the overlap"
)
THICKER_TUBE = Cure(
    "raise the wall of the <{layer}{place} from {now:.1f} to about {to:.1f} mm|tube that is pressed>",
    "weight, in step with the wall; tubes must still fit into one another",
)
PLUG_TUBE = Cure(
    "plug the <{layer} there|tube where it is pressed>, which is not worked out here",
    "little weight; no wires through it",
)
_JOINT = "Play, glue, pins and rivets: the tubes are taken to touch, and to hold each other by contact alone."
OVERLAP = About(
    ("joint-overlap",),
    JOINTS,
    "One tube does not reach far enough into the other, whatever the load. The least overlap for the bore "
    "against the overlap in the file.",
    (least_overlap,),
    _JOINT,
    (LONGER_OVERLAP,),
)
WALL = About(
    ("joint-wall",),
    JOINTS,
    "The tubes of a joint press on each other at the ends of the overlap and bend each other's walls. "
    "Bending round the wall together with the stress along it, against the proof strength over "
    "limits.yield_factor.",
    (pressed_wall_stress,),
    _JOINT,
    (LONGER_OVERLAP, THICKER_TUBE, PLUG_TUBE),
    (contact_force, wall_bending_stress),
)
SHEAR = About(
    ("joint-shear",),
    JOINTS,
    "Between the ends of an overlap the couple shears each tube, more so the shorter it is. Shear with "
    "thrust and twist on one tube alone, as von Mises adds them, against the proof strength over "
    "limits.yield_factor.",
    (overlap_shear,),
    _JOINT,
    (LONGER_OVERLAP, THICKER_TUBE),
    (von_mises_stress,),
)
LEAST_MOMENT_N_M = 1e-9
LEAST_EASED = 0.2
"""Share of the force below which no sensible overlap would do."""


@dataclass(frozen=True)
class Contact:
    """One tube pressed at one end of a lap; arrays are by case, and by mast where there are many.

    Parameters
    ----------
    lap : Lap
        Where.
    layer : int
        Which tube.
    at : (ndarray of int, int)
        Its place.
    free_end : bool
        Whether the tube ends there.
    force_N : ndarray
        Force of the couple.
    shear_N : ndarray
        The part of it that no overlap takes away: the mast's own shear, where the other end of the lap would move.
    along_Pa, direct_Pa : ndarray
        Stress along the tube when it alone bears bending and axial force, and that of the axial force.
    sides_Pa, under_Pa : ndarray
        Stress round its wall, at the sides and under the force.
    flattening_m : ndarray
        How far it goes oval.
    """

    lap: Lap
    layer: int
    at: Points
    free_end: bool
    force_N: Floats
    shear_N: Floats
    along_Pa: Floats
    direct_Pa: Floats
    sides_Pa: Floats
    under_Pa: Floats
    flattening_m: Floats

    def among(self, elements: NDArray[np.intp]) -> Contact:
        """Return the same contact with its place counted among some elements."""
        return replace(self, at=(np.searchsorted(elements, self.at[0]), self.at[1]))

    @property
    def equivalent_Pa(self) -> Floats:
        """The worse of the sides and the place under the force."""
        return np.asarray(
            np.maximum(
                pressed_wall_stress(sigma_x=self.direct_Pa, sigma_w=self.sides_Pa),
                pressed_wall_stress(sigma_x=self.along_Pa, sigma_w=self.under_Pa),
            )
        )

    def eased(self, capacity_Pa: float, case: int) -> float:
        """Return the share of the force that the wall would just bear; zero where none would do."""
        shares = [1.0]
        for along, wall in ((self.direct_Pa, self.sides_Pa), (self.along_Pa, self.under_Pa)):
            x, y = float(along[case]), float(wall[case]) / 1.5
            left = (-x + np.sqrt(max(4 * capacity_Pa**2 - 3 * x**2, 0.0))) / 2
            shares.append(max(left, 0.0) / y if y > 0.0 else 1.0)
        return min(shares)


def joint_limits(
    rig: Rig, sections: Sections, internal: Internal, contacts: Sequence[Contact], working: Working
) -> list[Limit]:
    """Return every limit of the joints and sleeves of the mast.

    Parameters
    ----------
    rig : Rig
        For the sleeves and the factors.
    sections : Sections
        Its layers.
    internal : Internal
        Forces in it.
    contacts : sequence of Contact
        As :func:`joint_contacts` finds them.
    working : Working
        Where steps and warnings are noted.
    """
    joints = [lap for lap in laps_of(rig.mast, sections) if lap.joins]
    found = [
        _overlap(number, joints, sections, internal) for number in dict.fromkeys(j.number for j in joints)
    ]
    for i, layer in enumerate(sections.layers):
        strength = None
        if here := [c for c in contacts if c.layer == i]:
            strength = design_yield(rig.mast, sections, layer, rig.limits, working)
            found.append(_walls(layer, here, strength, internal))
        if spans := [j for j in joints if i in (j.below, j.above)]:
            assert strength is not None
            found.append(_shear(layer, spans, sections, internal, strength, working))
    return found


def joint_contacts(rig: Rig, sections: Sections, internal: Internal, working: Working) -> tuple[Contact, ...]:
    """Return the places where tubes press on each other: both tubes at both ends of every lap."""
    laps = laps_of(rig.mast, sections)
    return tuple(c for lap in laps for c in _contacts(lap, sections, internal, working))


def _contacts(lap: Lap, sections: Sections, internal: Internal, working: Working) -> Iterator[Contact]:
    low, high = lap.ends(sections)
    M_low, M_high = (sections.at(internal.moment_N_m, end) for end in (low, high))
    use = working.use
    shears = [np.zeros_like(M_low)] * 2
    if lap.joins:
        # a longer overlap moves the end that is not at the step
        fixed = 1 if lap.below == TUBE else 0
        shears[fixed] = (
            np.abs(M_high - M_low) / lap.length_m * (M_high > M_low if fixed == 0 else M_low > M_high)
        )
        forces = [use(contact_force, M=M, L=lap.length_m) for M in (M_high, M_low)]
    else:
        # a sleeve that only stiffens takes up its share of the moment by the middle of its length
        share = layer_stresses(sections, sections.layers[lap.above], internal, Working()).moment_N_m
        most = np.max(sections.of_masts(np.where(lap.elements(sections), share, 0.0)), axis=(-2, -1))
        forces = [use(contact_force, M=most, L=lap.length_m / 2)] * 2
    top = sections.mesh.edges_m[..., -1]
    # of many masts alike in all but sizes
    at_heel, at_top = bool(np.all(lap.low_m <= 0.0)), bool(np.all(lap.high_m >= top))
    below_ends = (at_heel, lap.joins or at_top)
    above_ends = (True, not lap.joins or at_top)
    for layer, ends in ((lap.below, below_ends), (lap.above, above_ends)):
        for at, force, shear, free_end in zip((low, high), forces, shears, ends, strict=True):
            yield _contact(lap, layer, at, force, shear, free_end, sections, internal, working)


def _contact(
    lap: Lap,
    number: int,
    at: Points,
    force_N: Floats,
    shear_N: Floats,
    free_end: bool,
    sections: Sections,
    internal: Internal,
    working: Working,
) -> Contact:
    layer, use = sections.layers[number], working.use
    where = f"joint of sleeve {lap.number}"
    R, t, outer = (sections.at(size, at) for size in (radius_m(layer), layer.wall_m, layer.outer_m))
    width = use(oval_length, R=R, t=t, nu=layer.metal.nu) * (0.5 if free_end else 2.0)
    size = {"F": force_N, "R": R, "t": t, "b": width}
    bending = use(
        bending_stress,
        M=sections.at(internal.moment_N_m, at),
        y=outer / 2,
        I=sections.at(layer.shape.second_moment_side_m4, at),
    )
    direct = use(
        direct_stress,
        N=np.abs(sections.at(internal.axial_N, at)),
        A=sections.at(layer.shape.area_m2, at),
    )
    borne = 0.0 if free_end else 1.0
    return Contact(
        lap=lap,
        layer=number,
        at=at,
        free_end=free_end,
        force_N=force_N,
        shear_N=shear_N,
        along_Pa=(bending + direct) * borne,
        direct_Pa=direct * borne,
        sides_Pa=use(wall_bending_stress, where=where, k=AT_THE_SIDES, **size),
        under_Pa=use(wall_bending_stress, where=where, k=UNDER_THE_FORCE, **size),
        flattening_m=use(flattening, E=layer.metal.E_Pa, nu=layer.metal.nu, **size),
    )


def _overlap(number: int, joints: list[Lap], sections: Sections, internal: Internal) -> Limit:
    """Overlap that a joint must have at the least, whatever the load."""
    z = sections.z_m
    least, there, where = np.zeros_like(z), np.ones_like(z), np.zeros(z.shape, dtype=bool)
    for lap in joints:
        if lap.number == number:
            here = lap.elements(sections)
            least = np.where(here, sections.each(least_overlap(d=lap.bore_m)), least)
            there = np.where(here, sections.each(lap.length_m), there)
            where |= here

    def advise(used: float, at: tuple[int, int]) -> str:
        needed = f"at least {up(float(least[at]), 0.01):.2f}"
        return LONGER_OVERLAP.said(what="overlap", now=there[at], to=needed)

    demand = np.broadcast_to(least, internal.moment_N_m.shape)
    return Limit(OVERLAP, f"sleeve {number}", demand, there, "m", least_overlap, advise, where)


def _walls(layer: Layer, contacts: list[Contact], strength_Pa: Floats, internal: Internal) -> Limit:
    """Walls pressed and bent where the couple acts."""
    demand = np.zeros(internal.moment_N_m.shape)
    where = np.zeros(demand.shape[-2:], dtype=bool)
    for c in contacts:
        _raise_to(demand, c.at, c.equivalent_Pa)
        where[c.at] = True

    def advise(used: float, at: tuple[int, int]) -> str:
        capacity = float(strength_Pa[at])
        fits = [
            (abs(float(c.equivalent_Pa[case]) / capacity - used), c, case)
            for c in contacts
            if at in _places(c.at)
            for case in range(len(demand))
        ]
        _, worst, case = min(fits, key=lambda fit: fit[0])
        # a cure of one end must do for the other
        pressed = [c for c in contacts if c.lap == worst.lap]
        return _cure(pressed, layer, strength_Pa, case)

    return Limit(WALL, layer.name, demand, strength_Pa, "Pa", pressed_wall_stress, advise, where)


def _cure(contacts: list[Contact], layer: Layer, strength_Pa: Floats, case: int) -> str:
    lap = contacts[0].lap
    shares, walls = [], []
    for c in contacts:
        capacity = float(np.min(strength_Pa[c.at]))
        force, shear = float(c.force_N[case]), float(c.shear_N[case])
        if force > shear:
            shares.append((c.eased(capacity, case) * force - shear) / (force - shear))
        walls.append(_thicker_m(c, layer, capacity, case))
    ways, what = [], "overlap" if lap.joins else "sleeve"
    least = min(shares, default=0.0)
    if least > LEAST_EASED:
        longer = up(lap.length_m / least, 0.01)
        ways.append(LONGER_OVERLAP.said(what=what, now=lap.length_m, to=f"about {longer:.2f}"))
    if None not in walls:
        more = max(wall for wall in walls if wall is not None)
        now = float(np.min(layer.as_new.wall_m[contacts[0].at])) * 1e3
        ways.append(THICKER_TUBE.said(layer=layer.name, place=" there", now=now, to=up(more * 1e3, 0.1)))
    return ", or ".join([*ways, PLUG_TUBE.said(layer=layer.name)])


def _thicker_m(contact: Contact, layer: Layer, capacity_Pa: float, case: int) -> float | None:
    """Return the wall, when new, at which a pressed tube of the same diameter bears what is asked."""
    outer, wall, new = (
        float(size[contact.at][0]) for size in (layer.outer_m, layer.wall_m, layer.as_new.wall_m)
    )
    along, direct = float(contact.along_Pa[case]), float(contact.direct_Pa[case])
    sides, under = float(contact.sides_Pa[case]), float(contact.under_Pa[case])

    def used(t: float) -> float:
        round_it = (wall / t) ** 1.5 * ((outer - wall) / (outer - t)) ** 0.5
        along_it = along * (outer**4 - (outer - 2 * wall) ** 4) / (outer**4 - (outer - 2 * t) ** 4)
        parts = ((direct * wall / t, sides), (along_it, under))
        return max(
            float(pressed_wall_stress(sigma_x=x, sigma_w=w * round_it)) / capacity_Pa for x, w in parts
        )

    low, high = wall, outer / 2 * 0.9
    if used(high) > 1.0:
        return None
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if used(middle) > 1.0 else (low, middle)
    return high + new - wall


def _raise_to(field: Floats, at: Points, value: Floats) -> None:
    """Raise a field at one point of every mast to what stands there by case, where that is more."""
    field[(slice(None), *at)] = np.maximum(field[(slice(None), *at)], value.reshape(len(field), -1))


def _places(at: Points) -> list[tuple[int, int]]:
    return [(int(element), at[1] % POINTS) for element in at[0]]


def _shear(
    layer: Layer,
    joints: list[Lap],
    sections: Sections,
    internal: Internal,
    strength_Pa: Floats,
    working: Working,
) -> Limit:
    """Shear between the ends of a joint, with axial force and torque on one tube alone."""
    use, z, shape = working.use, sections.z_m, layer.shape
    demand, where = np.zeros(internal.moment_N_m.shape), np.zeros(z.shape, dtype=bool)
    length = np.ones(z.shape)
    across = internal.shear_N
    for lap in joints:
        ends = [sections.at(internal.moment_N_m, end) for end in lap.ends(sections)]
        less, more = np.minimum(*ends), np.maximum(*ends)
        couple = use(overlap_shear, M_1=less, M_2=np.maximum(more, LEAST_MOMENT_N_M), L=lap.length_m)
        within = lap.elements(sections)
        here = np.flatnonzero(within)
        # to every element of the lap in each mast its couple
        spread = np.repeat(couple.reshape(len(demand), -1), sections.mesh.edges_m.shape[-1] - 1, axis=-1)
        force = np.maximum(across[:, here], spread[:, here, None])
        twist = use(
            torsion_stress,
            T=internal.torque_N_m[:, here],
            r=shape.torsion_arm_m[here],
            J=shape.torsion_constant_m4[here],
        )
        demand[:, here] = use(
            von_mises_stress,
            sigma=use(direct_stress, N=np.abs(internal.axial_N[:, here]), A=shape.area_m2[here]),
            tau=force * shape.shear_per_m2[here] + twist,
        )
        length = np.where(within, sections.each(lap.length_m), length)
        where |= within

    def advise(used: float, at: tuple[int, int]) -> str:
        L, wall = length[at], layer.wall_m[at] * 1e3
        longer = LONGER_OVERLAP.said(what="overlap", now=L, to=f"about {up(L * used, 0.01):.2f}")
        thicker = THICKER_TUBE.said(layer=layer.name, place="", now=wall, to=up(wall * used, 0.1))
        return f"{longer}, or {thicker}"

    return Limit(SHEAR, layer.name, demand, strength_Pa, "Pa", overlap_shear, advise, where)


def alone_stress(contacts: Sequence[Contact], shape: tuple[int, ...]) -> Floats:
    """Return the stress along one layer, of its contacts, where it alone bears the moment at the end of a joint."""
    found = np.zeros(shape)
    for c in contacts:
        if c.lap.joins:
            _raise_to(found, c.at, c.along_Pa)
    return found
