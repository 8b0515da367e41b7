"""Blocks laid out on sheets: frame, title block and cautions on each, the rest wherever there is room."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from ...errors import Problem, RigInputError
from ...rig import Rig
from ...verdict import CheckResult
from .along import broken_view, full_view
from .axis import Axis
from .blocks import Block, block, paragraphs, wrap
from .cuts import NARROWEST_MM, cut_scale, cut_views, cuts_of
from .details import key, notes, pad_view, part_table, ply_tables, size_table, stave_detail
from .labels import NoRoomError
from .profile import Profile, profile_of
from .scene import CAUTIONS, FRAME, TITLE, Box, Drawing, Item, Line, Polyline, Sheet, Text
from .wording import System, Wording, ratio

PAPERS: Final = {
    "A4": (297.0, 210.0),
    "A3": (420.0, 297.0),
    "A2": (594.0, 420.0),
    "A1": (841.0, 594.0),
    "letter": (279.4, 215.9),
    "tabloid": (431.8, 279.4),
}
"""Paper -> width and height, the long side across."""
UNAPPROVED: Final = "not approved for construction"
_BINDING, _EDGE, _GAP, _PAD = 18.0, 8.0, 6.0, 3.0
_SIGN: Final = "_" * 26


@dataclass(frozen=True)
class _Paper:
    name: str
    width: float
    height: float

    @property
    def frame(self) -> Box:
        return _BINDING, _EDGE, self.width - _EDGE, self.height - _EDGE

    @property
    def room(self) -> Box:
        """Inside of the frame, a little clear of it."""
        left, bottom, right, top = self.frame
        return left + _PAD, bottom + _PAD, right - _PAD, top - _PAD

    @property
    def across(self) -> float:
        return self.room[2] - self.room[0]


def drawing_of(rig: Rig, result: CheckResult, *, paper: str = "A3", shown_in: System = "metric") -> Drawing:
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

    Raises
    ------
    RigInputError
        If the mast does not fit the paper.
    """
    sheet = _Paper(paper, *PAPERS[paper])
    profile, wording = profile_of(rig), Wording(shown_in)
    try:
        groups, scales = _groups(profile, result, wording, sheet)
        pages = _laid_out(groups, sheet, _foot(profile, result, wording, sheet, scales, "0 of 0"))
    except NoRoomError as error:
        bigger = [name for name, size in PAPERS.items() if size[0] > sheet.width]
        remedy = f"Take --paper {bigger[0]}." if bigger else "There is no larger paper here."
        raise RigInputError([Problem("--paper", paper, str(error), remedy)], where="the drawing") from None
    sheets = []
    for i, page in enumerate(pages, start=1):
        foot = _foot(profile, result, wording, sheet, scales, f"{i} of {len(pages)}")
        sheets.append(
            Sheet(sheet.width, sheet.height, sheet.frame, (*_frame(sheet), *foot.items(sheet), *page))
        )
    return Drawing(rig.title, paper, tuple(sheets))


def _groups(
    profile: Profile, result: CheckResult, wording: Wording, paper: _Paper
) -> tuple[list[list[Block]], list[str]]:
    """Return everything to lay out, in groups that belong together, and the scales of the views."""
    across = paper.across
    tallest = (paper.room[3] - paper.room[1]) * 0.47
    broken, axis = broken_view(profile, wording, width=across, tallest=0.11 * paper.height)
    cuts = cuts_of(profile)
    whole, small = full_view(
        profile, wording, [(cut.letter, z) for cut in cuts for z in cut.heights_m], width=across
    )
    most = min(max(across / len(cuts) - 12.0, 0.6 * NARROWEST_MM), 0.3 * paper.height)
    scale = cut_scale(cuts, most)
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


# ---------------------------------------------------------------- what stands on every sheet


@dataclass(frozen=True)
class _Foot:
    """Title block at the right, cautions at the left of it."""

    title: Block
    cautions: Block

    def items(self, paper: _Paper) -> tuple[Item, ...]:
        left, bottom, right, _ = paper.room
        edge = right + _PAD - self.title.width
        return (*self.title.at(edge, bottom - _PAD), *self.cautions.at(left, bottom))

    def boxes(self, paper: _Paper) -> list[Box]:
        left, bottom, right, _ = paper.room
        return [
            (right - self.title.width, bottom, right, bottom + self.title.height - _PAD),
            (left, bottom, left + self.cautions.width, bottom + self.cautions.height),
        ]


def _foot(
    profile: Profile, result: CheckResult, wording: Wording, paper: _Paper, scales: Sequence[str], number: str
) -> _Foot:
    width = min(150.0, 0.46 * paper.across)
    title = _title_block(profile, result, wording, paper, scales, number, width)
    cautions = paragraphs(
        "cautions",
        f"Cautions: {UNAPPROVED}",
        result.cautions,
        paper.across - width - _GAP,
        layer=CAUTIONS,
    )
    return _Foot(title, cautions)


def _title_block(
    profile: Profile,
    result: CheckResult,
    wording: Wording,
    paper: _Paper,
    scales: Sequence[str],
    number: str,
    width: float,
) -> Block:
    mast = profile.mast
    materials = "; ".join(dict.fromkeys(part.material for part in profile.parts))
    named = "" if mast.name == "mast" else f" ({mast.name})"
    failed = sum(not check.passed for check in result.checks)
    many = len(result.checks)
    verdict = (
        f"all {many} checks pass"
        if not failed
        else f"{failed} of {many} checks FAIL: not to be built as drawn"
    )
    rows = [
        (result.title, 5.0),
        (f"Workshop drawing of the mast{named}, sheet {number}, {paper.name}", 3.5),
        (f"Material: {materials}", 2.5),
        (f"Scales: {', '.join(scales)}; sizes in {wording.unit}", 2.5),
        (f"rigcalc {result.rigcalc_version}: {verdict}", 2.5),
        (f"Preliminary: {UNAPPROVED}", 3.5),
        (f"Reviewed by: {_SIGN}", 2.5),
        (f"Signature: {_SIGN}   Date: {_SIGN[:12]}", 2.5),
    ]
    items: list[Item] = []
    y = 0.0
    for text, height in reversed(rows):
        for line in reversed(wrap(text, width - 4.0, height)):
            items.append(Text(TITLE, (2.0, y + 1.4), line, height))
            y += height + 1.4
        # room for a hand to write in
        y += 3.0 if _SIGN[:12] in text else 1.2
        items.append(Line(TITLE, (0.0, y), (width, y)))
    items.pop()
    items.append(Polyline(FRAME, ((0.0, 0.0), (width, 0.0), (width, y), (0.0, y)), closed=True))
    return block("title", items)


def _frame(paper: _Paper) -> tuple[Item, ...]:
    left, bottom, right, top = paper.frame
    return (Polyline(FRAME, ((left, bottom), (right, bottom), (right, top), (left, top)), closed=True),)


# ---------------------------------------------------------------- where everything goes


def _laid_out(groups: Sequence[Sequence[Block]], paper: _Paper, foot: _Foot) -> list[tuple[Item, ...]]:
    """Put each group on the first sheet that takes all of it, or on sheets of its own.

    Raises
    ------
    NoRoomError
        If a block does not fit an empty sheet.
    """
    pages: list[tuple[list[Box], list[Item]]] = []
    for group in groups:
        if any(_all_placed(group, page, paper) for page in pages):
            continue
        fresh: tuple[list[Box], list[Item]] = (foot.boxes(paper), [])
        for one in group:
            if not _all_placed([one], fresh, paper):
                if fresh[1]:
                    pages.append(fresh)
                fresh = (foot.boxes(paper), [])
                if not _all_placed([one], fresh, paper):
                    raise NoRoomError(
                        f"the {one.name} is {one.width:.0f} by {one.height:.0f} mm on the sheet, more than there is "
                        "room for"
                    )
        if fresh[1]:
            pages.append(fresh)
    return [tuple(items) for _, items in pages]


def _all_placed(group: Sequence[Block], page: tuple[list[Box], list[Item]], paper: _Paper) -> bool:
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


def _place(one: Block, taken: Sequence[Box], paper: _Paper) -> tuple[float, float] | None:
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
