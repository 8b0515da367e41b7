"""From the [stock] table of a rig to the tubes that can be had and the rules they stand in one another by."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from ..errors import Problem, RigInputError
from ..materials.tube_lists import read_tube_list
from ..materials.tube_tables import TubeSize, tube_sizes
from ..rig import Rig, Stock, StockTube
from ..verdict import Assumption, defaults_of
from .nesting import NestingRules


def stock_of(rig: Rig) -> Stock:
    """Return the stock of a rig; one of defaults where the file has none."""
    return Stock() if rig.stock is None else rig.stock


def stock_defaults(rig: Rig, keys: Sequence[str]) -> tuple[Assumption, ...]:
    """Return the defaults taken for some keys of the stock, with their sources."""
    wanted = {f"stock.{key}" for key in keys}
    given = None if rig.stock is None else set(rig.defaults)
    return tuple(a for a in defaults_of(stock_of(rig), "stock", given) if a.path in wanted)


def nesting_rules(rig: Rig) -> NestingRules:
    """Return what a stepped mast of a rig's length must keep to.

    Raises
    ------
    RigInputError
        Where the rules make no mast.
    """
    stock = stock_of(rig)
    return NestingRules(
        length_m=rig.mast.length_m,
        fewest=stock.fewest,
        most=stock.most,
        clearance_m=(stock.least_clearance_m, stock.greatest_clearance_m),
        overlap_m=stock.overlap_m,
        overlap_bores=stock.overlap_bores,
        piece_m=math.inf if stock.max_piece_m is None else stock.max_piece_m,
        joint_step_m=stock.joint_step_m,
    )


def own_tubes(rig: Rig, folder: str | Path | None = None) -> tuple[TubeSize, ...]:
    """Return the tubes that the user lists, in the CSV and in the rig file, of any material.

    Parameters
    ----------
    rig : Rig
        As read from a rig file.
    folder : str or Path, optional
        Where the rig file stands; the working directory when not given.

    Raises
    ------
    RigInputError
        Where the CSV cannot be read, or with every problem in it.
    """
    stock = stock_of(rig)
    listed: tuple[TubeSize, ...] = ()
    if stock.file is not None:
        path = Path(folder or ".") / stock.file
        try:
            if path.exists() and not path.is_file():
                # a pipe or a device may never end
                raise OSError("it is not a file")
            listed = read_tube_list(path)
        except OSError as error:
            problem = Problem(
                "stock.file",
                f'"{stock.file}"',
                f"it cannot be read: {error.strerror or error}",
                "Give its path from the rig file.",
            )
            raise RigInputError([problem]) from None
    return tuple(
        replace(tube, stock_length_m=tube.stock_length_m or stock.tube_length_m)
        for tube in (*listed, *(_size(tube) for tube in stock.tube))
    )


def generic_tubes(rig: Rig) -> tuple[TubeSize, ...]:
    """Return the generic sizes of the series that a rig names, or of every series."""
    stock = stock_of(rig)
    return tuple(
        replace(tube, stock_length_m=stock.tube_length_m)
        for tube in tube_sizes()
        if not stock.series or tube.series in stock.series
    )


def tubes_of(rig: Rig, folder: str | Path | None = None) -> tuple[TubeSize, ...]:
    """Return the tubes a mast may be made of: the user's, and the generic series that are named.

    Where neither is named every generic size counts. Tubes of another metal than the mast's are left out; those
    whose list does not say are taken to be of any.

    Parameters are those of `own_tubes`.

    Raises
    ------
    RigInputError
        Where the CSV cannot be read, or with every problem in it.
    """
    stock, own = stock_of(rig), own_tubes(rig, folder)
    generic = generic_tubes(rig) if stock.series or not own else ()
    return tuple(tube for tube in (*own, *generic) if is_of(tube, rig.mast.material))


def is_of(tube: TubeSize, material: str) -> bool:
    """Whether a tube is of a metal, or may be."""
    return tube.material is None or tube.material.casefold() == material.casefold()


def _size(tube: StockTube) -> TubeSize:
    name = f"{1e3 * tube.diameter_m:.6g} x {1e3 * tube.wall_m:.6g} mm"
    return TubeSize(
        name=tube.name or name,
        series="[[stock.tube]]",
        diameter_m=tube.diameter_m,
        wall_m=tube.wall_m,
        material=tube.material,
        stock_length_m=tube.length_m,
        price_per_m=tube.price,
        provenance="user",
        source="rig file",
    )
