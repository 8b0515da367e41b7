"""The report as one HTML page: no script, nothing fetched, readable on a phone and on paper."""

from __future__ import annotations

import re
from collections.abc import Sequence
from html import escape
from typing import Final

from ..figures import svg_of
from .record import (
    Block,
    Bullets,
    Caution,
    Cell,
    Column,
    Document,
    FigureBlock,
    Formula,
    Inline,
    Link,
    Mark,
    Paragraph,
    Section,
    Table,
    Value,
    Words,
    plain,
    words_of,
)
from .style import CSS

_SAME_PAGE: Final = ("verdict", "furling", "reefing")
"""Sections that go on where the one before them ended, on paper."""
_FRAGMENT: Final = 4
"""Level of the heading of a piece in someone else's page."""
_ONLY_IN_A_REPORT: Final = re.compile(r' (id|aria-labelledby|data-path|data-value)="[^"]*"')


def html_of(document: Document) -> str:
    """Return a report as HTML; the same report gives the same bytes.

    Parameters
    ----------
    document : Document
        As `document_of` makes it.
    """
    word = "PASS" if document.passed else "FAIL"
    title = escape(_printable(document.title))
    links = "".join(f'<li><a href="#{s.id}">{escape(s.title)}</a></li>' for s in document.sections)
    body = "".join(_section(section, 2) for section in document.sections)
    foot = escape(document.foot)
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{title}: {word}</title>\n<style>{CSS}</style>\n</head>\n"
        f'<body>\n<div class="page">\n<header>\n<h1>{title}</h1>\n'
        f'<p class="under">Report on a freestanding mast. {foot}.</p>\n</header>\n'
        f'<nav aria-label="Contents"><details open><summary>Contents</summary><ol>{links}</ol></details></nav>\n'
        f"<main>\n{body}</main>\n"
        f"<footer><p>{foot}. Every size is preliminary: have it reviewed before you order or build.</p></footer>\n"
        "</div>\n</body>\n</html>\n"
    )


def fragment_html(title: str, blocks: Sequence[Block]) -> str:
    """Return a few blocks as a piece of HTML to stand in someone else's page; it brings no style but its own.

    Parameters
    ----------
    title : str
        Heading.
    blocks : sequence of Block
        What stands under it.
    """
    # anchors would meet those of its neighbours, and no JSON goes with it; a quote in a text is escaped, never met here
    inside = _ONLY_IN_A_REPORT.sub("", "".join(_block(block, _FRAGMENT) for block in blocks))
    return f'<div class="rigcalc">\n<h{_FRAGMENT}>{_text(title)}</h{_FRAGMENT}>\n{inside}</div>\n'


def _section(section: Section, level: int) -> str:
    heading = f'<h{level} id="{section.id}">{_text(section.title)}</h{level}>'
    inside = "".join(_block(block, level) for block in section.blocks)
    if section.fold:
        # open from the start: a browser that does not print what is folded away still prints this
        return f"<details open>\n<summary>{heading}</summary>\n{inside}</details>\n"
    fresh = ' class="new-page"' if level == 2 and section.id not in _SAME_PAGE else ""
    return f'<section{fresh} aria-labelledby="{section.id}">\n{heading}\n{inside}</section>\n'


def _block(block: Block, level: int) -> str:
    match block:
        case Section():
            return _section(block, level + 1)
        case Paragraph(words, tone):
            kind = "" if tone == "plain" else f' class="{tone}"'
            return f"<p{kind}>{_words(words)}</p>\n"
        case Bullets(items):
            return _list(items)
        case Caution(heading, texts):
            return f"<aside><h{level + 1}>{_text(heading)}</h{level + 1}>{_list([(text,) for text in texts])}</aside>\n"
        case Table():
            return _table(block)
        case FigureBlock(drawn):
            title, svg = _text(drawn.title), svg_of(drawn)
            wide = re.search(r'viewBox="0 0 ([\d.]+) ', svg)
            assert wide is not None
            # a drawing is not blown up beyond its own size: its type would shout
            size = f"{float(wide[1]) / 72:.3f}in"
            return (
                f'<figure id="figure-{drawn.name}">\n'
                f'<div class="drawing" style="--wide: {size}; max-width: {size}" tabindex="0" '
                f'role="group" aria-label="{title}">'
                f"{svg}</div>\n"
                f"<figcaption><b>{title}.</b> {_text(drawn.said)}</figcaption>\n</figure>\n"
            )
        case Formula(_, mathml, said):
            return f'<div class="formula" tabindex="0">{mathml}</div>\n<p class="said">{_text(said)}</p>\n'


def _list(items: tuple[Words, ...] | list[Words]) -> str:
    return f"<ul>{''.join(f'<li>{_words(item)}</li>' for item in items)}</ul>\n"


def _table(table: Table) -> str:
    heads = "".join(_head(column) for column in table.columns)
    rows = "".join(_row(table.columns, row) for row in table.rows)
    # a box that scrolls must be reached by the keyboard, and say what it is
    return (
        f'<div class="wide" tabindex="0" role="group" aria-label="{_text(table.caption)}">'
        f"<table>\n<caption>{_text(table.caption)}</caption>\n"
        f"<thead><tr>{heads}</tr></thead>\n<tbody>\n{rows}</tbody>\n</table></div>\n"
    )


def _head(column: Column) -> str:
    unit = f' <span class="unit">{_text(column.unit)}</span>' if column.unit else ""
    return f'<th scope="col" class="{column.kind}">{_text(column.head)}{unit}</th>'


def _row(columns: tuple[Column, ...], row: tuple[Cell, ...]) -> str:
    cells = []
    for i, (column, cell) in enumerate(zip(columns, row, strict=True)):
        inside = _words(words_of(cell))
        tag = "th" if i == 0 else "td"
        scope = ' scope="row"' if i == 0 else ""
        cells.append(f'<{tag}{scope} class="{column.kind}">{inside}</{tag}>')
    return f"<tr>{''.join(cells)}</tr>\n"


def _words(words: Words) -> str:
    return "".join(_inline(part) for part in words)


def _inline(part: Inline) -> str:
    match part:
        case str():
            return _text(part)
        case Link(text, to):
            return f'<a href="#{to}">{_text(text)}</a>'
        case Mark(text, tone, path, value):
            return f'<span class="mark {tone}"{_data(path, value)}>{_text(text)}</span>'
        case Value(text, path, value):
            return f"<span{_data(path, value)}>{_text(text)}</span>" if path else _text(text)


def _data(path: str, value: float | int | str | bool | None) -> str:
    """Return where the JSON has a number, and the number in full."""
    if not path:
        return ""
    if value is None:
        full = "null"
    elif isinstance(value, bool):
        full = "true" if value else "false"
    else:
        full = value if isinstance(value, str) else repr(value)
    return f' data-path="{escape(path)}" data-value="{escape(_printable(full))}"'


def _text(text: str) -> str:
    return escape(_printable(text))


def _printable(text: str) -> str:
    """Return a text without control characters, which HTML does not allow."""
    return "".join(c if c.isprintable() else " " for c in text)


def headings(document: Document) -> tuple[str, ...]:
    """Return the titles of all sections, in order."""
    return tuple(plain(block.title) for block in document.blocks() if isinstance(block, Section))
