"""The report of a rig: one document, written as HTML, PDF or Markdown."""

from .build import document_of
from .html import html_of
from .markdown import markdown_of
from .record import Document

__all__ = ["Document", "document_of", "html_of", "markdown_of"]
