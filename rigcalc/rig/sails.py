"""The sails and the states they are set in."""

from __future__ import annotations

from math import radians
from typing import Any

from ..frozen import dataclass
from .fields import Choice, Curve, Heights, Quantity, Shares, Text, Whole, described

LUFF, MEMBRANE, CORNERS = LOAD_PATHS = ("luff", "membrane", "corners")
ROLLED, BATTENED = "rolled", "battens"
AERODYNAMIC, GEOMETRIC = "aerodynamic", "geometric"

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
        Quantity(
            "How far the head rises aft of level, with head.",
            unit="rad",
            at_least=radians(-45),
            at_most=radians(85),
        ),
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
            "Corners in order round the sail as [x, z], x forward of the mast's centre line and negative "
            "aft.",
            units=("m", "m"),
            least=3,
            strict=False,
            ordered=False,
            most=200,
            sane=((-60, 60), (-60, 60)),
        ),
        default=None,
    )
    centre_of_effort: str = described(
        Choice(
            "Where along the luff the sail's force is centred.",
            options={
                AERODYNAMIC: "0.39 of the luff above the tack, or the centroid of the area where that is higher",
                GEOMETRIC: "the centroid of the area",
            },
            default_from="the higher, and so the safer, of two habits; 0.39 read in a public sailing model",
        ),
        default=AERODYNAMIC,
    )
    hold: str = described(
        Choice(
            "How the luff is held, and so how sail is taken in.",
            options={
                ROLLED: "rolls on the mast; what is taken in stays on it",
                "luff": "track, hoops or lacing; lowered and reefed from the foot",
                "sleeve": "sleeve round the mast; lowered and reefed from the foot",
                BATTENED: "battens or parrels; let down panel by panel from the foot",
            },
            default_from="a sail that can be lowered",
        ),
        default="luff",
    )
    load_path: str | None = described(
        Choice(
            "How the sail's force reaches the mast.",
            options={
                LUFF: "each strip pulls on the mast at its own height, or at the parrels next to it",
                MEMBRANE: "half of each strip to the luff; half to the leech, whose tension pulls on the head",
                CORNERS: "3/7 at the head, 2/7 each at tack and clew",
            },
            default_from="membrane, as a rule the heaviest; luff for a sail whose battens carry the leech",
        ),
        default=None,
    )
    leech_sag: float | None = described(
        Quantity(
            "How far the leech sags to leeward, as a share of its length; the flatter, the harder it pulls.",
            at_least=0.01,
            at_most=0.12,
            when=(lambda t: load_path_of(t) == MEMBRANE, 'load_path = "membrane"'),
            default_from="judgement: 0.05 for a leech sheeted hard, with the wind before the beam, and 0.10 for one "
            "eased, with the wind abaft it",
        ),
        default=None,
    )
    clew_held: str = described(
        Choice(
            "What holds the clew out.",
            options={
                "sheet": "the sheet alone, to the deck",
                "boom": "a boom, which pushes forward on the mast",
                "wishbone": "a wishbone, which pushes forward on the mast",
            },
            when=(lambda t: load_path_of(t) == MEMBRANE, 'load_path = "membrane"'),
            default_from="the sheet alone: no push of a boom to help the mast against the pull of the leech",
        ),
        default="sheet",
    )
    spar_height_m: float | None = described(
        Quantity(
            "Height z at which the boom or wishbone meets the mast; that of the tack when not given.",
            unit="m",
            at_least=0,
            sane=(0, 30),
            when=(
                lambda t: load_path_of(t) == MEMBRANE and t.clew_held != "sheet",
                "clew_held is a boom or wishbone",
            ),
        ),
        default=None,
    )
    parrel_heights_m: tuple[float, ...] = described(
        Heights(
            "Heights z of battens, hoops or parrels that bring the luff's load to the mast; all along it "
            "without them.",
            when=(lambda t: load_path_of(t) != CORNERS, "the load path is not corners"),
        ),
        default=(),
    )
    panels: int | None = described(
        Whole(
            "Number of panels of equal height of a battened sail, let down whole.",
            at_least=2,
            at_most=20,
            when=(lambda t: t.hold == BATTENED, 'hold = "battens"'),
        ),
        default=None,
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
    cloth_thickness_m: float = described(
        Quantity(
            "Thickness of the cloth, for the roll.",
            unit="m",
            above=0,
            sane=(0.05e-3, 3e-3),
            when=(lambda t: t.hold == ROLLED, 'hold = "rolled"'),
            default_from="judgement: cloth of small cruising sails",
        ),
        default=0.35e-3,
    )
    camber: float = described(
        Quantity(
            "Depth of the set sail over its chord: the flatter, the harder its cloth turns the mast.",
            at_least=0.03,
            at_most=0.2,
            when=(lambda t: t.hold == ROLLED, 'hold = "rolled"'),
            default_from="judgement: a working sail, neither flat nor baggy",
        ),
        default=0.10,
    )
    roll_slack: float = described(
        Quantity(
            "Thickness of a turn in the roll, air and seams included, over that of the cloth.",
            at_least=1,
            at_most=6,
            when=(lambda t: t.hold == ROLLED, 'hold = "rolled"'),
            default_from="loosely rolled sailcloth takes 2 to 4 times its thickness: from memory",
        ),
        default=3.0,
    )


def load_path_of(sail: Any) -> str:
    """Return the load path of a sail: its own, or the default for how it is held."""
    return sail.load_path or (LUFF if sail.hold == BATTENED else MEMBRANE)


@dataclass(frozen=True, kw_only=True)
class State:
    """A setting of the sails."""

    name: str = described(Text("Name of the state."))
    set: tuple[tuple[str, float], ...] = described(
        Shares(
            "Sail -> share of its area that is set, or of its panels where it has them, from 1 down to 0. "
            "Sails not named are down. What is taken in is rolled on the mast, reefed from the foot, or "
            "let down, as the sail is held."
        )
    )
