"""The numbers of a step at one place: its arguments are fields over cases, heights and points, or scalars."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ...formulas import Formula, Step, record_of
from ...frozen import dataclass

ALIKE = 1e-12
"""Relative difference up to which two numbers are one: what rounding leaves of the same sum done twice."""
BEFORE_ALL, AFTER_ALL = -1, 10**9
"""When a statement of the engine stands: before every step, which it may feed, or after, fed by them."""


@dataclass(frozen=True)
class Worked:
    """A formula with the numbers of one place.

    Parameters
    ----------
    formula : Formula
        Its record.
    arguments : mapping of float
        In SI.
    value : float
        What it gives.
    order : int
        When it was worked out: only what came before can have fed it.
    fed : mapping of Worked
        What some of its arguments are known to come from.
    symbol, summary : str, optional
        What is said in the place of the formula's own.
    """

    formula: Formula
    arguments: Mapping[str, float]
    value: float
    order: int
    fed: Mapping[str, Worked] = field(default_factory=dict)
    symbol: str | None = None
    summary: str | None = None

    @property
    def key(self) -> tuple[object, ...]:
        """What makes two of them the same line."""
        return (self.formula.name, *self.arguments.values(), self.symbol, self.summary)


def worked_out(
    function: Callable[..., Any],
    order: int,
    given: Mapping[str, float] | None = None,
    /,
    *,
    fed: Mapping[str, Worked] | None = None,
    symbol: str | None = None,
    summary: str | None = None,
    **arguments: float,
) -> Worked:
    """Return a formula worked out here, from numbers that the engine or the file gives, one by one or together."""
    record = record_of(function)
    values = {**(given or {}), **arguments}
    return Worked(record, values, float(record.function(**values)), order, fed or {}, symbol, summary)


def alike(a: float, b: float) -> bool:
    """Whether two numbers are the same but for rounding."""
    return abs(a - b) <= ALIKE * max(abs(a), abs(b))


@dataclass(frozen=True)
class Place:
    """One place of the mast in one case.

    Parameters
    ----------
    shape : tuple of int
        Cases at every turn, elements and points of the fields.
    index : tuple of int
        The same of the place.
    chosen : tuple of ndarray of bool, shape (n, points)
        Points that some steps were taken at alone, as far as they are known.
    """

    shape: tuple[int, int, int]
    index: tuple[int, int, int]
    chosen: tuple[NDArray[np.bool_], ...] = ()

    def read(self, step: Step, order: int) -> Iterator[Worked]:
        """Yield a step with the numbers it has here.

        A step taken at some points alone has no place of its own: where those points are not known it is
        yielded for each of them, and whoever asks knows which by the value it must have.
        """
        shape = np.shape(step.value)
        if shape == ():
            arguments = {name: float(value) for name, value in step.arguments.items()}
            yield Worked(step.formula, arguments, float(step.value), order)
            return
        for pick in self._picks(shape):
            arguments = {n: float(np.broadcast_to(v, shape)[pick]) for n, v in step.arguments.items()}
            yield Worked(step.formula, arguments, float(np.asarray(step.value)[pick]), order)

    def _picks(self, shape: tuple[int, ...]) -> Sequence[tuple[int, ...]]:
        rows, n, points = self.shape
        row, i, j = self.index
        if len(shape) == 3:
            fits = all(size in (1, full) for size, full in zip(shape, self.shape, strict=True))
            return (
                [tuple(min(at, size - 1) for at, size in zip(self.index, shape, strict=True))] if fits else []
            )
        if len(shape) == 2 and shape[0] == n and shape[1] in (1, points):
            return [(i, min(j, shape[1] - 1))]
        if shape == (rows,):
            return [(row,)]
        if len(shape) == 1:
            return [(at,) for at in self._among(shape[0])]
        return [(row, at) for at in self._among(shape[1])] if shape[0] == rows else []

    def _among(self, count: int) -> Sequence[int]:
        """Return where the place may stand among so many chosen points."""
        at = int(np.ravel_multi_index(self.index[1:], self.shape[1:]))
        for chosen in self.chosen:
            places = np.flatnonzero(chosen)
            if places.size == count and at in places:
                return [int(np.searchsorted(places, at))]
        return range(count)


def read_all(steps: Sequence[Step], place: Place) -> tuple[Worked, ...]:
    """Return every step with its numbers at a place, in the order they were taken."""
    return tuple(worked for order, step in enumerate(steps) for worked in place.read(step, order))
