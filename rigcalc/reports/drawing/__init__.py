"""The workshop drawing of a mast: one neutral scene, written as PDF, SVG or DXF."""

from collections.abc import Callable
from typing import Final, Literal

from ...rig import Rig
from ...verdict import check
from .dxf import dxf_text
from .foot import PAPERS, UNAPPROVED
from .layout import drawing_of
from .plot import missing_letters, pdf_bytes, png_bytes, svg_bytes
from .scene import Drawing
from .wording import System

WRITERS: Final[dict[str, Callable[[Drawing], bytes]]] = {
    ".pdf": pdf_bytes,
    ".svg": svg_bytes,
    ".dxf": lambda drawing: dxf_text(drawing).encode("ascii"),
}
"""Suffix of a file -> what makes its bytes."""

__all__ = [
    "PAPERS",
    "UNAPPROVED",
    "WRITERS",
    "drawing",
    "drawing_of",
    "dxf_text",
    "missing_letters",
    "pdf_bytes",
    "png_bytes",
    "svg_bytes",
]


def drawing(
    rig: Rig,
    *,
    form: Literal["pdf", "svg", "dxf"] = "pdf",
    paper: str = "A3",
    shown_in: System = "metric",
    raw: bytes | None = None,
) -> bytes:
    """Return the workshop drawing of the mast of a rig as a whole file.

    Parameters
    ----------
    rig : Rig
        As read from a rig file.
    form : {"pdf", "svg", "dxf"}
        A DXF is of release 12, in millimetres of the sheet.
    paper : {"A4", "A3", "A2", "A1", "letter", "tabloid"}
        Size of the sheets.
    shown_in : {"metric", "us"}
        Millimetres, or inches.
    raw : bytes, optional
        The rig file, for its digest in the title block.

    Returns
    -------
    bytes
        The same rig gives the same bytes.

    Raises
    ------
    RigInputError
        If the mast does not fit the paper, or asks a formula for a value it does not have.
    ValueError
        If there is no such form or paper.

    Notes
    -----
    The sizes are those of the sections that `check` holds against the loads. Whether they pass stands on the sheet,
    which is not approved for construction.

    Examples
    --------
    >>> from rigcalc import drawing, read_rig, starter_text
    >>> sheet = drawing(read_rig(starter_text()), form="svg")
    >>> sheet.startswith(b"<?xml") and b"not approved for construction" in sheet
    True
    """
    if f".{form}" not in WRITERS:
        raise ValueError(f"no such form of drawing: {form!r}; there are pdf, svg and dxf")
    if paper not in PAPERS:
        raise ValueError(f"no such paper: {paper!r}; there are {', '.join(PAPERS)}")
    return WRITERS[f".{form}"](drawing_of(rig, check(rig), paper=paper, shown_in=shown_in, raw=raw))
