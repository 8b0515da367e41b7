"""Everything that is drawn, laid out on sheets: what belongs together stays so, and lies where there is room."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from ...errors import Problem, RigInputError
from ...rig import Rig
from ...verdict import CheckResult
from ..origin import origin
from .along import broken_view, full_view
from .axis import Axis
from .blocks import Block, paragraphs
from .cuts import NARROWEST_MM, cut_scale, cut_views, cuts_of
from .details import key, notes, pad_view, part_table, ply_tables, size_table, stave_detail
from .foot import PAPERS, Paper, Stamp
from .labels import NoRoomError
from .profile import Profile, profile_of
from .scene import Box, Drawing, Item, Sheet
from .wording import System, Wording, ratio

_GAP: Final = 6.0
_SHARES: Final = (0.11, 0.07, 0.045)
"""Greatest thickness of the mast in section to the height of the sheet: the first that leaves room for the rest."""
_IN_A_ROW: Final = 4
"""Sections up to which they are drawn as large as one row allows; more make two."""
_MANY: Final = 99
"""Sheets that the number of the sheets is given room for, before it is known."""


def drawing_of(
    rig: Rig,
    result: CheckResult,
    *,
    paper: str = "A3",
    shown_in: System = "metric",
    raw: bytes | None = None,
) -> Drawing:
    """Return the workshop drawing of a mast.

    Parameters
    ----------
    rig : Rig
        As read from a rig file.
    result : CheckResult
        As returned by ``check`` for it.
    paper : str
        One of `PAPERS`.
    shown_in : {"metric", "us"}
        Millimetres, or inches.
    raw : bytes, optional
        The rig file, for its digest in the title block.

    Raises
    ------
    RigInputError
        If the mast does not fit the paper.
    """
    sheet = PAPERS[paper]
    profile, wording = profile_of(rig), Wording(shown_in)
    for share in _SHARES:
        try:
            groups, scales = _groups(profile, result, wording, sheet, share * sheet.height)
            stamp = Stamp(profile, result, wording, sheet, tuple(scales), origin(raw, of="sha256"))
            pages = _laid_out(groups, sheet, stamp)
            break
        except NoRoomError as error:
            why = str(error)
    else:
        bigger = [other.name for other in PAPERS.values() if other.width > 1.3 * sheet.width]
        remedy = f"Take --paper {bigger[0]}." if bigger else "There is no larger paper here."
        raise RigInputError([Problem("--paper", paper, why, remedy)], where="the drawing")
    sheets = []
    for i, page in enumerate(pages, start=1):
        foot = stamp.foot(i, len(pages))
        sheets.append(Sheet(sheet.width, sheet.height, sheet.frame, (sheet.border, *foot.items, *page)))
    return Drawing(rig.title, paper, tuple(sheets))


def _groups(
    profile: Profile, result: CheckResult, wording: Wording, paper: Paper, section_mm: float
) -> tuple[list[list[Block]], list[str]]:
    """Return everything to lay out, in groups that belong together, and the scales of the views."""
    across = paper.across
    tallest = (paper.room[3] - paper.room[1]) * 0.47
    broken, axis = broken_view(profile, wording, width=across, tallest=section_mm)
    cuts = cuts_of(profile)
    whole, small = full_view(
        profile, wording, [(cut.letter, z) for cut in cuts for z in cut.heights_m], width=across
    )
    rows = 1 if len(cuts) <= _IN_A_ROW else 2
    most = min(across / math.ceil(len(cuts) / rows) - 12.0, 0.3 * paper.height / rows)
    scale = cut_scale(cuts, max(most, 0.6 * NARROWEST_MM))
    groups = [[whole, broken], cut_views(cuts, wording, scale=scale)]
    scales = [*_scales(axis, small), f"sections {ratio(scale)}"]
    if profile.mast.shape == "staves":
        detail, own = stave_detail(profile, wording, tallest)
        groups.append(detail)
        scales.append(f"stave {ratio(own)}")
    groups.append(ply_tables(profile, wording, tallest))
    if profile.rig.deck is not None:
        view, own = pad_view(profile.rig.deck, profile, wording, 0.2 * paper.height)
        groups.append([view])
        scales.append(f"pad {ratio(own)}")
    groups.append([*size_table(profile, wording, tallest), *part_table(profile, wording, tallest)])
    said = list(notes(profile, result, wording, broken=axis.broken))
    groups.append([key(profile, cuts), paragraphs("notes", "Notes", said, min(150.0, 0.48 * across))])
    return groups, scales


def _scales(axis: Axis, small: Axis) -> list[str]:
    return [f"mast in section {ratio(axis.scale)}", f"whole mast {ratio(small.scale)}"]


# ---------------------------------------------------------------- where everything goes


_Page = tuple[list[Box], list[Item]]
"""What is taken on a sheet, and what stands there; the foot of the sheet is taken and not among it."""


def _fresh(stamp: Stamp, before: int) -> _Page:
    """Return a sheet with nothing on it but its foot."""
    return list(stamp.foot(before + 1, _MANY).boxes), []


def _laid_out(groups: Sequence[Sequence[Block]], paper: Paper, stamp: Stamp) -> list[tuple[Item, ...]]:
    """Put each group on the first sheet that takes all of it, or on sheets of its own.

    Raises
    ------
    NoRoomError
        If a block does not fit an empty sheet.
    """
    pages: list[_Page] = []
    for group in groups:
        if any(_all_placed(group, page, paper) for page in pages):
            continue
        fresh = _fresh(stamp, len(pages))
        for one in group:
            if not _all_placed([one], fresh, paper):
                if fresh[1]:
                    pages.append(fresh)
                fresh = _fresh(stamp, len(pages))
                if not _all_placed([one], fresh, paper):
                    raise NoRoomError(
                        f"the {one.name} is {one.width:.0f} by {one.height:.0f} mm on the sheet, more than there is "
                        "room for"
                    )
        if fresh[1]:
            pages.append(fresh)
    return [tuple(items) for _, items in pages]


def _all_placed(group: Sequence[Block], page: _Page, paper: Paper) -> bool:
    """Put all of a group on a sheet, or nothing: each as high as it will go, then as far left.

    A block goes beside or below one that is there already, or in the upper left corner; those are the only places
    tried, so that the same blocks always lie the same way.
    """
    taken, items = list(page[0]), list[Item]()
    for one in group:
        place = _place(one, taken, paper)
        if place is None:
            return False
        x, y = place
        taken.append((x, y, x + one.width, y + one.height))
        items += one.at(x, y)
    page[0][:] = taken
    page[1].extend(items)
    return True


def _place(one: Block, taken: Sequence[Box], paper: Paper) -> tuple[float, float] | None:
    left, bottom, right, top = paper.room
    tops = sorted({top, *(box[1] - _GAP for box in taken)}, reverse=True)
    lefts = sorted({left, *(box[2] + _GAP for box in taken)})
    for y in (t - one.height for t in tops):
        if y < bottom - 1e-9:
            continue
        for x in lefts:
            if x + one.width <= right + 1e-9 and not any(_meet(one, x, y, box) for box in taken):
                return x, y
    return None


def _meet(one: Block, x: float, y: float, box: Box) -> bool:
    """Whether a block at a place comes closer to a box than it may."""
    gap = _GAP - 1e-9
    return (
        x < box[2] + gap
        and box[0] < x + one.width + gap
        and y < box[3] + gap
        and box[1] < y + one.height + gap
    )
