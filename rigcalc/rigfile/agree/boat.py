"""Rules for the hull."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ...errors import Problem
from ..loose import Loose
from .say import HAIR


def boat_rules(boat: Loose, mast: Loose | None) -> Iterator[Problem]:
    """Yield what is wrong with the hull."""
    tip = None if mast is None else mast.get("length_m")
    if tip is not None and boat.has("waterline_m") and boat.waterline_m >= tip:
        yield Problem(
            "boat.waterline",
            f"{boat.waterline_m:.4g} m",
            f"it must lie below the tip of the mast, {tip:.4g} m",
            "Heights are z above the heel of the mast, up positive.",
        )
    if boat.has("waterline_m", "lateral_centre_m") and boat.lateral_centre_m >= boat.waterline_m:
        yield Problem(
            "boat.lateral_centre",
            f"{boat.lateral_centre_m:.4g} m",
            f"it must lie below the waterline, which stands at {boat.waterline_m:.4g} m",
            "Heights are z above the heel of the mast, up positive: check both signs.",
        )
    if (
        boat.has("waterline_m", "centre_of_gravity_m", "ballast_height_m")
        and boat.ballast_height_m is not None
    ):
        own = boat.waterline_m if boat.centre_of_gravity_m is None else boat.centre_of_gravity_m
        if boat.ballast_height_m >= own:
            yield Problem(
                "boat.ballast_height",
                f"{boat.ballast_height_m:.4g} m",
                f"ballast lies below the centre of gravity, {own:.4g} m",
                "Heights are z above the heel of the mast, up positive.",
            )
    if boat.has("stability"):
        yield from _stability(boat.stability)


def _stability(s: Loose) -> Iterator[Problem]:
    here = "boat.stability"
    if not s.has("righting_arm", "gm_m", "bm_m", "moment_30_N_m", "moment_max_N_m"):
        return
    by_gm = s.gm_m is not None or s.bm_m is not None
    by_moment = s.moment_30_N_m is not None or s.moment_max_N_m is not None
    given = [
        name
        for name, there in (
            ("righting_arm", s.righting_arm is not None),
            ("gm and bm", by_gm),
            ("moments", by_moment),
        )
        if there
    ]
    if len(given) != 1:
        yield Problem(
            here,
            " and ".join(given),
            "exactly one form is wanted: righting_arm, or gm with bm, or moment_30 and moment_max",
            "Keep the one you trust most; a table of righting arms is best." if given else "Add one of them.",
        )
    if by_gm and (s.gm_m is None or s.bm_m is None):
        missing = "gm" if s.gm_m is None else "bm"
        yield Problem(f"{here}.{missing}", "", "gm and bm belong together", f'Add {missing} = "... m".')
    if s.moment_30_N_m is not None and s.moment_max_N_m is not None and s.moment_max_N_m < s.moment_30_N_m:
        yield Problem(
            f"{here}.moment_max",
            f"{s.moment_max_N_m:.4g} N m",
            f"it is less than moment_30, {s.moment_30_N_m:.4g} N m",
            "The largest righting moment is at least that at 30 deg.",
        )
    if s.righting_arm is not None:
        yield from _righting_arm(s.righting_arm, f"{here}.righting_arm")


def _righting_arm(curve: tuple[tuple[float, float], ...], here: str) -> Iterator[Problem]:
    heels, arms = zip(*curve, strict=True)
    if heels[0] != 0.0 or abs(arms[0]) > 1e-3:
        yield Problem(
            f"{here}[0]",
            f"{np.degrees(heels[0]):.4g} deg, {arms[0]:.4g} m",
            "the table starts upright",
            'Begin with ["0 deg", "0 m"].',
        )
    if heels[-1] > np.pi + HAIR:
        yield Problem(
            f"{here}[{len(curve) - 1}]",
            f"{np.degrees(heels[-1]):.4g} deg",
            "heel ends at 180 deg",
            "Is it in degrees?",
        )
    if max(arms) <= 0.0:
        yield Problem(
            here,
            f"at most {max(arms):.4g} m",
            "a boat that never rights cannot hold a mast up",
            "Check the signs.",
        )
