"""The bearings a mast turns in, what turns it, and what the hull holds it with."""

from __future__ import annotations

from math import radians
from typing import Any

from ..frozen import dataclass
from .fields import Choice, Quantity, Table, Text, Whole, described

_MM = 0.001


def _plain(bearing: Any) -> bool:
    return bool(bearing.kind == "plain")


def _rollers(bearing: Any) -> bool:
    return bool(bearing.kind == "rollers")


def _described(bearing: Any) -> bool:
    return bearing.kind is not None


_PLAIN = (_plain, 'kind = "plain"')
_ROLLERS = (_rollers, 'kind = "rollers"')
_ANY = (_described, "kind is given")
_EITHER = (lambda t: _described(t.partners) or _described(t.step), "partners or step has a kind")
_BUSHED = (lambda t: _plain(t.partners) or _plain(t.step), 'partners or step is of kind = "plain"')


@dataclass(frozen=True, kw_only=True)
class Thrust:
    """The face that carries the weight of the mast at the step."""

    form: str = described(
        Choice(
            "Form of the face.",
            options={
                "flat": "the whole end, or a disc",
                "collar": "a ring",
                "cone": "a cone, or a truncated cone, that centres the heel",
            },
            default_from="the plain end of a tube on a pad",
        ),
        default="flat",
    )
    outer_m: float = described(Quantity("Outside diameter.", unit="m", above=0, sane=(5 * _MM, 0.6)))
    inner_m: float = described(
        Quantity(
            "Inside diameter.",
            unit="m",
            at_least=0,
            sane=(0, 0.6),
            when=(lambda t: t.form != "flat", 'form = "collar" or form = "cone"'),
            default_from="none: the face reaches to the middle",
        ),
        default=0.0,
    )
    half_angle_rad: float = described(
        Quantity(
            "Half the angle at the point of the cone.",
            unit="rad",
            above=radians(10),
            at_most=radians(90),
            when=(lambda t: t.form == "cone", 'form = "cone"'),
            default_from="common practice",
        ),
        default=0.7853981633974483,
    )
    wear: str = described(
        Choice(
            "How the pressure lies on the face.",
            options={
                "uniform-pressure": "evenly: a new face, and the greater torque",
                "uniform-wear": "as a worn-in face has it",
            },
            default_from="the greater torque of the two",
        ),
        default="uniform-pressure",
    )


@dataclass(frozen=True, kw_only=True)
class Bearing:
    """A bearing that holds the mast sideways."""

    stiffness_N_m: float | None = described(
        Quantity(
            "Sideways stiffness of the bearing and its structure; rigid when not given.",
            unit="N/m",
            above=0,
            sane=(1e3, 1e12),
        ),
        default=None,
    )
    kind: str | None = described(
        Choice(
            "Plain bush or rollers; when not given, the forces are told and the bearing is not looked at.",
            options={"plain": "plain bush", "rollers": "rollers round the mast"},
        ),
        default=None,
    )
    material: str | None = described(
        Text("Material of the bush or the rollers, of `rigcalc materials`.", when=_ANY), default=None
    )
    length_m: float | None = described(
        Quantity(
            "Length along the mast of the bush, its parallel part, or of a roller; half the diameter of a "
            "timber or laminate mast when not given.",
            unit="m",
            above=0,
            sane=(3 * _MM, 1.0),
            default_from="judgement: a stout ring or plank",
        ),
        default=None,
    )
    clearance_m: float | None = described(
        Quantity("Diametral clearance when machined.", unit="m", at_least=0, sane=(0, 20 * _MM), when=_ANY),
        default=None,
    )
    wall_m: float | None = described(
        Quantity(
            "Thickness of the bush; what swells into the bore is not worked out without it.",
            unit="m",
            above=0,
            sane=(0.5 * _MM, 0.1),
            when=_PLAIN,
        ),
        default=None,
    )
    interference_m: float = described(
        Quantity(
            "How much wider the bush is than the hole it is pressed into.",
            unit="m",
            at_least=0,
            sane=(0, 2 * _MM),
            when=_PLAIN,
            default_from="glued or screwed in, not pressed",
        ),
        default=0.0,
    )
    seat: str = described(
        Choice(
            "How the bush is held.",
            options={"fixed": "in line with the hull", "spherical": "free to follow the slope of the mast"},
            when=_PLAIN,
            default_from="the harder case",
        ),
        default="fixed",
    )
    fit: str | None = described(
        Choice(
            "How the tube is pressed by it: a plain bush as a collar, rollers as chocks when not given.",
            options={
                "collar": "a close bush round half the tube",
                "chock": "a pad or a roller on one side, the tube held by itself",
                "opposed": "between two hard points",
            },
            when=_ANY,
        ),
        default=None,
    )
    standing_pressure_Pa: float | None = described(
        Quantity(
            "Pressure allowed while the mast stands still, in place of the table's.",
            unit="Pa",
            above=0,
            sane=(1e5, 5e8),
            when=_ANY,
        ),
        default=None,
    )
    turning_pressure_Pa: float | None = described(
        Quantity(
            "Pressure allowed while it turns, in place of the table's.",
            unit="Pa",
            above=0,
            sane=(1e5, 5e8),
            when=_ANY,
        ),
        default=None,
    )
    friction_low: float | None = described(
        Quantity("Least coefficient of friction, in place of the table's.", above=0, at_most=1, when=_ANY),
        default=None,
    )
    friction_high: float | None = described(
        Quantity("Greatest coefficient of friction, in place of the table's.", above=0, at_most=1, when=_ANY),
        default=None,
    )
    count: int | None = described(
        Whole("Number of rollers round the mast.", at_least=3, at_most=200, when=_ROLLERS), default=None
    )
    diameter_m: float | None = described(
        Quantity("Diameter of a roller.", unit="m", above=0, sane=(3 * _MM, 0.2), when=_ROLLERS), default=None
    )
    pin_m: float | None = described(
        Quantity(
            "Diameter of the pin a roller turns on; rollers that run free in a cage have none.",
            unit="m",
            above=0,
            sane=(2 * _MM, 0.1),
            when=_ROLLERS,
        ),
        default=None,
    )


@dataclass(frozen=True, kw_only=True)
class Step(Bearing):
    """The heel bearing, which carries the weight as well."""

    thrust: Thrust | None = described(
        Table("The face that carries the weight; not looked at without it.", of=Thrust), default=None
    )


@dataclass(frozen=True, kw_only=True)
class Bearings:
    """Partners and step."""

    partners: Bearing = described(Table("Upper bearing.", of=Bearing), default=Bearing())
    step: Step = described(Table("Heel bearing.", of=Step), default=Step())
    workshop_temperature_degC: float = described(
        Quantity(
            "Temperature at which the bores are machined.",
            unit="degC",
            key="workshop_temperature",
            at_least=-20,
            at_most=50,
            when=_BUSHED,
            default_from="room temperature",
        ),
        default=20.0,
    )
    coldest_degC: float = described(
        Quantity(
            "Coldest that the mast is to turn in.",
            unit="degC",
            key="coldest",
            at_least=-50,
            at_most=50,
            when=_BUSHED,
            default_from="judgement: a frosty morning",
        ),
        default=-10.0,
    )
    hottest_degC: float = described(
        Quantity(
            "Hottest that the mast is to turn in.",
            unit="degC",
            key="hottest",
            at_least=-50,
            at_most=90,
            when=_BUSHED,
            default_from="judgement: dark deck in the sun",
        ),
        default=60.0,
    )
    lasting_share: float = described(
        Quantity(
            "Share of the greatest force that stands for weeks, which a bush creeps under.",
            at_least=0,
            at_most=1,
            when=_BUSHED,
            default_from="judgement: the mean of a long passage against the worst gust",
        ),
        default=0.2,
    )
    lines_down_N: float = described(
        Quantity(
            "Pull of halyards and downhauls that are led down to the deck, which presses the mast into its "
            "step.",
            unit="N",
            at_least=0,
            sane=(0, 1e5),
            default_from="lines made fast on the mast itself",
        ),
        default=0.0,
    )
    out_of_round_m: float = described(
        Quantity(
            "By how much the widest diameter of the mast at a bearing is over the one that was measured.",
            unit="m",
            at_least=0,
            sane=(0, 5 * _MM),
            when=_BUSHED,
            default_from="the mast turned true at its bearings",
        ),
        default=0.0,
    )
    hold_down_N: float | None = described(
        Quantity(
            "What holds the heel down against being drawn out, such as a pin.",
            unit="N",
            above=0,
            sane=(10, 1e7),
        ),
        default=None,
    )


@dataclass(frozen=True, kw_only=True)
class Furling:
    """The drum and line that turn the mast."""

    drum_diameter_m: float = described(
        Quantity("Diameter of the bare drum.", unit="m", above=0, sane=(0.02, 1.5))
    )
    drum_width_m: float = described(
        Quantity(
            "Width of the drum between its cheeks.",
            unit="m",
            above=0,
            sane=(0.005, 0.5),
            default_from="common practice",
        ),
        default=0.05,
    )
    line_diameter_m: float = described(
        Quantity("Diameter of the line.", unit="m", above=0, sane=(2 * _MM, 0.03))
    )
    line_strength_N: float | None = described(
        Quantity("Breaking strength of the line, new.", unit="N", above=0, sane=(100, 1e6)), default=None
    )
    line_factor: float = described(
        Quantity(
            "Factor between breaking strength and the greatest pull.",
            at_least=1,
            at_most=20,
            default_from="common practice for running rigging: knots, wear and sun",
        ),
        default=5.0,
    )
    purchase: int = described(
        Whole("Parts of purchase on the line.", at_least=1, at_most=12, default_from="the line led as it is"),
        default=1,
    )
    lead_blocks: int = described(
        Whole(
            "Blocks that the line turns through on its way to the hand, beside the purchase.",
            at_least=0,
            at_most=20,
            default_from="common practice: one at the drum, one aft",
        ),
        default=2,
    )
    sheave_loss: float = described(
        Quantity(
            "Share of the pull lost at each sheave.",
            at_least=0,
            at_most=0.5,
            default_from="each sheave takes 2 to 10 %, a rigging handbook, read; the plain bearing's 9 %, read",
        ),
        default=0.09,
    )
    fairlead_rad: float = described(
        Quantity(
            "Angle through which the line rubs round fairleads, all together.",
            unit="rad",
            at_least=0,
            at_most=radians(720),
            default_from="blocks only",
        ),
        default=0.0,
    )
    fairlead_friction: float = described(
        Quantity(
            "Coefficient of friction at the fairleads.",
            above=0,
            at_most=1,
            when=(lambda t: t.fairlead_rad > 0, "fairlead is given"),
            default_from="rope on smooth metal, from memory",
        ),
        default=0.25,
    )
    hand_pull_N: float = described(
        Quantity(
            "What one person pulls.",
            unit="N",
            above=0,
            sane=(20, 1500),
            default_from="standing, arm and shoulder: Kodak, Ergonomic Design for People at Work, read in a copy",
        ),
        default=110.0,
    )
    line_speed_m_s: float = described(
        Quantity(
            "Speed at which the line is pulled, for wear.",
            unit="m/s",
            above=0,
            sane=(0.01, 5),
            default_from="hand over hand, judgement",
        ),
        default=0.3,
    )


@dataclass(frozen=True, kw_only=True)
class Deck:
    """What the partners are fastened to; the structure of the hull is not designed here."""

    kind: str = described(
        Choice(
            "Make of the deck at the partners.",
            options={"solid": "solid laminate, plywood or timber", "sandwich": "skins on a core"},
        )
    )
    pad_length_m: float = described(
        Quantity("Length of the pad or flange, fore and aft.", unit="m", above=0, sane=(0.02, 2))
    )
    pad_width_m: float = described(Quantity("Width of the pad or flange.", unit="m", above=0, sane=(0.02, 2)))
    allowed_pressure_Pa: float = described(
        Quantity(
            "Pressure through the thickness that the deck bears; of a sandwich, its core's crushing "
            "strength over a factor.",
            unit="Pa",
            above=0,
            sane=(1e4, 3e8),
        )
    )
    bolts: int = described(Whole("Bolts round the partners.", at_least=2, at_most=60))
    bolt_circle_m: float = described(
        Quantity("Diameter of the circle they stand on.", unit="m", above=0, sane=(0.03, 2))
    )
    bolt_diameter_m: float = described(
        Quantity("Diameter of a bolt.", unit="m", above=0, sane=(3 * _MM, 40 * _MM))
    )
    bolt_allowed_Pa: float = described(
        Quantity("Shear stress allowed in a bolt.", unit="Pa", above=0, sane=(1e6, 1e9))
    )
    thickness_m: float = described(
        Quantity(
            "Thickness that a bolt bears on: of a sandwich, its two skins.",
            unit="m",
            above=0,
            sane=(_MM, 0.1),
        )
    )
    bearing_allowed_Pa: float = described(
        Quantity("Bearing stress allowed at the edge of a bolt hole.", unit="Pa", above=0, sane=(1e5, 1e9))
    )
    offset_m: float = described(
        Quantity(
            "Distance from the middle of the bearing to the plane of the bolts, which makes the couple on "
            "them.",
            unit="m",
            at_least=0,
            sane=(0, 1),
            default_from="the bush in the plane of the deck",
        ),
        default=0.0,
    )
