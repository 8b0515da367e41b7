"""Rules for the post that a mast turns on."""

from __future__ import annotations

from collections.abc import Iterator

from ...errors import Problem
from ..loose import Loose
from .say import mm


def post_rules(mast: Loose) -> Iterator[Problem]:
    """Yield what is wrong with the post, its material apart."""
    if not mast.has("support", "post", "shape") or mast.support != "post":
        return
    post = mast.post
    if post is None:
        yield Problem(
            "mast.post",
            "",
            'it is missing: support = "post" needs the post\'s own sizes',
            'Add a table [mast.post] with its diameter, or give support = "through-deck".',
        )
        return
    if not post.has("diameter_m", "top_diameter_m", "wall_m"):
        return
    top = post.diameter_m if post.top_diameter_m is None else post.top_diameter_m
    if top > post.diameter_m:
        yield Problem(
            "mast.post.top_diameter",
            mm(top),
            f"it is above that of the foot, {mm(post.diameter_m)}, and the mast slips over the post",
            "Are the two swapped?",
        )
    elif post.wall_m is not None and post.wall_m >= top / 2:
        yield Problem(
            "mast.post.wall",
            mm(post.wall_m),
            f"it fills the diameter of {mm(top)}",
            "A wall is less than half the diameter; a solid post has none.",
        )
    if mast.shape != "round" and mast.shape != "staves":
        yield Problem(
            "mast.support",
            '"post"',
            f'a mast of shape = "{mast.shape}" has no round bore to turn on a post',
            'Give support = "through-deck", or a round mast.',
        )


def post_fit_rules(mast: Loose, bores_m: list[tuple[float, float]]) -> Iterator[Problem]:
    """Yield where the post does not go into the mast.

    Parameters
    ----------
    mast : Loose
        The mast, its sizes in order.
    bores_m : list of (float, float)
        (height, bore) from the heel to the top of the post.
    """
    post = mast.get("post")
    if post is None or not post.has("diameter_m", "top_diameter_m"):
        return
    top = post.diameter_m if post.top_diameter_m is None else post.top_diameter_m
    for height, bore in bores_m:
        size = post.diameter_m + (top - post.diameter_m) * height / mast.bury_m
        if size >= bore:
            yield Problem(
                "mast.post.diameter",
                mm(size),
                f"at z = {height:.3g} m it does not go into the mast, bored to {mm(bore)}",
                "Make the post slimmer, or the mast wider.",
            )
            return
