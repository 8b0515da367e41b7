"""The worked calculation: every number that matters, so that a reviewer can follow it by hand."""

from .line import Number, WorkedLine, worked_line
from .screen import worked_screen
from .select import WorkedCalculation, WorkedSection, worked, worked_from
from .trace import traced

__all__ = [
    "Number",
    "WorkedCalculation",
    "WorkedLine",
    "WorkedSection",
    "traced",
    "worked",
    "worked_from",
    "worked_line",
    "worked_screen",
]
