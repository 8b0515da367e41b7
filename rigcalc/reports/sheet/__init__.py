"""The report of a rig: one document, written as HTML, PDF or Markdown."""

from .build import document_of
from .html import html_of
from .markdown import markdown_of
from .pdf import save_pdf
from .record import Document
from .write import SUFFIXES, report

__all__ = ["SUFFIXES", "Document", "document_of", "html_of", "markdown_of", "report", "save_pdf"]
