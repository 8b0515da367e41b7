"""The report: one document, three ways of writing it."""
