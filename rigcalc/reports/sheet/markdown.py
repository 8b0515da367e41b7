"""The report as Markdown: plain text that reads well as it is, with the figures told in words."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from .record import (
    Block,
    Bullets,
    Caution,
    Cell,
    Column,
    Document,
    FigureBlock,
    Formula,
    Link,
    Mark,
    Paragraph,
    Section,
    Table,
    Words,
    words_of,
)

_SPECIAL: Final = re.compile(r"([\\`*_\[\]<>|~])")


def markdown_of(document: Document) -> str:
    """Return a report as Markdown; the same report gives the same bytes.

    Parameters
    ----------
    document : Document
        As `document_of` makes it.
    """
    lines = [
        f"# {_text(document.title)}",
        "",
        f"Report on a freestanding mast. {document.foot}.",
        "",
        *(f"- [{_text(section.title)}](#{section.id})" for section in document.sections),
        "",
    ]
    for section in document.sections:
        lines += _section(section, 2)
    lines += [
        "---",
        "",
        f"{document.foot}. Every size is preliminary: have it reviewed before you order or build.",
    ]
    return "\n".join(lines) + "\n"


def _section(section: Section, level: int) -> Iterator[str]:
    # an anchor of our own: what a reader makes of a heading differs from one to the next
    yield from (f'<a id="{section.id}"></a>', "", f"{'#' * min(level, 6)} {_text(section.title)}", "")
    for block in section.blocks:
        yield from _block(block, level)


def _block(block: Block, level: int) -> Iterator[str]:
    match block:
        case Section():
            yield from _section(block, level + 1)
        case Paragraph(words, _):
            yield from (_words(words), "")
        case Bullets(items):
            yield from (*(f"- {_words(item)}" for item in items), "")
        case Caution(heading, texts):
            yield from (f"> **{_text(heading)}**", ">", *(f"> - {_text(text)}" for text in texts), "")
        case Table():
            yield from _table(block)
        case FigureBlock(drawn):
            yield from (f"**Figure: {_text(drawn.title)}.** {_text(drawn.said)}", "")
        case Formula(text, _, said):
            yield from (*(f"    {row}" for row in text.split("; ")), "", _text(said), "")


def _table(table: Table) -> Iterator[str]:
    yield from (f"**{_text(table.caption)}**", "")
    yield _row([_head(column) for column in table.columns])
    yield _row(["---:" if column.kind == "number" else "---" for column in table.columns])
    for row in table.rows:
        yield _row([_cell(cell) for cell in row])
    yield ""


def _head(column: Column) -> str:
    return f"{_text(column.head)} {_text(column.unit)}".strip()


def _row(cells: list[str]) -> str:
    return f"| {' | '.join(cells)} |"


def _cell(cell: Cell) -> str:
    return _words(words_of(cell))


def _words(words: Words) -> str:
    written = []
    for part in words:
        match part:
            case str():
                written.append(_text(part))
            case Link(text, to):
                written.append(f"[{_text(text)}](#{to})")
            case Mark(text, tone, _, _):
                written.append(f"*{_text(text)}*" if tone == "quiet" else f"**{_text(text)}**")
            case _:
                written.append(_text(part.text))
    return "".join(written)


def _text(text: str) -> str:
    """Return a text in which nothing is taken for markup, on one line."""
    flat = "".join(c if c.isprintable() else " " for c in text)
    return _SPECIAL.sub(r"\\\1", flat)
