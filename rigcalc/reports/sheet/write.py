"""A whole report in one call, in whichever form it is asked for."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Final, Literal, overload

from ...design.compare import Comparison
from ...design.doubt import Doubt
from ...rig import Rig
from ...verdict import Checked
from ..figures.words import Shown
from .build import document_of
from .html import html_of
from .markdown import markdown_of
from .pages import Paper
from .pdf import save_pdf

Form = Literal["html", "markdown", "pdf"]
SUFFIXES: Final[dict[str, Form]] = {
    ".html": "html",
    ".htm": "html",
    ".pdf": "pdf",
    ".md": "markdown",
    ".markdown": "markdown",
}
"""What a report is written as, by the suffix of its file."""


@overload
def report(
    rig: Rig,
    *,
    form: Literal["html", "markdown"] = ...,
    raw: bytes | None = ...,
    name: str = ...,
    folder: str | Path | None = ...,
    case: str | None = ...,
    shown_in: Shown = ...,
    paper: Paper | None = ...,
    done: Checked | None = ...,
    compared: Comparison | None = ...,
    doubted: Doubt | None = ...,
) -> str: ...
@overload
def report(
    rig: Rig,
    *,
    form: Literal["pdf"],
    raw: bytes | None = ...,
    name: str = ...,
    folder: str | Path | None = ...,
    case: str | None = ...,
    shown_in: Shown = ...,
    paper: Paper | None = ...,
    done: Checked | None = ...,
    compared: Comparison | None = ...,
    doubted: Doubt | None = ...,
) -> bytes: ...
@overload
def report(
    rig: Rig,
    *,
    form: Form,
    raw: bytes | None = ...,
    name: str = ...,
    folder: str | Path | None = ...,
    case: str | None = ...,
    shown_in: Shown = ...,
    paper: Paper | None = ...,
    done: Checked | None = ...,
    compared: Comparison | None = ...,
    doubted: Doubt | None = ...,
) -> str | bytes: ...
def report(
    rig: Rig,
    *,
    form: Form = "html",
    raw: bytes | None = None,
    name: str = "",
    folder: str | Path | None = None,
    case: str | None = None,
    shown_in: Shown = "metric",
    paper: Paper | None = None,
    done: Checked | None = None,
    compared: Comparison | None = None,
    doubted: Doubt | None = None,
) -> str | bytes:
    """Return the report of a rig as a whole file: verdict, cautions, figures, checks, order and worked calculation.

    Parameters
    ----------
    rig : Rig
        As read from a rig file.
    form : {"html", "markdown", "pdf"}
        HTML is one page without scripts that fetches nothing; Markdown has no figures.
    raw : bytes, optional
        The rig file itself, for its digest.
    name : str
        Name of that file, as the report is to call it.
    folder : str or Path, optional
        Where it stands, from which ``stock.file`` is found; the working directory when not given.
    case : str, optional
        Name of the only case to run.
    shown_in : {"metric", "us"}
        Units in which it is written.
    paper : {"a4", "letter"}, optional
        Paper of a PDF, A4 when not given; the other forms have none.
    done : Checked, optional
        What came of `rigcalc.verdict.checked` for this rig and case, where it was run already.
    compared : Comparison, optional
        What `rigcalc.compare` says of this rig, to have masts of other materials beside it.
    doubted : Doubt, optional
        What `rigcalc.doubt` says of this rig, to have told how sure the verdict is.

    Returns
    -------
    str or bytes
        Text of HTML or Markdown, bytes of a PDF. The same rig gives the same bytes.

    Raises
    ------
    NoSuchCaseError
        If there is no case of that name.
    RigInputError
        If the rig asks a formula for a value it does not have.
    ValueError
        If there is no such form, or paper is named for one that has none.

    Notes
    -----
    Every number in it is one of the result of `check`; each formula is printed with its source, and the published
    values behind it are listed.

    Examples
    --------
    >>> from rigcalc import read_rig, report, starter_text
    >>> page = report(read_rig(starter_text()), form="markdown")
    >>> print(page.splitlines()[0])
    # Starter: 4.6 m open boat with one freestanding mast
    """
    if form not in SUFFIXES.values():
        raise ValueError(f"no such form of report: {form!r}; there are html, markdown and pdf")
    if paper is not None and form != "pdf":
        raise ValueError("paper is of a PDF; a browser asks for the paper when it prints")
    document = document_of(
        rig,
        raw=raw,
        name=name,
        folder=None if folder is None else str(folder),
        case=case,
        shown=shown_in,
        done=done,
        compared=compared,
        doubted=doubted,
    )
    if form != "pdf":
        return html_of(document) if form == "html" else markdown_of(document)
    with io.BytesIO() as file:
        save_pdf(document, file, paper=paper or "a4")
        return file.getvalue()
