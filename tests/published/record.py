"""One published value and what rigcalc makes of it.

Each module in this folder is one source: its citation stands at the top, what is known of it in ``SOURCE``, its values
in ``CHECKS``. ``reference_notes/validation.md`` and the list in the report are made from the same records, so they
cannot drift from the tests.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

Part = Literal[
    "wind and sails",
    "righting and heel",
    "the mast as a beam",
    "frequencies and instability",
    "sections and stress",
    "walls and holes",
    "fatigue",
    "timber",
    "laminates",
    "bearings",
    "furling",
    "cutting and pieces",
]
"""Parts of the job, in the order in which the code runs. All but the last are the main job."""

Seen = Literal["read", "second hand", "from memory"]
"""Whether it was seen.

Read: the work named was seen, whole or in pages. Second hand: what it prints was read where another quotes it, such as
a notebook of worked examples or the tests of a public program. From memory: recalled, to be looked up.
"""

Kind = Literal["printed", "formula", "worked out", "table", "inferred", "model", "disputed"]
"""What stands in print.

printed : the figure itself, to the digits given.
formula : a formula or an exact fraction, into which numbers were put here.
worked out : the data; the figure was worked out by hand from them.
table : an entry of a table that the tool has taken over, and gives back.
inferred : the figure, but not every input: what is missing was inferred, so that less is proven than the digits say.
model : a figure that a rule of the tool stands for and does not repeat; the tolerance is the most the rule may err by.
disputed : a figure whose last digit the tool does not give, and the reason why.
"""

HALF_A_DIGIT = "half a unit of the last digit printed"
ROUNDING = 1e-8
"""Share by which a formula in print may be missed: the rounding of floats, and of what is iterated."""


@dataclass(frozen=True)
class Source:
    """What is known of a source.

    Parameters
    ----------
    name : str
        Short name.
    part : Part
        Part of the job that it checks.
    seen : Seen
        Whether it was read.
    differs : tuple of str
        Where it disagrees with itself, with another or with the tool, in sentences.
    """

    name: str
    part: Part
    seen: Seen
    differs: tuple[str, ...] = ()


@dataclass(frozen=True)
class Published:
    """A value in print and the call that should reproduce it.

    Parameters
    ----------
    where : str
        Page, example or table.
    quantity : str
        What the value is.
    value : float
        As printed.
    unit : str
        As printed.
    ours : callable
        Returns our value in the printed unit. Where the source goes on from what it has rounded, so does this.
    tolerance : float
        Largest absolute difference, in the printed unit.
    reason : str
        Why that tolerance: usually half a unit of the last digit printed.
    kind : Kind
        What stands in print.
    step : float, optional
        Unit of the last digit printed, where zeros at its end hide it.
    cut : bool
        Whether the source cuts its figures short where it should round them.
    seen : Seen, optional
        Where it is not that of the source.
    in_full : callable, optional
        Our value with nothing rounded on the way, where `ours` rounds as the source does.
    """

    where: str
    quantity: str
    value: float
    unit: str
    ours: Callable[[], float]
    tolerance: float
    reason: str = HALF_A_DIGIT
    kind: Kind = "printed"
    step: float | None = None
    cut: bool = False
    seen: Seen | None = None
    in_full: Callable[[], float] | None = None

    @property
    def id(self) -> str:
        return f"{self.where}: {self.quantity}".replace(" ", "_")

    @property
    def last_digit(self) -> float:
        """Return the unit of the last digit printed; trailing zeros of a whole number count as printed."""
        if self.step is not None:
            return self.step
        exponent = Decimal(repr(float(self.value))).normalize().as_tuple().exponent
        assert isinstance(exponent, int)
        return float(Decimal(10) ** min(exponent, 0))

    @property
    def largest_tolerance(self) -> float:
        """Return the widest tolerance that needs no reason."""
        digit = self.last_digit * (1.0 if self.cut else 0.5)
        return max(digit * (1 + 1e-6), ROUNDING * abs(self.value))

    def verify(self) -> None:
        ours = self.ours()
        said = f"{self.where}, {self.quantity}: published {self.value} {self.unit}, ours {ours:.8g}; {self.reason}"
        assert math.isfinite(ours), said
        assert abs(ours - self.value) <= self.tolerance, said
        if self.cut:
            # a figure cut short lies towards nought
            assert abs(ours) >= abs(self.value), said
