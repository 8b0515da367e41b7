"""What a check means, in a builder's words, and the ways to cure it: one text for the result and for `explain`."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

from ..formulas import record_of
from ..frozen import dataclass

_ONLY_THERE = re.compile(r"<([^>|]*)(?:\|([^>]*))?>")
NUMBER = " N"
"""Ends the name of a check of which there may be many: ``opening N`` stands for ``opening 1`` and all after it."""


@dataclass(frozen=True)
class Cure:
    """One way to make a check pass.

    Parameters
    ----------
    text : str
        What to change and in which direction; what stands in ``<...>`` is said only of a place, and holds its
        numbers as fields of `str.format`; in ``<...|...>`` the second is said where there is no place.
    costs : str
        What it costs.
    """

    text: str
    costs: str

    @property
    def general(self) -> str:
        """The cure without the numbers of any place."""
        return _ONLY_THERE.sub(lambda found: found[2] or "", self.text)

    def said(self, **numbers: object) -> str:
        """Return the cure with the numbers of a place."""
        return _ONLY_THERE.sub(r"\1", self.text).format(**numbers)


@dataclass(frozen=True)
class About:
    """What stands behind every check of one name.

    Parameters
    ----------
    names : tuple of str
        Names it goes by; one that ends in `` N`` stands for all numbers.
    of : str
        What it is a check of: a material, or a part of the rig.
    means : str
        What it tells a builder; the first sentence stands alone in a list.
    formulas : tuple of callable
        Those a check of the name may cite.
    leaves_out : str
        What it does not see.
    cures : tuple of Cure
        Ways to make it pass, those used in its advice.
    demand : tuple of callable
        Formulas behind what is asked, or behind what the cited ones are fed, that help to read them.
    """

    names: tuple[str, ...]
    of: str
    means: str
    formulas: tuple[Callable[..., object], ...]
    leaves_out: str
    cures: tuple[Cure, ...]
    demand: tuple[Callable[..., object], ...] = ()

    @property
    def name(self) -> str:
        """Its name, where it has but one."""
        (name,) = self.names
        return name

    @property
    def line(self) -> str:
        """What it means in one sentence."""
        return self.means.split(". ")[0].rstrip(".") + "."

    def covers(self, name: str) -> bool:
        """Whether a check of this name is one of these."""
        return any(_pattern(own).fullmatch(name) for own in self.names)

    def named(self, name: str) -> About:
        """Return the same of one of its names alone."""
        if not self.covers(name):
            raise ValueError(f"{name!r} is none of {self.names}")
        return replace(self, names=(name,))

    def numbered(self, number: int) -> About:
        """Return the same of one of many."""
        return self.named(self.name.removesuffix(NUMBER) + f" {number}")

    def cites(self, formula: Callable[..., object]) -> bool:
        """Whether a check of the name may cite a formula."""
        return record_of(formula) in map(record_of, self.formulas)


def _pattern(name: str) -> re.Pattern[str]:
    if name.endswith(NUMBER):
        return re.compile(re.escape(name.removesuffix(NUMBER)) + r" \d+")
    return re.compile(re.escape(name))


METAL, LAMINATE, TIMBER, FOAM = "metal", "laminate", "timber", "foam"
WHOLE, JOINTS, BEARINGS, DECK, FURLING = (
    "the mast as a whole",
    "joints of tubes",
    "bearings",
    "the deck at the partners",
    "furling",
)
GROUPS = (METAL, TIMBER, LAMINATE, FOAM, JOINTS, WHOLE, BEARINGS, DECK, FURLING)

SMALLER_LOAD = Cure(
    "<take {share:.0%} off|lighten> the load", "sail, or the wind it may stand in: set less, or reef sooner"
)
THICKER_WALL = Cure("raise the wall< from {now:.1f} to about {to:.1f} mm>", "weight, in step with the wall")
WIDER = Cure(
    "raise the diameter< from {now:.0f} to about {to:.0f} mm>",
    "windage, and larger bearings; weight in step with the diameter, far less than by the wall",
)
PLUGGED = Cure(
    "fill the bore <there|where it fails> with a glued plug of wood",
    "a plug to make and taper, its weight, and the way for wires up the bore",
)
START_AGAIN = "start again with a much larger section"
