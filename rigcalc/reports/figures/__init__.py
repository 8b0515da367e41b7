"""Figures of a rig and its result: each with its numbers in words, as SVG to stand in a page, or as a file.

Nothing here loads matplotlib before a figure is drawn.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from ...frozen import dataclass
from ...rig import Rig
from ...verdict import CheckResult, check
from . import along, bent, boat, compass, reefing, roll, section, stability, utilisation
from .bars import Parameter, Series, comparison_bars, curve_or_map, ranking_bars
from .record import Drawn, LeftOut, Scene
from .style import CAUTION, look
from .words import Shown
from .write import FORMATS, save, save_pages, svg_of

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = [
    "CAUTION",
    "FORMATS",
    "KINDS",
    "SEARCHED",
    "Drawn",
    "Kind",
    "LeftOut",
    "Parameter",
    "Series",
    "comparison_bars",
    "curve_or_map",
    "figures_of",
    "left_out",
    "plot",
    "ranking_bars",
    "save",
    "save_pages",
    "svg_of",
]


def _nothing(scene: Scene) -> str | None:
    del scene
    return None


@dataclass(frozen=True)
class Kind:
    """A figure that can be asked for.

    Parameters
    ----------
    name : str
        As the command line has it.
    shows : str
        What it shows.
    drawn : callable
        Makes it of a scene.
    missing : callable
        Tells what a scene lacks for it, or nothing.
    """

    name: str
    shows: str
    drawn: Callable[[Scene], Drawn]
    missing: Callable[[Scene], str | None] = _nothing


KINDS: Final = (
    Kind(
        "boat",
        "boat, sails and the forces on the mast, from the side and from astern",
        boat.boat,
        boat.missing,
    ),
    Kind("along", "load, shear, moment, slope, deflection and use along the mast", along.along),
    Kind("bent", "the bent mast at true scale, case by case", bent.bent),
    Kind("stability", "righting and heeling moment by heel", stability.stability, stability.missing),
    Kind("compass", "force on the partners around the compass, both tacks", compass.compass, compass.missing),
    Kind("section", "the section and its layers, to scale", section.section),
    Kind("reefing", "wind at which each state of the sails has had enough", reefing.reefing, reefing.missing),
    Kind("roll", "thickness and turns of the sail rolled on the mast", roll.roll, roll.missing),
    Kind("utilisation", "how far each kind of check is used", utilisation.utilisation),
)


def _comparison(scene: Scene) -> Drawn:
    from ...design.compare import compare
    from ..compare import compare_figure

    return compare_figure(compare(scene.rig, folder=scene.folder), us=scene.shown == "us")


def _doubt(scene: Scene) -> Drawn:
    from ...design.doubt import doubt
    from ..doubt import doubt_figure

    return doubt_figure(doubt(scene.rig))


SEARCHED: Final = (
    Kind("comparison", "masts of several materials side by side, as `compare` sizes them", _comparison),
    Kind("doubt", "which input the verdict hangs on most, as `doubt` tells it", _doubt),
)
"""Figures that take some seconds, since masts are searched or tried for them: drawn only where they are named."""


def figures_of(
    rig: Rig,
    result: CheckResult,
    *,
    shown: Shown = "metric",
    names: Sequence[str] | None = None,
    folder: str | None = None,
) -> tuple[Drawn, ...]:
    """Return the figures that a rig has data for, ready to be drawn.

    Parameters
    ----------
    rig : Rig
        As it was checked.
    result : CheckResult
        What ``check`` said of it, in all its cases or in some.
    shown : {"metric", "us"}
        Units of axes and words.
    names : sequence of str, optional
        The figures wanted, in this order; all of `KINDS` when not given. One there are no data for is left out.
    folder : str, optional
        Where the rig file stands, for ``stock.file``; the working directory when not given.

    Returns
    -------
    tuple of Drawn

    Raises
    ------
    KeyError
        If there is no figure of a name.
    """
    scene = Scene(rig, result, shown, folder)
    return tuple(_in_look(kind.drawn(scene)) for kind in _wanted(names) if kind.missing(scene) is None)


def plot(rig: Rig, *, what: str, case: str | None = None, shown_in: Shown = "metric") -> Drawn:
    """Return one figure of a rig, worked out; a notebook shows it, and its ``save`` writes it to a file.

    Parameters
    ----------
    rig : Rig
        As read from a rig file.
    what : str
        Name of the figure, as ``rigcalc plot FILE --what list`` names them.
    case : str, optional
        Name of the only case to run.
    shown_in : {"metric", "us"}
        Units of axes and words.

    Returns
    -------
    Drawn
        With its title, and its numbers in words.

    Raises
    ------
    NoSuchCaseError
        If there is no case of that name.
    RigInputError
        If the rig asks a formula for a value it does not have.
    ValueError
        If there is no such figure, or the rig lacks what it shows.

    Notes
    -----
    It draws the result of `check`; nothing is worked out by a rule of its own.

    Examples
    --------
    >>> from rigcalc import plot, read_rig, starter_text
    >>> figure = plot(read_rig(starter_text()), what="bent")
    >>> figure.title
    'The bent mast, at true scale'
    """
    known = [kind.name for kind in (*KINDS, *SEARCHED)]
    if what not in known:
        raise ValueError(f"there is no figure {what!r}; there are {', '.join(known)}")
    result = check(rig, case=case)
    for left in left_out(rig, result, names=[what]):
        raise ValueError(f"the rig has no figure {left.name!r}: {left.why}")
    (drawn,) = figures_of(rig, result, shown=shown_in, names=[what])
    return drawn


def left_out(rig: Rig, result: CheckResult, *, names: Sequence[str] | None = None) -> tuple[LeftOut, ...]:
    """Return the figures that a rig has no data for, with what is missing; of those named, or of all."""
    scene = Scene(rig, result, "metric")
    found = ((kind.name, kind.missing(scene)) for kind in _wanted(names))
    return tuple(LeftOut(name, why) for name, why in found if why is not None)


def _wanted(names: Sequence[str] | None) -> tuple[Kind, ...]:
    if names is None:
        return KINDS
    by_name = {kind.name: kind for kind in (*KINDS, *SEARCHED)}
    return tuple(by_name[name] for name in names)


def _in_look(drawn: Drawn) -> Drawn:
    """Return the same figure, drawn in the project's look by whoever makes it."""

    def make() -> Figure:
        with look(drawn.name):
            return drawn.make()

    return replace(drawn, make=make)
