"""Widths of words in the typeface of the PDF, and lines that fit a width."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache
from typing import Any, Final, Literal

from ...frozen import dataclass

Style = Literal["regular", "bold", "italic", "mono"]

FACES: Final[dict[Style, dict[str, str]]] = {
    "regular": {"family": "DejaVu Sans"},
    "bold": {"family": "DejaVu Sans", "weight": "bold"},
    "italic": {"family": "DejaVu Sans", "style": "oblique"},
    "mono": {"family": "DejaVu Sans Mono"},
}
"""The typefaces that come with matplotlib, so that every machine has the same ones."""
_EM: Final = 1000.0


@dataclass(frozen=True)
class Run:
    """Words of one style and colour."""

    text: str
    style: Style = "regular"
    colour: str = "#17212b"


@dataclass(frozen=True)
class Placed:
    """A run in a line, and how far from its start."""

    x_pt: float
    run: Run


Line = tuple[Placed, ...]


def face(style: Style) -> Any:
    """Return the typeface of a style as matplotlib has it."""
    from matplotlib.font_manager import FontProperties

    more: dict[str, Any] = dict(FACES[style])
    return FontProperties(**more)


@cache
def _font(style: Style) -> Any:
    from matplotlib.font_manager import findfont
    from matplotlib.ft2font import FT2Font

    font = FT2Font(findfont(face(style)))
    font.set_size(_EM, 72)
    return font


@cache
def _advance(letter: str, style: Style) -> float:
    """Return how far a letter goes, in units of the size of the type."""
    font = _font(style)
    # by its index: what the typeface lacks has the width of the box that is drawn for it
    return float(font.load_glyph(font.get_char_index(ord(letter))).linearHoriAdvance) / 65536 / _EM


def width_of(text: str, size_pt: float, style: Style = "regular") -> float:
    """Return the width of a text in points."""
    return size_pt * sum(_advance(letter, style) for letter in text)


def longest_word(runs: Iterable[Run], size_pt: float) -> float:
    """Return the width of the longest word of some runs."""
    return max(
        (width_of(word, size_pt, run.style) for run in runs for word in run.text.split(" ")), default=0.0
    )


def lines_of(runs: Sequence[Run], width_pt: float, size_pt: float) -> list[Line]:
    """Return runs broken into lines; a word wider than a line is broken where it must be.

    Parameters
    ----------
    runs : sequence of Run
        As they follow one another.
    width_pt, size_pt : float
        Room for a line, and size of the type.
    """
    lines: list[list[tuple[str, Run]]] = [[]]
    used = 0.0
    for word, run in _words(runs):
        for part in _parts(word, run, width_pt, size_pt):
            wide = width_of(part, size_pt, run.style)
            # a space at the end of a line takes no room
            if lines[-1] and used + width_of(part.rstrip(" "), size_pt, run.style) > width_pt:
                lines.append([])
                used = 0.0
            if not lines[-1]:
                part = part.lstrip(" ")
                if not part:
                    continue
                wide = width_of(part, size_pt, run.style)
            lines[-1].append((part, run))
            used += wide
    return [_joined(line, size_pt) for line in lines]


def _words(runs: Sequence[Run]) -> Iterable[tuple[str, Run]]:
    """Yield words with the space behind them."""
    for run in runs:
        words = run.text.split(" ")
        for i, word in enumerate(words):
            last = i == len(words) - 1
            if word or not last:
                yield (word if last else word + " "), run


def _parts(word: str, run: Run, width_pt: float, size_pt: float) -> Iterable[str]:
    """Yield a word whole, or cut where it does not fit a line."""
    if width_of(word.rstrip(" "), size_pt, run.style) <= width_pt:
        yield word
        return
    part = ""
    for letter in word:
        if part and width_of(part + letter, size_pt, run.style) > width_pt:
            yield part
            part = ""
        part += letter
    yield part


def _joined(line: Sequence[tuple[str, Run]], size_pt: float) -> Line:
    """Put neighbours of one style together, so that a reader of the PDF finds whole phrases."""
    placed: list[Placed] = []
    x, start, text = 0.0, 0.0, ""
    for i, (part, run) in enumerate(line):
        if not text:
            start = x
        text += part
        x += width_of(part, size_pt, run.style)
        following = line[i + 1][1] if i + 1 < len(line) else None
        if following is None or (following.style, following.colour) != (run.style, run.colour):
            placed.append(
                Placed(start, Run(text.rstrip(" ") if following is None else text, run.style, run.colour))
            )
            text = ""
    return tuple(placed)


def line_width(line: Line, size_pt: float) -> float:
    """Return the width of a line."""
    if not line:
        return 0.0
    last = line[-1]
    return last.x_pt + width_of(last.run.text, size_pt, last.run.style)
