"""Materials of the user's own, each with its source."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from ..frozen import dataclass
from .fields import Choice, Quantity, Text, described

METAL, TIMBER, PLY, FOAM = "metal", "timber", "ply", "foam"
CLEAR_WOOD, CHARACTERISTIC = "clear-wood", "characteristic"
APPARENT, TRUE, NOT_STATED = "apparent", "true", "not stated"

_Condition = tuple[Callable[[Any], bool], str]


def _of(*families: str) -> _Condition:
    return lambda t: t.family in families, " or ".join(f'family = "{family}"' for family in families)


def _on(basis: str) -> _Condition:
    # a timber whose basis is missing is asked for that alone, not told that its keys are read by neither
    return lambda t: t.family == TIMBER and t.basis in (basis, None), f'basis = "{basis}" of a timber'


def _surely_on(basis: str) -> _Condition:
    return lambda t: t.family == TIMBER and t.basis == basis, _on(basis)[1]


def _strength(
    help: str, *, when: _Condition, needed: _Condition | None = None, sane: tuple[float, float]
) -> Any:
    return described(Quantity(help, unit="Pa", above=0, sane=sane, when=when, needed=needed), default=None)


def _strain(help: str) -> Any:
    return described(Quantity(help, above=0, at_most=1, sane=(0.0005, 0.2), when=_of(PLY)), default=None)


_WOOD = (1e5, 4e8)
_RESIN, _FIBRE = (1e6, 6e9), (1e7, 6e9)


@dataclass(frozen=True, kw_only=True)
class Material:
    """A material of the user's own; what it must give depends on its family."""

    name: str = described(
        Text("Name used elsewhere in the file; it comes before the same name in the tables.")
    )
    family: str = described(
        Choice(
            "What kind.",
            options={
                METAL: "ductile metal tube",
                TIMBER: "wood along its grain",
                PLY: "a layer of a laminate",
                FOAM: "core of foam, alike all ways",
            },
        )
    )
    source: str = described(Text("Where the values come from: certificate, standard, test."))
    density_kg_m3: float = described(
        Quantity(
            "Density; of a timber at 12 % moisture, of a ply resin and all.",
            unit="kg/m3",
            above=0,
            sane=(10, 12_000),
        )
    )

    # metal, timber, foam
    E_Pa: float | None = described(
        Quantity(
            "Young's modulus; of a timber along the grain, the mean at 12 % moisture.",
            unit="Pa",
            above=0,
            sane=(5e6, 5e11),
            when=_of(METAL, TIMBER, FOAM),
            needed=_of(METAL, TIMBER, FOAM),
        ),
        default=None,
    )
    G_Pa: float | None = described(
        Quantity(
            "Shear modulus; of a timber along the grain, E/16 when not given.",
            unit="Pa",
            above=0,
            sane=(1e6, 2e11),
            when=_of(METAL, TIMBER, FOAM),
            needed=_of(METAL, FOAM),
        ),
        default=None,
    )

    # metal
    nu: float = described(
        Quantity(
            "Poisson's ratio.",
            at_least=0,
            at_most=0.5,
            when=_of(METAL),
            default_from="EN 1999-1-1 3.2.5, from memory",
        ),
        default=0.30,
    )
    proof_Pa: float | None = _strength(
        "0.2 % proof strength, the least guaranteed.", when=_of(METAL), needed=_of(METAL), sane=(2e7, 3e9)
    )
    ultimate_Pa: float | None = _strength(
        "Tensile strength, the least guaranteed.", when=_of(METAL), needed=_of(METAL), sane=(3e7, 4e9)
    )
    welded_proof_Pa: float | None = _strength(
        "Proof strength beside a weld.", when=_of(METAL), sane=(1e7, 3e9)
    )
    welded_ultimate_Pa: float | None = _strength(
        "Tensile strength beside a weld.", when=_of(METAL), sane=(1e7, 4e9)
    )
    buckling_class: str = described(
        Choice(
            "Buckling class of EN 1999-1-1.",
            options={"A": "hardened", "B": "softer, lower limits"},
            when=_of(METAL),
            default_from="the lower of the two",
        ),
        default="B",
    )

    # timber
    basis: str | None = described(
        Choice(
            "What the strengths of a timber are.",
            options={
                CLEAR_WOOD: "averages of small clear pieces, as handbooks of species print them",
                CHARACTERISTIC: "lower 5 % of graded or glued timber, for EN 1995-1-1",
            },
            when=_of(TIMBER),
            needed=_of(TIMBER),
        ),
        default=None,
    )
    E_is: str = described(
        Choice(
            "Whether the shear deflection of the test beam is in E.",
            options={
                APPARENT: "it is: a bending test, as handbooks print E",
                TRUE: "it is not: E free of shear",
                NOT_STATED: "the source does not say: neither raised nor lowered",
            },
            when=_on(CLEAR_WOOD),
            default_from="judgement: E as it stands serves for both",
        ),
        default=NOT_STATED,
    )
    E_low_Pa: float | None = described(
        Quantity(
            "Lower 5 % of E; the lowest share that a class of EN 338 has when not given.",
            unit="Pa",
            above=0,
            sane=(1e9, 5e10),
            when=_on(CHARACTERISTIC),
        ),
        default=None,
    )
    bending_Pa: float | None = _strength(
        "Bending strength, or modulus of rupture.", when=_of(TIMBER), needed=_of(TIMBER), sane=_WOOD
    )
    tension_Pa: float | None = _strength(
        "Tension strength along the grain; of clear wood bending stands in for it, of the rest the lowest share "
        "of bending that a class of EN 338 has when not given.",
        when=_on(CHARACTERISTIC),
        sane=_WOOD,
    )
    compression_Pa: float | None = _strength(
        "Crushing strength, of a timber along the grain.",
        when=_of(TIMBER, FOAM),
        needed=_of(TIMBER, FOAM),
        sane=(2e4, 4e8),
    )
    compression_perp_Pa: float | None = _strength(
        "Crushing across the grain, at the proportional limit; estimated from other wood when not given.",
        when=_of(TIMBER),
        needed=_surely_on(CHARACTERISTIC),
        sane=_WOOD,
    )
    shear_Pa: float | None = _strength(
        "Shear strength, of a timber along the grain; of clear wood estimated from other wood when not given.",
        when=_of(TIMBER, FOAM),
        needed=(
            lambda t: t.family == FOAM or _surely_on(CHARACTERISTIC)[0](t),
            f"{_of(FOAM)[1]} or {_on(CHARACTERISTIC)[1]}",
        ),
        sane=(2e4, 1e8),
    )
    tension_perp_Pa: float | None = _strength(
        "Tension strength across the grain; estimated from other wood when not given.",
        when=_of(TIMBER),
        sane=(5e4, 5e7),
    )
    E_green_Pa: float | None = described(
        Quantity(
            "E of the wood green; estimated from other wood when not given, as are the strengths below.",
            unit="Pa",
            above=0,
            sane=(1e9, 5e10),
            when=_on(CLEAR_WOOD),
        ),
        default=None,
    )
    bending_green_Pa: float | None = _strength(
        "Bending strength of the wood green.", when=_on(CLEAR_WOOD), sane=_WOOD
    )
    compression_green_Pa: float | None = _strength(
        "Crushing strength along the grain of the wood green.", when=_on(CLEAR_WOOD), sane=_WOOD
    )
    compression_perp_green_Pa: float | None = _strength(
        "Crushing across the grain of the wood green.", when=_on(CLEAR_WOOD), sane=_WOOD
    )
    shear_green_Pa: float | None = _strength(
        "Shear strength along the grain of the wood green.", when=_on(CLEAR_WOOD), sane=_WOOD
    )
    tension_perp_green_Pa: float | None = _strength(
        "Tension strength across the grain of the wood green.", when=_on(CLEAR_WOOD), sane=(5e4, 5e7)
    )
    green_limit: float = described(
        Quantity(
            "Moisture above which the wood is as when green.",
            at_least=0.15,
            at_most=0.35,
            when=_on(CLEAR_WOOD),
            default_from="25 % of any species it does not name, Wood Handbook Table 5-13, read",
        ),
        default=0.25,
    )

    # foam
    safety_factor: float = described(
        Quantity(
            "Factor on the strengths of a foam.",
            at_least=1,
            at_most=10,
            when=_of(FOAM),
            default_from="half of its strength is allowed of a core in shear: ISO 12215-5, from memory",
        ),
        default=2.0,
    )

    # ply
    form: str | None = described(
        Choice(
            "How the fibres of a ply lie, axis 1 being the one its angle is measured to.",
            options={
                "ud": "all along axis 1",
                "woven": "half along axis 1, half across",
                "biaxial-45": "half at 45 deg to axis 1, half at -45 deg",
                "mat": "every way alike",
            },
            when=_of(PLY),
            needed=_of(PLY),
        ),
        default=None,
    )
    fibre_fraction: float | None = described(
        Quantity(
            "Share of fibre by volume.",
            above=0,
            at_most=0.85,
            sane=(0.05, 0.85),
            when=_of(PLY),
            needed=_of(PLY),
        ),
        default=None,
    )
    fibre_density_kg_m3: float | None = described(
        Quantity(
            "Density of the fibre alone.",
            unit="kg/m3",
            above=0,
            sane=(800, 4000),
            when=_of(PLY),
            needed=_of(PLY),
        ),
        default=None,
    )
    E1_Pa: float | None = described(
        Quantity(
            "Modulus along axis 1.", unit="Pa", above=0, sane=(1e9, 6e11), when=_of(PLY), needed=_of(PLY)
        ),
        default=None,
    )
    E2_Pa: float | None = described(
        Quantity("Modulus across it.", unit="Pa", above=0, sane=(1e8, 2e11), when=_of(PLY), needed=_of(PLY)),
        default=None,
    )
    G12_Pa: float | None = described(
        Quantity(
            "Shear modulus in the ply.", unit="Pa", above=0, sane=(1e8, 1e11), when=_of(PLY), needed=_of(PLY)
        ),
        default=None,
    )
    nu12: float | None = described(
        Quantity(
            "Poisson's ratio: shrinkage across for stretch along axis 1.",
            at_least=0,
            at_most=1,
            when=_of(PLY),
            needed=_of(PLY),
        ),
        default=None,
    )
    Xt_Pa: float | None = _strength("Tension strength along axis 1.", when=_of(PLY), sane=_FIBRE)
    Xc_Pa: float | None = _strength("Compression strength along axis 1.", when=_of(PLY), sane=_FIBRE)
    Yt_Pa: float | None = _strength("Tension strength across axis 1.", when=_of(PLY), sane=_RESIN)
    Yc_Pa: float | None = _strength("Compression strength across axis 1.", when=_of(PLY), sane=_RESIN)
    S12_Pa: float | None = _strength("Shear strength in the ply.", when=_of(PLY), sane=_RESIN)
    strain_1t: float | None = _strain(
        "Ultimate strain, pulled along axis 1; strength over modulus when not given."
    )
    strain_1c: float | None = _strain(
        "Ultimate strain, pressed along axis 1; strength over modulus when not given."
    )
    strain_2t: float | None = _strain(
        "Ultimate strain, pulled across axis 1; strength over modulus when not given."
    )
    strain_2c: float | None = _strain(
        "Ultimate strain, pressed across axis 1; strength over modulus when not given."
    )
    strain_12: float | None = _strain(
        "Ultimate shear strain, the engineer's; strength over modulus when not given."
    )
