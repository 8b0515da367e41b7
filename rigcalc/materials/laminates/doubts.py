"""What a builder must be warned of in a lay-up."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from ..metals import MaterialError
from .knockdown import Factor
from .lay import BALANCED, LayUp
from .walls import off_axis_share

ALONG_RAD: Final = math.radians(20.0)
"""Fibres up to this angle from the length of the mast count as along it: judgement."""
LEAST_OFF_AXIS: Final = 0.2
"""Share of fibres off the axis below which a wall is thought to split: from memory."""
FAR_FRACTION: Final = 0.1
"""Difference of fibre fraction from which strengths taken over from another ply are doubted: judgement."""


def doubts(lay_up: LayUp, start_m: float, end_m: float, *, wall: bool = True) -> Iterator[str]:
    """Yield what is doubtful of a lay-up between two heights.

    Parameters
    ----------
    lay_up : LayUp
        With a ply everywhere between them.
    start_m, end_m : float
        Heights z.
    wall : bool
        Whether it is a wall by itself, not a sheath bonded to something.
    """
    if wall:
        yield from _off_axis(lay_up, start_m, end_m)
    coupling, at = lay_up.coupling(start_m, end_m)
    if coupling > BALANCED:
        yield (
            f"{lay_up.name}: unbalanced at z = {at:.2f} m, where it shears by {coupling:.3f} of its strain along the "
            "mast: the mast twists a little under thrust. Lay as much of every ply at minus its angle."
        )
    memory = dict.fromkeys(lot.ply.name for lot in lay_up.lots if lot.ply.provenance == "memory")
    if memory:
        yield f"{lay_up.name}: of {' and '.join(memory)} something is from memory: check it before you build."
    for name, tested in dict.fromkeys(_taken_over(lay_up)):
        yield (
            f"{lay_up.name}: {name} is estimated, with the strengths of {tested}: weigh and measure what was laid, and "
            "have a piece of it tested."
        )
    yield (
        f"{lay_up.name}: strengths of plies are typical, not least values; {what_is_left(lay_up)}, and a factor of "
        f"{lay_up.safety_factor:g} stands on the first ply to fail."
    )


def _taken_over(lay_up: LayUp) -> Iterator[tuple[str, str]]:
    for lot in lay_up.lots:
        if lot.strengths_from is not None:
            more = lot.strengths_from.fibre_fraction - lot.ply.fibre_fraction
            far = f", which has {abs(more):.2f} {'more' if more > 0 else 'less'} of fibre in it"
            yield lot.ply.name, lot.strengths_from.name + (far if abs(more) > FAR_FRACTION else "")


def _off_axis(lay_up: LayUp, start_m: float, end_m: float) -> Iterator[str]:
    for low, high in lay_up.stretches_m(start_m, end_m):
        share = off_axis(lay_up, (low + high) / 2)
        if share is None:
            yield f"{lay_up.name}: how the fibres of a ply lie is not known, nor then the share of them off the axis."
            return
        if share < LEAST_OFF_AXIS:
            yield (
                f"{lay_up.name}: from z = {low:.2f} to {high:.2f} m only {share:.0%} of the wall runs off the axis, "
                f"more than {math.degrees(ALONG_RAD):.0f} deg from it; spars keep {LEAST_OFF_AXIS:.0%} to 40 % against "
                "splitting and flattening (common practice, from memory)."
            )


def off_axis(lay_up: LayUp, height_m: float) -> float | None:
    """Return the share of a wall whose fibres do not run along the mast; None where that is not known."""
    laid = lay_up.at([height_m])
    try:
        return float(off_axis_share(laid.walls.stack, within_rad=ALONG_RAD)[0])
    except MaterialError:
        return None


def what_is_left(lay_up: LayUp) -> str:
    """Say in words what water, time and repetition leave of strength."""
    k = lay_up.knockdown
    named = (("water", k.wet), ("a standing load", k.creep), ("repetition", k.fatigue))
    taken = [
        f"{what} leaves {factor.value:.2f} of {_of_what(factor)}"
        for what, factor in named
        if factor.value < 1.0
    ]
    return ", ".join(taken) or "nothing is taken off for water, time or repetition"


def _of_what(factor: Factor) -> str:
    return "all strengths" if "Xt_Pa" in factor.strengths else "the strengths that the resin governs"
