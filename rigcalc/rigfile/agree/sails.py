"""Rules for sails and their states."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from ...errors import Problem
from ...loads import ALL_SAIL, OWN_ALONE, corners_of, describes_simple_polygon, is_whole_panels, strips_of
from ..loose import Loose
from .say import HAIR, name_known, unique

LEAST_SHARE = 0.02
RESERVED = (ALL_SAIL, OWN_ALONE)


def sail_rules(sails: Sequence[Loose], mast: Loose | None, boat: Loose | None) -> Iterator[Problem]:
    """Yield what is wrong with the sails."""
    import difflib

    yield from unique(sails, "sail")
    own = None if mast is None else mast.get("name")
    if own is not None and sails and all(s.get("mast", own) not in (None, own) for s in sails):
        # the standard set of cases would pass a mast on which nothing pulls
        yield Problem(
            f"{sails[0].path}.mast",
            f'"{sails[0].mast}"',
            f'no sail stands on the mast of this file, "{own}"',
            "Leave the key out, or give mast.name the same name.",
        )
    for sail in sails:
        other = sail.get("mast")
        if (
            own is not None
            and other not in (None, own)
            and difflib.get_close_matches(other.casefold(), [own.casefold()], cutoff=0.75)
        ):
            yield Problem(
                f"{sail.path}.mast",
                f'"{other}"',
                f'it is almost the name of the mast of this file, "{own}"; a sail on another mast does not load it',
                f'Did you mean "{own}"? If it is another mast, name it more differently.',
            )
        edges = ("luff_m", "foot_m", "tack_height_m")
        if not sail.has("corners", "clew_rise_m", "head_m", "head_angle_rad", "roach", *edges):
            continue
        given = [name.rsplit("_m", 1)[0] for name in edges if getattr(sail, name) is not None]
        if sail.corners is not None:
            also = [
                n
                for n in (*given, "head" if sail.head_m else "", "head_angle" if sail.head_angle_rad else "")
                if n
            ]
            if also:
                yield Problem(
                    sail.path,
                    ", ".join(also),
                    "a sail given by its corners needs nothing else",
                    "Keep one form.",
                )
                continue
        elif len(given) < len(edges):
            missing = ", ".join(n for n in ("luff", "foot", "tack_height") if n not in given)
            yield Problem(sail.path, "", f"{missing} missing", "Give luff, foot and tack_height, or corners.")
            continue
        elif (sail.head_m is None) != (sail.head_angle_rad is None):
            missing = "head" if sail.head_m is None else "head_angle"
            yield Problem(
                f"{sail.path}.{missing}", "", "head and head_angle belong together", f"Add {missing}."
            )
            continue
        elif abs(sail.clew_rise_m) >= sail.foot_m:
            yield Problem(
                f"{sail.path}.clew_rise",
                f"{sail.clew_rise_m:.4g} m",
                f"it is as long as the foot, {sail.foot_m:.4g} m",
                "The foot runs from tack to clew.",
            )
            continue
        yield from _outline(sail, mast, boat)


def _outline(sail: Loose, mast: Loose | None, boat: Loose | None) -> Iterator[Problem]:
    leech = 0.0 if sail.corners is not None else _leech_height(sail)
    if sail.corners is None and leech <= HAIR:
        yield Problem(
            sail.path, "", "the clew stands above the head", "Check clew_rise, luff and head_angle."
        )
        return
    corners = corners_of(sail)  # type: ignore[arg-type]  # the fields of a Sail, read but not yet built
    if not describes_simple_polygon(corners):
        yield Problem(
            sail.path, "", "its edges cross, or it has no area", "Give the corners in order round the sail."
        )
        return
    low, high = corners[:, 1].min(), corners[:, 1].max()
    yield from _fittings(sail, low, high)
    middle = strips_of(corners).centroid_m
    if boat is not None and boat.has("waterline_m") and middle <= boat.waterline_m:
        yield Problem(
            sail.path,
            f"centred at {middle:.4g} m",
            f"it hangs below the waterline, {boat.waterline_m:.4g} m",
            "Heights are z from the heel: check the sail and boat.waterline.",
        )
    if mast is not None and mast.has("length_m", "bury_m", "name") and sail.get("mast") in (None, mast.name):
        if high > mast.length_m * (1 + HAIR):
            yield Problem(
                sail.path,
                f"top at {high:.4g} m",
                f"it reaches above the tip of the mast, {mast.length_m:.4g} m",
                "Lower the sail, or lengthen the mast.",
            )
        if low < mast.bury_m - HAIR:
            yield Problem(
                sail.path,
                f"foot at {low:.4g} m",
                f"it reaches below the partners, {mast.bury_m:.4g} m",
                "Heights are z from the heel: is the bury left out?",
            )


def _fittings(sail: Loose, low: float, high: float) -> Iterator[Problem]:
    """Parrels and the boom must meet the mast about the sail."""
    for i, z in enumerate(sail.get("parrel_heights_m", ())):
        if not low - HAIR <= z <= high + HAIR:
            yield Problem(
                f"{sail.path}.parrel_heights[{i}]",
                f"{z:.4g} m",
                f"it is not on the luff, {low:.4g} m to {high:.4g} m",
                "Heights are z from the heel.",
            )
    spar = sail.get("spar_height_m")
    if spar is not None and not low - 1.0 <= spar <= high:
        yield Problem(
            f"{sail.path}.spar_height",
            f"{spar:.4g} m",
            f"a boom or wishbone meets the mast below the head, {high:.4g} m",
            "Heights are z from the heel.",
        )


def is_drawable(sail: Loose) -> bool:
    """Whether a sail could be read well enough to be drawn."""
    edges = ("luff_m", "foot_m", "tack_height_m")
    if not sail.has("corners", "clew_rise_m", "head_m", "head_angle_rad", "roach", *edges):
        return False
    if sail.corners is not None:
        return describes_simple_polygon(corners_of(sail))  # type: ignore[arg-type]  # read but not yet built
    whole = all(getattr(sail, name) is not None for name in edges)
    return (
        whole
        and (sail.head_m is None) == (sail.head_angle_rad is None)
        and abs(sail.clew_rise_m) < sail.foot_m
        and _leech_height(sail) > 0.0
    )


def _leech_height(sail: Loose) -> float:
    rise = sail.head_m * np.sin(sail.head_angle_rad) if sail.head_m is not None else 0.0
    return float(sail.luff_m + rise - sail.clew_rise_m)


def state_rules(states: Sequence[Loose], sails: Sequence[Loose]) -> Iterator[Problem]:
    """Yield what is wrong with the states of the sails."""
    yield from unique(states, "state")
    names = [s.name for s in sails if s.has("name")]
    for state in states:
        if not state.has("set"):
            continue
        if state.get("name") in RESERVED:
            yield Problem(
                f"{state.path}.name",
                f'"{state.name}"',
                "the tool uses this name itself",
                "Choose another name.",
            )
        for name, share in state.set:
            yield from name_known(f"{state.path}.set.{name}", name, names, "sail")
            here = f"{state.path}.set.{name}"
            if 0.0 < share < LEAST_SHARE:
                allowed = f"less than {LEAST_SHARE:.0%} of a sail is no sail"
                yield Problem(here, f"{share:g}", allowed, "Write 0 when it is down.")
            sail = next((s for s in sails if s.get("name") == name and s.has("panels")), None)
            if sail is not None and 0.0 < share < 1.0 and not is_whole_panels(sail, share):  # type: ignore[arg-type]  # not yet built
                allowed = f"panels are let down whole, and there are {sail.panels}"
                left = min(max(round(share * sail.panels), 1), sail.panels - 1)
                yield Problem(
                    here,
                    f"{share:g}",
                    allowed,
                    f"Write {left / sail.panels:.3f}, for {left} of them set; 0 for none, 1 for all.",
                )
        if not any(share > 0.0 for _, share in state.set):
            yield Problem(f"{state.path}.set", "", "it sets no sail", 'Use a case of kind "bare" instead.')
