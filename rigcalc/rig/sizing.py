"""What a search for the best mast may change, and what it must keep."""

from __future__ import annotations

from ..frozen import dataclass
from .fields import MOST_MONEY, Choice, Heights, Quantity, Tables, Text, Texts, Whole, described

_MM = 0.001
BY_MASS, BY_COST, BY_DIAMETER = "mass", "cost", "diameter"


@dataclass(frozen=True, kw_only=True)
class Price:
    """What a kilogram of a material costs in place, in the user's own money."""

    material: str = described(Text("The material, as sizing is asked for it."))
    per_kg: float = described(
        Quantity("Price of a kilogram, a bare number in your own money.", at_least=0, at_most=MOST_MONEY)
    )


@dataclass(frozen=True, kw_only=True)
class Sizing:
    """What `rigcalc size` and `rigcalc compare` may change. All that is not named here stays as the file has it."""

    minimise: str = described(
        Choice(
            "What is made as small as may be.",
            options={
                BY_MASS: "the mass of the spar",
                BY_COST: "its price, of [[size.price]] or of the list of tubes",
                BY_DIAMETER: "its greatest diameter, and of equals the mass",
            },
            default_from="a light mast keeps the boat upright",
        ),
        default=BY_MASS,
    )
    materials: tuple[str, ...] = described(
        Texts(
            "Materials that `rigcalc compare` sizes a mast of: metals, timbers, plies or laminates by name; a timber "
            "and a ply with a plus between them are staves sheathed all over."
        ),
        default=(),
    )
    smallest_diameter_m: float = described(
        Quantity(
            "Smallest outside diameter anywhere.",
            unit="m",
            above=0,
            sane=(10 * _MM, 0.3),
            default_from="judgement: room for a sheave and a light",
        ),
        default=40 * _MM,
    )
    largest_diameter_m: float = described(
        Quantity(
            "Largest outside diameter anywhere.",
            unit="m",
            above=0,
            sane=(20 * _MM, 0.8),
            default_from="judgement: beyond what masts of small boats have",
        ),
        default=250 * _MM,
    )
    smallest_tip_m: float | None = described(
        Quantity("Smallest outside diameter of the tip.", unit="m", above=0, sane=(10 * _MM, 0.3)),
        default=None,
    )
    largest_tip_m: float | None = described(
        Quantity("Largest outside diameter of the tip.", unit="m", above=0, sane=(20 * _MM, 0.8)),
        default=None,
    )
    smallest_wall_m: float = described(
        Quantity(
            "Thinnest wall anywhere. Staves thinner than 8 mm are left aside whatever stands here.",
            unit="m",
            above=0,
            sane=(0.5 * _MM, 60 * _MM),
            default_from="judgement: a thinner one is dented by a shackle or a knock alongside",
        ),
        default=2.5 * _MM,
    )
    most_mass_kg: float | None = described(
        Quantity("Most that the spar may weigh, fittings and all.", unit="kg", above=0, sane=(1, 2000)),
        default=None,
    )
    lowest_frequency_Hz: float | None = described(
        Quantity("Least natural frequency of the mast.", unit="Hz", above=0, sane=(0.1, 20)), default=None
    )
    bury_m: tuple[float, ...] | None = described(
        Heights(
            "Buries to try, each for itself; that of [mast] alone when not given. Sails, boat and cases stay at their "
            "heights above the heel."
        ),
        default=None,
    )
    heights_m: tuple[float, ...] | None = described(
        Heights(
            "Heights between partners and tip at which a mast of staves or laminate has a size of its own; straight "
            "between partners and tip when not given."
        ),
        default=None,
    )
    diameter_step_m: float = described(
        Quantity(
            "Step in which the diameters of staves and mandrels are looked for.",
            unit="m",
            above=0,
            sane=(0.5 * _MM, 20 * _MM),
            default_from="judgement: what a plane and a template keep to",
        ),
        default=2 * _MM,
    )
    wall_step_m: float = described(
        Quantity(
            "Step in which the walls of staves are looked for.",
            unit="m",
            above=0,
            sane=(0.2 * _MM, 10 * _MM),
            default_from="judgement: what a thicknesser keeps to",
        ),
        default=1 * _MM,
    )
    ply_mass_kg_m2: float = described(
        Quantity(
            "Dry mass of a layer along the mast, where a laminate is laid up of a ply by name.",
            unit="kg/m2",
            above=0,
            sane=(0.05, 2),
            default_from="a cloth that is commonly sold",
        ),
        default=0.3,
    )
    off_axis_mass_kg_m2: float = described(
        Quantity(
            "Dry mass of each layer at 45 deg there.",
            unit="kg/m2",
            above=0,
            sane=(0.05, 2),
            default_from="half of a double-bias cloth that is commonly sold",
        ),
        default=0.2,
    )
    most_plies: int = described(
        Whole(
            "Most layers of one kind.",
            at_least=1,
            at_most=100,
            default_from="judgement: a wall of more is laid up of thicker cloth",
        ),
        default=30,
    )
    seed: int = described(
        Whole(
            "Seed of the search: another one starts elsewhere.",
            at_least=0,
            at_most=2**31 - 1,
            default_from="any will do",
        ),
        default=1,
    )
    price: tuple[Price, ...] = described(Tables("Prices by material.", of=Price), default=())
