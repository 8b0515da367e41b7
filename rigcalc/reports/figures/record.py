"""What a figure is before it is drawn, and what all figures are drawn from."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from ...formulas import Working
from ...frozen import dataclass
from ...limits import Check
from ...loads import CaseLoad, SetSail, sails_of_state
from ...loads.sailing import is_on_this_mast
from ...rig import SAILING, Rig
from ...verdict import CaseResult, CheckResult, Run, cases_of, evaluate, formulas_have_values
from ...verdict.turns import Turns
from .words import Scale, Shown, scale

if TYPE_CHECKING:
    from matplotlib.figure import Figure


@dataclass(frozen=True)
class Drawn:
    """A figure ready to be drawn.

    Parameters
    ----------
    name : str
        As the command line has it.
    title : str
        Its heading.
    said : str
        What it shows in words and numbers, for whoever cannot see it.
    make : callable
        Draws it anew; this is where matplotlib is loaded.
    """

    name: str
    title: str
    said: str
    make: Callable[[], Figure]

    def __repr__(self) -> str:
        return f"<Drawn {self.name!r}: {self.title}>"

    def _repr_svg_(self) -> str:
        """Return the figure as SVG, for a notebook."""
        from .write import svg_of

        return svg_of(self)

    def save(self, path: Path | str) -> None:
        """Write the figure to a file, as SVG, PNG or PDF by its suffix."""
        from .write import save

        save(self, path)


@dataclass(frozen=True)
class LeftOut:
    """A figure that a rig has no data for, and what is missing."""

    name: str
    why: str


@dataclass(frozen=True)
class Scene:
    """A rig, its result, and the same cases solved again for the shapes that a result does not hold."""

    rig: Rig
    result: CheckResult
    shown: Shown
    folder: str | None = None

    @cached_property
    def run(self) -> Run:
        """The cases of the result, solved."""
        wanted = {case.name for case in self.result.cases}
        cases = [case for case in cases_of(self.rig, None)[0] if case.name in wanted]
        with formulas_have_values():
            return evaluate(self.rig, cases, Working())

    def scale(self, quantity: str) -> Scale:
        """Return how a quantity is shown."""
        return scale(quantity, self.shown)

    def turns(self, i: int) -> Turns:
        """Return a case at all the angles the mast is turned to."""
        return Turns(self.run.model, self.run.solved, i)

    def load(self, i: int) -> CaseLoad:
        return self.run.loads[i]

    def case(self, i: int) -> CaseResult:
        return self.result.cases[i]

    def set_sails(self, i: int, *, here: bool = True) -> tuple[SetSail, ...]:
        """Return the sails of a case that has any set: those on this mast, or all."""
        if self.case(i).kind not in SAILING:
            return ()
        sails = sails_of_state(self.rig, self.load(i).state)
        return tuple(s for s in sails if s.share > 0.0 and (not here or is_on_this_mast(self.rig, s)))

    def worst(self, i: int) -> Check:
        """Return the most used check of a case."""
        own = [check for check in self.result.checks if check.case == self.case(i).name]
        return max(own, key=lambda check: check.utilisation)

    @cached_property
    def governing(self) -> int:
        """The case that uses the mast most."""
        return max(range(len(self.result.cases)), key=lambda i: self.worst(i).utilisation)

    @cached_property
    def standing(self) -> tuple[int, ...]:
        """The cases in which the mast stands in its bearings, the most used first."""
        found = [i for i, load in enumerate(self.run.loads) if load.held_at_m is None]
        return tuple(sorted(found, key=lambda i: -self.worst(i).utilisation))

    @property
    def bearings(self) -> tuple[str, str]:
        """What the upper and the lower bearing are called."""
        return (
            ("top of the post", "foot of the post")
            if self.rig.mast.post is not None
            else ("partners", "step")
        )

    def of_case(self, i: int) -> str:
        """Name a case, as the line under a heading does."""
        what = "governing case" if i == self.governing and len(self.result.cases) > 1 else "case"
        return f"{self.result.title}. {what.capitalize()}: {self.case(i).name}"
