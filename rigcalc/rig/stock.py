"""What can be bought and carried, and what is left on it to be taken off."""

from __future__ import annotations

from ..frozen import dataclass
from .fields import MOST_MONEY, Quantity, Tables, Text, Texts, Whole, described

_MM = 0.001
_RIGHT_ANGLE = 1.5707963267949
_MEMORY = "common practice, from memory"


@dataclass(frozen=True, kw_only=True)
class StockTube:
    """A size of round tube that can be had."""

    name: str | None = described(
        Text("What it is ordered by; its size when not given."),
        default=None,
    )
    diameter_m: float = described(Quantity("Outside diameter.", unit="m", above=0, sane=(10 * _MM, 0.8)))
    wall_m: float = described(Quantity("Wall thickness.", unit="m", above=0, sane=(0.5 * _MM, 60 * _MM)))
    material: str | None = described(
        Text("The metal it is of; it serves a mast of any when not given."), default=None
    )
    length_m: float | None = described(
        Quantity(
            "Length it is sold in; tube_length when not given.",
            unit="m",
            above=0,
            sane=(0.5, 30),
        ),
        default=None,
    )
    price: float | None = described(
        Quantity("Price of a metre, a bare number in your own money.", at_least=0, at_most=MOST_MONEY),
        default=None,
    )


@dataclass(frozen=True, kw_only=True)
class StockBoard:
    """A kind of board that can be had, clear of what is of no use."""

    name: str | None = described(Text("What it is called; its size when not given."), default=None)
    width_m: float = described(Quantity("Width.", unit="m", above=0, sane=(10 * _MM, 1)))
    thickness_m: float = described(Quantity("Thickness.", unit="m", above=0, sane=(3 * _MM, 0.5)))
    length_m: float = described(Quantity("Length.", unit="m", above=0, sane=(0.3, 30)))
    price: float | None = described(
        Quantity("Price of one, a bare number in your own money.", at_least=0, at_most=MOST_MONEY),
        default=None,
    )


@dataclass(frozen=True, kw_only=True)
class StockCloth:
    """A cloth on the roll."""

    name: str | None = described(Text("What it is called; its material when not given."), default=None)
    material: str = described(Text("The ply, or the fibre, of a [[laminate]] that it is laid for."))
    areal_mass_kg_m2: float | None = described(
        Quantity(
            "Dry mass to the area; it serves plies of any when not given.",
            unit="kg/m2",
            above=0,
            sane=(0.02, 3),
        ),
        default=None,
    )
    angle_rad: float = described(
        Quantity(
            "From the length of the roll to its fibres, or to the warp; plies at another angle are cut on the bias.",
            unit="rad",
            at_least=0,
            at_most=_RIGHT_ANGLE,
            default_from="fibres, or the warp, run along the roll",
        ),
        default=0.0,
    )
    roll_m: float = described(Quantity("Usable width of the roll.", unit="m", above=0, sane=(0.02, 5)))
    roll_length_m: float | None = described(
        Quantity(
            "Longest length that comes off it; no limit when not given.", unit="m", above=0, sane=(0.5, 500)
        ),
        default=None,
    )
    price: float | None = described(
        Quantity("Price of a square metre, a bare number in your own money.", at_least=0, at_most=MOST_MONEY),
        default=None,
    )
    price_per_kg: float | None = described(
        Quantity("In its place, price of a kilogram of dry cloth.", at_least=0, at_most=MOST_MONEY),
        default=None,
    )


@dataclass(frozen=True, kw_only=True)
class Stock:
    """What can be bought and carried, and what is left on it to be taken off. Prices are bare numbers."""

    file: str | None = described(
        Text("CSV of the tubes that can be had, beside this file or by its whole path."), default=None
    )
    tube: tuple[StockTube, ...] = described(
        Tables("Tubes that can be had, beside those of the CSV.", of=StockTube, most=2000), default=()
    )
    series: tuple[str, ...] = described(
        Texts("Series of generic sizes that count as well; every one when no tube is named at all."),
        default=(),
    )
    tube_length_m: float | None = described(
        Quantity(
            "Length tubes are sold in where no list says; cut to size by the supplier when not given.",
            unit="m",
            above=0,
            sane=(0.5, 30),
        ),
        default=None,
    )
    max_piece_m: float | None = described(
        Quantity(
            "Longest piece of tube that can be carried; no limit when not given.",
            unit="m",
            above=0,
            sane=(0.5, 30),
        ),
        default=None,
    )
    kerf_m: float = described(
        Quantity(
            "Width of the saw cut.",
            unit="m",
            at_least=0,
            sane=(0, 20 * _MM),
            default_from=f"a circular saw: {_MEMORY}",
        ),
        default=3 * _MM,
    )
    trim_m: float = described(
        Quantity(
            "What squaring takes off every bar of tube, both ends together.",
            unit="m",
            at_least=0,
            sane=(0, 0.5),
            default_from=f"5 mm at each end: {_MEMORY}",
        ),
        default=10 * _MM,
    )
    board: tuple[StockBoard, ...] = described(Tables("Boards that can be had.", of=StockBoard), default=())
    least_piece_m: float = described(
        Quantity(
            "Shortest piece of board worth scarfing on.",
            unit="m",
            above=0,
            sane=(0.1, 10),
            default_from="judgement",
        ),
        default=1.0,
    )
    scarf_clear_m: float = described(
        Quantity(
            "How far above and below the partners no scarf may lie.",
            unit="m",
            at_least=0,
            sane=(0, 3),
            default_from="judgement: bending is greatest there",
        ),
        default=0.3,
    )
    plane_width_m: float = described(
        Quantity(
            "Left on the width of a stave or plank, over both edges.",
            unit="m",
            at_least=0,
            sane=(0, 50 * _MM),
            default_from=_MEMORY,
        ),
        default=4 * _MM,
    )
    plane_thickness_m: float = described(
        Quantity(
            "Left on its thickness, over both faces.",
            unit="m",
            at_least=0,
            sane=(0, 50 * _MM),
            default_from=_MEMORY,
        ),
        default=3 * _MM,
    )
    wood_ends_m: float = described(
        Quantity(
            "Left on the length of wood, both ends together.",
            unit="m",
            at_least=0,
            sane=(0, 2),
            default_from=_MEMORY,
        ),
        default=0.1,
    )
    cloth: tuple[StockCloth, ...] = described(Tables("Cloths that can be had.", of=StockCloth), default=())
    roll_m: float = described(
        Quantity(
            "Width of the roll where no cloth is named for a ply.",
            unit="m",
            above=0,
            sane=(0.02, 5),
            default_from="1 m and 1.27 m are common, from memory; the narrower",
        ),
        default=1.0,
    )
    lap_m: float = described(
        Quantity(
            "Lap of cloth at each seam along the mast.",
            unit="m",
            at_least=0,
            sane=(0, 0.5),
            default_from=_MEMORY,
        ),
        default=20 * _MM,
    )
    join_m: float = described(
        Quantity(
            "Lap of cloth where lengths follow one another.",
            unit="m",
            at_least=0,
            sane=(0, 2),
            default_from="judgement: longer than what the resin needs to carry a thin ply's pull",
        ),
        default=0.1,
    )
    cloth_ends_m: float = described(
        Quantity(
            "Cloth over the ends of a ply to be trimmed, both ends together.",
            unit="m",
            at_least=0,
            sane=(0, 2),
            default_from=_MEMORY,
        ),
        default=0.05,
    )
    cloth_spare: float = described(
        Quantity(
            "Share of cloth bought on top.",
            at_least=0,
            at_most=1,
            default_from="10 to 15 % where it is laid at home, from memory",
        ),
        default=0.10,
    )
    resin_loss: float = described(
        Quantity(
            "Share of the laid resin that is mixed and lost.",
            at_least=0,
            at_most=2,
            default_from="20 to 30 % where it is laid at home, from memory",
        ),
        default=0.25,
    )
    resin_price: float | None = described(
        Quantity(
            "Price of a kilogram of mixed resin, a bare number in your own money.",
            at_least=0,
            at_most=MOST_MONEY,
        ),
        default=None,
    )
    table_step_m: float = described(
        Quantity(
            "Distance between the rows of the tables of tapers.",
            unit="m",
            above=0,
            sane=(0.02, 10),
            default_from="judgement: what a batten bends fair over",
        ),
        default=0.3,
    )
    # what follows is for masts of tubes that stand in one another: design.stock.nesting_rules hands it on
    fewest: int = described(
        Whole(
            "Fewest tubes a stepped mast may have.",
            at_least=1,
            at_most=4,
            default_from="one tube needs no joint",
        ),
        default=1,
    )
    most: int = described(
        Whole(
            "Most tubes a stepped mast may have.",
            at_least=1,
            at_most=4,
            default_from="judgement: each joint costs mass and work",
        ),
        default=3,
    )
    least_clearance_m: float = described(
        Quantity(
            "Least nominal clearance between nested tubes, on the diameter.",
            unit="m",
            at_least=0,
            sane=(0, 20 * _MM),
            default_from="judgement: 0.23 mm is that of the telescoping inch series, read",
        ),
        default=0.2 * _MM,
    )
    greatest_clearance_m: float = described(
        Quantity(
            "Greatest nominal clearance between nested tubes, on the diameter; a large one is packed.",
            unit="m",
            at_least=0,
            sane=(0, 100 * _MM),
            default_from="judgement: what is easily packed",
        ),
        default=2 * _MM,
    )
    overlap_m: float = described(
        Quantity(
            "Least length of the tail of a tube inside the one below.",
            unit="m",
            at_least=0,
            sane=(0, 5),
            default_from="overlap_bores alone decides",
        ),
        default=0.0,
    )
    overlap_bores: float = described(
        Quantity(
            "The same in bores of the tube around it; the longer holds.",
            at_least=0,
            at_most=20,
            default_from="slip joints of poles, ASCE/SEI 48, from memory",
        ),
        default=1.5,
    )
    joint_step_m: float = described(
        Quantity(
            "Joints are tried at whole multiples of this above the heel.",
            unit="m",
            above=0,
            sane=(0.01, 10),
            default_from="judgement: what a tape shows",
        ),
        default=0.1,
    )
