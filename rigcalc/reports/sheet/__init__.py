"""The report of a rig: one document, written as HTML, PDF or Markdown."""

from typing import Final

from .build import document_of
from .html import html_of
from .markdown import markdown_of
from .pdf import save_pdf
from .record import Document

SUFFIXES: Final = {".html": "html", ".htm": "html", ".pdf": "pdf", ".md": "markdown", ".markdown": "markdown"}
"""What a report is written as, by the suffix of its file."""

__all__ = ["SUFFIXES", "Document", "document_of", "html_of", "markdown_of", "save_pdf"]
