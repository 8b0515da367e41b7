"""What is known of a formula beside its arithmetic: symbol, units, range and source.

``@formula`` leaves the function as it is and files a :class:`Formula` beside it. Nothing happens at run
time, so a formula costs what its numpy costs. Code that must watch the ranges calls the formula through
a :class:`Working`, which also keeps what a worked line needs.
"""

from __future__ import annotations

import dataclasses
import inspect
import math
from collections.abc import Callable, Mapping
from typing import Annotated, Any, Literal, TypeVar

import numpy as np

from ..frozen import dataclass

Value = Any
"""A float or a numpy array of floats; formulas broadcast like numpy does."""

One = Annotated[Value, "1"]
Radian = Annotated[Value, "rad"]
Metre = Annotated[Value, "m"]
Metre2 = Annotated[Value, "m2"]
Metre3 = Annotated[Value, "m3"]
Metre4 = Annotated[Value, "m4"]
PerMetre = Annotated[Value, "1/m"]
Kilogram = Annotated[Value, "kg"]
KgPerM = Annotated[Value, "kg/m"]
KgPerM3 = Annotated[Value, "kg/m3"]
Newton = Annotated[Value, "N"]
NewtonPerM = Annotated[Value, "N/m"]
NewtonMetre = Annotated[Value, "N m"]
NewtonM2 = Annotated[Value, "N m2"]
Pascal = Annotated[Value, "Pa"]
MPerS = Annotated[Value, "m/s"]
MPerS2 = Annotated[Value, "m/s2"]
M2PerS = Annotated[Value, "m2/s"]
Second = Annotated[Value, "s"]
RadPerS2 = Annotated[Value, "rad/s2"]
KgM2 = Annotated[Value, "kg m2"]
Hertz = Annotated[Value, "Hz"]
PascalMPerS = Annotated[Value, "Pa m/s"]

F = TypeVar("F", bound=Callable[..., Any])


@dataclass(frozen=True)
class Range:
    """Where a formula holds, as bounds on an expression of its arguments.

    Parameters
    ----------
    text : str
        The expression as a reader would write it, for example ``r/t``.
    of : callable
        The same from the formula's arguments by keyword.
    low, high : float
        Bounds, both allowed.
    outside : {"warn", "refuse"}
        ``warn``: the result stands and says so. ``refuse``: there is no result.
    why : str
        What goes wrong outside.
    """

    text: str
    of: Callable[..., Value]
    low: float = -np.inf
    high: float = np.inf
    outside: Literal["warn", "refuse"] = "warn"
    why: str = ""

    def __str__(self) -> str:
        low = "" if np.isneginf(self.low) else f"{self.low:g} <= "
        high = "" if np.isposinf(self.high) else f" <= {self.high:g}"
        return f"{low}{self.text}{high}"


@dataclass(frozen=True)
class Formula:
    """The record of one formula: what a reviewer asks before trusting it."""

    function: Callable[..., Any]
    symbol: str
    unit: str
    source: str
    ranges: tuple[Range, ...]
    arguments: Mapping[str, str]
    """Argument name (its symbol) -> unit."""

    @property
    def name(self) -> str:
        return self.function.__name__

    @property
    def subject(self) -> str:
        """The module it stands in: ``wind``, ``shells``, ..."""
        return self.function.__module__.rsplit(".", 1)[-1]

    @property
    def summary(self) -> str:
        return (inspect.getdoc(self.function) or "").split("\n", 1)[0]


def formula(symbol: str, *, unit: str, source: str, ranges: tuple[Range, ...] = ()) -> Callable[[F], F]:
    """Record a formula and hand the function back unchanged.

    Parameters
    ----------
    symbol : str
        Symbol of the result.
    unit : str
        SI unit of the result.
    source : str
        Where the formula was read; ``from memory`` or ``derived`` where that is so.
    ranges : tuple of Range
        Where it holds.

    Returns
    -------
    callable
        Takes the function, and gives it back.
    """

    def register(function: F) -> F:
        # an annotation here is the name of one of the units above, as text: `typing.get_type_hints`, which can
        # read any annotation, takes as long for all formulas together as everything else they cost to load
        known = function.__globals__
        units = {name: known[text].__metadata__[0] for name, text in function.__annotations__.items()}
        if units.pop("return", None) != unit:
            raise TypeError(f"{function.__name__}: the return annotation does not say {unit!r}")
        function.record = Formula(  # type: ignore[attr-defined]  # filed on the function itself: no global list
            function=function, symbol=symbol, unit=unit, source=source, ranges=ranges, arguments=units
        )
        return function

    return register


def record_of(function: Callable[..., Any]) -> Formula:
    """Return the record filed beside ``function``."""
    record = function.record  # type: ignore[attr-defined]  # set by @formula
    assert isinstance(record, Formula)
    return record


class FormulaRangeError(ValueError):
    """A formula was asked for a value where it has none."""


@dataclass(frozen=True)
class Step:
    """One worked line: a formula, its numbers and its result."""

    formula: Formula
    arguments: Mapping[str, Value]
    value: Value


@dataclasses.dataclass
class Working:
    """Calls formulas and keeps what a reader must be told: range warnings and worked steps.

    The one mutable record of a calculation; whoever starts the calculation makes it, and what it
    holds is copied into the result.
    """

    steps: list[Step] = dataclasses.field(default_factory=list)
    warnings: dict[str, None] = dataclasses.field(default_factory=dict)

    def use(self, function: Callable[..., Any], /, *, where: str = "", **arguments: Value) -> Any:
        """Return ``function(**arguments)``, noting the step and any range it leaves.

        Parameters
        ----------
        function : callable
            A function recorded with ``@formula``.
        where : str
            What is being worked out, for the warning.
        **arguments : float or ndarray
            The formula's arguments in SI units.

        Raises
        ------
        FormulaRangeError
            Outside a range marked ``refuse``, or where an argument or the result is not finite.
        """
        record = record_of(function)
        self._finite(record, where, arguments)
        for limit in record.ranges:
            asked = limit.of(**arguments)
            # one number is compared as one: most are, and numpy takes ten times as long over it
            if isinstance(asked, float) and limit.low <= asked <= limit.high:
                continue
            value = np.asarray(asked, dtype=float)
            # written so that a NaN counts as outside
            outside = ~((value >= limit.low) & (value <= limit.high))
            if np.any(outside):
                at = value[outside].flat[0] if value.ndim else value
                text = (
                    f"{where + ': ' if where else ''}{record.summary.rstrip('.')} ({record.name}) is used at "
                    f"{limit.text} = {float(at):.4g}, outside {limit}"
                    f"{'; ' + limit.why if limit.why else ''}."
                )
                if limit.outside == "refuse":
                    raise FormulaRangeError(text)
                self.warnings[text] = None
        value = function(**arguments)
        self._finite(record, where, {record.symbol: value})
        self.steps.append(Step(record, arguments, value))
        return value

    def _finite(self, record: Formula, where: str, values: Mapping[str, Value]) -> None:
        for symbol, value in values.items():
            if not (math.isfinite(value) if isinstance(value, (float, int)) else np.isfinite(value).all()):
                place = f"{where}: " if where else ""
                raise FormulaRangeError(
                    f"{place}{record.summary.rstrip('.')} ({record.name}): {symbol} is not finite."
                )


@dataclasses.dataclass
class Screening(Working):
    """Calls formulas for many masts at once and keeps nothing: what one of them cannot be is no fault.

    Where a formula has no value, or is asked outside a range that refuses, it gives NaN, which no limit passes.
    """

    def use(self, function: Callable[..., Any], /, *, where: str = "", **arguments: Value) -> Any:
        """Return ``function(**arguments)``, NaN where it has no value."""
        with np.errstate(all="ignore"):
            value = function(**arguments)
            for limit in record_of(function).ranges:
                if limit.outside == "refuse":
                    asked = np.asarray(limit.of(**arguments), dtype=float)
                    inside = (asked >= limit.low) & (asked <= limit.high)
                    if not np.all(inside):
                        value = np.where(inside, value, np.nan)
        return value
