"""From a rig to its report, as one document that every writer reads."""

from __future__ import annotations

from typing import Final

from ...design.compare import Comparison
from ...design.doubt import Doubt
from ...errors import RigInputError
from ...rig import Rig
from ...verdict import Checked, checked
from ...version import __version__
from ..figures import figures_of, left_out
from ..figures.words import Shown
from ..origin import digest_of, origin
from ..worked import worked_from
from .buying import order_section
from .cases import cases_section
from .checks import checks_section
from .echo import echo_section
from .grounds import grounds_section
from .record import Block, Bullets, Document, FigureBlock, Section
from .reefing import reefing_section
from .searched import comparison_section, doubt_section
from .show import Show
from .turning import bearings_section, furling_section
from .verdict import verdict_section
from .workings import workings_section

NO_SAIL: Final = "There is no [[sail]] in the file, so there is nothing to reef."


def document_of(
    rig: Rig,
    *,
    raw: bytes | None = None,
    name: str = "",
    folder: str | None = None,
    case: str | None = None,
    shown: Shown = "metric",
    done: Checked | None = None,
    compared: Comparison | None = None,
    doubted: Doubt | None = None,
) -> Document:
    """Return the report of a rig.

    Parameters
    ----------
    rig : Rig
        As read from a rig file.
    raw : bytes, optional
        That file, for its digest.
    name : str
        Name of that file, without its folder.
    folder : str, optional
        Where it stands, for ``stock.file``; the working directory when not given.
    case : str, optional
        Name of the only case to run.
    shown : {"metric", "us"}
        Units.
    done : Checked, optional
        What came of a check of this rig and case, where it was run already.
    compared : Comparison, optional
        Masts to set beside it.
    doubted : Doubt, optional
        How sure its verdict is.

    Raises
    ------
    NoSuchCaseError
        If there is no case of that name.
    RigInputError
        If the rig asks a formula for a value it does not have.
    """
    done = done or checked(rig, case=case)
    result, show = done.result, Show(shown)
    digest = "not known: the rig was not read from a file" if raw is None else digest_of(raw)
    said = (
        ("rigcalc", f"version {__version__}"),
        ("form of the JSON", f"schema version {result.schema_version}"),
        ("input", name or "a rig that was not read from a file"),
        ("sha256 of the input", digest),
        ("cases", "all" if case is None else f"only '{case}'"),
        ("units", "metric" if shown == "metric" else "US customary"),
    )
    return Document(
        title=result.title,
        passed=result.passed,
        foot=origin(raw),
        sections=(
            verdict_section(result),
            echo_section(rig),
            _figures(rig, done, shown),
            cases_section(result, show),
            checks_section(rig, result, show),
            bearings_section(result, show),
            _reefing(rig, show),
            furling_section(result, show),
            _order(rig, folder, show),
            *(() if compared is None else (comparison_section(compared, show),)),
            *(() if doubted is None else (doubt_section(doubted, show),)),
            workings_section(worked_from(rig, done, case=case)),
            grounds_section(result, done.working.steps, said),
        ),
    )


def _figures(rig: Rig, done: Checked, shown: Shown) -> Section:
    blocks: list[Block] = [FigureBlock(drawn) for drawn in figures_of(rig, done.result, shown=shown)]
    missing = left_out(rig, done.result)
    if missing:
        blocks.append(Bullets(tuple((f"No figure '{left.name}': {left.why}.",) for left in missing)))
    return Section("figures", "Figures", tuple(blocks))


def _reefing(rig: Rig, show: Show) -> Section:
    from ...design import reefing_table

    if not rig.sails:
        return reefing_section(None, NO_SAIL, show)
    try:
        return reefing_section(reefing_table(rig), "", show)
    except RigInputError as error:
        return reefing_section(None, _told(error), show)


def _order(rig: Rig, folder: str | None, show: Show) -> Section:
    from ...design.order import order

    try:
        return order_section(order(rig, folder=folder), "", show)
    except RigInputError as error:
        return order_section(None, _told(error), show)


def _told(error: RigInputError) -> str:
    """Say why a part of the report cannot be given; the verdict stands without it."""
    return f"It cannot be worked out for this file: {' '.join(str(problem) for problem in error.problems)}"
