"""Rules for what can be bought."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ...errors import Problem
from ...materials import MaterialError, family_of
from ...materials.names import table_names
from ...materials.tube_tables import tube_series
from ...rig.materials import METAL, PLY
from ..loose import Loose
from .materials import families
from .say import HAIR, mm, name_known, unique

MOST_JOINTS = 200
"""Heights a joint may be tried at: all masts of three joints among them are over a million to a chain."""


def stock_rules(stock: Loose, mast: Loose | None, own: Sequence[Loose]) -> Iterator[Problem]:
    """Yield what does not go together in what can be bought.

    Parameters
    ----------
    stock : Loose
        The table.
    mast : Loose or None
        The spar it is for.
    own : sequence of Loose
        The user's own materials.
    """
    yield from _tubes(stock, own)
    yield from _cloths(stock, own)
    if stock.has("board"):
        yield from unique([b for b in stock.board if b.get("name") is not None], "board")
    yield from _nesting(stock, mast)


def _tubes(stock: Loose, own: Sequence[Loose]) -> Iterator[Problem]:
    for i, series in enumerate(stock.get("series", ())):
        yield from name_known(f"stock.series[{i}]", series, tube_series(), "series")
    seen: dict[tuple[object, ...], str] = {}
    for tube in stock.get("tube", ()):
        if tube.has("diameter_m", "wall_m"):
            if 2 * tube.wall_m >= tube.diameter_m:
                yield Problem(
                    f"{tube.path}.wall",
                    mm(tube.wall_m),
                    f"it leaves no bore in a tube of {mm(tube.diameter_m)}",
                    "Are the two swapped, or is one in another unit?",
                )
            one = (tube.diameter_m, tube.wall_m, tube.get("material"), tube.get("length_m"))
            if one in seen:
                yield Problem(
                    tube.path,
                    f"{mm(tube.diameter_m)} x {mm(tube.wall_m)}",
                    f"the same tube stands in {seen[one]}",
                    "Keep one of the two.",
                )
            seen[one] = tube.path
        if tube.get("material") is not None:
            yield from _of(METAL, f"{tube.path}.material", tube.material, own)


def _of(family: str, path: str, name: str, own: Sequence[Loose]) -> Iterator[Problem]:
    """Yield a problem unless a name is a material of a family."""
    try:
        if family_of(name, own=families(own)) != family:
            yield Problem(path, f'"{name}"', f"it is no {family}", f"Name the {family} it is of.")
    except MaterialError as error:
        yield Problem(path, f'"{error.name}"', error.problem, error.remedy)


def _cloths(stock: Loose, own: Sequence[Loose]) -> Iterator[Problem]:
    seen: dict[tuple[object, ...], str] = {}
    for cloth in stock.get("cloth", ()):
        if cloth.has("material") and cloth.material not in table_names("fibre"):
            yield from _of(PLY, f"{cloth.path}.material", cloth.material, own)
        if cloth.get("price") is not None and cloth.get("price_per_kg") is not None:
            yield Problem(
                f"{cloth.path}.price",
                f"{cloth.price:g}",
                "a cloth is sold by the square metre or by the kilogram",
                "Keep one of the two prices.",
            )
        if cloth.has("material", "areal_mass_kg_m2", "angle_rad"):
            one = (cloth.material, cloth.areal_mass_kg_m2, cloth.angle_rad)
            if one in seen:
                yield Problem(
                    cloth.path,
                    f'"{cloth.material}"',
                    f"the same cloth is {seen[one]}",
                    "Keep one of the two.",
                )
            seen[one] = cloth.path
        if cloth.has("roll_m"):
            yield from _wide_enough(f"{cloth.path}.roll", cloth.roll_m, stock)
    if stock.has("roll_m"):
        yield from _wide_enough("stock.roll", stock.roll_m, stock)


def _wide_enough(path: str, roll_m: float, stock: Loose) -> Iterator[Problem]:
    if stock.has("lap_m") and stock.lap_m >= roll_m / 2:
        yield Problem(
            path, mm(roll_m), f"a lap of {mm(stock.lap_m)} takes half of it or more", "Shorten the lap."
        )


def _nesting(stock: Loose, mast: Loose | None) -> Iterator[Problem]:
    """Yield what makes no stepped mast."""
    if stock.has("fewest", "most") and stock.fewest > stock.most:
        yield Problem(
            "stock.fewest", f"{stock.fewest}", f"it is more than most, {stock.most}", "Are the two swapped?"
        )
    if stock.has("least_clearance_m", "greatest_clearance_m") and (
        stock.least_clearance_m > stock.greatest_clearance_m
    ):
        yield Problem(
            "stock.least_clearance",
            mm(stock.least_clearance_m),
            f"it is more than greatest_clearance, {mm(stock.greatest_clearance_m)}",
            "Are the two swapped?",
        )
    if stock.has("overlap_m", "overlap_bores") and stock.overlap_m == stock.overlap_bores == 0.0:
        yield Problem(
            "stock.overlap",
            "0 m",
            "a tube without an overlap does not stand in another",
            "Give an overlap, or overlap_bores.",
        )
    if stock.has("joint_step_m") and mast is not None and mast.has("length_m"):
        least, most = mast.length_m / MOST_JOINTS, mast.length_m
        if not least - HAIR <= stock.joint_step_m <= most + HAIR:
            yield Problem(
                "stock.joint_step",
                mm(stock.joint_step_m),
                f"it is {mm(least)} to {mm(most)} for a mast of this length",
                "Give a step that a tape shows.",
            )
