"""A check with what was worked out on the way to it."""

from __future__ import annotations

from ..formulas import Working
from ..frozen import dataclass
from .evaluate import Run
from .result import CheckResult


@dataclass(frozen=True)
class Checked:
    """A verdict, and the numbers behind it.

    Parameters
    ----------
    result : CheckResult
        The verdict.
    run : Run
        Loads, mast, internal forces and limits.
    working : Working
        Every step of a formula, in the order they were taken.
    """

    result: CheckResult
    run: Run
    working: Working
