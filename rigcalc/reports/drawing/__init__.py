"""The workshop drawing of a mast: one neutral scene, written as PDF, SVG or DXF."""

from collections.abc import Callable
from typing import Final

from .dxf import dxf_text
from .foot import PAPERS, UNAPPROVED
from .layout import drawing_of
from .plot import missing_letters, pdf_bytes, png_bytes, svg_bytes
from .scene import Drawing

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
    "drawing_of",
    "dxf_text",
    "missing_letters",
    "pdf_bytes",
    "png_bytes",
    "svg_bytes",
]
