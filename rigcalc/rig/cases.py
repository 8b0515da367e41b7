"""The loadings of the mast, and the limits it is held to."""

from __future__ import annotations

from math import radians

from ..frozen import dataclass
from .fields import Choice, Curve, Quantity, Tables, Text, Whole, described

_FORCE = (-1e6, 1e6)
"""Far beyond any mast of this size: a load outside it is a slip."""
_LINE = (None, (-1e5, 1e5))


@dataclass(frozen=True, kw_only=True)
class PointLoad:
    """A reviewer's own force at one height."""

    height_m: float = described(Quantity("Height z.", unit="m", at_least=0, sane=(0, 60)))
    side_N: float = described(Quantity("Part to leeward.", unit="N", sane=_FORCE), default=0.0)
    forward_N: float = described(Quantity("Part forward.", unit="N", sane=_FORCE), default=0.0)


HEEL_LIMITED, WIND_LIMITED, BARE, MOTION, KNOCKDOWN, LIFT, GIVEN = (
    "heel-limited",
    "wind-limited",
    "bare",
    "motion",
    "knockdown",
    "lift",
    "given",
)
SAILING = (HEEL_LIMITED, WIND_LIMITED)
WINDY = (WIND_LIMITED, BARE)

GUSTS = {
    "third-more": (4 / 3, "a third as much again as the forecast mean; read second hand"),
    "intact-stability": (1.5**0.5, "1.5 times the steady lever of the 2008 intact stability code, read"),
    "land-3s": (1.45, "3 s over 600 s in open land, ESDU-type factors, read"),
    "sea-3s": (1.23, "3 s over 10 min at sea, WMO/TD-1555; from memory"),
    "none": (1.0, "the wind stated is the gust itself"),
}
"""Gust speed over mean speed, by name."""

DYNAMIC_FACTORS = {
    HEEL_LIMITED: 1.5,
    WIND_LIMITED: 1.4,
    BARE: 1.15,
    MOTION: 1.5,
    KNOCKDOWN: 1.5,
    LIFT: 1.5,
    GIVEN: 1.0,
}
"""Dynamic factor of each kind of case where the file states none."""

COEFFICIENT_SETS = {
    "orc-2013-high": "ORC VPP Documentation 2013, mainsail high",
    "orc-2013-low": "ORC VPP Documentation 2013, mainsail low",
    "ims-older": "older IMS mainsail",
    "orc-model-second": "ORC-model mainsail of a second public model",
    "full-main-third": "full mainsail of a third public model",
}


_BY_TABLE = (lambda t: t.force_coefficient is None, "no force_coefficient is given")


@dataclass(frozen=True, kw_only=True)
class Case:
    """One loading of the mast."""

    name: str = described(Text("Name of the case."))
    kind: str = described(
        Choice(
            "What sets the load.",
            options={
                HEEL_LIMITED: "the side force that the righting moment can hold",
                WIND_LIMITED: "the wind itself, as when running",
                BARE: "storm wind on the mast and what is rolled on it",
                MOTION: "rolling and pitching, the mast and what is rolled on it swung about",
                KNOCKDOWN: "the boat on its side, the mast carrying its own weight",
                LIFT: "the mast level, slung or propped at two heights: stepping it, or on the trailer",
                GIVEN: "a reviewer's own loads, taken as they are",
            },
        )
    )
    state: str | None = described(
        Text("Which [[state]] is set; all sails full when not given.", only=SAILING), default=None
    )
    basis: str | None = described(
        Choice(
            "Which righting moment holds the sail up.",
            options={
                "RM30": "at 30 deg of heel",
                "RM max": "the largest at any heel",
                "moment": "the moment stated",
            },
            only=(HEEL_LIMITED,),
            default_from="RM max where the stability data give it, RM30 otherwise",
        ),
        default=None,
    )
    moment_N_m: float | None = described(
        Quantity(
            'Righting moment for basis = "moment".',
            unit="N m",
            above=0,
            sane=(20, 1e7),
            only=(HEEL_LIMITED,),
            when=(lambda t: t.basis == "moment", 'basis = "moment"'),
        ),
        default=None,
    )
    arm: str = described(
        Choice(
            "Arm of the sail's force against the righting moment.",
            options={
                "lateral-centre": "from the centre of lateral resistance",
                "partners": "from the partners: the older, safer habit",
            },
            only=(HEEL_LIMITED,),
            default_from="moment equilibrium of the heeled boat",
        ),
        default="lateral-centre",
    )
    dynamic_factor: float | None = described(
        Quantity(
            "Factor on the load for gusts, waves and what the model leaves out.",
            at_least=1,
            at_most=6,
            only=(HEEL_LIMITED, *WINDY, KNOCKDOWN, MOTION, LIFT),
            default_from="1.5 on the righting moment, on motion and on a knockdown (common practice: 1.5 or more on "
            "yield, from memory) and on a lift (0.5 g, Lloyd's Register guidance notes 2017, read); 1.4 on "
            "sail in a stated wind and 1.15 on the bare mast, which with gamma_M1 come to the 0.65 and "
            "0.80 of strength that those notes allow sailing and in survival",
        ),
        default=None,
    )
    heel_rad: float | None = described(
        Quantity(
            "Heel at which the mast's own weight acts; that of the basis when not given, upright when the "
            "wind sets the load.",
            unit="rad",
            at_least=0,
            at_most=1.5707963267949,
            only=(HEEL_LIMITED, *WINDY),
        ),
        default=None,
    )
    apparent_wind_angle_rad: float = described(
        Quantity(
            "Angle of the wind felt aboard off the bow; it sets how much drive comes with the side force.",
            unit="rad",
            at_least=radians(10),
            at_most=1.5707963267949,
            only=(HEEL_LIMITED,),
            when=_BY_TABLE,
            default_from="judgement: close-hauled",
        ),
        default=0.5235987755982988,
    )
    wind_speed_m_s: float | None = described(
        Quantity(
            "Mean wind at the reference height. In a heel-limited case it is the wind felt aboard, and "
            "caps the load where the boat could hold more.",
            unit="m/s",
            at_least=0,
            sane=(0, 90),
            only=(HEEL_LIMITED, *WINDY),
        ),
        default=None,
    )
    beaufort: int | None = described(
        Whole(
            "Beaufort force, in place of wind_speed: the top of its band.",
            at_least=0,
            at_most=11,
            only=(HEEL_LIMITED, *WINDY),
        ),
        default=None,
    )
    gust: str = described(
        Choice(
            "Gust speed over mean speed, by name.",
            options={name: f"{factor:.3g}, {source}" for name, (factor, source) in GUSTS.items()},
            when=(
                lambda t: t.gust_factor is None and (t.wind_speed_m_s is not None or t.beaufort is not None),
                "a wind and no gust_factor is given",
            ),
            only=(HEEL_LIMITED, *WINDY),
            default_from="small-craft habit, between the values read for sea and for land",
        ),
        default="third-more",
    )
    gust_factor: float | None = described(
        Quantity(
            "Gust speed over mean speed, in place of gust.",
            at_least=1,
            at_most=2.5,
            only=(HEEL_LIMITED, *WINDY),
            when=(
                lambda t: t.wind_speed_m_s is not None or t.beaufort is not None,
                "wind_speed or beaufort is given",
            ),
        ),
        default=None,
    )
    coefficients: str = described(
        Choice(
            "Set of sail coefficients by apparent wind angle.",
            options=COEFFICIENT_SETS,
            only=SAILING,
            when=_BY_TABLE,
            default_from="of the sets read, the one with the greatest force dead before the wind",
        ),
        default="orc-2013-high",
    )
    true_wind_angle_rad: float = described(
        Quantity(
            "Angle of the true wind off the bow.",
            unit="rad",
            at_least=0,
            at_most=3.1415926535898,
            only=(WIND_LIMITED,),
            when=_BY_TABLE,
            default_from="running square before it",
        ),
        default=3.141592653589793,
    )
    boat_speed_m_s: float = described(
        Quantity(
            "Speed of the boat, which takes wind off a run and adds it upwind.",
            unit="m/s",
            at_least=0,
            sane=(0, 25),
            only=(WIND_LIMITED,),
            when=_BY_TABLE,
            default_from="none: the boat may have been stopped by a wave",
        ),
        default=0.0,
    )
    longitudinal_moment_N_m: float | None = described(
        Quantity(
            "Moment at which the boat would pitch over her bow; without it pitching is not assumed to help.",
            unit="N m",
            above=0,
            sane=(20, 1e8),
            only=(WIND_LIMITED,),
        ),
        default=None,
    )
    force_coefficient: float | None = described(
        Quantity(
            "Force over pressure and area, in place of the tables.",
            above=0,
            at_most=3,
            only=(HEEL_LIMITED, *WINDY),
            default_from="sails: the set of coefficients; bare mast: the table by Reynolds number",
        ),
        default=None,
    )
    force_angle_rad: float | None = described(
        Quantity(
            "Direction of the force from straight ahead, towards leeward.",
            unit="rad",
            at_least=radians(-180),
            at_most=radians(180),
            only=(HEEL_LIMITED, *WINDY),
            when=(lambda t: t.kind == BARE or t.force_coefficient is not None, "force_coefficient is given"),
            default_from="straight ahead when the wind sets the load, to leeward otherwise",
        ),
        default=None,
    )
    drag_crisis: str = described(
        Choice(
            "Whether the lower drag of a smooth cylinder at high Reynolds number counts.",
            options={
                "no-credit": "drag never falls below that before the crisis: halyards and tracks undo the dip",
                "table": "as measured on smooth cylinders",
            },
            only=(BARE,),
            when=(lambda t: t.force_coefficient is None, "no force_coefficient is given"),
            default_from="the safer",
        ),
        default="no-credit",
    )
    inclined_flow: str = described(
        Choice(
            "Whether a heeled mast feels less wind.",
            options={
                "full": "the whole pressure, heeled or not",
                "cosine-squared": "only the wind across the mast counts; cross-flow rule, from memory",
            },
            only=(BARE,),
            when=(lambda t: bool(t.heel_rad), "heel is given"),
            default_from="the safer",
        ),
        default="full",
    )
    roll_amplitude_rad: float = described(
        Quantity(
            "Greatest roll to each side.",
            unit="rad",
            at_least=0,
            at_most=radians(75),
            only=(MOTION,),
            default_from="judgement: a small boat beam on to a short sea; no published value was read",
        ),
        default=0.5235987755982988,
    )
    roll_period_s: float | None = described(
        Quantity(
            "Period of roll, over and back; from beam and GM where the boat gives them.",
            unit="s",
            at_least=0.5,
            at_most=20,
            only=(MOTION,),
            default_from="2 pi k/sqrt(g GM) with the boat's radius of gyration; 2.5 s without: judgement",
        ),
        default=None,
    )
    pitch_amplitude_rad: float = described(
        Quantity(
            "Greatest pitch each way.",
            unit="rad",
            at_least=0,
            at_most=radians(45),
            only=(MOTION,),
            default_from="judgement: a short head sea; no published value was read",
        ),
        default=0.17453292519943295,
    )
    pitch_period_s: float = described(
        Quantity(
            "Period of pitch.",
            unit="s",
            at_least=0.5,
            at_most=20,
            only=(MOTION,),
            default_from="judgement: a short head sea; no published value was read",
        ),
        default=2.5,
    )
    tip_speed_m_s: float | None = described(
        Quantity(
            "Speed at which the tip is drawn up through the water; its drag is left out when not given.",
            unit="m/s",
            above=0,
            sane=(0.05, 12),
            only=(KNOCKDOWN,),
        ),
        default=None,
    )
    wet_length_m: float | None = described(
        Quantity(
            "Length of mast in the water, from the tip.",
            unit="m",
            above=0,
            sane=(0.05, 40),
            only=(KNOCKDOWN,),
            when=(lambda t: t.tip_speed_m_s is not None, "tip_speed is given"),
        ),
        default=None,
    )
    sealed: str = described(
        Choice(
            "Whether air is shut in the wet part of the mast.",
            options={"no": "it floods: no buoyancy", "yes": "it is sealed: its buoyancy loads it too"},
            only=(KNOCKDOWN,),
            when=(lambda t: t.tip_speed_m_s is not None, "tip_speed is given"),
            default_from="a mast with holes floods",
        ),
        default="no",
    )
    lower_height_m: float | None = described(
        Quantity("Height z of the lower sling or prop.", unit="m", at_least=0, sane=(0, 40), only=(LIFT,)),
        default=None,
    )
    upper_height_m: float | None = described(
        Quantity("Height z of the upper sling or prop.", unit="m", above=0, sane=(0, 40), only=(LIFT,)),
        default=None,
    )
    line_load: tuple[tuple[float, float], ...] = described(
        Curve(
            "Side load by height, linear between entries.",
            units=("m", "N/m"),
            strict=False,
            sane=_LINE,
            only=(GIVEN,),
        ),
        default=(),
    )
    line_load_forward: tuple[tuple[float, float], ...] = described(
        Curve("Forward load by height.", units=("m", "N/m"), strict=False, sane=_LINE, only=(GIVEN,)),
        default=(),
    )
    point_load: tuple[PointLoad, ...] = described(
        Tables("Forces at stated heights.", of=PointLoad, only=(GIVEN,)), default=()
    )
    axial_N: float = described(
        Quantity("Axial force at the tip, compression positive.", unit="N", sane=_FORCE, only=(GIVEN,)),
        default=0.0,
    )
    torque_N_m: float = described(
        Quantity("Torque from tip to heel.", unit="N m", sane=_FORCE, only=(GIVEN,)), default=0.0
    )
    own_weight_heel_rad: float | None = described(
        Quantity(
            "Heel at which the mast's own weight acts; without it the weight is left out.",
            unit="rad",
            at_least=0,
            at_most=3.1415926535898,
            only=(GIVEN,),
        ),
        default=None,
    )


def dynamic_factor_of(case: Case) -> float:
    """Return the dynamic factor of a case: its own, or that of its kind."""
    return DYNAMIC_FACTORS[case.kind] if case.dynamic_factor is None else case.dynamic_factor


@dataclass(frozen=True, kw_only=True)
class Limits:
    """What the mast may be asked to bear."""

    yield_factor: float = described(
        Quantity(
            "Partial factor gamma_M1 on proof strength and buckling.",
            at_least=1,
            at_most=5,
            default_from="EN 1999-1-1 6.1.3, read in TALAT lecture 2301",
        ),
        default=1.10,
    )
    rupture_factor: float = described(
        Quantity(
            "Partial factor gamma_M2 on tensile strength and on welded metal.",
            at_least=1,
            at_most=5,
            default_from="EN 1999-1-1 6.1.3, read in TALAT lecture 2301",
        ),
        default=1.25,
    )
    axial_stability_factor: float = described(
        Quantity(
            "Axial load at which the mast becomes unstable, over the axial load.",
            at_least=1,
            at_most=10,
            default_from="judgement: a free-standing column is sensitive to its bearings",
        ),
        default=3.0,
    )
    tip_deflection: float = described(
        Quantity(
            "Deflection of the tip as a share of the mast's length above the partners.",
            above=0,
            at_most=0.5,
            default_from="5 to 10 % accepted in a design gust: common practice, from memory",
        ),
        default=0.10,
    )
