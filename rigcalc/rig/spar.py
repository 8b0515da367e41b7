"""The mast and what it is made of."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from ..frozen import dataclass
from .fields import Angles, Choice, Quantity, Table, Tables, Text, Whole, described

_MM = 0.001
UNEVEN = ("box", "ellipse")
"""Shapes that are stiffer one way than the other, so that it matters how the mast is turned."""


@dataclass(frozen=True, kw_only=True)
class Station:
    """Size of the mast at one height; linear in between, and two entries at one height make a step."""

    height_m: float = described(Quantity("Height z above the heel.", unit="m", at_least=0, sane=(0, 60)))
    diameter_m: float | None = described(
        Quantity(
            "Outside diameter; across the flats where staves are left flat, fore and aft of a box or an ellipse.",
            unit="m",
            above=0,
            sane=(10 * _MM, 0.8),
        ),
        default=None,
    )
    breadth_m: float | None = described(
        Quantity(
            "Outside size from side to side of a box or an ellipse; as the diameter when not given.",
            unit="m",
            above=0,
            sane=(10 * _MM, 0.8),
        ),
        default=None,
    )
    bore_m: float | None = described(
        Quantity(
            "Diameter of the mandrel under a laminate, in place of the outside diameter.",
            unit="m",
            above=0,
            sane=(5 * _MM, 0.8),
        ),
        default=None,
    )
    wall_m: float | None = described(
        Quantity(
            "Wall thickness, at the thinnest place; none makes the mast solid. That of a laminate follows from its "
            "plies.",
            unit="m",
            above=0,
            sane=(0.5 * _MM, 60 * _MM),
        ),
        default=None,
    )

    @property
    def sizes_m(self) -> tuple[float, float]:
        """Outside size fore and aft, and from side to side."""
        assert self.diameter_m is not None
        return self.diameter_m, self.diameter_m if self.breadth_m is None else self.breadth_m


def open_steps(stations: Sequence[Any]) -> list[float]:
    """Return the heights at which two lengths of tube meet end to end and their walls do not.

    Parameters
    ----------
    stations : sequence
        Stations, or what was read of them; each with its diameter.
    """
    found = []
    for low, high in pairwise(stations):
        inner, outer = sorted((low, high), key=lambda s: float(s.diameter_m))
        bore = 0.0 if outer.wall_m is None else outer.diameter_m - 2 * outer.wall_m
        if low.height_m == high.height_m and inner.diameter_m <= bore + 1e-9:
            found.append(float(low.height_m))
    return found


@dataclass(frozen=True, kw_only=True)
class Sleeve:
    """A tube inside or over a stretch of the mast, sharing its curvature."""

    start_m: float = described(Quantity("Height z of its lower end.", unit="m", at_least=0, sane=(0, 60)))
    end_m: float = described(Quantity("Height z of its upper end.", unit="m", above=0, sane=(0, 60)))
    diameter_m: float = described(Quantity("Its outside diameter.", unit="m", above=0, sane=(10 * _MM, 0.8)))
    wall_m: float = described(Quantity("Its wall thickness.", unit="m", above=0, sane=(0.5 * _MM, 60 * _MM)))
    material: str | None = described(Text("Its material; the mast's own when not given."), default=None)
    play_m: float | None = described(
        Quantity(
            "Play left between it and the mast once it is packed, on the diameter; that of the bare tubes when not "
            "given.",
            unit="m",
            at_least=0,
            sane=(0, 5 * _MM),
        ),
        default=None,
    )


@dataclass(frozen=True, kw_only=True)
class Sheath:
    """A laminate over or inside a stretch of the mast."""

    start_m: float = described(Quantity("Height z of its lower end.", unit="m", at_least=0, sane=(0, 60)))
    end_m: float = described(Quantity("Height z of its upper end.", unit="m", above=0, sane=(0, 60)))
    laminate: str = described(Text("Name of the [[laminate]] it is laid up of."))
    side: str = described(
        Choice("Which face.", options={"over": "outside", "inside": "inside"}), default="over"
    )


@dataclass(frozen=True, kw_only=True)
class Plug:
    """Something that fills the bore over a stretch: a plug of wood, or a core of wood or foam."""

    start_m: float = described(Quantity("Height z of its lower end.", unit="m", at_least=0, sane=(0, 60)))
    end_m: float = described(Quantity("Height z of its upper end.", unit="m", above=0, sane=(0, 60)))
    material: str | None = described(
        Text("Timber or foam; the mast's own timber when not given."), default=None
    )
    tail_m: float = described(
        Quantity(
            "Length over which each of its ends tapers out beyond start and end, as a swallowtail or a V; it adds no "
            "strength.",
            unit="m",
            at_least=0,
            sane=(0, 2),
            default_from="judgement: cut square, the worst end",
        ),
        default=0.0,
    )


@dataclass(frozen=True, kw_only=True)
class Opening:
    """A round hole, or a slot along the mast, through one wall where the bending is greatest."""

    height_m: float = described(Quantity("Height z of its middle.", unit="m", at_least=0, sane=(0, 60)))
    width_m: float = described(Quantity("Width across the mast.", unit="m", above=0, sane=(_MM, 0.3)))
    length_m: float | None = described(
        Quantity("Length along the mast; the width when not given.", unit="m", above=0, sane=(_MM, 1.0)),
        default=None,
    )


@dataclass(frozen=True, kw_only=True)
class Weld:
    """A weld across or on the wall: the metal beside it has lost its temper."""

    height_m: float = described(Quantity("Height z of the weld.", unit="m", at_least=0, sane=(0, 60)))
    extent_m: float = described(
        Quantity(
            "How far the softened metal reaches to each side.",
            unit="m",
            above=0,
            sane=(5 * _MM, 0.2),
            default_from="30 mm for TIG up to 6 mm of wall, EN 1999-1-1 6.1.6.3, from memory; MIG 20 mm",
        ),
        default=30 * _MM,
    )


@dataclass(frozen=True, kw_only=True)
class Post:
    """A fixed post inside the mast, from its foot at the heel bearing to its top at the upper one."""

    diameter_m: float = described(
        Quantity("Outside diameter at the foot.", unit="m", above=0, sane=(10 * _MM, 0.6))
    )
    top_diameter_m: float | None = described(
        Quantity(
            "Outside diameter at the top; as at the foot when not given.",
            unit="m",
            above=0,
            sane=(10 * _MM, 0.6),
        ),
        default=None,
    )
    wall_m: float | None = described(
        Quantity("Wall thickness; none makes it solid.", unit="m", above=0, sane=(0.5 * _MM, 60 * _MM)),
        default=None,
    )
    material: str | None = described(Text("Its material; the mast's own when not given."), default=None)
    socket_m: float | None = described(
        Quantity(
            "Depth of the socket below the heel bearing that holds the post at its two ends; clamped at the heel "
            "bearing when not given.",
            unit="m",
            above=0,
            sane=(0.05, 3),
        ),
        default=None,
    )
    thrust_on: str = described(
        Choice(
            "Where the weight of the mast comes down.",
            options={"foot": "at the foot, past the post", "top": "on the top of the post"},
            default_from="a collar at the heel of the tube",
        ),
        default="foot",
    )


@dataclass(frozen=True, kw_only=True)
class Mast:
    """The spar, from its heel bearing (z = 0) to its tip (z = length)."""

    name: str = described(Text("Name of this mast, where there are several."), default="mast")
    length_m: float = described(
        Quantity("From the heel bearing to the tip.", unit="m", above=0, sane=(1, 40))
    )
    bury_m: float = described(
        Quantity(
            "From the heel bearing to the partners, between the middles of the bearings.",
            unit="m",
            above=0,
            sane=(0.05, 8),
        )
    )
    support: str = described(
        Choice(
            "How it stands.",
            options={
                "through-deck": "heel in a step, held by partners at the deck",
                "post": "a tube that turns on a fixed post: one bearing at the post's foot, one at its top",
            },
        ),
        default="through-deck",
    )
    post: Post | None = described(
        Table(
            "The post, whose top is the upper bearing: its height above the heel bearing is the bury.",
            of=Post,
            when=(lambda t: t.support == "post", 'support = "post"'),
        ),
        default=None,
    )
    shape: str = described(
        Choice(
            "Outside shape of the section.",
            options={
                "round": "round tube or pole",
                "staves": "tube glued up of like staves",
                "box": "rectangular box or bar",
                "ellipse": "elliptical tube or bar",
            },
        ),
        default="round",
    )
    sides: int = described(
        Whole(
            "Number of staves.",
            at_least=6,
            at_most=32,
            when=(lambda t: t.shape == "staves", 'shape = "staves"'),
            default_from="usual for a hollow mast, common practice",
        ),
        default=8,
    )
    outside: str = described(
        Choice(
            "Outside of a mast of staves.",
            options={"round": "turned or planed round", "flat": "staves left flat"},
            when=(lambda t: t.shape == "staves", 'shape = "staves"'),
            default_from="a mast that rolls its sail is round",
        ),
        default="round",
    )
    turns_rad: tuple[float, ...] | None = described(
        Angles(
            "Angles at which a mast that is not round is checked, from fore and aft towards leeward; every 15 deg of "
            "half a turn when not given.",
            when=(lambda t: t.shape in UNEVEN, 'shape = "box" or shape = "ellipse"'),
            default_from="every 15 deg: the mast can turn to any, and half a turn brings back the same section",
        ),
        default=None,
    )
    material: str = described(
        Text("A name from `rigcalc materials`, or one of your own [[material]] or [[laminate]] tables.")
    )
    stations: tuple[Station, ...] = described(
        Tables("Sizes from heel to tip.", of=Station, least=2, most=500)
    )
    fittings_mass_kg: float = described(
        Quantity(
            "Mass of fittings, lights and halyards aloft.",
            unit="kg",
            at_least=0,
            sane=(0, 500),
            default_from="nothing aloft",
        ),
        default=0.0,
    )
    fittings_height_m: float | None = described(
        Quantity(
            "Height z of that mass; the tip when not given, which is the safe side.",
            unit="m",
            at_least=0,
            sane=(0, 60),
            when=(lambda t: t.fittings_mass_kg > 0, "fittings_mass is given"),
        ),
        default=None,
    )
    reference_mass_kg: float | None = described(
        Quantity(
            "Mass of a mast to compare with, its centre of gravity at the same height.",
            unit="kg",
            above=0,
            sane=(0.5, 2000),
        ),
        default=None,
    )
    damping: float = described(
        Quantity(
            "Logarithmic decrement of the mast's sway, for vortex shedding.",
            above=0,
            at_most=0.5,
            default_from="welded and drawn aluminium, EN 1991-1-4 Annex F: from memory",
        ),
        default=0.02,
    )
    wall_loss_m: float = described(
        Quantity(
            "Thickness that pitting or wear may take off the outside of a metal tube.",
            unit="m",
            at_least=0,
            sane=(0, 5 * _MM),
            default_from="none taken: no figure for sea water was found; look the tube over every year",
        ),
        default=0.0,
    )
    sleeve: tuple[Sleeve, ...] = described(
        Tables("Tubes inside or over a stretch.", of=Sleeve, most=30), default=()
    )
    sheath: tuple[Sheath, ...] = described(
        Tables("Laminate over or inside a stretch, bonded to it.", of=Sheath, most=30), default=()
    )
    plug: tuple[Plug, ...] = described(
        Tables("What fills the bore over a stretch.", of=Plug, most=30), default=()
    )
    opening: tuple[Opening, ...] = described(Tables("Holes and slots.", of=Opening), default=())
    weld: tuple[Weld, ...] = described(Tables("Welds.", of=Weld), default=())
