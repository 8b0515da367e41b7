"""Rows of upright labels along a view: heights above it, sizes below, each led to its own place."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from ...frozen import dataclass
from .axis import spread
from .scene import LEAST_TEXT_MM, Align, Circle, Item, Layer, Line, Text

APART: Final = 4.0
"""Least distance between upright labels."""
_STEM: Final = 1.5
_JOG: Final = 4.0


class NoRoomError(Exception):
    """The sheet is too small for what must stand on it; the text says for what."""


@dataclass(frozen=True)
class Label:
    """A text and the point it belongs to.

    Parameters
    ----------
    x, y : float
        Where its leader begins.
    text : str
        What it says.
    dot : bool
        Whether the leader begins in a dot, inside a part, and not clear of an outline.
    """

    x: float
    y: float
    text: str
    dot: bool = False


def label_row(
    labels: Sequence[Label],
    layer: Layer,
    *,
    y: float,
    up: bool,
    low: float,
    high: float,
    height: float = LEAST_TEXT_MM,
    upright: bool = True,
) -> list[Item]:
    """Return labels in a row with their leaders.

    Parameters
    ----------
    labels : sequence of Label
        In any order.
    layer : Layer
        Of texts and leaders.
    y : float
        Where all leaders run straight up or down no longer.
    up : bool
        Whether the row stands above `y`.
    low, high : float
        Ends of the room from left to right.
    height : float
        Of the texts.
    upright : bool
        Whether they are turned to be read from the right; letters alone need not be.

    Raises
    ------
    NoRoomError
        If they do not all stand beside one another.
    """
    ordered = sorted(labels, key=lambda label: label.x)
    apart = APART + height - LEAST_TEXT_MM
    half = apart / 2
    places = spread([label.x for label in ordered], apart=apart, low=low + half, high=high - half)
    if places is None:
        room = int((high - low) // apart)
        raise NoRoomError(f"{len(ordered)} labels stand along the mast, and there is room for {room}")
    sign = 1.0 if up else -1.0
    items: list[Item] = []
    for label, place in zip(ordered, places, strict=True):
        turn, end = y + sign * _JOG, y + sign * (_JOG + _STEM)
        items += [
            Line(layer, (label.x, label.y), (label.x, y)),
            Line(layer, (label.x, y), (place, turn)),
            Line(layer, (place, turn), (place, end)),
            _text(layer, place, end + sign, label.text, height, up, upright),
        ]
        if label.dot:
            items.append(Circle(layer, (label.x, label.y), 0.4))
    return items


def _text(layer: Layer, x: float, y: float, text: str, height: float, up: bool, upright: bool) -> Text:
    if not upright:
        return Text(layer, (x, y if up else y - height), text, height, "centre")
    align: Align = "left" if up else "right"
    return Text(layer, (x + 0.4 * height, y), text, height, align, upright=True)
