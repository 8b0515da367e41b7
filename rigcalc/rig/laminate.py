"""Laminates: the plies of a wall or a sheath, and what is taken off their strength."""

from __future__ import annotations

from typing import Any

from ..frozen import dataclass
from .fields import Choice, Quantity, Tables, Text, Whole, described

_MM = 0.001
_RIGHT_ANGLE = 1.5707963267949

EVERY_CRITERION = "all"
WATER_STATED = "stated"
PASSING, STANDING = "passing", "standing"


def _of_fibre(plies: Any) -> bool:
    return plies.fibre is not None


def _estimated(laminate: Any) -> bool:
    return any(_of_fibre(plies) for plies in laminate.plies)


_WHERE_OF_FIBRE = (_of_fibre, "fibre is given")
_WHERE_REPEATED = (lambda t: t.lasting == PASSING, 'lasting = "passing"')


@dataclass(frozen=True, kw_only=True)
class Plies:
    """One or more like plies, one on the other."""

    material: str | None = described(
        Text("A ply of the tables, such as E-glass/epoxy UD 0.55, or your own [[material]] of family ply."),
        default=None,
    )
    fibre: str | None = described(
        Text("In place of material: the fibre, such as E-glass; the plies are unidirectional."), default=None
    )
    resin: str | None = described(
        Text("The resin that goes with the fibre, such as epoxy, wet lay-up.", when=_WHERE_OF_FIBRE),
        default=None,
    )
    fibre_fraction: float | None = described(
        Quantity(
            "Share of fibre by volume; half glass by mass in epoxy is 0.31, two thirds 0.47.",
            above=0,
            at_most=0.75,
            sane=(0.08, 0.75),
            when=_WHERE_OF_FIBRE,
        ),
        default=None,
    )
    void_fraction: float = described(
        Quantity(
            "Share of voids by volume.",
            at_least=0,
            at_most=0.1,
            when=_WHERE_OF_FIBRE,
            default_from="none; careful hand work keeps them to a hundredth or two: common practice, from memory",
        ),
        default=0.0,
    )
    strengths: str | None = described(
        Text(
            "A tested ply whose strengths are taken: only stiffness follows from fibre and resin.",
            when=_WHERE_OF_FIBRE,
        ),
        default=None,
    )
    angle_rad: float = described(
        Quantity(
            "From the length of the mast to the fibres, or to the warp of a cloth.",
            unit="rad",
            at_least=-_RIGHT_ANGLE,
            at_most=_RIGHT_ANGLE,
        )
    )
    areal_mass_kg_m2: float | None = described(
        Quantity("Dry fibre to the area, of one ply.", unit="kg/m2", above=0, sane=(0.02, 3.0)), default=None
    )
    thickness_m: float | None = described(
        Quantity(
            "Thickness of one ply as laid, such as measured.", unit="m", above=0, sane=(0.02 * _MM, 10 * _MM)
        ),
        default=None,
    )
    count: int = described(Whole("How many of them.", at_least=1, at_most=200), default=1)
    start_m: float = described(
        Quantity(
            "Height z at which they begin.",
            unit="m",
            at_least=0,
            sane=(0, 60),
            default_from="plies run from the heel where no start is given",
        ),
        default=0.0,
    )
    end_m: float | None = described(
        Quantity("Height z at which they end; the tip when not given.", unit="m", above=0, sane=(0, 60)),
        default=None,
    )


@dataclass(frozen=True, kw_only=True)
class Laminate:
    """A wall or a sheath of plies, and how its strength is judged."""

    name: str = described(Text("Name used elsewhere in the file."))
    plies: tuple[Plies, ...] = described(Tables("Its plies, inside first.", of=Plies, least=1, most=200))
    method: str = described(
        Choice(
            "How stiffness across the fibres and in shear is estimated from fibre and resin.",
            options={
                "inverse": "inverse rule: a low bound",
                "halpin-tsai": "Halpin-Tsai with xi 2 across and 1 in shear",
                "halpin-tsai-1.5": "Halpin-Tsai with xi 1.5 across and 1 in shear",
                "chamis": "Chamis",
                "puck": "the fits of Puck's school",
            },
            when=(_estimated, "some plies are given by fibre"),
            default_from="across the fibres within a fifth or so of most tested glass plies of the tables, in shear "
            "the lowest but for the inverse rule",
        ),
        default="halpin-tsai-1.5",
    )
    criterion: str = described(
        Choice(
            "When a ply is taken to fail.",
            options={
                EVERY_CRITERION: "every one of these that suits the plies, but tsai-hill-tensile",
                "max-stress": "each stress against its own strength",
                "max-strain": "each strain against its own ultimate strain",
                "tsai-hill": "Tsai-Hill with the strength of each stress's own sign",
                "tsai-hill-tensile": "Tsai-Hill as the textbooks have it, with the tensile strengths alone",
                "tsai-wu": "Tsai-Wu with F12 = -1/2 sqrt(F11 F22)",
                "hashin": "Hashin 1980, for unidirectional plies",
                "hashin-rotem": "Hashin and Rotem, for unidirectional plies",
            },
            default_from="no one criterion is the lowest for every lay-up: all are asked, and the worst answer counts",
        ),
        default=EVERY_CRITERION,
    )
    water: str | None = described(
        Choice(
            "What water takes off the strengths that the resin governs: all but tension along the fibres.",
            options={
                "wet-epoxy": "0.8 is left; 0.8 to 0.9 of epoxy glass, from memory",
                "wet-polyester": "0.7 is left; 0.7 to 0.8 of polyester glass, from memory",
                "dry": "nothing, of a laminate that is painted and kept dry",
                WATER_STATED: "what water_factor says",
            },
            default_from="wet-epoxy where every ply names epoxy as its resin, wet-polyester, the lower, where one "
            "does not",
        ),
        default=None,
    )
    water_factor: float | None = described(
        Quantity(
            "Share of those strengths that is left, wet.",
            at_least=0.3,
            at_most=1,
            when=(lambda t: t.water == WATER_STATED, 'water = "stated"'),
        ),
        default=None,
    )
    lasting: str = described(
        Choice(
            "How long the loads of the cases stay on.",
            options={
                PASSING: "seconds to hours: nothing is taken off for time, something for repetition",
                STANDING: "for weeks: 0.2 of strength is left; a standing load stays under 20 to 25 %, from memory",
            },
            default_from="judgement: what stands on a mast for weeks is its own weight, a few per cent of its load",
        ),
        default=PASSING,
    )
    cycles: float = described(
        Quantity(
            "How often the full load of the cases comes in the life of the mast.",
            at_least=1,
            at_most=1e9,
            when=_WHERE_REPEATED,
            default_from="judgement: by the power law 100 in full wear it as ten million swings at a third do",
        ),
        default=100.0,
    )
    fatigue: str = described(
        Choice(
            "What repetition leaves of strength.",
            options={
                "power": "cycles ** (-1/10), read for glass in a blade",
                "power-carbon": "cycles ** (-1/16.1), read for carbon in a blade",
                "log": "1 - 0.10 log10(cycles), good glass, from memory",
                "log-poor": "1 - 0.14 log10(cycles), poor cloth, from memory",
            },
            when=_WHERE_REPEATED,
            default_from="the one that was read for glass; up to 50 000 cycles it is the lowest",
        ),
        default="power",
    )
    safety_factor: float = described(
        Quantity(
            "Factor on the load at which the first ply fails, the plies part, or the wall buckles or flattens.",
            at_least=1,
            at_most=10,
            default_from="1.5 of ultimate over limit load, read; with water and cycles as left it comes to 2.4 on "
            "tension along the fibres and 3.0 on the rest, where blades are built to 2.2 to 2.65 on characteristic "
            "strengths (Germanischer Lloyd 2010, from memory) and these are typical ones",
        ),
        default=1.5,
    )
    interlaminar_Pa: float = described(
        Quantity(
            "Shear strength between plies, dry and at once.",
            unit="Pa",
            above=0,
            sane=(2e6, 120e6),
            default_from="13.8 MPa, the least that Lloyd's Register accepts (Rules for Special Service Craft, Pt 8 "
            "Ch 7 s.3), read; good epoxy glass has 40 to 60, from memory",
        ),
        default=13.8e6,
    )
    crushing_Pa: float = described(
        Quantity(
            "Compressive strength through the wall, dry and at once; no more than that across the fibres of a ply "
            "is counted.",
            unit="Pa",
            above=0,
            sane=(10e6, 500e6),
            default_from="103 MPa crosswise in a glass and polyester profile, read on a materials page",
        ),
        default=103e6,
    )
    bearing_Pa: float = described(
        Quantity(
            "Pressure that a bearing may put on the wall, over its length times the diameter.",
            unit="Pa",
            above=0,
            sane=(1e6, 100e6),
            default_from="judgement, from memory: 10 to 15 MPa with a wear sleeve bonded on; no published value was "
            "found",
        ),
        default=10e6,
    )
