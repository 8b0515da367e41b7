"""One published value and what rigcalc makes of it.

Each module in this folder is one source: its citation stands at the top, its values in ``CHECKS``.
The validation table is made from the same records, so it cannot drift from the tests.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass


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
        Returns our value in the printed unit.
    tolerance : float
        Largest absolute difference, in the printed unit.
    reason : str
        Why that tolerance: usually half a unit of the last digit printed.
    """

    where: str
    quantity: str
    value: float
    unit: str
    ours: Callable[[], float]
    tolerance: float
    reason: str = "half a unit of the last digit printed"

    @property
    def id(self) -> str:
        return f"{self.where}: {self.quantity}".replace(" ", "_")

    def verify(self) -> None:
        ours = self.ours()
        assert abs(ours - self.value) <= self.tolerance, (
            f"{self.where}, {self.quantity}: published {self.value} {self.unit}, ours {ours:.8g}; {self.reason}"
        )
