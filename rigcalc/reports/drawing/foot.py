"""What stands on every sheet: frame, title block and cautions."""

from __future__ import annotations

from typing import Final

from ...frozen import dataclass
from ...verdict import CheckResult
from .blocks import Block, block, paragraphs, wrap
from .profile import Profile
from .scene import CAUTIONS, FRAME, TITLE, Box, Item, Line, Polyline, Text, text_width
from .wording import Wording

UNAPPROVED: Final = "not approved for construction"
_BINDING, _EDGE, _GAP, _PAD = 18.0, 8.0, 6.0, 3.0
_SIGN: Final = "_" * 24
_DATE: Final = f"Date: {_SIGN[:12]}"
_FOREMOST: Final = 2
"""Cautions that stand on every sheet: that a mast can kill, and to have it reviewed."""


@dataclass(frozen=True)
class Paper:
    """A size of paper, the long side across, in millimetres."""

    name: str
    width: float
    height: float

    @property
    def frame(self) -> Box:
        """Left, bottom, right and top of the frame, with room to bind at the left."""
        return _BINDING, _EDGE, self.width - _EDGE, self.height - _EDGE

    @property
    def room(self) -> Box:
        """Inside of the frame, a little clear of it."""
        left, bottom, right, top = self.frame
        return left + _PAD, bottom + _PAD, right - _PAD, top - _PAD

    @property
    def across(self) -> float:
        return self.room[2] - self.room[0]

    @property
    def border(self) -> Polyline:
        """The frame as it is drawn."""
        left, bottom, right, top = self.frame
        return Polyline(FRAME, ((left, bottom), (right, bottom), (right, top), (left, top)), closed=True)


_ALL: Final = (
    Paper("A4", 297.0, 210.0),
    Paper("A3", 420.0, 297.0),
    Paper("A2", 594.0, 420.0),
    Paper("A1", 841.0, 594.0),
    Paper("letter", 279.4, 215.9),
    Paper("tabloid", 431.8, 279.4),
)
PAPERS: Final = {paper.name: paper for paper in _ALL}
"""Name -> paper: ISO 216, and ANSI A and B."""


@dataclass(frozen=True)
class Foot:
    """Title block at the right, cautions at the left of it; things in their places, and the boxes they take."""

    items: tuple[Item, ...]
    boxes: tuple[Box, ...]


@dataclass(frozen=True)
class Stamp:
    """What the foot of every sheet says, but for the number of the sheet."""

    profile: Profile
    result: CheckResult
    wording: Wording
    paper: Paper
    scales: tuple[str, ...]
    origin: str

    def foot(self, number: int, count: int) -> Foot:
        """Return the foot of one of several sheets; all the cautions stand on the first."""
        left, bottom, right, _ = self.paper.room
        width = min(150.0, 0.46 * self.paper.across)
        title = self._title(f"{number} of {count}", width)
        told = list(self.result.cautions)
        if number > 1:
            told[_FOREMOST:] = ["The other cautions stand on sheet 1."]
        cautions = paragraphs(
            "cautions", f"Cautions: {UNAPPROVED}", told, self.paper.across - width - _GAP, layer=CAUTIONS
        )
        return Foot(
            (*title.at(right + _PAD - width, bottom - _PAD), *cautions.at(left, bottom)),
            (
                (right - title.width, bottom, right, bottom + title.height - _PAD),
                (left, bottom, left + cautions.width, bottom + cautions.height),
            ),
        )

    def _title(self, number: str, width: float) -> Block:
        mast, checks = self.profile.mast, self.result.checks
        title = self.result.title
        materials = "; ".join(dict.fromkeys(part.material for part in self.profile.parts))
        named = "" if mast.name == "mast" else f" ({mast.name})"
        failed = sum(not check.passed for check in checks)
        verdict: tuple[str, ...] = (f"{self.origin}: all {len(checks)} checks pass",)
        if failed:
            verdict = (self.origin, f"{failed} of {len(checks)} checks FAIL: not to be built as drawn")
        sign = _SIGN
        while text_width(f"Signature: {sign}   {_DATE}", 2.5) > width - 4.0:
            sign = sign[:-1]  # both on one line, where a hand is to write
        rows = (
            (title, 5.0 if text_width(title, 5.0) <= width - 4.0 else 3.5),
            (f"Workshop drawing of the mast{named}, sheet {number}, {self.paper.name}", 2.5),
            (f"Material: {materials}", 2.5),
            (f"Scales: {', '.join(self.scales)}; sizes in {self.wording.units}", 2.5),
            *((said, 2.5) for said in verdict),
            (f"Preliminary: {UNAPPROVED}", 3.5),
            (f"Reviewed by: {_SIGN}", 2.5),
            (f"Signature: {sign}   {_DATE}", 2.5),
        )
        items: list[Item] = []
        y = 0.0
        for text, height in reversed(rows):
            for line in reversed(wrap(text, width - 4.0, height)):
                items.append(Text(TITLE, (2.0, y + 1.4), line, height))
                y += height + 1.4
            # more where a hand is to write
            y += 3.5 if _SIGN[:12] in text else 1.2
            items.append(Line(TITLE, (0.0, y), (width, y)))
        items.reverse()  # to be read from the top
        items[0] = Polyline(FRAME, ((0.0, 0.0), (width, 0.0), (width, y), (0.0, y)), closed=True)
        return block("title", items)
