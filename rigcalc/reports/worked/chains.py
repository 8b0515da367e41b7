"""From one number back to what it was made of, step by step.

The calculation keeps its steps but not which fed which. That is found again by the numbers themselves: an argument
is the result of an earlier step where both have the same unit and agree to a part in 10^12. What stands between
two steps (stresses that add, a factor) is named in :mod:`joins`, and counts only where its result is that number
too. So a chain may be short, where nothing fits, but each line of it holds.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import field
from itertools import islice, product
from typing import Any

from ...formulas import record_of
from ...frozen import dataclass
from .places import AFTER_ALL, Worked, alike

MAY_IDLE = frozenset(
    {
        "von_mises_stress",
        "layer_moment",
        "crossed_equivalent_stress",
        "resultant_moment",
        "resultant_force",
        "pressed_wall_stress",
        "hold_down_force",
        "stocky_interaction",
    }
)
"""Formulas that belong in a chain even where their result is one of their arguments."""
FEEDS_ONLY = {
    "layer_shear_force": frozenset(
        {"tube_radial_shear_stress", "glued_layer_shear_stress", "face_transfer_shear_stress"}
    )
}
"""Formulas whose result may equal what is no business of theirs: at the heel the shear force is that of the step."""
NOTHING = {"Pa": 1e-3, "N": 1e-6, "N m": 1e-6}
"""What is less is left by rounding, and comes from nowhere."""
MOST_TRIES = 20000


@dataclass(frozen=True)
class Join:
    """A formula that stands between steps.

    Parameters
    ----------
    formula : callable
        A recorded formula.
    of : mapping
        Where each argument may come from.
    symbol : str, optional
        What its result is called there.
    """

    formula: Callable[..., Any]
    of: Mapping[str, Source]
    symbol: str | None = None


@dataclass(frozen=True)
class Given:
    """A number that comes from no formula: a constant by name, or an argument ``formula.argument`` of a step."""

    name: str


Source = str | Given | Join | tuple["str | Given | Join", ...]
"""Name of the formula whose result it is; or a number given, or a join; or any of some."""


@dataclass(frozen=True)
class Known:
    """Everything that may stand in a chain at one place.

    Parameters
    ----------
    steps : tuple of Worked
        What the calculation noted, in order.
    derived : tuple of Worked
        Statements about what the engine gives.
    constants : mapping
        Numbers from the file by name.
    joins : mapping
        What may stand before an argument, by formula and argument.
    """

    steps: tuple[Worked, ...]
    derived: tuple[Worked, ...] = ()
    constants: Mapping[str, Sequence[float]] = field(default_factory=dict)
    joins: Mapping[tuple[str, str], Sequence[Join]] = field(default_factory=dict)

    def result(self, value: float, unit: str, joins: Sequence[Source] = ()) -> Worked | None:
        """Return what has a value for its result: a join asked for before any step, the latest step first."""
        for source in joins:
            for found in self._of(source, AFTER_ALL + 1, value):
                if alike(found.value, value) and found.formula.unit == unit:
                    return found
        return self._step(value, unit, AFTER_ALL + 1, "")

    def chain(self, end: Worked) -> tuple[Worked, ...]:
        """Return what leads to a line, in the order to be read, the line itself last."""
        found: dict[tuple[object, ...], Worked] = {}
        self._add(end, found)
        return tuple(found.values())

    def _add(self, line: Worked, found: dict[tuple[object, ...], Worked]) -> None:
        if line.key in found:
            return
        for name, value in line.arguments.items():
            maker = line.fed.get(name) or self._maker(line, name, value)
            if maker is not None:
                self._add(maker, found)
        found[line.key] = line

    def _maker(self, line: Worked, name: str, value: float) -> Worked | None:
        if is_plain(value) or abs(value) < NOTHING.get(line.formula.arguments[name], 0.0):
            return None
        for join in self.joins.get((line.formula.name, name), ()):
            for found in self._of(join, line.order, value):
                if alike(found.value, value):
                    return found
        return self._step(value, line.formula.arguments[name], line.order, line.formula.name)

    def _step(self, value: float, unit: str, before: int, besides: str) -> Worked | None:
        for step in (*reversed(self.steps), *self.derived):
            if (
                step.order < before
                and step.formula.unit == unit
                and step.formula.name != besides
                and besides in FEEDS_ONLY.get(step.formula.name, (besides,))
                and alike(step.value, value)
                and not _idles(step)
            ):
                return step
        return None

    def _of(self, source: Source, before: int, wanted: float | None = None) -> Iterator[Worked]:
        """Yield what a source may be."""
        if isinstance(source, tuple):
            for one in source:
                yield from self._of(one, before, wanted)
        elif isinstance(source, str):
            seen: dict[tuple[object, ...], None] = {}
            for step in (*reversed(self.steps), *self.derived):
                if step.formula.name == source and step.order < before and step.key not in seen:
                    seen[step.key] = None
                    yield step
        elif isinstance(source, Join):
            yield from self._joined(source, before, wanted)

    def _joined(self, join: Join, before: int, wanted: float | None) -> Iterator[Worked]:
        record = record_of(join.formula)
        sides = [self._values(source, before) for source in join.of.values()]
        for made in islice(product(*sides), MOST_TRIES):
            arguments = {name: value for name, (value, _) in zip(join.of, made, strict=True)}
            value = float(record.function(**arguments))
            if wanted is None or alike(value, wanted):
                fed = {
                    name: maker for name, (_, maker) in zip(join.of, made, strict=True) if maker is not None
                }
                yield Worked(record, arguments, value, before, fed, join.symbol)

    def _values(self, source: Source, before: int) -> list[tuple[float, Worked | None]]:
        if isinstance(source, tuple):
            return [value for one in source for value in self._values(one, before)]
        if isinstance(source, Given):
            return [(value, None) for value in self._given(source.name, before)]
        return [(found.value, found) for found in self._of(source, before)]

    def _given(self, name: str, before: int) -> list[float]:
        formula, stroke, argument = name.partition(".")
        if not stroke:
            return list(dict.fromkeys(self.constants.get(name, ())))
        found = (
            step.arguments[argument]
            for step in reversed(self.steps)
            if step.formula.name == formula and step.order < before
        )
        return list(dict.fromkeys(found))


def is_plain(value: float) -> bool:
    """Whether a number is one that somebody wrote down: nothing, or of four figures at the most."""
    return value == 0.0 or float(f"{value:.4g}") == value


def _idles(step: Worked) -> bool:
    """Whether a step gives back one of its own arguments, so that it explains nothing."""
    return step.formula.name not in MAY_IDLE and any(
        step.formula.arguments[name] == step.formula.unit and alike(value, step.value)
        for name, value in step.arguments.items()
    )
