"""The timber a rig names: a species, a strength class, or the user's own, as its [timber] table has it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Final

from ...formulas import Value
from ...formulas.timber import solid_form_factor
from ...rig.timber import CLASS_KEYS, CLEAR_WOOD_KEYS, TimberUse
from ..metals import MaterialError
from ..near import did_you_mean, nearest
from ..timber_tables import (
    ClearWood,
    find_clear_wood,
    find_strength_class,
    species_names,
    strength_class_names,
)
from .record import Factor, Section, Size, Timber, Use, from_formula
from .rows import TimberRow, timber_of_row

Own = Callable[[str], TimberRow | None]
"""Finds a timber of the user's own by name."""

_TABLE_MARGIN: Final = TimberUse.safety_factor


def no_own(name: str) -> TimberRow | None:
    """Return nothing: the user has no timber of his own."""
    return None


def timber_names() -> tuple[str, ...]:
    """Return the names of all species and classes, in the order of their tables."""
    return (*species_names(), *strength_class_names())


def find_timber(name: str, own: Own = no_own) -> TimberRow:
    """Return the row of a timber: the user's own come before species, and those before classes.

    Raises
    ------
    MaterialError
        If there is none of that name.
    """
    found = own(name)
    if found is not None:
        return found
    if name in species_names():
        return find_clear_wood(name)
    if name in strength_class_names():
        return find_strength_class(name)
    remedy = did_you_mean(nearest(name, timber_names()), "`rigcalc materials` lists what there is.")
    raise MaterialError(name, "there is no timber of this name", remedy)


def keys_not_read(rows: Iterable[TimberRow]) -> dict[str, str]:
    """Return key of [timber] -> what would read it, for the keys that none of some timbers reads."""
    found = list(rows)
    unread: dict[str, str] = {}
    if not any(isinstance(row, ClearWood) for row in found):
        unread |= dict.fromkeys(CLEAR_WOOD_KEYS, "species by their clear wood")
    if all(isinstance(row, ClearWood) for row in found):
        unread |= dict.fromkeys(CLASS_KEYS, "strength classes of EN 338")
    return unread


def timber_of_rig(
    name: str,
    use: TimberUse,
    *,
    shape: str,
    solid: bool,
    depth_m: Value,
    length_m: float,
    bury_m: float,
    own: Own = no_own,
) -> Timber:
    """Return what a timber may bear in a rig.

    Parameters
    ----------
    name : str
        Of a species, a class or the user's own.
    use : TimberUse
        The rig's [timber] table.
    shape : {"round", "turned", "polygon", "box", "ellipse"}
        Of the outside of the piece.
    solid : bool
        Whether it has no bore. Of a hollow piece ``filled`` is what it bears where the bore is filled.
    depth_m : float or ndarray
        Its largest size across; of many masts laid end to end, by element.
    length_m, bury_m : float
        Of the mast: the length under bending stress, and that under the greatest shear.
    own : callable, optional
        Finds the user's own.

    Raises
    ------
    MaterialError
        With all that is wrong at once.
    """
    row = find_timber(name, own)

    def made(section: Section) -> Timber:
        size = Size(section=section, depth_m=depth_m, span_m=length_m, shear_length_m=bury_m)
        return timber_of_row(row, size, _use(row, use, section, shape))

    bar = made("rectangle" if shape == "box" else "solid round")
    return bar if solid else replace(made("hollow round"), filled=bar)


def _use(row: TimberRow, use: TimberUse, section: Section, shape: str) -> Use:
    # the default is the tables' own margin: their source stands in the chain then
    margin = None if use.safety_factor == _TABLE_MARGIN else use.safety_factor
    scarf = use.scarf_slope or None
    if not isinstance(row, ClearWood):
        return Use(
            moisture=None,
            service_class=use.service_class,
            load_duration=use.duration_class,
            slope_of_grain=None,
            scarf_slope=scarf,
            safety_factor=margin,
        )
    credited = use.round_form_factor != "none" and section == "solid round" and shape in ("round", "turned")
    return Use(
        moisture=use.moisture,
        service_class=None,
        load_duration=use.load_duration_s,
        slope_of_grain=use.slope_of_grain,
        temperature_degC=use.temperature_degC,
        scarf_slope=scarf,
        safety_factor=margin,
        factors=(_round_form(),) if credited else (),
        hollow_form_factor=use.hollow_form_factor if section == "hollow round" else None,
    )


def _round_form() -> Factor:
    """Return what a solid round bears in bending beyond a rectangle."""
    value = float(solid_form_factor(A=math.pi / 4, S=math.pi / 32))
    return replace(from_formula("solid round section", value, solid_form_factor), on=("bending",))
