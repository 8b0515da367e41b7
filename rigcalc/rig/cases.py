"""The loadings of the mast, and the limits it is held to."""

from __future__ import annotations

from dataclasses import dataclass

from .fields import Choice, Curve, Quantity, Tables, Text, Whole, described


@dataclass(frozen=True, kw_only=True)
class PointLoad:
    """A reviewer's own force at one height."""

    height_m: float = described(Quantity("Height z.", unit="m", at_least=0, sane=(0, 60)))
    side_N: float = described(Quantity("Part to leeward.", unit="N"), default=0.0)
    forward_N: float = described(Quantity("Part forward.", unit="N"), default=0.0)


HEEL_LIMITED, WIND_LIMITED, BARE, KNOCKDOWN, GIVEN = (
    "heel-limited",
    "wind-limited",
    "bare",
    "knockdown",
    "given",
)


_WINDY = (WIND_LIMITED, BARE)


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
                BARE: "storm wind on the bare mast",
                KNOCKDOWN: "the boat on its side, the mast carrying its own weight",
                GIVEN: "a reviewer's own loads, taken as they are",
            },
            refused={
                "motion": "roll and pitch are not worked out by this version; give their forces in a `given` case"
            },
        )
    )
    state: str | None = described(
        Text("Which [[state]] is set; all sails full when not given.", only=(HEEL_LIMITED, WIND_LIMITED)),
        default=None,
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
    dynamic_factor: float = described(
        Quantity(
            "Factor on the load for gusts, waves and what the model leaves out.",
            at_least=1,
            at_most=6,
            only=(HEEL_LIMITED, KNOCKDOWN),
            default_from="common practice: 1.5 or more on yield at the largest righting moment, from memory",
        ),
        default=1.5,
    )
    heel_rad: float | None = described(
        Quantity(
            "Heel at which the mast's own weight acts; that of the basis when not given, upright when the "
            "wind sets the load.",
            unit="rad",
            at_least=0,
            at_most=1.5707963267949,
            only=(HEEL_LIMITED, *_WINDY),
        ),
        default=None,
    )
    wind_speed_m_s: float | None = described(
        Quantity("Mean wind at the reference height.", unit="m/s", at_least=0, sane=(0, 90), only=_WINDY),
        default=None,
    )
    beaufort: int | None = described(
        Whole(
            "Beaufort force, in place of wind_speed: the top of its band.",
            at_least=0,
            at_most=11,
            only=_WINDY,
        ),
        default=None,
    )
    gust_factor: float = described(
        Quantity(
            "Gust speed over mean speed.",
            at_least=1,
            at_most=2.5,
            only=_WINDY,
            default_from="gusts a third as much again as the forecast mean, read second hand",
        ),
        default=4 / 3,
    )
    force_coefficient: float | None = described(
        Quantity(
            "Force over pressure and area: of the sail, or of the bare mast across the wind.",
            above=0,
            at_most=3,
            only=_WINDY,
            default_from="sail 1.35, the drag of a mainsail dead before the wind in two sets read; bare round mast "
            "1.20, with no credit for the drag crisis",
        ),
        default=None,
    )
    force_angle_rad: float = described(
        Quantity(
            "Direction of the force from straight ahead, towards leeward.",
            unit="rad",
            at_least=-3.2,
            at_most=3.2,
            only=_WINDY,
            default_from="straight ahead: running square",
        ),
        default=0.0,
    )
    line_load: tuple[tuple[float, float], ...] = described(
        Curve(
            "Side load by height, linear between entries.", units=("m", "N/m"), strict=False, only=(GIVEN,)
        ),
        default=(),
    )
    line_load_forward: tuple[tuple[float, float], ...] = described(
        Curve("Forward load by height.", units=("m", "N/m"), strict=False, only=(GIVEN,)), default=()
    )
    point_load: tuple[PointLoad, ...] = described(
        Tables("Forces at stated heights.", of=PointLoad, only=(GIVEN,)), default=()
    )
    axial_N: float = described(
        Quantity("Axial force at the tip, compression positive.", unit="N", only=(GIVEN,)), default=0.0
    )
    torque_N_m: float = described(
        Quantity("Torque from tip to heel.", unit="N m", only=(GIVEN,)), default=0.0
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
