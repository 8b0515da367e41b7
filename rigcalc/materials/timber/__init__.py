"""What a piece of timber may bear: every allowable value with the chain of factors that leads to it.

Two bases, never mixed: averages of clear wood by species, brought down to what a spar may bear, and the
graded strength classes of EN 338 by the rules of EN 1995-1-1.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from ..metals import MaterialError
from ..timber_tables import (
    Average,
    ClearWood,
    StrengthClass,
    TableFactor,
    clear_woods,
    factor_rows,
    find_clear_wood,
    find_strength_class,
    strength_classes,
    timber_factors,
)
from .choose import Own, find_timber, keys_not_read, no_own, timber_names, timber_of_rig
from .clear import SPAR_SLOPE
from .graded import DURATIONS
from .record import (
    ROOM_DEGC,
    STIFFNESSES,
    STRENGTHS,
    Basis,
    Chain,
    Factor,
    Property,
    Section,
    Size,
    Timber,
    Use,
    scarf_efficiency,
)
from .rows import TimberRow, basis_of, timber_of_row

__all__ = [
    "DURATIONS",
    "SPAR_SLOPE",
    "STIFFNESSES",
    "STRENGTHS",
    "Average",
    "Basis",
    "Chain",
    "ClearWood",
    "Factor",
    "Own",
    "Property",
    "Section",
    "Size",
    "StrengthClass",
    "TableFactor",
    "Timber",
    "TimberRow",
    "basis_of",
    "clear_woods",
    "design_timber",
    "factor_rows",
    "find_clear_wood",
    "find_strength_class",
    "find_timber",
    "keys_not_read",
    "no_own",
    "scarf_efficiency",
    "strength_classes",
    "timber_factors",
    "timber_names",
    "timber_of_rig",
    "timber_of_row",
]


def design_timber(
    name: str,
    *,
    basis: Basis,
    size: Size,
    moisture: float | None = None,
    service_class: int | None = None,
    load_duration: float | str | None = None,
    slope_of_grain: float | None = None,
    temperature_degC: float = ROOM_DEGC,
    scarf_slope: float | None = None,
    safety_factor: float | None = None,
    factors: Iterable[Factor] = (),
) -> Timber:
    """Return what a timber may bear in one use.

    Parameters
    ----------
    name : str
        A species for "clear-wood", a class for "EN 338".
    basis : {"clear-wood", "EN 338"}
        Where the strengths start; each refuses what belongs to the other.
    size : Size
        Shape and size of the piece.
    moisture : float, optional
        Fraction of the oven-dry mass, 0.08 to 0.30; clear wood only, and needed there.
    service_class : {1, 2, 3}, optional
        Of EN 1995-1-1; EN 338 only, and needed there. Outdoors and not sealed is 3.
    load_duration : float or str
        On clear wood the seconds that the load acts in all; on EN 338 "permanent", "long-term",
        "medium-term", "short-term" or "instantaneous".
    slope_of_grain : float, optional
        Rise over run, 0 to 1/8; clear wood only, and needed there. Grading has it already.
    temperature_degC : float
        Of the wood while loaded. Cold is given no credit.
    scarf_slope : float, optional
        Rise over run of glued scarfs, up to 1/5; no scarf when not given.
    safety_factor : float, optional
        In place of 1.3: on clear wood the margin beyond the lower 5 % and the load duration, on EN 338
        the partial factor gamma_M.
    factors : iterable of Factor
        More of the user's own, taken last.

    Returns
    -------
    Timber
        Every value the data give, with its chain.

    Raises
    ------
    MaterialError
        With all that is wrong at once; or if the data give no bending strength or no modulus here.
    """
    use = Use(
        moisture=moisture,
        service_class=service_class,
        load_duration=load_duration,
        slope_of_grain=slope_of_grain,
        temperature_degC=temperature_degC,
        scarf_slope=scarf_slope,
        safety_factor=safety_factor,
        factors=tuple(factors),
    )
    if basis == "clear-wood":
        row: TimberRow = find_clear_wood(name)
    elif basis == "EN 338":
        row = find_strength_class(name)
    else:
        raise MaterialError(name, f"the basis {basis!r} is not known", "Take 'clear-wood' or 'EN 338'.")
    timber = timber_of_row(row, size, use)
    if size.section == "hollow round":
        thin = "hollow section: buckling of a thin wall is not in these values"
        return replace(timber, cautions=(*timber.cautions, thin))
    return timber
