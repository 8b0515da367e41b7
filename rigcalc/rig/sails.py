"""The sails and the states they are set in."""

from __future__ import annotations

from dataclasses import dataclass

from .fields import Choice, Curve, Quantity, Shares, Text, described

_BY_EDGES = (lambda t: t.corners is None, "the sail is not given by its corners")


@dataclass(frozen=True, kw_only=True)
class Sail:
    """One sail, three-cornered by luff and foot, four-cornered with a head, or any shape by its corners."""

    name: str = described(Text("Name of the sail."))
    mast: str | None = described(
        Text("The mast it is set on. A sail on another mast shares the righting moment and loads that mast."),
        default=None,
    )
    luff_m: float | None = described(
        Quantity("Length along the mast.", unit="m", above=0, sane=(0.3, 35)), default=None
    )
    foot_m: float | None = described(
        Quantity("Tack to clew.", unit="m", above=0, sane=(0.2, 20)), default=None
    )
    tack_height_m: float | None = described(
        Quantity("Height z of the tack.", unit="m", at_least=0, sane=(0, 20)), default=None
    )
    clew_rise_m: float = described(
        Quantity(
            "How far the clew stands above the tack; negative when below.",
            unit="m",
            sane=(-5, 5),
            when=_BY_EDGES,
        ),
        default=0.0,
    )
    head_m: float | None = described(
        Quantity("Length of the head of a four-cornered sail.", unit="m", above=0, sane=(0.05, 15)),
        default=None,
    )
    head_angle_rad: float | None = described(
        Quantity("How far the head rises aft of level, with head.", unit="rad", at_least=-0.8, at_most=1.5),
        default=None,
    )
    roach: float = described(
        Quantity(
            "Area outside the straight leech, as a share of the area inside it.",
            at_least=-0.3,
            at_most=0.6,
            when=_BY_EDGES,
        ),
        default=0.0,
    )
    corners: tuple[tuple[float, float], ...] | None = described(
        Curve(
            "Corners in order round the sail as [x, z], x forward of the mast's centre line and negative aft.",
            units=("m", "m"),
            least=3,
            strict=False,
            ordered=False,
        ),
        default=None,
    )
    hold: str = described(
        Choice(
            "How the luff is held.",
            options={
                "rolled": "rolls on the mast",
                "luff": "track, hoops or lacing",
                "sleeve": "sleeve round the mast",
                "battens": "battens or parrels",
            },
            default_from="a sail that can be lowered",
        ),
        default="luff",
    )
    load_path: str = described(
        Choice(
            "How the sail's force reaches the mast.",
            options={"luff": "each strip of the sail pulls on the mast at its own height"},
            refused={
                "membrane": 'leech tension is not worked out by this version; use load_path = "luff"',
                "corners": 'corner shares are not worked out by this version; use load_path = "luff"',
            },
            default_from="the one load path of this version; the pull of the leech on the head is not in it",
        ),
        default="luff",
    )
    cloth_mass_kg_m2: float = described(
        Quantity(
            "Mass of the cloth; it hangs on the mast along the luff.",
            unit="kg/m2",
            at_least=0,
            sane=(0, 2),
            default_from="weightless cloth",
        ),
        default=0.0,
    )
    cloth_thickness_m: float | None = described(
        Quantity(
            "Thickness of the cloth, for the roll.",
            unit="m",
            above=0,
            absent="the roll on the mast is not worked out by this version; take the key out",
        ),
        default=None,
    )


@dataclass(frozen=True, kw_only=True)
class State:
    """A setting of the sails."""

    name: str = described(Text("Name of the state."))
    set: tuple[tuple[str, float], ...] = described(
        Shares("Sail -> 1 when it is set, 0 when it is down. Sails not named are down.")
    )
